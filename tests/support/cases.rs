//! `tests/data/last-layer-cases.tsv`, read.

use cornerwise::cube::Move;

use super::read;

/// One line of the table.
pub struct Case {
    /// Whether it is of the 57 rather than of the 21.
    pub orientation: bool,
    /// A number, a letter or `solved`.
    pub name: String,
    /// As written; empty for `solved`.
    pub algorithm: Vec<Move>,
    /// Chance as a fraction.
    pub chance: (usize, usize),
    /// The shape, or the turn that follows the algorithm.
    pub shape_or_auf: String,
    /// See the head of the file.
    pub pattern: String,
}

/// All lines, in the order of the file.
pub fn all() -> Vec<Case> {
    let lines = include_str!("../data/last-layer-cases.tsv").lines();
    let table: Vec<Vec<&str>> =
        lines.filter(|line| !line.starts_with('#')).map(|line| line.split('\t').collect()).collect();
    assert_eq!(table[0][0], "kind", "the first line names the columns");
    table[1..]
        .iter()
        .map(|cells| {
            let [kind, name, algorithm, numerator, denominator, _, _, shape_or_auf, pattern] = cells[..]
            else {
                panic!("nine columns: {cells:?}");
            };
            Case {
                orientation: kind == "orientation",
                name: name.to_owned(),
                algorithm: read::moves(algorithm),
                chance: (numerator.parse().expect("a count"), denominator.parse().expect("a count")),
                shape_or_auf: shape_or_auf.to_owned(),
                pattern: pattern.to_owned(),
            }
        })
        .collect()
}

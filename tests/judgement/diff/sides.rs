//! Texts and made solves as two sides of a comparison.

use std::fs;

use cornerwise::annotate::{Settings, annotate};
use cornerwise::annotation::Annotation;
use cornerwise::cube::{Face, Hold, Move, Moves, Position, Slice};
use cornerwise::diagnostic::Source;
use cornerwise::diff::{self, Comparison, Entry, Sides};
use cornerwise::record::{self, Reading};
use cornerwise::study::Study;

use crate::support::solver::{Options, Rng, Solve, Solver};

/// A file with its records annotated.
pub struct File {
    pub source: Source,
    pub reading: Reading,
    pub facts: Vec<Annotation>,
}

impl File {
    pub fn of(name: &str, text: &str) -> File {
        let source = Source::new(name, text);
        let reading = record::read(&source);
        let annotated =
            |(i, record)| annotate(&Study::new(&source, i + 1, record), &Settings::default()).facts;
        let facts = reading.records.iter().enumerate().map(annotated).collect();
        File { source, reading, facts }
    }

    /// A file of `reconstructions/`.
    pub fn kept(name: &str) -> File {
        let path = format!("{}/reconstructions/{name}.yaml", env!("CARGO_MANIFEST_DIR"));
        File::of(&format!("{name}.yaml"), &fs::read_to_string(path).expect("it is kept"))
    }

    pub fn entry(&self, index: usize) -> Entry<'_> {
        let study = Study::new(&self.source, index + 1, &self.reading.records[index]);
        Entry { study, facts: &self.facts[index] }
    }

    /// Its first record compared with its second.
    pub fn compared(&self) -> Comparison {
        compare(self.entry(0), self.entry(1))
    }
}

pub fn compare(a: Entry<'_>, b: Entry<'_>) -> Comparison {
    diff::compare(Sides { a, b }, &diff::Settings::default())
}

/// Two texts of one record each, compared.
pub fn texts(a: &str, b: &str) -> Comparison {
    let (a, b) = (File::of("a", a), File::of("b", b));
    compare(a.entry(0), b.entry(0))
}

/// A scramble and moves as a record, with a mark after every token if wanted.
pub fn written(scramble: &[Move], moves: &[Move], marked: bool) -> String {
    let still = moves.iter().take_while(|mv| mv.is_rotation()).count();
    let mut words = Vec::new();
    let mut clock = 0;
    for (i, mv) in moves.iter().enumerate() {
        if marked && i == still {
            words.push("<0.00>".to_string());
        }
        words.push(mv.to_string());
        if marked && i >= still {
            // A pause now and then, by the place of the token alone.
            clock += if i % 9 == 0 { 600 } else { 150 };
            words.push(format!("<{}.{:03}>", clock / 1000, clock % 1000));
        }
    }
    format!("{}\n\n{}\n", Moves::of(scramble), words.join(" "))
}

/// The moves that do the same to the pieces when the cube is held otherwise from the start: each is played on
/// the face where the layer now is. `wide` says for which tokens a wide turn stands for the outer one opposite.
pub fn held_otherwise(moves: &[Move], begin: (Hold, Hold), wide: impl Fn(usize) -> bool) -> Vec<Move> {
    let (mut old, mut new) = begin;
    let mut out = Vec::new();
    for (i, &mv) in moves.iter().enumerate() {
        let face = |face: Face| new.face(old.colour(face));
        let same = match mv {
            Move::Turn(f, amount) if wide(i) => Move::Wide(face(f).opposite(), amount),
            Move::Turn(f, amount) => Move::Turn(face(f), amount),
            Move::Wide(f, amount) => Move::Wide(face(f), amount),
            Move::Slice(slice, amount) => {
                let to = face(slice.face());
                match Slice::ALL.into_iter().find(|slice| slice.face() == to) {
                    Some(slice) => Move::Slice(slice, amount),
                    None => {
                        let other = Slice::ALL.into_iter().find(|slice| slice.face() == to.opposite());
                        Move::Slice(other.expect("every axis has a slice"), amount.inverse())
                    }
                }
            }
            Move::Rotation(axis, amount) => {
                use cornerwise::cube::Axis;
                let to = face(axis.face());
                match Axis::ALL.into_iter().find(|axis| axis.face() == to) {
                    Some(axis) => Move::Rotation(axis, amount),
                    None => {
                        let other = Axis::ALL.into_iter().find(|axis| axis.face() == to.opposite());
                        Move::Rotation(other.expect("every axis has a face"), amount.inverse())
                    }
                }
            }
        };
        old = mv.resolve(old).hold;
        new = same.resolve(new).hold;
        out.push(same);
    }
    out
}

/// Rotations from the first hold to each of the 24.
pub fn rotations() -> Vec<(Vec<Move>, Hold)> {
    let mut found: Vec<(Vec<Move>, Hold)> = vec![(Vec::new(), Hold::START)];
    let mut i = 0;
    while i < found.len() {
        let (way, hold) = found[i].clone();
        for mv in Move::ALL.into_iter().filter(|mv| mv.is_rotation()) {
            let next = mv.resolve(hold).hold;
            if found.iter().all(|(_, hold)| *hold != next) {
                found.push((way.iter().copied().chain([mv]).collect(), next));
            }
        }
        i += 1;
    }
    assert_eq!(found.len(), 24);
    found
}

/// Two solves of one scramble, played by different tempers; now and then with different crosses.
pub fn two_solves(solver: &mut Solver, rng: &mut Rng, n: usize) -> (Solve, Solve) {
    let options = Options {
        xcross: n % 5 == 1,
        two_pairs: n % 7 == 2,
        wide: n.is_multiple_of(3),
        ..Options::default()
    };
    let one = solver.random(rng, &options);
    let other = Options {
        cross: if n % 4 == 3 { None } else { Some(one.cross) },
        temper: [0.0, 3.0, 8.0][n % 3],
        looks_ahead: n.is_multiple_of(2),
        xcross: n % 6 == 1,
        ..Options::default()
    };
    let scramble = one.scramble.clone();
    (one, solver.solve(&scramble, rng, &other))
}

/// The position after these moves of a solve.
pub fn position(scramble: &[Move], moves: &[Move]) -> Position {
    Position::SOLVED.after(scramble.iter().chain(moves).copied())
}

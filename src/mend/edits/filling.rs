//! What a token without a move could be.

use crate::cube::Move;
use crate::notation::Element;

use super::{Edit, edit};
use crate::mend::search::held;
use crate::mend::slip::{Slip, rarity};
use crate::mend::tokens::Tokens;

/// What a token without a move could be: for `?` any move; for an unreadable one anything, the nearer in
/// spelling the likelier, or nothing at all.
pub(super) fn fillings(tokens: &Tokens, at: usize) -> Vec<Edit> {
    if tokens.elements[at] == Element::Unknown {
        let any = |mv: Move| edit(at..at + 1, vec![held::number(mv)], Slip::Unknown, 60.0 * rarity(mv));
        return Move::ALL.into_iter().map(any).collect();
    }
    // In order of place.
    let found = tokens.spellings.binary_search_by_key(&at, |(place, _)| *place);
    let spelling = found.map_or("", |found| tokens.spellings[found].1.as_str());
    let near = |mv: Move| {
        // Each letter that differs makes it about twelve times as unlikely.
        let choices = 4.0 * rarity(mv) * libm::pow(12.0, spelling_distance(spelling, &mv.to_string()));
        edit(at..at + 1, vec![held::number(mv)], Slip::Unreadable, choices)
    };
    let nothing = 60.0 * 3f64.powi(spelling.chars().count().min(50) as i32);
    let nothing = edit(at..at + 1, vec![], Slip::Unreadable, nothing);
    Move::ALL.into_iter().map(near).chain([nothing]).collect()
}

/// How many characters must be changed, dropped or added; half for another case of a letter.
fn spelling_distance(written: &str, meant: &str) -> f64 {
    let written: Vec<char> =
        written.chars().map(|c| if matches!(c, '’' | '`' | '´' | '′') { '\'' } else { c }).collect();
    let meant: Vec<char> = meant.chars().collect();
    let mut row: Vec<f64> = (0..=meant.len()).map(|i| i as f64).collect();
    for (i, &a) in written.iter().enumerate() {
        let mut before = row[0];
        row[0] = i as f64 + 1.0;
        for (j, &b) in meant.iter().enumerate() {
            let differs = if a == b {
                0.0
            } else if a.eq_ignore_ascii_case(&b) {
                0.5
            } else {
                1.0
            };
            let cell = (before + differs).min(row[j] + 1.0).min(row[j + 1] + 1.0);
            before = row[j + 1];
            row[j + 1] = cell;
        }
    }
    row[meant.len()]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn spelling_counts_characters_and_half_for_case() {
        assert_eq!(spelling_distance("R'", "R'"), 0.0);
        assert_eq!(spelling_distance("R’", "R'"), 0.0);
        assert_eq!(spelling_distance("RR'", "R'"), 1.0);
        assert_eq!(spelling_distance("m2", "M2"), 0.5);
        assert_eq!(spelling_distance("", "Rw2"), 3.0);
    }
}

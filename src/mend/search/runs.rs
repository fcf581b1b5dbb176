//! A run of tokens that was lost: at each moment what is missing there is known, up to how it is written.
//!
//! If up to four tokens are missing at one moment and all else is right, what is missing leads from the position reached
//! there to the one from which the rest as written solves the cube. Two tokens are played from the one, two undone from
//! the other, and both sides meet: some fifteen thousand steps a moment, where all sequences of four tokens are eight
//! million.

use std::collections::HashMap;
use std::hash::BuildHasherDefault;

use crate::mend::tokens::Tokens;

use super::held::Held;
use super::work::Work;
use super::{Plain, STEPS_A_REPAIR, Search};

/// Tokens that were lost at one moment.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(in crate::mend) struct Run {
    /// Before which token, scramble and solution counted through.
    pub(in crate::mend) at: usize,
    /// Whether it is of the scramble: at the border between both it may be of either.
    pub(in crate::mend) in_scramble: bool,
    /// What was lost, by number.
    pub(in crate::mend) moves: Vec<u8>,
}

/// One or two tokens and the position that they lead to, or come from.
type Side = Vec<(Held, Vec<u8>)>;

impl Search {
    /// All runs of two to four tokens of which one alone makes the record come out: the shortest at each moment.
    pub(in crate::mend) fn lost_runs(&self, tokens: &Tokens, work: &mut Work) -> Vec<Run> {
        let (forward, backward) = (self.forward_as_written(), self.backward_as_written());
        let mut found = Vec::new();
        if forward.len() != backward.len() || forward.len() != self.moves.len() + 1 {
            return found;
        }
        for at in (0..forward.len()).filter(|&at| tokens.may_insert(at)) {
            // Nobody writes rotations and wide turns in a scramble.
            let letters = if at < tokens.n_scramble { 18 } else { 54 };
            for moves in between(forward[at], backward[at], letters, work) {
                if !work.spend(STEPS_A_REPAIR) {
                    return found;
                }
                let plain = moves.iter().all(|&mv| mv < 18);
                for in_scramble in [true, false] {
                    let fits = if in_scramble {
                        at <= tokens.n_scramble && tokens.n_scramble > 0 && plain
                    } else {
                        at >= tokens.n_scramble
                    };
                    if fits {
                        found.push(Run { at, in_scramble, moves: moves.clone() });
                    }
                }
            }
        }
        found
    }
}

/// The shortest sequences that lead from one position to the other, of two to four tokens; none if fewer do.
fn between(from: Held, to: Held, letters: u8, work: &mut Work) -> Vec<Vec<u8>> {
    if !work.spend(4 * u64::from(letters)) {
        return Vec::new();
    }
    let ahead = one_more(&vec![(from, vec![])], letters, false);
    if from == to || ahead.iter().any(|(held, _)| *held == to) {
        return Vec::new();
    }
    let behind = one_more(&vec![(to, vec![])], letters, true);
    let meeting = meet(&ahead, &behind);
    if !meeting.is_empty() {
        return meeting;
    }
    let two = u64::from(letters) * u64::from(letters);
    if !work.spend(2 * two) {
        return Vec::new();
    }
    let two_ahead = one_more(&ahead, letters, false);
    let meeting = meet(&two_ahead, &behind);
    if !meeting.is_empty() || !work.spend(3 * two) {
        return meeting;
    }
    meet(&two_ahead, &one_more(&behind, letters, true))
}

/// Each with one more token, played or undone; no two of one layer in a row.
fn one_more(side: &Side, letters: u8, undo: bool) -> Side {
    let mut next = Vec::with_capacity(side.len() * usize::from(letters));
    for (held, moves) in side {
        for mv in 0..letters {
            let allowed = moves.last().is_none_or(|&last| {
                let (layer, before) = (mv / 3, last / 3);
                // Of two turns of opposite faces one order is enough.
                layer != before && !(layer < 6 && before == layer ^ 1 && (layer < before) != undo)
            });
            if allowed {
                let mut moves = moves.clone();
                moves.push(mv);
                next.push((held.played(if undo { super::held::undoing(mv) } else { mv }), moves));
            }
        }
    }
    next
}

/// The ways to go ahead and come to where the other side came from.
fn meet(ahead: &Side, behind: &Side) -> Vec<Vec<u8>> {
    let mut table: HashMap<u64, Vec<usize>, BuildHasherDefault<Plain>> = HashMap::default();
    for (i, (held, _)) in behind.iter().enumerate() {
        table.entry(held.fingerprint()).or_default().push(i);
    }
    let mut ways = Vec::new();
    for (held, moves) in ahead {
        for &i in table.get(&held.fingerprint()).into_iter().flatten() {
            ways.push(moves.iter().chain(behind[i].1.iter().rev()).copied().collect());
        }
    }
    ways
}

#[cfg(test)]
mod tests {
    use super::*;

    fn numbers(text: &str) -> Vec<u8> {
        let moves: crate::cube::Moves = text.parse().expect("moves");
        moves.iter().map(|&mv| crate::mend::search::held::number(mv)).collect()
    }

    fn played(from: Held, moves: &[u8]) -> Held {
        moves.iter().fold(from, |held, &mv| held.played(mv))
    }

    #[test]
    fn what_leads_from_one_position_to_the_other_is_found() {
        let from = played(Held::SOLVED, &numbers("R U2 F' y L D Rw"));
        for lost in ["R U", "R y", "U R' U'", "M U Rw'", "R U R' U'", "y' R2 U x", "U D F L"] {
            let lost = numbers(lost);
            let to = played(from, &lost);
            let found = between(from, to, 54, &mut Work::of(u64::MAX));
            let shorter = found.iter().any(|way| way.len() < lost.len());
            assert!(shorter || found.contains(&lost), "{lost:?}: {found:?}");
            assert!(found.iter().all(|way| way.len() <= lost.len() && played(from, way) == to));
        }
        // Of turns of opposite faces one order is enough.
        let found = between(from, played(from, &numbers("D U F L")), 54, &mut Work::of(u64::MAX));
        assert!(found.contains(&numbers("U D F L")) && !found.contains(&numbers("D U F L")));
    }

    #[test]
    fn what_fewer_tokens_do_is_left_to_the_edits() {
        for lost in ["", "R'", "y2"] {
            let to = played(Held::SOLVED, &numbers(lost));
            assert!(between(Held::SOLVED, to, 54, &mut Work::of(u64::MAX)).is_empty(), "{lost}");
        }
    }
}

//! Every edit that could undo one slip of the pen.

mod filling;
mod group;

use std::ops::Range;

use crate::cube::{Face, Move};
use crate::notation::Element;

use super::search::held;
use super::slip::{self, Slip};
use super::tokens::{MOST_IN_RUN, Tokens};

pub use group::Written;

/// Edits are listed up to about so many: a record of six hundred tokens.
const MOST_EDITS: usize = 65_535;

/// One edit: the tokens of `range` (scramble and solution counted through) replaced by `moves`.
#[derive(Debug, Clone, PartialEq)]
pub struct Edit {
    /// The tokens replaced; empty for an insertion.
    pub range: Range<usize>,
    /// What to write there, as places in [`Move::ALL`]; at most two.
    pub moves: Vec<u8>,
    /// How the writer would have slipped.
    pub slip: Slip,
    /// How unlikely the slip is, as a natural logarithm: one more is about a third as likely.
    pub cost: f64,
    /// Whether it is of the likeliest kinds, of which three are tried together.
    pub likely: bool,
    /// Whether it is in the scramble.
    pub in_scramble: bool,
    /// Where the tokens were made by a group's count: what is rewritten in the text.
    pub written: Option<Written>,
}

impl Edit {
    /// Whether the edit removes something that stands for no move: an unreadable token or a `?`.
    #[must_use]
    pub fn fills(&self) -> bool {
        matches!(self.slip, Slip::Unreadable | Slip::Unknown)
    }
}

/// Every edit of a record, by where it begins. For an insertion between scramble and solution there are two:
/// one in each.
#[must_use]
pub fn catalogue(tokens: &Tokens) -> Vec<Vec<Edit>> {
    let n = tokens.elements.len();
    let scramble = &tokens.elements[..tokens.n_scramble];
    let plain_scramble =
        scramble.iter().all(|element| !matches!(element, Element::Move(mv) if is_strange(*mv)));
    let mut catalogue = Vec::with_capacity(n + 1);
    let mut total = 0;
    for at in 0..=n {
        let mut edits = Vec::new();
        if total > MOST_EDITS {
            catalogue.push(edits);
            continue;
        }
        if let Some(run) = tokens.run_of(at)
            && run.range.start == at
            && run.range.len() <= MOST_IN_RUN
            && run.range.clone().all(|i| !tokens.fixed[i])
        {
            edits.extend(group::edits(tokens, run));
        }
        if at < n && tokens.is_single(at) {
            match tokens.elements[at] {
                Element::Move(mv) => {
                    substitutions(at, mv, &mut edits);
                    let twin = |other: Option<usize>| {
                        other
                            .is_some_and(|i| tokens.same_part(at, i) && tokens.number(i) == tokens.number(at))
                    };
                    let doubled = twin(at.checked_sub(1)) || (at + 1 < n && twin(Some(at + 1)));
                    let slip = if doubled { Slip::Doubled } else { Slip::Added };
                    edits.push(edit(at..at + 1, vec![], slip, 1.0));
                    if let Some(next) = tokens.number(at + 1)
                        && tokens.same_part(at, at + 1)
                        && tokens.is_single(at + 1)
                        && next != held::number(mv)
                    {
                        edits.push(edit(at..at + 2, vec![next, held::number(mv)], Slip::Swapped, 1.0));
                    }
                }
                Element::Unreadable | Element::Unknown => edits.extend(filling::fillings(tokens, at)),
                Element::Gap => {}
            }
        }
        if tokens.may_insert(at) {
            insertions(tokens, at, &mut edits);
        }
        for edit in &mut edits {
            edit.in_scramble = edit.in_scramble || edit.range.start < tokens.n_scramble;
            if edit.in_scramble {
                edit.cost += slip::once_in(slip::SCRAMBLE_RARER);
                let strange = |&number: &u8| is_strange(Move::ALL[usize::from(number)]);
                if plain_scramble && edit.moves.iter().any(strange) {
                    edit.cost += slip::once_in(slip::STRANGE_IN_SCRAMBLE);
                    edit.likely = false;
                }
            }
        }
        total += edits.len();
        catalogue.push(edits);
    }
    catalogue
}

/// An edit whose slip could have come out in so many ways.
fn edit(range: Range<usize>, moves: Vec<u8>, slip: Slip, choices: f64) -> Edit {
    Edit {
        range,
        moves,
        slip,
        cost: slip.cost(choices),
        likely: slip.is_likely(),
        in_scramble: false,
        written: None,
    }
}

fn is_strange(mv: Move) -> bool {
    !matches!(mv, Move::Turn(..))
}

/// What was written where `to` was meant.
fn substitutions(at: usize, written: Move, edits: &mut Vec<Edit>) {
    for to in Move::ALL {
        if to != written {
            let (slip, choices) = slip::misread(written, to);
            edits.push(edit(at..at + 1, vec![held::number(to)], slip, choices));
        }
    }
}

/// Everything that could have been left out before token `at`.
fn insertions(tokens: &Tokens, at: usize, edits: &mut Vec<Edit>) {
    let n = tokens.elements.len();
    let in_solution = at >= tokens.n_scramble;
    let in_scramble = at <= tokens.n_scramble && tokens.n_scramble > 0;
    for mv in Move::ALL {
        let number = held::number(mv);
        let (slip, choices) = slip::left_out(mv);
        if in_solution {
            let ends_solve = at == n && matches!(mv, Move::Turn(..));
            if ends_solve {
                let choices =
                    if matches!(mv, Move::Turn(Face::U, _)) { 3.0 } else { 3.0 * 30.0 * slip::rarity(mv) };
                edits.push(edit(at..at, vec![number], Slip::AdjustmentMissing, choices));
            } else {
                edits.push(edit(at..at, vec![number], slip, choices));
            }
        }
        if in_scramble {
            let mut edit = edit(at..at, vec![number], slip, choices);
            edit.in_scramble = true;
            edits.push(edit);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::cube::Amount;

    fn tokens(moves: &[Move], n_scramble: usize) -> Tokens {
        Tokens {
            elements: moves.iter().map(|&mv| Element::Move(mv)).collect(),
            n_scramble,
            spellings: vec![],
            runs: vec![],
            fixed: vec![false; moves.len()],
        }
    }

    #[test]
    fn every_edit_of_a_token_is_there_once() {
        let (r, u) = (Move::Turn(Face::R, Amount::Quarter), Move::Turn(Face::U, Amount::Back));
        let catalogue = catalogue(&tokens(&[r, u, u], 0));
        let count = |at: usize, slip: Slip| catalogue[at].iter().filter(|edit| edit.slip == slip).count();
        // 53 other moves, itself left out, and exchanged with its neighbour; before each, any of 54.
        assert_eq!(
            catalogue.iter().map(Vec::len).collect::<Vec<_>>(),
            [53 + 1 + 1 + 54, 53 + 1 + 54, 53 + 1 + 54, 54]
        );
        assert_eq!(count(0, Slip::Swapped), 1);
        assert_eq!(count(1, Slip::Swapped), 0, "two equal neighbours stay as they are");
        assert_eq!((count(0, Slip::Added), count(1, Slip::Doubled), count(2, Slip::Doubled)), (1, 1, 1));
        assert_eq!(count(3, Slip::AdjustmentMissing), 18);
    }
}

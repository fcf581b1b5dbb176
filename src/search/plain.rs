//! Which lines read without a shifted and without a nested phrase.
//!
//! Asked of every line that might be offered, so it follows an automaton instead of the grammar.

use std::sync::OnceLock;

use super::MAX_TURNS;
use super::automaton::Automaton;
use super::phrases::Phrases;
use super::turn::Turn;
use crate::cube::{FaceTurn, Hold};

/// Whether turns, no two of one face in a row, split into runs, exchanges and turns of the layer opposite the cross, which
/// is down in `hold`.
pub(super) fn is_plain(turns: &[FaceTurn], hold: Hold) -> bool {
    static PLAIN: OnceLock<Automaton> = OnceLock::new();
    let automaton = PLAIN.get_or_init(|| Automaton::hand_lines(Phrases::Plain));
    if turns.is_empty() || turns.len() > MAX_TURNS {
        return !turns.is_empty() && super::phrases::reads(Phrases::Plain, turns, hold);
    }
    let mut ordered = [Turn::ALL[0]; MAX_TURNS];
    for (ordered, turn) in ordered.iter_mut().zip(turns) {
        *ordered = Turn::new(hold.face(turn.centre), turn.amount);
    }
    let ordered = &mut ordered[..turns.len()];
    for i in 1..ordered.len() {
        if ordered[i - 1].axis() == ordered[i].axis() && ordered[i - 1].is_second() {
            ordered.swap(i - 1, i);
        }
    }
    let mut node = Automaton::START;
    for turn in ordered {
        node = automaton.next[usize::from(node)][turn.index()];
        if node == Automaton::DEAD {
            return false;
        }
    }
    automaton.complete[usize::from(node)]
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::cube::{Amount, Colour, Face};
    use crate::search::{Kind, is_hand_line, lines, order_hold};

    fn turns(text: &str) -> Vec<FaceTurn> {
        let face = |letter| {
            let letters = ['U', 'D', 'F', 'B', 'R', 'L'];
            Face::ALL[letters.iter().position(|&other| other == letter).expect("a face")]
        };
        let turn = |token: &str| {
            let amount = match &token[1..] {
                "" => Amount::Quarter,
                "2" => Amount::Half,
                _ => Amount::Back,
            };
            let face = face(token.chars().next().expect("a letter"));
            FaceTurn { centre: Hold::START.colour(face), amount }
        };
        text.split_whitespace().map(turn).collect()
    }

    #[test]
    fn runs_and_exchanges_are_plain_and_what_is_wrapped_is_not() {
        for plain in ["U", "R U R'", "U R U2 R' L U' L'", "R' F R F'", "R U R2 F R F'", "R U L R' U' L'"] {
            assert!(is_plain(&turns(plain), Hold::START), "{plain}");
        }
        for wrapped in ["D R U R' D'", "R L' U L R'", "L' R U R' L", "U2 D2 R' F R F' D2"] {
            assert!(is_hand_line(&turns(wrapped), Colour::Yellow), "{wrapped}");
            assert!(!is_plain(&turns(wrapped), Hold::START), "{wrapped}");
        }
    }

    /// Where a line reads both ways, one plain reading is enough.
    #[test]
    fn the_automaton_agrees_with_the_grammar_on_all_lines_of_a_position() {
        for cross in [Colour::Yellow, Colour::Red] {
            let hold = order_hold(cross);
            // A cross with all four corners and edges of the pairs moved about.
            let mut state = crate::cube::State::SOLVED;
            for side in cross.ring() {
                for (centre, amount) in [
                    (side, Amount::Quarter),
                    (cross.opposite(), Amount::Quarter),
                    (side, Amount::Back),
                    (cross.opposite(), Amount::Half),
                ] {
                    state.turn(FaceTurn { centre, amount });
                }
            }
            let all = lines(&state, cross, Kind::Hand, 9);
            let plain = |turns: &[FaceTurn]| super::super::phrases::reads(Phrases::Plain, turns, hold);
            assert!(all.iter().all(|line| is_plain(line.turns(), hold) == plain(line.turns())));
            let plain = all.iter().filter(|line| plain(line.turns())).count();
            assert!(plain > 0 && plain < all.len(), "{plain} of {}", all.len());
        }
    }
}

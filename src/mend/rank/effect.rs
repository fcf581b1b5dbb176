//! What written turns do, apart from how they are written: equal for two repairs that are one.

use crate::cube::{Move, Position};

/// The turns of scramble and solution relative to the centres, turns of one face merged and turns of opposite
/// faces in a fixed order. Rotations, and whether a turn was written as wide, slice or outer, leave no trace.
///
/// This is the normal form of the free product of three copies of Z4 × Z4, one for each axis: sequences have one
/// form exactly if they differ only by merging, cancelling and exchanging turns of one axis.
#[derive(Debug, Clone, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Effect {
    scramble: Vec<[u8; 3]>,
    solution: Vec<[u8; 3]>,
}

impl Effect {
    /// The effect of a record's moves.
    #[must_use]
    pub fn of(scramble: impl IntoIterator<Item = Move>, solution: impl IntoIterator<Item = Move>) -> Effect {
        let mut position = Position::SOLVED;
        Effect { scramble: normal(&mut position, scramble), solution: normal(&mut position, solution) }
    }
}

/// Each entry is an axis and the quarter turns of its two faces, not both 0; no two neighbours of one axis.
fn normal(position: &mut Position, moves: impl IntoIterator<Item = Move>) -> Vec<[u8; 3]> {
    let mut form: Vec<[u8; 3]> = Vec::new();
    for mv in moves {
        let resolved = mv.resolve(position.hold);
        for turn in resolved.turns() {
            let (axis, side) = (turn.centre as u8 / 2, 1 + usize::from(turn.centre as u8 % 2));
            match form.last_mut() {
                Some(last) if last[0] == axis => {
                    last[side] = (last[side] + turn.amount as u8) % 4;
                    if last[1..] == [0, 0] {
                        form.pop();
                    }
                }
                _ => {
                    let mut next = [axis, 0, 0];
                    next[side] = turn.amount as u8;
                    form.push(next);
                }
            }
        }
        position.hold = resolved.hold;
    }
    form
}

#[cfg(test)]
mod tests {
    use super::*;

    fn effect(scramble: &str, solution: &str) -> Effect {
        let moves = |text: &str| -> Vec<Move> {
            text.split_whitespace()
                .map(|token| Move::ALL.into_iter().find(|mv| mv.to_string() == token).expect("a move"))
                .collect()
        };
        Effect::of(moves(scramble), moves(solution))
    }

    #[test]
    fn the_same_turns_are_the_same_however_written() {
        let plain = effect("R", "U D R2 F");
        for same in ["D U R2 F", "U D R R F", "U D L L' R2 F", "U D R2 y L", "U D R' R' F x y"] {
            assert_eq!(effect("R", same), plain, "{same}");
        }
        assert_ne!(effect("R U", "D R2 F"), plain, "the scramble is not the solution");
        assert_ne!(effect("R", "U R2 D F"), plain);
    }
}

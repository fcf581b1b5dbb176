//! What tokens do to the pieces, as turns in the cube's own frame.

use crate::cube::{Amount, FaceTurn, Hold, Move};

/// What the moves do, begun in this hold: rotations taken out, and [`merged`].
#[must_use]
pub fn turns_of(mut hold: Hold, moves: &[Move]) -> Vec<FaceTurn> {
    let mut turns = Vec::with_capacity(moves.len());
    for mv in moves {
        let resolved = mv.resolve(hold);
        hold = resolved.hold;
        for turn in resolved.turns() {
            push(&mut turns, turn);
        }
    }
    turns
}

/// Turns of one face in a row made one turn, also where only turns of the opposite face stand between them; what undoes
/// itself vanishes.
#[must_use]
pub fn merged(turns: &[FaceTurn]) -> Vec<FaceTurn> {
    turns.iter().fold(Vec::with_capacity(turns.len()), |mut merged, &turn| {
        push(&mut merged, turn);
        merged
    })
}

/// [`merged`], with opposite neighbours in one order whatever order they came in: two sequences are the same turns if
/// and only if this is equal.
#[must_use]
pub fn canonical(turns: &[FaceTurn]) -> Vec<FaceTurn> {
    let mut turns = merged(turns);
    for i in 1..turns.len() {
        if turns[i].centre == turns[i - 1].centre.opposite() && turns[i] < turns[i - 1] {
            turns.swap(i - 1, i);
        }
    }
    turns
}

/// Adds a turn, merged with one of the same face that nothing but the opposite face stands between.
fn push(turns: &mut Vec<FaceTurn>, turn: FaceTurn) {
    let before = turns.iter().rposition(|other| other.centre != turn.centre.opposite());
    let Some(at) = before.filter(|&at| turns[at].centre == turn.centre) else {
        turns.push(turn);
        return;
    };
    match Amount::from_quarters(turns[at].amount as u32 + turn.amount as u32) {
        Some(amount) => turns[at].amount = amount,
        None => {
            turns.remove(at);
        }
    }
}

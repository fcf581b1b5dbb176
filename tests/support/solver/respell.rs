//! The same solve written otherwise: wide turns for outer ones, slices, and the cube turned on the way.
//!
//! What happens to the pieces stays the same, turn by turn and step by step; only the writing and the hold
//! change. Whatever is told of a solve relative to its centres must not notice.

use cornerwise::cube::{Amount, FaceTurn, Hold, Move, Slice};

use super::random::Rng;
use super::{Kind, Solve, Step};

impl Solve {
    /// Writes every turn afresh, each choice by chance.
    pub fn respelled(&self, rng: &mut Rng) -> Solve {
        // The hold of the solve as it is, and that of the new writing.
        let (mut old, mut new) = (Hold::START, Hold::START);
        let mut steps = Vec::new();
        for step in &self.steps {
            let mut turns: Vec<FaceTurn> = Vec::new();
            for mv in &step.moves {
                let resolved = mv.resolve(old);
                old = resolved.hold;
                turns.extend(resolved.turns());
            }
            let mut moves = Vec::new();
            if step.kind == Kind::Inspection {
                moves = (0..rng.below(3)).map(|_| rotation(rng)).collect();
                new = moves.iter().fold(new, |hold, mv| mv.resolve(hold).hold);
            }
            let mut rest = turns.as_slice();
            while let Some((&first, others)) = rest.split_first() {
                let (mv, used) = match others.first().and_then(|&second| slice(first, second, new)) {
                    Some(mv) if rng.chance(0.5) => (mv, 2),
                    _ if rng.chance(0.3) => (Move::Wide(new.face(first.centre).opposite(), first.amount), 1),
                    _ => (Move::Turn(new.face(first.centre), first.amount), 1),
                };
                rest = &rest[used..];
                // Not before the first turn, where it would be inspection, nor after the last.
                let turned = (!rest.is_empty() && rng.chance(0.1)).then(|| rotation(rng));
                for mv in [Some(mv), turned].into_iter().flatten() {
                    new = mv.resolve(new).hold;
                    moves.push(mv);
                }
            }
            if !moves.is_empty() {
                steps.push(Step { moves, ..step.clone() });
            }
        }
        Solve { steps, ..self.clone() }
    }
}

/// Two turns of opposite layers that are one slice in this hold.
fn slice(first: FaceTurn, second: FaceTurn, hold: Hold) -> Option<Move> {
    let opposite = first.centre.opposite() == second.centre && first.amount.inverse() == second.amount;
    let named = |turn: FaceTurn| Slice::ALL.into_iter().find(|slice| slice.face() == hold.face(turn.centre));
    // A slice turns as the face that names it does, so the outer layer of that face turns back against it.
    match (named(first), named(second)) {
        _ if !opposite => None,
        (Some(slice), _) => Some(Move::Slice(slice, first.amount.inverse())),
        (_, slice) => Some(Move::Slice(slice?, first.amount)),
    }
}

fn rotation(rng: &mut Rng) -> Move {
    let axis = cornerwise::cube::Axis::ALL[rng.below(3)];
    Move::Rotation(axis, Amount::ALL[rng.below(3)])
}

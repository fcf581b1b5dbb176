//! Handling cost: how hard a sequence is on the hands, in *turn units*. Common practice, no source; every weight
//! can be set.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::cube::{Amount, Axis, Colour, Face, FaceTurn, Hold, Move};

/// What each kind of token costs, in turn units.
#[derive(Debug, Clone, Copy, PartialEq, Deserialize, JsonSchema, Serialize)]
pub struct Weights {
    /// A quarter turn of `R`, `U` or `L`.
    pub side: f64,
    /// A quarter turn of `F` or `D`.
    pub front: f64,
    /// A quarter turn of `B`.
    pub back: f64,
    /// What a half turn costs more.
    pub half: f64,
    /// A rotation of the whole cube.
    pub rotation: f64,
    /// A quarter turn of a middle slice.
    pub slice: f64,
}

impl Default for Weights {
    fn default() -> Weights {
        Weights { side: 1.0, front: 1.2, back: 1.8, half: 0.3, rotation: 1.0, slice: 1.5 }
    }
}

impl Weights {
    /// The cost of one token. A wide turn costs what the outer turn of its face does.
    #[must_use]
    pub fn of(&self, mv: Move) -> f64 {
        let (base, amount) = match mv {
            Move::Turn(face, amount) | Move::Wide(face, amount) => (self.face(face), amount),
            Move::Slice(_, amount) => (self.slice, amount),
            Move::Rotation(_, amount) => (self.rotation, amount),
        };
        base + if amount == Amount::Half { self.half } else { 0.0 }
    }

    /// The cost of tokens played one after the other.
    #[must_use]
    pub fn sum(&self, moves: &[Move]) -> f64 {
        moves.iter().map(|&mv| self.of(mv)).sum()
    }

    /// The cheapest that one turn can be.
    #[must_use]
    pub fn least(&self) -> f64 {
        self.side.min(self.front).min(self.back)
    }

    const fn face(&self, face: Face) -> f64 {
        match face {
            Face::R | Face::U | Face::L => self.side,
            Face::F | Face::D => self.front,
            Face::B => self.back,
        }
    }
}

/// A hold in which a line may be played, and how to get there.
#[derive(Debug, Clone, PartialEq)]
pub struct Grip {
    /// The hold.
    pub hold: Hold,
    /// The rotations that lead to it: none, one or two.
    pub rotations: Vec<Move>,
    /// What they cost.
    pub cost: f64,
}

/// The four holds with the cross down, each with the cheapest way there from `from`, and all of them where several
/// are equally cheap; a way without a rotation, if there is one, first, then `y`, `y2`, `y'`.
#[must_use]
pub fn grips(from: Hold, cross: Colour, weights: &Weights) -> Vec<Grip> {
    let rotations = Axis::ALL.into_iter().flat_map(|axis| Amount::ALL.map(|amount| (axis, amount)));
    let rotations: Vec<(Axis, Amount)> = rotations.collect();
    let mut ways: Vec<Vec<(Axis, Amount)>> = vec![Vec::new()];
    ways.extend(rotations.iter().map(|&one| vec![one]));
    ways.extend(rotations.iter().flat_map(|&one| rotations.iter().map(move |&two| vec![one, two])));
    let mut grips: Vec<Grip> = Vec::with_capacity(4);
    for way in ways {
        let hold = way.iter().fold(from, |hold, &(axis, amount)| hold.rotated(axis, amount));
        if hold.colour(Face::D) != cross {
            continue;
        }
        let rotations: Vec<Move> = way.iter().map(|&(axis, amount)| Move::Rotation(axis, amount)).collect();
        let cost = weights.sum(&rotations);
        if grips.iter().any(|grip| grip.hold == hold && grip.cost < cost - EQUAL) {
            continue;
        }
        grips.retain(|grip| grip.hold != hold || grip.cost < cost + EQUAL);
        grips.push(Grip { hold, rotations, cost });
    }
    grips
}

/// Two costs that differ by less are equal: sums of tenths in another order differ in the last bits.
pub(super) const EQUAL: f64 = 1e-9;

/// The turns as they are written in a hold.
#[must_use]
pub fn written(turns: &[FaceTurn], hold: Hold) -> Vec<Move> {
    turns.iter().map(|turn| Move::Turn(hold.face(turn.centre), turn.amount)).collect()
}

impl Grip {
    /// What turns cost when played so, the rotations included.
    #[must_use]
    pub fn handling(&self, turns: &[FaceTurn], weights: &Weights) -> f64 {
        let of = |turn: &FaceTurn| weights.of(Move::Turn(self.hold.face(turn.centre), turn.amount));
        self.cost + turns.iter().map(of).sum::<f64>()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn there_are_four_grips_from_every_hold() {
        for cross in Colour::ALL {
            for from in Hold::ALL {
                let grips = grips(from, cross, &Weights::default());
                let holds: std::collections::BTreeSet<String> =
                    grips.iter().map(|grip| format!("{:?}", grip.hold)).collect();
                assert_eq!(holds.len(), 4);
                for grip in &grips {
                    assert_eq!(grip.hold.colour(Face::D), cross);
                    let reached = grip.rotations.iter().fold(from, |hold, mv| mv.resolve(hold).hold);
                    assert_eq!(reached, grip.hold);
                }
                let free = grips.iter().filter(|grip| grip.rotations.is_empty()).count();
                assert_eq!(free, usize::from(from.colour(Face::D) == cross));
            }
        }
    }

    #[test]
    fn a_sequence_costs_what_design_says() {
        let weights = Weights::default();
        let back = FaceTurn { centre: Colour::Blue, amount: Amount::Half };
        // In the scramble's hold blue is at the back: 1.8 + 0.3.
        assert!((weights.sum(&written(&[back], Hold::START)) - 2.1).abs() < 1e-9);
        // With `y` before it, blue is on the right: 1 + 1.3.
        let grips = grips(Hold::START, Colour::Yellow, &weights);
        let costs = grips.iter().map(|grip| (grip, grip.handling(&[back, back, back], &weights)));
        let (grip, cost) = costs.min_by(|a, b| a.1.total_cmp(&b.1)).expect("there are grips");
        assert_eq!(grip.rotations.len(), 1);
        assert!((cost - 4.9).abs() < 1e-9);
    }
}

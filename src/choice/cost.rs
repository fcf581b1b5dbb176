//! Handling cost: how hard a sequence is on the hands, in *turn units*. Common practice, no source; every weight
//! can be set.

use serde::Serialize;

use crate::cube::{Amount, Axis, Colour, Face, FaceTurn, Hold, Move};

/// What each kind of token costs, in turn units.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
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

/// The four holds with the cross down, each with the cheapest way there from `from`; the one without a rotation, if
/// there is one, first, then `y`, `y2`, `y'`.
#[must_use]
pub fn grips(from: Hold, cross: Colour, weights: &Weights) -> Vec<Grip> {
    let rotations = Axis::ALL.into_iter().flat_map(|axis| Amount::ALL.map(|amount| (axis, amount)));
    let rotations: Vec<(Axis, Amount)> = rotations.collect();
    // `y` last among ways of one cost, so that it is taken only where nothing simpler leads there.
    let mut ways: Vec<Vec<(Axis, Amount)>> = vec![Vec::new()];
    ways.extend(rotations.iter().map(|&one| vec![one]));
    ways.extend(rotations.iter().flat_map(|&one| rotations.iter().map(move |&two| vec![one, two])));
    let mut grips: Vec<Grip> = Vec::with_capacity(4);
    for way in ways {
        let hold = way.iter().fold(from, |hold, &(axis, amount)| hold.rotated(axis, amount));
        let rotations: Vec<Move> = way.iter().map(|&(axis, amount)| Move::Rotation(axis, amount)).collect();
        let cost = weights.sum(&rotations);
        if hold.colour(Face::D) != cross {
            continue;
        }
        match grips.iter_mut().find(|grip| grip.hold == hold) {
            Some(grip) if grip.cost <= cost => {}
            Some(grip) => *grip = Grip { hold, rotations, cost },
            None => grips.push(Grip { hold, rotations, cost }),
        }
    }
    grips
}

/// The turns as they are written in a hold.
#[must_use]
pub fn written(turns: &[FaceTurn], hold: Hold) -> Vec<Move> {
    turns.iter().map(|turn| Move::Turn(hold.face(turn.centre), turn.amount)).collect()
}

/// Of some grips the one in which the turns are cheapest, and the cost with its rotations; the first of equals.
#[must_use]
pub fn cheapest<'a>(turns: &[FaceTurn], grips: &'a [Grip], weights: &Weights) -> (&'a Grip, f64) {
    let mut best = (&grips[0], f64::INFINITY);
    for grip in grips {
        let turns: f64 =
            turns.iter().map(|turn| weights.of(Move::Turn(grip.hold.face(turn.centre), turn.amount))).sum();
        // Sums of tenths in another order differ in the last bit; that is no difference.
        if grip.cost + turns < best.1 - 1e-9 {
            best = (grip, grip.cost + turns);
        }
    }
    best
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn there_are_four_grips_from_every_hold() {
        for cross in Colour::ALL {
            for from in Hold::ALL {
                let grips = grips(from, cross, &Weights::default());
                assert_eq!(grips.len(), 4);
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
        let (grip, cost) = cheapest(&[back, back, back], &grips, &weights);
        assert_eq!(grip.rotations.len(), 1);
        assert!((cost - 4.9).abs() < 1e-9);
    }
}

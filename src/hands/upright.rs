//! The four holds in which a cross is down, and the rotations between them.

use std::sync::OnceLock;

use super::units::HalfUnits;
use super::weights::Weights;
use crate::cube::{Amount, Axis, Colour, Face, Hold, Move};

/// The holds with one cross down, numbered so that `y` leads from each to the next.
#[derive(Debug)]
pub(super) struct Upright {
    /// The holds.
    pub holds: [Hold; 4],
    /// For each hold, the face at which each centre lies.
    pub faces: [[Face; 6]; 4],
}

/// The four holds with this cross down, each one `y` from the one before.
#[must_use]
pub fn upright(cross: Colour) -> &'static [Hold; 4] {
    &Upright::of(cross).holds
}

impl Upright {
    /// Those of a cross colour.
    pub fn of(cross: Colour) -> &'static Upright {
        static UPRIGHT: OnceLock<[Upright; 6]> = OnceLock::new();
        &UPRIGHT.get_or_init(|| Colour::ALL.map(Upright::new))[cross as usize]
    }

    fn new(cross: Colour) -> Upright {
        let down = |hold: &Hold| hold.colour(Face::D) == cross;
        let mut hold = Hold::ALL.into_iter().find(down).expect("every colour is down in four holds");
        let holds = [(); 4].map(|()| {
            let this = hold;
            hold = hold.rotated(Axis::Y, Amount::Quarter);
            this
        });
        Upright { holds, faces: holds.map(|hold| Colour::ALL.map(|centre| hold.face(centre))) }
    }

    /// The number of a hold; `None` if the cross is not down in it.
    pub fn number(&self, hold: Hold) -> Option<usize> {
        self.holds.iter().position(|&other| other == hold)
    }

    /// Every way to bring the cross down from a hold in which it is not, by one or two rotations: the rotations, the
    /// number of the hold they lead to, and what they cost.
    pub fn brought_down(&self, from: Hold, weights: &Weights) -> Vec<(Vec<Move>, usize, HalfUnits)> {
        let one = Axis::ALL.into_iter().flat_map(|axis| Amount::ALL.map(|amount| (axis, amount)));
        let one: Vec<(Axis, Amount)> = one.collect();
        let two = one.iter().flat_map(|&first| one.iter().map(move |&second| vec![first, second]));
        let all = one.iter().map(|&only| vec![only]).chain(two);
        all.filter_map(|rotations| {
            let turned = |hold: Hold, &(axis, amount): &(Axis, Amount)| hold.rotated(axis, amount);
            let number = self.number(rotations.iter().fold(from, turned))?;
            let cost = rotations.iter().map(|&(_, amount)| weights.rotation(amount)).sum();
            let moves = rotations.iter().map(|&(axis, amount)| Move::Rotation(axis, amount));
            Some((moves.collect(), number, cost))
        })
        .collect()
    }
}

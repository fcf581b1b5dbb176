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
    /// For each hold of [`Hold::ALL`], how it is brought to one of these, once that was asked for.
    down: [OnceLock<Vec<BroughtDown>>; Hold::ALL.len()],
}

/// A way to bring the cross down, by one or two rotations.
#[derive(Debug)]
pub(super) struct BroughtDown {
    pub rotations: Vec<Move>,
    /// The number of the hold they lead to.
    pub grip: usize,
    amounts: Vec<Amount>,
}

impl BroughtDown {
    /// What it costs.
    pub fn cost(&self, weights: &Weights) -> HalfUnits {
        self.amounts.iter().map(|&amount| weights.rotation(amount)).sum()
    }
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
        Upright {
            holds,
            faces: holds.map(|hold| Colour::ALL.map(|centre| hold.face(centre))),
            down: [const { OnceLock::new() }; Hold::ALL.len()],
        }
    }

    /// The number of a hold; `None` if the cross is not down in it.
    pub fn number(&self, hold: Hold) -> Option<usize> {
        self.holds.iter().position(|&other| other == hold)
    }

    /// Every way to bring the cross down from a hold in which it is not.
    pub fn brought_down(&self, from: Hold) -> &[BroughtDown] {
        let number = Hold::ALL.iter().position(|&hold| hold == from).expect("every hold is there");
        self.down[number].get_or_init(|| {
            let one = Axis::ALL.into_iter().flat_map(|axis| Amount::ALL.map(|amount| (axis, amount)));
            let one: Vec<(Axis, Amount)> = one.collect();
            let two = one.iter().flat_map(|&first| one.iter().map(move |&second| vec![first, second]));
            let all = one.iter().map(|&only| vec![only]).chain(two);
            all.filter_map(|rotations| {
                let turned = |hold: Hold, &(axis, amount): &(Axis, Amount)| hold.rotated(axis, amount);
                let grip = self.number(rotations.iter().fold(from, turned))?;
                let amounts = rotations.iter().map(|&(_, amount)| amount).collect();
                let moves = rotations.iter().map(|&(axis, amount)| Move::Rotation(axis, amount));
                Some(BroughtDown { rotations: moves.collect(), grip, amounts })
            })
            .collect()
        })
    }
}

//! What a person writes ([`Move`]) and what it does to the pieces ([`FaceTurn`]).

use super::{Colour, Face, Hold};

/// How far a turn goes, clockwise as seen from outside the face that names it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
#[repr(u8)]
pub enum Amount {
    /// 90 degrees clockwise.
    Quarter = 1,
    /// 180 degrees.
    Half = 2,
    /// 90 degrees counter-clockwise, written with a prime.
    Back = 3,
}

impl Amount {
    /// All three.
    pub const ALL: [Amount; 3] = [Amount::Quarter, Amount::Half, Amount::Back];

    /// This many quarter turns clockwise, taken modulo 4; `None` if that is nothing.
    #[must_use]
    pub const fn from_quarters(quarters: u32) -> Option<Amount> {
        match quarters % 4 {
            1 => Some(Amount::Quarter),
            2 => Some(Amount::Half),
            3 => Some(Amount::Back),
            _ => None,
        }
    }

    /// The amount that undoes this one.
    #[must_use]
    pub const fn inverse(self) -> Amount {
        match self {
            Amount::Quarter => Amount::Back,
            Amount::Half => Amount::Half,
            Amount::Back => Amount::Quarter,
        }
    }
}

/// An axis of a whole-cube rotation.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Axis {
    /// Turns as `R` does.
    X,
    /// Turns as `U` does.
    Y,
    /// Turns as `F` does.
    Z,
}

impl Axis {
    /// All three.
    pub const ALL: [Axis; 3] = [Axis::X, Axis::Y, Axis::Z];

    /// The face whose turn gives the sense of the rotation.
    #[must_use]
    pub const fn face(self) -> Face {
        match self {
            Axis::X => Face::R,
            Axis::Y => Face::U,
            Axis::Z => Face::F,
        }
    }
}

/// A middle slice. The letters and their senses are common practice; the Regulations do not define them.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Slice {
    /// Between `R` and `L`, turning as `L` does.
    M,
    /// Between `U` and `D`, turning as `D` does.
    E,
    /// Between `F` and `B`, turning as `F` does.
    S,
}

impl Slice {
    /// All three.
    pub const ALL: [Slice; 3] = [Slice::M, Slice::E, Slice::S];

    /// The face whose turn gives the sense of the slice.
    #[must_use]
    pub const fn face(self) -> Face {
        match self {
            Slice::M => Face::L,
            Slice::E => Face::D,
            Slice::S => Face::F,
        }
    }
}

/// One written turn or rotation, in the hold of the moment.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Move {
    /// One outer layer: `R`, `U2`, `F'`.
    Turn(Face, Amount),
    /// Two layers together: `Rw` (also written `r`).
    Wide(Face, Amount),
    /// A middle slice: `M`, `E`, `S`.
    Slice(Slice, Amount),
    /// The whole cube: `x`, `y`, `z`.
    Rotation(Axis, Amount),
}

/// A turn of one outer layer in the body frame: what happens to the pieces.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct FaceTurn {
    /// The centre of the layer that turns.
    pub centre: Colour,
    /// How far, clockwise as seen from outside that centre.
    pub amount: Amount,
}

impl FaceTurn {
    /// All 18: by centre, then by amount.
    pub const ALL: [FaceTurn; 18] = {
        let mut all = [FaceTurn { centre: Colour::White, amount: Amount::Quarter }; 18];
        let mut i = 0;
        while i < 18 {
            all[i] = FaceTurn { centre: Colour::ALL[i / 3], amount: Amount::ALL[i % 3] };
            i += 1;
        }
        all
    };

    /// The place of this turn in [`FaceTurn::ALL`].
    #[must_use]
    pub const fn index(self) -> usize {
        self.centre as usize * 3 + self.amount as usize - 1
    }

    /// The turn that undoes this one.
    #[must_use]
    pub const fn inverse(self) -> FaceTurn {
        FaceTurn { centre: self.centre, amount: self.amount.inverse() }
    }
}

/// What a [`Move`] comes to: at most two layers turned, and the hold afterwards.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Resolved {
    turns: [Option<FaceTurn>; 2],
    /// The hold after the move.
    pub hold: Hold,
}

impl Resolved {
    /// The layers turned: none for a rotation, one for an outer or wide turn, two (which commute) for a slice.
    pub fn turns(&self) -> impl Iterator<Item = FaceTurn> {
        self.turns.into_iter().flatten()
    }
}

/// The rotation of the whole cube that turns as `face` does, as an axis and an amount.
const fn rotation_like(face: Face, amount: Amount) -> (Axis, Amount) {
    match face {
        Face::R => (Axis::X, amount),
        Face::L => (Axis::X, amount.inverse()),
        Face::U => (Axis::Y, amount),
        Face::D => (Axis::Y, amount.inverse()),
        Face::F => (Axis::Z, amount),
        Face::B => (Axis::Z, amount.inverse()),
    }
}

impl Move {
    /// How far it turns what it turns.
    #[must_use]
    pub const fn amount(self) -> Amount {
        match self {
            Move::Turn(_, amount)
            | Move::Wide(_, amount)
            | Move::Slice(_, amount)
            | Move::Rotation(_, amount) => amount,
        }
    }

    /// Every move there is: 18 outer turns, 18 wide turns, 9 slices, 9 rotations.
    pub const ALL: [Move; 54] = {
        let mut all = [Move::Turn(Face::U, Amount::Quarter); 54];
        let mut i = 0;
        while i < 18 {
            all[i] = Move::Turn(Face::ALL[i / 3], Amount::ALL[i % 3]);
            all[18 + i] = Move::Wide(Face::ALL[i / 3], Amount::ALL[i % 3]);
            if i < 9 {
                all[36 + i] = Move::Slice(Slice::ALL[i / 3], Amount::ALL[i % 3]);
                all[45 + i] = Move::Rotation(Axis::ALL[i / 3], Amount::ALL[i % 3]);
            }
            i += 1;
        }
        all
    };

    /// The place of this move in [`Move::ALL`].
    #[must_use]
    pub const fn index(self) -> usize {
        match self {
            Move::Turn(face, amount) => face as usize * 3 + amount as usize - 1,
            Move::Wide(face, amount) => 18 + face as usize * 3 + amount as usize - 1,
            Move::Slice(slice, amount) => 36 + slice as usize * 3 + amount as usize - 1,
            Move::Rotation(axis, amount) => 45 + axis as usize * 3 + amount as usize - 1,
        }
    }

    /// What the move does when the cube sits in `hold`.
    ///
    /// Relative to the centres a wide turn is a turn of the layer opposite (`Rw` is `x L`), and a slice is
    /// two outer turns and a rotation (`M` is `x' R L'`).
    #[must_use]
    pub const fn resolve(self, hold: Hold) -> Resolved {
        match self {
            Move::Turn(face, amount) => {
                Resolved { turns: [Some(FaceTurn { centre: hold.colour(face), amount }), None], hold }
            }
            Move::Wide(face, amount) => {
                let (axis, by) = rotation_like(face, amount);
                Resolved {
                    turns: [Some(FaceTurn { centre: hold.colour(face.opposite()), amount }), None],
                    hold: hold.rotated(axis, by),
                }
            }
            Move::Slice(slice, amount) => {
                let face = slice.face();
                let (axis, by) = rotation_like(face, amount);
                Resolved {
                    turns: [
                        Some(FaceTurn { centre: hold.colour(face.opposite()), amount }),
                        Some(FaceTurn { centre: hold.colour(face), amount: amount.inverse() }),
                    ],
                    hold: hold.rotated(axis, by),
                }
            }
            Move::Rotation(axis, amount) => {
                Resolved { turns: [None, None], hold: hold.rotated(axis, amount) }
            }
        }
    }

    /// The move that undoes this one when played right after it.
    #[must_use]
    pub const fn inverse(self) -> Move {
        match self {
            Move::Turn(face, amount) => Move::Turn(face, amount.inverse()),
            Move::Wide(face, amount) => Move::Wide(face, amount.inverse()),
            Move::Slice(slice, amount) => Move::Slice(slice, amount.inverse()),
            Move::Rotation(axis, amount) => Move::Rotation(axis, amount.inverse()),
        }
    }

    /// Length in the Outer Block Turn Metric (WCA Regulation 12a5): 1 for an outer or wide turn, 0 for a
    /// rotation. A slice, which the Regulations do not know, is two outer turns and a rotation: 2.
    #[must_use]
    pub const fn obtm(self) -> usize {
        match self {
            Move::Turn(..) | Move::Wide(..) => 1,
            Move::Slice(..) => 2,
            Move::Rotation(..) => 0,
        }
    }

    /// Length in the Execution Turn Metric (WCA Regulation 12a6): 1 for an outer turn, a wide turn and a
    /// rotation. A slice, which the Regulations do not know, is executed as one turn: 1.
    #[must_use]
    pub const fn etm(self) -> usize {
        1
    }

    /// Whether the move turns the whole cube and changes nothing else.
    #[must_use]
    pub const fn is_rotation(self) -> bool {
        matches!(self, Move::Rotation(..))
    }
}

//! Turns as the search names them: with the cross down.

use crate::cube::{Amount, Face};

/// A turn of one outer layer, named with the cross down.
///
/// Numbered face by face in the order of [`Face::ALL`] (`U D F B R L`), then by amount, so that opposite
/// faces are neighbours and the lower number comes first: the order in which lines write them.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub(super) struct Turn(u8);

impl Turn {
    /// How many there are.
    pub const COUNT: usize = 18;
    /// All of them, in the order of [`Turn::index`].
    pub const ALL: [Turn; Turn::COUNT] = {
        let mut all = [Turn(0); Turn::COUNT];
        let mut i = 0;
        while i < Turn::COUNT {
            all[i] = Turn(i as u8);
            i += 1;
        }
        all
    };

    /// The turn of `face` by `amount`.
    pub const fn new(face: Face, amount: Amount) -> Turn {
        Turn(face as u8 * 3 + amount as u8 - 1)
    }

    /// A number from 0 to 17.
    pub const fn index(self) -> usize {
        self.0 as usize
    }

    /// The face that turns.
    pub const fn face(self) -> Face {
        Face::ALL[self.0 as usize / 3]
    }

    /// Clockwise quarter turns: 1, 2 or 3.
    pub const fn quarters(self) -> u8 {
        self.0 % 3 + 1
    }

    /// How far it turns.
    pub const fn amount(self) -> Amount {
        Amount::ALL[self.0 as usize % 3]
    }

    /// The axis about which it turns: 0 for `U` and `D`, 1 for `F` and `B`, 2 for `R` and `L`. Turns about
    /// one axis commute.
    pub const fn axis(self) -> u8 {
        self.0 / 6
    }

    /// Whether it turns the second face of its axis: `D`, `B` or `L`.
    pub const fn is_second(self) -> bool {
        self.0 / 3 % 2 == 1
    }

    /// The turn that undoes this one.
    pub const fn inverse(self) -> Turn {
        Turn(self.0 / 3 * 3 + 2 - self.0 % 3)
    }

    /// The turn in the mirror that exchanges `F` with `R` and `B` with `L`. Of opposite faces it takes the first to the first.
    #[inline]
    pub const fn mirrored(self) -> Turn {
        let face = match self.face() {
            Face::U => Face::U,
            Face::D => Face::D,
            Face::F => Face::R,
            Face::R => Face::F,
            Face::B => Face::L,
            Face::L => Face::B,
        };
        Turn::new(face, self.amount().inverse())
    }

    /// Whether `next` may follow: not the same face again, and of two opposite faces the second last.
    pub const fn may_precede(self, next: Turn) -> bool {
        self.axis() != next.axis() || (!self.is_second() && next.is_second())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_faces_and_amounts_agree() {
        for (index, turn) in Turn::ALL.into_iter().enumerate() {
            assert_eq!(turn.index(), index);
            assert_eq!(Turn::new(turn.face(), turn.amount()), turn);
            assert_eq!(turn.quarters(), turn.amount() as u8);
            assert_eq!(turn.inverse().amount(), turn.amount().inverse());
            assert_eq!(turn.inverse().face(), turn.face());
            assert_eq!((turn.mirrored().mirrored(), turn.mirrored().is_second()), (turn, turn.is_second()));
            assert_eq!(turn.is_second(), matches!(turn.face(), Face::D | Face::B | Face::L));
        }
    }

    #[test]
    fn eighteen_turns_and_then_243_more() {
        let pairs =
            Turn::ALL.iter().flat_map(|a| Turn::ALL.iter().filter(move |&&b| a.may_precede(b))).count();
        assert_eq!(pairs, 243, "positions two turns from solved: check-values, OEIS A080601");
    }
}

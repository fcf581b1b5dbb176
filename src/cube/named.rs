//! What a person can point at: pairs by their names, sequences of moves, and all that is to be seen of a position.

use std::cmp::Ordering;
use std::ops::Deref;

use super::{Colour, Face, Move, Pair, Position};

/// A pair as people name it, by its two side colours in alphabetical order; also its slot. Which corner belongs to
/// it depends on the cross. Names are in alphabetical order too.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct PairName([Colour; 2]);

impl Ord for PairName {
    fn cmp(&self, other: &PairName) -> Ordering {
        self.0.map(Colour::name).cmp(&other.0.map(Colour::name))
    }
}

impl PartialOrd for PairName {
    fn partial_cmp(&self, other: &PairName) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

impl PairName {
    /// The pair with these side colours, in either order; `None` if they are the same or opposite.
    #[must_use]
    pub fn new(a: Colour, b: Colour) -> Option<PairName> {
        if a == b || a == b.opposite() {
            return None;
        }
        Some(PairName(if a.name() < b.name() { [a, b] } else { [b, a] }))
    }

    /// The two side colours, in the alphabetical order of their English names.
    #[must_use]
    pub const fn sides(self) -> [Colour; 2] {
        self.0
    }

    /// The pair of a cross of this colour; `None` if it has none of this name.
    #[must_use]
    pub fn of(self, cross: Colour) -> Option<Pair> {
        Pair::all(cross).into_iter().find(|pair| pair.name() == self)
    }
}

impl Pair {
    /// What people call it.
    #[must_use]
    pub fn name(self) -> PairName {
        PairName(self.sides())
    }
}

/// A sequence of moves.
#[derive(Debug, Clone, PartialEq, Eq, Hash, Default)]
pub struct Moves(Vec<Move>);

impl Moves {
    /// These moves.
    #[must_use]
    pub fn of(moves: &[Move]) -> Moves {
        Moves(moves.to_vec())
    }
}

impl Deref for Moves {
    type Target = [Move];

    fn deref(&self) -> &[Move] {
        &self.0
    }
}

impl From<Vec<Move>> for Moves {
    fn from(moves: Vec<Move>) -> Moves {
        Moves(moves)
    }
}

impl From<&[Move]> for Moves {
    fn from(moves: &[Move]) -> Moves {
        Moves(moves.to_vec())
    }
}

impl FromIterator<Move> for Moves {
    fn from_iter<I: IntoIterator<Item = Move>>(moves: I) -> Moves {
        Moves(moves.into_iter().collect())
    }
}

/// Every sticker of a position as it is held: faces `U L F R B D` of the hold, each row by row as seen from
/// outside, `U` with `B` at the top, `D` with `F` at the top, the sides with `U` at the top.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Stickers([Colour; 54]);

impl Stickers {
    /// The faces in the order in which their stickers stand.
    pub const ORDER: [Face; 6] = [Face::U, Face::L, Face::F, Face::R, Face::B, Face::D];

    /// The stickers of a position.
    #[must_use]
    pub fn of(position: &Position) -> Stickers {
        let mut stickers = [Colour::White; 54];
        let shown = Stickers::ORDER.into_iter().flat_map(|face| position.stickers(face));
        stickers.iter_mut().zip(shown).for_each(|(sticker, shown)| *sticker = shown);
        Stickers(stickers)
    }

    /// These 54; `None` if they are more or fewer.
    #[must_use]
    pub fn new(stickers: &[Colour]) -> Option<Stickers> {
        stickers.try_into().ok().map(Stickers)
    }
}

impl Deref for Stickers {
    type Target = [Colour; 54];

    fn deref(&self) -> &[Colour; 54] {
        &self.0
    }
}

//! What a person can point at: pairs by their names, and sequences of moves.

use std::cmp::Ordering;
use std::ops::Deref;

use super::{Colour, Move, Pair};

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

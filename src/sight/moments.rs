//! A step as played: its moments, the moves between them, and how many turns are still to make.

use crate::cube::{Move, Position};

/// Turns of the step still to make that are enough to find the next pair without stopping. Common practice,
/// no source: about half a second.
pub const DEFAULT_LEAD: usize = 3;

/// A step as played: its moments, first and last included, and the moves between them.
#[derive(Debug, Clone, Copy)]
pub struct Moments<'a> {
    positions: &'a [Position],
    moves: &'a [Move],
}

impl<'a> Moments<'a> {
    /// A step of these moments.
    ///
    /// # Panics
    ///
    /// If there is not exactly one position more than there are moves.
    #[must_use]
    pub fn new(positions: &'a [Position], moves: &'a [Move]) -> Moments<'a> {
        assert_eq!(positions.len(), moves.len() + 1, "a step has one moment more than moves");
        Moments { positions, moves }
    }

    /// The positions, one more than the moves.
    #[must_use]
    pub const fn positions(self) -> &'a [Position] {
        self.positions
    }

    /// The moves between them.
    #[must_use]
    pub const fn moves(self) -> &'a [Move] {
        self.moves
    }

    /// The position at the end of the step.
    #[must_use]
    pub fn last(self) -> &'a Position {
        &self.positions[self.moves.len()]
    }

    /// The turns still to make at this offset, in OBTM: rotations are none, a slice is two (WCA Regulation
    /// 12a5; see [`Move::obtm`]).
    #[must_use]
    pub fn turns_left(self, offset: usize) -> usize {
        self.moves[offset..].iter().map(|mv| mv.obtm()).sum()
    }
}

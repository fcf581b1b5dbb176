//! Playing a solve: every moment kept.

use crate::cube::{Move, Position};

/// A solve as it was played, from the scrambled cube to the end.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Replay {
    /// The moves, in order.
    pub moves: Vec<Move>,
    /// The position at every moment: `moments[0]` is the scrambled cube, `moments[n]` what there is after
    /// `n` moves; one more than there are moves.
    pub moments: Vec<Position>,
}

impl Replay {
    /// Scrambles a solved cube held white up and green in front (WCA Regulation 4d1), then plays the
    /// solution. Rotations and wide turns in a scramble change the hold in which the solution begins.
    #[must_use]
    pub fn new(scramble: impl IntoIterator<Item = Move>, solution: impl IntoIterator<Item = Move>) -> Replay {
        Replay::from_position(Position::SOLVED.after(scramble), solution)
    }

    /// Plays moves from any position.
    #[must_use]
    pub fn from_position(start: Position, moves: impl IntoIterator<Item = Move>) -> Replay {
        let moves: Vec<Move> = moves.into_iter().collect();
        let mut moments = Vec::with_capacity(moves.len() + 1);
        let mut position = start;
        moments.push(position);
        for &mv in &moves {
            position.play(mv);
            moments.push(position);
        }
        Replay { moves, moments }
    }

    /// The scrambled cube.
    #[must_use]
    pub fn start(&self) -> &Position {
        &self.moments[0]
    }

    /// The cube after the last move.
    #[must_use]
    pub fn end(&self) -> &Position {
        &self.moments[self.moves.len()]
    }

    /// The positions from moment `from` to moment `to`, both included.
    ///
    /// # Panics
    ///
    /// If `from > to` or `to` is past the end.
    #[must_use]
    pub fn between(&self, from: usize, to: usize) -> &[Position] {
        &self.moments[from..=to]
    }
}

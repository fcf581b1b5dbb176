//! Turns made comparable: every solution as turns of outer layers, whatever hold it was written in.
//!
//! Rotations vanish, a wide turn is a turn of the layer opposite, a slice is two outer turns
//! ([`Move::resolve`]). The frame is the scramble's: a layer is the one of the [`Colour`](crate::cube::Colour)
//! of its centre. Turns of opposite layers commute; where they stand next to each other they are put in one
//! order, so that `R L` and `L R` and `M'` with its rotation taken off compare as what they are: the same.

use crate::cube::{FaceTurn, Hold, Move, Moves};

/// A turn of a layer, and the token that made it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Turned {
    /// What turned.
    pub turn: FaceTurn,
    /// The place of the token among the moves, from 0. A slice gives two turns with one token.
    pub token: usize,
}

/// The turns of the layers that these moves make when they begin in `hold`.
///
/// ```
/// use cornerwise::cube::Hold;
/// use cornerwise::diff::frame;
/// use cornerwise::notation;
///
/// let played = |text| notation::parse_all(text, &Default::default()).0.playable().collect::<Vec<_>>();
/// let turns = frame::resolve(Hold::START, &played("y Rw U M"));
/// let turns: Vec<_> = turns.iter().map(|turned| turned.turn).collect();
/// // `y` brings the green centre to the left, so `Rw` turns its layer; `U` is then the red one; `M` is two turns.
/// assert_eq!(frame::written(&turns, Hold::START).to_string(), "F R B F'");
/// assert_eq!(frame::written(&frame::canonical(&turns), Hold::START).to_string(), "F R F' B");
/// ```
#[must_use]
pub fn resolve(mut hold: Hold, moves: &[Move]) -> Vec<Turned> {
    let mut turns = Vec::with_capacity(moves.len() + 4);
    for (token, mv) in moves.iter().enumerate() {
        let resolved = mv.resolve(hold);
        turns.extend(resolved.turns().map(|turn| Turned { turn, token }));
        hold = resolved.hold;
    }
    turns
}

/// Which of the three axes a turn is about. Turns about one axis commute.
#[must_use]
pub const fn axis(turn: FaceTurn) -> usize {
    turn.centre as usize / 2
}

/// The turns with commuting neighbours in order: white before yellow, green before blue, red before orange.
/// Turns of one layer keep their order and are not added up, for the hands made both.
#[must_use]
pub fn canonical(turns: &[FaceTurn]) -> Vec<FaceTurn> {
    let mut sorted = Vec::with_capacity(turns.len());
    for run in turns.chunk_by(|a, b| axis(*a) == axis(*b)) {
        let at = sorted.len();
        sorted.extend_from_slice(run);
        sorted[at..].sort_by_key(|turn| turn.centre);
    }
    sorted
}

/// How a turn is written in a hold.
#[must_use]
pub const fn one_written(turn: FaceTurn, hold: Hold) -> Move {
    Move::Turn(hold.face(turn.centre), turn.amount)
}

/// How turns are written in a hold.
#[must_use]
pub fn written(turns: &[FaceTurn], hold: Hold) -> Moves {
    turns.iter().map(|&turn| one_written(turn, hold)).collect()
}

//! Where a piece goes in a step, and where it lay open on the way.

use crate::cube::{Colour, FaceSet, Place};

use super::{InSight, Moments, Piece};

/// The way of a piece through a step.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Travel {
    /// The piece.
    pub piece: Piece,
    /// Where it is at the first moment.
    pub from: Place,
    /// Whether it is up there.
    pub up_at_first: bool,
    /// Where each turn that carries it brings it. A rotation moves the whole cube and carries nothing, although it
    /// gives places other names; a slice or wide turn leaves what it does not touch where it was in the hands.
    pub way: Vec<Stage>,
    /// Where it is at the last moment.
    pub to: Place,
    /// Whether it is up there.
    pub up_at_last: bool,
}

/// One stage of a piece's way.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Stage {
    /// The offset just after the turn.
    pub offset: usize,
    /// Where the piece is then.
    pub place: Place,
    /// Whether it is up: in the layer opposite the cross.
    pub up: bool,
}

/// Follows a piece through a step.
#[must_use]
pub fn travel(step: Moments<'_>, cross: Colour, piece: Piece) -> Travel {
    let positions = step.positions();
    let places: Vec<Place> = positions.iter().map(|position| piece.place(position)).collect();
    let up = |offset: usize| piece.is_up(&positions[offset].state, cross);
    let carried = |&offset: &usize| carries(step, piece, offset);
    let stage = |offset: usize| Stage { offset, place: places[offset], up: up(offset) };
    let last = places.len() - 1;
    Travel {
        piece,
        from: places[0],
        up_at_first: up(0),
        way: (1..places.len()).filter(carried).map(stage).collect(),
        to: places[last],
        up_at_last: up(last),
    }
}

/// Whether the token that ends at this offset carries the piece to another place of the hold.
fn carries(step: Moments<'_>, piece: Piece, offset: usize) -> bool {
    let positions = step.positions();
    !step.moves()[offset - 1].is_rotation()
        && piece.place(&positions[offset]) != piece.place(&positions[offset - 1])
}

/// Where and when a piece lay open to sight in a step.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct LayOpen {
    /// The first offset at which it was plain.
    pub first: usize,
    /// Where it was then.
    pub place: Place,
    /// The last offset at which it was plain.
    pub last: usize,
    /// Where it was then.
    pub last_place: Place,
    /// How many turns of the step carried it to other places after that.
    pub carried_since: usize,
    /// Where it is when the step ends.
    pub at_end: Place,
}

/// Whether the piece lay open in a step, and where; `None` if it never did.
#[must_use]
pub fn lay_open(step: Moments<'_>, piece: Piece, sight: FaceSet) -> Option<LayOpen> {
    let positions = step.positions();
    let plain = |offset: &usize| {
        let position = &positions[*offset];
        InSight::new(position.hold, sight).sees(piece, position)
    };
    let first = (0..positions.len()).find(plain)?;
    let last = (0..positions.len()).rev().find(plain)?;
    Some(LayOpen {
        first,
        place: piece.place(&positions[first]),
        last,
        last_place: piece.place(&positions[last]),
        carried_since: (last + 1..positions.len()).filter(|&offset| carries(step, piece, offset)).count(),
        at_end: piece.place(step.last()),
    })
}

//! What a step leaves for an open pair: up or down, seen with how much lead, and the outcome.

use std::fmt;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::cube::{Colour, CornerAt, EdgeAt, FaceSet, Move, Pair, Position};

use super::{InSight, Piece};

/// Turns of the step still to make that are enough to find the next pair without stopping. Common practice,
/// no source: about half a second.
pub const DEFAULT_LEAD: usize = 3;

/// What a step leaves; the better, the greater.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Deserialize, JsonSchema, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Outcome {
    /// The corner is not in the layer opposite the cross.
    Down,
    /// The corner is up, but it or its edge was not seen in time.
    Up,
    /// The corner is up, and it and its edge have both been seen with enough lead.
    Ready,
}

impl Outcome {
    /// The word for it.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Outcome::Ready => "ready",
            Outcome::Up => "up",
            Outcome::Down => "down",
        }
    }
}

impl fmt::Display for Outcome {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(self.word())
    }
}

impl Outcome {
    /// The outcome for a pair whose corner is up or not at the end of the step and whose pieces had both
    /// been seen with `lead` turns still to make (`None`: they were not), when `needed` are enough.
    #[must_use]
    pub const fn judge(up: bool, lead: Option<usize>, needed: usize) -> Outcome {
        match lead {
            _ if !up => Outcome::Down,
            Some(lead) if lead >= needed => Outcome::Ready,
            _ => Outcome::Up,
        }
    }
}

/// Whether a corner that sits so is up: in the layer opposite the cross.
#[must_use]
pub fn corner_up(at: CornerAt, cross: Colour) -> bool {
    at.place().touches(cross.opposite())
}

/// Whether an edge that sits so is up: in the layer opposite the cross.
#[must_use]
pub fn edge_up(at: EdgeAt, cross: Colour) -> bool {
    at.place().touches(cross.opposite())
}

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

    /// The lead that is enough: `lead` turns, or the whole step if it is shorter.
    #[must_use]
    pub fn needed(self, lead: usize) -> usize {
        lead.min(self.turns_left(0))
    }

    /// The last offset at which seeing something leaves enough lead.
    #[must_use]
    pub fn deadline(self, lead: usize) -> usize {
        let needed = self.needed(lead);
        (0..self.positions.len())
            .rev()
            .find(|&offset| self.turns_left(offset) >= needed)
            .expect("the whole step is enough")
    }

    /// The first offset at which the piece is seen.
    #[must_use]
    pub fn seen(self, piece: Piece, sight: FaceSet) -> Option<usize> {
        self.positions.iter().position(|position| InSight::new(position.hold, sight).sees(piece, position))
    }
}

/// What a step leaves for one open pair.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Left {
    /// The pair.
    pub pair: Pair,
    /// Whether its corner is up at the end of the step.
    pub up: bool,
    /// The first offset at which the corner was seen.
    pub corner_seen: Option<usize>,
    /// The first offset at which the edge was seen.
    pub edge_seen: Option<usize>,
    /// Turns (OBTM) of the step still to make when both had been seen; `None` if one was not.
    pub lead: Option<usize>,
    /// What that comes to.
    pub outcome: Outcome,
}

/// What the step leaves for the open pair, with `lead` turns being enough ([`DEFAULT_LEAD`]).
#[must_use]
pub fn left(step: Moments, cross: Colour, pair: Pair, sight: FaceSet, lead: usize) -> Left {
    let corner_seen = step.seen(Piece::Corner(pair.corner), sight);
    let edge_seen = step.seen(Piece::Edge(pair.edge), sight);
    let both = corner_seen.zip(edge_seen).map(|(corner, edge)| step.turns_left(corner.max(edge)));
    let up = corner_up(step.last().state.corner(pair.corner), cross);
    let outcome = Outcome::judge(up, both, step.needed(lead));
    Left { pair, up, corner_seen, edge_seen, lead: both, outcome }
}

//! Facts of what could be seen and known, and the lanes.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::cube::{FaceSet, PairName, Place};

/// One piece of the next pair during a step.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema, Serialize)]
pub struct Watch {
    /// Its place at the beginning.
    pub from: Place,
    /// Its place at the end.
    pub to: Place,
    /// Whether it is up at the end.
    pub up: bool,
    /// The first moment of the step at which it is in plain sight; `null` if never.
    pub seen: Option<usize>,
    /// The first moment at which its place follows from what is in sight; `null` if never.
    pub known: Option<usize>,
    /// The first moment at which how it is turned is known too; `null` if never.
    pub oriented: Option<usize>,
    /// Its way: the moment and the new place each time a turn carries it to another place of the hold (a
    /// rotation, which carries everything, is no way of the piece but names its place anew).
    pub way: Vec<(usize, Place)>,
}

/// Faces that would have shown a pair in time.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema, Serialize)]
pub struct More {
    /// The faces, such as `L` or `LB`.
    pub faces: FaceSet,
    /// The moment from which corner and edge would both have been seen.
    pub from: usize,
}

/// A pair's way from the beginning of the solve to its insertion.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema, Serialize)]
pub struct Lane {
    /// The pair.
    pub pair: PairName,
    /// The moment at which the pair is solved for good; `null` if it never is.
    pub solved: Option<usize>,
    /// One cell a moment, from moment 0 to `solved`, or to the end.
    pub cells: Vec<Cell>,
}

/// Corner and edge of a pair at one moment.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema, Serialize)]
pub struct Cell {
    /// The corner.
    pub corner: Spot,
    /// The edge.
    pub edge: Spot,
}

/// A piece at one moment.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema, Serialize)]
pub struct Spot {
    /// Its place in the hold.
    pub place: Place,
    /// Whether it is in the layer opposite the cross.
    pub up: bool,
    /// Whether it is in a slot that the step fills.
    pub target: bool,
    /// What the solver can tell of it.
    pub sight: SpotSight,
}

/// What a solver can tell of a piece at one moment.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Deserialize, JsonSchema, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum SpotSight {
    /// In plain sight now.
    Seen,
    /// Not in plain sight now, but its place is known.
    Known,
    /// Its place is not known.
    Hidden,
}

//! Facts of the lanes: where each pair was at every moment, and what the eyes had of it.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::cube::{PairName, Place};
use crate::look_ahead::LaneGrade;

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
    pub sight: LaneGrade,
    /// Whether its place follows by perfect elimination.
    pub known: bool,
}

//! The facts of one position of a drill, finished and typed; also its public JSON, one object a line.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::kind::Kind;
use crate::annotation::{Deduced, HoldNames, PricedLine};
use crate::cube::{Colour, FaceSet, Move, Moves, PairName, Place, Stickers};
use crate::plan::Planned;
use crate::record::Until;
use crate::scan::Tier;
use crate::sight::grades::Grade;

/// The version of the JSON.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Deserialize, JsonSchema, Serialize)]
pub enum Format {
    /// The first.
    #[serde(rename = "cornerwise-drill/1")]
    Drill1,
}

/// A position with a known property, the question, and the answer.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema, Serialize)]
pub struct Drill {
    /// The version of these facts.
    pub format: Format,
    /// The property.
    pub kind: Kind,
    /// The seed of the drill: with it, the same is drawn again.
    pub seed: u64,
    /// The number of the position, from 1.
    #[schemars(range(min = 1))]
    pub number: usize,
    /// How many positions were drawn until one had the property.
    pub drawn: usize,
    /// What leads to it from a solved cube, white up and green in front.
    pub scramble: Moves,
    /// The rotation that brings the cross down then.
    pub rotation: Moves,
    /// How the cube is held then.
    pub hold: HoldNames,
    /// The 54 stickers, as it is held.
    pub stickers: Stickers,
    /// The cross colour.
    pub cross: Colour,
    /// The faces in sight.
    pub sight: FaceSet,
    /// The open pairs.
    pub open: Vec<PairName>,
    /// The pair that is asked about, where there is one.
    pub named: Option<PairName>,
    /// The lines that are given with the question.
    pub given: Vec<Given>,
    /// How many turns the cross takes, where it is not done.
    pub cross_turns: Option<usize>,
    /// The answer.
    pub answer: Answer,
    /// Where a record of it is meant to end.
    pub until: Until,
}

/// A line that is given with the question.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema, Serialize)]
pub struct Given {
    /// The pairs it solves.
    pub pairs: Vec<PairName>,
    /// The line.
    pub line: PricedLine,
}

/// What is to be answered.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema, Serialize)]
pub struct Answer {
    /// Where the pairs that the question is about lie, and what the eyes have of them.
    pub pairs: Vec<Shown>,
    /// The cheapest line of the pair that is asked about, where no line is given.
    pub line: Option<PricedLine>,
    /// How its pieces are worked out, where that is asked.
    pub deduced: Vec<Deduced>,
    /// The best order of all pairs, where the question is about all.
    pub order: Option<Planned>,
    /// Where there is a choice: the best order for every other pair that may come first.
    pub others: Vec<Planned>,
    /// Which turns of the top layer show which pairs.
    pub turns: Vec<TurnShows>,
    /// The cross.
    pub cross: Option<Moves>,
}

/// A pair of an answer.
#[derive(Debug, Clone, PartialEq, Eq, Deserialize, JsonSchema, Serialize)]
pub struct Shown {
    /// The pair.
    pub pair: PairName,
    /// Where the scan finds its corner.
    pub tier: Tier,
    /// Where its corner is.
    pub corner: Place,
    /// Where its edge is.
    pub edge: Place,
    /// What the eyes have of its corner where it is.
    pub corner_grade: Grade,
    /// What the eyes have of its edge where it is.
    pub edge_grade: Grade,
    /// Where its corner is after the lines that are given, or after the cross.
    pub corner_after: Option<Place>,
    /// Where its edge is then.
    pub edge_after: Option<Place>,
    /// The side face that, in sight too, would show what is hidden.
    pub tilt: Option<FaceSet>,
}

/// A turn of the top layer, and what it shows.
#[derive(Debug, Clone, PartialEq, Eq, Deserialize, JsonSchema, Serialize)]
pub struct TurnShows {
    /// The turn.
    pub turn: Move,
    /// The pairs of which corner and edge can be found then.
    pub pairs: Vec<PairName>,
}

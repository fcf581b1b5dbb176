//! The facts of a plan, finished and typed; also its public JSON, one object a line.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::annotation::{HoldNames, PricedLine};
use crate::cube::{Colour, FaceSet, Moves, PairName, Place, Stickers};
use crate::scan::Tier;
use crate::sight::grades::Grade;

/// The version of the JSON.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Deserialize, JsonSchema, Serialize)]
pub enum Format {
    /// The first.
    #[serde(rename = "cornerwise-plan/1")]
    Plan1,
}

/// How the pairs could have gone from a moment of one record.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema, Serialize)]
pub struct Plan {
    /// The version of these facts.
    pub format: Format,
    /// The name of the file, `-` for standard input.
    pub file: String,
    /// The number of the record in its file, from 1.
    #[schemars(range(min = 1))]
    pub record: usize,
    /// What to call the solve: its title, else its file.
    pub title: String,
    /// The writer's label of whose solve it is.
    pub solver: Option<String>,
    /// What to play on a solved cube, white up and green in front, to be at the moment.
    pub setup: String,
    /// The moment from which it is planned.
    pub at: Moment,
    /// The cross colour.
    pub cross: Colour,
    /// How the cube is held at the moment.
    pub hold: HoldNames,
    /// The 54 stickers at the moment, as it is held.
    pub stickers: Stickers,
    /// The faces the solver sees, such as `UFR`.
    pub sight: FaceSet,
    /// What every open pair offers, best tier first.
    pub offers: Vec<Offered>,
    /// The best order; where all were asked for, the best for each first pair, the best of all first.
    pub orders: Vec<Planned>,
    /// What was played from the moment on; `null` if no pair step follows.
    pub played: Option<Played>,
    /// The best order beside what was played; `null` if the pairs are not all in.
    pub compared: Option<Compared>,
    /// What the plan depends on besides the record.
    pub settings: SettingsUsed,
    /// From how many positions lines were sought.
    pub positions: usize,
    /// How many lines were looked at there.
    pub lines: usize,
}

/// A moment of a record.
#[derive(Debug, Clone, PartialEq, Eq, Deserialize, JsonSchema, Serialize)]
pub struct Moment {
    /// How many tokens of the solution have been played.
    pub moment: usize,
    /// The step that ends there, `cross`, `pair 2`; `null` inside a step.
    pub after: Option<String>,
    /// Whether the record ends there.
    pub end: bool,
}

/// What an open pair offers at a moment.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema, Serialize)]
pub struct Offered {
    /// The pair.
    pub pair: PairName,
    /// Where the scan finds its corner: before the turns are known `top` or `slot`.
    pub tier: Tier,
    /// Where its corner is.
    pub corner: Place,
    /// Where its edge is.
    pub edge: Place,
    /// What the eyes have of its corner at this moment, by itself.
    pub corner_grade: Grade,
    /// What the eyes have of its edge at this moment, by itself.
    pub edge_grade: Grade,
    /// The side face that, in sight too, would show what is hidden of it.
    pub tilt: Option<FaceSet>,
    /// Its cheapest line that a plan may play.
    pub line: Option<PricedLine>,
    /// What that line takes by this solver's own turning, in seconds, estimated.
    pub seconds: Option<f64>,
}

/// An order of lines that brings in all pairs that are left.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema, Serialize)]
pub struct Planned {
    /// How many lines leave the next pair late: 0 in an unbroken order.
    pub late: usize,
    /// Turns in OBTM.
    pub obtm: usize,
    /// Rotations of the whole cube.
    pub rotations: usize,
    /// Handling cost, in units.
    pub cost: f64,
    /// What that takes by this solver's own turning, in seconds, estimated.
    pub seconds: Option<f64>,
    /// The lines, in order.
    pub lines: Vec<Line>,
}

/// A line of an order.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema, Serialize)]
pub struct Line {
    /// The pairs it solves.
    pub pairs: Vec<PairName>,
    /// Its tokens, parted by spaces.
    pub text: Moves,
    /// Turns in OBTM.
    pub obtm: usize,
    /// Handling cost, in units.
    pub cost: f64,
    /// The pair that comes next and how it is found during this line; `null` for the last.
    pub next: Option<Next>,
}

/// The pair that comes next, as a line leaves it; of two solved at once the one that stands for both.
#[derive(Debug, Clone, PartialEq, Eq, Deserialize, JsonSchema, Serialize)]
pub struct Next {
    /// The pair.
    pub pair: PairName,
    /// Whether both its pieces are found in time.
    pub ready: bool,
    /// Turns (OBTM) of the line to go when both are found; `null` if one never is.
    pub lead: Option<usize>,
    /// Turns to go as it is told: each piece by plain sight where that is in time, else as it is found.
    pub told_lead: Option<usize>,
    /// Whether so told it is found before the line's first token.
    pub at_once: bool,
    /// Whether it is found in time only by working something out.
    pub deduced: bool,
    /// Whether its corner is found during the line.
    pub corner_found: bool,
    /// Whether its edge is found during the line.
    pub edge_found: bool,
}

/// What was played from the moment on, to the end of the pairs.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema, Serialize)]
pub struct Played {
    /// The pair steps, the first from the moment on.
    pub steps: Vec<PlayedStep>,
    /// Whether all pairs are in at the end of them.
    pub all_in: bool,
    /// Turns in OBTM.
    pub obtm: usize,
    /// Rotations of the whole cube.
    pub rotations: usize,
    /// Handling cost, in units, each step from the hold in which it began.
    pub cost: f64,
    /// Seconds turned, where the marks tell.
    pub turning: Option<f64>,
    /// Seconds stopped before and inside these steps, where the marks tell.
    pub stopped: Option<f64>,
}

/// A pair step as played.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema, Serialize)]
pub struct PlayedStep {
    /// The pairs it solves.
    pub pairs: Vec<PairName>,
    /// Its tokens as played, parted by spaces.
    pub text: Moves,
    /// Turns in OBTM.
    pub obtm: usize,
    /// Handling cost, in units.
    pub cost: f64,
    /// Seconds stopped before its first turn, where the marks tell.
    pub before: Option<f64>,
    /// Whether that is a stop.
    pub stop: bool,
    /// Seconds stopped inside it, where the marks tell.
    pub inside: Option<f64>,
}

/// The best order beside what was played.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema, Serialize)]
pub struct Compared {
    /// How many lines from the first on are the turns that were played.
    pub same_lines: usize,
    /// Whether all of them are.
    pub same: bool,
    /// What was played less the order, in units; negative if the order costs more.
    pub saves: f64,
    /// The same in seconds of turning: the smaller of what the model says and what the clock leaves room for.
    pub saves_turning: Option<f64>,
    /// Seconds stopped before the second pair and later ones, and inside steps, which an unbroken order does not have.
    pub saves_stopped: Option<f64>,
}

/// What a plan depends on besides the record.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema, Serialize)]
pub struct SettingsUsed {
    /// The longest line searched, in face turns; longer only for a pair that has no shorter one.
    pub within: usize,
    /// How much more than its pair's cheapest a line may cost, in units.
    pub over: f64,
    /// The lead that counts as enough, in turns.
    pub lead: usize,
    /// What handling costs.
    pub weights: String,
}

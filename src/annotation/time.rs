//! Facts of time, as far as the marks support them.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// The time of one step, in seconds.
#[derive(Debug, Clone, PartialEq, Default, Deserialize, JsonSchema, Serialize)]
pub struct Seconds {
    /// The clock when the step before ended.
    #[schemars(range(min = 0))]
    pub start: Option<f64>,
    /// The clock when the step ended.
    #[schemars(range(min = 0))]
    pub end: Option<f64>,
    /// From `start` to `end`.
    #[schemars(range(min = 0))]
    pub total: Option<f64>,
    /// `total` without the gaps before it and inside it.
    pub turning: Option<f64>,
    /// From the end of the step before to this step's first turn, where both are marked.
    pub before: Option<f64>,
    /// The gaps after its first turn, where they are marked.
    pub inside: Option<f64>,
    /// Derived, where only step ends are marked: `total` less turns times pace; negative for a fast step.
    pub hesitation: Option<f64>,
    /// Turns (OBTM) a second, of `turning` where it is known, else of `total`.
    pub turns_per_second: Option<f64>,
    /// The step from which on no mark parts it: the figures of both are together and stand nowhere alone.
    pub together: Option<usize>,
}

/// The time of the whole solve.
#[derive(Debug, Clone, PartialEq, Default, Deserialize, JsonSchema, Serialize)]
pub struct Timing {
    /// The timer's result as written, in seconds.
    #[schemars(range(min = 0))]
    pub timer: Option<f64>,
    /// How many marks there are.
    pub marks: usize,
    /// From the first mark to the last.
    #[schemars(range(min = 0))]
    pub marked: Option<f64>,
    /// The solve's median seconds a turn over spans with marks.
    #[schemars(range(min = 0))]
    pub pace: Option<f64>,
    /// Turns (OBTM) a second, of `turning` where it is known, else of the whole solve.
    pub turns_per_second: Option<f64>,
    /// How far off a mark may be, in seconds: one frame, where marks are frames.
    #[schemars(range(min = 0))]
    pub uncertainty: Option<f64>,
    /// A gap is a stop from this many seconds on.
    pub stop_from: Option<f64>,
    /// Seconds turned: the solve without its gaps.
    pub turning: Option<f64>,
    /// Seconds of all gaps, short or long; `turning` + `stopped` is the solve.
    pub stopped: Option<f64>,
    /// Those before the first turns of steps, with `stopped_at_the_ends`.
    pub stopped_before: Option<f64>,
    /// Those inside steps.
    pub stopped_inside: Option<f64>,
    /// What lies before the first turn and after the last.
    pub stopped_at_the_ends: Option<f64>,
    /// Whether all rotations lie in gaps; else turning may hold some of them.
    pub certain: bool,
    /// Seconds a unit of handling cost, by this solver's own turning in the pair steps.
    pub seconds_per_unit: Option<f64>,
}

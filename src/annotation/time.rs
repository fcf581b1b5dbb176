//! Facts of time, as far as the marks support them.

use std::fmt;

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
    /// From the end of the step before to this step's first turn: exact, both are marked.
    #[schemars(range(min = 0))]
    pub pause: Option<f64>,
    /// Derived, where only step ends are marked: `total` less turns times pace, never below 0.
    #[schemars(range(min = 0))]
    pub hesitation: Option<f64>,
    /// Turns (OBTM) a second.
    #[schemars(range(min = 0))]
    pub turns_per_second: Option<f64>,
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
    /// Turns (OBTM) a second over the solve.
    #[schemars(range(min = 0))]
    pub turns_per_second: Option<f64>,
    /// How far off a mark may be, in seconds: one frame, where marks are frames.
    #[schemars(range(min = 0))]
    pub uncertainty: Option<f64>,
    /// A pause counts as long from this many seconds on.
    #[schemars(range(min = 0))]
    pub long_from: Option<f64>,
    /// Seconds lost to long pauses before pair steps.
    #[schemars(range(min = 0))]
    pub lost: Option<f64>,
    /// The same by cause, largest first.
    pub lost_by_cause: Vec<(Cause, f64)>,
}

/// Why a solver stopped.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Deserialize, JsonSchema, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Cause {
    /// It was all there to see.
    Attention,
    /// Hidden by the grip.
    View,
    /// Something better was there: another line, or another pair after the same turns.
    Choice,
    /// Nothing better was within reach.
    Position,
}

impl Cause {
    /// The word for it.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Cause::Attention => "attention",
            Cause::View => "view",
            Cause::Choice => "choice",
            Cause::Position => "position",
        }
    }
}

impl fmt::Display for Cause {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(self.word())
    }
}

impl Cause {
    /// What the word says, to stand behind it.
    #[must_use]
    pub const fn meaning(self) -> &'static str {
        match self {
            Cause::Attention => "it was all there to see",
            Cause::View => "hidden by the grip",
            Cause::Choice => "something better was there",
            Cause::Position => "nothing better was within reach",
        }
    }
}

/// A long pause before a pair step, and what lay behind it.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema, Serialize)]
pub struct PauseCause {
    /// How long, in seconds.
    #[schemars(range(min = 0))]
    pub seconds: f64,
    /// Whether the figure is a hesitation, derived from the pace, rather than a marked pause.
    pub derived: bool,
    /// Why the hands stopped.
    pub cause: Cause,
    /// The evidence in words: which corner, where, seen at which turn, hidden by which face.
    pub evidence: String,
    /// What to practise.
    pub advice: String,
}

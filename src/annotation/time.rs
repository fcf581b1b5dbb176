//! Facts of time, as far as the marks support them.

use serde::Serialize;

/// The time of one step, in seconds.
#[derive(Debug, Clone, PartialEq, Default, Serialize)]
pub struct Seconds {
    /// The clock when the step before ended.
    pub start: Option<f64>,
    /// The clock when the step ended.
    pub end: Option<f64>,
    /// From `start` to `end`.
    pub total: Option<f64>,
    /// From the end of the step before to this step's first turn: exact, both are marked.
    pub pause: Option<f64>,
    /// Derived, where only step ends are marked: `total` less turns times pace, never below 0.
    pub hesitation: Option<f64>,
    /// Turns (OBTM) a second.
    pub turns_per_second: Option<f64>,
}

/// The time of the whole solve.
#[derive(Debug, Clone, PartialEq, Default, Serialize)]
pub struct Timing {
    /// The timer's result as written, in seconds.
    pub timer: Option<f64>,
    /// How many marks there are.
    pub marks: usize,
    /// From the first mark to the last.
    pub marked: Option<f64>,
    /// The solve's median seconds a turn over spans with marks.
    pub pace: Option<f64>,
    /// Turns (OBTM) a second over the solve.
    pub turns_per_second: Option<f64>,
    /// How far off a mark may be, in seconds: one frame, where marks are frames.
    pub uncertainty: Option<f64>,
    /// A pause counts as long from this many seconds on.
    pub long_from: Option<f64>,
    /// Seconds lost to long pauses before pair steps.
    pub lost: Option<f64>,
    /// The same by cause, largest first.
    pub lost_by_cause: Vec<(Cause, f64)>,
}

/// Why a solver stopped.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
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

/// A long pause before a pair step, and what lay behind it.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct PauseCause {
    /// How long, in seconds.
    pub seconds: f64,
    /// Whether the figure is a hesitation, derived from the pace, rather than a marked pause.
    pub derived: bool,
    /// Why.
    pub cause: Cause,
    /// The evidence in words: which corner, where, seen at which turn, hidden by which face.
    pub evidence: String,
    /// What to practise.
    pub advice: String,
}

//! Facts of stops, and of what cost most.

use std::fmt;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::cube::PairName;

/// Why a solver stopped before a step.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Deserialize, JsonSchema, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Cause {
    /// The pair taken was late, and something else would have been ready for less than the stop cost; or it had to be
    /// deduced, and another lay open and costs no more.
    Choice,
    /// It lay open to sight in time.
    Attention,
    /// It was to be found in time, but only by working it out; nothing that lay open on top costs as little.
    Deduction,
    /// The first pair, and it did not lie open from the first turn of the cross on: it can be followed from inspection.
    Inspection,
    /// Late, nothing else better; the left side, or a glance in the step before, would have shown it. Or it had been ready
    /// in the step before, or was found a turn or two before the end: then only something that lay open, too, and costs no
    /// more counts as better.
    View,
    /// Late, nothing else better, and not to be seen in time.
    Position,
    /// A case of the last layer had to be recognised.
    Recognition,
}

impl Cause {
    /// The word for it.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Cause::Choice => "choice",
            Cause::Attention => "attention",
            Cause::Deduction => "deduction",
            Cause::Inspection => "inspection",
            Cause::View => "view",
            Cause::Position => "position",
            Cause::Recognition => "recognition",
        }
    }

    /// What it means, in a few words.
    #[must_use]
    pub const fn meaning(self) -> &'static str {
        match self {
            Cause::Choice => "something else was ready for less",
            Cause::Attention => "it lay open to sight in time",
            Cause::Deduction => "it had to be worked out from one sticker or its only place",
            Cause::Inspection => "the first pair, to be followed from inspection",
            Cause::View => "the left side, a glance in time or the step before would have shown it",
            Cause::Position => "nothing better, and nothing showed it in time",
            Cause::Recognition => "a case of the last layer to recognise",
        }
    }
}

impl fmt::Display for Cause {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(self.word())
    }
}

/// A gap long enough to matter.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema, Serialize)]
pub struct Stop {
    /// How long, in seconds.
    pub seconds: f64,
    /// The moment at which the hands stood still.
    pub moment: usize,
    /// Whether it lies inside the step rather than before its first turn.
    pub inside: bool,
    /// Whether the figure is a hesitation, derived from the pace, rather than a marked gap.
    pub derived: bool,
    /// Whether the marks bound it exactly: nothing but the gap lies between them.
    pub certain: bool,
    /// Why; stops inside a step have no cause.
    pub cause: Option<Cause>,
    /// What else is true of it.
    pub also: Option<Cause>,
    /// Where the cause is `choice`: what would have been ready.
    pub instead: Option<Instead>,
    /// Inside a pair step: whether the pair's own edge had been found by then.
    pub edge_found: Option<bool>,
}

/// What would have been ready instead of the pair taken.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema, Serialize)]
pub struct Instead {
    /// The pair that would have come next.
    pub pair: PairName,
    /// Whether it is by other turns, those that [`Step::instead`](super::Step::instead) of the step before gives; else it is
    /// another pair after the same turns.
    pub by_another_line: bool,
    /// What it costs more, in units; negative if less. Where the next step's cleaner line is for this pair, what that line
    /// saves.
    pub dearer: f64,
    /// The same in seconds, at this solver's own turning; of another pair after the same turns the difference of the two
    /// lines' tenths of a second.
    pub seconds: Option<f64>,
}

/// One of the things that cost most.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema, Serialize)]
pub struct Loss {
    /// What it is.
    pub kind: LossKind,
    /// The step, from 0.
    pub step: usize,
    /// For a stop, which of the step's.
    pub stop: Option<usize>,
    /// The moment to look at.
    pub moment: usize,
    /// Seconds: of a stop as measured, of a line as estimated; `null` without times.
    pub seconds: Option<f64>,
    /// For a line, what it would have saved, in units.
    pub units: Option<f64>,
    /// Why a pair was late, where there are no times; of a stop it stands there.
    #[serde(default)]
    pub why: Option<Reason>,
}

/// Why the hands stopped before a pair, or would have without times.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema, Serialize)]
pub struct Reason {
    /// The cause.
    pub cause: Cause,
    /// What else is true of it.
    pub also: Option<Cause>,
    /// Where the cause is `choice`: what would have been ready.
    pub instead: Option<Instead>,
}

impl Stop {
    /// Why the hands stopped, where that is known.
    #[must_use]
    pub fn why(&self) -> Option<Reason> {
        Some(Reason { cause: self.cause?, also: self.also, instead: self.instead.clone() })
    }
}

/// What kind of thing cost time.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Deserialize, JsonSchema, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum LossKind {
    /// A stop before or inside a step.
    Stop,
    /// A cleaner line was there.
    Cleaner,
    /// The pair's own line could be clearly cheaper.
    Own,
    /// Without times: the pair was late.
    Late,
}

//! The facts of one solve, finished: every view is printed from an [`Annotation`] and computes nothing.
//!
//! The types are also the public JSON, one object a line, versioned by [`FORMAT`]; within a version fields are
//! only added. `docs/annotation.schema.json` describes them and a test holds them to it. Names of colours,
//! pairs, places and turns are the strings a person reads; places are named in the hold of their moment. A
//! *moment* is a point between tokens: 0 before the first, n after the n-th. A figure that the record does not
//! support is `null`.

mod choice;
mod sight;
mod time;

use serde::Serialize;

pub use choice::{Alternative, AlternativeNext, Choice, OtherPair, SettingsUsed, Verdict};
pub use sight::{Cell, Lane, More, Spot, SpotSight, Watch};
pub use time::{Cause, PauseCause, Seconds, Timing};

use crate::diagnostic::{Severity, Span};
use crate::scan::Tier;
pub use crate::sight::Outcome;

/// The version of the JSON.
pub const FORMAT: &str = "cornerwise-annotation/1";

/// One record, annotated.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Annotation {
    /// [`FORMAT`].
    pub format: &'static str,
    /// The name of the file, `-` for standard input.
    pub file: String,
    /// The number of the record in its file, from 1.
    pub record: usize,
    /// The writer's title.
    pub title: Option<String>,
    /// The writer's label of whose solve it is.
    pub solver: Option<String>,
    /// As written.
    pub date: Option<String>,
    /// The writer's remarks.
    pub remarks: Option<String>,
    /// The scramble, tokens parted by spaces; as the writer has it, if it cannot be read to its end.
    pub scramble: String,
    /// Whether the cube is solved at the end.
    pub solved: bool,
    /// How the end is judged.
    pub end: EndJudged,
    /// The cross colour; `null` if no cross was solved.
    pub cross: Option<String>,
    /// The faces the solver sees, such as `UFR`.
    pub sight: String,
    /// How many tokens of the solution were played.
    pub tokens: usize,
    /// Turns in OBTM.
    pub obtm: usize,
    /// Turns and rotations in ETM.
    pub etm: usize,
    /// The timer's result, else the time between the marks before the first turn and after the last; in
    /// seconds.
    pub seconds: Option<f64>,
    /// What is to be said of the solve's time as a whole.
    pub timing: Timing,
    /// Remarks on the record: leniencies used, claims that do not hold.
    pub notes: Vec<Message>,
    /// What is wrong with the record.
    pub faults: Vec<Message>,
    /// What could not be told, and why, in words.
    pub untold: Vec<String>,
    /// Every moment, from 0 to the end.
    pub moments: Vec<Moment>,
    /// The steps, in order.
    pub steps: Vec<Step>,
    /// For each pair, its way from the beginning to its insertion; in order of solving.
    pub lanes: Vec<Lane>,
    /// What a coach would say aloud, a sentence each.
    pub summary: Vec<String>,
    /// What the figures and verdicts depend on besides the record.
    pub settings: SettingsUsed,
}

/// How the solve ended (WCA Regulation 10e).
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct EndJudged {
    /// `solved`, `one turn short` or `not solved`; `not judged` if the record could not be played to its end.
    pub judged: &'static str,
    /// The missing turn, in the hold at the end.
    pub missing: Option<String>,
}

/// A message on the text of a record.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Message {
    /// `note` or `fault`.
    pub severity: Severity,
    /// The stable name of the kind of message.
    pub code: &'static str,
    /// What was expected and found.
    pub message: String,
    /// What to write instead.
    pub help: Option<String>,
    /// Bytes in the file.
    pub span: Option<Span>,
    /// Line in the file, from 1.
    pub line: Option<usize>,
    /// Column in the line, in characters from 1.
    pub column: Option<usize>,
}

/// The cube at one moment.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Moment {
    /// The token that led here; `null` at moment 0.
    pub token: Option<String>,
    /// The 54 stickers as letters of colours (`W Y G B R O`): faces `U L F R B D` of the hold, each row by row
    /// as seen from outside, `U` with `B` at the top, `D` with `F` at the top, the sides with `U` at the top.
    pub stickers: String,
    /// How the cube is held.
    pub hold: HoldNames,
    /// Seconds on the record's clock, where a mark stands here (the last one, if there are two).
    pub seconds: Option<f64>,
    /// Where the token's text stands in the file.
    pub span: Option<Span>,
}

/// A hold.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct HoldNames {
    /// The colour of the centre that is up.
    pub up: String,
    /// The colour of the centre in front.
    pub front: String,
}

/// What a step is for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum StepKind {
    /// Rotations before the first turn.
    Inspection,
    /// The cross.
    Cross,
    /// One pair or more.
    Pair,
    /// Orientation of the last layer.
    Orient,
    /// Permutation of the last layer.
    Permute,
    /// Orientation and permutation at once.
    LastLayer,
    /// The final adjustment.
    Adjust,
    /// Turns after the last milestone of a record that does not get to the end.
    Rest,
}

/// One step.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Step {
    /// What it is for.
    pub kind: StepKind,
    /// What a person calls it: `cross`, `xcross`, `pair 2`, `pairs 3 and 4`, `orientation`.
    pub name: String,
    /// The pairs solved here.
    pub pairs: Vec<String>,
    /// The last-layer case as people call it, such as `orientation 27` or `permutation Ua`.
    pub case: Option<String>,
    /// Milestones reached here that took no turns of their own: `orientation`, `permutation`.
    pub skips: Vec<&'static str>,
    /// The moment it begins.
    pub from: usize,
    /// The moment it ends.
    pub to: usize,
    /// Its tokens as played, parted by spaces.
    pub text: String,
    /// Turns in OBTM.
    pub obtm: usize,
    /// Turns and rotations in ETM.
    pub etm: usize,
    /// The hold at `from`.
    pub hold: HoldNames,
    /// The writer's comments on it.
    pub comments: Vec<String>,
    /// Its time.
    pub seconds: Seconds,
    /// What the scan offered at `from`: for the cross and the pair steps that leave a pair open.
    pub scan: Option<Scan>,
    /// The pairs solved next, with where they were during this step; empty where no pair step follows.
    pub next: Vec<Next>,
    /// Pairs that the same turns left better off than the one solved next, best first; for the cross too.
    pub others: Vec<OtherPair>,
    /// What else could have been done; for every pair step but the last.
    pub choice: Option<Choice>,
    /// The long pause before the step's first turn, if there was one, and why.
    pub pause: Option<PauseCause>,
}

/// Every open pair's corner by tier, the pairs in hand left out; pairs in alphabetical order.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Scan {
    /// Corners that are up.
    pub top: Vec<String>,
    /// Corners in the slot being filled.
    pub target: Vec<String>,
    /// Corners in another open slot that this step's turns bring up.
    pub lifted: Vec<String>,
    /// Corners in another open slot that stay down.
    pub open: Vec<String>,
    /// The best tier with anything in it.
    pub best: Option<Tier>,
    /// Whether a pair of a lower tier than the best was solved next.
    pub passed_over: bool,
    /// Every open pair with its places, best tier first: what the lists above say, in full.
    pub offers: Vec<Offer>,
}

impl Scan {
    /// The pairs of one tier.
    #[must_use]
    pub fn tier(&self, tier: Tier) -> &[String] {
        match tier {
            Tier::Top => &self.top,
            Tier::Target => &self.target,
            Tier::Lifted => &self.lifted,
            Tier::Slot => &self.open,
        }
    }
}

/// One open pair as the scan finds it.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Offer {
    /// The pair.
    pub pair: String,
    /// Where the scan finds its corner.
    pub tier: Tier,
    /// The corner's place at `from`.
    pub corner: String,
    /// The edge's place at `from`.
    pub edge: String,
    /// What this step left of it, had it been solved next.
    pub outcome: Option<Outcome>,
}

/// A pair that is solved in the next step, as it was during this one.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Next {
    /// The pair.
    pub pair: String,
    /// Where the scan finds its corner.
    pub tier: Tier,
    /// Whether its corner was up at `from` and is down at `to`.
    pub buried: bool,
    /// Its corner.
    pub corner: Watch,
    /// Its edge.
    pub edge: Watch,
    /// Turns of this step still to make when corner and edge had both been seen; `null` if they never were.
    pub lead: Option<usize>,
    /// The same in seconds, where the marks tell.
    pub lead_seconds: Option<f64>,
    /// What this step left.
    pub outcome: Option<Outcome>,
    /// The fewest faces in sight besides the solver's that would have shown in time what was not seen.
    pub more: Option<More>,
}

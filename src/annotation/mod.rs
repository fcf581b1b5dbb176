//! The facts of one solve, finished: every view is printed from an [`Annotation`] and computes nothing.
//!
//! The types are also the public JSON, one object a line, versioned by [`Format`]; within a version fields are
//! only added. `docs/annotation.schema.json` describes them and a test holds them to it. Names of colours,
//! pairs, places and turns are the strings a person reads; places are named in the hold of their moment. A
//! *moment* is a point between tokens: 0 before the first, n after the n-th. A figure that the record does not
//! support is `null`.

mod choice;
mod sight;
mod time;

use std::borrow::Cow;
use std::fmt;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

pub use choice::{Alternative, AlternativeNext, Choice, OtherPair, SettingsUsed, Verdict};
pub use sight::{Cell, Lane, More, Spot, SpotSight, Watch};
pub use time::{Cause, PauseCause, Seconds, Timing};

use crate::cube::{Colour, Face, FaceSet, Hold, Move, Moves, PairName, Place, Stickers};
use crate::diagnostic::{Severity, Span};
use crate::scan::Tier;
pub use crate::sight::Outcome;
use crate::steps::{Case, Name, Skip};

/// The version of the JSON: a draft, until the work on the second is done.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Deserialize, JsonSchema, Serialize)]
pub enum Format {
    /// The second.
    #[serde(rename = "cornerwise-annotation/2")]
    Annotation2,
}

/// One record, annotated.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema, Serialize)]
pub struct Annotation {
    /// The version of these facts.
    pub format: Format,
    /// The name of the file, `-` for standard input.
    pub file: String,
    /// The number of the record in its file, from 1.
    #[schemars(range(min = 1))]
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
    pub cross: Option<Colour>,
    /// The faces the solver sees, such as `UFR`.
    pub sight: FaceSet,
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

impl Annotation {
    /// These facts, if every moment they speak of is one of theirs: views of a file that somebody else wrote take
    /// them by their numbers.
    pub(crate) fn checked(self) -> Result<Annotation, String> {
        let n = self.moments.len();
        if n != self.tokens + 1 {
            return Err(format!("{} tokens do not come to {n} moments", self.tokens));
        }
        let mut at = 0;
        for step in &self.steps {
            if step.from != at
                || step.to < step.from
                || step.to >= n
                || step.text.len() != step.to - step.from
            {
                return Err(format!("the step `{}` does not go on from moment {at}", step.name));
            }
            at = step.to;
            let watches = step.next.iter().flat_map(|next| [&next.corner, &next.edge]);
            let spoken_of = watches.flat_map(|watch| {
                [watch.seen, watch.known, watch.oriented]
                    .into_iter()
                    .flatten()
                    .chain(watch.way.iter().map(|way| way.0))
            });
            if spoken_of
                .chain(step.next.iter().filter_map(|next| Some(next.more.as_ref()?.from)))
                .any(|m| m >= n)
            {
                return Err(format!("the step `{}` speaks of a moment that there is not", step.name));
            }
        }
        let longest =
            self.lanes.iter().map(|lane| lane.cells.len().max(lane.solved.map_or(0, |m| m + 1))).max();
        if longest.is_some_and(|longest| longest > n) {
            return Err("a lane is longer than the solve".into());
        }
        Ok(self)
    }
}

/// How the solve ended (WCA Regulation 10e).
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema, Serialize)]
pub struct EndJudged {
    /// How it is judged.
    pub judged: Judged,
    /// The missing turn, in the hold at the end.
    pub missing: Option<Move>,
}

/// The end of a solve, judged.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Deserialize, JsonSchema, Serialize)]
pub enum Judged {
    /// Solved.
    #[serde(rename = "solved")]
    Solved,
    /// One turn short: solved with a penalty of two seconds.
    #[serde(rename = "one turn short")]
    OneTurnShort,
    /// More than one turn short.
    #[serde(rename = "not solved")]
    NotSolved,
    /// The record could not be played to its end.
    #[serde(rename = "not judged")]
    NotJudged,
}

impl fmt::Display for Judged {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(match self {
            Judged::Solved => "solved",
            Judged::OneTurnShort => "one turn short",
            Judged::NotSolved => "not solved",
            Judged::NotJudged => "not judged",
        })
    }
}

/// A message on the text of a record.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema, Serialize)]
pub struct Message {
    /// `note` or `fault`.
    pub severity: Severity,
    /// The stable name of the kind of message.
    pub code: Cow<'static, str>,
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
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema, Serialize)]
pub struct Moment {
    /// The token that led here; `null` at moment 0.
    pub token: Option<Move>,
    /// The 54 stickers, as it is held.
    pub stickers: Stickers,
    /// How the cube is held.
    pub hold: HoldNames,
    /// Seconds on the record's clock, where a mark stands here (the last one, if there are two).
    pub seconds: Option<f64>,
    /// Where the token's text stands in the file.
    pub span: Option<Span>,
}

/// A hold.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Deserialize, JsonSchema, Serialize)]
pub struct HoldNames {
    /// The colour of the centre that is up.
    pub up: Colour,
    /// The colour of the centre in front.
    pub front: Colour,
}

impl From<Hold> for HoldNames {
    fn from(hold: Hold) -> HoldNames {
        HoldNames { up: hold.colour(Face::U), front: hold.colour(Face::F) }
    }
}

impl HoldNames {
    /// The hold; `None` if the colours are the same or opposite.
    #[must_use]
    pub const fn hold(self) -> Option<Hold> {
        Hold::new(self.up, self.front)
    }
}

/// What a step is for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Deserialize, JsonSchema, Serialize)]
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
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema, Serialize)]
pub struct Step {
    /// What it is for.
    pub kind: StepKind,
    /// What a person calls it: `cross`, `xcross`, `pair 2`, `pairs 3 and 4`, `OLL`.
    pub name: Name,
    /// The pairs solved here.
    pub pairs: Vec<PairName>,
    /// The last-layer case as people call it, such as `OLL 27` or `PLL Ua`.
    pub case: Option<Case>,
    /// Milestones reached here that took no turns of their own.
    pub skips: Vec<Skip>,
    /// The moment it begins.
    pub from: usize,
    /// The moment it ends.
    pub to: usize,
    /// Its tokens as played, parted by spaces.
    pub text: Moves,
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
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema, Serialize)]
pub struct Scan {
    /// Corners that are up.
    pub top: Vec<PairName>,
    /// Corners in the slot being filled.
    pub target: Vec<PairName>,
    /// Corners in another open slot that this step's turns bring up.
    pub lifted: Vec<PairName>,
    /// Corners in another open slot that stay down.
    pub slot: Vec<PairName>,
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
    pub fn tier(&self, tier: Tier) -> &[PairName] {
        match tier {
            Tier::Top => &self.top,
            Tier::Target => &self.target,
            Tier::Lifted => &self.lifted,
            Tier::Slot => &self.slot,
        }
    }
}

/// One open pair as the scan finds it.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema, Serialize)]
pub struct Offer {
    /// The pair.
    pub pair: PairName,
    /// Where the scan finds its corner.
    pub tier: Tier,
    /// The corner's place at `from`.
    pub corner: Place,
    /// The edge's place at `from`.
    pub edge: Place,
    /// What this step left of it, had it been solved next.
    pub outcome: Option<Outcome>,
}

/// A pair that is solved in the next step, as it was during this one.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema, Serialize)]
pub struct Next {
    /// The pair.
    pub pair: PairName,
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

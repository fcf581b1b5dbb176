//! The facts of one solve, finished: every view is printed from an [`Annotation`] and computes nothing.
//!
//! The types are also the public JSON, one object a line, versioned by [`Format`]; within a version fields are
//! only added. `docs/annotation.schema.json` describes them and a test holds them to it. Names of colours,
//! pairs, places and turns are the strings a person reads; places are named in the hold of their moment. A
//! *moment* is a point between tokens: 0 before the first, n after the n-th. A figure that the record does not
//! support is `null`.

mod choice;
mod offer;
mod settings;
mod sight;
mod stop;
mod time;

use std::borrow::Cow;
use std::fmt;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

pub use choice::{Alternative, AlternativeNext, Choice, OwnLine, Verdict};
pub(crate) use offer::REMEMBERED;
pub use offer::{Clue, Deduced, More, Offer, PricedLine, RuledOut, Watch, Why};
pub use settings::SettingsUsed;
pub use sight::{Cell, Lane, Spot};
pub use stop::{Cause, Instead, Loss, LossKind, Reason, Stop};
pub use time::{Seconds, Timing};

use crate::cube::{Colour, Face, FaceSet, Hold, Move, Moves, PairName, Stickers};
use crate::diagnostic::{Severity, Span};
pub use crate::hands::Hands;
pub use crate::look_ahead::LaneGrade;
use crate::record::Until;
pub use crate::scan::Tier;
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
    /// Where the record is meant to end, if not with a solved cube.
    pub until: Option<Until>,
    /// The cross colour; `null` if no cross was solved.
    pub cross: Option<Colour>,
    /// Whether the record is cross first: not all pairs came in together with the cross.
    pub cross_first: bool,
    /// The faces the solver sees, such as `UFR`.
    pub sight: FaceSet,
    /// The hands that turn; with one hand lines are not priced.
    pub hands: Hands,
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
    /// Where something is wrong with the record: so many of its tokens hold, as `mend` tells it.
    #[serde(default)]
    pub holds: Option<usize>,
    /// What `mend` offers where something is wrong with the record, in one line.
    pub repair: Option<String>,
    /// What could not be told, and why, in words.
    pub untold: Vec<String>,
    /// Every moment, from 0 to the end.
    pub moments: Vec<Moment>,
    /// The steps, in order.
    pub steps: Vec<Step>,
    /// For each pair, its way from the beginning to its insertion; in order of solving. A pair that was in before the
    /// first turn has none.
    pub lanes: Vec<Lane>,
    /// What cost most: at most three things, largest first.
    pub losses: Vec<Loss>,
    /// Where a record ends before its pairs are in: what the last position offers, best tier first. Before the turns are
    /// known `lifted` and `slot` are one, and called `slot`.
    pub to_play: Vec<Offer>,
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
            if step.offers.iter().any(|offer| offer.taken)
                && self.steps.iter().all(|other| other.from != step.to)
            {
                return Err(format!("the step `{}` has a next pair and no next step", step.name));
            }
            let watches = step.offers.iter().flat_map(|offer| [&offer.corner, &offer.edge]);
            let spoken_of = watches.flat_map(|watch| {
                let deduced = watch.deduced.as_ref().map(|deduced| deduced.moment);
                let before = watch.before.map(|before| before.0);
                [watch.plain, deduced, watch.known, watch.oriented, before]
                    .into_iter()
                    .flatten()
                    .chain(watch.way.iter().map(|way| way.0))
            });
            if spoken_of
                .chain(step.offers.iter().filter_map(|offer| Some(offer.more.as_ref()?.from)))
                .chain(step.stops.iter().map(|stop| stop.moment))
                .any(|m| m >= n)
            {
                return Err(format!("the step `{}` speaks of a moment that there is not", step.name));
            }
        }
        let lost = |loss: &Loss| {
            let Some(step) = self.steps.get(loss.step) else { return false };
            loss.moment < n
                && (loss.kind != LossKind::Late || loss.step > 0)
                && loss.stop.is_none_or(|stop| stop < step.stops.len())
        };
        if !self.losses.iter().all(lost) {
            return Err("a loss speaks of a step or stop that there is not".into());
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
    /// The same as the writer spelled it, where that is another way on purpose, such as `U2'` or `d`.
    pub written: Option<String>,
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
    /// The same as the writer spelled them.
    pub spelled: String,
    /// Turns in OBTM.
    pub obtm: usize,
    /// Turns and rotations in ETM.
    pub etm: usize,
    /// The hold at `from`.
    pub hold: HoldNames,
    /// The writer's comments on it.
    pub comments: Vec<String>,
    /// Those of them that say more than which step it is.
    pub remarks: Vec<String>,
    /// Its time.
    pub seconds: Seconds,
    /// Every pair still open at the end, with what it was during this step: those solved next first, then best tier
    /// first. For the cross and the pair steps.
    pub offers: Vec<Offer>,
    /// What else could have been done; for pair steps.
    pub choice: Option<Choice>,
    /// Where the hands stopped, before the step's first turn and inside it, in order.
    pub stops: Vec<Stop>,
}

impl Step {
    /// The pairs solved next, with what they were during this step.
    pub fn next(&self) -> impl Iterator<Item = &Offer> {
        self.offers.iter().filter(|offer| offer.taken)
    }

    /// The pair solved next; of two solved at once the one that stands for both: the one that is ready, of equals the one
    /// with more lead, of equals in that too the one whose line costs less.
    #[must_use]
    pub fn taken(&self) -> Option<&Offer> {
        let stands_before = |one: &Offer, best: &Offer| {
            let cost = |offer: &Offer| offer.line.as_ref().map_or(f64::INFINITY, |line| line.cost);
            (one.ready, one.lead, -cost(one)) > (best.ready, best.lead, -cost(best))
        };
        self.next().reduce(|best, one| if stands_before(one, best) { one } else { best })
    }

    /// Turns (OBTM) of the step to go at this moment of the solve.
    #[must_use]
    pub fn to_go(&self, moment: usize) -> usize {
        let played = moment.saturating_sub(self.from);
        self.text.iter().skip(played).map(|mv| mv.obtm()).sum()
    }

    /// What a person calls it: a last-layer step by its case.
    #[must_use]
    pub fn title(&self) -> String {
        self.case.map_or_else(|| self.name.to_string(), |case| case.to_string())
    }

    /// Whether it is known that the hands did not stop before it.
    #[must_use]
    pub fn flowed(&self) -> bool {
        self.seconds.before.is_some() && self.stop_before().is_none()
    }

    /// Whether another choice of pair is behind the stop before it.
    #[must_use]
    pub fn chose_worse(&self) -> bool {
        self.stop_before().is_some_and(|stop| stop.cause == Some(Cause::Choice))
    }

    /// The stop before its first turn.
    #[must_use]
    pub fn stop_before(&self) -> Option<&Stop> {
        self.stops.iter().find(|stop| !stop.inside)
    }
}

impl Moment {
    /// The token that led here, as the writer spelled it.
    #[must_use]
    pub fn spelled(&self) -> Option<String> {
        self.written.clone().or_else(|| Some(self.token?.to_string()))
    }
}

impl Annotation {
    /// What to call the solve: its title, else its file, with its number if the file has others.
    #[must_use]
    pub fn heading(&self) -> String {
        match self.title.as_deref().map(str::trim) {
            Some(title) if !title.is_empty() => title.to_owned(),
            _ if self.record > 1 => format!("{}#{}", self.file, self.record),
            _ => self.file.clone(),
        }
    }

    /// Whether there are lanes worth drawing: some pair step was played.
    #[must_use]
    pub fn has_lanes(&self) -> bool {
        !self.lanes.is_empty() && self.steps.iter().any(|step| step.kind == StepKind::Pair)
    }

    /// The step whose turns lead to this moment.
    #[must_use]
    pub fn step_at(&self, moment: usize) -> Option<&Step> {
        self.steps.iter().find(|step| step.from < moment && moment <= step.to)
    }

    /// What to play on a solved cube, white up and green in front, to be where the solver was at this moment.
    #[must_use]
    pub fn setup(&self, moment: usize) -> String {
        let tokens = self.moments[1..=moment].iter().filter_map(|moment| moment.token);
        let tokens: Moves = tokens.collect();
        [self.scramble.clone(), tokens.to_string()].join(" ").trim().to_owned()
    }
}

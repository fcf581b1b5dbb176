//! The facts of a survey: every view is printed from a [`Survey`] and computes nothing.
//!
//! The types are also the public JSON, one object a line, one line a solver, versioned by [`Format`]; within a version
//! fields are only added. `docs/survey.schema.json` describes them.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::circumstance::Which;
use super::stops::{Tested, Won};
use super::trend::Slope;
use crate::harmless::one_line;
use crate::record::is_date;
use crate::steps::Name;

/// The version of the JSON.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Deserialize, JsonSchema, Serialize)]
pub enum Format {
    /// The first.
    #[serde(rename = "cornerwise-survey/1")]
    Survey1,
}

/// What many solves of one solver come to.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema, Serialize)]
pub struct Survey {
    /// The version of these facts.
    pub format: Format,
    /// What was named on the command line.
    pub inputs: Vec<String>,
    /// Whose solves; `null` for records that name nobody.
    pub solver: Option<String>,
    /// Only records from this day on count, if one was given.
    pub since: Option<String>,
    /// How many timed solves there are: all figures are theirs.
    pub solves: usize,
    /// How many solves have no times, or too few marks to tell the stops before two pairs: they count where no times
    /// are needed.
    pub untimed: usize,
    /// On how many days the timed solves lie; those without a date lie on none.
    pub days: usize,
    /// The first of them.
    pub first_day: Option<String>,
    /// The last.
    pub last_day: Option<String>,
    /// Where the time of a solve goes.
    pub clock: Vec<Figure>,
    /// How many of the timed solves are marked throughout, so that the clock's figures are theirs.
    pub accounted: usize,
    /// The same day by day.
    pub by_day: Vec<Day>,
    /// How far the circumstances were tested.
    pub level: Level,
    /// Single circumstances that were tested, and how each came out with nothing else taken out.
    pub tested: Vec<Tested>,
    /// How many pairs of circumstances were tested.
    pub pairs_tested: usize,
    /// What goes with the stops, in order of what is won back at least.
    pub findings: Vec<Finding>,
    /// How the stopped time goes; `null` with fewer than six days.
    pub trend: Option<Trend>,
    /// Every timed solve, by date, those without one first, else in the order of the records.
    pub timeline: Vec<Point>,
    /// Records that count for nothing, and why.
    pub left_out: Vec<LeftOut>,
    /// Solvers that have too few timed solves here for figures of their own.
    pub others: Vec<Other>,
    /// These solves beside those of another folder.
    pub against: Option<Against>,
    /// How the tests of chance were made.
    pub procedure: ProcedureUsed,
}

impl Survey {
    /// The same, if what was read from a file can be what a survey found: what views set as it stands, or follow to its
    /// end, is what it is called.
    ///
    /// # Errors
    ///
    /// What cannot be.
    pub(crate) fn checked(self) -> Result<Survey, String> {
        let dates = self.timeline.iter().filter_map(|point| point.date.as_ref());
        let dates = dates.chain(self.by_day.iter().map(|day| &day.date));
        let ends = [&self.first_day, &self.last_day];
        let no_day = dates.chain(ends.into_iter().flatten()).find(|date| !is_date(date)).cloned();
        if let Some(none) = no_day {
            return Err(format!("`{}` is no day", one_line(&none)));
        }
        let in_name = |c: char| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '-';
        let is_name = |page: &String| {
            page.strip_suffix(".html").is_some_and(|name| !name.is_empty() && name.chars().all(in_name))
        };
        if let Some(none) =
            self.timeline.iter().filter_map(|point| point.page.as_ref()).find(|page| !is_name(page))
        {
            return Err(format!("`{}` is no page of a survey", one_line(none)));
        }
        for (n, finding) in self.findings.iter().enumerate() {
            let words = finding.drill.iter().chain([&finding.says]);
            if words.into_iter().any(|words| one_line(words) != **words) {
                return Err(format!("the words of finding {} have signs in them that no words have", n + 1));
            }
            if finding.moments.len() > finding.steps {
                return Err(format!("finding {} has more moments than steps", n + 1));
            }
        }
        Ok(self)
    }
}

/// How far the circumstances were tested: that depends on how many solves there are.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize, JsonSchema, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Level {
    /// Too few solves: the clock only.
    Clock,
    /// Single circumstances.
    Singles,
    /// Pairs of them too.
    Pairs,
}

/// A part of a solve's time, or what else its clock tells.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Deserialize, JsonSchema, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Part {
    /// All of it.
    Time,
    /// Seconds turned.
    Turning,
    /// The rest.
    Stopped,
    /// Stops before the first pair.
    BeforePair1,
    /// Before the second.
    BeforePair2,
    /// Before the third.
    BeforePair3,
    /// Before the fourth.
    BeforePair4,
    /// Stops inside steps.
    Inside,
    /// Before OLL.
    BeforeOll,
    /// Before PLL and AUF.
    BeforePll,
    /// Gaps too short to be stops.
    Short,
    /// Turns (OBTM).
    Turns,
    /// Turns a second of turning.
    TurnsPerSecond,
}

impl Part {
    /// How many there are.
    pub const COUNT: usize = 13;
    /// All of them.
    pub const ALL: [Part; Part::COUNT] = [
        Part::Time,
        Part::Turning,
        Part::Stopped,
        Part::BeforePair1,
        Part::BeforePair2,
        Part::BeforePair3,
        Part::BeforePair4,
        Part::Inside,
        Part::BeforeOll,
        Part::BeforePll,
        Part::Short,
        Part::Turns,
        Part::TurnsPerSecond,
    ];
    /// The stops before pairs.
    pub const BEFORE_PAIRS: [Part; 4] =
        [Part::BeforePair1, Part::BeforePair2, Part::BeforePair3, Part::BeforePair4];

    /// Whether it is in seconds.
    #[must_use]
    pub const fn in_seconds(self) -> bool {
        !matches!(self, Part::Turns | Part::TurnsPerSecond)
    }

    /// Whether it is a part of the stopped time.
    #[must_use]
    pub const fn of_stopped(self) -> bool {
        self.in_seconds() && !matches!(self, Part::Time | Part::Turning | Part::Stopped)
    }
}

/// A figure over all solves that have it.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema, Serialize)]
pub struct Figure {
    /// Of what.
    pub part: Part,
    /// Its mean.
    pub mean: f64,
    /// The mean's 80 % interval: the 10th percentile of a bootstrap over solves.
    pub low: f64,
    /// The 90th.
    pub high: f64,
    /// A quarter of the solves lie below this.
    pub lower_quarter: f64,
    /// And a quarter above this.
    pub upper_quarter: f64,
}

/// One day.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema, Serialize)]
pub struct Day {
    /// The date.
    pub date: String,
    /// How many timed solves.
    pub solves: usize,
    /// Their mean time, in seconds.
    pub seconds: f64,
    /// Their mean stopped time, of those that are marked throughout.
    pub stopped: Option<f64>,
}

/// A circumstance, or two together, with which stops go.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema, Serialize)]
pub struct Finding {
    /// One circumstance, or two that hold together.
    pub circumstances: Vec<Which>,
    /// How a person says it.
    pub says: String,
    /// Others that hold, or do not, alike in at least nine of ten steps.
    pub nearly: Vec<Which>,
    /// In how many steps it holds.
    pub steps: usize,
    /// In how many solves.
    pub solves: usize,
    /// The mean stop before the pairs of these steps, in seconds.
    pub with: f64,
    /// And before the others.
    pub without: f64,
    /// How much longer the steps with it stop than their counterparts in the same solves, in seconds a step.
    pub longer: f64,
    /// Seconds a solve that would be won back.
    pub won: Won,
    /// By how many standard deviations of the shuffles it stands out.
    pub z: f64,
    /// In which share of the shuffles it stands out as much.
    pub p: f64,
    /// How that goes from day to day; `null` with fewer than six days.
    pub trend: Option<Trend>,
    /// The stops of these steps, longest first; at most a hundred.
    pub moments: Vec<Where>,
    /// What to give to `drill` to practise it.
    pub drill: Option<String>,
}

/// A moment of a solve.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema, Serialize)]
pub struct Where {
    /// The name of the file.
    pub file: String,
    /// The number of the record in it.
    pub record: usize,
    /// The writer's title.
    pub title: Option<String>,
    /// The step.
    pub step: Name,
    /// The moment it begins.
    pub moment: usize,
    /// The stop before it, in seconds.
    pub stop: f64,
    /// The solve's place in [`Survey::timeline`], from 0.
    pub point: usize,
}

/// How a figure goes from day to day.
#[derive(Debug, Clone, Copy, PartialEq, Deserialize, JsonSchema, Serialize)]
pub struct Trend {
    /// The first days against the last.
    pub slope: Slope,
    /// Whether it stands out from chance.
    pub stands_out: bool,
}

/// One solve.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema, Serialize)]
pub struct Point {
    /// The name of the file.
    pub file: String,
    /// The number of the record in it.
    pub record: usize,
    /// The writer's title.
    pub title: Option<String>,
    /// The date.
    pub date: Option<String>,
    /// How long it took, in seconds.
    pub seconds: f64,
    /// How long of that the hands did not turn.
    pub stopped: Option<f64>,
    /// The stop before each of the four pairs, in seconds; `null` where there is none to tell.
    pub stops: [Option<f64>; 4],
    /// Its steps along the clock, where the marks tell.
    pub strip: Vec<Strip>,
    /// The name of its page, if pages were written.
    pub page: Option<String>,
}

/// A step along the clock of its solve.
#[derive(Debug, Clone, Copy, PartialEq, Deserialize, JsonSchema, Serialize)]
pub struct Strip {
    /// The step.
    pub step: Name,
    /// When the last turn before it had ended, in seconds from the solve's first turn.
    pub start: f64,
    /// When its own first turn began.
    pub turns: f64,
    /// When its last turn had ended.
    pub end: f64,
}

/// A record that counts for nothing.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema, Serialize)]
pub struct LeftOut {
    /// The name of the file.
    pub file: String,
    /// The number of the record in it.
    pub record: usize,
    /// Why.
    pub why: Why,
}

/// Why a record counts for nothing.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Deserialize, JsonSchema, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Why {
    /// Something in it could not be read.
    Fault,
    /// The cube is not solved at the end.
    NotSolved,
    /// No pair step can be told.
    NotCrossFirst,
    /// It has no times, or too few marks.
    NoTimes,
    /// The same scramble and turns stand in a record before it.
    Twice,
    /// It has no date, and only those from a day on were wanted.
    NoDate,
    /// It is of an earlier day.
    Earlier,
}

/// Somebody with too few timed solves.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema, Serialize)]
pub struct Other {
    /// Who; `null` for records that name nobody.
    pub solver: Option<String>,
    /// Timed solves.
    pub solves: usize,
}

/// These solves beside another folder's.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema, Serialize)]
pub struct Against {
    /// What was named.
    pub inputs: Vec<String>,
    /// Whose solves those are, if one solver is named in them.
    pub solver: Option<String>,
    /// Timed solves there.
    pub solves: usize,
    /// Solves there that have no times.
    pub untimed: usize,
    /// The clock's figures.
    pub clock: Vec<Beside>,
    /// Choices and prices.
    pub choices: Vec<Beside>,
    /// In which share of the pair steps each circumstance holds.
    pub circumstances: Vec<Beside>,
}

/// One figure of both.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema, Serialize)]
pub struct Beside {
    /// What it is a figure of.
    pub what: What,
    /// Of one's own solves.
    pub own: f64,
    /// Of the others.
    pub other: f64,
    /// The 80 % interval of own less other: its lower end.
    pub low: f64,
    /// Its upper end.
    pub high: f64,
    /// The share of shuffles of the solves between the two in which the figures lie as far apart.
    pub p: f64,
    /// Whether the difference stands out from chance.
    pub stands_out: bool,
}

/// What two folders are compared in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize, JsonSchema, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum What {
    /// A part of the clock.
    Clock(Part),
    /// A choice.
    Choice(Choice),
    /// The share of pair steps in which it holds.
    Circumstance(Which),
}

/// Figures of choices.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Deserialize, JsonSchema, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Choice {
    /// Of the pair steps that another follows and that were not forced, the share that left it ready.
    Kept,
    /// Of all of them, the share in which nothing left a pair ready.
    Forced,
    /// What the turns of a pair step cost the hands, in units.
    Cost,
    /// Units a solve that clearly cheaper ways and lines would have saved.
    Over,
}

/// How the tests of chance were made.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema, Serialize)]
pub struct ProcedureUsed {
    /// Shuffles of each test of a circumstance; of pairs of them and of days there may be more.
    pub shuffles: usize,
    /// Draws of each bootstrap.
    pub draws: usize,
    /// What all random numbers come from.
    pub seed: u64,
    /// How often a first single circumstance may be named by chance.
    pub singles: f64,
    /// The same once something was found.
    /// Surveys saved without it let as much be added to `singles` with each finding as `singles` is.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub further: Option<f64>,
    /// How often a pair of circumstances may be named by chance.
    pub pairs: f64,
    /// The share of chance among trends named.
    pub trends: f64,
}

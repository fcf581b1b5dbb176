//! The facts of a comparison, as plain data: what the views print and the JSON carries.
//!
//! `docs/comparison.schema.json` describes the JSON and a test holds the types to it. Figures that a record
//! does not support are `null`. A *moment* is a point between tokens of one side's solution, as in an
//! [`Annotation`]. Turns are OBTM, times seconds since the first turn of that side.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::annotation::{Annotation, HoldNames, StepKind};
use crate::cube::{Colour, Move, Moves, PairName};
use crate::steps::{Case, Name};

/// The version of the JSON of a [`Comparison`]: a draft, until the work on the second is done.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Deserialize, JsonSchema, Serialize)]
pub enum Format {
    /// The second.
    #[serde(rename = "cornerwise-comparison/2")]
    Comparison2,
}

/// The same thing of both sides.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Deserialize, JsonSchema, Serialize)]
pub struct Sides<T> {
    /// Of the side named first.
    pub a: T,
    /// Of the side it is compared with.
    pub b: T,
}

/// One of the two sides.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Deserialize, JsonSchema, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Which {
    /// The side named first.
    A,
    /// The side it is compared with.
    B,
}

impl Which {
    /// Both.
    pub const BOTH: [Which; 2] = [Which::A, Which::B];

    /// The other side.
    #[must_use]
    pub const fn other(self) -> Which {
        match self {
            Which::A => Which::B,
            Which::B => Which::A,
        }
    }
}

impl<T> Sides<T> {
    /// What `f` makes of each side.
    pub fn map<U>(self, mut f: impl FnMut(T) -> U) -> Sides<U> {
        Sides { a: f(self.a), b: f(self.b) }
    }

    /// Both sides by reference.
    pub const fn as_ref(&self) -> Sides<&T> {
        Sides { a: &self.a, b: &self.b }
    }

    /// One side.
    pub const fn of(&self, which: Which) -> &T {
        match which {
            Which::A => &self.a,
            Which::B => &self.b,
        }
    }

    /// The sides the other way round.
    #[must_use]
    pub fn swapped(self) -> Sides<T> {
        Sides { a: self.b, b: self.a }
    }

    /// The two in pairs.
    pub fn zip<U>(self, other: Sides<U>) -> Sides<(T, U)> {
        Sides { a: (self.a, other.a), b: (self.b, other.b) }
    }
}

/// Two records of one scramble, compared.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema, Serialize)]
pub struct Comparison {
    /// The version of these facts.
    pub format: Format,
    /// What the sides are called in sentences: `A` and `B`, or another letter for the second of several.
    pub names: Sides<String>,
    /// How the scrambled positions compare.
    pub start: Start,
    /// The hold in which the turns of both sides are written to be compared: that of side `a` at its first turn, unless asked
    /// otherwise.
    pub hold: HoldNames,
    /// Whether turns or times differ. Not a difference: how turns are written, how the cube is held, a time
    /// that only one side has.
    pub different: bool,
    /// Whether both sides made the same turns, commuting neighbours in either order.
    pub same_turns: bool,
    /// What is compared as a whole: the solves, or what both have in common where one breaks off.
    pub compared: Compared,
    /// Side `b` less side `a`, over what is compared.
    pub difference: Difference,
    /// The side that took more: seconds, or turns where one has no times; `null` if neither did.
    pub behind: Option<Which>,
    /// Where what it took more went, by what the hands did: largest first. Only where every row can be split; then these
    /// add up to the difference of the times.
    pub went: Vec<Went>,
    /// The rows in which most of it went, by their numbers: at most two, a row of pairs among them if one lost anything.
    pub largest: Vec<usize>,
    /// Where they had the same pairs before them and went different ways.
    pub fork: Option<Fork>,
    /// The longest stop for a pair of the side behind, in the row of pairs that cost most.
    pub blamed: Option<StopAt>,
    /// Where they first made different turns; `null` if they never did.
    pub parting: Option<Parting>,
    /// Where they had the same position again after that while pairs were open, in order. None with two cross colours.
    pub meetings: Vec<Meeting>,
    /// The parts of the solves, lined up by what they solve.
    pub rows: Vec<Row>,
    /// What limits the comparison.
    pub notices: Vec<Notice>,
    /// The facts of each side.
    pub annotations: Sides<Annotation>,
}

/// How two scrambled positions compare.
#[derive(Debug, Clone, PartialEq, Eq, Deserialize, JsonSchema, Serialize)]
pub struct Start {
    /// Whether every piece is at the same place, relative to the centres.
    pub same: bool,
    /// Corners that are placed or twisted otherwise.
    pub corners: usize,
    /// Edges that are placed or flipped otherwise.
    pub edges: usize,
    /// Why they differ.
    pub why: Option<Why>,
}

/// Why two scrambled positions differ.
#[derive(Debug, Clone, PartialEq, Eq, Deserialize, JsonSchema, Serialize)]
#[serde(tag = "kind", rename_all = "kebab-case")]
pub enum Why {
    /// The same scramble with a slip of the pen: few tokens differ.
    Slip {
        /// The tokens that differ, in order.
        slips: Vec<Slip>,
    },
    /// The same scramble applied in another hold: side `b` comes to `a` by turning the whole cube first.
    Turned {
        /// The rotations to write before the scramble of `b`.
        rotations: Moves,
    },
    /// Another scramble.
    Other,
}

/// Tokens of two scrambles that differ; one side may have none.
#[derive(Debug, Clone, PartialEq, Eq, Deserialize, JsonSchema, Serialize)]
pub struct Slip {
    /// The number of the token in each scramble, from 1: where it stands, or where it is missing.
    pub token: Sides<usize>,
    /// The tokens as read; empty where they are missing.
    pub text: Sides<Moves>,
}

/// Side `b` less side `a`. A step that a side did not need counts as nothing on that side.
#[derive(Debug, Clone, Copy, PartialEq, Deserialize, JsonSchema, Serialize)]
pub struct Difference {
    /// Turns.
    pub obtm: i64,
    /// Seconds, where both are timed.
    pub seconds: Option<f64>,
    /// The seconds by what they went for, where the marks of both tell turning from stopped.
    pub split: Option<Split>,
}

/// A difference of times by what it went for: these add up to it.
#[derive(Debug, Clone, Copy, PartialEq, Default, Deserialize, JsonSchema, Serialize)]
pub struct Split {
    /// More or fewer turns, each at the mean of the two sides' paces in this part; where one side has no such part, at the
    /// other's pace. To a hundredth.
    pub turns: f64,
    /// What else the turning took.
    pub speed: f64,
    /// Gaps, short or long.
    pub stopped: f64,
}

/// One of the three things a difference of times goes for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Deserialize, JsonSchema, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum WentFor {
    /// More turns.
    Turns,
    /// Slower turning.
    Speed,
    /// Longer stops.
    Stopped,
}

impl Split {
    /// One of the three.
    #[must_use]
    pub const fn of(&self, what: WentFor) -> f64 {
        match what {
            WentFor::Turns => self.turns,
            WentFor::Speed => self.speed,
            WentFor::Stopped => self.stopped,
        }
    }
}

/// What the side behind took more of one thing.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema, Serialize)]
pub struct Went {
    /// For what.
    pub what: WentFor,
    /// Seconds more than the other side; negative where it took less.
    pub seconds: f64,
    /// Where: the rows with most of it, at most three, largest first.
    pub rows: Vec<WentIn>,
    /// Whether every row that both have took more of it, or every one less.
    pub everywhere: bool,
}

/// A row's part of it.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema, Serialize)]
pub struct WentIn {
    /// The number of the row, from 0.
    pub row: usize,
    /// Seconds more than the other side; negative where it took less.
    pub seconds: f64,
}

/// Where both sides had the same pairs open, with what each took and how it had found it.
#[derive(Debug, Clone, PartialEq, Eq, Deserialize, JsonSchema, Serialize)]
pub struct Fork {
    /// The row that begins there, from 0.
    pub row: usize,
    /// The step before it on each side, by its place in the annotation's steps: the one that left the pairs, with what each
    /// was to the eyes.
    pub left_by: Sides<usize>,
    /// Whether the two cubes were in the same position there.
    pub same_position: bool,
}

/// A stop of one of the sides.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize, JsonSchema, Serialize)]
pub struct StopAt {
    /// Whose.
    pub side: Which,
    /// The step's place in the annotation's steps.
    pub step: usize,
    /// The stop's place among the step's.
    pub stop: usize,
}

/// What limits a comparison.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Deserialize, JsonSchema, Serialize)]
#[serde(tag = "kind", rename_all = "kebab-case")]
pub enum Notice {
    /// The scrambled positions differ, so no position of one side is to be expected on the other.
    PositionsDiffer,
    /// Of a side something is not told.
    Untold {
        /// Whose.
        side: Which,
        /// What, in the annotation's words.
        text: String,
    },
    /// A side does not end solved: it is compared as far as it goes.
    NotSolved {
        /// Which.
        side: Which,
    },
    /// A side is not cross first: only the whole is compared.
    NotCrossFirst {
        /// Which.
        side: Which,
    },
    /// Only one side has times, so turns are compared.
    NoTimes {
        /// The one without.
        side: Which,
    },
}

/// The part of both solves whose turns and times can be held against each other.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema, Serialize)]
pub struct Compared {
    /// `null` if both are compared to their ends. Where one breaks off or does not end solved: the step after
    /// which both have last solved the same things, or `the parting` if there is none.
    pub until: Option<String>,
    /// How many of the rows belong to it.
    pub rows: usize,
    /// Turns of each side.
    pub obtm: Sides<usize>,
    /// Seconds of each side, where they are known.
    pub seconds: Sides<Option<f64>>,
}

/// Where two sides first made different turns.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema, Serialize)]
pub struct Parting {
    /// How many turns they had made alike.
    pub turns: usize,
    /// Each side there.
    pub at: Sides<PartingSide>,
}

/// One side at the parting.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema, Serialize)]
pub struct PartingSide {
    /// The moment after the last turn made alike.
    pub moment: usize,
    /// Seconds by then, where a mark stands.
    pub seconds: Option<f64>,
    /// The step in which the different turn is made.
    pub step: Option<Name>,
    /// The different turn, in the shared hold; `null` if this side made no more turns.
    pub turn: Option<Move>,
    /// The token that made it, as written in the Regulations' form.
    pub written: Option<Move>,
    /// Its line in the file, from 1.
    pub line: Option<usize>,
    /// Its column, in characters from 1.
    pub column: Option<usize>,
}

/// Where two sides have the same position again.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema, Serialize)]
pub struct Meeting {
    /// Each side there.
    pub at: Sides<MeetingSide>,
    /// The turn of a free layer that side `a` would have to make to have the very position of side `b`; `null`
    /// if it has it.
    pub free_turn: Option<FreeTurn>,
    /// What is solved there, such as `white cross`, `green-red`.
    pub solved: Vec<String>,
    /// The last moments up to which they go on together.
    pub until: Sides<usize>,
    /// Whether that is the end of both.
    pub to_end: bool,
}

/// A turn of a layer in which nothing is solved yet.
#[derive(Debug, Clone, PartialEq, Eq, Deserialize, JsonSchema, Serialize)]
pub struct FreeTurn {
    /// The colour of the layer's centre.
    pub layer: Colour,
    /// The turn, in the shared hold.
    pub turn: Move,
    /// The turn as one writes it with that layer up: `U`, `U2` or `U'`.
    pub top: Move,
}

/// One side at a meeting.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema, Serialize)]
pub struct MeetingSide {
    /// The moment.
    pub moment: usize,
    /// Turns by then.
    pub obtm: usize,
    /// Seconds by then, where a mark stands.
    pub seconds: Option<f64>,
    /// Where that is: `after pair 2`, `in pair 2, after 3 turns`.
    pub place: String,
}

/// A part of the solves: the steps of both sides from one thing that both come to, to the next.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema, Serialize)]
pub struct Row {
    /// What it is called: `cross`, `pair 2`, `pairs 2 to 4`, `OLL`; past the last thing in common both names where they
    /// differ.
    pub name: String,
    /// Side `a`'s part, if it has one here.
    pub a: Option<RowSide>,
    /// Side `b`'s part, if it has one here.
    pub b: Option<RowSide>,
    /// Side `b` less side `a`; `null` where one breaks off and so has nothing to compare.
    pub difference: Option<Difference>,
    /// Whether the turns are the same, commuting neighbours in either order.
    pub same_turns: bool,
    /// The turns of both in the shared hold, in order, cut into what is common and what is not.
    pub turns: Vec<Stretch>,
    /// Whether the same things are solved on both sides at the end of the row.
    pub joint: bool,
}

impl Row {
    /// The part of one side.
    #[must_use]
    pub const fn of(&self, which: Which) -> Option<&RowSide> {
        match which {
            Which::A => self.a.as_ref(),
            Which::B => self.b.as_ref(),
        }
    }
}

/// One side's steps of a row, and what they come to.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema, Serialize)]
pub struct RowSide {
    /// The steps, in order; none in the row of what lies before the first turn and after the last.
    pub steps: Vec<StepSide>,
    /// The turns in the shared hold: no rotations, no wide turns, no slices, commuting neighbours in order.
    pub turns: Moves,
    /// Turns.
    pub obtm: usize,
    /// Seconds, stopped and turning.
    pub seconds: Option<f64>,
    /// Seconds in which the hands turned.
    pub turning: Option<f64>,
    /// Seconds in which they did not, before the first turn of a step and inside one.
    pub stopped: Option<f64>,
    /// Turns by its end.
    pub obtm_so_far: usize,
    /// Seconds by its end, where a mark stands.
    pub seconds_so_far: Option<f64>,
}

/// One side's step.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema, Serialize)]
pub struct StepSide {
    /// Its place in the annotation's steps.
    pub step: usize,
    /// What it is for.
    pub kind: StepKind,
    /// What a person calls it.
    pub name: Name,
    /// The pairs solved.
    pub pairs: Vec<PairName>,
    /// The last-layer case.
    pub case: Option<Case>,
    /// The tokens as the writer spelled them; rotations of the inspection before the first step's.
    pub written: String,
    /// The turns in the shared hold.
    pub turns: Moves,
    /// Turns.
    pub obtm: usize,
    /// Seconds, the stop before it included.
    pub seconds: Option<f64>,
}

/// A run of turns that both sides made, or one only.
#[derive(Debug, Clone, PartialEq, Eq, Deserialize, JsonSchema, Serialize)]
pub struct Stretch {
    /// Whose turns they are; `null` if both made them.
    pub only: Option<Which>,
    /// The turns, parted by spaces.
    pub turns: Moves,
}

//! What else could have been done at a pair step, what it would have cost, and what that says of the step as played.
//!
//! Lines are priced by what they cost the hands and what the next pair costs after them ([`Judge`]); of those a good
//! solver would play, and that leave a pair ready, the step is compared with the best. Everything is exact for its bound:
//! every line is looked at, none is sampled. `docs/method.md` has the rules; their words are these:
//!
//! * The **cost** of turns is the least over all ways to play them ([`hands`](crate::hands)). A line is seen and priced in
//!   each of its ways of least cost, and the best counts: ready before late, then the lower price, then more lead, then
//!   the order of tokens.
//! * **then(q)** is the least cost, from the hold a way ends in, of a hand line of pair *q* of at most one turn more than
//!   its shortest. Such a line ends at the first moment any new pair is solved, with *q* among them.
//! * **Price** = cost + then(*q*). A line that completes the first two layers has its cost for a price, and counts as
//!   leaving a pair ready.
//! * An **offer** ([`Offer`]) is a line of at most [`Settings::within`] turns that (1) is not the played turns in any hold or
//!   order, (2) solves at least as many pairs, (3) reads without a shifted and without a nested phrase, (4) costs at most
//!   half a unit more than the cheapest line that solves the same pairs, (5) solves a pair that the played turns solve or
//!   one that was found in the step before with a turn or more to go (that was ready, if the pair played was), and (6) leaves an open pair ready of which some
//!   cheapest line reads plainly, too. The played turns themselves are one, with another open pair next that they left
//!   so: **same turns**.
//! * The **played** turns are priced in the same way, so a rotation too many costs them nothing: what they leave is seen
//!   as it was played, their cost and what comes after are those of their ways of least cost.
//!
//! Where all lines are compared instead of hand lines, (3) asks nothing, nor does (6) of the next pair's line; next pairs are priced by hand lines still.

mod lines;
mod offers;
mod prices;
mod rest;
mod solve;
mod step;

use std::fmt;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

pub use prices::{Judge, Then};
pub use solve::{Step, solve};

use crate::cube::{Colour, FaceSet, Move, Pair, Position};
use crate::hands::{HalfUnits, Weights};
use crate::search::Kind;
use crate::sight::grades::Left;
use crate::sight::{DEFAULT_LEAD, Moments};

/// The longest line that is compared, in face turns, where nothing else is said. With 11 no verdict and no offer of 60
/// steps of strong solvers was another.
pub const DEFAULT_WITHIN: usize = 9;

/// How much lower a price has to be than the played one for a line to be called cleaner.
pub const CLEANER_FROM: HalfUnits = HalfUnits::from_halves(4);

/// How much cheaper than the turns played a line of the same pair has to be for it to be told.
pub const OWN_LINE_FROM: HalfUnits = HalfUnits::from_halves(3);

/// How much dearer than the cheapest line of the same pairs a line may be to be offered.
pub const NEAR_CHEAPEST: HalfUnits = HalfUnits::from_halves(1);

/// What a judgement depends on besides the step.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Settings {
    /// The longest line that is compared, in face turns, unless every line of a position is longer.
    pub within: usize,
    /// Which lines are compared.
    pub kind: Kind,
    /// How much more than the played step something may cost and still make it avoidable.
    pub slack: HalfUnits,
    /// The lead that is enough, in turns.
    pub lead: usize,
    /// How many alternatives are kept at most.
    pub alternatives: usize,
    /// What handling costs.
    pub weights: Weights,
}

impl Default for Settings {
    fn default() -> Settings {
        Settings {
            within: DEFAULT_WITHIN,
            kind: Kind::Hand,
            slack: HalfUnits::from_halves(2),
            lead: DEFAULT_LEAD,
            alternatives: 2,
            weights: Weights::default(),
        }
    }
}

/// A cross step or pair step as played.
#[derive(Debug, Clone, Copy)]
pub struct Played<'a> {
    /// Its moments.
    pub moments: Moments<'a>,
    /// Its moves.
    pub moves: &'a [Move],
    /// The pairs that were open when it began, those it solves included.
    pub open: &'a [Pair],
    /// The pairs it solves.
    pub solves: &'a [Pair],
    /// The pairs really solved next; none if no pair step follows.
    pub next: &'a [Pair],
    /// The open pairs that were found in the step before with a turn or more to go, so that the eyes were on them before
    /// the hands were free; those that were ready, if one that the step solves was. All of them where there was no such step: before the first turn everything can be looked at.
    pub found_before: &'a [Pair],
}

/// What a position's choice of lines says of a pair step that another follows.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Deserialize, JsonSchema, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Verdict {
    /// The pair solved next was ready.
    Kept,
    /// It was late, and something that may be offered is within slack.
    Avoidable,
    /// It was late, and nothing within the bound and slack leaves a pair ready.
    Forced,
}

impl Verdict {
    /// The word for it.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Verdict::Kept => "kept",
            Verdict::Avoidable => "avoidable",
            Verdict::Forced => "forced",
        }
    }
}

impl fmt::Display for Verdict {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(self.word())
    }
}

/// An open pair after a step: what the eyes have of it, and what it costs to solve it next.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Open {
    /// What the step left.
    pub left: Left,
    /// Its cheapest line from the end of the step; `None` if it has none of at most
    /// [`LONGEST_NEXT`](crate::search::LONGEST_NEXT) turns that solves no other pair first.
    pub then: Option<Then>,
}

/// A line, or the turns as played, with what comes after.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Offer {
    /// The tokens from the first moment of the step on.
    pub moves: Vec<Move>,
    /// How many turns that is (OBTM).
    pub turns: usize,
    /// The pairs it solves.
    pub solves: Vec<Pair>,
    /// Where it leads.
    pub end: Position,
    /// What it costs.
    pub cost: HalfUnits,
    /// The pair it leaves ready, with its line; `None` if it completes the first two layers.
    pub next: Option<Next>,
    /// Its cost with that of the next pair's line.
    pub price: HalfUnits,
    /// Whether these are the turns as played.
    pub same_turns: bool,
}

/// A pair that an [`Offer`] leaves ready.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Next {
    /// What the offer leaves of it.
    pub left: Left,
    /// Its cheapest line from the end of the offer.
    pub then: Then,
}

/// The cheapest of all that may be offered, where it is no less than [`CLEANER_FROM`] below the played step and not
/// merely puts off what it saves.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Cleaner {
    /// The line and what comes after.
    pub offer: Offer,
    /// How much lower its price is than the played one.
    pub saves: HalfUnits,
    /// Its cost with those of all pairs that are left after it, each in turn the one that costs least.
    pub to_the_end: HalfUnits,
    /// The same sum for the turns played.
    pub played_to_the_end: HalfUnits,
    /// What was really played to the end of the pairs; `None` where they are not all in.
    pub really_played: Option<HalfUnits>,
}

/// A line of the same pair that is cheaper than the turns played, and with what it leaves no dearer.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct OwnLine {
    /// The tokens from the first moment of the step on.
    pub moves: Vec<Move>,
    /// How many turns that is (OBTM).
    pub turns: usize,
    /// Where it leads.
    pub end: Position,
    /// What it costs.
    pub cost: HalfUnits,
    /// How much less that is than the turns played; where another pair step follows, the less of that and of what it
    /// saves together with a pair that it leaves ready.
    pub saves: HalfUnits,
}

/// A pair step that another pair step follows, compared with all that might have been played.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Choice {
    /// The pair solved next; of two solved at once the one that stands for both.
    pub next: Left,
    /// The cost of the turns played with that of the next pair's line; `None` where it has none (see [`Open::then`]).
    pub price: Option<HalfUnits>,
    /// The verdict.
    pub verdict: Verdict,
    /// Where the step was avoidable: the best of what may be offered within slack, best first.
    pub alternatives: Vec<Offer>,
    /// Where the next pair was late: the best of all that may be offered, whatever it costs.
    pub cheapest: Option<Offer>,
    /// A cleaner line, whatever the verdict.
    pub cleaner: Option<Cleaner>,
    /// The open pairs for which something that may be offered leaves a pair ready; apart from what was taken.
    pub offered: Vec<Pair>,
}

/// A pair step judged.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Judged {
    /// What the turns played cost.
    pub cost: HalfUnits,
    /// How many turns were played (OBTM).
    pub played_turns: usize,
    /// Whether the turns played, merged, are a hand line.
    pub is_hand_line: bool,
    /// Every line of at most this many turns was compared.
    pub within: usize,
    /// How many there are.
    pub lines: usize,
    /// What the step left of every open pair.
    pub open: Vec<Open>,
    /// What else could have been done; `None` if no pair step follows.
    pub choice: Option<Choice>,
    /// The cost of the cheapest line of the same pair that reads plainly; `None` for a step that solves two pairs at once,
    /// or if there is no such line within the bound.
    pub cheapest_own: Option<HalfUnits>,
    /// That line, where it saves at least [`OWN_LINE_FROM`] and the cleaner line does not solve the same pair.
    pub own_line: Option<OwnLine>,
}

/// After the cross: the same turns with another pair next that they left ready.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct OtherPair {
    /// What the cross left of it.
    pub left: Left,
    /// Its cheapest line.
    pub then: Then,
    /// How much more that costs than the line of the pair solved next; negative if less.
    pub extra: HalfUnits,
}

/// A cross step judged: there is no verdict on it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Cross {
    /// What it left of every open pair.
    pub open: Vec<Open>,
    /// The pair solved next; of two solved at once the one that stands for both. `None` if no pair step follows.
    pub next: Option<Left>,
    /// Where that was late: the pairs that were ready, the cheapest first.
    pub others: Vec<OtherPair>,
}

/// What does not change from step to step of a solve.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
struct Solver {
    cross: Colour,
    sight: FaceSet,
}

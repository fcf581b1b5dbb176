//! Facts of what else could have been done at a pair step.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::HoldNames;
use crate::cube::{Moves, PairName, Place, Stickers};
pub use crate::judgement::Verdict;

/// The lines there were at the start of a pair step, compared with the one played. Costs and prices are in units: a
/// quarter turn of R is one.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema, Serialize)]
pub struct Choice {
    /// The bound: lines of at most this many face turns were searched, all of them.
    pub within: usize,
    /// Whether all lines were searched, or hand lines only.
    pub every_line: bool,
    /// How many lines there are up to the bound.
    pub lines: usize,
    /// Whether the played step is itself a hand line.
    pub played_is_hand_line: bool,
    /// What the turns played cost the hands.
    pub cost: f64,
    /// The same with the cheapest line of the pair solved next; `null` where no pair step follows.
    pub price: Option<f64>,
    /// The verdict; `null` where no pair step follows.
    pub verdict: Option<Verdict>,
    /// At most two lines that left a pair ready where the one played did not, cheapest first.
    pub alternatives: Vec<Alternative>,
    /// Where the next pair was late: the cheapest of all that was on offer, whatever it costs.
    pub cheapest: Option<Alternative>,
    /// The clearly cheaper way, if there was one.
    pub cleaner: Option<Alternative>,
    /// The cheapest line of the pair solved, where the one played costs clearly more.
    pub own: Option<OwnLine>,
    /// How many pairs were open.
    pub open_pairs: usize,
    /// For how many of them something on offer that solves them leaves a pair ready.
    pub good_pairs: usize,
}

/// A line that was on offer.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema, Serialize)]
pub struct Alternative {
    /// The tokens, as they would be played from the step's first moment.
    pub text: Moves,
    /// The pairs it solves.
    pub pairs: Vec<PairName>,
    /// Turns in OBTM.
    pub obtm: usize,
    /// Handling cost.
    pub cost: f64,
    /// The same with the cheapest line of the pair it leaves.
    pub price: f64,
    /// The played step's price less this one: negative if it is dearer.
    pub saves: f64,
    /// About how many seconds it would have saved, at this solver's own turning, negative if it is dearer; `null` without
    /// times.
    pub seconds: Option<f64>,
    /// The pair it leaves ready; `null` if it completes the first two layers.
    pub next: Option<AlternativeNext>,
    /// Whether these are the very turns played, with another pair solved next.
    pub same_turns: bool,
    /// The hold after it.
    pub hold: HoldNames,
    /// The position after it, all 54 stickers.
    pub stickers: Stickers,
}

/// The pair an alternative leaves for the next step.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema, Serialize)]
pub struct AlternativeNext {
    /// The pair.
    pub pair: PairName,
    /// Where its corner is at the end.
    pub corner: Place,
    /// Where its edge is at the end.
    pub edge: Place,
    /// Turns of the line to go when both had been found.
    pub lead: usize,
    /// Whether both are found before its first turn.
    pub at_once: bool,
    /// Whether something had to be worked out to find them in time.
    pub deduced: bool,
    /// Its own cheapest line after that.
    pub then: Moves,
    /// Turns of that line in OBTM.
    pub then_obtm: usize,
}

/// The cheapest line of the pair that was solved.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema, Serialize)]
pub struct OwnLine {
    /// Its tokens.
    pub text: Moves,
    /// Turns in OBTM.
    pub obtm: usize,
    /// Handling cost.
    pub cost: f64,
    /// What the turns played cost more.
    pub saves: f64,
    /// About how many seconds that is, at this solver's own turning; `null` without times.
    pub seconds: Option<f64>,
    /// Whether it is the last pair, whose insertion may have been chosen for the last layer.
    pub last_pair: bool,
}

//! Facts of what else could have been done at a pair step.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::{HoldNames, Outcome};
pub use crate::choice::Verdict;
use crate::cube::{Moves, PairName, Place, Stickers};

/// The lines there were at the start of a pair step, compared with the one played.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema, Serialize)]
pub struct Choice {
    /// The bound: lines of at most this many face turns were searched, all of them.
    pub within: usize,
    /// Whether the played step is longer than the bound.
    pub bound_below_played: bool,
    /// Whether all lines were searched, or hand lines only.
    pub every_line: bool,
    /// How much dearer than the played step a line may be, in turn units.
    pub slack: f64,
    /// The lead that counts as enough, in turns.
    pub lead: usize,
    /// How many lines there are up to the bound.
    pub lines: usize,
    /// Whether the played step is itself a hand line.
    pub played_is_hand_line: bool,
    /// Handling cost of the played step and of the shortest line of the pair solved next, in turn units.
    pub played_cost: f64,
    /// What the played step left for the pair really solved next.
    pub played: Outcome,
    /// The verdict.
    pub verdict: Verdict,
    /// At most three lines with a better outcome, best first.
    pub alternatives: Vec<Alternative>,
    /// How many pairs were open.
    pub open_pairs: usize,
    /// For how many of them some line within slack that solves them leaves `ready`.
    pub good_pairs: usize,
}

/// A line that would have done better.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema, Serialize)]
pub struct Alternative {
    /// The turns, as they would be played from the step's first moment: maybe a rotation first.
    pub text: Moves,
    /// The pairs it solves.
    pub pairs: Vec<PairName>,
    /// Turns in OBTM.
    pub obtm: usize,
    /// The tokens of the shortest line of the next pair after it.
    pub then: Moves,
    /// Handling cost, with that shortest line, in turn units.
    pub cost: f64,
    /// `cost` less that of the played step: negative if it saves.
    pub difference: f64,
    /// What it leaves.
    pub outcome: Outcome,
    /// The pair it leaves so, and where.
    pub next: AlternativeNext,
    /// Whether these are the very turns played, with another pair solved next.
    pub same_turns: bool,
    /// The hold after it.
    pub hold: HoldNames,
    /// The position after it.
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
    /// After how many tokens of the line both have been seen; `null` if never.
    pub seen: Option<usize>,
    /// Turns still to make then.
    pub lead: Option<usize>,
    /// Whether its corner ends up; true for every alternative offered.
    pub up: bool,
}

/// The settings an annotation was made with.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema, Serialize)]
pub struct SettingsUsed {
    /// The longest line searched at any step, in face turns.
    pub within: usize,
    /// Whether all lines were searched, or hand lines only.
    pub every_line: bool,
    /// How much dearer than the played step a line may be, in turn units.
    pub slack: f64,
    /// The lead that counts as enough, in turns.
    pub lead: usize,
    /// What handling costs, in turn units.
    pub weights: crate::choice::Weights,
    /// A pause is long from this many seconds on.
    pub long_pause: f64,
    /// A pause is long from this many times the pace on; both must hold.
    pub long_paces: f64,
}

/// A pair that a step left better off than the one solved next.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema, Serialize)]
pub struct OtherPair {
    /// The pair.
    pub pair: PairName,
    /// What the step left for it.
    pub outcome: Outcome,
    /// Where its corner is at the end of the step.
    pub corner: Place,
    /// Where its edge is.
    pub edge: Place,
    /// How much more its shortest line costs than that of the pair solved next, in turn units; negative if less.
    pub dearer: f64,
    /// Whether that is within slack.
    pub within_slack: bool,
}

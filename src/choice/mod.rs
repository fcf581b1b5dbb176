//! What else could have been done at a pair step: every line up to a bound, what it would have left, what it would
//! have cost, and the verdict on the step that was played.
//!
//! A line counts as something the solver could have done if its cost (its own handling and that of the shortest line
//! of the pair it leaves for the next step) is within *slack* of the played step's. The verdict is exact for its bound
//! and kind of line: every line is looked at, none is sampled.

mod candidates;
mod cost;
mod prices;
mod ways;

use std::fmt;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

pub use cost::{Grip, Weights, grips, written};

use prices::Prices;

use crate::cube::{Colour, FaceSet, FaceTurn, Hold, Move, Pair, Position, State};
use crate::search::{self, Kind};
use crate::sight::{DEFAULT_LEAD, Moments, Outcome, left};

/// What a search over lines says of a played step.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Deserialize, JsonSchema, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Verdict {
    /// The played step left the next pair ready.
    Kept,
    /// It did not, and a line within slack has a better outcome.
    Avoidable,
    /// It did not, and no line within the bound and slack is better.
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

/// What a verdict depends on besides the step.
#[derive(Debug, Clone, PartialEq)]
pub struct Settings {
    /// The longest line to search, in face turns; `None` for the kind's own default: 11 for hand lines, 9 for all.
    pub within: Option<usize>,
    /// Which lines are compared.
    pub kind: Kind,
    /// How much dearer than the played step a line may be, in turn units.
    pub slack: f64,
    /// The lead that is enough, in turns.
    pub lead: usize,
    /// How many alternatives to keep at most.
    pub alternatives: usize,
    /// What handling costs.
    pub weights: Weights,
}

impl Default for Settings {
    fn default() -> Settings {
        Settings {
            within: None,
            kind: Kind::Hand,
            slack: 1.0,
            lead: DEFAULT_LEAD,
            alternatives: 3,
            weights: Weights::default(),
        }
    }
}

impl Settings {
    /// The longest line to search.
    #[must_use]
    pub fn bound(&self) -> usize {
        self.within.unwrap_or(match self.kind {
            Kind::Hand => 11,
            Kind::Every => 9,
        })
    }
}

/// A pair step as played.
#[derive(Debug, Clone, Copy)]
pub struct Played<'a> {
    /// Its moments and moves.
    pub moments: Moments<'a>,
    /// Its moves.
    pub moves: &'a [Move],
    /// The cross colour.
    pub cross: Colour,
    /// The pairs that were open when it began, those it solves included.
    pub open: &'a [Pair],
    /// The pairs it solves.
    pub solves: &'a [Pair],
    /// The pairs really solved next; at least one.
    pub next: &'a [Pair],
    /// The faces in sight.
    pub sight: FaceSet,
}

/// A line that would have done better, with the pair to solve after it.
#[derive(Debug, Clone, PartialEq)]
pub struct Alternative {
    /// The tokens from the step's first moment on, a rotation first if the hold has to change.
    pub moves: Vec<Move>,
    /// The pairs it solves.
    pub solves: Vec<Pair>,
    /// Its cost with that of the shortest line of `next`, in turn units.
    pub cost: f64,
    /// What it leaves `next`.
    pub outcome: Outcome,
    /// The pair to solve after it.
    pub next: Pair,
    /// The shortest line of `next` from there, in the hold in which it is cheapest, any rotation included.
    pub next_moves: Vec<Move>,
    /// The offset in `moves` at which both pieces of `next` have been seen; `None` if never.
    pub seen: Option<usize>,
    /// Turns still to make then.
    pub lead: Option<usize>,
    /// Where it leads.
    pub end: Position,
    /// Whether these are the very tokens played.
    pub same_turns: bool,
}

/// A pair that a step left better off than the one solved next.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct OtherPair {
    /// The pair.
    pub pair: Pair,
    /// What the step left for it.
    pub outcome: Outcome,
    /// How much more its shortest line costs than that of the pair solved next, in turn units; negative if less.
    pub dearer: f64,
}

/// The verdict on a pair step, with its witnesses and its bound.
#[derive(Debug, Clone, PartialEq)]
pub struct Choice {
    /// Every line of at most this many turns was searched.
    pub within: usize,
    /// How many there are.
    pub lines: usize,
    /// Whether the played step, its rotations taken out, is a hand line.
    pub played_is_hand_line: bool,
    /// The played step's OBTM.
    pub played_turns: usize,
    /// Its cost with that of the shortest line of the pair solved next.
    pub played_cost: f64,
    /// What it left.
    pub played: Outcome,
    /// The verdict.
    pub verdict: Verdict,
    /// The best of the pairs that the same turns left better off than the one solved next, whatever it would cost.
    pub other_pair: Option<OtherPair>,
    /// Better lines, the same turns with another pair next first, then best outcome first and cheapest first.
    pub alternatives: Vec<Alternative>,
    /// For which of the open pairs some line within slack that solves it leaves a pair ready.
    pub good_pairs: Vec<Pair>,
}

/// Looks at every line there was.
///
/// # Panics
/// If no pair is solved next, or the bound is more than [`search::MAX_TURNS`].
#[must_use]
pub fn judge(played: Played<'_>, settings: &Settings) -> Choice {
    let start = played.moments.positions()[0];
    let turns = face_turns(start.hold, played.moves);
    let bound = settings.bound();
    let played_turns = played.moves.iter().map(|mv| mv.obtm()).sum::<usize>();
    let within = (played_turns.max(shortest_of_any(&start.state, played, settings, bound)) + 1).min(bound);

    let mut prices = Prices::new(played.cross, settings);
    let own = settings.weights.sum(played.moves);
    let (outcome, next_cost) = solved_next(played, &mut prices, settings);
    let other_pair = better_off(played, (outcome, next_cost), &mut prices, settings).first().copied();

    let lines = search::lines(&start.state, played.cross, settings.kind, within);
    let step = candidates::Step { played, outcome, own, cost: own + next_cost };
    let found = candidates::find(step, &lines, &mut prices, settings);
    // The search keeps one alternative even where none is to be shown: it is the witness of the verdict.
    let verdict = if outcome == Outcome::Ready {
        Verdict::Kept
    } else if found.alternatives.is_empty() {
        Verdict::Forced
    } else {
        Verdict::Avoidable
    };
    let mut alternatives = found.alternatives;
    alternatives.truncate(settings.alternatives);
    Choice {
        within,
        lines: lines.len(),
        played_is_hand_line: search::is_hand_line(&turns, played.cross),
        played_turns,
        played_cost: step.cost,
        played: outcome,
        verdict,
        other_pair,
        alternatives,
        good_pairs: found.good_pairs,
    }
}

/// The pairs that a step left better off than the one solved next: better outcome first, then the cheaper. For the
/// cross too, of which there is no verdict.
///
/// # Panics
/// If no pair is solved next.
#[must_use]
pub fn other_pairs(played: Played<'_>, settings: &Settings) -> Vec<OtherPair> {
    let mut prices = Prices::new(played.cross, settings);
    let next = solved_next(played, &mut prices, settings);
    better_off(played, next, &mut prices, settings)
}

/// What the step left of the pair solved next, and what that pair's shortest line costs. Of two pairs solved next at
/// once, the one that was better off, of equals the cheaper, speaks for the step.
fn solved_next(played: Played<'_>, prices: &mut Prices, settings: &Settings) -> (Outcome, f64) {
    let end = *played.moments.last();
    let next =
        played.next.iter().map(|&pair| (what_is_left(played, pair, settings), prices.of(&end, pair).cost));
    next.reduce(|best, one| if (one.0, -one.1) > (best.0, -best.1) { one } else { best })
        .expect("a pair is solved next")
}

fn what_is_left(played: Played<'_>, pair: Pair, settings: &Settings) -> Outcome {
    left(played.moments, played.cross, pair, played.sight, settings.lead).outcome
}

fn better_off(
    played: Played<'_>,
    (outcome, cost): (Outcome, f64),
    prices: &mut Prices,
    settings: &Settings,
) -> Vec<OtherPair> {
    let end = *played.moments.last();
    let spoken_for = |pair: &Pair| played.solves.contains(pair) || played.next.contains(pair);
    let mut others: Vec<OtherPair> = played
        .open
        .iter()
        .filter(|pair| !spoken_for(pair))
        .map(|&pair| (pair, what_is_left(played, pair, settings)))
        .filter(|&(_, left)| left > outcome)
        .map(|(pair, outcome)| OtherPair { pair, outcome, dearer: prices.of(&end, pair).cost - cost })
        .collect();
    others.sort_by(|a, b| b.outcome.cmp(&a.outcome).then(a.dearer.total_cmp(&b.dearer)));
    others
}

/// The length of the shortest line of any open pair, or 0 if there is none up to `bound`.
fn shortest_of_any(state: &State, played: Played<'_>, settings: &Settings, bound: usize) -> usize {
    let shortest = |&pair: &Pair| {
        search::shortest(state, played.cross, number(played.cross, pair), settings.kind, bound)
    };
    played.open.iter().filter_map(shortest).min().unwrap_or(0)
}

/// The place of a pair in [`Pair::all`].
fn number(cross: Colour, pair: Pair) -> usize {
    Pair::all(cross).iter().position(|&other| other == pair).expect("a pair of this cross")
}

/// What the moves do to the pieces, turns of one face in a row merged.
fn face_turns(mut hold: Hold, moves: &[Move]) -> Vec<FaceTurn> {
    let mut turns = Vec::with_capacity(moves.len());
    for mv in moves {
        let resolved = mv.resolve(hold);
        hold = resolved.hold;
        for turn in resolved.turns() {
            push_merged(&mut turns, turn);
        }
    }
    turns
}

/// Adds a turn, merged with one of the same face that nothing but the opposite face stands between.
fn push_merged(turns: &mut Vec<FaceTurn>, turn: FaceTurn) {
    let before = turns.iter().rposition(|other| other.centre != turn.centre.opposite());
    let Some(at) = before.filter(|&at| turns[at].centre == turn.centre) else {
        turns.push(turn);
        return;
    };
    match crate::cube::Amount::from_quarters(turns[at].amount as u32 + turn.amount as u32) {
        Some(amount) => turns[at].amount = amount,
        None => {
            turns.remove(at);
        }
    }
}

//! Facts of what else could have been done at a pair step.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::{Cause, HoldNames, Step};
use crate::cube::{Amount, Axis, Face, Move, Moves, PairName, Place, Stickers};
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
    /// How many turns and rotations fewer it has, with the line of the pair it leaves, than were played in this step and
    /// the next; `null` where no pair follows either.
    #[serde(default)]
    pub tokens_saved: Option<i64>,
    /// Whether the pairs it solves were at hand when the step began: ready, or open to sight at its first moment.
    #[serde(default)]
    pub at_hand: bool,
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
    /// Whether its corner was up at the beginning and is down at the end.
    #[serde(default)]
    pub buried: bool,
    /// Whether one of its pieces ends where nothing of it is in sight.
    #[serde(default)]
    pub out_of_sight: bool,
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

/// From how many seconds on a line is told: what is less is not felt.
const FELT: f64 = 0.15;
/// The same of what asks more of a solver: another order, something worked out, a turn more.
const FELT_AT_A_PRICE: f64 = 0.25;
/// The same of a line that has one turn or rotation less.
const FELT_FOR_ONE_TURN: f64 = 0.35;
/// The same of a line that has no fewer turns and rotations, or turns the cube after its first turn or about another axis than
/// the upright one.
const FELT_THOUGH_AS_LONG: f64 = 0.45;
/// The same of one that puts the next corner down, or the next pair where nothing of a piece shows.
const FELT_THOUGH_GONE: f64 = 0.55;
/// From how many seconds on, and without times from how many units on, another pair is told: it is another plan.
const ANOTHER_PLAN: (f64, f64) = (0.35, 3.0);
/// Of so many turns nobody finds a line for another pair.
const TOO_LONG: usize = 9;
/// And of more than these one for two pairs at once.
const TOO_LONG_FOR_TWO: usize = 6;

impl Step {
    /// The cleaner line, where a coach would speak of it: it reads as hands play, shows by the clock, is no dearer line
    /// with more regrips for what follows, and another pair is worth it only for more.
    #[must_use]
    pub fn cleaner(&self) -> Option<&Alternative> {
        let choice = self.choice.as_ref()?;
        let line = choice.cleaner.as_ref()?;
        let deduced = line.next.as_ref().is_some_and(|next| next.deduced);
        let other_turns = !line.same_turns;
        let as_long = line.tokens_saved.is_some_and(|saved| saved <= 0) || turns_the_cube(&line.text);
        let gone = line.next.as_ref().is_some_and(|next| next.buried || next.out_of_sight);
        let felt = match () {
            () if other_turns && gone => FELT_THOUGH_GONE,
            () if other_turns && as_long => FELT_THOUGH_AS_LONG,
            () if other_turns && line.tokens_saved.is_some_and(|saved| saved == 1) => FELT_FOR_ONE_TURN,
            () if line.same_turns || deduced => FELT_AT_A_PRICE,
            () => FELT,
        };
        let another = other_turns && line.pairs != self.pairs;
        if another && (!line.at_hand || self.advised_otherwise(line)) {
            return None;
        }
        let (seconds, units) = ANOTHER_PLAN;
        let enough = !another || line.seconds.map_or(line.saves >= units, |saved| saved >= seconds);
        let regrips = |moves: &Moves| moves.iter().filter(|mv| !matches!(mv, Move::Turn(..))).count();
        let dearer = line.cost > choice.cost && regrips(&line.text) >= regrips(&self.text) + 2;
        (shows(line.seconds, felt) && enough && !dearer && self.reads_as_played(line)).then_some(line)
    }

    /// Whether the stop before the step tells of a pair to keep in sight that the line does not solve.
    fn advised_otherwise(&self, line: &Alternative) -> bool {
        let Some(stop) = self.stop_before() else { return false };
        match (stop.cause, &stop.instead) {
            (Some(Cause::Position | Cause::Recognition) | None, _) => false,
            (Some(Cause::Choice), Some(instead)) => !line.pairs.contains(&instead.pair),
            _ => true,
        }
    }

    /// The pair's own line, where a coach would speak of it.
    #[must_use]
    pub fn own_line(&self) -> Option<&OwnLine> {
        let own = self.choice.as_ref()?.own.as_ref()?;
        let felt = if own.obtm > self.obtm { FELT_AT_A_PRICE } else { FELT };
        (shows(own.seconds, felt) && self.own_reads_as_played(&own.text, own.obtm)).then_some(own)
    }

    /// What leaves a pair ready for no more than may be lost by it, where a coach would speak of it.
    #[must_use]
    pub fn instead(&self) -> Option<&Alternative> {
        let alternatives = &self.choice.as_ref()?.alternatives;
        alternatives.iter().find(|line| self.reads_as_played(line))
    }

    /// Whether a line reads as hands play it here, so that somebody would find it: one for another pair, or for more, only
    /// if it is short.
    fn reads_as_played(&self, line: &Alternative) -> bool {
        if line.same_turns {
            return true;
        }
        if line.pairs.len() > self.pairs.len() && line.obtm > TOO_LONG_FOR_TWO {
            return false;
        }
        if line.pairs == self.pairs {
            return self.own_reads_as_played(&line.text, line.obtm);
        }
        line.obtm < TOO_LONG && !halves_round(&line.text)
    }

    /// The same of a line for the pair that was solved: a long one only if it has no more turns and no half turn of a side.
    fn own_reads_as_played(&self, text: &Moves, obtm: usize) -> bool {
        let long = obtm >= TOO_LONG && (obtm > self.obtm || text.iter().any(half_of_a_side));
        !long && !halves_round(text)
    }
}

/// Whether a line's saving is felt; without times it is taken to be.
fn shows(seconds: Option<f64>, least: f64) -> bool {
    seconds.is_none_or(|seconds| seconds >= least)
}

/// Whether the cube is turned in the hands after the first turn, or before it about another axis than the upright one.
fn turns_the_cube(moves: &Moves) -> bool {
    let upright = |mv: &Move| matches!(mv, Move::Rotation(Axis::Y, _));
    moves.iter().skip_while(|mv| upright(mv)).any(|mv| mv.is_rotation())
}

fn half_of_a_side(mv: &Move) -> bool {
    matches!(mv, Move::Turn(face, Amount::Half) if !matches!(face, Face::U | Face::D))
}

/// Whether somewhere a side face is turned by half, then the top, then the same face by half again.
fn halves_round(moves: &Moves) -> bool {
    let top = |mv: &Move| matches!(mv, Move::Turn(Face::U, _) | Move::Wide(Face::D, _));
    let moves: Vec<Move> = moves.iter().copied().collect();
    moves.windows(3).any(|three| half_of_a_side(&three[0]) && three[0] == three[2] && top(&three[1]))
}

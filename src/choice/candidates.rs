//! The lines that would have done better, found without pricing more of them than must be.

use std::cmp::Ordering;

use super::cost::{EQUAL, grips, written};
use super::prices::Prices;
use super::ways::{Eyes, Ordered, Orders, affordable};
use super::{Alternative, Played, Settings, number};
use crate::cube::{Move, Pair, Position, State};
use crate::search::Line;
use crate::sight::{Moments, Outcome, corner_up, left};

/// The step that lines are compared with.
#[derive(Clone, Copy)]
pub(super) struct Step<'a> {
    pub(super) played: Played<'a>,
    /// What it left.
    pub(super) outcome: Outcome,
    /// What its tokens cost.
    pub(super) own: f64,
    /// The same with the shortest line of the pair solved next.
    pub(super) cost: f64,
}

/// What a search came to.
pub(super) struct Found {
    pub(super) alternatives: Vec<Alternative>,
    pub(super) good_pairs: Vec<Pair>,
}

/// A line with a pair it leaves, before its price is known.
struct Candidate<'a> {
    /// Its place among the lines.
    rank: usize,
    line: &'a Line,
    way: Ordered,
    eyes: &'a Eyes<'a>,
    handling: f64,
    outcome: Outcome,
    next: Pair,
}

pub(super) fn find(step: Step<'_>, lines: &[Line], prices: &mut Prices, settings: &Settings) -> Found {
    let played = step.played;
    let limit = step.cost + settings.slack;
    // One is kept for the verdict even if none is to be shown.
    let wanted = settings.alternatives.max(1);
    let mut best = Best { kept: Vec::new(), wanted, pinned: same_turns(step, limit, prices, settings) };
    let ready = best.pinned.as_ref().map_or(step.outcome, |pinned| pinned.outcome) == Outcome::Ready;
    let mut good_pairs: Vec<Pair> = if ready { played.solves.to_vec() } else { Vec::new() };

    let start = played.moments.positions()[0];
    let grips = grips(start.hold, played.cross, &settings.weights);
    let eyes: Vec<Eyes<'_>> = grips.iter().map(|grip| Eyes::new(grip, start.hold, played.sight)).collect();
    let mut candidates = candidates(step, &start.state, lines, limit, &eyes, prices, settings);
    // Best outcome first, then by the least the whole can cost, so that the price of most need never be asked.
    candidates.sort_by(|a, b| {
        b.outcome.cmp(&a.outcome).then(a.handling.total_cmp(&b.handling)).then(a.rank.cmp(&b.rank))
    });
    for candidate in &candidates {
        let solves = solved_by(candidate.line, played);
        let least = candidate.handling + prices.at_least(candidate.way.end(), candidate.next);
        let better = candidate.outcome > step.outcome && best.may_take(candidate.outcome, least);
        let news =
            candidate.outcome == Outcome::Ready && solves.iter().any(|pair| !good_pairs.contains(pair));
        if !(better || news) || least > limit + EQUAL {
            continue;
        }
        let end = Position { state: *candidate.way.end(), hold: candidate.eyes.grip.hold };
        let price = prices.of(&end, candidate.next);
        let cost = candidate.handling + price.cost;
        if cost > limit + EQUAL {
            continue;
        }
        if candidate.outcome == Outcome::Ready {
            good_pairs.extend(&solves);
        }
        if better {
            best.take(alternative(played, candidate, cost, price.moves.clone(), solves, settings));
        }
    }
    let good_pairs = played.open.iter().copied().filter(|pair| good_pairs.contains(pair)).collect();
    Found { alternatives: best.pinned.into_iter().chain(best.kept).collect(), good_pairs }
}

/// The best alternatives so far, one for each end state.
struct Best {
    /// The same turns with another pair next come first, whatever else there is.
    pinned: Option<Alternative>,
    kept: Vec<Alternative>,
    /// How many to keep in all, at least one.
    wanted: usize,
}

impl Best {
    fn room(&self) -> usize {
        self.wanted - usize::from(self.pinned.is_some())
    }

    /// Whether an alternative with this outcome that costs at least so much could be among the best.
    fn may_take(&self, outcome: Outcome, least: f64) -> bool {
        self.room() > 0
            && (self.kept.len() < self.room()
                || self
                    .kept
                    .last()
                    .is_some_and(|last| (last.outcome, -last.cost) < (outcome, -least + EQUAL)))
    }

    fn take(&mut self, new: Alternative) {
        // The same turns to the same end say it already, unless this way more is seen.
        let said = |pinned: &Alternative| pinned.end.state == new.end.state && pinned.outcome >= new.outcome;
        if self.pinned.as_ref().is_some_and(said) {
            return;
        }
        if let Some(same) = self.kept.iter().position(|old| old.end.state == new.end.state) {
            if before(&new, &self.kept[same]).is_ge() {
                return;
            }
            self.kept.remove(same);
        }
        let at = self.kept.iter().position(|old| before(&new, old).is_lt()).unwrap_or(self.kept.len());
        self.kept.insert(at, new);
        self.kept.truncate(self.room());
    }
}

/// The order in which alternatives are shown: better outcome first, then the cheaper, then fewer tokens.
fn before(a: &Alternative, b: &Alternative) -> Ordering {
    let by_cost = if (a.cost - b.cost).abs() > EQUAL { a.cost.total_cmp(&b.cost) } else { Ordering::Equal };
    b.outcome.cmp(&a.outcome).then(by_cost).then(a.moves.len().cmp(&b.moves.len()))
}

/// The turns as played, with another pair solved next that they left better off: the best of these.
fn same_turns(step: Step<'_>, limit: f64, prices: &mut Prices, settings: &Settings) -> Option<Alternative> {
    let played = step.played;
    let end = *played.moments.last();
    let mut best: Option<Alternative> = None;
    for &pair in played.open {
        if played.solves.contains(&pair) || played.next.contains(&pair) {
            continue;
        }
        let left = left(played.moments, played.cross, pair, played.sight, settings.lead);
        if left.outcome <= step.outcome {
            continue;
        }
        let price = prices.of(&end, pair);
        if step.own + price.cost > limit + EQUAL {
            continue;
        }
        let new = Alternative {
            moves: played.moves.to_vec(),
            solves: played.solves.to_vec(),
            cost: step.own + price.cost,
            outcome: left.outcome,
            next: pair,
            next_moves: price.moves.clone(),
            seen: left.corner_seen.zip(left.edge_seen).map(|(corner, edge)| corner.max(edge)),
            lead: left.lead,
            end,
            same_turns: true,
        };
        if best.as_ref().is_none_or(|best| before(&new, best).is_lt()) {
            best = Some(new);
        }
    }
    best
}

/// Every line with every pair it leaves better off than the played step left its own, or ready (that counts for the
/// pairs that had a good line even where it is no improvement), so far as it can be within the limit.
fn candidates<'a>(
    step: Step<'_>,
    start: &State,
    lines: &'a [Line],
    limit: f64,
    eyes: &'a [Eyes<'a>],
    prices: &Prices,
    settings: &Settings,
) -> Vec<Candidate<'a>> {
    let played = step.played;
    let mut found = Vec::new();
    for (rank, line) in lines.iter().enumerate() {
        let holds = affordable(line.turns(), eyes, &settings.weights, limit);
        if holds.is_empty() {
            continue;
        }
        let orders = Orders::new(*start, line.turns());
        let end = orders.first().end();
        for &next in played.open {
            if line.solves(number(played.cross, next)) || !corner_up(end.corner(next.corner), played.cross) {
                continue;
            }
            let least = prices.at_least(end, next);
            for &(handling, eyes) in holds.iter().filter(|&&(handling, _)| handling + least <= limit + EQUAL)
            {
                let (outcome, way) = orders.best(next, eyes, settings.lead);
                if outcome > step.outcome || outcome == Outcome::Ready {
                    let way = way.clone();
                    found.push(Candidate { rank, line, way, eyes, handling, outcome, next });
                }
            }
        }
    }
    found
}

fn solved_by(line: &Line, played: Played<'_>) -> Vec<Pair> {
    let all = Pair::all(played.cross);
    (0..4).filter(|&i| line.solves(i)).map(|i| all[i]).collect()
}

fn alternative(
    played: Played<'_>,
    candidate: &Candidate<'_>,
    cost: f64,
    next_moves: Vec<Move>,
    solves: Vec<Pair>,
    settings: &Settings,
) -> Alternative {
    let grip = candidate.eyes.grip;
    let mut moves = grip.rotations.clone();
    moves.extend(written(&candidate.way.turns, grip.hold));
    let mut positions = vec![played.moments.positions()[0]];
    for &mv in &moves {
        positions.push(positions[positions.len() - 1].after([mv]));
    }
    let end = positions[positions.len() - 1];
    let left =
        left(Moments::new(&positions, &moves), played.cross, candidate.next, played.sight, settings.lead);
    debug_assert_eq!(left.outcome, candidate.outcome, "two ways to tell what a line leaves");
    Alternative {
        solves,
        cost,
        outcome: left.outcome,
        next: candidate.next,
        next_moves,
        seen: left.corner_seen.zip(left.edge_seen).map(|(corner, edge)| corner.max(edge)),
        lead: left.lead,
        end,
        same_turns: false,
        moves,
    }
}

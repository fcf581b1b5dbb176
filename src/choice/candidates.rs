//! The lines that would have done better, found without pricing more of them than must be.

use std::collections::HashMap;

use super::cost::{Grip, Weights, cheapest, grips, written};
use super::{Alternative, Played, Settings, number};
use crate::cube::{FaceTurn, Hold, Move, Pair, Position, State};
use crate::search::{self, Kind, Line};
use crate::sight::{InSight, Moments, Outcome, Piece, corner_up, left};

/// What a search came to.
pub(super) struct Found {
    pub(super) played_cost: f64,
    pub(super) alternatives: Vec<Alternative>,
    pub(super) good_pairs: Vec<Pair>,
}

/// A line with a pair it leaves, before its price is known.
struct Candidate<'a> {
    line: &'a Line,
    /// The line's turns in the order in which they are played.
    turns: Vec<FaceTurn>,
    grip: &'a Grip,
    handling: f64,
    outcome: Outcome,
    next: Pair,
    end: State,
}

/// Two costs that differ by less are equal: sums of tenths in another order differ in the last bits.
const EQUAL: f64 = 1e-9;

/// No pair is solved in fewer turns: with the cross and other pairs solved before and after, three turns are the
/// least (`f2l-pair-lengths`, checked in the tests of the search).
const SHORTEST: f64 = 3.0;

pub(super) fn find(played: Played<'_>, outcome: Outcome, lines: &[Line], settings: &Settings) -> Found {
    let start = played.moments.positions()[0];
    let end = *played.moments.last();
    let weights = &settings.weights;
    let mut prices = Prices::new(played, settings);
    let own = weights.sum(played.moves);
    let next_cost = |prices: &mut Prices<'_>, pair: Pair| {
        prices.of(&end.state, end.hold, pair, settings.bound()).map(|(cost, _)| cost)
    };
    // A next pair without any line up to the bound is priced as if it took the bound: the least it can take.
    let to_next = played.next.iter().filter_map(|&pair| next_cost(&mut prices, pair)).reduce(f64::min);
    let limit = own + to_next.unwrap_or(settings.bound() as f64) + settings.slack;
    let played_cost = limit - settings.slack;

    let mut alternatives = same_turns(played, outcome, own, limit, &mut prices, settings);
    let has_same_turns = !alternatives.is_empty();
    let mut good_pairs: Vec<Pair> =
        if outcome == Outcome::Ready { played.solves.to_vec() } else { Vec::new() };
    if let Some(first) = alternatives.first()
        && first.outcome == Outcome::Ready
    {
        good_pairs.extend(played.solves);
    }

    let grips = grips(start.hold, played.cross, weights);
    let mut candidates = candidates(played, &start, lines, outcome, limit, &grips, settings);
    // Best outcome first, then by the least the whole can cost; so the price of most need never be asked.
    candidates.sort_by(|a, b| {
        b.outcome
            .cmp(&a.outcome)
            .then(a.handling.total_cmp(&b.handling))
            .then(a.line.turns().len().cmp(&b.line.turns().len()))
    });
    let mut kept: Vec<Alternative> = Vec::new();
    let wanted = settings.alternatives.max(1) - usize::from(has_same_turns).min(settings.alternatives.max(1));
    for candidate in &candidates {
        let solves = solved_by(candidate.line, played);
        let better = candidate.outcome > outcome;
        let news =
            candidate.outcome == Outcome::Ready && solves.iter().any(|pair| !good_pairs.contains(pair));
        let least = candidate.handling + SHORTEST * weights.least();
        let could_be_kept = better
            && (kept.len() < wanted
                || kept
                    .last()
                    .is_some_and(|last| last.outcome == candidate.outcome && least < last.cost - EQUAL));
        if !news && !could_be_kept {
            continue;
        }
        let left = limit - candidate.handling;
        let most = (left / weights.least()).floor().max(0.0) as usize;
        let Some((cost, next_moves)) =
            prices.of(&candidate.end, candidate.grip.hold, candidate.next, most.min(settings.bound()))
        else {
            continue;
        };
        if cost > left + EQUAL {
            continue;
        }
        if candidate.outcome == Outcome::Ready {
            good_pairs
                .extend(solves.iter().filter(|pair| !good_pairs.contains(pair)).copied().collect::<Vec<_>>());
        }
        if better && wanted > 0 {
            keep(
                &mut kept,
                alternative(played, candidate, candidate.handling + cost, next_moves, solves, settings),
                wanted,
            );
        }
    }
    alternatives.extend(kept);
    good_pairs.retain(|pair| played.open.contains(pair));
    good_pairs.sort_by_key(|pair| played.open.iter().position(|open| open == pair));
    good_pairs.dedup();
    Found { played_cost, alternatives, good_pairs }
}

/// Puts an alternative in its place among the best, one for each end state.
fn keep(kept: &mut Vec<Alternative>, new: Alternative, wanted: usize) {
    if let Some(same) = kept.iter().position(|old| old.end.state == new.end.state) {
        if !before(&new, &kept[same]) {
            return;
        }
        kept.remove(same);
    }
    let at = kept.iter().position(|old| before(&new, old)).unwrap_or(kept.len());
    kept.insert(at, new);
    kept.truncate(wanted);
}

/// Whether `a` is to be shown before `b`: better outcome, then cheaper, then fewer turns.
fn before(a: &Alternative, b: &Alternative) -> bool {
    if a.outcome != b.outcome {
        return a.outcome > b.outcome;
    }
    if (a.cost - b.cost).abs() > EQUAL {
        return a.cost < b.cost;
    }
    a.moves.len() < b.moves.len()
}

/// The turns as played, with another pair solved next that they left better off.
fn same_turns(
    played: Played<'_>,
    outcome: Outcome,
    own: f64,
    limit: f64,
    prices: &mut Prices<'_>,
    settings: &Settings,
) -> Vec<Alternative> {
    let end = *played.moments.last();
    let mut found: Vec<Alternative> = Vec::new();
    for &pair in played.open {
        if played.solves.contains(&pair) || played.next.contains(&pair) {
            continue;
        }
        let left = left(played.moments, played.cross, pair, played.sight, settings.lead);
        if left.outcome <= outcome {
            continue;
        }
        let Some((cost, next_moves)) = prices.of(&end.state, end.hold, pair, settings.bound()) else {
            continue;
        };
        if own + cost > limit + EQUAL {
            continue;
        }
        found.push(Alternative {
            moves: played.moves.to_vec(),
            solves: played.solves.to_vec(),
            cost: own + cost,
            outcome: left.outcome,
            next: pair,
            next_moves,
            seen: left.corner_seen.zip(left.edge_seen).map(|(corner, edge)| corner.max(edge)),
            lead: left.lead,
            end,
            same_turns: true,
        });
    }
    let mut best: Vec<Alternative> = Vec::new();
    for alternative in found {
        keep(&mut best, alternative, 1);
    }
    best
}

/// Every line with every pair it leaves at least as well off as the played step left its own (ready pairs count
/// even where they are no improvement, for the pairs that had a good line), that can be within the limit.
fn candidates<'a>(
    played: Played<'_>,
    start: &Position,
    lines: &'a [Line],
    outcome: Outcome,
    limit: f64,
    grips: &'a [Grip],
    settings: &Settings,
) -> Vec<Candidate<'a>> {
    let weights = &settings.weights;
    let before_rotation = InSight::new(start.hold, played.sight);
    let mut found = Vec::new();
    for line in lines {
        // Of equally cheap holds the one in which most is seen; a dearer hold is never taken.
        let (_, handling) = cheapest(line.turns(), grips, weights);
        if handling + SHORTEST * weights.least() > limit + EQUAL {
            continue;
        }
        let end = line.end(start.state);
        let open = played.open.iter().copied().filter(|pair| {
            !line.solves(number(played.cross, *pair)) && corner_up(end.corner(pair.corner), played.cross)
        });
        for next in open {
            let mut best: Option<(Outcome, &Grip, Vec<FaceTurn>)> = None;
            for grip in grips {
                let cost = grip.cost + weights.sum(&written(line.turns(), grip.hold));
                if cost > handling + EQUAL {
                    continue;
                }
                let eyes = if grip.rotations.is_empty() { None } else { Some(before_rotation) };
                for turns in orders(line.turns(), grip.hold) {
                    let seen = in_time(start.state, &turns, next, eyes, grip.hold, played, settings.lead);
                    let outcome = if seen { Outcome::Ready } else { Outcome::Up };
                    if best.as_ref().is_none_or(|(so_far, ..)| outcome > *so_far) {
                        best = Some((outcome, grip, turns));
                    }
                }
            }
            let Some((left, grip, turns)) = best else { continue };
            if left > outcome || left == Outcome::Ready {
                found.push(Candidate { line, turns, grip, handling, outcome: left, next, end });
            }
        }
    }
    found
}

/// The turns of a line in every order that comes to the same: two neighbours of opposite layers may change places.
/// The search keeps one order of them, but what is in sight between the two depends on which goes first. Written in
/// `hold`, the first order has `U` before `D`, `F` before `B` and `R` before `L`.
fn orders(turns: &[FaceTurn], hold: Hold) -> impl Iterator<Item = Vec<FaceTurn>> {
    let mut turns = turns.to_vec();
    let pairs: Vec<usize> =
        (1..turns.len()).filter(|&i| turns[i - 1].centre.opposite() == turns[i].centre).collect();
    for &i in &pairs {
        turns[i - 1..=i].sort_by_key(|turn| hold.face(turn.centre));
    }
    (0..1_usize << pairs.len()).map(move |bits| {
        let mut order = turns.clone();
        pairs.iter().enumerate().filter(|(k, _)| bits >> k & 1 != 0).for_each(|(_, &i)| order.swap(i - 1, i));
        order
    })
}

/// Whether both pieces of the pair are seen with enough turns of the line still to make: the same question as
/// [`left`] answers, for a line of outer turns in one hold, where it can be answered without a list of positions.
fn in_time(
    mut state: State,
    turns: &[FaceTurn],
    pair: Pair,
    before_rotation: Option<InSight>,
    hold: Hold,
    played: Played<'_>,
    lead: usize,
) -> bool {
    let sight = InSight::new(hold, played.sight);
    let (corner, edge) = (Piece::Corner(pair.corner), Piece::Edge(pair.edge));
    let mut corner_seen = false;
    let mut edge_seen = false;
    let mut look = |eyes: InSight, state: State| {
        let position = Position { state, hold };
        corner_seen |= eyes.sees(corner, &position);
        edge_seen |= eyes.sees(edge, &position);
        corner_seen && edge_seen
    };
    if before_rotation.is_some_and(|eyes| look(eyes, state)) || look(sight, state) {
        return true;
    }
    let needed = lead.min(turns.len());
    for &turn in &turns[..turns.len() - needed] {
        state.turn(turn);
        if look(sight, state) {
            return true;
        }
    }
    false
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
    let start = played.moments.positions()[0];
    let mut moves = candidate.grip.rotations.clone();
    moves.extend(written(&candidate.turns, candidate.grip.hold));
    let mut positions = vec![start];
    for &mv in &moves {
        let mut position = positions[positions.len() - 1];
        position.play(mv);
        positions.push(position);
    }
    let end = positions[positions.len() - 1];
    let left =
        left(Moments::new(&positions, &moves), played.cross, candidate.next, played.sight, settings.lead);
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

/// A cost and the tokens that it is of.
type Price = (f64, Vec<Move>);

/// The cost of the shortest line of a pair from a state and hold, remembered.
struct Prices<'a> {
    played: Played<'a>,
    kind: Kind,
    weights: Weights,
    known: HashMap<(State, Hold, Pair), Option<Price>>,
}

impl<'a> Prices<'a> {
    fn new(played: Played<'a>, settings: &Settings) -> Prices<'a> {
        Prices { played, kind: settings.kind, weights: settings.weights, known: HashMap::new() }
    }

    /// Of the shortest lines of the pair the cheapest in its cheapest hold: its cost and its tokens. `None` if there is
    /// none of at most `bound` turns.
    fn of(&mut self, state: &State, hold: Hold, pair: Pair, bound: usize) -> Option<Price> {
        let key = (*state, hold, pair);
        if let Some(known) = self.known.get(&key)
            && known.is_some()
        {
            return known.clone();
        }
        let grips = grips(hold, self.played.cross, &self.weights);
        let mut best: Option<Price> = None;
        let cross = self.played.cross;
        for line in search::shortest_lines(state, cross, number(cross, pair), self.kind, bound) {
            let (grip, cost) = cheapest(line.turns(), &grips, &self.weights);
            if best.as_ref().is_none_or(|(so_far, _)| cost < so_far - EQUAL) {
                let mut moves = grip.rotations.clone();
                moves.extend(written(line.turns(), grip.hold));
                best = Some((cost, moves));
            }
        }
        self.known.insert(key, best.clone());
        best
    }
}

//! What may be offered instead of the turns played.

use std::cmp::Ordering;

use super::lines::Priced;
use super::{CLEANER_FROM, Judge, Next, Offer, Played};
use crate::cube::{FaceTurn, Pair, PairSet, Position, State};
use crate::hands::{HalfUnits, Handling, Way, canonical};
use crate::sight::Moments;
use crate::sight::grades::{Left, Looked};

/// The step that lines are compared with.
pub(super) struct Compared<'a> {
    pub played: &'a Played<'a>,
    /// Its turns in the cube's own frame.
    pub turns: &'a [FaceTurn],
    /// How they can be played.
    pub handling: &'a Handling,
    pub cost: HalfUnits,
    /// What it left of every open pair.
    pub left: &'a [Left],
    /// What it left of the pair solved next.
    pub next: Left,
    /// Its price with that pair.
    pub price: Option<HalfUnits>,
}

/// What may be offered, as far as it can matter.
pub(super) struct Offers {
    /// The best first. Those left out cost more than the first of a late step and more than slack allows, or than a
    /// cleaner line may.
    pub all: Vec<Offer>,
    /// The pairs for which something may be offered.
    pub pairs: PairSet,
}

/// A pair that a way of a line leaves ready, priced.
struct Candidate<'w> {
    way: &'w Way,
    next: Option<(Left, HalfUnits)>,
    price: HalfUnits,
}

impl Candidate<'_> {
    /// The order in which the ways of one line are preferred: the lower price, more lead, the order of tokens.
    fn before(&self, other: &Candidate<'_>) -> Ordering {
        let lead = |candidate: &Candidate<'_>| candidate.next.and_then(|(left, _)| left.lead);
        self.price
            .cmp(&other.price)
            .then(lead(other).cmp(&lead(self)))
            .then_with(|| self.way.moves.cmp(&other.way.moves))
    }
}

/// The order in which offers are preferred: by price; of equal price the same turns first, then the lower cost of the
/// line, fewer turns, the order of tokens.
fn before(a: &Offer, b: &Offer) -> Ordering {
    (a.price, !a.same_turns, a.cost, a.turns)
        .cmp(&(b.price, !b.same_turns, b.cost, b.turns))
        .then_with(|| a.moves.cmp(&b.moves))
}

impl Judge<'_> {
    /// What may be offered instead of a step, of lines that are near the cheapest of their pairs and read plainly.
    pub(super) fn offers(&self, step: &Compared<'_>, near: &[Priced]) -> Offers {
        let mut offers = self.same_turns(step);
        let start = step.played.moments.positions()[0];
        let open = self.set(step.played.open);
        let played_turns = canonical(step.turns);
        // Nobody begins another pair that was still to be looked for.
        let may_begin_with = self.set(step.played.solves) | self.set(step.played.found_before);
        let may_begin = |line: PairSet| !(line & may_begin_with).is_empty();
        let mut lines: Vec<(HalfUnits, State, &Priced)> = near
            .iter()
            .filter(|line| line.solves.len() >= step.played.solves.len() && may_begin(line.solves))
            .filter(|line| {
                line.line.turns().len() != played_turns.len() || canonical(line.line.turns()) != played_turns
            })
            .map(|line| {
                let end = line.line.end(start.state);
                let then = self.each(open - line.solves).map(|pair| self.then_at_least(&end, pair)).min();
                (line.cost + then.unwrap_or(HalfUnits::ZERO), end, line)
            })
            .collect();
        // By the least that the whole can cost, so that the price of most need never be asked.
        lines.sort_by_key(|&(least, ..)| least);
        for (least, end, line) in lines {
            let wanted = self.limit(step, &offers).is_none_or(|limit| least <= limit);
            if !wanted && offers.pairs.is_superset(line.solves) {
                continue;
            }
            let ways = line.handling(self).ways(start.hold);
            let mut ready = self.ready(step.played, &start, line, &ways);
            ready.retain(|(way, left)| {
                let end = Position { state: end, hold: way.hold };
                left.is_none_or(|left| self.goes_on_plainly(&end, left.pair))
            });
            if ready.is_empty() {
                continue;
            }
            offers.pairs |= line.solves;
            if wanted {
                let candidates = ready.into_iter().filter_map(|(way, left)| {
                    let end = Position { state: end, hold: way.hold };
                    let next = left.map(|left| Some((left, self.then_cost(&end, left.pair)?)));
                    match next {
                        None => Some(Candidate { way, next: None, price: line.cost }),
                        Some(next) => {
                            let (left, then) = next?;
                            Some(Candidate { way, next: Some((left, then)), price: line.cost + then })
                        }
                    }
                });
                let best = candidates.reduce(|best, one| if one.before(&best).is_lt() { one } else { best });
                if let Some(best) = best {
                    offers.all.push(self.offer(&start, line.cost, best, false));
                }
            }
        }
        offers.all.sort_by(before);
        offers
    }

    /// What nothing that is still to be found may exceed and matter; `None` if anything matters.
    fn limit(&self, step: &Compared<'_>, offers: &Offers) -> Option<HalfUnits> {
        let price = step.price?;
        if step.next.ready {
            return Some(price - CLEANER_FROM);
        }
        let best = offers.all.iter().map(|offer| offer.price).min()?;
        Some(best.max(price + self.settings.slack))
    }

    /// The turns as played, with each other open pair that they left ready, from the hold in which the step really ended:
    /// there the hands are, and from there its line has to be played.
    fn same_turns(&self, step: &Compared<'_>) -> Offers {
        let played = step.played;
        let start = played.moments.positions()[0];
        let end = played.moments.last();
        let way = Way { moves: played.moves.to_vec(), hold: end.hold };
        let mut offers = Offers { all: Vec::new(), pairs: PairSet::EMPTY };
        let others = step.left.iter().filter(|left| left.ready && !played.next.contains(&left.pair));
        for left in others.filter(|left| self.goes_on_plainly(end, left.pair)) {
            if let Some(then) = self.then_cost(end, left.pair) {
                let next = Some((*left, then));
                let as_played = Candidate { way: &way, next, price: step.cost + then };
                offers.all.push(self.offer(&start, step.cost, as_played, true));
                offers.pairs |= self.set(played.solves);
            }
        }
        offers
    }

    /// Every pair that a way of a line leaves ready; `None` for a line that completes the first two layers, which counts as
    /// leaving one.
    pub(super) fn ready<'w>(
        &self,
        played: &Played<'_>,
        start: &Position,
        line: &Priced,
        ways: &'w [Way],
    ) -> Vec<(&'w Way, Option<Left>)> {
        let still_open = self.set(played.open) - line.solves;
        if still_open.is_empty() {
            return ways.iter().map(|way| (way, None)).collect();
        }
        let solves: Vec<Pair> = self.each(line.solves).collect();
        let mut positions = Vec::with_capacity(ways[0].moves.len() + 1);
        let mut ready = Vec::new();
        for way in ways {
            positions.clear();
            positions.push(*start);
            for &mv in &way.moves {
                let mut position = positions[positions.len() - 1];
                position.play(mv);
                positions.push(position);
            }
            let moments = Moments::new(&positions, &way.moves);
            let looked = Looked::new(moments, self.solver.cross, played.open, &solves, self.solver.sight);
            let left = self.each(still_open).map(|pair| looked.left(pair, self.settings.lead));
            ready.extend(left.filter(|left| left.ready).map(|left| (way, Some(left))));
        }
        ready
    }

    fn offer(&self, start: &Position, cost: HalfUnits, candidate: Candidate<'_>, same_turns: bool) -> Offer {
        let Candidate { way, next, price } = candidate;
        let end = start.after(way.moves.iter().copied());
        let next = next.map(|(left, _)| Next {
            left,
            then: self.plainest_then(&end, left.pair).expect("its cost is known"),
        });
        Offer {
            turns: way.moves.iter().map(|mv| mv.obtm()).sum(),
            moves: way.moves.clone(),
            solves: self.newly_solved(start, &end),
            end,
            cost,
            next,
            price,
            same_turns,
        }
    }

    /// The pairs of a set.
    pub(super) fn each(&self, set: PairSet) -> impl Iterator<Item = Pair> {
        let pairs = self.pairs;
        set.iter().map(move |slot| pairs[slot.index()])
    }

    /// Pairs as a set.
    pub(super) fn set(&self, pairs: &[Pair]) -> PairSet {
        pairs.iter().map(|pair| pair.slot()).collect()
    }
}

/// The best of the offers within a price, one for each end.
pub(super) fn best_within(offers: &[Offer], price: Option<HalfUnits>, most: usize) -> Vec<Offer> {
    let mut best: Vec<Offer> = Vec::new();
    for offer in offers.iter().filter(|offer| price.is_none_or(|price| offer.price <= price)) {
        if best.len() < most && best.iter().all(|other| other.end.state != offer.end.state) {
            best.push(offer.clone());
        }
    }
    best
}

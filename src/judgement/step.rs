//! One step judged.

use super::lines::{Near, Priced, bound, near};
use super::offers::{Compared, best_within};
use super::rest::Rest;
use super::{
    CLEANER_FROM, Choice, Cleaner, Cross, Judge, Judged, OWN_LINE_FROM, Offer, Open, OtherPair, OwnLine,
    Played, Verdict,
};
use crate::cube::{FaceTurn, Move, Pair, Position};
use crate::hands::{HalfUnits, Handling, Way, turns_of};
use crate::search;
use crate::sight::grades::{Left, Looked};

impl Judge<'_> {
    /// What the turns of a step cost, by the least of all ways to play them.
    #[must_use]
    pub fn cost(&self, played: &Played<'_>) -> HalfUnits {
        let hold = played.moments.positions()[0].hold;
        Handling::new(&turns_of(hold, played.moves), self.solver.cross, &self.settings.weights).cost(hold)
    }

    /// What a step left of every open pair, in the order of [`Pair::all`].
    #[must_use]
    pub fn open(&self, played: &Played<'_>) -> Vec<Open> {
        let end = played.moments.last();
        let left = self.left(played);
        left.into_iter().map(|left| Open { left, then: self.then(end, left.pair) }).collect()
    }

    /// What the eyes had of every pair that was still open after a step.
    pub(super) fn left(&self, played: &Played<'_>) -> Vec<Left> {
        let looked =
            Looked::new(played.moments, self.solver.cross, played.open, played.solves, self.solver.sight);
        let still_open = self.set(played.open) - self.set(played.solves);
        self.each(still_open).map(|pair| looked.left(pair, self.settings.lead)).collect()
    }

    /// The pair solved next; of two solved at once the one that stands for both ([`Left::rank`]).
    fn stands_for(open: &[Open], next: &[Pair]) -> Option<Left> {
        let of_next = open.iter().filter(|open| next.contains(&open.left.pair));
        let best = of_next.reduce(|best, one| {
            let rank = |open: &Open| open.left.rank(open.then.as_ref().map(|then| then.cost));
            if rank(one) > rank(best) { one } else { best }
        });
        best.map(|open| open.left)
    }

    /// Judges a cross step.
    #[must_use]
    pub fn cross(&self, played: &Played<'_>) -> Cross {
        let open = self.open(played);
        let next = Self::stands_for(&open, played.next);
        let mut others: Vec<OtherPair> = Vec::new();
        if let Some(next) = next.filter(|next| !next.ready) {
            let cost = |pair: Pair| open.iter().find(|open| open.left.pair == pair)?.then.as_ref();
            let taken = cost(next.pair).map(|then| then.cost);
            let ready = open.iter().filter(|open| open.left.ready && !played.next.contains(&open.left.pair));
            others.extend(ready.filter_map(|open| {
                let then = open.then.clone()?;
                Some(OtherPair { left: open.left, extra: then.cost - taken?, then })
            }));
            others.sort_by_key(|other| other.extra);
        }
        Cross { open, next, others }
    }

    /// Judges a pair step. `really_played` is what was played from its start to the end of the pairs, each step costed from
    /// the hold it began in; `None` if they are not all in.
    ///
    /// # Panics
    /// If the cross is not whole at its start and its end.
    #[must_use]
    pub fn pair_step(&self, played: &Played<'_>, really_played: Option<HalfUnits>) -> Judged {
        let (cross, settings) = (self.solver.cross, self.settings);
        let start = played.moments.positions()[0];
        let turns = turns_of(start.hold, played.moves);
        let handling = Handling::new(&turns, cross, &settings.weights);
        let cost = handling.cost(start.hold);
        let played_turns = played.moves.iter().map(|mv| mv.obtm()).sum();
        let open = self.open(played);

        let within = bound(self, &start.state, self.set(played.open), played_turns);
        let own_pair = match played.solves {
            &[only] => Some(only),
            _ => None,
        };
        let near = near(self, &start, within, own_pair);

        let choice = Self::stands_for(&open, played.next).map(|next| {
            let left: Vec<Left> = open.iter().map(|open| open.left).collect();
            let price = self.price_of_played(&handling, played, next.pair).map(|then| cost + then);
            let step =
                Compared { played, turns: &turns, handling: &handling, cost, left: &left, next, price };
            self.choice(&step, &near, really_played)
        });

        let cheapest_own = near.own.first().map(|line| line.cost);
        let cleaner = choice.as_ref().and_then(|choice| choice.cleaner.as_ref());
        let told_by_cleaner = cleaner.is_some_and(|cleaner| cleaner.offer.solves == played.solves);
        let own_line =
            (!told_by_cleaner).then(|| self.own_line(played, cost, &near.own, choice.as_ref())).flatten();
        Judged {
            cost,
            played_turns,
            is_hand_line: search::is_hand_line(&turns, cross),
            within,
            lines: near.count,
            open,
            choice,
            cheapest_own,
            own_line,
        }
    }

    /// What the pair solved next costs after the turns played, in the best of their ways.
    fn price_of_played(&self, handling: &Handling, played: &Played<'_>, next: Pair) -> Option<HalfUnits> {
        self.ends(handling, played).iter().filter_map(|end| self.then_cost(end, next)).min()
    }

    /// The positions to which the ways of the turns played lead, each once.
    fn ends(&self, handling: &Handling, played: &Played<'_>) -> Vec<Position> {
        let mut ends: Vec<Position> = Vec::new();
        for way in handling.ways(played.moments.positions()[0].hold) {
            let end = Position { hold: way.hold, ..*played.moments.last() };
            if !ends.contains(&end) {
                ends.push(end);
            }
        }
        ends
    }

    fn choice(&self, step: &Compared<'_>, near: &Near, really_played: Option<HalfUnits>) -> Choice {
        let settings = self.settings;
        let offers = self.offers(step, &near.lines);
        let limit = step.price.map(|price| price + settings.slack);
        let late = !step.next.ready;
        // The verdict has a witness even where no alternative is to be shown.
        let mut alternatives =
            if late { best_within(&offers.all, limit, settings.alternatives.max(1)) } else { Vec::new() };
        let verdict = match (late, alternatives.is_empty()) {
            (false, _) => Verdict::Kept,
            (true, false) => Verdict::Avoidable,
            (true, true) => Verdict::Forced,
        };
        alternatives.truncate(settings.alternatives);
        Choice {
            next: step.next,
            price: step.price,
            verdict,
            alternatives,
            cheapest: late.then(|| offers.all.first().cloned()).flatten(),
            cleaner: self.cleaner(step, &offers.all, really_played),
            offered: self.each(offers.pairs).collect(),
        }
    }

    /// The first of the offers that is clearly cheaper and does not merely put off what it saves.
    fn cleaner(
        &self,
        step: &Compared<'_>,
        offers: &[Offer],
        really_played: Option<HalfUnits>,
    ) -> Option<Cleaner> {
        let price = step.price?;
        let mut offers = offers.iter().take_while(|offer| offer.price + CLEANER_FROM <= price).peekable();
        offers.peek()?;
        let mut rest = Rest::default();
        let ends = self.ends(step.handling, step.played);
        let after_played = ends.iter().filter_map(|end| rest.after(self, end)).min();
        let played_to_the_end = step.cost + after_played?;
        let most = really_played.map_or(played_to_the_end, |really| really.min(played_to_the_end));
        offers.find_map(|offer| {
            let to_the_end = if offer.same_turns {
                played_to_the_end
            } else {
                let start = step.played.moments.positions()[0];
                let turns = turns_of(start.hold, &offer.moves);
                offer.cost + self.least_rest(&mut rest, &start, &turns)?
            };
            (to_the_end <= most).then(|| Cleaner {
                offer: offer.clone(),
                saves: price - offer.price,
                to_the_end,
                played_to_the_end,
                really_played,
            })
        })
    }

    /// The cheapest line of the pair of a step, where it is clearly cheaper than the turns played and does not lose that
    /// again: where a pair step follows, the line and a pair that it leaves ready together have to save as much. Of several
    /// the one with the least to come, of fewest turns, then the first in the order of tokens. None where two pairs came
    /// in next: what set them up was worth its turns.
    fn own_line(
        &self,
        played: &Played<'_>,
        cost: HalfUnits,
        lines: &[Priced],
        choice: Option<&Choice>,
    ) -> Option<OwnLine> {
        let start = played.moments.positions()[0];
        let saves = cost - lines.first()?.cost;
        if saves < OWN_LINE_FROM || played.next.len() > 1 {
            return None;
        }
        let mut ways: Vec<(HalfUnits, usize, Vec<Move>)> = Vec::new();
        for line in lines {
            let turns = |way: &Way| way.moves.iter().map(|mv| mv.obtm()).sum::<usize>();
            let all = line.handling(self).ways(start.hold);
            if choice.is_none() {
                ways.extend(all.into_iter().map(|way| (line.cost, turns(&way), way.moves)));
                continue;
            }
            ways.extend(self.ready(played, &start, line, &all).into_iter().filter_map(|(way, left)| {
                let then = match left {
                    Some(left) => {
                        let state = line.line.end(start.state);
                        self.then_cost(&Position { state, hold: way.hold }, left.pair)?
                    }
                    None => HalfUnits::ZERO,
                };
                Some((line.cost + then, turns(way), way.moves.clone()))
            }));
        }
        let (price, turns, moves) = ways.into_iter().min()?;
        let saves = match choice {
            Some(choice) => saves.min(choice.price? - price),
            None => saves,
        };
        let end = start.after(moves.iter().copied());
        (saves >= OWN_LINE_FROM).then(|| OwnLine { end, turns, moves, cost: lines[0].cost, saves })
    }

    /// The least that is left to do after turns, over all their ways of least cost.
    fn least_rest(&self, rest: &mut Rest, start: &Position, turns: &[FaceTurn]) -> Option<HalfUnits> {
        let state = turns.iter().fold(start.state, |state, &turn| state.turned(turn));
        let handling = Handling::new(turns, self.solver.cross, &self.settings.weights);
        let ways = handling.ways(start.hold);
        ways.iter().filter_map(|way| rest.after(self, &Position { state, hold: way.hold })).min()
    }
}

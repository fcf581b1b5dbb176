//! What could have been done instead (docs/method.md): prices, offers, verdict, alternatives, cleaner, own line.

use std::cmp::Reverse;
use std::collections::BTreeSet;

use cornerwise::cube::{Colour, Face, Move};

use super::cost::{Turn, merged};
use super::lines::{Book, Line};
use super::sight::Step;
use super::stickers::{Cube, Pair, turns};

/// What a coach settles beforehand; costs in half units.
#[derive(Debug, Clone)]
pub struct Settings {
    pub within: usize,
    pub lead: usize,
    pub slack: u32,
}

/// A pair step as it was played.
pub struct Played<'a> {
    pub start: Cube,
    pub moves: &'a [Move],
    pub cross: Colour,
    pub in_hand: &'a [Pair],
    /// What the pair steps after it brought in, with their moves.
    pub later: &'a [(Vec<Pair>, Vec<Move>)],
    pub sight: &'a [Face],
    /// The pairs that the step before found with a turn to go; all open ones where there is none.
    pub found_before: &'a [Pair],
}

/// Something to do, with what it leaves and costs. `next` are the pairs that fit it equally well.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Offer {
    pub same_turns: bool,
    pub turns: Vec<Turn>,
    pub solves: Vec<Pair>,
    pub next: BTreeSet<Pair>,
    pub cost: u32,
    pub price: u32,
    /// `None` after a line that completes the first two layers.
    pub lead: Option<usize>,
    /// The cube it ends in, whichever way it is held.
    pub end: Cube,
    /// Its cost and what is then left to do, the cheapest pair first.
    pub whole: u32,
}

/// Everything that is said of a pair step.
#[derive(Debug)]
pub struct Judged {
    pub within: usize,
    /// How many hand lines there are of at most so many turns.
    pub lines: usize,
    pub cost: u32,
    /// Of the pair solved next, or the one of several that stands for all. Nothing at the last pair.
    pub price: Option<u32>,
    pub ready: bool,
    /// That pair.
    pub next: Option<Pair>,
    pub verdict: Option<&'static str>,
    /// All that may be offered, the best first.
    pub offers: Vec<Offer>,
    /// Those that an avoidable step shows, all of them.
    pub alternatives: Vec<Offer>,
    /// The cleaner ones, the cheapest first.
    pub cleaner: Vec<Offer>,
    /// The cost of the cheapest line of the pair solved, if the step solved one.
    pub own_line: Option<u32>,
    /// What that line saves, alone and, where a pair step follows, with what it leaves ready; nothing if two pairs came
    /// in next or it leaves nothing ready.
    pub own_saves: Option<i64>,
    /// Open pairs with something on offer; the turns played are not.
    pub good: BTreeSet<Pair>,
    /// What was played to the end of the pairs, if they are all in.
    pub really: Option<u32>,
    pub whole: u32,
}

/// The best a line can be: what is left ready, the price, the lead, the next pairs that have them.
struct Best {
    ready: bool,
    price: u32,
    lead: Option<usize>,
    next: BTreeSet<Pair>,
}

impl Best {
    fn rank(&self) -> (bool, u32, Reverse<Option<usize>>) {
        (!self.ready, self.price, Reverse(self.lead))
    }

    fn or(self, other: Best) -> Best {
        match self.rank().cmp(&other.rank()) {
            std::cmp::Ordering::Less => self,
            std::cmp::Ordering::Greater => other,
            std::cmp::Ordering::Equal => {
                let next = self.next.union(&other.next).copied().collect();
                Best { next, ..self }
            }
        }
    }
}

impl Book {
    /// What a line is, of all its ways and of all pairs it leaves; `plainly` if what comes after has to read plainly, too.
    fn best(&mut self, played: &Played<'_>, line: &Line, settings: &Settings, plainly: bool) -> Best {
        let solved = played.start.pairs_in(played.cross);
        let mut best: Option<Best> = None;
        for way in self.ways(&played.start, played.cross, &line.turns) {
            let moments = played.start.moments(&way.tokens);
            let end = moments[moments.len() - 1];
            let step = Step {
                moments: &moments,
                moves: &way.tokens,
                cross: played.cross,
                solved: &solved,
                in_hand: &line.solves,
                sight: played.sight,
            };
            let all_in = Best { ready: true, price: way.cost, lead: None, next: BTreeSet::new() };
            let mut of_way: Vec<Best> = Vec::new();
            for (next, found, _) in step.found(settings.lead) {
                let then = self.then(&end, played.cross, next);
                of_way.push(Best {
                    ready: found.ready && (then.simple || !plainly),
                    price: way.cost + then.cost,
                    lead: found.lead,
                    next: BTreeSet::from([next]),
                });
            }
            let of_way = of_way.into_iter().reduce(Best::or).unwrap_or(all_in);
            best = Some(match best {
                Some(best) => best.or(of_way),
                None => of_way,
            });
        }
        best.expect("every line can be played")
    }

    /// The least cost of turns from a cube as it is held, with the least that is left to do after them.
    fn whole(&mut self, start: &Cube, cross: Colour, turns: &[Turn]) -> (u32, u32) {
        let ways = self.ways(start, cross, turns);
        let rests = ways.iter().map(|way| self.rest(&start.after(&way.tokens), cross));
        (ways[0].cost, ways[0].cost + rests.min().expect("a way"))
    }

    /// What is said of a pair step.
    pub fn judge(&mut self, played: &Played<'_>, settings: &Settings) -> Judged {
        let cross = played.cross;
        let start = played.start;
        let solved = start.pairs_in(cross);
        let mut open = crate::support::space::pairs_of(cross);
        open.retain(|pair| !solved.contains(pair));

        let own = merged(&start, played.moves);
        let length: usize = played.moves.iter().map(|&mv| turns(mv)).sum();
        let shortest =
            open.iter().map(|&pair| self.shortest(&start, cross, pair)).min().expect("an open pair");
        let within = (length.max(shortest) + 1).min(settings.within).max(shortest);
        let lines = self.lines(&start, cross, within);
        let costs: Vec<u32> =
            lines.iter().map(|line| self.ways(&start, cross, &line.turns)[0].cost).collect();

        // The turns played.
        let (cost, whole) = self.whole(&start, cross, &own);
        let moments = start.moments(played.moves);
        let seen = Step {
            moments: &moments,
            moves: played.moves,
            cross,
            solved: &solved,
            in_hand: played.in_hand,
            sight: played.sight,
        };
        let ends: Vec<Cube> =
            self.ways(&start, cross, &own).iter().map(|way| start.after(&way.tokens)).collect();
        let left: Vec<(Pair, super::sight::Found, u32)> = seen
            .found(settings.lead)
            .into_iter()
            .map(|(pair, found, _)| {
                let then = ends.iter().map(|end| self.then(end, cross, pair).cost).min().expect("a way");
                (pair, found, cost + then)
            })
            .collect();
        let next: &[Pair] = played.later.first().map_or(&[], |(pairs, _)| pairs);
        let taken = left.iter().filter(|(pair, ..)| next.contains(pair));
        let taken = taken.min_by_key(|(_, found, price)| (!found.ready, Reverse(found.lead), *price));
        let (ready, price) = taken.map_or((false, None), |(_, found, price)| (found.ready, Some(*price)));
        let stands = taken.map(|(pair, ..)| *pair);

        let all_in = solved.len() + played.in_hand.len() == 4
            || 4 == solved.len()
                + played.in_hand.len()
                + played.later.iter().map(|(p, _)| p.len()).sum::<usize>();
        let mut at = start.after(played.moves);
        let mut really = cost;
        for (_, moves) in played.later {
            let turns = merged(&at, moves);
            really += self.ways(&at, cross, &turns)[0].cost;
            at = at.after(moves);
        }
        let really = all_in.then_some(really);

        // What may be offered: nothing that had still to be found, unless it is what was played.
        let may_begin = |solves: &[Pair]| {
            solves.iter().any(|pair| played.found_before.contains(pair) || played.in_hand.contains(pair))
        };
        let mut offers: Vec<Offer> = Vec::new();
        for (pair, found, _) in &left {
            let end = &moments[moments.len() - 1];
            if found.ready && !next.contains(pair) && !next.is_empty() && self.then(end, cross, *pair).simple
            {
                offers.push(Offer {
                    same_turns: true,
                    turns: own.clone(),
                    solves: played.in_hand.to_vec(),
                    next: BTreeSet::from([*pair]),
                    cost,
                    // From where the hands are.
                    price: cost + self.then(end, cross, *pair).cost,
                    lead: found.lead,
                    end: start.after(played.moves).upright(),
                    whole,
                });
            }
        }
        for (line, &line_cost) in lines.iter().zip(&costs) {
            let same = lines.iter().zip(&costs).filter(|(other, _)| other.solves == line.solves);
            let cheapest = same.map(|(_, &cost)| cost).min().expect("the line itself");
            if line.turns == own
                || line.solves.len() < played.in_hand.len()
                || !line.simple
                || line_cost > cheapest + 1
                || !may_begin(&line.solves)
            {
                continue;
            }
            let best = self.best(played, line, settings, true);
            if best.ready {
                let way = &self.ways(&start, cross, &line.turns)[0];
                let (_, whole) = self.whole(&start, cross, &line.turns);
                offers.push(Offer {
                    same_turns: false,
                    turns: line.turns.clone(),
                    solves: line.solves.clone(),
                    next: best.next,
                    cost: line_cost,
                    price: best.price,
                    lead: best.lead,
                    end: start.after(&way.tokens).upright(),
                    whole,
                });
            }
        }
        offers.sort_by_key(|offer| (offer.price, !offer.same_turns, offer.cost, offer.turns.len()));

        let good = offers.iter().flat_map(|offer| offer.solves.iter().copied()).collect();
        let verdict = price.map(|price| match offers.first() {
            _ if ready => "kept",
            Some(best) if best.price <= price + settings.slack => "avoidable",
            _ => "forced",
        });
        let alternatives = match (verdict, price) {
            (Some("avoidable"), Some(price)) => {
                offers.iter().filter(|offer| offer.price <= price + settings.slack).cloned().collect()
            }
            _ => Vec::new(),
        };
        let is_cleaner = |offer: &&Offer| {
            price.is_some_and(|price| offer.price + 4 <= price)
                && offer.whole <= whole
                && really.is_none_or(|really| offer.whole <= really)
        };
        let cleaner = offers.iter().filter(is_cleaner).cloned().collect();
        let own_line = match played.in_hand {
            [pair] => {
                let of_pair =
                    lines.iter().zip(&costs).filter(|(line, _)| line.simple && line.solves.contains(pair));
                of_pair.map(|(_, &cost)| cost).min()
            }
            _ => None,
        };
        let mut own_saves = own_line.map(|own| i64::from(cost) - i64::from(own));
        if !next.is_empty() && own_saves.is_some() {
            let mut least: Option<u32> = None;
            for (line, &line_cost) in lines.iter().zip(&costs) {
                let of_pair = line.simple && played.in_hand.iter().all(|pair| line.solves.contains(pair));
                if of_pair && Some(line_cost) == own_line {
                    let best = self.best(played, line, settings, false);
                    if best.ready {
                        least = Some(least.map_or(best.price, |least| least.min(best.price)));
                    }
                }
            }
            let together = price.zip(least).map(|(price, least)| i64::from(price) - i64::from(least));
            own_saves = own_saves.zip(together).map(|(alone, together)| alone.min(together));
            own_saves = own_saves.filter(|_| next.len() == 1);
        }
        Judged {
            within,
            lines: lines.len(),
            cost,
            price,
            ready,
            next: stands,
            verdict,
            offers,
            alternatives,
            cleaner,
            own_line,
            own_saves,
            good,
            really,
            whole,
        }
    }
}

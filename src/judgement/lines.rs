//! Which lines of a position are worth a look: near the cheapest of their pairs, and readable.
//!
//! A position may have tens of millions of lines, and a few of them are worth a look. So lines are counted as they are
//! found, and what cannot be among those few any more is forgotten at once. What comes out does not depend on the order in
//! which they are found.

use super::{Judge, NEAR_CHEAPEST};
use crate::cube::{Hold, Pair, PairSet, Position, State};
use crate::hands::{HalfUnits, Handling, at_least};
use crate::search::{self, HandLine, Kind, Line};

/// A line, what it costs and how it can be played.
#[derive(Clone)]
pub(super) struct Priced {
    pub line: Line,
    /// The pairs it solves.
    pub solves: PairSet,
    pub cost: HalfUnits,
}

impl Priced {
    /// How it can be played.
    pub fn handling(&self, judge: &Judge<'_>) -> Handling {
        Handling::new(self.line.turns(), judge.solver.cross, &judge.settings.weights)
    }
}

/// What became of the lines of a position.
pub(super) struct Near {
    /// How many there are in all.
    pub count: usize,
    /// Those that read plainly and cost at most [`NEAR_CHEAPEST`] more than the cheapest of the same pairs, in the
    /// order of the search.
    pub lines: Vec<Priced>,
    /// The cheapest of those that read plainly and solve the pair that was asked for; of equals all.
    pub own: Vec<Priced>,
}

/// The longest line that is compared with a step of `played` turns: one more than these or than the shortest line of any
/// open pair, but no more than the settings allow, unless every line is longer.
pub(super) fn bound(judge: &Judge<'_>, state: &State, open: PairSet, played: usize) -> usize {
    let settings = judge.settings;
    let length = |pair| search::shortest(state, judge.solver.cross, pair, settings.kind, search::MAX_TURNS);
    let shortest = judge.each(open).filter_map(length).min().unwrap_or(0);
    (played.max(shortest) + 1).min(settings.within).max(shortest).min(search::MAX_TURNS)
}

/// Sorts out all lines of at most `bound` turns from a position. `own` is the pair whose cheapest line is wanted besides.
pub(super) fn near(judge: &Judge<'_>, from: &Position, bound: usize, own: Option<Pair>) -> Near {
    let mut sorter = Sorter::new(judge, from.hold, own);
    if judge.settings.kind == Kind::Hand {
        let mut costed = Costed::new(own);
        let costs_known = judge.costs_known(from.hold);
        let indexed = search::each_hand_line(from, judge.solver.cross, bound, |line| match line.cost() {
            Some(cost) if costs_known => costed.take(cost, line),
            _ => sorter.take(line.line(judge.solver.cross)),
        });
        match (indexed, costs_known) {
            (true, true) => return costed.finish(judge),
            (true, false) => return sorter.finish(),
            (false, _) => {}
        }
    }
    search::each_line(&from.state, judge.solver.cross, judge.settings.kind, bound, |line| sorter.take(line));
    sorter.finish()
}

/// Lines of the index, whose costs are known.
struct Costed {
    own: Option<Pair>,
    count: usize,
    cheapest: [HalfUnits; PairSet::COUNT],
    cheapest_own: HalfUnits,
    kept: Vec<(HalfUnits, HandLine)>,
}

impl Costed {
    fn new(own: Option<Pair>) -> Costed {
        /// More than any line costs.
        const NEVER: HalfUnits = HalfUnits::from_halves(i32::MAX / 2);
        Costed { own, count: 0, cheapest: [NEVER; PairSet::COUNT], cheapest_own: NEVER, kept: Vec::new() }
    }

    /// One more line.
    fn take(&mut self, cost: HalfUnits, line: HandLine) {
        self.count += 1;
        let best = &mut self.cheapest[line.pairs().index()];
        *best = cost.min(*best);
        if self.may_be_own(cost, &line) {
            self.cheapest_own = cost;
        }
        if line.is_plain() && (self.near(cost, &line) || self.may_be_own(cost, &line)) {
            self.kept.push((cost, line));
        }
    }

    fn near(&self, cost: HalfUnits, line: &HandLine) -> bool {
        cost <= self.cheapest[line.pairs().index()] + NEAR_CHEAPEST
    }

    /// Whether it is a cheapest line of the own pair so far.
    fn may_be_own(&self, cost: HalfUnits, line: &HandLine) -> bool {
        let solves = |own: Pair| line.pairs().contains(own.slot());
        line.is_plain() && cost <= self.cheapest_own && self.own.is_some_and(solves)
    }

    fn finish(mut self, judge: &Judge<'_>) -> Near {
        let cross = judge.solver.cross;
        let kept = std::mem::take(&mut self.kept);
        let mut lines: Vec<(Priced, HandLine)> = kept
            .into_iter()
            .filter(|(cost, line)| self.near(*cost, line) || self.may_be_own(*cost, line))
            .map(|(cost, line)| (Priced { line: line.line(cross), solves: line.pairs(), cost }, line))
            .collect();
        lines.sort_unstable_by(|(a, _), (b, _)| search::order(&a.line, &b.line, cross));
        let mut found = Near { count: self.count, lines: Vec::new(), own: Vec::new() };
        for (priced, line) in lines {
            if self.may_be_own(priced.cost, &line) {
                found.own.push(priced.clone());
            }
            if self.near(priced.cost, &line) {
                found.lines.push(priced);
            }
        }
        found
    }
}

/// So many lines wait to be priced, the likeliest first. Most positions have fewer hand lines than that.
const WAITING: usize = 4096;

/// Lines being sorted out.
struct Sorter<'a> {
    judge: &'a Judge<'a>,
    from: Hold,
    own: Option<Pair>,
    count: usize,
    /// Lines that are not priced yet, with the least they can cost.
    waiting: Vec<(HalfUnits, Line)>,
    /// For each set of pairs, what the cheapest line that solves them costs, as far as is known.
    cheapest: [Option<HalfUnits>; PairSet::COUNT],
    /// What the cheapest line of the own pair costs that reads plainly.
    cheapest_own: Option<HalfUnits>,
    /// Lines that may be worth a look, with whether they read plainly where that had to be known.
    kept: Vec<(Priced, Option<bool>)>,
}

impl<'a> Sorter<'a> {
    fn new(judge: &'a Judge<'a>, from: Hold, own: Option<Pair>) -> Sorter<'a> {
        Sorter {
            judge,
            from,
            own,
            count: 0,
            waiting: Vec::new(),
            cheapest: [None; PairSet::COUNT],
            cheapest_own: None,
            kept: Vec::new(),
        }
    }

    /// One more line.
    fn take(&mut self, line: Line) {
        self.count += 1;
        let least = at_least(line.turns(), self.judge.solver.cross, &self.judge.settings.weights);
        if self.near(least, line.pairs()) || self.near_own(least, line.pairs()) {
            self.waiting.push((least, line));
            if self.waiting.len() == WAITING {
                self.price();
                self.forget();
            }
        }
    }

    /// Whether a line that costs so much, or no less, may be near the cheapest of its pairs.
    fn near(&self, cost: HalfUnits, solves: PairSet) -> bool {
        self.cheapest[solves.index()].is_none_or(|cheapest| cost <= cheapest + NEAR_CHEAPEST)
    }

    /// Whether it may be a cheapest line of the own pair.
    fn near_own(&self, cost: HalfUnits, solves: PairSet) -> bool {
        self.own.is_some_and(|own| solves.contains(own.slot()))
            && self.cheapest_own.is_none_or(|cheapest| cost <= cheapest)
    }

    fn is_plain(&self, line: &Line) -> bool {
        self.judge.settings.kind == Kind::Every
            || search::is_plain_line(line.turns(), self.judge.solver.cross)
    }

    /// Prices the lines that wait, those first that can cost least: the rest then seldom has to be.
    fn price(&mut self) {
        let (cross, weights) = (self.judge.solver.cross, &self.judge.settings.weights);
        let mut waiting = std::mem::take(&mut self.waiting);
        waiting.sort_unstable_by_key(|&(least, _)| least);
        for (least, line) in waiting.drain(..) {
            let solves = line.pairs();
            let own_near = self.near_own(least, solves);
            if !self.near(least, solves) && !own_near {
                continue;
            }
            let cost = Handling::new(line.turns(), cross, weights).cost(self.from);
            let known_plain = (own_near && self.near_own(cost, solves)).then(|| self.is_plain(&line));
            if known_plain == Some(true) {
                self.cheapest_own = Some(cost);
            }
            let best = &mut self.cheapest[solves.index()];
            *best = Some(best.map_or(cost, |best| best.min(cost)));
            self.kept.push((Priced { line, solves, cost }, known_plain));
        }
        // Its room is used again.
        self.waiting = waiting;
    }

    /// Lets go of what is not worth a look after all.
    fn forget(&mut self) {
        let mut kept = std::mem::take(&mut self.kept);
        kept.retain(|(priced, known_plain)| {
            self.near(priced.cost, priced.solves) || self.is_own(priced, *known_plain)
        });
        self.kept = kept;
    }

    fn is_own(&self, priced: &Priced, known_plain: Option<bool>) -> bool {
        known_plain == Some(true) && Some(priced.cost) == self.cheapest_own
    }

    fn finish(mut self) -> Near {
        self.price();
        let mut kept = std::mem::take(&mut self.kept);
        kept.sort_unstable_by(|(a, _), (b, _)| search::order(&a.line, &b.line, self.judge.solver.cross));
        let mut found = Near { count: self.count, lines: Vec::new(), own: Vec::new() };
        for (priced, known_plain) in kept {
            if self.is_own(&priced, known_plain) {
                found.own.push(priced.clone());
            }
            if self.near(priced.cost, priced.solves)
                && known_plain.unwrap_or_else(|| self.is_plain(&priced.line))
            {
                found.lines.push(priced);
            }
        }
        found
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::cube::{Amount, Colour, FaceSet, FaceTurn};
    use crate::judgement::Settings;

    /// A position with the cross whole and all pairs open.
    fn position(cross: Colour) -> Position {
        let mut state = State::SOLVED;
        for (i, side) in cross.ring().into_iter().enumerate() {
            for (centre, amount) in [
                (side, Amount::Quarter),
                (cross.opposite(), Amount::ALL[i % 3]),
                (side, Amount::Back),
                (cross.opposite(), Amount::Half),
            ] {
                state.turn(FaceTurn { centre, amount });
            }
        }
        Position { state, hold: search::order_hold(cross) }
    }

    /// By the definition, from all lines at once.
    fn slowly(judge: &Judge<'_>, priced: &[(Line, HalfUnits)], own: Pair) -> [Vec<(Line, HalfUnits)>; 2] {
        let cross = judge.solver.cross;
        let plain =
            |line: &Line| judge.settings.kind == Kind::Every || search::is_plain_line(line.turns(), cross);
        let cheapest = |of: &dyn Fn(&Line) -> bool| {
            priced.iter().filter(|(line, _)| of(line)).map(|&(_, cost)| cost).min()
        };
        let by_set: Vec<Option<HalfUnits>> =
            (0..PairSet::COUNT).map(|set| cheapest(&|line: &Line| line.pairs().index() == set)).collect();
        let own_cost = cheapest(&|line: &Line| line.solves(own) && plain(line));
        let near = |&&(line, cost): &&(Line, HalfUnits)| {
            plain(&line) && by_set[line.pairs().index()].is_some_and(|least| cost <= least + NEAR_CHEAPEST)
        };
        let is_own =
            |&&(line, cost): &&(Line, HalfUnits)| plain(&line) && line.solves(own) && Some(cost) == own_cost;
        [priced.iter().filter(near).copied().collect(), priced.iter().filter(is_own).copied().collect()]
    }

    #[test]
    fn what_is_kept_is_what_the_definition_says_and_little_besides() {
        let mut most_lines = 0;
        for (cross, kind, within) in [
            (Colour::Yellow, Kind::Every, 7),
            (Colour::Red, Kind::Every, 9),
            (Colour::White, Kind::Hand, 11),
            (Colour::Green, Kind::Hand, 9),
        ] {
            let from = position(cross);
            let settings = Settings { kind, within, ..Settings::default() };
            let judge = Judge::new(cross, FaceSet::default(), &settings);
            let lines: Vec<(Line, HalfUnits)> = search::lines(&from.state, cross, kind, within)
                .into_iter()
                .map(|line| (line, Handling::new(line.turns(), cross, &settings.weights).cost(from.hold)))
                .collect();
            for own in Pair::all(cross) {
                let mut sorter = Sorter::new(&judge, from.hold, Some(own));
                let mut most_kept = 0;
                search::each_line(&from.state, cross, kind, within, |line| {
                    sorter.take(line);
                    most_kept = most_kept.max(sorter.waiting.len() + sorter.kept.len());
                });
                let found = sorter.finish();
                assert_eq!(found.count, lines.len());
                let told = |lines: &[Priced]| -> Vec<(Line, HalfUnits)> {
                    lines.iter().map(|priced| (priced.line, priced.cost)).collect()
                };
                let [near, own] = slowly(&judge, &lines, own);
                assert_eq!(told(&found.lines), near);
                assert_eq!(told(&found.own), own);
                assert!(most_kept < 2 * WAITING, "{most_kept} kept of {}", lines.len());
            }
            most_lines = most_lines.max(lines.len());
        }
        assert!(most_lines > 5 * WAITING, "the longest list has {most_lines} lines");
    }
}

//! Which lines of a position are worth a look: near the cheapest of their pairs, and readable.

use super::{Judge, NEAR_CHEAPEST};
use crate::cube::{Hold, Pair, PairSet, State};
use crate::hands::{HalfUnits, Handling, at_least};
use crate::search::{self, Kind, Line};

/// A line, what it costs and how it can be played.
pub(super) struct Priced<'l> {
    pub line: &'l Line,
    /// The pairs it solves.
    pub solves: PairSet,
    pub cost: HalfUnits,
    pub handling: Handling,
}

/// What became of the lines of a position.
pub(super) struct Near<'l> {
    /// Those that read plainly and cost at most [`NEAR_CHEAPEST`] more than the cheapest of the same pairs, in the
    /// order of the search.
    pub lines: Vec<Priced<'l>>,
    /// The cheapest of those that read plainly and solve the pair that was asked for; of equals all.
    pub own: Vec<Priced<'l>>,
}

/// The longest line that is compared with a step of `played` turns: one more than these or than the shortest line of any
/// open pair, but no more than the settings allow, unless every line is longer.
pub(super) fn bound(judge: &Judge<'_>, state: &State, open: PairSet, played: usize) -> usize {
    let settings = judge.settings;
    let length = |pair| search::shortest(state, judge.solver.cross, pair, settings.kind, search::MAX_TURNS);
    let shortest = judge.each(open).filter_map(length).min().unwrap_or(0);
    (played.max(shortest) + 1).min(settings.within).max(shortest).min(search::MAX_TURNS)
}

/// Sorts out the lines of a position. `own` is the pair whose cheapest line is wanted besides.
pub(super) fn near<'l>(judge: &Judge<'_>, from: Hold, lines: &'l [Line], own: Option<Pair>) -> Near<'l> {
    let (cross, weights) = (judge.solver.cross, &judge.settings.weights);
    let plain =
        |line: &Line| judge.settings.kind == Kind::Every || search::is_plain_line(line.turns(), cross);
    let mut by_least: Vec<(HalfUnits, usize)> =
        lines.iter().enumerate().map(|(i, line)| (at_least(line.turns(), cross, weights), i)).collect();
    by_least.sort_unstable();

    let mut cheapest = [None::<HalfUnits>; PairSet::COUNT];
    let mut cheapest_own = None::<HalfUnits>;
    let mut kept: Vec<(usize, Priced<'l>, Option<bool>)> = Vec::new();
    for (least, i) in by_least {
        let line = &lines[i];
        let solves = line.pairs();
        let is_own = own.is_some_and(|own| solves.contains(own.slot()));
        let near = cheapest[solves.index()].is_none_or(|cheapest| least <= cheapest + NEAR_CHEAPEST);
        let own_near = is_own && cheapest_own.is_none_or(|cheapest| least <= cheapest);
        if !near && !own_near {
            continue;
        }
        let handling = Handling::new(line.turns(), cross, weights);
        let cost = handling.cost(from);
        let known_plain =
            (own_near && cheapest_own.is_none_or(|cheapest| cost <= cheapest)).then(|| plain(line));
        if known_plain == Some(true) {
            cheapest_own = Some(cost);
        }
        let best = &mut cheapest[solves.index()];
        *best = Some(best.map_or(cost, |best| best.min(cost)));
        kept.push((i, Priced { line, solves, cost, handling }, known_plain));
    }
    kept.sort_unstable_by_key(|&(i, ..)| i);
    let mut found = Near { lines: Vec::new(), own: Vec::new() };
    for (_, priced, known_plain) in kept {
        let near = cheapest[priced.solves.index()].is_some_and(|best| priced.cost <= best + NEAR_CHEAPEST);
        let is_own = known_plain == Some(true) && Some(priced.cost) == cheapest_own;
        if is_own {
            found.own.push(Priced { handling: priced.handling.clone(), ..priced });
        }
        if near && known_plain.unwrap_or_else(|| plain(priced.line)) {
            found.lines.push(priced);
        }
    }
    found
}

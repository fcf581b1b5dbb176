//! What it costs to solve a pair next.
//!
//! Asked for after every line that may be offered, so what can be kept is kept: for each [`Seat`](crate::search::Seat)
//! the lines and what each costs from each of the four holds with the cross down. That is the same for every record, so
//! it is shared by all of them, for as long as the weights are the same.

use std::sync::{Arc, OnceLock, RwLock};

use super::{Settings, Solver};
use crate::cube::{Colour, Face, FaceSet, FaceTurn, Hold, Move, Pair, Position, State};
use crate::hands::{HalfUnits, Handling, Weights, upright};
use crate::search::{self, Kind, LONGEST_NEXT, Line, NextPair, Seat, SeatLine};

/// The cheapest line of a pair.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Then {
    /// The pair.
    pub pair: Pair,
    /// All pairs it solves, this one among them.
    pub solves: Vec<Pair>,
    /// The tokens.
    pub moves: Vec<Move>,
    /// How many turns that is (OBTM).
    pub turns: usize,
    /// What they cost.
    pub cost: HalfUnits,
    /// Where they lead.
    pub end: Position,
}

/// Lines of next pairs with their costs, for one set of weights.
#[derive(Debug)]
struct Prices {
    weights: Weights,
    /// By the seat's number, a few to a row: one solve meets few of them, and what is never touched costs nothing.
    rows: [OnceLock<Box<Row>>; Seat::COUNT / SEATS_IN_A_ROW],
}

const SEATS_IN_A_ROW: usize = 48;

type Row = [OnceLock<Box<Lines>>; SEATS_IN_A_ROW];

/// The lines of a seat.
#[derive(Debug)]
struct Lines {
    all: Vec<SeatLine>,
    /// For each of the holds of [`upright`], the lines' numbers with what they cost there, cheapest first.
    from: [Vec<(HalfUnits, u16)>; 4],
    /// How long the shortest are.
    shortest: usize,
}

/// A line of a pair on the cube at hand.
struct Cheapest {
    cost: HalfUnits,
    turns: Vec<FaceTurn>,
    /// Whether it splits into phrases none of which is shifted or nested.
    is_plain: bool,
}

/// The colour and hold in which the lines of a seat are told.
const MODEL: Colour = Colour::Yellow;

impl Prices {
    /// Those for some weights, shared with whoever asked for the same.
    fn of(weights: &Weights) -> Arc<Prices> {
        /// The last few that were asked for, so that odd weights are not kept for ever.
        const KEPT: usize = 4;
        static ALL: RwLock<Vec<Arc<Prices>>> = RwLock::new(Vec::new());
        let same = |all: &[Arc<Prices>]| all.iter().find(|prices| prices.weights == *weights).cloned();
        if let Some(prices) = same(&ALL.read().unwrap_or_else(std::sync::PoisonError::into_inner)) {
            return prices;
        }
        let mut all = ALL.write().unwrap_or_else(std::sync::PoisonError::into_inner);
        if let Some(prices) = same(&all) {
            return prices;
        }
        let prices = Arc::new(Prices {
            weights: *weights,
            rows: [const { OnceLock::new() }; Seat::COUNT / SEATS_IN_A_ROW],
        });
        all.truncate(KEPT - 1);
        all.insert(0, Arc::clone(&prices));
        prices
    }

    fn seat(&self, seat: Seat) -> &OnceLock<Box<Lines>> {
        let row = &self.rows[seat.index() / SEATS_IN_A_ROW];
        &row.get_or_init(|| Box::new([const { OnceLock::new() }; SEATS_IN_A_ROW]))
            [seat.index() % SEATS_IN_A_ROW]
    }

    fn lines(&self, next: &NextPair) -> &Lines {
        self.seat(next.seat()).get_or_init(|| Box::new(Lines::of_seat(next, &self.weights)))
    }

    /// The least cost of a line from one of the holds of [`upright`], and the lines that cost it.
    fn least(&self, next: &NextPair, grip: usize) -> Option<(HalfUnits, Vec<SeatLine>)> {
        let lines = self.lines(next);
        if let Some(least) = lines.least(next, grip) {
            return Some(least);
        }
        self.longer(next).least(next, grip)
    }

    fn least_cost(&self, next: &NextPair, grip: usize) -> Option<HalfUnits> {
        let lines = self.lines(next);
        lines.least_cost(next, grip).or_else(|| self.longer(next).least_cost(next, grip))
    }

    /// Where every line of the shortest length completes another pair first: then lines may be longer by one.
    fn longer(&self, next: &NextPair) -> Lines {
        let costed = |line: Line| SeatLine {
            line,
            is_plain: search::is_plain_line(line.turns(), MODEL),
            costs: costs(&line, &self.weights),
            passes_nothing: false,
        };
        Lines::new(next.lines().into_iter().map(costed).collect())
    }
}

/// What a line of a seat costs from each of the holds of [`upright`].
fn costs(line: &Line, weights: &Weights) -> [HalfUnits; 4] {
    let handling = Handling::new(line.turns(), MODEL, weights);
    upright(MODEL).map(|hold| handling.cost(hold))
}

impl Lines {
    fn of_seat(next: &NextPair, weights: &Weights) -> Lines {
        let mut all = next.lines_of_seat();
        if *weights != Weights::default() {
            all.iter_mut().for_each(|line| line.costs = costs(&line.line, weights));
        }
        Lines::new(all)
    }

    /// With costs of the weights at hand.
    fn new(all: Vec<SeatLine>) -> Lines {
        let mut from = [(); 4].map(|()| Vec::with_capacity(all.len()));
        for (number, line) in all.iter().enumerate() {
            for (from, cost) in from.iter_mut().zip(line.costs) {
                from.push((cost, number as u16));
            }
        }
        from.iter_mut().for_each(|from| from.sort_unstable());
        Lines { shortest: all.first().map_or(0, |line| line.line.turns().len()), all, from }
    }

    /// The cheapest that are lines of the pair in this position; `None` if that cannot be told because no shortest
    /// sequence is one.
    fn cheapest<'a>(
        &'a self,
        next: &'a NextPair,
        grip: usize,
    ) -> Option<(HalfUnits, impl Iterator<Item = &'a SeatLine>)> {
        let clean = |line: &SeatLine| line.passes_nothing || next.is_line(&line.line);
        let from = &self.from[grip];
        let first = from.iter().position(|&(_, number)| clean(&self.all[usize::from(number)]))?;
        let (cost, number) = from[first];
        let is_shortest = |line: &&SeatLine| line.line.turns().len() == self.shortest;
        let known = is_shortest(&&self.all[usize::from(number)])
            || self.all.iter().take_while(is_shortest).any(clean);
        known.then(|| {
            let equal = from[first..].iter().take_while(move |&&(other, _)| other == cost);
            let lines = equal.map(|&(_, number)| &self.all[usize::from(number)]);
            (cost, lines.filter(move |line| clean(line)))
        })
    }

    fn least_cost(&self, next: &NextPair, grip: usize) -> Option<HalfUnits> {
        self.cheapest(next, grip).map(|(cost, _)| cost)
    }

    fn least(&self, next: &NextPair, grip: usize) -> Option<(HalfUnits, Vec<SeatLine>)> {
        self.cheapest(next, grip).map(|(cost, lines)| (cost, lines.copied().collect()))
    }
}

/// What judges the steps of one solve.
#[derive(Debug, Clone)]
pub struct Judge<'a> {
    pub(super) solver: Solver,
    pub(super) settings: &'a Settings,
    pub(super) pairs: [Pair; 4],
    prices: Arc<Prices>,
    /// Whether the weights are those of the costs that [`search`] knows.
    default_weights: bool,
}

impl<'a> Judge<'a> {
    /// For a solve with this cross by someone with these faces in sight.
    #[must_use]
    pub fn new(cross: Colour, sight: FaceSet, settings: &'a Settings) -> Judge<'a> {
        Judge {
            solver: Solver { cross, sight },
            settings,
            pairs: Pair::all(cross),
            prices: Prices::of(&settings.weights),
            default_weights: settings.weights == Weights::default(),
        }
    }

    /// Whether what the index says of costs holds for this hold.
    pub(super) fn costs_known(&self, hold: Hold) -> bool {
        self.default_weights && hold.colour(Face::D) == self.solver.cross
    }

    /// then(*q*): what it costs to solve an open pair next. `None` if it has no line of at most
    /// [`LONGEST_NEXT`](crate::search::LONGEST_NEXT) turns that solves no other pair first.
    ///
    /// # Panics
    /// If the cross is not whole or the pair is solved.
    #[must_use]
    pub fn then_cost(&self, at: &Position, pair: Pair) -> Option<HalfUnits> {
        let next = self.next_pair(at, pair);
        match self.grip(&next, at.hold) {
            Some(grip) => self.prices.least_cost(&next, grip),
            None => self.priced_in_another_hold(&next, at.hold).first().map(|line| line.cost),
        }
    }

    /// No more than [`then_cost`](Self::then_cost) from any hold, and quickly: where the lines of the seat have not been
    /// asked for yet, from the length of the shortest.
    pub(super) fn then_at_least(&self, state: &State, pair: Pair) -> HalfUnits {
        let cross = self.solver.cross;
        if let Some(lines) = self.prices.seat(NextPair::new(state, cross, pair).seat()).get() {
            let costs = lines.from.iter().filter_map(|from| from.first().map(|&(cost, _)| cost));
            return costs.min().unwrap_or(HalfUnits::ZERO);
        }
        let shortest = search::shortest(state, cross, pair, Kind::Hand, LONGEST_NEXT).unwrap_or(0);
        HalfUnits::from_halves(shortest as i32 * self.settings.weights.least().halves())
    }

    /// The cheapest line of an open pair; of several the one of fewest turns, then the first in the order of tokens.
    ///
    /// # Panics
    /// If the cross is not whole or the pair is solved.
    #[must_use]
    pub fn then(&self, at: &Position, pair: Pair) -> Option<Then> {
        self.thens(at, pair).into_iter().min_by(|a, b| (a.turns, &a.moves).cmp(&(b.turns, &b.moves)))
    }

    /// The same of those that read plainly, if there is one, as a line on offer has to go on.
    pub(super) fn plainest_then(&self, at: &Position, pair: Pair) -> Option<Then> {
        let mut lines = self.cheapest_lines(at, pair);
        if lines.iter().any(|line| line.is_plain) {
            lines.retain(|line| line.is_plain);
        }
        self.ways_of(at, pair, lines).into_iter().min_by(|a, b| (a.turns, &a.moves).cmp(&(b.turns, &b.moves)))
    }

    /// Whether some cheapest line of an open pair reads without a shifted and without a nested phrase; where all lines are
    /// compared nobody asks.
    pub(super) fn goes_on_plainly(&self, at: &Position, pair: Pair) -> bool {
        self.settings.kind == Kind::Every || self.cheapest_lines(at, pair).iter().any(|line| line.is_plain)
    }

    /// All the ways of all the cheapest lines of an open pair.
    pub(super) fn thens(&self, at: &Position, pair: Pair) -> Vec<Then> {
        self.ways_of(at, pair, self.cheapest_lines(at, pair))
    }

    /// The cheapest lines of an open pair, with what they cost.
    fn cheapest_lines(&self, at: &Position, pair: Pair) -> Vec<Cheapest> {
        let next = self.next_pair(at, pair);
        let mut lines = match self.grip(&next, at.hold) {
            Some(grip) => self.prices.least(&next, grip).map_or(Vec::new(), |(cost, lines)| {
                let line = |line: SeatLine| Cheapest {
                    cost,
                    turns: next.turns(&line.line),
                    is_plain: line.is_plain,
                };
                lines.into_iter().map(line).collect()
            }),
            None => self.priced_in_another_hold(&next, at.hold),
        };
        let least = lines.first().map(|line| line.cost);
        lines.retain(|line| Some(line.cost) == least);
        lines
    }

    /// All the ways of lines of a pair.
    fn ways_of(&self, at: &Position, pair: Pair, lines: Vec<Cheapest>) -> Vec<Then> {
        let mut thens = Vec::new();
        for Cheapest { cost, turns, .. } in lines {
            let handling = Handling::new(&turns, self.solver.cross, &self.settings.weights);
            for way in handling.ways(at.hold) {
                let end = at.after(way.moves.iter().copied());
                thens.push(Then {
                    pair,
                    solves: self.newly_solved(at, &end),
                    turns: way.moves.iter().map(|mv| mv.obtm()).sum(),
                    moves: way.moves,
                    cost,
                    end,
                });
            }
        }
        thens
    }

    /// The pairs that are solved at `end` and not at `start`.
    pub(super) fn newly_solved(&self, start: &Position, end: &Position) -> Vec<Pair> {
        let new = |&pair: &Pair| end.state.pair_solved(pair) && !start.state.pair_solved(pair);
        self.pairs.into_iter().filter(new).collect()
    }

    /// The lines of a pair with their costs from a hold in which the cross is not down, cheapest first.
    fn priced_in_another_hold(&self, next: &NextPair, hold: Hold) -> Vec<Cheapest> {
        let lines = next.lines().into_iter().map(|line| {
            let turns = next.turns(&line);
            let cost = Handling::new(&turns, self.solver.cross, &self.settings.weights).cost(hold);
            Cheapest { cost, turns, is_plain: search::is_plain_line(line.turns(), MODEL) }
        });
        let mut lines: Vec<_> = lines.collect();
        lines.sort_by_key(|line| line.cost);
        lines
    }

    fn next_pair(&self, at: &Position, pair: Pair) -> NextPair {
        NextPair::new(&at.state, self.solver.cross, pair)
    }

    /// Which of the holds of [`upright`] a hold is, as the lines of a seat are told.
    fn grip(&self, next: &NextPair, hold: Hold) -> Option<usize> {
        let model = next.hold(hold);
        upright(MODEL).iter().position(|&other| other == model)
    }
}

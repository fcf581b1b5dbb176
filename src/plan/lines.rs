//! The lines that a plan may play.
//!
//! Which lines a pair has depends on little where the cross is whole ([`Seat`]), so they are found once for each seat and
//! kept. Which of them are lines of the pair in the position at hand, what else they solve and what they cost from the
//! hold at hand is asked anew each time.

use std::sync::OnceLock;

use crate::cube::{Colour, FaceTurn, Move, Pair, PairSet, Position, State};
use crate::hands::{HalfUnits, Handling, Weights, at_least, upright};
use crate::search::{self, Line, NextPair, Seat};

/// What a plan depends on besides the position and what is in sight.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Settings {
    /// The longest line, in face turns; a pair all of whose lines are longer may be solved by its shortest.
    pub within: usize,
    /// How much more than its pair's cheapest line a line may cost.
    pub over: HalfUnits,
    /// How many turns of a line are to be left when the next pair has been found.
    pub lead: usize,
    /// What handling costs.
    pub weights: Weights,
}

/// How much dearer than its pair's cheapest a line of a plan may be. Without this limit lines come up that
/// nobody plays.
pub const OVER: HalfUnits = HalfUnits::from_halves(2);

impl Default for Settings {
    fn default() -> Settings {
        Settings {
            within: crate::judgement::DEFAULT_WITHIN,
            over: OVER,
            lead: crate::sight::DEFAULT_LEAD,
            weights: Weights::default(),
        }
    }
}

/// The colour of the cross for which lines of a seat are told.
const MODEL: Colour = Colour::Yellow;

/// The longest line that is sought for a pair all of whose lines are longer than the settings say, in face turns.
const LONGEST: usize = 12;

/// The fewest turns of any line.
const SHORTEST: i32 = 3;

/// A line that may be played.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Playable {
    /// Its turns in the cube's own frame.
    pub turns: Vec<FaceTurn>,
    /// The pairs it solves.
    pub solves: PairSet,
    pub cost: HalfUnits,
}

/// A line of a seat that reads without a shifted and without a nested phrase.
#[derive(Debug)]
struct SeatLine {
    line: Line,
    /// No more than it costs from any hold.
    least: HalfUnits,
    /// What it costs from each hold of [`upright`].
    costs: OnceLock<[HalfUnits; 4]>,
}

impl SeatLine {
    fn costs(&self, weights: &Weights) -> &[HalfUnits; 4] {
        self.costs.get_or_init(|| {
            let handling = Handling::new(self.line.turns(), MODEL, weights);
            upright(MODEL).map(|hold| handling.cost(hold))
        })
    }
}

/// The lines of a seat, those that can be cheapest first.
#[derive(Debug)]
struct SeatLines {
    lines: Vec<SeatLine>,
    /// What the cheapest costs from the hold in which it costs least.
    cheapest: HalfUnits,
}

impl SeatLines {
    fn new(next: &NextPair, settings: &Settings) -> SeatLines {
        let weights = &settings.weights;
        let plain = |line: &Line| search::is_plain_line(line.turns(), MODEL);
        let found = (settings.within..=settings.within.max(LONGEST)).find_map(|bound| {
            let mut lines = next.lines_of_seat_to(bound);
            lines.retain(plain);
            (!lines.is_empty()).then_some(lines)
        });
        let mut lines: Vec<SeatLine> = found
            .unwrap_or_default()
            .into_iter()
            .map(|line| SeatLine {
                least: at_least(line.turns(), MODEL, weights),
                line,
                costs: OnceLock::new(),
            })
            .collect();
        lines.sort_by_key(|line| line.least);
        let mut cheapest: Option<HalfUnits> = None;
        for line in &lines {
            if cheapest.is_some_and(|cheapest| line.least >= cheapest) {
                break;
            }
            let cost = line.costs(weights).iter().copied().min();
            cheapest = cheapest.into_iter().chain(cost).min();
        }
        SeatLines { lines, cheapest: cheapest.unwrap_or(HalfUnits::ZERO) }
    }
}

/// Whoever makes plans: the settings, and the lines found so far, which any number of threads may share.
#[derive(Debug)]
pub struct Planner {
    settings: Settings,
    seats: Box<[OnceLock<Box<SeatLines>>]>,
}

impl Planner {
    /// A planner that has looked for nothing yet.
    #[must_use]
    pub fn new(settings: Settings) -> Planner {
        Planner { settings, seats: (0..Seat::COUNT).map(|_| OnceLock::new()).collect() }
    }

    /// What its plans depend on.
    #[must_use]
    pub const fn settings(&self) -> &Settings {
        &self.settings
    }

    fn seat(&self, next: &NextPair) -> &SeatLines {
        self.seats[next.seat().index()].get_or_init(|| Box::new(SeatLines::new(next, &self.settings)))
    }

    /// The lines that may be played from a position in which these pairs are open, the cheapest first. One that solves two
    /// pairs at once is there if it is near the cheapest of one of them.
    pub(super) fn playable(&self, at: &Position, cross: Colour, open: PairSet) -> Vec<Playable> {
        let mut found: Vec<Playable> = Vec::new();
        for slot in open.iter() {
            let own = self.playable_of(at, cross, Pair::all(cross)[slot.index()]);
            let again = |line: &Playable| line.solves.len() > 1 && found.contains(line);
            let new: Vec<Playable> = own.into_iter().filter(|line| !again(line)).collect();
            found.extend(new);
        }
        found.sort_by_key(|line| line.cost);
        found
    }

    /// The lines of one open pair that may be played, in the order of their turns' least costs.
    pub(super) fn playable_of(&self, at: &Position, cross: Colour, pair: Pair) -> Vec<Playable> {
        let Settings { over, weights, .. } = &self.settings;
        let next = NextPair::new(&at.state, cross, pair);
        let model = next.hold(at.hold);
        let grip = upright(MODEL).iter().position(|&hold| hold == model);
        let mut cheapest: Option<HalfUnits> = None;
        let mut found: Vec<Playable> = Vec::new();
        for line in &self.seat(&next).lines {
            let too_dear = |cost: HalfUnits| cheapest.is_some_and(|cheapest| cost > cheapest + *over);
            if too_dear(line.least) {
                break;
            }
            if !next.is_line(&line.line) {
                continue;
            }
            let cost = match grip {
                Some(grip) => line.costs(weights)[grip],
                None => Handling::new(&next.turns(&line.line), cross, weights).cost(at.hold),
            };
            if too_dear(cost) {
                continue;
            }
            cheapest = Some(cheapest.map_or(cost, |cheapest| cheapest.min(cost)));
            let solves = next.solved_by(&line.line);
            found.push(Playable { turns: next.turns(&line.line), solves, cost });
        }
        found.retain(|line| cheapest.is_some_and(|cheapest| line.cost <= cheapest + *over));
        found
    }

    /// The cheapest line of an open pair that may be played, of several the one of fewest turns, then the first in the
    /// order of tokens; `None` if it has none.
    ///
    /// # Panics
    /// If the cross is not whole or the pair is solved.
    #[must_use]
    pub fn cheapest(&self, at: &Position, cross: Colour, pair: Pair) -> Option<(HalfUnits, Vec<Move>)> {
        let lines = self.playable_of(at, cross, pair);
        let cost = lines.iter().map(|line| line.cost).min()?;
        let ways = lines
            .iter()
            .filter(|line| line.cost == cost)
            .flat_map(|line| Handling::new(&line.turns, cross, &self.settings.weights).ways(at.hold));
        let turns = |moves: &[Move]| moves.iter().map(|mv| mv.obtm()).sum::<usize>();
        let (_, moves) = ways.map(|way| (turns(&way.moves), way.moves)).min()?;
        Some((cost, moves))
    }

    /// No more than it costs to solve all these pairs from a state, in any hold: the next line costs no less than the
    /// cheapest of its pair, and unless it solves all of them another must follow.
    pub(super) fn at_least(&self, state: &State, cross: Colour, open: PairSet) -> HalfUnits {
        let costs = || {
            open.iter()
                .map(|slot| self.seat(&NextPair::new(state, cross, Pair::all(cross)[slot.index()])).cheapest)
        };
        let (least, most) =
            (costs().min().unwrap_or(HalfUnits::ZERO), costs().max().unwrap_or(HalfUnits::ZERO));
        let another = HalfUnits::from_halves(SHORTEST * self.settings.weights.least().halves());
        if open.len() < 2 { least } else { most.min(least + another) }
    }
}

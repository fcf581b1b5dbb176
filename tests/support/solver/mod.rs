//! Realistic solves made to order: a random scramble, and a solution as a person plays it.
//!
//! Cross, four pairs by phrases that hands use, last layer by the trade's algorithms. The same seed gives the
//! same solve. This is test equipment: it shares nothing with the library but [`cornerwise::cube`] and the
//! way moves are written, so it can check everything else.
//!
//! Inside, the cross is always yellow and at the bottom of [`Hold::START`]: the scramble is recoloured
//! instead, which changes no written move. Only the inspection rotations and the names of the pairs are
//! turned back at the end.
#![allow(dead_code, reason = "each test and benchmark that includes this file uses another part of it")]

mod cross;
mod last_layer;
mod pairs;
mod random;
mod respell;
mod write;

use cornerwise::cube::{
    Amount, Axis, Colour, ColourSet, Corner, Edge, Face, FaceTurn, Hold, Move, Pair, Position, State,
};

pub use random::Rng;
#[allow(unused_imports, reason = "only some tests want solves in writing")]
pub use write::{Marks, Style};

/// What kind of solve is wanted.
#[derive(Debug, Clone)]
pub struct Options {
    /// The colour of the cross; `None` for whichever is shortest.
    pub cross: Option<Colour>,
    /// How often the cross is built on the left rather than at the bottom.
    pub cross_on_left: f64,
    /// Looks among slightly longer crosses for one that brings a pair with it.
    pub xcross: bool,
    /// Prefers a line that solves two pairs at one moment.
    pub two_pairs: bool,
    /// Weighs what a line leaves for the next pair; without it, each pair is simply the cheapest.
    pub looks_ahead: bool,
    /// How often `y` stands for `U` before a last-layer algorithm.
    pub turn_the_cube: f64,
    /// Writes `y'` and `U` one after the other as a wide turn, `Dw`.
    pub wide: bool,
    /// How freely a dearer line is taken: 0 never, 5 often, in tenths of a turn.
    pub temper: f64,
    /// Draws the line evenly from so many of the cheapest, whatever they leave, instead of by temper.
    pub among: Option<usize>,
    /// Turns in the scramble.
    pub scramble: usize,
}

impl Default for Options {
    fn default() -> Options {
        Options {
            cross: None,
            cross_on_left: 0.05,
            xcross: false,
            two_pairs: false,
            looks_ahead: true,
            turn_the_cube: 0.15,
            wide: false,
            temper: 3.0,
            among: None,
            scramble: 20,
        }
    }
}

/// The part of a solve that a step is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    Inspection,
    Cross,
    Pair,
    Orient,
    Permute,
    Adjust,
}

/// A step: its moves, and what they are for.
#[derive(Debug, Clone)]
pub struct Step {
    pub kind: Kind,
    pub moves: Vec<Move>,
    /// The pairs solved at its end: several for two at once, and any that came with the cross.
    pub pairs: Vec<Pair>,
    /// The last-layer case.
    pub case: Option<String>,
}

/// A scramble and its solution.
#[derive(Debug, Clone)]
pub struct Solve {
    pub scramble: Vec<Move>,
    pub cross: Colour,
    pub steps: Vec<Step>,
}

impl Solve {
    /// The whole solution.
    pub fn moves(&self) -> impl Iterator<Item = Move> {
        self.steps.iter().flat_map(|step| step.moves.iter().copied())
    }

    /// Length in the Outer Block Turn Metric.
    pub fn obtm(&self) -> usize {
        self.moves().map(Move::obtm).sum()
    }
}

/// Makes solves; keeps the tables.
pub struct Solver {
    cross: cross::CrossTable,
    pairs: pairs::PairTables,
    last_layer: last_layer::LastLayer,
}

impl Solver {
    /// Builds the cross table and the list of algorithms: some hundredths of a second.
    pub fn new() -> Solver {
        Solver {
            cross: cross::CrossTable::new(),
            pairs: pairs::PairTables::new(),
            last_layer: last_layer::LastLayer::new(),
        }
    }

    /// A random scramble and its solve.
    pub fn random(&mut self, rng: &mut Rng, options: &Options) -> Solve {
        let scramble = scramble(rng, options.scramble);
        self.solve(&scramble, rng, options)
    }

    /// A solve of this scramble, which must be of outer turns only.
    pub fn solve(&mut self, scramble: &[Move], rng: &mut Rng, options: &Options) -> Solve {
        let colours = options.cross.map_or(Colour::ALL.to_vec(), |colour| vec![colour]);
        let (home, start) = colours
            .into_iter()
            .map(|colour| {
                let home = with_down(colour);
                (home, recoloured(scramble, home))
            })
            .min_by_key(|(_, state)| self.cross.distance(state))
            .expect("there is a colour");
        let real = |pair: Pair| recoloured_pair(pair, home);
        let mut steps = Vec::new();

        let line = self.cross.line(&start, rng, options);
        let inspection = cross::rotations(Hold::START, real_hold(line.hold, home));
        let mut at = Position { state: start, hold: line.hold }.after(line.moves.iter().copied());
        let mut open = open_slots(&at.state);
        let step = |kind, moves, pairs: Vec<Pair>, case| Step { kind, moves, pairs, case };
        if !inspection.is_empty() {
            steps.push(step(Kind::Inspection, inspection, Vec::new(), None));
        }
        steps.push(step(Kind::Cross, line.moves, pairs_of(0b1111 & !open).map(real).collect(), None));
        let mut carried = Vec::new();
        if at.hold.colour(Face::L) == CROSS {
            carried.push(Move::Rotation(Axis::Z, Amount::Back));
            at.play(carried[0]);
        }

        while open != 0 {
            let before = steps.last().and_then(|step: &Step| step.moves.last().copied());
            let moves = self.pair(&at, open, before, rng, options);
            let moves = first_pair(&at, open, moves);
            at = at.after(moves.iter().copied());
            let left = open_slots(&at.state);
            let solved = pairs_of(open & !left).map(real).collect();
            open = left;
            carried.extend(if options.wide { widened(moves) } else { moves });
            steps.push(step(Kind::Pair, std::mem::take(&mut carried), solved, None));
        }

        let mut after = None;
        for kind in [Kind::Orient, Kind::Permute] {
            let moves = steps.iter().flat_map(|step: &Step| &step.moves).chain(&carried);
            let state = as_held(&scramble.iter().chain(moves).copied().collect::<Vec<_>>());
            let played = match kind {
                Kind::Orient => self.last_layer.orientation(&state, rng, options),
                _ => self.last_layer.permutation(&state, rng, options),
            };
            let Some(played) = played else { continue };
            at = at.after(played.moves.iter().copied());
            let mut moves = std::mem::take(&mut carried);
            moves.extend(played.moves);
            // A rotation after the last turn belongs to whatever comes next.
            while moves.last().is_some_and(|mv| mv.is_rotation()) {
                carried.insert(0, moves.pop().expect("there is a last one"));
            }
            // What an orientation leaves to be turned is settled by the permutation, or read off if there is none.
            after = played.after.filter(|_| kind == Kind::Permute);
            steps.push(step(kind, moves, Vec::new(), Some(played.name)));
        }
        if after.is_none() {
            after = last_layer::adjustment(&at.state).expect("the last layer is done");
        }
        if let Some(amount) = after {
            carried.push(Move::Turn(Face::U, amount));
            steps.push(step(Kind::Adjust, carried, Vec::new(), None));
        }
        let cross = home.colour(Face::D);
        for step in &mut steps {
            step.pairs.sort_by_key(|pair| Pair::all(cross).into_iter().position(|p| p == *pair));
        }
        Solve { scramble: scramble.to_vec(), cross, steps }
    }

    /// The line for the next pair: pair and line are chosen together.
    fn pair(
        &mut self,
        at: &Position,
        open: u8,
        before: Option<Move>,
        rng: &mut Rng,
        options: &Options,
    ) -> Vec<Move> {
        let slots: Vec<usize> = (0..4).filter(|slot| open & 1 << slot != 0).collect();
        let cheapest = slots.iter().map(|&slot| self.pairs.cost(at, slot, open)).min().expect("an open slot");
        let (slack, most) = if options.two_pairs { (60, 400) } else { (14, 24) };
        let mut lines = Vec::new();
        for slot in slots {
            // A pair that is much dearer than the cheapest is left for later.
            if self.pairs.cost(at, slot, open) > cheapest + 25 && !options.two_pairs {
                continue;
            }
            lines.extend(self.pairs.lines(at, slot, open, slack, most));
        }
        if let Some(most) = options.among {
            lines.sort_by_key(|line| line.cost);
            let chosen = rng.below(most.min(lines.len()));
            return lines.swap_remove(chosen).moves;
        }
        let mut costs = Vec::new();
        for line in &lines {
            let mut cost = f64::from(line.cost);
            if let (Some(Move::Turn(last, _)), Some(&Move::Turn(first, _))) = (before, line.moves.first())
                && last == first
            {
                // Nobody turns a face, stops, and turns it again.
                cost += 25.0;
            }
            if options.looks_ahead || options.two_pairs {
                let end = at.after(line.moves.iter().copied());
                let left = open_slots(&end.state);
                let next = (0..4).filter(|slot| left & 1 << slot != 0);
                let next = next.map(|slot| self.pairs.cost(&end, slot, left)).min();
                cost += 0.6 * f64::from(next.unwrap_or(0));
                let up = pairs_of(left).any(|pair| end.state.corner(pair.corner).place().touches(TOP));
                if left != 0 && !up {
                    cost += 8.0;
                }
                let together = open_slots(&at.after(first_pair(at, open, line.moves.clone())).state);
                if options.two_pairs && (open & !together).count_ones() > 1 {
                    cost -= 150.0;
                }
            }
            costs.push(cost);
        }
        let chosen = rng.pick(costs, options.temper).expect("every pair has a line");
        lines.swap_remove(chosen).moves
    }
}

const CROSS: Colour = Colour::Yellow;
const TOP: Colour = Colour::White;

/// What a turn costs the hands, in tenths of a turn of R, U or L (common practice, no source).
fn turn_cost(mv: Move) -> u32 {
    let (base, amount) = match mv {
        Move::Turn(Face::R | Face::U | Face::L, amount) => (10, amount),
        Move::Turn(Face::F | Face::D, amount) => (12, amount),
        Move::Turn(Face::B, amount) => (18, amount),
        Move::Wide(_, amount) | Move::Slice(_, amount) => (12, amount),
        Move::Rotation(_, amount) => (10, amount),
    };
    base + if amount == Amount::Half { 3 } else { 0 }
}

/// Random outer turns, none of a face that has just been turned.
pub fn scramble(rng: &mut Rng, turns: usize) -> Vec<Move> {
    let mut moves: Vec<Move> = Vec::new();
    while moves.len() < turns {
        let face = Face::ALL[rng.below(6)];
        let amount = Amount::ALL[rng.below(3)];
        let faces = moves.iter().rev().take(2).map(|&mv| match mv {
            Move::Turn(face, _) => face,
            _ => unreachable!("only outer turns are made here"),
        });
        let faces: Vec<Face> = faces.collect();
        let again = faces.first() == Some(&face);
        let across = faces.first() == Some(&face.opposite()) && faces.get(1) == Some(&face);
        if !again && !across {
            moves.push(Move::Turn(face, amount));
        }
    }
    moves
}

/// The first hold with this colour down.
fn with_down(colour: Colour) -> Hold {
    Hold::ALL.into_iter().find(|hold| hold.colour(Face::D) == colour).expect("four holds have it down")
}

/// The moves played on a cube whose colours are renamed so that `home` becomes the hold of scrambling.
fn recoloured(moves: &[Move], home: Hold) -> State {
    let mut state = State::SOLVED;
    let mut hold = Hold::START;
    for &mv in moves {
        let resolved = mv.resolve(hold);
        hold = resolved.hold;
        for turn in resolved.turns() {
            state.turn(FaceTurn { centre: Hold::START.colour(home.face(turn.centre)), amount: turn.amount });
        }
    }
    state
}

/// The state after the moves, with the colours renamed as though the cube were held as for scrambling.
fn as_held(moves: &[Move]) -> State {
    let hold = moves.iter().fold(Hold::START, |hold, mv| mv.resolve(hold).hold);
    recoloured(moves, hold)
}

/// The true colour of one of the renamed cube.
fn real_colour(colour: Colour, home: Hold) -> Colour {
    home.colour(Hold::START.face(colour))
}

fn real_hold(hold: Hold, home: Hold) -> Hold {
    let real = |face| real_colour(hold.colour(face), home);
    Hold::new(real(Face::U), real(Face::F)).expect("a hold stays a hold")
}

fn recoloured_pair(pair: Pair, home: Hold) -> Pair {
    let real = |colours: &[Colour]| -> ColourSet { colours.iter().map(|&c| real_colour(c, home)).collect() };
    Pair {
        corner: Corner::with_colours(real(&pair.corner.colours())).expect("a corner"),
        edge: Edge::with_colours(real(&pair.edge.colours())).expect("an edge"),
    }
}

/// One bit for each pair that is not solved, in the order of [`Pair::all`].
fn open_slots(state: &State) -> u8 {
    let open = Pair::all(CROSS).map(|pair| u8::from(!state.pair_solved(pair)));
    open.into_iter().rev().fold(0, |bits, open| bits << 1 | open)
}

fn pairs_of(slots: u8) -> impl Iterator<Item = Pair> {
    Pair::all(CROSS).into_iter().enumerate().filter(move |(i, _)| slots & 1 << i != 0).map(|(_, pair)| pair)
}

/// The moves up to the first moment at which the cross is whole and a pair more is solved.
fn first_pair(at: &Position, open: u8, mut moves: Vec<Move>) -> Vec<Move> {
    let mut now = *at;
    for i in 0..moves.len() {
        now.play(moves[i]);
        let left = open_slots(&now.state);
        if now.state.cross_solved(CROSS) && left & !open == 0 && left != open {
            moves.truncate(i + 1);
            break;
        }
    }
    moves
}

/// `y'` and `U` become `Dw`, `y` and `U'` become `Dw'`, which is how hands do it.
fn widened(moves: Vec<Move>) -> Vec<Move> {
    let mut wide = Vec::new();
    for mv in moves {
        match (wide.last(), mv) {
            (Some(&Move::Rotation(Axis::Y, spin)), Move::Turn(Face::U, amount))
                if spin == amount.inverse() =>
            {
                wide.pop();
                wide.push(Move::Wide(Face::D, amount));
            }
            _ => wide.push(mv),
        }
    }
    wide
}

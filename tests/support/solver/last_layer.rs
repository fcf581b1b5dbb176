//! The last layer: the trade's algorithms, looked up by what they solve.
//!
//! They come from the table of cases, `tests/data/last-layer-cases.tsv`. Nothing rests on their being right: an
//! algorithm is stored under the position that it really solves.

use std::collections::HashMap;

use cornerwise::cube::{Amount, Axis, Colour, Corner, CornerPlace, Edge, EdgePlace, Face, Move, State};

use super::super::cases;
use super::Options;
use super::random::Rng;

/// Opposite the cross, which is always yellow here.
const TOP: Colour = Colour::White;

/// A way through a step: a turn of the layer before, the algorithm, a turn of the layer after.
#[derive(Clone, Copy)]
struct Way {
    algorithm: usize,
    before: u32,
    after: u32,
}

/// An algorithm with its name and adjustments, as it is to be written.
pub struct Played {
    pub name: String,
    pub moves: Vec<Move>,
    /// The turn of the layer that is left to do.
    pub after: Option<Amount>,
}

/// Which algorithm solves what.
pub struct LastLayer {
    cases: Vec<cases::Case>,
    orient: HashMap<[u8; 8], Vec<Way>>,
    permute: HashMap<State, Vec<Way>>,
}

impl LastLayer {
    /// Plays every algorithm backwards from the solved cube, with each turn of the layer before and after.
    pub fn new() -> LastLayer {
        let cases = cases::all();
        let mut orient: HashMap<_, Vec<_>> = HashMap::new();
        let mut permute: HashMap<_, Vec<_>> = HashMap::new();
        for (algorithm, case) in cases.iter().enumerate().filter(|(_, case)| !case.algorithm.is_empty()) {
            for before in 0..4 {
                if case.orientation {
                    let way = Way { algorithm, before, after: 0 };
                    let key = pattern(&solved_by(before, &case.algorithm, 0));
                    orient.entry(key).or_default().push(way);
                    continue;
                }
                for after in 0..4 {
                    let way = Way { algorithm, before, after };
                    permute.entry(solved_by(before, &case.algorithm, after)).or_default().push(way);
                }
            }
        }
        LastLayer { cases, orient, permute }
    }

    /// Turns every last-layer sticker up; `None` if they all are.
    pub fn orientation(&self, state: &State, rng: &mut Rng, options: &Options) -> Option<Played> {
        let key = pattern(state);
        if key == [0; 8] {
            return None;
        }
        let ways = self.orient.get(&key).expect("57 cases are all there are");
        Some(played(ways, &self.cases, rng, options))
    }

    /// Solves the cube but for a turn of the last layer; `None` if it is solved so far already.
    pub fn permutation(&self, state: &State, rng: &mut Rng, options: &Options) -> Option<Played> {
        if adjustment(state).is_some() {
            return None;
        }
        let ways = self.permute.get(state).expect("21 cases are all there are");
        Some(played(ways, &self.cases, rng, options))
    }
}

/// The turn of the last layer that solves the cube: `Some(None)` if it is solved, `None` if no turn does.
pub fn adjustment(state: &State) -> Option<Option<Amount>> {
    let turned = |quarters| adjusted(*state, quarters).is_solved();
    (0..4).find(|&quarters| turned(quarters)).map(Amount::from_quarters)
}

fn played(ways: &[Way], cases: &[cases::Case], rng: &mut Rng, options: &Options) -> Played {
    let best = ways.iter().map(|way| way.before.count_ones() + way.after.count_ones()).min().expect("a way");
    let ways: Vec<&Way> =
        ways.iter().filter(|way| way.before.count_ones() + way.after.count_ones() == best).collect();
    let way = ways[rng.below(ways.len())];
    let mut moves = Vec::new();
    let mut after = way.after;
    if let Some(before) = Amount::from_quarters(way.before) {
        if rng.chance(options.turn_the_cube) {
            moves.push(Move::Rotation(Axis::Y, before));
            after += way.before;
        } else {
            moves.push(Move::Turn(Face::U, before));
        }
    }
    let case = &cases[way.algorithm];
    moves.extend(&case.algorithm);
    Played { name: case.name.clone(), moves, after: Amount::from_quarters(after) }
}

/// The state from which a turn of the layer, the moves and another turn of it solve the cube.
fn solved_by(before: u32, moves: &[Move], after: u32) -> State {
    let state = adjusted(State::SOLVED, 4 - after);
    let mut at = cornerwise::cube::Position { state, ..cornerwise::cube::Position::SOLVED };
    // The moves may end in another hold (`y` in V): undo them from there.
    let end = moves.iter().fold(at.hold, |hold, mv| mv.resolve(hold).hold);
    at.hold = end;
    for mv in moves.iter().rev() {
        at.play(mv.inverse());
    }
    adjusted(at.state, 4 - before)
}

fn adjusted(state: State, quarters: u32) -> State {
    match Amount::from_quarters(quarters) {
        Some(amount) => state.turned(cornerwise::cube::FaceTurn { centre: TOP, amount }),
        None => state,
    }
}

/// How each place of the last layer is twisted or flipped: all 0 when every sticker faces up.
fn pattern(state: &State) -> [u8; 8] {
    let corners = CornerPlace::ALL.into_iter().filter(|place| place.touches(TOP));
    let edges = EdgePlace::ALL.into_iter().filter(|place| place.touches(TOP));
    let mut pattern = [0; 8];
    let twists = corners
        .map(|place| {
            let corner: Corner = state.corner_in(place);
            state.corner(corner).twist()
        })
        .chain(edges.map(|place| {
            let edge: Edge = state.edge_in(place);
            state.edge(edge).twist()
        }));
    for (cell, twist) in pattern.iter_mut().zip(twists) {
        *cell = twist;
    }
    pattern
}

//! The last layer: the trade's algorithms, looked up by what they solve.
//!
//! Numbers, letters and algorithms are the trade's (common practice, from memory). Nothing rests on their
//! being right: an algorithm is stored under the position that it really solves.

use std::collections::HashMap;

use cornerwise::cube::{Amount, Axis, Colour, Corner, CornerPlace, Edge, EdgePlace, Face, Move, State};

use super::random::Rng;
use super::{Options, tokens};

/// Opposite the cross, which is always yellow here.
const TOP: Colour = Colour::White;

const ORIENTATIONS: &[(&str, &str)] = &[
    ("1", "R U2 R2 F R F' U2 R' F R F'"),
    ("2", "F R U R' U' F' f R U R' U' f'"),
    ("3", "f R U R' U' f' U' F R U R' U' F'"),
    ("4", "f R U R' U' f' U F R U R' U' F'"),
    ("5", "r' U2 R U R' U r"),
    ("6", "r U2 R' U' R U' r'"),
    ("7", "r U R' U R U2 r'"),
    ("8", "r' U' R U' R' U2 r"),
    ("9", "R U R' U' R' F R2 U R' U' F'"),
    ("10", "R U R' U R' F R F' R U2 R'"),
    ("11", "r U R' U R' F R F' R U2 r'"),
    ("12", "F R U R' U' F' U F R U R' U' F'"),
    ("13", "F U R U' R2 F' R U R U' R'"),
    ("14", "R' F R U R' F' R F U' F'"),
    ("15", "r' U' r R' U' R U r' U r"),
    ("16", "r U r' R U R' U' r U' r'"),
    ("17", "R U R' U R' F R F' U2 R' F R F'"),
    ("18", "r U R' U R U2 r2 U' R U' R' U2 r"),
    ("19", "r' R U R U R' U' r R2 F R F'"),
    ("20", "r U R' U' M2 U R U' R' U' M'"),
    ("21", "R U2 R' U' R U R' U' R U' R'"),
    ("22", "R U2 R2 U' R2 U' R2 U2 R"),
    ("23", "R2 D R' U2 R D' R' U2 R'"),
    ("24", "r U R' U' r' F R F'"),
    ("25", "F' r U R' U' r' F R"),
    ("26", "R U2 R' U' R U' R'"),
    ("27", "R U R' U R U2 R'"),
    ("28", "r U R' U' r' R U R U' R'"),
    ("29", "R U R' U' R U' R' F' U' F R U R'"),
    ("30", "F R' F R2 U' R' U' R U R' F2"),
    ("31", "R' U' F U R U' R' F' R"),
    ("32", "L U F' U' L' U L F L'"),
    ("33", "R U R' U' R' F R F'"),
    ("34", "R U R2 U' R' F R U R U' F'"),
    ("35", "R U2 R2 F R F' R U2 R'"),
    ("36", "L' U' L U' L' U L U L F' L' F"),
    ("37", "F R' F' R U R U' R'"),
    ("38", "R U R' U R U' R' U' R' F R F'"),
    ("39", "L F' L' U' L U F U' L'"),
    ("40", "R' F R U R' U' F' U R"),
    ("41", "R U R' U R U2 R' F R U R' U' F'"),
    ("42", "R' U' R U' R' U2 R F R U R' U' F'"),
    ("43", "F' U' L' U L F"),
    ("44", "F U R U' R' F'"),
    ("45", "F R U R' U' F'"),
    ("46", "R' U' R' F R F' U R"),
    ("47", "F' L' U' L U L' U' L U F"),
    ("48", "F R U R' U' R U R' U' F'"),
    ("49", "r U' r2 U r2 U r2 U' r"),
    ("50", "r' U r2 U' r2 U' r2 U r'"),
    ("51", "f R U R' U' R U R' U' f'"),
    ("52", "R U R' U R U' B U' B' R'"),
    ("53", "r' U' R U' R' U R U' R' U2 r"),
    ("54", "r U R' U R U' R' U R U2 r'"),
    ("55", "R U2 R2 U' R U' R' U2 F R F'"),
    ("56", "r' U' r U' R' U R U' R' U R r' U r"),
    ("57", "R U R' U' M' U R U' r'"),
];

const PERMUTATIONS: &[(&str, &str)] = &[
    ("Aa", "x R' U R' D2 R U' R' D2 R2 x'"),
    ("Ab", "x R2 D2 R U R' D2 R U' R x'"),
    ("E", "x' R U' R' D R U R' D' R U R' D R U' R' D' x"),
    ("F", "R' U' F' R U R' U' R' F R2 U' R' U' R U R' U R"),
    ("Ga", "R2 U R' U R' U' R U' R2 U' D R' U R D'"),
    ("Gb", "R' U' R U D' R2 U R' U R U' R U' R2 D"),
    ("Gc", "R2 U' R U' R U R' U R2 U D' R U' R' D"),
    ("Gd", "R U R' U' D R2 U' R U' R' U R' U R2 D'"),
    ("H", "M2 U M2 U2 M2 U M2"),
    ("Ja", "x R2 F R F' R U2 r' U r U2 x'"),
    ("Jb", "R U R' F' R U R' U' R' F R2 U' R'"),
    ("Na", "R U R' U R U R' F' R U R' U' R' F R2 U' R' U2 R U' R'"),
    ("Nb", "R' U R U' R' F' U' F R U R' F R' F' R U' R"),
    ("Ra", "R U' R' U' R U R D R' U' R D' R' U2 R'"),
    ("Rb", "R' U2 R U2 R' F R U R' U' R' F' R2"),
    ("T", "R U R' U' R' F R2 U' R' U' R U R' F'"),
    ("Ua", "R U' R U R U R U' R' U' R2"),
    ("Ub", "R2 U R U R' U' R' U' R' U R'"),
    ("V", "R' U R' U' y R' F' R2 U' R' U R' F R F"),
    ("Y", "F R U' R' U' R U R' F' R U R' U' R' F R F'"),
    ("Z", "M' U M2 U M2 U M' U2 M2"),
];

/// A way through a step: a turn of the layer before, the algorithm, a turn of the layer after.
#[derive(Clone, Copy)]
struct Way {
    name: &'static str,
    algorithm: usize,
    before: u32,
    after: u32,
}

/// An algorithm with its name and adjustments, as it is to be written.
pub struct Played {
    pub name: &'static str,
    pub moves: Vec<Move>,
    /// The turn of the layer that is left to do.
    pub after: Option<Amount>,
}

/// Which algorithm solves what.
pub struct LastLayer {
    orientations: Vec<Vec<Move>>,
    permutations: Vec<Vec<Move>>,
    orient: HashMap<[u8; 8], Vec<Way>>,
    permute: HashMap<State, Vec<Way>>,
}

impl LastLayer {
    /// Plays every algorithm backwards from the solved cube, with each turn of the layer before and after.
    pub fn new() -> LastLayer {
        let list = |table: &[(&str, &str)]| table.iter().map(|&(_, text)| tokens(text)).collect::<Vec<_>>();
        let (orientations, permutations) = (list(ORIENTATIONS), list(PERMUTATIONS));
        let mut orient: HashMap<_, Vec<_>> = HashMap::new();
        for (algorithm, moves) in orientations.iter().enumerate() {
            for before in 0..4 {
                let way = Way { name: ORIENTATIONS[algorithm].0, algorithm, before, after: 0 };
                orient.entry(pattern(&solved_by(before, moves, 0))).or_default().push(way);
            }
        }
        let mut permute: HashMap<_, Vec<_>> = HashMap::new();
        for before in 0..4 {
            for after in 0..4 {
                for (algorithm, moves) in permutations.iter().enumerate() {
                    let way = Way { name: PERMUTATIONS[algorithm].0, algorithm, before, after };
                    permute.entry(solved_by(before, moves, after)).or_default().push(way);
                }
            }
        }
        LastLayer { orientations, permutations, orient, permute }
    }

    /// Turns every last-layer sticker up; `None` if they all are.
    pub fn orientation(&self, state: &State, rng: &mut Rng, options: &Options) -> Option<Played> {
        let key = pattern(state);
        if key == [0; 8] {
            return None;
        }
        let ways = self.orient.get(&key).expect("57 cases are all there are");
        Some(played(ways, &self.orientations, rng, options))
    }

    /// Solves the cube but for a turn of the last layer; `None` if it is solved so far already.
    pub fn permutation(&self, state: &State, rng: &mut Rng, options: &Options) -> Option<Played> {
        if adjustment(state).is_some() {
            return None;
        }
        let ways = self.permute.get(state).expect("21 cases are all there are");
        Some(played(ways, &self.permutations, rng, options))
    }
}

/// The turn of the last layer that solves the cube: `Some(None)` if it is solved, `None` if no turn does.
pub fn adjustment(state: &State) -> Option<Option<Amount>> {
    let turned = |quarters| adjusted(*state, quarters).is_solved();
    (0..4).find(|&quarters| turned(quarters)).map(Amount::from_quarters)
}

fn played(ways: &[Way], algorithms: &[Vec<Move>], rng: &mut Rng, options: &Options) -> Played {
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
    moves.extend(&algorithms[way.algorithm]);
    Played { name: way.name, moves, after: Amount::from_quarters(after) }
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

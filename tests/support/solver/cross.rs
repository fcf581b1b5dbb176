//! The cross: exact distances for the yellow one, and lines a little longer than the shortest.

use cornerwise::cube::{Amount, Axis, Colour, Edge, EdgeAt, Face, FaceTurn, Hold, Move, Pair, State};

use super::random::Rng;
use super::{Options, turn_cost};

/// The cross is always yellow here; see the module's page.
const CROSS: Colour = Colour::Yellow;
const UNREACHED: u8 = u8::MAX;

/// Turns to the yellow cross for every way its four edges can lie.
pub struct CrossTable {
    edges: [Edge; 4],
    turns: [[u8; 24]; 18],
    distance: Vec<u8>,
}

/// A cross line in a hold.
pub struct CrossLine {
    /// The hold it is played in.
    pub hold: Hold,
    /// What is written.
    pub moves: Vec<Move>,
}

impl CrossTable {
    /// Breadth first from the solved cross: 190,080 arrangements.
    pub fn new() -> CrossTable {
        let edges = Pair::cross_edges(CROSS);
        let mut turns = [[0; 24]; 18];
        for turn in FaceTurn::ALL {
            let state = State::SOLVED.turned(turn);
            turns[turn.index()] = super::pairs::edge_map(&state);
        }
        let mut table = CrossTable { edges, turns, distance: vec![UNREACHED; 24usize.pow(4)] };
        let start = table.key(&State::SOLVED);
        table.distance[index(start)] = 0;
        let mut layer = vec![start];
        for depth in 1.. {
            let mut next = Vec::new();
            for key in layer {
                for turn in 0..18 {
                    let to = table.turned(key, turn);
                    let cell = &mut table.distance[index(to)];
                    if *cell == UNREACHED {
                        *cell = depth;
                        next.push(to);
                    }
                }
            }
            if next.is_empty() {
                break;
            }
            layer = next;
        }
        table
    }

    /// Turns to the cross, at best.
    pub fn distance(&self, state: &State) -> usize {
        usize::from(self.distance[index(self.key(state))])
    }

    /// A line a person would take: short, few turns at the back.
    pub fn line(&self, state: &State, rng: &mut Rng, options: &Options) -> CrossLine {
        let best = self.distance(state);
        let slack = if options.xcross { 2 } else { usize::from(best < 7) };
        let mut lines = Vec::new();
        self.extend(self.key(state), best + slack, &mut Vec::new(), &mut lines);
        let side = rng.chance(options.cross_on_left);
        let mut costs = Vec::new();
        for (i, line) in lines.iter().enumerate() {
            let after = line.iter().fold(*state, |state, &turn| state.turned(turn));
            let solved = Pair::all(CROSS).into_iter().filter(|&pair| after.pair_solved(pair)).count();
            for hold in holds(side) {
                let cost: u32 = written(line, hold).map(turn_cost).sum();
                let bonus = if options.xcross { 100.0 * solved as f64 } else { 0.0 };
                costs.push((i, hold, f64::from(cost) - bonus));
            }
        }
        let chosen = rng.pick(costs.iter().map(|c| c.2), options.temper).expect("there is a shortest line");
        let (i, hold, _) = costs[chosen];
        CrossLine { hold, moves: written(&lines[i], hold).collect() }
    }

    /// All lines of at most `left` turns that end at the first moment the cross is solved; at most 4,000.
    fn extend(&self, key: [u8; 4], left: usize, line: &mut Vec<FaceTurn>, lines: &mut Vec<Vec<FaceTurn>>) {
        if self.distance[index(key)] == 0 {
            lines.push(line.clone());
            return;
        }
        for turn in FaceTurn::ALL {
            if lines.len() >= 4000 {
                return;
            }
            if let Some(last) = line.last() {
                // Opposite layers commute: only one order.
                let same = last.centre as u8 / 2 == turn.centre as u8 / 2;
                if same && last.centre as u8 >= turn.centre as u8 {
                    continue;
                }
            }
            let to = self.turned(key, turn.index());
            if usize::from(self.distance[index(to)]) < left {
                line.push(turn);
                self.extend(to, left - 1, line, lines);
                line.pop();
            }
        }
    }

    fn key(&self, state: &State) -> [u8; 4] {
        self.edges.map(|edge| state.edge(edge).index() as u8)
    }

    fn turned(&self, key: [u8; 4], turn: usize) -> [u8; 4] {
        key.map(|at| self.turns[turn][usize::from(at)])
    }
}

fn index(key: [u8; 4]) -> usize {
    key.iter().fold(0, |sum, &at| sum * EdgeAt::COUNT + usize::from(at))
}

/// The four holds with the cross down, or on the left.
fn holds(side: bool) -> impl Iterator<Item = Hold> {
    let face = if side { Face::L } else { Face::D };
    Hold::ALL.into_iter().filter(move |hold| hold.colour(face) == CROSS)
}

/// The turns as written in a hold that does not change.
fn written(line: &[FaceTurn], hold: Hold) -> impl Iterator<Item = Move> {
    line.iter().map(move |turn| Move::Turn(hold.face(turn.centre), turn.amount))
}

/// The fewest rotations from one hold to another, as a person does them: at most one about `x` or `z`, then
/// one about `y`.
pub fn rotations(from: Hold, to: Hold) -> Vec<Move> {
    let mut tilts = vec![None];
    for axis in [Axis::X, Axis::Z] {
        tilts.extend(Amount::ALL.map(|amount| Some((axis, amount))));
    }
    let mut found: Vec<Vec<Move>> = Vec::new();
    for tilt in tilts {
        for spin in [None, Some(Amount::Quarter), Some(Amount::Back), Some(Amount::Half)] {
            let moves: Vec<Move> = [tilt, spin.map(|amount| (Axis::Y, amount))]
                .into_iter()
                .flatten()
                .map(|(axis, amount)| Move::Rotation(axis, amount))
                .collect();
            if moves.iter().fold(from, |hold, mv| mv.resolve(hold).hold) == to {
                found.push(moves);
            }
        }
    }
    found.into_iter().min_by_key(Vec::len).expect("two rotations reach every hold")
}

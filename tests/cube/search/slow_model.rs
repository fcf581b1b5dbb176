//! The slow, obvious way to find lines: try every sequence of turns.
//!
//! Shares nothing with `cornerwise::search`. `every_sequence` tries all of them; `plain_search` is the usual
//! depth-first search that leaves out only what cannot reach the cross, or any open pair, in time.

use std::sync::OnceLock;

use cornerwise::cube::{Colour, Corner, CornerAt, Edge, EdgeAt, FaceTurn, Pair, State};

/// A line as (turns, solved pairs): one bit for each of `Pair::all`.
pub type Line = (Vec<FaceTurn>, u8);

/// No two turns of one face in a row, and of two opposite faces only one order: here the order of colours.
pub fn may_follow(last: Option<FaceTurn>, next: FaceTurn) -> bool {
    last.is_none_or(|last| {
        last.centre != next.centre && !(last.centre == next.centre.opposite() && last.centre > next.centre)
    })
}

/// What is solved, worked out once for a cross colour.
pub struct Goal {
    cross: [Edge; 4],
    pairs: [Pair; 4],
}

impl Goal {
    pub fn new(cross: Colour) -> Goal {
        Goal { cross: Pair::cross_edges(cross), pairs: Pair::all(cross) }
    }

    pub fn pairs(&self, state: &State) -> u8 {
        (0..4).filter(|&i| state.pair_solved(self.pairs[i])).map(|i| 1 << i).sum()
    }

    /// The pairs a line from `kept` solves if it ends here.
    pub fn ends(&self, state: &State, kept: u8) -> Option<u8> {
        if !self.cross.iter().all(|&edge| state.edge_solved(edge)) {
            return None;
        }
        let pairs = self.pairs(state);
        (pairs & kept == kept && pairs != kept).then_some(pairs & !kept)
    }
}

/// Every line of at most `bound` turns, by trying every sequence.
pub fn every_sequence(state: &State, cross: Colour, bound: usize) -> Vec<Line> {
    let goal = Goal::new(cross);
    let mut lines = Vec::new();
    extend(state, &goal, goal.pairs(state), &mut Vec::new(), bound, &|_, _| true, &mut lines);
    lines
}

/// The same, leaving out what cannot end in time.
pub fn plain_search(state: &State, cross: Colour, bound: usize) -> Vec<Line> {
    let goal = Goal::new(cross);
    let kept = goal.pairs(state);
    let cross_distances = cross_distances(cross);
    let (corners, edges) = piece_distances();
    let in_time = |state: &State, left: usize| {
        usize::from(cross_distances[cross_number(&goal.cross, state)]) <= left
            && (0..4).any(|i| {
                let Pair { corner, edge } = goal.pairs[i];
                kept >> i & 1 == 0
                    && usize::from(corners[corner.index()][state.corner(corner).index()]) <= left
                    && usize::from(edges[edge.index()][state.edge(edge).index()]) <= left
            })
    };
    let mut lines = Vec::new();
    extend(state, &goal, kept, &mut Vec::new(), bound, &in_time, &mut lines);
    lines
}

fn extend(
    state: &State,
    goal: &Goal,
    kept: u8,
    turns: &mut Vec<FaceTurn>,
    left: usize,
    in_time: &dyn Fn(&State, usize) -> bool,
    lines: &mut Vec<Line>,
) {
    if left == 0 {
        return;
    }
    for turn in FaceTurn::ALL {
        if !may_follow(turns.last().copied(), turn) {
            continue;
        }
        let after = state.turned(turn);
        if !in_time(&after, left - 1) {
            continue;
        }
        // A line ends at its first moment in whichever order turns that commute are played: had this turn been
        // played before the last one, would the line have ended with it?
        if let Some(&last) = turns.last()
            && last.centre == turn.centre.opposite()
            && goal.ends(&state.turned(last.inverse()).turned(turn), kept).is_some()
        {
            continue;
        }
        turns.push(turn);
        match goal.ends(&after, kept) {
            Some(pairs) => lines.push((turns.clone(), pairs)),
            None => extend(&after, goal, kept, turns, left - 1, in_time, lines),
        }
        turns.pop();
    }
}

fn cross_number(edges: &[Edge; 4], state: &State) -> usize {
    edges.iter().fold(0, |number, &edge| number * 24 + state.edge(edge).index())
}

/// The distance of every state of the cross edges, by breadth-first search over whole cubes.
fn cross_distances(cross: Colour) -> &'static [u8] {
    static TABLES: [OnceLock<Vec<u8>>; 6] = [const { OnceLock::new() }; 6];
    TABLES[cross as usize].get_or_init(|| {
        let edges = Pair::cross_edges(cross);
        let mut distances = vec![u8::MAX; 24_usize.pow(4)];
        distances[cross_number(&edges, &State::SOLVED)] = 0;
        let mut queue = std::collections::VecDeque::from([State::SOLVED]);
        while let Some(state) = queue.pop_front() {
            let distance = distances[cross_number(&edges, &state)] + 1;
            for turn in FaceTurn::ALL {
                let after = state.turned(turn);
                let known = &mut distances[cross_number(&edges, &after)];
                if *known == u8::MAX {
                    *known = distance;
                    queue.push_back(after);
                }
            }
        }
        distances
    })
}

type PieceDistances = ([[u8; 24]; 8], [[u8; 24]; 12]);

/// How many turns each single corner and edge needs to come home, from wherever it is.
fn piece_distances() -> &'static PieceDistances {
    static TABLES: OnceLock<PieceDistances> = OnceLock::new();
    TABLES.get_or_init(|| {
        let corner = |i: usize| {
            spread(CornerAt::home(Corner::ALL[i]).index(), |at, turn| {
                CornerAt::from_index(at).turned(turn).index()
            })
        };
        let edge = |i: usize| {
            spread(EdgeAt::home(Edge::ALL[i]).index(), |at, turn| EdgeAt::from_index(at).turned(turn).index())
        };
        (std::array::from_fn(corner), std::array::from_fn(edge))
    })
}

fn spread(home: usize, turned: impl Fn(usize, FaceTurn) -> usize) -> [u8; 24] {
    let mut distances = [u8::MAX; 24];
    distances[home] = 0;
    for distance in 0..24 {
        for at in 0..24 {
            if distances[at] == distance {
                for turn in FaceTurn::ALL {
                    let to = &mut distances[turned(at, turn)];
                    *to = (*to).min(distance + 1);
                }
            }
        }
    }
    distances
}

/// How far the cross and one pair are from solved, for every position of them.
pub struct CrossAndPair {
    edges: [Edge; 4],
    pair: Pair,
    /// For each number of the cross, its rank among those that put no two edges in one place.
    ranks: Vec<u32>,
    /// By rank of the cross, corner and edge.
    distances: Vec<u8>,
}

impl CrossAndPair {
    const NEVER: u8 = u8::MAX;

    /// Breadth-first search over all positions, ring by ring.
    pub fn new(cross: Colour, pair: usize) -> CrossAndPair {
        let edges = Pair::cross_edges(cross);
        let mut crosses = Vec::new();
        let mut ranks = vec![u32::MAX; 24_usize.pow(4)];
        for (number, rank) in ranks.iter_mut().enumerate() {
            let four = [number / 13824, number / 576 % 24, number / 24 % 24, number % 24];
            let places = four.map(|at| EdgeAt::from_index(at).place());
            if (0..4).all(|i| (0..i).all(|k| places[i] != places[k])) {
                *rank = crosses.len() as u32;
                crosses.push(four);
            }
        }
        let turned: Vec<[u32; 18]> = crosses
            .iter()
            .map(|four| {
                FaceTurn::ALL.map(|turn| {
                    let after = four.map(|at| EdgeAt::from_index(at).turned(turn).index());
                    ranks[after.into_iter().fold(0, |number, at| number * 24 + at)]
                })
            })
            .collect();
        let turned_two: Vec<[u16; 18]> = (0..576)
            .map(|two| {
                FaceTurn::ALL.map(|turn| {
                    let corner = CornerAt::from_index(two / 24).turned(turn).index();
                    (corner * 24 + EdgeAt::from_index(two % 24).turned(turn).index()) as u16
                })
            })
            .collect();
        let mut table = CrossAndPair {
            edges,
            pair: Pair::all(cross)[pair],
            ranks,
            distances: vec![CrossAndPair::NEVER; crosses.len() * 576],
        };
        let start = table.number(&State::SOLVED);
        table.distances[start] = 0;
        let mut ring = vec![start as u32];
        for distance in 1.. {
            let mut next = Vec::new();
            for &from in &ring {
                let (four, two) = (from as usize / 576, from as usize % 576);
                for (&four, &two) in turned[four].iter().zip(&turned_two[two]) {
                    let to = four * 576 + u32::from(two);
                    if table.distances[to as usize] == CrossAndPair::NEVER {
                        table.distances[to as usize] = distance;
                        next.push(to);
                    }
                }
            }
            if next.is_empty() {
                break;
            }
            ring = next;
        }
        table
    }

    fn number(&self, state: &State) -> usize {
        let two = state.corner(self.pair.corner).index() * 24 + state.edge(self.pair.edge).index();
        self.ranks[cross_number(&self.edges, state)] as usize * 576 + two
    }

    pub fn distance(&self, state: &State) -> usize {
        usize::from(self.distances[self.number(state)])
    }

    /// How many positions there are at each distance.
    pub fn row(&self) -> Vec<usize> {
        let mut row = vec![0; 256];
        for &distance in &self.distances {
            row[usize::from(distance)] += 1;
        }
        row.truncate(usize::from(CrossAndPair::NEVER));
        while row.last() == Some(&0) {
            row.pop();
        }
        row
    }
}

//! What it costs to solve a pair next: its shortest lines, in the hold in which they are cheapest.

use std::collections::HashMap;

use super::cost::{EQUAL, Grip, Weights, grips, written};
use super::{Settings, number};
use crate::cube::{Colour, CornerAt, EdgeAt, Hold, Move, Pair, PairSet, Position, State};
use crate::search::{self, Kind, MAX_TURNS};

/// A cost, and the tokens that it is of.
#[derive(Debug, Clone)]
pub(super) struct Price {
    pub(super) cost: f64,
    pub(super) moves: Vec<Move>,
}

/// What a price depends on: the hold, the pair and where its pieces are, and which pairs have to be kept.
type Key = (Hold, Pair, CornerAt, EdgeAt, PairSet);

/// Prices, each worked out once.
pub(super) struct Prices {
    cross: Colour,
    kind: Kind,
    weights: Weights,
    known: HashMap<Key, Price>,
    grips: HashMap<Hold, Vec<Grip>>,
}

impl Prices {
    pub(super) fn new(cross: Colour, settings: &Settings) -> Prices {
        let (known, grips) = Default::default();
        Prices { cross, kind: settings.kind, weights: settings.weights, known, grips }
    }

    /// Of the shortest lines of the pair the cheapest in its cheapest hold. The cross has to be solved.
    ///
    /// The bound of the comparison is none for this: every pair has a line of at most ten turns, by hand too (the
    /// tests of the search go through all positions of a last pair).
    pub(super) fn of(&mut self, at: &Position, pair: Pair) -> &Price {
        let Prices { cross, kind, weights, known, grips: holds } = self;
        let (cross, kind) = (*cross, *kind);
        let state = &at.state;
        let solved = Pair::all(cross).into_iter().enumerate();
        let kept: PairSet = solved.filter(|&(_, pair)| state.pair_solved(pair)).map(|(i, _)| i).collect();
        let key = (at.hold, pair, state.corner(pair.corner), state.edge(pair.edge), kept);
        known.entry(key).or_insert_with(|| {
            let grips = holds.entry(at.hold).or_insert_with(|| grips(at.hold, cross, weights));
            let mut best = Price { cost: f64::INFINITY, moves: Vec::new() };
            for line in search::shortest_lines(state, cross, number(cross, pair), kind, MAX_TURNS) {
                for grip in grips.iter() {
                    let cost = grip.handling(line.turns(), weights);
                    if cost < best.cost - EQUAL {
                        let moves = grip.rotations.iter().copied();
                        let moves = moves.chain(written(line.turns(), grip.hold)).collect();
                        best = Price { cost, moves };
                    }
                }
            }
            best
        })
    }

    /// No more than [`Prices::of`] says, and quickly.
    pub(super) fn at_least(&self, state: &State, pair: Pair) -> f64 {
        let shortest = search::shortest(state, self.cross, number(self.cross, pair), self.kind, MAX_TURNS);
        shortest.map_or(f64::INFINITY, |turns| turns as f64 * self.weights.least())
    }
}

//! What is left to do after a line, to the end of the pairs.

use std::collections::HashMap;

use super::Judge;
use crate::cube::{Pair, Position};
use crate::hands::HalfUnits;

/// Sums to the end of the pairs, each worked out once.
#[derive(Debug, Default)]
pub(super) struct Rest {
    known: HashMap<Position, Option<HalfUnits>>,
}

impl Rest {
    /// The pairs that are open at a position, taken one after another: next always the one with the least then(), and of
    /// equal then() the pair, line and way with the least sum, so that names of slots decide nothing. `None` if a pair
    /// has no line of its own.
    pub(super) fn after(&mut self, judge: &Judge<'_>, at: &Position) -> Option<HalfUnits> {
        if let Some(&known) = self.known.get(at) {
            return known;
        }
        let open: Vec<Pair> = judge.pairs.into_iter().filter(|&pair| !at.state.pair_solved(pair)).collect();
        let sum = if open.is_empty() { Some(HalfUnits::ZERO) } else { self.next(judge, at, &open) };
        self.known.insert(*at, sum);
        sum
    }

    fn next(&mut self, judge: &Judge<'_>, at: &Position, open: &[Pair]) -> Option<HalfUnits> {
        let costs: Vec<(HalfUnits, Pair)> =
            open.iter().filter_map(|&pair| Some((judge.then_cost(at, pair)?, pair))).collect();
        let (least, _) = *costs.iter().min()?;
        let cheapest = costs.into_iter().filter(|&(cost, _)| cost == least);
        let thens = cheapest.flat_map(|(_, pair)| judge.thens(at, pair));
        thens.filter_map(|then| Some(then.cost + self.after(judge, &then.end)?)).min()
    }
}

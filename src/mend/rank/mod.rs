//! From sets of edits that work to repairs in order: equal ones made one, the likeliest first.

pub mod effect;
pub mod judge;

use std::collections::HashMap;

use crate::cube::{Face, Move};
use crate::notation::Turns;
use crate::record::Record;

use super::change::{Change, Part, Side, made};
use super::search::work::Work;
use effect::Effect;
use judge::{Judged, judge};

/// So many different repairs are looked at closely; if there are more, those whose slips are likeliest.
const MOST_JUDGED: usize = 1500;
/// So many ways to write one repair are looked at.
const MOST_WAYS: usize = 6;
/// Steps for each token of a record to see what a repair does.
const STEPS_TO_MAKE: u64 = 4;
/// Steps for each token to replay a repaired record, split it and look at its claims.
const STEPS_TO_JUDGE: u64 = 20;

/// A repair that makes the record replay to solved.
#[derive(Debug, Clone, PartialEq)]
pub struct Repair {
    /// What is rewritten, in order.
    pub changes: Vec<Change>,
    /// How unlikely it is that this is what happened, as a natural logarithm: the lower, the likelier.
    pub cost: f64,
    /// The record as it would be.
    pub judged: Judged,
    /// The scramble as it would be.
    pub scramble: Turns,
    /// The solution as it would be.
    pub solution: Turns,
    /// What the repaired record does.
    pub effect: Effect,
    /// In how many ways the same turns could be had by as many edits or fewer.
    pub ways: usize,
}

/// Repairs in order, and how many there are.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Ranked {
    /// The likeliest first.
    pub repairs: Vec<Repair>,
    /// How many different repairs fit: at least as many as `repairs`.
    pub n_fits: usize,
    /// Whether there was too much work to look at all of them: those whose slips are least likely were not.
    pub cut_short: bool,
}

/// Orders sets of changes, each of which is supposed to make the record replay to solved. Those that do not
/// after all are dropped.
#[must_use]
pub fn rank(record: &Record, mut candidates: Vec<Vec<Change>>, work: &mut Work) -> Ranked {
    let cost = |changes: &[Change]| changes.iter().map(|change| change.cost).sum::<f64>();
    // The likeliest first, and the order of equals must not depend on how they were found.
    candidates.sort_by(|a, b| cost(a).total_cmp(&cost(b)).then_with(|| by_place(a, b)));
    let n_tokens = (record.scramble.tokens.len() + record.solution.tokens.len() + 1) as u64;
    let mut classes: HashMap<Effect, Vec<Vec<Change>>> = HashMap::new();
    for changes in candidates {
        if !work.spend(STEPS_TO_MAKE * n_tokens) {
            break;
        }
        let scramble = made(&record.scramble, Part::Scramble, &changes);
        let solution = made(&record.solution, Part::Solution, &changes);
        let effect = Effect::of(scramble.playable(), solution.playable());
        classes.entry(effect).or_default().push(changes);
    }
    let mut classes: Vec<(f64, Effect, Vec<Vec<Change>>)> =
        classes.into_iter().map(|(effect, ways)| (cost(&ways[0]), effect, ways)).collect();
    classes.sort_by(|a, b| a.0.total_cmp(&b.0).then_with(|| a.1.cmp(&b.1)));
    let n_classes = classes.len();
    let mut repairs: Vec<Repair> = classes
        .into_iter()
        .take(MOST_JUDGED)
        .filter_map(|(_, effect, ways)| best_way(record, effect, &ways, work))
        .collect();
    let n_fits = n_classes.saturating_sub(MOST_JUDGED) + repairs.len();
    repairs.sort_by(|a, b| {
        a.cost
            .total_cmp(&b.cost)
            .then_with(|| by_place(&a.changes, &b.changes))
            .then_with(|| a.effect.cmp(&b.effect))
    });
    Ranked { repairs, n_fits, cut_short: work.is_spent() }
}

fn by_place(a: &[Change], b: &[Change]) -> std::cmp::Ordering {
    let key = |changes: &[Change]| -> Vec<(usize, Part, usize, usize, Vec<Move>)> {
        changes.iter().map(|c| (changes.len(), c.part, c.range.start, c.range.end, c.moves.clone())).collect()
    };
    key(a).cmp(&key(b))
}

/// Of all ways to write one repair, the likeliest.
fn best_way(record: &Record, effect: Effect, ways: &[Vec<Change>], work: &mut Work) -> Option<Repair> {
    let n_tokens = (record.scramble.tokens.len() + record.solution.tokens.len() + 1) as u64;
    let mut best: Option<Repair> = None;
    for changes in ways.iter().take(MOST_WAYS) {
        for changes in sides(record, changes) {
            if !work.spend(STEPS_TO_JUDGE * n_tokens) {
                return best;
            }
            let scramble = made(&record.scramble, Part::Scramble, &changes);
            let solution = made(&record.solution, Part::Solution, &changes);
            let moves: Vec<Move> = scramble.playable().collect();
            let judged = judge(&moves, &solution);
            let whole =
                moves.len() == scramble.tokens.len() && solution.playable().count() == solution.tokens.len();
            if !whole || !judged.solved() {
                continue;
            }
            let cost = changes.iter().map(|change| change.cost + misplaced(record, change)).sum::<f64>()
                + judged.cost;
            if best.as_ref().is_none_or(|best| cost < best.cost) {
                let effect = effect.clone();
                best = Some(Repair { changes, cost, judged, scramble, solution, effect, ways: ways.len() });
            }
        }
    }
    best
}

/// The same changes with every insertion on either side of the comments, marks and line ends of its moment.
fn sides(record: &Record, changes: &[Change]) -> Vec<Vec<Change>> {
    let mut all = vec![changes.to_vec()];
    for (i, change) in changes.iter().enumerate() {
        if at_border(record, change) {
            let mut others = all.clone();
            others.iter_mut().for_each(|other| other[i].side = Side::InFront);
            all.extend(others);
        }
    }
    all
}

/// Whether something stands between the tokens where this one is inserted.
fn at_border(record: &Record, change: &Change) -> bool {
    let turns = match change.part {
        Part::Scramble => &record.scramble,
        Part::Solution => &record.solution,
    };
    let at = change.range.start;
    change.range.is_empty()
        && change.side != Side::OwnLine
        && at > 0
        && at < turns.tokens.len()
        && (turns.comments.iter().any(|comment| comment.moment == at)
            || turns.breaks.iter().any(|line| line.moment == at)
            || turns.marks.iter().any(|mark| mark.moment == at))
}

/// A small cost for the side of a border on which such a token rarely stands: rotations and turns of the top
/// layer begin a step more often than they end one.
fn misplaced(record: &Record, change: &Change) -> f64 {
    if !at_border(record, change) {
        return 0.0;
    }
    let begins = matches!(change.moves.first(), Some(Move::Rotation(..) | Move::Turn(Face::U, _)));
    if begins == (change.side == Side::InFront) { 0.0 } else { 0.3 }
}

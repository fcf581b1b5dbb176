//! A second judge, slow and obvious, written from the words of the method.
//!
//! Shares with the first only what has judges of its own: the search for lines. What is seen is counted in stickers
//! in space; cost, holds, orders and outcomes are worked out here.

use std::collections::BTreeMap;

use cornerwise::choice::{Verdict, Weights};
use cornerwise::cube::{Amount, Axis, Colour, Face, FaceSet, FaceTurn, Hold, Move, Pair, Position};
use cornerwise::search::{self, Kind};
use cornerwise::sight::Outcome;

use super::steps::Step;
use crate::support::space::Space;

pub struct Judged {
    pub verdict: Verdict,
    pub outcome: Outcome,
    pub cost: f64,
    pub within: usize,
    pub lines: usize,
    /// For each better end within the limit, the best outcome and its least cost; by the cube as it lies in space
    /// with the hold taken out.
    pub better: BTreeMap<Vec<usize>, (Outcome, i64)>,
    /// The best of the same turns with another pair next.
    pub same_turns: Option<(Outcome, i64)>,
    pub good_pairs: Vec<Pair>,
    pub other_pair: Option<Outcome>,
}

/// Thousandths, so that sums in another order are equal.
pub fn thousandths(cost: f64) -> i64 {
    (cost * 1000.0).round() as i64
}

pub fn cost_of(mv: Move, weights: &Weights) -> f64 {
    let (base, amount) = match mv {
        Move::Turn(Face::R | Face::U | Face::L, a) | Move::Wide(Face::R | Face::U | Face::L, a) => {
            (weights.side, a)
        }
        Move::Turn(Face::F | Face::D, a) | Move::Wide(Face::F | Face::D, a) => (weights.front, a),
        Move::Turn(Face::B, a) | Move::Wide(Face::B, a) => (weights.back, a),
        Move::Slice(_, a) => (weights.slice, a),
        Move::Rotation(_, a) => (weights.rotation, a),
    };
    if amount == Amount::Half { base + weights.half } else { base }
}

fn sum(moves: &[Move], weights: &Weights) -> f64 {
    moves.iter().map(|&mv| cost_of(mv, weights)).sum()
}

/// The cube after some moves, and the same with the hold of scrambling, as a key.
pub fn key(before: &[Move], moves: &[Move]) -> Vec<usize> {
    let mut space = Space::played(before);
    moves.iter().for_each(|&mv| space.play(mv));
    let holds = rotations(2);
    let upright = holds.into_iter().find_map(|way| {
        let mut turned = space.clone();
        way.iter().for_each(|&mv| turned.play(mv));
        (turned.side(&[Colour::White], Colour::White) == Face::U
            && turned.side(&[Colour::Green], Colour::Green) == Face::F)
            .then_some(turned)
    });
    upright.expect("two rotations lead anywhere").image()
}

/// Every sequence of at most so many rotations.
fn rotations(most: usize) -> Vec<Vec<Move>> {
    let one: Vec<Move> = Axis::ALL
        .into_iter()
        .flat_map(|axis| Amount::ALL.map(|amount| Move::Rotation(axis, amount)))
        .collect();
    let mut all: Vec<Vec<Move>> = vec![Vec::new()];
    let mut last = all.clone();
    for _ in 0..most {
        last =
            last.iter().flat_map(|way| one.iter().map(move |&mv| [way.as_slice(), &[mv]].concat())).collect();
        all.extend(last.clone());
    }
    all
}

fn colours(pair: Pair, cross: Colour) -> (Vec<Colour>, Vec<Colour>) {
    let [a, b] = pair.sides();
    (vec![cross, a, b], vec![a, b])
}

fn seen(space: &Space, piece: &[Colour], sight: FaceSet) -> bool {
    piece.iter().filter(|&&colour| sight.contains(space.side(piece, colour))).count() >= 2
}

/// What moves leave for a pair, by the words of the method.
pub fn leaves(
    before: &[Move],
    moves: &[Move],
    cross: Colour,
    pair: Pair,
    sight: FaceSet,
    lead: usize,
) -> Outcome {
    let (corner, edge) = colours(pair, cross);
    let all: usize = moves.iter().map(|mv| mv.obtm()).sum();
    let mut left = all;
    let mut space = Space::played(before);
    let (mut corner_seen, mut edge_seen, mut in_time) = (false, false, false);
    for i in 0..=moves.len() {
        corner_seen |= seen(&space, &corner, sight);
        edge_seen |= seen(&space, &edge, sight);
        in_time |= corner_seen && edge_seen && left >= lead.min(all);
        if let Some(&mv) = moves.get(i) {
            space.play(mv);
            left -= mv.obtm();
        }
    }
    match (space.is_up(cross, &corner), in_time) {
        (false, _) => Outcome::Down,
        (true, true) => Outcome::Ready,
        (true, false) => Outcome::Up,
    }
}

/// The turns in every order of neighbours of opposite faces.
fn orders(turns: &[FaceTurn]) -> Vec<Vec<FaceTurn>> {
    let mut all = vec![turns.to_vec()];
    for i in 1..turns.len() {
        if turns[i].centre == turns[i - 1].centre.opposite() {
            for mut order in all.clone() {
                order.swap(i - 1, i);
                all.push(order);
            }
        }
    }
    all
}

/// Every way to play the turns with the cross down, with its cost: each hold by its cheapest rotations.
fn ways(turns: &[FaceTurn], from: Hold, cross: Colour, weights: &Weights) -> Vec<(f64, Vec<Move>)> {
    let reached = |rotations: &[Move]| rotations.iter().fold(from, |hold, mv| mv.resolve(hold).hold);
    let ways = rotations(2);
    let cheapest = |hold: Hold| {
        let costs = ways.iter().filter(|way| reached(way) == hold).map(|way| sum(way, weights));
        costs.fold(f64::INFINITY, f64::min)
    };
    let mut all = Vec::new();
    for rotations in &ways {
        let hold = reached(rotations);
        if hold.colour(Face::D) != cross || sum(rotations, weights) > cheapest(hold) + 1e-6 {
            continue;
        }
        for order in orders(turns) {
            let written = order.iter().map(|turn| Move::Turn(hold.face(turn.centre), turn.amount));
            let moves: Vec<Move> = rotations.iter().copied().chain(written).collect();
            all.push((sum(&moves, weights), moves));
        }
    }
    all
}

/// The cheapest of the shortest lines of a pair.
fn price(at: &Position, pair: Pair, cross: Colour, kind: Kind, weights: &Weights) -> f64 {
    let index = Pair::all(cross).iter().position(|&other| other == pair).expect("a pair of the cross");
    search::shortest_lines(&at.state, cross, index, kind, 12)
        .iter()
        .flat_map(|line| ways(line.turns(), at.hold, cross, weights))
        .map(|(cost, _)| cost)
        .fold(f64::INFINITY, f64::min)
}

/// The verdict on a step, with everything it rests on.
pub fn judge(step: &Step, kind: Kind, longest: usize, slack: f64, lead: usize) -> Judged {
    let weights = Weights::default();
    let (cross, sight) = (step.cross, step.sight);
    let start = step.positions[0];
    let end = step.positions[step.positions.len() - 1];
    let left = |pair| leaves(&step.before, &step.moves, cross, pair, sight, lead);
    let own = sum(&step.moves, &weights);
    let price = |at: &Position, pair| price(at, pair, cross, kind, &weights);

    let mut outcome = Outcome::Down;
    let mut cost = f64::INFINITY;
    for &pair in &step.next {
        let whole = own + price(&end, pair);
        if left(pair) > outcome || (left(pair) == outcome && whole < cost) {
            (outcome, cost) = (left(pair), whole);
        }
    }
    let limit = cost + slack + 1e-6;

    let played: usize = step.moves.iter().map(|mv| mv.obtm()).sum();
    // The shortest line of any pair is the shortest of all lines.
    let shortest = (1..=longest).find(|&n| search::count(&start.state, cross, kind, n) > 0).unwrap_or(0);
    let within = (played.max(shortest) + 1).min(longest);
    let lines = search::lines(&start.state, cross, kind, within);

    let mut good: Vec<Pair> = Vec::new();
    let mut same_turns: Option<(Outcome, i64)> = None;
    let mut other_pair = None;
    for &pair in step.open.iter().filter(|pair| !step.solves.contains(pair) && !step.next.contains(pair)) {
        let whole = own + price(&end, pair);
        if left(pair) > outcome {
            other_pair = other_pair.max(Some(left(pair)));
            if whole <= limit {
                let new = (left(pair), -thousandths(whole));
                same_turns = same_turns.max(Some(new));
            }
        }
    }
    if outcome == Outcome::Ready || same_turns.is_some_and(|(outcome, _)| outcome == Outcome::Ready) {
        good.extend(&step.solves);
    }

    let mut better: BTreeMap<Vec<usize>, (Outcome, i64)> = BTreeMap::new();
    for line in &lines {
        let ways = ways(line.turns(), start.hold, cross, &weights);
        let all = Pair::all(cross);
        let solves: Vec<Pair> = (0..4).filter(|&i| line.solves(i)).map(|i| all[i]).collect();
        for &next in step.open.iter().filter(|pair| !solves.contains(pair)) {
            for (handling, way) in &ways {
                if *handling > limit {
                    continue;
                }
                let left = leaves(&step.before, way, cross, next, sight, lead);
                if left == Outcome::Down || (left <= outcome && left != Outcome::Ready) {
                    continue;
                }
                let whole = handling + price(&start.after(way.iter().copied()), next);
                if whole > limit {
                    continue;
                }
                if left == Outcome::Ready {
                    good.extend(&solves);
                }
                if left > outcome {
                    let entry = better.entry(key(&step.before, way)).or_insert((Outcome::Down, 0));
                    *entry = (*entry).max((left, -thousandths(whole)));
                }
            }
        }
    }
    let verdict = match outcome {
        Outcome::Ready => Verdict::Kept,
        _ if better.is_empty() && same_turns.is_none() => Verdict::Forced,
        _ => Verdict::Avoidable,
    };
    let good_pairs = step.open.iter().copied().filter(|pair| good.contains(pair)).collect();
    Judged { verdict, outcome, cost, within, lines: lines.len(), better, same_turns, good_pairs, other_pair }
}

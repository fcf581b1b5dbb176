//! Whether two records begin with the same position, and if not, why.
//!
//! Positions are compared relative to the centres: a rotation that a scramble begins or ends with makes no
//! difference.

use similar::{Algorithm, DiffOp, capture_diff_slices};

use super::facts::{Sides, Slip, Start, Why};
use super::frame::{self, Turned};
use crate::cube::{Corner, Edge, FaceTurn, Hold, Move, Moves, Position};
use crate::record::Record;

/// Of a scramble, at most one token in this many may differ for it to count as the same with a slip. (Two
/// scrambles of 20 turns that have nothing to do with each other have about 7 tokens in common in order.)
const TOKENS_A_SLIP: usize = 5;

/// Compares what two scrambles come to. A scramble that cannot be read is taken up to its fault.
#[must_use]
pub fn start(records: Sides<&Record>) -> Start {
    let moves = records.map(|record| record.scramble.playable().collect::<Vec<Move>>());
    let states = moves.as_ref().map(|moves| Position::SOLVED.after(moves.iter().copied()).state);
    let corners = Corner::ALL.into_iter().filter(|&c| states.a.corner(c) != states.b.corner(c)).count();
    let edges = Edge::ALL.into_iter().filter(|&e| states.a.edge(e) != states.b.edge(e)).count();
    let same = corners + edges == 0;
    let why = (!same).then(|| {
        turned(&moves)
            .map_or_else(|| slips(&moves).unwrap_or(Why::Other), |rotations| Why::Turned { rotations })
    });
    Start { same, corners, edges, why }
}

/// The rotations before the scramble of `b` that make it the position of `a`.
fn turned(moves: &Sides<Vec<Move>>) -> Option<Moves> {
    let target = Position::SOLVED.after(moves.a.iter().copied()).state;
    let mut ways = rotations();
    ways.sort_by_key(Vec::len);
    let way = ways.into_iter().find(|way| {
        let moves = way.iter().chain(&moves.b).copied();
        Position::SOLVED.after(moves).state == target
    })?;
    Some(way.into())
}

/// For each of the 24 holds, rotations that lead to it from the first.
fn rotations() -> Vec<Vec<Move>> {
    let single: Vec<Move> = Move::ALL.into_iter().filter(|mv| mv.is_rotation()).collect();
    let mut ways: Vec<Vec<Move>> = vec![vec![]];
    ways.extend(single.iter().map(|&mv| vec![mv]));
    ways.extend(single.iter().flat_map(|&a| single.iter().map(move |&b| vec![a, b])));
    let end = |way: &[Move]| way.iter().fold(Hold::START, |hold, mv| mv.resolve(hold).hold);
    let mut seen: Vec<Hold> = Vec::new();
    ways.retain(|way| {
        let hold = end(way);
        let new = !seen.contains(&hold);
        seen.push(hold);
        new
    });
    ways
}

/// The few tokens that differ, if it is the same scramble but for those.
fn slips(moves: &Sides<Vec<Move>>) -> Option<Why> {
    let turns = moves.as_ref().map(|moves| sorted(frame::resolve(Hold::START, moves)));
    // A slip in a rotation or a wide turn changes every turn after it, so what is written is compared as well.
    let resolved = differing(&turns, |turned| turned.turn, |turned| turned.token, moves);
    let tokens = moves.as_ref().map(|moves| moves.iter().copied().enumerate().collect::<Vec<_>>());
    let written = differing(&tokens, |(_, mv)| *mv, |(token, _)| *token, moves);
    let slips = if written.len() < resolved.len() { written } else { resolved };
    let longest = moves.a.len().max(moves.b.len());
    let tokens: usize = slips.iter().map(|slip| slip.text.a.len().max(slip.text.b.len())).sum();
    (!slips.is_empty() && tokens * TOKENS_A_SLIP <= longest).then_some(Why::Slip { slips })
}

/// Commuting neighbours in one order.
fn sorted(mut turns: Vec<Turned>) -> Vec<Turned> {
    let mut at = 0;
    let runs: Vec<usize> =
        turns.chunk_by(|a, b| frame::axis(a.turn) == frame::axis(b.turn)).map(<[Turned]>::len).collect();
    for len in runs {
        turns[at..at + len].sort_by_key(|turned: &Turned| FaceTurn::index(turned.turn) / 3);
        at += len;
    }
    turns
}

fn differing<T, K: PartialEq + Ord + std::hash::Hash>(
    sequences: &Sides<Vec<T>>,
    key: impl Fn(&T) -> K,
    token: impl Fn(&T) -> usize,
    moves: &Sides<Vec<Move>>,
) -> Vec<Slip> {
    let keys = sequences.as_ref().map(|sequence| sequence.iter().map(&key).collect::<Vec<K>>());
    let mut slips = Vec::new();
    for op in capture_diff_slices(Algorithm::Myers, &keys.a, &keys.b) {
        if matches!(op, DiffOp::Equal { .. }) {
            continue;
        }
        let ranges = Sides { a: op.old_range(), b: op.new_range() };
        let both = sequences.as_ref().zip(moves.as_ref()).zip(ranges);
        let side = both.map(|((sequence, moves), range)| {
            let mut tokens: Vec<usize> = sequence[range.clone()].iter().map(&token).collect();
            tokens.sort_unstable();
            tokens.dedup();
            // Where nothing stands, the number of the token before which it is missing.
            let missing = || sequence.get(range.start).map_or(moves.len(), &token);
            let first = tokens.first().copied().unwrap_or_else(missing);
            (first + 1, tokens.iter().map(|&token| moves[token]).collect::<Moves>())
        });
        slips.push(Slip {
            token: Sides { a: side.a.0, b: side.b.0 },
            text: Sides { a: side.a.1, b: side.b.1 },
        });
    }
    slips
}

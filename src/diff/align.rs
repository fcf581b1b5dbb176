//! Alignment by position: where two solutions part and where they have the same position again.
//!
//! Each side's moments are named by a [`Key`] such that two moments have the same key exactly if their
//! positions are the same, or the same but for a turn of a layer that is free in both. The layer opposite the
//! cross is free while the cross and every pair solved so far are in their places: no piece of theirs is in it.
//! While the cross is being built, and while a pair step has taken something solved out of its place, no layer
//! is free, and on the solved cube neither. If the crosses are of different colours no layer is free on both
//! sides.
//!
//! The two sequences of keys are then aligned with `similar`. What it finds in common, cut where the turns
//! between are not the same, is where the sides are together.

use std::collections::HashSet;

use similar::{Algorithm, DiffOp, capture_diff_slices};

use super::facts::{FreeTurn, Meeting, MeetingSide, Parting, PartingSide, Sides};
use super::frame::{self, Turned};
use super::side::Side;
use crate::cube::{Amount, Colour, Face, FaceTurn, Hold, Move, State};

/// What a position is compared by.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub(super) enum Key {
    /// The position itself.
    Exact(State),
    /// The least of the four positions that a turn of the free layer makes of it.
    ButForATurn(State),
}

/// The layer that is free on both sides when it is free at all.
pub(super) fn free_layer(sides: Sides<&Side<'_>>) -> Option<Colour> {
    let (a, b) = (sides.a.cross?, sides.b.cross?);
    (a == b).then(|| a.opposite())
}

/// The key of a position; `settled` says whether the free layer is free there.
pub(super) fn key(state: &State, layer: Option<Colour>, settled: bool) -> Key {
    match layer {
        Some(centre) if settled && !state.is_solved() => {
            let turned = Amount::ALL.map(|amount| state.turned(FaceTurn { centre, amount }));
            Key::ButForATurn(turned.into_iter().fold(*state, State::min))
        }
        _ => Key::Exact(*state),
    }
}

/// A run of moments with one key.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
struct Node {
    key: Key,
    /// The first of them.
    from: usize,
    /// The last of them.
    to: usize,
}

fn nodes(side: &Side<'_>, layer: Option<Colour>) -> Vec<Node> {
    let cross_end = side.cross_end();
    let mut nodes: Vec<Node> = Vec::new();
    for (moment, position) in side.replay.moments.iter().enumerate() {
        let state = &position.state;
        let settled = cross_end.is_some_and(|end| end <= moment)
            && side.cross.is_some_and(|cross| state.cross_solved(cross))
            && side.pairs_by(moment).into_iter().all(|pair| state.pair_solved(pair));
        let key = key(state, layer, settled);
        match nodes.last_mut() {
            Some(last) if last.key == key => last.to = moment,
            _ => nodes.push(Node { key, from: moment, to: moment }),
        }
    }
    nodes
}

/// Where both sides are at one key after the other.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Together {
    /// The first moments.
    pub(super) from: Sides<usize>,
    /// The last moments.
    pub(super) to: Sides<usize>,
}

/// Every run of moments at which both sides are together, in order; the first begins at the start if that is
/// the same.
pub(super) fn together(sides: Sides<&Side<'_>>) -> Vec<Together> {
    let layer = free_layer(sides);
    let nodes = sides.map(|side| nodes(side, layer));
    let matched = matches(nodes.as_ref().map(|nodes| nodes.iter().map(|node| node.key).collect()));
    let mut runs: Vec<Together> = Vec::new();
    let mut before: Option<(usize, usize)> = None;
    for (i, j) in matched {
        let (a, b) = (nodes.a[i], nodes.b[j]);
        let goes_on = before.is_some_and(|(p, q)| {
            let adjacent = p + 1 == i && q + 1 == j;
            (adjacent || same_way(sides, (nodes.a[p], a), (nodes.b[q], b)))
                && !parted_within(sides, (nodes.a[p], a), (nodes.b[q], b))
        });
        match runs.last_mut() {
            Some(run) if goes_on => run.to = Sides { a: a.to, b: b.to },
            _ => runs.push(Together { from: Sides { a: a.from, b: b.from }, to: Sides { a: a.to, b: b.to } }),
        }
        before = Some((i, j));
    }
    runs
}

/// Whether the sides, at one position exactly, turned the free layer differently before they left it: then they
/// parted there, though no more than that layer ever told them apart. (At positions that differ by a turn of the
/// layer, one of them has to turn it back.)
fn parted_within(sides: Sides<&Side<'_>>, a: (Node, Node), b: (Node, Node)) -> bool {
    let at = |side: &Side<'_>, moment: usize| side.replay.moments[moment].state;
    let way =
        |side: &Side<'_>, (from, to): (Node, Node)| frame::canonical(&side.turns_between(from.from, to.from));
    at(sides.a, a.0.from) == at(sides.b, b.0.from) && way(sides.a, a) != way(sides.b, b)
}

/// Whether both went from one node to the other by the same turns, commuting neighbours in either order.
fn same_way(sides: Sides<&Side<'_>>, a: (Node, Node), b: (Node, Node)) -> bool {
    let way =
        |side: &Side<'_>, (from, to): (Node, Node)| frame::canonical(&side.turns_between(from.to, to.from));
    way(sides.a, a) == way(sides.b, b)
}

/// The places of common keys, one after the other on both sides, as many as possible. Swapping the sides swaps
/// the answer.
fn matches(keys: Sides<Vec<Key>>) -> Vec<(usize, usize)> {
    if keys.b < keys.a {
        let swapped = matches(keys.swapped());
        return swapped.into_iter().map(|(i, j)| (j, i)).collect();
    }
    // Most keys of one side do not occur on the other; without them the alignment has little to do.
    let common = |keys: &[Key], others: &[Key]| -> Vec<(usize, Key)> {
        let others: HashSet<&Key> = others.iter().collect();
        keys.iter().copied().enumerate().filter(|(_, key)| others.contains(key)).collect()
    };
    let (a, b) = (common(&keys.a, &keys.b), common(&keys.b, &keys.a));
    let only_keys = |found: &[(usize, Key)]| found.iter().map(|(_, key)| *key).collect::<Vec<_>>();
    let mut matched = Vec::new();
    for op in capture_diff_slices(Algorithm::Myers, &only_keys(&a), &only_keys(&b)) {
        if let DiffOp::Equal { old_index, new_index, len } = op {
            matched.extend((0..len).map(|k| (a[old_index + k].0, b[new_index + k].0)));
        }
    }
    matched
}

/// How many turns both sides made alike from the start, and the place of the first different one in each
/// side's turns. Within a run of commuting turns the common ones count as made first.
fn alike(a: &[Turned], b: &[Turned]) -> Option<(usize, Option<Turned>, Option<Turned>)> {
    let mut turns = 0;
    let (mut i, mut j) = (0, 0);
    loop {
        let run = |turns: &[Turned]| {
            let first = turns.first()?.turn;
            let len = turns.iter().take_while(|t| frame::axis(t.turn) == frame::axis(first)).count();
            Some(turns[..len].to_vec())
        };
        let (run_a, run_b) = (run(&a[i..]), run(&b[j..]));
        if run_a.is_none() && run_b.is_none() {
            return None;
        }
        let (run_a, run_b) = (run_a.unwrap_or_default(), run_b.unwrap_or_default());
        let (left_a, left_b, common) = without_common(&run_a, &run_b);
        turns += common;
        if left_a.is_empty() && left_b.is_empty() {
            i += run_a.len();
            j += run_b.len();
            continue;
        }
        // Where one side has made all of its run, its next turn is the different one.
        let next = |left: &[Turned], rest: &[Turned]| left.first().or(rest.first()).copied();
        return Some((turns, next(&left_a, &a[i + run_a.len()..]), next(&left_b, &b[j + run_b.len()..])));
    }
}

/// What is left of two runs of commuting turns when their common turns are taken out, and how many those are.
/// Turns of one layer are taken in their order, as far as they agree.
fn without_common(a: &[Turned], b: &[Turned]) -> (Vec<Turned>, Vec<Turned>, usize) {
    let (mut left_a, mut left_b, mut common) = (Vec::new(), Vec::new(), 0);
    let mut layers: Vec<Colour> = a.iter().chain(b).map(|turned| turned.turn.centre).collect();
    layers.sort();
    layers.dedup();
    for layer in layers {
        let of = |run: &[Turned]| -> Vec<Turned> {
            run.iter().copied().filter(|turned| turned.turn.centre == layer).collect()
        };
        let (of_a, of_b) = (of(a), of(b));
        let same = of_a.iter().zip(&of_b).take_while(|(x, y)| x.turn == y.turn).count();
        common += same;
        left_a.extend_from_slice(&of_a[same..]);
        left_b.extend_from_slice(&of_b[same..]);
    }
    left_a.sort_by_key(|turned| turned.token);
    left_b.sort_by_key(|turned| turned.token);
    (left_a, left_b, common)
}

/// Where the sides first make different turns.
pub(super) fn parting(sides: Sides<&Side<'_>>, hold: Hold) -> Option<Parting> {
    let (turns, a, b) = alike(&sides.a.turns, &sides.b.turns)?;
    let at = Sides { a: (sides.a, a), b: (sides.b, b) };
    let at = at.map(|(side, first)| {
        // The last turn made alike ends where as many turns are done, which may be after the different one if
        // they commute: then the moment before that one is as near as it gets.
        let by_count = turns.checked_sub(1).and_then(|last| side.turns.get(last)).map_or(0, |t| t.token + 1);
        let moment = first.map_or(by_count, |turned| by_count.min(turned.token));
        let whole = side.obtm(moment) == turns;
        let place = first.and_then(|turned| {
            let span = side.entry.study.record.solution.tokens.get(turned.token)?.span;
            Some(side.entry.study.source.position(span.start))
        });
        PartingSide {
            moment,
            seconds: side.seconds(moment).filter(|_| whole),
            step: first.and_then(|turned| side.step_at(turned.token)).map(|step| step.name),
            turn: first.map(|turned| frame::one_written(turned.turn, hold)),
            written: first.map(|turned| side.replay.moves[turned.token]),
            line: place.map(|(line, _)| line),
            column: place.map(|(_, column)| column),
        }
    });
    Some(Parting { turns, at })
}

/// Where the sides have the same position again after they parted, while pairs are open: in the last layer a meeting
/// teaches nothing, and crosses of two colours have no way in common.
pub(super) fn meetings(sides: Sides<&Side<'_>>, same_start: bool, hold: Hold) -> Vec<Meeting> {
    let layer = free_layer(sides);
    if layer.is_none() {
        return Vec::new();
    }
    // A pair that a step of the last layer takes out for a while is not open.
    let open = |side: &Side<'_>, moment: usize| side.pairs_by(moment).len() < 4;
    let runs = together(sides);
    let after_start = runs.iter().skip(usize::from(same_start));
    after_start
        .filter(|run| open(sides.a, run.from.a) || open(sides.b, run.from.b))
        .map(|run| {
            let states = sides.zip(run.from).map(|(side, moment)| side.replay.moments[moment].state);
            let at = sides.zip(run.from).map(|(side, moment)| MeetingSide {
                moment,
                obtm: side.obtm(moment),
                seconds: side.seconds(moment),
                place: side.place(moment),
            });
            let ends = sides.zip(run.to).map(|(side, to)| side.obtm(to) == side.turns.len());
            Meeting {
                at,
                free_turn: layer.and_then(|layer| free_turn(&states, layer, hold)),
                solved: solved(sides.a, run.from.a),
                until: run.to,
                to_end: ends.a && ends.b,
            }
        })
        .collect()
}

/// The turn of `layer` that makes the first state the second.
fn free_turn(states: &Sides<State>, layer: Colour, hold: Hold) -> Option<FreeTurn> {
    if states.a == states.b {
        return None;
    }
    let turn = Amount::ALL
        .map(|amount| FaceTurn { centre: layer, amount })
        .into_iter()
        .find(|turn| states.a.turned(*turn) == states.b)?;
    Some(FreeTurn { layer, turn: frame::one_written(turn, hold), top: Move::Turn(Face::U, turn.amount) })
}

fn solved(side: &Side<'_>, moment: usize) -> Vec<String> {
    let crossed = side.cross_end().is_some_and(|end| end <= moment);
    let Some(cross) = side.cross.filter(|_| crossed) else { return Vec::new() };
    let mut solved = vec![format!("{cross} cross")];
    solved.extend(side.pairs_by(moment).iter().map(ToString::to_string));
    solved
}

//! Where a difference went: who took more, for what, in which rows, and where both stood before the same pairs.
//!
//! What is said of a difference follows its size: the largest part first. The eyes are only asked about where pairs went in,
//! and a step that no stop followed is never blamed.

use super::facts::{Comparison, Fork, Notice, Row, Sides, Split, StopAt, Went, WentFor, WentIn, Which};
use super::side::Side;
use crate::annotation::{Cause, Judged, Offer, StepKind};
use crate::clock::micro;

/// Below this many seconds a difference is not worth a word.
const WORTH_SAYING: f64 = 0.05;

/// From how many seconds on a row of pairs is among the largest although others lost more.
const PAIRS_WORTH_SAYING: f64 = 0.1;

/// How many rows are named with each of the three.
const MOST_ROWS: usize = 3;

/// What limits the comparison.
pub(super) fn notices(comparison: &Comparison, sides: Sides<&Side<'_>>) -> Vec<Notice> {
    let mut notices = Vec::new();
    if !comparison.start.same {
        notices.push(Notice::PositionsDiffer);
    }
    for side in Which::BOTH {
        let facts = comparison.annotations.of(side);
        if facts.tokens > 0 && !sides.of(side).cross_first() {
            notices.push(Notice::NotCrossFirst { side });
            continue;
        }
        notices.extend(facts.untold.iter().map(|text| Notice::Untold { side, text: text.clone() }));
        if facts.untold.is_empty() && facts.end.judged == Judged::NotSolved {
            notices.push(Notice::NotSolved { side });
        }
    }
    let timed = comparison.compared.seconds.map(|seconds| seconds.is_some());
    if timed.a != timed.b {
        notices.push(Notice::NoTimes { side: if timed.a { Which::B } else { Which::A } });
    }
    notices
}

/// The side that took more.
pub(super) fn behind(comparison: &Comparison) -> Option<Which> {
    let more = match comparison.difference.seconds {
        Some(seconds) if seconds.abs() < WORTH_SAYING => 0.0,
        Some(seconds) => seconds,
        None => comparison.difference.obtm as f64,
    };
    match more {
        more if more > 0.0 => Some(Which::B),
        more if more < 0.0 => Some(Which::A),
        _ => None,
    }
}

/// 1 where side `b` less side `a` is what the side behind took more, else -1.
fn sign(comparison: &Comparison) -> f64 {
    if comparison.behind == Some(Which::A) { -1.0 } else { 1.0 }
}

/// The three things it went for, largest first.
pub(super) fn went(comparison: &Comparison) -> Vec<Went> {
    let Some(total) = comparison.difference.split else { return Vec::new() };
    let sign = sign(comparison);
    let mut all: Vec<Went> = [WentFor::Stopped, WentFor::Speed, WentFor::Turns]
        .into_iter()
        .map(|what| {
            let splits: Vec<(usize, &Row, Split)> = comparison
                .rows
                .iter()
                .enumerate()
                .filter_map(|(n, row)| Some((n, row, row.difference?.split?)))
                .collect();
            let seconds = sign * total.of(what);
            let mut rows: Vec<WentIn> = splits
                .iter()
                .map(|&(row, _, split)| WentIn { row, seconds: sign * split.of(what) })
                .filter(|part| part.seconds * seconds > 0.0 && part.seconds.abs() >= WORTH_SAYING)
                .collect();
            rows.sort_by(|x, y| y.seconds.abs().total_cmp(&x.seconds.abs()).then(x.row.cmp(&y.row)));
            rows.truncate(MOST_ROWS);
            let both: Vec<f64> = splits
                .iter()
                .filter(|(_, row, _)| {
                    [&row.a, &row.b].iter().all(|side| side.as_ref().is_some_and(|s| s.obtm > 0))
                })
                .map(|(.., split)| sign * split.of(what))
                .collect();
            let everywhere = both.len() > 2 && both.iter().all(|part| part * seconds > 0.0);
            Went { what, seconds: seconds + 0.0, rows, everywhere }
        })
        .collect();
    all.sort_by(|x, y| y.seconds.total_cmp(&x.seconds).then(x.what.cmp(&y.what)));
    all
}

/// What the side behind took more in a row: seconds, or turns where one side has no times.
fn lost(comparison: &Comparison, row: &Row) -> Option<f64> {
    let difference = row.difference?;
    let more = match comparison.difference.seconds {
        Some(_) => difference.seconds,
        None => Some(difference.obtm as f64),
    };
    // No zero has a sign: rows that lost nothing stay in their order whichever side is named first.
    more.map(|more| more * sign(comparison) + 0.0)
}

fn of_pairs(row: &Row) -> bool {
    let pairs =
        |which| row.of(which).is_some_and(|side| side.steps.iter().any(|step| step.kind == StepKind::Pair));
    pairs(Which::A) && pairs(Which::B)
}

/// Every row by what the side behind lost there, most first.
fn by_loss(comparison: &Comparison) -> Vec<(usize, f64)> {
    let rows = comparison.rows.iter().enumerate();
    let mut rows: Vec<(usize, f64)> = rows.filter_map(|(n, row)| Some((n, lost(comparison, row)?))).collect();
    rows.sort_by(|x, y| y.1.total_cmp(&x.1).then(x.0.cmp(&y.0)));
    rows
}

/// The rows in which most of it went.
pub(super) fn largest(comparison: &Comparison) -> Vec<usize> {
    if comparison.behind.is_none() || comparison.rows.len() < 2 {
        return Vec::new();
    }
    let timed = comparison.difference.seconds.is_some();
    let (least, least_of_pairs) = if timed { (WORTH_SAYING, PAIRS_WORTH_SAYING) } else { (1.0, 1.0) };
    let rows = by_loss(comparison);
    let first = rows.first().filter(|(_, lost)| *lost >= least).map(|(n, _)| *n);
    let pairs = rows.iter().find(|(n, lost)| *lost >= least_of_pairs && of_pairs(&comparison.rows[*n]));
    let mut largest: Vec<usize> = first.into_iter().collect();
    largest.extend(pairs.map(|(n, _)| *n).filter(|n| Some(*n) != first));
    largest
}

/// The pair that the first step of a row solves, as the step before it left it, with the place of that step.
fn taken<'a>(comparison: &'a Comparison, row: &Row, which: Which) -> Option<(usize, &'a Offer)> {
    let first = row.of(which)?.steps.first()?;
    let before = first.step.checked_sub(1)?;
    Some((before, comparison.annotations.of(which).steps[before].taken()?))
}

/// Where both stood before the same pairs and went different ways: in the row of pairs that cost most, else the first.
pub(super) fn fork(comparison: &Comparison, sides: Sides<&Side<'_>>) -> Option<Fork> {
    if !comparison.start.same || sides.a.cross != sides.b.cross {
        return None;
    }
    let mut rows = by_loss(comparison);
    // Rows that lost something by what they lost, the others in the order of the solve.
    let loss = |lost: f64| if comparison.behind.is_some() { lost.max(0.0) } else { 0.0 };
    rows.sort_by(|x, y| loss(y.1).total_cmp(&loss(x.1)).then(x.0.cmp(&y.0)));
    rows.into_iter().find_map(|(n, _)| {
        let row = &comparison.rows[n];
        let joint = n > 0 && comparison.rows[n - 1].joint;
        let (a, b) = (taken(comparison, row, Which::A)?, taken(comparison, row, Which::B)?);
        let apart = |late: Which| {
            let facts = comparison.annotations.of(late);
            let step = row.of(late).and_then(|side| side.steps.first());
            // Without times, or where nothing differs but the hold, no stop tells what it cost.
            !comparison.different
                || facts.timing.stop_from.is_none()
                || step.is_some_and(|step| facts.steps[step.step].stop_before().is_some())
        };
        let differ = a.1.pair != b.1.pair
            || match (a.1.ready, b.1.ready) {
                (true, false) => apart(Which::B),
                (false, true) => apart(Which::A),
                _ => false,
            };
        let left_by = Sides { a: a.0, b: b.0 };
        (joint && differ).then(|| Fork {
            row: n,
            left_by,
            same_position: same_position(sides, comparison, left_by),
        })
    })
}

fn same_position(sides: Sides<&Side<'_>>, comparison: &Comparison, left_by: Sides<usize>) -> bool {
    let at = |which: Which| {
        let step = &comparison.annotations.of(which).steps[*left_by.of(which)];
        sides.of(which).replay.moments[step.to].state
    };
    at(Which::A) == at(Which::B)
}

/// The longest stop for a pair of the side behind, in the row of pairs that cost most.
pub(super) fn blamed(comparison: &Comparison) -> Option<StopAt> {
    let side = comparison.behind?;
    let row = comparison.largest.iter().map(|&n| &comparison.rows[n]).find(|row| of_pairs(row))?;
    let mut longest: Option<(f64, StopAt)> = None;
    for placed in row.of(side).into_iter().flat_map(|side| &side.steps) {
        let step = &comparison.annotations.of(side).steps[placed.step];
        for (n, stop) in step.stops.iter().enumerate() {
            let caused = stop.cause.is_some_and(|cause| cause != Cause::Recognition) && !stop.inside;
            if caused && longest.is_none_or(|(seconds, _)| stop.seconds > seconds) {
                longest = Some((stop.seconds, StopAt { side, step: placed.step, stop: n }));
            }
        }
    }
    longest.map(|(_, stop)| stop)
}

/// The rows' splits added up, if every row has one.
pub(super) fn total(rows: &[Row]) -> Option<Split> {
    rows.iter().try_fold(Split::default(), |sum, row| {
        let split = row.difference?.split?;
        Some(Split {
            turns: micro(sum.turns + split.turns),
            speed: micro(sum.speed + split.speed),
            stopped: micro(sum.stopped + split.stopped),
        })
    })
}

//! The parts of two solves side by side, lined up by what they solve.
//!
//! A *joint* is a set of solved things that both sides come to at the end of a step: the cross, which pairs, the
//! orientation, the permutation. What lies between two joints is one row, however many steps it took on either side: where
//! the same pairs went in in another order they are one row. With crosses of two colours no pair of the one is a pair of the
//! other, so all pairs are one row. Past the last joint steps of one kind stand beside each other.

use std::ops::Range;

use similar::{Algorithm, DiffTag, capture_diff_slices};

use super::best::{Point, stage_name};
use super::facts::{Compared, Difference, Parting, Row, RowSide, Sides, Split, StepSide, Stretch, Which};
use super::frame;
use super::side::Side;
use crate::annotation::{Step, StepKind};
use crate::clock::micro;
use crate::cube::{FaceTurn, Hold, Moves, PairName};
use crate::steps::Skip;

/// What lies before the first turn and after the last is a row too, where there is anything: it is called this.
pub const ENDS: &str = "the ends";

/// Below this many seconds a row of the ends has nothing to show.
const SHOWN: f64 = 0.005;

/// The rows of the comparison.
pub(super) fn rows(sides: Sides<&Side<'_>>, hold: Hold) -> Vec<Row> {
    let steps = sides.map(|side| {
        let steps = side.steps().iter().enumerate();
        steps.filter(|(_, step)| step.kind != StepKind::Inspection).collect::<Vec<_>>()
    });
    let mut rows: Vec<Row> = parts(sides, steps.as_ref())
        .into_iter()
        .map(|part| {
            let steps = steps.as_ref().zip(part.range.clone()).map(|(steps, range)| &steps[range]);
            row(sides, steps, &part, hold)
        })
        .collect();
    rows.extend(ends(sides));
    rows
}

type Placed<'a> = (usize, &'a Step);

/// A row in the making: which of the steps on either side, counted without the inspection.
#[derive(Debug, Clone)]
struct Part {
    range: Sides<Range<usize>>,
    /// What both have come to where it begins; `None` at the start.
    before: Option<Point>,
    /// What it comes to, where that is known of the part as a whole.
    to: Option<Point>,
    joint: bool,
}

fn parts(sides: Sides<&Side<'_>>, steps: Sides<&Vec<Placed<'_>>>) -> Vec<Part> {
    if !(sides.a.cross_first() && sides.b.cross_first()) {
        return vec![Part { range: steps.map(|steps| 0..steps.len()), before: None, to: None, joint: false }];
    }
    let same_cross = sides.a.cross == sides.b.cross;
    let reached = steps.map(|steps| reached(steps, same_cross));
    let mut parts: Vec<Part> = Vec::new();
    let (mut i, mut j) = (0, 0);
    let mut before = None;
    while let Some((a, b)) = next_joint(&reached.a[i..], &reached.b[j..]) {
        let (end_a, end_b) = (i + a + 1, j + b + 1);
        let to = reached.a[end_a - 1].as_ref().map(Reached::point);
        parts.push(Part { range: Sides { a: i..end_a, b: j..end_b }, before, to, joint: true });
        (i, j, before) = (end_a, end_b, to);
    }
    for (a, b) in beside(&steps.a[i..], &steps.b[j..]) {
        let range = Sides { a: i..i + usize::from(a.is_some()), b: j..j + usize::from(b.is_some()) };
        (i, j) = (range.a.end, range.b.end);
        let adjusts =
            |placed: Option<Placed<'_>>| placed.is_none_or(|(_, step)| step.kind == StepKind::Adjust);
        let to = (adjusts(a) && adjusts(b)).then_some(Point::End);
        parts.push(Part { range, before: before.filter(|_| to.is_some()), to, joint: false });
    }
    merged(sides, steps, parts)
}

/// Parts of the last layer that no mark parts on one of the sides are one: mostly an adjustment written behind the
/// permutation. Where more than that has no marks, its rows have no times.
fn merged(sides: Sides<&Side<'_>>, steps: Sides<&Vec<Placed<'_>>>, parts: Vec<Part>) -> Vec<Part> {
    let last_layer = |step: &Step| {
        matches!(step.kind, StepKind::Orient | StepKind::Permute | StepKind::LastLayer | StepKind::Adjust)
    };
    let parted = |side: &Side<'_>, steps: &[Placed<'_>], at: usize| {
        let Some((step, _)) = steps.get(at) else { return true };
        !side.clock.measured().iter().any(|run| {
            run.steps.start < *step
                && run.steps.contains(step)
                && side.steps()[run.steps.clone()].iter().all(|step| step.obtm == 0 || last_layer(step))
        })
    };
    let mut out: Vec<Part> = Vec::new();
    for part in parts {
        let own = |side: &Side<'_>, steps: &Vec<Placed<'_>>, range: &Range<usize>| {
            range.is_empty() || parted(side, steps, range.start)
        };
        let apart = own(sides.a, steps.a, &part.range.a) && own(sides.b, steps.b, &part.range.b);
        match out.last_mut() {
            Some(last) if !apart => {
                last.range.a.end = part.range.a.end;
                last.range.b.end = part.range.b.end;
                (last.to, last.joint) = (part.to, part.joint);
            }
            _ => out.push(part),
        }
    }
    out
}

/// What is solved at the end of a step.
#[derive(Debug, Clone, PartialEq, Eq)]
struct Reached {
    pairs: Vec<PairName>,
    n_pairs: usize,
    last_layer: u8,
}

impl Reached {
    const fn point(&self) -> Point {
        match self.last_layer {
            0 => Point::Pairs(self.n_pairs),
            1 => Point::Oriented,
            2 => Point::Permuted,
            _ => Point::End,
        }
    }
}

/// What is solved at the end of each step; `None` where that is nothing that the other side could come to.
fn reached(steps: &[Placed<'_>], same_cross: bool) -> Vec<Option<Reached>> {
    let (mut pairs, mut last_layer) = (Vec::new(), 0);
    steps
        .iter()
        .map(|(_, step)| {
            pairs.extend(step.pairs.iter().copied());
            let skipped = step.skips.iter().map(|skip| if *skip == Skip::Pll { 2 } else { 1 }).max();
            last_layer = last_layer.max(skipped.unwrap_or(0)).max(match step.kind {
                StepKind::Orient => 1,
                StepKind::Permute | StepKind::LastLayer => 2,
                StepKind::Adjust => 3,
                _ => 0,
            });
            let known = !matches!(step.kind, StepKind::Rest | StepKind::Inspection);
            let mut named = pairs.clone();
            named.sort();
            if same_cross {
                return known.then_some(Reached { n_pairs: named.len(), pairs: named, last_layer });
            }
            // Pairs of different crosses are different things: cross and all pairs are what both come to.
            let n_pairs = if named.len() == 4 && step.kind != StepKind::Cross { 4 } else { 0 };
            let comes = known && (step.kind == StepKind::Cross || n_pairs == 4);
            comes.then_some(Reached { pairs: Vec::new(), n_pairs, last_layer })
        })
        .collect()
}

/// The first thing that both come to: its places.
fn next_joint(a: &[Option<Reached>], b: &[Option<Reached>]) -> Option<(usize, usize)> {
    let at = |reached: &Reached| b.iter().position(|other| other.as_ref() == Some(reached));
    a.iter().enumerate().find_map(|(i, reached)| Some((i, at(reached.as_ref()?)?)))
}

/// Steps of the same part of a solve beside each other, others alone, in order.
fn beside<'a>(a: &[Placed<'a>], b: &[Placed<'a>]) -> Vec<(Option<Placed<'a>>, Option<Placed<'a>>)> {
    let part = |step: &Step| match step.kind {
        StepKind::Inspection => 0,
        StepKind::Cross => 1,
        StepKind::Pair => 2,
        StepKind::Orient | StepKind::Permute | StepKind::LastLayer => 3,
        StepKind::Adjust => 4,
        StepKind::Rest => 5,
    };
    let mut rows = Vec::new();
    let (mut i, mut j) = (0, 0);
    loop {
        let (x, y) = (a.get(i).copied(), b.get(j).copied());
        let (take_a, take_b) = match (x, y) {
            (None, None) => return rows,
            (Some(_), None) => (true, false),
            (None, Some(_)) => (false, true),
            (Some(x), Some(y)) => {
                let (x, y) = (part(x.1), part(y.1));
                (x <= y, y <= x)
            }
        };
        rows.push((x.filter(|_| take_a), y.filter(|_| take_b)));
        i += usize::from(take_a);
        j += usize::from(take_b);
    }
}

fn row(sides: Sides<&Side<'_>>, steps: Sides<&[Placed<'_>]>, part: &Part, hold: Hold) -> Row {
    let turns = sides.zip(steps).map(|(side, steps)| match steps {
        [] => Vec::new(),
        [(_, first), ..] => frame::canonical(&side.turns_between(first.from, steps[steps.len() - 1].1.to)),
    });
    let made = sides.zip(steps).zip(turns.as_ref());
    let made = made.map(|((side, steps), turns)| row_side(side, steps, turns, hold));
    // What a record that breaks off has not may have been needed all the same.
    let has = sides.zip(steps).map(|(side, steps)| {
        let rest = steps.iter().any(|(_, step)| step.kind == StepKind::Rest);
        side.complete() || !(steps.is_empty() || rest)
    });
    let sides_timed = sides.a.timed() && sides.b.timed();
    Row {
        name: name(part, steps),
        difference: (has.a && has.b).then(|| difference(made.as_ref().map(Option::as_ref), sides_timed)),
        same_turns: turns.a == turns.b,
        turns: stretches(&turns, hold),
        joint: part.joint,
        a: made.a,
        b: made.b,
    }
}

fn name(part: &Part, steps: Sides<&[Placed<'_>]>) -> String {
    match part.to {
        Some(to) => stage_name(part.before, to),
        None if steps.a.len().max(steps.b.len()) > 1 => "whole solve".into(),
        None => {
            let of = |steps: &[Placed<'_>]| steps.first().map(|(_, step)| step.name.to_string());
            match (of(steps.a), of(steps.b)) {
                (Some(a), Some(b)) if a != b => format!("{a} / {b}"),
                (a, b) => a.or(b).unwrap_or_default(),
            }
        }
    }
}

/// Side `b` less side `a`; what a side has not it did not need.
pub(super) fn difference(made: Sides<Option<&RowSide>>, timed: bool) -> Difference {
    let obtm = made.map(|side| side.map_or(0, |side| side.obtm));
    let seconds = made.map(|side| side.map_or(Some(0.0), |side| side.seconds));
    let seconds = seconds.a.zip(seconds.b).filter(|_| timed).map(|(a, b)| micro(b - a));
    let figures = made.map(|side| match side {
        None => Some((0.0, 0.0)),
        Some(side) => side.turning.zip(side.stopped),
    });
    Difference {
        obtm: obtm.b as i64 - obtm.a as i64,
        seconds,
        split: seconds.zip(figures.a).zip(figures.b).map(|((all, a), b)| split(all, obtm, Sides { a, b })),
    }
}

/// The difference `all` by what it went for; of each side its turns, and its seconds turning and stopped.
fn split(all: f64, obtm: Sides<usize>, figures: Sides<(f64, f64)>) -> Split {
    let pace = |(obtm, (turning, _)): (usize, (f64, f64))| (obtm > 0).then(|| turning / obtm as f64);
    let paces = obtm.zip(figures).map(pace);
    let stopped = micro(figures.b.1 - figures.a.1);
    let turns = match (paces.a, paces.b) {
        (Some(a), Some(b)) => {
            let more = obtm.b as f64 - obtm.a as f64;
            (more * (a + b) / 2.0 * 100.0).round() / 100.0
        }
        // All that one side turned and the other did not.
        (Some(_), None) | (None, Some(_)) => micro(all - stopped),
        (None, None) => 0.0,
    };
    Split { turns, speed: micro(all - turns - stopped), stopped }
}

/// What lies before the first turn and after the last, where that is known of both sides and not in any step.
fn ends(sides: Sides<&Side<'_>>) -> Option<Row> {
    let outside = sides.map(|side| {
        let whole = side.entry.facts.seconds.filter(|_| side.complete())?;
        let steps: Option<f64> =
            side.clock.measured().iter().map(|run| run.time.total.map(|total| total.seconds())).sum();
        Some(micro(whole - steps?))
    });
    let both = outside.a.zip(outside.b)?;
    if both.0.abs() < SHOWN && both.1.abs() < SHOWN {
        return None;
    }
    let made = sides.zip(Sides { a: both.0, b: both.1 }).map(|(side, seconds)| RowSide {
        steps: Vec::new(),
        turns: Moves::default(),
        obtm: 0,
        seconds: Some(seconds),
        turning: Some(0.0),
        stopped: Some(seconds),
        obtm_so_far: side.turns.len(),
        seconds_so_far: side.entry.facts.seconds,
    });
    Some(Row {
        name: ENDS.into(),
        difference: Some(difference(made.as_ref().map(Some), true)),
        same_turns: true,
        turns: Vec::new(),
        joint: false,
        a: Some(made.a),
        b: Some(made.b),
    })
}

/// What can be compared as a whole.
pub(super) fn compared(sides: Sides<&Side<'_>>, rows: &[Row], parting: Option<&Parting>) -> Compared {
    let joint = rows.iter().rposition(|row| row.joint && row.a.is_some() && row.b.is_some());
    // Two whole records with nothing in common but the start are compared as wholes, solved or not.
    let whole = sides.a.whole() && sides.b.whole() && joint.is_none();
    let complete = sides.a.complete() && sides.b.complete();
    if complete || parting.is_none() || whole {
        return Compared {
            until: None,
            rows: if complete || parting.is_none() { rows.len() } else { 0 },
            obtm: sides.map(|side| side.turns.len()),
            seconds: sides.map(|side| side.entry.facts.seconds),
        };
    }
    match joint.and_then(|at| Some((at, rows[at].a.as_ref()?, rows[at].b.as_ref()?))) {
        Some((at, a, b)) => Compared {
            until: Some(rows[at].name.clone()),
            rows: at + 1,
            obtm: Sides { a: a.obtm_so_far, b: b.obtm_so_far },
            seconds: Sides { a: a.seconds_so_far, b: b.seconds_so_far },
        },
        None => {
            let at = parting.map(|parting| (parting.turns, &parting.at));
            Compared {
                until: Some("the parting".into()),
                rows: 0,
                obtm: at.map_or(Sides::default(), |(turns, _)| Sides { a: turns, b: turns }),
                seconds: at.map_or(Sides::default(), |(_, at)| at.as_ref().map(|side| side.seconds)),
            }
        }
    }
}

fn row_side(side: &Side<'_>, steps: &[Placed<'_>], turns: &[FaceTurn], hold: Hold) -> Option<RowSide> {
    let (&(first, _), &(last, ending)) = (steps.first()?, steps.last()?);
    let runs = side.clock.measured().iter();
    let runs = runs.filter(|run| (first..=last).any(|step| run.steps.contains(&step)));
    let (mut total, mut turning) = (Some(0.0), Some(0.0));
    for run in runs {
        // What lies in other rows too has no time here.
        if run.steps.clone().any(|step| !(first..=last).contains(&step)) {
            (total, turning) = (None, None);
        }
        total = total.zip(run.time.total).map(|(sum, more)| sum + more.seconds());
        turning = turning.zip(run.time.turning).map(|(sum, more)| sum + more.seconds());
    }
    let turning = turning.filter(|_| total.is_some());
    Some(RowSide {
        steps: steps.iter().map(|&(at, step)| figures(side, at, step, hold)).collect(),
        turns: frame::written(turns, hold),
        obtm: steps.iter().map(|(_, step)| step.obtm).sum(),
        seconds: total.map(micro),
        turning: turning.map(micro),
        stopped: total.zip(turning).map(|(total, turning)| micro(total - turning)),
        obtm_so_far: side.obtm(ending.to),
        seconds_so_far: side.seconds(ending.to).map(micro),
    })
}

fn figures(side: &Side<'_>, at: usize, step: &Step, hold: Hold) -> StepSide {
    // The inspection has no row; its rotations stand before the first step's turns.
    let first = at == 1 && side.steps()[0].kind == StepKind::Inspection;
    let from = if first { 0 } else { step.from };
    let moments = &side.entry.facts.moments[from + 1..=step.to];
    let written: Vec<String> = moments.iter().filter_map(|moment| moment.spelled()).collect();
    StepSide {
        step: at,
        kind: step.kind,
        name: step.name,
        pairs: step.pairs.clone(),
        case: step.case,
        written: written.join(" "),
        turns: frame::written(&frame::canonical(&side.turns_between(step.from, step.to)), hold),
        obtm: step.obtm,
        seconds: step.seconds.total.map(micro),
    }
}

/// Two sequences of turns cut into what is common and what is not. Swapping the sides swaps the answer.
fn stretches(turns: &Sides<Vec<FaceTurn>>, hold: Hold) -> Vec<Stretch> {
    let swap = turns.b < turns.a;
    let (old, new) = if swap { (&turns.b, &turns.a) } else { (&turns.a, &turns.b) };
    let mut found = Vec::new();
    for op in capture_diff_slices(Algorithm::Myers, old, new) {
        let (old_turns, new_turns) = (&old[op.old_range()], &new[op.new_range()]);
        if op.tag() == DiffTag::Equal {
            found.push(Stretch { only: None, turns: frame::written(old_turns, hold) });
            continue;
        }
        let (a, b) = if swap { (new_turns, old_turns) } else { (old_turns, new_turns) };
        for (which, turns) in [(Which::A, a), (Which::B, b)] {
            if !turns.is_empty() {
                found.push(Stretch { only: Some(which), turns: frame::written(turns, hold) });
            }
        }
    }
    found
}

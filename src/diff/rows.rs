//! The steps of two solves side by side, lined up by what they solve.
//!
//! A *joint* is a set of solved things that both sides come to at the end of a step: the cross, which pairs,
//! the orientation, the permutation. Between two joints each side has one step or more; those of one kind
//! stand beside each other in order, and what is left over stands alone.

use similar::{Algorithm, DiffTag, capture_diff_slices};

use super::facts::{Compared, Difference, NextSide, Parting, Row, Sides, StepSide, Stretch, Which};
use super::frame;
use super::side::Side;
use crate::annotation::{Step, StepKind};
use crate::cube::{FaceTurn, Hold, PairName};
use crate::steps::Skip;

/// The rows of the comparison.
pub(super) fn rows(sides: Sides<&Side<'_>>, hold: Hold) -> Vec<Row> {
    let steps = sides.map(|side| {
        let steps = side.steps().iter().enumerate();
        steps.filter(|(_, step)| step.kind != StepKind::Inspection).collect::<Vec<_>>()
    });
    let same_cross = sides.a.cross == sides.b.cross;
    let reached = steps.as_ref().map(|steps| reached(steps, same_cross));
    let mut rows = Vec::new();
    let (mut i, mut j) = (0, 0);
    while i < steps.a.len() || j < steps.b.len() {
        let joint = next_joint(&reached.a[i..], &reached.b[j..]);
        let (end_a, end_b) = joint.map_or((steps.a.len(), steps.b.len()), |(a, b)| (i + a + 1, j + b + 1));
        let beside = beside(&steps.a[i..end_a], &steps.b[j..end_b]);
        let last = beside.len();
        for (n, (a, b)) in beside.into_iter().enumerate() {
            rows.push(row(sides, Sides { a, b }, joint.is_some() && n + 1 == last, hold));
        }
        (i, j) = (end_a, end_b);
    }
    rows
}

/// What is solved at the end of a step.
#[derive(Debug, Clone, PartialEq, Eq)]
struct Reached {
    pairs: Vec<PairName>,
    n_pairs: usize,
    last_layer: u8,
}

/// What is solved at the end of each step; `None` where that is nothing that the other side could come to.
fn reached(steps: &[(usize, &Step)], same_cross: bool) -> Vec<Option<Reached>> {
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
            // Pairs of different crosses are different things; how many there are is not.
            let mut named = if same_cross { pairs.clone() } else { Vec::new() };
            named.sort();
            let known = !matches!(step.kind, StepKind::Rest | StepKind::Inspection);
            known.then_some(Reached { pairs: named, n_pairs: pairs.len(), last_layer })
        })
        .collect()
}

/// The first thing that both come to: its places.
fn next_joint(a: &[Option<Reached>], b: &[Option<Reached>]) -> Option<(usize, usize)> {
    let at = |reached: &Reached| b.iter().position(|other| other.as_ref() == Some(reached));
    a.iter().enumerate().find_map(|(i, reached)| Some((i, at(reached.as_ref()?)?)))
}

type Placed<'a> = (usize, &'a Step);

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

fn row(sides: Sides<&Side<'_>>, steps: Sides<Option<Placed<'_>>>, joint: bool, hold: Hold) -> Row {
    let turns = sides.zip(steps).map(|(side, placed)| {
        let step = placed.map(|(_, step)| step);
        frame::canonical(&step.map_or(Vec::new(), |step| side.turns_between(step.from, step.to)))
    });
    let made = sides.zip(steps).zip(turns.as_ref());
    let made =
        made.map(|((side, placed), turns)| placed.map(|(at, step)| figures(side, at, step, turns, hold)));
    let names = made.as_ref().map(|step| step.as_ref().map(|step| step.name));
    let name = match (names.a, names.b) {
        (Some(a), Some(b)) if a != b => format!("{a} / {b}"),
        (a, b) => a.or(b).map_or_else(String::new, |name| name.to_string()),
    };
    // What a record that breaks off has not may have been needed all the same.
    let has = sides
        .zip(steps)
        .map(|(side, placed)| side.complete() || placed.is_some_and(|(_, step)| step.kind != StepKind::Rest));
    let comparable = has.a && has.b;
    let of = |step: &Option<StepSide>| step.as_ref().map_or(0, |step| step.obtm as i64);
    let seconds = |step: &Option<StepSide>| step.as_ref().map_or(Some(0.0), |step| step.seconds);
    Row {
        name,
        difference: comparable.then(|| Difference {
            obtm: of(&made.b) - of(&made.a),
            seconds: seconds(&made.a).zip(seconds(&made.b)).map(|(a, b)| hundredths(b - a)),
        }),
        same_turns: turns.a == turns.b,
        turns: stretches(&turns, hold),
        joint,
        a: made.a,
        b: made.b,
    }
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

/// Without the noise of binary fractions: marks are microseconds.
pub(super) fn hundredths(seconds: f64) -> f64 {
    (seconds * 1e6).round() / 1e6
}

fn figures(side: &Side<'_>, at: usize, step: &Step, turns: &[FaceTurn], hold: Hold) -> StepSide {
    // The inspection has no row; its rotations stand before the first step's turns.
    let first = at == 1 && side.steps()[0].kind == StepKind::Inspection;
    let from = if first { 0 } else { step.from };
    StepSide {
        step: at,
        kind: step.kind,
        name: step.name,
        pairs: step.pairs.clone(),
        case: step.case,
        written: side.replay.moves[from..step.to].into(),
        turns: frame::written(turns, hold),
        obtm: step.obtm,
        seconds: step.seconds.total.map(hundredths),
        // Before the cross nobody is stopped.
        pause: step
            .seconds
            .before
            .filter(|_| step.kind != StepKind::Cross)
            .or(step.seconds.hesitation)
            .map(hundredths),
        pause_derived: step.seconds.before.is_none() && step.seconds.hesitation.is_some(),
        cause: step.stop_before().and_then(|stop| stop.cause),
        next: step.taken().map(|next| NextSide {
            pair: next.pair,
            tier: next.tier,
            lead: next.lead,
            ready: next.ready,
        }),
        verdict: step.choice.as_ref().and_then(|choice| choice.verdict),
        obtm_so_far: side.obtm(step.to),
        seconds_so_far: side.seconds(step.to).map(hundredths),
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

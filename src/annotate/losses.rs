//! What cost most: each stop, and each line that would have been clearly cheaper; at most three, the largest first.
//!
//! What belongs to one stop is one loss: where another line would have left a pair ready and so saved the stop, the stop
//! stands for both. Recognition in the last layer competes only where nothing of look-ahead is larger.

use super::turning::tenths;
use crate::annotation::{Cause, Loss, LossKind, Reason, Step};
use crate::cube::PairName;

/// From how many seconds on something is worth a sentence.
const LEAST_SECONDS: f64 = 0.2;
/// How many there are at most.
const MOST: usize = 3;

/// The losses of a solve, with times or without. `why` says why the pair of a step was late.
pub(super) fn losses(steps: &[Step], timed: bool, why: impl Fn(usize) -> Option<Reason>) -> Vec<Loss> {
    let late: Vec<Option<Loss>> =
        (0..steps.len()).map(|index| if timed { None } else { late(steps, index, why(index)) }).collect();
    let other_choice = |index: usize| {
        let late = late.get(index).and_then(Option::as_ref).and_then(|late| late.why.as_ref());
        late.is_some_and(|why| why.cause == Cause::Choice) || steps.get(index).is_some_and(Step::chose_worse)
    };
    let mut losses: Vec<Loss> = Vec::new();
    for (index, step) in steps.iter().enumerate() {
        for (number, stop) in step.stops.iter().enumerate() {
            losses.push(Loss {
                kind: LossKind::Stop,
                step: index,
                stop: Some(number),
                moment: stop.moment,
                seconds: Some(stop.seconds),
                units: None,
                why: None,
            });
        }
        // Where another pair is advised there is no line for this one, and where the stop after it says so, none besides.
        if !other_choice(index) {
            losses.extend(line(steps, index, timed, other_choice(index + 1)));
        }
        losses.extend(late[index].clone());
    }
    one_choice_once(steps, &mut losses);
    if timed {
        losses.retain(|loss| loss.seconds.is_some_and(|seconds| seconds >= LEAST_SECONDS));
    }
    let recognised = |loss: &Loss| {
        let stop = loss.stop.and_then(|stop| steps[loss.step].stops.get(stop));
        stop.is_some_and(|stop| stop.cause == Some(Cause::Recognition))
    };
    let largest = losses.iter().filter(|loss| !recognised(loss)).map(size).fold(0.0, f64::max);
    losses.retain(|loss| !recognised(loss) || size(loss) >= largest);
    // Without times, late pairs first in the order of the solve, then lines by what they cost more.
    let rank = |loss: &Loss| {
        (loss.kind != LossKind::Late, if loss.kind == LossKind::Late { 0.0 } else { -size(loss) })
    };
    losses.sort_by(|a, b| {
        let ((a_line, a_size), (b_line, b_size)) = (rank(a), rank(b));
        a_line.cmp(&b_line).then(a_size.total_cmp(&b_size)).then(a.step.cmp(&b.step))
    });
    losses.truncate(MOST);
    losses
}

/// The line of step `index` that would have been clearly cheaper, unless the choice after it says it.
fn line(steps: &[Step], index: usize, timed: bool, before_a_choice: bool) -> Option<Loss> {
    let (kind, seconds, units) = match (steps[index].cleaner(), steps[index].own_line()) {
        (Some(_), _) if before_a_choice => return None,
        (Some(cleaner), _) => (LossKind::Cleaner, cleaner.seconds, cleaner.saves),
        (None, Some(own)) => (LossKind::Own, own.seconds, own.saves),
        (None, None) => return None,
    };
    let seconds = if timed { Some(seconds?) } else { None };
    Some(Loss {
        kind,
        step: index,
        stop: None,
        moment: steps[index].from,
        seconds,
        units: Some(units),
        why: None,
    })
}

/// A pair that should have been taken sooner is told once, whichever step it is told of: where a stop tells it, by the
/// stop, else by the larger of the lines.
fn one_choice_once(steps: &[Step], losses: &mut Vec<Loss>) {
    let gone = |n: usize| {
        let Some(pair) = sooner(steps, &losses[n]) else { return false };
        let tells_it = |m: usize| {
            let (one, other) = (&losses[n], &losses[m]);
            let larger = match (one.kind, other.kind) {
                (LossKind::Stop | LossKind::Late, _) => false,
                (_, LossKind::Stop | LossKind::Late) => true,
                _ => size(other) > size(one) || size(other) == size(one) && m < n,
            };
            m != n && larger && sooner(steps, other) == Some(pair)
        };
        (0..losses.len()).any(tells_it)
    };
    let kept: Vec<Loss> = (0..losses.len()).filter(|&n| !gone(n)).map(|n| losses[n].clone()).collect();
    *losses = kept;
}

/// The pair that a stop or a line says should have been taken sooner than it was.
fn sooner(steps: &[Step], loss: &Loss) -> Option<PairName> {
    let line = match loss.kind {
        LossKind::Stop | LossKind::Late => {
            let stop = || steps[loss.step].stops.get(loss.stop?)?.why();
            let instead = loss.why.clone().or_else(stop)?.instead?;
            if !instead.by_another_line {
                return Some(instead.pair);
            }
            // The line is one of the step before.
            (&steps[loss.step.checked_sub(1)?], steps[loss.step - 1].instead()?)
        }
        LossKind::Cleaner => (&steps[loss.step], steps[loss.step].cleaner()?),
        LossKind::Own => return None,
    };
    let (step, line) = line;
    let other = line.pairs.iter().copied().find(|pair| !step.pairs.contains(pair));
    let next = || Some(line.next.as_ref()?.pair).filter(|pair| step.next().all(|next| next.pair != *pair));
    other.or_else(next)
}

/// By what losses are compared: seconds, or units where there are no times. Those of a line as they are told, in tenths, so
/// that nobody sees another order.
fn size(loss: &Loss) -> f64 {
    match loss.seconds {
        Some(seconds) if loss.stop.is_none() => tenths(seconds),
        seconds => seconds.or(loss.units).unwrap_or(0.0),
    }
}

/// Without times: the pair of step `index` was late although the cross lay behind it. Where no turn does, as in a record
/// that begins with its cross done, nothing could have been followed, and nothing was lost.
fn late(steps: &[Step], index: usize, why: Option<Reason>) -> Option<Loss> {
    let before = &steps[index.checked_sub(1)?];
    before.taken().filter(|offer| before.obtm > 0 && !offer.ready)?;
    Some(Loss {
        kind: LossKind::Late,
        step: index,
        stop: None,
        moment: before.to,
        seconds: None,
        units: None,
        why,
    })
}

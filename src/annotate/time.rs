//! What the marks support: the time of each step and of the solve, where the hands stopped, and why.

use super::causes::Before;
use super::{Facts, Turning};
use crate::annotation::{Cause, Reason, Seconds, Step, StepKind, Stop, Timing};
use crate::clock::{Gap, Lapse, Where, micro};
use crate::judgement;

/// The time of step `index`.
pub(super) fn seconds(facts: &Facts<'_>, index: usize) -> Seconds {
    let clock = &facts.study.clock;
    let time = clock.step(index);
    let lapse = |lapse: Option<Lapse>| lapse.map(Lapse::seconds);
    Seconds {
        start: time.start.map(|time| time.seconds()),
        end: time.end.map(|time| time.seconds()),
        total: lapse(time.total),
        turning: lapse(time.turning),
        before: lapse(time.stopped_before),
        inside: lapse(time.stopped_inside),
        hesitation: time.hesitation.map(|figure| micro(figure.seconds)),
        turns_per_second: time.turns_per_second().map(micro),
        together: clock.together(index).map(|run| run.steps.start).filter(|&first| first < index),
    }
}

/// From one moment to another, where both are marked.
pub(super) fn between(facts: &Facts<'_>, from: usize, to: usize) -> Option<f64> {
    facts.study.clock.between(from, to).map(Lapse::seconds)
}

/// This solver's turning: seconds turned in the pair steps for what the turns played there cost.
pub(super) fn turning(facts: &Facts<'_>, times: &[Seconds]) -> Turning {
    let costs: Vec<Option<f64>> = facts
        .judged
        .iter()
        .map(|judged| match judged {
            Some(judgement::Step::Pair(judged)) => Some(judged.cost.units()),
            _ => None,
        })
        .collect();
    Turning::new(times.iter().map(|seconds| seconds.turning).collect(), &costs)
}

/// Puts every stop where it lies, with its cause.
pub(super) fn fill_stops(facts: &Facts<'_>, steps: &mut [Step], turning: &Turning) {
    let clock = &facts.study.clock;
    for gap in clock.gaps() {
        let (index, inside) = match gap.place {
            Where::Before(index) => (index, false),
            Where::Inside(index) => (index, true),
            // Before the first turn and after the last nobody is stopped.
            Where::Start | Where::End => continue,
        };
        if !facts.stop_from.judge(gap.lapse, clock.pace()).is_some_and(|judged| judged.stop) {
            continue;
        }
        let mut stop = Stop { inside, ..stop(gap.lapse.seconds(), gap.moment) };
        stop.certain = gap.certain;
        if inside {
            stop.edge_found = edge_found(facts, steps, index, gap);
        } else {
            give_cause(facts, steps, index, turning, &mut stop);
        }
        steps[index].stops.push(stop);
    }
    for index in 0..steps.len() {
        let Some(figure) = clock.step(index).hesitation else { continue };
        if !facts.stop_from.judge(figure, clock.pace()).is_some_and(|judged| judged.stop) {
            continue;
        }
        let mut stop = Stop { derived: true, ..stop(micro(figure.seconds), steps[index].from) };
        give_cause(facts, steps, index, turning, &mut stop);
        steps[index].stops.push(stop);
    }
}

const fn stop(seconds: f64, moment: usize) -> Stop {
    Stop {
        seconds,
        moment,
        inside: false,
        derived: false,
        certain: true,
        cause: None,
        also: None,
        instead: None,
        edge_found: None,
    }
}

/// Whether the edge of the pair in hand had been found when the hands stopped inside its step: in the step before, where
/// it was to be found, or in plain sight since.
fn edge_found(facts: &Facts<'_>, steps: &[Step], index: usize, gap: &Gap) -> Option<bool> {
    let step = &steps[index];
    let [pair] = facts.study.solve.steps[index].pairs.as_slice() else { return None };
    if step.kind != StepKind::Pair {
        return None;
    }
    let before = steps[index.checked_sub(1)?].next().find(|offer| offer.pair == pair.name())?;
    let seen = |moment: usize| {
        let position = &facts.study.replay.moments[moment];
        crate::sight::InSight::new(position.hold, facts.sight).sees_edge(position.state.edge(pair.edge))
    };
    Some(before.edge.found().is_some() || (step.from..=gap.moment).any(seen))
}

/// Why the pair of a step was late, as if the hands had stopped before it for as long as anybody's.
pub(super) fn why_late(facts: &Facts<'_>, steps: &[Step], index: usize, turning: &Turning) -> Option<Reason> {
    let mut endless = stop(f64::INFINITY, steps[index].from);
    give_cause(facts, steps, index, turning, &mut endless);
    endless.why()
}

/// The cause of a stop before a step.
fn give_cause(facts: &Facts<'_>, steps: &[Step], index: usize, turning: &Turning, stop: &mut Stop) {
    match steps[index].kind {
        StepKind::Pair => {
            let Some(before) = index.checked_sub(1).map(|before| &steps[before]) else { return };
            let Some(taken) = before.taken() else { return };
            let earlier = index.checked_sub(2).map(|earlier| &steps[earlier]);
            let lead = facts.choice.lead;
            let judged = Before {
                step: before,
                cross: before.kind == StepKind::Cross,
                sight: facts.sight,
                rate: turning.rate,
                slack: facts.choice.slack.units(),
                lead,
                ready_before: earlier.is_some_and(|earlier| taken.was_ready_in(earlier, before, lead)),
            }
            .cause(taken, stop.seconds);
            (stop.cause, stop.also, stop.instead) = (judged.cause, judged.also, judged.instead);
            // Where a cleaner line for that pair is told in this step, what it saves is what taking the pair saves.
            let cleaner = steps[index].cleaner();
            if let Some((instead, line)) = stop.instead.as_mut().zip(cleaner)
                && !instead.by_another_line
                && line.pairs.contains(&instead.pair)
            {
                (instead.dearer, instead.seconds) = (-line.saves, line.seconds.map(|saved| -saved));
            }
        }
        StepKind::Orient | StepKind::Permute | StepKind::LastLayer | StepKind::Adjust => {
            stop.cause = Some(Cause::Recognition);
        }
        _ => {}
    }
}

/// The time of the solve as a whole.
pub(super) fn timing(facts: &Facts<'_>, turning: &Turning) -> Timing {
    let clock = &facts.study.clock;
    let solve = clock.solve();
    let pace = clock.pace();
    let obtm = facts.study.obtm();
    let seconds = |lapse: Option<Lapse>| lapse.map(Lapse::seconds);
    let over = seconds(solve.turning).or_else(|| facts.study.seconds());
    let sum = |inside: bool| {
        let gaps = clock.gaps().iter().filter(|gap| matches!(gap.place, Where::Inside(_)) == inside);
        let micros: u64 = gaps.map(|gap| gap.lapse.micros).sum();
        solve.stopped.map(|_| Lapse { micros, within: 0.0 }.seconds())
    };
    let ends = clock.gaps().iter().filter(|gap| matches!(gap.place, Where::Start | Where::End));
    let ends: u64 = ends.map(|gap| gap.lapse.micros).sum();
    Timing {
        timer: facts.study.record.time.map(|(time, _)| time.seconds()),
        marks: clock.marks(),
        marked: seconds(clock.marked()),
        pace: pace.map(|figure| micro(figure.seconds)),
        turns_per_second: over.filter(|&s| s > 0.0).map(|s| micro(obtm as f64 / s)),
        uncertainty: clock.uncertainty().map(micro),
        stop_from: pace.map(|pace| micro(facts.stop_from.threshold(pace))),
        turning: seconds(solve.turning),
        stopped: seconds(solve.stopped),
        stopped_before: sum(false),
        stopped_inside: sum(true),
        stopped_at_the_ends: solve.stopped.map(|_| Lapse { micros: ends, within: 0.0 }.seconds()),
        certain: solve.certain,
        seconds_per_unit: turning.rate.map(micro),
    }
}

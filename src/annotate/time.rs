//! What the marks support: the time of each step and of the solve, and why each long pause was made.

use super::{Facts, words};
use crate::annotation::{Cause, Next, Outcome, PauseCause, Seconds, Step, Timing, Verdict};
use crate::pace::Figure;

/// The time of step `index`.
pub(super) fn seconds(facts: &Facts<'_>, index: usize) -> Seconds {
    let step = &facts.study.solve.steps[index];
    let time = facts.study.clock.step(step.from, step.to);
    let figure = |figure: Option<Figure>| figure.map(|figure| micro(figure.seconds));
    Seconds {
        start: time.start.map(|time| time.seconds()),
        end: time.end.map(|time| time.seconds()),
        total: figure(time.total),
        pause: figure(time.pause),
        hesitation: figure(time.hesitation),
        turns_per_second: time.turns_per_second.map(micro),
    }
}

/// How long was left of the step when corner and edge had both been seen, where both moments are marked.
pub(super) fn fill_leads(facts: &Facts<'_>, index: usize, next: &mut [Next]) {
    let step = &facts.study.solve.steps[index];
    for next in next {
        let both = next.corner.seen.zip(next.edge.seen).map(|(corner, edge)| corner.max(edge));
        next.lead_seconds = both
            .and_then(|both| facts.study.clock.between(both, step.to))
            .map(|figure| micro(figure.seconds));
    }
}

/// Gives every long pause before a pair step its cause, from what the step before left.
pub(super) fn fill_pauses(facts: &Facts<'_>, steps: &mut [Step]) {
    for index in 1..steps.len() {
        let bounds = &facts.study.solve.steps[index];
        if bounds.kind != crate::steps::Kind::Pair {
            continue;
        }
        let Some((stop, derived)) = facts.study.clock.step(bounds.from, bounds.to).stop() else { continue };
        let long = facts.long_from.judge(stop, facts.study.clock.pace());
        if !long.is_some_and(|long| long.long) {
            continue;
        }
        let before = &steps[index - 1];
        steps[index].pause = better_off(&before.next).and_then(|next| {
            let outcome = next.outcome?;
            let verdict = before.choice.as_ref().map(|choice| choice.verdict);
            let cause = cause(outcome, verdict, before);
            let mut evidence = evidence(before, next, outcome);
            if outcome == Outcome::Down {
                evidence.push_str(&there(before));
            }
            Some(PauseCause {
                seconds: micro(stop.seconds),
                derived,
                cause,
                evidence,
                advice: advice(cause, next, before),
            })
        });
    }
}

/// Of pairs solved next at once the one that was better off, as for the verdict; the first of equals.
pub(super) fn better_off(next: &[Next]) -> Option<&Next> {
    next.iter().reduce(|best, one| if one.outcome > best.outcome { one } else { best })
}

/// The table of design: what the step before left, and whether anything better was there. There is no verdict on the
/// cross; that another pair was up all the same, and no dearer to go on with, was the solver's choice there too.
fn cause(outcome: Outcome, verdict: Option<Verdict>, before: &Step) -> Cause {
    let other = before.others.iter().any(|other| other.within_slack);
    match (outcome, verdict) {
        (Outcome::Ready, _) => Cause::Attention,
        (Outcome::Up, _) => Cause::View,
        (Outcome::Down, Some(Verdict::Avoidable)) => Cause::Choice,
        (Outcome::Down, None) if other => Cause::Choice,
        (Outcome::Down, _) => Cause::Position,
    }
}

/// The other pair that was there after the same turns, if one was.
fn there(before: &Step) -> String {
    let Some(other) = before.others.iter().find(|other| other.within_slack).or(before.others.first()) else {
        return "; no other corner was up".into();
    };
    let left = match other.outcome {
        Outcome::Ready => "up and ready",
        _ => "up",
    };
    let cost = if other.within_slack {
        String::new()
    } else {
        format!(", but its line costs {:.1} turn units more", other.dearer)
    };
    format!("; {} was {left} at {}{cost}", other.pair, other.corner)
}

fn evidence(before: &Step, next: &Next, outcome: Outcome) -> String {
    let pair = &next.pair;
    let when = |moment: usize| words::moment(before, moment);
    match outcome {
        Outcome::Ready => format!(
            "The {pair} corner was up at {}, seen {}, its edge at {}, seen {}: {} left to look",
            next.corner.to,
            next.corner.seen.map_or_else(String::new, when),
            next.edge.to,
            next.edge.seen.map_or_else(String::new, when),
            words::turns(next.lead.unwrap_or(0)),
        ),
        Outcome::Up => {
            let found = |name: &str, watch: &crate::annotation::Watch| match watch.seen {
                Some(seen) => format!("{name} at {} was seen {}", watch.to, when(seen)),
                None => format!("{name} at {} was not seen", watch.to),
            };
            let lead = next.lead.map_or_else(String::new, |lead| format!(" ({} left)", words::turns(lead)));
            format!("The {pair} {}, {}{lead}", found("corner", &next.corner), found("its edge", &next.edge))
        }
        Outcome::Down => {
            let buried = if next.buried { ", buried by the turns before" } else { "" };
            format!("The {pair} corner was down at {}{buried}, its edge at {}", next.corner.to, next.edge.to)
        }
    }
}

fn advice(cause: Cause, next: &Next, before: &Step) -> String {
    match cause {
        Cause::Attention => "look away from the hands".into(),
        Cause::View => match &next.more {
            Some(more) => format!(
                "tilt the cube or look at the far side: with {} in sight too it would have been seen in time",
                words::faces(more.faces)
            ),
            None => "tilt the cube or look at the far side".into(),
        },
        Cause::Choice if before.choice.is_none() => {
            match before.others.iter().find(|other| other.within_slack) {
                Some(other) => format!("go for the corner that is up: {}", other.pair),
                None => "go for a corner that is up".into(),
            }
        }
        Cause::Choice => "take a line that leaves a corner up: see the choice of the step before".into(),
        Cause::Position => "take the nearest corner out without thinking".into(),
    }
}

/// The time of the solve as a whole; `steps` have their pauses.
pub(super) fn timing(facts: &Facts<'_>, obtm: usize, seconds: Option<f64>, steps: &[Step]) -> Timing {
    let pauses: Vec<&PauseCause> = steps.iter().filter_map(|step| step.pause.as_ref()).collect();
    let mut by_cause: Vec<(Cause, f64)> = Vec::new();
    for pause in &pauses {
        match by_cause.iter_mut().find(|(cause, _)| *cause == pause.cause) {
            Some((_, total)) => *total += pause.seconds,
            None => by_cause.push((pause.cause, pause.seconds)),
        }
    }
    by_cause.sort_by(|a, b| b.1.total_cmp(&a.1).then(a.0.cmp(&b.0)));
    let pace = facts.study.clock.pace();
    let judged =
        pace.is_some() && steps.iter().any(|step| step.seconds.pause.or(step.seconds.hesitation).is_some());
    Timing {
        timer: facts.study.record.time.map(|(time, _)| time.seconds()),
        marks: facts.study.clock.marks(),
        marked: facts.study.clock.marked().map(|figure| micro(figure.seconds)),
        pace: pace.map(|figure| micro(figure.seconds)),
        turns_per_second: seconds.filter(|&s| s > 0.0).map(|s| micro(obtm as f64 / s)),
        uncertainty: facts.study.clock.uncertainty().map(micro),
        long_from: pace.filter(|_| judged).map(|pace| micro(facts.long_from.threshold(pace))),
        // An empty sum is -0.
        lost: judged.then(|| micro(pauses.iter().map(|pause| pause.seconds).sum::<f64>() + 0.0)),
        lost_by_cause: by_cause.into_iter().map(|(cause, seconds)| (cause, micro(seconds))).collect(),
    }
}

/// To a millionth, as marks are counted; what lies below comes from the order of sums.
fn micro(figure: f64) -> f64 {
    (figure * 1e6).round() / 1e6
}

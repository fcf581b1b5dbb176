//! What is said of a single moment: where in the solve it is, what is still to turn, what comes next, what a stop waits
//! for. For views that show one moment at a time.

use super::found::turns;
use crate::annotation::{Annotation, Cause, Step, Stop};
use crate::cube::PairName;

/// Where in the record a moment is: `the scrambled cube`, `before the first turn`, `after L'`.
#[must_use]
pub fn place(annotation: &Annotation, moment: usize) -> String {
    match annotation.moments.get(moment).and_then(|here| here.spelled()) {
        None => "the scrambled cube".into(),
        Some(_)
            if annotation
                .steps
                .iter()
                .any(|step| step.obtm > 0 && step.from == moment && step.from == first_turn(annotation)) =>
        {
            "before the first turn".into()
        }
        Some(token) => format!("after {token}"),
    }
}

/// The moment before the first turn; 0 where there is none.
#[must_use]
pub fn first_turn(annotation: &Annotation) -> usize {
    annotation.steps.iter().find(|step| step.obtm > 0).map_or(0, |step| step.from)
}

/// The step a moment belongs to: the one whose turn comes next; at the end the last.
#[must_use]
pub fn step(annotation: &Annotation, moment: usize) -> Option<usize> {
    let coming = annotation.steps.iter().position(|step| step.from <= moment && moment < step.to);
    coming.or_else(|| annotation.steps.len().checked_sub(1))
}

/// The step and what is left of it: `pair 2, 4 turns to go`; at the end how it ended.
#[must_use]
pub fn left(annotation: &Annotation, moment: usize) -> String {
    if moment + 1 >= annotation.moments.len() {
        return annotation.end.judged.to_string();
    }
    let Some(index) = step(annotation, moment) else { return String::new() };
    let step = &annotation.steps[index];
    if step.obtm == 0 {
        return step.title();
    }
    format!("{}, {} to go", step.title(), turns(step.to_go(moment)))
}

/// What comes after the step in hand: `next: green-red`.
#[must_use]
pub fn next(annotation: &Annotation, moment: usize) -> String {
    let pairs = wanted(annotation, moment);
    let pairs: Vec<String> = pairs.iter().map(PairName::to_string).collect();
    if pairs.is_empty() { String::new() } else { format!("next: {}", pairs.join(" and ")) }
}

/// The pairs the eyes belong on at a moment.
#[must_use]
pub fn wanted(annotation: &Annotation, moment: usize) -> Vec<PairName> {
    if moment + 1 >= annotation.moments.len() {
        return Vec::new();
    }
    let step = step(annotation, moment).map(|index| &annotation.steps[index]);
    step.into_iter().flat_map(Step::next).map(|next| next.pair).collect()
}

/// What is said while a stop is held, after its seconds: `before pair 2; green-orange was ready`.
#[must_use]
pub fn held(annotation: &Annotation, index: usize, stop: &Stop) -> String {
    let step = &annotation.steps[index];
    if stop.inside {
        return format!("inside {}", step.title());
    }
    let before = format!("before {}", step.title());
    match (&stop.instead, stop.cause) {
        (Some(instead), _) => format!("{before}; {} was ready", instead.pair),
        (None, Some(Cause::Recognition)) => format!("{before}: recognition"),
        (None, _) => {
            let pairs: Vec<String> = step.pairs.iter().map(PairName::to_string).collect();
            if pairs.is_empty() { before } else { format!("{before}; {} to be found", pairs.join(" and ")) }
        }
    }
}

//! One solve as the survey keeps it: a few figures a step. The annotation it is made from is dropped.

use std::collections::hash_map::DefaultHasher;
use std::hash::{Hash, Hasher};

use super::circumstance::{Before, Given};
use super::facts::{Part, Strip, Why};
use super::steps::Scored;
use crate::annotation::{Annotation, Judged, Step, StepKind, Verdict};
use crate::record;
use crate::steps::Name;

/// A solve, folded.
#[derive(Debug, Clone, PartialEq)]
pub struct Solve {
    /// The name of the file.
    pub file: String,
    /// The number of the record in it.
    pub record: usize,
    /// The writer's title.
    pub title: Option<String>,
    /// The writer's label of whose solve it is; nothing is the same as no label.
    pub solver: Option<String>,
    /// The date, if it is one: `YYYY-MM-DD`.
    pub date: Option<String>,
    /// The same for the same scramble and the same turns.
    pub key: u64,
    /// Why it counts for nothing, if so.
    pub left_out: Option<Why>,
    /// How long it took, in seconds.
    pub seconds: Option<f64>,
    /// Where the time went, where the marks tell; a figure for each [`Part`].
    pub account: Option<[f64; Part::COUNT]>,
    /// The pair steps that a step before them tells of.
    pub pairs: Vec<PairStep>,
    /// Its steps along the clock, where the marks tell.
    pub strip: Vec<Strip>,
}

/// A pair step of a solve.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PairStep {
    /// What a person calls it.
    pub name: Name,
    /// The number of its pair in the solve; of several at once the first.
    pub number: u8,
    /// The moment at which it begins.
    pub moment: usize,
    /// The stop before it, in seconds, 0 where there was none; `None` where the marks do not tell.
    pub stop: Option<f64>,
    /// What holds of it.
    pub given: Given,
    /// The verdict on the step before it, if that was a pair's.
    pub verdict: Option<Verdict>,
    /// What its own turns cost the hands, in units.
    pub cost: Option<f64>,
    /// By how many units a clearly cheaper way, or a cheaper line of the same pair, was there at its beginning.
    pub over: f64,
}

impl Solve {
    /// Folds an annotation.
    #[must_use]
    pub fn of(annotation: &Annotation) -> Solve {
        let mut hasher = DefaultHasher::new();
        annotation.scramble.hash(&mut hasher);
        for moment in &annotation.moments {
            moment.token.hash(&mut hasher);
        }
        let trimmed = |text: &Option<String>| {
            text.as_deref().map(str::trim).filter(|text| !text.is_empty()).map(str::to_owned)
        };
        let pairs = pair_steps(annotation);
        Solve {
            file: annotation.file.clone(),
            record: annotation.record,
            title: trimmed(&annotation.title),
            solver: trimmed(&annotation.solver),
            date: trimmed(&annotation.date).filter(|date| record::is_date(date)),
            key: hasher.finish(),
            left_out: why(annotation),
            seconds: annotation.seconds,
            account: account(annotation),
            pairs,
            strip: strip(annotation),
        }
    }

    /// Whether its stops count: it has a time, and the marks tell the stops before at least two of its pairs.
    #[must_use]
    pub fn timed(&self) -> bool {
        self.seconds.is_some() && self.pairs.iter().filter(|pair| pair.stop.is_some()).count() >= 2
    }

    /// What the tests of chance see of it.
    #[must_use]
    pub fn scored(&self) -> Vec<Scored> {
        let scored =
            |pair: &PairStep| Some(Scored { number: pair.number, stop: pair.stop?, given: pair.given });
        self.pairs.iter().filter_map(scored).collect()
    }
}

fn why(annotation: &Annotation) -> Option<Why> {
    if annotation.end.judged == Judged::NotSolved {
        Some(Why::NotSolved)
    } else if !annotation.faults.is_empty() || annotation.end.judged == Judged::NotJudged {
        Some(Why::Fault)
    } else if !annotation.cross_first || annotation.steps.iter().all(|step| step.kind != StepKind::Pair) {
        Some(Why::NotCrossFirst)
    } else {
        None
    }
}

fn pair_steps(annotation: &Annotation) -> Vec<PairStep> {
    let steps = &annotation.steps;
    let of = |(index, step): (usize, &Step)| {
        let (StepKind::Pair, Name::Pairs { first, .. }) = (step.kind, step.name) else { return None };
        let before = Before::of(steps, index, annotation.settings.lead)?;
        let choice = step.choice.as_ref();
        let cleaner = choice.and_then(|choice| choice.cleaner.as_ref()).map(|cleaner| cleaner.saves);
        let own = choice.and_then(|choice| choice.own.as_ref()).map(|own| own.saves);
        Some(PairStep {
            name: step.name,
            number: first as u8,
            moment: step.from,
            stop: stop_before(step),
            given: before.given(),
            verdict: before.verdict(),
            cost: choice.map(|choice| choice.cost),
            over: cleaner.or(own).unwrap_or(0.0).max(0.0),
        })
    };
    steps.iter().enumerate().filter_map(of).collect()
}

/// The stop before a step, 0 where the marks show that there was none; `None` where they do not tell.
pub(super) fn stop_before(step: &Step) -> Option<f64> {
    let told = step.seconds.before.is_some() || step.seconds.hesitation.is_some();
    told.then(|| step.stop_before().map_or(0.0, |stop| stop.seconds))
}

/// The steps along the clock, from the solve's first turn on.
fn strip(annotation: &Annotation) -> Vec<Strip> {
    let steps = annotation.steps.iter().filter(|step| step.obtm > 0);
    let zero =
        steps.clone().find_map(|step| Some(step.seconds.end? - step.seconds.total? + step.seconds.before?));
    let Some(zero) = zero else { return Vec::new() };
    let of = |step: &Step| {
        let (start, end) = (step.seconds.start?, step.seconds.end?);
        let turns = start + step.seconds.before.unwrap_or(0.0);
        Some(Strip { step: step.name, start: start - zero, turns: turns - zero, end: end - zero })
    };
    steps.filter_map(of).collect()
}

/// Where the time went: all of it, so that the parts add up.
fn account(annotation: &Annotation) -> Option<[f64; Part::COUNT]> {
    let timing = &annotation.timing;
    let (time, turning, stopped) = (annotation.seconds?, timing.turning?, timing.stopped?);
    let mut parts = [0.0; Part::COUNT];
    let mut add = |part: Part, seconds: f64| parts[part as usize] += seconds;
    add(Part::Time, time);
    add(Part::Turning, turning);
    add(Part::Stopped, stopped);
    let mut long = 0.0;
    for step in &annotation.steps {
        for stop in step.stops.iter().filter(|stop| !stop.derived) {
            let part = match (step.kind, step.name) {
                _ if stop.inside => Part::Inside,
                (StepKind::Pair, Name::Pairs { first, .. }) => Part::BEFORE_PAIRS[(first - 1).min(3)],
                (StepKind::Orient | StepKind::LastLayer, _) => Part::BeforeOll,
                (StepKind::Permute | StepKind::Adjust, _) => Part::BeforePll,
                _ => continue,
            };
            add(part, stop.seconds);
            long += stop.seconds;
        }
    }
    add(Part::Short, (stopped - long).max(0.0));
    add(Part::Turns, annotation.obtm as f64);
    if turning > 0.0 {
        add(Part::TurnsPerSecond, annotation.obtm as f64 / turning);
    }
    Some(parts)
}

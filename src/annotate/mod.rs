//! From a study to its facts: the one place where scan, sight, pace and choice come together.
//!
//! Each file here fills one part of the [`Annotation`]; none of them prints.

mod choice;
mod judge;
mod scan;
mod sight;
mod summary;
mod time;
mod words;

use crate::annotation::{Annotation, Format, Message, Moment, Step, StepKind};
use crate::cube::{FaceSet, Moves, Stickers};
use crate::diagnostic::{Diagnostic, Severity, Source};
use crate::pace::LongFrom;
use crate::sight::DEFAULT_LEAD;
use crate::steps::Kind;
use crate::study::Study;

/// What an annotation depends on besides the record.
#[derive(Debug, Clone, PartialEq)]
pub struct Settings {
    /// The faces in sight, instead of those the record gives.
    pub sight: Option<FaceSet>,
    /// The lead that is enough, in turns (OBTM).
    pub lead: usize,
    /// Whether notes are faults.
    pub strict: bool,
    /// From when on a pause is long.
    pub long_from: LongFrom,
    /// What other lines are compared, and how; its lead is this one's.
    pub choice: crate::choice::Settings,
}

/// The facts of a record, and the messages on its text to be drawn beside it (the facts list them too).
#[derive(Debug, Clone, PartialEq)]
pub struct Annotated {
    /// The facts.
    pub facts: Annotation,
    /// The messages, in the order of the text where they have a place in it.
    pub diagnostics: Vec<Diagnostic>,
}

impl Default for Settings {
    fn default() -> Settings {
        Settings {
            sight: None,
            lead: DEFAULT_LEAD,
            strict: false,
            long_from: LongFrom::default(),
            choice: crate::choice::Settings::default(),
        }
    }
}

/// Everything the parts are computed from.
struct Facts<'a> {
    study: &'a Study<'a>,
    sight: FaceSet,
    lead: usize,
    long_from: LongFrom,
    choice: crate::choice::Settings,
}

/// Annotates one record as far as it can be played.
#[must_use]
pub fn annotate(study: &Study<'_>, settings: &Settings) -> Annotated {
    let Study { source, record, .. } = *study;
    let sight = settings.sight.unwrap_or(record.sight);
    let (lead, long_from) = (settings.lead, settings.long_from);
    let choice = crate::choice::Settings { lead, ..settings.choice.clone() };
    let facts = Facts { study, sight, lead, long_from, choice };

    let mut diagnostics = record.diagnostics.clone();
    diagnostics.extend(study.said());
    if settings.strict {
        diagnostics.iter_mut().for_each(|diagnostic| diagnostic.severity = Severity::Fault);
    }
    let (faults, notes): (Vec<_>, Vec<_>) =
        diagnostics.iter().partition(|diagnostic| diagnostic.severity == Severity::Fault);

    let mut steps: Vec<Step> = (0..study.solve.steps.len()).map(|index| step(&facts, index)).collect();
    time::fill_pauses(&facts, &mut steps);
    let (obtm, seconds) = (study.obtm(), study.seconds());
    let timing = time::timing(&facts, obtm, seconds, &steps);
    let facts = Annotation {
        format: Format::Annotation2,
        file: source.name.clone(),
        record: study.number,
        title: record.title.clone(),
        solver: record.solver.clone(),
        date: record.date.clone(),
        remarks: record.notes.clone(),
        scramble: scramble(study),
        solved: study.solved(),
        end: judge::ending(study),
        cross: study.solve.cross,
        sight: facts.sight,
        tokens: study.replay.moves.len(),
        obtm,
        etm: study.etm(),
        seconds,
        settings: choice::used(&facts),
        summary: summary::sentences(&steps, &timing),
        timing,
        notes: notes.into_iter().map(|diagnostic| message(source, diagnostic)).collect(),
        faults: faults.into_iter().map(|diagnostic| message(source, diagnostic)).collect(),
        untold: judge::untold(study),
        moments: moments(&facts),
        steps,
        lanes: sight::lanes(&facts),
    };
    Annotated { facts, diagnostics }
}

fn step(facts: &Facts<'_>, index: usize) -> Step {
    let step = &facts.study.solve.steps[index];
    let moves = facts.study.moves(step);
    let (mut scan, mut next) = scan::scan(facts, index);
    sight::fill(facts, index, &mut scan, &mut next);
    time::fill_leads(facts, index, &mut next);
    Step {
        kind: kind(step.kind),
        name: facts.study.solve.name(index),
        pairs: step.pairs.iter().map(|pair| pair.name()).collect(),
        case: facts.study.case(index),
        skips: step.skips.clone(),
        from: step.from,
        to: step.to,
        text: moves.into(),
        obtm: moves.iter().map(|mv| mv.obtm()).sum(),
        etm: moves.iter().map(|mv| mv.etm()).sum(),
        hold: facts.study.replay.moments[step.from].hold.into(),
        comments: comments(facts, step.from, step.to, index == 0),
        seconds: time::seconds(facts, index),
        scan,
        next,
        others: choice::others(facts, index),
        choice: choice::choice(facts, index),
        pause: None,
    }
}

const fn kind(kind: Kind) -> StepKind {
    match kind {
        Kind::Inspection => StepKind::Inspection,
        Kind::Cross => StepKind::Cross,
        Kind::Pair => StepKind::Pair,
        Kind::Orient => StepKind::Orient,
        Kind::Permute => StepKind::Permute,
        Kind::LastLayer => StepKind::LastLayer,
        Kind::Adjust => StepKind::Adjust,
        Kind::Rest => StepKind::Rest,
    }
}

/// The comments that go with the step's tokens: those that stand after its first token and no later than its
/// last, and claims that stand before their turns; before the first step's too.
fn comments(facts: &Facts<'_>, from: usize, to: usize, first: bool) -> Vec<String> {
    let comments = facts.study.record.solution.comments.iter().zip(&facts.study.comment_moments);
    comments
        .filter(|&(_, &moment)| moment <= to && (moment > from || (first && moment == from)))
        .map(|(comment, _)| comment.text.clone())
        .collect()
}

/// The scramble as played; the writer's own text, its white space folded, if it cannot be read to its end.
fn scramble(study: &Study<'_>) -> String {
    let turns = &study.record.scramble;
    if study.scramble_whole() {
        return turns.playable().collect::<Moves>().to_string();
    }
    let text = study.source.text.get(turns.span.start..turns.span.end).unwrap_or_default();
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

fn moments(facts: &Facts<'_>) -> Vec<Moment> {
    let solution = &facts.study.record.solution;
    facts
        .study
        .replay
        .moments
        .iter()
        .enumerate()
        .map(|(moment, position)| Moment {
            token: moment.checked_sub(1).map(|i| facts.study.replay.moves[i]),
            stickers: Stickers::of(position),
            hold: position.hold.into(),
            seconds: solution
                .marks
                .iter()
                .rev()
                .find(|mark| mark.moment == moment)
                .map(|mark| mark.time.seconds()),
            span: moment.checked_sub(1).map(|i| solution.tokens[i].span),
        })
        .collect()
}

fn message(source: &Source, diagnostic: &Diagnostic) -> Message {
    let span = diagnostic.span();
    let place = span.map(|span| source.position(span.start));
    Message {
        severity: diagnostic.severity,
        code: diagnostic.code.into(),
        message: diagnostic.message.clone(),
        help: diagnostic.help.clone(),
        span,
        line: place.map(|(line, _)| line),
        column: place.map(|(_, column)| column),
    }
}

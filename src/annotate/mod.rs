//! From a record to its facts: the one place where replay, steps, scan, sight, pace and choice come together.
//!
//! Each file here fills one part of the [`Annotation`]; none of them prints.

mod choice;
mod judge;
mod scan;
mod sight;
mod summary;
mod time;
mod words;

use crate::annotation::{Annotation, FORMAT, HoldNames, Message, Moment, Step, StepKind};
use crate::cube::{Face, FaceSet, Move, Position};
use crate::diagnostic::{Diagnostic, Severity, Source};
use crate::naming;
use crate::notation::Turns;
use crate::pace::{Clock, LongFrom};
use crate::record::Record;
use crate::replay::Replay;
use crate::sight::DEFAULT_LEAD;
use crate::steps::{self, Kind, Solve, claims};

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
    record: &'a Record,
    replay: Replay,
    solve: Solve,
    sight: FaceSet,
    lead: usize,
    clock: Clock,
    long_from: LongFrom,
    choice: crate::choice::Settings,
    /// For each comment, how many tokens there are up to those it goes with.
    comment_moments: Vec<usize>,
}

/// Annotates one record as far as it can be played. `number` is its place in the file, from 1.
#[must_use]
pub fn annotate(source: &Source, number: usize, record: &Record, settings: &Settings) -> Annotated {
    let scramble: Vec<Move> = record.scramble.playable().collect();
    let scramble_whole = !scramble.is_empty() && scramble.len() == record.scramble.tokens.len();
    // After a token of the scramble that could not be read nothing can be told of the solution.
    let solution: Vec<Move> = if scramble_whole { record.solution.playable().collect() } else { Vec::new() };
    let replay = Replay::new(scramble.iter().copied(), solution);
    let solve = if replay.moves.is_empty() { Solve::unplayed() } else { steps::split(&replay) };
    let sight = settings.sight.unwrap_or(record.sight);
    let clock = Clock::new(&record.solution.marks, &replay.moves, record.fps);
    let (lead, long_from) = (settings.lead, settings.long_from);
    let choice = crate::choice::Settings { lead, ..settings.choice.clone() };
    let comment_moments = claims::moments(&source.text, &record.solution);
    let facts = Facts { record, replay, solve, sight, lead, clock, long_from, choice, comment_moments };

    let mut diagnostics = record.diagnostics.clone();
    diagnostics.extend(judge::claims(source, &facts));
    diagnostics.extend(judge::cases(source, &facts));
    let whole = facts.replay.moves.len() == record.solution.tokens.len();
    diagnostics.extend(judge::end(&facts, whole));
    diagnostics.extend(record.time.and_then(|timer| facts.clock.timer_note(timer)));
    if settings.strict {
        diagnostics.iter_mut().for_each(|diagnostic| diagnostic.severity = Severity::Fault);
    }
    let (faults, notes): (Vec<_>, Vec<_>) =
        diagnostics.iter().partition(|diagnostic| diagnostic.severity == Severity::Fault);

    let mut steps: Vec<Step> = (0..facts.solve.steps.len()).map(|index| step(&facts, index)).collect();
    time::fill_pauses(&facts, &mut steps);
    let marked = facts.clock.solve().map(|figure| figure.seconds);
    let seconds = record.time.map(|(time, _)| time.seconds()).or(marked);
    let obtm = facts.replay.moves.iter().map(|mv| mv.obtm()).sum();
    let timing = time::timing(&facts, obtm, seconds, &steps);
    let facts = Annotation {
        format: FORMAT,
        file: source.name.clone(),
        record: number,
        title: record.title.clone(),
        solver: record.solver.clone(),
        date: record.date.clone(),
        remarks: record.notes.clone(),
        scramble: if scramble_whole {
            naming::moves(&scramble)
        } else {
            as_written(source, &record.scramble)
        },
        solved: facts.solve.end == steps::End::Solved && whole && !facts.replay.moves.is_empty(),
        end: judge::ending(&facts, whole),
        cross: facts.solve.cross.map(|colour| colour.to_string()),
        sight: facts.sight.to_string(),
        tokens: facts.replay.moves.len(),
        obtm,
        etm: facts.replay.moves.iter().map(|mv| mv.etm()).sum(),
        seconds,
        settings: choice::used(&facts),
        summary: summary::sentences(&steps, &timing),
        timing,
        notes: notes.into_iter().map(|diagnostic| message(source, diagnostic)).collect(),
        faults: faults.into_iter().map(|diagnostic| message(source, diagnostic)).collect(),
        untold: judge::untold(&facts, scramble_whole, whole),
        moments: moments(&facts),
        steps,
        lanes: sight::lanes(&facts),
    };
    Annotated { facts, diagnostics }
}

fn step(facts: &Facts<'_>, index: usize) -> Step {
    let step = &facts.solve.steps[index];
    let moves = &facts.replay.moves[step.from..step.to];
    let (mut scan, mut next) = scan::scan(facts, index);
    sight::fill(facts, index, &mut scan, &mut next);
    time::fill_leads(facts, index, &mut next);
    Step {
        kind: kind(step.kind),
        name: words::step_name(&facts.solve, index),
        pairs: step.pairs.iter().map(ToString::to_string).collect(),
        case: words::case(facts, index),
        skips: words::skips(step),
        from: step.from,
        to: step.to,
        text: naming::moves(moves),
        obtm: moves.iter().map(|mv| mv.obtm()).sum(),
        etm: moves.iter().map(|mv| mv.etm()).sum(),
        hold: hold_names(&facts.replay.moments[step.from]),
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
    let comments = facts.record.solution.comments.iter().zip(&facts.comment_moments);
    comments
        .filter(|&(_, &moment)| moment <= to && (moment > from || (first && moment == from)))
        .map(|(comment, _)| comment.text.clone())
        .collect()
}

fn hold_names(position: &Position) -> HoldNames {
    HoldNames {
        up: position.hold.colour(Face::U).to_string(),
        front: position.hold.colour(Face::F).to_string(),
    }
}

/// The writer's own text, its white space folded.
fn as_written(source: &Source, turns: &Turns) -> String {
    let text = source.text.get(turns.span.start..turns.span.end).unwrap_or_default();
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// The 54 stickers as letters, faces `U L F R B D`.
pub(crate) fn stickers(position: &Position) -> String {
    [Face::U, Face::L, Face::F, Face::R, Face::B, Face::D]
        .into_iter()
        .flat_map(|face| position.stickers(face))
        .map(naming::letter)
        .collect()
}

fn moments(facts: &Facts<'_>) -> Vec<Moment> {
    let solution = &facts.record.solution;
    facts
        .replay
        .moments
        .iter()
        .enumerate()
        .map(|(moment, position)| Moment {
            token: moment.checked_sub(1).map(|i| facts.replay.moves[i].to_string()),
            stickers: stickers(position),
            hold: hold_names(position),
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
        code: diagnostic.code,
        message: diagnostic.message.clone(),
        help: diagnostic.help.clone(),
        span,
        line: place.map(|(line, _)| line),
        column: place.map(|(_, column)| column),
    }
}

//! What is wrong with a record, or looks wrong: everything `mend` is asked about before it looks for repairs.

use crate::cube::{FaceTurn, Move, Position};
use crate::diagnostic::{Diagnostic, Span};
use crate::findings;
use crate::notation::{Element, Turns};
use crate::pace::Clock;
use crate::record::Record;
use crate::replay::Replay;
use crate::steps::claims::Checked;
use crate::steps::{End, Solve};

use super::locate::step_name;

/// A step's pace is implausible if it is so many times the solve's own, or the solve's own so many times it.
const IMPLAUSIBLE: f64 = 3.0;

/// Everything that is wrong with the record, in the order of the text: what the reader could not read,
/// claims that do not hold, an end that is not solved, times that contradict each other, and turns that look
/// odd though the end is solved.
#[must_use]
pub fn findings(record: &Record, replay: &Replay, solve: &Solve, claims: &[Checked]) -> Vec<Diagnostic> {
    let mut findings: Vec<Diagnostic> =
        record.diagnostics.iter().filter(|diagnostic| diagnostic.is_fault()).cloned().collect();
    let whole = replay.moves.len() == record.solution.tokens.len();
    findings.extend(unknown(&record.scramble));
    findings.extend(unknown(&record.solution));
    findings.extend(broken_claim(replay, solve, claims));
    if whole && !replay.moves.is_empty() {
        findings.extend(end(record, replay, solve));
    }
    let clock = Clock::new(&record.solution.marks, &replay.moves, record.fps);
    if whole {
        findings.extend(record.time.and_then(|timer| clock.timer_note(timer)));
        if solve.end == End::Solved {
            findings.extend(undone(record, replay));
            findings.extend(odd_pace(record, replay, solve, &clock));
        }
    }
    findings.sort_by_key(Diagnostic::span);
    findings
}

/// `?` and `...`.
fn unknown(turns: &Turns) -> Vec<Diagnostic> {
    let said = |element: Element| match element {
        Element::Unknown => Some(findings::token_missing()),
        Element::Gap => Some(findings::stretch_missing()),
        Element::Move(_) | Element::Unreadable => None,
    };
    turns.tokens.iter().filter_map(|token| Some(said(token.element)?.at(token.span))).collect()
}

/// The first claim that does not hold; what follows a fault is mostly wrong too, so the others are counted.
fn broken_claim(replay: &Replay, solve: &Solve, claims: &[Checked]) -> Option<Diagnostic> {
    let played = replay.moves.len();
    let mut broken = claims.iter().filter(|claim| !claim.holds && claim.to <= played);
    let first = broken.next()?;
    let reached: Vec<String> = (0..solve.steps.len())
        .filter(|&index| {
            let step = &solve.steps[index];
            step.to > first.from && step.to <= first.to && step_name(solve, index) != "rest"
        })
        .map(|index| step_name(solve, index))
        .collect();
    let found = if reached.is_empty() {
        "its turns finish no step".into()
    } else {
        format!("its turns finish: {}", reached.join(", "))
    };
    Some(findings::claim_contradicted(&first.text, "this", &found, broken.count()).at(first.span))
}

fn end(record: &Record, replay: &Replay, solve: &Solve) -> Option<Diagnostic> {
    let last = record.solution.tokens.last()?.span;
    let at = Span::new(last.end, last.end);
    match solve.end {
        End::Solved => None,
        End::OneTurnShort(turn) => {
            Some(findings::end_one_turn_short(&written(replay.end(), turn).to_string()).at(at))
        }
        End::Unsolved => Some(findings::end_unsolved().at(at)),
    }
}

fn written(position: &Position, turn: FaceTurn) -> Move {
    Move::Turn(position.hold.face(turn.centre), turn.amount)
}

/// A turn undone by the next one, with no mark between: nobody plays that.
fn undone(record: &Record, replay: &Replay) -> Option<Diagnostic> {
    let at = (1..replay.moves.len()).find(|&at| {
        let (before, here) = (replay.moves[at - 1], replay.moves[at]);
        before.inverse() == here && !record.solution.marks.iter().any(|mark| mark.moment == at)
    })?;
    let (before, here) = (record.solution.tokens[at - 1].span, record.solution.tokens[at].span);
    let written = [at - 1, at].map(|at| replay.moves[at].to_string());
    Some(findings::turn_undone(&written[0], &written[1]).at_both(here, before))
}

/// A step played much faster or slower than the rest.
fn odd_pace(record: &Record, replay: &Replay, solve: &Solve, clock: &Clock) -> Vec<Diagnostic> {
    let Some(pace) = clock.pace().filter(|pace| pace.seconds > 0.0) else { return Vec::new() };
    (0..solve.steps.len())
        .filter_map(|index| {
            let step = &solve.steps[index];
            let turns: usize = replay.moves[step.from..step.to].iter().map(|mv| mv.obtm()).sum();
            let time = clock.step(step.from, step.to).turning?;
            if turns < 3 || time.seconds <= 0.0 {
                return None;
            }
            let own = time.seconds / turns as f64;
            if own * IMPLAUSIBLE >= pace.seconds && own <= IMPLAUSIBLE * pace.seconds {
                return None;
            }
            let tokens = &record.solution.tokens[step.from..step.to];
            let span = Span::new(tokens.first()?.span.start, tokens.last()?.span.end);
            Some(findings::pace_implausible(&step_name(solve, index), own, pace.seconds).at(span))
        })
        .collect()
}

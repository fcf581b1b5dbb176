//! What is wrong with a record, or looks wrong: everything `mend` is asked about before it looks for repairs.

use crate::diagnostic::{Diagnostic, Span};
use crate::findings;
use crate::notation::{Element, Turns};
use crate::study::Study;

/// A step's pace is implausible if it is so many times the solve's own, or the solve's own so many times it.
const IMPLAUSIBLE: f64 = 3.0;

/// Everything that is wrong with the record, in the order of the text: what the reader could not read, what the
/// replay says, and turns and times that look odd though the end is solved.
#[must_use]
pub fn findings(study: &Study<'_>) -> Vec<Diagnostic> {
    let record = study.record;
    let mut findings: Vec<Diagnostic> =
        record.diagnostics.iter().filter(|diagnostic| diagnostic.is_fault()).cloned().collect();
    findings.extend(unknown(&record.scramble));
    findings.extend(unknown(&record.solution));
    findings.extend(study.said());
    if study.solved() {
        findings.extend(undone(study));
        findings.extend(odd_pace(study));
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

/// A turn undone by the next one, with no mark between: nobody plays that.
fn undone(study: &Study<'_>) -> Option<Diagnostic> {
    let Study { record, replay, .. } = study;
    let at = (1..replay.moves.len()).find(|&at| {
        let (before, here) = (replay.moves[at - 1], replay.moves[at]);
        before.inverse() == here && !record.solution.marks.iter().any(|mark| mark.moment == at)
    })?;
    let (before, here) = (record.solution.tokens[at - 1].span, record.solution.tokens[at].span);
    let written = [at - 1, at].map(|at| replay.moves[at].to_string());
    Some(findings::turn_undone(&written[0], &written[1]).at_both(here, before))
}

/// A step played much faster or slower than the rest.
fn odd_pace(study: &Study<'_>) -> Vec<Diagnostic> {
    let Study { record, solve, clock, .. } = study;
    let Some(pace) = clock.pace().filter(|pace| pace.seconds > 0.0) else { return Vec::new() };
    (0..solve.steps.len())
        .filter_map(|index| {
            let step = &solve.steps[index];
            let turns: usize = study.moves(step).iter().map(|mv| mv.obtm()).sum();
            let time = clock.step(index).turning?.seconds();
            if turns < 3 || time <= 0.0 {
                return None;
            }
            let own = time / turns as f64;
            if own * IMPLAUSIBLE >= pace.seconds && own <= IMPLAUSIBLE * pace.seconds {
                return None;
            }
            let tokens = &record.solution.tokens[step.from..step.to];
            let span = Span::new(tokens.first()?.span.start, tokens.last()?.span.end);
            Some(findings::pace_implausible(&solve.name(index).to_string(), own, pace.seconds).at(span))
        })
        .collect()
}

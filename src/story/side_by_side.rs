//! The steps of two solves beside each other, as they were written, with how each pair had been found and where the hands
//! stopped.

use super::blocks::{Body, Line, Phrase, StepBlock};
use super::found::{found_and_judged, turns};
use super::solve;
use crate::annotation::{Step, StepKind};
use crate::diff::{Comparison, Row, StepSide, Which};

/// A step of one side, or of both where they are written alike.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SideStep {
    /// Whose.
    pub which: Option<Which>,
    /// Its place in the annotation's steps; of side `a` where it stands for both.
    pub step: usize,
    /// What is to be said of it.
    pub block: StepBlock,
}

/// The steps of a row, side by side: those of side `a`, then those of side `b`; one where both are written alike.
#[must_use]
pub fn steps(comparison: &Comparison, row: &Row) -> Vec<SideStep> {
    if let (Some([a]), Some([b])) =
        (row.a.as_ref().map(|side| side.steps.as_slice()), row.b.as_ref().map(|side| side.steps.as_slice()))
        && row.same_turns
        && a.written == b.written
    {
        let (one, other) = (side_step(comparison, Which::A, a, row), side_step(comparison, Which::B, b, row));
        return vec![both(comparison, one, other, title(comparison, Which::A, a))];
    }
    Which::BOTH
        .into_iter()
        .flat_map(|which| {
            row.of(which).into_iter().flat_map(move |side| side.steps.iter().map(move |step| (which, step)))
        })
        .map(|(which, step)| side_step(comparison, which, step, row))
        .collect()
}

/// A step that both wrote alike, under a name without a letter: what differs all the same stands in the order of the sides.
fn both(comparison: &Comparison, one: SideStep, other: SideStep, name: String) -> SideStep {
    let mut block = StepBlock { name, ..one.block };
    for (figure, second) in block.figures.iter_mut().zip(&other.block.figures).skip(1) {
        if figure != second {
            *figure = format!("{}, {}", figure.trim_end_matches(" s").trim(), second.trim());
        }
    }
    if block.lines != other.block.lines {
        let of = |name: &String, lines: Vec<Line>| {
            let said = lines.into_iter().map(|line| match line.body {
                Body::Words(words) => (line.label, Phrase::words(format!("{name} ")).then(words)),
                Body::Cells(_) => (line.label, Phrase::new()),
            });
            said.collect::<Vec<_>>()
        };
        let names = &comparison.names;
        let said = of(&names.a, block.lines).into_iter().chain(of(&names.b, other.block.lines));
        let mut label = "";
        block.lines = said
            .map(|(own, words)| {
                let shown = if own == label { "" } else { own };
                label = own;
                Line { label: shown, body: Body::Words(words) }
            })
            .collect();
    }
    SideStep { which: None, step: one.step, block }
}

fn title(comparison: &Comparison, which: Which, side: &StepSide) -> String {
    comparison.annotations.of(which).steps[side.step].title()
}

fn side_step(comparison: &Comparison, which: Which, side: &StepSide, row: &Row) -> SideStep {
    let facts = comparison.annotations.of(which);
    let step = &facts.steps[side.step];
    let mut lines = Vec::new();
    let mut said: Vec<Phrase> = Vec::new();
    let before = side.step.checked_sub(1).map(|before| &facts.steps[before]);
    let offer = before.and_then(Step::taken).filter(|_| step.kind == StepKind::Pair);
    if let (Some(offer), Some(before)) = (offer, before) {
        said.push(found_and_judged(offer, before, step).into());
    }
    let label = if said.is_empty() { "stopped" } else { "found" };
    for stop in &step.stops {
        let cause = stop.cause.map_or(String::new(), |cause| format!(", {cause}"));
        let stopped = if label == "found" { Phrase::words("stopped ") } else { Phrase::new() };
        said.push(stopped.then(solve::place_of(facts, step, stop)).and(cause));
    }
    let said = said.into_iter().reduce(|one, other| one.and("; ").then(other));
    lines.extend(said.map(|words| Line { label, body: Body::Words(words) }));
    if which == Which::B
        && !row.same_turns
        && side.written != side.turns.to_string()
        && !side.turns.is_empty()
    {
        lines.push(Line { label: "as A", body: Body::Words(Phrase::new().turns(&side.turns)) });
    }
    let mut figures = vec![turns(side.obtm)];
    if let Some(seconds) = step.seconds.turning.or(step.seconds.total) {
        figures.push(format!("{seconds:>5.2} s"));
    }
    let block = StepBlock {
        name: format!("{} {}", comparison.names.of(which), step.title()),
        what: Phrase::new().pairs(&side.pairs),
        tokens: side.written.clone(),
        figures,
        from: step.from,
        to: step.to,
        lines,
    };
    SideStep { which: Some(which), step: side.step, block }
}

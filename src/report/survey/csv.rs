//! A row a step, with every fact and circumstance, as comma-separated values (RFC 4180, with plain line feeds): for a
//! spreadsheet, a database or a notebook. `docs/survey.md` says what the columns hold.
//!
//! What a person wrote and a spreadsheet would take for a formula gets an apostrophe before it.

use std::fmt::Display;

use serde::Serialize;

use crate::annotation::{Annotation, Step};
use crate::harmless::one_line;
use crate::survey::Solve;
use crate::survey::circumstance::Which;
use crate::survey::facts::Why;

/// The columns before those of the circumstances.
pub const COLUMNS: [&str; 48] = [
    "counts",
    "file",
    "record",
    "title",
    "solver",
    "date",
    "solve_seconds",
    "solve_stopped",
    "step",
    "kind",
    "number",
    "pairs",
    "case",
    "from",
    "to",
    "tokens",
    "turns",
    "etm",
    "start",
    "end",
    "seconds",
    "turning",
    "gap_before",
    "gap_inside",
    "hesitation",
    "stop_before",
    "cause",
    "cost",
    "price",
    "verdict",
    "open_pairs",
    "good_pairs",
    "cleaner_saves",
    "own_line_saves",
    "tier",
    "buried",
    "corner_from",
    "corner_to",
    "edge_from",
    "edge_to",
    "lead",
    "plain_lead",
    "told_lead",
    "ready",
    "plain_ready",
    "line",
    "line_turns",
    "line_cost",
];

/// The first line: the names of the columns.
#[must_use]
pub fn header() -> String {
    let names = COLUMNS.into_iter().map(str::to_owned).chain(Which::all().map(|which| which.to_string()));
    names.collect::<Vec<_>>().join(",") + "\n"
}

/// Whether a record counts, as the first column says it.
#[must_use]
pub const fn counts(why: Option<Why>) -> &'static str {
    match why {
        None => "yes",
        Some(Why::Fault) => "fault",
        Some(Why::NotSolved) => "not-solved",
        Some(Why::NotCrossFirst) => "not-cross-first",
        Some(Why::NoTimes) => "no-times",
        Some(Why::Twice) => "twice",
        Some(Why::NoDate) => "no-date",
        Some(Why::Earlier) => "earlier",
    }
}

/// A line for each step of a solve, without the first column and its comma.
#[must_use]
pub fn rows(annotation: &Annotation, solve: &Solve) -> Vec<String> {
    annotation.steps.iter().enumerate().map(|(index, _)| row(annotation, solve, index)).collect()
}

/// Cells being filled.
#[derive(Default)]
struct Cells(Vec<String>);

impl Cells {
    /// A figure or a word of the program's own.
    fn own(&mut self, value: impl Display) -> &mut Cells {
        self.0.push(quoted(&value.to_string()));
        self
    }

    fn some(&mut self, value: Option<impl Display>) -> &mut Cells {
        match value {
            Some(value) => self.own(value),
            None => self.own(""),
        }
    }

    fn yes(&mut self, value: Option<bool>) -> &mut Cells {
        self.some(value.map(u8::from))
    }

    /// What a person wrote.
    fn written(&mut self, text: Option<&str>) -> &mut Cells {
        let text = one_line(text.unwrap_or_default());
        let formula = text.starts_with(['=', '+', '-', '@']);
        self.0.push(quoted(&if formula { format!("'{text}") } else { text }));
        self
    }
}

fn quoted(text: &str) -> String {
    if text.contains([',', '"', '\n', '\r']) {
        format!("\"{}\"", text.replace('"', "\"\""))
    } else {
        text.to_owned()
    }
}

fn row(annotation: &Annotation, solve: &Solve, index: usize) -> String {
    let step = &annotation.steps[index];
    let mut cells = Cells::default();
    cells
        .written(Some(&annotation.file))
        .own(annotation.record)
        .written(annotation.title.as_deref())
        .written(annotation.solver.as_deref())
        .written(annotation.date.as_deref())
        .some(annotation.seconds)
        .some(annotation.timing.stopped);
    of_step(&mut cells, step);
    let pair = solve.pairs.iter().find(|pair| pair.moment == step.from && pair.name == step.name);
    let it =
        index.checked_sub(1).and_then(|before| annotation.steps[before].taken()).filter(|_| pair.is_some());
    cells
        .some(it.map(|it| it.tier))
        .yes(it.map(|it| it.buried))
        .some(it.map(|it| it.corner.from))
        .some(it.map(|it| it.corner.to))
        .some(it.map(|it| it.edge.from))
        .some(it.map(|it| it.edge.to))
        .some(it.and_then(|it| it.lead))
        .some(it.and_then(|it| it.plain_lead))
        .some(it.and_then(|it| it.told_lead))
        .yes(it.map(|it| it.ready))
        .yes(it.map(|it| it.plain_ready));
    let line = it.and_then(|it| it.line.as_ref());
    cells
        .some(line.map(|line| line.text.to_string()))
        .some(line.map(|line| line.obtm))
        .some(line.map(|line| line.cost));
    for which in Which::all() {
        cells.yes(pair.map(|pair| pair.given.has(which)));
    }
    cells.0.join(",") + "\n"
}

fn of_step(cells: &mut Cells, step: &Step) {
    let seconds = &step.seconds;
    let pairs: Vec<String> = step.pairs.iter().map(ToString::to_string).collect();
    let number = match step.name {
        crate::steps::Name::Pairs { first, .. } => Some(first),
        _ => None,
    };
    let stop = step.stop_before();
    let told = seconds.before.is_some() || seconds.hesitation.is_some();
    cells
        .own(step.name)
        .own(word(step.kind))
        .some(number)
        .own(pairs.join(" "))
        .some(step.case)
        .own(step.from)
        .own(step.to)
        .own(&step.text)
        .own(step.obtm)
        .own(step.etm)
        .some(seconds.start)
        .some(seconds.end)
        .some(seconds.total)
        .some(seconds.turning)
        .some(seconds.before)
        .some(seconds.inside)
        .some(seconds.hesitation)
        .some(told.then(|| stop.map_or(0.0, |stop| stop.seconds)))
        .some(stop.and_then(|stop| stop.cause));
    let choice = step.choice.as_ref();
    cells
        .some(choice.map(|choice| choice.cost))
        .some(choice.and_then(|choice| choice.price))
        .some(choice.and_then(|choice| choice.verdict).map(word))
        .some(choice.map(|choice| choice.open_pairs))
        .some(choice.map(|choice| choice.good_pairs))
        .some(choice.and_then(|choice| choice.cleaner.as_ref()).map(|cleaner| cleaner.saves))
        .some(choice.and_then(|choice| choice.own.as_ref()).map(|own| own.saves));
}

/// The word that a fact is written with in JSON.
fn word(fact: impl Serialize) -> String {
    let value = serde_json::to_value(fact).ok();
    value.and_then(|value| value.as_str().map(str::to_owned)).unwrap_or_default()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::report::sample;

    #[test]
    fn every_row_has_a_cell_for_each_column() {
        let annotation = sample::annotation(true);
        let solve = Solve::of(&annotation);
        let n = header().trim_end().split(',').count();
        let rows = rows(&annotation, &solve);
        assert_eq!(rows.len(), annotation.steps.len());
        for row in rows {
            // No cell of the sample needs quotes.
            assert_eq!(row.trim_end().split(',').count() + 1, n, "{row}");
        }
    }

    #[test]
    fn what_would_be_a_formula_is_none() {
        let mut cells = Cells::default();
        cells.written(Some("=1+1")).written(Some("-a, \"b\"")).own("-0.5");
        assert_eq!(cells.0, ["'=1+1", "\"'-a, \"\"b\"\"\"", "-0.5"]);
    }
}

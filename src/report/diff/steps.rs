//! Each step with its turns: as written, and in the shared hold with the turns that only one side made in
//! brackets.

use owo_colors::OwoColorize;

use super::padded;
use crate::annotation::StepKind;
use crate::diff::{Comparison, Row, StepSide, Which};
use crate::report::look::{Look, columns, wrap};
use crate::report::words;

/// From this width on the sides stand in two columns.
const TWO_COLUMNS: usize = 100;

/// Where the text of a side begins in its column.
const INDENT: usize = 3;

pub(super) fn render(comparison: &Comparison, look: &Look) -> String {
    let hold = &comparison.hold;
    let legend = format!(
        "Turns as written; after = as turns of the outer layers with {} up and {} in front, where [brackets] \
         hold what only this side made.",
        hold.up, hold.front
    );
    let mut out = format!("\n{}\n", wrap(&legend, look.width, 0).style(look.palette.dim));
    for row in &comparison.rows {
        out.push('\n');
        out.push_str(&one(comparison, row, look));
    }
    out
}

fn one(comparison: &Comparison, row: &Row, look: &Look) -> String {
    let both = row.a.as_ref().zip(row.b.as_ref());
    let same = both.filter(|_| row.same_turns);
    let mut out = row.name.style(look.palette.strong).to_string();
    if same.is_some() {
        out.push_str(": the same turns");
    }
    out.push('\n');
    let same_writing = same.is_some_and(|(a, b)| a.written == b.written);
    let side = |which: Which, width: usize| {
        let name = comparison.names.of(which);
        let Some(step) = row.of(which) else { return vec![format!("{name:<INDENT$}no step here")] };
        let mut lines = figures(name, step, row, width, look);
        if !same_writing {
            lines.extend(written(step, width));
        }
        if same.is_none() {
            lines.extend(shared(step, &marked(which, step, row), width, look));
        }
        lines
    };
    if look.width < TWO_COLUMNS {
        for line in Which::BOTH.into_iter().flat_map(|which| side(which, look.width)) {
            out.push_str(&format!("{line}\n"));
        }
    } else {
        let bar = if look.unicode { " │ " } else { " | " };
        let width = (look.width - columns(bar)) / 2;
        let (left, right) = (side(Which::A, width), side(Which::B, width));
        for n in 0..left.len().max(right.len()) {
            let of = |lines: &[String]| lines.get(n).cloned().unwrap_or_default();
            let line = format!("{}{}{}", padded(&of(&left), width), bar.style(look.palette.dim), of(&right));
            out.push_str(&format!("{}\n", line.trim_end()));
        }
    }
    // What is the same on both sides is said once.
    if let Some((step, _)) = same {
        let mut lines = if same_writing { written(step, look.width) } else { Vec::new() };
        lines.extend(shared(step, &step.turns.to_string(), look.width, look));
        lines.iter().for_each(|line| out.push_str(&format!("{line}\n")));
    }
    out
}

/// What the step is and what it left.
fn figures(name: &str, step: &StepSide, row: &Row, width: usize, look: &Look) -> Vec<String> {
    let palette = &look.palette;
    let dot = look.dot();
    let mut parts = Vec::new();
    if row.name != step.name.to_string() {
        parts.push(step.name.to_string());
    }
    if !step.pairs.is_empty() {
        parts.push(words::joined(&step.pairs, " + ").style(palette.pair).to_string());
    }
    parts.extend(step.case.map(|case| case.to_string()));
    parts.push(words::turns(step.obtm));
    parts.extend(step.seconds.map(words::seconds));
    if let (Some(pause), Some(cause)) = (step.pause, step.cause) {
        let text = format!("{} stopped before it ({})", words::seconds(pause), cause);
        parts.push(text.style(palette.bad).to_string());
    }
    let first = wrap(&parts.join(dot), width, INDENT);
    let mut lines = vec![format!("{name:<INDENT$}{first}")];
    if let Some(next) = &step.next {
        let lead = match next.lead {
            Some(lead) => format!("lead {lead} of {}", step.obtm),
            None => "no lead".into(),
        };
        let left = format!(", {}", words::left(next.ready).style(palette.left(next.ready)));
        let verdict = step.verdict.map_or(String::new(), |verdict| format!("{dot}{verdict}"));
        let pair = next.pair.style(palette.pair);
        let text = format!("next {pair}: {}{dot}{lead}{left}{verdict}", next.tier);
        lines.push(indented(&text, width));
    }
    split(&lines)
}

/// The turns as written.
fn written(step: &StepSide, width: usize) -> Vec<String> {
    let written = if step.written.is_empty() { "(no turns)".into() } else { step.written.to_string() };
    split(&[indented(&written, width)])
}

/// The turns in the shared hold, if that is another writing.
fn shared(step: &StepSide, turns: &str, width: usize, look: &Look) -> Vec<String> {
    if turns == step.written.to_string() {
        return Vec::new();
    }
    let text = indented(&format!("= {turns}"), width);
    text.lines().map(|line| line.style(look.palette.dim).to_string()).collect()
}

fn split(lines: &[String]) -> Vec<String> {
    lines.iter().flat_map(|line| line.split('\n')).map(str::to_string).collect()
}

fn indented(text: &str, width: usize) -> String {
    format!("{:INDENT$}{}", "", wrap(text, width, INDENT))
}

/// The turns in the shared hold; those that only this side made in brackets, unless that would be nearly all.
fn marked(which: Which, step: &StepSide, row: &Row) -> String {
    let common: usize =
        row.turns.iter().filter(|stretch| stretch.only.is_none()).map(|stretch| stretch.turns.len()).sum();
    let both = row.a.is_some() && row.b.is_some();
    if row.same_turns || !both || common * 2 < step.turns.len() || step.kind == StepKind::Rest {
        return step.turns.to_string();
    }
    let parts: Vec<String> = row
        .turns
        .iter()
        .filter_map(|stretch| match stretch.only {
            None => Some(stretch.turns.to_string()),
            Some(only) if only == which => Some(format!("[{}]", stretch.turns)),
            Some(_) => None,
        })
        .collect();
    parts.join(" ")
}

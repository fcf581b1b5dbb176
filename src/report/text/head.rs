//! What stands above the steps (whose solve, how long, how it ended) and below them (the summary).

use owo_colors::OwoColorize;

use super::count;
use crate::annotation::{Annotation, SettingsUsed};
use crate::harmless::one_line;
use crate::report::look::{Look, columns, wrap};
use crate::report::positions;

pub(super) fn render(annotation: &Annotation, look: &Look) -> String {
    let dot = look.dot();
    let palette = &look.palette;
    let mut out = String::new();
    let title = positions::title(annotation);
    out.push_str(&wrap(&title, look.width, 0).style(palette.strong).to_string());
    let whose: Vec<String> =
        [&annotation.solver, &annotation.date].into_iter().flatten().map(|text| one_line(text)).collect();
    if !whose.is_empty() {
        out.push_str(&format!("{dot}{}", whose.join(dot)));
    }
    out.push('\n');
    let scramble = wrap(&format!("scramble  {}", one_line(&annotation.scramble)), look.width, 10);
    out.push_str(&format!("{}\n", scramble.style(palette.dim)));

    let mut facts = Vec::new();
    if let Some(cross) = &annotation.cross {
        facts.push(format!("{cross} cross"));
    }
    facts.push(match &annotation.end.missing {
        Some(turn) => format!("one turn short of solved ({turn}): +2 seconds"),
        None => annotation.end.judged.to_string(),
    });
    facts.push(format!("{} OBTM, {} ETM", count(annotation.obtm, "turn"), annotation.etm));
    if let Some(seconds) = annotation.seconds {
        facts.push(format!("{seconds:.2} s"));
    }
    if let Some(rate) = annotation.timing.turns_per_second {
        facts.push(format!("{rate:.1} turns a second"));
    }
    facts.push(format!("in sight: {}", annotation.sight));
    out.push_str(&wrap_parts(&facts, dot, look.width));
    out.push('\n');
    for untold in &annotation.untold {
        out.push_str(&wrap(&format!("not told: {untold}"), look.width, 10));
        out.push('\n');
    }
    out
}

/// Joins the parts with `dot`, breaking lines only between them.
fn wrap_parts(parts: &[String], dot: &str, width: usize) -> String {
    let mut lines: Vec<String> = Vec::new();
    for part in parts {
        match lines.last_mut() {
            Some(line) if columns(line) + columns(dot) + columns(part) <= width => {
                line.push_str(dot);
                line.push_str(part);
            }
            _ => lines.push(part.clone()),
        }
    }
    lines.join("\n")
}

pub(super) fn closing(annotation: &Annotation, look: &Look) -> String {
    let mut out = String::new();
    if !annotation.summary.is_empty() {
        out.push('\n');
        for sentence in &annotation.summary {
            out.push_str(&wrap(sentence, look.width, 0));
            out.push('\n');
        }
    }
    if annotation.steps.iter().any(|step| step.choice.is_some()) {
        out.push('\n');
        out.push_str(
            &wrap(&compared(&annotation.settings), look.width, 0).style(look.palette.dim).to_string(),
        );
        out.push('\n');
    }
    let (n_notes, n_faults) = (annotation.notes.len(), annotation.faults.len());
    if n_notes + n_faults > 0 {
        let mut parts = Vec::new();
        if n_faults > 0 {
            parts.push(count(n_faults, "fault").style(look.palette.bad).to_string());
        }
        if n_notes > 0 {
            parts.push(count(n_notes, "note"));
        }
        out.push_str(&format!("\n{} on the record\n", parts.join(" and ")));
    }
    out
}

/// What the verdicts depend on.
fn compared(settings: &SettingsUsed) -> String {
    let weights = &settings.weights;
    format!(
        "Compared with {} of at most {} turns, slack {}, lead {}. A turn unit is a quarter turn of R; here R U L are {}, \
         F D {}, B {}, a slice {}, a half turn {} more, a rotation {}.",
        if settings.every_line { "all lines" } else { "hand lines" },
        settings.within,
        settings.slack,
        settings.lead,
        weights.side,
        weights.front,
        weights.back,
        weights.slice,
        weights.half,
        weights.rotation,
    )
}

//! The table: a line a step, both sides' figures and what lies between them.

use owo_colors::OwoColorize;

use super::{padded, padded_left, signed_seconds, signed_turns};
use crate::annotation::Verdict;
use crate::diff::{Comparison, Row, StepSide, Which};
use crate::report::look::{Look, columns, wrap};

/// Which columns the table has: those with a figure somewhere.
struct Shown {
    /// Columns of the names of the rows.
    name: usize,
    seconds: bool,
    pause: bool,
    left: bool,
    verdict: bool,
}

pub(super) fn render(comparison: &Comparison, look: &Look) -> String {
    let sides = || comparison.rows.iter().flat_map(|row| [&row.a, &row.b]).flatten();
    let mut shown = Shown {
        name: comparison.rows.iter().map(|row| columns(&row.name)).max().unwrap_or(0).max(9),
        seconds: sides().any(|step| step.seconds.is_some()),
        pause: sides().any(|step| step.pause.is_some_and(|pause| pause >= 0.005)),
        left: sides().any(|step| step.next.is_some()),
        verdict: sides().any(|step| step.verdict.is_some()),
    };
    // Verdicts are told with each step as well, and pauses that matter too: here only if there is room.
    shown.verdict = shown.verdict && shown.width() <= look.width;
    shown.pause = shown.pause && shown.width() <= look.width;
    shown.left = shown.left && shown.width() <= look.width;
    shown.seconds = shown.seconds && shown.width() <= look.width;
    let mut out = format!("{}\n", shown.head(comparison).style(look.palette.dim));
    for row in &comparison.rows {
        out.push_str(&line(row, &shown, look));
    }
    out.push_str(&total(comparison, &shown, look));
    let mut legend = Vec::new();
    if shown.pause && sides().any(|step| step.cause.is_some()) {
        legend.push("! a long pause");
    }
    if shown.pause && sides().any(|step| step.pause_derived) {
        legend.push("~ a pause derived from the pace of the solve, not marked");
    }
    if !legend.is_empty() {
        let legend = wrap(&legend.join(look.dot()), look.width, 0);
        out.push_str(&format!("{}\n", legend.style(look.palette.dim)));
    }
    out
}

impl Shown {
    fn width(&self) -> usize {
        let side = 8
            + if self.seconds { 6 } else { 0 }
            + if self.pause { 7 } else { 0 }
            + if self.left { 7 } else { 0 }
            + if self.verdict { 11 } else { 0 };
        self.name + 2 * side + 4 + if self.seconds { 8 } else { 0 }
    }

    fn head(&self, comparison: &Comparison) -> String {
        let names = &comparison.names;
        let mut head = " ".repeat(self.name);
        for name in [&names.a, &names.b] {
            head.push_str(&format!("{:>8}", format!("{name} turns")));
            push(&mut head, self.seconds, &format!("{:>6}", "s"));
            push(&mut head, self.pause, &format!("{:>6} ", "pause"));
            push(&mut head, self.left, "  left ");
            push(&mut head, self.verdict, "  verdict  ");
        }
        head.push_str(&format!("  {} less {}", names.b, names.a));
        head
    }
}

fn push(out: &mut String, wanted: bool, text: &str) {
    if wanted {
        out.push_str(text);
    }
}

fn line(row: &Row, shown: &Shown, look: &Look) -> String {
    let mut out = padded(&row.name.style(look.palette.strong).to_string(), shown.name);
    for which in Which::BOTH {
        out.push_str(&figures(row.of(which), shown, look));
    }
    if let Some(gap) = row.difference {
        out.push_str(&difference(gap.obtm, gap.seconds, shown));
    }
    format!("{}\n", out.trim_end())
}

fn difference(obtm: i64, seconds: Option<f64>, shown: &Shown) -> String {
    let time = seconds.map_or(String::new(), signed_seconds);
    let time = if shown.seconds { format!("{time:>8}") } else { String::new() };
    format!("{:>4}{time}", signed_turns(obtm))
}

fn figures(step: Option<&StepSide>, shown: &Shown, look: &Look) -> String {
    let palette = &look.palette;
    let figure = |wanted: bool, text: Option<String>, width: usize| match (wanted, text) {
        (false, _) => String::new(),
        (true, Some(text)) => padded_left(&text, width),
        (true, None) => padded_left(if step.is_some() { "-" } else { "" }, width),
    };
    let mut out = figure(true, step.map(|step| step.obtm.to_string()), 8);
    let time = step.and_then(|step| step.seconds).map(|seconds| format!("{seconds:.2}"));
    out.push_str(&figure(shown.seconds, time, 6));
    let pause = step.and_then(|step| {
        let pause = step.pause?;
        let text = format!("{}{pause:.2}", if step.pause_derived { "~" } else { "" });
        // A long pause has a cause; the sign says so where there is no colour.
        let long = step.cause.is_some();
        Some(if long { format!("{}!", text.style(palette.bad)) } else { format!("{text} ") })
    });
    let pause = pause.or_else(|| step.map(|_| "- ".into()));
    out.push_str(&figure(shown.pause, pause, 7));
    let left = step.and_then(|step| step.next.as_ref()).map(|next| next.ready);
    let left = left.map_or(String::new(), |ready| {
        super::super::words::left(ready).style(palette.left(ready)).to_string()
    });
    push(&mut out, shown.left, &format!("  {}", padded(&left, 5)));
    let verdict = step.and_then(|step| step.verdict).map_or(String::new(), |verdict| {
        let style = match verdict {
            Verdict::Kept => palette.good,
            Verdict::Avoidable => palette.bad,
            Verdict::Forced => palette.strong,
        };
        verdict.style(style).to_string()
    });
    push(&mut out, shown.verdict, &format!("  {}", padded(&verdict, 9)));
    out
}

fn total(comparison: &Comparison, shown: &Shown, look: &Look) -> String {
    let compared = &comparison.compared;
    let label = if compared.until.is_some() { "in common" } else { "total" };
    let mut out = padded(&label.style(look.palette.strong).to_string(), shown.name);
    for which in Which::BOTH {
        out.push_str(&format!("{:>8}", compared.obtm.of(which)));
        let time = compared.seconds.of(which).map_or("-".into(), |seconds| format!("{seconds:.2}"));
        push(&mut out, shown.seconds, &format!("{time:>6}"));
        push(&mut out, shown.pause, &" ".repeat(7));
        push(&mut out, shown.left, &" ".repeat(7));
        push(&mut out, shown.verdict, &" ".repeat(11));
    }
    out.push_str(&difference(comparison.difference.obtm, comparison.difference.seconds, shown));
    format!("{}\n", out.trim_end())
}

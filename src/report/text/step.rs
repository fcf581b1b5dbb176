//! One step: a heading, the turns, then for each next pair where it was and what the scan offered.

use owo_colors::OwoColorize;

use super::{choice, count};
use crate::harmless::one_line;
use crate::annotation::{Next, Scan, Step, Watch};
use crate::cube::Face;
use crate::report::look::{Look, columns, wrap};
use crate::report::words;
use crate::scan::Tier;

/// Where the labelled lines of a step begin, and where their text does.
const INDENT: usize = 2;
const TEXT: usize = 10;
/// Columns for the name of a step where it has one line.
const BRIEF: usize = 22;

/// A line of a step: a label, then text that is wrapped beside it.
pub(super) fn labelled(label: &str, text: &str, look: &Look) -> String {
    let label = format!("{:INDENT$}{label:<width$}", "", width = TEXT - INDENT);
    format!("{}{}\n", label.style(look.palette.dim), wrap(text, look.width, TEXT))
}

/// The heading over the lines of [`brief`].
pub(super) fn brief_heading(look: &Look) -> String {
    let line = format!(
        "{:<BRIEF$}{:>5} {:>7}  {:<15}{:<13} {:<7}",
        "step", "turns", "seconds", "pause", "next", "tier"
    );
    format!("\n{}\n", format!("{line} left").style(look.palette.dim))
}

/// A step in a line: how long, what pause came before it, the next pair, its tier, what was left of it.
pub(super) fn brief(step: &Step, look: &Look) -> String {
    let turns = if step.obtm == 0 { String::new() } else { step.obtm.to_string() };
    let seconds = step.seconds.total.map_or(String::new(), |total| format!("{total:.2}"));
    let pause =
        step.pause.as_ref().map_or(String::new(), |pause| format!("{:.2} {}", pause.seconds, pause.cause));
    let (mut name, mut wide) = name_and_detail(step, look);
    if wide > BRIEF {
        (name, wide) = (step.name.style(look.palette.strong).to_string(), columns(&step.name.to_string()));
    }
    let pad = " ".repeat(BRIEF.saturating_sub(wide));
    let pause = format!("{pause:<15}").style(look.palette.bad).to_string();
    let mut line = format!("{name}{pad}{turns:>5} {seconds:>7}  {pause}");
    if let Some(next) = step.next.first() {
        let outcome = next
            .outcome
            .map_or(String::new(), |outcome| outcome.style(look.palette.outcome(outcome)).to_string());
        line.push_str(&format!(
            "{} {:<7} {outcome}",
            format_args!("{:<13}", next.pair).style(look.palette.pair),
            next.tier
        ));
    }
    format!("{}\n", line.trim_end())
}

pub(super) fn render(step: &Step, look: &Look) -> String {
    let mut out = String::from("\n");
    let heading = title(step, look);
    out.push_str(&format!("{heading}{}\n", figures(step, look)));
    out.push_str(&turns(step, look));
    for skip in &step.skips {
        out.push_str(&labelled("skip", &format!("the {skip} was done without a turn of its own"), look));
    }
    if let Some(pause) = &step.pause {
        let derived = if pause.derived { " (derived from the pace)" } else { "" };
        let text = format!(
            "{}{derived}, {}: {}. {}.",
            format_args!("{:.2} s before it", pause.seconds).style(look.palette.bad),
            pause.cause,
            pause.cause.meaning(),
            pause.evidence,
        );
        out.push_str(&labelled("pause", &text, look));
        out.push_str(&labelled("", &format!("Practise: {}.", pause.advice), look));
    }
    for next in &step.next {
        out.push_str(&next_pair(step, next, look));
    }
    if let Some(scan) = &step.scan {
        out.push_str(&labelled("scan", &offered(scan, look), look));
        if scan.passed_over
            && let Some(best) = scan.best
        {
            let better = scan.tier(best);
            let were = if better.len() == 1 { "was" } else { "were" };
            let text =
                format!("a better tier was passed over: {} {were} {}", words::joined(better, " and "), best);
            out.push_str(&labelled("", &text, look));
        }
    }
    if let Some(other) = step.others.first() {
        out.push_str(&labelled("others", &words::other_pair(other), look));
    }
    if let Some(choice) = &step.choice {
        out.push_str(&choice::render(choice, look));
    }
    out
}

/// The tokens, and the writer's comments beside them or below.
fn turns(step: &Step, look: &Look) -> String {
    let mut out = String::new();
    let text = wrap(&step.text.to_string(), look.width.saturating_sub(INDENT), 0);
    let comments: Vec<String> =
        step.comments.iter().map(|comment| format!("// {}", one_line(comment))).collect();
    let beside = match comments.as_slice() {
        [one] if !text.contains('\n') && INDENT + columns(&text) + 3 + columns(one) <= look.width => {
            Some(one)
        }
        _ => None,
    };
    for line in text.lines() {
        out.push_str(&format!("{:INDENT$}{line}", ""));
        if let Some(comment) = beside {
            out.push_str(&format!("   {}", comment.style(look.palette.dim)));
        }
        out.push('\n');
    }
    if beside.is_none() {
        for comment in &comments {
            let comment = wrap(comment, look.width, INDENT + 3);
            out.push_str(&format!("{:INDENT$}{}\n", "", comment.style(look.palette.dim)));
        }
    }
    out
}

/// The step's name and its pairs, padded so that the figures of all steps stand below each other.
fn title(step: &Step, look: &Look) -> String {
    let (title, wide) = name_and_detail(step, look);
    format!("{title}{}", " ".repeat(34usize.saturating_sub(wide).max(2)))
}

/// The step's name with its pairs or case, and how many columns that takes.
fn name_and_detail(step: &Step, look: &Look) -> (String, usize) {
    let name = columns(&step.name.to_string());
    let detail = match (&step.case, step.pairs.is_empty()) {
        (Some(case), _) => case.which(),
        (None, false) => words::joined(&step.pairs, " + "),
        (None, true) => return (step.name.style(look.palette.strong).to_string(), name),
    };
    let wide = name + 2 + columns(&detail);
    (format!("{}  {}", step.name.style(look.palette.strong), detail.style(look.palette.pair)), wide)
}

/// Length, time and pace; the pace only where there is room for it.
fn figures(step: &Step, look: &Look) -> String {
    let mut out = if step.obtm == 0 {
        format!("{:>8}", "no turns")
    } else {
        format!("{:>8}", count(step.obtm, "turn"))
    };
    if let Some(total) = step.seconds.total {
        out.push_str(&format!("  {total:>5.2} s"));
    }
    if let Some(rate) = step.seconds.turns_per_second
        && look.width >= 66
    {
        out.push_str(&format!("  {rate:>4.1} a second"));
    }
    out
}

fn next_pair(step: &Step, next: &Next, look: &Look) -> String {
    let palette = &look.palette;
    let outcome = match next.outcome {
        Some(outcome) => format!(", left {}", outcome.style(palette.outcome(outcome))),
        None => String::new(),
    };
    let buried = if next.buried { ", buried on the way" } else { "" };
    let headline = format!("{}: {} corner{buried}{outcome}", next.pair.style(palette.pair), next.tier);
    let mut out = labelled("next", &headline, look);
    for (name, watch) in [("corner", &next.corner), ("edge", &next.edge)] {
        let text = format!("{name:<7}{}", watched(step, watch, look));
        out.push_str(&labelled("", &text, look));
    }
    let mut lead = match next.lead {
        Some(lead) => format!("lead {} of {}", lead, count(step.obtm, "turn")),
        None => "no lead: not both seen".into(),
    };
    if let Some(seconds) = next.lead_seconds {
        lead.push_str(&format!(" ({seconds:.2} s)"));
    }
    if let Some(more) = &next.more {
        let faces: Vec<Face> = more.faces.iter().collect();
        lead.push_str(&format!(
            "; with {} in sight too, both {}",
            words::joined(&faces, " and "),
            seen_at(step, more.from)
        ));
    }
    out.push_str(&labelled("", &lead, look));
    out
}

/// `UBL → UFR  up   seen at once`.
fn watched(step: &Step, watch: &Watch, look: &Look) -> String {
    let way = if watch.from == watch.to && watch.way.is_empty() {
        format!("{} stays", watch.from)
    } else {
        format!("{} {} {}", watch.from, look.arrow(), watch.to)
    };
    let layer = if watch.up { "up" } else { "down" };
    let found = match (watch.seen, watch.known) {
        (Some(seen), Some(known)) if known < seen => {
            format!("known {}, {}", moment(step, known), seen_at(step, seen))
        }
        (Some(seen), _) => seen_at(step, seen),
        (None, Some(known)) => format!("known {}, never seen", moment(step, known)),
        (None, None) => "never seen, never known".into(),
    };
    format!("{way:<10} {layer:<5}{found}")
}

fn seen_at(step: &Step, at: usize) -> String {
    format!("seen {}", moment(step, at))
}

/// A moment of the step as a person counts it: `after 3 (U')` is after its third token.
fn moment(step: &Step, moment: usize) -> String {
    match moment.checked_sub(step.from) {
        None | Some(0) => "at once".into(),
        Some(n) => {
            let token = step.text.get(n - 1).map_or_else(String::new, ToString::to_string);
            let end = if moment == step.to { ", the last" } else { "" };
            format!("after {n} ({token}{end})")
        }
    }
}

fn offered(scan: &Scan, look: &Look) -> String {
    let parts: Vec<String> = Tier::ALL
        .into_iter()
        .filter(|&tier| !scan.tier(tier).is_empty())
        .map(|tier| format!("{tier}: {}", words::joined(scan.tier(tier), ", ")))
        .collect();
    parts.join(look.dot())
}

//! The positions of a solve as nets: after each step, after each token, at one moment, and in time.

use owo_colors::OwoColorize;

use super::look::{Look, columns, wrap};
use super::{net, words};
use crate::annotation::Annotation;
use crate::harmless::one_line;

/// Which positions to print.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Each {
    /// The scrambled cube, then after each step.
    Step,
    /// The scrambled cube, then after each token.
    Turn,
}

/// The record's title, or where it was read from.
#[must_use]
pub fn title(facts: &Annotation) -> String {
    match facts.title.as_deref() {
        Some(title) => one_line(title),
        None if facts.file == "-" => "standard input".into(),
        None => one_line(&facts.file),
    }
}

/// The title as a line of its own.
#[must_use]
pub fn heading(facts: &Annotation, look: &Look) -> String {
    let title = title(facts);
    format!("{}\n", title.style(look.palette.strong))
}

/// Every position asked for, one below the other.
#[must_use]
pub fn render(facts: &Annotation, each: Each, look: &Look, coloured: bool) -> String {
    let mut out = heading(facts, look);
    for untold in &facts.untold {
        out.push_str(&format!("{}\n", wrap(&format!("not told: {untold}"), look.width, 10)));
    }
    let moments: Vec<usize> = match each {
        Each::Turn => (0..facts.moments.len()).collect(),
        Each::Step => std::iter::once(0).chain(facts.steps.iter().map(|step| step.to)).collect(),
    };
    for moment in moments {
        out.push('\n');
        out.push_str(&at(facts, moment, look, coloured).unwrap_or_default());
    }
    out
}

/// The whole solve in one line: whose, how long, the scramble, then the steps as written, parted by `/`.
#[must_use]
pub fn line(facts: &Annotation) -> String {
    let mut who: Vec<String> = vec![title(facts)];
    who.extend(facts.solver.iter().map(|solver| one_line(solver)));
    who.extend(facts.seconds.map(words::measured));
    who.push(words::turns(facts.obtm));
    let steps: Vec<&str> =
        facts.steps.iter().map(|step| step.spelled.as_str()).filter(|tokens| !tokens.is_empty()).collect();
    format!("{}: {} | {}\n", who.join(", "), one_line(&facts.scramble), steps.join(" / "))
}

/// The position at a moment under a line that says what led to it; `None` if there is no such moment. Always
/// the same number of lines.
#[must_use]
pub fn at(facts: &Annotation, moment: usize, look: &Look, coloured: bool) -> Option<String> {
    let here = facts.moments.get(moment)?;
    let dot = look.dot();
    let step = facts.steps.iter().find(|step| step.from < moment && moment <= step.to);
    let what = match (&here.token, step) {
        (None, _) => "the scrambled cube".to_string(),
        (Some(token), None) => format!("after {token}"),
        (Some(_), Some(step)) if moment == step.to => {
            let pairs = if step.pairs.is_empty() {
                String::new()
            } else {
                format!(" ({})", words::joined(&step.pairs, " + "))
            };
            format!("{}{pairs} done", step.name)
        }
        (Some(token), Some(step)) => format!("{}, after {token}", step.name),
    };
    // A step is done when its last turn is, not when the next one begins.
    let done = step.filter(|step| step.to == moment).and_then(|step| step.seconds.end);
    let time = done.or(here.seconds).map_or(String::new(), |seconds| format!("{dot}{seconds:.2} s"));
    let mut heading = format!("moment {moment}{dot}{what}{time}");
    let hold = format!("{dot}{} up, {} in front", here.hold.up, here.hold.front);
    // One line always, so that frames stand in one place: the net shows the hold too.
    if columns(&heading) + columns(&hold) <= look.width {
        heading.push_str(&hold);
    }
    Some(format!("{}\n{}", heading.style(look.palette.dim), net::draw(&here.stickers, coloured)))
}

/// How long to wait before each moment is shown.
#[derive(Debug, Clone, PartialEq)]
pub struct Schedule {
    /// Seconds before each moment, the first 0.
    pub waits: Vec<f64>,
    /// How many of the moments have a mark of their own.
    pub marked: usize,
}

/// Seconds a token takes in a record without marks.
const UNMARKED: f64 = 0.25;

impl Schedule {
    /// What a person should know of how true the timing is.
    #[must_use]
    pub fn remarks(&self) -> Vec<String> {
        if self.marked < 2 {
            vec![format!("no two timing marks: played at {UNMARKED} s a token, not as it was solved")]
        } else if self.marked < self.waits.len() {
            vec!["between timing marks the tokens are spread evenly".into()]
        } else {
            Vec::new()
        }
    }
}

/// When to show each moment: at its mark; between marks spread evenly; beyond the marks, or without two of
/// them, at a pace that is only made up for showing.
#[must_use]
pub fn schedule(facts: &Annotation) -> Schedule {
    let marks: Vec<(usize, f64)> = facts
        .moments
        .iter()
        .enumerate()
        .filter_map(|(moment, here)| here.seconds.map(|seconds| (moment, seconds)))
        .collect();
    let mut waits = vec![UNMARKED; facts.moments.len()];
    waits[0] = 0.0;
    for pair in marks.windows(2) {
        let ((from, start), (to, end)) = (pair[0], pair[1]);
        for wait in &mut waits[from + 1..=to] {
            *wait = (end - start) / (to - from) as f64;
        }
    }
    Schedule { waits, marked: marks.len() }
}

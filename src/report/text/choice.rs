//! What else could have been done, in a paragraph a student understands.

use owo_colors::OwoColorize;

use super::count;
use super::step::{labelled, word};
use crate::annotation::{Alternative, Choice, Verdict};
use crate::report::look::Look;

pub(super) fn render(choice: &Choice, look: &Look) -> String {
    let kind = if choice.every_line { "line" } else { "hand line" };
    let bound = count(choice.within, "turn");
    let all = match choice.lines {
        0 => format!("there is no {kind} up to {bound}"),
        1 => format!("there is one {kind} up to {bound}"),
        n => format!("all {n} {kind}s up to {bound} searched"),
    };
    let good = match choice.good_pairs {
        0 => String::new(),
        n => format!(", for {n} of {}", count(choice.open_pairs, "open pair")),
    };
    let mut text = match choice.verdict {
        Verdict::Kept => format!(
            "{}: the flow went on; {} of {} had a line that leaves a pair ready",
            "kept".style(look.palette.good),
            choice.good_pairs,
            count(choice.open_pairs, "open pair"),
        ),
        Verdict::Avoidable => format!(
            "{}: these turns left the next pair {}; something better was there{good}",
            "avoidable".style(look.palette.bad),
            word(choice.played),
        ),
        Verdict::Forced => format!(
            "{}: no {kind} up to {bound} does better within {} of the played step's cost",
            "forced".style(look.palette.strong),
            units(choice.slack),
        ),
    };
    text.push_str(&format!(" ({all})"));
    if !choice.played_is_hand_line {
        text.push_str("; the step as played is not a hand line");
    }
    if choice.bound_below_played {
        text.push_str("; the step as played is longer than the bound");
    }
    let mut out = labelled("choice", &text, look);
    for alternative in &choice.alternatives {
        out.push_str(&labelled("", &line(alternative, look), look));
    }
    out
}

fn line(alternative: &Alternative, look: &Look) -> String {
    let cost = if alternative.difference.abs() < 0.05 {
        "costs the same".into()
    } else if alternative.difference < 0.0 {
        format!("saves {}", units(-alternative.difference))
    } else {
        format!("costs {} more", units(alternative.difference))
    };
    let next = &alternative.next;
    let what = if alternative.same_turns {
        "the same turns, then".to_string()
    } else {
        format!("{} for {}, then", alternative.text, alternative.pairs.join(" + "))
    };
    format!(
        "{what} {} {} (corner at {}, edge at {}): {cost}",
        next.pair,
        word(alternative.outcome).style(look.palette.outcome(alternative.outcome)),
        next.corner,
        next.edge
    )
}

/// `1 turn unit`, `2.3 turn units`.
fn units(cost: f64) -> String {
    let number = format!("{cost:.1}");
    let number = number.strip_suffix(".0").unwrap_or(&number);
    if number == "1" { "1 turn unit".into() } else { format!("{number} turn units") }
}

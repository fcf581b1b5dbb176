//! What else could have been done, in a paragraph a student understands.

use owo_colors::OwoColorize;

use super::count;
use super::step::labelled;
use crate::annotation::{Alternative, Choice, Verdict};
use crate::naming;
use crate::report::look::Look;

pub(super) fn render(choice: &Choice, look: &Look) -> String {
    let open = count(choice.open_pairs, "open pair");
    let offered = match choice.good_pairs {
        0 => "no line that leaves a pair ready".into(),
        n if n == choice.open_pairs => format!("a line that leaves a pair ready for each of the {open}"),
        n => format!("a line that leaves a pair ready for {n} of the {open}"),
    };
    let left = naming::outcome(choice.played);
    let kind = if choice.every_line { "line" } else { "hand line" };
    let bound = count(choice.within, "turn");
    let compared = match choice.lines {
        0 => format!("There is no {kind} up to {bound} at all."),
        1 => format!("There is only one {kind} up to {bound}."),
        n => format!("All {n} {kind}s up to {bound} were compared."),
    };
    let mut text = match choice.verdict {
        Verdict::Kept => {
            let verdict = "kept".style(look.palette.good);
            format!("{verdict}: the position offered {offered}, and one was taken. {compared}")
        }
        Verdict::Avoidable => {
            let verdict = "avoidable".style(look.palette.bad);
            let but = if choice.good_pairs == 0 { ", but one that leaves a corner up" } else { "" };
            format!(
                "{verdict}: the position offered {offered}{but}; the turns played left the next pair {left}. \
                 {compared}"
            )
        }
        Verdict::Forced => {
            let verdict = "forced".style(look.palette.strong);
            let better = match choice.lines {
                0 => String::new(),
                _ => format!(" None leaves more than {left} {}.", within_slack(choice.slack)),
            };
            format!("{verdict}: the position offered nothing better than {left}. {compared}{better}")
        }
    };
    if choice.bound_below_played {
        text.push_str(" The turns played are longer than that.");
    }
    if !choice.played_is_hand_line {
        text.push_str(" The turns played are not a hand line.");
    }
    let mut out = labelled("choice", &text, look);
    for (i, alternative) in choice.alternatives.iter().enumerate() {
        out.push_str(&labelled(if i == 0 { "better" } else { "or" }, &line(alternative, look), look));
    }
    out
}

/// What a line may cost to count, in words.
fn within_slack(slack: f64) -> String {
    if slack == 0.0 {
        "at the cost of the turns played".into()
    } else {
        format!("and costs at most {} more than the turns played", units(slack))
    }
}

/// `R U R' for blue-red leaves green-red ready (corner UFR, edge UB), then U' R U R': together 0.3 turn units cheaper`.
fn line(alternative: &Alternative, look: &Look) -> String {
    let cost = if alternative.difference.abs() < 0.05 {
        "at the same cost".into()
    } else if alternative.difference < 0.0 {
        format!("together {} cheaper", units(-alternative.difference))
    } else {
        format!("together {} dearer", units(alternative.difference))
    };
    let next = &alternative.next;
    let what = if alternative.same_turns {
        "the same turns".to_string()
    } else {
        format!("{} for {}", alternative.text, alternative.pairs.join(" + "))
    };
    let leave = if alternative.same_turns { "leave" } else { "leaves" };
    format!(
        "{what} {leave} {} {} (corner {}, edge {}), then {}: {cost}",
        next.pair,
        naming::outcome(alternative.outcome).style(look.palette.outcome(alternative.outcome)),
        next.corner,
        next.edge,
        alternative.then,
    )
}

/// `1 turn unit`, `2.3 turn units`.
fn units(cost: f64) -> String {
    let number = format!("{cost:.1}");
    let number = number.strip_suffix(".0").unwrap_or(&number);
    if number == "1" { "1 turn unit".into() } else { format!("{number} turn units") }
}

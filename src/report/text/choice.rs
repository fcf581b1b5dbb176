//! What else could have been done, in a paragraph a student understands.

use owo_colors::OwoColorize;

use super::step::labelled;
use crate::annotation::{Alternative, Choice, Verdict};
use crate::report::look::Look;
use crate::report::words;

pub(super) fn render(choice: &Choice, look: &Look) -> String {
    let style = match choice.verdict {
        Verdict::Kept => look.palette.good,
        Verdict::Avoidable => look.palette.bad,
        Verdict::Forced => look.palette.strong,
    };
    let text = format!("{}: {}", choice.verdict.style(style), words::judgement(choice));
    let mut out = labelled("choice", &text, look);
    for (i, alternative) in choice.alternatives.iter().enumerate() {
        out.push_str(&labelled(if i == 0 { "better" } else { "or" }, &line(alternative, look), look));
    }
    out
}

/// `R U R' for blue-red leaves green-red ready (corner UFR, edge UB), then U' R U R': together 0.3 turn units cheaper`.
fn line(alternative: &Alternative, look: &Look) -> String {
    let cost = if alternative.difference.abs() < 0.05 {
        "at the same cost".into()
    } else if alternative.difference < 0.0 {
        format!("together {} cheaper", words::units(-alternative.difference))
    } else {
        format!("together {} dearer", words::units(alternative.difference))
    };
    let next = &alternative.next;
    let what = if alternative.same_turns {
        "the same turns".to_string()
    } else {
        format!("{} for {}", alternative.text, words::joined(&alternative.pairs, " + "))
    };
    let leave = if alternative.same_turns { "leave" } else { "leaves" };
    format!(
        "{what} {leave} {} {} (corner {}, edge {}), then {}: {cost}",
        next.pair,
        alternative.outcome.style(look.palette.outcome(alternative.outcome)),
        next.corner,
        next.edge,
        alternative.then,
    )
}

//! One step on a page: what there was to see, when, and what else could have been played.

use crate::annotation::{Annotation, Choice, Next, Scan, Step, StepKind};
use crate::report::markup::Markup;
use crate::report::{figures, picture, words};

use super::{chips, heading};

/// Where on the page a step stands.
pub(super) struct Frame<'a> {
    /// What ids begin with.
    pub(super) key: &'a str,
    /// The level of the step's heading.
    pub(super) level: usize,
}

/// A word of ours with its colour and a sign, so that colour is not alone.
pub(super) fn word(out: &mut Markup, text: &str) {
    let (class, sign) = match text {
        "ready" => ("word ready", "● "),
        "up" => ("word up", "◐ "),
        "down" => ("word down", "○ "),
        "kept" => ("word kept", "✓ "),
        "avoidable" => ("word avoidable", "△ "),
        _ => ("word", "▪ "),
    };
    out.open("span").attr("class", class).open("span").attr("aria-hidden", "true").text(sign).close();
    out.text(text).close();
}

pub(super) fn write(out: &mut Markup, annotation: &Annotation, n: usize, step: &Step, frame: &Frame) {
    let id = format!("{}step{n}", frame.key);
    out.open("section").attr("class", "card").attr("id", &id).attr("aria-labelledby", format_args!("{id}-h"));
    out.open(heading(frame.level)).attr("id", format_args!("{id}-h")).text(words::heading(step)).close();
    if let Some(pause) = &step.pause {
        out.open("p").attr("class", "pause").open("strong");
        out.text(words::seconds(pause.seconds)).text(" stopped before it: ").text(pause.cause).close();
        let derived = if pause.derived { " (derived from the pace)" } else { "" };
        out.text(format_args!("{derived}. {}. ", words::capital(pause.evidence.trim_end_matches('.'))));
        out.text(format_args!("Practise: {}.", pause.advice.trim_end_matches('.'))).close();
    }
    // Where there is nothing to find, a small picture will do.
    out.open("div").attr("class", if step.next.is_empty() { "look plain" } else { "look" });
    let drawn = !matches!(step.kind, StepKind::Inspection);
    if drawn {
        out.open("figure").put(&picture::svg(&figures::step(annotation, step, false)));
        out.open("figcaption")
            .text(format_args!("Before it, held {} up, {} in front. ", step.hold.up, step.hold.front));
        out.open("button").attr("type", "button").attr("hidden", "");
        out.attr("data-stage", format_args!("{}stage", frame.key)).attr("data-moment", step.from);
        out.text("Step through it").close().close().close();
    }
    out.open("div");
    out.open("p").open("span").attr("class", "turns").text(&step.text).close().close();
    out.open("p").attr("class", "soft").text(words::figures(step).join(" · ")).close();
    for comment in &step.comments {
        out.open("blockquote").open("bdi").text(comment).close().close();
    }
    for skip in &step.skips {
        out.leaf("p", format_args!("The {skip} was done without a turn of its own."));
    }
    for next in &step.next {
        next_pair(out, annotation, step, next);
    }
    if let Some(scan) = &step.scan {
        offered(out, scan, frame.level + 1);
    }
    if let Some(other) = step.others.first() {
        out.leaf("p", format_args!("{}.", words::capital(&words::other_pair(other))));
    }
    out.close().close();
    if let Some(choice) = &step.choice {
        chosen(out, annotation, step, choice, frame.level + 1);
    }
    out.close().line();
}

fn next_pair(out: &mut Markup, annotation: &Annotation, step: &Step, next: &Next) {
    out.open("p").attr("class", "best").text("Next: ");
    chips(out, next.pair);
    out.leaf("strong", next.pair);
    out.text(format_args!(", its corner {} ({})", words::tier_meaning(next.tier), next.tier));
    if next.buried {
        out.text(", and buried by this step");
    }
    if let Some(outcome) = next.outcome {
        out.text(". This step left it ");
        word(out, words::outcome(Some(outcome)));
        out.text(format_args!(": {}", words::outcome_meaning(outcome)));
    }
    out.text(".").close();
    out.open("div").attr("class", "scroll").attr("tabindex", 0).attr("role", "region");
    out.attr("aria-label", format_args!("where {} was", next.pair)).open("table").open("thead").open("tr");
    for name in ["piece", "from", "to", "known", "seen"] {
        out.open("th").attr("scope", "col").text(name).close();
    }
    out.close().close().open("tbody");
    for (name, watch) in [("● corner", &next.corner), ("■ edge", &next.edge)] {
        out.open("tr").open("th").attr("scope", "row").text(name).close();
        out.leaf("td", watch.from);
        let layer = if watch.up { "up" } else { "down" };
        out.leaf("td", format_args!("{} ({layer})", watch.to));
        out.leaf("td", words::when(annotation, step, watch.known));
        out.leaf("td", words::when(annotation, step, watch.seen)).close();
    }
    out.close().close().close();
    out.leaf("p", format_args!("{}.", words::capital(&words::lead(annotation, step, next))));
}

fn offered(out: &mut Markup, scan: &Scan, level: usize) {
    out.leaf(heading(level), "What the scan offered");
    if let Some(passed) = words::passed_over(scan) {
        out.leaf("p", passed);
    }
    out.open("div").attr("class", "scroll").attr("tabindex", 0).attr("role", "region");
    out.attr("aria-label", "what the scan offered").open("table").open("thead").open("tr");
    for name in ["pair", "tier", "corner", "edge", "left"] {
        out.open("th").attr("scope", "col").text(name).close();
    }
    out.close().close().open("tbody");
    for offer in &scan.offers {
        out.open("tr").open("th").attr("scope", "row");
        chips(out, offer.pair);
        out.text(offer.pair).close();
        out.leaf("td", offer.tier).leaf("td", offer.corner).leaf("td", offer.edge);
        out.open("td");
        if let Some(outcome) = offer.outcome {
            word(out, words::outcome(Some(outcome)));
        }
        out.close().close();
    }
    out.close().close().close();
}

fn chosen(out: &mut Markup, annotation: &Annotation, step: &Step, choice: &Choice, level: usize) {
    out.leaf(heading(level), "Was there something better?");
    out.open("p");
    word(out, choice.verdict.word());
    out.text(format_args!(": {}", words::judgement(choice))).close();
    if choice.alternatives.is_empty() {
        return;
    }
    out.open("ul").attr("class", "others");
    as_played(out, annotation, step);
    for alternative in &choice.alternatives {
        out.open("li").open("p");
        if alternative.same_turns {
            out.text("The same turns, with another pair next");
        } else {
            out.open("span").attr("class", "turns").text(&alternative.text).close();
            out.text(format_args!(" for {}", words::list(&alternative.pairs)));
        }
        out.close();
        out.open("figure").put(&picture::svg(&figures::alternative(annotation, alternative, false)));
        out.open("figcaption");
        out.text(format_args!("Leaves {} ", alternative.next.pair));
        word(out, words::outcome(Some(alternative.outcome)));
        out.text(format_args!(
            ": corner at {}, edge at {}; {}.",
            alternative.next.corner,
            alternative.next.edge,
            words::cost(alternative.difference)
        ));
        out.close().close().close();
    }
    out.close();
}

/// What there is to compare the alternatives with.
fn as_played(out: &mut Markup, annotation: &Annotation, step: &Step) {
    out.open("li").open("p").open("span").attr("class", "turns").text(&step.text).close();
    out.text(" as played").close();
    out.open("figure").put(&picture::svg(&figures::left(annotation, step, false)));
    out.open("figcaption");
    for next in &step.next {
        out.text(format_args!("Left {} ", next.pair));
        word(out, words::outcome(next.outcome));
        out.text(format_args!(": corner at {}, edge at {}. ", next.corner.to, next.edge.to));
    }
    out.close().close().close();
}

//! One step on a page: its picture, what there was to find, and what else could have been played.

use crate::annotation::Annotation;
use crate::report::markup::Markup;
use crate::report::picture::{self, Style};
use crate::report::{figures, markdown, words};
use crate::story::blocks::StepBlock;

use super::{blocks, heading};

/// Where on the page a step stands.
pub(super) struct Frame<'a> {
    /// What ids begin with.
    pub(super) key: &'a str,
    /// The level of the step's heading.
    pub(super) level: usize,
    /// How pictures are wanted.
    pub(super) style: Style,
}

/// A word of ours with its colour and a sign, so that colour is not alone.
pub(super) fn word(out: &mut Markup, text: &str) {
    let (class, sign) = match text {
        "ready" => ("word ready", "● "),
        "late" => ("word late", "○ "),
        "kept" => ("word kept", "✓ "),
        "avoidable" => ("word avoidable", "△ "),
        _ => ("word", "▪ "),
    };
    out.open("span").attr("class", class).open("span").attr("aria-hidden", "true").text(sign).close();
    out.text(text).close();
}

pub(super) fn write(out: &mut Markup, annotation: &Annotation, block: &StepBlock, frame: &Frame) {
    let found = annotation.steps.iter().enumerate();
    let mut found = found.filter(|(_, step)| (step.from, step.to) == (block.from, block.to));
    let Some((n, step)) = found.next() else { return };
    let id = format!("{}step{n}", frame.key);
    out.open("section").attr("class", "blk").attr("id", &id).attr("data-step", n);
    out.attr("aria-labelledby", format_args!("{id}-h"));
    out.open("figure").attr("class", "still").put(&picture::still(&figures::step(
        annotation,
        step,
        frame.style,
    )));
    out.close();
    out.open(heading(frame.level)).attr("id", format_args!("{id}-h")).text(words::heading(step)).close();
    out.open("p").attr("class", "fig").open("span").attr("class", "turns stoks").text(&block.tokens).close();
    out.text(" ").text(markdown::figures_of(block).join(" · ")).close();
    blocks::lines(out, block);
    other(out, annotation, n, frame.style);
    out.close().line();
}

/// The other line beside the turns played: the positions they leave.
pub(super) fn other(out: &mut Markup, annotation: &Annotation, n: usize, style: Style) {
    let Some(line) = markdown::better(annotation, n) else { return };
    let step = &annotation.steps[n];
    out.open("p").attr("class", "both").open("button").attr("type", "button").attr("data-do", "other");
    out.attr("hidden", "").text("Both lines side by side").close().close();
    out.open("ul").attr("class", "others");
    out.open("li").open("p").open("span").attr("class", "turns").text(&step.spelled).close();
    out.text(" as played").close();
    out.open("figure").put(&picture::still(&figures::left(annotation, step, style)));
    out.open("figcaption");
    for next in step.next() {
        out.text(format_args!("Left {} ", next.pair));
        word(out, words::left(next.ready));
        out.text(format_args!(": corner at {}, edge at {}. ", next.corner.to, next.edge.to));
    }
    out.close().close().close();
    out.open("li").open("p");
    if line.same_turns {
        out.text("The same turns, with another pair next");
    } else {
        out.open("span").attr("class", "turns").text(&line.text).close();
        out.text(format_args!(" for {}", words::list(&line.pairs)));
    }
    out.close();
    out.open("figure").put(&picture::still(&figures::alternative(annotation, line, style)));
    out.open("figcaption");
    if let Some(next) = &line.next {
        out.text(format_args!("Leaves {} ", next.pair));
        word(out, "ready");
        out.text(format_args!(": corner at {}, edge at {}; then {}.", next.corner, next.edge, next.then));
    }
    out.close().close().close().close();
}

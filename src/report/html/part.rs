//! Parts of a solve for the page of a lesson.

use super::{blocks, plan, solve, step as step_block};
use crate::annotation::Annotation;
use crate::drill::Drill;
use crate::report::lanes_svg::{self, Width};
use crate::report::markup::{Fragment, Markup};
use crate::report::picture::{self, Style};
use crate::report::{figures, words};
use crate::story::blocks::Block;
use crate::story::quiz::Question;
use crate::story::{self, Told};

/// The level of headings inside a lesson, under its own.
const LEVEL: usize = 3;

/// The cube at a moment.
#[must_use]
pub fn position(annotation: &Annotation, moment: usize, style: Style) -> Fragment {
    let mut out = Markup::new();
    out.open("figure").attr("class", "part");
    if let Some(drawn) = figures::moment(annotation, moment, style) {
        out.put(&picture::svg(&drawn)).open("figcaption").text(&drawn.description).close();
    }
    out.close().line();
    out.finish()
}

/// A step with its picture and what is said of it.
#[must_use]
pub fn step(annotation: &Annotation, index: usize, key: &str, style: Style) -> Fragment {
    let mut out = Markup::new();
    out.open("div").attr("class", "part");
    let own = &annotation.steps[index];
    for block in story::solve(annotation, Told::Whole, false, true) {
        if let Block::Step(block) = block
            && (block.from, block.to) == (own.from, own.to)
        {
            step_block::write(&mut out, annotation, &block, &step_block::Frame { key, level: LEVEL, style });
        }
    }
    out.close().line();
    out.finish()
}

/// What was played and what could have been.
#[must_use]
pub fn both_lines(annotation: &Annotation, index: usize, style: Style) -> Fragment {
    let mut out = Markup::new();
    out.open("div").attr("class", "part");
    step_block::other(&mut out, annotation, index, style);
    let setup = annotation.setup(annotation.steps[index].from);
    out.open("p").text("Set up: ").open("span").attr("class", "turns").text(setup).close().close();
    out.close().line();
    out.finish()
}

/// A question; the answer is folded away.
#[must_use]
pub fn question(annotation: &Annotation, question: &Question, style: Style) -> Fragment {
    let mut out = Markup::new();
    out.open("div").attr("class", "part ask").open("figure");
    let asked = Style { blank: true, ..style };
    if let Some(mut drawn) = figures::moment(annotation, question.moment, asked) {
        drawn.rings.clear();
        drawn.description = figures::held_at(annotation, question.moment);
        out.put(&picture::svg(&drawn)).open("figcaption").text(&drawn.description).close();
    }
    out.close();
    let step = annotation.steps[question.step].title();
    out.leaf(
        "p",
        format_args!(
            "{} is in. Which pair next, and where are its corner and its edge?",
            words::capital(&step)
        ),
    );
    out.open("details").leaf("summary", "The answer").open("ul");
    let mut answers: Vec<_> = question.answers.iter().collect();
    answers.sort_by_key(|answer| !answer.right);
    for answer in answers {
        out.open("li");
        if answer.right {
            out.leaf("strong", "right").text(" ");
        }
        blocks::inline(&mut out, &answer.words);
        out.text(format_args!(" Corner at {}, edge at {}.", answer.corner, answer.edge)).close();
    }
    out.close().close().close().line();
    out.finish()
}

/// The whole solve under one cursor, which begins at `moment`.
#[must_use]
pub fn player(annotation: &Annotation, moment: Option<usize>, key: &str, style: Style) -> Fragment {
    let mut out = Markup::new();
    solve(&mut out, annotation, key, style, moment);
    out.finish()
}

/// The lanes alone.
#[must_use]
pub fn lanes(annotation: &Annotation) -> Fragment {
    let mut out = Markup::new();
    out.open("figure").attr("class", "part");
    for (class, width) in [("lanes-wide", Width::Wide), ("lanes-narrow", Width::Narrow)] {
        out.open("div").attr("class", class).put(&lanes_svg::svg(annotation, width)).close();
    }
    out.close().line();
    out.finish()
}

/// Positions made to order, each with its question; the answers are folded away, and checked where a script can.
#[must_use]
pub fn drill(drills: &[Drill]) -> Fragment {
    let mut out = Markup::new();
    out.open("div").attr("class", "part drilled").line();
    plan::positions(&mut out, drills, LEVEL);
    out.close().line();
    out.finish()
}

/// A sentence that must not be overlooked.
#[must_use]
pub fn remark(words: &str) -> Fragment {
    let mut out = Markup::new();
    out.open("p").leaf("strong", words).close().line();
    out.finish()
}

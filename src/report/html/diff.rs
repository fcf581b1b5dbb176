//! Two solves of one scramble on a page: where the difference went, the lanes of both on one axis, a table of the parts,
//! then every step with the sides beside each other.

use super::{blocks, document, heading};
use crate::annotation::{Annotation, StepKind};
use crate::diff::{Comparison, Row, Which};
use crate::harmless::one_line;
use crate::report::lanes_svg::{self, Scale, Width};
use crate::report::markup::Markup;
use crate::report::picture::{self, Style};
use crate::report::{figures, words};
use crate::story::comparison::{self as story, SideStep};

/// One file with these comparisons in it.
#[must_use]
pub fn page(comparisons: &[Comparison]) -> String {
    let title = match comparisons {
        [one] => Which::BOTH.map(|which| one.annotations.of(which).heading()).join(" / "),
        many => format!("{} comparisons", many.len()),
    };
    document(&title, |out| {
        out.open("header").open("h1").open("bdi").text(&title).close().close().close();
        out.open("main");
        for comparison in comparisons {
            one(out, comparison, comparisons.len() > 1);
        }
        out.close();
    })
}

fn one(out: &mut Markup, comparison: &Comparison, several: bool) {
    out.open("article");
    let level = if several { 3 } else { 2 };
    if several {
        let names = Which::BOTH.map(|which| comparison.names.of(which).clone());
        out.leaf("h2", names.join(" and "));
    }
    let story = story::comparison(comparison);
    // The lanes stand before the table, which is the last.
    let (last, before) = story.split_last().expect("a story says who");
    for block in before {
        blocks::block(out, block, level);
    }
    lanes(out, comparison, level);
    blocks::block(out, last, level);
    out.leaf(heading(level), "Side by side");
    for row in &comparison.rows {
        sides(out, comparison, row, level + 1);
    }
    out.close().line();
}

fn whose(facts: &Annotation) -> String {
    let solver = facts.solver.as_deref().map(one_line).filter(|solver| !solver.is_empty());
    let title = one_line(&facts.heading());
    solver.map_or(title.clone(), |solver| format!("{solver} · {title}"))
}

fn lanes(out: &mut Markup, comparison: &Comparison, level: usize) {
    let both = Which::BOTH.map(|which| comparison.annotations.of(which));
    if both.iter().all(|facts| facts.lanes.is_empty()) {
        return;
    }
    out.leaf(heading(level), "Where the next pair was");
    let scale = Scale::of(&both);
    for (which, facts) in Which::BOTH.into_iter().zip(both) {
        out.open("figure").open("figcaption").open("strong").text(comparison.names.of(which)).close();
        out.text(" ").open("bdi").text(whose(facts)).close().close();
        for (class, width) in [("lanes-wide", Width::Wide), ("lanes-narrow", Width::Narrow)] {
            out.open("div")
                .attr("class", class)
                .put(&lanes_svg::on_scale(facts, width, scale, which == Which::B))
                .close();
        }
        out.close();
    }
    out.open("p").attr("class", "soft").text("Both are drawn to one scale.").close();
}

/// One row with both sides.
fn sides(out: &mut Markup, comparison: &Comparison, row: &Row, level: usize) {
    let steps = story::steps(comparison, row);
    if steps.is_empty() {
        return;
    }
    out.open("section").attr("class", "card");
    let same = if row.same_turns { ": the same turns" } else { "" };
    out.leaf(heading(level), format_args!("{}{same}", words::capital(&row.name)));
    out.open("div").attr("class", "sides");
    for which in Which::BOTH {
        out.open("div");
        let mut any = false;
        for step in steps.iter().filter(|step| step.which.unwrap_or(which) == which) {
            any = true;
            side(out, comparison, which, step);
        }
        if !any {
            out.open("p")
                .open("strong")
                .text(comparison.names.of(which))
                .close()
                .text(": no step here")
                .close();
        }
        out.close();
    }
    out.close().close().line();
}

fn side(out: &mut Markup, comparison: &Comparison, which: Which, step: &SideStep) {
    let facts = comparison.annotations.of(which);
    let block = &step.block;
    out.open("p").leaf("strong", &block.name).text(" ");
    blocks::inline(out, &block.what);
    out.text(format_args!(" · {}", block.figures.join(" · "))).close();
    let tokens = if block.tokens.is_empty() { "no turns" } else { &block.tokens };
    out.open("p").open("span").attr("class", "turns").text(tokens).close().close();
    blocks::lines(out, block);
    let Some(drawn) = facts.steps.get(step.step) else { return };
    if matches!(drawn.kind, StepKind::Cross | StepKind::Pair) {
        out.open("figure").put(&picture::svg(&figures::step(facts, drawn, Style::default())));
        out.open("figcaption")
            .text(format_args!("Before it, held {} up, {} in front.", drawn.hold.up, drawn.hold.front));
        out.close().close();
    }
}

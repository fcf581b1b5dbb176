//! Two solves of one scramble as CommonMark.

use super::{Markdown, Pictures, Writer, blocks, code, escape};
use crate::annotation::StepKind;
use crate::diff::{Comparison, Row, Which};
use crate::report::lanes_svg::{self, Scale, Width};
use crate::report::picture::{self, Style};
use crate::report::{figures, words};
use crate::story::comparison::{self as story, SideStep};

/// One comparison.
#[must_use]
pub fn render(comparison: &Comparison, pictures: &Pictures) -> Markdown {
    let mut writer = Writer::new(pictures, Style::default(), 0);
    let titles = Which::BOTH.map(|which| escape(&comparison.annotations.of(which).heading()));
    writer.block(&format!("# {}", titles.join(" / ")));
    let story = story::comparison(comparison);
    // The lanes stand before the table, which is the last.
    let (last, before) = story.split_last().expect("a story says who");
    for block in before {
        writer.out.text.push_str(&blocks::block(block, 2));
    }
    lanes(&mut writer, comparison);
    writer.out.text.push_str(&blocks::block(last, 2));
    for row in &comparison.rows {
        let steps = story::steps(comparison, row);
        if steps.is_empty() {
            continue;
        }
        let same = if row.same_turns { ": the same turns" } else { "" };
        writer.block(&format!("## {}{same}", words::capital(&escape(&row.name))));
        for step in &steps {
            side(&mut writer, comparison, row, step);
        }
    }
    writer.out
}

fn lanes(writer: &mut Writer, comparison: &Comparison) {
    let both = Which::BOTH.map(|which| comparison.annotations.of(which));
    let scale = Scale::of(&both);
    for (which, facts) in Which::BOTH.into_iter().zip(both) {
        let name = comparison.names.of(which);
        let says = format!("look-ahead lanes of {name}, to the same scale as the other's");
        writer.picture(&format!("lanes {name}"), &says, || {
            lanes_svg::on_scale(facts, Width::Wide, scale, true)
        });
    }
}

fn side(writer: &mut Writer, comparison: &Comparison, row: &Row, step: &SideStep) {
    let block = &step.block;
    let parts: Vec<String> = std::iter::once(blocks::inline(&block.what))
        .filter(|what| !what.is_empty())
        .chain(block.figures.iter().map(|figure| figure.trim().to_owned()))
        .collect();
    let tokens = if block.tokens.is_empty() { "no turns".to_owned() } else { code(&block.tokens) };
    // A backslash ends a line without ending the paragraph (CommonMark 0.31, section 6.7).
    writer.block(&format!("**{}**: {}\\\n{tokens}", escape(&block.name), parts.join(" · ")));
    writer.out.text.push_str(&blocks::lines(block));
    let which = step.which.unwrap_or(Which::A);
    let facts = comparison.annotations.of(which);
    let Some(drawn) = facts.steps.get(step.step) else { return };
    if matches!(drawn.kind, StepKind::Cross | StepKind::Pair) {
        let picture = figures::step(facts, drawn, Style::default());
        let says = format!("the position before it. {}", picture.description);
        let name = format!("{} {} {}", row.name, comparison.names.of(which), drawn.name);
        writer.picture(&name, &says, || picture::svg(&picture));
    }
}

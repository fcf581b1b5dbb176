//! Parts of a solve as Markdown, for lessons and worksheets: a position, a step, both lines, a question, the whole in
//! short. `before` is how many pictures there are already: names of files go on from there.

use super::{Markdown, Pictures, Writer, better, blocks, code, escape};
use crate::annotation::Annotation;
use crate::drill::Drill;
use crate::report::lanes_svg::{self, Width};
use crate::report::picture::{self, Style};
use crate::report::{figures, words};
use crate::story::blocks::Block;
use crate::story::quiz::{self, Question};
use crate::story::{self, Asked, Told};

/// The cube at a moment.
#[must_use]
pub fn position(
    annotation: &Annotation,
    moment: usize,
    pictures: &Pictures,
    style: Style,
    before: usize,
) -> Markdown {
    let mut writer = Writer::new(pictures, style, before);
    if let Some(drawn) = figures::moment(annotation, moment, style) {
        let name = figures::moment_name(annotation, moment);
        writer.picture(&name, &format!("{}. {}", drawn.title, drawn.description), || picture::svg(&drawn));
        writer.block(&escape(&drawn.description));
    }
    writer.out
}

/// A step as the whole text has it.
#[must_use]
pub fn step(
    annotation: &Annotation,
    index: usize,
    pictures: &Pictures,
    style: Style,
    before: usize,
) -> Markdown {
    let mut writer = Writer::new(pictures, style, before);
    let step = &annotation.steps[index];
    let told = story::solve(annotation, Told::Whole, false, true);
    let block = told.iter().find_map(|block| match block {
        Block::Step(block) if (block.from, block.to) == (step.from, step.to) => Some(block),
        _ => None,
    });
    if let Some(block) = block {
        writer.block(&format!(
            "**{}**: {} ({})",
            escape(&words::heading(step)),
            code(&block.tokens),
            super::figures_of(block).join(", ")
        ));
        let drawn = figures::step(annotation, step, style);
        let says = format!("the position before {}. {}", step.name, drawn.description);
        writer.picture(&step.name.to_string(), &says, || picture::svg(&drawn));
        writer.out.text.push_str(&blocks::lines(block));
    }
    writer.out
}

/// What was played and what could have been, each with the position it leaves.
#[must_use]
pub fn both_lines(
    annotation: &Annotation,
    index: usize,
    pictures: &Pictures,
    style: Style,
    before: usize,
) -> Markdown {
    let mut writer = Writer::new(pictures, style, before);
    let step = &annotation.steps[index];
    let Some(line) = better(annotation, index) else { return writer.out };
    let drawn = figures::step(annotation, step, style);
    writer.picture(
        &format!("{} before", step.name),
        &format!("before both lines. {}", drawn.description),
        || picture::svg(&drawn),
    );
    let drawn = figures::left(annotation, step, style);
    writer.block(&format!("As played: {}. {}", code(&step.spelled), escape(&drawn.description)));
    writer.picture(
        &format!("{} played", step.name),
        &format!("after the turns played. {}", drawn.description),
        || picture::svg(&drawn),
    );
    let drawn = figures::alternative(annotation, line, style);
    let what = if line.same_turns { "the same turns".into() } else { code(&line.text.to_string()) };
    let then = line
        .next
        .as_ref()
        .map_or_else(String::new, |next| format!(" Then {}: {}.", next.pair, code(&next.then.to_string())));
    writer.block(&format!(
        "Or: {what} for {}. {}{then}",
        words::list(&line.pairs),
        escape(&drawn.description)
    ));
    writer.picture(
        &format!("{} other", step.name),
        &format!("after the other line. {}", drawn.description),
        || picture::svg(&drawn),
    );
    writer.block(&format!("Set up: {}", code(&annotation.setup(step.from))));
    writer.out
}

/// A question with its answer behind it.
#[must_use]
pub fn question(
    annotation: &Annotation,
    question: &Question,
    pictures: &Pictures,
    style: Style,
    before: usize,
) -> Markdown {
    let mut writer = Writer::new(pictures, style, before);
    asked(&mut writer, annotation, question);
    // An HTML block ends at an empty line; what stands between is Markdown again.
    writer.block("<details><summary>The answer</summary>");
    writer.list(answers(question));
    writer.block("</details>");
    writer.out
}

/// Positions made to order, each answer behind its question.
#[must_use]
pub fn drill(drills: &[Drill], pictures: &Pictures, style: Style, before: usize) -> Markdown {
    let mut writer = Writer::new(pictures, style, before);
    for one in drills {
        let Asked { scramble, question, answer } = story::drill(one);
        let drawn = figures::drilled(one, style);
        writer.block(&format!("**{}.** {}", one.number, code(&scramble.to_string())));
        let says = format!("{}. {}", drawn.title, drawn.description);
        writer.picture(&format!("drill {}", one.number), &says, || picture::svg(&drawn));
        writer.block(&blocks::inline(&question));
        writer.block("<details><summary>The answer</summary>");
        writer.list(answer.iter().map(blocks::inline));
        writer.block("</details>");
    }
    writer.out
}

/// The position with what is asked of it.
fn asked(writer: &mut Writer<'_>, annotation: &Annotation, question: &Question) {
    let style = Style { blank: true, ..writer.style };
    let step = &annotation.steps[question.step];
    if let Some(mut drawn) = figures::moment(annotation, question.moment, style) {
        // What is pointed at, and what is said of it, would be the answer.
        drawn.rings.clear();
        drawn.description = figures::held_at(annotation, question.moment);
        let name = format!("after {}", step.title());
        writer.picture(&name, &format!("the position after {}. {}", step.title(), drawn.description), || {
            picture::svg(&drawn)
        });
        writer.block(&format!(
            "{} is in. {} Which pair next, and where are its corner and its edge?",
            words::heading(step).split(':').next().unwrap_or_default(),
            escape(&drawn.description)
        ));
    }
}

/// Every pair that could be answered: those that count as right first.
fn answers(question: &Question) -> Vec<String> {
    let mut answers: Vec<_> = question.answers.iter().collect();
    answers.sort_by_key(|answer| !answer.right);
    let one = |answer: &&quiz::Answer| {
        let counts = if answer.right { "**right** " } else { "" };
        format!(
            "{counts}{} Corner at {}, edge at {}.",
            blocks::inline(&answer.words),
            answer.corner,
            answer.edge
        )
    };
    answers.iter().map(one).collect()
}

/// Who, how long, what cost most, the table of the steps, the lanes.
#[must_use]
pub fn overview(annotation: &Annotation, pictures: &Pictures, before: usize) -> Markdown {
    let mut writer = Writer::new(pictures, Style::default(), before);
    for block in story::solve(annotation, Told::Brief, false, false) {
        match block {
            Block::Title { words, figure } => {
                writer.block(&format!("**{}**, {}", escape(&words.plain()), escape(&figure)))
            }
            Block::Heading(text) => writer.block(&format!("**{}**", escape(&text))),
            block => writer.out.text.push_str(&blocks::block(&block, 6)),
        }
    }
    draw_lanes(&mut writer, annotation);
    writer.out
}

/// The lanes alone.
#[must_use]
pub fn lanes(annotation: &Annotation, pictures: &Pictures, before: usize) -> Markdown {
    let mut writer = Writer::new(pictures, Style::default(), before);
    draw_lanes(&mut writer, annotation);
    writer.out
}

fn draw_lanes(writer: &mut Writer<'_>, annotation: &Annotation) {
    if annotation.has_lanes() {
        let says = "look-ahead lanes: where corner and edge of each pair were, over the whole solve";
        writer.picture("lanes", says, || lanes_svg::svg(annotation, Width::Wide));
    }
}

/// Positions and questions of a solve on a sheet to be filled in; the answers stand at its end.
#[must_use]
pub fn worksheet(annotation: &Annotation, pictures: &Pictures, style: Style) -> Markdown {
    let mut writer = Writer::new(pictures, style, 0);
    let questions = quiz::questions(annotation);
    writer.block(&format!("# {}: which pair next?", escape(&annotation.heading())));
    writer.block(&format!("Scramble: {}", code(&annotation.scramble)));
    if questions.is_empty() {
        writer.block("There is nothing to ask: no pair follows another step here.");
        return writer.out;
    }
    writer.block("Say of every position which pair to take next, where its corner and its edge are, and how it goes in. The sides that are out of sight are blank. Answers: at the end.");
    for (n, question) in questions.iter().enumerate() {
        writer.block(&format!("## Question {}", n + 1));
        asked(&mut writer, annotation, question);
        let setup = annotation.setup(question.moment);
        writer.block(&format!("Set up: {}", code(&setup)));
        writer.block("Pair: \\_\\_\\_\\_\\_\\_\\_\\_ corner at: \\_\\_\\_\\_ edge at: \\_\\_\\_\\_ line: \\_\\_\\_\\_\\_\\_\\_\\_\\_\\_\\_\\_\\_\\_\\_\\_");
    }
    writer.block("## Answers");
    for (n, question) in questions.iter().enumerate() {
        writer.block(&format!("### Question {}", n + 1));
        writer.list(answers(question));
    }
    writer.out
}

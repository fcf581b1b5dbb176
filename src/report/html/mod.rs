//! Pages: one solve, or several, as one HTML file that needs no network and no script.
//!
//! The order is that of the questions: what happened and what cost most (each sentence leads to its moment), where the
//! eyes belonged (the lanes), then the record and the steps. One cursor goes through all of it: a small script adds the
//! cube at the cursor, playing, the other line beside it, and questions; without it nothing is missing but that. The page
//! forbids itself every request (Content Security Policy, `default-src 'none'`), so even a writer's hostile title could
//! not call home.

mod blocks;
mod data;
pub mod diff;
pub mod part;
pub mod plan;
mod record;
mod stage;
mod step;
pub mod survey;

use crate::annotation::{Annotation, Message};
use crate::cube::PairName;
use crate::harmless::one_line;

use super::lanes_svg::{self, Width};
use super::markup::{Fragment, Markup};
use super::picture::Style;
use super::{figures, words};
use crate::story::blocks::{Block, Table};
use crate::story::{self, Told};

const STYLE: &str = include_str!("style.css");
const SCRIPT: &str = concat!(
    // For readers of XML a script is text like any other; for those of HTML the brackets are in comments.
    "/*<![CDATA[*/\n\"use strict\";\n",
    include_str!("script/cube.js"),
    include_str!("script/quiz.js"),
    include_str!("script/study.js"),
    include_str!("script/keys.js"),
    include_str!("script/drill.js"),
    "/*]]>*/",
);
const POLICY: &str = "default-src 'none'; style-src 'unsafe-inline'; script-src 'unsafe-inline'; img-src data:; base-uri 'none'; form-action 'none'";

/// One file with these solves in it, in this order.
#[must_use]
pub fn page(annotations: &[Annotation], style: Style) -> String {
    let title = match annotations {
        [one] => return alone(one, style, None),
        many => format!("{} solves", many.len()),
    };
    document(&title, |out| {
        out.open("header").leaf("h1", &title);
        out.open("nav").attr("aria-label", "solves");
        index_table(
            out,
            annotations.iter().enumerate().map(|(n, one)| index_row(one, &format!("#s{}", n + 1))),
        );
        out.close().close().open("main").line();
        for (n, annotation) in annotations.iter().enumerate() {
            solve(out, annotation, &format!("s{}", n + 1), style, None);
        }
        out.close().open("footer");
        legend(out);
        out.close();
    })
}

/// A page for one solve; in a folder it leads to the one before and the one after.
fn alone(annotation: &Annotation, style: Style, around: Option<&Around>) -> String {
    document(&annotation.heading(), |out| {
        out.open("a").attr("class", "skip").attr("href", "#record").text("To the record").close();
        if let Some(around) = around {
            around.write(out);
        }
        solve(out, annotation, "", style, None);
    })
}

/// The pages around one of a folder.
struct Around {
    before: Option<Named>,
    after: Option<Named>,
}

impl Around {
    fn write(&self, out: &mut Markup) {
        out.open("nav").attr("class", "around").attr("aria-label", "solves");
        if let Some(Named { file, title }) = &self.before {
            out.open("a")
                .attr("rel", "prev")
                .attr("href", file)
                .text("‹ ")
                .open("bdi")
                .text(title)
                .close()
                .close();
        }
        out.open("a").attr("class", "up").attr("href", "index.html").text("all solves").close();
        if let Some(Named { file, title }) = &self.after {
            out.open("a")
                .attr("rel", "next")
                .attr("href", file)
                .open("bdi")
                .text(title)
                .close()
                .text(" ›")
                .close();
        }
        out.close().line();
    }
}

/// A page of a folder: the name of its file, and what it is called.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Named {
    file: String,
    title: String,
}

impl Named {
    /// The page of the `n`-th solve, from 1.
    #[must_use]
    pub fn new(n: usize, annotation: &Annotation) -> Named {
        let file = format!("{}.html", figures::solve_name(n, annotation));
        Named { file, title: one_line(&annotation.heading()) }
    }

    /// The name of its file.
    #[must_use]
    pub fn file(&self) -> &str {
        &self.file
    }
}

/// A solve's page in a folder, which leads to the pages around it.
#[must_use]
pub fn folder_page(
    annotation: &Annotation,
    before: Option<Named>,
    after: Option<Named>,
    style: Style,
) -> String {
    alone(annotation, style, Some(&Around { before, after }))
}

/// The `index.html` of a folder, a row a solve.
#[derive(Debug, Default)]
pub struct Index {
    rows: Vec<Fragment>,
}

impl Index {
    /// One more solve, with its page.
    pub fn push(&mut self, annotation: &Annotation, page: &Named) {
        self.rows.push(index_row(annotation, &page.file));
    }

    /// The page.
    #[must_use]
    pub fn page(self) -> String {
        let n_solves = self.rows.len();
        let title = if n_solves == 1 { "1 solve".into() } else { format!("{n_solves} solves") };
        document(&title, |out| {
            out.open("header").leaf("h1", &title).close();
            out.open("main");
            index_table(out, self.rows.into_iter());
            out.close();
        })
    }
}

/// A whole HTML document round what `body` writes.
fn document(title: &str, body: impl FnOnce(&mut Markup)) -> String {
    let mut out = Markup::new();
    out.open("html").attr("lang", "en").open("head").line();
    out.open("meta").attr("charset", "utf-8").empty().line();
    out.open("meta").attr("http-equiv", "Content-Security-Policy").attr("content", POLICY).empty().line();
    out.open("meta")
        .attr("name", "viewport")
        .attr("content", "width=device-width, initial-scale=1")
        .empty()
        .line();
    out.open("meta").attr("name", "color-scheme").attr("content", "light dark").empty().line();
    // Keeps browsers from asking a server for a picture.
    out.open("link").attr("rel", "icon").attr("href", "data:,").empty().line();
    out.leaf("title", one_line(title)).line();
    out.open("style").own_text(lanes_svg::STYLE).own_text(STYLE).close().close().line();
    out.open("body").line();
    body(&mut out);
    out.line().open("script").own_text(SCRIPT).close().close().close();
    format!("<!DOCTYPE html>\n{}\n", out.finish().as_str())
}

/// The page of a lesson: `body` is the lesson, set by a writer that escapes.
pub(crate) fn lesson(title: &str, body: &Fragment) -> String {
    document(title, |out| {
        out.open("main").attr("class", "lesson").put(body).close();
        out.open("footer");
        legend(out);
        out.close();
    })
}

/// What the story says of one solve, by where it stands on the page.
#[derive(Default)]
struct Parts {
    lede: Vec<Block>,
    cost: Vec<Block>,
    table: Option<Table>,
    after: Vec<Block>,
    steps: Vec<Block>,
}

impl Parts {
    fn of(annotation: &Annotation) -> Parts {
        let mut parts = Parts::default();
        let mut told = story::solve(annotation, Told::Whole, false, true).into_iter().peekable();
        while let Some(block) = told.next() {
            match block {
                Block::Title { .. } | Block::Lanes | Block::Gap => {}
                Block::Step(_) => parts.steps.push(block),
                Block::Table(table) if table.columns.first().is_some_and(|column| column.title == "step") => {
                    parts.table = Some(table);
                }
                Block::Heading(_) if matches!(told.peek(), Some(Block::Items(_))) => {
                    parts.cost.push(block);
                    parts.cost.extend(told.next());
                    // What is said besides belongs to them.
                    parts.cost.extend(told.next_if(|next| matches!(next, Block::Paragraph(_))));
                }
                block if parts.table.is_none() && parts.cost.is_empty() => parts.lede.push(block),
                block => parts.after.push(block),
            }
        }
        parts
    }
}

/// One solve. `key` makes its ids unique; empty if it has the page for itself.
fn solve(out: &mut Markup, annotation: &Annotation, key: &str, style: Style, at: Option<usize>) {
    let alone = key.is_empty();
    // Landmarks are for the page; a solve among several is an article.
    let (whole, head, body, foot) =
        if alone { ("div", "header", "main", "footer") } else { ("article", "div", "div", "div") };
    let parts = Parts::of(annotation);
    out.open(whole)
        .attr("class", "study")
        .attr_if("id", (!alone).then_some(key))
        .attr("data-key", key)
        .attr_if("data-at", at);
    out.open(head).attr("class", "head").open("div").attr("class", "who");
    let level = if alone { 1 } else { 2 };
    out.open(heading(level)).open("bdi").text(annotation.heading()).close().close();
    about(out, annotation);
    out.open("div").attr("class", "lede");
    for block in &parts.lede {
        blocks::block(out, block, level + 1);
    }
    out.close().close();
    if !parts.cost.is_empty() {
        out.open("section").attr("class", "cost").attr("aria-labelledby", format_args!("{key}cost"));
        for block in &parts.cost {
            match block {
                Block::Heading(text) => {
                    out.open(heading(level + 1)).attr("id", format_args!("{key}cost")).text(text).close();
                }
                Block::Items(items) => blocks::cost(out, items, key),
                besides => blocks::block(out, besides, level + 1),
            }
        }
        out.close();
    }
    out.close().line();
    out.open(body).attr("class", "body");
    messages(out, annotation, level + 1);
    if annotation.moments.len() > 1 {
        lanes(out, annotation);
    }
    out.open("div").attr("class", "desk").line();
    let data = data::of(annotation);
    if annotation.moments.len() > 1 {
        let some = |name: &str| data[name].as_array().is_some_and(|all| !all.is_empty());
        stage::write(out, annotation, style, stage::Has { others: some("others"), questions: some("quiz") });
    }
    out.open("div").attr("class", "side");
    out.open("div").attr("class", "quiz").attr("hidden", "").attr("aria-live", "polite").close();
    for block in &parts.steps {
        if let Block::Step(block) = block {
            step::write(out, annotation, block, &step::Frame { key, level: level + 1, style });
        }
    }
    out.close().line();
    record::write(out, annotation, parts.table.as_ref(), key);
    out.close();
    if !parts.after.is_empty() {
        out.open("section").attr("class", "after");
        for block in &parts.after {
            blocks::block(out, block, level + 1);
        }
        out.close();
    }
    if annotation.moments.len() > 1 {
        out.open("script").attr("type", "application/json").attr("class", "facts").json(&data).close();
    }
    out.close().open(foot).attr("class", "foot");
    if let Some(remarks) = &annotation.remarks {
        out.open("blockquote");
        paragraphs(out, remarks);
        out.close();
    }
    if alone {
        out.open("div");
        legend(out);
        out.close();
    }
    out.close().close().line();
}

const fn heading(level: usize) -> &'static str {
    ["h1", "h2", "h3", "h4", "h5", "h6"][if level > 6 { 5 } else { level.saturating_sub(1) }]
}

fn about(out: &mut Markup, annotation: &Annotation) {
    let whose: Vec<&String> = [&annotation.solver, &annotation.date].into_iter().flatten().collect();
    if whose.is_empty() {
        return;
    }
    out.open("p").attr("class", "by");
    for (n, text) in whose.into_iter().enumerate() {
        out.text(if n > 0 { ", " } else { "" }).open("bdi").text(one_line(text)).close();
    }
    out.close();
}

/// A writer's words; empty lines part paragraphs, other line ends were only the edge of their paper.
fn paragraphs(out: &mut Markup, text: &str) {
    let lines: Vec<&str> = text.lines().map(str::trim).collect();
    for paragraph in lines.split(|line| line.is_empty()).filter(|lines| !lines.is_empty()) {
        out.open("p").open("bdi").text(paragraph.join(" ")).close().close();
    }
}

/// What a message says: where its words have backticks, a page has code.
fn worded(out: &mut Markup, words: &str) {
    out.open("bdi");
    let mut parts = words.split('`').peekable();
    let mut in_code = false;
    while let Some(part) = parts.next() {
        match (in_code, parts.peek().is_some()) {
            (false, _) => out.text(part),
            (true, true) => out.leaf("code", part),
            // A backtick that none closes is one.
            (true, false) => out.text("`").text(part),
        };
        in_code = !in_code;
    }
    out.close();
}

fn messages(out: &mut Markup, annotation: &Annotation, level: usize) {
    let all: Vec<&Message> = annotation.faults.iter().chain(&annotation.notes).collect();
    if all.is_empty() {
        return;
    }
    out.open("section").leaf(heading(level), "On the record");
    out.open("ul");
    for (n, message) in all.into_iter().enumerate() {
        let fault = n < annotation.faults.len();
        out.open("li").attr_if("class", fault.then_some("fault"));
        out.leaf("strong", if fault { "fault" } else { "note" });
        match (message.line, message.column) {
            (Some(line), Some(column)) => out.text(format_args!(" (line {line}, column {column}): ")),
            _ => out.text(": "),
        };
        worded(out, &message.message);
        if let Some(help) = &message.help {
            out.text("; ");
            worded(out, help);
        }
        out.close();
    }
    out.close();
    if let Some(repair) = &annotation.repair {
        out.open("p").attr("class", "repair").leaf("strong", "repair").text(": ");
        worded(out, repair);
        if let Some(holds) = annotation.holds {
            out.text(format_args!("; what is told below holds up to token {holds}"));
        }
        out.close();
    }
    out.close().line();
}

/// The lanes in the widths there are; the cursor goes through the one that is shown.
fn lanes(out: &mut Markup, annotation: &Annotation) {
    out.open("section").attr("class", "time").attr("aria-label", "where the pieces were, over time");
    out.open("div").attr("class", "lanes-here");
    let widths =
        [("lanes-broad", Width::Broad), ("lanes-wide", Width::Wide), ("lanes-narrow", Width::Narrow)];
    for (class, width) in widths {
        out.open("div").attr("class", class).put(&lanes_svg::with_cursor(annotation, width)).close();
    }
    out.close().close().line();
}

/// All solves, a row each: its lanes in small, time, the longest stop and its cause.
fn index_table(out: &mut Markup, rows: impl Iterator<Item = Fragment>) {
    out.open("div")
        .attr("class", "scroll")
        .attr("tabindex", 0)
        .attr("role", "region")
        .attr("aria-label", "all solves");
    out.open("table").attr("class", "index").open("thead").open("tr");
    for name in
        ["solve", "solver", "date", "where the time went", "seconds", "turns", "longest stop", "ended"]
    {
        out.open("th").attr("scope", "col").text(name).close();
    }
    out.close().close().open("tbody");
    for row in rows {
        out.put(&row);
    }
    out.close().close().close();
}

/// A solve in the table of all; `target` leads to it.
fn index_row(annotation: &Annotation, target: &str) -> Fragment {
    let mut row = Markup::new();
    let out = &mut row;
    out.open("tr").open("th").attr("scope", "row").open("a").attr("href", target);
    out.open("bdi").text(one_line(&annotation.heading())).close().close().close();
    for text in [&annotation.solver, &annotation.date] {
        out.open("td").open("bdi").text(one_line(text.as_deref().unwrap_or(""))).close().close();
    }
    out.open("td").attr("class", "tiny").put(&lanes_svg::tiny(annotation)).close();
    out.open("td").attr("class", "num");
    out.text(annotation.seconds.map_or_else(String::new, |seconds| format!("{seconds:.2}"))).close();
    out.open("td").attr("class", "num").attr("data-is", "turns").text(annotation.obtm).close();
    out.open("td").attr("data-is", "longest stop").text(longest_stop(annotation)).close();
    out.leaf("td", annotation.end.judged).close();
    row.finish()
}

/// `0.86 s before pair 2, choice`.
fn longest_stop(annotation: &Annotation) -> String {
    let stops = annotation.steps.iter().flat_map(|step| step.stops.iter().map(move |stop| (step, stop)));
    let longest = stops.max_by(|(_, a), (_, b)| a.seconds.total_cmp(&b.seconds));
    longest.map_or_else(String::new, |(step, stop)| {
        let place = if stop.inside { "inside" } else { "before" };
        let cause = stop.cause.map_or_else(String::new, |cause| format!(", {}", cause.word()));
        format!("{} {place} {}{cause}", words::measured(stop.seconds), step.title())
    })
}

/// The words of the page, for those who meet them for the first time.
fn legend(out: &mut Markup) {
    use crate::annotation::Cause;
    use crate::scan::Tier;
    out.open("details").leaf("summary", "The words on this page").open("dl");
    for tier in Tier::ALL {
        out.leaf("dt", format_args!("{} (tier)", tier));
        out.leaf("dd", format_args!("the corner is {}", words::tier_meaning(tier)));
    }
    for cause in [
        Cause::Choice,
        Cause::Attention,
        Cause::Deduction,
        Cause::Inspection,
        Cause::View,
        Cause::Position,
        Cause::Recognition,
    ] {
        out.leaf("dt", format_args!("{} (cause of a stop)", cause.word()));
        out.leaf("dd", cause.meaning());
    }
    for (word, meaning) in [
        ("open to sight", "at least two stickers of the piece are in sight"),
        ("deduced", "one sticker or its only place settles it, because everything else is accounted for"),
        (
            "to go",
            "turns of the step still to make when corner and edge of the next pair had both been found",
        ),
        ("late", "found with fewer turns to go than it takes to look, or not at all"),
        (
            "kept, avoidable, forced",
            "the next pair was ready; it was late, and something on offer left a pair ready; it was late, and nothing did",
        ),
        (
            "pictures",
            "the cube as it is held; the hidden sides hang beside it, each from the edge it shares. The dot at a piece's name is full: open to sight; half: found by deducing or following; a ring: not found",
        ),
    ] {
        out.leaf("dt", word).leaf("dd", meaning);
    }
    out.close().close();
    out.open("p")
        .attr("class", "soft")
        .text(format_args!("Written by cornerwise {}.", env!("CARGO_PKG_VERSION")))
        .close();
}

/// A pair's two colours, for the eye; the name stands beside it.
fn chips(out: &mut Markup, pair: PairName) {
    out.open("svg").attr("class", "chips").attr("viewBox", "0 0 2 1").attr("preserveAspectRatio", "none");
    out.attr("aria-hidden", "true");
    for (n, colour) in pair.sides().into_iter().enumerate() {
        out.open("rect").attr("x", n).attr("width", 1).attr("height", 1);
        out.attr("fill", super::picture::paint(colour).0).empty();
    }
    out.close();
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::report::sample;

    #[test]
    fn a_page_is_small_and_has_what_the_solve_has() {
        let annotation = sample::annotation(true);
        let page = page(std::slice::from_ref(&annotation), Style::default());
        assert!(page.len() < 250_000, "{} bytes", page.len());
    }
}

//! Pages: one solve, or several, as one HTML file that needs no network and no script.
//!
//! The order is that of the questions: what happened (the summary), where it stopped (the lanes), then step by
//! step what there was to see and what else could have been played. A small script adds stepping through the
//! moments where scripts run; without it nothing is missing but that. The page forbids itself every request
//! (Content Security Policy, `default-src 'none'`), so even a writer's hostile title could not call home.

mod blocks;
pub mod diff;
mod stage;
mod step;
pub mod survey;

use crate::annotation::{Annotation, Message};
use crate::cube::PairName;
use crate::harmless::one_line;

use super::lanes_svg::{self, Width};
use super::markup::Markup;
use super::{figures, words};
use crate::story::blocks::Block;
use crate::story::{self, Told};

const STYLE: &str = include_str!("style.css");
const SCRIPT: &str = include_str!("script.js");
const POLICY: &str =
    "default-src 'none'; style-src 'unsafe-inline'; script-src 'unsafe-inline'; img-src data:";

/// One file with these solves in it, in this order.
#[must_use]
pub fn page(annotations: &[Annotation]) -> String {
    let title = match annotations {
        [one] => words::title(one),
        many => format!("{} solves", many.len()),
    };
    document(&title, |out| {
        if let [one] = annotations {
            solve(out, one, "");
            return;
        }
        out.open("header").leaf("h1", &title);
        out.open("nav").attr("aria-label", "solves");
        index_table(out, annotations, |n| format!("#s{n}"));
        out.close().close().open("main").line();
        for (n, annotation) in annotations.iter().enumerate() {
            solve(out, annotation, &format!("s{}", n + 1));
        }
        out.close().open("footer");
        legend(out);
        out.close();
    })
}

/// A folder: `index.html` and one page a solve, as file names with their contents.
#[must_use]
pub fn folder(annotations: &[Annotation]) -> Vec<(String, String)> {
    let name = |n: usize, annotation: &Annotation| format!("{}.html", figures::solve_name(n, annotation));
    let title =
        if annotations.len() == 1 { "1 solve".into() } else { format!("{} solves", annotations.len()) };
    let index = document(&title, |out| {
        out.open("header").leaf("h1", &title).close();
        out.open("main");
        index_table(out, annotations, |n| name(n, &annotations[n - 1]));
        out.close();
    });
    let pages = annotations
        .iter()
        .enumerate()
        .map(|(n, annotation)| (name(n + 1, annotation), page(std::slice::from_ref(annotation))));
    std::iter::once(("index.html".to_owned(), index)).chain(pages).collect()
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
    out.open("style").own_text(STYLE).close().close().line();
    out.open("body").line();
    body(&mut out);
    out.line().open("script").own_text(SCRIPT).close().close().close();
    format!("<!DOCTYPE html>\n{}\n", out.finish().as_str())
}

/// One solve: header, lanes, steps. `key` makes its ids unique; empty if it has the page for itself.
fn solve(out: &mut Markup, annotation: &Annotation, key: &str) {
    let alone = key.is_empty();
    // Landmarks are for the page; a solve among several is an article.
    let (head, body) = if alone { ("header", "main") } else { ("div", "article") };
    if alone {
        out.open("a").attr("class", "skip").attr("href", "#steps").text("To the steps").close();
    } else {
        out.open(body).attr("id", key);
    }
    out.open(head);
    let level = if alone { 1 } else { 2 };
    out.open(heading(level)).open("bdi").text(words::title(annotation)).close().close();
    about(out, annotation);
    out.close().line();
    if alone {
        out.open(body);
    }
    let told = story::solve(annotation, Told::Whole, false, false);
    out.open("section").attr("class", "answer");
    for block in &told {
        blocks::block(out, block, level + 1);
    }
    out.close().line();
    messages(out, annotation, level + 1);
    lanes(out, annotation, key, level + 1);
    if !annotation.moments.is_empty() {
        stage::write(out, annotation, key, level + 1);
    }
    out.open("section")
        .attr("id", format_args!("{key}steps"))
        .attr("aria-labelledby", format_args!("{key}steps-h"));
    out.open(heading(level + 1)).attr("id", format_args!("{key}steps-h")).text("Step by step").close();
    for block in &told {
        if let Block::Step(block) = block {
            step::write(out, annotation, block, &step::Frame { key, level: level + 2 });
        }
    }
    out.close().close();
    if alone {
        out.open("footer");
        legend(out);
        out.close();
    }
    out.line();
}

const fn heading(level: usize) -> &'static str {
    ["h1", "h2", "h3", "h4", "h5", "h6"][if level > 6 { 5 } else { level.saturating_sub(1) }]
}

fn about(out: &mut Markup, annotation: &Annotation) {
    let whose: Vec<&String> = [&annotation.solver, &annotation.date].into_iter().flatten().collect();
    if !whose.is_empty() {
        out.open("p").attr("class", "soft");
        for (n, text) in whose.into_iter().enumerate() {
            out.text(if n > 0 { ", " } else { "" }).open("bdi").text(one_line(text)).close();
        }
        out.close();
    }
    out.open("p")
        .text("Scramble ")
        .open("span")
        .attr("class", "turns")
        .text(&annotation.scramble)
        .close()
        .close();
    if let Some(remarks) = &annotation.remarks {
        out.open("blockquote");
        paragraphs(out, remarks);
        out.close();
    }
}

/// A writer's words; empty lines part paragraphs, other line ends were only the edge of their paper.
fn paragraphs(out: &mut Markup, text: &str) {
    let lines: Vec<&str> = text.lines().map(str::trim).collect();
    for paragraph in lines.split(|line| line.is_empty()).filter(|lines| !lines.is_empty()) {
        out.open("p").open("bdi").text(paragraph.join(" ")).close().close();
    }
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
        out.open("bdi").text(&message.message).close();
        if let Some(help) = &message.help {
            out.text("; ").open("bdi").text(help).close();
        }
        out.close();
    }
    out.close().close().line();
}

fn lanes(out: &mut Markup, annotation: &Annotation, key: &str, level: usize) {
    if annotation.lanes.is_empty() {
        return;
    }
    let id = format!("{key}lanes");
    out.open("section").attr("aria-labelledby", &id);
    out.open(heading(level)).attr("id", &id).text("Where the next pair was").close();
    out.open("figure");
    for (class, width, n) in [("lanes-wide", Width::Wide, "w"), ("lanes-narrow", Width::Narrow, "n")] {
        out.open("div").attr("class", class);
        out.put(&lanes_svg::svg(annotation, width, &format!("{key}{n}-"))).close();
    }
    out.leaf(
        "figcaption",
        "The box is where the eyes belong: the pair that comes next, during the step before it.",
    );
    out.close().close().line();
}

fn index_table(out: &mut Markup, annotations: &[Annotation], target: impl Fn(usize) -> String) {
    out.open("div")
        .attr("class", "scroll")
        .attr("tabindex", 0)
        .attr("role", "region")
        .attr("aria-label", "all solves");
    out.open("table").attr("class", "wrap").open("thead").open("tr");
    for name in ["solve", "solver", "date", "turns", "seconds", "ended"] {
        out.open("th").attr("scope", "col").text(name).close();
    }
    out.close().close().open("tbody");
    for (n, annotation) in annotations.iter().enumerate() {
        out.open("tr").open("th").attr("scope", "row").open("a").attr("href", target(n + 1));
        out.open("bdi").text(one_line(&words::title(annotation))).close().close().close();
        for text in [&annotation.solver, &annotation.date] {
            out.open("td").open("bdi").text(one_line(text.as_deref().unwrap_or(""))).close().close();
        }
        out.leaf("td", annotation.obtm);
        out.leaf("td", annotation.seconds.map_or_else(String::new, |seconds| format!("{seconds:.2}")));
        out.leaf("td", annotation.end.judged).close();
    }
    out.close().close().close();
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
        out.leaf("dt", format_args!("{} (cause of a stop)", words::cause(cause)));
        out.leaf("dd", words::cause_meaning(cause));
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
            "the faces in sight are large, the hidden ones are folded out behind them; a corner has an unbroken ring and a round mark, an edge a dashed ring and a square mark",
        ),
    ] {
        out.leaf("dt", word).leaf("dd", meaning);
    }
    out.close().close();
    out.leaf("p", format_args!("Written by cornerwise {}.", env!("CARGO_PKG_VERSION")));
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
        let page = page(std::slice::from_ref(&annotation));
        assert!(page.len() < 300_000, "{} bytes", page.len());
    }
}

//! Blocks as HTML.

use super::{chips, heading};
use crate::report::markdown::blocks::labels;
use crate::report::markup::Markup;
use crate::story::blocks::{Block, Body, Column, Item, Phrase, Run, StepBlock, Table};
use crate::story::glossary;

/// A phrase as inline HTML.
pub(super) fn inline(out: &mut Markup, phrase: &Phrase) {
    for run in &phrase.runs {
        let class = match run {
            Run::Words(text) => {
                out.text(text);
                continue;
            }
            Run::Pair(pair) | Run::PairFirst(pair) => {
                out.open("span").attr("class", "pair");
                chips(out, *pair);
                out.text(run.plain()).close();
                continue;
            }
            Run::Term(word) => {
                out.open("abbr").attr("class", "term");
                out.attr_if("title", glossary::meaning(word)).text(word).close();
                continue;
            }
            Run::Strong(_) => "strong",
            Run::Dim(_) => "soft",
            Run::Stop(_) => "stop",
            Run::Fault(_) => "fault",
            Run::Colour(_) => "colour",
            Run::Turns(_) => "turns",
        };
        out.open("span").attr("class", class).open("bdi").text(run.plain()).close().close();
    }
}

/// A block; the lanes, the steps and the title are the page's.
pub(super) fn block(out: &mut Markup, block: &Block, level: usize) {
    match block {
        Block::Heading(text) => {
            out.leaf(heading(level), text);
        }
        Block::Paragraph(words) => {
            out.open("p");
            inline(out, words);
            out.close().line();
        }
        Block::Items(items) => set_items(out, items),
        Block::Table(table) => set_table(out, table),
        Block::Title { .. } | Block::Step(_) | Block::Lanes | Block::Gap => {}
    }
}

fn set_items(out: &mut Markup, items: &[Item]) {
    out.open("ul").attr("class", "say");
    for item in items {
        out.open("li").leaf("strong", &item.figure).text(" ");
        inline(out, &item.words);
        out.close();
    }
    out.close().line();
}

/// What cost most: every sentence leads to its moment.
pub(super) fn cost(out: &mut Markup, items: &[Item], key: &str) {
    out.open("ol");
    for item in items {
        out.open("li").open("a");
        if let Some(moment) = item.moment {
            out.attr("href", format_args!("#{key}m={moment}")).attr("data-m", moment);
        }
        out.open("span").attr("class", "pc").text(&item.figure).close().text(" ");
        out.open("span").attr("class", "ct");
        inline(out, &item.words);
        out.close().close().close();
    }
    out.close().line();
}

fn scroll(out: &mut Markup, says: &str) {
    out.open("div")
        .attr("class", "scroll")
        .attr("tabindex", 0)
        .attr("role", "region")
        .attr("aria-label", says);
}

fn set_table(out: &mut Markup, table: &Table) {
    scroll(out, "all steps");
    out.open("table").open("thead").open("tr");
    let name = |n: usize, column: &Column| {
        let title = column.heading();
        let unnamed = if n == 0 { "step" } else { "easier" };
        if title.is_empty() { unnamed.to_owned() } else { title }
    };
    let names: Vec<String> = table.columns.iter().enumerate().map(|(n, column)| name(n, column)).collect();
    for (column, name) in table.columns.iter().zip(&names) {
        out.open("th")
            .attr("scope", "col")
            .attr_if("class", column.figures.then_some("num"))
            .text(name)
            .close();
    }
    out.close().close().open("tbody");
    for (cells, sum) in
        table.rows.iter().map(|row| (row, false)).chain(table.sums.iter().map(|row| (row, true)))
    {
        out.open("tr").attr_if("class", sum.then_some("sum"));
        for (n, (cell, column)) in cells.iter().zip(&table.columns).enumerate() {
            if n == 0 && !sum {
                // A row that is a part of the one above: blanks that begin a cell are nothing on a page.
                let part = cell.plain().starts_with("  ");
                out.open("th").attr("scope", "row").attr_if("class", part.then_some("part"));
            } else {
                // On a phone a row is written as a paragraph, and its cells are named there.
                out.open("td").attr_if("class", column.figures.then_some("num")).attr("data-is", &names[n]);
            }
            inline(out, cell);
            out.close();
        }
        out.close();
    }
    out.close().close().close().line();
    if !table.key.is_empty() {
        let key: Vec<_> = table.key.iter().map(Phrase::plain).collect();
        out.open("p").attr("class", "soft").text(key.join(" · ")).close().line();
    }
}

/// What is to be said of a step: cells as a table, sentences below it.
pub(super) fn lines(out: &mut Markup, step: &StepBlock) {
    if step.lines.iter().any(|line| matches!(line.body, Body::Cells(_))) {
        scroll(out, &format!("the open pairs during {}", step.name));
        out.open("table").open("thead").open("tr");
        const NAMES: [&str; 7] = ["taken", "pair", "tier", "corner", "edge", "found", "its line"];
        for name in NAMES {
            out.open("th").attr("scope", "col").text(name).close();
        }
        out.close().close().open("tbody");
        for (label, line) in labels(&step.lines) {
            let Body::Cells(cells) = &line.body else { continue };
            out.open("tr").open("th").attr("scope", "row").text(label).close();
            for (cell, name) in cells.iter().zip(&NAMES[1..]) {
                out.open("td").attr("data-is", name);
                inline(out, cell);
                out.close();
            }
            out.close();
        }
        out.close().close().close().line();
    }
    for (label, line) in labels(&step.lines) {
        let Body::Words(phrase) = &line.body else { continue };
        out.open("p").attr("class", if label == "stopped" { "pause" } else { "said" });
        out.leaf("strong", crate::report::words::capital(label)).text(": ");
        inline(out, phrase);
        out.close().line();
    }
}

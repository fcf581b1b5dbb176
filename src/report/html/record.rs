//! The record on a page: the table of the steps as the story has it, and under each row its tokens, every one a link to
//! its moment.

use super::blocks;
use crate::annotation::{Annotation, Step};
use crate::report::markup::Markup;
use crate::story::blocks::{Phrase, Table};

/// Writes it. `key` is put before ids.
pub(super) fn write(out: &mut Markup, annotation: &Annotation, table: Option<&Table>, key: &str) {
    out.open("section").attr("class", "rec").attr("id", format_args!("{key}record"));
    out.attr("aria-label", "the turns as written");
    out.open("p")
        .attr("class", "scr")
        .attr("id", format_args!("{key}m=0"))
        .open("span")
        .text("scramble")
        .close();
    out.text(" ").text(&annotation.scramble).close();
    let rows: Vec<(usize, &Step)> =
        annotation.steps.iter().enumerate().filter(|(_, step)| step.from < step.to).collect();
    let Some(table) = table else {
        for (_, step) in rows {
            out.open("p").attr("class", "toks");
            tokens(out, annotation, step, key);
            out.close();
        }
        out.close().line();
        return;
    };
    out.open("table").open("thead").open("tr");
    for column in &table.columns {
        let title = column.heading();
        out.open("th").attr("scope", "col").attr("class", class(&column.title, column.figures));
        out.text(if title.is_empty() { "easier" } else { &title }).close();
    }
    out.close().close().line();
    let mut cells = table.rows.iter();
    for (n, step) in rows {
        out.open("tbody").attr("data-step", n);
        // The story leaves out steps without turns.
        let blank = vec![Phrase::words(step.title())];
        let row = if step.obtm > 0 { cells.next().unwrap_or(&blank) } else { &blank };
        out.open("tr").attr("class", "figures");
        for (k, column) in table.columns.iter().enumerate() {
            let empty = Phrase::new();
            let cell = row.get(k).unwrap_or(&empty);
            if k == 0 {
                out.open("th").attr("scope", "row").attr("class", "c-step");
                out.open("a").attr("href", format_args!("#{key}m={}", step.from));
                out.attr("data-m", step.from).text(cell.plain()).close().close();
                continue;
            }
            out.open("td").attr("class", class(&column.title, column.figures));
            blocks::inline(out, cell);
            out.close();
        }
        out.close().open("tr").attr("class", "toks").open("td").attr("colspan", table.columns.len());
        tokens(out, annotation, step, key);
        out.close().close().close().line();
    }
    if let Some(sums) = &table.sums {
        out.open("tbody").attr("class", "sums").open("tr").attr("class", "figures");
        for (k, (cell, column)) in sums.iter().zip(&table.columns).enumerate() {
            out.open("td").attr("class", class(&column.title, column.figures));
            if k == 0 {
                out.text("together");
            } else {
                blocks::inline(out, cell);
            }
            out.close();
        }
        out.close().close();
    }
    out.close().line();
    if !table.key.is_empty() {
        let key: Vec<_> = table.key.iter().map(Phrase::plain).collect();
        out.open("p").attr("class", "soft").text(key.join(" · ")).close();
    }
    out.close().line();
}

/// The tokens of a step, each with the moment behind it.
fn tokens(out: &mut Markup, annotation: &Annotation, step: &Step, key: &str) {
    for m in step.from + 1..=step.to {
        let token = annotation.moments[m].spelled().unwrap_or_default();
        out.open("a").attr("class", "tok").attr("id", format_args!("{key}m={m}"));
        out.attr("href", format_args!("#{key}m={m}")).attr("data-m", m).text(token).close().text(" ");
    }
}

/// A class for a column, by which a narrow page finds it a place.
fn class(title: &str, figures: bool) -> String {
    let name = match title {
        "" => "more",
        title => title,
    };
    format!("c-{name}{}", if figures { " num" } else { "" })
}

//! Blocks as CommonMark, with tables, which are the one thing beyond it.

use super::{code, escape};
use crate::report::words;
use crate::story::blocks::{Block, Body, Line, Phrase, Run, StepBlock, Table};

/// A phrase as inline CommonMark.
pub(in crate::report) fn inline(phrase: &Phrase) -> String {
    let mut out = String::new();
    for run in &phrase.runs {
        match run {
            Run::Turns(text) => out.push_str(&code(text)),
            Run::Strong(text) | Run::Stop(text) => out.push_str(&format!("**{}**", escape(text))),
            Run::Fault(text) => out.push_str(&format!("**{}**", escape(text))),
            // Escaping folds white space, which here parts the words from their neighbours.
            Run::Words(_)
            | Run::Dim(_)
            | Run::Term(_)
            | Run::Pair(_)
            | Run::PairFirst(_)
            | Run::Colour(_) => {
                let text = run.plain();
                let (start, end) = (text.starts_with(' '), text.ends_with(' ') && text.len() > 1);
                out.push_str(if start { " " } else { "" });
                out.push_str(&escape(&text));
                out.push_str(if end { " " } else { "" });
            }
        }
    }
    out.trim().to_owned()
}

/// A block and the empty line after it; lanes and gaps are the caller's.
pub(crate) fn block(block: &Block, level: usize) -> String {
    let heading = |text: &str| format!("{} {}\n\n", "#".repeat(level), escape(text));
    match block {
        Block::Title { words, figure } => {
            let figure = if figure.is_empty() { String::new() } else { format!("\n\n{}", escape(figure)) };
            format!("# {}{figure}\n\n", escape(&words.plain()))
        }
        Block::Heading(text) => heading(text),
        Block::Paragraph(words) => format!("{}\n\n", inline(words)),
        Block::Items(items) => {
            let items: Vec<String> = items
                .iter()
                .map(|item| format!("- **{}** {}", escape(&item.figure), inline(&item.words)))
                .collect();
            format!("{}\n\n", items.join("\n"))
        }
        Block::Table(table) => set_table(table),
        Block::Step(step) => lines(step),
        Block::Lanes | Block::Gap => String::new(),
    }
}

fn row(cells: impl IntoIterator<Item = String>) -> String {
    format!("| {} |\n", cells.into_iter().collect::<Vec<_>>().join(" | "))
}

fn set_table(table: &Table) -> String {
    let title = |n: usize| {
        let column = &table.columns[n];
        let over = column.over.as_ref().map_or(String::new(), |over| format!("{over} "));
        escape(&format!("{over}{}", column.title))
    };
    let mut out = row((0..table.columns.len()).map(title));
    out.push_str(&row(table.columns.iter().map(|column| if column.figures { "--:" } else { "---" }.into())));
    for cells in table.rows.iter().chain(&table.sums) {
        out.push_str(&row(cells.iter().map(inline)));
    }
    out.push('\n');
    if !table.key.is_empty() {
        out.push_str(&table.key.iter().map(inline).collect::<Vec<_>>().join(" · "));
        out.push_str("\n\n");
    }
    out
}

/// What is to be said of a step: cells as a table, sentences as a list.
pub(super) fn lines(step: &StepBlock) -> String {
    let cells: Vec<(&str, &[Phrase])> = labels(&step.lines)
        .filter_map(|(label, line)| match &line.body {
            Body::Cells(cells) => Some((label, cells.as_slice())),
            Body::Words(_) => None,
        })
        .collect();
    let mut out = String::new();
    if !cells.is_empty() {
        out.push_str(&row(["", "pair", "tier", "corner", "edge", "found", "its line"].map(String::from)));
        out.push_str(&row(std::iter::repeat_n("---".to_owned(), 7)));
        for (label, cells) in cells {
            out.push_str(&row(std::iter::once(label.to_owned()).chain(cells.iter().map(inline))));
        }
        out.push('\n');
    }
    let words: Vec<String> = labels(&step.lines)
        .filter_map(|(label, line)| match &line.body {
            Body::Words(phrase) => Some(format!("- {}: {}", words::capital(label), inline(phrase))),
            Body::Cells(_) => None,
        })
        .collect();
    if !words.is_empty() {
        out.push_str(&format!("{}\n\n", words.join("\n")));
    }
    out
}

/// Each line with its label, or that of the line above which it goes on.
pub(crate) fn labels(lines: &[Line]) -> impl Iterator<Item = (&'static str, &Line)> {
    let mut label = "";
    lines.iter().map(move |line| {
        if !line.label.is_empty() {
            label = line.label;
        }
        (label, line)
    })
}

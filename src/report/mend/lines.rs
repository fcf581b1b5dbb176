//! The lines a repair touches, before and after, with carets.

use owo_colors::OwoColorize;

use crate::mend::text::Rewrite;
use crate::report::look::{Look, columns, harmless};

/// For every line that is rewritten: the line before, carets, the line after, carets.
pub(super) fn before_and_after(text: &str, rewrites: &[Rewrite], look: &Look) -> String {
    let line_start = |at: usize| text[..at].rfind('\n').map_or(0, |at| at + 1);
    let mut out = String::new();
    for group in rewrites.chunk_by(|a, b| line_start(a.range.start) == line_start(b.range.start)) {
        let start = line_start(group[0].range.start);
        let last = group[group.len() - 1].range.end;
        let end = last + text[last..].find(['\n', '\r']).unwrap_or(text.len() - last);
        let (mut after, mut old, mut new) = (String::new(), Vec::new(), Vec::new());
        let mut at = start;
        for rewrite in group {
            let from = rewrite.range.start.max(at);
            after.push_str(&text[at..from]);
            old.push(trimmed(text, rewrite.range.start - start..rewrite.range.end - start, start));
            new.push(after.len()..after.len() + rewrite.with.len());
            after.push_str(&rewrite.with);
            at = rewrite.range.end.max(from);
        }
        after.push_str(&text[at..end]);
        let new = new.into_iter().map(|range| trimmed(&after, range, 0)).collect::<Vec<_>>();
        out.push_str(&drawn("before", &text[start..end], &old, true, look));
        out.push_str(&drawn("after", &after, &new, false, look));
    }
    out
}

/// The range of a line without blanks at its ends. `line` begins at `start` of `text`.
fn trimmed(text: &str, range: std::ops::Range<usize>, start: usize) -> std::ops::Range<usize> {
    let part = &text[start + range.start..start + range.end];
    let ahead = part.len() - part.trim_start().len();
    let length = part.trim().len();
    if length == 0 { range.start..range.start } else { range.start + ahead..range.start + ahead + length }
}

/// A line and, under it, what is marked in it. An empty mark is a place between two tokens.
fn drawn(label: &str, line: &str, marks: &[std::ops::Range<usize>], places: bool, look: &Look) -> String {
    let indentation = line.len() - line.trim_start().len();
    let width = look.width.saturating_sub(14).max(20);
    let column = |at: usize| columns(&harmless(&line[indentation..at.max(indentation)]));
    let first = marks.iter().map(|mark| column(mark.start)).min().unwrap_or(0);
    let shown = harmless(line.trim());
    // A long line is shown from a little before its first mark on.
    let skip = if columns(&shown) > width && first > width * 2 / 3 { first - width / 3 } else { 0 };
    let mut text: String = shown.chars().skip(skip).take(width).collect();
    if shown.chars().count() > skip + width {
        text.pop();
        text.push_str(if look.unicode { "…" } else { "~" });
    }
    let mut carets = String::new();
    for mark in marks {
        let length = if mark.is_empty() {
            usize::from(places)
        } else {
            columns(&harmless(&line[mark.clone()])).max(1)
        };
        let at = column(mark.start).saturating_sub(skip);
        if length > 0 && at + length <= width {
            carets.push_str(&" ".repeat(at.saturating_sub(carets.len())));
            carets.push_str(&"^".repeat(length));
        }
    }
    let mut out = format!("     {label:<6}  {text}\n");
    if !carets.is_empty() {
        let style = if places { look.palette.bad } else { look.palette.good };
        out.push_str(&format!("             {}\n", carets.style(style)));
    }
    out
}

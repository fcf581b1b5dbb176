//! The lines a repair touches, before and after, with carets.

use owo_colors::OwoColorize;

use crate::harmless::harmless;
use crate::mend::text::Rewrite;
use crate::report::look::{Look, columns};

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
        let before = &text[start..end];
        let skip = skipped(before, &old, look).max(skipped(&after, &new, look));
        out.push_str(&drawn("before", before, &old, skip, true, look));
        out.push_str(&drawn("after", &after, &new, skip, false, look));
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

/// A line as it is shown, with as many columns for every part of it as that part alone.
fn shown(text: &str) -> String {
    harmless(text).replace('\t', " ")
}

/// Columns for the text of a line.
fn room(look: &Look) -> usize {
    look.width.saturating_sub(14).max(20)
}

/// The column of a byte of a line that is shown without its indentation.
fn column(line: &str, at: usize) -> usize {
    let indentation = line.len() - line.trim_start().len();
    columns(&shown(&line[indentation..at.max(indentation)]))
}

/// How many columns of a long line are left out, so that its first mark is seen with something before it.
fn skipped(line: &str, marks: &[std::ops::Range<usize>], look: &Look) -> usize {
    let width = room(look);
    let first = marks.iter().map(|mark| column(line, mark.start)).min().unwrap_or(0);
    let last = marks.iter().map(|mark| column(line, mark.end)).max().unwrap_or(0);
    if last + 2 > width { first.saturating_sub(width / 3) } else { 0 }
}

/// A line and, under it, what is marked in it. An empty mark is a place between two tokens.
fn drawn(
    label: &str,
    line: &str,
    marks: &[std::ops::Range<usize>],
    skip: usize,
    places: bool,
    look: &Look,
) -> String {
    let width = room(look);
    let more = if look.unicode { '…' } else { '~' };
    let shown = shown(line.trim());
    let mut text: String = shown.chars().skip(skip).take(width).collect();
    if skip > 0 && !text.is_empty() {
        text.replace_range(..text.chars().next().map_or(0, char::len_utf8), more.encode_utf8(&mut [0; 4]));
    }
    if shown.chars().count() > skip + width {
        text.pop();
        text.push(more);
    }
    let mut carets = String::new();
    for mark in marks {
        let length = if mark.is_empty() {
            usize::from(places)
        } else {
            columns(&self::shown(&line[mark.clone()])).max(1)
        };
        let at = column(line, mark.start).saturating_sub(skip);
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

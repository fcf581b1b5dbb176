//! How the lines of a record were taken that the strict grammar has read.

use crate::diagnostic::Span;
use crate::notation::{self, Turns};
use crate::record::Record;

use super::words::{self, Role};
use super::{Taken, What};

/// Every stretch of the record's text with what it is, in the order of the text.
pub(super) fn taken(source: &str, record: &Record, number: usize) -> Vec<Taken> {
    let mut taken: Vec<Taken> = Vec::new();
    let mut add = |span: Span, what: What| {
        if span.end > span.start {
            taken.push(Taken { span, what, record: number });
        }
    };
    for (turns, what) in [(&record.scramble, What::Scramble), (&record.solution, What::Solution)] {
        for span in lines_of(source, turns) {
            add(with_brackets(source, span), what);
        }
        for comment in &turns.comments {
            add(comment.span, What::Remark);
        }
    }
    let is_turns = |at: usize| {
        [&record.scramble, &record.solution].iter().any(|turns| turns.span.start <= at && at < turns.span.end)
    };
    let mut at = record.span.start;
    for line in source[record.span.range()].split_inclusive('\n') {
        let bare = line.trim();
        let start = at + (line.len() - line.trim_start().len());
        at += line.len();
        if bare.is_empty() || is_turns(start) {
            continue;
        }
        let whole = Span::new(start, start + bare.len());
        let name = bare.split(':').next().unwrap_or_default();
        let label = Span::new(start, start + (name.len() + 1).min(bare.len()));
        match words::role(name).filter(|_| name.len() < bare.len()) {
            _ if bare.starts_with('#') || bare.starts_with("//") => add(whole, What::Remark),
            Some(Role::Scramble | Role::Solution) => add(label, What::Label),
            Some(Role::Time) => add(whole, What::Time),
            Some(Role::Step) => add(label, What::StepLabel),
            Some(role) => add(whole, What::Field(role)),
            None => add(whole, What::Field(Role::Notes)),
        }
    }
    taken.sort_by_key(|taken| taken.span);
    taken
}

/// With the brackets right around, and the count behind one.
fn with_brackets(source: &str, span: Span) -> Span {
    let (before, behind) = (&source[..span.start], &source[span.end..]);
    let open = before.trim_end_matches([' ', '(', '[']);
    let opened = before[open.len()..].find(['(', '[']).map_or(span.start, |at| open.len() + at);
    let mut end = span.end;
    for (at, c) in behind.char_indices() {
        match c {
            ' ' => continue,
            ')' | ']' => {}
            // What stands behind a bracket: how often it is played, or a prime.
            c if c.is_ascii_digit() || notation::is_prime(c) => {
                if !source[..span.end + at]
                    .trim_end_matches(|c: char| c.is_ascii_digit())
                    .ends_with([')', ']'])
                {
                    break;
                }
            }
            _ => break,
        }
        end = span.end + at + c.len_utf8();
    }
    Span::new(opened, end)
}

/// The turns and marks of each line.
fn lines_of(source: &str, turns: &Turns) -> Vec<Span> {
    let mut spans: Vec<Span> = turns.tokens.iter().map(|token| token.span).collect();
    spans.extend(turns.marks.iter().map(|mark| mark.span));
    spans.sort_unstable();
    let mut lines: Vec<Span> = Vec::new();
    for span in spans {
        match lines.last_mut() {
            Some(line) if !source[line.end.min(span.start)..span.start].contains('\n') => {
                line.end = line.end.max(span.end);
            }
            _ => lines.push(span),
        }
    }
    lines
}

//! A [`Record`] to YAML.

use std::fmt::Write;

use crate::hands::Hands;
use crate::harmless::{harmless, is_harmless};
use crate::notation::{self, Turns};

use super::{DEFAULT_SIGHT, Record};

/// The record as a YAML document that reads back as the same record: same fields, tokens, marks and comments.
/// Turns are in the form of the Regulations and groups are multiplied out; see [`notation::print()`].
#[must_use]
pub fn print(record: &Record) -> String {
    printed(record, notation::print)
}

/// [`print()`], but with tokens and groups as their writer spelled them.
#[must_use]
pub fn print_as_written(record: &Record) -> String {
    printed(record, notation::print_as_written)
}

fn printed(record: &Record, turns: fn(&Turns) -> String) -> String {
    let mut text = String::new();
    for remark in &record.remarks {
        push_line(&mut text, format_args!("{}", format!("# {remark}").trim_end()));
    }
    for (name, words) in [("title", &record.title), ("solver", &record.solver), ("date", &record.date)] {
        if let Some(words) = words {
            push_text(&mut text, name, words);
        }
    }
    push_turns(&mut text, "scramble", &record.scramble, turns);
    push_turns(&mut text, "solution", &record.solution, turns);
    if record.sight_given.is_some() || record.sight != DEFAULT_SIGHT {
        push_line(&mut text, format_args!("sight: {}", record.sight));
    }
    if record.hands != Hands::Two {
        push_line(&mut text, format_args!("hands: {}", record.hands));
    }
    if let Some(fps) = record.fps {
        push_line(&mut text, format_args!("fps: {fps}"));
    }
    if let Some((time, _)) = record.time {
        push_line(&mut text, format_args!("time: {time}"));
    }
    if let Some((until, _)) = record.until {
        push_line(&mut text, format_args!("until: {until}"));
    }
    if let Some(notes) = &record.notes {
        push_text(&mut text, "notes", notes);
    }
    text
}

fn push_line(text: &mut String, line: std::fmt::Arguments<'_>) {
    // Writing to a `String` cannot fail.
    _ = writeln!(text, "{line}");
}

fn push_turns(text: &mut String, name: &str, turns: &Turns, print: fn(&Turns) -> String) {
    let written = print(turns);
    if written.is_empty() {
        return;
    }
    // A token with letters alone could be `y` or `null`; a comment or a mark has signs that YAML knows.
    let simple = turns.comments.is_empty() && turns.marks.is_empty() && turns.unread.is_empty();
    if simple && !written.contains(['\n', '?', '.']) {
        push_line(text, format_args!("{name}: {written}"));
    } else {
        push_block(text, name, &written);
    }
}

/// Text that is not turns, in the plainest style that reads back as it is.
fn push_text(text: &mut String, name: &str, words: &str) {
    if words.contains('\n') && is_block(words) {
        push_block(text, name, words);
    } else if is_plain(words) {
        push_line(text, format_args!("{name}: {words}"));
    } else {
        push_quoted(text, name, words);
    }
}

fn push_block(text: &mut String, name: &str, words: &str) {
    if !is_block(words) {
        push_quoted(text, name, words);
        return;
    }
    push_line(text, format_args!("{name}: |"));
    for line in words.split('\n') {
        push_line(text, format_args!("{}", format!("  {line}").trim_end_matches(' ')));
    }
}

/// Whether a literal block gives the words back: no control characters, no blanks that nobody sees.
fn is_block(words: &str) -> bool {
    !words.starts_with([' ', '\n'])
        && !words.ends_with('\n')
        && words.split('\n').all(|line| !line.ends_with(' '))
        && !words.contains('\t')
        && is_seen(words)
}

fn is_plain(words: &str) -> bool {
    let first = words.chars().next();
    first.is_some_and(char::is_alphanumeric)
        && !words.ends_with([' ', ':'])
        && !words.contains(": ")
        && !words.contains(" #")
        && !matches!(words, "null" | "Null" | "NULL")
        && !words.contains(['\n', '\t'])
        && is_seen(words)
}

/// Whether everything in it is seen and stays as it is; else it is quoted, and what is not harmless is written by
/// its number.
fn is_seen(words: &str) -> bool {
    harmless(words) == words
}

fn push_quoted(text: &mut String, name: &str, words: &str) {
    let mut quoted = String::with_capacity(words.len() + 2);
    for c in words.chars() {
        match c {
            '"' | '\\' => quoted.extend(['\\', c]),
            '\n' => quoted.push_str("\\n"),
            '\t' => quoted.push_str("\\t"),
            c if is_harmless(c) => quoted.push(c),
            c if c > '\u{FFFF}' => _ = write!(quoted, "\\U{:08X}", u32::from(c)),
            c => _ = write!(quoted, "\\u{:04X}", u32::from(c)),
        }
    }
    push_line(text, format_args!("{name}: \"{quoted}\""));
}

//! A source with a repair made: only the tokens concerned are rewritten, everything else stays byte for byte.
//!
//! The writer's own ways are kept: `r` or `Rw`, a typographic prime, a doubled one inside single quotes. After
//! that the text is read again, and unless it comes to exactly the repaired record it is refused.

mod hand;
mod page;
mod patch;

use std::fmt;
use std::ops::Range;

use crate::diagnostic::Source;
use crate::notation::{Comment, Turns};
use crate::record::Record;
use crate::steps::claims;

use crate::mend::Repair;
use crate::mend::change::{Change, Part, Side, inserted_at, waiting};
use hand::Hand;
use page::Page;

pub use patch::patch;

/// The repair cannot be written into this text: it would not be read back as meant.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct CannotWrite;

impl fmt::Display for CannotWrite {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("the repair cannot be written into this text without changing more than its tokens")
    }
}

impl std::error::Error for CannotWrite {}

/// The bytes of a source that are replaced.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Rewrite {
    /// What is replaced; empty for an insertion.
    pub range: Range<usize>,
    /// What stands there instead.
    pub with: String,
}

/// The whole text with one record of it repaired. `index` counts the records of the source from 0.
///
/// # Errors
/// [`CannotWrite`] if no way of writing it is read back as the repaired record.
pub fn mended(
    source: &Source,
    index: usize,
    record: &Record,
    repair: &Repair,
) -> Result<String, CannotWrite> {
    rewrites(source, index, record, repair).map(|rewrites| apply(&source.text, &rewrites))
}

/// What [`mended`] rewrites, in order of place.
///
/// # Errors
/// The same.
pub fn rewrites(
    source: &Source,
    index: usize,
    record: &Record,
    repair: &Repair,
) -> Result<Vec<Rewrite>, CannotWrite> {
    // Where brackets or marks stand beside an insertion there are several places for it; nearly always the
    // first will do.
    let choices: Vec<Vec<Vec<Rewrite>>> = repair.changes.iter().map(|c| ways(source, record, c)).collect();
    let n = choices.iter().map(Vec::len).product::<usize>().min(64);
    let own = source.clamp(record.span);
    let inside = |rewrite: &Rewrite| own.start <= rewrite.range.start && rewrite.range.end <= own.end;
    let page = Page::of(source, record)
        .filter(|_| choices.iter().flatten().flatten().all(inside))
        .unwrap_or_else(|| Page::read(&source.text, 0, index));
    (0..n)
        .map(|mut pick| {
            let mut rewrites: Vec<Rewrite> = Vec::new();
            for ways in &choices {
                rewrites.extend(ways[pick % ways.len()].iter().cloned());
                pick /= ways.len();
            }
            rewrites.sort_by_key(|rewrite| (rewrite.range.start, rewrite.range.end));
            rewrites
        })
        .find(|rewrites| page.reads_back(rewrites, record, repair))
        .ok_or(CannotWrite)
}

/// The text with bytes replaced; `rewrites` in order of place.
#[must_use]
pub fn apply(text: &str, rewrites: &[Rewrite]) -> String {
    let mut out = String::with_capacity(text.len() + 16);
    let mut at = 0;
    for rewrite in rewrites {
        // Two changes that share a blank between them.
        let start = rewrite.range.start.max(at);
        out.push_str(&text[at..start]);
        out.push_str(&rewrite.with);
        at = rewrite.range.end.max(start);
    }
    out.push_str(&text[at..]);
    out
}

/// The ways to write one change, the best first.
fn ways(source: &Source, record: &Record, change: &Change) -> Vec<Vec<Rewrite>> {
    let (turns, style) = match change.part {
        Part::Scramble => (&record.scramble, record.scramble_style),
        Part::Solution => (&record.solution, record.solution_style),
    };
    let hand = Hand::of(source, record, style);
    let (range, moves) = change.written();
    if let Some((last, _, count)) = change.count {
        return vec![recount(&source.text, turns.tokens[last].span.end, count).into_iter().collect()];
    }
    let text = |i: usize| source.text.get(turns.tokens[i].span.range()).unwrap_or("");
    if let Some((first, second)) = &change.lines {
        return vec![exchange(&source.text, turns, first, second)];
    }
    if range.is_empty() && change.side == Side::OwnLine {
        let tokens = hand.write_all(moves);
        let mut ways = own_line(source, turns, range.start, &tokens);
        ways.extend(insertions(source, turns, range.start, Side::InFront, &tokens));
        return ways;
    }
    if range.is_empty() {
        return insertions(source, turns, range.start, change.side, &hand.write_all(moves));
    }
    if moves.is_empty() {
        return vec![range.map(|i| removal(&source.text, turns.tokens[i].span.range())).collect()];
    }
    if range.len() == 2 && moves.len() == 2 {
        // Neighbours exchanged: each keeps its spelling.
        let swap =
            |i: usize, with: usize| Rewrite { range: turns.tokens[i].span.range(), with: text(with).into() };
        return vec![vec![swap(range.start, range.start + 1), swap(range.start + 1, range.start)]];
    }
    let span = turns.tokens[range.start].span.start..turns.tokens[range.end - 1].span.end;
    let with = hand.write_all(moves);
    let ahead = source.text[..span.start].chars().next_back();
    let spaced = ahead.is_some_and(|c| c.is_alphanumeric() || c == '\'');
    let plain = vec![Rewrite { range: span.clone(), with: with.clone() }];
    let apart = vec![Rewrite { range: span, with: format!(" {with} ") }];
    if spaced { vec![plain, apart] } else { vec![plain] }
}

/// The count of the group that closes behind `at`, rewritten.
fn recount(text: &str, at: usize, count: usize) -> Option<Rewrite> {
    let close = at + text[at..].find([')', ']'])?;
    let digits = close + text[close..].find(|c: char| c.is_ascii_digit())?;
    let end = text[digits..].find(|c: char| !c.is_ascii_digit()).map_or(text.len(), |length| digits + length);
    Some(Rewrite { range: digits..end, with: count.to_string() })
}

/// The bytes of the line that these tokens stand on, without its indentation and its end.
fn line_with(text: &str, turns: &Turns, tokens: &Range<usize>) -> Range<usize> {
    let spans = || turns.tokens[tokens.clone()].iter().map(|token| token.span);
    let first = spans().map(|span| span.start).min().unwrap_or(0);
    let last = spans().map(|span| span.end).max().unwrap_or(first);
    let start = text[..first].rfind('\n').map_or(0, |at| at + 1);
    let end = text[last..].find('\n').map_or(text.len(), |n| last + n);
    let line = &text[start..end];
    start + line.len() - line.trim_start().len()..end - (line.len() - line.trim_end().len())
}

/// Two lines in each other's place, comments and all.
fn exchange(text: &str, turns: &Turns, first: &Range<usize>, second: &Range<usize>) -> Vec<Rewrite> {
    let [first, second] = [first, second].map(|tokens| line_with(text, turns, tokens));
    let put = |range: &Range<usize>, with: &Range<usize>| Rewrite {
        range: range.clone(),
        with: text[with.clone()].to_owned(),
    };
    vec![put(&first, &second), put(&second, &first)]
}

/// Tokens on a line of their own: that of the comment that waits for them, else a new one.
fn own_line(source: &Source, turns: &Turns, moment: usize, tokens: &str) -> Vec<Vec<Rewrite>> {
    let text = &source.text;
    let at = |place: usize, with: String| vec![Rewrite { range: place..place, with }];
    if let Some(waiting) = waiting(turns, moment) {
        return vec![at(turns.comments[waiting].span.start, format!("{tokens} "))];
    }
    let n = turns.tokens.len();
    if n == 0 {
        return Vec::new();
    }
    // Like the line beside it: as far in, and with the same line end.
    let beside = moment.min(n - 1);
    let line = line_with(text, turns, &(beside..beside + 1));
    let start = text[..line.start].rfind('\n').map_or(0, |at| at + 1);
    let indentation = &text[start..line.start];
    let end = if text[line.end..].starts_with("\r\n") { "\r\n" } else { "\n" };
    if moment < n {
        vec![at(line.start, format!("{tokens}{end}{indentation}"))]
    } else {
        vec![at(line.end, format!("{end}{indentation}{tokens}"))]
    }
}

/// A token taken out, with the blanks that parted it from the next.
fn removal(text: &str, span: Range<usize>) -> Rewrite {
    let blanks_behind = text[span.end..].len() - text[span.end..].trim_start_matches([' ', '\t']).len();
    let before = text[..span.start].chars().next_back();
    let starts = before.is_none_or(|c| c.is_whitespace() || c == '(' || c == '[');
    let ends_line = text[span.end + blanks_behind..].chars().next().is_none_or(|c| c == '\n' || c == '\r');
    if starts && !ends_line {
        return Rewrite { range: span.start..span.end + blanks_behind, with: String::new() };
    }
    let blanks_before = text[..span.start].len() - text[..span.start].trim_end_matches([' ', '\t']).len();
    // At the beginning of a line the blanks are its indentation: they stay.
    let indentation = text[..span.start - blanks_before].chars().next_back().is_none_or(|c| c == '\n');
    let start = if indentation { span.start } else { span.start - blanks_before };
    Rewrite { range: start..span.end, with: String::new() }
}

/// The places between two tokens where another may stand, the wanted side first.
fn insertions(source: &Source, turns: &Turns, moment: usize, side: Side, token: &str) -> Vec<Vec<Rewrite>> {
    let text = &source.text;
    let at = inserted_at(turns, moment, side).start;
    let other = if side == Side::Behind { Side::InFront } else { Side::Behind };
    let mut places = vec![at, inserted_at(turns, moment, other).start];
    // A last adjustment goes with the words that are there for it: `// AUF` alone on its line.
    if moment == turns.tokens.len()
        && let Some(waiting) = turns.comments.iter().rfind(|comment| waits_for_a_turn(text, comment))
    {
        places.insert(0, waiting.span.start);
    }
    // Brackets between the two tokens: outside them as well as inside.
    let (from, to) = (places[places.len() - 2], places[places.len() - 1]);
    let (from, to) = (from.min(to), from.max(to));
    if moment > 0 && moment < turns.tokens.len() {
        for (i, c) in text[from..to].char_indices() {
            match c {
                '(' | '[' => places.push(from + i),
                ')' | ']' => {
                    let tail = &text[from + i + 1..to];
                    let count = tail.find(|c: char| c.is_whitespace()).unwrap_or(tail.len());
                    places.push(from + i + 1 + count);
                    places.push(from + i + 1);
                }
                _ => {}
            }
        }
    }
    let mut ways: Vec<Vec<Rewrite>> = Vec::new();
    for place in places {
        let before = text[..place].chars().next_back();
        let after = text[place..].chars().next();
        let open = |c: char| {
            c.is_whitespace() || matches!(c, '(' | '[' | '"') || (c == '\'' && at_value_start(text, place))
        };
        let close = |c: char| c.is_whitespace() || matches!(c, ')' | ']' | '"');
        let left = if before.is_none_or(open) { "" } else { " " };
        // In front of the next token, or behind the one before, with a blank on the side that has none.
        let right = if after.is_none_or(close) { "" } else { " " };
        let way = vec![Rewrite { range: place..place, with: format!("{left}{token}{right}") }];
        if !ways.contains(&way) {
            ways.push(way);
        }
    }
    ways
}

/// Whether the comment claims the final adjustment and stands on a line without turns.
fn waits_for_a_turn(text: &str, comment: &Comment) -> bool {
    let line = text[..comment.span.start].rfind('\n').map_or(0, |at| at + 1);
    text[line..comment.span.start].trim().is_empty() && claims::is_adjustment(&comment.text)
}

/// Whether the quote before `place` begins a value rather than being a prime: a colon stands before it.
fn at_value_start(text: &str, place: usize) -> bool {
    text[..place].strip_suffix('\'').is_some_and(|before| before.trim_end_matches([' ', '\t']).ends_with(':'))
}

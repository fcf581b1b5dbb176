//! The short cut: the plain kind of document that nearly every record is, read by lines.

use std::borrow::Cow;

use crate::diagnostic::Span;
use crate::record::fields::{Field, Scalar, Value};
use crate::record::{Style, values};

/// The fields of a document that has nothing but `name: plain text`, `name: |` with a block below, comments
/// and blank lines. `None` for every other document, right or wrong.
pub(super) fn fields(source: &str, document: Span) -> Option<Vec<Field<'_>>> {
    let text = &source[document.range()];
    // No control characters; written so that the compiler can take many bytes at a time.
    if text.bytes().fold(false, |found, byte| found | ((byte < b' ') & (byte != b'\n')) | (byte == 0x7F)) {
        return None;
    }
    // Of those beyond ASCII, YAML forbids the first controls and the two that are no characters (YAML 1.2.2, 5.1).
    let rare = text.bytes().fold(false, |found, byte| found | (byte == 0xEF) | (byte == 0xC2));
    if rare && text.chars().any(|c| matches!(c, '\u{80}'..='\u{9F}' | '\u{FFFE}' | '\u{FFFF}' | '\u{FEFF}')) {
        return None;
    }
    let mut fields = Vec::with_capacity(8);
    let mut rest = Lines { source, at: document.start, end: document.end };
    while let Some((at, line)) = rest.next() {
        if line.is_empty() || line.starts_with('#') || line.bytes().all(|byte| byte == b' ') {
            continue;
        }
        let name = line.bytes().position(|byte| !byte.is_ascii_alphabetic())?;
        let after = line[name..].strip_prefix(':').filter(|_| name > 0)?;
        let bare = after.trim_start_matches(' ');
        if bare.len() == after.len() && !after.is_empty() {
            return None;
        }
        let place = at + line.len() - bare.len();
        let value = if bare.is_empty() || bare.starts_with('#') {
            Value::Empty(Span::new(at + name + 1, at + name + 1))
        } else if let Some(header) = bare.strip_prefix('|') {
            let header = header.strip_prefix(['-', '+']).unwrap_or(header);
            let comment = header.trim_start_matches(' ');
            let is_comment = comment.starts_with('#') && comment.len() < header.len();
            if !comment.is_empty() && !is_comment {
                return None;
            }
            block(&mut rest)?
        } else {
            plain(bare, place)?
        };
        fields.push(Field { name: Cow::Borrowed(&line[..name]), place: Span::new(at, at + name), value });
    }
    Some(fields)
}

/// Lines without their ends.
struct Lines<'a> {
    source: &'a str,
    at: usize,
    end: usize,
}

impl<'a> Iterator for Lines<'a> {
    type Item = (usize, &'a str);

    fn next(&mut self) -> Option<(usize, &'a str)> {
        if self.at >= self.end {
            return None;
        }
        let start = self.at;
        let rest = &self.source[start..self.end];
        let length = rest.find('\n').unwrap_or(rest.len());
        self.at = start + length + 1;
        Some((start, &rest[..length]))
    }
}

fn plain(bare: &str, place: usize) -> Option<Value<'_>> {
    if bare.starts_with(|c| "[]{}#&*!|>'\"%@`,-?:".contains(c)) {
        return None;
    }
    let text = bare.find(" #").map_or(bare, |at| &bare[..at]).trim_end_matches(' ');
    if text.contains(": ") || text.ends_with(':') {
        return None;
    }
    let span = Span::new(place, place + text.len());
    Some(Value::of(Scalar { span, style: Style::Plain, text: Some(Cow::Borrowed(text)) }))
}

/// The indented lines that follow.
fn block<'a>(rest: &mut Lines<'a>) -> Option<Value<'a>> {
    let begin = rest.at.min(rest.end);
    let mut indent = 0;
    let mut end = begin;
    loop {
        let before = rest.at;
        let Some((at, line)) = rest.next() else { break };
        let depth = line.bytes().position(|byte| byte != b' ');
        match depth {
            // Blank lines before the first full one belong to the text, under rules of their own.
            None if indent == 0 => return None,
            None => {}
            Some(0) => {
                rest.at = before;
                break;
            }
            Some(depth) if indent == 0 => {
                indent = depth;
                end = at + line.len();
            }
            Some(depth) if depth < indent => return None,
            Some(_) => end = at + line.len(),
        }
    }
    let span = values::trimmed(rest.source, Span::new(begin, end));
    if indent == 0 {
        return None;
    }
    Some(Value::Text(Scalar { span, style: Style::Literal, text: None }))
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;
    use proptest::sample::select;

    use super::*;
    use crate::record::fields;
    use crate::record::yaml::events;

    const FIELDS: &[&str] = &[
        "title: Quay practice",
        "title: a:b",
        "title: a #b",
        "title: a#b",
        "title:  x  ",
        "title: ~",
        "title: null # none",
        "title: # none",
        "title: <x>",
        "title:",
        "title: é’ü",
        "title: a\u{FFFF}b",
        "title: a\u{FFFE}",
        "title: a\u{80}b",
        "title: a\u{85}b",
        "title: a\u{FEFF}b",
        "title: a\u{FF07}b",
        "title: a\u{A0}b",
        "solver: me, 'quoted' \"words\"",
        "scramble: R U F' # by hand",
        "scramble: R U F'",
        "# remark",
        "",
        "  # inside",
        "   ",
    ];

    const BLOCKS: &[&str] =
        &["solution: |", "solution: | # two-handed", "notes: |-", "scramble: |+ ", "notes: |"];

    const INSIDE: &[&str] = &[
        "  R U R' // cross: done",
        "  R U <1.0> # pair",
        "  text",
        "   deeper",
        "",
        "  ",
        "     ",
        " shallow",
    ];

    /// Lines that need the YAML reader, or are not YAML at all.
    const OTHER: &[&str] = &[
        "title: a: b",
        "title: 'x'",
        "title: \"x\"",
        "title: -x",
        "title: - x",
        "title: x:",
        "title:x",
        "title : x",
        "solution: |#x",
        "notes: |2",
        "- x",
        "x",
        "é: x",
        "...",
        "  more",
    ];

    fn lines() -> impl Strategy<Value = String> {
        let block = (select(BLOCKS), prop::collection::vec(select(INSIDE), 0..5))
            .prop_map(|(head, inside)| [&[head], &inside[..]].concat().join("\n"));
        prop_oneof![20 => select(FIELDS).prop_map(String::from), 20 => block, 1 => select(OTHER).prop_map(String::from)]
    }

    proptest! {
        #![proptest_config(ProptestConfig { cases: 4000, failure_persistence: None, ..ProptestConfig::default() })]

        /// What the fast reader accepts it reads as the YAML reader does. (It accepts about a third of these.)
        #[test]
        fn the_two_readers_agree(lines in prop::collection::vec(lines(), 1..6), cut in any::<bool>()) {
            let mut text = lines.join("\n");
            if !cut {
                text.push('\n');
            }
            let whole = Span::new(0, text.len());
            if let Some(fast) = super::fields(&text, whole) {
                let (slow, problem) = events::fields(&text, whole);
                prop_assert_eq!(problem, None, "{}", text);
                let fast = fields::record(&text, whole, &fast, Vec::new());
                let slow = fields::record(&text, whole, &slow, Vec::new());
                prop_assert_eq!(fast, slow, "{}", text);
            }
        }
    }
}

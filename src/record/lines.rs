//! Two readers of YAML by lines: one for the plain kind that nearly every record is, exact and fast, and one
//! that makes the best of a document that is not YAML.

use std::borrow::Cow;

use crate::diagnostic::{Diagnostic, Span};
use crate::notation;

use super::document::{is_fieldlike, key_line, lines};
use super::fields::{Field, Scalar, Value, nearest_name};
use super::quoted::is_single_quoted;
use super::{Style, values};

/// The fields of a document that has nothing but `name: plain text`, `name: |` with a block below, comments
/// and blank lines. `None` for every other document, right or wrong.
pub(super) fn fields(source: &str, document: Span) -> Option<Vec<Field<'_>>> {
    let text = &source[document.range()];
    // No control characters; written so that the compiler can take many bytes at a time.
    if text.bytes().fold(false, |found, byte| found | ((byte < b' ') & (byte != b'\n')) | (byte == 0x7F)) {
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

/// Whether the YAML was right but a single-quoted value swallowed the fields below it, because a prime at
/// its end was taken for the first half of a doubled one.
pub(super) fn swallowed(source: &str, fields: &[Field<'_>]) -> Option<Diagnostic> {
    fields.iter().find_map(|field| match &field.value {
        Value::Text(scalar) if scalar.style == Style::SingleQuoted => {
            let below = source[scalar.span.range()].split('\n').skip(1);
            below.filter_map(key_line).any(|(_, name, _)| is_fieldlike(name)).then(|| {
                Diagnostic::fault("yaml-syntax", scalar.span, "a quoted value that runs over other fields")
            })
        }
        _ => None,
    })
}

/// Whether what looks like fields is a scramble and the labelled lines of a solution: `Scramble: …`, then
/// `Cross: …`, `1st pair: …`.
pub(super) fn labelled(source: &str, fields: &[Field<'_>]) -> Option<Diagnostic> {
    let is = |field: &Field<'_>, known: &str| {
        field.name.eq_ignore_ascii_case(known) || nearest_name(&field.name) == Some(known)
    };
    let scramble = fields.iter().position(|field| is(field, "scramble"))?;
    if fields.iter().any(|field| is(field, "solution")) {
        return None;
    }
    let label = fields[scramble..].iter().filter(|field| !is_fieldlike(&field.name)).find(|field| {
        let Value::Text(scalar) = &field.value else { return false };
        let first = source[scalar.span.range()].split_whitespace().next().unwrap_or("");
        notation::parse_all(first, &notation::Options::default()).0.playable().next().is_some()
    })?;
    Some(Diagnostic::fault("yaml-syntax", label.place, "a label where a field should be"))
}

/// The fields of a document that is not YAML, as far as its lines show them, and what to say of it.
pub(super) fn recover(
    source: &str,
    document: Span,
    problem: Diagnostic,
) -> (Vec<Field<'_>>, Vec<Diagnostic>) {
    let text = &source[document.range()];
    let keys: Vec<_> = lines(text)
        .filter_map(|(at, line)| key_line(line).map(|key| (document.start + at, line, key)))
        .filter(|(_, _, (_, name, _))| is_fieldlike(name))
        .collect();
    let outer = keys.iter().map(|(_, _, (indent, ..))| *indent).min().unwrap_or(0);
    let keys: Vec<_> = keys.into_iter().filter(|(_, _, (indent, ..))| *indent == outer).collect();
    let mut fields = Vec::new();
    let mut said = Vec::new();
    for (n, &(at, line, (_, name, after))) in keys.iter().enumerate() {
        let end = keys.get(n + 1).map_or(document.end, |(next, ..)| *next);
        let value = at + line.len() - after.len();
        let start = at + line.find(name).unwrap_or(0);
        let place = Span::new(start, start + name.len());
        let region = values::trimmed(source, Span::new(value, end));
        fields.push(Field {
            name: Cow::Borrowed(name),
            place,
            value: rough(source, name, region, place, &mut said),
        });
    }
    split_labelled(source, &mut fields, &mut said);
    let tab = problem.message.contains("tab");
    if said.is_empty() || tab {
        let help = if tab {
            "indent with blanks, not with tabs"
        } else {
            "put text with a colon in double quotes, and turns below `solution: |`, indented by two blanks"
        };
        said.push(problem.with_help(help));
    }
    (fields, said)
}

fn rough<'a>(
    source: &'a str,
    name: &str,
    region: Span,
    place: Span,
    said: &mut Vec<Diagnostic>,
) -> Value<'a> {
    let written = &source[region.range()];
    if written.is_empty() {
        return Value::Empty(Span::new(place.end, place.end));
    }
    if is_single_quoted(written) {
        return Value::Text(Scalar { span: region, style: Style::SingleQuoted, text: None });
    }
    let raw = |span: Span| {
        let span = values::trimmed(source, span);
        Value::of(Scalar { span, style: Style::Plain, text: Some(Cow::Borrowed(&source[span.range()])) })
    };
    if written.starts_with('\'') {
        let first = region.first_line(source);
        let inner_end = first.start + source[first.range()].trim_end_matches('\'').len();
        let primes = first.end - inner_end;
        // The last prime was meant to close the quotes, those before it belong to the text.
        let inner = Span::new(region.start + 1, if primes > 0 { first.end - 1 } else { first.end });
        let inner = if first.end < region.end { Span::new(region.start + 1, region.end) } else { inner };
        let shown = &source
            [values::trimmed(source, Span::new(region.start + 1, inner.end)).first_line(source).range()];
        said.push(
            Diagnostic::fault("quoted-prime", first, "a prime inside single quotes ends the text")
                .with_help(format!("take the quotes away: `{name}: {shown}`")),
        );
        return raw(inner);
    }
    match written.find('\n') {
        Some(line) if written.starts_with(['|', '>']) => raw(Span::new(region.start + line + 1, region.end)),
        _ => raw(region),
    }
}

/// Plain text that says `Scramble:` before its first paragraph and has no word before the solution.
fn split_labelled(source: &str, fields: &mut Vec<Field<'_>>, said: &mut Vec<Diagnostic>) {
    if fields.iter().any(|field| field.name.eq_ignore_ascii_case("solution")) {
        return;
    }
    let Some(field) = fields.iter_mut().find(|field| field.name.eq_ignore_ascii_case("scramble")) else {
        return;
    };
    let Value::Text(scalar) = &mut field.value else { return };
    let text = &source[scalar.span.range()];
    let blank = lines(text).find(|(_, line)| line.trim().is_empty());
    let Some((at, _)) = blank.or_else(|| lines(text).nth(1)) else { return };
    let border = scalar.span.start + at;
    let solution = values::trimmed(source, Span::new(border, scalar.span.end));
    let scramble = values::trimmed(source, Span::new(scalar.span.start, border));
    *scalar = Scalar { span: scramble, style: Style::Plain, text: None };
    let place = field.place;
    said.push(
        Diagnostic::note("label-plain", place, "read as plain text: scramble, blank line, solution")
            .with_help("leave the label out, or write `solution: |` before the solution and indent it"),
    );
    fields.push(Field {
        name: Cow::Borrowed("solution"),
        place,
        value: Value::Text(Scalar { span: solution, style: Style::Plain, text: None }),
    });
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;
    use proptest::sample::select;

    use super::*;
    use crate::record::fields;
    use crate::record::yaml;

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
                let (slow, problem) = yaml::fields(&text, whole);
                prop_assert_eq!(problem, None, "{}", text);
                let fast = fields::record(&text, whole, &fast, Vec::new());
                let slow = fields::record(&text, whole, &slow, Vec::new());
                prop_assert_eq!(fast, slow, "{}", text);
            }
        }
    }
}

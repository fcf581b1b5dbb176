//! The fall-back: what the lines of a document show that is not YAML, or not the YAML that was meant. Nothing that
//! was written is lost.

use std::borrow::Cow;

use crate::diagnostic::{Diagnostic, Span};
use crate::findings;
use crate::notation;
use crate::record::document::{is_fieldlike, key_line, lines};
use crate::record::fields::{Field, Scalar, Value, nearest_name};
use crate::record::{Style, values};

use super::quoted::is_single_quoted;

/// Whether the YAML was right but a single-quoted value swallowed the fields below it, because a prime at
/// its end was taken for the first half of a doubled one.
pub(super) fn swallowed(source: &str, fields: &[Field<'_>]) -> Option<Diagnostic> {
    fields.iter().find_map(|field| match &field.value {
        Value::Text(scalar) if scalar.style == Style::SingleQuoted => {
            let below = source[scalar.span.range()].split('\n').skip(1);
            below
                .filter_map(key_line)
                .any(|(_, name, _)| is_fieldlike(name))
                .then(|| findings::yaml_swallowed().at(scalar.span))
        }
        _ => None,
    })
}

/// Whether what looks like fields is a scramble and the labelled lines of a solution: `Scramble: …`, then
/// `Cross: …`, `1st pair: …`.
pub(super) fn labelled(source: &str, fields: &[Field<'_>]) -> Option<Diagnostic> {
    let is = |field: &Field<'_>, known: &str| nearest_name(&field.name) == Some(known);
    let scramble = fields.iter().position(|field| is(field, "scramble"))?;
    if fields.iter().any(|field| is(field, "solution")) {
        return None;
    }
    let label = fields[scramble..].iter().filter(|field| !is_fieldlike(&field.name)).find(|field| {
        let Value::Text(scalar) = &field.value else { return false };
        let first = source[scalar.span.range()].split_whitespace().next().unwrap_or("");
        notation::parse_all(first, &notation::Options::default()).0.playable().next().is_some()
    })?;
    Some(findings::yaml_label().at(label.place))
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
        let region = if is_turns(name) { region } else { without_comments(source, region) };
        fields.push(Field {
            name: Cow::Borrowed(name),
            place,
            value: rough(source, name, region, place, &mut said),
        });
    }
    split_labelled(source, &mut fields, &mut said);
    let tab = problem.message.contains("tab");
    if said.is_empty() || tab {
        said.push(problem);
    }
    (fields, said)
}

fn is_turns(name: &str) -> bool {
    ["scramble", "solution"].iter().any(|turns| name.eq_ignore_ascii_case(turns))
}

/// Free words up to the first line that is a comment: that one is a remark of its own.
fn without_comments(source: &str, region: Span) -> Span {
    let text = &source[region.range()];
    let comment = lines(text).skip(1).find(|(_, line)| line.starts_with('#'));
    let end = comment.map_or(region.end, |(at, _)| region.start + at);
    values::trimmed(source, Span::new(region.start, end))
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
        let text = &source[span.range()];
        // A line ends with `\n` in what is kept, however the file has it.
        let text = if text.contains('\r') {
            Cow::Owned(text.replace("\r\n", "\n").replace('\r', "\n"))
        } else {
            Cow::Borrowed(text)
        };
        Value::of(Scalar { span, style: Style::Plain, text: Some(text) })
    };
    // A lone apostrophe closes nothing.
    if written.len() > 1 && written.starts_with('\'') {
        let first = region.first_line(source);
        let inner_end = first.start + source[first.range()].trim_end_matches('\'').len();
        let primes = first.end - inner_end;
        // The last prime was meant to close the quotes, those before it belong to the text.
        let inner = Span::new(region.start + 1, if primes > 0 { first.end - 1 } else { first.end });
        let inner = if first.end < region.end { Span::new(region.start + 1, region.end) } else { inner };
        let shown = &source
            [values::trimmed(source, Span::new(region.start + 1, inner.end)).first_line(source).range()];
        said.push(findings::quoted_prime(name, shown).at(first));
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
    said.push(findings::label_plain().at(place));
    fields.push(Field {
        name: Cow::Borrowed("solution"),
        place,
        value: Value::Text(Scalar { span: solution, style: Style::Plain, text: None }),
    });
}

//! The YAML reader: every call of the crate is here.
//!
//! Its events are used, not its deserializer: they give the place and the style of every value, and what was
//! read before a fault is kept.

use std::borrow::Cow;

use serde_yaml::granit_parser::{Event, Parser, ScalarStyle};

use crate::diagnostic::{Diagnostic, Span};
use crate::findings;
use crate::record::fields::{A_LIST, Field, Scalar, Value};
use crate::record::{Style, values};

/// How deep values may nest. No field needs more than one level.
const MAX_NESTING: usize = 64;

/// The fields of a mapping, and what is wrong with the YAML; the fields before that place are good.
pub(in crate::record) fn fields(source: &str, document: Span) -> (Vec<Field<'_>>, Option<Diagnostic>) {
    let mut fields = Vec::new();
    let problem = collect(source, document, &mut fields).err();
    (fields, problem)
}

struct Events<'a> {
    parser: Parser<'a, serde_yaml::granit_parser::StrInput<'a>>,
    base: usize,
    end: usize,
}

impl<'a> Events<'a> {
    fn next(&mut self) -> Result<(Event<'a>, Span), Diagnostic> {
        match self.parser.next_event() {
            Some(Ok((event, span))) => {
                let place = |marker: Option<usize>| (self.base + marker.unwrap_or(0)).min(self.end);
                Ok((event, Span::new(place(span.start.byte_offset()), place(span.end.byte_offset()))))
            }
            Some(Err(error)) => {
                let at = (self.base + error.marker().byte_offset().unwrap_or(0)).min(self.end);
                Err(findings::yaml_syntax(&error.info()).at(Span::new(at, at)))
            }
            None => Ok((Event::StreamEnd, Span::new(self.end, self.end))),
        }
    }
}

fn collect<'a>(source: &'a str, document: Span, fields: &mut Vec<Field<'a>>) -> Result<(), Diagnostic> {
    let text = &source[document.range()];
    let mut events = Events { parser: Parser::new_from_str(text), base: document.start, end: document.end };
    loop {
        match events.next()? {
            (Event::StreamStart | Event::DocumentStart(..) | Event::DocumentEnd, _) => {}
            (Event::StreamEnd, _) => return Ok(()),
            (Event::MappingStart(..), _) if fields.is_empty() => mapping(source, &mut events, fields)?,
            (_, span) => {
                return Err(findings::yaml_no_fields().at(span));
            }
        }
    }
}

fn mapping<'a>(
    source: &'a str,
    events: &mut Events<'a>,
    fields: &mut Vec<Field<'a>>,
) -> Result<(), Diagnostic> {
    loop {
        let (name, place) = match events.next()? {
            (Event::MappingEnd, _) => return Ok(()),
            (Event::Scalar(name, ..), place) => (name, place),
            (_, place) => {
                return Err(findings::yaml_no_name().at(place));
            }
        };
        let value = value(source, events)?;
        fields.push(Field { name, place, value });
    }
}

fn value<'a>(source: &'a str, events: &mut Events<'a>) -> Result<Value<'a>, Diagnostic> {
    let (event, start) = events.next()?;
    match event {
        Event::Scalar(text, style, ..) => Ok(scalar(source, start, text, style)),
        Event::Alias(_) | Event::UnresolvedAlias(_) => Ok(Value::Other(start, "an alias")),
        Event::SequenceStart(..) => Ok(Value::Other(skip(events, start)?, A_LIST)),
        Event::MappingStart(..) => Ok(Value::Other(skip(events, start)?, "fields of its own")),
        _ => Err(findings::yaml_no_value().at(start)),
    }
}

/// Passes over a list or a mapping whose first event has been read; gives its place.
fn skip(events: &mut Events<'_>, start: Span) -> Result<Span, Diagnostic> {
    let mut depth = 1;
    let mut last = start;
    while depth > 0 {
        let (event, span) = events.next()?;
        match event {
            Event::SequenceStart(..) | Event::MappingStart(..) => depth += 1,
            Event::SequenceEnd | Event::MappingEnd => depth -= 1,
            Event::StreamEnd => break,
            _ => {}
        }
        // The end of a block collection is where the next thing begins: not part of it.
        if span.end > span.start {
            last = span;
        }
        if depth > MAX_NESTING {
            return Err(findings::yaml_too_deep(MAX_NESTING).at(span));
        }
    }
    Ok(start.to(last))
}

fn scalar<'a>(source: &'a str, span: Span, text: Cow<'a, str>, style: ScalarStyle) -> Value<'a> {
    let style = match style {
        ScalarStyle::SingleQuoted => Style::SingleQuoted,
        ScalarStyle::DoubleQuoted => Style::DoubleQuoted,
        ScalarStyle::Literal => Style::Literal,
        ScalarStyle::Folded => Style::Folded,
        _ => Style::Plain,
    };
    let span = match style {
        Style::Literal | Style::Folded => block(source, span),
        _ => span,
    };
    Value::of(Scalar { span, style, text: Some(text) })
}

/// The lines of a block without its header.
fn block(source: &str, span: Span) -> Span {
    let text = &source[span.range()];
    let content = if text.starts_with(['|', '>']) {
        text.find('\n').map_or(span.end, |at| span.start + at + 1)
    } else {
        span.start
    };
    values::trimmed(source, Span::new(content, span.end))
}

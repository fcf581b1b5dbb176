//! From named values to a [`Record`].

use std::borrow::Cow;

use crate::diagnostic::{Diagnostic, Span};
use crate::findings;
use crate::notation::{self, MAX_FAULTS, Turns, shorten};

use super::yaml::decode;
use super::{Record, Style, document, values};

/// Every field, in the order in which a record is printed.
pub(super) const NAMES: [&str; 11] =
    ["title", "solver", "date", "scramble", "solution", "sight", "hands", "fps", "time", "until", "notes"];

/// What [`Value::Other`] is, if it is a list.
pub(super) const A_LIST: &str = "a list";

/// A name and its value, as they stand in the text.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Field<'a> {
    pub(super) name: Cow<'a, str>,
    pub(super) place: Span,
    pub(super) value: Value<'a>,
}

#[derive(Debug, Clone, PartialEq)]
pub(super) enum Value<'a> {
    /// Nothing, or YAML's `null`.
    Empty(Span),
    Text(Scalar<'a>),
    /// Something that is not text, and what it is.
    Other(Span, &'static str),
}

/// A text in the source.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Scalar<'a> {
    /// With its quotes; a block without its header, blanks and blank lines around it.
    pub(super) span: Span,
    pub(super) style: Style,
    /// What it stands for, where somebody has worked it out already.
    pub(super) text: Option<Cow<'a, str>>,
}

impl<'a> Value<'a> {
    /// The scalar, or nothing if it is YAML's way to write that.
    pub(super) fn of(scalar: Scalar<'a>) -> Value<'a> {
        let null = scalar.style == Style::Plain
            && matches!(scalar.text.as_deref(), Some("" | "~" | "null" | "Null" | "NULL"));
        if null { Value::Empty(scalar.span) } else { Value::Text(scalar) }
    }
}

impl Scalar<'_> {
    /// What it stands for. Blanks and line breaks at the end of a block, which nobody sees, are left out.
    fn text(&self, source: &str) -> String {
        match (&self.text, self.style) {
            (Some(text), Style::Literal | Style::Folded) => text.trim_end_matches(values::BLANKS).to_string(),
            (Some(text), _) => text.to_string(),
            (None, Style::SingleQuoted | Style::DoubleQuoted) => decode(source, self.span, self.style).text,
            (None, Style::Plain) => source[self.span.range()].to_string(),
            (None, Style::Literal | Style::Folded) => self.without_indentation(source),
        }
    }

    fn without_indentation(&self, source: &str) -> String {
        let line = source[..self.span.start].rfind('\n').map_or(0, |at| at + 1);
        let indent = self.span.start - line;
        let mut lines = source[self.span.range()].split('\n');
        let mut text = lines.next().unwrap_or("").to_string();
        for line in lines {
            text.push('\n');
            text.push_str(line.get(indent..).unwrap_or(""));
        }
        text
    }

    /// The turns it holds. They are read from the source itself, so that every place is exact; only quoted
    /// strings are decoded first and led back.
    fn turns(&self, source: &str, options: &notation::Options) -> (Turns, Vec<Diagnostic>) {
        if matches!(self.style, Style::Plain | Style::Literal | Style::Folded) {
            return notation::parse(source, self.with_comment(source), options);
        }
        let decoded = decode(source, self.span, self.style);
        let (mut turns, mut said) = notation::parse_all(&decoded.text, options);
        let place = |offset: usize| decoded.place(offset);
        turns.relocate(place);
        for label in said.iter_mut().flat_map(|diagnostic| &mut diagnostic.labels) {
            label.span = Span::new(place(label.span.start), place(label.span.end));
        }
        (turns, said)
    }

    /// The span with a YAML comment behind it: among turns it is a comment like any other.
    fn with_comment(&self, source: &str) -> Span {
        if self.style != Style::Plain {
            return self.span;
        }
        let after = &source[self.span.end..];
        let line = &after[..after.find('\n').unwrap_or(after.len())];
        if line.trim_start_matches([' ', '\t']).starts_with('#') {
            Span::new(self.span.start, self.span.end + line.trim_end().len())
        } else {
            self.span
        }
    }
}

/// The field that is a slip of the keyboard away from `name`: at most a third of its letters.
pub(super) fn nearest_name(name: &str) -> Option<&'static str> {
    if name.len() > 16 {
        return None;
    }
    // Nearly every name there is: to measure how far it is from the others would take as long as to read the record.
    if let Some(known) = NAMES.iter().find(|known| known.eq_ignore_ascii_case(name)) {
        return Some(known);
    }
    let name = name.to_ascii_lowercase();
    let near = NAMES.iter().map(|known| (strsim::osa_distance(&name, known), *known));
    near.min().filter(|(distance, known)| *distance <= known.len().div_ceil(3).min(2)).map(|(_, known)| known)
}

/// Which of [`NAMES`] is written; a name in capitals is the same name.
fn recognise(name: &str) -> Option<usize> {
    let index = |name: &str| NAMES.iter().position(|known| *known == name);
    index(name).or_else(|| index(&name.trim().to_ascii_lowercase()))
}

/// The value of each field. A name that is nearly one of [`NAMES`] is a fault, but its value is taken for
/// that field if there is no other: nothing that was written is lost.
fn sort<'f, 'a>(
    fields: &'f [Field<'a>],
    document: Span,
    said: &mut Vec<Diagnostic>,
) -> [Option<&'f Field<'a>>; NAMES.len()] {
    let mut given: [Option<&Field<'a>>; NAMES.len()] = [None; NAMES.len()];
    let mut unknown = Vec::new();
    let mut told = 0;
    // Faults beyond the number that is told are not made.
    let mut fault = |make: &dyn Fn() -> Diagnostic| {
        told += 1;
        (told <= MAX_FAULTS).then(make)
    };
    for field in fields {
        let Some(index) = recognise(&field.name) else {
            unknown.push(field);
            continue;
        };
        let Some(first) = given[index] else {
            given[index] = Some(field);
            if field.name != NAMES[index] {
                said.push(findings::field_capital(NAMES[index]).at(field.place));
            }
            continue;
        };
        said.extend(fault(&|| findings::field_duplicate(NAMES[index]).at_both(field.place, first.place)));
    }
    for field in unknown {
        let near = nearest_name(&field.name);
        said.extend(fault(&|| findings::field_unknown(&shorten(&field.name), near, &NAMES).at(field.place)));
        if let Some(index) = NAMES.iter().position(|known| Some(*known) == near) {
            given[index] = given[index].or(Some(field));
        }
    }
    if told > MAX_FAULTS {
        let end = Span::new(document.end, document.end);
        said.push(findings::fields_too_many(told - MAX_FAULTS).at(end));
    }
    given
}

/// Makes a record of the fields of the document at `span`; `said` is what is known to be wrong already.
pub(super) fn record(source: &str, span: Span, fields: &[Field<'_>], said: Vec<Diagnostic>) -> Record {
    let mut record = Record::empty(span);
    record.diagnostics = said;
    let said = &mut record.diagnostics;
    let given = sort(fields, values::trimmed(source, span), said);
    let [title, solver, date, scramble, solution, sight, hands, fps, time, until, notes] = given;

    let mut text = |field: Option<&Field<'_>>| -> Option<(String, Span, bool)> {
        let field = field?;
        match &field.value {
            Value::Empty(_) => None,
            Value::Text(scalar) => {
                let text = scalar.text(source);
                // Over several lines the value is not what stands in the text.
                let exact = scalar.style == Style::Plain && source[scalar.span.range()] == text;
                Some((text, scalar.span, exact))
            }
            Value::Other(place, what) => {
                said.push(findings::field_type(&field.name, what).at(*place));
                None
            }
        }
    };
    record.title = text(title).map(|(words, ..)| words);
    record.solver = text(solver).map(|(words, ..)| words);
    record.notes = text(notes).map(|(words, ..)| words);
    let date = text(date);
    let fps = text(fps);
    let time = text(time);
    let until = text(until);
    let sight_text = text(sight);
    let hands = text(hands);

    if let Some((words, place, _)) = date {
        values::check_date(&words, place, said);
        record.date = Some(words);
    }
    if let Some((words, place, _)) = fps {
        record.fps = values::fps(words.trim(), place, said);
        record.fps_given = Some(place);
    }
    if let Some((words, place, _)) = time {
        record.time = values::time(words.trim(), place, said).map(|time| (time, place));
    }
    if let Some((words, place, _)) = until {
        match words.parse() {
            Ok(until) => record.until = Some((until, place)),
            Err(_) => said.push(findings::until_invalid(&shorten(words.trim())).at(place)),
        }
    }
    match (sight, sight_text) {
        (Some(_), Some((words, place, exact))) if !words.is_empty() => {
            if let Some(faces) = values::sight(&words, place, exact, said) {
                record.sight = faces;
                record.sight_given = Some(place);
            }
        }
        (Some(Field { place, value: Value::Empty(_) | Value::Text(_), .. }), _) => {
            said.push(findings::sight_empty().at(*place));
        }
        _ => {}
    }

    if let Some((words, place, _)) = hands {
        record.hands = values::hands(words.trim(), place, said);
    }

    let options = notation::Options { fps: record.fps };
    let mut turns = |field: Option<&Field<'_>>| -> (Turns, Style) {
        match field.map(|field| (field, &field.value)) {
            None | Some((_, Value::Empty(_))) => (Turns::default(), Style::default()),
            Some((_, Value::Text(scalar))) => {
                let (turns, more) = scalar.turns(source, &options);
                said.extend(more);
                (turns, scalar.style)
            }
            Some((field, Value::Other(place, what))) => {
                said.push(findings::field_type(&field.name, what).at(*place));
                if *what != A_LIST {
                    return (Turns::default(), Style::default());
                }
                // Brackets, commas and dashes of the list are no mistake of their own.
                let inside = source[place.range()].strip_prefix('[').map_or(*place, |rest| {
                    Span::new(place.start + 1, place.start + 1 + rest.trim_end_matches(']').len())
                });
                let (turns, more) = notation::parse(source, inside, &options);
                said.extend(more.into_iter().filter(Diagnostic::is_fault));
                (turns, Style::Plain)
            }
        }
    };
    (record.scramble, record.scramble_style) = turns(scramble);
    (record.solution, record.solution_style) = turns(solution);
    values::note_marks(&record.scramble, said);
    let place = |field: Option<&Field<'_>>| field.map(|field| field.place);
    values::require_turns(
        source,
        &mut record,
        [place(scramble), place(solution)],
        findings::solution_missing(),
    );
    record.remarks = remarks(source, &record, fields);
    record
}

/// The YAML comments: everything behind a `#` between the fields.
fn remarks(source: &str, record: &Record, fields: &[Field<'_>]) -> Vec<String> {
    let document = record.span;
    if !source[document.range()].contains('#') {
        return Vec::new();
    }
    let mut covered: Vec<Span> = vec![record.scramble.span, record.solution.span];
    for field in fields {
        covered.push(field.place);
        covered.push(match &field.value {
            Value::Empty(place) | Value::Other(place, _) => *place,
            Value::Text(scalar) => scalar.span,
        });
    }
    covered.sort();
    let mut remarks = Vec::new();
    let mut at = document.start;
    for span in covered.into_iter().chain([Span::new(document.end, document.end)]) {
        if span.start > at {
            for line in source[at..span.start].split(['\n', '\r']) {
                let marker = line.find('#').filter(|&n| n == 0 || line[..n].ends_with([' ', '\t']));
                remarks.extend(marker.map(|n| document::remark(&line[n + 1..])));
            }
        }
        at = at.max(span.end);
    }
    remarks
}

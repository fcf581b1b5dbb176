//! The values of single fields: a date, a time, the faces in sight, frames a second.

use crate::cube::{Face, FaceSet};
use crate::diagnostic::{Diagnostic, Span};
use crate::notation::{self, Time, Turns};

use super::Record;

impl Span {
    /// The part of it that is on its first line.
    pub(super) fn first_line(self, source: &str) -> Span {
        let length = source[self.range()].find(['\n', '\r']).unwrap_or(self.end - self.start);
        Span::new(self.start, self.start + length)
    }
}

/// What does not count at the ends of a value. Other white space, such as a no-break space, is the writer's.
pub(super) const BLANKS: [char; 4] = [' ', '\t', '\n', '\r'];

/// The span without [`BLANKS`] at its ends.
pub(super) fn trimmed(source: &str, span: Span) -> Span {
    let text = &source[span.range()];
    let start = span.start + (text.len() - text.trim_start_matches(BLANKS).len());
    Span::new(start, start + text.trim_matches(BLANKS).len())
}

/// `u`, `f` and `r` in any order, with or without signs between.
pub(super) fn sight(text: &str, span: Span, exact: bool, said: &mut Vec<Diagnostic>) -> Option<FaceSet> {
    let mut faces = FaceSet::EMPTY;
    let mut loose = false;
    for (at, c) in text.char_indices() {
        let face = Face::ALL.into_iter().find(|face| face.to_string() == c.to_uppercase().to_string());
        match face {
            Some(face) => {
                loose |= c.is_lowercase() || faces.contains(face);
                faces = faces.with(face);
            }
            None if c.is_whitespace() || matches!(c, ',' | '+' | '/' | '-') => loose = true,
            None => {
                let place = Span::new(span.start + at, span.start + at + c.len_utf8());
                let message = format!("expected faces out of U D F B R L, found `{c}`");
                said.push(
                    Diagnostic::fault("sight-invalid", if exact { place } else { span }, message)
                        .with_help("write the faces the solver sees: `sight: UFR`, tilted `sight: UFRL`"),
                );
                return None;
            }
        }
    }
    if loose {
        let help = format!("write `sight: {faces}`");
        said.push(Diagnostic::note("sight-form", span, "an unusual way to write faces").with_help(help));
    }
    Some(faces)
}

/// Frames a second: a number above 0 and at most 100,000.
pub(super) fn fps(text: &str, span: Span, said: &mut Vec<Diagnostic>) -> Option<f64> {
    match text.parse::<f64>() {
        Ok(fps) if fps > 0.0 && fps <= 100_000.0 => Some(fps),
        _ => {
            let message = format!("expected a number above 0, found `{text}`");
            said.push(
                Diagnostic::fault("fps-invalid", span, message)
                    .with_help("write the frames a second of the video, such as `fps: 60` or `fps: 59.94`"),
            );
            None
        }
    }
}

/// The timer's result: `9.84` or `1:02.34`. A penalty is written beside it, as the Regulations have it on a
/// score sheet (A7b1, from memory: "X + T + Y = F", T what the timer showed): T is kept, for that is what the
/// marks can be held against.
pub(super) fn time(text: &str, span: Span, said: &mut Vec<Diagnostic>) -> Option<Time> {
    let expected = match notation::read_time(text) {
        Ok(time) => return Some(time),
        Err(expected) => expected,
    };
    let note = |code, message: &str, help: String| Diagnostic::note(code, span, message).with_help(help);
    if text.eq_ignore_ascii_case("dnf") {
        said.push(note(
            "time-penalty",
            "a solve that did not count: no time is kept",
            "leave `time` out, or write what the timer showed".into(),
        ));
        return None;
    }
    if let Some(time) = with_unit(text) {
        said.push(note("time-form", "an unusual way to write a time", format!("write `time: {time}`")));
        return Some(time);
    }
    if let Some(time) = without_penalty(text) {
        said.push(note(
            "time-penalty",
            "a time with a penalty: what the timer showed is kept",
            format!("read as {time} seconds; write `time: {time}`"),
        ));
        return Some(time);
    }
    let message = format!("{expected}, found `{}`", notation::shorten(text));
    said.push(
        Diagnostic::fault("time-invalid", span, message)
            .with_help("write what the timer showed, penalties apart: `time: 9.84` or `time: 1:02.34`"),
    );
    None
}

/// `10.7s`, `10.7 sec`.
fn with_unit(text: &str) -> Option<Time> {
    let bare = ["seconds", "sec", "s"].iter().find_map(|unit| text.strip_suffix(unit))?;
    notation::read_time(bare.trim_end()).ok()
}

/// What the timer showed in `9.84 + 2`, `2 + 9.84 + 2 = 13.84` or `DNF (9.84)`. A penalty is an even number of
/// whole seconds before or behind it. A sum that is given has to be right.
fn without_penalty(text: &str) -> Option<Time> {
    let read = |text: &str| {
        let text = text.trim();
        with_unit(text).or_else(|| notation::read_time(text).ok())
    };
    if let Some(inside) =
        text.get(..3).filter(|head| head.eq_ignore_ascii_case("dnf")).map(|_| text[3..].trim())
    {
        return read(inside.strip_prefix('(')?.strip_suffix(')')?);
    }
    let penalty = |term: &str| {
        let seconds = term.trim().parse::<u64>().ok()?;
        (seconds > 0 && seconds <= 60 && seconds.is_multiple_of(2)).then_some(seconds)
    };
    let (sum, result) = match text.split_once('=') {
        Some((sum, result)) => (sum, Some(read(result)?)),
        None => (text, None),
    };
    let (shown, added) = match sum.split('+').collect::<Vec<_>>()[..] {
        [before, shown, behind] => (read(shown)?, penalty(before)? + penalty(behind)?),
        // `9.84 + 2`, and `2 + 9.84` if the second is no penalty.
        [first, second] => match (penalty(second), penalty(first)) {
            (Some(seconds), _) => (read(first)?, seconds),
            (None, Some(seconds)) => (read(second)?, seconds),
            (None, None) => return None,
        },
        _ => return None,
    };
    let right = result.is_none_or(|result| result.0 == shown.0 + added * 1_000_000);
    right.then_some(shown)
}

/// Says so if `text` is not a day of the calendar written `YYYY-MM-DD`.
pub(super) fn check_date(text: &str, span: Span, said: &mut Vec<Diagnostic>) {
    let number =
        |range: std::ops::Range<usize>| text.get(range).and_then(|digits| digits.parse::<u32>().ok());
    let shaped = text.len() == 10
        && text.bytes().enumerate().all(|(at, byte)| match at {
            4 | 7 => byte == b'-',
            _ => byte.is_ascii_digit(),
        });
    let day_exists = || {
        let (year, month, day) = (number(0..4)?, number(5..7)?, number(8..10)?);
        let leap = year % 4 == 0 && (year % 100 != 0 || year % 400 == 0);
        let days = match month {
            4 | 6 | 9 | 11 => 30,
            2 if leap => 29,
            2 => 28,
            1..=12 => 31,
            _ => return None,
        };
        (1..=days).contains(&day).then_some(())
    };
    if !shaped || day_exists().is_none() {
        said.push(
            Diagnostic::note("date-form", span, "expected a day as `YYYY-MM-DD`; kept as it is")
                .with_help("write it like `2026-05-02`"),
        );
    }
}

/// Says so if timing marks stand in the scramble: they are kept and printed, and nothing comes of them.
pub(super) fn note_marks(scramble: &Turns, said: &mut Vec<Diagnostic>) {
    let [first, more @ ..] = scramble.marks.as_slice() else { return };
    let message = "a timing mark in the scramble is not used";
    let note = Diagnostic::note("mark-in-scramble", first.span, message)
        .with_help("the clock runs from the first turn of the solution; put marks there");
    said.push(more.iter().fold(note, |note, mark| note.also(mark.span, "")));
}

/// Says so if a record has no scramble or no solution. The spans are where the fields are, if they are there.
pub(super) fn require_turns(
    source: &str,
    record: &mut Record,
    scramble: Option<Span>,
    solution: Option<Span>,
) {
    let whole = trimmed(source, record.span).first_line(source);
    if record.scramble.tokens.is_empty() {
        let fault = Diagnostic::fault(
            "scramble-missing",
            scramble.unwrap_or(whole),
            "expected a scramble, found none",
        )
        .with_help("add the line `scramble: R2 U F2 …`");
        record.diagnostics.push(fault);
    }
    if record.solution.tokens.is_empty() {
        let fault = Diagnostic::fault(
            "solution-missing",
            solution.unwrap_or(whole),
            "expected a solution, found none",
        )
        .with_help("add `solution: |` and the turns below it, indented by two blanks");
        record.diagnostics.push(fault);
    }
}

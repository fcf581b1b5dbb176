//! The values of single fields: a date, a time, the faces in sight, frames a second.

use crate::cube::{Face, FaceSet};
use crate::diagnostic::{Diagnostic, Span};
use crate::findings::{self, Finding};
use crate::hands::Hands;
use crate::notation::{self, Time, Turns};

use super::Record;

impl Span {
    /// The part of it that is on its first line.
    pub(crate) fn first_line(self, source: &str) -> Span {
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
                said.push(findings::sight_invalid(c).at(if exact { place } else { span }));
                return None;
            }
        }
    }
    if loose {
        said.push(findings::sight_form(&faces.to_string()).at(span));
    }
    Some(faces)
}

/// Which hands turn; both where that cannot be read.
pub(super) fn hands(text: &str, span: Span, said: &mut Vec<Diagnostic>) -> Hands {
    text.parse().unwrap_or_else(|()| {
        said.push(findings::hands_invalid(&notation::shorten(text)).at(span));
        Hands::default()
    })
}

/// Frames a second: a number above 0 and at most 100,000.
pub(super) fn fps(text: &str, span: Span, said: &mut Vec<Diagnostic>) -> Option<f64> {
    match text.parse::<f64>() {
        Ok(fps) if fps > 0.0 && fps <= 100_000.0 => Some(fps),
        _ => {
            said.push(findings::fps_invalid(&notation::shorten(text)).at(span));
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
    let (time, finding) = if text.eq_ignore_ascii_case("dnf") {
        (None, findings::time_not_counted())
    } else if let Some(time) = with_unit(text) {
        (Some(time), findings::time_form(&time.to_string()))
    } else if let Some(time) = without_penalty(text) {
        (Some(time), findings::time_penalty(&time.to_string()))
    } else if let Some(time) =
        text.strip_suffix('+').and_then(|bare| notation::read_time(bare.trim_end()).ok())
    {
        (Some(time), findings::time_with_plus(&time.to_string()))
    } else {
        (None, findings::time_invalid(expected, &notation::shorten(text)))
    };
    said.push(finding.at(span));
    time
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

/// Says so if `text` is not a day as records write it.
pub(super) fn check_date(text: &str, span: Span, said: &mut Vec<Diagnostic>) {
    if !is_date(text) {
        said.push(findings::date_form().at(span));
    }
}

/// Whether a text is a day of the calendar written `YYYY-MM-DD` (ISO 8601).
#[must_use]
pub fn is_date(text: &str) -> bool {
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
    shaped && day_exists().is_some()
}

/// Says so if timing marks stand in the scramble: they are kept and printed, and nothing comes of them.
pub(super) fn note_marks(scramble: &Turns, said: &mut Vec<Diagnostic>) {
    let [first, more @ ..] = scramble.marks.as_slice() else { return };
    let note = findings::mark_in_scramble().at(first.span);
    said.push(more.iter().fold(note, |note, mark| note.also(mark.span, "")));
}

/// Says so if a record has no scramble or no solution; of the solution it says what is given. The spans are where
/// the fields are, if they are there.
pub(super) fn require_turns(
    source: &str,
    record: &mut Record,
    [scramble, solution]: [Option<Span>; 2],
    missing: Finding,
) {
    let whole = trimmed(source, record.span).first_line(source);
    if record.scramble.tokens.is_empty() {
        record.diagnostics.push(findings::scramble_missing().at(scramble.unwrap_or(whole)));
    }
    if record.solution.tokens.is_empty() {
        record.diagnostics.push(missing.at(solution.unwrap_or(whole)));
    }
}

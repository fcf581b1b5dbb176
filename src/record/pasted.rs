//! Plain text, as people paste solves to each other: the first paragraph is the scramble, the rest the
//! solution.

use crate::diagnostic::Span;
use crate::findings;
use crate::notation;

use super::document::{comment, lines, remark};
use super::{Record, values};

pub(super) fn record(source: &str, span: Span) -> Record {
    let mut record = Record::empty(span);
    let text = &source[span.range()];
    let mut start = None;
    let mut blank = None;
    let mut second_line = None;
    let mut has_more = false;
    for (at, line) in lines(text) {
        let at = span.start + at;
        match start {
            // Comments above the scramble are about the whole.
            None => match comment(line) {
                Some(words) => record.remarks.push(remark(words)),
                None if line.trim().is_empty() => {}
                None => start = Some(at),
            },
            Some(_) if blank.is_none() && line.trim().is_empty() => blank = Some(at),
            Some(_) if line.trim().is_empty() => {}
            Some(_) => {
                second_line = second_line.or(Some(at));
                has_more |= blank.is_some();
            }
        }
    }
    let start = start.unwrap_or(span.end);
    let border = match (blank.filter(|_| has_more), second_line) {
        (Some(blank), _) => blank,
        (None, Some(line)) => {
            let solution = values::trimmed(source, Span::new(line, span.end)).first_line(source);
            record.diagnostics.push(findings::blank_line_missing().at(solution));
            line
        }
        (None, None) => span.end,
    };
    let options = notation::Options::default();
    let mut turns = |region| {
        let (turns, said) = notation::parse(source, values::trimmed(source, region), &options);
        record.diagnostics.extend(said);
        turns
    };
    let scramble = turns(Span::new(start, border));
    let solution = turns(Span::new(border, span.end));
    values::note_marks(&scramble, &mut record.diagnostics);
    record.scramble = scramble;
    record.solution = solution;
    values::require_turns(source, &mut record, [None, None], findings::solution_missing_in_text());
    record
}

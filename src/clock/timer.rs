//! The timer's result held against the marks.

use super::rests::{self, Rests};
use super::{Clock, Lapse};
use crate::diagnostic::{Diagnostic, Span};
use crate::findings;
use crate::notation::Time;

/// The timer's result and the marks tell different times.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Disagreement {
    /// From the mark before the first turn to the one after the last.
    pub marked: Lapse,
    /// The timer's result.
    pub timer: Time,
    /// Where the last of these marks was written.
    pub last_mark: Span,
}

/// A result under ten minutes is truncated to hundredths (WCA Regulation 9f1), a longer one to seconds (9f2, in force from
/// 2026), so the marks agree if, so truncated, they can be the result within their uncertainty. A result written more
/// exactly is truncated first.
pub(super) fn disagreement(rests: &Rests, timer: Time) -> Option<Disagreement> {
    let last = rests.ended()?;
    let marked = rests::lapse(&rests.begins()?, &last, rests.frame)?;
    (!agrees(marked, timer)).then_some(Disagreement { marked, timer, last_mark: last.span })
}

/// Whether the timer may have shown `timer` after this time.
pub(super) fn agrees(marked: Lapse, timer: Time) -> bool {
    let within = (marked.within * 1e6).round() as u64;
    let least = result(Time(marked.micros.saturating_sub(within)), timer);
    let most = result(Time(marked.micros + within), timer);
    (least..=most).contains(&result(timer, timer))
}

/// What a timer shows of a time in the unit in which `like` was recorded.
fn result(time: Time, like: Time) -> u64 {
    if like.0 < 600_000_000 { hundredths(time) } else { time.0 / 1_000_000 }
}

/// A time truncated to hundredths of a second, as WCA Regulation 9f1 has results under ten minutes.
#[must_use]
pub const fn hundredths(time: Time) -> u64 {
    time.0 / 10_000
}

/// The note that says so: `timer` is the result and where it was written.
#[must_use]
pub fn timer_note(clock: &Clock, timer: (Time, Span)) -> Option<Diagnostic> {
    let found = clock.disagreement(timer.0)?;
    let note = findings::time_differs(found.timer.seconds(), found.marked.seconds());
    Some(note.at_both(timer.1, found.last_mark))
}

//! Timing marks: what stands between `<` and `>`, and that the clock never runs backwards.
//!
//! The long form is the cue timestamp of the W3C's WebVTT (two or more digits of hours, which may be left
//! out, two of minutes, two of seconds, three of milliseconds). The short forms are ours.

use super::grammar::{self, Clock};
use super::{Mark, Time};

/// The largest time a mark may give: a hundred hours, in microseconds.
const LONGEST: u64 = 100 * 3600 * 1_000_000;

/// What is said of a longer one.
pub(super) const TOO_LONG: &str = "expected a time under 100 hours";

/// What was between the angle brackets.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Written {
    /// A time, and whether it was in one of the documented forms.
    Clock(Time, bool),
    /// A frame number.
    Frame(u64, bool),
}

/// Reads what is between `<` and `>`; the error says what was expected.
pub(super) fn inner(text: &str) -> Result<Written, &'static str> {
    let trimmed = text.trim();
    let plain = trimmed.len() == text.len();
    if let Ok(("", number)) = grammar::frame(trimmed) {
        return Ok(Written::Frame(number, plain && trimmed.ends_with('f') && !trimmed.contains(' ')));
    }
    let bare = trimmed.trim_end_matches("sec").trim_end_matches('s').trim_end();
    let plain = plain && bare.len() == trimmed.len();
    match grammar::clock(bare) {
        Ok(("", clock)) => {
            let (time, documented) = time(clock)?;
            Ok(Written::Clock(time, documented && plain))
        }
        _ => Err("expected a time or a video frame"),
    }
}

/// The time that a clock shows, and whether it was written in one of the documented forms.
pub(super) fn time(clock: Clock<'_>) -> Result<(Time, bool), &'static str> {
    let number =
        |digits: Option<&str>| digits.map_or(Ok(0), |digits| digits.parse::<u64>().map_err(|_| TOO_LONG));
    let (hours, minutes, seconds) =
        (number(clock.hours)?, number(clock.minutes)?, number(Some(clock.seconds))?);
    if clock.minutes.is_some() && seconds > 59 || clock.hours.is_some() && minutes > 59 {
        return Err("expected minutes and seconds up to 59");
    }
    let mut micros = 0;
    let fraction = clock.fraction.unwrap_or("");
    for place in 0..6 {
        micros = micros * 10 + u64::from(fraction.as_bytes().get(place).map_or(0, |digit| digit - b'0'));
    }
    let total = hours
        .checked_mul(3600)
        .and_then(|sum| sum.checked_add(minutes.checked_mul(60)?))
        .and_then(|sum| sum.checked_add(seconds))
        .and_then(|sum| sum.checked_mul(1_000_000))
        .and_then(|sum| sum.checked_add(micros))
        .filter(|&total| total < LONGEST)
        .ok_or(TOO_LONG)?;
    let documented = !clock.comma
        && match clock.minutes {
            None => fraction.len() <= 6,
            Some(digits) => {
                clock.hours.is_none_or(|hours| hours.len() >= 2)
                    && digits.len() == 2
                    && minutes <= 59
                    && clock.seconds.len() == 2
                    && fraction.len() == 3
            }
        };
    Ok((Time(total), documented))
}

/// The time of a video frame; `None` if it is past [`LONGEST`] or `fps` makes no sense.
pub(super) fn frame_time(frame: u64, fps: f64) -> Option<Time> {
    let micros = frame as f64 * 1e6 / fps;
    (micros.is_finite() && micros >= 0.0 && micros < LONGEST as f64).then(|| Time(micros.round() as u64))
}

/// The fewest marks without which the rest never runs backwards, as indices in rising order. Where two
/// marks contradict each other and nothing else decides, the later one is blamed.
pub(super) fn backwards(marks: &[Mark]) -> Vec<usize> {
    if marks.is_sorted_by_key(|mark| mark.time) {
        return Vec::new();
    }
    // A longest chain of never rising times from the end, by patience sorting. `tops[n]` is the mark with
    // the latest time at which a chain of n + 1 marks can stand.
    let mut tops: Vec<usize> = Vec::new();
    let mut before = vec![usize::MAX; marks.len()];
    for (at, mark) in marks.iter().enumerate().rev() {
        let length = tops.partition_point(|&top| marks[top].time >= mark.time);
        before[at] = length.checked_sub(1).map_or(usize::MAX, |n| tops[n]);
        if length == tops.len() {
            tops.push(at);
        } else {
            tops[length] = at;
        }
    }
    let mut blamed = Vec::new();
    let mut next = tops.last().copied().unwrap_or(usize::MAX);
    for (at, &follower) in before.iter().enumerate() {
        if at == next {
            next = follower;
        } else {
            blamed.push(at);
        }
    }
    blamed
}

/// A time in seconds, `m:ss.xx` or `h:mm:ss.xx`, with a point or a comma.
///
/// # Errors
/// What was expected.
pub(crate) fn read_time(text: &str) -> Result<Time, &'static str> {
    match grammar::clock(text) {
        Ok(("", clock)) => time(clock).map(|(time, _)| time),
        _ => Err("expected a time such as `9.84` or `1:02.34`"),
    }
}

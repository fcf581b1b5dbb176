//! Putting times to a solve: what a person taps beside a video, or gives as a list, becomes marks in the record.
//!
//! * A [`Sheet`] says which moments are asked for: of each step its first turn and its end, or its end only, or every
//!   turn. The first of them is always the first turn of the solve, at which the clock starts.
//! * A [`Tapper`] takes the taps. It knows no clock of its own: whoever has one passes what it shows, so that it is exact
//!   and can be tested exactly.
//! * [`given`] takes a list of times, or of the seconds between them, and finds out which moments they are of.
//! * [`fitted`] stretches times to the timer's result, which is done only where it is asked for.
//! * [`marked()`] writes the marks into the record's text, in the writer's own spelling, and reads it back.
//!
//! What the marks then say is worked out by [`clock`](crate::clock) and [`annotate`](mod@crate::annotate), as of any record.
//!
//! ```
//! use cornerwise::diagnostic::Source;
//! use cornerwise::notation::Time;
//! use cornerwise::record;
//! use cornerwise::study::Study;
//! use cornerwise::timing::{Sheet, Way, marked};
//!
//! let source = Source::new("mine", "scramble: R2 U F2\nsolution: |\n  F2 U' // two\n  R2 // and one\n");
//! let reading = record::read(&source);
//! let study = Study::new(&source, 1, &reading.records[0]);
//! let sheet = Sheet::new(&study, Way::default());
//! let times: Vec<Time> = [0, 410_000].into_iter().map(Time).collect();
//! let text = marked(&source, 0, &reading.records[0], &sheet.marks(&times[..1]), &record::read).expect("room for it");
//! assert_eq!(text, "scramble: R2 U F2\nsolution: |\n  <0.00> F2 U' // two\n  R2 // and one\n");
//! ```

mod given;
mod layout;
mod marked;
mod pieces;
mod sheet;
mod tapper;

pub use given::{Given, Refused, given, read_list};
pub use marked::{CannotMark, marked, replaced};
pub use sheet::{Cue, Each, Event, Marked, Row, Sheet, Side, Taps, Way};
pub use tapper::{Frames, Heard, Tapper};

use crate::notation::Time;

/// A hundredth of a second, in microseconds: as exactly as a solve's result is told (WCA Regulation 9f1).
const HUNDREDTH: u64 = 10_000;

/// The times stretched or shrunk so that the last of them is the timer's result; each rounded to hundredths of a second,
/// the last exactly the result. `None` if there is no last one above 0 to be stretched.
#[must_use]
pub fn fitted(times: &[Time], timer: Time) -> Option<Vec<Time>> {
    let (last, rest) = times.split_last()?;
    if last.0 == 0 || timer.0 == 0 {
        return None;
    }
    let scaled = |time: &Time| {
        let exact = u128::from(time.0) * u128::from(timer.0);
        let unit = u128::from(last.0) * u128::from(HUNDREDTH);
        let hundredths = u64::try_from((exact + unit / 2) / unit).unwrap_or(u64::MAX / HUNDREDTH);
        // A result that was recorded more exactly may lie below the nearest hundredth.
        Time((hundredths * HUNDREDTH).min(timer.0))
    };
    Some(rest.iter().map(scaled).chain([timer]).collect())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn fitted_times_end_at_the_result_and_keep_their_order_and_shares() {
        let times: Vec<Time> = [0, 1_230_000, 1_230_000, 6_150_000, 12_300_000].map(Time).into();
        // 12.30 s of taps, 12.14 s by the timer: worked out by hand, 1.23 / 12.30 x 12.14 = 1.214.
        let fitted = fitted(&times, Time(12_140_000)).expect("above 0");
        assert_eq!(fitted.iter().map(|time| time.0 / 10_000).collect::<Vec<_>>(), [0, 121, 121, 607, 1214]);
        assert_eq!(super::fitted(&[Time(0)], Time(5)), None);
        assert_eq!(super::fitted(&[], Time(5)), None);
        // A result in thousandths, and a last tap beside the one before.
        let fitted =
            super::fitted(&[Time(0), Time(999_999), Time(1_000_000)], Time(1_234_000)).expect("above 0");
        assert!(fitted.is_sorted() && fitted[2] == Time(1_234_000), "{fitted:?}");
    }
}

//! Times given as a list: read, put in order, and matched with the moments they are of.
//!
//! People read off a video what they care for, and a list says by its length what that is: the ends of the steps, or the
//! first turn and the end of each, or every turn. The start may be left out; it is 0 then.

use std::fmt;

use crate::notation::{self, Time};
use crate::study::Study;

use super::sheet::{Each, Sheet, Taps, Way};

/// What the numbers of a list are.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Given {
    /// What the clock showed.
    Times,
    /// The seconds from each moment to the next.
    Splits,
}

/// Why a list was not taken.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Refused {
    /// One of them is no time: its number from 1, what stands there, and what was expected.
    Unread(usize, String, &'static str),
    /// The commas part them, and seem to be meant as decimal points.
    Commas,
    /// One of them is earlier than the one before.
    Backwards {
        /// Its number, from 1.
        number: usize,
        /// The time.
        time: Time,
        /// The one before it.
        before: Time,
    },
    /// Their sum is longer than a mark can tell.
    TooLong,
    /// There are this many, and of no way of marking the solve there are as many moments. With each way the least that it
    /// takes; one more where the start is given too.
    Count(usize, Vec<(Way, usize)>),
    /// There are as many moments of more than one way.
    Open(usize, Vec<Way>),
}

impl fmt::Display for Refused {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Refused::Unread(number, found, expected) => {
                write!(f, "{expected}, found `{found}` as number {number}")
            }
            Refused::Commas => {
                f.write_str("commas part the times here; write decimals with a point, such as 1.2,2.35,3.1")
            }
            Refused::Backwards { number, time, before } => write!(
                f,
                "number {number} is {time}, earlier than {before} before it; seconds from each to the next go to \
                 `--splits`"
            ),
            Refused::TooLong => f.write_str("together they are longer than 100 hours"),
            Refused::Count(n, ways) => {
                let times = if *n == 1 { "1 time is" } else { &format!("{n} times are") };
                write!(f, "{times} given; this solve takes ")?;
                for (i, (way, least)) in ways.iter().enumerate() {
                    let sign = match i {
                        0 => "",
                        i if i + 1 == ways.len() => ", or ",
                        _ => ", ",
                    };
                    write!(f, "{sign}{least} {}", way.words())?;
                }
                f.write_str(" (and one more if the list begins with the start)")
            }
            Refused::Open(n, ways) => {
                let ways: Vec<&str> = ways.iter().map(|way| way.words()).collect();
                write!(f, "{n} times can be {}: say which with `--taps` and `--every`", ways.join(" or "))
            }
        }
    }
}

impl std::error::Error for Refused {}

impl Way {
    /// What its times are.
    const fn words(self) -> &'static str {
        match (self.taps, self.each) {
            (Taps::Ends, Each::Step) => "for the ends of the steps",
            (Taps::Both, Each::Step) => "for the first turn and the end of each",
            (Taps::Ends, Each::Turn) => "for the end of every turn",
            (Taps::Both, Each::Turn) => "for every turn and the first of each step",
        }
    }
}

/// The times in a text, parted by commas, semicolons, blanks or line ends.
///
/// # Errors
///
/// [`Refused::Unread`] at the first that is no time, [`Refused::Commas`] where a comma may be a decimal point.
pub fn read_list(text: &str) -> Result<Vec<Time>, Refused> {
    if has_decimal_commas(text) {
        return Err(Refused::Commas);
    }
    let apart = |c: char| c.is_whitespace() || matches!(c, ',' | ';');
    let words = text.split(apart).filter(|word| !word.is_empty());
    let read = |(n, word): (usize, &str)| {
        let refused = |expected| Refused::Unread(n + 1, notation::shorten(word), expected);
        // `.13`, as some timers have it.
        let whole = if word.starts_with('.') { format!("0{word}") } else { word.to_owned() };
        notation::read_time(&whole).map_err(refused)
    };
    words.enumerate().map(read).collect()
}

/// Whether a list of times looks as if its commas were decimal points: `1,2 2,35 3,1`.
fn has_decimal_commas(text: &str) -> bool {
    let decimal = |word: &str| {
        let parts = word.split_once(',');
        parts.is_some_and(|(whole, part)| {
            [whole, part].iter().all(|digits| {
                (1..=3).contains(&digits.len()) && digits.bytes().all(|byte| byte.is_ascii_digit())
            })
        })
    };
    let words: Vec<&str> = text.split_whitespace().collect();
    words.len() > 1 && words.iter().all(|word| decimal(word))
}

/// Matches a list with the moments of a solve. What is not said of the way is found by how many there are. The sheet's
/// first times are those returned: the start is among them.
///
/// # Errors
///
/// [`Refused`].
pub fn given(
    study: &Study<'_>,
    list: &[Time],
    what: Given,
    taps: Option<Taps>,
    each: Option<Each>,
) -> Result<(Sheet, Vec<Time>), Refused> {
    let times = on_the_clock(list, what)?;
    let all_taps = taps.map_or_else(|| vec![Taps::Ends, Taps::Both], |taps| vec![taps]);
    let all_each = each.map_or_else(|| vec![Each::Step, Each::Turn], |each| vec![each]);
    let ways = all_each.iter().flat_map(|&each| all_taps.iter().map(move |&taps| Way { taps, each }));
    let sheets: Vec<(Way, Sheet)> = ways.map(|way| (way, Sheet::new(study, way))).collect();
    // A list that begins with 0 begins with the start; one that does not may do so too, where the timer ran before.
    let with_start = |sheet: &Sheet| times.len() == sheet.cues.len();
    let without = |sheet: &Sheet| times.len() + 1 == sheet.cues.len() && times.first() != Some(&Time(0));
    let mut fits: Vec<&(Way, Sheet)> =
        sheets.iter().filter(|(_, sheet)| with_start(sheet) || without(sheet)).collect();
    // Two ways that ask for the same moments are one.
    fits.dedup_by(|a, b| a.1 == b.1);
    match fits.as_slice() {
        [(_, sheet)] => {
            let start = if with_start(sheet) { None } else { Some(Time(0)) };
            Ok((sheet.clone(), start.into_iter().chain(times).collect()))
        }
        [] => {
            let mut least: Vec<(Way, usize)> =
                sheets.iter().map(|(way, sheet)| (*way, sheet.cues.len().saturating_sub(1))).collect();
            least.dedup_by_key(|(_, least)| *least);
            Err(Refused::Count(list.len(), least))
        }
        several => Err(Refused::Open(list.len(), several.iter().map(|(way, _)| *way).collect())),
    }
}

/// What the clock showed each time.
fn on_the_clock(list: &[Time], what: Given) -> Result<Vec<Time>, Refused> {
    /// The longest time that a mark can give, in microseconds.
    const LONGEST: u64 = 100 * 3600 * 1_000_000;
    let mut times: Vec<Time> = Vec::with_capacity(list.len());
    for (n, &number) in list.iter().enumerate() {
        let before = times.last().copied().unwrap_or_default();
        times.push(match what {
            Given::Splits if before.0 + number.0 >= LONGEST => return Err(Refused::TooLong),
            Given::Splits => Time(before.0 + number.0),
            Given::Times if number < before => {
                return Err(Refused::Backwards { number: n + 1, time: number, before });
            }
            Given::Times => number,
        });
    }
    Ok(times)
}

//! Two solutions of one scramble, compared: where they part, where they meet again, what each step took on
//! either side, and what is to be learned of it.
//!
//! A [`Comparison`] is computed from two records and their annotations and holds everything that a view of it
//! needs. Sides are aligned by position, not by count or clock: [`frame`] makes turns comparable, `align` finds
//! where the positions are the same, `rows` lines up the steps by what they solve and splits every difference, `went` finds
//! where most of it went and where the two parted before the same pairs. [`best_steps`] takes the best of each step of
//! several solves. The words are those of [`story`](crate::story).
//!
//! ```
//! use cornerwise::annotate::{Settings, annotate};
//! use cornerwise::diagnostic::Source;
//! use cornerwise::diff::{self, Entry, Sides};
//! use cornerwise::record;
//! use cornerwise::study::Study;
//!
//! let read = |text: &str| Source::new("-", text);
//! let sources = [read("R U F\n\nF' U' R'"), read("R U F\n\nx2 F' D' R'")];
//! let readings = sources.each_ref().map(record::read);
//! let study = |i: usize| Study::new(&sources[i], 1, &readings[i].records[0]);
//! let studies = [study(0), study(1)];
//! let facts = studies.each_ref().map(|study| annotate(study, &Settings::default()).facts);
//! let entry = |i: usize| Entry { study: studies[i].clone(), facts: &facts[i] };
//! let comparison = diff::compare(Sides { a: entry(0), b: entry(1) }, &diff::Settings::default());
//! // `x2` brings the back to the front, so `F'` is another turn.
//! assert!(comparison.start.same && comparison.different);
//! assert_eq!(comparison.parting.expect("they part").turns, 0);
//! ```

mod align;
mod best;
mod facts;
pub mod frame;
mod rows;
mod side;
mod start;
mod went;

pub use best::{Best, BestFormat, BestStage, BestSteps, StageSide, best_steps};
pub use facts::{
    Compared, Comparison, Difference, Fork, Format, FreeTurn, Meeting, MeetingSide, Notice, Parting,
    PartingSide, Row, RowSide, Sides, Slip, Split, Start, StepSide, StopAt, Stretch, Went, WentFor, WentIn,
    Which, Why,
};
pub use rows::ENDS;
pub use side::Entry;
pub use start::start;

use crate::cube::Hold;
use side::Side;

/// What a comparison depends on besides the records.
#[derive(Debug, Clone, PartialEq)]
pub struct Settings {
    /// The hold in which the turns of both sides are written; `None` for that of side `a` at its first turn.
    pub hold: Option<Hold>,
    /// What the sides are called in sentences.
    pub names: Sides<String>,
}

impl Default for Settings {
    fn default() -> Settings {
        Settings { hold: None, names: Sides { a: "A".into(), b: "B".into() } }
    }
}

/// How far two times of one thing may be apart and still count as the same, in seconds: what two decimals
/// cannot show.
const SAME_SECONDS: f64 = 0.005;

/// Compares two records, each as far as its annotation goes. They are compared even if they do not begin with
/// the same position; [`Comparison::start`] says so.
#[must_use]
pub fn compare(entries: Sides<Entry<'_>>, settings: &Settings) -> Comparison {
    let made = entries.as_ref().map(Side::new);
    let sides = made.as_ref();
    let start = start::start(entries.as_ref().map(|entry| entry.study.record));
    let hold = settings.hold.unwrap_or_else(|| sides.a.hold());
    let mut rows = rows::rows(sides, hold);
    let turns = sides.map(|side| {
        let turns: Vec<_> = side.turns.iter().map(|turned| turned.turn).collect();
        frame::canonical(&turns)
    });
    let same_turns = turns.a == turns.b;
    let parting = align::parting(sides, hold);
    let compared = rows::compared(sides, &rows, parting.as_ref());
    // What lies past the last thing in common is shown, and held against neither.
    rows[compared.rows..].iter_mut().for_each(|row| row.difference = None);
    let timed = sides.a.timed() && sides.b.timed();
    let seconds = compared.seconds.a.zip(compared.seconds.b).filter(|_| timed);
    let difference = Difference {
        obtm: compared.obtm.b as i64 - compared.obtm.a as i64,
        seconds: seconds.map(|(a, b)| crate::clock::micro(b - a)),
        split: went::total(&rows[..compared.rows]).filter(|_| seconds.is_some() && compared.rows > 0),
    };
    let times = rows.iter().filter_map(|row| row.difference).chain([difference]).filter_map(|d| d.seconds);
    let same_times = times.into_iter().all(|seconds| seconds.abs() < SAME_SECONDS);
    let mut comparison = Comparison {
        format: Format::Comparison2,
        names: settings.names.clone(),
        different: !start.same || !same_turns || !same_times,
        parting,
        meetings: align::meetings(sides, start.same, hold),
        start,
        hold: hold.into(),
        same_turns,
        compared,
        difference,
        behind: None,
        went: Vec::new(),
        largest: Vec::new(),
        fork: None,
        blamed: None,
        rows,
        notices: Vec::new(),
        annotations: entries.as_ref().map(|entry| entry.facts.clone()),
    };
    comparison.notices = went::notices(&comparison, sides);
    comparison.behind = went::behind(&comparison);
    comparison.went = went::went(&comparison);
    comparison.largest = went::largest(&comparison);
    comparison.fork = went::fork(&comparison, sides);
    comparison.blamed = went::blamed(&comparison);
    comparison
}

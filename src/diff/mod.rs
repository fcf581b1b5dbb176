//! Two solutions of one scramble, compared: where they part, where they meet again, what each step took on
//! either side, and what is to be learned of it.
//!
//! A [`Comparison`] is computed from two records and their annotations and holds everything that a view of it
//! needs. Sides are aligned by position, not by count or clock: [`frame`] makes turns comparable, `align` finds
//! where the positions are the same, `rows` lines up the steps, `lesson` says it in sentences. [`best_steps`]
//! takes the best of each step of several solves.
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
mod lesson;
mod rows;
mod side;
mod start;

pub use best::{Best, BestFormat, BestStage, BestSteps, StageSide, best_steps};
pub use facts::{
    Compared, Comparison, Difference, Format, FreeTurn, Meeting, MeetingSide, NextSide, Parting, PartingSide,
    Row, Sentence, Sides, Slip, Start, StepSide, Stretch, Which, Why,
};
pub use side::Entry;
pub use start::start;

use crate::cube::Hold;
use side::Side;

/// What a comparison depends on besides the records.
#[derive(Debug, Clone, PartialEq)]
pub struct Settings {
    /// The hold in which the turns of both sides are written: that of the scramble, unless asked otherwise.
    pub hold: Hold,
    /// What the sides are called in sentences.
    pub names: Sides<String>,
}

impl Default for Settings {
    fn default() -> Settings {
        Settings { hold: Hold::START, names: Sides { a: "A".into(), b: "B".into() } }
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
    let mut rows = rows::rows(sides, settings.hold);
    let turns = sides.map(|side| {
        let turns: Vec<_> = side.turns.iter().map(|turned| turned.turn).collect();
        frame::canonical(&turns)
    });
    let same_turns = turns.a == turns.b;
    let parting = align::parting(sides, settings.hold);
    let compared = rows::compared(sides, &rows, parting.as_ref());
    // What lies past the last thing in common is shown, and held against neither.
    rows[compared.rows..].iter_mut().for_each(|row| row.difference = None);
    let difference = Difference {
        obtm: compared.obtm.b as i64 - compared.obtm.a as i64,
        seconds: compared.seconds.a.zip(compared.seconds.b).map(|(a, b)| rows::hundredths(b - a)),
    };
    let times = rows.iter().filter_map(|row| row.difference).chain([difference]).filter_map(|d| d.seconds);
    let same_times = times.into_iter().all(|seconds| seconds.abs() < SAME_SECONDS);
    let mut comparison = Comparison {
        format: Format::Comparison2,
        names: settings.names.clone(),
        different: !start.same || !same_turns || !same_times,
        parting,
        meetings: align::meetings(sides, start.same, settings.hold),
        start,
        hold: settings.hold.into(),
        same_turns,
        compared,
        difference,
        rows,
        lesson: Vec::new(),
        notices: Vec::new(),
        annotations: entries.map(|entry| entry.facts.clone()),
    };
    comparison.notices = lesson::notices(&comparison);
    comparison.lesson = lesson::lesson(&comparison);
    comparison
}

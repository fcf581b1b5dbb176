//! Finding what is wrong with a record, and what it would take to put it right.
//!
//! Data goes one way, and each file has one idea:
//!
//! 1. [`examine()`] takes a record. What is wrong is the reader's faults, what the replay says, and what looks `odd`;
//!    [`locate`](mod@locate) says up to where the record surely holds.
//! 2. Its [`tokens`] become [`edits`]: at each place everything that would undo one [`slip`] of the pen.
//! 3. [`search`] finds the sets of edits after which it replays to solved: one, two, three where each is of the likeliest
//!    kinds, what fills a `?` or `...`, and tokens and lines that were lost or stand in the wrong place. It has a budget of [work](search::work), and says so where that ended it.
//! 4. A set of edits becomes [`change`]s of the record: what is rewritten, and the turns as they would be.
//! 5. [`rank`](mod@rank) makes equal ones one, plays and judges each, and orders them by the cost of the slips and by how the
//!    steps look afterwards. `docs/mend.md` has the weights and what they do in practice.
//! 6. [`facts`] is all of it for programs. [`text`] writes a repair into the source and reads it back; [`words`] says it. Nothing here writes files.

pub mod change;
pub mod edits;
pub mod examine;
pub mod facts;
pub mod locate;
mod odd;
pub mod rank;
pub mod search;
pub mod slip;
pub mod text;
pub mod tokens;
pub mod words;

use crate::study::Study;

pub use change::{Change, Part, Side};

pub use examine::{Examination, Health, Searched, Settings, Standing, examine};
pub use rank::Repair;
pub use search::gap;
pub use slip::Slip;

/// How much likelier than the second the first repair must be to be *clearly ahead*: ten times, as a natural
/// logarithm.
pub const CLEARLY_AHEAD: f64 = std::f64::consts::LN_10;

/// In one line what `mend` would propose for a record; `None` if nothing is to be repaired. Takes some tens of
/// milliseconds for a record with a slip, some tenths of a second for one that lost more, nothing worth mentioning for a
/// sound one.
#[must_use]
pub fn propose_one_line(study: &Study<'_>) -> Option<String> {
    words::one_line(study.source, study.record, &examine(study, &Settings::default()))
}

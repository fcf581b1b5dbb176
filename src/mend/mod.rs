//! Finding what is wrong with a record, and what it would take to put it right.
//!
//! [`examine()`] says what is wrong, up to where the record surely holds, and every repair of one edit and of
//! two (three where each is of the likeliest kinds) that makes it replay to solved, in order of how people
//! slip. Nothing here writes files: [`text`] gives the source with a repair made.
//!
//! Data goes one way: the record's tokens become a list of [edits](edit), the [search] finds the sets of edits
//! that work, [`rank`](mod@rank) makes equal ones one and orders them by the cost of the slips and by how the steps
//! [look](judge) afterwards. `docs/mend.md` has the weights and what they do in practice.

pub mod change;
pub mod edit;
pub mod effect;
pub mod examine;
mod find;
pub mod gap;
pub mod groups;
pub mod held;
pub mod judge;
pub mod locate;
mod missing;
pub mod rank;
pub mod search;
pub mod text;
mod tokens;
pub mod words;
pub mod work;

use crate::diagnostic::Source;
use crate::record::Record;

pub use change::{Change, Part, Side};
pub use edit::Slip;
pub use examine::{Examination, Health, Searched, Settings, Standing, examine};
pub use rank::Repair;

/// How much likelier than the second the first repair must be to be *clearly ahead*: ten times, as a natural
/// logarithm.
pub const CLEARLY_AHEAD: f64 = std::f64::consts::LN_10;

/// In one line what `mend` would propose for a record; `None` if nothing is to be repaired. Takes some tens of
/// milliseconds for a broken record, nothing worth mentioning for a sound one.
#[must_use]
pub fn propose_one_line(source: &Source, record: &Record) -> Option<String> {
    words::one_line(source, record, &examine(source, record, &Settings::default()))
}

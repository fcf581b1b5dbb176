//! Replays a written cube solve and says, pair by pair, where the next corner was, which tier of the scan
//! finds it, when it could have been known, and whether another choice would have kept the flow.
//!
//! Data goes one way: text → [`cube`] values → facts → views. `DEVELOPERS.md` draws the house.

#![warn(missing_docs)]

pub mod annotate;
pub mod annotation;
pub mod clock;
pub mod cube;
pub mod diagnostic;
pub mod diff;
pub mod findings;
pub mod hands;
pub mod harmless;
pub mod judgement;
pub mod look_ahead;
pub mod mend;
pub mod notation;
pub mod paste;
pub mod record;
pub mod replay;
pub mod report;
pub mod scan;
pub mod search;
pub mod sight;
pub mod steps;
pub mod story;
pub mod study;
mod written;

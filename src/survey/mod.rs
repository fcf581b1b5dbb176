//! Many solves: what goes with the stops, what it costs, whether it is getting better, what to practise.
//!
//! Every record's annotation is folded into a [`Solve`], a few figures a step, and dropped; [`Gathered`] keeps each
//! solve once and each solver's together; [`survey`] makes the facts of it, a [`Survey`]. What goes with the stops is said
//! only where chance does not do the same: [`stops`] has the procedure, `docs/survey.md` what it held against.
//!
//! All random numbers come from one seed and are dealt out by the work, not by the thread, so the facts are the same
//! however many threads there are.

mod against;
pub mod bootstrap;
pub mod circumstance;
pub mod discovery;
pub mod facts;
mod gather;
mod make;
mod random;
mod shuffle;
mod solve;
pub mod steps;
pub mod stops;
pub mod trend;

pub use against::against;
pub use facts::{Finding, Survey};
pub use gather::{Gathered, Solver, Wanted};
pub use make::survey;
pub use solve::{PairStep, Solve};

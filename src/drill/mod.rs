//! Practice positions made to order: a scramble, a question, and the exact answer.
//!
//! A [`Wish`] says which property a position is to have; [`Drills`] draws positions, each as likely as the others
//! ([`draw`]), until one has it, so what comes is uniform among those that do. Where the question is about a pair, the
//! pair is drawn with the position, and it is uniform among the two together. Then it makes a scramble
//! ([`scramble`](crate::scramble)) that does not pass, shortly before its end, a position from which it would undo a pair.
//!
//! Every position has random numbers of its own, so the same seed gives the same drill in whatever order the
//! positions are made. `docs/drill.md` tells a person the same.

pub mod draw;
mod facts;
mod find;
mod kind;
mod make;
mod random;
mod record;
mod wish;

pub use facts::{Answer, Drill, Format, Given, Shown, TurnShows};
pub use kind::Kind;
pub use make::{Drills, Unmet};
pub use random::Random;
pub use record::record;
pub use wish::{Like, Refused, Wish, turned_over};

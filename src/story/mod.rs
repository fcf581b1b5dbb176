//! The only place where facts become sentences: facts in, blocks of words and figures out.
//!
//! Nothing is worked out here that a fact does not say, and nothing is said twice: what the top of a story tells, its
//! steps do not repeat. Writers (text, Markdown, pages) make of the [`blocks`] what their medium can.

pub mod blocks;
mod causes;
pub mod comparison;
pub mod found;
pub mod glossary;
mod grips;
mod losses;
mod position;
mod side_by_side;
mod solve;

pub use causes::{cause, reason};
pub use grips::grips;
pub use losses::alternative;
pub use solve::{Told, solve};

//! The only place where facts become sentences: facts in, blocks of words and figures out.
//!
//! Nothing is worked out here that a fact does not say, and nothing is said twice: what the top of a story tells, its
//! steps do not repeat. Writers (text, Markdown, pages) make of the [`blocks`] what their medium can.

pub mod blocks;
mod causes;
pub mod comparison;
mod drill;
pub mod found;
pub mod glossary;
mod grips;
mod losses;
pub mod moments;
mod plan;
mod position;
pub mod quiz;
mod side_by_side;
mod solve;
pub mod survey;

pub use causes::{cause, reason};
pub use drill::{Asked, Checked, Head, drill, drill_checked, drill_head};
pub use grips::grips;
pub use losses::alternative;
pub use plan::planned;
pub(crate) use solve::line_told;
pub use solve::{Told, solve};

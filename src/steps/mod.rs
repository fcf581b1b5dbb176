//! Cutting a replay into its steps: cross, pairs, orientation, permutation, final adjustment.
//!
//! Nothing but the positions decides: the writer's comments are held against the result in [`claims`]. All
//! of it is relative to the centres, so the hold does not matter.

pub mod cases;
pub mod claims;
mod names;
mod split;

pub use names::{Case, Name};
pub use split::{End, Kind, Skip, Solve, Step, split};

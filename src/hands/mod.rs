//! What a line costs the hands, and the ways to play it at that cost.
//!
//! This knows cubes and turns, not solves. A line is given as turns in the cube's own frame
//! ([`FaceTurn`](crate::cube::FaceTurn)) from a position whose cross is whole; hands hold the cube in some [`Hold`](crate::cube::Hold).
//! What the hands then do is theirs to choose: they may turn the whole cube first, or on the way, and turn a layer and the
//! one under it together. The [`Handling`] of a line is the least cost of all these *ways* and every way that costs no
//! more, as tokens. So the same turns cost the same however a record spells them, and whatever the hold it spells them in.
//!
//! A way is built so, with one token for each turn:
//!
//! * Turns of one face in a row are one turn, also where only turns of the opposite face stand between them
//!   ([`merged`]). Two opposite neighbours may be played in either order.
//! * Before a turn stands at most one rotation `y`, `y2` or `y'`, and only at a moment at which the cross is whole.
//! * A quarter turn of the layer opposite the cross may be played as a wide `d`, with which the hold turns, at such a moment.
//! * If the cross is not down in the hands at the start, one or two rotations about any axis bring it down first.
//!   Nothing else turns the cube then, before the first turn.
//!
//! Costs are counted in [`HalfUnits`], so that sums are exact and equal costs are equal. What each token costs is in
//! [`Weights`]; their defaults are common practice, no source:
//!
//! | what | units |
//! |---|---|
//! | quarter turn of R, L, U | 1 |
//! | of D, F | 2 |
//! | of B | 3 |
//! | any half turn | 0.5 more |
//! | a quarter turn of U played as a wide `d` | 2 |
//! | rotation `y` or `y'` / `y2` (`x`, `z` alike) | 1.5 / 2 |
//! | a turn of R or L whose last turn of R or L before it in the line, whatever lies between, was of the other of the two | 0.5 more |
//!
//! ```
//! use cornerwise::cube::{Colour, Hold, Move};
//! use cornerwise::hands::{Handling, HalfUnits, Weights, turns_of};
//! # use cornerwise::cube::{Amount, Axis, Face};
//!
//! // `U R U' R'`, yellow cross down, green in front.
//! let moves = [
//!     Move::Turn(Face::U, Amount::Quarter),
//!     Move::Turn(Face::R, Amount::Quarter),
//!     Move::Turn(Face::U, Amount::Back),
//!     Move::Turn(Face::R, Amount::Back),
//! ];
//! let turns = turns_of(Hold::START, &moves);
//! let handling = Handling::new(&turns, Colour::Yellow, &Weights::default());
//! assert_eq!(handling.cost(Hold::START), HalfUnits::from_halves(8));
//! assert_eq!(handling.ways(Hold::START)[0].moves, moves);
//! // In a hold in which they are `U B U' B'`, hands play `d L U' L'`.
//! let other = Hold::START.rotated(Axis::Y, Amount::Back);
//! assert_eq!(handling.cost(other).to_string(), "5");
//! ```

mod handling;
mod turns;
mod units;
mod upright;
mod weights;
mod which;

pub use handling::{Handling, Way, at_least};
pub use turns::{canonical, merged, turns_of};
pub use units::HalfUnits;
pub use upright::upright;
pub use weights::{Weights, WeightsError};
pub use which::Hands;

#[cfg(test)]
mod tests;

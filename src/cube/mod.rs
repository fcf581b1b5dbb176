//! The puzzle itself: colours, pieces, places, turns, holds and positions.
//!
//! Nothing here knows files or people, and nothing can fail at run time. Everything is small and `Copy`, but for
//! sequences. How all of it is written, and read back, is in `names`.
//!
//! Two frames are used and kept apart by type:
//!
//! * the **body frame** belongs to the cube: a direction is the [`Colour`] of the centre that lies there.
//!   Pieces, places and [`FaceTurn`]s live in it, so a piece is *solved* or not whatever the hold;
//! * the **hold** belongs to the hands: a direction is a [`Face`] (`U`, `R`, …). A [`Hold`] says which
//!   centre is at which face. What a person writes is a [`Move`] in their hold; [`Move::resolve`] turns it
//!   into what happens to the pieces and to the hold.
//!
//! ```
//! use cornerwise::cube::{Amount, Axis, Face, Hold, Move, Position};
//!
//! // `y R` turns the face that was at the back.
//! let mut one = Position::SOLVED;
//! one.play(Move::Rotation(Axis::Y, Amount::Quarter));
//! one.play(Move::Turn(Face::R, Amount::Quarter));
//! let mut other = Position::SOLVED;
//! other.play(Move::Turn(Face::B, Amount::Quarter));
//! assert_eq!(one.state, other.state);
//! assert_ne!(one.hold, other.hold);
//! assert_eq!(other.hold, Hold::START);
//! ```

mod colour;
mod hold;
mod named;
mod names;
mod pair_set;
mod piece;
mod place;
mod slot;
mod state;
mod stickers;
mod turn;

pub use colour::{Colour, ColourSet, Face, FaceSet};
pub use hold::Hold;
pub use named::{Moves, PairName};
pub use names::NameError;
pub use pair_set::PairSet;
pub use piece::{Corner, CornerAt, CornerPlace, Edge, EdgeAt, EdgePlace, Pair};
pub use place::{ParsePlaceError, Place};
pub use slot::{BySlot, Slot};
pub use state::{Position, State};
pub use stickers::Stickers;
pub use turn::{Amount, Axis, FaceTurn, Move, Resolved, Slice};

//! What the stickers in sight allow a solver to know: seen, found and known, and the lead they leave.
//!
//! Nothing here guesses what a person thought. *Sight* is a set of faces of the hold; a sticker is in sight
//! when it lies on one of them, at a moment, with no layer half turned.
//!
//! * **Seen** ([`InSight`], two table look-ups): at least two stickers of the piece are in sight. Two
//!   stickers of a corner name it, because the two corners that share two colours show them in opposite
//!   order round the place.
//! * **Known** ([`Watch`]): what perfect elimination gives. At each moment of a step, from the first one with
//!   the solved pieces and the pieces in hand known:
//!   1. a piece known at the moment before stays known (it is followed through the turn);
//!   2. every place shows the stickers that lie on faces in sight;
//!   3. a piece is known if every assignment of the remaining pieces to the remaining places that agrees
//!      with all visible stickers puts it in the same place. Corners and edges apart, no parity;
//!   4. its orientation is known once it is known where it is and one of its stickers is in sight, and stays
//!      known from then on.
//! * **Found** ([`grades`]): between seen and known lies what a person can be expected to have at speed: what is plain,
//!   and what one step of reasoning settles, with its [`reasons`]. It tells what a step leaves for every open pair
//!   ([`grades::Left`]), ready or late. Seen implies found implies known.
//! * **More faces** ([`MoreFaces`]): what the grip hid.
//!
//! Moments are counted as *offsets* from the first moment of the step: offset 0 is before its first token.
//! Only what is [known at a moment](Watch) is remembered, as the rules say; a set of places a piece may be
//! in is worked out afresh at each moment and not narrowed by those before.
//!
//! ```
//! use cornerwise::cube::{Amount, Colour, Face, FaceSet, Move, Pair, Position};
//! use cornerwise::sight::{Pieces, Watch};
//!
//! // Green in front and red on the right: the corner behind, below and left shows nothing of itself, but
//! // it is the only corner that is nowhere else.
//! let sight = FaceSet::of(&[Face::U, Face::F, Face::R]);
//! let positions = [Position::SOLVED, Position::SOLVED.after([Move::Turn(Face::L, Amount::Quarter)])];
//! let watch = Watch::new(&positions, Pieces::EMPTY, sight);
//! let [blue_orange, ..] = Pair::all(Colour::Yellow);
//! let found = watch.corner(blue_orange.corner);
//! assert_eq!((found.seen, found.known), (None, Some(0)));
//! ```

mod elimination;
pub mod grades;
mod in_sight;
mod moments;
mod more_faces;
mod pieces;
pub mod reasons;
mod travel;
mod watch;

#[cfg(test)]
mod tests;

pub use in_sight::InSight;
pub use moments::{DEFAULT_LEAD, Moments};
pub use more_faces::MoreFaces;
pub use pieces::{Piece, Pieces};
pub use travel::{LayOpen, Stage, Travel, lay_open, travel};
pub use watch::{Found, Glimpse, Watch};

//! What the stickers in sight allow a solver to know: seen and known, the lead they leave, and the outcome
//! of a step.
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
//! * **Lead** and **outcome** ([`Left`], [`Outcome`]): what a step leaves for an open pair.
//! * **More faces** ([`fewest_more_faces`]): what the grip hid.
//!
//! Between seen and known lies what a person can be expected to have at speed: the three [`grades`], whether a pair is
//! ready, and the [`reasons`] by which a piece is deduced. Seen implies found implies known.
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
mod more_faces;
mod outcome;
mod pieces;
pub mod reasons;
mod travel;
mod watch;

pub use in_sight::InSight;
pub use more_faces::{MoreFaces, fewest_more_faces};
pub use outcome::{DEFAULT_LEAD, Left, Moments, Outcome, corner_up, edge_up, left};
pub use pieces::{Piece, Pieces};
pub use travel::{LayOpen, Stage, Travel, lay_open, travel};
pub use watch::{Found, Glimpse, Watch};

//! Corners and edges, the places they sit in, and the pairs of the first two layers.
//!
//! A *place* is a spot in the body frame, named by the centres it touches; a *piece* is named by its
//! colours. Piece `i` is solved when it sits in place `i` untwisted, but the two are separate types so that
//! they cannot be mixed up.

use std::sync::LazyLock;

use super::{Colour, ColourSet, Face, Hold, Slot};

/// The colours of the eight corners, clockwise as seen from outside, starting with white or yellow.
///
/// From geometry and the colour scheme; checked against `tests` with a model of stickers in space.
const CORNERS: [[Colour; 3]; 8] = {
    use Colour::{Blue, Green, Orange, Red, White, Yellow};
    [
        [White, Red, Green],
        [White, Green, Orange],
        [White, Orange, Blue],
        [White, Blue, Red],
        [Yellow, Green, Red],
        [Yellow, Orange, Green],
        [Yellow, Blue, Orange],
        [Yellow, Red, Blue],
    ]
};

/// The colours of the twelve edges: white or yellow first, else green or blue first.
const EDGES: [[Colour; 2]; 12] = {
    use Colour::{Blue, Green, Orange, Red, White, Yellow};
    [
        [White, Green],
        [White, Orange],
        [White, Blue],
        [White, Red],
        [Green, Red],
        [Green, Orange],
        [Blue, Orange],
        [Blue, Red],
        [Yellow, Green],
        [Yellow, Orange],
        [Yellow, Blue],
        [Yellow, Red],
    ]
};

macro_rules! piece_and_place {
    (
        $(#[$piece_doc:meta])* $piece:ident, $(#[$place_doc:meta])* $place:ident,
        $(#[$at_doc:meta])* $at:ident, $table:ident, $count:literal pieces, $sides:literal sides
    ) => {
        $(#[$piece_doc])*
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub struct $piece(u8);

        $(#[$place_doc])*
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub struct $place(u8);

        $(#[$at_doc])*
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub struct $at(u8);

        impl $piece {
            /// How many there are.
            pub const COUNT: usize = $count;
            /// All of them, in order of [`index`](Self::index).
            pub const ALL: [$piece; $count] = {
                let mut all = [$piece(0); $count];
                let mut i = 0;
                while i < $count {
                    all[i] = $piece(i as u8);
                    i += 1;
                }
                all
            };

            /// A number from 0 to `COUNT - 1`.
            #[must_use]
            pub const fn index(self) -> usize {
                self.0 as usize
            }

            /// The piece's colours in the order of the table: see the module's page.
            #[must_use]
            pub const fn colours(self) -> [Colour; $sides] {
                $table[self.0 as usize]
            }

            /// The piece with exactly these colours, in any order; `None` if there is none.
            #[must_use]
            pub const fn with_colours(colours: ColourSet) -> Option<$piece> {
                static BY_COLOURS: [Option<$piece>; 64] = {
                    let mut table = [None; 64];
                    let mut i = 0;
                    while i < $count {
                        table[ColourSet::of(&$table[i]).bits() as usize] = Some($piece(i as u8));
                        i += 1;
                    }
                    table
                };
                BY_COLOURS[colours.bits() as usize]
            }

            /// Whether the piece has a sticker of this colour.
            #[must_use]
            pub fn has(self, colour: Colour) -> bool {
                self.colours().contains(&colour)
            }

            /// The place where the piece is solved.
            #[must_use]
            pub const fn home(self) -> $place {
                $place(self.0)
            }
        }

        impl $place {
            /// All of them, in order of [`index`](Self::index).
            pub const ALL: [$place; $count] = {
                let mut all = [$place(0); $count];
                let mut i = 0;
                while i < $count {
                    all[i] = $place(i as u8);
                    i += 1;
                }
                all
            };

            /// A number from 0 to one less than the count of pieces.
            #[must_use]
            pub const fn index(self) -> usize {
                self.0 as usize
            }

            /// The centres the place touches, in the order of the table: see the module's page.
            #[must_use]
            pub const fn centres(self) -> [Colour; $sides] {
                $table[self.0 as usize]
            }

            /// Whether the place lies in the layer of this centre.
            #[must_use]
            pub fn touches(self, centre: Colour) -> bool {
                self.centres().contains(&centre)
            }

            /// The piece that is solved here.
            #[must_use]
            pub const fn owner(self) -> $piece {
                $piece(self.0)
            }

            /// The faces of `hold` the place touches, in the order people write them: `U` or `D` first, then
            /// `F` or `B`, then `R` or `L`.
            #[must_use]
            pub fn faces(self, hold: Hold) -> [Face; $sides] {
                let mut faces = self.centres().map(|centre| hold.face(centre));
                faces.sort_unstable();
                faces
            }

            /// The place that touches exactly these faces of `hold`; `None` if there is none.
            #[must_use]
            pub fn at_faces(faces: [Face; $sides], hold: Hold) -> Option<$place> {
                let centres: ColourSet = faces.into_iter().map(|face| hold.colour(face)).collect();
                $piece::with_colours(centres).map($piece::home)
            }
        }

        impl $at {
            /// How many combinations of place and twist there are.
            pub const COUNT: usize = $count * $sides;

            /// The piece sits in `place`, and its first colour shows on the `twist`-th of the place's
            /// centres. `twist` must be less than the number of stickers.
            #[must_use]
            pub const fn new(place: $place, twist: u8) -> $at {
                assert!(twist < $sides, "a twist is less than the number of stickers");
                $at(place.0 * $sides + twist)
            }

            /// Solved, for this piece.
            #[must_use]
            pub const fn home(piece: $piece) -> $at {
                $at(piece.0 * $sides)
            }

            /// A number from 0 to `COUNT - 1`.
            #[must_use]
            pub const fn index(self) -> usize {
                self.0 as usize
            }

            /// The inverse of [`index`](Self::index); `index` must be less than `COUNT`.
            #[must_use]
            pub const fn from_index(index: usize) -> $at {
                assert!(index < Self::COUNT, "an index is less than COUNT");
                $at(index as u8)
            }

            /// Where the piece sits.
            #[must_use]
            pub const fn place(self) -> $place {
                $place(self.0 / $sides)
            }

            /// Which of the place's centres the piece's first colour shows on.
            #[must_use]
            pub const fn twist(self) -> u8 {
                self.0 % $sides
            }

            /// The colour that `piece`, sitting so, shows on the side of `centre`; `None` if the place does
            /// not touch that centre.
            #[must_use]
            pub fn shows(self, piece: $piece, centre: Colour) -> Option<Colour> {
                let side = self.place().centres().iter().position(|&c| c == centre)?;
                Some(piece.colours()[(side + $sides - self.twist() as usize) % $sides])
            }

            /// The centre on whose side `piece`, sitting so, shows `colour`; `None` if it has no such colour.
            #[must_use]
            pub fn side_of(self, piece: $piece, colour: Colour) -> Option<Colour> {
                let sticker = piece.colours().iter().position(|&c| c == colour)?;
                Some(self.place().centres()[(sticker + self.twist() as usize) % $sides])
            }
        }
    };
}

piece_and_place! {
    /// One of the eight corners.
    Corner,
    /// One of the eight places where a corner can sit.
    CornerPlace,
    /// Where a corner sits and how it is twisted: one of 24.
    CornerAt, CORNERS, 8 pieces, 3 sides
}
piece_and_place! {
    /// One of the twelve edges.
    Edge,
    /// One of the twelve places where an edge can sit.
    EdgePlace,
    /// Where an edge sits and how it is flipped: one of 24.
    EdgeAt, EDGES, 12 pieces, 2 sides
}

/// A corner of the cross colour and the edge that belongs above it; also the slot they fill.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Pair {
    /// The corner, which has the cross colour and both side colours.
    pub corner: Corner,
    /// The edge, which has both side colours.
    pub edge: Edge,
}

impl Pair {
    /// The four pairs of the first two layers when the cross is of colour `cross`, ordered by the English
    /// names of their two side colours, each in alphabetical order (for white: blue-orange, blue-red,
    /// green-orange, green-red).
    #[must_use]
    pub fn all(cross: Colour) -> [Pair; 4] {
        static TABLE: LazyLock<[[Pair; 4]; 6]> = LazyLock::new(|| Colour::ALL.map(Pair::find_all));
        TABLE[cross as usize]
    }

    /// Its number among the four of its cross.
    #[must_use]
    pub fn slot(self) -> Slot {
        static TABLE: LazyLock<[Slot; 8 * 12]> = LazyLock::new(|| {
            let mut table = [Slot::A; 8 * 12];
            for cross in Colour::ALL {
                for (pair, slot) in Pair::all(cross).into_iter().zip(Slot::ALL) {
                    table[pair.corner.index() * 12 + pair.edge.index()] = slot;
                }
            }
            table
        });
        TABLE[self.corner.index() * 12 + self.edge.index()]
    }

    fn find_all(cross: Colour) -> [Pair; 4] {
        let ring = cross.ring();
        let mut pairs = [0, 1, 2, 3].map(|i| {
            let (a, b) = (ring[i], ring[(i + 1) % 4]);
            Pair {
                corner: Corner::with_colours(ColourSet::of(&[cross, a, b])).expect("neighbouring colours"),
                edge: Edge::with_colours(ColourSet::of(&[a, b])).expect("neighbouring colours"),
            }
        });
        pairs.sort_by_key(|pair| pair.sides().map(alphabetical));
        pairs
    }

    /// The pair of any cross colour whose edge has these two colours, the first found; `None` if they are
    /// the same or opposite. Enough where only the side colours matter.
    #[must_use]
    pub fn with_sides(a: Colour, b: Colour) -> Option<Pair> {
        let edge = Edge::with_colours(ColourSet::of(&[a, b]))?;
        Colour::ALL.into_iter().flat_map(Pair::all).find(|pair| pair.edge == edge)
    }

    /// The two side colours, in the alphabetical order of their English names.
    #[must_use]
    pub fn sides(self) -> [Colour; 2] {
        let mut sides = self.edge.colours();
        sides.sort_by_key(|&colour| alphabetical(colour));
        sides
    }

    /// The four edges of the cross of this colour, in the order of [`Colour::ring`].
    #[must_use]
    pub fn cross_edges(cross: Colour) -> [Edge; 4] {
        static TABLE: LazyLock<[[Edge; 4]; 6]> = LazyLock::new(|| {
            Colour::ALL.map(|cross| {
                cross
                    .ring()
                    .map(|side| Edge::with_colours(ColourSet::of(&[cross, side])).expect("neighbours"))
            })
        });
        TABLE[cross as usize]
    }
}

/// The rank of a colour's English name: blue, green, orange, red, white, yellow.
const fn alphabetical(colour: Colour) -> u8 {
    match colour {
        Colour::Blue => 0,
        Colour::Green => 1,
        Colour::Orange => 2,
        Colour::Red => 3,
        Colour::White => 4,
        Colour::Yellow => 5,
    }
}

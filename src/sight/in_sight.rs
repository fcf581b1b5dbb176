//! Which stickers are in sight, by table: the cheap half of the room, made for searches that ask it of
//! thousands of lines.

use crate::cube::{ColourSet, CornerAt, EdgeAt, FaceSet, Hold, Position};

use super::Piece;

/// The faces in sight in one hold, as directions of the body frame.
///
/// A line of outer turns does not change the hold, so one value serves for all its moments.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct InSight {
    directions: ColourSet,
    /// Bit `CornerAt::index` is set if a corner that sits so has two stickers in sight.
    corners: u32,
    /// Bit `EdgeAt::index` is set if an edge that sits so has both stickers in sight.
    edges: u32,
}

/// For each set of directions in sight and each way to sit: which of the piece's own stickers are in sight,
/// bit `i` for the `i`-th of its colours.
static CORNER_STICKERS: [[u8; 24]; 64] = corner_stickers();
static EDGE_STICKERS: [[u8; 24]; 64] = edge_stickers();
/// The same boiled down to one bit for each way to sit: two stickers or more.
static CORNERS_SEEN: [u32; 64] = two_or_more(&corner_stickers());
static EDGES_SEEN: [u32; 64] = two_or_more(&edge_stickers());

impl InSight {
    /// What lies on these faces of the hold.
    #[must_use]
    pub fn new(hold: Hold, sight: FaceSet) -> InSight {
        InSight::directions(hold.colours(sight))
    }

    /// What lies in these directions of the body frame.
    #[must_use]
    pub fn directions(directions: ColourSet) -> InSight {
        let bits = directions.bits() as usize;
        InSight { directions, corners: CORNERS_SEEN[bits], edges: EDGES_SEEN[bits] }
    }

    /// Whether a corner that sits so is seen: two of its stickers are in sight.
    #[must_use]
    pub const fn sees_corner(self, at: CornerAt) -> bool {
        self.corners >> at.index() & 1 != 0
    }

    /// Whether an edge that sits so is seen: both its stickers are in sight.
    #[must_use]
    pub const fn sees_edge(self, at: EdgeAt) -> bool {
        self.edges >> at.index() & 1 != 0
    }

    /// Whether the piece is seen in this position.
    #[must_use]
    pub fn sees(self, piece: Piece, position: &Position) -> bool {
        match piece {
            Piece::Corner(corner) => self.sees_corner(position.state.corner(corner)),
            Piece::Edge(edge) => self.sees_edge(position.state.edge(edge)),
        }
    }

    /// Which stickers of a corner that sits so are in sight: bit `i` for the `i`-th of
    /// [`Corner::colours`](crate::cube::Corner::colours).
    #[must_use]
    pub fn corner_stickers(self, at: CornerAt) -> u8 {
        CORNER_STICKERS[self.directions.bits() as usize][at.index()]
    }

    /// Which stickers of an edge that sits so are in sight: bit `i` for the `i`-th of
    /// [`Edge::colours`](crate::cube::Edge::colours).
    #[must_use]
    pub fn edge_stickers(self, at: EdgeAt) -> u8 {
        EDGE_STICKERS[self.directions.bits() as usize][at.index()]
    }
}

const fn corner_stickers() -> [[u8; 24]; 64] {
    let mut table = [[0; 24]; 64];
    let mut bits = 0;
    while bits < 64 {
        let mut i = 0;
        while i < CornerAt::COUNT {
            let at = CornerAt::from_index(i);
            let centres = at.place().centres();
            let mut side = 0;
            while side < 3 {
                if bits >> centres[side] as usize & 1 != 0 {
                    table[bits][i] |= 1 << ((side + 3 - at.twist() as usize) % 3);
                }
                side += 1;
            }
            i += 1;
        }
        bits += 1;
    }
    table
}

const fn edge_stickers() -> [[u8; 24]; 64] {
    let mut table = [[0; 24]; 64];
    let mut bits = 0;
    while bits < 64 {
        let mut i = 0;
        while i < EdgeAt::COUNT {
            let at = EdgeAt::from_index(i);
            let centres = at.place().centres();
            let mut side = 0;
            while side < 2 {
                if bits >> centres[side] as usize & 1 != 0 {
                    table[bits][i] |= 1 << ((side + 2 - at.twist() as usize) % 2);
                }
                side += 1;
            }
            i += 1;
        }
        bits += 1;
    }
    table
}

const fn two_or_more(stickers: &[[u8; 24]; 64]) -> [u32; 64] {
    let mut seen = [0; 64];
    let mut bits = 0;
    while bits < 64 {
        let mut i = 0;
        while i < 24 {
            if stickers[bits][i].count_ones() >= 2 {
                seen[bits] |= 1 << i;
            }
            i += 1;
        }
        bits += 1;
    }
    seen
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::cube::{Colour, Corner, Edge, Face};

    /// The tables say what [`CornerAt::shows`] says, worked out sticker by sticker.
    #[test]
    fn the_tables_agree_with_the_stickers() {
        for bits in 0..64_u8 {
            let directions: ColourSet =
                Colour::ALL.into_iter().filter(|&colour| bits >> colour as u8 & 1 != 0).collect();
            let sight = InSight::directions(directions);
            for i in 0..24 {
                let at = CornerAt::from_index(i);
                for corner in Corner::ALL {
                    let shown: Vec<Colour> =
                        directions.iter().filter_map(|centre| at.shows(corner, centre)).collect();
                    assert_eq!(sight.sees_corner(at), shown.len() >= 2);
                    for (sticker, colour) in corner.colours().into_iter().enumerate() {
                        assert_eq!(sight.corner_stickers(at) >> sticker & 1 != 0, shown.contains(&colour));
                    }
                }
                let at = EdgeAt::from_index(i);
                for edge in Edge::ALL {
                    let shown: Vec<Colour> =
                        directions.iter().filter_map(|centre| at.shows(edge, centre)).collect();
                    assert_eq!(sight.sees_edge(at), shown.len() == 2);
                    for (sticker, colour) in edge.colours().into_iter().enumerate() {
                        assert_eq!(sight.edge_stickers(at) >> sticker & 1 != 0, shown.contains(&colour));
                    }
                }
            }
        }
    }

    #[test]
    fn with_up_front_and_right_in_sight_four_corner_places_and_three_edge_places_are_seen() {
        let sight = InSight::new(Hold::START, FaceSet::of(&[Face::U, Face::F, Face::R]));
        let corners = Corner::ALL.into_iter().filter(|&c| sight.sees_corner(CornerAt::home(c))).count();
        let edges = Edge::ALL.into_iter().filter(|&e| sight.sees_edge(EdgeAt::home(e))).count();
        assert_eq!((corners, edges), (4, 3));
    }
}

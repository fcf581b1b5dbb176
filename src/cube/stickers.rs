//! All that is to be seen of a position: its 54 stickers.

use std::ops::Deref;

use super::{Colour, Corner, Edge, Face, FaceSet, Position};

/// Every sticker of a position as it is held: faces `U L F R B D` of the hold, each row by row as seen from
/// outside, `U` with `B` at the top, `D` with `F` at the top, the sides with `U` at the top.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Stickers([Colour; 54]);

impl Stickers {
    /// The faces in the order in which their stickers stand.
    pub const ORDER: [Face; 6] = [Face::U, Face::L, Face::F, Face::R, Face::B, Face::D];

    /// The stickers of a position.
    #[must_use]
    pub fn of(position: &Position) -> Stickers {
        let mut shown = Shown { faces: [Face::U; 6], stickers: [Colour::White; 54] };
        for face in Face::ALL {
            let centre = position.hold.colour(face);
            shown.faces[centre as usize] = face;
            shown.stickers[number(face, FaceSet::of(&[face]))] = centre;
        }
        for corner in Corner::ALL {
            let at = position.state.corner(corner);
            shown.piece(corner.colours(), at.place().centres(), at.twist());
        }
        for edge in Edge::ALL {
            let at = position.state.edge(edge);
            shown.piece(edge.colours(), at.place().centres(), at.twist());
        }
        Stickers(shown.stickers)
    }

    /// Which of the nine stickers of `face`, from 0, belongs to the place that touches these faces, `face` among them.
    #[must_use]
    pub fn nth(face: Face, place: FaceSet) -> usize {
        number(face, place) % 9
    }

    /// These 54; `None` if they are more or fewer.
    #[must_use]
    pub fn new(stickers: &[Colour]) -> Option<Stickers> {
        stickers.try_into().ok().map(Stickers)
    }
}

impl Deref for Stickers {
    type Target = [Colour; 54];

    fn deref(&self) -> &[Colour; 54] {
        &self.0
    }
}

impl Position {
    /// The nine stickers of a face, row by row, as [`Stickers`] has them. The fifth is the centre.
    #[must_use]
    pub fn stickers(&self, face: Face) -> [Colour; 9] {
        let first = number(face, FaceSet::of(&[face])) - 4;
        let all = Stickers::of(self);
        std::array::from_fn(|n| all[first + n])
    }
}

/// Stickers being laid out.
struct Shown {
    /// The face at which each centre lies.
    faces: [Face; 6],
    stickers: [Colour; 54],
}

impl Shown {
    /// Lays out a piece that sits in the place of these centres, its first colour on the `twist`-th of them.
    fn piece<const N: usize>(&mut self, colours: [Colour; N], centres: [Colour; N], twist: u8) {
        let place = centres.iter().fold(FaceSet::EMPTY, |set, &centre| set.with(self.faces[centre as usize]));
        for (n, colour) in colours.into_iter().enumerate() {
            let face = self.faces[centres[(n + usize::from(twist)) % N] as usize];
            self.stickers[number(face, place)] = colour;
        }
    }
}

/// Which of the 54 it is that a place has on one of the faces it touches; a face alone is the centre's.
fn number(face: Face, place: FaceSet) -> usize {
    usize::from(NUMBERS[face as usize][usize::from(place.bits())])
}

static NUMBERS: [[u8; 64]; 6] = numbers();

const fn numbers() -> [[u8; 64]; 6] {
    let mut numbers = [[0; 64]; 6];
    let mut order = 0;
    while order < 6 {
        let face = Stickers::ORDER[order];
        let up = match face {
            Face::U => Face::B,
            Face::D => Face::F,
            _ => Face::U,
        };
        // Clockwise as seen from outside: above, right, below, left.
        let ring = face.ring();
        let mut top = 0;
        while ring[top] as u8 != up as u8 {
            top += 1;
        }
        let mut place = 0;
        while place < 64 {
            let above = place >> ring[top] as u8 & 1;
            let right = place >> ring[(top + 1) % 4] as u8 & 1;
            let below = place >> ring[(top + 2) % 4] as u8 & 1;
            let left = place >> ring[(top + 3) % 4] as u8 & 1;
            numbers[face as usize][place] = (9 * order + 3 * (1 + below - above) + 1 + right - left) as u8;
            place += 1;
        }
        order += 1;
    }
    numbers
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::cube::{Amount, Axis, Hold, Move, Slice};

    #[test]
    fn a_u_turn_carries_the_front_row_to_the_left() {
        let position = Position::SOLVED.after([Move::Turn(Face::U, Amount::Quarter)]);
        assert_eq!(position.stickers(Face::L)[..3], [Colour::Green; 3]);
        let position = Position::SOLVED.after([Move::Rotation(Axis::Y, Amount::Quarter)]);
        assert_eq!(position.hold.colour(Face::F), Colour::Red);
        let position = Position::SOLVED.after([Move::Slice(Slice::M, Amount::Quarter)]);
        assert_eq!(position.stickers(Face::F)[1], Colour::White);
    }

    /// The second, slower way: for each sticker the place it belongs to is looked up by its centres, and who sits there.
    fn looked_up(position: &Position, face: Face) -> [Colour; 9] {
        let up = match face {
            Face::U => Face::B,
            Face::D => Face::F,
            _ => Face::U,
        };
        let ring = face.ring();
        let top = ring.iter().position(|&f| f == up).expect("the top edge is a neighbour");
        let side = |i: usize| position.hold.colour(ring[(top + i) % 4]);
        let centre = position.hold.colour(face);
        let state = &position.state;
        let corner = |a: Colour, b: Colour| {
            let home = Corner::with_colours([centre, a, b].into_iter().collect()).expect("a corner");
            let corner = state.corner_in(home.home());
            state.corner(corner).shows(corner, centre).expect("the place touches the face")
        };
        let edge = |a: Colour| {
            let home = Edge::with_colours([centre, a].into_iter().collect()).expect("an edge");
            let edge = state.edge_in(home.home());
            state.edge(edge).shows(edge, centre).expect("the place touches the face")
        };
        let (above, right, below, left) = (side(0), side(1), side(2), side(3));
        [
            corner(above, left),
            edge(above),
            corner(above, right),
            edge(left),
            centre,
            edge(right),
            corner(below, left),
            edge(below),
            corner(below, right),
        ]
    }

    #[test]
    fn all_at_once_is_what_is_looked_up_one_by_one() {
        let mut position = Position::SOLVED;
        // Every move there is, again and again, and every hold after each.
        for n in 0..500 {
            position.play(Move::ALL[n * 7 % Move::ALL.len()]);
            for hold in Hold::ALL {
                let held = Position { hold, ..position };
                for face in Face::ALL {
                    assert_eq!(held.stickers(face), looked_up(&held, face), "{face} of {held:?}");
                }
            }
        }
    }
}

//! A position as the few numbers that the two phases go by.
//!
//! Places are numbered as in [`CornerPlace`] and [`EdgePlace`]. What a turn does to a place (where its piece goes, and
//! whether it is twisted on the way) does not depend on the piece, so numbers of one kind go by turns on their own.

use std::sync::OnceLock;

use crate::cube::{Colour, CornerAt, CornerPlace, Edge, EdgeAt, EdgePlace, FaceTurn, State};

/// Twists of the corners by place, the last one following from the others.
pub(super) const TWISTS: usize = 2187;
/// Flips of the edges by place, the last one following from the others.
pub(super) const FLIPS: usize = 2048;
/// Which four places hold the edges of the middle layer.
pub(super) const MIDDLES: usize = 495;
/// Permutations of eight: of the corners, of the edges that are not of the middle layer.
pub(super) const EIGHTS: usize = 40_320;
/// Permutations of the edges of the middle layer.
pub(super) const FOURS: usize = 24;

/// A position by places: which piece is where, and how it is turned.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Places {
    pub corner: [u8; 8],
    pub twist: [u8; 8],
    pub edge: [u8; 12],
    pub flip: [u8; 12],
}

/// What every turn does to the places, and which edges are of the middle layer.
#[derive(Debug)]
pub(super) struct Steps {
    corner: [[(u8, u8); 8]; 18],
    edge: [[(u8, u8); 12]; 18],
    /// For each edge (and place), whether it belongs to the layer between white and yellow.
    pub middle: [bool; 12],
    /// The number of each edge among those of its kind: of the middle layer, or not.
    number: [u8; 12],
}

/// The colour of an edge, or the side of its place, by which it is told whether it is flipped.
fn first(colours: [Colour; 2]) -> Colour {
    let has = |these: [Colour; 2]| colours.into_iter().find(|colour| these.contains(colour));
    has([Colour::White, Colour::Yellow])
        .or_else(|| has([Colour::Green, Colour::Blue]))
        .expect("red and orange are opposite, so an edge has one of the others")
}

fn place_side(place: EdgePlace) -> u8 {
    let side = first(place.centres());
    place.centres().iter().position(|&centre| centre == side).expect("one of its sides") as u8
}

impl Steps {
    pub fn get() -> &'static Steps {
        static STEPS: OnceLock<Steps> = OnceLock::new();
        STEPS.get_or_init(|| {
            let corner = FaceTurn::ALL.map(|turn| {
                CornerPlace::ALL.map(|place| {
                    let to = CornerAt::new(place, 0).turned(turn);
                    (to.place().index() as u8, to.twist())
                })
            });
            let edge = FaceTurn::ALL.map(|turn| {
                EdgePlace::ALL.map(|place| {
                    let to = EdgeAt::new(place, place_side(place)).turned(turn);
                    (to.place().index() as u8, u8::from(to.twist() != place_side(to.place())))
                })
            });
            let middle = Edge::ALL.map(|edge| !edge.has(Colour::White) && !edge.has(Colour::Yellow));
            let mut number = [0; 12];
            for (i, number) in number.iter_mut().enumerate() {
                *number = (0..i).filter(|&other| middle[other] == middle[i]).count() as u8;
            }
            Steps { corner, edge, middle, number }
        })
    }
}

impl Places {
    pub const SOLVED: Places = {
        let mut edge = [0; 12];
        let mut i = 0;
        while i < 12 {
            edge[i] = i as u8;
            i += 1;
        }
        Places { corner: [0, 1, 2, 3, 4, 5, 6, 7], twist: [0; 8], edge, flip: [0; 12] }
    };

    pub fn of(state: &State) -> Places {
        let mut places = Places::SOLVED;
        for corner in crate::cube::Corner::ALL {
            let at = state.corner(corner);
            let place = at.place().index();
            (places.corner[place], places.twist[place]) = (corner.index() as u8, at.twist());
        }
        for edge in Edge::ALL {
            let at = state.edge(edge);
            let place = at.place().index();
            let side = at.side_of(edge, first(edge.colours()));
            places.edge[place] = edge.index() as u8;
            places.flip[place] = u8::from(side != Some(first(at.place().centres())));
        }
        places
    }

    pub fn turned(&self, turn: usize) -> Places {
        let steps = Steps::get();
        let mut to = *self;
        for (place, &(there, twist)) in steps.corner[turn].iter().enumerate() {
            to.corner[usize::from(there)] = self.corner[place];
            to.twist[usize::from(there)] = (self.twist[place] + twist) % 3;
        }
        for (place, &(there, flip)) in steps.edge[turn].iter().enumerate() {
            to.edge[usize::from(there)] = self.edge[place];
            to.flip[usize::from(there)] = self.flip[place] ^ flip;
        }
        to
    }

    pub fn twists(&self) -> usize {
        self.twist[..7].iter().fold(0, |number, &twist| number * 3 + usize::from(twist))
    }

    pub fn set_twists(&mut self, mut number: usize) {
        let mut sum = 0;
        for place in (0..7).rev() {
            self.twist[place] = (number % 3) as u8;
            sum += number % 3;
            number /= 3;
        }
        self.twist[7] = ((3 - sum % 3) % 3) as u8;
    }

    pub fn flips(&self) -> usize {
        self.flip[..11].iter().fold(0, |number, &flip| number * 2 + usize::from(flip))
    }

    pub fn set_flips(&mut self, number: usize) {
        for place in 0..11 {
            self.flip[place] = (number >> (10 - place) & 1) as u8;
        }
        self.flip[11] = (number.count_ones() % 2) as u8;
    }

    /// A set of four of twelve places, numbered in the order of the combinatorial number system.
    pub fn middles(&self) -> usize {
        let steps = Steps::get();
        let mut found = 0;
        let mut number = 0;
        for place in 0..12 {
            if steps.middle[usize::from(self.edge[place])] {
                found += 1;
                number += choose(place, found);
            }
        }
        number
    }

    /// Any arrangement whose edges of the middle layer are in the places of this number.
    pub fn set_middles(&mut self, mut number: usize) {
        let steps = Steps::get();
        let of = |middle: bool| (0..12_u8).filter(move |&edge| steps.middle[usize::from(edge)] == middle);
        let (mut middles, mut others) = (of(true), of(false));
        let mut left = 4;
        for place in (0..12).rev() {
            let here = left > 0 && number >= choose(place, left);
            if here {
                number -= choose(place, left);
                left -= 1;
            }
            let edge = if here { middles.next() } else { others.next() };
            self.edge[place] = edge.expect("four and eight edges");
        }
    }

    pub fn corners(&self) -> usize {
        rank(&self.corner)
    }

    pub fn set_corners(&mut self, number: usize) {
        self.corner = unranked(number);
    }

    /// The edges of the middle layer in the places of that layer. Only where they are all there.
    pub fn middle_edges(&self) -> usize {
        let mut order = [0_u8; 4];
        self.kind(true, &mut order);
        rank(&order)
    }

    pub fn set_middle_edges(&mut self, number: usize) {
        self.set_kind(true, &unranked::<4>(number));
    }

    /// The other edges in the other places. Only where they are all there.
    pub fn other_edges(&self) -> usize {
        let mut order = [0_u8; 8];
        self.kind(false, &mut order);
        rank(&order)
    }

    pub fn set_other_edges(&mut self, number: usize) {
        self.set_kind(false, &unranked::<8>(number));
    }

    fn kind(&self, middle: bool, order: &mut [u8]) {
        let steps = Steps::get();
        let places = (0..12).filter(|&place| steps.middle[place] == middle);
        for (order, place) in order.iter_mut().zip(places) {
            *order = steps.number[usize::from(self.edge[place])];
        }
    }

    fn set_kind(&mut self, middle: bool, order: &[u8]) {
        let steps = Steps::get();
        let of_kind: Vec<usize> = (0..12).filter(|&place| steps.middle[place] == middle).collect();
        for (&place, &number) in of_kind.iter().zip(order) {
            self.edge[place] = of_kind[usize::from(number)] as u8;
        }
    }
}

/// How many ways there are to choose `k` of `n`.
const fn choose(n: usize, k: usize) -> usize {
    let (mut ways, mut i) = (1, 0);
    while i < k {
        if n < k {
            return 0;
        }
        ways = ways * (n - i) / (i + 1);
        i += 1;
    }
    ways
}

/// The place of a permutation in the order of the dictionary.
fn rank(order: &[u8]) -> usize {
    let mut seen = 0_u32;
    let mut number = 0;
    for (i, &item) in order.iter().enumerate() {
        let smaller_before = (seen & ((1 << item) - 1)).count_ones() as usize;
        number = number * (order.len() - i) + usize::from(item) - smaller_before;
        seen |= 1 << item;
    }
    number
}

/// The permutation at this place.
fn unranked<const N: usize>(mut number: usize) -> [u8; N] {
    let mut digits = [0; N];
    for (i, digit) in digits.iter_mut().enumerate().rev() {
        *digit = number % (N - i);
        number /= N - i;
    }
    let mut left: Vec<u8> = (0..N as u8).collect();
    digits.map(|digit| left.remove(digit))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_lead_back_to_what_they_stand_for() {
        let mut places = Places::SOLVED;
        for number in 0..TWISTS {
            places.set_twists(number);
            assert_eq!(places.twists(), number);
        }
        for number in 0..FLIPS {
            places.set_flips(number);
            assert_eq!(places.flips(), number);
        }
        for number in 0..MIDDLES {
            places.set_middles(number);
            assert_eq!(places.middles(), number);
        }
        let mut places = Places::SOLVED;
        for number in 0..EIGHTS {
            places.set_corners(number);
            places.set_other_edges(number);
            assert_eq!([places.corners(), places.other_edges()], [number; 2]);
        }
        for number in 0..FOURS {
            places.set_middle_edges(number);
            assert_eq!(places.middle_edges(), number);
        }
    }

    #[test]
    fn turning_places_is_turning_the_cube() {
        let mut state = State::SOLVED;
        let mut places = Places::of(&state);
        assert_eq!(places, Places::SOLVED);
        for i in 0..2000_usize {
            let turn = (i * i + i / 5) % 18;
            state.turn(FaceTurn::ALL[turn]);
            places = places.turned(turn);
            assert_eq!(places, Places::of(&state));
        }
    }

    /// The subgroup is that of up and down turns and half turns of the sides.
    #[test]
    fn turns_of_the_second_phase_keep_what_the_first_has_done() {
        for (i, turn) in FaceTurn::ALL.into_iter().enumerate() {
            let after = Places::SOLVED.turned(i);
            let kept = (after.twists(), after.flips(), after.middles())
                == (Places::SOLVED.twists(), Places::SOLVED.flips(), Places::SOLVED.middles());
            let axis = matches!(turn.centre, Colour::White | Colour::Yellow);
            assert_eq!(kept, axis || turn.amount == crate::cube::Amount::Half, "{turn:?}");
        }
    }
}

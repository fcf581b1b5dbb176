//! Naming last-layer cases: the 57 orientation numbers and the 21 permutation letters of the trade.
//!
//! A case is what the last layer looks like once the first two layers are solved. Names do not depend on the
//! hold, nor on how the last layer happens to be turned: two orientations are one case if a turn of the last
//! layer carries one into the other, two permutations if turns before and after do.
//!
//! The layer is read clockwise from outside, starting at any side: corner `i` stands just before edge `i`.
//! The tables hold one state of each case; matching tries every turn, so it is exact and needs no canonical
//! form to be kept in step.
//!
//! Origin of both tables: trade numbering and trade letters, from memory. What can be checked without a
//! printed table is checked in `tests/cube/last_layer.rs`: that the 57 and 21 are all the unsolved classes there
//! are, with their exact probabilities, and that well-known algorithms solve what they are said to solve.

use std::fmt;

use crate::cube::{Amount, Colour, ColourSet, Corner, Edge, FaceTurn, Pair, State};

/// How the last layer is twisted: solved, or one of the 57 numbered cases.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct OrientationCase(u8);

/// How the oriented last layer is permuted: solved, or one of the 21 lettered cases.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
#[expect(missing_docs, reason = "the letters are the names; nothing more is to be said of each")]
pub enum PermutationCase {
    /// Nothing to permute: solved, or one turn of the last layer away.
    Solved,
    Aa,
    Ab,
    E,
    F,
    Ga,
    Gb,
    Gc,
    Gd,
    H,
    Ja,
    Jb,
    Na,
    Nb,
    Ra,
    Rb,
    T,
    Ua,
    Ub,
    V,
    Y,
    Z,
}

/// The orientation case of the last layer, which is the one opposite `cross`; `None` unless the first two
/// layers are solved.
///
/// ```
/// use cornerwise::cube::{Amount, Colour, Face, Move, Position};
/// use cornerwise::steps::cases::orientation_case;
///
/// // R U R' U R U2 R' solves number 27, so its inverse makes it.
/// let [r, u, back] = [Amount::Quarter, Amount::Quarter, Amount::Back];
/// let solver = [
///     Move::Turn(Face::R, r), Move::Turn(Face::U, u), Move::Turn(Face::R, back), Move::Turn(Face::U, u),
///     Move::Turn(Face::R, r), Move::Turn(Face::U, Amount::Half), Move::Turn(Face::R, back),
/// ];
/// let case = Position::SOLVED.after(solver.iter().rev().map(|mv| mv.inverse())).state;
/// // White is up, so the cross is yellow.
/// assert_eq!(orientation_case(&case, Colour::Yellow).unwrap().number(), Some(27));
/// assert_eq!(orientation_case(&case, Colour::White), None);
/// ```
#[must_use]
pub fn orientation_case(state: &State, cross: Colour) -> Option<OrientationCase> {
    let layer = Layer::read(state, cross)?;
    let number = (0..58u8).find(|&number| {
        let case = OrientationCase(number).orientation();
        (0..4).any(|turn| (0..8).all(|i| layer.orientation[i] == case[(i + 2 * turn) % 8]))
    });
    Some(OrientationCase(number.expect("the 58 orientation classes are all there are")))
}

/// The permutation case of the last layer, which is the one opposite `cross`; `None` unless the first two
/// layers are solved and every last-layer sticker of that colour faces outward.
#[must_use]
pub fn permutation_case(state: &State, cross: Colour) -> Option<PermutationCase> {
    let layer = Layer::read(state, cross)?;
    if layer.orientation != [0; 8] {
        return None;
    }
    let same = |from: [u8; 4], to: [u8; 4], before: usize, after: usize| {
        (0..4).all(|i| usize::from(from[i]) == (usize::from(to[(i + before) % 4]) + after) % 4)
    };
    let case = PERMUTATIONS.iter().find(|(_, corners, edges)| {
        (0..16).any(|turns| {
            let (before, after) = (turns / 4, turns % 4);
            same(layer.corners, *corners, before, after) && same(layer.edges, *edges, before, after)
        })
    });
    Some(case.expect("the 22 permutation classes are all there are").0)
}

/// The one turn of the last layer, opposite `cross`, that solves the cube; `None` if it is solved already or
/// if no single turn of that layer solves it.
#[must_use]
pub fn final_turn(state: &State, cross: Colour) -> Option<FaceTurn> {
    let turns = Amount::ALL.map(|amount| FaceTurn { centre: cross.opposite(), amount });
    turns.into_iter().find(|&turn| state.turned(turn).is_solved())
}

impl OrientationCase {
    /// Nothing to orient.
    pub const SOLVED: OrientationCase = OrientationCase(0);

    /// Every case: solved, then 1 to 57.
    pub fn all() -> impl Iterator<Item = OrientationCase> {
        (0..58).map(OrientationCase)
    }

    /// The trade's number, 1 to 57; `None` if there is nothing to orient.
    #[must_use]
    pub const fn number(self) -> Option<u8> {
        if self.0 == 0 { None } else { Some(self.0) }
    }

    /// The trade's name for the family of shapes, such as `fish` (common practice, no source); `None` if
    /// there is nothing to orient.
    #[must_use]
    pub fn shape(self) -> Option<&'static str> {
        Some(ORIENTATIONS[usize::from(self.number()?) - 1].1)
    }

    /// How many of the four last-layer edges are oriented: 0, 2 or 4.
    #[must_use]
    pub fn oriented_edges(self) -> usize {
        self.orientation().iter().skip(1).step_by(2).filter(|&&flip| flip == 0).count()
    }

    /// How many of the four last-layer corners are oriented: 0, 1, 2 or 4.
    #[must_use]
    pub fn oriented_corners(self) -> usize {
        self.orientation().iter().step_by(2).filter(|&&twist| twist == 0).count()
    }

    fn orientation(self) -> [u8; 8] {
        match self.number() {
            Some(number) => ORIENTATION_OF[usize::from(number) - 1],
            None => [0; 8],
        }
    }
}

impl PermutationCase {
    /// Every case: solved, then the letters in alphabetical order.
    pub fn all() -> impl Iterator<Item = PermutationCase> {
        PERMUTATIONS.iter().map(|&(case, ..)| case)
    }

    /// The trade's letter, such as `Aa`; `None` if there is nothing to permute.
    #[must_use]
    pub const fn letter(self) -> Option<&'static str> {
        Some(match self {
            PermutationCase::Solved => return None,
            PermutationCase::Aa => "Aa",
            PermutationCase::Ab => "Ab",
            PermutationCase::E => "E",
            PermutationCase::F => "F",
            PermutationCase::Ga => "Ga",
            PermutationCase::Gb => "Gb",
            PermutationCase::Gc => "Gc",
            PermutationCase::Gd => "Gd",
            PermutationCase::H => "H",
            PermutationCase::Ja => "Ja",
            PermutationCase::Jb => "Jb",
            PermutationCase::Na => "Na",
            PermutationCase::Nb => "Nb",
            PermutationCase::Ra => "Ra",
            PermutationCase::Rb => "Rb",
            PermutationCase::T => "T",
            PermutationCase::Ua => "Ua",
            PermutationCase::Ub => "Ub",
            PermutationCase::V => "V",
            PermutationCase::Y => "Y",
            PermutationCase::Z => "Z",
        })
    }
}

/// The number, or `solved`.
impl fmt::Display for OrientationCase {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.number() {
            Some(number) => number.fmt(f),
            None => f.pad("solved"),
        }
    }
}

/// The letter, or `solved`.
impl fmt::Display for PermutationCase {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(self.letter().unwrap_or("solved"))
    }
}

/// The last layer, read clockwise from outside from some side on.
struct Layer {
    /// Corner, edge, corner, edge, …. A corner counts 0 if its last-layer sticker faces outward, 1 if it
    /// faces the side clockwise of the corner, 2 if the side before it; an edge 0 or 1.
    orientation: [u8; 8],
    /// For each corner place, which of the four places the corner there belongs in.
    corners: [u8; 4],
    /// The same for the edges.
    edges: [u8; 4],
}

impl Layer {
    fn read(state: &State, cross: Colour) -> Option<Layer> {
        let below = state.cross_solved(cross) && Pair::all(cross).into_iter().all(|p| state.pair_solved(p));
        if !below {
            return None;
        }
        let top = cross.opposite();
        let ring = top.ring();
        let corner_homes = [0, 1, 2, 3].map(|i| {
            Corner::with_colours(ColourSet::of(&[top, ring[(i + 3) % 4], ring[i]])).expect("a corner")
        });
        let edge_homes = ring.map(|side| Edge::with_colours(ColourSet::of(&[top, side])).expect("an edge"));
        let mut layer = Layer { orientation: [0; 8], corners: [0; 4], edges: [0; 4] };
        for (i, side) in ring.into_iter().enumerate() {
            let corner = state.corner_in(corner_homes[i].home());
            let faces = state.corner(corner).side_of(corner, top)?;
            layer.orientation[2 * i] = if faces == top { 0 } else { 2 - u8::from(faces == side) };
            layer.corners[i] = corner_homes.iter().position(|&home| home == corner)? as u8;

            let edge = state.edge_in(edge_homes[i].home());
            let faces = state.edge(edge).side_of(edge, top)?;
            layer.orientation[2 * i + 1] = u8::from(faces != top);
            layer.edges[i] = edge_homes.iter().position(|&home| home == edge)? as u8;
        }
        Some(layer)
    }
}

/// For number `n`, at `n - 1`: which face shows the last-layer colour at UBL, UB, UBR, UL, UR, UFL, UF, UFR
/// (the layer as printed, back row first), and the shape.
///
/// Trade numbering and shape names, from memory.
#[rustfmt::skip]
const ORIENTATIONS: [(&str, &str); 57] = [
    ("LBRLRLFR", "dot"), // 1
    ("LBBLRLFF", "dot"), // 2
    ("BBRLRLFU", "dot"), // 3
    ("LBULRFFR", "dot"), // 4
    ("BBRLULUU", "square"), // 5
    ("LUULUFFR", "square"), // 6
    ("BURURUFF", "small lightning"), // 7
    ("UBBURFUR", "small lightning"), // 8
    ("LUBURFFU", "fish"), // 9
    ("BBUURLUF", "fish"), // 10
    ("BUUURLFF", "small lightning"), // 11
    ("LBULUFUR", "small lightning"), // 12
    ("BBRUUUFF", "knight"), // 13
    ("LBBUUFFU", "knight"), // 14
    ("BBRUULFU", "knight"), // 15
    ("LBUUUFFR", "knight"), // 16
    ("UBBLRLFU", "dot"), // 17
    ("UBULRFFF", "dot"), // 18
    ("UBULRLFR", "dot"), // 19
    ("UBULRUFU", "dot"), // 20
    ("BUBUUFUF", "cross"), // 21
    ("LUBUULUF", "cross"), // 22
    ("UUUUUFUF", "cross"), // 23
    ("BUUUUFUU", "cross"), // 24
    ("LUUUUUUF", "cross"), // 25
    ("LUUUUFUR", "cross"), // 26
    ("BURUUUUF", "cross"), // 27
    ("UUUURUFU", "corners oriented"), // 28
    ("BUUURFFU", "awkward"), // 29
    ("LURURUFU", "awkward"), // 30
    ("BUULUFFU", "P"), // 31
    ("UUBURUFF", "P"), // 32
    ("BBUUUFFU", "T"), // 33
    ("LBRUUUFU", "C"), // 34
    ("UBRLUFUU", "fish"), // 35
    ("UUBLULFU", "W"), // 36
    ("UURURFFU", "fish"), // 37
    ("BUUURUFR", "W"), // 38
    ("BBUUUUFR", "big lightning"), // 39
    ("UBBUULFU", "big lightning"), // 40
    ("BUBURUFU", "awkward"), // 41
    ("UBUURFUF", "awkward"), // 42
    ("LUULULFU", "P"), // 43
    ("UURURUFR", "P"), // 44
    ("LBUUULFU", "T"), // 45
    ("UURLRUUR", "C"), // 46
    ("BURLUFFR", "L"), // 47
    ("LUBURLFF", "L"), // 48
    ("LUBLULFF", "L"), // 49
    ("LBBLULUF", "L"), // 50
    ("LBBUULFF", "I"), // 51
    ("BURLRFUR", "I"), // 52
    ("LBRLULUR", "L"), // 53
    ("LURLULFR", "L"), // 54
    ("LURLRLUR", "I"), // 55
    ("LBRUULFR", "I"), // 56
    ("UBUUUUFU", "corners oriented"), // 57
];

/// [`ORIENTATIONS`] in the form of [`Layer::orientation`].
static ORIENTATION_OF: [[u8; 8]; 57] = {
    // Clockwise from UBL, the places of a pattern and the face that counts 1 there.
    let clockwise = [
        (0, b'B'),
        (1, b'B'), // UBL, UB
        (2, b'R'),
        (4, b'R'), // UBR, UR
        (7, b'F'),
        (6, b'F'), // UFR, UF
        (5, b'L'),
        (3, b'L'), // UFL, UL
    ];
    let mut table = [[0; 8]; 57];
    let mut n = 0;
    while n < 57 {
        let pattern = ORIENTATIONS[n].0.as_bytes();
        let mut i = 0;
        while i < 8 {
            let (at, one) = clockwise[i];
            table[n][i] = if pattern[at] == b'U' {
                0
            } else if pattern[at] == one {
                1
            } else {
                2
            };
            i += 1;
        }
        n += 1;
    }
    table
};

/// One state of each case: for the places UBL, UBR, UFR, UFL and UB, UR, UF, UL in turn, which of the same
/// four places the piece there belongs in.
///
/// Trade letters, from memory.
const PERMUTATIONS: [(PermutationCase, [u8; 4], [u8; 4]); 22] = [
    (PermutationCase::Solved, [0, 1, 2, 3], [0, 1, 2, 3]),
    (PermutationCase::Aa, [1, 2, 0, 3], [0, 1, 2, 3]),
    (PermutationCase::Ab, [2, 0, 1, 3], [0, 1, 2, 3]),
    (PermutationCase::E, [3, 2, 1, 0], [0, 1, 2, 3]),
    (PermutationCase::F, [0, 2, 1, 3], [2, 1, 0, 3]),
    (PermutationCase::Ga, [1, 3, 2, 0], [3, 0, 2, 1]),
    (PermutationCase::Gb, [1, 3, 2, 0], [0, 3, 1, 2]),
    (PermutationCase::Gc, [1, 3, 2, 0], [2, 0, 1, 3]),
    (PermutationCase::Gd, [1, 3, 2, 0], [3, 1, 0, 2]),
    (PermutationCase::H, [0, 1, 2, 3], [2, 3, 0, 1]),
    (PermutationCase::Ja, [0, 2, 1, 3], [1, 0, 2, 3]),
    (PermutationCase::Jb, [0, 2, 1, 3], [0, 2, 1, 3]),
    (PermutationCase::Na, [0, 3, 2, 1], [0, 3, 2, 1]),
    (PermutationCase::Nb, [2, 1, 0, 3], [0, 3, 2, 1]),
    (PermutationCase::Ra, [0, 2, 1, 3], [3, 1, 2, 0]),
    (PermutationCase::Rb, [1, 0, 2, 3], [0, 2, 1, 3]),
    (PermutationCase::T, [0, 2, 1, 3], [0, 3, 2, 1]),
    (PermutationCase::Ua, [0, 1, 2, 3], [0, 3, 1, 2]),
    (PermutationCase::Ub, [0, 1, 2, 3], [0, 2, 3, 1]),
    (PermutationCase::V, [2, 1, 0, 3], [1, 0, 2, 3]),
    (PermutationCase::Y, [2, 1, 0, 3], [3, 1, 2, 0]),
    (PermutationCase::Z, [0, 1, 2, 3], [1, 0, 3, 2]),
];

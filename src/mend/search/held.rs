//! The cube as the hands have it: which written turns would solve it, and nothing else.
//!
//! A written move acts on what is held, so a sequence is a product of fixed permutations of stickers in
//! space, and a record is right if scramble and solution together come to one of the 24 ways of holding a
//! solved cube. [`Held`] is a position up to those 24: every piece is named by where its home is as the
//! centres lie *now*, so two positions that the same written turns solve are one value. A rotation, wide
//! turn or slice renames the pieces, which is how one inserted `y` changes everything after it.
//!
//! Searching from both ends needs only [`Held::play`]: forward from the scramble, and backward from a solved
//! cube with every move undone.

use std::sync::LazyLock;

use crate::cube::{Corner, CornerAt, CornerPlace, Edge, EdgeAt, EdgePlace, Face, Hold, Move, Pair, Position};

/// A position, equal to another exactly if the same written sequences solve both.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Held {
    corners: [u8; 8],
    edges: [u8; 12],
}

impl Held {
    /// A solved cube, however held.
    pub const SOLVED: Held = {
        let mut held = Held { corners: [0; 8], edges: [0; 12] };
        let mut i = 0;
        while i < 12 {
            if i < 8 {
                held.corners[i] = 3 * i as u8;
            }
            held.edges[i] = 2 * i as u8;
            i += 1;
        }
        held
    };

    /// Plays one written move; `number` is its place in [`Move::ALL`].
    #[inline]
    pub fn play(&mut self, number: u8) {
        let table = &TABLES[usize::from(number)];
        for at in &mut self.corners {
            *at = table.corners[usize::from(*at & 31)];
        }
        for at in &mut self.edges {
            *at = table.edges[usize::from(*at & 31)];
        }
        if let Some(renaming) = &table.renaming {
            *self = renaming.rename(self);
        }
    }

    /// The position after one written move; `number` is its place in [`Move::ALL`].
    #[inline]
    #[must_use]
    pub fn played(mut self, number: u8) -> Held {
        self.play(number);
        self
    }

    /// Which of the four pairs round the cross on this face are solved, a bit each; `None` if the cross is not. Faces
    /// count as their turns do in [`Move::ALL`].
    #[must_use]
    pub fn pairs_round(&self, face: usize) -> Option<u8> {
        let layer = &LAYERS[face];
        let edge = |i: &u8| usize::from(self.edges[usize::from(*i)]) == 2 * usize::from(*i);
        let corner = |i: &u8| usize::from(self.corners[usize::from(*i)]) == 3 * usize::from(*i);
        layer.cross.iter().all(edge).then(|| {
            let pairs = layer.pairs.iter().enumerate();
            pairs.fold(0, |solved, (bit, (c, e))| solved | (u8::from(corner(c) && edge(e)) << bit))
        })
    }

    /// A number that differs for different positions unless by a rare accident.
    #[inline]
    #[must_use]
    pub fn fingerprint(&self) -> u64 {
        let c = u64::from_le_bytes(self.corners);
        let e = &self.edges;
        let low = u64::from_le_bytes([e[0], e[1], e[2], e[3], e[4], e[5], e[6], e[7]]);
        let high = u64::from_le_bytes([e[8], e[9], e[10], e[11], 0, 0, 0, 0]);
        // Odd multipliers from the fractional part of the golden ratio and two primes; any would do.
        let mut mixed = c.wrapping_mul(0x9e37_79b9_7f4a_7c15);
        mixed = (mixed ^ (mixed >> 29) ^ low).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        mixed = (mixed ^ (mixed >> 31) ^ high).wrapping_mul(0x94d0_49bb_1331_11eb);
        mixed ^ (mixed >> 32)
    }
}

/// The place of a move in [`Move::ALL`].
#[must_use]
pub fn number(mv: Move) -> u8 {
    static NUMBERS: LazyLock<std::collections::HashMap<Move, u8>> =
        LazyLock::new(|| (0u8..).zip(Move::ALL).map(|(i, mv)| (mv, i)).collect());
    NUMBERS[&mv]
}

/// The number of the move that undoes the move with this number.
#[must_use]
pub fn undoing(number: u8) -> u8 {
    static INVERSES: LazyLock<[u8; 54]> = LazyLock::new(|| Move::ALL.map(|mv| self::number(mv.inverse())));
    INVERSES[usize::from(number)]
}

/// The cross on a face and the pairs round it, by the numbers of their pieces.
struct Layer {
    cross: [u8; 4],
    pairs: [(u8, u8); 4],
}

static LAYERS: LazyLock<[Layer; 6]> = LazyLock::new(|| {
    Face::ALL.map(|face| {
        let colour = Hold::START.colour(face);
        Layer {
            cross: Pair::cross_edges(colour).map(|edge| edge.index() as u8),
            pairs: Pair::all(colour).map(|pair| (pair.corner.index() as u8, pair.edge.index() as u8)),
        }
    })
});

/// What one written move does to pieces in space, padded so that an index of five bits is always inside.
struct Table {
    corners: [u8; 32],
    edges: [u8; 32],
    renaming: Option<Box<Renaming>>,
}

/// How pieces are renamed when the centres have moved.
struct Renaming {
    /// For each new name, the old name and the twist its home gained.
    corners: [(u8, u8); 8],
    edges: [(u8, u8); 12],
}

impl Renaming {
    fn rename(&self, held: &Held) -> Held {
        let twisted = |at: u8, by: u8, sides: u8| at - at % sides + (at % sides + sides - by) % sides;
        Held {
            corners: self.corners.map(|(old, by)| twisted(held.corners[usize::from(old)], by, 3)),
            edges: self.edges.map(|(old, by)| twisted(held.edges[usize::from(old)], by, 2)),
        }
    }
}

static TABLES: LazyLock<Vec<Table>> = LazyLock::new(|| Move::ALL.map(table).into());

fn table(mv: Move) -> Table {
    let mut position = Position::SOLVED;
    position.play(mv);
    let Position { state, hold } = position;
    let mut table = Table { corners: [0; 32], edges: [0; 32], renaming: None };
    let mut renaming = Renaming { corners: [(0, 0); 8], edges: [(0, 0); 12] };
    for corner in Corner::ALL {
        let at = corner_in_space(state.corner(corner), hold);
        for twist in 0..3 {
            table.corners[3 * corner.index() + twist] =
                (3 * at.place().index() + (usize::from(at.twist()) + twist) % 3) as u8;
        }
        let home = corner_in_space(CornerAt::home(corner), hold);
        renaming.corners[home.place().index()] = (corner.index() as u8, home.twist());
    }
    for edge in Edge::ALL {
        let at = edge_in_space(state.edge(edge), hold);
        for flip in 0..2 {
            table.edges[2 * edge.index() + flip] =
                (2 * at.place().index() + (usize::from(at.twist()) + flip) % 2) as u8;
        }
        let home = edge_in_space(EdgeAt::home(edge), hold);
        renaming.edges[home.place().index()] = (edge.index() as u8, home.twist());
    }
    if hold != Hold::START {
        table.renaming = Some(Box::new(renaming));
    }
    table
}

/// Where a corner is in space, told in the names that places have when a cube is held as for a scramble.
fn corner_in_space(at: CornerAt, hold: Hold) -> CornerAt {
    let faces: [Face; 3] = at.place().centres().map(|centre| hold.face(centre));
    let place = CornerPlace::at_faces(faces, Hold::START).expect("a turned place is a place");
    let side = Hold::START.colour(faces[usize::from(at.twist())]);
    let twist = place.centres().iter().position(|&centre| centre == side).expect("a side of the place");
    CornerAt::new(place, twist as u8)
}

/// The same for an edge.
fn edge_in_space(at: EdgeAt, hold: Hold) -> EdgeAt {
    let faces: [Face; 2] = at.place().centres().map(|centre| hold.face(centre));
    let place = EdgePlace::at_faces(faces, Hold::START).expect("a turned place is a place");
    let side = Hold::START.colour(faces[usize::from(at.twist())]);
    let twist = place.centres().iter().position(|&centre| centre == side).expect("a side of the place");
    EdgeAt::new(place, twist as u8)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A few thousand moves in an order that looks random.
    fn walk(seed: u64, length: usize) -> Vec<u8> {
        let mut x = seed | 1;
        (0..length)
            .map(|_| {
                x ^= x << 13;
                x ^= x >> 7;
                x ^= x << 17;
                ((x >> 33) % 54) as u8
            })
            .collect()
    }

    #[test]
    fn solved_here_is_solved_there() {
        // The way back, move by move, is solved at its end and nowhere else where the replay is not.
        for seed in 1..200 {
            let there = walk(seed, 40);
            let mut held = Held::SOLVED;
            let mut position = Position::SOLVED;
            let back = there.iter().rev().map(|&mv| undoing(mv));
            for mv in there.iter().copied().chain(back) {
                held.play(mv);
                position.play(Move::ALL[usize::from(mv)]);
                assert_eq!(held == Held::SOLVED, position.state.is_solved());
            }
            assert_eq!(held, Held::SOLVED);
        }
    }

    #[test]
    fn layers_are_counted_as_turns_are() {
        // A turn of a face keeps its opposite layer whole and takes a pair of each layer beside it.
        for (face, number) in (0..6).zip((0..18).step_by(3)) {
            let turned = Held::SOLVED.played(number);
            assert_eq!(turned.pairs_round(face ^ 1), Some(0b1111));
            assert_eq!(turned.pairs_round(face), None);
            for beside in (0..6).filter(|beside| beside / 2 != face / 2) {
                assert_eq!(turned.pairs_round(beside), None);
            }
            assert_eq!(Held::SOLVED.pairs_round(face), Some(0b1111));
        }
        // R U R' takes the pair at the front right out, and only that one.
        let insert = [12, 0, 14].iter().fold(Held::SOLVED, |held, &mv| held.played(mv));
        assert_eq!([12u8, 0, 14].map(|mv| Move::ALL[usize::from(mv)].to_string()), ["R", "U", "R'"]);
        assert_eq!(insert.pairs_round(1).map(u8::count_ones), Some(3));
    }

    #[test]
    fn equal_positions_are_those_that_equal_turns_solve() {
        // Identities of the notation: WCA Regulation 12a4 for the senses, slices common practice.
        let same = |a: &str, b: &str| {
            let play = |text: &str| {
                text.split(' ').fold(Held::SOLVED, |held, token| {
                    let mv = Move::ALL.into_iter().find(|mv| mv.to_string() == token).expect("a move");
                    held.played(number(mv))
                })
            };
            play(a) == play(b)
        };
        assert!(same("R U Rw F", "R U x L F"));
        assert!(same("U M D", "U x' R L' D"));
        assert!(same("F y R", "F B y"));
        assert!(same("x U R", "F x R"));
        assert!(!same("R y", "R"));
        assert!(!same("F y R", "F F y"));
    }
}

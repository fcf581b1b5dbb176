//! The cube as 54 stickers in the hands: nothing else is known of it.
//!
//! There is no hold and no piece: a rotation carries all stickers round, the centres among them, and a piece is the
//! stickers that sit on one cubie. What each move does to the places is read off the model in space once.

use std::sync::OnceLock;

use cornerwise::cube::{Amount, Axis, Colour, Face, Move};

use crate::support::space::{self, Space, Vector};

/// Places and stickers have the numbers of the model in space, less one; the centres are the last six.
pub type Place = usize;

/// What is known of a place whatever lies on it.
struct Spot {
    face: Face,
    /// All places of its cubie, itself included, in the order of their numbers.
    cubie: Vec<Place>,
    /// The colour that is there on the solved cube, white up and green in front.
    colour: Colour,
}

fn spots() -> &'static [Spot] {
    static SPOTS: OnceLock<Vec<Spot>> = OnceLock::new();
    SPOTS.get_or_init(|| {
        let solved = Space::solved().stickers;
        let cubie = |position: Vector| {
            (0..54).filter(|&place| solved[place].position == position).collect::<Vec<_>>()
        };
        let face = |normal: Vector| {
            Face::ALL.into_iter().find(|&face| space::direction(face) == normal).expect("a face")
        };
        let spot = |sticker: &space::Sticker| Spot {
            face: face(sticker.normal),
            cubie: cubie(sticker.position),
            colour: sticker.colour,
        };
        solved.iter().map(spot).collect()
    })
}

/// Where a move takes what is on each place.
fn moved(mv: Move) -> &'static [u8; 54] {
    static MOVED: OnceLock<Vec<[u8; 54]>> = OnceLock::new();
    let all = MOVED.get_or_init(|| {
        let image = |&mv: &Move| -> [u8; 54] {
            let image = Space::played(&[mv]).image();
            std::array::from_fn(|place| image[place] as u8 - 1)
        };
        Move::ALL.iter().map(image).collect()
    });
    &all[number(mv)]
}

fn number(mv: Move) -> usize {
    match mv {
        Move::Turn(face, amount) => face as usize * 3 + amount as usize - 1,
        Move::Wide(face, amount) => 18 + face as usize * 3 + amount as usize - 1,
        Move::Slice(slice, amount) => 36 + slice as usize * 3 + amount as usize - 1,
        Move::Rotation(axis, amount) => 45 + axis as usize * 3 + amount as usize - 1,
    }
}

/// Every place, corners (`sides` 3) or edges (2): each as the places of its stickers.
pub fn cubies(sides: usize) -> &'static [Vec<Place>] {
    static CUBIES: OnceLock<[Vec<Vec<Place>>; 2]> = OnceLock::new();
    let [edges, corners] = CUBIES.get_or_init(|| {
        [2, 3].map(|sides| {
            let mut cubies: Vec<Vec<Place>> = spots().iter().map(|spot| spot.cubie.clone()).collect();
            cubies.retain(|cubie| cubie.len() == sides);
            cubies.sort();
            cubies.dedup();
            cubies
        })
    });
    if sides == 2 { edges } else { corners }
}

/// A piece: its colours, one bit each.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Piece(u8);

impl Piece {
    /// The piece with these colours.
    pub fn of(colours: &[Colour]) -> Piece {
        Piece(colours.iter().map(|&colour| 1 << colour as u8).sum())
    }

    /// Three for a corner, two for an edge.
    pub fn sides(self) -> usize {
        self.0.count_ones() as usize
    }

    /// Whether the piece has a sticker of this colour.
    pub fn has(self, colour: Colour) -> bool {
        self.0 >> colour as u8 & 1 == 1
    }

    /// Every corner or edge there is.
    pub fn all(sides: usize) -> Vec<Piece> {
        let solved = Cube::solved();
        cubies(sides).iter().map(|cubie| solved.piece(cubie)).collect()
    }
}

/// A pair of a cross: its two side colours, sorted.
pub type Pair = [Colour; 2];

/// The corner of a pair.
pub fn corner(cross: Colour, [a, b]: Pair) -> Piece {
    Piece::of(&[cross, a, b])
}

/// The edge of a pair.
pub fn edge([a, b]: Pair) -> Piece {
    Piece::of(&[a, b])
}

/// Which sticker is on each place, as the cube is held.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Cube([u8; 54]);

impl Cube {
    /// Solved, white up and green in front.
    pub fn solved() -> Cube {
        Cube(std::array::from_fn(|place| place as u8))
    }

    /// After these moves.
    pub fn after(&self, moves: &[Move]) -> Cube {
        let mut cube = *self;
        for &mv in moves {
            let moved = moved(mv);
            let mut next = [0; 54];
            for (place, &sticker) in cube.0.iter().enumerate() {
                next[usize::from(moved[place])] = sticker;
            }
            cube = Cube(next);
        }
        cube
    }

    /// The cube at every moment from before the first of the moves to after the last.
    pub fn moments(&self, moves: &[Move]) -> Vec<Cube> {
        let mut all = vec![*self];
        for &mv in moves {
            all.push(all[all.len() - 1].after(&[mv]));
        }
        all
    }

    /// The colour on a place.
    pub fn colour(&self, place: Place) -> Colour {
        spots()[usize::from(self.0[place])].colour
    }

    /// Which centre is in the middle of a face of the hands.
    pub fn centre(&self, face: Face) -> Colour {
        let middle = (48..54).find(|&place| spots()[place].face == face);
        self.colour(middle.expect("six faces, six centres"))
    }

    /// The face of the hands at which this centre is.
    pub fn face_of(&self, centre: Colour) -> Face {
        Face::ALL.into_iter().find(|&face| self.centre(face) == centre).expect("one of six")
    }

    /// The piece on a cubie.
    pub fn piece(&self, cubie: &[Place]) -> Piece {
        Piece(cubie.iter().map(|&place| 1 << self.colour(place) as u8).sum())
    }

    /// The cubie a piece is on.
    pub fn cubie(&self, piece: Piece) -> &'static [Place] {
        let mut all = cubies(piece.sides()).iter();
        all.find(|cubie| self.piece(cubie) == piece).expect("every piece is somewhere")
    }

    /// Where a piece is, by the faces of the hands: `UFR`, `BL`.
    pub fn place(&self, piece: Piece) -> String {
        let faces: Vec<Face> = self.cubie(piece).iter().map(|&place| spots()[place].face).collect();
        "UDFBRL"
            .chars()
            .filter(|&letter| faces.iter().any(|face| face.to_string() == letter.to_string()))
            .collect()
    }

    /// The stickers of a cubie that are in sight.
    pub fn shown(&self, cubie: &[Place], sight: &[Face]) -> Vec<Colour> {
        let seen = cubie.iter().filter(|&&place| sight.contains(&spots()[place].face));
        seen.map(|&place| self.colour(place)).collect()
    }

    /// Whether every sticker of the piece faces as the centre of its colour does.
    pub fn is_home(&self, piece: Piece) -> bool {
        self.cubie(piece).iter().all(|&place| self.centre(spots()[place].face) == self.colour(place))
    }

    /// Whether the four edges of the cross are home.
    pub fn cross_is_whole(&self, cross: Colour) -> bool {
        space::sides_of(cross).into_iter().all(|side| self.is_home(Piece::of(&[cross, side])))
    }

    /// Whether corner and edge of the pair are home.
    pub fn pair_is_in(&self, cross: Colour, pair: Pair) -> bool {
        self.is_home(edge(pair)) && self.is_home(corner(cross, pair))
    }

    /// The pairs that are in.
    pub fn pairs_in(&self, cross: Colour) -> Vec<Pair> {
        let mut pairs = space::pairs_of(cross);
        pairs.retain(|&pair| self.pair_is_in(cross, pair));
        pairs
    }

    /// Whether the piece is in the layer opposite the cross.
    pub fn is_up(&self, cross: Colour, piece: Piece) -> bool {
        let top = self.face_of(cross).opposite();
        self.cubie(piece).iter().any(|&place| spots()[place].face == top)
    }

    /// Whether the corner is in the slot of this pair.
    pub fn is_in_slot(&self, cross: Colour, piece: Piece, slot: Pair) -> bool {
        self.cubie(piece).iter().all(|&place| corner(cross, slot).has(self.centre(spots()[place].face)))
    }

    /// The same cube, held with white up and green in front: equal for equal positions however they are held.
    pub fn upright(&self) -> Cube {
        let spin = [Amount::Quarter, Amount::Half, Amount::Back];
        let mut tilts = vec![vec![]];
        for axis in [Axis::X, Axis::Z] {
            tilts.extend(spin.map(|amount| vec![Move::Rotation(axis, amount)]));
        }
        for tilt in tilts {
            let mut cube = self.after(&tilt);
            for _ in 0..4 {
                if cube.centre(Face::U) == Colour::White && cube.centre(Face::F) == Colour::Green {
                    return cube;
                }
                cube = cube.after(&[Move::Rotation(Axis::Y, Amount::Quarter)]);
            }
        }
        unreachable!("one tilt and one turn about the upright axis lead to every hold")
    }

    /// The place a sticker has come to.
    pub fn place_of_sticker(&self, sticker: Place) -> Place {
        self.0.iter().position(|&other| usize::from(other) == sticker).expect("every sticker is somewhere")
    }
}

/// The length of a move in outer block turns: a slice is two, a rotation none.
pub fn turns(mv: Move) -> usize {
    match mv {
        Move::Turn(..) | Move::Wide(..) => 1,
        Move::Slice(..) => 2,
        Move::Rotation(..) => 0,
    }
}

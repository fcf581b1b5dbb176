//! A second model of the cube, slow and obvious: 54 stickers in space.
//!
//! The x axis points right, y up, z to the viewer. A cubie is at a position with coordinates -1, 0 or 1; a
//! sticker has its cubie's position and the direction it faces. A turn rotates both, for every sticker in
//! the layers that turn; a rotation does so for all of them. There is no hold: turning the whole cube really
//! turns it, and the centres, which move with it, say where everything belongs.
//!
//! It shares nothing with `cornerwise::cube` but the plain names of moves, faces and colours.

use cornerwise::cube::{Amount, Axis, Colour, Face, Move, Slice};

/// A position or a direction.
pub type Vector = [i8; 3];

/// One sticker.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Sticker {
    /// What colour it is.
    pub colour: Colour,
    /// The number of the place where it was on the solved cube; see [`number`].
    pub origin: usize,
    /// Where its cubie is.
    pub position: Vector,
    /// The direction it faces.
    pub normal: Vector,
}

/// All the stickers, wherever they are now.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Space {
    /// The sticker that started on place `n` is at `n - 1`.
    pub stickers: Vec<Sticker>,
}

/// The faces in the order in which their places are numbered.
const NUMBERED: [Face; 6] = [Face::U, Face::L, Face::F, Face::R, Face::B, Face::D];

/// The direction of a face.
pub fn direction(face: Face) -> Vector {
    match face {
        Face::R => [1, 0, 0],
        Face::L => [-1, 0, 0],
        Face::U => [0, 1, 0],
        Face::D => [0, -1, 0],
        Face::F => [0, 0, 1],
        Face::B => [0, 0, -1],
    }
}

fn face_towards(normal: Vector) -> Face {
    Face::ALL.into_iter().find(|&face| direction(face) == normal).expect("a direction along an axis")
}

fn dot(a: Vector, b: Vector) -> i8 {
    a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
}

fn cross(a: Vector, b: Vector) -> Vector {
    [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]]
}

fn sum(vectors: &[Vector]) -> Vector {
    vectors.iter().fold([0; 3], |a, b| [a[0] + b[0], a[1] + b[1], a[2] + b[2]])
}

/// A quarter turn about `axis`, clockwise as seen by someone towards whom `axis` points.
fn quarter(axis: Vector, v: Vector) -> Vector {
    let along = dot(v, axis);
    sum(&[axis.map(|c| c * along), cross(v, axis)])
}

/// The nine cubies of a face, row by row as seen from outside: `U` with `B` at the top, `D` with `F` at the
/// top, the sides with `U` at the top.
pub fn cubies(face: Face) -> [Vector; 9] {
    let normal = direction(face);
    let up = direction(match face {
        Face::U => Face::B,
        Face::D => Face::F,
        _ => Face::U,
    });
    let right = cross(up, normal);
    let mut cubies = [[0; 3]; 9];
    for (i, cubie) in cubies.iter_mut().enumerate() {
        let (row, column) = (1 - (i / 3) as i8, (i % 3) as i8 - 1);
        *cubie = sum(&[normal, up.map(|c| c * row), right.map(|c| c * column)]);
    }
    cubies
}

/// The number of a sticker's place in the numbering of "Analyzing Rubik's Cube with GAP" (GAP web pages,
/// examples; M. Schoenert): 1 to 48, centres left out. The centres are numbered 49 to 54 in the same order.
pub fn number(position: Vector, normal: Vector) -> usize {
    let face = face_towards(normal);
    let rank = NUMBERED.iter().position(|&f| f == face).expect("one of six");
    let index = cubies(face).iter().position(|&cubie| cubie == position).expect("a cubie of the face");
    match index {
        4 => 49 + rank,
        _ => 1 + 8 * rank + index - usize::from(index > 4),
    }
}

impl Space {
    /// A solved cube, white up, green in front.
    pub fn solved() -> Space {
        let colour = |face| match face {
            Face::U => Colour::White,
            Face::D => Colour::Yellow,
            Face::F => Colour::Green,
            Face::B => Colour::Blue,
            Face::R => Colour::Red,
            Face::L => Colour::Orange,
        };
        let mut stickers = Vec::new();
        for face in NUMBERED {
            for position in cubies(face) {
                let normal = direction(face);
                stickers.push(Sticker {
                    colour: colour(face),
                    origin: number(position, normal),
                    position,
                    normal,
                });
            }
        }
        stickers.sort_by_key(|sticker| sticker.origin);
        Space { stickers }
    }

    /// What the moves make of a solved cube.
    pub fn played(moves: &[Move]) -> Space {
        let mut space = Space::solved();
        moves.iter().for_each(|&mv| space.play(mv));
        space
    }

    /// Plays one move.
    pub fn play(&mut self, mv: Move) {
        // The axis the turn is clockwise about, and how far along it a cubie must be to turn.
        let (axis, layers, amount) = match mv {
            Move::Turn(face, amount) => (direction(face), 1..=1, amount),
            Move::Wide(face, amount) => (direction(face), 0..=1, amount),
            Move::Slice(Slice::M, amount) => (direction(Face::L), 0..=0, amount),
            Move::Slice(Slice::E, amount) => (direction(Face::D), 0..=0, amount),
            Move::Slice(Slice::S, amount) => (direction(Face::F), 0..=0, amount),
            Move::Rotation(Axis::X, amount) => (direction(Face::R), -1..=1, amount),
            Move::Rotation(Axis::Y, amount) => (direction(Face::U), -1..=1, amount),
            Move::Rotation(Axis::Z, amount) => (direction(Face::F), -1..=1, amount),
        };
        let quarters = match amount {
            Amount::Quarter => 1,
            Amount::Half => 2,
            Amount::Back => 3,
        };
        for sticker in &mut self.stickers {
            if layers.contains(&dot(sticker.position, axis)) {
                for _ in 0..quarters {
                    sticker.position = quarter(axis, sticker.position);
                    sticker.normal = quarter(axis, sticker.normal);
                }
            }
        }
    }

    /// For each place, 1 to 54, the number of the place where the sticker that started there is now.
    pub fn image(&self) -> Vec<usize> {
        self.stickers.iter().map(|sticker| number(sticker.position, sticker.normal)).collect()
    }

    /// The colours of a face, in the order of [`cubies`].
    pub fn face(&self, face: Face) -> [Colour; 9] {
        cubies(face).map(|cubie| {
            let mut here =
                self.stickers.iter().filter(|s| s.position == cubie && s.normal == direction(face));
            here.next().expect("every place has a sticker").colour
        })
    }

    /// The stickers of the piece with exactly these colours.
    fn piece(&self, colours: &[Colour]) -> Vec<Sticker> {
        let first = self.stickers.iter().filter(|sticker| sticker.colour == colours[0]);
        let mut pieces = first.map(|sticker| {
            self.stickers.iter().copied().filter(|other| other.position == sticker.position).collect()
        });
        let wanted = |piece: &Vec<Sticker>| {
            piece.len() == colours.len() && piece.iter().all(|s| colours.contains(&s.colour))
        };
        pieces.find(wanted).unwrap_or_else(|| panic!("no piece has the colours {colours:?}"))
    }

    /// Where the piece with these colours is: `U` or `D`, then `F` or `B`, then `R` or `L`.
    pub fn place(&self, colours: &[Colour]) -> String {
        let position = self.piece(colours)[0].position;
        let letter = |at: i8, plus: &'static str, minus: &'static str| match at {
            1 => plus,
            -1 => minus,
            _ => "",
        };
        [letter(position[1], "U", "D"), letter(position[2], "F", "B"), letter(position[0], "R", "L")].concat()
    }

    /// The face on which the piece with these colours shows `colour`.
    pub fn side(&self, colours: &[Colour], colour: Colour) -> Face {
        let piece = self.piece(colours);
        let sticker = piece.iter().find(|sticker| sticker.colour == colour).expect("one of its colours");
        face_towards(sticker.normal)
    }

    /// The direction of the centre of this colour.
    fn centre(&self, colour: Colour) -> Vector {
        self.piece(&[colour])[0].normal
    }

    /// Whether every sticker of the piece with these colours faces as the centre of its colour does.
    pub fn is_solved(&self, colours: &[Colour]) -> bool {
        self.piece(colours).iter().all(|sticker| sticker.normal == self.centre(sticker.colour))
    }

    /// Whether all nine stickers of each face are of one colour.
    pub fn all_faces_are_uniform(&self) -> bool {
        Face::ALL.into_iter().all(|face| self.is_uniform(face))
    }

    /// Whether all nine stickers of the face are of one colour.
    pub fn is_uniform(&self, face: Face) -> bool {
        let stickers = self.face(face);
        stickers.iter().all(|&colour| colour == stickers[0])
    }

    /// The face opposite the one where the centre of this colour is.
    pub fn face_opposite(&self, cross: Colour) -> Face {
        face_towards(self.centre(cross).map(|c| -c))
    }

    /// Whether the four edges with this colour are solved.
    pub fn cross_is_solved(&self, cross: Colour) -> bool {
        sides_of(cross).into_iter().all(|side| self.is_solved(&[cross, side]))
    }

    /// Whether a pair, given by its cross colour and its two sides, is solved.
    pub fn pair_is_solved(&self, cross: Colour, [a, b]: [Colour; 2]) -> bool {
        self.is_solved(&[cross, a, b]) && self.is_solved(&[a, b])
    }

    /// Whether the piece is in the layer opposite the cross.
    pub fn is_up(&self, cross: Colour, colours: &[Colour]) -> bool {
        dot(self.piece(colours)[0].position, self.centre(cross)) == -1
    }

    /// Whether the corner is where the pair with these sides belongs.
    pub fn is_in_slot(&self, cross: Colour, corner: &[Colour], [a, b]: [Colour; 2]) -> bool {
        let slot = sum(&[self.centre(cross), self.centre(a), self.centre(b)]);
        self.piece(corner)[0].position == slot
    }
}

/// The four colours that are neither this one nor opposite it (common practice: white is opposite yellow,
/// green opposite blue, red opposite orange).
pub fn sides_of(colour: Colour) -> Vec<Colour> {
    let axis = |colour| match colour {
        Colour::White | Colour::Yellow => 0,
        Colour::Green | Colour::Blue => 1,
        Colour::Red | Colour::Orange => 2,
    };
    Colour::ALL.into_iter().filter(|&other| axis(other) != axis(colour)).collect()
}

/// The side colours of the four pairs of a cross: neighbours that are not opposite each other.
pub fn pairs_of(cross: Colour) -> Vec<[Colour; 2]> {
    let sides = sides_of(cross);
    let mut pairs = Vec::new();
    for (i, &a) in sides.iter().enumerate() {
        for &b in &sides[i + 1..] {
            if sides_of(a).contains(&b) {
                pairs.push([a, b]);
            }
        }
    }
    pairs
}

/// The tier of docs/method.md, by its words: where the corner of `next` is at `start`, when the step from
/// `start` to `end` fills the slots `filled` (none for a cross step).
pub fn tier(
    start: &Space,
    end: &Space,
    cross: Colour,
    next: [Colour; 2],
    filled: &[[Colour; 2]],
) -> &'static str {
    let corner = [cross, next[0], next[1]];
    if start.is_up(cross, &corner) {
        "top"
    } else if filled.iter().any(|&slot| start.is_in_slot(cross, &corner, slot)) {
        "target"
    } else if end.is_up(cross, &corner) {
        "lifted"
    } else {
        "slot"
    }
}

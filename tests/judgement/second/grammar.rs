//! Hand lines by a reading of the grammar of its own: phrases are written down one behind another, and what they
//! come to is kept if the cross is whole again.
//!
//! In letters, with the cross down: a letter is a face (0 U, 1 D, 2 F, 3 B, 4 R, 5 L; the opposite face is one bit
//! away) and a number of quarter turns. Which phrases there are, and what becomes of them where they meet, is written
//! in `docs/method.md`.

use std::collections::{HashMap, HashSet, VecDeque};
use std::sync::OnceLock;

use cornerwise::cube::{Colour, Face, Move};

use super::cost::amount;
use super::stickers::{Cube, Piece, Place, cubies};

/// A turn of one face, with the cross down.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Letter {
    pub face: u8,
    pub quarters: u8,
}

const U: u8 = 0;
const D: u8 = 1;
const SIDES: [u8; 4] = [2, 3, 4, 5];
const FACES: [Face; 6] = [Face::U, Face::D, Face::F, Face::B, Face::R, Face::L];

impl Letter {
    /// By the face as the hands call it.
    pub fn of(face: Face, quarters: u8) -> Letter {
        let face = FACES.iter().position(|&other| other == face).expect("one of six") as u8;
        Letter { face, quarters }
    }

    /// The face as the hands call it.
    pub fn face(self) -> Face {
        FACES[usize::from(self.face)]
    }

    /// As it is written.
    pub fn written(self) -> Move {
        Move::Turn(self.face(), amount(self.quarters))
    }

    fn number(self) -> usize {
        usize::from(self.face * 3 + self.quarters - 1)
    }

    fn from_number(number: usize) -> Letter {
        Letter { face: number as u8 / 3, quarters: number as u8 % 3 + 1 }
    }

    fn opposes(self, other: Letter) -> bool {
        self.face ^ 1 == other.face
    }
}

/// A hand line that brings the cross back.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct HandLine {
    pub letters: Vec<Letter>,
    /// Whether it can be read without a shifted and without a nested phrase.
    pub simple: bool,
}

fn powers(face: u8) -> impl Iterator<Item = Letter> {
    (1..=3).map(move |quarters| Letter { face, quarters })
}

/// All runs of a side of at most so many turns.
fn runs(side: u8, most: usize) -> Vec<Vec<Letter>> {
    let mut done = Vec::new();
    let mut begun: Vec<(Vec<Letter>, u8)> = powers(side).map(|x| (vec![x], x.quarters)).collect();
    while let Some((run, sum)) = begun.pop() {
        if run.len() + 2 > most {
            continue;
        }
        for layer in powers(U) {
            for x in powers(side) {
                let longer = [run.as_slice(), &[layer, x]].concat();
                match (sum + x.quarters) % 4 {
                    0 => done.push(longer),
                    sum => begun.push((longer, sum)),
                }
            }
        }
    }
    done
}

fn exchanges() -> Vec<Vec<Letter>> {
    let mut all = Vec::new();
    for x in SIDES {
        for y in SIDES.into_iter().filter(|&y| y / 2 != x / 2) {
            for q in [1, 3] {
                for r in [1, 3] {
                    let letter = |face, quarters| Letter { face, quarters };
                    all.push(vec![letter(x, q), letter(y, r), letter(x, 4 - q), letter(y, 4 - r)]);
                }
            }
        }
    }
    all
}

/// A letter, something, and the letter undone.
fn between(outer: Letter, inner: &[Letter]) -> Vec<Letter> {
    let back = Letter { quarters: 4 - outer.quarters, ..outer };
    [&[outer], inner, &[back]].concat()
}

/// All phrases of at most so many turns.
fn phrases(most: usize) -> Vec<(Vec<Letter>, bool)> {
    let mut all: Vec<(Vec<Letter>, bool)> = powers(U).map(|u| (vec![u], true)).collect();
    let mut middle = exchanges();
    for side in SIDES {
        middle.extend(runs(side, most));
    }
    for inner in &middle {
        all.push((inner.clone(), true));
        all.extend(powers(D).map(|d| (between(d, inner), false)));
    }
    for side in SIDES {
        let mut one = runs(side, most.saturating_sub(2));
        one.sort_by_key(Vec::len);
        let mut several = one.clone();
        let mut i = 0;
        while i < several.len() {
            let first = several[i].clone();
            for run in one.iter().take_while(|run| first.len() + run.len() + 3 <= most) {
                several.extend(powers(U).map(|layer| [first.as_slice(), &[layer], run].concat()));
            }
            i += 1;
        }
        for inner in &several {
            all.extend(powers(side ^ 1).map(|outer| (between(outer, inner), false)));
        }
    }
    all.retain(|(letters, _)| letters.len() <= most);
    all.sort_by_key(|(letters, _)| letters.len());
    all
}

/// What has been written so far, at most [`ROOM`] letters, each with whether it is two of one kind made one.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
struct Written {
    letters: [(Letter, bool); ROOM],
    length: usize,
}

const ROOM: usize = 16;

impl Written {
    const NOTHING: Written = Written { letters: [(Letter { face: U, quarters: 0 }, false); ROOM], length: 0 };

    fn letters(&self) -> &[(Letter, bool)] {
        &self.letters[..self.length]
    }

    /// Where the turns begin that commute with whatever is written next to the last.
    fn block(&self) -> usize {
        match self.letters() {
            [.., a, b] if a.0.opposes(b.0) => self.length - 2,
            _ => self.length.saturating_sub(1),
        }
    }

    /// With one more letter; `None` where it would meet another turn of its face in a way that hands do not read.
    fn with(mut self, letter: Letter) -> Option<Written> {
        let block = self.block();
        let same_axis = self.length > 0 && self.letters[block].0.face / 2 == letter.face / 2;
        if same_axis {
            for (other, twice) in &mut self.letters[block..self.length] {
                if other.face == letter.face {
                    if *other != letter || letter.quarters == 2 || *twice {
                        return None;
                    }
                    (other.quarters, *twice) = (2, true);
                    return Some(self);
                }
            }
        }
        self.letters[self.length] = (letter, false);
        self.length += 1;
        // Neighbours of opposite faces are written in one order.
        if same_axis && self.letters[block].0.face > letter.face {
            self.letters.swap(block, block + 1);
        }
        Some(self)
    }

    /// How many letters could still become one with the next.
    fn open(&self) -> usize {
        let open = |&&(letter, twice): &&(Letter, bool)| letter.quarters != 2 && !twice;
        self.letters()[self.block()..].iter().filter(open).count()
    }
}

/// The phrases, written letter by letter: what may come next, and whether a phrase may end here.
#[derive(Default)]
struct Begun {
    next: Vec<(Letter, Begun)>,
    /// If it may, whether that phrase is simple.
    ends: Option<bool>,
}

impl Begun {
    fn add(&mut self, letters: &[Letter], simple: bool) {
        let Some((&first, rest)) = letters.split_first() else {
            self.ends = Some(simple || self.ends == Some(true));
            return;
        };
        let at = self.next.iter().position(|&(letter, _)| letter == first).unwrap_or_else(|| {
            self.next.push((first, Begun::default()));
            self.next.len() - 1
        });
        self.next[at].1.add(rest, simple);
    }
}

/// How the letters move single stickers of edges (`sides` 2) or corners (3), each by its number among the 24 places
/// that it can have.
struct Carried {
    places: Vec<Place>,
    turned: Vec<[u8; 24]>,
}

impl Carried {
    fn new(sides: usize) -> Carried {
        let places: Vec<Place> = cubies(sides).iter().flatten().copied().collect();
        let index = |place: Place| places.iter().position(|&other| other == place).expect("one of 24") as u8;
        let turned = (0..18)
            .map(|number| {
                let cube = Cube::solved().after(&[Letter::from_number(number).written()]);
                std::array::from_fn(|i| index(cube.place_of_sticker(places[i])))
            })
            .collect();
        Carried { places, turned }
    }

    fn index(&self, place: Place) -> u8 {
        self.places.iter().position(|&other| other == place).expect("one of 24") as u8
    }

    fn after(&self, at: u8, letter: Letter) -> u8 {
        self.turned[letter.number()][usize::from(at)]
    }
}

/// Turns to bring the four edges of the cross home, and with them one piece more, by where they are.
fn distances(home: [u8; 5], turned: &[[&[u8; 24]; 5]]) -> Vec<u8> {
    let mut distance = vec![u8::MAX; 24_usize.pow(5)];
    distance[number_of(home)] = 0;
    let mut queue = VecDeque::from([home]);
    while let Some(at) = queue.pop_front() {
        for turn in turned {
            let next: [u8; 5] = std::array::from_fn(|i| turn[i][usize::from(at[i])]);
            if distance[number_of(next)] == u8::MAX {
                distance[number_of(next)] = distance[number_of(at)] + 1;
                queue.push_back(next);
            }
        }
    }
    distance
}

fn number_of(at: [u8; 5]) -> usize {
    at.into_iter().fold(0, |sum, at| sum * 24 + usize::from(at))
}

/// Where the pieces are that a search brings home: the cross, and the pair that belongs in the slot at front and
/// right, if one is wanted.
#[derive(Debug, Clone, Copy)]
struct At {
    cross: [u8; 4],
    corner: u8,
    edge: u8,
}

/// The pieces with the tables of their distances.
struct Pieces {
    edges: Carried,
    corners: Carried,
    home: At,
    cross: Vec<u8>,
    with_corner: Vec<u8>,
    with_edge: Vec<u8>,
}

impl Pieces {
    fn new() -> Pieces {
        let (edges, corners) = (Carried::new(2), Carried::new(3));
        let solved = Cube::solved();
        let yellow = edges.places.iter().filter(|&&place| solved.colour(place) == Colour::Yellow);
        let yellow: Vec<u8> = yellow.map(|&place| edges.index(place)).collect();
        let [corner, edge] = stickers_of_pair();
        let home = At {
            cross: yellow.try_into().expect("four edges of the cross"),
            corner: corners.index(corner),
            edge: edges.index(edge),
        };
        let [a, b, c, d] = home.cross;
        let with = |fifth: u8, carried: &Carried| {
            let turned = edges.turned.iter().zip(&carried.turned);
            let turned: Vec<_> = turned.map(|(edge, fifth)| [edge, edge, edge, edge, fifth]).collect();
            distances([a, b, c, d, fifth], &turned)
        };
        let (with_corner, with_edge) = (with(home.corner, &corners), with(home.edge, &edges));
        // The cross alone is never further than with one piece more, and as far as with the nearest.
        let cross = with_edge.chunks(24).map(|of| *of.iter().min().expect("24 places")).collect();
        Pieces { cross, home, with_corner, with_edge, edges, corners }
    }

    fn after(&self, at: At, letter: Letter) -> At {
        At {
            cross: at.cross.map(|edge| self.edges.after(edge, letter)),
            corner: self.corners.after(at.corner, letter),
            edge: self.edges.after(at.edge, letter),
        }
    }

    /// Turns to the cross.
    fn cross(&self, at: At) -> usize {
        usize::from(self.cross[at.cross.into_iter().fold(0, |sum, at| sum * 24 + usize::from(at))])
    }

    /// A lower bound of the turns to all of them.
    fn far(&self, at: At) -> usize {
        let [a, b, c, d] = at.cross;
        let corner = self.with_corner[number_of([a, b, c, d, at.corner])];
        let edge = self.with_edge[number_of([a, b, c, d, at.edge])];
        usize::from(corner.max(edge))
    }
}

/// The stickers by which the pair of the slot at front and right is known, on a solved cube: the yellow one of the
/// corner, the one of the edge that faces the front.
pub fn stickers_of_pair() -> [Place; 2] {
    let solved = Cube::solved();
    let find = |colours: &[Colour], colour: Colour| {
        let cubie = solved.cubie(Piece::of(colours)).iter();
        cubie.copied().find(|&place| solved.colour(place) == colour).expect("one of its colours")
    };
    let [front, right] = [solved.centre(Face::F), solved.centre(Face::R)];
    [find(&[Colour::Yellow, front, right], Colour::Yellow), find(&[front, right], front)]
}

/// The grammar, ready to write lines of at most so many turns by.
pub struct Grammar {
    pieces: &'static Pieces,
    phrases: Begun,
    most: usize,
}

impl Grammar {
    /// Lines of at most `most` turns.
    pub fn new(most: usize) -> Grammar {
        // Two letters of a phrase at most become one with those before it.
        let mut begun = Begun::default();
        for (letters, simple) in phrases(most + 2) {
            begun.add(&letters, simple);
        }
        static PIECES: OnceLock<Pieces> = OnceLock::new();
        Grammar { pieces: PIECES.get_or_init(Pieces::new), phrases: begun, most }
    }

    /// Every hand line that brings the cross back, shortest first; none that ends with a turn of the layer, which
    /// solves nothing.
    pub fn lines(&self) -> Vec<HandLine> {
        self.search(self.pieces.home, false)
    }

    /// Those that also bring in the pair that belongs at front and right, from where its two stickers are.
    pub fn lines_of_pair(&self, [corner, edge]: [Place; 2]) -> Vec<HandLine> {
        let (corner, edge) = (self.pieces.corners.index(corner), self.pieces.edges.index(edge));
        self.search(At { corner, edge, ..self.pieces.home }, true)
    }

    fn search(&self, from: At, pair_too: bool) -> Vec<HandLine> {
        let mut search = Search { grammar: self, pair_too, met: HashSet::new(), lines: HashMap::new() };
        search.extend(Written::NOTHING, from, &self.phrases, true);
        let mut lines: Vec<HandLine> =
            search.lines.into_iter().map(|(letters, simple)| HandLine { letters, simple }).collect();
        lines.sort_by(|a, b| (a.letters.len(), &a.letters).cmp(&(b.letters.len(), &b.letters)));
        lines
    }
}

struct Search<'a> {
    grammar: &'a Grammar,
    pair_too: bool,
    /// Where phrases have ended, and whether all of them were simple.
    met: HashSet<(Written, bool)>,
    lines: HashMap<Vec<Letter>, bool>,
}

impl Search<'_> {
    /// Writes on, in the middle of a phrase or where one ends.
    fn extend(&mut self, written: Written, at: At, begun: &Begun, simple: bool) {
        let (pieces, most) = (self.grammar.pieces, self.grammar.most);
        for (letter, next) in &begun.next {
            let Some(longer) = written.with(*letter) else { continue };
            let after = pieces.after(at, *letter);
            let far = if self.pair_too { pieces.far(after) } else { pieces.cross(after) };
            if longer.length + far > most + longer.open() {
                continue;
            }
            if let Some(phrase_is_simple) = next.ends {
                let simple = simple && phrase_is_simple;
                if self.met.insert((longer, simple)) {
                    if far == 0 && longer.length <= most && longer.letters[longer.length - 1].0.face != U {
                        let letters = longer.letters().iter().map(|&(letter, _)| letter).collect();
                        *self.lines.entry(letters).or_insert(false) |= simple;
                    }
                    self.extend(longer, after, &self.grammar.phrases, simple);
                }
            }
            self.extend(longer, after, next, simple);
        }
    }
}

//! Which hand lines there are from a position, how they can be played, and what a pair costs from there.

use std::collections::{BTreeMap, HashMap};
use std::sync::{LazyLock, Mutex, MutexGuard, PoisonError};

use cornerwise::cube::{Amount, Axis, Colour, Face, Move};

use super::cost::{self, Table, Turn, Way, in_one_order, ways};
use super::grammar::{Grammar, HandLine, Letter, stickers_of_pair};
use super::stickers::{Cube, Pair, Place, corner, edge};

/// A hand line from some position: it ends at the first moment at which any new pair is in.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Line {
    pub turns: Vec<Turn>,
    pub solves: Vec<Pair>,
    /// Whether it can be read without a shifted and without a nested phrase.
    pub simple: bool,
}

/// The least that a pair costs from a position and hold, and all ways to have it for that.
#[derive(Debug, Clone)]
pub struct Then {
    pub cost: u32,
    /// Whether one of the lines that cost so little reads without a shifted and without a nested phrase.
    pub simple: bool,
    /// Tokens, with the cross down in the hands.
    pub ways: Vec<Vec<Move>>,
}

/// Lines up to here are kept for every state of a pair; longer ones are looked for when they are needed.
const SHORT: usize = 8;
/// How long they may get then, one after another. No pair has been seen to need more than one less.
const LONGER: [usize; 3] = [9, 10, 11];

/// All hand lines, and what has been worked out with them.
pub struct Book {
    pub table: Table,
    short: HashMap<[Place; 2], Vec<HandLine>>,
    grammars: HashMap<usize, Grammar>,
    longer: HashMap<(usize, [Place; 2]), Vec<HandLine>>,
    played: HashMap<Vec<Letter>, Vec<Way>>,
    thens: HashMap<Vec<Place>, Then>,
}

/// The pairs that are in after turns that make a line, in whatever order neighbours that commute are played; `None`
/// if they make none.
pub fn solved_by(start: &Cube, cross: Colour, turns: &[Turn]) -> Option<Vec<Pair>> {
    let had = start.pairs_in(cross);
    let ends = |cube: &Cube| {
        if !cube.cross_is_whole(cross) || !had.iter().all(|&pair| cube.pair_is_in(cross, pair)) {
            return None;
        }
        let new: Vec<Pair> = cube.pairs_in(cross).into_iter().filter(|pair| !had.contains(pair)).collect();
        (!new.is_empty()).then_some(new)
    };
    let turned = |cube: &Cube, turn: Turn| {
        cube.after(&[Move::Turn(cube.face_of(turn.centre), cost::amount(turn.quarters))])
    };
    let mut cube = *start;
    let mut left = turns;
    while let Some((&turn, rest)) = left.split_first() {
        let first = turned(&cube, turn);
        left = rest;
        cube = first;
        if let Some((&second, rest)) = rest.split_first()
            && second.centre == super::opposite(turn.centre)
        {
            let before_both = turned(&first, Turn { quarters: 4 - turn.quarters, ..turn });
            if ends(&first).is_some() || ends(&turned(&before_both, second)).is_some() {
                return None;
            }
            cube = turned(&first, second);
            left = rest;
        }
        if let Some(new) = ends(&cube) {
            return left.is_empty().then_some(new);
        }
    }
    None
}

/// The same cube in other hands: with the cross down and the slot of this pair at front and right.
fn held_for(cube: &Cube, cross: Colour, pair: Pair) -> Cube {
    let quarter = |axis| Move::Rotation(axis, Amount::Quarter);
    let mut tilted = *cube;
    for tilt in [Axis::X, Axis::X, Axis::X, Axis::X, Axis::Z, Axis::Z, Axis::Z, Axis::Z] {
        for _ in 0..4 {
            let sides = [tilted.centre(Face::F), tilted.centre(Face::R)];
            if tilted.centre(Face::D) == cross && sides.iter().all(|side| pair.contains(side)) {
                return tilted;
            }
            tilted = tilted.after(&[quarter(Axis::Y)]);
        }
        tilted = tilted.after(&[quarter(tilt)]);
    }
    unreachable!("some hold has the cross down and the pair in front")
}

/// One book for tests that each need little of it: long lines take a while to find.
pub fn shared() -> MutexGuard<'static, Book> {
    static SHARED: LazyLock<Mutex<Book>> = LazyLock::new(|| Mutex::new(Book::new()));
    SHARED.lock().unwrap_or_else(PoisonError::into_inner)
}

impl Book {
    /// All lines of at most [`SHORT`] turns.
    pub fn new() -> Book {
        let mut short: HashMap<[Place; 2], Vec<HandLine>> = HashMap::new();
        for line in Grammar::new(SHORT).lines() {
            let back: Vec<Move> = line
                .letters
                .iter()
                .rev()
                .map(|l| Letter { quarters: 4 - l.quarters, ..*l }.written())
                .collect();
            let from = Cube::solved().after(&back);
            short.entry(stickers_of_pair().map(|s| from.place_of_sticker(s))).or_default().push(line);
        }
        Book {
            table: Table::default(),
            short,
            grammars: HashMap::new(),
            longer: HashMap::new(),
            played: HashMap::new(),
            thens: HashMap::new(),
        }
    }

    /// The hand lines of at most `most` turns that solve this pair, perhaps with others, shortest first.
    pub fn lines_of(&mut self, cube: &Cube, cross: Colour, pair: Pair, most: usize) -> Vec<Line> {
        self.lines_while(cube, cross, pair, |_, length| length <= most)
    }

    /// The same, as long as `wanted`, given the length of the shortest if there is one yet, wants this length.
    fn lines_while(
        &mut self,
        cube: &Cube,
        cross: Colour,
        pair: Pair,
        wanted: impl Fn(Option<usize>, usize) -> bool,
    ) -> Vec<Line> {
        let base = held_for(cube, cross, pair);
        let place = |piece, colour| {
            let on = base.cubie(piece).iter().copied().find(|&place| base.colour(place) == colour);
            on.expect("one of its colours")
        };
        let state = [place(corner(cross, pair), cross), place(edge(pair), base.centre(Face::F))];
        let mut lines: Vec<Line> = Vec::new();
        let mut begin = 0;
        for book in std::iter::once(SHORT).chain(LONGER) {
            let all = if book == SHORT {
                self.short.get(&state).map_or(&[][..], Vec::as_slice)
            } else {
                let grammar = self.grammars.entry(book).or_insert_with(|| Grammar::new(book));
                self.longer.entry((book, state)).or_insert_with(|| grammar.lines_of_pair(state)).as_slice()
            };
            for line in all {
                let length = line.letters.len();
                if length <= begin {
                    continue;
                }
                if !wanted(lines.first().map(|line| line.turns.len()), length) {
                    return lines;
                }
                let turn =
                    |letter: &Letter| Turn { centre: base.centre(letter.face()), quarters: letter.quarters };
                let mut turns: Vec<Turn> = line.letters.iter().map(turn).collect();
                in_one_order(&mut turns);
                if let Some(solves) = solved_by(cube, cross, &turns)
                    && solves.contains(&pair)
                {
                    lines.push(Line { turns, solves, simple: line.simple });
                }
            }
            begin = book;
            if !wanted(lines.first().map(|line| line.turns.len()), begin + 1) {
                return lines;
            }
        }
        panic!("a pair wants lines of more turns than {LONGER:?}");
    }

    /// The length of the shortest hand line of a pair, whatever it solves besides.
    pub fn shortest(&mut self, cube: &Cube, cross: Colour, pair: Pair) -> usize {
        let lines = self.lines_while(cube, cross, pair, |shortest, _| shortest.is_none());
        lines[0].turns.len()
    }

    /// All hand lines of at most `most` turns, each once.
    pub fn lines(&mut self, cube: &Cube, cross: Colour, most: usize) -> Vec<Line> {
        let in_already = cube.pairs_in(cross);
        let mut all: BTreeMap<Vec<Turn>, Line> = BTreeMap::new();
        for pair in crate::support::space::pairs_of(cross) {
            if !in_already.contains(&pair) {
                let of_pair = self.lines_of(cube, cross, pair, most);
                all.extend(of_pair.into_iter().map(|line| (line.turns.clone(), line)));
            }
        }
        all.into_values().collect()
    }

    /// All ways of least cost to play turns from this cube as it is held.
    pub fn ways(&mut self, cube: &Cube, cross: Colour, turns: &[Turn]) -> Vec<Way> {
        if cube.centre(Face::D) != cross {
            return ways(cube, cross, turns, &self.table);
        }
        // With the cross down it is all the same which colours the faces have.
        let letters = turns.iter().map(|turn| Letter::of(cube.face_of(turn.centre), turn.quarters)).collect();
        let table = &self.table;
        let yellow_down = || {
            let solved = Cube::solved();
            let coloured = |turn: &Turn| Turn { centre: solved.centre(cube.face_of(turn.centre)), ..*turn };
            ways(&solved, Colour::Yellow, &turns.iter().map(coloured).collect::<Vec<_>>(), table)
        };
        self.played.entry(letters).or_insert_with(yellow_down).clone()
    }

    /// then(q): the least cost, from this hold, over the hand lines of the pair of at most its shortest and one turn more.
    pub fn then(&mut self, cube: &Cube, cross: Colour, pair: Pair) -> Then {
        let is_down = cube.centre(Face::D) == cross;
        let key = is_down.then(|| key(cube, cross, pair));
        if let Some(then) = key.as_ref().and_then(|key| self.thens.get(key)) {
            return then.clone();
        }
        // Which lines there are is all the same to the hold.
        let turned_over =
            ["", "x", "x2", "x'", "z", "z'"].map(|way| cube.after(&crate::support::read::moves(way)));
        let upright = turned_over.into_iter().find(|cube| cube.centre(Face::D) == cross).expect("a rotation");
        let lines = self.lines_while(&upright, cross, pair, |shortest, length| {
            shortest.is_none_or(|shortest| length <= shortest + 1)
        });
        let mut then = Then { cost: u32::MAX, simple: false, ways: Vec::new() };
        for line in lines {
            let ways = self.ways(cube, cross, &line.turns);
            let cost = ways[0].cost;
            if cost < then.cost {
                then = Then { cost, simple: false, ways: Vec::new() };
            }
            if cost == then.cost {
                then.simple |= line.simple;
                then.ways.extend(ways.into_iter().map(|way| way.tokens));
            }
        }
        if let Some(key) = key {
            self.thens.insert(key, then.clone());
        }
        then
    }

    /// The least that is left to do if the pairs are taken one after another, the cheapest first: of equally cheap
    /// ones and of equally cheap ways those that come to least in the end.
    pub fn rest(&mut self, cube: &Cube, cross: Colour) -> u32 {
        let mut open = crate::support::space::pairs_of(cross);
        open.retain(|&pair| !cube.pair_is_in(cross, pair));
        let thens: Vec<Then> = open.iter().map(|&pair| self.then(cube, cross, pair)).collect();
        let Some(least) = thens.iter().map(|then| then.cost).min() else { return 0 };
        let mut ends: Vec<Cube> = Vec::new();
        for then in thens.iter().filter(|then| then.cost == least) {
            ends.extend(then.ways.iter().map(|tokens| cube.after(tokens)));
        }
        ends.sort();
        ends.dedup();
        least + ends.iter().map(|end| self.rest(end, cross)).min().expect("a way")
    }
}

/// Where the pieces of all pairs are, slot by slot in the hands, and which slot is meant: all that lines of a pair
/// depend on.
fn key(cube: &Cube, cross: Colour, pair: Pair) -> Vec<Place> {
    let mut key = Vec::new();
    for slot in [[Face::F, Face::R], [Face::F, Face::L], [Face::B, Face::L], [Face::B, Face::R]] {
        let [a, b] = slot.map(|face| cube.centre(face));
        let place = |piece, colour| {
            let on = cube.cubie(piece).iter().copied().find(|&place| cube.colour(place) == colour);
            on.expect("one of its colours")
        };
        key.extend([place(corner(cross, [a, b]), cross), place(edge([a, b]), a)]);
        if pair.contains(&a) && pair.contains(&b) {
            key.push(usize::MAX);
        }
    }
    key
}

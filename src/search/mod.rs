//! Distance tables and exhaustive lines: what could be played from a position.
//!
//! This knows cubes, not solves. A *line* is a sequence of face turns from a position to the first moment at
//! which the cross is solved and the set of solved pairs is a strict superset of the set at its start; no two
//! turns of one face follow each other, and of two turns of opposite faces the one of `U`, `R` or `F` comes
//! first, named in [`order_hold`]. Such turns commute, and a line ends at its first moment in whichever order
//! they are played; so what a line is does not depend on the hold. A *hand line* is one made of the phrases
//! hands really use: `phrases` has the grammar.
//!
//! Everything here is exact: [`lines()`] returns all lines up to its bound, each once ([`each_line()`] tells them one by
//! one, where there are too many to keep), and [`shortest()`] is the true minimum. Tables are made at the first call that needs them and shared by all threads; nothing runs in
//! parallel by itself.
//!
//! ```
//! use cornerwise::cube::{Amount, Colour, FaceTurn, Pair, State};
//! use cornerwise::search::{Kind, is_hand_line, lines, shortest};
//!
//! let turn = |centre, amount| FaceTurn { centre, amount };
//! let insert = [
//!     turn(Colour::Red, Amount::Quarter),
//!     turn(Colour::White, Amount::Quarter),
//!     turn(Colour::Red, Amount::Back),
//! ];
//! assert!(is_hand_line(&insert, Colour::Yellow));
//!
//! // Undoing it makes a position which it solves.
//! let state = insert.iter().rev().fold(State::SOLVED, |state, turn| state.turned(turn.inverse()));
//! let found = lines(&state, Colour::Yellow, Kind::Hand, 3);
//! assert_eq!(found.len(), 1);
//! assert_eq!(found[0].turns(), insert);
//! assert_eq!(found[0].end(state), State::SOLVED);
//! let mut pairs = Pair::all(Colour::Yellow).into_iter();
//! let pair = pairs.find(|&pair| found[0].solves(pair)).expect("a line solves a pair");
//! assert_eq!(shortest(&state, Colour::Yellow, pair, Kind::Every, 9), Some(3));
//! ```
//!
//! # How
//!
//! `automaton` turns the grammar into a deterministic automaton, so that every line is met once. A search goes
//! forward with it from the position (`lines`), and stops five turns short of its bound: how lines end is the
//! same for every position, so all endings of up to five turns are found once, backward from the solved cube, and
//! looked up by where the cross and one pair are (`endings`). For all lines it is four turns. One turn before
//! that, a filter tells whether it is worth going on. All six cross colours use one set of tables (`frame`).
//!
//! Where the cross is whole, and that is where every pair step begins, nothing is searched for hand lines of up to nine
//! turns: `index` has ([`each_hand_line`]) them by the place of the pair they take home, with their costs. What the search
//! finds is what the index was made of, and the tests hold the one against the other.
//!
//! A depth-first search that prunes by distances of the cross and of pairs visits far more positions here: after
//! five turns from a solved cross three positions of four have it within reach of four more. It is kept in the
//! tests, as the judge.

mod automaton;
mod cross;
mod endings;
mod frame;
mod goal;
mod index;
mod lines;
mod next;
mod phrases;
mod plain;
mod shortest;
mod tracked;
mod turn;

use std::cmp::Ordering;

use frame::Frame;
use lines::{Found, Searcher};
use phrases::Phrases;
use turn::Turn;

pub use index::{HandLine, LONGEST as LONGEST_INDEXED, each_hand_line};
pub use next::{LONGEST_NEXT, NextPair, Seat, SeatLine};

use crate::cube::{Colour, FaceTurn, Hold, Pair, PairSet, State};

/// The longest line a search can be asked for, in face turns.
pub const MAX_TURNS: usize = 16;

/// Which lines a search is about.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Kind {
    /// Hand lines only.
    Hand,
    /// Every line there is.
    Every,
}

/// One line.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Line {
    turns: [FaceTurn; MAX_TURNS],
    len: u8,
    pairs: PairSet,
}

impl Line {
    /// The turns in the order in which they are played, at least one.
    #[must_use]
    pub fn turns(&self) -> &[FaceTurn] {
        &self.turns[..usize::from(self.len)]
    }

    /// Whether it solves a pair of the cross.
    #[must_use]
    pub fn solves(&self, pair: Pair) -> bool {
        self.pairs.contains(pair.slot())
    }

    /// All pairs that it solves.
    #[must_use]
    pub const fn pairs(&self) -> PairSet {
        self.pairs
    }

    /// The state it leads to.
    #[must_use]
    pub fn end(&self, from: State) -> State {
        self.turns().iter().fold(from, |state, &turn| state.turned(turn))
    }
}

/// Every line of at most `bound` turns from a state: shorter ones first, then in the order of the faces
/// `U D F B R L` of [`order_hold`] and of the amounts.
///
/// # Panics
/// If `bound` is more than [`MAX_TURNS`].
#[must_use]
pub fn lines(state: &State, cross: Colour, kind: Kind, bound: usize) -> Vec<Line> {
    assert!(bound <= MAX_TURNS, "a line has at most {MAX_TURNS} turns");
    let frame = Frame::of(cross);
    let mut found = Vec::new();
    Searcher::of(kind).lines(frame.tracked(state), bound, &mut |line| found.push(line));
    found.sort_unstable();
    found.iter().map(|found| line(frame, found)).collect()
}

/// Calls `to` with every line that [`lines()`] would return, as they are found: in no particular order, and none is
/// kept. [`order()`] is the order of [`lines()`].
///
/// # Panics
/// If `bound` is more than [`MAX_TURNS`].
pub fn each_line(state: &State, cross: Colour, kind: Kind, bound: usize, mut to: impl FnMut(Line)) {
    assert!(bound <= MAX_TURNS, "a line has at most {MAX_TURNS} turns");
    let frame = Frame::of(cross);
    Searcher::of(kind).lines(frame.tracked(state), bound, &mut |found| to(line(frame, &found)));
}

/// How two lines of a position follow each other in [`lines()`].
#[must_use]
pub fn order(a: &Line, b: &Line, cross: Colour) -> Ordering {
    let hold = order_hold(cross);
    let key = |line: &Line| {
        let turns = line.turns.map(|turn| Turn::new(hold.face(turn.centre), turn.amount));
        (line.len, turns)
    };
    key(a).cmp(&key(b))
}

/// How many lines [`lines()`] would return.
///
/// # Panics
/// If `bound` is more than [`MAX_TURNS`].
#[must_use]
pub fn count(state: &State, cross: Colour, kind: Kind, bound: usize) -> usize {
    assert!(bound <= MAX_TURNS, "a line has at most {MAX_TURNS} turns");
    let mut count = 0;
    Searcher::of(kind).lines(Frame::of(cross).tracked(state), bound, &mut |_| count += 1);
    count
}

/// The length of the shortest line that solves a pair of the cross and keeps the cross and whatever pairs are solved: 0 if it is solved, `None` if there is no line of at most
/// `bound` turns.
///
/// Other open pairs do not matter: they may be solved on the way. If the cross is not solved, the line solves it
/// too. While it is solved, answers are remembered, so asking from many positions is cheap.
///
/// # Panics
/// If `bound` is more than [`MAX_TURNS`].
#[must_use]
pub fn shortest(state: &State, cross: Colour, pair: Pair, kind: Kind, bound: usize) -> Option<usize> {
    assert!(bound <= MAX_TURNS, "a line has at most {MAX_TURNS} turns");
    if kind == Kind::Hand && state.cross_solved(cross) && !state.pair_solved(pair) {
        return NextPair::new(state, cross, pair).shortest().filter(|&shortest| shortest <= bound);
    }
    let frame = Frame::of(cross);
    shortest::length(kind, frame.tracked(state), frame.slot(pair.slot()), bound)
}

/// All lines of the length [`shortest()`] tells, in the order of [`lines()`]. [`Line::solves`] is told for the pair
/// asked for only.
///
/// # Panics
/// As [`shortest()`].
#[must_use]
pub fn shortest_lines(state: &State, cross: Colour, pair: Pair, kind: Kind, bound: usize) -> Vec<Line> {
    let frame = Frame::of(cross);
    let Some(length) = shortest(state, cross, pair, kind, bound) else { return Vec::new() };
    let mut found = Vec::new();
    shortest::lines(kind, frame.tracked(state), frame.slot(pair.slot()), length, &mut |line| {
        found.push(line)
    });
    found.sort_unstable();
    found.iter().map(|found| line(frame, found)).collect()
}

/// Whether the turns split into the phrases of a hand line for a cross of this colour.
#[must_use]
pub fn is_hand_line(turns: &[FaceTurn], cross: Colour) -> bool {
    phrases::reads(Phrases::All, turns, order_hold(cross))
}

/// Whether the turns of a line split into phrases none of which is shifted or nested. Two turns of one face never
/// follow each other in a line; opposite neighbours may stand in either order.
#[must_use]
pub fn is_plain_line(turns: &[FaceTurn], cross: Colour) -> bool {
    plain::is_plain(turns, order_hold(cross))
}

/// The hold, cross down, in which the order of turns of opposite faces is told.
#[must_use]
pub fn order_hold(cross: Colour) -> Hold {
    Frame::of(cross).hold
}

/// Least number of face turns that solve the cross.
#[must_use]
pub fn cross_distance(state: &State, cross: Colour) -> usize {
    usize::from(cross::Distances::get().of(Frame::of(cross).tracked(state).cross()))
}

fn line(frame: &Frame, found: &Found) -> Line {
    Line {
        turns: found.turns.map(|turn| frame.face_turn(turn)),
        len: found.len,
        pairs: frame.pairs(found.pairs),
    }
}

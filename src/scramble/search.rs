//! The two phases.

use super::coordinates::Places;
use super::same_axis;
use super::tables::{SECOND, Tables, second_phase};
use crate::cube::{Colour, FaceTurn, State};

/// The longest second phase that is tried: longer ones take long to find and are seldom worth it.
const LONGEST_SECOND: usize = 11;

/// At most `most` turns that solve the state, the first of them not of the axis of `apart`, and none of a kind that two
/// turns of one face, or three of one axis, follow each other. `None` if none was found after looking at about `patience` positions.
pub(super) fn solve(state: &State, most: usize, apart: Colour, patience: usize) -> Option<Vec<FaceTurn>> {
    let start = Places::of(state);
    let mut search =
        Search { tables: Tables::get(), start, most, patience, turns: Vec::with_capacity(most), apart };
    let first =
        First { twists: start.twists() as u16, flips: start.flips() as u16, middles: start.middles() as u16 };
    for length in 0..=most {
        match search.first(first, length) {
            Outcome::Found => return Some(search.turns.iter().map(|&turn| FaceTurn::ALL[turn]).collect()),
            Outcome::OutOfPatience => return None,
            Outcome::Nothing => {}
        }
    }
    None
}

#[derive(Debug, Clone, Copy)]
struct First {
    twists: u16,
    flips: u16,
    middles: u16,
}

#[derive(Debug, Clone, Copy)]
struct Second {
    corners: u16,
    others: u16,
    fours: u16,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Outcome {
    Found,
    Nothing,
    OutOfPatience,
}

struct Search {
    tables: &'static Tables,
    start: Places,
    most: usize,
    patience: usize,
    /// The turns so far, by their place in [`FaceTurn::ALL`].
    turns: Vec<usize>,
    apart: Colour,
}

impl Search {
    /// Whether a turn may come next. Of two neighbours of opposite faces the order is one.
    fn may_follow(&self, turn: usize) -> bool {
        let centre = FaceTurn::ALL[turn].centre;
        match self.turns.last() {
            None => !same_axis(centre, self.apart),
            Some(&last) => {
                let last = FaceTurn::ALL[last].centre;
                centre != last && !(centre == last.opposite() && centre < last)
            }
        }
    }

    /// All first phases of exactly `left` more turns.
    fn first(&mut self, at: First, left: usize) -> Outcome {
        if left == 0 {
            return if self.tables.first_at_least(at.twists, at.flips, at.middles) == 0 {
                self.begin_second()
            } else {
                Outcome::Nothing
            };
        }
        let tables = self.tables;
        for turn in 0..18 {
            if !self.may_follow(turn) {
                continue;
            }
            let to = First {
                twists: tables.twists[usize::from(at.twists)][turn],
                flips: tables.flips[usize::from(at.flips)][turn],
                middles: tables.middles[usize::from(at.middles)][turn],
            };
            if usize::from(tables.first_at_least(to.twists, to.flips, to.middles)) >= left {
                continue;
            }
            let Some(patience) = self.patience.checked_sub(1) else { return Outcome::OutOfPatience };
            self.patience = patience;
            self.turns.push(turn);
            let outcome = self.first(to, left - 1);
            if outcome != Outcome::Nothing {
                return outcome;
            }
            self.turns.pop();
        }
        Outcome::Nothing
    }

    fn begin_second(&mut self) -> Outcome {
        // A first phase that ends in a turn of the second has been met without it.
        if self.turns.last().is_some_and(|last| second_phase().contains(last)) {
            return Outcome::Nothing;
        }
        let at = self.turns.iter().fold(self.start, |places, &turn| places.turned(turn));
        let at = Second {
            corners: at.corners() as u16,
            others: at.other_edges() as u16,
            fours: at.middle_edges() as u16,
        };
        let most = (self.most - self.turns.len()).min(LONGEST_SECOND);
        for length in usize::from(self.tables.second_at_least(at.corners, at.others, at.fours))..=most {
            let outcome = self.second(at, length);
            if outcome != Outcome::Nothing {
                return outcome;
            }
        }
        Outcome::Nothing
    }

    /// All second phases of exactly `left` more turns.
    fn second(&mut self, at: Second, left: usize) -> Outcome {
        let tables = self.tables;
        if left == 0 {
            let solved = tables.second_at_least(at.corners, at.others, at.fours) == 0;
            return if solved { Outcome::Found } else { Outcome::Nothing };
        }
        for i in 0..SECOND {
            let turn = second_phase()[i];
            if !self.may_follow(turn) {
                continue;
            }
            let to = Second {
                corners: tables.corners[usize::from(at.corners)][i],
                others: tables.others[usize::from(at.others)][i],
                fours: tables.fours[usize::from(at.fours)][i],
            };
            if usize::from(tables.second_at_least(to.corners, to.others, to.fours)) >= left {
                continue;
            }
            let Some(patience) = self.patience.checked_sub(1) else { return Outcome::OutOfPatience };
            self.patience = patience;
            self.turns.push(turn);
            let outcome = self.second(to, left - 1);
            if outcome != Outcome::Nothing {
                return outcome;
            }
            self.turns.pop();
        }
        Outcome::Nothing
    }
}

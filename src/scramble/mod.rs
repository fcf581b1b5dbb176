//! Turns that lead from a solved cube to any position: scrambles made to order.
//!
//! This knows cubes, not solves. The method is the published two-phase search through the cosets of the subgroup
//! that half turns of the sides and all turns of up and down generate (H. Kociemba, "Close to God's Algorithm", Cubism For
//! Fun 28, 1992, after M. Thistlethwaite; from memory): first every piece is turned the right way round and the four edges of the middle
//! layer brought into it, then the rest is solved without leaving that subgroup. Both phases go deeper step by step and
//! leave out what tables of least distances show to be hopeless.
//!
//! A scramble must not give away how to go on, so it ends in turns drawn at random, and what leads up to them is the
//! inverse of a solution of another position. It is short ([`MOST_TURNS`]), not shortest.
//!
//! ```
//! use cornerwise::cube::{Colour, FaceTurn, State};
//! use cornerwise::scramble::{MOST_TURNS, scramble};
//!
//! let state = FaceTurn::ALL.iter().fold(State::SOLVED, |state, &turn| state.turned(turn));
//! // Any numbers will do that are not always the same.
//! let mut n = 0;
//! let turns = scramble(&state, &mut |below| { n += 7; n % below }).expect("every position can be reached");
//! assert!(turns.len() <= MOST_TURNS);
//! assert_eq!(turns.iter().fold(State::SOLVED, |state, &turn| state.turned(turn)), state);
//! ```

mod coordinates;
mod search;
mod tables;

use crate::cube::{FaceTurn, State};

/// The most turns of a scramble.
pub const MOST_TURNS: usize = 22;

/// How many turns at the end of a scramble are drawn at random.
const RANDOM: usize = 2;

/// How many positions one search may look at before it is begun anew with other random turns.
const PATIENCE: usize = 40_000;

/// So many searches are begun before it is given up. One in a few succeeds.
const ATTEMPTS: usize = 400;

/// Turns that lead from a solved cube to this state, at most [`MOST_TURNS`], no two neighbours of one face and no three of one
/// axis. `random` gives a number below its argument; the same numbers give the same turns. `None` if nothing so short was
/// found within the budget.
#[must_use]
pub fn scramble(state: &State, random: &mut impl FnMut(usize) -> usize) -> Option<Vec<FaceTurn>> {
    (0..ATTEMPTS).find_map(|_| {
        let end = last_turns(random);
        let before = end.iter().rev().fold(*state, |state, turn| state.turned(turn.inverse()));
        // The last turn of the first part must not be of the axis in which the second begins.
        let solution = search::solve(&before, MOST_TURNS - RANDOM, end[0].centre, PATIENCE)?;
        Some(solution.iter().rev().map(|turn| turn.inverse()).chain(end).collect())
    })
}

/// Turns of different axes, drawn at random.
fn last_turns(random: &mut impl FnMut(usize) -> usize) -> [FaceTurn; RANDOM] {
    let mut turns = [FaceTurn::ALL[0]; RANDOM];
    let mut last = None;
    for turn in &mut turns {
        let fits: Vec<FaceTurn> = FaceTurn::ALL
            .into_iter()
            .filter(|turn| last.is_none_or(|last| !same_axis(last, turn.centre)))
            .collect();
        *turn = fits[random(fits.len())];
        last = Some(turn.centre);
    }
    turns
}

fn same_axis(a: crate::cube::Colour, b: crate::cube::Colour) -> bool {
    a == b || a == b.opposite()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::cube::Colour;

    /// A walk over many turns, so that every piece has been everywhere.
    fn walk(n: usize) -> State {
        let mut seed = n as u64 * 977 + 13;
        let mut state = State::SOLVED;
        for _ in 0..60 {
            seed = seed.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
            state.turn(FaceTurn::ALL[(seed >> 33) as usize % 18]);
        }
        state
    }

    #[test]
    fn scrambles_lead_where_they_are_to_and_are_written_as_such() {
        let mut seed = 5_u64;
        let mut random = |below: usize| {
            seed = seed.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
            (seed >> 33) as usize % below
        };
        for n in 0..12 {
            let state = if n == 0 { State::SOLVED } else { walk(n) };
            let turns = scramble(&state, &mut random).expect("within the budget");
            assert!(turns.len() <= MOST_TURNS, "{} turns", turns.len());
            assert_eq!(turns.iter().fold(State::SOLVED, |state, &turn| state.turned(turn)), state);
            for (a, b) in turns.iter().zip(&turns[1..]) {
                assert_ne!(a.centre, b.centre, "{turns:?}");
            }
            for three in turns.windows(3) {
                assert!(!three.iter().all(|turn| same_axis(turn.centre, three[0].centre)), "{turns:?}");
            }
        }
    }

    /// One turn from solved: with one turn to play the search finds the turn back.
    #[test]
    fn what_is_one_turn_away_is_solved_in_one_turn() {
        for turn in FaceTurn::ALL {
            let state = State::SOLVED.turned(turn);
            let other = [Colour::White, Colour::Green].into_iter().find(|&c| !same_axis(c, turn.centre));
            let found = search::solve(&state, 1, other.expect("two axes"), PATIENCE);
            assert_eq!(found, Some(vec![turn.inverse()]));
        }
    }
}

//! Counts and sets of lines equal those of the slow model.

use cornerwise::cube::{Colour, FaceTurn, Pair, State};
use cornerwise::search::{self, Kind, lines, order_hold};

use super::positions::{played, with_pairs_solved};
use super::slow_grammar;
use super::slow_model::{self, Line};
use crate::support::{random::Random, switch};

/// Turns of opposite faces next to each other, in the order of colours: the model's order.
pub fn in_order(turns: &[FaceTurn]) -> Vec<FaceTurn> {
    let mut turns = turns.to_vec();
    for i in 1..turns.len() {
        if turns[i - 1].centre == turns[i].centre.opposite() && turns[i - 1].centre > turns[i].centre {
            turns.swap(i - 1, i);
        }
    }
    turns
}

fn found(state: &State, cross: Colour, kind: Kind, bound: usize) -> Vec<Line> {
    let lines = lines(state, cross, kind, bound);
    assert_eq!(search::count(state, cross, kind, bound), lines.len());
    for line in &lines {
        let ends = slow_model::Goal::new(cross).ends(&line.end(*state), 0);
        assert!(ends.is_some_and(|pairs| {
            Pair::all(cross).into_iter().zip(0..).all(|(pair, i)| !line.solves(pair) || pairs >> i & 1 == 1)
        }));
    }
    let solves = |line: &search::Line| {
        Pair::all(cross)
            .into_iter()
            .zip(0..)
            .filter(|&(pair, _)| line.solves(pair))
            .map(|(_, i)| 1 << i)
            .sum()
    };
    let mut all: Vec<Line> = lines.iter().map(|line| (in_order(line.turns()), solves(line))).collect();
    all.sort();
    all
}

fn sorted(mut lines: Vec<Line>) -> Vec<Line> {
    lines.sort();
    lines
}

#[test]
fn all_lines_up_to_six_turns_are_those_of_trying_every_sequence() {
    let mut random = Random::new(6);
    for (solved, cross) in [(0, Colour::White), (1, Colour::Red), (2, Colour::Yellow), (3, Colour::Blue)] {
        let state = played(&with_pairs_solved(&mut |below| random.below(below), cross, solved));
        let tried = sorted(slow_model::every_sequence(&state, cross, 6));
        assert_eq!(tried, sorted(slow_model::plain_search(&state, cross, 6)), "the two slow ways agree");
        assert_eq!(found(&state, cross, Kind::Every, 6), tried);
    }
}

/// The slow ways take a while for so many turns, so they go to seven unless slow tests are wanted.
#[test]
fn all_lines_up_to_nine_turns_and_hand_lines_up_to_eight() {
    let (bound, hand_bound) = if switch::slow() { (9, 8) } else { (7, 7) };
    let mut random = Random::new(9);
    for (solved, cross) in [(0, Colour::Orange), (1, Colour::White), (2, Colour::Green), (3, Colour::Red)] {
        let state = played(&with_pairs_solved(&mut |below| random.below(below), cross, solved));
        let every = sorted(slow_model::plain_search(&state, cross, bound));
        assert_eq!(found(&state, cross, Kind::Every, bound), every);
        let by_hand: Vec<Line> = every
            .into_iter()
            .filter(|(turns, _)| turns.len() <= hand_bound)
            .filter(|(turns, _)| {
                let hand = slow_grammar::is_hand_line(turns, order_hold(cross));
                assert_eq!(search::is_hand_line(turns, cross), hand, "{turns:?}");
                hand
            })
            .collect();
        assert_eq!(found(&state, cross, Kind::Hand, hand_bound), by_hand);
    }
}

/// Every sequence of at most five turns (four, unless slow tests are wanted) is a hand line for one reading of the grammar
/// if it is for the other. The counts are those of the automaton that the enumeration runs on.
#[test]
fn two_readings_of_the_grammar_agree_on_every_short_sequence() {
    fn extend(turns: &mut Vec<FaceTurn>, left: usize, counts: &mut [usize]) {
        for turn in FaceTurn::ALL {
            if !slow_model::may_follow(turns.last().copied(), turn) {
                continue;
            }
            turns.push(turn);
            let hand = slow_grammar::is_hand_line(turns, order_hold(Colour::Green));
            assert_eq!(search::is_hand_line(turns, Colour::Green), hand, "{turns:?}");
            counts[turns.len() - 1] += usize::from(hand);
            if left > 1 {
                extend(turns, left - 1, counts);
            }
            turns.pop();
        }
    }
    let most = if switch::slow() { 5 } else { 4 };
    let mut counts = [0; 5];
    extend(&mut Vec::new(), most, &mut counts);
    assert_eq!(counts[..most], [3, 0, 36, 248, 894][..most]);
}

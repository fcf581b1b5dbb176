//! The index of hand lines against the search: the same lines for every bound the index has, with what they cost and how
//! they read.

use cornerwise::cube::{Colour, FaceTurn, Hold, Pair, PairSet, Position, State};
use cornerwise::hands::{HalfUnits, Handling, Weights};
use cornerwise::search::{
    Kind, LONGEST_INDEXED, LONGEST_NEXT, each_hand_line, is_plain_line, lines, shortest,
};

use super::positions::{played, with_pairs_solved};
use crate::support::random::Random;
use crate::support::switch::slow;

/// A line as both tell it: how long it is, its turns, what it solves.
type Told = (usize, Vec<FaceTurn>, PairSet);

fn searched(state: &State, cross: Colour, bound: usize) -> Vec<Told> {
    let lines = lines(state, cross, Kind::Hand, bound);
    let mut told: Vec<Told> =
        lines.iter().map(|line| (line.turns().len(), line.turns().to_vec(), line.pairs())).collect();
    told.sort();
    told
}

/// `None` if the index does not have all lines of the position.
fn indexed(at: &Position, cross: Colour, bound: usize) -> Option<Vec<(Told, Option<HalfUnits>, bool)>> {
    let mut told = Vec::new();
    let all = each_hand_line(at, cross, bound, |hand| {
        let line = hand.line(cross);
        assert_eq!(line.pairs(), hand.pairs());
        let turns = line.turns().to_vec();
        told.push(((turns.len(), turns, line.pairs()), hand.cost(), hand.is_plain()));
    });
    told.sort();
    all.then_some(told)
}

#[test]
fn the_index_has_the_lines_that_the_search_finds() {
    let mut random = Random::new(20_261_128);
    let n = if slow() { 2000 } else { 60 };
    let (mut n_lines, mut n_priced, mut n_plain, mut n_tilted, mut n_double) = (0, 0, 0, 0, 0);
    for i in 0..n {
        let cross = Colour::ALL[i % 6];
        let turns = with_pairs_solved(&mut |below| random.below(below), cross, i / 6 % 4);
        let state = played(&turns);
        let hold = Hold::ALL[random.below(24)];
        let at = Position { state, hold };
        let longest = indexed(&at, cross, LONGEST_INDEXED).expect("it has all up to its bound");
        for bound in 1..=LONGEST_INDEXED {
            let here: Vec<Told> = indexed(&at, cross, bound)
                .expect("it has all up to its bound")
                .into_iter()
                .map(|(told, ..)| told)
                .collect();
            assert_eq!(here, searched(&state, cross, bound));
        }
        for ((_, turns, pairs), cost, plain) in &longest {
            n_lines += 1;
            n_double += usize::from(pairs.len() > 1);
            n_plain += usize::from(*plain);
            assert_eq!(*plain, is_plain_line(turns, cross));
            let Some(cost) = *cost else {
                n_tilted += 1;
                assert!(hold.colour(cornerwise::cube::Face::D) != cross);
                continue;
            };
            if n_lines % 7 == 0 {
                n_priced += 1;
                assert_eq!(cost, Handling::new(turns, cross, &Weights::default()).cost(hold));
            }
        }
    }
    // The share of positions with a line for two pairs is smaller among all 2,000 than among the first 60.
    let least_double = if slow() { n / 8 } else { n / 4 };
    let met =
        format!("{n_lines} lines, {n_priced} priced, {n_tilted} tilted, {n_double} for two, {n_plain} plain");
    assert!(n_lines > 100 * n && n_priced > n && n_tilted > n && n_double > least_double, "{met}");
    assert!(n_plain > n && n_plain < n_lines, "{met}");
}

/// Where the shortest line is as long as the index goes, or longer, it has those of one turn more.
#[test]
fn the_last_pair_is_never_too_far() {
    let mut random = Random::new(99);
    let mut n_far = 0;
    for i in 0..if slow() { 4000 } else { 400 } {
        let cross = Colour::ALL[i % 6];
        let state = played(&with_pairs_solved(&mut |below| random.below(below), cross, 3));
        let at = Position { state, hold: Hold::ALL[i % 24] };
        let pair = Pair::all(cross).into_iter().find(|&pair| !state.pair_solved(pair)).expect("one is open");
        let length = shortest(&state, cross, pair, Kind::Hand, LONGEST_NEXT).expect("every pair has a line");
        if length < LONGEST_INDEXED {
            continue;
        }
        n_far += 1;
        let here: Vec<Told> = indexed(&at, cross, length + 1)
            .expect("it has all of one turn more")
            .into_iter()
            .map(|(told, ..)| told)
            .collect();
        assert!(!here.is_empty());
        assert_eq!(here, searched(&state, cross, length + 1));
        assert!(indexed(&at, cross, length + 2).is_none());
    }
    assert!(n_far > 0, "none was far");
}

#[test]
fn without_a_cross_the_index_has_nothing_to_say() {
    let turn = FaceTurn { centre: Colour::Red, amount: cornerwise::cube::Amount::Quarter };
    let at = Position { state: State::SOLVED.turned(turn), hold: Hold::START };
    assert!(indexed(&at, Colour::Yellow, 3).is_none());
    assert_eq!(indexed(&Position::SOLVED, Colour::Yellow, LONGEST_INDEXED), Some(Vec::new()));
}

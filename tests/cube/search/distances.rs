//! Distances against tables from outside and against breadth-first search.

use cornerwise::cube::{Colour, Face, FaceTurn, Hold, Pair, State};
use cornerwise::search::{Kind, cross_distance, order_hold, shortest, shortest_lines};

use super::positions::{played, with_pairs_solved};
use super::{slow_grammar, slow_model};
use crate::support::{python, random::Random, switch};

/// Turns read from text such as `R U2 F'`, held yellow down: as the table of lengths has them.
fn turned(text: &str, hold: Hold) -> Vec<FaceTurn> {
    text.split_whitespace()
        .map(|word| {
            let face = Face::ALL["UDFBRL".find(&word[..1]).expect("a face")];
            let quarters = match &word[1..] {
                "" => 1,
                "2" => 2,
                "'" => 3,
                _ => panic!("{word} is no turn"),
            };
            let amount = cornerwise::cube::Amount::from_quarters(quarters).expect("not nothing");
            FaceTurn { centre: hold.colour(face), amount }
        })
        .collect()
}

/// `tests/data/f2l-pair-lengths.tsv` says where it comes from. Each row gives a position of the last pair, its
/// least number of half-turn-metric turns, and a solution; the solution played backward makes the position.
#[test]
fn the_150_positions_of_the_last_pair() {
    let table = include_str!("../../data/f2l-pair-lengths.tsv");
    let hold = Hold::START;
    let cross = hold.colour(Face::D);
    let sides = [Face::F, Face::R].map(|face| hold.colour(face));
    let pair = Pair::all(cross)
        .into_iter()
        .find(|pair| sides.iter().all(|side| pair.sides().contains(side)))
        .expect("the slot in front on the right");
    let mut rows = 0;
    let mut by_length = [0; 10];
    for row in table.lines().filter(|line| line.starts_with(|c: char| c.is_ascii_digit())) {
        let columns: Vec<&str> = row.split('\t').collect();
        let &[_, _, _, corner_place, corner_down, edge_place, edge_front, length, solution] =
            columns.as_slice()
        else {
            panic!("nine columns: {row}")
        };
        let solution = turned(solution, hold);
        let state = solution.iter().rev().fold(State::SOLVED, |state, turn| state.turned(turn.inverse()));
        // The position is the one the row tells of.
        let faces = |text: &str| -> std::collections::BTreeSet<char> { text.chars().collect() };
        let named = |faces: &[Face]| faces.iter().map(|face| format!("{face:?}")).collect::<String>();
        let corner = state.corner(pair.corner);
        assert_eq!(faces(&named(&corner.place().faces(hold))), faces(corner_place), "{row}");
        let side = corner.side_of(pair.corner, cross).expect("it has the cross colour");
        assert_eq!(format!("{:?}", hold.face(side)), corner_down, "{row}");
        let edge = state.edge(pair.edge);
        assert_eq!(faces(&named(&edge.place().faces(hold))), faces(edge_place), "{row}");
        let side = edge.side_of(pair.edge, hold.colour(Face::F)).expect("it has the front colour");
        assert_eq!(format!("{:?}", hold.face(side)), edge_front, "{row}");

        let length: usize = length.parse().expect("a length");
        assert_eq!(shortest(&state, cross, pair, Kind::Every, 10), Some(length), "{row}");
        if length > 0 {
            assert_eq!(shortest(&state, cross, pair, Kind::Every, length - 1), None);
            let lines = shortest_lines(&state, cross, pair, Kind::Every, 10);
            assert!(lines.iter().any(|line| {
                line.turns() == solution || {
                    // The table may order commuting neighbours otherwise.
                    let mut theirs = solution.clone();
                    let mut ours = line.turns().to_vec();
                    theirs.sort();
                    ours.sort();
                    theirs == ours
                }
            }));
            assert!(lines.iter().all(|line| line.turns().len() == length));
        }
        by_length[length] += 1;
        rows += 1;
    }
    assert_eq!(rows, 150);
    assert_eq!(by_length, [1, 0, 0, 6, 10, 4, 27, 67, 32, 3], "check-values, section 7b");
}

/// Every position of the last pair has a hand line, none shorter than the shortest of all, and that is what
/// it is claimed to be.
#[test]
fn hand_lines_of_the_last_pair() {
    let table = include_str!("../../data/f2l-pair-lengths.tsv");
    let cross = Colour::Yellow;
    let mut by_length = [0; 11];
    for row in table.lines().filter(|line| line.starts_with(|c: char| c.is_ascii_digit())).skip(1) {
        let columns: Vec<&str> = row.split('\t').collect();
        let state = turned(columns[8], Hold::START)
            .iter()
            .rev()
            .fold(State::SOLVED, |state, turn| state.turned(turn.inverse()));
        let pair = Pair::all(cross).into_iter().find(|&pair| !state.pair_solved(pair)).expect("an open pair");
        let lines = shortest_lines(&state, cross, pair, Kind::Hand, 12);
        let length = shortest(&state, cross, pair, Kind::Hand, 12).expect("a hand line");
        assert!(!lines.is_empty());
        for line in &lines {
            assert_eq!(line.turns().len(), length);
            assert!(slow_grammar::is_hand_line(line.turns(), Hold::START));
            let end = line.end(state);
            assert!(end.cross_solved(cross) && Pair::all(cross).iter().all(|&pair| end.pair_solved(pair)));
        }
        by_length[length] += 1;
    }
    // Own numbers, with nothing outside to hold them against: they are here to be noticed if they change.
    assert_eq!(by_length, [0, 0, 0, 6, 10, 0, 13, 61, 54, 2, 3]);
}

/// For each pair, the least number of turns after which it, the cross and the pairs solved at the start are
/// solved, by trying every sequence of at most `bound` turns.
fn tried(state: &State, cross: Colour, bound: usize, hand: bool) -> [Option<usize>; 4] {
    struct Trial {
        goal: slow_model::Goal,
        kept: u8,
        hold: Option<Hold>,
        best: [Option<usize>; 4],
    }
    fn extend(trial: &mut Trial, state: &State, turns: &mut Vec<FaceTurn>, left: usize) {
        let all_solved = trial.goal.ends(state, 0).map_or(0, |pairs| pairs);
        if all_solved & trial.kept == trial.kept && all_solved != 0 {
            for pair in (0..4).filter(|pair| all_solved >> pair & 1 == 1) {
                if trial.best[pair].is_none_or(|best| turns.len() < best)
                    && trial.hold.is_none_or(|hold| slow_grammar::is_hand_line(turns, hold))
                {
                    trial.best[pair] = Some(turns.len());
                }
            }
        }
        if left == 0 {
            return;
        }
        for turn in FaceTurn::ALL {
            if slow_model::may_follow(turns.last().copied(), turn) {
                turns.push(turn);
                extend(trial, &state.turned(turn), turns, left - 1);
                turns.pop();
            }
        }
    }
    let goal = slow_model::Goal::new(cross);
    let kept = goal.pairs(state);
    let mut trial = Trial { goal, kept, hold: hand.then(|| order_hold(cross)), best: [None; 4] };
    extend(&mut trial, state, &mut Vec::new(), bound);
    trial
        .best
        .iter()
        .enumerate()
        .map(|(pair, &best)| if kept >> pair & 1 == 1 { Some(0) } else { best })
        .collect::<Vec<_>>()
        .try_into()
        .expect("four")
}

#[test]
fn the_shortest_line_of_each_pair_is_that_of_trying_every_sequence() {
    let mut random = Random::new(4);
    for solved in 0..4 {
        let cross = Colour::ALL[solved];
        let state = played(&with_pairs_solved(&mut |below| random.below(below), cross, solved));
        for (kind, hand) in [(Kind::Every, false), (Kind::Hand, true)] {
            let found = Pair::all(cross).map(|pair| shortest(&state, cross, pair, kind, 5));
            assert_eq!(found, tried(&state, cross, 5, hand));
            // What was remembered of a lower bound does not hide what a higher one finds.
            for pair in Pair::all(cross) {
                let far = shortest(&state, cross, pair, kind, 12).expect("twelve turns are enough");
                assert_eq!(shortest(&state, cross, pair, kind, far), Some(far));
                assert_eq!(far == 0, state.pair_solved(pair));
                if far > 0 {
                    assert_eq!(shortest(&state, cross, pair, kind, far - 1), None);
                }
            }
        }
    }
}

/// How far the cross and one given pair are from solved, over all 72,990,720 positions of them.
///
/// Mean 7.976 and worst case 10: discussion thread "2x2x2, X-cross and 3x2x2 move count?", 29 May 2009. The row
/// is a computation of our own, made before this code (check values, section 6).
#[test]
fn the_cross_with_a_given_pair() {
    if !switch::slow() {
        return;
    }
    let cross = Colour::Yellow;
    let table = slow_model::CrossAndPair::new(cross, 0);
    let row = table.row();
    assert_eq!(row, [1, 15, 172, 1950, 21535, 220368, 1989591, 13431990, 40963892, 16325184, 36022]);
    let total: usize = row.iter().sum();
    let sum: usize = row.iter().enumerate().map(|(distance, count)| distance * count).sum();
    assert_eq!(total, 72_990_720);
    assert!((sum as f64 / total as f64 - 7.97572).abs() < 5e-6);

    // And the search, which has no such table, tells the same distances of single positions.
    let mut random = Random::new(10);
    for _ in 0..40 {
        let state = played(&random.sequence(&FaceTurn::ALL, 4, 20));
        let distance = table.distance(&state);
        let keeps_nothing_else = Pair::all(cross)[1..].iter().all(|&pair| !state.pair_solved(pair));
        if keeps_nothing_else && distance <= 8 {
            assert_eq!(shortest(&state, cross, Pair::all(cross)[0], Kind::Every, 8), Some(distance));
        }
    }
}

#[test]
fn distances_of_the_cross_agree_with_scipy() {
    let mut random = Random::new(190_080);
    let mut input = String::new();
    for _ in 0..3000 {
        let cross = random.pick(&Colour::ALL);
        let turns = random.sequence(&FaceTurn::ALL, 0, 20);
        let words: Vec<String> = turns
            .iter()
            .map(|&turn| {
                let (face, quarters) = slow_grammar::letter(turn, Hold::START);
                format!("{face}{}", ["", "2", "'"][usize::from(quarters) - 1])
            })
            .collect();
        let face = Hold::START.face(cross);
        let distance = cross_distance(&played(&turns), cross);
        input += &format!("{face:?}\t{}\t{distance}\n", words.join(" "));
    }
    let Some(said) = python::run("cross_distances.py", input) else { return };
    assert!(said.contains("compared 3000 distances of 6 crosses, 190080 states"), "{said}");
    assert!(said.trim_end().ends_with("0 differences"), "{said}");
}

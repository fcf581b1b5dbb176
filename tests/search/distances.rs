//! Distances against tables from outside and against breadth-first search.

use cornerwise::cube::{Colour, Face, FaceTurn, Hold, Pair, State};
use cornerwise::search::{Kind, shortest, shortest_lines};

use crate::slow_grammar;

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
    let table = include_str!("../data/f2l-pair-lengths.tsv");
    let hold = Hold::START;
    let cross = hold.colour(Face::D);
    let sides = [Face::F, Face::R].map(|face| hold.colour(face));
    let index = Pair::all(cross)
        .iter()
        .position(|pair| sides.iter().all(|side| pair.sides().contains(side)))
        .expect("the slot in front on the right");
    let pair = Pair::all(cross)[index];
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
        assert_eq!(shortest(&state, cross, index, Kind::Every, 10), Some(length), "{row}");
        if length > 0 {
            assert_eq!(shortest(&state, cross, index, Kind::Every, length - 1), None);
            let lines = shortest_lines(&state, cross, index, Kind::Every, 10);
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
    let table = include_str!("../data/f2l-pair-lengths.tsv");
    let cross = Colour::Yellow;
    let mut by_length = [0; 11];
    for row in table.lines().filter(|line| line.starts_with(|c: char| c.is_ascii_digit())).skip(1) {
        let columns: Vec<&str> = row.split('\t').collect();
        let state = turned(columns[8], Hold::START)
            .iter()
            .rev()
            .fold(State::SOLVED, |state, turn| state.turned(turn.inverse()));
        let index = (0..4).find(|&i| !state.pair_solved(Pair::all(cross)[i])).expect("an open pair");
        let lines = shortest_lines(&state, cross, index, Kind::Hand, 12);
        let length = shortest(&state, cross, index, Kind::Hand, 12).expect("a hand line");
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

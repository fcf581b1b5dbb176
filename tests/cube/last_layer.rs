//! The 57 orientation and 21 permutation cases against their table, from every hold and with every turn of
//! the last layer before and after; their exact chances by enumeration; how they mirror and invert.

use std::collections::{HashMap, HashSet};

use crate::support::cases;
use crate::support::read::{inverse, moves};
use cornerwise::cube::{Amount, Axis, Colour, Face, FaceTurn, Hold, Move, Place, Position, Slice, State};
use cornerwise::steps::cases::{
    OrientationCase, PermutationCase, final_turn, orientation_case, permutation_case,
};

/// No turn of the last layer, then the three there are.
const ADJUSTMENTS: [Option<Amount>; 4] =
    [None, Some(Amount::Quarter), Some(Amount::Half), Some(Amount::Back)];

fn name(state: &State, cross: Colour, orientation: bool) -> String {
    if orientation {
        orientation_case(state, cross).expect("the first two layers are solved").to_string()
    } else {
        permutation_case(state, cross).expect("the last layer is oriented").to_string()
    }
}

/// What `moves` make of a solved cube held so.
fn played(hold: Hold, moves: &[Move]) -> State {
    Position { state: State::SOLVED, hold }.after(moves.iter().copied()).state
}

#[test]
fn every_algorithm_solves_the_case_it_is_listed_under_from_all_holds_and_adjustments() {
    let table = cases::all();
    assert_eq!(table.iter().filter(|case| case.orientation).count(), 58);
    assert_eq!(table.iter().filter(|case| !case.orientation).count(), 22);
    for case in &table {
        for hold in Hold::ALL {
            for before in ADJUSTMENTS {
                for after in ADJUSTMENTS {
                    let turn = |amount: Option<Amount>| amount.map(|amount| Move::Turn(Face::U, amount));
                    let mut makes: Vec<Move> = turn(before).into_iter().collect();
                    makes.extend(inverse(&case.algorithm));
                    makes.extend(turn(after));
                    let state = played(hold, &makes);
                    let cross = hold.colour(Face::D);
                    assert_eq!(name(&state, cross, case.orientation), case.name, "{hold:?} {makes:?}");
                }
            }
        }
    }
}

/// Every state of a cube whose first two layers are solved, yellow cross down: the closure of the solved cube
/// under a few algorithms.
fn last_layer_states() -> HashSet<State> {
    let generators: Vec<Vec<Move>> =
        ["U", "R U R' U R U2 R'", "F R U R' U' F'", "R U R' U' R' F R2 U' R' U' R U R' F'"]
            .map(moves)
            .to_vec();
    let mut reached = HashSet::from([State::SOLVED]);
    let mut new = vec![State::SOLVED];
    while let Some(state) = new.pop() {
        for generator in &generators {
            let next = Position { state, hold: Hold::START }.after(generator.iter().copied()).state;
            if reached.insert(next) {
                new.push(next);
            }
        }
    }
    reached
}

#[test]
fn classes_have_their_exact_chances_by_enumeration() {
    let states = last_layer_states();
    // The order of the last-layer subgroup (thread "3x3 last layer: number of positions", 2009).
    assert_eq!(states.len(), 62_208);

    let mut orientations: HashMap<String, usize> = HashMap::new();
    let mut permutations: HashMap<String, usize> = HashMap::new();
    let (mut by_edges, mut by_corners) = ([0; 5], [0; 5]);
    for state in &states {
        let case = orientation_case(state, Colour::Yellow).expect("first two layers solved");
        *orientations.entry(case.to_string()).or_default() += 1;
        by_edges[case.oriented_edges()] += 1;
        by_corners[case.oriented_corners()] += 1;
        let permutation = permutation_case(state, Colour::Yellow);
        assert_eq!(permutation.is_some(), case == OrientationCase::SOLVED);
        if let Some(permutation) = permutation {
            *permutations.entry(permutation.to_string()).or_default() += 1;
        }
    }
    assert_eq!((orientations.len(), permutations.len()), (58, 22));
    for case in cases::all() {
        // 216 orientations and 288 permutations (common practice), each as often as any other.
        let (found, of) = if case.orientation { (&orientations, 62_208) } else { (&permutations, 288) };
        assert_eq!(found[&case.name] * case.chance.1, case.chance.0 * of, "{}", case.name);
    }
    // Common practice: no edge turned over in 1 of 8, two in 3 of 4; all corners untwisted in 1 of 27.
    assert_eq!(by_edges.map(|n| n / 288), [27, 0, 162, 0, 27]);
    assert_eq!(by_corners.map(|n| n / 288), [48, 64, 96, 0, 8]);
}

#[test]
fn the_table_of_patterns_says_what_the_algorithms_do() {
    for case in cases::all() {
        let start = played(Hold::START, &inverse(&case.algorithm));
        if case.orientation {
            for word in case.pattern.split(' ') {
                let (place, face) = word.split_once(':').expect("place:face");
                assert_eq!(white_side_at(&start, place).to_string(), face, "{} {place}", case.name);
            }
            continue;
        }
        // Pieces move as the algorithm and the turn after it move them.
        let auf = case.shape_or_auf.strip_prefix("AUF after: ").expect("a turn").replace("none", "");
        let mut algorithm = case.algorithm.clone();
        algorithm.extend(moves(&auf));
        let end = played(Hold::START, &algorithm);
        let cycles: Vec<Vec<&str>> = case
            .pattern
            .split(['(', ')'])
            .map(|part| part.split(' ').filter(|word| word.starts_with('U')).collect())
            .collect();
        for place in ["UBL", "UBR", "UFR", "UFL", "UB", "UR", "UF", "UL"] {
            let to = cycles.iter().find_map(|cycle| {
                let at = cycle.iter().position(|&p| p == place)?;
                Some(cycle[(at + 1) % cycle.len()])
            });
            assert_eq!(place_of_piece_from(&end, place), to.unwrap_or(place), "{} {place}", case.name);
        }
    }
}

/// The faces of a place, by its letters.
fn faces(place: &str) -> Vec<Face> {
    place
        .chars()
        .map(|c| Face::ALL.into_iter().find(|face| face.to_string() == c.to_string()).unwrap())
        .collect()
}

/// In the scramble's hold, the face on which the piece at `place` shows white.
fn white_side_at(state: &State, place: &str) -> Face {
    let position = Position { state: *state, hold: Hold::START };
    // Rows of U are seen with B at the top, rows of the sides with U at the top.
    let (on_top, sides): (usize, &[(Face, usize)]) = match place {
        "UBL" => (0, &[(Face::B, 2), (Face::L, 0)]),
        "UB" => (1, &[(Face::B, 1)]),
        "UBR" => (2, &[(Face::B, 0), (Face::R, 2)]),
        "UL" => (3, &[(Face::L, 1)]),
        "UR" => (5, &[(Face::R, 1)]),
        "UFL" => (6, &[(Face::F, 0), (Face::L, 2)]),
        "UF" => (7, &[(Face::F, 1)]),
        "UFR" => (8, &[(Face::F, 2), (Face::R, 0)]),
        _ => panic!("no such place: {place}"),
    };
    let all = std::iter::once((Face::U, on_top)).chain(sides.iter().copied());
    let white: Vec<Face> =
        all.filter(|&(face, i)| position.stickers(face)[i] == Colour::White).map(|(face, _)| face).collect();
    assert_eq!(white.len(), 1, "a last-layer piece has one white sticker: {place}");
    white[0]
}

/// Where the piece that is solved at `place` sits in `state`, in the scramble's hold.
fn place_of_piece_from(state: &State, place: &str) -> String {
    use cornerwise::cube::{CornerPlace, EdgePlace};

    match faces(place)[..] {
        [a, b, c] => {
            let corner = CornerPlace::at_faces([a, b, c], Hold::START).expect("a place").owner();
            Place::of_corner(state.corner(corner).place(), Hold::START).to_string()
        }
        [a, b] => {
            let edge = EdgePlace::at_faces([a, b], Hold::START).expect("a place").owner();
            Place::of_edge(state.edge(edge).place(), Hold::START).to_string()
        }
        _ => panic!("no such place: {place}"),
    }
}

/// The sequence as seen in a mirror that swaps left and right.
fn mirrored(moves: &[Move]) -> Vec<Move> {
    let face = |face| match face {
        Face::R => Face::L,
        Face::L => Face::R,
        other => other,
    };
    let mirror = |mv| match mv {
        Move::Turn(f, amount) => Move::Turn(face(f), amount.inverse()),
        Move::Wide(f, amount) => Move::Wide(face(f), amount.inverse()),
        Move::Slice(Slice::M, _) | Move::Rotation(Axis::X, _) => mv,
        Move::Slice(slice, amount) => Move::Slice(slice, amount.inverse()),
        Move::Rotation(axis, amount) => Move::Rotation(axis, amount.inverse()),
    };
    moves.iter().copied().map(mirror).collect()
}

/// `a` if `b` is the partner of `name` in a list such as `3-4 5-6`, else `name` itself.
fn partner<'a>(pairs: &'a str, name: &'a str) -> &'a str {
    let mut found = pairs.split(' ').filter_map(|pair| {
        let (a, b) = pair.split_once('-').expect("a-b");
        if a == name { Some(b) } else { (b == name).then_some(a) }
    });
    found.next().unwrap_or(name)
}

#[test]
fn mirror_images_and_inverses_are_the_trades() {
    // Structure of the trade's numbering and letters, common practice, no source.
    let mirror_numbers = "3-4 5-6 7-8 9-10 11-12 13-14 15-16 26-27 29-30 31-32 36-38 39-40 41-42 43-44 47-48 \
                          49-50 53-54";
    let mirror_letters = "Aa-Ab Ua-Ub Ga-Gc Gb-Gd Ja-Jb Na-Nb Ra-Rb";
    let inverse_letters = "Aa-Ab Ua-Ub Ga-Gb Gc-Gd";
    for case in cases::all() {
        let image = played(Hold::START, &inverse(&mirrored(&case.algorithm)));
        let pairs = if case.orientation { mirror_numbers } else { mirror_letters };
        assert_eq!(name(&image, Colour::Yellow, case.orientation), partner(pairs, &case.name));
        if !case.orientation {
            let undone = played(Hold::START, &case.algorithm);
            assert_eq!(name(&undone, Colour::Yellow, false), partner(inverse_letters, &case.name));
        }
    }
}

#[test]
fn well_known_algorithms_beside_the_table() {
    // Common practice, no source: the trade knows these cases by these other algorithms, too.
    for (number, algorithm) in [
        ("27", "L' U2 L U L' U L"),
        ("26", "L' U' L U' L' U2 L"),
        ("21", "R U R' U R U' R' U R U2 R'"),
        ("37", "F R U' R' U' R U R' F'"),
        ("43", "f' L' U' L U f"),
        ("44", "f R U R' U' f'"),
    ] {
        let state = played(Hold::START, &inverse(&moves(algorithm)));
        assert_eq!(name(&state, Colour::Yellow, true), number, "{algorithm}");
    }
    for (letter, algorithm) in [
        ("Ua", "M2 U M U2 M' U M2"),
        ("Ub", "M2 U' M U2 M' U' M2"),
        ("Aa", "R' F R' B2 R F' R' B2 R2"),
        ("Jb", "R U2 R' U' R U2 L' U R' U' L"),
        ("Y", "F R' F R2 U' R' U' R U R' F' R U R' U' F'"),
        ("Z", "M2 U M2 U M' U2 M2 U2 M'"),
    ] {
        let state = played(Hold::START, &inverse(&moves(algorithm)));
        assert_eq!(name(&state, Colour::Yellow, false), letter, "{algorithm}");
    }
}

#[test]
fn names_and_shapes_are_those_of_the_table() {
    let table = cases::all();
    for (case, row) in OrientationCase::all().zip(table.iter().filter(|case| case.orientation)) {
        assert_eq!(case.to_string(), row.name);
        assert_eq!(case.shape().unwrap_or("solved"), row.shape_or_auf, "{case}");
    }
    for (case, row) in PermutationCase::all().zip(table.iter().filter(|case| !case.orientation)) {
        assert_eq!(case.to_string(), row.name);
    }
}

#[test]
fn nothing_is_named_while_the_first_two_layers_are_open() {
    for turn in FaceTurn::ALL {
        let state = State::SOLVED.turned(turn);
        for cross in Colour::ALL {
            let last_layer_turn = turn.centre == cross.opposite();
            assert_eq!(orientation_case(&state, cross).is_some(), last_layer_turn);
            let expected = last_layer_turn.then_some(PermutationCase::Solved);
            assert_eq!(permutation_case(&state, cross), expected);
            assert_eq!(final_turn(&state, cross), last_layer_turn.then_some(turn.inverse()));
        }
    }
    assert_eq!(final_turn(&State::SOLVED, Colour::White), None);
    let two_turns = played(Hold::START, &moves("U D"));
    assert_eq!(final_turn(&two_turns, Colour::White), None);
    let twisted = played(Hold::START, &moves("R U R' U R U2 R'"));
    assert_eq!(permutation_case(&twisted, Colour::Yellow), None);
}

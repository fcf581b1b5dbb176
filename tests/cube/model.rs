//! The fast cube against the slow and obvious one of `support/space.rs`: stickers, places, what is solved, tiers.

use crate::support::random::Random;
use crate::support::read::inverse;
use crate::support::space::{self, Space};
use cornerwise::cube::{Amount, Colour, Corner, Edge, Face, Move, Pair, Place, Position};

use cornerwise::replay::Replay;
use cornerwise::scan;

/// Holds everything that can be asked of a position against the stickers in space.
fn assert_same(position: &Position, space: &Space, played: &[Move]) {
    for face in Face::ALL {
        assert_eq!(position.stickers(face), space.face(face), "{face} after {played:?}");
        assert_eq!(position.hold.colour(face), space.face(face)[4], "centre of {face} after {played:?}");
    }
    for corner in Corner::ALL {
        let (colours, at) = (corner.colours(), position.state.corner(corner));
        assert_eq!(
            Place::of_corner(at.place(), position.hold).to_string(),
            space.place(&colours),
            "{colours:?}, {played:?}"
        );
        assert_eq!(
            position.state.corner_solved(corner),
            space.is_solved(&colours),
            "{colours:?}, {played:?}"
        );
        for colour in colours {
            let side = at.side_of(corner, colour).expect("one of its colours");
            assert_eq!(position.hold.face(side), space.side(&colours, colour), "{colours:?}, {played:?}");
        }
    }
    for edge in Edge::ALL {
        let (colours, at) = (edge.colours(), position.state.edge(edge));
        assert_eq!(
            Place::of_edge(at.place(), position.hold).to_string(),
            space.place(&colours),
            "{colours:?}, {played:?}"
        );
        assert_eq!(position.state.edge_solved(edge), space.is_solved(&colours), "{colours:?}, {played:?}");
        for colour in colours {
            let side = at.side_of(edge, colour).expect("one of its colours");
            assert_eq!(position.hold.face(side), space.side(&colours, colour), "{colours:?}, {played:?}");
        }
    }
}

/// Random triggers, each a quarter turn of a side, a turn of the top layer and the side turned back (a half
/// turn would lift a cross edge into the top layer), with rotations about the upright axis between: a walk on which the cross stays solved and pairs come and go.
fn cross_keeping_walk(random: &mut Random, triggers: usize) -> Vec<Move> {
    let mut walk = Vec::new();
    for _ in 0..triggers {
        let face = random.pick(&[Face::R, Face::L, Face::F, Face::B]);
        let side = Move::Turn(face, random.pick(&[Amount::Quarter, Amount::Back]));
        let top = Move::Turn(Face::U, random.pick(&Amount::ALL));
        walk.extend([side, top, side.inverse()]);
        if random.below(3) == 0 {
            walk.push(Move::Rotation(cornerwise::cube::Axis::Y, random.pick(&Amount::ALL)));
        }
    }
    walk
}

#[test]
fn every_move_alone_and_every_two_moves() {
    for first in Move::ALL {
        for second in Move::ALL {
            let played = [first, second];
            assert_same(&Position::SOLVED.after(played), &Space::played(&played), &played);
        }
    }
}

#[test]
fn random_sequences_of_every_kind_of_move() {
    let mut random = Random::new(1);
    for _ in 0..1_500 {
        let played = random.sequence(&Move::ALL, 3, 40);
        assert_same(&Position::SOLVED.after(played.iter().copied()), &Space::played(&played), &played);
    }
}

#[test]
fn solved_crosses_and_pairs_of_all_six_colours() {
    let mut random = Random::new(2);
    let (mut crosses, mut pairs) = (0, [0; 5]);
    for _ in 0..400 {
        let mut played = random.sequence(&Move::ALL[36..], 0, 3);
        let triggers = random.below(4);
        played.extend(cross_keeping_walk(&mut random, triggers));
        let position = Position::SOLVED.after(played.iter().copied());
        let space = Space::played(&played);
        for cross in Colour::ALL {
            let solved = position.state.cross_solved(cross);
            assert_eq!(solved, space.cross_is_solved(cross), "{cross} cross after {played:?}");
            crosses += usize::from(solved);
            let mut sides: Vec<[Colour; 2]> = Vec::new();
            let mut count = 0;
            for pair in Pair::all(cross) {
                let solved = position.state.pair_solved(pair);
                assert_eq!(solved, space.pair_is_solved(cross, pair.sides()), "{pair} after {played:?}");
                count += usize::from(solved);
                let mut both = pair.sides();
                both.sort();
                sides.push(both);
            }
            pairs[count] += 1;
            sides.sort();
            assert_eq!(sides, space::pairs_of(cross), "the pairs of {cross}");
        }
    }
    // The walk must not only have met unsolved ones.
    assert!(crosses > 200, "{crosses}");
    assert!(pairs.iter().all(|&n| n > 20), "{pairs:?}");
}

#[test]
fn tiers_are_those_of_the_definition() {
    let mut random = Random::new(3);
    let mut met = std::collections::BTreeMap::new();
    for _ in 0..300 {
        let before = random.sequence(&Move::ALL, 0, 25);
        let step = random.sequence(&Move::ALL, 1, 8);
        let all = [before.clone(), step].concat();
        let (from, to) =
            (Position::SOLVED.after(before.iter().copied()), Position::SOLVED.after(all.iter().copied()));
        let (slow_from, slow_to) = (Space::played(&before), Space::played(&all));
        for cross in Colour::ALL {
            let pairs = Pair::all(cross);
            // Any set of slots will do, none (as for the cross step) included.
            let filled: Vec<Pair> = pairs.into_iter().filter(|_| random.below(3) == 0).collect();
            let slots: Vec<[Colour; 2]> = filled.iter().map(|pair| pair.sides()).collect();
            for next in pairs {
                let fast = scan::tier(next.corner, cross, &filled, &from.state, &to.state);
                let slow = space::tier(&slow_from, &slow_to, cross, next.sides(), &slots);
                assert_eq!(format!("{fast:?}").to_lowercase(), slow, "{next} of {cross} after {before:?}");
                *met.entry(fast).or_insert(0) += 1;
            }
        }
    }
    assert!(met.len() == 4 && met.values().all(|&n| n > 100), "{met:?}");
}

/// Design section 5: at a step boundary, if no open corner is up, then all four corners of the top layer
/// belong to the last layer, so every open slot holds a corner of an open pair.
#[test]
fn with_no_open_corner_up_every_open_slot_holds_an_open_corner() {
    let mut random = Random::new(4);
    let (mut positions, mut none_up) = (0, 0);
    while positions < 10_000 {
        let start = Position::SOLVED.after(random.sequence(&Move::ALL[45..], 0, 2));
        let cross = start.hold.colour(Face::D);
        let triggers = 1 + random.below(12);
        let state = start.after(cross_keeping_walk(&mut random, triggers)).state;
        assert!(state.cross_solved(cross));
        let open: Vec<Pair> = Pair::all(cross).into_iter().filter(|&pair| !state.pair_solved(pair)).collect();
        positions += 1;
        if open.iter().any(|pair| scan::is_up(&state, pair.corner, cross)) {
            continue;
        }
        none_up += 1;
        for place in cornerwise::cube::CornerPlace::ALL {
            let here = state.corner_in(place);
            if place.touches(cross.opposite()) {
                assert!(!here.has(cross), "{here:?} is up in {state:?}");
            } else if open.iter().any(|pair| pair.corner.home() == place) {
                assert!(open.iter().any(|pair| pair.corner == here), "{here:?} is down in {state:?}");
            }
        }
    }
    assert!(none_up > 200, "only {none_up} positions had no open corner up");
}

#[test]
fn undoing_and_cutting_change_nothing() {
    let mut random = Random::new(5);
    for _ in 0..500 {
        let scramble = random.sequence(&Move::ALL, 0, 25);
        let solution = random.sequence(&Move::ALL, 0, 60);
        let whole = Replay::new(scramble.iter().copied(), solution.iter().copied());
        assert_eq!(whole.moments.len(), solution.len() + 1);
        let cut = random.below(solution.len() + 1);
        let first = Replay::new(scramble.iter().copied(), solution[..cut].iter().copied());
        let second = Replay::from_position(*first.end(), solution[cut..].iter().copied());
        let joined: Vec<Position> = first.moments.iter().chain(&second.moments[1..]).copied().collect();
        assert_eq!(joined, whole.moments, "cut at {cut}");
        let back = [&scramble[..], &solution[..]].concat();
        assert_eq!(whole.end().after(inverse(&back)), Position::SOLVED);
    }
}

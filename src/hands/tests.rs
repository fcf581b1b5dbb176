//! Small cases by hand. `tests/hands.rs` holds the room against a plain search over all token sequences.

use super::*;
use crate::cube::{Amount, Axis, Colour, Face, Hold, Move};

const CROSS: Colour = Colour::Yellow;

fn turn(face: Face, quarters: u32) -> Move {
    Move::Turn(face, Amount::from_quarters(quarters).expect("a turn"))
}

fn y(quarters: u32) -> Move {
    Move::Rotation(Axis::Y, Amount::from_quarters(quarters).expect("a turn"))
}

#[track_caller]
fn check(moves: &[Move], cost: &str) -> Vec<Vec<Move>> {
    let turns = turns_of(Hold::START, moves);
    let handling = Handling::new(&turns, CROSS, &Weights::default());
    assert_eq!(handling.cost(Hold::START).to_string(), cost);
    let ways = handling.ways(Hold::START);
    for way in &ways {
        assert_eq!(turns_of(Hold::START, &way.moves).len(), turns.len());
        assert_eq!(way.moves.iter().fold(Hold::START, |hold, mv| mv.resolve(hold).hold), way.hold);
    }
    ways.into_iter().map(|way| way.moves).collect()
}

#[test]
fn tokens_cost_what_the_table_says() {
    check(&[], "0");
    check(&[turn(Face::R, 1), turn(Face::U, 1), turn(Face::R, 3)], "3");
    check(&[turn(Face::R, 2), turn(Face::U, 2), turn(Face::R, 2)], "4.5");
    // `D R U R' D'`: nothing brings the D turns down to less.
    check(&[turn(Face::D, 1), turn(Face::R, 1), turn(Face::U, 1), turn(Face::R, 3), turn(Face::D, 3)], "7");
}

#[test]
fn what_lies_at_the_back_is_played_after_a_rotation() {
    // `B U B'` is `y R U R'` (4.5), never the seven units that its tokens cost.
    let ways = check(&[turn(Face::B, 1), turn(Face::U, 1), turn(Face::B, 3)], "4.5");
    let right = vec![y(1), turn(Face::R, 1), turn(Face::U, 1), turn(Face::R, 3)];
    let left = vec![y(3), turn(Face::L, 1), turn(Face::U, 1), turn(Face::L, 3)];
    assert_eq!(ways, [right, left]);
}

#[test]
fn a_wide_d_saves_half_a_rotation_and_only_where_the_cross_is_whole() {
    // `U F' U' F`, as `d L' U' L` (5) and not as `U y …` (5.5) nor as it stands (6).
    let ways = check(&[turn(Face::U, 1), turn(Face::F, 3), turn(Face::U, 3), turn(Face::F, 1)], "5");
    let wide = Move::Wide(Face::D, Amount::Quarter);
    assert_eq!(ways, [[wide, turn(Face::R, 3), turn(Face::U, 3), turn(Face::R, 1)]]);
    // With `R` out the cross is broken, so the cube cannot be turned until it is back.
    check(&[turn(Face::R, 1), turn(Face::U, 1), turn(Face::F, 3), turn(Face::R, 3)], "5");
}

#[test]
fn a_change_of_hands_counts_whatever_lies_between() {
    check(&[turn(Face::R, 1), turn(Face::L, 1)], "2.5");
    check(&[turn(Face::R, 1), turn(Face::U, 1), turn(Face::F, 1), turn(Face::L, 1)], "5.5");
    // Opposite neighbours in the better order: one change, not three.
    let ways = check(&[turn(Face::R, 1), turn(Face::U, 1), turn(Face::L, 1), turn(Face::R, 3)], "4.5");
    assert_eq!(ways, [[turn(Face::R, 1), turn(Face::U, 1), turn(Face::R, 3), turn(Face::L, 1)]]);
    // With the cross whole the other side can also be brought round, at the cost of a rotation.
    let there_and_back = [turn(Face::R, 1), turn(Face::U, 1), turn(Face::R, 3)];
    let other_side = [turn(Face::L, 3), turn(Face::U, 3), turn(Face::L, 1)];
    check(&[there_and_back, other_side].concat(), "6.5");
}

#[test]
fn a_cross_that_is_not_down_is_brought_down_first() {
    let turns = turns_of(Hold::START, &[turn(Face::R, 1), turn(Face::U, 1), turn(Face::R, 3)]);
    let handling = Handling::new(&turns, CROSS, &Weights::default());
    let over = Hold::START.rotated(Axis::X, Amount::Half);
    assert_eq!(handling.cost(over).to_string(), "5");
    let ways = handling.ways(over);
    assert_eq!(ways.len(), 2, "with x2 on the right, with z2 on the left");
    assert!(ways.iter().all(|way| matches!(way.moves[0], Move::Rotation(_, Amount::Half))));
    let aside = Hold::START.rotated(Axis::X, Amount::Quarter);
    assert_eq!(handling.cost(aside).to_string(), "4.5");
    // Nothing to play is played as the cube is held.
    let nothing = Handling::new(&[], CROSS, &Weights::default());
    for hold in Hold::ALL {
        assert_eq!(nothing.cost(hold).to_string(), "0");
        let ways = nothing.ways(hold);
        assert!(ways.len() == 1 && ways[0].moves.is_empty() && ways[0].hold == hold);
    }
}

/// A record may have ten thousand tokens in one step; the worker threads have two megabytes of stack.
#[test]
fn a_line_of_thousands_of_turns_needs_no_more_stack_than_a_short_one() {
    let once = [turn(Face::R, 1), turn(Face::U, 1), turn(Face::R, 3), turn(Face::U, 3)];
    let turns = turns_of(Hold::START, &once.repeat(2500));
    let played = move || {
        let ways = Handling::new(&turns, CROSS, &Weights::default()).ways(Hold::START);
        ways.into_iter().map(|way| way.moves.len()).collect::<Vec<_>>()
    };
    let small = std::thread::Builder::new().stack_size(128 * 1024).spawn(played).expect("a thread");
    assert_eq!(small.join().expect("no overflow"), [10_000]);
}

#[test]
fn weights_are_read_back_as_written() {
    for text in ["", "rlu=1.5", "r=1,l=2,b=100", " half = 0 , switch=0,wide-d=0.5", "bf=3,y=1,y2=1.5"] {
        let weights: Weights = text.parse().expect("good weights");
        assert_eq!(weights.to_string().parse(), Ok(weights));
    }
    let weights: Weights = "rlu=1.5,y2=3".parse().expect("good weights");
    assert_eq!((weights.l.halves(), weights.d.halves(), weights.y2.halves()), (3, 4, 6));
}

#[test]
fn every_name_sets_its_own_weight() {
    let weights: Weights =
        "r=1,l=2,u=3,d=4,f=5,b=6,half=7,wide-d=8,y=9,y2=10,switch=11".parse().expect("weights");
    let units = [weights.r, weights.l, weights.u, weights.d, weights.f, weights.b];
    assert_eq!(units.map(HalfUnits::halves), [2, 4, 6, 8, 10, 12]);
    let others = [weights.half, weights.wide_d, weights.y, weights.y2, weights.switch];
    assert_eq!(others.map(HalfUnits::halves), [14, 16, 18, 20, 22]);
    assert_eq!(weights.least().halves(), 2);
    let names = ["r", "l", "u", "d", "f", "b", "wide-d", "y"];
    for cheap in names {
        let units = names.map(|name| format!("{name}={}", if name == cheap { 0.5 } else { 1.5 }));
        let weights: Weights = units.join(",").parse().expect("weights");
        // A rotation is no turn.
        let least = if cheap == "y" { 3 } else { 1 };
        assert_eq!(weights.least().halves(), least, "{cheap}");
    }
}

#[test]
fn units_are_read_back_from_a_number() {
    let read = |text: &str| serde_json::from_str::<HalfUnits>(text);
    for halves in [0, 1, 5, -3] {
        let units = HalfUnits::from_halves(halves);
        let written = serde_json::to_string(&units).expect("a number");
        assert_eq!(read(&written).expect("units"), units);
    }
    assert!(
        read("2.3").expect_err("no half").to_string().starts_with("expected a multiple of 0.5, found 2.3")
    );
}

/// The quick bound is none above what a line costs in any hold, and is the cost where every turn is as cheap as it can be.
#[test]
fn at_least_is_at_most_the_cost() {
    let faces = [Face::R, Face::U, Face::L, Face::F, Face::D, Face::B];
    let weights: Weights = "r=1,l=1.5,u=1,d=2.5,f=2,b=4,half=0.5,wide-d=0.5".parse().expect("weights");
    let mut met = 0;
    for n in 0..6_usize.pow(3) * 3 {
        let at = |k: u32| n / 6_usize.pow(k) % 6;
        let quarters = |k: usize| (n / 7 + k) as u32 % 3 + 1;
        let moves = [
            turn(faces[at(0)], quarters(0)),
            turn(faces[at(1)], quarters(1)),
            turn(faces[at(2)], quarters(2)),
        ];
        for weights in [&weights, &Weights::default()] {
            let turns = turns_of(Hold::START, &moves);
            let bound = at_least(&turns, CROSS, weights);
            let handling = Handling::new(&turns, CROSS, weights);
            let least = Hold::ALL.into_iter().map(|hold| handling.cost(hold)).min().expect("holds");
            assert!(bound <= least, "{moves:?}: {bound} and {least}");
            met += usize::from(bound == least);
        }
    }
    assert!(met > 100, "{met}");
    let bound = |moves: &[Move], weights: &Weights| {
        at_least(&turns_of(Hold::START, moves), CROSS, weights).to_string()
    };
    assert_eq!(bound(&[turn(Face::R, 1), turn(Face::U, 1), turn(Face::R, 3)], &weights), "2.5");
    // A half turn of the top cannot be a wide one, and costs its half besides; the layer of the cross has a price of its own.
    assert_eq!(bound(&[turn(Face::R, 2), turn(Face::U, 2), turn(Face::D, 1)], &weights), "5.5");
    assert_eq!(bound(&[], &weights), "0");
}

#[test]
fn bad_weights_say_what_was_expected_and_where() {
    let refused = |text: &str| {
        let error = text.parse::<Weights>().expect_err("bad weights");
        format!("{} {error}", &text[error.span()])
    };
    insta::assert_snapshot!(refused("b"), @"b `b`: expected what it is and its units, as in `b=3`");
    insta::assert_snapshot!(refused("y=2, x = 1"), @"x = 1 `x = 1`: expected faces (of r l u d f b), half, wide-d, y, y2 or switch before the `=`");
    insta::assert_snapshot!(refused("rr=1"), @"rr=1 `rr=1`: this is set already, earlier in the list");
    insta::assert_snapshot!(refused("rlu=1,u=2"), @"u=2 `u=2`: this is set already, earlier in the list");
    insta::assert_snapshot!(refused("b=0"), @"b=0 `b=0`: expected units from 0.5 to 100 in steps of 0.5");
    insta::assert_snapshot!(refused("half=-1"), @"half=-1 `half=-1`: expected units from 0 to 100 in steps of 0.5");
    insta::assert_snapshot!(refused("b=1.25"), @"b=1.25 `b=1.25`: expected units from 0.5 to 100 in steps of 0.5");
    insta::assert_snapshot!(refused("b=NaN"), @"b=NaN `b=NaN`: expected units from 0.5 to 100 in steps of 0.5");
    insta::assert_snapshot!(refused("=1"), @"=1 `=1`: expected faces (of r l u d f b), half, wide-d, y, y2 or switch before the `=`");
}

#[test]
fn the_same_turns_are_known_in_any_order() {
    let a = turns_of(Hold::START, &[turn(Face::R, 1), turn(Face::L, 1), turn(Face::R, 1), turn(Face::U, 1)]);
    let b = turns_of(Hold::START, &[turn(Face::L, 1), turn(Face::R, 2), y(1), turn(Face::U, 1)]);
    assert_eq!(canonical(&a), canonical(&b));
    let nothing =
        turns_of(Hold::START, &[turn(Face::R, 1), turn(Face::L, 1), turn(Face::R, 3), turn(Face::L, 3)]);
    assert_eq!(nothing, []);
}

#[test]
fn hands_are_read_back_as_written() {
    for (hands, word) in [(Hands::Two, "two"), (Hands::Left, "left"), (Hands::Right, "right")] {
        assert_eq!((hands.to_string().as_str(), word.parse()), (word, Ok(hands)));
    }
    assert_eq!("both".parse::<Hands>(), Err(()));
}

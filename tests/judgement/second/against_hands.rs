//! What turns cost the hands and every way that costs no more, by the library and by trying all ways.

use cornerwise::cube::{Amount, Colour, Face, FaceTurn, Hold, Move};
use cornerwise::hands::{self, HalfUnits, Handling, Weights};

use super::cost::{Table, Turn, amount, merged, ways};
use super::grammar::Grammar;
use super::steps::steps;
use super::stickers::Cube;
use crate::support::random::Random;
use crate::support::switch;

/// The library's name of a turn.
pub fn named(turn: &Turn) -> FaceTurn {
    FaceTurn { centre: turn.centre, amount: amount(turn.quarters) }
}

/// The library's hold of a cube.
fn hold(cube: &Cube) -> Hold {
    Hold::new(cube.centre(Face::U), cube.centre(Face::F)).expect("a hold")
}

/// All 24 ways to hold the cube.
fn holds() -> Vec<Cube> {
    let rotations = Move::ALL.into_iter().filter(|mv| matches!(mv, Move::Rotation(..)));
    let rotations: Vec<Move> = rotations.collect();
    let mut all = vec![Cube::solved()];
    for &a in &rotations {
        for &b in &rotations {
            all.push(Cube::solved().after(&[a, b]));
        }
    }
    all.sort();
    all.dedup();
    assert_eq!(all.len(), 24);
    all
}

fn weights(table: &Table) -> Weights {
    let halves = |n: u32| HalfUnits::from_halves(n as i32);
    Weights {
        r: halves(table.r),
        l: halves(table.l),
        u: halves(table.u),
        d: halves(table.d),
        f: halves(table.f),
        b: halves(table.b),
        half: halves(table.half),
        wide_d: halves(table.wide),
        y: halves(table.spin),
        y2: halves(table.spin_twice),
        switch: halves(table.other_hand),
    }
}

/// Compares cost and ways of some turns from a hold; the number of ways is the outcome.
fn compare(start: &Cube, cross: Colour, turns: &[Turn], table: &Table) -> usize {
    let ours = ways(start, cross, turns, table);
    let theirs: Vec<FaceTurn> = turns.iter().map(named).collect();
    let handling = Handling::new(&theirs, cross, &weights(table));
    let from = hold(start);
    let said = || format!("{cross} cross, {turns:?} from {from:?} with {table:?}");
    assert_eq!(handling.cost(from).halves(), ours[0].cost as i32, "{}: {:?}", said(), ours[0].tokens);
    let end = |tokens: &Vec<Move>| hold(&start.after(tokens));
    let mut ours: Vec<(Vec<Move>, Hold)> =
        ours.iter().map(|way| (way.tokens.clone(), end(&way.tokens))).collect();
    let mut theirs: Vec<(Vec<Move>, Hold)> =
        handling.ways(from).into_iter().map(|way| (way.moves, way.hold)).collect();
    ours.sort();
    theirs.sort();
    assert_eq!(theirs, ours, "{}", said());
    ours.len()
}

fn random_table(random: &mut Random) -> Table {
    let mut some = |most: usize| 1 + random.below(most) as u32;
    Table {
        r: some(4),
        l: some(4),
        u: some(4),
        d: some(6),
        f: some(6),
        b: some(8),
        half: some(3),
        wide: some(6),
        spin: some(5),
        spin_twice: some(7),
        other_hand: some(3),
    }
}

#[test]
fn costs_are_the_same_whatever_is_turned() {
    let mut random = Random::new(super::seed(511));
    let holds = holds();
    let lines = Grammar::new(7).lines();
    let (sequences, mut all_ways) = (if switch::slow() { 12_000 } else { 1_000 }, 0);
    for i in 0..sequences {
        let cross = Colour::ALL[random.below(6)];
        let start = holds[random.below(24)];
        let mut moves: Vec<Move> = Vec::new();
        if i % 4 == 0 {
            // Anything at all: the cross is hardly ever whole on the way.
            moves = random.sequence(&Move::ALL, 1, 9);
        } else {
            // Hand lines one behind another: there the cross is whole in between.
            let upright: Vec<Cube> =
                holds.iter().copied().filter(|cube| cube.centre(Face::D) == cross).collect();
            let held = upright[random.below(4)];
            for _ in 0..1 + random.below(2) {
                let letters = &lines[random.below(lines.len())].letters;
                let written = letters.iter().map(|letter| {
                    let Move::Turn(face, amount) = letter.written() else { unreachable!("a turn") };
                    Move::Turn(start.face_of(held.centre(face)), amount)
                });
                moves.extend(written);
                let layer = start.face_of(super::opposite(cross));
                moves.push(Move::Turn(layer, Amount::ALL[random.below(3)]));
            }
        }
        let turns = merged(&start, &moves);
        if !turns.is_empty() {
            let table = if i % 5 == 0 { random_table(&mut random) } else { Table::default() };
            all_ways += compare(&start, cross, &turns, &table);
        }
        let theirs = hands::merged(&hands::turns_of(hold(&start), &moves));
        assert_eq!(hands::canonical(&theirs), turns.iter().map(named).collect::<Vec<_>>(), "{moves:?}");
    }
    super::say(&format!("hands: {sequences} sequences, {all_ways} ways of least cost"));
}

#[test]
fn costs_are_the_same_on_made_steps() {
    let (mut played, mut all_ways) = (0, 0);
    for step in steps(super::seed(512), if switch::slow() { 1000 } else { 60 }, true) {
        if !step.is_cross {
            let start = step.start();
            // Only the cross and the hold matter.
            let turns = merged(&start, &step.moves);
            all_ways += compare(&start, step.cross, &turns, &Table::default());
            played += 1;
        }
    }
    super::say(&format!("hands: {played} steps, {all_ways} ways of least cost"));
}

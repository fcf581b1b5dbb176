//! The step splitting against its definition (docs/method.md, Steps), read off the stickers in space.

use std::collections::BTreeMap;

use crate::support::random::Random;
use crate::support::rewrite::{kinds_of_solve, rewritten};
use crate::support::slow_steps::{Slow, slow_split};
use crate::support::solver::{self, Options, Rng, Solver};
use cornerwise::cube::{Amount, Axis, Colour, Face, Move, Moves, Position};
use cornerwise::replay::Replay;
use cornerwise::steps::cases::{orientation_case, permutation_case};
use cornerwise::steps::{End, Kind, split};

#[track_caller]
fn assert_same(scramble: &[Move], solution: &[Move]) {
    let fast = split(&Replay::new(scramble.iter().copied(), solution.iter().copied()));
    let (cross, steps) = slow_split(scramble, solution);
    let written = || format!("{}\n{}", Moves::of(scramble), Moves::of(solution));
    assert_eq!(fast.cross, Some(cross), "{}", written());
    let found: Vec<Slow> = fast
        .steps
        .iter()
        .map(|step| {
            let mut pairs: Vec<[Colour; 2]> = step.pairs.iter().map(|pair| pair.sides()).collect();
            pairs.iter_mut().for_each(|pair| pair.sort());
            pairs.sort();
            (step.kind, step.to, pairs)
        })
        .collect();
    assert_eq!(found, steps, "{}", written());
    let starts: Vec<usize> = fast.steps.iter().map(|step| step.from).collect();
    let ends: Vec<usize> = fast.steps.iter().map(|step| step.to).collect();
    assert_eq!(starts[0], 0);
    assert_eq!(starts[1..], ends[..ends.len() - 1], "each step begins where the one before ended");
}

#[test]
fn made_solves_are_cut_as_the_definition_says() {
    let (mut solver, mut rng, mut random) = (Solver::new(), Rng::new(31), Random::new(31));
    let mut met: BTreeMap<(Kind, usize), usize> = BTreeMap::new();
    for _ in 0..5 {
        for options in kinds_of_solve() {
            let made: solver::Solve = solver.random(&mut rng, &options);
            let plain: Vec<Move> = made.moves().collect();
            let other = rewritten(&mut random, &made.scramble, &plain);
            // As made, in other words, and broken off somewhere in the last layer.
            assert_same(&made.scramble, &plain);
            assert_same(&made.scramble, &other);
            let (_, steps) = slow_split(&made.scramble, &other);
            let done = steps.iter().filter(|step| step.0 == Kind::Pair).map(|step| step.1).max();
            let done = done.unwrap_or(steps[steps.len() - 1].1);
            let cut = done + random.below(other.len() - done + 1);
            assert_same(&made.scramble, &other[..cut]);
            // And with turns after it that undo it again.
            let mut on = other.clone();
            on.extend([Move::Turn(Face::R, Amount::Quarter), Move::Rotation(Axis::Y, Amount::Half)]);
            assert_same(&made.scramble, &on);
            for step in steps {
                *met.entry((step.0, step.2.len())).or_default() += 1;
            }
        }
    }
    for kind in [(Kind::Cross, 0), (Kind::Cross, 1), (Kind::Pair, 1), (Kind::Pair, 2), (Kind::Adjust, 0)] {
        assert!(met.contains_key(&kind), "no {kind:?} among {met:?}");
    }
}

#[test]
fn a_cross_that_the_scramble_leaves_solved_ends_with_the_inspection() {
    let (mut solver, mut rng, mut random) = (Solver::new(), Rng::new(33), Random::new(33));
    for _ in 0..10 {
        // Triggers keep the yellow cross at the bottom.
        let scramble: Vec<Move> = (0..8)
            .flat_map(|_| {
                let face = random.pick(&[Face::R, Face::L, Face::F, Face::B]);
                let side = Move::Turn(face, random.pick(&[Amount::Quarter, Amount::Back]));
                [side, Move::Turn(Face::U, random.pick(&Amount::ALL)), side.inverse()]
            })
            .collect();
        let options = Options { cross: Some(Colour::Yellow), ..Options::default() };
        let made = solver.solve(&scramble, &mut rng, &options);
        let plain: Vec<Move> = made.moves().collect();
        assert_same(&scramble, &plain);
        // Played after looking at it from elsewhere.
        let mut position = Position::SOLVED.after(scramble.iter().copied());
        let look = [Move::Rotation(Axis::X, Amount::Half), Move::Rotation(Axis::Y, Amount::Quarter)];
        position = position.after(look);
        let mut held = look.to_vec();
        let mut hold = Position::SOLVED.hold;
        for mv in plain {
            held.extend(mv.resolve(hold).turns().map(|t| Move::Turn(position.hold.face(t.centre), t.amount)));
            hold = mv.resolve(hold).hold;
        }
        assert_same(&scramble, &held);
    }
}

#[test]
fn the_case_of_a_made_solve_is_the_one_whose_algorithm_was_played() {
    let (mut solver, mut rng) = (Solver::new(), Rng::new(32));
    let mut named = 0;
    for _ in 0..100 {
        let made = solver.random(&mut rng, &Options::default());
        let replay = Replay::new(made.scramble.iter().copied(), made.moves());
        let solve = split(&replay);
        assert_eq!((solve.cross, solve.end), (Some(made.cross), End::Solved), "{made:?}");
        let case_of = |kind| made.steps.iter().find(|step| step.kind == kind).and_then(|s| s.case.clone());
        for step in &solve.steps {
            let state = &replay.moments[step.from].state;
            match step.kind {
                Kind::Orient => {
                    let case = orientation_case(state, made.cross).map(|case| case.to_string());
                    assert_eq!(case, case_of(solver::Kind::Orient));
                }
                Kind::Permute => {
                    let case = permutation_case(state, made.cross).map(|case| case.to_string());
                    assert_eq!(case, case_of(solver::Kind::Permute));
                }
                _ => continue,
            }
            named += 1;
        }
    }
    assert!(named > 150, "{named}");
}

//! The step splitting against its definition (design section 4), read off the stickers in space.

mod support;

use std::collections::BTreeMap;

use cornerwise::cube::{Amount, Axis, Colour, Face, Move, Position};
use cornerwise::replay::Replay;
use cornerwise::steps::cases::{orientation_case, permutation_case};
use cornerwise::steps::{End, Kind, split};
use support::random::Random;
use support::rewrite::{kinds_of_solve, rewritten};
use support::solver::{self, Options, Rng, Solver};
use support::space::{self, Space};

/// A step by the definition: its kind, the moment it ends, the pairs it brings (side colours, sorted).
type Slow = (Kind, usize, Vec<[Colour; 2]>);

/// The steps of a solve that finishes its first two layers, and the colour of its cross.
fn slow_split(scramble: &[Move], solution: &[Move]) -> (Colour, Vec<Slow>) {
    let mut space = Space::played(scramble);
    let mut moments = vec![space.clone()];
    for &mv in solution {
        space.play(mv);
        moments.push(space.clone());
    }
    let last = solution.len();
    let mut steps: Vec<Slow> = Vec::new();

    let inspection = solution.iter().take_while(|mv| matches!(mv, Move::Rotation(..))).count();
    if inspection > 0 {
        steps.push((Kind::Inspection, inspection, Vec::new()));
    }

    // Which pairs are solved at a moment at which the cross is; nothing if it is not.
    let pairs_at = |moment: usize, cross: Colour| -> Option<Vec<[Colour; 2]>> {
        let space: &Space = &moments[moment];
        space.cross_is_solved(cross).then(|| {
            space::pairs_of(cross).into_iter().filter(|&pair| space.pair_is_solved(cross, pair)).collect()
        })
    };
    // The colour whose cross and four pairs are first complete; ties to the earlier cross.
    let (_, _, cross) = Colour::ALL
        .into_iter()
        .filter_map(|colour| {
            let complete = (0..=last).find(|&m| pairs_at(m, colour).is_some_and(|pairs| pairs.len() == 4))?;
            let crossed = (0..=last).find(|&m| pairs_at(m, colour).is_some())?;
            Some((complete, crossed, colour))
        })
        .min()
        .expect("some colour's first two layers are completed");

    let mut at = (inspection..=last).find(|&m| pairs_at(m, cross).is_some()).expect("there is a cross");
    if (0..inspection).any(|m| pairs_at(m, cross).is_some()) {
        at = inspection;
    }
    let mut solved = pairs_at(at, cross).expect("the cross is solved");
    steps.push((Kind::Cross, at, solved.clone()));
    while solved.len() < 4 {
        let superset = |pairs: &Vec<[Colour; 2]>| {
            pairs.len() > solved.len() && solved.iter().all(|pair| pairs.contains(pair))
        };
        let found = (at..=last).find_map(|m| Some((m, pairs_at(m, cross).filter(superset)?)));
        let (moment, now) = found.expect("all four come in");
        let new = now.iter().copied().filter(|pair| !solved.contains(pair)).collect();
        steps.push((Kind::Pair, moment, new));
        (at, solved) = (moment, now);
    }

    let two_layers = |m: usize| pairs_at(m, cross).is_some_and(|pairs| pairs.len() == 4);
    let oriented = |m: usize| two_layers(m) && moments[m].is_uniform(moments[m].face_opposite(cross));
    let permuted = |m: usize| {
        let top = moments[m].face_opposite(cross);
        (0..4).any(|quarters| {
            let mut turned = moments[m].clone();
            (0..quarters).for_each(|_| turned.play(Move::Turn(top, Amount::Quarter)));
            turned.all_faces_are_uniform()
        })
    };
    let solved_at = |m: usize| moments[m].all_faces_are_uniform();
    let orient = (at..=last).find(|&m| oriented(m));
    let permute = orient.and_then(|from| (from..=last).find(|&m| permuted(m)));
    let adjust = permute.and_then(|from| (from..=last).find(|&m| solved_at(m)));
    if orient.is_some_and(|m| m > at) {
        let kind = if permute == orient { Kind::LastLayer } else { Kind::Orient };
        steps.push((kind, orient.expect("just seen"), Vec::new()));
    }
    if permute > orient {
        steps.push((Kind::Permute, permute.expect("it is later"), Vec::new()));
    }
    if adjust > permute {
        steps.push((Kind::Adjust, adjust.expect("it is later"), Vec::new()));
    }
    // Rotations of a solved cube belong to the last step; anything else that is left is the rest.
    let end = steps.last_mut().expect("there is a cross step");
    if end.1 < last {
        if solved_at(last) && solution[end.1..].iter().all(|mv| matches!(mv, Move::Rotation(..))) {
            end.1 = last;
        } else {
            steps.push((Kind::Rest, last, Vec::new()));
        }
    }
    (cross, steps)
}

#[track_caller]
fn assert_same(scramble: &[Move], solution: &[Move]) {
    let fast = split(&Replay::new(scramble.iter().copied(), solution.iter().copied()));
    let (cross, steps) = slow_split(scramble, solution);
    let written =
        || format!("{}\n{}", cornerwise::naming::moves(scramble), cornerwise::naming::moves(solution));
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

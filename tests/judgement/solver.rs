//! The generator of realistic solves keeps its word: what the other tests get from it is what it says.

use crate::support::read;
use crate::support::solver::{Kind, Marks, Options, Rng, Solve, Solver, Style};
use cornerwise::cube::{Colour, Move, Pair, Position, State};

/// Replays turn by turn, as a person would with a cube in hand, and checks every step.
#[track_caller]
fn check(solve: &Solve) {
    let pairs = Pair::all(solve.cross);
    let solved = |state: &State| pairs.map(|pair| state.pair_solved(pair));
    let mut at = Position::SOLVED.after(solve.scramble.iter().copied());
    let mut held = [false; 4];
    for step in &solve.steps {
        assert!(!step.moves.is_empty(), "an empty {:?}", step.kind);
        let first = step.moves.len() - 1;
        for (i, &mv) in step.moves.iter().enumerate() {
            at.play(mv);
            let end = i == first;
            let now = solved(&at.state);
            let cross = at.state.cross_solved(solve.cross);
            match step.kind {
                Kind::Inspection => assert!(mv.is_rotation()),
                Kind::Cross => assert_eq!(cross, end, "the cross is done when it says"),
                Kind::Pair => {
                    let more = cross && (0..4).all(|k| now[k] || !held[k]) && now != held;
                    assert_eq!(more, end, "a pair step ends when a pair comes in");
                }
                _ if end => assert!(cross && now == [true; 4], "the first two layers stay"),
                _ => {}
            }
        }
        if step.kind == Kind::Inspection {
            // A pair the scramble left whole counts only if it still is when the cross is done.
            continue;
        }
        let now = solved(&at.state);
        let new: Vec<Pair> = (0..4).filter(|&k| now[k] && !held[k]).map(|k| pairs[k]).collect();
        assert_eq!(step.pairs, new);
        held = now;
        let top = solve.cross.opposite();
        match step.kind {
            Kind::Orient => assert!(oriented(&at.state, top)),
            Kind::Permute => assert!(nearly(&at.state, top)),
            _ => {}
        }
    }
    assert!(at.state.is_solved(), "solved");
}

fn oriented(state: &State, top: Colour) -> bool {
    use cornerwise::cube::{CornerPlace, EdgePlace};
    let corner = |place| {
        let corner = state.corner_in(place);
        state.corner(corner).shows(corner, top) == Some(top)
    };
    let edge = |place| {
        let edge = state.edge_in(place);
        state.edge(edge).shows(edge, top) == Some(top)
    };
    CornerPlace::ALL.into_iter().all(|place| !place.touches(top) || corner(place))
        && EdgePlace::ALL.into_iter().all(|place| !place.touches(top) || edge(place))
}

fn nearly(state: &State, top: Colour) -> bool {
    use cornerwise::cube::{Amount, FaceTurn};
    state.is_solved()
        || Amount::ALL.iter().any(|&amount| state.turned(FaceTurn { centre: top, amount }).is_solved())
}

#[test]
fn two_hundred_solves_replay_to_solved_with_the_steps_where_they_say() {
    let mut solver = Solver::new();
    let mut rng = Rng::new(1);
    let mut turns = 0;
    for n in 0..200 {
        let options = Options {
            cross: (n % 3 != 0).then(|| Colour::ALL[n % 6]),
            wide: n % 2 == 0,
            looks_ahead: n % 5 != 0,
            cross_on_left: 0.2,
            ..Options::default()
        };
        let solve = solver.random(&mut rng, &options);
        if let Some(cross) = options.cross {
            assert_eq!(solve.cross, cross);
        }
        check(&solve);
        turns += solve.obtm();
    }
    // Cross-first solves of good solvers run from 45 to 65 turns (common practice, no source).
    assert!((50..=62).contains(&(turns / 200)), "{} turns each", turns / 200);
}

#[test]
fn what_is_written_reads_back() {
    let mut solver = Solver::new();
    let mut rng = Rng::new(2);
    for marks in [Marks::None, Marks::Ends, Marks::Both, Marks::Every] {
        for fps in [None, Some(60)] {
            let solve = solver.random(&mut rng, &Options { wide: true, ..Options::default() });
            let style = Style { marks, fps, ..Style::default() };
            let (text, _) = solve.solution(&style, &mut rng);
            let mut moves: Vec<Move> = Vec::new();
            for line in text.lines() {
                let turns = line.split("//").next().expect("a line has a beginning");
                let words: Vec<&str> = turns.split_whitespace().filter(|w| !w.starts_with('<')).collect();
                moves.extend(read::moves(&words.join(" ")));
            }
            assert_eq!(moves, solve.moves().collect::<Vec<_>>());
            assert_eq!(text.contains('<'), marks != Marks::None);
        }
    }
}

#[test]
fn a_solve_written_otherwise_has_the_same_steps() {
    let mut solver = Solver::new();
    let mut rng = Rng::new(4);
    let (mut slices, mut wide) = (0, 0);
    for _ in 0..100 {
        let solve = solver.random(&mut rng, &Options::default());
        let other = solve.respelled(&mut rng);
        check(&other);
        slices += other.moves().filter(|mv| matches!(mv, Move::Slice(..))).count();
        wide += other.moves().filter(|mv| matches!(mv, Move::Wide(..))).count();
        let ends = |solve: &Solve| {
            let mut at = Position::SOLVED.after(solve.scramble.iter().copied());
            let ends = solve.steps.iter().map(|step| {
                at = at.after(step.moves.iter().copied());
                (step.kind, at.state)
            });
            // An inspection may come or go, as it moves no piece.
            ends.filter(|(kind, _)| *kind != Kind::Inspection).collect::<Vec<_>>()
        };
        assert_eq!(ends(&other), ends(&solve));
    }
    assert!(slices > 20 && wide > 500, "{slices} slices, {wide} wide turns");
}

#[test]
fn the_same_seed_gives_the_same_solve() {
    let text = |seed| {
        let mut rng = Rng::new(seed);
        let solve = Solver::new().random(&mut rng, &Options::default());
        solve.plain(&Style::default(), &mut rng)
    };
    assert_eq!(text(7), text(7));
    assert_ne!(text(7), text(8));
}

#[test]
fn wanted_extras_turn_up() {
    let mut solver = Solver::new();
    let mut rng = Rng::new(3);
    let with_cross = Options { xcross: true, ..Options::default() };
    let solves: Vec<Solve> = (0..20).map(|_| solver.random(&mut rng, &with_cross)).collect();
    solves.iter().for_each(check);
    let found = solves.iter().flat_map(|s| &s.steps).any(|s| s.kind == Kind::Cross && !s.pairs.is_empty());
    assert!(found, "an xcross among 20");
    let at_once = Options { two_pairs: true, ..Options::default() };
    let solves: Vec<Solve> = (0..20).map(|_| solver.random(&mut rng, &at_once)).collect();
    solves.iter().for_each(check);
    let found = solves.iter().flat_map(|s| &s.steps).any(|s| s.kind == Kind::Pair && s.pairs.len() > 1);
    assert!(found, "two pairs at once among 20");
}

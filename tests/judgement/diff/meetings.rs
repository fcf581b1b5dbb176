//! Where two solves have the same position again, worked out a slower, obvious way: every moment of the one
//! against every moment of the other, and every claimed meeting replayed by hand.

use cornerwise::annotation::StepKind;
use cornerwise::cube::{Colour, Edge, Face, FaceTurn, Move, Moves, Pair, Position};
use cornerwise::diff::{Comparison, Which};

use super::sides::{File, position, texts, two_solves, written};
use crate::support::read;
use crate::support::solver::{Rng, Solve, Solver};

/// The moves of a record, read apart from the program's own reader.
fn moves_of(text: &str) -> (Vec<Move>, Vec<Move>) {
    let (scramble, solution) = text.split_once("\n\n").expect("plain text");
    (read::moves(scramble), read::moves(solution))
}

/// Every claimed meeting is one: the free turn made on the one gives the other, and it touches nothing solved.
#[track_caller]
fn check(comparison: &Comparison, a: &str, b: &str) -> usize {
    let ((scramble_a, moves_a), (scramble_b, moves_b)) = (moves_of(a), moves_of(b));
    let mut free_turns = 0;
    for meeting in &comparison.meetings {
        let at = |side: usize, scramble: &[Move], moves: &[Move]| position(scramble, &moves[..side]);
        let x: Position = at(meeting.at.a.moment, &scramble_a, &moves_a);
        let y: Position = at(meeting.at.b.moment, &scramble_b, &moves_b);
        // While pairs are open.
        assert!(meeting.solved.len() < 5, "{meeting:?}");
        let Some(free) = &meeting.free_turn else {
            assert_eq!(x.state, y.state, "{meeting:?}");
            continue;
        };
        free_turns += 1;
        let layer = free.layer;
        let Move::Turn(Face::U, amount) = free.top else { panic!("{}", free.top) };
        assert_eq!(x.state.turned(FaceTurn { centre: layer, amount }), y.state, "{meeting:?}");
        // In the hold of the comparison it is the turn as written there.
        let hold = comparison.hold.hold().expect("a hold");
        assert_eq!(Move::Turn(hold.face(layer), amount), free.turn);
        // Nothing solved lies in that layer: the cross is opposite, and so is every pair named.
        assert_eq!(meeting.solved[0], format!("{} cross", layer.opposite()));
        for state in [x.state, y.state] {
            assert!(state.cross_solved(layer.opposite()));
            for pair in Pair::all(layer.opposite()) {
                let named = meeting.solved.contains(&pair.to_string());
                assert!(!named || state.pair_solved(pair), "{meeting:?}");
            }
            for edge in Edge::ALL.into_iter().filter(|edge| edge.has(layer.opposite())) {
                assert!(!state.edge(edge).place().touches(layer));
            }
        }
    }
    free_turns
}

#[test]
fn claimed_meetings_are_meetings_and_none_is_missed() {
    let (mut solver, mut rng) = (Solver::new(), Rng::new(51));
    let (mut n_meetings, mut same_again) = (0, 0);
    for n in 0..80 {
        let (one, other) = two_solves(&mut solver, &mut rng, n);
        let moves = |solve: &Solve| solve.moves().collect::<Vec<_>>();
        let (a, mut b) = (moves(&one), moves(&other));
        if n % 2 == 1 {
            // The same solve with a way round behind one of its steps: `R U R' U'` six times makes nothing (common practice,
            // no source), so they meet there.
            let facts = File::of("one", &written(&one.scramble, &a, false)).facts.remove(0);
            let pairs: Vec<usize> =
                facts.steps.iter().filter(|step| !step.pairs.is_empty()).map(|step| step.to).collect();
            let at = pairs[n / 2 % (pairs.len() - 1)];
            let round = read::moves("R U R' U'").repeat(6);
            b = a[..at].iter().chain(&round).chain(&a[at..]).copied().collect();
        }
        let (text_a, text_b) = (written(&one.scramble, &a, false), written(&one.scramble, &b, false));
        let comparison = texts(&text_a, &text_b);
        check(&comparison, &text_a, &text_b);
        n_meetings += comparison.meetings.len();
        let Some(parting) = &comparison.parting else { continue };
        if comparison.annotations.a.cross != comparison.annotations.b.cross {
            assert_eq!(comparison.meetings, [], "two crosses have no way in common");
            continue;
        }
        // Positions that occur on both sides after the parting and before the last pair is in, by brute force.
        let states = |moves: &[Move], from: usize, which: Which| -> Vec<_> {
            let steps = &comparison.annotations.of(which).steps;
            let last = steps.iter().rfind(|step| !step.pairs.is_empty()).map_or(0, |step| step.to);
            let cross = steps.iter().find(|step| step.kind == StepKind::Cross).map_or(0, |step| step.to);
            (cross.max(from + 1)..last.min(moves.len()))
                .map(|n| position(&one.scramble, &moves[..n]).state)
                .collect()
        };
        let (x, y) = (states(&a, parting.at.a.moment, Which::A), states(&b, parting.at.b.moment, Which::B));
        let met = x.iter().any(|state| y.contains(state));
        if met {
            same_again += 1;
            assert!(!comparison.meetings.is_empty(), "{text_a}{text_b}");
        }
    }
    assert!(n_meetings > 20 && same_again > 20, "{n_meetings} {same_again}");
}

/// `(R U R' U')3` and `(U R U' R')3` are the same, as six of the first make nothing; so without its last turn the
/// first leaves the top a turn off. Nothing between is the same on both ways.
#[test]
fn pairs_that_leave_the_top_turned_otherwise_meet_up_to_that_turn() {
    let rest = "R U R' U' R' F R2 U' R' U' R U R' F'";
    let (first, second) = ("R U R' U' R U R' U' R U R'", "U R U' R' U R U' R' U R U' R'");
    let undo = |text: &str| Moves::of(&read::inverse(&read::moves(text))).to_string();
    // The last pair, still open where they meet.
    let rest = &format!("L' U L {rest}");
    let scramble = format!("x2 {} {}", undo(rest), undo(second));
    let a = format!("{scramble}\n\n{first} U' {rest}\n");
    let b = format!("{scramble}\n\n{second} {rest}\n");
    for (one, other, top, turn) in [(&a, &b, "U'", "U'"), (&b, &a, "U", "U")] {
        let comparison = texts(one, other);
        assert!(comparison.annotations.a.solved && comparison.annotations.b.solved);
        assert_eq!(check(&comparison, one, other), 1);
        // From there on both do the same, so there is one meeting up to the end.
        let [meeting] = comparison.meetings.as_slice() else { panic!("{:?}", comparison.meetings) };
        let free = meeting.free_turn.as_ref().expect("the top is a turn off");
        assert_eq!((free.top.to_string(), free.turn.to_string()), (top.into(), turn.into()));
        assert_eq!(free.layer, Colour::Yellow);
        assert!(meeting.solved.len() < 5 && meeting.to_end);
        let mut moments = [meeting.at.a.moment, meeting.at.b.moment];
        moments.sort();
        assert_eq!(moments, [11, 12]);
        assert_eq!(comparison.parting.as_ref().map(|parting| parting.turns), Some(0));
    }
}

/// The second side turns the top as it likes before its next pair: they part there, and are together again as soon
/// as both have left that layer alone.
#[test]
fn turns_of_the_free_layer_alone_are_a_parting_and_a_meeting() {
    // Before the last layer is solved by `rest`, so that the cross below is the one that comes first.
    let rest = "R U R' U' R' F R2 U' R' U' R U R' F'";
    let scramble = format!("x2 {rest} R U R' U' F' U' F");
    let a = format!("{scramble}\n\nF' U F U R U' R' {rest}\n");
    let b = format!("{scramble}\n\nF' U F U2 U' R U' R' {rest}\n");
    let comparison = texts(&a, &b);
    assert!(comparison.annotations.a.solved && comparison.annotations.b.solved);
    assert_eq!(comparison.parting.as_ref().map(|parting| parting.turns), Some(3));
    let [meeting] = comparison.meetings.as_slice() else { panic!("{:?}", comparison.meetings) };
    assert_eq!((meeting.at.a.moment, meeting.at.b.moment), (5, 6));
    assert!(meeting.to_end && meeting.free_turn.is_none());
    assert!(comparison.different);
    assert_eq!(comparison.difference.obtm, 1);
}

/// Before the cross is done no layer is free: positions a turn apart are not the same.
#[test]
fn no_layer_is_free_before_the_cross_is_done() {
    let a = "F R D2 L B\n\nB' L' D2 R' F'\n";
    let b = "F R D2 L B\n\nU B' L' D2 R' F'\n";
    let comparison = texts(a, b);
    assert_eq!(check(&comparison, a, b), 0);
    assert_eq!(comparison.meetings, []);
}

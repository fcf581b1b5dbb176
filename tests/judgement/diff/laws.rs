//! Laws: a solve does not differ from itself, however it is held and written; sides can be swapped.

use cornerwise::cube::{Hold, Move, Moves};
use cornerwise::diff::{self, Comparison, FreeTurn, Notice, Settings, Sides, Split, Stretch, Which};
use serde_json::Value;

use super::sides::{File, compare, held_otherwise, rotations, texts, two_solves, written};
use crate::support::solver::{Options, Rng, Solve, Solver};

fn made(solver: &mut Solver, rng: &mut Rng, n: usize) -> Solve {
    let options = Options {
        wide: n.is_multiple_of(2),
        xcross: n.is_multiple_of(5),
        two_pairs: n.is_multiple_of(7),
        ..Options::default()
    };
    solver.random(rng, &options)
}

#[track_caller]
fn assert_no_difference(comparison: &Comparison, what: &str) {
    assert!(comparison.start.same, "{what}");
    assert!(!comparison.different && comparison.same_turns, "{what}");
    assert_eq!(comparison.parting, None, "{what}");
    assert_eq!(comparison.meetings, [], "{what}");
    assert_eq!(comparison.difference.obtm, 0, "{what}");
    for row in &comparison.rows {
        assert!(row.same_turns && row.joint, "{what}: {}", row.name);
        let (a, b) = (row.a.as_ref().expect("a step"), row.b.as_ref().expect("a step"));
        for (a, b) in a.steps.iter().zip(&b.steps) {
            assert_eq!((&a.name, &a.pairs, &a.turns), (&b.name, &b.pairs, &b.turns), "{what}");
        }
        assert_eq!((a.obtm, a.seconds, a.stopped), (b.obtm, b.seconds, b.stopped), "{what}");
        assert!(row.turns.iter().all(|stretch| stretch.only.is_none()), "{what}: {:?}", row.turns);
    }
    assert!(comparison.behind.is_none() && comparison.largest.is_empty(), "{what}");
}

#[test]
fn a_record_does_not_differ_from_itself() {
    for name in ["fork-after-first-pair", "two-crosses", "meets-again", "three-of-one-morning", "xcross"] {
        let file = File::kept(name);
        for i in 0..file.reading.records.len() {
            let comparison = compare(file.entry(i), file.entry(i));
            assert_no_difference(&comparison, name);
            assert!(comparison.fork.is_none() && comparison.blamed.is_none(), "{name}");
        }
    }
}

#[test]
fn writing_it_in_any_of_the_24_holds_gives_no_difference() {
    let (mut solver, mut rng) = (Solver::new(), Rng::new(31));
    let mut wide_turns = 0;
    for n in 0..6 {
        let solve = made(&mut solver, &mut rng, n);
        let moves: Vec<Move> = solve.moves().collect();
        let a = written(&solve.scramble, &moves, true);
        for (way, hold) in rotations() {
            for wide in [false, true] {
                let chance: Vec<bool> = moves.iter().map(|_| wide && rng.chance(0.4)).collect();
                let mut other = way.clone();
                other.extend(held_otherwise(&moves, (Hold::START, hold), |i| chance[i]));
                wide_turns += other.iter().filter(|mv| matches!(mv, Move::Wide(..))).count();
                // The marks stand at the same turns, so the tokens before them do not matter.
                let b = marks_of(&a, &solve.scramble, &other, way.len());
                assert_no_difference(&texts(&a, &b), &format!("{a}{b}"));
            }
        }
    }
    assert!(wide_turns > 1000, "{wide_turns}");
}

/// The record with other moves, `more` of them in front, and the marks of `text`.
fn marks_of(text: &str, scramble: &[Move], moves: &[Move], more: usize) -> String {
    let (_, solution) = text.split_once("\n\n").expect("a scramble and a solution");
    let mut words: Vec<String> = moves[..more].iter().map(ToString::to_string).collect();
    let mut rest = moves[more..].iter();
    for word in solution.split_whitespace() {
        words.push(if word.starts_with('<') {
            word.into()
        } else {
            rest.next().expect("as many moves").to_string()
        });
    }
    format!("{}\n\n{}\n", Moves::of(scramble), words.join(" "))
}

/// A scramble written in another hold leaves a rotation and the same position.
#[test]
fn scrambles_are_compared_by_position() {
    let (mut solver, mut rng) = (Solver::new(), Rng::new(32));
    let solve = made(&mut solver, &mut rng, 1);
    let moves: Vec<Move> = solve.moves().collect();
    for (way, hold) in rotations() {
        let chance: Vec<bool> = solve.scramble.iter().map(|_| rng.chance(0.3)).collect();
        let mut scramble = way.clone();
        scramble.extend(held_otherwise(&solve.scramble, (Hold::START, hold), |i| chance[i]));
        let left = scramble.iter().fold(Hold::START, |hold, mv| mv.resolve(hold).hold);
        let other = held_otherwise(&moves, (Hold::START, left), |_| false);
        let (a, b) = (written(&solve.scramble, &moves, false), written(&scramble, &other, false));
        assert_no_difference(&texts(&a, &b), &b);
    }
}

#[test]
fn respelling_gives_no_difference() {
    let (mut solver, mut rng) = (Solver::new(), Rng::new(33));
    for n in 0..60 {
        let solve = made(&mut solver, &mut rng, n);
        let other = solve.respelled(&mut rng);
        let moves = |solve: &Solve| solve.moves().collect::<Vec<_>>();
        let a = written(&solve.scramble, &moves(&solve), false);
        let b = written(&solve.scramble, &moves(&other), false);
        assert_no_difference(&texts(&a, &b), &format!("{a}{b}"));
    }
}

#[test]
fn another_turn_or_another_time_is_a_difference() {
    let (mut solver, mut rng) = (Solver::new(), Rng::new(34));
    let solve = made(&mut solver, &mut rng, 1);
    let moves: Vec<Move> = solve.moves().collect();
    let text = written(&solve.scramble, &moves, true);
    let (all_but_last, last) = text.trim_end().rsplit_once(" <").expect("a mark at the end");
    let later = format!("{all_but_last} <9{last}");
    let comparison = texts(&text, &later);
    assert!(comparison.different && comparison.same_turns && comparison.parting.is_none());
    let longer: Vec<Move> = moves.iter().copied().chain([moves[moves.len() - 1]]).collect();
    let comparison =
        texts(&written(&solve.scramble, &moves, false), &written(&solve.scramble, &longer, false));
    let parting = comparison.parting.expect("one goes on");
    assert_eq!((parting.turns, parting.at.a.turn), (solve.obtm(), None));
}

/// The comparison as it would be with the sides swapped.
fn mirrored(mut comparison: Comparison) -> Comparison {
    comparison.names = comparison.names.swapped();
    comparison.difference = negative(comparison.difference);
    comparison.behind = comparison.behind.map(Which::other);
    if let Some(fork) = &mut comparison.fork {
        fork.left_by = fork.left_by.swapped();
    }
    if let Some(stop) = &mut comparison.blamed {
        stop.side = stop.side.other();
    }
    for notice in &mut comparison.notices {
        match notice {
            Notice::PositionsDiffer => {}
            Notice::Untold { side, .. }
            | Notice::NotSolved { side }
            | Notice::NotCrossFirst { side }
            | Notice::NoTimes { side } => *side = side.other(),
        }
    }
    if comparison.behind.is_none() {
        // Told from the second side.
        for went in &mut comparison.went {
            went.seconds = 0.0 - went.seconds;
            went.rows.iter_mut().for_each(|row| row.seconds = 0.0 - row.seconds);
        }
    }
    comparison.compared.obtm = comparison.compared.obtm.swapped();
    comparison.compared.seconds = comparison.compared.seconds.swapped();
    comparison.annotations = comparison.annotations.swapped();
    if let Some(parting) = &mut comparison.parting {
        parting.at = parting.at.clone().swapped();
    }
    for meeting in &mut comparison.meetings {
        meeting.at = meeting.at.clone().swapped();
        meeting.until = meeting.until.swapped();
        if let Some(free) = &mut meeting.free_turn {
            *free = FreeTurn { layer: free.layer, turn: free.turn.inverse(), top: free.top.inverse() };
        }
        meeting.solved.sort();
    }
    for row in &mut comparison.rows {
        std::mem::swap(&mut row.a, &mut row.b);
        row.difference = row.difference.map(negative);
        if let Some((one, other)) = row.name.clone().split_once(" / ") {
            row.name = format!("{other} / {one}");
        }
        for stretch in &mut row.turns {
            stretch.only = stretch.only.map(Which::other);
        }
        // Of two stretches at one place that of the first side comes first.
        for i in 1..row.turns.len() {
            if row.turns[i - 1].only == Some(Which::B) && row.turns[i].only == Some(Which::A) {
                row.turns.swap(i - 1, i);
            }
        }
    }
    comparison
}

fn negative(difference: diff::Difference) -> diff::Difference {
    diff::Difference {
        obtm: -difference.obtm,
        seconds: difference.seconds.map(|s| 0.0 - s),
        split: difference.split.map(|split| Split {
            turns: 0.0 - split.turns,
            speed: 0.0 - split.speed,
            stopped: 0.0 - split.stopped,
        }),
    }
}

/// Everything but what depends on which side is named first.
fn without_order(mut comparison: Comparison) -> Value {
    comparison.notices.sort();
    comparison.start.why = None;
    comparison.went.sort_by_key(|went| went.what);
    comparison.meetings.iter_mut().for_each(|meeting| meeting.solved.sort());
    serde_json::to_value(comparison).expect("plain data")
}

#[test]
fn swapping_the_sides_mirrors_the_comparison() {
    let (mut solver, mut rng) = (Solver::new(), Rng::new(35));
    let (mut met, mut apart, mut stretches) = (0, 0, 0);
    let mut compared: Vec<(String, String)> = Vec::new();
    for n in 0..60 {
        let (one, other) = two_solves(&mut solver, &mut rng, n);
        let moves = |solve: &Solve| solve.moves().collect::<Vec<_>>();
        let text = |solve: &Solve| written(&solve.scramble, &moves(solve), n % 2 == 0);
        compared.push((text(&one), text(&other)));
    }
    // Made solves seldom meet while pairs are open; these do.
    let kept = File::kept("meets-again");
    let (one, other) = kept.source.text.split_once("---\n").expect("two records");
    compared.push((one.into(), other.into()));
    for (one, other) in &compared {
        let (one, other) = (File::of("one", one), File::of("other", other));
        let sides = Sides { a: one.entry(0), b: other.entry(0) };
        // In one hold: that of the side named first would be another.
        let hold = Some(Hold::START);
        let there = diff::compare(sides.clone(), &Settings { hold, ..Settings::default() });
        let settings = Settings { hold, names: Sides { a: "B".into(), b: "A".into() } };
        let back = diff::compare(sides.swapped(), &settings);
        met += usize::from(!there.meetings.is_empty());
        apart += usize::from(there.parting.is_some());
        let only = |stretch: &&Stretch| stretch.only.is_some();
        stretches += there.rows.iter().flat_map(|row| &row.turns).filter(only).count();
        assert_eq!(without_order(mirrored(there)), without_order(back));
    }
    assert!(met > 0 && apart > 50 && stretches > 500, "{met} {apart} {stretches}");
}

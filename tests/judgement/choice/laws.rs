//! What must hold of any verdict, whatever the step.

use std::collections::BTreeMap;

use cornerwise::choice::{self, Alternative, Choice, Settings, Verdict};
use cornerwise::cube::{Axis, Colour, Face, FaceSet, Hold, Move, Pair, Position};
use cornerwise::search;
use cornerwise::sight::Outcome;

use super::slow_judge::{leaves, thousandths};
use super::steps::{Step, steps};
use crate::support::switch;

const ALL: usize = 100_000;

fn few() -> Vec<Step> {
    steps(83, if switch::slow() { 60 } else { 8 })
}

fn settings() -> Settings {
    Settings { within: Some(9), alternatives: ALL, ..Settings::default() }
}

fn solved(position: &Position, cross: Colour) -> Vec<Pair> {
    assert!(position.state.cross_solved(cross));
    Pair::all(cross).into_iter().filter(|&pair| position.state.pair_solved(pair)).collect()
}

#[test]
fn every_alternative_replays_and_is_strictly_better() {
    for step in few() {
        let settings = settings();
        let judged = choice::judge(step.played(), &settings);
        let before = solved(&step.positions[0], step.cross);
        for alternative in &judged.alternatives {
            let Alternative { moves, next, outcome, .. } = alternative;
            assert!(*outcome > judged.played, "no alternative is offered that is not strictly better");
            assert!(alternative.cost <= judged.played_cost + settings.slack + 1e-6);
            let left = leaves(&step.before, moves, step.cross, *next, step.sight, settings.lead);
            assert_eq!(left, *outcome);

            let end = step.positions[0].after(moves.iter().copied());
            assert_eq!(end, alternative.end);
            let mut expected = [before.clone(), alternative.solves.clone()].concat();
            expected.sort_by_key(|pair| Pair::all(step.cross).iter().position(|p| p == pair));
            assert_eq!(solved(&end, step.cross), expected, "it solves what it says and keeps the rest");
            // No pair more was solved, with the cross, before its last turn.
            for n in 0..moves.len() {
                let on_the_way = step.positions[0].after(moves[..n].iter().copied()).state;
                let pairs = Pair::all(step.cross).into_iter().filter(|&pair| on_the_way.pair_solved(pair));
                let pairs: Vec<Pair> = pairs.collect();
                let more = before.iter().all(|pair| pairs.contains(pair)) && pairs.len() > before.len();
                assert!(!(on_the_way.cross_solved(step.cross) && more));
            }
            let then = end.after(alternative.next_moves.iter().copied());
            let after = solved(&then, step.cross);
            assert!(after.contains(next) && expected.iter().all(|pair| after.contains(pair)));
        }
    }
}

#[test]
fn the_played_step_is_among_the_lines_it_is_compared_with() {
    let mut found = 0;
    for step in few() {
        let judged = choice::judge(step.played(), &Settings::default());
        let end = step.positions[step.positions.len() - 1].state;
        let lines = search::lines(&step.positions[0].state, step.cross, search::Kind::Hand, judged.within);
        if judged.played_is_hand_line && judged.played_turns <= judged.within {
            assert!(lines.iter().any(|line| line.end(step.positions[0].state) == end));
            found += 1;
        }
    }
    assert!(found > 5, "most played steps are hand lines");
}

#[test]
fn a_larger_bound_never_takes_a_verdict_back() {
    for step in few() {
        let judged = |within| choice::judge(step.played(), &Settings { within: Some(within), ..settings() });
        let mut before: Option<Choice> = None;
        for within in 1..=11 {
            let now = judged(within);
            if let Some(before) = &before {
                assert_eq!(before.verdict == Verdict::Kept, now.verdict == Verdict::Kept);
                assert!(before.verdict != Verdict::Avoidable || now.verdict == Verdict::Avoidable);
                assert!(before.good_pairs.iter().all(|pair| now.good_pairs.contains(pair)));
                assert!(now.lines >= before.lines);
            }
            before = Some(now);
        }
        let default = choice::judge(step.played(), &Settings { alternatives: ALL, ..Settings::default() });
        assert_eq!(before, Some(default), "11 is the default");
    }
}

#[test]
fn more_slack_never_loses_an_alternative() {
    for step in few() {
        let mut before: Option<Choice> = None;
        for slack in [0.0, 0.5, 1.0, 2.0, 5.0] {
            let now = choice::judge(step.played(), &Settings { slack, ..settings() });
            if let Some(before) = before {
                // An end may be reached by a better line now, but it stays.
                for old in &before.alternatives {
                    let mut same = now.alternatives.iter().filter(|new| new.end.state == old.end.state);
                    assert!(same.any(|new| new.outcome >= old.outcome));
                }
                assert!(before.good_pairs.iter().all(|pair| now.good_pairs.contains(pair)));
            }
            before = Some(now);
        }
    }
}

/// A choice without the names of colours and faces: what must be the same for a cube that is recoloured or mirrored.
fn nameless(judged: &Choice, rename: &dyn Fn(Pair) -> Pair) -> impl PartialEq + std::fmt::Debug + use<> {
    let mut alternatives: BTreeMap<(Outcome, i64, bool, Vec<Pair>), usize> = BTreeMap::new();
    for a in &judged.alternatives {
        let mut solves: Vec<Pair> = a.solves.iter().map(|&pair| rename(pair)).collect();
        solves.sort();
        *alternatives.entry((a.outcome, thousandths(a.cost), a.same_turns, solves)).or_default() += 1;
    }
    let mut good_pairs: Vec<Pair> = judged.good_pairs.iter().map(|&pair| rename(pair)).collect();
    good_pairs.sort();
    (
        (judged.within, judged.lines, judged.played_is_hand_line, judged.played_turns, judged.played),
        (judged.verdict, thousandths(judged.played_cost), judged.other_pair.map(|other| other.outcome)),
        (alternatives, good_pairs),
    )
}

#[test]
fn another_colouring_changes_names_only() {
    for step in few() {
        let judged = choice::judge(step.played(), &settings());
        for hold in Hold::ALL.into_iter().step_by(5) {
            let recoloured = |colour: Colour| hold.colour(Hold::START.face(colour));
            let renamed = |pair: Pair| {
                let [a, b] = pair.sides();
                Pair::with_sides(recoloured(a), recoloured(b)).map_or_else(
                    || panic!("sides stay neighbours"),
                    |pair| in_cross(pair, recoloured(step.cross)),
                )
            };
            let all = |pairs: &[Pair]| pairs.iter().map(|&pair| renamed(pair)).collect::<Vec<_>>();
            let start = Position { hold, ..Position::SOLVED }.after(step.before.iter().copied());
            let other = Step {
                before: step.before.clone(),
                moves: step.moves.clone(),
                positions: step.from(start),
                cross: recoloured(step.cross),
                open: all(&step.open),
                solves: all(&step.solves),
                next: all(&step.next),
                sight: step.sight,
            };
            let other = choice::judge(other.played(), &settings());
            assert_eq!(nameless(&other, &|pair| pair), nameless(&judged, &renamed));
        }
    }
}

#[test]
fn a_mirror_changes_left_and_right_only() {
    for step in few() {
        let judged = choice::judge(step.played(), &settings());
        let renamed = |pair: Pair| {
            let [a, b] = pair.sides();
            let pair = Pair::with_sides(mirrored_colour(a), mirrored_colour(b)).expect("neighbours");
            in_cross(pair, mirrored_colour(step.cross))
        };
        let all = |pairs: &[Pair]| pairs.iter().map(|&pair| renamed(pair)).collect::<Vec<_>>();
        let moves = |moves: &[Move]| moves.iter().map(|&mv| mirrored(mv)).collect::<Vec<_>>();
        let before = moves(&step.before);
        let mut other = Step {
            moves: moves(&step.moves),
            positions: Vec::new(),
            cross: mirrored_colour(step.cross),
            open: all(&step.open),
            solves: all(&step.solves),
            next: all(&step.next),
            sight: step.sight.iter().fold(FaceSet::EMPTY, |set, face| set.with(mirrored_face(face))),
            before,
        };
        other.positions = other.from(Position::SOLVED.after(other.before.iter().copied()));
        let other = choice::judge(other.played(), &settings());
        assert_eq!(nameless(&other, &|pair| pair), nameless(&judged, &renamed));
    }
}

/// The pair of this cross with the same side colours.
fn in_cross(pair: Pair, cross: Colour) -> Pair {
    let sides = pair.sides();
    let all = Pair::all(cross).into_iter();
    let mut same = all.filter(|other| other.sides().iter().all(|side| sides.contains(side)));
    same.next().expect("both sides touch the cross")
}

fn mirrored_face(face: Face) -> Face {
    if matches!(face, Face::L | Face::R) { face.opposite() } else { face }
}

/// Scrambled white up and green in front, red is right and orange left.
fn mirrored_colour(colour: Colour) -> Colour {
    if matches!(colour, Colour::Red | Colour::Orange) { colour.opposite() } else { colour }
}

/// What the move looks like in a mirror beside the cube. A turn about the axis to the mirror looks the same in sense
/// but has changed sides, which for R and L is the inverse of the other; about another axis the sense is reversed.
fn mirrored(mv: Move) -> Move {
    use cornerwise::cube::Slice;
    match mv {
        Move::Turn(face, amount) => Move::Turn(mirrored_face(face), amount.inverse()),
        Move::Wide(face, amount) => Move::Wide(mirrored_face(face), amount.inverse()),
        Move::Slice(Slice::M, amount) => Move::Slice(Slice::M, amount),
        Move::Slice(slice, amount) => Move::Slice(slice, amount.inverse()),
        Move::Rotation(Axis::X, amount) => Move::Rotation(Axis::X, amount),
        Move::Rotation(axis, amount) => Move::Rotation(axis, amount.inverse()),
    }
}

//! Annotations made by hand for the tests of the views: enough facts to draw, from an invented solve.

use crate::annotation::*;
use crate::cube::{Colour, Move, Pair, Position};
use crate::naming::{corner_place, edge_place, letter};
use crate::replay::Replay;
use crate::scan::{Tier, tier};
use crate::sight::{Pieces, Watch as Watching, corner_up, edge_up};
use crate::steps::{Kind, Skip, split};

use super::plan::STICKER_ORDER;

/// An invented solve, made backwards from solved: turns that scramble it are its own, undone.
pub const SOLUTION: &str = "x2 R' F D L' D2 U R U' R' U R U' R' y U' L' U L U2 L' U' L U R' U R U' R' U' R \
    U2 L U L' U' L U L' R U R' U R U2 R' U R U R' U' R' F R2 U' R' U' R U R' F' U'";

pub fn moves(text: &str) -> Vec<Move> {
    let read = |word: &str| Move::ALL.into_iter().find(|mv| mv.to_string() == word).expect("a move");
    text.split_whitespace().map(read).collect()
}

fn hold_names(position: &Position) -> HoldNames {
    let at = |face| position.hold.colour(face).to_string();
    HoldNames { up: at(crate::cube::Face::U), front: at(crate::cube::Face::F) }
}

fn stickers(position: &Position) -> String {
    STICKER_ORDER.into_iter().flat_map(|face| position.stickers(face)).map(letter).collect()
}

/// Facts of [`SOLUTION`], timed or not.
pub fn annotation(timed: bool) -> Annotation {
    let moves = moves(SOLUTION);
    let sight = super::picture::sight("UFR");
    // The hold at the end differs from that at the start; the scramble is played in the one that undoes it.
    let end = Position::SOLVED.after(moves.iter().copied());
    let start = Position {
        state: Position::SOLVED.after(scramble_in(&moves, &end)).state,
        hold: Position::SOLVED.hold,
    };
    let replay = Replay::from_position(start, moves.clone());
    let solve = split(&replay);
    let cross = solve.cross.expect("a cross");
    // 0.17 s a turn, and a pause before each step but the first.
    let pauses = [0.0, 0.0, 0.65, 0.1, 0.42, 0.12, 0.2, 0.15, 0.05, 0.0];
    let mut clock = 0.0;
    let mut seconds: Vec<Option<f64>> = vec![None; replay.moments.len()];
    let mut steps = Vec::new();
    for (i, step) in solve.steps.iter().enumerate() {
        let text: Vec<String> = replay.moves[step.from..step.to].iter().map(Move::to_string).collect();
        let obtm = replay.moves[step.from..step.to].iter().map(|mv| mv.obtm()).sum();
        let mut time = Seconds::default();
        if timed && step.kind != Kind::Inspection {
            time.start = Some(clock);
            time.pause = Some(pauses[i]);
            clock += pauses[i];
            seconds[step.from] = Some(clock);
            clock += 0.17 * (step.to - step.from) as f64;
            seconds[step.to] = Some(clock);
            time.end = Some(clock);
            time.total = time.start.map(|start| clock - start);
            time.turns_per_second = time.total.map(|total| obtm as f64 / total);
        }
        let pairs: Vec<String> = step.pairs.iter().map(Pair::to_string).collect();
        let next = if matches!(step.kind, Kind::Cross | Kind::Pair) { solve.next_pairs(i) } else { &[] };
        let given =
            Pieces::cross_and(cross, solve.solved_before(i).into_iter().chain(step.pairs.iter().copied()));
        let watch = Watching::new(replay.between(step.from, step.to), given, sight);
        let next: Vec<Next> =
            next.iter().map(|&pair| next_facts(&replay, step, cross, pair, &watch, &step.pairs)).collect();
        let open: Vec<Pair> =
            solve.open_before(i).into_iter().filter(|pair| !step.pairs.contains(pair)).collect();
        let from = &replay.moments[step.from];
        let to = &replay.moments[step.to];
        let in_tier = |wanted| -> Vec<String> {
            open.iter()
                .filter(|pair| tier(pair.corner, cross, &step.pairs, &from.state, &to.state) == wanted)
                .map(Pair::to_string)
                .collect()
        };
        let mut offers: Vec<Offer> = open
            .iter()
            .map(|pair| Offer {
                pair: pair.to_string(),
                tier: tier(pair.corner, cross, &step.pairs, &from.state, &to.state),
                corner: corner_place(from.state.corner(pair.corner).place(), from.hold),
                edge: edge_place(from.state.edge(pair.edge).place(), from.hold),
                outcome: Some(Outcome::Up),
            })
            .collect();
        offers.sort_by_key(|offer| offer.tier);
        let scan = (!next.is_empty()).then(|| Scan {
            top: in_tier(Tier::Top),
            target: in_tier(Tier::Target),
            lifted: in_tier(Tier::Lifted),
            open: in_tier(Tier::Slot),
            best: offers.first().map(|offer| offer.tier),
            passed_over: false,
            offers,
        });
        let choice =
            (step.kind == Kind::Pair && !next.is_empty()).then(|| choice_facts(&replay, step, &next));
        let pause = (timed && step.kind == Kind::Pair && pauses[i] >= 0.3).then(|| PauseCause {
            seconds: pauses[i],
            derived: false,
            cause: if i == 2 { Cause::View } else { Cause::Choice },
            evidence: "its corner was at UBL and its edge at BL, hidden by the grip".into(),
            advice: "tilt the cube, or look at the far side: L".into(),
        });
        steps.push(Step {
            kind: kind(step.kind),
            name: name(step.kind, steps.len()),
            pairs,
            case: (step.kind == Kind::Orient).then(|| "orientation 27".into()),
            skips: step
                .skips
                .iter()
                .map(|s| if *s == Skip::Orientation { "orientation" } else { "permutation" })
                .collect(),
            from: step.from,
            to: step.to,
            text: text.join(" "),
            obtm,
            etm: step.to - step.from,
            hold: hold_names(from),
            comments: vec!["as written <quickly>".into()],
            seconds: time,
            scan,
            next,
            others: Vec::new(),
            choice,
            pause,
        });
    }
    let moments = replay
        .moments
        .iter()
        .enumerate()
        .map(|(m, position)| Moment {
            token: m.checked_sub(1).map(|m| replay.moves[m].to_string()),
            stickers: stickers(position),
            hold: hold_names(position),
            seconds: seconds[m],
            span: None,
        })
        .collect();
    let lanes = lanes(&replay, &solve, cross, sight);
    Annotation {
        format: FORMAT,
        file: "quay.yaml".into(),
        record: 1,
        title: Some("Quay practice, third of five".into()),
        solver: Some("an invented solver".into()),
        date: Some("2026-05-02".into()),
        remarks: Some("Invented for the tests.".into()),
        scramble: "R2 U F2 D'".into(),
        solved: true,
        end: EndJudged { judged: "solved", missing: None },
        settings: crate::annotation::SettingsUsed {
            within: 11,
            every_line: false,
            slack: 1.0,
            lead: 3,
            weights: crate::choice::Weights::default(),
            long_pause: 0.3,
            long_paces: 2.0,
        },
        cross: Some(cross.to_string()),
        sight: "UFR".into(),
        tokens: moves.len(),
        obtm: moves.iter().map(|mv| mv.obtm()).sum(),
        etm: moves.len(),
        seconds: timed.then_some(clock),
        timing: Timing {
            marks: if timed { 14 } else { 0 },
            pace: timed.then_some(0.17),
            long_from: timed.then_some(0.34),
            lost: timed.then_some(1.07),
            lost_by_cause: if timed { vec![(Cause::View, 0.65), (Cause::Choice, 0.42)] } else { Vec::new() },
            ..Timing::default()
        },
        notes: Vec::new(),
        faults: Vec::new(),
        untold: Vec::new(),
        moments,
        steps,
        lanes,
        summary: vec![
            "1 of 4 steps left the next pair ready (4 steps are not a statistic).".into(),
            "1.07 s went to two long pauses: 0.65 s view, 0.42 s choice.".into(),
        ],
    }
}

fn scramble_in(moves: &[Move], end: &Position) -> Vec<Move> {
    // Played from solved in the end's hold, the inverse leads to the start; written for the start hold it is
    // the same state, because states are kept relative to the centres.
    let mut position = Position { state: Position::SOLVED.state, hold: end.hold };
    for mv in moves.iter().rev() {
        position.play(mv.inverse());
    }
    let wanted = position.state;
    // The caller wants moves from white up, green in front: found by resolving each turn.
    let mut hold = end.hold;
    let mut out = Vec::new();
    for mv in moves.iter().rev() {
        let resolved = mv.inverse().resolve(hold);
        for turn in resolved.turns() {
            out.push(Move::Turn(Position::SOLVED.hold.face(turn.centre), turn.amount));
        }
        hold = resolved.hold;
    }
    assert_eq!(Position::SOLVED.after(out.iter().copied()).state, wanted);
    out
}

fn kind(kind: Kind) -> StepKind {
    match kind {
        Kind::Inspection => StepKind::Inspection,
        Kind::Cross => StepKind::Cross,
        Kind::Pair => StepKind::Pair,
        Kind::Orient => StepKind::Orient,
        Kind::Permute => StepKind::Permute,
        Kind::LastLayer => StepKind::LastLayer,
        Kind::Adjust => StepKind::Adjust,
        Kind::Rest => StepKind::Rest,
    }
}

fn name(kind: Kind, before: usize) -> String {
    match kind {
        Kind::Inspection => "inspection".into(),
        Kind::Cross => "cross".into(),
        Kind::Pair => format!("pair {}", before - 1),
        Kind::Orient => "orientation".into(),
        Kind::Permute => "permutation".into(),
        Kind::LastLayer => "last layer".into(),
        Kind::Adjust => "adjustment".into(),
        Kind::Rest => "rest".into(),
    }
}

fn next_facts(
    replay: &Replay,
    step: &crate::steps::Step,
    cross: Colour,
    pair: Pair,
    watch: &Watching,
    filled: &[Pair],
) -> Next {
    let between = replay.between(step.from, step.to);
    let (from, to) = (&between[0], &between[between.len() - 1]);
    let corner = |p: &Position| corner_place(p.state.corner(pair.corner).place(), p.hold);
    let edge = |p: &Position| edge_place(p.state.edge(pair.edge).place(), p.hold);
    let way = |place: &dyn Fn(&Position) -> String| -> Vec<(usize, String)> {
        (1..between.len())
            .filter(|&i| {
                place(&between[i]) != place(&between[i - 1]) && !replay.moves[step.from + i - 1].is_rotation()
            })
            .map(|i| (step.from + i, place(&between[i])))
            .collect()
    };
    let moment = |offset: Option<usize>| offset.map(|offset| step.from + offset);
    let found = (watch.corner(pair.corner), watch.edge(pair.edge));
    let lead = found.0.seen.zip(found.1.seen).map(|(a, b)| step.to - step.from - a.max(b));
    let up = corner_up(to.state.corner(pair.corner), cross);
    Next {
        pair: pair.to_string(),
        tier: tier(pair.corner, cross, filled, &from.state, &to.state),
        buried: corner_up(from.state.corner(pair.corner), cross) && !up,
        corner: Watch {
            from: corner(from),
            to: corner(to),
            up,
            seen: moment(found.0.seen),
            known: moment(found.0.known),
            oriented: moment(found.0.oriented),
            way: way(&corner),
        },
        edge: Watch {
            from: edge(from),
            to: edge(to),
            up: edge_up(to.state.edge(pair.edge), cross),
            seen: moment(found.1.seen),
            known: moment(found.1.known),
            oriented: moment(found.1.oriented),
            way: way(&edge),
        },
        lead,
        lead_seconds: lead.map(|lead| lead as f64 * 0.17),
        outcome: Some(match lead {
            _ if !up => Outcome::Down,
            Some(3..) => Outcome::Ready,
            _ => Outcome::Up,
        }),
        more: lead.is_none().then(|| More { faces: "L".into(), from: step.from + 1 }),
    }
}

fn choice_facts(replay: &Replay, step: &crate::steps::Step, next: &[Next]) -> Choice {
    let ready = next[0].outcome == Some(Outcome::Ready);
    let at = &replay.moments[step.to];
    Choice {
        within: 9,
        bound_below_played: false,
        every_line: false,
        slack: 1.0,
        lead: 3,
        lines: 61,
        played_is_hand_line: true,
        played_cost: 14.2,
        played: next[0].outcome.expect("judged"),
        verdict: if ready { Verdict::Kept } else { Verdict::Avoidable },
        alternatives: if ready {
            Vec::new()
        } else {
            vec![
                Alternative {
                    text: "U' R U2 R' U R U' R'".into(),
                    pairs: vec!["green-red".into()],
                    obtm: 8,
                    then: "U R U' R'".into(),
                    cost: 14.6,
                    difference: 0.4,
                    outcome: Outcome::Ready,
                    next: AlternativeNext {
                        pair: "blue-red".into(),
                        corner: "UFL".into(),
                        edge: "UR".into(),
                        seen: Some(3),
                        lead: Some(5),
                        up: true,
                    },
                    same_turns: false,
                    hold: hold_names(at),
                    stickers: stickers(at),
                };
                2
            ]
        },
        open_pairs: 3,
        good_pairs: usize::from(!ready) + 1,
    }
}

fn lanes(
    replay: &Replay,
    solve: &crate::steps::Solve,
    cross: Colour,
    sight: crate::cube::FaceSet,
) -> Vec<Lane> {
    let mut lanes = Vec::new();
    for done in &solve.steps {
        for &pair in &done.pairs {
            let mut cells: Vec<Cell> = Vec::new();
            for (i, step) in solve.steps.iter().enumerate().take_while(|(_, step)| step.from < done.to) {
                let given = Pieces::cross_and(
                    cross,
                    solve.solved_before(i).into_iter().chain(step.pairs.iter().copied()),
                );
                let watch = Watching::new(replay.between(step.from, step.to), given, sight);
                let corners = watch.corner_track(pair.corner).collect::<Vec<_>>();
                let edges = watch.edge_track(pair.edge).collect::<Vec<_>>();
                let skip = usize::from(!cells.is_empty());
                for offset in skip..corners.len() {
                    let hold = replay.moments[step.from + offset].hold;
                    let (c, e) = (&corners[offset], &edges[offset]);
                    let tell = |stickers, known| match (stickers, known) {
                        (2.., _) => SpotSight::Seen,
                        (_, true) => SpotSight::Known,
                        _ => SpotSight::Hidden,
                    };
                    cells.push(Cell {
                        corner: Spot {
                            place: corner_place(c.at.place(), hold),
                            up: corner_up(c.at, cross),
                            target: step.pairs.iter().any(|p| p.corner.home() == c.at.place()),
                            sight: tell(c.stickers, c.known),
                        },
                        edge: Spot {
                            place: edge_place(e.at.place(), hold),
                            up: edge_up(e.at, cross),
                            target: step.pairs.iter().any(|p| p.edge.home() == e.at.place()),
                            sight: tell(e.stickers, e.known),
                        },
                    });
                }
            }
            lanes.push(Lane { pair: pair.to_string(), solved: Some(done.to), cells });
        }
    }
    lanes
}

#[test]
fn the_invented_solve_is_a_solve() {
    let annotation = annotation(true);
    let kinds: Vec<StepKind> = annotation.steps.iter().map(|step| step.kind).collect();
    assert!(kinds.iter().filter(|kind| **kind == StepKind::Pair).count() >= 3, "{kinds:?}");
    assert_eq!(annotation.lanes.len(), 4);
    assert!(annotation.moments.last().is_some_and(|m| m.stickers.chars().filter(|&c| c == 'W').count() == 9));
}

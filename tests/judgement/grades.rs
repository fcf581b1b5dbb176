//! Sight in three grades: worked positions, and what must hold of it in any solve. The records are those of
//! `reconstructions/`; the tables are worked out by the words of the rules.

use cornerwise::cube::{
    Amount, Axis, Colour, ColourSet, Corner, Edge, Face, FaceSet, Hold, Move, Pair, Position,
};
use cornerwise::look_ahead::{LaneGrade, LookAhead};
use cornerwise::replay::Replay;
use cornerwise::scan::{Tier, is_up, scan, tier_to_play};
use cornerwise::sight::grades::{Deduction, Found, Grade, Left, Looked};
use cornerwise::sight::reasons::{Clue, NotHere, Why};
use cornerwise::sight::{DEFAULT_LEAD, Moments, Piece, Pieces, Watch};
use cornerwise::steps::{self, Kind, Solve};

use crate::support::read::moves;
use crate::support::rewrite::kinds_of_solve;
use crate::support::solver::{Rng, Solver};

const UFR: FaceSet = FaceSet::of(&[Face::U, Face::F, Face::R]);

/// A solve played and cut into steps.
struct Played {
    replay: Replay,
    solve: Solve,
}

impl Played {
    fn new(scramble: &str, solution: &str) -> Played {
        Played::from(Position::SOLVED.after(moves(scramble)), moves(solution))
    }

    fn from(start: Position, solution: Vec<Move>) -> Played {
        let replay = Replay::from_position(start, solution);
        let solve = steps::split(&replay);
        Played { replay, solve }
    }

    fn look(&self) -> LookAhead<'_> {
        self.look_with(UFR)
    }

    fn look_with(&self, sight: FaceSet) -> LookAhead<'_> {
        LookAhead::new(&self.replay, &self.solve, sight, DEFAULT_LEAD)
    }

    fn pair(&self, name: &str) -> Pair {
        let all = Pair::all(self.solve.cross.expect("a cross"));
        all.into_iter().find(|pair| pair.to_string() == name).expect("a pair")
    }
}

/// `reconstructions/no-corner-up.yaml`, the first two layers.
fn low_water() -> Played {
    Played::new(
        "L2 U L' U' R2 U' D F D F' L U D' B U2 R2 D L B D'",
        "x2 R2 D F L D' F y L' U2 L R' U2 R U R U' R' y' R' U' R F U2 F' D R U' R' D' F R' F' R2 U R'",
    )
}

const FORK: &str = "B' L2 F U2 D2 L2 D2 L F U D B2 R L2 D L2 D' F2 B2 U2";

/// `reconstructions/fork-after-first-pair.yaml`, the first solve.
fn fork() -> Played {
    Played::new(
        FORK,
        "x2 y L2 U' R2 F D L' U' R' U2 R L' U L R U' R2 U R U' L U' L' U' R U R' L U' L' y' U2 L' U' L",
    )
}

/// `reconstructions/pasted-from-the-noticeboard.txt`.
fn noticeboard() -> Played {
    Played::new(
        "L F B' U2 R' B' D' L U' D B2 F2 L D2 U2 B' D' U B2 D'",
        "L' D2 B L' F' L' D' R U' R' F U F' U2 R' U' R y' L' U2 L U' L' U' L R' U R U' R' U R",
    )
}

/// How a pair was found, as people are told.
fn words(left: &Left) -> String {
    let missing = [(left.corner, "corner"), (left.edge, "edge")];
    if let Some((_, piece)) = missing.iter().find(|(found, _)| found.found().is_none()) {
        return format!("late, {piece} not found");
    }
    let to_go = left.told_lead.expect("both are found");
    if !left.ready {
        return format!("late, {to_go} to go");
    }
    let when = if left.told_from() == Some(0) { "at once".to_owned() } else { format!("{to_go} to go") };
    if left.only_deduced() { format!("{when}, deduced") } else { when }
}

/// What each step leaves for every open pair, the one solved next marked with a star.
fn table(played: &Played, look: &LookAhead<'_>) -> String {
    let mut table = String::new();
    for (index, step) in played.solve.steps.iter().enumerate() {
        let left = look.left(index);
        if left.is_empty() {
            continue;
        }
        let name = match step.kind {
            Kind::Cross => "cross".to_owned(),
            _ => step.pairs.iter().map(Pair::to_string).collect::<Vec<_>>().join(" and "),
        };
        table += &format!("{name}\n");
        for left in left {
            let next = if played.solve.next_pairs(index).contains(&left.pair) { "*" } else { " " };
            table += &format!(" {next} {:<13} {}\n", left.pair.to_string(), words(&left));
        }
    }
    table
}

#[test]
fn the_low_water_solve() {
    let played = low_water();
    insta::assert_snapshot!(table(&played, &played.look()), @r"
    cross
       blue-orange   3 to go, deduced
       blue-red      late, edge not found
     * green-orange  late, 0 to go
       green-red     late, edge not found
    green-orange
       blue-orange   at once
       blue-red      6 to go
     * green-red     4 to go, deduced
    green-red
     * blue-orange   at once
       blue-red      3 to go
    blue-orange
     * blue-red      at once
    ");
    // Blue-red would have been found three turns earlier by deduction; the plain moment was in time and is told.
    let left = played.look().left(3)[1];
    assert_eq!((left.lead, left.plain_lead, left.only_deduced()), (Some(6), Some(3), false));
}

#[test]
fn the_solve_that_keeps_going() {
    let played = fork();
    insta::assert_snapshot!(table(&played, &played.look()), @r"
    cross
       blue-orange   late, 0 to go
     * blue-red      3 to go
       green-orange  4 to go
       green-red     4 to go
    blue-red
       blue-orange   late, 2 to go
     * green-orange  at once
       green-red     5 to go
    green-orange
       blue-orange   late, corner not found
     * green-red     3 to go
    green-red
     * blue-orange   3 to go
    ");
}

#[test]
fn the_solve_off_the_noticeboard_needs_the_left_side_twice() {
    let played = noticeboard();
    let look = played.look();
    insta::assert_snapshot!(table(&played, &look), @r"
    cross
       blue-orange   late, edge not found
       blue-red      late, edge not found
     * green-orange  at once
       green-red     late, edge not found
    green-orange
       blue-orange   late, edge not found
     * blue-red      late, edge not found
       green-red     late, 2 to go
    blue-red
     * blue-orange   late, edge not found
       green-red     3 to go, deduced
    blue-orange
     * green-red     3 to go
    ");
    // With the left side in sight too they are found 5 and 4 turns ahead.
    let found_with_left = [(1, "blue-red", 5), (2, "blue-orange", 4)];
    for (index, pair, to_go) in found_with_left {
        let looked = look.step(index).expect("a pair step");
        let pair = played.pair(pair);
        let tilt = looked.tilt(pair, DEFAULT_LEAD).expect("it is late, and the left shows it");
        assert_eq!(tilt.faces, FaceSet::of(&[Face::L]));
        assert_eq!(looked.step().turns_left(tilt.from), to_go);
        assert_eq!(
            looked.further_faces(pair, DEFAULT_LEAD),
            Some(tilt),
            "no smaller set, and left is easiest"
        );
        let wider = looked.with_sight(UFR.with(Face::L)).left(pair, DEFAULT_LEAD);
        assert!(wider.ready && wider.lead == Some(to_go), "{wider:?}");
    }
    // Of the last pair nothing is missing.
    let ready = look.step(3).expect("a pair step");
    assert_eq!(ready.tilt(played.pair("green-red"), DEFAULT_LEAD), None);
}

#[test]
fn a_line_found_by_the_last_open_slot() {
    // A plan after the cross of the other solves of that scramble: the last corner is nowhere else.
    let played = Played::new(
        FORK,
        "x2 y L2 U' R2 F D L' U L' U2 L U2 L' U L R U' R2 U R U2 R U R' L U L' U' y' L' U' L",
    );
    let look = played.look();
    let told: Vec<String> = (1..5).map(|index| words(&look.next(index).expect("a pair follows"))).collect();
    assert_eq!(told, ["3 to go", "at once", "3 to go, deduced", "3 to go, deduced"]);

    let looked = look.step(4).expect("a pair step");
    let pair = played.pair("blue-orange");
    let corner = Piece::Corner(pair.corner);
    assert_eq!(looked.found(corner), Found { plain: None, deduced: Some((0, Deduction::OnlyPlace)) });
    let reason = looked.reason(corner).expect("it is deduced");
    let Clue::OnlyPlace { shows, elsewhere } = reason.clue else { panic!("{reason:?}") };
    assert_eq!((reason.offset, reason.place.to_string().as_str(), shows), (0, "DBL", None));
    let elsewhere: Vec<String> = elsewhere
        .iter()
        .map(|elsewhere| match elsewhere.not {
            NotHere::Shows { colour, face } => format!("{}: {colour} on {face}", elsewhere.place),
            NotHere::Holds { why, piece } => {
                let colours: Vec<String> = piece.colours().iter().map(|c| c.to_string()).collect();
                let why = match why {
                    Why::LiesOpen { .. } => "lies open",
                    Why::FoundBefore { .. } => "found before",
                    Why::Cross => "cross",
                    Why::Solved => "solved",
                    Why::InHand => "in hand",
                };
                format!("{}: {} {why}", elsewhere.place, colours.join("-"))
            }
        })
        .collect();
    insta::assert_snapshot!(elsewhere.join("\n"), @r"
    UFR: yellow-blue-red lies open
    UFL: yellow-green-orange lies open
    UBR: yellow-green-red lies open
    DFR: yellow-blue-orange lies open
    DBR: white-green-orange solved
    DFL: white-blue-red solved
    UBL: white-green-red in hand
    ");
}

#[test]
fn one_sticker_and_what_rules_out_the_rest() {
    // Red on the right at BR after U2; red-yellow lies open at UF, blue-red has been seen, red-white is in the cross.
    let played = low_water();
    let look = played.look();
    let looked = look.step(2).expect("the first pair");
    let edge = Piece::Edge(played.pair("green-red").edge);
    let reason = looked.reason(edge).expect("it is deduced");
    assert_eq!((reason.offset, reason.place.to_string().as_str()), (3, "BR"));
    let Clue::OneSticker { colour, face, ruled_out } = reason.clue else { panic!("{reason:?}") };
    assert_eq!((colour, face), (Colour::Red, Face::R));
    let edge_of = |a, b| Piece::Edge(Edge::with_colours(ColourSet::of(&[a, b])).expect("an edge"));
    let place = |name: &str| name.parse().expect("a place");
    let why: Vec<(Piece, Why)> = ruled_out.iter().map(|out| (out.piece, out.why)).collect();
    assert_eq!(why[0], (edge_of(Colour::Red, Colour::Yellow), Why::LiesOpen { place: place("UF") }));
    assert_eq!(why[1].0, edge_of(Colour::Blue, Colour::Red));
    assert!(matches!(why[1].1, Why::FoundBefore { offset: 1, .. }), "{why:?}");
    assert_eq!(why[2], (edge_of(Colour::Red, Colour::White), Why::Cross));
    assert_eq!(why.len(), 3);
    // It is plain two turns before the end, which is late; before U2 it is hidden.
    assert_eq!(looked.found(edge), Found { plain: Some(5), deduced: Some((3, Deduction::OneSticker)) });
    assert_eq!(looked.grade(edge, 2), Grade::Hidden);
    assert_eq!(looked.grade(edge, 3), Grade::Deduced);
    assert_eq!(looked.grade(edge, 5), Grade::Plain);
    assert!(!looked.found_by(edge, 2) && looked.found_by(edge, 4));
    // The corner lies open: there is nothing to explain.
    assert_eq!(looked.reason(Piece::Corner(played.pair("green-red").corner)), None);
}

/// The lanes of that solve as signs: `▀` up, `▄` down, `▲` in the slot another pair is to fill, open to sight; `▔ ▁ △` followed;
/// `˙ . ∧` not found; `◆` the pair is in.
#[test]
fn the_lanes_of_the_low_water_solve() {
    let played = low_water();
    let look = played.look();
    let cross = played.solve.cross.expect("a cross");
    let mut drawn = String::new();
    for (pair, solved_in) in [("green-orange", 2), ("green-red", 3), ("blue-orange", 4), ("blue-red", 5)] {
        let pair = played.pair(pair);
        for piece in Piece::of_pair(pair) {
            for step in &played.solve.steps[1..=solved_in] {
                let filled: &[Pair] = if step.kind == Kind::Pair { &step.pairs } else { &[] };
                for moment in step.from..step.to {
                    let state = &played.replay.moments[moment].state;
                    let in_hand = step.pairs.contains(&pair);
                    let target = !in_hand
                        && filled.iter().any(|slot| match piece {
                            Piece::Corner(corner) => state.corner(corner).place() == slot.corner.home(),
                            Piece::Edge(edge) => state.edge(edge).place() == slot.edge.home(),
                        });
                    let [up, down, slot] = match look.lane_grade(piece, moment) {
                        LaneGrade::Plain => ['▀', '▄', '▲'],
                        LaneGrade::Followed => ['▔', '▁', '△'],
                        LaneGrade::NotFound => ['˙', '.', '∧'],
                    };
                    drawn.push(if piece.is_up(state, cross) {
                        up
                    } else if target {
                        slot
                    } else {
                        down
                    });
                }
                drawn.push(if step.pairs.contains(&pair) { '◆' } else { '│' });
            }
            drawn.push('\n');
        }
    }
    insta::assert_snapshot!(drawn, @"
    ▄▀▀▀▀▀│▀▀▀▔▀▀▀◆
    ˙˙˙˙..│▀▔▁▁▔▔▀◆
    ..▄▁▁▁│.▄▄▄▄△△│▄▄▀▀▀▀▀▀◆
    ......│∧∧∧△△▀▔│▔▔▔▔▔▀▀▀◆
    ˙˙▔▔▀▀│▀▀▔▀▀▄▄│▀▀▀▀▲△▀▔│▔▔▀▀▀▀▀▄◆
    ...▀▀▀│▄▁▔▀▀▄▄│▀▀▀▀▲△▀▔│▔▔▀▁▁▁▁▁◆
    ▀▁▁▁▔▔│˙▀▀▀▁▁▁│▁▁▁▁▁▄△△│▄△△▄▁▄▄▁│▄▁▁▄▀▀◆
    ˙˙˙˙˙˙│˙▀▀▔▁▁▁│.▁▁▁▁▄▁▁│▄▁▁▄▄▀▔▔│▔▔▔▔▔▀◆
    ");
    // In inspection everything can be looked at; where the last pair is in, it is not out of mind.
    for pair in Pair::all(cross) {
        for piece in Piece::of_pair(pair) {
            assert_eq!(look.lane_grade(piece, 0), LaneGrade::Plain);
            let end = played.replay.moves.len();
            assert_ne!(look.lane_grade(piece, end), LaneGrade::NotFound);
        }
    }
}

#[test]
fn the_way_through_the_cross_can_be_followed_from_inspection() {
    let played = low_water();
    let [corner, edge] = played.look().travel(1, played.pair("green-orange")).expect("a cross");
    let way = |travel: &cornerwise::sight::Travel| {
        let stages = travel
            .way
            .iter()
            .map(|stage| format!("{} {}{}", stage.offset, stage.place, if stage.up { " up" } else { "" }));
        format!("{} > {} by {}", travel.from, travel.to, stages.collect::<Vec<_>>().join(", "))
    };
    // Up with R2, and there it stays; at UL until L and F bring it to UF.
    assert_eq!(way(&corner), "DFR > UBR by 1 UBR up");
    assert_eq!(way(&edge), "UL > UF by 4 FL, 6 UF up");
}

#[test]
fn what_lay_open_in_the_step_before() {
    let played = low_water();
    let look = played.look();
    // Before pair 2 begins, pair 1 showed blue-orange from its first moment on.
    let [corner, edge] =
        look.lay_open_before(3, played.pair("blue-orange")).map(|open| open.expect("it lay open"));
    assert_eq!((corner.first, corner.place.to_string().as_str()), (0, "UFR"));
    assert_eq!((edge.first, edge.place.to_string().as_str()), (0, "FR"));
    assert_eq!(corner.at_end.to_string(), "UFR");
    // Nothing of the edge of green-red was to be seen in the cross, and before the cross there is no step.
    let [corner, edge] = look.lay_open_before(2, played.pair("green-red"));
    assert_eq!((corner.map(|open| open.first), edge), (Some(2), None));
    assert_eq!(look.lay_open_before(1, played.pair("green-red")), [None, None]);
}

#[test]
fn a_position_to_play_from() {
    let played = Played::new(FORK, "x2 y L2 U' R2 F D L'");
    let rows: Vec<String> = played
        .look()
        .to_play()
        .iter()
        .map(|offer| {
            let (corner, edge) = (offer.corner, offer.edge);
            let tier = offer.tier.word();
            format!(
                "{:<13} {tier:<5} {} {:?}  {} {:?}  {}",
                offer.pair.to_string(),
                corner.place,
                corner.grade,
                edge.place,
                edge.grade,
                words(&offer.left)
            )
        })
        .collect();
    insta::assert_snapshot!(rows.join("\n"), @r"
    blue-red      top   UFL Plain  UR Plain  3 to go
    green-orange  top   UBR Plain  FR Plain  4 to go
    green-red     top   UFR Plain  BR Hidden  4 to go
    blue-orange   slot  DBL Hidden  FL Deduced  late, 0 to go
    ");
    assert!(low_water().look().to_play().is_empty(), "no pair is open");
    // In the middle of a pair the turns since the last one are the step before.
    let midway = Played::new(FORK, "x2 y L2 U' R2 F D L' U' R' U2");
    let offers = midway.look().to_play();
    assert_eq!(offers.len(), 4);
    assert!(offers.iter().all(|offer| offer.left.lead.is_none_or(|lead| lead <= 3)));
    assert!(offers.iter().any(|offer| offer.corner.followed));
    // Without a cross there is nothing to say.
    assert!(Played::new(FORK, "x2 y L2 U'").look().to_play().is_empty());
}

#[test]
fn of_two_pairs_at_once_the_better_found_stands_for_both() {
    let left = |ready, lead| {
        let played = low_water();
        let mut left = played.look().left(1)[0];
        (left.ready, left.lead) = (ready, lead);
        left
    };
    let best = |pairs: &[(bool, Option<usize>)]| {
        Left::best(pairs.iter().map(|&(ready, lead)| left(ready, lead))).map(|left| (left.ready, left.lead))
    };
    assert_eq!(best(&[]), None);
    assert_eq!(best(&[(false, Some(2)), (true, Some(2))]), Some((true, Some(2))));
    assert_eq!(best(&[(true, Some(3)), (true, Some(5))]), Some((true, Some(5))));
    assert_eq!(best(&[(false, None), (false, Some(0))]), Some((false, Some(0))));
}

/// Steps shorter than the lead: at their first moment is in time, one moment later is not.
#[test]
fn a_short_step_asks_for_its_first_moment() {
    let positions: Vec<Position> =
        [vec![], moves("U"), moves("U U")].into_iter().map(|m| Position::SOLVED.after(m)).collect();
    let turns = moves("U U");
    let step = Moments::new(&positions, &turns);
    let open = Pair::all(Colour::Yellow);
    let looked = Looked::new(step, Colour::Yellow, &open, &[], UFR);
    assert_eq!(looked.deadline(DEFAULT_LEAD), 0);
    assert_eq!(looked.deadline(2), 0);
    assert_eq!(looked.deadline(1), 1);
    assert_eq!(looked.deadline(0), 2);
}

fn every_piece() -> impl Iterator<Item = Piece> {
    Corner::ALL.into_iter().map(Piece::Corner).chain(Edge::ALL.into_iter().map(Piece::Edge))
}

/// Solves made to order, of every kind the generator knows.
fn made(seed: u64, count: usize, mut check: impl FnMut(&[Move], &[Move])) {
    let (mut solver, mut rng) = (Solver::new(), Rng::new(seed));
    let kinds = kinds_of_solve();
    for n in 0..count {
        let solve = solver.random(&mut rng, &kinds[n % kinds.len()]);
        check(&solve.scramble, &solve.moves().collect::<Vec<_>>());
    }
}

fn no_later(a: Option<usize>, b: Option<usize>) -> bool {
    a.unwrap_or(usize::MAX) <= b.unwrap_or(usize::MAX)
}

/// Plain implies found implies known; what the grades say at one moment is what the step as a whole says.
///
/// It must hold: a piece that is found earlier is known earlier, so what is accounted for is known, and then the one
/// sticker or the one place leaves perfect elimination no other piece either.
#[test]
fn plain_implies_found_implies_known() {
    let (mut deduced, mut only_place, mut known_only) = (0, 0, 0);
    made(61, 500, |scramble, solution| {
        let played = Played::from(Position::SOLVED.after(scramble.iter().copied()), solution.to_vec());
        let look = played.look();
        let cross = played.solve.cross.expect("a cross");
        for (index, step) in played.solve.steps.iter().enumerate() {
            let Some(looked) = look.step(index) else { continue };
            let given = played.solve.solved_before(index).into_iter().chain(step.pairs.iter().copied());
            let positions = looked.step().positions();
            let watch = Watch::new(positions, Pieces::cross_and(cross, given), UFR);
            for piece in look.left(index).iter().flat_map(|left| Piece::of_pair(left.pair)) {
                let found = looked.found(piece);
                let watched = watch.piece(piece);
                assert_eq!(found.plain, watched.seen);
                assert!(no_later(found.found(), found.plain));
                assert!(
                    no_later(watched.known, found.found()),
                    "{piece:?} in {solution:?} after {scramble:?}"
                );
                let grades: Vec<Grade> = (0..positions.len()).map(|m| looked.grade(piece, m)).collect();
                assert_eq!(found.found(), grades.iter().position(|&grade| grade != Grade::Hidden));
                assert_eq!(found.plain, grades.iter().position(|&grade| grade == Grade::Plain));
                for (offset, &grade) in grades.iter().enumerate() {
                    assert!(grade == Grade::Hidden || watch.known_at(offset).contains(piece));
                    assert!(looked.found_by(piece, offset) || grade == Grade::Hidden);
                    // The last moment belongs to the eyes of the next step.
                    let lost = look.lane_grade(piece, step.from + offset) == LaneGrade::NotFound;
                    assert!(offset + 1 == grades.len() || lost != looked.found_by(piece, offset));
                }
                deduced += usize::from(found.deduced.is_some());
                only_place += usize::from(found.deduced.is_some_and(|(_, how)| how == Deduction::OnlyPlace));
                known_only += usize::from(watched.known.is_some() && found.found().is_none());
            }
            // Nothing is found of what is not to be found.
            let others =
                every_piece().filter(|&piece| looked.followed(piece, 0) && !looked.found_by(piece, 0));
            for piece in others {
                assert_eq!(looked.found(piece), Found::default());
            }
        }
    });
    assert!(deduced > 500 && only_place > 50 && known_only > 50, "{deduced} {only_place} {known_only}");
}

/// It holds, and why: a piece that is plain stays plain; one that shows one sticker shows the same one or two; what is
/// accounted for only grows, by what is plain now and, from moment to moment, by what was found before; and a place
/// that shows more can only be ruled out.
#[test]
fn more_faces_never_make_a_pair_late() {
    let mut rng = Rng::new(62);
    let mut became_ready = 0;
    made(62, 500, |scramble, solution| {
        let played = Played::from(Position::SOLVED.after(scramble.iter().copied()), solution.to_vec());
        let faces =
            |bits: usize| Face::ALL.into_iter().filter(|&f| bits >> f as usize & 1 != 0).collect::<FaceSet>();
        let sight = if rng.chance(0.5) { UFR } else { faces(rng.below(64)) };
        let more = faces(rng.below(64));
        let (look, wider) = (played.look_with(sight), played.look_with(sight.union(more)));
        for index in 0..played.solve.steps.len() {
            for (left, with_more) in look.left(index).iter().zip(wider.left(index)) {
                assert!(with_more.ready || !left.ready);
                assert!(with_more.plain_ready || !left.plain_ready);
                for (found, with_more) in [(left.corner, with_more.corner), (left.edge, with_more.edge)] {
                    assert!(no_later(with_more.found(), found.found()), "{sight} and {more}");
                    assert!(no_later(with_more.plain, found.plain));
                }
                became_ready += usize::from(with_more.ready && !left.ready);
            }
        }
    });
    assert!(became_ready > 50, "{became_ready}");
}

/// The same solve in a mirror: left and right changed places and every turn goes the other way round.
fn mirrored(mv: Move) -> Move {
    let face = |face: Face| match face {
        Face::L => Face::R,
        Face::R => Face::L,
        other => other,
    };
    match mv {
        Move::Turn(f, amount) => Move::Turn(face(f), amount.inverse()),
        Move::Wide(f, amount) => Move::Wide(face(f), amount.inverse()),
        // A mirrored `M` still follows the left face, which is now the right one: the same turn.
        Move::Slice(cornerwise::cube::Slice::M, amount) => Move::Slice(cornerwise::cube::Slice::M, amount),
        Move::Slice(slice, amount) => Move::Slice(slice, amount.inverse()),
        Move::Rotation(Axis::X, amount) => Move::Rotation(Axis::X, amount),
        Move::Rotation(axis, amount) => Move::Rotation(axis, amount.inverse()),
    }
}

fn renamed(pair: Pair, cross: Colour, colour: impl Fn(Colour) -> Colour) -> Pair {
    let [a, b] = pair.sides();
    let sides = ColourSet::of(&[colour(a), colour(b)]);
    let all = Pair::all(colour(cross));
    all.into_iter().find(|other| ColourSet::of(&other.sides()) == sides).expect("one of the four")
}

#[test]
fn a_mirrored_and_a_recoloured_solve_see_the_same() {
    let mut rng = Rng::new(63);
    made(63, 300, |scramble, solution| {
        let played = Played::from(Position::SOLVED.after(scramble.iter().copied()), solution.to_vec());
        let cross = played.solve.cross.expect("a cross");
        let look = played.look();
        let mirror = |moves: &[Move]| moves.iter().map(|&mv| mirrored(mv)).collect::<Vec<_>>();
        let in_mirror = Played::from(Position::SOLVED.after(mirror(scramble)), mirror(solution));
        let red_for_orange = |colour: Colour| match colour {
            Colour::Red => Colour::Orange,
            Colour::Orange => Colour::Red,
            other => other,
        };
        let hold = Hold::ALL[rng.below(24)];
        let start = Position { hold, ..Position::SOLVED };
        let recoloured = Played::from(start.after(scramble.iter().copied()), solution.to_vec());
        let by_hold = |colour: Colour| hold.colour(Hold::START.face(colour));
        let mirror_look = in_mirror.look_with(FaceSet::of(&[Face::U, Face::F, Face::L]));
        let recoloured_look = recoloured.look();
        let views: [(&LookAhead<'_>, &dyn Fn(Colour) -> Colour); 2] =
            [(&mirror_look, &red_for_orange), (&recoloured_look, &by_hold)];
        for index in 0..played.solve.steps.len() {
            for left in look.left(index) {
                for (other, colour) in views {
                    let pair = renamed(left.pair, cross, colour);
                    let same = other.left(index).into_iter().find(|other| other.pair == pair);
                    assert_eq!(same, Some(Left { pair, ..left }));
                }
            }
        }
    });
}

/// The scan before the turns are known asks one question of lifted and slot; and at a step's first moment, if no
/// open corner is up, every open slot holds the corner of an open pair (there is nowhere else for them).
#[test]
fn the_scan_before_the_turns_and_after() {
    let mut met = [0; 4];
    made(64, 300, |scramble, solution| {
        let played = Played::from(Position::SOLVED.after(scramble.iter().copied()), solution.to_vec());
        let cross = played.solve.cross.expect("a cross");
        let look = played.look();
        for (index, step) in played.solve.steps.iter().enumerate() {
            let Some(looked) = look.step(index) else { continue };
            let open = played.solve.open_before(index);
            let target: &[Pair] = if step.kind == Kind::Pair { &step.pairs } else { &[] };
            let scanned = scan(looked.step(), cross, &open, &step.pairs, target);
            let pairs: Vec<Pair> = look.left(index).iter().map(|left| left.pair).collect();
            assert_eq!(scanned.len(), pairs.len());
            assert!(scanned.is_sorted_by_key(|scanned| scanned.tier));
            let (from, to) = (&looked.step().positions()[0].state, &looked.step().last().state);
            for one in &scanned {
                let corner = one.pair.corner;
                let before = tier_to_play(corner, cross, target, from);
                let expected = match one.tier {
                    Tier::Lifted => {
                        assert!(is_up(to, corner, cross));
                        Tier::Slot
                    }
                    tier => tier,
                };
                assert_eq!(before, expected);
                assert_eq!(one.buried, one.tier == Tier::Top && !is_up(to, corner, cross));
                assert_eq!(
                    (one.corner.up_at_first, one.corner.up_at_last),
                    (is_up(from, corner, cross), is_up(to, corner, cross))
                );
                met[Tier::ALL.iter().position(|&tier| tier == one.tier).expect("a tier")] += 1;
            }
            if step.kind == Kind::Pair && open.iter().all(|pair| !is_up(from, pair.corner, cross)) {
                let held =
                    |slot: &Pair| open.iter().any(|pair| from.corner_in(slot.corner.home()) == pair.corner);
                assert!(open.iter().all(held));
            }
        }
    });
    assert!(met.iter().all(|&n| n > 20), "{met:?}");
}

/// A rotation carries nothing: it only gives places other names.
#[test]
fn a_rotation_is_no_stage_of_a_way() {
    let turns = [Move::Rotation(Axis::Y, Amount::Quarter), Move::Turn(Face::U, Amount::Quarter)];
    let replay = Replay::from_position(Position::SOLVED, turns);
    let step = Moments::new(&replay.moments, &turns);
    let pair = Pair::all(Colour::Yellow)[0];
    let up = Piece::Corner(
        Corner::ALL
            .into_iter()
            .find(|c| c.has(Colour::White) && !c.has(Colour::Red) && !c.has(Colour::Blue))
            .expect("white, green, orange"),
    );
    let way = cornerwise::sight::travel(step, Colour::Yellow, up).way;
    assert_eq!(way.iter().map(|stage| stage.offset).collect::<Vec<_>>(), [2]);
    assert!(cornerwise::sight::travel(step, Colour::Yellow, Piece::Corner(pair.corner)).way.is_empty());
}

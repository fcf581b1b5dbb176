//! Sight in three grades: worked positions. The records are those of `reconstructions/`; the tables are worked out by
//! the words of the rules.

use cornerwise::cube::{Colour, ColourSet, Edge, Face, FaceSet, Move, Pair, Position};
use cornerwise::look_ahead::{LaneGrade, LookAhead};
use cornerwise::replay::Replay;
use cornerwise::sight::grades::{Deduction, Found, Grade, Left, Looked};
use cornerwise::sight::reasons::{Clue, NotHere, Why};
use cornerwise::sight::{DEFAULT_LEAD, Moments, Piece};
use cornerwise::steps::{self, Kind, Solve};

use crate::support::read::moves;

pub(crate) const UFR: FaceSet = FaceSet::of(&[Face::U, Face::F, Face::R]);

/// A solve played and cut into steps.
pub(crate) struct Played {
    pub(crate) replay: Replay,
    pub(crate) solve: Solve,
}

impl Played {
    pub(crate) fn new(scramble: &str, solution: &str) -> Played {
        Played::from(Position::SOLVED.after(moves(scramble)), moves(solution))
    }

    pub(crate) fn from(start: Position, solution: Vec<Move>) -> Played {
        let replay = Replay::from_position(start, solution);
        let solve = steps::split(&replay);
        Played { replay, solve }
    }

    pub(crate) fn look(&self) -> LookAhead<'_> {
        self.look_with(UFR)
    }

    pub(crate) fn look_with(&self, sight: FaceSet) -> LookAhead<'_> {
        LookAhead::new(&self.replay, &self.solve, sight, DEFAULT_LEAD)
    }

    pub(crate) fn pair(&self, name: &str) -> Pair {
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
    let next = |index: usize| {
        let [next] = played.solve.next_pairs(index)[..] else { panic!("one pair follows") };
        words(look.left(index).iter().find(|left| left.pair == next).expect("a pair follows"))
    };
    let told: Vec<String> = (1..5).map(next).collect();
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
    let rank = |ready, lead, cost: Option<u32>| left(ready, lead).rank(cost);
    assert!(rank(true, Some(2), None) > rank(false, Some(2), Some(1)));
    assert!(rank(true, Some(5), Some(9)) > rank(true, Some(3), Some(1)));
    assert!(rank(false, Some(0), None) > rank(false, None, Some(1)));
    assert!(rank(true, Some(3), Some(4)) > rank(true, Some(3), Some(5)), "the cheaper of equals");
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

//! What is said of the records kept here, worked out by hand from their text.

use cornerwise::cube::{Colour, Moves, PairName};
use cornerwise::diff::{self, Sides, Slip, Split, WentFor, Which, Why};
use cornerwise::record;
use cornerwise::steps::Name;

use super::sides::{File, compare, texts};

#[test]
fn a_fork_after_the_first_pair() {
    let comparison = File::kept("fork-after-first-pair").compared();
    assert!(comparison.start.same && comparison.different && !comparison.same_turns);
    // The cross has six turns, the first pair seven; the marks behind it are <2.28> and <2.66>.
    let parting = comparison.parting.as_ref().expect("they part");
    assert_eq!(parting.turns, 13);
    let (a, b) = (&parting.at.a, &parting.at.b);
    assert_eq!((a.seconds, b.seconds), (Some(2.28), Some(2.66)));
    let second = Some(Name::Pairs { first: 2, count: 1 });
    assert_eq!((a.step, b.step), (second, second));
    // A writes `R U' R2 U R` and B `y U D R' …`: with yellow up and red in front, R is green's side. B's U is
    // yellow, and D commutes with it.
    assert_eq!((a.written, a.turn), ("R".parse().ok(), "R".parse().ok()));
    assert_eq!((b.written, b.turn), ("U".parse().ok(), "U".parse().ok()));
    assert_eq!((a.line, b.line), (Some(10), Some(29)));
    // Nothing in common but the solved cube.
    assert_eq!(comparison.meetings, []);
    let names: Vec<&str> = comparison.rows.iter().map(|row| row.name.as_str()).collect();
    assert_eq!(names, ["cross", "pair 1", "pairs 2 to 4", "OLL", "PLL", "AUF"]);
    let joints: Vec<bool> = comparison.rows.iter().map(|row| row.joint).collect();
    // The cross, the first pair, all four pairs, the orientation, the permutation; a final turn on one side.
    assert_eq!(joints, [true, true, true, true, true, false]);
    let row = &comparison.rows[2];
    let pairs = |which: Which| -> Vec<PairName> {
        row.of(which).into_iter().flat_map(|side| &side.steps).flat_map(|step| step.pairs.clone()).collect()
    };
    let named = |names: [&str; 3]| names.map(|name| name.parse::<PairName>().expect("a pair"));
    assert_eq!(pairs(Which::A), named(["green-orange", "green-red", "blue-orange"]));
    assert_eq!(pairs(Which::B), named(["blue-orange", "green-red", "green-orange"]));
    // By the marks pairs 2 to 4 end at <5.92> and <7.18>, and begin at <2.28> and <2.66>. Gaps there: 0.09 + 0.13 + 0.15,
    // and 0.81 + 0.33 + 0.12. So A turned 3.27 s for 20 turns and B 3.26 s for 17: the mean of the paces is 0.1776 s.
    let split = |row: usize| comparison.rows[row].difference.and_then(|difference| difference.split);
    assert_eq!(row.difference.and_then(|gap| gap.seconds), Some(0.88));
    assert_eq!(split(2), Some(Split { turns: -0.53, speed: 0.52, stopped: 0.89 }));
    assert_eq!(split(4), Some(Split { turns: 0.75, speed: 0.67, stopped: 0.25 }));
    // A turn of 0.19 s after 0.06 s, which the other had no need of.
    assert_eq!(split(5), Some(Split { turns: -0.19, speed: 0.0, stopped: -0.06 }));
    assert_eq!(comparison.difference.split, Some(Split { turns: -0.29, speed: 1.95, stopped: 1.34 }));
    assert_eq!(comparison.behind, Some(Which::B));
    let went: Vec<(WentFor, f64)> = comparison.went.iter().map(|went| (went.what, went.seconds)).collect();
    assert_eq!(went, [(WentFor::Speed, 1.95), (WentFor::Stopped, 1.34), (WentFor::Turns, -0.29)]);
    // Most in PLL; then the pairs, before which both stood alike.
    assert_eq!(comparison.largest, [4, 2]);
    let fork = comparison.fork.as_ref().expect("they part before the pairs");
    assert!(fork.same_position && fork.row == 2);
    let stop = comparison.blamed.expect("0.81 s before pair 2");
    let stopped = &comparison.annotations.b.steps[stop.step];
    assert_eq!((stopped.name, stopped.stops[stop.stop].seconds), (Name::Pairs { first: 2, count: 1 }, 0.81));
    // With red in front, as A holds it: `x2 y` from white up and green in front.
    assert_eq!((comparison.hold.up, comparison.hold.front), (Colour::Yellow, Colour::Red));
}

#[test]
fn two_crosses_share_no_layer_but_are_compared() {
    let comparison = File::kept("two-crosses").compared();
    assert_eq!(comparison.parting.as_ref().map(|parting| parting.turns), Some(0));
    let names: Vec<&str> = comparison.rows.iter().map(|row| row.name.as_str()).collect();
    assert_eq!(names, ["cross", "pairs 1 to 4", "OLL", "PLL", "AUF"]);
    assert!(comparison.fork.is_none() && comparison.meetings.is_empty());
    assert!(comparison.rows.iter().all(|row| row.a.is_some() && row.b.is_some() && row.joint));
    assert_eq!(comparison.difference.seconds, Some(2.35));
    assert_eq!(comparison.difference.obtm, 2);
}

#[test]
fn pairs_in_the_other_order_meet_again() {
    let comparison = File::kept("meets-again").compared();
    // Cross and `R U' R' U2` are the same.
    assert_eq!(comparison.parting.as_ref().map(|parting| parting.turns), Some(10));
    let meeting = &comparison.meetings[0];
    assert_eq!((meeting.at.a.obtm, meeting.at.b.obtm), (16, 16));
    assert_eq!((meeting.at.a.seconds, meeting.at.b.seconds), (Some(3.36), Some(2.84)));
    assert_eq!((meeting.at.a.place.as_str(), meeting.at.b.place.as_str()), ("after pair 2", "after pair 2"));
    assert_eq!(meeting.solved, ["white cross", "green-red", "blue-red"]);
    // They part once more in the third pair, and the last two layers are the same again.
    let last = comparison.meetings.last().expect("two");
    assert!(last.to_end);
    let names: Vec<&str> = comparison.rows.iter().map(|row| row.name.as_str()).collect();
    assert_eq!(names, ["cross", "pairs 1 and 2", "pair 3", "pair 4", "OLL", "PLL"]);
    assert!(comparison.rows[4].same_turns && comparison.rows[5].same_turns);
    assert!(comparison.rows.iter().all(|row| row.joint));
}

/// Turns common to both are common; the rest is told apart.
#[test]
fn turns_that_only_one_side_made_are_marked() {
    let comparison = File::kept("meets-again").compared();
    let row = &comparison.rows[1];
    // `R U' R' U2 R U2 R'` and `R U' R' U2 L' U' L` are the first pairs.
    let told: Vec<(Option<Which>, String)> =
        row.turns.iter().map(|stretch| (stretch.only, stretch.turns.to_string())).collect();
    assert_eq!(told[0], (None, "R U' R' U2".into()));
    let only = |which| {
        let mine = told.iter().filter(|(only, _)| only.is_none() || *only == Some(which));
        mine.map(|(_, turns)| turns.as_str()).collect::<Vec<_>>().join(" ")
    };
    for which in Which::BOTH {
        assert_eq!(only(which), row.of(which).expect("both").turns.to_string());
    }
    let first = |which: Which| row.of(which).expect("both").steps[0].turns.to_string();
    assert_eq!(
        (first(Which::A), first(Which::B)),
        ("R U' R' U2 R U2 R'".into(), "R U' R' U2 L' U' L".into())
    );
}

fn start(a: &str, b: &str) -> diff::Start {
    let read = |text: &str| {
        let source = cornerwise::diagnostic::Source::new("-", format!("{text}\n\nR\n"));
        record::read(&source).records.remove(0)
    };
    diff::start(Sides { a: &read(a), b: &read(b) })
}

#[test]
fn a_slip_in_the_scramble_is_found() {
    let whole = "B' L2 F U2 D2 L2 D2 L F U D B2 R L2 D L2 D' F2 B2 U2";
    let slip = |a: usize, x: &str, b: usize, y: &str| Slip {
        token: Sides { a, b },
        text: Sides { a: x, b: y }.map(|text| text.parse::<Moves>().expect("moves")),
    };
    for (other, slips) in [
        // A prime lost, a wrong face, a token left out, one too many.
        ("B L2 F U2 D2 L2 D2 L F U D B2 R L2 D L2 D' F2 B2 U2", vec![slip(1, "B'", 1, "B")]),
        ("B' L2 F U2 D2 L2 D2 L F U D B2 R L2 D R2 D' F2 B2 U2", vec![slip(16, "L2", 16, "R2")]),
        ("B' L2 F U2 D2 L2 D2 L F U D B2 R L2 D L2 F2 B2 U2", vec![slip(17, "D'", 17, "")]),
        ("B' L2 F U2 D2 L2 D2 L F U D B2 R L2 D L2 D' F2 B2 U2 R", vec![slip(21, "", 21, "R")]),
        (
            "B' L2 F' U2 D2 L2 D2 L F U D B2 R L2 D L2 D' F2 B2 U",
            vec![slip(3, "F", 3, "F'"), slip(20, "U2", 20, "U")],
        ),
    ] {
        let start = start(whole, other);
        assert!(!start.same);
        assert_eq!(start.why, Some(Why::Slip { slips }), "{other}");
    }
    // A wide turn for an outer one shifts all that follows in the frame of the scramble, not as written.
    let wide = start(whole, "B' L2 F U2 D2 Lw2 D2 L F U D B2 R L2 D L2 D' F2 B2 U2");
    assert_eq!(wide.why, Some(Why::Slip { slips: vec![slip(6, "L2", 6, "Lw2")] }));
}

#[test]
fn the_same_position_is_the_same_start_however_it_came_about() {
    assert!(start("R L U", "L R U").same);
    assert!(start("R U", "x R B").same);
    assert!(start("R U R'", "R U R' y").same);
    assert!(start("Rw U", "L F").same);
    assert!(start("U U", "U2").same);
    // Singmaster's order of R U R' U' is 6 (common practice, no source).
    assert!(start("R U R' U' R U R' U' R U R' U'", "U R U' R' U R U' R' U R U' R'").same);
}

#[test]
fn another_hold_and_another_scramble_are_told_apart() {
    let whole = "B' L2 F U2 D2 L2 D2 L F U D B2 R L2 D L2 D' F2 B2 U2";
    // The same turns of a cube that was held with red in front: written with `y` taken away.
    let turned = start("y R U F2 D", "R U F2 D");
    assert_eq!(turned.why, Some(Why::Turned { rotations: "y".parse().expect("a rotation") }));
    let other = start(whole, "U F2 L B R2 U' R L2 U L' D B U D B2 D L F' B D'");
    assert_eq!(other.why, Some(Why::Other));
    assert!(other.corners > 0 && other.corners <= 8 && other.edges <= 12);
    let one_turn = start("R", "U U'");
    // A quarter turn moves four corners and four edges.
    assert_eq!((one_turn.corners, one_turn.edges), (4, 4));
}

/// An xcross on one side: cross and first pair have no counterpart of their own.
#[test]
fn an_xcross_stands_beside_a_cross_and_the_pair_after_it() {
    // White below; on the second side the pair is in before the cross is done.
    let scramble = "x2 R U R' U' F2 x2";
    let a = format!("{scramble}\n\nx2 F2 U R U' R'\n");
    let comparison = texts(&a, &a);
    assert!(comparison.rows.iter().all(|row| row.a.is_some() && row.b.is_some()));
    let kept = File::kept("xcross");
    let comparison = compare(kept.entry(0), kept.entry(0));
    assert_eq!(comparison.rows[0].name, "cross and pair 1");
}

#[test]
fn the_best_of_each_step_is_summed() {
    let file = File::kept("fork-after-first-pair");
    let names = ["A".to_string(), "B".to_string()];
    let best = diff::best_steps(&names, &[&file.facts[0], &file.facts[1]]);
    let name: Vec<&str> = best.stages.iter().map(|stage| stage.name.as_str()).collect();
    assert_eq!(name, ["cross", "pair 1", "pair 2", "pair 3", "pair 4", "OLL", "PLL", "AUF"]);
    // 1.04 + 1.24 + 0.87 + 1.38 + 0.82 + 1.65 + 1.32 + 0, by the marks.
    assert_eq!(best.seconds, Some(8.32));
    assert_eq!(best.obtm, 6 + 7 + 5 + 7 + 4 + 8 + 11);
    assert_eq!(best.whole_obtm, [55, 55]);
    assert_eq!(best.whole_seconds, [Some(9.14), Some(12.14)]);
    assert_eq!(best.stages[4].fastest.as_ref().map(|best| best.of.clone()), Some(vec![1]));
    assert_eq!(best.stages[0].fewest_turns.of, [0, 1]);
}

/// A pair that came with the cross would make the other's cross and its own first pair cheaper than they are.
#[test]
fn best_steps_are_of_the_same_work() {
    let file = File::kept("fork-after-first-pair");
    let (_, broken) = file.source.text.split_once("---\n").expect("two");
    let cut = broken.replace("<3.47> y U D R' U' R D' <4.64>                // 2nd pair", "?");
    assert_ne!(cut, broken);
    let cut = File::of("cut", &cut);
    let names = ["A".to_string(), "B".to_string()];
    let best = diff::best_steps(&names, &[&file.facts[0], &cut.facts[0]]);
    let name: Vec<&str> = best.stages.iter().map(|stage| stage.name.as_str()).collect();
    // Only what both did can be compared.
    assert_eq!(name, ["cross", "pair 1"]);
}

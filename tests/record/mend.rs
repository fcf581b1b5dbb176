//! `mend` on records broken by hand: every way of writing, every kind of slip, and what it refuses.
//!
//! Every repair shown is replayed by the slow model of stickers in space, which shares nothing with the code
//! that found it.

use crate::support::read;
use crate::support::slips::{self, KINDS};
use crate::support::solver::{Options, Rng, Solver, Style};
use crate::support::space::Space;
use cornerwise::cube::Move;
use cornerwise::diagnostic::Source;
use cornerwise::mend::{self, Examination, Health, Settings, Slip, Standing, text};
use cornerwise::record::{self, Record};
use cornerwise::study::Study;

fn look(text: &str) -> (Source, Record, Examination) {
    let (source, record) = slips::first(text);
    let examination = mend::examine(&Study::new(&source, 1, &record), &Settings::default());
    check_by_slow_model(&examination);
    (source, record, examination)
}

/// Every repair, replayed sticker by sticker.
#[track_caller]
fn check_by_slow_model(examination: &Examination) {
    for repair in &examination.ranked.repairs {
        let moves: Vec<Move> = repair.scramble.playable().chain(repair.solution.playable()).collect();
        assert_eq!(moves.len(), repair.scramble.tokens.len() + repair.solution.tokens.len());
        assert!(Space::played(&moves).all_faces_are_uniform(), "{:?}", repair.changes);
    }
}

/// A record in plain text that comes out: the scramble is the solution undone.
fn plain(solution: &str) -> String {
    let (_, record) = slips::first(&format!("R\n\n{solution}\n"));
    let moves: Vec<Move> = record.solution.playable().collect();
    assert_eq!(moves.len(), record.solution.tokens.len());
    let scramble: Vec<String> = read::inverse(&moves).iter().map(ToString::to_string).collect();
    format!("{}\n\n{solution}\n", scramble.join(" "))
}

/// Breaks a record by replacing `right` with `wrong`, mends it, and expects the first repair to give it back.
#[track_caller]
fn gives_back(whole: &str, right: &str, wrong: &str) -> Examination {
    assert_eq!(whole.matches(right).count(), 1, "one place to break");
    let broken = whole.replacen(right, wrong, 1);
    let (source, record, examination) = look(&broken);
    let repair = examination.ranked.repairs.first().unwrap_or_else(|| panic!("no repair of {broken}"));
    let mended = text::mended(&source, 0, &record, repair).unwrap_or_else(|error| panic!("{error}"));
    assert_eq!(mended, whole, "broken was: {broken}");
    examination
}

/// A solve whose scramble is not its solution backwards: otherwise every slip could as well be one of the scramble.
/// Made by the generator of these tests.
const SCRAMBLE: &str = "D L U F' B' U2 B2 D2 U B2 L' D' B U R' F2 L2 D' B L2";
const BODY: &str = "x2 L' F D L D L R U' R' U2 L' U2 L2 U L' R' U R y' L U L' F' U F \
                    U' r' U' r R' U' R U r' U r R U R' U' D R2 U' R U' R' U R' U R2 D'";

fn solve() -> String {
    format!("{SCRAMBLE}\n\n{BODY}\n")
}

#[test]
fn a_sound_record_is_left_alone() {
    for text in [solve(), plain(&format!("x2 y\n{BODY} // cross"))] {
        let (_, _, examination) = look(&text);
        assert_eq!(examination.health, Health::Sound);
        assert_eq!(examination.standing, Standing::NothingToRepair);
        assert!(examination.ranked.repairs.is_empty());
    }
}

#[test]
fn single_slips_are_given_back_byte_for_byte() {
    let whole = solve();
    let slip = |right: &str, wrong: &str| {
        let examination = gives_back(&whole, right, wrong);
        assert_eq!(examination.standing, Standing::Clear, "{right} {wrong}");
        examination.ranked.repairs[0].changes[0].slip
    };
    assert_eq!(slip("U L' R' U R y'", "U L R' U R y'"), Slip::PrimeLost);
    assert_eq!(slip("x2 L' F D L", "x2 L' F' D L"), Slip::PrimeGained);
    assert_eq!(slip("R' U2 L' U2 L2 U L'", "R' U2 L' U L2 U L'"), Slip::HalfForQuarter);
    assert_eq!(slip("D L D L R U'", "D R D L R U'"), Slip::Mirrored);
    assert_eq!(slip("U' r R' U' R", "U' R R' U' R"), Slip::WideForOuter);
    assert_eq!(slip("R y' L U L'", "R L U L'"), Slip::RotationForgotten);
    assert_eq!(slip("D R2 U' R U' R' U R'", "D R2 U' R U' R' R'"), Slip::Dropped);
    assert_eq!(slip("R y' L U L'", "R y' L U U L'"), Slip::Doubled);
    assert_eq!(slip("R y' L U L'", "R y' U L L'"), Slip::Swapped);
    assert_eq!(slip("R y' L U L'", "R y' L U K'"), Slip::Unreadable);
    assert_eq!(slip("R y' L U L'", "R y' L ? L'"), Slip::Unknown);
    assert_eq!(slip("R y' L U L' F' U F", "R y' L ... U F"), Slip::Gap);
    assert_eq!(slip("B2 L' D' B U R'", "B2 L' D B U R'"), Slip::PrimeLost);
}

#[test]
fn the_writers_hand_is_kept() {
    // Typographic primes, small letters for wide turns, tokens without a space between, brackets.
    let whole = solve();
    gives_back(&whole.replace('\'', "’"), "U L’ R’ U R y’", "U L R’ U R y’");
    gives_back(&whole, "R' U' R U r' U r", "R' U' R U R' U r");
    let wide = whole.replace(" r", " Rw");
    gives_back(&wide, "R' U' R U Rw' U Rw", "R' U' R U R' U Rw");
    let glued = format!("{SCRAMBLE}\n\n{}\n", BODY.replace(' ', ""));
    gives_back(&glued, "L'U2L2UL'R'URy'", "L'U2L2ULR'URy'");
    let grouped = whole.replacen("R U' R'", "(R U' R')", 1).replacen("L U L'", "(L U L')", 1);
    gives_back(&grouped, "(L U L') F'", "(L U L) F'");
    gives_back(&grouped, "(L U L') F'", "(L U) F'");
    gives_back(&grouped, "(L U L') F'", "(U L L') F'");
}

#[test]
fn groups_are_mended_in_their_text() {
    let whole = plain("F2 (R U R' U')2 L D2 (B' L)4 F R2");
    // Wrong in every copy.
    gives_back(&whole, "(R U R' U')2", "(R U R U')2");
    gives_back(&whole, "(R U R' U')2", "(R U U')2");
    gives_back(&whole, "(R U R' U')2", "(U R R' U')2");
    gives_back(&whole, "(R U R' U')2", "(R U R')2");
    gives_back(&whole, "(R U R' U')2", "(R U T' U')2");
    // The count.
    let count = gives_back(&whole, "(R U R' U')2", "(R U R' U')3");
    assert_eq!(count.ranked.repairs[0].changes[0].slip, Slip::Count);
    gives_back(&whole, "(B' L)4", "(B' L)3");
    // What stands right beside a group; the scramble is spelled as differently as can be.
    let solve = solve().replacen("x2 L' F D L D L", "x2 L' F (D L)2", 1);
    gives_back(&solve, "L' F (D L)2", "L' (D L)2");
    gives_back(&solve, "(D L)2 R U' R'", "(D L)2 U' R'");
}

#[test]
fn every_yaml_style_is_rewritten_in_its_own_way() {
    let (scramble, solution) = (SCRAMBLE, BODY);
    for (name, yaml) in [
        ("plain", format!("title: a\nscramble: {scramble}\nsolution: {solution}\nnotes: b # c\n")),
        ("literal", format!("# head\nscramble: {scramble}\nsolution: |\n  {solution} // all\ntime: 9.84\n")),
        ("folded", format!("scramble: >-\n    {scramble}\nsolution: >\n  {solution}\n")),
        ("double", format!("scramble: \"{scramble}\"\nsolution: \"{solution}\"\n")),
        (
            "single",
            format!(
                "scramble: '{}'\nsolution: '{}'\n",
                scramble.replace('\'', "''"),
                solution.replace('\'', "''")
            ),
        ),
    ] {
        // A prime lost and a turn dropped, so that primes are written and blanks placed.
        let prime = if name == "single" { "''" } else { "'" };
        let broken = |right: &str, wrong: &str| {
            gives_back(&yaml, &right.replace('\'', prime), &wrong.replace('\'', prime));
        };
        broken("U L' R' U R y'", "U L R' U R y'");
        broken("D R2 U' R U' R' U R' U R2", "D R2 U' R U' R' U R2");
        broken("R y' L U L'", "R y' L U U L'");
    }
}

#[test]
fn windows_line_ends_and_a_byte_order_mark_stay() {
    let lines = solve().replacen("F' U F U'", "F' U F\nU'", 1).replace('\n', "\r\n");
    let whole = format!("\u{feff}{lines}");
    gives_back(&whole, "F' U F\r\nU' r'", "F' U F\r\nr'");
    gives_back(&whole, "F' U F\r\nU' r'", "F' U\r\nU' r'");
    gives_back(&whole, "F' U F\r\nU' r'", "F' U F F\r\nU' r'");
}

#[test]
fn the_right_record_of_many_is_rewritten() {
    let (a, b) = (plain("L2 F' U B D2 R' F L U2 B'"), solve());
    let whole = format!("{a}---\n{b}---\n{a}");
    let broken = whole.replacen("U L' R' U R y'", "U L R' U R y'", 1);
    let source = Source::new("many", broken);
    let reading = record::read(&source);
    assert_eq!(reading.records.len(), 3);
    let record = &reading.records[1];
    let examination = mend::examine(&Study::new(&source, 1, record), &Settings::default());
    let mended = text::mended(&source, 1, record, &examination.ranked.repairs[0]).expect("it can be written");
    assert_eq!(mended, whole);
}

#[test]
fn what_is_missing_at_the_end_is_no_certainty() {
    // One turn short is a solve with a penalty (WCA Regulation 10e3): it may be right as it stands.
    let broken = solve().replacen("R2 D'\n", "R2\n", 1);
    let (_, _, examination) = look(&broken);
    assert_eq!(examination.health, Health::OneTurnShort);
    assert_eq!(examination.standing, Standing::Doubtful);
    assert_eq!(examination.ranked.repairs[0].changes[0].slip, Slip::AdjustmentMissing);
}

#[test]
fn equal_repairs_are_one_and_ties_are_said() {
    // Between scramble and solution a turn can have been left out of either.
    let whole = plain("L R U2 F' L D B' R2 U F L'");
    let broken = whole.replacen("\n\nL R", "\n\nR", 1);
    let (_, _, examination) = look(&broken);
    let repairs = &examination.ranked.repairs;
    assert!(repairs[0].ways > 1, "before or after `R`, the same turn");
    let parts: Vec<_> = repairs[..2].iter().map(|repair| repair.changes[0].part).collect();
    assert!(parts.contains(&mend::Part::Scramble) && parts.contains(&mend::Part::Solution));
    let mut effects: Vec<_> = repairs.iter().map(|repair| &repair.effect).collect();
    effects.sort();
    effects.dedup();
    assert_eq!(effects.len(), repairs.len());
}

#[test]
fn a_gap_is_filled_with_the_shortest_turns() {
    let whole = solve();
    for (right, wrong, turns) in [
        ("R' U2 L' U2 L2 U L' R' U R", "R' ... L2 U L' R' U R", 3),
        ("R' U2 L' U2 L2 U L' R' U R", "R' ... R' U R", 6),
        // A rotation is in the gap, so how the cube is held afterwards is not known.
        ("U R y' L U L' F'", "U ... U L' F'", 2),
    ] {
        let (_, _, examination) = look(&whole.replacen(right, wrong, 1));
        let first = &examination.ranked.repairs[0];
        let filled: usize = first.changes[0].moves.iter().map(|mv| mv.obtm()).sum();
        assert_eq!(filled, turns, "{:?}", first.changes);
    }
    // Two gaps, and a gap with a token that cannot be read.
    gives_back(&whole, "L' U2 L2 U L' R' U R", "L' ... U L' ... R");
    gives_back(&whole, "L' U2 L2 U L' R' U R", "L' U2 L2 Q L' ... R");
}

#[test]
fn a_gap_that_is_too_long_says_so() {
    let broken = solve().replacen("U2 L' U2 L2 U L' R'", "U2 ... R'", 1);
    let (source, record) = slips::first(&broken);
    let examination = mend::examine(&Study::new(&source, 1, &record), &Settings { gap: 3 });
    assert_eq!(examination.standing, Standing::NotFound);
    assert!(examination.searched.tried > 0);
}

#[test]
fn what_is_broken_beyond_the_bound_is_still_located() {
    let mut solver = Solver::new();
    let mut rng = Rng::new(11);
    let whole = solver.random(&mut rng, &Options::default()).yaml("made", &Style::default(), &mut rng);
    // Five tokens of the second pair's line made nonsense of, without a trace.
    let line = whole.lines().find(|line| line.contains("2nd pair")).expect("a second pair");
    let words: Vec<&str> = line.split_whitespace().take_while(|word| *word != "//").collect();
    let scrambled = line.replacen(&words.join(" "), "B2 D F B2 D' F2 L B D2", 1);
    let (_, _, examination) = look(&whole.replacen(line, &scrambled, 1));
    let located = examination.located.expect("it is broken");
    assert_eq!(located.first_broken.as_deref().map(|claim| &claim[..8]), Some("2nd pair"));
    assert!(located.holds > 0 && located.reached[0].to_string().contains("cross"));
    assert!(examination.searched.three && examination.searched.tried > 1_000_000);
}

#[test]
fn claims_decide_where_a_token_stands() {
    // Without the last turn of the first line its pair is not in, with it on the second line neither.
    let mut solver = Solver::new();
    let mut rng = Rng::new(5);
    let (mut n, mut right) = (0, 0);
    for _ in 0..12 {
        let whole = solver.random(&mut rng, &Options::default()).yaml("made", &Style::default(), &mut rng);
        for line in whole.lines().filter(|line| line.contains(" pair")) {
            let turns = line.split("//").next().expect("something").trim_end();
            let (front, last) = turns.rsplit_once(' ').expect("several turns");
            if last.starts_with('U') {
                continue;
            }
            n += 1;
            let broken = whole.replacen(turns, front, 1);
            let (source, record, examination) = look(&broken);
            let repair = &examination.ranked.repairs[0];
            let mended = text::mended(&source, 0, &record, repair).expect("it can be written");
            // Turns of opposite faces may change places within their line.
            let lines = |text: &str| -> Vec<Vec<char>> {
                text.lines()
                    .map(|line| {
                        let mut signs: Vec<char> = line.chars().filter(|c| !c.is_whitespace()).collect();
                        signs.sort_unstable();
                        signs
                    })
                    .collect()
            };
            right += usize::from(lines(&mended) == lines(&whole));
        }
    }
    assert!(n > 30);
    assert_eq!(right, n);
}

#[test]
fn absurd_records_are_refused_quickly_and_say_so() {
    // A timed test would only be a nuisance; these finish at once or not within a lifetime.
    let long = "R U F' L2 ".repeat(2000);
    let (_, _, examination) = look(&format!("R\n\n{long}\n"));
    assert!(examination.searched.cut_short);
    for text in [
        "R\n\n... U ... F ... D\n",
        "R\n\nT Q G H T Q G H U\n",
        "R\n\n(R ?)40 U\n",
        "R U\n\n...\n",
        "R\n",
        "R\n\n(R U ...)3\n",
    ] {
        let (_, _, examination) = look(text);
        assert_ne!(examination.health, Health::Sound, "{text}");
    }
}

#[test]
fn every_repair_of_every_slip_solves_by_the_slow_model_too() {
    let mut solver = Solver::new();
    let mut rng = Rng::new(3);
    for _ in 0..2 {
        let whole = solver.random(&mut rng, &Options::default()).yaml("made", &Style::default(), &mut rng);
        for kind in KINDS {
            let Some(damaged) = slips::slip(&whole, kind, &mut rng) else { continue };
            let (source, record, examination) = look(&damaged);
            for repair in examination.ranked.repairs.iter().take(3) {
                // What is written is what was shown, and mending it again changes nothing.
                let mended = text::mended(&source, 0, &record, repair).expect("it can be written");
                let (again, after) = slips::first(&mended);
                let moves: Vec<Move> = after.scramble.playable().chain(after.solution.playable()).collect();
                assert!(Space::played(&moves).all_faces_are_uniform());
                let examination = mend::examine(&Study::new(&again, 1, &after), &Settings::default());
                assert_eq!(examination.health, Health::Sound);
            }
        }
    }
}

//! Marks written into a record: in its own spelling, exactly those given, and nothing else changed.
//!
//! What is written is held against a reader of this test's own, which knows words, `<…>` and `//` and nothing else.

use cornerwise::diagnostic::Source;
use cornerwise::notation::Time;
use cornerwise::record;
use cornerwise::study::Study;
use cornerwise::timing::{
    CannotMark, Each, Given, Marked, Refused, Sheet, Side, Taps, Way, given, marked, read_list,
};
use regex::Regex;

use crate::support::random::Random;
use crate::support::solver::{Marks, Options, Rng, Solver, Style};

/// The text with marks at these moments: `3>` before the token that follows moment 3, `3<` behind the one before.
fn written(text: &str, index: usize, marks: &[(&str, &str)]) -> Result<String, CannotMark> {
    let source = Source::new("mine", text);
    let reading = record::read(&source);
    let marks: Vec<Marked> = marks
        .iter()
        .map(|(place, time)| Marked {
            moment: place[..place.len() - 1].parse().expect("a moment"),
            side: if place.ends_with('>') { Side::Before } else { Side::Behind },
            time: read_list(time).expect("a time")[0],
        })
        .collect();
    marked(&source, index, &reading.records[index], &marks, &record::read)
}

#[track_caller]
fn check(before: &str, marks: &[(&str, &str)], after: &str) {
    assert_eq!(written(before, 0, marks).as_deref(), Ok(after));
}

#[test]
fn before_the_first_turn_and_behind_the_last_of_a_line() {
    check(
        "scramble: R U F\nsolution: |\n  x2 y F' // one\n  U' R' // two\ntime: 1.98\n",
        &[("2>", "0.00"), ("3<", "0.31"), ("3>", "0.5"), ("5<", "1.984")],
        "scramble: R U F\nsolution: |\n  x2 y <0.00> F' <0.31> // one\n  <0.50> U' R' <1.984> // two\ntime: 1.98\n",
    );
    // As people paste them; with typographic primes, labels, numbers and counts; with the line ends of Windows.
    check(
        "R U F\r\n\r\n1. F’\r\nLast: U’ R’ (2)\r\n",
        &[("0>", "0"), ("1<", "1"), ("1>", "1"), ("3<", "2")],
        "R U F\r\n\r\n1. <0.00> F’ <1.00>\r\nLast: <1.00> U’ R’ <2.00> (2)\r\n",
    );
    check("R U\n\nU'R'", &[("1<", "1"), ("1>", "1.5")], "R U\n\nU' <1.00> <1.50> R'");
    check("R U\n\nU', R'", &[("1<", "1")], "R U\n\nU' <1.00> , R'");
}

#[test]
fn every_style_of_yaml_has_room() {
    for (value, after) in [
        ("U' R'", "<0.00> U' R' <1.00>"),
        ("\"U' R'\"", "\"<0.00> U' R' <1.00>\""),
        ("'U'' R'''", "'<0.00> U'' R'' <1.00>'"),
        (">\n  U'\n  R'", ">\n  <0.00> U'\n  R' <1.00>"),
        ("|\n  U'\n\n  R'", "|\n  <0.00> U'\n\n  R' <1.00>"),
        ("U' R' # by hand", "<0.00> U' R' <1.00> # by hand"),
    ] {
        let with = |value: &str| format!("scramble: R U\nsolution: {value}\nnotes: mine\n");
        check(&with(value), &[("0>", "0"), ("2<", "1")], &with(after));
    }
    let flow = "{scramble: R U, solution: U' R'}";
    check(flow, &[("0>", "0"), ("2<", "1")], "{scramble: R U, solution: <0.00> U' R' <1.00>}");
}

#[test]
fn marks_that_were_there_give_way() {
    // Seconds, frames, backwards, alone on a line, glued, in the middle, at both ends.
    check(
        "fps: 60\nscramble: R U F\nsolution: |\n  <9.00>\n  F'<3f> <2.00> U' <1.00>  // two\n  R' <7>\n  <8.00>\n",
        &[("1<", "0.5"), ("3<", "1.5")],
        "fps: 60\nscramble: R U F\nsolution: |\n  F' <0.50> U'  // two\n  R' <1.50>\n",
    );
    check("R U\n\n<0.1>U'<0.2>R'<0.3>", &[], "R U\n\nU' R'");
    check("R U\n\n(U' <0.2>)2 U R'", &[("2<", "1")], "R U\n\n(U')2 <1.00> U R'");
    // In the long form, if that is the writer's and the time can be told in it.
    check(
        "R U\n\n<00:00.000> U' <00:01.000> R'",
        &[("1<", "61.5"), ("2<", "3661.25")],
        "R U\n\nU' <01:01.500> R' <01:01:01.250>",
    );
    check("R U\n\n<00:00.000> U' R'", &[("1<", "0.0001")], "R U\n\nU' <0.0001> R'");
}

#[test]
fn a_group_is_written_out_only_where_a_mark_has_to_stand_in_it() {
    let text = |turns: &str| format!("scramble: R U\nsolution: {turns}\n");
    for (turns, marks, after) in [
        ("F (R U R' U')2 L", &["1<", "1>", "9<"][..], "F <1.00> <1.00> (R U R' U')2 <1.00> L"),
        ("F (R U) x 2 L", &["5<"], "F (R U) x 2 <1.00> L"),
        ("F (R U) L", &["2<", "3<"], "F (R <1.00> U) <1.00> L"),
        ("F (R U // odd\n  ) L", &["3<"], "F (R U <1.00> // odd\n  ) L"),
        ("F (R U)2 L", &["3<"], "F (R U) <1.00> (R U) L"),
        ("F (R U)2 L", &["3>", "4<"], "F (R U) <1.00> (R <1.00> U) L"),
        ("((R U)2 F)2", &["5<"], "((R U)2 F) <1.00> ((R U)2 F)"),
        ("((R U)2 F)2", &["3<"], "((R U) (R <1.00> U) F) ((R U)2 F)"),
        ("[R U]3", &["2>", "6<"], "[R U] <1.00> [R U] [R U] <1.00>"),
        ("(R Uw f2)' L", &["1<", "3<"], "(f2 <1.00> Uw' R') <1.00> L"),
    ] {
        let block = |turns: &str| text(&format!("|\n  {turns}"));
        let marks: Vec<(&str, &str)> = marks.iter().map(|place| (*place, "1")).collect();
        assert_eq!(written(&block(turns), 0, &marks), Ok(block(after)), "{turns}");
    }
    // Words inside would be said twice.
    assert_eq!(written(&text("|\n  (R // mine\n  U)2"), 0, &[("2<", "1")]), Err(CannotMark));
}

#[test]
fn comments_that_stood_under_each_other_still_do() {
    check(
        "R U\n\nU'       // one\nR' F     // two\nL        // three\nD D2 D' D D2 D'  // long\nB // short\n",
        &[("0>", "0"), ("1<", "1"), ("3<", "2"), ("4<", "3"), ("11<", "4")],
        "R U\n\n<0.00> U' <1.00>  // one\nR' F <2.00>       // two\nL <3.00>          // three\n\
         D D2 D' D D2 D'  // long\nB <4.00> // short\n",
    );
    // Without marks they need not move.
    check(
        "R U\n\n<0> U' <1>     // one\nR' <2>         // two\n",
        &[],
        "R U\n\nU'             // one\nR'             // two\n",
    );
}

#[test]
fn only_the_record_that_is_meant_changes() {
    let one = "scramble: R U\nsolution: <0.10> U' R' <0.20>\n";
    let text = [one, one, one].join("---\n");
    let middle = "scramble: R U\nsolution: U' <5.00> R'\n";
    assert_eq!(written(&text, 1, &[("1<", "5")]), Ok([one, middle, one].join("---\n")));
}

/// The words of a solution: its marks with how many tokens stand before each, its tokens, and each line's comment.
fn words(text: &str) -> (Vec<(usize, String)>, Vec<String>, Vec<String>) {
    let mark = Regex::new(r"^<([0-9.]+)>$").expect("a pattern");
    let (mut marks, mut tokens, mut comments) = (Vec::new(), Vec::new(), Vec::new());
    let solution = text.split("solution: |\n").nth(1).expect("a solution");
    for line in solution.lines().take_while(|line| line.starts_with(' ')) {
        let (turns, comment) = line.split_once("//").unwrap_or((line, ""));
        comments.push(comment.to_owned());
        for word in turns.split_whitespace() {
            match mark.captures(word) {
                Some(found) => marks.push((tokens.len(), found[1].to_owned())),
                None if word.starts_with('<') => {}
                None => tokens.push(word.to_owned()),
            }
        }
    }
    (marks, tokens, comments)
}

/// A hundred and twenty made solves, with and without marks, each way of marking them: what is written has the same words, the
/// given marks before and behind the right tokens, and is told by the same figures.
#[test]
fn made_solves_take_their_times() {
    let (mut rng, mut solver) = (Rng::new(31), Solver::new());
    let mut random = Random::new(32);
    let (mut n_marks, mut n_moved) = (0, 0);
    for n in 0..120 {
        let solve = solver.random(&mut rng, &Options { wide: n % 3 == 0, ..Options::default() });
        let marks = [Marks::None, Marks::Ends, Marks::Both, Marks::Every][n % 4];
        let fps = (n % 8 > 3).then_some(60);
        let style = Style { marks, fps, lower_case: n % 5 > 0, ..Style::default() };
        let text = solve.yaml("Made up", &style, &mut rng);
        let source = Source::new("mine", text.as_str());
        let reading = record::read(&source);
        let record = &reading.records[0];
        let study = Study::new(&source, 1, record);
        let way = Way {
            taps: if random.below(2) == 0 { Taps::Ends } else { Taps::Both },
            each: if random.below(2) == 0 { Each::Step } else { Each::Turn },
        };
        let sheet = Sheet::new(&study, way);
        let mut clock = 0;
        let times: Vec<Time> = sheet
            .cues
            .iter()
            .map(|_| {
                clock += random.below(90) as u64 * 10_000;
                Time(clock)
            })
            .collect();
        let after = marked(&source, 0, record, &sheet.marks(&times), &record::read).expect("room");
        let ((_, old_tokens, old_comments), (marks, tokens, comments)) = (words(&text), words(&after));
        assert_eq!((&tokens, &comments), (&old_tokens, &old_comments), "{after}");
        let wanted: Vec<(usize, String)> =
            sheet.cues.iter().zip(&times).map(|(cue, time)| (cue.moment, time.to_string())).collect();
        assert_eq!(marks, wanted, "{after}");
        // Around the solution every byte is the same.
        let around = |text: &str| {
            let (head, rest) = text.split_once("solution: |\n").expect("a solution");
            let tail: Vec<&str> = rest.lines().skip_while(|line| line.starts_with(' ')).collect();
            (head.to_owned(), tail.join("\n"))
        };
        assert_eq!(around(&after), around(&text));
        assert!(after.lines().all(|line| line == line.trim_end()), "{after}");
        n_marks += marks.len();
        n_moved += usize::from(after != text);
    }
    assert!(n_marks > 3_000 && n_moved > 110, "{n_marks} marks, {n_moved} texts changed");
}

/// Turns in brackets at random, marks anywhere: they are written, or it is refused, and the record never becomes another.
#[test]
fn groups_at_random_are_marked_or_refused() {
    let mut random = Random::new(77);
    let (mut n_written, mut n_refused) = (0, 0);
    for _ in 0..1_500 {
        let mut turns = String::new();
        let mut depth = 0;
        for _ in 0..random.below(14) + 2 {
            match random.below(7) {
                0 if depth < 3 => {
                    turns.push('(');
                    depth += 1;
                }
                1 if depth > 0 => {
                    turns.push_str(random.pick(&[") ", ")2 ", ")3 ", ")' "]));
                    depth -= 1;
                }
                2 => turns.push_str(random.pick(&["<1.00> ", "\n  ", "// a word\n  ", "<3.00>"])),
                _ => turns.push_str(random.pick(&["R ", "U' ", "F2 ", "r' ", "y ", "M2 "])),
            }
        }
        turns.push_str("R ");
        turns.push_str(&") ".repeat(depth));
        let text = format!("scramble: R U F\nsolution: |\n  {turns}\ntime: 9.00\n");
        let reading = record::read(&Source::new("mine", text.as_str()));
        let n = reading.records[0].solution.tokens.len();
        if n == 0 {
            continue;
        }
        let mut moments: Vec<usize> = (0..random.below(4)).map(|_| random.below(n + 1)).collect();
        moments.sort_unstable();
        moments.dedup();
        let places: Vec<String> = moments
            .iter()
            .map(|&at| format!("{at}{}", if at == 0 || at < n && random.below(2) == 0 { '>' } else { '<' }))
            .collect();
        let marks: Vec<(&str, &str)> = places.iter().map(|place| (place.as_str(), "2.5")).collect();
        match written(&text, 0, &marks) {
            Ok(after) => {
                let after = record::read(&Source::new("mine", after.as_str()));
                let record = &after.records[0];
                let elements = |record: &record::Record| {
                    record.solution.tokens.iter().map(|token| token.element).collect::<Vec<_>>()
                };
                assert_eq!(elements(record), elements(&reading.records[0]), "{text}");
                let found: Vec<usize> = record.solution.marks.iter().map(|mark| mark.moment).collect();
                assert_eq!(found, moments, "{text}");
                n_written += 1;
            }
            Err(CannotMark) => n_refused += 1,
        }
    }
    assert!(n_written > 1_000 && n_refused < n_written / 3, "{n_written} written, {n_refused} refused");
}

/// A solve of two steps: six turns, and four.
const TWO: &str = "scramble: B' L B U D2 B' R D' F U R2 U R2 L2 B' L' F' B L2 B2\nsolution: |\n  x2 y U' L2 F' L D' R2\n  U' L' U L\n";

fn taken(
    list: &str,
    what: Given,
    taps: Option<Taps>,
    each: Option<Each>,
) -> Result<Vec<(usize, u64)>, Refused> {
    let source = Source::new("mine", TWO);
    let reading = record::read(&source);
    let study = Study::new(&source, 1, &reading.records[0]);
    let (sheet, times) = given(&study, &read_list(list)?, what, taps, each)?;
    assert_eq!(sheet.cues.len(), times.len());
    Ok(sheet.cues.iter().zip(times).map(|(cue, time)| (cue.moment, time.0 / 10_000)).collect())
}

#[test]
fn a_list_says_by_its_length_what_it_is_of() {
    let times = |list: &str| taken(list, Given::Times, None, None);
    // Moment 2 is the first turn, 8 the end of the cross, 12 that of the pair.
    assert_eq!(times("0.00 1.12 1.40 2.00"), Ok(vec![(2, 0), (8, 112), (8, 140), (12, 200)]));
    assert_eq!(times("1.12,2.00"), Ok(vec![(2, 0), (8, 112), (12, 200)]));
    // The timer ran before the first turn.
    let early = taken("0.20 1.12 1.40 2.00", Given::Times, None, None);
    assert_eq!(early, Ok(vec![(2, 20), (8, 112), (8, 140), (12, 200)]));
    let every: Vec<String> = (1..=10).map(|n| format!("{n}.5")).collect();
    let moments: Vec<usize> = [2].into_iter().chain(3..=12).collect();
    assert_eq!(times(&every.join("\n")).expect("taken").iter().map(|at| at.0).collect::<Vec<_>>(), moments);
    // Three are the ends with their start, or both without; which of them begins with 0 is settled.
    assert_eq!(times("0 1.12 2.00"), Ok(vec![(2, 0), (8, 112), (12, 200)]));
    assert!(matches!(times("1.12 1.40 2.00"), Err(Refused::Open(3, _))));
    let both = taken("1.12 1.40 2.00", Given::Times, Some(Taps::Both), None);
    assert_eq!(both, Ok(vec![(2, 0), (8, 112), (8, 140), (12, 200)]));
    // Seconds from each to the next.
    let splits = taken("1.12; 0.28; 0.6", Given::Splits, Some(Taps::Both), None);
    assert_eq!(splits, both);
    assert_eq!(taken("1.12,0.88", Given::Splits, None, None), times("1.12,2.00"));
}

#[test]
fn a_list_that_cannot_be_is_refused_with_what_to_give() {
    let said = |list: &str, what| taken(list, what, None, None).expect_err("refused").to_string();
    let times = |list: &str| said(list, Given::Times);
    let lengths = "this solve takes 2 for the ends of the steps, 3 for the first turn and the end of each, 10 for the end of \
                   every turn, or 11 for every turn and the first of each step (and one more if the list begins with the start)";
    assert_eq!(times("1 2 3 4 5 6"), format!("6 times are given; {lengths}"));
    assert_eq!(times(""), format!("0 times are given; {lengths}"));
    assert_eq!(
        times("1.12 1.40 2.00"),
        "3 times can be for the ends of the steps or for the first turn and the end of each: say which with `--taps` and \
         `--every`"
    );
    assert_eq!(
        times("1.12 1,40 x2.00"),
        "expected a time such as `9.84` or `1:02.34`, found `x2.00` as number 4"
    );
    assert_eq!(
        times("1.12 0.88"),
        "number 2 is 0.88, earlier than 1.12 before it; seconds from each to the next go to `--splits`"
    );
    assert_eq!(said("359999 2", Given::Splits), "together they are longer than 100 hours");
}

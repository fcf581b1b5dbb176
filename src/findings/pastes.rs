//! Messages about solves that were pasted.

use super::findings;

findings! {
    "Pastes";

    /// Something in a paste is neither turns nor a remark on them: statistics, a second time, turns behind the
    /// solved cube. It is not used; `cornerwise read` shows how each line was taken.
    Note "set-aside" {
        fn set_aside(what: &str) {
            message: "set aside: no turns and no remark on them",
            label: what,
            help: "`cornerwise read` shows how each line was taken",
        }
        example: r"R2 U F2

F2 U' R2

3 HTM, 4.1 TPS",
        instead: r"R2 U F2

F2 U' R2",
    }

    /// Words without a sign before them are read as a remark.
    Note "remark-form" {
        fn remark_form() {
            message: "words without a sign before them, read as a remark",
            help: "put `//` before a remark",
        }
        example: r"R2 U F2

F2 U' (nearly there)
R2",
        instead: r"R2 U F2

F2 U' // nearly there
R2",
    }

    /// Turns stand in a sentence. They are not played.
    Note "turns-in-words" {
        fn turns_in_words() {
            message: "turns among words, not played",
            help: "turns that were made stand on a line of their own, or before a remark",
        }
        example: r"R2 U F2

F2 U' R2
then U' here would be silly",
        instead: r"R2 U F2

F2 U' R2 // then U' here would be silly",
    }

    /// The text can be read in several ways and nothing decides: neither solves the cube, or both do. The message
    /// shows them; choose one with `--reading 1`, or write what was meant.
    Fault "reading-open" {
        fn reading_open(words: &str, ways: &[String]) {
            message: format!("`{words}` can be read in {} ways, and nothing decides", ways.len()),
            help: format!(
                "{}; choose with --reading 1 to {}",
                ways.iter().zip(1..).map(|(way, n)| format!("{n}: {way}")).collect::<Vec<_>>().join("; "),
                ways.len()
            ),
        }
        example: r"R2 U F2

F2 (U D') x2",
        instead: r"R2 U F2

F2 (U D')2",
    }

    /// A scramble of another puzzle: it turns three layers at once, or has dozens of wide turns, or the text gives
    /// the name of another event. Nothing is played and nothing searched.
    Fault "other-cube" {
        fn other_cube(why: &str) {
            message: format!("a record of another puzzle: {why}"),
            help: "only solves of the 3x3x3 are read; nothing was played and nothing searched",
        }
        example: r"R2 U F2 3Rw U2 Fw2 R2 U F2 D

F2 U' R2",
        instead: r"R2 U F2

F2 U' R2",
    }

    /// Hardly anything in the text is turns, or there are scrambles and no solution. It is told before any repair is
    /// searched.
    Fault "not-a-record" {
        fn not_a_record(turns: usize, bad: usize) {
            message: match (turns, bad) {
                (0, 0) => "no solve: no turns in the text".into(),
                _ => format!("no solve: {turns} turns in the text, {bad} things like turns that are none"),
            },
            help: "write the scramble, a blank line, and the solution",
        }
        fn no_solutions(scrambles: usize) {
            message: format!("{scrambles} scrambles and no solution"),
            help: "write each solution below its scramble",
        }
        example: r"we met at the quay and had tea",
        instead: r"R2 U F2

F2 U' R2",
    }

    /// The turns that the writer counted beside the steps are others than those written, in every metric. Perhaps a
    /// turn is missing.
    Note "figures-differ" {
        fn figures_differ(told: &str) {
            message: "the turns counted here are others than those written",
            label: told,
            help: "is a turn missing, or the figure of another solve?",
        }
        example: r"R2 U F2 D

D' F2 // cross (2)
U' // 1st pair (4)
R2 // 2nd pair (1)",
        instead: r"R2 U F2 D

D' F2 // cross (2)
U' // 1st pair (1)
R2 // 2nd pair (1)",
    }

    /// Times stand beside the steps, but they have not one meaning: neither the seconds of each step, which add up to
    /// `time`, nor a running clock, which ends at it. They stay words.
    Note "figures-open" {
        fn figures_untimed() {
            message: "times beside the steps, but no `time` to hold them against: they stay words",
            help: "write `time:` and the seconds of every step, or timing marks such as `<3.42>`",
        }
        fn figures_open() {
            message: "times beside the steps that stay words: marks they are where every step has one, and either they add up to `time` or they end at it",
            help: "write the seconds of every step, or timing marks such as `<3.42>`",
        }
        example: r"R2 U F2 D

D' F2 // cross 1.20
U' // 1st pair 1.90
R2 // 2nd pair 2.40",
        instead: r"scramble: R2 U F2 D
time: 2.40
solution: |
  D' F2 // cross 1.20
  U' // 1st pair 1.90
  R2 // 2nd pair 2.40",
    }
}

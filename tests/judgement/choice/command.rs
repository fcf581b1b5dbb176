//! The options of `annotate` about other lines, as a person meets them.

use std::path::Path;
use std::process::{Command, Output};

fn annotate(arguments: &[&str], threads: &str) -> Output {
    Command::new(env!("CARGO_BIN_EXE_cornerwise"))
        .arg("annotate")
        .args(arguments)
        .current_dir(Path::new(env!("CARGO_MANIFEST_DIR")).join("reconstructions"))
        .env("RAYON_NUM_THREADS", threads)
        .env("NO_COLOR", "1")
        .output()
        .expect("the program runs")
}

fn text(bytes: &[u8]) -> String {
    String::from_utf8_lossy(bytes).split_whitespace().collect::<Vec<_>>().join(" ")
}

#[test]
fn wrong_values_are_told_their_range() {
    for (arguments, told) in [
        (&["--within", "0"][..], "0 is not in 1..=12"),
        (&["--within", "40"], "40 is not in 1..=12"),
        (&["--within", "-3"], "-3 is not in 1..=12"),
        (&["--within", "11", "--every-line"], "with --every-line expected turns from 1 to 10"),
        (&["--slack", "-1"], "expected turn units from 0 to 20"),
        (&["--slack", "much"], "expected turn units from 0 to 20"),
        (&["--slack", "NaN"], "expected turn units from 0 to 20"),
        (&["--lead", "-1"], "-1 is not in 0..=20"),
        (&["--lines", "21"], "21 is not in 0..=20"),
        (&["--weights", "bakc=2"], "expected side, front, back, half, rotation or slice"),
        (&["--weights", "back"], "expected `name=number`"),
        (&["--weights", "back=0"], "expected turn units from 0.1 to 10"),
    ] {
        let output = annotate(&[arguments, &["xcross.yaml"]].concat(), "1");
        let message = text(&output.stderr);
        assert_eq!(output.status.code(), Some(2), "{arguments:?}");
        assert!(message.contains(told), "{arguments:?}: {message}");
        assert!(output.stdout.is_empty());
    }
}

#[test]
fn a_step_longer_than_the_bound_states_the_bound() {
    let output = annotate(&["--within", "3", "xcross.yaml"], "1");
    let printed = text(&output.stdout);
    assert!(printed.contains("up to 3 turns"), "{printed}");
    assert!(printed.contains("The turns played are longer than that."), "{printed}");
    assert!(printed.contains("Compared with hand lines of at most 3 turns"), "{printed}");
}

#[test]
fn no_lines_are_shown_if_none_are_wanted_and_the_verdicts_stay() {
    let verdicts = |output: &Output| {
        let printed = String::from_utf8_lossy(&output.stdout).into_owned();
        let lines = printed.lines().filter_map(|line| line.strip_prefix("  choice  "));
        let verdicts: Vec<String> =
            lines.map(|line| line.split(':').next().unwrap_or("").to_string()).collect();
        (verdicts, printed.contains("\n  better  "))
    };
    let (usual, shown) = verdicts(&annotate(&["."], "2"));
    let (none, hidden) = verdicts(&annotate(&["--lines", "0", "."], "2"));
    assert!(shown && !hidden);
    assert!(usual.len() > 50);
    assert_eq!(usual, none);
}

/// The word of the verdict is there on every record, and the cause of a pause that follows from it.
#[test]
fn the_records_show_every_verdict_and_both_causes() {
    let printed = String::from_utf8(annotate(&["."], "2").stdout).expect("text");
    for found in ["choice  kept:", "choice  avoidable:", "choice  forced:"] {
        assert!(printed.contains(found), "no `{found}`");
    }
    let flowing = text(printed.as_bytes());
    for found in ["choice: something better was there", "position: nothing better was within reach"] {
        assert!(flowing.contains(found), "no `{found}`");
    }
}

#[test]
fn the_bytes_are_the_same_at_any_number_of_threads() {
    for format in ["text", "json"] {
        let outputs = ["1", "2", "8"].map(|threads| annotate(&["--format", format, "."], threads));
        assert!(!outputs[0].stdout.is_empty());
        for other in &outputs[1..] {
            assert!(outputs[0].stdout == other.stdout, "standard output differs");
            assert!(outputs[0].stderr == other.stderr, "standard error differs");
        }
    }
    let every = ["1", "8"].map(|threads| annotate(&["--every-line", "--within", "7", "."], threads).stdout);
    assert!(every[0] == every[1]);
}

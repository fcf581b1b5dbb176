//! `clock` without a terminal: times from options or standard input, what they say, and the marks it writes.

use std::fs;
use std::io::Write;
use std::path::{Path, PathBuf};
use std::process::{Command, Output, Stdio};

/// A folder of its own for a test, with the fork in it.
fn folder(name: &str) -> PathBuf {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("clock").join(name);
    let _ = fs::remove_dir_all(&folder);
    fs::create_dir_all(&folder).expect("a folder");
    fs::write(folder.join("fork.yaml"), FORK).expect("written");
    folder
}

const FORK: &str = include_str!("../../reconstructions/fork-after-first-pair.yaml");
const PASTED: &str = include_str!("../../reconstructions/pasted-from-the-noticeboard.txt");

fn run(folder: &Path, arguments: &[&str], input: &str) -> (i32, String, String) {
    let mut command = Command::new(env!("CARGO_BIN_EXE_cornerwise"));
    command.arg("clock").args(arguments).env_clear().current_dir(folder);
    command.stdin(Stdio::piped()).stdout(Stdio::piped()).stderr(Stdio::piped());
    let mut child = command.spawn().expect("the program runs");
    // It may refuse before it reads.
    let _ = child.stdin.take().expect("a pipe").write_all(input.as_bytes());
    let Output { status, stdout, stderr } = child.wait_with_output().expect("it ends");
    let text = |bytes| String::from_utf8(bytes).expect("text");
    (status.code().expect("it ended"), text(stdout), text(stderr))
}

fn annotated(folder: &Path, file: &str) -> String {
    let output = Command::new(env!("CARGO_BIN_EXE_cornerwise"))
        .args(["annotate", "--brief", file])
        .env_clear()
        .current_dir(folder)
        .output()
        .expect("the program runs");
    String::from_utf8(output.stdout).expect("text")
}

fn read(folder: &Path, name: &str) -> String {
    fs::read_to_string(folder.join(name)).expect("there")
}

/// First turn and end of each step of the fork's second solve, the start left out; another's times, 12.14 in all.
const TIMES: &str = "1.20,1.40,2.70,3.50,4.60,4.90,6.30,6.50,7.20,7.70,9.10,9.60,12.14";

#[test]
fn the_brief_of_the_times_and_nothing_written_unless_asked_for() {
    let folder = folder("brief");
    let (exit, out, err) = run(&folder, &["fork.yaml#2", "--times", TIMES], "");
    assert_eq!((exit, read(&folder, "fork.yaml").as_str()), (0, FORK), "{err}");
    insta::assert_snapshot!(out);
    insta::assert_snapshot!(err);
    // The same from standard input, a line each, and as seconds from one to the next.
    let lines = TIMES.replace(',', "\n") + "\n";
    assert_eq!(run(&folder, &["fork.yaml#2"], &lines).1, out);
    let splits = "1.20,0.20,1.30,0.80,1.10,0.30,1.40,0.20,0.70,0.50,1.40,0.50,2.54";
    assert_eq!(run(&folder, &["fork.yaml#2", "--splits", splits], "").1, out);
    assert_eq!(fs::read_dir(&folder).expect("a folder").count(), 1);
}

#[test]
fn marks_are_written_in_place_of_those_that_were_there() {
    let folder = folder("write");
    let (exit, out, err) = run(&folder, &["fork.yaml#2", "--times", TIMES, "--write"], "");
    assert_eq!(exit, 0, "{err}");
    assert!(err.contains("note[marks-replaced]: the 14 timing marks from here on give way"), "{err}");
    assert!(err.contains("fork.yaml#2: 14 marks written; the old text is "), "{err}");
    assert_eq!(read(&folder, "fork.yaml.bak"), FORK);
    let text = read(&folder, "fork.yaml");
    insta::assert_snapshot!(text.split_once("---\n").expect("two records").1);
    assert_eq!(text.split_once("---\n").expect("two").0, FORK.split_once("---\n").expect("two").0);
    // What was shown is what the file now says.
    assert_eq!(annotated(&folder, "fork.yaml#2"), out);
    // Again the same, without a copy.
    let (exit, again, _) = run(&folder, &["fork.yaml#2", "--times", TIMES, "--write", "--no-backup"], "");
    assert_eq!((exit, again, read(&folder, "fork.yaml")), (0, out, text));
    assert_eq!(fs::read_dir(&folder).expect("a folder").count(), 2);
}

/// A solve without any times, as somebody pasted it: ends of steps only.
#[test]
fn a_pasted_solve_gets_its_times() {
    let folder = folder("pasted");
    fs::write(folder.join("pasted.txt"), PASTED).expect("written");
    let arguments = ["pasted.txt", "--splits", "1.5 1.4 1.2 1.9 1.6 1.7 2.2 0.3", "--write"];
    let (exit, out, err) = run(&folder, &arguments, "");
    assert_eq!(exit, 0, "{err}");
    insta::assert_snapshot!(read(&folder, "pasted.txt"));
    assert_eq!(annotated(&folder, "pasted.txt"), out);
    assert!(out.contains("11.80 s"), "{out}");
}

#[test]
fn the_result_of_the_timer_is_held_against_the_times() {
    let folder = folder("fit");
    let longer = TIMES.replace("12.14", "12.64");
    let (exit, out, err) = run(&folder, &["fork.yaml#2", "--times", &longer], "");
    let differs =
        "the times come to 12.64 s, 0.50 s more than the timer's 12.14 s; `--fit` stretches them to it";
    assert!(exit == 0 && err.contains(differs), "{err}");
    let (_, fitted, err) = run(&folder, &["fork.yaml#2", "--times", &longer, "--fit", "--write"], "");
    assert!(!err.contains("the times come to") && fitted != out, "{err}");
    // 1.20 x 12.14 / 12.64 = 1.1525, by hand.
    assert!(read(&folder, "fork.yaml").contains("L2 U' R2 F D L' <1.15> "), "{}", read(&folder, "fork.yaml"));
    assert!(read(&folder, "fork.yaml").contains("R U' R' D' <12.14>"));
    fs::write(folder.join("pasted.txt"), PASTED).expect("written");
    let (exit, _, err) = run(&folder, &["pasted.txt", "--splits", "1 1 1 1 1 1 1 1", "--fit"], "");
    assert!(exit == 0 && err.contains("the record has no `time`"), "{err}");
}

#[test]
fn what_cannot_be_done_is_said_and_nothing_is_written() {
    let folder = folder("refused");
    fs::write(folder.join("broken.yaml"), "scramble: R U F\nsolution: F' U' ? R'\n").expect("written");
    let before: Vec<String> = ["fork.yaml", "broken.yaml"].map(|name| read(&folder, name)).into();
    let cases: [(&[&str], &str, i32, &str); 9] = [
        (&["fork.yaml", "--times", "1"], "", 2, "`clock` is for one record, and here are 2:"),
        (&["fork.yaml#2", "--times", "1,2,3", "--write"], "", 2, "3 times are given; this solve takes "),
        (&["fork.yaml#2", "--times", "1,x"], "", 2, "found `x` as number 2"),
        (
            &["fork.yaml#2", "--times", &TIMES.replace("4.90", "4.50")],
            "",
            2,
            "number 6 is 4.50, earlier than 4.60",
        ),
        (&["fork.yaml#2"], "", 2, "no times: a line each on standard input"),
        (&["fork.yaml#2"], "1.2\n\n1,4 o\n", 2, "standard input, line 3: "),
        (&["-"], "R U\n\nU' R'\n", 2, "the record came from standard input"),
        (&["broken.yaml", "--times", "1,2"], "", 1, "cannot be played to its end"),
        (&["none.yaml", "--times", "1,2"], "", 2, "none.yaml: no such file or folder"),
    ];
    for (arguments, input, wanted, said) in cases {
        let (exit, out, err) = run(&folder, arguments, input);
        assert_eq!((exit, out.as_str()), (wanted, ""), "{arguments:?}: {err}");
        assert!(err.contains(said), "{arguments:?}: {err}");
    }
    let after: Vec<String> = ["fork.yaml", "broken.yaml"].map(|name| read(&folder, name)).into();
    assert_eq!(after, before);
    assert_eq!(fs::read_dir(&folder).expect("a folder").count(), 2);
    // From standard input it can be told, not written.
    let (exit, out, err) = run(&folder, &["--times", TIMES, "--", "-#2"], FORK);
    assert!(exit == 0 && out.contains("12.14 s") && !err.contains("puts the marks"), "{err}");
    let (exit, _, err) = run(&folder, &["--times", TIMES, "--write", "--", "-#2"], FORK);
    assert!(exit == 2 && err.contains("standard input cannot be written to"), "{err}");
}

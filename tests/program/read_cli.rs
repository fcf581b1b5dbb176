//! `read` through the built program: how a paste was taken, and the record that it becomes.

use std::fs;
use std::path::PathBuf;
use std::process::{Command, Output};

const PASTE: &str = "\
heron: this one, at the quay

1. 10.80 R F D' U L2 F' L R D2 R' F' D B' U F2 B2 L2 F L2 D'
x2 y (inspection)
D R U R2 F2 L' - cross
R U2 R' L U L' - 1st pair
R' U2 R U2 F' U' F - 2nd pair
L' U' L U' F U F' - 3rd pair
R' U' R U2 R' U R - 4th pair
U r U2 R' U' R U' r' [OLL]
R U R' U' R' F R2 U' R' U' R U R' F' [PLL]
U' xD
57 HTM / 5.3 TPS
then U' here would have been silly
";

fn folder(name: &str) -> PathBuf {
    let folder = PathBuf::from(env!("CARGO_TARGET_TMPDIR")).join("read").join(name);
    let _ = fs::remove_dir_all(&folder);
    fs::create_dir_all(&folder).expect("a folder");
    folder
}

fn run(folder: &PathBuf, arguments: &[&str]) -> (Option<i32>, String, String) {
    let Output { status, stdout, stderr } = Command::new(env!("CARGO_BIN_EXE_cornerwise"))
        .args(arguments)
        .current_dir(folder)
        .env_clear()
        .output()
        .expect("the program runs");
    let text = |bytes| String::from_utf8(bytes).expect("UTF-8");
    (status.code(), text(stdout), text(stderr))
}

/// The words of a message without the ends of its lines.
fn unbroken(drawn: &str) -> String {
    drawn.split_whitespace().collect::<Vec<_>>().join(" ")
}

#[test]
fn a_paste_is_shown_line_by_line() {
    let folder = folder("shown");
    fs::write(folder.join("chat.txt"), PASTE).expect("written");
    let (status, out, err) = run(&folder, &["read", "--messages", "line", "chat.txt"]);
    assert_eq!(status, Some(0), "{err}");
    insta::assert_snapshot!("read-shown", out);
    for code in ["set-aside", "turns-in-words"] {
        assert!(err.contains(code), "{err}");
    }
}

#[test]
fn what_was_read_is_written_as_a_record_that_says_the_same() {
    let folder = folder("written");
    fs::write(folder.join("chat.txt"), PASTE).expect("written");
    let (status, out, err) = run(&folder, &["read", "--write", "chat.txt"]);
    assert_eq!(status, Some(0), "{err}");
    assert!(out.ends_with("written: chat.yaml\n"), "{out}");
    let record = fs::read_to_string(folder.join("chat.yaml")).expect("the record");
    insta::assert_snapshot!("read-written", record);
    let facts = |name: &str| {
        let (_, json, _) = run(&folder, &["annotate", "--format", "json", name]);
        let mut facts: serde_json::Value = serde_json::from_str(&json).expect("facts");
        // Where things stand is another matter.
        facts["steps"].take()
    };
    let (paste, written) = (facts("chat.txt"), facts("chat.yaml"));
    assert_eq!(paste.as_array().map(Vec::len), Some(9));
    assert_eq!(paste, written);
    // Never over what is there.
    let (status, _, err) = run(&folder, &["read", "--write", "chat.txt"]);
    assert_eq!(status, Some(2));
    assert!(err.contains("exists already"), "{err}");
}

#[test]
fn where_two_readings_stay_the_person_chooses() {
    let folder = folder("open");
    fs::write(folder.join("open.txt"), "R2 U F2 D' L B2 R U2\n\nx2 y\n(R U R' U') x2\n").expect("written");
    let (status, _, err) = run(&folder, &["read", "open.txt"]);
    assert_eq!(status, Some(1));
    let err = unbroken(&err);
    assert!(err.contains("reading-open") && err.contains("--reading"), "{err}");
    // How the record ends under each.
    for way in [
        "1: the group twice (no cross at the end,",
        "2: once, then the cube is turned over (no cross at the end,",
    ] {
        assert!(err.contains(way), "{err}");
    }
    let tokens = |n: &str| {
        let (status, json, err) = run(&folder, &["annotate", "--format", "json", "--reading", n, "open.txt"]);
        assert_ne!(status, Some(2), "{err}");
        let facts: serde_json::Value = serde_json::from_str(&json).expect("facts");
        facts["tokens"].as_u64().expect("a number")
    };
    assert_eq!((tokens("1"), tokens("2")), (10, 7));
}

/// The sketch of such a message: the cross and a pair are done, and then a group that takes them out and puts them back.
#[test]
fn of_two_readings_each_says_what_stays_solved() {
    let folder = folder("stays");
    let text = "D L U F' B' U2 B2 D2 U B2 L' D' B U R' F2 L2 D' B L2\n\nx2\nL' F D L D L // cross\n(U2) x2\n";
    fs::write(folder.join("open.txt"), text).expect("written");
    let (_, _, err) = run(&folder, &["read", "open.txt"]);
    let err = unbroken(&err);
    assert!(err.contains("1: the group twice (the cross is solved at the end, yellow up)"), "{err}");
    assert!(
        err.contains("2: once, then the cube is turned over (the cross is solved at the end, white up)"),
        "{err}"
    );
}

#[test]
fn what_is_set_aside_stays_in_the_record_as_remarks() {
    let folder = folder("aside");
    let paste = PASTE.replace("xD\n", "xD\nTime: 8.21\nTime: 9.99 (before the penalty)\n");
    fs::write(folder.join("chat.txt"), &paste).expect("written");
    let (status, _, err) = run(&folder, &["read", "--write", "chat.txt"]);
    assert_eq!(status, Some(0), "{err}");
    let record = fs::read_to_string(folder.join("chat.yaml")).expect("the record");
    for words in ["57 HTM / 5.3 TPS", "9.99"] {
        assert!(record.lines().any(|line| line.starts_with('#') && line.contains(words)), "{record}");
    }
    // Every word of the paste is in the record, but for labels and the last digit of a time.
    let words: Vec<&str> = paste.split_whitespace().filter(|word| word.len() > 2).collect();
    let lost: Vec<&&str> =
        words.iter().filter(|word| !record.contains(word.trim_matches(['[', ']', '(', ')']))).collect();
    assert!(lost.iter().all(|word| ["Time:", "10.80"].contains(*word)), "{lost:?}\n{record}");
    // And it is read again as it stands, remarks and all.
    let (status, _, err) = run(&folder, &["annotate", "chat.yaml"]);
    assert_eq!(status, Some(0), "{err}");
}

#[test]
fn to_name_a_file_is_to_ask_for_it() {
    let folder = folder("named");
    fs::write(folder.join("chat.txt"), "R U F\n\nF' U' R'\n").expect("written");
    let (status, out, err) = run(&folder, &["read", "chat.txt", "--output", "mine.yaml"]);
    assert_eq!((status, err.as_str()), (Some(0), ""));
    assert!(out.ends_with("written: mine.yaml\n"), "{out}");
    assert!(fs::read_to_string(folder.join("mine.yaml")).expect("written").starts_with("scramble: R U F"));
}

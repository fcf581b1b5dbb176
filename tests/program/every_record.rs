//! What the text views print of every record kept here: at 60, 80 and 120 columns, without colour and with it.
//!
//! One snapshot a record: what a change of words or of layout does to any of them is seen in its difference.

use std::fmt::Write as _;
use std::fs;
use std::process::Command;

use unicode_width::UnicodeWidthStr;

/// The program's answer: its standard output and its standard error.
fn run(arguments: &[&str]) -> [String; 2] {
    let mut command = Command::new(env!("CARGO_BIN_EXE_cornerwise"));
    command.args(arguments).env_clear().current_dir(env!("CARGO_MANIFEST_DIR"));
    let output = command.output().expect("the program runs");
    [output.stdout, output.stderr].map(|bytes| String::from_utf8(bytes).expect("what it prints is text"))
}

fn printed(arguments: &[&str]) -> String {
    let [out, _] = run(arguments);
    out
}

/// The records' files, by name; the season below them is as many again, all alike.
fn files() -> Vec<String> {
    let folder = fs::read_dir(concat!(env!("CARGO_MANIFEST_DIR"), "/reconstructions")).expect("the records");
    let mut files: Vec<String> = folder
        .map(|entry| entry.expect("an entry").file_name().into_string().expect("a name"))
        .filter(|name| name.ends_with(".yaml") || name.ends_with(".txt"))
        .collect();
    files.sort();
    assert!(files.len() >= 18);
    files
}

#[test]
fn every_record_at_three_widths_with_colour_and_without() {
    for file in files() {
        let path = format!("reconstructions/{file}");
        let [_, said] = run(&["annotate", &path, "--width", "80"]);
        let mut all = if said.is_empty() { said } else { format!("--- said of the record\n{said}") };
        for width in ["60", "80", "120"] {
            let plain = printed(&["annotate", &path, "--width", width, "--color", "never"]);
            let coloured = printed(&["annotate", &path, "--width", width, "--color", "always"]);
            assert_eq!(anstream::adapter::strip_str(&coloured).to_string(), plain, "{file} at {width}");
            let coloured = coloured.replace('\u{1b}', "␛");
            let _ = write!(all, "--- {width} columns\n{plain}--- {width} columns, in colour\n{coloured}");
        }
        insta::assert_snapshot!(file.split('.').next().expect("a name"), all);
    }
}

/// Nothing is wider than asked for, whatever the verb; text that was written into a record or names a file may be.
#[test]
fn nothing_is_wider_than_the_page() {
    let mut runs: Vec<Vec<String>> = Vec::new();
    for file in files() {
        let path = format!("reconstructions/{file}");
        for verb in [&["annotate"][..], &["annotate", "--brief"], &["plan"], &["plan", "--all"], &["mend"]] {
            runs.push(verb.iter().map(|&word| word.to_owned()).chain([path.clone()]).collect());
        }
    }
    for line in [
        "survey reconstructions/season",
        "diff reconstructions/fork-after-first-pair.yaml",
        "diff reconstructions/two-crosses.yaml",
        "diff reconstructions/meets-again.yaml",
        "drill find --count 2 --answers",
        "drill choose --count 2 --answers",
        "drill whole --count 2 --answers",
        "help words",
    ] {
        runs.push(line.split(' ').map(str::to_owned).collect());
    }
    for width in [60, 80, 120] {
        let columns = width.to_string();
        for run in &runs {
            let arguments: Vec<&str> = run.iter().map(String::as_str).chain(["--width", &columns]).collect();
            for line in printed(&arguments).lines() {
                let from_outside = line.contains("reconstructions/") || line.contains("//");
                assert!(from_outside || line.width() <= width, "{width} columns, {run:?}: {line}");
            }
        }
    }
}

//! How records are named on the command line: the same in every verb.

use std::fs;
use std::io::Write;
use std::path::{Path, PathBuf};
use std::process::{Command, Output, Stdio};

use insta_cmd::assert_cmd_snapshot;

const THREE: &str = "three-of-one-morning.yaml";

/// The program, run in `folder` with a clean environment.
fn program(folder: &Path, arguments: &[&str]) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_cornerwise"));
    command.args(arguments).current_dir(folder).env_clear();
    command
}

fn told(output: Output) -> (i32, String, String) {
    let text = |bytes| String::from_utf8(bytes).expect("text");
    (output.status.code().expect("it ended"), text(output.stdout), text(output.stderr))
}

fn run(folder: &Path, arguments: &[&str]) -> (i32, String, String) {
    told(program(folder, arguments).output().expect("it runs"))
}

fn with_input(arguments: &[&str], input: &str) -> (i32, String, String) {
    let mut command = program(&kept(), arguments);
    command.stdin(Stdio::piped()).stdout(Stdio::piped()).stderr(Stdio::piped());
    let mut child = command.spawn().expect("it starts");
    child.stdin.take().expect("piped").write_all(input.as_bytes()).expect("it reads");
    told(child.wait_with_output().expect("it ends"))
}

fn kept() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("reconstructions")
}

fn text_of(name: &str) -> String {
    fs::read_to_string(kept().join(name)).expect("it is kept")
}

/// A folder of its own for a test, empty.
fn folder(name: &str) -> PathBuf {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("naming").join(name);
    let _ = fs::remove_dir_all(&folder);
    fs::create_dir_all(&folder).expect("a folder");
    folder
}

/// The numbers of the records in lines of JSON.
fn numbers(json: &str) -> Vec<u64> {
    let number = |line: &str| {
        let line: serde_json::Value = serde_json::from_str(line).expect("JSON");
        line["record"].as_u64().expect("a number")
    };
    json.lines().map(number).collect()
}

/// Verbs that take any number of records, as JSON or as text in which each record has one heading.
const VERBS: [&[&str]; 3] =
    [&["annotate", "--format", "json"], &["mend", "--format", "json"], &["replay", "--at", "0"]];

#[test]
fn a_number_or_a_part_of_the_title_names_one_record() {
    for verb in VERBS {
        let of = |names: &[&str]| run(&kept(), &[verb, names].concat());
        let (_, all, _) = of(&[THREE]);
        let second = of(&[&format!("{THREE}#2")]);
        assert_eq!((second.0, second.2.as_str()), (0, ""), "{verb:?}");
        assert!(all.contains(second.1.trim()) && second.1.len() * 2 < all.len(), "{verb:?}");
        for name in ["two of three", "TWO OF", "Quay Practice, two of three", " 2 "] {
            assert_eq!(of(&[&format!("{THREE}#{name}")]), second, "{verb:?} {name}");
        }
    }
    let (_, json, _) = run(
        &kept(),
        &[
            "annotate",
            "--format",
            "json",
            &format!("{THREE}#3"),
            &format!("{THREE}#1"),
            &format!("{THREE}#3"),
        ],
    );
    assert_eq!(numbers(&json), [3, 1, 3], "in the order in which they are named");
}

#[test]
fn a_title_is_found_in_a_folder_and_by_a_pattern() {
    for verb in VERBS {
        let of = |name: &str| run(&kept(), &[verb, &[name]].concat());
        let mut second = of(&format!("{THREE}#2"));
        for name in ["three*.yaml#2", "three*.yaml#two of", "*.yaml#two of three"] {
            assert_eq!(of(name), second, "{verb:?} {name}");
        }
        second.1 = second.1.replace(THREE, &format!("./{THREE}"));
        assert_eq!(of(".#two of three"), second, "{verb:?}");
    }
    let (exit, out, err) = run(&kept(), &["annotate", ".#of three"]);
    assert_eq!((exit, out.as_str()), (2, ""));
    assert_eq!(err.lines().count(), 4, "{err}");
    assert!(err.contains("3 records have “of three” in their titles"), "{err}");
    assert!(err.contains(&format!("./{THREE}#3  Quay Practice, three of three")), "{err}");
    let (exit, _, err) = run(&kept(), &["annotate", ".#2"]);
    assert!(exit == 2 && err.contains("which record of one file"), "{err}");
}

#[test]
fn standard_input_is_read_once_whatever_is_named_of_it() {
    let text = text_of(THREE);
    let (exit, json, err) =
        with_input(&["annotate", "--format", "json", "--", "-#3", "-#two of", "-"], &text);
    assert_eq!((exit, err.as_str()), (0, ""));
    assert_eq!(numbers(&json), [3, 2, 1, 2, 3]);
}

#[test]
fn what_is_not_there_is_said_with_what_is() {
    for verb in VERBS {
        for (name, said) in [
            (format!("{THREE}#4"), "#4: the file has 3 records"),
            (format!("{THREE}#0"), "#0: the file has 3 records"),
            (format!("{THREE}#evening"), "no record with “evening” in its title"),
            (format!("{THREE}#quay"), "3 records have “quay” in their titles"),
        ] {
            let (exit, _, err) = run(&kept(), &[verb, &[&name]].concat());
            assert_eq!(exit, 2, "{verb:?} {name}");
            assert!(err.contains(said) && err.contains(&format!("\n  {THREE}#3  Quay")), "{verb:?}: {err}");
        }
        // One that is not there takes nothing from the others.
        let (exit, out, _) = run(&kept(), &[verb, &["nowhere.yaml#2", &format!("{THREE}#1")]].concat());
        assert!(exit == 2 && !out.is_empty(), "{verb:?}");
    }
}

#[test]
fn a_file_that_has_a_number_sign_in_its_name_is_that_file() {
    let folder = folder("number-sign");
    for name in ["odd#1.yaml", "a#2", "#3.yaml"] {
        fs::write(folder.join(name), text_of(THREE)).expect("it can be written");
    }
    let json = |name: &str| {
        let (exit, json, err) = run(&folder, &["annotate", "--format", "json", name]);
        assert_eq!((exit, err.as_str()), (0, ""), "{name}");
        numbers(&json)
    };
    for name in ["odd#1.yaml", "a#2", "#3.yaml"] {
        assert_eq!(json(name), [1, 2, 3], "{name}");
        assert_eq!(json(&format!("{name}#2")), [2], "{name}");
        assert_eq!(json(&format!("{name}#three of")), [3], "{name}");
    }
    // And so is a title that has one.
    let titled = text_of(THREE).replace("one of three", "take#7");
    fs::write(folder.join("b.yaml"), titled).expect("it can be written");
    assert_eq!(json("b.yaml#take#7"), [1]);
}

#[test]
fn mend_writes_to_each_file_once() {
    let folder = folder("mend-once");
    // The fourth pair's last turn but one has lost its prime.
    let broken =
        text_of("all-four-tiers.yaml").replacen("R U' R' U' R U R' <6.46>", "R U' R' U' R U R <6.46>", 1);
    let path = folder.join("two.yaml");
    let text = format!("{broken}---\n{broken}");
    fs::write(&path, &text).expect("it can be written");
    let (exit, _, err) = run(&folder, &["mend", "--write", "two.yaml#2"]);
    assert_eq!(exit, 0, "{err}");
    let half = fs::read_to_string(&path).expect("there");
    assert!(half.starts_with(&broken) && half != text, "only the second");
    fs::write(&path, &text).expect("it can be written");
    let (exit, out, err) = run(&folder, &["mend", "--write", "--no-backup", "two.yaml#2", "./two.yaml#1"]);
    assert_eq!((exit, err.as_str()), (0, ""));
    assert_eq!(out.lines().next(), Some("two.yaml: mended 2 records"));
    let whole = fs::read_to_string(&path).expect("there");
    assert_eq!(whole, format!("{0}---\n{0}", text_of("all-four-tiers.yaml")));
    let names = fs::read_dir(&folder).expect("a folder").count();
    assert_eq!(names, 2, "the file, and the copy that the first run kept");
}

#[test]
fn diff_leaves_out_the_record_itself_by_whatever_name_it_is_found() {
    let folder = folder("diff-itself");
    fs::write(folder.join("fork.yaml"), text_of("fork-after-first-pair.yaml")).expect("it can be written");
    let by_number = run(&folder, &["diff", "fork.yaml#1", "fork.yaml#2"]);
    assert_eq!(by_number.0, 0, "{}", by_number.2);
    assert_eq!(run(&folder, &["diff", "fork.yaml#1", "fork.yaml"]), by_number);
    let (exit, out, err) = run(&folder, &["diff", "fork.yaml#1", "."]);
    assert_eq!((exit, err.as_str()), (0, ""));
    assert_eq!(out.replace("./fork.yaml", "fork.yaml"), by_number.1);
}

/// What `--strict` says holds in every verb that reads records.
#[test]
fn strict_is_strict_in_every_verb() {
    let folder = folder("strict");
    let text = text_of("all-four-tiers.yaml").replacen("time: 10.70", "time: 11.90", 1);
    fs::write(folder.join("note.yaml"), text).expect("it can be written");
    for verb in ["annotate", "replay"] {
        assert_eq!(run(&folder, &[verb, "note.yaml"]).0, 0, "{verb}");
        let (exit, _, err) = run(&folder, &[verb, "--strict", "note.yaml"]);
        assert!(exit == 1 && err.contains("fault["), "{verb}: {err}");
    }
}

#[test]
fn help() {
    for verb in ["annotate", "diff", "replay", "mend", "plan", "drill", "survey"] {
        assert_cmd_snapshot!(format!("help-{verb}"), program(&kept(), &[verb, "-h"]));
    }
}

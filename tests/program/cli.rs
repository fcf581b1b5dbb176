//! The built program, from outside: what it prints, to which stream, and its exit status.
//!
//! Every run has an empty environment. What people see is in `tests/program/snapshots`.

use std::fs::{self, File};
use std::io::{Read, Write};
use std::path::{Path, PathBuf};
use std::process::{Command, Output, Stdio};

use insta_cmd::assert_cmd_snapshot;

const PROGRAM: &str = env!("CARGO_BIN_EXE_cornerwise");

/// The program with these arguments, run in the folder of the project with nothing in its environment.
fn program(arguments: &[&str]) -> Command {
    let mut command = Command::new(PROGRAM);
    command.args(arguments).env_clear().current_dir(env!("CARGO_MANIFEST_DIR"));
    command
}

/// The same, 80 columns wide and without colour.
fn plain(arguments: &[&str]) -> Command {
    let mut command = program(arguments);
    command.args(["--width", "80", "--color", "never"]);
    command
}

fn run(mut command: Command) -> (i32, String, String) {
    let Output { status, stdout, stderr } = command.output().expect("the program runs");
    let text = |bytes| String::from_utf8(bytes).expect("what it prints is text");
    (status.code().expect("it was not killed"), text(stdout), text(stderr))
}

fn with_input(arguments: &[&str], input: &[u8]) -> (i32, String, String) {
    let mut command = plain(arguments);
    command.stdin(Stdio::piped()).stdout(Stdio::piped()).stderr(Stdio::piped());
    let mut child = command.spawn().expect("the program runs");
    // It may refuse the input before it has all of it.
    let _ = child.stdin.take().expect("a pipe").write_all(input);
    let Output { status, stdout, stderr } = child.wait_with_output().expect("it ends");
    let text = |bytes| String::from_utf8(bytes).expect("what it prints is text");
    (status.code().expect("it was not killed"), text(stdout), text(stderr))
}

/// A folder of its own for a test, empty.
fn folder(name: &str) -> PathBuf {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("cli").join(name);
    let _ = fs::remove_dir_all(&folder);
    fs::create_dir_all(&folder).expect("a folder");
    folder
}

const FOUR_TIERS: &str = "reconstructions/all-four-tiers.yaml";

#[test]
fn annotate_for_people() {
    assert_cmd_snapshot!("annotate-brief", plain(&["annotate", "--brief", FOUR_TIERS]));
    assert_cmd_snapshot!("annotate-pairs", plain(&["annotate", "--steps", "pairs", FOUR_TIERS]));
    assert_cmd_snapshot!("annotate-ascii", plain(&["annotate", "--ascii", FOUR_TIERS]));
}

/// The records of the folder itself; the season below it has as many again, all alike.
const TOP: &str = "reconstructions/*.[yt][ax][mt]*";

/// `--ascii` is ASCII.
#[test]
fn every_record_can_be_told_in_ascii() {
    let (_, ascii, _) = run(plain(&["annotate", TOP, "--ascii"]));
    // What the writer wrote stays as written.
    let own = ascii.lines().filter(|line| !line.contains("//") && !line.is_ascii()).collect::<Vec<_>>();
    assert!(own.is_empty(), "{own:#?}");
}

#[test]
fn annotate_for_programs() {
    let (exit, out, err) =
        run(program(&["annotate", "--format", "json", "reconstructions/three-of-one-morning.yaml"]));
    assert_eq!((exit, err.as_str()), (0, ""));
    let lines: Vec<serde_json::Value> =
        out.lines().map(|line| serde_json::from_str(line).expect("an object a line")).collect();
    assert_eq!(lines.len(), 3);
    assert!(lines.iter().enumerate().all(|(i, line)| line["record"] == i + 1));
    insta::assert_json_snapshot!("annotate-json-step", lines[0]["steps"][2]);
}

#[test]
fn replay() {
    assert_cmd_snapshot!("replay-steps", plain(&["replay", FOUR_TIERS]));
    assert_cmd_snapshot!("replay-at", plain(&["replay", "--at", "8", FOUR_TIERS]));
    assert_cmd_snapshot!("replay-at-end", plain(&["replay", "--at", "999", FOUR_TIERS]));
    let mut coloured = program(&["replay", "--at", "0", "--color", "always", FOUR_TIERS]);
    assert_cmd_snapshot!("replay-coloured", &mut coloured);
    let (exit, each, _) = run(plain(&["replay", "--each", "turn", FOUR_TIERS]));
    assert_eq!((exit, each.matches("moment ").count()), (0, 57), "56 tokens, 57 moments");
    // Where there is no terminal to play in, the same is printed, and at once.
    let (exit, played, _) = run(plain(&["replay", "--play", FOUR_TIERS]));
    assert_eq!((exit, played), (0, each));
}

#[test]
fn several_inputs_with_one_that_is_bad() {
    let (exit, out, err) =
        run(plain(&["annotate", "--brief", FOUR_TIERS, "nowhere.yaml", "reconstructions/xcross.yaml"]));
    assert_eq!(exit, 2);
    assert!(out.contains("first of the morning") && out.contains("xcross"), "{out}");
    assert!(err.contains("nowhere.yaml: no such file or folder"), "{err}");
    assert!(err.contains("1 of the inputs could not be read"), "{err}");
    let (exit, out, err) = run(plain(&["annotate", FOUR_TIERS, "reconstructions/mistyped-token.yaml"]));
    assert_eq!(exit, 1);
    assert!(out.contains("first of the morning") && out.contains("typed on the tram"));
    assert!(err.contains("1 of 2 records have faults") || err.contains("1 of 2 records has faults"), "{err}");
}

#[test]
fn files_folders_patterns_and_standard_input() {
    let brief = |input: &str| run(plain(&["annotate", "--format", "json", input]));
    let (exit, folder, _) = brief("reconstructions");
    assert_eq!((exit, folder.lines().count() >= 20), (1, true), "two of them are broken on purpose");
    // The season's files come in the order of their paths, among the others.
    let (_, pattern, _) = brief(TOP);
    let (_, season, _) = brief("reconstructions/season");
    let lines = |texts: &[&str]| {
        let mut lines: Vec<String> = texts.iter().flat_map(|text| text.lines()).map(String::from).collect();
        lines.sort();
        lines
    };
    assert_eq!(lines(&[&pattern, &season]), lines(&[&folder]));
    let text = fs::read(Path::new(env!("CARGO_MANIFEST_DIR")).join(FOUR_TIERS)).expect("a file");
    let (exit, out, err) = with_input(&["annotate", "--format", "json", "-"], &text);
    assert_eq!((exit, err.as_str()), (0, ""));
    let (_, file, _) = brief(FOUR_TIERS);
    assert_eq!(out, file.replace(FOUR_TIERS, "-"));
    let (exit, _, err) = brief("reconstructions/*.md.yaml");
    assert_eq!((exit, err.contains("no file matches")), (2, true), "{err}");
}

/// The reader of a pipe may go away at any time: that is no error and nothing to talk about.
#[test]
fn a_closed_pipe_ends_quietly() {
    for arguments in [
        &["annotate", TOP, TOP, TOP][..],
        &["annotate", "--format", "json", TOP, TOP],
        &["replay", "--each", "turn", TOP],
    ] {
        let mut command = plain(arguments);
        command.args(["--messages", "line"]).stdout(Stdio::piped()).stderr(Stdio::piped());
        let mut child = command.spawn().expect("the program runs");
        let mut out = child.stdout.take().expect("a pipe");
        out.read_exact(&mut [0; 20]).expect("a first line");
        drop(out);
        let Output { status, stderr, .. } = child.wait_with_output().expect("it ends");
        assert!(matches!(status.code(), Some(0 | 1)), "{status}");
        let err = String::from_utf8_lossy(&stderr);
        assert!(!err.contains("panicked") && !err.contains("pipe"), "{err}");
    }
}

#[test]
fn the_same_bytes_at_any_thread_count() {
    for format in ["text", "json"] {
        let with = |threads: &str| {
            let mut command = plain(&["annotate", "--format", format, TOP, "nowhere", FOUR_TIERS]);
            command.env("RAYON_NUM_THREADS", threads);
            run(command)
        };
        let one = with("1");
        assert_eq!(one.0, 2);
        assert_eq!(with("8"), one);
        assert_eq!(with("3"), one);
    }
}

#[test]
fn wrong_usage_is_said_with_status_2() {
    for (arguments, said) in [
        (&["annotate"][..], "FILE"),
        (&["annotate", "--format", "xml", FOUR_TIERS], "text"),
        (&["annotate", "--sight", "Q", FOUR_TIERS], "expected"),
        (&["annotate", "--sight", "", FOUR_TIERS], "expected"),
        (&["annotate", "--lead", "21", FOUR_TIERS], "expected a whole number from 0 to 20"),
        (&["annotate", "--width", "9", FOUR_TIERS], "expected a whole number from 50 to 1000"),
        (&["annotate", "--stop-seconds", "NaN", FOUR_TIERS], "from 0.01 to 60"),
        (&["annotate", "--sight", "UFR,UFRL", "--format", "svg", FOUR_TIERS], "expected one here"),
        (&["replay", "--sight", "UFR,UFRL", FOUR_TIERS], "expected one here"),
        (&["replay", "--line", "--quiet", FOUR_TIERS], "--line"),
        (&["replay", "--speed", "2", FOUR_TIERS], "--play"),
        (&["replay", "--at", "3", "--play", FOUR_TIERS], "--play"),
        (&["replay", "--at", "-1", FOUR_TIERS], "a number of tokens"),
        (&["annotate", "--lead", "three", FOUR_TIERS], "expected a whole number from 0 to 20"),
        (&["replay", "--at", "pear 2", FOUR_TIERS], "did you mean `pair 2`?"),
        (&["help", "wrods"], "did you mean `words`?"),
        (&["help", "anotate"], "did you mean `annotate`?"),
        (&["clock", FOUR_TIERS, "--times", "1,2 2,35 3,1"], "write decimals with a point"),
        (&["lesson", "nofile.md"], "nofile.md: no such file or folder"),
        (&["lesson", FOUR_TIERS], "no block in it begins with"),
        (&["rewind", FOUR_TIERS], "rewind"),
    ] {
        let (exit, out, err) = run(program(arguments));
        assert_eq!((exit, out.as_str()), (2, ""), "{arguments:?}");
        assert!(err.contains(said), "{arguments:?}: {err}");
    }
}

/// A kind of bad input: its text, the exit status, what the message says, and what is shown all the same.
struct Bad {
    name: &'static str,
    text: Vec<u8>,
    exit: i32,
    said: &'static str,
    shown: &'static str,
}

fn bad(
    name: &'static str,
    text: impl Into<Vec<u8>>,
    exit: i32,
    said: &'static str,
    shown: &'static str,
) -> Bad {
    Bad { name, text: text.into(), exit, said, shown }
}

/// The solve with one part of it replaced.
fn with(old: &str, new: &str) -> String {
    let text = include_str!("../../reconstructions/all-four-tiers.yaml");
    assert!(text.contains(old), "{old}");
    text.replacen(old, new, 1)
}

fn bad_inputs() -> Vec<Bad> {
    let pair = "pair 2  blue-orange";
    vec![
        bad("empty file", "", 1, "file-empty", ""),
        bad("blanks", "\n \n", 1, "file-empty", ""),
        bad("no scramble", "solution: R U\n", 1, "scramble", ""),
        bad("no solution", "title: mine\nscramble: R U F\n", 1, "solution", "mine"),
        bad("no solution, pasted", "R U F2 D\n", 1, "solution", "R U F2 D"),
        bad("binary", [0x7f, b'E', b'L', b'F', 0, 1, 2], 2, "NUL", ""),
        bad("not UTF-8", [b'R', b' ', 0xE9, b'\n'], 2, "UTF-8", ""),
        bad("2 MB of text", "R U R' U' ".repeat(200_000), 2, "1 MiB", ""),
        bad("100,000 brackets", format!("R U\n\n{}", "(".repeat(100_000)), 1, "deep", "R U"),
        bad(
            "100,000 pairs of brackets",
            format!("R U\n\n{}{}", "(".repeat(100_000), ")".repeat(100_000)),
            1,
            "deep",
            "R U",
        ),
        bad("a huge count", "R U\n\nR (R U)999999999\n", 1, "10000", "R U"),
        bad("nested counts", "R U\n\n((((((R)99)99)99)99)99)99\n", 1, "10000", "R U"),
        bad("marks running backwards", with("<1.22>", "<0.22>"), 1, "backwards", pair),
        bad("frames without fps", with("<1.22>", "<999f>"), 1, "fps", pair),
        bad("fps: 0", with("time: 10.70", "time: 10.70\nfps: 0"), 1, "fps", pair),
        bad("sight: Q", with("time: 10.70", "time: 10.70\nsight: Q"), 1, "sight", pair),
        bad("empty sight", with("time: 10.70", "time: 10.70\nsight: ''"), 1, "sight", pair),
        bad("two different totals", with("time: 10.70", "time: 11.90"), 0, "note[", pair),
        bad(
            "a mark in a repeated group",
            with("U' L' U L <1.84>", "(U' <1.5> U)2 U' L' U L <1.84>"),
            1,
            "group",
            pair,
        ),
        bad("an unknown field", with("solver: heron", "sovler: heron"), 1, "solver", pair),
        bad("a field twice", with("solver: heron", "solver: heron\nsolver: tern"), 1, "solver", pair),
        bad("an unsolved end", with("<10.56> U <10.70>", "<10.56> R <10.70>"), 1, "end-unsolved", pair),
        bad("one turn short", with("<10.56> U <10.70>", ""), 0, "end-one-turn-short", pair),
        bad(
            "no legal scramble",
            with("scramble: B' L", "scramble: B' Ł Q9"),
            1,
            "token-unknown",
            "first of the morning",
        ),
        bad("an unknown token", with("R' U R d' R'", "R' U R T' R'"), 1, "token-unknown", "pair 1  blue-red"),
        bad("quoted primes", "scramble: 'R U R''\nsolution: R U' R\n", 1, "quot", "R U R'"),
        bad("quoted primes, solved", "scramble: 'R U R''\nsolution: R U' R'\n", 0, "quot", "R U'"),
    ]
}

/// What the program went through for these records: tokens played and lines compared.
fn work(json: &str) -> u64 {
    json.lines()
        .map(|line| {
            let facts: serde_json::Value = serde_json::from_str(line).expect("JSON");
            let steps = facts["steps"].as_array().expect("steps");
            let lines = steps.iter().filter_map(|step| step["choice"]["lines"].as_u64()).sum::<u64>();
            facts["tokens"].as_u64().expect("a number of tokens") + lines
        })
        .sum()
}

/// Each is answered in one line a message, with its status, and without more work than there is to do; nothing that
/// could be read is lost, and the record after it in the same run is untouched.
#[test]
fn bad_input_gets_a_message_and_the_right_status() {
    let folder = folder("bad-input");
    let sound = work(&run(plain(&["annotate", "--format", "json", FOUR_TIERS])).1);
    assert!(sound > 100, "{sound} tokens and lines, of a solve of four pairs");
    for Bad { name, text, exit, said, shown } in bad_inputs() {
        let file = folder.join(format!("{}.yaml", name.replace([' ', ',', ':', '-'], "_")));
        fs::write(&file, &text).expect("a file");
        let path = file.display().to_string();
        let (status, out, err) = run(plain(&["annotate", "--messages", "line", &path, FOUR_TIERS]));
        assert_eq!(status, exit, "{name}: {err}");
        let lines: Vec<&str> = err.lines().filter(|line| line.contains(&path)).collect();
        assert!(lines.iter().any(|line| line.contains(said)), "{name}: no {said:?} in {err}");
        assert!(lines.len() <= 12, "{name}: {} lines", lines.len());
        assert!(lines.iter().all(|line| line.len() < 1000), "{name}: {err}");
        assert!(!err.contains("panicked"), "{name}: {err}");
        assert!(out.contains(shown), "{name}: no {shown:?} in {out}");
        assert!(out.contains("pair 4  green-orange"), "{name}: the other file is not shown");
        // What is bad is a sound solve with a slip, or at most as long as a record may be: nothing blows up.
        let (_, json, _) = run(plain(&["annotate", "--format", "json", &path]));
        assert!(
            work(&json) <= sound + 10_000,
            "{name}: {} tokens and lines, {sound} of the sound solve",
            work(&json)
        );
        // The same on standard input and drawn in full.
        let (status, other, err) = with_input(&["annotate", "-"], &text);
        assert_eq!(status, exit, "{name}");
        assert!(other.contains(shown) && !err.is_empty() && !err.contains("panicked"), "{name}: {err}");
        let (status, _, err) = with_input(&["replay", "-"], &text);
        assert_eq!(status, exit, "{name}: replay");
        assert!(!err.contains("panicked"), "{name}: {err}");
    }
}

#[test]
fn a_name_that_is_nearly_there_is_told() {
    let (status, _, err) = run(plain(&["annotate", "reconstructions/all-four-tier.yaml"]));
    assert_eq!(status, 2);
    let told = "all-four-tier.yaml: no such file or folder; beside it is all-four-tiers.yaml";
    assert!(err.contains(told), "{err}");
}

#[test]
fn what_cannot_be_had_gets_a_message_and_status_2() {
    let folder = folder("no-records");
    fs::write(folder.join("picture.png"), "x").expect("a file");
    let empty = folder.display().to_string();
    for (input, said) in
        [("nowhere.yaml", "no such file or folder"), (empty.as_str(), "no record in this folder")]
    {
        for verb in ["annotate", "replay"] {
            let (exit, out, err) = run(plain(&[verb, input]));
            assert_eq!((exit, out.as_str()), (2, ""), "{verb} {input}");
            assert_eq!(err.lines().count(), 1, "{err}");
            assert!(err.contains(input) && err.contains(said), "{err}");
        }
    }
}

/// One mark supports no figure but the clock at its moment.
#[test]
fn a_single_mark_gives_no_figures() {
    let text = "scramble: B' L B U D2 B' R D' F U R2 U R2 L2 B' L' F' B L2 B2\nsolution: |\n  x2 y U' L2 F' L D' R2 <1.12>\n  U' L' U L\n";
    let (_, out, _) = with_input(&["annotate", "--format", "json", "-"], text.as_bytes());
    let facts: serde_json::Value = serde_json::from_str(&out).expect("JSON");
    assert_eq!(facts["timing"]["marks"], 1);
    for figure in ["timer", "pace", "turns_per_second", "stop_from", "turning", "stopped"] {
        assert!(facts["timing"][figure].is_null(), "{figure}: {}", facts["timing"]);
    }
    assert!(facts["seconds"].is_null());
    for step in facts["steps"].as_array().expect("steps") {
        // From 0, where the solve begins, to the mark: the time of the cross, with whatever stood still in it.
        for figure in ["turning", "before", "inside", "hesitation"] {
            assert!(step["seconds"][figure].is_null(), "{figure}: {}", step["seconds"]);
        }
        assert!(step["stops"].as_array().is_some_and(Vec::is_empty));
    }
    let (_, text, _) = with_input(&["annotate", "-"], text.as_bytes());
    assert!(!text.contains("stopped"), "{text}");
}

/// A device that is full is an error that is said.
#[test]
fn output_that_cannot_be_written_is_said() {
    let Ok(full) = File::options().write(true).open("/dev/full") else { return };
    let mut command = plain(&["annotate", FOUR_TIERS]);
    command.stdout(full).stderr(Stdio::piped());
    let Output { status, stderr, .. } = command.output().expect("the program runs");
    assert_eq!(status.code(), Some(2));
    assert!(String::from_utf8_lossy(&stderr).contains("cannot write the output"));
}

/// A pipe that nobody writes into is waited for, as every program does, but not in silence. The pipe is made by the
/// system's own tool.
#[cfg(unix)]
#[test]
fn a_pipe_without_a_writer_is_named() {
    let pipe = std::path::Path::new(env!("CARGO_TARGET_TMPDIR")).join("nobody-writes");
    let _ = std::fs::remove_file(&pipe);
    // A utility of POSIX, so it is there.
    assert!(Command::new("mkfifo").arg(&pipe).status().expect("mkfifo runs").success());
    let mut command = program(&["annotate", "--brief", pipe.to_str().expect("text")]);
    let child = command.stdout(Stdio::piped()).stderr(Stdio::piped()).spawn().expect("the program runs");
    std::thread::sleep(std::time::Duration::from_secs(4));
    std::fs::write(&pipe, "R U F\n\nF' U' R'\n").expect("written");
    let ended = child.wait_with_output().expect("it ends");
    let err = String::from_utf8_lossy(&ended.stderr).into_owned();
    assert!(err.contains("nobody-writes: is a pipe; waiting for somebody to write into it"), "{err}");
    assert!(String::from_utf8_lossy(&ended.stdout).contains("3 turns"));
}

#[test]
fn messages_of_one_kind_are_drawn_so_often_and_then_counted() {
    let text = format!("R U F\n\n{}\n", "? ".repeat(3000));
    let (_, _, err) = with_input(&["mend", "-"], text.as_bytes());
    assert!(err.len() < 20_000, "{} bytes", err.len());
    assert!(err.contains("more of the kind [token-missing]"), "{err}");
}

/// The version is told before the options are laid out, and is the one that the parser of the options would tell.
#[test]
fn the_version_is_told() {
    let version = concat!("cornerwise ", env!("CARGO_PKG_VERSION"), "\n");
    for arguments in [&["--version"][..], &["-V"], &["-V", "--help"]] {
        let (status, out, err) = run(program(arguments));
        assert_eq!((status, out.as_str(), err.as_str()), (0, version, ""), "{arguments:?}");
    }
}

//! `replay`: moments by name, one line, quiet, and again whenever the file changes.

use std::fs;
use std::io::{BufRead, BufReader};
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::sync::mpsc::{Receiver, channel};
use std::thread;
use std::time::Duration;

const FORK: &str = "reconstructions/fork-after-first-pair.yaml#1";

fn command(arguments: &[&str]) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_cornerwise"));
    command.arg("replay").args(arguments).current_dir(env!("CARGO_MANIFEST_DIR")).env_clear();
    command
}

fn run(arguments: &[&str]) -> (i32, String, String) {
    let output = command(arguments).output().expect("it runs");
    let text = |bytes| String::from_utf8(bytes).expect("text");
    (output.status.code().expect("it ended"), text(output.stdout), text(output.stderr))
}

fn scratch(name: &str, text: &str) -> PathBuf {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("replays").join(name);
    fs::create_dir_all(&folder).expect("a folder");
    let path = folder.join("solve.txt");
    fs::write(&path, text).expect("it can be written");
    path
}

/// `x2 y`, six turns of the cross, seven of the first pair, five of the second.
#[test]
fn a_moment_has_the_name_of_the_step_that_ends_there() {
    for (name, token) in [
        ("start", "0"),
        ("cross", "8"),
        ("pair 1", "15"),
        ("Pair 2", "20"),
        ("pair2", "20"),
        ("end", "54"),
        ("AUF", "54"),
        ("PLL", "53"),
    ] {
        let (named, counted) = (run(&[FORK, "--at", name]), run(&[FORK, "--at", token]));
        assert_eq!(named, counted, "{name}");
        assert_eq!(named.0, 0);
    }
    // A pair that came in with the cross ends with it.
    let xcross = "reconstructions/xcross.yaml";
    assert_eq!(run(&[xcross, "--at", "pair 1"]).1, run(&[xcross, "--at", "cross"]).1);
    // A milestone without turns of its own is where the step ends that reached it.
    let skip = "reconstructions/orientation-skip.yaml";
    assert_eq!(run(&[skip, "--at", "OLL"]).1, run(&[skip, "--at", "pair 4"]).1);
}

#[test]
fn several_moments_stand_under_the_title() {
    let (status, out, _) = run(&[FORK, "--at", "pair 2", "--at", "OLL"]);
    assert_eq!(status, 0);
    assert!(out.starts_with("Quay Practice, same scramble, keeps going\n\n"), "{out}");
    let pair = out.find("pair 2 (green-orange) done").expect("the step's title");
    assert!(out[pair..].contains("OLL done"), "{out}");
    assert_eq!(run(&[FORK, "--at", "pair 2,OLL"]).1, out);
}

#[test]
fn what_is_no_moment_is_told_what_there_is() {
    let (status, out, err) =
        run(&["reconstructions/missing-prime.yaml", "--at", "OLL", "--messages", "line"]);
    assert_eq!((status, out.as_str()), (2, ""));
    assert!(
        err.contains("--at OLL: this record has the moments 0 to 52 and the steps cross and pair 1"),
        "{err}"
    );
    let (status, _, err) = run(&[FORK, "--at", "pair 7"]);
    assert!(status == 2 && err.contains("`pair 1` to `pair 4`"), "{err}");
}

#[test]
fn a_solve_in_one_line_has_all_of_it() {
    let (status, out, _) = run(&[FORK, "--line"]);
    assert_eq!(status, 0);
    assert_eq!(
        out,
        "Quay Practice, same scramble, keeps going, tern, 9.14 s, 55 turns: B' L2 F U2 D2 L2 D2 L F U D B2 R L2 D L2 D' F2 \
         B2 U2 | x2 y / L2 U' R2 F D L' / U' R' U2 R L' U L / R U' R2 U R / U' L U' L' U' R U R' / L U' L' y' U2 L' U' L / \
         U2 R' F R U R' U' F' U R / M2 U' M U2 M' U' M2 / U2\n"
    );
}

#[test]
fn quiet_says_only_what_is_wrong() {
    assert_eq!(run(&[FORK, "--quiet"]), (0, String::new(), String::new()));
    let (status, out, err) = run(&["reconstructions/mistyped-token.yaml", "--quiet"]);
    assert_eq!((status, out.as_str()), (1, ""));
    assert!(err.contains("fault["), "{err}");
}

/// Ends the program however the test ends.
struct Running(Child);

impl Drop for Running {
    fn drop(&mut self) {
        let _ = self.0.kill();
        let _ = self.0.wait();
    }
}

/// The lines of the output as they come.
fn lines(child: &mut Child) -> Receiver<String> {
    let out = child.stdout.take().expect("piped");
    let (sender, receiver) = channel();
    thread::spawn(move || {
        for line in BufReader::new(out).lines().map_while(Result::ok) {
            if sender.send(line).is_err() {
                break;
            }
        }
    });
    receiver
}

/// Up to a line that begins so. Fails only where it does not come at all.
fn wait_for(lines: &Receiver<String>, start: &str) {
    loop {
        let line = lines
            .recv_timeout(Duration::from_secs(60))
            .unwrap_or_else(|_| panic!("no line begins with {start}"));
        if line.starts_with(start) {
            return;
        }
    }
}

#[test]
fn watch_runs_again_when_the_file_changes() {
    let path = scratch("watch", "R U F\n\nF' U' R'\n");
    let name = path.display().to_string();
    let mut running =
        Running(command(&[&name, "--line", "--watch"]).stdout(Stdio::piped()).spawn().expect("it starts"));
    let lines = lines(&mut running.0);
    let start = |turns: &str| format!("{name}, {turns}: ");
    wait_for(&lines, &start("3 turns"));
    // Written over in place, then by a new file that takes its name, as editors do.
    fs::write(&path, "R U F\n\nF' U' U' U R'\n").expect("it can be written");
    wait_for(&lines, &start("5 turns"));
    let other = path.with_extension("new");
    fs::write(&other, "R U F\n\nF' U' U' U U U' R'\n").expect("it can be written");
    fs::rename(&other, &path).expect("it can be renamed");
    wait_for(&lines, &start("7 turns"));
    assert!(running.0.try_wait().expect("it runs").is_none(), "it goes on watching");
}

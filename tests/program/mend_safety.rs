//! Nobody's work is lost by `mend --write`, whoever else writes, and nothing it meets makes it wait for ever.

use std::fs;
use std::io::Write;
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Output, Stdio};
use std::thread;
use std::time::{Duration, Instant};

use crate::support::broken::{self, BROKEN};

fn mended() -> String {
    broken::mended(BROKEN)
}

/// A folder of its own for a test, empty.
fn folder(name: &str) -> PathBuf {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("mend-safety").join(name);
    let _ = fs::remove_dir_all(&folder);
    fs::create_dir_all(&folder).expect("a folder");
    folder
}

fn command(folder: &Path, arguments: &[&str]) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_cornerwise"));
    command.args(arguments).env_clear().current_dir(folder);
    command.stdin(Stdio::null()).stdout(Stdio::piped()).stderr(Stdio::piped());
    command
}

fn run(folder: &Path, arguments: &[&str]) -> (i32, String, String) {
    told(command(folder, arguments).output().expect("the program runs"))
}

fn told(output: Output) -> (i32, String, String) {
    let text = |bytes| String::from_utf8(bytes).expect("text");
    (output.status.code().expect("it ended"), text(output.stdout), text(output.stderr))
}

/// Waits for the end, but not for ever.
fn ended(mut child: Child) -> (i32, String, String) {
    let until = Instant::now() + Duration::from_secs(60);
    while child.try_wait().expect("a state").is_none() {
        if Instant::now() > until {
            child.kill().expect("ended");
            panic!("it does not end");
        }
        thread::sleep(Duration::from_millis(20));
    }
    told(child.wait_with_output().expect("what it said"))
}

/// Two runs, each on one record of the same file: a repair that was told is there afterwards.
#[test]
fn two_runs_on_one_file_lose_nothing_they_tell() {
    let folder = folder("two");
    let path = folder.join("two.yaml");
    let (mut n_told, mut n_refused) = (0, 0);
    for _ in 0..12 {
        fs::write(&path, format!("{BROKEN}---\n{BROKEN}")).expect("written");
        let start = |record: &str| {
            command(&folder, &["mend", "--write", "--no-backup", record]).spawn().expect("the program runs")
        };
        let runs = [start("two.yaml#1"), start("two.yaml#2")].map(ended);
        let text = fs::read_to_string(&path).expect("there");
        let (first, second) = text.split_once("---\n").expect("two records");
        for ((exit, out, err), record) in runs.iter().zip([first, second]) {
            match exit {
                0 => assert!(out.contains("mended 1 record") && record == mended(), "{out}{err}{text}"),
                _ => {
                    assert!(err.contains("changed since it was read; run the command again"), "{err}");
                    assert_eq!((*exit, record), (2, BROKEN), "{err}");
                    n_refused += 1;
                }
            }
            n_told += usize::from(*exit == 0);
        }
        assert!(runs.iter().any(|run| run.0 == 0), "one of them is first: {runs:?}");
    }
    assert_eq!(n_told + n_refused, 24);
}

/// The run has read its file and still waits for the end of its standard input when an editor saves: the words that were
/// saved stay, whichever comes first.
#[test]
fn what_an_editor_saved_in_the_meantime_stays() {
    let folder = folder("editor");
    let path = folder.join("mine.yaml");
    fs::write(&path, BROKEN).expect("written");
    let mut run = command(&folder, &["mend", "--write", "mine.yaml", "-"])
        .stdin(Stdio::piped())
        .spawn()
        .expect("it runs");
    let mut stdin = run.stdin.take().expect("a pipe");
    thread::sleep(Duration::from_millis(400));
    let saved = format!("{BROKEN}notes: saved by the editor\n");
    fs::write(&path, &saved).expect("saved");
    stdin.write_all(b"R U\n\nU' R'\n").expect("it reads");
    drop(stdin);
    let (exit, _, err) = ended(run);
    let text = fs::read_to_string(&path).expect("there");
    assert!(text.ends_with("notes: saved by the editor\n"), "{text}");
    // Where the machine was slow it was read only after it was saved.
    if text == saved {
        assert_eq!(exit, 2, "{err}");
        assert!(
            err.contains("mine.yaml: not written, and left as it was: it was changed since it was read"),
            "{err}"
        );
        assert_eq!(fs::read_dir(&folder).expect("a folder").count(), 1, "no copy stays behind");
    }
}

#[test]
fn files_are_mended_whether_or_not_anybody_reads_the_report() {
    let folder = folder("unread");
    for name in ["a.yaml", "b.yaml", "c.yaml"] {
        fs::write(folder.join(name), BROKEN).expect("written");
    }
    let mut run =
        command(&folder, &["mend", "--write", "a.yaml", "b.yaml", "c.yaml"]).spawn().expect("it runs");
    drop(run.stdout.take());
    let (exit, _, err) = ended(run);
    assert_eq!((exit, err.as_str()), (0, ""));
    for name in ["a.yaml", "b.yaml", "c.yaml"] {
        assert_eq!(fs::read_to_string(folder.join(name)).expect("there"), mended(), "{name}");
    }
}

#[cfg(unix)]
#[test]
fn a_pipe_is_refused_and_not_waited_for() {
    let folder = folder("pipe");
    let made = Command::new("mkfifo").arg(folder.join("pipe.yaml")).status();
    if !made.is_ok_and(|made| made.success()) {
        std::io::stderr().write_all(b"skipped: no `mkfifo` here\n").expect("standard error");
        return;
    }
    fs::write(folder.join("sound.yaml"), mended()).expect("written");
    for arguments in [
        &["mend", "--write", "pipe.yaml", "sound.yaml"][..],
        &["clock", "pipe.yaml", "--times", "1,2", "--write"],
    ] {
        let (exit, _, err) = ended(command(&folder, arguments).spawn().expect("it runs"));
        assert_eq!(exit, 2);
        assert!(err.contains("pipe.yaml: is no regular file, so nothing can be written to it"), "{err}");
    }
    // In a folder, or behind a pattern, it is no record.
    for name in [".", "*.yaml", "**/*.yaml"] {
        let (exit, out, err) = ended(command(&folder, &["mend", name]).spawn().expect("it runs"));
        assert_eq!((exit, err.as_str()), (0, ""), "{name}: {out}");
    }
    fs::remove_dir_all(folder).expect("removed");
}

#[test]
fn long_names_and_what_other_runs_left_are_no_hindrance() {
    let folder = folder("long");
    fs::write(folder.join(".cornerwise-1-0.part"), "left").expect("written");
    for length in [251, 252, 254, 255] {
        let name = format!("{}.yaml", "n".repeat(length - 5));
        fs::write(folder.join(&name), BROKEN).expect("written");
        let (exit, out, err) = run(&folder, &["mend", "--write", &name]);
        assert_eq!(exit, 0, "{err}");
        assert!(out.contains("mended 1 record; the old text is "), "{out}");
        assert_eq!(fs::read_to_string(folder.join(&name)).expect("there"), mended());
    }
    assert_eq!(fs::read_dir(&folder).expect("a folder").count(), 1 + 2 * 4);
}

#[cfg(unix)]
#[test]
fn links_that_lead_back_are_followed_by_no_pattern_for_ever() {
    let folder = folder("loops");
    fs::write(folder.join("a.yaml"), mended()).expect("written");
    for link in ["one", "two"] {
        std::os::unix::fs::symlink(".", folder.join(link)).expect("linked");
    }
    let (exit, out, err) =
        ended(command(&folder, &["mend", "--full", "**/*.yaml"]).spawn().expect("it runs"));
    assert_eq!((exit, err.as_str()), (0, ""));
    assert_eq!(out.matches("a.yaml").count(), 1, "{out}");
}

//! Runs that are broken off, by Ctrl-C or by a disk that is full, lose nothing and leave nothing half written.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Output, Stdio};
use std::thread::sleep;
use std::time::Duration;

use crate::support::broken::{BROKEN, mended};

/// A record with a slip, and a title that is long enough for the file to need more than one block of a disk.
fn broken() -> String {
    let long = "title: Quay practice, with a slip, and a title that is longer than it needs to be";
    BROKEN.replacen("title: Quay practice, with a slip", long, 1)
}

/// The same without the slip.
fn sound() -> String {
    mended(&broken())
}

/// A folder of its own for a test, with a record in it.
fn folder(name: &str, text: &str) -> PathBuf {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("broken-off").join(name);
    let _ = fs::remove_dir_all(&folder);
    fs::create_dir_all(&folder).expect("a folder");
    fs::write(folder.join("record.yaml"), text).expect("written");
    folder
}

fn names(folder: &Path) -> Vec<String> {
    let entries = fs::read_dir(folder).into_iter().flatten().flatten();
    let mut names: Vec<String> = entries.map(|e| e.file_name().to_string_lossy().into_owned()).collect();
    names.sort();
    names
}

/// Runs the program where no file may grow beyond 512 bytes: what a disk that is full does to it.
fn on_a_full_disk(folder: &Path, arguments: &[&str]) -> Output {
    Command::new("/bin/sh")
        .args(["-c", "trap '' XFSZ; ulimit -f 1; exec \"$0\" \"$@\"", env!("CARGO_BIN_EXE_cornerwise")])
        .args(arguments)
        .current_dir(folder)
        .stdin(Stdio::null())
        .output()
        .expect("it runs")
}

/// It says which file, ends with 2, and everything is as it was.
#[track_caller]
fn nothing_happened(folder: &Path, ran: &Output, file: &str, before: &[(&str, &str)]) {
    let said = String::from_utf8_lossy(&ran.stderr);
    assert_eq!(ran.status.code(), Some(2), "{said}");
    assert!(said.contains(file), "{said}");
    let there: Vec<&str> = before.iter().map(|(name, _)| *name).collect();
    assert_eq!(names(folder), there, "{said}");
    for (name, text) in before {
        assert_eq!(fs::read_to_string(folder.join(name)).expect("there"), *text);
    }
}

#[test]
fn a_full_disk_loses_nothing() {
    let broken = broken();
    let folder = folder("full", &broken);
    let before = [("record.yaml", broken.as_str())];
    // The copy of the old text is what fails first, without it the new text.
    for more in [&[][..], &["--no-backup"]] {
        let ran = on_a_full_disk(&folder, &[&["mend", "record.yaml", "--write"], more].concat());
        nothing_happened(&folder, &ran, "record.yaml: not written, and left as it was", &before);
    }
    let sound = sound();
    fs::write(folder.join("record.yaml"), &sound).expect("written");
    let before = [("record.yaml", sound.as_str())];
    let times = ["clock", "record.yaml", "--times", "1,2,3,4,5,6,7", "--write"];
    for more in [&[][..], &["--no-backup"]] {
        let ran = on_a_full_disk(&folder, &[&times[..], more].concat());
        nothing_happened(&folder, &ran, "record.yaml: not written", &before);
    }
    // With room it would have been written.
    let ran = Command::new(env!("CARGO_BIN_EXE_cornerwise")).args(times).current_dir(&folder).output();
    assert!(ran.expect("it runs").status.success());
    fs::remove_file(folder.join("record.yaml.bak")).expect("there");
    fs::write(folder.join("record.yaml"), &sound).expect("written");
    for format in ["text", "json", "html", "markdown"] {
        let output = ["annotate", "record.yaml", "--format", format, "--output", "report"];
        let ran = on_a_full_disk(&folder, &output);
        nothing_happened(&folder, &ran, "report: cannot be written", &before);
    }
    // Of several files none is written where one cannot be, and what there was stays.
    fs::create_dir(folder.join("pages")).expect("a folder");
    fs::write(folder.join("pages/index.html"), "mine").expect("written");
    let arguments = ["annotate", "record.yaml", "--format", "html", "--output", "pages/", "--force"];
    let ran = on_a_full_disk(&folder, &arguments);
    nothing_happened(&folder.join("pages"), &ran, "cannot be written", &[("index.html", "mine")]);
}

#[test]
fn a_run_that_is_broken_off_leaves_nothing_half_written() {
    let text = vec![sound(); 400].join("---\n");
    let folder = folder("signal", &text);
    for (format, output) in [("html", "pages/"), ("markdown", "texts/"), ("json", "facts.json")] {
        let at = folder.join(output);
        let written_in = if output.ends_with('/') { at.clone() } else { folder.clone() };
        let mut child = Command::new(env!("CARGO_BIN_EXE_cornerwise"))
            .args(["annotate", "record.yaml", "--format", format, "--output", output])
            .current_dir(&folder)
            .stdin(Stdio::null())
            .stderr(Stdio::null())
            .spawn()
            .expect("it runs");
        let is_draft = |name: &String| name.ends_with(".part");
        let mut met_a_draft = false;
        while !met_a_draft && child.try_wait().expect("a child").is_none() {
            met_a_draft = names(&written_in).iter().any(is_draft);
            sleep(Duration::from_millis(1));
        }
        assert!(met_a_draft, "{format}: it was over before it could be broken off");
        let told = Command::new("/bin/sh").args(["-c", &format!("kill -INT {}", child.id())]).status();
        assert!(told.expect("it runs").success());
        let ended = child.wait().expect("a child");
        assert_eq!(ended.code(), Some(130), "{format}");
        let expected: &[&str] = if output.ends_with('/') { &[] } else { &["pages", "record.yaml", "texts"] };
        assert_eq!(names(&written_in), expected, "{format}");
    }
}

/// Whether the program has said that it will take care of Ctrl-C: bit 1 of the signals that are caught.
fn takes_care(id: u32) -> bool {
    let status = fs::read_to_string(format!("/proc/{id}/status")).unwrap_or_default();
    let caught = status.lines().find_map(|line| line.strip_prefix("SigCgt:"));
    caught.and_then(|mask| u64::from_str_radix(mask.trim(), 16).ok()).is_some_and(|mask| mask & 2 != 0)
}

#[test]
fn a_drill_that_is_broken_off_prints_what_it_has_and_says_so() {
    let folder = folder("drill", "");
    for output in [None, Some("drill.json")] {
        let mut arguments = vec!["drill", "whole", "--count", "1000", "--seed", "1", "--format", "json"];
        arguments.extend(output.iter().flat_map(|output| ["--output", output]));
        let mut child = Command::new(env!("CARGO_BIN_EXE_cornerwise"))
            .args(arguments)
            .current_dir(&folder)
            .stdin(Stdio::null())
            .stdout(Stdio::piped())
            .stderr(Stdio::piped())
            .spawn()
            .expect("it runs");
        while !takes_care(child.id()) {
            assert!(
                child.try_wait().expect("a child").is_none(),
                "it was over before it could be broken off"
            );
            sleep(Duration::from_millis(5));
        }
        sleep(Duration::from_millis(500));
        let told = Command::new("/bin/sh").args(["-c", &format!("kill -INT {}", child.id())]).status();
        assert!(told.expect("it runs").success());
        let ended = child.wait_with_output().expect("a child");
        let (out, err) = (String::from_utf8_lossy(&ended.stdout), String::from_utf8_lossy(&ended.stderr));
        assert_eq!(ended.status.code(), Some(130), "{err}");
        let found = err.split("broken off: ").nth(1).and_then(|said| said.split(' ').next());
        let found: usize = found.and_then(|n| n.parse().ok()).unwrap_or_else(|| panic!("{err}"));
        assert!(found < 1000 && err.contains(" of 1000 w"), "{err}");
        // What is printed is whole, and all that was found; into a file nothing is written.
        assert_eq!(out.lines().count(), if output.is_some() { 0 } else { found }, "{err}");
        assert!(out.lines().all(|line| serde_json::from_str::<serde_json::Value>(line).is_ok()));
        assert_eq!(names(&folder), ["record.yaml"]);
    }
}

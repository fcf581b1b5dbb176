//! `mend` through the built program: what it prints, what it writes, and what it leaves alone.

use std::fs;
use std::io::Write;
use std::path::{Path, PathBuf};
use std::process::{Command, Output, Stdio};

use crate::support::broken::{self, BROKEN};

fn mended() -> String {
    broken::mended(BROKEN)
}

/// A folder of its own for a test.
struct Folder(PathBuf);

impl Folder {
    fn new(name: &str) -> Folder {
        let path = std::env::temp_dir().join(format!("cornerwise-mend-{name}-{}", std::process::id()));
        let _ = fs::remove_dir_all(&path);
        fs::create_dir_all(&path).expect("a folder for the test");
        Folder(path)
    }

    fn file(&self, name: &str, text: &str) -> PathBuf {
        let path = self.0.join(name);
        fs::write(&path, text).expect("a file for the test");
        path
    }

    fn names(&self) -> Vec<String> {
        let mut names: Vec<String> = fs::read_dir(&self.0)
            .expect("the folder")
            .map(|entry| entry.expect("an entry").file_name().to_string_lossy().into_owned())
            .collect();
        names.sort();
        names
    }
}

impl Drop for Folder {
    fn drop(&mut self) {
        let _ = fs::remove_dir_all(&self.0);
    }
}

fn run(folder: &Folder, arguments: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_cornerwise"))
        .current_dir(&folder.0)
        .env_clear()
        .args(arguments)
        .output()
        .expect("the program runs")
}

fn text(bytes: &[u8]) -> String {
    String::from_utf8(bytes.to_vec()).expect("UTF-8")
}

fn read(path: &Path) -> String {
    fs::read_to_string(path).expect("the file is there")
}

#[test]
fn the_report_shows_before_after_and_why() {
    let folder = Folder::new("report");
    folder.file("slip.yaml", BROKEN);
    let output = run(&folder, &["mend", "slip.yaml"]);
    assert_eq!(output.status.code(), Some(1));
    insta::assert_snapshot!(text(&output.stdout));
    assert!(text(&output.stderr).contains("end-unsolved"));
    assert_eq!(folder.names(), ["slip.yaml"], "nothing is written unless asked for");
    assert!(text(&output.stdout).lines().all(|line| line.chars().count() <= 80));
}

#[test]
fn write_changes_the_token_and_keeps_a_copy() {
    let folder = Folder::new("write");
    let path = folder.file("slip.yaml", BROKEN);
    let output = run(&folder, &["mend", "--write", "slip.yaml"]);
    assert_eq!(output.status.code(), Some(0), "{}", text(&output.stderr));
    assert_eq!(
        text(&output.stdout).lines().next().map(|line| format!("{line}\n")),
        Some("slip.yaml: mended 1 record; the old text is slip.yaml.bak\n".replace(
            "slip.yaml.bak",
            &fs::canonicalize(&folder.0).expect("a path").join("slip.yaml.bak").display().to_string(),
        ))
    );
    // What was written is said.
    let said: Vec<String> = text(&output.stdout).lines().skip(1).map(str::to_owned).collect();
    let [line] = said.as_slice() else { panic!("{said:?}") };
    let (number, now) =
        line.trim().trim_start_matches("line ").split_once(": ").expect("a line and its number");
    let number: usize = number.parse().expect("a number");
    assert_eq!(mended().lines().nth(number - 1).map(str::trim), Some(now));
    assert_ne!(BROKEN.lines().nth(number - 1).map(str::trim), Some(now));
    assert_eq!(read(&path), mended());
    assert_eq!(read(&folder.0.join("slip.yaml.bak")), BROKEN);
    assert_eq!(folder.names(), ["slip.yaml", "slip.yaml.bak"]);
    // It is clean now, and mending it again changes nothing.
    assert_eq!(run(&folder, &["annotate", "slip.yaml"]).status.code(), Some(0));
    let again = run(&folder, &["mend", "--write", "slip.yaml"]);
    assert_eq!((again.status.code(), text(&again.stdout)), (Some(0), String::new()));
    assert_eq!(folder.names(), ["slip.yaml", "slip.yaml.bak"]);
    // A second copy does not take the place of the first.
    fs::write(&path, BROKEN).expect("written");
    run(&folder, &["mend", "--write", "slip.yaml"]);
    assert_eq!(folder.names(), ["slip.yaml", "slip.yaml.bak", "slip.yaml.bak2"]);
    fs::write(&path, BROKEN).expect("written");
    run(&folder, &["mend", "--write", "--no-backup", "slip.yaml"]);
    assert_eq!(read(&path), mended());
    assert_eq!(folder.names().len(), 3);
}

#[test]
fn patch_prints_a_diff_and_writes_nothing() {
    let folder = Folder::new("patch");
    let path = folder.file("slip.yaml", BROKEN);
    let output = run(&folder, &["mend", "--patch", "slip.yaml"]);
    assert_eq!(output.status.code(), Some(0));
    insta::assert_snapshot!(text(&output.stdout));
    assert_eq!(read(&path), BROKEN);
    // Standard input can be patched, not written.
    for (argument, code) in [("--patch", 0), ("--write", 2)] {
        let mut child = Command::new(env!("CARGO_BIN_EXE_cornerwise"))
            .args(["mend", argument, "-"])
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .stderr(Stdio::piped())
            .spawn()
            .expect("the program runs");
        child.stdin.take().expect("a pipe").write_all(BROKEN.as_bytes()).expect("written");
        assert_eq!(child.wait_with_output().expect("an end").status.code(), Some(code));
    }
}

#[test]
fn what_is_not_clear_is_not_written_unless_chosen() {
    let folder = Folder::new("choose");
    // One turn short: right as it stands, or the last turn was left out.
    let short = mended().replacen("R2 D'  // PLL Gd", "R2  // a bit short", 1);
    let path = folder.file("short.yaml", &short);
    let output = run(&folder, &["mend", "--write", "short.yaml"]);
    assert_eq!((output.status.code(), read(&path)), (Some(0), short.clone()));
    let output = run(&folder, &["mend", "--write", "--choose", "99", "short.yaml"]);
    assert_eq!((output.status.code(), read(&path)), (Some(2), short.clone()));
    let output = run(&folder, &["mend", "--write", "--choose", "1", "short.yaml"]);
    assert_eq!(output.status.code(), Some(0), "{}", text(&output.stderr));
    assert_eq!(read(&path), mended().replacen("D'  // PLL Gd", "D'  // a bit short", 1));
    // A choice is for one record.
    folder.file("a.yaml", BROKEN);
    folder.file("b.yaml", BROKEN);
    let output = run(&folder, &["mend", "--write", "--choose", "1", "a.yaml", "b.yaml"]);
    assert_eq!(output.status.code(), Some(2));
    assert_eq!(read(&folder.0.join("a.yaml")), BROKEN);
}

#[cfg(unix)]
#[test]
fn a_file_that_cannot_be_written_is_left_as_it_was() {
    use std::os::unix::fs::PermissionsExt;
    let folder = Folder::new("readonly");
    let path = folder.file("slip.yaml", BROKEN);
    fs::set_permissions(&path, fs::Permissions::from_mode(0o444)).expect("set");
    let output = run(&folder, &["mend", "--write", "slip.yaml"]);
    assert_eq!(output.status.code(), Some(2));
    assert!(text(&output.stderr).contains("left as it was"), "{}", text(&output.stderr));
    assert_eq!(read(&path), BROKEN);
    assert_eq!(folder.names(), ["slip.yaml"], "no copy and no half-written file stays behind");
    // Permissions and links survive a write.
    fs::set_permissions(&path, fs::Permissions::from_mode(0o640)).expect("set");
    std::os::unix::fs::symlink(&path, folder.0.join("link.yaml")).expect("a link");
    assert_eq!(run(&folder, &["mend", "--write", "link.yaml"]).status.code(), Some(0));
    assert_eq!(read(&path), mended());
    assert_eq!(fs::metadata(&path).expect("there").permissions().mode() & 0o777, 0o640);
    assert!(fs::symlink_metadata(folder.0.join("link.yaml")).expect("there").file_type().is_symlink());
}

#[test]
fn a_folder_gives_a_table_and_one_bad_file_stops_nothing() {
    let folder = Folder::new("folder");
    folder.file("a-slip.yaml", BROKEN);
    folder.file("b-sound.yaml", &mended());
    fs::write(folder.0.join("c-picture.yaml"), [0, 159, 146, 150]).expect("written");
    folder.file("d-nonsense.txt", "R U F\n\nL2 D B\n");
    folder.file("e-empty.txt", "");
    let many = format!("{}---\n{BROKEN}", mended());
    folder.file("f-many.yaml", &many);
    let output = run(&folder, &["mend", "."]);
    assert_eq!(output.status.code(), Some(2), "one of them is no text");
    insta::assert_snapshot!(text(&output.stdout));
    let err = text(&output.stderr);
    assert!(err.contains("c-picture.yaml") && err.contains("file-empty"), "{err}");
    // Everything that is clear is written, the rest is told.
    let output = run(&folder, &["mend", "--write", "--no-backup", "."]);
    assert_eq!(output.status.code(), Some(2));
    assert_eq!(read(&folder.0.join("a-slip.yaml")), mended());
    assert_eq!(read(&folder.0.join("f-many.yaml")), format!("{}---\n{}", mended(), mended()));
    assert!(text(&output.stderr).contains("d-nonsense.txt: no repair found"));
}

#[test]
fn json_has_what_the_report_has() {
    let folder = Folder::new("json");
    folder.file("slip.yaml", BROKEN);
    let output = run(&folder, &["mend", "--format", "json", "--show", "1", "slip.yaml"]);
    assert_eq!(output.status.code(), Some(1));
    let facts: serde_json::Value = serde_json::from_slice(&output.stdout).expect("JSON");
    assert_eq!(facts["format"], "cornerwise-mend/2");
    assert_eq!((&facts["health"], &facts["standing"]), (&"broken".into(), &"clear".into()));
    let rewrite = &facts["repairs"][0]["rewrites"][0];
    let (start, end) =
        (rewrite["start"].as_u64().expect("a number"), rewrite["end"].as_u64().expect("a number"));
    assert_eq!(&BROKEN[start as usize..end as usize], "L");
    assert_eq!(rewrite["with"], "L'");
}

#[cfg(unix)]
#[test]
fn a_private_file_stays_private_and_so_does_its_copy() {
    use std::os::unix::fs::PermissionsExt;
    let folder = Folder::new("private");
    let path = folder.file("mine.yaml", BROKEN);
    fs::set_permissions(&path, fs::Permissions::from_mode(0o600)).expect("permissions");
    assert_eq!(run(&folder, &["mend", "--write", "mine.yaml"]).status.code(), Some(0));
    for name in ["mine.yaml", "mine.yaml.bak"] {
        let mode = fs::metadata(folder.0.join(name)).expect(name).permissions().mode();
        assert_eq!(mode & 0o777, 0o600, "{name}");
    }
}

#[test]
fn faults_that_are_left_after_mending_are_told() {
    let folder = Folder::new("left");
    let mark = BROKEN.replacen("  x2\n", "  <2.00> x2 <1.00>\n", 1);
    let path = folder.file("marks.yaml", &mark);
    let output = run(&folder, &["mend", "--write", "marks.yaml"]);
    assert_eq!(output.status.code(), Some(1), "{}", text(&output.stderr));
    assert!(text(&output.stderr).contains("faults that are left after mending"), "{}", text(&output.stderr));
    assert!(read(&path).contains("L2 U L'"), "what could be mended was");
}

#[test]
fn a_record_that_comes_out_with_faults_is_not_called_sound() {
    let folder = Folder::new("faulty");
    folder.file("good.yaml", &mended());
    folder.file("marks.yaml", &mended().replacen("  x2\n", "  <2.00> x2 <1.00>\n", 1));
    let output = run(&folder, &["mend", "good.yaml", "marks.yaml"]);
    let table = text(&output.stdout);
    assert_eq!(output.status.code(), Some(1));
    assert!(table.contains("marks.yaml  faulty"), "{table}");
    assert!(table.ends_with("1 of 2 sound, 1 with faults\n"), "{table}");
    let alone = text(&run(&folder, &["mend", "marks.yaml"]).stdout);
    assert!(alone.contains("Replays to solved, but has faults"), "{alone}");
}

#[test]
fn the_command_it_suggests_can_be_typed() {
    let folder = Folder::new("typed");
    folder.file("two of them.yaml", &format!("{BROKEN}---\n{}", mended()));
    let report = text(&run(&folder, &["mend", "--width", "120", "two of them.yaml#1"]).stdout);
    let line = "To apply it: cornerwise mend --write 'two of them.yaml#1'";
    assert!(report.contains(line), "{report}");
    let patch = text(&run(&folder, &["mend", "--patch", "two of them.yaml"]).stdout);
    assert!(patch.starts_with("--- a/two of them.yaml\t\n+++ b/two of them.yaml\t\n"), "{patch}");
}

/// `patch` from outside the project: what `--patch` prints is taken by it (skipped where it is not installed).
#[test]
fn the_patch_is_taken_by_the_patch_program() {
    let folder = Folder::new("patched");
    for (name, old) in [
        ("plain.yaml", BROKEN.to_owned()),
        ("with a blank.yaml", BROKEN.to_owned()),
        ("carriage.yaml", BROKEN.replacen("by hand", "by\rhand", 1)),
    ] {
        let path = folder.file(name, &old);
        let patch = run(&folder, &["mend", "--patch", name]).stdout;
        let program = Command::new("patch")
            .args(["-p1", "--binary"])
            .current_dir(&folder.0)
            .stdin(Stdio::piped())
            .stdout(Stdio::null())
            .spawn();
        let Ok(mut program) = program else {
            std::io::stderr().write_all(b"skipped: no `patch` here\n").expect("standard error");
            return;
        };
        program.stdin.take().expect("piped").write_all(&patch).expect("it reads");
        assert!(program.wait().expect("it ends").success(), "{name}");
        assert!(read(&path).contains("L2 U L'"), "{name}");
    }
}

#[test]
fn one_turn_short_is_left_and_that_is_said() {
    let folder = Folder::new("short");
    // The last token is a turn that could be taken off as a penalty.
    let short =
        mended().replacen("R' U R2 D'  // PLL Gd", "R' U R2 D' U  // PLL Gd and a slip of the hand", 1);
    let path = folder.file("short.yaml", &short);
    let output = run(&folder, &["mend", "--write", "short.yaml"]);
    assert_eq!(output.status.code(), Some(0), "{}", text(&output.stderr));
    assert!(text(&output.stderr).contains("left as it is: one turn short"), "{}", text(&output.stderr));
    assert_eq!(read(&path), short);
}

#[test]
fn a_missing_last_adjustment_goes_where_its_words_wait() {
    let folder = Folder::new("waits");
    let sound = read(&Path::new(env!("CARGO_MANIFEST_DIR")).join("reconstructions/all-four-tiers.yaml"));
    // Without its marks and without its last turn.
    let untimed = |line: &str| -> String {
        let indent = &line[..line.len() - line.trim_start().len()];
        let words: Vec<&str> = line.split_whitespace().filter(|word| !word.starts_with('<')).collect();
        format!("{indent}{}\n", words.join(" "))
    };
    let untimed: String = sound.lines().filter(|line| !line.starts_with("time:")).map(untimed).collect();
    let without = untimed.replacen("  U // AUF", "  // AUF", 1);
    assert_ne!(without, untimed, "the record has a last adjustment");
    let path = folder.file("waits.yaml", &without);
    let output = run(&folder, &["mend", "--write", "--choose", "1", "waits.yaml"]);
    assert_eq!(output.status.code(), Some(0), "{}", text(&output.stderr));
    assert_eq!(read(&path), untimed);
}

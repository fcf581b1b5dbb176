//! `docs/example` holds what a coach would show of one solve: a page, a Markdown text with its pictures, captions. It
//! is what the program writes today.
//!
//! `CORNERWISE_UPDATE_DOCS=1 cargo test --test program example_pages` writes it anew.

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

const RECORD: &str = "reconstructions/all-four-tiers.yaml";

/// Runs the program as a person would, and gives the files it wrote.
fn written(folder: &Path) -> BTreeMap<String, Vec<u8>> {
    let name = |ending: &str| folder.join(format!("first-of-the-morning.{ending}"));
    let runs =
        [vec!["--format", "html"], vec!["--format", "markdown"], vec!["--format", "vtt", "--start", "4.5"]];
    for (arguments, ending) in runs.iter().zip(["html", "md", "vtt"]) {
        let run = Command::new(env!("CARGO_BIN_EXE_cornerwise"))
            .args(["annotate", RECORD, "--force", "--output"])
            .arg(name(ending))
            .args(arguments)
            .current_dir(env!("CARGO_MANIFEST_DIR"))
            .output()
            .expect("the program runs");
        assert!(run.status.success(), "{}", String::from_utf8_lossy(&run.stderr));
        assert!(run.stdout.is_empty());
    }
    read(folder)
}

fn read(folder: &Path) -> BTreeMap<String, Vec<u8>> {
    let Ok(entries) = fs::read_dir(folder) else { return BTreeMap::new() };
    let file = |entry: fs::DirEntry| {
        (entry.file_name().to_string_lossy().into_owned(), fs::read(entry.path()).expect("a file"))
    };
    entries.flatten().map(file).collect()
}

#[test]
fn the_example_is_what_the_program_writes() {
    let kept = PathBuf::from(concat!(env!("CARGO_MANIFEST_DIR"), "/docs/example"));
    if std::env::var_os("CORNERWISE_UPDATE_DOCS").is_some() {
        let _ = fs::remove_dir_all(&kept);
        written(&kept);
    }
    let folder = std::env::temp_dir().join(format!("cornerwise-example-{}", std::process::id()));
    let fresh = written(&folder);
    fs::remove_dir_all(&folder).expect("removed");
    let kept = read(&kept);
    let names = |files: &BTreeMap<String, Vec<u8>>| files.keys().cloned().collect::<Vec<_>>();
    assert_eq!(
        names(&kept),
        names(&fresh),
        "CORNERWISE_UPDATE_DOCS=1 cargo test --test program example_pages"
    );
    for (name, bytes) in &fresh {
        assert!(kept[name] == *bytes, "docs/example/{name} is not current: see the top of this file");
    }
}

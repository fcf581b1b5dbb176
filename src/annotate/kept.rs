//! The facts of every record here, kept as a figure each: what changes them on purpose renews the figures
//! (`CORNERWISE_UPDATE_DOCS=1 cargo test --lib annotate::kept`), what changes them by mistake is seen in a second.
//!
//! Whether the facts are *right* is told elsewhere, by second implementations; this is what mutation testing runs
//! (`tests/mutants`), because it needs no other crate to be linked.

use std::fs;
use std::path::{Path, PathBuf};

use super::{Settings, annotate};
use crate::cube::{Face, FaceSet};
use crate::diagnostic::Source;
use crate::hands::HalfUnits;
use crate::judgement;
use crate::record;
use crate::search::Kind;
use crate::study::Study;

const KEPT: &str = "tests/data/facts-kept.tsv";

/// FNV-1a of 64 bits: the same on every machine.
fn figure(text: &str) -> u64 {
    text.bytes()
        .fold(0xcbf2_9ce4_8422_2325, |sum, byte| (sum ^ u64::from(byte)).wrapping_mul(0x0100_0000_01b3))
}

/// All records of a folder and of those in it, in order.
fn records(folder: &Path, found: &mut Vec<PathBuf>) {
    let mut entries: Vec<PathBuf> =
        fs::read_dir(folder).expect("a folder").flatten().map(|entry| entry.path()).collect();
    entries.sort();
    for path in entries {
        if path.is_dir() {
            records(&path, found);
        } else if path.extension().is_some_and(|ending| ending == "yaml") {
            found.push(path);
        }
    }
}

/// The faces in sight, the lead, the slack and the kind of lines each differ from the default in one of these.
fn ways() -> [(&'static str, Settings); 5] {
    use Face::{F, L, R, U};
    let sight = |faces: &[Face]| Some(FaceSet::of(faces));
    let own = Settings::default();
    [
        ("default", own.clone()),
        ("left", Settings { sight: sight(&[U, F, R, L]), ..own.clone() }),
        ("lead", Settings { sight: sight(&[U, F, L]), lead: 4, ..own.clone() }),
        (
            "slack",
            Settings {
                choice: judgement::Settings { slack: HalfUnits::from_halves(5), ..own.choice.clone() },
                ..own.clone()
            },
        ),
        (
            "every",
            Settings { choice: judgement::Settings { kind: Kind::Every, ..own.choice.clone() }, ..own },
        ),
    ]
}

#[test]
fn the_facts_of_the_records_here_are_what_they_were() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let renewed = std::env::var_os("CORNERWISE_UPDATE_DOCS").is_some();
    let kept = fs::read_to_string(root.join(KEPT)).expect("the figures");
    let mut kept_lines = kept.lines();
    let mut files = Vec::new();
    records(&root.join("reconstructions"), &mut files);
    files.push(root.join("tests/data/made-solves.yaml"));
    let mut made = String::new();
    for path in files {
        let name = path.strip_prefix(root).expect("in the project").display().to_string();
        let source = Source::new(name.as_str(), fs::read_to_string(&path).expect("a record"));
        for (n, record) in record::read(&source).records.iter().enumerate() {
            let study = Study::new(&source, n + 1, record);
            // To look at every line takes as long as all the rest.
            let few = n == 0 && !name.contains("season");
            for (way, settings) in ways().into_iter().filter(|(way, _)| *way != "every" || few) {
                let facts = annotate(&study, &settings).facts;
                let mut text = serde_json::to_string(&facts).expect("facts are written");
                // What is read off the facts and stands in none of them.
                for step in &facts.steps {
                    let (cleaner, own, instead) = (step.cleaner(), step.own_line(), step.instead());
                    let lines = (
                        cleaner.map(|line| &line.text),
                        own.map(|line| &line.text),
                        instead.map(|line| &line.text),
                    );
                    text.push_str(&format!("{lines:?}{}{}", step.flowed(), step.chose_worse()));
                }
                let line = format!("{name}#{}\t{way}\t{:016x}", n + 1, figure(&text));
                // The first that changed is enough: hundreds of mutants wait for it.
                assert!(renewed || kept_lines.next() == Some(&line), "the facts changed: {line}");
                made.push_str(&line);
                made.push('\n');
            }
        }
    }
    assert!(made.lines().count() > 700, "{made}");
    assert!(renewed || kept_lines.next().is_none(), "records are missing");
    if renewed {
        fs::write(root.join(KEPT), &made).expect("written");
    }
}

//! Defects that a reader of the finished program found, each with its story, so that they do not come back.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};

use cornerwise::annotate::{Annotated, Settings, annotate};
use cornerwise::annotation::{Annotation, Judged};
use cornerwise::diagnostic::Source;
use cornerwise::record;
use cornerwise::study::Study;

fn annotated(text: &str) -> Annotated {
    let source = Source::new("mine", text);
    let reading = record::read(&source);
    annotate(&Study::new(&source, 1, &reading.records[0]), &Settings::default())
}

fn facts(text: &str) -> Annotation {
    annotated(text).facts
}

fn kept(name: &str) -> String {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("reconstructions").join(name);
    fs::read_to_string(path).expect("the record is there")
}

fn folder(name: &str) -> PathBuf {
    let path = std::env::temp_dir().join(format!("cornerwise-reviewed-{name}-{}", std::process::id()));
    let _ = fs::remove_dir_all(&path);
    fs::create_dir_all(&path).expect("a folder for the test");
    path
}

fn run(arguments: &[&str], folder: &Path) -> Output {
    Command::new(env!("CARGO_BIN_EXE_cornerwise"))
        .current_dir(folder)
        .env_clear()
        .args(arguments)
        .output()
        .expect("the program runs")
}

/// It said "solved" of a cube that was never scrambled, since its scramble could not be read.
#[test]
fn what_was_not_played_is_not_judged() {
    for text in [
        "hello world this is\n\nR U R' U'\n",
        "scramble: R U Q\nsolution: U' R'\n",
        "solution: R U R' U'\n",
        "scramble: R U\nsolution: Q U' R'\n",
    ] {
        let facts = facts(text);
        assert_eq!(facts.end.judged, Judged::NotJudged, "{text:?}");
        assert_eq!(facts.end.missing, None, "{text:?}");
        assert!(!facts.solved);
        assert!(facts.steps.is_empty(), "{text:?}: no steps are made up");
        assert_eq!(facts.cross, None, "{text:?}: no cross is made up");
        assert!(!facts.untold.is_empty(), "{text:?}: and that is said");
    }
    // The writer's scramble stays to be seen.
    assert_eq!(facts("hello world this is\n\nR U R' U'\n").scramble, "hello world this is");
}

/// A record that breaks off on a solved cube is not judged either.
#[test]
fn a_record_that_breaks_off_is_not_judged() {
    let facts = facts("scramble: R\nsolution: R' Q U\n");
    assert_eq!((facts.end.judged, facts.tokens, facts.solved), (Judged::NotJudged, 1, false));
}

/// `// OLL 45` where the replay finds another case went unnoticed.
#[test]
fn a_case_with_the_wrong_number_or_letter_is_noticed() {
    let right = kept("all-four-tiers.yaml");
    let codes = |text: &str| -> Vec<(&'static str, String)> {
        annotated(text).diagnostics.iter().map(|note| (note.code, note.message.clone())).collect()
    };
    assert_eq!(codes(&right), []);
    let wrong = right.replacen("OLL 46", "OLL 45", 1).replacen("PLL Gd", "PLL Ga", 1);
    assert_ne!(wrong, right);
    let said = codes(&wrong);
    assert_eq!(said.len(), 2, "{said:?}");
    assert!(said.iter().all(|(code, _)| *code == "claim-contradicted"));
    assert!(said[0].1.contains("OLL 45") && said[0].1.contains("OLL 46"), "{said:?}");
    assert!(said[1].1.contains("PLL Ga") && said[1].1.contains("PLL Gd"), "{said:?}");
}

/// A pause after the cross was put down to the position, "nothing was to be had", where another corner was up.
#[test]
fn a_pause_is_no_fault_of_the_position_while_another_corner_is_up_within_slack() {
    let mut n_others = 0;
    for entry in fs::read_dir(Path::new(env!("CARGO_MANIFEST_DIR")).join("reconstructions")).expect("records")
    {
        let path = entry.expect("an entry").path();
        if path.is_dir() {
            continue;
        }
        let source = Source::new("kept", fs::read_to_string(&path).expect("text"));
        for record in &record::read(&source).records {
            let facts = annotate(&Study::new(&source, 1, record), &Settings::default()).facts;
            for pair in facts.steps.windows(2) {
                let [before, step] = pair else { continue };
                let Some(cause) = step.stop_before().and_then(|stop| stop.cause) else { continue };
                let late = before.taken().is_some_and(|offer| !offer.ready);
                let other = late && before.offers.iter().any(|offer| !offer.taken && offer.ready);
                n_others += usize::from(other);
                // Ready and dearer than the stop was long: then there was nothing better after all.
                let position = cause == cornerwise::annotation::Cause::Position;
                assert!(!other || !position || before.choice.is_some(), "{}", path.display());
            }
        }
    }
    assert!(n_others > 0, "some record shows it");
}

/// A named pipe called like a record made a run over its folder wait for ever.
#[cfg(unix)]
#[test]
fn a_pipe_in_a_folder_is_no_record() {
    let folder = folder("pipe");
    fs::write(folder.join("good.yaml"), kept("all-four-tiers.yaml")).expect("a file");
    let made = Command::new("mkfifo").arg(folder.join("a.yaml")).status();
    if !made.is_ok_and(|status| status.success()) {
        return;
    }
    let output = run(&["annotate", "."], &folder);
    assert_eq!(output.status.code(), Some(0));
    let _ = fs::remove_dir_all(&folder);
}

/// The name of an untitled record's file went to the terminal as it is, escapes and all.
#[cfg(unix)]
#[test]
fn a_file_name_cannot_steer_the_terminal() {
    let folder = folder("escape");
    let name = "\u{1b}]0;owned\u{7} b.txt";
    fs::write(folder.join(name), "R U\n\nU' R'\n").expect("a file");
    for arguments in [
        &["annotate", "--color", "always", name][..],
        &["annotate", "--color", "always", "--brief", name],
        &["replay", "--color", "always", name],
        &["mend", "--color", "always", name],
        &["annotate", "--color", "always", "missing\u{1b}]0;owned\u{7}.txt"],
    ] {
        let output = run(arguments, &folder);
        let all = [output.stdout, output.stderr].concat();
        let text = String::from_utf8_lossy(&all);
        assert!(!text.contains("\u{1b}]") && !text.contains('\u{7}'), "{arguments:?}: {text:?}");
    }
    let _ = fs::remove_dir_all(&folder);
}

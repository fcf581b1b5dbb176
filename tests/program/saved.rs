//! Saved facts give every view again, the same bytes as the record they were taken from.

use std::fs;
use std::path::Path;
use std::process::{Command, Output};

use cornerwise::annotate::{Settings, annotate};
use cornerwise::annotation::Annotation;
use cornerwise::diagnostic::Source;
use cornerwise::record;
use cornerwise::report::json;
use cornerwise::study::Study;

use crate::support::solver::{Marks, Options, Rng, Solver, Style};

/// The files of `reconstructions/`.
fn kept() -> Vec<String> {
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/reconstructions");
    let entries = fs::read_dir(folder).expect("the folder").map(|entry| entry.expect("an entry").path());
    let records = entries.filter(|path| path.extension().is_some_and(|e| e == "yaml" || e == "txt"));
    let mut files: Vec<String> = records.map(|path| path.display().to_string()).collect();
    files.sort();
    files
}

fn facts(name: &str, text: &str) -> Vec<Annotation> {
    let source = Source::new(name, text);
    let records = record::read(&source).records;
    let one = |(n, record)| annotate(&Study::new(&source, n + 1, record), &Settings::default()).facts;
    records.iter().enumerate().map(one).collect()
}

/// Read back, facts are equal value by value, and written again they are the same bytes.
#[test]
fn facts_are_read_back_as_they_were() {
    let mut all: Vec<Annotation> = Vec::new();
    for file in kept() {
        all.extend(facts(&file, &fs::read_to_string(&file).expect("text")));
    }
    let (mut solver, mut rng) = (Solver::new(), Rng::new(1201));
    for n in 0..100 {
        let marks = [Marks::None, Marks::Ends, Marks::Both, Marks::Every][n % 4];
        let style = Style { marks, fps: (n % 3 == 0).then_some(60), ..Style::default() };
        let solve = solver.random(&mut rng, &Options { wide: n % 2 == 0, ..Options::default() });
        let mut text = solve.respelled(&mut rng).yaml("made", &style, &mut rng);
        if n % 5 == 0 {
            text.truncate(text.rfind("//").expect("a comment"));
        }
        all.extend(facts("made", &text));
    }
    assert!(all.len() > 120, "{}", all.len());
    let saved: String = all.iter().map(json::line).collect();
    assert!(json::is_saved(&saved));
    let read: Vec<Annotation> =
        json::read(&saved).into_iter().map(|read| read.expect("it was written so")).collect();
    assert!(read == all, "not the same facts");
    assert_eq!(read.iter().map(json::line).collect::<String>(), saved);
}

fn cornerwise(arguments: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_cornerwise"))
        .arg("annotate")
        .args(arguments)
        .env("NO_COLOR", "1")
        .output()
        .expect("the program runs")
}

#[test]
fn every_view_is_printed_again_from_saved_facts() {
    let folder = std::env::temp_dir().join(format!("cornerwise-saved-{}", std::process::id()));
    fs::create_dir_all(&folder).expect("a folder");
    let saved = folder.join("saved.jsonl");
    let saved = saved.to_str().expect("a name");
    let views: [&[&str]; 10] = [
        &["--format", "json"],
        &["--format", "text"],
        &["--format", "text", "--brief", "--ascii", "--width", "60"],
        &["--format", "text", "--setup"],
        &["--format", "markdown"],
        &["--format", "markdown", "--pictures", "inline"],
        &["--format", "html"],
        &["--format", "vtt"],
        &["--format", "vtt", "--start", "2.5"],
        &["--format", "svg"],
    ];
    let mut compared = [0; 10];
    for file in kept() {
        let file = Path::new(&file).to_str().expect("a name").to_owned();
        fs::write(saved, cornerwise(&["--format", "json", &file]).stdout).expect("written");
        for (view, compared) in views.into_iter().zip(&mut compared) {
            let before = cornerwise(&[view, &[file.as_str()]].concat());
            let after = cornerwise(&[view, &[saved]].concat());
            assert!(before.stdout == after.stdout, "{file}: {view:?}");
            assert_eq!(before.status.code(), after.status.code(), "{file}: {view:?}");
            *compared += usize::from(!before.stdout.is_empty());
        }
    }
    // Captions need marks; a record with none has none.
    assert!(compared.iter().all(|&compared| compared > 8), "{compared:?}");
    fs::remove_dir_all(folder).expect("removed");
}

/// What is no record's facts is refused in words, and never followed past its end.
#[test]
fn facts_that_cannot_be_are_refused() {
    let file = kept().into_iter().find(|file| file.contains("all-four-tiers")).expect("it is kept");
    let good = json::line(&facts("it", &fs::read_to_string(file).expect("text"))[0]);
    let refused = |text: &str, told: &str| match json::read(text).remove(0) {
        Ok(_) => panic!("taken, though {told}"),
        Err((line, wrong)) => {
            assert_eq!(line, 1);
            assert!(wrong.contains(told), "{wrong}");
        }
    };
    refused(&good.replace("annotation/2", "annotation/1"), "annotate the record again");
    refused(&good.replace("annotation/2", "comparison/2"), "`cornerwise-comparison/2`");
    refused(&good[..good.len() / 2], "not the facts of a record");
    refused(&good.replacen("\"to\":", "\"to\":99", 1), "does not go on");
    refused(&good.replacen("\"UBL\"", "\"UDL\"", 1), "faces that meet");
    refused(&good.replacen("\"blue-red\"", "\"red-blue\"", 1), "alphabetical order");
    refused(&good.replacen("\"tokens\":", "\"tokens\":9", 1), "moments");
    assert!(!json::is_saved("{ scramble: R U, solution: U' R' }"), "a record in one line is a record");
}

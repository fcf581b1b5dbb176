//! The corpus in `tests/data/pastes`: pastes as files, each with what it must be read as.
//!
//! `expected.tsv` has a line a file: its name, then either `refused` and the code of the message, or the letters of the
//! solves that it holds, which `solves.tsv` and `hand-solves.tsv` give (letter, scramble, solution). Most files are made of invented solves
//! by the forms in `tests/support/pastes.rs`; run with `UPDATE_PASTES=1` to write them again. Those whose names begin
//! with `hand-` were written by hand.

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::PathBuf;

use cornerwise::cube::Moves;
use cornerwise::diagnostic::Source;

use cornerwise::notation::Turns;
use cornerwise::paste;
use cornerwise::report::diagnostics::one_line;

use crate::support::pastes::{self, DECORATIONS, HEADS, LAYOUTS, TAILS, Written};
use crate::support::solver::{Rng, Solver};

fn folder() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("tests/data/pastes")
}

/// The forms that are made, each with the letters of its solves.
fn made() -> (Vec<Written>, BTreeMap<String, (String, String)>) {
    let mut solver = Solver::new();
    let solves: Vec<Written> =
        [101, 102, 103].map(|n| Written::random(&mut solver, &mut Rng::new(n))).to_vec();
    let [a, b, c] = [&solves[0], &solves[1], &solves[2]];
    let mut forms = BTreeMap::new();
    let mut add = |kind: &str, (name, text): (String, String), letters: &str| {
        let file = format!("{kind}-{}.txt", name.replace('+', "-"));
        assert!(forms.insert(file, (text, letters.to_owned())).is_none(), "{name} twice");
    };
    for head in HEADS {
        add("head", pastes::paste(a, head, LAYOUTS[0], TAILS[1], &[]), "a");
    }
    for layout in LAYOUTS {
        add("layout", pastes::paste(b, HEADS[1], layout, TAILS[1], &[]), "b");
    }
    for tail in TAILS {
        add("tail", pastes::paste(c, HEADS[1], LAYOUTS[29], tail, &[]), "c");
    }
    for decoration in DECORATIONS {
        add("sent", pastes::paste(a, HEADS[7], LAYOUTS[9], TAILS[1], &[decoration]), "a");
    }
    for (n, parting) in ["\n\n", "\n---\n", "\n\n\n", "\n=====\n", "\n***\n\n"].into_iter().enumerate() {
        for (head, layout) in [(HEADS[0], LAYOUTS[29]), (HEADS[7], LAYOUTS[0]), (HEADS[1], LAYOUTS[2])] {
            let each = [a, b, c].map(|w| pastes::paste(w, head, layout, TAILS[0], &[]).1);
            add("several", (format!("{}-{}-{n}", head.0, layout.0), each.join(parting)), "abc");
        }
    }
    (solves, forms)
}

#[test]
fn the_files_are_what_the_forms_give() {
    let (solves, forms) = made();
    let table: String = solves
        .iter()
        .zip('a'..)
        .map(|(w, letter)| format!("{letter}\t{}\t{}\n", w.scramble(), w.solution()))
        .collect();
    if std::env::var_os("UPDATE_PASTES").is_some() {
        fs::create_dir_all(folder()).expect("a folder");
        fs::write(folder().join("solves.tsv"), &table).expect("written");
        let old = fs::read_to_string(folder().join("expected.tsv")).unwrap_or_default();
        let by_hand = old.lines().filter(|line| line.starts_with("hand-")).map(|line| format!("{line}\n"));
        let mut expected: Vec<String> =
            forms.iter().map(|(file, (_, letters))| format!("{file}\t{letters}\n")).collect();
        expected.extend(by_hand);
        fs::write(folder().join("expected.tsv"), expected.concat()).expect("written");
        for (file, (text, _)) in &forms {
            fs::write(folder().join(file), text).expect("written");
        }
    }
    assert_eq!(fs::read_to_string(folder().join("solves.tsv")).expect("the solves"), table);
    for (file, (text, _)) in &forms {
        let found = fs::read_to_string(folder().join(file)).unwrap_or_else(|_| panic!("{file} is missing"));
        assert_eq!(&found, text, "{file}");
    }
}

fn moves(turns: &Turns) -> String {
    Moves::from(turns.playable().collect::<Vec<_>>()).to_string()
}

#[test]
fn every_file_is_read_as_it_must_be() {
    let read = |name: &str| fs::read_to_string(folder().join(name)).expect("a file of the corpus");
    let tables = [read("solves.tsv"), read("hand-solves.tsv")].concat();
    let solves: BTreeMap<String, (String, String)> = tables
        .lines()
        .filter_map(|line| {
            let mut cells = line.split('\t');
            Some((cells.next()?.to_owned(), (cells.next()?.to_owned(), cells.next()?.to_owned())))
        })
        .collect();
    let expected = read("expected.tsv");
    let mut listed = BTreeSet::new();
    let mut wrong = Vec::new();
    for line in expected.lines() {
        let cells: Vec<&str> = line.split('\t').collect();
        let file = cells[0];
        listed.insert(file.to_owned());
        let source = Source::new(file, read(file));
        let reading = paste::read(&source);
        let faults: Vec<_> = reading.all_diagnostics().filter(|said| said.is_fault()).collect();
        let shown = || {
            format!("{}\n{:#?}", source.text, faults.iter().map(|f| one_line(&source, f)).collect::<Vec<_>>())
        };
        if cells[1] == "refused" {
            if !faults.iter().any(|fault| fault.code == cells[2]) {
                let turns: Vec<_> =
                    reading.records.iter().map(|r| (moves(&r.scramble), moves(&r.solution))).collect();
                wrong.push(format!("=== {file}: not refused with {}\n{}\n{turns:#?}", cells[2], shown()));
            }
            continue;
        }
        let found: Vec<_> =
            reading.records.iter().map(|r| (moves(&r.scramble), moves(&r.solution))).collect();
        let meant: Vec<_> = cells[1].chars().map(|letter| solves[&letter.to_string()].clone()).collect();
        if found != meant || !faults.is_empty() {
            wrong.push(format!("=== {file}\n{}\n{found:#?}\nfor {meant:#?}", shown()));
        }
    }
    assert!(wrong.is_empty(), "{} files:\n{}", wrong.len(), wrong[..wrong.len().min(6)].join("\n"));
    assert!(listed.len() >= 120, "{} files", listed.len());
    let there: BTreeSet<String> = fs::read_dir(folder())
        .expect("the corpus")
        .filter_map(|entry| entry.ok()?.file_name().into_string().ok())
        .filter(|name| name.ends_with(".txt"))
        .collect();
    assert_eq!(there, listed, "every file is listed");
}

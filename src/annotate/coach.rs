//! The rules by which a line is told of a step, one at a time, on a step of a record here whose lines are put in by hand.

use std::fs;
use std::path::Path;

use super::{Settings, annotate};
use crate::annotation::{Alternative, Step};
use crate::cube::Moves;
use crate::diagnostic::Source;
use crate::record;
use crate::study::Study;

/// A pair step with a line to be told of it, and the names of two other pairs.
fn step() -> (Step, Alternative, Vec<crate::cube::PairName>) {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("reconstructions/no-corner-up.yaml");
    let source = Source::new("it", fs::read_to_string(path).expect("a record"));
    let reading = record::read(&source);
    let facts = annotate(&Study::new(&source, 1, &reading.records[0]), &Settings::default()).facts;
    let told = |step: &&Step| {
        step.choice.as_ref().is_some_and(|choice| choice.cheapest.is_some() || choice.cleaner.is_some())
    };
    let step = facts.steps.iter().find(told).expect("a step with lines").clone();
    let choice = step.choice.as_ref().expect("lines");
    let line = choice.cleaner.clone().or_else(|| choice.cheapest.clone()).expect("a line");
    let others = facts.steps.iter().flat_map(|other| other.pairs.clone());
    let others = others.filter(|pair| !step.pairs.contains(pair)).collect();
    (step, line, others)
}

fn moves(text: &str) -> Moves {
    text.parse().expect("moves")
}

#[test]
fn a_line_is_told_instead_only_if_it_reads_as_hands_play_it() {
    let (step, line, others) = step();
    let plain =
        Alternative { same_turns: false, text: moves("U R U' R'"), pairs: vec![others[0]], obtm: 8, ..line };
    let told = |line: Alternative| {
        let mut step = step.clone();
        step.choice.as_mut().expect("lines").alternatives = vec![line];
        step.instead().is_some()
    };
    assert!(told(plain.clone()));
    // Nobody finds nine turns for another pair; of the turns that were played anyhow there is nothing to find.
    assert!(!told(Alternative { obtm: 9, ..plain.clone() }));
    assert!(told(Alternative { obtm: 9, same_turns: true, ..plain.clone() }));
    // Two pairs at once: up to six turns.
    let two = Alternative { pairs: others[..2].to_vec(), ..plain.clone() };
    assert!(told(Alternative { obtm: 6, ..two.clone() }) && !told(Alternative { obtm: 7, ..two.clone() }));
    assert_eq!(step.pairs.len(), 1, "as many pairs as were played are no more");
    assert!(told(Alternative { obtm: 7, ..plain.clone() }));
    // A side by half, the top, the same side by half: nobody plays that; of another side they do.
    for (text, reads) in
        [("R2 U R2", false), ("F2 Dw F2", false), ("R2 U F2", true), ("U2 R U2", true), ("R2 F R2", true)]
    {
        assert_eq!(told(Alternative { text: moves(text), ..plain.clone() }), reads, "{text}");
    }
    // For the pair that was solved: nine turns only if that is no more than were played, and without a half turn of a side.
    let own = Alternative { pairs: step.pairs.clone(), obtm: 9, ..plain };
    let played = |obtm: usize, line: &Alternative| {
        let mut step = Step { obtm, ..step.clone() };
        step.choice.as_mut().expect("lines").alternatives = vec![line.clone()];
        step.instead().is_some()
    };
    assert!(played(9, &own) && !played(8, &own));
    assert!(!played(9, &Alternative { text: moves("R2 U R U' R'"), ..own.clone() }));
    assert!(played(9, &Alternative { text: moves("U2 R U' R'"), ..own.clone() }));
    assert!(played(7, &Alternative { obtm: 8, text: moves("R2 U R U' R'"), ..own }));
}

//! The rules by which a line is told of a step, one at a time, on a step of a record here whose lines are put in by hand.

use std::fs;
use std::path::Path;

use super::{Settings, annotate};
use crate::annotation::{Alternative, AlternativeNext, Cause, Instead, OwnLine, Step, Stop};
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

/// A line for the pair that was solved, of which nothing speaks against telling it.
fn plain(step: &Step, line: &Alternative) -> Alternative {
    let next = line.next.clone().expect("a pair it leaves");
    let next = AlternativeNext { deduced: false, buried: false, out_of_sight: false, ..next };
    Alternative {
        text: moves("U R U' R'"),
        pairs: step.pairs.clone(),
        obtm: 4,
        cost: 4.0,
        saves: 3.0,
        tokens_saved: Some(2),
        at_hand: true,
        same_turns: false,
        next: Some(next),
        ..line.clone()
    }
}

/// The step with this as its cleaner line, itself of six turns that cost four units, with no stop before it.
fn with(step: &Step, line: Alternative) -> Step {
    let mut step = Step { text: moves("R U R' U R U'"), obtm: 6, stops: Vec::new(), ..step.clone() };
    let choice = step.choice.as_mut().expect("lines");
    (choice.cost, choice.cleaner) = (4.0, Some(line));
    step
}

/// The hundredth of a second from which on it is told; `None` if it is not, however much it saves.
fn told_from(told: impl Fn(f64) -> bool) -> Option<u32> {
    let from = (0..100).find(|&hundredths| told(f64::from(hundredths) / 100.0 + 1e-9));
    assert!(from.is_none_or(|from| (from..100).all(|more| told(f64::from(more) / 100.0 + 1e-9))));
    from
}

#[test]
fn a_cleaner_line_has_to_save_the_more_the_more_it_asks() {
    let (step, line, others) = step();
    let plain = plain(&step, &line);
    let left = plain.next.clone().expect("a pair");
    let leaves = |next: AlternativeNext| Alternative { next: Some(next), ..plain.clone() };
    let saved = |tokens: i64| Alternative { tokens_saved: Some(tokens), ..plain.clone() };
    let text = |text: &str| Alternative { text: moves(text), ..plain.clone() };
    let other = Alternative { pairs: vec![others[0]], ..plain.clone() };
    for (what, line, from) in [
        ("plain", plain.clone(), Some(15)),
        ("of no known length", Alternative { tokens_saved: None, ..plain.clone() }, Some(15)),
        ("leaves no pair", Alternative { next: None, ..plain.clone() }, Some(15)),
        ("the turns played", Alternative { same_turns: true, ..plain.clone() }, Some(25)),
        ("to be deduced", leaves(AlternativeNext { deduced: true, ..left.clone() }), Some(25)),
        ("one turn fewer", saved(1), Some(35)),
        ("as long", saved(0), Some(45)),
        ("longer", saved(-1), Some(45)),
        ("turned first", text("y U R U' R'"), Some(15)),
        ("tilted first", text("x U R U' R'"), Some(45)),
        ("turned inside", text("U y R U' R'"), Some(45)),
        ("puts its corner down", leaves(AlternativeNext { buried: true, ..left.clone() }), Some(55)),
        ("leaves it hidden", leaves(AlternativeNext { out_of_sight: true, ..left.clone() }), Some(55)),
        ("another pair", other.clone(), Some(35)),
        ("another pair, not at hand", Alternative { at_hand: false, ..other.clone() }, None),
        ("another pair by the turns played", Alternative { same_turns: true, ..other.clone() }, Some(25)),
        (
            "it and another",
            Alternative { pairs: [&step.pairs[..], &others[..1]].concat(), ..plain.clone() },
            Some(35),
        ),
        ("nine turns", Alternative { obtm: 9, ..plain.clone() }, None),
        // Two regrips more, and dearer.
        ("with regrips", Alternative { cost: 4.5, ..text("Rw U Fw'") }, None),
        ("with regrips, no dearer", text("Rw U Fw'"), Some(15)),
        ("with one, dearer", Alternative { cost: 4.5, ..text("Rw U F'") }, Some(15)),
    ] {
        let told =
            |seconds| with(&step, Alternative { seconds: Some(seconds), ..line.clone() }).cleaner().is_some();
        assert_eq!(told_from(told), from, "{what}");
    }
    // As many regrips in the turns played: then it has none more.
    let line = Alternative { cost: 4.5, seconds: Some(0.9), ..text("Rw U Fw'") };
    assert!(Step { text: moves("Rw U R' U'"), ..with(&step, line) }.cleaner().is_some());
    // Without times what it saves in units tells, and only of another pair.
    for (line, saves, told) in [(&plain, 0.5, true), (&other, 3.0, true), (&other, 2.5, false)] {
        let line = Alternative { seconds: None, saves, ..line.clone() };
        assert_eq!(with(&step, line).cleaner().is_some(), told);
    }
}

#[test]
fn another_pair_is_not_told_where_the_stop_tells_of_one() {
    let (step, line, others) = step();
    let plain = Alternative { seconds: Some(0.9), ..plain(&step, &line) };
    let other = Alternative { pairs: vec![others[0]], ..plain.clone() };
    let instead = |pair| Some(Instead { pair, by_another_line: false, dearer: 0.0, seconds: None });
    let stop = |cause, instead| Stop {
        seconds: 0.8,
        moment: 0,
        inside: false,
        derived: false,
        certain: true,
        cause,
        also: None,
        instead,
        edge_found: None,
    };
    for (what, stop, told) in [
        ("a case", stop(Some(Cause::Recognition), None), true),
        ("nothing showed it", stop(Some(Cause::Position), None), true),
        ("no cause", stop(None, None), true),
        ("it lay open", stop(Some(Cause::Attention), None), false),
        ("it had to be deduced", stop(Some(Cause::Deduction), None), false),
        ("the very pair", stop(Some(Cause::Choice), instead(others[0])), true),
        ("a third one", stop(Some(Cause::Choice), instead(others[1])), false),
        ("none named", stop(Some(Cause::Choice), None), false),
        ("inside the step", Stop { inside: true, ..stop(Some(Cause::Attention), None) }, true),
    ] {
        let stopped = |line: &Alternative| Step { stops: vec![stop.clone()], ..with(&step, line.clone()) };
        assert_eq!(stopped(&other).cleaner().is_some(), told, "{what}");
        // The pair that was taken is not spoken against.
        assert!(stopped(&plain).cleaner().is_some(), "{what}");
    }
}

#[test]
fn the_pair_s_own_line_has_to_be_felt_and_played() {
    let (step, _, _) = step();
    let own = |text: &str, obtm: usize, seconds: Option<f64>| {
        let own = OwnLine { text: moves(text), obtm, cost: 2.0, saves: 2.0, seconds, last_pair: false };
        let mut step = Step { obtm: 6, ..step.clone() };
        step.choice.as_mut().expect("lines").own = Some(own);
        step.own_line().is_some()
    };
    for (text, obtm, from) in [
        ("U R U' R'", 6, Some(15)),
        ("U R U' R'", 7, Some(25)),
        ("U R U' R'", 9, None),
        ("R2 U R2", 3, None),
        ("R2 Dw R2", 3, None),
        ("D2 U R2", 3, Some(15)),
    ] {
        assert_eq!(told_from(|seconds| own(text, obtm, Some(seconds))), from, "{text} {obtm}");
        assert_eq!(own(text, obtm, None), from.is_some(), "{text} {obtm}");
    }
}

//! Every figure that a comparison's story tells is a fact of the comparison, and what limits one is said.

use cornerwise::annotation::Judged;
use cornerwise::diff::{Comparison, Notice, WentFor, Which};
use cornerwise::story::blocks::Block;
use cornerwise::story::comparison as story;
use serde_json::Value;

use super::sides::{File, texts, two_solves, written};
use crate::support::solver::{Marks, Rng, Solve, Solver, Style};

/// Every number in a text, as written: `+1.67` and `1.67` are one.
fn numbers(text: &str) -> Vec<String> {
    let mut found = Vec::new();
    let mut number = String::new();
    for c in text.chars().chain([' ']) {
        if c.is_ascii_digit() || (c == '.' && !number.is_empty()) {
            number.push(c);
        } else if !number.is_empty() {
            found.push(number.trim_end_matches('.').to_string());
            number.clear();
        }
    }
    found
}

/// Every figure in a value, as a sentence may write it, and every number in its strings.
fn figures(value: &Value, out: &mut Vec<String>) {
    match value {
        Value::Number(number) => {
            let number = number.as_f64().expect("a number").abs();
            out.extend([format!("{number:.2}"), format!("{number:.1}"), format!("{number:.0}")]);
            // How far from the end of a step a moment is, and which turn of it, are counted from two moments.
        }
        Value::String(text) => out.extend(numbers(text)),
        Value::Array(items) => items.iter().for_each(|item| figures(item, out)),
        Value::Object(fields) => fields.values().for_each(|field| figures(field, out)),
        _ => {}
    }
}

/// What is counted or divided of the rows' own figures.
fn counted(comparison: &Comparison, out: &mut Vec<String>) {
    let (mut more, mut fewer) = (0, 0);
    for row in &comparison.rows {
        let obtm = row.difference.map_or(0, |difference| difference.obtm);
        if row.a.is_some() && row.b.is_some() {
            more += obtm.max(0);
            fewer += (-obtm).max(0);
        }
        for side in [&row.a, &row.b].into_iter().flatten() {
            if let Some(turning) = side.turning.filter(|turning| *turning > 0.0) {
                out.push(format!("{:.1}", side.obtm as f64 / turning));
            }
        }
    }
    out.extend([more.to_string(), fewer.to_string()]);
    // What went the other way, over all rows.
    for what in [WentFor::Stopped, WentFor::Speed] {
        let splits = comparison.rows.iter().filter_map(|row| Some(row.difference?.split?.of(what)));
        let (ups, downs): (Vec<f64>, Vec<f64>) =
            splits.filter(|part| part.abs() >= 0.05).partition(|&part| part > 0.0);
        out.extend([ups, downs].map(|parts| format!("{:.2}", parts.iter().sum::<f64>().abs())));
    }
}

#[track_caller]
fn check(comparison: &Comparison) -> usize {
    let json = serde_json::to_value(comparison).expect("plain data");
    let mut known = Vec::new();
    figures(&json, &mut known);
    counted(comparison, &mut known);
    let mut told = 0;
    for block in story::comparison(comparison) {
        let Block::Items(items) = block else { continue };
        for item in items {
            let text = format!("{} {}", item.figure, item.words.plain());
            for number in numbers(&text) {
                told += 1;
                assert!(known.contains(&number), "{number} in “{text}” is no fact");
            }
        }
    }
    told
}

#[test]
fn the_figures_told_of_the_records_kept_here_are_facts() {
    for name in ["fork-after-first-pair", "two-crosses", "meets-again"] {
        assert!(check(&File::kept(name).compared()) > 20, "{name}");
    }
}

#[test]
fn the_figures_told_of_made_solves_are_facts() {
    let (mut solver, mut rng) = (Solver::new(), Rng::new(61));
    let mut told = 0;
    for n in 0..40 {
        let (one, other) = two_solves(&mut solver, &mut rng, n);
        let marks = [Marks::Both, Marks::Ends, Marks::Every, Marks::None][n % 4];
        let style = Style { marks, pace: 5.0, ..Style::default() };
        let text = |solve: &Solve, rng: &mut Rng| solve.yaml("made", &style, rng);
        let (a, b) = (text(&one, &mut rng), text(&other, &mut rng));
        told += check(&texts(&a, &b));
    }
    assert!(told > 500, "{told}");
}

/// A pair that a step left late is told with its stop, or without any: a step that no stop followed is never blamed.
#[test]
fn a_step_that_no_stop_followed_is_not_blamed() {
    let (mut solver, mut rng) = (Solver::new(), Rng::new(63));
    let mut forks = 0;
    for n in 0..40 {
        let (one, other) = two_solves(&mut solver, &mut rng, n);
        let style = Style { marks: Marks::Both, pace: 5.0, stops: 0.5, ..Style::default() };
        let comparison = texts(&one.yaml("made", &style, &mut rng), &other.yaml("made", &style, &mut rng));
        let Some(fork) = &comparison.fork else { continue };
        forks += 1;
        let took = |which: Which| {
            let facts = comparison.annotations.of(which);
            let step = *fork.left_by.of(which);
            let offer = facts.steps[step].taken().expect("a pair follows");
            (offer.pair, offer.ready, facts.steps[step + 1].stop_before().is_some())
        };
        let (a, b) = (took(Which::A), took(Which::B));
        // The same pair on both sides is a fork only where the late one was stopped for.
        if a.0 == b.0 {
            assert!(a.1 != b.1);
            let late = if a.1 { b } else { a };
            assert!(late.2);
        }
    }
    assert!(forks > 10, "{forks}");
}

/// With the same turns at the same times only the hold can matter, and then it is said.
#[test]
fn a_hold_that_hides_a_pair_is_told_although_nothing_differs() {
    let (mut solver, mut rng) = (Solver::new(), Rng::new(62));
    let mut told = 0;
    for n in 0..40 {
        let (one, _) = two_solves(&mut solver, &mut rng, n);
        let other = one.respelled(&mut rng);
        let moves = |solve: &Solve| solve.moves().collect::<Vec<_>>();
        let a = written(&one.scramble, &moves(&one), false);
        let b = written(&one.scramble, &moves(&other), false);
        let comparison = texts(&a, &b);
        check(&comparison);
        assert!(!comparison.different);
        let words: String = story::comparison(&comparison)
            .iter()
            .filter_map(
                |block| if let Block::Paragraph(words) = block { Some(words.plain() + "\n") } else { None },
            )
            .collect();
        assert!(words.contains("No difference: the same "), "{words}");
        if comparison.fork.is_some() {
            assert!(words.contains("Only the hold makes a difference, before "), "{words}");
            told += 1;
        }
    }
    assert!(told > 5, "{told}");
}

/// What limits a comparison is said, and it is made as far as it goes.
#[test]
fn broken_and_unusual_records_are_compared_as_far_as_they_go() {
    let file = File::kept("fork-after-first-pair");
    let text = &file.source.text;
    let (good, _) = text.split_once("---\n").expect("two records");
    // A token that is none in the third pair.
    let broken = good.replace("U' L U' L' U' R U R'", "U' L U' Q' U' R U R'");
    assert_ne!(broken, good);
    let comparison = texts(good, &broken);
    check(&comparison);
    assert!(comparison.notices.iter().any(
        |notice| matches!(notice, Notice::Untold { side: Which::B, text } if text.starts_with("the record was played up to"))
    ));
    let parting = comparison.parting.as_ref().expect("one stops");
    assert_eq!((parting.turns, parting.at.b.turn), (6 + 7 + 5 + 3, None));
    assert_eq!(comparison.meetings, []);
    // What the other did not come to is not held against either: cross and two pairs are what both have.
    assert_eq!(comparison.compared.until.as_deref(), Some("pair 2"));
    assert_eq!((comparison.compared.obtm.a, comparison.compared.obtm.b), (18, 18));
    assert_eq!(comparison.compared.seconds.b, Some(3.15));
    assert!(comparison.rows[3..].iter().all(|row| row.difference.is_none()));
    // Not cross first: the scramble undone. Only the whole is compared.
    let back = "R U F\n\nF' U' R'\n";
    let comparison = texts(back, "R U F\n\nF' U' U' U R'\n");
    check(&comparison);
    let sides: Vec<&Notice> =
        comparison.notices.iter().filter(|notice| matches!(notice, Notice::NotCrossFirst { .. })).collect();
    assert_eq!(sides.len(), 2);
    let [row] = comparison.rows.as_slice() else { panic!("{:?}", comparison.rows) };
    assert_eq!(
        (row.name.as_str(), row.difference.map(|difference| difference.obtm)),
        ("whole solve", Some(2))
    );
    assert_eq!(comparison.difference.obtm, 2);
    // An end that is not solved.
    let comparison = texts(back, "R U F\n\nF' U'\n");
    check(&comparison);
    assert!(
        comparison.notices.contains(&Notice::NotSolved { side: Which::B })
            || comparison.annotations.b.end.judged == Judged::OneTurnShort
    );
    // Nothing at all.
    check(&texts(back, "R U F\n\n?\n"));
}

//! Every sentence of a lesson can be traced: its figures stand where it says they do.

use cornerwise::annotation::Judged;
use cornerwise::diff::{self, Comparison};
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
            out.push(format!("{number:.2}"));
            out.push(format!("{number:.0}"));
        }
        Value::String(text) => out.extend(numbers(text)),
        Value::Array(items) => items.iter().for_each(|item| figures(item, out)),
        Value::Object(fields) => fields.values().for_each(|field| figures(field, out)),
        _ => {}
    }
}

#[track_caller]
fn check(comparison: &Comparison) {
    assert!((1..=5).contains(&comparison.lesson.len()), "{:?}", comparison.lesson);
    let json = serde_json::to_value(comparison).expect("plain data");
    for sentence in &comparison.lesson {
        assert!(
            sentence.text.ends_with('.') && !sentence.text.contains(". "),
            "one sentence: {}",
            sentence.text
        );
        assert!(!sentence.from.is_empty());
        let mut known = Vec::new();
        for pointer in &sentence.from {
            let value = json.pointer(pointer).unwrap_or_else(|| panic!("{pointer}: {}", sentence.text));
            assert!(!value.is_null(), "{pointer}: {}", sentence.text);
            figures(value, &mut known);
        }
        for number in numbers(&sentence.text) {
            assert!(
                known.contains(&number),
                "{number} in “{}” is none of {:?}",
                sentence.text,
                sentence.from
            );
        }
    }
}

#[test]
fn the_lessons_of_the_records_kept_here_can_be_traced() {
    for name in ["fork-after-first-pair", "two-crosses", "meets-again"] {
        let comparison = File::kept(name).compared();
        assert!(comparison.lesson.len() >= 4, "{name}");
        check(&comparison);
    }
}

#[test]
fn lessons_of_made_solves_can_be_traced() {
    let (mut solver, mut rng) = (Solver::new(), Rng::new(61));
    let mut n_sentences = 0;
    for n in 0..80 {
        let (one, other) = two_solves(&mut solver, &mut rng, n);
        let marks = [Marks::Both, Marks::Ends, Marks::Every, Marks::None][n % 4];
        let style = Style { marks, pace: 5.0, ..Style::default() };
        let text = |solve: &Solve, rng: &mut Rng| solve.yaml("made", &style, rng);
        let (a, b) = (text(&one, &mut rng), text(&other, &mut rng));
        let comparison = texts(&a, &b);
        check(&comparison);
        n_sentences += comparison.lesson.len();
    }
    assert!(n_sentences > 200, "{n_sentences}");
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
        assert!(!comparison.different && comparison.lesson.len() <= 2);
        if let [_, hold] = comparison.lesson.as_slice() {
            assert!(hold.text.starts_with("Only the hold makes a difference: after "), "{}", hold.text);
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
    assert!(comparison.notices.iter().any(|notice| notice.starts_with("B: the record was played up to")));
    let parting = comparison.parting.as_ref().expect("one stops");
    assert_eq!((parting.turns, parting.at.b.turn), (6 + 7 + 5 + 3, None));
    assert_eq!(comparison.meetings, []);
    // What the other did not come to is not held against either: cross and two pairs are what both have.
    assert_eq!(comparison.compared.until.as_deref(), Some("pair 2"));
    assert_eq!((comparison.compared.obtm.a, comparison.compared.obtm.b), (18, 18));
    assert_eq!(comparison.compared.seconds.b, Some(3.15));
    assert!(comparison.rows[3..].iter().all(|row| row.difference.is_none()));
    assert!(comparison.lesson[0].text.starts_with("Up to pair 2 (one record breaks off), both took"));
    // Not cross first: the scramble undone.
    let back = "R U F\n\nF' U' R'\n";
    let comparison = texts(back, "R U F\n\nF' U' U' U R'\n");
    check(&comparison);
    assert!(
        comparison.notices.iter().any(|notice| notice.contains("pairs are not, for no step solves one")),
        "{:?}",
        comparison.notices
    );
    assert!(comparison.rows.iter().all(|row| row.of(diff::Which::A).is_none_or(|step| step.next.is_none())));
    assert_eq!(comparison.difference.obtm, 2);
    // An end that is not solved.
    let comparison = texts(back, "R U F\n\nF' U'\n");
    check(&comparison);
    assert!(
        comparison.notices.iter().any(|notice| notice.contains("B does not end solved"))
            || comparison.annotations.b.end.judged == Judged::OneTurnShort
    );
    // Nothing at all.
    let comparison = texts(back, "R U F\n\n?\n");
    check(&comparison);
}

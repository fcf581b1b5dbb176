//! Solves as people paste them: every form is read as the solve that was written down, or refused with a message;
//! never as another solve.

use cornerwise::cube::Moves;
use cornerwise::diagnostic::Source;

use cornerwise::notation::Turns;
use cornerwise::paste;
use cornerwise::report::diagnostics::one_line;

use crate::support::pastes::{self, DECORATIONS, HEADS, LAYOUTS, TAILS, Written};
use crate::support::random::Random;
use crate::support::solver::{Rng, Solver};

fn written(n: u64) -> Written {
    Written::random(&mut Solver::new(), &mut Rng::new(n))
}

fn moves(turns: &Turns) -> String {
    Moves::from(turns.playable().collect::<Vec<_>>()).to_string()
}

#[derive(Debug, PartialEq, Eq)]
enum Outcome {
    Right,
    Refused(String),
    Wrong(String),
}

/// Holds what is read of a text against the solves that were written down in it.
fn outcome(text: &str, solves: &[&Written]) -> Outcome {
    let source = Source::new("t", text);
    let reading = paste::read(&source);
    if let Some(fault) = reading.all_diagnostics().find(|said| said.is_fault()) {
        return Outcome::Refused(one_line(&source, fault));
    }
    let found: Vec<_> =
        reading.records.iter().map(|record| (moves(&record.scramble), moves(&record.solution))).collect();
    let expected: Vec<_> = solves.iter().map(|w| (w.scramble(), w.solution())).collect();
    if found == expected { Outcome::Right } else { Outcome::Wrong(format!("{found:#?}\nfor {expected:#?}")) }
}

/// Every form with each solve; what is not read right, in full.
fn failures(forms: impl IntoIterator<Item = (String, String)>, solves: &[&Written]) -> Vec<String> {
    forms
        .into_iter()
        .filter_map(|(name, text)| match outcome(&text, solves) {
            Outcome::Right => None,
            other => Some(format!("=== {name}\n{text}\n--- {other:?}\n")),
        })
        .collect()
}

#[track_caller]
fn all_right(failures: &[String]) {
    assert!(
        failures.is_empty(),
        "{} forms:\n{}",
        failures.len(),
        failures[..failures.len().min(8)].join("\n")
    );
}

#[test]
fn every_head_is_read() {
    let w = written(1);
    let forms = HEADS.iter().flat_map(|&head| {
        [LAYOUTS[0], LAYOUTS[2], LAYOUTS[29], LAYOUTS[30]]
            .map(|layout| pastes::paste(&w, head, layout, TAILS[1], &[]))
    });
    all_right(&failures(forms, &[&w]));
}

#[test]
fn every_layout_is_read() {
    let w = written(2);
    let forms = LAYOUTS.iter().flat_map(|&layout| {
        [HEADS[0], HEADS[1], HEADS[7], HEADS[15]].map(|head| pastes::paste(&w, head, layout, TAILS[0], &[]))
    });
    all_right(&failures(forms, &[&w]));
}

#[test]
fn every_tail_is_read() {
    let w = written(3);
    let forms = TAILS.iter().flat_map(|&tail| {
        [LAYOUTS[29], LAYOUTS[30]].map(|layout| pastes::paste(&w, HEADS[1], layout, tail, &[]))
    });
    all_right(&failures(forms, &[&w]));
}

#[test]
fn every_decoration_is_undone() {
    let w = written(4);
    let forms = DECORATIONS.iter().flat_map(|&decoration| {
        [LAYOUTS[0], LAYOUTS[9]].map(|layout| pastes::paste(&w, HEADS[7], layout, TAILS[0], &[decoration]))
    });
    all_right(&failures(forms, &[&w]));
}

/// For any sound record and any sequence of decorations the reading is the record, or a refusal; never another
/// solve. Nearly all are read.
#[test]
fn any_decoration_gives_the_record_or_a_refusal() {
    let solves: Vec<Written> = (10..22).map(written).collect();
    let mut random = Random::new(7);
    let (mut wrong, mut refused) = (Vec::new(), Vec::new());
    let n = 3000;
    for _ in 0..n {
        let w = &solves[random.below(solves.len())];
        let (name, text) = pastes::random(w, &mut random);
        match outcome(&text, &[w]) {
            Outcome::Right => {}
            Outcome::Refused(why) => refused.push(format!("=== {name}\n{text}\n--- {why}\n")),
            Outcome::Wrong(why) => wrong.push(format!("=== {name}\n{text}\n--- {why}\n")),
        }
    }
    assert!(wrong.is_empty(), "{} wrong:\n{}", wrong.len(), wrong[..wrong.len().min(6)].join("\n"));
    assert!(
        refused.len() * 50 <= n,
        "{} refused:\n{}",
        refused.len(),
        refused[..refused.len().min(6)].join("\n")
    );
}

/// Several solves in one paste are several records, however they are parted.
#[test]
fn a_time_below_zero_is_set_aside() {
    let source = Source::new("t", "time: -3\nscramble: R U\nsolution: U' R'\n");
    let reading = paste::read(&source);
    assert_eq!(reading.records[0].time, None);
    assert!(reading.all_diagnostics().any(|said| one_line(&source, said).contains("set aside")));
    let source = Source::new("t", "Time: 3.20\nscramble: R U\nsolution: U' R'\n");
    assert!(paste::read(&source).records[0].time.is_some());
}

#[test]
fn several_solves_are_several_records() {
    let solves: Vec<Written> = (30..33).map(written).collect();
    let all: Vec<&Written> = solves.iter().collect();
    let mut forms = Vec::new();
    for parting in ["\n\n", "\n---\n", "\n\n\n\n", "\n=====\n\n", "\n***\n"] {
        for head in &HEADS {
            for layout in [LAYOUTS[0], LAYOUTS[2], LAYOUTS[29]] {
                // Without a word or a line between, a second scramble on one line with its solution is all there is.
                let each: Vec<String> =
                    all.iter().map(|w| pastes::paste(w, *head, layout, TAILS[0], &[]).1).collect();
                forms.push((format!("{parting:?}+{}+{}", head.0, layout.0), each.join(parting)));
            }
        }
    }
    all_right(&failures(forms, &all));
}

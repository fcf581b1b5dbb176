//! The names people give to steps and cases.

use super::Facts;
use crate::steps::cases;
use crate::steps::{Kind, Skip, Solve, Step};

/// What a person calls step `index`. Pairs are numbered in order of solving, those of an xcross included.
pub(super) fn step_name(solve: &Solve, index: usize) -> String {
    let step = &solve.steps[index];
    match step.kind {
        Kind::Inspection => "inspection".into(),
        Kind::Cross => format!("{}cross", "x".repeat(step.pairs.len())),
        Kind::Pair => {
            let first = solve.solved_before(index).len() + 1;
            let numbers: Vec<String> =
                (first..first + step.pairs.len()).map(|number| number.to_string()).collect();
            if numbers.len() == 1 {
                format!("pair {}", numbers[0])
            } else {
                format!("pairs {}", list(&numbers))
            }
        }
        Kind::Orient => "orientation".into(),
        Kind::Permute => "permutation".into(),
        Kind::LastLayer => "last layer".into(),
        Kind::Adjust => "final adjustment".into(),
        Kind::Rest => "rest".into(),
    }
}

/// `a`, `a and b`, `a, b and c`.
pub(super) fn list<T: AsRef<str>>(items: &[T]) -> String {
    match items {
        [] => String::new(),
        [one] => one.as_ref().into(),
        [front @ .., last] => {
            let front: Vec<&str> = front.iter().map(AsRef::as_ref).collect();
            format!("{} and {}", front.join(", "), last.as_ref())
        }
    }
}

/// The last-layer case that a step solves, as the trade numbers and letters it.
pub(super) fn case(facts: &Facts<'_>, index: usize) -> Option<String> {
    let cross = facts.solve.cross?;
    let step = &facts.solve.steps[index];
    let state = &facts.replay.moments[step.from].state;
    match step.kind {
        Kind::Orient | Kind::LastLayer => {
            let number = cases::orientation_case(state, cross)?.number()?;
            Some(format!("orientation {number}"))
        }
        Kind::Permute => {
            let letter = cases::permutation_case(state, cross)?.letter()?;
            Some(format!("permutation {letter}"))
        }
        _ => None,
    }
}

pub(super) fn skips(step: &Step) -> Vec<&'static str> {
    step.skips
        .iter()
        .map(|skip| match skip {
            Skip::Orientation => "orientation",
            Skip::Permutation => "permutation",
        })
        .collect()
}

/// A moment of a step as a person counts it: `at once`, `after token 3 (U')`.
pub(super) fn moment(step: &crate::annotation::Step, moment: usize) -> String {
    let tokens: Vec<&str> = step.text.split(' ').collect();
    match moment.checked_sub(step.from) {
        None | Some(0) => "at once".into(),
        Some(n) => format!("after token {n} ({})", tokens.get(n - 1).unwrap_or(&"")),
    }
}

/// `1 turn`, `3 turns`.
pub(super) fn turns(n: usize) -> String {
    if n == 1 { "1 turn".into() } else { format!("{n} turns") }
}

/// `L and B` from `LB`.
pub(super) fn faces(faces: &str) -> String {
    let faces: Vec<String> = faces.chars().map(String::from).collect();
    list(&faces)
}

//! Turns of phrase that several parts of the facts share.

use crate::steps::{Skip, Step};

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

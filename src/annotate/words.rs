//! Turns of phrase that several parts of the facts share.

use crate::cube::FaceSet;

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

/// A moment of a step as a person counts it: `at once`, `after token 3 (U')`.
pub(super) fn moment(step: &crate::annotation::Step, moment: usize) -> String {
    match moment.checked_sub(step.from) {
        None | Some(0) => "at once".into(),
        Some(n) => {
            let token = step.text.get(n - 1).map_or_else(String::new, ToString::to_string);
            format!("after token {n} ({token})")
        }
    }
}

/// `1 turn`, `3 turns`.
pub(super) fn turns(n: usize) -> String {
    if n == 1 { "1 turn".into() } else { format!("{n} turns") }
}

/// `L and B` from `LB`.
pub(super) fn faces(faces: FaceSet) -> String {
    let faces: Vec<String> = faces.iter().map(|face| face.to_string()).collect();
    list(&faces)
}

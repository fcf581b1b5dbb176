//! The facts as JSON Lines: one object a line, one line a record.

use crate::annotation::Annotation;

/// One line of JSON, with its line end.
///
/// # Panics
///
/// Never: the facts are strings, numbers and lists of them.
#[must_use]
pub fn line(annotation: &Annotation) -> String {
    let mut line = serde_json::to_string(annotation).expect("facts are plain data");
    line.push('\n');
    line
}

/// One line of JSON of any other facts, such as a [`Comparison`](crate::diff::Comparison), with its line end.
///
/// # Panics
///
/// Never for facts: they are strings, numbers and lists of them.
#[must_use]
pub fn any(facts: &impl serde::Serialize) -> String {
    let mut line = serde_json::to_string(facts).expect("facts are plain data");
    line.push('\n');
    line
}

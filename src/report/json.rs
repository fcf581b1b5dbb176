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

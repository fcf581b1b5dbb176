//! From a document in YAML to its fields, named values with their places. What they mean is no business of this room.
//!
//! There is one YAML reader, [`events`], with a short cut before it and a fall-back behind it:
//!
//! 1. [`plain`] takes documents of nothing but `name: text`, `name: |` with lines below, and comments, as nearly all
//!    are, by lines: reading such a record takes a quarter less time (`docs/record-format.md` has the figures). It
//!    refuses everything else, and a property test holds it against the reader.
//! 2. [`events`] is the reader: a crate that knows all of YAML and gives each value's place.
//! 3. [`recover`] makes the best of what is not YAML (a prime that ended a quoted text, a colon too many), and of
//!    YAML that was not meant so.
//!
//! Of a string in quotes the crate tells where it stands and what it comes to, not which byte came from where;
//! [`quoted`] decodes it again with that, so that a message can point at a turn inside.

mod events;
mod plain;
mod quoted;
mod recover;

use crate::diagnostic::{Diagnostic, Span};

use super::fields::Field;

pub(super) use quoted::decode;

/// The fields of a document, and what is wrong with it as YAML.
pub(super) fn fields(source: &str, document: Span) -> (Vec<Field<'_>>, Vec<Diagnostic>) {
    if let Some(found) = plain::fields(source, document)
        && recover::labelled(source, &found).is_none()
    {
        return (found, Vec::new());
    }
    let (found, problem) = events::fields(source, document);
    let problem =
        problem.or_else(|| recover::swallowed(source, &found)).or_else(|| recover::labelled(source, &found));
    match problem {
        None => (found, Vec::new()),
        Some(problem) => recover::recover(source, document, problem),
    }
}

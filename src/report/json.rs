//! The facts as JSON Lines (one object a line, one line a record), read back, and the schemas that describe them.

use schemars::generate::SchemaSettings;
use schemars::transform::{RecursiveTransform, Transform};
use schemars::{JsonSchema, Schema};
use serde::Serialize;

use crate::annotation::Annotation;
use crate::survey::Survey;

/// One line of JSON, with its line end.
///
/// # Panics
///
/// Never: the facts are strings, numbers and lists of them.
#[must_use]
pub fn line(annotation: &Annotation) -> String {
    any(annotation)
}

/// One line of JSON of any other facts, such as a [`Comparison`](crate::diff::Comparison), with its line end.
///
/// # Panics
///
/// Never for facts: they are strings, numbers and lists of them.
#[must_use]
pub fn any(facts: &impl Serialize) -> String {
    let mut line = serde_json::to_string(facts).expect("facts are plain data");
    line.push('\n');
    line
}

/// Whether a text is saved facts of `annotate`, of whatever version, rather than a record.
#[must_use]
pub fn is_saved(text: &str) -> bool {
    text.trim_start_matches('\u{feff}').trim_start().starts_with("{\"format\":\"cornerwise-")
}

/// Reads saved facts back.
///
/// # Errors
///
/// For each line that does not hold the facts of a record: its number, from 1, and what is wrong with it.
pub fn read(text: &str) -> Vec<Result<Annotation, (usize, String)>> {
    let lines = text.trim_start_matches('\u{feff}').lines().enumerate();
    let told = lines.filter(|(_, line)| !line.trim().is_empty());
    told.map(|(n, line)| read_line(line).map_err(|wrong| (n + 1, wrong))).collect()
}

/// Reads one line of saved facts back.
///
/// # Errors
///
/// What is wrong with it.
pub fn read_line(line: &str) -> Result<Annotation, String> {
    let facts: Annotation = serde_json::from_str(line).map_err(|error| {
        let is = line.split('"').nth(3).unwrap_or_default();
        if is == "cornerwise-annotation/2" {
            format!("not the facts of a record: {error}")
        } else {
            format!(
                "these are facts of the format `{is}`, and this program reads `cornerwise-annotation/2`; annotate the \
                 record again"
            )
        }
    })?;
    facts.checked()
}

/// Whether a line of saved facts is a survey, of whatever version.
#[must_use]
pub fn is_survey(line: &str) -> bool {
    line.trim_start_matches('\u{feff}').trim_start().starts_with("{\"format\":\"cornerwise-survey/")
}

/// Reads one saved survey back.
///
/// # Errors
///
/// What is wrong with it.
pub fn read_survey(line: &str) -> Result<Survey, String> {
    let line = line.trim_start_matches('\u{feff}').trim();
    let survey: Survey = serde_json::from_str(line).map_err(|error| {
        format!("not a saved survey ({error}); `cornerwise survey FOLDER --format json` makes one")
    })?;
    survey.checked().map_err(|wrong| format!("not a saved survey ({wrong})"))
}

/// Objects hold what is described and nothing else.
fn close(schema: &mut Schema) {
    if schema.get("properties").is_some() {
        schema.insert("additionalProperties".into(), false.into());
    }
}

/// The JSON Schema (2020-12) of some facts as they are written: every field is there, `null` where there is nothing
/// to tell.
///
/// # Panics
///
/// Never: a schema is plain data.
#[must_use]
pub fn schema<T: JsonSchema>() -> String {
    let settings = SchemaSettings::draft2020_12().for_serialize();
    let mut schema = settings.into_generator().into_root_schema_for::<T>();
    RecursiveTransform(close).transform(&mut schema);
    let mut text = serde_json::to_string_pretty(&schema).expect("a schema is plain data");
    text.push('\n');
    text
}

//! The facts as JSON Lines (one object a line, one line a record), read back, and the schemas that describe them.

use std::io;

use schemars::generate::SchemaSettings;
use schemars::transform::{RecursiveTransform, Transform};
use schemars::{JsonSchema, Schema};
use serde::Serialize;
use serde_json::ser::Formatter;

use crate::annotation::Annotation;
use crate::harmless::is_harmless;
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
    let mut line = Vec::new();
    let mut serializer = serde_json::Serializer::with_formatter(&mut line, Shown);
    facts.serialize(&mut serializer).expect("facts are plain data");
    line.push(b'\n');
    String::from_utf8(line).expect("JSON is text")
}

/// Compact, and with every character escaped that steers a terminal, hides or turns round: a line of facts is often looked
/// at where it is printed. Read back it is the same.
struct Shown;

impl Formatter for Shown {
    fn write_string_fragment<W: ?Sized + io::Write>(
        &mut self,
        writer: &mut W,
        fragment: &str,
    ) -> io::Result<()> {
        if fragment.is_ascii() && !fragment.contains('\u{7f}') {
            return writer.write_all(fragment.as_bytes());
        }
        let mut units = [0; 2];
        for c in fragment.chars() {
            if is_harmless(c) {
                write!(writer, "{c}")?;
            } else {
                for unit in c.encode_utf16(&mut units) {
                    write!(writer, "\\u{unit:04x}")?;
                }
            }
        }
        Ok(())
    }
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

#[cfg(test)]
mod tests {
    /// What steers a terminal, hides or turns round is escaped, and what is read back is what there was.
    #[test]
    fn a_line_of_facts_is_harmless_where_it_is_printed() {
        let title = "港 é 👩\u{200d}🚀 \u{1b}[31m \u{9b}31m \u{202e} \u{7f} \u{2066} \u{200e} \u{feff} \u{e0041} \"\\";
        let line = super::any(&title);
        assert!(line.trim_end().chars().all(crate::harmless::is_harmless), "{line}");
        assert!(line.contains("港 é 👩") && line.contains("\\u009b31m"), "{line}");
        assert_eq!(serde_json::from_str::<String>(&line).expect("JSON"), title);
    }
}

//! Where a record is meant to end.

use std::borrow::Cow;
use std::fmt;
use std::str::FromStr;

use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};
use serde::de::{Deserializer, Error};
use serde::{Deserialize, Serialize, Serializer};

/// A milestone before the end of a solve.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Until {
    /// `cross`: the cross is done.
    Cross,
    /// `pair 2`: so many pairs are in, from 1 to 4.
    Pair(usize),
    /// `two layers`: all four pairs are in.
    TwoLayers,
}

impl fmt::Display for Until {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Until::Cross => f.pad("cross"),
            Until::Pair(number) => f.pad(&format!("pair {number}")),
            Until::TwoLayers => f.pad("two layers"),
        }
    }
}

/// A text that names no such milestone.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct ParseUntilError;

impl fmt::Display for ParseUntilError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("expected `cross`, `pair 1` to `pair 4`, or `two layers`")
    }
}

impl std::error::Error for ParseUntilError {}

impl FromStr for Until {
    type Err = ParseUntilError;

    /// Capitals and further blanks do not matter.
    fn from_str(text: &str) -> Result<Until, ParseUntilError> {
        let words: Vec<String> = text.split_whitespace().map(str::to_lowercase).collect();
        let words: Vec<&str> = words.iter().map(String::as_str).collect();
        match words[..] {
            ["cross"] => Ok(Until::Cross),
            ["two", "layers"] => Ok(Until::TwoLayers),
            ["pair", number] => {
                let number = number.parse().ok().filter(|number| (1..=4).contains(number));
                number.map(Until::Pair).ok_or(ParseUntilError)
            }
            _ => Err(ParseUntilError),
        }
    }
}

impl Serialize for Until {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_str(self)
    }
}

impl<'de> Deserialize<'de> for Until {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Until, D::Error> {
        let text = Cow::<str>::deserialize(deserializer)?;
        text.parse().map_err(Error::custom)
    }
}

impl JsonSchema for Until {
    fn schema_name() -> Cow<'static, str> {
        "Until".into()
    }

    fn json_schema(_: &mut SchemaGenerator) -> Schema {
        json_schema!({
            "type": "string",
            "description": "Where a record is meant to end.",
            "pattern": "^(?:cross|pair [1-4]|two layers)$",
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_written_reads_back() {
        let all = [Until::Cross, Until::Pair(1), Until::Pair(4), Until::TwoLayers];
        assert!(all.iter().all(|until| until.to_string().parse() == Ok(*until)));
        assert_eq!("Two  Layers".parse(), Ok(Until::TwoLayers));
        for wrong in ["", "pair", "pair 0", "pair 5", "layers", "the end"] {
            assert_eq!(wrong.parse::<Until>(), Err(ParseUntilError));
        }
    }
}

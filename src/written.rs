//! Values that stand in JSON as the words people read: written by `Display`, read back by `FromStr`, and described
//! in the schemas by what such a word looks like.

use std::borrow::Cow;
use std::fmt;
use std::str::FromStr;

use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};
use serde::de::{Deserializer, Error, Visitor};
use serde::{Deserialize, Serialize, Serializer};

use crate::cube::{Colour, FaceSet, Move, Moves, PairName, Place, Stickers};
use crate::steps::{Case, Name};

/// Reads a string by its `FromStr`.
struct Word<T>(std::marker::PhantomData<T>, &'static str);

impl<T: FromStr<Err: fmt::Display>> Visitor<'_> for Word<T> {
    type Value = T;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.1)
    }

    fn visit_str<E: Error>(self, text: &str) -> Result<T, E> {
        text.parse().map_err(|error| E::custom(format_args!("{error}, not `{text}`")))
    }
}

macro_rules! written_as_a_word {
    ($($type:ident: $what:literal, $pattern:expr;)*) => {$(
        impl Serialize for $type {
            fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
                serializer.collect_str(self)
            }
        }

        impl<'de> Deserialize<'de> for $type {
            fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<$type, D::Error> {
                deserializer.deserialize_str(Word(std::marker::PhantomData, $what))
            }
        }

        impl JsonSchema for $type {
            fn schema_name() -> Cow<'static, str> {
                stringify!($type).into()
            }

            fn json_schema(_: &mut SchemaGenerator) -> Schema {
                json_schema!({ "type": "string", "description": $what, "pattern": $pattern })
            }
        }
    )*};
}

/// One move, as a pattern.
const MOVE: &str = "(?:[UDFBRL]w?|[MESxyz])(?:2|')?";

written_as_a_word! {
    Colour: "a colour", "^(?:white|yellow|green|blue|red|orange)$";
    FaceSet: "faces of the hold, such as `UFR`", "^U?D?F?B?R?L?$";
    Move: "a turn or rotation in the form of the WCA Regulations, slices as the trade writes them", format!("^{MOVE}$");
    Moves: "turns and rotations, a space between", format!("^(?:{MOVE}(?: {MOVE})*)?$");
    PairName: "a pair by its two side colours, in alphabetical order: `green-red`", "^[a-z]+-[a-z]+$";
    Place: "the place of a corner or an edge, by the faces of the hold: `UFR`, `BL`", "^[UD]?[FB]?[RL]?$";
    Stickers: "54 letters of colours: faces U L F R B D of the hold, each row by row as seen from outside, U with B at \
        the top, D with F at the top, the sides with U at the top", "^[WYGBRO]{54}$";
    Case: "a last-layer case by the trade's number or letter", "^(?:OLL (?:[1-9]|[1-4][0-9]|5[0-7])|PLL [A-Z][a-d]?)$";
    Name: "what a person calls a step", "^(?:inspection|x{0,3}cross|first two layers|pairs? [1-4](?:(?:, [1-4])* and [1-4])?|OLL|PLL|AUF|last layer|rest)$";
}

//! Which hands turn the cube.

use std::fmt;
use std::str::FromStr;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// The hands that turn the cube.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum Hands {
    /// Both.
    #[default]
    Two,
    /// The left alone.
    Left,
    /// The right alone.
    Right,
}

impl fmt::Display for Hands {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(match self {
            Hands::Two => "two",
            Hands::Left => "left",
            Hands::Right => "right",
        })
    }
}

impl FromStr for Hands {
    type Err = ();

    fn from_str(text: &str) -> Result<Hands, ()> {
        let all = [Hands::Two, Hands::Left, Hands::Right];
        all.into_iter().find(|hands| hands.to_string() == text).ok_or(())
    }
}

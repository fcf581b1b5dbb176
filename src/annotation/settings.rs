//! What the figures and verdicts of an annotation depend on besides the record.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// The settings an annotation was made with.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema, Serialize)]
pub struct SettingsUsed {
    /// The longest line searched, in face turns, unless every line of a position is longer.
    pub within: usize,
    /// Whether all lines were searched, or hand lines only.
    pub every_line: bool,
    /// How much dearer than the played step something may be and still make it avoidable, in units.
    pub slack: f64,
    /// The lead that counts as enough, in turns.
    pub lead: usize,
    /// What handling costs.
    pub weights: String,
    /// A gap is a stop from this many seconds on, if it is long enough for the pace too.
    pub stop_seconds: f64,
    /// A gap is a stop from this many times the pace on.
    pub stop_paces: f64,
}

//! The options that say which other lines a step is compared with.

use clap::Args;
use cornerwise::choice::{Settings, Weights};
use cornerwise::search::Kind;

use super::annotate::between;

/// The longest bound for all lines, in face turns.
const MOST_EVERY_LINE: u8 = 10;

/// What else could have been done.
#[derive(Debug, Args)]
#[command(next_help_heading = "Other lines")]
pub(super) struct Others {
    /// The longest line to search, in face turns, from 1 to 12, with --every-line to 10 [default: 11, with --every-line 9].
    #[arg(long, value_name = "TURNS", allow_negative_numbers = true, value_parser = clap::value_parser!(u8).range(1..=12))]
    within: Option<u8>,
    /// How much dearer than the played step another line may be, in turn units, from 0 to 20.
    #[arg(long, value_name = "UNITS", allow_negative_numbers = true, default_value_t = 1.0, value_parser = slack)]
    slack: f64,
    /// How many better lines to show for a step, from 0 to 20.
    #[arg(long, value_name = "COUNT", allow_negative_numbers = true, default_value_t = 3, value_parser = clap::value_parser!(u8).range(0..=20))]
    lines: u8,
    /// Compare with every line there is, not only with hand lines.
    #[arg(long)]
    every_line: bool,
    /// What handling costs, in turn units from 0.1 to 10, such as `back=2,rotation=1.5`: `side` (a quarter turn of R, U
    /// or L) 1, `front` (F or D) 1.2, `back` (B) 1.8, `half` (more for a half turn) 0.3, `rotation` 1, `slice` 1.5.
    #[arg(long, value_name = "WEIGHTS", value_parser = weights, default_value = "", hide_default_value = true)]
    weights: Weights,
}

impl Others {
    /// The settings asked for. Ends the process with a usage error where two options do not go together.
    pub(super) fn settings(&self) -> Settings {
        if self.every_line && self.within.is_some_and(|turns| turns > MOST_EVERY_LINE) {
            let message = format!(
                "invalid value for '--within <TURNS>': with --every-line expected turns from 1 to {MOST_EVERY_LINE}, as \
                 beyond that there are millions of lines\n"
            );
            clap::Error::raw(clap::error::ErrorKind::ValueValidation, message).exit();
        }
        Settings {
            within: self.within.map(usize::from),
            kind: if self.every_line { Kind::Every } else { Kind::Hand },
            slack: self.slack,
            alternatives: usize::from(self.lines),
            weights: self.weights,
            ..Settings::default()
        }
    }
}

fn slack(text: &str) -> Result<f64, String> {
    between(text, 0.0, 20.0, "turn units")
}

fn weights(text: &str) -> Result<Weights, String> {
    let mut weights = Weights::default();
    for part in text.split(',').filter(|part| !part.trim().is_empty()) {
        let Some((name, value)) = part.split_once('=') else {
            return Err(format!("expected `name=number`, found `{part}`"));
        };
        let weight = match name.trim() {
            "side" => &mut weights.side,
            "front" => &mut weights.front,
            "back" => &mut weights.back,
            "half" => &mut weights.half,
            "rotation" => &mut weights.rotation,
            "slice" => &mut weights.slice,
            other => {
                return Err(format!(
                    "no weight is called `{other}`: expected side, front, back, half, rotation or slice"
                ));
            }
        };
        *weight = between(value.trim(), 0.1, 10.0, "turn units")?;
    }
    Ok(weights)
}

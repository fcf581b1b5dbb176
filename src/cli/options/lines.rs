//! The options that say which other lines a step is compared with.

use clap::Args;
use cornerwise::annotate::Settings;
use cornerwise::hands::{HalfUnits, Weights};
use cornerwise::search::Kind;

use super::{default, heading, whole};

/// The longest bound for all lines, in face turns.
const MOST_EVERY_LINE: u8 = 10;

/// What else could have been done.
#[derive(Debug, Args)]
#[command(next_help_heading = heading::LINES)]
pub(in crate::cli) struct Lines {
    /// The longest line to search, in face turns, from 1 to 12, with --every-line to 10.
    #[arg(long, value_name = "TURNS", allow_negative_numbers = true, default_value_t = within(), value_parser = whole::<u8>(1, 12))]
    within: u8,
    /// How much more than the step played another line may cost and still make it avoidable, in units (a quarter turn of R)
    /// from 0 to 20, halves allowed.
    #[arg(long, value_name = "UNITS", allow_negative_numbers = true, default_value_t = default::settings().choice.slack, value_parser = slack)]
    slack: HalfUnits,
    /// Compare with every line there is, not only with those made of the phrases that hands use.
    #[arg(long)]
    every_line: bool,
    /// What handling costs, in units: see `docs/method.md`.
    #[arg(long, value_name = "WEIGHTS", default_value = "", hide_default_value = true)]
    weights: Weights,
}

impl Lines {
    /// Fills its part of the settings.
    ///
    /// # Errors
    ///
    /// A usage error where two options do not go together.
    pub(super) fn fill(&self, settings: &mut Settings) -> Result<(), clap::Error> {
        if self.every_line && self.within > MOST_EVERY_LINE {
            let message = format!(
                "invalid value for '--within <TURNS>': with --every-line expected turns from 1 to {MOST_EVERY_LINE}, as \
                 beyond that there are millions of lines\n"
            );
            return Err(clap::Error::raw(clap::error::ErrorKind::ValueValidation, message));
        }
        let choice = &mut settings.choice;
        choice.within = usize::from(self.within);
        choice.kind = if self.every_line { Kind::Every } else { Kind::Hand };
        choice.slack = self.slack;
        choice.weights = self.weights;
        Ok(())
    }
}

fn within() -> u8 {
    default::settings().choice.within as u8
}

fn slack(text: &str) -> Result<HalfUnits, String> {
    let units = text.parse::<f64>().ok().filter(|units| (0.0..=20.0).contains(units));
    units.and_then(HalfUnits::from_units).ok_or_else(|| "expected units from 0 to 20, in halves".into())
}

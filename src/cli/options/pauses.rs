//! From when on a pause is long.

use clap::Args;
use cornerwise::annotate::Settings;
use cornerwise::clock::StopFrom;

use super::{between, default, heading};

/// From when on a pause is long: both must hold.
#[derive(Debug, Args)]
#[command(next_help_heading = heading::PAUSES)]
pub(in crate::cli) struct Pauses {
    /// A pause is long from this many seconds on, from 0.01 to 60.
    #[arg(long, allow_negative_numbers = true, value_name = "SECONDS", default_value_t = default::settings().stop_from.seconds, value_parser = seconds)]
    long_pause: f64,
    /// And from this many times the solve's own pace on, from 0 to 100.
    #[arg(long, allow_negative_numbers = true, value_name = "TIMES", default_value_t = default::settings().stop_from.paces, value_parser = paces)]
    long_paces: f64,
}

impl Pauses {
    /// Fills its part of the settings.
    pub(super) fn fill(&self, settings: &mut Settings) {
        settings.stop_from = StopFrom { seconds: self.long_pause, paces: self.long_paces };
    }
}

fn seconds(text: &str) -> Result<f64, String> {
    between(text, 0.01, 60.0, "seconds")
}

fn paces(text: &str) -> Result<f64, String> {
    between(text, 0.0, 100.0, "times the pace")
}

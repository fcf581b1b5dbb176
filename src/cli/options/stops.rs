//! From when on a gap is a stop.

use clap::Args;
use cornerwise::annotate::Settings;
use cornerwise::clock::StopFrom;

use super::{between, default, heading};

/// From when on a gap is a stop: both must hold.
#[derive(Debug, Args)]
#[command(next_help_heading = heading::STOPS)]
pub(in crate::cli) struct Stops {
    /// A gap is a stop from this many seconds on, from 0.01 to 60.
    #[arg(long, allow_negative_numbers = true, value_name = "SECONDS", default_value_t = default::settings().stop_from.seconds, value_parser = seconds)]
    stop_seconds: f64,
    /// And from this many times the solve's own pace on, from 0 to 100.
    #[arg(long, allow_negative_numbers = true, value_name = "TIMES", default_value_t = default::settings().stop_from.paces, value_parser = paces)]
    stop_paces: f64,
}

impl Stops {
    /// Fills its part of the settings.
    pub(super) fn fill(&self, settings: &mut Settings) {
        settings.stop_from = StopFrom { seconds: self.stop_seconds, paces: self.stop_paces };
    }
}

fn seconds(text: &str) -> Result<f64, String> {
    between(text, 0.01, 60.0, "seconds")
}

fn paces(text: &str) -> Result<f64, String> {
    between(text, 0.0, 100.0, "times the pace")
}

//! How the solver looks.

use clap::Args;
use cornerwise::annotate::Settings;
use cornerwise::cube::FaceSet;
use cornerwise::record;

use super::{default, heading};

/// What is in sight, and how early it must have been.
#[derive(Debug, Args)]
#[command(next_help_heading = heading::EYES)]
pub(in crate::cli) struct Eyes {
    /// The faces the solver sees, such as UFRL, instead of those the record gives.
    #[arg(long, value_name = "FACES", value_parser = faces)]
    sight: Option<FaceSet>,
    /// How many turns before the end of a step corner and edge must both have been seen, from 0 to 20.
    #[arg(long, value_name = "TURNS", allow_negative_numbers = true, default_value_t = lead(), value_parser = clap::value_parser!(u8).range(0..=20))]
    lead: u8,
}

impl Eyes {
    /// Fills its part of the settings.
    pub(in crate::cli) fn fill(&self, settings: &mut Settings) {
        settings.sight = self.sight;
        settings.lead = usize::from(self.lead);
    }
}

fn lead() -> u8 {
    default::settings().lead as u8
}

fn faces(text: &str) -> Result<FaceSet, String> {
    if text.trim().is_empty() {
        return Err("expected at least one face, such as UFR".into());
    }
    record::faces(text).map_err(|fault| fault.message)
}

//! How the solver looks.

use clap::Args;
use cornerwise::annotate::Settings;
use cornerwise::cube::FaceSet;
use cornerwise::record;

use super::{default, heading, whole};

/// What is in sight, and how early it must have been.
#[derive(Debug, Args)]
#[command(next_help_heading = heading::EYES)]
pub(in crate::cli) struct Eyes {
    /// The faces the solver sees, such as UFRL, instead of those the record gives; several, such as UFR,UFRL, are compared
    /// by `annotate`: what tilting would have gained.
    #[arg(long, value_name = "FACES", value_parser = faces, value_delimiter = ',')]
    sight: Vec<FaceSet>,
    /// How many turns before the end of a step corner and edge must both have been seen, from 0 to 20.
    #[arg(long, value_name = "TURNS", allow_negative_numbers = true, default_value_t = lead(), value_parser = whole::<u8>(0, 20))]
    lead: u8,
}

impl Eyes {
    /// Fills its part of the settings.
    pub(in crate::cli) fn fill(&self, settings: &mut Settings) {
        settings.sight = self.sight.first().copied();
        settings.lead = usize::from(self.lead);
    }

    /// Each set of faces to look with: one is that of the record, unless another was asked for.
    pub(in crate::cli) fn each(&self) -> Vec<Option<FaceSet>> {
        if self.sight.is_empty() { vec![None] } else { self.sight.iter().copied().map(Some).collect() }
    }

    /// Makes sure that there is no more than one.
    ///
    /// # Errors
    ///
    /// A usage error.
    pub(in crate::cli) fn one(&self) -> Result<(), clap::Error> {
        if self.sight.len() < 2 {
            return Ok(());
        }
        let message =
            "several sets of faces behind --sight are compared by `annotate` only; expected one here\n";
        Err(clap::Error::raw(clap::error::ErrorKind::TooManyValues, message))
    }
}

fn lead() -> u8 {
    default::settings().lead as u8
}

/// A set of faces as typed: at least one.
///
/// # Errors
///
/// What was expected.
pub(in crate::cli) fn faces(text: &str) -> Result<FaceSet, String> {
    if text.trim().is_empty() {
        return Err("expected at least one face, such as UFR".into());
    }
    record::faces(text).map_err(|fault| fault.message)
}

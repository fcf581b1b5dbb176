//! How messages on the records are given.

use clap::{Args, ValueEnum};
use cornerwise::annotate::Settings;

use super::{heading, whole};

/// How strict, and in which form.
#[derive(Debug, Args)]
#[command(next_help_heading = heading::MESSAGES)]
pub(in crate::cli) struct Messages {
    /// Treat notes (leniencies, claims that do not hold) as faults.
    #[arg(long)]
    pub(in crate::cli) strict: bool,
    /// How to print messages: drawn with the text they are about, or a line each for editors.
    #[arg(long = "messages", value_name = "FORM", default_value = "full")]
    pub(in crate::cli) form: Form,
    /// Which reading to take of a text that can be read in several ways, by its number in the message.
    #[arg(long, value_name = "N", value_parser = whole::<u8>(1, 255))]
    pub(in crate::cli) reading: Option<u8>,
}

/// A form of messages.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(in crate::cli) enum Form {
    /// With the text and a caret.
    Full,
    /// `file:line:column: fault[code]: message`.
    Line,
}

impl Messages {
    /// Fills its part of the settings.
    pub(in crate::cli) fn fill(&self, settings: &mut Settings) {
        settings.strict = self.strict;
    }
}

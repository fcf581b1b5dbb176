//! How documents are made.

use clap::{Args, ValueEnum};

use super::{between, default, heading};

/// Of Markdown and captions.
#[derive(Debug, Args)]
#[command(next_help_heading = heading::DOCUMENTS)]
pub(in crate::cli) struct Documents {
    /// In Markdown: pictures as files beside the text, inline, or none [default: beside with --output, else none].
    #[arg(long, value_name = "WHERE")]
    pub(in crate::cli) pictures: Option<PicturesOption>,
    /// In captions: the video's time, in seconds, at which the record's clock shows 0.
    #[arg(long, value_name = "SECONDS", default_value_t = default::START, allow_hyphen_values = true, value_parser = offset)]
    pub(in crate::cli) start: f64,
}

/// Where the pictures of a Markdown text go.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(in crate::cli) enum PicturesOption {
    /// SVG files beside the text.
    Files,
    /// In the text, as HTML.
    Inline,
    /// No pictures.
    None,
}

fn offset(text: &str) -> Result<f64, String> {
    between(text, -86_400.0, 86_400.0, "seconds")
}

//! How documents are made.

use clap::{Args, ValueEnum};
use cornerwise::report::picture::{Signs, Style, View};

use super::super::documents::Kind;
use super::{between, default, heading, usage};

/// Of pages, pictures, Markdown and captions.
#[derive(Debug, Args)]
#[command(next_help_heading = heading::DOCUMENTS)]
pub(in crate::cli) struct Documents {
    /// In Markdown: pictures as files beside the text, inline, or none [default: beside with --output, else none].
    #[arg(long, value_name = "WHERE")]
    pub(in crate::cli) pictures: Option<PicturesOption>,
    /// In captions: the video's time, in seconds, at which the record's clock shows 0 [default: 0].
    #[arg(long, value_name = "SECONDS", allow_hyphen_values = true, value_parser = offset)]
    start: Option<f64>,
    /// In Markdown: positions and questions to be answered, the answers at the end.
    #[arg(long)]
    pub(in crate::cli) worksheet: bool,
    #[command(flatten)]
    looks: Looks,
}

impl Documents {
    /// The video's time at which the record's clock shows 0, in seconds.
    pub(in crate::cli) fn start(&self) -> f64 {
        self.start.unwrap_or(default::START)
    }

    /// Makes sure that every option does something in this kind of document.
    ///
    /// # Errors
    ///
    /// A usage error that names the formats in which it does.
    pub(in crate::cli) fn fit(&self, kind: Option<Kind>) -> Result<(), clap::Error> {
        const MARKDOWN: &[Kind] = &[Kind::Markdown];
        const DRAWN: &[Kind] = &[Kind::Markdown, Kind::Html];
        let pictures = self.pictures.is_some_and(|pictures| pictures != PicturesOption::None);
        for (given, option, kinds) in [
            (self.worksheet, "--worksheet", MARKDOWN),
            (pictures, "--pictures", MARKDOWN),
            (self.start.is_some(), "--start", &[Kind::Vtt]),
            (self.looks.letters, "--letters", DRAWN),
            (self.looks.shapes, "--shapes", DRAWN),
            (self.looks.folded, "--folded", DRAWN),
        ] {
            if given && !kind.is_some_and(|kind| kinds.contains(&kind)) {
                let formats: Vec<String> =
                    kinds.iter().map(|kind| format!("--format {}", kind.word())).collect();
                return Err(usage(format!("{option}: goes with {}", formats.join(" or "))));
            }
        }
        Ok(())
    }

    /// How pictures are wanted.
    pub(in crate::cli) const fn style(&self) -> Style {
        self.looks.style()
    }
}

/// How cubes are drawn.
#[derive(Debug, Args)]
#[command(next_help_heading = heading::DOCUMENTS)]
pub(in crate::cli) struct Looks {
    /// In pictures and on pages: write the letter of its colour on every sticker.
    #[arg(long, conflicts_with = "shapes")]
    letters: bool,
    /// In pictures and on pages: put a shape on every sticker, the same for opposite colours, open or filled.
    #[arg(long)]
    shapes: bool,
    /// In pictures and on pages: the cube with its sides folded out, not as it is held.
    #[arg(long)]
    folded: bool,
}

impl Looks {
    /// How pictures are wanted.
    pub(in crate::cli) const fn style(&self) -> Style {
        let signs = match (self.letters, self.shapes) {
            (true, _) => Signs::Letters,
            (_, true) => Signs::Shapes,
            _ => Signs::None,
        };
        Style { signs, view: if self.folded { View::Folded } else { View::Held }, blank: false }
    }
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

//! The options that several verbs share, one file an idea: as typed, and how they are resolved.
//!
//! A group is a type with clap's `Args`; a verb takes it with `#[command(flatten)]`. What facts depend on is resolved
//! into the library's own [`Settings`]: each group fills its part, on top of the library's defaults. The defaults and
//! the headings of the help are all on this page.

mod documents;
mod eyes;
mod lines;
mod messages;
mod moment;
mod output;
mod pauses;
mod records;
mod screen;

pub(super) use documents::{Documents, Looks, PicturesOption};
pub(super) use eyes::Eyes;
pub(super) use lines::Lines;
pub(super) use messages::{Form, Messages};
pub(super) use moment::At;
pub(super) use output::Output;
pub(super) use pauses::Pauses;
pub(super) use records::Records;
pub(super) use screen::Screen;

use clap::Args;
use cornerwise::annotate::Settings;

/// The headings of the help, in the order in which they appear.
pub(super) mod heading {
    pub(crate) const EYES: &str = "Eyes";
    pub(crate) const LINES: &str = "Other lines";
    pub(crate) const PAUSES: &str = "Pauses";
    pub(crate) const OUTPUT: &str = "Output";
    pub(crate) const DOCUMENTS: &str = "Documents";
    pub(crate) const MESSAGES: &str = "Messages";
    pub(crate) const SCREEN: &str = "Screen";
}

/// What holds unless something else is asked for.
pub(super) mod default {
    use cornerwise::annotate::Settings;

    /// What facts depend on: the library's own.
    pub(crate) fn settings() -> Settings {
        Settings::default()
    }

    /// Columns, where no terminal says how many.
    pub(crate) const WIDTH: usize = 80;
    /// The terminal's columns are taken within these bounds: longer lines are hard to read.
    pub(crate) const TERMINAL_WIDTH: (usize, usize) = (40, 120);
    /// How many repairs `mend` shows of a record.
    pub(crate) const REPAIRS: u8 = 3;
    /// The most turns that `...` stands for.
    pub(crate) const GAP: u8 = 8;
    /// How many times faster than it was solved a record is played.
    pub(crate) const SPEED: f64 = 1.0;
    /// Frames a second of a video of which nothing is known.
    pub(crate) const FPS: f64 = 60.0;
    /// The hold in which turns are compared.
    pub(crate) const HOLD: &str = "white-green";
    /// The video's time at which the record's clock shows 0, in seconds.
    pub(crate) const START: f64 = 0.0;
}

/// Everything on the command line that the facts of a record depend on.
#[derive(Debug, Args)]
pub(super) struct Judging {
    #[command(flatten)]
    eyes: Eyes,
    #[command(flatten)]
    lines: Lines,
    #[command(flatten)]
    pauses: Pauses,
}

impl Judging {
    /// The settings asked for.
    ///
    /// # Errors
    ///
    /// A usage error where two options do not go together.
    pub(super) fn resolve(&self, messages: &Messages) -> Result<Settings, clap::Error> {
        let mut settings = default::settings();
        self.eyes.fill(&mut settings);
        self.lines.fill(&mut settings)?;
        self.pauses.fill(&mut settings);
        messages.fill(&mut settings);
        Ok(settings)
    }
}

/// A number from `least` to `most`.
pub(super) fn between(text: &str, least: f64, most: f64, unit: &str) -> Result<f64, String> {
    match text.parse::<f64>() {
        Ok(number) if (least..=most).contains(&number) => Ok(number),
        _ => Err(format!("expected {unit} from {least} to {most}")),
    }
}

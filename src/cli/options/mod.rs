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
mod records;
mod screen;
mod stops;

pub(super) use documents::{Documents, Looks, PicturesOption};
pub(super) use eyes::{Eyes, faces};
pub(super) use lines::Lines;
pub(super) use messages::{Form, Messages};
pub(super) use moment::At;
pub(super) use output::{Output, usage};
pub(super) use records::Records;
pub(super) use screen::Screen;
pub(super) use stops::Stops;

use std::str::FromStr;

use clap::Args;
use cornerwise::annotate::Settings;

/// The headings of the help, in the order in which they appear.
pub(super) mod heading {
    pub(crate) const EYES: &str = "Eyes";
    pub(crate) const LINES: &str = "Other lines";
    pub(crate) const STOPS: &str = "Stops";
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
    pub(crate) const TERMINAL_WIDTH: (usize, usize) = (50, 120);
    /// How many repairs `mend` shows of a record.
    pub(crate) const REPAIRS: u8 = 3;
    /// The most turns that `...` stands for.
    pub(crate) const GAP: u8 = 8;
    /// How many times faster than it was solved a record is played.
    pub(crate) const SPEED: f64 = 1.0;
    /// Frames a second of a video of which nothing is known.
    pub(crate) const FPS: f64 = 60.0;
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
    stops: Stops,
}

impl Judging {
    /// The settings asked for.
    ///
    /// # Errors
    ///
    /// A usage error where two options do not go together.
    pub(super) fn resolve(&self, messages: &Messages) -> Result<Settings, clap::Error> {
        self.eyes.one()?;
        self.filled(messages)
    }

    /// The settings for each of the sets of faces in sight that were asked for; one, mostly.
    ///
    /// # Errors
    ///
    /// A usage error where two options do not go together.
    pub(super) fn resolve_each(&self, messages: &Messages) -> Result<Vec<Settings>, clap::Error> {
        let settings = self.filled(messages)?;
        let each = self.eyes.each().into_iter();
        Ok(each.map(|sight| Settings { sight, ..settings.clone() }).collect())
    }

    fn filled(&self, messages: &Messages) -> Result<Settings, clap::Error> {
        let mut settings = default::settings();
        self.eyes.fill(&mut settings);
        self.lines.fill(&mut settings)?;
        self.stops.fill(&mut settings);
        messages.fill(&mut settings);
        Ok(settings)
    }
}

/// A reader of whole numbers from `least` to `most`.
pub(super) fn whole<N: TryFrom<u64>>(
    least: u64,
    most: u64,
) -> impl Fn(&str) -> Result<N, String> + Clone + Send + Sync + 'static {
    move |text: &str| {
        let number = text.trim().parse::<u64>().ok().filter(|number| (least..=most).contains(number));
        number.and_then(|number| N::try_from(number).ok()).ok_or_else(|| {
            let one = 10.clamp(least, most);
            format!("expected a whole number from {least} to {most}, such as {one}")
        })
    }
}

/// A reader of whole numbers of which the verb says later how large they may be.
pub(super) fn number<N: FromStr>(
    example: u64,
) -> impl Fn(&str) -> Result<N, String> + Clone + Send + Sync + 'static {
    move |text: &str| {
        text.trim().parse::<N>().map_err(|_| format!("expected a whole number, such as {example}"))
    }
}

/// The one of these names that a person most likely meant; `None` where none is near.
pub(super) fn meant<'a>(typed: &str, names: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    let typed = typed.to_lowercase();
    let far = |name: &str| strsim::damerau_levenshtein(&typed, &name.to_lowercase());
    let near = names.into_iter().map(|name| (far(name), name)).min_by_key(|(far, _)| *far);
    near.filter(|(far, name)| *far <= 2 && far * 2 < name.chars().count()).map(|(_, name)| name)
}

/// A number from `least` to `most`.
pub(super) fn between(text: &str, least: f64, most: f64, unit: &str) -> Result<f64, String> {
    match text.parse::<f64>() {
        Ok(number) if (least..=most).contains(&number) => Ok(number),
        _ => Err(format!("expected {unit} from {least} to {most}")),
    }
}

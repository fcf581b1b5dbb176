//! `annotate`: the main job.

use std::io;

use clap::{Args, ValueEnum};
use cornerwise::annotate::{Annotated, Settings, annotate};
use cornerwise::annotation::Annotation;
use cornerwise::clock::StopFrom;
use cornerwise::cube::FaceSet;
use cornerwise::diagnostic::{Diagnostic, Severity, Source};
use cornerwise::harmless::{harmless, one_line};
use cornerwise::mend;
use cornerwise::paste::{self, Account};
use cornerwise::record;
use cornerwise::report::look::Look;
use cornerwise::report::text::Show;
use cornerwise::report::{diagnostics, json, text};
use cornerwise::story::Told;
use cornerwise::study::Study;
use rayon::prelude::*;

use super::documents::{self, Documents, Kind, Made};
use super::exit::Exit;
use super::input::{self, Input, Place, Unread};
use super::look::Wanted;
use super::others::Others;
use super::output::{self, Output};
use super::progress::Progress;
use super::{outlet, worst};

/// Say for every step where the next corner and its edge were, which tier of the scan finds them, and when they
/// could have been seen.
#[derive(Debug, Args)]
pub(super) struct Options {
    /// Records to read: files, folders, patterns, or `-` for standard input; or facts saved with `--format json`.
    #[arg(required = true, value_name = "FILE")]
    files: Vec<String>,
    /// What to print.
    #[arg(long, value_name = "FORMAT", default_value = "text")]
    format: Format,
    /// Which steps to print, in text.
    #[arg(long, value_name = "STEPS", default_value = "all")]
    steps: Steps,
    /// Where other lines are shown, say how to set the position up on a solved cube.
    #[arg(long)]
    setup: bool,
    #[command(flatten)]
    eyes: Eyes,
    #[command(flatten)]
    others: Others,
    #[command(flatten)]
    pauses: Pauses,
    #[command(flatten)]
    output: Output,
    #[command(flatten)]
    documents: Documents,
    #[command(flatten)]
    messages: Messages,
}

/// From when on a pause is long: both must hold.
#[derive(Debug, Args)]
#[command(next_help_heading = "Pauses")]
pub(super) struct Pauses {
    /// A pause is long from this many seconds on, from 0.01 to 60.
    #[arg(long, allow_negative_numbers = true, value_name = "SECONDS", default_value_t = 0.3, value_parser = seconds)]
    long_pause: f64,
    /// And from this many times the solve's own pace on, from 0 to 100.
    #[arg(long, allow_negative_numbers = true, value_name = "TIMES", default_value_t = 2.0, value_parser = paces)]
    long_paces: f64,
}

fn seconds(text: &str) -> Result<f64, String> {
    between(text, 0.01, 60.0, "seconds")
}

fn paces(text: &str) -> Result<f64, String> {
    between(text, 0.0, 100.0, "times the pace")
}

/// A number from `least` to `most`.
pub(super) fn between(text: &str, least: f64, most: f64, unit: &str) -> Result<f64, String> {
    match text.parse::<f64>() {
        Ok(number) if (least..=most).contains(&number) => Ok(number),
        _ => Err(format!("expected {unit} from {least} to {most}")),
    }
}

/// How the solver looks.
#[derive(Debug, Args)]
pub(super) struct Eyes {
    /// The faces the solver sees, such as UFRL, instead of those the record gives.
    #[arg(long, value_name = "FACES", value_parser = faces)]
    sight: Option<FaceSet>,
    /// How many turns before the end of a step corner and edge must both have been seen, from 0 to 20.
    #[arg(long, value_name = "TURNS", allow_negative_numbers = true, default_value_t = 3, value_parser = clap::value_parser!(u8).range(0..=20))]
    lead: u8,
}

/// How messages on the records are given.
#[derive(Debug, Args)]
#[command(next_help_heading = "Messages")]
pub(super) struct Messages {
    /// Treat notes (leniencies, claims that do not hold) as faults.
    #[arg(long)]
    strict: bool,
    /// How to print messages: drawn with the text they are about, or a line each for editors.
    #[arg(long, value_name = "FORM", default_value = "full")]
    messages: Form,
    /// Which reading to take of a text that can be read in several ways, by its number in the message.
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u8).range(1..))]
    reading: Option<u8>,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
enum Format {
    /// For people.
    Text,
    /// One object a line, one line a record: see docs/annotation.schema.json.
    Json,
    /// For a tutorial text, with pictures beside it.
    Markdown,
    /// A page that needs no network: the lanes, then every step with its pictures.
    Html,
    /// Captions for the video of a timed solve.
    Vtt,
    /// The lanes as a picture.
    Svg,
}

impl Format {
    /// The kind of document, for the formats that are made of everything read at once.
    const fn document(self) -> Option<Kind> {
        match self {
            Format::Text | Format::Json => None,
            Format::Markdown => Some(Kind::Markdown),
            Format::Html => Some(Kind::Html),
            Format::Vtt => Some(Kind::Vtt),
            Format::Svg => Some(Kind::Svg),
        }
    }
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
enum Steps {
    /// Every step.
    All,
    /// The cross and the pair steps.
    Pairs,
    /// A line a step.
    Brief,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(super) enum Form {
    /// With the text and a caret.
    Full,
    /// `file:line:column: fault[code]: message`.
    Line,
}

fn faces(text: &str) -> Result<FaceSet, String> {
    if text.trim().is_empty() {
        return Err("expected at least one face, such as UFR".into());
    }
    record::faces(text).map_err(|fault| fault.message)
}

impl Pauses {
    pub(super) const fn long_from(&self) -> StopFrom {
        StopFrom { seconds: self.long_pause, paces: self.long_paces }
    }
}

impl Eyes {
    pub(super) fn settings(&self) -> Settings {
        Settings { sight: self.sight, lead: usize::from(self.lead), ..Settings::default() }
    }
}

/// For so many broken records of a file `mend` is asked what it would do.
const MOST_PROPOSALS: usize = 8;

/// What one file came to.
#[derive(Default)]
struct Printed {
    out: String,
    /// Where the format makes one document of everything.
    facts: Vec<Annotation>,
    err: String,
    exit: Exit,
    n_records: usize,
    n_faulty: usize,
}

pub(super) fn run(options: &Options, wanted: Wanted) -> io::Result<Exit> {
    let to_file = options.output.output.is_some();
    let (look, err_look) = (if to_file { wanted.file() } else { wanted.stdout() }, wanted.stderr());
    let places = input::places(&options.files);
    let (mut text, mut facts) = (String::new(), Vec::new());
    let mut exits = Vec::new();
    let (mut n_records, mut n_faulty, mut unread) = (0, 0, Vec::new());
    let progress = Progress::new();
    // A chunk at a time, so that a long run shows its first results soon and a closed pipe ends it.
    for chunk in places.chunks(64) {
        let printed: Vec<Result<Printed, Unread>> = chunk
            .par_iter()
            .map(|place| place.clone().and_then(|place| one(&place, options, &look, &err_look, &progress)))
            .collect();
        progress.clear();
        for printed in printed {
            match printed {
                Ok(printed) => {
                    outlet::err(&printed.err);
                    let parted = n_records > 0 && options.format == Format::Text && !printed.out.is_empty();
                    text.push_str(if parted { "\n" } else { "" });
                    text.push_str(&printed.out);
                    if !to_file {
                        outlet::out(&std::mem::take(&mut text))?;
                    }
                    facts.extend(printed.facts);
                    n_records += printed.n_records;
                    n_faulty += printed.n_faulty;
                    exits.push(printed.exit);
                }
                Err(failure) => {
                    outlet::err(&format!("cornerwise: {}\n", failure.message));
                    unread.push(failure);
                }
            }
        }
    }
    exits.push(finish(options, &places, text, &facts)?);
    if places.len() > 1 || n_records > 1 {
        outlet::err(&closing(n_records, n_faulty, &unread));
    }
    exits.push(input::exit(unread.len()));
    Ok(worst(exits))
}

/// Makes the documents and writes the files that were asked for.
fn finish(
    options: &Options,
    places: &[Result<Place, Unread>],
    text: String,
    facts: &[Annotation],
) -> io::Result<Exit> {
    let made = match (options.format.document(), &options.output.output) {
        (None, None) => return Ok(Exit::Fine),
        (Some(_), _) if facts.is_empty() => return Ok(Exit::Fine),
        (Some(kind), _) => documents::make(kind, facts, &options.documents, &options.output),
        (None, Some(path)) => Ok(Made::Files(vec![(path.clone(), text)])),
    };
    let written = match made {
        Ok(Made::Text(text)) => return outlet::out(&text).map(|()| Exit::Fine),
        Ok(Made::Files(files)) => output::write(&files, options.output.force, &input::paths(places)),
        Err(message) => Err(message),
    };
    Ok(written.map_or_else(
        |message| {
            outlet::err(&format!("cornerwise: {message}\n"));
            Exit::Unreadable
        },
        |()| Exit::Fine,
    ))
}

/// What failed, in one line; nothing if all is well.
fn closing(n_records: usize, n_faulty: usize, unread: &[Unread]) -> String {
    let mut parts = Vec::new();
    if n_faulty > 0 {
        parts.push(format!("{n_faulty} of {n_records} records have faults"));
    }
    if !unread.is_empty() {
        parts.push(format!("{} of the inputs could not be read", unread.len()));
    }
    if parts.is_empty() { String::new() } else { format!("cornerwise: {}\n", parts.join("; ")) }
}

fn one(
    place: &Place,
    options: &Options,
    look: &Look,
    err_look: &Look,
    progress: &Progress,
) -> Result<Printed, Unread> {
    let source = match input::read_any(place)? {
        Input::Records(source) => source,
        Input::Saved(name, text) => return Ok(saved(&name, &text, options, look)),
    };
    let reading = options.messages.read(&source).reading;
    let settings = Settings {
        strict: options.messages.strict,
        choice: options.others.settings(),
        stop_from: options.pauses.long_from(),
        ..options.eyes.settings()
    };
    let mut printed = Printed {
        err: options.messages.draw(&source, &reading.diagnostics, err_look),
        exit: fault_exit(&reading.diagnostics),
        n_records: reading.records.len(),
        ..Printed::default()
    };
    // Records are worked out side by side and printed in their order.
    let annotated: Vec<Annotated> = reading
        .records
        .par_iter()
        .enumerate()
        .map(|(index, record)| {
            let annotated = annotate(&Study::new(&source, index + 1, record), &settings);
            progress.one_more();
            annotated
        })
        .collect();
    for (index, Annotated { facts, diagnostics }) in annotated.into_iter().enumerate() {
        printed.err.push_str(&options.messages.draw(&source, &diagnostics, err_look));
        match options.format {
            Format::Json => printed.out.push_str(&json::line(&facts)),
            Format::Text => {
                if index > 0 {
                    printed.out.push('\n');
                }
                let told = match options.steps {
                    Steps::All | Steps::Pairs => Told::Whole,
                    Steps::Brief => Told::Brief,
                };
                let show = Show { told, legend: index == 0, setup: options.setup };
                printed.out.push_str(&text::render(&facts, show, look));
            }
            Format::Markdown | Format::Html | Format::Vtt | Format::Svg => printed.facts.push(facts),
        }
        let exit = fault_exit(&diagnostics);
        // Looking for a repair takes longer than all the rest, so not for a whole file of broken records.
        if exit > Exit::Fine
            && printed.n_faulty < MOST_PROPOSALS
            && let Some(proposal) =
                mend::propose_one_line(&Study::new(&source, index + 1, &reading.records[index]))
        {
            printed.err.push_str(&format!("{}: {proposal}\n", one_line(&source.name)));
        }
        printed.n_faulty += usize::from(exit > Exit::Fine);
        printed.exit = printed.exit.max(exit);
    }
    Ok(printed)
}

/// Prints facts that were saved, as from their records.
fn saved(name: &str, text: &str, options: &Options, look: &Look) -> Printed {
    let mut printed = Printed::default();
    for read in json::read(text) {
        match read {
            Ok(facts) => {
                let faulty = !facts.faults.is_empty();
                printed.n_records += 1;
                printed.n_faulty += usize::from(faulty);
                printed.exit = printed.exit.max(if faulty { Exit::Fault } else { Exit::Fine });
                printed.show(facts, options, look);
            }
            Err((line, wrong)) => {
                printed.err.push_str(&format!(
                    "cornerwise: {}:{line}: {}\n",
                    harmless(name),
                    harmless(&wrong)
                ));
                printed.exit = Exit::Unreadable;
            }
        }
    }
    printed
}

impl Printed {
    /// Takes one record's facts in the form that was asked for.
    fn show(&mut self, facts: Annotation, options: &Options, look: &Look) {
        match options.format {
            Format::Json => self.out.push_str(&json::line(&facts)),
            Format::Text => {
                if !self.out.is_empty() {
                    self.out.push('\n');
                }
                let told = match options.steps {
                    Steps::All | Steps::Pairs => Told::Whole,
                    Steps::Brief => Told::Brief,
                };
                let show = Show { told, legend: self.out.is_empty(), setup: options.setup };
                self.out.push_str(&text::render(&facts, show, look));
            }
            Format::Markdown | Format::Html | Format::Vtt | Format::Svg => self.facts.push(facts),
        }
    }
}

fn fault_exit(diagnostics: &[Diagnostic]) -> Exit {
    let fault = diagnostics.iter().any(|diagnostic| diagnostic.severity == Severity::Fault);
    if fault { Exit::Fault } else { Exit::Fine }
}

impl Messages {
    /// Whether notes are faults.
    pub(super) const fn strict(&self) -> bool {
        self.strict
    }

    /// Reads a source, with the reading that was chosen.
    pub(super) fn read(&self, source: &Source) -> Account {
        let options = paste::Options { strict: false, reading: self.reading.map(usize::from) };
        paste::read_with(source, &options)
    }

    /// The messages as text for standard error.
    pub(super) fn draw(&self, source: &Source, messages: &[Diagnostic], look: &Look) -> String {
        match self.messages {
            _ if messages.is_empty() => String::new(),
            Form::Full => diagnostics::draw(source, messages, look) + "\n",
            Form::Line => {
                messages.iter().map(|message| diagnostics::one_line(source, message) + "\n").collect()
            }
        }
    }
}

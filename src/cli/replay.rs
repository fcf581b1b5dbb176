//! `replay`: the positions of a solve, printed or played in time.

use std::io::{self, IsTerminal};
use std::thread::sleep;
use std::time::Duration;

use clap::{Args, ValueEnum};
use cornerwise::annotate::annotate;
use cornerwise::annotation::Annotation;
use cornerwise::diagnostic::Severity;
use cornerwise::report::look::Look;
use cornerwise::report::positions::{self, Each};
use cornerwise::report::{figures, picture};
use cornerwise::study::Study;

use super::annotate::{Eyes, Messages, between};
use super::exit::Exit;
use super::input::{Place, Unread};
use super::look::Wanted;
use super::output::{self, Output};
use super::{input, outlet, worst};

/// Show the positions of a solve as an unfolded net: after each step, after each turn, or at one moment; or play
/// it in time.
#[derive(Debug, Args)]
pub(super) struct Options {
    /// Records to read: files, folders, patterns, or `-` for standard input.
    #[arg(required = true, value_name = "FILE")]
    files: Vec<String>,
    /// Which positions to print.
    #[arg(long, value_name = "EACH", default_value = "step", conflicts_with = "at")]
    each: EachOption,
    /// Only the position at this moment: 0 is the scrambled cube, n after the n-th token.
    #[arg(long, allow_negative_numbers = true, value_name = "MOMENT", conflicts_with = "play")]
    at: Option<usize>,
    /// Play the solve along its timing marks, in place, if the output is a terminal.
    #[arg(long)]
    play: bool,
    /// How many times faster than it was solved to play, from 0.05 to 100.
    #[arg(long, allow_negative_numbers = true, value_name = "FACTOR", default_value_t = 1.0, value_parser = speed, requires = "play")]
    speed: f64,
    /// What to print.
    #[arg(long, value_name = "FORMAT", default_value = "text")]
    format: Format,
    /// In pictures: write the letter of its colour on every sticker.
    #[arg(long)]
    letters: bool,
    #[command(flatten)]
    output: Output,
    #[command(flatten)]
    eyes: Eyes,
    #[command(flatten)]
    messages: Messages,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
enum Format {
    /// Unfolded nets.
    Text,
    /// A picture of each position, the pieces of the next pair ringed: one to standard output, or many to a folder.
    Svg,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
enum EachOption {
    /// The scrambled cube, then after each step.
    Step,
    /// The scrambled cube, then after each token.
    Turn,
}

fn speed(text: &str) -> Result<f64, String> {
    between(text, 0.05, 100.0, "a factor")
}

pub(super) fn run(options: &Options, wanted: Wanted) -> io::Result<Exit> {
    let to_file = options.output.output.is_some();
    let (look, err_look) = (if to_file { wanted.file() } else { wanted.stdout() }, wanted.stderr());
    let places = input::places(&options.files);
    let mut gathered = Gathered::default();
    let mut exits = Vec::new();
    for place in &places {
        let source = match place.clone().and_then(|place| input::read(&place)) {
            Ok(source) => source,
            Err(failure) => {
                outlet::err(&format!("cornerwise: {}\n", failure.message));
                exits.push(Exit::Unreadable);
                continue;
            }
        };
        let reading = options.messages.read(&source).reading;
        outlet::err(&options.messages.draw(&source, &reading.diagnostics, &err_look));
        if reading.diagnostics.iter().any(|message| message.severity == Severity::Fault) {
            exits.push(Exit::Fault);
        }
        for (index, record) in reading.records.iter().enumerate() {
            let annotated = annotate(&Study::new(&source, index + 1, record), &options.eyes.settings());
            outlet::err(&options.messages.draw(&source, &annotated.diagnostics, &err_look));
            if !annotated.facts.faults.is_empty() {
                exits.push(Exit::Fault);
            }
            exits.push(gathered.take(options, &annotated.facts, &look)?);
        }
    }
    exits.push(gathered.write(options, &places)?);
    Ok(worst(exits))
}

/// What is to be written at the end: text for a file, and pictures.
#[derive(Default)]
struct Gathered {
    n_records: usize,
    text: String,
    pictures: Vec<(String, String)>,
}

impl Gathered {
    /// Takes one record; prints it at once where it goes to standard output as text.
    fn take(&mut self, options: &Options, facts: &Annotation, look: &Look) -> io::Result<Exit> {
        self.n_records += 1;
        if options.format == Format::Svg {
            let prefix = figures::solve_name(self.n_records, facts);
            let moments = match moments(options, facts) {
                Ok(moments) => moments,
                Err(message) => return refuse(&message),
            };
            for moment in moments {
                if let Some(picture) = figures::moment(facts, moment, options.letters) {
                    let name = format!("{prefix}-{}.svg", figures::moment_name(facts, moment));
                    self.pictures.push((name, format!("{}\n", picture::svg(&picture).as_str())));
                }
            }
            return Ok(Exit::Fine);
        }
        let to_file = options.output.output.is_some();
        if options.play && !to_file && io::stdout().is_terminal() {
            return play(facts, options.speed, look, outlet::coloured()).map(|()| Exit::Fine);
        }
        self.text.push_str(if self.n_records > 1 { "\n" } else { "" });
        match text(options, facts, look, !to_file && outlet::coloured()) {
            Ok(text) => self.text.push_str(&text),
            Err(message) => return refuse(&message),
        }
        if !to_file {
            outlet::out(&std::mem::take(&mut self.text))?;
        }
        Ok(Exit::Fine)
    }

    fn write(self, options: &Options, places: &[Result<Place, Unread>]) -> io::Result<Exit> {
        let path = options.output.output.as_deref();
        let mut pictures = self.pictures;
        let files = match (options.format, path, options.output.folder()) {
            (Format::Text, None, _) => return Ok(Exit::Fine),
            (Format::Text, Some(path), _) => vec![(path.to_path_buf(), self.text)],
            (Format::Svg, _, Some(folder)) => {
                pictures.into_iter().map(|(name, drawn)| (folder.join(name), drawn)).collect()
            }
            (Format::Svg, path, None) => match (pictures.pop(), path) {
                (None, _) => return Ok(Exit::Fine),
                (Some(_), _) if !pictures.is_empty() => {
                    return refuse(&format!(
                        "{} pictures: choose one with --at MOMENT, or give a folder with --output FOLDER/",
                        pictures.len() + 1
                    ));
                }
                (Some((_, drawn)), None) => return outlet::out(&drawn).map(|()| Exit::Fine),
                (Some((_, drawn)), Some(path)) => vec![(path.to_path_buf(), drawn)],
            },
        };
        match output::write(&files, options.output.force, &input::paths(places)) {
            Ok(()) => Ok(Exit::Fine),
            Err(message) => refuse(&message),
        }
    }
}

fn refuse(message: &str) -> io::Result<Exit> {
    outlet::err(&format!("cornerwise: {message}\n"));
    Ok(Exit::Unreadable)
}

fn no_such_moment(facts: &Annotation, at: usize) -> String {
    let last = facts.moments.len() - 1;
    format!("--at {at}: this record has the moments 0 to {last} ({} tokens were played)", facts.tokens)
}

/// The moments that were asked for.
fn moments(options: &Options, facts: &Annotation) -> Result<Vec<usize>, String> {
    match (options.at, options.each) {
        (Some(at), _) if at >= facts.moments.len() => Err(no_such_moment(facts, at)),
        (Some(at), _) => Ok(vec![at]),
        (None, EachOption::Turn) => Ok((0..facts.moments.len()).collect()),
        (None, EachOption::Step) => {
            Ok(std::iter::once(0).chain(facts.steps.iter().map(|step| step.to)).collect())
        }
    }
}

fn text(options: &Options, facts: &Annotation, look: &Look, coloured: bool) -> Result<String, String> {
    if let Some(at) = options.at {
        return positions::at(facts, at, look, coloured).ok_or_else(|| no_such_moment(facts, at));
    }
    let each = match options.each {
        _ if options.play => Each::Turn,
        EachOption::Step => Each::Step,
        EachOption::Turn => Each::Turn,
    };
    Ok(positions::render(facts, each, look, coloured))
}

/// Shows moment after moment in the same lines of the terminal.
fn play(facts: &Annotation, speed: f64, look: &Look, coloured: bool) -> io::Result<()> {
    let schedule = positions::schedule(facts);
    outlet::out(&positions::heading(facts, look))?;
    for line in schedule.remarks() {
        outlet::out(&format!("{line}\n"))?;
    }
    for (moment, wait) in schedule.waits.iter().enumerate() {
        sleep(Duration::from_secs_f64((wait / speed).clamp(0.0, 60.0)));
        let frame = positions::at(facts, moment, look, coloured).unwrap_or_default();
        if moment > 0 {
            // Back up over the frame before, whose height is the same, clearing each line as it is rewritten.
            outlet::raw(&format!("\u{1b}[{}A", frame.lines().count()))?;
        }
        let frame: String = frame.lines().map(|line| format!("\u{1b}[2K{line}\n")).collect();
        outlet::raw(&frame)?;
    }
    Ok(())
}

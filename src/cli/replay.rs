//! `replay`: the positions of a solve, printed or played in time.

use std::io::{self, IsTerminal};
use std::thread::sleep;
use std::time::Duration;

use clap::{Args, ValueEnum};
use cornerwise::annotate::annotate;
use cornerwise::annotation::Annotation;
use cornerwise::report::figures;
use cornerwise::report::look::Look;
use cornerwise::report::picture::{self, Signs, Style};
use cornerwise::report::positions::{self, Each};

use super::exit::{Exit, Failure};
use super::options::{At, Eyes, Messages, Output, Records, Screen, between, default, usage};
use super::outlet;
use super::records::Inputs;
use super::session::{Made, Session};
use super::watch;

/// Show the positions of a solve as unfolded nets: after each step, after each turn, or at the moments asked for; or play it
/// in time.
#[derive(Debug, Args)]
#[command(
    after_help = "Examples:\n  cornerwise replay solve.txt --at \"pair 2\"\n  cornerwise replay solve.txt --watch --quiet"
)]
pub(super) struct Options {
    #[command(flatten)]
    records: Records,
    /// Which positions to print.
    #[arg(long, value_name = "EACH", default_value = "step", conflicts_with = "at")]
    each: EachOption,
    /// Only the position at this moment: the end of a step (cross, "pair 2", OLL, PLL, AUF), start, end, or so many tokens
    /// after the scrambled cube, 0. May be given several times.
    #[arg(
        long,
        allow_negative_numbers = true,
        value_name = "MOMENT",
        conflicts_with = "play",
        value_delimiter = ','
    )]
    at: Vec<At>,
    /// Print each solve in one line, for posting: the scramble, then the steps.
    #[arg(long, conflicts_with_all = ["at", "each", "play"])]
    line: bool,
    /// Print nothing but what is wrong with the record.
    #[arg(short, long, conflicts_with_all = ["at", "each", "play", "line"])]
    quiet: bool,
    /// Run again whenever a file changes, until Ctrl-C.
    #[arg(long, conflicts_with = "output")]
    watch: bool,
    /// Play the solve along its timing marks, in place, if the output is a terminal.
    #[arg(long)]
    play: bool,
    /// How many times faster than it was solved to play, from 0.05 to 100.
    #[arg(long, allow_negative_numbers = true, value_name = "FACTOR", default_value_t = default::SPEED, value_parser = speed, requires = "play")]
    speed: f64,
    /// What to print [default: what the ending of --output says, else text].
    #[arg(long, value_name = "FORMAT")]
    format: Option<Format>,
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

impl Options {
    /// The format, once [`run`] has made sure that there is one.
    fn format(&self) -> Format {
        self.output.format(self.format).unwrap_or(Format::Text)
    }
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

pub(super) fn run(options: &Options, screen: Screen) -> Result<Exit, Failure> {
    let format = options.output.format(options.format)?;
    if options.letters && format != Format::Svg {
        return Err(usage("--letters: goes with --format svg".into()).into());
    }
    if !options.watch {
        return once(options, screen);
    }
    let files = Inputs::of(&options.records.files, &options.messages).paths();
    let terminal = io::stdout().is_terminal();
    watch::rerun(&files, |again| {
        if again && terminal {
            // What was printed before is no longer true: the screen begins anew.
            outlet::raw("\u{1b}[2J\u{1b}[H")?;
        } else if again {
            outlet::out("\n")?;
        }
        once(options, screen)
    })
}

fn once(options: &Options, screen: Screen) -> Result<Exit, Failure> {
    let mut settings = default::settings();
    options.eyes.one()?;
    options.eyes.fill(&mut settings);
    options.messages.fill(&mut settings);
    // What else could have been played is not shown.
    settings.judge = false;
    let mut session = Session::new(screen, &options.messages, &options.output);
    let inputs = Inputs::of(&options.records.files, &options.messages);
    let mut pictures = Vec::new();
    let mut n_records = 0;
    for input in &inputs.list {
        let file = match inputs.read(input) {
            Ok(file) => file,
            Err(unread) => {
                session.refuse(unread.message);
                continue;
            }
        };
        session.tell(&file.text.source, &file.text.reading.diagnostics);
        for chosen in file.records() {
            let annotated = annotate(&chosen.study(), &settings);
            session.tell(chosen.source(), &annotated.diagnostics);
            n_records += 1;
            let shown = match options.format() {
                _ if options.quiet => continue,
                Format::Text if options.line => session.say(&positions::line(&annotated.facts)).map(Ok)?,
                Format::Text => text(options, &annotated.facts, n_records == 1, &mut session)?,
                Format::Svg => draw(options, &annotated.facts, n_records, &mut pictures),
            };
            if let Err(message) = shown {
                session.refuse(message);
            }
        }
    }
    Ok(session.finish(drawn(pictures, &options.output), &inputs.paths())?)
}

/// Draws the moments of one record that were asked for.
fn draw(
    options: &Options,
    facts: &Annotation,
    n_record: usize,
    pictures: &mut Vec<(String, String)>,
) -> Result<(), String> {
    let signs = if options.letters { Signs::Letters } else { Signs::None };
    let style = Style { signs, ..Style::default() };
    let prefix = figures::solve_name(n_record, facts);
    for moment in moments(options, facts)? {
        if let Some(picture) = figures::moment(facts, moment, style) {
            let name = format!("{prefix}-{}.svg", figures::moment_name(facts, moment));
            pictures.push((name, format!("{}\n", picture::svg(&picture).as_str())));
        }
    }
    Ok(())
}

/// One picture as it is, many as files of a folder.
fn drawn(mut pictures: Vec<(String, String)>, output: &Output) -> Result<Option<Made>, String> {
    if let Some(folder) = output.folder().filter(|_| !pictures.is_empty()) {
        let files = pictures.into_iter().map(|(name, drawn)| (folder.join(name), drawn));
        return Ok(Some(Made::Files(files.collect())));
    }
    match pictures.len() {
        0 | 1 => Ok(pictures.pop().map(|(_, drawn)| Made::Text(drawn))),
        n => {
            Err(format!("{n} pictures: choose one with --at MOMENT, or give a folder with --output FOLDER/"))
        }
    }
}

/// Prints the positions of one record, or plays it. An error inside is a sentence for the person.
fn text(
    options: &Options,
    facts: &Annotation,
    first: bool,
    session: &mut Session<'_>,
) -> io::Result<Result<(), String>> {
    if options.play && !session.to_file() && io::stdout().is_terminal() {
        return play(facts, options.speed, &session.look, outlet::coloured()).map(Ok);
    }
    let coloured = !session.to_file() && outlet::coloured();
    match nets(options, facts, &session.look, coloured) {
        Ok(text) => session.say(&format!("{}{text}", if first { "" } else { "\n" })).map(Ok),
        Err(message) => Ok(Err(message)),
    }
}

/// The moments that were asked for.
fn moments(options: &Options, facts: &Annotation) -> Result<Vec<usize>, String> {
    match options.each {
        _ if !options.at.is_empty() => options.at.iter().map(|at| at.moment(facts)).collect(),
        EachOption::Turn => Ok((0..facts.moments.len()).collect()),
        EachOption::Step => Ok(std::iter::once(0).chain(facts.steps.iter().map(|step| step.to)).collect()),
    }
}

fn nets(options: &Options, facts: &Annotation, look: &Look, coloured: bool) -> Result<String, String> {
    if !options.at.is_empty() {
        let moments = moments(options, facts)?;
        let nets: Vec<String> =
            moments.iter().filter_map(|&moment| positions::at(facts, moment, look, coloured)).collect();
        // One position alone is what a script asks for; of several it is said whose they are.
        let title = if nets.len() > 1 { positions::heading(facts, look) + "\n" } else { String::new() };
        return Ok(title + &nets.join("\n"));
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

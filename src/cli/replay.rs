//! `replay`: the positions of a solve, printed or played in time.

use std::io::{self, IsTerminal};
use std::thread::sleep;
use std::time::Duration;

use clap::{Args, ValueEnum};

use super::annotate::{Eyes, Messages, between};
use super::exit::Exit;
use super::look::Wanted;
use super::{input, outlet, worst};
use crate::annotate::annotate;
use crate::annotation::Annotation;
use crate::diagnostic::Severity;
use crate::record;
use crate::report::look::Look;
use crate::report::positions::{self, Each};

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
    #[arg(long, value_name = "MOMENT", conflicts_with = "play")]
    at: Option<usize>,
    /// Play the solve along its timing marks, in place, if the output is a terminal.
    #[arg(long)]
    play: bool,
    /// How many times faster than it was solved to play, from 0.05 to 100.
    #[arg(long, value_name = "FACTOR", default_value_t = 1.0, value_parser = speed, requires = "play")]
    speed: f64,
    #[command(flatten)]
    eyes: Eyes,
    #[command(flatten)]
    messages: Messages,
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
    let (look, err_look) = (wanted.stdout(), wanted.stderr());
    let mut exits = Vec::new();
    let mut first = true;
    for place in input::places(&options.files) {
        let source = match place.and_then(|place| input::read(&place)) {
            Ok(source) => source,
            Err(failure) => {
                outlet::err(&format!("cornerwise: {}\n", failure.message));
                exits.push(Exit::Unreadable);
                continue;
            }
        };
        let reading = record::read(&source);
        outlet::err(&options.messages.draw(&source, &reading.diagnostics, &err_look));
        if reading.diagnostics.iter().any(|message| message.severity == Severity::Fault) {
            exits.push(Exit::Fault);
        }
        for (index, record) in reading.records.iter().enumerate() {
            let annotated = annotate(&source, index + 1, record, &options.eyes.settings());
            outlet::err(&options.messages.draw(&source, &annotated.diagnostics, &err_look));
            if !annotated.facts.faults.is_empty() {
                exits.push(Exit::Fault);
            }
            if !first {
                outlet::out("\n")?;
            }
            first = false;
            exits.push(show(options, &annotated.facts, &look)?);
        }
    }
    Ok(worst(exits))
}

fn show(options: &Options, facts: &Annotation, look: &Look) -> io::Result<Exit> {
    let coloured = outlet::coloured();
    if let Some(at) = options.at {
        return match positions::at(facts, at, look, coloured) {
            Some(text) => outlet::out(&text).map(|()| Exit::Fine),
            None => {
                let last = facts.moments.len() - 1;
                outlet::err(&format!(
                    "cornerwise: --at {at}: this record has the moments 0 to {last} ({} tokens were played)\n",
                    facts.tokens
                ));
                Ok(Exit::Unreadable)
            }
        };
    }
    if options.play && io::stdout().is_terminal() {
        return play(facts, options.speed, look, coloured).map(|()| Exit::Fine);
    }
    let each = match options.each {
        _ if options.play => Each::Turn,
        EachOption::Step => Each::Step,
        EachOption::Turn => Each::Turn,
    };
    outlet::out(&positions::render(facts, each, look, coloured)).map(|()| Exit::Fine)
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

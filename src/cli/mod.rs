//! The command line: definitions, what goes in, what comes out. The only place that prints or chooses an exit
//! status.
//!
//! One file a verb, thin: it gathers the input, calls the library and prints a view. Results go to standard
//! output, messages to standard error.

mod annotate;
mod chosen;
mod diff;
mod documents;
mod exit;
mod input;
mod look;
mod mend;
mod others;
mod outlet;
mod output;
mod progress;
mod read;
mod replay;
mod save;

use std::process::ExitCode;

use clap::{Parser, Subcommand};

use exit::Exit;

/// Replays a written cube solve and says, pair by pair, where the next corner was, which tier of the scan finds
/// it, when it could have been known, and whether another choice would have kept the flow.
///
/// Exit status: 0 fine, 1 a record has a fault, 2 wrong usage or unreadable input.
#[derive(Debug, Parser)]
#[command(name = "cornerwise", version, max_term_width = 100)]
pub struct Cli {
    /// Whether to colour the output; NO_COLOR and CLICOLOR_FORCE are respected in `auto`.
    #[arg(long, global = true, value_name = "WHEN", default_value_t = clap::ColorChoice::Auto)]
    color: clap::ColorChoice,
    /// Columns to fill at most, from 40 to 1000 [default: the terminal's, else 80].
    #[arg(long, allow_negative_numbers = true, global = true, value_name = "COLUMNS", value_parser = clap::value_parser!(u16).range(40..=1000))]
    width: Option<u16>,
    /// Use ASCII characters only.
    #[arg(long, global = true)]
    ascii: bool,
    #[command(subcommand)]
    verb: Verb,
}

#[derive(Debug, Subcommand)]
enum Verb {
    Annotate(annotate::Options),
    Diff(diff::Options),
    Replay(replay::Options),
    Read(read::Options),
    Mend(mend::Options),
}

/// Reads the arguments of the process, runs, and returns its exit status.
#[must_use]
pub fn main() -> ExitCode {
    let cli = Cli::parse();
    cli.color.write_global();
    let style = look::Wanted { width: cli.width.map(usize::from), ascii: cli.ascii };
    let exit = match &cli.verb {
        Verb::Annotate(options) => annotate::run(options, style),
        Verb::Diff(options) => diff::run(options, style),
        Verb::Replay(options) => replay::run(options, style),
        Verb::Read(options) => read::run(options, style),
        Verb::Mend(options) => mend::run(options, style),
    };
    exit.unwrap_or_else(outlet::ended).into()
}

/// `--color` decides for both streams, through anstream.
trait WriteGlobal {
    fn write_global(self);
}

impl WriteGlobal for clap::ColorChoice {
    fn write_global(self) {
        let choice = match self {
            clap::ColorChoice::Auto => return,
            clap::ColorChoice::Always => anstream::ColorChoice::Always,
            clap::ColorChoice::Never => anstream::ColorChoice::Never,
        };
        choice.write_global();
    }
}

/// The exit status of several things is the worst of each.
fn worst(exits: impl IntoIterator<Item = Exit>) -> Exit {
    exits.into_iter().max().unwrap_or(Exit::Fine)
}

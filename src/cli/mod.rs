//! The command line: definitions, what goes in, what comes out. The only place that prints or chooses an exit
//! status.
//!
//! A run goes one way: the arguments as typed (clap) are resolved once ([`options`]) into settings of the library and
//! a [`session::Session`]; names of records become records ([`records`]); the verb's own file calls the library and
//! hands what it made to the session, which prints it or writes the files. Results go to standard output, messages to
//! standard error.

mod annotate;
mod clock;
mod diff;
mod documents;
mod drill;
mod exit;
mod files;
mod guard;
mod help;
mod interrupt;
mod lesson;
mod mend;
mod options;
mod outlet;
mod patterns;
mod places;
mod plan;
mod progress;
mod read;
mod records;
mod replay;
mod safe_write;
mod session;
mod survey;
mod watch;

use std::process::ExitCode;

use clap::{CommandFactory, Parser, Subcommand};

use exit::Failure;
use options::Screen;

/// Replays a written cube solve and says, pair by pair, where the next corner was, which tier of the scan finds
/// it, when it could have been known, and whether another choice would have kept the flow.
///
/// Exit status: 0 fine, 1 a record has a fault, 2 wrong usage or unreadable input.
#[derive(Debug, Parser)]
#[command(name = "cornerwise", version, max_term_width = 100, disable_help_subcommand = true)]
#[command(after_help = "Examples:\n  cornerwise annotate --brief solve.txt\n  cornerwise help words")]
struct Cli {
    #[command(flatten)]
    screen: Screen,
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
    Clock(clock::Options),
    Lesson(lesson::Options),
    Plan(plan::Options),
    Drill(drill::Options),
    Survey(survey::Options),
    Help(help::Options),
}

/// Reads the arguments of the process, runs, and returns its exit status.
pub(crate) fn main() -> ExitCode {
    if only_version_asked() {
        let said = outlet::out(concat!("cornerwise ", env!("CARGO_PKG_VERSION"), "\n"));
        return said.map_or_else(|error| Failure::from(error).told(), |()| exit::Exit::Fine).into();
    }
    let ended = Cli::try_parse().map_err(Failure::from).and_then(|Cli { screen, verb }| {
        screen.choose_colour();
        match &verb {
            Verb::Annotate(options) => annotate::run(options, screen),
            Verb::Diff(options) => diff::run(options, screen),
            Verb::Replay(options) => replay::run(options, screen),
            Verb::Read(options) => read::run(options, screen),
            Verb::Mend(options) => mend::run(options, screen),
            Verb::Clock(options) => clock::run(options, screen),
            Verb::Lesson(options) => lesson::run(options, screen),
            Verb::Plan(options) => plan::run(options, screen),
            Verb::Drill(options) => drill::run(options, screen),
            Verb::Survey(options) => survey::run(options, screen),
            Verb::Help(options) => help::run(options, screen, Cli::command()),
        }
    });
    ended.unwrap_or_else(Failure::told).into()
}

/// Scripts ask for the version at every start: they need not wait until all options of all verbs are laid out.
fn only_version_asked() -> bool {
    let mut arguments = std::env::args_os().skip(1);
    arguments.next().is_some_and(|first| first == "--version" || first == "-V") && arguments.next().is_none()
}

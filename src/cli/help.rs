//! `help`: of the program, of a verb, and of two things that are no verb: the words, and a record.

use std::io;

use clap::{Args, Command};
use cornerwise::report::typeset;
use cornerwise::story::glossary;

use super::exit::Exit;
use super::exit::Failure;
use super::options::Screen;
use super::outlet;

/// Help: of a verb, on the words (`help words`), on how a record is written (`help record`).
#[derive(Debug, Args)]
#[command(after_help = "Examples:\n  cornerwise help words\n  cornerwise help annotate")]
pub(super) struct Options {
    /// A verb, `words` or `record`.
    #[arg(value_name = "WHAT")]
    what: Option<String>,
}

/// How a record is written, on one page. Its example is read by a test.
const RECORD: &str = include_str!("help/record.txt");

pub(super) fn run(options: &Options, screen: Screen, mut program: Command) -> Result<Exit, Failure> {
    let what = options.what.as_deref().unwrap_or_default();
    match what {
        "words" => outlet::out(&typeset::set(&glossary::blocks(), &screen.stdout(), &|_| String::new()))?,
        "record" => outlet::out(RECORD)?,
        "" => outlet::out(&program.render_long_help().ansi().to_string())?,
        verb => {
            program.build();
            let Some(found) = program.find_subcommand_mut(verb) else {
                return Err(Failure::Usage(clap::Error::raw(
                    clap::error::ErrorKind::InvalidSubcommand,
                    format!("no help on '{verb}': name a verb, `words` or `record`\n"),
                )));
            };
            outlet::out(&found.render_long_help().ansi().to_string())?;
        }
    }
    Ok::<_, io::Error>(Exit::Fine).map_err(Failure::from)
}

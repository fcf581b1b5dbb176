//! `help`: of the program, of a verb, of two things that are no verb (the words, and a record); and the same for shells and
//! for `man`, made from the definitions of the options, so that they say what the program does.

use std::io;

use clap::{Args, Command, ValueEnum};
use clap_complete::Shell;
use cornerwise::report::typeset;
use cornerwise::story::glossary;

use super::exit::Exit;
use super::exit::Failure;
use super::options::{Screen, meant};
use super::outlet;

/// Help: of a verb, on the words (`help words`), on how a record is written (`help record`); completions for a shell
/// (`help completions bash`) and manual pages (`help man`, `help man annotate`).
#[derive(Debug, Args)]
#[command(after_help = "Examples:\n  cornerwise help words\n  cornerwise help annotate")]
pub(super) struct Options {
    /// A verb, `words`, `record`, `completions` or `man`.
    #[arg(value_name = "WHAT")]
    what: Option<String>,
    /// Of completions: the shell. Of a manual page: the verb.
    #[arg(value_name = "OF")]
    of: Option<String>,
}

/// How a record is written, on one page. Its example is read by a test.
const RECORD: &str = include_str!("help/record.txt");

pub(super) fn run(options: &Options, screen: Screen, mut program: Command) -> Result<Exit, Failure> {
    let what = options.what.as_deref().unwrap_or_default();
    if let Some(of) = options.of.as_deref().filter(|_| !matches!(what, "completions" | "man")) {
        return Err(usage(format!(
            "only `help completions` and `help man` take a second word, not '{of}'\n"
        )));
    }
    match what {
        "completions" => outlet::out(&completions(options.of.as_deref(), &mut program)?)?,
        "man" => outlet::out(&manual(options.of.as_deref(), program)?)?,
        "words" => outlet::out(&typeset::set(&glossary::blocks(), &screen.stdout(), &|_| String::new()))?,
        "record" => outlet::out(RECORD)?,
        "" => outlet::out(&program.render_long_help().ansi().to_string())?,
        verb => {
            program.build();
            let names: Vec<String> =
                program.get_subcommands().map(|verb| verb.get_name().to_owned()).collect();
            let Some(found) = program.find_subcommand_mut(verb) else {
                let others = ["words", "record", "completions", "man"];
                let near = meant(verb, names.iter().map(String::as_str).chain(others));
                let near = near.map(|near| format!("; did you mean `{near}`?")).unwrap_or_default();
                return Err(usage(format!(
                    "no help on '{verb}': name a verb, `words`, `record`, `completions` or `man`{near}\n"
                )));
            };
            outlet::out(&found.render_long_help().ansi().to_string())?;
        }
    }
    Ok::<_, io::Error>(Exit::Fine).map_err(Failure::from)
}

fn usage(message: String) -> Failure {
    Failure::Usage(clap::Error::raw(clap::error::ErrorKind::InvalidSubcommand, message))
}

/// The script that completes the program's arguments in a shell.
fn completions(shell: Option<&str>, program: &mut Command) -> Result<String, Failure> {
    let shell = shell.and_then(|shell| Shell::from_str(shell, true).ok()).ok_or_else(|| {
        let known: Vec<String> = Shell::value_variants().iter().map(ToString::to_string).collect();
        usage(format!("`help completions` needs a shell: {}\n", known.join(", ")))
    })?;
    let mut script = Vec::new();
    clap_complete::generate(shell, program, "cornerwise", &mut script);
    Ok(String::from_utf8_lossy(&script).into_owned())
}

/// The manual page of the program or of a verb, in roff.
fn manual(verb: Option<&str>, mut program: Command) -> Result<String, Failure> {
    program.build();
    let page = match verb {
        None => program,
        Some(verb) => {
            let found = program.find_subcommand(verb);
            let found = found.ok_or_else(|| usage(format!("no manual page of '{verb}': name a verb\n")))?;
            found.clone()
        }
    };
    let mut roff = Vec::new();
    clap_mangen::Man::new(page)
        .source(concat!("cornerwise ", env!("CARGO_PKG_VERSION")))
        .render(&mut roff)?;
    Ok(String::from_utf8_lossy(&roff).into_owned())
}

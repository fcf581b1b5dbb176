//! Exit statuses and what they mean.

use std::io;
use std::process::ExitCode;

use cornerwise::harmless::harmless;

use super::outlet;

/// How a run ended; the worse, the greater.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Default)]
pub(super) enum Exit {
    /// 0: everything was read and is sound.
    #[default]
    Fine,
    /// 1: a record has a fault (or, where asked for, two records differ).
    Fault,
    /// 2: wrong usage, or input that could not be read.
    Unreadable,
    /// 130: broken off by Ctrl-C or by the end of the terminal, as a shell has it.
    Interrupted = 130,
}

impl From<Exit> for ExitCode {
    fn from(exit: Exit) -> ExitCode {
        ExitCode::from(exit as u8)
    }
}

/// Why a run was broken off.
#[derive(Debug)]
pub(super) enum Failure {
    /// Options that do not go together.
    Usage(clap::Error),
    /// The output could not be written.
    Output(io::Error),
}

impl From<clap::Error> for Failure {
    fn from(error: clap::Error) -> Failure {
        Failure::Usage(error)
    }
}

impl From<io::Error> for Failure {
    fn from(error: io::Error) -> Failure {
        Failure::Output(error)
    }
}

impl Failure {
    /// Says it, and how the run ends: quietly if the reader of the output has gone.
    pub(super) fn told(self) -> Exit {
        match self {
            // `--help` and `--version` come this way too, and are fine.
            Failure::Usage(error) => {
                // What was typed is shown again; its own escapes are not the parser's colours.
                let typed = std::env::args_os();
                if typed.map(|word| word.to_string_lossy().into_owned()).all(|word| harmless(&word) == word) {
                    let _ = error.print();
                } else {
                    outlet::err(&harmless(&error.render().to_string()));
                }
                if error.use_stderr() { Exit::Unreadable } else { Exit::Fine }
            }
            Failure::Output(error) if error.kind() == io::ErrorKind::BrokenPipe => Exit::Fine,
            Failure::Output(error) if error.kind() == io::ErrorKind::Interrupted => Exit::Interrupted,
            Failure::Output(error) => {
                outlet::err(&format!("cornerwise: cannot write the output: {error}\n"));
                Exit::Unreadable
            }
        }
    }
}

//! A run under way: where results and messages go, how they look, and how it will end.
//!
//! Results go to standard output as they come, or are kept for the file that was asked for; messages go to standard
//! error. The exit status is the worst of all that was met.

use std::fmt::Display;
use std::io;
use std::path::PathBuf;

use cornerwise::diagnostic::{Diagnostic, Source};
use cornerwise::harmless::harmless;
use cornerwise::report::diagnostics;
use cornerwise::report::look::Look;

use super::exit::Exit;
use super::options::{Form, Messages, Output, Screen};
use super::{files, outlet};

/// What a verb made at the end of its run.
#[derive(Debug)]
pub(super) enum Made {
    Text(String),
    Files(Vec<(PathBuf, String)>),
    /// Files, and why there are no others.
    Some {
        files: Vec<(PathBuf, String)>,
        without: Vec<String>,
    },
}

/// A run of a verb.
#[derive(Debug)]
pub(super) struct Session<'a> {
    /// How results look.
    pub(super) look: Look,
    output: &'a Output,
    messages: &'a Messages,
    err_look: Look,
    /// What was said so far, where it goes to a file.
    kept: String,
    exit: Exit,
}

impl<'a> Session<'a> {
    pub(super) fn new(screen: Screen, messages: &'a Messages, output: &'a Output) -> Session<'a> {
        let look = if output.path().is_some() { screen.file() } else { screen.stdout() };
        Session { look, output, messages, err_look: screen.stderr(), kept: String::new(), exit: Exit::Fine }
    }

    /// Whether results go to a file.
    pub(super) fn to_file(&self) -> bool {
        self.output.path().is_some()
    }

    /// A result, or a part of one.
    pub(super) fn say(&mut self, text: &str) -> io::Result<()> {
        if !self.to_file() {
            return outlet::out(text);
        }
        self.kept.push_str(text);
        Ok(())
    }

    /// Messages on a record's text, drawn.
    pub(super) fn draw(&self, source: &Source, messages: &[Diagnostic]) -> String {
        match self.messages.form {
            _ if messages.is_empty() => String::new(),
            Form::Full => diagnostics::draw(source, messages, &self.err_look) + "\n",
            Form::Line => {
                messages.iter().map(|message| diagnostics::one_line(source, message) + "\n").collect()
            }
        }
    }

    /// Tells messages on a record's text. A fault among them decides how the run ends.
    pub(super) fn tell(&mut self, source: &Source, messages: &[Diagnostic]) {
        outlet::err(&self.draw(source, messages));
        self.note(faults(messages));
    }

    /// Says something of the run itself. It may name files and records, whose words are from outside.
    pub(super) fn remark(&self, message: impl Display) {
        outlet::err(&harmless(&format!("cornerwise: {message}\n")));
    }

    /// Says what could not be done; the run ends as one that was asked for what cannot be.
    pub(super) fn refuse(&mut self, message: impl Display) {
        self.remark(message);
        self.note(Exit::Unreadable);
    }

    /// The run ends at least as badly as this.
    pub(super) fn note(&mut self, exit: Exit) {
        self.exit = self.exit.max(exit);
    }

    /// Writes the files that were asked for, never over one of the `inputs`. `made` is what was not said as it came.
    pub(super) fn finish(
        mut self,
        made: Result<Option<Made>, String>,
        inputs: &[PathBuf],
    ) -> io::Result<Exit> {
        let kept = std::mem::take(&mut self.kept);
        let written = match made {
            Ok(None) if kept.is_empty() => Ok(()),
            Ok(None) => self.one(kept).and_then(|files| self.write(&files, inputs)),
            Ok(Some(Made::Text(text))) if !self.to_file() => {
                outlet::out(&text)?;
                Ok(())
            }
            Ok(Some(Made::Text(text))) => self.one(text).and_then(|files| self.write(&files, inputs)),
            Ok(Some(Made::Files(files))) => self.write(&files, inputs),
            Ok(Some(Made::Some { files, without })) => {
                for why in without {
                    self.refuse(why);
                }
                self.write(&files, inputs)
            }
            Err(message) => Err(message),
        };
        if let Err(message) = written {
            self.refuse(message);
        }
        Ok(self.exit)
    }

    /// One text as the file that was asked for.
    fn one(&self, text: String) -> Result<Vec<(PathBuf, String)>, String> {
        match (self.output.folder(), self.output.path()) {
            (Some(folder), _) => {
                Err(format!("{}: is a folder; this makes one file, which needs a name", folder.display()))
            }
            (None, Some(file)) => Ok(vec![(file.to_path_buf(), text)]),
            (None, None) => Ok(Vec::new()),
        }
    }

    fn write(&self, files: &[(PathBuf, String)], inputs: &[PathBuf]) -> Result<(), String> {
        files::write(files, self.output.force, inputs)
    }
}

/// How a run ends that met these messages.
pub(super) fn faults(messages: &[Diagnostic]) -> Exit {
    if messages.iter().any(Diagnostic::is_fault) { Exit::Fault } else { Exit::Fine }
}

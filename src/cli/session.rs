//! A run under way: where results and messages go, how they look, and how it will end.
//!
//! Results go to standard output as they come, or are kept for the file that was asked for; messages go to standard
//! error. The exit status is the worst of all that was met.

use std::fmt::Display;
use std::io::{self, IsTerminal};
use std::path::{Path, PathBuf};

use cornerwise::diagnostic::{Diagnostic, Source};
use cornerwise::harmless::harmless;
use cornerwise::report::diagnostics;
use cornerwise::report::look::{Look, columns, wrap};

use super::exit::Exit;
use super::files::{self, Drafts, Growing, cannot_be_written};
use super::options::{Form, Messages, Output, Screen};
use super::{interrupt, outlet};

/// What a verb made at the end of its run.
#[derive(Debug)]
pub(super) enum Made {
    Text(String),
    Files(Vec<(PathBuf, String)>),
    /// Files that are written beside their places, and why there are no others.
    Drafts {
        drafts: Drafts,
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
    /// What was said so far, where it goes to a file; or why it cannot.
    said: Option<Result<Growing, String>>,
    exit: Exit,
}

impl<'a> Session<'a> {
    pub(super) fn new(screen: Screen, messages: &'a Messages, output: &'a Output) -> Session<'a> {
        let look = if output.path().is_some() { screen.file() } else { screen.stdout() };
        Session { look, output, messages, err_look: screen.stderr(), said: None, exit: Exit::Fine }
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
        interrupt::check()?;
        if text.is_empty() {
            return Ok(());
        }
        let said = self.said.take().unwrap_or_else(|| self.begun());
        self.said = Some(said.and_then(|mut growing| match growing.append(text) {
            Ok(()) => Ok(growing),
            Err(error) => Err(cannot_be_written(self.output.path().unwrap_or(Path::new("")), &error)),
        }));
        Ok(())
    }

    /// The file that was asked for, begun beside its place.
    fn begun(&self) -> Result<Growing, String> {
        match (self.output.folder(), self.output.path()) {
            (None, Some(file)) => {
                Growing::new(file, self.output.force).map_err(|error| cannot_be_written(file, &error))
            }
            _ => Err(self.needs_a_name()),
        }
    }

    fn needs_a_name(&self) -> String {
        let folder = self.output.folder().unwrap_or(Path::new(""));
        format!("{}: is a folder; this makes one file, which needs a name", folder.display())
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

    /// How wide a line of messages may be; an editor wants each in one line.
    pub(super) fn message_width(&self) -> usize {
        match self.messages.form {
            Form::Full => self.err_look.width,
            Form::Line => usize::MAX,
        }
    }

    /// Tells messages on a record's text. A fault among them decides how the run ends.
    pub(super) fn tell(&mut self, source: &Source, messages: &[Diagnostic]) {
        outlet::err(&self.draw(source, messages));
        self.note(faults(messages));
    }

    /// Says something of the run itself. It may name files and records, whose words are from outside.
    pub(super) fn remark(&self, message: impl Display) {
        let message = format!("cornerwise: {message}");
        let text = harmless(&message);
        // Into a file or another program each remark is one line.
        let width = if io::stderr().is_terminal() { self.message_width() } else { usize::MAX };
        let set = |line: &str| {
            let words = line.trim_start();
            let indent = line.len() - words.len();
            if columns(line) <= width {
                format!("{line}\n")
            } else {
                format!("{:indent$}{}\n", "", wrap(words, width, indent + 2))
            }
        };
        outlet::err(&text.lines().map(set).collect::<String>());
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
        let written = match made {
            Ok(None) => match self.said.take() {
                None => Ok(()),
                Some(said) => said.and_then(|growing| {
                    let mut drafts = Drafts::new(self.output.force, inputs);
                    let path = self.output.path().unwrap_or(Path::new(""));
                    drafts.take(Some(growing.whole().map_err(|error| cannot_be_written(path, &error))));
                    drafts.finish()
                }),
            },
            Ok(Some(Made::Text(text))) if !self.to_file() => {
                outlet::out(&text)?;
                Ok(())
            }
            Ok(Some(Made::Text(text))) => self.one(text).and_then(|files| self.write(&files, inputs)),
            Ok(Some(Made::Files(files))) => self.write(&files, inputs),
            Ok(Some(Made::Drafts { drafts, without })) => {
                for why in without {
                    self.refuse(why);
                }
                drafts.finish()
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
            (Some(_), _) => Err(self.needs_a_name()),
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

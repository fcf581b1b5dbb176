//! `read`: how a text was taken, line by line; and the record that came of it, written as YAML.

use std::io;
use std::path::PathBuf;

use clap::Args;
use cornerwise::diagnostic::Severity;
use cornerwise::record;
use cornerwise::report::account;

use super::annotate::Messages;
use super::exit::Exit;
use super::input::{self, Place};
use super::look::Wanted;
use super::{outlet, output, worst};

/// Show how a pasted text was taken, line by line, and save what was read as a record.
#[derive(Debug, Args)]
pub(super) struct Options {
    /// Texts to read: files, folders, patterns, or `-` for standard input.
    #[arg(required = true, value_name = "FILE")]
    files: Vec<String>,
    /// Save the records as YAML, beside the text with the ending `.yaml` unless `--output` names a file.
    #[arg(long)]
    write: bool,
    /// The file to write.
    #[arg(short, long, value_name = "FILE", requires = "write")]
    output: Option<PathBuf>,
    /// Write over a file that exists.
    #[arg(long, requires = "write")]
    force: bool,
    #[command(flatten)]
    messages: Messages,
}

pub(super) fn run(options: &Options, wanted: Wanted) -> io::Result<Exit> {
    let (look, err_look) = (wanted.stdout(), wanted.stderr());
    let places = input::places(&options.files);
    if options.output.is_some() && places.len() != 1 {
        outlet::err("cornerwise: `--output` is for one text; without it each is written beside its text\n");
        return Ok(Exit::Unreadable);
    }
    let mut exits = vec![Exit::Fine];
    for place in &places {
        let source = match place.clone().and_then(|place| input::read(&place)) {
            Ok(source) => source,
            Err(unread) => {
                outlet::err(&format!("cornerwise: {}\n", unread.message));
                exits.push(Exit::Unreadable);
                continue;
            }
        };
        let account = options.messages.read(&source);
        let said: Vec<_> = account.reading.all_diagnostics().cloned().collect();
        let faulty = said.iter().any(|said| said.severity == Severity::Fault);
        outlet::err(&options.messages.draw(&source, &said, &err_look));
        outlet::out(&account::render(&source, &account, &look))?;
        if faulty || options.messages.strict() && !said.is_empty() {
            exits.push(Exit::Fault);
        }
        if !options.write {
            continue;
        }
        if faulty {
            outlet::err("cornerwise: not written: what is read with a fault is not yet the record that was meant\n");
            continue;
        }
        let path = match (&options.output, place) {
            (Some(path), _) => path.clone(),
            (None, Ok(Place::File(path))) => path.with_extension("yaml"),
            (None, _) => {
                outlet::err("cornerwise: `--write` of standard input needs `--output FILE`\n");
                exits.push(Exit::Unreadable);
                continue;
            }
        };
        let records: Vec<String> = account.reading.records.iter().map(record::print_as_written).collect();
        match output::write(&[(path.clone(), records.join("---\n"))], options.force, &input::paths(&places)) {
            Ok(()) => outlet::out(&format!("written: {}\n", path.display()))?,
            Err(message) => {
                outlet::err(&format!("cornerwise: {message}\n"));
                exits.push(Exit::Unreadable);
            }
        }
    }
    Ok(worst(exits))
}

//! `read`: how a text was taken, line by line; and the records that came of it, written as YAML.

use std::path::PathBuf;

use clap::Args;
use cornerwise::paste::{self, Taken, What};
use cornerwise::record;
use cornerwise::report::account;

use super::exit::{Exit, Failure};
use super::options::{Messages, Output, Records, Screen};
use super::records::{File, Inputs};
use super::session::{Made, Session, faults};

/// Show how a pasted text was taken, line by line, and save what was read as a record.
#[derive(Debug, Args)]
#[command(after_help = "Examples:\n  cornerwise read chat.txt\n  cornerwise read - --reading 2")]
pub(super) struct Options {
    #[command(flatten)]
    records: Records,
    /// Save the records as YAML: in the file that `--output` names (which is enough to ask for it), else beside the text, with
    /// the ending `.yaml`.
    #[arg(long)]
    write: bool,
    #[command(flatten)]
    output: Output,
    #[command(flatten)]
    messages: Messages,
}

pub(super) fn run(options: &Options, screen: Screen) -> Result<Exit, Failure> {
    // The account is for the person; only the records go to a file.
    let nowhere = Output::default();
    let mut session = Session::new(screen, &options.messages, &nowhere);
    let writer = Session::new(screen, &options.messages, &options.output);
    let inputs = Inputs::of(&options.records.files, &options.messages);
    let mut files = Vec::new();
    let mut together = String::new();
    for input in &inputs.list {
        let file = match inputs.read(input) {
            Ok(file) => file,
            Err(unread) => {
                session.refuse(unread.message);
                continue;
            }
        };
        let text = &file.text;
        let mut said = text.reading.diagnostics.clone();
        said.extend(file.records().flat_map(|chosen| chosen.record().diagnostics.clone()));
        if options.messages.strict {
            said = said.into_iter().map(cornerwise::diagnostic::Diagnostic::strict).collect();
        }
        session.tell(&text.source, &said);
        let asked = paste::Options {
            reading: options.messages.reading.map(usize::from),
            account: true,
            ..paste::Options::default()
        };
        let taken = paste::read_with(&text.source, &asked).taken;
        session.say(&account::render(&text.source, &text.reading, &taken, &session.look))?;
        if !options.write && options.output.path().is_none() {
            continue;
        }
        if faults(&said) != Exit::Fine || text.reading.records.is_empty() {
            session.remark(format!(
                "{}: not written: what has a fault is not yet the record that was meant",
                file.place.name()
            ));
            continue;
        }
        let records = written(&file, &taken);
        if options.output.path().is_some() {
            if !together.is_empty() {
                together.push_str("---\n");
            }
            together.push_str(&records);
        } else if let Some(path) = file.place.path() {
            files.push((path.with_extension("yaml"), records));
        } else {
            session.refuse("`--write` of standard input needs a file: `--output FILE`");
        }
    }
    // `--force` goes with `--output`.
    if let Some((there, _)) = files.iter().find(|(path, _)| path.exists()) {
        let there = there.display();
        session.refuse(format!("{there}: exists already; `--output {there} --force` writes over it"));
        files.clear();
    }
    let names: Vec<PathBuf> = files.iter().map(|(path, _)| path.clone()).collect();
    let names = if together.is_empty() {
        names
    } else {
        options.output.path().map(PathBuf::from).into_iter().collect()
    };
    let made = match (together.is_empty(), files.is_empty()) {
        (false, _) => Some(Made::Text(together)),
        (true, false) => Some(Made::Files(files)),
        (true, true) => None,
    };
    let something = made.is_some();
    let ended = writer.finish(Ok(made), &inputs.paths())?;
    if something && ended == Exit::Fine {
        for name in names {
            session.say(&format!("written: {}\n", name.display()))?;
        }
    }
    session.note(ended);
    Ok(session.finish(Ok(None), &[])?)
}

/// The records of a file that are meant, as YAML. What was set aside of a paste stands in it as remarks: these are the
/// writer's words, too.
fn written(file: &File, taken: &[Taken]) -> String {
    let text = &file.text.source.text;
    let records: Vec<String> = file
        .records()
        .map(|chosen| {
            let mut record = chosen.record().clone();
            let aside = taken.iter().filter(|taken| {
                taken.record == chosen.index + 1 && matches!(taken.what, What::Aside | What::Figures)
            });
            let words = aside.flat_map(|taken| text[taken.span.range()].lines());
            record.remarks.extend(words.map(remark).filter(|words| !words.is_empty()));
            record::print_as_written(&record)
        })
        .collect();
    records.join("---\n")
}

/// Words as they stand behind a `#`.
fn remark(words: &str) -> String {
    let bare = words.trim().trim_start_matches(['#', '/', '>', ';']).trim();
    bare.split_whitespace().collect::<Vec<_>>().join(" ")
}

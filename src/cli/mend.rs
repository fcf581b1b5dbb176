//! `mend`: find what is wrong with a record, and put it right.

use std::io;

use clap::{Args, ValueEnum};
use cornerwise::diagnostic::{Diagnostic, Source};
use cornerwise::harmless::one_line;
use cornerwise::mend::{Examination, Health, Settings, Standing, examine, gap, text};
use cornerwise::paste;
use cornerwise::report::look::Look;
use cornerwise::report::mend::{self as report, Found};
use rayon::prelude::*;

use super::exit::{Exit, Failure};
use super::options::{Messages, Output, Records, Screen, default};
use super::places::Unread;
use super::records::{Chosen, File, Inputs};
use super::session::Session;
use super::{outlet, safe_write};

/// Find what is wrong with a record, and the likeliest repairs: a lost prime, a dropped turn, a forgotten
/// rotation. Changes nothing unless told to.
#[derive(Debug, Args)]
#[command(after_help = "Examples:\n  cornerwise mend solve.txt\n  cornerwise mend solve.txt --write")]
pub(super) struct Options {
    #[command(flatten)]
    records: Records,
    /// What to print.
    #[arg(long, value_name = "FORMAT", default_value = "text", conflicts_with_all = ["write", "patch"])]
    format: Format,
    /// How many repairs to show of each record, from 1 to 100.
    #[arg(long, value_name = "N", default_value_t = default::REPAIRS, value_parser = clap::value_parser!(u8).range(1..=100))]
    show: u8,
    /// Report on each record in full, also where there are many.
    #[arg(long)]
    full: bool,
    /// Write the repair into the file, if it is clearly ahead or chosen by number; the old text is kept beside
    /// it as FILE.bak.
    #[arg(long, conflicts_with = "patch")]
    write: bool,
    /// Keep no copy of the old text.
    #[arg(long, requires = "write")]
    no_backup: bool,
    /// Print a unified diff of what `--write` would do, and write nothing.
    #[arg(long)]
    patch: bool,
    /// Which repair to write, by its number in the report.
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u16).range(1..))]
    choose: Option<u16>,
    /// The most turns that `...` may stand for.
    #[arg(long, value_name = "TURNS", default_value_t = default::GAP, value_parser = clap::value_parser!(u8).range(1..=gap::MOST_TURNS as i64))]
    gap: u8,
    #[command(flatten)]
    messages: Messages,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
enum Format {
    /// For people.
    Text,
    /// One object a line, one line a record.
    Json,
}

/// One file, read and looked at.
struct Seen {
    file: File,
    examined: Vec<(Chosen, Examination)>,
}

impl Seen {
    fn source(&self) -> &Source {
        &self.file.text.source
    }

    fn found(&self) -> impl Iterator<Item = Found<'_>> {
        self.examined.iter().map(|(chosen, examination)| Found {
            source: chosen.source(),
            index: chosen.index,
            of: chosen.text.reading.records.len(),
            record: chosen.record(),
            examination,
        })
    }
}

pub(super) fn run(options: &Options, screen: Screen) -> Result<Exit, Failure> {
    let output = Output::default();
    let mut session = Session::new(screen, &options.messages, &output);
    let mut inputs = Inputs::of(&options.records.files, &options.messages).each_file_once();
    if options.write {
        inputs = inputs.files_only();
    }
    let seen: Vec<Result<Seen, Unread>> =
        inputs.list.par_iter().map(|input| inputs.read(input).map(|file| one(file, options))).collect();
    let n_records: usize = seen.iter().flatten().map(|seen| seen.examined.len()).sum();
    if options.choose.is_some() {
        let n_broken = seen.iter().flatten().flat_map(Seen::found).filter(|found| mendable(found)).count();
        if n_broken != 1 {
            session.refuse(match n_broken {
                0 => "`--choose`: nothing here has a repair to choose".to_string(),
                n => format!(
                    "`--choose` is for one record, but {n} of these have repairs to choose from; name one by its \
                     number, such as `FILE#2`"
                ),
            });
            return Ok(session.finish(Ok(None), &[])?);
        }
    }
    // Many records in a table, one in full.
    let changes_files = options.write || options.patch;
    let table = (seen.len() > 1 || n_records > 1)
        && !options.full
        && options.format == Format::Text
        && !changes_files;
    let mut rows = Vec::new();
    let mut first = true;
    let mut unheard: Option<io::Error> = None;
    for seen in &seen {
        let seen = match seen {
            Ok(seen) => seen,
            Err(unread) => {
                session.refuse(&unread.message);
                if table && let Some((name, why)) = unread.message.split_once(": ") {
                    rows.push((name.to_owned(), "unread", why.to_owned()));
                }
                continue;
            }
        };
        let reading = &seen.file.text.reading;
        session.tell(seen.source(), &reading.diagnostics);
        if table && reading.records.is_empty() {
            let why = reading.diagnostics.first().map(|fault| fault.message.clone());
            rows.push((seen.source().name.clone(), "unread", why.unwrap_or_default()));
        }
        if changes_files {
            let said = apply(seen, options, &mut session);
            if !options.write {
                said?;
            } else if let Err(error) = said {
                // What is written does not depend on whether anybody reads the report.
                unheard = unheard.or(Some(error));
            }
            continue;
        }
        for found in seen.found() {
            session.note(exit_of(&found, options));
            let shown = usize::from(options.show);
            if options.format == Format::Json {
                session.say(&report::json(&found, shown))?;
            } else if table {
                rows.push((name(&found), report::health(&found), report::brief(&found)));
            } else {
                outlet::err(&session.draw(seen.source(), &found.examination.findings));
                let blank = if first { "" } else { "\n" };
                session.say(&format!("{blank}{}", report::render(&found, shown, &session.look)))?;
                first = false;
            }
        }
    }
    if !rows.is_empty() {
        session.say(&summary(&rows, &session.look))?;
    }
    if let Some(error) = unheard.filter(|error| error.kind() != io::ErrorKind::BrokenPipe) {
        return Err(error.into());
    }
    Ok(session.finish(Ok(None), &[])?)
}

fn one(file: File, options: &Options) -> Seen {
    let settings = Settings { gap: usize::from(options.gap) };
    let mut records: Vec<Chosen> = file.records().collect();
    // In the order of the text, in which it is rewritten.
    records.sort_by_key(|chosen| chosen.index);
    let examined = records
        .into_par_iter()
        .map(|chosen| {
            let examination = examine(&chosen.study(), &settings);
            (chosen, examination)
        })
        .collect();
    Seen { file, examined }
}

/// Whether there is anything to choose from.
fn mendable(found: &Found<'_>) -> bool {
    !found.examination.ranked.repairs.is_empty()
}

fn exit_of(found: &Found<'_>, options: &Options) -> Exit {
    let strict = options.messages.strict && !found.examination.findings.is_empty();
    let broken = strict || matches!(found.examination.health, Health::Broken | Health::Empty);
    if broken || found.record.has_fault() { Exit::Fault } else { Exit::Fine }
}

/// The file's name, and the number of the record if the file has several.
fn name(found: &Found<'_>) -> String {
    let file = &found.source.name;
    if found.of > 1 { format!("{file}#{}", found.index + 1) } else { file.clone() }
}

/// Writes or prints what is clear or chosen; says what is left.
fn apply(seen: &Seen, options: &Options, session: &mut Session<'_>) -> io::Result<()> {
    let source = seen.source();
    let mut rewrites = Vec::new();
    let mut n_mended = 0;
    for found in seen.found() {
        match chosen(&found, options) {
            Ok(None) => {
                session.note(exit_of(&found, options));
                if found.examination.health == Health::OneTurnShort
                    && !found.examination.ranked.repairs.is_empty()
                {
                    session.remark(format!(
                        "{}: left as it is: one turn short is a solve with a penalty; if that turn was made, take it \
                         with `--choose 1`",
                        name(&found)
                    ));
                }
            }
            Ok(Some(mut more)) => {
                n_mended += 1;
                rewrites.append(&mut more);
            }
            Err(why) => {
                session.remark(format!("{}: {why}", name(&found)));
                session.note(Exit::Fault);
            }
        }
    }
    if rewrites.is_empty() {
        return Ok(());
    }
    let mended = text::apply(&source.text, &rewrites);
    // What the repair does not touch may be wrong all the same.
    let after = Source::new(source.name.clone(), mended.clone());
    let left: Vec<Diagnostic> =
        paste::read(&after).all_diagnostics().filter(|message| message.is_fault()).cloned().collect();
    if !left.is_empty() {
        session.remark("faults that are left after mending:");
        session.tell(&after, &left);
    }
    if options.patch {
        return session.say(&text::patch(&source.name, &source.text, &mended));
    }
    let Some(path) = seen.file.place.path() else {
        session.refuse("standard input cannot be written to; use `--patch`");
        return Ok(());
    };
    match safe_write::replace(path, &source.text, &mended, !options.no_backup) {
        Ok(kept) => {
            let records = if n_mended == 1 { "1 record".into() } else { format!("{n_mended} records") };
            let kept = kept.map_or(String::new(), |kept| format!("; the old text is {}", kept.display()));
            session.say(&format!("{}\n", one_line(&format!("{}: mended {records}{kept}", source.name))))?;
        }
        Err(error) => {
            session.refuse(format!("{}: not written, and left as it was: {error}", source.name));
        }
    }
    Ok(())
}

/// What to rewrite in one record: nothing if it is sound.
fn chosen(found: &Found<'_>, options: &Options) -> Result<Option<Vec<text::Rewrite>>, String> {
    let repairs = &found.examination.ranked.repairs;
    let repair = match (options.choose, found.examination.standing) {
        (_, Standing::NothingToRepair) => return Ok(None),
        (_, Standing::NotFound) => return Err("no repair found".into()),
        (Some(number), _) => repairs
            .get(usize::from(number) - 1)
            .ok_or_else(|| format!("there is no repair {number}, only {}", repairs.len()))?,
        (None, Standing::Clear) => &repairs[0],
        // Right as it stands, as far as anyone can tell.
        (None, _) if found.examination.health == Health::OneTurnShort => return Ok(None),
        (None, Standing::Tied) => {
            let n = found.examination.near;
            return Err(format!("{n} repairs fit about equally well; choose one with `--choose`"));
        }
        (None, Standing::Doubtful) => {
            return Err("the likeliest repair contradicts a comment; take it with `--choose 1`".into());
        }
    };
    text::rewrites(found.source, found.index, found.record, repair)
        .map(Some)
        .map_err(|error| error.to_string())
}

fn summary(rows: &[(String, &'static str, String)], look: &Look) -> String {
    let n = |word: &str| rows.iter().filter(|(_, health, _)| *health == word).count();
    let mut parts = vec![format!("{} of {} sound", n("sound"), rows.len())];
    for (word, what) in [
        ("faulty", "with faults"),
        ("+2", "one turn short"),
        ("broken", "broken"),
        ("empty", "empty"),
        ("unread", "could not be read"),
    ] {
        if n(word) > 0 {
            parts.push(format!("{} {what}", n(word)));
        }
    }
    format!("{}\n{}\n", report::table(rows, look), parts.join(", "))
}

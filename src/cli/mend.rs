//! `mend`: find what is wrong with a record, and put it right.

use std::io;
use std::path::PathBuf;

use clap::{Args, ValueEnum};
use cornerwise::diagnostic::{Diagnostic, Source};
use cornerwise::mend::{Examination, Health, Settings, Standing, examine, gap, text};
use cornerwise::record::Reading;
use cornerwise::report::look::Look;
use cornerwise::report::mend::{self as report, Found};
use cornerwise::study::Study;
use rayon::prelude::*;

use super::annotate::Messages;
use super::exit::Exit;
use super::input::{self, Place, Unread};
use super::look::Wanted;
use super::{outlet, save, worst};

/// Find what is wrong with a record, and the likeliest repairs: a lost prime, a dropped turn, a forgotten
/// rotation. Changes nothing unless told to.
#[derive(Debug, Args)]
pub(super) struct Options {
    /// Records to mend: files, folders, patterns, or `-` for standard input.
    #[arg(required = true, value_name = "FILE")]
    files: Vec<String>,
    /// What to print.
    #[arg(long, value_name = "FORMAT", default_value = "text", conflicts_with_all = ["write", "patch"])]
    format: Format,
    /// How many repairs to show of each record, from 1 to 100.
    #[arg(long, value_name = "N", default_value_t = 3, value_parser = clap::value_parser!(u8).range(1..=100))]
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
    /// Only the record with this number in its file, from 1.
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u16).range(1..))]
    record: Option<u16>,
    /// The most turns that `...` may stand for.
    #[arg(long, value_name = "TURNS", default_value_t = 8, value_parser = clap::value_parser!(u8).range(1..=gap::MOST_TURNS as i64))]
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
    source: Source,
    path: Option<PathBuf>,
    reading: Reading,
    /// For each record looked at, its place in the file.
    examined: Vec<(usize, Examination)>,
}

impl Seen {
    fn found(&self) -> impl Iterator<Item = Found<'_>> {
        self.examined.iter().map(|(index, examination)| Found {
            source: &self.source,
            index: *index,
            of: self.reading.records.len(),
            record: &self.reading.records[*index],
            examination,
        })
    }
}

pub(super) fn run(options: &Options, wanted: Wanted) -> io::Result<Exit> {
    let (look, err_look) = (wanted.stdout(), wanted.stderr());
    let places = input::places(&options.files);
    let seen: Vec<Result<Seen, Unread>> =
        places.into_par_iter().map(|place| place.and_then(|place| one(&place, options))).collect();
    let n_records: usize = seen.iter().flatten().map(|seen| seen.examined.len()).sum();
    if options.choose.is_some() {
        let n_broken = seen.iter().flatten().flat_map(Seen::found).filter(|found| mendable(found)).count();
        if n_broken != 1 {
            let message = match n_broken {
                0 => "`--choose`: nothing here has a repair to choose".to_string(),
                n => format!(
                    "`--choose` is for one record, but {n} of these have repairs to choose from; name one with its \
                     file and `--record`"
                ),
            };
            outlet::err(&format!("cornerwise: {message}\n"));
            return Ok(Exit::Unreadable);
        }
    }
    // Many records in a table, one in full.
    let changes_files = options.write || options.patch;
    let table = (seen.len() > 1 || n_records > 1)
        && !options.full
        && options.format == Format::Text
        && !changes_files;
    let mut exits = Vec::new();
    let mut rows = Vec::new();
    let mut first = true;
    for seen in &seen {
        let seen = match seen {
            Ok(seen) => seen,
            Err(unread) => {
                outlet::err(&format!("cornerwise: {}\n", unread.message));
                exits.push(Exit::Unreadable);
                if table && let Some((name, why)) = unread.message.split_once(": ") {
                    rows.push((name.to_owned(), "unread", why.to_owned()));
                }
                continue;
            }
        };
        outlet::err(&options.messages.draw(&seen.source, &seen.reading.diagnostics, &err_look));
        if seen.reading.diagnostics.iter().any(cornerwise::diagnostic::Diagnostic::is_fault) {
            exits.push(Exit::Fault);
        }
        if table && seen.reading.records.is_empty() {
            let why = seen.reading.diagnostics.first().map(|fault| fault.message.clone());
            rows.push((seen.source.name.clone(), "unread", why.unwrap_or_default()));
        }
        if changes_files {
            exits.push(apply(seen, options, &err_look)?);
            continue;
        }
        for found in seen.found() {
            exits.push(exit_of(&found, options));
            let shown = usize::from(options.show);
            if options.format == Format::Json {
                outlet::out(&report::json(&found, shown))?;
            } else if table {
                rows.push((name(seen, &found), report::health(&found), report::brief(&found)));
            } else {
                outlet::err(&options.messages.draw(&seen.source, &found.examination.findings, &err_look));
                let blank = if first { "" } else { "\n" };
                outlet::out(&format!("{blank}{}", report::render(&found, shown, &look)))?;
                first = false;
            }
        }
    }
    if !rows.is_empty() {
        outlet::out(&summary(&rows, &look))?;
    }
    Ok(worst(exits))
}

fn one(place: &Place, options: &Options) -> Result<Seen, Unread> {
    let source = input::read(place)?;
    let reading = options.messages.read(&source).reading;
    let settings = Settings { gap: usize::from(options.gap) };
    let wanted = |index: &usize| options.record.is_none_or(|number| *index + 1 == usize::from(number));
    let examined: Vec<(usize, Examination)> = (0..reading.records.len())
        .into_par_iter()
        .filter(wanted)
        .map(|index| (index, examine(&Study::new(&source, index + 1, &reading.records[index]), &settings)))
        .collect();
    if examined.is_empty()
        && let Some(number) = options.record
    {
        let n = reading.records.len();
        return Err(Unread { message: format!("{}: no record {number}, it has {n}", source.name) });
    }
    let path = match place {
        Place::File(path) => Some(path.clone()),
        Place::Stdin => None,
    };
    Ok(Seen { source, path, reading, examined })
}

/// Whether there is anything to choose from.
fn mendable(found: &Found<'_>) -> bool {
    !found.examination.ranked.repairs.is_empty()
}

fn exit_of(found: &Found<'_>, options: &Options) -> Exit {
    let strict = options.messages.strict() && !found.examination.findings.is_empty();
    let broken = strict || matches!(found.examination.health, Health::Broken | Health::Empty);
    if broken || found.record.has_fault() { Exit::Fault } else { Exit::Fine }
}

/// The file's name, and the number of the record if the file has several.
fn name(seen: &Seen, found: &Found<'_>) -> String {
    if seen.reading.records.len() > 1 {
        format!("{} #{}", seen.source.name, found.index + 1)
    } else {
        seen.source.name.clone()
    }
}

/// Writes or prints what is clear or chosen; says what is left.
fn apply(seen: &Seen, options: &Options, err_look: &Look) -> io::Result<Exit> {
    let mut rewrites = Vec::new();
    let mut exit = Exit::Fine;
    let mut n_mended = 0;
    for found in seen.found() {
        match chosen(&found, options) {
            Ok(None) => {
                exit = exit.max(exit_of(&found, options));
                if found.examination.health == Health::OneTurnShort
                    && !found.examination.ranked.repairs.is_empty()
                {
                    outlet::err(&format!(
                        "cornerwise: {}: left as it is: one turn short is a solve with a penalty; if that turn was \
                         made, take it with `--choose 1`\n",
                        name(seen, &found)
                    ));
                }
            }
            Ok(Some(mut more)) => {
                n_mended += 1;
                rewrites.append(&mut more);
            }
            Err(why) => {
                outlet::err(&format!("cornerwise: {}: {why}\n", name(seen, &found)));
                exit = exit.max(Exit::Fault);
            }
        }
    }
    if rewrites.is_empty() {
        return Ok(exit);
    }
    let mended = text::apply(&seen.source.text, &rewrites);
    // What the repair does not touch may be wrong all the same.
    let after = Source::new(seen.source.name.clone(), mended.clone());
    let left: Vec<Diagnostic> =
        options.messages.read(&after).reading.all_diagnostics().filter(|message| message.is_fault()).cloned().collect();
    if !left.is_empty() {
        exit = exit.max(Exit::Fault);
        outlet::err("cornerwise: faults that are left after mending:\n");
        outlet::err(&options.messages.draw(&after, &left, err_look));
    }
    if options.patch {
        outlet::out(&text::patch(&seen.source.name, &seen.source.text, &mended))?;
        return Ok(exit);
    }
    let Some(path) = &seen.path else {
        outlet::err("cornerwise: standard input cannot be written to; use `--patch`\n");
        return Ok(Exit::Unreadable);
    };
    match save::replace(path, &mended, !options.no_backup) {
        Ok(kept) => {
            let records = if n_mended == 1 { "1 record".into() } else { format!("{n_mended} records") };
            let kept = kept.map_or(String::new(), |kept| format!("; the old text is {}", kept.display()));
            outlet::out(&format!("{}: mended {records}{kept}\n", seen.source.name))?;
            Ok(exit)
        }
        Err(error) => {
            let name = &seen.source.name;
            outlet::err(&format!("cornerwise: {name}: not written, and left as it was: {error}\n"));
            Ok(Exit::Unreadable)
        }
    }
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

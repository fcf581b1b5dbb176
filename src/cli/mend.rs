//! `mend`: find what is wrong with a record, and put it right.

use std::{io, iter};

use clap::{Args, ValueEnum};
use cornerwise::diagnostic::{Diagnostic, Source};
use cornerwise::harmless::one_line;
use cornerwise::mend::{Examination, Health, Settings, Standing, examine, gap, text, words};
use cornerwise::paste;
use cornerwise::report::look::Look;
use cornerwise::report::mend::{self as report, Found};
use rayon::prelude::*;

use super::exit::{Exit, Failure};
use super::guard::{each_guarded, failed, guarded};
use super::options::{Messages, Output, Records, Screen, default, whole};
use super::places::Unread;
use super::records::{Chosen, File, Input, Inputs, Text, WINDOW};
use super::session::Session;
use super::{interrupt, outlet, safe_write};

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
    #[arg(long, value_name = "N", default_value_t = default::REPAIRS, value_parser = whole::<u8>(1, 100))]
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
    #[arg(long, value_name = "N", value_parser = whole::<u16>(1, 65_535))]
    choose: Option<u16>,
    /// The most turns that `...` may stand for.
    #[arg(long, value_name = "TURNS", default_value_t = default::GAP, value_parser = whole::<u8>(1, gap::MOST_TURNS as u64))]
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

/// One record, looked at.
struct Seen {
    chosen: Chosen,
    examination: Examination,
}

impl Seen {
    fn found(&self) -> Found<'_> {
        Found {
            source: self.chosen.source(),
            index: self.chosen.index,
            of: self.chosen.text.reading.records.len(),
            record: self.chosen.record(),
            examination: &self.examination,
        }
    }
}

/// A file that is to be changed, as far as its records have been looked at.
#[derive(Default)]
struct Changes {
    rewrites: Vec<text::Rewrite>,
    n_mended: usize,
}

/// Something of an input, in order.
enum Piece {
    Unread(Unread),
    /// A file is begun.
    File(File),
    Record(Chosen),
    /// All its records were there.
    EndOf(File),
}

/// A run under way.
struct Run<'a> {
    options: &'a Options,
    session: Session<'a>,
    /// Whether many records are told in a table; else each in full.
    table: bool,
    rows: Vec<(String, &'static str, String)>,
    first: bool,
    changes: Changes,
    /// Why a report could not be given, where there is more to do all the same.
    unheard: Option<io::Error>,
}

pub(super) fn run(options: &Options, screen: Screen) -> Result<Exit, Failure> {
    let output = Output::default();
    let session = Session::new(screen, &options.messages, &output);
    let mut inputs = Inputs::of(&options.records.files, &options.messages).each_file_once();
    if options.write {
        inputs = inputs.files_only();
    }
    let mut run = Run {
        options,
        session,
        table: false,
        rows: Vec::new(),
        first: true,
        changes: Changes::default(),
        unheard: None,
    };
    if options.choose.is_some() {
        let n_broken = run.broken(&inputs);
        if n_broken != 1 {
            run.session.refuse(match n_broken {
                0 => "`--choose`: nothing here has a repair to choose".to_string(),
                n => format!(
                    "`--choose` is for one record, but {n} of these have repairs to choose from; name one by its \
                     number, such as `FILE#2`"
                ),
            });
            return Ok(run.session.finish(Ok(None), &[])?);
        }
    }
    let several = inputs.list.len() > 1;
    for batch in inputs.batches() {
        let n_records: usize = batch.iter().flatten().map(Input::len).sum();
        // Many records in a table, one in full.
        run.table = (several || n_records > 1)
            && !options.full
            && options.format == Format::Text
            && !run.changes_files();
        let mut pieces = batch.into_iter().flat_map(pieces).peekable();
        while pieces.peek().is_some() {
            run.window(pieces.by_ref().take(WINDOW).collect())?;
        }
    }
    if !run.rows.is_empty() {
        run.session.say(&summary(&run.rows, &run.session.look))?;
    }
    if let Some(error) = run.unheard.filter(|error| error.kind() != io::ErrorKind::BrokenPipe) {
        return Err(error.into());
    }
    Ok(run.session.finish(Ok(None), &[])?)
}

/// What is to be gone through of an input: its records in the order of the text, in which it is rewritten.
fn pieces(input: Result<Input, Unread>) -> Vec<Piece> {
    match input.and_then(Input::records) {
        Err(unread) => vec![Piece::Unread(unread)],
        Ok(file) => {
            let mut records: Vec<Chosen> = file.records().collect();
            records.sort_by_key(|chosen| chosen.index);
            let records = records.into_iter().map(Piece::Record);
            iter::once(Piece::File(file.clone())).chain(records).chain([Piece::EndOf(file)]).collect()
        }
    }
}

impl Run<'_> {
    fn changes_files(&self) -> bool {
        self.options.write || self.options.patch
    }

    fn examined(&self, chosen: &Chosen) -> Examination {
        examine(&chosen.study(), &Settings { gap: usize::from(self.options.gap) })
    }

    /// How many records there are with something to choose from.
    fn broken(&self, inputs: &Inputs) -> usize {
        let mendable = |chosen: &Chosen| !self.examined(chosen).ranked.repairs.is_empty();
        let of_batch = |batch: Vec<Result<Input, Unread>>| {
            let files = batch.into_iter().filter_map(|input| input.and_then(Input::records).ok());
            let records: Vec<Chosen> = files.flat_map(File::into_records).collect();
            records.par_iter().filter(|chosen| mendable(chosen)).count()
        };
        inputs.batches().map(of_batch).sum()
    }

    /// Looks at a few records side by side, and tells them in their order.
    fn window(&mut self, pieces: Vec<Piece>) -> io::Result<()> {
        let examined: Vec<Option<Option<Examination>>> = each_guarded(&pieces, |piece| {
            if let Piece::Record(chosen) = piece { Some(self.examined(chosen)) } else { None }
        });
        for (piece, examination) in pieces.into_iter().zip(examined) {
            // Between two files, so that each is written or is not.
            interrupt::check()?;
            match (piece, examination) {
                (Piece::Unread(unread), _) => {
                    self.session.refuse(&unread.message);
                    if self.table
                        && let Some((name, why)) = unread.message.split_once(": ")
                    {
                        self.rows.push((name.to_owned(), "unread", why.to_owned()));
                    }
                }
                (Piece::File(file), _) => {
                    let Text { source, reading } = &*file.text;
                    self.session.tell(source, &reading.diagnostics);
                    if self.table && reading.records.is_empty() {
                        let why = reading.diagnostics.first().map(|fault| fault.message.clone());
                        self.rows.push((source.name.clone(), "unread", why.unwrap_or_default()));
                    }
                    self.changes = Changes::default();
                }
                (Piece::Record(chosen), Some(Some(examination))) => {
                    self.record(&Seen { chosen, examination })?;
                }
                // The defect is this record's alone.
                (Piece::Record(chosen), _) => self.fail(&chosen.name()),
                (Piece::EndOf(file), _) if self.changes_files() => {
                    let said = self.apply(&file);
                    if !self.options.write {
                        said?;
                    } else if let Err(error) = said {
                        // What is written does not depend on whether anybody reads the report.
                        self.unheard.get_or_insert(error);
                    }
                }
                _ => {}
            }
        }
        Ok(())
    }

    fn record(&mut self, seen: &Seen) -> io::Result<()> {
        let found = seen.found();
        if self.changes_files() {
            self.change(&found);
            return Ok(());
        }
        self.session.note(exit_of(&found, self.options));
        let shown = usize::from(self.options.show);
        let worded = guarded(|| match self.options.format {
            Format::Json => report::json(&found, shown),
            Format::Text if self.table => report::brief(&found),
            Format::Text => report::render(&found, shown, &self.session.look),
        });
        let Some(worded) = worded else {
            self.fail(&name(&found));
            return Ok(());
        };
        if self.options.format == Format::Json {
            return self.session.say(&worded);
        }
        if self.table {
            self.rows.push((name(&found), report::health(&found), worded));
            return Ok(());
        }
        outlet::err(&self.session.draw(found.source, &found.examination.findings));
        let blank = if self.first { "" } else { "\n" };
        self.first = false;
        self.session.say(&format!("{blank}{worded}"))
    }

    /// Says that the program failed on a record, and goes on.
    fn fail(&mut self, name: &str) {
        self.session.remark(failed(name));
        self.session.note(Exit::Fault);
    }

    /// Takes down what is clear or chosen of a record; says what is left.
    fn change(&mut self, found: &Found<'_>) {
        let Some(chosen) = guarded(|| chosen(found, self.options)) else {
            self.fail(&name(found));
            return;
        };
        match chosen {
            Ok(None) => {
                self.session.note(exit_of(found, self.options));
                if found.examination.health == Health::OneTurnShort
                    && !found.examination.ranked.repairs.is_empty()
                {
                    self.session.remark(format!(
                        "{}: left as it is: one turn short is a solve with a penalty; if that turn was made, take it \
                         with `--choose 1`",
                        name(found)
                    ));
                }
            }
            Ok(Some(mut more)) => {
                self.changes.n_mended += 1;
                self.changes.rewrites.append(&mut more);
            }
            Err(why) => {
                self.session.remark(format!("{}: {why}", name(found)));
                // What was asked for is not there; else it is the record that is wrong.
                let n_repairs = found.examination.ranked.repairs.len();
                let beyond = self.options.choose.is_some_and(|number| usize::from(number) > n_repairs);
                self.session.note(if beyond { Exit::Unreadable } else { Exit::Fault });
            }
        }
    }

    /// Writes or prints what was taken down of a file.
    fn apply(&mut self, file: &File) -> io::Result<()> {
        let Changes { rewrites, n_mended } = std::mem::take(&mut self.changes);
        if rewrites.is_empty() {
            return Ok(());
        }
        let source = &file.text.source;
        let mended = text::apply(&source.text, &rewrites);
        // What the repair does not touch may be wrong all the same.
        let after = Source::new(source.name.clone(), mended.clone());
        let left: Vec<Diagnostic> =
            paste::read(&after).all_diagnostics().filter(|message| message.is_fault()).cloned().collect();
        if !left.is_empty() {
            self.session.remark("faults that are left after mending:");
            self.session.tell(&after, &left);
        }
        if self.options.patch {
            return self.session.say(&text::patch(&source.name, &source.text, &mended));
        }
        let Some(path) = file.place.path() else {
            self.session.refuse("standard input cannot be written to; use `--patch`");
            return Ok(());
        };
        match safe_write::replace(path, &source.text, &mended, !self.options.no_backup) {
            Ok(kept) => {
                let records = if n_mended == 1 { "1 record".into() } else { format!("{n_mended} records") };
                let kept = kept.map_or(String::new(), |kept| format!("; the old text is {}", kept.display()));
                self.session
                    .say(&format!("{}\n", one_line(&format!("{}: mended {records}{kept}", source.name))))?;
                self.session.say(&written(&source.text, &mended))?;
            }
            Err(error) => {
                self.session.refuse(format!("{}: not written, and left as it was: {error}", source.name));
            }
        }
        Ok(())
    }
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

/// The lines that were written anew, as they are now; nothing where lines were added or taken away.
fn written(old: &str, new: &str) -> String {
    if old.lines().count() != new.lines().count() {
        return String::new();
    }
    let lines = old.lines().zip(new.lines()).enumerate().filter(|(_, (old, new))| old != new);
    let shown = lines.take(MOST_LINES);
    shown.map(|(n, (_, new))| format!("  line {}: {}\n", n + 1, one_line(new.trim()))).collect()
}

/// So many lines are shown of what was written.
const MOST_LINES: usize = 12;

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
            let why = match words::doubt(found.examination) {
                words::Doubt::Comment => "the likeliest repair contradicts a comment",
                words::Doubt::Line => {
                    "a line seems to be missing, and what would fit is worked out, not read"
                }
                words::Doubt::Elsewhere => {
                    "the comments tell of a line that is missing, which the likeliest repair does not put back"
                }
                words::Doubt::Scramble => {
                    "a slip in the scramble would look the same as the likeliest repair"
                }
            };
            return Err(format!("{why}; take it with `--choose 1`"));
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
        ("part", "unfinished"),
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

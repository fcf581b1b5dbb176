//! `annotate`: the main job.

use clap::{Args, ValueEnum};
use cornerwise::annotate::{Annotated, Settings, annotate};
use cornerwise::annotation::Annotation;
use cornerwise::harmless::one_line;
use cornerwise::mend;
use cornerwise::report::text::Show;
use cornerwise::report::{json, text};
use cornerwise::story::Told;
use rayon::prelude::*;

use super::documents::{self, Kind};
use super::exit::{Exit, Failure};
use super::guard::{failed, guarded};
use super::options::{Documents, Judging, Messages, Output, Records, Screen};
use super::outlet;
use super::places::Unread;
use super::progress::Progress;
use super::records::{Chosen, File, Input, Inputs, SavedLine};
use super::session::{Session, faults};

/// Say for every step where the next corner and its edge were, which tier of the scan finds them, and when they
/// could have been seen.
#[derive(Debug, Args)]
pub(super) struct Options {
    #[command(flatten)]
    records: Records,
    /// What to print.
    #[arg(long, value_name = "FORMAT", default_value = "text")]
    format: Format,
    /// In text: only who, how long, what cost most, and a row a step.
    #[arg(long)]
    brief: bool,
    /// Where other lines are shown, say how to set the position up on a solved cube.
    #[arg(long)]
    setup: bool,
    #[command(flatten)]
    judging: Judging,
    #[command(flatten)]
    output: Output,
    #[command(flatten)]
    documents: Documents,
    #[command(flatten)]
    messages: Messages,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
enum Format {
    /// For people.
    Text,
    /// One object a line, one line a record: see docs/annotation.schema.json.
    Json,
    /// For a tutorial text, with pictures beside it.
    Markdown,
    /// A page that needs no network: the lanes, then every step with its pictures.
    Html,
    /// Captions for the video of a timed solve.
    Vtt,
    /// The lanes as a picture.
    Svg,
}

impl Format {
    /// The kind of document, for the formats that are made of everything read at once.
    const fn document(self) -> Option<Kind> {
        match self {
            Format::Text | Format::Json => None,
            Format::Markdown => Some(Kind::Markdown),
            Format::Html => Some(Kind::Html),
            Format::Vtt => Some(Kind::Vtt),
            Format::Svg => Some(Kind::Svg),
        }
    }
}

/// For so many broken records of a file `mend` is asked what it would do.
const MOST_PROPOSALS: usize = 8;

/// So many inputs are worked on before the next results are printed: a long run shows its first results soon, and a
/// closed pipe ends it.
const AT_ONCE: usize = 64;

/// What one input came to.
#[derive(Default)]
struct Printed {
    out: String,
    /// Where the format makes one document of everything.
    facts: Vec<Annotation>,
    err: String,
    exit: Exit,
    n_records: usize,
    n_faulty: usize,
}

pub(super) fn run(options: &Options, screen: Screen) -> Result<Exit, Failure> {
    let settings = options.judging.resolve(&options.messages)?;
    let mut session = Session::new(screen, &options.messages, &options.output);
    let inputs = Inputs::of(&options.records.files, &options.messages);
    let mut facts = Vec::new();
    let (mut n_records, mut n_faulty, mut n_unread) = (0, 0, 0);
    let progress = Progress::new();
    for chunk in inputs.list.chunks(AT_ONCE) {
        let one = |input| match input {
            Input::Records(file) => one(&file, options, &settings, &session, &progress),
            Input::Saved(name, lines) => saved(&name, lines, options, &session),
        };
        let printed: Vec<Result<Printed, Unread>> =
            chunk.par_iter().map(|asked| inputs.read_any(asked).map(one)).collect();
        progress.clear();
        for printed in printed {
            let printed = match printed {
                Ok(printed) => printed,
                Err(unread) => {
                    session.refuse(&unread.message);
                    n_unread += 1;
                    continue;
                }
            };
            outlet::err(&printed.err);
            let parted = n_records > 0 && options.format == Format::Text && !printed.out.is_empty();
            session.say(&format!("{}{}", if parted { "\n" } else { "" }, printed.out))?;
            facts.extend(printed.facts);
            n_records += printed.n_records;
            n_faulty += printed.n_faulty;
            session.note(printed.exit);
        }
    }
    let made = match options.format.document() {
        Some(kind) if !facts.is_empty() => {
            documents::make(kind, &facts, &options.documents, &options.output).map(Some)
        }
        _ => Ok(None),
    };
    let closing = closing(n_records, n_faulty, n_unread);
    if (inputs.list.len() > 1 || n_records > 1) && !closing.is_empty() {
        session.remark(closing);
    }
    Ok(session.finish(made, &inputs.paths())?)
}

/// What failed, in one line; nothing if all is well.
fn closing(n_records: usize, n_faulty: usize, n_unread: usize) -> String {
    let mut parts = Vec::new();
    if n_faulty > 0 {
        parts.push(format!("{n_faulty} of {n_records} records have faults"));
    }
    if n_unread > 0 {
        parts.push(format!("{n_unread} of the inputs could not be read"));
    }
    parts.join("; ")
}

fn one(
    file: &File,
    options: &Options,
    settings: &Settings,
    session: &Session<'_>,
    progress: &Progress,
) -> Printed {
    let (source, reading) = (&file.text.source, &file.text.reading);
    let records: Vec<Chosen> = file.records().collect();
    let mut printed = Printed {
        err: session.draw(source, &reading.diagnostics),
        exit: faults(&reading.diagnostics),
        n_records: records.len(),
        ..Printed::default()
    };
    // Records are worked out side by side and printed in their order.
    let annotated: Vec<Option<Annotated>> = records
        .par_iter()
        .map(|chosen| {
            let annotated = guarded(|| annotate(&chosen.study(), settings));
            progress.one_more();
            annotated
        })
        .collect();
    for (chosen, annotated) in records.iter().zip(annotated) {
        let Some(Annotated { mut facts, diagnostics }) = annotated else {
            printed.err.push_str(&format!("cornerwise: {}\n", failed(&chosen.name())));
            printed.n_faulty += 1;
            printed.exit = printed.exit.max(Exit::Fault);
            continue;
        };
        printed.err.push_str(&session.draw(source, &diagnostics));
        let exit = faults(&diagnostics);
        // Looking for a repair takes longer than all the rest, so not for a whole file of broken records.
        if exit > Exit::Fine && printed.n_faulty < MOST_PROPOSALS {
            facts.repair = guarded(|| mend::propose_one_line(&chosen.study())).flatten();
        }
        if let Some(proposal) = &facts.repair {
            // What it quotes is the writer's, too.
            printed.err.push_str(&format!("{}\n", one_line(&format!("{}: {proposal}", source.name))));
        }
        printed.show(facts, options, session);
        printed.n_faulty += usize::from(exit > Exit::Fine);
        printed.exit = printed.exit.max(exit);
    }
    printed
}

/// Prints facts that were saved, as from their records.
fn saved(name: &str, lines: Vec<SavedLine>, options: &Options, session: &Session<'_>) -> Printed {
    let mut printed = Printed::default();
    for line in lines {
        match line {
            Ok(facts) => {
                let faulty = !facts.faults.is_empty();
                printed.n_records += 1;
                printed.n_faulty += usize::from(faulty);
                printed.exit = printed.exit.max(if faulty { Exit::Fault } else { Exit::Fine });
                printed.show(facts, options, session);
            }
            Err((line, wrong)) => {
                let (name, wrong) = (one_line(name), one_line(&wrong));
                printed.err.push_str(&format!("cornerwise: {name}:{line}: {wrong}\n"));
                printed.exit = Exit::Unreadable;
            }
        }
    }
    printed
}

impl Printed {
    /// Takes one record's facts in the form that was asked for.
    fn show(&mut self, facts: Annotation, options: &Options, session: &Session<'_>) {
        match options.format {
            Format::Json => self.out.push_str(&json::line(&facts)),
            Format::Text => {
                let told = if options.brief { Told::Brief } else { Told::Whole };
                let legend = self.out.is_empty();
                if !legend {
                    self.out.push('\n');
                }
                let show = Show { told, legend, setup: options.setup };
                self.out.push_str(&text::render(&facts, show, &session.look));
            }
            Format::Markdown | Format::Html | Format::Vtt | Format::Svg => self.facts.push(facts),
        }
    }
}

//! `annotate`: the main job.

use std::io;
use std::sync::Arc;

use clap::{Args, ValueEnum};
use cornerwise::annotate::{Annotated, Settings, annotate};
use cornerwise::annotation::Annotation;
use cornerwise::harmless::one_line;
use cornerwise::mend;
use cornerwise::report::look::{Look, wrap};
use cornerwise::report::text::Show;
use cornerwise::report::{json, text};
use cornerwise::story::Told;
use rayon::prelude::*;

use super::documents::{self, Folder, Kind, MOST_IN_ONE};
use super::exit::{Exit, Failure};
use super::files::Drafts;
use super::guard::{failed, guarded};
use super::interrupt;
use super::options::{Documents, Judging, Messages, Output, Records, Screen, usage};
use super::outlet;
use super::places::Unread;
use super::progress::Progress;
use super::records::{Chosen, Input, Inputs, Text, WINDOW};
use super::session::{Session, faults};

/// Say where the time of a solve went and what cost most, and for every step where the next corner and its edge were, when
/// they could have been found, and what else could have been played.
#[derive(Debug, Args)]
#[command(
    after_help = "Examples:\n  cornerwise annotate --brief solve.txt\n  cornerwise annotate solve.txt --sight UFR,UFRL"
)]
pub(super) struct Options {
    #[command(flatten)]
    records: Records,
    /// What to print [default: what the ending of --output says, else text].
    #[arg(long, value_name = "FORMAT")]
    format: Option<Format>,
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

impl Options {
    /// The format, once [`run`] has made sure that there is one.
    fn format(&self) -> Format {
        self.output.format(self.format).unwrap_or(Format::Text)
    }
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

/// Something to tell, in the order of what was read.
enum Piece {
    /// An input that could not be read.
    Unread(Unread),
    /// What is wrong with a text as a whole.
    File(Arc<Text>),
    /// A record, and whether it is the first of its input.
    Record(Chosen, bool),
    /// Facts that were saved.
    Facts(Box<Annotation>),
    /// A line that holds no facts, and what is said of it.
    NoFacts(String),
}

/// What a record came to.
struct Done {
    /// Looked at in every way that was asked for; nothing if a defect of the program ended it.
    facts: Vec<Annotation>,
    /// What is to be said of it.
    err: String,
    exit: Exit,
}

/// A run under way.
struct Run<'a> {
    options: &'a Options,
    settings: Vec<Settings>,
    session: Session<'a>,
    progress: Progress,
    /// Whether the legend is still to be told.
    legend: bool,
    n_records: usize,
    n_faulty: usize,
    n_unread: usize,
    /// How many broken records of the file at hand were met.
    n_broken_here: usize,
    /// The facts of all records, for what is made of them at once.
    facts: Vec<Annotation>,
    /// What is made of them one by one.
    folder: Option<Folder<'a>>,
}

pub(super) fn run(options: &Options, screen: Screen) -> Result<Exit, Failure> {
    let format = options.output.format(options.format)?;
    options.documents.fit(format.document())?;
    for (given, option) in [(options.brief, "--brief"), (options.setup, "--setup")] {
        if given && format != Format::Text {
            return Err(usage(format!("{option}: goes with --format text")).into());
        }
    }
    let settings = options.judging.resolve_each(&options.messages)?;
    if settings.len() > 1 && options.format().document().is_some() {
        options.judging.resolve(&options.messages)?;
    }
    let inputs = Inputs::of(&options.records.files, &options.messages);
    let paths = inputs.paths();
    let folder = options.format().document().zip(options.output.folder()).map(|(kind, path)| {
        Folder::new(kind, &options.documents, path, Drafts::new(options.output.force, &paths))
    });
    let mut run = Run {
        options,
        settings,
        session: Session::new(screen, &options.messages, &options.output),
        progress: Progress::new(),
        legend: true,
        n_records: 0,
        n_faulty: 0,
        n_unread: 0,
        n_broken_here: 0,
        facts: Vec::new(),
        folder,
    };
    for batch in inputs.batches() {
        let mut pieces = batch.into_iter().flat_map(pieces).peekable();
        while pieces.peek().is_some() && run.facts.len() <= MOST_IN_ONE {
            run.window(pieces.by_ref().take(WINDOW).collect())?;
        }
    }
    let made = match (options.format().document(), run.folder) {
        (Some(_), Some(folder)) => folder.finish(),
        (Some(_), None) if run.facts.len() > MOST_IN_ONE => Err(documents::too_many()),
        (Some(kind), None) if !run.facts.is_empty() => {
            documents::make(kind, &run.facts, &options.documents, &options.output).map(Some)
        }
        _ => Ok(None),
    };
    let closing = closing(run.n_records, run.n_faulty, run.n_unread);
    if (inputs.list.len() > 1 || run.n_records > 1) && !closing.is_empty() {
        run.session.remark(closing);
    }
    Ok(run.session.finish(made, &paths)?)
}

/// What there is to tell of an input.
fn pieces(input: Result<Input, Unread>) -> Box<dyn Iterator<Item = Piece>> {
    match input {
        Err(unread) => Box::new(std::iter::once(Piece::Unread(unread))),
        Ok(Input::Records(file)) => {
            let head = Piece::File(Arc::clone(&file.text));
            let records = file.into_records().enumerate();
            Box::new(std::iter::once(head).chain(records.map(|(n, chosen)| Piece::Record(chosen, n == 0))))
        }
        Ok(Input::Saved(saved)) => {
            let name = one_line(&saved.name);
            Box::new(saved.into_lines().map(move |line| match line {
                Ok(facts) => Piece::Facts(Box::new(facts)),
                Err((line, wrong)) => {
                    Piece::NoFacts(format!("cornerwise: {name}:{line}: {}\n", one_line(&wrong)))
                }
            }))
        }
    }
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

impl Run<'_> {
    /// Works out a few records side by side, and tells them in their order.
    fn window(&mut self, pieces: Vec<Piece>) -> io::Result<()> {
        let n_records = pieces.iter().filter(|piece| matches!(piece, Piece::Record(..))).count();
        // For one record threads would cost more than they could save.
        let mut done: Vec<Option<Done>> = if n_records <= 1 {
            pieces.iter().map(|piece| self.annotated(piece)).collect()
        } else {
            pieces.par_iter().map(|piece| self.annotated(piece)).collect()
        };
        self.propose(&pieces, &mut done);
        interrupt::check()?;
        self.progress.clear();
        let mut told: Vec<(Vec<Annotation>, bool)> = Vec::new();
        for (piece, done) in pieces.into_iter().zip(done) {
            match (piece, done) {
                (Piece::Unread(unread), _) => {
                    self.session.refuse(&unread.message);
                    self.n_unread += 1;
                }
                (Piece::File(text), _) => self.session.tell(&text.source, &text.reading.diagnostics),
                (Piece::NoFacts(said), _) => {
                    outlet::err(&said);
                    self.session.note(Exit::Unreadable);
                }
                (Piece::Facts(facts), _) => {
                    let faulty = !facts.faults.is_empty();
                    self.count(if faulty { Exit::Fault } else { Exit::Fine });
                    told.push((vec![*facts], self.n_records > 1));
                }
                (Piece::Record(..), Some(done)) => {
                    outlet::err(&done.err);
                    self.count(done.exit);
                    if !done.facts.is_empty() {
                        told.push((done.facts, self.n_records > 1));
                    }
                }
                (Piece::Record(..), None) => {}
            }
        }
        self.tell(told)
    }

    fn count(&mut self, exit: Exit) {
        self.n_records += 1;
        self.n_faulty += usize::from(exit > Exit::Fine);
        self.session.note(exit);
    }

    /// The facts of a record, and what there is to say of its text.
    fn annotated(&self, piece: &Piece) -> Option<Done> {
        let Piece::Record(chosen, _) = piece else { return None };
        let annotated: Option<Vec<Annotated>> = guarded(|| {
            let study = chosen.study();
            self.settings.iter().map(|settings| annotate(&study, settings)).collect()
        });
        self.progress.one_more();
        let Some(annotated) = annotated else {
            let err = format!("cornerwise: {}\n", failed(&chosen.name()));
            return Some(Done { facts: Vec::new(), err, exit: Exit::Fault });
        };
        // What is to be said of the text does not depend on how it was looked at.
        let diagnostics = annotated.first().map_or(&[] as &[_], |one| &one.diagnostics);
        let err = self.session.draw(chosen.source(), diagnostics);
        let exit = faults(diagnostics);
        Some(Done { facts: annotated.into_iter().map(|one| one.facts).collect(), err, exit })
    }

    /// Looks for repairs of broken records. That takes longer than all the rest, so not for a whole file of them.
    fn propose(&mut self, pieces: &[Piece], done: &mut [Option<Done>]) {
        let mut broken: Vec<(&Chosen, &mut Done)> = Vec::new();
        for (piece, done) in pieces.iter().zip(done) {
            let (Piece::Record(chosen, first), Some(done)) = (piece, done) else { continue };
            if *first {
                self.n_broken_here = 0;
            }
            if done.exit > Exit::Fine {
                if self.n_broken_here < MOST_PROPOSALS && !done.facts.is_empty() {
                    broken.push((chosen, done));
                }
                self.n_broken_here += 1;
            }
        }
        let width = self.session.message_width();
        let propose = |(chosen, done): &mut (&Chosen, &mut Done)| {
            let repair = guarded(|| mend::propose_one_line(&chosen.study())).flatten();
            if let Some(proposal) = &repair {
                // What it quotes is the writer's, too.
                let name = &chosen.source().name;
                let said = one_line(&format!("{name}: {proposal}"));
                done.err.push_str(&format!("{}\n", wrap(&said, width, 2)));
            }
            let holds = guarded(|| mend::locate::locate(&chosen.study()).holds);
            for facts in &mut done.facts {
                (facts.holds, facts.repair) = (holds, repair.clone());
            }
        };
        if broken.len() <= 1 {
            broken.iter_mut().for_each(propose);
        } else {
            broken.par_iter_mut().for_each(propose);
        }
    }

    /// Tells records in the form that was asked for; each with whether another was told before it.
    fn tell(&mut self, told: Vec<(Vec<Annotation>, bool)>) -> io::Result<()> {
        if let Some(folder) = &mut self.folder {
            folder.take(told.into_iter().flat_map(|(facts, _)| facts).collect());
            return Ok(());
        }
        match self.options.format() {
            Format::Text => {
                // The legend stands with the first story of the run that needs it.
                let with_legend: Vec<(Vec<Annotation>, bool, bool)> = told
                    .into_iter()
                    .map(|(seen, parted)| {
                        let legend = self.legend;
                        if let [facts] = seen.as_slice()
                            && !self.options.brief
                            && facts.has_lanes()
                        {
                            self.legend = false;
                        }
                        (seen, parted, legend)
                    })
                    .collect();
                let (options, look) = (self.options, self.session.look);
                let shown = side_by_side(&with_legend, |(seen, parted, legend)| {
                    let parted = if *parted { "\n" } else { "" };
                    format!("{parted}{}", shown(seen, options, *legend, &look))
                });
                shown.iter().try_for_each(|text| self.session.say(text))
            }
            Format::Json => {
                let lines = side_by_side(&told, |(facts, _)| facts.iter().map(json::line).collect());
                lines.iter().try_for_each(|text| self.session.say(text))
            }
            _ => {
                self.facts.extend(told.into_iter().flat_map(|(facts, _)| facts));
                Ok(())
            }
        }
    }
}

/// A text for each of these, worked out by all threads; for one alone threads would cost more than they could save.
fn side_by_side<T: Sync>(these: &[T], text: impl Fn(&T) -> String + Send + Sync) -> Vec<String> {
    match these {
        [only] => vec![text(only)],
        _ => these.par_iter().map(text).collect(),
    }
}

/// One record as text: its story, or, looked at in several ways, what they come to.
fn shown(seen: &[Annotation], options: &Options, legend: bool, look: &Look) -> String {
    let [facts] = seen else { return text::grips(seen, look) };
    let told = if options.brief { Told::Brief } else { Told::Whole };
    text::render(facts, Show { told, legend, setup: options.setup }, look)
}

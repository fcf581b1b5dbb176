//! `survey`: many solves; what goes with the stops, what they cost, the trend, what to practise.

mod saved;

use std::collections::BTreeMap;
use std::path::PathBuf;

use clap::{Args, ValueEnum};
use cornerwise::annotate::{Settings, annotate};
use cornerwise::annotation::Annotation;
use cornerwise::diagnostic::Diagnostic;
use cornerwise::harmless::one_line;
use cornerwise::record;
use cornerwise::report::html::{self, survey as page};
use cornerwise::report::picture::Style;
use cornerwise::report::survey::csv;
use cornerwise::report::{json, survey as report};
use cornerwise::story::survey as story;
use cornerwise::survey::facts::Why;
use cornerwise::survey::stops::{LEAST_SOLVES, Procedure};
use cornerwise::survey::{self, Gathered, Solve, Solver, Survey, Wanted};
use cornerwise::words::and;
use rayon::prelude::*;

use super::exit::{Exit, Failure};
use super::options::{Judging, Messages, Output, Screen, default, number, whole};
use super::progress::Progress;
use super::records::{Chosen, Input, Inputs};
use super::session::{Made, Session, faults};
use super::{files, outlet};

/// Look at many solves at once: what goes with your stops, what it costs, whether it is getting better, and what to
/// practise. Only what stands out from chance is named: that takes 12 solves with times, better 50.
#[derive(Debug, Args)]
#[command(
    after_help = "Examples:\n  cornerwise survey solves/\n  cornerwise survey solves/ --solver heron --list 1"
)]
pub(super) struct Options {
    /// The solves: folders, files, patterns, `-`; also facts that `annotate --format json` saved. Surveys that `survey
    /// --format json` saved are printed again.
    #[arg(required = true, value_name = "FOLDER")]
    folders: Vec<String>,
    /// Only the solves of this solver, as the records name them.
    #[arg(long, value_name = "NAME")]
    solver: Option<String>,
    /// Only solves from this day on.
    #[arg(long, value_name = "YYYY-MM-DD", value_parser = date)]
    since: Option<String>,
    /// Put another solver's folder beside.
    #[arg(long, value_name = "FOLDER")]
    against: Vec<String>,
    /// The clock alone, day by day or solver by solver.
    #[arg(long, value_name = "WHAT", conflicts_with = "list")]
    by: Option<By>,
    /// Where finding N happened: the stops, longest first.
    #[arg(long, value_name = "N", value_parser = number::<usize>(1))]
    list: Option<usize>,
    /// What to print [default: what the ending of --output says, else text].
    #[arg(long, value_name = "FORMAT")]
    format: Option<Format>,
    /// With a page in a folder, a page for every solve too, to which the plots lead.
    #[arg(long, requires = "output")]
    pages: bool,
    /// So many threads work at once [default: as many as there are processors]; the output is the same.
    #[arg(long, value_name = "N", allow_negative_numbers = true, value_parser = whole::<u8>(1, 128))]
    jobs: Option<u8>,
    #[command(flatten)]
    judging: Judging,
    #[command(flatten)]
    output: Output,
    #[command(flatten)]
    messages: Messages,
}

impl Options {
    /// The format, once [`run`] has made sure that there is one.
    fn format(&self) -> Format {
        self.output.format(self.format).unwrap_or(Format::Text)
    }

    /// Makes sure that nothing is asked for of which the format, or another option, would say nothing.
    fn go_together(&self) -> Result<(), String> {
        if self.pages && (self.format() != Format::Html || self.output.folder().is_none()) {
            return Err("`--pages` goes with `--format html` and a folder: `--output FOLDER/`".into());
        }
        let part = match (self.list, self.by) {
            (Some(n), _) => format!("--list {n}"),
            (None, Some(By::Day)) => "--by day".into(),
            (None, Some(By::Solver)) => "--by solver".into(),
            (None, None) => String::new(),
        };
        let beside = !self.against.is_empty();
        if !part.is_empty() && beside {
            return Err(format!(
                "`{part}` prints one part of a survey, in which `--against` has no place: leave one out"
            ));
        }
        let (format, instead) = match (self.format(), self.by) {
            (Format::Csv, _) if beside => {
                return Err("`--format csv` is a row a step of the solves that are named, so `--against` has no place in it".into());
            }
            (Format::Csv, _) => {
                ("csv", "it is a row a step, with the day, the solver and every circumstance")
            }
            // These have every solver's figures then.
            (Format::Json | Format::Html, Some(By::Solver)) => return Ok(()),
            (Format::Json, _) => ("json", "the facts are there all the same, in `by_day` and `findings`"),
            (Format::Html, _) => {
                ("html", "the page has all solves, and under each finding where it happened")
            }
            (Format::Text | Format::Markdown, _) => return Ok(()),
        };
        if part.is_empty() {
            return Ok(());
        }
        Err(format!("`{part}` goes with text and Markdown, not with `--format {format}`: {instead}"))
    }
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
enum By {
    /// A row a day.
    Day,
    /// A row a solver, also those with few solves.
    Solver,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
enum Format {
    /// For people.
    Text,
    /// One object a line, one line a solver: see docs/survey.schema.json.
    Json,
    /// For a text about it.
    Markdown,
    /// A page with plots.
    Html,
    /// A row a step with every fact and circumstance: see docs/survey.md.
    Csv,
}

fn date(text: &str) -> Result<String, String> {
    let text = text.trim();
    if record::is_date(text) { Ok(text.to_owned()) } else { Err("expected a day as YYYY-MM-DD".into()) }
}

/// So many inputs are worked on at once.
const AT_ONCE: usize = 64;
/// Of so many broken records the faults are drawn; the others are counted.
const MOST_DRAWN: usize = 5;

pub(super) fn run(options: &Options, screen: Screen) -> Result<Exit, Failure> {
    options.output.format(options.format)?;
    let settings = options.judging.resolve(&options.messages)?;
    let mut session = Session::new(screen, &options.messages, &options.output);
    if let Some(jobs) = options.jobs {
        // It fails only if there are such threads already, and nothing has asked for any yet.
        let _ = rayon::ThreadPoolBuilder::new().num_threads(usize::from(jobs)).build_global();
    }
    if let Err(message) = options.go_together() {
        session.refuse(message);
        return Ok(session.finish(Ok(None), &[])?);
    }
    let wanted = Wanted { solver: options.solver.clone(), since: options.since.clone() };
    let mut usual = default::settings();
    options.messages.fill(&mut usual);
    let settings_asked = settings != usual;
    let mut run = Run {
        options,
        settings,
        settings_asked,
        wanted,
        session,
        headed: false,
        n_drawn: 0,
        n_faulty: 0,
        surveys: Vec::new(),
    };
    let inputs = Inputs::of(&options.folders, &options.messages);
    let gathered = run.gather(&inputs, Gathered::new(run.wanted.clone()))?;
    let mut paths = inputs.paths();
    let surveys = std::mem::take(&mut run.surveys);
    let made = if gathered.nothing_came() && surveys.is_empty() {
        Err("there is no solve to look at".into())
    } else if !surveys.is_empty() && !gathered.nothing_came() {
        Err("a saved survey is printed as it is, and other solves cannot be added to it: name it alone"
            .into())
    } else if !surveys.is_empty() {
        saved::told(&mut run, &surveys)
    } else if options.format() == Format::Csv {
        Ok(None)
    } else {
        let beside = Inputs::of(&options.against, &options.messages);
        let other = if options.against.is_empty() {
            None
        } else {
            paths.extend(beside.paths());
            let other = run.gather(&beside, gathered.beside())?.together();
            if !run.surveys.is_empty() {
                run.session.refuse("`--against` takes records, or the facts that `annotate --format json` saves, but no saved survey");
            }
            let shared = other.left_out.iter().filter(|left| left.why == Why::Twice).count();
            if shared > 0 {
                let solves = if shared == 1 { "1 solve".into() } else { format!("{shared} solves") };
                run.session.remark(format!(
                    "`--against`: {solves} of that side are on your side too, or there twice, and not counted again"
                ));
            }
            Some(other)
        };
        // Whoever asks for others beside has no use for the one without the others.
        match &other {
            Some(other) if other.solves.is_empty() => {
                Err("`--against`: there is no solve to compare with".into())
            }
            other => run.told(gathered, other.as_ref(), &inputs),
        }
    };
    if run.n_faulty > run.n_drawn {
        let n = run.n_faulty - run.n_drawn;
        run.session.remark(match n {
            1 => "1 more record has faults; `annotate` shows them".to_owned(),
            n => format!("{n} more records have faults; `annotate` shows them"),
        });
    }
    Ok(run.session.finish(made, &paths)?)
}

/// That a solver has no solve here, and who has.
fn nobody(wanted: &str, others: &[Option<String>]) -> String {
    let named: Vec<String> = others.iter().flatten().map(|name| format!("`{}`", one_line(name))).collect();
    let there = match named.as_slice() {
        [] => "the records name nobody (`solver: NAME` does)".into(),
        names => format!("the records name {}", and(names)),
    };
    format!("`--solver {}`: no solve of that name; {there}", one_line(wanted))
}

/// What one record came to.
struct Folded {
    solve: Solve,
    rows: Vec<String>,
    drawn: String,
    exit: Exit,
}

struct Run<'a> {
    options: &'a Options,
    settings: Settings,
    /// Whether they are others than the usual ones.
    settings_asked: bool,
    wanted: Wanted,
    session: Session<'a>,
    /// Whether the columns have been named.
    headed: bool,
    n_drawn: usize,
    n_faulty: usize,
    /// Saved surveys that were met.
    surveys: Vec<Survey>,
}

impl Run<'_> {
    /// Annotates every record, folds it, and drops what it was made from.
    fn gather(&mut self, inputs: &Inputs, mut gathered: Gathered) -> std::io::Result<Gathered> {
        let progress = Progress::new();
        for chunk in inputs.list.chunks(AT_ONCE) {
            let read: Vec<_> = chunk
                .par_iter()
                .map(|asked| {
                    inputs.read_any(asked).map(|input| match input {
                        Input::Records(file) => {
                            let faulty: Vec<Diagnostic> = file
                                .text
                                .reading
                                .diagnostics
                                .iter()
                                .filter(|said| said.is_fault())
                                .cloned()
                                .collect();
                            let head = self.session.draw(&file.text.source, &faulty);
                            let records: Vec<Chosen> = file.records().collect();
                            let folded =
                                records.par_iter().map(|chosen| self.record(chosen, &progress)).collect();
                            (head, faults(&faulty), folded, Vec::new())
                        }
                        Input::Saved(saved) => {
                            let (surveys, mut head) = saved::among(&saved);
                            let mut folded = Vec::new();
                            for (line, words) in saved.words().filter(|(_, words)| !json::is_survey(words)) {
                                match json::read_line(words) {
                                    Ok(facts) => folded.push(self.folded(&facts, String::new(), Exit::Fine)),
                                    Err(wrong) => head.push_str(&saved::message(&saved, line, &wrong)),
                                }
                            }
                            let exit = if head.is_empty() { Exit::Fine } else { Exit::Unreadable };
                            (head, exit, folded, surveys)
                        }
                    })
                })
                .collect();
            progress.clear();
            for read in read {
                match read {
                    Ok((head, exit, folded, surveys)) => {
                        outlet::err(&head);
                        self.session.note(exit);
                        self.keep(folded, &mut gathered)?;
                        self.surveys.extend(surveys);
                    }
                    Err(unread) => self.session.refuse(&unread.message),
                }
            }
        }
        Ok(gathered)
    }

    fn record(&self, chosen: &Chosen, progress: &Progress) -> Folded {
        let annotated = annotate(&chosen.study(), &self.settings);
        progress.one_more();
        let faulty: Vec<Diagnostic> =
            annotated.diagnostics.into_iter().filter(|said| said.is_fault()).collect();
        self.folded(&annotated.facts, self.session.draw(chosen.source(), &faulty), faults(&faulty))
    }

    fn folded(&self, facts: &Annotation, drawn: String, exit: Exit) -> Folded {
        let solve = Solve::of(facts);
        let rows = if self.options.format() == Format::Csv { csv::rows(facts, &solve) } else { Vec::new() };
        Folded { solve, rows, drawn, exit }
    }

    /// Takes what was folded, in the order of the records.
    fn keep(&mut self, folded: Vec<Folded>, gathered: &mut Gathered) -> std::io::Result<()> {
        for Folded { solve, rows, drawn, exit } in folded {
            let Some(why) = gathered.take(solve) else { continue };
            self.session.note(exit);
            if exit > Exit::Fine {
                self.n_faulty += 1;
                if self.n_drawn < MOST_DRAWN {
                    self.n_drawn += 1;
                    outlet::err(&drawn);
                }
            }
            let counts = csv::counts(why);
            if self.options.format() == Format::Csv && !std::mem::replace(&mut self.headed, true) {
                self.session.say(&csv::header())?;
            }
            let rows: String = rows.into_iter().map(|row| format!("{counts},{row}")).collect();
            if !rows.is_empty() {
                self.session.say(&rows)?;
            }
        }
        Ok(())
    }

    fn made(&self, solver: &Solver) -> Survey {
        survey::survey(solver, self.options.folders.clone(), &self.wanted, &Procedure::default())
    }

    fn told(
        &mut self,
        gathered: Gathered,
        other: Option<&Solver>,
        inputs: &Inputs,
    ) -> Result<Option<Made>, String> {
        if let Some(others) = gathered.others_instead() {
            return Err(nobody(self.wanted.solver.as_deref().unwrap_or_default(), others));
        }
        if self.options.by == Some(By::Solver) {
            let surveys: Vec<Survey> = gathered.each().iter().map(|solver| self.made(solver)).collect();
            return self.shown(&surveys);
        }
        let (solvers, others) = gathered.solvers();
        if solvers.is_empty() {
            let named: Vec<String> = others
                .iter()
                .map(|other| {
                    format!(
                        "{} ({})",
                        other.solver.as_deref().map_or_else(|| "no name".into(), one_line),
                        other.solves
                    )
                })
                .collect();
            return Err(format!(
                "nobody has {LEAST_SOLVES} solves with times here: {}; `--solver NAME` looks at one all the same",
                named.join(", ")
            ));
        }
        let procedure = Procedure::default();
        let mut surveys: Vec<Survey> = solvers
            .iter()
            .map(|solver| {
                let mut survey = self.made(solver);
                let beside = other
                    .map(|other| survey::against(solver, other, self.options.against.clone(), &procedure));
                survey.against = beside.flatten();
                survey
            })
            .collect();
        if other.is_some() && surveys.iter().all(|survey| survey.against.is_none()) {
            self.session.refuse("`--against`: it takes five solves on each side to compare");
        }
        if let Some(first) = surveys.first_mut() {
            first.others = others;
        }
        if self.options.pages {
            self.pages(&mut surveys, inputs)?;
        }
        self.shown(&surveys)
    }

    /// What was asked for of these surveys.
    fn shown(&self, surveys: &[Survey]) -> Result<Option<Made>, String> {
        match (self.options.list, self.options.by) {
            (Some(n), _) => {
                if surveys.iter().all(|survey| story::list(survey, n).is_none()) {
                    let found = surveys.iter().map(|survey| survey.findings.len()).max().unwrap_or(0);
                    return Err(match found {
                        0 => format!("`--list {n}`: there is no finding"),
                        1 => format!("`--list {n}`: there is 1 finding"),
                        found => format!("`--list {n}`: there are {found} findings"),
                    });
                }
                self.views(surveys, |survey| story::list(survey, n).unwrap_or_default(), false)
            }
            (None, Some(By::Day)) => self.views(surveys, story::by_day, false),
            (None, Some(By::Solver)) => self.views(surveys, |_| story::by_solver(surveys), true),
            (None, None) => self.views(surveys, story::survey, false),
        }
    }

    /// The surveys in the form that was asked for; `once` if the blocks are of all of them together.
    fn views(
        &self,
        surveys: &[Survey],
        blocks: impl Fn(&Survey) -> Vec<cornerwise::story::blocks::Block>,
        once: bool,
    ) -> Result<Option<Made>, String> {
        let shown = if once { surveys.get(..1).unwrap_or_default() } else { surveys };
        let joined = |set: &dyn Fn(&Survey) -> String| shown.iter().map(set).collect::<Vec<_>>().join("\n");
        Ok(Some(match self.options.format() {
            Format::Text => Made::Text(joined(&|survey| report::text(&blocks(survey), &self.session.look))),
            Format::Markdown => Made::Text(joined(&|survey| report::markdown(&blocks(survey)))),
            Format::Json => Made::Text(surveys.iter().map(json::any).collect()),
            Format::Html => match self.options.output.folder() {
                Some(folder) => Made::Files(vec![(folder.join("index.html"), page::page(surveys))]),
                None => Made::Text(page::page(surveys)),
            },
            Format::Csv => {
                return Err("a saved survey has no rows for its steps: `--format csv` needs the records, or the facts that \
                            `annotate --format json` saves"
                    .into());
            }
        }))
    }

    /// Writes a page for every solve that counts, so many at once, and says in the facts what they are called.
    fn pages(&mut self, surveys: &mut [Survey], inputs: &Inputs) -> Result<(), String> {
        let Some(folder) = self.options.output.folder() else { return Ok(()) };
        let mut names: BTreeMap<(String, usize), String> = BTreeMap::new();
        for point in surveys.iter_mut().flat_map(|survey| &mut survey.timeline) {
            let name = page::page_name(names.len() + 1, point);
            names.insert((point.file.clone(), point.record), name.clone());
            point.page = Some(name);
        }
        let paths = inputs.paths();
        let one = |facts: &Annotation| {
            let name = names.get(&(facts.file.clone(), facts.record))?;
            Some((folder.join(name), html::page(std::slice::from_ref(facts), Style::default())))
        };
        for asked in &inputs.list {
            let Ok(input) = inputs.read_any(asked) else { continue };
            let pages: Vec<(PathBuf, String)> = match input {
                Input::Records(file) => {
                    let records: Vec<Chosen> = file.records().collect();
                    let page = |chosen: &Chosen| {
                        names
                            .contains_key(&(chosen.source().name.clone(), chosen.number()))
                            .then(|| one(&annotate(&chosen.study(), &self.settings).facts))?
                    };
                    records.par_iter().filter_map(page).collect()
                }
                Input::Saved(saved) => saved.lines().flatten().filter_map(|facts| one(&facts)).collect(),
            };
            files::write(&pages, self.options.output.force, &paths)?;
        }
        Ok(())
    }
}

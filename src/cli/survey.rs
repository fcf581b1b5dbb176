//! `survey`: many solves; what goes with the stops, what they cost, the trend, what to practise.

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
use super::options::{Judging, Messages, Output, Screen, whole};
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
    /// The solves: folders, files, patterns, `-`; also facts that `annotate --format json` saved.
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
    #[arg(long, value_name = "N")]
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
    if options.pages && (options.format() != Format::Html || options.output.folder().is_none()) {
        session.refuse("`--pages` goes with `--format html` and a folder: `--output FOLDER/`");
        return Ok(session.finish(Ok(None), &[])?);
    }
    let wanted = Wanted { solver: options.solver.clone(), since: options.since.clone() };
    let mut run = Run { options, settings, wanted, session, n_drawn: 0, n_faulty: 0 };
    let inputs = Inputs::of(&options.folders, &options.messages);
    if options.format() == Format::Csv {
        run.session.say(&csv::header())?;
    }
    let gathered = run.gather(&inputs, Gathered::new(run.wanted.clone()))?;
    let mut paths = inputs.paths();
    let made = if options.format() == Format::Csv {
        Ok(None)
    } else {
        let beside = Inputs::of(&options.against, &options.messages);
        let other = if options.against.is_empty() {
            None
        } else {
            paths.extend(beside.paths());
            let other = run.gather(&beside, gathered.beside())?.together();
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
    wanted: Wanted,
    session: Session<'a>,
    n_drawn: usize,
    n_faulty: usize,
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
                            (head, faults(&faulty), folded)
                        }
                        Input::Saved(saved) => {
                            let mut head = String::new();
                            let mut folded = Vec::new();
                            for line in saved.lines() {
                                match line {
                                    Ok(facts) => folded.push(self.folded(&facts, String::new(), Exit::Fine)),
                                    Err((line, wrong)) => head.push_str(&format!(
                                        "cornerwise: {}:{line}: {}\n",
                                        one_line(&saved.name),
                                        one_line(&wrong)
                                    )),
                                }
                            }
                            let exit = if head.is_empty() { Exit::Fine } else { Exit::Unreadable };
                            (head, exit, folded)
                        }
                    })
                })
                .collect();
            progress.clear();
            for read in read {
                match read {
                    Ok((head, exit, folded)) => {
                        outlet::err(&head);
                        self.session.note(exit);
                        self.keep(folded, &mut gathered)?;
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
            return self.views(&surveys, |_| story::by_solver(&surveys), true);
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
                self.views(&surveys, |survey| story::list(survey, n).unwrap_or_default(), false)
            }
            (None, Some(By::Day)) => self.views(&surveys, story::by_day, false),
            _ => self.views(&surveys, story::survey, false),
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
            Format::Csv => return Ok(None),
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

//! `plan`: how it could have gone without a stop.

use clap::{Args, ValueEnum};
use cornerwise::annotate::annotate;
use cornerwise::annotation::Annotation;
use cornerwise::diagnostic::Source;
use cornerwise::hands::Weights;
use cornerwise::plan::{self, Plan, Planner};
use cornerwise::record;
use cornerwise::report::{figures, html, json, plans};
use cornerwise::study::Study;

use super::documents::{self, MOST_IN_ONE};
use super::exit::{Exit, Failure};
use super::options::{At, Eyes, Messages, Output, Records, Screen, default, heading, whole};
use super::records::Inputs;
use super::session::{Made, Session};

/// From any moment of a solve: what every open pair offers, and the cheapest order of all pairs that are left in which
/// the next one is always found in time; beside it, what was played.
#[derive(Debug, Args)]
#[command(
    after_help = "Examples:\n  cornerwise plan solve.txt\n  cornerwise plan solve.txt --at \"pair 2\" --all"
)]
pub(super) struct Options {
    #[command(flatten)]
    records: Records,
    /// From which moment: the end of `cross` or `"pair 2"`, `end`, or after so many tokens. Without it the end of the
    /// cross; of a record that ends before its pairs are in, its end.
    #[arg(long, value_name = "MOMENT")]
    at: Option<At>,
    /// The best order for each pair that may come first.
    #[arg(long)]
    all: bool,
    /// The longest line to search, in face turns, from 5 to 10.
    #[arg(long, value_name = "TURNS", help_heading = heading::LINES, allow_negative_numbers = true, default_value_t = within(), value_parser = whole::<u8>(5, 10))]
    within: u8,
    /// What handling costs, in units: see `docs/method.md`.
    #[arg(long, value_name = "WEIGHTS", help_heading = heading::LINES, default_value = "", hide_default_value = true)]
    weights: Weights,
    /// What to print [default: what the ending of --output says, else text].
    #[arg(long, value_name = "FORMAT")]
    format: Option<Format>,
    #[command(flatten)]
    eyes: Eyes,
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
enum Format {
    /// For people.
    Text,
    /// One object a line, one line a record: see docs/plan.schema.json.
    Json,
    /// For a tutorial text.
    Markdown,
    /// A page that needs no network.
    Html,
}

fn within() -> u8 {
    plan::Settings::default().within as u8
}

pub(super) fn run(options: &Options, screen: Screen) -> Result<Exit, Failure> {
    options.output.format(options.format)?;
    let mut settings = default::settings();
    options.eyes.fill(&mut settings);
    options.messages.fill(&mut settings);
    settings.choice.weights = options.weights;
    let planner = Planner::new(plan::Settings {
        within: usize::from(options.within),
        lead: settings.lead,
        weights: options.weights,
        ..plan::Settings::default()
    });
    let mut session = Session::new(screen, &options.messages, &options.output);
    let inputs = Inputs::of(&options.records.files, &options.messages);
    let mut plans: Vec<Plan> = Vec::new();
    // For a page, the best order of each, annotated as a record of its own.
    let mut pages: Vec<(Plan, Option<Annotation>)> = Vec::new();
    // What the file of each is called in a folder.
    let mut names: Vec<String> = Vec::new();
    let mut first = true;
    for input in &inputs.list {
        let file = match inputs.read(input) {
            Ok(file) => file,
            Err(unread) => {
                session.refuse(unread.message);
                continue;
            }
        };
        session.tell(&file.text.source, &file.text.reading.diagnostics);
        for chosen in file.records() {
            let study = chosen.study();
            let annotated = annotate(&study, &settings);
            session.tell(chosen.source(), &annotated.diagnostics);
            let facts = &annotated.facts;
            let at = options.at.map(|at| at.moment(facts)).transpose();
            let plan = at.and_then(|at| {
                plan::plan(&study, facts, &planner, at, options.all).map_err(|nothing| nothing.to_string())
            });
            if plan.is_ok() && matches!(options.format(), Format::Markdown | Format::Html) {
                names.push(figures::solve_name(names.len() + 1, facts));
            }
            match plan {
                Ok(_) if names.len() > MOST_IN_ONE && options.output.folder().is_none() => {
                    session.refuse(documents::too_many());
                    return Ok(session.finish(Ok(None), &inputs.paths())?);
                }
                Ok(plan) => match options.format() {
                    Format::Text => {
                        let text = plans::text(&plan, &session.look);
                        session.say(&format!("{}{text}", if first { "" } else { "\n" }))?;
                        first = false;
                    }
                    Format::Json => session.say(&json::any(&plan))?,
                    Format::Markdown => plans.push(plan),
                    Format::Html => {
                        let played = plan::record(&plan, facts).map(|text| {
                            let source = Source::new(plan.file.as_str(), text);
                            let reading = record::read(&source);
                            annotate(&Study::new(&source, 1, &reading.records[0]), &settings).facts
                        });
                        pages.push((plan, played));
                    }
                },
                // Behind a fault it is the record that is wrong, not what was asked.
                Err(message) if annotated.diagnostics.iter().any(|said| said.is_fault()) => {
                    session.remark(format!("{}: {message}", chosen.name()));
                }
                Err(message) => session.refuse(format!("{}: {message}", chosen.name())),
            }
        }
    }
    if let Some(folder) = options.output.folder().filter(|_| !names.is_empty()) {
        let of_pages = pages.chunks(1).map(|page| ("html", html::plan::plans(page)));
        let texts = of_pages.chain(plans.chunks(1).map(|plan| ("md", plans::markdown(plan))));
        let file = |(name, (ending, text)): (&String, (&str, String))| {
            (folder.join(format!("{name}.{ending}")), text)
        };
        let files = names.iter().zip(texts).map(file).collect();
        return Ok(session.finish(Ok(Some(Made::Files(files))), &inputs.paths())?);
    }
    let made = match options.format() {
        Format::Html if !pages.is_empty() => Some(Made::Text(html::plan::plans(&pages))),
        _ if plans.is_empty() => None,
        _ => Some(Made::Text(plans::markdown(&plans))),
    };
    Ok(session.finish(Ok(made), &inputs.paths())?)
}

//! `diff`: two records of one scramble, or one with several.

use std::path::PathBuf;
use std::{io, iter};

use clap::{Args, ValueEnum};
use cornerwise::annotate::{Annotated, Settings, annotate};
use cornerwise::annotation::Annotation;
use cornerwise::cube::{Colour, Hold, Moves};
use cornerwise::diagnostic::{Diagnostic, Severity};
use cornerwise::diff::{self, Comparison, Entry, Sides, Start, Why};
use cornerwise::findings::{self, ScrambleSlip};
use cornerwise::report::look::Look;
use cornerwise::report::{diagnostics, diff as view, html, json};

use cornerwise::study::Study;

use super::annotate::{Eyes, Messages, Pauses};
use super::chosen::{self, Chosen};
use super::documents::{self, Made};
use super::exit::Exit;
use super::look::Wanted;
use super::others::Others;
use super::outlet;
use super::output::{self, Output};

/// Compare solutions of one scramble: where they part, where they meet again, step by step side by side, and
/// what is to be learned of it.
///
/// A record is named by its file, or, if the file has several, by its number or title: `solves.yaml#2`,
/// `solves.yaml#third of five` (any part of the title that only one record has). `-` is standard input and
/// `-#2` its second record (after `--`, behind all options: `diff -- -#1 -#2`). One file alone with several records compares the first with each of the others.
#[derive(Debug, Args)]
pub(super) struct Options {
    /// The record to compare.
    #[arg(value_name = "MINE")]
    mine: String,
    /// What to compare it with: records, files with several, folders (records of other scrambles are passed
    /// over). With more than one, the best of each step is shown as well.
    #[arg(value_name = "OTHERS")]
    others: Vec<String>,
    /// What to print.
    #[arg(long, value_name = "FORMAT", default_value = "text")]
    format: Format,
    /// Compare even if the scrambled positions differ.
    #[arg(long)]
    anyway: bool,
    /// End with exit status 1 if turns or times differ.
    #[arg(long)]
    exit_code: bool,
    /// The hold in which turns are compared: the colours up and in front, such as yellow-red.
    #[arg(long, value_name = "UP-FRONT", default_value = "white-green", value_parser = hold)]
    hold: Hold,
    #[command(flatten)]
    eyes: Eyes,
    #[command(flatten)]
    lines: Others,
    #[command(flatten)]
    pauses: Pauses,
    #[command(flatten)]
    output: Output,
    #[command(flatten)]
    messages: Messages,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
enum Format {
    /// For people.
    Text,
    /// One object a line, one line a comparison: see docs/comparison.schema.json.
    Json,
    /// A page with the lanes of both and every step side by side.
    Html,
    /// For a tutorial text; with --output, pictures are written beside it.
    Markdown,
}

fn hold(text: &str) -> Result<Hold, String> {
    let colour = |name: &str| Colour::ALL.into_iter().find(|colour| colour.to_string() == name.trim());
    let parts = text.split_once('-').and_then(|(up, front)| Some((colour(up)?, colour(front)?)));
    let hold = parts.and_then(|(up, front)| Hold::new(up, front));
    hold.ok_or_else(|| "expected two neighbouring colours, up and in front, such as yellow-red".into())
}

pub(super) fn run(options: &Options, wanted: Wanted) -> io::Result<Exit> {
    let to_file = options.output.output.is_some();
    let (look, err_look) = (if to_file { wanted.file() } else { wanted.stdout() }, wanted.stderr());
    let mut arguments = vec![options.mine.clone()];
    arguments.extend(options.others.iter().cloned());
    let records = match chosen::choose(&arguments) {
        Ok(records) => records,
        Err(message) => {
            outlet::err(&format!("cornerwise: {message}\n"));
            return Ok(Exit::Unreadable);
        }
    };
    let (mine, others) = records.split_first().expect("at least two records");
    let mut run = Run { options, look, err_look, exit: Exit::Fine, text: String::new(), made: Vec::new() };
    let study = mine.study();
    let facts = run.annotated(&study);
    if !run.playable(mine) {
        return Ok(run.exit);
    }
    let mut compared = Vec::new();
    let mut passed_over = 0;
    for other in others {
        if !other.scramble_is_whole() && other.named {
            run.annotated(&other.study());
            run.playable(other);
            continue;
        }
        let start = diff::start(Sides { a: mine.record(), b: other.record() });
        if !start.same && !options.anyway {
            let near = matches!(start.why, Some(Why::Slip { .. } | Why::Turned { .. }));
            if other.named || near || others.len() == 1 {
                outlet::err(&refused(mine, other, &start, &run.err_look));
                run.exit = Exit::Unreadable;
            } else {
                passed_over += 1;
            }
            continue;
        }
        let other_study = other.study();
        let other_facts = run.annotated(&other_study);
        let names = Sides { a: "A".into(), b: chosen::letter(1 + compared.len()) };
        let sides = Sides {
            a: Entry { study: study.clone(), facts: &facts },
            b: Entry { study: other_study, facts: &other_facts },
        };
        let comparison = diff::compare(sides, &diff::Settings { hold: options.hold, names });
        run.show(&comparison, compared.is_empty())?;
        compared.push((comparison.names.b, other_facts));
    }
    if passed_over > 0 {
        let records = if passed_over == 1 { "1 record".into() } else { format!("{passed_over} records") };
        outlet::err(&format!("cornerwise: {records} of other scrambles passed over\n"));
    }
    if compared.is_empty() && passed_over > 0 {
        outlet::err(&format!("cornerwise: no other record of the scramble of {} found\n", mine.name()));
        run.exit = Exit::Unreadable;
    }
    if compared.len() > 1 {
        let mut names = vec!["A".to_string()];
        names.extend(compared.iter().map(|(name, _)| name.clone()));
        let all: Vec<&Annotation> =
            iter::once(&facts).chain(compared.iter().map(|(_, facts)| facts)).collect();
        let best = diff::best_steps(&names, &all);
        match options.format {
            Format::Json => run.say(json::any(&best))?,
            Format::Text => run.say(format!("\n{}", view::best(&best, &run.look)))?,
            Format::Html | Format::Markdown => {}
        }
    }
    let inputs: Vec<PathBuf> = records.iter().map(|record| PathBuf::from(&record.source.name)).collect();
    run.finish(&inputs)?;
    Ok(run.exit)
}

/// A run of the verb under way.
struct Run<'a> {
    options: &'a Options,
    look: Look,
    err_look: Look,
    exit: Exit,
    /// What goes to a file at the end.
    text: String,
    made: Vec<Comparison>,
}

impl Run<'_> {
    /// The facts of a record; what there is to say of its text goes to standard error.
    fn annotated(&mut self, study: &Study<'_>) -> Annotation {
        let settings = Settings {
            strict: self.options.messages.strict(),
            choice: self.options.lines.settings(),
            stop_from: self.options.pauses.long_from(),
            ..self.options.eyes.settings()
        };
        let Annotated { facts, diagnostics } = annotate(study, &settings);
        outlet::err(&self.options.messages.draw(study.source, &diagnostics, &self.err_look));
        if diagnostics.iter().any(Diagnostic::is_fault) {
            self.exit = self.exit.max(Exit::Fault);
        }
        facts
    }

    /// Whether the scramble can be read, so that there is a position to begin with; says so if not.
    fn playable(&mut self, record: &Chosen) -> bool {
        if record.scramble_is_whole() {
            return true;
        }
        let name = record.name();
        outlet::err(&format!(
            "cornerwise: {name} cannot be compared: its scramble cannot be read to its end\n"
        ));
        self.exit = self.exit.max(Exit::Fault);
        false
    }

    fn show(&mut self, comparison: &Comparison, first: bool) -> io::Result<()> {
        if self.options.exit_code && comparison.different {
            self.exit = self.exit.max(Exit::Fault);
        }
        match self.options.format {
            Format::Json => self.say(json::any(comparison)),
            Format::Text => {
                let text = view::render(comparison, &self.look);
                self.say(format!("{}{text}", if first { "" } else { "\n" }))
            }
            Format::Html | Format::Markdown => {
                self.made.push(comparison.clone());
                Ok(())
            }
        }
    }

    /// Says it now, or keeps it for the file that was asked for.
    fn say(&mut self, text: String) -> io::Result<()> {
        if self.options.output.output.is_none() {
            return outlet::out(&text);
        }
        self.text.push_str(&text);
        Ok(())
    }

    /// Makes the documents and writes the files that were asked for.
    fn finish(&mut self, inputs: &[PathBuf]) -> io::Result<()> {
        let made = match (self.options.format, &self.options.output.output) {
            (Format::Html | Format::Markdown, _) if self.made.is_empty() => return Ok(()),
            (Format::Html, _) => documents::one(html::diff::page(&self.made), &self.options.output),
            (Format::Markdown, _) => documents::compared(&self.made, &self.options.output),
            (Format::Text | Format::Json, Some(_)) if !self.text.is_empty() => {
                documents::one(std::mem::take(&mut self.text), &self.options.output)
            }
            (Format::Text | Format::Json, _) => return Ok(()),
        };
        let written = match made {
            Ok(Made::Text(text)) => return outlet::out(&text),
            Ok(Made::Files(files)) => output::write(&files, self.options.output.force, inputs),
            Err(message) => Err(message),
        };
        if let Err(message) = written {
            outlet::err(&format!("cornerwise: {message}\n"));
            self.exit = Exit::Unreadable;
        }
        Ok(())
    }
}

/// What there is to say of two records that do not begin alike, drawn with both scrambles.
fn refused(mine: &Chosen, other: &Chosen, start: &Start, look: &Look) -> String {
    let pieces =
        format!("{} of 8 corners and {} of 12 edges are placed otherwise", start.corners, start.edges);
    let mut said = String::new();
    let mut draw = |chosen: &Chosen, diagnostic: Diagnostic| {
        said.push_str(&diagnostics::draw(&chosen.source, &[diagnostic], look));
        said.push('\n');
    };
    match &start.why {
        Some(Why::Slip { slips }) => {
            for slip in slips {
                let (a, b) = (token(&slip.text.a), token(&slip.text.b));
                let here = ScrambleSlip {
                    token: slip.token.b,
                    here: &b,
                    there: &a,
                    other: &mine.name(),
                    pieces: &pieces,
                };
                draw(other, findings::scramble_slip(&here).at(other.scramble_token(slip.token.b)));
                let there = findings::scramble_slip_there(slip.token.a, &a);
                draw(
                    mine,
                    Diagnostic { severity: Severity::Note, ..there.at(mine.scramble_token(slip.token.a)) },
                );
            }
        }
        Some(Why::Turned { rotations }) => {
            let turned = findings::scramble_turned(&mine.name(), &rotations.to_string());
            draw(other, turned.at(other.record().scramble.span));
        }
        _ => {
            let another = findings::scramble_other(&mine.name(), &pieces);
            draw(other, another.at(other.record().scramble.span));
        }
    }
    said
}

fn token(text: &Moves) -> String {
    if text.is_empty() { "nothing".into() } else { format!("`{text}`") }
}

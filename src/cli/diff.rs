//! `diff`: two records of one scramble, or one with several.

use std::{io, iter};

use clap::{Args, ValueEnum};
use cornerwise::annotate::{Annotated, Settings, annotate};
use cornerwise::annotation::Annotation;
use cornerwise::cube::{Colour, Hold, Moves};
use cornerwise::diagnostic::{Diagnostic, Severity, Span};
use cornerwise::diff::{self, Comparison, Entry, Sides, Start, Why};
use cornerwise::findings::{self, ScrambleSlip};
use cornerwise::harmless::one_line;
use cornerwise::report::{diff as view, html, json};
use cornerwise::story::Told;
use cornerwise::study::Study;

use super::documents::{self, MOST_IN_ONE};
use super::exit::{Exit, Failure};
use super::options::{Judging, Messages, Output, Screen};
use super::outlet;
use super::places::Unread;
use super::records::{Asked, Chosen, File, Inputs, listed};
use super::session::{Made, Session};

/// Compare two solutions of one scramble: where the seconds went, where they part, and what each had found there.
///
/// A record is named by its file, or, if the file has several, by its number or title: `solves.yaml#2`,
/// `solves.yaml#third of five` (any part of the title that only one record has). `-` is standard input and
/// `-#2` its second record (after `--`, behind all options: `diff -- -#1 -#2`). One file alone with several records compares the first with each of the others.
#[derive(Debug, Args)]
#[command(
    after_help = "Examples:\n  cornerwise diff solves.yaml\n  cornerwise diff --brief mine.txt theirs.txt"
)]
pub(super) struct Options {
    /// The record to compare.
    #[arg(value_name = "MINE")]
    mine: String,
    /// What to compare it with: records, files with several, folders (records of other scrambles are passed
    /// over). With more than one, the best of each step is shown as well.
    #[arg(value_name = "OTHERS")]
    others: Vec<String>,
    /// What to print [default: what the ending of --output says, else text].
    #[arg(long, value_name = "FORMAT")]
    format: Option<Format>,
    /// Compare even if the scrambled positions differ.
    #[arg(long)]
    anyway: bool,
    /// End with exit status 1 if turns or times differ.
    #[arg(long)]
    exit_code: bool,
    /// The hold in which turns are compared: the colours up and in front, such as yellow-red [default: A's at its first
    /// turn].
    #[arg(long, value_name = "UP-FRONT", value_parser = hold)]
    hold: Option<Hold>,
    /// In text: only who, where the difference went, where they part, and the table.
    #[arg(long)]
    brief: bool,
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

pub(super) fn run(options: &Options, screen: Screen) -> Result<Exit, Failure> {
    options.output.format(options.format)?;
    let settings = options.judging.resolve(&options.messages)?;
    let session = Session::new(screen, &options.messages, &options.output);
    let arguments: Vec<String> = iter::once(&options.mine).chain(&options.others).cloned().collect();
    let inputs = Inputs::of(&arguments, &options.messages);
    let mut run = Run { options, settings, session, made: Vec::new() };
    let made = match run.sides(&inputs) {
        Ok((mine, others)) => {
            run.compare(&mine, &others)?;
            Ok(run.documents())
        }
        Err(message) => Err(message),
    };
    Ok(run.session.finish(made, &inputs.paths())?)
}

/// A record to compare with.
struct Side {
    chosen: Chosen,
    /// Whether it was named itself, rather than found in a folder or among the records of a file.
    named: bool,
}

/// A run of the verb under way.
struct Run<'a> {
    options: &'a Options,
    settings: Settings,
    session: Session<'a>,
    made: Vec<Comparison>,
}

impl Run<'_> {
    /// A file whose text can be read to its end.
    fn whole(&self, inputs: &Inputs, input: &Result<Asked, Unread>) -> Result<File, String> {
        let file = inputs.read(input).map_err(|unread| unread.message)?;
        match file.text.reading.diagnostics.iter().find(|said| said.is_fault()) {
            Some(problem) => Err(format!("{}: {}", one_line(&file.text.source.name), problem.message)),
            None => Ok(file),
        }
    }

    /// The record to compare, and at least one to compare it with.
    ///
    /// # Errors
    /// A message: a name that cannot be read, that names no record, or more than one where one is needed.
    fn sides(&mut self, inputs: &Inputs) -> Result<(Chosen, Vec<Side>), String> {
        let mut mine = None;
        let mut others = Vec::new();
        for (n, input) in inputs.list.iter().enumerate() {
            let file = match self.whole(inputs, input) {
                Ok(file) => file,
                // What only lies about in a folder does not stop the rest.
                Err(message) if mine.is_some() && input.as_ref().is_ok_and(|asked| !asked.named) => {
                    self.session.refuse(message);
                    continue;
                }
                Err(message) => return Err(message),
            };
            let records: Vec<Chosen> = file.records().collect();
            if n == 0 && !self.options.others.is_empty() && !file.named {
                let name = one_line(&file.text.source.name);
                let those = listed(records.iter().map(Chosen::entry));
                return Err(format!("{name}: which of its records is to be compared?{those}"));
            }
            let identity = file.place.identity();
            for chosen in records {
                match &mine {
                    None => mine = Some((identity.clone(), chosen)),
                    // Found among others, the record itself is not one to compare it with.
                    Some((place, mine))
                        if !file.named && *place == identity && mine.index == chosen.index => {}
                    Some(_) => others.push(Side { chosen, named: file.named }),
                }
            }
        }
        match mine {
            None => Err("no record to compare".into()),
            Some((_, mine)) if others.is_empty() => {
                Err(format!("{}: there is nothing to compare it with; name another record", mine.name()))
            }
            Some((_, mine)) => Ok((mine, others)),
        }
    }

    fn compare(&mut self, mine: &Chosen, others: &[Side]) -> io::Result<()> {
        let study = mine.study();
        let facts = self.annotated(&study);
        if !self.playable(mine) {
            return Ok(());
        }
        let mut compared = Vec::new();
        let (mut other_scrambles, mut no_scramble) = (0, 0);
        for Side { chosen: other, named } in others {
            if *named && !scramble_is_whole(other) {
                self.annotated(&other.study());
                self.playable(other);
                continue;
            }
            let start = diff::start(Sides { a: mine.record(), b: other.record() });
            if self.made.len() == MOST_IN_ONE {
                self.session.refuse(format!("one document takes at most {MOST_IN_ONE} comparisons"));
                self.made.clear();
                return Ok(());
            }
            if !start.same && !self.options.anyway {
                let near = matches!(start.why, Some(Why::Slip { .. } | Why::Turned { .. }));
                if *named || near || others.len() == 1 {
                    outlet::err(&refused(mine, other, &start, &self.session));
                    self.session.note(Exit::Unreadable);
                } else if other.study().scramble_whole() {
                    other_scrambles += 1;
                } else {
                    no_scramble += 1;
                }
                continue;
            }
            let other_study = other.study();
            let other_facts = self.annotated(&other_study);
            let names = Sides { a: "A".into(), b: letter(1 + compared.len()) };
            let sides = Sides {
                a: Entry { study: study.clone(), facts: &facts },
                b: Entry { study: other_study, facts: &other_facts },
            };
            let comparison = diff::compare(sides, &diff::Settings { hold: self.options.hold, names });
            let name = comparison.names.b.clone();
            self.show(comparison, compared.is_empty())?;
            compared.push((name, other_facts));
        }
        let passed_over =
            [(other_scrambles, "of other scrambles"), (no_scramble, "without a whole scramble")];
        let passed_over: Vec<String> = passed_over
            .into_iter()
            .filter(|&(n, _)| n > 0)
            .map(|(n, which)| format!("{n} record{} {which}", if n == 1 { "" } else { "s" }))
            .collect();
        if !passed_over.is_empty() {
            self.session.remark(format!("{} passed over", passed_over.join(" and ")));
        }
        if compared.is_empty() && !passed_over.is_empty() {
            self.session.refuse(format!("no other record of the scramble of {} found", mine.name()));
        }
        if compared.len() > 1 {
            let names: Vec<String> =
                iter::once("A".to_string()).chain(compared.iter().map(|(name, _)| name.clone())).collect();
            let all: Vec<&Annotation> =
                iter::once(&facts).chain(compared.iter().map(|(_, facts)| facts)).collect();
            let best = diff::best_steps(&names, &all);
            match self.options.format() {
                Format::Json => self.session.say(&json::any(&best))?,
                Format::Text => {
                    let text = view::best(&best, &self.session.look);
                    self.session.say(&format!("\n{text}"))?;
                }
                Format::Html | Format::Markdown => {}
            }
        }
        Ok(())
    }

    /// The facts of a record; what there is to say of its text goes to standard error.
    fn annotated(&mut self, study: &Study<'_>) -> Annotation {
        let Annotated { facts, diagnostics } = annotate(study, &self.settings);
        self.session.tell(study.source, &diagnostics);
        facts
    }

    /// Whether the scramble can be read, so that there is a position to begin with; says so if not.
    fn playable(&mut self, chosen: &Chosen) -> bool {
        let whole = scramble_is_whole(chosen);
        if !whole {
            let name = chosen.name();
            self.session.remark(format!("{name} cannot be compared: its scramble cannot be read to its end"));
            self.session.note(Exit::Fault);
        }
        whole
    }

    fn show(&mut self, comparison: Comparison, first: bool) -> io::Result<()> {
        if self.options.exit_code && comparison.different {
            self.session.note(Exit::Fault);
        }
        match self.options.format() {
            Format::Json => self.session.say(&json::any(&comparison)),
            Format::Text => {
                let told = if self.options.brief { Told::Brief } else { Told::Whole };
                let text = view::render(&comparison, told, &self.session.look);
                self.session.say(&format!("{}{text}", if first { "" } else { "\n" }))
            }
            Format::Html | Format::Markdown => {
                self.made.push(comparison);
                Ok(())
            }
        }
    }

    /// What was not said as it came.
    fn documents(&self) -> Option<Made> {
        match self.options.format() {
            _ if self.made.is_empty() => None,
            Format::Html => Some(Made::Text(html::diff::page(&self.made))),
            Format::Markdown => Some(documents::compared(&self.made, &self.options.output)),
            Format::Text | Format::Json => None,
        }
    }
}

/// `A`, `B`, … `Z`, `AA`, …
fn letter(mut n: usize) -> String {
    let mut letters = Vec::new();
    loop {
        letters.push(char::from(b'A' + (n % 26) as u8));
        if n < 26 {
            break;
        }
        n = n / 26 - 1;
    }
    letters.iter().rev().collect()
}

fn scramble_is_whole(chosen: &Chosen) -> bool {
    let scramble = &chosen.record().scramble;
    scramble.playable().count() == scramble.tokens.len()
}

/// Where a token of the scramble stands, from 1; one past the last is the end.
fn scramble_token(chosen: &Chosen, token: usize) -> Span {
    let scramble = &chosen.record().scramble;
    let at = scramble.tokens.get(token.wrapping_sub(1)).map(|token| token.span);
    at.unwrap_or(Span::new(scramble.span.end, scramble.span.end))
}

/// What there is to say of two records that do not begin alike, drawn with both scrambles.
fn refused(mine: &Chosen, other: &Chosen, start: &Start, session: &Session<'_>) -> String {
    let pieces =
        format!("{} of 8 corners and {} of 12 edges are placed otherwise", start.corners, start.edges);
    let mut said = String::new();
    let mut draw = |chosen: &Chosen, diagnostic: Diagnostic| {
        said.push_str(&session.draw(chosen.source(), &[diagnostic]));
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
                draw(other, findings::scramble_slip(&here).at(scramble_token(other, slip.token.b)));
                let there = findings::scramble_slip_there(slip.token.a, &a);
                draw(
                    mine,
                    Diagnostic { severity: Severity::Note, ..there.at(scramble_token(mine, slip.token.a)) },
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

//! `lesson`: a tutorial in Markdown whose blocks name records, steps and views.

use std::path::{Path, PathBuf};

use clap::Args;
use cornerwise::annotate::{Settings, annotate};
use cornerwise::annotation::Annotation;
use cornerwise::diagnostic::{Diagnostic, Source};
use cornerwise::findings;
use cornerwise::lesson::{self, Ask, Shown};
use cornerwise::record;
use cornerwise::report::figures;
use cornerwise::report::markdown::Pictures;
use cornerwise::study::Study;

use super::exit::{Exit, Failure};
use super::options::{Judging, Looks, Messages, Output, Screen};
use super::places::unreadable;
use super::records::Inputs;
use super::session::{Made, Session};

/// Fill in a lesson: Markdown whose fenced blocks begin with `cornerwise` and name a record, a step and what to show.
///
/// The first line of a block is `cornerwise WHAT of FILE#N at WHERE`: WHAT is `position`, `step`, `lanes`, `player`, `both
/// lines` or `question`; the record may stand in the block instead; WHERE is a step such as `pair 2`, or a moment. Or it is
/// `cornerwise drill KIND N seed SEED`: positions made to order. With `--output FOLDER` the lesson is written as Markdown with its pictures and as one page; else the Markdown is printed,
/// without pictures.
#[derive(Debug, Args)]
#[command(
    after_help = "Examples:\n  cornerwise lesson scanning.md --output scanning/\n  cornerwise lesson scanning.md --check"
)]
pub(super) struct Options {
    /// Lessons: Markdown files.
    #[arg(value_name = "LESSON", required = true)]
    lessons: Vec<PathBuf>,
    /// Only check the blocks; write nothing.
    #[arg(long, conflicts_with = "output")]
    check: bool,
    #[command(flatten)]
    looks: Looks,
    #[command(flatten)]
    judging: Judging,
    #[command(flatten)]
    output: Output,
    #[command(flatten)]
    messages: Messages,
}

pub(super) fn run(options: &Options, screen: Screen) -> Result<Exit, Failure> {
    let settings = options.judging.resolve(&options.messages)?;
    let mut session = Session::new(screen, &options.messages, &options.output);
    let mut files = Vec::new();
    let mut inputs = Vec::new();
    for path in &options.lessons {
        let name = path.display().to_string();
        if path.is_dir() {
            let name = cornerwise::harmless::one_line(&name);
            session.refuse(format!("{name}: is a folder; name the lessons in it, which are Markdown files"));
            continue;
        }
        let source =
            match std::fs::read(path).map_err(|error| unreadable(path, &error).message).and_then(|bytes| {
                Source::from_bytes(&name, bytes).map_err(|wrong| format!("{name}: {}", wrong.message))
            }) {
                Ok(source) => source,
                Err(message) => {
                    session.refuse(message);
                    continue;
                }
            };
        inputs.push(path.clone());
        let folder = path.parent().unwrap_or(Path::new(""));
        let (asks, faults) = lesson::read(&source);
        session.tell(&source, &faults);
        if asks.is_empty() && faults.is_empty() {
            session.refuse(format!(
                "{name}: no block in it begins with ```cornerwise, so there is nothing to fill in"
            ));
            continue;
        }
        let mut n_wrong = faults.len();
        let mut shown = Vec::new();
        for ask in &asks {
            let one = ask.show.and_then(|_| {
                let made = match ask.practice {
                    Some(practice) => lesson::practise(ask, practice),
                    None => facts(ask, &source, folder, &settings, &mut session, &mut inputs, &mut n_wrong)
                        .and_then(|facts| lesson::show(ask, facts)),
                };
                match made {
                    Ok(shown) => Some(shown),
                    Err(fault) => {
                        n_wrong += 1;
                        session.tell(&source, &[fault]);
                        None
                    }
                }
            });
            shown.push(one);
        }
        if options.check {
            let wrong = match n_wrong {
                0 => "no faults".into(),
                1 => "1 fault".to_owned(),
                n => format!("{n} faults"),
            };
            let blocks = if asks.len() == 1 { "1 block".into() } else { format!("{} blocks", asks.len()) };
            session.say(&format!("{}: {blocks}, {wrong}\n", cornerwise::harmless::one_line(&name)))?;
            continue;
        }
        if n_wrong > 0 && options.output.path().is_some() {
            let faults = if n_wrong == 1 { "1 fault".into() } else { format!("{n_wrong} faults") };
            session.remark(format!("{name}: {faults}; written all the same, without what the faults are in"));
        }
        make(options, &source, path, &asks, &shown, &mut session, &mut files)?;
    }
    let made = if files.is_empty() { None } else { Some(Made::Files(files)) };
    Ok(session.finish(Ok(made), &inputs)?)
}

/// Puts the lesson together, as what was asked for.
fn make(
    options: &Options,
    source: &Source,
    path: &Path,
    asks: &[Ask],
    shown: &[Option<Shown>],
    session: &mut Session<'_>,
    files: &mut Vec<(PathBuf, String)>,
) -> Result<(), Failure> {
    let style = options.looks.style();
    let Some(folder) = options.output.path() else {
        let made = lesson::markdown(source, asks, shown, &Pictures::None, style);
        session.say(&made.text)?;
        return Ok(());
    };
    let stem = path.file_stem().map_or_else(|| "lesson".into(), |stem| stem.to_string_lossy().into_owned());
    let made = lesson::markdown(source, asks, shown, &Pictures::Beside(figures::slug(&stem)), style);
    files.push((folder.join(format!("{stem}.md")), made.text));
    files.push((folder.join(format!("{stem}.html")), lesson::page(source, asks, shown, style)));
    files.extend(made.files.into_iter().map(|(name, drawn)| (folder.join(name), drawn)));
    Ok(())
}

/// The facts of the record that a block names or holds.
fn facts(
    ask: &Ask,
    lesson: &Source,
    folder: &Path,
    settings: &Settings,
    session: &mut Session<'_>,
    inputs: &mut Vec<PathBuf>,
    n_wrong: &mut usize,
) -> Result<Annotation, Diagnostic> {
    let mut tell = |source: &Source, messages: &[Diagnostic]| {
        session.tell(source, messages);
        *n_wrong += messages.iter().filter(|message| message.is_fault()).count();
    };
    let written = !ask.body.trim().is_empty();
    let Some(of) = &ask.of else {
        if !written {
            return Err(findings::lesson_no_record().at(ask.info));
        }
        return in_the_block(ask, lesson, settings, &mut tell);
    };
    if written {
        return Err(findings::lesson_two_records().at(ask.info));
    }
    let named = folder.join(of).display().to_string();
    let found = Inputs::taken_as(std::slice::from_ref(&named), None);
    let unread = |why: &str| findings::lesson_unread(why).at(ask.info);
    let mut chosen = Vec::new();
    for asked in &found.list {
        let file = found.read(asked).map_err(|unread_| unread(&unread_.message))?;
        chosen.extend(file.records());
    }
    inputs.extend(found.paths());
    match chosen.as_slice() {
        [one] => {
            tell(one.source(), &one.text.reading.diagnostics);
            let annotated = annotate(&one.study(), settings);
            tell(one.source(), &annotated.diagnostics);
            Ok(annotated.facts)
        }
        [] => Err(unread("there is no record in it")),
        several => Err(findings::lesson_which(several.len()).at(ask.info)),
    }
}

/// Reads a record that is written in the block. Its lines keep their numbers in the lesson.
fn in_the_block(
    ask: &Ask,
    lesson: &Source,
    settings: &Settings,
    tell: &mut impl FnMut(&Source, &[Diagnostic]),
) -> Result<Annotation, Diagnostic> {
    let above = lesson.text[..ask.body_at].matches('\n').count();
    let source = Source::new(lesson.name.clone(), "\n".repeat(above) + &ask.body);
    let reading = record::read(&source);
    tell(&source, &reading.diagnostics);
    match reading.records.as_slice() {
        [one] => {
            let annotated = annotate(&Study::new(&source, 1, one), settings);
            tell(&source, &annotated.diagnostics);
            Ok(annotated.facts)
        }
        [] => Err(findings::lesson_no_record().at(ask.info)),
        several => Err(findings::lesson_which(several.len()).at(ask.info)),
    }
}

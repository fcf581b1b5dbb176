//! Which files `annotate` writes for pages, Markdown and captions.

use std::path::{Path, PathBuf};

use clap::{Args, ValueEnum};
use cornerwise::annotation::Annotation;
use cornerwise::diff::Comparison;
use cornerwise::report::lanes_svg::{self, Width};
use cornerwise::report::markdown::Pictures;
use cornerwise::report::{captions, figures, html, markdown};

use super::output::Output;

/// A format that makes one document of all that was read.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Kind {
    Markdown,
    Html,
    Vtt,
    Svg,
}

/// How documents are made.
#[derive(Debug, Args)]
pub(super) struct Documents {
    /// In Markdown: pictures as files beside the text, inline, or none [default: beside with --output, else none].
    #[arg(long, value_name = "WHERE")]
    pictures: Option<PicturesOption>,
    /// In captions: the video's time, in seconds, at which the record's clock shows 0.
    #[arg(long, value_name = "SECONDS", default_value_t = 0.0, allow_hyphen_values = true, value_parser = offset)]
    start: f64,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
enum PicturesOption {
    /// SVG files beside the text.
    Files,
    /// In the text, as HTML.
    Inline,
    /// No pictures.
    None,
}

fn offset(text: &str) -> Result<f64, String> {
    super::annotate::between(text, -86_400.0, 86_400.0, "seconds")
}

/// Makes the documents: text for standard output, or files.
pub(super) enum Made {
    Text(String),
    Files(Vec<(PathBuf, String)>),
}

/// Makes them.
///
/// # Errors
///
/// A sentence for the person.
pub(super) fn make(
    kind: Kind,
    facts: &[Annotation],
    options: &Documents,
    output: &Output,
) -> Result<Made, String> {
    match kind {
        Kind::Html => Ok(match (output.folder(), &output.output) {
            (Some(folder), _) => {
                let pages = html::folder(facts).into_iter();
                Made::Files(pages.map(|(name, page)| (folder.join(name), page)).collect())
            }
            (None, Some(file)) => Made::Files(vec![(file.clone(), html::page(facts))]),
            (None, None) => Made::Text(html::page(facts)),
        }),
        Kind::Markdown => markdown(facts, options, output),
        Kind::Vtt => one_each(facts, output, "vtt", "captions are", |annotation| {
            captions::vtt(annotation, options.start)
                .map_err(|error| format!("{}, record {}: {error}", annotation.file, annotation.record))
        }),
        Kind::Svg => one_each(facts, output, "svg", "the lanes are", |annotation| {
            Ok(format!("{}\n", lanes_svg::svg(annotation, Width::Wide, "lanes-").as_str()))
        }),
    }
}

/// One text, to standard output or to the file that was asked for.
pub(super) fn one(text: String, output: &Output) -> Result<Made, String> {
    match (output.folder(), &output.output) {
        (Some(folder), _) => {
            Err(format!("{}: is a folder; this makes one file, which needs a name", folder.display()))
        }
        (None, Some(file)) => Ok(Made::Files(vec![(file.clone(), text)])),
        (None, None) => Ok(Made::Text(text)),
    }
}

/// Comparisons as Markdown, with their pictures beside a file.
pub(super) fn compared(comparisons: &[Comparison], output: &Output) -> Result<Made, String> {
    let stem =
        output.output.as_deref().and_then(Path::file_stem).map(|stem| figures::slug(&stem.to_string_lossy()));
    let (mut text, mut pictures) = (String::new(), Vec::new());
    for (n, comparison) in comparisons.iter().enumerate() {
        let beside = match &stem {
            None => Pictures::None,
            Some(stem) if comparisons.len() == 1 => Pictures::Beside(stem.clone()),
            Some(stem) => Pictures::Beside(format!("{stem}-{}", n + 1)),
        };
        let made = markdown::diff::render(comparison, &beside);
        text.push_str(&made.text);
        pictures.extend(made.files);
    }
    let folder = output.output.as_deref().and_then(Path::parent).unwrap_or(Path::new(""));
    let pictures = pictures.into_iter().map(|(name, drawn)| (folder.join(name), drawn));
    Ok(match one(text, output)? {
        Made::Files(files) => Made::Files(files.into_iter().chain(pictures).collect()),
        text => text,
    })
}

fn markdown(facts: &[Annotation], options: &Documents, output: &Output) -> Result<Made, String> {
    let beside = |prefix: &str, named: bool| match options.pictures {
        Some(PicturesOption::Inline) => Ok(Pictures::Inline),
        Some(PicturesOption::None) => Ok(Pictures::None),
        Some(PicturesOption::Files) if !named => {
            Err("--pictures files: needs --output, for the pictures to stand beside".to_owned())
        }
        None if !named => Ok(Pictures::None),
        _ => Ok(Pictures::Beside(prefix.to_owned())),
    };
    if let Some(folder) = output.folder() {
        let mut files = Vec::new();
        for (n, annotation) in facts.iter().enumerate() {
            let name = figures::solve_name(n + 1, annotation);
            let made = markdown::render(annotation, &beside(&name, true)?);
            files.push((folder.join(format!("{name}.md")), made.text));
            files.extend(made.files.into_iter().map(|(name, drawn)| (folder.join(name), drawn)));
        }
        return Ok(Made::Files(files));
    }
    let stem =
        output.output.as_deref().and_then(Path::file_stem).map(|stem| figures::slug(&stem.to_string_lossy()));
    let (mut text, mut pictures) = (String::new(), Vec::new());
    for (n, annotation) in facts.iter().enumerate() {
        let prefix = match (&stem, facts.len()) {
            (Some(stem), 1) => stem.clone(),
            (stem, _) => format!("{}-{}", stem.as_deref().unwrap_or("solve"), n + 1),
        };
        let made = markdown::render(annotation, &beside(&prefix, stem.is_some())?);
        text.push_str(&made.text);
        pictures.extend(made.files);
    }
    let Some(file) = &output.output else { return Ok(Made::Text(text)) };
    let folder = file.parent().unwrap_or(Path::new(""));
    let pictures = pictures.into_iter().map(|(name, drawn)| (folder.join(name), drawn));
    Ok(Made::Files(std::iter::once((file.clone(), text)).chain(pictures).collect()))
}

/// A format of which every record makes a file of its own.
fn one_each(
    facts: &[Annotation],
    output: &Output,
    ending: &str,
    what: &str,
    made: impl Fn(&Annotation) -> Result<String, String>,
) -> Result<Made, String> {
    if let Some(folder) = output.folder() {
        let named = |(n, annotation): (usize, &Annotation)| {
            let name = format!("{}.{ending}", figures::solve_name(n + 1, annotation));
            Ok((folder.join(name), made(annotation)?))
        };
        return facts.iter().enumerate().map(named).collect::<Result<_, String>>().map(Made::Files);
    }
    let [one] = facts else {
        return Err(format!(
            "{what} for one record, and there are {}; --output FOLDER/ writes a file for each",
            facts.len()
        ));
    };
    let text = made(one)?;
    Ok(match &output.output {
        Some(file) => Made::Files(vec![(file.clone(), text)]),
        None => Made::Text(text),
    })
}

//! What pages, Markdown, captions and pictures come to: a text, or which files with which names.

use std::path::Path;

use cornerwise::annotation::Annotation;
use cornerwise::diff::Comparison;
use cornerwise::harmless::harmless;
use cornerwise::report::lanes_svg::{self, Width};
use cornerwise::report::markdown::Pictures;
use cornerwise::report::{captions, figures, html, markdown};

use super::options::{Documents, Output, PicturesOption};
use super::session::Made;

/// A format that makes one document of all that was read.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Kind {
    Markdown,
    Html,
    Vtt,
    Svg,
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
        Kind::Html => Ok(match output.folder() {
            Some(folder) => {
                let pages = html::folder(facts, options.style()).into_iter();
                Made::Files(pages.map(|(name, page)| (folder.join(name), page)).collect())
            }
            None => Made::Text(html::page(facts, options.style())),
        }),
        Kind::Markdown => markdown(facts, options, output),
        Kind::Vtt => one_each(facts, output, "vtt", "captions are", |annotation| {
            captions::vtt(annotation, options.start).map_err(|error| {
                format!("{}, record {}: {error}", harmless(&annotation.file), annotation.record)
            })
        }),
        Kind::Svg => one_each(facts, output, "svg", "the lanes are", |annotation| {
            Ok(format!("{}\n", lanes_svg::svg(annotation, Width::Wide).as_str()))
        }),
    }
}

/// Comparisons as Markdown, with their pictures beside a file.
pub(super) fn compared(comparisons: &[Comparison], output: &Output) -> Made {
    let stem = stem(output);
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
    illustrated(text, pictures, output)
}

/// A text with its pictures beside it, if it is to be a file.
fn illustrated(text: String, pictures: Vec<(String, String)>, output: &Output) -> Made {
    let Some(file) = output.path().filter(|_| output.folder().is_none()) else { return Made::Text(text) };
    let folder = file.parent().unwrap_or(Path::new(""));
    let pictures = pictures.into_iter().map(|(name, drawn)| (folder.join(name), drawn));
    Made::Files(std::iter::once((file.to_path_buf(), text)).chain(pictures).collect())
}

/// What the pictures beside the file that was asked for are called after.
fn stem(output: &Output) -> Option<String> {
    output.path().and_then(Path::file_stem).map(|stem| figures::slug(&stem.to_string_lossy()))
}

/// One solve as Markdown, told or asked.
fn written(annotation: &Annotation, pictures: &Pictures, options: &Documents) -> markdown::Markdown {
    if options.worksheet {
        markdown::worksheet(annotation, pictures, options.style())
    } else {
        markdown::render(annotation, pictures, options.style())
    }
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
            let made = written(annotation, &beside(&name, true)?, options);
            files.push((folder.join(format!("{name}.md")), made.text));
            files.extend(made.files.into_iter().map(|(name, drawn)| (folder.join(name), drawn)));
        }
        return Ok(Made::Files(files));
    }
    let stem = stem(output);
    let (mut text, mut pictures) = (String::new(), Vec::new());
    for (n, annotation) in facts.iter().enumerate() {
        let prefix = match (&stem, facts.len()) {
            (Some(stem), 1) => stem.clone(),
            (stem, _) => format!("{}-{}", stem.as_deref().unwrap_or("solve"), n + 1),
        };
        let made = written(annotation, &beside(&prefix, stem.is_some())?, options);
        text.push_str(&made.text);
        pictures.extend(made.files);
    }
    Ok(illustrated(text, pictures, output))
}

/// A format of which every record makes a file of its own. In a folder a record of which it cannot be made is named, and
/// the others are written all the same.
fn one_each(
    facts: &[Annotation],
    output: &Output,
    ending: &str,
    what: &str,
    made: impl Fn(&Annotation) -> Result<String, String>,
) -> Result<Made, String> {
    if let Some(folder) = output.folder() {
        let (mut files, mut without) = (Vec::new(), Vec::new());
        for (n, annotation) in facts.iter().enumerate() {
            let name = format!("{}.{ending}", figures::solve_name(n + 1, annotation));
            match made(annotation) {
                Ok(text) => files.push((folder.join(name), text)),
                Err(why) => without.push(why),
            }
        }
        return if files.is_empty() { Err(without.join("\n")) } else { Ok(Made::Some { files, without }) };
    }
    let [one] = facts else {
        return Err(format!(
            "{what} for one record, and there are {}; --output FOLDER/ writes a file for each",
            facts.len()
        ));
    };
    made(one).map(Made::Text)
}

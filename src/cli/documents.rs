//! What pages, Markdown, captions and pictures come to: a text, or which files with which names.
//!
//! A text is made of all records at once. In a folder every record has files of its own, and those are written as the
//! records come ([`Folder`]), so that a run holds a few of them at a time.

use std::path::{Path, PathBuf};

use cornerwise::annotation::Annotation;
use cornerwise::diff::Comparison;
use cornerwise::harmless::harmless;
use cornerwise::report::lanes_svg::{self, Width};
use cornerwise::report::markdown::Pictures;
use cornerwise::report::{captions, figures, html, markdown};
use rayon::prelude::*;

use super::files::Drafts;
use super::options::{Documents, Output, PicturesOption};
use super::session::Made;

/// So many solves have room in one document: nobody reads on, and it has to be held whole.
pub(super) const MOST_IN_ONE: usize = 500;

/// What is said where there are more.
pub(super) fn too_many() -> String {
    format!("one document takes at most {MOST_IN_ONE} solves; `--output FOLDER/` makes one of each")
}

/// A format that makes one document of all that was read.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Kind {
    Markdown,
    Html,
    Vtt,
    Svg,
}

impl Kind {
    /// As `--format` takes it.
    pub(super) const fn word(self) -> &'static str {
        match self {
            Kind::Markdown => "markdown",
            Kind::Html => "html",
            Kind::Vtt => "vtt",
            Kind::Svg => "svg",
        }
    }
}

/// A file and its text, or why it cannot be made.
type OneFile = Result<(PathBuf, String), String>;

/// Makes one text of all records, with what goes beside it.
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
        Kind::Html => Ok(Made::Text(html::page(facts, options.style()))),
        Kind::Markdown => markdown(facts, options, output),
        Kind::Vtt => the_one(facts, "captions are").and_then(|one| captions(one, options)).map(Made::Text),
        Kind::Svg => the_one(facts, "the lanes are").map(lanes).map(Made::Text),
    }
}

fn captions(facts: &Annotation, options: &Documents) -> Result<String, String> {
    captions::vtt(facts, options.start())
        .map_err(|error| format!("{}, record {}: {error}", harmless(&facts.file), facts.record))
}

fn lanes(facts: &Annotation) -> String {
    format!("{}\n", lanes_svg::svg(facts, Width::Wide).as_str())
}

/// A folder that gets the files of every record as the records come.
pub(super) struct Folder<'a> {
    kind: Kind,
    options: &'a Documents,
    path: &'a Path,
    drafts: Drafts,
    /// How many records came so far.
    n_records: usize,
    /// How many files were made.
    n_files: usize,
    /// The record that came last, where its page waits for the name of the one after it; and the page before that.
    last: Option<(html::Named, Annotation)>,
    before_last: Option<html::Named>,
    index: html::Index,
    /// Why a record has no file.
    without: Vec<String>,
}

impl<'a> Folder<'a> {
    pub(super) fn new(kind: Kind, options: &'a Documents, path: &'a Path, mut drafts: Drafts) -> Folder<'a> {
        if kind == Kind::Html {
            drafts.announce(&path.join("index.html"));
        }
        Folder {
            kind,
            options,
            path,
            drafts,
            n_records: 0,
            n_files: 0,
            last: None,
            before_last: None,
            index: html::Index::default(),
            without: Vec::new(),
        }
    }

    /// Takes some more records, and writes what can be written of them.
    pub(super) fn take(&mut self, facts: Vec<Annotation>) {
        if self.kind == Kind::Html {
            return self.pages(facts, false);
        }
        let first = self.n_records + 1;
        self.n_records += facts.len();
        let made = facts.par_iter().enumerate().map(|(n, facts)| self.files(first + n, facts)).collect();
        self.write(made);
    }

    /// Writes pages, up to the last one that knows which comes after it.
    fn pages(&mut self, facts: Vec<Annotation>, to_the_end: bool) {
        let first = self.n_records + 1;
        self.n_records += facts.len();
        let mut waiting: Vec<(html::Named, Annotation)> = self.last.take().into_iter().collect();
        for (n, facts) in facts.into_iter().enumerate() {
            let page = html::Named::new(first + n, &facts);
            self.drafts.announce(&self.path.join(page.file()));
            self.index.push(&facts, &page);
            waiting.push((page, facts));
        }
        let n_known = if to_the_end { waiting.len() } else { waiting.len().saturating_sub(1) };
        let made = (0..n_known)
            .into_par_iter()
            .map(|n| {
                let (page, facts) = &waiting[n];
                let before = match n.checked_sub(1) {
                    Some(before) => Some(waiting[before].0.clone()),
                    None => self.before_last.clone(),
                };
                let after = waiting.get(n + 1).map(|(page, _)| page.clone());
                let text = html::folder_page(facts, before, after, self.options.style());
                vec![Ok((self.path.join(page.file()), text))]
            })
            .collect();
        if let Some(before) = n_known.checked_sub(1) {
            self.before_last = Some(waiting[before].0.clone());
        }
        self.last = waiting.drain(n_known..).next();
        self.write(made);
    }

    /// The files of the `n`-th record.
    fn files(&self, n: usize, facts: &Annotation) -> Vec<OneFile> {
        let name = figures::solve_name(n, facts);
        let one = |ending: &str, text: String| (self.path.join(format!("{name}.{ending}")), text);
        match self.kind {
            Kind::Vtt => vec![captions(facts, self.options).map(|text| one("vtt", text))],
            Kind::Svg => vec![Ok(one("svg", lanes(facts)))],
            Kind::Markdown => match beside(&name, true, self.options) {
                Ok(pictures) => {
                    let made = written(facts, &pictures, self.options);
                    let pictures =
                        made.files.into_iter().map(|(name, drawn)| Ok((self.path.join(name), drawn)));
                    std::iter::once(Ok(one("md", made.text))).chain(pictures).collect()
                }
                Err(why) => vec![Err(why)],
            },
            Kind::Html => Vec::new(),
        }
    }

    fn write(&mut self, made: Vec<Vec<OneFile>>) {
        let mut files = Vec::new();
        for one in made.into_iter().flatten() {
            match one {
                Ok(file) => files.push(file),
                Err(why) => self.without.push(why),
            }
        }
        files.iter().for_each(|(path, _)| self.drafts.announce(path));
        self.n_files += files.len();
        let drafts = &self.drafts;
        let written: Vec<_> = files.par_iter().map(|(path, text)| drafts.write(path, text)).collect();
        written.into_iter().for_each(|written| self.drafts.take(written));
    }

    /// What was made; nothing if no record came.
    ///
    /// # Errors
    ///
    /// Why no record has a file.
    pub(super) fn finish(mut self) -> Result<Option<Made>, String> {
        if self.n_records == 0 {
            return Ok(None);
        }
        if self.kind == Kind::Html {
            self.pages(Vec::new(), true);
            let index = std::mem::take(&mut self.index).page();
            self.write(vec![vec![Ok((self.path.join("index.html"), index))]]);
        }
        if self.n_files == 0 {
            return Err(self.without.join("\n"));
        }
        Ok(Some(Made::Drafts { drafts: self.drafts, without: self.without }))
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

/// Where the pictures of a record go; `named` says whether there is a file for them to stand beside.
fn beside(prefix: &str, named: bool, options: &Documents) -> Result<Pictures, String> {
    match options.pictures {
        Some(PicturesOption::Inline) => Ok(Pictures::Inline),
        Some(PicturesOption::None) => Ok(Pictures::None),
        Some(PicturesOption::Files) if !named => {
            Err("--pictures files: needs --output, for the pictures to stand beside".to_owned())
        }
        None if !named => Ok(Pictures::None),
        _ => Ok(Pictures::Beside(prefix.to_owned())),
    }
}

fn markdown(facts: &[Annotation], options: &Documents, output: &Output) -> Result<Made, String> {
    let stem = stem(output);
    let (mut text, mut pictures) = (String::new(), Vec::new());
    for (n, annotation) in facts.iter().enumerate() {
        let prefix = match (&stem, facts.len()) {
            (Some(stem), 1) => stem.clone(),
            (stem, _) => format!("{}-{}", stem.as_deref().unwrap_or("solve"), n + 1),
        };
        let made = written(annotation, &beside(&prefix, stem.is_some(), options)?, options);
        text.push_str(&made.text);
        pictures.extend(made.files);
    }
    Ok(illustrated(text, pictures, output))
}

/// The one record there has to be, of which something is made for one record only.
fn the_one<'a>(facts: &'a [Annotation], what: &str) -> Result<&'a Annotation, String> {
    let [one] = facts else {
        return Err(format!(
            "{what} for one record, and there are {}; --output FOLDER/ writes a file for each",
            facts.len()
        ));
    };
    Ok(one)
}

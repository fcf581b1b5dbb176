//! Records named on the command line: a file, or one record of a file by its number or title.
//!
//! `FILE#2` is the second record of a file, `FILE#quay practice` the one whose title is or contains these
//! words (whatever their case). A file that really is called `a#b` is taken as that file.

use std::collections::HashMap;
use std::path::Path;
use std::sync::Arc;

use cornerwise::diagnostic::{Source, Span};
use cornerwise::harmless::one_line;
use cornerwise::paste;
use cornerwise::record::{Reading, Record};
use cornerwise::study::Study;

use super::input::{self, Place};

/// One record of a file.
pub(super) struct Chosen {
    pub(super) source: Arc<Source>,
    reading: Arc<Reading>,
    /// Its place in the file, from 0.
    index: usize,
    /// Whether it was named itself, rather than found in a folder or among the records of a file.
    pub(super) named: bool,
}

impl Chosen {
    pub(super) fn record(&self) -> &Record {
        &self.reading.records[self.index]
    }

    pub(super) fn study(&self) -> Study<'_> {
        Study::new(&self.source, self.index + 1, self.record())
    }

    /// Whether the scramble could be read to its end.
    pub(super) fn scramble_is_whole(&self) -> bool {
        let scramble = &self.record().scramble;
        scramble.playable().count() == scramble.tokens.len()
    }

    /// How to name this record on the command line.
    pub(super) fn name(&self) -> String {
        let file = one_line(&self.source.name);
        if self.reading.records.len() > 1 { format!("{file}#{}", self.index + 1) } else { file }
    }

    /// Where a token of the scramble stands, from 1; one past the last is the end.
    pub(super) fn scramble_token(&self, token: usize) -> Span {
        let scramble = &self.record().scramble;
        let at = scramble.tokens.get(token.wrapping_sub(1)).map(|token| token.span);
        at.unwrap_or(Span::new(scramble.span.end, scramble.span.end))
    }
}

/// `A`, `B`, … `Z`, `AA`, …
pub(super) fn letter(mut n: usize) -> String {
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

struct File {
    source: Arc<Source>,
    reading: Arc<Reading>,
}

/// Reads what the arguments name; the first record is the one to compare, and at least one follows it.
///
/// # Errors
/// A message: an argument that cannot be read, that names no record, or more than one where one is needed.
pub(super) fn choose(arguments: &[String]) -> Result<Vec<Chosen>, String> {
    let mut files: HashMap<String, File> = HashMap::new();
    let mut records: Vec<Chosen> = Vec::new();
    for (n, argument) in arguments.iter().enumerate() {
        let (path, wanted) = split(argument);
        let places = input::places(&[path.to_string()]);
        let from_folder = places.len() != 1 || Path::new(path).is_dir();
        for place in places {
            let file = read(&place.map_err(|unread| unread.message)?, &mut files)?;
            if let Some(problem) = file.reading.diagnostics.iter().find(|said| said.is_fault()) {
                return Err(format!("{path}: {}", problem.message));
            }
            let indices = pick(file, path, wanted)?;
            let named = !from_folder && (wanted.is_some() || indices.len() == 1);
            if n == 0 && arguments.len() > 1 && !named {
                return Err(format!("{path}: which of its records is to be compared?{}", listed(file, path)));
            }
            for index in indices {
                let again = |mine: &Chosen| mine.source.name == file.source.name && mine.index == index;
                // Found among others, the record itself is not one to compare it with.
                if !named && records.first().is_some_and(again) {
                    continue;
                }
                let (source, reading) = (Arc::clone(&file.source), Arc::clone(&file.reading));
                records.push(Chosen { source, reading, index, named });
            }
        }
    }
    match records.as_slice() {
        [] => Err("no record to compare".into()),
        [one] => Err(format!("{}: there is nothing to compare it with; name another record", one.name())),
        _ => Ok(records),
    }
}

/// The file and what was asked of it.
fn split(argument: &str) -> (&str, Option<&str>) {
    if Path::new(argument).exists() {
        return (argument, None);
    }
    match argument.split_once('#') {
        Some((path, wanted)) if !wanted.trim().is_empty() => (path, Some(wanted.trim())),
        _ => (argument, None),
    }
}

fn read<'a>(place: &Place, files: &'a mut HashMap<String, File>) -> Result<&'a File, String> {
    let name = match place {
        Place::Stdin => "-".to_string(),
        Place::File(path) => path.display().to_string(),
    };
    // Standard input can be read only once, and a file need be.
    if !files.contains_key(&name) {
        let source = input::read(place).map_err(|unread| unread.message)?;
        let reading = paste::read(&source);
        files.insert(name.clone(), File { source: Arc::new(source), reading: Arc::new(reading) });
    }
    Ok(&files[&name])
}

/// The places of the records that are meant, from 0.
fn pick(file: &File, path: &str, wanted: Option<&str>) -> Result<Vec<usize>, String> {
    let records = &file.reading.records;
    let Some(wanted) = wanted else { return Ok((0..records.len()).collect()) };
    if let Ok(number) = wanted.parse::<usize>() {
        if (1..=records.len()).contains(&number) {
            return Ok(vec![number - 1]);
        }
        let there = if records.len() == 1 { "1 record".into() } else { format!("{} records", records.len()) };
        return Err(format!("{path}#{number}: the file has {there}{}", listed(file, path)));
    }
    let folded = wanted.to_lowercase();
    let titled = |is: &dyn Fn(&str) -> bool| -> Vec<usize> {
        let titles =
            records.iter().enumerate().filter_map(|(i, r)| Some((i, r.title.as_ref()?.to_lowercase())));
        titles.filter(|(_, title)| is(title)).map(|(i, _)| i).collect()
    };
    let whole = titled(&|title| title == folded);
    let found = if whole.is_empty() { titled(&|title| title.contains(&folded)) } else { whole };
    match found.len() {
        1 => Ok(found),
        0 => Err(format!("{path}: no record with “{wanted}” in its title{}", listed(file, path))),
        n => Err(format!("{path}: {n} records have “{wanted}” in their titles{}", listed(file, path))),
    }
}

/// The records of a file and how to name them; not too many.
fn listed(file: &File, path: &str) -> String {
    const MOST: usize = 12;
    let records = &file.reading.records;
    let mut out = String::new();
    for (i, record) in records.iter().take(MOST).enumerate() {
        let title = record.title.as_deref().map_or("(no title)".into(), one_line);
        out.push_str(&format!("\n  {path}#{}  {title}", i + 1));
    }
    if records.len() > MOST {
        out.push_str(&format!("\n  … and {} more", records.len() - MOST));
    }
    out
}

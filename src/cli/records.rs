//! From what is named on the command line to records: the same for every verb.
//!
//! `FILE` is every record of a file, `FILE#2` its second, `FILE#quay practice` the one whose title is or contains
//! these words, whatever their case. `-` is standard input and `-#2` its second record. A folder gives the records of
//! the files in it, a pattern those of the files it matches; with `#` and a part of a title they give the one record
//! that has it. A file that really has a `#` in its name is taken as that file.
//!
//! [`Inputs`] says what is meant, in order; [`Inputs::read`] reads one of them. What cannot be had is said with a
//! message and does not stop the rest.

use std::collections::HashMap;
use std::ops::Range;
use std::path::{Path, PathBuf};
use std::sync::{Arc, OnceLock};

use cornerwise::annotation::Annotation;
use cornerwise::diagnostic::Source;
use cornerwise::harmless::one_line;
use cornerwise::paste;
use cornerwise::record::{Reading, Record};
use cornerwise::report::json;
use cornerwise::study::Study;
use rayon::prelude::*;

use super::options::Messages;
use super::places::{self, Content, Place, Unread};
use super::safe_write;

/// Something to read, and which of its records are meant.
#[derive(Debug, Clone)]
pub(super) struct Asked {
    place: Place,
    /// All of them if nothing is said.
    wanted: Option<Vec<Which>>,
    /// Whether the person named it itself; else it was found in a folder or by a pattern.
    pub(super) named: bool,
}

/// One record of a file.
#[derive(Debug, Clone)]
enum Which {
    /// By its number, from 1.
    Number(usize),
    /// The one that is called this, or has it in its title.
    Title(String),
}

/// A text, read.
#[derive(Debug)]
pub(super) struct Text {
    pub(super) source: Source,
    pub(super) reading: Reading,
}

/// Records of one input.
#[derive(Debug, Clone)]
pub(super) struct File {
    pub(super) text: Arc<Text>,
    pub(super) place: Place,
    /// Which of its records are meant: their places in the file, from 0.
    chosen: Vec<usize>,
    /// Whether one record was named, rather than found in a folder or among the records of a file.
    pub(super) named: bool,
}

/// What a line of saved facts holds, or its number and what is wrong with it.
pub(super) type SavedLine = Result<Annotation, (usize, String)>;

/// Facts that were saved, as text: they take ten times the room when they are read, so they are read one by one.
#[derive(Debug)]
struct SavedText {
    text: String,
    /// The lines that hold something: their numbers, from 1, and where they are.
    lines: Vec<(usize, Range<usize>)>,
}

/// Facts of one input.
#[derive(Debug, Clone)]
pub(super) struct Saved {
    /// The name of their file.
    pub(super) name: String,
    text: Arc<SavedText>,
    /// Those that are meant.
    chosen: Vec<usize>,
}

/// An input for a verb that takes saved facts as well as records.
#[derive(Debug, Clone)]
pub(super) enum Input {
    Records(File),
    /// Facts that were saved.
    Saved(Saved),
}

impl Input {
    /// How many records or saved facts are meant.
    pub(super) fn len(&self) -> usize {
        match self {
            Input::Records(file) => file.chosen.len(),
            Input::Saved(saved) => saved.chosen.len(),
        }
    }

    /// The records, for a verb that takes nothing else.
    pub(super) fn records(self) -> Result<File, Unread> {
        match self {
            Input::Records(file) => Ok(file),
            Input::Saved(saved) => {
                let name = one_line(&saved.name);
                let message = format!(
                    "{name}: these are saved facts, which `annotate` takes; here the record is needed"
                );
                Err(Unread { message })
            }
        }
    }
}

/// What a place holds.
#[derive(Debug, Clone)]
enum Held {
    Records(Arc<Text>),
    Saved(Arc<SavedText>),
}

/// One record of a file.
#[derive(Debug, Clone)]
pub(super) struct Chosen {
    pub(super) text: Arc<Text>,
    /// Its place in the file, from 0.
    pub(super) index: usize,
}

/// How a record is named, and its title.
#[derive(Debug, Clone)]
pub(super) struct Entry {
    name: String,
    title: Option<String>,
}

impl File {
    /// The records that are meant, in order.
    pub(super) fn records(&self) -> impl Iterator<Item = Chosen> {
        self.clone().into_records()
    }

    /// The same, on their own.
    pub(super) fn into_records(self) -> impl Iterator<Item = Chosen> {
        self.chosen.into_iter().map(move |index| Chosen { text: Arc::clone(&self.text), index })
    }
}

impl SavedText {
    fn new(text: String) -> SavedText {
        let mut lines = Vec::new();
        let mut at = 0;
        for (n, line) in text.split_inclusive('\n').enumerate() {
            if !line.trim_start_matches('\u{feff}').trim().is_empty() {
                lines.push((n + 1, at..at + line.len()));
            }
            at += line.len();
        }
        SavedText { text, lines }
    }

    /// A line's number and its words.
    fn words(&self, index: usize) -> (usize, &str) {
        let (number, range) = self.lines[index].clone();
        (number, self.text[range].trim_start_matches('\u{feff}').trim_end())
    }

    fn line(&self, index: usize) -> SavedLine {
        let (number, words) = self.words(index);
        json::read_line(words).map_err(|wrong| (number, wrong))
    }
}

impl Saved {
    /// What is meant, in order, read when it is asked for.
    pub(super) fn lines(&self) -> impl Iterator<Item = SavedLine> {
        self.clone().into_lines()
    }

    /// The same as it stands in the file, with the numbers of the lines.
    pub(super) fn words(&self) -> impl Iterator<Item = (usize, &str)> {
        self.chosen.iter().map(|&index| self.text.words(index))
    }

    /// The same, on its own.
    pub(super) fn into_lines(self) -> impl Iterator<Item = SavedLine> {
        self.chosen.into_iter().map(move |index| self.text.line(index))
    }
}

impl Chosen {
    pub(super) fn source(&self) -> &Source {
        &self.text.source
    }

    pub(super) fn record(&self) -> &Record {
        &self.text.reading.records[self.index]
    }

    /// Its number in the file, from 1.
    pub(super) fn number(&self) -> usize {
        self.index + 1
    }

    pub(super) fn study(&self) -> Study<'_> {
        Study::new(self.source(), self.number(), self.record())
    }

    /// How to name it on the command line.
    pub(super) fn name(&self) -> String {
        name(&self.source().name, self.index, self.text.reading.records.len())
    }

    pub(super) fn entry(&self) -> Entry {
        Entry { name: self.name(), title: self.record().title.clone() }
    }
}

/// So many records are worked on before their results are printed, and so many files are read at once: a long run shows
/// its first results soon, a closed pipe ends it, and what is held at a time does not grow with what comes in.
pub(super) const WINDOW: usize = 64;

/// So much text is read at once, unless one file has more.
const BATCH_BYTES: u64 = 256 << 10;

/// Everything that was named, in order.
#[derive(Debug)]
pub(super) struct Inputs {
    pub(super) list: Vec<Result<Asked, Unread>>,
    /// Standard input can be read only once.
    stdin: OnceLock<Result<Held, Unread>>,
    /// Which reading to take of a text that can be read in several ways, from 1.
    reading: Option<usize>,
}

impl Inputs {
    /// What the arguments mean.
    pub(super) fn of(arguments: &[String], messages: &Messages) -> Inputs {
        Inputs::taken_as(arguments, messages.reading.map(usize::from))
    }

    /// The same, with the number of the reading that is taken where there are several.
    pub(super) fn taken_as(arguments: &[String], reading: Option<usize>) -> Inputs {
        let mut inputs = Inputs { list: Vec::new(), stdin: OnceLock::new(), reading };
        for argument in arguments {
            let more = inputs.meant(argument);
            inputs.list.extend(more);
        }
        inputs
    }

    /// The same, each file once, with all the records that are meant of it: for a verb that writes to the files.
    pub(super) fn each_file_once(self) -> Inputs {
        let mut list: Vec<Result<Asked, Unread>> = Vec::new();
        let mut seen: HashMap<PathBuf, usize> = HashMap::new();
        for input in self.list {
            let Ok(input) = input else {
                list.push(input);
                continue;
            };
            let at = *seen.entry(input.place.identity()).or_insert(list.len());
            match list.get_mut(at) {
                Some(Ok(there)) => {
                    let both = there.wanted.take().zip(input.wanted);
                    there.wanted = both.map(|(these, more)| [these, more].concat());
                }
                _ => list.push(Ok(input)),
            }
        }
        Inputs { list, ..self }
    }

    /// The same without what could not be written back: a pipe or a device is refused before it is read, which could take
    /// for ever.
    pub(super) fn files_only(mut self) -> Inputs {
        for asked in &mut self.list {
            let path = asked.as_ref().ok().and_then(|asked| asked.place.path());
            let Some(path) = path.filter(|path| path.exists() && !safe_write::is_file(path)) else {
                continue;
            };
            let name = one_line(&path.display().to_string());
            let message = format!("{name}: is no regular file, so nothing can be written to it");
            *asked = Err(Unread { message });
        }
        self
    }

    fn meant(&self, argument: &str) -> Vec<Result<Asked, Unread>> {
        let (path, wanted) = split(argument);
        let found = places::of(path);
        let wanted = match wanted {
            Some(wanted) if found.several => return self.titled(path, wanted, found.places),
            Some(wanted) => {
                let number = wanted.parse().map(Which::Number);
                Some(vec![number.unwrap_or_else(|_| Which::Title(wanted.to_owned()))])
            }
            None => None,
        };
        let input = |place| Asked { place, wanted: wanted.clone(), named: !found.several };
        found.places.into_iter().map(|place| place.map(input)).collect()
    }

    /// The one record in a folder, or in the files of a pattern, that has this in its title.
    fn titled(
        &self,
        path: &str,
        wanted: &str,
        places: Vec<Result<Place, Unread>>,
    ) -> Vec<Result<Asked, Unread>> {
        let path = one_line(path);
        if wanted.parse::<usize>().is_ok() {
            let message =
                format!("{path}#{wanted}: a number says which record of one file; here are several files");
            return vec![Err(Unread { message })];
        }
        let mut unread = Vec::new();
        let mut places_of = Vec::new();
        let mut entries = Vec::new();
        for place in places {
            match place.and_then(|place| Ok((self.held(&place)?.entries(&place.name()), place))) {
                Ok((more, place)) => {
                    places_of.extend((0..more.len()).map(|index| (place.clone(), index)));
                    entries.extend(more);
                }
                Err(failure) => unread.push(Err(failure)),
            }
        }
        let asked = one_titled(&path, wanted, &entries).map(|at| {
            let (place, index) = places_of.swap_remove(at);
            Asked { place, wanted: Some(vec![Which::Number(index + 1)]), named: true }
        });
        unread.insert(0, asked);
        unread
    }

    /// Reads one of them for a verb that takes records only.
    pub(super) fn read(&self, asked: &Result<Asked, Unread>) -> Result<File, Unread> {
        self.read_any(asked)?.records()
    }

    /// Reads one of them, records or saved facts, whichever its content says.
    pub(super) fn read_any(&self, asked: &Result<Asked, Unread>) -> Result<Input, Unread> {
        let Asked { place, wanted, named } = asked.as_ref().map_err(Unread::clone)?;
        let held = self.held(place)?;
        let name = place.name();
        let mut chosen = Vec::new();
        match wanted {
            None => chosen.extend(0..held.len()),
            Some(wanted) => {
                let entries = held.entries(&name);
                for which in wanted {
                    let index = pick(&name, &entries, which)?;
                    if !chosen.contains(&index) {
                        chosen.push(index);
                    }
                }
            }
        }
        Ok(match held {
            Held::Records(text) => {
                let named = *named && (wanted.is_some() || chosen.len() == 1);
                Input::Records(File { text, place: place.clone(), chosen, named })
            }
            Held::Saved(text) => Input::Saved(Saved { name, text, chosen }),
        })
    }

    fn held(&self, place: &Place) -> Result<Held, Unread> {
        let read = || {
            Ok(match place.read()? {
                Content::Records(source) => {
                    let options = paste::Options { reading: self.reading, ..paste::Options::default() };
                    let reading = paste::read_with(&source, &options).reading;
                    Held::Records(Arc::new(Text { source, reading }))
                }
                Content::Saved(text) => Held::Saved(Arc::new(SavedText::new(text))),
            })
        };
        match place {
            Place::Stdin => self.stdin.get_or_init(read).clone(),
            Place::File(_) => read(),
        }
    }

    /// Everything that was named, read as it is asked for: so many inputs at once that there is work for every thread, and
    /// so few that what is held does not grow with their number.
    pub(super) fn batches(&self) -> impl Iterator<Item = Vec<Result<Input, Unread>>> {
        let mut rest = self.list.as_slice();
        std::iter::from_fn(move || {
            let mut bytes = 0;
            let fits = |asked: &&Result<Asked, Unread>| {
                let before = bytes;
                bytes += asked.as_ref().map_or(0, |asked| asked.place.size());
                before == 0 || bytes <= BATCH_BYTES
            };
            let n = rest.iter().take(WINDOW).take_while(fits).count();
            let (batch, after) = rest.split_at(n);
            rest = after;
            match batch {
                [] => None,
                [one] => Some(vec![self.read_any(one)]),
                several => Some(several.par_iter().map(|asked| self.read_any(asked)).collect()),
            }
        })
    }

    /// The files among them.
    pub(super) fn paths(&self) -> Vec<PathBuf> {
        self.list.iter().flatten().filter_map(|input| input.place.path()).map(Path::to_path_buf).collect()
    }
}

/// The file, and what was asked of it. A name that is there is taken whole; else as much of it, up to a `#`, as is.
fn split(argument: &str) -> (&str, Option<&str>) {
    if Path::new(argument).exists() {
        return (argument, None);
    }
    let parts = || argument.match_indices('#').map(|(at, _)| (&argument[..at], argument[at + 1..].trim()));
    let there = parts().rfind(|(path, _)| *path == "-" || Path::new(path).exists());
    match there.or_else(|| parts().next()) {
        Some((path, wanted)) if !path.is_empty() && !wanted.is_empty() => (path, Some(wanted)),
        _ => (argument, None),
    }
}

impl Held {
    /// How many records or saved facts there are.
    fn len(&self) -> usize {
        match self {
            Held::Records(text) => text.reading.records.len(),
            Held::Saved(text) => text.lines.len(),
        }
    }

    /// What is in it, in order.
    fn entries(&self, file: &str) -> Vec<Entry> {
        match self {
            Held::Records(text) => {
                let records = 0..text.reading.records.len();
                records.map(|index| Chosen { text: Arc::clone(text), index }.entry()).collect()
            }
            Held::Saved(text) => {
                let entry = |index| Entry {
                    name: name(file, index, text.lines.len()),
                    title: text.line(index).ok().and_then(|facts| facts.title),
                };
                (0..text.lines.len()).map(entry).collect()
            }
        }
    }
}

/// How to name the record at `index` of a file of `of` records.
fn name(file: &str, index: usize, of: usize) -> String {
    let file = one_line(file);
    if of > 1 { format!("{file}#{}", index + 1) } else { file }
}

/// The place of the record that is meant, from 0.
fn pick(file: &str, entries: &[Entry], which: &Which) -> Result<usize, Unread> {
    let file = one_line(file);
    match which {
        Which::Number(number) if (1..=entries.len()).contains(number) => Ok(number - 1),
        Which::Number(number) => {
            let there =
                if entries.len() == 1 { "1 record".into() } else { format!("{} records", entries.len()) };
            let those = listed(entries.iter().cloned());
            Err(Unread { message: format!("{file}#{number}: the file has {there}{those}") })
        }
        Which::Title(wanted) => one_titled(&file, wanted, entries),
    }
}

/// The place of the one that is called `wanted`; if none is, of the one that has it in its title.
fn one_titled(file: &str, wanted: &str, entries: &[Entry]) -> Result<usize, Unread> {
    let folded = wanted.to_lowercase();
    let titled = |is: &dyn Fn(&str) -> bool| -> Vec<usize> {
        let said = |entry: &Entry| entry.title.as_ref().is_some_and(|title| is(&title.to_lowercase()));
        (0..entries.len()).filter(|index| said(&entries[*index])).collect()
    };
    let mut found = titled(&|title| title == folded);
    if found.is_empty() {
        found = titled(&|title| title.contains(&folded));
    }
    let wanted = one_line(wanted);
    let message = match found.as_slice() {
        [one] => return Ok(*one),
        [] => {
            format!("{file}: no record with “{wanted}” in its title{}", listed(entries.iter().cloned()))
        }
        several => {
            let those = listed(several.iter().map(|index| entries[*index].clone()));
            format!("{file}: {} records have “{wanted}” in their titles{those}", several.len())
        }
    };
    Err(Unread { message })
}

/// Records and how to name them; not too many.
pub(super) fn listed(entries: impl ExactSizeIterator<Item = Entry>) -> String {
    const MOST: usize = 12;
    let n_entries = entries.len();
    let mut out = String::new();
    for Entry { name, title } in entries.take(MOST) {
        let title = title.as_deref().map_or("(no title)".into(), one_line);
        out.push_str(&format!("\n  {name}  {title}"));
    }
    if n_entries > MOST {
        out.push_str(&format!("\n  … and {} more", n_entries - MOST));
    }
    out
}

//! From the arguments to texts: files, folders, patterns and standard input.
//!
//! A folder gives the `.yaml`, `.yml` and `.txt` files in it and below, in order of their paths. A pattern (with
//! `*`, `?` or `[`) is matched here too, for shells that do not. What cannot be read is said and does not stop
//! the rest.

use std::fs;
use std::io::{self, Read};
use std::path::{Path, PathBuf};

use cornerwise::diagnostic::{MAX_SOURCE_BYTES, Source};
use cornerwise::harmless::one_line;
use cornerwise::report::json;

use super::exit::Exit;

/// One argument's worth of input that could not be had, and why.
#[derive(Debug, Clone)]
pub(super) struct Unread {
    pub(super) message: String,
}

/// Something to read, in order.
#[derive(Debug, Clone)]
pub(super) enum Place {
    Stdin,
    File(PathBuf),
}

/// Everything the arguments name, in order.
pub(super) fn places(arguments: &[String]) -> Vec<Result<Place, Unread>> {
    arguments.iter().flat_map(|argument| places_of(argument)).collect()
}

fn places_of(argument: &str) -> Vec<Result<Place, Unread>> {
    if argument == "-" {
        return vec![Ok(Place::Stdin)];
    }
    let path = Path::new(argument);
    if path.is_dir() {
        return folder(path);
    }
    if !path.exists() && argument.contains(['*', '?', '[']) {
        return pattern(argument);
    }
    vec![Ok(Place::File(path.into()))]
}

fn folder(path: &Path) -> Vec<Result<Place, Unread>> {
    let mut found = Vec::new();
    let mut unread = Vec::new();
    let mut waiting = vec![path.to_path_buf()];
    while let Some(folder) = waiting.pop() {
        match fs::read_dir(&folder) {
            Ok(entries) => {
                for entry in entries.flatten() {
                    let path = entry.path();
                    // A link to a folder is not followed: it may lead back here. A pipe or a device is no record.
                    if entry.file_type().is_ok_and(|kind| kind.is_dir()) {
                        waiting.push(path);
                    } else if is_record(&path) && path.is_file() {
                        found.push(path);
                    }
                }
            }
            Err(error) => unread.push(Err(unreadable(&folder, &error))),
        }
    }
    found.sort();
    if found.is_empty() && unread.is_empty() {
        return vec![Err(Unread {
            message: format!(
                "{}: no record in this folder (.yaml, .yml or .txt)",
                one_line(&path.display().to_string())
            ),
        })];
    }
    found.into_iter().map(|path| Ok(Place::File(path))).chain(unread).collect()
}

fn is_record(path: &Path) -> bool {
    path.extension().and_then(|e| e.to_str()).is_some_and(|e| matches!(e, "yaml" | "yml" | "txt"))
}

fn pattern(argument: &str) -> Vec<Result<Place, Unread>> {
    if argument.contains("**") {
        return deep_pattern(argument);
    }
    let matches = match glob::glob(argument) {
        Ok(matches) => matches,
        Err(error) => {
            return vec![Err(Unread { message: format!("{}: not a pattern: {error}", one_line(argument)) })];
        }
    };
    let found: Vec<_> = matches
        .flatten()
        .flat_map(|path| if path.is_dir() { folder(&path) } else { vec![Ok(Place::File(path))] })
        .collect();
    if found.is_empty() {
        return vec![Err(Unread { message: format!("{}: no file matches", one_line(argument)) })];
    }
    found
}

/// A pattern with `**`: the folders below are walked here, without following links, which may lead in circles.
fn deep_pattern(argument: &str) -> Vec<Result<Place, Unread>> {
    let pattern = match glob::Pattern::new(argument) {
        Ok(pattern) => pattern,
        Err(error) => {
            return vec![Err(Unread { message: format!("{}: not a pattern: {error}", harmless(argument)) })];
        }
    };
    let is_wild = |part: &std::path::Component<'_>| part.as_os_str().to_string_lossy().contains(['*', '?', '[']);
    let base: PathBuf = Path::new(argument).components().take_while(|part| !is_wild(part)).collect();
    let options = glob::MatchOptions { require_literal_separator: true, ..glob::MatchOptions::default() };
    let mut found = Vec::new();
    let mut waiting = vec![if base.as_os_str().is_empty() { PathBuf::from(".") } else { base.clone() }];
    while let Some(folder) = waiting.pop() {
        for entry in fs::read_dir(&folder).into_iter().flatten().flatten() {
            let path = entry.path();
            let bare = if base.as_os_str().is_empty() { path.strip_prefix(".").unwrap_or(&path) } else { &path };
            if entry.file_type().is_ok_and(|kind| kind.is_dir()) {
                waiting.push(path);
            } else if path.is_file() && pattern.matches_path_with(bare, options) {
                found.push(bare.to_path_buf());
            }
        }
    }
    found.sort();
    if found.is_empty() {
        return vec![Err(Unread { message: format!("{}: no file matches", harmless(argument)) })];
    }
    found.into_iter().map(|path| Ok(Place::File(path))).collect()
}

fn unreadable(path: &Path, error: &io::Error) -> Unread {
    let reason = match error.kind() {
        io::ErrorKind::NotFound => "no such file or folder".into(),
        io::ErrorKind::PermissionDenied => "not allowed to read it".into(),
        _ => error.to_string(),
    };
    Unread { message: format!("{}: {reason}", one_line(&path.display().to_string())) }
}

/// What `annotate` takes.
pub(super) enum Input {
    /// Records.
    Records(Source),
    /// Facts that were saved, and the name of their file.
    Saved(String, String),
}

/// Saved facts are larger than their records, by about 25 times: as much as 1 MiB of records comes to.
const MAX_SAVED_BYTES: u64 = 32 << 20;

/// Reads one place that holds records. A file that is too large or no text is refused before it is parsed.
pub(super) fn read(place: &Place) -> Result<Source, Unread> {
    let (name, bytes) = bytes(place)?;
    source(name, bytes)
}

/// Reads one place that holds records or saved facts, whichever its content says.
pub(super) fn read_any(place: &Place) -> Result<Input, Unread> {
    let (name, bytes) = bytes(place)?;
    match std::str::from_utf8(&bytes) {
        Ok(text) if json::is_saved(text) => {
            if bytes.len() as u64 > MAX_SAVED_BYTES {
                let most = MAX_SAVED_BYTES >> 20;
                return Err(Unread { message: format!("{name}: more than {most} MiB of saved facts") });
            }
            Ok(Input::Saved(name, text.into()))
        }
        _ => source(name, bytes).map(Input::Records),
    }
}

fn bytes(place: &Place) -> Result<(String, Vec<u8>), Unread> {
    let (name, bytes) = match place {
        Place::Stdin => ("-".to_string(), limited(io::stdin().lock())),
        Place::File(path) => (path.display().to_string(), fs::File::open(path).and_then(limited)),
    };
    bytes.map_err(|error| unreadable(Path::new(&name), &error)).map(|bytes| (name, bytes))
}

fn source(name: String, bytes: Vec<u8>) -> Result<Source, Unread> {
    Source::from_bytes(&name, bytes).map_err(|diagnostic| {
        let help = diagnostic.help.map_or_else(String::new, |help| format!(" ({help})"));
        Unread { message: format!("{name}: {}{help}", diagnostic.message) }
    })
}

/// At most one byte more than is allowed, so that an endless input is refused rather than swallowed.
fn limited(mut reader: impl Read) -> io::Result<Vec<u8>> {
    let mut bytes = Vec::new();
    let most = MAX_SOURCE_BYTES as u64 + 1;
    reader.by_ref().take(most).read_to_end(&mut bytes)?;
    if bytes.len() as u64 == most && json::is_saved(&String::from_utf8_lossy(&bytes[..64])) {
        reader.take(MAX_SAVED_BYTES + 1 - most).read_to_end(&mut bytes)?;
    }
    Ok(bytes)
}

/// The files among the places.
pub(super) fn paths(places: &[Result<Place, Unread>]) -> Vec<PathBuf> {
    let path = |place: &Result<Place, Unread>| match place {
        Ok(Place::File(path)) => Some(path.clone()),
        _ => None,
    };
    places.iter().filter_map(path).collect()
}

/// How a run over these inputs ends so far as reading goes.
pub(super) fn exit(unread: usize) -> Exit {
    if unread > 0 { Exit::Unreadable } else { Exit::Fine }
}

//! Where texts come from: files, folders, patterns and standard input.
//!
//! A folder gives the `.yaml`, `.yml` and `.txt` files in it and below, in order of their paths. A pattern (with
//! `*`, `?` or `[`) is matched here too, for shells that do not. What cannot be read is said and does not stop
//! the rest.

use std::fs;
use std::io::{self, Read};
use std::path::{Path, PathBuf};
use std::sync::mpsc;
use std::thread;
use std::time::Duration;

use cornerwise::diagnostic::{MAX_SOURCE_BYTES, Source};
use cornerwise::harmless::one_line;
use cornerwise::report::json;

use super::options::meant;
use super::{outlet, patterns};

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

impl Place {
    /// What messages call it.
    pub(super) fn name(&self) -> String {
        match self {
            Place::Stdin => "-".to_string(),
            Place::File(path) => path.display().to_string(),
        }
    }

    /// The file.
    pub(super) fn path(&self) -> Option<&Path> {
        match self {
            Place::Stdin => None,
            Place::File(path) => Some(path),
        }
    }

    /// How many bytes it may give, as far as that can be told beforehand; of standard input it cannot.
    pub(super) fn size(&self) -> u64 {
        self.path().and_then(|path| fs::metadata(path).ok()).map_or(0, |found| found.len())
    }

    /// The same for the same file, by whatever name.
    pub(super) fn identity(&self) -> PathBuf {
        let path = self.path().unwrap_or(Path::new("-"));
        path.canonicalize().unwrap_or_else(|_| path.to_path_buf())
    }

    /// Reads it. What is too large or no text is refused before it is parsed.
    pub(super) fn read(&self) -> Result<Content, Unread> {
        let name = self.name();
        let bytes = match self {
            Place::Stdin => limited(io::stdin().lock()),
            Place::File(path) => open(path).and_then(limited),
        };
        let bytes = bytes.map_err(|error| unreadable(Path::new(&name), &error))?;
        match std::str::from_utf8(&bytes) {
            Ok(text) if json::is_saved(text) => {
                if bytes.len() as u64 > MAX_SAVED_BYTES {
                    let most = MAX_SAVED_BYTES >> 20;
                    let message = format!("{}: more than {most} MiB of saved facts", one_line(&name));
                    return Err(Unread { message });
                }
                Ok(Content::Saved(text.into()))
            }
            _ => Source::from_bytes(&name, bytes).map(Content::Records).map_err(|diagnostic| {
                let help = diagnostic.help.map_or_else(String::new, |help| format!(" ({help})"));
                Unread { message: format!("{}: {}{help}", one_line(&name), diagnostic.message) }
            }),
        }
    }
}

/// What was read.
#[derive(Debug)]
pub(super) enum Content {
    /// Records.
    Records(Source),
    /// Facts that were saved.
    Saved(String),
}

/// Saved facts are larger than their records, by about 25 times: as much as 1 MiB of records comes to.
const MAX_SAVED_BYTES: u64 = 32 << 20;

/// What one name stands for.
#[derive(Debug)]
pub(super) struct Found {
    pub(super) places: Vec<Result<Place, Unread>>,
    /// Whether it may be any number of files: a folder, or a pattern unless it matches just one.
    pub(super) several: bool,
}

/// The places that a name stands for, in order.
pub(super) fn of(name: &str) -> Found {
    if name == "-" {
        return Found { places: vec![Ok(Place::Stdin)], several: false };
    }
    let path = Path::new(name);
    if path.is_dir() {
        return Found { places: folder(path), several: true };
    }
    if !path.exists() && name.contains(['*', '?', '[']) {
        let places = pattern(name);
        return Found { several: places.len() != 1, places };
    }
    Found { places: vec![Ok(Place::File(path.into()))], several: false }
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
    let matches = match patterns::matches(argument) {
        Ok(matches) => matches,
        Err(error) => {
            return vec![Err(Unread { message: format!("{}: not a pattern: {error}", one_line(argument)) })];
        }
    };
    let mut found = Vec::new();
    for path in matches.paths {
        if path.is_dir() {
            found.extend(folder(&path));
        } else if path.is_file() {
            found.push(Ok(Place::File(path)));
        }
    }
    if found.is_empty() && matches.unread.is_empty() {
        return vec![Err(Unread { message: format!("{}: no file matches", one_line(argument)) })];
    }
    found.extend(matches.unread.iter().map(|(path, error)| Err(unreadable(path, error))));
    found
}

/// Why a file or folder cannot be read.
pub(super) fn unreadable(path: &Path, error: &io::Error) -> Unread {
    let reason = match error.kind() {
        io::ErrorKind::NotFound => match near(path) {
            Some(name) => format!("no such file or folder; beside it is {}", one_line(&name)),
            None => "no such file or folder".into(),
        },
        io::ErrorKind::PermissionDenied => "not allowed to read it".into(),
        _ => error.to_string(),
    };
    Unread { message: format!("{}: {reason}", one_line(&path.display().to_string())) }
}

/// The name of a file or folder in the same place that was probably meant.
fn near(path: &Path) -> Option<String> {
    let wanted = path.file_name()?.to_str()?;
    let folder = path.parent().filter(|folder| !folder.as_os_str().is_empty()).unwrap_or(Path::new("."));
    let names = fs::read_dir(folder).ok()?.take(MOST_NAMES).flatten();
    let mut names: Vec<String> = names.filter_map(|entry| entry.file_name().into_string().ok()).collect();
    // Folders are listed in no order.
    names.sort();
    meant(wanted, names.iter().map(String::as_str)).map(str::to_owned)
}

/// Of a folder with more names than these not all are looked at.
const MOST_NAMES: usize = 10_000;

/// After so long it is said what is waited for.
const PATIENCE: Duration = Duration::from_secs(2);

/// Opens a file. A pipe is opened when somebody writes into it; where nobody does, that is said, and waited for.
fn open(path: &Path) -> io::Result<fs::File> {
    let is_pipe = |found: fs::Metadata| !found.is_file() && !found.is_dir();
    if !fs::metadata(path).is_ok_and(is_pipe) {
        return fs::File::open(path);
    }
    let (opened, waits) = mpsc::channel();
    let name = one_line(&path.display().to_string());
    let watch = thread::spawn(move || {
        if waits.recv_timeout(PATIENCE) == Err(mpsc::RecvTimeoutError::Timeout) {
            outlet::err(&format!("cornerwise: {name}: is a pipe; waiting for somebody to write into it\n"));
        }
    });
    let file = fs::File::open(path);
    // The watch may have spoken and be gone.
    let _ = opened.send(());
    let _ = watch.join();
    file
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

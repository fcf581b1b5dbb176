//! Running again whenever a file changes.
//!
//! Folders are watched rather than files: an editor that saves by writing a new file and renaming it would otherwise be
//! lost after the first time. What comes within a moment of the first change is one change.

use std::ffi::OsStr;
use std::path::{Path, PathBuf};
use std::sync::mpsc::{RecvTimeoutError, channel};
use std::time::Duration;

use notify::{Event, RecursiveMode, Watcher, recommended_watcher};

use super::exit::{Exit, Failure};

/// What comes within this time of a change belongs to it.
const ONE_CHANGE: Duration = Duration::from_millis(80);

/// Runs once, then again after every change of one of the files, until the process is ended or the output is closed.
/// Nothing changes without files.
pub(super) fn rerun(
    files: &[PathBuf],
    mut run: impl FnMut(bool) -> Result<Exit, Failure>,
) -> Result<Exit, Failure> {
    let (sender, changes) = channel();
    let wrong = |error: notify::Error| Failure::from(std::io::Error::other(error.to_string()));
    let mut watcher = recommended_watcher(move |event: notify::Result<Event>| {
        // Reading a file is an event too, and this program reads.
        if event.is_ok_and(|event| !event.kind.is_access()) {
            let _ = sender.send(());
        }
    })
    .map_err(wrong)?;
    let mut folders: Vec<&Path> = files.iter().map(|file| folder(file)).collect();
    folders.sort_unstable();
    folders.dedup();
    for folder in folders {
        watcher.watch(folder, RecursiveMode::NonRecursive).map_err(wrong)?;
    }
    let stamps =
        |files: &[PathBuf]| -> Vec<_> { files.iter().map(|file| std::fs::read(file).ok()).collect() };
    let mut seen = stamps(files);
    let mut exit = run(false)?;
    if files.is_empty() {
        return Ok(exit);
    }
    while changes.recv().is_ok() {
        while !matches!(
            changes.recv_timeout(ONE_CHANGE),
            Err(RecvTimeoutError::Timeout | RecvTimeoutError::Disconnected)
        ) {}
        // Other files of the folder change too.
        let now = stamps(files);
        if now != seen && now.iter().all(Option::is_some) {
            seen = now;
            exit = run(true)?;
        }
    }
    Ok(exit)
}

/// The folder a file lies in.
fn folder(file: &Path) -> &Path {
    match file.parent() {
        Some(parent) if parent.as_os_str() != OsStr::new("") => parent,
        _ => Path::new("."),
    }
}

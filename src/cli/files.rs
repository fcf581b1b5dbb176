//! Writing files: never over what is there unless told to, and never half ([`safe_write`](super::safe_write)).
//!
//! Files are written beside their places as they are made, and moved there together when all of them are whole. So a run
//! that fails, finds that one of its files may not be written, or is broken off leaves everything as it was; and
//! what a run holds does not grow with what it writes.

use std::collections::BTreeSet;
use std::fs::{self, Metadata, OpenOptions};
use std::io::{self, ErrorKind, Write};
use std::path::{Path, PathBuf};

use tempfile::TempPath;

use super::safe_write::{Draft, folder_of, move_new, sync_folder};

/// Writes all of the files, each with the folders it needs.
///
/// # Errors
///
/// A sentence for the person: a file exists and `force` is not given, a place cannot be written, or a file is one of
/// `inputs`, which are never written over. Nothing is written then.
pub(super) fn write(files: &[(PathBuf, String)], force: bool, inputs: &[PathBuf]) -> Result<(), String> {
    let mut drafts = Drafts::new(force, inputs);
    for (path, _) in files {
        drafts.announce(path);
    }
    for (path, text) in files {
        let written = drafts.write(path, text);
        drafts.take(written);
    }
    drafts.finish()
}

/// Files on their way to their places.
#[derive(Debug)]
pub(super) struct Drafts {
    force: bool,
    inputs: Vec<PathBuf>,
    whole: Vec<Whole>,
    /// The first file that may not be written whatever happens, and why.
    refused: Option<String>,
    /// The first file that is there already, and how many others are.
    there: Option<(String, usize)>,
    seen: BTreeSet<PathBuf>,
    /// What went wrong first.
    failed: Option<String>,
}

/// A file that is written, beside its place.
#[derive(Debug)]
pub(super) struct Whole {
    path: PathBuf,
    kept: Kept,
}

/// Where its text is, and how it gets to its place.
#[derive(Debug)]
enum Kept {
    /// It replaces a file that is there, perhaps by way of a link.
    Replacing(TempPath, PathBuf),
    /// Nothing may be there but a link that leads nowhere, which goes.
    New(TempPath),
    /// The place is a device, which is written to and not replaced.
    Device(String),
}

/// A file that is being written, piece by piece.
#[derive(Debug)]
pub(super) struct Growing {
    path: PathBuf,
    to: To,
}

#[derive(Debug)]
enum To {
    Replacing(Draft, PathBuf),
    New(Draft),
    Device(String),
}

impl Growing {
    /// Begins a file for this place, with the folders it needs.
    pub(super) fn new(path: &Path, force: bool) -> io::Result<Growing> {
        let to = if fs::metadata(path).is_ok_and(|found| is_device(&found)) {
            To::Device(String::new())
        } else {
            fs::create_dir_all(folder_of(path))?;
            // A link is followed, so that the file it leads to is replaced and the link stays.
            match fs::canonicalize(path) {
                Ok(there) if force => {
                    To::Replacing(Draft::new(folder_of(&there), Some(fs::metadata(&there)?))?, there)
                }
                _ => To::New(Draft::new(folder_of(path), None)?),
            }
        };
        Ok(Growing { path: path.to_path_buf(), to })
    }

    pub(super) fn append(&mut self, text: &str) -> io::Result<()> {
        match &mut self.to {
            To::Device(whole) => {
                whole.push_str(text);
                Ok(())
            }
            To::Replacing(draft, _) | To::New(draft) => draft.append(text),
        }
    }

    pub(super) fn whole(self) -> io::Result<Whole> {
        let kept = match self.to {
            To::Device(text) => Kept::Device(text),
            To::Replacing(draft, there) => Kept::Replacing(draft.whole()?, there),
            To::New(draft) => Kept::New(draft.whole()?),
        };
        Ok(Whole { path: self.path, kept })
    }
}

impl Whole {
    fn move_in(self, force: bool) -> io::Result<()> {
        let path = &self.path;
        match self.kept {
            Kept::Device(text) => OpenOptions::new().write(true).open(path)?.write_all(text.as_bytes()),
            Kept::Replacing(draft, there) => draft.persist(there).map_err(|refused| refused.error),
            Kept::New(draft) => {
                if force && fs::symlink_metadata(path).is_ok() {
                    fs::remove_file(path)?;
                }
                move_new(draft, path)
            }
        }
    }
}

impl Drafts {
    pub(super) fn new(force: bool, inputs: &[PathBuf]) -> Drafts {
        Drafts {
            force,
            inputs: inputs.iter().filter_map(|path| path.canonicalize().ok()).collect(),
            whole: Vec::new(),
            refused: None,
            there: None,
            seen: BTreeSet::new(),
            failed: None,
        }
    }

    /// Says that a file is to be written here, and finds out whether it may.
    pub(super) fn announce(&mut self, path: &Path) {
        if !self.seen.insert(path.to_path_buf()) {
            return;
        }
        if path.canonicalize().is_ok_and(|path| self.inputs.contains(&path)) {
            let refused = format!("{}: is one of the records read; not written over", path.display());
            self.refused.get_or_insert(refused);
        } else if path.is_dir() {
            self.refused.get_or_insert(format!("{}: is a folder", path.display()));
        } else if !self.force && fs::symlink_metadata(path).is_ok_and(|found| !is_device(&found)) {
            match &mut self.there {
                Some((_, more)) => *more += 1,
                first => *first = Some((path.display().to_string(), 0)),
            }
        }
    }

    /// Writes a text beside its place, from any thread; nothing where it is known already that nothing will come of it.
    pub(super) fn write(&self, path: &Path, text: &str) -> Option<Result<Whole, String>> {
        if self.refused.is_some() || self.there.is_some() || self.failed.is_some() {
            return None;
        }
        let written = Growing::new(path, self.force).and_then(|mut growing| {
            growing.append(text)?;
            growing.whole()
        });
        Some(written.map_err(|error| cannot_be_written(path, &error)))
    }

    /// Takes what was written, in order.
    pub(super) fn take(&mut self, written: Option<Result<Whole, String>>) {
        match written {
            Some(Ok(whole)) => {
                self.announce(&whole.path.clone());
                self.whole.push(whole);
            }
            Some(Err(failed)) => {
                self.failed.get_or_insert(failed);
                // Where the disk is full, there is room again.
                self.whole.clear();
            }
            None => {}
        }
    }

    /// Moves all of them to their places.
    ///
    /// # Errors
    ///
    /// As [`write`].
    pub(super) fn finish(self) -> Result<(), String> {
        if let Some(refused) = self.refused {
            return Err(refused);
        }
        if let Some((first, more)) = self.there {
            let more = if more == 0 { String::new() } else { format!(" and {more} more") };
            return Err(format!("{first}{more}: exists already; --force writes over it"));
        }
        if let Some(failed) = self.failed {
            return Err(failed);
        }
        let mut folders = BTreeSet::new();
        for whole in self.whole {
            let path = whole.path.clone();
            folders.insert(folder_of(&path).to_path_buf());
            whole.move_in(self.force).map_err(|error| cannot_be_written(&path, &error))?;
        }
        for folder in folders {
            sync_folder(&folder);
        }
        Ok(())
    }
}

/// What is said of a file that cannot be written.
pub(super) fn cannot_be_written(path: &Path, error: &io::Error) -> String {
    let why = if error.kind() == ErrorKind::StorageFull { "the disk is full".into() } else { why(error) };
    format!("{}: cannot be written: {why}", path.display())
}

/// Why a file could not be written, without the name of the draft that was to become it.
pub(super) fn why(error: &io::Error) -> String {
    match error.kind() {
        io::ErrorKind::PermissionDenied => "not allowed to write there".into(),
        io::ErrorKind::NotFound => "no such folder".into(),
        kind if error.raw_os_error().is_none() && error.get_ref().is_some() => kind.to_string(),
        _ => error.to_string(),
    }
}

/// Neither a file nor a link to one: `/dev/stdout` and the like, which are written to and not replaced.
fn is_device(found: &Metadata) -> bool {
    !found.is_file() && !found.is_symlink() && !found.is_dir()
}

#[cfg(test)]
mod tests {
    use super::super::safe_write::replace;
    use super::*;

    /// A folder of its own for one test, emptied first.
    fn folder(name: &str) -> PathBuf {
        let folder = std::env::temp_dir().join(format!("cornerwise-output-{name}-{}", std::process::id()));
        let _ = fs::remove_dir_all(&folder);
        fs::create_dir_all(&folder).expect("a folder");
        folder
    }

    fn names(folder: &Path) -> Vec<String> {
        let entries = fs::read_dir(folder).expect("a folder").flatten();
        let mut names: Vec<String> = entries.map(|e| e.file_name().to_string_lossy().into_owned()).collect();
        names.sort();
        names
    }

    #[test]
    fn what_exists_is_kept_unless_forced_and_no_draft_is_left() {
        let folder = folder("kept");
        let path = folder.join("deep/page.html");
        let files = |text: &str| vec![(path.clone(), text.to_owned())];
        write(&files("one"), false, &[]).expect("written");
        let refused = write(&files("two"), false, &[]).expect_err("exists");
        assert!(refused.ends_with("exists already; --force writes over it"), "{refused}");
        assert_eq!(fs::read_to_string(&path).expect("there"), "one");
        write(&files("three"), true, &[]).expect("forced");
        assert_eq!(fs::read_to_string(&path).expect("there"), "three");
        assert_eq!(names(&folder.join("deep")), ["page.html"]);
        fs::remove_dir_all(folder).expect("removed");
    }

    #[test]
    fn several_files_are_written_all_or_none() {
        let folder = folder("all");
        fs::write(folder.join("b"), "old").expect("written");
        let files: Vec<_> = ["a", "b", "c"].map(|name| (folder.join(name), "new".to_owned())).into();
        write(&files, false, &[]).expect_err("b exists");
        assert_eq!(names(&folder), ["b"]);
        fs::remove_dir_all(folder).expect("removed");
    }

    #[test]
    fn a_record_that_was_read_is_never_written_over() {
        let folder = folder("input");
        let path = folder.join("record.yaml");
        fs::write(&path, "scramble: R").expect("written");
        let around = folder.join("../").join(folder.file_name().expect("a name")).join("record.yaml");
        let refused =
            write(&[(around, "page".into())], true, std::slice::from_ref(&path)).expect_err("an input");
        assert!(refused.contains("one of the records read"), "{refused}");
        assert_eq!(fs::read_to_string(&path).expect("there"), "scramble: R");
        fs::remove_dir_all(folder).expect("removed");
    }

    #[cfg(unix)]
    #[test]
    fn a_link_stays_a_link_and_permissions_stay() {
        use std::os::unix::fs::{PermissionsExt, symlink};
        let folder = folder("link");
        let (file, link) = (folder.join("file"), folder.join("link"));
        fs::write(&file, "old").expect("written");
        fs::set_permissions(&file, fs::Permissions::from_mode(0o640)).expect("set");
        symlink(&file, &link).expect("linked");
        write(&[(link.clone(), "new".into())], true, &[]).expect("forced");
        assert!(fs::symlink_metadata(&link).expect("there").is_symlink());
        assert_eq!(fs::read_to_string(&file).expect("there"), "new");
        assert_eq!(fs::metadata(&file).expect("there").permissions().mode() & 0o777, 0o640);
        fs::remove_dir_all(folder).expect("removed");
    }

    /// What a run that was broken off has left is in nobody's way, whatever it is called.
    #[test]
    fn drafts_of_other_runs_and_long_names_are_no_hindrance() {
        let folder = folder("long");
        for n in 0..3 {
            fs::write(folder.join(format!(".cornerwise-{}-{n}.part", std::process::id())), "left")
                .expect("written");
        }
        // 255 bytes is the most that the usual file systems take; the last of them in the middle of a letter.
        for length in [200, 250, 251, 252, 254, 255] {
            let name = format!("{}é.yaml", "n".repeat(length - 7));
            assert_eq!(name.len(), length);
            let path = folder.join(&name);
            write(&[(path.clone(), "one".into())], false, &[]).expect("written");
            write(&[(path.clone(), "two".into())], true, &[]).expect("written over");
            let kept = replace(&path, "two", "three", true).expect("replaced").expect("kept");
            assert_eq!(fs::read_to_string(&kept).expect("there"), "two", "{length}");
            let again = replace(&path, "three", "four", true).expect("replaced").expect("kept");
            assert_eq!(fs::read_to_string(&again).expect("there"), "three", "{length}");
            assert_ne!(kept, again);
            assert_eq!(fs::read_to_string(&path).expect("there"), "four");
        }
        assert_eq!(names(&folder).len(), 3 + 6 * 3, "{:?}", names(&folder));
        fs::remove_dir_all(folder).expect("removed");
    }

    /// What a new file may be read by is the process's to say, not more and not less.
    #[cfg(unix)]
    #[test]
    fn a_new_file_is_as_open_as_any_other() {
        use std::os::unix::fs::PermissionsExt;
        let folder = folder("mask");
        fs::write(folder.join("plain"), "").expect("written");
        write(&[(folder.join("ours"), "text".into())], false, &[]).expect("written");
        let mode = |name: &str| fs::metadata(folder.join(name)).expect("there").permissions().mode();
        assert_eq!(mode("ours"), mode("plain"));
        fs::remove_dir_all(folder).expect("removed");
    }
}

//! Writing files: never over what is there unless told to, and never half.
//!
//! A file is written beside its place under another name and moved there when it is whole, so a run that is broken
//! off leaves either what was there or the new file. Nothing is written at all if one of several files may not be.

use std::fs::{self, File, OpenOptions};
use std::io::{self, ErrorKind, Write};
use std::path::{Path, PathBuf};

/// Where results are to be written.
#[derive(Debug, Clone, clap::Args)]
pub(super) struct Output {
    /// Write to this file instead of standard output; for pages and Markdown also a folder (one that exists, or a
    /// name that ends in `/`), which gets a file a record.
    #[arg(short, long, value_name = "FILE")]
    pub(super) output: Option<PathBuf>,
    /// Write over files that exist.
    #[arg(long, requires = "output")]
    pub(super) force: bool,
}

impl Output {
    /// Whether the person asked for a folder.
    pub(super) fn folder(&self) -> Option<&Path> {
        let path = self.output.as_deref()?;
        let says_so = path.as_os_str().to_string_lossy().ends_with(std::path::is_separator);
        (says_so || path.is_dir()).then_some(path)
    }
}

/// Writes all of the files, each with the folders it needs.
///
/// # Errors
///
/// A sentence for the person: a file exists and `force` is not given, a place cannot be written, or a file is one of
/// `inputs`, which are never written over.
pub(super) fn write(files: &[(PathBuf, String)], force: bool, inputs: &[PathBuf]) -> Result<(), String> {
    let inputs: Vec<PathBuf> = inputs.iter().filter_map(|path| path.canonicalize().ok()).collect();
    for (path, _) in files {
        if path.canonicalize().is_ok_and(|path| inputs.contains(&path)) {
            return Err(format!("{}: is one of the records read; not written over", path.display()));
        }
        if path.is_dir() {
            return Err(format!("{}: is a folder", path.display()));
        }
    }
    let there: Vec<String> = files
        .iter()
        .filter(|(path, _)| fs::symlink_metadata(path).is_ok_and(|found| !is_device(&found)))
        .map(|(path, _)| path.display().to_string())
        .collect();
    if let (false, [first, rest @ ..]) = (force, there.as_slice()) {
        let more = if rest.is_empty() { String::new() } else { format!(" and {} more", rest.len()) };
        return Err(format!("{first}{more}: exists already; --force writes over it"));
    }
    for (path, text) in files {
        one(path, text, force).map_err(|error| format!("{}: cannot be written: {error}", path.display()))?;
    }
    Ok(())
}

/// Neither a file nor a link to one: `/dev/stdout` and the like, which are written to and not replaced.
fn is_device(found: &fs::Metadata) -> bool {
    !found.is_file() && !found.is_symlink() && !found.is_dir()
}

fn one(path: &Path, text: &str, force: bool) -> io::Result<()> {
    if fs::metadata(path).is_ok_and(|found| is_device(&found)) {
        return OpenOptions::new().write(true).open(path)?.write_all(text.as_bytes());
    }
    let folder = match path.parent() {
        Some(folder) if !folder.as_os_str().is_empty() => folder,
        _ => Path::new("."),
    };
    fs::create_dir_all(folder)?;
    // A link is followed, so that the file it leads to is replaced and the link stays.
    let path = if force { path.canonicalize().unwrap_or_else(|_| path.into()) } else { path.into() };
    let (draft, mut file) = draft(path.parent().unwrap_or(folder))?;
    let written = file.write_all(text.as_bytes()).and_then(|()| file.sync_all()).and_then(|()| {
        drop(file);
        place(&draft, &path, force)
    });
    if written.is_err() {
        let _ = fs::remove_file(&draft);
    }
    written
}

/// Moves the draft to its place; without `force` not over a file that has appeared there meanwhile.
fn place(draft: &Path, path: &Path, force: bool) -> io::Result<()> {
    if force {
        if let Ok(found) = fs::metadata(path) {
            fs::set_permissions(draft, found.permissions())?;
        }
        return fs::rename(draft, path);
    }
    match fs::hard_link(draft, path) {
        Ok(()) => fs::remove_file(draft),
        Err(error) if error.kind() == ErrorKind::AlreadyExists => Err(error),
        // Not every file system knows links.
        Err(_) if path.exists() => Err(ErrorKind::AlreadyExists.into()),
        Err(_) => fs::rename(draft, path),
    }
}

/// A new file with a name of its own in the folder.
fn draft(folder: &Path) -> io::Result<(PathBuf, File)> {
    let folder = if folder.as_os_str().is_empty() { Path::new(".") } else { folder };
    for n in 0..1000 {
        let path = folder.join(format!(".cornerwise-{}-{n}.part", std::process::id()));
        match OpenOptions::new().write(true).create_new(true).open(&path) {
            Err(error) if error.kind() == ErrorKind::AlreadyExists => {}
            opened => return opened.map(|file| (path, file)),
        }
    }
    Err(ErrorKind::AlreadyExists.into())
}

#[cfg(test)]
mod tests {
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
}

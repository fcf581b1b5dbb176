//! Writing files: never over what is there unless told to, and never half ([`safe_write`](super::safe_write)).
//!
//! Nothing is written at all if one of several files may not be.

use std::fs::{self, OpenOptions};
use std::io::{self, Write};
use std::path::{Path, PathBuf};

use super::safe_write::{folder_of, put};

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
    fs::create_dir_all(folder_of(path))?;
    // A link is followed, so that the file it leads to is replaced and the link stays.
    match fs::canonicalize(path) {
        Ok(there) if force => put(&there, text, Some(&fs::metadata(&there)?)),
        _ if force && fs::symlink_metadata(path).is_ok() => {
            fs::remove_file(path).and_then(|()| put(path, text, None))
        }
        _ => put(path, text, None),
    }
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

//! Writing files: never over what is there unless told to, and never half.
//!
//! A text is written whole and synced under a name of its own beside its place, and moved there when it is safe: a run
//! that is broken off leaves either what was there or the new file, and what it leaves beside it is in nobody's way.
//! Nothing is written at all if one of several files may not be.

use std::fs::{self, File, Metadata, OpenOptions};
use std::io::{self, ErrorKind, Write};
use std::path::{Path, PathBuf};

/// The longest name of a file that the usual file systems take, in bytes.
const MAX_NAME: usize = 255;

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

/// Replaces the text of a file that is there. If anything fails, the file is as it was and nothing is left beside it.
///
/// With `backup`, the old text is first copied to a file of the same name with `.bak` added (`.bak2`, … if there
/// is one already); its name is returned. A link is followed: what it points to is replaced.
pub(super) fn replace(path: &Path, text: &str, backup: bool) -> io::Result<Option<PathBuf>> {
    let path = fs::canonicalize(path)?;
    let like = fs::metadata(&path)?;
    if like.permissions().readonly() {
        return Err(io::Error::new(ErrorKind::PermissionDenied, "the file is read-only"));
    }
    let kept = if backup { Some(keep(&path, &like)?) } else { None };
    if let Err(error) = put(&path, text, Some(&like)) {
        if let Some(kept) = kept {
            let _ = fs::remove_file(kept);
        }
        return Err(error);
    }
    Ok(kept)
}

/// Copies a file's text to a name beside it that is free, for the same eyes.
fn keep(path: &Path, like: &Metadata) -> io::Result<PathBuf> {
    let text = fs::read(path)?;
    for n in 1..1000 {
        let name = path.with_file_name(backup_name(path, n));
        let mut options = OpenOptions::new();
        options.write(true).create_new(true);
        // Nobody else may read it until it is known who may.
        #[cfg(unix)]
        std::os::unix::fs::OpenOptionsExt::mode(&mut options, 0o600);
        match options.open(&name) {
            Ok(mut file) => {
                return fill(&mut file, &text, Some(like)).map(|()| name.clone()).inspect_err(|_| {
                    let _ = fs::remove_file(&name);
                });
            }
            Err(error) if error.kind() == ErrorKind::AlreadyExists => {}
            Err(error) => return Err(error),
        }
    }
    Err(io::Error::new(ErrorKind::AlreadyExists, "there are a thousand backups already"))
}

/// The file's name with `.bak` added; of a name that has no room for it as much as leaves room.
fn backup_name(path: &Path, n: usize) -> std::ffi::OsString {
    let ending = if n == 1 { ".bak".to_owned() } else { format!(".bak{n}") };
    let mut name = path.file_name().unwrap_or_default().to_owned();
    if name.len() + ending.len() > MAX_NAME {
        let text = name.to_string_lossy();
        let mut room = MAX_NAME - ending.len();
        while !text.is_char_boundary(room) {
            room -= 1;
        }
        name = text[..room].into();
    }
    name.push(ending);
    name
}

/// Writes a text to its place: beside it first, and moved there when it is whole. It replaces the file that is `like`
/// this, and is for the same eyes; without one, nothing may be there.
fn put(path: &Path, text: &str, like: Option<&Metadata>) -> io::Result<()> {
    let folder = folder_of(path);
    let mut builder = tempfile::Builder::new();
    builder.prefix(".cornerwise-").suffix(".part");
    // Unless told, nobody else may read it: right for what replaces a private file, until it is known who may.
    #[cfg(unix)]
    if like.is_none() {
        use std::os::unix::fs::PermissionsExt;
        builder.permissions(fs::Permissions::from_mode(0o666));
    }
    let mut draft = builder.tempfile_in(folder)?;
    fill(draft.as_file_mut(), text.as_bytes(), like)?;
    let moved = match like {
        Some(_) => draft.persist(path),
        None => draft.persist_noclobber(path).or_else(|refused| {
            // Not every file system can say in one step that nothing may be there.
            let there =
                refused.error.kind() == ErrorKind::AlreadyExists || fs::symlink_metadata(path).is_ok();
            if there { Err(refused) } else { refused.file.persist(path) }
        }),
    };
    moved.map_err(|refused| refused.error)?;
    // The new name is on the disk only when its folder is. Not every system lets a folder be opened.
    if let Ok(folder) = File::open(folder) {
        let _ = folder.sync_all();
    }
    Ok(())
}

/// Writes the bytes, gives the file the owner and permissions of the one that is `like` it, and syncs it. Only the
/// administrator can give a file away; for anybody else it is theirs already, or stays so.
fn fill(file: &mut File, bytes: &[u8], like: Option<&Metadata>) -> io::Result<()> {
    file.write_all(bytes)?;
    if let Some(like) = like {
        #[cfg(unix)]
        {
            use std::os::unix::fs::{MetadataExt, fchown};
            let _ = fchown(&*file, Some(like.uid()), Some(like.gid()));
        }
        // After the owner: changing that may take permissions away.
        file.set_permissions(like.permissions())?;
    }
    file.sync_all()
}

fn folder_of(path: &Path) -> &Path {
    path.parent().filter(|folder| !folder.as_os_str().is_empty()).unwrap_or(Path::new("."))
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
            let kept = replace(&path, "three", true).expect("replaced").expect("kept");
            assert_eq!(fs::read_to_string(&kept).expect("there"), "two", "{length}");
            let again = replace(&path, "four", true).expect("replaced").expect("kept");
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

//! Putting a text in the place of a file, so that nobody's work is lost.
//!
//! A text is written whole under a name of its own beside its place, and moved there when it is safe: a run that is broken
//! off leaves either what was there or the new file, and what it leaves beside it is in nobody's way. What takes another
//! file's place is on the disk before it does; what is new can be made again, and to wait for the disk for each of
//! thousands of pictures takes minutes.
//!
//! [`replace`] is for a record that was read, changed and is to be written back. It takes the file only if it still holds
//! what was read: an editor may have saved in the meantime, or another run of this program may have mended another record
//! of it. Runs of this program keep out of each other's way by a lock on the file; an editor takes no lock, so the text is
//! compared twice, when the lock is taken and once more right before the new file is moved in.

use std::fs::{self, File, Metadata, OpenOptions, TryLockError};
use std::io::{self, ErrorKind, Read, Seek, Write};
use std::path::{Path, PathBuf};
use std::thread::sleep;
use std::time::{Duration, Instant};
use std::{error, fmt};

use tempfile::{NamedTempFile, TempPath};

use super::interrupt;

/// The longest name of a file that the usual file systems take, in bytes.
const MAX_NAME: usize = 255;

/// For so long another run may hold the file; it takes a few milliseconds.
const PATIENCE: Duration = Duration::from_secs(5);

/// Why a file was not replaced. It is as it was, and nothing is left beside it.
#[derive(Debug)]
pub(super) enum Refused {
    /// It no longer holds what was read.
    Changed,
    /// Another program holds it.
    Busy,
    /// A pipe, a device or a folder.
    NoFile,
    /// The system says no.
    Failed(io::Error),
}

impl fmt::Display for Refused {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Refused::Changed => f.write_str("it was changed since it was read; run the command again"),
            Refused::Busy => f.write_str("another program holds it; run the command again"),
            Refused::NoFile => f.write_str("it is no regular file"),
            Refused::Failed(error) => f.write_str(&super::files::why(error)),
        }
    }
}

impl error::Error for Refused {}

impl From<io::Error> for Refused {
    fn from(error: io::Error) -> Refused {
        Refused::Failed(error)
    }
}

/// Whether something is there that can be replaced: a file, or a link to one.
pub(super) fn is_file(path: &Path) -> bool {
    fs::metadata(path).is_ok_and(|found| found.is_file())
}

/// Replaces the text `old` of a file that is there by `new`.
///
/// With `backup`, the old text is first copied to a file of the same name with `.bak` added (`.bak2`, … if there
/// is one already); its name is returned. A link is followed: what it points to is replaced.
///
/// # Errors
///
/// [`Refused`]: the file is as it was then, whatever that is, and nothing is left beside it.
pub(super) fn replace(path: &Path, old: &str, new: &str, backup: bool) -> Result<Option<PathBuf>, Refused> {
    let path = fs::canonicalize(path)?;
    let like = fs::metadata(&path)?;
    if !like.is_file() {
        // To open a pipe would be to wait for its other end.
        return Err(Refused::NoFile);
    }
    if like.permissions().readonly() {
        return Err(io::Error::new(ErrorKind::PermissionDenied, "the file is read-only").into());
    }
    let mut held = Held::new(&path)?;
    held.check(&path, old)?;
    let kept = if backup { Some(keep(&path, old, &like)?) } else { None };
    let moved = move_over(&path, &mut held, old, new, like);
    if let (Err(_), Some(kept)) = (&moved, &kept) {
        let _ = fs::remove_file(kept);
    }
    moved?;
    sync_folder(folder_of(&path));
    Ok(kept)
}

/// Writes the new text and moves it to where the old one still is.
fn move_over(path: &Path, held: &mut Held, old: &str, new: &str, like: Metadata) -> Result<(), Refused> {
    let mut draft = Draft::new(folder_of(path), Some(like))?;
    draft.append(new)?;
    let draft = draft.whole()?;
    held.check(path, old)?;
    draft.persist(path).map_err(|refused| refused.error)?;
    Ok(())
}

/// A file under a lock that other runs of this program heed. It ends with the value.
struct Held(File);

impl Held {
    fn new(path: &Path) -> Result<Held, Refused> {
        let until = Instant::now() + PATIENCE;
        loop {
            let file = File::open(path)?;
            match file.try_lock() {
                Ok(()) if is_at(&file, path) => return Ok(Held(file)),
                // While it was waited for, another file was put in its place: that is the one to hold.
                Ok(()) => {}
                Err(TryLockError::WouldBlock) if Instant::now() >= until => return Err(Refused::Busy),
                Err(TryLockError::WouldBlock) => sleep(Duration::from_millis(5)),
                // Not every file system has locks. The text is compared all the same.
                Err(TryLockError::Error(_)) => return Ok(Held(file)),
            }
        }
    }

    /// Whether the file still is what the path leads to, and holds this text.
    fn check(&mut self, path: &Path, text: &str) -> Result<(), Refused> {
        let mut found = Vec::new();
        self.0.rewind()?;
        // One byte more is enough to know.
        Read::by_ref(&mut self.0).take(text.len() as u64 + 1).read_to_end(&mut found)?;
        if found == text.as_bytes() && is_at(&self.0, path) { Ok(()) } else { Err(Refused::Changed) }
    }
}

/// Whether a path leads to this open file.
#[cfg(unix)]
fn is_at(file: &File, path: &Path) -> bool {
    use std::os::unix::fs::MetadataExt;
    let identity = |found: Metadata| (found.dev(), found.ino());
    file.metadata().map(identity).ok() == fs::metadata(path).map(identity).ok()
}

/// Elsewhere a file that is open is not replaced by another.
#[cfg(not(unix))]
fn is_at(_: &File, path: &Path) -> bool {
    path.exists()
}

/// Writes a text to a file's name beside it that is free, for the same eyes.
fn keep(path: &Path, text: &str, like: &Metadata) -> io::Result<PathBuf> {
    for n in 1..1000 {
        let name = path.with_file_name(backup_name(path, n));
        let mut options = OpenOptions::new();
        options.write(true).create_new(true);
        // Nobody else may read it until it is known who may.
        #[cfg(unix)]
        std::os::unix::fs::OpenOptionsExt::mode(&mut options, 0o600);
        match options.open(&name) {
            Ok(mut file) => {
                let written = file.write_all(text.as_bytes()).and_then(|()| seal(&mut file, Some(like)));
                return written.map(|()| name.clone()).inspect_err(|_| {
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

/// A text being written under a name of its own, which is gone with the value unless it is moved.
#[derive(Debug)]
pub(super) struct Draft {
    file: NamedTempFile,
    like: Option<Metadata>,
}

impl Draft {
    /// In this folder; `like` the file that it is to replace, for the same eyes.
    pub(super) fn new(folder: &Path, like: Option<Metadata>) -> io::Result<Draft> {
        interrupt::note();
        let mut builder = tempfile::Builder::new();
        builder.prefix(".cornerwise-").suffix(".part");
        // Unless told, nobody else may read it: right for what replaces a private file, until it is known who may.
        #[cfg(unix)]
        if like.is_none() {
            use std::os::unix::fs::PermissionsExt;
            builder.permissions(fs::Permissions::from_mode(0o666));
        }
        Ok(Draft { file: builder.tempfile_in(folder)?, like })
    }

    pub(super) fn append(&mut self, text: &str) -> io::Result<()> {
        self.file.as_file_mut().write_all(text.as_bytes())
    }

    /// The whole of it, safe on the disk if it replaces something. Its file is closed, so any number of them may wait.
    pub(super) fn whole(mut self) -> io::Result<TempPath> {
        seal(self.file.as_file_mut(), self.like.as_ref())?;
        Ok(self.file.into_temp_path())
    }
}

/// Moves a draft to where nothing is.
pub(super) fn move_new(draft: TempPath, path: &Path) -> io::Result<()> {
    let moved = draft.persist_noclobber(path).or_else(|refused| {
        // Not every file system can say in one step that nothing may be there.
        let there = refused.error.kind() == ErrorKind::AlreadyExists || fs::symlink_metadata(path).is_ok();
        if there { Err(refused) } else { refused.path.persist(path) }
    });
    moved.map_err(|refused| refused.error)
}

/// Gives a file the owner and permissions of the one that is `like` it, if it is to take that one's place, and syncs it. Only the administrator can give a file
/// away; for anybody else it is theirs already, or stays so.
fn seal(file: &mut File, like: Option<&Metadata>) -> io::Result<()> {
    if let Some(like) = like {
        #[cfg(unix)]
        {
            use std::os::unix::fs::{MetadataExt, fchown};
            let _ = fchown(&*file, Some(like.uid()), Some(like.gid()));
        }
        // After the owner: changing that may take permissions away.
        file.set_permissions(like.permissions())?;
        file.sync_all()?;
    }
    Ok(())
}

/// A new name is on the disk only when its folder is. Not every system lets a folder be opened.
pub(super) fn sync_folder(folder: &Path) {
    if let Ok(folder) = File::open(folder) {
        let _ = folder.sync_all();
    }
}

/// The folder a file stands in.
pub(super) fn folder_of(path: &Path) -> &Path {
    path.parent().filter(|folder| !folder.as_os_str().is_empty()).unwrap_or(Path::new("."))
}

#[cfg(test)]
mod tests {
    use std::sync::atomic::{AtomicUsize, Ordering};
    use std::thread;

    use super::*;

    /// A folder of its own for one test, with a file in it.
    fn file(name: &str, text: &str) -> (PathBuf, PathBuf) {
        let folder = std::env::temp_dir().join(format!("cornerwise-safe-{name}-{}", std::process::id()));
        let _ = fs::remove_dir_all(&folder);
        fs::create_dir_all(&folder).expect("a folder");
        let path = folder.join("record.yaml");
        fs::write(&path, text).expect("written");
        (folder, path)
    }

    fn names(folder: &Path) -> Vec<String> {
        let entries = fs::read_dir(folder).expect("a folder").flatten();
        let mut names: Vec<String> = entries.map(|e| e.file_name().to_string_lossy().into_owned()).collect();
        names.sort();
        names
    }

    #[test]
    fn a_file_that_changed_since_it_was_read_is_left_alone() {
        let (folder, path) = file("changed", "read");
        for changed in ["saved", "rea", "read and saved", ""] {
            fs::write(&path, changed).expect("written");
            let refused = replace(&path, "read", "mended", true).expect_err("changed");
            assert!(matches!(refused, Refused::Changed), "{refused:?}");
            assert_eq!(fs::read_to_string(&path).expect("there"), changed);
        }
        // An editor that writes beside it and moves it in.
        fs::write(folder.join("new"), "other").expect("written");
        let mut held = Held::new(&path).expect("held");
        held.check(&path, "").expect("as it was");
        fs::rename(folder.join("new"), &path).expect("moved");
        assert!(matches!(held.check(&path, ""), Err(Refused::Changed)));
        assert_eq!(names(&folder), ["record.yaml"], "nothing is left beside it");
        fs::write(&path, "read").expect("written");
        replace(&path, "read", "mended", true).expect("as it was read");
        assert_eq!(names(&folder), ["record.yaml", "record.yaml.bak"]);
        fs::remove_dir_all(folder).expect("removed");
    }

    /// Each of many adds a line to what it read, and tries again where another was faster: no line is lost.
    #[test]
    fn of_many_that_write_at_once_none_loses_anothers_work() {
        let (folder, path) = file("many", "");
        let refused = AtomicUsize::new(0);
        thread::scope(|scope| {
            for n in 0..8 {
                let (path, refused) = (&path, &refused);
                scope.spawn(move || {
                    loop {
                        let old = fs::read_to_string(path).expect("there");
                        match replace(path, &old, &format!("{old}{n}\n"), false) {
                            Ok(_) => break,
                            Err(Refused::Changed | Refused::Busy) => refused.fetch_add(1, Ordering::Relaxed),
                            Err(other) => panic!("{other}"),
                        };
                    }
                });
            }
        });
        let text = fs::read_to_string(&path).expect("there");
        let mut lines: Vec<&str> = text.lines().collect();
        lines.sort_unstable();
        assert_eq!(lines, ["0", "1", "2", "3", "4", "5", "6", "7"], "refused {refused:?} times");
        assert_eq!(names(&folder), ["record.yaml"]);
        fs::remove_dir_all(folder).expect("removed");
    }

    #[cfg(unix)]
    #[test]
    fn what_is_no_file_is_refused_at_once() {
        let refused = replace(Path::new("/dev/null"), "", "text", false).expect_err("a device");
        assert!(matches!(refused, Refused::NoFile), "{refused:?}");
        let here = std::env::current_exe().expect("this program");
        assert!(!is_file(Path::new("/dev/null")) && !is_file(Path::new("/")) && is_file(&here));
    }
}

//! Writing a file so that nothing can be lost: the new text is written and synced beside it, then takes its place.

use std::fs::{self, File, Metadata, OpenOptions};
use std::io::{self, Write};
use std::path::{Path, PathBuf};

/// Replaces the file's text. If anything fails, the file is as it was and nothing is left beside it.
///
/// With `backup`, the old text is first copied to a file of the same name with `.bak` added (`.bak2`, … if there
/// is one already); its name is returned. A link is followed: what it points to is replaced.
pub(super) fn replace(path: &Path, text: &str, backup: bool) -> io::Result<Option<PathBuf>> {
    let path = fs::canonicalize(path)?;
    let like = fs::metadata(&path)?;
    if like.permissions().readonly() {
        return Err(io::Error::new(io::ErrorKind::PermissionDenied, "the file is read-only"));
    }
    let old = fs::read(&path)?;
    let kept = if backup { Some(keep(&path, &old, &like)?) } else { None };
    let written = beside(&path, text, &like).and_then(|temporary| {
        fs::rename(&temporary, &path).inspect_err(|_| {
            let _ = fs::remove_file(&temporary);
        })
    });
    if let Err(error) = written {
        if let Some(kept) = kept {
            let _ = fs::remove_file(kept);
        }
        return Err(error);
    }
    // The new name is on the disk only when its folder is. Not every system lets a folder be opened.
    if let Some(folder) = path.parent().and_then(|folder| File::open(folder).ok()) {
        let _ = folder.sync_all();
    }
    Ok(kept)
}

/// Copies the old text to a name that is free, for the same eyes as the old file.
fn keep(path: &Path, old: &[u8], like: &Metadata) -> io::Result<PathBuf> {
    for n in 1..1000 {
        let mut name = path.as_os_str().to_owned();
        name.push(if n == 1 { ".bak".to_owned() } else { format!(".bak{n}") });
        let name = PathBuf::from(name);
        match create(&name) {
            Ok(mut file) => {
                let written = fill(&mut file, &name, old, like);
                return match written {
                    Ok(()) => Ok(name),
                    Err(error) => {
                        let _ = fs::remove_file(&name);
                        Err(error)
                    }
                };
            }
            Err(error) if error.kind() == io::ErrorKind::AlreadyExists => {}
            Err(error) => return Err(error),
        }
    }
    Err(io::Error::new(io::ErrorKind::AlreadyExists, "there are a thousand backups already"))
}

/// Writes and syncs a new file in the same folder, for the same eyes as the old one.
fn beside(path: &Path, text: &str, like: &Metadata) -> io::Result<PathBuf> {
    let name = path.file_name().unwrap_or_default().to_string_lossy();
    let temporary = path.with_file_name(format!(".{name}.{}.new", std::process::id()));
    let mut file = create(&temporary)?;
    match fill(&mut file, &temporary, text.as_bytes(), like) {
        Ok(()) => Ok(temporary),
        Err(error) => {
            let _ = fs::remove_file(&temporary);
            Err(error)
        }
    }
}

/// A new file that nobody else may read until it is known who may.
fn create(path: &Path) -> io::Result<File> {
    let mut options = OpenOptions::new();
    options.write(true).create_new(true);
    #[cfg(unix)]
    std::os::unix::fs::OpenOptionsExt::mode(&mut options, 0o600);
    options.open(path)
}

/// Writes the bytes, gives the file the owner and permissions of the old one, and syncs it. Only the
/// administrator can give a file away; for anybody else it is theirs already, or stays so.
fn fill(file: &mut File, path: &Path, bytes: &[u8], like: &Metadata) -> io::Result<()> {
    file.write_all(bytes)?;
    #[cfg(unix)]
    {
        use std::os::unix::fs::{MetadataExt, chown};
        let _ = chown(path, Some(like.uid()), Some(like.gid()));
    }
    #[cfg(not(unix))]
    let _ = path;
    // After the owner: changing that may take permissions away.
    file.set_permissions(like.permissions())?;
    file.sync_all()
}

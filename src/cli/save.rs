//! Writing a file so that nothing can be lost: the new text is written and synced beside it, then takes its place.

use std::fs::{self, File, OpenOptions};
use std::io::{self, Write};
use std::path::{Path, PathBuf};

/// Replaces the file's text. If anything fails, the file is as it was and nothing is left beside it.
///
/// With `backup`, the old text is first copied to a file of the same name with `.bak` added (`.bak2`, … if there
/// is one already); its name is returned. A link is followed: what it points to is replaced.
pub(super) fn replace(path: &Path, text: &str, backup: bool) -> io::Result<Option<PathBuf>> {
    let path = fs::canonicalize(path)?;
    let permissions = fs::metadata(&path)?.permissions();
    if permissions.readonly() {
        return Err(io::Error::new(io::ErrorKind::PermissionDenied, "the file is read-only"));
    }
    let old = fs::read(&path)?;
    let kept = if backup { Some(keep(&path, &old)?) } else { None };
    let written = beside(&path, text, permissions).and_then(|temporary| {
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

fn keep(path: &Path, old: &[u8]) -> io::Result<PathBuf> {
    for n in 1..1000 {
        let mut name = path.as_os_str().to_owned();
        name.push(if n == 1 { ".bak".to_owned() } else { format!(".bak{n}") });
        let name = PathBuf::from(name);
        match OpenOptions::new().write(true).create_new(true).open(&name) {
            Ok(mut file) => {
                let written = file.write_all(old).and_then(|()| file.sync_all());
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

/// Writes and syncs a new file in the same folder, with the same permissions.
fn beside(path: &Path, text: &str, permissions: fs::Permissions) -> io::Result<PathBuf> {
    let name = path.file_name().unwrap_or_default().to_string_lossy();
    let temporary = path.with_file_name(format!(".{name}.{}.new", std::process::id()));
    let mut file = OpenOptions::new().write(true).create_new(true).open(&temporary)?;
    let written = file
        .write_all(text.as_bytes())
        .and_then(|()| file.set_permissions(permissions))
        .and_then(|()| file.sync_all());
    match written {
        Ok(()) => Ok(temporary),
        Err(error) => {
            let _ = fs::remove_file(&temporary);
            Err(error)
        }
    }
}

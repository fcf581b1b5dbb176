//! What is damaged: the records of `reconstructions`, the pastes kept for the reader's tests.

use std::fs;
use std::path::{Path, PathBuf};

fn files(folder: &str, found: &mut Vec<PathBuf>) {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join(folder);
    let mut here: Vec<PathBuf> =
        fs::read_dir(&folder).expect("the folder").map(|entry| entry.expect("an entry").path()).collect();
    here.sort();
    found.extend(
        here.into_iter()
            .filter(|path| path.extension().is_some_and(|ending| ending == "yaml" || ending == "txt")),
    );
}

fn read(folders: &[&str]) -> Vec<String> {
    let mut paths = Vec::new();
    folders.iter().for_each(|folder| files(folder, &mut paths));
    paths
        .iter()
        .map(|path| String::from_utf8_lossy(&fs::read(path).expect("readable")).into_owned())
        .collect()
}

/// All of them; records of one file also one by one.
pub fn texts() -> Vec<String> {
    let mut texts = Vec::new();
    for text in read(&["reconstructions", "reconstructions/season", "tests/data/pastes"]) {
        let parts: Vec<&str> = text.split("---\n").collect();
        texts.extend(parts.iter().take(6).map(|part| (*part).to_owned()));
        if parts.len() > 1 {
            texts.push(text);
        }
    }
    assert!(texts.len() > 80, "{} texts", texts.len());
    texts
}

/// Texts that once broke a law.
pub fn once_broken() -> Vec<String> {
    read(&["tests/data/fuzz"])
}

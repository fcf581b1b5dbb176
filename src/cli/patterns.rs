//! Patterns with `*`, `?`, `[…]` and `**`, matched against the file system for shells that do not.
//!
//! `**` stands for any number of folders, none included. It follows no link to a folder: two links that lead back would
//! be followed for ever. Where a part of a pattern names a link, or `*` meets one, it is followed, once for each part.
//! Every folder is looked through at most once for each part of the pattern, so the work is bounded by what is there.

use std::collections::{BTreeSet, HashSet};
use std::ffi::OsString;
use std::path::{Component, Path, PathBuf};
use std::{fs, io};

use glob::{Pattern, PatternError};

/// What matches, and what could not be looked at.
#[derive(Debug, Default)]
pub(super) struct Matches {
    /// Files and folders, in order of their paths.
    pub(super) paths: BTreeSet<PathBuf>,
    pub(super) unread: Vec<(PathBuf, io::Error)>,
    /// Folders that were looked through, each with the part of the pattern it was looked through for.
    seen: HashSet<(PathBuf, usize)>,
}

/// A part of a pattern, between two slashes.
#[derive(Debug)]
enum Part {
    /// As it stands.
    Name(OsString),
    /// With signs in it.
    Like(Pattern),
    /// `**`
    AnyDepth,
}

/// Everything that matches.
///
/// # Errors
///
/// What is wrong with the pattern.
pub(super) fn matches(pattern: &str) -> Result<Matches, PatternError> {
    // Faults are told of the whole, at their places in it.
    Pattern::new(pattern)?;
    let mut parts = Vec::new();
    let mut base = PathBuf::new();
    for component in Path::new(pattern).components() {
        match component {
            Component::Normal(name) if name == "**" => {
                if !matches!(parts.last(), Some(Part::AnyDepth)) {
                    parts.push(Part::AnyDepth);
                }
            }
            Component::Normal(name) => match name.to_str() {
                Some(text) if text.contains(['*', '?', '[']) => parts.push(Part::Like(Pattern::new(text)?)),
                _ => parts.push(Part::Name(name.to_owned())),
            },
            other if parts.is_empty() => base.push(other),
            other => parts.push(Part::Name(other.as_os_str().to_owned())),
        }
    }
    let mut found = Matches::default();
    found.walk(base, &parts);
    Ok(found)
}

impl Matches {
    fn walk(&mut self, base: PathBuf, parts: &[Part]) {
        let (part, rest) = match parts {
            [] => {
                self.paths.insert(base);
                return;
            }
            // Behind the last slash it stands for all that is there.
            [Part::AnyDepth] => {
                self.paths.insert(if base.as_os_str().is_empty() { ".".into() } else { base });
                return;
            }
            [part, rest @ ..] => (part, rest),
        };
        match part {
            Part::Name(name) => {
                let path = base.join(name);
                if path.exists() {
                    self.walk(path, rest);
                }
            }
            Part::Like(pattern) => {
                for (name, path) in self.entries(&base, parts.len()) {
                    if name.to_str().is_some_and(|name| pattern.matches(name))
                        && (rest.is_empty() || path.is_dir())
                    {
                        self.walk(path, rest);
                    }
                }
            }
            Part::AnyDepth => {
                for (_, path) in self.entries(&base, parts.len()) {
                    if fs::symlink_metadata(&path).is_ok_and(|found| found.is_dir()) {
                        self.walk(path, parts);
                    }
                }
                self.walk(base, rest);
            }
        }
    }

    /// What is in a folder, in order; nothing if it was looked through for this part already.
    fn entries(&mut self, folder: &Path, n_parts: usize) -> Vec<(OsString, PathBuf)> {
        if !self.seen.insert((folder.to_path_buf(), n_parts)) {
            return Vec::new();
        }
        let here = if folder.as_os_str().is_empty() { Path::new(".") } else { folder };
        let mut names: Vec<OsString> = match fs::read_dir(here) {
            Ok(entries) => entries.flatten().map(|entry| entry.file_name()).collect(),
            Err(error) => {
                self.unread.push((here.to_path_buf(), error));
                return Vec::new();
            }
        };
        names.sort();
        names.into_iter().map(|name| (name.clone(), folder.join(&name))).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A tree with two links in it that lead back, and a pattern that stands for the tree's place.
    fn tree(name: &str) -> PathBuf {
        let root = std::env::temp_dir().join(format!("cornerwise-patterns-{name}-{}", std::process::id()));
        let _ = fs::remove_dir_all(&root);
        for folder in ["deep/er", "other"] {
            fs::create_dir_all(root.join(folder)).expect("a folder");
        }
        for file in ["a.yaml", "b.txt", "deep/c.yaml", "deep/er/d.yaml", "other/[e].yaml"] {
            fs::write(root.join(file), "").expect("written");
        }
        root
    }

    fn found(root: &Path, pattern: &str) -> Vec<String> {
        let whole = format!("{}/{pattern}", root.display());
        let found = matches(&whole).expect("a pattern");
        assert!(found.unread.is_empty(), "{:?}", found.unread);
        let short =
            |path: &PathBuf| path.strip_prefix(root).expect("below").to_string_lossy().replace('\\', "/");
        found.paths.iter().map(short).collect()
    }

    #[test]
    fn signs_stand_for_names_and_two_stars_for_folders() {
        let root = tree("signs");
        for (pattern, wanted) in [
            ("*.yaml", &["a.yaml"][..]),
            ("?.*", &["a.yaml", "b.txt"]),
            ("deep/*", &["deep/c.yaml", "deep/er"]),
            ("*/c.yaml", &["deep/c.yaml"]),
            ("**/*.yaml", &["a.yaml", "deep/c.yaml", "deep/er/d.yaml", "other/[e].yaml"]),
            ("**/**/er/**/d.yaml", &["deep/er/d.yaml"]),
            ("deep/../[ab].*", &["deep/../a.yaml", "deep/../b.txt"]),
            ("other/[[]e].yaml", &["other/[e].yaml"]),
            ("**", &[""]),
            ("deep/**", &["deep"]),
            ("none/*", &[]),
            ("a.yaml/*", &[]),
        ] {
            if pattern == "a.yaml/*" {
                // A file is no folder to look through; that is said, and nothing matches.
                let whole = matches(&format!("{}/{pattern}", root.display())).expect("a pattern");
                assert!(whole.paths.is_empty() && whole.unread.len() == 1);
                continue;
            }
            assert_eq!(found(&root, pattern), wanted, "{pattern}");
        }
        assert!(matches("[a").is_err() && matches("a**/b").is_err());
        fs::remove_dir_all(root).expect("removed");
    }

    #[cfg(unix)]
    #[test]
    fn links_that_lead_back_are_not_followed_for_ever() {
        let root = tree("loops");
        for link in ["x", "y", "deep/z"] {
            std::os::unix::fs::symlink(&root, root.join(link)).expect("linked");
        }
        let all = ["a.yaml", "deep/c.yaml", "deep/er/d.yaml", "other/[e].yaml"];
        assert_eq!(found(&root, "**/*.yaml"), all);
        // A link that is met by a sign is followed, once.
        assert_eq!(found(&root, "*/a.yaml"), ["x/a.yaml", "y/a.yaml"]);
        let whole = matches(&format!("{}/**/*/**/*.yaml", root.display())).expect("a pattern");
        assert!(whole.seen.len() < 100, "{} folders looked through", whole.seen.len());
        fs::remove_dir_all(root).expect("removed");
    }
}

//! Where results are to be written.

use std::path::{Path, PathBuf};

use clap::error::ErrorKind;
use clap::{Args, ValueEnum};

use super::heading;

/// Which format a file's ending stands for.
const ENDINGS: [(&str, &[&str]); 8] = [
    ("text", &["txt", "text"]),
    ("json", &["json", "jsonl", "ndjson"]),
    ("markdown", &["md", "markdown"]),
    ("html", &["html", "htm"]),
    ("vtt", &["vtt"]),
    ("svg", &["svg"]),
    ("csv", &["csv"]),
    ("records", &["yaml", "yml"]),
];

/// Endings of files that are no text of ours: unless a format is asked for by name, whoever opens one would be told that it is
/// broken.
const NOT_OURS: [&str; 15] = [
    "pdf", "doc", "docx", "odt", "rtf", "xls", "xlsx", "ods", "png", "jpg", "jpeg", "gif", "webp", "mp4",
    "zip",
];

/// Options that do not go together, as a usage error.
pub(in crate::cli) fn usage(message: String) -> clap::Error {
    clap::Error::raw(ErrorKind::ArgumentConflict, message + "\n")
}

/// Standard output, a file or a folder.
#[derive(Debug, Default, Args)]
#[command(next_help_heading = heading::OUTPUT)]
pub(in crate::cli) struct Output {
    /// Write to this file instead of standard output; for pages and Markdown also a folder (one that exists, or a
    /// name that ends in `/`), which gets a file a record.
    #[arg(short, long, value_name = "FILE")]
    output: Option<PathBuf>,
    /// Write over files that exist.
    #[arg(long, requires = "output")]
    pub(in crate::cli) force: bool,
}

impl Output {
    /// The file or folder asked for.
    pub(in crate::cli) fn path(&self) -> Option<&Path> {
        self.output.as_deref()
    }

    /// The format: the one that was asked for, else the one that the ending of the file's name says, else the verb's first.
    ///
    /// # Errors
    ///
    /// A usage error where the ending names a format that the verb has not.
    pub(in crate::cli) fn format<F: ValueEnum>(&self, asked: Option<F>) -> Result<F, clap::Error> {
        let first = || F::value_variants()[0].clone();
        if let Some(format) = asked {
            return Ok(format);
        }
        let ending =
            self.path().and_then(Path::extension).map(|ending| ending.to_string_lossy().to_lowercase());
        let Some(ending) = ending.filter(|_| self.folder().is_none()) else { return Ok(first()) };
        let made = || {
            let values = F::value_variants().iter().filter_map(ValueEnum::to_possible_value);
            let names: Vec<String> = values.map(|value| value.get_name().to_owned()).collect();
            names.join(", ")
        };
        let said = ENDINGS.iter().find(|(_, endings)| endings.contains(&ending.as_str()));
        let Some((name, _)) = said else {
            return if NOT_OURS.contains(&ending.as_str()) {
                Err(usage(format!(
                    "--output: nothing here makes a .{ending}; expected the ending of what this verb makes ({}), or --format",
                    made()
                )))
            } else {
                Ok(first())
            };
        };
        let named = |format: &&F| format.to_possible_value().is_some_and(|value| value.get_name() == *name);
        F::value_variants().iter().find(named).cloned().ok_or_else(|| {
            usage(format!(
                "--output: the ending .{ending} stands for {name}, which this verb does not make; expected the ending of \
                 one that it makes ({}), or --format",
                made()
            ))
        })
    }

    /// The same, if it is a folder.
    pub(in crate::cli) fn folder(&self) -> Option<&Path> {
        let path = self.path()?;
        let says_so = path.as_os_str().to_string_lossy().ends_with(std::path::is_separator);
        (says_so || path.is_dir()).then_some(path)
    }
}

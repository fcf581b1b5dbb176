//! Where results are to be written.

use std::path::{Path, PathBuf};

use clap::Args;

use super::heading;

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

    /// The same, if it is a folder.
    pub(in crate::cli) fn folder(&self) -> Option<&Path> {
        let path = self.path()?;
        let says_so = path.as_os_str().to_string_lossy().ends_with(std::path::is_separator);
        (says_so || path.is_dir()).then_some(path)
    }
}

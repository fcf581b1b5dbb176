//! The records to read.

use clap::Args;

/// Names of records, as typed; `super::super::records` finds what they mean.
#[derive(Debug, Args)]
pub(in crate::cli) struct Records {
    /// Records to read: files, folders, patterns, or `-` for standard input; one record of a file by its number or a
    /// part of its title, such as `solves.yaml#2` or `solves.yaml#third of five`. `annotate` also takes facts that were
    /// saved with `--format json`.
    #[arg(required = true, value_name = "FILE")]
    pub(in crate::cli) files: Vec<String>,
}

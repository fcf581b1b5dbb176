//! Exit statuses and what they mean.

use std::process::ExitCode;

/// How a run ended; the worse, the greater.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Default)]
pub(super) enum Exit {
    /// 0: everything was read and is sound.
    #[default]
    Fine,
    /// 1: a record has a fault (or, where asked for, two records differ).
    Fault,
    /// 2: wrong usage, or input that could not be read.
    Unreadable,
}

impl From<Exit> for ExitCode {
    fn from(exit: Exit) -> ExitCode {
        ExitCode::from(exit as u8)
    }
}

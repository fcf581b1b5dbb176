//! How text is to look here: the terminal's width, colour, ASCII.

use std::io::IsTerminal;

use super::outlet;
use crate::report::look::{Look, Palette};

/// What the person asked for.
#[derive(Debug, Clone, Copy)]
pub(super) struct Wanted {
    pub(super) width: Option<usize>,
    pub(super) ascii: bool,
}

impl Wanted {
    /// The look of standard output: as wide as asked for, else as the terminal (at most 120, as longer lines
    /// are hard to read), else 80.
    pub(super) fn stdout(self) -> Look {
        let terminal = || {
            let terminal = std::io::stdout().is_terminal().then(terminal_size::terminal_size).flatten();
            terminal.map(|(width, _)| usize::from(width.0).clamp(40, 120))
        };
        Look {
            width: self.width.or_else(terminal).unwrap_or(80),
            unicode: !self.ascii,
            palette: if outlet::coloured() { Palette::coloured() } else { Palette::default() },
        }
    }
}

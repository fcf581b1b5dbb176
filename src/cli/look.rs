//! How text is to look here: the terminal's width, colour, ASCII.

use std::io::IsTerminal;

use cornerwise::report::look::{Look, Palette};

use super::outlet;

/// What the person asked for.
#[derive(Debug, Clone, Copy)]
pub(super) struct Wanted {
    pub(super) width: Option<usize>,
    pub(super) ascii: bool,
}

impl Wanted {
    /// The look of standard output.
    pub(super) fn stdout(self) -> Look {
        self.look(std::io::stdout().is_terminal(), outlet::coloured())
    }

    /// The look of a file: plain, 80 columns unless asked otherwise.
    pub(super) fn file(self) -> Look {
        self.look(false, false)
    }

    /// The look of standard error.
    pub(super) fn stderr(self) -> Look {
        self.look(std::io::stderr().is_terminal(), outlet::err_coloured())
    }

    /// As wide as asked for, else as the terminal (at most 120, as longer lines are hard to read), else 80.
    fn look(self, terminal: bool, coloured: bool) -> Look {
        let size = || terminal.then(terminal_size::terminal_size).flatten();
        let terminal = || size().map(|(width, _)| usize::from(width.0).clamp(40, 120));
        Look {
            width: self.width.or_else(terminal).unwrap_or(80),
            unicode: !self.ascii,
            palette: if coloured { Palette::coloured() } else { Palette::default() },
        }
    }
}

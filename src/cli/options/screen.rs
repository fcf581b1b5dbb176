//! How text is to look here: width, colour, ASCII.

use std::io::IsTerminal;

use clap::Args;
use cornerwise::report::look::{Look, Palette};

use super::super::outlet;
use super::{default, heading, whole};

/// What the person asked for; taken by every verb.
#[derive(Debug, Clone, Copy, Args)]
#[command(next_help_heading = heading::SCREEN)]
pub(in crate::cli) struct Screen {
    /// Whether to colour the output; NO_COLOR and CLICOLOR_FORCE are respected in `auto`.
    #[arg(long, global = true, value_name = "WHEN", default_value_t = clap::ColorChoice::Auto)]
    color: clap::ColorChoice,
    /// Columns to fill at most, from 50 to 1000 [default: the terminal's, else 80].
    #[arg(long, allow_negative_numbers = true, global = true, value_name = "COLUMNS", value_parser = whole::<u16>(50, 1000))]
    width: Option<u16>,
    /// Use ASCII characters only.
    #[arg(long, global = true)]
    ascii: bool,
}

impl Screen {
    /// `--color` decides for both streams, through anstream.
    pub(in crate::cli) fn choose_colour(&self) {
        match self.color {
            clap::ColorChoice::Auto => {}
            clap::ColorChoice::Always => anstream::ColorChoice::Always.write_global(),
            clap::ColorChoice::Never => anstream::ColorChoice::Never.write_global(),
        }
    }

    /// The look of standard output.
    pub(in crate::cli) fn stdout(&self) -> Look {
        self.look(std::io::stdout().is_terminal(), outlet::coloured())
    }

    /// The look of a file: plain, and as wide as asked for, not as the terminal.
    pub(in crate::cli) fn file(&self) -> Look {
        self.look(false, false)
    }

    /// The look of standard error.
    pub(in crate::cli) fn stderr(&self) -> Look {
        self.look(std::io::stderr().is_terminal(), outlet::err_coloured())
    }

    /// As wide as asked for, else as the terminal, else the default.
    fn look(&self, terminal: bool, coloured: bool) -> Look {
        let (least, most) = default::TERMINAL_WIDTH;
        let size = || terminal.then(terminal_size::terminal_size).flatten();
        let terminal = || size().map(|(width, _)| usize::from(width.0).clamp(least, most));
        Look {
            width: self.width.map(usize::from).or_else(terminal).unwrap_or(default::WIDTH),
            unicode: !self.ascii,
            palette: if coloured { Palette::coloured() } else { Palette::default() },
        }
    }
}

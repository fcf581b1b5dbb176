//! How a text view looks: width, colours, characters. Plain is the default and writes no escapes, so that one
//! code path serves both.

use owo_colors::{Style, XtermColors};

use crate::cube::Colour;

/// What a text view needs to know of where it is shown.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Look {
    /// Columns to use at most.
    pub width: usize,
    /// Whether characters beyond ASCII may be used.
    pub unicode: bool,
    /// The colours.
    pub palette: Palette,
}

/// The styles of a text view. Colour never carries a meaning alone: a word or a sign goes with it.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Palette {
    /// Names of steps.
    pub strong: Style,
    /// What may be passed over.
    pub dim: Style,
    /// `ready`, `kept`.
    pub good: Style,
    /// `up`.
    pub middling: Style,
    /// `down`, `avoidable`, long pauses.
    pub bad: Style,
    /// Names of pairs.
    pub pair: Style,
    /// The six colours' own names, in the order of [`Colour::ALL`].
    pub colours: [Style; 6],
}

impl Palette {
    /// Colours for a terminal, light or dark.
    #[must_use]
    pub fn coloured() -> Palette {
        Palette {
            strong: Style::new().bold(),
            dim: Style::new().dimmed(),
            good: Style::new().green(),
            middling: Style::new().yellow(),
            bad: Style::new().red().bold(),
            pair: Style::new().cyan(),
            colours: [
                Style::new().bold(),
                Style::new().yellow(),
                Style::new().green(),
                Style::new().bright_blue(),
                Style::new().red(),
                // The one colour of the cube that is not among a terminal's sixteen.
                Style::new().color(XtermColors::FlushOrange),
            ],
        }
    }

    /// The style of a colour's name.
    #[must_use]
    pub const fn colour(&self, colour: Colour) -> Style {
        self.colours[colour as usize]
    }

    /// Whether nothing is styled.
    #[must_use]
    pub fn is_plain(&self) -> bool {
        *self == Palette::default()
    }

    /// The style of the word for what a step left.
    #[must_use]
    pub const fn left(&self, ready: bool) -> Style {
        if ready { self.good } else { self.bad }
    }
}

impl Look {
    /// 80 columns, no colour, Unicode.
    #[must_use]
    pub fn plain() -> Look {
        Look { width: 80, unicode: true, palette: Palette::default() }
    }

    /// `→`, or `->` where only ASCII may be used.
    #[must_use]
    pub const fn arrow(&self) -> &'static str {
        if self.unicode { "→" } else { "->" }
    }

    /// A dot between two things of one line, with its spaces.
    #[must_use]
    pub const fn dot(&self) -> &'static str {
        if self.unicode { " · " } else { " | " }
    }
}

/// Breaks `text` at spaces so that no line is wider than `width` columns, unless a word is. Every line but the
/// first is indented by `indent` spaces, which count.
#[must_use]
pub fn wrap(text: &str, width: usize, indent: usize) -> String {
    let mut out = String::new();
    let mut column = indent;
    for word in text.split(' ') {
        let wide = columns(word);
        if column > indent && column + 1 + wide > width {
            out.push('\n');
            out.push_str(&" ".repeat(indent));
            column = indent;
        } else if column > indent {
            out.push(' ');
            column += 1;
        }
        out.push_str(word);
        column += wide;
    }
    out
}

/// How many columns a text takes in a terminal; escapes take none.
#[must_use]
pub fn columns(text: &str) -> usize {
    anstream::adapter::strip_str(text).map(unicode_width::UnicodeWidthStr::width).sum()
}

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
        // One stands for all: there is the palette with styles and the one without.
        self.strong == Style::new()
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
/// first is indented by `indent` spaces, which count. What stands in backticks is one word where it fits on a line: it is to be
/// typed as it is.
#[must_use]
pub fn wrap(text: &str, width: usize, indent: usize) -> String {
    let mut out = String::new();
    let mut column = indent;
    for word in words(text, width.saturating_sub(indent)) {
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

/// The words of a text, each without the space behind it; a phrase in backticks counts as one if it is at most `room` wide.
fn words(text: &str, room: usize) -> impl Iterator<Item = &str> {
    let mut rest = Some(text);
    std::iter::from_fn(move || {
        let text = rest?;
        let blank = text.find(' ').unwrap_or(text.len());
        let phrase = text[..blank].find('`').and_then(|open| {
            let close = open + 1 + text[open + 1..].find('`')?;
            let end = text[close..].find(' ').map_or(text.len(), |behind| close + behind);
            (columns(&text[..end]) <= room).then_some(end)
        });
        let end = phrase.unwrap_or(blank);
        rest = text.get(end + 1..);
        Some(&text[..end])
    })
}

/// How many columns a text takes in a terminal; escapes take none.
#[must_use]
pub fn columns(text: &str) -> usize {
    if text.bytes().all(|byte| matches!(byte, b' '..=b'~')) {
        return text.len();
    }
    anstream::adapter::strip_str(text).map(unicode_width::UnicodeWidthStr::width).sum()
}

/// Ends the line, or the lines, begun at `from`: no spaces stand before the end.
pub(super) fn end_line(out: &mut String, from: usize) {
    out.truncate(from + out[from..].trim_end().len());
    out.push('\n');
}

#[cfg(test)]
mod tests {
    use super::wrap;

    #[test]
    fn what_is_to_be_typed_is_not_broken() {
        let text = "missing; `cornerwise mend FILE` looks for it";
        assert_eq!(wrap(text, 30, 2), "missing;\n  `cornerwise mend FILE` looks\n  for it");
        // Where it could not stand on a line of its own it is words like any.
        assert_eq!(wrap(text, 20, 2), "missing;\n  `cornerwise mend\n  FILE` looks for it");
        assert_eq!(wrap("a `lone  sign", 8, 0), "a `lone \nsign");
        assert_eq!(wrap("", 8, 0), "");
    }
}

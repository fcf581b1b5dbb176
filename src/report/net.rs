//! The cube unfolded, for a terminal: coloured cells that carry their letter, or letters alone.
//!
//! ```text
//!         W W G
//!         W W G
//!         W W G
//!
//! O O O   G G Y   R R R   W B B
//! ```

use owo_colors::{OwoColorize, Style};

use crate::cube::{Colour, Stickers};

/// Rows of the net as faces in the order of [`Stickers`], `None` for an empty corner.
const LAYOUT: [[Option<usize>; 4]; 3] =
    [[None, Some(0), None, None], [Some(1), Some(2), Some(3), Some(4)], [None, Some(5), None, None]];

/// Draws the stickers. Lines end with a line feed and have no trailing spaces.
#[must_use]
pub fn draw(stickers: &Stickers, coloured: bool) -> String {
    let mut out = String::new();
    for (i, band) in LAYOUT.iter().enumerate() {
        if i > 0 {
            out.push('\n');
        }
        for row in 0..3 {
            let mut line = String::new();
            let last = band.iter().rposition(Option::is_some).unwrap_or(0);
            for face in &band[..=last] {
                match face {
                    None => line.push_str("        "),
                    Some(face) => {
                        for column in 0..3 {
                            let colour = stickers[face * 9 + row * 3 + column];
                            let letter = colour.letter();
                            if coloured {
                                line.push_str(&format!("{letter} ").style(sticker(colour)).to_string());
                            } else {
                                line.push(letter);
                                line.push(' ');
                            }
                        }
                        line.push_str("  ");
                    }
                }
            }
            out.push_str(line.trim_end());
            out.push('\n');
        }
    }
    out
}

/// Black or white letters on the sticker's colour.
fn sticker(colour: Colour) -> Style {
    let style = Style::new();
    match colour {
        Colour::White => style.black().on_truecolor(245, 245, 245),
        Colour::Yellow => style.black().on_truecolor(250, 215, 40),
        Colour::Green => style.black().on_truecolor(60, 185, 90),
        Colour::Blue => style.white().on_truecolor(30, 80, 200),
        Colour::Red => style.white().on_truecolor(190, 25, 35),
        Colour::Orange => style.black().on_truecolor(250, 140, 30),
    }
}

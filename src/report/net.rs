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

use super::look::Look;

/// Rows of the net as faces of `U L F R B D` (indices into the 54 letters), `None` for an empty corner.
const LAYOUT: [[Option<usize>; 4]; 3] =
    [[None, Some(0), None, None], [Some(1), Some(2), Some(3), Some(4)], [None, Some(5), None, None]];

/// Draws the 54 stickers (letters of colours, faces `U L F R B D`, row by row). Lines end with a line feed
/// and have no trailing spaces.
#[must_use]
pub fn draw(stickers: &str, look: &Look, coloured: bool) -> String {
    let letters: Vec<char> = stickers.chars().collect();
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
                            let letter = letters.get(face * 9 + row * 3 + column).copied().unwrap_or(' ');
                            if coloured {
                                line.push_str(&format!("{letter} ").style(sticker(letter)).to_string());
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
    let _ = look;
    out
}

/// Black or white letters on the sticker's colour.
fn sticker(letter: char) -> Style {
    let style = Style::new();
    match letter {
        'W' => style.black().on_truecolor(245, 245, 245),
        'Y' => style.black().on_truecolor(250, 215, 40),
        'G' => style.black().on_truecolor(60, 185, 90),
        'B' => style.white().on_truecolor(30, 80, 200),
        'R' => style.white().on_truecolor(190, 25, 35),
        'O' => style.black().on_truecolor(250, 140, 30),
        _ => style,
    }
}

//! A drawn message within the width of the screen.
//!
//! The renderer cuts most long lines of the source so that the caret stays in view, and writes words as long as they are. Here
//! the words are broken: the title's, the help's, and a caret's, which go on under themselves where there is room for that and
//! else under the place.

use crate::report::look::{columns, wrap};

/// A caret's words stay behind it while so many columns are left for them.
const ROOM: usize = 24;

/// The drawing of one message with no line of words wider than `width`, unless a word is. Ends with a line end.
pub(super) fn fitted(drawn: &str, width: usize) -> String {
    let mut out = String::new();
    for (n, line) in drawn.lines().enumerate() {
        out.push_str(&if columns(line) <= width {
            line.to_owned()
        } else if n == 0 {
            wrap(line, width, 2)
        } else if let Some(at) = said_at(line, "= help: ") {
            wrap_from(line, at, width)
        } else if let Some(row) = Row::of(line) {
            row.fitted(width)
        } else {
            line.to_owned()
        });
        out.push('\n');
    }
    out
}

/// The column at which the words behind `mark` begin, where nothing but blanks and the mark is before them.
fn said_at(line: &str, mark: &str) -> Option<usize> {
    let bare = anstream::adapter::strip_str(line).to_string();
    let inner = bare.trim_start().strip_prefix(mark)?;
    Some(columns(&bare) - columns(inner))
}

/// The line with what stands from `at` broken, and going on there.
fn wrap_from(line: &str, at: usize, width: usize) -> String {
    let (head, words) = line.split_at(byte_of(line, at));
    format!("{head}{}", wrap(words, width, at))
}

/// A row of carets and what they say: `  |    ^^^ words`.
struct Row<'a> {
    gutter: &'a str,
    carets: &'a str,
    /// The escapes that the words begin with.
    style: &'a str,
    words: String,
}

impl<'a> Row<'a> {
    /// None where the line is no such row, or one with other signs in it.
    fn of(line: &'a str) -> Option<Row<'a>> {
        let bare = anstream::adapter::strip_str(line).to_string();
        let bar = bare.find('|').filter(|&bar| bare[..bar].trim().is_empty())?;
        let inner = &bare[bar + 1..];
        let carets = inner.trim_start().find(|c| c != '^' && c != '-').filter(|&n| n > 0)?;
        let words = inner.trim_start()[carets..].trim_start();
        // Of a row with several marks none may move: lines lead down from them.
        let is_mark = |word: &str| word.chars().all(|c| c == '^' || c == '-');
        let several = words.split_whitespace().any(is_mark);
        if words.is_empty() || several || !inner.trim_start()[carets..].starts_with(' ') {
            return None;
        }
        let at = byte_of(line, columns(&bare) - columns(words));
        let style_at = line[..at].rfind("\u{1b}[").map_or(at, |_| escapes_before(line, at));
        let gutter = byte_of(line, bar + 1);
        Some(Row {
            gutter: &line[..gutter],
            carets: &line[gutter..style_at],
            style: &line[style_at..at],
            words: words.to_owned(),
        })
    }

    fn fitted(&self, width: usize) -> String {
        let edge = columns(self.gutter);
        let mut behind = edge + columns(self.carets);
        let mut out = format!("{}{}", self.gutter, self.carets);
        let fits = behind + ROOM <= width;
        if !fits {
            out = out.trim_end().to_owned();
            let widest = self.words.split(' ').map(columns).max().unwrap_or(0);
            behind = width.saturating_sub(columns(&self.words).max(widest)).clamp(edge + 1, behind);
        }
        for (n, said) in wrap(&self.words, width.saturating_sub(behind), 0).lines().enumerate() {
            if n > 0 || !fits {
                let pad = " ".repeat(behind - edge);
                out.push_str(&format!("\n{}{pad}", self.gutter));
            }
            let end = if self.style.is_empty() { "" } else { "\u{1b}[0m" };
            out.push_str(&format!("{}{said}{end}", self.style));
        }
        out
    }
}

/// Where in `line` the column `at` begins, behind the escapes that stand there.
fn byte_of(line: &str, at: usize) -> usize {
    let mut end = line.len();
    let mut seen = 0;
    for part in anstream::adapter::strip_str(line) {
        let start = part.as_ptr() as usize - line.as_ptr() as usize;
        for (offset, _) in part.char_indices() {
            if seen + columns(&part[..offset]) >= at {
                return start + offset;
            }
        }
        seen += columns(part);
        end = start + part.len();
    }
    end
}

/// Where the run of escapes begins that ends at `at`.
fn escapes_before(line: &str, at: usize) -> usize {
    let mut start = at;
    while let Some(escape) = line[..start].rfind("\u{1b}[") {
        if !line[escape + 2..start].ends_with('m') || line[escape + 2..start].matches('m').count() != 1 {
            break;
        }
        start = escape;
    }
    start
}

#[cfg(test)]
mod tests {
    use super::fitted;

    const DRAWN: &str = "\
note[claim]: the comment says “2nd pair”, but the replay finishes no step in its turns
 --> a.yaml:9:43
  |
9 |   U2 L' U2 L2 U L                         // 2nd pair
  |                                           ^^^^^^^^^^^ pair 2 is not reached by these turns
  |
  = help: a prime may be missing or a turn mistyped; `cornerwise mend` looks for it";

    #[test]
    fn words_are_broken_and_the_source_is_not() {
        insta::assert_snapshot!(fitted(DRAWN, 80), @r#"
        note[claim]: the comment says “2nd pair”, but the replay finishes no step in
          its turns
         --> a.yaml:9:43
          |
        9 |   U2 L' U2 L2 U L                         // 2nd pair
          |                                           ^^^^^^^^^^^
          |                                         pair 2 is not reached by these turns
          |
          = help: a prime may be missing or a turn mistyped; `cornerwise mend` looks for
                  it
        "#);
        assert_eq!(fitted(DRAWN, 120), format!("{DRAWN}\n"));
    }

    #[test]
    fn a_row_with_several_marks_stays_as_it_is() {
        let row = "  | ------             ^^^^^^ 2.50 s and much more that is to be said of it";
        let drawn = format!("note[x]: y\n{row}");
        assert_eq!(fitted(&drawn, 40), format!("{drawn}\n"));
    }

    /// Colour changes no letter, and every line ends as it began: unstyled.
    #[test]
    fn styled_words_are_broken_at_the_same_places() {
        let red = |text: &str| format!("\u{1b}[1m\u{1b}[91m{text}\u{1b}[0m");
        let styled = DRAWN
            .replace("pair 2 is not reached by these turns", &red("pair 2 is not reached by these turns"));
        let styled = styled.replace("^^^^^^^^^^^", &red("^^^^^^^^^^^")).replace("  |", &red("  |"));
        for width in [40, 60, 80, 100, 120] {
            let bare = anstream::adapter::strip_str(&fitted(&styled, width)).to_string();
            assert_eq!(bare, fitted(DRAWN, width), "{width}");
        }
    }
}

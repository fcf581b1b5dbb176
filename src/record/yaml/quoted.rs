//! Strings in quotes: the text they stand for, and where each byte of it was written.

use crate::diagnostic::Span;
use crate::record::Style;

/// A decoded string with its way back to the source.
#[derive(Debug, PartialEq, Eq)]
pub(in crate::record) struct Decoded {
    /// The string without quotes and escapes. Line breaks are kept, not folded: a comment ends with its line.
    pub(in crate::record) text: String,
    /// For every byte of `text`, and for its end, the offset in the source.
    places: Vec<usize>,
}

impl Decoded {
    /// The place in the source of an offset in the text.
    pub(in crate::record) fn place(&self, offset: usize) -> usize {
        self.places.get(offset).or(self.places.last()).copied().unwrap_or(0)
    }

    fn push(&mut self, c: char, at: usize) {
        self.text.push(c);
        self.places.extend(std::iter::repeat_n(at, c.len_utf8()));
    }
}

/// Decodes the quoted string that stands, with its quotes, at `span`.
pub(in crate::record) fn decode(source: &str, span: Span, style: Style) -> Decoded {
    let written = &source[span.range()];
    let inner = if written.len() > 1 { &written[1..written.len() - 1] } else { "" };
    let base = span.start + 1;
    let mut decoded = Decoded { text: String::with_capacity(inner.len()), places: Vec::new() };
    let mut rest = inner.char_indices().peekable();
    while let Some((at, c)) = rest.next() {
        let place = base + at;
        match c {
            '\'' if style == Style::SingleQuoted => {
                rest.next_if(|&(_, next)| next == '\'');
                decoded.push('\'', place);
            }
            '\\' if style == Style::DoubleQuoted => {
                let Some((_, kind)) = rest.next() else { break };
                let mut code = |digits: usize| {
                    let mut value = 0;
                    for _ in 0..digits {
                        let digit = rest.next_if(|(_, c)| c.is_ascii_hexdigit());
                        value = value * 16 + digit.and_then(|(_, c)| c.to_digit(16)).unwrap_or(0);
                    }
                    char::from_u32(value).unwrap_or(char::REPLACEMENT_CHARACTER)
                };
                let plain = match kind {
                    'n' => '\n',
                    'r' => '\r',
                    't' | '\t' => '\t',
                    'N' => '\u{85}',
                    '_' => '\u{A0}',
                    'L' => '\u{2028}',
                    'P' => '\u{2029}',
                    '0' => '\0',
                    'a' => '\u{7}',
                    'b' => '\u{8}',
                    'v' => '\u{B}',
                    'f' => '\u{C}',
                    'e' => '\u{1B}',
                    'x' => code(2),
                    'u' => code(4),
                    'U' => code(8),
                    // An escaped line end joins the lines.
                    '\n' | '\r' => ' ',
                    other => other,
                };
                decoded.push(plain, place);
            }
            other => decoded.push(other, place),
        }
    }
    decoded.places.push(base + inner.len());
    decoded
}

/// Whether `written` is a whole single-quoted string: every prime inside is doubled.
pub(in crate::record) fn is_single_quoted(written: &str) -> bool {
    let Some(inner) = written.strip_prefix('\'').and_then(|rest| rest.strip_suffix('\'')) else {
        return false;
    };
    let mut primes = 0;
    for c in inner.chars().chain([' ']) {
        if c == '\'' {
            primes += 1;
        } else if primes % 2 == 1 {
            return false;
        } else {
            primes = 0;
        }
    }
    true
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn places_lead_back_to_what_was_written() {
        let source = "x: 'R'' U'";
        let decoded = decode(source, Span::new(3, source.len()), Style::SingleQuoted);
        assert_eq!(decoded.text, "R' U");
        assert_eq!((0..=4).map(|at| decoded.place(at)).collect::<Vec<_>>(), [4, 5, 7, 8, 9]);

        let source = r#"x: "R\u2019 \"U""#;
        let decoded = decode(source, Span::new(3, source.len()), Style::DoubleQuoted);
        assert_eq!(decoded.text, "R’ \"U");
        assert_eq!(decoded.place(1), 5);
        assert_eq!(decoded.place(4), 11);
    }

    #[test]
    fn a_quoted_string_is_whole_if_its_primes_are_doubled() {
        assert!(is_single_quoted("'R U'"));
        assert!(is_single_quoted("'R'' U'"));
        assert!(is_single_quoted("''"));
        assert!(is_single_quoted("'R'''"));
        assert!(!is_single_quoted("'R' U'"));
        assert!(!is_single_quoted("'R''"));
        assert!(!is_single_quoted("'"));
    }
}

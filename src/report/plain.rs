//! Making text from a record harmless before it reaches any view.
//!
//! Control characters are shown by the pictures Unicode has for them (block "Control Pictures", U+2400), the
//! invisible marks that change the direction of what *follows* them by their number, and what no XML document
//! may contain (XML 1.0, section 2.2) by the replacement character. Letters of every script stay as they are.

use std::borrow::Cow;

/// Whether the character changes the direction of text around it without being seen: the embeddings, overrides
/// and isolates of the Unicode Bidirectional Algorithm (UAX #9, section 2) and its implicit marks.
#[must_use]
pub const fn is_direction_mark(c: char) -> bool {
    matches!(c, '\u{61c}' | '\u{200e}' | '\u{200f}' | '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}')
}

/// Whether `c` may stand in any view as it is. Line feed and tab may; a carriage return may not.
const fn is_harmless(c: char) -> bool {
    match c {
        '\n' | '\t' => true,
        '\0'..='\u{1f}' | '\u{7f}'..='\u{9f}' | '\u{2028}' | '\u{2029}' | '\u{feff}' => false,
        _ => c as u32 & 0xfffe != 0xfffe && !matches!(c, '\u{fdd0}'..='\u{fdef}') && !is_direction_mark(c),
    }
}

/// The text with everything that could break or mislead a view made visible instead.
///
/// ```
/// use cornerwise::report::plain::harmless;
/// assert_eq!(harmless("quay\u{7} practice"), "quay␇ practice");
/// assert_eq!(harmless("a\u{202e}b"), "a[U+202E]b");
/// ```
#[must_use]
pub fn harmless(text: &str) -> Cow<'_, str> {
    if text.chars().all(is_harmless) {
        return Cow::Borrowed(text);
    }
    let mut out = String::with_capacity(text.len() + 8);
    let mut rest = text.chars().peekable();
    while let Some(c) = rest.next() {
        match c {
            // A line end as other systems write it is a line end.
            '\r' if rest.peek() == Some(&'\n') => {}
            '\r' | '\u{2028}' | '\u{2029}' => out.push('\n'),
            '\0'..='\u{1f}' if !is_harmless(c) => {
                out.push(char::from_u32(0x2400 + c as u32).unwrap_or(char::REPLACEMENT_CHARACTER));
            }
            '\u{7f}' => out.push('\u{2421}'),
            c if is_direction_mark(c) || c == '\u{feff}' => out.push_str(&format!("[U+{:04X}]", c as u32)),
            c if is_harmless(c) => out.push(c),
            _ => out.push(char::REPLACEMENT_CHARACTER),
        }
    }
    Cow::Owned(out)
}

/// [`harmless`], on one line: every run of line ends and tabs becomes one space.
#[must_use]
pub fn one_line(text: &str) -> String {
    let text = harmless(text);
    let mut out = String::with_capacity(text.len());
    for c in text.trim().chars() {
        match c {
            '\n' | '\t' if out.ends_with(' ') => {}
            '\n' | '\t' => out.push(' '),
            c => out.push(c),
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nothing_that_xml_forbids_is_left() {
        for c in '\0'..=char::MAX {
            for shown in harmless(&c.to_string()).chars() {
                // XML 1.0 (Fifth Edition), production [2] Char.
                assert!(
                    matches!(shown, '\t' | '\n' | '\r' | ' '..='\u{d7ff}' | '\u{e000}'..='\u{fffd}' | '\u{10000}'..),
                    "{c:?} became {shown:?}"
                );
                assert!(!is_direction_mark(shown), "{c:?} became {shown:?}");
                assert!(matches!(shown, '\n' | '\t') || !shown.is_control(), "{c:?} became {shown:?}");
            }
        }
    }

    #[test]
    fn harmless_text_is_not_copied_and_making_it_harmless_again_changes_nothing() {
        assert!(matches!(harmless("שלום, Qué?\n"), Cow::Borrowed(_)));
        let once = harmless("\u{1b}[31m\r\n\u{2067}x").into_owned();
        assert_eq!(once, "␛[31m\n[U+2067]x");
        assert_eq!(harmless(&once), once);
        assert_eq!(one_line(" a\r\n\tb "), "a b");
    }
}

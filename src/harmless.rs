//! Making text from outside harmless before anybody sees it: titles, comments, file names, tokens in messages.
//!
//! Letters and signs of every script and every emoji stay as they are. What is taken is what cannot be seen and
//! yet does something: steers a terminal, turns the reading direction, ends a line, hides words. One character
//! becomes one visible character, so that columns stay where they are (only the two characters of a Windows line
//! end become one). A medium then escapes what is special to itself and nothing else.
//!
//! | taken | why | becomes |
//! |---|---|---|
//! | C0 controls U+0000–001F and U+007F, but for line feed and tab | steer a terminal; most are no XML | the picture Unicode has for each, `␛` |
//! | C1 controls U+0080–009F | steer some terminals | `�` |
//! | carriage return, alone or before a line feed; U+2028, U+2029 | line ends of other systems | a line feed |
//! | the marks of direction (property `Bidi_Control`): U+061C, U+200E, U+200F, U+202A–202E, U+2066–2069 | show text in another order than it has | `�` |
//! | what is never seen (property `Default_Ignorable_Code_Point`): zero-width blanks U+200B, U+2060, U+FEFF, soft hyphen U+00AD, fillers, tags U+E0000–E0FFF, invisible operators … | hides words, makes equal what differs | `�` |
//! | interlinear marks U+FFF9–FFFB | hide words | `�` |
//! | noncharacters: U+FDD0–FDEF, the last two of each plane | are in no text; the first two are no XML | `�` |
//!
//! Of the unseen these are kept where scripts and emoji need them, and only there: a joiner (U+200C, U+200D,
//! U+034F) between two visible characters beyond ASCII, as in Persian words and in emoji made of several; one
//! variation selector (U+FE00–FE0F, U+180B–180F, U+E0100–E01EF) behind such a character; and U+FE0F in a keycap such as `1️⃣`.
//! A flag spelled by tags (three regions have one) is shown as a black flag and `�` for each tag.

use std::borrow::Cow;

/// Stands for what has no sign of its own.
const REPLACED: char = char::REPLACEMENT_CHARACTER;

/// The text with everything taken that could break or mislead what shows it. Line feeds and tabs stay.
///
/// ```
/// use cornerwise::harmless::harmless;
/// assert_eq!(harmless("quay\u{7} practice"), "quay␇ practice");
/// assert_eq!(harmless("a\u{202e}b"), "a\u{fffd}b");
/// assert_eq!(harmless("one\r\ntwo"), "one\ntwo");
/// assert_eq!(harmless("Zoë 👩\u{200d}🚀"), "Zoë 👩\u{200d}🚀");
/// ```
#[must_use]
pub fn harmless(text: &str) -> Cow<'_, str> {
    if text.bytes().all(|byte| matches!(byte, b' '..=b'~' | b'\n' | b'\t')) {
        return Cow::Borrowed(text);
    }
    let cleaned: String = Shown::of(text).map(|(_, shown)| shown).collect();
    if cleaned == text { Cow::Borrowed(text) } else { Cow::Owned(cleaned) }
}

/// [`harmless`], on one line: without blanks at its ends, and every run of line ends and tabs one blank.
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

/// Whether a character alone is left as it is; what is kept only beside others is not.
#[must_use]
pub fn is_harmless(c: char) -> bool {
    matches!(class(c), Class::Ascii | Class::Visible) || matches!(c, '\n' | '\t')
}

/// [`harmless`], together with where each place of the text has gone. A line end is a line feed here and nothing
/// else, as in the numbers of lines; the others are shown.
#[derive(Debug)]
pub(crate) struct Moved {
    /// The text made harmless.
    pub(crate) text: String,
    /// For each character kept, where it began and where it begins now.
    starts: Vec<(usize, usize)>,
}

impl Moved {
    pub(crate) fn new(text: &str) -> Moved {
        let mut moved = Moved { text: String::with_capacity(text.len()), starts: Vec::new() };
        for (at, shown) in Shown::of(text) {
            moved.starts.push((at, moved.text.len()));
            moved.text.push(match shown {
                '\n' if text[at..].starts_with('\r') => '\u{240d}',
                '\n' if !text[at..].starts_with('\n') => REPLACED,
                shown => shown,
            });
        }
        moved
    }

    /// Where the byte that was at `offset` is now; the end for what is behind the text.
    pub(crate) fn place(&self, offset: usize) -> usize {
        let next = self.starts.partition_point(|&(old, _)| old < offset);
        self.starts.get(next).map_or(self.text.len(), |&(_, new)| new)
    }
}

/// What has to be known of a character before it can be judged.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Class {
    /// A visible character or a blank of ASCII.
    Ascii,
    /// Any other that is seen.
    Visible,
    /// Kept between two [`Class::Visible`].
    Joiner,
    /// Kept behind a [`Class::Visible`].
    Selector,
    /// A line feed, and what other systems write for it.
    LineEnd,
    /// Never kept.
    Taken,
}

fn class(c: char) -> Class {
    match c {
        ' '..='~' => Class::Ascii,
        '\n' | '\r' | '\u{2028}' | '\u{2029}' => Class::LineEnd,
        '\u{200c}' | '\u{200d}' | '\u{34f}' => Class::Joiner,
        '\u{fe00}'..='\u{fe0f}' | '\u{180b}'..='\u{180f}' | '\u{e0100}'..='\u{e01ef}' => Class::Selector,
        '\0'..='\u{1f}' | '\u{7f}'..='\u{9f}' => Class::Taken,
        c if is_mark_of_direction(c) || is_unseen(c) || is_noncharacter(c) => Class::Taken,
        _ => Class::Visible,
    }
}

/// The property `Bidi_Control` (Unicode Standard Annex 9, section 2).
const fn is_mark_of_direction(c: char) -> bool {
    matches!(c, '\u{61c}' | '\u{200e}' | '\u{200f}' | '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}')
}

/// The rest of the property `Default_Ignorable_Code_Point` (Unicode, DerivedCoreProperties), with the interlinear
/// marks, which are no more seen.
const fn is_unseen(c: char) -> bool {
    matches!(c,
        '\u{ad}' | '\u{115f}' | '\u{1160}' | '\u{17b4}' | '\u{17b5}' | '\u{200b}' | '\u{2060}'..='\u{206f}'
        | '\u{3164}' | '\u{feff}' | '\u{ffa0}' | '\u{fff0}'..='\u{fffb}' | '\u{1bca0}'..='\u{1bca3}'
        | '\u{1d173}'..='\u{1d17a}' | '\u{e0000}'..='\u{e0fff}')
}

const fn is_noncharacter(c: char) -> bool {
    c as u32 & 0xfffe == 0xfffe || matches!(c, '\u{fdd0}'..='\u{fdef}')
}

/// The characters to show, each with the place of what it stands for.
struct Shown<'a> {
    rest: std::iter::Peekable<std::str::CharIndices<'a>>,
    /// The last character, and whether it was kept as it is.
    before: Option<char>,
    /// Whether the last two are a visible character beyond ASCII and a selector that belongs to it.
    selected: bool,
}

impl Shown<'_> {
    fn of(text: &str) -> Shown<'_> {
        Shown { rest: text.char_indices().peekable(), before: None, selected: false }
    }

    fn shown(&mut self, c: char, next: Option<char>) -> char {
        let behind_visible = self.before.is_some_and(|before| class(before) == Class::Visible);
        let joins =
            (behind_visible || self.selected) && next.is_some_and(|next| class(next) == Class::Visible);
        let keycap = c == '\u{fe0f}'
            && next == Some('\u{20e3}')
            && self.before.is_some_and(|before| before.is_ascii_digit() || matches!(before, '#' | '*'));
        match class(c) {
            Class::Ascii | Class::Visible => c,
            Class::Joiner if joins => c,
            Class::Selector if behind_visible || keycap => c,
            Class::LineEnd => '\n',
            Class::Joiner | Class::Selector | Class::Taken => match c {
                '\t' => c,
                '\0'..='\u{1f}' => char::from_u32(0x2400 + u32::from(c)).unwrap_or(REPLACED),
                '\u{7f}' => '\u{2421}',
                _ => REPLACED,
            },
        }
    }
}

impl Iterator for Shown<'_> {
    type Item = (usize, char);

    fn next(&mut self) -> Option<(usize, char)> {
        let (mut at, mut c) = self.rest.next()?;
        let mut next = self.rest.peek().map(|&(_, next)| next);
        if (c, next) == ('\r', Some('\n')) {
            (at, c) = self.rest.next()?;
            next = None;
        }
        let shown = self.shown(c, next);
        self.selected = shown == c && class(c) == Class::Selector;
        self.before = Some(shown);
        Some((at, shown))
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;
    use regex::Regex;

    use super::*;

    /// Held against the properties as a library has them, built from Unicode's own files.
    #[test]
    fn what_unicode_calls_a_control_or_unseen_is_never_left_alone() {
        let taken = Regex::new(
            r"^[\p{Cc}\p{Zl}\p{Zp}\p{Bidi_Control}\p{Default_Ignorable_Code_Point}\p{Noncharacter_Code_Point}\x{FFF9}-\x{FFFB}]$",
        )
        .expect("a pattern");
        let mut n = 0;
        for c in '\0'..=char::MAX {
            let text = c.to_string();
            let is_taken = taken.is_match(&text) && !matches!(c, '\n' | '\t');
            n += usize::from(is_taken);
            assert_eq!(is_harmless(c), !is_taken, "{c:?}");
            let shown = harmless(&text);
            assert_eq!(shown == text, !is_taken, "{c:?} became {shown:?}");
            assert_eq!(shown.chars().count(), 1, "{c:?} became {shown:?}");
            // XML 1.0 (Fifth Edition), production [2] Char.
            let xml =
                |c| matches!(c, '\t' | '\n' | ' '..='\u{d7ff}' | '\u{e000}'..='\u{fffd}' | '\u{10000}'..);
            assert!(shown.chars().all(xml), "{c:?} became {shown:?}");
        }
        assert!(n > 4_000, "{n}");
    }

    #[test]
    fn scripts_and_emoji_keep_what_they_need() {
        for text in [
            "می\u{200c}خواهم",
            "क\u{94d}\u{200d}ष",
            "👩\u{200d}🚀 ❤\u{fe0f}\u{200d}🔥",
            "葛\u{e0100}飾",
            "1\u{fe0f}\u{20e3} #\u{fe0f}\u{20e3}",
            "ᠠ\u{180b}",
            "שלום, Qué?\n",
        ] {
            assert!(matches!(harmless(text), Cow::Borrowed(_)), "{text:?}");
        }
    }

    #[test]
    fn the_same_marks_elsewhere_are_taken() {
        for (text, shown) in [
            ("R\u{200d}U", "R\u{fffd}U"),
            ("é\u{200d}", "é\u{fffd}"),
            ("é\u{200d}\u{200d}é", "é\u{fffd}\u{200d}é"),
            ("1\u{fe0f}", "1\u{fffd}"),
            ("🧊\u{fe0f}\u{fe0e}\u{fe0f}", "🧊\u{fe0f}\u{fffd}\u{fe0f}"),
            ("\u{1b}[31m\r\n\u{2067}x\r", "␛[31m\n\u{fffd}x\n"),
            ("🏴\u{e0067}\u{e007f}", "🏴\u{fffd}\u{fffd}"),
        ] {
            assert_eq!(harmless(text), shown, "{text:?}");
        }
        assert_eq!(one_line(" a\r\n\tb "), "a b");
    }

    proptest! {
        #[test]
        fn making_it_harmless_again_changes_nothing(text in any::<String>(), odd in "[\r\na1é\u{200d}\u{fe0f}\u{61c}]{0,12}") {
            for text in [text, odd] {
                let once = harmless(&text).into_owned();
                prop_assert_eq!(&harmless(&once), &once);
                prop_assert_eq!(once.chars().count(), text.replace("\r\n", "\n").chars().count());
                let moved = Moved::new(&text);
                prop_assert_eq!(harmless(&moved.text), &*moved.text);
                prop_assert_eq!(moved.text.lines().count(), text.split('\n').count() - usize::from(text.ends_with('\n') || text.is_empty()));
                prop_assert_eq!(moved.place(text.len()), moved.text.len());
                for (at, _) in text.char_indices() {
                    prop_assert!(moved.text.is_char_boundary(moved.place(at)));
                }
            }
        }
    }
}

//! What people put around the turns of a line without a comment sign: `1.` and `Cross:` before them, `(6)`
//! behind them. None of it is lost: labels and counts become comments.

use crate::findings;

use super::read::{Reader, is_turns, is_word};
use super::{Comment, grammar};

/// The longest label, in bytes; more than that before a colon is something else.
const MAX_LABEL: usize = 60;

impl Reader<'_> {
    /// Passes over a number or a label that begins the line here. Whether there was one.
    pub(super) fn head(&mut self) -> bool {
        // Inside a group `2)` is its end, and a colon somebody's conjugate.
        if !self.groups.is_empty() {
            return false;
        }
        if let Some(length) = number(self.rest()) {
            let span = self.ahead(length);
            self.note(findings::line_number::CODE, span, findings::line_number);
            self.at += length;
            return true;
        }
        let Some(words) = label(self.rest()) else { return false };
        let span = self.ahead(words.len() + 1);
        let text = words.trim_end();
        self.note(findings::label_comment::CODE, span, || findings::label_comment(text));
        self.turns.comments.push(Comment { moment: self.turns.tokens.len(), text: text.into(), span });
        self.at += words.len() + 1;
        true
    }

    /// Takes `(6)` at the end of a line, which says how many turns it has, as a comment. Whether it was one.
    pub(super) fn count_of_turns(&mut self) -> bool {
        let Some(length) = count_of_turns(self.rest()) else { return false };
        let span = self.ahead(length);
        let text = self.words(span).to_string();
        self.note(findings::count_comment::CODE, span, || findings::count_comment(&text));
        self.turns.comments.push(Comment { moment: self.turns.tokens.len(), text, span });
        self.at += length;
        true
    }
}

/// `1.`, `2)` or `3:` with a blank or the line's end behind it.
fn number(text: &str) -> Option<usize> {
    let digits = text.bytes().take(4).take_while(u8::is_ascii_digit).count();
    let after = text[digits..].strip_prefix(['.', ')', ':'])?;
    ((1..4).contains(&digits) && after.chars().next().is_none_or(char::is_whitespace)).then_some(digits + 1)
}

/// The words before a colon that begin the line, if they are words: `R U: F` is not a label.
fn label(text: &str) -> Option<&str> {
    let plain = |c: char| c.is_alphanumeric() || grammar::is_prime(c) || " -–/+&,.()".contains(c);
    let words = &text[..text.find(|c| !plain(c))?];
    let after = text[words.len()..].strip_prefix(':')?;
    if words.len() > MAX_LABEL
        || words.contains("//")
        || !words.contains(char::is_alphabetic)
        || !after.chars().next().is_none_or(char::is_whitespace)
    {
        return None;
    }
    let mut pieces = words
        .split(|c: char| !c.is_alphanumeric() && !grammar::is_prime(c))
        .filter(|piece| !piece.is_empty());
    let mut cross = words.to_ascii_lowercase().contains("cross").then_some("x");
    pieces
        .all(|piece| !is_turns(piece) || is_word(piece) || is_name(piece) || cross.take() == Some(piece))
        .then_some(words)
}

/// Names of stages and slots that could be read as turns written without a blank.
fn is_name(piece: &str) -> bool {
    is_stage(piece) || ["LL", "FR", "FL", "BR", "BL"].iter().any(|name| name.eq_ignore_ascii_case(piece))
}

/// `F2L`, and with the number of a pair: `F2L1`.
pub(crate) fn is_stage(piece: &str) -> bool {
    piece.get(..3).is_some_and(|name| name.eq_ignore_ascii_case("f2l"))
        && piece[3..].bytes().all(|byte| (b'1'..=b'4').contains(&byte))
        && piece.len() <= 4
}

/// `(6)`, `(6/24)` or `(6 moves)` at the end of a line or before its comment; `text` begins with the bracket.
fn count_of_turns(text: &str) -> Option<usize> {
    let inside = text.get(1..)?;
    let end = inside.bytes().take(20).position(|byte| byte == b')')?;
    let after = inside[end + 1..].trim_start_matches([' ', '\t']);
    let ends = after.is_empty() || after.starts_with(['\n', '\r', '#']) || after.starts_with("//");
    let words = inside[..end].trim();
    let unit = words.trim_start_matches(|c: char| c.is_ascii_digit() || c == '/');
    let counted = words.starts_with(|c: char| c.is_ascii_digit())
        && matches!(
            unit.trim().to_ascii_lowercase().as_str(),
            "" | "moves" | "turns" | "htm" | "stm" | "etm" | "obtm"
        );
    (ends && counted).then_some(end + 2)
}

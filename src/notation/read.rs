//! Text to [`Turns`]: the loop over a region, its groups and its separators.
//!
//! Groups are kept on a stack of our own, so no depth of brackets can overflow the machine's; a group is
//! multiplied out when it closes, after its size has been checked.

use crate::cube::Move;
use crate::diagnostic::{Diagnostic, Span};
use crate::findings::{self, Finding};

use super::grammar::{self, Slips};
use super::groups::Group;
use super::marks::{self, Written};
use super::{Break, Comment, Element, MAX_TOKENS, Mark, Spelling, Token, Turns, suggest};

/// What the reader has to know beside the text.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Options {
    /// Video frames a second, above 0; without it a mark in frames is a fault.
    pub fps: Option<f64>,
}

/// Reads the turns that stand in `region` of `source`. Spans count from the beginning of `source`; a region
/// that is not within it or not on character borders is cut to what is.
///
/// Never fails: what could not be read is an [`Element::Unreadable`] with a fault. The diagnostics are in
/// the order of the text. Occurrences of one leniency are one note with a label for each.
#[must_use]
pub fn parse(source: &str, region: Span, options: &Options) -> (Turns, Vec<Diagnostic>) {
    let end = region.end.min(source.len());
    let (start, text) = match source.get(region.start..end) {
        Some(text) => (region.start, text),
        None => (0, ""),
    };
    let mut reader = Reader::new(text, start, *options);
    reader.run();
    reader.finish()
}

/// [`parse`] for a text that is nothing but turns.
#[must_use]
pub fn parse_all(text: &str, options: &Options) -> (Turns, Vec<Diagnostic>) {
    parse(text, Span::new(0, text.len()), options)
}

pub(super) struct Reader<'a> {
    /// The region.
    pub(super) text: &'a str,
    /// Where it begins in the source.
    pub(super) base: usize,
    /// How much of the region has been read.
    pub(super) at: usize,
    options: Options,
    pub(super) turns: Turns,
    pub(super) groups: Vec<Group>,
    /// Brackets opened beyond [`MAX_DEPTH`](super::MAX_DEPTH) and not closed yet.
    pub(super) too_deep: usize,
    pub(super) said: Vec<Diagnostic>,
    /// Faults among them.
    pub(super) told: usize,
    /// Faults beyond the number that is told.
    pub(super) untold: usize,
    /// Whether a token ended right here, so that the next one is glued to it.
    touching: bool,
    /// Whether nothing but blanks, a number or a label stands on this line so far.
    fresh: bool,
    /// How many tokens, marks and comments there were when the line began.
    line_begun: (usize, usize, usize),
}

impl<'a> Reader<'a> {
    fn new(text: &'a str, base: usize, options: Options) -> Reader<'a> {
        let turns = Turns {
            // A solution with marks and comments has a token in every six bytes or so, a scramble in three.
            tokens: Vec::with_capacity(4 + text.len().min(6 * MAX_TOKENS) / 6),
            span: Span::new(base, base + text.len()),
            ..Turns::default()
        };
        Reader {
            text,
            base,
            at: 0,
            options,
            turns,
            groups: Vec::new(),
            too_deep: 0,
            said: Vec::new(),
            told: 0,
            untold: 0,
            touching: false,
            fresh: true,
            line_begun: (0, 0, 0),
        }
    }

    pub(super) fn rest(&self) -> &'a str {
        &self.text[self.at..]
    }

    /// The span of the next `length` bytes.
    pub(super) fn ahead(&self, length: usize) -> Span {
        Span::new(self.base + self.at, self.base + self.at + length)
    }

    pub(super) fn words(&self, span: Span) -> &'a str {
        &self.text[span.start - self.base..span.end - self.base]
    }

    fn run(&mut self) {
        while let Some(next) = self.rest().chars().next() {
            if self.turns.tokens.len() >= MAX_TOKENS && !next.is_whitespace() {
                let span = self.ahead(next.len_utf8());
                self.said.push(findings::tokens_too_many(MAX_TOKENS).at(span));
                return;
            }
            let touching = std::mem::take(&mut self.touching);
            if self.fresh && !next.is_whitespace() {
                if self.head() {
                    continue;
                }
                self.fresh = false;
            }
            match next {
                '\n' | '\r' => {
                    self.line_break();
                    self.fresh = true;
                }
                c if c.is_whitespace() || c == '\u{FEFF}' => self.at += c.len_utf8(),
                '/' if self.rest().starts_with("//") => self.comment(2),
                '#' => self.comment(1),
                '<' => self.mark(),
                '(' if self.count_of_turns() => {}
                '(' | '[' => self.open(next),
                ')' | ']' => self.close(),
                '?' => self.unknown(touching),
                '.' | '…' => self.dots(next),
                c if is_separator(c) => self.separator(c),
                _ => self.token(touching),
            }
        }
    }

    // --- tokens

    fn token(&mut self, touching: bool) {
        let rest = self.rest();
        if let Ok((left, (mv, slips))) = grammar::token(rest)
            && (slips.is_none() || !slips.has(Slips::SMALL_SLICE))
            && !touching
            && left.chars().next().is_none_or(ends_token)
        {
            self.push_move(mv, rest.len() - left.len(), slips, false);
            self.touching = true;
            return;
        }
        let chunk = chunk(rest);
        if self.apart(chunk) {
            return;
        }
        if is_word(chunk) || chunk.ends_with(':') {
            self.prose();
            return;
        }
        let mut glued = touching;
        let end = self.at + chunk.len();
        while self.at < end && self.turns.tokens.len() < MAX_TOKENS {
            let rest = &self.text[self.at..end];
            match grammar::token(rest) {
                Ok((left, (mv, slips))) if !slips.has(Slips::SMALL_SLICE) || rest == chunk => {
                    self.push_move(mv, rest.len() - left.len(), slips, glued);
                }
                _ => self.unreadable(piece(rest)),
            }
            glued = true;
        }
        self.touching = true;
    }

    fn push_move(&mut self, mv: Move, length: usize, slips: Slips, glued: bool) {
        let span = self.ahead(length);
        let spelling = Spelling::of(&self.rest()[..length], mv);
        self.turns.tokens.push(Token { element: Element::Move(mv), span, spelling });
        self.at += length;
        if glued {
            self.note(findings::token_glued::CODE, span, findings::token_glued);
        }
        if slips.is_none() {
            return;
        }
        let mut slip = |which: Slips, code: &'static str, says: fn(&str) -> Finding| {
            if slips.has(which) {
                self.note(code, span, || says(&mv.to_string()));
            }
        };
        slip(Slips::PRIME, findings::prime_typographic::CODE, findings::prime_typographic);
        slip(Slips::CAPITAL, findings::rotation_capital::CODE, findings::rotation_capital);
        slip(Slips::SMALL_SLICE, findings::slice_small::CODE, findings::slice_small);
        slip(Slips::WIDE_CASE, findings::wide_case::CODE, findings::wide_case);
        slip(Slips::ORDER, findings::suffix_order::CODE, findings::suffix_order);
        slip(Slips::SUFFIX, findings::suffix_unusual::CODE, findings::suffix_unusual);
    }

    /// A suffix that stands apart from its turn, `R '`: nothing else can be meant.
    fn apart(&mut self, chunk: &str) -> bool {
        let Ok(("", (amount, _))) = grammar::suffix(chunk) else { return false };
        let Some(last) = self.turns.tokens.last_mut() else { return false };
        let gap = &self.text[last.span.end - self.base..self.at];
        let bare = self.text[..last.span.end - self.base].ends_with(|c: char| c.is_ascii_alphabetic());
        let Element::Move(mv) = last.element else { return false };
        if chunk.is_empty() || gap.is_empty() || gap.len() > 2 || !bare || !gap.chars().all(|c| c == ' ') {
            return false;
        }
        let mv = match mv {
            Move::Turn(face, _) => Move::Turn(face, amount),
            Move::Wide(face, _) => Move::Wide(face, amount),
            Move::Slice(slice, _) => Move::Slice(slice, amount),
            Move::Rotation(axis, _) => Move::Rotation(axis, amount),
        };
        last.element = Element::Move(mv);
        last.span.end += gap.len() + chunk.len();
        let span = last.span;
        self.at += chunk.len();
        self.note(findings::suffix_apart::CODE, span, || findings::suffix_apart(&mv.to_string()));
        self.touching = true;
        true
    }

    /// Words where turns should be: one element, however many words the line holds.
    fn prose(&mut self) {
        let start = self.at;
        let mut end = start + chunk(self.rest()).len();
        loop {
            let after = &self.text[end..];
            let blank = after.len() - after.trim_start_matches([' ', '\t']).len();
            let next = chunk(&after[blank..]);
            if blank == 0 || next.is_empty() || (is_turns(next) && !is_word(next)) {
                break;
            }
            end += blank + next.len();
        }
        let span = self.ahead(end - start);
        let shown = shorten(self.words(span));
        self.put_unreadable(span, || findings::words_not_turns(&shown).at(span));
        self.at = end;
        self.touching = true;
    }

    fn unreadable(&mut self, length: usize) {
        let span = self.ahead(length);
        let words = self.words(span);
        let before_group = self.text[self.at + length..].starts_with('(');
        self.put_unreadable(span, || why_unreadable(words, before_group).at(span));
        self.at += length;
    }

    pub(super) fn put_unreadable(&mut self, span: Span, fault: impl FnOnce() -> Diagnostic) {
        self.turns.tokens.push(Token { element: Element::Unreadable, span, spelling: Spelling::default() });
        self.turns.unread.push((span, self.words(span).to_string()));
        self.fault(fault);
    }

    fn unknown(&mut self, touching: bool) {
        let span = self.ahead(1);
        if touching && matches!(self.turns.tokens.last(), Some(Token { element: Element::Move(_), .. })) {
            self.note(findings::unknown_glued::CODE, span, findings::unknown_glued);
        }
        self.turns.tokens.push(Token { element: Element::Unknown, span, spelling: Spelling::default() });
        self.at += 1;
    }

    // --- between tokens

    fn line_break(&mut self) {
        let turns = &mut self.turns;
        let so_far = (turns.tokens.len(), turns.marks.len(), turns.comments.len());
        if so_far != self.line_begun {
            turns.breaks.push(Break { moment: so_far.0, at: self.base + self.at });
            self.line_begun = so_far;
        }
        self.at += 1;
    }

    fn dots(&mut self, next: char) {
        let rest = self.rest();
        let length = rest.len() - rest.trim_start_matches(next).len();
        match (next, length) {
            ('.', 1) => self.separator('.'),
            ('.', 2) => {
                let span = self.ahead(2);
                self.put_unreadable(span, || findings::token_two_dots().at(span));
                self.at += 2;
            }
            _ => {
                self.turns.tokens.push(Token {
                    element: Element::Gap,
                    span: self.ahead(length),
                    spelling: Spelling::default(),
                });
                self.at += length;
            }
        }
    }

    fn separator(&mut self, next: char) {
        let rest = self.rest();
        let length = rest.len() - rest.trim_start_matches(next).len();
        let span = self.ahead(length);
        if next == ',' && self.groups.last().is_some_and(|group| group.square) {
            self.put_unreadable(span, || findings::commutator().at(span));
        } else {
            self.note(findings::separator_stray::CODE, span, findings::separator_stray);
        }
        self.at += length;
    }

    fn comment(&mut self, marker: usize) {
        let rest = self.rest();
        let line = &rest[..rest.find(['\n', '\r']).unwrap_or(rest.len())];
        let text = line[marker..].trim();
        let kept = line.trim_end();
        self.turns.comments.push(Comment {
            moment: self.turns.tokens.len(),
            text: text.to_string(),
            span: self.ahead(kept.len().max(marker)),
        });
        self.at += line.len();
    }

    fn mark(&mut self) {
        let rest = self.rest();
        // Looking no further than the next mark: a line may have a hundred thousand of them.
        let inner = &rest[1..];
        let inner = &inner[..inner.find(['<', '>', '\n', '\r']).unwrap_or(inner.len())];
        let close = inner.len() + 1;
        if !rest[close..].starts_with('>') {
            let end = 1 + inner.find(char::is_whitespace).unwrap_or(inner.len());
            let span = self.ahead(end);
            self.fault(|| findings::mark_unclosed().at(span));
            self.at += end;
            return;
        }
        let span = self.ahead(close + 1);
        let moment = self.turns.tokens.len();
        self.at += close + 1;
        match marks::inner(inner) {
            Ok(Written::Clock(time, documented)) => {
                self.turns.marks.push(Mark { moment, time, frame: None, span });
                if !documented {
                    self.note(findings::mark_form::CODE, span, || findings::mark_form(&time.to_string()));
                }
            }
            Ok(Written::Frame(frame, documented)) => self.frame(frame, documented, span),
            Err(expected) => self.fault(|| findings::mark_invalid(expected).at(span)),
        }
    }

    fn frame(&mut self, frame: u64, documented: bool, span: Span) {
        let moment = self.turns.tokens.len();
        match self.options.fps {
            None => self.gather(findings::mark_needs_fps().at(span)),
            Some(fps) => match marks::frame_time(frame, fps) {
                Some(time) => {
                    self.turns.marks.push(Mark { moment, time, frame: Some(frame), span });
                    if !documented {
                        self.note(findings::mark_form_frame::CODE, span, || findings::mark_form_frame(frame));
                    }
                }
                None => self.fault(|| findings::mark_invalid(marks::TOO_LONG).at(span)),
            },
        }
    }
}

/// The fault of one token that is none.
fn why_unreadable(words: &str, before_group: bool) -> Finding {
    let shown = shorten(words);
    let mut letters = words.chars();
    let (first, second) = (letters.next(), letters.next());
    let numbered = first.is_some_and(|c| c.is_ascii_digit());
    if numbered && before_group {
        findings::count_before_group()
    } else if numbered && second.is_some_and(|c| c.is_ascii_alphabetic()) {
        findings::layer_invalid(&shown)
    } else {
        findings::token_unknown(&shown, &suggest::nearest(words))
    }
}

/// Signs that people put between phrases, and quotes around the whole.
fn is_separator(c: char) -> bool {
    matches!(
        c,
        ',' | ';'
            | '|'
            | '·'
            | '•'
            | '∙'
            | '/'
            | '\\'
            | '_'
            | '~'
            | '-'
            | '‐'
            | '\u{2011}'
            | '–'
            | '—'
            | '−'
            | '→'
            | '"'
            | '“'
            | '”'
            | '„'
            | '«'
            | '»'
            | '*'
    )
}

/// Whether a token may end before `c`.
fn ends_token(c: char) -> bool {
    c.is_whitespace() || is_separator(c) || matches!(c, '(' | ')' | '[' | ']' | '<' | '#' | '?' | '.' | '…')
}

/// Everything up to where a token may end.
fn chunk(text: &str) -> &str {
    &text[..text.find(ends_token).unwrap_or(text.len())]
}

/// The first character of `text` and what could be its suffix: what one fault is about.
fn piece(text: &str) -> usize {
    let first = text.chars().next().map_or(0, char::len_utf8);
    let more = |c: char| c.is_numeric() || grammar::is_prime(c) || c == '^';
    let letter = text.find(|c: char| !c.is_numeric()).filter(|_| text.starts_with(char::is_numeric));
    let head = match letter {
        Some(at) => at + text[at..].chars().next().map_or(0, char::len_utf8),
        None => first,
    };
    let head = head + usize::from(text[head..].starts_with(['w', 'W']));
    head + text[head..].find(|c| !more(c)).unwrap_or(text.len() - head)
}

/// Whether every part of the chunk is a token.
pub(super) fn is_turns(chunk: &str) -> bool {
    count_tokens(chunk).is_some()
}

/// How many tokens the chunk is, if it is nothing else.
pub(crate) fn count_tokens(chunk: &str) -> Option<usize> {
    let mut rest = chunk;
    let mut count = 0;
    while let Ok((left, _)) = grammar::token(rest) {
        rest = left;
        count += 1;
    }
    rest.is_empty().then_some(count)
}

/// Whether the chunk looks like a word: letters in a row of which some are in no token, or small ones only.
pub(crate) fn is_word(chunk: &str) -> bool {
    let ordinal = chunk.trim_start_matches(|c: char| c.is_ascii_digit());
    if ordinal.len() < chunk.len() && ordinal.len() > 1 && ordinal.chars().all(char::is_lowercase) {
        return true;
    }
    chunk.split(|c: char| !c.is_alphabetic()).any(|letters| {
        let length = letters.chars().count();
        let foreign = !letters.chars().all(|c| "UDFBRLudfbrlMESxyzXYZwW".contains(c));
        let small = !letters.chars().any(char::is_uppercase);
        length >= 3 && (foreign || small && letters.len() == chunk.len()) || length == 2 && foreign && small
    })
}

/// At most 40 characters of `text`, for a message.
pub(crate) fn shorten(text: &str) -> String {
    let mut short: String = text.chars().take(40).collect();
    if short.len() < text.len() {
        short.push('…');
    }
    short
}

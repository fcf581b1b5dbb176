//! What is worth telling a person about their text: plain data, drawn elsewhere.

use std::fmt;
use std::ops::Range;
use std::sync::OnceLock;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// A stretch of a source text, in bytes from its beginning; `start <= end`, both on character borders.
#[derive(
    Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default, Deserialize, JsonSchema, Serialize,
)]
pub struct Span {
    /// The first byte.
    pub start: usize,
    /// One past the last byte.
    pub end: usize,
}

impl fmt::Display for Severity {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Severity::Note => "note",
            Severity::Fault => "fault",
        })
    }
}

impl Span {
    /// The span from `start` up to and not including `end`.
    #[must_use]
    pub const fn new(start: usize, end: usize) -> Span {
        Span { start, end }
    }

    /// The bytes it covers.
    #[must_use]
    pub const fn range(self) -> Range<usize> {
        self.start..self.end
    }

    /// From the beginning of this one to the end of `other`.
    #[must_use]
    pub const fn to(self, other: Span) -> Span {
        Span { start: self.start, end: other.end }
    }
}

/// A text and the name it is reported under (a path, or `-` for standard input).
#[derive(Debug, Clone)]
pub struct Source {
    /// The name a message begins with.
    pub name: String,
    /// The whole text; every [`Span`] counts from its first byte. To read another text make another source:
    /// this one remembers where its lines begin.
    pub text: String,
    /// The offset at which each line begins, found when the first place is asked for. A file may have ten
    /// thousand records with a message each; counting lines from its beginning every time would not do.
    lines: OnceLock<Vec<usize>>,
}

impl PartialEq for Source {
    fn eq(&self, other: &Source) -> bool {
        (&self.name, &self.text) == (&other.name, &other.text)
    }
}

impl Eq for Source {}

/// The largest file that is read, in bytes: a thousand solves fit in it.
pub const MAX_SOURCE_BYTES: usize = 1 << 20;

impl Source {
    /// A text under a name.
    #[must_use]
    pub fn new(name: impl Into<String>, text: impl Into<String>) -> Source {
        Source { name: name.into(), text: text.into(), lines: OnceLock::new() }
    }

    /// Line and column of a byte offset, both from 1; the column counts characters. An offset past the end
    /// is taken as the end, one inside a character as that character. A byte order mark has no column.
    #[must_use]
    pub fn position(&self, offset: usize) -> (usize, usize) {
        let offset = floor(&self.text, offset);
        let line = self.line_of(offset);
        let before = &self.text[self.line_starts()[line]..offset];
        let column = 1 + before.chars().count() - before.matches(BYTE_ORDER_MARK).count();
        (line + 1, column)
    }

    /// The whole lines that a span touches, without the last line end; the second value is the number of the
    /// first of them, from 1.
    pub(crate) fn whole_lines(&self, span: Span) -> (Span, usize) {
        let starts = self.line_starts();
        let (first, last) = (self.line_of(span.start), self.line_of(span.end));
        let end = starts.get(last + 1).map_or(self.text.len(), |next| next - 1);
        (Span::new(starts[first], end), first + 1)
    }

    /// The index of the line that an offset is on.
    fn line_of(&self, offset: usize) -> usize {
        // The first line begins at 0, so there is always one before.
        self.line_starts().partition_point(|&start| start <= offset) - 1
    }

    fn line_starts(&self) -> &[usize] {
        self.lines.get_or_init(|| {
            let ends = self.text.bytes().enumerate().filter(|&(_, byte)| byte == b'\n');
            std::iter::once(0).chain(ends.map(|(at, _)| at + 1)).collect()
        })
    }

    /// The span moved onto the text and onto character borders.
    #[must_use]
    pub fn clamp(&self, span: Span) -> Span {
        let start = floor(&self.text, span.start);
        let mut end = span.end.clamp(start, self.text.len());
        while !self.text.is_char_boundary(end) {
            end += 1;
        }
        Span { start, end }
    }
}

/// What some editors write at the beginning of a file. It stays in [`Source::text`] and is skipped there.
pub(crate) const BYTE_ORDER_MARK: char = '\u{FEFF}';

/// The last character border at or before `offset`.
fn floor(text: &str, offset: usize) -> usize {
    let mut at = offset.min(text.len());
    while !text.is_char_boundary(at) {
        at -= 1;
    }
    at
}

/// How bad it is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Deserialize, JsonSchema, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Severity {
    /// Understood all the same: a leniency used, a claim that does not hold. `--strict` makes it a fault.
    Note,
    /// Not understood, or contradictory. What comes before it still counts.
    Fault,
}

/// A stretch of text and what is to be said of it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Label {
    /// Where.
    pub span: Span,
    /// What stands under the caret; may be empty.
    pub text: String,
}

/// One message about one record or file.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Diagnostic {
    /// How bad it is.
    pub severity: Severity,
    /// A stable name for the kind of message, such as `token-unknown`; listed in `docs/messages.md`.
    pub code: &'static str,
    /// What was expected and what was found: lower case, no final point.
    pub message: String,
    /// The places, the main one first; empty only where there is no place to show.
    pub labels: Vec<Label>,
    /// What to write instead.
    pub help: Option<String>,
}

impl Diagnostic {
    /// A fault at one place.
    #[must_use]
    pub fn fault(code: &'static str, span: Span, message: impl Into<String>) -> Diagnostic {
        Diagnostic::new(Severity::Fault, code, span, message)
    }

    /// A note at one place.
    #[must_use]
    pub fn note(code: &'static str, span: Span, message: impl Into<String>) -> Diagnostic {
        Diagnostic::new(Severity::Note, code, span, message)
    }

    fn new(severity: Severity, code: &'static str, span: Span, message: impl Into<String>) -> Diagnostic {
        Diagnostic {
            severity,
            code,
            message: message.into(),
            labels: vec![Label { span, text: String::new() }],
            help: None,
        }
    }

    /// The same with words under the caret.
    #[must_use]
    pub fn labelled(mut self, text: impl Into<String>) -> Diagnostic {
        if let Some(label) = self.labels.first_mut() {
            label.text = text.into();
        }
        self
    }

    /// The same with one more place.
    #[must_use]
    pub fn also(mut self, span: Span, text: impl Into<String>) -> Diagnostic {
        self.labels.push(Label { span, text: text.into() });
        self
    }

    /// What `--strict` makes of it: a note becomes a fault.
    #[must_use]
    pub fn strict(mut self) -> Diagnostic {
        self.severity = Severity::Fault;
        self
    }

    /// Whether it is a fault.
    #[must_use]
    pub fn is_fault(&self) -> bool {
        self.severity == Severity::Fault
    }

    /// The main place, if there is one.
    #[must_use]
    pub fn span(&self) -> Option<Span> {
        self.labels.first().map(|label| label.span)
    }
}

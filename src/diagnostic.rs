//! What is worth telling a person about their text: plain data, drawn elsewhere.

use serde::Serialize;

/// A stretch of a source text, in bytes from its beginning; `start <= end`, both on character borders.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default, Serialize)]
pub struct Span {
    /// The first byte.
    pub start: usize,
    /// One past the last byte.
    pub end: usize,
}

impl Span {
    /// The span from `start` up to and not including `end`.
    #[must_use]
    pub const fn new(start: usize, end: usize) -> Span {
        Span { start, end }
    }
}

/// A text and the name it is reported under (a path, or `-` for standard input).
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Source {
    /// The name a message begins with.
    pub name: String,
    /// The whole text; every [`Span`] counts from its first byte.
    pub text: String,
}

/// How bad it is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
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

    /// The same with advice.
    #[must_use]
    pub fn with_help(mut self, help: impl Into<String>) -> Diagnostic {
        self.help = Some(help.into());
        self
    }

    /// The main place, if there is one.
    #[must_use]
    pub fn span(&self) -> Option<Span> {
        self.labels.first().map(|label| label.span)
    }
}

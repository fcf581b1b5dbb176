//! Turns as people write them: text to [`Turns`] with a span for everything, and back.

use crate::cube::Move;
use crate::diagnostic::Span;

/// One thing that takes a moment: a move, or something that stands where a move should.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Element {
    /// A turn or rotation.
    Move(Move),
    /// A token that could not be read; there is a fault that says why.
    Unreadable,
    /// `?`: exactly one token that the writer could not make out.
    Unknown,
    /// `...`: any number of tokens that the writer could not make out.
    Gap,
}

/// An [`Element`] and where it was written. Copies made by a group's count share one span.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Token {
    /// What it is.
    pub element: Element,
    /// Where it stands in the source.
    pub span: Span,
}

/// A time, in whole microseconds.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub struct Time(pub u64);

impl Time {
    /// In seconds.
    #[must_use]
    pub fn seconds(self) -> f64 {
        self.0 as f64 / 1e6
    }
}

/// A timing mark: what the clock said at a moment.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Mark {
    /// Between the tokens before and from this number on: 0 is before the first token.
    pub moment: usize,
    /// The clock.
    pub time: Time,
    /// The frame number, if the mark was given as one; such a time is good to one frame either way.
    pub frame: Option<u64>,
    /// Where it stands in the source.
    pub span: Span,
}

/// A comment, without its `//` or `#`, trimmed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Comment {
    /// After this many tokens.
    pub moment: usize,
    /// The writer's words.
    pub text: String,
    /// Where the words (with their `//` or `#`) stand in the source.
    pub span: Span,
}

/// A scramble or a solution, with groups multiplied out.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Turns {
    /// Everything that takes a moment, in order.
    pub tokens: Vec<Token>,
    /// The timing marks, in order; two may stand at one moment.
    pub marks: Vec<Mark>,
    /// The comments, in order.
    pub comments: Vec<Comment>,
    /// The whole text in the source.
    pub span: Span,
}

impl Turns {
    /// The moves up to the first thing that is not one.
    pub fn playable(&self) -> impl Iterator<Item = Move> {
        self.tokens.iter().map_while(|token| match token.element {
            Element::Move(mv) => Some(mv),
            _ => None,
        })
    }
}

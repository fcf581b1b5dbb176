//! Turns as people write them: text to [`Turns`] with a span for everything, and back.
//!
//! What is read, beside the plain form (`docs/record-format.md` has the grammar):
//!
//! * wide turns `Rw`, `r`, `2Rw`; slices `M E S`; rotations `x y z`; suffixes none, `2`, `'`, `2'`, `3`, `3'`;
//! * groups `( … )` with a count: `)3`, `) 3`, `)x3`, `) x 3`, `)*3`, nested at most [`MAX_DEPTH`] deep;
//! * timing marks `<00:03.420>`, `<3.42>`, `<205f>`; comments from `//` or `#` to the end of the line;
//! * `?` for one token that could not be made out, `...` for any number of them.
//!
//! Leniencies, each a note with its place: typographic primes, backticks and quotes; tokens without a space
//! between; capital rotations and lower-case slices; `RW`, `rw`; `R'2`, `R'w`, `R1`, `Ri`, `R²`, `R '`;
//! separators between phrases; square brackets; `(R U)'`; `) x2` (read as the rotation); other ways to write
//! a time; `1.` and `Cross:` before the turns of a line, `(6)` behind them.
//!
//! Anything else is a fault. What cannot be read becomes [`Element::Unreadable`] and reading goes on after
//! it. A lower-case `r` is the wide turn, as the trade writes it; the Regulations' Fewest-Moves judging
//! (E2c6+ of 2026) reads it as `R`.
//!
//! ```
//! use cornerwise::notation::{self, Options};
//!
//! let (turns, said) = notation::parse_all("x2 y // inspection\n(R U R' U’)2 <3.42>", &Options::default());
//! assert_eq!(turns.tokens.len(), 10);
//! assert_eq!(turns.comments[0].text, "inspection");
//! assert_eq!(turns.marks[0].time.to_string(), "3.42");
//! assert_eq!(said[0].code, "prime-typographic");
//! assert_eq!(notation::print(&turns), "x2 y // inspection\nR U R' U' R U R' U' <3.42>");
//! ```

mod grammar;
mod groups;
mod heads;
mod marks;
mod print;
mod read;
mod say;
mod spelling;
mod suggest;

pub(crate) use grammar::is_prime;
pub(crate) use groups::tail_of;
pub(crate) use heads::is_stage;
pub(crate) use marks::read_time;
pub use print::{print, print_as_written};
pub use read::{Options, parse, parse_all};
pub(crate) use read::{count_tokens, is_word, shorten};
pub(crate) use say::MAX_FAULTS;
pub use spelling::{Group, Spelling};

/// How deep groups may nest.
pub const MAX_DEPTH: usize = 64;

/// How many tokens a scramble or a solution may have, with its groups multiplied out.
pub const MAX_TOKENS: usize = 10_000;

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
    /// How it is spelled, where there is more than one way.
    pub spelling: Spelling,
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

/// A line break between tokens, marks or comments.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Break {
    /// After this many tokens.
    pub moment: usize,
    /// Where it stands in the source; orders it among the marks and comments of the same moment.
    pub at: usize,
}

/// A scramble or a solution, with groups multiplied out.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Turns {
    /// Everything that takes a moment, in order.
    pub tokens: Vec<Token>,
    /// The timing marks, in order, their times never decreasing; two may stand at one moment. A mark with a
    /// fault (running backwards, inside a repeated group, in frames without `fps`) is not among them.
    pub marks: Vec<Mark>,
    /// The comments, in order.
    pub comments: Vec<Comment>,
    /// Where the writer began a new line, in order; [`print()`] keeps them.
    pub breaks: Vec<Break>,
    /// The groups, in the order in which they close, with those inside of one that repeats only for its first time.
    pub groups: Vec<Group>,
    /// What stands at each [`Element::Unreadable`], in order of the source.
    pub unread: Vec<(Span, String)>,
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

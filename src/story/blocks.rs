//! What a person reads, before it is known where: blocks of words and figures.
//!
//! A block says what a thing *is* (a heading, a row of figures, a sequence of turns that must not be torn), never
//! how it looks. Writers turn blocks into text, Markdown or a page; they know their medium and no cubes.

use std::borrow::Cow;

use crate::cube::{Colour, PairName};

/// A stretch of words with one meaning.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Run {
    /// Plain words; a line may be broken at their spaces.
    Words(String),
    /// Names and titles.
    Strong(String),
    /// Legends, settings: what may be passed over.
    Dim(String),
    /// A stop, or the sign of one.
    Stop(String),
    /// What is wrong.
    Fault(String),
    /// A pair's name; never torn.
    Pair(PairName),
    /// The same at the beginning of a sentence.
    PairFirst(PairName),
    /// The name of a colour.
    Colour(Colour),
    /// A word of the glossary.
    Term(&'static str),
    /// Tokens as written, parted by spaces; torn only if no line could hold them whole.
    Turns(String),
}

/// Runs one after the other. Spaces between runs are part of their words.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Phrase {
    /// The runs, in order.
    pub runs: Vec<Run>,
}

/// One thing to read.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Block {
    /// The first line of a story, with a figure at the far end of the line.
    Title {
        /// Whose solve.
        words: Phrase,
        /// How long.
        figure: String,
    },
    /// A heading over what follows.
    Heading(String),
    /// A paragraph.
    Paragraph(Phrase),
    /// Sentences, each with a figure before it.
    Items(Vec<Item>),
    /// Rows of figures.
    Table(Table),
    /// One step.
    Step(StepBlock),
    /// The place of the lanes: every medium draws its own.
    Lanes,
    /// An empty line, or what stands for one.
    Gap,
}

/// A sentence with the figure or the word that it hangs on.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Item {
    /// `0.92 s`, or the name of a step.
    pub figure: String,
    /// The sentence.
    pub words: Phrase,
    /// The moment of the solve it is about.
    pub moment: Option<usize>,
}

/// Figures in rows.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Table {
    /// The columns, from left to right.
    pub columns: Vec<Column>,
    /// The rows, each with a cell a column.
    pub rows: Vec<Vec<Phrase>>,
    /// The sums that stand below the rows.
    pub sums: Option<Vec<Phrase>>,
    /// What the signs in the cells mean.
    pub key: Vec<Phrase>,
}

/// A column of a table.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Column {
    /// What stands above it.
    pub title: String,
    /// What stands above it and its right neighbour together.
    pub over: Option<String>,
    /// Whether it holds figures, which stand to the right.
    pub figures: bool,
    /// Whether it may be left out where there is no room for all; the last one that may goes first.
    pub may_go: bool,
}

impl Column {
    /// What stands above it, in one line; nothing where it has no name.
    #[must_use]
    pub fn heading(&self) -> String {
        match &self.over {
            Some(over) => format!("{over} {}", self.title),
            None => self.title.clone(),
        }
    }
}

/// One step: a head line, then what is to be said of it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct StepBlock {
    /// `pair 2`, `OLL 38`.
    pub name: String,
    /// What it solves.
    pub what: Phrase,
    /// Its tokens as written.
    pub tokens: String,
    /// Turns, seconds, turns a second.
    pub figures: Vec<String>,
    /// The moment it begins.
    pub from: usize,
    /// The moment it ends.
    pub to: usize,
    /// What is to be said.
    pub lines: Vec<Line>,
}

/// A labelled line of a step.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Line {
    /// One word, or none where the line goes on with what the one above says.
    pub label: &'static str,
    /// What stands behind it.
    pub body: Body,
}

/// What stands behind a label.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Body {
    /// Sentences.
    Words(Phrase),
    /// Cells that stand below those of other lines; the last one to the right.
    Cells(Vec<Phrase>),
}

impl Phrase {
    /// No words.
    #[must_use]
    pub const fn new() -> Phrase {
        Phrase { runs: Vec::new() }
    }

    /// Plain words.
    #[must_use]
    pub fn words(words: impl Into<String>) -> Phrase {
        Phrase::new().and(words)
    }

    /// With plain words added.
    #[must_use]
    pub fn and(self, words: impl Into<String>) -> Phrase {
        self.run(Run::Words(words.into()))
    }

    /// With the name of a pair added.
    #[must_use]
    pub fn pair(self, pair: PairName) -> Phrase {
        self.run(Run::Pair(pair))
    }

    /// With the names of pairs added: `green-red and blue-red`.
    #[must_use]
    pub fn pairs(mut self, pairs: &[PairName]) -> Phrase {
        for (i, &pair) in pairs.iter().enumerate() {
            self = match i {
                0 => self,
                _ if i + 1 == pairs.len() => self.and(" and "),
                _ => self.and(", "),
            };
            self = self.pair(pair);
        }
        self
    }

    /// With turns added.
    #[must_use]
    pub fn turns(self, turns: impl ToString) -> Phrase {
        self.run(Run::Turns(turns.to_string()))
    }

    /// With a run added.
    #[must_use]
    pub fn run(mut self, run: Run) -> Phrase {
        if !run.is_empty() {
            self.runs.push(run);
        }
        self
    }

    /// With another phrase added.
    #[must_use]
    pub fn then(mut self, other: Phrase) -> Phrase {
        self.runs.extend(other.runs);
        self
    }

    /// The same inside a sentence: a pair at its beginning is not capitalised.
    #[must_use]
    pub fn inside(mut self) -> Phrase {
        if let Some(Run::PairFirst(pair)) = self.runs.first() {
            self.runs[0] = Run::Pair(*pair);
        }
        self
    }

    /// Whether there is nothing to read.
    #[must_use]
    pub const fn is_empty(&self) -> bool {
        self.runs.is_empty()
    }

    /// The words alone.
    #[must_use]
    pub fn plain(&self) -> Cow<'_, str> {
        match &self.runs[..] {
            [one] => one.plain(),
            runs => runs.iter().map(Run::plain).collect::<String>().into(),
        }
    }
}

impl Run {
    fn is_empty(&self) -> bool {
        match self {
            Run::Words(text)
            | Run::Strong(text)
            | Run::Dim(text)
            | Run::Stop(text)
            | Run::Fault(text)
            | Run::Turns(text) => text.is_empty(),
            Run::Pair(_) | Run::PairFirst(_) | Run::Colour(_) | Run::Term(_) => false,
        }
    }

    /// The words alone.
    #[must_use]
    pub fn plain(&self) -> Cow<'_, str> {
        match self {
            Run::Words(text)
            | Run::Strong(text)
            | Run::Dim(text)
            | Run::Stop(text)
            | Run::Fault(text)
            | Run::Turns(text) => text.into(),
            Run::Pair(pair) => pair.to_string().into(),
            Run::PairFirst(pair) => {
                let name = pair.to_string();
                (name[..1].to_uppercase() + &name[1..]).into()
            }
            Run::Colour(colour) => colour.name().into(),
            Run::Term(word) => (*word).into(),
        }
    }
}

impl From<&str> for Phrase {
    fn from(words: &str) -> Phrase {
        Phrase::words(words)
    }
}

impl From<String> for Phrase {
    fn from(words: String) -> Phrase {
        Phrase::words(words)
    }
}

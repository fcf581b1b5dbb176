//! A reconstruction: one scramble, one solution, and what its writer noted of them.
//!
//! A file holds one record or many, separated by lines `---`. A record is a YAML mapping, or plain text: the
//! first paragraph is the scramble, the rest the solution. `docs/record-format.md` has the grammar.
//!
//! [`read()`] never fails as a whole. A fault in one record does not touch the others, and what stands before
//! and after a fault is still read. Every span counts from the beginning of the
//! [`Source`](crate::diagnostic::Source), also inside YAML strings of any style.
//!
//! Leniencies beside those of the [notation](crate::notation), each a note: field names in capitals;
//! `Scramble:` before otherwise plain text; a missing blank line between scramble and solution; `u f r` for
//! `UFR`; a date that is not `YYYY-MM-DD`.
//!
//! ```
//! use cornerwise::diagnostic::Source;
//! use cornerwise::record;
//!
//! let source = Source::new("mine", "scramble: R U F\nsolution: |\n  F' // back\n  U' R'\ntime: 1.98\n");
//! let reading = record::read(&source);
//! let record = &reading.records[0];
//! assert!(record.diagnostics.is_empty());
//! assert_eq!(record.solution.tokens.len(), 3);
//! assert_eq!(&source.text[record.solution.tokens[1].span.range()], "U'");
//! ```

mod bytes;
mod document;
mod fields;
mod pasted;
mod print;
mod read;
mod until;
mod values;
mod yaml;

pub use print::{print, print_as_written};
pub use read::{MAX_RECORDS, Options, Reading, read, read_with};
pub use until::{ParseUntilError, Until};
pub use values::is_date;

use crate::cube::{Face, FaceSet};
use crate::diagnostic::{Diagnostic, Span};
use crate::findings;
use crate::hands::Hands;
use crate::notation::{Time, Turns};

/// The faces a solver sees without tilting the cube.
pub const DEFAULT_SIGHT: FaceSet = FaceSet::of(&[Face::U, Face::F, Face::R]);

/// How a value is written in YAML. Whoever puts tokens into it has to know.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub enum Style {
    /// Without quotes; also the turns of a plain text.
    #[default]
    Plain,
    /// A block behind `|`.
    Literal,
    /// A block behind `>`.
    Folded,
    /// In single quotes: a prime is written `''`.
    SingleQuoted,
    /// In double quotes.
    DoubleQuoted,
}

/// One reconstruction as read.
#[derive(Debug, Clone, PartialEq)]
pub struct Record {
    /// The writer's title.
    pub title: Option<String>,
    /// The writer's label of whose solve it is.
    pub solver: Option<String>,
    /// As written, `YYYY-MM-DD`.
    pub date: Option<String>,
    /// The scramble, played white up, green in front.
    pub scramble: Turns,
    /// How the scramble is written.
    pub scramble_style: Style,
    /// The solution.
    pub solution: Turns,
    /// How the solution is written.
    pub solution_style: Style,
    /// The faces the solver sees: as given, else [`DEFAULT_SIGHT`].
    pub sight: FaceSet,
    /// Where the writer gave `sight`, if they did.
    pub sight_given: Option<Span>,
    /// The hands that turn.
    pub hands: Hands,
    /// Video frames a second, where marks are given in frames; above 0.
    pub fps: Option<f64>,
    /// Where the writer gave `fps`, if they did.
    pub fps_given: Option<Span>,
    /// The timer's result, and where it was written.
    pub time: Option<(Time, Span)>,
    /// Where the record is meant to end, if not with a solved cube, and where it was written.
    pub until: Option<(Until, Span)>,
    /// The writer's remarks.
    pub notes: Option<String>,
    /// Comments that stand outside the turns, without their `#` or `//`, in order.
    pub remarks: Vec<String>,
    /// Where the whole record stands in the source.
    pub span: Span,
    /// Everything worth saying of the text, in the order of the source.
    pub diagnostics: Vec<Diagnostic>,
}

/// Whether a document is meant as YAML.
pub(crate) fn is_mapping(text: &str) -> bool {
    document::is_mapping(text)
}

/// A result as it stands in a pasted text.
pub(crate) fn pasted_time(text: &str, span: Span, said: &mut Vec<Diagnostic>) -> Option<Time> {
    values::time(text, span, said)
}

/// The value of `sight`, `hands` or `fps` in a pasted text.
pub(crate) fn pasted_field(record: &mut Record, name: &str, value: &str, span: Span) -> Vec<Diagnostic> {
    let mut said = Vec::new();
    match name {
        "sight" => {
            if let Some(faces) = values::sight(value, span, false, &mut said) {
                (record.sight, record.sight_given) = (faces, Some(span));
            }
        }
        "hands" => record.hands = values::hands(value, span, &mut said),
        _ => {
            record.fps = values::fps(value, span, &mut said);
            record.fps_given = Some(span);
        }
    }
    said
}

/// Says so if a record of a pasted text has no scramble or no solution.
pub(crate) fn require_pasted(source: &str, record: &mut Record) {
    values::note_marks(&record.scramble, &mut record.diagnostics);
    values::require_turns(source, record, [None, None], findings::solution_missing_in_text());
}

/// Reads a set of faces as `sight` takes it, such as `UFRL`.
///
/// # Errors
/// The fault that a record with this `sight` would have.
pub fn faces(text: &str) -> Result<FaceSet, Box<Diagnostic>> {
    let mut said = Vec::new();
    let faces = values::sight(text, Span::new(0, text.len()), true, &mut said);
    match (faces, said.into_iter().find(Diagnostic::is_fault)) {
        (_, Some(fault)) => Err(Box::new(fault)),
        (faces, None) => Ok(faces.unwrap_or(DEFAULT_SIGHT)),
    }
}

impl Record {
    /// A record with nothing in it, standing at `span`.
    #[must_use]
    pub fn empty(span: Span) -> Record {
        Record {
            title: None,
            solver: None,
            date: None,
            scramble: Turns::default(),
            scramble_style: Style::default(),
            solution: Turns::default(),
            solution_style: Style::default(),
            sight: DEFAULT_SIGHT,
            sight_given: None,
            hands: Hands::default(),
            fps: None,
            fps_given: None,
            time: None,
            until: None,
            notes: None,
            remarks: Vec::new(),
            span,
            diagnostics: Vec::new(),
        }
    }

    /// Whether anything in the text was not understood.
    #[must_use]
    pub fn has_fault(&self) -> bool {
        self.diagnostics.iter().any(Diagnostic::is_fault)
    }
}

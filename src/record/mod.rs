//! A reconstruction: one scramble, one solution, and what its writer noted of them.

use crate::cube::FaceSet;
use crate::diagnostic::{Diagnostic, Span};
use crate::notation::{Time, Turns};

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
    /// The solution.
    pub solution: Turns,
    /// The faces the solver sees.
    pub sight: FaceSet,
    /// Video frames a second, where marks are given in frames.
    pub fps: Option<f64>,
    /// The timer's result, and where it was written.
    pub time: Option<(Time, Span)>,
    /// The writer's remarks.
    pub notes: Option<String>,
    /// Where the whole record stands in the source.
    pub span: Span,
    /// Everything worth saying of the text, in the order of the source.
    pub diagnostics: Vec<Diagnostic>,
}

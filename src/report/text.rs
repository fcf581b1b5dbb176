//! The annotated solve for people, in a terminal or a file: readable at 80 columns and without colour.

use super::look::Look;
use super::{lanes, typeset};
use crate::annotation::Annotation;
use crate::story::{self, Told};

/// What to print of a solve.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Show {
    /// How much of it.
    pub told: Told,
    /// Whether to say what the signs mean: once a run.
    pub legend: bool,
    /// Whether to say, where other lines are shown, how to set the position up on a solved cube.
    pub setup: bool,
}

impl Default for Show {
    fn default() -> Show {
        Show { told: Told::Whole, legend: true, setup: false }
    }
}

/// The whole solve as text, ending with a line feed.
#[must_use]
pub fn render(annotation: &Annotation, show: Show, look: &Look) -> String {
    let blocks = story::solve(annotation, show.told, show.legend, show.setup);
    typeset::set(&blocks, look, &|look| lanes::draw(annotation, show.legend, look))
}

/// One solve looked at with several sets of faces in sight, as text, ending with a line feed.
#[must_use]
pub fn grips(seen: &[Annotation], look: &Look) -> String {
    typeset::set(&story::grips(seen), look, &|_| String::new())
}

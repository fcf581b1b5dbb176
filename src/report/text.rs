//! The annotated solve for people, in a terminal or a file: readable at 80 columns and without colour.

mod choice;
mod head;
mod step;

use crate::annotation::Annotation;

use super::lanes;
use super::look::Look;

/// Which steps to print.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Selection {
    /// All of them.
    #[default]
    All,
    /// The cross and the pair steps: those that have a next pair.
    Pairs,
    /// A line a step.
    Brief,
}

/// What to print of a solve.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Show {
    /// Which steps.
    pub steps: Selection,
    /// Whether to say, where other lines are shown, how to set the position up on a solved cube.
    pub setup: bool,
}

/// The whole solve as text, ending with a line feed.
#[must_use]
pub fn render(annotation: &Annotation, show: Show, look: &Look) -> String {
    let selection = show.steps;
    let mut out = head::render(annotation, look);
    if selection != Selection::Brief {
        out.push_str(&lanes::draw(annotation, look));
    }
    if selection == Selection::Brief {
        out.push_str(&step::brief_heading(look));
    }
    for step in &annotation.steps {
        match selection {
            Selection::Brief => out.push_str(&step::brief(step, look)),
            Selection::Pairs if step.scan.is_none() && step.pairs.is_empty() => {}
            _ => {
                out.push_str(&step::render(step, look));
                if show.setup && step.choice.as_ref().is_some_and(|choice| !choice.alternatives.is_empty()) {
                    out.push_str(&step::labelled("set up", &setup(annotation, step.from), look));
                }
            }
        }
    }
    out.push_str(&head::closing(annotation, look));
    out
}

/// What to play on a solved cube, white up and green in front, to be where the solver was at this moment.
fn setup(annotation: &Annotation, moment: usize) -> String {
    let tokens = annotation.moments[1..=moment].iter().filter_map(|moment| moment.token);
    let tokens = tokens.map(|token| token.to_string());
    std::iter::once(annotation.scramble.clone()).chain(tokens).collect::<Vec<_>>().join(" ")
}

/// `1 turn`, `7 turns`.
fn count(n: usize, one: &str) -> String {
    if n == 1 { format!("1 {one}") } else { format!("{n} {one}s") }
}

//! A comparison for people, in a terminal or a file: who, where the difference went, where they part, a row a part; then
//! every step with the sides below each other.

mod best;

pub use best::render as best;

use super::look::{Look, columns};
use super::typeset;
use crate::diff::Comparison;
use crate::story::Told;
use crate::story::blocks::Block;
use crate::story::comparison as story;

/// The comparison as text, ending with a line feed.
#[must_use]
pub fn render(comparison: &Comparison, told: Told, look: &Look) -> String {
    let mut blocks = story::comparison(comparison);
    if told == Told::Whole && comparison.different {
        for row in &comparison.rows {
            let steps = story::steps(comparison, row);
            blocks.extend((!steps.is_empty()).then_some(Block::Gap));
            blocks.extend(steps.into_iter().map(|step| Block::Step(step.block)));
        }
    }
    typeset::set(&blocks, look, &|_| String::new())
}

/// The text padded on the right to so many columns; escapes take none.
fn padded(text: &str, width: usize) -> String {
    format!("{text}{}", " ".repeat(width.saturating_sub(columns(text))))
}

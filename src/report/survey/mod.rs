//! Surveys for people: text and Markdown, set from the same blocks; [`csv`] for a spreadsheet; the page is
//! [`html::survey`](super::html::survey).

pub mod csv;

use super::look::Look;
use super::{markdown, typeset};
use crate::story::blocks::Block;

/// Blocks as text.
#[must_use]
pub fn text(blocks: &[Block], look: &Look) -> String {
    typeset::set(blocks, look, &|_| String::new())
}

/// Blocks as CommonMark with tables.
#[must_use]
pub fn markdown(blocks: &[Block]) -> String {
    let text: String = blocks.iter().map(|block| markdown::blocks::block(block, 2)).collect();
    text.trim_end().to_owned() + "\n"
}

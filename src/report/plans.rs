//! Plans, [as facts](crate::plan::Plan), printed: text and Markdown.

use super::look::Look;
use super::{markdown, typeset};
use crate::plan::Plan;
use crate::story;

/// One plan as text, ending with a line feed.
#[must_use]
pub fn text(plan: &Plan, look: &Look) -> String {
    typeset::set(&story::planned(plan), look, &|_| String::new())
}

/// Plans as CommonMark with tables, one below the other.
#[must_use]
pub fn markdown(plans: &[Plan]) -> String {
    let blocks = plans.iter().flat_map(story::planned);
    let text: String = blocks.map(|block| markdown::blocks::block(&block, 2)).collect();
    format!("{}\n", text.trim_end())
}

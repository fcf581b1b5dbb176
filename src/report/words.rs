//! Words and figures that several views share, so that they say the same thing the same way.

use crate::annotation::Step;
use crate::cube::PairName;
use crate::scan::Tier;
pub use crate::story::found::{capital, found, measured, turns, when};
pub use crate::words::and as list;

/// The word for what a step left of a pair.
#[must_use]
pub const fn left(ready: bool) -> &'static str {
    if ready { "ready" } else { "late" }
}

/// What a tier means, in a few words.
#[must_use]
pub const fn tier_meaning(tier: Tier) -> &'static str {
    match tier {
        Tier::Top => "in the top layer",
        Tier::Target => "in the slot this step fills, so it comes out",
        Tier::Lifted => "in another open slot, and these turns bring it out",
        Tier::Slot => "in another open slot, and it stays there",
    }
}

/// The items with something between.
#[must_use]
pub fn joined<T: ToString>(items: &[T], between: &str) -> String {
    items.iter().map(T::to_string).collect::<Vec<_>>().join(between)
}

/// The heading of a step: its name, and the pairs it solves.
#[must_use]
pub fn heading(step: &Step) -> String {
    let detail = list::<PairName>(&step.pairs);
    let title = capital(&step.title());
    if detail.is_empty() { title } else { format!("{title}: {detail}") }
}

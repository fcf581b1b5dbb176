//! Words and figures that several views share, so that they say the same thing the same way.

use crate::annotation::{Annotation, Cause, Offer, Step, Verdict};
use crate::cube::PairName;
use crate::scan::Tier;
pub use crate::story::found::{capital, turns, when};
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

/// The word for a tier.
#[must_use]
pub const fn tier(tier: Tier) -> &'static str {
    tier.word()
}

/// The word for a verdict.
#[must_use]
pub const fn verdict(verdict: Verdict) -> &'static str {
    match verdict {
        Verdict::Kept => "kept",
        Verdict::Avoidable => "avoidable",
        Verdict::Forced => "forced",
    }
}

/// The word for a cause.
#[must_use]
pub const fn cause(cause: Cause) -> &'static str {
    cause.word()
}

/// What a cause means, in a few words.
#[must_use]
pub const fn cause_meaning(cause: Cause) -> &'static str {
    cause.meaning()
}

/// Seconds with two decimals and their unit.
#[must_use]
pub fn seconds(seconds: f64) -> String {
    format!("{seconds:.2} s")
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

/// The whole solve's figures: cross colour, how it ended, turns, time.
#[must_use]
pub fn facts(annotation: &Annotation) -> Vec<String> {
    let mut out = Vec::new();
    if let Some(cross) = &annotation.cross {
        out.push(format!("{cross} cross"));
    }
    out.push(match &annotation.end.missing {
        Some(turn) => format!("one turn short of solved ({turn}): +2 seconds"),
        None => annotation.end.judged.to_string(),
    });
    out.push(turns(annotation.obtm));
    if let Some(time) = annotation.seconds {
        out.push(seconds(time));
    }
    if let Some(rate) = annotation.timing.turns_per_second {
        out.push(format!("{rate:.1} a second"));
    }
    out
}

/// What to call the solve: its title, else its file and number.
#[must_use]
pub fn title(annotation: &Annotation) -> String {
    annotation.heading()
}

/// When a pair was found, in words that stand alone.
#[must_use]
pub fn found(offer: &Offer) -> String {
    crate::story::found::found(offer)
}

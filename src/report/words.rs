//! Words and figures that several views share, so that they say the same thing the same way.

use crate::annotation::{Annotation, Cause, Outcome, Step, Verdict};
use crate::scan::Tier;

/// The word for an outcome; a dash where there is none to tell.
#[must_use]
pub const fn outcome(outcome: Option<Outcome>) -> &'static str {
    match outcome {
        Some(Outcome::Ready) => "ready",
        Some(Outcome::Up) => "up",
        Some(Outcome::Down) => "down",
        None => "–",
    }
}

/// What an outcome means, in a few words.
#[must_use]
pub const fn outcome_meaning(outcome: Outcome) -> &'static str {
    match outcome {
        Outcome::Ready => "its corner is up, and corner and edge were seen in time",
        Outcome::Up => "its corner is up, but it or its edge was not seen in time",
        Outcome::Down => "its corner is down",
    }
}

/// The word for a tier.
#[must_use]
pub const fn tier(tier: Tier) -> &'static str {
    match tier {
        Tier::Top => "top",
        Tier::Target => "target",
        Tier::Lifted => "lifted",
        Tier::Open => "open",
    }
}

/// What a tier means, in a few words.
#[must_use]
pub const fn tier_meaning(tier: Tier) -> &'static str {
    match tier {
        Tier::Top => "in the top layer",
        Tier::Target => "in the slot this step fills, so it comes out",
        Tier::Lifted => "in another open slot, and these turns bring it out",
        Tier::Open => "in another open slot, and it stays there",
    }
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
    match cause {
        Cause::Attention => "attention",
        Cause::View => "view",
        Cause::Choice => "choice",
        Cause::Position => "position",
        Cause::Down => "down",
    }
}

/// `1 turn`, `3 turns`.
#[must_use]
pub fn turns(n: usize) -> String {
    if n == 1 { "1 turn".into() } else { format!("{n} turns") }
}

/// Seconds with two decimals and their unit.
#[must_use]
pub fn seconds(seconds: f64) -> String {
    format!("{seconds:.2} s")
}

/// When, within a step, a moment is: `at the start`, `after R' (3 of 8)`, `at the end`.
#[must_use]
pub fn when(annotation: &Annotation, step: &Step, moment: Option<usize>) -> String {
    match moment {
        None => "never".into(),
        Some(moment) if moment <= step.from => "at the start".into(),
        Some(moment) => {
            let token = annotation.moments.get(moment).and_then(|m| m.token.as_deref()).unwrap_or("?");
            format!("after {token} ({} of {})", moment - step.from, step.to - step.from)
        }
    }
}

/// A sentence begins with a capital letter.
#[must_use]
pub fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

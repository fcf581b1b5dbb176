//! When a pair was found, in the only five forms there are: `at once`, `4 to go`, either with `deduced`;
//! `late, 0 to go`; `late, edge not found`. A late pair may add its verdict, or `no stop`, or `other ready`.

use crate::annotation::{Annotation, Cause, Offer, Step, Verdict};

/// `4 to go, deduced`, `late, corner not found`.
#[must_use]
pub fn found(offer: &Offer) -> String {
    let mut words = found_so(&HowFound {
        ready: offer.ready,
        at_once: offer.at_once,
        deduced: offer.deduced,
        told_lead: offer.told_lead,
        lead: offer.lead,
        corner: offer.corner.found().is_some(),
        edge: offer.edge.found().is_some(),
    });
    if offer.buried {
        words.push_str(", buried");
    }
    words
}

/// What of a pair's finding is told.
#[derive(Debug, Clone, Copy)]
pub struct HowFound {
    /// Whether it was found in time.
    pub ready: bool,
    /// Before the first turn.
    pub at_once: bool,
    /// Only by working something out.
    pub deduced: bool,
    /// Turns to go as it is told.
    pub told_lead: Option<usize>,
    /// Turns to go when both pieces had been found.
    pub lead: Option<usize>,
    /// Whether its corner was found at all.
    pub corner: bool,
    /// Whether its edge was.
    pub edge: bool,
}

/// The same of whatever tells it.
#[must_use]
pub fn found_so(how: &HowFound) -> String {
    if !how.ready {
        return format!("late, {}", late(how));
    }
    let when = match how.told_lead {
        _ if how.at_once => "at once".into(),
        Some(lead) => format!("{lead} to go"),
        None => String::new(),
    };
    if how.deduced { format!("{when}, deduced") } else { when }
}

/// The same in the table of a story: a late pair with the verdict on the step before, where there is one. Where the hands
/// did not stop the flow was kept, and nothing is reproached; where another choice is behind the stop, that is said.
#[must_use]
pub fn found_and_judged(offer: &Offer, before: &Step, step: &Step) -> String {
    let verdict = before.choice.as_ref().and_then(|choice| choice.verdict).filter(|_| !offer.ready);
    match verdict {
        Some(Verdict::Avoidable | Verdict::Forced) if step.flowed() => "late, no stop".into(),
        None if !offer.ready && step.flowed() => "late, no stop".into(),
        Some(Verdict::Forced) if before.offers.iter().any(|other| !other.taken && other.ready) => {
            "late, other ready".into()
        }
        // Where the hands stopped for another reason, the reader would look for the way to avoid it in vain.
        Some(Verdict::Avoidable)
            if step.chose_worse() || step.stop_before().is_none() && before.instead().is_some() =>
        {
            "late, avoidable".into()
        }
        Some(Verdict::Avoidable) => found(&Offer { buried: false, ..offer.clone() }),
        // Nor of what eyes in another place would have found.
        Some(Verdict::Forced) if step.stop_before().is_some_and(|stop| stop.cause == Some(Cause::View)) => {
            found(&Offer { buried: false, ..offer.clone() })
        }
        Some(Verdict::Forced) => "late, forced".into(),
        _ => {
            let plain = Offer { buried: false, ..offer.clone() };
            found(&plain)
        }
    }
}

/// What was late about it.
fn late(how: &HowFound) -> String {
    match (how.lead, how.corner, how.edge) {
        (Some(lead), ..) => format!("{lead} to go"),
        (None, false, false) => "not found".into(),
        (None, false, _) => "corner not found".into(),
        (None, ..) => "edge not found".into(),
    }
}

/// When, within a step, a moment is, as a person counts it: `at once`, `after U2`, `after R, the last turn`. Where a
/// token stands more than once in the step, its number says which.
#[must_use]
pub fn when(annotation: &Annotation, step: &Step, moment: usize) -> String {
    if moment <= step.from {
        return "at once".into();
    }
    let token = |moment: usize| annotation.moments.get(moment).and_then(|m| m.spelled());
    let own = token(moment).unwrap_or_default();
    let again = (step.from + 1..=step.to).filter(|&other| token(other).as_deref() == Some(&own)).count() > 1;
    // A rotation is no turn, and is none of those that are counted.
    let is_turn = |&other: &usize| {
        annotation.moments.get(other).and_then(|moment| moment.token).is_some_and(|token| token.obtm() > 0)
    };
    let number = (step.from + 1..=moment).filter(is_turn).count();
    if again && is_turn(&moment) { format!("after {own}, turn {number}") } else { format!("after {own}") }
}

/// `1 turn`, `7 turns`.
#[must_use]
pub fn turns(n: usize) -> String {
    if n == 1 { "1 turn".into() } else { format!("{n} turns") }
}

/// `0.92 s`: measured.
#[must_use]
pub fn measured(seconds: f64) -> String {
    format!("{seconds:.2} s")
}

/// `0.5 s`: estimated; to stand with `about` or `or so`.
#[must_use]
pub fn estimated(seconds: f64) -> String {
    format!("{seconds:.1} s")
}

/// What a line costs more or less, without times: `about 1.5 turns`.
#[must_use]
pub fn about_turns(units: f64) -> String {
    let number = format!("{units:.1}");
    let number = number.strip_suffix(".0").unwrap_or(&number).to_owned();
    if number == "1" { "about 1 turn".into() } else { format!("about {number} turns") }
}

/// A sentence begins with a capital letter.
#[must_use]
pub fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

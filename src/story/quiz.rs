//! Questions to somebody who watches a solve: a step is in, which pair next? And what is said of each answer.

use super::blocks::{Phrase, Run};
use super::found::{estimated, found, turns};
use crate::annotation::{Annotation, Offer};
use crate::cube::{PairName, Place};

/// An answer that costs at most so many units more than the cheapest is as good.
pub const AS_GOOD: f64 = 1.0;

/// A question: what to take next, at the end of a step.
#[derive(Debug, Clone, PartialEq)]
pub struct Question {
    /// The step that is in.
    pub step: usize,
    /// The moment at which it is.
    pub moment: usize,
    /// What could be answered: every pair that is open there.
    pub answers: Vec<Answer>,
}

/// A pair that could be taken.
#[derive(Debug, Clone, PartialEq)]
pub struct Answer {
    /// The pair.
    pub pair: PairName,
    /// Where its corner is.
    pub corner: Place,
    /// Where its edge is.
    pub edge: Place,
    /// Whether it counts as right.
    pub right: bool,
    /// What is to be said of it.
    pub words: Phrase,
}

/// The questions of a solve, in order: one before each pair step.
#[must_use]
pub fn questions(annotation: &Annotation) -> Vec<Question> {
    let asked = annotation.steps.iter().enumerate().filter(|(_, step)| step.taken().is_some());
    asked
        .map(|(index, step)| {
            let right = right(&step.offers);
            let answers = step.offers.iter().map(|offer| Answer {
                pair: offer.pair,
                corner: offer.corner.to,
                edge: offer.edge.to,
                right: right.contains(&offer.pair),
                words: words(annotation, offer, right.contains(&offer.pair)),
            });
            Question { step: index, moment: step.to, answers: answers.collect() }
        })
        .collect()
}

/// The pairs that are as good as any: of those left ready the cheapest, and all that cost hardly more; where none is ready,
/// the same of all.
fn right(offers: &[Offer]) -> Vec<PairName> {
    let ready = offers.iter().any(|offer| offer.ready);
    let cost = |offer: &Offer| offer.line.as_ref().map_or(f64::INFINITY, |line| line.cost);
    let in_question = || offers.iter().filter(|offer| offer.ready || !ready);
    let least = in_question().map(cost).fold(f64::INFINITY, f64::min);
    in_question().filter(|offer| cost(offer) <= least + AS_GOOD).map(|offer| offer.pair).collect()
}

fn words(annotation: &Annotation, offer: &Offer, right: bool) -> Phrase {
    let mut words = Phrase::new().run(Run::PairFirst(offer.pair)).and(format!(": {}", found(offer)));
    if let Some(line) = &offer.line {
        let long = match annotation.timing.seconds_per_unit {
            Some(rate) => format!("about {}", estimated(line.cost * rate)),
            None => turns(line.obtm),
        };
        words = words.and("; ").turns(&line.text).and(format!(", {long}"));
    }
    if !right && offer.ready {
        words = words.and(", and another that is ready costs clearly less");
    }
    words = words.and(".");
    if offer.taken { words.and(" It was taken.") } else { words }
}

//! What a coach would say aloud of the whole solve, a sentence each.

use super::{time, words};
use crate::annotation::{Outcome, Step, Timing};

pub(super) fn sentences(steps: &[Step], timing: &Timing) -> Vec<String> {
    let mut sentences = Vec::new();
    let nexts: Vec<_> = steps.iter().filter_map(|step| time::better_off(&step.next)).collect();
    if !nexts.is_empty() {
        let n = nexts.len();
        let left = |outcome| nexts.iter().filter(|next| next.outcome == Some(outcome)).count();
        let leads: Vec<usize> = nexts.iter().filter_map(|next| next.lead).collect();
        let mut sentence = format!(
            "Of {} with a pair to come, {} left it ready, {} up and {} down",
            if n == 1 { "1 step".into() } else { format!("{n} steps") },
            left(Outcome::Ready),
            left(Outcome::Up),
            left(Outcome::Down),
        );
        if !leads.is_empty() {
            let mean = leads.iter().sum::<usize>() as f64 / leads.len() as f64;
            sentence.push_str(&format!("; mean lead {mean:.1} turns"));
            if leads.len() < n {
                sentence.push_str(&format!(" where there was one ({} of {n})", leads.len()));
            }
        }
        let few = if n == 1 { "1 step is".into() } else { format!("{n} steps are") };
        sentence.push_str(&format!(". (One solve: {few} not a statistic.)"));
        sentences.push(sentence);
    }
    if let (Some(lost), Some(long_from)) = (timing.lost, timing.long_from) {
        if timing.lost_by_cause.is_empty() {
            sentences.push(format!("No long pause before a pair (long is {long_from:.2} s or more)."));
        } else {
            let causes: Vec<String> = timing
                .lost_by_cause
                .iter()
                .map(|(cause, seconds)| format!("{cause} {seconds:.2} s"))
                .collect();
            sentences.push(format!(
                "Long pauses before pairs took {lost:.2} s: {} (long is {long_from:.2} s or more).",
                words::list(&causes)
            ));
        }
    }
    sentences
}

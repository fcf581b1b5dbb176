//! A position of a drill as a record that [`annotate`](crate::annotate) reads: the scramble, and the answer played.

use super::facts::Drill;
use crate::cube::Moves;
use crate::record::{DEFAULT_SIGHT, Until};

/// The record, as a YAML document. What is asked is the caller's to word.
#[must_use]
pub fn record(drill: &Drill, question: &str) -> String {
    let mut text = format!("title: drill {} {}, seed {}\n", drill.kind, drill.number, drill.seed);
    text.push_str(&format!("scramble: {}\nsolution: |\n", drill.scramble));
    for (moves, claim) in solution(drill) {
        let claim = claim.map(|claim| format!("  // {claim}")).unwrap_or_default();
        text.push_str(&format!("  {moves}{claim}\n"));
    }
    if drill.sight != DEFAULT_SIGHT {
        text.push_str(&format!("sight: {}\n", drill.sight));
    }
    text.push_str(&format!("until: {}\nnotes: |\n  {question}\n", drill.until));
    text
}

/// The lines of the solution, each with what it claims to solve.
fn solution(drill: &Drill) -> Vec<(Moves, Option<String>)> {
    let mut lines: Vec<(Moves, Option<String>)> = Vec::new();
    let mut add = |moves: &Moves, claim: Option<String>| {
        if !moves.is_empty() {
            lines.push((moves.clone(), claim));
        }
    };
    add(&drill.rotation, None);
    if let Some(cross) = &drill.answer.cross {
        add(cross, Some("cross".into()));
    }
    let mut solved = 4 - drill.open.len();
    let mut pairs = |moves: &Moves, n: usize| {
        let numbers: Vec<String> = (solved + 1..=solved + n).map(|number| number.to_string()).collect();
        solved += n;
        let word = if n == 1 { "pair" } else { "pairs" };
        add(moves, Some(format!("{word} {}", numbers.join(" and "))));
    };
    for given in &drill.given {
        pairs(&given.line.text, given.pairs.len());
    }
    if let (Some(line), Until::Pair(until)) = (&drill.answer.line, drill.until) {
        pairs(&line.text, until + drill.open.len() - 4);
    }
    if let Some(order) = drill.answer.order.as_ref().filter(|_| drill.until == Until::TwoLayers) {
        for line in &order.lines {
            pairs(&line.text, line.pairs.len());
        }
    }
    lines
}

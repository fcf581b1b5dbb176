//! The first judge and the slow one agree on the steps of made solves.

use std::collections::BTreeMap;

use cornerwise::choice::{self, Settings};
use cornerwise::search::Kind;
use cornerwise::sight::Outcome;

use super::slow_judge::{self, key, thousandths};
use super::steps::{Step, steps};
use crate::support::switch;

/// Compares the two on a step; the outcome is what it left.
fn compare(step: &Step, settings: &Settings) -> choice::Verdict {
    let longest = settings.bound();
    let slow = slow_judge::judge(step, settings.kind, longest, settings.slack, settings.lead);
    let everything = Settings { alternatives: 100_000, ..settings.clone() };
    let fast = choice::judge(step.played(), &everything);

    assert_eq!(fast.played, slow.outcome);
    assert_eq!(thousandths(fast.played_cost), thousandths(slow.cost));
    assert_eq!((fast.within, fast.lines), (slow.within, slow.lines));
    assert_eq!(fast.verdict, slow.verdict);
    assert_eq!(fast.other_pair.map(|other| other.outcome), slow.other_pair);
    assert_eq!(fast.good_pairs, slow.good_pairs);

    // The same turns come first, and then their end is not offered again, unless more is seen on another way there.
    let first = fast.alternatives.first().filter(|alternative| alternative.same_turns);
    assert_eq!(first.map(|first| (first.outcome, -thousandths(first.cost))), slow.same_turns);
    let mut expected = slow.better;
    if let Some(first) = first {
        let end = key(&step.before, &first.moves);
        if expected.get(&end).is_some_and(|&(outcome, _)| outcome <= first.outcome) {
            expected.remove(&end);
        }
    }
    let others = &fast.alternatives[usize::from(first.is_some())..];
    let mut found: BTreeMap<Vec<usize>, (Outcome, i64)> = BTreeMap::new();
    for alternative in others {
        assert!(!alternative.same_turns);
        let new = (alternative.outcome, -thousandths(alternative.cost));
        assert_eq!(found.insert(key(&step.before, &alternative.moves), new), None, "an end shown twice");
    }
    assert_eq!(found, expected);
    let order: Vec<_> = others.iter().map(|a| (std::cmp::Reverse(a.outcome), thousandths(a.cost))).collect();
    assert!(order.is_sorted(), "best outcome first, then cheapest: {order:?}");

    // Asking for few gives the first of them.
    for alternatives in [0, 1, 3] {
        let few = choice::judge(step.played(), &Settings { alternatives, ..settings.clone() });
        assert_eq!((few.verdict, few.good_pairs), (fast.verdict, fast.good_pairs.clone()));
        let facts = |a: &choice::Alternative| (a.same_turns, a.outcome, thousandths(a.cost), a.moves.len());
        let expected: Vec<_> = fast.alternatives.iter().take(alternatives).map(facts).collect();
        assert_eq!(few.alternatives.iter().map(facts).collect::<Vec<_>>(), expected);
    }
    fast.verdict
}

#[test]
fn two_judges_agree_on_hand_lines() {
    let mut verdicts = [0; 3];
    let mut two_next = 0;
    for step in steps(81, if switch::slow() { 120 } else { 12 }) {
        two_next += usize::from(step.next.len() > 1);
        verdicts[compare(&step, &Settings { within: Some(8), ..Settings::default() }) as usize] += 1;
    }
    assert!(verdicts.iter().all(|&n| n > 0), "every verdict occurs: {verdicts:?}");
    assert!(two_next > 0, "somewhere two pairs are solved next at once");
}

#[test]
fn two_judges_agree_with_other_settings_and_every_line() {
    for (i, step) in steps(82, if switch::slow() { 40 } else { 5 }).iter().enumerate() {
        let slack = [0.0, 2.5][i % 2];
        let lead = [0, 2, 5][i % 3];
        compare(step, &Settings { within: Some(7), slack, lead, ..Settings::default() });
        compare(step, &Settings { within: Some(6), kind: Kind::Every, slack, lead, ..Settings::default() });
    }
}

//! The verdict on a pair step, in the words of the facts.

use super::{Facts, scan, sight};
use crate::annotation::{Alternative, AlternativeNext, Choice, OtherPair, SettingsUsed};
use crate::choice::{self, Played};
use crate::cube::{Colour, Pair, Stickers};
use crate::search::Kind;
use crate::sight::corner_up;

/// What else could have been done at step `index`; `None` unless it is a pair step that another follows.
pub(super) fn choice(facts: &Facts<'_>, index: usize) -> Option<Choice> {
    let step = &facts.study.solve.steps[index];
    let cross = facts.study.solve.cross?;
    let next = facts.study.solve.next_pairs(index);
    if step.kind != crate::steps::Kind::Pair || next.is_empty() {
        return None;
    }
    let open = facts.study.solve.open_before(index);
    let played = played(facts, index, cross, &open);
    let settings = &facts.choice;
    let found = choice::judge(played, settings);
    let alternatives = found
        .alternatives
        .iter()
        .map(|alternative| Alternative {
            text: alternative.moves.clone().into(),
            pairs: alternative.solves.iter().map(|pair| pair.name()).collect(),
            obtm: alternative.moves.iter().map(|mv| mv.obtm()).sum(),
            then: alternative.next_moves.clone().into(),
            cost: rounded(alternative.cost),
            difference: rounded(alternative.cost - found.played_cost),
            outcome: alternative.outcome,
            next: AlternativeNext {
                pair: alternative.next.name(),
                corner: scan::corner_place(&alternative.end, alternative.next.corner),
                edge: scan::edge_place(&alternative.end, alternative.next.edge),
                seen: alternative.seen,
                lead: alternative.lead,
                up: corner_up(alternative.end.state.corner(alternative.next.corner), cross),
            },
            same_turns: alternative.same_turns,
            hold: alternative.end.hold.into(),
            stickers: Stickers::of(&alternative.end),
        })
        .collect();
    Some(Choice {
        within: found.within,
        bound_below_played: found.played_turns > found.within,
        every_line: settings.kind == Kind::Every,
        slack: settings.slack,
        lead: settings.lead,
        lines: found.lines,
        played_is_hand_line: found.played_is_hand_line,
        played_cost: rounded(found.played_cost),
        played: found.played,
        verdict: found.verdict,
        alternatives,
        open_pairs: open.len(),
        good_pairs: found.good_pairs.len(),
    })
}

/// Pairs that step `index` left better off than the one solved next, best first.
pub(super) fn others(facts: &Facts<'_>, index: usize) -> Vec<OtherPair> {
    let step = &facts.study.solve.steps[index];
    let Some(cross) = facts.study.solve.cross else { return Vec::new() };
    let wanted = matches!(step.kind, crate::steps::Kind::Cross | crate::steps::Kind::Pair);
    if !wanted || facts.study.solve.next_pairs(index).is_empty() {
        return Vec::new();
    }
    let open = facts.study.solve.open_before(index);
    let end = &facts.study.replay.moments[step.to];
    choice::other_pairs(played(facts, index, cross, &open), &facts.choice)
        .iter()
        .map(|other| OtherPair {
            pair: other.pair.name(),
            outcome: other.outcome,
            corner: scan::corner_place(end, other.pair.corner),
            edge: scan::edge_place(end, other.pair.edge),
            dearer: rounded(other.dearer),
            within_slack: rounded(other.dearer) <= facts.choice.slack,
        })
        .collect()
}

fn played<'a>(facts: &'a Facts<'_>, index: usize, cross: Colour, open: &'a [Pair]) -> Played<'a> {
    let step = &facts.study.solve.steps[index];
    Played {
        moments: sight::moments(facts, step),
        moves: &facts.study.replay.moves[step.from..step.to],
        cross,
        open,
        solves: &step.pairs,
        next: facts.study.solve.next_pairs(index),
        sight: facts.sight,
    }
}

/// What the figures depend on.
pub(super) fn used(facts: &Facts<'_>) -> SettingsUsed {
    let settings = &facts.choice;
    SettingsUsed {
        within: settings.bound(),
        every_line: settings.kind == Kind::Every,
        slack: settings.slack,
        lead: settings.lead,
        weights: settings.weights,
        long_pause: facts.long_from.seconds,
        long_paces: facts.long_from.paces,
    }
}

/// To a thousandth of a turn unit: what lies below comes from the order of sums.
fn rounded(cost: f64) -> f64 {
    (cost * 1000.0).round() / 1000.0
}

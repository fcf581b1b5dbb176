//! All steps of a solve judged.

use super::{Cross, Judge, Judged, Played, Settings};
use crate::cube::{FaceSet, Pair};
use crate::hands::HalfUnits;
use crate::replay::Replay;
use crate::sight::Moments;
use crate::sight::grades::Left;
use crate::steps::{Kind, Solve};

/// A step judged.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Step {
    /// A cross step.
    Cross(Cross),
    /// A pair step.
    Pair(Box<Judged>),
}

/// Judges every cross and pair step of a solve; `None` for the others, and for all of a solve that is not cross first.
#[must_use]
pub fn solve(replay: &Replay, solve: &Solve, sight: FaceSet, settings: &Settings) -> Vec<Option<Step>> {
    let Some(cross) = solve.cross.filter(|_| solve.cross_first) else {
        return solve.steps.iter().map(|_| None).collect();
    };
    let judge = Judge::new(cross, sight, settings);
    let open: Vec<Vec<Pair>> = (0..solve.steps.len()).map(|index| solve.open_before(index)).collect();
    let none: [Pair; 0] = [];
    let played_with = |index: usize, found_before| {
        let step = &solve.steps[index];
        let moves = &replay.moves[step.from..step.to];
        Played {
            moments: Moments::new(replay.between(step.from, step.to), moves),
            moves,
            open: &open[index],
            solves: &step.pairs,
            next: solve.next_pairs(index),
            found_before,
        }
    };
    let found_before: Vec<Vec<Pair>> = (0..solve.steps.len())
        .map(|index| {
            let looks_ahead = |&before: &usize| {
                let step = &solve.steps[before];
                matches!(step.kind, Kind::Cross | Kind::Pair) && step.to > step.from
            };
            let Some(before) = index.checked_sub(1).filter(looks_ahead) else { return open[index].clone() };
            let left = judge.left(&played_with(before, &none));
            // What had been ready is not exchanged for what was found at the last moment.
            let ready = left.iter().any(|left| left.ready && solve.steps[index].pairs.contains(&left.pair));
            let found =
                |left: &&Left| if ready { left.ready } else { left.lead.is_some_and(|lead| lead > 0) };
            left.iter().filter(found).map(|left| left.pair).collect()
        })
        .collect();
    let played = |index: usize| played_with(index, &found_before[index]);
    let is_pair = |index: usize| solve.steps[index].kind == Kind::Pair;
    let costs: Vec<HalfUnits> = (0..solve.steps.len())
        .map(|index| if is_pair(index) { judge.cost(&played(index)) } else { HalfUnits::ZERO })
        .collect();
    (0..solve.steps.len())
        .map(|index| match solve.steps[index].kind {
            Kind::Cross => Some(Step::Cross(judge.cross(&played(index)))),
            Kind::Pair => {
                let really = solve.first_two_layers.then(|| costs[index..].iter().copied().sum());
                Some(Step::Pair(Box::new(judge.pair_step(&played(index), really))))
            }
            _ => None,
        })
        .collect()
}

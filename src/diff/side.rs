//! One side of a comparison, replayed: its positions, its turns in the shared frame, its clock.

use crate::annotation::{Annotation, Judged, Step, StepKind};
use crate::clock::Clock;
use crate::cube::{Colour, FaceTurn, Hold, Pair};
use crate::replay::Replay;
use crate::study::Study;

use super::frame::{self, Turned};

/// A study with its annotation: what a comparison is computed from.
#[derive(Debug, Clone)]
pub struct Entry<'a> {
    /// The record, replayed.
    pub study: Study<'a>,
    /// Its annotation.
    pub facts: &'a Annotation,
}

/// A record replayed as far as its annotation goes.
pub(super) struct Side<'a> {
    pub(super) entry: &'a Entry<'a>,
    pub(super) replay: &'a Replay,
    /// Every turn, in order.
    pub(super) turns: Vec<Turned>,
    pub(super) clock: &'a Clock,
    /// The moment of the mark from which time is counted.
    origin: Option<usize>,
    pub(super) cross: Option<Colour>,
}

impl<'a> Side<'a> {
    pub(super) fn new(entry: &'a Entry<'a>) -> Side<'a> {
        let Study { replay, clock, .. } = &entry.study;
        let turns = frame::resolve(replay.start().hold, &replay.moves);
        let still = replay.moves.iter().take_while(|mv| mv.is_rotation()).count();
        let origin = (0..=still).rev().find(|&moment| clock.at(moment).is_some());
        let cross = entry.study.solve.cross;
        Side { entry, replay, turns, clock, origin, cross }
    }

    /// Whether the record comes to an end that counts, so that what it has not it did not need.
    pub(super) fn complete(&self) -> bool {
        self.entry.facts.solved || self.entry.facts.end.judged == Judged::OneTurnShort
    }

    /// Whether cross and pairs are steps of their own, so that there are parts to compare. What breaks off may still come to
    /// its pairs.
    pub(super) fn cross_first(&self) -> bool {
        let pairs = self.steps().iter().any(|step| step.kind == StepKind::Pair);
        self.cross_end().is_some() && (pairs || !self.complete())
    }

    /// Whether it has times.
    pub(super) fn timed(&self) -> bool {
        self.clock.marks() > 0
    }

    /// How the cube is held for the first turn.
    pub(super) fn hold(&self) -> Hold {
        let moves = &self.replay.moves;
        let still = moves.iter().take_while(|mv| mv.is_rotation()).count();
        self.replay.moments[still].hold
    }

    /// Whether all of the record was played, solved or not.
    pub(super) fn whole(&self) -> bool {
        self.entry.study.whole()
    }

    pub(super) fn steps(&self) -> &'a [Step] {
        &self.entry.facts.steps
    }

    /// The turns from moment `from` to moment `to`.
    pub(super) fn turns_between(&self, from: usize, to: usize) -> Vec<FaceTurn> {
        self.turns
            .iter()
            .filter(|turned| turned.token >= from && turned.token < to)
            .map(|turned| turned.turn)
            .collect()
    }

    /// How many turns (OBTM) are made by this moment.
    pub(super) fn obtm(&self, moment: usize) -> usize {
        self.turns.partition_point(|turned| turned.token < moment)
    }

    /// Seconds from the first turn to this moment, where a mark stands at both.
    pub(super) fn seconds(&self, moment: usize) -> Option<f64> {
        self.clock.between(self.origin?, moment).map(|lapse| lapse.seconds())
    }

    /// The step in which the token after this moment is; the last one at the end.
    pub(super) fn step_at(&self, moment: usize) -> Option<&'a Step> {
        let steps = self.steps();
        steps.iter().find(|step| step.from <= moment && moment < step.to).or(steps.last())
    }

    /// Where a moment lies among the steps, in words.
    pub(super) fn place(&self, moment: usize) -> String {
        let steps = self.steps().iter().filter(|step| step.kind != StepKind::Inspection);
        if moment == 0 || self.obtm(moment) == 0 {
            return "at the start".into();
        }
        // The last that ends here: a milestone reached with another one has no turns of its own.
        if let Some(step) = steps.clone().rfind(|step| step.to == moment) {
            return format!("after {}", step.name);
        }
        match steps.clone().find(|step| step.from < moment && moment < step.to) {
            Some(step) => {
                let n = self.obtm(moment) - self.obtm(step.from);
                format!("in {}, after {n} {}", step.name, if n == 1 { "turn" } else { "turns" })
            }
            None => "at the end".into(),
        }
    }

    /// The pairs that have been solved for good by a step that ends no later than this moment.
    pub(super) fn pairs_by(&self, moment: usize) -> Vec<Pair> {
        let steps = self.entry.study.solve.steps.iter().filter(|step| step.to <= moment);
        steps.flat_map(|step| step.pairs.iter().copied()).collect()
    }

    /// The moment at which the cross step ends.
    pub(super) fn cross_end(&self) -> Option<usize> {
        self.steps().iter().find(|step| step.kind == StepKind::Cross).map(|step| step.to)
    }
}

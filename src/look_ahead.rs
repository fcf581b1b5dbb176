//! Look-ahead through a whole solve: what the eyes have of every open pair in every step, the lanes, and the last
//! position of a record that ends before its pairs are in.
//!
//! The rules are those of [`sight`](crate::sight) and [`scan`](crate::scan), which know one step; here they are put to
//! the steps of a replay.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::cube::{FaceSet, Pair, Place, Position};
use crate::replay::Replay;
use crate::scan::{Tier, tier_to_play};
use crate::sight::grades::{Grade, Left, Looked};
use crate::sight::{InSight, LayOpen, Moments, Piece, Travel, lay_open, travel};
use crate::steps::{Kind, Solve, Step};

/// What can be told of a piece in a cell of a lane: at one moment of the solve.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Deserialize, JsonSchema, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum LaneGrade {
    /// It has not been found in this step.
    NotFound,
    /// It is deduced, or was found before in this step and is followed, or it is in hand.
    Followed,
    /// It is in plain sight.
    Plain,
}

/// An open pair in a position to play from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct ToPlay {
    /// The pair.
    pub pair: Pair,
    /// Where the scan finds its corner. Before the turns are known there is no target and nothing is lifted.
    pub tier: Tier,
    /// Its corner now.
    pub corner: Now,
    /// Its edge now.
    pub edge: Now,
    /// How it was found in the step before this position.
    pub left: Left,
}

/// A piece in a position to play from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Now {
    /// Where it is.
    pub place: Place,
    /// What the eyes have of it at this moment.
    pub grade: Grade,
    /// Whether it was found in the step before, and has only to be followed.
    pub followed: bool,
}

/// The look-ahead of one solve.
#[derive(Debug, Clone)]
pub struct LookAhead<'a> {
    replay: &'a Replay,
    solve: &'a Solve,
    sight: FaceSet,
    lead: usize,
    /// For each step in which there is something to look for.
    looked: Vec<Option<Looked<'a>>>,
}

impl<'a> LookAhead<'a> {
    /// Looks through the steps of a solve, `lead` turns being enough.
    #[must_use]
    pub fn new(replay: &'a Replay, solve: &'a Solve, sight: FaceSet, lead: usize) -> LookAhead<'a> {
        let looked = (0..solve.steps.len())
            .map(|index| {
                let step = &solve.steps[index];
                let to_look_at = matches!(step.kind, Kind::Cross | Kind::Pair | Kind::Rest);
                let cross = solve.cross.filter(|_| to_look_at)?;
                let open = solve.open_before(index);
                Some(Looked::new(moments(replay, step), cross, &open, &step.pairs, sight))
            })
            .collect();
        LookAhead { replay, solve, sight, lead, looked }
    }

    /// What the eyes have in step `index`; `None` for inspection, the last layer, and a solve without a cross.
    #[must_use]
    pub fn step(&self, index: usize) -> Option<&Looked<'a>> {
        self.looked.get(index)?.as_ref()
    }

    /// What step `index` leaves for each pair that is open after it, in the order of [`Pair::all`].
    #[must_use]
    pub fn left(&self, index: usize) -> Vec<Left> {
        let Some(looked) = self.step(index) else { return Vec::new() };
        let in_hand = &self.solve.steps[index].pairs;
        let open = self.solve.open_before(index).into_iter().filter(|pair| !in_hand.contains(pair));
        open.map(|pair| looked.left(pair, self.lead)).collect()
    }

    /// Where corner and edge of the pair lay open in the step before step `index`, if it was the cross or a pair step:
    /// before the cross everything can be looked at.
    #[must_use]
    pub fn lay_open_before(&self, index: usize, pair: Pair) -> [Option<LayOpen>; 2] {
        let before = index.checked_sub(1).map(|index| &self.solve.steps[index]);
        let Some(before) = before.filter(|step| matches!(step.kind, Kind::Cross | Kind::Pair)) else {
            return [None, None];
        };
        Piece::of_pair(pair).map(|piece| lay_open(moments(self.replay, before), piece, self.sight))
    }

    /// The way of corner and edge of the pair through step `index`; for the cross, the way that can be followed from
    /// inspection. `None` in a solve without a cross.
    #[must_use]
    pub fn travel(&self, index: usize, pair: Pair) -> Option<[Travel; 2]> {
        let cross = self.solve.cross?;
        let step = moments(self.replay, &self.solve.steps[index]);
        Some(Piece::of_pair(pair).map(|piece| travel(step, cross, piece)))
    }

    /// What a lane shows of the piece at a moment, up to the insertion of its pair. A moment between two steps belongs
    /// to the one that begins, except for the last pair, after which there is nothing to look for. In inspection
    /// everything can be looked at.
    ///
    /// # Panics
    ///
    /// If there is no such moment.
    #[must_use]
    pub fn lane_grade(&self, piece: Piece, moment: usize) -> LaneGrade {
        let position = &self.replay.moments[moment];
        let steps = &self.solve.steps;
        let begins = |step: &Step| step.from <= moment;
        let index = steps.iter().rposition(begins);
        if index.is_some_and(|index| steps[index].kind == Kind::Inspection) || self.sees(piece, position) {
            return LaneGrade::Plain;
        }
        let ends_here = |&index: &usize| steps[index].to == moment && self.looked[index].is_some();
        let index = index.filter(|&index| self.looked[index].is_some());
        let Some(index) = index.or_else(|| (0..steps.len()).rev().find(ends_here)) else {
            return LaneGrade::NotFound;
        };
        let looked = self.looked[index].as_ref().expect("only steps with something to look for are taken");
        if looked.followed(piece, moment - steps[index].from) {
            LaneGrade::Followed
        } else {
            LaneGrade::NotFound
        }
    }

    fn sees(&self, piece: Piece, position: &Position) -> bool {
        InSight::new(position.hold, self.sight).sees(piece, position)
    }

    /// What the last position of a record offers that ends before all pairs are in, in the order of tiers, then of
    /// [`Pair::all`]. Nothing where there is no cross, or no pair is open.
    #[must_use]
    pub fn to_play(&self) -> Vec<ToPlay> {
        let (Some(cross), Some(index)) = (self.solve.cross, self.solve.steps.len().checked_sub(1)) else {
            return Vec::new();
        };
        let Some(looked) = self.step(index) else { return Vec::new() };
        let end = self.replay.end();
        let last = looked.step().moves().len();
        let now = |piece: Piece| Now {
            place: piece.place(end),
            grade: looked.grade(piece, last),
            followed: looked.found_by(piece, last),
        };
        let mut offers: Vec<ToPlay> = self
            .left(index)
            .into_iter()
            .map(|left| ToPlay {
                pair: left.pair,
                tier: tier_to_play(left.pair.corner, cross, &[], &end.state),
                corner: now(Piece::Corner(left.pair.corner)),
                edge: now(Piece::Edge(left.pair.edge)),
                left,
            })
            .collect();
        offers.sort_by_key(|offer| offer.tier);
        offers
    }
}

/// The moments of a step of a replay.
fn moments<'a>(replay: &'a Replay, step: &Step) -> Moments<'a> {
    Moments::new(replay.between(step.from, step.to), &replay.moves[step.from..step.to])
}

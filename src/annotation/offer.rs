//! Facts of the open pairs that a step leaves: where they were, when they were found, what they cost from there.

use std::collections::BTreeSet;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::cube::{Colour, FaceSet, Moves, PairName, Place};
use crate::scan::Tier;

/// Through so many turns that carry one of its pieces or both a pair can be followed from inspection.
const FOLLOWED: usize = 5;
/// A piece that so many turns carried is still where it is remembered to be.
pub(crate) const REMEMBERED: usize = 1;

/// An open pair as a step leaves it.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema, Serialize)]
pub struct Offer {
    /// The pair.
    pub pair: PairName,
    /// Whether it is solved in the next step.
    pub taken: bool,
    /// Where the scan finds its corner.
    pub tier: Tier,
    /// Whether its corner was up at the beginning and is down at the end.
    pub buried: bool,
    /// Its corner.
    pub corner: Watch,
    /// Its edge.
    pub edge: Watch,
    /// Turns (OBTM) of the step to go when both had been found; `null` if one never was.
    pub lead: Option<usize>,
    /// The same in seconds, where the marks tell.
    pub lead_seconds: Option<f64>,
    /// Turns to go when both had been open to sight; `null` if one never was.
    pub plain_lead: Option<usize>,
    /// Turns to go as it is told: each piece by plain sight where that was in time, else as it was found.
    pub told_lead: Option<usize>,
    /// Whether so told it was found before the step's first token.
    pub at_once: bool,
    /// Whether it was found in time only by working something out.
    pub deduced: bool,
    /// Whether both were found in time.
    pub ready: bool,
    /// Whether both were open to sight in time, so that nothing had to be worked out.
    pub plain_ready: bool,
    /// Its cheapest line from the end of the step.
    pub line: Option<PricedLine>,
    /// The faces that, in sight too, would have shown it in time what was not found in time.
    pub more: Option<More>,
}

/// A line with what it costs the hands.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema, Serialize)]
pub struct PricedLine {
    /// Its tokens, parted by spaces, as they are played from there.
    pub text: Moves,
    /// Turns in OBTM.
    pub obtm: usize,
    /// Handling cost, in units.
    pub cost: f64,
    /// Whether the turns played next are these, in whatever hold.
    #[serde(default)]
    pub played: bool,
}

/// A piece of an open pair during a step. Moments are of the whole solve.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema, Serialize)]
pub struct Watch {
    /// Its place at the beginning.
    pub from: Place,
    /// Its place at the end.
    pub to: Place,
    /// Whether it is up at the end.
    pub up: bool,
    /// The first moment at which it is open to sight; `null` if never.
    pub plain: Option<usize>,
    /// The reasoning by which it was found, if it was deduced before it was open to sight.
    pub deduced: Option<Deduced>,
    /// The first moment at which its place follows by perfect elimination; `null` if never.
    pub known: Option<usize>,
    /// The first moment at which how it is turned is known too; `null` if never.
    pub oriented: Option<usize>,
    /// Its way: the moment and the new place each time a turn carries it to another place of the hold (a rotation, which
    /// carries everything, is no way of the piece but names its place anew).
    pub way: Vec<(usize, Place)>,
    /// Where it lay open to sight during the step before, if it did: the last such moment and its place then.
    pub before: Option<(usize, Place)>,
    /// Whether it can be kept in mind from there: not from before the first turn of the cross on, and at most one turn
    /// has carried it since.
    #[serde(default)]
    pub kept_in_mind: bool,
}

impl Offer {
    /// The moment at which both its pieces had been found.
    #[must_use]
    pub fn found_at(&self) -> Option<usize> {
        Some(self.corner.found()?.max(self.edge.found()?))
    }

    /// Its pieces by name.
    #[must_use]
    pub fn pieces(&self) -> [(&'static str, &Watch); 2] {
        [("corner", &self.corner), ("edge", &self.edge)]
    }

    /// Those of its pieces that were not found in time during this step.
    #[must_use]
    pub fn late(&self, step: &super::Step, lead: usize) -> Vec<(&'static str, &Watch)> {
        self.pieces().into_iter().filter(|(_, watch)| !watch.in_time(step, lead)).collect()
    }

    /// How many turns of the step carry its pieces to other places; one that carries both counts once.
    #[must_use]
    pub fn carried(&self) -> usize {
        let moments = self.corner.way.iter().chain(&self.edge.way).map(|stage| stage.0);
        moments.collect::<BTreeSet<usize>>().len()
    }

    /// Whether it is to be followed from inspection through the cross `step`: it moves little, or it could be found there
    /// only by working out both pieces, or by a tilt at once, when everything can be looked at.
    #[must_use]
    pub fn can_be_followed(&self, step: &super::Step, lead: usize) -> bool {
        let worked_out = |watch: &Watch| watch.deduced.is_some() && !watch.open_in_time(step, lead);
        let by_thought = self.ready && self.pieces().iter().all(|(_, watch)| worked_out(watch));
        let by_a_tilt = !self.ready && self.tilt().is_some_and(|more| more.from <= step.from + 1);
        self.carried() <= FOLLOWED || by_thought || by_a_tilt
    }

    /// Whether it was ready in an earlier step, and what was not found in time in this one has moved once at most, so that
    /// it could be remembered.
    #[must_use]
    pub fn was_ready_in(&self, earlier: &super::Step, step: &super::Step, lead: usize) -> bool {
        earlier.offers.iter().any(|offer| offer.pair == self.pair && offer.ready)
            && self.late(step, lead).iter().all(|(_, watch)| watch.way.len() <= REMEMBERED)
    }

    /// The tilt that shows the very pieces that were not found in time.
    #[must_use]
    pub fn tilt(&self) -> Option<&More> {
        self.more.as_ref().filter(|more| more.tilt && more.shows)
    }
}

impl Watch {
    /// The first moment at which it is found.
    #[must_use]
    pub fn found(&self) -> Option<usize> {
        self.deduced.as_ref().map(|deduced| deduced.moment).or(self.plain)
    }

    /// Whether it lies open to sight in time during this step, so that nothing has to be worked out.
    #[must_use]
    pub fn open_in_time(&self, step: &super::Step, lead: usize) -> bool {
        self.plain.is_some_and(|open| open == step.from || step.to_go(open) >= lead)
    }

    /// Whether it is found in time during this step: at its first moment, or with `lead` turns to go.
    #[must_use]
    pub fn in_time(&self, step: &super::Step, lead: usize) -> bool {
        self.found().is_some_and(|found| found == step.from || step.to_go(found) >= lead)
    }
}

/// How a piece was worked out.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema, Serialize)]
pub struct Deduced {
    /// The moment at which it was.
    pub moment: usize,
    /// Its name: its colours.
    pub piece: String,
    /// Its place then.
    pub place: Place,
    /// What shows it.
    pub clue: Clue,
}

/// What shows that a piece is in its place.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Clue {
    /// One sticker, and nothing else that has its colour is left.
    OneSticker {
        /// The colour that shows.
        colour: Colour,
        /// The face it shows on.
        face: FaceSet,
        /// Every other piece of the kind that has the colour, easiest to see first.
        ruled_out: Vec<RuledOut>,
    },
    /// Every other place holds or shows something else, and its pair is the last one open.
    OnlyPlace,
}

/// A piece that it could be and is not.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema, Serialize)]
pub struct RuledOut {
    /// Its colours.
    pub piece: String,
    /// Why it is not.
    pub why: Why,
    /// Where it lies, if it lies open to sight or was found before.
    pub place: Option<Place>,
}

/// Why a piece is accounted for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Deserialize, JsonSchema, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Why {
    /// It lies open to sight now.
    LiesOpen,
    /// It was found at an earlier moment of the step.
    Found,
    /// It is in the cross.
    Cross,
    /// Its pair is solved.
    Solved,
    /// Its pair is in hand.
    InHand,
}

/// Faces that would have shown a pair in time.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema, Serialize)]
pub struct More {
    /// The faces.
    pub faces: FaceSet,
    /// The moment from which corner and edge would both have been found.
    pub from: usize,
    /// Whether hands tilt the cube so far: the left side, and nothing else.
    pub tilt: bool,
    /// Whether each piece that would not have been found by then without them lies on one of these faces before; else
    /// something is worked out from what else they show.
    #[serde(default)]
    pub shows: bool,
}

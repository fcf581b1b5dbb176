//! The four tiers of the scan: where a corner hides when the step before its own begins.

use std::fmt;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::cube::{Colour, Corner, Pair, State};
use crate::sight::{Moments, Piece, Travel, travel};

/// Where the scan finds a corner, best first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Deserialize, JsonSchema, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Tier {
    /// Up: in the layer opposite the cross.
    Top,
    /// In a slot that this step fills, so it has to come out.
    Target,
    /// In another open slot, and up at the end of the step: its turns brought it out on the way.
    Lifted,
    /// In another open slot, and still down at the end: it must be taken out. Before the turns are known also what
    /// they may lift.
    Slot,
}

impl Tier {
    /// All four, best first.
    pub const ALL: [Tier; 4] = [Tier::Top, Tier::Target, Tier::Lifted, Tier::Slot];
}

impl Tier {
    /// The word for it.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Tier::Top => "top",
            Tier::Target => "target",
            Tier::Lifted => "lifted",
            Tier::Slot => "slot",
        }
    }
}

impl fmt::Display for Tier {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(self.word())
    }
}

/// Whether the corner sits in the layer opposite the cross.
#[must_use]
pub fn is_up(state: &State, corner: Corner, cross: Colour) -> bool {
    state.corner(corner).place().touches(cross.opposite())
}

/// The tier of `corner` for the step that begins at `from`, ends at `to` and fills the slots of `filled` (empty
/// for the cross, which has no target slot).
#[must_use]
pub fn tier(corner: Corner, cross: Colour, filled: &[Pair], from: &State, to: &State) -> Tier {
    match tier_to_play(corner, cross, filled, from) {
        Tier::Slot if is_up(to, corner, cross) => Tier::Lifted,
        tier => tier,
    }
}

/// The tier of `corner` before the turns are known that fill the slots of `filled`. What they would lift is one
/// question with what they would not: [`Tier::Slot`].
#[must_use]
pub fn tier_to_play(corner: Corner, cross: Colour, filled: &[Pair], state: &State) -> Tier {
    let place = state.corner(corner).place();
    if place.touches(cross.opposite()) {
        Tier::Top
    } else if filled.iter().any(|pair| pair.corner.home() == place) {
        Tier::Target
    } else {
        Tier::Slot
    }
}

/// What the scan finds of one open pair in a step.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Scanned {
    /// The pair.
    pub pair: Pair,
    /// Where its corner is when the step begins.
    pub tier: Tier,
    /// Whether its corner was up when the step began and is not when it ends.
    pub buried: bool,
    /// The way of its corner through the step.
    pub corner: Travel,
    /// The way of its edge through the step.
    pub edge: Travel,
}

/// Scans a step that solves the pairs `in_hand`: the pairs of `open` that are still open after it, best tier first,
/// of one tier in the order of `open`. The cross has nothing in hand, as a rule, and no target slot: `target` is
/// empty for it even where it brings a pair with it.
#[must_use]
pub fn scan(
    step: Moments<'_>,
    cross: Colour,
    open: &[Pair],
    in_hand: &[Pair],
    target: &[Pair],
) -> Vec<Scanned> {
    let (from, to) = (&step.positions()[0].state, &step.last().state);
    let mut scanned: Vec<Scanned> = open
        .iter()
        .filter(|pair| !in_hand.contains(pair))
        .map(|&pair| {
            let [corner, edge] = Piece::of_pair(pair).map(|piece| travel(step, cross, piece));
            let tier = tier(pair.corner, cross, target, from, to);
            let buried = tier == Tier::Top && !corner.up_at_last;
            Scanned { pair, tier, buried, corner, edge }
        })
        .collect();
    scanned.sort_by_key(|scanned| scanned.tier);
    scanned
}

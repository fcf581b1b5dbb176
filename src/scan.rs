//! The four tiers of the scan: where a corner hides when the step before its own begins.

use serde::Serialize;

use crate::cube::{Colour, Corner, Pair, State};

/// Where the scan finds a corner, best first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Tier {
    /// Up: in the layer opposite the cross.
    Top,
    /// In a slot that this step fills, so it has to come out.
    Target,
    /// In another open slot, and up at the end of the step: its turns brought it out on the way.
    Lifted,
    /// In another open slot, and still down at the end: it must be taken out.
    Open,
}

impl Tier {
    /// All four, best first.
    pub const ALL: [Tier; 4] = [Tier::Top, Tier::Target, Tier::Lifted, Tier::Open];
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
    let place = from.corner(corner).place();
    if place.touches(cross.opposite()) {
        Tier::Top
    } else if filled.iter().any(|pair| pair.corner.home() == place) {
        Tier::Target
    } else if is_up(to, corner, cross) {
        Tier::Lifted
    } else {
        Tier::Open
    }
}

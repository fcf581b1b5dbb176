//! The kinds of positions there are, and what each can be asked for.

use std::fmt;
use std::ops::RangeInclusive;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// A property that every position of a drill has.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Deserialize, JsonSchema, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Kind {
    /// The cross is done; corner and edge of the named pair are to be found.
    Find,
    /// A pair and its line are given; where the named corner and edge stand after it.
    Carried,
    /// The named corner sits in the slot that the given line fills, and comes out.
    Target,
    /// The named corner sits in another slot, and the given line lifts it.
    Lifted,
    /// Corner or edge of the pair that a plan takes first cannot be found in this hold.
    Hidden,
    /// The named corner is up, its edge is not.
    Edge,
    /// The named pair can be found, but only by one sticker of its corner or edge that settles which it is.
    Deduce,
    /// Several pairs can come first, and one of them is best by two units or more.
    Choose,
    /// No line of any open pair leaves another ready.
    Forced,
    /// No corner of an open pair is up.
    NoneUp,
    /// No open pair can be found as it stands; one can after a turn of the top layer.
    TurnFirst,
    /// Two pairs and their lines are given; where the pair after them stands then.
    Ahead,
    /// Inspection: a cross of so many turns, and the first pair followed through it.
    Cross,
    /// The cross is done, and all pairs can be solved without a stop.
    Whole,
}

impl Kind {
    /// All of them.
    pub const ALL: [Kind; 14] = [
        Kind::Find,
        Kind::Carried,
        Kind::Target,
        Kind::Lifted,
        Kind::Hidden,
        Kind::Edge,
        Kind::Deduce,
        Kind::Choose,
        Kind::Forced,
        Kind::NoneUp,
        Kind::TurnFirst,
        Kind::Ahead,
        Kind::Cross,
        Kind::Whole,
    ];

    /// The word for it.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Kind::Find => "find",
            Kind::Carried => "carried",
            Kind::Target => "target",
            Kind::Lifted => "lifted",
            Kind::Hidden => "hidden",
            Kind::Edge => "edge",
            Kind::Deduce => "deduce",
            Kind::Choose => "choose",
            Kind::Forced => "forced",
            Kind::NoneUp => "none-up",
            Kind::TurnFirst => "turn-first",
            Kind::Ahead => "ahead",
            Kind::Cross => "cross",
            Kind::Whole => "whole",
        }
    }

    /// What it asks, or what its positions have in common, in a line.
    #[must_use]
    pub const fn asks(self) -> &'static str {
        match self {
            Kind::Find => "Cross done: where are corner and edge of the named pair?",
            Kind::Carried => "A line is given: where do the named corner and edge stand after it?",
            Kind::Target => "The next corner sits in the slot that is filled, and comes out",
            Kind::Lifted => "Another slot's corner is lifted on the way",
            Kind::Hidden => {
                "Something of the pair that should come first cannot be found as the cube is held"
            }
            Kind::Edge => "Corner up, edge not",
            Kind::Deduce => "One sticker is in sight and settles it",
            Kind::Choose => "Several pairs can come first, one is best by two units or more",
            Kind::Forced => "No line to 9 turns leaves anything ready",
            Kind::NoneUp => "No corner of an open pair is up",
            Kind::TurnFirst => "Nothing can be found until the top layer is turned",
            Kind::Ahead => "Two pairs on: where is the pair after next?",
            Kind::Cross => "Inspection: the cross, and the first pair followed through it",
            Kind::Whole => "All pairs can be solved without a stop",
        }
    }

    /// How many pairs may be open.
    #[must_use]
    pub const fn open(self) -> RangeInclusive<usize> {
        match self {
            Kind::Carried | Kind::Target | Kind::Lifted | Kind::Choose | Kind::Forced => 2..=4,
            Kind::Ahead => 3..=4,
            Kind::Cross => 4..=4,
            _ => 1..=4,
        }
    }

    /// Why no fewer pairs may be open.
    pub(super) const fn why_no_fewer(self) -> &'static str {
        match self {
            Kind::Ahead => "it asks for the pair after the next two",
            Kind::Choose => "with one open pair there is nothing to choose",
            _ => "with one open pair there is no next one",
        }
    }

    /// How many are open if nothing is said.
    #[must_use]
    pub const fn usually_open(self) -> usize {
        match self {
            // With more open pairs it hardly ever happens.
            Kind::Forced => 2,
            _ => 4,
        }
    }

    /// Whether the question gives lines to play, on which the tier of the named pair depends.
    #[must_use]
    pub const fn gives_lines(self) -> bool {
        matches!(self, Kind::Carried | Kind::Target | Kind::Lifted | Kind::Ahead)
    }

    /// Whether the question is about one pair as the cube stands.
    pub(super) const fn asks_of_one(self) -> bool {
        matches!(self, Kind::Find | Kind::Edge | Kind::Deduce)
    }

    /// Whether there is a length to bound.
    pub(super) const fn has_length(self) -> bool {
        self.gives_lines() || self.solves_all() || matches!(self, Kind::Cross)
    }

    /// Whether the answer brings in all open pairs, so that the length is that of a whole order.
    pub(super) const fn solves_all(self) -> bool {
        matches!(self, Kind::Whole | Kind::Hidden | Kind::Choose)
    }

    /// Whether something must not be plain to see for a position to have the property.
    pub(super) const fn needs_hidden(self) -> bool {
        matches!(self, Kind::Hidden | Kind::Deduce | Kind::Forced | Kind::TurnFirst)
    }

    /// How many positions are drawn for one that has the property before it is given up: the more, the quicker
    /// the property is told.
    #[must_use]
    pub const fn budget(self) -> usize {
        match self {
            Kind::Find | Kind::Edge | Kind::Deduce | Kind::NoneUp | Kind::TurnFirst | Kind::Cross => {
                2_000_000
            }
            Kind::Carried | Kind::Target | Kind::Lifted | Kind::Ahead => 200_000,
            // About one in 150,000 has it; a draw takes some microseconds.
            Kind::Forced => 3_000_000,
            Kind::Hidden | Kind::Choose | Kind::Whole => 3_000,
        }
    }
}

impl fmt::Display for Kind {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(self.word())
    }
}

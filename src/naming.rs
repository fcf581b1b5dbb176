//! How things are written: the letters of the trade, English colour names, and the words of the facts.

use std::fmt;

use crate::annotation::Cause;
use crate::cube::{Amount, Axis, Colour, CornerPlace, EdgePlace, Face, FaceSet, Hold, Move, Pair, Slice};
use crate::scan::Tier;
use crate::sight::Outcome;

impl fmt::Display for Face {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Face::U => "U",
            Face::D => "D",
            Face::F => "F",
            Face::B => "B",
            Face::R => "R",
            Face::L => "L",
        })
    }
}

impl fmt::Display for FaceSet {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.iter().try_for_each(|face| write!(f, "{face}"))
    }
}

/// The English name, lower case.
impl fmt::Display for Colour {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(match self {
            Colour::White => "white",
            Colour::Yellow => "yellow",
            Colour::Green => "green",
            Colour::Blue => "blue",
            Colour::Red => "red",
            Colour::Orange => "orange",
        })
    }
}

/// The first letter of a colour's name, upper case.
#[must_use]
pub const fn letter(colour: Colour) -> char {
    match colour {
        Colour::White => 'W',
        Colour::Yellow => 'Y',
        Colour::Green => 'G',
        Colour::Blue => 'B',
        Colour::Red => 'R',
        Colour::Orange => 'O',
    }
}

impl fmt::Display for Amount {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Amount::Quarter => "",
            Amount::Half => "2",
            Amount::Back => "'",
        })
    }
}

impl fmt::Display for Axis {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Axis::X => "x",
            Axis::Y => "y",
            Axis::Z => "z",
        })
    }
}

impl fmt::Display for Slice {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Slice::M => "M",
            Slice::E => "E",
            Slice::S => "S",
        })
    }
}

/// The form the Regulations define where they define one (`Rw`, not `r`), with ASCII primes.
impl fmt::Display for Move {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Move::Turn(face, amount) => write!(f, "{face}{amount}"),
            Move::Wide(face, amount) => write!(f, "{face}w{amount}"),
            Move::Slice(slice, amount) => write!(f, "{slice}{amount}"),
            Move::Rotation(axis, amount) => write!(f, "{axis}{amount}"),
        }
    }
}

/// The pair's two side colours in alphabetical order: `green-red`. Also the name of its slot.
impl fmt::Display for Pair {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let [a, b] = self.sides();
        write!(f, "{a}-{b}")
    }
}

/// A corner's place in the hold: `UFR`.
#[must_use]
pub fn corner_place(place: CornerPlace, hold: Hold) -> String {
    place.faces(hold).iter().map(Face::to_string).collect()
}

/// An edge's place in the hold: `BL`.
#[must_use]
pub fn edge_place(place: EdgePlace, hold: Hold) -> String {
    place.faces(hold).iter().map(Face::to_string).collect()
}

/// Moves written with a space between.
#[must_use]
pub fn moves(moves: &[Move]) -> String {
    moves.iter().map(Move::to_string).collect::<Vec<_>>().join(" ")
}

/// The word for where the scan finds a corner.
#[must_use]
pub const fn tier(tier: Tier) -> &'static str {
    match tier {
        Tier::Top => "top",
        Tier::Target => "target",
        Tier::Lifted => "lifted",
        Tier::Slot => "slot",
    }
}

/// The word for what a step left.
#[must_use]
pub const fn outcome(outcome: Outcome) -> &'static str {
    match outcome {
        Outcome::Ready => "ready",
        Outcome::Up => "up",
        Outcome::Down => "down",
    }
}

/// The word for why a solver stopped.
#[must_use]
pub const fn cause(cause: Cause) -> &'static str {
    match cause {
        Cause::Attention => "attention",
        Cause::View => "view",
        Cause::Choice => "choice",
        Cause::Position => "position",
    }
}

/// What the word says, to stand behind it.
#[must_use]
pub const fn cause_meaning(cause: Cause) -> &'static str {
    match cause {
        Cause::Attention => "it was all there to see",
        Cause::View => "hidden by the grip",
        Cause::Choice => "something better was there",
        Cause::Position => "nothing better was within reach",
    }
}

//! How people slip when they write turns down, and how often.
//!
//! The weights are common practice, no source: what a reader of many hand-written records comes to expect.
//! `docs/mend.md` prints them and says how they are used. They only order what fits; nothing is left out for
//! being rare.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::cube::{Amount, Axis, Face, Move};

/// How the writer slipped, named by what they did.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Slip {
    /// `R` for `R'`.
    PrimeLost,
    /// `R'` for `R`.
    PrimeGained,
    /// A half turn for a quarter turn, or the other way round.
    HalfForQuarter,
    /// `R` for `L`, `U` for `D`, `F` for `B`; or `R` for `L'`, which looks the same in a mirror.
    Mirrored,
    /// `R` for `Rw`, or the other way round.
    WideForOuter,
    /// Another letter, the suffix right.
    OtherLetter,
    /// Another letter and another suffix.
    OtherToken,
    /// A token left out.
    Dropped,
    /// A rotation left out.
    RotationForgotten,
    /// The last turn of the last layer left out.
    AdjustmentMissing,
    /// A token written twice.
    Doubled,
    /// A token that was never played.
    Added,
    /// Two neighbours in the wrong order.
    Swapped,
    /// A token that could not be read.
    Unreadable,
    /// A `?`.
    Unknown,
    /// A `...`.
    Gap,
    /// A group with the wrong count.
    Count,
    /// Two to four tokens left out in one place.
    RunLost,
    /// A line left out.
    LineLost,
    /// Lines written twice.
    LineDoubled,
    /// Two lines in each other's place.
    LinesSwapped,
}

/// One token in so many is wrong.
const ONE_IN: f64 = 200.0;
/// One record in so many lacks its last adjustment.
const NO_ADJUSTMENT_IN: f64 = 20.0;
/// Scrambles are mostly copied by machine: slips are so many times rarer.
pub(super) const SCRAMBLE_RARER: f64 = 3.0;
/// A scramble of outer turns has a rotation, wide turn or slice in it so many times more rarely.
pub(super) const STRANGE_IN_SCRAMBLE: f64 = 50.0;

impl Slip {
    /// What the writer would have done, as it completes “why: …”.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Slip::PrimeLost => "a prime was lost",
            Slip::PrimeGained => "a prime was added",
            Slip::HalfForQuarter => "half and quarter turn confused",
            Slip::Mirrored => "the letter of the opposite side",
            Slip::WideForOuter => "wide and outer turn confused",
            Slip::OtherLetter => "another letter",
            Slip::OtherToken => "another token",
            Slip::Dropped => "a turn was left out",
            Slip::RotationForgotten => "a rotation was left out",
            Slip::AdjustmentMissing => "the last adjustment was left out",
            Slip::Doubled => "a token was written twice",
            Slip::Added => "a token was written that was not played",
            Slip::Swapped => "neighbours in the wrong order",
            Slip::Unreadable => "the nearest readable token",
            Slip::Unknown => "what `?` stands for",
            Slip::Gap => "the shortest turns that fill the gap",
            Slip::Count => "a group counted wrong",
            Slip::RunLost => "some turns were left out",
            Slip::LineLost => "a line was left out",
            Slip::LineDoubled => "the same turns were written twice",
            Slip::LinesSwapped => "lines in the wrong order",
        }
    }
}

/// How unlikely it is what happens once in so many times, as a natural logarithm: one more is about a third as likely.
#[must_use]
pub(super) fn once_in(so_many: f64) -> f64 {
    libm::log(so_many)
}

impl Slip {
    /// How unlikely the slip is where it could have come out in so many ways, as a natural logarithm: one more is
    /// about a third as likely.
    #[must_use]
    pub fn cost(self, choices: f64) -> f64 {
        match self {
            // The token is there and must be read somehow: only the choice counts.
            Slip::Unreadable | Slip::Unknown | Slip::Gap => once_in(choices),
            Slip::AdjustmentMissing => once_in(NO_ADJUSTMENT_IN) + once_in(choices),
            _ => once_in(ONE_IN) + once_in(1000.0 / self.share()) + once_in(choices),
        }
    }

    /// Whether it is of the likeliest kinds, of which three are tried together.
    #[must_use]
    pub const fn is_likely(self) -> bool {
        !matches!(
            self,
            Slip::Dropped
                | Slip::OtherLetter
                | Slip::OtherToken
                | Slip::Added
                | Slip::RunLost
                | Slip::LineLost
                | Slip::LineDoubled
                | Slip::LinesSwapped
        )
    }

    /// Of a thousand slips, how many are of a kind. Common practice, no source.
    const fn share(self) -> f64 {
        match self {
            Slip::PrimeLost => 170.0,
            Slip::PrimeGained => 110.0,
            Slip::HalfForQuarter => 140.0,
            Slip::Mirrored => 90.0,
            Slip::WideForOuter => 80.0,
            Slip::OtherLetter => 30.0,
            Slip::OtherToken => 10.0,
            Slip::Dropped => 120.0,
            Slip::RotationForgotten => 90.0,
            Slip::Doubled => 60.0,
            Slip::Added => 10.0,
            Slip::Swapped => 60.0,
            // These are not slips among others: see `cost`.
            Slip::AdjustmentMissing | Slip::Unreadable | Slip::Unknown | Slip::Gap => 1000.0,
            Slip::Count => 60.0,
            Slip::RunLost => 40.0,
            Slip::LineLost | Slip::LineDoubled | Slip::LinesSwapped => 20.0,
        }
    }
}

/// How much rarer than a common turn a move is in solves; 1 for the common ones. Common practice, no source.
pub(super) fn rarity(mv: Move) -> f64 {
    let half = if mv.amount() == Amount::Half { 2.0 } else { 1.0 };
    half * match mv {
        Move::Turn(Face::U | Face::R, _) => 0.5,
        Move::Turn(Face::L | Face::F, _) => 0.8,
        Move::Turn(Face::D, _) => 1.5,
        Move::Turn(Face::B, _) => 4.0,
        Move::Wide(Face::R | Face::F | Face::U, _) => 3.0,
        Move::Wide(..) => 6.0,
        Move::Slice(crate::cube::Slice::M, _) => 3.0,
        Move::Slice(..) => 10.0,
        Move::Rotation(Axis::Y, _) => 1.0,
        Move::Rotation(..) => 3.0,
    }
}

/// The slip that turns `meant` into `written`, and in how many ways it could have come out.
pub(super) fn misread(written: Move, meant: Move) -> (Slip, f64) {
    let (was, is) = (meant.amount(), written.amount());
    let same_letter = with_amount(written, was) == meant;
    if same_letter {
        return match (was, is) {
            (Amount::Back, Amount::Quarter) => (Slip::PrimeLost, 1.0),
            (Amount::Quarter, Amount::Back) => (Slip::PrimeGained, 1.0),
            // A half turn comes out as a bare letter more easily than as a prime.
            (Amount::Half, Amount::Quarter) | (Amount::Quarter, Amount::Half) => (Slip::HalfForQuarter, 1.3),
            _ => (Slip::HalfForQuarter, 4.0),
        };
    }
    match (written, meant) {
        (Move::Turn(a, _), Move::Turn(b, _)) | (Move::Wide(a, _), Move::Wide(b, _)) if a == b.opposite() => {
            // Left for right is the common one.
            let often = if matches!(a, Face::R | Face::L) { 1.0 } else { 2.0 };
            if was == is {
                return (Slip::Mirrored, 1.5 * often);
            }
            if was == is.inverse() {
                return (Slip::Mirrored, 3.0 * often);
            }
        }
        (Move::Turn(a, _), Move::Wide(b, _)) | (Move::Wide(a, _), Move::Turn(b, _))
            if a == b && was == is =>
        {
            return (Slip::WideForOuter, 1.0);
        }
        _ => {}
    }
    if was == is {
        (Slip::OtherLetter, 17.0 * rarity(meant))
    } else {
        (Slip::OtherToken, 34.0 * rarity(meant))
    }
}

const fn with_amount(mv: Move, amount: Amount) -> Move {
    match mv {
        Move::Turn(face, _) => Move::Turn(face, amount),
        Move::Wide(face, _) => Move::Wide(face, amount),
        Move::Slice(slice, _) => Move::Slice(slice, amount),
        Move::Rotation(axis, _) => Move::Rotation(axis, amount),
    }
}

/// The slip of leaving a move out, and in how many ways it could have been another.
pub(super) fn left_out(mv: Move) -> (Slip, f64) {
    match mv {
        Move::Rotation(..) => (Slip::RotationForgotten, 3.0 * rarity(mv)),
        _ => (Slip::Dropped, 30.0 * rarity(mv)),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::cube::Slice;

    #[test]
    fn likelier_slips_cost_less() {
        let cost = |written, meant| {
            let (slip, choices) = misread(written, meant);
            slip.cost(choices)
        };
        let turn = Move::Turn;
        let prime = cost(turn(Face::R, Amount::Quarter), turn(Face::R, Amount::Back));
        let half = cost(turn(Face::R, Amount::Quarter), turn(Face::R, Amount::Half));
        let left = cost(turn(Face::R, Amount::Quarter), turn(Face::L, Amount::Quarter));
        let slice = cost(turn(Face::R, Amount::Quarter), Move::Slice(Slice::S, Amount::Half));
        assert!(prime < half && half < left && left < slice);
    }
}

//! A line of the index in twelve bytes.
//!
//! | bits of the first eight bytes | |
//! |---|---|
//! | 0 to 54 | the turns, five bits each; past the last all five are set |
//! | 55 to 57 | which of the model's slots B, C and D, if their pairs are at home, are at home after it |
//! | 58 | whether it reads without a shifted and without a nested phrase |
//! | 59 | whether only following it turn by turn tells if it ends early |
//!
//! | bits of the last four | |
//! |---|---|
//! | 0 to 23 | what it costs from each of the four holds with the cross down, in half units, six bits each |
//! | 24 to 31 | after which of its first eight turns the cross is whole and a pair may have been solved that was not before |

use crate::cube::PairSet;
use crate::search::turn::Turn;

/// The longest line an entry has room for.
pub(super) const MOST_TURNS: usize = 11;

const TURN_BITS: usize = 5;
const NO_TURN: u64 = (1 << TURN_BITS) - 1;
const KEEPS: usize = MOST_TURNS * TURN_BITS;
const PLAIN: usize = KEEPS + 3;
const FOLLOW: usize = PLAIN + 1;
const COST_BITS: usize = 6;
const WHOLE: usize = 4 * COST_BITS;

/// A line that takes the pair of the model's first slot home.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Entry {
    turns: u64,
    costs: u32,
}

/// What an entry is made of.
#[cfg(test)]
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Parts<'a> {
    pub turns: &'a [Turn],
    /// The other pairs that are at home after it if they were before.
    pub keeps: PairSet,
    pub plain: bool,
    /// The numbers of turns after which the cross is whole and a pair may have been solved, less one, as bits.
    pub whole: u32,
    /// Whether such a moment is only met if two neighbours that commute are played the other way round.
    pub hidden: bool,
    /// From each hold, in half units.
    pub costs: [u32; 4],
}

impl Entry {
    /// How many bytes an entry takes.
    pub const BYTES: usize = 12;

    /// Reads one.
    #[inline]
    pub fn read(bytes: &[u8; Entry::BYTES]) -> Entry {
        let [a, b, c, d, e, f, g, h, costs @ ..] = *bytes;
        Entry { turns: u64::from_le_bytes([a, b, c, d, e, f, g, h]), costs: u32::from_le_bytes(costs) }
    }

    /// How many turns it has.
    #[inline]
    pub const fn len(self) -> usize {
        // The bits that are set past the last turn reach up to the first that tells something else.
        let past = !(self.turns << (64 - KEEPS));
        MOST_TURNS - past.leading_zeros() as usize / TURN_BITS
    }

    /// Its turns.
    #[inline]
    pub fn turns(self) -> impl Iterator<Item = Turn> {
        let turns = self.turns;
        (0..self.len()).map(move |i| Turn::ALL[(turns >> (i * TURN_BITS) & NO_TURN) as usize])
    }

    /// The pairs of the model's slots B, C and D that are at home after it if they were before.
    #[inline]
    pub const fn keeps(self, pairs: PairSet) -> bool {
        let others = pairs.index() as u64 >> 1;
        self.turns >> KEEPS & others == others
    }

    /// Whether it reads without a shifted and without a nested phrase.
    #[inline]
    pub const fn plain(self) -> bool {
        self.turns >> PLAIN & 1 == 1
    }

    /// Whether only following it turn by turn tells if it ends early.
    #[inline]
    pub const fn follow(self) -> bool {
        self.turns >> FOLLOW & 1 == 1
    }

    /// After which of its first eight turns it may have ended: the lowest bit stands for the first.
    #[inline]
    pub const fn whole(self) -> u32 {
        self.costs >> WHOLE
    }

    /// What it costs from one of the holds with the cross down, in half units.
    #[inline]
    pub const fn cost(self, grip: usize) -> i32 {
        (self.costs >> (grip * COST_BITS) & ((1 << COST_BITS) - 1)) as i32
    }
}

#[cfg(test)]
impl Entry {
    /// Packs one.
    pub fn pack(parts: &Parts<'_>) -> Entry {
        assert!(parts.turns.len() <= MOST_TURNS);
        let mut turns = (1 << KEEPS) - 1;
        for (i, turn) in parts.turns.iter().enumerate() {
            turns &= !(NO_TURN << (i * TURN_BITS));
            turns |= (turn.index() as u64) << (i * TURN_BITS);
        }
        turns |= (parts.keeps.index() as u64 >> 1) << KEEPS;
        turns |= u64::from(parts.plain) << PLAIN;
        turns |= u64::from(parts.hidden || parts.whole >= 1 << 8) << FOLLOW;
        let mut costs = (parts.whole & 0xff) << WHOLE;
        for (grip, &cost) in parts.costs.iter().enumerate() {
            assert!(cost < 1 << COST_BITS, "{cost} half units have no room");
            costs |= cost << (grip * COST_BITS);
        }
        Entry { turns, costs }
    }

    /// As it is kept.
    pub fn bytes(self) -> [u8; Entry::BYTES] {
        let [a, b, c, d, e, f, g, h] = self.turns.to_le_bytes();
        let [i, j, k, l] = self.costs.to_le_bytes();
        [a, b, c, d, e, f, g, h, i, j, k, l]
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::cube::Slot;

    #[test]
    fn what_is_packed_is_read() {
        let kept = PairSet::only(Slot::B) | PairSet::only(Slot::D);
        for len in 1..=MOST_TURNS {
            let turns: Vec<Turn> = (0..len).map(|i| Turn::ALL[(17 + 5 * i) % Turn::COUNT]).collect();
            for (plain, hidden) in [(false, false), (true, false), (false, true)] {
                let parts = Parts {
                    turns: &turns,
                    keeps: kept,
                    plain,
                    whole: 0b1010_0001,
                    hidden,
                    costs: [63, 0, 7, 40],
                };
                let entry = Entry::read(&Entry::pack(&parts).bytes());
                assert_eq!((entry.len(), entry.turns().collect::<Vec<_>>()), (len, turns.clone()));
                assert!(
                    entry.keeps(kept) && entry.keeps(PairSet::EMPTY) && !entry.keeps(PairSet::only(Slot::C))
                );
                assert_eq!((entry.plain(), entry.follow(), entry.whole()), (plain, hidden, 0b1010_0001));
                assert_eq!([0, 1, 2, 3].map(|grip| entry.cost(grip)), [63, 0, 7, 40]);
            }
        }
    }
}

//! Sets of the four pairs of a cross.

use std::iter::Sum;
use std::ops::{BitAnd, BitOr, BitOrAssign, Sub};

use super::Slot;

/// A set of the four pairs of a cross, each told by its slot.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub struct PairSet(u8);

impl PairSet {
    /// How many sets there are.
    pub const COUNT: usize = 16;
    /// No pair.
    pub const EMPTY: PairSet = PairSet(0);
    /// All four.
    pub const ALL: PairSet = PairSet(0b1111);

    /// One pair alone.
    #[inline]
    #[must_use]
    pub const fn only(slot: Slot) -> PairSet {
        PairSet(1 << slot.index())
    }

    /// Whether the pair is in the set.
    #[inline]
    #[must_use]
    pub const fn contains(self, slot: Slot) -> bool {
        self.0 >> slot.index() & 1 == 1
    }

    /// Whether every pair of `other` is in this set.
    #[inline]
    #[must_use]
    pub const fn is_superset(self, other: PairSet) -> bool {
        self.0 & other.0 == other.0
    }

    /// Those pairs of the set for which the test holds.
    #[inline]
    #[must_use]
    pub fn filter(self, test: impl Fn(Slot) -> bool) -> PairSet {
        let mut kept = 0;
        for slot in Slot::ALL {
            kept |= u8::from(self.contains(slot) && test(slot)) << slot.index();
        }
        PairSet(kept)
    }

    /// The pairs that are not in the set.
    #[inline]
    #[must_use]
    pub const fn others(self) -> PairSet {
        PairSet(!self.0 & PairSet::ALL.0)
    }

    /// How many pairs there are.
    #[must_use]
    pub const fn len(self) -> usize {
        self.0.count_ones() as usize
    }

    /// Whether there are none.
    #[inline]
    #[must_use]
    pub const fn is_empty(self) -> bool {
        self.0 == 0
    }

    /// The first pair of the set.
    #[inline]
    #[must_use]
    pub const fn first(self) -> Option<Slot> {
        if self.0 == 0 { None } else { Some(Slot::ALL[self.0.trailing_zeros() as usize]) }
    }

    /// The slots of the pairs, in order.
    #[inline]
    pub fn iter(self) -> impl Iterator<Item = Slot> {
        Slot::ALL.into_iter().filter(move |&slot| self.contains(slot))
    }

    /// A number below [`COUNT`](Self::COUNT), for tables.
    #[inline]
    #[must_use]
    pub const fn index(self) -> usize {
        self.0 as usize
    }
}

impl BitOr for PairSet {
    type Output = PairSet;

    #[inline]
    fn bitor(self, other: PairSet) -> PairSet {
        PairSet(self.0 | other.0)
    }
}

impl BitOrAssign for PairSet {
    #[inline]
    fn bitor_assign(&mut self, other: PairSet) {
        self.0 |= other.0;
    }
}

impl BitAnd for PairSet {
    type Output = PairSet;

    #[inline]
    fn bitand(self, other: PairSet) -> PairSet {
        PairSet(self.0 & other.0)
    }
}

impl Sub for PairSet {
    type Output = PairSet;

    #[inline]
    fn sub(self, other: PairSet) -> PairSet {
        PairSet(self.0 & !other.0)
    }
}

/// Slots, gathered.
impl FromIterator<Slot> for PairSet {
    fn from_iter<I: IntoIterator<Item = Slot>>(slots: I) -> PairSet {
        slots.into_iter().map(PairSet::only).sum()
    }
}

/// Everything in any of the sets.
impl Sum for PairSet {
    fn sum<I: Iterator<Item = PairSet>>(sets: I) -> PairSet {
        sets.fold(PairSet::EMPTY, |all, set| all | set)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Against sorted lists of slots, for every two of the sixteen sets.
    #[test]
    fn sets_are_as_lists_of_slots() {
        let all = || {
            (0..PairSet::COUNT).map(|bits| {
                Slot::ALL.into_iter().filter(|slot| bits >> slot.index() & 1 == 1).collect::<Vec<Slot>>()
            })
        };
        for one in all() {
            let set: PairSet = one.iter().copied().collect();
            assert_eq!(set.iter().collect::<Vec<_>>(), one);
            assert_eq!(
                (set.len(), set.is_empty(), set.first()),
                (one.len(), one.is_empty(), one.first().copied())
            );
            assert!(Slot::ALL.into_iter().all(|slot| set.others().contains(slot) != one.contains(&slot)));
            assert_eq!(
                set.filter(|slot| slot.index() % 2 == 1).iter().collect::<Vec<_>>(),
                one.iter().copied().filter(|slot| slot.index() % 2 == 1).collect::<Vec<_>>()
            );
            for other in all() {
                let with: PairSet = other.iter().copied().collect();
                assert!(
                    Slot::ALL
                        .into_iter()
                        .all(|p| (set | with).contains(p) == (one.contains(&p) || other.contains(&p)))
                );
                assert!(
                    Slot::ALL
                        .into_iter()
                        .all(|p| (set & with).contains(p) == (one.contains(&p) && other.contains(&p)))
                );
                assert!(
                    Slot::ALL
                        .into_iter()
                        .all(|p| (set - with).contains(p) == (one.contains(&p) && !other.contains(&p)))
                );
                assert_eq!(set.is_superset(with), other.iter().all(|p| one.contains(p)));
                assert_eq!(set.index() == with.index(), one == other);
            }
        }
    }
}

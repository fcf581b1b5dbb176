//! Sets of the four pairs of a cross.

use std::iter::Sum;
use std::ops::{BitAnd, BitOr, BitOrAssign, Sub};

/// A set of the four pairs of a cross, each told by its place in [`Pair::all`](super::Pair::all).
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub struct PairSet(u8);

impl PairSet {
    /// How many sets there are.
    pub const COUNT: usize = 16;
    /// No pair.
    pub const EMPTY: PairSet = PairSet(0);
    /// All four.
    pub const ALL: PairSet = PairSet(0b1111);

    /// One pair alone. `place` must be less than 4.
    #[inline]
    #[must_use]
    pub const fn only(place: usize) -> PairSet {
        assert!(place < 4, "there are four pairs");
        PairSet(1 << place)
    }

    /// Whether the pair is in the set.
    #[inline]
    #[must_use]
    pub const fn contains(self, place: usize) -> bool {
        self.0 >> place & 1 == 1
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
    pub fn filter(self, test: impl Fn(usize) -> bool) -> PairSet {
        let mut kept = 0;
        for place in 0..4 {
            kept |= u8::from(self.contains(place) && test(place)) << place;
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
    pub const fn first(self) -> Option<usize> {
        if self.0 == 0 { None } else { Some(self.0.trailing_zeros() as usize) }
    }

    /// The places of the pairs, in order.
    #[inline]
    pub fn iter(self) -> impl Iterator<Item = usize> {
        (0..4).filter(move |&place| self.contains(place))
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

/// The places of pairs, gathered.
impl FromIterator<usize> for PairSet {
    fn from_iter<I: IntoIterator<Item = usize>>(places: I) -> PairSet {
        places.into_iter().map(PairSet::only).sum()
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

    /// Against sorted lists of places, for every two of the sixteen sets.
    #[test]
    fn sets_are_as_lists_of_places() {
        let all = || {
            (0..PairSet::COUNT)
                .map(|bits| (0..4).filter(|place| bits >> place & 1 == 1).collect::<Vec<usize>>())
        };
        for one in all() {
            let set: PairSet = one.iter().copied().collect();
            assert_eq!(set.iter().collect::<Vec<_>>(), one);
            assert_eq!(
                (set.len(), set.is_empty(), set.first()),
                (one.len(), one.is_empty(), one.first().copied())
            );
            assert!((0..4).all(|place| set.others().contains(place) != one.contains(&place)));
            assert_eq!(
                set.filter(|place| place % 2 == 1).iter().collect::<Vec<_>>(),
                one.iter().copied().filter(|p| p % 2 == 1).collect::<Vec<_>>()
            );
            for other in all() {
                let with: PairSet = other.iter().copied().collect();
                assert!((0..4).all(|p| (set | with).contains(p) == (one.contains(&p) || other.contains(&p))));
                assert!((0..4).all(|p| (set & with).contains(p) == (one.contains(&p) && other.contains(&p))));
                assert!(
                    (0..4).all(|p| (set - with).contains(p) == (one.contains(&p) && !other.contains(&p)))
                );
                assert_eq!(set.is_superset(with), other.iter().all(|p| one.contains(p)));
                assert_eq!(set.index() == with.index(), one == other);
            }
        }
    }
}

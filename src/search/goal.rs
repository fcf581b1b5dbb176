//! What is solved, told from packed positions.

use std::sync::LazyLock;

use super::tracked::{CROSS_BITS, Tracked, pair_bits};
use crate::cube::PairSet;

/// A packed position of everything solved, against which others are compared bit by bit.
#[derive(Debug, Clone, Copy)]
pub(super) struct Goal {
    solved: u64,
}

impl Goal {
    /// The goal.
    #[inline]
    pub fn get() -> Goal {
        static GOAL: LazyLock<Goal> = LazyLock::new(|| Goal { solved: Tracked::solved().packed() });
        *GOAL
    }

    /// Whether the cross is solved.
    #[inline]
    pub fn cross_solved(self, packed: u64) -> bool {
        (packed ^ self.solved) & CROSS_BITS == 0
    }

    /// The solved pairs.
    #[inline]
    pub fn solved_pairs(self, packed: u64) -> PairSet {
        let differ = packed ^ self.solved;
        PairSet::ALL.filter(|slot| differ & pair_bits(slot) == 0)
    }

    /// Whether a line that began with the pairs of `kept` solved ends here: the cross and these are solved, and a pair
    /// of `open` is.
    #[inline]
    pub fn reached(self, packed: u64, kept: PairSet, open: PairSet) -> bool {
        self.cross_solved(packed) && {
            let pairs = self.solved_pairs(packed);
            pairs.is_superset(kept) && !(pairs & open).is_empty()
        }
    }
}

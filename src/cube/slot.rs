//! The four slots of a cross by number, and what is kept for each of them.

use std::ops::{Index, IndexMut};

/// The slot of one of the four pairs of a cross: the pair's number among [`Pair::all`](super::Pair::all).
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Slot {
    /// The first.
    A,
    /// The second.
    B,
    /// The third.
    C,
    /// The fourth.
    D,
}

impl Slot {
    /// All four, in order.
    pub const ALL: [Slot; 4] = [Slot::A, Slot::B, Slot::C, Slot::D];

    /// Its number, below 4.
    #[inline]
    #[must_use]
    pub const fn index(self) -> usize {
        self as usize
    }
}

/// Something for each of the four slots.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct BySlot<T>([T; 4]);

impl<T> BySlot<T> {
    /// From what each slot gets.
    #[must_use]
    pub fn of(get: impl FnMut(Slot) -> T) -> BySlot<T> {
        BySlot(Slot::ALL.map(get))
    }

    /// From all four, in the order of [`Slot::ALL`].
    #[must_use]
    pub const fn new(all: [T; 4]) -> BySlot<T> {
        BySlot(all)
    }
}

impl<T> Index<Slot> for BySlot<T> {
    type Output = T;

    #[inline]
    fn index(&self, slot: Slot) -> &T {
        &self.0[slot.index()]
    }
}

impl<T> IndexMut<Slot> for BySlot<T> {
    #[inline]
    fn index_mut(&mut self, slot: Slot) -> &mut T {
        &mut self.0[slot.index()]
    }
}

//! The twelve pieces a search follows: the cross, and the corner and edge of each pair.

use super::frame::MODEL;
use super::turn::Turn;
use crate::cube::{Colour, CornerAt, EdgeAt, FaceTurn, Pair, PairSet, Slot};

/// Two pieces of 24 coordinates each make one number below this.
pub(super) const TWO: usize = 576;

/// Where the tracked pieces are, two to a number: cross edges 0 and 1, cross edges 2 and 3, then corner and
/// edge of each of the four pairs. Each number is 24 × first + second.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Tracked([u16; 6]);

/// The bits of [`Tracked::packed`] that tell where the cross is.
pub(super) const CROSS_BITS: u64 = (1 << 20) - 1;

/// The bits of [`Tracked::packed`] that tell where a pair is.
pub(super) const fn pair_bits(slot: Slot) -> u64 {
    0x3ff << (20 + 10 * slot.index())
}

/// The bits of all pairs of a set.
pub(super) fn pairs_bits(slots: PairSet) -> u64 {
    slots.iter().map(pair_bits).sum()
}

impl Tracked {
    /// From the coordinates of the cross edges and pair edges, and of the pair corners, in the model.
    pub fn new(edges: [u8; 8], corners: [u8; 4]) -> Tracked {
        let two = |first: u8, second: u8| u16::from(first) * 24 + u16::from(second);
        Tracked([
            two(edges[0], edges[1]),
            two(edges[2], edges[3]),
            two(corners[0], edges[4]),
            two(corners[1], edges[5]),
            two(corners[2], edges[6]),
            two(corners[3], edges[7]),
        ])
    }

    /// Everything solved.
    pub fn solved() -> Tracked {
        let pairs = Pair::all(MODEL);
        let cross = Pair::cross_edges(MODEL);
        Tracked::new(
            [0, 1, 2, 3, 4, 5, 6, 7]
                .map(|i| EdgeAt::home(if i < 4 { cross[i] } else { pairs[i - 4].edge }).index() as u8),
            pairs.map(|pair| CornerAt::home(pair.corner).index() as u8),
        )
    }

    /// With a pair somewhere else.
    #[cfg(test)]
    pub fn with_pair(mut self, slot: Slot, at: usize) -> Tracked {
        self.0[2 + slot.index()] = at as u16;
        self
    }

    /// Sixty bits that tell where everything is; see [`CROSS_BITS`] and [`pair_bits`].
    pub fn packed(self) -> u64 {
        (0..6).map(|i| u64::from(self.0[i]) << (10 * i)).sum()
    }

    /// Where the cross edges are: a number below [`TWO`] squared.
    pub fn cross(self) -> usize {
        usize::from(self.0[0]) * TWO + usize::from(self.0[1])
    }

    /// Where the corner and edge of a pair are: a number below [`TWO`].
    pub fn pair(self, slot: Slot) -> usize {
        usize::from(self.0[2 + slot.index()])
    }
}

/// What each turn does to two pieces.
#[derive(Debug)]
pub(super) struct Turns {
    two_edges: [[u16; TWO]; Turn::COUNT],
    corner_and_edge: [[u16; TWO]; Turn::COUNT],
}

impl Turns {
    /// The table.
    #[inline]
    pub const fn get() -> &'static Turns {
        static TURNS: Turns = Turns::new();
        &TURNS
    }

    const fn new() -> Turns {
        let mut turns =
            Turns { two_edges: [[0; TWO]; Turn::COUNT], corner_and_edge: [[0; TWO]; Turn::COUNT] };
        let mut number = 0;
        while number < Turn::COUNT {
            let turn = Turn::ALL[number];
            // The model's up, down, front, … centres are the colours in the order of the enum.
            let turn = FaceTurn { centre: Colour::ALL[turn.face() as usize], amount: turn.amount() };
            let (mut edges, mut corners) = ([0; 24], [0; 24]);
            let mut i = 0;
            while i < 24 {
                edges[i] = EdgeAt::from_index(i).turned(turn).index() as u16;
                corners[i] = CornerAt::from_index(i).turned(turn).index() as u16;
                i += 1;
            }
            let mut i = 0;
            while i < TWO {
                turns.two_edges[number][i] = edges[i / 24] * 24 + edges[i % 24];
                turns.corner_and_edge[number][i] = corners[i / 24] * 24 + edges[i % 24];
                i += 1;
            }
            number += 1;
        }
        turns
    }

    /// The cross after a turn; the rest is left as it was. [`Turns::pairs`] does that.
    #[inline]
    pub fn cross(&self, from: Tracked, turn: Turn) -> Tracked {
        let edges = &self.two_edges[turn.index()];
        let [a, b, rest @ ..] = from.0;
        let [p, q, r, s] = rest;
        Tracked([edges[usize::from(a)], edges[usize::from(b)], p, q, r, s])
    }

    /// The pairs after the turn whose effect on the cross [`Turns::cross`] gave.
    #[inline]
    pub fn pairs(&self, from: Tracked, turn: Turn) -> Tracked {
        let pairs = &self.corner_and_edge[turn.index()];
        let [a, b, p, q, r, s] = from.0;
        let after = |pair: u16| pairs[usize::from(pair)];
        Tracked([a, b, after(p), after(q), after(r), after(s)])
    }

    /// Everything after a turn.
    #[inline]
    pub fn turned(&self, from: Tracked, turn: Turn) -> Tracked {
        self.pairs(self.cross(from, turn), turn)
    }
}

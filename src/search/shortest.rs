//! The shortest lines of one pair.

use std::sync::atomic::{AtomicU8, Ordering};

use super::Kind;
use super::automaton::Automaton;
use super::endings::Filter;
use super::lines::{Found, Path, Searcher};
use super::tracked::{CROSS_BITS, TWO, Tracked, pair_bits, pairs_bits};
use crate::cube::{BySlot, PairSet, Slot};

/// Calls `to` with every shortest line of at most `bound` turns that solves the pair `slot` and keeps the cross
/// and the pairs that are solved, whatever becomes of the others.
pub(super) fn lines(kind: Kind, from: Tracked, slot: Slot, bound: usize, to: &mut impl FnMut(Found)) {
    for len in 1..=bound {
        let search = Search::new(kind, from, slot, len);
        let mut any = false;
        search.forward(from, Automaton::START, Path::EMPTY, len, &mut |found| {
            any = true;
            to(found);
            true
        });
        if any {
            return;
        }
    }
}

/// How long the lines are that [`lines`] finds; 0 if the pair is solved, `None` if there are none.
pub(super) fn length(kind: Kind, from: Tracked, slot: Slot, bound: usize) -> Option<usize> {
    let searcher = Searcher::of(kind);
    let packed = from.packed();
    let kept = searcher.goal.solved_pairs(packed);
    let cross_solved = searcher.goal.cross_solved(packed);
    let pair_solved = kept.contains(slot);
    if cross_solved && pair_solved {
        return Some(0);
    }
    if !cross_solved {
        return search_length(kind, from, slot, 0, bound);
    }
    // With the cross solved the length depends only on the pairs kept and on where this one is.
    let known = &KNOWN[kind as usize][kept.index()][slot][from.pair(slot)];
    let known_so_far = Known(known.load(Ordering::Relaxed));
    match known_so_far.length() {
        Some(length) => (length <= bound).then_some(length),
        None if bound <= known_so_far.none_up_to() => None,
        None => {
            let length = search_length(kind, from, slot, known_so_far.none_up_to(), bound);
            // Threads that come here at once write what is true; the last one stays.
            known.store(Known::new(length, bound).0, Ordering::Relaxed);
            length
        }
    }
}

fn search_length(kind: Kind, from: Tracked, slot: Slot, none_up_to: usize, bound: usize) -> Option<usize> {
    (none_up_to + 1..=bound).find(|&len| {
        let search = Search::new(kind, from, slot, len);
        search.forward(from, Automaton::START, Path::EMPTY, len, &mut |_| false).is_none()
    })
}

/// What is known of a length, in a byte: 0 to 127, lines of so many turns were searched and there are none;
/// from 128, the length and 128.
#[derive(Clone, Copy)]
struct Known(u8);

impl Known {
    const fn new(length: Option<usize>, bound: usize) -> Known {
        match length {
            Some(length) => Known(128 + length as u8),
            None => Known(bound as u8),
        }
    }

    fn length(self) -> Option<usize> {
        (self.0 >= 128).then(|| usize::from(self.0 - 128))
    }

    fn none_up_to(self) -> usize {
        usize::from(self.0 % 128)
    }
}

/// By kind, pairs kept, pair and [`Tracked::pair`].
static KNOWN: [[BySlot<[AtomicU8; TWO]>; PairSet::COUNT]; 2] =
    [const { [const { BySlot::new([const { [const { AtomicU8::new(0) }; TWO] }; 4]) }; PairSet::COUNT] }; 2];

struct Search {
    searcher: &'static Searcher,
    slot: Slot,
    /// What the line has to solve.
    bits: u64,
    further: Option<&'static Filter>,
}

impl Search {
    fn new(kind: Kind, from: Tracked, slot: Slot, bound: usize) -> Search {
        let searcher = Searcher::of(kind);
        let kept = searcher.goal.solved_pairs(from.packed());
        let bits = CROSS_BITS | pair_bits(slot) | pairs_bits(kept);
        Search { searcher, slot, bits, further: searcher.look_further(bound) }
    }

    /// All ways to solve it in exactly `left` more turns, until `to` answers false; `None` if it did.
    fn forward(
        &self,
        from: Tracked,
        node: u16,
        path: Path,
        left: usize,
        to: &mut impl FnMut(Found) -> bool,
    ) -> Option<()> {
        let endings = &self.searcher.endings;
        if left <= endings.longest {
            let packed = from.packed();
            if !endings.begins.may_contain(packed, self.slot) {
                return Some(());
            }
            for (_, ending) in endings.of(packed, self.slot, self.bits, node) {
                if ending.turns().len() == left && !to(path.found(ending, PairSet::only(self.slot))) {
                    return None;
                }
            }
            return Some(());
        }
        if left == endings.longest + 1
            && self.further.is_some_and(|further| !further.may_contain(from.packed(), self.slot))
        {
            return Some(());
        }
        for &(turn, next) in &self.searcher.next[usize::from(node)] {
            let position = self.searcher.turns.turned(from, turn);
            self.forward(position, next, path.with(turn), left - 1, to)?;
        }
        Some(())
    }
}

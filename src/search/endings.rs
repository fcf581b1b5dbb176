//! How lines end: every sequence of a few turns that solves the cross and a pair, found backward from the
//! solved cube.
//!
//! A search forward from a position needs only to go a few turns short of its bound: what is left to do is
//! looked up here. An ending is filed under where the cross and one pair are before it, once for each pair,
//! so that a look-up finds those that solve them; and it knows at which nodes of the automaton it may begin,
//! so that only whole lines come together.

use std::collections::HashMap;

use super::automaton::Automaton;
use super::goal::Goal;
use super::tracked::{CROSS_BITS, TWO, Tracked, Turns, pair_bits};
use super::turn::Turn;
use crate::cube::Face;

/// The longest ending any table holds.
pub(super) const LONGEST: usize = 5;

/// A sequence of at most [`LONGEST`] turns that ends a line.
#[derive(Debug, Clone, Copy)]
pub(super) struct Ending {
    /// Where everything is before it: from there it solves all tracked pieces.
    pub before: u64,
    /// The turns; those past `len` mean nothing.
    turns: [Turn; LONGEST],
    len: u8,
    /// Whether the cross is solved at some moment after the first turn and before the last, or would be if
    /// two neighbours that commute were played the other way round.
    pub passes_cross: bool,
    /// Which set of nodes it may begin at.
    begin: u16,
}

impl Ending {
    /// The turns in the order in which they are played.
    pub fn turns(&self) -> &[Turn] {
        &self.turns[..usize::from(self.len)]
    }
}

/// All endings of one kind of line, filed for look-up.
#[derive(Debug)]
pub(super) struct Endings {
    /// The greatest number of turns.
    pub longest: usize,
    /// For each pair, the endings by the hash of where it and the cross are before them.
    by_pair: [Buckets; 4],
    /// For each number of the cross, whether any ending begins there.
    cross: Vec<u64>,
    /// For each set of nodes, one bit for each node of the automaton.
    begin: Vec<Vec<u64>>,
}

#[derive(Debug)]
struct Buckets {
    /// Where each bucket's endings start, and the last one's end.
    starts: Vec<u32>,
    endings: Vec<Ending>,
}

const BUCKET_BITS: u32 = 14;

/// The bucket of a position, of which only the bits of the cross and one pair are left.
#[inline]
fn bucket(masked: u64) -> usize {
    // Multiplying by 2^64 / golden ratio spreads neighbouring numbers (Knuth, The Art of Computer
    // Programming 3, section 6.4: Fibonacci hashing; from memory).
    (masked.wrapping_mul(0x9e37_79b9_7f4a_7c15) >> (64 - BUCKET_BITS)) as usize
}

impl Endings {
    /// All endings of at most `longest` turns of the lines `automaton` accepts.
    pub fn new(automaton: &Automaton, longest: usize) -> Endings {
        assert!(longest <= LONGEST, "an ending has room for {LONGEST} turns");
        let mut backward = Backward::new(automaton);
        let mut all = Vec::new();
        let goal = Goal::get();
        let empty = Ending {
            before: 0,
            turns: [Turn::ALL[0]; LONGEST],
            len: 0,
            passes_cross: false,
            begin: Backward::COMPLETE,
        };
        // Breadth first: all endings of one length, from those one turn shorter.
        let mut shorter = vec![(Tracked::solved(), empty)];
        for len in 1..=longest {
            let mut longer = Vec::new();
            for (position, ending) in &shorter {
                for turn in Turn::ALL {
                    let Some(begin) = backward.before(ending.begin, turn) else { continue };
                    if len == 1 && turn.face() == Face::U {
                        continue; // What it solves was solved before it.
                    }
                    let before = Turns::get().turned(*position, turn.inverse());
                    let mut turns = ending.turns;
                    turns.copy_within(..len - 1, 1);
                    turns[0] = turn;
                    let solved = |position: Tracked| goal.cross_solved(position.packed());
                    let passes_cross = ending.passes_cross
                        || (len > 1 && solved(*position))
                        || (len > 1
                            && turn.axis() == turns[1].axis()
                            && solved(Turns::get().turned(before, turns[1])));
                    let packed = before.packed();
                    longer.push((
                        before,
                        Ending { before: packed, turns, len: len as u8, passes_cross, begin },
                    ));
                }
            }
            all.extend(longer.iter().map(|&(_, ending)| ending));
            shorter = longer;
        }
        let mut cross = vec![0; (TWO * TWO).div_ceil(64)];
        for ending in &all {
            let number = Tracked::cross_of(ending.before);
            cross[number / 64] |= 1 << (number % 64);
        }
        let by_pair = [0, 1, 2, 3].map(|slot| Buckets::new(&all, slot));
        Endings { longest, by_pair, cross, begin: backward.sets }
    }

    /// Whether any ending begins with the cross so.
    #[inline]
    pub fn has_cross(&self, cross: usize) -> bool {
        self.cross[cross / 64] >> (cross % 64) & 1 == 1
    }

    /// Every ending that solves the cross and the pair `slot` from `packed` and may begin at `node`.
    #[inline]
    pub fn of(&self, packed: u64, slot: usize, node: u16) -> impl Iterator<Item = &Ending> {
        let mask = CROSS_BITS | pair_bits(slot);
        self.by_pair[slot].of(packed & mask).filter(move |ending| {
            (ending.before ^ packed) & mask == 0
                && self.begin[usize::from(ending.begin)][usize::from(node / 64)] >> (node % 64) & 1 == 1
        })
    }
}

impl Buckets {
    fn new(all: &[Ending], slot: usize) -> Buckets {
        let mask = CROSS_BITS | pair_bits(slot);
        // Counting sort: it keeps the order within a bucket, and is the fastest there is here.
        let mut starts = vec![0_u32; (1 << BUCKET_BITS) + 1];
        for ending in all {
            starts[bucket(ending.before & mask) + 1] += 1;
        }
        for i in 1..starts.len() {
            starts[i] += starts[i - 1];
        }
        let mut fill = starts.clone();
        let mut endings = all.to_vec();
        for ending in all {
            let at = &mut fill[bucket(ending.before & mask)];
            endings[*at as usize] = *ending;
            *at += 1;
        }
        Buckets { starts, endings }
    }

    #[inline]
    fn of(&self, masked: u64) -> std::slice::Iter<'_, Ending> {
        let i = bucket(masked);
        self.endings[self.starts[i] as usize..self.starts[i + 1] as usize].iter()
    }
}

/// The automaton read backward: the sets of nodes from which a sequence of turns ends a line.
struct Backward {
    /// For each turn, the (from, to) nodes it links.
    links: [Vec<(u16, u16)>; Turn::COUNT],
    /// The sets met so far, one bit for each node.
    sets: Vec<Vec<u64>>,
    ids: HashMap<Vec<u64>, u16>,
    /// For each set and turn, the set before the turn once it is known: `None` if that is empty.
    before: Vec<[Option<Option<u16>>; Turn::COUNT]>,
}

impl Backward {
    /// The set of nodes where a line may end.
    const COMPLETE: u16 = 0;

    fn new(automaton: &Automaton) -> Backward {
        let mut links: [Vec<(u16, u16)>; Turn::COUNT] = Default::default();
        for (from, row) in automaton.next.iter().enumerate() {
            for (links, &to) in links.iter_mut().zip(row) {
                if to != Automaton::DEAD {
                    links.push((from as u16, to));
                }
            }
        }
        let mut complete = vec![0; automaton.next.len().div_ceil(64)];
        for (node, _) in automaton.complete.iter().enumerate().filter(|(_, complete)| **complete) {
            complete[node / 64] |= 1 << (node % 64);
        }
        Backward {
            links,
            ids: HashMap::from([(complete.clone(), Backward::COMPLETE)]),
            sets: vec![complete],
            before: vec![[None; Turn::COUNT]],
        }
    }

    /// The nodes from which `turn` leads into the set; `None` if there are none.
    fn before(&mut self, set: u16, turn: Turn) -> Option<u16> {
        if let Some(known) = self.before[usize::from(set)][turn.index()] {
            return known;
        }
        let after = &self.sets[usize::from(set)];
        let mut before = vec![0_u64; after.len()];
        for &(from, to) in &self.links[turn.index()] {
            before[usize::from(from / 64)] |= (after[usize::from(to / 64)] >> (to % 64) & 1) << (from % 64);
        }
        let found = before.iter().any(|&bits| bits != 0).then(|| {
            *self.ids.entry(before).or_insert_with_key(|before| {
                self.sets.push(before.clone());
                self.before.push([None; Turn::COUNT]);
                u16::try_from(self.sets.len() - 1).expect("the grammar is small")
            })
        });
        self.before[usize::from(set)][turn.index()] = Some(found);
        found
    }
}

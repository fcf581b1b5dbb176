//! How lines end: every sequence of a few turns that solves the cross and a pair, found backward from the
//! solved cube.
//!
//! A search forward from a position needs only to go a few turns short of its bound: what is left to do is
//! looked up here. An ending is filed under where the cross and one pair are before it, once for each pair,
//! so that a look-up finds those that solve them; and it knows at which nodes of the automaton it may begin,
//! so that only whole lines come together.

use std::collections::HashMap;
use std::sync::OnceLock;

use super::automaton::Automaton;
use super::goal::Goal;
use super::tracked::{CROSS_BITS, Tracked, Turns, pair_bits};
use super::turn::Turn;
use crate::cube::{BySlot, Face, PairSet, Slot};

/// The longest ending any table holds.
pub(super) const LONGEST: usize = 5;

/// A sequence of at most [`LONGEST`] turns that ends a line.
#[derive(Debug, Clone, Copy)]
pub(super) struct Ending {
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
    const EMPTY: Ending =
        Ending { turns: [Turn::ALL[0]; LONGEST], len: 0, passes_cross: false, begin: Backward::COMPLETE };

    /// The turns in the order in which they are played.
    pub fn turns(&self) -> &[Turn] {
        &self.turns[..usize::from(self.len)]
    }
}

/// An ending with the position from which it solves all tracked pieces.
#[derive(Debug, Clone, Copy)]
struct Placed {
    ending: Ending,
    before: Tracked,
}

/// All endings of one kind of line, filed for look-up.
#[derive(Debug)]
pub(super) struct Endings {
    /// The greatest number of turns.
    pub longest: usize,
    /// By length, then as they were found.
    all: Vec<Ending>,
    /// Where any of them begins: most look-ups find nothing, and learn it here, in a small table.
    pub begins: Filter,
    /// For each pair, the endings by the hash of where it and the cross are before them.
    by_pair: BySlot<Buckets>,
    /// For each set of nodes, one bit for each node of the automaton.
    begin: Vec<Vec<u64>>,
    /// What is needed to find longer endings.
    grow: Grow,
    /// Where the endings of one turn more begin.
    longer: OnceLock<Filter>,
}

/// The endings of the greatest length, which longer ones are made of.
#[derive(Debug)]
struct Grow {
    longest: Vec<Placed>,
    backward: Backward,
}

/// Endings filed by the bucket of where the cross and one pair are before them.
#[derive(Debug)]
struct Buckets {
    /// Where each bucket's endings start, and the last one's end.
    starts: Vec<u32>,
    /// Packed position before the ending, and its number.
    endings: Vec<(u64, u32)>,
}

const BUCKET_BITS: u32 = 14;

/// The hash of a position of which only the bits of the cross and one pair are left; its upper bits are good.
#[inline]
fn hash(masked: u64) -> u64 {
    // The pair's bits are brought next to those of the cross, then multiplied by 2^64 / golden ratio, which
    // spreads neighbouring numbers (Knuth, The Art of Computer Programming 3, section 6.4: Fibonacci hashing;
    // from memory).
    masked.wrapping_mul(0x9e37_79b9_7f4a_7c15)
}

/// The bucket of a position of which only the bits of the cross and one pair are left.
#[inline]
fn bucket(masked: u64) -> usize {
    (hash(masked) >> (64 - BUCKET_BITS)) as usize
}

impl Endings {
    /// All endings of at most `longest` turns of the lines `automaton` accepts.
    pub fn new(automaton: &Automaton, longest: usize) -> Endings {
        assert!(longest <= LONGEST, "an ending has room for {LONGEST} turns");
        let mut backward = Backward::new(automaton);
        let mut all: Vec<Placed> = Vec::new();
        // Breadth first: all endings of one length, from those one turn shorter.
        let mut shorter = vec![Placed { ending: Ending::EMPTY, before: Tracked::solved() }];
        for _ in 0..longest {
            let mut longer = Vec::new();
            for placed in &shorter {
                placed.prepend(&mut backward, |placed| longer.push(placed));
            }
            all.extend(&longer);
            shorter = longer;
        }
        let mut begins = Filter::new(all.len());
        for placed in &all {
            begins.insert(placed.before.packed());
        }
        Endings {
            longest,
            begins,
            by_pair: BySlot::of(|slot| Buckets::new(&all, slot)),
            all: all.iter().map(|placed| placed.ending).collect(),
            begin: backward.sets.clone(),
            grow: Grow { longest: shorter, backward },
            longer: OnceLock::new(),
        }
    }

    /// Every ending that solves the cross and the pair `slot` from `packed`, takes all pieces of `bits` home
    /// and may begin at `node`; with it, the position it takes home.
    #[inline]
    pub fn of(&self, packed: u64, slot: Slot, bits: u64, node: u16) -> impl Iterator<Item = (u64, &Ending)> {
        let mask = CROSS_BITS | pair_bits(slot);
        self.by_pair[slot].of(packed & mask).filter_map(move |&(before, number)| {
            if (before ^ packed) & (mask | bits) != 0 {
                return None;
            }
            let ending = &self.all[number as usize];
            let begin = &self.begin[usize::from(ending.begin)];
            (begin[usize::from(node / 64)] >> (node % 64) & 1 == 1).then_some((before, ending))
        })
    }

    /// Where endings of one turn more than [`Endings::longest`] begin; made at the first call.
    pub fn longer(&self) -> &Filter {
        self.longer.get_or_init(|| {
            let mut backward = self.grow.backward.clone();
            let mut filter = Filter::new(self.grow.longest.len() * 10);
            for placed in &self.grow.longest {
                placed.prepend(&mut backward, |longer| filter.insert(longer.before.packed()));
            }
            filter
        })
    }
}

impl Placed {
    /// Calls `to` with every ending of one turn more that goes on as this one.
    fn prepend(&self, backward: &mut Backward, mut to: impl FnMut(Placed)) {
        let Placed { ending, before: position } = *self;
        let len = usize::from(ending.len);
        let solved = |position: Tracked| Goal::get().cross_solved(position.packed());
        let passes_cross = ending.passes_cross || (len > 0 && solved(position));
        for turn in Turn::ALL {
            if len == 0 && turn.face() == Face::U {
                continue; // What it solves was solved before it.
            }
            let Some(begin) = backward.before(ending.begin, turn) else { continue };
            let before = Turns::get().turned(position, turn.inverse());
            let mut turns = ending.turns;
            turns.copy_within(..LONGEST - 1, 1);
            turns[0] = turn;
            let passes_cross = passes_cross
                || (len > 0
                    && turn.axis() == turns[1].axis()
                    && solved(Turns::get().turned(before, turns[1])));
            to(Placed { before, ending: Ending { turns, len: ending.len + 1, passes_cross, begin } });
        }
    }
}

/// Which positions of the cross and one pair are in a set: sure if it says no, likely if it says yes.
#[derive(Debug)]
pub(super) struct Filter {
    by_pair: BySlot<Vec<u64>>,
    /// How far a hash is shifted down to give the number of a bit.
    shift: u32,
}

impl Filter {
    /// With room for so many positions.
    fn new(positions: usize) -> Filter {
        let bits = (positions * 8).next_power_of_two();
        Filter { by_pair: BySlot::of(|_| vec![0; bits / 64]), shift: 64 - bits.trailing_zeros() }
    }

    fn bit(&self, packed: u64, slot: Slot) -> usize {
        (hash(packed & (CROSS_BITS | pair_bits(slot))) >> self.shift) as usize
    }

    fn insert(&mut self, packed: u64) {
        for slot in Slot::ALL {
            let bit = self.bit(packed, slot);
            self.by_pair[slot][bit / 64] |= 1 << (bit % 64);
        }
    }

    /// Those pairs of a set as far as which go the position may be in the set.
    #[inline]
    pub fn may_contain_any(&self, packed: u64, slots: PairSet) -> PairSet {
        slots.filter(|slot| self.may_contain(packed, slot))
    }

    /// Whether the position may be in the set as far as this pair goes.
    #[inline]
    pub fn may_contain(&self, packed: u64, slot: Slot) -> bool {
        let bit = self.bit(packed, slot);
        self.by_pair[slot][bit / 64] >> (bit % 64) & 1 == 1
    }
}

impl Buckets {
    fn new(all: &[Placed], slot: Slot) -> Buckets {
        let mask = CROSS_BITS | pair_bits(slot);
        // Counting sort: it keeps the order within a bucket, and is the fastest there is here.
        let before: Vec<u64> = all.iter().map(|placed| placed.before.packed()).collect();
        let mut starts = vec![0_u32; (1 << BUCKET_BITS) + 1];
        for before in &before {
            starts[bucket(before & mask) + 1] += 1;
        }
        for i in 1..starts.len() {
            starts[i] += starts[i - 1];
        }
        let mut fill = starts.clone();
        let mut endings = vec![(0, 0); all.len()];
        for (number, &before) in before.iter().enumerate() {
            let at = &mut fill[bucket(before & mask)];
            endings[*at as usize] = (before, number as u32);
            *at += 1;
        }
        Buckets { starts, endings }
    }

    #[inline]
    fn of(&self, masked: u64) -> std::slice::Iter<'_, (u64, u32)> {
        let i = bucket(masked);
        self.endings[self.starts[i] as usize..self.starts[i + 1] as usize].iter()
    }
}

/// The automaton read backward: the sets of nodes from which a sequence of turns ends a line.
#[derive(Debug, Clone)]
struct Backward {
    /// For each turn, the nodes it leads from, by the node it leads to; most sets are small, so most links are never
    /// looked at.
    links: [Vec<Vec<u16>>; Turn::COUNT],
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
        let mut links = [const { Vec::new() }; Turn::COUNT];
        links.fill(vec![Vec::new(); automaton.next.len()]);
        for (from, row) in automaton.next.iter().enumerate() {
            for (links, &to) in links.iter_mut().zip(row) {
                if to != Automaton::DEAD {
                    links[usize::from(to)].push(from as u16);
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
        for (word, &bits) in after.iter().enumerate() {
            let mut bits = bits;
            while bits != 0 {
                let to = word * 64 + bits.trailing_zeros() as usize;
                bits &= bits - 1;
                for &from in &self.links[turn.index()][to] {
                    before[usize::from(from / 64)] |= 1 << (from % 64);
                }
            }
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

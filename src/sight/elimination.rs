//! Perfect elimination at one moment: which pieces have only one place left.
//!
//! The unknown pieces and the places they sit in form a bipartite graph, with an edge where the stickers in
//! sight at the place could be that piece's. A piece is known when every perfect matching of the graph gives
//! it the same place.
//!
//! We have an advantage over the solver: we know one perfect matching, the true one. Call every place by the
//! piece that really sits in it, and draw an arc from *p* to *q* where the place of *p* could hold *q*.
//! Two perfect matchings differ by disjoint alternating cycles, so another matching moves *p* exactly if *p*
//! lies on a cycle of these arcs (C. Berge, "Two theorems in graph theory", 1957, from memory: symmetric
//! difference of matchings; the use for edges that belong to every or no perfect matching is the one of
//! J.-C. Régin's all-different filtering, 1994, from memory). So the known pieces are the nodes on no cycle,
//! and a piece may be in the place of *q* exactly if the arc from *q* to it lies on a cycle. With at most
//! twelve nodes the transitive closure is a few dozen operations on bit masks.
//!
//! One pass is already the fixpoint: a known piece has the same place in every perfect matching, so taking
//! it and its place away leaves exactly the same matchings of the others, hence the same answer for them.

/// `arcs[p]` has bit `q` where the place of `p` could hold the unknown piece `q`. Only bits of `unknown` are
/// looked at; the arc from a piece to itself is allowed and ignored.
pub(super) struct Elimination<const N: usize> {
    arcs: [u16; N],
    /// What can be reached by one arc or more.
    reach: [u16; N],
    unknown: u16,
}

impl<const N: usize> Elimination<N> {
    pub(super) fn new(mut arcs: [u16; N], unknown: u16) -> Elimination<N> {
        for (p, arc) in arcs.iter_mut().enumerate() {
            *arc &= unknown & !(1 << p);
        }
        // Warshall's transitive closure, a row at a time.
        let mut reach = arcs;
        for k in bits(unknown) {
            let row = reach[k];
            for i in bits(unknown) {
                if reach[i] >> k & 1 != 0 {
                    reach[i] |= row;
                }
            }
        }
        Elimination { arcs, reach, unknown }
    }

    /// The unknown pieces that have only one place left.
    pub(super) fn found(&self) -> u16 {
        bits(self.unknown).filter(|&p| self.reach[p] >> p & 1 == 0).fold(0, |found, p| found | 1 << p)
    }

    /// The pieces in whose places the unknown piece `p` may be, itself among them.
    pub(super) fn possible(&self, p: usize) -> u16 {
        bits(self.reach[p] & self.unknown)
            .filter(|&q| self.arcs[q] >> p & 1 != 0)
            .fold(1 << p, |possible, q| possible | 1 << q)
    }
}

/// The positions of the bits that are set, lowest first.
pub(super) fn bits(mut mask: u16) -> impl Iterator<Item = usize> {
    std::iter::from_fn(move || {
        (mask != 0).then(|| {
            let bit = mask.trailing_zeros() as usize;
            mask &= mask - 1;
            bit
        })
    })
}

macro_rules! candidates {
    ($(#[$doc:meta])* $table:ident, $make:ident, $piece:ident, $count:literal pieces, $sides:literal sides) => {
        $(#[$doc])*
        pub(super) static $table: [[u16; 1 << $sides]; $count] = $make();

        const fn $make() -> [[u16; 1 << $sides]; $count] {
            let mut table = [[0; 1 << $sides]; $count];
            let mut p = 0;
            while p < $count {
                let real = crate::cube::$piece::ALL[p].colours();
                let mut stickers = 0;
                while stickers < 1 << $sides {
                    let mut q = 0;
                    while q < $count {
                        let other = crate::cube::$piece::ALL[q].colours();
                        let mut by = 0;
                        while by < $sides {
                            let mut agrees = true;
                            let mut i = 0;
                            while i < $sides {
                                let in_sight = stickers >> i & 1 != 0;
                                if in_sight && other[(i + by) % $sides] as u8 != real[i] as u8 {
                                    agrees = false;
                                }
                                i += 1;
                            }
                            if agrees {
                                table[p][stickers] |= 1 << q;
                            }
                            by += 1;
                        }
                        q += 1;
                    }
                    stickers += 1;
                }
                p += 1;
            }
            table
        }
    };
}

candidates! {
    /// For a corner and the set of its stickers in sight: the corners that could show just those colours,
    /// in that order round the place, in some orientation.
    CORNER_CANDIDATES, corner_candidates, Corner, 8 pieces, 3 sides
}
candidates! {
    /// For an edge and the set of its stickers in sight: the edges that could show just those colours in
    /// some orientation.
    EDGE_CANDIDATES, edge_candidates, Edge, 12 pieces, 2 sides
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn two_visible_stickers_name_a_corner_and_one_leaves_four() {
        for (p, row) in CORNER_CANDIDATES.iter().enumerate() {
            for stickers in 0..8_u32 {
                let candidates = row[stickers as usize];
                let expected = match stickers.count_ones() {
                    0 => 8,
                    1 => 4,
                    _ => 1,
                };
                assert_eq!(candidates.count_ones(), expected);
                assert!(candidates >> p & 1 != 0);
            }
        }
    }

    #[test]
    fn two_visible_stickers_name_an_edge_and_one_leaves_four() {
        for (p, row) in EDGE_CANDIDATES.iter().enumerate() {
            for stickers in 0..4_u32 {
                let candidates = row[stickers as usize];
                let expected = match stickers.count_ones() {
                    0 => 12,
                    1 => 4,
                    _ => 1,
                };
                assert_eq!(candidates.count_ones(), expected);
                assert!(candidates >> p & 1 != 0);
            }
        }
    }

    #[test]
    fn a_piece_is_found_when_it_lies_on_no_cycle() {
        // 0 and 1 may be swapped; 2 could only take the place of 0, and nobody else could be where 2 is.
        let elimination = Elimination::<4>::new([0b0110, 0b0001, 0b0100, 0b1000], 0b1111);
        assert_eq!(elimination.found(), 0b1100);
        assert_eq!(elimination.possible(0), 0b0011);
        assert_eq!(elimination.possible(2), 0b0100);
    }
}

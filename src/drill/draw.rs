//! Positions drawn at random, each as likely as the others.
//!
//! With the cross done and some pairs open, the corners of those pairs and of the last layer lie in the places of
//! both in any order and twisted in any way, and so do the edges. A draw puts them there: shuffled, each turned at random but
//! the last of its kind, which follows from the others, and with two edges exchanged where the corners would
//! else take an odd number of exchanges more. So every arrangement comes of the same number of draws. Those in which one of
//! the pairs lies solved are thrown away, and what is left is uniform among the positions in which just these pairs are open.

use super::random::Random;
use crate::cube::{Colour, Corner, CornerAt, Edge, EdgeAt, Pair, PairSet, State};

/// Any position in which the cross is whole and just these pairs, by their slots, are open.
///
/// # Panics
/// If no pair is to be open.
#[must_use]
pub fn with_open(random: &mut Random, cross: Colour, open: PairSet) -> State {
    assert!(!open.is_empty(), "a pair to be open");
    let pairs: Vec<Pair> = open.iter().map(|slot| Pair::all(cross)[slot.index()]).collect();
    let top = cross.opposite();
    let corners: Vec<Corner> = Corner::ALL
        .into_iter()
        .filter(|&corner| corner.has(top) || pairs.iter().any(|pair| pair.corner == corner))
        .collect();
    let edges: Vec<Edge> = Edge::ALL
        .into_iter()
        .filter(|&edge| edge.has(top) || pairs.iter().any(|pair| pair.edge == edge))
        .collect();
    loop {
        let state = arranged(random, &corners, &edges);
        if pairs.iter().all(|&pair| !state.pair_solved(pair)) {
            return state;
        }
    }
}

/// Any position at all.
#[must_use]
pub fn any(random: &mut Random) -> State {
    arranged(random, &Corner::ALL, &Edge::ALL)
}

/// These pieces in each other's places in any way, the others solved.
fn arranged(random: &mut Random, corners: &[Corner], edges: &[Edge]) -> State {
    let mut corner_at = Corner::ALL.map(CornerAt::home);
    let mut edge_at = Edge::ALL.map(EdgeAt::home);
    let mut order: Vec<Corner> = corners.to_vec();
    random.shuffle(&mut order);
    let mut twists = 0;
    for (i, (corner, place)) in corners.iter().zip(&order).enumerate() {
        let last = i + 1 == corners.len();
        let twist = if last { (3 - twists % 3) % 3 } else { random.below(3) };
        twists += twist;
        corner_at[corner.index()] = CornerAt::new(place.home(), twist as u8);
    }
    let mut order: Vec<Edge> = edges.to_vec();
    random.shuffle(&mut order);
    let mut flips = 0;
    for (i, (edge, place)) in edges.iter().zip(&order).enumerate() {
        let last = i + 1 == edges.len();
        let flip = if last { flips % 2 } else { random.below(2) };
        flips += flip;
        edge_at[edge.index()] = EdgeAt::new(place.home(), flip as u8);
    }
    State::arranged(corner_at, edge_at).unwrap_or_else(|| {
        // Corners and edges do not go together; with two edges in each other's places they do.
        let [a, b] = [edges[0].index(), edges[1].index()];
        edge_at.swap(a, b);
        State::arranged(corner_at, edge_at).expect("an exchange makes odd even")
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::cube::Slot;

    #[test]
    fn just_the_pairs_asked_for_are_open() {
        let mut random = Random::new(7, 0);
        for cross in Colour::ALL {
            for bits in 1..PairSet::COUNT {
                let set: PairSet =
                    Slot::ALL.into_iter().filter(|slot| bits >> slot.index() & 1 == 1).collect();
                for _ in 0..20 {
                    let state = with_open(&mut random, cross, set);
                    assert!(state.cross_solved(cross));
                    for pair in Pair::all(cross) {
                        assert_eq!(state.pair_solved(pair), !set.contains(pair.slot()));
                    }
                }
            }
        }
    }
}

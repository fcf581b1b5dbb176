//! A corner or an edge, and sets of both.

use std::fmt;

use crate::cube::{Colour, ColourSet, Corner, Edge, Pair, Place, Position, State};

/// A corner or an edge.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Piece {
    /// One of the eight corners.
    Corner(Corner),
    /// One of the twelve edges.
    Edge(Edge),
}

impl Piece {
    /// Its colours.
    #[must_use]
    pub fn colours(self) -> ColourSet {
        match self {
            Piece::Corner(corner) => ColourSet::of(&corner.colours()),
            Piece::Edge(edge) => ColourSet::of(&edge.colours()),
        }
    }

    /// Where it is, as the hands call it.
    #[must_use]
    pub fn place(self, position: &Position) -> Place {
        match self {
            Piece::Corner(corner) => Place::of_corner(position.state.corner(corner).place(), position.hold),
            Piece::Edge(edge) => Place::of_edge(position.state.edge(edge).place(), position.hold),
        }
    }

    /// Whether it is up: in the layer opposite the cross.
    #[must_use]
    pub fn is_up(self, state: &State, cross: Colour) -> bool {
        match self {
            Piece::Corner(corner) => state.corner(corner).place().touches(cross.opposite()),
            Piece::Edge(edge) => state.edge(edge).place().touches(cross.opposite()),
        }
    }

    /// The corner of a pair, then its edge.
    #[must_use]
    pub const fn of_pair(pair: Pair) -> [Piece; 2] {
        [Piece::Corner(pair.corner), Piece::Edge(pair.edge)]
    }
}

/// Its colours in alphabetical order: `green-red`, `blue-orange-white`.
impl fmt::Display for Piece {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let mut colours: Vec<&str> = self.colours().iter().map(Colour::name).collect();
        colours.sort_unstable();
        f.pad(&colours.join("-"))
    }
}

/// A set of corners and edges.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub struct Pieces {
    /// Bit `Corner::index`.
    pub(super) corners: u16,
    /// Bit `Edge::index`.
    pub(super) edges: u16,
}

impl Pieces {
    /// No piece.
    pub const EMPTY: Pieces = Pieces { corners: 0, edges: 0 };

    /// The four edges of the cross of this colour and both pieces of each pair: with the pairs solved at the
    /// start of a step and those in hand (solved by it), what is known from the start.
    #[must_use]
    pub fn cross_and(cross: Colour, pairs: impl IntoIterator<Item = Pair>) -> Pieces {
        let edges = Pair::cross_edges(cross).into_iter().map(Piece::Edge);
        pairs.into_iter().fold(edges.collect(), Pieces::with_pair)
    }

    /// Every piece that is solved in this state, whatever it belongs to.
    #[must_use]
    pub fn solved(state: &State) -> Pieces {
        let corners = Corner::ALL.into_iter().filter(|&c| state.corner_solved(c)).map(Piece::Corner);
        let edges = Edge::ALL.into_iter().filter(|&e| state.edge_solved(e)).map(Piece::Edge);
        corners.chain(edges).collect()
    }

    /// The set with this piece added.
    #[must_use]
    pub const fn with(self, piece: Piece) -> Pieces {
        match piece {
            Piece::Corner(corner) => Pieces { corners: self.corners | 1 << corner.index(), ..self },
            Piece::Edge(edge) => Pieces { edges: self.edges | 1 << edge.index(), ..self },
        }
    }

    /// The set with both pieces of the pair added.
    #[must_use]
    pub const fn with_pair(self, pair: Pair) -> Pieces {
        self.with(Piece::Corner(pair.corner)).with(Piece::Edge(pair.edge))
    }

    /// Whether the piece is in the set.
    #[must_use]
    pub const fn contains(self, piece: Piece) -> bool {
        match piece {
            Piece::Corner(corner) => self.corners >> corner.index() & 1 != 0,
            Piece::Edge(edge) => self.edges >> edge.index() & 1 != 0,
        }
    }

    /// Whether every piece of `other` is in this set.
    #[must_use]
    pub const fn is_superset(self, other: Pieces) -> bool {
        self.corners & other.corners == other.corners && self.edges & other.edges == other.edges
    }

    /// How many pieces there are.
    #[must_use]
    pub const fn len(self) -> usize {
        (self.corners.count_ones() + self.edges.count_ones()) as usize
    }

    /// Whether there are none.
    #[must_use]
    pub const fn is_empty(self) -> bool {
        self.corners == 0 && self.edges == 0
    }

    /// The corners, then the edges, in order of their index.
    pub fn iter(self) -> impl Iterator<Item = Piece> {
        let corners = Corner::ALL.into_iter().map(Piece::Corner);
        let edges = Edge::ALL.into_iter().map(Piece::Edge);
        corners.chain(edges).filter(move |&piece| self.contains(piece))
    }
}

impl FromIterator<Piece> for Pieces {
    fn from_iter<I: IntoIterator<Item = Piece>>(items: I) -> Pieces {
        items.into_iter().fold(Pieces::EMPTY, Pieces::with)
    }
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;

    use super::*;

    /// Against the standard library's set, on subsets that mix corners and edges.
    #[test]
    fn it_is_a_set() {
        let all: Vec<Piece> =
            Corner::ALL.map(Piece::Corner).into_iter().chain(Edge::ALL.map(Piece::Edge)).collect();
        let subset = |n: usize| -> BTreeSet<Piece> {
            all.iter()
                .enumerate()
                .filter(|(at, _)| (n * 7919 + n * n * 31) >> at & 1 == 1)
                .map(|(_, &p)| p)
                .collect()
        };
        for n in 0..200 {
            let (one, other) = (subset(n), subset(n + 1));
            let set = |pieces: &BTreeSet<Piece>| pieces.iter().copied().collect::<Pieces>();
            assert_eq!(set(&one).len(), one.len());
            assert_eq!(set(&one).is_empty(), one.is_empty());
            assert_eq!(set(&one).iter().collect::<Vec<_>>(), one.iter().copied().collect::<Vec<_>>());
            assert!(all.iter().all(|piece| set(&one).contains(*piece) == one.contains(piece)));
            assert_eq!(set(&one).is_superset(set(&other)), one.is_superset(&other));
            let both = one.intersection(&other).copied().collect();
            assert!(set(&one).is_superset(set(&both)));
        }
        assert_eq!(Piece::Corner(Corner::ALL[0]).to_string().split('-').count(), 3);
    }
}

//! Seen and known through one step, moment by moment, with what is known carried along.

use crate::cube::{Corner, CornerAt, CornerPlace, Edge, EdgeAt, EdgePlace, FaceSet, Position};

use super::elimination::{CORNER_CANDIDATES, EDGE_CANDIDATES, Elimination, bits};
use super::{InSight, Piece, Pieces};

/// When a piece was seen and known: offsets from the first moment of the step; `None` is never.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Found {
    /// Two stickers of it were in sight.
    pub seen: Option<usize>,
    /// Its place followed from what was in sight, at or before `seen`.
    pub known: Option<usize>,
    /// It was known which way round it sits.
    pub oriented: Option<usize>,
}

/// A piece at one moment.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Glimpse<At> {
    /// Where it really is.
    pub at: At,
    /// How many of its stickers are in sight, 0 to 3.
    pub stickers: usize,
    /// Whether its place is known.
    pub known: bool,
    /// Whether its orientation is known.
    pub oriented: bool,
    /// In how many places it may be for all that is in sight and known; 1 once it is known.
    pub possible: usize,
}

/// What could be known at one moment.
#[derive(Debug, Clone)]
struct Glance {
    position: Position,
    sight: InSight,
    known: Pieces,
    oriented: Pieces,
    /// Bit `q`: the corner may be where corner `q` really is.
    corner_possible: [u16; 8],
    edge_possible: [u16; 12],
}

/// What could be seen and known through one step.
#[derive(Debug, Clone)]
pub struct Watch {
    glances: Vec<Glance>,
}

impl Watch {
    /// Watches the moments of one step, first and last included.
    ///
    /// `given` is known, place and orientation, from the first moment on: the solved pieces and those in
    /// hand (see [`Pieces::cross_and`]). `sight` is of the hold of each moment, so a rotation or wide turn
    /// inside the step brings other stickers into sight.
    #[must_use]
    pub fn new(positions: &[Position], given: Pieces, sight: FaceSet) -> Watch {
        let mut glances = Vec::with_capacity(positions.len());
        let (mut known, mut oriented) = (given, given);
        for position in positions {
            let glance = Glance::new(position, InSight::new(position.hold, sight), known, oriented);
            (known, oriented) = (glance.known, glance.oriented);
            glances.push(glance);
        }
        Watch { glances }
    }

    /// How many moments were watched: one more than the tokens of the step.
    #[must_use]
    pub fn len(&self) -> usize {
        self.glances.len()
    }

    /// Whether no moment was watched.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.glances.is_empty()
    }

    /// When the piece was seen and known.
    #[must_use]
    pub fn piece(&self, piece: Piece) -> Found {
        let first = |test: &dyn Fn(&Glance) -> bool| self.glances.iter().position(test);
        Found {
            seen: first(&|glance| glance.sight.sees(piece, &glance.position)),
            known: first(&|glance| glance.known.contains(piece)),
            oriented: first(&|glance| glance.oriented.contains(piece)),
        }
    }

    /// When the corner was seen and known.
    #[must_use]
    pub fn corner(&self, corner: Corner) -> Found {
        self.piece(Piece::Corner(corner))
    }

    /// When the edge was seen and known.
    #[must_use]
    pub fn edge(&self, edge: Edge) -> Found {
        self.piece(Piece::Edge(edge))
    }

    /// The pieces known at an offset below [`len`](Self::len).
    #[must_use]
    pub fn known_at(&self, offset: usize) -> Pieces {
        self.glances[offset].known
    }

    /// The way of a corner through the step, one entry a moment.
    pub fn corner_track(&self, corner: Corner) -> impl Iterator<Item = Glimpse<CornerAt>> {
        self.glances.iter().map(move |glance| {
            let at = glance.position.state.corner(corner);
            Glimpse {
                at,
                stickers: glance.sight.corner_stickers(at).count_ones() as usize,
                known: glance.known.contains(Piece::Corner(corner)),
                oriented: glance.oriented.contains(Piece::Corner(corner)),
                possible: glance.corner_possible[corner.index()].count_ones() as usize,
            }
        })
    }

    /// The way of an edge through the step, one entry a moment.
    pub fn edge_track(&self, edge: Edge) -> impl Iterator<Item = Glimpse<EdgeAt>> {
        self.glances.iter().map(move |glance| {
            let at = glance.position.state.edge(edge);
            Glimpse {
                at,
                stickers: glance.sight.edge_stickers(at).count_ones() as usize,
                known: glance.known.contains(Piece::Edge(edge)),
                oriented: glance.oriented.contains(Piece::Edge(edge)),
                possible: glance.edge_possible[edge.index()].count_ones() as usize,
            }
        })
    }

    /// The places in which a corner may be at an offset below [`len`](Self::len), for all that is in sight
    /// and known; the true one is always among them.
    pub fn corner_places(&self, corner: Corner, offset: usize) -> impl Iterator<Item = CornerPlace> {
        let glance = &self.glances[offset];
        bits(glance.corner_possible[corner.index()])
            .map(|q| glance.position.state.corner(Corner::ALL[q]).place())
    }

    /// The places in which an edge may be at an offset below [`len`](Self::len), for all that is in sight and
    /// known; the true one is always among them.
    pub fn edge_places(&self, edge: Edge, offset: usize) -> impl Iterator<Item = EdgePlace> {
        let glance = &self.glances[offset];
        bits(glance.edge_possible[edge.index()]).map(|q| glance.position.state.edge(Edge::ALL[q]).place())
    }
}

impl Glance {
    /// One moment, with what was known at the moment before.
    fn new(position: &Position, sight: InSight, before: Pieces, oriented_before: Pieces) -> Glance {
        let state = &position.state;
        let (mut known, mut oriented) = (before, oriented_before);

        let corners_shown = Corner::ALL.map(|corner| sight.corner_stickers(state.corner(corner)));
        let mut corner_possible = std::array::from_fn(|p| 1 << p);
        let unknown = !before.corners & 0xff;
        if unknown != 0 {
            let arcs = std::array::from_fn(|p| CORNER_CANDIDATES[p][corners_shown[p] as usize]);
            let elimination = Elimination::<8>::new(arcs, unknown);
            known.corners |= elimination.found();
            for p in bits(!known.corners & 0xff) {
                corner_possible[p] = elimination.possible(p);
            }
        }

        let edges_shown = Edge::ALL.map(|edge| sight.edge_stickers(state.edge(edge)));
        let mut edge_possible = std::array::from_fn(|p| 1 << p);
        let unknown = !before.edges & 0xfff;
        if unknown != 0 {
            let arcs = std::array::from_fn(|p| EDGE_CANDIDATES[p][edges_shown[p] as usize]);
            let elimination = Elimination::<12>::new(arcs, unknown);
            known.edges |= elimination.found();
            for p in bits(!known.edges & 0xfff) {
                edge_possible[p] = elimination.possible(p);
            }
        }

        // A piece has no colour twice, so one sticker of a piece whose place is known tells how it sits.
        let showing = |shown: &[u8]| {
            shown.iter().enumerate().fold(0, |set, (p, &stickers)| set | u16::from(stickers != 0) << p)
        };
        oriented.corners |= known.corners & showing(&corners_shown);
        oriented.edges |= known.edges & showing(&edges_shown);
        Glance { position: *position, sight, known, oriented, corner_possible, edge_possible }
    }
}

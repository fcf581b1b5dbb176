//! What the eyes have of the open pairs through one step, in three grades, and when each piece is found.
//!
//! For a piece of an open pair that is not in hand, at a moment of the step:
//!
//! * **plain**: two stickers of its place are in sight (both of an edge's). It names itself.
//! * **deduced**: one step of reasoning from what is *accounted for* at that moment: the cross edges, the pieces of
//!   solved pairs and of those in hand, pieces of open pairs that were found at an earlier moment of this step or are
//!   plain now, and last-layer pieces that are plain now, which nobody remembers longer. Corners and edges apart;
//!   what is deduced at a moment is no help to another at the same moment. Two kinds ([`Deduction`]).
//! * **hidden**: neither.
//!
//! A piece is *found* at the first moment it is plain or deduced, and followed from then on to the end of the step.
//! A pair is *ready* if both its pieces are found with enough turns to go, or at the first moment; else it is late.
//!
//! This is what a person can be expected to do at speed. What can be known by perfect elimination over all pieces is
//! another matter: see [`Watch`](super::Watch).

use std::cmp::Reverse;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::cube::{Colour, ColourSet, Corner, Edge, FaceSet, Pair, Position};

use super::elimination::bits;
use super::{InSight, Moments, Piece, Pieces};

/// What the eyes have of a piece at one moment; the better, the greater.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Deserialize, JsonSchema, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Grade {
    /// Neither of the others.
    Hidden,
    /// It follows by one step of reasoning.
    Deduced,
    /// Two of its stickers are in sight.
    Plain,
}

/// The step of reasoning by which a piece is deduced.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Deserialize, JsonSchema, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Deduction {
    /// Exactly one sticker of its place is in sight, and every other piece of its kind that has this colour is
    /// accounted for.
    OneSticker,
    /// Its pair is the last open one, and of the places of pieces not accounted for only its own shows nothing that
    /// the piece lacks.
    OnlyPlace,
}

/// When a piece was found: offsets from the first moment of the step.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub struct Found {
    /// The first offset at which it is plain; `None` if never.
    pub plain: Option<usize>,
    /// The first offset at which it is deduced, if it is not plain then or before.
    pub deduced: Option<(usize, Deduction)>,
}

impl Found {
    /// The first offset at which it is plain or deduced.
    #[must_use]
    pub fn found(self) -> Option<usize> {
        self.deduced.map(|(offset, _)| offset).or(self.plain)
    }

    /// What people are told: when it was plain, if that was at or before the offset `deadline`, else when it was
    /// found.
    #[must_use]
    pub fn told(self, deadline: usize) -> Option<Told> {
        match (self.plain, self.deduced) {
            (Some(offset), _) if offset <= deadline => Some(Told { offset, how: None }),
            (_, Some((offset, how))) => Some(Told { offset, how: Some(how) }),
            (plain, None) => plain.map(|offset| Told { offset, how: None }),
        }
    }
}

/// When and how a piece was found, as people are told.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Told {
    /// The offset.
    pub offset: usize,
    /// By which reasoning; `None` if it was plain.
    pub how: Option<Deduction>,
}

/// What a step leaves for one open pair.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Left {
    /// The pair.
    pub pair: Pair,
    /// Whether both its pieces were found in time.
    pub ready: bool,
    /// Turns (OBTM) of the step to go when both had been found; `None` if one never was.
    pub lead: Option<usize>,
    /// Whether both its pieces were plain in time, so that nothing had to be worked out.
    pub plain_ready: bool,
    /// Turns (OBTM) of the step to go when both had been plain; `None` if one never was.
    pub plain_lead: Option<usize>,
    /// When its corner was found.
    pub corner: Found,
    /// When its edge was found.
    pub edge: Found,
    /// What people are told of the corner.
    pub corner_told: Option<Told>,
    /// What people are told of the edge.
    pub edge_told: Option<Told>,
    /// Turns (OBTM) of the step to go at the later of the two moments that are told: at most `lead`, and of a ready
    /// pair still in time.
    pub told_lead: Option<usize>,
}

impl Left {
    /// Whether the pair is ready, but only for eyes that work it out: by plain sight alone it would be late.
    #[must_use]
    pub const fn only_deduced(&self) -> bool {
        self.ready && !self.plain_ready
    }

    /// The later of the offsets that are told; 0 is at once.
    #[must_use]
    pub fn told_from(&self) -> Option<usize> {
        Some(self.corner_told?.offset.max(self.edge_told?.offset))
    }

    /// Of pairs solved at once the one with the greatest rank stands for all: a ready one before a late one, of equals
    /// the one with more lead, of equals in that too the one whose line costs less, where lines are priced.
    #[must_use]
    pub fn rank<Cost: Ord>(&self, cost: Option<Cost>) -> (bool, Option<usize>, Option<Reverse<Cost>>) {
        (self.ready, self.lead, cost.map(Reverse))
    }
}

/// What the eyes have through one step.
#[derive(Debug, Clone, Copy)]
pub struct Looked<'a> {
    pub(super) step: Moments<'a>,
    pub(super) cross: Colour,
    pub(super) sight: FaceSet,
    /// What is accounted for from the first moment: the cross, what is solved, what is in hand.
    pub(super) given: Pieces,
    /// The part of it that is in hand.
    pub(super) in_hand: Pieces,
    /// The pieces to be found: those of open pairs not in hand.
    pub(super) wanted: Pieces,
    corners: [Found; 8],
    edges: [Found; 12],
}

impl<'a> Looked<'a> {
    /// Looks at every moment of a step. `open` are the pairs of the cross that are open when it begins, those of
    /// `in_hand` among them: the pairs that it solves. `sight` is of the hold of each moment.
    #[must_use]
    pub fn new(
        step: Moments<'a>,
        cross: Colour,
        open: &[Pair],
        in_hand: &[Pair],
        sight: FaceSet,
    ) -> Looked<'a> {
        let to_find = |pair: &Pair| open.contains(pair) && !in_hand.contains(pair);
        let wanted = Pair::all(cross).into_iter().filter(to_find).fold(Pieces::EMPTY, Pieces::with_pair);
        let given = Pieces::cross_and(cross, Pair::all(cross).into_iter().filter(|pair| !to_find(pair)));
        let mut looked = Looked {
            step,
            cross,
            sight,
            given,
            in_hand: in_hand.iter().copied().fold(Pieces::EMPTY, Pieces::with_pair),
            wanted,
            corners: [Found::default(); 8],
            edges: [Found::default(); 12],
        };
        looked.look();
        looked
    }

    /// The same step with other faces in sight.
    #[must_use]
    pub fn with_sight(&self, sight: FaceSet) -> Looked<'a> {
        let (corners, edges) = ([Found::default(); 8], [Found::default(); 12]);
        let mut looked = Looked { sight, corners, edges, ..*self };
        looked.look();
        looked
    }

    /// Fills in when each piece is found.
    fn look(&mut self) {
        let corner_is_last = self.wanted.corners.count_ones() == 1;
        let edge_is_last = self.wanted.edges.count_ones() == 1;
        let mut before = self.given;
        // What is not plain yet; once everything is, nothing more can be learnt.
        let mut to_see = self.wanted;
        for (offset, position) in self.step.positions().iter().enumerate() {
            if to_see.is_empty() {
                break;
            }
            let glance = Glance::new(position, self.sight);
            for p in bits(to_see.corners & glance.corners.plain) {
                self.corners[p].plain = Some(offset);
            }
            for p in bits(to_see.edges & glance.edges.plain) {
                self.edges[p].plain = Some(offset);
            }
            let out = glance.accounted_for(before);
            for p in bits(self.wanted.corners & !out.corners) {
                if let Some(how) = glance.corners.deduce(p, out.corners, corner_is_last) {
                    self.corners[p].deduced = Some((offset, how));
                    before.corners |= 1 << p;
                }
            }
            for p in bits(self.wanted.edges & !out.edges) {
                if let Some(how) = glance.edges.deduce(p, out.edges, edge_is_last) {
                    self.edges[p].deduced = Some((offset, how));
                    before.edges |= 1 << p;
                }
            }
            before.corners |= self.wanted.corners & glance.corners.plain;
            before.edges |= self.wanted.edges & glance.edges.plain;
            to_see.corners &= !glance.corners.plain;
            to_see.edges &= !glance.edges.plain;
        }
    }

    /// When the piece was found; never for one that is solved, in hand, of the cross or of the last layer.
    #[must_use]
    pub const fn found(&self, piece: Piece) -> Found {
        match piece {
            Piece::Corner(corner) => self.corners[corner.index()],
            Piece::Edge(edge) => self.edges[edge.index()],
        }
    }

    /// Whether the piece had been found at this offset or before.
    #[must_use]
    pub fn found_by(&self, piece: Piece, offset: usize) -> bool {
        self.found(piece).found().is_some_and(|found| found <= offset)
    }

    /// Whether the solver has the piece at this offset: it is solved, in hand or of the cross, or has been found.
    #[must_use]
    pub fn followed(&self, piece: Piece, offset: usize) -> bool {
        self.given.contains(piece) || self.found_by(piece, offset)
    }

    /// What the eyes have of the piece at this offset, by itself: whether it is followed from an earlier moment is
    /// another question ([`found_by`](Self::found_by)). Only pieces of open pairs not in hand are ever deduced.
    ///
    /// # Panics
    ///
    /// If the step has no such offset.
    #[must_use]
    pub fn grade(&self, piece: Piece, offset: usize) -> Grade {
        let position = &self.step.positions()[offset];
        if InSight::new(position.hold, self.sight).sees(piece, position) {
            Grade::Plain
        } else if self.deduced_at(piece, offset).is_some() {
            Grade::Deduced
        } else {
            Grade::Hidden
        }
    }

    /// By which reasoning the piece, which is not plain, is deduced at this offset.
    fn deduced_at(&self, piece: Piece, offset: usize) -> Option<Deduction> {
        if !self.wanted.contains(piece) {
            return None;
        }
        let glance = Glance::new(&self.step.positions()[offset], self.sight);
        let out = glance.accounted_for(self.found_before(offset));
        match piece {
            Piece::Corner(corner) => {
                let last = self.wanted.corners.count_ones() == 1;
                glance.corners.deduce(corner.index(), out.corners, last)
            }
            Piece::Edge(edge) => {
                let last = self.wanted.edges.count_ones() == 1;
                glance.edges.deduce(edge.index(), out.edges, last)
            }
        }
    }

    /// What is accounted for before anything at this offset is looked at.
    pub(super) fn found_before(&self, offset: usize) -> Pieces {
        let earlier = |&piece: &Piece| self.found(piece).found().is_some_and(|found| found < offset);
        self.wanted.iter().filter(earlier).fold(self.given, Pieces::with)
    }

    /// What the step leaves for an open pair, with `lead` turns being enough
    /// ([`DEFAULT_LEAD`](super::DEFAULT_LEAD)).
    ///
    /// # Panics
    ///
    /// If the pair is not open or is in hand: the step has nothing to find of it.
    #[must_use]
    pub fn left(&self, pair: Pair, lead: usize) -> Left {
        let [corner, edge] = [Piece::Corner(pair.corner), Piece::Edge(pair.edge)];
        assert!(self.wanted.contains(corner), "an open pair that is not in hand");
        let [corner, edge] = [self.found(corner), self.found(edge)];
        let deadline = self.deadline(lead);
        let both = |corner: Option<usize>, edge: Option<usize>| Some(corner?.max(edge?));
        let found = both(corner.found(), edge.found());
        let plain = both(corner.plain, edge.plain);
        let (corner_told, edge_told) = (corner.told(deadline), edge.told(deadline));
        let told = both(corner_told.map(|told| told.offset), edge_told.map(|told| told.offset));
        let in_time = |offset: Option<usize>| offset.is_some_and(|offset| offset <= deadline);
        let to_go = |offset: Option<usize>| offset.map(|offset| self.step.turns_left(offset));
        Left {
            pair,
            ready: in_time(found),
            lead: to_go(found),
            plain_ready: in_time(plain),
            plain_lead: to_go(plain),
            corner,
            edge,
            corner_told,
            edge_told,
            told_lead: to_go(told),
        }
    }

    /// The last offset that is in time: with `lead` turns to go, or else the first.
    #[must_use]
    pub fn deadline(&self, lead: usize) -> usize {
        let last = self.step.moves().len();
        (0..=last).rev().find(|&offset| self.step.turns_left(offset) >= lead).unwrap_or(0)
    }

    /// The step looked at.
    #[must_use]
    pub const fn step(&self) -> Moments<'a> {
        self.step
    }

    /// The cross colour.
    #[must_use]
    pub const fn cross(&self) -> Colour {
        self.cross
    }
}

/// What can be seen at one moment.
struct Glance {
    corners: Shown<8>,
    edges: Shown<12>,
}

impl Glance {
    fn new(position: &Position, sight: FaceSet) -> Glance {
        let sight = InSight::new(position.hold, sight);
        let state = &position.state;
        // Loops take a third less than `map`, and this is asked for every line that is compared.
        let (mut corners, mut edges) = ([ColourSet::EMPTY; 8], [ColourSet::EMPTY; 12]);
        for corner in Corner::ALL {
            let n = corner.index();
            corners[n] = CORNERS.shown[n][sight.corner_stickers(state.corner(corner)) as usize];
        }
        for edge in Edge::ALL {
            let n = edge.index();
            edges[n] = EDGES.shown[n][sight.edge_stickers(state.edge(edge)) as usize];
        }
        Glance { corners: Shown::new(corners, &CORNERS), edges: Shown::new(edges, &EDGES) }
    }

    /// What is accounted for at this moment, with what was before.
    fn accounted_for(&self, before: Pieces) -> Pieces {
        Pieces { corners: before.corners | self.corners.plain, edges: before.edges | self.edges.plain }
    }
}

/// What the pieces of one kind show at one moment. Places are called by the piece that really sits in them.
struct Shown<const N: usize> {
    /// The colours in sight at the place of each piece.
    colours: [ColourSet; N],
    /// The pieces with two colours in sight.
    plain: u16,
    kind: &'static Kind<N>,
}

impl<const N: usize> Shown<N> {
    fn new(colours: [ColourSet; N], kind: &'static Kind<N>) -> Shown<N> {
        let two = |(p, colours): (usize, &ColourSet)| u16::from(colours.len() >= 2) << p;
        let plain = colours.iter().enumerate().map(two).fold(0, |plain, bit| plain | bit);
        Shown { colours, plain, kind }
    }

    /// How piece `p`, which is not plain, is deduced when the pieces of `out` are accounted for and its pair is the
    /// `last` open one or not.
    fn deduce(&self, p: usize, out: u16, last: bool) -> Option<Deduction> {
        let others = !out & !(1 << p);
        let one_sticker = || {
            let colour = self.colours[p].iter().next()?;
            (self.kind.with[colour as usize] & others == 0).then_some(Deduction::OneSticker)
        };
        let only_place = || {
            let own = self.kind.own[p];
            let fits = |q: usize| own.is_superset(self.colours[q]);
            (last && !bits(others & self.kind.all).any(fits)).then_some(Deduction::OnlyPlace)
        };
        one_sticker().or_else(only_place)
    }
}

/// What does not change about the pieces of one kind.
struct Kind<const N: usize> {
    /// The colours in sight at the place of a piece, by which of its stickers are.
    shown: [[ColourSet; 8]; N],
    /// Its colours.
    own: [ColourSet; N],
    /// The pieces that have each colour.
    with: [u16; 6],
    /// All pieces.
    all: u16,
}

macro_rules! kind {
    ($table:ident, $piece:ident, $count:literal pieces, $sides:literal sides) => {
        static $table: Kind<$count> = {
            let mut kind = Kind {
                shown: [[ColourSet::EMPTY; 8]; $count],
                own: [ColourSet::EMPTY; $count],
                with: [0; 6],
                all: (1 << $count) - 1,
            };
            let mut p = 0;
            while p < $count {
                let colours = $piece::ALL[p].colours();
                kind.own[p] = ColourSet::of(&colours);
                let mut i = 0;
                while i < $sides {
                    kind.with[colours[i] as usize] |= 1 << p;
                    i += 1;
                }
                let mut stickers = 0;
                while stickers < 1 << $sides {
                    let mut i = 0;
                    while i < $sides {
                        if stickers >> i & 1 != 0 {
                            kind.shown[p][stickers] = kind.shown[p][stickers].with(colours[i]);
                        }
                        i += 1;
                    }
                    stickers += 1;
                }
                p += 1;
            }
            kind
        };
    };
}

kind! { CORNERS, Corner, 8 pieces, 3 sides }
kind! { EDGES, Edge, 12 pieces, 2 sides }

#[cfg(test)]
mod tests {
    use super::*;

    fn left(ready: bool, lead: Option<usize>) -> Left {
        let pair = Pair::all(Colour::White)[0];
        Left {
            pair,
            ready,
            lead,
            plain_ready: false,
            plain_lead: None,
            corner: Found::default(),
            edge: Found::default(),
            corner_told: None,
            edge_told: None,
            told_lead: None,
        }
    }

    #[test]
    fn the_better_of_two_pairs_has_the_greater_rank() {
        // From the worst to the best, each with what its line costs.
        let ranked = [
            left(false, None).rank(Some(1)),
            left(false, Some(0)).rank(Some(9)),
            left(false, Some(1)).rank(Some(9)),
            left(true, Some(1)).rank(Some(9)),
            left(true, Some(4)).rank(Some(9)),
            left(true, Some(4)).rank(Some(2)),
        ];
        assert!(ranked.is_sorted_by(|worse, better| worse < better), "{ranked:?}");
        assert!(left(true, None).only_deduced() && !left(false, None).only_deduced());
        assert!(!Left { plain_ready: true, ..left(true, None) }.only_deduced());
    }

    #[test]
    fn plain_in_time_is_told_before_what_was_deduced_sooner() {
        let how = Deduction::OneSticker;
        let found = Found { plain: Some(3), deduced: Some((1, how)) };
        assert_eq!(found.found(), Some(1));
        assert_eq!(found.told(3), Some(Told { offset: 3, how: None }));
        assert_eq!(found.told(2), Some(Told { offset: 1, how: Some(how) }));
        assert_eq!(Found { plain: Some(3), deduced: None }.told(2), Some(Told { offset: 3, how: None }));
        assert_eq!(Found::default().told(9), None);
        let told =
            |corner, edge| Left { corner_told: corner, edge_told: edge, ..left(true, None) }.told_from();
        let at = |offset| Some(Told { offset, how: None });
        assert_eq!((told(at(1), at(4)), told(at(4), at(1)), told(at(1), None)), (Some(4), Some(4), None));
    }
}

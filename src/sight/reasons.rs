//! Why a deduced piece is the one it is: the sticker that shows, and what rules out the rest.

use crate::cube::{Colour, Corner, Edge, Face, Pair, Place};

use super::grades::{Deduction, Looked};
use super::{InSight, Piece};

/// The reasoning by which a piece is deduced.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Reason {
    /// The piece.
    pub piece: Piece,
    /// The offset in the step at which it is deduced.
    pub offset: usize,
    /// Where it is then.
    pub place: Place,
    /// What shows it.
    pub clue: Clue,
}

/// What shows that a piece is in its place.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Clue {
    /// One sticker, and nothing else that has its colour is left.
    OneSticker {
        /// The colour that shows.
        colour: Colour,
        /// The face it shows on.
        face: Face,
        /// Every other piece of the kind that has the colour, in order of [`Why`].
        ruled_out: Vec<RuledOut>,
    },
    /// It is nowhere else: the places of its kind, without its own, in order of [`NotHere`].
    OnlyPlace {
        /// The sticker that shows at its place, if one does.
        shows: Option<(Colour, Face)>,
        /// Every other place.
        elsewhere: Vec<Elsewhere>,
    },
}

/// A piece that it cannot be.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct RuledOut {
    /// The piece.
    pub piece: Piece,
    /// Why not.
    pub why: Why,
}

/// Why a piece is accounted for, what is easiest to see first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Why {
    /// It is in plain sight at this moment.
    LiesOpen {
        /// Where it lies.
        place: Place,
    },
    /// It belongs to an open pair and has been found before.
    FoundBefore {
        /// When, an offset in the step.
        offset: usize,
        /// Where it has got to.
        place: Place,
    },
    /// It is an edge of the cross.
    Cross,
    /// It belongs to a pair that was solved when the step began.
    Solved,
    /// It belongs to a pair that this step solves.
    InHand,
}

/// A place where it cannot be.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Elsewhere {
    /// The place.
    pub place: Place,
    /// Why not.
    pub not: NotHere,
}

/// Why a piece cannot be in a place.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum NotHere {
    /// Another piece is accounted for there.
    Holds {
        /// Why it is.
        why: Why,
        /// The other piece.
        piece: Piece,
    },
    /// The place shows a colour that the piece does not have.
    Shows {
        /// The colour.
        colour: Colour,
        /// The face it shows on.
        face: Face,
    },
}

impl Looked<'_> {
    /// Why the piece is the one it is, at the moment it is first deduced; `None` if it never is, or is plain before.
    #[must_use]
    pub fn reason(&self, piece: Piece) -> Option<Reason> {
        let (offset, how) = self.found(piece).deduced?;
        let place = self.place(piece, offset);
        let clue = match how {
            Deduction::OneSticker => {
                let (colour, face) = self.stickers(piece, offset)[0];
                let others = of_kind(piece).into_iter().filter(|&other| other != piece && has(other, colour));
                let mut ruled_out: Vec<RuledOut> = others
                    .filter_map(|piece| Some(RuledOut { piece, why: self.accounted_for(piece, offset)? }))
                    .collect();
                ruled_out.sort_by_key(|out| (out.why, out.piece));
                Clue::OneSticker { colour, face, ruled_out }
            }
            Deduction::OnlyPlace => {
                let others = of_kind(piece).into_iter().filter(|&other| other != piece);
                let mut elsewhere: Vec<Elsewhere> = others
                    .filter_map(|other| {
                        let not = self.not_here(piece, other, offset)?;
                        Some(Elsewhere { place: self.place(other, offset), not })
                    })
                    .collect();
                elsewhere.sort_by_key(|elsewhere| (elsewhere.not, elsewhere.place));
                Clue::OnlyPlace { shows: self.stickers(piece, offset).first().copied(), elsewhere }
            }
        };
        Some(Reason { piece, offset, place, clue })
    }

    /// Why the place of `other` is not the place of `piece`. What is accounted for there is told first: a colour that
    /// shows matters only where nobody knows what it belongs to.
    fn not_here(&self, piece: Piece, other: Piece, offset: usize) -> Option<NotHere> {
        if let Some(why) = self.accounted_for(other, offset) {
            return Some(NotHere::Holds { why, piece: other });
        }
        let lacking = |&(colour, _): &(Colour, Face)| !has(piece, colour);
        let (colour, face) = self.stickers(other, offset).into_iter().find(lacking)?;
        Some(NotHere::Shows { colour, face })
    }

    /// Why a piece is accounted for at this offset; `None` if it is not.
    fn accounted_for(&self, piece: Piece, offset: usize) -> Option<Why> {
        let position = &self.step.positions()[offset];
        if self.given.contains(piece) {
            let of_cross =
                matches!(piece, Piece::Edge(edge) if Pair::cross_edges(self.cross).contains(&edge));
            return Some(match (of_cross, self.in_hand.contains(piece)) {
                (true, _) => Why::Cross,
                (false, true) => Why::InHand,
                (false, false) => Why::Solved,
            });
        }
        let place = self.place(piece, offset);
        if InSight::new(position.hold, self.sight).sees(piece, position) {
            return Some(Why::LiesOpen { place });
        }
        let found = self.found(piece).found().filter(|&found| found < offset)?;
        Some(Why::FoundBefore { offset: found, place })
    }

    /// Where the piece is at this offset, as the hands call it.
    ///
    /// # Panics
    ///
    /// If the step has no such offset.
    #[must_use]
    pub fn place(&self, piece: Piece, offset: usize) -> Place {
        piece.place(&self.step.positions()[offset])
    }

    /// The stickers of the piece that are in sight at this offset, and the faces they show on.
    ///
    /// # Panics
    ///
    /// If the step has no such offset.
    #[must_use]
    pub fn stickers(&self, piece: Piece, offset: usize) -> Vec<(Colour, Face)> {
        let position = &self.step.positions()[offset];
        let shown = self.sight.iter().filter_map(|face| {
            let centre = position.hold.colour(face);
            let colour = match piece {
                Piece::Corner(corner) => position.state.corner(corner).shows(corner, centre),
                Piece::Edge(edge) => position.state.edge(edge).shows(edge, centre),
            };
            colour.map(|colour| (colour, face))
        });
        shown.collect()
    }
}

/// All pieces of the same kind.
pub(super) fn of_kind(piece: Piece) -> Vec<Piece> {
    match piece {
        Piece::Corner(_) => Corner::ALL.map(Piece::Corner).to_vec(),
        Piece::Edge(_) => Edge::ALL.map(Piece::Edge).to_vec(),
    }
}

fn has(piece: Piece, colour: Colour) -> bool {
    piece.colours().contains(colour)
}

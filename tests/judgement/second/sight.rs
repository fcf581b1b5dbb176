//! What the eyes have, counted in stickers (docs/method.md, What the eyes have): plain, deduced or hidden, and when a piece is found.

use std::collections::BTreeSet;

use cornerwise::cube::{Colour, Face, Move};

use super::stickers::{Cube, Pair, Piece, corner, cubies, edge, turns};

/// What a piece is to the eyes at one moment.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Grade {
    Plain,
    /// By the one sticker in sight.
    OneSticker,
    /// By the one place that is left.
    OnlyPlace,
    Hidden,
}

/// How a piece fares from the first moment of a step to the last.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Watched {
    pub piece: Piece,
    /// The first moment it is plain.
    pub plain: Option<usize>,
    /// The first moment it is plain or deduced, and which.
    pub found: Option<(usize, Grade)>,
    /// The grade of every moment up to the one it is found at; then plain or hidden, for it is only followed.
    pub grades: Vec<Grade>,
}

/// What is given when the eyes begin: the cube at every moment of a step, and whose pieces need no looking for.
pub struct Step<'a> {
    pub moments: &'a [Cube],
    pub moves: &'a [Move],
    pub cross: Colour,
    /// In before the step begins.
    pub solved: &'a [Pair],
    /// Brought in by the step.
    pub in_hand: &'a [Pair],
    pub sight: &'a [Face],
}

/// Whether and when a pair is found.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Found {
    /// The moment at which both pieces have been found.
    pub moment: Option<usize>,
    /// Turns still to go at that moment.
    pub lead: Option<usize>,
    pub ready: bool,
}

impl Step<'_> {
    /// The pairs to be looked for.
    pub fn others(&self) -> Vec<Pair> {
        let mut pairs = crate::support::space::pairs_of(self.cross);
        pairs.retain(|pair| !self.solved.contains(pair) && !self.in_hand.contains(pair));
        pairs
    }

    fn is_plain(&self, moment: usize, piece: Piece) -> bool {
        let cube = &self.moments[moment];
        cube.shown(cube.cubie(piece), self.sight).len() >= 2
    }

    /// All corners (3) or all edges (2) of the other pairs, moment by moment.
    pub fn watch(&self, sides: usize) -> Vec<Watched> {
        let of_kind = |pair: Pair| if sides == 3 { corner(self.cross, pair) } else { edge(pair) };
        let wanted: Vec<Piece> = self.others().into_iter().map(of_kind).collect();
        let mut watched: Vec<Watched> = wanted
            .iter()
            .map(|&piece| Watched { piece, plain: None, found: None, grades: Vec::new() })
            .collect();

        // Always accounted for: the cross, what is solved, what is in hand.
        let mut given: BTreeSet<Piece> = BTreeSet::new();
        if sides == 2 {
            let sides = crate::support::space::sides_of(self.cross);
            given.extend(sides.into_iter().map(|side| Piece::of(&[self.cross, side])));
        }
        given.extend(self.solved.iter().chain(self.in_hand).map(|&pair| of_kind(pair)));

        for moment in 0..self.moments.len() {
            let mut out = given.clone();
            for piece in Piece::all(sides) {
                // What is neither given nor wanted belongs to the last layer. It is not remembered.
                let found_before = watched.iter().any(|w| w.piece == piece && w.found.is_some());
                if self.is_plain(moment, piece) || found_before {
                    out.insert(piece);
                }
            }
            for watched in &mut watched {
                let plain = self.is_plain(moment, watched.piece);
                let grade = if plain {
                    Grade::Plain
                } else if watched.found.is_some() {
                    Grade::Hidden
                } else if self.by_one_sticker(moment, watched.piece, &out) {
                    Grade::OneSticker
                } else if wanted.len() == 1 && self.by_only_place(moment, watched.piece, &out) {
                    Grade::OnlyPlace
                } else {
                    Grade::Hidden
                };
                watched.grades.push(grade);
                if plain && watched.plain.is_none() {
                    watched.plain = Some(moment);
                }
                if grade != Grade::Hidden && watched.found.is_none() {
                    watched.found = Some((moment, grade));
                }
            }
        }
        watched
    }

    fn by_one_sticker(&self, moment: usize, piece: Piece, out: &BTreeSet<Piece>) -> bool {
        let cube = &self.moments[moment];
        let shown = cube.shown(cube.cubie(piece), self.sight);
        let [colour] = shown[..] else { return false };
        let mut others = Piece::all(piece.sides()).into_iter().filter(|&other| other != piece);
        !others.any(|other| other.has(colour) && !out.contains(&other))
    }

    fn by_only_place(&self, moment: usize, piece: Piece, out: &BTreeSet<Piece>) -> bool {
        let cube = &self.moments[moment];
        let possible = cubies(piece.sides()).iter().filter(|cubie| {
            !out.contains(&cube.piece(cubie))
                && cube.shown(cubie, self.sight).into_iter().all(|colour| piece.has(colour))
        });
        possible.count() == 1
    }

    /// Turns of the step still to go.
    pub fn to_go(&self, moment: usize) -> usize {
        self.moves[moment..].iter().map(|&mv| turns(mv)).sum()
    }

    fn judged(&self, pieces: [Option<usize>; 2], need: usize) -> Found {
        let [Some(one), Some(other)] = pieces else {
            return Found { moment: None, lead: None, ready: false };
        };
        let moment = one.max(other);
        let lead = self.to_go(moment);
        Found { moment: Some(moment), lead: Some(lead), ready: moment == 0 || lead >= need }
    }

    /// When each of the other pairs is found, and whether that is in time: by all that eyes can do, then by plain
    /// sight alone.
    pub fn found(&self, need: usize) -> Vec<(Pair, Found, Found)> {
        let (corners, edges) = (self.watch(3), self.watch(2));
        let both = |(corner, edge): (&Watched, &Watched)| {
            let found = |watched: &Watched| watched.found.map(|(moment, _)| moment);
            (self.judged([found(corner), found(edge)], need), self.judged([corner.plain, edge.plain], need))
        };
        let judged = corners.iter().zip(&edges).map(both);
        self.others().into_iter().zip(judged).map(|(pair, (all, plain))| (pair, all, plain)).collect()
    }

    /// The tier of a pair's corner (docs/method.md, The scan). A cross fills no slot, even if a pair comes in with it.
    pub fn tier(&self, pair: Pair, is_cross: bool) -> &'static str {
        let (start, end) = (self.moments[0], self.moments[self.moments.len() - 1]);
        let corner = corner(self.cross, pair);
        if start.is_up(self.cross, corner) {
            "top"
        } else if !is_cross && self.in_hand.iter().any(|&slot| start.is_in_slot(self.cross, corner, slot)) {
            "target"
        } else if end.is_up(self.cross, corner) {
            "lifted"
        } else {
            "slot"
        }
    }

    /// Whether a corner that began up ended down.
    pub fn is_buried(&self, pair: Pair) -> bool {
        let (start, end) = (self.moments[0], self.moments[self.moments.len() - 1]);
        let corner = corner(self.cross, pair);
        start.is_up(self.cross, corner) && !end.is_up(self.cross, corner)
    }
}

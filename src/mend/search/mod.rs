//! Finding the sets of edits after which a record replays to solved.
//!
//! | file | what it searches |
//! |---|---|
//! | `ends` | one edit, two, and three likely ones, from both ends |
//! | `around` | tokens that must be filled, with an edit or two besides |
//! | [`gap`] | `...`: the shortest turns that connect |
//! | `runs` | two to four tokens lost in one place |
//! | `lines` | a line that stands twice, two exchanged, one lost |
//!
//! All play [`held::Held`] positions, in which two that the same written turns solve are one, and all take their steps
//! from a budget of [`work::Work`].

mod around;
mod ends;
pub mod gap;
pub mod held;
pub(super) mod lines;
pub(super) mod runs;
pub mod work;

use std::collections::HashMap;
use std::hash::{BuildHasherDefault, Hasher};

use crate::notation::Element;

use super::edits::{Edit, catalogue};
use super::tokens::Tokens;
use held::Held;
use work::Work;

/// So many positions are kept at most before a search is cut short.
pub(super) const MOST_POSITIONS: usize = 1_500_000;
/// Pairs of edits are tried in records of at most so many tokens, sets of three in half as many. Nobody
/// plays as many.
pub const MOST_TOKENS: usize = 400;
/// So many unreadable tokens in one record are filled at most.
pub const MOST_UNREADABLE: usize = 6;

/// What it costs to keep a repair that was found.
pub(super) const STEPS_A_REPAIR: u64 = 100;

/// The number of an edit in [`Search::edits`].
pub type EditId = u16;

/// What a search found.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Found {
    /// Each repair as edits in order of place.
    pub repairs: Vec<Vec<EditId>>,
    /// How many sets of edits were tried, by the number of edits from 0.
    pub tried: u64,
    /// Whether some sets could not be tried within the bounds.
    pub cut_short: bool,
}

impl Found {
    /// Adds what another search found.
    pub fn join(&mut self, other: Found) {
        self.repairs.extend(other.repairs);
        self.tried += other.tried;
        self.cut_short |= other.cut_short;
    }
}

/// A record ready to be searched.
pub struct Search {
    /// All edits, by where they begin.
    pub edits: Vec<Edit>,
    /// For each place, the first of its edits; one more at the end.
    pub(super) first: Vec<usize>,
    /// The number of each token's move; `None` for what stands for no move.
    pub(super) moves: Vec<Option<u8>>,
    /// The places of tokens that must be filled; for a group played several times, its beginning.
    pub(super) forced: Vec<usize>,
    /// How many tokens the longest edit replaces.
    pub(super) longest: usize,
    /// Whether every token has edits of its own.
    covers_all: bool,
}

/// Positions that were reached, each with the edits that led there.
type Table = HashMap<u64, Vec<EditId>, BuildHasherDefault<Plain>>;

/// Which edits a search may make where nothing forces one.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Free {
    Any,
    Likely,
}

impl Search {
    /// Lists every edit of the record.
    #[must_use]
    pub fn new(tokens: &Tokens) -> Search {
        let mut edits = Vec::new();
        let mut first = Vec::new();
        for at_place in catalogue(tokens) {
            first.push(edits.len());
            edits.extend(at_place);
        }
        first.push(edits.len());
        let moves = tokens.elements.iter().map(|element| match element {
            Element::Move(mv) => Some(held::number(*mv)),
            _ => None,
        });
        // A record whose edits cannot be numbered is far above what anyone plays; its tail is not edited.
        let covers_all = edits.len() <= usize::from(EditId::MAX) && !tokens.has_untouchable();
        edits.truncate(usize::from(EditId::MAX));
        for start in &mut first {
            *start = (*start).min(edits.len());
        }
        let missing =
            (0..tokens.elements.len()).filter(|&at| !matches!(tokens.elements[at], Element::Move(_)));
        let mut forced: Vec<usize> =
            missing.map(|at| tokens.run_of(at).map_or(at, |run| run.range.start)).collect();
        forced.dedup();
        let longest = edits.iter().map(|edit| edit.range.len()).max().unwrap_or(0).max(1);
        Search { edits, first, moves: moves.collect(), forced, longest, covers_all }
    }

    /// Whether every token has edits of its own: not so in records of many hundred tokens, or with a group that
    /// is played backwards.
    #[must_use]
    pub const fn covers_all(&self) -> bool {
        self.covers_all
    }

    /// Whether every token can be played: nothing is missing or unreadable.
    #[must_use]
    pub fn has_all_moves(&self) -> bool {
        self.moves.iter().all(Option::is_some)
    }

    /// All repairs of at most two edits; where tokens must be filled, of these and at most one edit more.
    #[must_use]
    pub fn up_to_two(&self, work: &mut Work) -> Found {
        let mut found = match self.forced.len() {
            0 => {
                let mut found = self.one(work);
                if self.moves.len() <= MOST_TOKENS {
                    found.join(self.two(&found, work));
                } else {
                    found.cut_short = true;
                }
                found
            }
            1 => self.around_forced(true, Free::Any, work),
            2 => self.around_forced(false, Free::Any, work),
            _ => Found::default(),
        };
        found.cut_short |= work.is_spent();
        found
    }

    /// All repairs of three edits of the likeliest kinds, and of more where more tokens must be filled.
    #[must_use]
    pub fn three(&self, fewer: &Found, work: &mut Work) -> Found {
        let mut found = match self.forced.len() {
            0 if self.moves.len() <= MOST_TOKENS / 2 => self.three_likely(fewer, work),
            0 => Found { cut_short: true, ..Found::default() },
            1 => self.around_one_likely(work),
            2 => self.around_forced(true, Free::Likely, work),
            n if n <= MOST_UNREADABLE => self.around_forced(false, Free::Any, work),
            _ => Found { cut_short: true, ..Found::default() },
        };
        found.cut_short |= work.is_spent();
        found
    }

    pub(super) fn ids_at(&self, place: usize) -> impl Iterator<Item = EditId> + use<> {
        (self.first[place]..self.first[place + 1]).map(|id| id as EditId)
    }

    pub(super) fn edit(&self, id: EditId) -> &Edit {
        &self.edits[usize::from(id)]
    }

    /// Whether two insertions at the border of scramble and solution stand the right way round.
    pub(super) fn in_order(&self, first: EditId, second: EditId) -> bool {
        self.edit(first).in_scramble || !self.edit(second).in_scramble
    }

    pub(super) fn play(&self, mut held: Held, id: EditId) -> Held {
        self.edit(id).moves.iter().for_each(|&mv| held.play(mv));
        held
    }

    /// The position from which the edit's moves lead to `held`.
    pub(super) fn undo(&self, mut held: Held, id: EditId) -> Held {
        self.edit(id).moves.iter().rev().for_each(|&mv| held.play(held::undoing(mv)));
        held
    }

    /// The steps that it takes to make an edit.
    pub(super) fn cost(&self, id: EditId) -> u64 {
        1 + self.edit(id).moves.len() as u64
    }
}

/// Fingerprints are mixed already: they serve as their own hash.
#[derive(Default)]
pub(super) struct Plain(u64);

impl Hasher for Plain {
    fn finish(&self) -> u64 {
        self.0
    }

    fn write(&mut self, bytes: &[u8]) {
        for &byte in bytes {
            self.0 = self.0.rotate_left(8) ^ u64::from(byte);
        }
    }

    fn write_u64(&mut self, fingerprint: u64) {
        self.0 = fingerprint;
    }
}

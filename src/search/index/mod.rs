//! The hand lines that keep the cross, by where the pair is that they take home.
//!
//! Where the cross is whole, which hand lines take a pair home depends on nothing but where its two pieces are: 576 places
//! with the pair's slot in front. So these lines are found once and for all, by the search, and kept in the program:
//! `hand-lines.bin`, in the order of their lengths, with what each costs the hands at the default weights. The mirror
//! through the pair's slot takes lines to lines and leaves costs as they are, so half of the places are enough; that
//! and the four slots make it an eighth of all.
//!
//! The index has all lines of up to [`LONGEST`] turns. For a place, and a set of other pairs to be kept, whose shortest line
//! has as many or one less, it has all of one turn more than the shortest; so what a pair costs next is always found here.
//!
//! A test makes the file anew and holds it against what is kept, and so `make` is where its making is written down;
//! `CORNERWISE_UPDATE_INDEX=1 cargo test --lib search::index` writes it.

mod entry;
#[cfg(test)]
mod make;

use super::frame::Frame;
use super::goal::Goal;
use super::tracked::{TWO, Tracked, Turns};
use super::turn::Turn;
use super::{Line, MAX_TURNS, lines};
use crate::cube::{Colour, FaceTurn, Pair, PairSet, Position, Slot};
use crate::hands::HalfUnits;
use entry::Entry;

/// The index has every hand line of at most this many turns.
pub const LONGEST: usize = 9;

/// The slot of the pair that the lines take home.
pub(super) const SLOT: Slot = Slot::A;

/// For each place of the pair a word that says where its lines begin, how many there are and whether they are told in the
/// mirror; then the lines.
static DATA: &[u8] = include_bytes!("hand-lines.bin");

/// What is in the word of a place, from the lowest bit on: the number of the first line, how many there are, the mirror.
const COUNT_FROM: u32 = 20;
const MIRROR_BIT: u32 = 31;

/// A line of the index.
#[derive(Debug, Clone, Copy)]
pub(super) struct Filed {
    entry: Entry,
    mirrored: bool,
}

impl Filed {
    /// How many turns it has.
    #[inline]
    pub const fn len(self) -> usize {
        self.entry.len()
    }

    /// Its turns in the model.
    #[inline]
    pub fn turns(self) -> impl Iterator<Item = Turn> {
        self.entry.turns().map(move |turn| if self.mirrored { turn.mirrored() } else { turn })
    }

    /// Whether it splits into phrases none of which is shifted or nested.
    #[inline]
    pub const fn is_plain(self) -> bool {
        self.entry.plain()
    }

    /// Whether it can be told without following it that it ends with its last turn, whatever else is open.
    #[inline]
    pub const fn passes_nothing(self) -> bool {
        !self.entry.follow() && self.entry.whole() == 0
    }

    /// What it costs from one of the holds with the model's cross down, in the order of [`upright`](crate::hands::upright).
    #[inline]
    pub const fn cost(self, grip: usize) -> HalfUnits {
        HalfUnits::from_halves(self.entry.cost(if self.mirrored { MIRRORED_GRIP[grip] } else { grip }))
    }

    /// The pairs of `open` that it solves at its end; `None` if it solves one of them earlier, whatever the order of
    /// neighbours that commute.
    #[inline]
    fn solves(self, from: Tracked, kept: PairSet, open: PairSet) -> Option<PairSet> {
        let goal = Goal::get();
        if self.entry.follow() {
            let mut turns = [Turn::ALL[0]; MAX_TURNS];
            turns.iter_mut().zip(self.turns()).for_each(|(to, turn)| *to = turn);
            if !lines::ends_first(from, kept, open, &turns[..self.len()]) {
                return None;
            }
        }
        let tables = Turns::get();
        let mut whole = self.entry.whole();
        let mut position = from;
        for turn in self.turns() {
            position = tables.pairs(position, turn);
            if whole & 1 == 1 {
                let solved = goal.solved_pairs(position.packed());
                if solved.is_superset(kept) && !(solved & open).is_empty() {
                    return None;
                }
            }
            whole >>= 1;
        }
        Some(goal.solved_pairs(position.packed()) & open)
    }
}

/// The grip of the mirrored hold, by grip.
const MIRRORED_GRIP: [usize; 4] = [1, 0, 3, 2];

/// The lines that take the pair home from a place with these others kept, shorter ones first; the pairs that are neither
/// this one nor kept are left out of account.
#[inline]
pub(super) fn filed(place: usize, kept: PairSet) -> impl Iterator<Item = Filed> {
    let word = word(place);
    let first = TWO * 4 + (word & ((1 << COUNT_FROM) - 1)) as usize * Entry::BYTES;
    let count = (word << 1 >> (COUNT_FROM + 1)) as usize;
    let mirrored = word >> MIRROR_BIT == 1;
    let kept = if mirrored { mirrored_pairs(kept) } else { kept };
    let (entries, _) = DATA[first..first + count * Entry::BYTES].as_chunks();
    let filed = entries.iter().map(move |bytes| Filed { entry: Entry::read(bytes), mirrored });
    filed.filter(move |filed| filed.entry.keeps(kept))
}

fn word(place: usize) -> u32 {
    let (words, _) = DATA[..TWO * 4].as_chunks();
    u32::from_le_bytes(words[place])
}

/// The mirror exchanges the model's slots B and C.
fn mirrored_pairs(pairs: PairSet) -> PairSet {
    let other = |slot| match slot {
        Slot::B => Slot::C,
        Slot::C => Slot::B,
        same => same,
    };
    PairSet::ALL.filter(|slot| pairs.contains(other(slot)))
}

/// How long the shortest line is that takes the pair home from a place and keeps these others.
pub(super) fn shortest(place: usize, kept: PairSet) -> Option<usize> {
    filed(place, kept).next().map(Filed::len)
}

/// The index has all lines of a place that keep these others up to so many turns.
pub(super) fn complete_to(place: usize, kept: PairSet) -> usize {
    shortest(place, kept).map_or(LONGEST, |shortest| LONGEST.max(shortest + 1))
}

/// The lines of a place with these others kept, of at most `bound` turns, each of which ends at the first moment at which any
/// pair of `open` is solved; with the pairs of `open` that it solves.
pub(super) fn ending(
    from: Tracked,
    kept: PairSet,
    open: PairSet,
    bound: usize,
) -> impl Iterator<Item = (Filed, PairSet)> {
    let alone = PairSet::only(SLOT);
    let lines = filed(from.pair(SLOT), kept).take_while(move |filed| filed.len() <= bound);
    lines.filter_map(move |filed| {
        let solves = if open == alone && filed.passes_nothing() {
            Some(alone)
        } else {
            filed.solves(from, kept, open)
        };
        Some((filed, solves?))
    })
}

/// A hand line of a position, as the index has it.
#[derive(Debug, Clone, Copy)]
pub struct HandLine {
    filed: Filed,
    frame: &'static Frame,
    grip: Option<usize>,
    pairs: PairSet,
}

impl HandLine {
    /// All pairs that it solves.
    #[must_use]
    pub const fn pairs(&self) -> PairSet {
        self.pairs
    }

    /// Whether it splits into phrases none of which is shifted or nested: [`is_plain_line`](super::is_plain_line).
    #[must_use]
    pub const fn is_plain(&self) -> bool {
        self.filed.is_plain()
    }

    /// What it costs at the default weights from the hold of the position; `None` if the cross is not down in that.
    #[must_use]
    pub fn cost(&self) -> Option<HalfUnits> {
        self.grip.map(|grip| self.filed.cost(grip))
    }

    /// Its turns and what it solves, as [`lines`](super::lines()) tells them.
    #[must_use]
    pub fn line(&self, cross: Colour) -> Line {
        let first = self.frame.face_turn(Turn::ALL[0]);
        let mut line = Line { turns: [first; MAX_TURNS], len: self.filed.len() as u8, pairs: self.pairs };
        // Of opposite neighbours the one comes first that does in the hold of all lines.
        let order = Frame::of(cross).hold;
        let is_second = |turn: FaceTurn| Turn::new(order.face(turn.centre), turn.amount).is_second();
        let mut before: Option<usize> = None;
        for (i, turn) in self.filed.turns().enumerate() {
            line.turns[i] = self.frame.face_turn(turn);
            if let Some(last) = before
                && line.turns[last].centre == line.turns[i].centre.opposite()
                && is_second(line.turns[last])
            {
                line.turns.swap(last, i);
            }
            before = Some(i);
        }
        line
    }
}

/// Calls `to` with every hand line of at most `bound` turns that [`lines`](super::lines()) would return, in no particular
/// order, and answers true; or answers false, if the cross is not whole or the index has not all of them.
pub fn each_hand_line(at: &Position, cross: Colour, bound: usize, mut to: impl FnMut(HandLine)) -> bool {
    if !at.state.cross_solved(cross) {
        return false;
    }
    let seats = || {
        let open = Pair::all(cross).into_iter().filter(|&pair| !at.state.pair_solved(pair));
        open.map(|pair| {
            let frame = Frame::facing(cross, pair.slot());
            let from = frame.tracked(&at.state);
            (pair.slot(), frame, from, Goal::get().solved_pairs(from.packed()))
        })
    };
    if bound > LONGEST && seats().any(|(_, _, from, kept)| complete_to(from.pair(SLOT), kept) < bound) {
        return false;
    }
    for (slot, frame, from, kept) in seats() {
        let grip = frame.grip(at.hold);
        for filed in filed(from.pair(SLOT), kept) {
            if filed.len() > bound {
                break;
            }
            let Some(pairs) = filed.solves(from, kept, kept.others()) else { continue };
            let pairs = frame.pairs(pairs);
            // A line that solves two pairs at once is filed for each of them, and counts once.
            if pairs.first() == Some(slot) {
                to(HandLine { filed, frame, grip, pairs });
            }
        }
    }
    true
}

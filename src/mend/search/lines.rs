//! Whole lines: one that stands twice, two in each other's place, and one that was lost.
//!
//! That a line stands twice or two are exchanged shows at once: the line left out, or the two played the other way
//! round, lead on to what follows. What a lost line did is known, as for a lost run: it leads from the position
//! reached where it stood to the one from which the rest solves the cube. In the first, cross and the pairs so far are
//! solved, in the second one pair more, or the last layer is further on; that leaves few places and four ways to hold the
//! cube afterwards. Turns of all faces are tried up to nine, of three faces up to twelve or thirteen.

use std::collections::BTreeSet;
use std::ops::Range;

use crate::cube::{Hold, Move};
use crate::mend::slip::rarity;
use crate::mend::tokens::Tokens;
use crate::notation::Turns;

use super::gap::{self, Connected, Reach, connect, rotations, undo_all};
use super::held::{self, Held};
use super::work::Work;
use super::{STEPS_A_REPAIR, Search};

/// Records of more lines than this are no solves.
const MOST_LINES: usize = 60;
/// A lost line is looked for at so many places at most.
const MOST_PLACES: usize = 6;
/// The last layer, once all four pairs are in.
const ALL_PAIRS: u8 = 0b1111;

/// What happened to the lines of a solution; tokens are counted in the solution.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(in crate::mend) enum Block {
    /// Lines that stand twice.
    Twice(Range<usize>),
    /// Two lines in each other's place.
    Exchanged(Range<usize>, Range<usize>),
    /// A line lost before this token, and its moves by number.
    Lost(usize, Vec<u8>),
}

/// The lines of a solution that have tokens, as ranges of them, as far as no group goes from one into the next.
fn lines(turns: &Turns, tokens: &Tokens) -> Vec<Range<usize>> {
    let n = turns.tokens.len();
    let whole = |at: &usize| {
        let at = tokens.n_scramble + at;
        tokens.run_of(at).is_none_or(|run| run.range.start == at)
    };
    let borders: BTreeSet<usize> =
        turns.breaks.iter().map(|line| line.moment).filter(|at| (1..n).contains(at)).filter(whole).collect();
    let borders: Vec<usize> = [0].into_iter().chain(borders).chain([n]).collect();
    borders.windows(2).map(|two| two[0]..two[1]).collect()
}

impl Search {
    /// Lines that stand twice or in each other's place.
    pub(in crate::mend) fn moved_lines(&self, turns: &Turns, tokens: &Tokens, work: &mut Work) -> Vec<Block> {
        let lines = lines(turns, tokens);
        let (forward, backward) = (self.forward_as_written(), self.backward_as_written());
        let mut found = Vec::new();
        if lines.len() < 2 || lines.len() > MOST_LINES || forward.len() != self.moves.len() + 1 {
            return found;
        }
        let skip = tokens.n_scramble;
        let written = |range: &Range<usize>| &self.moves[skip + range.start..skip + range.end];
        for (i, from) in lines.iter().enumerate() {
            for to in &lines[i..] {
                let block = from.start..to.end;
                // The same lines stand somewhere else, too.
                let again = || {
                    let starts = lines.iter().map(|line| line.start);
                    let others = starts.filter(|start| start.abs_diff(block.start) >= block.len());
                    let mut others = others.map(|start| start..start + block.len());
                    others.any(|other| other.end <= turns.tokens.len() && written(&other) == written(&block))
                };
                if !work.spend(1) {
                    return found;
                }
                if forward[skip + block.start] == backward[skip + block.end] && again() {
                    found.push(Block::Twice(block));
                }
            }
            for with in &lines[i + 1..] {
                if !work.spend((with.end - from.start) as u64) {
                    return found;
                }
                let between = from.end..with.start;
                let moves = [with, &between, from].into_iter().flat_map(written).flatten();
                let held = moves.fold(forward[skip + from.start], |held, &mv| held.played(mv));
                if held == backward[skip + with.end] && written(from) != written(with) {
                    found.push(Block::Exchanged(from.clone(), with.clone()));
                }
            }
        }
        found
    }

    /// A line that was lost; `near` is where the words tell that it stood.
    pub(in crate::mend) fn lost_line(
        &self,
        turns: &Turns,
        tokens: &Tokens,
        near: Option<usize>,
        work: &mut Work,
    ) -> Vec<Block> {
        let places = self.places(turns, tokens, near);
        let all = [true; 6];
        // Few turns anywhere are likelier than many where it seems to be.
        for (least, most) in [(0, 6), (7, 9)] {
            let mut found = Vec::new();
            for place in &places {
                let connected = place.connect(&Reach { least, most, faces: all }, work);
                found.extend(place.lost(connected, work));
            }
            if !found.is_empty() || work.is_spent() {
                return found;
            }
        }
        for place in &places {
            let most = if place.pairs == Some(ALL_PAIRS) { 13 } else { 12 };
            for faces in place.three_faces() {
                let connected = place.connect(&Reach { least: 10, most, faces }, work);
                let found = place.lost(connected, work);
                if !found.is_empty() || work.is_spent() {
                    return found;
                }
            }
        }
        Vec::new()
    }

    /// Where a line may have been lost, the likeliest first.
    fn places(&self, turns: &Turns, tokens: &Tokens, near: Option<usize>) -> Vec<Place> {
        let (forward, backward) = (self.forward_as_written(), self.backward_as_written());
        let lines = lines(turns, tokens);
        if lines.len() < 2 || lines.len() > MOST_LINES || forward.len() != self.moves.len() + 1 {
            return Vec::new();
        }
        let mut borders: Vec<usize> = lines.iter().map(|line| line.start).collect();
        borders.push(turns.tokens.len());
        if let Some(near) = near {
            borders.sort_by_key(|&at| at.abs_diff(near));
        }
        let place =
            |at: usize| Place::new(at, forward[tokens.n_scramble + at], backward[tokens.n_scramble + at]);
        borders.into_iter().filter_map(place).take(MOST_PLACES).collect()
    }
}

/// A place where a line may have been lost.
struct Place {
    /// Before which token of the solution.
    at: usize,
    /// What was reached by then.
    from: Held,
    /// What the lost turns, without rotations, may have led to, each with the rotations that follow.
    ends: Vec<(Held, Vec<u8>)>,
    /// The face of the cross, if it is solved by then.
    cross: Option<usize>,
    /// The pairs solved by then.
    pairs: Option<u8>,
}

impl Place {
    fn new(at: usize, from: Held, wanted: Held) -> Option<Place> {
        let cross = |held: &Held| {
            let faces = (0..6).filter_map(|face| held.pairs_round(face).map(|pairs| (face, pairs)));
            faces.max_by_key(|(_, pairs)| pairs.count_ones())
        };
        let reached = cross(&from);
        let mut ends: Vec<(Held, Vec<u8>)> = Vec::new();
        for rotation in rotations() {
            let end = undo_all(wanted, &rotation);
            let goes_on = match reached {
                // Cross and pairs are kept, and something is gained.
                Some((face, pairs)) => end
                    .pairs_round(face)
                    .is_some_and(|after| pairs & !after == 0 && (after != pairs || pairs == ALL_PAIRS)),
                None => cross(&end).is_some(),
            };
            if goes_on && ends.iter().all(|(other, _)| *other != end) {
                ends.push((end, rotation));
            }
        }
        let place = Place { at, from, ends, cross: reached.map(|r| r.0), pairs: reached.map(|r| r.1) };
        (!place.ends.is_empty() && from != wanted).then_some(place)
    }

    fn connect(&self, reach: &Reach, work: &mut Work) -> Connected {
        let ends: Vec<Held> = self.ends.iter().map(|(held, _)| *held).collect();
        connect(&[self.from], &ends, reach, work)
    }

    /// The same as blocks, each with its rotation where the turns are easier to play.
    fn lost(&self, connected: Connected, work: &mut Work) -> Vec<Block> {
        let mut found = Vec::new();
        for gap::Connection { end, turns, .. } in connected.ways {
            if !work.spend(STEPS_A_REPAIR) {
                break;
            }
            let rotation = &self.ends[end].1;
            let last = [turns.as_slice(), rotation].concat();
            let first = [rotation.as_slice(), &seen_after(rotation, &turns)].concat();
            let strange =
                |moves: &[u8]| moves.iter().map(|&mv| rarity(Move::ALL[usize::from(mv)])).sum::<f64>();
            let easier = if strange(&first) < strange(&last) { first } else { last };
            found.push(Block::Lost(self.at, easier));
        }
        found
    }

    /// Sets of three faces that hands turn together, the commonest first: the one opposite the cross, and two more.
    fn three_faces(&self) -> Vec<[bool; 6]> {
        let Some(cross) = self.cross else { return Vec::new() };
        let top = cross ^ 1;
        // By the letters: R and L before F, the bottom before B.
        let common = [4, 5, 2, cross, 3, 0, 1];
        let mut sides: Vec<usize> = common.into_iter().filter(|&face| face != top).collect();
        let mut seen = BTreeSet::new();
        sides.retain(|&face| seen.insert(face));
        let mut sets = Vec::new();
        for j in 1..sides.len() {
            for i in 0..j {
                let mut set = [false; 6];
                [top, sides[i], sides[j]].into_iter().for_each(|face| set[face] = true);
                sets.push(set);
            }
        }
        sets
    }
}

/// What turns are called once the cube has been rotated.
fn seen_after(rotation: &[u8], turns: &[u8]) -> Vec<u8> {
    let mut hold = Hold::START;
    for &mv in rotation {
        if let Move::Rotation(axis, amount) = Move::ALL[usize::from(mv)] {
            hold = hold.rotated(axis, amount);
        }
    }
    let seen = |&mv: &u8| match Move::ALL[usize::from(mv)] {
        Move::Turn(face, amount) => held::number(Move::Turn(hold.face(Hold::START.colour(face)), amount)),
        _ => mv,
    };
    turns.iter().map(seen).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn turns_before_a_rotation_are_those_after_it_by_other_names() {
        let turns = [12u8, 0, 14, 6, 17];
        for rotation in rotations() {
            let played = |moves: &[u8]| moves.iter().fold(Held::SOLVED, |held, &mv| held.played(mv));
            let last = [turns.as_slice(), &rotation].concat();
            let first = [rotation.as_slice(), &seen_after(&rotation, &turns)].concat();
            assert_eq!(played(&last), played(&first), "{rotation:?}");
        }
    }

    #[test]
    fn three_faces_are_the_top_and_two_more() {
        let place = Place { at: 0, from: Held::SOLVED, ends: vec![], cross: Some(1), pairs: None };
        let sets = place.three_faces();
        assert_eq!(sets.len(), 10);
        assert!(sets.iter().all(|set| set[0] && set.iter().filter(|face| **face).count() == 3));
        assert!(sets[0][4] && sets[0][5], "R and L first");
    }
}

//! `...`: a stretch that the writer could not make out, filled with the shortest turns that connect.
//!
//! From the positions before the gap all sequences of outer turns are played, and from those after it all
//! are undone, until the two meet. How the cube was held after the gap is not known either, so each of the
//! 24 holds is tried: a rotation or two may end the stretch. Two gaps may stand in one record, for fewer
//! turns each. Nothing else is edited in such a record, except that `?` and unreadable tokens are filled.
//!
//! `connect` is the search itself; a line that was lost without a trace is looked for with it, too.

use std::collections::HashMap;
use std::hash::BuildHasherDefault;

use crate::cube::{Hold, Move};
use crate::notation::Element;

use super::held::{self, Held};
use super::work::Work;
use super::{EditId, Plain, STEPS_A_REPAIR, Search};
use crate::mend::tokens::Tokens;

/// The most turns that one gap may be asked to be filled with.
pub const MOST_TURNS: usize = 9;
/// The most turns in each gap where there are two.
pub const MOST_TURNS_OF_TWO: usize = 3;
/// So many positions are kept at most on one side.
const MOST_POSITIONS: usize = 1_500_000;

/// A way to fill the gaps, and the tokens that had to be filled besides.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(in crate::mend) struct Way {
    /// Edits of the search for `?` and unreadable tokens.
    pub(in crate::mend) edits: Vec<EditId>,
    /// For each gap in order, its moves by number.
    pub(in crate::mend) gaps: Vec<(usize, Vec<u8>)>,
}

/// What filling came to.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub(in crate::mend) struct Filled {
    pub(in crate::mend) ways: Vec<Way>,
    pub(in crate::mend) tried: u64,
    pub(in crate::mend) cut_short: bool,
}

/// The most turns on one side of the middle.
const MOST_A_SIDE: usize = 7;

/// A position on the way through a gap.
#[derive(Clone, Copy)]
struct Route {
    held: Held,
    /// Which of the starting positions it comes from.
    start: u32,
    turns: [u8; MOST_A_SIDE],
    n: u8,
}

/// What turns may connect, and how many.
#[derive(Debug, Clone, Copy)]
pub(super) struct Reach {
    /// The fewest turns that are looked at.
    pub(super) least: usize,
    /// The most.
    pub(super) most: usize,
    /// Which faces may be turned, in the order of the numbers of their turns.
    pub(super) faces: [bool; 6],
}

/// Turns that lead from one of the starts to one of the ends.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Connection {
    pub(super) start: usize,
    pub(super) end: usize,
    pub(super) turns: Vec<u8>,
}

/// What connecting came to: all the shortest ways.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub(super) struct Connected {
    pub(super) ways: Vec<Connection>,
    pub(super) tried: u64,
    pub(super) cut_short: bool,
}

/// Fills the gaps with as few turns as will do, at most `most` in all.
pub(in crate::mend) fn fill(tokens: &Tokens, search: &Search, most: usize, work: &mut Work) -> Filled {
    let places: Vec<usize> =
        (0..tokens.elements.len()).filter(|&i| tokens.elements[i] == Element::Gap).collect();
    let refused = Filled { cut_short: true, ..Filled::default() };
    let (Some(&first), Some(&last)) = (places.first(), places.last()) else { return Filled::default() };
    if places.len() > 2 {
        return refused;
    }
    let (Some(before), Some(after)) = (search.reach_filled(first, work), search.want_filled(last + 1, work))
    else {
        return refused;
    };
    let mut filled = if places.len() == 1 {
        one(first, &before, &after, most.min(MOST_TURNS), work)
    } else {
        let between: Option<Vec<u8>> = tokens.elements[first + 1..last]
            .iter()
            .map(|element| match element {
                Element::Move(mv) => Some(held::number(*mv)),
                _ => None,
            })
            .collect();
        // Between two gaps nothing else may be missing.
        between.map_or(refused, |between| {
            two([first, last], &before, &after, &between, most.min(2 * MOST_TURNS_OF_TWO), work)
        })
    };
    filled.cut_short |= work.is_spent();
    filled
}

type Starts = [(Held, Vec<EditId>)];

fn one(place: usize, before: &Starts, after: &Starts, most: usize, work: &mut Work) -> Filled {
    let rotations = rotations();
    if !work.spend((before.len() + after.len() * rotations.len()) as u64) {
        return Filled::default();
    }
    let starts: Vec<Held> = before.iter().map(|(held, _)| *held).collect();
    // Each end with each rotation undone.
    let ends = after.iter().flat_map(|(held, _)| rotations.iter().map(|rotation| undo_all(*held, rotation)));
    let ends: Vec<Held> = ends.collect();
    let reach = Reach { least: 0, most, faces: [true; 6] };
    let Connected { ways, tried, cut_short } = connect(&starts, &ends, &reach, work);
    let ways = ways.into_iter().map(|Connection { start, end, mut turns }| {
        turns.extend(&rotations[end % rotations.len()]);
        let mut edits = before[start].1.clone();
        edits.extend(&after[end / rotations.len()].1);
        Way { edits, gaps: vec![(place, turns)] }
    });
    Filled { ways: ways.collect(), tried, cut_short }
}

/// All the shortest sequences of turns that lead from a start to an end.
pub(super) fn connect(starts: &[Held], ends: &[Held], reach: &Reach, work: &mut Work) -> Connected {
    let mut connected = Connected::default();
    let mut forward = vec![routes(starts.iter().copied())];
    let mut backward = vec![routes(ends.iter().copied())];
    for total in reach.least..=reach.most {
        let ahead = total.div_ceil(2);
        let behind = total - ahead;
        let grown = grow_to(&mut forward, ahead, false, &reach.faces, work)
            && grow_to(&mut backward, behind, true, &reach.faces, work);
        if !grown {
            connected.cut_short = true;
            break;
        }
        let mut by_position: HashMap<u64, Vec<usize>, BuildHasherDefault<Plain>> = HashMap::default();
        // The smaller side goes into the table.
        let (small, large, swapped) = if forward[ahead].len() <= backward[behind].len() {
            (&forward[ahead], &backward[behind], false)
        } else {
            (&backward[behind], &forward[ahead], true)
        };
        if !work.spend((small.len() + large.len()) as u64) {
            break;
        }
        for (i, route) in small.iter().enumerate() {
            by_position.entry(route.held.fingerprint()).or_default().push(i);
        }
        connected.tried += small.len() as u64 * large.len() as u64;
        for route in large {
            for &i in by_position.get(&route.held.fingerprint()).into_iter().flatten() {
                if !work.spend(STEPS_A_REPAIR) {
                    return connected;
                }
                let (ahead, behind) = if swapped { (route, &small[i]) } else { (&small[i], route) };
                let mut turns = ahead.turns[..usize::from(ahead.n)].to_vec();
                turns.extend(behind.turns[..usize::from(behind.n)].iter().rev());
                connected.ways.push(Connection {
                    start: ahead.start as usize,
                    end: behind.start as usize,
                    turns,
                });
            }
        }
        if !connected.ways.is_empty() {
            break;
        }
    }
    connected
}

fn two(
    places: [usize; 2],
    before: &Starts,
    after: &Starts,
    between: &[u8],
    most: usize,
    work: &mut Work,
) -> Filled {
    let mut filled = Filled::default();
    let rotations = rotations();
    let n = rotations.len();
    if !work.spend((before.len() + after.len() * n) as u64) {
        return filled;
    }
    let mut forward = vec![routes(before.iter().map(|(held, _)| *held))];
    let ends = after.iter().flat_map(|(held, _)| rotations.iter().map(|rotation| undo_all(*held, rotation)));
    let mut backward = vec![routes(ends)];
    for total in 0..=most {
        let splits = (0..=total).filter(|&a| a <= MOST_TURNS_OF_TWO && total - a <= MOST_TURNS_OF_TWO);
        for (a, b) in splits.map(|a| (a, total - a)) {
            let all = [true; 6];
            if !grow_to(&mut forward, a, false, &all, work) || !grow_to(&mut backward, b, true, &all, work) {
                filled.cut_short = true;
                return filled;
            }
            let joined = forward[a].len() * n * (2 + between.len()) + backward[b].len();
            if !work.spend(joined as u64) {
                return filled;
            }
            let mut by_position: HashMap<u64, Vec<(usize, usize)>> = HashMap::new();
            for (i, route) in forward[a].iter().enumerate() {
                for (r, rotation) in rotations.iter().enumerate() {
                    let mut held = route.held;
                    rotation.iter().chain(between).for_each(|&mv| held.play(mv));
                    by_position.entry(held.fingerprint()).or_default().push((i, r));
                }
            }
            filled.tried += forward[a].len() as u64 * n as u64 * backward[b].len() as u64;
            for route in &backward[b] {
                for &(i, r) in by_position.get(&route.held.fingerprint()).into_iter().flatten() {
                    if !work.spend(STEPS_A_REPAIR) {
                        return filled;
                    }
                    let ahead = &forward[a][i];
                    let mut first = ahead.turns[..usize::from(ahead.n)].to_vec();
                    first.extend(&rotations[r]);
                    let mut second: Vec<u8> =
                        route.turns[..usize::from(route.n)].iter().rev().copied().collect();
                    let end = route.start as usize;
                    second.extend(&rotations[end % n]);
                    let mut edits = before[ahead.start as usize].1.clone();
                    edits.extend(&after[end / n].1);
                    filled.ways.push(Way { edits, gaps: vec![(places[0], first), (places[1], second)] });
                }
            }
        }
        if !filled.ways.is_empty() {
            break;
        }
    }
    filled
}

fn routes(helds: impl Iterator<Item = Held>) -> Vec<Route> {
    (0..).zip(helds).map(|(start, held)| Route { held, start, turns: [0; MOST_A_SIDE], n: 0 }).collect()
}

pub(super) fn undo_all(mut held: Held, moves: &[u8]) -> Held {
    moves.iter().rev().for_each(|&mv| held.play(held::undoing(mv)));
    held
}

/// Adds levels of one more turn each until there are `depth`; false if they would be too many.
fn grow_to(
    levels: &mut Vec<Vec<Route>>,
    depth: usize,
    undo: bool,
    faces: &[bool; 6],
    work: &mut Work,
) -> bool {
    let each = 3 * faces.iter().filter(|face| **face).count();
    while levels.len() <= depth {
        let last = &levels[levels.len() - 1];
        if last.len() * each > MOST_POSITIONS * 18 / 13
            || depth > MOST_A_SIDE
            || !work.spend((each * last.len()) as u64 * 7 / 9)
        {
            return false;
        }
        let mut next = Vec::with_capacity(last.len() * each * 7 / 9);
        for route in last {
            for mv in (0..18).filter(|mv| faces[usize::from(mv / 3)]) {
                // Turns are numbered by face, three each, opposite faces next to each other.
                let allowed = route.n.checked_sub(1).is_none_or(|i| {
                    let before = route.turns[usize::from(i)] / 3;
                    let face = mv / 3;
                    before != face && (before / 2 != face / 2 || before < face)
                });
                if !allowed {
                    continue;
                }
                let mut route = *route;
                route.held.play(if undo { held::undoing(mv) } else { mv });
                route.turns[usize::from(route.n)] = mv;
                route.n += 1;
                next.push(route);
            }
        }
        levels.push(next);
    }
    true
}

/// For each of the 24 holds, the shortest rotations that lead to it, the fewest first.
pub(super) fn rotations() -> Vec<Vec<u8>> {
    let mut found: Vec<(Hold, Vec<u8>)> = vec![(Hold::START, vec![])];
    let mut at = 0;
    while at < found.len() {
        for number in 45..54 {
            if let Move::Rotation(axis, amount) = Move::ALL[usize::from(number)] {
                let hold = found[at].0.rotated(axis, amount);
                if found.iter().all(|(known, _)| *known != hold) {
                    let mut moves = found[at].1.clone();
                    moves.push(number);
                    found.push((hold, moves));
                }
            }
        }
        at += 1;
    }
    found.into_iter().map(|(_, moves)| moves).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn two_rotations_reach_every_hold() {
        let rotations = rotations();
        assert_eq!(rotations.len(), 24);
        assert!(rotations.iter().all(|moves| moves.len() <= 2));
        assert_eq!(rotations.iter().filter(|moves| moves.len() == 1).count(), 9);
    }
}

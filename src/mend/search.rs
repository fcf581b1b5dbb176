//! Every repair of one edit and of two, and of three likely ones, found from both ends.
//!
//! A repair is a set of edits that do not overlap, after which the record replays to a solved cube. Trying all
//! pairs would mean some fifty million replays. Instead the first edit is played forward, token by token,
//! and at each token stands a small table of the positions from which one edit *here* and the rest as written
//! would solve the cube: half a million steps and look-ups. Three edits are found as one before, one
//! here, one after. A token that cannot be read must be filled, and both ends meet between such tokens.
//!
//! Repairs are minimal: no set is reported of which a part would do alone. Positions are compared by
//! fingerprint, so whoever uses a repair replays it first; the chance of a false one is about one in 10^12.

use std::collections::{HashMap, HashSet};
use std::hash::{BuildHasherDefault, Hasher};

use crate::notation::Element;

use super::edit::{Edit, Tokens, catalogue};
use super::held::{self, Held};
use super::work::Work;

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

    /// The positions before each token, played as written from a solved cube.
    fn forward_as_written(&self) -> Vec<Held> {
        let mut held = Held::SOLVED;
        let mut all = vec![held];
        for mv in self.moves.iter().flatten() {
            held.play(*mv);
            all.push(held);
        }
        all
    }

    /// For each moment, the position from which the rest as written solves the cube.
    fn backward_as_written(&self) -> Vec<Held> {
        let mut held = Held::SOLVED;
        let mut all = vec![held];
        for mv in self.moves.iter().rev().flatten() {
            held.play(held::undoing(*mv));
            all.push(held);
        }
        all.reverse();
        all
    }

    /// The steps that it takes to make an edit.
    pub(super) fn cost(&self, id: EditId) -> u64 {
        1 + self.edit(id).moves.len() as u64
    }

    fn one(&self, work: &mut Work) -> Found {
        let (forward, backward) = (self.forward_as_written(), self.backward_as_written());
        let mut found = Found { cut_short: !self.covers_all(), ..Found::default() };
        for id in (0..self.edits.len()).map(|id| id as EditId) {
            if !work.spend(self.cost(id)) {
                break;
            }
            found.tried += 1;
            let edit = self.edit(id);
            if self.play(forward[edit.range.start], id) == backward[edit.range.end] {
                found.repairs.push(vec![id]);
            }
        }
        found
    }

    /// All pairs of edits of which neither does alone.
    fn two(&self, one: &Found, work: &mut Work) -> Found {
        let alone: HashSet<EditId> = one.repairs.iter().flatten().copied().collect();
        let (forward, backward) = (self.forward_as_written(), self.backward_as_written());
        let mut found = Found::default();
        let n = self.moves.len();
        // Positions with one edit made, by the moment they are at.
        let mut edited: Vec<Vec<(Held, EditId)>> = vec![Vec::new(); n + 1];
        for at in 0..=n {
            let mut here = std::mem::take(&mut edited[at]);
            let making: u64 = self.ids_at(at).map(|id| self.cost(id)).sum();
            if !work.spend(2 * making) {
                break;
            }
            for id in self.ids_at(at).filter(|id| !alone.contains(id)) {
                let end = self.edit(id).range.end;
                let next = (self.play(forward[at], id), id);
                if end == at { here.push(next) } else { edited[end].push(next) }
            }
            let mut wanted = Table::default();
            for id in self.ids_at(at).filter(|id| !alone.contains(id)) {
                let before = self.undo(backward[self.edit(id).range.end], id);
                wanted.entry(before.fingerprint()).or_default().push(id);
            }
            // Each is looked up and played on.
            if !work.spend(2 * here.len() as u64) {
                break;
            }
            found.tried += (here.len() * (self.first[at + 1] - self.first[at])) as u64;
            for (held, first) in &here {
                for &second in wanted.get(&held.fingerprint()).into_iter().flatten() {
                    if !work.spend(1) {
                        break;
                    }
                    if self.in_order(*first, second) && work.spend(STEPS_A_REPAIR) {
                        found.repairs.push(vec![*first, second]);
                    }
                }
            }
            if let Some(&Some(mv)) = self.moves.get(at) {
                edited[at + 1].extend(here.into_iter().map(|(held, id)| (held.played(mv), id)));
            }
        }
        found
    }

    /// All sets of three likely edits of which no part does alone.
    fn three_likely(&self, fewer: &Found, work: &mut Work) -> Found {
        let alone: HashSet<&[EditId]> = fewer.repairs.iter().map(Vec::as_slice).collect();
        let (forward, backward) = (self.forward_as_written(), self.backward_as_written());
        let n = self.moves.len();
        let likely = |place: usize| self.ids_at(place).filter(|&id| self.edit(id).likely);
        // For each moment, the positions from which one likely edit later and the rest solve the cube.
        let mut later: Vec<Table> = (0..=n).map(|_| Table::default()).collect();
        let mut behind: Vec<(Held, EditId)> = Vec::new();
        let mut n_later = vec![0u64; n + 1];
        let mut found = Found { cut_short: !self.covers_all(), ..Found::default() };
        for at in (0..=n).rev() {
            let making: u64 = likely(at).map(|id| self.cost(id)).sum();
            // Each is played on and put into a table of its own.
            if !work.spend(making + 2 * behind.len() as u64) {
                return found;
            }
            if let Some(&Some(mv)) = self.moves.get(at) {
                behind.iter_mut().for_each(|(held, _)| held.play(held::undoing(mv)));
            }
            behind.extend(likely(at).map(|id| (self.undo(backward[self.edit(id).range.end], id), id)));
            n_later[at] = behind.len() as u64;
            for (held, id) in &behind {
                later[at].entry(held.fingerprint()).or_default().push(*id);
            }
        }
        let mut edited: Vec<Vec<(Held, EditId)>> = vec![Vec::new(); n + 1];
        for at in 0..=n {
            let mut here = std::mem::take(&mut edited[at]);
            let making: u64 = likely(at).map(|id| self.cost(id)).sum();
            if !work.spend(making * (1 + here.len() as u64) + here.len() as u64) {
                break;
            }
            for id in likely(at) {
                let end = self.edit(id).range.end;
                let next = (self.play(forward[at], id), id);
                if end == at { here.push(next) } else { edited[end].push(next) }
            }
            for second in likely(at) {
                let end = self.edit(second).range.end;
                found.tried += here.len() as u64 * n_later[end];
                for (held, first) in &here {
                    let after = self.play(*held, second).fingerprint();
                    for &third in later[end].get(&after).into_iter().flatten() {
                        if !work.spend(1) {
                            break;
                        }
                        let repair = [*first, second, third];
                        let part_does = (0..3).any(|i| alone.contains(&repair[i..=i]))
                            || alone.contains(&repair[..2])
                            || alone.contains(&repair[1..])
                            || alone.contains(&[*first, third][..]);
                        let in_order = self.in_order(*first, second) && self.in_order(second, third);
                        if in_order && !part_does && work.spend(STEPS_A_REPAIR) {
                            found.repairs.push(repair.to_vec());
                        }
                    }
                }
            }
            if let Some(&Some(mv)) = self.moves.get(at) {
                edited[at + 1].extend(here.into_iter().map(|(held, id)| (held.played(mv), id)));
            }
        }
        found
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

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;

    use super::*;
    use crate::cube::{Move, Position};

    fn plenty() -> Work {
        Work::of(u64::MAX)
    }

    fn tokens(text: &str, n_scramble: usize) -> Tokens {
        let elements: Vec<Element> = text
            .split_whitespace()
            .map(|token| match token {
                "?" => Element::Unknown,
                "!" => Element::Unreadable,
                _ => Element::Move(Move::ALL.into_iter().find(|mv| mv.to_string() == token).expect("a move")),
            })
            .collect();
        let fixed = vec![false; elements.len()];
        Tokens { elements, n_scramble, spellings: vec![], runs: vec![], fixed }
    }

    /// The obvious way: make the edits, replay, look.
    fn solves(tokens: &Tokens, edits: &[&Edit]) -> bool {
        let mut at = 0;
        let mut moves: Vec<Move> = Vec::new();
        for edit in edits {
            if edit.range.start < at {
                return false;
            }
            for element in &tokens.elements[at..edit.range.start] {
                let Element::Move(mv) = element else { return false };
                moves.push(*mv);
            }
            moves.extend(edit.moves.iter().map(|&mv| Move::ALL[usize::from(mv)]));
            at = edit.range.end;
        }
        for element in &tokens.elements[at..] {
            let Element::Move(mv) = element else { return false };
            moves.push(*mv);
        }
        Position::SOLVED.after(moves).state.is_solved()
    }

    #[test]
    fn both_ends_find_what_trying_everything_finds() {
        // Short, and with every kind of move that changes what follows. The last does not solve by one edit.
        for (text, n_scramble) in [("R U Rw' y F", 2), ("R U U' R2", 2), ("M x R", 1), ("R U L F' D' L", 3)] {
            let tokens = tokens(text, n_scramble);
            let search = Search::new(&tokens);
            let found: BTreeSet<Vec<EditId>> = search.up_to_two(&mut plenty()).repairs.into_iter().collect();
            let ids = 0..search.edits.len() as EditId;
            let mut expected = BTreeSet::new();
            let one: Vec<bool> = ids.clone().map(|id| solves(&tokens, &[search.edit(id)])).collect();
            for a in ids.clone() {
                if one[usize::from(a)] {
                    expected.insert(vec![a]);
                    continue;
                }
                for b in ids.clone().filter(|&b| !one[usize::from(b)]) {
                    let (first, second) = (search.edit(a), search.edit(b));
                    // Made in order of place, and for insertions at one place in both orders, but none in the
                    // scramble after one in the solution.
                    let in_order =
                        first.range.end <= second.range.start && (first.in_scramble || !second.in_scramble);
                    if in_order && solves(&tokens, &[first, second]) {
                        expected.insert(vec![a, b]);
                    }
                }
            }
            assert!(!expected.is_empty());
            assert_eq!(found, expected, "{text}");
        }
    }

    /// Whether edits can be made one after the other.
    fn apart(a: &Edit, b: &Edit) -> bool {
        a.range.end <= b.range.start && (a.in_scramble || !b.in_scramble)
    }

    #[test]
    fn three_likely_edits_are_all_found() {
        let tokens = tokens("R F' y L", 2);
        let search = Search::new(&tokens);
        let fewer = search.up_to_two(&mut plenty());
        let found: BTreeSet<Vec<EditId>> = search.three(&fewer, &mut plenty()).repairs.into_iter().collect();
        let does: HashSet<Vec<EditId>> = fewer.repairs.iter().cloned().collect();
        let likely: Vec<EditId> =
            (0..search.edits.len() as EditId).filter(|&id| search.edit(id).likely).collect();
        let mut expected = BTreeSet::new();
        for &a in &likely {
            for &b in likely.iter().filter(|&&b| apart(search.edit(a), search.edit(b))) {
                for &c in likely.iter().filter(|&&c| apart(search.edit(b), search.edit(c))) {
                    let parts = [vec![a], vec![b], vec![c], vec![a, b], vec![b, c], vec![a, c]];
                    if solves(&tokens, &[search.edit(a), search.edit(b), search.edit(c)])
                        && !parts.iter().any(|part| does.contains(part))
                    {
                        expected.insert(vec![a, b, c]);
                    }
                }
            }
        }
        assert!(!expected.is_empty());
        assert_eq!(found, expected);
    }

    #[test]
    fn what_must_be_filled_is_filled_with_one_edit_more_anywhere() {
        for text in ["R ? F' L", "R F ! F'", "? U"] {
            let tokens = tokens(text, 1);
            let search = Search::new(&tokens);
            let found: BTreeSet<Vec<EditId>> = search.up_to_two(&mut plenty()).repairs.into_iter().collect();
            let ids = 0..search.edits.len() as EditId;
            let fillings: Vec<EditId> = ids.clone().filter(|&id| search.edit(id).fills()).collect();
            let mut expected = BTreeSet::new();
            for &fill in &fillings {
                if solves(&tokens, &[search.edit(fill)]) {
                    expected.insert(vec![fill]);
                    continue;
                }
                for other in ids.clone().filter(|&id| !search.edit(id).fills()) {
                    for pair in [[fill, other], [other, fill]] {
                        let edits = pair.map(|id| search.edit(id));
                        if apart(edits[0], edits[1]) && solves(&tokens, &edits) {
                            expected.insert(pair.to_vec());
                        }
                    }
                }
            }
            assert!(!expected.is_empty(), "{text}");
            assert_eq!(found, expected, "{text}");
        }
    }
}

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

use std::collections::HashSet;

use super::held::{self, Held};
use super::work::Work;
use super::{EditId, Found, STEPS_A_REPAIR, Search, Table};

impl Search {
    /// The positions before each token, played as written from a solved cube.
    pub(super) fn forward_as_written(&self) -> Vec<Held> {
        let mut held = Held::SOLVED;
        let mut all = vec![held];
        for mv in self.moves.iter().flatten() {
            held.play(*mv);
            all.push(held);
        }
        all
    }

    /// For each moment, the position from which the rest as written solves the cube.
    pub(super) fn backward_as_written(&self) -> Vec<Held> {
        let mut held = Held::SOLVED;
        let mut all = vec![held];
        for mv in self.moves.iter().rev().flatten() {
            held.play(held::undoing(*mv));
            all.push(held);
        }
        all.reverse();
        all
    }

    pub(super) fn one(&self, work: &mut Work) -> Found {
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
    pub(super) fn two(&self, one: &Found, work: &mut Work) -> Found {
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
    pub(super) fn three_likely(&self, fewer: &Found, work: &mut Work) -> Found {
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

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;

    use super::*;
    use crate::cube::{Move, Position};
    use crate::mend::edits::Edit;
    use crate::mend::tokens::Tokens;
    use crate::notation::Element;

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

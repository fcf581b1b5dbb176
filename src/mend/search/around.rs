//! Searches around tokens that must be filled: `?`, what cannot be read, and the two sides of a gap.
//!
//! Everything that can be reached before a place meets everything that is wanted after it, each with the
//! fillings on its side and so many edits besides.

use std::collections::{HashMap, HashSet};
use std::hash::BuildHasherDefault;

use super::held::{self, Held};
use super::work::Work;
use super::{EditId, Found, Free, MOST_POSITIONS, Plain, STEPS_A_REPAIR, Search};

/// A position with the edits made on the way to it.
#[derive(Clone, Copy)]
struct Path {
    held: Held,
    edits: [EditId; 6],
    n: u8,
    n_free: u8,
}

impl Path {
    const START: Path = Path { held: Held::SOLVED, edits: [0; 6], n: 0, n_free: 0 };

    fn edits(&self) -> &[EditId] {
        &self.edits[..usize::from(self.n)]
    }

    /// The same with one more edit; `None` if there is no room for it.
    fn with(mut self, id: EditId, free: bool) -> Option<Path> {
        *self.edits.get_mut(usize::from(self.n))? = id;
        self.n += 1;
        self.n_free += u8::from(free);
        Some(self)
    }
}

impl Search {
    /// All ways to fill the tokens that must be filled, with at most one edit elsewhere (none if `one` is not
    /// set).
    pub(super) fn around_forced(&self, one: bool, free: Free, work: &mut Work) -> Found {
        let n_free = u8::from(one);
        self.meet_at(self.middle(), [n_free, n_free], n_free, free, work)
    }

    /// The same around a single token that must be filled, with at most two likely edits elsewhere.
    pub(super) fn around_one_likely(&self, work: &mut Work) -> Found {
        let place = self.middle();
        let fillings = self.ids_at(place).filter(|&id| self.edit(id).fills());
        let after = fillings.map(|id| self.edit(id).range.end).max().unwrap_or(place);
        // Two before it, one on each side, two after it: never two and the filling on one side.
        let mut found = self.meet_at(place, [2, 0], 2, Free::Likely, work);
        found.join(self.meet_at(place, [1, 1], 2, Free::Likely, work));
        found.join(self.meet_at(after, [1, 2], 2, Free::Likely, work));
        found.repairs.sort_unstable();
        found.repairs.dedup();
        keep_minimal(&mut found.repairs);
        found
    }

    fn middle(&self) -> usize {
        self.forced[self.forced.len() / 2]
    }

    /// Joins what can be reached at a place with what is wanted there, each side with at most so many free
    /// edits, and together at most `n_free`.
    fn meet_at(&self, place: usize, sides: [u8; 2], n_free: u8, free: Free, work: &mut Work) -> Found {
        let (Some(before), Some(after)) =
            (self.reach(place, sides[0], free, work), self.want(place, sides[1], free, work))
        else {
            return Found { cut_short: true, ..Found::default() };
        };
        let mut by_position: HashMap<u64, Vec<usize>, BuildHasherDefault<Plain>> = HashMap::default();
        // The smaller side goes into the table.
        let swapped = before.len() > after.len();
        let (small, large) = if swapped { (&after, &before) } else { (&before, &after) };
        for (i, path) in small.iter().enumerate() {
            by_position.entry(path.held.fingerprint()).or_default().push(i);
        }
        let mut found = Found { cut_short: !self.covers_all(), ..Found::default() };
        for n in 0..=n_free {
            let count = |paths: &[Path], n: u8| paths.iter().filter(|path| path.n_free == n).count() as u64;
            found.tried += count(&before, n) * (0..=n_free - n).map(|m| count(&after, m)).sum::<u64>();
        }
        if !work.spend((small.len() + large.len()) as u64) {
            return Found { cut_short: true, ..found };
        }
        'all: for path in large {
            for &i in by_position.get(&path.held.fingerprint()).into_iter().flatten() {
                if !work.spend(1) {
                    break 'all;
                }
                let (early, late) = if swapped { (path, &small[i]) } else { (&small[i], path) };
                // A repair of many edits is held against each of its parts.
                let keeping = STEPS_A_REPAIR + (1 << (early.n + late.n));
                if early.n_free + late.n_free <= n_free && work.spend(keeping) {
                    let late = late.edits().iter().rev();
                    found.repairs.push(early.edits().iter().chain(late).copied().collect());
                }
            }
        }
        found.repairs.retain(|repair| repair.windows(2).all(|pair| self.in_order(pair[0], pair[1])));
        keep_minimal(&mut found.repairs);
        found
    }

    /// Every position that can be reached before token `to` with what must be filled filled; `None` if they
    /// are too many.
    pub(super) fn reach_filled(&self, to: usize, work: &mut Work) -> Option<Vec<(Held, Vec<EditId>)>> {
        let paths = self.reach(to, 0, Free::Any, work)?;
        Some(paths.iter().map(|path| (path.held, path.edits().to_vec())).collect())
    }

    /// Every position at moment `from` from which the cube can be solved likewise.
    pub(super) fn want_filled(&self, from: usize, work: &mut Work) -> Option<Vec<(Held, Vec<EditId>)>> {
        let paths = self.want(from, 0, Free::Any, work)?;
        Some(paths.iter().map(|path| (path.held, path.edits().iter().rev().copied().collect())).collect())
    }

    /// The edits of a place that must be made somewhere, and those that may be.
    fn offered(&self, place: usize, n_free: u8, free: Free) -> (Vec<EditId>, Vec<EditId>) {
        let (fillings, others): (Vec<EditId>, Vec<EditId>) =
            self.ids_at(place).partition(|&id| self.edit(id).fills());
        let may = |id: &EditId| n_free > 0 && (free == Free::Any || self.edit(*id).likely);
        (fillings, others.into_iter().filter(may).collect())
    }

    /// `None` if there are too many, or making them is more work than there may be.
    fn reach(&self, to: usize, n_free: u8, free: Free, work: &mut Work) -> Option<Vec<Path>> {
        let mut at: Vec<Vec<Path>> = vec![Vec::new(); to + 1];
        at[0].push(Path::START);
        for place in 0..=to {
            let mut here = std::mem::take(&mut at[place]);
            let mut n_kept =
                here.len() + at.iter().skip(place).take(self.longest + 1).map(Vec::len).sum::<usize>();
            let (fillings, others) = self.offered(place, n_free, free);
            let mut i = 0;
            while i < here.len() {
                let path = here[i];
                let others: &[EditId] = if path.n_free < n_free { &others } else { &[] };
                for &id in fillings.iter().chain(others) {
                    let end = self.edit(id).range.end;
                    if end > to {
                        continue;
                    }
                    n_kept += 1;
                    if n_kept > MOST_POSITIONS || !work.spend(self.cost(id)) {
                        return None;
                    }
                    let mut next = path.with(id, !self.edit(id).fills())?;
                    next.held = self.play(path.held, id);
                    if end == place { here.push(next) } else { at[end].push(next) }
                }
                i += 1;
            }
            if place == to {
                return Some(here);
            }
            if let Some(mv) = self.moves[place] {
                if !work.spend(here.len() as u64) {
                    return None;
                }
                at[place + 1]
                    .extend(here.into_iter().map(|path| Path { held: path.held.played(mv), ..path }));
            }
        }
        None
    }

    /// Edits stand in the paths from the last to the first.
    fn want(&self, from: usize, n_free: u8, free: Free, work: &mut Work) -> Option<Vec<Path>> {
        let n = self.moves.len();
        let mut at: Vec<Vec<Path>> = vec![Vec::new(); n + 1];
        at[n].push(Path::START);
        for place in (from..=n).rev() {
            // First the token here, or an edit that covers it, from where it leads; then insertions before it.
            let mut here = std::mem::take(&mut at[place]);
            if let Some(&Some(mv)) = self.moves.get(place) {
                let undone = held::undoing(mv);
                if !work.spend(at[place + 1].len() as u64) {
                    return None;
                }
                here.extend(
                    at[place + 1].iter().map(|path| Path { held: path.held.played(undone), ..*path }),
                );
            }
            let mut n_kept =
                here.len() + at.iter().skip(place).take(self.longest + 1).map(Vec::len).sum::<usize>();
            let mut may_keep = |cost: u64, work: &mut Work| {
                n_kept += 1;
                n_kept <= MOST_POSITIONS && work.spend(cost)
            };
            let (fillings, others) = self.offered(place, n_free, free);
            let (insertions, others): (Vec<EditId>, Vec<EditId>) =
                others.into_iter().partition(|&id| self.edit(id).range.is_empty());
            for &id in fillings.iter().chain(&others) {
                let is_free = !self.edit(id).fills();
                for path in &at[self.edit(id).range.end] {
                    if !is_free || path.n_free < n_free {
                        if !may_keep(self.cost(id), work) {
                            return None;
                        }
                        let mut next = path.with(id, is_free)?;
                        next.held = self.undo(path.held, id);
                        here.push(next);
                    }
                }
            }
            // The place where the two ends meet is left to the other side's insertions.
            let mut i = 0;
            while place > from && i < here.len() {
                let path = here[i];
                let insertions: &[EditId] = if path.n_free < n_free { &insertions } else { &[] };
                for &id in insertions {
                    if !may_keep(self.cost(id), work) {
                        return None;
                    }
                    let mut next = path.with(id, true)?;
                    next.held = self.undo(path.held, id);
                    here.push(next);
                }
                i += 1;
            }
            at[place] = here;
            if let Some(done) = at.get_mut(place + self.longest + 1) {
                // Emptied, not only cleared: its room is needed.
                *done = Vec::new();
            }
        }
        Some(std::mem::take(&mut at[from]))
    }
}

/// Drops every set that contains another.
fn keep_minimal(repairs: &mut Vec<Vec<EditId>>) {
    let all: HashSet<Vec<EditId>> = repairs.iter().cloned().collect();
    repairs.retain(|repair| {
        let n = repair.len();
        // Every proper part, as bits; repairs have at most eight edits.
        (1..(1usize << n) - 1).all(|bits| {
            let part: Vec<EditId> = (0..n).filter(|i| bits >> i & 1 == 1).map(|i| repair[i]).collect();
            !all.contains(&part)
        })
    });
}

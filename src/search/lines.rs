//! The enumeration: forward from a position, and a look-up of the endings.

use std::ops::RangeInclusive;
use std::sync::OnceLock;

use super::automaton::Automaton;
use super::endings::{Ending, Endings, Filter};
use super::goal::Goal;
use super::phrases::Phrases;
use super::tracked::{Tracked, Turns, pair_bits, pairs_bits};
use super::turn::Turn;
use super::{Kind, MAX_TURNS};
use crate::cube::{PairSet, Slot};

/// Everything needed to search for one kind of line.
#[derive(Debug)]
pub(super) struct Searcher {
    pub endings: Endings,
    /// For each node of the automaton, the turns that may come next and where they lead.
    pub next: Vec<Vec<(Turn, u16)>>,
    pub turns: &'static Turns,
    pub goal: Goal,
    /// The bound from which looking one turn further back than the endings reach pays for its table.
    look_further_from: usize,
}

/// A line as the search finds it: in turns of the model.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Found {
    /// How many turns.
    pub len: u8,
    /// The turns; those past `len` are the first of [`Turn::ALL`].
    pub turns: [Turn; MAX_TURNS],
    /// The model's pairs that it solves.
    pub pairs: PairSet,
}

/// The turns played so far on the way to a line.
#[derive(Clone, Copy)]
pub(super) struct Path {
    turns: [Turn; MAX_TURNS],
    len: usize,
}

impl Path {
    /// No turn yet.
    pub const EMPTY: Path = Path { turns: [Turn::ALL[0]; MAX_TURNS], len: 0 };

    /// With one more turn.
    pub fn with(mut self, turn: Turn) -> Path {
        self.turns[self.len] = turn;
        self.len += 1;
        self
    }

    /// The line that an ending completes.
    pub fn found(mut self, ending: &Ending, pairs: PairSet) -> Found {
        for &turn in ending.turns() {
            self = self.with(turn);
        }
        Found { len: self.len as u8, turns: self.turns, pairs }
    }
}

impl Searcher {
    /// The searcher for a kind of line, made at the first call.
    pub fn of(kind: Kind) -> &'static Searcher {
        static HAND: OnceLock<Searcher> = OnceLock::new();
        static EVERY: OnceLock<Searcher> = OnceLock::new();
        match kind {
            Kind::Hand => HAND.get_or_init(|| Searcher::new(&Automaton::hand_lines(Phrases::All), 5, 10)),
            Kind::Every => EVERY.get_or_init(|| Searcher::new(&Automaton::every_line(), 4, 8)),
        }
    }

    fn new(automaton: &Automaton, longest: usize, look_further_from: usize) -> Searcher {
        let next = automaton.next.iter().map(|row| {
            let live = Turn::ALL.into_iter().zip(row).filter(|&(_, &to)| to != Automaton::DEAD);
            live.map(|(turn, &to)| (turn, to)).collect()
        });
        Searcher {
            endings: Endings::new(automaton, longest),
            next: next.collect(),
            turns: Turns::get(),
            goal: Goal::get(),
            look_further_from,
        }
    }

    /// Calls `to` with every line of at most `bound` turns, in no particular order.
    pub fn lines(&self, from: Tracked, bound: usize, to: &mut impl FnMut(Found)) {
        let kept = self.goal.solved_pairs(from.packed());
        let open = kept.others();
        let search = Enumeration {
            searcher: self,
            kept,
            kept_bits: pairs_bits(kept),
            open,
            wanted: open,
            exact: false,
            further: self.look_further(bound),
        };
        // Lines no longer than an ending are endings. All others go forward until an ending of full length
        // is left, so each is found once.
        let start = Moment::start(from);
        search.join(&start, search.wanted, 1..=bound.min(self.endings.longest), to);
        search.forward(&start, bound, to);
    }

    /// Calls `to` with every line of exactly `len` turns that solves the pair `slot`, in no particular order. Such a
    /// line ends at the first moment at which any pair of `open` is solved; the pairs that are neither `kept` nor open do
    /// not matter.
    pub fn lines_of(
        &self,
        from: Tracked,
        slot: Slot,
        [kept, open]: [PairSet; 2],
        len: usize,
        to: &mut impl FnMut(Found),
    ) {
        let search = Enumeration {
            searcher: self,
            kept,
            kept_bits: pairs_bits(kept),
            open,
            wanted: PairSet::only(slot),
            exact: true,
            further: self.look_further(len),
        };
        let start = Moment::start(from);
        if len <= self.endings.longest {
            search.join(&start, search.wanted, len..=len, to);
        } else {
            search.forward(&start, len, to);
        }
    }

    /// Where endings of one turn more than are filed begin, if `bound` is worth it.
    pub fn look_further(&self, bound: usize) -> Option<&Filter> {
        (bound >= self.look_further_from).then(|| self.endings.longer())
    }
}

/// Whether turns that take `from` to a moment at which a pair of `open` is solved, with the cross and `kept`, do so for
/// the first time at their end, in whichever order opposite neighbours are played.
pub(super) fn ends_first(from: Tracked, kept: PairSet, open: PairSet, turns: &[Turn]) -> bool {
    let (goal, tables) = (Goal::get(), Turns::get());
    let reached = |position: Tracked| goal.reached(position.packed(), kept, open);
    let mut position = from;
    let mut last: Option<(Turn, Tracked)> = None;
    for (i, &turn) in turns.iter().enumerate() {
        let after = tables.turned(position, turn);
        let without_last = last
            .is_some_and(|(last, before)| last.axis() == turn.axis() && reached(tables.turned(before, turn)));
        if without_last || (i + 1 < turns.len() && reached(after)) {
            return false;
        }
        last = Some((turn, position));
        position = after;
    }
    true
}

struct Enumeration<'a> {
    searcher: &'a Searcher,
    /// The pairs that are solved and stay so.
    kept: PairSet,
    kept_bits: u64,
    /// The pairs of which any that is solved ends a line.
    open: PairSet,
    /// Those of them of which a line has to solve one.
    wanted: PairSet,
    /// Whether only lines as long as the bound are sought.
    exact: bool,
    further: Option<&'a Filter>,
}

/// A moment of the way forward.
#[derive(Clone, Copy)]
struct Moment {
    position: Tracked,
    node: u16,
    path: Path,
    /// The last turn and the position before it.
    last: Option<(Turn, Tracked)>,
}

impl Moment {
    const fn start(position: Tracked) -> Moment {
        Moment { position, node: Automaton::START, path: Path::EMPTY, last: None }
    }
}

impl Enumeration<'_> {
    /// All lines that go on from here and have at most `left` more turns, of which the endings' full length
    /// come from an ending.
    fn forward(&self, from: &Moment, left: usize, to: &mut impl FnMut(Found)) {
        let longest = self.searcher.endings.longest;
        if left <= longest {
            return;
        }
        let mut slots = self.wanted;
        if left == longest + 1
            && let Some(further) = self.further
        {
            slots = further.may_contain_any(from.position.packed(), slots);
            if slots.is_empty() {
                return;
            }
        }
        for &(turn, node) in &self.searcher.next[usize::from(from.node)] {
            let position = self.searcher.turns.turned(from.position, turn);
            let to_join = if self.exact && left - 1 > longest {
                PairSet::EMPTY
            } else {
                self.searcher.endings.begins.may_contain_any(position.packed(), slots)
            };
            if to_join.is_empty() && left - 1 == longest {
                continue; // By far the most often.
            }
            if self.ended(from, turn, position) {
                continue;
            }
            let path = from.path.with(turn);
            let moment = Moment { position, node, path, last: Some((turn, from.position)) };
            self.join(&moment, to_join, longest..=longest, to);
            self.forward(&moment, left - 1, to);
        }
    }

    /// Whether the line has ended with this turn, or would have if this turn and the last, which commute, had
    /// been played the other way round.
    #[inline]
    fn ended(&self, from: &Moment, turn: Turn, position: Tracked) -> bool {
        self.searcher.goal.reached(position.packed(), self.kept, self.open)
            || self.ended_without_last(from, turn)
    }

    #[inline]
    fn ended_without_last(&self, from: &Moment, turn: Turn) -> bool {
        from.last.is_some_and(|(last, before)| {
            last.axis() == turn.axis() && {
                let position = self.searcher.turns.turned(before, turn);
                self.searcher.goal.reached(position.packed(), self.kept, self.open)
            }
        })
    }

    /// All lines that are completed by one ending of a length in `lengths`, in which only pairs of `slots` are
    /// solved.
    #[inline]
    fn join(
        &self,
        from: &Moment,
        slots: PairSet,
        lengths: RangeInclusive<usize>,
        to: &mut impl FnMut(Found),
    ) {
        let packed = from.position.packed();
        for slot in slots.iter() {
            for (before, ending) in self.searcher.endings.of(packed, slot, self.kept_bits, from.node) {
                if !lengths.contains(&ending.turns().len()) {
                    continue;
                }
                let pairs = self.open.filter(|other| (packed ^ before) & pair_bits(other) == 0);
                // A line that solves two pairs at once is found for each of them, and counts once.
                let found_for = pairs & self.wanted;
                if found_for.first() == Some(slot) && !self.ends_before(from, ending) {
                    to(from.path.found(ending, pairs));
                }
            }
        }
    }

    /// Whether a line ends before the last turn of this ending.
    fn ends_before(&self, from: &Moment, ending: &Ending) -> bool {
        let turns = ending.turns();
        if !ending.passes_cross {
            // Then only the neighbours where way and ending meet can hide an earlier end.
            return self.ended_without_last(from, turns[0]);
        }
        let mut moment = *from;
        turns.iter().enumerate().any(|(i, &turn)| {
            let position = self.searcher.turns.turned(moment.position, turn);
            let ended = if i + 1 < turns.len() {
                self.ended(&moment, turn, position)
            } else {
                self.ended_without_last(&moment, turn)
            };
            moment = Moment { position, last: Some((turn, moment.position)), ..moment };
            ended
        })
    }
}

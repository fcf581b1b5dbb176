//! The enumeration: forward from a position, and a look-up of the endings.

use std::ops::RangeInclusive;
use std::sync::OnceLock;

use super::automaton::Automaton;
use super::endings::{Ending, Endings, Filter};
use super::goal::Goal;
use super::tracked::{Tracked, Turns, pair_bits, pairs_bits};
use super::turn::Turn;
use super::{Kind, MAX_TURNS};

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
    /// The model's pairs that it solves, one bit each.
    pub pairs: u8,
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
    pub fn found(mut self, ending: &Ending, pairs: u8) -> Found {
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
            Kind::Hand => HAND.get_or_init(|| Searcher::new(&Automaton::hand_lines(), 5, 10)),
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
        let search = Enumeration {
            searcher: self,
            kept,
            kept_bits: pairs_bits(kept),
            open: !kept & 0b1111,
            further: self.look_further(bound),
        };
        // Lines no longer than an ending are endings. All others go forward until an ending of full length
        // is left, so each is found once.
        let start = Moment::start(from);
        search.join(&start, search.open, 1..=bound.min(self.endings.longest), to);
        search.forward(&start, bound, to);
    }

    /// Where endings of one turn more than are filed begin, if `bound` is worth it.
    pub fn look_further(&self, bound: usize) -> Option<&Filter> {
        (bound >= self.look_further_from).then(|| self.endings.longer())
    }
}

struct Enumeration<'a> {
    searcher: &'a Searcher,
    /// The pairs that are solved and stay so.
    kept: u8,
    kept_bits: u64,
    open: u8,
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
        let mut slots = self.open;
        if left == longest + 1
            && let Some(further) = self.further
        {
            slots = further.may_contain_any(from.position.packed(), slots);
            if slots == 0 {
                return;
            }
        }
        for &(turn, node) in &self.searcher.next[usize::from(from.node)] {
            let position = self.searcher.turns.turned(from.position, turn);
            let to_join = self.searcher.endings.begins.may_contain_any(position.packed(), slots);
            if to_join == 0 && left - 1 == longest {
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
        self.searcher.goal.reached(position.packed(), self.kept) || self.ended_without_last(from, turn)
    }

    #[inline]
    fn ended_without_last(&self, from: &Moment, turn: Turn) -> bool {
        from.last.is_some_and(|(last, before)| {
            last.axis() == turn.axis()
                && self.searcher.goal.reached(self.searcher.turns.turned(before, turn).packed(), self.kept)
        })
    }

    /// All lines that are completed by one ending of a length in `lengths`, in which only pairs of `slots` are
    /// solved.
    #[inline]
    fn join(&self, from: &Moment, slots: u8, lengths: RangeInclusive<usize>, to: &mut impl FnMut(Found)) {
        let packed = from.position.packed();
        for slot in each(slots) {
            for (before, ending) in self.searcher.endings.of(packed, slot, self.kept_bits, from.node) {
                if !lengths.contains(&ending.turns().len()) {
                    continue;
                }
                let pairs = each(self.open)
                    .filter(|&other| (packed ^ before) & pair_bits(other) == 0)
                    .map(|other| 1 << other)
                    .sum::<u8>();
                // A line that solves two pairs at once is found for each of them, and counts once.
                if pairs.trailing_zeros() as usize == slot && !self.ends_before(from, ending) {
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

/// The numbers of the bits of a set of pairs.
#[inline]
fn each(slots: u8) -> impl Iterator<Item = usize> {
    (0..4).filter(move |slot| slots >> slot & 1 == 1)
}

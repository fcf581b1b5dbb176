//! The moments between turns, and the marks that stand there.
//!
//! A *rest* is what lies between two neighbouring turns, before the first or after the last: one moment, or several with
//! rotations between them. Whether the hands rested there is another question: its marks say.

use super::Lapse;
use crate::cube::Move;
use crate::notation::Mark;

/// The moments between one turn and the next.
#[derive(Debug, Clone, Copy)]
pub(super) struct Rest {
    /// The moment right after the turn before.
    pub from: usize,
    /// The moment right before the next turn.
    pub to: usize,
    /// How many marks stand there.
    pub marks: usize,
    pub first: Option<Mark>,
    pub last: Option<Mark>,
    /// From the first mark to the last, if there are two and the clock does not run backwards.
    pub gap: Option<Lapse>,
}

impl Rest {
    /// Whether it holds a rotation that does not lie between two marks.
    pub fn loose(&self) -> bool {
        self.from < self.to
            && !(self.gap.is_some()
                && self.first.is_some_and(|mark| mark.moment == self.from)
                && self.last.is_some_and(|mark| mark.moment == self.to))
    }

    /// The mark at which the turn before it had ended: the first of two, or one alone if it stands right behind the turn.
    pub fn ended(&self) -> Option<Mark> {
        self.first.filter(|mark| self.gap.is_some() || (self.marks == 1 && mark.moment == self.from))
    }

    /// The mark at which the next turn began: the last of two. One alone is the end of the turn before.
    pub fn begins(&self) -> Option<Mark> {
        self.last.filter(|_| self.gap.is_some())
    }
}

/// The rests of a solve of *n* turning tokens: *n* + 1, the first before the first turn, the last after the last.
#[derive(Debug, Clone)]
pub(super) struct Rests {
    pub all: Vec<Rest>,
    /// Turns (OBTM) made before each moment.
    pub turns_before: Vec<usize>,
    /// The length of a video frame, in seconds.
    pub frame: f64,
}

impl Rests {
    pub fn new(marks: &[Mark], moves: &[Move], frame: f64) -> Rests {
        let mut turns_before = vec![0];
        let mut all = Vec::new();
        let mut from = 0;
        let mut rest = |from: usize, to: usize| {
            let before = |moment: usize| marks.partition_point(|mark| mark.moment < moment);
            let here = &marks[before(from)..before(to + 1)];
            let gap = match here {
                [first, .., last] => lapse(first, last, frame),
                _ => None,
            };
            let (first, last) = (here.first().copied(), here.last().copied());
            all.push(Rest { from, to, marks: here.len(), first, last, gap });
        };
        for (token, mv) in moves.iter().enumerate() {
            turns_before.push(turns_before[token] + mv.obtm());
            if mv.obtm() > 0 {
                rest(from, token);
                from = token + 1;
            }
        }
        rest(from, moves.len());
        Rests { all, turns_before, frame }
    }

    /// How many tokens turn.
    pub fn turning(&self) -> usize {
        self.all.len() - 1
    }

    /// The mark at which the first turn began. One alone will do here: no turn ended at it.
    pub fn begins(&self) -> Option<Mark> {
        self.all[0].last
    }

    /// The mark at which the last turn had ended.
    pub fn ended(&self) -> Option<Mark> {
        if self.turning() == 0 { None } else { self.all[self.turning()].ended() }
    }

    /// The rests before the first turn of a step from moment `from` to `to` and after its last; `None` if it has no turns.
    pub fn around(&self, from: usize, to: usize) -> Option<(usize, usize)> {
        let last = self.turns_before.len() - 1;
        if self.turns_before[to.min(last)] == self.turns_before[from.min(last)] {
            return None;
        }
        // The rest before a turn is the first that reaches past the step's first moment.
        let opening = self.all.partition_point(|rest| rest.to < from);
        let closing = self.all.partition_point(|rest| rest.from <= to) - 1;
        Some((opening, closing))
    }
}

/// From one mark to another; `None` if the clock runs backwards.
pub(super) fn lapse(from: &Mark, to: &Mark, frame: f64) -> Option<Lapse> {
    let micros = to.time.0.checked_sub(from.time.0)?;
    let frames = usize::from(from.frame.is_some()) + usize::from(to.frame.is_some());
    Some(Lapse { micros, within: frames as f64 * frame })
}

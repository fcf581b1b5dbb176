//! Time: what the marks of a record say of pace, pauses and steps, and nothing that they do not.
//!
//! A [`Mark`] is what the clock said at a moment: when the token before it had ended and the next might
//! begin. Two marks at one moment are a pause. Times are seconds; a mark given as a video frame is good to one
//! frame either way, and every [`Figure`] carries what that comes to.
//!
//! * A **span** runs from the last mark at one moment to the first mark at the next moment that has any. Spans
//!   without a turn (a rotation between two marks) say nothing of pace.
//! * **Pace** is the median over turns of seconds per turn, where each turn of a span counts with the span's
//!   mean. With a mark on every turn that is the median of the gaps; with a mark or two a step it is the
//!   median of the steps' own paces, weighted by their turns. Turns outside all spans do not count. Turns are
//!   OBTM (WCA Regulation 12a5); a slice is two.
//! * **Pause**: before the first turn of a step, from the first mark to the last that stand at the step's first
//!   moment or among the rotations before its first turn. It is exact: both ends are marked.
//! * **Hesitation** is derived, and only where a step has no marked pause: the time from the mark at its first
//!   moment to the next mark in it, less the turns between at the solve's pace, never below 0. If only step
//!   ends are marked that is the step's time less its turns times pace. It is absent before the first turn of
//!   the solve (there is no step to stop after) and where the pace comes from this span alone.
//! * **Long**: at least 0.3 s and at least twice the pace ([`LongFrom`]; common practice, no source).

use crate::cube::Move;
use crate::diagnostic::{Diagnostic, Span};
use crate::findings;
use crate::notation::{Mark, Time};

/// A number of seconds and how far off it may be: the true one is at most `within` away.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Figure {
    /// Seconds (for a pace, seconds per turn).
    pub seconds: f64,
    /// Seconds either way; 0 where no mark was given as a frame.
    pub within: f64,
}

/// The marks of a solve set against its moves.
#[derive(Debug, Clone)]
pub struct Clock {
    marks: Vec<Mark>,
    /// Turns (OBTM) made before each moment.
    turns_before: Vec<usize>,
    /// Seconds.
    frame: f64,
    pace: Option<Figure>,
    /// How many spans the pace was taken from.
    spans: usize,
}

/// What the marks say of one step.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct StepTime {
    /// The clock at the step's first moment, when the step before ended.
    pub start: Option<Time>,
    /// The clock when its first turn began: `start`, if that is the only mark before it.
    pub first_turn: Option<Time>,
    /// The clock when its last turn ended.
    pub end: Option<Time>,
    /// From `start` to `end`, pause included.
    pub total: Option<Figure>,
    /// From `first_turn` to `end`, pause left out.
    pub turning: Option<Figure>,
    /// Marked: the time stopped before the first turn.
    pub pause: Option<Figure>,
    /// Derived from the pace: time lost after the step before. Absent where `pause` is there.
    pub hesitation: Option<Figure>,
    /// Turns (OBTM) of the step for each second of `total`.
    pub turns_per_second: Option<f64>,
}

impl StepTime {
    /// The marked pause, else the derived hesitation; and whether it is derived.
    #[must_use]
    pub fn stop(&self) -> Option<(Figure, bool)> {
        let derived = self.hesitation.map(|figure| (figure, true));
        self.pause.map(|figure| (figure, false)).or(derived)
    }
}

/// Two marks at one moment: the hands stopped.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Pause {
    /// The moment.
    pub moment: usize,
    /// From the first mark there to the last.
    pub length: Figure,
}

/// From when on a pause is long.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LongFrom {
    /// At least this many seconds.
    pub seconds: f64,
    /// And at least this many times the pace.
    pub paces: f64,
}

impl Default for LongFrom {
    fn default() -> LongFrom {
        LongFrom { seconds: 0.3, paces: 2.0 }
    }
}

/// Whether a pause is long.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Long {
    /// Judged by the figures as they stand.
    pub long: bool,
    /// Whether the answer holds however far off the marks and the pace may be.
    pub certain: bool,
}

impl LongFrom {
    /// The shortest pause that is long at this pace, in seconds.
    #[must_use]
    pub fn threshold(self, pace: Figure) -> f64 {
        self.seconds.max(self.paces * pace.seconds)
    }

    /// Whether the pause is long; `None` if the pace is not known and it depends on that.
    #[must_use]
    pub fn judge(self, pause: Figure, pace: Option<Figure>) -> Option<Long> {
        let Some(pace) = pace else {
            let certain = pause.seconds + pause.within < self.seconds;
            return (pause.seconds < self.seconds).then_some(Long { long: false, certain });
        };
        let threshold = |seconds: f64| self.seconds.max(self.paces * seconds);
        let long = pause.seconds >= threshold(pace.seconds);
        let certain = if long {
            pause.seconds - pause.within >= threshold(pace.seconds + pace.within)
        } else {
            pause.seconds + pause.within < threshold((pace.seconds - pace.within).max(0.0))
        };
        Some(Long { long, certain })
    }
}

/// The timer's result and the marks tell different times.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Disagreement {
    /// From the mark before the first turn to the one after the last.
    pub marked: Figure,
    /// The timer's result, in seconds.
    pub timer: f64,
    /// Where the last of these marks was written.
    pub last_mark: Span,
}

/// A run of turns between two marks.
struct Stretch {
    micros: u64,
    turns: usize,
    within: f64,
}

impl Clock {
    /// Sets marks against moves. `marks` are in order of moment; those past the last move are left out, and a
    /// time that runs backwards gives no figure. `fps` is needed only where marks are frames.
    #[must_use]
    pub fn new(marks: &[Mark], moves: &[Move], fps: Option<f64>) -> Clock {
        let mut turns_before = Vec::with_capacity(moves.len() + 1);
        let mut turns = 0;
        turns_before.push(0);
        for mv in moves {
            turns += mv.obtm();
            turns_before.push(turns);
        }
        let marks = marks.iter().copied().filter(|mark| mark.moment <= moves.len()).collect();
        let frame = fps.filter(|fps| fps.is_finite() && *fps > 0.0).map_or(0.0, |fps| 1.0 / fps);
        let mut clock = Clock { marks, turns_before, frame, pace: None, spans: 0 };
        let stretches = clock.stretches();
        clock.spans = stretches.len();
        clock.pace = median(&stretches);
        clock
    }

    /// The solve's pace, in seconds per turn; `None` if no two marks have a turn between them.
    #[must_use]
    pub const fn pace(&self) -> Option<Figure> {
        self.pace
    }

    /// How many marks there are at moments that were played.
    #[must_use]
    pub fn marks(&self) -> usize {
        self.marks.len()
    }

    /// How far off a mark may be, in seconds: one frame if any mark was given as a frame.
    #[must_use]
    pub fn uncertainty(&self) -> Option<f64> {
        self.marks.iter().any(|mark| mark.frame.is_some()).then_some(self.frame)
    }

    /// The clock at this moment: the last mark that stands there, when the next token could begin.
    #[must_use]
    pub fn at(&self, moment: usize) -> Option<Time> {
        self.last_at(moment, moment).map(|mark| mark.time)
    }

    /// From the last mark at moment `from` to the first at moment `to`; `None` if either has no mark.
    #[must_use]
    pub fn between(&self, from: usize, to: usize) -> Option<Figure> {
        self.elapsed(self.last_at(from, from)?, self.first_at(to, to)?)
    }

    /// From the first mark to the last, wherever they stand; `None` if there are not two.
    #[must_use]
    pub fn marked(&self) -> Option<Figure> {
        match self.marks.as_slice() {
            [first, .., last] => self.elapsed(first, last),
            _ => None,
        }
    }

    /// From the last mark before the first turn to the first mark after the last turn: the whole solve.
    #[must_use]
    pub fn solve(&self) -> Option<Figure> {
        let (first, last) = self.ends()?;
        self.elapsed(first, last)
    }

    /// Every moment at which two marks or more stand, in order.
    #[must_use]
    pub fn pauses(&self) -> Vec<Pause> {
        self.marks
            .chunk_by(|a, b| a.moment == b.moment)
            .filter(|marks| marks.len() > 1)
            .filter_map(|marks| {
                let length = self.elapsed(&marks[0], &marks[marks.len() - 1])?;
                Some(Pause { moment: marks[0].moment, length })
            })
            .collect()
    }

    /// What the marks say of the step from moment `from` to moment `to`.
    ///
    /// # Panics
    ///
    /// If `from > to` or `to` is past the last move.
    #[must_use]
    pub fn step(&self, from: usize, to: usize) -> StepTime {
        assert!(from <= to && to < self.turns_before.len(), "a step lies within the solve");
        let turns = self.turns_before[to] - self.turns_before[from];
        let start = self.first_at(from, from);
        // Marks among the rotations before the first turn belong to what precedes that turn.
        let still = (from..=to).take_while(|&m| self.turns_before[m] == self.turns_before[from]).last();
        let still = still.unwrap_or(from);
        let turn_begins = if turns > 0 { still } else { from };
        let first_turn = self.last_at(from, turn_begins);
        let end = self.first_at(to, to);

        let after_another = self.turns_before[from] > 0 && turns > 0;
        let earliest = self.first_at(from, turn_begins);
        let pause = match (earliest, first_turn) {
            (Some(first), Some(last)) if after_another && !std::ptr::eq(first, last) => {
                self.elapsed(first, last)
            }
            _ => None,
        };
        let hesitation = if after_another && pause.is_none() {
            start.and_then(|mark| self.hesitation(mark, from, to))
        } else {
            None
        };
        // A step without tokens has one moment, and no time of its own.
        let both = |from_mark: Option<&Mark>| {
            if from == to { None } else { self.elapsed(from_mark?, end?) }
        };
        let total = both(start);
        StepTime {
            start: start.map(|mark| mark.time),
            first_turn: first_turn.map(|mark| mark.time),
            end: end.map(|mark| mark.time),
            total,
            turning: if turns > 0 { both(first_turn) } else { None },
            pause,
            hesitation,
            turns_per_second: total
                .filter(|total| turns > 0 && total.seconds > 0.0)
                .map(|total| turns as f64 / total.seconds),
        }
    }

    /// The timer's result held against the marks; `None` if they agree or the marks do not span the solve.
    ///
    /// A result under ten minutes is truncated to hundredths (WCA Regulation 9f1), a longer one to seconds
    /// (9f2, in force from 2026), so the marks agree if, so truncated, they can be the result within their
    /// uncertainty. A result written more exactly is truncated first.
    #[must_use]
    pub fn disagreement(&self, timer: Time) -> Option<Disagreement> {
        let (first, last) = self.ends()?;
        let marked = self.elapsed(first, last)?;
        let within = (marked.within * 1e6).round() as u64;
        let micros = last.time.0 - first.time.0;
        let least = result(Time(micros.saturating_sub(within)), timer);
        let most = result(Time(micros + within), timer);
        let agrees = (least..=most).contains(&result(timer, timer));
        (!agrees).then_some(Disagreement { marked, timer: timer.seconds(), last_mark: last.span })
    }

    /// The note that says so: `timer` is the result and where it was written.
    #[must_use]
    pub fn timer_note(&self, timer: (Time, Span)) -> Option<Diagnostic> {
        let found = self.disagreement(timer.0)?;
        let note = findings::time_differs(found.timer, found.marked.seconds);
        Some(note.at_both(timer.1, found.last_mark))
    }

    /// Time lost from a step's first moment to the next mark in it, beyond its turns at the solve's pace.
    fn hesitation(&self, start: &Mark, from: usize, to: usize) -> Option<Figure> {
        let pace = self.pace.filter(|_| self.spans > 1)?;
        let next = self
            .marks
            .iter()
            .find(|mark| mark.moment <= to && self.turns_before[mark.moment] > self.turns_before[from])?;
        let turns = (self.turns_before[next.moment] - self.turns_before[from]) as f64;
        let taken = self.elapsed(start, next)?;
        Some(Figure {
            seconds: (taken.seconds - turns * pace.seconds).max(0.0),
            within: taken.within + turns * pace.within,
        })
    }

    /// The marks before the first turn and after the last.
    fn ends(&self) -> Option<(&Mark, &Mark)> {
        let turns = *self.turns_before.last()?;
        if turns == 0 {
            return None;
        }
        let first = self.marks.iter().rfind(|mark| self.turns_before[mark.moment] == 0)?;
        let last = self.marks.iter().find(|mark| self.turns_before[mark.moment] == turns)?;
        Some((first, last))
    }

    fn first_at(&self, from: usize, to: usize) -> Option<&Mark> {
        self.marks.iter().find(|mark| (from..=to).contains(&mark.moment))
    }

    fn last_at(&self, from: usize, to: usize) -> Option<&Mark> {
        self.marks.iter().rfind(|mark| (from..=to).contains(&mark.moment))
    }

    fn elapsed(&self, from: &Mark, to: &Mark) -> Option<Figure> {
        let micros = to.time.0.checked_sub(from.time.0)?;
        let frames = usize::from(from.frame.is_some()) + usize::from(to.frame.is_some());
        Some(Figure { seconds: Time(micros).seconds(), within: frames as f64 * self.frame })
    }

    fn stretches(&self) -> Vec<Stretch> {
        self.marks
            .windows(2)
            .filter_map(|pair| {
                let turns =
                    self.turns_before[pair[1].moment].checked_sub(self.turns_before[pair[0].moment])?;
                let micros = pair[1].time.0.checked_sub(pair[0].time.0)?;
                let within = self.elapsed(&pair[0], &pair[1])?.within;
                (turns > 0).then_some(Stretch { micros, turns, within })
            })
            .collect()
    }
}

/// What a timer shows of a time in the unit in which `like` was recorded: WCA Regulation 9f1, hundredths of a
/// second, truncated; from ten minutes on whole seconds (9f2).
fn result(time: Time, like: Time) -> u64 {
    if like.0 < 600_000_000 { hundredths(time) } else { time.0 / 1_000_000 }
}

/// A time truncated to hundredths of a second, as WCA Regulation 9f1 has results under ten minutes.
#[must_use]
pub const fn hundredths(time: Time) -> u64 {
    time.0 / 10_000
}

/// The median over turns of seconds per turn; if their number is even, the mean of the two in the middle.
///
/// The median does not fall when a value rises, so the medians of all lower and of all upper bounds bound it.
fn median(stretches: &[Stretch]) -> Option<Figure> {
    let turns: usize = stretches.iter().map(|stretch| stretch.turns).sum();
    if turns == 0 {
        return None;
    }
    let by = |off: f64| {
        let mut rates: Vec<(f64, usize)> = stretches
            .iter()
            .map(|stretch| {
                let seconds = (Time(stretch.micros).seconds() + off * stretch.within).max(0.0);
                (seconds / stretch.turns as f64, stretch.turns)
            })
            .collect();
        rates.sort_by(|a, b| a.0.total_cmp(&b.0));
        let nth = |n: usize| {
            let mut before = 0;
            let found = rates.iter().find(|(_, turns)| {
                before += turns;
                before > n
            });
            found.map_or(0.0, |(rate, _)| *rate)
        };
        let (low, high) = (nth((turns - 1) / 2), nth(turns / 2));
        if low == high { low } else { (low + high) / 2.0 }
    };
    let seconds = by(0.0);
    Some(Figure { seconds, within: (by(1.0) - seconds).max(seconds - by(-1.0)) })
}

#[cfg(test)]
mod tests;

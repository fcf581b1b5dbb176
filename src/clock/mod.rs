//! Time: where it went in a solve, as far as its marks say, and nothing that they do not.
//!
//! A [`Mark`] is what the clock said at a moment: when the token before it had ended and the next might begin. Two marks
//! with no turn between them are a **gap**: the hands did not turn. A gap lies wherever its marks lie: before a step, inside
//! one, between the rotations there, before the first turn and after the last.
//!
//! * **Where a gap lies.** Between two turns stand the moments at which nothing is turned (one, or several with rotations
//!   between them): from the first mark there to the last is one gap. If a step begins at one of these moments the gap lies
//!   before it, else inside. What lies before the first turn and after the last is a gap as well, but stops nobody.
//! * **Certain.** A rotation that does not lie between the marks of a gap was made before or after it, in time that counts
//!   as turning though nothing is turned. The gap is then at least so long, and that is all that is known of it.
//! * **The solve** runs from 0 on the clock to the timer's result, or to the last mark. The sum of all gaps is *stopped*,
//!   the rest *turning*, in whole microseconds, so that they add up. There is no such sum unless every step's first and
//!   last turn are marked; a last adjustment written behind the permutation without a mark counts as one with it.
//! * **A clock that had been running**, such as a camera's, does not begin with the solve. So it is where marks are frames,
//!   where one stands later than the timer's result, and where two different ones above 0 stand before the first turn. The
//!   solve then takes what its turns take from the first to the last, or the timer's result if that is longer; what lies
//!   before the first and after the last turn is known as one sum only and is told as what lies before the first.
//! * **Pace** is the median over turns of seconds a turn, where each turn of a span between two neighbouring marks counts
//!   with the span's mean. Gaps have no turns and do not count, nor does a span that holds the recognition before the
//!   last layer's steps. Turns are OBTM (WCA Regulation 12a5); a slice is two.
//! * **Hesitation** is derived, where a pair step has one mark at its beginning, which shows no gap: its seconds less its
//!   turns at the solve's pace. A fast step has a negative one. It is absent where the step holds a rotation or a marked
//!   gap, and where the pace comes from this step alone.
//! * A **stop** is a gap long enough to matter ([`StopFrom`]).
//!
//! Times are whole microseconds; a mark given as a video frame is good to one frame either way, and every figure carries
//! what that comes to.
//!
//! ```
//! use cornerwise::clock::{Clock, Where};
//! use cornerwise::cube::{Amount, Face, Move};
//! use cornerwise::notation::{Options, Time, parse_all};
//! use cornerwise::steps::{Kind, Step};
//!
//! let (turns, _) = parse_all("<0.00> R U <0.40> <0.95> R U <1.35>", &Options::default());
//! let moves = [Face::R, Face::U, Face::R, Face::U].map(|face| Move::Turn(face, Amount::Quarter));
//! let step = |kind, from, to| Step { kind, from, to, pairs: vec![], skips: vec![] };
//! let steps = [step(Kind::Cross, 0, 2), step(Kind::Pair, 2, 4)];
//! let clock = Clock::new(&turns.marks, &moves, None, &steps, Some(Time(1_350_000)));
//! assert_eq!(clock.gaps()[0].place, Where::Before(1));
//! let solve = clock.solve();
//! assert_eq!(solve.stopped.map(|lapse| lapse.micros), Some(550_000));
//! assert_eq!(solve.turning.map(|lapse| lapse.micros), Some(800_000));
//! ```

mod account;
mod pace;
mod rests;
mod stop;
mod timer;

#[cfg(test)]
mod laws;
#[cfg(test)]
mod tests;

use std::ops::Range;

use crate::cube::Move;
use crate::notation::{Mark, Time};
use crate::steps::Step;

pub use stop::{Judged, StopFrom};
pub use timer::{Disagreement, hundredths, timer_note};

use rests::Rests;

/// A figure to a millionth, as marks are counted: what lies below comes of the order of sums.
#[must_use]
pub fn micro(figure: f64) -> f64 {
    (figure * 1e6).round() / 1e6
}

/// What passed between two marks, or a sum of such.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Lapse {
    /// Microseconds.
    pub micros: u64,
    /// How far off that may be, in seconds either way; 0 where no mark was given as a frame.
    pub within: f64,
}

impl Lapse {
    /// In seconds.
    #[must_use]
    pub fn seconds(self) -> f64 {
        Time(self.micros).seconds()
    }

    /// The sum of this and another.
    #[must_use]
    pub fn and(self, other: Lapse) -> Lapse {
        Lapse { micros: self.micros + other.micros, within: self.within + other.within }
    }

    /// What is left of this without a part of it; `None` if that is longer.
    #[must_use]
    pub fn without(self, part: Lapse) -> Option<Lapse> {
        let micros = self.micros.checked_sub(part.micros)?;
        Some(Lapse { micros, within: self.within + part.within })
    }
}

/// A number of seconds that was worked out, such as a pace, and how far off it may be.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Figure {
    /// Seconds; for a pace, seconds a turn. May be below 0 where it is what was left over.
    pub seconds: f64,
    /// Seconds either way; 0 where no mark was given as a frame.
    pub within: f64,
}

impl From<Lapse> for Figure {
    fn from(lapse: Lapse) -> Figure {
        Figure { seconds: lapse.seconds(), within: lapse.within }
    }
}

/// Where a gap lies. Steps are counted from 0.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Where {
    /// Before the first turn of the solve.
    Start,
    /// Before the first turn of this step, after one of the step before.
    Before(usize),
    /// Between two turns of this step.
    Inside(usize),
    /// After the last turn of the solve.
    End,
}

/// A span without turns.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Gap {
    /// The moment at which the turn before it had ended (0, before the first).
    pub moment: usize,
    /// Where it lies.
    pub place: Where,
    /// How long it was.
    pub lapse: Lapse,
    /// Whether it was that long; else at least that long, because a rotation beside it is not marked off, or, of a gap
    /// at the start, because some of it may lie at the end.
    pub certain: bool,
}

/// What the marks say of one step, or of several that no mark parts.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct StepTime {
    /// The clock when the last turn before it had ended; for the first step, when the solve began.
    pub start: Option<Time>,
    /// The clock when its first turn began.
    pub first_turn: Option<Time>,
    /// The clock when its last turn had ended.
    pub end: Option<Time>,
    /// From `start` to `end`.
    pub total: Option<Lapse>,
    /// From `first_turn` to `end`, gaps left out.
    pub turning: Option<Lapse>,
    /// The gap before its first turn.
    pub stopped_before: Option<Lapse>,
    /// The sum of the gaps between its turns.
    pub stopped_inside: Option<Lapse>,
    /// Derived from the pace where no gap can be seen: how much longer it took than its turns do.
    pub hesitation: Option<Figure>,
    /// Whether all its rotations lie in gaps, so that `turning` is nothing but turns.
    pub certain: bool,
    /// Its turns (OBTM).
    pub turns: usize,
}

impl StepTime {
    /// Turns (OBTM) a second while it turned; where that is not known, over its total.
    #[must_use]
    pub fn turns_per_second(&self) -> Option<f64> {
        let seconds = self.turning.or(self.total)?.seconds();
        (self.turns > 0 && seconds > 0.0).then(|| self.turns as f64 / seconds)
    }
}

/// Steps that no mark parts: one, mostly.
#[derive(Debug, Clone, PartialEq)]
pub struct Measured {
    /// Their numbers, from 0; steps without turns that lie between are among them.
    pub steps: Range<usize>,
    /// What the marks say of them together.
    pub time: StepTime,
}

/// The time of the whole solve.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct SolveTime {
    /// From beginning to end.
    pub total: Option<Lapse>,
    /// What is left of it without `stopped`.
    pub turning: Option<Lapse>,
    /// The sum of all gaps.
    pub stopped: Option<Lapse>,
    /// Whether all rotations after the first turn lie in gaps.
    pub certain: bool,
}

/// The marks of a solve set against its moves and steps.
#[derive(Debug, Clone)]
pub struct Clock {
    marks: Vec<Mark>,
    /// Seconds.
    frame: f64,
    rests: Rests,
    pace: Option<Figure>,
    gaps: Vec<Gap>,
    measured: Vec<Measured>,
    solve: SolveTime,
    zero: Option<Time>,
}

impl Clock {
    /// Sets marks against moves. `marks` are in order of moment; those past the last move are left out, and a time that
    /// runs backwards gives no figure. `fps` is needed only where marks are frames. `steps` follow one another without
    /// holes. `timer` is the timer's result.
    #[must_use]
    pub fn new(
        marks: &[Mark],
        moves: &[Move],
        fps: Option<f64>,
        steps: &[Step],
        timer: Option<Time>,
    ) -> Clock {
        let marks: Vec<Mark> = marks.iter().copied().filter(|mark| mark.moment <= moves.len()).collect();
        let frame = fps.filter(|fps| fps.is_finite() && *fps > 0.0).map_or(0.0, |fps| 1.0 / fps);
        let rests = Rests::new(&marks, moves, frame);
        let pace = pace::pace(&marks, &rests, steps, frame);
        let account = account::account(&rests, &marks, steps, timer, pace);
        Clock {
            frame,
            pace: pace.map(|pace| pace.figure),
            gaps: account.gaps,
            measured: account.measured,
            solve: account.solve,
            zero: account.zero,
            marks,
            rests,
        }
    }

    /// The solve's pace, in seconds a turn; `None` if no two marks have turns and no recognition between them.
    #[must_use]
    pub const fn pace(&self) -> Option<Figure> {
        self.pace
    }

    /// Every gap that is marked, in order. Inside the solve a gap of no length is one too, if both its marks are there.
    #[must_use]
    pub fn gaps(&self) -> &[Gap] {
        &self.gaps
    }

    /// The time of step `index`. Where no mark parts it from a step beside it, nothing is known of it alone: see
    /// [`measured`](Clock::measured).
    #[must_use]
    pub fn step(&self, index: usize) -> StepTime {
        let alone = self.measured.iter().find(|run| run.steps == (index..index + 1));
        alone.map_or_else(StepTime::default, |run| run.time)
    }

    /// The steps that have turns, in order, those together that no mark parts.
    #[must_use]
    pub fn measured(&self) -> &[Measured] {
        &self.measured
    }

    /// The steps that are measured together with step `index`, if there are others.
    #[must_use]
    pub fn together(&self, index: usize) -> Option<&Measured> {
        self.measured.iter().find(|run| run.steps.len() > 1 && run.steps.contains(&index))
    }

    /// The time of the whole solve.
    #[must_use]
    pub const fn solve(&self) -> SolveTime {
        self.solve
    }

    /// What the clock showed when the solve began: 0, or, of a clock that had been running, the mark before the first
    /// turn.
    #[must_use]
    pub const fn zero(&self) -> Option<Time> {
        self.zero
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
        self.marks.iter().rfind(|mark| mark.moment == moment).map(|mark| mark.time)
    }

    /// From the last mark at moment `from` to the first at moment `to`; `None` if either has no mark.
    #[must_use]
    pub fn between(&self, from: usize, to: usize) -> Option<Lapse> {
        let first = self.marks.iter().rfind(|mark| mark.moment == from)?;
        let last = self.marks.iter().find(|mark| mark.moment == to)?;
        rests::lapse(first, last, self.frame)
    }

    /// From the first mark to the last, wherever they stand; `None` if there are not two.
    #[must_use]
    pub fn marked(&self) -> Option<Lapse> {
        match self.marks.as_slice() {
            [first, .., last] => rests::lapse(first, last, self.frame),
            _ => None,
        }
    }

    /// The timer's result held against the marks; `None` if they agree or the marks do not span the solve.
    #[must_use]
    pub fn disagreement(&self, timer: Time) -> Option<Disagreement> {
        timer::disagreement(&self.rests, timer)
    }
}

//! One record, read, replayed, cut into steps, clocked, and its writer's claims held against it: once.
//!
//! Every verb starts from a [`Study`], so no two of them can say different things of a record. It holds what is
//! *found*; what is to be thought of it (how the next pair was left, what else could have been done) is
//! [`annotate`](mod@crate::annotate)'s, and costs far more.
//!
//! A record is played as far as it can be read. After a token of the scramble that could not be read, or without
//! any scramble, nothing can be told of the solution, and none of it is played.
//!
//! ```
//! use cornerwise::diagnostic::Source;
//! use cornerwise::record;
//! use cornerwise::steps::End;
//! use cornerwise::study::Study;
//!
//! let source = Source::new("mine", "R U F\n\nF' U' R'");
//! let reading = record::read(&source);
//! let study = Study::new(&source, 1, &reading.records[0]);
//! assert!(study.whole());
//! assert_eq!(study.solve.end, End::Solved);
//! assert_eq!(study.obtm(), 3);
//! ```

mod said;

use crate::clock::Clock;
use crate::cube::{FaceTurn, Move, Position};
use crate::diagnostic::Source;
use crate::record::Record;
use crate::replay::Replay;
use crate::steps::cases;
use crate::steps::claims::{self, Checked};
use crate::steps::{self, Case, Kind, Solve, Step};

/// A record and what its replay comes to.
#[derive(Debug, Clone)]
pub struct Study<'a> {
    /// The file the record stands in.
    pub source: &'a Source,
    /// The record's place in the file, from 1.
    pub number: usize,
    /// The record as read.
    pub record: &'a Record,
    /// Every moment, as far as the record can be played.
    pub replay: Replay,
    /// The replay cut into steps; [`Solve::unplayed`] if nothing could be played.
    pub solve: Solve,
    /// The timing marks, set against the moves.
    pub clock: Clock,
    /// What the writer's comments claim, and whether the replay agrees; in the order of the text.
    pub claims: Vec<Checked>,
    /// For each comment of the solution, how many tokens there are up to those that it goes with.
    pub comment_moments: Vec<usize>,
    scramble_whole: bool,
}

impl<'a> Study<'a> {
    /// Studies one record; `number` is its place in the file, from 1.
    #[must_use]
    pub fn new(source: &'a Source, number: usize, record: &'a Record) -> Study<'a> {
        let scramble: Vec<Move> = record.scramble.playable().collect();
        let scramble_whole = !scramble.is_empty() && scramble.len() == record.scramble.tokens.len();
        let solution: Vec<Move> =
            if scramble_whole { record.solution.playable().collect() } else { Vec::new() };
        let replay = Replay::new(scramble, solution);
        let solve = if replay.moves.is_empty() { Solve::unplayed() } else { steps::split(&replay) };
        let clock = |moves: &[Move], steps: &[Step], timer| {
            Clock::new(&record.solution.marks, moves, record.fps, steps, timer)
        };
        let timer = record.time.map(|(time, _)| time);
        let claims = claims::check(&record.solution, &solve, &replay);
        let comment_moments = claims::moments(&record.solution);
        let clock_of_all = clock(&replay.moves, &solve.steps, timer);
        let mut study = Study {
            source,
            number,
            record,
            replay,
            solve,
            clock: clock_of_all,
            claims,
            comment_moments,
            scramble_whole,
        };
        // The result of a whole solve says nothing of the part that is written.
        if study.breaks_off_untold() {
            study.clock = clock(&study.replay.moves, &study.solve.steps, None);
        }
        study
    }

    /// Whether the record ends before the solve does, and does not say that it was meant to.
    fn breaks_off_untold(&self) -> bool {
        self.record.until.is_none() && self.unfinished()
    }

    /// Whether there is a scramble and it can be read to its end.
    #[must_use]
    pub const fn scramble_whole(&self) -> bool {
        self.scramble_whole
    }

    /// Whether there is a solution and it was played to its end.
    #[must_use]
    pub fn whole(&self) -> bool {
        !self.replay.moves.is_empty() && self.replay.moves.len() == self.record.solution.tokens.len()
    }

    /// Whether the record was played to its end and the cube is solved there.
    #[must_use]
    pub fn solved(&self) -> bool {
        self.whole() && self.solve.end == steps::End::Solved
    }

    /// Turns played, in OBTM.
    #[must_use]
    pub fn obtm(&self) -> usize {
        self.replay.moves.iter().map(|mv| mv.obtm()).sum()
    }

    /// Turns and rotations played, in ETM.
    #[must_use]
    pub fn etm(&self) -> usize {
        self.replay.moves.iter().map(|mv| mv.etm()).sum()
    }

    /// The timer's result, unless the record breaks off before the solve does; else the time between the marks before the
    /// first turn and after the last; seconds.
    #[must_use]
    pub fn seconds(&self) -> Option<f64> {
        let marked = || self.clock.solve().total.map(|lapse| lapse.seconds());
        let timer = self.record.time.filter(|_| !self.breaks_off_untold());
        timer.map(|(time, _)| time.seconds()).or_else(marked)
    }

    /// The moves of a step.
    #[must_use]
    pub fn moves(&self, step: &Step) -> &[Move] {
        &self.replay.moves[step.from..step.to]
    }

    /// The positions of a step, from its first moment to its last.
    #[must_use]
    pub fn positions(&self, step: &Step) -> &[Position] {
        self.replay.between(step.from, step.to)
    }

    /// The last-layer case that step `index` solves, if it solves one that has a name.
    #[must_use]
    pub fn case(&self, index: usize) -> Option<Case> {
        let cross = self.solve.cross?;
        let step = &self.solve.steps[index];
        let state = &self.replay.moments[step.from].state;
        match step.kind {
            Kind::Orient | Kind::LastLayer => {
                let case = cases::orientation_case(state, cross)?;
                case.number().map(|_| Case::Oll(case))
            }
            Kind::Permute => {
                let case = cases::permutation_case(state, cross)?;
                case.letter().map(|_| Case::Pll(case))
            }
            _ => None,
        }
    }

    /// The token that would make this turn at the end, as the cube is held there.
    #[must_use]
    pub fn written_at_end(&self, turn: FaceTurn) -> Move {
        Move::Turn(self.replay.end().hold.face(turn.centre), turn.amount)
    }
}

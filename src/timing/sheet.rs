//! Which moments of a solve are asked for, step by step.

use crate::notation::Time;
use crate::study::Study;

/// Whether a step's first turn is asked for as well as its end.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Taps {
    /// Ends only (and the first turn of the solve). Gaps between steps cannot be seen then.
    Ends,
    /// The first turn of each step, and its end.
    #[default]
    Both,
}

/// Whether the turns within a step are asked for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Each {
    /// No.
    #[default]
    Step,
    /// The end of every turn.
    Turn,
}

/// Which moments are asked for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Way {
    /// First turns of steps.
    pub taps: Taps,
    /// Turns within steps.
    pub each: Each,
}

/// What happens at a moment that is asked for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Event {
    /// The step's first turn begins. A rotation before it lies before this moment.
    Start,
    /// One of its turns ends, but not the last.
    Turn {
        /// Which, from 1.
        n: usize,
        /// How many the step has; a token that turns counts once.
        of: usize,
    },
    /// Its last turn ends.
    End,
}

/// A moment that is asked for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Cue {
    /// Between the tokens before and from this number on.
    pub moment: usize,
    /// Which row, from 0.
    pub row: usize,
    /// What happens there.
    pub event: Event,
}

/// A step with turns.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Row {
    /// What a person calls it; a last-layer step by its case.
    pub name: String,
    /// Whether it solves pairs, which are said to be in; of another step it is said that it is done.
    pub is_pair: bool,
    /// Its tokens, as written.
    pub tokens: String,
    /// The cue of its first turn, if that is asked for.
    pub start: Option<usize>,
    /// The cue of its end.
    pub end: usize,
}

/// To which token a mark belongs, where rotations or a line's end lie between two.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Side {
    /// The token before has ended: the mark stands right behind it.
    Behind,
    /// The next token begins: the mark stands right before it.
    Before,
}

/// A mark to be written.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Marked {
    /// Between the tokens before and from this number on.
    pub moment: usize,
    /// To which of them it belongs.
    pub side: Side,
    /// The clock.
    pub time: Time,
}

/// What is asked for.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Sheet {
    /// The steps that have turns, in order.
    pub rows: Vec<Row>,
    /// The moments, in order; each row has at least its end.
    pub cues: Vec<Cue>,
}

impl Sheet {
    /// What is asked for of a solve, as far as it was played; nothing of one without turns.
    #[must_use]
    pub fn new(study: &Study<'_>, way: Way) -> Sheet {
        let mut sheet = Sheet { rows: Vec::new(), cues: Vec::new() };
        for (index, step) in study.solve.steps.iter().enumerate() {
            let turns: Vec<usize> =
                (step.from..step.to).filter(|&token| study.replay.moves[token].obtm() > 0).collect();
            let (Some(&first), of) = (turns.first(), turns.len()) else { continue };
            let row = sheet.rows.len();
            let mut ask = |moment, event| {
                sheet.cues.push(Cue { moment, row, event });
                sheet.cues.len() - 1
            };
            let starts = row == 0 || way.taps == Taps::Both;
            let start = starts.then(|| ask(first, Event::Start));
            if way.each == Each::Turn {
                for (n, &token) in (1..of).zip(&turns) {
                    ask(token + 1, Event::Turn { n, of });
                }
            }
            let end = ask(turns[of - 1] + 1, Event::End);
            let name = study.case(index).map(|case| case.to_string());
            sheet.rows.push(Row {
                name: name.unwrap_or_else(|| study.solve.name(index).to_string()),
                is_pair: !step.pairs.is_empty(),
                tokens: study.record.solution.spelled(step.from..step.to),
                start,
                end,
            });
        }
        sheet
    }

    /// The marks that these times come to, the first time at the first cue; there may be fewer times than cues.
    #[must_use]
    pub fn marks(&self, times: &[Time]) -> Vec<Marked> {
        let mark = |(cue, &time): (&Cue, &Time)| Marked {
            moment: cue.moment,
            side: if cue.event == Event::Start { Side::Before } else { Side::Behind },
            time,
        };
        self.cues.iter().zip(times).map(mark).collect()
    }
}

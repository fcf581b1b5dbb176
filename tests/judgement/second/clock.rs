//! Where the time went (docs/method.md, Time), worked out mark by mark.

use cornerwise::cube::Move;

use super::stickers::turns;

/// What a clock showed, in microseconds, when so many tokens had been played.
pub type Mark = (usize, u64);

/// Where a gap lies; steps are counted from 0.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Lies {
    /// Before the first turn of the solve.
    Start,
    Before(usize),
    Inside(usize),
    /// After the last turn of the solve.
    End,
}

/// A span in which the hands do not turn.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Gap {
    pub lies: Lies,
    pub micros: u64,
}

/// A solve whose every step is marked where its turns begin and where they end.
pub struct Timed<'a> {
    pub moves: &'a [Move],
    /// Where each step begins.
    pub begins: &'a [usize],
    /// Which steps begin with a look at the last layer: OLL, PLL, AUF.
    pub recognised: &'a [bool],
    pub marks: &'a [Mark],
    pub timer: u64,
}

impl Timed<'_> {
    fn between(&self, from: usize, to: usize) -> usize {
        self.moves[from..to].iter().map(|&mv| turns(mv)).sum()
    }

    /// All gaps, in order: between two marks without a turn between them; neighbours are one.
    pub fn gaps(&self) -> Vec<Gap> {
        let mut gaps: Vec<(usize, usize, u64)> = Vec::new();
        let mut before: Mark = (0, 0);
        for &mark in self.marks {
            if self.between(before.0, mark.0) == 0 {
                match gaps.last_mut() {
                    Some(last) if self.between(last.1, before.0) == 0 => {
                        last.1 = mark.0;
                        last.2 += mark.1 - before.1;
                    }
                    _ => gaps.push((before.0, mark.0, mark.1 - before.1)),
                }
            }
            before = mark;
        }
        if self.timer > before.1 {
            gaps.push((before.0, self.moves.len(), self.timer - before.1));
        }
        gaps.into_iter().map(|(from, to, micros)| Gap { lies: self.lies(from, to), micros }).collect()
    }

    fn lies(&self, mut from: usize, mut to: usize) -> Lies {
        if self.between(0, to) == 0 {
            return Lies::Start;
        }
        if self.between(from, self.moves.len()) == 0 {
            return Lies::End;
        }
        // To all the rotations on either side.
        while from > 0 && turns(self.moves[from - 1]) == 0 {
            from -= 1;
        }
        while to < self.moves.len() && turns(self.moves[to]) == 0 {
            to += 1;
        }
        match self.begins.iter().rposition(|begin| (from..=to).contains(begin)) {
            Some(step) => Lies::Before(step),
            None => Lies::Inside(self.begins.iter().rposition(|&begin| begin < from).expect("a step before")),
        }
    }

    /// The sum of the spans that have turns.
    pub fn turning(&self) -> u64 {
        let marks = std::iter::once(&(0, 0)).chain(self.marks);
        let spans = marks.zip(self.marks);
        spans.filter(|(a, b)| self.between(a.0, b.0) > 0).map(|(a, b)| b.1 - a.1).sum()
    }

    /// Seconds a turn: the middle one of all turns, each with the mean of the span it is in.
    pub fn pace(&self) -> Option<f64> {
        let mut all: Vec<f64> = Vec::new();
        for (a, b) in self.marks.iter().zip(&self.marks[1..]) {
            let turned = self.between(a.0, b.0);
            let recognised = self.begins.iter().zip(self.recognised).any(|(&begin, &is_one)| {
                is_one && self.between(a.0, begin.max(a.0)) > 0 && self.between(begin.min(b.0), b.0) > 0
            });
            if turned > 0 && !recognised {
                all.extend(std::iter::repeat_n((b.1 - a.1) as f64 / 1e6 / turned as f64, turned));
            }
        }
        all.sort_by(f64::total_cmp);
        let n = all.len();
        (n > 0).then(|| (all[(n - 1) / 2] + all[n / 2]) / 2.0)
    }

    /// Whether a gap is a stop: long enough to matter.
    pub fn is_stop(&self, gap: Gap) -> bool {
        let inside = !matches!(gap.lies, Lies::Start | Lies::End);
        inside && self.pace().is_some_and(|pace| gap.micros as f64 / 1e6 >= (2.0 * pace).max(0.3))
    }
}

//! The pace: the median over turns of seconds a turn.

use super::Figure;
use super::rests::{self, Rests};
use crate::notation::{Mark, Time};
use crate::steps::{Kind, Step};

/// The pace, and from how many spans it was taken.
#[derive(Debug, Clone, Copy)]
pub(super) struct Pace {
    pub figure: Figure,
    pub spans: usize,
}

/// A run of turns between two marks.
struct Stretch {
    micros: u64,
    turns: usize,
    within: f64,
}

/// Whether a step of this kind begins with a look at the last layer.
pub(super) const fn recognised(kind: Kind) -> bool {
    matches!(kind, Kind::Orient | Kind::Permute | Kind::LastLayer | Kind::Adjust)
}

pub(super) fn pace(marks: &[Mark], rests: &Rests, steps: &[Step], frame: f64) -> Option<Pace> {
    let looks = looks(rests, steps);
    let stretches: Vec<Stretch> = marks
        .windows(2)
        .filter(|pair| !looks.iter().any(|&turn| (pair[0].moment..pair[1].moment).contains(&turn)))
        .filter_map(|pair| {
            let before = |mark: &Mark| rests.turns_before[mark.moment];
            let turns = before(&pair[1]).checked_sub(before(&pair[0])).filter(|&turns| turns > 0)?;
            let lapse = rests::lapse(&pair[0], &pair[1], frame)?;
            Some(Stretch { micros: lapse.micros, turns, within: lapse.within })
        })
        .collect();
    Some(Pace { figure: median(&stretches)?, spans: stretches.len() })
}

/// The first turns of the last layer's steps before which the recognition is not marked off: a span that holds one of
/// them holds the recognition too. An adjustment right behind the permutation is turned in one go with it.
fn looks(rests: &Rests, steps: &[Step]) -> Vec<usize> {
    steps
        .iter()
        .filter(|step| recognised(step.kind))
        .filter_map(|step| {
            let (opening, _) = rests.around(step.from, step.to)?;
            let rest = &rests.all[opening];
            let marked_off = rest.gap.is_some() || (step.kind == Kind::Adjust && rest.marks == 0);
            (!marked_off).then_some(rest.to)
        })
        .collect()
}

/// The median over turns of seconds a turn; if their number is even, the mean of the two in the middle.
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

//! Where moments lie along a solve: on the clock where the record's marks carry it, by turn count where not.

use crate::annotation::{Annotation, Stop};

/// The moments of a solve along a line on which the first turn begins at 0; rotations before it lie left of that.
#[derive(Debug, Clone, PartialEq)]
pub struct Axis {
    /// Whether the unit is the second; else it is the token.
    pub timed: bool,
    /// When each moment is reached; never runs backwards.
    pub reached: Vec<f64>,
    /// When the token after each moment begins: later than `reached` where the hands stood.
    pub left: Vec<f64>,
    /// Whether the pause at a moment is a hesitation derived from the pace rather than marked.
    pub derived: Vec<bool>,
    /// Whether no mark says when the token after each moment was made: its place is its share of the turns between the
    /// nearest marks, and those lie in other steps, or there is none.
    pub by_turns: Vec<bool>,
}

/// How wide a rotation before the first turn is drawn, as a part of the solve.
const LEAD_IN: f64 = 0.02;

/// Where not even a pace is known, a turn takes as many seconds.
const ANY_PACE: f64 = 0.25;

impl Axis {
    /// The axis of a solve: the clock's, if two moments of it at least are on it. Between two figures of the clock turns
    /// are spread evenly; where there is none before or after, they lie at the solve's own pace.
    #[must_use]
    pub fn of(annotation: &Annotation) -> Axis {
        Axis::on_the_clock(annotation).unwrap_or_else(|| Axis::by_count(annotation))
    }

    /// The axis on which tokens count.
    #[must_use]
    pub fn by_count(annotation: &Annotation) -> Axis {
        let n = annotation.moments.len();
        let reached: Vec<f64> = (0..n).map(|m| m as f64).collect();
        Axis {
            timed: false,
            left: reached.clone(),
            derived: vec![false; n],
            by_turns: vec![false; n],
            reached,
        }
    }

    fn on_the_clock(annotation: &Annotation) -> Option<Axis> {
        let n = annotation.moments.len();
        let mut known: Vec<Known> =
            annotation.moments.iter().map(|moment| Known::mark(moment.seconds)).collect();
        let mut derived = vec![false; n];
        let turned = || annotation.steps.iter().filter(|step| step.obtm > 0);
        for step in turned() {
            if let Some(start) = step.seconds.start {
                let first = &mut known[step.from];
                first.reached = Some(start);
                first.left = first.left.or(Some(start));
                if let Some(more) = step.seconds.hesitation.filter(|&more| more > 0.0) {
                    first.left = Some(start + more);
                    derived[step.from] = true;
                }
            }
            if let Some(end) = step.seconds.end {
                let last = &mut known[step.to];
                last.reached = Some(end);
                last.left = last.left.or(Some(end));
            }
            for stop in step.stops.iter().filter(|stop| !stop.derived) {
                // Rotations may stand between the two marks of a gap; where they do not, both stand at its moment.
                let still = &mut known[stop.moment];
                still.reached = still.reached.or(still.left);
                if stop.inside && two_marks(annotation, stop) {
                    still.reached = still.left.map(|left| left - stop.seconds);
                }
            }
        }
        let first_turn = turned().next()?.from;
        let first = known.iter().position(|known| known.reached.is_some())?;
        let last = known.iter().rposition(|known| known.reached.is_some())?;
        let zero = known[first].left?;
        // The clock begins with the first turn, whatever was marked before it.
        let zero = if first <= first_turn { known[first_turn].reached.unwrap_or(zero) } else { zero };
        let end = known[last].left? - zero;
        if end <= 0.0 || last <= first_turn {
            return None;
        }
        let tokens = |from: usize, to: usize| {
            let turns = annotation.moments[from + 1..=to].iter().filter_map(|moment| moment.token);
            turns.filter(|token| !token.is_rotation()).count()
        };
        let pace = annotation.timing.pace.unwrap_or_else(|| match tokens(first.min(last), last) {
            0 => ANY_PACE,
            turns => end / turns as f64,
        });
        let (mut reached, mut left, mut by_turns) = (vec![0.0; n], vec![0.0; n], vec![false; n]);
        let mut before: Option<usize> = None;
        for m in 0..n {
            let (Some(at), Some(until)) = (known[m].reached, known[m].left) else { continue };
            let floor = before.map_or(f64::NEG_INFINITY, |before| left[before]);
            reached[m] = (at - zero).max(floor);
            left[m] = (until - zero).max(reached[m]);
            if let Some(from) = before {
                let crosses = turned().any(|step| from < step.from && step.from < m);
                by_turns[from..m].fill(crosses);
                for k in from + 1..m {
                    let part = (k - from) as f64 / (m - from) as f64;
                    reached[k] = left[from] + (reached[m] - left[from]) * part;
                    left[k] = reached[k];
                }
            }
            before = Some(m);
        }
        for m in last + 1..n {
            reached[m] = left[last] + pace * tokens(last, m) as f64;
            left[m] = reached[m];
            by_turns[m - 1] = true;
        }
        // What lies before the first figure of the clock, back from it.
        if first > first_turn {
            for m in first_turn..first {
                reached[m] = reached[first] - pace * tokens(m, first) as f64;
                left[m] = reached[m];
                by_turns[m] = true;
            }
            let shift = reached[first_turn];
            for at in reached.iter_mut().chain(&mut left).skip(first_turn) {
                *at -= shift;
            }
        }
        let whole = left[n - 1];
        for m in 0..first_turn {
            reached[m] = -whole * LEAD_IN * (first_turn - m) as f64;
            left[m] = reached[m];
            by_turns[m] = false;
        }
        Some(Axis { timed: true, reached, left, derived, by_turns })
    }

    /// The near end: 0, or before it where rotations lie before the first turn.
    #[must_use]
    pub fn start(&self) -> f64 {
        self.reached.first().copied().unwrap_or(0.0).min(0.0)
    }

    /// The far end.
    #[must_use]
    pub fn end(&self) -> f64 {
        self.left.last().copied().unwrap_or(0.0)
    }

    /// A handy distance between ticks for at most `most` of them up to `end`, in the axis's unit.
    #[must_use]
    pub fn tick(&self, end: f64, most: usize) -> f64 {
        let handy = if self.timed {
            [0.5, 1.0, 2.0, 5.0, 10.0, 20.0, 60.0]
        } else {
            [5.0, 10.0, 20.0, 50.0, 100.0, 500.0, 1000.0]
        };
        let fits = |tick: &f64| end / tick <= most as f64;
        handy.into_iter().find(fits).unwrap_or_else(|| (end / most as f64).max(1.0).ceil())
    }
}

/// What the clock says of a moment.
#[derive(Debug, Clone, Copy)]
struct Known {
    /// When it was reached.
    reached: Option<f64>,
    /// When the next token began.
    left: Option<f64>,
}

impl Known {
    const fn mark(seconds: Option<f64>) -> Known {
        Known { reached: seconds, left: seconds }
    }
}

/// Whether both marks of a gap inside a step stand at its own moment: the rotations behind it have none.
fn two_marks(annotation: &Annotation, stop: &Stop) -> bool {
    let behind = annotation.moments.iter().skip(stop.moment + 1);
    behind
        .take_while(|moment| moment.token.is_some_and(|token| token.is_rotation()))
        .all(|moment| moment.seconds.is_none())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::report::sample;

    #[test]
    fn a_marked_pause_has_its_width_and_time_never_runs_backwards() {
        let annotation = sample::annotation(true);
        let axis = Axis::of(&annotation);
        assert!(axis.timed);
        for step in annotation.steps.iter().filter(|step| step.obtm > 0) {
            let width = axis.left[step.from] - axis.reached[step.from];
            // Before the cross there is no step to stop after.
            let pause = step.seconds.before.unwrap_or(0.0);
            assert!((width - pause).abs() < 1e-9, "{}: {width}", step.name);
        }
        let all: Vec<f64> = axis.reached.iter().zip(&axis.left).flat_map(|(a, b)| [*a, *b]).collect();
        assert!(all.is_sorted(), "{all:?}");
        assert!((axis.end() - annotation.seconds.expect("timed")).abs() < 1e-9);
    }

    #[test]
    fn without_marks_tokens_count() {
        let annotation = sample::annotation(false);
        let axis = Axis::of(&annotation);
        assert!(!axis.timed);
        assert_eq!(axis.end(), annotation.tokens as f64);
    }

    #[test]
    fn one_step_without_its_time_leaves_the_others_on_the_clock() {
        let whole = Axis::of(&sample::annotation(true));
        let mut annotation = sample::annotation(true);
        let (from, to) = (annotation.steps[3].from, annotation.steps[3].to);
        annotation.steps[3].seconds = crate::annotation::Seconds::default();
        annotation.steps[2].seconds.end = None;
        annotation.steps[4].seconds.start = None;
        annotation.steps[4].seconds.before = None;
        annotation.moments[from].seconds = None;
        annotation.moments[to].seconds = None;
        let axis = Axis::of(&annotation);
        assert!(axis.timed);
        assert_eq!(axis.reached[..annotation.steps[2].from], whole.reached[..annotation.steps[2].from]);
        assert_eq!(axis.reached[annotation.steps[4].to..], whole.reached[annotation.steps[4].to..]);
        assert!(axis.by_turns[from..to].iter().all(|&by_turns| by_turns));
        assert!(!axis.by_turns[..annotation.steps[2].from].contains(&true));
        assert!(!axis.by_turns[annotation.steps[5].from..].contains(&true));
    }

    #[test]
    fn what_no_mark_follows_lies_at_the_pace_of_the_rest() {
        let mut annotation = sample::annotation(true);
        let last = annotation.steps.len() - 1;
        annotation.steps[last].seconds = crate::annotation::Seconds::default();
        annotation.steps[last].stops.clear();
        let (from, to) = (annotation.steps[last].from, annotation.steps[last].to);
        for moment in &mut annotation.moments[from + 1..] {
            moment.seconds = None;
        }
        let axis = Axis::of(&annotation);
        let pace = annotation.timing.pace.expect("marked");
        let turns = annotation.steps[last].obtm as f64;
        assert!((axis.reached[to] - axis.left[from] - pace * turns).abs() < 1e-9);
        assert!(axis.by_turns[from]);
    }
}

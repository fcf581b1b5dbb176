//! Where moments lie along a solve: on the clock where the record's marks carry it, by turn count where not.

use crate::annotation::Annotation;

/// The moments of a solve along a line that begins at 0.
#[derive(Debug, Clone, PartialEq)]
pub struct Axis {
    /// Whether the unit is the second; else it is the token.
    pub timed: bool,
    /// When each moment is reached; never runs backwards.
    pub reached: Vec<f64>,
    /// When each moment is left again: later than `reached` where the solver paused.
    pub left: Vec<f64>,
    /// Whether the pause at a moment is a hesitation derived from the pace rather than marked.
    pub derived: Vec<bool>,
}

impl Axis {
    /// The axis of a solve. It is the clock's if every step with turns has a beginning and an end on it; between
    /// two figures of the clock, turns are spread evenly.
    #[must_use]
    pub fn of(annotation: &Annotation) -> Axis {
        Axis::on_the_clock(annotation).unwrap_or_else(|| Axis::by_count(annotation))
    }

    /// The axis on which tokens count.
    #[must_use]
    pub fn by_count(annotation: &Annotation) -> Axis {
        let reached: Vec<f64> = (0..annotation.moments.len()).map(|m| m as f64).collect();
        Axis { timed: false, left: reached.clone(), derived: vec![false; reached.len()], reached }
    }

    fn on_the_clock(annotation: &Annotation) -> Option<Axis> {
        let n = annotation.moments.len();
        let (mut reached, mut left) = (vec![None; n], vec![None; n]);
        let mut derived = vec![false; n];
        for (m, moment) in annotation.moments.iter().enumerate() {
            reached[m] = moment.seconds;
            left[m] = moment.seconds;
        }
        for step in annotation.steps.iter().filter(|step| step.obtm > 0) {
            let (start, end) = (step.seconds.start?, step.seconds.end?);
            reached[step.from] = Some(start);
            if let Some(wait) = step.seconds.before.or(step.seconds.hesitation.filter(|&more| more > 0.0)) {
                left[step.from] = Some(start + wait);
                derived[step.from] = step.seconds.before.is_none();
            } else {
                left[step.from] = left[step.from].or(Some(start));
            }
            reached[step.to] = Some(end);
            left[step.to] = left[step.to].or(Some(end));
        }
        let first = reached.iter().flatten().next().copied()?;
        let (mut on, mut off) = (vec![0.0; n], vec![0.0; n]);
        let mut before: Option<(usize, f64)> = None;
        for m in 0..n {
            let Some(at) = reached[m] else { continue };
            let at = (at - first).max(before.map_or(0.0, |(_, end)| end));
            let until = left[m].map_or(at, |left| (left - first).max(at));
            let (from, end) = before.unwrap_or((m, at));
            for k in from + 1..m {
                let part = (k - from) as f64 / (m - from) as f64;
                (on[k], off[k]) = (end + (at - end) * part, end + (at - end) * part);
            }
            (on[m], off[m]) = (at, until);
            before = Some((m, until));
        }
        let (last, end) = before?;
        on[last + 1..].fill(end);
        off[last + 1..].fill(end);
        (end > 0.0).then_some(Axis { timed: true, reached: on, left: off, derived })
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
            assert!((width - pause).abs() < 1e-9, "{}", step.name);
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
    fn one_step_without_its_time_makes_it_a_count() {
        let mut annotation = sample::annotation(true);
        annotation.steps[3].seconds.end = None;
        assert!(!Axis::of(&annotation).timed);
    }
}

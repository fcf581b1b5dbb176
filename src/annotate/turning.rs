//! This solver's own turning: what a unit of handling cost is in seconds, and what a line would have saved.

/// The turning of a solve's steps.
#[derive(Debug, Clone, Default)]
pub(super) struct Turning {
    /// Of each step, seconds turned, gaps left out, where the marks tell.
    pub(super) seconds: Vec<Option<f64>>,
    /// Seconds a unit: seconds turned in the pair steps for what the turns played there cost.
    pub(super) rate: Option<f64>,
}

impl Turning {
    /// From each step's seconds turned and, for pair steps, what the turns played cost the hands.
    pub(super) fn new(seconds: Vec<Option<f64>>, costs: &[Option<f64>]) -> Turning {
        let known = seconds.iter().zip(costs).filter_map(|(seconds, cost)| Some(((*seconds)?, (*cost)?)));
        let (turned, cost) =
            known.fold((0.0, 0.0), |(turned, all), (seconds, cost)| (turned + seconds, all + cost));
        let rate = (cost > 0.0 && turned > 0.0).then(|| turned / cost);
        Turning { seconds, rate }
    }

    /// About how many seconds a line of this price would have saved at step `index`, which it beats by `saves` units: the
    /// smaller of what the model says and what the clock leaves room for in this step and the next. Never below 0: what
    /// the clock does not show was not lost.
    pub(super) fn saving(&self, index: usize, saves: f64, price: f64) -> Option<f64> {
        let rate = self.rate?;
        let turned = (*self.seconds.get(index)?)? + (*self.seconds.get(index + 1)?)?;
        Some((saves * rate).min(turned - price * rate).max(0.0))
    }

    /// The same for a line of the step's own pair, of which only this step's clock tells.
    pub(super) fn own_saving(&self, index: usize, saves: f64, cost: f64) -> Option<f64> {
        let rate = self.rate?;
        let turned = (*self.seconds.get(index)?)?;
        Some((saves * rate).min(turned - cost * rate).max(0.0))
    }
}

/// To the tenth of a second, as estimates are told.
pub(super) fn tenths(seconds: f64) -> f64 {
    (seconds * 10.0).round() / 10.0
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_smaller_of_model_and_clock_is_told() {
        let turning = Turning::new(vec![Some(1.0), Some(1.2), Some(1.0)], &[None, Some(6.0), Some(5.0)]);
        assert_eq!(turning.rate, Some(0.2));
        // The model says 0.4 s; the clock leaves 2.2 - 9 x 0.2 = 0.4.
        let saved = turning.saving(1, 2.0, 9.0).expect("both steps are marked");
        assert!((saved - 0.4).abs() < 1e-9);
        // The model says 0.6 s, the clock only 1.2 - 5 x 0.2 = 0.2.
        let saved = turning.own_saving(1, 3.0, 5.0).expect("the step is marked");
        assert!((saved - 0.2).abs() < 1e-9);
        assert_eq!(Turning::new(vec![None], &[Some(3.0)]).rate, None);
    }
}

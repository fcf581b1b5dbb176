//! Whether a figure goes up or down from day to day, or only looks so: whole days are shuffled, because solves of one day
//! are alike for reasons of that day.

use rayon::prelude::*;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::random::Random;

/// From how many days on a trend is tested.
pub const LEAST_DAYS: usize = 6;

/// How a figure goes.
#[derive(Debug, Clone, Copy, PartialEq, Deserialize, JsonSchema, Serialize)]
pub struct Slope {
    /// How many days at the beginning are compared with as many at the end: a third of all.
    pub days: usize,
    /// The mean over these first days.
    pub first: f64,
    /// The mean over these last days.
    pub last: f64,
    /// The share of shuffles, this one counted in, in which it goes as far up or down.
    pub p: f64,
}

/// So many shuffles are one share of work.
const SHARE: usize = 125;

/// The trend of figures, each with the number of its day, from 0, in order of date; `None` if there are too few days, or
/// a third of them has no figure.
#[must_use]
pub fn slope(figures: &[(usize, f64)], n_shuffles: usize, seed: u64) -> Option<Slope> {
    let n_days = figures.iter().map(|&(day, _)| day + 1).max()?;
    // Tenths of a millisecond, whole, so that ties are ties.
    let mut days = vec![(0_i64, 0_i64); n_days];
    for &(day, figure) in figures {
        days[day].0 += 1;
        days[day].1 += (figure * 10_000.0).round() as i64;
    }
    days.retain(|day| day.0 > 0);
    if days.len() < LEAST_DAYS {
        return None;
    }
    let (n, sum) = days.iter().fold((0, 0), |(n, sum), day| (n + day.0, sum + day.1));
    // How far each day's sum lies from what its number of figures would have at the mean of all; times n.
    let apart: Vec<i128> = days
        .iter()
        .map(|&(own, figures)| i128::from(n) * i128::from(figures) - i128::from(own) * i128::from(sum))
        .collect();
    let far = |apart: &[i128]| -> i128 {
        apart.iter().zip(0..).map(|(apart, day)| apart * day).sum::<i128>().abs()
    };
    let observed = far(&apart);
    let shares = n_shuffles.div_ceil(SHARE);
    let counted = (0..shares).into_par_iter().map(|share| {
        let mut random = Random::new(seed, share as u64);
        let mut apart = apart.clone();
        let mut count = 0;
        for _ in 0..SHARE.min(n_shuffles - share * SHARE) {
            random.shuffle(&mut apart);
            count += u32::from(far(&apart) >= observed);
        }
        count
    });
    let p = (f64::from(counted.sum::<u32>()) + 1.0) / (n_shuffles as f64 + 1.0);
    let third = days.len() / 3;
    let mean = |days: &[(i64, i64)]| {
        let (n, sum) = days.iter().fold((0, 0), |(n, sum), day| (n + day.0, sum + day.1));
        sum as f64 / 10_000.0 / n.max(1) as f64
    };
    Some(Slope { days: third, first: mean(&days[..third]), last: mean(&days[days.len() - third..]), p })
}

#[cfg(test)]
mod tests {
    use super::*;

    /// All 720 orders of six days, one by one.
    #[test]
    fn the_share_is_that_of_all_orders_of_the_days() {
        let means = [5.0, 4.4, 4.6, 4.1, 4.5, 3.9];
        let figures: Vec<(usize, f64)> =
            means.into_iter().enumerate().flat_map(|(d, x)| [(d, x), (d, x + 0.2)]).collect();
        fn orders(left: Vec<f64>, so_far: Vec<f64>, out: &mut Vec<Vec<f64>>) {
            if left.is_empty() {
                out.push(so_far.clone());
            }
            for n in 0..left.len() {
                let mut rest = left.clone();
                let mut next = so_far.clone();
                next.push(rest.remove(n));
                orders(rest, next, out);
            }
        }
        let mut all = Vec::new();
        orders(means.to_vec(), Vec::new(), &mut all);
        let mean = means.iter().sum::<f64>() / 6.0;
        let far =
            |means: &[f64]| means.iter().zip(0..).map(|(x, d)| (x - mean) * f64::from(d)).sum::<f64>().abs();
        let exact = all.iter().filter(|order| far(order) >= far(&means) - 1e-9).count() as f64 / 720.0;
        let slope = slope(&figures, 20_000, 9).expect("six days");
        assert!(
            (slope.p - exact).abs() < 4.0 * (exact * (1.0 - exact) / 20_000.0).sqrt() + 1e-4,
            "{} {exact}",
            slope.p
        );
        assert_eq!(slope.days, 2);
        assert!((slope.first - 4.8).abs() < 1e-9 && (slope.last - 4.3).abs() < 1e-9, "{slope:?}");
    }

    #[test]
    fn five_days_are_too_few() {
        let figures: Vec<(usize, f64)> = (0..5).map(|day| (day, day as f64)).collect();
        assert_eq!(slope(&figures, 100, 1), None);
    }
}

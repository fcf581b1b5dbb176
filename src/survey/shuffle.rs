//! The test of chance: do steps with a circumstance have more than their share of the stops, compared inside solves?
//!
//! Under chance alone the stops of a solve could as well stand before any of its pair steps. So they are shuffled among
//! the pair steps of the same solve, 2,000 times or as often as asked for, and it is counted how often the sum over the
//! steps with the circumstance comes out as large as it did. Figures are whole numbers (ten-thousandths of a score
//! by 4,096ths), so that ties are ties, and the counts are the same in whatever order they are made.

use rayon::prelude::*;

use super::random::Random;
use super::steps::{Column, Steps};

/// What a test of one column came to; one-sided.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Test {
    /// How many standard deviations of its own shuffles it lies above their mean.
    pub(super) z: f64,
    /// The share of shuffles, this one counted in, that come to as much.
    pub(super) p: f64,
    /// The share of shuffles in which the strongest of all columns comes to as many standard deviations.
    pub(super) p_of_strongest: f64,
}

/// A column's figures are kept to this part of one.
const COLUMN_UNIT: f64 = 4096.0;
/// And scores to this part.
const SCORE_UNIT: f64 = 10_000.0;
/// So many shuffles are one share of work, with a generator of their own.
const SHARE: usize = 125;

/// All orders of up to four things: of n things the first n! rows, first n places.
const ORDERS: [[u8; 4]; 24] = orders();

const fn orders() -> [[u8; 4]; 24] {
    let mut all = [[0, 1, 2, 3]; 24];
    let mut n = 0;
    while n < 24 {
        // Digits of n in the bases 2, 3 and 4 say which swaps make the order; small n move the first places only.
        let swaps = [n % 2, n / 2 % 3, n / 6];
        let mut last = 1;
        while last < 4 {
            let at = last - swaps[last - 1];
            let kept = all[n][last];
            all[n][last] = all[n][at];
            all[n][at] = kept;
            last += 1;
        }
        n += 1;
    }
    all
}

/// Columns to test, in whole numbers, a row for each step: half the room of figures, and the largest thing a test holds.
#[derive(Debug, Clone)]
pub(super) struct Columns {
    /// Row by row, a figure for each column, and room for those that are not there yet.
    rows: Vec<i32>,
    /// Figures a row.
    room: usize,
    /// How many columns there are.
    n: usize,
}

impl Columns {
    /// None yet, and room for so many.
    pub(super) fn with_room_for(room: usize, steps: &Steps) -> Columns {
        Columns { rows: vec![0; steps.rows().len() * room], room, n: 0 }
    }

    /// Adds a column, for which there has to be room.
    pub(super) fn push(&mut self, column: &Column) {
        assert!(self.n < self.room, "room for every column");
        for (row, &figure) in self.rows.chunks_exact_mut(self.room).zip(column) {
            row[self.n] = whole(figure, COLUMN_UNIT);
        }
        self.n += 1;
    }

    /// The figures of a step, one for each column.
    fn of(&self, step: usize) -> &[i32] {
        &self.rows[step * self.room..][..self.n]
    }
}

fn whole(figure: f64, unit: f64) -> i32 {
    (figure * unit).round() as i32
}

/// Tests each of the columns. They and the scores have mean 0 in every solve.
pub(super) fn tests(
    steps: &Steps,
    scores: &Column,
    columns: Columns,
    n_shuffles: usize,
    seed: u64,
) -> Vec<Test> {
    let n = columns.n;
    let data = Data::new(steps, scores, columns);
    let Reached { observed, means, deviations, z: reached } = data.reached();
    let z = |column: usize, sum: i64| stands_out(sum, means[column], deviations[column]);
    let shares = n_shuffles.div_ceil(SHARE);
    let counted = (0..shares).into_par_iter().map(|share| {
        let mut random = Random::new(seed, share as u64);
        let mut counts = Counts::new(n);
        let mut sums = vec![0; n];
        for _ in 0..SHARE.min(n_shuffles - share * SHARE) {
            sums.fill(0);
            data.add(&mut sums, |n_orders| random.below(n_orders));
            let strongest =
                sums.iter().enumerate().map(|(column, &sum)| z(column, sum)).fold(f64::MIN, f64::max);
            for column in 0..n {
                counts.own[column] += u32::from(sums[column] >= observed[column]);
                counts.strongest[column] += u32::from(strongest >= reached[column]);
            }
        }
        counts
    });
    let counts = counted.reduce(|| Counts::new(n), Counts::and);
    let p = |count: u32| (f64::from(count) + 1.0) / (n_shuffles as f64 + 1.0);
    (0..n)
        .map(|column| Test {
            z: reached[column],
            p: p(counts.own[column]),
            p_of_strongest: p(counts.strongest[column]),
        })
        .collect()
}

/// By how many standard deviations of its own shuffles a column stands out; nothing is shuffled for that.
pub(super) fn deviation(steps: &Steps, scores: &Column, column: &Column) -> f64 {
    let mut one = Columns::with_room_for(1, steps);
    one.push(column);
    Data::new(steps, scores, one).reached().z[0]
}

fn stands_out(sum: i64, mean: f64, deviation: f64) -> f64 {
    if deviation > 0.0 { (sum as f64 - mean) / deviation } else { 0.0 }
}

/// The sums as they are, and what shuffles make of them.
struct Reached {
    observed: Vec<i64>,
    means: Vec<f64>,
    deviations: Vec<f64>,
    z: Vec<f64>,
}

struct Data<'a> {
    steps: &'a Steps,
    scores: Vec<i32>,
    columns: Columns,
}

impl<'a> Data<'a> {
    fn new(steps: &'a Steps, scores: &Column, columns: Columns) -> Data<'a> {
        let scores = scores.iter().map(|&score| whole(score, SCORE_UNIT)).collect();
        Data { steps, scores, columns }
    }

    fn reached(&self) -> Reached {
        let n = self.columns.n;
        let mut observed = vec![0; n];
        self.add(&mut observed, |_| 0);
        let (means, deviations) = self.expected();
        let z = (0..n).map(|n| stands_out(observed[n], means[n], deviations[n])).collect();
        Reached { observed, means, deviations, z }
    }

    /// Adds up score by figure over all steps, for each column, with the scores of each solve in the order that was
    /// chosen out of so many.
    #[inline]
    fn add(&self, sums: &mut [i64], mut order: impl FnMut(usize) -> usize) {
        for solve in self.steps.solves() {
            let len = solve.len();
            let n_orders = [1, 1, 2, 6, 24][len];
            let order = if n_orders == 1 { 0 } else { order(n_orders) };
            for (place, &from) in ORDERS[order].iter().enumerate().take(len) {
                let score = i64::from(self.scores[solve.start + usize::from(from)]);
                for (sum, &figure) in sums.iter_mut().zip(self.columns.of(solve.start + place)) {
                    *sum += score * i64::from(figure);
                }
            }
        }
    }

    /// Mean and standard deviation of each column's sum over all orders: exactly, as for any linear statistic.
    fn expected(&self) -> (Vec<f64>, Vec<f64>) {
        let n = self.columns.n;
        let (mut means, mut variances) = (vec![0.0; n], vec![0.0; n]);
        for solve in self.steps.solves().iter().filter(|solve| solve.len() > 1) {
            let len = solve.len() as f64;
            let moments = |figures: &mut dyn Iterator<Item = i32>| {
                let (sum, squares) =
                    figures.map(f64::from).fold((0.0, 0.0), |(sum, squares), x| (sum + x, squares + x * x));
                (sum, squares - sum * sum / len)
            };
            let (score, spread) = moments(&mut self.scores[solve.clone()].iter().copied());
            for column in 0..n {
                let figures = &mut solve.clone().map(|step| self.columns.of(step)[column]);
                let (sum, own) = moments(figures);
                means[column] += sum * score / len;
                variances[column] += own * spread / (len - 1.0);
            }
        }
        (means, variances.into_iter().map(f64::sqrt).collect())
    }
}

struct Counts {
    own: Vec<u32>,
    strongest: Vec<u32>,
}

impl Counts {
    fn new(n: usize) -> Counts {
        Counts { own: vec![0; n], strongest: vec![0; n] }
    }

    fn and(mut self, other: Counts) -> Counts {
        self.own.iter_mut().zip(other.own).for_each(|(a, b)| *a += b);
        self.strongest.iter_mut().zip(other.strongest).for_each(|(a, b)| *a += b);
        self
    }
}

#[cfg(test)]
mod tests {
    use super::super::circumstance::Given;
    use super::super::steps::{Model, Scored};
    use super::*;

    fn steps(solves: usize, random: &mut Random) -> Steps {
        let rows = |random: &mut Random| {
            (1..=4)
                .map(|number| Scored {
                    number,
                    stop: random.below(900) as f64 / 1000.0,
                    given: Given::from_bits(random.bits() & 0b111),
                })
                .collect::<Vec<_>>()
        };
        Steps::new((0..solves).map(|_| rows(random)).collect::<Vec<_>>())
    }

    #[test]
    fn the_orders_are_all_there_are() {
        for (n, count) in [(2, 2), (3, 6), (4, 24)] {
            let mut seen: Vec<&[u8]> = ORDERS[..count].iter().map(|order| &order[..n]).collect();
            seen.sort_unstable();
            seen.dedup();
            assert_eq!(seen.len(), count);
            assert!(
                ORDERS[..count]
                    .iter()
                    .all(|order| order[n..].iter().zip(n..).all(|(&x, y)| usize::from(x) == y))
            );
        }
        assert_eq!(ORDERS[0], [0, 1, 2, 3]);
    }

    /// Against every one of the 24 x 24 x 24 orders of three solves, one by one.
    #[test]
    fn shares_of_shuffles_are_those_of_all_orders() {
        let mut random = Random::new(3, 0);
        let steps = steps(3, &mut random);
        let model = Model::bare(&steps);
        let scores = model.residual(&steps.stops());
        let column = model.residual(&steps.column(&[super::super::circumstance::Which::at(0)]));
        let sum = |orders: [usize; 3]| -> i64 {
            let solve = |(solve, order): (usize, usize)| -> i64 {
                (0..4)
                    .map(|place| {
                        let score = scores[solve * 4 + usize::from(ORDERS[order][place])];
                        (score * SCORE_UNIT).round() as i64
                            * (column[solve * 4 + place] * COLUMN_UNIT).round() as i64
                    })
                    .sum()
            };
            orders.into_iter().enumerate().map(solve).sum()
        };
        let observed = sum([0; 3]);
        let mut as_large = 0;
        for order in 0..24 * 24 * 24 {
            as_large += usize::from(sum([order % 24, order / 24 % 24, order / 576]) >= observed);
        }
        let exact = as_large as f64 / 13_824.0;
        let mut columns = Columns::with_room_for(1, &steps);
        columns.push(&column);
        let test = tests(&steps, &scores, columns, 20_000, 11)[0];
        // Four standard deviations of a share of 20,000.
        let within = 4.0 * (exact * (1.0 - exact) / 20_000.0).sqrt();
        assert!((test.p - exact).abs() < within + 1e-4, "{} and {exact}", test.p);
    }
}

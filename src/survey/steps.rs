//! What the tests of chance see of a folder: for every pair step its number, the stop before it, and which circumstances
//! hold; and these as columns of figures.

use std::borrow::Borrow;
use std::ops::Range;

use super::circumstance::{Given, Which};

/// One pair step.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Scored {
    /// The number of its pair in the solve, 1 to 4; of several at once the first.
    pub number: u8,
    /// The stop before it, in seconds; 0 where there was none.
    pub stop: f64,
    /// What holds of it.
    pub given: Given,
}

/// The pair steps of some solves.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Steps {
    rows: Vec<Scored>,
    solves: Vec<Range<usize>>,
}

/// A figure for every step.
pub(super) type Column = Vec<f64>;

/// What is longer than this many seconds counts as so long: a cube that was dropped says nothing of look-ahead.
pub const LONGEST: f64 = 2.0;

/// A solve has at most so many pair steps.
const MOST: usize = 4;

impl Steps {
    /// The steps of these solves. Of a solve at most four count.
    #[must_use]
    pub fn new(solves: impl IntoIterator<Item = Vec<Scored>>) -> Steps {
        let mut steps = Steps::default();
        for mut solve in solves {
            solve.truncate(MOST);
            let from = steps.rows.len();
            steps.rows.extend(solve);
            steps.solves.push(from..steps.rows.len());
        }
        steps
    }

    /// Every step, solve by solve.
    #[must_use]
    pub fn rows(&self) -> &[Scored] {
        &self.rows
    }

    /// For each solve, which of the steps are its own.
    #[must_use]
    pub fn solves(&self) -> &[Range<usize>] {
        &self.solves
    }

    /// The stops, none longer than [`LONGEST`].
    pub(super) fn stops(&self) -> Column {
        self.rows.iter().map(|row| row.stop.min(LONGEST)).collect()
    }

    /// 1 where all of these hold, else 0.
    pub(super) fn column(&self, all: &[Which]) -> Column {
        self.rows.iter().map(|row| f64::from(u8::from(row.given.has_all(all)))).collect()
    }

    /// In how many steps all of these hold, and in how many solves.
    pub(super) fn count(&self, all: &[Which]) -> (usize, usize) {
        let holds = |row: &Scored| row.given.has_all(all);
        let in_solve =
            |range: &Range<usize>| self.rows[range.clone()].iter().filter(|row| holds(row)).count();
        self.solves
            .iter()
            .map(in_solve)
            .fold((0, 0), |(steps, solves), n| (steps + n, solves + usize::from(n > 0)))
    }
}

/// What is taken out of a column before it is compared: each solve's own mean, what goes with the number of the pair,
/// and what goes with the columns that were found already. What is left is compared inside solves only.
#[derive(Debug, Clone)]
pub(super) struct Model<'a> {
    steps: &'a Steps,
    /// Columns at right angles to each other, each of length 1 and of mean 0 in every solve.
    taken: Vec<Column>,
}

/// What is left of a column is nothing if it is shorter than this share of it.
const NOTHING: f64 = 1e-9;

impl<'a> Model<'a> {
    /// Solves and pair numbers are taken out, and these columns, of which no more than one has to be held at a time.
    pub(super) fn new<C: Borrow<Column>>(
        steps: &'a Steps,
        columns: impl IntoIterator<Item = C>,
    ) -> Model<'a> {
        let mut model = Model { steps, taken: Vec::new() };
        for number in 2..=MOST as u8 {
            let column: Column =
                steps.rows.iter().map(|row| f64::from(u8::from(row.number == number))).collect();
            model.take(&column);
        }
        for column in columns {
            model.take(column.borrow());
        }
        model
    }

    fn take(&mut self, column: &Column) {
        let mut left = self.residual(column);
        // Once more, for what rounding left.
        left = self.residual(&left);
        let length = dot(&left, &left);
        if length > NOTHING * dot(column, column).max(1.0) {
            left.iter_mut().for_each(|x| *x /= length.sqrt());
            self.taken.push(left);
        }
    }

    /// Only solves and pair numbers are taken out.
    pub(super) fn bare(steps: &'a Steps) -> Model<'a> {
        Model::new(steps, std::iter::empty::<Column>())
    }

    /// What is left of a column.
    pub(super) fn residual(&self, column: &Column) -> Column {
        let mut left = column.clone();
        for solve in &self.steps.solves {
            let own = &mut left[solve.clone()];
            let mean = own.iter().sum::<f64>() / own.len().max(1) as f64;
            own.iter_mut().for_each(|x| *x -= mean);
        }
        for taken in &self.taken {
            let along = dot(&left, taken);
            left.iter_mut().zip(taken).for_each(|(x, t)| *x -= along * t);
        }
        left
    }
}

pub(super) fn dot(a: &[f64], b: &[f64]) -> f64 {
    a.iter().zip(b).map(|(a, b)| a * b).sum()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn steps(solves: &[&[(u8, f64, u64)]]) -> Steps {
        let scored =
            |&(number, stop, bits): &(u8, f64, u64)| Scored { number, stop, given: Given::from_bits(bits) };
        Steps::new(solves.iter().map(|solve| solve.iter().map(scored).collect()))
    }

    #[test]
    fn what_goes_with_solves_and_numbers_is_gone() {
        let steps = steps(&[
            &[(1, 0.5, 1), (2, 0.9, 0), (3, 0.4, 1), (4, 0.0, 0)],
            &[(2, 0.7, 1), (3, 0.0, 1), (4, 0.3, 0)],
            &[(1, 0.0, 0), (2, 0.0, 1), (3, 5.0, 0), (4, 0.6, 1)],
        ]);
        assert_eq!(steps.stops()[9], LONGEST);
        assert_eq!(steps.count(&[Which::at(0)]), (6, 3));
        let held = steps.column(&[Which::at(0)]);
        let model = Model::new(&steps, [&held]);
        let left = model.residual(&steps.stops());
        for solve in steps.solves() {
            assert!(left[solve.clone()].iter().sum::<f64>().abs() < 1e-9);
        }
        for number in 1..=4 {
            let of_number = steps.rows().iter().zip(&left).filter(|(row, _)| row.number == number);
            assert!(of_number.map(|(_, left)| left).sum::<f64>().abs() < 1e-9, "{number}");
        }
        assert!(dot(&held, &left).abs() < 1e-9);
    }
}

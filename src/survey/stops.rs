//! What goes with the stops: the procedure that names circumstances, or does not.
//!
//! 1. A step's score is the fourth root of the stop before its pair: 0 where there was none, and no stop counts as longer
//!    than two seconds. So it tells above all whether there was a stop, and a little how long it was; one long stop does not
//!    outweigh many. Each solve's mean is taken out, and what goes with the number of the pair.
//! 2. Every circumstance is tested by shuffling scores inside solves (the room's `shuffle`); those that hold too seldom or
//!    too often are left out. The one that stands out most, by standard deviations of its own shuffles, is found if the
//!    strongest of *all* of them, in the same shuffles, seldom stands out as much (P. H. Westfall, S. S. Young,
//!    "Resampling-based multiple testing", 1993). Many circumstances overlap or are each other's opposite: this reckons with
//!    how many there really are, where a rule that knows only their number gives away what 25 solves cannot spare. How
//!    seldom depends on how many solves there are: who brings more of them is told a first name less by chance.
//! 3. What was found is taken out of scores and of columns alike, so that the rest is compared among steps that match in
//!    it, and the rest is tested again until none stands out, at a level of its own. What no longer stands out once others are found is dropped.
//! 4. From 25 solves on, two circumstances that hold together are tested, with all that was found taken out: the one that
//!    stands out most is shuffled, and counts as found if its share of shuffles, times the number of pairs, is small.
//! 5. For what was found, a price in plain seconds: what a solve would win back if the steps with it stopped as their
//!    counterparts do, steps of the same solves, with what goes with the number of the pair and with the other findings
//!    taken out. In order of what is won back *at least*: the 20th percentile of a bootstrap over solves.

use rayon::prelude::*;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::bootstrap::{draws, quantile};
use super::circumstance::Which;
use super::shuffle::{self, Columns, Test};
use super::steps::{Column, Model, Steps, dot};

/// How the tests of chance are made.
#[derive(Debug, Clone, PartialEq)]
pub struct Procedure {
    /// Shuffles of each test.
    pub shuffles: usize,
    /// Draws of each bootstrap.
    pub draws: usize,
    /// What all random numbers come from.
    pub seed: u64,
    /// How often a first single circumstance may be named by chance.
    pub singles: f64,
    /// The same once something was found.
    pub further: f64,
    /// How often a pair of circumstances may be named by chance.
    pub pairs: f64,
    /// The share of chance among trends named.
    pub trends: f64,
}

impl Default for Procedure {
    fn default() -> Procedure {
        Procedure {
            shuffles: 2000,
            draws: 2000,
            seed: 17,
            singles: 0.1,
            further: 0.13,
            pairs: 0.005,
            trends: 0.01,
        }
    }
}

impl Procedure {
    /// The same for so many solves: with more of them, fewer first names by chance. What stands out in thousands of solves
    /// stands out far, and does not need as many shuffles and draws to be told from chance. To be asked of what was set for
    /// any number of solves, and once: [`survey`](super::survey) and [`against`](super::against) do so themselves.
    #[must_use]
    pub fn for_solves(&self, n: usize) -> Procedure {
        let fewer =
            |times: usize| if n > MANY { (times * MANY / n).max(LEAST_SHUFFLES).min(times) } else { times };
        let seldom = (FEW as f64 / n.max(FEW) as f64).max(LEAST_LEVEL);
        Procedure {
            shuffles: fewer(self.shuffles),
            draws: fewer(self.draws),
            singles: self.singles * seldom,
            ..self.clone()
        }
    }
}

/// Of more solves than these, a first circumstance may be named by chance as much less often as there are more.
const FEW: usize = 25;
/// But no less often than by this share, so that it is always at least a few of [`LEAST_SHUFFLES`].
const LEAST_LEVEL: f64 = 0.2;
/// From more solves than these on, fewer shuffles and draws are made,
const MANY: usize = 1000;
/// but never fewer than these.
const LEAST_SHUFFLES: usize = 200;
/// From how many timed solves on circumstances are tested.
pub const LEAST_SOLVES: usize = 12;
/// From how many on pairs of them are.
pub const LEAST_FOR_PAIRS: usize = 25;
/// A circumstance is tested if it holds in at least so many steps, and does not in as many.
const LEAST_STEPS: usize = 12;
/// And in at least this share of them.
const LEAST_SHARE: f64 = 0.05;
/// At most so many findings of a kind.
const MOST: usize = 6;
/// What was found is dropped where others found later leave it no more than this.
const KEEP: f64 = 0.05;
/// Of what is left of a column once others are taken out, compared with before: less is nothing of its own.
const OWN: f64 = 0.1;
/// A pair of circumstances is shuffled if it stands out by so many standard deviations: there are hundreds of pairs, and
/// chance alone takes one of them about so far.
const LEAST_OF_PAIRS: f64 = 3.0;
/// And then it is shuffled so many times, as it has to hold for all pairs that were tested,
const PAIRS_SHUFFLES: usize = 100_000;
/// and at least so often for each of them: the share of one shuffle, times their number, has to be below the level.
const SHUFFLES_A_PAIR: usize = 250;
/// The same steps in this share of all is nearly the same.
const NEARLY: f64 = 0.9;

/// A circumstance, or two together, with which stops go.
#[derive(Debug, Clone, PartialEq)]
pub struct Found {
    /// One or two.
    pub circumstances: Vec<Which>,
    /// Others that hold in nearly the same steps.
    pub nearly: Vec<Which>,
    /// In how many steps it holds.
    pub steps: usize,
    /// In how many solves.
    pub solves: usize,
    /// The mean stop of the steps with it, in seconds; none counts as longer than two.
    pub with: f64,
    /// The mean stop of the others.
    pub without: f64,
    /// How much longer the steps with it stop than their counterparts, in seconds a step.
    pub longer: f64,
    /// Seconds a solve won back.
    pub won: Won,
    /// Standard deviations of the shuffles.
    pub z: f64,
    /// The share of shuffles that come to as much.
    pub p: f64,
    /// For each step with it, one after the other, how much longer it stopped than its counterparts.
    pub(super) excess: Column,
}

/// Seconds a solve, with what the bootstrap says.
#[derive(Debug, Clone, Copy, PartialEq, Deserialize, JsonSchema, Serialize)]
pub struct Won {
    /// The figure itself.
    pub about: f64,
    /// Its 20th percentile.
    pub at_least: f64,
    /// The 10th.
    pub low: f64,
    /// The 90th.
    pub high: f64,
}

/// A circumstance tested, with nothing else taken out.
#[derive(Debug, Clone, Copy, PartialEq, Deserialize, JsonSchema, Serialize)]
pub struct Tested {
    /// Which.
    pub circumstance: Which,
    /// In how many steps it holds.
    pub steps: usize,
    /// By how many standard deviations of its shuffles it stands out.
    pub z: f64,
    /// The share of shuffles, this one counted in, in which it comes to as much.
    pub p: f64,
    /// The share of shuffles in which the strongest of all that were tested stands out as much.
    pub p_of_strongest: f64,
}

/// What the procedure came to.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Outcome {
    /// The single circumstances that were tested, and how each came out of the first round.
    pub tested: Vec<Tested>,
    /// How many pairs of them.
    pub pairs_tested: usize,
    /// What was found, in order of what is won back at least.
    pub found: Vec<Found>,
}

/// What was found so far.
#[derive(Debug, Clone)]
struct Chosen {
    circumstances: Vec<Which>,
    test: Test,
}

/// Everything that goes with the stops.
#[must_use]
pub fn findings(steps: &Steps, procedure: &Procedure) -> Outcome {
    if steps.solves().len() < LEAST_SOLVES {
        return Outcome::default();
    }
    let often: Vec<Which> = Which::all().filter(|&which| often_enough(steps, &[which])).collect();
    let scores = steps.stops().into_iter().map(|stop| stop.sqrt().sqrt()).collect();
    let bare = Model::bare(steps);
    let mut work =
        Work { steps, procedure, bare, stops: steps.stops(), scores, chosen: Vec::new(), round: 0 };
    let tested = work.singles(&often);
    let pairs = if steps.solves().len() >= LEAST_FOR_PAIRS { work.pairs(&often) } else { 0 };
    Outcome { found: work.priced(&often), tested, pairs_tested: pairs }
}

/// Whether they hold, and do not hold, in enough steps to compare.
fn often_enough(steps: &Steps, all: &[Which]) -> bool {
    let n = steps.rows().len();
    let least = LEAST_STEPS.max((LEAST_SHARE * n as f64).ceil() as usize);
    let (with, _) = steps.count(all);
    with >= least && n - with >= least
}

struct Work<'a> {
    steps: &'a Steps,
    procedure: &'a Procedure,
    /// With nothing taken out that was found.
    bare: Model<'a>,
    stops: Column,
    /// What is shuffled: their fourth roots.
    scores: Column,
    chosen: Vec<Chosen>,
    /// Tests made so far: each has shuffles of its own.
    round: u64,
}

impl<'a> Work<'a> {
    fn model_of(&self, leave_out: Option<usize>) -> Model<'a> {
        let others = self.chosen.iter().enumerate().filter(|&(n, _)| Some(n) != leave_out);
        Model::new(self.steps, others.map(|(_, chosen)| self.steps.column(&chosen.circumstances)))
    }

    /// What is left of a column; `None` if that is next to nothing of what there was.
    fn own(&self, model: &Model<'_>, column: &Column) -> Option<Column> {
        let left = model.residual(column);
        let before = self.bare.residual(column);
        (dot(&left, &left) > OWN * dot(&before, &before)).then_some(left)
    }

    /// Tests columns with what was chosen taken out; `None` for those of which that leaves next to nothing.
    fn test(
        &mut self,
        model: &Model<'_>,
        columns: impl ExactSizeIterator<Item = Column>,
        n_shuffles: usize,
    ) -> Vec<Option<Test>> {
        let mut some = Columns::with_room_for(columns.len(), self.steps);
        let keep = |column| self.own(model, &column).map(|left| some.push(&left)).is_some();
        let left: Vec<bool> = columns.map(keep).collect();
        self.round += 1;
        let seed = self.procedure.seed.wrapping_add(self.round << 32);
        let scores = model.residual(&self.scores);
        let mut tests = shuffle::tests(self.steps, &scores, some, n_shuffles, seed).into_iter();
        left.into_iter().map(|left| if left { tests.next() } else { None }).collect()
    }

    /// Single circumstances; how each came out of the first round.
    fn singles(&mut self, often: &[Which]) -> Vec<Tested> {
        let mut waiting: Vec<Which> = often.to_vec();
        let mut first = Vec::new();
        while self.chosen.len() < MOST && !waiting.is_empty() {
            let model = self.model_of(None);
            let steps = self.steps;
            let columns = waiting.iter().map(|&which| steps.column(&[which]));
            let tests = self.test(&model, columns, self.procedure.shuffles);
            if first.is_empty() {
                let told = |(&circumstance, test): (&Which, &Option<Test>)| {
                    let Test { z, p, p_of_strongest } = (*test)?;
                    Some(Tested {
                        circumstance,
                        steps: self.steps.count(&[circumstance]).0,
                        z,
                        p,
                        p_of_strongest,
                    })
                };
                first = waiting.iter().zip(&tests).filter_map(told).collect();
            }
            let strongest = (0..waiting.len())
                .filter_map(|n| Some((n, tests[n]?)))
                .max_by(|a, b| a.1.z.total_cmp(&b.1.z));
            let Procedure { singles, further, .. } = *self.procedure;
            let level = if self.chosen.is_empty() { singles } else { further };
            let Some((n, test)) = strongest.filter(|(_, test)| test.p_of_strongest <= level) else { break };
            let which = waiting.remove(n);
            self.chosen.push(Chosen { circumstances: vec![which], test });
            self.drop_what_others_explain();
        }
        first
    }

    /// Pairs of circumstances, and how many were tested.
    fn pairs(&mut self, tested: &[Which]) -> usize {
        let n = self.steps.rows().len();
        let mut waiting: Vec<[Which; 2]> = Vec::new();
        for (i, &a) in tested.iter().enumerate() {
            for &b in &tested[i + 1..] {
                let (both, _) = self.steps.count(&[a, b]);
                // Where one brings the other along, both together are only that one.
                let apart = [a, b].iter().all(|&one| self.steps.count(&[one]).0 >= both + LEAST_STEPS);
                if apart && often_enough(self.steps, &[a, b]) && both < n {
                    waiting.push([a, b]);
                }
            }
        }
        let n_tested = waiting.len();
        let already = self.chosen.len();
        while self.chosen.len() < already + MOST && !waiting.is_empty() {
            let model = self.model_of(None);
            let scores = model.residual(&self.scores);
            // One after the other, so that no more than a column is held for each; none is shuffled but the one that
            // stands out most, which has to hold for all of them.
            let stands_out = |both: &[Which; 2]| {
                let left = self.own(&model, &self.steps.column(both));
                left.map_or(f64::MIN, |left| shuffle::deviation(self.steps, &scores, &left))
            };
            let z: Vec<f64> = waiting.par_iter().map(stands_out).collect();
            let strongest = z
                .into_iter()
                .enumerate()
                .filter(|&(n, z)| z >= LEAST_OF_PAIRS && self.both_matter(&scores, waiting[n]))
                .max_by(|a, b| a.1.total_cmp(&b.1));
            let Some((n, _)) = strongest else { break };
            let column = self.steps.column(&waiting[n]);
            let n_shuffles = PAIRS_SHUFFLES.max(SHUFFLES_A_PAIR * n_tested);
            let test = self.test(&model, std::iter::once(column), n_shuffles)[0];
            let Some(test) = test.filter(|test| test.p * n_tested as f64 <= self.procedure.pairs) else {
                break;
            };
            let both = waiting.remove(n);
            self.chosen.push(Chosen { circumstances: both.to_vec(), test });
            self.drop_what_others_explain();
        }
        n_tested
    }

    /// Whether steps with both stop longer than those with the one alone, and than those with the other alone.
    fn both_matter(&self, scores: &Column, [a, b]: [Which; 2]) -> bool {
        let mean = |test: &dyn Fn(bool, bool) -> bool| {
            let own = self.steps.rows().iter().zip(scores);
            let own = own.filter(|(row, _)| test(row.given.has(a), row.given.has(b))).map(|(_, left)| left);
            let (n, sum) = own.fold((0, 0.0), |(n, sum), left| (n + 1, sum + left));
            sum / f64::from(n.max(1))
        };
        let both = mean(&|a, b| a && b);
        both > mean(&|a, b| a && !b) && both > mean(&|a, b| !a && b)
    }

    /// Tests what was found before the last once more, among steps that match in all the others.
    fn drop_what_others_explain(&mut self) {
        let mut n = 0;
        while n + 1 < self.chosen.len() {
            let model = self.model_of(Some(n));
            let column = self.steps.column(&self.chosen[n].circumstances);
            match self.test(&model, std::iter::once(column), self.procedure.shuffles)[0] {
                Some(test) if test.p <= KEEP => n += 1,
                _ => drop(self.chosen.remove(n)),
            }
        }
    }

    fn priced(&self, tested: &[Which]) -> Vec<Found> {
        let mut found: Vec<Found> = (0..self.chosen.len()).filter_map(|n| self.price(n, tested)).collect();
        found.sort_by(|a, b| b.won.at_least.total_cmp(&a.won.at_least));
        found
    }

    fn price(&self, n: usize, tested: &[Which]) -> Option<Found> {
        let Chosen { circumstances, test } = &self.chosen[n];
        let column = &self.steps.column(circumstances);
        let model = self.model_of(Some(n));
        let (own, scores) = (model.residual(column), model.residual(&self.stops));
        let (steps, solves) = self.steps.count(circumstances);
        let longer = dot(&own, &scores) / dot(&own, &own);
        let seed = self.procedure.seed.wrapping_add(0x0b00 + n as u64);
        let won = won_back(self.steps, &own, &scores, column, self.procedure.draws, seed)?;
        let mean = |with: bool| {
            let own = self.stops.iter().zip(column).filter(|&(_, &held)| (held > 0.5) == with);
            let (n, sum) = own.fold((0, 0.0), |(n, sum), (stop, _)| (n + 1, sum + stop));
            sum / f64::from(n.max(1))
        };
        let held = scores.iter().zip(column).filter(|&(_, &held)| held > 0.5);
        let excess = held.map(|(&score, _)| score).collect();
        let alike = |&which: &Which| {
            let other = self.steps.column(&[which]);
            let same = other.iter().zip(column).filter(|(a, b)| a == b).count();
            same as f64 >= NEARLY * column.len() as f64
        };
        let others = tested.iter().filter(|which| !circumstances.contains(which));
        Some(Found {
            nearly: others.copied().filter(alike).collect(),
            circumstances: circumstances.clone(),
            steps,
            solves,
            with: mean(true),
            without: mean(false),
            longer,
            won,
            z: test.z,
            p: test.p,
            excess,
        })
        .filter(|found| found.won.at_least > 0.0)
    }
}

/// Seconds a solve won back. `own` is what is left of the column with everything else taken out, `scores` what is left of
/// the scores.
pub(super) fn won_back(
    steps: &Steps,
    own: &Column,
    scores: &Column,
    column: &Column,
    n_draws: usize,
    seed: u64,
) -> Option<Won> {
    let solves: Vec<[f64; 3]> = steps
        .solves()
        .iter()
        .map(|solve| {
            let solve = solve.clone();
            [
                dot(&own[solve.clone()], &scores[solve.clone()]),
                dot(&own[solve.clone()], &own[solve.clone()]),
                column[solve].iter().sum(),
            ]
        })
        .collect();
    let figure = |times: &[u32]| {
        let mut sums = [0.0; 3];
        for (&times, solve) in times.iter().zip(&solves) {
            sums.iter_mut().zip(solve).for_each(|(sum, x)| *sum += f64::from(times) * x);
        }
        (sums[1] > 1e-9).then(|| sums[0] / sums[1] * sums[2] / solves.len() as f64)
    };
    let about = figure(&vec![1; solves.len()])?;
    let drawn = draws(&[solves.len()], n_draws, seed, figure);
    let at = |share| quantile(&drawn, share);
    Some(Won { about, at_least: at(0.2)?, low: at(0.1)?, high: at(0.9)? })
}

#[cfg(test)]
mod tests {
    use super::super::circumstance::Given;
    use super::super::steps::Scored;
    use super::*;

    #[test]
    fn more_solves_make_a_first_name_rarer_by_chance() {
        let usual = Procedure::default();
        for (n, level, shuffles) in [
            (12, 0.1, 2000),
            (25, 0.1, 2000),
            (50, 0.05, 2000),
            (125, 0.02, 2000),
            (1000, 0.02, 2000),
            (10_000, 0.02, 200),
        ] {
            let so_many = usual.for_solves(n);
            assert!((so_many.singles - level).abs() < 1e-12, "{n}: {}", so_many.singles);
            assert_eq!((so_many.shuffles, so_many.draws), (shuffles, shuffles), "{n}");
            assert_eq!(Procedure { singles: usual.singles, shuffles: 2000, draws: 2000, ..so_many }, usual);
            // A level that no number of shuffles could reach would find nothing.
            assert!(1.0 / (shuffles + 1) as f64 <= level / 4.0);
        }
        // All circumstances there are, two by two.
        let n_pairs = Which::all().count() * (Which::all().count() - 1) / 2;
        let n_shuffles = PAIRS_SHUFFLES.max(SHUFFLES_A_PAIR * n_pairs);
        assert!(n_pairs as f64 / (n_shuffles + 1) as f64 <= usual.pairs);
    }

    #[test]
    fn what_holds_in_eleven_steps_is_not_tested() {
        let held = Which::all().next().expect("a circumstance");
        let steps = |n: usize| {
            let row = |at: usize| Scored {
                number: 1 + (at % 4) as u8,
                stop: 0.0,
                given: Given::from_bits(u64::from(at < n) << held.place()),
            };
            Steps::new((0..15).map(|solve| (solve * 4..solve * 4 + 4).map(row).collect()))
        };
        assert!(!often_enough(&steps(11), &[held]) && often_enough(&steps(12), &[held]));
        assert!(often_enough(&steps(48), &[held]) && !often_enough(&steps(49), &[held]));
    }
}

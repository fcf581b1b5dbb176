//! One's own solves beside another folder's: what differs, by how much, and whether that is more than chance.
//!
//! Every figure is a sum over solves by a sum over solves. Intervals come of drawing the solves of both folders anew; whether
//! a difference stands out, of shuffling the solves between the two (both ways), with Benjamini and Hochberg's rule over all
//! figures that are compared.

use rayon::prelude::*;

use super::bootstrap::{draws, quantile};
use super::circumstance::Which;
use super::discovery;
use super::facts::{Against, Beside, Choice, Part, What};
use super::gather::Solver;
use super::random::Random;
use super::solve::{PairStep, Solve};
use super::stops::Procedure;
use crate::annotation::Verdict;

/// The share of chance among the differences that are said to stand out.
const RATE: f64 = 0.1;
/// From how many solves on each side there is anything to compare.
const LEAST: usize = 5;

/// A figure of one solve: what is summed, and what that is divided by.
type Share = [f64; 2];

/// Compares; `None` where either side has fewer than five solves.
#[must_use]
pub fn against(own: &Solver, other: &Solver, inputs: Vec<String>, procedure: &Procedure) -> Option<Against> {
    if own.solves.len().min(other.solves.len()) < LEAST {
        return None;
    }
    let mut all: Vec<Beside> = figures()
        .into_par_iter()
        .enumerate()
        .filter_map(|(n, what)| {
            let shares = |solver: &Solver| -> Vec<Share> {
                solver.solves.iter().filter_map(|solve| share(solve, what)).collect()
            };
            beside(what, &shares(own), &shares(other), procedure, n as u64)
        })
        .collect();
    let p: Vec<f64> = all.iter().map(|beside| beside.p).collect();
    for (beside, adjusted) in all.iter_mut().zip(discovery::adjusted(&p)) {
        beside.stands_out = adjusted <= RATE;
    }
    let of = |test: fn(What) -> bool| all.iter().filter(|beside| test(beside.what)).cloned().collect();
    Some(Against {
        inputs,
        solver: other.name.clone(),
        solves: other.timed(),
        untimed: other.solves.len() - other.timed(),
        clock: of(|what| matches!(what, What::Clock(_))),
        choices: of(|what| matches!(what, What::Choice(_))),
        circumstances: of(|what| matches!(what, What::Circumstance(_))),
    })
}

/// Everything that is compared.
fn figures() -> Vec<What> {
    let choices = [Choice::Kept, Choice::Forced, Choice::Cost, Choice::Over].map(What::Choice);
    let clock = Part::ALL.map(What::Clock);
    clock.into_iter().chain(choices).chain(Which::all().map(What::Circumstance)).collect()
}

/// What a solve adds to a figure.
fn share(solve: &Solve, what: What) -> Option<Share> {
    let count =
        |test: &dyn Fn(&PairStep) -> bool| solve.pairs.iter().filter(|pair| test(pair)).count() as f64;
    let verdict = |verdict: Verdict| count(&|pair| pair.verdict == Some(verdict));
    Some(match what {
        What::Clock(part) => [solve.account?[part as usize], 1.0],
        What::Choice(Choice::Kept) => {
            let kept = verdict(Verdict::Kept);
            [kept, kept + verdict(Verdict::Avoidable)]
        }
        What::Choice(Choice::Forced) => [verdict(Verdict::Forced), count(&|pair| pair.verdict.is_some())],
        What::Choice(Choice::Cost) => {
            [solve.pairs.iter().filter_map(|pair| pair.cost).sum(), count(&|pair| pair.cost.is_some())]
        }
        What::Choice(Choice::Over) => [solve.pairs.iter().map(|pair| pair.over).sum(), 1.0],
        What::Circumstance(which) => [count(&|pair| pair.given.has(which)), solve.pairs.len() as f64],
    })
}

fn beside(what: What, own: &[Share], other: &[Share], procedure: &Procedure, n: u64) -> Option<Beside> {
    let ratio = |sums: Share| (sums[1] > 0.0).then(|| sums[0] / sums[1]);
    let sum = |shares: &mut dyn Iterator<Item = Share>| {
        shares.fold([0.0; 2], |sums, share| [sums[0] + share[0], sums[1] + share[1]])
    };
    let of = |shares: &[Share]| ratio(sum(&mut shares.iter().copied()));
    if own.len().min(other.len()) < LEAST {
        return None;
    }
    let (ours, theirs) = (of(own)?, of(other)?);
    let all: Vec<Share> = own.iter().chain(other).copied().collect();
    let seed = procedure.seed.wrapping_add(0xa6a1 + n);
    let drawn = draws(&[own.len(), other.len()], procedure.draws, seed, |times| {
        let side = |range: std::ops::Range<usize>| {
            let weighed = times[range.clone()].iter().zip(&all[range]);
            ratio(sum(&mut weighed.map(|(&t, share)| share.map(|x| x * f64::from(t)))))
        };
        Some(side(0..own.len())? - side(own.len()..all.len())?)
    });
    let apart = (ours - theirs).abs() - 1e-12;
    let mut random = Random::new(seed, u64::MAX);
    let mut shuffled = all;
    let mut as_far = 0;
    for _ in 0..procedure.shuffles {
        random.shuffle(&mut shuffled);
        let (left, right) = shuffled.split_at(own.len());
        let far = of(left).zip(of(right)).is_none_or(|(left, right)| (left - right).abs() >= apart);
        as_far += usize::from(far);
    }
    Some(Beside {
        what,
        own: ours,
        other: theirs,
        low: quantile(&drawn, 0.1)?,
        high: quantile(&drawn, 0.9)?,
        p: (as_far as f64 + 1.0) / (procedure.shuffles as f64 + 1.0),
        stands_out: false,
    })
}

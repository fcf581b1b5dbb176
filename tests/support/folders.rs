//! Folders of solves made to order for `survey`: the positions are those of made solves, the stops are scattered by chance
//! (with what a person's stops look like: more before some pairs than before others, good and bad solves, good and bad
//! days, now and then a cube that locks), and, where that is asked for, a cause is planted.

use cornerwise::annotate::{Settings, annotate};
use cornerwise::diagnostic::Source;
use cornerwise::record;
use cornerwise::study::Study;
use cornerwise::survey::Solve;
use cornerwise::survey::circumstance::Which;
use cornerwise::survey::steps::{Scored, Steps};
use rayon::prelude::*;

use super::solver::{Options, Rng, Solver, Style};

/// The pair steps of made solves, without stops.
pub struct Pool(pub Vec<Vec<Scored>>);

/// A folder, with its days.
pub struct Folder {
    pub steps: Steps,
    /// For each solve its day, from 0, and its stopped time in seconds.
    pub days: Vec<(usize, f64)>,
}

/// How often a stop comes before each pair by chance, and how long it is in the middle, in seconds.
const CHANCE: [(f64, f64); 4] = [(0.18, 0.42), (0.42, 0.58), (0.36, 0.52), (0.24, 0.47)];
/// What is shorter is no stop.
const LEAST_STOP: f64 = 0.3;
/// What a planted cause adds to a step, in seconds, and how often.
const PLANTED: (f64, f64) = (0.4, 0.6);

impl Pool {
    /// So many made solves, annotated and folded.
    pub fn new(n: usize, seed: u64) -> Pool {
        let (mut solver, mut rng) = (Solver::new(), Rng::new(seed));
        let options = |n: usize| Options {
            wide: n.is_multiple_of(3),
            xcross: n.is_multiple_of(11),
            ..Options::default()
        };
        let texts: Vec<String> = (0..n)
            .map(|n| solver.random(&mut rng, &options(n)).yaml("made", &Style::default(), &mut rng))
            .collect();
        let scored = |text: &String| {
            let source = Source::new("made", text);
            let reading = record::read(&source);
            let annotated = annotate(&Study::new(&source, 1, &reading.records[0]), &Settings::default());
            let pairs = Solve::of(&annotated.facts).pairs.into_iter();
            pairs.map(|pair| Scored { number: pair.number, stop: 0.0, given: pair.given }).collect()
        };
        Pool(texts.par_iter().map(scored).collect())
    }

    /// A folder of so many solves on eight days, with these causes planted, if any.
    pub fn folder(&self, n: usize, seed: u64, planted: &[Which]) -> Folder {
        let mut rng = Rng::new(seed.wrapping_mul(0x2545_f491_4f6c_dd1d));
        let bell = |rng: &mut Rng| (0..12).map(|_| rng.unit()).sum::<f64>() - 6.0;
        let day_factors: Vec<f64> = (0..8).map(|_| libm::exp(0.15 * bell(&mut rng))).collect();
        let mut days = Vec::new();
        let mut solves = Vec::new();
        for k in 0..n {
            let mut rows = self.0[rng.below(self.0.len())].clone();
            let day = k * 8 / n;
            let factor = day_factors[day] * libm::exp(0.3 * bell(&mut rng));
            for row in &mut rows {
                let (often, middle) = CHANCE[usize::from(row.number) - 1];
                let mut gap = 0.02 + 0.18 * rng.unit();
                if rng.chance((often * factor).min(0.9)) {
                    gap = LEAST_STOP + (middle - LEAST_STOP) * libm::exp(0.7 * bell(&mut rng)) * factor;
                }
                if rng.chance(0.008) {
                    gap += 1.0 + 2.0 * rng.unit();
                }
                for &which in planted {
                    if row.given.has(which) && rng.chance(PLANTED.1) {
                        gap += PLANTED.0;
                    }
                }
                row.stop = if gap >= LEAST_STOP { gap } else { 0.0 };
            }
            let last_layer = (1.2 + 0.25 * bell(&mut rng)) * factor;
            days.push((day, rows.iter().map(|row| row.stop).sum::<f64>() + last_layer.max(0.2)));
            solves.push(rows);
        }
        Folder { steps: Steps::new(solves), days }
    }

    /// One of the circumstances that hold in 15 to 60 % of the steps of the pool.
    pub fn common(&self) -> Vec<Which> {
        let rows: Vec<&Scored> = self.0.iter().flatten().collect();
        let share = |which: &Which| {
            rows.iter().filter(|row| row.given.has(*which)).count() as f64 / rows.len() as f64
        };
        Which::all().filter(|which| (0.15..=0.6).contains(&share(which))).collect()
    }

    /// The share of the pool's steps in which it holds.
    pub fn share(&self, which: Which) -> f64 {
        let rows: Vec<&Scored> = self.0.iter().flatten().collect();
        rows.iter().filter(|row| row.given.has(which)).count() as f64 / rows.len() as f64
    }
}

impl Folder {
    /// In which share of the steps these hold, or do not, as that one does.
    pub fn alike(&self, these: &[Which], that: Which) -> f64 {
        let rows = self.steps.rows();
        let same = |row: &&Scored| these.iter().all(|&which| row.given.has(which)) == row.given.has(that);
        rows.iter().filter(same).count() as f64 / rows.len() as f64
    }
}

//! The figures that decide: how often a survey names something where there is nothing, and how often it names what was
//! planted. `docs/survey.md` has what the full numbers came to (`CORNERWISE_SLOW=1`).

use std::sync::LazyLock;

use cornerwise::survey::circumstance::Which;
use cornerwise::survey::stops::{Procedure, findings};
use cornerwise::survey::trend::slope;
use rayon::prelude::*;

use crate::support::folders::{Folder, Pool};
use crate::support::solver::Rng;
use crate::support::switch;

/// Made solves that folders are drawn from.
const POOL: usize = 400;
/// Folders of each kind: by default, and in the slow run.
const FOLDERS: (u64, u64) = (60, 400);

/// Made once for all the tests here.
static MADE: LazyLock<Pool> = LazyLock::new(|| Pool::new(POOL, 4));

/// `CORNERWISE_FOLDERS=1000+3000000`: so many folders of each kind, from other seeds; they are measured, and held to nothing.
fn others() -> Option<(u64, u64)> {
    let asked = std::env::var("CORNERWISE_FOLDERS").ok()?;
    let (n, seeds) = asked.split_once('+').expect("a number, +, and what is added to the seeds");
    Some((n.parse().expect("a number"), seeds.parse().expect("a number")))
}

fn n_folders() -> u64 {
    let own = if switch::slow() { FOLDERS.1 } else { FOLDERS.0 };
    others().map_or(own, |(n, _)| n)
}

/// The seed of a folder.
fn seed(n: u64) -> u64 {
    n + others().map_or(0, |(_, seeds)| seeds)
}

/// Holds a share to what is wanted.
fn held(named: f64, wanted: impl Fn(f64) -> bool) {
    assert!(others().is_some() || wanted(named), "{named}");
}

fn procedure(seed: u64, solves: usize) -> Procedure {
    Procedure { seed, ..Procedure::default() }.for_solves(solves)
}

/// The share of folders for which the test holds, each with its number.
fn share(test: impl Fn(u64) -> bool + Sync) -> f64 {
    let n = n_folders();
    (0..n).into_par_iter().filter(|&n| test(n)).count() as f64 / n as f64
}

/// Four standard errors of a share, for the small run; the full run is held to the figure itself.
fn leeway(share: f64) -> f64 {
    if n_folders() == FOLDERS.1 { 0.0 } else { 4.0 * (share * (1.0 - share) / FOLDERS.0 as f64).sqrt() }
}

#[expect(clippy::print_stderr, reason = "what is measured has to be told")]
fn told(what: &str, share: f64) {
    eprintln!("{what}: {share:.3} of {} folders", n_folders());
}

/// Whether the finding that ranks at `place` is of nearly the steps of the circumstance.
fn is(folder: &Folder, circumstances: &[Which], which: Which) -> bool {
    folder.alike(circumstances, which) >= 0.9
}

#[test]
fn what_is_scattered_by_chance_gets_no_name() {
    let pool = &*MADE;
    // Half of them of 25 solves, half of 50: the shares of the halves add up to twice the share of all.
    let half = |odd: u64, solves: usize| {
        let named = share(|n| {
            let named = || {
                let folder = pool.folder(solves, seed(10_000 + n), &[]);
                let found = !findings(&folder.steps, &procedure(n, solves)).found.is_empty();
                let slope = slope(&folder.days, 2000, n).expect("eight days");
                found || slope.p <= procedure(n, solves).trends
            };
            n % 2 == odd && named()
        });
        told(
            &format!("null folders of {solves} solves of which something is named, twice that share"),
            named,
        );
        named
    };
    let named = half(0, 25) + half(1, 50);
    told("null folders of which something is named", named);
    held(named, |named| named <= 0.12 + leeway(0.12));
}

#[test]
fn what_is_planted_is_named_first() {
    let pool = &*MADE;
    let common = pool.common();
    assert!(common.len() >= 20, "{}", common.len());
    for (solves, least) in [(50, 0.8), (25, 0.6)] {
        let named = share(|n| {
            let which = common[n as usize % common.len()];
            let folder = pool.folder(solves, seed(20_000 + n), &[which]);
            let found = findings(&folder.steps, &procedure(n, solves)).found;
            found.first().is_some_and(|first| is(&folder, &first.circumstances, which))
        });
        told(&format!("planted in folders of {solves} solves and named first"), named);
        held(named, |named| named >= least - leeway(least));
    }
}

#[test]
fn of_two_that_are_planted_both_are_among_the_first_three() {
    let pool = &*MADE;
    let common = pool.common();
    let named = share(|n| {
        let mut rng = Rng::new(n);
        // Two that are not much the same, nor nearly each other's opposite.
        let probe = pool.folder(50, seed(30_000 + n), &[]);
        let [a, b] = loop {
            let two = [0; 2].map(|_| common[rng.below(common.len())]);
            if (0.2..0.8).contains(&probe.alike(&two[..1], two[1])) {
                break two;
            }
        };
        let folder = pool.folder(50, seed(30_000 + n), &[a, b]);
        let found = findings(&folder.steps, &procedure(n, 50)).found;
        let has = |which| found.iter().take(3).any(|found| is(&folder, &found.circumstances, which));
        has(a) && has(b)
    });
    told("two planted in folders of 50 solves, both among the first three", named);
    held(named, |named| named >= 0.7 - leeway(0.7));
}

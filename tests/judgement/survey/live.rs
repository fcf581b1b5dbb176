//! Shuffles, adjusted p-values and bootstrap percentiles against SciPy's, live: run with the environment variable
//! `CORNERWISE_PYTHON` naming a Python that has SciPy (`.ci/run` does). Without it only the question is made.

use cornerwise::survey::circumstance::Which;
use cornerwise::survey::discovery;
use cornerwise::survey::steps::Steps;
use cornerwise::survey::stops::{Procedure, findings};
use serde_json::{Value, json};

use crate::support::folders::Pool;
use crate::support::python;

/// Shuffles and draws, here and there.
const RESAMPLES: usize = 4000;

#[test]
fn scipy_shuffles_and_draws_to_the_same() {
    let pool = Pool::new(80, 6);
    let which: Which = "not-top".parse().expect("a circumstance");
    let procedure = Procedure { shuffles: RESAMPLES, draws: RESAMPLES, ..Procedure::default() };
    // A folder of solves with all four pair steps in which one thing is found, and that alone.
    let (steps, outcome) = (0..40)
        .find_map(|seed| {
            let folder = pool.folder(60, seed, &[which]);
            let rows = folder.steps.rows();
            let whole = folder.steps.solves().iter().filter(|solve| solve.len() == 4);
            let steps = Steps::new(whole.map(|solve| rows[solve.clone()].to_vec()));
            let outcome = findings(&steps, &procedure);
            let one = outcome.found.len() == 1 && outcome.found[0].circumstances.len() == 1;
            one.then_some((steps, outcome))
        })
        .expect("one of forty");
    let found = &outcome.found[0];
    let solves: Vec<Vec<Vec<f64>>> = steps
        .solves()
        .iter()
        .map(|solve| {
            let row = |row: &cornerwise::survey::steps::Scored| {
                let held = Which::all().map(|which| f64::from(u8::from(row.given.has(which))));
                [f64::from(row.number), row.stop].into_iter().chain(held).collect()
            };
            steps.rows()[solve.clone()].iter().map(row).collect()
        })
        .collect();
    // Some that stand out and some that do not.
    let mut tested = outcome.tested.clone();
    tested.sort_by(|a, b| a.p.total_cmp(&b.p));
    let asked: Vec<_> = tested.iter().step_by(4).collect();
    let p: Vec<f64> = tested.iter().map(|tested| tested.p).collect();
    let question = json!({
        "steps": solves,
        "columns": asked.iter().map(|tested| tested.circumstance.place()).collect::<Vec<_>>(),
        "found": found.circumstances[0].place(),
        "p": p,
        "resamples": RESAMPLES,
    });
    let Some(answer) = python::run("survey_oracle.py", question.to_string()) else { return };
    let answer: Value = serde_json::from_str(&answer).expect("JSON");
    let figures = |name: &str| -> Vec<f64> {
        answer[name].as_array().expect("figures").iter().map(|x| x.as_f64().expect("a figure")).collect()
    };
    for (tested, theirs) in asked.iter().zip(figures("p")) {
        // Two shares of so many: five standard errors of their difference.
        let p = theirs.max(tested.p);
        let within = 5.0 * (2.0 * p * (1.0 - p) / RESAMPLES as f64).sqrt() + 2.0 / RESAMPLES as f64;
        assert!((tested.p - theirs).abs() <= within, "{}: {} and {theirs}", tested.circumstance, tested.p);
    }
    for (own, theirs) in discovery::adjusted(&p).into_iter().zip(figures("adjusted")) {
        assert!((own - theirs).abs() < 1e-12, "{own} and {theirs}");
    }
    let figure = |name: &str| answer[name].as_f64().expect("a figure");
    assert!((found.won.about - figure("won")).abs() < 1e-6, "{} and {}", found.won.about, figure("won"));
    // A percentile of so many draws is good to a few hundredths of their spread.
    let within = 0.1 * figure("error");
    let interval = figures("interval");
    for (own, theirs) in [
        (found.won.at_least, figure("at_least")),
        (found.won.low, interval[0]),
        (found.won.high, interval[1]),
    ] {
        assert!((own - theirs).abs() <= within, "{own} and {theirs}, within {within}");
    }
}

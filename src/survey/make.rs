//! From one solver's solves to the facts of their survey.

use std::collections::BTreeMap;

use super::bootstrap::{draws, quantile};
use super::discovery;
use super::facts::{Day, Figure, Finding, Format, Level, Part, Point, ProcedureUsed, Survey, Trend, Where};
use super::gather::{Solver, Wanted};
use super::solve::{PairStep, Solve};
use super::steps::Steps;
use super::stops::{Found, LEAST_FOR_PAIRS, LEAST_SOLVES, Procedure, findings};
use super::trend::{Slope, slope};

/// At most so many moments of a finding are kept.
const MOST_MOMENTS: usize = 100;
/// Where so large a share of a finding's steps are before one pair, its drill is for that many open pairs.
const MOSTLY: f64 = 0.6;

/// The survey of one solver's solves.
#[must_use]
pub fn survey(solver: &Solver, inputs: Vec<String>, wanted: &Wanted, procedure: &Procedure) -> Survey {
    let mut timed: Vec<&Solve> = solver.solves.iter().filter(|solve| solve.timed()).collect();
    timed.sort_by(|a, b| a.date.cmp(&b.date));
    let level = match timed.len() {
        0..LEAST_SOLVES => Level::Clock,
        LEAST_SOLVES..LEAST_FOR_PAIRS => Level::Singles,
        _ => Level::Pairs,
    };
    let days = days(&timed);
    // To shuffle days costs nothing, however many solves there are.
    let of_days = procedure;
    let procedure = &procedure.for_solves(timed.len());
    let outcome = findings(&Steps::new(timed.iter().map(|solve| solve.scored())), procedure);
    let mut found: Vec<Finding> = outcome.found.iter().map(|found| finding(found, &timed)).collect();
    let mut trend = (level != Level::Clock).then(|| stopped_trend(&timed, &days, of_days)).flatten();
    for (n, (finding, found)) in found.iter_mut().zip(&outcome.found).enumerate() {
        finding.trend = finding_trend(found, &timed, &days, of_days, n as u64);
    }
    let mut trends: Vec<&mut Trend> =
        trend.iter_mut().chain(found.iter_mut().filter_map(|finding| finding.trend.as_mut())).collect();
    let p: Vec<f64> = trends.iter().map(|trend| trend.slope.p).collect();
    for (trend, adjusted) in trends.iter_mut().zip(discovery::adjusted(&p)) {
        trend.stands_out = adjusted <= procedure.trends;
    }
    Survey {
        format: Format::Survey1,
        inputs,
        solver: solver.name.clone(),
        since: wanted.since.clone(),
        solves: timed.len(),
        untimed: solver.solves.len() - timed.len(),
        days: days.len(),
        first_day: days.keys().next().map(|&day| day.to_owned()),
        last_day: days.keys().last().map(|&day| day.to_owned()),
        clock: clock(&timed, procedure),
        accounted: timed.iter().filter(|solve| solve.account.is_some()).count(),
        by_day: by_day(&timed, &days),
        level,
        tested: outcome.tested,
        pairs_tested: outcome.pairs_tested,
        findings: found,
        trend,
        timeline: timed.iter().map(|solve| point(solve)).collect(),
        left_out: solver.left_out.clone(),
        others: Vec::new(),
        against: None,
        procedure: ProcedureUsed {
            shuffles: procedure.shuffles,
            draws: procedure.draws,
            seed: procedure.seed,
            singles: procedure.singles,
            further: Some(procedure.further),
            pairs: procedure.pairs,
            trends: procedure.trends,
        },
    }
}

/// The days, each with its number from 0.
fn days<'a>(timed: &[&'a Solve]) -> BTreeMap<&'a str, usize> {
    let mut days: BTreeMap<&str, usize> =
        timed.iter().filter_map(|solve| Some((solve.date.as_deref()?, 0))).collect();
    days.values_mut().zip(0..).for_each(|(number, n)| *number = n);
    days
}

/// The clock: of solves that are marked throughout, so that its parts add up; of time alone if there are none.
fn clock(timed: &[&Solve], procedure: &Procedure) -> Vec<Figure> {
    let accounts: Vec<[f64; Part::COUNT]> = timed.iter().filter_map(|solve| solve.account).collect();
    if accounts.is_empty() {
        let seconds: Vec<f64> = timed.iter().filter_map(|solve| solve.seconds).collect();
        return figure(Part::Time, seconds, procedure).into_iter().collect();
    }
    let of =
        |part: Part| figure(part, accounts.iter().map(|parts| parts[part as usize]).collect(), procedure);
    Part::ALL.into_iter().filter_map(of).collect()
}

fn figure(part: Part, figures: Vec<f64>, procedure: &Procedure) -> Option<Figure> {
    let n = figures.len();
    let seed = procedure.seed.wrapping_add(0xc10c);
    let mean = |times: &[u32]| {
        Some(times.iter().zip(&figures).map(|(&times, x)| f64::from(times) * x).sum::<f64>() / n as f64)
    };
    let drawn = draws(&[n], procedure.draws, seed, mean);
    let about = mean(&vec![1; n]).filter(|_| n > 0)?;
    let (low, high) = (quantile(&drawn, 0.1)?, quantile(&drawn, 0.9)?);
    let mut sorted = figures;
    sorted.sort_by(f64::total_cmp);
    Some(Figure {
        part,
        mean: about,
        low,
        high,
        lower_quarter: quantile(&sorted, 0.25)?,
        upper_quarter: quantile(&sorted, 0.75)?,
    })
}

fn by_day(timed: &[&Solve], days: &BTreeMap<&str, usize>) -> Vec<Day> {
    let mean =
        |figures: Vec<f64>| (!figures.is_empty()).then(|| figures.iter().sum::<f64>() / figures.len() as f64);
    let day = |&date: &&str| {
        let own = || timed.iter().filter(move |solve| solve.date.as_deref() == Some(date));
        Some(Day {
            date: date.to_owned(),
            solves: own().count(),
            seconds: mean(own().filter_map(|solve| solve.seconds).collect())?,
            stopped: mean(own().filter_map(|solve| Some(solve.account?[Part::Stopped as usize])).collect()),
        })
    };
    days.keys().filter_map(day).collect()
}

fn point(solve: &Solve) -> Point {
    let mut stops = [None; 4];
    for pair in &solve.pairs {
        stops[usize::from(pair.number.clamp(1, 4)) - 1] = pair.stop;
    }
    Point {
        file: solve.file.clone(),
        record: solve.record,
        title: solve.title.clone(),
        date: solve.date.clone(),
        seconds: solve.seconds.unwrap_or(0.0),
        stopped: solve.account.map(|parts| parts[Part::Stopped as usize]),
        stops,
        strip: solve.strip.clone(),
        page: None,
    }
}

/// The steps that the tests saw, in their order, each with its solve's number.
fn told<'a>(timed: &'a [&Solve]) -> impl Iterator<Item = (usize, &'a PairStep)> {
    timed.iter().enumerate().flat_map(|(n, solve)| {
        // As many of a solve as the tests take.
        solve.pairs.iter().filter(|pair| pair.stop.is_some()).take(4).map(move |pair| (n, pair))
    })
}

fn finding(found: &Found, timed: &[&Solve]) -> Finding {
    let holds = |pair: &PairStep| pair.given.has_all(&found.circumstances);
    let steps: Vec<(usize, &PairStep)> = told(timed).filter(|(_, pair)| holds(pair)).collect();
    let mut moments: Vec<Where> = steps
        .iter()
        .filter_map(|&(n, pair)| {
            let solve = timed[n];
            let stop = pair.stop.filter(|&stop| stop > 0.0)?;
            Some(Where {
                file: solve.file.clone(),
                record: solve.record,
                title: solve.title.clone(),
                step: pair.name,
                moment: pair.moment,
                stop,
                point: n,
            })
        })
        .collect();
    moments.sort_by(|a, b| b.stop.total_cmp(&a.stop));
    moments.truncate(MOST_MOMENTS);
    let says: Vec<&str> = found.circumstances.iter().map(|which| which.circumstance().says).collect();
    Finding {
        circumstances: found.circumstances.clone(),
        says: says.join(", and "),
        nearly: found.nearly.clone(),
        steps: found.steps,
        solves: found.solves,
        with: found.with,
        without: found.without,
        longer: found.longer,
        won: found.won,
        z: found.z,
        p: found.p,
        trend: None,
        moments,
        drill: drill(found, &steps),
    }
}

/// What to give to `drill`: positions with so many open pairs as these steps mostly had, where the kind takes that.
fn drill(found: &Found, steps: &[(usize, &PairStep)]) -> Option<String> {
    let of = found.circumstances.iter().find_map(|which| which.circumstance().drill)?;
    let mostly = (1..=4).find(|&number| {
        let n = steps.iter().filter(|(_, pair)| pair.number == number).count();
        n as f64 >= MOSTLY * steps.len() as f64
    });
    // Kinds about the position alone; the others speak of the turns before, with one pair more open.
    let alone = ["find", "none-up", "edge", "deduce"].iter().any(|kind| of.split(' ').next() == Some(kind));
    Some(match mostly {
        Some(number) if alone => format!("{of} --open {}", 5 - number),
        _ => of.to_owned(),
    })
}

fn tested(slope: Slope) -> Trend {
    Trend { slope, stands_out: false }
}

/// How the stopped time goes; where it is not marked throughout, the sum of the stops before pairs.
fn stopped_trend(timed: &[&Solve], days: &BTreeMap<&str, usize>, procedure: &Procedure) -> Option<Trend> {
    let all = timed.iter().all(|solve| solve.account.is_some());
    let figure = |solve: &&Solve| {
        let day = *days.get(solve.date.as_deref()?)?;
        let stops = || solve.pairs.iter().filter_map(|pair| pair.stop).sum();
        Some((day, if all { solve.account?[Part::Stopped as usize] } else { stops() }))
    };
    let figures: Vec<(usize, f64)> = timed.iter().filter_map(figure).collect();
    slope(&figures, procedure.shuffles, procedure.seed.wrapping_add(0x7e0d)).map(tested)
}

/// How much longer the steps with it stop than their counterparts, from day to day.
fn finding_trend(
    found: &Found,
    timed: &[&Solve],
    days: &BTreeMap<&str, usize>,
    procedure: &Procedure,
    n: u64,
) -> Option<Trend> {
    let figures: Vec<(usize, f64)> = told(timed)
        .filter(|(_, pair)| pair.given.has_all(&found.circumstances))
        .zip(&found.excess)
        .filter_map(|((solve, _), &excess)| Some((*days.get(timed[solve].date.as_deref()?)?, excess)))
        .collect();
    slope(&figures, procedure.shuffles, procedure.seed.wrapping_add(0x7e0e + n)).map(tested)
}

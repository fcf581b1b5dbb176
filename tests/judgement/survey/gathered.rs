//! What counts and what does not, whose solves are whose, and that the order of work decides nothing.

use cornerwise::annotate::{Settings, annotate};
use cornerwise::diagnostic::Source;
use cornerwise::record;
use cornerwise::study::Study;
use cornerwise::survey::facts::{Level, Part, Why};
use cornerwise::survey::stops::Procedure;
use cornerwise::survey::{Gathered, Solve, Survey, Wanted, against, survey};

use crate::support::season;

/// The season's solves, folded.
fn season() -> Vec<Solve> {
    season::files().iter().flat_map(|(name, text)| solves(name, text)).collect()
}

fn solves(name: &str, text: &str) -> Vec<Solve> {
    let source = Source::new(name, text);
    let reading = record::read(&source);
    let one = |(n, record): (usize, &record::Record)| {
        Solve::of(&annotate(&Study::new(&source, n + 1, record), &Settings::default()).facts)
    };
    reading.records.iter().enumerate().map(one).collect()
}

fn gathered(solves: &[Solve], wanted: &Wanted) -> Gathered {
    let mut gathered = Gathered::new(wanted.clone());
    for solve in solves {
        gathered.take(solve.clone());
    }
    gathered
}

fn quick() -> Procedure {
    Procedure { shuffles: 500, draws: 200, ..Procedure::default() }
}

fn of(solves: &[Solve], wanted: &Wanted) -> Survey {
    let (solvers, _) = gathered(solves, wanted).solvers();
    survey(&solvers[0], vec!["season".into()], wanted, &quick())
}

#[test]
fn the_parts_of_the_clock_add_up() {
    let survey = of(&season(), &Wanted::default());
    let mean =
        |part: Part| survey.clock.iter().find(|figure| figure.part == part).expect("all are told").mean;
    assert!((mean(Part::Turning) + mean(Part::Stopped) - mean(Part::Time)).abs() < 1e-6);
    let stopped: f64 = Part::ALL.into_iter().filter(|part| part.of_stopped()).map(mean).sum();
    assert!((stopped - mean(Part::Stopped)).abs() < 1e-6, "{stopped}");
    for figure in &survey.clock {
        assert!(figure.low <= figure.mean && figure.mean <= figure.high, "{figure:?}");
        assert!(figure.lower_quarter <= figure.upper_quarter);
    }
}

#[test]
fn the_same_solve_counts_once_and_what_is_left_out_is_named() {
    let mut all = season();
    let whole = of(&all, &Wanted::default());
    all.extend(all.clone());
    let text = "scramble: R U F\nsolution: F'\n---\nscramble: R U F\nsolution: F' U' Q\n";
    all.extend(solves("broken.yaml", text));
    let twice = of(&all, &Wanted::default());
    assert_eq!(twice.solves, whole.solves);
    assert_eq!((&twice.clock, &twice.findings), (&whole.clock, &whole.findings));
    let why: Vec<Why> = twice.left_out.iter().map(|out| out.why).collect();
    assert_eq!(why.iter().filter(|&&why| why == Why::Twice).count(), 40);
    assert_eq!(why[40..], [Why::NotSolved, Why::Fault], "{:?}", &twice.left_out[40..]);
}

#[test]
fn each_solver_with_enough_solves_gets_a_report() {
    let mut all = season();
    for (n, solve) in all.iter_mut().enumerate() {
        solve.solver =
            [Some("dunlin".to_owned()), Some("eider".to_owned()), None][[0, 0, 1, 1, 2][n % 5]].clone();
    }
    let (solvers, others) = gathered(&all, &Wanted::default()).solvers();
    let named: Vec<(Option<&str>, usize)> =
        solvers.iter().map(|solver| (solver.name.as_deref(), solver.solves.len())).collect();
    assert_eq!(named, [(Some("dunlin"), 16), (Some("eider"), 16)]);
    assert_eq!(others.len(), 1);
    assert_eq!((others[0].solver.as_deref(), others[0].solves), (None, 8));
    let wanted = Wanted { solver: Some("eider".into()), since: Some("2026-05-02".into()) };
    let since = of(&all, &wanted);
    assert_eq!((since.solves, since.level), (8, Level::Clock));
    assert!(since.findings.is_empty() && since.tested.is_empty());
    assert!(since.left_out.iter().all(|out| out.why == Why::Earlier));
}

#[test]
fn the_facts_are_the_same_at_any_thread_count_and_read_back() {
    let all = season();
    let with = |threads: usize| {
        let pool = rayon::ThreadPoolBuilder::new().num_threads(threads).build().expect("threads");
        pool.install(|| of(&all, &Wanted::default()))
    };
    let one = with(1);
    assert_eq!(with(3), one);
    assert_eq!(with(8), one);
    let json = serde_json::to_string(&one).expect("plain data");
    assert_eq!(serde_json::from_str::<Survey>(&json).expect("it reads back"), one);
}

/// The same folder beside itself differs in nothing; one without the habit differs in the stops.
#[test]
fn beside_another_folder_only_what_differs_stands_out() {
    let all = season();
    let solver = gathered(&all, &Wanted::default()).together();
    let same = against(&solver, &solver, vec!["season".into()], &quick()).expect("forty on each side");
    for beside in same.clock.iter().chain(&same.choices).chain(&same.circumstances) {
        assert!(!beside.stands_out && beside.own == beside.other, "{beside:?}");
        assert!(beside.low <= 1e-9 && beside.high >= -1e-9, "{beside:?}");
    }
    let mut calm = solver.clone();
    for solve in &mut calm.solves {
        if let Some(parts) = &mut solve.account {
            parts[Part::Stopped as usize] *= 0.5;
        }
    }
    let differs =
        against(&solver, &calm, vec!["calm".into()], &Procedure { draws: 200, ..Procedure::default() })
            .expect("forty on each side");
    let out: Vec<_> = differs.clock.iter().filter(|beside| beside.stands_out).collect();
    assert_eq!(out.len(), 1, "{out:?}");
    assert!(out[0].low > 0.0 && differs.circumstances.iter().all(|beside| !beside.stands_out));
}

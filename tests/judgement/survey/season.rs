//! `reconstructions/season` is what `tests/support/season.rs` makes, every record of it is sound, and the habit that was
//! planted is what a survey names.
//!
//! `CORNERWISE_UPDATE_DOCS=1 cargo test --test judgement survey::season` writes it anew.

use std::fs;
use std::path::Path;

use cornerwise::annotate::{Settings, annotate};
use cornerwise::annotation::Judged;
use cornerwise::diagnostic::Source;
use cornerwise::record;
use cornerwise::study::Study;
use cornerwise::survey::facts::Level;
use cornerwise::survey::stops::Procedure;
use cornerwise::survey::{Gathered, Solve, Wanted, survey};

use crate::support::season;

#[test]
fn the_season_is_what_is_made_and_the_habit_is_found() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("reconstructions/season");
    let mut gathered = Gathered::new(Wanted::default());
    let made = season::files();
    assert_eq!(fs::read_dir(&folder).map_or(made.len(), Iterator::count), made.len());
    for (name, text) in &made {
        let path = folder.join(name);
        if std::env::var_os("CORNERWISE_UPDATE_DOCS").is_some() {
            fs::create_dir_all(&folder).expect("the folder");
            fs::write(&path, text).expect("written");
        }
        let kept = fs::read_to_string(&path).expect("it is kept").replace('\r', "");
        assert!(&kept == text, "{name} is not what is made; CORNERWISE_UPDATE_DOCS=1 writes it");
        let source = Source::new(name, &kept);
        let reading = record::read(&source);
        assert!(reading.diagnostics.is_empty());
        for (n, record) in reading.records.iter().enumerate() {
            let annotated = annotate(&Study::new(&source, n + 1, record), &Settings::default());
            // Nothing to remark on: no fault, no claim that does not hold, no mark that does not fit.
            assert!(annotated.diagnostics.is_empty(), "{name}#{}: {:?}", n + 1, annotated.diagnostics);
            assert_eq!(annotated.facts.end.judged, Judged::Solved);
            let timing = &annotated.facts.timing;
            let parts = timing.turning.expect("marked") + timing.stopped.expect("marked");
            assert!((parts - annotated.facts.seconds.expect("timed")).abs() < 1e-6);
            gathered.take(Solve::of(&annotated.facts));
        }
    }
    let (solvers, others) = gathered.solvers();
    assert!(others.is_empty() && solvers.len() == 1);
    let survey = survey(&solvers[0], vec!["season".into()], &Wanted::default(), &Procedure::default());
    assert_eq!((survey.solver.as_deref(), survey.level), (Some(season::SOLVER), Level::Pairs));
    assert!(survey.solves >= 30 && survey.days == 8, "{} {}", survey.solves, survey.days);
    let first = survey.findings.first().expect("the habit");
    assert_eq!(first.circumstances, [season::HABIT.parse().expect("a circumstance")]);
}

//! How fast verdicts are: one record, every line, and many records on all cores.
//!
//! Each asserts what it counted before it is measured. Instructions, which repeat where seconds do not, for a
//! process that annotates one record of the folder:
//!
//! ```text
//! cargo build --release
//! valgrind --tool=callgrind --callgrind-out-file=target/callgrind.out \
//!     target/release/cornerwise annotate reconstructions/all-four-tiers.yaml
//! ```

#[path = "../support/mod.rs"]
mod support;

use cornerwise::annotate::{Settings, annotate};
use cornerwise::annotation::Annotation;
use cornerwise::diagnostic::Source;
use cornerwise::record::{self, Record};
use cornerwise::search::Kind;
use cornerwise::study::Study;
use rayon::prelude::*;
use support::solver;

fn main() {
    divan::main();
}

const RECORD: &str = include_str!("../../reconstructions/all-four-tiers.yaml");

fn read(text: &str) -> (Source, Record) {
    let source = Source::from_bytes("bench.yaml", text.as_bytes().to_vec()).expect("text");
    let record = record::read(&source).records.remove(0);
    (source, record)
}

fn lines(facts: &Annotation) -> usize {
    facts.steps.iter().filter_map(|step| step.choice.as_ref()).map(|choice| choice.lines).sum()
}

fn every_line() -> Settings {
    let mut settings = Settings::default();
    settings.choice.kind = Kind::Every;
    settings
}

/// A record of the folder with the default bound; tables are there already.
#[divan::bench]
fn one_record(bencher: divan::Bencher) {
    let (source, record) = read(RECORD);
    let settings = Settings::default();
    let run = || annotate(&Study::new(&source, 1, divan::black_box(&record)), &settings);
    assert_eq!(lines(&run().facts), 3 + 90 + 7);
    bencher.bench(run);
}

/// The same with all lines, up to nine turns.
#[divan::bench]
fn one_record_every_line(bencher: divan::Bencher) {
    let (source, record) = read(RECORD);
    let settings = every_line();
    let run = || annotate(&Study::new(&source, 1, divan::black_box(&record)), &settings);
    assert!(lines(&run().facts) > 3 + 90 + 7);
    bencher.bench(run);
}

/// A thousand made records, on as many threads as there are cores.
#[divan::bench(sample_count = 5, sample_size = 1)]
fn a_thousand_records(bencher: divan::Bencher) {
    let (mut rng, mut solver) = (solver::Rng::new(1000), solver::Solver::new());
    let style = solver::Style::default();
    let made: Vec<(Source, Record)> = (0..1000)
        .map(|i| {
            let solve = solver.random(&mut rng, &solver::Options::default());
            read(&solve.yaml(&format!("made {i}"), &style, &mut rng))
        })
        .collect();
    let settings = Settings::default();
    let run = || {
        let solved = made
            .par_iter()
            .filter(|(source, record)| annotate(&Study::new(source, 1, record), &settings).facts.solved);
        solved.count()
    };
    assert_eq!(run(), 1000);
    bencher.bench(run);
}

//! What annotating a record takes, and how fast pasted text is read and replayed. Run with `cargo bench --bench
//! annotate`; `docs/speed.md` has the numbers.

use cornerwise::annotate::{Settings, annotate};
use cornerwise::cube::Moves;
use cornerwise::diagnostic::Source;
use cornerwise::record;
use cornerwise::replay::Replay;
use cornerwise::study::Study;
use divan::counter::ItemsCount;

fn main() {
    divan::main();
}

/// How many records a file has here.
const RECORDS: usize = 100;

const YAML: &str = include_str!("../../reconstructions/all-four-tiers.yaml");

/// One file with many records as plain text: scramble, blank line, solution, nothing else.
fn plain() -> Source {
    let record = &record::read(&Source::new("one", YAML)).records[0];
    let scramble: Vec<_> = record.scramble.playable().collect();
    let solution: Vec<_> = record.solution.playable().collect();
    let one = format!("{}\n\n{}\n", Moves::of(&scramble), Moves::of(&solution));
    Source::new("plain", vec![one; RECORDS].join("---\n"))
}

/// Reads and replays every record: how many, how many moments, and how many end solved.
fn read_and_replay(source: &Source) -> (usize, usize, usize) {
    let reading = record::read(divan::black_box(source));
    let mut counts = (reading.records.len(), 0, 0);
    for record in &reading.records {
        let replay = Replay::new(record.scramble.playable(), record.solution.playable());
        counts.1 += replay.moments.len();
        counts.2 += usize::from(replay.end().state.is_solved());
    }
    counts
}

#[divan::bench]
fn read_and_replay_plain_text(bencher: divan::Bencher) {
    let source = plain();
    assert_eq!(read_and_replay(&source), (RECORDS, RECORDS * 57, RECORDS));
    bencher.counter(ItemsCount::new(RECORDS)).bench(|| read_and_replay(&source));
}

/// Everything that is said of a solve, from the record on: steps, scan, sight, time, and every line there was at
/// three of its four pair steps.
#[divan::bench]
fn annotate_one_record(bencher: divan::Bencher) {
    let source = Source::new("one", YAML);
    let record = &record::read(&source).records[0];
    let verdicts = || {
        let facts = annotate(&Study::new(divan::black_box(&source), 1, record), &Settings::default()).facts;
        facts.steps.iter().filter(|step| step.choice.is_some()).count()
    };
    assert_eq!(verdicts(), 3);
    bencher.counter(ItemsCount::new(1_usize)).bench(verdicts);
}

/// Without the search for other lines: the record broken off after its first pair, which no other follows.
#[divan::bench]
fn annotate_without_choice(bencher: divan::Bencher) {
    let source = Source::new("one", YAML);
    let mut record = record::read(&source).records[0].clone();
    // With one pair step left there is none that another follows.
    record.solution.tokens.truncate(12);
    let steps = || annotate(&Study::new(divan::black_box(&source), 1, &record), &Settings::default()).facts;
    assert!(steps().steps.iter().all(|step| step.choice.is_none()));
    bencher.counter(ItemsCount::new(1_usize)).bench(steps);
}

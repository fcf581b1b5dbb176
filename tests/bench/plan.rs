//! How fast plans and drills are made. Run with `cargo bench --bench plan`; `docs/speed.md` has the figures.
//!
//! Each asserts what it made before it is measured.

use cornerwise::annotate::{Settings, annotate};
use cornerwise::cube::{Colour, PairSet, Position, Slot};
use cornerwise::diagnostic::Source;
use cornerwise::drill::{Drills, Kind, Random, Wish, draw, turned_over};
use cornerwise::plan::{self, Planner};
use cornerwise::record::{self, DEFAULT_SIGHT};
use cornerwise::scramble::scramble;
use cornerwise::study::Study;

fn main() {
    divan::main();
}

const RECORD: &str = include_str!("../../reconstructions/fork-after-first-pair.yaml");

/// A record with four open pairs, by a planner that has looked for nothing yet.
#[divan::bench]
fn one_record_cold(bencher: divan::Bencher) {
    let source = Source::new("bench", RECORD);
    let reading = record::read(&source);
    let study = Study::new(&source, 2, &reading.records[1]);
    let facts = annotate(&study, &Settings::default()).facts;
    let run = || {
        let planner = Planner::new(plan::Settings::default());
        plan::plan(&study, &facts, &planner, None, false).expect("a plan")
    };
    assert_eq!(run().orders[0].late, 0);
    bencher.bench(run);
}

fn positions(open: usize) -> Vec<Position> {
    let set: PairSet = Slot::ALL[..open].iter().copied().collect();
    let one = |n| {
        let state = draw::with_open(&mut Random::new(5, n), Colour::White, set);
        Position { state, hold: turned_over(Colour::White).1 }
    };
    (0..100).map(one).collect()
}

/// A hundred drawn positions, by a planner that keeps the lines it found.
#[divan::bench(args = [2, 3, 4], sample_count = 5, sample_size = 1)]
fn a_hundred_positions(bencher: divan::Bencher, open: usize) {
    let positions = positions(open);
    let planner = Planner::new(plan::Settings::default());
    let run = || {
        let best = |at| planner.best(at, Colour::White, DEFAULT_SIGHT, None).0.expect("an order");
        positions.iter().map(best).filter(|order| order.late == 0).count()
    };
    assert!(run() > 90);
    bencher.bench(run);
}

/// A scramble to a drawn position; the tables are there.
#[divan::bench(args = [1, 2, 4])]
fn one_scramble(bencher: divan::Bencher, open: usize) {
    let positions = positions(open);
    let mut random = Random::new(6, 0);
    let mut n = 0;
    let mut run = move || {
        n += 1;
        scramble(&positions[n % positions.len()].state, &mut |below| random.below(below))
            .expect("found")
            .len()
    };
    assert!(run() <= cornerwise::scramble::MOST_TURNS);
    bencher.bench_local(run);
}

/// One position of each kind that draws many.
#[divan::bench(args = ["find", "none-up", "target", "turn-first", "hidden", "whole"], sample_count = 10, sample_size = 1)]
fn one_position(bencher: divan::Bencher, kind: &str) {
    let kind = Kind::ALL.into_iter().find(|other| other.word() == kind).expect("a kind");
    let drills = Drills::new(Wish::of(kind, Colour::White), 3).expect("it can be met");
    let mut number = 0;
    let mut run = move || {
        number += 1;
        drills.one(number).expect("it is met").drawn
    };
    assert!(run() > 0);
    bencher.bench_local(run);
}

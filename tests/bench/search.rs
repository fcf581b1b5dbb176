//! How long searches take: `cargo bench --bench search`. Every count is asserted, so that what is fast is
//! also right.

#[path = "../search/positions.rs"]
mod positions;

use cornerwise::cube::{Colour, State};
use cornerwise::search::{Kind, count, lines, shortest};
use divan::{Bencher, black_box};

use positions::{Numbers, with_pairs_solved};

fn main() {
    divan::main();
}

/// One position for each number of solved pairs: the starts of the four pair steps of a solve.
fn steps() -> [State; 4] {
    let mut numbers = Numbers(1);
    [0, 1, 2, 3].map(|solved| with_pairs_solved(&mut numbers, Colour::White, solved))
}

/// The three pair steps of a record that have a choice, all lines up to a bound.
fn record(bencher: Bencher, kind: Kind, bound: usize, counts: [usize; 3]) {
    let steps = steps();
    for (state, expected) in steps.iter().zip(counts) {
        assert_eq!(count(state, Colour::White, kind, bound), expected);
    }
    bencher.bench(|| {
        steps[..3].iter().map(|state| lines(black_box(state), Colour::White, kind, bound).len()).sum::<usize>()
    });
}

#[divan::bench]
fn hand_lines_to_8(bencher: Bencher) {
    record(bencher, Kind::Hand, 8, [0; 3]);
}

#[divan::bench]
fn hand_lines_to_9(bencher: Bencher) {
    record(bencher, Kind::Hand, 9, [0; 3]);
}

#[divan::bench]
fn hand_lines_to_10(bencher: Bencher) {
    record(bencher, Kind::Hand, 10, [0; 3]);
}

#[divan::bench]
fn hand_lines_to_11(bencher: Bencher) {
    record(bencher, Kind::Hand, 11, [0; 3]);
}

#[divan::bench]
fn every_line_to_8(bencher: Bencher) {
    record(bencher, Kind::Every, 8, [0; 3]);
}

#[divan::bench]
fn every_line_to_9(bencher: Bencher) {
    record(bencher, Kind::Every, 9, [0; 3]);
}

//! How long searches take: `cargo bench --bench search`. Every count is asserted, so what is fast is also
//! right. The tables are made before the clock starts, except where their making is what is measured.

use cornerwise::cube::{Colour, Pair, State};
use cornerwise::search::{Kind, count, lines, shortest};
use divan::{Bencher, black_box};

#[path = "../cube/search/positions.rs"]
mod positions;
#[path = "../support/random.rs"]
#[allow(dead_code, reason = "only some of it is used here")]
mod random;

fn main() {
    divan::main();
}

const CROSS: Colour = Colour::White;

/// The starts of the three pair steps of a solve that have a choice.
fn record() -> [State; 3] {
    let mut random = random::Random::new(1);
    [0, 1, 2].map(|solved| {
        positions::played(&positions::with_pairs_solved(&mut |below| random.below(below), CROSS, solved))
    })
}

/// All lines up to a bound at each step of a record. `counts`: how many there are.
fn all_lines(bencher: Bencher, kind: Kind, bound: usize, counts: [usize; 3]) {
    let record = record();
    assert_eq!(record.map(|state| count(&state, CROSS, kind, bound)), counts);
    bencher.bench(|| record.map(|state| lines(black_box(&state), CROSS, kind, bound).len()));
}

#[divan::bench]
fn hand_lines_to_08(bencher: Bencher) {
    all_lines(bencher, Kind::Hand, 8, [114, 34, 8]);
}

#[divan::bench]
fn hand_lines_to_09(bencher: Bencher) {
    all_lines(bencher, Kind::Hand, 9, [525, 149, 38]);
}

#[divan::bench]
fn hand_lines_to_10(bencher: Bencher) {
    all_lines(bencher, Kind::Hand, 10, [2160, 515, 130]);
}

#[divan::bench]
fn hand_lines_to_11(bencher: Bencher) {
    all_lines(bencher, Kind::Hand, 11, [8040, 2126, 408]);
}

#[divan::bench]
fn every_line_to_8(bencher: Bencher) {
    all_lines(bencher, Kind::Every, 8, [3545, 339, 78]);
}

#[divan::bench]
fn every_line_to_9(bencher: Bencher) {
    all_lines(bencher, Kind::Every, 9, [31359, 2761, 480]);
}

/// The shortest hand line of every open pair after every hand line to 9, answers remembered.
#[divan::bench]
fn shortest_after_each_hand_line_to_9(bencher: Bencher) {
    let ends: Vec<State> = record()
        .iter()
        .flat_map(|state| {
            lines(state, CROSS, Kind::Hand, 9).iter().map(|line| line.end(*state)).collect::<Vec<_>>()
        })
        .collect();
    let all = || {
        ends.iter()
            .flat_map(|end| {
                Pair::all(CROSS).map(|pair| shortest(black_box(end), CROSS, pair, Kind::Hand, 11))
            })
            .flatten()
            .sum::<usize>()
    };
    assert_eq!(all(), 12_924);
    bencher.bench(all);
}

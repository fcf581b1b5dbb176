//! A second implementation of the judgment, from its definitions only: slow, obvious, on stickers in space.
//!
//! It shares nothing with the library but the plain names of moves, faces and colours; what is compared with the
//! library stands in the files that begin with `against_`. A difference between the two is decided by the words of
//! `docs/method.md`.

mod against_annotation;
mod against_clock;
mod against_hands;
mod against_judgement;
mod against_sight;
pub mod causes;
mod checks;
pub mod clock;
pub mod cost;
pub mod grammar;
pub mod lines;
pub mod offers;
pub mod sight;
pub mod steps;
pub mod stickers;

use std::sync::OnceLock;

use cornerwise::cube::{Colour, Move};

/// The colour across (common practice: white is opposite yellow, green opposite blue, red opposite orange).
pub fn opposite(colour: Colour) -> Colour {
    match colour {
        Colour::White => Colour::Yellow,
        Colour::Yellow => Colour::White,
        Colour::Green => Colour::Blue,
        Colour::Blue => Colour::Green,
        Colour::Red => Colour::Orange,
        Colour::Orange => Colour::Red,
    }
}

/// Moves as they are written.
pub fn written(moves: &[Move]) -> String {
    moves.iter().map(Move::to_string).collect::<Vec<_>>().join(" ")
}

/// Where the random numbers of a test begin. By default always in the same place. Slow runs move on from one to the next,
/// so that many runs see many solves: the number of the run is in `CORNERWISE_RUN`, or else in a file under `target/`
/// that every run moves on by one. It is printed, so that a run can be repeated.
pub fn seed(first: u64) -> u64 {
    let run = if crate::support::switch::slow() { run() } else { 0 };
    say(&format!("seed {first}, run {run} (CORNERWISE_RUN={run})"));
    first + 1_000_003 * run
}

/// The number of this run: the same for all tests of one process.
fn run() -> u64 {
    static RUN: OnceLock<u64> = OnceLock::new();
    *RUN.get_or_init(|| {
        if let Ok(run) = std::env::var("CORNERWISE_RUN") {
            return run.parse().expect("CORNERWISE_RUN is a number");
        }
        let file = std::path::Path::new(env!("CARGO_TARGET_TMPDIR")).join("second-implementation-run");
        let run = std::fs::read_to_string(&file).ok().and_then(|text| text.trim().parse().ok()).unwrap_or(0);
        std::fs::write(&file, (run + 1).to_string()).expect("the next run is noted under target/");
        run
    })
}

#[expect(clippy::print_stdout, reason = "what was compared is told, as is how to repeat it")]
pub fn say(text: &str) {
    println!("{text}");
}

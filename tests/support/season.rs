//! The season of one invented person, made to order: `reconstructions/season` is what this file writes.
//!
//! Forty made solves on eight Saturdays. Stops are scattered by chance, fewer as the season goes on, and one habit is
//! planted: before a pair whose edge stands in a slot the hands wait longer, two times in three.

use std::fmt::Write as _;

use cornerwise::annotate::{Settings, annotate};
use cornerwise::cube::{Colour, Move};
use cornerwise::diagnostic::Source;
use cornerwise::record;
use cornerwise::study::Study;
use cornerwise::survey::Solve as Folded;
use cornerwise::survey::circumstance::Which;

use super::solver::{Kind, Options, Rng, Solve, Solver, Style};

/// Whose season it is: nobody's.
pub const SOLVER: &str = "dunlin";
/// The planted habit.
pub const HABIT: &str = "edge-down";
/// The Saturdays.
const DAYS: [&str; 8] = [
    "2026-04-04",
    "2026-04-11",
    "2026-04-18",
    "2026-04-25",
    "2026-05-02",
    "2026-05-09",
    "2026-05-16",
    "2026-05-23",
];
/// Solves a day.
const A_DAY: usize = 5;

/// The files, by name, with their texts.
pub fn files() -> Vec<(String, String)> {
    let (mut solver, mut rng) = (Solver::new(), Rng::new(11));
    let mut files = Vec::new();
    for (n, day) in DAYS.into_iter().enumerate() {
        let text: Vec<String> = (0..A_DAY)
            .map(|k| {
                let options = Options { cross: Some(Colour::White), wide: k % 2 == 0, ..Options::default() };
                let solve = solver.random(&mut rng, &options);
                one(&solve, n, k, &mut rng)
            })
            .collect();
        let head =
            format!("# Invented, as is {SOLVER}: made by tests/support/season.rs, with a habit planted.\n");
        files.push((format!("{day}.yaml"), head + &text.join("---\n")));
    }
    files
}

/// Whether the habit holds before each pair step, in order.
fn habit(solve: &Solve, rng: &Rng) -> Vec<bool> {
    let text = solve.yaml("to be timed", &Style::default(), &mut rng.clone());
    let source = Source::new("made", &text);
    let reading = record::read(&source);
    let annotated = annotate(&Study::new(&source, 1, &reading.records[0]), &Settings::default());
    let which: Which = HABIT.parse().expect("a circumstance");
    Folded::of(&annotated.facts).pairs.iter().map(|pair| pair.given.has(which)).collect()
}

fn one(solve: &Solve, day: usize, k: usize, rng: &mut Rng) -> String {
    const ORDINALS: [&str; A_DAY] = ["first", "second", "third", "fourth", "fifth"];
    let mut habit = habit(solve, rng).into_iter();
    // Fewer and shorter as the season goes on.
    let better = 1.0 - 0.05 * day as f64;
    let mut clock = 0.0;
    let (mut lines, mut n_pairs, mut begun) = (String::new(), 0, false);
    for step in &solve.steps {
        let mut stop: f64 = 0.04 + 0.14 * rng.unit();
        let mut chance = |often: f64, longest: f64| {
            if rng.chance(often * better) {
                stop = 0.3 + (longest - 0.3) * better * rng.unit();
            }
        };
        let comment = match step.kind {
            Kind::Inspection => "inspection".to_owned(),
            Kind::Cross => "x".repeat(step.pairs.len()) + "cross",
            Kind::Pair => {
                chance([0.2, 0.35, 0.3, 0.25][n_pairs.min(3)], 0.9);
                let names: Vec<&str> = (0..step.pairs.len())
                    .map(|k| ["1st", "2nd", "3rd", "4th"][(n_pairs + k).min(3)])
                    .collect();
                format!("{} pair{}", names.join(" and "), if names.len() > 1 { "s" } else { "" })
            }
            Kind::Orient => {
                chance(0.7, 0.75);
                format!("OLL {}", step.case.as_deref().unwrap_or_default())
            }
            Kind::Permute => {
                chance(0.6, 0.65);
                format!("PLL {}", step.case.as_deref().unwrap_or_default())
            }
            Kind::Adjust => "AUF".to_owned(),
        };
        if step.kind == Kind::Pair && habit.next() == Some(true) && rng.chance(0.65) {
            stop += 0.45;
        }
        n_pairs += step.pairs.len();
        // Rotations at the beginning are made while the hands do not turn.
        let turned = step.moves.iter().take_while(|mv| mv.is_rotation()).count();
        let (before, turns) = step.moves.split_at(turned);
        let mut words: Vec<String> = before.iter().map(Move::to_string).collect();
        if !turns.is_empty() {
            if begun {
                clock += stop + 0.1 * turned as f64;
            }
            begun = true;
            words.push(format!("<{clock:.2}>"));
            words.extend(turns.iter().map(Move::to_string));
            // What is written is what the next mark counts from.
            clock += turns.iter().map(|mv| 0.12 + 0.06 * rng.unit() + 0.03 * mv.obtm() as f64).sum::<f64>();
            clock = (clock * 100.0).round() / 100.0;
            words.push(format!("<{clock:.2}>"));
        }
        let _ = writeln!(lines, "  {}  // {comment}", words.join(" "));
    }
    let scramble: Vec<String> = solve.scramble.iter().map(Move::to_string).collect();
    format!(
        "title: Quay Practice, season {}, {} of five\nsolver: {SOLVER}\ndate: {}\nscramble: {}\ntime: {clock:.2}\nsolution: |\n{lines}",
        day + 1,
        ORDINALS[k],
        DAYS[day],
        scramble.join(" ")
    )
}

//! What `mend` finds of damage larger than a slip, measured: tokens and lines lost, lines swapped or pasted twice.
//!
//! The table in `docs/mend.md` is what this prints for 200 solves.

use std::fmt::Write as _;

use crate::support::damage::{DAMAGES, Damage, damage};
use crate::support::slips;
use crate::support::solver::{Marks, Options, Rng, Solver, Style};
use crate::support::switch;
use cornerwise::mend::rank::effect::Effect;
use cornerwise::mend::{self, Health, Settings, Slip, Standing, text};
use cornerwise::record::Record;
use cornerwise::study::Study;
use rayon::prelude::*;

/// What became of the damaged records of one kind.
#[derive(Debug, Clone, Copy, Default)]
struct Tally {
    noticed: usize,
    found: usize,
    first: usize,
    first_three: usize,
    clear: usize,
    clear_but_wrong: usize,
    /// The true repair came first, and could not be written into the text.
    unwritten: usize,
}

impl Tally {
    fn and(self, other: Tally) -> Tally {
        Tally {
            noticed: self.noticed + other.noticed,
            found: self.found + other.found,
            first: self.first + other.first,
            first_three: self.first_three + other.first_three,
            clear: self.clear + other.clear,
            clear_but_wrong: self.clear_but_wrong + other.clear_but_wrong,
            unwritten: self.unwritten + other.unwritten,
        }
    }

    fn percent(self, n: usize) -> f64 {
        100.0 * n as f64 / self.noticed.max(1) as f64
    }

    fn row(self, name: &str) -> String {
        let [found, first, three, clear, wrong] =
            [self.found, self.first, self.first_three, self.clear, self.clear_but_wrong]
                .map(|n| format!("{:.1}", self.percent(n)));
        format!("| {name} | {} | {found} | {first} | {three} | {clear} | {wrong} |\n", self.noticed)
    }
}

fn effect(record: &Record) -> Effect {
    Effect::of(record.scramble.playable(), record.solution.playable())
}

/// One damaged record mended; nothing where the damage cannot be noticed: the record still comes out, or its last line
/// is missing and it merely breaks off.
fn measure(damaged: &str, whole: &str) -> Tally {
    let (source, record) = slips::first(damaged);
    let examination = mend::examine(&Study::new(&source, 1, &record), &Settings::default());
    if matches!(examination.health, Health::Sound | Health::Unfinished) {
        return Tally::default();
    }
    let wanted = effect(&slips::first(whole).1);
    let place = examination.ranked.repairs.iter().position(|repair| repair.effect == wanted);
    let within = |n: usize| usize::from(place.is_some_and(|place| place < n));
    let clear = examination.standing == Standing::Clear;
    let first = examination.ranked.repairs.first().filter(|_| place == Some(0));
    let unwritten = match first.map(|first| text::mended(&source, 0, &record, first)) {
        None => false,
        Some(Err(_)) => true,
        Some(Ok(mended)) => {
            let (_, again) = slips::first(&mended);
            assert_eq!(effect(&again), wanted, "{damaged}\n{mended}");
            // No word is lost.
            let comments = |record: &Record| {
                let mut texts: Vec<String> =
                    record.solution.comments.iter().map(|comment| comment.text.clone()).collect();
                texts.sort();
                texts
            };
            assert_eq!(comments(&again), comments(&record), "{damaged}\n{mended}");
            false
        }
    };
    Tally {
        noticed: 1,
        found: usize::from(place.is_some()),
        first: within(1),
        first_three: within(3),
        clear: usize::from(clear),
        clear_but_wrong: usize::from(clear && place != Some(0)),
        unwritten: usize::from(unwritten),
    }
}

/// Made solves, written as differently as people write.
fn corpus(n: usize) -> Vec<String> {
    let mut solver = Solver::new();
    let mut rng = Rng::new(77);
    (0..n)
        .map(|i| {
            let options = Options { wide: i % 4 == 0, turn_the_cube: 0.3, ..Options::default() };
            let marks = [Marks::None, Marks::Ends, Marks::None, Marks::Both][i % 4];
            let style = Style { marks, lower_case: i % 2 == 0, ..Style::default() };
            let solve = solver.random(&mut rng, &options);
            if i % 3 == 2 { solve.plain(&style, &mut rng) } else { solve.yaml("made", &style, &mut rng) }
        })
        .collect()
}

fn measured(texts: &[String]) -> Vec<(Damage, Tally)> {
    (0u64..)
        .zip(DAMAGES)
        .map(|(k, kind)| {
            let tallies = texts.par_iter().enumerate().filter_map(|(i, text)| {
                let mut rng = Rng::new(1000 * i as u64 + k);
                Some(measure(&damage(text, kind, &mut rng)?, text))
            });
            (kind, tallies.reduce(Tally::default, Tally::and))
        })
        .collect()
}

#[expect(clippy::print_stdout, reason = "the table of the documents is taken from here")]
fn show(table: &str) {
    println!("{table}");
}

#[test]
fn harder_damage_is_mostly_mended_and_never_wrongly_sure() {
    let slow = switch::slow();
    let tallies = measured(&corpus(if slow { 60 } else { 12 }));
    let mut table = String::new();
    for (kind, tally) in &tallies {
        table.push_str(&tally.row(&kind.name()));
    }
    let all = tallies.iter().fold(Tally::default(), |all, (_, tally)| all.and(*tally));
    let _ = write!(table, "{}", all.row("**all**"));
    show(&table);
    for (kind, tally) in &tallies {
        let least = if slow { 70.0 } else { 50.0 };
        assert!(tally.noticed >= 8 && tally.percent(tally.first_three) >= least, "{kind:?}\n{table}");
        assert_eq!(tally.unwritten, 0, "{kind:?}\n{table}");
        assert_eq!(tally.clear_but_wrong, 0, "{kind:?}\n{table}");
    }
    assert!(all.percent(all.first_three) >= 85.0, "{table}");
}

/// Two lines exchanged, as the writer would put them back: comments and marks go with their lines.
#[test]
fn lines_go_back_as_they_were() {
    for text in corpus(12) {
        for kind in [Damage::LinesSwapped, Damage::LinesExchanged] {
            let mut rng = Rng::new(text.len() as u64);
            let Some(damaged) = damage(&text, kind, &mut rng) else { continue };
            let (source, record) = slips::first(&damaged);
            let examination = mend::examine(&Study::new(&source, 1, &record), &Settings::default());
            if examination.health == Health::Sound {
                continue;
            }
            let mended =
                text::mended(&source, 0, &record, &examination.ranked.repairs[0]).expect("it can be written");
            assert_eq!(mended, text, "{damaged}");
        }
    }
}

/// A lost line is worked out, not read: it is proposed, on a line of its own, and never written unasked.
#[test]
fn a_lost_line_is_proposed_on_a_line_of_its_own() {
    let whole = include_str!("../../reconstructions/fork-after-first-pair.yaml");
    let (_, sound) = slips::first(whole);
    let n_lines = |text: &str| text.lines().count();
    let mut n_lost = 0;
    for line in whole.lines().filter(|line| line.contains("pair")) {
        let turns = line.split("//").next().unwrap_or("").trim();
        if turns.split_whitespace().count() < 6 {
            continue;
        }
        for damaged in [whole.replacen(&format!("{line}\n"), "", 1), whole.replacen(turns, "", 1)] {
            let (source, record) = slips::first(&damaged);
            let examination = mend::examine(&Study::new(&source, 1, &record), &Settings::default());
            let Some(first) = examination.ranked.repairs.first() else { continue };
            if first.changes[0].slip != Slip::LineLost {
                continue;
            }
            n_lost += 1;
            assert_ne!(examination.standing, Standing::Clear);
            // Two lines of one length may do the very same: then either may stand first.
            let mut three = examination.ranked.repairs.iter().take(3);
            let repair =
                three.find(|repair| repair.effect == effect(&sound)).expect("it is among the first three");
            let mended = text::mended(&source, 0, &record, repair).expect("it can be written");
            assert_eq!(n_lines(&mended), n_lines(whole), "{mended}");
            assert_eq!(effect(&slips::first(&mended).1), effect(&sound), "{mended}");
        }
    }
    assert!(n_lost >= 2, "{n_lost}");
}

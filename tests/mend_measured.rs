//! What `mend` finds, measured: sound records damaged by random slips, one and two at a time.
//!
//! `docs/mend-benchmark.md` is written by this test; see its head for the command. Without an environment
//! variable only a small sample is run.

mod support;

use std::fmt::Write as _;
use std::time::{Duration, Instant};

use cornerwise::mend::{self, effect::Effect};
use cornerwise::record::Record;
use support::slips::{self, KINDS, Kind};
use support::solver::{Marks, Options, Rng, Solver, Style};

fn effect(record: &Record) -> Effect {
    Effect::of(record.scramble.playable(), record.solution.playable())
}

/// Sound records: made ones, as different as people's are.
fn corpus(n: usize) -> Vec<String> {
    let mut solver = Solver::new();
    let mut rng = Rng::new(2026);
    (0..n)
        .map(|i| {
            let options = Options { wide: i % 4 == 0, turn_the_cube: 0.3, ..Options::default() };
            let marks = [Marks::None, Marks::Ends, Marks::Both][i % 3];
            let style = Style { marks, lower_case: i % 2 == 0, ..Style::default() };
            solver.random(&mut rng, &options).yaml("made", &style, &mut rng)
        })
        .collect()
}

/// The same without the writer's comments.
fn without_claims(text: &str) -> String {
    let lines = text.lines().map(|line| line.split("//").next().unwrap_or(line).trim_end());
    lines.fold(String::new(), |mut text, line| {
        let _ = writeln!(text, "{line}");
        text
    })
}

#[derive(Default, Clone)]
struct Tally {
    tried: usize,
    no_effect: usize,
    found: usize,
    first: usize,
    first_three: usize,
    clear: usize,
    clear_but_wrong: usize,
    fits: Vec<usize>,
    times: Vec<Duration>,
    /// What stood before the truth.
    beaten_by: Vec<String>,
}

impl Tally {
    fn add(&mut self, other: &Tally) {
        self.tried += other.tried;
        self.no_effect += other.no_effect;
        self.found += other.found;
        self.first += other.first;
        self.first_three += other.first_three;
        self.clear += other.clear;
        self.clear_but_wrong += other.clear_but_wrong;
        self.fits.extend(&other.fits);
        self.times.extend(&other.times);
        self.beaten_by.extend(other.beaten_by.iter().cloned());
    }

    fn measure(&mut self, damaged: &str, truth: &Effect) {
        let (source, record) = slips::first(damaged);
        let whole = |turns: &cornerwise::notation::Turns| turns.playable().count() == turns.tokens.len();
        let readable = whole(&record.scramble) && whole(&record.solution);
        self.tried += 1;
        let solved = cornerwise::replay::Replay::new(record.scramble.playable(), record.solution.playable())
            .end()
            .state
            .is_solved();
        if readable && solved {
            self.no_effect += 1;
            return;
        }
        let start = Instant::now();
        let ranked = mend::examine::repairs(&source, &record, &mend::Settings::default()).0;
        self.times.push(start.elapsed());
        self.fits.push(ranked.n_fits);
        let place = ranked.repairs.iter().position(|repair| repair.effect == *truth);
        let clear = match &ranked.repairs[..] {
            [] => false,
            [_] => true,
            [a, b, ..] => b.cost - a.cost >= mend::CLEARLY_AHEAD,
        };
        self.clear += usize::from(clear);
        self.clear_but_wrong += usize::from(clear && place != Some(0));
        match place {
            None => self.beaten_by.push(format!("LOST {damaged}")),
            Some(place) => {
                self.found += 1;
                self.first += usize::from(place == 0);
                self.first_three += usize::from(place < 3);
                if place > 0 {
                    let show = |i: usize| {
                        let repair = &ranked.repairs[i];
                        let edits: Vec<String> = repair
                            .changes
                            .iter()
                            .map(|c| {
                                format!(
                                    "{:?}@{:?}{:?}->{}",
                                    c.slip,
                                    c.part,
                                    c.range,
                                    cornerwise::naming::moves(&c.moves)
                                )
                            })
                            .collect();
                        format!(
                            "[{:.1} claims-{} {}]",
                            repair.cost,
                            repair.judged.broken_claims(),
                            edits.join(", ")
                        )
                    };
                    self.beaten_by.push(format!("truth {place} {} by {}", show(place), show(0)));
                }
            }
        }
    }

    fn row(&self, name: &str) -> String {
        let n = self.tried - self.no_effect;
        let share = |part: usize| {
            if n == 0 { "–".into() } else { format!("{:.1} %", 100.0 * part as f64 / n as f64) }
        };
        let mut fits = self.fits.clone();
        fits.sort_unstable();
        let mut times = self.times.clone();
        times.sort_unstable();
        let at = |q: usize| {
            times
                .get((times.len() * q / 100).min(times.len().saturating_sub(1)))
                .map_or(0.0, |t| t.as_secs_f64() * 1e3)
        };
        format!(
            "| {name} | {} | {} | {} | {} | {} | {} | {} | {} | {:.0} | {:.0} |\n",
            self.tried,
            self.no_effect,
            share(self.found),
            share(self.first),
            share(self.first_three),
            share(self.clear),
            share(self.clear_but_wrong),
            fits.get(fits.len() / 2).copied().unwrap_or(0),
            at(50),
            at(100),
        )
    }
}

#[test]
fn measured() {
    let n: usize = std::env::var("CORNERWISE_MEND").ok().and_then(|n| n.parse().ok()).unwrap_or(6);
    let mut text = String::new();
    for claims in [true, false] {
        let mut rng = Rng::new(7);
        let records = corpus(n);
        let mut all_one = Tally::default();
        let mut all_two = Tally::default();
        let _ = writeln!(text, "claims: {claims}");
        let texts: Vec<String> =
            records.iter().map(|text| if claims { text.clone() } else { without_claims(text) }).collect();
        for kind in KINDS {
            let mut tally = Tally::default();
            for text in &texts {
                let truth = effect(&slips::first(text).1);
                if let Some(damaged) = slips::slip(text, kind, &mut rng) {
                    tally.measure(&damaged, &truth);
                }
            }
            text.push_str(&tally.row(kind.name()));
            all_one.add(&tally);
        }
        text.push_str(&all_one.row("all"));
        for _ in 0..4 {
            for text in &texts {
                let truth = effect(&slips::first(text).1);
                let mut pick = || KINDS[rng.below(KINDS.len())];
                let (a, b) = (pick(), pick());
                // A token that cannot be read is damaged first: afterwards it would hide the other slip.
                let once = slips::slip(text, a, &mut rng);
                let twice = once
                    .filter(|once| slips::first(once).1.solution.unread.is_empty() || b != Kind::ScrambleSlip)
                    .and_then(|once| slips::slip(&once, b, &mut rng));
                if let Some(twice) = twice {
                    all_two.measure(&twice, &truth);
                }
            }
        }
        text.push_str(&all_two.row("two slips"));
        for what in all_one.beaten_by.iter().chain(&all_two.beaten_by) {
            let _ = writeln!(text, "{what}");
        }
    }
    if let Ok(path) = std::env::var("CORNERWISE_MEND_WRITE") {
        std::fs::write(path, text).expect("the file can be written");
    }
}

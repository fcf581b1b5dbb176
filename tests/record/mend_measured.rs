//! What `mend` finds, measured: sound records damaged by random slips, one and two at a time.
//!
//! `docs/mend-benchmark.md` is written by this test; its head has the command. Without the environment variable a
//! small sample is run, and held to the same marks.

use std::collections::BTreeMap;
use std::fmt::Write as _;
use std::path::Path;
use std::time::{Duration, Instant};

use crate::support::slips::{self, KINDS, Kind};
use crate::support::solver::{Marks, Options, Rng, Solver, Style};
use cornerwise::diagnostic::Source;
use cornerwise::mend::rank::effect::Effect;
use cornerwise::mend::{self, Health, Settings, Standing};
use cornerwise::notation::{Element, Turns};
use cornerwise::record::{self, Record};
use cornerwise::study::Study;
use rayon::prelude::*;

fn effect(record: &Record) -> Effect {
    Effect::of(record.scramble.playable(), record.solution.playable())
}

/// Sound records: made ones, as different as people's are, and those of `reconstructions/`.
fn corpus(n: usize) -> Vec<String> {
    let mut solver = Solver::new();
    let mut rng = Rng::new(2026);
    let mut texts: Vec<String> = (0..n)
        .map(|i| {
            let options = Options { wide: i % 4 == 0, turn_the_cube: 0.3, ..Options::default() };
            let marks = [Marks::None, Marks::Ends, Marks::Both][i % 3];
            let style = Style { marks, lower_case: i % 2 == 0, ..Style::default() };
            solver.random(&mut rng, &options).yaml("made", &style, &mut rng)
        })
        .collect();
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("reconstructions");
    let mut files: Vec<_> =
        std::fs::read_dir(folder).expect("the records").flatten().map(|entry| entry.path()).collect();
    files.sort();
    for path in files.iter().filter(|path| path.extension().is_some_and(|e| e == "yaml" || e == "txt")) {
        let text = std::fs::read_to_string(path).expect("text");
        let source = Source::new("record", text);
        for record in &record::read(&source).records {
            let one = source.text[record.span.start..record.span.end].to_owned();
            let (alone, again) = slips::first(&one);
            if mend::examine(&Study::new(&alone, 1, &again), &Settings::default()).health == Health::Sound {
                texts.push(one);
            }
        }
    }
    texts
}

/// The same without the writer's comments.
fn without_claims(text: &str) -> String {
    let lines = text.lines().map(|line| line.split("//").next().unwrap_or(line).trim_end());
    lines.fold(String::new(), |mut text, line| {
        let _ = writeln!(text, "{line}");
        text
    })
}

/// What became of one damaged record.
#[derive(Default, Clone)]
struct Outcome {
    /// The damaged record still replays to solved: nothing can be noticed.
    no_effect: bool,
    /// Where the true repair stands, from 0.
    place: Option<usize>,
    clear: bool,
    fits: usize,
    time: Duration,
    /// What stands first instead of the truth.
    beaten_by: Option<String>,
    /// The record, where the true repair was not found.
    lost: Option<String>,
    /// How many tokens the report narrows the fault down to, of how many, and whether the slip is there.
    narrowed: Option<(usize, usize, bool)>,
}

/// Whether two records differ by what one slip could have done: at most two tokens in one place.
fn one_slip_apart(a: &[&Turns; 2], b: &[&Turns; 2]) -> bool {
    let differing: Vec<usize> = (0..2)
        .map(|part| {
            let elements =
                |turns: &Turns| turns.tokens.iter().map(|token| token.element).collect::<Vec<Element>>();
            let (a, b) = (elements(a[part]), elements(b[part]));
            let ahead = a.iter().zip(&b).take_while(|(a, b)| a == b).count();
            let behind =
                a[ahead..].iter().rev().zip(b[ahead..].iter().rev()).take_while(|(a, b)| a == b).count();
            a.len().max(b.len()) - ahead - behind
        })
        .collect();
    differing.contains(&0) && differing.iter().all(|&n| n <= 2)
}

fn measure(damaged: &str, whole: &str, in_solution: bool) -> Outcome {
    let truth = slips::first(whole).1;
    let (source, record) = slips::first(damaged);
    let start = Instant::now();
    let examination = mend::examine(&Study::new(&source, 1, &record), &Settings::default());
    let time = start.elapsed();
    if examination.health == Health::Sound {
        return Outcome { no_effect: true, ..Outcome::default() };
    }
    let repairs = &examination.ranked.repairs;
    let wanted = effect(&truth);
    let place = repairs.iter().position(|repair| repair.effect == wanted);
    // Of two slips one can have no effect by itself: then the other alone is mended, and nobody can know more.
    let hidden = |repair: &mend::Repair| {
        repair.changes.len() == 1
            && one_slip_apart(&[&repair.scramble, &repair.solution], &[&truth.scramble, &truth.solution])
    };
    if place.is_none() && repairs.iter().any(hidden) {
        return Outcome { no_effect: true, ..Outcome::default() };
    }
    let kinds = |i: usize| {
        let slips: Vec<String> = repairs[i]
            .changes
            .iter()
            .map(|change| {
                let part = if change.part == mend::Part::Scramble { " (scramble)" } else { "" };
                format!("{}{part}", change.slip.words())
            })
            .collect();
        slips.join(" + ")
    };
    let beaten_by = match place {
        Some(0) => None,
        Some(place) => Some(format!("{} | {}", kinds(0), kinds(place))),
        None => Some("(not found)".into()),
    };
    let narrowed = examination.located.filter(|_| in_solution).map(|located| {
        let n = record.solution.tokens.len();
        let element = |record: &Record, i: usize| record.solution.tokens.get(i).map(|token| token.element);
        let at = (0..n).find(|&i| element(&record, i) != element(&truth, i)).unwrap_or(n);
        let end = located.resumes.unwrap_or(n);
        (end - located.holds.min(end), n, located.holds <= at && at <= end)
    });
    Outcome {
        no_effect: false,
        place,
        clear: examination.standing == Standing::Clear,
        fits: examination.ranked.n_fits,
        time,
        lost: place.is_none().then(|| damaged.to_owned()),
        beaten_by,
        narrowed,
    }
}

/// Outcomes added up.
#[derive(Default)]
struct Tally(Vec<Outcome>);

impl Tally {
    fn noticed(&self) -> impl Iterator<Item = &Outcome> {
        self.0.iter().filter(|outcome| !outcome.no_effect)
    }

    fn share(&self, test: impl Fn(&Outcome) -> bool) -> f64 {
        let n = self.noticed().count();
        if n == 0 { 100.0 } else { 100.0 * self.noticed().filter(|o| test(o)).count() as f64 / n as f64 }
    }

    fn found(&self) -> f64 {
        self.share(|outcome| outcome.place.is_some())
    }

    fn within(&self, places: usize) -> f64 {
        self.share(|outcome| outcome.place.is_some_and(|place| place < places))
    }

    fn clear_but_wrong(&self) -> f64 {
        self.share(|outcome| outcome.clear && outcome.place != Some(0))
    }

    fn row(&self, name: &str) -> String {
        let mut fits: Vec<usize> = self.noticed().map(|outcome| outcome.fits).collect();
        fits.sort_unstable();
        let mut times: Vec<Duration> = self.noticed().map(|outcome| outcome.time).collect();
        times.sort_unstable();
        let ms = |time: Option<&Duration>| time.map_or(0.0, |time| time.as_secs_f64() * 1e3);
        format!(
            "| {name} | {} | {} | {:.1} | {:.1} | {:.1} | {:.1} | {:.1} | {} | {:.0} | {:.0} |\n",
            self.0.len(),
            self.0.len() - self.noticed().count(),
            self.found(),
            self.within(1),
            self.within(3),
            self.share(|outcome| outcome.clear),
            self.clear_but_wrong(),
            fits.get(fits.len() / 2).copied().unwrap_or(0),
            ms(times.get(times.len() / 2)),
            ms(times.last()),
        )
    }
}

const TABLE: &str = "\
| slip | tried | no effect | found % | first % | first three % | clear % | clear but wrong % | fits | ms | most ms |
|---|---:|---:|---:|---:|---:|---:|---:|---:|---:|---:|
";

/// What came of the slips of each kind.
type Tallies = Vec<(Kind, Tally)>;

/// One slip of each kind, and two of which the first is of each kind.
fn measured(texts: &[String]) -> (Tallies, Tallies) {
    let each = |two: bool| -> Tallies {
        (0u64..)
            .zip(KINDS)
            .map(|(k, kind)| {
                let outcomes = texts.par_iter().enumerate().filter_map(|(i, text)| {
                    let mut rng = Rng::new(1000 * i as u64 + 10 * k + u64::from(two));
                    let mut damaged = slips::slip(text, kind, &mut rng)?;
                    if two {
                        let other = KINDS[rng.below(KINDS.len())];
                        damaged = slips::slip(&damaged, other, &mut rng)?;
                    }
                    Some(measure(&damaged, text, !two && kind != Kind::ScrambleSlip))
                });
                (kind, Tally(outcomes.collect()))
            })
            .collect()
    };
    (each(false), each(true))
}

fn all(tallies: &[(Kind, Tally)]) -> Tally {
    Tally(tallies.iter().flat_map(|(_, tally)| tally.0.iter().cloned()).collect())
}

fn section(page: &mut String, title: &str, tallies: &[(Kind, Tally)]) {
    let _ = write!(page, "\n### {title}\n\n{TABLE}");
    for (kind, tally) in tallies {
        page.push_str(&tally.row(kind.name()));
    }
    let all = all(tallies);
    page.push_str(&all.row("**all**"));
    let mut beaten: BTreeMap<&str, usize> = BTreeMap::new();
    for outcome in &all.0 {
        if let Some(by) = &outcome.beaten_by {
            *beaten.entry(by).or_default() += 1;
        }
    }
    let mut beaten: Vec<_> = beaten.into_iter().collect();
    beaten.sort_by_key(|&(by, n)| (std::cmp::Reverse(n), by));
    let total: usize = beaten.iter().map(|(_, n)| n).sum();
    if total == 0 {
        page.push_str("\nThe true repair was always first.\n");
        return;
    }
    let _ = writeln!(page, "\nWhat stood first where the truth did not ({total} times):\n");
    page.push_str("| first | the truth | times |\n|---|---|---:|\n");
    for (by, n) in beaten.iter().take(12) {
        let by = if by.contains(" | ") { (*by).to_owned() } else { format!("{by} | ") };
        let _ = writeln!(page, "| {by} | {n} |");
    }
    if beaten.len() > 12 {
        let rest: usize = beaten[12..].iter().map(|(_, n)| n).sum();
        let _ = writeln!(page, "| others | | {rest} |");
    }
}

/// How well the report narrows down where the slip is.
fn narrowed(one: &[(Kind, Tally)]) -> String {
    let all = all(one);
    let told: Vec<(usize, usize, bool)> = all.noticed().filter_map(|outcome| outcome.narrowed).collect();
    let right = told.iter().filter(|(_, _, inside)| *inside).count();
    let mut lengths: Vec<usize> = told.iter().map(|(length, ..)| *length).collect();
    lengths.sort_unstable();
    let tokens = told.iter().map(|(_, n, _)| n).sum::<usize>() as f64 / told.len().max(1) as f64;
    format!(
        "\nThe stretch between “holds up to” and “holds from … to the end” has {} tokens at the median (the \
         solutions have {tokens:.0} on average) and holds the slip in {:.1} % of cases: a wrong turn of the top layer \
         shows only at the next pair, so it may stand before the stretch.\n",
        lengths.get(lengths.len() / 2).copied().unwrap_or(0),
        100.0 * right as f64 / told.len().max(1) as f64,
    )
}

#[test]
fn the_true_repair_is_found_and_mostly_first() {
    let path = std::env::var_os("CORNERWISE_MEND_BENCHMARK");
    let texts = corpus(if path.is_some() { 200 } else { 2 });
    let (one, two) = measured(if path.is_some() { &texts } else { &texts[..6] });

    if let Some(path) = path {
        write_page(Path::new(&path), &texts, &one, &two);
    }

    // The marks of the job.
    let lost = |tallies: &[(Kind, Tally)]| -> String {
        let outcomes = tallies.iter().flat_map(|(_, tally)| &tally.0);
        outcomes.filter_map(|outcome| outcome.lost.clone()).collect::<Vec<_>>().join("\n---\n")
    };
    let (all_one, all_two) = (all(&one), all(&two));
    assert_eq!(all_one.found(), 100.0, "lost: {}", lost(&one));
    assert!(all_one.within(1) >= 80.0 && all_one.within(3) >= 95.0, "{}", all_one.row("one"));
    assert_eq!(all_two.found(), 100.0, "lost: {}", lost(&two));
    assert!(all_two.within(3) >= 70.0, "{}", all_two.row("two"));
}

fn write_page(path: &Path, texts: &[String], one: &[(Kind, Tally)], two: &[(Kind, Tally)]) {
    let bare: Vec<String> = texts.iter().map(|text| without_claims(text)).collect();
    let (bare_one, bare_two) = measured(&bare);
    let mut page = format!(
        "# What `mend` finds, measured\n\n\
         Written by `CORNERWISE_MEND_BENCHMARK=docs/mend-benchmark.md cargo test --release --test record mend_measured`.\n\n\
         {} sound records ({} of `reconstructions/`, 200 made by the generator of the tests) are damaged at a random \
         place: once with one slip of each kind, once with that slip and another of a random kind. The slips are \
         made in the text by the tests, not by the code that mends. A repair is the true one if it makes the same \
         turns, however written. *No effect*: the damaged record still replays to solved, so nothing can be noticed \
         (neighbours that commute, a last rotation), or does so once the other of two slips is mended; such cases are left out of the shares. *Clear*: one repair is \
         clearly ahead, so that `--write` would take it. *Fits*: the median number of different repairs. *ms*: median \
         and longest time for one record, on one core of a small shared machine.\n",
        texts.len(),
        texts.len() - 200,
    );
    page.push_str("\n## With the writer's comments\n");
    section(&mut page, "One slip", one);
    page.push_str(&narrowed(one));
    section(&mut page, "Two slips, the first of this kind", two);
    page.push_str("\n## Without comments\n");
    section(&mut page, "One slip", &bare_one);
    section(&mut page, "Two slips, the first of this kind", &bare_two);
    std::fs::write(path, page).expect("the page can be written");
}

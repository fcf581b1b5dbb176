//! A plain fuzzer: kept records and pastes, damaged at random, given to everything that takes text from a person.
//!
//! Each target holds its laws (`laws`): nothing panics, work stays in its bounds, JSON is JSON and is read back as what it
//! was, what is printed is read as the same record. A run makes a fixed number of cases of a fixed seed, the same on every
//! machine, after all texts that once broke a law (`tests/data/fuzz`). To look for more:
//!
//! ```sh
//! CORNERWISE_FUZZ_SECONDS=600 CORNERWISE_FUZZ_SEED=7 cargo test --release --test fuzz
//! ```
//!
//! runs every target for so long. A text that breaks a law is made smaller as long as it still does, written to
//! `target/fuzz`, and told; once the fault is put right it goes to `tests/data/fuzz`.

mod corpus;
mod laws;
mod mutate;
#[path = "../support/random.rs"]
#[allow(dead_code, reason = "every test crate uses its own part of this")]
mod random;

use std::fs;
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::path::Path;
use std::process::abort;
use std::sync::mpsc::{self, RecvTimeoutError, Sender};
use std::thread;
use std::time::{Duration, Instant};

use laws::Met;
use random::Random;

/// One text takes far less even unoptimised; whoever takes longer hangs.
const HANGS: Duration = Duration::from_secs(120);

/// The most memory that all targets together may ever have held, in MB.
const MOST_MEMORY: u64 = 700;

/// A number from the environment.
fn number(name: &str) -> Option<u64> {
    std::env::var(name).ok()?.parse().ok()
}

/// Runs a target: the kept texts, then made ones. Returns what was met.
fn fuzz(name: &str, n_cases: usize, law: fn(&str, &mut Met)) -> Met {
    let corpus = corpus::texts();
    let watch = Watch::new(name);
    let mut met = Met::default();
    for text in corpus::once_broken() {
        watch.begin(&text);
        holds(name, &text, law, &mut met);
    }
    let seed = number("CORNERWISE_FUZZ_SEED").unwrap_or(1);
    let until =
        number("CORNERWISE_FUZZ_SECONDS").map(|seconds| Instant::now() + Duration::from_secs(seconds));
    let mut n = 0;
    while until.map_or(n < n_cases, |until| Instant::now() < until) {
        let mut random = Random::new(seed.wrapping_mul(1_000_003).wrapping_add(n as u64));
        let text = mutate::text(&corpus, &mut random);
        watch.begin(&text);
        holds(name, &text, law, &mut met);
        n += 1;
    }
    let most = most_memory();
    assert!(most < MOST_MEMORY, "{name}: {most} MB were held at some time");
    met.cases = n;
    met
}

/// Holds a law against a text; if it is broken, with the smallest text that can be made of it.
fn holds(name: &str, text: &str, law: fn(&str, &mut Met), met: &mut Met) {
    let broken = |text: &str, met: &mut Met| catch_unwind(AssertUnwindSafe(|| law(text, met))).is_err();
    if !broken(text, met) {
        return;
    }
    let mut small = text.to_owned();
    let mut piece = small.len() / 2;
    let mut tries = 400;
    while piece > 0 && tries > 0 {
        let mut at = 0;
        while at < small.len() && tries > 0 {
            let end = (at + piece).min(small.len());
            if small.is_char_boundary(at) && small.is_char_boundary(end) {
                let less = format!("{}{}", &small[..at], &small[end..]);
                tries -= 1;
                if broken(&less, met) {
                    small = less;
                    continue;
                }
            }
            at += piece;
        }
        piece /= 2;
    }
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("target/fuzz");
    let _ = fs::create_dir_all(&folder);
    let file = folder.join(format!(
        "{name}-{:08x}.txt",
        small.bytes().fold(7_u32, |h, b| h.wrapping_mul(31) ^ u32::from(b))
    ));
    let _ = fs::write(&file, &small);
    law(&small, met);
    panic!("{name}: a law is broken now and then by the text in {}", file.display());
}

/// Ends the process where one text takes for ever, and says which.
struct Watch(Sender<String>);

impl Watch {
    fn new(name: &str) -> Watch {
        let (sender, texts) = mpsc::channel::<String>();
        let name = name.to_owned();
        thread::spawn(move || {
            let mut text = String::new();
            loop {
                match texts.recv_timeout(HANGS) {
                    Ok(next) => text = next,
                    Err(RecvTimeoutError::Disconnected) => return,
                    Err(RecvTimeoutError::Timeout) => {
                        #[allow(clippy::print_stderr, reason = "nobody else is left to say it")]
                        {
                            eprintln!("{name}: no end after {HANGS:?} with {text:?}");
                        }
                        abort();
                    }
                }
            }
        });
        Watch(sender)
    }

    fn begin(&self, text: &str) {
        let _ = self.0.send(text.to_owned());
    }
}

/// The most memory this process has held so far, in MB; 0 where the system does not say.
fn most_memory() -> u64 {
    let status = fs::read_to_string("/proc/self/status").unwrap_or_default();
    let line = status.lines().find_map(|line| line.strip_prefix("VmHWM:"));
    let kilobytes = line.and_then(|line| line.split_whitespace().next()?.parse::<u64>().ok());
    kilobytes.unwrap_or(0) >> 10
}

#[test]
fn mend() {
    let met = fuzz("mend", 30, laws::mend);
    assert!(met.records > met.cases / 2 && met.broken > met.cases / 4, "{met:?}");
    assert!(met.repairs > 0 && met.written > 0, "{met:?}");
}

#[test]
fn reader() {
    let met = fuzz("reader", 700, laws::reader);
    assert!(met.records > met.cases / 8 && met.turns > met.records && met.faults > met.cases / 8, "{met:?}");
    assert!(met.printed > met.cases / 20, "{met:?}");
}

#[test]
fn general_reader() {
    let met = fuzz("general-reader", 400, laws::general_reader);
    assert!(met.records > met.cases / 2 && met.faults > met.cases / 8, "{met:?}");
}

#[test]
fn annotate() {
    let met = fuzz("annotate", 60, laws::annotate);
    assert!(
        met.records > met.cases / 2 && met.pair_steps > met.cases / 2 && met.recoloured > met.cases / 8,
        "{met:?}"
    );
}

#[test]
fn diff() {
    let met = fuzz("diff", 40, laws::diff);
    assert!(met.compared > met.cases / 8, "{met:?}");
}

#[test]
fn clock() {
    let met = fuzz("clock", 120, laws::clock);
    assert!(met.records > met.cases / 2 && met.marked > met.cases / 8 && met.lists > 0, "{met:?}");
}

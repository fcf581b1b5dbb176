//! What whole processes take, as ratios to a Rust program that does nothing: the table of `docs/speed.md`.
//!
//! ```text
//! cargo bench --bench process            # some minutes; the machine should have nothing else to do
//! cargo bench --bench process -- quick   # fewer runs and records
//! ```
//!
//! It writes unrelated made records under `target/speed`, has the program that does nothing built, and leaves the
//! measuring to `tests/python/process_time.py`, because only the system says what processor time and memory another
//! process took, and the standard library of Python asks it.

#[path = "../support/mod.rs"]
mod support;

use std::fs;
use std::path::Path;
use std::process::Command;

use support::solver::{Options, Rng, Solver, Style};

/// So many records are projected to a hundred thousand.
const MANY: usize = 10_000;
/// Records in a file where time is measured, and where memory is: as many as a day of practice has.
const A_FILE: usize = 200;
const A_DAY: usize = 5;

fn main() {
    let quick = std::env::args().any(|arg| arg == "quick");
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let folder = root.join("target/speed/process");
    let (many, days, few_days) = (folder.join("many"), folder.join("days"), folder.join("few-days"));
    for folder in [&many, &days, &few_days] {
        let _ = fs::remove_dir_all(folder);
        fs::create_dir_all(folder).expect("a folder under target");
    }

    let (mut solver, mut rng) = (Solver::new(), Rng::new(200));
    let mut record = |n: usize| {
        let solve = solver.random(&mut rng, &Options::default());
        solve.yaml(&format!("made {n}"), &Style::default(), &mut rng)
    };
    let made: Vec<String> = (0..if quick { MANY / 10 } else { MANY }).map(&mut record).collect();
    fs::write(folder.join("1.yaml"), &made[0]).expect("written");
    fs::write(folder.join("200.yaml"), made[..A_FILE].join("---\n")).expect("written");
    let files = |folder: &Path, records: &[String], a_file: usize| {
        for (n, file) in records.chunks(a_file).enumerate() {
            fs::write(folder.join(format!("{n:04}.yaml")), file.join("---\n")).expect("written");
        }
    };
    files(&many, &made, A_FILE);
    files(&days, &made, A_DAY);
    files(&few_days, &made[..100], A_DAY);

    fs::write(folder.join("nothing.rs"), "fn main() {}\n").expect("written");
    let built = Command::new("rustc")
        .args(["-O", "nothing.rs", "-o", "nothing"])
        .current_dir(&folder)
        .status()
        .expect("rustc is there");
    assert!(built.success(), "the program that does nothing was not built");

    let measured = Command::new("python3")
        .arg(root.join("tests/python/process_time.py"))
        .arg(env!("CARGO_BIN_EXE_cornerwise"))
        .arg(&folder)
        .arg(root.join("reconstructions/no-corner-up.yaml"))
        .arg(made.len().to_string())
        .arg(if quick { "30" } else { "200" })
        .status()
        .expect("python3 is there");
    assert!(measured.success(), "nothing was measured");
}

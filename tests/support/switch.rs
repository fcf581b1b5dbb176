//! Tests that are off by default, and the environment variables that switch them on. `.ci/run` sets both.

use std::ffi::OsString;

/// Whether slow tests are wanted: `CORNERWISE_SLOW=1`. Says so if not.
pub fn slow() -> bool {
    variable("CORNERWISE_SLOW", "it takes a while").is_some()
}

/// The Python interpreter of `CORNERWISE_PYTHON`, which has what `tests/python/requirements.txt` lists. Says so
/// if there is none.
pub fn python() -> Option<OsString> {
    variable(
        "CORNERWISE_PYTHON",
        "it needs an interpreter with the libraries of tests/python/requirements.txt",
    )
}

#[expect(clippy::print_stderr, reason = "a test that is skipped has to say so")]
fn variable(name: &str, why: &str) -> Option<OsString> {
    let value = std::env::var_os(name).filter(|value| !value.is_empty());
    if value.is_none() {
        eprintln!("skipped: {why}; set {name} to run it");
    }
    value
}

//! Asking the scripts of `tests/python`, which answer with general-purpose libraries.

use std::io::Write;
use std::path::Path;
use std::process::{Command, Stdio};

use super::switch;

/// What the script prints when it is given `input`; `None` (and a word on it) if no interpreter was named.
/// Panics if the script fails.
pub fn run(script: &str, input: String) -> Option<String> {
    let python = switch::python()?;
    let mut child = Command::new(python)
        .arg(Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/python").join(script))
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn()
        .expect("CORNERWISE_PYTHON names a program that starts");
    let mut stdin = child.stdin.take().expect("it is piped");
    // Written from aside, lest both ends wait with full pipes.
    let writer = std::thread::spawn(move || stdin.write_all(input.as_bytes()));
    let output = child.wait_with_output().expect("the script ends");
    let said = String::from_utf8(output.stdout).expect("the script prints UTF-8");
    assert!(output.status.success(), "{script} fails, see above: {said}");
    writer.join().expect("the writer ends").expect("the script reads all its input");
    Some(said)
}

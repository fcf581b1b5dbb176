//! What README.md and docs/ show is what the program prints: every `console` block that runs cornerwise is run again.
//!
//! `CORNERWISE_UPDATE_DOCS=1 cargo test --test program readme` writes the new output into the documents instead.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

/// What the program prints for a command as shown: `cornerwise …`, maybe with `| head -N`, `| tail -N` or
/// `| sed -n '/^A.*B/,/^$/p'` behind it: a part that begins with a line like that, up to the next empty line.
/// `None` for another program's command.
fn output_of(shown: &str) -> Option<Vec<String>> {
    let command =
        shown.strip_prefix("$ cargo run --release -- ").or_else(|| shown.strip_prefix("$ cornerwise "))?;
    if let Some((command, pattern)) = command.split_once(" | sed -n '/^") {
        let (begins, has) = pattern.strip_suffix("/,/^$/p'")?.split_once(".*")?;
        let lines = output_of(&format!("$ cornerwise {command}"))?;
        let from = lines.iter().position(|line| line.strip_prefix(begins).is_some_and(|l| l.contains(has)));
        let from = from.unwrap_or_else(|| panic!("no part of it begins so: {shown}"));
        return Some(lines[from..].iter().take_while(|line| !line.is_empty()).cloned().collect());
    }
    let (arguments, most) = match command.split_once(" | head -").or(command.split_once(" | tail -")) {
        Some((arguments, most)) => (arguments, most.trim().parse().expect("a number of lines")),
        None => (command, usize::MAX),
    };
    let run = Command::new(env!("CARGO_BIN_EXE_cornerwise"))
        .args(arguments.split_whitespace())
        .current_dir(env!("CARGO_MANIFEST_DIR"))
        .env_clear()
        .output()
        .expect("the program runs");
    let text = String::from_utf8(run.stdout).expect("text");
    let lines = text.trim_end().lines();
    let first = if command.contains(" | tail -") { lines.clone().count().saturating_sub(most) } else { 0 };
    Some(lines.skip(first).take(most).map(String::from).collect())
}

/// The document with the output of every command as it is now, and how many commands there were.
fn renewed(document: &str) -> (String, usize) {
    let mut lines = document.lines().peekable();
    let (mut new, mut n_commands) = (Vec::new(), 0);
    let mut inside = false;
    while let Some(line) = lines.next() {
        new.push(line.to_string());
        if line.starts_with("```") {
            inside = line == "```console";
        } else if inside && let Some(output) = output_of(line) {
            n_commands += 1;
            new.extend(output);
            // Up to the next command or the end of the block stands what was printed once.
            while lines.peek().is_some_and(|next| !next.starts_with("```") && !next.starts_with("$ ")) {
                lines.next();
            }
        }
    }
    (new.join("\n") + "\n", n_commands)
}

fn documents() -> Vec<PathBuf> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let docs = fs::read_dir(root.join("docs")).expect("docs").map(|entry| entry.expect("an entry").path());
    let mut all: Vec<PathBuf> =
        docs.filter(|path| path.extension().is_some_and(|extension| extension == "md")).collect();
    all.push(root.join("README.md"));
    all.sort();
    all
}

#[test]
fn the_documents_show_what_the_program_prints() {
    let update = std::env::var_os("CORNERWISE_UPDATE_DOCS").is_some();
    let mut n_commands = 0;
    for path in documents() {
        let document = fs::read_to_string(&path).expect("the document is there");
        let (new, n) = renewed(&document);
        n_commands += n;
        if update {
            fs::write(&path, new).expect("the document can be written");
        } else {
            assert!(
                new == document,
                "{} shows what the program does not print; if the new output is right, \
                 run CORNERWISE_UPDATE_DOCS=1 cargo test --test program readme",
                path.display()
            );
        }
    }
    assert!(n_commands > 0, "README.md shows the main job");
}

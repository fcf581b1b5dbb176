//! What README.md and docs/ show is what the program prints: every `console` block that runs cornerwise is run again.
//!
//! In such a block a line `[...]` stands for any number of lines left out.

use std::path::Path;
use std::process::Command;

/// A command shown in a document, and the output shown below it.
struct Shown {
    arguments: Vec<String>,
    output: Vec<String>,
}

fn shown(document: &str) -> Vec<Shown> {
    let mut found: Vec<Shown> = Vec::new();
    let mut inside = false;
    for line in document.lines() {
        if line.starts_with("```") {
            inside = line == "```console";
        } else if inside {
            let command =
                line.strip_prefix("$ cargo run --release -- ").or_else(|| line.strip_prefix("$ cornerwise "));
            if let Some(command) = command {
                let arguments = command.split(' ').map(String::from).collect();
                found.push(Shown { arguments, output: Vec::new() });
            } else if line.starts_with("$ ") {
                inside = false;
            } else if let Some(last) = found.last_mut() {
                last.output.push(line.into());
            }
        }
    }
    found
}

/// Whether `real` is `shown` with something for each `[...]`.
fn matches(shown: &[String], real: &[&str]) -> bool {
    match shown.split_first() {
        None => real.is_empty(),
        Some((first, rest)) if first == "[...]" => (0..=real.len()).any(|n| matches(rest, &real[n..])),
        Some((first, rest)) => {
            real.split_first().is_some_and(|(line, left)| line == first && matches(rest, left))
        }
    }
}

fn check(path: &Path) -> usize {
    let document = std::fs::read_to_string(path).expect("the document is there");
    let commands = shown(&document);
    for command in &commands {
        let run = Command::new(env!("CARGO_BIN_EXE_cornerwise"))
            .args(&command.arguments)
            .current_dir(env!("CARGO_MANIFEST_DIR"))
            .env_clear()
            .output()
            .expect("the program runs");
        let real = String::from_utf8(run.stdout).expect("text");
        let real: Vec<&str> = real.trim_end().lines().collect();
        let mut shown = command.output.clone();
        while shown.last().is_some_and(String::is_empty) {
            shown.pop();
        }
        assert!(
            matches(&shown, &real),
            "{}: `cornerwise {}` prints something else now:\n{}",
            path.display(),
            command.arguments.join(" "),
            real.join("\n")
        );
    }
    commands.len()
}

#[test]
fn the_documents_show_what_the_program_prints() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    assert!(check(&root.join("README.md")) > 0, "README.md shows the main job");
    for entry in std::fs::read_dir(root.join("docs")).expect("docs") {
        let path = entry.expect("an entry").path();
        if path.extension().is_some_and(|extension| extension == "md") {
            check(&path);
        }
    }
}

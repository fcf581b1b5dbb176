//! `docs/messages.md` is made from the table of findings, and what it shows under each example is what was said.
//!
//! `CORNERWISE_UPDATE_DOCS=1 cargo test --test program messages` writes the page anew.

use std::fs;
use std::path::Path;
use std::process::Command;

use cornerwise::annotate::{self, Settings};
use cornerwise::diagnostic::{Diagnostic, MAX_SOURCE_BYTES, Severity, Source};
use cornerwise::findings::{Example, Kind, SECTIONS};
use cornerwise::mend;
use cornerwise::paste;
use cornerwise::record::{self, Reading};
use cornerwise::report::diagnostics::{draw, one_line};
use cornerwise::report::look::Look;
use cornerwise::study::Study;
use cornerwise::timing;

const PAGE: &str = "docs/messages.md";

/// Everything said of a file: by the readers, after the replay of its records, by `mend` and by `clock`. What the reader
/// of pastes understands after all is said by the strict reader alone.
fn said(source: &Source) -> Vec<Diagnostic> {
    let mut all = said_of(source, &paste::read(source));
    all.extend(said_of(source, &record::read(source)));
    all
}

fn said_of(source: &Source, reading: &Reading) -> Vec<Diagnostic> {
    let mut all = reading.diagnostics.clone();
    for (index, record) in reading.records.iter().enumerate() {
        let study = Study::new(source, index + 1, record);
        all.extend(annotate::annotate(&study, &Settings::default()).diagnostics);
        all.extend(mend::examine(&study, &mend::Settings::default()).findings);
        all.extend(timing::replaced(record));
    }
    all
}

/// The message of this kind that the text meets, drawn.
fn met(kind: &Kind, text: &str) -> String {
    let source = Source::new("mine.yaml", text);
    drawn(kind, &source, &said(&source))
}

fn drawn(kind: &Kind, source: &Source, all: &[Diagnostic]) -> String {
    let found = all.iter().find(|said| said.code == kind.code);
    let found =
        found.unwrap_or_else(|| panic!("{} is not met by\n{:.500}\nbut {all:?}", kind.code, source.text));
    assert_eq!(found.severity, kind.severity, "{}", kind.code);
    draw(source, std::slice::from_ref(found), &Look::plain())
}

/// What the program says on standard error when it is called so in a folder with these files.
fn said_by(kind: &Kind, files: &[(&str, &str)], arguments: &[&str]) -> String {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join(format!("messages-{}", kind.code));
    fs::create_dir_all(&folder).expect("a folder");
    for (name, text) in files {
        fs::write(folder.join(name), text).expect("written");
    }
    let run = Command::new(env!("CARGO_BIN_EXE_cornerwise"))
        .args(arguments)
        .current_dir(&folder)
        .env_clear()
        .output()
        .expect("the program runs");
    fs::remove_dir_all(&folder).expect("taken away");
    let drawn = String::from_utf8(run.stderr).expect("UTF-8");
    assert!(drawn.contains(&format!("{}[{}]", kind.severity, kind.code)), "{drawn}");
    drawn
}

/// What the program says of two records that do not begin alike.
fn met_by_two(kind: &Kind, one: &str, other: &str) -> String {
    said_by(kind, &[("mine.yaml", one), ("other.yaml", other)], &["diff", "mine.yaml", "other.yaml"])
}

/// A record for the blocks of lessons.
const SHORT: &str = "scramble: R2 U F2 D' L\nsolution: L' D F2 U' R2\n";

/// What the program says of a lesson.
fn met_by_a_lesson(kind: &Kind, lesson: &str) -> String {
    let drawn = said_by(kind, &[("lesson.md", lesson)], &["lesson", "lesson.md", "--check"]);
    assert!(drawn.starts_with(&format!("{}[{}]", kind.severity, kind.code)), "{drawn}");
    drawn
}

/// A message about a text too large or too odd for a page: only what is said of it is shown.
fn met_unseen(kind: &Kind) -> String {
    let from_bytes = |bytes: Vec<u8>| {
        let refused = Source::from_bytes("mine.yaml", bytes).expect_err("refused");
        assert_eq!(refused.code, kind.code);
        draw(&Source::new("mine.yaml", ""), &[refused], &Look::plain())
    };
    // What the reader says is enough: to play ten thousand records would take its time.
    let met = |text: &str| {
        let source = Source::new("mine.yaml", text);
        let reading = record::read(&source);
        drawn(kind, &source, &reading.all_diagnostics().cloned().collect::<Vec<_>>())
    };
    match kind.code {
        "file-not-text" => from_bytes(b"scramble: R\x92 U F2\n".to_vec()),
        "file-too-large" => from_bytes(vec![b' '; MAX_SOURCE_BYTES + 1]),
        "records-too-many" => met(&"R\n\nR'\n---\n".repeat(10_001)),
        "messages-too-many" => met(&"scramble: R4 R4\nsolution: R4 R4\n---\n".repeat(400)),
        "faults-too-many" => met(&format!("R\n\nR' {}", "R4 ".repeat(120))),
        "lesson-what" => met_by_a_lesson(kind, "```cornerwise positon of morning.yaml at pair 1\n```\n"),
        "lesson-drill" => met_by_a_lesson(kind, "```cornerwise drill edges 3\n```\n"),
        "lesson-record" => met_by_a_lesson(kind, "```cornerwise step at pair 1\n```\n"),
        "lesson-where" => met_by_a_lesson(kind, &format!("```cornerwise step at pair 9\n{SHORT}```\n")),
        "lesson-long" => {
            met_by_a_lesson(kind, &format!("```cornerwise position at 0\n{SHORT}```\n\n").repeat(201))
        }
        "lesson-nothing" => met_by_a_lesson(kind, &format!("```cornerwise question at 0\n{SHORT}```\n")),
        // A defect cannot be shown to order.
        "reader-failed" => {
            let source = Source::new("mine.yaml", "R2 U F2\n\nF2 U' R2\n");
            let failed = cornerwise::findings::reader_failed().at(cornerwise::diagnostic::Span::new(0, 7));
            draw(&source, &[failed], &Look::plain())
        }
        other => panic!("{other} has no example"),
    }
}

fn page() -> String {
    let source = Source::new("mine.yaml", "scramble: R2 U F2\nsolution: |\n  F2 R4 R2 // cross\n");
    let first = said(&source).remove(0);
    let mut page = format!(
        "# Messages\n\n\
         Everything that can be said of a record has a code that does not change. A **fault** was not understood, or\n\
         contradicts itself; what stands before it still counts. A **note** was understood all the same; `--strict`\n\
         makes notes faults. For each code there is an example, what is said of it, and what to write instead. What is\n\
         read is described in [the record format](record-format.md). This page is made from `src/findings` by\n\
         `tests/program/messages.rs`.\n\n\
         A message is drawn with the lines it is about:\n\n\
         ```console\n{}```\n\n\
         or, for editors, in one line (`--messages line`):\n\n\
         ```console\n{}\n```\n",
        draw(&source, std::slice::from_ref(&first), &Look::plain()),
        one_line(&source, &first)
    );
    for section in SECTIONS {
        page += &format!("\n## {}\n", section.heading);
        for kind in section.kinds {
            let about: Vec<&str> = kind.about.lines().map(str::trim).collect();
            page += &format!("\n### `{}` ({})\n\n{}\n", kind.code, kind.severity, about.join("\n"));
            let drawn = match kind.example {
                Some(Example::Instead(bad, instead)) => {
                    let still = said(&Source::new("mine.yaml", instead));
                    assert!(!still.iter().any(|said| said.code == kind.code), "{}: {still:?}", kind.code);
                    page += &format!("\n```text\n{bad}\n```\n");
                    met(kind, bad)
                }
                Some(Example::Against(one, other)) => {
                    page += &format!("\n```text\n{one}\n```\n\n```text\n{other}\n```\n");
                    met_by_two(kind, one, other)
                }
                None => met_unseen(kind),
            };
            page += &format!("\n```console\n{}\n```\n", drawn.trim_end());
            if let Some(Example::Instead(_, instead)) = kind.example {
                page += &format!("\nInstead:\n\n```text\n{instead}\n```\n");
            }
        }
    }
    page
}

#[test]
fn the_page_is_what_the_table_and_the_reader_say() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join(PAGE);
    let page = page();
    if std::env::var_os("CORNERWISE_UPDATE_DOCS").is_some() {
        fs::write(&path, &page).expect("written");
    }
    let kept = fs::read_to_string(&path).expect("the page");
    for (n, (kept, made)) in kept.lines().zip(page.lines()).enumerate() {
        assert_eq!(kept, made, "line {} of {PAGE}: write it anew with CORNERWISE_UPDATE_DOCS=1", n + 1);
    }
    assert_eq!(kept.len(), page.len());
}

/// Every message comes from the table: nothing else makes one.
#[test]
fn no_message_is_worded_elsewhere() {
    let mut files = vec![Path::new(env!("CARGO_MANIFEST_DIR")).join("src")];
    let mut n = 0;
    while let Some(path) = files.pop() {
        if path.is_dir() {
            files.extend(fs::read_dir(&path).expect("a folder").map(|entry| entry.expect("an entry").path()));
            continue;
        }
        let text = fs::read_to_string(&path).unwrap_or_default();
        let code = text.split("#[cfg(test)]").next().unwrap_or("");
        n += usize::from(code.contains("findings::"));
        let own = ["src/findings/mod.rs", "src/diagnostic.rs"].iter().any(|own| path.ends_with(own));
        for call in ["Diagnostic::fault(", "Diagnostic::note(", "Diagnostic {"] {
            let makes = code.contains(call) && !own;
            // The same with another severity, and the type in a signature, are not made anew.
            let lines = code.lines().filter(|line| line.contains(call));
            let made = lines
                .filter(|line| !line.contains("..") && !line.contains("-> ") && !line.contains("impl "))
                .count();
            assert!(!makes || made == 0, "{call} in {}", path.display());
        }
    }
    assert!(n >= 8, "{n}");
}

#[test]
fn severities_are_words() {
    assert_eq!([Severity::Note, Severity::Fault].map(|severity| severity.to_string()), ["note", "fault"]);
}

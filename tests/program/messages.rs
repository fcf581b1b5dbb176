//! `docs/messages.md` lists every code there is, with examples that do what it says.

use std::collections::BTreeSet;
use std::fs;
use std::path::Path;

use cornerwise::annotate::{self, Settings};
use cornerwise::diagnostic::Source;
use cornerwise::mend;
use cornerwise::record;
use cornerwise::report::diagnostics::{draw, one_line};
use cornerwise::report::look::Look;
use cornerwise::study::Study;

const PAGE: &str = include_str!("../../docs/messages.md");

/// The codes in the source: what stands first in a call of `fault`, `note` or `slip`, tests left out.
fn codes_in(folder: &Path, codes: &mut BTreeSet<String>) {
    for entry in fs::read_dir(folder).expect("a folder of the source") {
        let path = entry.expect("an entry").path();
        if path.is_dir() {
            codes_in(&path, codes);
            continue;
        }
        let text = fs::read_to_string(&path).expect("source text");
        let code = text.split("#[cfg(test)]").next().unwrap_or("");
        for call in ["fault(", "note(", "slip("] {
            for after in code.split(call).skip(1) {
                let Some(literal) = after.trim_start().strip_prefix('"') else { continue };
                let word = literal.split('"').next().unwrap_or("");
                assert!(
                    word.bytes().all(|byte| byte.is_ascii_lowercase() || byte == b'-'),
                    "{word:?} in {path:?}"
                );
                codes.insert(word.to_string());
            }
        }
    }
}

/// Everything said of a file, also after the replay of its records and by `mend`.
fn said(text: &str) -> Vec<(String, String)> {
    let source = Source::new("mine.yaml", text);
    let reading = record::read(&source);
    let annotated = reading.records.iter().enumerate().flat_map(|(index, record)| {
        annotate::annotate(&Study::new(&source, index + 1, record), &Settings::default()).diagnostics
    });
    let mended = reading
        .records
        .iter()
        .flat_map(|record| mend::examine(&source, record, &mend::Settings::default()).findings);
    let all: Vec<_> = reading.diagnostics.iter().cloned().chain(annotated).chain(mended).collect();
    all.iter().map(|said| (said.code.to_string(), said.severity.to_string())).collect()
}

#[test]
fn the_page_lists_exactly_the_codes_of_the_source() {
    let mut codes = BTreeSet::new();
    codes_in(&Path::new(env!("CARGO_MANIFEST_DIR")).join("src"), &mut codes);
    assert!(codes.len() > 40);
    let listed: Vec<&str> =
        PAGE.lines().filter_map(|line| line.strip_prefix("### `")?.split('`').next()).collect();
    let set: BTreeSet<String> = listed.iter().map(ToString::to_string).collect();
    assert_eq!(set.len(), listed.len(), "a code is listed twice");
    let missing: Vec<_> = codes.difference(&set).collect();
    let stale: Vec<_> = set.difference(&codes).collect();
    assert!(
        missing.is_empty() && stale.is_empty(),
        "not on the page: {missing:?}; not in the source: {stale:?}"
    );
}

#[test]
fn every_example_does_what_the_page_says() {
    let mut without = Vec::new();
    for section in PAGE.split("\n### `").skip(1) {
        let (code, rest) = section.split_once('`').expect("a code");
        let kind = if rest.starts_with(" (fault)") { "fault" } else { "note" };
        let section = rest.split("\n## ").next().unwrap_or("");
        let examples: Vec<&str> =
            section.split("```text\n").skip(1).filter_map(|part| part.split("\n```").next()).collect();
        match examples.as_slice() {
            [] => without.push(code),
            [bad, instead] => {
                let (bad, instead) = (said(bad), said(instead));
                assert!(bad.contains(&(code.into(), kind.into())), "{code}: {bad:?}");
                assert!(!instead.iter().any(|(found, _)| found == code), "{code}: {instead:?}");
            }
            other => panic!("{code} has {} examples", other.len()),
        }
    }
    // Too large or too odd for a page; `tests/record/record.rs` and `tests/cube/notation.rs` have them.
    // The last three are about two records; `tests/judgement/diff` has them.
    let large =
        ["file-not-text", "file-too-large", "records-too-many", "messages-too-many", "faults-too-many"];
    let of_two = ["scramble-slip", "scramble-turned", "scramble-other"];
    assert_eq!(without, [&large[..], &of_two].concat());
}

#[test]
fn the_drawing_on_the_page_is_real() {
    let source = Source::new("mine.yaml", "scramble: R2 U F2\nsolution: |\n  F2 R4 R2 // cross\n");
    let reading = record::read(&source);
    let said = &reading.records[0].diagnostics;
    let drawn = draw(&source, said, &Look::plain());
    assert!(PAGE.contains(drawn.trim_end()), "{drawn}");
    assert!(PAGE.contains(&one_line(&source, &said[0])), "{}", one_line(&source, &said[0]));
}

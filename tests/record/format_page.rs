//! `docs/record-format.md` is true: its examples are read without a word, its tables row by row.

use cornerwise::diagnostic::Source;
use cornerwise::notation::{self, Options, Turns};
use cornerwise::record;
use cornerwise::report::diagnostics::one_line;

const PAGE: &str = include_str!("../../docs/record-format.md");

fn blocks(language: &str) -> Vec<&'static str> {
    let fence = format!("```{language}\n");
    PAGE.split(&fence).skip(1).map(|rest| rest.split("```").next().unwrap_or("")).collect()
}

/// The rows of the table under a heading that begins with these cells; code marks taken off.
fn table(head: &str) -> Vec<Vec<String>> {
    let rows = PAGE.split(head).nth(1).expect("the table").lines().skip(2);
    rows.take_while(|row| row.starts_with('|'))
        .map(|row| {
            let cells = row.trim_matches('|').split('|');
            cells.map(|cell| cell.trim().trim_start_matches('`').trim_end_matches('`').to_string()).collect()
        })
        .collect()
}

fn parse(text: &str) -> (Turns, Vec<&'static str>) {
    let (turns, said) = notation::parse_all(text, &Options { fps: Some(60.0) });
    (turns, said.iter().map(|diagnostic| diagnostic.code).collect())
}

#[test]
fn examples_are_read_without_a_word_and_print_back() {
    let examples = [blocks("yaml"), blocks("plain")].concat();
    assert_eq!(examples.len(), 3);
    let mut records = 0;
    for example in examples {
        let source = Source::new("page", example);
        let reading = record::read(&source);
        let said: Vec<_> =
            reading.all_diagnostics().map(|diagnostic| one_line(&source, diagnostic)).collect();
        assert_eq!(said, Vec::<String>::new(), "{example}");
        for record in &reading.records {
            let printed = record::print(record);
            let again = record::read(&Source::new("printed", printed.as_str()));
            assert_eq!(record::print(&again.records[0]), printed);
            records += 1;
        }
    }
    assert_eq!(records, 4);
}

#[test]
fn ways_to_write_the_same_are_the_same() {
    let rows = table("| written | the same as |");
    assert_eq!(rows.len(), 9);
    for row in rows {
        let (turns, said) = parse(&row[0]);
        assert_eq!(said, Vec::<&str>::new(), "{row:?}");
        assert_eq!(notation::print(&turns), row[1], "{row:?}");
    }
}

#[test]
fn marks_are_the_times_that_the_page_gives() {
    let rows = table("| written | seconds at 60 fps |");
    assert_eq!(rows.len(), 5);
    for row in rows {
        let (turns, said) = parse(&row[0]);
        assert_eq!(said, Vec::<&str>::new(), "{row:?}");
        assert_eq!(turns.marks[0].time.to_string(), row[1]);
    }
}

#[test]
fn leniencies_are_read_as_the_page_says() {
    let rows = table("| written | read as | code |");
    assert_eq!(rows.len(), 20);
    for row in rows {
        let (turns, said) = parse(&row[0]);
        assert_eq!(notation::print(&turns), row[1], "{row:?}");
        assert_eq!(said, [row[2].as_str()], "{row:?}");
    }
}

#[test]
fn a_pasted_solve_with_labels_is_played_whole() {
    let [example] = blocks("pasted")[..] else { panic!("one example") };
    let reading = record::read(&Source::new("page", example));
    let record = &reading.records[0];
    assert!(!record.has_fault());
    assert_eq!(notation::print(&record.scramble), "R2 U F2 D' L B2");
    assert_eq!(
        notation::print(&record.solution),
        "// Inspection\nx2 y\n// Cross\nR' D' L F D // (5)\n// 1st pair\nU R U' R' // (4)"
    );
    let codes: Vec<_> = record.diagnostics.iter().map(|said| said.code).collect();
    assert_eq!(codes, ["line-number", "label-comment", "count-comment"]);
}

#[test]
fn results_are_kept_as_the_page_says() {
    let rows = table("| `time` | kept | code |");
    assert_eq!(rows.len(), 6);
    for row in rows {
        let text = format!("scramble: R\nsolution: R'\ntime: {}\n", row[0]);
        let reading = record::read(&Source::new("page", text));
        let record = &reading.records[0];
        let kept = record.time.map_or("nothing".into(), |(time, _)| time.to_string());
        assert_eq!(kept, row[1], "{row:?}");
        let codes: Vec<_> = record.diagnostics.iter().map(|said| said.code).collect();
        assert_eq!(codes, [row[2].as_str()], "{row:?}");
    }
}

//! Whatever the text, looking for repairs costs no more than its length allows; counted in steps, not by a clock.

use cornerwise::diagnostic::Source;
use cornerwise::mend::search::work::Work;
use cornerwise::mend::{self, Examination, Settings};
use cornerwise::record;
use cornerwise::study::Study;

fn look(text: &str) -> Vec<(usize, Examination)> {
    let source = Source::new("odd", text);
    let reading = record::read(&source);
    let records = reading.records.iter();
    records
        .map(|r| (r.span.range().len(), mend::examine(&Study::new(&source, 1, r), &Settings::default())))
        .collect()
}

/// What was found at a cost that a text of its length may have: finding and ranking have so much each.
#[track_caller]
fn within_bounds(text: &str) -> Vec<Examination> {
    let within = |(bytes, examination): (usize, Examination)| {
        let searched = examination.searched;
        assert!(searched.steps <= 2 * Work::most(bytes), "{bytes} bytes: {searched:?}\n{text:.200}");
        examination
    };
    look(text).into_iter().map(within).collect()
}

fn steps(text: &str) -> u64 {
    within_bounds(text).iter().map(|examination| examination.searched.steps).sum()
}

/// Texts that set a search without bounds to work for minutes, in gigabytes.
fn odd() -> Vec<String> {
    let scramble = "D L U F' B' U2 B2 D2 U B2 L' D' B U R' F2 L2 D' B L2";
    let with = |solution: &str| format!("{scramble}\n\n{solution}\n");
    vec![
        "@@@(R)2 ..\n @@".into(),
        "@@@@@@(R)2 ...\n @@@@@".into(),
        "@ @ @ ...\n@ @ @ @".into(),
        "(R)399\n\nU".into(),
        "(R U F)133\n\n@ (L D)150 @".into(),
        with(&"R @ U ".repeat(5)),
        with(&"R ? U L F ".repeat(6)),
        with(&"R ? U' F2 L y D ".repeat(3)),
        with(&"R U R' U' ".repeat(200)),
        with(&"R U R' U' F D2 L ".repeat(14)),
        with(&format!("{} ... {} ... R U", "R U' ".repeat(20), "F L ".repeat(20))),
        with(&format!("{} ... R U", "? U' ".repeat(3))),
        with("(R U R' U')100 (F @ D)3 (L)9 ? (B2 D)50"),
        with(&format!("{}@", "R L' ".repeat(70))),
        with("R R R R R R R R R R R R R R R R R R R R R R R R R R R R R R R"),
    ]
}

#[test]
fn odd_texts_cost_no_more_than_their_length_allows() {
    let mut cut_short = 0;
    for text in odd() {
        for examination in within_bounds(&text) {
            cut_short += usize::from(examination.searched.cut_short);
            // What was found all the same was looked at, and replays to solved.
            assert!(examination.ranked.repairs.iter().all(|repair| repair.judged.solved()));
        }
    }
    assert!(cut_short >= 6, "{cut_short}");
}

/// Many such records cost as much as each of them alone.
#[test]
fn a_file_of_odd_records_costs_their_sum() {
    for text in odd().iter().take(4) {
        let one = steps(text);
        // A line end more gives each a little more room.
        let all = steps(&[text.as_str(); 5].join("\n---\n"));
        assert!(all * 10 <= 5 * one * 11, "{all}, {one} alone: {text}");
    }
}

/// An ordinary record broken in one place is searched to the end.
#[test]
fn an_ordinary_record_stays_far_from_the_bound() {
    let whole = include_str!("../../reconstructions/missing-prime.yaml");
    let looked = look(whole);
    let [(bytes, examination)] = looked.as_slice() else { panic!("one record") };
    let searched = examination.searched;
    assert!(!searched.cut_short && searched.tried > 1_000_000, "{searched:?}");
    assert!(searched.steps * 4 < Work::most(*bytes), "{searched:?} of {}", Work::most(*bytes));
}

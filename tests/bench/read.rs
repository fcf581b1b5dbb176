//! How fast records are read and replayed. Run with `cargo bench --bench read`; `docs/record-format.md` has
//! the figures.

use cornerwise::cube::Position;
use cornerwise::diagnostic::Source;
use cornerwise::paste;
use cornerwise::record;
use cornerwise::report::diagnostics::draw;
use cornerwise::report::look::Look;
use divan::counter::ItemsCount;

fn main() {
    divan::main();
}

/// An invented solve of ordinary length, with the marks and claims that a careful writer gives.
const RECORD: &str = "\
title: Quay practice, third of five
solver: me
date: 2026-05-02
scramble: R2 U F2 D' L B2 R' U2 F' D2 R U' L2 B D' F2 R2 U' L2 D
solution: |
  x2 y // inspection
  <0.00> R' D' L F D R2 <1.12> // cross
  <1.40> U R U' R' U' L' U L <2.31> // 1st pair
  U2 y' R U R' U R U' R' <3.40> // 2nd pair
  <3.62> U' L' U' L U y L' U L <4.71> // 3rd pair
  R U' R' U R U R' <5.50> // 4th pair
  <5.80> F R U R' U' F' U R U R' U R U2 R' // OLL
  <7.90> R U R' U' R' F R2 U' R' U' R U R' F' U <9.84> // PLL
time: 9.84
notes: invented for measuring
";

/// The same with a quoted title, so that the fast reader leaves it to the YAML reader.
fn quoted() -> String {
    RECORD.replace("title: Quay practice, third of five", "title: \"Quay practice, third of five\"")
}

fn many(record: &str) -> Source {
    Source::new("bench", [record; 1000].join("---\n"))
}

fn tokens(source: &Source) -> usize {
    let reading = record::read(source);
    assert_eq!(reading.records.len(), 1000);
    assert!(reading.all_diagnostics().next().is_none());
    reading.records.iter().map(|record| record.scramble.tokens.len() + record.solution.tokens.len()).sum()
}

#[divan::bench(args = ["plain", "quoted"])]
fn read_1000_records(bencher: divan::Bencher<'_, '_>, kind: &str) {
    let source = if kind == "plain" { many(RECORD) } else { many(&quoted()) };
    bencher.counter(ItemsCount::new(1000_u32)).bench_local(|| assert_eq!(tokens(&source), 90_000));
}

/// The same as somebody pastes it: labels, brackets, a table of nothing but blanks, statistics.
fn pasted() -> String {
    let mut lines = vec!["heron: the morning at the quay".to_owned(), String::new()];
    for n in 1..=5 {
        lines.push(format!("{n}. 9.84 Scramble: R2 U F2 D' L B2 R' U2 F' D2 R U' L2 B D' F2 R2 U' L2 D"));
        for row in RECORD.lines().skip(5).take(7) {
            let row = row.replace("//", "(").replace('<', "[").replace('>', "]");
            lines.push(format!("> {})", row.trim()));
        }
        lines.push("57 HTM / 5.9 TPS".to_owned());
        lines.push("then U' here would be silly".to_owned());
        lines.push(String::new());
    }
    while lines.len() < 60 {
        lines.push("thanks for looking".to_owned());
    }
    lines.join("\n")
}

#[divan::bench]
fn read_a_paste_of_60_lines(bencher: divan::Bencher<'_, '_>) {
    let source = Source::new("bench", pasted());
    assert_eq!(source.text.lines().count(), 60);
    bencher.bench_local(|| {
        let reading = paste::read(&source);
        assert_eq!(reading.records.len(), 5);
        reading
    });
}

#[divan::bench]
fn read_1000_records_as_a_paste_may_be_read(bencher: divan::Bencher<'_, '_>) {
    let source = many(RECORD);
    bencher
        .counter(ItemsCount::new(1000_u32))
        .bench_local(|| assert_eq!(paste::read(&source).records.len(), 1000));
}

/// Texts of which everything is wrong, near the largest that is read, with every message drawn.
const HOSTILE: [(&str, &str, usize); 9] = [
    ("glued", "R'", 400_000),
    ("quotes", "‹", 300_000),
    ("unclosed marks", "<1", 400_000),
    ("angles", ">", 1_000_000),
    ("empty marks", "<>", 400_000),
    ("open marks", "<a ", 300_000),
    ("unknown fields", "unheard: 1\n", 60_000),
    ("the same field", "title: 1\n", 60_000),
    ("faulty records", "K\n\nQ\n---\n", 9_999),
];

#[divan::bench(args = HOSTILE.map(|(name, ..)| name))]
fn read_and_draw_what_is_wrong(bencher: divan::Bencher<'_, '_>, name: &str) {
    let (_, piece, n) = HOSTILE.into_iter().find(|(known, ..)| *known == name).expect("one of them");
    let head = if piece.contains(": ") { "scramble: R\nsolution: U\n" } else { "R\n\n" };
    let text = format!("{head}{}", piece.repeat(n));
    bencher.bench_local(|| {
        let source = Source::new("bench", text.as_str());
        let said: Vec<_> = record::read(&source).all_diagnostics().cloned().collect();
        assert!(!said.is_empty());
        draw(&source, &said, &Look::plain())
    });
}

#[divan::bench]
fn read_and_replay_1000_records(bencher: divan::Bencher<'_, '_>) {
    let source = many(RECORD);
    bencher.counter(ItemsCount::new(1000_u32)).bench_local(|| {
        let mut played = 0;
        let mut last = Position::SOLVED;
        for record in &record::read(&source).records {
            let mut position = Position::SOLVED;
            for mv in record.scramble.playable().chain(record.solution.playable()) {
                position.play(mv);
                played += 1;
            }
            last = position;
        }
        assert_eq!(played, 90_000);
        divan::black_box(last)
    });
}

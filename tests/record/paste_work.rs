//! Any text is read without a panic, in its bounds, and with work that grows with its length and no faster.

use cornerwise::diagnostic::Source;
use cornerwise::paste::{self, Account, Options};
use cornerwise::record;

use crate::support::random::Random;

const PIECES: [&str; 60] = [
    "R",
    "U'",
    "F2",
    "(",
    ")",
    "[",
    "]",
    ") x2",
    ")x 2",
    "(R U)",
    "(BR)",
    "x2",
    "y'",
    "r",
    "Rw2",
    "M",
    "3Rw",
    "...",
    "?",
    "<1.20>",
    "<205f>",
    "<",
    ">",
    "//",
    "#",
    "|",
    "\t",
    "\n",
    "\n\n",
    "---\n",
    "```\n",
    "> ",
    "- ",
    "1. ",
    "Scramble:",
    "Solution",
    "Cross:",
    "1st pair",
    "OLL (9/37)",
    "8.21",
    "10.70+",
    "DNF(",
    "57 HTM / 5.9 TPS",
    "then U' here",
    "xD",
    ":D",
    "&#39;",
    "&amp;",
    "<br>",
    "</b>",
    "’",
    "\u{200B}",
    "\u{301}",
    "é",
    "'",
    "\"",
    "@@@",
    "{",
    "title: '",
    "scramble: ",
];

fn read(text: &str) -> Account {
    paste::read_with(&Source::new("t", text), &Options { account: true, ..Options::default() })
}

/// Every place told lies in the text, on the borders of characters.
fn hold(text: &str, account: &Account) {
    let whole = |span: cornerwise::diagnostic::Span| {
        assert!(text.get(span.range()).is_some(), "{span:?} of {text:?}")
    };
    for said in account.reading.all_diagnostics() {
        said.labels.iter().for_each(|label| whole(label.span));
    }
    account.taken.iter().for_each(|taken| whole(taken.span));
    for record in &account.reading.records {
        for turns in [&record.scramble, &record.solution] {
            turns.tokens.iter().for_each(|token| whole(token.span));
            turns.comments.iter().for_each(|comment| whole(comment.span));
            turns.marks.iter().for_each(|mark| whole(mark.span));
        }
        // What is read can be written and read once more.
        let written = cornerwise::record::print_as_written(record);
        let _ = cornerwise::record::read(&Source::new("w", written));
        let _ = record.solution.spelled(0..record.solution.tokens.len());
    }
}

#[test]
fn any_text_is_read() {
    let mut random = Random::new(5);
    let (mut n_turns, mut n_refused) = (0, 0);
    for _ in 0..6000 {
        let n = 1 + random.below(40);
        let mut text = String::new();
        for _ in 0..n {
            text.push_str(random.pick(&PIECES));
            if random.below(3) > 0 {
                text.push(' ');
            }
        }
        let account = read(&text);
        hold(&text, &account);
        n_turns += usize::from(account.reading.records.iter().any(|r| !r.solution.tokens.is_empty()));
        n_refused += usize::from(account.reading.all_diagnostics().any(|said| said.is_fault()));
    }
    assert!(n_turns > 1000 && n_refused > 1000, "{n_turns} with turns, {n_refused} refused");
}

#[test]
fn any_bytes_are_read() {
    let mut random = Random::new(6);
    for _ in 0..3000 {
        let n = 1 + random.below(200);
        let bytes: Vec<u8> = (0..n).map(|_| u8::try_from(random.below(256)).expect("a byte")).collect();
        let text = String::from_utf8_lossy(&bytes).replace('\0', "0");
        hold(&text, &read(&text));
    }
}

/// Texts that are hard: nothing is solved, much is doubtful.
const HARD: [(&str, &str); 12] = [
    ("scrambles", "R U2 F' L D2 B R' U F2 L' D B2\n"),
    ("numbered", "1. 8.21 R U2 F' L D2 B R' U F2 L' D B2\n\n"),
    ("labels", "Scramble: R U F2 L' D\nSolution: R U R' U'\n"),
    ("doubts", "R U (BR) F (FL) B2 (LUL) D\n"),
    ("smileys", "R U xD F2 XD\n"),
    ("counts", "(R U R' U') x2 F (R U) x 2\n"),
    ("one line", "R U2 F' L D2 B | "),
    ("words", "then R here and U2 there, Cross: no\n"),
    ("steps", "Cross: R U F2\n1st pair: U R U'\n"),
    ("at signs", "@@@(R)2 ..\n @@\n"),
    ("brackets", "((R U) (F D) [L B]) "),
    ("figures", "R U // OLL (9/37) 1.20\n57 HTM / 5.9 TPS\n"),
];

#[test]
fn work_grows_with_the_text_and_no_faster() {
    for (name, row) in HARD {
        let work = |n: usize| read(&row.repeat(n)).work as f64;
        let rows = 1 + 2000 / row.len();
        let (small, large) = (work(rows), work(8 * rows));
        assert!(
            large <= 8.0 * small + 64.0 * 16.0 * 1024.0,
            "{name}: {small} for {rows} rows, {large} for eight times as many"
        );
        // Under 2 KB it is next to nothing.
        assert!(small <= 400_000.0, "{name}: {small}");
    }
}

/// Pastes without dashes between their solves have the same bound as files with them.
#[test]
fn of_a_paste_with_too_many_records_the_first_are_read() {
    let text = "Scramble: R U\nSolution: U' R'\n".repeat(record::MAX_RECORDS + 2);
    let reading = paste::read_with(&Source::new("long", text), &Options::default()).reading;
    assert_eq!(reading.records.len(), record::MAX_RECORDS);
    assert!(reading.diagnostics.iter().any(|said| said.code == "records-too-many"));
}

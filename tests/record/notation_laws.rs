//! Laws of the notation and of records that hold for any text.

use cornerwise::diagnostic::{Diagnostic, Source, Span};
use cornerwise::notation::{self, Element, MAX_TOKENS, Options, Time, Turns};
use cornerwise::record;
use cornerwise::report::diagnostics::{draw, one_line};
use cornerwise::report::look::Look;
use proptest::prelude::*;
use proptest::sample::select;

/// Pieces of notation and of trouble; a text of them comes near everything the reader knows.
const PIECES: &[&str] = &[
    "R",
    "U'",
    "F2",
    "d",
    "r'",
    "Lw2",
    "2Rw",
    "M'",
    "E2",
    "S",
    "x",
    "y2",
    "z'",
    "R2'",
    "R3",
    "R'2",
    "R’",
    "U′",
    "B`",
    "X",
    "rw",
    "RW",
    "m",
    "Ri",
    "R1",
    "R4",
    "R''",
    "3Rw",
    "1R",
    "2U",
    "K",
    "i",
    "ß",
    "В",
    "²",
    "R²",
    "UD'",
    "RUR'U'",
    " ",
    " ",
    " ",
    " ",
    "  ",
    "\n",
    "\n\n",
    "\r\n",
    "\t",
    "\u{A0}",
    "(",
    ")",
    "(",
    ")",
    ")2",
    ")3",
    ") 2",
    ") x 3",
    ")x2",
    ") x2",
    ") x5",
    ")*4",
    ")'",
    ")2'",
    ")0",
    ")99999999999999999999",
    "[",
    "]",
    ",",
    ";",
    "|",
    "-",
    "—",
    ".",
    "..",
    "...",
    "…",
    "?",
    "R?",
    "// words",
    "// 2nd pair\n",
    "# x\n",
    "#",
    "//",
    "/",
    "<0.00>",
    "<1.5>",
    "<00:03.420>",
    "<01:00:03.420>",
    "<205f>",
    "<999999999999999999999f>",
    "<3,4>",
    "<1:2>",
    "< 7.1 >",
    "<7",
    "<>",
    "<x>",
    ">",
    "<99:99.000>",
    "<4.1s>",
    "cross",
    "2nd",
    "F2L:",
    "Cross:",
    "OLL",
    "the end",
    "\"",
    "“",
    "'",
    "' ",
    "2",
    "{",
    "}",
    "^",
    "+",
    "=",
    "\u{FEFF}",
    "\u{0}",
    "\u{7}",
    "é",
    "🧊",
];

const LINES: &[&str] = &[
    "title: Quay practice",
    "title: 'a''b'",
    "title: \"a\\u2019b\"",
    "solver: me # label",
    "date: 2026-05-02",
    "date: soon",
    "scramble: R U F",
    "scramble: 'R U R''",
    "scramble: 'R U R'''",
    "scramble: \"R U R'\"",
    "scramble: R U # by hand",
    "scramble: |",
    "solution: |",
    "solution: >",
    "solution:",
    "Solution: |",
    "solution: |-",
    "solution: |2",
    "  R U R'",
    "  x2 // c: d",
    "    F2 <1.0> # e",
    "  - U",
    "- R",
    "  ",
    "",
    "sight: UFR",
    "sight: Q",
    "sight:",
    "sight: [U, F]",
    "fps: 60",
    "fps: 0",
    "fps: nan",
    "time: 9.84",
    "time: 1:02.34",
    "time: DNF",
    "notes: free text",
    "notes: a: b",
    "tme: 3",
    "{a: b}",
    "---",
    "--- # next",
    "...",
    "# remark",
    "// remark",
    "R U F",
    "R' <2f>",
    "&a b",
    "*a",
    "title: *a",
    "? x",
    "%YAML 1.2",
    "\t",
    "scramble: {a: [b, c]}",
    "\"scramble\": R",
    "'solution': R",
    "key with blanks: R",
    "title: [",
    "title: |",
    "\u{FEFF}",
    "title: é’",
];

fn pieces() -> impl Strategy<Value = String> {
    prop::collection::vec(select(PIECES), 0..40).prop_map(|pieces| pieces.concat())
}

fn documents() -> impl Strategy<Value = String> {
    let end = || select(&["\n", "\n", "\n", "\n", "\r\n", "\n\n", "\r"][..]);
    prop::collection::vec(
        (prop_oneof![3 => select(LINES).prop_map(String::from), 1 => pieces()], end()),
        0..16,
    )
    .prop_map(|lines| lines.into_iter().map(|(line, end)| line + end).collect())
}

/// A value as a person may write it, for any text: in the style that is asked for, where YAML allows it.
fn value(text: &str, style: usize) -> String {
    let control = text.chars().any(char::is_control);
    match style {
        0 if !control => format!("'{}'", text.replace('\'', "''")),
        1 if !control && !text.trim().is_empty() => format!("|\n    {}", text.trim()),
        _ => format!("{:?}", text.replace('\'', "’")),
    }
}

/// Documents with a scramble and a solution, and any text where text may stand.
fn good_documents() -> impl Strategy<Value = String> {
    let words = || prop::option::of(("[ -~é’ß🧊\n\t]{0,12}", 0..3_usize));
    let turns = || prop::collection::vec(select(GOOD), 1..12).prop_map(|pieces| pieces.concat());
    (words(), words(), turns(), turns(), words(), 0..2000_u32, "[UDFBRL]{1,4}").prop_map(
        |(title, notes, scramble, solution, remark, time, sight)| {
            let mut text = String::new();
            if let Some((remark, _)) = remark {
                text += &format!("# {}\n", remark.replace(['\n', '\t'], " "));
            }
            if let Some((title, style)) = title {
                text += &format!("title: {}\n", value(&title, style));
            }
            text += &format!("scramble: |\n  {}\n", scramble.replace('\n', "\n  "));
            text += &format!("solution: |\n  {}\n", solution.replace('\n', "\n  "));
            text += &format!("sight: {sight}\nfps: 60\ntime: {}.{:02}\n", time / 100, time % 100);
            if let Some((notes, style)) = notes {
                text += &format!("notes: {}\n", value(&notes, style));
            }
            text
        },
    )
}

/// Pieces without a fault.
const GOOD: &[&str] = &[
    "R ",
    "U' ",
    "F2 ",
    "d ",
    "r' ",
    "M' ",
    "x2 ",
    "R2' ",
    "R’ ",
    "UD'",
    " // words: 'and' \"more\" # \\\n",
    " # x\n",
    "\n",
    "(R U) ",
    "(R U')3 ",
    "(F (R)2)x2 ",
    " ? ",
    " ... ",
    " <205f> ",
    " <9999999f> ",
    ", ",
    " //\n",
    "R\n",
];

#[track_caller]
fn on_borders(text: &str, span: Span) {
    assert!(span.start <= span.end, "{span:?} in {text:?}");
    assert!(text.get(span.range()).is_some(), "{span:?} in {text:?}");
}

#[track_caller]
fn well_placed(text: &str, turns: &Turns) {
    on_borders(text, turns.span);
    turns.tokens.iter().for_each(|token| on_borders(text, token.span));
    turns.comments.iter().for_each(|comment| on_borders(text, comment.span));
    turns.marks.iter().for_each(|mark| on_borders(text, mark.span));
    turns.unread.iter().for_each(|(span, _)| on_borders(text, *span));
    assert!(turns.marks.is_sorted_by_key(|mark| (mark.time, mark.moment)));
    assert!(turns.comments.is_sorted_by_key(|comment| comment.moment));
    assert!(turns.breaks.is_sorted_by_key(|line| line.moment));
    assert!(turns.tokens.len() <= MAX_TOKENS + 1);
    let last = turns.tokens.len();
    assert!(turns.marks.iter().all(|mark| mark.moment <= last));
    assert!(turns.comments.iter().all(|comment| comment.moment <= last));
}

#[track_caller]
fn tellable(source: &Source, said: &[Diagnostic]) {
    for diagnostic in said {
        diagnostic.labels.iter().for_each(|label| on_borders(&source.text, label.span));
        assert!(!one_line(source, diagnostic).contains('\n'));
    }
    assert_eq!(draw(source, said, &Look::plain()).is_empty(), said.is_empty());
}

type Meaning = (Vec<Element>, Vec<(usize, Time, Option<u64>)>, Vec<(usize, String)>, Vec<String>);

/// All of it but the places.
fn meaning(turns: &Turns) -> Meaning {
    (
        turns.tokens.iter().map(|token| token.element).collect(),
        turns.marks.iter().map(|mark| (mark.moment, mark.time, mark.frame)).collect(),
        turns.comments.iter().map(|comment| (comment.moment, comment.text.clone())).collect(),
        turns.unread.iter().map(|(_, words)| words.clone()).collect(),
    )
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 2000, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn any_text_is_read_and_every_span_lies_in_it(text in prop_oneof![".*", "(?s).*", pieces()], fps in any::<Option<f64>>()) {
        let (turns, said) = notation::parse_all(&text, &Options { fps });
        well_placed(&text, &turns);
        tellable(&Source::new("x", text.as_str()), &said);
        // A fault for everything that was not read, and nothing unread without a fault.
        if turns.tokens.iter().any(|token| token.element == Element::Unreadable) {
            prop_assert!(said.iter().any(Diagnostic::is_fault));
        }
    }

    #[test]
    fn a_region_is_read_as_if_it_stood_alone(before in ".{0,9}", text in pieces(), after in ".{0,9}") {
        let whole = format!("{before}{text}{after}");
        let region = Span::new(before.len(), before.len() + text.len());
        let (inside, said_inside) = notation::parse(&whole, region, &Options::default());
        let (alone, said_alone) = notation::parse_all(&text, &Options::default());
        prop_assert_eq!(meaning(&inside), meaning(&alone));
        prop_assert_eq!(said_inside.len(), said_alone.len());
        for (inside, alone) in inside.tokens.iter().zip(&alone.tokens) {
            prop_assert_eq!(inside.span.start, alone.span.start + before.len());
        }
    }

    #[test]
    fn printed_turns_read_back(text in pieces()) {
        let options = Options { fps: Some(59.94) };
        let (turns, said) = notation::parse_all(&text, &options);
        let printed = notation::print(&turns);
        let (again, said_again) = notation::parse_all(&printed, &options);
        if turns.unread.is_empty() {
            prop_assert_eq!(meaning(&again), meaning(&turns), "{:?}", printed);
            prop_assert!(said_again.is_empty(), "{:?} {:?}", printed, said_again);
            prop_assert_eq!(notation::print(&again), printed);
        }
        if said.is_empty() {
            prop_assert!(turns.unread.is_empty());
        }
    }

    #[test]
    fn any_file_is_read_and_every_span_lies_in_it(text in prop_oneof!["(?s).*", documents()]) {
        let source = Source::new("x", text.as_str());
        let reading = record::read(&source);
        prop_assert!(!reading.records.is_empty() || !reading.diagnostics.is_empty());
        tellable(&source, &reading.diagnostics);
        for record in &reading.records {
            on_borders(&text, record.span);
            for turns in [&record.scramble, &record.solution] {
                well_placed(&text, turns);
            }
            for span in [record.sight_given, record.fps_given, record.time.map(|(_, span)| span)].into_iter().flatten() {
                on_borders(&text, span);
            }
            tellable(&source, &record.diagnostics);
        }
    }

    #[test]
    fn printed_records_read_back(text in prop_oneof![1 => documents(), 3 => good_documents()]) {
        let source = Source::new("x", text.as_str());
        for record in record::read(&source).records {
            // Turns that could not be read, and those that are missing, are printed as well as can be.
            if record.scramble.unread.len() + record.solution.unread.len() > 0 || record.scramble.tokens.is_empty()
            || record.solution.tokens.is_empty() {
                continue;
            }
            let printed = record::print(&record);
            let reading = record::read(&Source::new("printed", printed.as_str()));
            prop_assert_eq!(reading.records.len(), 1, "{}", printed);
            let again = &reading.records[0];
            // What the writer wrote is kept, so these are said again.
            let strict = |said: &&Diagnostic| !["date-form", "mark-in-scramble"].contains(&said.code);
            prop_assert_eq!(again.diagnostics.iter().find(strict), None, "{}", printed);
            prop_assert_eq!(meaning(&again.scramble), meaning(&record.scramble), "{}", printed);
            prop_assert_eq!(meaning(&again.solution), meaning(&record.solution), "{}", printed);
            prop_assert_eq!(&again.title, &record.title, "{}", printed);
            prop_assert_eq!(&again.solver, &record.solver, "{}", printed);
            prop_assert_eq!(&again.date, &record.date, "{}", printed);
            prop_assert_eq!(&again.notes, &record.notes, "{}", printed);
            prop_assert_eq!(again.sight, record.sight);
            prop_assert_eq!(again.fps, record.fps);
            prop_assert_eq!(again.time.map(|time| time.0), record.time.map(|time| time.0));
            prop_assert_eq!(&again.remarks, &record.remarks, "{}", printed);
        }
    }
}

/// What YAML forbids may stand in a comment of a broken record, and must not come back when that is written again.
#[test]
fn remarks_are_written_without_what_yaml_forbids() {
    for forbidden in ["\0", "\u{b}", "\u{7f}", "\u{85}", "\u{9f}", "\u{fffe}", "\u{ffff}"] {
        let text = format!("#{forbidden} by the quay{forbidden}\nscramble: R U F\n'solution': R\n");
        let reading = record::read(&Source::new("x", text.as_str()));
        let record = &reading.records[0];
        assert_eq!(record.remarks, ["by the quay"], "{forbidden:?}");
        let again = record::read(&Source::new("x", record::print(record)));
        assert!(again.all_diagnostics().next().is_none(), "{forbidden:?}: {again:?}");
        assert_eq!(again.records[0].remarks, record.remarks);
    }
}

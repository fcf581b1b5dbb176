//! Solves as people paste them: out of chats, video descriptions, spreadsheets and the notes of a timer.
//!
//! The strict reader of [`record`] comes first. Where it fails or stumbles, this one takes over: the
//! text is cleaned (`clean`), every line is divided into turns and words at the least cost (`line`), the
//! document is divided into solves (`document`, `decide`), and what the words leave open is decided by the replay.
//! What was chosen is put together as the strict grammar has it and read by that grammar (`compose`), so that there is
//! one grammar of turns and every place leads to where it was written.
//!
//! Three laws: what is not played is named in a note; what was not meant as turns is never played; two solves are
//! never read as one. Where two readings stay possible the text is refused and both are shown.
//!
//! ```
//! use cornerwise::diagnostic::Source;
//! use cornerwise::paste;
//!
//! let source = Source::new("-", "Scramble: R U F\n8.21\n\nF' back\nthen U' here\nU' R' xD\n");
//! let reading = paste::read(&source);
//! let record = &reading.records[0];
//! assert_eq!(cornerwise::notation::print(&record.solution), "F' // back\n// then U' here\nU' R' // xD");
//! assert_eq!(record.time.map(|(time, _)| time.seconds()), Some(8.21));
//! ```

mod atoms;
mod build;
mod clean;
mod compose;
mod decide;
mod document;
mod figures;
mod head;
mod line;
mod other_cube;
mod stamps;
mod strict;
mod words;

pub use words::Role;

use std::panic::{self, AssertUnwindSafe};

use crate::diagnostic::{Diagnostic, Severity, Source, Span};
use crate::findings;
use crate::notation::Element;
use crate::record::{self, MAX_RECORDS, Reading, Record};
use crate::steps::{self, End};

use clean::Clean;
use decide::{Decider, Draft};
use document::Document;

/// How a text is to be read.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Options {
    /// Whether every note becomes a fault.
    pub strict: bool,
    /// Which of the readings is taken where several stay possible, from 1.
    pub reading: Option<usize>,
    /// Whether to tell how each line was taken; it takes as long again as to read.
    pub account: bool,
}

/// What a stretch of text was taken for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum What {
    /// Turns of the scramble.
    Scramble,
    /// Turns of the solution.
    Solution,
    /// A label for a part, such as `Scramble:`.
    Label,
    /// A label for a step, kept as a remark.
    StepLabel,
    /// A remark.
    Remark,
    /// The title.
    Title,
    /// The result.
    Time,
    /// Statistics.
    Figures,
    /// A field with its label.
    Field(Role),
    /// Lines, fences and heads of tables.
    Decoration,
    /// Not used.
    Aside,
}

/// A stretch of text and what it was taken for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Taken {
    /// Where it stands.
    pub span: Span,
    /// What it is.
    pub what: What,
    /// The record it belongs to, counted from 1 in the whole source.
    pub record: usize,
}

/// A source as read, and how its lines were taken.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Account {
    /// The records.
    pub reading: Reading,
    /// What each stretch was taken for, in the order of the text; empty unless asked for.
    pub taken: Vec<Taken>,
    /// Bytes put together to decide between readings: at most a fixed multiple of those of the source.
    pub work: usize,
}

/// Reads a source with the usual tolerance.
#[must_use]
pub fn read(source: &Source) -> Reading {
    read_with(source, &Options::default()).reading
}

/// Reads a source; never fails and never panics.
#[must_use]
pub fn read_with(source: &Source, options: &Options) -> Account {
    let Reading { records, diagnostics } = record::read(source);
    let mut account = Account { reading: Reading { records: Vec::new(), diagnostics }, ..Account::default() };
    let mut waiting: Vec<Record> = Vec::new();
    for mut record in records {
        soften(&mut record);
        if is_doubtful(&source.text, &record) {
            waiting.push(record);
            continue;
        }
        settle(source, &mut waiting, options, &mut account);
        take_strict(&source.text, options, &mut account, record);
    }
    settle(source, &mut waiting, options, &mut account);
    // What is parted by words instead of lines of dashes is counted only now.
    if let Some(first) = account.reading.records.get(MAX_RECORDS).map(|record| record.span) {
        account.reading.records.truncate(MAX_RECORDS);
        account.taken.retain(|taken| taken.record <= MAX_RECORDS);
        let said = findings::records_too_many(MAX_RECORDS).at(first.first_line(&source.text));
        account.reading.diagnostics.push(said);
    }
    account.reading.records.iter_mut().for_each(figures::read);
    account.reading.cap_messages();
    if options.strict {
        let strict = |said: &mut Vec<Diagnostic>| {
            *said = std::mem::take(said).into_iter().map(Diagnostic::strict).collect();
        };
        strict(&mut account.reading.diagnostics);
        account.reading.records.iter_mut().for_each(|record| strict(&mut record.diagnostics));
    }
    account
}

/// Faults of the form alone. The turns are read for all that.
const FORM: [&str; 2] = ["quoted-prime", "yaml-syntax"];

/// Where nothing but the YAML is wrong and the turns that its lines show solve the cube, that is what was meant: a note
/// says what to write.
fn soften(record: &mut Record) {
    let faults = || record.diagnostics.iter().filter(|said| said.is_fault());
    if faults().next().is_none() || !faults().all(|said| FORM.contains(&said.code)) || !is_solved(record) {
        return;
    }
    record.diagnostics.iter_mut().for_each(|said| said.severity = Severity::Note);
}

/// Takes a record as the strict reader has it.
fn take_strict(source: &str, options: &Options, account: &mut Account, record: Record) {
    let number = account.reading.records.len() + 1;
    if options.account {
        account.taken.extend(strict::taken(source, &record, number));
    }
    account.reading.records.push(record);
}

/// Notes of single tokens; every other note is a reason to look again.
const HARMLESS: [&str; 12] = [
    "prime-typographic",
    "token-glued",
    "rotation-capital",
    "slice-small",
    "wide-case",
    "suffix-order",
    "suffix-unusual",
    "suffix-apart",
    "bracket-square",
    "group-prime",
    "unknown-glued",
    "mark-form",
];

/// Faults of size: no other reading makes the text smaller.
const LIMITS: [&str; 3] = ["bracket-too-deep", "tokens-too-many", "count-invalid"];

/// Whether the strict reading of a record is not the last word: it has a fault, or the text shows signs of something
/// that the strict grammar does not know.
fn is_doubtful(source: &str, record: &Record) -> bool {
    let text = &source[record.span.range()];
    if record.diagnostics.iter().any(|said| LIMITS.contains(&said.code)) {
        return false;
    }
    if record.has_fault() || has_rotation_or_count(text) || other_cube::is_large(&record.scramble) {
        return true;
    }
    let smiley = record.diagnostics.iter().any(|said| said.code == "token-glued") && {
        text.split_whitespace().any(words::is_smiley)
    };
    if smiley {
        return true;
    }
    if record::is_mapping(text) {
        return record.diagnostics.iter().any(|said| said.code == "label-plain");
    }
    record.diagnostics.iter().any(|said| !HARMLESS.contains(&said.code))
        || paragraphs(text) > 2
        || is_solved_on_the_way(record)
}

/// Whether the cube is solved long before the last turn: two solves may stand there as one.
fn is_solved_on_the_way(record: &Record) -> bool {
    let n_tokens = record.solution.tokens.len();
    let mut position = crate::cube::Position::SOLVED.after(record.scramble.playable());
    for mv in record.solution.playable().take(n_tokens.saturating_sub(decide::GOING_ON)) {
        position.play(mv);
        if position.state.is_solved() {
            return true;
        }
    }
    false
}

/// `) x2` and `) x 2`.
fn has_rotation_or_count(text: &str) -> bool {
    text.match_indices([')', ']']).any(|(at, _)| {
        let after = &text[at + 1..];
        let bare = after.trim_start_matches([' ', '\t']);
        bare.len() < after.len()
            && bare.strip_prefix(['x', 'X']).is_some_and(|rest| rest.trim_start_matches(' ').starts_with('2'))
    })
}

fn paragraphs(text: &str) -> usize {
    let mut blank = true;
    text.lines()
        .filter(|line| std::mem::replace(&mut blank, line.trim().is_empty()) && !blank_comment(line))
        .count()
}

fn blank_comment(line: &str) -> bool {
    let bare = line.trim();
    bare.is_empty() || bare.starts_with("//") || bare.starts_with('#')
}

/// Whether a field is unknown or given twice: only the strict reader tells that.
fn names_a_field_wrongly(record: &Record) -> bool {
    record.diagnostics.iter().any(|said| matches!(said.code, "field-unknown" | "field-duplicate"))
}

/// Whether there are no turns for one of the parts.
fn lacks(record: &Record) -> bool {
    record.scramble.tokens.is_empty() || record.solution.tokens.is_empty()
}

/// Reads the records that wait, together where one of them lacks a part that a neighbour may have.
fn settle(source: &Source, waiting: &mut Vec<Record>, options: &Options, account: &mut Account) {
    let waiting = std::mem::take(waiting);
    if waiting.len() > 1 && waiting.iter().any(lacks) {
        again(source, waiting, options, account);
        return;
    }
    for record in waiting {
        again(source, vec![record], options, account);
    }
}

/// Reads one stretch of text again and takes the better reading.
fn again(source: &Source, strict: Vec<Record>, options: &Options, account: &mut Account) {
    let text = &source.text;
    let (Some(first), Some(last)) = (strict.first(), strict.last()) else { return };
    let span = first.span.to(last.span);
    // A defect here must not take what the strict reader has, nor the other records.
    let Ok(found) = panic::catch_unwind(AssertUnwindSafe(|| general(text, span, options))) else {
        for mut record in strict {
            record.diagnostics.push(findings::reader_failed().at(record.span.first_line(text)));
            take_strict(text, options, account, record);
        }
        return;
    };
    account.work += found.work;
    let mapping = record::is_mapping(&text[span.range()]);
    let faults = |records: &[Record]| {
        records.iter().flat_map(|record| &record.diagnostics).filter(|said| said.is_fault()).count()
    };
    let (strict_faults, general_faults) = (faults(&strict), faults(&found.records));
    let refusal = found.kind != Found::Records;
    let better = match found.kind {
        Found::Nothing => false,
        Found::Refused => true,
        // In YAML the strict reading says better which field is wrong.
        Found::Garbled => !mapping,
        // The strict reading may have decided for a rotation: the replay does not.
        Found::Open => strict_faults == 0 || !mapping,
        // Wherever the border between scramble and solution is, the turns solve the cube: that says nothing for the
        // strict reading.
        Found::Records if strict_faults == 0 => {
            (found.comes_out || !strict.iter().all(is_solved)) && !same_turns(&strict, &found.records)
        }
        // In YAML the strict reading says better what is wrong, unless this one comes out.
        Found::Records if mapping => {
            general_faults < strict_faults
                && !(same_turns(&strict, &found.records) && strict.iter().any(names_a_field_wrongly))
                && (found.comes_out || strict.iter().any(lacks))
        }
        // A mistyped token or two are told as such, unless setting words aside makes it come out.
        Found::Records => found.comes_out || !is_mistyped(&strict, strict_faults),
    };
    if !better {
        strict.into_iter().for_each(|record| take_strict(text, options, account, record));
        return;
    }
    let number = account.reading.records.len();
    account
        .taken
        .extend(found.taken.into_iter().map(|taken| Taken { record: taken.record + number, ..taken }));
    let mut records = found.records;
    if let ([strict], [record]) = (strict.as_slice(), records.as_mut_slice())
        && mapping
        && !refusal
    {
        keep_fields(strict, record);
    }
    account.reading.records.append(&mut records);
}

/// Whether nothing is wrong with the strict reading but a token or two that cannot be read.
fn is_mistyped(strict: &[Record], n_faults: usize) -> bool {
    let faults = || strict.iter().flat_map(|record| &record.diagnostics).filter(|said| said.is_fault());
    n_faults <= 2 && !strict.iter().any(lacks) && faults().all(|said| said.code.starts_with("token-"))
}

/// What the reader of YAML made of the fields is kept: it knows quotes and blocks.
fn keep_fields(strict: &Record, record: &mut Record) {
    for (from, to) in [
        (&strict.title, &mut record.title),
        (&strict.solver, &mut record.solver),
        (&strict.date, &mut record.date),
        (&strict.notes, &mut record.notes),
    ] {
        if from.is_some() {
            to.clone_from(from);
        }
    }
    (record.sight, record.sight_given) = (strict.sight, strict.sight_given);
    record.hands = strict.hands;
    record.fps_given = strict.fps_given.or(record.fps_given);
    record.fps = strict.fps.or(record.fps);
    record.time = strict.time.or(record.time);
    (record.scramble_style, record.solution_style) = (strict.scramble_style, strict.solution_style);
}

fn is_solved(record: &Record) -> bool {
    let whole = |turns: &crate::notation::Turns| {
        !turns.tokens.is_empty() && turns.tokens.iter().all(|token| matches!(token.element, Element::Move(_)))
    };
    let moves = record.scramble.playable().chain(record.solution.playable());
    whole(&record.scramble)
        && whole(&record.solution)
        && crate::cube::Position::SOLVED.after(moves).state.is_solved()
}

fn same_turns(a: &[Record], b: &[Record]) -> bool {
    let elements = |record: &Record| {
        let of = |turns: &crate::notation::Turns| {
            turns.tokens.iter().map(|token| token.element).collect::<Vec<_>>()
        };
        (of(&record.scramble), of(&record.solution))
    };
    a.len() == b.len() && a.iter().zip(b).all(|(a, b)| elements(a) == elements(b))
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Found {
    /// Records, perhaps with faults.
    Records,
    /// Two readings stay possible.
    Open,
    /// Another puzzle: one message.
    Refused,
    /// No record: one message.
    Garbled,
    /// Nothing that the strict reading would not show better.
    Nothing,
}

struct General {
    kind: Found,
    /// Whether every solve ends solved, or a turn short.
    comes_out: bool,
    records: Vec<Record>,
    taken: Vec<Taken>,
    work: usize,
}

/// The general reading of a stretch of text.
fn general(source: &str, span: Span, options: &Options) -> General {
    let document = Document::new(Clean::of(source, span));
    let refused = |said: Diagnostic, work: usize| {
        let mut record = Record::empty(span);
        record.diagnostics.push(said);
        General { kind: Found::Refused, comes_out: false, records: vec![record], taken: Vec::new(), work }
    };
    if let Some((place, why)) = other_cube::in_turns(&document) {
        return refused(findings::other_cube(&why).at(place), 0);
    }
    let nothing = |work| General {
        kind: Found::Nothing,
        comes_out: false,
        records: Vec::new(),
        taken: Vec::new(),
        work,
    };
    let decision = Decider::new(&document).decide();
    let work = decision.work;
    let mut readings = decision.readings;
    let solved = |drafts: &Vec<Draft>| drafts.iter().any(|draft| draft.rank >= decide::Rank::Short);
    if !readings.first().is_some_and(solved)
        && let Some((place, why)) = other_cube::by_name(&document)
    {
        return refused(findings::other_cube(&why).at(place), work);
    }
    if let Some(garbled) = garbled(&document, span) {
        return General { kind: Found::Garbled, ..refused(garbled, work) };
    }
    let chosen = match options.reading {
        Some(n) if readings.len() > 1 && n >= 1 && n <= readings.len() => readings.swap_remove(n - 1),
        _ if readings.len() > 1 => {
            let told: Vec<String> = readings.iter().map(|drafts| told(&document, drafts)).collect();
            let place = document.clean.span(0, document.text().trim_end().len());
            let first = Span::new(
                place.start,
                place.start + source[place.range()].find('\n').unwrap_or(place.end - place.start),
            );
            let mut general = refused(build::open(first, source, &told), work);
            general.kind = Found::Open;
            return general;
        }
        _ => match readings.pop() {
            Some(drafts) => drafts,
            None => return nothing(work),
        },
    };
    let mut chosen = chosen;
    if let Some(n) = options.reading {
        for draft in &mut chosen {
            build::choose(draft, n.saturating_sub(1));
        }
    }
    let open = chosen.iter().any(|draft| !draft.open.is_empty());
    if chosen.len() > 1 && chosen.iter().all(|draft| draft.solution.is_empty()) {
        let place = chosen[0].scramble.first().map_or(span, |&n| {
            let segment = document.segment(&document.items[n]);
            document.clean.span(segment.start, segment.end)
        });
        let said = findings::no_solutions(chosen.len()).at(place);
        return General { kind: Found::Garbled, ..refused(said, work) };
    }
    let made = build::records(&document, source, &chosen);
    let kind = if open { Found::Open } else { Found::Records };
    let comes_out = chosen.iter().all(|draft| draft.rank >= decide::Rank::Short);
    General { kind, comes_out, records: made.records, taken: made.taken, work }
}

/// A reading in words, to choose from.
fn told(document: &Document, drafts: &[Draft]) -> String {
    let count = |items: &[usize]| items.iter().map(|&n| document.items[n].tokens).sum::<usize>();
    let each: Vec<String> = drafts
        .iter()
        .map(|draft| {
            let ends = match draft.rank {
                decide::Rank::Solved => "solved at the end",
                decide::Rank::Short => "one turn short of solved",
                decide::Rank::Unsolved | decide::Rank::Empty => "not solved at the end",
            };
            format!(
                "a scramble of {} turns and a solution of {} ({ends})",
                count(&draft.scramble),
                count(&draft.solution)
            )
        })
        .collect();
    match each.as_slice() {
        [one] => format!("one solve, {one}"),
        _ => format!("{} solves, {}", each.len(), each.join("; ")),
    }
}

/// A text with hardly any turns, or with more that cannot be read than a slip or two, is no record.
fn garbled(document: &Document, span: Span) -> Option<Diagnostic> {
    let turns = document.tokens();
    let bad = document
        .items
        .iter()
        .filter(|item| item.piece == line::Piece::Turns)
        .map(|item| {
            let atoms = &document.lines[item.line].atoms[document.segment(item).atoms.clone()];
            atoms
                .iter()
                .filter(|atom| matches!(atom.kind, atoms::Kind::Bad | atoms::Kind::Word | atoms::Kind::Time))
                .count()
        })
        .sum::<usize>();
    let lines = document.lines.iter().filter(|line| line.has_turns()).count();
    if turns >= 2 && bad <= 3 + turns / 6 && lines > 0 {
        return None;
    }
    let place = document.lines.iter().find(|line| line.shape == line::Shape::Content)?;
    let first = document.clean.span(place.content, place.end.max(place.content));
    let place = if first.end > first.start { first } else { span };
    Some(findings::not_a_record(turns, bad).at(place))
}

/// Whether the record ends solved, or one turn short: what a reading is chosen by.
#[must_use]
pub fn comes_out(record: &Record) -> bool {
    let replay = crate::replay::Replay::new(record.scramble.playable(), record.solution.playable());
    matches!(steps::split(&replay).end, End::Solved | End::OneTurnShort(_))
}

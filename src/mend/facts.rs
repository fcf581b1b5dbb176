//! What was found in one record, finished: also the public JSON, one object a record (`cornerwise-mend/2`).
//!
//! The types say what there is; serde writes them as people read them and reads them back, and
//! `docs/mend.schema.json` is made of them (`tests/program/mend_facts.rs` holds it).

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::cube::Moves;
use crate::diagnostic::{Diagnostic, Severity, Source};
use crate::record::Record;

use super::change::{Change, Part};
use super::examine::{Examination, Health, Searched, Standing};
use super::locate::Located;
use super::rank::Repair;
use super::slip::Slip;
use super::{text, words};

/// The version of the format. A draft until the work now open is done; after that, fields are only added.
pub const FORMAT: &str = "cornerwise-mend/2";

/// What was found in one record.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Mending {
    /// Always [`FORMAT`].
    pub format: String,
    /// The file's name.
    pub file: String,
    /// The record's place in its file, from 1.
    pub record: usize,
    /// The writer's title.
    pub title: Option<String>,
    /// How the record is.
    pub health: Health,
    /// How sure the first repair is.
    pub standing: Standing,
    /// How many repairs are about as likely as the first, itself included.
    pub near: usize,
    /// What is wrong or looks wrong, in the order of the text.
    pub findings: Vec<Said>,
    /// Where the record goes wrong, if it does.
    pub located: Option<Located>,
    /// How many different repairs fit.
    pub fits: usize,
    /// What was searched.
    pub searched: Searched,
    /// The likeliest repairs, the first first.
    pub repairs: Vec<Mended>,
}

/// One message.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct Said {
    /// How bad it is.
    pub severity: Severity,
    /// The stable name of the kind of message.
    pub code: String,
    /// What was expected and found.
    pub message: String,
    /// What to write instead.
    pub help: Option<String>,
    /// Line in the file, from 1.
    pub line: Option<usize>,
    /// Column in the line, in characters from 1.
    pub column: Option<usize>,
}

/// One repair.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Mended {
    /// What to do, in words.
    pub what: String,
    /// The natural logarithm of how unlikely it is, to two decimals.
    pub cost: f64,
    /// How many of the writer's claims do not hold afterwards.
    pub broken_claims: usize,
    /// What is rewritten, in order.
    pub changes: Vec<Changed>,
    /// The bytes of the file to replace; `null` if the repair cannot be written in place.
    pub rewrites: Option<Vec<Rewritten>>,
    /// The scramble as it would be.
    pub scramble: Moves,
    /// The solution as it would be.
    pub solution: Moves,
}

/// One place rewritten.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct Changed {
    /// In which sequence.
    pub part: Part,
    /// The first of its tokens that is replaced, from 0.
    pub from: usize,
    /// One past the last; the same as `from` for an insertion.
    pub to: usize,
    /// What they become.
    pub moves: Moves,
    /// How the writer would have slipped.
    pub slip: Slip,
    /// The same in words.
    pub why: String,
    /// Line in the file, from 1.
    pub line: usize,
    /// Column in the line, in characters from 1.
    pub column: usize,
}

/// Bytes of the file and what stands there instead.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct Rewritten {
    /// The first byte.
    pub start: usize,
    /// One past the last.
    pub end: usize,
    /// The new text.
    pub with: String,
}

impl Mending {
    /// What was found in the record with this number (from 0) in its file, with at most `shown` repairs.
    #[must_use]
    pub fn new(
        source: &Source,
        index: usize,
        record: &Record,
        examination: &Examination,
        shown: usize,
    ) -> Mending {
        let repairs = examination.ranked.repairs.iter().take(shown);
        Mending {
            format: FORMAT.into(),
            file: source.name.clone(),
            record: index + 1,
            title: record.title.clone(),
            health: examination.health,
            standing: examination.standing,
            near: examination.near,
            findings: examination.findings.iter().map(|finding| Said::new(source, finding)).collect(),
            located: examination.located.clone(),
            fits: examination.ranked.n_fits,
            searched: examination.searched,
            repairs: repairs.map(|repair| Mended::new(source, index, record, repair)).collect(),
        }
    }
}

impl Said {
    fn new(source: &Source, said: &Diagnostic) -> Said {
        let place = said.span().map(|span| source.position(span.start));
        Said {
            severity: said.severity,
            code: said.code.into(),
            message: said.message.clone(),
            help: said.help.clone(),
            line: place.map(|(line, _)| line),
            column: place.map(|(_, column)| column),
        }
    }
}

impl Mended {
    fn new(source: &Source, index: usize, record: &Record, repair: &Repair) -> Mended {
        let rewrites = text::rewrites(source, index, record, repair).ok();
        Mended {
            what: words::repair(source, record, repair),
            cost: (repair.cost * 100.0).round() / 100.0,
            broken_claims: repair.judged.broken_claims(),
            changes: repair.changes.iter().map(|change| Changed::new(source, record, change)).collect(),
            rewrites: rewrites.map(|rewrites| {
                let all = rewrites.into_iter();
                all.map(|r| Rewritten { start: r.range.start, end: r.range.end, with: r.with }).collect()
            }),
            scramble: Moves::from(repair.scramble.playable().collect::<Vec<_>>()),
            solution: Moves::from(repair.solution.playable().collect::<Vec<_>>()),
        }
    }
}

impl Changed {
    fn new(source: &Source, record: &Record, change: &Change) -> Changed {
        let (line, column) = source.position(words::place(record, change));
        Changed {
            part: change.part,
            from: change.range.start,
            to: change.range.end,
            moves: Moves::of(&change.moves),
            slip: change.slip,
            why: change.slip.words().into(),
            line,
            column,
        }
    }
}

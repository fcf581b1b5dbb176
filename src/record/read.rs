//! From a file to its records: limits, documents, and what kind of document each is.

use std::panic::{self, AssertUnwindSafe};

use crate::diagnostic::{BYTE_ORDER_MARK, Diagnostic, MAX_SOURCE_BYTES, Source, Span};

use crate::findings;

use super::{Record, document, fields, pasted, values, yaml};

/// How many records a file may hold.
pub const MAX_RECORDS: usize = 10_000;

/// How many tokens a file may come to, groups multiplied out: twice what a file without counts could hold. A thousand
/// short groups with large counts would fill the memory.
const MAX_TOKENS_IN_FILE: usize = 1_000_000;

/// How many messages a file may have before each record tells only its worst.
const MAX_TOLD: usize = 1_000;

/// How a file is to be read.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Options {
    /// Whether every note becomes a fault.
    pub strict: bool,
}

/// What a file came to.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Reading {
    /// The records, in order, also those with faults.
    pub records: Vec<Record>,
    /// What is to be said of the file as a whole.
    pub diagnostics: Vec<Diagnostic>,
}

impl Reading {
    /// Everything that was said: of the file, then of each record.
    pub fn all_diagnostics(&self) -> impl Iterator<Item = &Diagnostic> {
        self.diagnostics.iter().chain(self.records.iter().flat_map(|record| &record.diagnostics))
    }

    /// Whether anything in the file was not understood.
    #[must_use]
    pub fn has_fault(&self) -> bool {
        self.all_diagnostics().any(Diagnostic::is_fault)
    }
}

/// Reads a file with the usual tolerance; see [`read_with`].
#[must_use]
pub fn read(source: &Source) -> Reading {
    read_with(source, &Options::default())
}

/// Reads every record of a file.
///
/// Never fails and never panics. A file that is empty or larger than [`MAX_SOURCE_BYTES`] gives no records
/// and a fault; of one with more than [`MAX_RECORDS`] records the first ones are read. After a thousand messages
/// each record keeps the first of its faults, or of its notes if it has none, and the file says how many more
/// there are.
#[must_use]
pub fn read_with(source: &Source, options: &Options) -> Reading {
    let mut reading = Reading::default();
    if source.text.len() > MAX_SOURCE_BYTES {
        reading.diagnostics.push(findings::file_too_large(MAX_SOURCE_BYTES, source.text.len()).nowhere());
        return reading;
    }
    let begin = if source.text.starts_with(BYTE_ORDER_MARK) { BYTE_ORDER_MARK.len_utf8() } else { 0 };
    // Comments of a document without a record belong to the record after it.
    let mut remarks = Vec::new();
    let mut told = Told::default();
    let mut n_tokens = 0;
    for span in document::split(&source.text, begin) {
        if document::is_blank(&source.text[span.range()]) {
            document::remarks(&source.text[span.range()], &mut remarks);
            continue;
        }
        if reading.records.len() == MAX_RECORDS {
            let first = values::trimmed(&source.text, span).first_line(&source.text);
            reading.diagnostics.push(findings::records_too_many(MAX_RECORDS).at(first));
            break;
        }
        if n_tokens > MAX_TOKENS_IN_FILE {
            let first = values::trimmed(&source.text, span).first_line(&source.text);
            reading.diagnostics.push(findings::tokens_too_many_in_file(MAX_TOKENS_IN_FILE).at(first));
            break;
        }
        let mut record = guarded(&source.text, span, || record(&source.text, span));
        n_tokens += record.scramble.tokens.len() + record.solution.tokens.len();
        if !remarks.is_empty() {
            remarks.append(&mut record.remarks);
            record.remarks = std::mem::take(&mut remarks);
        }
        record.diagnostics.sort_by_key(Diagnostic::span);
        told.count(&mut record.diagnostics);
        reading.records.push(record);
    }
    if reading.records.is_empty() && reading.diagnostics.is_empty() {
        reading.diagnostics.push(findings::file_empty().at(Span::new(begin, begin)));
    }
    reading.diagnostics.extend(told.rest());
    if options.strict {
        let strict = |said: &mut Vec<Diagnostic>| {
            *said = std::mem::take(said).into_iter().map(Diagnostic::strict).collect();
        };
        strict(&mut reading.diagnostics);
        reading.records.iter_mut().for_each(|record| strict(&mut record.diagnostics));
    }
    reading
}

impl Reading {
    /// Keeps its messages to a number that somebody could read, if that was not done yet.
    pub(crate) fn cap_messages(&mut self) {
        if self.diagnostics.iter().any(|said| said.code == findings::messages_too_many::CODE) {
            return;
        }
        let mut told = Told::default();
        self.records.iter_mut().for_each(|record| told.count(&mut record.diagnostics));
        self.diagnostics.extend(told.rest());
    }
}

/// Keeps the messages of a file to a number that somebody could read.
#[derive(Default)]
struct Told {
    told: usize,
    untold: usize,
    /// Where the first record is that does not tell all.
    place: Option<Span>,
}

impl Told {
    fn count(&mut self, said: &mut Vec<Diagnostic>) {
        if self.told + said.len() > MAX_TOLD && said.len() > 1 {
            let worst = said.iter().position(Diagnostic::is_fault).unwrap_or(0);
            self.untold += said.len() - 1;
            said.swap(0, worst);
            said.truncate(1);
            self.place = self.place.or_else(|| said[0].span());
        }
        self.told += said.len();
    }

    fn rest(self) -> Option<Diagnostic> {
        Some(findings::messages_too_many(self.untold).at(self.place?))
    }
}

/// Reads one record. If the reader has a defect that ends it, only this record is lost.
fn guarded(source: &str, span: Span, read: impl FnOnce() -> Record) -> Record {
    panic::catch_unwind(AssertUnwindSafe(read)).unwrap_or_else(|_| {
        let mut record = Record::empty(span);
        record
            .diagnostics
            .push(findings::reader_failed().at(values::trimmed(source, span).first_line(source)));
        record
    })
}

fn record(source: &str, span: Span) -> Record {
    if !document::is_mapping(&source[span.range()]) {
        return pasted::record(source, span);
    }
    let (found, said) = yaml::fields(source, span);
    fields::record(source, span, &found, said)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_defect_takes_only_its_own_record() {
        let text = "R U\n\nU' R'\n";
        let failed = guarded(text, Span::new(0, text.len()), || panic!("on purpose"));
        assert_eq!(failed.diagnostics[0].code, "reader-failed");
        assert_eq!(failed.diagnostics[0].span(), Some(Span::new(0, 3)));
        let read = guarded(text, Span::new(0, text.len()), || record(text, Span::new(0, text.len())));
        assert!(read.diagnostics.is_empty());
    }
}

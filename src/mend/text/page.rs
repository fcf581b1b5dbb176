//! Reading a text again after it was rewritten, to see that it comes to what was meant.

use crate::diagnostic::Source;
use crate::mend::rank::Repair;
use crate::notation::{Element, Turns};
use crate::paste;
use crate::record::{self, Reading, Record};

use super::{Rewrite, apply};

/// The part of a text that is read again to see what a rewrite comes to: the record's own lines if they are read
/// alone as they are among the others, else the whole file. A file has many records, and to read all of them for
/// each repair of each would take the square of its length.
pub(super) struct Page<'a> {
    text: &'a str,
    /// Where it begins in the source.
    start: usize,
    /// Which of its records is to be repaired.
    index: usize,
    before: Reading,
}

impl Page<'_> {
    /// The record's own lines, if they are read alone as they are in their file.
    pub(super) fn of<'a>(source: &'a Source, record: &Record) -> Option<Page<'a>> {
        let span = source.clamp(record.span);
        let own = Page::read(&source.text[span.range()], span.start, 0);
        let [alone] = own.before.records.as_slice() else { return None };
        is_same(record, alone, &record.scramble, &record.solution).then_some(own)
    }

    pub(super) fn read(text: &str, start: usize, index: usize) -> Page<'_> {
        Page { text, start, index, before: paste::read(&Source::new("", text)) }
    }

    /// Whether the text with bytes replaced is read as the repaired record, and every other record as before.
    pub(super) fn reads_back(&self, rewrites: &[Rewrite], record: &Record, repair: &Repair) -> bool {
        let moved: Vec<Rewrite> = rewrites
            .iter()
            .map(|rewrite| Rewrite {
                range: rewrite.range.start - self.start..rewrite.range.end - self.start,
                with: rewrite.with.clone(),
            })
            .collect();
        let text = Source::new("", apply(self.text, &moved));
        let after = paste::read(&text);
        self.is_as_meant(&self.before, &after, record, repair)
            // Once the turns come out, a field may be understood that was not before. Then the strict reader, which is
            // the same for both, says that nothing else has changed.
            || (has_turns_of(after.records.get(self.index), repair)
                && self.is_as_meant(
                    &record::read(&Source::new("", self.text)),
                    &record::read(&text),
                    record,
                    repair,
                ))
    }

    /// Whether the record is read as repaired after, and all else as before.
    fn is_as_meant(&self, before: &Reading, after: &Reading, record: &Record, repair: &Repair) -> bool {
        let faults = |r: &Record| r.diagnostics.iter().filter(|d| d.is_fault()).count();
        before.records.len() == after.records.len()
            && before.records.iter().zip(&after.records).enumerate().all(|(i, (old, new))| {
                if i == self.index {
                    // Lines back in their places may have marks that ran backwards before.
                    let mut solution = repair.solution.clone();
                    if repair.changes.iter().any(|change| change.lines.is_some())
                        && solution.marks.iter().all(|mark| {
                            new.solution
                                .marks
                                .iter()
                                .any(|other| (other.moment, other.time) == (mark.moment, mark.time))
                        })
                    {
                        solution.marks.clone_from(&new.solution.marks);
                    }
                    is_same(old, new, &repair.scramble, &solution) && faults(new) <= faults(record)
                } else {
                    is_same(old, new, &old.scramble, &old.solution)
                }
            })
    }
}

fn elements(turns: &Turns) -> Vec<Element> {
    turns.tokens.iter().map(|token| token.element).collect()
}

fn has_turns_of(record: Option<&Record>, repair: &Repair) -> bool {
    record.is_some_and(|record| {
        elements(&record.scramble) == elements(&repair.scramble)
            && elements(&record.solution) == elements(&repair.solution)
    })
}

/// Whether `new` has these turns and comments, and everything else as `old`.
fn is_same(old: &Record, new: &Record, scramble: &Turns, solution: &Turns) -> bool {
    let comments = |turns: &Turns| turns.comments.iter().map(|c| c.text.clone()).collect::<Vec<_>>();
    let marks = |turns: &Turns| turns.marks.iter().map(|mark| (mark.moment, mark.time)).collect::<Vec<_>>();
    let fields = |r: &Record| {
        let seen = (r.sight, r.fps.map(f64::to_bits), r.time.map(|(time, _)| time));
        (r.title.clone(), r.solver.clone(), r.date.clone(), r.notes.clone(), r.remarks.clone(), seen)
    };
    elements(&new.scramble) == elements(scramble)
        && elements(&new.solution) == elements(solution)
        && comments(&new.scramble) == comments(scramble)
        && comments(&new.solution) == comments(solution)
        && marks(&new.solution) == marks(solution)
        && fields(new) == fields(old)
}

//! What the reader says: one note for each kind of leniency, one fault for each thing not understood.

use crate::diagnostic::{Diagnostic, Label, Span};
use crate::findings::{self, Finding};

use super::read::Reader;
use super::{Turns, marks};

/// Faults after this many are counted, not told one by one.
pub(crate) const MAX_FAULTS: usize = 100;

impl Reader<'_> {
    /// Says what is wrong, or only counts it. A fault that nobody will see is never made: advice takes a
    /// thousand times as long as reading.
    pub(super) fn fault(&mut self, fault: impl FnOnce() -> Diagnostic) {
        if self.told < MAX_FAULTS {
            self.told += 1;
            self.said.push(fault());
        } else {
            self.untold += 1;
        }
    }

    /// Adds the place to the note of this code, or begins one: only the first is put into words.
    pub(super) fn note(&mut self, code: &'static str, span: Span, note: impl FnOnce() -> Finding) {
        match self.said.iter_mut().find(|said| said.code == code) {
            Some(said) => said.labels.push(Label { span, text: String::new() }),
            None => self.said.push(note().at(span)),
        }
    }

    /// Adds the place to the fault of this code, or begins one.
    pub(super) fn gather(&mut self, fault: Diagnostic) {
        match self.said.iter_mut().find(|said| said.code == fault.code) {
            Some(said) => said.labels.extend(fault.labels),
            None => self.fault(|| fault),
        }
    }

    pub(super) fn finish(mut self) -> (Turns, Vec<Diagnostic>) {
        if let Some(first) = self.groups.first() {
            let mut fault = findings::bracket_unclosed().at(first.open);
            for group in &self.groups[1..] {
                fault = fault.also(group.open, "");
            }
            self.fault(|| fault);
        }
        self.refuse_backward_marks();
        self.said.sort_by_key(Diagnostic::span);
        if self.untold > 0 {
            let end = Span::new(self.turns.span.end, self.turns.span.end);
            self.said.push(findings::faults_too_many(self.untold).at(end));
        }
        (self.turns, self.said)
    }

    fn refuse_backward_marks(&mut self) {
        let blamed = marks::backwards(&self.turns.marks);
        let marks = std::mem::take(&mut self.turns.marks);
        let is_blamed = |at: usize| blamed.binary_search(&at).is_ok();
        // The last mark before and the first one behind that is not blamed.
        let mut earlier = None;
        let mut later = 0;
        for (at, &mark) in marks.iter().enumerate() {
            if !is_blamed(at) {
                earlier = Some(at);
                continue;
            }
            later = later.max(at);
            while later < marks.len() && is_blamed(later) {
                later += 1;
            }
            let earlier = earlier.filter(|&n: &usize| marks[n].time > mark.time);
            let other = earlier.or(Some(later)).and_then(|n| marks.get(n));
            // A mark that is blamed contradicts some other.
            let Some(other) = other else { continue };
            let (time, than) = (mark.time.to_string(), other.time.to_string());
            let later = earlier.is_some();
            self.fault(|| findings::mark_backwards(&time, &than, later).at_both(mark.span, other.span));
        }
        self.turns.marks =
            marks.into_iter().enumerate().filter(|(at, _)| !is_blamed(*at)).map(|(_, mark)| mark).collect();
    }
}

/// Used by the reader of quoted strings: a decoded text has places of its own.
impl Turns {
    /// Moves every span by `place`, which takes an offset in the text that was parsed to one in the source.
    pub(crate) fn relocate(&mut self, place: impl Fn(usize) -> usize) {
        self.relocate_spans(|span| Span::new(place(span.start), place(span.end)));
    }

    /// Moves every span; a line break is a span without length.
    pub(crate) fn relocate_spans(&mut self, place: impl Fn(Span) -> Span) {
        let moved = |span: &mut Span| *span = place(*span);
        self.tokens.iter_mut().for_each(|token| moved(&mut token.span));
        self.marks.iter_mut().for_each(|mark| moved(&mut mark.span));
        self.comments.iter_mut().for_each(|comment| moved(&mut comment.span));
        self.unread.iter_mut().for_each(|(span, _)| moved(span));
        self.breaks.iter_mut().for_each(|line| line.at = place(Span::new(line.at, line.at)).start);
        moved(&mut self.span);
    }
}

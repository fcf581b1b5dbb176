//! What the reader says: one note for each kind of leniency, one fault for each thing not understood.

use crate::diagnostic::{Diagnostic, Label, Span};

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

    /// Adds the place to the note of this code, or begins one.
    pub(super) fn note(
        &mut self,
        code: &'static str,
        span: Span,
        message: &str,
        help: impl FnOnce() -> String,
    ) {
        match self.said.iter_mut().find(|said| said.code == code) {
            Some(said) => said.labels.push(Label { span, text: String::new() }),
            None => self.said.push(Diagnostic::note(code, span, message).with_help(help())),
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
            let mut fault =
                Diagnostic::fault("bracket-unclosed", first.open, "an opening bracket that is never closed")
                    .with_help("put `)` where the group ends, or take the bracket away");
            for group in &self.groups[1..] {
                fault = fault.also(group.open, "");
            }
            self.fault(|| fault);
        }
        self.refuse_backward_marks();
        self.said.sort_by_key(Diagnostic::span);
        if self.untold > 0 {
            let message = format!("{} more faults are not shown", self.untold);
            let end = Span::new(self.turns.span.end, self.turns.span.end);
            let fault = Diagnostic::fault("faults-too-many", end, message);
            self.said.push(fault.with_help("is this a solve?"));
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
            self.fault(|| {
                let fault =
                    Diagnostic::fault("mark-backwards", mark.span, "expected marks that never run backwards")
                        .with_help("one of the two times is mistyped, or the marks are in the wrong order");
                let Some(other) = other else { return fault };
                let relation = if earlier.is_some() { "is later" } else { "is earlier" };
                fault
                    .labelled(format!("{} s", mark.time))
                    .also(other.span, format!("{} s {relation}", other.time))
            });
        }
        self.turns.marks =
            marks.into_iter().enumerate().filter(|(at, _)| !is_blamed(*at)).map(|(_, mark)| mark).collect();
    }
}

/// Used by the reader of quoted strings: a decoded text has places of its own.
impl Turns {
    /// Moves every span by `place`, which takes an offset in the text that was parsed to one in the source.
    pub(crate) fn relocate(&mut self, place: impl Fn(usize) -> usize) {
        let moved = |span: &mut Span| *span = Span::new(place(span.start), place(span.end));
        self.tokens.iter_mut().for_each(|token| moved(&mut token.span));
        self.marks.iter_mut().for_each(|mark| moved(&mut mark.span));
        self.comments.iter_mut().for_each(|comment| moved(&mut comment.span));
        self.unread.iter_mut().for_each(|(span, _)| moved(span));
        self.breaks.iter_mut().for_each(|line| line.at = place(line.at));
        moved(&mut self.span);
    }
}

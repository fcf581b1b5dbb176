//! From a chosen solve to a [`Record`], its fields, and the account of how each line was taken.

use crate::diagnostic::{Diagnostic, Span};
use crate::findings;
use crate::notation;
use crate::record::{self, Record};

use super::compose::Choice;
use super::decide::Draft;
use super::document::Document;
use super::line::{Piece, Shape};
use super::words::{self, Role};
use super::{Taken, What};

/// The lines of each solve: from the first to, and not including, the last.
fn regions(document: &Document, drafts: &[Draft]) -> Vec<(usize, usize)> {
    let lines_of = |draft: &Draft| -> (usize, usize) {
        let played = |n: &&usize| document.is_played(**n, &draft.choice);
        let line = |n: &usize| document.items[*n].line;
        let solution = draft.solution.iter().filter(played).map(line);
        let scramble = draft.scramble.iter().filter(played).map(line);
        let aside = draft.aside.iter().map(line);
        let all: Vec<usize> = solution.chain(scramble).chain(aside).collect();
        (all.iter().copied().min().unwrap_or(0), all.iter().copied().max().unwrap_or(0))
    };
    let mut regions = Vec::with_capacity(drafts.len());
    let mut begin = 0;
    for (n, draft) in drafts.iter().enumerate() {
        let (_, last) = lines_of(draft);
        let end = match drafts.get(n + 1) {
            None => document.lines.len(),
            Some(next) => {
                let shared = next.scramble == draft.scramble;
                let own = next.solution.iter().find(|&&n| document.items[n].piece == Piece::Turns);
                let first = match own.filter(|_| shared) {
                    Some(&n) => document.items[n].line,
                    None => lines_of(next).0,
                };
                if first <= last { last + 1 } else { border(document, last, first) }
            }
        };
        regions.push((begin, end));
        begin = end;
    }
    regions
}

/// The line between the last turns of a solve and the first of the next at which the next one begins.
fn border(document: &Document, last: usize, first: usize) -> usize {
    let between = || last + 1..first;
    let shape = |n: usize| document.lines[n].shape;
    if let Some(divider) = between().rev().find(|&n| shape(n) == Shape::Divider) {
        return divider;
    }
    let is_head = |n: &usize| {
        let line = &document.lines[*n];
        line.heading
            || line.role == Some(Role::Scramble)
            || line.role == Some(Role::Title)
            || words::is_heading(document.line_text(*n))
    };
    let head = between().filter(|&n| shape(n) == Shape::Content).find(is_head);
    let blank = between().filter(|&n| shape(n) == Shape::Blank).take(40).find(|&n| {
        let next = (n..first).find(|&n| shape(n) == Shape::Content);
        next.is_none_or(|n| !document.lines[n].figures)
    });
    match (head, blank) {
        (Some(head), _) => head,
        (None, Some(blank)) => blank,
        (None, None) => first,
    }
}

/// What was made of a text.
pub(super) struct Made {
    pub(super) records: Vec<Record>,
    pub(super) taken: Vec<Taken>,
}

/// Makes the records of a reading.
pub(super) fn records(document: &Document, source: &str, drafts: &[Draft]) -> Made {
    let mut made = Made { records: Vec::new(), taken: Vec::new() };
    for (n, ((begin, end), draft)) in regions(document, drafts).into_iter().zip(drafts).enumerate() {
        let mut builder = Builder {
            document,
            source,
            draft,
            record: Record::empty(document.span_of_lines(begin, end)),
            taken: Vec::new(),
            aside: Vec::new(),
            unsigned: Vec::new(),
            in_words: Vec::new(),
            number: n + 1,
        };
        builder.fields(begin, end);
        builder.turns(begin, end);
        builder.finish();
        made.records.push(builder.record);
        made.taken.append(&mut builder.taken);
    }
    made.taken.sort_by_key(|taken| taken.span);
    made
}

impl Document {
    fn span_of_lines(&self, begin: usize, end: usize) -> Span {
        let content =
            || (begin..end).filter(|&n| !matches!(self.lines[n].shape, Shape::Blank | Shape::Divider));
        match (content().next(), content().next_back()) {
            (Some(first), Some(last)) => self.clean.span(self.lines[first].start, self.lines[last].end),
            _ => Span::new(self.clean.place(0), self.clean.place(0)),
        }
    }
}

struct Builder<'a> {
    document: &'a Document,
    source: &'a str,
    draft: &'a Draft,
    record: Record,
    taken: Vec<Taken>,
    /// What is not used, with its words.
    aside: Vec<(Span, &'static str)>,
    /// Remarks without a sign before them.
    unsigned: Vec<Span>,
    /// Turns among words.
    in_words: Vec<Span>,
    number: usize,
}

impl Builder<'_> {
    fn take(&mut self, start: usize, end: usize, what: What) -> Span {
        let text = &self.document.text()[start..end];
        let from = start + (text.len() - text.trim_start().len());
        let span = self.document.clean.span(from, from + text.trim().len());
        self.taken.push(Taken { span, what, record: self.number });
        span
    }

    fn set_aside(&mut self, start: usize, end: usize, what: What, why: &'static str) {
        let span = self.take(start, end, what);
        self.aside.push((span, why));
    }

    /// Everything that is not turns or a remark on them.
    fn fields(&mut self, begin: usize, end: usize) {
        let document = self.document;
        let items: Vec<usize> = self.draft.scramble.iter().chain(&self.draft.solution).copied().collect();
        let first_turns = items
            .iter()
            .filter(|&&n| document.is_played(n, &self.draft.choice))
            .map(|&n| document.items[n].line)
            .min()
            .unwrap_or(end);
        let in_solution: Vec<usize> = self.draft.solution.iter().map(|&n| document.items[n].line).collect();
        for n in begin..end {
            let line = &document.lines[n];
            let stamps =
                document.stamps.iter().filter(|stamp| line.start <= stamp.start && stamp.end <= line.end);
            for stamp in stamps {
                let span = document.clean.span(stamp.start, stamp.end);
                self.taken.push(Taken { span, what: What::Aside, record: self.number });
                self.aside.push((span, "a time of day"));
            }
            match line.shape {
                Shape::Blank => continue,
                Shape::Divider | Shape::Fence => {
                    self.take(line.start, line.end, What::Decoration);
                    continue;
                }
                Shape::Rule => {
                    self.take(line.start, line.end, What::Decoration);
                    continue;
                }
                Shape::Content => {}
            }
            if line.has_turns() {
                if let Some((start, end)) = line.time
                    && n <= first_turns
                {
                    self.time(start, end);
                }
                if line.role.is_some_and(|role| role != Role::Step)
                    && let Some(head) = line.segments.first().filter(|segment| segment.piece == Piece::Words)
                {
                    self.take(head.start, head.end, What::Label);
                }
                continue;
            }
            if line.figures {
                self.take(line.content, line.end, What::Figures);
                self.aside.push((document.clean.span(line.content, line.end), "figures"));
                continue;
            }
            if let Some((start, end)) = line.time {
                self.time(start, end);
                self.beside_time(end, line.end);
                continue;
            }
            match line.role {
                Some(Role::Scramble | Role::Solution) => {
                    self.take(line.content, line.end, What::Label);
                    continue;
                }
                Some(role) if role.is_free() => {
                    self.free(n, role);
                    continue;
                }
                Some(Role::Time) => {
                    self.set_aside(line.content, line.end, What::Aside, "a time that cannot be read");
                    continue;
                }
                _ => {}
            }
            // Words before the turns: the first is the title, the others remarks. Behind them they are put together
            // with the turns.
            let remark = in_solution.binary_search(&n).is_ok() && n > first_turns;
            if remark {
                continue;
            }
            let words =
                document.text()[line.content..line.end].trim().trim_end_matches(['*', '_']).to_string();
            let bare = words.trim_start_matches(['/', '#', ' ']).trim().to_string();
            if bare.is_empty() {
                self.take(line.start, line.end, What::Decoration);
            } else if self.record.title.is_none() && n < first_turns && bare == words && bare.len() <= 200 {
                self.take(line.content, line.end, What::Title);
                self.record.title = Some(bare);
            } else {
                self.take(line.content, line.end, What::Remark);
                self.record.remarks.push(bare);
            }
        }
    }

    fn time(&mut self, start: usize, end: usize) {
        let text = &self.document.text()[start..end];
        if self.record.time.is_some() {
            self.set_aside(start, end, What::Aside, "another time");
            return;
        }
        // `time: -3`: the dash stands at the figure, behind the colon that parts it from its label.
        let label = self.document.text()[..start].strip_suffix(['-', '\u{2212}']);
        if label.is_some_and(|label| label.trim_end_matches([' ', '\t']).ends_with(':')) {
            self.set_aside(start, end, What::Aside, "a time below zero");
            return;
        }
        let span = self.take(start, end, What::Time);
        let mut said = Vec::new();
        let time = record::pasted_time(text.trim(), span, &mut said);
        // A time that cannot be read is no reason to refuse a solve.
        for diagnostic in said {
            if diagnostic.is_fault() {
                self.aside.push((span, "a time that cannot be read"));
            } else {
                self.record.diagnostics.push(diagnostic);
            }
        }
        self.record.time = time.map(|time| (time, span));
    }

    /// What is said behind a time, such as `(before the penalty)`.
    fn beside_time(&mut self, start: usize, end: usize) {
        let said = self.document.text()[start..end].trim().to_owned();
        let words = words::words(&said);
        if words.iter().any(|word| word.contains(char::is_alphabetic) && !words::is_beside_time(word)) {
            self.take(start, end, What::Remark);
            self.record.remarks.push(said);
        }
    }

    fn free(&mut self, n: usize, role: Role) {
        let line = &self.document.lines[n];
        let text = &self.document.text()[line.content..line.end];
        let colon = text.find(':').map_or(0, |at| at + 1);
        let value = text[colon..].trim().trim_matches(['*', '_', '"', '|', '>']).trim().to_string();
        let span = self.take(line.content, line.end, What::Field(role));
        if value.is_empty() {
            return;
        }
        let slot = match role {
            Role::Title => &mut self.record.title,
            Role::Solver => &mut self.record.solver,
            Role::Date => &mut self.record.date,
            Role::Notes => &mut self.record.notes,
            Role::Sight | Role::Fps | Role::Hands => {
                let name = match role {
                    Role::Sight => "sight",
                    Role::Hands => "hands",
                    _ => "fps",
                };
                let said = record::pasted_field(&mut self.record, name, &value, span);
                self.record.diagnostics.extend(said);
                return;
            }
            _ => return,
        };
        match slot {
            Some(_) => {
                self.record.remarks.push(value);
            }
            None => *slot = Some(value),
        }
    }

    fn turns(&mut self, begin: usize, end: usize) {
        let document = self.document;
        let draft = self.draft;
        let here = |items: &[usize]| -> Vec<usize> {
            items.iter().copied().filter(|&n| (begin..end).contains(&document.items[n].line)).collect()
        };
        let options = notation::Options { fps: self.record.fps };
        let scramble = document.compose(&draft.scramble, &draft.choice, false, &options);
        let solution = document.compose(&here(&draft.solution), &draft.choice, draft.below, &options);
        for (composed, what) in [(&scramble, What::Scramble), (&solution, What::Solution)] {
            for &n in &composed.played {
                let segment = document.segment(&document.items[n]);
                self.take(segment.start, segment.end, what);
            }
            for &n in &composed.remarks {
                let item = &document.items[n];
                let line = &document.lines[item.line];
                let segment = document.segment(item);
                let label = line.has_turns_behind(item.segment);
                let span =
                    self.take(segment.start, segment.end, if label { What::StepLabel } else { What::Remark });
                if !segment.comment && !label {
                    self.unsigned.push(span);
                }
                if segment.tokens > 0 && (!segment.comment || draft.choice.flipped.contains(&n)) {
                    self.in_words.push(span);
                }
            }
        }
        for &n in &draft.aside {
            let segment = document.segment(&document.items[n]);
            if document.items[n].piece == Piece::Turns {
                self.set_aside(segment.start, segment.end, What::Aside, "turns behind the solved cube");
            } else {
                self.take(segment.start, segment.end, What::Remark);
                let words = document.text()[segment.start..segment.end].to_string();
                self.record.remarks.push(words);
            }
        }
        self.record.diagnostics.extend(scramble.said);
        self.record.diagnostics.extend(solution.said);
        self.record.scramble = scramble.turns;
        self.record.solution = solution.turns;
    }

    fn finish(&mut self) {
        let said = &mut self.record.diagnostics;
        if let Some((span, why)) = self.aside.first() {
            let note = findings::set_aside(why).at(*span);
            let note = self.aside[1..].iter().take(40).fold(note, |note, (span, why)| note.also(*span, *why));
            said.push(note);
        }
        if let Some(span) = self.unsigned.first() {
            let note = findings::remark_form().at(*span);
            let note = self.unsigned[1..].iter().take(40).fold(note, |note, span| note.also(*span, ""));
            said.push(note);
        }
        if let Some(span) = self.in_words.first() {
            let note = findings::turns_in_words().at(*span);
            let note = self.in_words[1..].iter().take(40).fold(note, |note, span| note.also(*span, ""));
            said.push(note);
        }
        let spots = &self.document.spots;
        let solution = &self.draft.solution;
        let before =
            |item: Option<&usize>| item.map_or(0, |item| spots.partition_point(|spot| spot.item < *item));
        let behind = solution.last().map(|last| last + 1);
        let range = before(solution.first())..before(behind.as_ref());
        for (n, spot) in spots.iter().enumerate().take(range.end).skip(range.start) {
            let span = self.document.clean.span(spot.start, spot.end);
            if self.draft.open.is_empty() && !self.draft.choice.rotations.contains(&n) {
                said.push(findings::group_as_count(2).at(span));
            }
        }
        if !self.draft.open.is_empty() {
            let first = spots.get(before(solution.first()));
            let place = first.map_or(self.record.span, |spot| self.document.clean.span(spot.start, spot.end));
            let said = open(
                place,
                self.source,
                &self.draft.open.iter().map(|(_, told)| told.clone()).collect::<Vec<_>>(),
            );
            // Nothing decides, so nothing is played from here on.
            let open = first.map_or(place.start, |spot| self.document.clean.place(spot.open));
            let tokens = &self.record.solution.tokens;
            let cut = tokens.iter().position(|token| token.span.start >= open).unwrap_or(tokens.len());
            self.record.solution.groups.retain(|group| group.to <= cut);
            self.record.solution.tokens.truncate(cut);
            self.record.solution.comments.retain(|comment| comment.moment <= cut);
            self.record.solution.marks.retain(|mark| mark.moment <= cut);
            self.record.solution.breaks.retain(|line| line.moment <= cut);
            self.record.diagnostics.push(said);
        }
        if self.draft.open.is_empty() || self.record.scramble.tokens.is_empty() {
            record::require_pasted(self.source, &mut self.record);
        }
        self.record.diagnostics.sort_by_key(Diagnostic::span);
    }
}

/// Two readings stay possible: both are shown.
pub(super) fn open(place: Span, source: &str, told: &[String]) -> Diagnostic {
    let words = notation::shorten(source[place.range()].trim());
    findings::reading_open(&words, told).at(place)
}

/// One of the open readings of a draft.
pub(super) fn choose(draft: &mut Draft, n: usize) -> bool {
    let Some((choice, _)) = draft.open.get(n) else { return false };
    let choice: Choice = choice.clone();
    draft.choice = choice;
    draft.open.clear();
    true
}

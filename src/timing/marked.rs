//! Marks written into a record's text: the marks that were there give way, and nothing else changes.
//!
//! Tokens stay as they are spelled. A mark cannot stand inside a group that is played more than once, so a group is
//! written out where one has to. The new text is read again, and unless it comes to the same record with exactly these
//! marks it is refused.

use std::collections::HashMap;

use crate::cube::Move;
use crate::diagnostic::{Diagnostic, Source};
use crate::findings;
use crate::notation::{self, Element, Time, Token, Turns};
use crate::record::{Reading, Record};

use super::layout::{Trailing, laid_out};
use super::pieces::{Group, Piece, pieces};
use super::sheet::{Marked, Side};

/// The marks cannot be written into this text: it would not be read back as meant.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct CannotMark;

impl std::fmt::Display for CannotMark {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str("marks cannot be written into this text without changing more than its marks")
    }
}

impl std::error::Error for CannotMark {}

/// What is to be said of a record that has marks already; nothing of one that has none.
#[must_use]
pub fn replaced(record: &Record) -> Option<Diagnostic> {
    let first = record.solution.marks.first()?;
    Some(findings::marks_replaced(record.solution.marks.len()).at(first.span))
}

/// The whole text with these marks in one record of it, in place of any that are there. `index` counts the records of the
/// source from 0, and `read` is how the source was read.
///
/// # Errors
///
/// [`CannotMark`] if what would be written is not read back as the same record with these marks.
pub fn marked(
    source: &Source,
    index: usize,
    record: &Record,
    marks: &[Marked],
    read: &dyn Fn(&Source) -> Reading,
) -> Result<String, CannotMark> {
    let turns = &record.solution;
    let pieces = pieces(&source.text, turns).ok_or(CannotMark)?;
    let mut pen = Pen::new(source, turns, marks);
    pen.write(&pieces, false);
    pen.finish();
    let line = source.text[..turns.span.start].rfind('\n').map_or(0, |at| at + 1);
    let first = source.text[line..turns.span.start].chars().count();
    let before = read(source);
    let whole = |solution: &str| {
        let (head, tail) = (&source.text[..turns.span.start], &source.text[turns.span.end..]);
        [head, solution, tail].concat()
    };
    [laid_out(&pen.out, first, &pen.comments), pen.out]
        .iter()
        .map(|solution| whole(solution))
        .find(|text| {
            reads_back(&before, &read(&Source::new(source.name.clone(), text.as_str())), index, marks)
        })
        .ok_or(CannotMark)
}

/// Writes the pieces with other marks.
struct Pen<'a> {
    source: &'a Source,
    out: String,
    /// The marks still to be written, by the moment they stand at.
    behind: HashMap<usize, Time>,
    before: HashMap<usize, Time>,
    /// How many tokens are written.
    moment: usize,
    /// Whether what is written is played more than once, so that no mark can stand in it.
    repeated: bool,
    /// Whether a mark was just left out, and whether a blank is needed before what comes next.
    left_out: bool,
    apart: bool,
    /// Whether the writer's own marks are all in the long form.
    long: bool,
    comments: Vec<Trailing>,
}

impl<'a> Pen<'a> {
    fn new(source: &'a Source, turns: &Turns, marks: &[Marked]) -> Pen<'a> {
        let at = |side| {
            let those = marks.iter().filter(move |mark| mark.side == side);
            those.map(|mark| (mark.moment, mark.time)).collect()
        };
        let is_long = |text: &str| text.contains(':');
        let mut own = turns.marks.iter().filter_map(|mark| source.text.get(mark.span.range())).peekable();
        Pen {
            source,
            out: String::with_capacity(turns.span.range().len() + 16 * marks.len()),
            behind: at(Side::Behind),
            before: at(Side::Before),
            moment: 0,
            repeated: false,
            left_out: false,
            apart: false,
            long: own.peek().is_some() && own.all(is_long),
            comments: Vec::new(),
        }
    }

    /// Writes pieces that follow one another. If they are `enclosed` in brackets, the mark behind the last token is for
    /// whoever writes the bracket.
    fn write(&mut self, pieces: &[Piece<'_>], enclosed: bool) {
        for (i, piece) in pieces.iter().enumerate() {
            match piece {
                Piece::Between(text) => self.between(text),
                Piece::Comment(text, span) => self.comment(text, span.start),
                Piece::Mark => self.left_out = true,
                Piece::Token(text, _) => {
                    self.mark_before();
                    self.put(text);
                    self.moment += 1;
                }
                Piece::Group(group) => {
                    self.mark_before();
                    self.group(group);
                }
            }
            let blank = |piece: &Piece<'_>| match piece {
                Piece::Between(text) => text.trim_matches([' ', '\t']).is_empty(),
                piece => *piece == Piece::Mark,
            };
            if piece.is_played() && !(enclosed && pieces[i + 1..].iter().all(blank)) {
                self.mark_behind();
            }
        }
    }

    fn group(&mut self, group: &Group<'_>) {
        let once = group.count == 1 && !group.back;
        let (from, to) = (self.moment, self.moment + group.n_tokens());
        let inside = |marks: &HashMap<usize, Time>| marks.keys().any(|&moment| from < moment && moment < to);
        if !once && !self.repeated && (inside(&self.behind) || inside(&self.before)) {
            return self.written_out(group);
        }
        let outer = self.repeated;
        self.repeated |= !once;
        self.put(group.open);
        self.write(&group.inside, true);
        self.repeated = outer;
        self.close(group.close);
        self.out.push_str(group.tail);
        self.moment = to;
    }

    /// A group as often as it is played, each time in its brackets.
    fn written_out(&mut self, group: &Group<'_>) {
        let backwards = group.back.then(|| turned_round(&group.inside)).flatten();
        for n in 0..group.count {
            self.apart |= n > 0;
            self.mark_before();
            self.put(group.open);
            match &backwards {
                None => self.write(&group.inside, true),
                Some(tokens) => {
                    for (i, token) in tokens.iter().enumerate() {
                        self.apart |= i > 0;
                        self.mark_before();
                        self.put(token);
                        self.moment += 1;
                        if i + 1 < tokens.len() {
                            self.mark_behind();
                        }
                    }
                }
            }
            self.close(group.close);
            self.mark_behind();
        }
    }

    fn mark_before(&mut self) {
        if !self.repeated
            && let Some(time) = self.before.remove(&self.moment)
        {
            self.apart |=
                !self.out.is_empty() && !self.out.ends_with(|c: char| c.is_whitespace() || "([".contains(c));
            let mark = self.mark(time);
            self.put(&mark);
            self.apart = true;
        }
    }

    fn mark_behind(&mut self) {
        if !self.repeated
            && let Some(time) = self.behind.remove(&self.moment)
        {
            self.apart = true;
            let mark = self.mark(time);
            self.put(&mark);
            self.apart = true;
        }
    }

    /// A mark as the writer has theirs: `<3.42>`, or `<00:03.420>`.
    fn mark(&self, time: Time) -> String {
        let millis = time.0 / 1000;
        let (hours, minutes, seconds) = (millis / 3_600_000, millis / 60_000 % 60, millis / 1000 % 60);
        match (self.long && time.0.is_multiple_of(1000), hours) {
            (false, _) => format!("<{time}>"),
            (true, 0) => format!("<{minutes:02}:{seconds:02}.{:03}>", millis % 1000),
            (true, _) => format!("<{hours:02}:{minutes:02}:{seconds:02}.{:03}>", millis % 1000),
        }
    }

    /// Something that is no blank.
    fn put(&mut self, text: &str) {
        let touches =
            !self.out.is_empty() && !self.out.ends_with(|c: char| c.is_whitespace() || "([".contains(c));
        if touches && (self.apart || self.left_out) {
            self.out.push(' ');
        }
        (self.apart, self.left_out) = (false, false);
        self.out.push_str(text);
    }

    /// A closing bracket: no blank before it that was not there without the mark.
    fn close(&mut self, text: &str) {
        if self.left_out {
            self.out.truncate(self.out.trim_end_matches([' ', '\t']).len());
        }
        (self.apart, self.left_out) = (false, false);
        self.put(text);
    }

    /// What stands between tokens. Where a mark was left out its blanks go with it, and its line if it was alone there.
    fn between(&mut self, text: &str) {
        let mut text = text;
        if self.left_out {
            let bare = text.trim_start_matches([' ', '\t']);
            if bare.is_empty() && (self.out.is_empty() || self.out.ends_with([' ', '\t', '\n'])) {
                return;
            }
            if bare.starts_with(['\n', '\r']) || bare.is_empty() {
                let kept = self.out.trim_end_matches([' ', '\t']).len();
                let alone = self.out[..kept].ends_with('\n');
                self.out.truncate(kept);
                if alone && !bare.is_empty() {
                    let line_end = if bare.starts_with("\r\n") { 2 } else { 1 };
                    text = &bare[line_end..];
                } else if !bare.is_empty() {
                    text = if kept == 0 { bare.trim_start() } else { bare };
                }
            } else if self.out.is_empty() || self.out.ends_with([' ', '\t', '\n', '(', '[']) {
                text = bare;
            }
            self.left_out = false;
        }
        if self.apart && !text.starts_with(char::is_whitespace) && !text.is_empty() {
            self.out.push(' ');
        }
        self.apart = false;
        self.out.push_str(text);
    }

    fn comment(&mut self, text: &str, start: usize) {
        self.put(text);
        let line = self.source.text[..start].rfind('\n').map_or(0, |at| at + 1);
        let before = &self.source.text[line..start];
        let own = self.out.len() - text.len();
        let behind_turns = !self.out[..own].rsplit('\n').next().unwrap_or("").trim().is_empty();
        // A label before turns is a comment that goes with what follows.
        if behind_turns && (text.starts_with('#') || text.starts_with("//")) {
            let turns = before.trim_end_matches([' ', '\t']);
            let gap = before.len() - turns.len();
            self.comments.push(Trailing { at: own, column: before.chars().count(), gap });
        }
    }

    /// The end: nothing stands behind a mark that was left out.
    fn finish(&mut self) {
        if self.left_out {
            self.out.truncate(self.out.trim_end().len());
        }
    }
}

/// The tokens of a group the other way round, each undone. `None` if anything but blanks and tokens stands there.
fn turned_round(pieces: &[Piece<'_>]) -> Option<Vec<String>> {
    let mut tokens = Vec::new();
    for piece in pieces {
        match piece {
            Piece::Token(text, _) => {
                let (turns, _) = notation::parse_all(text, &notation::Options::default());
                let [Token { element: Element::Move(mv), .. }] = turns.tokens.as_slice() else { return None };
                let small = matches!(mv, Move::Wide(..)) && text.starts_with(|c: char| c.is_lowercase());
                let undone = mv.inverse().to_string();
                tokens.push(if small { undone.replace('w', "").to_lowercase() } else { undone });
            }
            Piece::Between(text) if text.trim().is_empty() => {}
            Piece::Mark => {}
            _ => return None,
        }
    }
    tokens.reverse();
    Some(tokens)
}

/// Whether what was read is what stood there, with these marks in one record.
fn reads_back(before: &Reading, after: &Reading, index: usize, marks: &[Marked]) -> bool {
    let wanted: Vec<(usize, Time)> = marks.iter().map(|mark| (mark.moment, mark.time)).collect();
    before.records.len() == after.records.len()
        && before.records.iter().zip(&after.records).enumerate().all(|(i, (old, new))| {
            let mine = i == index;
            let marks = if mine { wanted.clone() } else { told(&old.solution).marks };
            let (old_turns, new_turns) = (told(&old.solution), told(&new.solution));
            let faults = |record: &Record| record.diagnostics.iter().filter(|said| said.is_fault()).count();
            new_turns.marks == marks
                && (new_turns.elements, new_turns.comments) == (old_turns.elements, old_turns.comments)
                && told(&new.scramble) == told(&old.scramble)
                && fields(new) == fields(old)
                && faults(new) <= faults(old)
        })
}

/// A sequence without its places.
#[derive(PartialEq)]
struct Told<'a> {
    elements: Vec<Element>,
    comments: Vec<(usize, &'a str)>,
    marks: Vec<(usize, Time)>,
}

fn told(turns: &Turns) -> Told<'_> {
    Told {
        elements: turns.tokens.iter().map(|token| token.element).collect(),
        comments: turns.comments.iter().map(|comment| (comment.moment, comment.text.as_str())).collect(),
        marks: turns.marks.iter().map(|mark| (mark.moment, mark.time)).collect(),
    }
}

/// Everything of a record but its turns and its places.
fn fields(record: &Record) -> impl PartialEq + '_ {
    let words = [&record.title, &record.solver, &record.date, &record.notes];
    (words, &record.remarks, record.sight, record.fps.map(f64::to_bits), record.time.map(|(time, _)| time))
}

//! From the chosen pieces of a text to turns: they are put together as the strict grammar has them, read by it, and
//! every place led back to where it was written.

use crate::diagnostic::{Diagnostic, Span};
use crate::notation::{self, Turns};

use super::atoms::Kind;
use super::document::Document;
use super::line::Piece;
use super::words::{self, Role};

/// How the doubtful places of a stretch are taken.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub(super) struct Choice {
    /// Items that are taken for the other thing.
    pub(super) flipped: Vec<usize>,
    /// Spots (by number) that are taken as a rotation, not as a count.
    pub(super) rotations: Vec<usize>,
}

/// A text that is being put together, with the place of every byte.
struct Composer<'a> {
    document: &'a Document,
    text: String,
    places: Vec<usize>,
    /// For every byte, where in the source its character ends.
    ends: Vec<usize>,
    /// Where in the source the last character ended.
    last: usize,
}

impl<'a> Composer<'a> {
    fn insert(&mut self, words: &str) {
        self.text.push_str(words);
        self.places.extend(std::iter::repeat_n(self.last, words.len()));
        self.ends.extend(std::iter::repeat_n(self.last, words.len()));
    }

    /// Takes over a stretch of the cleaned text.
    fn copy(&mut self, start: usize, end: usize) {
        for (at, c) in self.document.text()[start..end].char_indices() {
            let span = self.document.clean.span(start + at, start + at + c.len_utf8());
            self.text.push(c);
            self.places.extend(std::iter::repeat_n(span.start, c.len_utf8()));
            self.ends.extend(std::iter::repeat_n(span.end, c.len_utf8()));
            self.last = span.end;
        }
    }

    fn blank(&mut self) {
        if !self.text.is_empty() && !self.text.ends_with([' ', '\n']) {
            self.insert(" ");
        }
    }

    fn new_line(&mut self) {
        if !self.text.is_empty() && !self.text.ends_with('\n') {
            self.insert("\n");
        }
    }

    fn turns(&mut self, item: usize, choice: &Choice) {
        let item = &self.document.items[item];
        let line = &self.document.lines[item.line];
        let segment = &line.segments[item.segment];
        let mut skip = 0;
        for atom in &line.atoms[segment.atoms.clone()] {
            if atom.start < skip {
                continue;
            }
            if atom.start > segment.atoms.start
                && matches!(atom.kind, Kind::Sign | Kind::Bar | Kind::Colon | Kind::Comment)
            {
                self.blank();
                self.last = self.document.clean.span(atom.start, atom.end).end;
                continue;
            }
            // What stood with blanks between stays apart.
            let touching = atom.start > segment.start
                && !self.document.text()[..atom.start].ends_with(char::is_whitespace);
            if !touching {
                self.blank();
            }
            let spots = &self.document.spots;
            let spot = Some(spots.partition_point(|spot| spot.start <= atom.start))
                .filter(|&n| spots.get(n).is_some_and(|spot| spot.start <= atom.end));
            let spot = spot.filter(|_| matches!(atom.kind, Kind::Group { .. }));
            let end = spot.map_or(atom.end, |n| self.document.spots[n].start);
            if matches!(atom.kind, Kind::Aside { .. }) {
                self.copy(atom.start + 1, end - 1);
            } else {
                self.copy(atom.start, end);
            }
            if let Some(n) = spot {
                let spot = self.document.spots[n];
                self.last = self.document.clean.span(spot.start, spot.end).start;
                let digit = self.document.text()[spot.start..spot.end]
                    .rfind('2')
                    .map_or(spot.start, |at| spot.start + at);
                if choice.rotations.contains(&n) {
                    let sign = self.document.text()[spot.start..spot.end]
                        .find(['x', 'X'])
                        .map_or(spot.start, |at| spot.start + at);
                    self.insert(" ");
                    self.copy(sign, sign + 1);
                    self.copy(digit, digit + 1);
                } else {
                    self.copy(digit, digit + 1);
                }
                skip = spot.end;
            }
        }
    }

    fn remark(&mut self, start: usize, end: usize) {
        let text = &self.document.text()[start..end];
        let bare = text.trim();
        let mut start = start + (text.len() - text.trim_start().len());
        let mut end = start + bare.len();
        // Brackets around the whole remark are its sign; those around figures belong to them.
        let partner = |open: char| match open {
            '(' => ')',
            '[' => ']',
            '{' => '}',
            _ => '\0',
        };
        let first = bare.chars().next().unwrap_or(' ');
        if bare.len() > 2
            && bare.ends_with(partner(first))
            && bare[1..bare.len() - 1].contains(char::is_alphabetic)
            && !bare[1..bare.len() - 1].contains([first, partner(first)])
            && words::is_step(&bare[1..])
        {
            start += 1;
            end -= 1;
        }
        self.last = self.document.clean.span(start, start).start;
        self.insert("// ");
        self.copy(start, end);
    }
}

/// What was put together of a stretch of items.
#[derive(Debug, Clone)]
pub(super) struct Composed {
    pub(super) turns: Turns,
    pub(super) said: Vec<Diagnostic>,
    /// Items that became remarks.
    pub(super) remarks: Vec<usize>,
    /// Items that were played.
    pub(super) played: Vec<usize>,
}

impl Document {
    /// Whether item `n` is played under this choice.
    pub(super) fn is_played(&self, n: usize, choice: &Choice) -> bool {
        (self.items[n].piece == Piece::Turns) != choice.flipped.contains(&n)
    }

    /// Whether the words of an item are no remark on the turns: a label for a whole part, a result, statistics.
    pub(super) fn is_apart(&self, n: usize) -> bool {
        let item = &self.items[n];
        let line = &self.lines[item.line];
        if item.piece == Piece::Turns {
            return false;
        }
        let before_turns = line.has_turns_behind(item.segment);
        if line.has_turns() {
            let part = line.role.is_some_and(|role| !matches!(role, Role::Step));
            let only_time = line.time.is_some_and(|(start, _)| {
                start >= line.segments[item.segment].start && start < line.segments[item.segment].end
            }) && !words::is_step(self.item_text(item));
            return before_turns && (part || only_time) && item.segment <= 1;
        }
        line.figures || line.time.is_some() || line.role.is_some_and(|role| role != Role::Step)
    }

    /// Puts a stretch of items together. `below` says that remarks stand below their turns.
    pub(super) fn compose(
        &self,
        items: &[usize],
        choice: &Choice,
        below: bool,
        options: &notation::Options,
    ) -> Composed {
        let begin = items.first().map_or(0, |&n| self.segment(&self.items[n]).start);
        let begin = self.clean.place(begin);
        let mut composer = Composer {
            document: self,
            text: String::new(),
            places: Vec::new(),
            ends: Vec::new(),
            last: begin,
        };
        let (mut remarks, mut played) = (Vec::new(), Vec::new());
        let mut line = usize::MAX;
        let mut commented = false;
        for &n in items {
            let item = &self.items[n];
            let segment = &self.lines[item.line].segments[item.segment];
            let is_played = self.is_played(n, choice);
            if !is_played && self.is_apart(n) {
                continue;
            }
            let fresh = item.line != line;
            let beside = below && fresh && !is_played && !self.lines[item.line].has_turns() && !commented;
            if fresh && !beside || commented {
                composer.new_line();
            }
            line = item.line;
            if is_played {
                composer.blank();
                composer.turns(n, choice);
                commented = false;
                played.push(n);
            } else {
                composer.blank();
                composer.remark(segment.start, segment.end);
                commented = true;
                remarks.push(n);
            }
        }
        let Composer { text, places, ends, last, .. } = composer;
        let (mut turns, mut said) = notation::parse_all(&text, options);
        let place = |offset: usize| places.get(offset).copied().unwrap_or(last);
        let moved = |span: Span| {
            let start = place(span.start);
            let end =
                if span.end > span.start { ends.get(span.end - 1).copied().unwrap_or(last) } else { start };
            Span::new(start, end.max(start))
        };
        turns.relocate_spans(moved);
        for label in said.iter_mut().flat_map(|diagnostic| &mut diagnostic.labels) {
            label.span = moved(label.span);
        }
        Composed { turns, said, remarks, played }
    }
}

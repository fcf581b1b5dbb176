//! The lines of a text as a whole: which turns may begin a solve, which are under a label, and where a paragraph ends.

use std::ops::Range;

use super::atoms::Kind;
use super::clean::Clean;
use super::line::{self, Line, Piece, Shape};
use super::words::{self, Role};

/// A segment of a line, in the order of the text.
#[derive(Debug, Clone)]
pub(super) struct Item {
    pub(super) line: usize,
    pub(super) segment: usize,
    pub(super) piece: Piece,
    pub(super) doubtful: bool,
    pub(super) tokens: usize,
    /// Under which label the turns stand, if it is one for a whole part.
    pub(super) label: Option<Role>,
    /// Where a solve may begin, and how sure that is.
    pub(super) start: Option<Start>,
}

/// How sure it is that a solve begins here.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Start {
    /// It looks like a scramble.
    Maybe,
    /// It looks like one and stands apart, behind a number, a heading or a blank line.
    Likely,
    /// It is labelled, or the first turns of all.
    Sure,
}

/// A place where a group's count could be a rotation.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Spot {
    /// The turns in which it stands.
    pub(super) item: usize,
    /// Where the bracket opens.
    pub(super) open: usize,
    /// Behind the bracket.
    pub(super) start: usize,
    pub(super) end: usize,
}

/// A text divided into lines and items.
#[derive(Debug)]
pub(super) struct Document {
    pub(super) clean: Clean,
    pub(super) lines: Vec<Line>,
    pub(super) items: Vec<Item>,
    pub(super) spots: Vec<Spot>,
    /// The times of day before the lines of a chat.
    pub(super) stamps: Vec<Range<usize>>,
    /// For each line the next one from there on that is blank or a divider.
    borders: Vec<Option<usize>>,
    /// For each line whether it names a step beside its turns.
    stepped: Vec<bool>,
}

impl Document {
    pub(super) fn new(clean: Clean) -> Document {
        let mut clean = clean;
        let stamps = clean.unstamp();
        clean.tabulate();
        let lines = line::lines(&clean.text);
        let mut borders = vec![None; lines.len()];
        let mut next = None;
        for (n, line) in lines.iter().enumerate().rev() {
            if matches!(line.shape, Shape::Blank | Shape::Divider) {
                next = Some(n);
            }
            borders[n] = next;
        }
        let stepped = lines.iter().map(|line| names_a_step(&clean.text, line)).collect();
        let mut document =
            Document { clean, lines, items: Vec::new(), spots: Vec::new(), stamps, borders, stepped };
        document.headers();
        document.lay_out();
        document.step_times();
        document.find_spots();
        document
    }

    pub(super) fn text(&self) -> &str {
        &self.clean.text
    }

    /// The next blank line or divider.
    pub(super) fn next_border(&self, line: usize) -> Option<usize> {
        self.borders[line]
    }

    pub(super) fn line_text(&self, line: usize) -> &str {
        &self.clean.text[self.lines[line].start..self.lines[line].end]
    }

    pub(super) fn segment(&self, item: &Item) -> &line::Segment {
        &self.lines[item.line].segments[item.segment]
    }

    pub(super) fn item_text(&self, item: &Item) -> &str {
        let segment = self.segment(item);
        &self.clean.text[segment.start..segment.end]
    }

    /// How many tokens stand in the whole text, in turns of all sorts.
    pub(super) fn tokens(&self) -> usize {
        self.items.iter().filter(|item| item.piece == Piece::Turns).map(|item| item.tokens).sum()
    }

    /// The heads of tables are decoration: the line above a rule, or one of as many cells of words above turns.
    fn headers(&mut self) {
        for n in 1..self.lines.len() {
            let above = &self.lines[n - 1];
            let words = above.shape == Shape::Content && !above.has_turns() && above.bars() > 0;
            let rule = self.lines[n].shape == Shape::Rule;
            let table = self.lines[n].bars() == above.bars()
                && above.bars() > 0
                && self.lines[n].has_turns()
                && n == 1;
            let labelled = above.role.is_some_and(|role| role == Role::Scramble || role == Role::Step)
                && above.bars() < 2;
            if words && (rule || table) && !labelled {
                self.lines[n - 1].shape = Shape::Rule;
            }
        }
    }

    fn lay_out(&mut self) {
        let mut items: Vec<Item> = Vec::new();
        let mut pending: Option<Role> = None;
        let mut apart = true;
        // A heading or a number before, which says that something begins.
        let mut headed = false;
        // A heading before that names a step: what follows is no scramble.
        let mut step_headed = false;
        // Lines of turns since the last place where a solve may begin.
        let mut since = 0;
        let mut first = true;
        let any_scramble_label = self.lines.iter().any(|line| line.role == Some(Role::Scramble));
        for (n, line) in self.lines.iter().enumerate() {
            match line.shape {
                Shape::Blank | Shape::Divider => {
                    apart = true;
                    continue;
                }
                Shape::Fence | Shape::Rule => continue,
                Shape::Content => {}
            }
            let has_turns = line.has_turns();
            let role = self.part(n, any_scramble_label);
            if !has_turns {
                step_headed |= line.heading && words::is_step(self.line_text(n));
                if role.is_some() {
                    pending = role;
                    apart = true;
                } else if words::is_heading(self.line_text(n)) || line.time.is_some() && since > 0 {
                    (apart, headed) = (true, true);
                } else if line.heading || line.time.is_some() {
                    apart = true;
                }
            }
            // `R2 U F2 … (scramble)`: the label may stand behind too.
            let behind = || {
                let last = line.segments.last().filter(|segment| segment.piece == Piece::Words)?;
                let words = &self.clean.text[last.start..last.end];
                words::role(words).filter(|role| *role == Role::Scramble && !self.is_stepped(n))
            };
            let mut label = if has_turns { role.or_else(behind).or(pending.take()) } else { None };
            let stepped = (self.is_stepped(n) || step_headed) && line.turns().count() == 1;
            let mut cells = 0;
            for (s, segment) in line.segments.iter().enumerate() {
                let mut item = Item {
                    line: n,
                    segment: s,
                    piece: segment.piece,
                    // A few turns and words without a sign between: a title may be so.
                    doubtful: segment.doubtful
                        || segment.piece == Piece::Turns
                            && segment.tokens <= 4
                            && s + 1 < line.segments.len()
                            && !line.segments[s + 1].comment
                            && !stepped,
                    tokens: segment.tokens,
                    label: None,
                    start: None,
                };
                if segment.piece == Piece::Turns {
                    item.label = label.take();
                    let least = if apart { 8 } else { 12 };
                    let like = !stepped && segment.tokens >= least && self.is_scramble_like(n, s);
                    let front = cells == 0;
                    item.start = match item.label {
                        Some(Role::Scramble) => Some(Start::Sure),
                        Some(_) => None,
                        None if first && segment.tokens > 0 => Some(Start::Sure),
                        None if like && front && (headed || line.item.is_some() || line.time.is_some()) => {
                            Some(Start::Likely)
                        }
                        // The second paragraph is a solution, whatever it looks like.
                        None if like && front && apart && since > 0 && segment.tokens >= 15 => {
                            Some(Start::Likely)
                        }
                        None if like && front => Some(Start::Maybe),
                        None => None,
                    };
                    if segment.tokens > 0 {
                        first = false;
                    }
                    since = if item.start.is_some() { 0 } else { since + 1 };
                    cells += 1;
                }
                items.push(item);
            }
            if has_turns {
                (apart, headed, step_headed) = (false, false, false);
            }
        }
        self.items = items;
    }

    /// Times before the turns of three lines of a paragraph or more are those of its steps, and no results: they stay with
    /// their turns.
    fn step_times(&mut self) {
        let first_of: Vec<&Item> = self
            .items
            .iter()
            .filter(|item| {
                item.piece == Piece::Turns && item.label.is_none() && item.start != Some(Start::Sure)
            })
            .filter(|item| item.segment == 1 && self.lines[item.line].time.is_some())
            .collect();
        let mut paragraphs: Vec<(Option<usize>, Vec<usize>, usize)> = Vec::new();
        for item in first_of {
            let border = self.borders[item.line];
            let starts = usize::from(item.start.is_some());
            match paragraphs.last_mut() {
                Some((last, lines, n)) if *last == border => {
                    lines.push(item.line);
                    *n += starts;
                }
                _ => paragraphs.push((border, vec![item.line], starts)),
            }
        }
        // A list of results with their scrambles looks otherwise: most of its lines could begin a solve.
        for (_, lines, _) in
            paragraphs.into_iter().filter(|(_, lines, starts)| lines.len() >= 3 && starts * 2 < lines.len())
        {
            for &n in &lines {
                self.lines[n].time = None;
            }
            for item in self.items.iter_mut().filter(|item| lines.binary_search(&item.line).is_ok()) {
                item.start = item.start.map(|start| start.min(Start::Maybe));
            }
        }
    }

    /// The role of a line for a whole part: scramble or solution.
    fn part(&self, n: usize, any_scramble_label: bool) -> Option<Role> {
        let line = &self.lines[n];
        let role = line.role.filter(|role| matches!(role, Role::Scramble | Role::Solution))?;
        if role == Role::Scramble {
            return Some(role);
        }
        // `Solve 3` counts solves; whether a scramble or a solution follows, something else has to tell.
        let head =
            &self.clean.text[line.content..line.segments.first().map_or(line.end, |segment| segment.end)];
        let numbered = words::is_heading(head);
        (!numbered || any_scramble_label && line.has_turns()).then_some(role)
    }

    /// Whether a line names a step beside its turns.
    pub(super) fn is_stepped(&self, n: usize) -> bool {
        self.stepped[n]
    }

    /// Whether words and a colon stand before the turns of a line, that are no label for a part.
    pub(super) fn is_named(&self, n: usize) -> bool {
        let line = &self.lines[n];
        let [first, second, ..] = line.segments.as_slice() else { return false };
        let atoms = &line.atoms[first.atoms.end..second.atoms.start.max(first.atoms.end)];
        first.piece == Piece::Words
            && second.piece == Piece::Turns
            && matches!(line.role, None | Some(Role::Step))
            && line.time.is_none()
            && atoms.iter().any(|atom| atom.kind == Kind::Colon)
    }

    /// Outer turns only, as many as scrambles have, no two of one face in a row.
    pub(super) fn is_scramble_like(&self, n: usize, s: usize) -> bool {
        let line = &self.lines[n];
        let segment = &line.segments[s];
        if segment.tokens > 40 {
            return false;
        }
        let mut last = ' ';
        line.atoms[segment.atoms.clone()].iter().all(|atom| match atom.kind {
            Kind::Turns(shape) => {
                let text = &self.clean.text[atom.start..atom.end];
                let face = text.chars().next().unwrap_or(' ');
                let outer = "UDFBRL".contains(face)
                    && !text.contains(|c: char| c.is_lowercase() || "MESXYZ".contains(c));
                let fresh = face != last || shape.n > 1;
                last = if shape.n > 1 { ' ' } else { face };
                outer && fresh
            }
            Kind::Sign | Kind::Bar => true,
            _ => false,
        })
    }

    fn find_spots(&mut self) {
        for (at, item) in self.items.iter().enumerate() {
            if item.piece != Piece::Turns {
                continue;
            }
            let line = &self.lines[item.line];
            let atoms = &line.atoms[line.segments[item.segment].atoms.clone()];
            for (n, atom) in atoms.iter().enumerate() {
                if !matches!(atom.kind, Kind::Group { .. }) {
                    continue;
                }
                let text = &self.clean.text[atom.start..atom.end];
                let close = text.rfind([')', ']', '}']).map_or(text.len(), |at| at + 1);
                let tail = &text[close..];
                let bare: String = tail.chars().filter(|c| !c.is_whitespace()).collect();
                if tail.starts_with(char::is_whitespace) && bare.eq_ignore_ascii_case("x2") {
                    self.spots.push(Spot {
                        item: at,
                        open: atom.start,
                        start: atom.start + close,
                        end: atom.end,
                    });
                    continue;
                }
                if let Some(next) = atoms.get(n + 1)
                    && tail.is_empty()
                    && next.start > atom.end
                    && self.clean.text[next.start..next.end].eq_ignore_ascii_case("x2")
                {
                    self.spots.push(Spot { item: at, open: atom.start, start: atom.end, end: next.end });
                }
            }
        }
    }
}

fn names_a_step(text: &str, line: &Line) -> bool {
    let bare =
        |segment: &line::Segment| text[segment.start..segment.end].trim_start_matches(['(', '[', '{', ' ']);
    line.has_turns()
        && line.segments.iter().any(|segment| segment.piece == Piece::Words && words::is_step(bare(segment)))
}

//! Blocks set as lines of text: for a terminal, or a file, of any width.
//!
//! Lines are broken at spaces of words only; a sequence of turns or the name of a pair stays whole as long as a line
//! can hold it. Widths are counted in columns as terminals count them, so a title in Chinese stands where it should.

use std::borrow::Cow;
use std::fmt::Write as _;
use std::iter::repeat_n;
use std::ops::Range;

use owo_colors::OwoColorize;
use textwrap::core::Fragment;
use textwrap::wrap_algorithms::wrap_first_fit;

use super::look::{Look, columns, end_line};
use crate::story::blocks::{Block, Body, Item, Line, Phrase, Run, StepBlock};

mod table;

/// Where the lines of a step begin, and where their text does.
const INDENT: usize = 2;
const TEXT: usize = 11;
/// In the head of a step: the columns of its name, and where its turns begin if it solves pairs.
const NAME: usize = 8;
const TURNS: usize = 24;
/// So many columns beside the others are room for words.
const LEAST_BESIDE: usize = 12;

/// The blocks as text, every line ended. `lanes` draws the lanes where the story has them.
#[must_use]
pub fn set(blocks: &[Block], look: &Look, lanes: &dyn Fn(&Look) -> String) -> String {
    let grid = Grid::of(blocks, look);
    let mut out = String::new();
    for block in blocks {
        match block {
            Block::Title { words, figure } => title(&mut out, words, figure, look),
            Block::Heading(words) if columns(words) <= look.width => {
                line(&mut out, &words.style(look.palette.strong).to_string())
            }
            Block::Heading(words) => {
                paragraph(&mut out, &Phrase::new().run(Run::Strong(words.clone())), look)
            }
            Block::Paragraph(words) => paragraph(&mut out, words, look),
            Block::Items(items) => set_items(&mut out, items, look),
            Block::Table(table) => table::set(&mut out, table, look),
            Block::Step(step) => set_step(&mut out, step, &grid, look),
            Block::Lanes => out.push_str(&lanes(look)),
            Block::Gap => out.push('\n'),
        }
    }
    // The story's own sign between two things of a line; what a writer wrote stays as written.
    if look.unicode { out } else { out.replace('·', "|") }
}

/// A phrase in lines of at most `width` columns; every line but the first is indented by `indent`, which counts.
#[must_use]
pub fn wrapped(phrase: &Phrase, look: &Look, width: usize, indent: usize) -> String {
    let lines = in_lines(phrase, look, width.saturating_sub(indent));
    let mut lines = lines.into_iter();
    let mut text = lines.next().map_or_else(String::new, |line| line.text);
    for line in lines {
        text.push('\n');
        pad(&mut text, indent);
        text.push_str(&line.text);
    }
    text
}

/// A set line, and how many columns it takes: the escapes in it take none.
struct SetLine {
    text: String,
    wide: usize,
}

/// A phrase in lines of at most `room` columns.
fn in_lines(phrase: &Phrase, look: &Look, room: usize) -> Vec<SetLine> {
    let room = room.max(1);
    let (text, words) = words(phrase, look, room);
    #[expect(clippy::cast_precision_loss, reason = "columns of a terminal")]
    let lines = wrap_first_fit(&words, &[room as f64]);
    let set = |line: &&[Word]| {
        let long = line.iter().map(|word| word.text.len() + 1).sum();
        let mut set = SetLine { text: String::with_capacity(long), wide: 0 };
        for (k, word) in line.iter().enumerate() {
            let space = if k + 1 < line.len() && word.space { " " } else { "" };
            set.text.push_str(&text[word.text.clone()]);
            set.text.push_str(space);
            set.wide += word.wide + space.len();
        }
        set
    };
    lines.iter().map(set).collect()
}

/// What is not torn: a word with what hangs on it.
#[derive(Debug)]
struct Word {
    /// Where it stands in the text of all words.
    text: Range<usize>,
    wide: usize,
    /// Whether a space follows, at which a line may end.
    space: bool,
    /// Whether a line may end here all the same.
    joint: bool,
}

impl Fragment for Word {
    #[expect(clippy::cast_precision_loss, reason = "columns of a terminal")]
    fn width(&self) -> f64 {
        self.wide as f64
    }

    fn whitespace_width(&self) -> f64 {
        if self.space { 1.0 } else { 0.0 }
    }

    fn penalty_width(&self) -> f64 {
        0.0
    }
}

/// The words of a phrase: their text without the spaces between, and each. What follows a pair without a space (a comma)
/// hangs on it.
fn words(phrase: &Phrase, look: &Look, room: usize) -> (String, Vec<Word>) {
    let (mut all, mut words) = (String::new(), Vec::<Word>::new());
    let mut add = |text: &str, shown: &str, space: bool, joint: bool| {
        let wide = columns(text);
        let from = all.len();
        all.push_str(shown);
        match words.last_mut() {
            Some(last) if !last.space && !last.joint => {
                last.text.end = all.len();
                last.wide += wide;
                (last.space, last.joint) = (space, joint);
            }
            _ => words.push(Word { text: from..all.len(), wide, space, joint }),
        }
    };
    for run in &phrase.runs {
        match run {
            // Only where no line could hold it whole.
            Run::Pair(pair) | Run::PairFirst(pair) if columns(&run.plain()) > room => {
                let text = run.plain();
                let (first, second) = text.split_once('-').unwrap_or((&text, ""));
                let [a, b] = pair.sides().map(|side| look.palette.colour(side));
                add(&format!("{first}-"), &format!("{}-", first.style(a)), false, true);
                add(second, &second.style(b).to_string(), false, false);
            }
            Run::Pair(_) | Run::PairFirst(_) | Run::Colour(_) => {
                let text = run.plain();
                add(&text, &styled(run, &text, look), false, false);
            }
            Run::Turns(text) if columns(text) <= room => add(text, text, false, false),
            _ => {
                let text = run.plain();
                let mut parts = text.split(' ').peekable();
                while let Some(part) = parts.next() {
                    let space = parts.peek().is_some();
                    let shown = if part.is_empty() { Cow::Borrowed("") } else { styled(run, part, look) };
                    add(part, &shown, space, false);
                }
            }
        }
    }
    (all, words)
}

/// A part of a run in its style.
fn styled<'a>(run: &Run, text: &'a str, look: &Look) -> Cow<'a, str> {
    let palette = &look.palette;
    // A style that is none writes no escapes.
    if palette.is_plain() {
        return text.into();
    }
    let style = match run {
        Run::Words(_) | Run::Turns(_) | Run::Term(_) => return text.into(),
        Run::Strong(_) => palette.strong,
        Run::Dim(_) => palette.dim,
        Run::Stop(_) => palette.middling.bold(),
        Run::Fault(_) => palette.bad,
        Run::Pair(pair) | Run::PairFirst(pair) => {
            let [a, b] = pair.sides();
            let (first, second) = text.split_once('-').unwrap_or((text, ""));
            return format!("{}-{}", first.style(palette.colour(a)), second.style(palette.colour(b))).into();
        }
        Run::Colour(colour) => palette.colour(*colour),
    };
    text.style(style).to_string().into()
}

fn whole(phrase: &Phrase, look: &Look) -> String {
    phrase.runs.iter().fold(String::new(), |text, run| text + &styled(run, &run.plain(), look))
}

/// So many spaces more.
fn pad(text: &mut String, columns: usize) {
    text.extend(repeat_n(' ', columns));
}

fn line(out: &mut String, text: &str) {
    out.push_str(text.trim_end());
    out.push('\n');
}

fn paragraph(out: &mut String, words: &Phrase, look: &Look) {
    line(out, &wrapped(words, look, look.width, 0));
}

/// The words, and the figure at the end of the line; below it where there is no room beside.
fn title(out: &mut String, words: &Phrase, figure: &str, look: &Look) {
    let wide = columns(&words.plain());
    if wide + 2 + columns(figure) <= look.width {
        let mut text = whole(words, look);
        pad(&mut text, look.width - wide - columns(figure));
        line(out, &(text + figure));
    } else {
        line(out, &wrapped(words, look, look.width, 0));
        if !figure.is_empty() {
            line(out, figure);
        }
    }
}

fn set_items(out: &mut String, items: &[Item], look: &Look) {
    let figures = items.iter().map(|item| columns(&item.figure)).max().unwrap_or(0);
    let indent = INDENT + figures + 2;
    for item in items {
        let figure = &item.figure;
        let beside = figures - columns(figure);
        // Seconds stand to the right, below each other; names of steps to the left.
        let [before, after] =
            if figure.starts_with(|c: char| c.is_ascii_digit()) { [beside, 0] } else { [0, beside] };
        let from = out.len();
        pad(out, INDENT + before);
        out.push_str(figure);
        pad(out, after + 2);
        out.push_str(&wrapped(&item.words, look, look.width, indent));
        end_line(out, from);
    }
}

/// How wide the cells of step lines are, over the whole story, so that they stand below each other.
#[derive(Debug, Default)]
struct Grid {
    widths: Vec<usize>,
    /// Columns between two cells: fewer where there is no room for more.
    gap: usize,
}

impl Grid {
    fn of(blocks: &[Block], look: &Look) -> Grid {
        let mut grid = Grid { gap: 2, ..Grid::default() };
        let steps = blocks.iter().filter_map(|block| match block {
            Block::Step(step) => Some(step),
            _ => None,
        });
        for cells in steps.flat_map(|step| &step.lines).filter_map(|line| match &line.body {
            Body::Cells(cells) => Some(cells),
            Body::Words(_) => None,
        }) {
            for (i, cell) in cells.iter().enumerate() {
                let wide = columns(&cell.plain());
                match grid.widths.get_mut(i) {
                    Some(width) => *width = (*width).max(wide),
                    None => grid.widths.push(wide),
                }
            }
        }
        let gaps = grid.widths.len().saturating_sub(2);
        let wide = grid.widths.iter().sum::<usize>() + gaps * 2 + 1;
        grid.gap = if wide > look.width.saturating_sub(TEXT) { 1 } else { 2 };
        grid
    }
}

fn set_step(out: &mut String, step: &StepBlock, grid: &Grid, look: &Look) {
    head(out, step, look);
    for one in &step.lines {
        match &one.body {
            Body::Words(words) => labelled(out, one.label, &wrapped(words, look, look.width, TEXT), look),
            Body::Cells(cells) => set_cells(out, one, cells, grid, look),
        }
    }
}

/// Name, what it solves, the turns, and the figures at the end of the line; the turns get a line of their own where
/// there is no room beside.
fn head(out: &mut String, step: &StepBlock, look: &Look) {
    let mut text = step.name.style(look.palette.strong).to_string();
    pad(&mut text, NAME.saturating_sub(columns(&step.name)).max(2));
    text.push_str(&whole(&step.what, look));
    let figures = step.figures.join("  ");
    let mut at = columns(&text);
    // Below each other where they fit there, else right behind the name.
    let room = |at: usize| at + columns(&step.tokens) + 2 + columns(&figures) <= look.width;
    let to = [TURNS.max(at), at].into_iter().find(|&to| room(to) && (to == TURNS || step.what.is_empty()));
    if let Some(to) = to.filter(|_| !step.tokens.is_empty()) {
        pad(&mut text, to - at);
        text.push_str(&step.tokens);
        at = to + columns(&step.tokens);
    }
    let beside = look.width.checked_sub(at + columns(&figures)).filter(|&pad| pad >= 2);
    match beside {
        Some(beside) => {
            pad(&mut text, beside);
            line(out, &(text + &figures));
        }
        None => {
            line(out, &text);
            line(out, &format!("{figures:>width$}", width = look.width));
        }
    }
    if to.is_none() && !step.tokens.is_empty() {
        let tokens = Phrase::new().turns(&step.tokens);
        line(out, &format!("{:INDENT$}{}", "", wrapped(&tokens, look, look.width, INDENT)));
    }
}

fn labelled(out: &mut String, label: &str, text: &str, look: &Look) {
    let from = out.len();
    let label = format!("{:INDENT$}{label:<width$}", "", width = TEXT - INDENT);
    // Writing to a `String` cannot fail.
    let _ = write!(out, "{}", label.style(look.palette.dim));
    out.push_str(text);
    end_line(out, from);
}

/// Cells below those of other lines, the last one at the end of the line. The one before it is set in lines where it is
/// too long; where hardly any room is left, it begins a line of its own.
fn set_cells(out: &mut String, one: &Line, cells: &[Phrase], grid: &Grid, look: &Look) {
    let room = look.width.saturating_sub(TEXT);
    let Some((last, cells)) = cells.split_last() else { return };
    let Some((long, short)) = cells.split_last() else {
        return labelled(out, one.label, &whole(last, look), look);
    };
    let (mut text, mut at, mut label) = (String::new(), 0, one.label);
    for (i, cell) in short.iter().enumerate() {
        let wide = columns(&cell.plain());
        let beside = grid.widths.get(i).copied().unwrap_or(0).max(wide) - wide + grid.gap;
        text.push_str(&whole(cell, look));
        pad(&mut text, beside);
        at += wide + beside;
    }
    let last_wide = columns(&last.plain());
    let beside = |at: usize| room.saturating_sub(at + last_wide + 1);
    if beside(at) < LEAST_BESIDE.min(columns(&long.plain())) {
        labelled(out, label, &text, look);
        (text, at, label) = (String::new(), 0, "");
    }
    for (n, part) in in_lines(long, look, beside(at)).into_iter().enumerate() {
        if n == 0 {
            text.push_str(&part.text);
            pad(&mut text, beside(at).saturating_sub(part.wide) + 1);
            text.push_str(&whole(last, look));
        } else {
            text.push('\n');
            pad(&mut text, TEXT + at);
            text.push_str(&part.text);
        }
    }
    labelled(out, label, &text, look);
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::cube::{Colour, Pair, PairName};

    fn no_lanes(_: &Look) -> String {
        String::new()
    }

    fn narrow(width: usize) -> Look {
        Look { width, ..Look::plain() }
    }

    fn pair() -> PairName {
        Pair::all(Colour::Yellow)[0].name()
    }

    #[test]
    fn turns_and_pairs_stay_whole() {
        let phrase =
            Phrase::words("or so in pair 3: ").turns("y L' U' L U").and(", then ").pair(pair()).and(".");
        let text = wrapped(&phrase, &narrow(24), 24, 2);
        insta::assert_snapshot!(text, @r"
        or so in pair 3:
          y L' U' L U, then
          blue-orange.
        ");
    }

    #[test]
    fn turns_that_no_line_holds_are_torn_at_spaces() {
        let text = wrapped(&Phrase::new().turns("R U R' U' R U R'"), &narrow(9), 9, 0);
        assert_eq!(text, "R U R' U'\nR U R'");
    }

    #[test]
    fn wide_characters_count_as_terminals_count_them() {
        let mut out = String::new();
        title(&mut out, &Phrase::words("港の朝"), "9.14 s", &narrow(20));
        assert_eq!(out, "港の朝        9.14 s\n");
    }

    #[test]
    fn cells_of_different_steps_stand_below_each_other() {
        let step = |name: &str, cells: Vec<Phrase>| {
            Block::Step(StepBlock {
                name: name.into(),
                what: Phrase::new().pair(pair()),
                tokens: "R U R'".into(),
                figures: vec!["3 turns".into(), "0.51 s".into()],
                from: 0,
                to: 3,
                lines: vec![Line { label: "next", body: Body::Cells(cells) }],
            })
        };
        let blocks = [
            step("pair 1", vec!["top".into(), "at once".into(), "1.1 s".into()]),
            step("pair 2", vec!["lifted".into(), "4 to go".into(), "0.9 s".into()]),
        ];
        insta::assert_snapshot!(set(&blocks, &narrow(60), &no_lanes), @r"
        pair 1  blue-orange     R U R'               3 turns  0.51 s
          next     top     at once                             1.1 s
        pair 2  blue-orange     R U R'               3 turns  0.51 s
          next     lifted  4 to go                             0.9 s
        ");
    }
}

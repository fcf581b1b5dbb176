//! A repair as changes to a record: what stands where, and the turns as they would read afterwards.

use std::ops::Range;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::cube::Move;
use crate::diagnostic::Span;
use crate::notation::{Element, Spelling, Token, Turns};

use super::edits::Written;
use super::search::gap::Way;
use super::search::lines::Block;
use super::search::{EditId, Search, runs};
use super::slip::{self, Slip};
use super::tokens::Tokens;

/// Which of a record's two sequences.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum Part {
    /// The scramble.
    Scramble,
    /// The solution.
    Solution,
}

/// Where an inserted token stands among the comments, marks and line ends of its moment.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Side {
    /// Directly behind the token before it.
    Behind,
    /// Directly in front of the token after it.
    InFront,
    /// On a line of its own, or on the line of a comment that stands there without turns.
    OwnLine,
}

/// One place of a record rewritten.
#[derive(Debug, Clone, PartialEq)]
pub struct Change {
    /// In which sequence.
    pub part: Part,
    /// The tokens of that sequence that are replaced; empty for an insertion.
    pub range: Range<usize>,
    /// What they become.
    pub moves: Vec<Move>,
    /// Of an insertion, on which side of its moment.
    pub side: Side,
    /// How the writer would have slipped.
    pub slip: Slip,
    /// The natural logarithm of how unlikely that is.
    pub cost: f64,
    /// Where tokens are copies made by a group's count, what is written is one of them: the tokens rewritten
    /// in the text, and what with.
    pub in_group: Option<(Range<usize>, Vec<Move>)>,
    /// Where only the count of a group is rewritten: the last token of the group's text, the count there is
    /// and the count there should be.
    pub count: Option<(usize, usize, usize)>,
    /// Where two lines are exchanged, comments and all: the tokens of either, the first and the last of `range`.
    pub lines: Option<(Range<usize>, Range<usize>)>,
}

impl Change {
    /// The tokens that are rewritten in the text, and what with: one copy where a group has made more of it.
    #[must_use]
    pub fn written(&self) -> (Range<usize>, &[Move]) {
        match &self.in_group {
            Some((range, moves)) => (range.clone(), moves),
            None => (self.range.clone(), &self.moves),
        }
    }
}

/// The turns with the changes of one part made; comments, marks and line ends keep their places.
///
/// Inserted tokens get an empty span where they would stand. Changes must be in order and apart.
#[must_use]
pub fn made(turns: &Turns, part: Part, all: &[Change]) -> Turns {
    if let Some((first, second)) = changes_of(all, part).find_map(|change| change.lines.as_ref()) {
        return exchanged(turns, first, second);
    }
    let n = turns.tokens.len();
    let mut tokens: Vec<Token> = Vec::with_capacity(n + 3);
    // For each old moment, the new one.
    let mut moved = vec![0; n + 1];
    let mut changes = changes_of(all, part).peekable();
    let mut at = 0;
    while at <= n {
        let mut insert = |tokens: &mut Vec<Token>, side: Side| {
            while let Some(change) = changes
                .next_if(|change| change.range.is_empty() && change.range.start == at && change.side == side)
            {
                let span = inserted_at(turns, at, side);
                tokens.extend(change.moves.iter().map(|&mv| Token {
                    element: Element::Move(mv),
                    span,
                    spelling: Spelling::default(),
                }));
            }
        };
        insert(&mut tokens, Side::Behind);
        moved[at] = tokens.len();
        insert(&mut tokens, Side::InFront);
        // An insertion that was to stand behind may follow one that stands in front: the order is kept.
        insert(&mut tokens, Side::Behind);
        insert(&mut tokens, Side::OwnLine);
        let Some(change) = changes.next_if(|change| change.range.start == at && !change.range.is_empty())
        else {
            tokens.extend(turns.tokens.get(at));
            at += 1;
            continue;
        };
        let start = tokens.len();
        let old = &turns.tokens[change.range.clone()];
        for (i, &mv) in change.moves.iter().enumerate() {
            let span = old.get(i).or(old.last()).map_or_else(Span::default, |token| token.span);
            tokens.push(Token { element: Element::Move(mv), span, spelling: Spelling::default() });
        }
        for inside in 1..change.range.len() {
            moved[at + inside] = start + inside.min(change.moves.len());
        }
        at = change.range.end;
    }
    let mut after = Turns { tokens, groups: Vec::new(), ..turns.clone() };
    after.comments.iter_mut().for_each(|comment| comment.moment = moved[comment.moment.min(n)]);
    after.marks.iter_mut().for_each(|mark| mark.moment = moved[mark.moment.min(n)]);
    for change in
        changes_of(all, part).filter(|change| change.range.is_empty() && change.side == Side::OwnLine)
    {
        // What stands at its moment, but further on in the text, comes behind the line.
        let (at, place) = (change.range.start, own_line_at(turns, change.range.start));
        let behind = moved[at] + change.moves.len();
        let comments = after.comments.iter_mut().zip(&turns.comments);
        for (comment, _) in comments.filter(|(_, old)| old.moment == at && old.span.start >= place) {
            comment.moment = behind;
        }
        let marks = after.marks.iter_mut().zip(&turns.marks);
        for (mark, _) in marks.filter(|(_, old)| old.moment == at && old.span.start >= place) {
            mark.moment = behind;
        }
    }
    after.breaks.iter_mut().for_each(|line| line.moment = moved[line.moment.min(n)]);
    after
}

fn changes_of(changes: &[Change], part: Part) -> impl Iterator<Item = &Change> {
    changes.iter().filter(move |change| change.part == part)
}

/// The turns with two lines in each other's place, and with each what stands on it.
fn exchanged(turns: &Turns, first: &Range<usize>, second: &Range<usize>) -> Turns {
    let [first_text, second_text] = [first, second].map(|line| line_of(turns, line));
    let middle_start = first.start + second.len();
    // Where each part of the text begins afterwards, less where it began.
    let parts = [
        (second_text.start..second_text.end, second.start, first.start),
        (first_text.end..second_text.start, first.end, middle_start),
        (first_text.start..first_text.end, first.start, middle_start + (second.start - first.end)),
    ];
    // What stands at a place of the text: its rank afterwards, and how its moment moves.
    let seat = |at: usize| -> (u8, usize, usize) {
        if at < first_text.start {
            return (0, 0, 0);
        }
        let inside = (1u8..).zip(&parts).find(|(_, (text, ..))| text.contains(&at));
        inside.map_or((4, 0, 0), |(rank, (_, from, to))| (rank, *from, *to))
    };
    let mut after = Turns { groups: Vec::new(), ..turns.clone() };
    let order = [
        0..first.start,
        second.clone(),
        first.end..second.start,
        first.clone(),
        second.end..turns.tokens.len(),
    ];
    after.tokens = order.into_iter().flatten().map(|i| turns.tokens[i]).collect();
    after.comments.sort_by_key(|comment| seat(comment.span.start).0);
    for comment in &mut after.comments {
        let (_, from, to) = seat(comment.span.start);
        comment.moment = (comment.moment + to).saturating_sub(from);
    }
    after.marks.sort_by_key(|mark| seat(mark.span.start).0);
    for mark in &mut after.marks {
        let (_, from, to) = seat(mark.span.start);
        mark.moment = (mark.moment + to).saturating_sub(from);
    }
    // Line ends stay where they are in the text: that of the first line ends the second, now.
    for line in &mut after.breaks {
        if line.at >= first_text.end && line.at < second_text.end {
            line.moment = (line.moment + middle_start).saturating_sub(first.end);
        }
    }
    after
}

/// The bytes of the line that has these tokens, from the line end before to the line end after.
fn line_of(turns: &Turns, tokens: &Range<usize>) -> Range<usize> {
    let spans = || turns.tokens[tokens.clone()].iter().map(|token| token.span);
    let from = spans().map(|span| span.start).min().unwrap_or(0);
    let to = spans().map(|span| span.end).max().unwrap_or(from);
    let ends = || turns.breaks.iter().map(|line| line.at);
    let start = ends().filter(|&at| at <= from).max().unwrap_or(0);
    let end = ends().filter(|&at| at >= to).min().unwrap_or(turns.span.end.max(to));
    start..end
}

/// The first comment at a moment that stands on a line without turns: such turns may have been lost.
#[must_use]
pub fn waiting(turns: &Turns, moment: usize) -> Option<usize> {
    let before = moment.checked_sub(1).and_then(|i| turns.tokens.get(i)).map(|token| token.span.end);
    let after = turns.tokens.get(moment).map_or(usize::MAX, |token| token.span.start);
    turns.comments.iter().position(|comment| {
        let at = comment.span.start;
        let ends_line =
            |from: usize, to: usize| turns.breaks.iter().any(|line| (from..to).contains(&line.at));
        comment.moment == moment
            && before.is_none_or(|before| ends_line(before, at))
            && (after == usize::MAX || ends_line(at, after))
    })
}

/// Where a line of its own would begin in the text: in front of the comment that waits for it, else of the next line.
fn own_line_at(turns: &Turns, moment: usize) -> usize {
    if let Some(waiting) = waiting(turns, moment) {
        return turns.comments[waiting].span.start;
    }
    let Some(next) = turns.tokens.get(moment) else { return usize::MAX };
    let ends = turns.breaks.iter().map(|line| line.at).filter(|&at| at <= next.span.start);
    ends.max().unwrap_or(next.span.start)
}

/// Where a token inserted at a moment would stand.
#[must_use]
pub fn inserted_at(turns: &Turns, moment: usize, side: Side) -> Span {
    let behind = || moment.checked_sub(1).and_then(|i| turns.tokens.get(i)).map(|token| token.span.end);
    let in_front = || turns.tokens.get(moment).map(|token| token.span.start);
    let at = match side {
        Side::Behind => behind().or_else(in_front),
        Side::InFront | Side::OwnLine => in_front().or_else(behind),
    };
    let at = at.unwrap_or(turns.span.end);
    Span::new(at, at)
}

/// The changes that a set of edits makes, those of the scramble first.
pub(super) fn of_edits(tokens: &Tokens, search: &Search, ids: &[EditId]) -> Vec<Change> {
    let n_scramble = tokens.n_scramble;
    ids.iter()
        .map(|&id| {
            let edit = &search.edits[usize::from(id)];
            let (part, shift) =
                if edit.in_scramble { (Part::Scramble, 0) } else { (Part::Solution, n_scramble) };
            let moves =
                |numbers: &[u8]| numbers.iter().map(|&number| Move::ALL[usize::from(number)]).collect();
            let mut change = Change {
                part,
                range: edit.range.start - shift..edit.range.end - shift,
                moves: moves(&edit.moves),
                side: Side::Behind,
                slip: edit.slip,
                cost: edit.cost,
                in_group: None,
                count: None,
                lines: None,
            };
            match &edit.written {
                None => {}
                Some(Written::Tokens { range, moves: written, behind }) => {
                    change.side = if *behind { Side::Behind } else { Side::InFront };
                    change.in_group = Some((range.start - shift..range.end - shift, moves(written)));
                }
                Some(Written::Count { last, from, to }) => change.count = Some((last - shift, *from, *to)),
            }
            change
        })
        .collect()
}

/// The changes that fill gaps, and other tokens besides.
pub(super) fn of_way(tokens: &Tokens, search: &Search, way: &Way) -> Vec<Change> {
    let mut all = of_edits(tokens, search, &way.edits);
    for (place, moves) in &way.gaps {
        let in_scramble = *place < tokens.n_scramble;
        let at = if in_scramble { *place } else { place - tokens.n_scramble };
        all.push(Change {
            part: if in_scramble { Part::Scramble } else { Part::Solution },
            range: at..at + 1,
            moves: moves.iter().map(|&number| Move::ALL[usize::from(number)]).collect(),
            side: Side::Behind,
            slip: Slip::Gap,
            // Each turn more is a third as likely, each rotation a twentieth.
            cost: moves.iter().map(|&number| if number < 45 { 1.0 } else { 3.0 }).sum(),
            in_group: None,
            count: None,
            lines: None,
        });
    }
    all.sort_by_key(|change| (change.part, change.range.start, change.range.end));
    all
}

/// A run of tokens that was lost, put back.
pub(super) fn of_run(tokens: &Tokens, run: &runs::Run) -> Vec<Change> {
    let at = if run.in_scramble { run.at } else { run.at - tokens.n_scramble };
    let moves: Vec<Move> = run.moves.iter().map(|&number| Move::ALL[usize::from(number)]).collect();
    let choices: f64 = moves.iter().map(|&mv| slip::once_in(slip::left_out(mv).1)).sum();
    let rarer = if run.in_scramble { slip::once_in(slip::SCRAMBLE_RARER) } else { 0.0 };
    vec![Change {
        part: if run.in_scramble { Part::Scramble } else { Part::Solution },
        range: at..at,
        moves,
        side: Side::Behind,
        slip: Slip::RunLost,
        cost: Slip::RunLost.cost(1.0) + choices + rarer,
        in_group: None,
        count: None,
        lines: None,
    }]
}

/// Lines of the solution put right.
pub(super) fn of_block(turns: &Turns, block: &Block) -> Vec<Change> {
    let moves_of = |range: &Range<usize>| {
        turns.tokens[range.clone()].iter().filter_map(|token| match token.element {
            Element::Move(mv) => Some(mv),
            _ => None,
        })
    };
    let change = |range: Range<usize>, moves: Vec<Move>, slip: Slip, more: f64| Change {
        part: Part::Solution,
        range,
        moves,
        side: Side::OwnLine,
        slip,
        cost: slip.cost(1.0) + more,
        in_group: None,
        count: None,
        lines: None,
    };
    vec![match block {
        Block::Twice(range) => change(range.clone(), vec![], Slip::LineDoubled, 0.0),
        Block::Exchanged(first, second) => {
            let between = first.end..second.start;
            let moves = [second, &between, first].into_iter().flat_map(moves_of).collect();
            Change {
                lines: Some((first.clone(), second.clone())),
                ..change(first.start..second.end, moves, Slip::LinesSwapped, 0.0)
            }
        }
        Block::Lost(at, moves) => {
            let moves: Vec<Move> = moves.iter().map(|&number| Move::ALL[usize::from(number)]).collect();
            // As for a gap: each turn more is a third as likely, each rotation a twentieth.
            let more = moves.iter().map(|mv| if matches!(mv, Move::Rotation(..)) { 3.0 } else { 1.0 }).sum();
            change(*at..*at, moves, Slip::LineLost, more)
        }
    }]
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::cube::{Amount, Face};
    use crate::notation::{Options, parse_all, print};

    fn change(range: Range<usize>, moves: &[Move], side: Side) -> Change {
        Change {
            part: Part::Solution,
            range,
            moves: moves.to_vec(),
            side,
            slip: Slip::Dropped,
            cost: 0.0,
            in_group: None,
            count: None,
            lines: None,
        }
    }

    #[test]
    fn comments_stay_with_the_turns_they_stood_with() {
        let (turns, _) = parse_all("R U // one\nF D // two\n", &Options::default());
        let l = Move::Turn(Face::L, Amount::Quarter);
        let read = |changes: &[Change]| print(&made(&turns, Part::Solution, changes));
        assert_eq!(read(&[change(2..2, &[l], Side::Behind)]), "R U L // one\nF D // two");
        assert_eq!(read(&[change(2..2, &[l], Side::InFront)]), "R U // one\nL F D // two");
        assert_eq!(read(&[change(1..2, &[], Side::Behind)]), "R // one\nF D // two");
        assert_eq!(
            read(&[change(0..2, &[l, l], Side::Behind), change(4..4, &[l], Side::Behind)]),
            "L L // one\nF D L // two"
        );
        assert_eq!(made(&turns, Part::Scramble, &[change(1..2, &[], Side::Behind)]), turns);
    }

    #[test]
    fn lines_are_exchanged_with_what_stands_on_them() {
        let (turns, _) =
            parse_all("R U // one\nF // two\n// alone\nD2 <1.0> L2 B // three\nx", &Options::default());
        let look = |first: Range<usize>, second: Range<usize>| {
            let lines =
                Change { lines: Some((first, second.clone())), ..change(0..second.end, &[], Side::OwnLine) };
            let after = made(&turns, Part::Solution, &[lines]);
            let moves: Vec<String> = after.playable().map(|mv| mv.to_string()).collect();
            let comments: Vec<String> =
                after.comments.iter().map(|comment| format!("{} {}", comment.moment, comment.text)).collect();
            let marks: Vec<usize> = after.marks.iter().map(|mark| mark.moment).collect();
            let breaks: Vec<usize> = after.breaks.iter().map(|line| line.moment).collect();
            (moves.join(" "), comments.join(", "), marks, breaks)
        };
        let told = |moves: &str, comments: &str, mark: usize, breaks: &[usize]| {
            (moves.to_owned(), comments.to_owned(), vec![mark], breaks.to_vec())
        };
        assert_eq!(
            look(0..2, 3..6),
            told("D2 L2 B F R U x", "3 three, 4 two, 4 alone, 6 one", 1, &[3, 4, 4, 6])
        );
        assert_eq!(
            look(0..2, 2..3),
            told("F R U D2 L2 B x", "1 two, 3 one, 3 alone, 6 three", 4, &[1, 3, 3, 6])
        );
        assert_eq!(
            look(3..6, 6..7),
            told("R U F x D2 L2 B", "2 one, 3 two, 3 alone, 7 three", 5, &[2, 3, 3, 4])
        );
    }

    #[test]
    fn a_lost_line_goes_to_the_comment_that_waits_for_it() {
        let l = Move::Turn(Face::L, Amount::Quarter);
        let lost = |text: &str, at: usize| {
            let (turns, _) = parse_all(text, &Options::default());
            let after = made(&turns, Part::Solution, &[change(at..at, &[l, l], Side::OwnLine)]);
            after.comments.iter().map(|comment| comment.moment).collect::<Vec<_>>()
        };
        assert_eq!(lost("R U // one\n// two\nF // three\n", 2), [2, 4, 5]);
        assert_eq!(lost("R U // one\nF // three\n", 2), [2, 5]);
        assert_eq!(lost("R U // one\n// two\n", 2), [2, 4]);
        // A mark in front of the next line stays in front of that line.
        let (turns, _) = parse_all("R U <1> // one\n<2> F // three\n", &Options::default());
        let after = made(&turns, Part::Solution, &[change(2..2, &[l, l], Side::OwnLine)]);
        assert_eq!(after.marks.iter().map(|mark| mark.moment).collect::<Vec<_>>(), [2, 4]);
    }
}

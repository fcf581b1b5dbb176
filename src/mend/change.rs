//! A repair as changes to a record: what stands where, and the turns as they would read afterwards.

use std::ops::Range;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::cube::Move;
use crate::diagnostic::Span;
use crate::notation::{Element, Spelling, Token, Turns};

use super::edits::Written;
use super::search::gap::Way;
use super::search::{EditId, Search};
use super::slip::Slip;
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
pub fn made(turns: &Turns, part: Part, changes: &[Change]) -> Turns {
    let n = turns.tokens.len();
    let mut tokens: Vec<Token> = Vec::with_capacity(n + 3);
    // For each old moment, the new one.
    let mut moved = vec![0; n + 1];
    let mut changes = changes.iter().filter(|change| change.part == part).peekable();
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
    after.breaks.iter_mut().for_each(|line| line.moment = moved[line.moment.min(n)]);
    after
}

/// Where a token inserted at a moment would stand.
#[must_use]
pub fn inserted_at(turns: &Turns, moment: usize, side: Side) -> Span {
    let behind = || moment.checked_sub(1).and_then(|i| turns.tokens.get(i)).map(|token| token.span.end);
    let in_front = || turns.tokens.get(moment).map(|token| token.span.start);
    let at = match side {
        Side::Behind => behind().or_else(in_front),
        Side::InFront => in_front().or_else(behind),
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
        });
    }
    all.sort_by_key(|change| (change.part, change.range.start, change.range.end));
    all
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
}

//! Slips inside a group that is played several times: what is written once is wrong in every copy. And counts
//! that are one off.
//!
//! Such an edit replaces the whole run of tokens that the group made, so that the search sees it as one edit
//! at one place; [`Written`] says what is rewritten in the text.

use std::ops::Range;

use crate::cube::Move;
use crate::notation::Element;

use super::{Edit, edit, filling};
use crate::mend::search::held;
use crate::mend::slip::{self, Slip};
use crate::mend::tokens::{Run, Tokens};

/// What an edit of a run rewrites in the text.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Written {
    /// Tokens of the group, told by their first copies; empty for an insertion in front of (or, if `behind`,
    /// behind) that place.
    Tokens {
        /// The first copies.
        range: Range<usize>,
        /// What stands there instead.
        moves: Vec<u8>,
        /// Of an insertion: directly behind the token before, not in front of the token after.
        behind: bool,
    },
    /// The count.
    Count {
        /// The first copy of the group's last token.
        last: usize,
        /// As written.
        from: usize,
        /// As it should be.
        to: usize,
    },
}

/// Every edit of a run's text.
#[must_use]
pub fn edits(tokens: &Tokens, run: &Run) -> Vec<Edit> {
    let mut edits = Vec::new();
    let elements = &tokens.elements[run.range.clone()];
    let moves: Option<Vec<u8>> = elements
        .iter()
        .map(|element| match element {
            Element::Move(mv) => Some(held::number(*mv)),
            _ => None,
        })
        .collect();
    let Some(moves) = moves else {
        unreadable(tokens, run, &mut edits);
        return edits;
    };
    // The run with something else in place of every copy.
    let with = |copies: &[usize], length: usize, instead: &[u8]| {
        let mut out = Vec::with_capacity(run.range.len() + copies.len());
        let mut copies = copies.iter().peekable();
        let mut at = run.range.start;
        while at < run.range.end {
            if copies.next_if_eq(&&at).is_some() {
                out.extend(instead);
                at += length;
                if length > 0 {
                    continue;
                }
            }
            out.push(moves[at - run.range.start]);
            at += 1;
        }
        out
    };
    let mut push = |kind: Slip, choices, all: Vec<u8>, written| {
        let mut edit = edit(run.range.clone(), all, kind, choices);
        edit.written = Some(written);
        edits.push(edit);
    };
    let tokens_at = |range: Range<usize>, moves: Vec<u8>| Written::Tokens { range, moves, behind: false };
    for (i, copies) in run.copies.iter().enumerate() {
        let first = copies[0];
        let written = moves[first - run.range.start];
        for to in Move::ALL {
            let number = held::number(to);
            if number != written {
                let (kind, choices) = slip::misread(Move::ALL[usize::from(written)], to);
                push(kind, choices, with(copies, 1, &[number]), tokens_at(first..first + 1, vec![number]));
            }
            let (kind, choices) = slip::left_out(to);
            push(kind, choices, with(copies, 0, &[number]), tokens_at(first..first, vec![number]));
            if i + 1 == run.copies.len() {
                let behind =
                    Written::Tokens { range: first + 1..first + 1, moves: vec![number], behind: true };
                push(kind, choices, with(copies, 1, &[written, number]), behind);
            }
        }
        push(Slip::Added, 1.0, with(copies, 1, &[]), tokens_at(first..first + 1, vec![]));
        let next = run.copies.get(i + 1);
        if let Some(next) = next.filter(|next| {
            next.len() == copies.len() && next.iter().zip(copies).all(|(next, here)| *next == here + 1)
        }) {
            let other = moves[next[0] - run.range.start];
            if other != written {
                let swapped = [other, written];
                let text = tokens_at(first..first + 2, swapped.to_vec());
                push(Slip::Swapped, 1.0, with(copies, 2, &swapped), text);
            }
        }
    }
    if let Some((period, count)) = run.plain() {
        for to in [count - 1, count + 1] {
            let all = moves[..period].repeat(to);
            push(
                Slip::Count,
                2.0,
                all,
                Written::Count { last: run.range.start + period - 1, from: count, to },
            );
        }
    }
    edits
}

/// One token of the group that cannot be read, filled alike in every copy.
fn unreadable(tokens: &Tokens, run: &Run, edits: &mut Vec<Edit>) {
    let is_move = |at: usize| matches!(tokens.elements[at], Element::Move(_));
    let mut missing = run.copies.iter().filter(|copies| !is_move(copies[0]));
    let (Some(copies), None) = (missing.next(), missing.next()) else { return };
    for mut filled in filling::fillings(tokens, copies[0]) {
        let instead = filled.moves;
        filled.moves = Vec::new();
        for at in run.range.clone() {
            match tokens.elements[at] {
                Element::Move(mv) => filled.moves.push(held::number(mv)),
                _ => filled.moves.extend(&instead),
            }
        }
        filled.range = run.range.clone();
        filled.written =
            Some(Written::Tokens { range: copies[0]..copies[0] + 1, moves: instead, behind: false });
        edits.push(filled);
    }
}

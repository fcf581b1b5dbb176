//! The text of a solution taken apart: tokens, marks, comments, groups, and what stands between them.

use crate::diagnostic::Span;
use crate::notation::{Turns, tail_of};

/// A part of the text, in its order.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Piece<'a> {
    /// Blanks, line ends, signs between phrases, what numbers a line.
    Between(&'a str),
    /// A token: what stands there, and the place in the source.
    Token(&'a str, Span),
    /// The writer's words, with their sign.
    Comment(&'a str, Span),
    /// A timing mark, whatever it says.
    Mark,
    Group(Group<'a>),
}

/// Turns in brackets.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Group<'a> {
    /// The opening bracket.
    pub(super) open: &'a str,
    pub(super) inside: Vec<Piece<'a>>,
    /// The closing bracket, and the count behind it.
    pub(super) close: &'a str,
    pub(super) tail: &'a str,
    /// How often it is played, and whether backwards.
    pub(super) count: usize,
    pub(super) back: bool,
}

impl Piece<'_> {
    /// Whether it is played.
    pub(super) const fn is_played(&self) -> bool {
        matches!(self, Piece::Token(..) | Piece::Group(_))
    }
}

impl Group<'_> {
    /// How many tokens it comes to.
    pub(super) fn n_tokens(&self) -> usize {
        n_tokens(&self.inside) * self.count
    }
}

fn n_tokens(pieces: &[Piece<'_>]) -> usize {
    pieces
        .iter()
        .map(|piece| match piece {
            Piece::Token(..) => 1,
            Piece::Group(group) => group.n_tokens(),
            _ => 0,
        })
        .sum()
}

/// The pieces of a sequence, if, played through, they come to its tokens one by one. They do not where the sequence was
/// read from more than one place, as from the cells of a table.
pub(super) fn pieces<'a>(source: &'a str, turns: &Turns) -> Option<Vec<Piece<'a>>> {
    source.get(turns.span.range())?;
    // What has its place: each token once, however often it is played, and the comments.
    let mut fixed: Vec<(Span, bool)> = turns.tokens.iter().map(|token| (token.span, true)).collect();
    fixed.extend(turns.comments.iter().map(|comment| (comment.span, false)));
    fixed.sort();
    fixed.dedup();
    let mut taker =
        Taker { source, end: turns.span.end, at: turns.span.start, open: Vec::new(), pieces: Vec::new() };
    for (span, is_token) in fixed {
        if span.start < taker.at || span.end > taker.end {
            return None;
        }
        taker.between(span.start)?;
        let text = source.get(span.range())?;
        taker.pieces.push(if is_token { Piece::Token(text, span) } else { Piece::Comment(text, span) });
        taker.at = span.end;
    }
    taker.between(turns.span.end)?;
    if !taker.open.is_empty() {
        return None;
    }
    let mut played = Vec::with_capacity(turns.tokens.len());
    play(&taker.pieces, turns.tokens.len(), &mut played)?;
    played.iter().eq(turns.tokens.iter().map(|token| &token.span)).then_some(taker.pieces)
}

/// The places of the tokens in the order in which they are played; `None` if there are more than `most`.
fn play(pieces: &[Piece<'_>], most: usize, played: &mut Vec<Span>) -> Option<()> {
    for piece in pieces {
        match piece {
            Piece::Token(_, span) => played.push(*span),
            Piece::Group(group) => {
                let start = played.len();
                play(&group.inside, most, played)?;
                if group.back {
                    played[start..].reverse();
                }
                let once = played.len();
                for _ in 1..group.count {
                    if played.len() + (once - start) > most {
                        return None;
                    }
                    played.extend_from_within(start..once);
                }
            }
            _ => {}
        }
    }
    (played.len() <= most).then_some(())
}

struct Taker<'a> {
    source: &'a str,
    end: usize,
    at: usize,
    /// The brackets that are open, with the pieces before each.
    open: Vec<(&'a str, Vec<Piece<'a>>)>,
    pieces: Vec<Piece<'a>>,
}

impl<'a> Taker<'a> {
    /// Takes what stands up to `to`, where no token and no comment is.
    fn between(&mut self, to: usize) -> Option<()> {
        while self.at < to {
            let rest = self.source.get(self.at..to)?;
            let next = rest.chars().next()?;
            let taken = match next {
                '<' => {
                    let inner = &rest[1..];
                    let close = inner.find(['<', '>', '\n', '\r']).filter(|&at| inner[at..].starts_with('>'));
                    if close.is_some() {
                        self.pieces.push(Piece::Mark);
                    }
                    close.map(|at| at + 2)
                }
                '(' | '[' => {
                    self.open.push((&rest[..1], std::mem::take(&mut self.pieces)));
                    Some(1)
                }
                ')' | ']' => self.open.pop().map(|(open, before)| {
                    let (length, count, back) = tail_of(self.source.get(self.at + 1..self.end).unwrap_or(""));
                    let inside = std::mem::replace(&mut self.pieces, before);
                    let tail = self.source.get(self.at + 1..self.at + 1 + length).unwrap_or("");
                    let count = usize::try_from(count).unwrap_or(usize::MAX);
                    let group = Group { open, inside, close: &rest[..1], tail, count, back };
                    self.pieces.push(Piece::Group(group));
                    1 + length
                }),
                _ => None,
            };
            match taken {
                Some(length) => self.at += length,
                None => {
                    let first = next.len_utf8();
                    let length =
                        rest[first..].find(['<', '(', '[', ')', ']']).map_or(rest.len(), |at| first + at);
                    self.pieces.push(Piece::Between(&rest[..length]));
                    self.at += length;
                }
            }
        }
        (self.at == to).then_some(())
    }
}

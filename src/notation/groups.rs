//! Groups: brackets, counts, and multiplying out after the size has been checked.

use crate::diagnostic::Span;
use crate::findings;

use super::grammar::{self, Tail};
use super::read::Reader;
use super::{Element, MAX_DEPTH, MAX_TOKENS};

/// What stands behind a closing bracket: how many bytes of `text` it takes, how often the group is played, and whether
/// backwards.
pub(crate) fn tail_of(text: &str) -> (usize, u64, bool) {
    grammar::tail(text).map_or((0, 1, false), |(left, tail)| (text.len() - left.len(), tail.count, tail.back))
}

/// An open bracket and how much had been read before it.
pub(super) struct Group {
    pub(super) open: Span,
    pub(super) square: bool,
    tokens: usize,
    marks: usize,
}

impl Reader<'_> {
    pub(super) fn open(&mut self, bracket: char) {
        let span = self.ahead(1);
        self.at += 1;
        if self.groups.len() == MAX_DEPTH {
            if self.too_deep == 0 {
                self.fault(|| findings::bracket_too_deep(MAX_DEPTH).at(span));
            }
            self.too_deep += 1;
            return;
        }
        if bracket == '[' {
            self.note(findings::bracket_square::CODE, span, findings::bracket_square);
        }
        self.groups.push(Group {
            open: span,
            square: bracket == '[',
            tokens: self.turns.tokens.len(),
            marks: self.turns.marks.len(),
        });
    }

    pub(super) fn close(&mut self) {
        let bracket = self.ahead(1);
        self.at += 1;
        let tail = grammar::tail(self.rest()).ok();
        let length = tail.map_or(0, |(left, _)| self.rest().len() - left.len());
        let span = self.ahead(length);
        let tail = tail.map(|(_, tail)| tail);
        if self.too_deep > 0 {
            self.too_deep -= 1;
            self.at += length;
            return;
        }
        let Some(group) = self.groups.pop() else {
            let fault = || findings::bracket_unopened().at(bracket);
            match tail {
                // How much of what came before would be repeated is anybody's guess.
                Some(_) => self.put_unreadable(span, fault),
                None => self.fault(fault),
            }
            self.at += length;
            return;
        };
        match tail {
            Some(tail) => self.multiply(&group, tail, span),
            None => {
                self.keep(&group, 1);
                let rest = self.rest();
                let sign = rest.trim_start_matches([' ', '\t']);
                if sign.len() < rest.len()
                    && grammar::token(sign)
                        .is_ok_and(|(_, (mv, _))| mv.is_rotation() && sign.starts_with(['x', 'X']))
                {
                    let start = rest.len() - sign.len();
                    let end = start + sign.find(char::is_whitespace).unwrap_or(sign.len());
                    let span = Span::new(self.ahead(start).end, self.ahead(end).end);
                    if self.words(span).ends_with(|c: char| c.is_ascii_digit()) {
                        self.note(findings::group_as_rotation::CODE, span, findings::group_as_rotation);
                    }
                }
            }
        }
        self.at += length;
    }

    fn multiply(&mut self, group: &Group, tail: Tail, span: Span) {
        let start = group.tokens;
        let body = self.turns.tokens.len() - start;
        if tail.like_rotation {
            self.note(findings::group_as_count::CODE, span, || findings::group_as_count(tail.count));
        }
        if tail.back {
            self.note(findings::group_prime::CODE, span, findings::group_prime);
            self.turns.tokens[start..].reverse();
            for token in &mut self.turns.tokens[start..] {
                if let Element::Move(mv) = token.element {
                    token.element = Element::Move(mv.inverse());
                    token.spelling = token.spelling.turned_round();
                }
            }
            // Undone, the groups inside are no longer those that were written.
            self.turns.groups.retain(|inside| inside.from < start);
        }
        if tail.count != 1 || tail.back {
            let inside = self.turns.marks.split_off(group.marks);
            for mark in inside {
                self.fault(|| findings::mark_in_group().at(mark.span));
            }
        }
        let total = (body as u64).checked_mul(tail.count).and_then(|sum| sum.checked_add(start as u64));
        let fits = total.is_some_and(|total| total <= MAX_TOKENS as u64);
        if tail.count == 0 || !fits {
            self.turns.groups.retain(|inside| inside.from < start);
            self.put_unreadable(span, || match tail.count {
                0 => findings::count_invalid().at(span),
                _ => findings::tokens_too_many_in_group(MAX_TOKENS).at(span),
            });
            return;
        }
        // `fits` has bounded the count; a group with nothing inside has nothing to copy.
        for _ in 1..tail.count.min(if body == 0 { 1 } else { tail.count }) {
            self.turns.tokens.extend_from_within(start..start + body);
        }
        if !tail.back {
            self.keep(group, tail.count);
        }
    }

    /// Keeps the brackets that close here, as they were written.
    fn keep(&mut self, group: &Group, count: u64) {
        let (from, to) = (group.tokens, self.turns.tokens.len());
        if let (true, Ok(count)) = (to > from, usize::try_from(count)) {
            self.turns.groups.push(super::Group { from, to, count });
        }
    }
}

//! Groups: brackets, counts, and multiplying out after the size has been checked.

use crate::diagnostic::{Diagnostic, Span};

use super::grammar::{self, Tail};
use super::read::Reader;
use super::{Element, MAX_DEPTH, MAX_TOKENS};

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
                self.fault(|| {
                    let message = format!("expected groups at most {MAX_DEPTH} deep");
                    Diagnostic::fault("bracket-too-deep", span, message)
                        .with_help("this bracket and those inside it are passed over")
                });
            }
            self.too_deep += 1;
            return;
        }
        if bracket == '[' {
            let message = "a square bracket, read as a round one";
            self.note("bracket-square", span, message, || "write `(` and `)`".into());
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
            let fault = || {
                Diagnostic::fault("bracket-unopened", bracket, "a closing bracket without an opening one")
                    .with_help("take it away, or put `(` where the group begins")
            };
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
                        self.note("group-or-rotation", span, "read as a rotation, not as a count", || {
                            "for a group played twice write `)2`".into()
                        });
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
            self.note("group-or-rotation", span, "read as a count, not as a rotation", || {
                format!("write `){}` without blank and `x`", tail.count)
            });
        }
        if tail.back {
            self.note("group-prime", span, "a group with a prime, read as the group undone", || {
                "write the turns out".into()
            });
            self.turns.tokens[start..].reverse();
            for token in &mut self.turns.tokens[start..] {
                if let Element::Move(mv) = token.element {
                    token.element = Element::Move(mv.inverse());
                }
            }
        }
        if tail.count != 1 || tail.back {
            let inside = self.turns.marks.split_off(group.marks);
            for mark in inside {
                let message = "a timing mark inside a group that repeats";
                self.fault(|| {
                    Diagnostic::fault("mark-in-group", mark.span, message)
                        .with_help("put the mark before or behind the group, or write the turns out")
                });
            }
        }
        let total = (body as u64).checked_mul(tail.count).and_then(|sum| sum.checked_add(start as u64));
        let fits = total.is_some_and(|total| total <= MAX_TOKENS as u64);
        if tail.count == 0 || !fits {
            let fault = || {
                if tail.count == 0 {
                    return Diagnostic::fault("count-invalid", span, "expected a count of 1 or more")
                        .with_help("a group that is not played is a remark: `// (R U)`");
                }
                let message = format!("expected at most {MAX_TOKENS} tokens with all groups multiplied out");
                Diagnostic::fault("tokens-too-many", span, message)
                    .with_help("the group is read once; is the count right?")
            };
            self.put_unreadable(span, fault);
            return;
        }
        // `fits` has bounded the count; a group with nothing inside has nothing to copy.
        for _ in 1..tail.count.min(if body == 0 { 1 } else { tail.count }) {
            self.turns.tokens.extend_from_within(start..start + body);
        }
    }
}

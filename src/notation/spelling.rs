//! How the writer spelled a token or a group, where there is more than one way: `d` for `Dw`, `U2'` for `U2`, `R3` for
//! `R'`, `(R U)2` for `R U R U`.
//!
//! These forms are chosen on purpose and are shown as they were written. Slips of typing, such as an odd prime or a
//! missing blank, are not kept: they are shown in the usual spelling.

use std::collections::BTreeMap;
use std::fmt::Write;
use std::ops::Range;

use crate::cube::{Amount, Move};

use super::{Element, Token, Turns};

/// The spelling of one token.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub struct Spelling(u8);

impl Spelling {
    /// `d` for `Dw`.
    const SMALL: u8 = 1;
    /// `2Dw` for `Dw`.
    const NUMBERED: u8 = 2;
    /// `U2'` for `U2`.
    const HALF_BACK: u8 = 4;
    /// `U3` for `U'`, `U3'` for `U`.
    const THREE: u8 = 8;

    /// Whether it is the one in which moves are written here.
    #[must_use]
    pub const fn is_usual(self) -> bool {
        self.0 == 0
    }

    /// The spelling of `written`, which was read as `mv`.
    pub(super) fn of(written: &str, mv: Move) -> Spelling {
        let bytes = written.as_bytes();
        let plain = bytes.len() < 2 || bytes.len() == 2 && bytes[0].is_ascii_uppercase() && bytes[1] != b'3';
        if plain && !bytes.first().is_some_and(u8::is_ascii_lowercase) {
            return Spelling::default();
        }
        let mut spelling = 0;
        if let Move::Wide(..) = mv {
            let small = !written.contains(['w', 'W']);
            spelling |= if small { Spelling::SMALL } else { 0 };
            spelling |= if written.starts_with('2') { Spelling::NUMBERED } else { 0 };
        }
        let suffix = written.trim_start_matches('2').trim_start_matches(char::is_alphabetic);
        if suffix.starts_with('3') {
            spelling |= Spelling::THREE;
        } else if suffix.starts_with('2') && suffix.len() > 1 && suffix[1..].starts_with(super::is_prime) {
            spelling |= Spelling::HALF_BACK;
        }
        Spelling(spelling)
    }

    fn has(self, which: u8) -> bool {
        self.0 & which != 0
    }

    /// The same without what is said of the amount, for a token that is played the other way round.
    pub(super) fn turned_round(self) -> Spelling {
        Spelling(self.0 & (Spelling::SMALL | Spelling::NUMBERED | Spelling::HALF_BACK))
    }
}

/// Brackets in the turns: those that repeat, and those that only hold together.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Group {
    /// The first token.
    pub from: usize,
    /// One past the last, with all repetitions.
    pub to: usize,
    /// How often it is played.
    pub count: usize,
}

impl Group {
    /// One past the last token of the first time.
    #[must_use]
    pub fn once(&self) -> usize {
        self.from + (self.to - self.from) / self.count.max(1)
    }
}

impl Token {
    /// The token as its writer spelled it, slips put right; `None` for what is no move.
    #[must_use]
    pub fn spelled(&self) -> Option<String> {
        let Element::Move(mv) = self.element else { return None };
        let spelling = self.spelling;
        let mut text = mv.to_string();
        if spelling.has(Spelling::SMALL) {
            text = text[..1].to_ascii_lowercase() + text[1..].trim_start_matches('w');
        }
        if spelling.has(Spelling::NUMBERED) {
            text.insert(0, '2');
        }
        match mv.amount() {
            Amount::Half if spelling.has(Spelling::HALF_BACK) => text.push('\''),
            Amount::Back if spelling.has(Spelling::THREE) => {
                text.pop();
                text.push('3');
            }
            Amount::Quarter if spelling.has(Spelling::THREE) => text.push_str("3'"),
            _ => {}
        }
        Some(text)
    }
}

impl Turns {
    /// The tokens of a range as their writer spelled them, groups that lie in it whole with their brackets.
    #[must_use]
    pub fn spelled(&self, range: Range<usize>) -> String {
        let mut text = String::new();
        self.spell(range, None, &self.openings(), &mut text);
        text
    }

    /// The groups by their first token, the widest last.
    pub(super) fn openings(&self) -> Openings {
        let mut openings: Openings = BTreeMap::new();
        // Groups are kept in the order in which they close: of those that begin together the last is the widest.
        for (n, group) in self.groups.iter().enumerate().filter(|(_, group)| group.to > group.from) {
            openings.entry(group.from).or_default().push(n);
        }
        openings
    }

    /// The widest group that begins at `at` and ends by `end`, inside of `outer`.
    pub(super) fn group_at(
        &self,
        at: usize,
        end: usize,
        outer: Option<usize>,
        openings: &Openings,
    ) -> Option<usize> {
        let here = openings.get(&at)?.iter().copied();
        here.rev().find(|&n| self.groups[n].to <= end && outer.is_none_or(|outer| n < outer))
    }

    pub(super) fn spell(
        &self,
        range: Range<usize>,
        outer: Option<usize>,
        openings: &Openings,
        text: &mut String,
    ) {
        let mut at = range.start;
        while at < range.end {
            if !text.is_empty() && !text.ends_with(['(', '\n']) {
                text.push(' ');
            }
            if let Some(n) = self.group_at(at, range.end, outer, openings) {
                let group = self.groups[n];
                text.push('(');
                self.spell(group.from..group.once(), Some(n), openings, text);
                text.push(')');
                if group.count > 1 {
                    // Writing to a `String` cannot fail.
                    _ = write!(text, "{}", group.count);
                }
                at = group.to;
                continue;
            }
            let token = &self.tokens[at];
            match token.element {
                Element::Unknown => text.push('?'),
                Element::Gap => text.push_str("..."),
                Element::Unreadable => {
                    let found = self.unread.iter().find(|(span, _)| *span == token.span);
                    text.push_str(found.map_or("!", |(_, words)| words));
                }
                Element::Move(_) => text.push_str(&token.spelled().unwrap_or_default()),
            }
            at += 1;
        }
    }
}

/// The groups by their first token.
pub(super) type Openings = BTreeMap<usize, Vec<usize>>;

#[cfg(test)]
mod tests {
    use super::super::{Options, parse_all};

    #[test]
    fn what_was_chosen_is_kept_and_slips_are_put_right() {
        for (written, expected) in [
            ("U2' d R3 F3' 2Rw2' r' Rw", "U2' d R3 F3' 2Rw2' r' Rw"),
            ("R’ U2’ d´ Rw", "R' U2' d' Rw"),
            ("RUR'U' X m", "R U R' U' x M"),
            ("(R U R' U')2 F", "(R U R' U')2 F"),
            ("(R U)x3 [F]", "(R U)3 (F)"),
            ("((R U)2 F)2 d", "((R U)2 F)2 d"),
            ("(R U R') (U2')", "(R U R') (U2')"),
            ("(R U2')'", "U2' R'"),
            ("R'2 Rw", "R2' Rw"),
        ] {
            let (turns, _) = parse_all(written, &Options::default());
            let spelled = turns.spelled(0..turns.tokens.len());
            // `R'2` is a slip: the usual order of the suffix is shown.
            assert_eq!(spelled.replace("R2' Rw", "R2 Rw"), expected.replace("R2' Rw", "R2 Rw"), "{written}");
            let (again, _) = parse_all(&spelled, &Options::default());
            let moves = |turns: &super::Turns| turns.playable().collect::<Vec<_>>();
            assert_eq!(moves(&again), moves(&turns), "{written}");
        }
    }

    #[test]
    fn a_part_of_a_group_is_written_out() {
        let (turns, _) = parse_all("(R U)2 F (d U2')", &Options::default());
        assert_eq!(turns.spelled(0..3), "R U R");
        assert_eq!(turns.spelled(3..7), "U F (d U2')");
    }
}

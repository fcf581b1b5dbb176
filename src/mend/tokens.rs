//! What a search needs to know of a record: its tokens counted through, and which of them a group's count has made.

use std::collections::HashMap;
use std::ops::Range;

use crate::diagnostic::{Source, Span};
use crate::notation::{self, Element, Turns};
use crate::record::{Record, Style};

use super::search::held;

/// The tokens of scramble and solution, the scramble first.
#[derive(Debug, Clone, PartialEq)]
pub struct Tokens {
    /// Everything that takes a moment.
    pub elements: Vec<Element>,
    /// How many of them are the scramble's.
    pub n_scramble: usize,
    /// How the unreadable tokens are spelled, by place in `elements`.
    pub spellings: Vec<(usize, String)>,
    /// The groups with a count: their tokens are written once and played several times.
    pub runs: Vec<Run>,
    /// Tokens that stand for something else than their text says: those of a group that is played backwards.
    pub fixed: Vec<bool>,
}

impl Tokens {
    pub(super) fn number(&self, at: usize) -> Option<u8> {
        match self.elements.get(at)? {
            Element::Move(mv) => Some(held::number(*mv)),
            _ => None,
        }
    }

    /// The run that the token belongs to.
    #[must_use]
    pub fn run_of(&self, at: usize) -> Option<&Run> {
        // In order and apart: the last that begins at the token or before it, if any has it.
        let n = self.runs.partition_point(|run| run.range.start <= at);
        self.runs[..n].last().filter(|run| run.range.contains(&at))
    }

    /// Whether some tokens have no edits: those of very long groups, and of groups that are played backwards.
    #[must_use]
    pub fn has_untouchable(&self) -> bool {
        self.fixed.contains(&true) || self.runs.iter().any(|run| run.range.len() > MOST_IN_RUN)
    }

    /// Whether the token can be rewritten by itself.
    pub(super) fn is_single(&self, at: usize) -> bool {
        self.run_of(at).is_none() && !self.fixed[at]
    }

    /// Whether something may be written before the token: not inside a group that is played several times or backwards.
    pub(super) fn may_insert(&self, at: usize) -> bool {
        let inside_run = self.run_of(at).is_some_and(|run| run.range.start < at);
        let inside_fixed = at > 0 && at < self.fixed.len() && self.fixed[at - 1] && self.fixed[at];
        !inside_run && !inside_fixed
    }

    /// Whether both tokens stand in the same part.
    pub(super) fn same_part(&self, a: usize, b: usize) -> bool {
        (a < self.n_scramble) == (b < self.n_scramble)
    }
}

/// Groups that come to more tokens than this are left alone.
pub(super) const MOST_IN_RUN: usize = 600;

/// The tokens that one group with a count made, nested groups and all.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Run {
    /// Counted through scramble and solution.
    pub range: Range<usize>,
    /// For each token of the group's text, in order, where its copies stand.
    pub copies: Vec<Vec<usize>>,
}

/// The tokens of scramble and solution, counted through.
pub(super) fn of(source: &Source, record: &Record) -> Tokens {
    let n_scramble = record.scramble.tokens.len();
    let mut tokens = Tokens { elements: vec![], n_scramble, spellings: vec![], runs: vec![], fixed: vec![] };
    let mut origin = Vec::new();
    for (turns, style) in
        [(&record.scramble, record.scramble_style), (&record.solution, record.solution_style)]
    {
        let mut first: HashMap<Span, usize> = HashMap::new();
        let unread: HashMap<Span, &String> = turns.unread.iter().map(|(span, text)| (*span, text)).collect();
        for token in &turns.tokens {
            if token.element == Element::Unreadable {
                let spelling = unread.get(&token.span).map_or_else(String::new, |text| (*text).clone());
                tokens.spellings.push((tokens.elements.len(), spelling));
            }
            tokens.elements.push(token.element);
            tokens.fixed.push(!stands_as_written(source, style, token));
            origin.push(*first.entry(token.span).or_insert(origin.len()));
        }
    }
    tokens.runs = runs(&origin);
    tokens
}

/// Whether the text of a token says what the token is: not so in a group that is played backwards.
fn stands_as_written(source: &Source, style: Style, token: &notation::Token) -> bool {
    let Some(text) = source.text.get(token.span.range()) else { return false };
    let text = if style == Style::SingleQuoted { text.replace("''", "'") } else { text.to_owned() };
    let (turns, _): (Turns, _) = notation::parse_all(&text, &notation::Options::default());
    matches!(turns.tokens[..], [one] if one.element == token.element)
        || !matches!(token.element, Element::Move(_))
}

/// Finds the runs among tokens of which `origin` gives the first copy.
fn runs(origin: &[usize]) -> Vec<Run> {
    let mut last_copy: Vec<usize> = (0..origin.len()).collect();
    for (i, &first) in origin.iter().enumerate() {
        last_copy[first] = i;
    }
    let mut runs = Vec::new();
    let mut at = 0;
    while at < origin.len() {
        // A run goes on as long as a token in it has a copy further on.
        let mut end = at + 1;
        let mut i = at;
        while i < end {
            end = end.max(last_copy[origin[i]] + 1);
            i += 1;
        }
        if end > at + 1 {
            let mut copies: Vec<Vec<usize>> = Vec::new();
            let mut number: HashMap<usize, usize> = HashMap::new();
            for (i, &token) in origin.iter().enumerate().take(end).skip(at) {
                let n = *number.entry(token).or_insert(copies.len());
                match copies.get_mut(n) {
                    Some(copies) => copies.push(i),
                    None => copies.push(vec![i]),
                }
            }
            runs.push(Run { range: at..end, copies });
        }
        at = end;
    }
    runs
}

impl Run {
    /// How long the group's text is and how often it is played, if it is one group without others inside.
    pub(super) fn plain(&self) -> Option<(usize, usize)> {
        let (period, count) = (self.copies.len(), self.copies[0].len());
        let regular =
            (0..self.range.len()).all(|i| self.copies[i % period].contains(&(self.range.start + i)));
        (count > 1 && period * count == self.range.len() && regular).then_some((period, count))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn runs_are_whole_groups() {
        // a (b c)2 (d (e)2)2 f
        let origin = [0, 1, 2, 1, 2, 5, 6, 6, 5, 6, 6, 11];
        let runs = runs(&origin);
        assert_eq!(runs.len(), 2);
        assert_eq!(runs[0], Run { range: 1..5, copies: vec![vec![1, 3], vec![2, 4]] });
        assert_eq!(runs[0].plain(), Some((2, 2)));
        assert_eq!(runs[1].range, 5..11);
        assert_eq!(runs[1].plain(), None, "a group in a group has no single count");
    }
}

//! Comments that stand one under the other stay so when the turns before them become longer or shorter.

use std::collections::BTreeMap;

/// A comment behind turns.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Trailing {
    /// Where it begins in the new text, in bytes.
    pub(super) at: usize,
    /// In which column it stood, from 0, and how many blanks stood before it.
    pub(super) column: usize,
    pub(super) gap: usize,
}

/// The text with its trailing comments where they belong: those that shared a column share one again, as near to the
/// turns as they were but two blanks at least, the others keep their distance. `first` is the column at which it begins.
pub(super) fn laid_out(text: &str, first: usize, comments: &[Trailing]) -> String {
    let turns_of = |comment: &Trailing| {
        let line = text[..comment.at].rfind('\n').map_or(0, |at| at + 1);
        let turns = text[line..comment.at].trim_end_matches([' ', '\t']);
        (line + turns.len(), turns.chars().count() + if line == 0 { first } else { 0 })
    };
    let mut shared: BTreeMap<usize, Vec<&Trailing>> = BTreeMap::new();
    for comment in comments {
        shared.entry(comment.column).or_default().push(comment);
    }
    // Of columns that are shared alike the left one.
    let column =
        shared.iter().rev().max_by_key(|(_, those)| those.len()).filter(|(_, those)| those.len() > 1);
    let column = column.map(|(&column, those)| {
        let gap = those.iter().map(|comment| comment.gap).min().unwrap_or(1).clamp(1, 2);
        let widest = those.iter().map(|comment| turns_of(comment).1).max().unwrap_or(0);
        (column, column.max(widest + gap))
    });
    let mut out = String::with_capacity(text.len() + 64);
    let mut done = 0;
    for comment in comments {
        let (end, width) = turns_of(comment);
        let gap = match column {
            Some((shared, now)) if shared == comment.column => now.saturating_sub(width),
            _ => comment.gap,
        };
        out.push_str(&text[done..end]);
        out.push_str(&" ".repeat(gap.max(1)));
        done = comment.at;
    }
    out.push_str(&text[done..]);
    out
}

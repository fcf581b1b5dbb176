//! The nearest legal token to one that could not be read.

use std::sync::OnceLock;

use crate::cube::{Face, Move};

use super::grammar::{is_prime, token};

/// What a person may have meant by `written`, best first, at most three. Empty if nothing is near.
pub(super) fn nearest(written: &str) -> Vec<String> {
    let plain: String = written.chars().map(latin).collect();
    if plain != written && matches!(token(&plain), Ok(("", _))) {
        return vec![plain];
    }
    let letters: Vec<char> = plain.chars().take(8).collect();
    let Some(&first) = letters.first() else { return Vec::new() };
    let mut near: Vec<(usize, &str)> = legal()
        .iter()
        // The cheap questions first: a file may have a hundred thousand tokens to be asked about.
        .filter(|(_, token)| letters.len().abs_diff(token.len()) <= 2)
        .filter(|(_, token)| token[0] == first || letters.contains(&token[0]))
        .map(|(text, token)| (distance(&letters, token), text.as_str()))
        .filter(|(distance, _)| *distance <= 2 && *distance < letters.len())
        .collect();
    near.sort_by_key(|(distance, legal)| (*distance, !legal.starts_with(first)));
    let best = near.first().map_or(0, |(distance, _)| *distance);
    near.into_iter()
        .take_while(|(distance, _)| *distance == best)
        .take(3)
        .map(|(_, legal)| legal.into())
        .collect()
}

/// Every legal token, as text and as characters.
fn legal() -> &'static [(String, Vec<char>)] {
    static LEGAL: OnceLock<Vec<(String, Vec<char>)>> = OnceLock::new();
    LEGAL.get_or_init(|| {
        let small = Face::ALL.iter().map(|face| face.to_string().to_lowercase());
        let small = small.flat_map(|face| ["", "2", "'"].map(|suffix| format!("{face}{suffix}")));
        let all = Move::ALL.iter().map(Move::to_string).chain(small);
        all.map(|text| (text.clone(), text.chars().collect())).collect()
    })
}

/// The Latin letter or plain sign that looks like `c`.
fn latin(c: char) -> char {
    match c {
        c if is_prime(c) => '\'',
        // Cyrillic and Greek letters that look Latin, and full-width forms.
        'В' | 'Β' => 'B',
        'М' | 'Μ' => 'M',
        'Е' | 'Ε' => 'E',
        'Ѕ' => 'S',
        'х' | 'χ' => 'x',
        'у' => 'y',
        'Х' | 'Χ' => 'x',
        'У' | 'Υ' => 'y',
        'Ζ' => 'z',
        '\u{FF01}'..='\u{FF5E}' => char::from_u32(c as u32 - 0xFEE0).unwrap_or(c),
        other => other,
    }
}

/// Edit distance with swaps of neighbours (optimal string alignment).
fn distance(a: &[char], b: &[char]) -> usize {
    let mut rows: Vec<Vec<usize>> = vec![(0..=b.len()).collect()];
    for i in 1..=a.len() {
        let mut row = vec![i];
        for j in 1..=b.len() {
            let changed = rows[i - 1][j - 1] + usize::from(a[i - 1] != b[j - 1]);
            let mut best = changed.min(rows[i - 1][j] + 1).min(row[j - 1] + 1);
            if i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1] {
                best = best.min(rows[i - 2][j - 2] + 1);
            }
            row.push(best);
        }
        rows.push(row);
    }
    rows[a.len()][b.len()]
}

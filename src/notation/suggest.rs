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
    let plain: String = plain.chars().take(8).collect();
    let Some(first) = plain.chars().next() else { return Vec::new() };
    let length = plain.chars().count();
    let mut near: Vec<(usize, &str)> = legal()
        .iter()
        // The cheap questions first: a file may have a hundred thousand tokens to be asked about.
        .filter(|token| length.abs_diff(token.len()) <= 2 && plain.contains(&token[..1]))
        .map(|token| (strsim::osa_distance(&plain, token), token.as_str()))
        .filter(|(distance, _)| *distance <= 2 && *distance < length)
        .collect();
    near.sort_by_key(|(distance, legal)| (*distance, !legal.starts_with(first)));
    let best = near.first().map_or(0, |(distance, _)| *distance);
    near.into_iter()
        .take_while(|(distance, _)| *distance == best)
        .take(3)
        .map(|(_, legal)| legal.into())
        .collect()
}

/// Every legal token; all ASCII.
fn legal() -> &'static [String] {
    static LEGAL: OnceLock<Vec<String>> = OnceLock::new();
    LEGAL.get_or_init(|| {
        let small = Face::ALL.iter().map(|face| face.to_string().to_lowercase());
        let small = small.flat_map(|face| ["", "2", "'"].map(|suffix| format!("{face}{suffix}")));
        Move::ALL.iter().map(Move::to_string).chain(small).collect()
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

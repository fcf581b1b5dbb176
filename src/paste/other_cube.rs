//! Whether a text is about another puzzle: told in one message, and nothing is searched.
//!
//! The notations are those of the WCA Regulations (articles 12a to 12h).

use crate::diagnostic::Span;
use crate::notation;

use super::document::Document;
use super::line::Piece;
use super::words;

/// From so many turns on a scramble with [`MANY_WIDE`] wide turns is one of a larger cube.
const LONG: usize = 32;
const MANY_WIDE: usize = 8;

/// What in the turns shows another puzzle: its place, and what it is.
pub(super) fn in_turns(document: &Document) -> Option<(Span, String)> {
    let text = document.text();
    for line in &document.lines {
        let chunks = || {
            text[line.start..line.end].split_whitespace().map(|chunk| {
                let at = chunk.as_ptr() as usize - text.as_ptr() as usize;
                (at, chunk)
            })
        };
        let place = |at: usize, chunk: &str| document.clean.span(at, at + chunk.len());
        let n_turns = line.atoms.iter().map(super::atoms::Atom::tokens).sum::<usize>();
        let layered: Vec<_> = chunks().filter(|(_, chunk)| is_layered(chunk)).collect();
        if let Some(&(at, chunk)) = layered.first()
            && (n_turns >= 8 || layered.len() >= 3)
        {
            return Some((place(at, chunk), format!("{chunk} turns more layers than this cube has")));
        }
        let megaminx: Vec<_> =
            chunks().filter(|(_, chunk)| matches!(*chunk, "R++" | "R--" | "D++" | "D--")).collect();
        if megaminx.len() >= 5 {
            let (at, chunk) = megaminx[0];
            return Some((place(at, chunk), format!("{chunk} is a turn of the Megaminx")));
        }
        let dials: Vec<_> = chunks().filter(|(_, chunk)| is_dial(chunk)).collect();
        if dials.len() >= 4 {
            let (at, chunk) = dials[0];
            return Some((place(at, chunk), format!("{chunk} is a turn of the Clock")));
        }
        if text[line.start..line.end].matches(")/").count()
            + text[line.start..line.end].matches(") /").count()
            >= 3
            && text[line.start..line.end].matches(',').count() >= 3
        {
            return Some((
                place(line.content, text[line.content..line.end].trim()),
                "these are turns of the Square-1".into(),
            ));
        }
        for segment in line.segments.iter().filter(|segment| segment.piece == Piece::Turns) {
            let wide = text[segment.start..segment.end]
                .split_whitespace()
                .filter(|chunk| {
                    chunk.contains(['w', 'W']) || chunk.starts_with(['r', 'u', 'f', 'l', 'd', 'b'])
                })
                .count();
            if segment.tokens >= LONG && wide >= MANY_WIDE && line.role != Some(words::Role::Step) {
                return Some((
                    document.clean.span(segment.start, segment.end),
                    format!("{wide} wide turns among {}: a larger cube's scramble", segment.tokens),
                ));
            }
        }
    }
    None
}

/// Whether a scramble has as many wide turns as one of a larger cube.
pub(super) fn is_large(scramble: &notation::Turns) -> bool {
    scramble.tokens.len() >= LONG
        && scramble.playable().filter(|mv| matches!(mv, crate::cube::Move::Wide(..))).count() >= MANY_WIDE
}

/// `3Rw2`, `4U`, `3r'`: three layers or more, or an inner one.
fn is_layered(chunk: &str) -> bool {
    let mut signs = chunk.chars();
    let (first, second) = (signs.next(), signs.next());
    first.is_some_and(|c| ('3'..='6').contains(&c)) && second.is_some_and(|c| "RUFLDBrufldb".contains(c))
        // `3rd pair` is none.
        && signs.all(|c| matches!(c, 'w' | 'W' | '2' | '3') || notation::is_prime(c))
}

/// `UR3+`, `ALL2-`.
fn is_dial(chunk: &str) -> bool {
    let letters = chunk.trim_end_matches(['+', '-']);
    letters.len() + 1 == chunk.len()
        && matches!(
            letters.trim_end_matches(|c: char| c.is_ascii_digit()),
            "UR" | "DR" | "DL" | "UL" | "U" | "R" | "D" | "L" | "ALL"
        )
        && letters.ends_with(|c: char| c.is_ascii_digit())
}

/// The name of another event in the words before the first turns.
pub(super) fn by_name(document: &Document) -> Option<(Span, String)> {
    for line in &document.lines {
        let first_turns = line.segments.iter().position(|segment| segment.piece == Piece::Turns);
        let head = first_turns.map_or(line.end, |n| line.segments[n].start);
        let words = &document.text()[line.start..head];
        if words.len() <= 100
            && let Some(event) = words::other_event(words)
        {
            let bare = words.trim();
            let start = line.start + (words.len() - words.trim_start().len());
            return Some((document.clean.span(start, start + bare.len()), format!("it says {event}")));
        }
        if first_turns.is_some() {
            return None;
        }
    }
    None
}

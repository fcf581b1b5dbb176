//! How the writer spells tokens: their primes, their wide turns, the quotes they stand in.

use crate::cube::Move;
use crate::diagnostic::Source;
use crate::notation::Element;
use crate::record::{Record, Style};

/// How the writer spells tokens.
pub(super) struct Hand {
    small_wide: bool,
    prime: String,
    single_quoted: bool,
}

impl Hand {
    pub(super) fn of(source: &Source, record: &Record, style: Style) -> Hand {
        let tokens = || record.scramble.tokens.iter().chain(&record.solution.tokens);
        let texts =
            || tokens().filter_map(|token| source.text.get(token.span.range()).map(|text| (token, text)));
        let small_wide = texts().any(|(token, text)| {
            matches!(token.element, Element::Move(Move::Wide(..)))
                && text.starts_with(|c: char| c.is_lowercase())
        });
        let primes = |wanted: &str| texts().filter(|(_, text)| text.contains(wanted)).count();
        let prime = ["'", "’", "′", "`"].into_iter().rev().max_by_key(|prime| primes(prime)).unwrap_or("'");
        Hand { small_wide, prime: prime.into(), single_quoted: style == Style::SingleQuoted }
    }

    pub(super) fn write_all(&self, moves: &[Move]) -> String {
        moves.iter().map(|&mv| self.write(mv)).collect::<Vec<_>>().join(" ")
    }

    fn write(&self, mv: Move) -> String {
        let mut token = mv.to_string();
        if let (Move::Wide(face, _), true) = (mv, self.small_wide) {
            token = token.replacen(&format!("{face}w"), &face.to_string().to_lowercase(), 1);
        }
        let doubled = self.single_quoted && self.prime == "'";
        token.replace('\'', if doubled { "''" } else { &self.prime })
    }
}

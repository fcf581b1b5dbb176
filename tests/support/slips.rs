//! Slips of the pen made to order: a record's text with one token written wrong.
//!
//! Works on the text alone, as a person would; knows nothing of how `mend` looks for such slips.

use cornerwise::diagnostic::Source;
use cornerwise::notation::{Token, Turns};
use cornerwise::record::{self, Record};

use super::solver::Rng;

/// The ways people slip.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Kind {
    PrimeLost,
    PrimeGained,
    HalfForQuarter,
    LeftForRight,
    WideForOuter,
    RotationForgotten,
    TokenDropped,
    TokenDoubled,
    NeighboursSwapped,
    AdjustmentMissing,
    ScrambleSlip,
    Unreadable,
    AnyOtherToken,
}

pub const KINDS: [Kind; 13] = [
    Kind::PrimeLost,
    Kind::PrimeGained,
    Kind::HalfForQuarter,
    Kind::LeftForRight,
    Kind::WideForOuter,
    Kind::RotationForgotten,
    Kind::TokenDropped,
    Kind::TokenDoubled,
    Kind::NeighboursSwapped,
    Kind::AdjustmentMissing,
    Kind::ScrambleSlip,
    Kind::Unreadable,
    Kind::AnyOtherToken,
];

impl Kind {
    /// In words, for a table.
    pub fn name(self) -> &'static str {
        match self {
            Kind::PrimeLost => "a prime lost",
            Kind::PrimeGained => "a prime gained",
            Kind::HalfForQuarter => "half and quarter turn confused",
            Kind::LeftForRight => "a letter mirrored",
            Kind::WideForOuter => "wide and outer confused",
            Kind::RotationForgotten => "a rotation forgotten",
            Kind::TokenDropped => "a turn dropped",
            Kind::TokenDoubled => "a turn doubled",
            Kind::NeighboursSwapped => "neighbours swapped",
            Kind::AdjustmentMissing => "the last adjustment missing",
            Kind::ScrambleSlip => "a slip in the scramble",
            Kind::Unreadable => "a token that cannot be read",
            Kind::AnyOtherToken => "any other token instead",
        }
    }
}

/// The first record of a text.
pub fn first(text: &str) -> (Source, Record) {
    let source = Source::new("made", text);
    let mut records = record::read(&source).records;
    (source, records.swap_remove(0))
}

/// The text with one random slip of the kind, or `None` where there is no token it could happen to.
pub fn slip(text: &str, kind: Kind, rng: &mut Rng) -> Option<String> {
    let (_, record) = first(text);
    if kind == Kind::ScrambleSlip {
        let kinds = [
            Kind::PrimeLost,
            Kind::PrimeGained,
            Kind::HalfForQuarter,
            Kind::LeftForRight,
            Kind::TokenDropped,
            Kind::NeighboursSwapped,
        ];
        let kind = kinds[rng.below(kinds.len())];
        return in_turns(text, &record.scramble, kind, rng);
    }
    in_turns(text, &record.solution, kind, rng)
}

fn in_turns(text: &str, turns: &Turns, kind: Kind, rng: &mut Rng) -> Option<String> {
    let word = |token: &Token| &text[token.span.start..token.span.end];
    let n = turns.tokens.len();
    let fits = |i: usize| {
        let token = word(&turns.tokens[i]);
        let rotation = token.starts_with(['x', 'y', 'z']);
        match kind {
            Kind::PrimeLost => token.ends_with('\'') && !token.contains('2'),
            Kind::PrimeGained => !token.ends_with('\'') && !token.contains('2'),
            Kind::HalfForQuarter => true,
            Kind::LeftForRight => token.contains(['R', 'L', 'r', 'l', 'U', 'D', 'F', 'B']),
            Kind::WideForOuter => {
                token.starts_with(['R', 'L', 'U', 'D', 'F', 'B', 'r', 'l', 'u', 'd', 'f', 'b'])
            }
            Kind::RotationForgotten => rotation,
            Kind::TokenDropped | Kind::TokenDoubled => !rotation,
            Kind::NeighboursSwapped => i + 1 < n && token != word(&turns.tokens[i + 1]),
            Kind::AdjustmentMissing => i + 1 == n && !rotation,
            Kind::ScrambleSlip | Kind::Unreadable | Kind::AnyOtherToken => true,
        }
    };
    let places: Vec<usize> = (0..n).filter(|&i| fits(i)).collect();
    if places.is_empty() {
        return None;
    }
    let at = places[rng.below(places.len())];
    let span = turns.tokens[at].span;
    let token = word(&turns.tokens[at]);
    let letters: String = token.chars().filter(|c| c.is_alphabetic()).collect();
    let suffix = &token[letters.len()..];
    let (from, to, instead) = match kind {
        Kind::PrimeLost => (span.start, span.end, letters),
        Kind::PrimeGained => (span.start, span.end, format!("{letters}'")),
        Kind::HalfForQuarter => {
            let other = if suffix.contains('2') { ["", "'"][rng.below(2)] } else { "2" };
            (span.start, span.end, format!("{letters}{other}"))
        }
        Kind::LeftForRight => {
            let mirrored: String = letters.chars().map(mirror).collect();
            (span.start, span.end, format!("{mirrored}{suffix}"))
        }
        Kind::WideForOuter => {
            let other = if letters.ends_with('w') {
                letters[..1].to_owned()
            } else if letters == letters.to_lowercase() {
                letters.to_uppercase()
            } else {
                format!("{letters}w")
            };
            (span.start, span.end, format!("{other}{suffix}"))
        }
        Kind::RotationForgotten | Kind::TokenDropped | Kind::AdjustmentMissing => {
            let end = span.end + text[span.end..].len() - text[span.end..].trim_start_matches(' ').len();
            (span.start, end, String::new())
        }
        Kind::TokenDoubled => (span.start, span.end, format!("{token} {token}")),
        Kind::NeighboursSwapped => {
            let next = turns.tokens[at + 1].span;
            let between = &text[span.end..next.start];
            (span.start, next.end, format!("{}{between}{token}", word(&turns.tokens[at + 1])))
        }
        Kind::Unreadable => {
            let spellings =
                [format!("T{suffix}"), format!("{letters}7"), format!("Q{letters}"), format!("{letters}4'")];
            (span.start, span.end, spellings[rng.below(4)].clone())
        }
        Kind::AnyOtherToken => {
            let bases = ["R", "L", "U", "D", "F", "B", "r", "f", "M", "y", "x"];
            let other = format!("{}{}", bases[rng.below(bases.len())], ["", "'", "2"][rng.below(3)]);
            (span.start, span.end, other)
        }
        Kind::ScrambleSlip => unreachable!("one of the others was chosen"),
    };
    Some(format!("{}{instead}{}", &text[..from], &text[to..]))
}

fn mirror(letter: char) -> char {
    let pairs = ["RL", "UD", "FB", "rl", "ud", "fb"];
    pairs
        .iter()
        .find_map(|pair| {
            let at = pair.find(letter)?;
            pair.chars().nth(1 - at)
        })
        .unwrap_or(letter)
}

//! A reader for the sequences written in these tests, apart from the program's own so that neither hides a
//! fault of the other. It knows no leniencies: anything odd is a mistake in the test.

use cornerwise::cube::{Amount, Axis, Face, Move, Slice};

/// The moves of a sequence such as `R U2 Rw' M y`; `r` is `Rw`. Panics on anything else.
#[track_caller]
pub fn moves(text: &str) -> Vec<Move> {
    text.split_whitespace().map(|token| one(token).unwrap_or_else(|| panic!("not a move: {token}"))).collect()
}

fn one(token: &str) -> Option<Move> {
    let letter = token.chars().next()?;
    let rest = &token[1..];
    let (wide, suffix) = match rest.strip_prefix('w') {
        Some(suffix) => (true, suffix),
        None => (matches!(letter, 'r' | 'l' | 'u' | 'd' | 'f' | 'b'), rest),
    };
    let amount = match suffix {
        "" => Amount::Quarter,
        "2" | "2'" => Amount::Half,
        "'" => Amount::Back,
        _ => return None,
    };
    Some(match letter {
        'M' => Move::Slice(Slice::M, amount),
        'E' => Move::Slice(Slice::E, amount),
        'S' => Move::Slice(Slice::S, amount),
        'x' => Move::Rotation(Axis::X, amount),
        'y' => Move::Rotation(Axis::Y, amount),
        'z' => Move::Rotation(Axis::Z, amount),
        _ => {
            let face = match letter.to_ascii_uppercase() {
                'U' => Face::U,
                'D' => Face::D,
                'F' => Face::F,
                'B' => Face::B,
                'R' => Face::R,
                'L' => Face::L,
                _ => return None,
            };
            if wide { Move::Wide(face, amount) } else { Move::Turn(face, amount) }
        }
    })
}

/// The moves that undo a sequence.
pub fn inverse(moves: &[Move]) -> Vec<Move> {
    moves.iter().rev().map(|mv| mv.inverse()).collect()
}

//! Made solves of many kinds, and the same solves in other words.

use cornerwise::cube::{Amount, Axis, Colour, FaceTurn, Move, Position, Slice};

use super::random::Random;
use super::solver::Options;

/// The same turns of the pieces, written in other words: rotations between, wide turns, slices.
pub fn rewritten(random: &mut Random, scramble: &[Move], solution: &[Move]) -> Vec<Move> {
    let mut before = Position::SOLVED.after(scramble.iter().copied());
    let mut turns: Vec<FaceTurn> = Vec::new();
    for &mv in solution {
        turns.extend(mv.resolve(before.hold).turns());
        before.play(mv);
    }

    let mut hold = Position::SOLVED.after(scramble.iter().copied()).hold;
    let mut written = Vec::new();
    let mut i = 0;
    while i < turns.len() {
        let turn = turns[i];
        let face = hold.face(turn.centre);
        // Two turns of opposite layers that a slice turns alike.
        let slice = turns.get(i + 1).and_then(|next| {
            let pair = [turn, *next];
            let all = Slice::ALL.into_iter().flat_map(|slice| Amount::ALL.map(|by| Move::Slice(slice, by)));
            all.into_iter().find(|mv| {
                let made: Vec<FaceTurn> = mv.resolve(hold).turns().collect();
                made == pair || made == [pair[1], pair[0]]
            })
        });
        let word = match (slice, random.below(8)) {
            (Some(slice), _) => slice,
            (None, 0) => Move::Rotation(random.pick(&Axis::ALL), random.pick(&Amount::ALL)),
            (None, 1 | 2) => Move::Wide(face.opposite(), turn.amount),
            (None, _) => Move::Turn(face, turn.amount),
        };
        i += word.resolve(hold).turns().count();
        hold = word.resolve(hold).hold;
        written.push(word);
    }
    written
}

/// One of each kind of solve.
pub fn kinds_of_solve() -> Vec<Options> {
    let mut kinds = vec![
        Options::default(),
        Options { xcross: true, ..Options::default() },
        Options { two_pairs: true, ..Options::default() },
        Options { wide: true, cross_on_left: 1.0, ..Options::default() },
    ];
    kinds.extend(Colour::ALL.map(|colour| Options { cross: Some(colour), ..Options::default() }));
    kinds
}

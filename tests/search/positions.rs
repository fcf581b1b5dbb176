//! Positions to search from, and a generator of numbers to make them with.

use cornerwise::cube::{Colour, FaceTurn, Pair, State};
use cornerwise::search::{Kind, lines};

/// SplitMix64 (G. Steele, D. Lea, C. Flood, 2014; from memory): the same numbers on every machine.
pub struct Numbers(pub u64);

impl Numbers {
    pub fn next(&mut self, below: usize) -> usize {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        ((z ^ (z >> 31)) % below as u64) as usize
    }
}

/// A position with the cross and at least `solved` pairs solved, mixed by playing and undoing: `A B A^-1`
/// with random sides and layers keeps a cross; what it costs in pairs is solved again by found lines.
pub fn with_pairs_solved(numbers: &mut Numbers, cross: Colour, solved: u32) -> State {
    let up = cross.opposite();
    let layer = |numbers: &mut Numbers| FaceTurn {
        centre: up,
        amount: cornerwise::cube::Amount::ALL[numbers.next(3)],
    };
    loop {
        let mut state = State::SOLVED;
        for _ in 0..20 {
            let side = FaceTurn {
                centre: cross.ring()[numbers.next(4)],
                amount: [cornerwise::cube::Amount::Quarter, cornerwise::cube::Amount::Back][numbers.next(2)],
            };
            for turn in [side, layer(numbers), side.inverse(), layer(numbers)] {
                state.turn(turn);
            }
        }
        assert!(state.cross_solved(cross));
        let count = |state: &State| {
            Pair::all(cross).into_iter().filter(|&pair| state.pair_solved(pair)).count() as u32
        };
        while count(&state) < solved {
            let found = lines(&state, cross, Kind::Hand, 9);
            if found.is_empty() {
                break;
            }
            state = found[numbers.next(found.len())].end(state);
        }
        if count(&state) == solved {
            return state;
        }
    }
}

/// Whether tests may take minutes: `.ci/run` sets `CORNERWISE_SLOW`.
pub fn slow() -> bool {
    std::env::var_os("CORNERWISE_SLOW").is_some()
}

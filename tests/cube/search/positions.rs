//! Positions to search from.

use cornerwise::cube::{Amount, Colour, FaceTurn, Pair, State};
use cornerwise::search::{Kind, lines};

/// The turns that make a position with the cross and `solved` pairs solved, from a solved cube.
///
/// Random sides and layers, each side turned and turned back, keep the cross; pairs are then solved by lines
/// found. `below` gives a number below its argument.
pub fn with_pairs_solved(
    below: &mut dyn FnMut(usize) -> usize,
    cross: Colour,
    solved: usize,
) -> Vec<FaceTurn> {
    loop {
        let mut turns = Vec::new();
        for _ in 0..20 {
            let side = FaceTurn {
                centre: cross.ring()[below(4)],
                amount: [Amount::Quarter, Amount::Back][below(2)],
            };
            let mut layer = || FaceTurn { centre: cross.opposite(), amount: Amount::ALL[below(3)] };
            turns.extend([side, layer(), side.inverse(), layer()]);
        }
        loop {
            let state = played(&turns);
            let pairs = Pair::all(cross).into_iter().filter(|&pair| state.pair_solved(pair)).count();
            if pairs == solved {
                assert!(state.cross_solved(cross));
                return turns;
            }
            let found = lines(&state, cross, Kind::Hand, 9);
            if pairs > solved || found.is_empty() {
                break;
            }
            turns.extend(found[below(found.len())].turns());
        }
    }
}

/// The state after the turns, from a solved cube.
pub fn played(turns: &[FaceTurn]) -> State {
    turns.iter().fold(State::SOLVED, |state, &turn| state.turned(turn))
}

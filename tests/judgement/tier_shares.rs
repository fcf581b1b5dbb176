//! Where the next corner is at a step's start, over random states with k pairs solved: exact fractions.

use std::collections::HashMap;

use cornerwise::cube::{Amount, Colour, CornerAt, EdgeAt, FaceTurn, Pair, State};
use cornerwise::scan::{Tier, tier};

/// Turns that bring an open slot into the top layer and back with a turn of the top layer between (`R U R'`), and
/// the turn of the top layer alone: with them every way an open pair can lie is reached while the cross and the
/// solved pairs stay as they are. (That every way is reached is checked by counting them.)
fn generators(cross: Colour, open: &[Pair]) -> Vec<Vec<FaceTurn>> {
    let turn = |centre, amount| FaceTurn { centre, amount };
    let mut generators = vec![vec![turn(cross.opposite(), Amount::Quarter)]];
    for pair in open {
        for side in pair.sides() {
            for amount in [Amount::Quarter, Amount::Back] {
                for top in Amount::ALL {
                    let back = turn(side, amount).inverse();
                    generators.push(vec![turn(side, amount), turn(cross.opposite(), top), back]);
                }
            }
        }
    }
    // A quarter turn the wrong way round lifts the other slot of that side: those that disturb a solved pair
    // are left out.
    let solved: Vec<Pair> = Pair::all(cross).into_iter().filter(|pair| !open.contains(pair)).collect();
    generators.retain(|turns| {
        let state = turns.iter().fold(State::SOLVED, |state, &turn| state.turned(turn));
        solved.iter().all(|&pair| state.pair_solved(pair))
    });
    generators
}

/// Every way a pair can lie while the cross and the pairs not in `open` stay solved, each with a state in which
/// it does.
///
/// The states reached form a group, so each of these ways occurs in equally many of them (orbit and
/// stabiliser): counting ways is averaging over random states.
fn ways(cross: Colour, open: &[Pair], pair: Pair) -> HashMap<(CornerAt, EdgeAt), State> {
    let generators = generators(cross, open);
    let way = |state: &State| (state.corner(pair.corner), state.edge(pair.edge));
    let mut ways = HashMap::from([(way(&State::SOLVED), State::SOLVED)]);
    let mut queue = vec![State::SOLVED];
    while let Some(state) = queue.pop() {
        for turns in &generators {
            let next = turns.iter().fold(state, |state, &turn| state.turned(turn));
            if let std::collections::hash_map::Entry::Vacant(entry) = ways.entry(way(&next)) {
                entry.insert(next);
                queue.push(next);
            }
        }
    }
    ways
}

/// The counts 384, 294, 216 and 150 and the fractions 4/(8-k), 1/(8-k), (3-k)/(8-k) follow by counting: 3(8-k)
/// ways for the corner, 2(8-k) for the edge, four corner places up, one in the slot and 3-k in others. (384 and
/// the 42 classes of the last pair are common practice, no source.)
#[test]
fn the_next_corner_is_up_in_four_of_eight_less_k() {
    for cross in Colour::ALL {
        let pairs = Pair::all(cross);
        for solved_pairs in 0..16_usize {
            let open: Vec<Pair> = (0..4).filter(|i| solved_pairs >> i & 1 == 0).map(|i| pairs[i]).collect();
            let k = 4 - open.len();
            for &next in &open {
                let ways = ways(cross, &open, next);
                assert_eq!(ways.len(), 3 * (8 - k) * 2 * (8 - k), "{cross} cross, {k} pairs solved");
                // The slot the step fills: the pair's own, or that of another open pair.
                for &filled in &open {
                    let mut counts = HashMap::new();
                    for state in ways.values() {
                        // The end does not matter for the first two tiers, and tells the other two apart.
                        let tier = tier(next.corner, cross, &[filled], state, state);
                        assert_ne!(tier, Tier::Lifted, "nothing is lifted when nothing is turned");
                        *counts.entry(tier).or_insert(0) += 1;
                    }
                    let count = |tier| counts.get(&tier).copied().unwrap_or(0);
                    let in_eight = |tier| count(tier) * (8 - k);
                    assert_eq!(in_eight(Tier::Top), 4 * ways.len());
                    assert_eq!(in_eight(Tier::Target), ways.len());
                    assert_eq!(in_eight(Tier::Slot), (3 - k) * ways.len());
                }
            }
        }
    }
}

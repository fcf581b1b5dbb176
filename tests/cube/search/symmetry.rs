//! What is left and right, and how the cube is held, must not matter.

use std::collections::BTreeSet;

use cornerwise::cube::{Colour, FaceTurn, Hold};
use cornerwise::search::{Kind, is_hand_line, lines};
use proptest::prelude::*;

use super::counts::in_order;
use super::positions::{played, with_pairs_solved};
use crate::support::random::Random;

/// Every line, in an order of commuting neighbours that does not depend on the hold.
fn all(turns: &[FaceTurn], cross: Colour, kind: Kind, bound: usize) -> BTreeSet<Vec<FaceTurn>> {
    lines(&played(turns), cross, kind, bound).iter().map(|line| in_order(line.turns())).collect()
}

/// Searching after renaming everything finds what searching first and renaming then does.
fn commutes(seed: u64, solved: usize, cross: Colour, rename: impl Fn(FaceTurn) -> FaceTurn) {
    let mut random = Random::new(seed);
    let turns = with_pairs_solved(&mut |below| random.below(below), cross, solved);
    let renamed: Vec<FaceTurn> = turns.iter().map(|&turn| rename(turn)).collect();
    let renamed_cross = rename(FaceTurn { centre: cross, amount: cornerwise::cube::Amount::Half }).centre;
    for (kind, bound) in [(Kind::Hand, 9), (Kind::Every, 7)] {
        let expected: BTreeSet<Vec<FaceTurn>> = all(&turns, cross, kind, bound)
            .iter()
            .map(|line| in_order(&line.iter().map(|&turn| rename(turn)).collect::<Vec<_>>()))
            .collect();
        let found = all(&renamed, renamed_cross, kind, bound);
        assert!(kind == Kind::Every || found.iter().all(|line| is_hand_line(line, renamed_cross)));
        assert_eq!(found, expected);
    }
}

fn cross() -> impl Strategy<Value = Colour> {
    (0..6_usize).prop_map(|i| Colour::ALL[i])
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]

    #[test]
    fn the_mirror_image_has_the_mirrored_lines(seed: u64, solved in 0..4_usize, cross in cross()) {
        // Left and right change places, and every turn goes the other way.
        commutes(seed, solved, cross, |turn| FaceTurn {
            centre: match turn.centre {
                Colour::Red => Colour::Orange,
                Colour::Orange => Colour::Red,
                other => other,
            },
            amount: turn.amount.inverse(),
        });
    }

    #[test]
    fn a_cube_held_otherwise_has_the_same_lines(
        seed: u64, solved in 0..4_usize, cross in cross(), hold in 0..24_usize,
    ) {
        let hold = Hold::ALL[hold];
        commutes(seed, solved, cross, |turn| FaceTurn {
            centre: hold.colour(Hold::START.face(turn.centre)),
            amount: turn.amount,
        });
    }

    #[test]
    fn a_line_is_by_hand_however_its_commuting_neighbours_are_written(seed: u64, cross in cross()) {
        let mut random = Random::new(seed);
        let turns = with_pairs_solved(&mut |below| random.below(below), cross, 0);
        for line in lines(&played(&turns), cross, Kind::Hand, 9) {
            let mut written = line.turns().to_vec();
            for i in 1..written.len() {
                if written[i].centre == written[i - 1].centre.opposite() && random.below(2) == 0 {
                    written.swap(i - 1, i);
                }
            }
            // Nor does it matter that a half turn was written as two quarter turns.
            if let Some(i) = written.iter().position(|turn| turn.amount == cornerwise::cube::Amount::Half) {
                written[i].amount = cornerwise::cube::Amount::Back;
                written.insert(i, written[i]);
            }
            prop_assert!(is_hand_line(&written, cross), "{written:?}");
        }
    }
}

//! What is published on the group of the cube: sizes, distances, orders, the superflip, legality.

use std::collections::HashSet;

use crate::support::facelets::{self, from_cycles};
use crate::support::random::Random;
use crate::support::read::moves;
use crate::support::space::Space;
use crate::support::switch;
use cornerwise::cube::{Amount, FaceTurn, Hold, Move, Position, State};

/// How many states are first reached after 0, 1, … `most` of the turns.
fn spheres(turns: &[FaceTurn], most: usize) -> Vec<usize> {
    let mut reached = HashSet::from([State::SOLVED]);
    let mut sphere = vec![State::SOLVED];
    let mut counts = vec![1];
    for _ in 0..most {
        let mut next = Vec::new();
        for state in &sphere {
            for &turn in turns {
                let after = state.turned(turn);
                if reached.insert(after) {
                    next.push(after);
                }
            }
        }
        counts.push(next.len());
        sphere = next;
    }
    counts
}

fn quarter_turns() -> Vec<FaceTurn> {
    FaceTurn::ALL.into_iter().filter(|turn| turn.amount != Amount::Half).collect()
}

#[test]
fn positions_at_each_distance() {
    // OEIS A080601 (half-turn metric) and A080602 (quarter-turn metric); the former after T. Rokicki,
    // H. Kociemba, M. Davidson, J. Dethridge, "The Diameter of the Rubik's Cube Group Is Twenty",
    // SIAM Review 56(4) (2014), table 5.1.
    assert_eq!(spheres(&FaceTurn::ALL, 5), [1, 18, 243, 3_240, 43_239, 574_908]);
    assert_eq!(spheres(&quarter_turns(), 5), [1, 12, 114, 1_068, 10_011, 93_840]);
}

#[test]
fn positions_at_distance_six() {
    if !switch::slow() {
        return;
    }
    // The same sources.
    assert_eq!(spheres(&FaceTurn::ALL, 6).last(), Some(&7_618_438));
    assert_eq!(spheres(&quarter_turns(), 6).last(), Some(&878_880));
}

/// How many states the sequences, taken as generators, reach.
fn generated(generators: &[&str]) -> usize {
    let generators: Vec<Vec<Move>> = generators.iter().map(|text| moves(text)).collect();
    let mut reached = HashSet::from([State::SOLVED]);
    let mut new = vec![State::SOLVED];
    while let Some(state) = new.pop() {
        for generator in &generators {
            let after = Position { state, hold: Hold::START }.after(generator.iter().copied()).state;
            if reached.insert(after) {
                new.push(after);
            }
        }
    }
    reached.len()
}

#[test]
fn sizes_of_small_subgroups() {
    // Squares group: asserted by SymPy's own tests of its permutation groups.
    assert_eq!(generated(&["U2", "D2", "R2", "L2", "F2", "B2"]), 663_552);
    // D. Singmaster, "Notes on Rubik's Magic Cube" (1981), sections 5A and 5D; the numbers from memory.
    assert_eq!(generated(&["L R'", "U D'", "F B'"]), 768);
    assert_eq!(generated(&["L R", "U D", "F B"]), 6_144);
}

/// The smallest n > 0 for which playing the moves n times, always in the scramble's hold, solves the cube.
fn order(word: &[Move]) -> usize {
    let mut state = State::SOLVED;
    for n in 1..=1_260 {
        state = Position { state, hold: Hold::START }.after(word.iter().copied()).state;
        if state.is_solved() {
            return n;
        }
    }
    panic!("no element has an order above 1260: {word:?}");
}

#[test]
fn orders_of_well_known_elements() {
    for (word, expected) in [
        ("U", 4),
        ("R2", 2),
        // Common practice, no source.
        ("R U R' U'", 6),
        ("R U R' U R U2 R'", 6),
        ("F R U R' U' F'", 6),
        ("R U R' U' R' F R2 U' R' U' R U R' F'", 2),
        ("R2 L2 U2 D2 F2 B2", 2),
        // D. Singmaster, "Notes on Rubik's Magic Cube" (1981), from memory; also computed with SymPy and GAP.
        ("R U", 105),
        // Computed with SymPy or GAP.
        ("R U'", 63),
        ("R U2", 30),
        ("R2 U2", 6),
        ("L F R B", 315),
        ("D2 F2 R' B2 U L2 D' B' R2 U2 F' L D R F2 U' B2 L'", 630),
        // D. Joyner, "Adventures in Group Theory", from memory: the largest order there is.
        ("R U2 D' B D'", 1_260),
        // A discussion of the orders of elements, 2008.
        ("U R' U F' D2", 1_260),
        // OEIS A338883, example.
        ("U R U' F2", 10),
    ] {
        assert_eq!(order(&moves(word)), expected, "{word}");
    }
}

#[test]
fn every_order_is_one_of_the_73() {
    // OEIS A338883.
    let orders = [
        1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 14, 15, 16, 18, 20, 21, 22, 24, 28, 30, 33, 35, 36, 40, 42,
        44, 45, 48, 55, 56, 60, 63, 66, 70, 72, 77, 80, 84, 90, 99, 105, 110, 112, 120, 126, 132, 140, 144,
        154, 165, 168, 180, 198, 210, 231, 240, 252, 280, 315, 330, 336, 360, 420, 462, 495, 504, 630, 720,
        840, 990, 1_260,
    ];
    assert_eq!(orders.len(), 73);
    let mut random = Random::new(11);
    for _ in 0..2_000 {
        let word = random.sequence(&Move::ALL[..18], 1, 30);
        let order = order(&word);
        assert!(orders.contains(&order), "{order} is the order of {word:?}");
    }
}

#[test]
fn the_superflip() {
    // "Analyzing Rubik's Cube with GAP" (GAP web pages, examples, M. Schoenert): the element of the centre.
    let centre =
        from_cycles("(2,34)(4,10)(5,26)(7,18)(12,37)(13,20)(15,44)(21,28)(23,42)(29,36)(31,45)(39,47)", 54);
    let words = [
        // D. T. Winter, Cube-Lovers list, 17 May 1992, quoted by M. Reid, "superflip in 20f" (1995).
        "F B U2 R F2 R2 B2 U' D F U2 R' L' U B2 D R2 U B2 U",
        // From memory.
        "U R2 F B R B2 R U2 L B2 R U' D' R2 F R' L B2 U2 F2",
        // 24 quarter turns; M. Reid 1995 found such a sequence, this one from memory.
        "R' U2 B L' F U' B D F U D' L D2 F' R B' D F' U' B' U D'",
    ];
    for word in words {
        assert_eq!(facelets::image(&Position::SOLVED.after(moves(word))), centre, "{word}");
    }
    let superflip = moves(words[0]);
    assert_eq!((superflip.len(), order(&superflip)), (20, 2));
    for turn in &Move::ALL[..18] {
        let before = Position::SOLVED.after([*turn]).after(superflip.iter().copied());
        let after = Position::SOLVED.after(superflip.iter().copied()).after([*turn]);
        assert_eq!(before, after, "the superflip commutes with {turn}");
    }
}

/// The generators of the GAP example.
const GAP_GENERATORS: [(&str, &str); 6] = [
    ("U", "(1,3,8,6)(2,5,7,4)(9,33,25,17)(10,34,26,18)(11,35,27,19)"),
    ("L", "(9,11,16,14)(10,13,15,12)(1,17,41,40)(4,20,44,37)(6,22,46,35)"),
    ("F", "(17,19,24,22)(18,21,23,20)(6,25,43,16)(7,28,42,13)(8,30,41,11)"),
    ("R", "(25,27,32,30)(26,29,31,28)(3,38,43,19)(5,36,45,21)(8,33,48,24)"),
    ("B", "(33,35,40,38)(34,37,39,36)(3,9,46,32)(2,12,47,29)(1,14,48,27)"),
    ("D", "(41,43,48,46)(42,45,47,44)(14,22,30,38)(15,23,31,39)(16,24,32,40)"),
];

#[test]
fn face_turns_are_the_generators_of_the_gap_example() {
    for (turn, cycles) in GAP_GENERATORS {
        let expected = from_cycles(cycles, 54);
        assert_eq!(facelets::image(&Position::SOLVED.after(moves(turn))), expected, "{turn}");
        assert_eq!(Space::played(&moves(turn)).image(), expected, "{turn} in space");
    }
}

#[test]
fn legality_of_facelet_permutations() {
    // The rows with a star are printed in the GAP example; the others were computed with GAP.
    for (what, cycles, legal) in [
        ("nothing", "", true),
        ("one corner twisted", "(8,25,19)", false),
        ("two corners twisted the same way", "(8,25,19)(6,17,11)", false),
        ("two corners twisted opposite ways", "(8,25,19)(6,11,17)", true),
        ("three corners twisted the same way", "(8,25,19)(6,17,11)(3,33,27)", true),
        ("one edge flipped", "(7,18)", false),
        ("two edges flipped", "(7,18)(5,26)", true),
        ("two corners swapped *", "(17,19)(11,8)(6,25)", false),
        ("two edges swapped *", "(7,28)(18,21)", false),
        ("both swaps at once *", "(17,19)(11,8)(6,25)(7,28)(18,21)", true),
        ("three edges cycled", "(7,5,2)(18,26,34)", true),
        ("one sticker swapped with another of its piece's face", "(1,3)", false),
    ] {
        assert_eq!(facelets::check_legal(&from_cycles(cycles, 48)).is_ok(), legal, "{what}");
    }
    // And all that our turns reach is legal.
    let mut random = Random::new(12);
    for _ in 0..200 {
        let word = random.sequence(&Move::ALL[..18], 0, 40);
        let image = facelets::image(&Position::SOLVED.after(word.iter().copied()));
        assert_eq!(facelets::check_legal(&image), Ok(()), "{word:?}");
    }
}

//! What the WCA Regulations, the trade and exact computations by other programs say of notation, metrics, the
//! colour scheme, single positions and the end of a solve.
//!
//! "WCA Regulations" are those of the World Cube Association, version of 1 January 2024; the numbers used here
//! are unchanged in that of 1 April 2026.

use std::collections::HashSet;

use crate::support::facelets::{self, from_list};
use crate::support::read::{inverse, moves};
use crate::support::space::Space;
use cornerwise::cube::{Amount, Colour, ColourSet, Corner, CornerPlace, Face, Hold, Move, Position, Slice};
use cornerwise::replay::Replay;
use cornerwise::steps::{End, split};

fn played(text: &str) -> Position {
    Position::SOLVED.after(moves(text))
}

#[test]
fn identities_of_the_notation() {
    // 12a4 fixes how rotations turn; that M turns as L, E as D and S as F is common practice, no source.
    // The first acts first.
    for line in [
        "Rw = x L; Lw = x' R; Uw = y D; Dw = y' U; Fw = z B; Bw = z' F",
        "Rw = R M'; Lw = L M; Uw = U E'; Dw = D E; Fw = F S; Bw = B S'",
        "M = x' R L'; E = y' U D'; S = z F' B; x = R M' L'; y = U E' D'; z = F S B'",
        "z = x y x'; y = x' z x; x y = y z",
        "x U = F x; x R = R x; x F = D x; x D = B x; x L = L x; x B = U x",
        "y U = U y; y R = B y; y F = R y; y D = D y; y L = F y; y B = L y",
        "z U = L z; z R = U z; z F = F z; z D = R z; z L = D z; z B = B z",
    ] {
        for identity in line.split("; ") {
            let (left, right) = identity.split_once(" = ").expect("two sides");
            assert_eq!(played(left), played(right), "{identity}");
            assert_eq!(Space::played(&moves(left)), Space::played(&moves(right)), "{identity}");
        }
    }
    for wrong in ["x U = B x", "y R = F y", "M = x R L'", "Rw = x' L"] {
        let (left, right) = wrong.split_once(" = ").expect("two sides");
        assert_ne!(played(left), played(right), "{wrong}");
        assert_ne!(Space::played(&moves(left)), Space::played(&moves(right)), "{wrong}");
    }
}

#[test]
fn metrics() {
    // WCA Regulations 12a5 (OBTM) and 12a6 (ETM).
    for (text, obtm, etm) in [
        ("R U R' U'", 4, 4),
        ("x2 y R U2", 2, 4),
        ("Rw U Rw' Fw2", 4, 4),
        ("x y2 z'", 0, 3),
        // Not official: a slice is two face turns and a rotation in OBTM, one executed turn in ETM.
        ("M' U M", 5, 3),
    ] {
        let moves = moves(text);
        assert_eq!(moves.iter().map(|mv| mv.obtm()).sum::<usize>(), obtm, "OBTM of {text}");
        assert_eq!(moves.iter().map(|mv| mv.etm()).sum::<usize>(), etm, "ETM of {text}");
    }
}

#[test]
fn the_colour_scheme() {
    use Colour::{Blue, Green, Orange, Red, White, Yellow};
    // WCA Regulation 4d1: scrambled with white up and green in front. The rest is common practice, no source.
    let start = Position::SOLVED.hold;
    let [u, d, f, b, r, l] = Face::ALL.map(|face| start.colour(face));
    assert_eq!([u, f, r, l, b, d], [White, Green, Red, Orange, Blue, Yellow]);
    assert_eq!(Colour::ALL.map(Colour::opposite), [Yellow, White, Blue, Green, Orange, Red]);
    assert_eq!(White.ring(), [Green, Orange, Blue, Red]);
    assert_eq!(Yellow.ring(), [Green, Red, Blue, Orange]);
    // A U turn carries the front row to the left.
    assert_eq!(played("U").stickers(Face::L)[..3], [Green; 3]);

    // Clockwise as seen from outside (from geometry: a determinant test on the three normals).
    for (faces, clockwise) in [
        ([Face::U, Face::F, Face::R], [White, Red, Green]),
        ([Face::U, Face::F, Face::L], [White, Green, Orange]),
        ([Face::U, Face::B, Face::L], [White, Orange, Blue]),
        ([Face::U, Face::B, Face::R], [White, Blue, Red]),
        ([Face::D, Face::F, Face::R], [Yellow, Green, Red]),
        ([Face::D, Face::F, Face::L], [Yellow, Orange, Green]),
        ([Face::D, Face::B, Face::L], [Yellow, Blue, Orange]),
        ([Face::D, Face::B, Face::R], [Yellow, Red, Blue]),
    ] {
        let place = CornerPlace::at_faces(faces, Hold::START).expect("three faces that meet");
        assert_eq!(place.owner().colours(), clockwise);
        assert_eq!(Corner::with_colours(ColourSet::of(&clockwise)), Some(place.owner()));
    }
}

/// A sequence and the image of its 54 stickers: computed with SymPy, with GAP (where the notation has only face
/// turns) and with a model of stickers in space, which agree. Numbering of the GAP example.
const IMAGES: [(&str, &str); 4] = [
    (
        "R U R' U'",
        "27 21 1 4 2 6 7 30 3 10 11 12 13 14 15 16 17 18 24 20 5 22 23 8 43 34 35 26 29 25 31 32 9 28 33 36 37 \
         38 39 40 41 42 19 44 45 46 47 48 49 50 51 52 53 54",
    ),
    (
        "F B U2 R F2 R2 B2 U' D F U2 R' L' U B2 D R2 U B2 U",
        "1 34 3 10 26 6 18 8 9 4 11 37 20 14 44 16 17 7 19 13 28 22 42 24 25 5 27 21 36 30 45 32 33 2 35 29 12 \
         38 47 40 41 23 43 15 31 46 39 48 49 50 51 52 53 54",
    ),
    (
        "D2 F2 R' B2 U L2 D' B' R2 U2 F' L D R F2 U' B2 L'",
        "16 21 35 42 45 24 36 32 22 23 43 20 47 17 4 14 30 29 48 39 5 46 34 33 38 31 9 26 12 27 15 19 1 28 41 37 \
         13 8 7 6 40 2 3 10 44 11 18 25 49 50 51 52 53 54",
    ),
    (
        "x2 Rw U' M y' S2 f2 E d'",
        "6 34 35 7 29 8 47 24 17 18 19 20 21 27 42 40 25 39 43 28 45 14 10 48 30 36 9 31 5 32 37 22 1 2 11 26 13 \
         41 44 33 46 4 38 23 12 3 15 16 54 51 50 53 52 49",
    ),
];

#[test]
fn exact_images() {
    for (text, image) in IMAGES {
        let image = from_list(image);
        assert_eq!(image.len(), 54);
        assert_eq!(facelets::image(&played(text)), image, "{text}");
        assert_eq!(Space::played(&moves(text)).image(), image, "{text} in space");
    }
    // The stored cycles of the first.
    let cycles = "(1,27,35,33,9,3)(2,21,5)(8,30,25,43,19,24)(26,34,28)";
    assert_eq!(facelets::from_cycles(cycles, 54), from_list(IMAGES[0].1));
}

#[test]
fn colours_after_a_scramble() {
    // Computed with a model of stickers in space; each face row by row.
    let expected = "U BYYOWGBBB L RYYROBORW F OYROGWOOW R YRRBRGGRW B GGWWBBRGY D BWOYYWGOG".replace(' ', "");
    let position = played(IMAGES[2].0);
    let faces = [Face::U, Face::L, Face::F, Face::R, Face::B, Face::D];
    let found: String = faces
        .into_iter()
        .map(|face| {
            let stickers: String = position.stickers(face).into_iter().map(Colour::letter).collect();
            format!("{face}{stickers}")
        })
        .collect();
    assert_eq!(found, expected);
}

fn end_of(scramble: &[Move], solution: &[Move]) -> End {
    split(&Replay::new(scramble.iter().copied(), solution.iter().copied())).end
}

#[test]
fn solved_in_any_of_24_orientations() {
    // WCA Regulation 10c.
    let images: HashSet<Vec<usize>> = facelets::solved_positions().iter().map(facelets::image).collect();
    assert_eq!(images.len(), 24);
    let scramble = moves(IMAGES[2].0);
    for up in ["", "x", "x2", "x'", "z", "z'"] {
        for side in ["", "y", "y2", "y'"] {
            let solution = [inverse(&scramble), moves(up), moves(side)].concat();
            assert_eq!(end_of(&scramble, &solution), End::Solved, "{up} {side}");
        }
    }
}

#[test]
fn one_turn_short_is_a_penalty_and_more_is_no_solve() {
    // WCA Regulations 10e2 to 10e4, counted in OBTM (10e1).
    let scramble = moves(IMAGES[2].0);
    let short_by = |left: &str| {
        let whole = [inverse(&scramble), inverse(&moves(left))].concat();
        end_of(&scramble, &whole)
    };
    for left in ["U", "R2", "Rw'", "Fw2", "y D'"] {
        let End::OneTurnShort(turn) = short_by(left) else { panic!("{left} is one turn") };
        let end =
            Replay::new(scramble.iter().copied(), inverse(&scramble)).end().after(inverse(&moves(left)));
        assert!(end.state.turned(turn).is_solved(), "{left}");
    }
    for left in ["M", "R L", "R U", "E2", "R2 L2"] {
        assert_eq!(short_by(left), End::Unsolved, "{left}");
    }
    assert_eq!(short_by("x y2"), End::Solved);
    // Two turns of one face that make one are one turn short.
    assert!(matches!(short_by("R R"), End::OneTurnShort(_)));
}

#[test]
fn there_are_54_different_moves() {
    let images: HashSet<Vec<usize>> =
        Move::ALL.iter().map(|&mv| facelets::image(&Position::SOLVED.after([mv]))).collect();
    assert_eq!(images.len(), 54);
    assert!(Move::ALL.contains(&Move::Slice(Slice::E, Amount::Back)));
}

//! Elimination against NetworkX's bipartite matching, live: run with the environment variable
//! `CORNERWISE_PYTHON` naming a Python that has NetworkX (`.ci/run` does). Without it only the cases are made.

#![allow(clippy::print_stdout, reason = "the test says how many cases the script compared")]

use std::collections::BTreeSet;

use crate::support::elimination::{Name, name, remaining};
use crate::support::python;
use crate::support::random::Random;
use crate::support::space::{Space, sides_of};
use cornerwise::cube::{Colour, Corner, Edge, Face, FaceSet, Move, Pair, Position};
use cornerwise::sight::{Pieces, Watch};

const CASES: usize = 600;

/// One moment with a cross, some pairs known and some faces in sight, as a line of JSON. Stickers and places are
/// read off the model in space; only the answer is the library's.
fn case(random: &mut Random, sides: usize) -> String {
    let cross = random.pick(&Colour::ALL);
    let scramble = random.sequence(&Move::ALL, 20, 30);
    let sight: FaceSet = Face::ALL.into_iter().filter(|_| random.below(2) == 0).collect();
    let given: Vec<Pair> = Pair::all(cross).into_iter().filter(|_| random.below(3) == 0).collect();

    let position = Position::SOLVED.after(scramble.iter().copied());
    let watch = Watch::new(&[position], Pieces::cross_and(cross, given.iter().copied()), sight);
    let mut known: BTreeSet<Name> = sides_of(cross).into_iter().map(|side| name(&[cross, side])).collect();
    for pair in &given {
        known.insert(name(&pair.corner.colours()));
        known.insert(name(&pair.edge.colours()));
    }
    let case = remaining(&Space::played(&scramble), sides, &known, sight);

    let holders = |piece: &[Colour]| -> Vec<Name> {
        let colours = piece.iter().copied().collect();
        match sides {
            3 => watch
                .corner_places(Corner::with_colours(colours).expect("a corner"), 0)
                .map(|place| name(&position.state.corner_in(place).colours()))
                .collect(),
            _ => watch
                .edge_places(Edge::with_colours(colours).expect("an edge"), 0)
                .map(|place| name(&position.state.edge_in(place).colours()))
                .collect(),
        }
    };
    let number = |holder: &Name| case.holds.iter().position(|held| held == holder).expect("a place");
    let possible: Vec<Vec<usize>> =
        case.pieces.iter().map(|piece| holders(piece).iter().map(number).collect()).collect();
    let colour = |colour: &Colour| colour.to_string();
    let pieces: Vec<Vec<String>> = case.pieces.iter().map(|p| p.iter().map(colour).collect()).collect();
    let places: Vec<Vec<Option<String>>> =
        case.places.iter().map(|p| p.iter().map(|c| c.as_ref().map(colour)).collect()).collect();
    serde_json::json!({ "pieces": pieces, "places": places, "possible": possible }).to_string()
}

#[test]
fn elimination_agrees_with_networkx() {
    let mut random = Random::new(7);
    let cases: Vec<String> = (0..CASES).map(|i| case(&mut random, 2 + i % 2)).collect();
    assert_eq!(cases.len(), CASES);
    let Some(said) = python::run("known_matching.py", cases.join("\n") + "\n") else { return };
    assert!(said.contains(&format!("compared {CASES} cases")), "{said}");
}

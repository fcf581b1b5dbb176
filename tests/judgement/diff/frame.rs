//! The frame of the scramble against SymPy: a sequence of any tokens, and its turns of outer layers followed by
//! the rotation that is left, are the same permutation of the 54 stickers.

use cornerwise::cube::{Hold, Move, Moves};
use cornerwise::diff::frame;
use serde_json::{Value, json};

use super::sides::rotations;
use crate::support::python;
use crate::support::random::Random;

#[test]
fn resolved_turns_agree_with_sympy() {
    let mut random = Random::new(41);
    let mut sequences: Vec<Vec<Move>> = Move::ALL.iter().map(|mv| vec![*mv]).collect();
    sequences.extend((0..300).map(|_| random.sequence(&Move::ALL, 2, 40)));
    let rotations = rotations();
    let mut questions = Vec::new();
    for moves in &sequences {
        let left = moves.iter().fold(Hold::START, |hold, mv| mv.resolve(hold).hold);
        let way = &rotations.iter().find(|(_, hold)| *hold == left).expect("one of 24").0;
        let turns: Vec<_> = frame::resolve(Hold::START, moves).iter().map(|turned| turned.turn).collect();
        assert_eq!(
            turns.len(),
            moves.iter().map(|mv| mv.obtm()).sum::<usize>(),
            "OBTM is the count of turns"
        );
        for turns in [turns.clone(), frame::canonical(&turns)] {
            let text = frame::written(&turns, Hold::START).to_string();
            assert!(text.chars().all(|c| "UDFBRL2' ".contains(c)), "{text}");
            questions.push((Moves::of(moves).to_string(), format!("{text} {}", Moves::of(way))));
        }
    }
    let asked: Vec<Value> =
        questions.iter().flat_map(|(a, b)| [json!({ "play": a }), json!({ "play": b })]).collect();
    let lines: String = asked.iter().map(|question| format!("{question}\n")).collect();
    let Some(said) = python::run("replay_oracle.py", lines) else { return };
    let answers: Vec<&str> = said.lines().collect();
    assert_eq!(answers.len(), asked.len());
    for (pair, (written, resolved)) in answers.chunks(2).zip(&questions) {
        assert_eq!(pair[0], pair[1], "{written} is not {resolved}");
    }
}

/// Commuting neighbours and nothing else: turns of two axes never change their order.
#[test]
fn the_canonical_order_moves_only_commuting_turns() {
    let mut random = Random::new(42);
    for _ in 0..300 {
        let moves = random.sequence(&Move::ALL[..18], 1, 30);
        let turns: Vec<_> = frame::resolve(Hold::START, &moves).iter().map(|turned| turned.turn).collect();
        let sorted = frame::canonical(&turns);
        assert_eq!(frame::canonical(&sorted), sorted);
        let axes = |turns: &[_]| turns.iter().map(|turn| frame::axis(*turn)).collect::<Vec<_>>();
        assert_eq!(axes(&turns), axes(&sorted));
        for centre in cornerwise::cube::Colour::ALL {
            let of = |turns: &[cornerwise::cube::FaceTurn]| {
                turns.iter().copied().filter(|turn| turn.centre == centre).collect::<Vec<_>>()
            };
            assert_eq!(of(&turns), of(&sorted));
        }
    }
}

#[test]
fn wide_turns_slices_and_rotations_vanish() {
    let turns = |text: &str| {
        let moves = crate::support::read::moves(text);
        let turns: Vec<_> = frame::resolve(Hold::START, &moves).iter().map(|turned| turned.turn).collect();
        frame::written(&frame::canonical(&turns), Hold::START)
    };
    // WCA Regulation 12a and common practice: a wide turn is the opposite layer's turn and a rotation; a slice
    // is two outer turns and a rotation.
    for (text, same) in [
        ("Rw U", "L F"),
        ("r' F", "L' U"),
        ("M", "R L'"),
        ("M2 U", "R2 L2 D"),
        ("E F", "U D' L"),
        ("S U", "F' B L"),
        ("x y z", ""),
        ("y R U R'", "B U B'"),
        ("L R", "R L"),
        ("x2 D L2 D'", "U L2 U'"),
    ] {
        assert_eq!(turns(text).to_string(), same, "{text}");
    }
}

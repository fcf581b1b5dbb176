//! The cube against SymPy's permutation groups and SciPy's graphs, live: `tests/python/replay_oracle.py`
//! answers through the interpreter that the environment variable `CORNERWISE_PYTHON` names (one with SymPy and
//! SciPy; `.ci/run` makes it). Without the variable these tests say so and pass.

use crate::support::facelets::{self, from_cycles};
use crate::support::python;
use crate::support::random::Random;
use crate::support::read::moves;
use cornerwise::cube::{Amount, Colour, Edge, EdgeAt, FaceTurn, Move, Moves, Pair, Position, State};
use cornerwise::diagnostic::Severity;
use cornerwise::notation;
use serde_json::{Value, json};

/// The script's answers to the questions, in order; `None` if there is no interpreter to ask.
fn ask(questions: &[Value]) -> Option<Vec<Value>> {
    let lines: String = questions.iter().map(|question| format!("{question}\n")).collect();
    let said = python::run("replay_oracle.py", lines)?;
    let answers: Vec<Value> =
        said.lines().map(|line| serde_json::from_str(line).expect("an answer is JSON")).collect();
    assert_eq!(answers.len(), questions.len());
    Some(answers)
}

/// A sequence in writing, with groups and several spellings, and the moves it comes to.
fn written(random: &mut Random, most: usize, depth: usize) -> (String, Vec<Move>) {
    let (mut words, mut played) = (Vec::new(), Vec::new());
    for _ in 0..1 + random.below(most) {
        if depth > 0 && random.below(8) == 0 {
            let (inside, group) = written(random, 6, depth - 1);
            let count = 1 + random.below(4);
            let shown = if count == 1 { String::new() } else { count.to_string() };
            words.push(format!("({inside}){shown}"));
            (0..count).for_each(|_| played.extend(&group));
            continue;
        }
        let mv = random.pick(&Move::ALL);
        let mut word = mv.to_string();
        if let Move::Wide(face, _) = mv
            && random.below(2) == 0
        {
            word = word.replace(&format!("{face}w"), &face.to_string().to_lowercase());
        }
        if word.ends_with('2') && random.below(3) == 0 {
            word.push('\'');
        }
        words.push(word);
        played.push(mv);
    }
    (words.join(" "), played)
}

#[test]
fn replays_of_every_kind_of_token_agree_with_sympy() {
    let mut random = Random::new(21);
    let mut sequences: Vec<(String, Vec<Move>)> =
        Move::ALL.iter().map(|mv| (mv.to_string(), vec![*mv])).collect();
    sequences.extend((0..500).map(|_| written(&mut random, 40, 2)));
    for (text, played) in &sequences {
        let (turns, said) = notation::parse_all(text, &notation::Options::default());
        assert!(said.iter().all(|d| d.severity == Severity::Note), "{text}: {said:?}");
        assert_eq!(turns.playable().collect::<Vec<_>>(), *played, "{text}");
    }
    let questions: Vec<Value> = sequences.iter().map(|(text, _)| json!({ "play": text })).collect();
    let Some(answers) = ask(&questions) else { return };
    for ((text, played), answer) in sequences.iter().zip(&answers) {
        let position = Position::SOLVED.after(played.iter().copied());
        assert_eq!(json!({ "image": facelets::image(&position) }), *answer, "{text}");
    }
}

#[test]
fn orders_agree_with_sympy() {
    let mut random = Random::new(22);
    let words: Vec<Vec<Move>> = (0..200).map(|_| random.sequence(&Move::ALL[..18], 1, 20)).collect();
    let texts: Vec<String> = words.iter().map(|word| Moves::of(word).to_string()).collect();
    let Some(answers) = ask(&[json!({ "orders": texts })]) else { return };
    for (word, order) in words.iter().zip(answers[0]["orders"].as_array().expect("a list")) {
        let order = order.as_u64().expect("a count");
        let mut state = State::SOLVED;
        let mut times = 0;
        while times == 0 || !state.is_solved() {
            state = Position { state, ..Position::SOLVED }.after(word.iter().copied()).state;
            times += 1;
            assert!(times <= order, "{word:?} has order {order}");
        }
        assert_eq!(times, order, "{word:?}");
    }
}

/// Our own turns as images of the 48 stickers that move.
fn our_generators(words: &[&str]) -> Vec<Vec<usize>> {
    words.iter().map(|word| facelets::image(&Position::SOLVED.after(moves(word)))[..48].to_vec()).collect()
}

#[test]
fn our_turns_generate_the_group_and_its_subgroups() {
    // Sizes: the cube's from the GAP example and OEIS A075152(3); <U,R,F> and <U,D,R2,L2,F2,B2> from SymPy's
    // own tests (there up to a rotation); <R,U> from D. Singmaster, "Notes on Rubik's Magic Cube" (1981), from
    // memory; the last-layer group from "3x3 last layer: number of positions" (2009) and from enumeration.
    let sizes: [(&[&str], &str); 6] = [
        (&["U", "D", "F", "B", "R", "L"], "43252003274489856000"),
        (&["R", "U"], "73483200"),
        (&["U", "R", "F"], "170659735142400"),
        (&["U", "D", "R2", "L2", "F2", "B2"], "19508428800"),
        (&["U2", "D2", "R2", "L2", "F2", "B2"], "663552"),
        (&["U", "R U R' U R U2 R'", "F R U R' U' F'", "R U R' U' R' F R2 U' R' U' R U R' F'"], "62208"),
    ];
    let questions: Vec<Value> =
        sizes.iter().map(|(words, _)| json!({ "size": our_generators(words) })).collect();
    let Some(answers) = ask(&questions) else { return };
    for ((words, size), answer) in sizes.iter().zip(&answers) {
        assert_eq!(answer["size"], *size, "{words:?}");
    }
}

#[test]
fn our_turns_reach_what_is_legal_and_nothing_else() {
    // The last three swaps are printed in the GAP example, in the same numbering; the others were computed
    // with GAP.
    let table = [
        ("(8,25,19)", false),
        ("(8,25,19)(6,17,11)", false),
        ("(8,25,19)(6,11,17)", true),
        ("(8,25,19)(6,17,11)(3,33,27)", true),
        ("(7,18)", false),
        ("(7,18)(5,26)", true),
        ("(7,5,2)(18,26,34)", true),
        ("(17,19)(11,8)(6,25)", false),
        ("(7,28)(18,21)", false),
        ("(17,19)(11,8)(6,25)(7,28)(18,21)", true),
    ];
    let elements: Vec<Vec<usize>> = table.iter().map(|(cycles, _)| from_cycles(cycles, 48)).collect();
    let generators = our_generators(&["U", "D", "F", "B", "R", "L"]);
    let Some(answers) = ask(&[json!({ "members": elements, "of": generators })]) else { return };
    assert_eq!(answers[0]["members"], json!(table.map(|(_, legal)| legal)));
}

#[test]
fn crosses_at_each_distance_agree_with_scipy() {
    // Where each turn takes an edge, from our own tables.
    let table = |turn: FaceTurn| -> Vec<usize> {
        (0..EdgeAt::COUNT)
            .map(|index| {
                let at = EdgeAt::from_index(index);
                // Any edge will do; the one whose home is there shows where the place and the flip go.
                let edge = at.place().owner();
                let moved = State::SOLVED.turned(turn).edge(edge);
                let n = Edge::ALL[0].colours().len() as u8;
                EdgeAt::new(moved.place(), (moved.twist() + at.twist()) % n).index()
            })
            .collect()
    };
    let start: Vec<usize> =
        Pair::cross_edges(Colour::White).into_iter().map(|edge| EdgeAt::home(edge).index()).collect();
    let half: Vec<Vec<usize>> = FaceTurn::ALL.into_iter().map(table).collect();
    let quarter: Vec<Vec<usize>> =
        FaceTurn::ALL.into_iter().filter(|turn| turn.amount != Amount::Half).map(table).collect();
    let questions =
        [json!({ "distances": half, "start": start }), json!({ "distances": quarter, "start": start })];
    let Some(answers) = ask(&questions) else { return };
    // L. Vandenbergh, "Cross study", fixed colour cross solving: all 12 x 11 x 10 x 9 x 2^4 = 190080 crosses.
    assert_eq!(answers[0]["counts"], json!([1, 15, 158, 1_394, 9_809, 46_381, 97_254, 34_966, 102]));
    assert_eq!(answers[1]["counts"], json!([1, 10, 73, 500, 3_078, 15_528, 57_180, 91_654, 21_849, 207]));
}

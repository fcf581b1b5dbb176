//! What must not change the facts of a solve: where it is cut in two, what the colours are called, and which
//! way round the whole thing is written.

use std::fs;

use crate::support::solver::{Options, Rng, Solver};
use cornerwise::annotate::{Settings, annotate};
use cornerwise::cube::{Axis, Colour, Face, FaceSet, Hold, Move, Moves, Position, Slice};
use cornerwise::diagnostic::Source;
use cornerwise::record::{self, Record};
use cornerwise::replay::Replay;
use cornerwise::report;
use cornerwise::study::Study;
use proptest::prelude::*;
use serde_json::Value;

fn facts(scramble: &str, solution: &str, sight: FaceSet) -> Value {
    let source = Source::new("it", format!("scramble: {scramble}\nsolution: |\n  {solution}\n"));
    let record: &Record = &record::read(&source).records[0];
    let settings = Settings { sight: Some(sight), ..Settings::default() };
    let annotated = annotate(&Study::new(&source, 1, record), &settings);
    serde_json::from_str(&report::json::line(&annotated.facts)).expect("JSON")
}

/// Scramble and solution of every record kept here, as they are played.
fn kept() -> Vec<(Vec<Move>, Vec<Move>)> {
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/reconstructions");
    let mut solves = Vec::new();
    for entry in fs::read_dir(folder).expect("the folder") {
        let path = entry.expect("an entry").path();
        if path.extension().is_some_and(|e| e == "yaml" || e == "txt") {
            let source = Source::new("kept", fs::read_to_string(&path).expect("text"));
            for record in record::read(&source).records {
                solves.push((record.scramble.playable().collect(), record.solution.playable().collect()));
            }
        }
    }
    solves
}

fn made(n: usize) -> Vec<(Vec<Move>, Vec<Move>)> {
    let (mut solver, mut rng) = (Solver::new(), Rng::new(51));
    let options = |i| Options { xcross: i % 4 == 0, two_pairs: i % 5 == 0, ..Options::default() };
    let solves = (0..n).map(|i| solver.random(&mut rng, &options(i)).respelled(&mut rng));
    solves.map(|solve| (solve.scramble.clone(), solve.moves().collect())).collect()
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::default() })]

    /// Playing on from where the first part ended gives the moments of the whole.
    #[test]
    fn a_solution_may_be_replayed_in_parts(
        scramble in prop::collection::vec(prop::sample::select(&Move::ALL[..]), 0..25),
        solution in prop::collection::vec(prop::sample::select(&Move::ALL[..]), 0..80),
        cut in any::<prop::sample::Index>(),
    ) {
        let whole = Replay::new(scramble.iter().copied(), solution.iter().copied());
        let cut = cut.index(solution.len() + 1);
        let (first, second) = solution.split_at(cut);
        let one = Replay::new(scramble.iter().copied(), first.iter().copied());
        let two = Replay::from_position(*one.end(), second.iter().copied());
        prop_assert_eq!(&whole.moments[..=cut], &one.moments[..]);
        prop_assert_eq!(&whole.moments[cut..], &two.moments[..]);
        // The scramble is only the part that nobody watches.
        let on = Replay::new(scramble.iter().chain(first).copied(), second.iter().copied());
        prop_assert_eq!(&on.moments, &two.moments);
    }
}

/// The same through text and annotation, at every place of every record.
#[test]
fn what_is_cut_off_the_solution_may_be_put_to_the_scramble() {
    for (scramble, solution) in kept() {
        let text = |moves: &[Move]| Moves::of(moves).to_string();
        let whole = facts(&text(&scramble), &text(&solution), record::DEFAULT_SIGHT);
        for cut in (0..solution.len()).step_by(5) {
            let scramble: Vec<Move> = scramble.iter().chain(&solution[..cut]).copied().collect();
            let rest = facts(&text(&scramble), &text(&solution[cut..]), record::DEFAULT_SIGHT);
            let shown = |facts: &Value, moment: usize| {
                let here = &facts["moments"][moment];
                (here["stickers"].clone(), here["hold"].clone())
            };
            for moment in cut..=solution.len() {
                assert_eq!(shown(&whole, moment), shown(&rest, moment - cut));
            }
            assert_eq!(whole["solved"], rest["solved"]);
        }
    }
}

/// What a word of the facts becomes; `None` for one that is dropped.
struct Renaming {
    colours: fn(Hold, Colour) -> Colour,
    faces: fn(Hold, Face) -> Face,
    by: Hold,
}

impl Renaming {
    fn colour(&self, name: &str) -> Option<String> {
        let colour = Colour::ALL.into_iter().find(|colour| colour.to_string() == name)?;
        Some((self.colours)(self.by, colour).to_string())
    }

    /// Colours, pairs and places become others; any other word stays.
    fn word(&self, field: &str, word: &str) -> String {
        if let Some(colour) = self.colour(word) {
            return colour;
        }
        if field == "untold" {
            let words = word.split(' ').map(|word| self.colour(word).unwrap_or_else(|| word.to_owned()));
            return words.collect::<Vec<_>>().join(" ");
        }
        // A pair or a piece.
        let colours: Option<Vec<String>> = word.split('-').map(|name| self.colour(name)).collect();
        if let Some(mut names) = colours {
            names.sort();
            return names.join("-");
        }
        let is_place = matches!(
            field,
            "from" | "to" | "corner" | "edge" | "place" | "way" | "before" | "face" | "faces" | "sight"
        );
        if is_place && word.chars().all(|c| "UDFBRL".contains(c)) {
            return self.places(word);
        }
        if field == "stickers" {
            let all = |letter| Colour::ALL.into_iter().find(|&colour| Colour::letter(colour) == letter);
            let other = |letter| Colour::letter((self.colours)(self.by, all(letter).expect("a colour")));
            return word.chars().map(other).collect();
        }
        word.to_string()
    }

    fn places(&self, word: &str) -> String {
        let face = |c: char| Face::ALL.into_iter().find(|face| face.to_string() == c.to_string());
        let mut faces: Vec<Face> =
            word.chars().map(|c| (self.faces)(self.by, face(c).expect("a face"))).collect();
        faces.sort();
        faces.iter().map(Face::to_string).collect()
    }

    /// The facts renamed, without the fields in `dropped` and with lists of pairs in an order of their own:
    /// theirs is that of the names.
    fn facts(&self, field: &str, value: &Value, dropped: &[&str]) -> Value {
        match value {
            Value::String(word) => Value::String(self.word(field, word)),
            Value::Array(items) => {
                let mut items: Vec<Value> =
                    items.iter().map(|item| self.facts(field, item, dropped)).collect();
                if matches!(field, "pairs" | "offers" | "to_play" | "ruled_out" | "lanes") {
                    items.sort_by_key(Value::to_string);
                }
                Value::Array(items)
            }
            Value::Object(fields) => {
                let kept = fields.iter().filter(|(name, _)| !dropped.contains(&name.as_str()));
                kept.map(|(name, field)| (name.clone(), self.facts(name, field, dropped))).collect()
            }
            other => other.clone(),
        }
    }
}

/// Of equally good things the first by name is shown, and names change.
const TIES: [&str; 5] = ["more", "alternatives", "cheapest", "cleaner", "instead"];
/// Words for people have names in them.
const WORDS: [&str; 9] =
    ["file", "scramble", "text", "spelled", "written", "token", "span", "line", "column"];

/// The whole cube is turned before it is scrambled: each colour has another's name, and nothing else changes.
#[test]
fn colours_are_names() {
    let stays = Renaming { colours: |_, colour| colour, faces: |_, face| face, by: Hold::START };
    let dropped: Vec<&str> = TIES.into_iter().chain(WORDS).collect();
    for (n, (scramble, solution)) in kept().into_iter().chain(made(24)).enumerate() {
        let hold = Hold::ALL[(n * 7 + 5) % 24];
        let turned = rotations_to(hold);
        let renamed = Renaming {
            colours: |hold, colour| hold.colour(Hold::START.face(colour)),
            faces: |_, face| face,
            by: hold,
        };
        let one = facts(
            &Moves::of(&scramble).to_string(),
            &Moves::of(&solution).to_string(),
            record::DEFAULT_SIGHT,
        );
        let other = facts(
            &Moves::of(&turned.into_iter().chain(scramble).collect::<Vec<_>>()).to_string(),
            &Moves::of(&solution).to_string(),
            record::DEFAULT_SIGHT,
        );
        let (one, other) = (renamed.facts("", &one, &dropped), stays.facts("", &other, &dropped));
        assert_same(&one, &other, &format!("record {n}"));
    }
}

/// Rotations that bring the starting hold to this one.
fn rotations_to(hold: Hold) -> Vec<Move> {
    let rotations: Vec<Move> = Move::ALL.into_iter().filter(|mv| matches!(mv, Move::Rotation(..))).collect();
    let none = std::iter::once(Vec::new());
    let one = rotations.iter().map(|&mv| vec![mv]);
    let two = rotations.iter().flat_map(|&a| rotations.iter().map(move |&b| vec![a, b]));
    none.chain(one)
        .chain(two)
        .find(|moves| Position::SOLVED.after(moves.iter().copied()).hold == hold)
        .expect("two rotations reach every hold")
}

/// Every token is written for a cube that is held another way round, and the solver looks at the same stickers:
/// places and colours have other names, and of the facts nothing changes but what a turn costs the hands.
#[test]
fn a_solve_may_be_written_from_another_side() {
    let stays = Renaming { colours: |_, colour| colour, faces: |_, face| face, by: Hold::START };
    let dropped: Vec<&str> =
        TIES.into_iter().chain(WORDS).chain(["choice", "losses", "hold", "stickers", "missing"]).collect();
    for (n, (scramble, solution)) in kept().into_iter().chain(made(24)).enumerate() {
        let hold = Hold::ALL[(n * 5 + 1) % 24];
        let renamed = Renaming {
            colours: |hold, colour| hold.colour(Hold::START.face(colour)),
            faces: from_side,
            by: hold,
        };
        let written = |moves: &[Move]| {
            Moves::of(&moves.iter().map(|&mv| token_from_side(hold, mv)).collect::<Vec<_>>()).to_string()
        };
        let sight = record::DEFAULT_SIGHT.iter().map(|face| from_side(hold, face)).collect();
        let one = facts(
            &Moves::of(&scramble).to_string(),
            &Moves::of(&solution).to_string(),
            record::DEFAULT_SIGHT,
        );
        let other = facts(&written(&scramble), &written(&solution), sight);
        let (one, other) = (renamed.facts("", &one, &dropped), stays.facts("", &other, &dropped));
        assert_same(&one, &other, &format!("record {n}"));
    }
}

/// Where a face of the starting hold lies for someone to whom the cube is turned as `hold` says.
fn from_side(hold: Hold, face: Face) -> Face {
    Hold::START.face(hold.colour(face))
}

fn token_from_side(hold: Hold, mv: Move) -> Move {
    match mv {
        Move::Turn(face, amount) => Move::Turn(from_side(hold, face), amount),
        Move::Wide(face, amount) => Move::Wide(from_side(hold, face), amount),
        Move::Slice(slice, amount) => {
            let face = from_side(hold, slice.face());
            match Slice::ALL.into_iter().find(|slice| slice.face() == face) {
                Some(slice) => Move::Slice(slice, amount),
                None => {
                    let slice = Slice::ALL.into_iter().find(|slice| slice.face() == face.opposite());
                    Move::Slice(slice.expect("one lies between them"), amount.inverse())
                }
            }
        }
        Move::Rotation(axis, amount) => {
            let face = from_side(hold, axis.face());
            match Axis::ALL.into_iter().find(|axis| axis.face() == face) {
                Some(axis) => Move::Rotation(axis, amount),
                None => {
                    let axis = Axis::ALL.into_iter().find(|axis| axis.face() == face.opposite());
                    Move::Rotation(axis.expect("one lies along it"), amount.inverse())
                }
            }
        }
    }
}

/// Field by field, so that a difference is short to read.
#[track_caller]
fn assert_same(one: &Value, other: &Value, at: &str) {
    match (one, other) {
        (Value::Object(a), Value::Object(b)) => {
            assert!(a.keys().eq(b.keys()), "{at}");
            a.iter().for_each(|(name, value)| assert_same(value, &b[name], &format!("{at} / {name}")));
        }
        (Value::Array(a), Value::Array(b)) if a.len() == b.len() => {
            a.iter().zip(b).enumerate().for_each(|(i, (a, b))| assert_same(a, b, &format!("{at} / {i}")));
        }
        _ => assert_eq!(one, other, "{at}"),
    }
}

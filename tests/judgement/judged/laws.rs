//! What must hold of any judgement, whatever the solve.

use cornerwise::cube::{Axis, Colour, Face, FaceSet, Hold, Move, Pair, Position};
use cornerwise::hands::{HalfUnits, Handling};
use cornerwise::judgement::{Choice, Judged, Offer, Settings, Verdict};
use cornerwise::replay::Replay;
use cornerwise::search;

use super::solves::{Played, made, nameless};

/// Nothing is left out.
fn all_of_it() -> Settings {
    Settings { alternatives: usize::MAX, slack: HalfUnits::from_halves(2000), ..Settings::default() }
}

/// The pair of this cross with the same side colours.
fn in_cross(sides: [Colour; 2], cross: Colour) -> Pair {
    let mut all = Pair::all(cross).into_iter();
    all.find(|pair| pair.sides().iter().all(|side| sides.contains(side))).expect("both sides touch the cross")
}

#[test]
fn another_colouring_changes_names_only() {
    for played in made(31) {
        let settings = Settings::default();
        let judged = played.judged(&settings);
        let cross = played.solve.cross.expect("a cross");
        for hold in Hold::ALL.into_iter().step_by(7) {
            // The solve begins in another hold of a solved cube: its scramble undone takes it there.
            let recoloured = |colour: Colour| hold.colour(Hold::START.face(colour));
            let back: Vec<Move> = played.replay.moves.iter().rev().map(|mv| mv.inverse()).collect();
            let first = played.replay.start();
            let ended = first.after(played.replay.moves.iter().copied());
            assert!(ended.state.is_solved());
            let [up, front] = [Face::U, Face::F].map(|face| recoloured(ended.hold.colour(face)));
            let end = Position { hold: Hold::new(up, front).expect("neighbours"), ..Position::SOLVED };
            let start = end.after(back);
            let other =
                Played::new(Replay::from_position(start, played.replay.moves.iter().copied()), played.sight);
            assert_eq!(other.solve.cross, Some(recoloured(cross)));
            let renamed = |pair: Pair| in_cross(pair.sides().map(recoloured), recoloured(cross));
            assert_eq!(nameless(&other.judged(&settings), &|pair| pair), nameless(&judged, &renamed));
        }
    }
}

#[test]
fn a_mirror_changes_left_and_right_only() {
    for played in made(32) {
        let settings = Settings::default();
        let cross = played.solve.cross.expect("a cross");
        let back: Vec<Move> = played.replay.moves.iter().rev().map(|&mv| mirrored(mv).inverse()).collect();
        let ended = played.replay.end();
        let [up, front] = [Face::U, Face::F].map(|face| mirrored_colour(ended.hold.colour(face)));
        let end = Position { hold: Hold::new(up, front).expect("neighbours"), ..Position::SOLVED };
        let sight = played.sight.iter().fold(FaceSet::EMPTY, |set, face| set.with(mirrored_face(face)));
        let moves = played.replay.moves.iter().map(|&mv| mirrored(mv));
        let other = Played::new(Replay::from_position(end.after(back), moves), sight);
        assert_eq!(other.solve.cross, Some(mirrored_colour(cross)));
        let renamed = |pair: Pair| in_cross(pair.sides().map(mirrored_colour), mirrored_colour(cross));
        let judged = played.judged(&settings);
        assert_eq!(nameless(&other.judged(&settings), &|pair| pair), nameless(&judged, &renamed));
    }
}

#[test]
fn more_slack_never_loses_an_offer() {
    let mut met = 0;
    for played in made(33).into_iter().chain(made(35)) {
        let mut before: Option<Vec<Vec<Offer>>> = None;
        for halves in [0, 1, 2, 4, 10] {
            let settings = Settings {
                slack: HalfUnits::from_halves(halves),
                alternatives: usize::MAX,
                ..Settings::default()
            };
            let steps = played.pair_steps(&settings).into_iter();
            let choices = steps.filter_map(|(_, judged)| judged.choice);
            let now: Vec<Vec<Offer>> = choices.map(|choice| choice.alternatives).collect();
            for (old, new) in before.iter().flatten().zip(&now) {
                assert!(new.starts_with(old), "what was best stays best");
                met += old.len();
            }
            before = Some(now);
        }
    }
    assert!(met > 20, "{met}");
}

#[test]
fn a_larger_bound_loses_an_offer_only_to_a_cheaper_line_of_the_same_pairs() {
    let (mut kept, mut lost) = (0, Vec::new());
    for played in made(34).into_iter().chain(made(36)) {
        let cross = played.solve.cross.expect("a cross");
        let mut before: Option<Vec<(usize, Judged)>> = None;
        for within in 5..=9 {
            let settings = Settings { within, ..all_of_it() };
            let now = played.pair_steps(&settings);
            for ((step, old), (_, new)) in before.iter().flatten().zip(&now) {
                let (Some(old), Some(choice)) = (choice_of(old), choice_of(new)) else { continue };
                assert_eq!(old.verdict == Verdict::Kept, choice.verdict == Verdict::Kept);
                for offer in &old.alternatives {
                    if choice.alternatives.iter().any(|other| other.end.state == offer.end.state) {
                        kept += 1;
                        continue;
                    }
                    let start = played.start(*step);
                    let all = Pair::all(cross);
                    let lines = search::lines(&start.state, cross, search::Kind::Hand, new.within);
                    let same = |line: &&search::Line| {
                        all.iter().all(|pair| line.solves(*pair) == offer.solves.contains(pair))
                    };
                    let cheaper = lines.iter().filter(same).find(|line| {
                        let handling = Handling::new(line.turns(), cross, &settings.weights);
                        handling.cost(start.hold).halves() + 1 < offer.cost.halves()
                    });
                    let cheaper = cheaper.unwrap_or_else(|| panic!("nothing is cheaper than {offer:?}"));
                    lost.push(cheaper.turns().to_vec());
                }
            }
            before = Some(now);
        }
    }
    assert!(kept > 20 && !lost.is_empty(), "{kept} kept, lost to {lost:?}");
}

fn choice_of(judged: &Judged) -> Option<&Choice> {
    judged.choice.as_ref()
}

/// How many alternatives are shown changes nothing else.
#[test]
fn showing_nothing_changes_no_verdict() {
    for played in made(35).iter().take(4) {
        let none = Settings { alternatives: 0, ..Settings::default() };
        let verdicts = |settings: &Settings| -> Vec<Option<Verdict>> {
            let steps = played.pair_steps(settings).into_iter();
            steps.map(|(_, judged)| judged.choice.map(|choice| choice.verdict)).collect()
        };
        assert_eq!(verdicts(&none), verdicts(&Settings::default()));
        assert_eq!(verdicts(&none), verdicts(&Settings { alternatives: usize::MAX, ..Settings::default() }));
    }
}

fn mirrored_face(face: Face) -> Face {
    if matches!(face, Face::L | Face::R) { face.opposite() } else { face }
}

/// In the hold of a scramble red is right and orange left.
fn mirrored_colour(colour: Colour) -> Colour {
    if matches!(colour, Colour::Red | Colour::Orange) { colour.opposite() } else { colour }
}

/// What the move looks like in a mirror beside the cube. A turn about the axis to the mirror looks the same in sense
/// but has changed sides, which for R and L is the inverse of the other; about another axis the sense is reversed.
fn mirrored(mv: Move) -> Move {
    use cornerwise::cube::Slice;
    match mv {
        Move::Turn(face, amount) => Move::Turn(mirrored_face(face), amount.inverse()),
        Move::Wide(face, amount) => Move::Wide(mirrored_face(face), amount.inverse()),
        Move::Slice(Slice::M, amount) => Move::Slice(Slice::M, amount),
        Move::Slice(slice, amount) => Move::Slice(slice, amount.inverse()),
        Move::Rotation(Axis::X, amount) => Move::Rotation(Axis::X, amount),
        Move::Rotation(axis, amount) => Move::Rotation(axis, amount.inverse()),
    }
}

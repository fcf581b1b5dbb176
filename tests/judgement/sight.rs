//! Seen and known against brute force, and the facts that must hold of them in any step.

use std::collections::{BTreeMap, BTreeSet};

use crate::support::elimination::{Name, name, remaining, stickers_in_sight};
use crate::support::random::Random;
use crate::support::space::{Space, sides_of};
use cornerwise::cube::{Colour, Corner, Edge, Face, FaceSet, Move, Pair, Position};
use cornerwise::sight::{Found, Piece, Pieces, Watch};
use proptest::prelude::*;

/// The moments of a step: the position after `scramble`, then after each move of `step`.
fn moments(scramble: &[Move], step: &[Move]) -> Vec<Position> {
    let mut position = Position::SOLVED.after(scramble.iter().copied());
    let mut moments = vec![position];
    for &mv in step {
        position.play(mv);
        moments.push(position);
    }
    moments
}

fn every_piece() -> impl Iterator<Item = Piece> {
    Corner::ALL.into_iter().map(Piece::Corner).chain(Edge::ALL.into_iter().map(Piece::Edge))
}

fn colours(piece: Piece) -> Vec<Colour> {
    match piece {
        Piece::Corner(corner) => corner.colours().to_vec(),
        Piece::Edge(edge) => edge.colours().to_vec(),
    }
}

fn faces(bits: usize) -> FaceSet {
    Face::ALL.into_iter().filter(|&face| bits >> face as usize & 1 != 0).collect()
}

/// One random step: where it starts, its moves, what is in sight and which pairs are known from the start.
fn random_step(random: &mut Random) -> (Vec<Move>, Vec<Move>, FaceSet, Colour, Vec<Pair>) {
    let cross = random.pick(&Colour::ALL);
    let scramble = random.sequence(&Move::ALL, 20, 30);
    let step = random.sequence(&Move::ALL, 1, 6);
    // Three faces that meet, as a rule; now and then any set, the empty one and all six among them.
    let sight = match random.below(3) {
        0 => faces(random.below(64)),
        _ => FaceSet::of(&[
            random.pick(&[Face::U, Face::D]),
            random.pick(&[Face::F, Face::B]),
            random.pick(&[Face::R, Face::L]),
        ]),
    };
    // At least one pair is in hand in a pair step; in a cross step there may be none.
    let given: Vec<Pair> = Pair::all(cross).into_iter().filter(|_| random.below(2) == 0).collect();
    (scramble, step, sight, cross, given)
}

#[test]
fn known_is_what_every_assignment_agrees_on() {
    let mut random = Random::new(3);
    let (mut moments_compared, mut by_elimination, mut open_questions) = (0, 0, 0);
    for _ in 0..400 {
        let (scramble, step, sight, cross, given) = random_step(&mut random);
        let positions = moments(&scramble, &step);
        let watch = Watch::new(&positions, Pieces::cross_and(cross, given.iter().copied()), sight);

        let mut known: BTreeSet<Name> =
            sides_of(cross).into_iter().map(|side| name(&[cross, side])).collect();
        for pair in &given {
            known.insert(name(&pair.corner.colours()));
            known.insert(name(&pair.edge.colours()));
        }
        let mut oriented = known.clone();
        let mut space = Space::played(&scramble);
        for (offset, position) in positions.iter().enumerate() {
            if offset > 0 {
                space.play(step[offset - 1]);
            }
            let mut possible: BTreeMap<Name, BTreeSet<Name>> = BTreeMap::new();
            for sides in [3, 2] {
                possible.extend(remaining(&space, sides, &known, sight).every_assignment());
            }
            by_elimination += possible
                .iter()
                .filter(|(piece, places)| places.len() == 1 && stickers_in_sight(&space, piece, sight) < 2)
                .count();
            known.extend(possible.iter().filter(|(_, places)| places.len() == 1).map(|(p, _)| p.clone()));
            for piece in &known {
                if stickers_in_sight(&space, piece, sight) > 0 {
                    oriented.insert(piece.clone());
                }
            }
            open_questions += possible.values().filter(|places| places.len() > 1).count();

            for piece in every_piece() {
                let name = name(&colours(piece));
                let places: BTreeSet<Name> = match piece {
                    Piece::Corner(corner) => watch
                        .corner_places(corner, offset)
                        .map(|place| self::name(&position.state.corner_in(place).colours()))
                        .collect(),
                    Piece::Edge(edge) => watch
                        .edge_places(edge, offset)
                        .map(|place| self::name(&position.state.edge_in(place).colours()))
                        .collect(),
                };
                let expected = possible.get(&name).cloned().unwrap_or_else(|| BTreeSet::from([name.clone()]));
                assert_eq!(places, expected, "{name:?} at {offset} of {step:?} after {scramble:?}, {sight}");
                assert_eq!(watch.known_at(offset).contains(piece), known.contains(&name));
                let glimpse = match piece {
                    Piece::Corner(corner) => watch
                        .corner_track(corner)
                        .nth(offset)
                        .map(|g| (g.stickers, g.known, g.oriented, g.possible)),
                    Piece::Edge(edge) => watch
                        .edge_track(edge)
                        .nth(offset)
                        .map(|g| (g.stickers, g.known, g.oriented, g.possible)),
                };
                let stickers = stickers_in_sight(&space, &name, sight);
                let expected = (stickers, known.contains(&name), oriented.contains(&name), expected.len());
                assert_eq!(
                    glimpse,
                    Some(expected),
                    "{name:?} at {offset} of {step:?} after {scramble:?}, {sight}"
                );
            }
            moments_compared += 1;
        }
    }
    // The cases are worth something: much was found by elimination alone, and much was not found.
    assert!(moments_compared > 1000, "{moments_compared} moments");
    assert!(by_elimination > 500, "{by_elimination} pieces found by elimination");
    assert!(open_questions > 500, "{open_questions} pieces not found");
}

#[test]
fn one_sticker_and_elimination_find_a_corner() {
    // On a solved cube four corners are in plain sight from up, front and right. Of the others only one has
    // white, which shows at UBL; only one has green, which shows at DFL; only one has red, which shows at DBR.
    // So the last must be at DBL, where nothing is in sight: its place is known and its orientation is not.
    let watch = Watch::new(&[Position::SOLVED], Pieces::EMPTY, FaceSet::of(&[Face::U, Face::F, Face::R]));
    let at = |colours: [Colour; 3]| Corner::with_colours(colours.into_iter().collect()).expect("a corner");
    use Colour::{Blue, Orange, White, Yellow};
    let one_sticker = watch.corner(at([White, Orange, Blue]));
    assert_eq!(one_sticker, Found { seen: None, known: Some(0), oriented: Some(0) });
    let nowhere_else = watch.corner(at([Yellow, Blue, Orange]));
    assert_eq!(nowhere_else, Found { seen: None, known: Some(0), oriented: None });
}

#[test]
fn a_known_piece_is_followed_to_where_nothing_shows() {
    // Plain sight at UFL, then an `L2` carries it to DBL, where no sticker is in sight.
    let step = [Move::Turn(Face::L, cornerwise::cube::Amount::Half)];
    let positions = moments(&[], &step);
    let watch = Watch::new(&positions, Pieces::EMPTY, FaceSet::of(&[Face::F]));
    let ufl = Corner::with_colours([Colour::White, Colour::Green, Colour::Orange].into_iter().collect());
    let track: Vec<_> = watch.corner_track(ufl.expect("a corner")).collect();
    assert_eq!((track[0].stickers, track[0].known), (1, false));
    let watch = Watch::new(&positions, Pieces::EMPTY, FaceSet::of(&[Face::U, Face::F]));
    let track: Vec<_> = watch.corner_track(ufl.expect("a corner")).collect();
    assert_eq!((track[0].stickers, track[0].known), (2, true));
    assert_eq!((track[1].stickers, track[1].known, track[1].oriented), (0, true, true));
}

/// `None` is later than any moment.
fn no_later(a: Option<usize>, b: Option<usize>) -> bool {
    a.unwrap_or(usize::MAX) <= b.unwrap_or(usize::MAX)
}

fn any_move() -> impl Strategy<Value = Move> {
    prop::sample::select(&Move::ALL[..])
}

prop_compose! {
    fn any_step()(
        scramble in prop::collection::vec(any_move(), 0..30),
        step in prop::collection::vec(any_move(), 0..12),
        sight in 0..64_usize,
        cross in prop::sample::select(&Colour::ALL[..]),
        given in 0..16_usize,
    ) -> (Vec<Position>, Vec<Move>, FaceSet, Colour, Pieces) {
        let pairs = Pair::all(cross).into_iter().enumerate().filter(|(i, _)| given >> i & 1 != 0);
        let given = Pieces::cross_and(cross, pairs.map(|(_, pair)| pair));
        (moments(&scramble, &step), step, faces(sight), cross, given)
    }
}

proptest! {
    #[test]
    fn known_is_never_later_than_seen((positions, _, sight, _, given) in any_step()) {
        let watch = Watch::new(&positions, given, sight);
        for piece in every_piece() {
            let found = watch.piece(piece);
            prop_assert!(no_later(found.known, found.oriented), "{piece:?} {found:?}");
            prop_assert!(no_later(found.oriented, found.seen), "{piece:?} {found:?}");
        }
    }

    #[test]
    fn more_faces_never_make_it_later(
        (positions, _, sight, _, given) in any_step(),
        more in 0..64_usize,
    ) {
        let watch = Watch::new(&positions, given, sight);
        let wider = Watch::new(&positions, given, sight.union(faces(more)));
        for piece in every_piece() {
            let (found, with_more) = (watch.piece(piece), wider.piece(piece));
            prop_assert!(no_later(with_more.seen, found.seen));
            prop_assert!(no_later(with_more.known, found.known));
            prop_assert!(no_later(with_more.oriented, found.oriented));
        }
    }

    #[test]
    fn knowing_more_to_begin_with_never_makes_it_later(
        (positions, _, sight, _, given) in any_step(),
        extra in prop::sample::select(every_piece().collect::<Vec<_>>()),
    ) {
        let watch = Watch::new(&positions, given, sight);
        let wiser = Watch::new(&positions, given.with(extra), sight);
        for piece in every_piece() {
            prop_assert!(no_later(wiser.piece(piece).known, watch.piece(piece).known));
        }
    }

    #[test]
    fn six_faces_show_everything_at_once((positions, _, _, _, given) in any_step()) {
        let watch = Watch::new(&positions, given, FaceSet::ALL);
        for piece in every_piece() {
            prop_assert_eq!(watch.piece(piece), Found { seen: Some(0), known: Some(0), oriented: Some(0) });
        }
    }

    #[test]
    fn what_is_known_stays_known((positions, _, sight, _, given) in any_step()) {
        let watch = Watch::new(&positions, given, sight);
        prop_assert!(watch.known_at(0).is_superset(given));
        for offset in 1..watch.len() {
            prop_assert!(watch.known_at(offset).is_superset(watch.known_at(offset - 1)));
        }
    }

    #[test]
    fn one_unknown_corner_is_known((positions, _, sight, _, _) in any_step(), last in 0..8_usize) {
        let all_but_one = Corner::ALL.into_iter().filter(|corner| corner.index() != last);
        let given = all_but_one.map(Piece::Corner).collect();
        let watch = Watch::new(&positions, given, sight);
        prop_assert_eq!(watch.corner(Corner::ALL[last]).known, Some(0));
    }
}

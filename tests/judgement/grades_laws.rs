//! Laws of the three grades and of the scan, on made solves.

use cornerwise::cube::{
    Amount, Axis, Colour, ColourSet, Corner, Edge, Face, FaceSet, Hold, Move, Pair, Position,
};
use cornerwise::look_ahead::{LaneGrade, LookAhead};
use cornerwise::replay::Replay;
use cornerwise::scan::{Tier, is_up, scan, tier_to_play};
use cornerwise::sight::grades::{Deduction, Found, Grade, Left};
use cornerwise::sight::{Moments, Piece, Pieces, Watch};
use cornerwise::steps::Kind;

use super::grades::{Played, UFR};
use crate::support::rewrite::kinds_of_solve;
use crate::support::solver::{Rng, Solver};

fn every_piece() -> impl Iterator<Item = Piece> {
    Corner::ALL.into_iter().map(Piece::Corner).chain(Edge::ALL.into_iter().map(Piece::Edge))
}

/// Solves made to order, of every kind the generator knows.
fn made(seed: u64, count: usize, mut check: impl FnMut(&[Move], &[Move])) {
    let (mut solver, mut rng) = (Solver::new(), Rng::new(seed));
    let kinds = kinds_of_solve();
    for n in 0..count {
        let solve = solver.random(&mut rng, &kinds[n % kinds.len()]);
        check(&solve.scramble, &solve.moves().collect::<Vec<_>>());
    }
}

fn no_later(a: Option<usize>, b: Option<usize>) -> bool {
    a.unwrap_or(usize::MAX) <= b.unwrap_or(usize::MAX)
}

/// Plain implies found implies known; what the grades say at one moment is what the step as a whole says.
///
/// It must hold: a piece that is found earlier is known earlier, so what is accounted for is known, and then the one
/// sticker or the one place leaves perfect elimination no other piece either.
#[test]
fn plain_implies_found_implies_known() {
    let (mut deduced, mut only_place, mut known_only) = (0, 0, 0);
    made(61, 500, |scramble, solution| {
        let played = Played::from(Position::SOLVED.after(scramble.iter().copied()), solution.to_vec());
        let look = played.look();
        let cross = played.solve.cross.expect("a cross");
        for (index, step) in played.solve.steps.iter().enumerate() {
            let Some(looked) = look.step(index) else { continue };
            let given = played.solve.solved_before(index).into_iter().chain(step.pairs.iter().copied());
            let positions = looked.step().positions();
            let watch = Watch::new(positions, Pieces::cross_and(cross, given), UFR);
            for piece in look.left(index).iter().flat_map(|left| Piece::of_pair(left.pair)) {
                let found = looked.found(piece);
                let watched = watch.piece(piece);
                assert_eq!(found.plain, watched.seen);
                assert!(no_later(found.found(), found.plain));
                assert!(
                    no_later(watched.known, found.found()),
                    "{piece:?} in {solution:?} after {scramble:?}"
                );
                let grades: Vec<Grade> = (0..positions.len()).map(|m| looked.grade(piece, m)).collect();
                assert_eq!(found.found(), grades.iter().position(|&grade| grade != Grade::Hidden));
                assert_eq!(found.plain, grades.iter().position(|&grade| grade == Grade::Plain));
                for (offset, &grade) in grades.iter().enumerate() {
                    assert!(grade == Grade::Hidden || watch.known_at(offset).contains(piece));
                    assert!(looked.found_by(piece, offset) || grade == Grade::Hidden);
                    // The last moment belongs to the eyes of the next step.
                    let lost = look.lane_grade(piece, step.from + offset) == LaneGrade::NotFound;
                    assert!(offset + 1 == grades.len() || lost != looked.found_by(piece, offset));
                }
                deduced += usize::from(found.deduced.is_some());
                only_place += usize::from(found.deduced.is_some_and(|(_, how)| how == Deduction::OnlyPlace));
                known_only += usize::from(watched.known.is_some() && found.found().is_none());
            }
            // Nothing is found of what is not to be found.
            let others =
                every_piece().filter(|&piece| looked.followed(piece, 0) && !looked.found_by(piece, 0));
            for piece in others {
                assert_eq!(looked.found(piece), Found::default());
            }
        }
    });
    assert!(deduced > 500 && only_place > 50 && known_only > 50, "{deduced} {only_place} {known_only}");
}

/// It holds, and why: a piece that is plain stays plain; one that shows one sticker shows the same one or two; what is
/// accounted for only grows, by what is plain now and, from moment to moment, by what was found before; and a place
/// that shows more can only be ruled out.
#[test]
fn more_faces_never_make_a_pair_late() {
    let mut rng = Rng::new(62);
    let mut became_ready = 0;
    made(62, 500, |scramble, solution| {
        let played = Played::from(Position::SOLVED.after(scramble.iter().copied()), solution.to_vec());
        let faces =
            |bits: usize| Face::ALL.into_iter().filter(|&f| bits >> f as usize & 1 != 0).collect::<FaceSet>();
        let sight = if rng.chance(0.5) { UFR } else { faces(rng.below(64)) };
        let more = faces(rng.below(64));
        let (look, wider) = (played.look_with(sight), played.look_with(sight.union(more)));
        for index in 0..played.solve.steps.len() {
            for (left, with_more) in look.left(index).iter().zip(wider.left(index)) {
                assert!(with_more.ready || !left.ready);
                assert!(with_more.plain_ready || !left.plain_ready);
                for (found, with_more) in [(left.corner, with_more.corner), (left.edge, with_more.edge)] {
                    assert!(no_later(with_more.found(), found.found()), "{sight} and {more}");
                    assert!(no_later(with_more.plain, found.plain));
                }
                became_ready += usize::from(with_more.ready && !left.ready);
            }
        }
    });
    assert!(became_ready > 50, "{became_ready}");
}

/// The same solve in a mirror: left and right changed places and every turn goes the other way round.
fn mirrored(mv: Move) -> Move {
    let face = |face: Face| match face {
        Face::L => Face::R,
        Face::R => Face::L,
        other => other,
    };
    match mv {
        Move::Turn(f, amount) => Move::Turn(face(f), amount.inverse()),
        Move::Wide(f, amount) => Move::Wide(face(f), amount.inverse()),
        // A mirrored `M` still follows the left face, which is now the right one: the same turn.
        Move::Slice(cornerwise::cube::Slice::M, amount) => Move::Slice(cornerwise::cube::Slice::M, amount),
        Move::Slice(slice, amount) => Move::Slice(slice, amount.inverse()),
        Move::Rotation(Axis::X, amount) => Move::Rotation(Axis::X, amount),
        Move::Rotation(axis, amount) => Move::Rotation(axis, amount.inverse()),
    }
}

fn renamed(pair: Pair, cross: Colour, colour: impl Fn(Colour) -> Colour) -> Pair {
    let [a, b] = pair.sides();
    let sides = ColourSet::of(&[colour(a), colour(b)]);
    let all = Pair::all(colour(cross));
    all.into_iter().find(|other| ColourSet::of(&other.sides()) == sides).expect("one of the four")
}

#[test]
fn a_mirrored_and_a_recoloured_solve_see_the_same() {
    let mut rng = Rng::new(63);
    made(63, 300, |scramble, solution| {
        let played = Played::from(Position::SOLVED.after(scramble.iter().copied()), solution.to_vec());
        let cross = played.solve.cross.expect("a cross");
        let look = played.look();
        let mirror = |moves: &[Move]| moves.iter().map(|&mv| mirrored(mv)).collect::<Vec<_>>();
        let in_mirror = Played::from(Position::SOLVED.after(mirror(scramble)), mirror(solution));
        let red_for_orange = |colour: Colour| match colour {
            Colour::Red => Colour::Orange,
            Colour::Orange => Colour::Red,
            other => other,
        };
        let hold = Hold::ALL[rng.below(24)];
        let start = Position { hold, ..Position::SOLVED };
        let recoloured = Played::from(start.after(scramble.iter().copied()), solution.to_vec());
        let by_hold = |colour: Colour| hold.colour(Hold::START.face(colour));
        let mirror_look = in_mirror.look_with(FaceSet::of(&[Face::U, Face::F, Face::L]));
        let recoloured_look = recoloured.look();
        let views: [(&LookAhead<'_>, &dyn Fn(Colour) -> Colour); 2] =
            [(&mirror_look, &red_for_orange), (&recoloured_look, &by_hold)];
        for index in 0..played.solve.steps.len() {
            for left in look.left(index) {
                for (other, colour) in views {
                    let pair = renamed(left.pair, cross, colour);
                    let same = other.left(index).into_iter().find(|other| other.pair == pair);
                    assert_eq!(same, Some(Left { pair, ..left }));
                }
            }
        }
    });
}

/// The scan before the turns are known asks one question of lifted and slot; and at a step's first moment, if no
/// open corner is up, every open slot holds the corner of an open pair (there is nowhere else for them).
#[test]
fn the_scan_before_the_turns_and_after() {
    let mut met = [0; 4];
    made(64, 300, |scramble, solution| {
        let played = Played::from(Position::SOLVED.after(scramble.iter().copied()), solution.to_vec());
        let cross = played.solve.cross.expect("a cross");
        let look = played.look();
        for (index, step) in played.solve.steps.iter().enumerate() {
            let Some(looked) = look.step(index) else { continue };
            let open = played.solve.open_before(index);
            let target: &[Pair] = if step.kind == Kind::Pair { &step.pairs } else { &[] };
            let scanned = scan(looked.step(), cross, &open, &step.pairs, target);
            let pairs: Vec<Pair> = look.left(index).iter().map(|left| left.pair).collect();
            assert_eq!(scanned.len(), pairs.len());
            assert!(scanned.is_sorted_by_key(|scanned| scanned.tier));
            let (from, to) = (&looked.step().positions()[0].state, &looked.step().last().state);
            for one in &scanned {
                let corner = one.pair.corner;
                let before = tier_to_play(corner, cross, target, from);
                let expected = match one.tier {
                    Tier::Lifted => {
                        assert!(is_up(to, corner, cross));
                        Tier::Slot
                    }
                    tier => tier,
                };
                assert_eq!(before, expected);
                assert_eq!(one.buried, one.tier == Tier::Top && !is_up(to, corner, cross));
                assert_eq!(
                    (one.corner.up_at_first, one.corner.up_at_last),
                    (is_up(from, corner, cross), is_up(to, corner, cross))
                );
                met[Tier::ALL.iter().position(|&tier| tier == one.tier).expect("a tier")] += 1;
            }
            if step.kind == Kind::Pair && open.iter().all(|pair| !is_up(from, pair.corner, cross)) {
                let held =
                    |slot: &Pair| open.iter().any(|pair| from.corner_in(slot.corner.home()) == pair.corner);
                assert!(open.iter().all(held));
            }
        }
    });
    assert!(met.iter().all(|&n| n > 20), "{met:?}");
}

/// A rotation carries nothing: it only gives places other names.
#[test]
fn a_rotation_is_no_stage_of_a_way() {
    let turns = [Move::Rotation(Axis::Y, Amount::Quarter), Move::Turn(Face::U, Amount::Quarter)];
    let replay = Replay::from_position(Position::SOLVED, turns);
    let step = Moments::new(&replay.moments, &turns);
    let pair = Pair::all(Colour::Yellow)[0];
    let up = Piece::Corner(
        Corner::ALL
            .into_iter()
            .find(|c| c.has(Colour::White) && !c.has(Colour::Red) && !c.has(Colour::Blue))
            .expect("white, green, orange"),
    );
    let way = cornerwise::sight::travel(step, Colour::Yellow, up).way;
    assert_eq!(way.iter().map(|stage| stage.offset).collect::<Vec<_>>(), [2]);
    assert!(cornerwise::sight::travel(step, Colour::Yellow, Piece::Corner(pair.corner)).way.is_empty());
}

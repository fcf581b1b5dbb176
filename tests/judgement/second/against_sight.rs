//! What the eyes have, by the library and by stickers in space: grades, found and how, ready and lead.

use cornerwise::cube::{self, FaceSet, Position};
use cornerwise::sight::grades::{self, Deduction, Grade as Theirs, Looked};
use cornerwise::sight::{Moments, Piece};

use super::sight::{Grade, Watched};
use super::steps::{MadeStep, steps};
use super::stickers;
use crate::support::switch;

/// The library's name of a pair.
pub fn named(cross: cube::Colour, [a, b]: stickers::Pair) -> cube::Pair {
    let is_it = |pair: &cube::Pair| pair.sides().contains(&a) && pair.sides().contains(&b);
    cube::Pair::all(cross).into_iter().find(is_it).expect("a pair of the cross")
}

/// The positions of a step, for the library.
pub fn positions(step: &MadeStep) -> Vec<Position> {
    let mut all = vec![Position::SOLVED.after(step.before.iter().copied())];
    for &mv in &step.moves {
        all.push(all[all.len() - 1].after([mv]));
    }
    all
}

#[derive(Default, Debug)]
struct Counted {
    steps: usize,
    pairs: usize,
    moments: usize,
    plain: usize,
    one_sticker: usize,
    only_place: usize,
    ready: usize,
    ready_by_plain_sight: usize,
}

fn compare(made: &MadeStep, counted: &mut Counted) {
    let moments = made.start().moments(&made.moves);
    let step = made.seen(&moments);
    let positions = positions(made);
    let to_library =
        |pairs: &[stickers::Pair]| pairs.iter().map(|&p| named(made.cross, p)).collect::<Vec<_>>();
    let mut open = cube::Pair::all(made.cross).to_vec();
    open.retain(|pair| !to_library(&made.solved).contains(pair));
    let looked = Looked::new(
        Moments::new(&positions, &made.moves),
        made.cross,
        &open,
        &to_library(&made.in_hand),
        FaceSet::of(&made.sight),
    );
    let said = || super::written(&[made.before.as_slice(), &made.moves].concat());

    counted.steps += 1;
    let (corners, edges) = (step.watch(3), step.watch(2));
    for (i, (pair, all, plain)) in step.found(3).into_iter().enumerate() {
        let theirs = looked.left(named(made.cross, pair), 3);
        assert_eq!((theirs.ready, theirs.lead), (all.ready, all.lead), "{pair:?} in {}", said());
        assert_eq!(
            (theirs.plain_ready, theirs.plain_lead),
            (plain.ready, plain.lead),
            "{pair:?} in {}",
            said()
        );
        counted.pairs += 1;
        counted.ready += usize::from(all.ready);
        counted.ready_by_plain_sight += usize::from(plain.ready);
        let names = [Piece::Corner(theirs.pair.corner), Piece::Edge(theirs.pair.edge)];
        for (watched, piece, found) in
            [(&corners[i], names[0], theirs.corner), (&edges[i], names[1], theirs.edge)]
        {
            compare_piece(watched, &looked, piece, found, counted, &said);
        }
    }
}

fn compare_piece(
    watched: &Watched,
    looked: &Looked<'_>,
    piece: Piece,
    found: grades::Found,
    counted: &mut Counted,
    said: &dyn Fn() -> String,
) {
    let how = |deduction| match deduction {
        Deduction::OneSticker => Grade::OneSticker,
        Deduction::OnlyPlace => Grade::OnlyPlace,
    };
    assert_eq!(found.plain, watched.plain, "{watched:?} in {}", said());
    let theirs = found.deduced.map(|(moment, by)| (moment, how(by)));
    let ours = watched.found.filter(|&(_, grade)| grade != Grade::Plain);
    assert_eq!(theirs, ours, "{watched:?} in {}", said());
    assert_eq!(found.found(), watched.found.map(|(moment, _)| moment), "{watched:?} in {}", said());
    for (moment, grade) in watched.grades.iter().enumerate() {
        let theirs = looked.grade(piece, moment);
        let followed = watched.found.is_some_and(|(found, _)| found < moment);
        let expected = match grade {
            Grade::Plain => Theirs::Plain,
            Grade::OneSticker | Grade::OnlyPlace => Theirs::Deduced,
            Grade::Hidden => Theirs::Hidden,
        };
        // Of a piece that is followed only plain sight is asked here.
        if !followed || expected == Theirs::Plain || theirs == Theirs::Plain {
            assert_eq!(theirs, expected, "{watched:?} at {moment} in {}", said());
        }
        counted.moments += 1;
        match grade {
            Grade::Plain => counted.plain += 1,
            Grade::OneSticker => counted.one_sticker += 1,
            Grade::OnlyPlace => counted.only_place += 1,
            Grade::Hidden => {}
        }
    }
}

#[test]
fn sight_is_the_same_on_made_steps() {
    let mut counted = Counted::default();
    for step in steps(super::seed(501), if switch::slow() { 2000 } else { 150 }, true) {
        compare(&step, &mut counted);
    }
    super::say(&format!("sight: {counted:?}"));
    assert!(
        counted.one_sticker > 0 && counted.only_place > 0 && counted.ready > counted.ready_by_plain_sight
    );
}

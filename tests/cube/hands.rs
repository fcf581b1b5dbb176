//! What a line costs the hands, held against a plain search over every token sequence, and its laws.

use std::collections::BTreeSet;

use crate::support::random::Random;
use crate::support::switch;
use cornerwise::cube::{Amount, Axis, Colour, Face, FaceTurn, Hold, Move, Position, State};
use cornerwise::hands::{Handling, Way, Weights, at_least, canonical, merged, turns_of};

/// How many sequences a law is tried on.
fn many() -> usize {
    if switch::slow() { 10_000 } else { 600 }
}

/// Turns with the cross down: what hands play, what they hardly would, and anything at all.
fn sequence(random: &mut Random, cross: Colour) -> Vec<FaceTurn> {
    let upright: Vec<Hold> = Hold::ALL.into_iter().filter(|hold| hold.colour(Face::D) == cross).collect();
    let sides = [Face::F, Face::B, Face::R, Face::L];
    let mut turns = Vec::new();
    let add = |hold: Hold, face: Face, amount: Amount, turns: &mut Vec<FaceTurn>| {
        turns.push(FaceTurn { centre: hold.colour(face), amount });
    };
    for _ in 0..1 + random.below(3) {
        let hold = random.pick(&upright);
        let [a, b] = [random.pick(&sides), random.pick(&sides)];
        let [k, l] = [random.pick(&Amount::ALL), random.pick(&Amount::ALL)];
        match random.below(6) {
            0 => add(hold, Face::U, k, &mut turns),
            1 | 2 => {
                add(hold, a, k, &mut turns);
                add(hold, Face::U, l, &mut turns);
                add(hold, a, k.inverse(), &mut turns);
            }
            3 => {
                add(hold, a, k, &mut turns);
                add(hold, b, l, &mut turns);
                add(hold, a, k.inverse(), &mut turns);
                add(hold, b, l.inverse(), &mut turns);
            }
            4 => {
                add(hold, Face::D, k, &mut turns);
                add(hold, a, l, &mut turns);
                add(hold, Face::U, k, &mut turns);
                add(hold, a, l.inverse(), &mut turns);
                add(hold, Face::D, k.inverse(), &mut turns);
            }
            _ => add(hold, random.pick(&Face::ALL), k, &mut turns),
        }
    }
    merged(&turns)
}

/// In halves, read off the table of the method.
fn token_cost(mv: Move, last: &mut Option<Face>, weights: &Weights) -> i32 {
    let cost = match mv {
        Move::Rotation(_, Amount::Half) => weights.y2,
        Move::Rotation(..) => weights.y,
        Move::Wide(Face::D, Amount::Quarter | Amount::Back) => weights.wide_d,
        Move::Turn(face, amount) => {
            let quarter = match face {
                Face::R => weights.r,
                Face::L => weights.l,
                Face::U => weights.u,
                Face::D => weights.d,
                Face::F => weights.f,
                Face::B => weights.b,
            };
            let half = if amount == Amount::Half { weights.half.halves() } else { 0 };
            let mut switch = 0;
            if matches!(face, Face::R | Face::L) {
                if last.is_some_and(|last| last != face) {
                    switch = weights.switch.halves();
                }
                *last = Some(face);
            }
            return quarter.halves() + half + switch;
        }
        _ => panic!("hands play no {mv:?} here"),
    };
    cost.halves()
}

/// Every token sequence that plays the turns, found by trying every token that may stand anywhere.
struct Plain<'a> {
    cross: Colour,
    weights: &'a Weights,
    best: i32,
    ways: BTreeSet<Vec<Move>>,
}

impl Plain<'_> {
    fn search(
        turns: &[FaceTurn],
        from: Hold,
        cross: Colour,
        weights: &Weights,
    ) -> (i32, BTreeSet<Vec<Move>>) {
        let mut plain = Plain { cross, weights, best: i32::MAX, ways: BTreeSet::new() };
        let start = Position { state: State::SOLVED, hold: from };
        for order in orders(turns) {
            if turns.is_empty() || from.colour(Face::D) == cross {
                plain.go(start, &order, &mut Vec::new(), true);
                continue;
            }
            let rotations =
                || Axis::ALL.into_iter().flat_map(|axis| Amount::ALL.map(|by| Move::Rotation(axis, by)));
            let one = rotations().map(|mv| vec![mv]);
            let two = rotations().flat_map(|first| rotations().map(move |second| vec![first, second]));
            for mut moves in one.chain(two) {
                let now = start.after(moves.iter().copied());
                if now.hold.colour(Face::D) == cross {
                    plain.go(now, &order, &mut moves, false);
                }
            }
        }
        (plain.best, plain.ways)
    }

    fn go(&mut self, at: Position, left: &[FaceTurn], moves: &mut Vec<Move>, may_rotate: bool) {
        let Some((&turn, rest)) = left.split_first() else {
            let mut last = None;
            let cost = moves.iter().map(|&mv| token_cost(mv, &mut last, self.weights)).sum();
            if cost < self.best {
                self.best = cost;
                self.ways.clear();
            }
            if cost == self.best {
                self.ways.insert(moves.clone());
            }
            return;
        };
        let whole = at.state.cross_solved(self.cross);
        for mv in Move::ALL {
            let fits = match mv {
                Move::Turn(..) => true,
                Move::Wide(Face::D, amount) => whole && amount != Amount::Half,
                Move::Rotation(Axis::Y, _) => whole && may_rotate,
                _ => false,
            };
            if !fits || mv.resolve(at.hold).turns().any(|done| done != turn) {
                continue;
            }
            moves.push(mv);
            let rotated = mv.is_rotation();
            self.go(at.after([mv]), if rotated { left } else { rest }, moves, !rotated);
            moves.pop();
        }
    }
}

fn orders(turns: &[FaceTurn]) -> Vec<Vec<FaceTurn>> {
    let mut all = vec![turns.to_vec()];
    for i in 1..turns.len() {
        if turns[i].centre == turns[i - 1].centre.opposite() {
            for mut order in all.clone() {
                order.swap(i - 1, i);
                all.push(order);
            }
        }
    }
    all
}

#[test]
fn no_token_sequence_is_cheaper_and_all_that_are_as_cheap_are_known() {
    let odd: [Weights; 4] = [
        Weights::default(),
        "b=1,f=1,switch=2,y=0.5".parse().expect("weights"),
        "l=2,wide-d=1,y2=5".parse().expect("weights"),
        "half=0,switch=0,y=1,y2=1,d=1".parse().expect("weights"),
    ];
    let mut random = Random::new(12);
    let (mut rotated, mut wide, mut several) = (0, 0, 0);
    for i in 0..many() {
        let cross = random.pick(&Colour::ALL);
        let turns = sequence(&mut random, cross);
        let mut from = random.pick(&Hold::ALL);
        if i % 4 != 0 {
            // Mostly the cross is down.
            while from.colour(Face::D) != cross {
                from = random.pick(&Hold::ALL);
            }
        }
        let weights = &odd[if i % 2 == 0 { 0 } else { i / 2 % 4 }];
        let handling = Handling::new(&turns, cross, weights);
        let (cost, ways) = Plain::search(&turns, from, cross, weights);
        assert_eq!(handling.cost(from).halves(), cost, "{turns:?} from {from:?} with {weights}");
        let found = handling.ways(from);
        let tokens: Vec<Vec<Move>> = found.iter().map(|way| way.moves.clone()).collect();
        assert_eq!(tokens, ways.into_iter().collect::<Vec<_>>(), "each way once, in the order of tokens");
        for Way { moves, hold } in &found {
            let end = Position { hold: from, ..Position::SOLVED }.after(moves.iter().copied());
            assert_eq!(end.hold, *hold);
            assert_eq!(end.state, turns.iter().fold(State::SOLVED, |state, &turn| state.turned(turn)));
        }
        assert!(at_least(&turns, cross, weights) <= handling.cost(from));
        rotated += usize::from(tokens.iter().any(|moves| moves.iter().any(|mv| mv.is_rotation())));
        wide += usize::from(tokens.iter().any(|moves| moves.iter().any(|mv| matches!(mv, Move::Wide(..)))));
        several += usize::from(tokens.len() > 1);
    }
    assert!(rotated > many() / 5 && wide > many() / 50 && several > many() / 5, "{rotated} {wide} {several}");
}

fn mirrored_face(face: Face) -> Face {
    if matches!(face, Face::L | Face::R) { face.opposite() } else { face }
}

/// Scrambled white up and green in front, red is right and orange left.
fn mirrored_colour(colour: Colour) -> Colour {
    if matches!(colour, Colour::Red | Colour::Orange) { colour.opposite() } else { colour }
}

#[test]
fn a_mirror_image_costs_the_same() {
    let mut random = Random::new(34);
    for _ in 0..many() {
        let cross = random.pick(&Colour::ALL);
        let turns = sequence(&mut random, cross);
        let from = random.pick(&Hold::ALL);
        let mirror = turns
            .iter()
            .map(|turn| FaceTurn { centre: mirrored_colour(turn.centre), amount: turn.amount.inverse() });
        let mirror: Vec<FaceTurn> = mirror.collect();
        let [up, front] = [Face::U, Face::F].map(|face| mirrored_colour(from.colour(face)));
        let mirror_from = Hold::new(up, front).expect("neighbours");
        assert_eq!(mirror_from.colour(mirrored_face(Face::R)), mirrored_colour(from.colour(Face::R)));
        let weights = Weights::default();
        let there = Handling::new(&mirror, mirrored_colour(cross), &weights);
        let here = Handling::new(&turns, cross, &weights);
        assert_eq!(there.cost(mirror_from), here.cost(from));
        assert_eq!(there.ways(mirror_from).len(), here.ways(from).len());
    }
}

/// The tokens with the cube turned now and then, wide turns and slices among them, the same layers turning.
fn respelled(random: &mut Random, turns: &[FaceTurn], from: Hold) -> Vec<Move> {
    let mut hold = from;
    let mut moves = Vec::new();
    let mut i = 0;
    while i < turns.len() {
        if random.below(3) == 0 {
            let rotation = Move::Rotation(random.pick(&Axis::ALL), random.pick(&Amount::ALL));
            hold = rotation.resolve(hold).hold;
            moves.push(rotation);
        }
        let spellings: Vec<(Move, usize)> = Move::ALL
            .into_iter()
            .filter_map(|mv| {
                let done: Vec<FaceTurn> = mv.resolve(hold).turns().collect();
                (!done.is_empty() && turns[i..].starts_with(&done)).then_some((mv, done.len()))
            })
            .collect();
        let (mv, n) = random.pick(&spellings);
        hold = mv.resolve(hold).hold;
        moves.push(mv);
        i += n;
    }
    moves
}

#[test]
fn the_same_turns_cost_the_same_however_they_are_written() {
    let mut random = Random::new(56);
    for _ in 0..many() {
        let cross = random.pick(&Colour::ALL);
        let turns = sequence(&mut random, cross);
        let from = random.pick(&Hold::ALL);
        let order = random.pick(&(0..orders(&turns).len()).collect::<Vec<_>>());
        let moves = respelled(&mut random, &orders(&turns)[order], from);
        let read = turns_of(from, &moves);
        assert_eq!(canonical(&read), canonical(&turns));
        let weights = Weights::default();
        let [one, other] = [&turns, &read].map(|turns| Handling::new(turns, cross, &weights));
        assert_eq!(one.cost(from), other.cost(from));
        assert_eq!(one.ways(from), other.ways(from));
    }
}

#[test]
fn another_colouring_costs_the_same() {
    let mut random = Random::new(78);
    for _ in 0..many() {
        let cross = random.pick(&Colour::ALL);
        let turns = sequence(&mut random, cross);
        let [from, by] = [random.pick(&Hold::ALL), random.pick(&Hold::ALL)];
        let recoloured = |colour: Colour| by.colour(Hold::START.face(colour));
        let other: Vec<FaceTurn> =
            turns.iter().map(|turn| FaceTurn { centre: recoloured(turn.centre), ..*turn }).collect();
        let [up, front] = [Face::U, Face::F].map(|face| recoloured(from.colour(face)));
        let other_from = Hold::new(up, front).expect("neighbours");
        let weights = Weights::default();
        let there = Handling::new(&other, recoloured(cross), &weights);
        let here = Handling::new(&turns, cross, &weights);
        assert_eq!(there.cost(other_from), here.cost(from));
        let tokens = |ways: Vec<Way>| ways.into_iter().map(|way| way.moves).collect::<Vec<_>>();
        assert_eq!(tokens(there.ways(other_from)), tokens(here.ways(from)));
    }
}

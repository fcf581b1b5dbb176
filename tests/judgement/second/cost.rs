//! What turns cost the hands (docs/method.md), by playing them in every way there is.
//!
//! In half units throughout, as docs/method.md counts.

use cornerwise::cube::{Amount, Axis, Colour, Face, Move};

use super::stickers::Cube;

/// A turn of a layer, named by its centre so that no hold matters, with its quarter turns clockwise.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Turn {
    pub centre: Colour,
    pub quarters: u8,
}

/// A way to play turns.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Way {
    pub cost: u32,
    pub tokens: Vec<Move>,
}

/// The table of docs/method.md.
#[derive(Debug, Clone)]
pub struct Table {
    /// A quarter turn of each face.
    pub r: u32,
    pub l: u32,
    pub u: u32,
    pub d: u32,
    pub f: u32,
    pub b: u32,
    pub half: u32,
    pub wide: u32,
    pub spin: u32,
    pub spin_twice: u32,
    pub other_hand: u32,
}

impl Default for Table {
    fn default() -> Table {
        Table { r: 2, l: 2, u: 2, d: 4, f: 4, b: 6, half: 1, wide: 4, spin: 3, spin_twice: 4, other_hand: 1 }
    }
}

pub fn amount(quarters: u8) -> Amount {
    match quarters {
        1 => Amount::Quarter,
        2 => Amount::Half,
        _ => Amount::Back,
    }
}

/// The turns of the layers that the moves come to, with turns of one face merged wherever they meet. Neighbours of
/// opposite faces stand in the order of their colours.
pub fn merged(start: &Cube, moves: &[Move]) -> Vec<Turn> {
    let mut cube = *start;
    let mut turns: Vec<Turn> = Vec::new();
    let mut add = |centre: Colour, quarters: u8| {
        // Only turns of the opposite face may stand between it and the turn it meets.
        let opposite = super::opposite(centre);
        let meets = turns.iter().rposition(|turn| turn.centre != opposite);
        match meets.filter(|&i| turns[i].centre == centre) {
            Some(i) => {
                turns[i].quarters = (turns[i].quarters + quarters) % 4;
                if turns[i].quarters == 0 {
                    turns.remove(i);
                }
            }
            None => turns.push(Turn { centre, quarters }),
        }
    };
    for &mv in moves {
        let at = |face: Face| cube.centre(face);
        match mv {
            Move::Rotation(..) => {}
            Move::Turn(face, amount) => add(at(face), amount as u8),
            // Both layers of a wide turn are all but the opposite one, which then turns with the cube.
            Move::Wide(face, amount) => add(at(face.opposite()), amount as u8),
            // A slice leaves both outer layers behind, one of which turns as the other does not.
            Move::Slice(slice, amount) => {
                let face = match slice.to_string().as_str() {
                    "M" => Face::L,
                    "E" => Face::D,
                    _ => Face::F,
                };
                add(at(face), 4 - amount as u8);
                add(at(face.opposite()), amount as u8);
            }
        }
        cube = cube.after(&[mv]);
    }
    in_one_order(&mut turns);
    turns
}

/// Puts neighbours of opposite faces into the order of their colours.
pub fn in_one_order(turns: &mut [Turn]) {
    for i in 1..turns.len() {
        if turns[i - 1].centre == super::opposite(turns[i].centre) && turns[i - 1].centre > turns[i].centre {
            turns.swap(i - 1, i);
        }
    }
}

/// The turns in every order of neighbours of opposite faces.
pub fn orders(turns: &[Turn]) -> Vec<Vec<Turn>> {
    let mut all = vec![turns.to_vec()];
    for i in 1..turns.len() {
        if turns[i - 1].centre == super::opposite(turns[i].centre) {
            for mut order in all.clone() {
                order.swap(i - 1, i);
                all.push(order);
            }
        }
    }
    all
}

/// All ways of least cost to play the turns, from a cube on which the cross is whole.
pub fn ways(start: &Cube, cross: Colour, turns: &[Turn], table: &Table) -> Vec<Way> {
    debug_assert!(start.cross_is_whole(cross));
    let mut hands = Hands { cross, table, best: u32::MAX, ways: Vec::new() };
    for order in orders(turns) {
        if start.centre(Face::D) == cross {
            hands.play(start, &order, None, true, &mut Vec::new(), 0);
            continue;
        }
        // One or two rotations bring the cross down first.
        let rotations = Move::ALL.into_iter().filter(|mv| matches!(mv, Move::Rotation(..)));
        let one: Vec<Vec<Move>> = rotations.map(|mv| vec![mv]).collect();
        let two = one.iter().flat_map(|a| one.iter().map(|b| [a.as_slice(), b].concat()));
        for mut first in one.iter().cloned().chain(two) {
            let cube = start.after(&first);
            if cube.centre(Face::D) == cross {
                let spent = first.iter().map(|&mv| hands.rotation(mv)).sum();
                hands.play(&cube, &order, None, false, &mut first, spent);
            }
        }
    }
    hands.ways.sort_by(|a, b| a.tokens.cmp(&b.tokens));
    hands.ways.dedup();
    hands.ways
}

struct Hands<'a> {
    cross: Colour,
    table: &'a Table,
    best: u32,
    ways: Vec<Way>,
}

impl Hands<'_> {
    fn rotation(&self, mv: Move) -> u32 {
        match mv {
            Move::Rotation(_, Amount::Half) => self.table.spin_twice,
            _ => self.table.spin,
        }
    }

    /// Plays the turns that are left. `hand` is the face of the last turn of R or L.
    fn play(
        &mut self,
        cube: &Cube,
        left: &[Turn],
        hand: Option<Face>,
        may_rotate: bool,
        tokens: &mut Vec<Move>,
        spent: u32,
    ) {
        if spent > self.best {
            return;
        }
        let Some((&turn, rest)) = left.split_first() else {
            if spent < self.best {
                self.best = spent;
                self.ways.clear();
            }
            self.ways.push(Way { cost: spent, tokens: tokens.clone() });
            return;
        };
        // What may come next: a token, what it costs, the hand it is of, whether it is the turn.
        let mut next: Vec<(Move, u32, Option<Face>, bool)> = Vec::new();
        let whole = cube.cross_is_whole(self.cross);
        if whole && may_rotate {
            for amount in Amount::ALL {
                let mv = Move::Rotation(Axis::Y, amount);
                next.push((mv, self.rotation(mv), hand, false));
            }
        }
        let face = cube.face_of(turn.centre);
        let mut cost = match face {
            Face::R => self.table.r,
            Face::L => self.table.l,
            Face::U => self.table.u,
            Face::D => self.table.d,
            Face::F => self.table.f,
            Face::B => self.table.b,
        };
        let mut of_hand = hand;
        if matches!(face, Face::R | Face::L) {
            if hand == Some(face.opposite()) {
                cost += self.table.other_hand;
            }
            of_hand = Some(face);
        }
        if turn.quarters == 2 {
            cost += self.table.half;
        }
        next.push((Move::Turn(face, amount(turn.quarters)), cost, of_hand, true));
        if whole && face == Face::U && turn.quarters != 2 {
            next.push((Move::Wide(Face::D, amount(turn.quarters)), self.table.wide, hand, true));
        }
        for (mv, cost, hand, is_turn) in next {
            tokens.push(mv);
            let left = if is_turn { rest } else { left };
            self.play(&cube.after(&[mv]), left, hand, is_turn, tokens, spent + cost);
            tokens.pop();
        }
    }
}

//! The least cost of a line, and all the ways that cost no more.
//!
//! A dynamic programme from the end of the line to its start: at each moment, for each of the four holds and each answer
//! to "which of R and L turned last?", the least that is still to come. That answers for all holds at once.

use super::turns::merged;
use super::units::HalfUnits;
use super::upright::Upright;
use super::weights::Weights;
use crate::cube::{Amount, Axis, Colour, EdgeAt, Face, FaceTurn, Hold, Move, Pair};

/// Tokens that play a line, and the hold they end in.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Way {
    /// The tokens.
    pub moves: Vec<Move>,
    /// The hold after them.
    pub hold: Hold,
}

/// How a line can be played: its least cost from any hold, and the ways that cost it.
#[derive(Debug, Clone)]
pub struct Handling {
    upright: &'static Upright,
    weights: Weights,
    /// The moments of the line in every order of opposite neighbours; each leads to later ones only.
    moments: Vec<Moment>,
    /// For each moment, what is still to come if a rotation may come first.
    to_come: Vec<ByGrip>,
    /// The same at the first moment if no rotation may.
    at_once: ByGrip,
}

/// A moment of a line.
#[derive(Debug, Clone, Copy)]
struct Moment {
    /// Whether the cross is whole.
    whole: bool,
    /// The turns that may come next, and the moment after each.
    next: [Option<(FaceTurn, usize)>; 2],
}

/// Which of R and L turned last.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Last {
    Neither,
    R,
    L,
}

impl Last {
    const ALL: [Last; 3] = [Last::Neither, Last::R, Last::L];

    /// After a turn of this face.
    const fn then(self, face: Face) -> Last {
        match face {
            Face::R => Last::R,
            Face::L => Last::L,
            _ => self,
        }
    }

    /// Whether a turn of this face is one of the other of the two.
    const fn switches(self, face: Face) -> bool {
        matches!((self, face), (Last::R, Face::L) | (Last::L, Face::R))
    }
}

/// A cost for each of the four holds and each [`Last`].
type ByGrip = [[HalfUnits; 3]; 4];

/// More than any line costs.
const NEVER: HalfUnits = HalfUnits::from_halves(i32::MAX / 4);

/// One token of a way, as it is chosen: what it costs, and what it leads to.
struct Choice {
    mv: Move,
    cost: HalfUnits,
    moment: usize,
    grip: usize,
    last: Last,
}

/// Where a way goes on: a moment with its hold, after so many tokens and these two, a rotation and a turn.
#[derive(Debug, Clone, Copy)]
struct Ahead {
    moment: usize,
    grip: usize,
    last: Last,
    played: usize,
    tokens: [Option<Move>; 2],
}

impl Handling {
    /// How these turns can be played from a position whose cross, of this colour, is whole.
    #[must_use]
    pub fn new(turns: &[FaceTurn], cross: Colour, weights: &Weights) -> Handling {
        let upright = Upright::of(cross);
        let moments = moments(&merged(turns), cross);
        let mut handling = Handling {
            upright,
            weights: *weights,
            to_come: vec![[[HalfUnits::ZERO; 3]; 4]; moments.len()],
            at_once: [[HalfUnits::ZERO; 3]; 4],
            moments,
        };
        let last_moment = handling.moments.len() - 1;
        for moment in (0..last_moment).rev() {
            let at_once = handling.without_rotation(moment);
            let mut least = at_once;
            if handling.moments[moment].whole {
                for amount in Amount::ALL {
                    let cost = weights.rotation(amount);
                    for grip in 0..4 {
                        let from = &at_once[(grip + amount as usize) % 4];
                        for (least, &then) in least[grip].iter_mut().zip(from) {
                            *least = (*least).min(cost + then);
                        }
                    }
                }
            }
            handling.to_come[moment] = least;
            handling.at_once = at_once;
        }
        handling
    }

    /// The least cost from a hold.
    #[must_use]
    pub fn cost(&self, from: Hold) -> HalfUnits {
        match self.upright.number(from) {
            _ if self.is_empty() => HalfUnits::ZERO,
            Some(grip) => self.to_come[0][grip][Last::Neither as usize],
            None => {
                let ways = self.upright.brought_down(from).iter();
                let costs =
                    ways.map(|way| way.cost(&self.weights) + self.at_once[way.grip][Last::Neither as usize]);
                costs.min().expect("two rotations lead anywhere")
            }
        }
    }

    /// Every way that costs the least from a hold, in the order of their tokens.
    #[must_use]
    pub fn ways(&self, from: Hold) -> Vec<Way> {
        let mut ways = Vec::new();
        if self.is_empty() {
            ways.push(Way { moves: Vec::new(), hold: from });
            return ways;
        }
        let mut moves = Vec::with_capacity(self.moments.len() + 2);
        match self.upright.number(from) {
            Some(grip) => {
                let start = Ahead { moment: 0, grip, last: Last::Neither, played: 0, tokens: [None; 2] };
                self.walk(vec![start], &mut moves, &mut ways);
            }
            None => {
                let least = self.cost(from);
                for way in self.upright.brought_down(from) {
                    let left = least - way.cost(&self.weights);
                    if self.at_once[way.grip][Last::Neither as usize] == left {
                        moves.clone_from(&way.rotations);
                        let (grip, played) = (way.grip, moves.len());
                        let start = Ahead { moment: 0, grip, last: Last::Neither, played, tokens: [None; 2] };
                        let mut ahead = Vec::new();
                        self.play(start, left, &mut ahead);
                        self.walk(ahead, &mut moves, &mut ways);
                    }
                }
            }
        }
        ways.sort_unstable();
        ways
    }

    fn is_empty(&self) -> bool {
        self.moments.len() == 1
    }

    /// The least that is still to come from a moment if the next token is a turn.
    fn without_rotation(&self, moment: usize) -> ByGrip {
        let weights = &self.weights;
        let Moment { whole, next } = self.moments[moment];
        let mut least = [[NEVER; 3]; 4];
        // As in `choices`, for all holds at once.
        for (turn, moment) in next.into_iter().flatten() {
            let to_come = &self.to_come[moment];
            for grip in 0..4 {
                let face = self.upright.faces[grip][turn.centre as usize];
                let cost = weights.turn(face, turn.amount);
                for last in Last::ALL {
                    let switch = if last.switches(face) { weights.switch } else { HalfUnits::ZERO };
                    let then = to_come[grip][last.then(face) as usize];
                    let least = &mut least[grip][last as usize];
                    *least = (*least).min(cost + switch + then);
                }
                if face == Face::U && whole && turn.amount != Amount::Half {
                    let then = &to_come[turned_against(grip, turn.amount)];
                    for (least, &then) in least[grip].iter_mut().zip(then) {
                        *least = (*least).min(weights.wide_d + then);
                    }
                }
            }
        }
        least
    }

    /// The turns that may be played at a moment.
    #[inline]
    fn choices(&self, moment: usize, grip: usize, last: Last, mut to: impl FnMut(Choice)) {
        let weights = &self.weights;
        let Moment { whole, next } = self.moments[moment];
        for (turn, moment) in next.into_iter().flatten() {
            let face = self.upright.faces[grip][turn.centre as usize];
            let mut cost = weights.turn(face, turn.amount);
            if last.switches(face) {
                cost += weights.switch;
            }
            to(Choice { mv: Move::Turn(face, turn.amount), cost, moment, grip, last: last.then(face) });
            if face == Face::U && whole && turn.amount != Amount::Half {
                let grip = turned_against(grip, turn.amount);
                to(Choice { mv: Move::Wide(Face::D, turn.amount), cost: weights.wide_d, moment, grip, last });
            }
        }
    }

    /// Every way to go on at the least cost from what lies ahead, each begun with as many of `moves` as it says. A stack of
    /// its own, because a step may have thousands of turns.
    fn walk(&self, mut ahead: Vec<Ahead>, moves: &mut Vec<Move>, ways: &mut Vec<Way>) {
        while let Some(Ahead { moment, grip, last, played, tokens }) = ahead.pop() {
            moves.truncate(played);
            moves.extend(tokens.into_iter().flatten());
            if moment + 1 == self.moments.len() {
                ways.push(Way { moves: moves.clone(), hold: self.upright.holds[grip] });
                continue;
            }
            let played = moves.len();
            let left = self.to_come[moment][grip][last as usize];
            self.play(Ahead { moment, grip, last, played, tokens: [None; 2] }, left, &mut ahead);
            if self.moments[moment].whole {
                for amount in Amount::ALL {
                    let left = left - self.weights.rotation(amount);
                    let grip = (grip + amount as usize) % 4;
                    let tokens = [Some(Move::Rotation(Axis::Y, amount)), None];
                    self.play(Ahead { moment, grip, last, played, tokens }, left, &mut ahead);
                }
            }
        }
    }

    /// What may come next by a turn, where exactly `left` may be spent.
    fn play(&self, from: Ahead, left: HalfUnits, ahead: &mut Vec<Ahead>) {
        self.choices(from.moment, from.grip, from.last, |choice| {
            if choice.cost + self.to_come[choice.moment][choice.grip][choice.last as usize] == left {
                ahead.push(Ahead {
                    moment: choice.moment,
                    grip: choice.grip,
                    last: choice.last,
                    played: from.played,
                    tokens: [from.tokens[0], Some(choice.mv)],
                });
            }
        });
    }
}

/// The hold after a wide `d` that turns the cube under U as far as U would turn on it: as D does, against U.
const fn turned_against(grip: usize, amount: Amount) -> usize {
    (grip + 4 - amount as usize) % 4
}

/// No more than the turns cost in any hold, and quickly: each turn as cheap as it can be.
#[must_use]
pub fn at_least(turns: &[FaceTurn], cross: Colour, weights: &Weights) -> HalfUnits {
    let side = weights.r.min(weights.l).min(weights.f).min(weights.b);
    turns
        .iter()
        .map(|turn| {
            let half = turn.amount == Amount::Half;
            let quarter = if turn.centre == cross {
                weights.d
            } else if turn.centre != cross.opposite() {
                side
            } else if half {
                weights.u
            } else {
                weights.u.min(weights.wide_d)
            };
            if half { quarter + weights.half } else { quarter }
        })
        .sum()
}

/// The moments of merged turns, opposite neighbours in either order.
fn moments(turns: &[FaceTurn], cross: Colour) -> Vec<Moment> {
    let home = Pair::cross_edges(cross).map(EdgeAt::home);
    let mut edges = home;
    let turned = |edges: [EdgeAt; 4], turn: FaceTurn| edges.map(|edge| edge.turned(turn));
    let mut moments = Vec::with_capacity(turns.len() + 4);
    let mut i = 0;
    while i < turns.len() {
        let first = turns[i];
        let here = moments.len();
        let whole = edges == home;
        match turns.get(i + 1).filter(|second| second.centre == first.centre.opposite()) {
            Some(&second) => {
                let between =
                    |a, b| Moment { whole: turned(edges, a) == home, next: [Some((b, here + 3)), None] };
                moments.push(Moment { whole, next: [Some((first, here + 1)), Some((second, here + 2))] });
                moments.push(between(first, second));
                moments.push(between(second, first));
                edges = turned(turned(edges, first), second);
                i += 2;
            }
            None => {
                moments.push(Moment { whole, next: [Some((first, here + 1)), None] });
                edges = turned(edges, first);
                i += 1;
            }
        }
    }
    moments.push(Moment { whole: edges == home, next: [None, None] });
    moments
}

//! The cheapest unbroken order, by branch and bound.
//!
//! An order is a line after the other until all pairs are in, each in one of its least-cost ways from the hold in which
//! the one before ended. It is *unbroken* if during each line the pair that comes next is found in time, by the same
//! rules as in a played step ([`Looked`]). Of the first line it is not asked how its pair was found.
//!
//! The search goes through every order of every line that may be played, and leaves out only what cannot cost less than
//! what it has: nothing is sampled. Orders of equal cost are told apart by what had to be deduced, then by turns,
//! rotations and the order of tokens.

use super::lines::{Planner, Playable};
use crate::cube::{BySlot, Colour, FaceSet, Move, Pair, PairSet, Position};
use crate::hands::{HalfUnits, Handling};
use crate::sight::Moments;
use crate::sight::grades::{Left, Looked};

/// Pairs solved one after the other.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Order {
    /// The lines, in order.
    pub lines: Vec<OrderLine>,
    /// How many of the lines leave the next pair late: 0 in an unbroken order.
    pub late: usize,
    /// What they cost together.
    pub cost: HalfUnits,
}

/// A line of an [`Order`].
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct OrderLine {
    /// Where it begins.
    pub start: Position,
    /// The tokens.
    pub moves: Vec<Move>,
    /// Where it ends.
    pub end: Position,
    /// The pairs it solves.
    pub solves: Vec<Pair>,
    /// What it costs.
    pub cost: HalfUnits,
    /// What it leaves of the pair that comes next, of two at once of the one that stands for both; `None` for the last.
    pub next: Option<Left>,
}

impl OrderLine {
    /// Turns in OBTM.
    #[must_use]
    pub fn turns(&self) -> usize {
        self.moves.iter().map(|mv| mv.obtm()).sum()
    }
}

impl Order {
    /// Turns in OBTM.
    #[must_use]
    pub fn turns(&self) -> usize {
        self.lines.iter().map(OrderLine::turns).sum()
    }

    /// Rotations of the whole cube.
    #[must_use]
    pub fn rotations(&self) -> usize {
        self.lines.iter().flat_map(|line| &line.moves).filter(|mv| mv.is_rotation()).count()
    }

    /// Lines whose next pair is found only by working it out.
    fn deduced(&self) -> usize {
        self.lines.iter().filter(|line| line.next.is_some_and(|left| left.only_deduced())).count()
    }

    /// The order in which orders are preferred.
    fn key(&self) -> (usize, HalfUnits, usize, usize, usize) {
        (self.late, self.cost, self.deduced(), self.turns(), self.rotations())
    }

    fn before(&self, other: &Order) -> bool {
        let tokens = |order: &Order| -> Vec<Move> {
            order.lines.iter().flat_map(|line| line.moves.iter().copied()).collect()
        };
        self.key().cmp(&other.key()).then_with(|| tokens(self).cmp(&tokens(other))).is_lt()
    }
}

/// How much a search looked at.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Searched {
    /// Positions from which lines were asked for.
    pub positions: usize,
    /// Lines that were looked at in them.
    pub lines: usize,
}

impl Searched {
    /// Both together.
    #[must_use]
    pub const fn and(self, other: Searched) -> Searched {
        Searched { positions: self.positions + other.positions, lines: self.lines + other.lines }
    }
}

impl Planner {
    /// The best order from a position whose cross, of this colour, is whole, for someone with these faces in sight: the
    /// cheapest unbroken one, or where there is none, the cheapest of those with the fewest late pairs. With `first`, the
    /// best of those that solve this pair first. `None` if there is no order at all, or no pair is open.
    ///
    /// # Panics
    /// If the cross is not whole.
    #[must_use]
    pub fn best(
        &self,
        from: &Position,
        cross: Colour,
        sight: FaceSet,
        first: Option<Pair>,
    ) -> (Option<Order>, Searched) {
        let mut searched = Searched::default();
        for most_late in 0..4 {
            let (best, more) = self.with_late(from, cross, sight, first, most_late);
            searched = searched.and(more);
            if best.is_some() {
                return (best, searched);
            }
        }
        (None, searched)
    }

    /// The same, if it is unbroken; `None` if there is no unbroken order.
    ///
    /// # Panics
    /// If the cross is not whole.
    #[must_use]
    pub fn unbroken(
        &self,
        from: &Position,
        cross: Colour,
        sight: FaceSet,
        first: Option<Pair>,
    ) -> (Option<Order>, Searched) {
        self.with_late(from, cross, sight, first, 0)
    }

    /// The cheapest order with at most so many late pairs.
    fn with_late(
        &self,
        from: &Position,
        cross: Colour,
        sight: FaceSet,
        first: Option<Pair>,
        most_late: usize,
    ) -> (Option<Order>, Searched) {
        assert!(from.state.cross_solved(cross), "the cross is whole");
        let pairs = Pair::all(cross);
        let open: PairSet =
            pairs.into_iter().filter(|&pair| !from.state.pair_solved(pair)).map(Pair::slot).collect();
        let first = first.map(|first| PairSet::only(first.slot()));
        let (best, path, searched) = (None, Vec::new(), Searched::default());
        let mut search =
            Search { planner: self, cross, sight, pairs, first, most_late, best, path, searched };
        if !open.is_empty() {
            search.go(from, open, None, HalfUnits::ZERO, 0);
        }
        (search.best, search.searched)
    }

    /// The best order for each open pair that may come first, the best of all first.
    ///
    /// # Panics
    /// If the cross is not whole.
    #[must_use]
    pub fn best_for_each(&self, from: &Position, cross: Colour, sight: FaceSet) -> (Vec<Order>, Searched) {
        let mut searched = Searched::default();
        let mut orders: Vec<Order> = Vec::new();
        for pair in Pair::all(cross).into_iter().filter(|&pair| !from.state.pair_solved(pair)) {
            let (order, more) = self.best(from, cross, sight, Some(pair));
            searched = searched.and(more);
            // Two pairs solved at once come first together.
            orders.extend(order.filter(|order| !orders.contains(order)));
        }
        orders
            .sort_by(|a, b| if a.before(b) { std::cmp::Ordering::Less } else { std::cmp::Ordering::Greater });
        (orders, searched)
    }
}

/// A search under way.
struct Search<'a> {
    planner: &'a Planner,
    cross: Colour,
    sight: FaceSet,
    pairs: [Pair; 4],
    first: Option<PairSet>,
    /// How many late pairs are allowed. With one less there is no order, so every order has just as many.
    most_late: usize,
    best: Option<Order>,
    path: Vec<OrderLine>,
    searched: Searched,
}

const NO_COST: Option<HalfUnits> = None;

/// What a line leaves of each open pair.
type Lefts = BySlot<Option<Left>>;

impl Search<'_> {
    /// Goes on from a position with these pairs open. `lefts` is what the line before left of them.
    fn go(&mut self, at: &Position, open: PairSet, lefts: Option<&Lefts>, cost: HalfUnits, late: usize) {
        let playable = self.planner.playable(at, self.cross, open);
        self.searched.positions += 1;
        self.searched.lines += playable.len();
        let mut bounded: Vec<(HalfUnits, bool, Option<Left>, &Playable)> = Vec::new();
        for line in &playable {
            if lefts.is_none() && self.first.is_some_and(|first| (line.solves & first).is_empty()) {
                continue;
            }
            // Of pairs that come in with one line none has a price of its own.
            let next = lefts.and_then(|lefts| {
                let of_line = line.solves.iter().filter_map(|slot| lefts[slot]);
                of_line.reduce(|best, one| if one.rank(NO_COST) > best.rank(NO_COST) { one } else { best })
            });
            let is_late = next.is_some_and(|next| !next.ready);
            if late + usize::from(is_late) > self.most_late {
                continue;
            }
            let end = line.turns.iter().fold(at.state, |state, &turn| state.turned(turn));
            let left = open - line.solves;
            let bound = cost + line.cost + self.planner.at_least(&end, self.cross, left);
            bounded.push((bound, is_late, next, line));
        }
        bounded.sort_by_key(|&(bound, ..)| bound);
        for (bound, is_late, next, line) in bounded {
            if self.best.as_ref().is_some_and(|best| bound > best.cost) {
                break;
            }
            if let Some(before) = self.path.last_mut() {
                before.next = next;
            }
            self.play(at, open, line, cost + line.cost, late + usize::from(is_late));
        }
    }

    /// Goes on with a line, in each of its ways.
    fn play(&mut self, at: &Position, open: PairSet, line: &Playable, cost: HalfUnits, late: usize) {
        let solves: Vec<Pair> = line.solves.iter().map(|slot| self.pairs[slot.index()]).collect();
        let was_open: Vec<Pair> = open.iter().map(|slot| self.pairs[slot.index()]).collect();
        let still_open = open - line.solves;
        let handling = Handling::new(&line.turns, self.cross, &self.planner.settings().weights);
        for way in handling.ways(at.hold) {
            let mut positions = Vec::with_capacity(way.moves.len() + 1);
            positions.push(*at);
            for &mv in &way.moves {
                let mut position = positions[positions.len() - 1];
                position.play(mv);
                positions.push(position);
            }
            let end = positions[way.moves.len()];
            let played = OrderLine {
                start: *at,
                moves: way.moves,
                end,
                solves: solves.clone(),
                cost: line.cost,
                next: None,
            };
            if still_open.is_empty() {
                self.path.push(played);
                self.finish(cost, late);
                self.path.pop();
                continue;
            }
            let moments = Moments::new(&positions, &played.moves);
            let looked = Looked::new(moments, self.cross, &was_open, &solves, self.sight);
            let mut lefts = Lefts::default();
            for slot in still_open.iter() {
                let pair = self.pairs[slot.index()];
                lefts[slot] = Some(looked.left(pair, self.planner.settings().lead));
            }
            self.path.push(played);
            self.go(&end, still_open, Some(&lefts), cost, late);
            self.path.pop();
        }
    }

    /// All pairs are in.
    fn finish(&mut self, cost: HalfUnits, late: usize) {
        if self.best.as_ref().is_some_and(|best| cost > best.cost) {
            return;
        }
        let order = Order { lines: self.path.clone(), late, cost };
        if self.best.as_ref().is_none_or(|best| order.before(best)) {
            self.best = Some(order);
        }
    }
}

//! Drawing positions until one has the property.

use std::cell::Cell;

use super::draw;
use super::kind::Kind;
use super::random::Random;
use super::wish::{Like, Wish, turned_over};
use crate::cube::{Amount, Colour, Face, FaceTurn, Move, Pair, PairSet, Position, Slot, State};
use crate::hands::{HalfUnits, Handling};
use crate::plan::{Order, Planner};
use crate::scan::{Tier, tier, tier_to_play};
use crate::search;
use crate::sight::grades::{Deduction, Grade, Looked};
use crate::sight::{Moments, Piece};

/// How much better than all others the best first pair is where there is a choice.
pub(super) const CLEARLY: HalfUnits = HalfUnits::from_halves(4);

/// The longest line that counts where nothing may leave a pair ready, in face turns.
pub(super) const FORCED_WITHIN: usize = 9;

/// A line of a question, played.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Line {
    pub moves: Vec<Move>,
    pub cost: HalfUnits,
    pub solves: Vec<Pair>,
    pub end: Position,
}

/// A position that has the property, and what shows it.
#[derive(Debug, Clone)]
pub(super) struct Found {
    pub at: Position,
    pub open: Vec<Pair>,
    pub named: Option<Pair>,
    pub given: Vec<Line>,
    pub orders: Vec<Order>,
    pub turns: Vec<(Move, Vec<Pair>)>,
    /// The cross, where it is not done, and where it leads.
    pub cross: Option<(Vec<Move>, Position)>,
}

impl Found {
    fn at(at: Position, open: Vec<Pair>) -> Found {
        Found { at, open, named: None, given: Vec::new(), orders: Vec::new(), turns: Vec::new(), cross: None }
    }

    fn naming(self, pair: Pair) -> Found {
        Found { named: Some(pair), ..self }
    }
}

/// Whoever looks for positions.
pub(super) struct Finder<'a> {
    wish: &'a Wish,
    planner: &'a Planner,
    /// The fewest turns of an order that was too long, where all else was as wished.
    too_long: Cell<Option<usize>>,
}

impl<'a> Finder<'a> {
    pub fn new(wish: &'a Wish, planner: &'a Planner) -> Finder<'a> {
        Finder { wish, planner, too_long: Cell::new(None) }
    }

    /// How long the shortest order was among those to which only the length was wanting.
    pub fn shortest(&self) -> Option<usize> {
        self.too_long.get()
    }
}

impl Finder<'_> {
    /// Draws one position; `None` if it has not the property.
    pub fn draw(&self, random: &mut Random) -> Option<Found> {
        let Wish { kind, cross, .. } = *self.wish;
        let (_, hold) = turned_over(cross);
        if kind == Kind::Cross {
            return self.cross(Position { state: draw::any(random), hold });
        }
        let mut slots = Slot::ALL;
        random.shuffle(&mut slots);
        let set: PairSet = slots[..self.wish.n_open()].iter().copied().collect();
        let state = draw::with_open(random, cross, set);
        let at = Position { state, hold };
        if self.wish.like.as_ref().is_some_and(|like| *like != Like::of(&at, cross, self.wish.sight)) {
            return None;
        }
        let open: Vec<Pair> = set.iter().map(|slot| Pair::all(cross)[slot.index()]).collect();
        // Which pairs a question is about is drawn too, before it is asked whether it fits.
        let mut order = open.clone();
        random.shuffle(&mut order);
        let found = Found::at(at, open);
        match kind {
            Kind::Find => self.tier_fits(&at, order[0]).then(|| found.naming(order[0])),
            Kind::Edge => {
                let [corner, edge] = Piece::of_pair(order[0]).map(|piece| piece.is_up(&state, cross));
                (corner && !edge).then(|| found.naming(order[0]))
            }
            Kind::Deduce => self.deduce(found, order[0]),
            Kind::NoneUp => {
                let up = |pair: &Pair| Piece::Corner(pair.corner).is_up(&state, cross);
                (!found.open.iter().any(up)).then_some(found)
            }
            Kind::TurnFirst => self.turn_first(found),
            Kind::Carried | Kind::Target | Kind::Lifted | Kind::Ahead => self.carried(found, &order),
            Kind::Hidden => self.hidden(found),
            Kind::Choose => self.choose(found),
            Kind::Forced => self.forced(&found).then_some(found),
            Kind::Whole => self.whole(found),
            Kind::Cross => None,
        }
    }

    /// Whether a pair's corner is where it is wished, before turns are known.
    fn tier_fits(&self, at: &Position, pair: Pair) -> bool {
        let here = tier_to_play(pair.corner, self.wish.cross, &[], &at.state);
        self.wish.tier.is_none_or(|tier| tier == here)
    }

    fn length_fits(&self, turns: usize) -> bool {
        self.wish.turns.is_none_or(|most| turns <= most)
    }

    /// The same of an order with which all else is as wished: what is too long is noted.
    fn order_fits(&self, order: &Order) -> bool {
        let turns = order.turns();
        let fits = self.length_fits(turns);
        if !fits {
            self.too_long.set(self.too_long.get().into_iter().chain([turns]).min());
        }
        fits
    }

    /// What the eyes have of corner and edge of an open pair, by themselves.
    fn grades(&self, at: &Position, open: &[Pair], pair: Pair, sight: crate::cube::FaceSet) -> [Grade; 2] {
        let here = [*at];
        let looked = Looked::new(Moments::new(&here, &[]), self.wish.cross, open, &[], sight);
        Piece::of_pair(pair).map(|piece| looked.grade(piece, 0))
    }

    fn deduce(&self, found: Found, pair: Pair) -> Option<Found> {
        let here = [found.at];
        let looked =
            Looked::new(Moments::new(&here, &[]), self.wish.cross, &found.open, &[], self.wish.sight);
        let pieces = Piece::of_pair(pair).map(|piece| looked.found(piece));
        let by_sticker =
            pieces.iter().filter_map(|piece| piece.deduced).all(|(_, how)| how == Deduction::OneSticker);
        let fits = pieces.iter().all(|piece| piece.found().is_some())
            && pieces.iter().any(|piece| piece.deduced.is_some())
            && by_sticker
            && self.tier_fits(&found.at, pair);
        fits.then(|| found.naming(pair))
    }

    /// The open pairs of which corner and edge can be found at once.
    fn in_sight(&self, at: &Position, open: &[Pair]) -> Vec<Pair> {
        let here = [*at];
        let looked = Looked::new(Moments::new(&here, &[]), self.wish.cross, open, &[], self.wish.sight);
        let found = |pair: &Pair| {
            Piece::of_pair(*pair).into_iter().all(|piece| looked.found(piece).found().is_some())
        };
        open.iter().copied().filter(found).collect()
    }

    fn turn_first(&self, found: Found) -> Option<Found> {
        if !self.in_sight(&found.at, &found.open).is_empty() {
            return None;
        }
        let turns: Vec<(Move, Vec<Pair>)> = Amount::ALL
            .into_iter()
            .map(|amount| {
                let turn = Move::Turn(Face::U, amount);
                (turn, self.in_sight(&found.at.after([turn]), &found.open))
            })
            .filter(|(_, pairs)| !pairs.is_empty())
            .collect();
        (!turns.is_empty()).then_some(Found { turns, ..found })
    }

    /// The cheapest line of a pair, if it is short enough.
    pub fn line(&self, at: &Position, pair: Pair) -> Option<Line> {
        let (cost, moves) = self.planner.cheapest(at, self.wish.cross, pair)?;
        if !self.length_fits(moves.iter().map(|mv| mv.obtm()).sum()) {
            return None;
        }
        let end = at.after(moves.iter().copied());
        let new = |pair: &Pair| end.state.pair_solved(*pair) && !at.state.pair_solved(*pair);
        let solves = Pair::all(self.wish.cross).into_iter().filter(new).collect();
        Some(Line { moves, cost, solves, end })
    }

    /// Lines are given: of the first pair, in `ahead` of the second too; the one after them is named.
    fn carried(&self, found: Found, order: &[Pair]) -> Option<Found> {
        let Wish { kind, cross, .. } = *self.wish;
        let lines = if kind == Kind::Ahead { 2 } else { 1 };
        let (first, named) = (order[0], order[lines]);
        let from = found.at.state.corner(named.corner).place();
        // What can be told before a line is sought.
        let may_fit = match kind {
            Kind::Target => from == first.corner.home(),
            Kind::Lifted => from != first.corner.home() && !from.touches(cross.opposite()),
            _ => true,
        };
        if !may_fit {
            return None;
        }
        let mut given: Vec<Line> = Vec::new();
        let mut at = found.at;
        for &pair in &order[..lines] {
            if at.state.pair_solved(pair) {
                return None;
            }
            let line = self.line(&at, pair)?;
            at = line.end;
            given.push(line);
        }
        if at.state.pair_solved(named) {
            return None;
        }
        let filled: Vec<Pair> = given[0].solves.clone();
        let first_end = given[0].end.state;
        let tier = tier(named.corner, cross, &filled, &found.at.state, &first_end);
        let up = Piece::Corner(named.corner).is_up(&at.state, cross);
        let moved = || {
            let place = |position: &Position| Piece::of_pair(named).map(|piece| piece.place(position));
            place(&found.at) != place(&at)
        };
        let fits = match kind {
            Kind::Target => tier == Tier::Target && up,
            Kind::Lifted => tier == Tier::Lifted,
            _ => moved(),
        };
        let fits = fits && self.wish.tier.is_none_or(|wished| wished == tier);
        fits.then(|| Found { given, ..found.naming(named) })
    }

    fn hidden(&self, found: Found) -> Option<Found> {
        let order = self.planner.best(&found.at, self.wish.cross, self.wish.sight, None).0?;
        let first = order.lines[0].solves[0];
        let hides = |sight| self.grades(&found.at, &found.open, first, sight).contains(&Grade::Hidden);
        let shows = |face: Face| !hides(self.wish.sight.with(face));
        let fits = hides(self.wish.sight)
            && self.wish.shown_by.is_none_or(shows)
            && self.tier_fits(&found.at, first)
            && self.order_fits(&order);
        fits.then(|| Found { orders: vec![order], ..found.naming(first) })
    }

    fn whole(&self, found: Found) -> Option<Found> {
        let order = self.planner.unbroken(&found.at, self.wish.cross, self.wish.sight, None).0?;
        let fits = self.tier_fits(&found.at, order.lines[0].solves[0]) && self.order_fits(&order);
        fits.then(|| Found { orders: vec![order], ..found })
    }

    fn choose(&self, found: Found) -> Option<Found> {
        let Wish { cross, sight, .. } = *self.wish;
        let of_pair = |&pair: &Pair| self.planner.unbroken(&found.at, cross, sight, Some(pair)).0;
        let mut orders: Vec<Order> = Vec::new();
        for order in found.open.iter().filter_map(of_pair) {
            // Two pairs solved at once come first together.
            if !orders.contains(&order) {
                orders.push(order);
            }
        }
        orders.sort_by_key(|order| order.cost);
        let [best, second, ..] = orders.as_slice() else { return None };
        let fits = best.cost + CLEARLY <= second.cost
            && self.tier_fits(&found.at, best.lines[0].solves[0])
            && self.order_fits(best);
        let named = best.lines[0].solves[0];
        fits.then(|| Found { orders, ..found.naming(named) })
    }

    /// Whether no hand line leaves anything ready, and none brings in all pairs.
    fn forced(&self, found: &Found) -> bool {
        let Wish { cross, sight, .. } = *self.wish;
        let settings = self.planner.settings();
        let here = [found.at];
        // Nearly always something is found before the first turn already, or by a cheapest line.
        let at_once = |&in_hand: &Pair| {
            let in_hand = [in_hand];
            let looked = Looked::new(Moments::new(&here, &[]), cross, &found.open, &in_hand, sight);
            let others = found.open.iter().filter(|pair| !in_hand.contains(pair));
            others.clone().any(|&pair| looked.left(pair, settings.lead).ready)
        };
        if found.open.iter().any(at_once) || found.open.iter().any(|&pair| self.leaves_ready(found, pair)) {
            return false;
        }
        let mut lines = search::lines(&found.at.state, cross, search::Kind::Hand, FORCED_WITHIN);
        // Longer lines leave more time to look.
        lines.reverse();
        for line in lines {
            let solves: Vec<Pair> = Pair::all(cross).into_iter().filter(|&pair| line.solves(pair)).collect();
            let left: Vec<Pair> = found.open.iter().copied().filter(|pair| !solves.contains(pair)).collect();
            if left.is_empty() {
                return false;
            }
            for way in Handling::new(line.turns(), cross, &settings.weights).ways(found.at.hold) {
                let mut positions = vec![found.at];
                for &mv in &way.moves {
                    positions.push(positions[positions.len() - 1].after([mv]));
                }
                let moments = Moments::new(&positions, &way.moves);
                let looked = Looked::new(moments, cross, &found.open, &solves, sight);
                if left.iter().any(|&pair| looked.left(pair, settings.lead).ready) {
                    return false;
                }
            }
        }
        true
    }

    /// Whether the cheapest line of a pair leaves another ready, or brings in all.
    fn leaves_ready(&self, found: &Found, pair: Pair) -> bool {
        let Wish { cross, sight, .. } = *self.wish;
        let Some(line) = self.line(&found.at, pair) else { return false };
        let turns: usize = line.moves.iter().map(|mv| mv.obtm()).sum();
        if turns > FORCED_WITHIN {
            return false;
        }
        let mut positions = vec![found.at];
        for &mv in &line.moves {
            positions.push(positions[positions.len() - 1].after([mv]));
        }
        let looked =
            Looked::new(Moments::new(&positions, &line.moves), cross, &found.open, &line.solves, sight);
        let mut left = found.open.iter().filter(|pair| !line.solves.contains(pair)).peekable();
        left.peek().is_none() || left.any(|&pair| looked.left(pair, self.planner.settings().lead).ready)
    }

    /// Of the shortest crosses the one whose first pair is found in time and costs least with it.
    fn cross(&self, at: Position) -> Option<Found> {
        let Wish { cross, sight, .. } = *self.wish;
        let length = search::cross_distance(&at.state, cross);
        if length == 0 || !self.length_fits(length) {
            return None;
        }
        let weights = &self.planner.settings().weights;
        let all = Pair::all(cross).to_vec();
        /// Ready before late, then the cheaper, then the order of tokens.
        type Key = (bool, HalfUnits, Vec<Move>);
        let mut best: Option<(Key, Pair, Position)> = None;
        for turns in shortest_crosses(&at.state, cross, length) {
            let moves: Vec<Move> =
                turns.iter().map(|turn| Move::Turn(at.hold.face(turn.centre), turn.amount)).collect();
            let mut positions = vec![at];
            for &mv in &moves {
                positions.push(positions[positions.len() - 1].after([mv]));
            }
            let end = positions[moves.len()];
            let (solved, open): (Vec<Pair>, Vec<Pair>) =
                all.iter().partition(|&&pair| end.state.pair_solved(pair));
            let looked = Looked::new(Moments::new(&positions, &moves), cross, &all, &solved, sight);
            let own: HalfUnits =
                turns.iter().map(|turn| weights.turn(at.hold.face(turn.centre), turn.amount)).sum();
            for pair in open {
                let Some((cost, _)) = self.planner.cheapest(&end, cross, pair) else { continue };
                let late = !looked.left(pair, self.planner.settings().lead).ready;
                let key = (late, own + cost, moves.clone());
                if best.as_ref().is_none_or(|(best, ..)| key < *best) {
                    best = Some((key, pair, end));
                }
            }
        }
        let ((_, _, moves), pair, end) = best?;
        Some(Found { cross: Some((moves, end)), ..Found::at(at, all).naming(pair) })
    }
}

/// Every way to solve the cross in `length` turns, which is the fewest.
fn shortest_crosses(state: &State, cross: Colour, length: usize) -> Vec<Vec<FaceTurn>> {
    let mut found = Vec::new();
    walk(state, cross, length, &mut Vec::new(), &mut found);
    found
}

fn walk(
    state: &State,
    cross: Colour,
    left: usize,
    turns: &mut Vec<FaceTurn>,
    found: &mut Vec<Vec<FaceTurn>>,
) {
    if left == 0 {
        found.push(turns.clone());
        return;
    }
    for turn in FaceTurn::ALL {
        // Opposite neighbours in one order only.
        if turns.last().is_some_and(|last| turn.centre == last.centre.opposite() && turn.centre < last.centre)
        {
            continue;
        }
        let next = state.turned(turn);
        if search::cross_distance(&next, cross) < left {
            turns.push(turn);
            walk(&next, cross, left - 1, turns, found);
            turns.pop();
        }
    }
}

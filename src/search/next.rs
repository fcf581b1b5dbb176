//! The lines of the pair to solve next.
//!
//! What the hands would play next is asked for after every line that is looked at, so answers are worth keeping. Where
//! the cross is whole, the lines of a pair that leave the other open pairs out of account depend on little: where its
//! two pieces are, and which pairs have to be kept. A [`Seat`] is just that, the cube turned so that the pair's slot is
//! always the same one; so it is one number below [`Seat::COUNT`] for all colours and all four slots. Its lines are told
//! for a yellow cross in the hold of a scramble, and [`NextPair`] names them for the cube at hand.
//!
//! The other open pairs matter in one way: a line ends at the first moment any new pair is solved, so a sequence that
//! solves another pair earlier is no line of this one ([`NextPair::is_line`]).

use super::frame::{Frame, MODEL};
use super::goal::Goal;
use super::index::{self, SLOT};
use super::lines::{self, Found, Searcher};
use super::tracked::{TWO, Tracked, Turns};
use super::turn::Turn;
use super::{Kind, Line, MAX_TURNS};
use crate::cube::{Colour, FaceTurn, Hold, Pair, PairSet, State};
use crate::hands::HalfUnits;

/// The longest line of a next pair that is sought, in face turns. Every pair has a line of at most ten that leaves the
/// others out of account (the tests go through all positions of a last pair).
pub const LONGEST_NEXT: usize = 11;

/// Where a pair's pieces are and which others have to be kept, whatever the colours.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Seat(u16);

impl Seat {
    /// Every seat's [`index`](Self::index) is below this.
    pub const COUNT: usize = 8 * TWO;

    /// A number for tables.
    #[must_use]
    pub const fn index(self) -> usize {
        self.0 as usize
    }
}

/// A pair to solve next, in a position whose cross is whole.
#[derive(Debug, Clone, Copy)]
pub struct NextPair {
    frame: &'static Frame,
    tracked: Tracked,
    kept: PairSet,
}

impl NextPair {
    /// A pair of this cross.
    ///
    /// # Panics
    /// If the cross is not whole or the pair is solved.
    #[must_use]
    pub fn new(state: &State, cross: Colour, pair: Pair) -> NextPair {
        let frame = Frame::facing(cross, pair.slot());
        let tracked = frame.tracked(state);
        let goal = Goal::get();
        let kept = goal.solved_pairs(tracked.packed());
        assert!(goal.cross_solved(tracked.packed()), "the cross is whole");
        assert!(!kept.contains(SLOT), "the pair is open");
        NextPair { frame, tracked, kept }
    }

    /// What its lines depend on.
    #[must_use]
    pub fn seat(&self) -> Seat {
        // The pair itself is not among those kept, so half the sets do.
        Seat((self.kept.index() as u16 >> 1) * TWO as u16 + self.tracked.pair(SLOT) as u16)
    }

    /// How long the shortest hand line is that solves it and keeps what is to be kept. `None` if it has more than
    /// [`LONGEST_NEXT`] turns.
    #[must_use]
    pub fn shortest(&self) -> Option<usize> {
        index::shortest(self.tracked.pair(SLOT), self.kept)
    }

    /// All hand lines of at most one turn more than the shortest that leave the other open pairs out of account, shorter
    /// ones first: all that depends on the [`seat`](Self::seat). They are told for a yellow cross in
    /// [`Hold::START`].
    #[must_use]
    pub fn lines_of_seat(&self) -> Vec<SeatLine> {
        let place = self.tracked.pair(SLOT);
        let bound = self.shortest().map_or(0, |shortest| shortest + 1);
        debug_assert!(bound <= index::complete_to(place, self.kept));
        let lines = index::ending(self.tracked, self.kept, PairSet::only(SLOT), bound);
        let mut found: Vec<(Found, index::Filed)> =
            lines.map(|(filed, pairs)| (found(filed, pairs), filed)).collect();
        found.sort_unstable_by_key(|&(found, _)| found);
        let model = Frame::of(MODEL);
        let line = |(found, filed): (Found, index::Filed)| SeatLine {
            line: super::line(model, &found),
            is_plain: filed.is_plain(),
            costs: [0, 1, 2, 3].map(|grip| filed.cost(grip)),
            passes_nothing: filed.passes_nothing(),
        };
        found.into_iter().map(line).collect()
    }

    /// All hand lines of at most one turn more than the shortest, shorter ones first; each ends at the first moment any
    /// new pair is solved, and this one is among them. Told as [`lines_of_seat`](Self::lines_of_seat). None if there is
    /// none of at most [`LONGEST_NEXT`] turns.
    #[must_use]
    pub fn lines(&self) -> Vec<Line> {
        let open = self.kept.others();
        let complete = index::complete_to(self.tracked.pair(SLOT), self.kept);
        let found = self.indexed(open, complete);
        let shortest = found.first().map(|found| usize::from(found.len));
        match shortest.filter(|shortest| shortest < &complete) {
            Some(shortest) => told(found.into_iter().filter(|found| usize::from(found.len) <= shortest + 1)),
            None => told(self.searched_up_to_one_more(open)),
        }
    }

    /// What the index has, in order.
    fn indexed(&self, open: PairSet, bound: usize) -> Vec<Found> {
        let lines = index::ending(self.tracked, self.kept, open, bound);
        let mut found: Vec<Found> = lines.map(|(filed, pairs)| found(filed, pairs)).collect();
        found.sort_unstable();
        found
    }

    /// By the search, in order.
    fn searched_up_to_one_more(&self, open: PairSet) -> Vec<Found> {
        let searcher = Searcher::of(Kind::Hand);
        let mut found: Vec<Found> = Vec::new();
        let mut shortest = None;
        for len in 1..=LONGEST_NEXT {
            if shortest.is_some_and(|shortest| len > shortest + 1) {
                break;
            }
            searcher.lines_of(self.tracked, SLOT, [self.kept, open], len, &mut |line| found.push(line));
            if shortest.is_none() && !found.is_empty() {
                shortest = Some(len);
            }
        }
        found.sort_unstable();
        found
    }

    /// All hand lines of at most `bound` turns that leave the other open pairs out of account, shorter ones first; told
    /// as [`lines_of_seat`](Self::lines_of_seat).
    ///
    /// # Panics
    /// If `bound` is more than [`MAX_TURNS`].
    #[must_use]
    pub fn lines_of_seat_to(&self, bound: usize) -> Vec<Line> {
        assert!(bound <= MAX_TURNS, "a line has at most {MAX_TURNS} turns");
        let open = PairSet::only(SLOT);
        if bound <= index::complete_to(self.tracked.pair(SLOT), self.kept) {
            return told(self.indexed(open, bound));
        }
        let searcher = Searcher::of(Kind::Hand);
        let mut found: Vec<Found> = Vec::new();
        for len in 1..=bound {
            searcher.lines_of(self.tracked, SLOT, [self.kept, open], len, &mut |line| found.push(line));
        }
        found.sort_unstable();
        told(found)
    }

    /// Whether a line of the [`seat`](Self::lines_of_seat) solves no other open pair before it ends.
    #[must_use]
    pub fn is_line(&self, line: &Line) -> bool {
        let (turns, len) = model_turns(line);
        lines::ends_first(self.tracked, self.kept, self.kept.others(), &turns[..len])
    }

    /// The pairs that a line of the [`seat`](Self::lines_of_seat) solves when it ends, this one among them, each told by
    /// its place in [`Pair::all`](crate::cube::Pair::all).
    #[must_use]
    pub fn solved_by(&self, line: &Line) -> PairSet {
        let (turns, len) = model_turns(line);
        let end = turns[..len].iter().fold(self.tracked, |at, &turn| Turns::get().pairs(at, turn));
        self.frame.pairs(Goal::get().solved_pairs(end.packed()) - self.kept)
    }

    /// The turns of a line on the cube at hand.
    #[must_use]
    pub fn turns(&self, line: &Line) -> Vec<FaceTurn> {
        let centre = |model: Colour| self.frame.hold.colour(Hold::START.face(model));
        line.turns().iter().map(|turn| FaceTurn { centre: centre(turn.centre), ..*turn }).collect()
    }

    /// How a hold of the cube at hand is one of the cube for which lines are told.
    #[must_use]
    pub fn hold(&self, hold: Hold) -> Hold {
        self.frame.model_hold(hold)
    }
}

/// A line of a [`Seat`].
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct SeatLine {
    /// The line, told for a yellow cross in [`Hold::START`].
    pub line: Line,
    /// Whether it splits into phrases none of which is shifted or nested: [`is_plain_line`](super::is_plain_line).
    pub is_plain: bool,
    /// What it costs at the default weights from each of the holds with that cross down, in the order of
    /// [`upright`](crate::hands::upright).
    pub costs: [HalfUnits; 4],
    /// Whether [`NextPair::is_line`] holds for it whatever else is open.
    pub passes_nothing: bool,
}

/// A line of the index as the search tells it.
fn found(filed: index::Filed, pairs: PairSet) -> Found {
    let mut turns = [Turn::ALL[0]; MAX_TURNS];
    turns.iter_mut().zip(filed.turns()).for_each(|(to, turn)| *to = turn);
    Found { len: filed.len() as u8, turns, pairs }
}

fn told(found: impl IntoIterator<Item = Found>) -> Vec<Line> {
    let model = Frame::of(MODEL);
    found.into_iter().map(|found| super::line(model, &found)).collect()
}

/// The turns of a line as the tables name them, and how many there are.
fn model_turns(line: &Line) -> ([Turn; MAX_TURNS], usize) {
    let mut turns = [Turn::ALL[0]; MAX_TURNS];
    for (to, turn) in turns.iter_mut().zip(line.turns()) {
        *to = Turn::new(Hold::START.face(turn.centre), turn.amount);
    }
    (turns, line.turns().len())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::cube::Amount;
    use crate::search::{lines, shortest};

    /// Positions with the cross of a colour whole, by made-up walks of phrases.
    fn positions(cross: Colour) -> Vec<State> {
        let mut state = State::SOLVED;
        let mut all = Vec::new();
        let mut seed = 17_usize;
        for _ in 0..40 {
            seed = seed.wrapping_mul(1_103_515_245).wrapping_add(12345);
            let side = cross.ring()[seed >> 8 & 3];
            // With a half turn of the side the layer would carry an edge of the cross away.
            let amounts = [[Amount::Quarter, Amount::Back][seed >> 10 & 1], Amount::ALL[(seed >> 13) % 3]];
            let top = cross.opposite();
            for (centre, amount) in
                [(side, amounts[0]), (top, amounts[1]), (side, amounts[0].inverse()), (top, Amount::Half)]
            {
                state.turn(FaceTurn { centre, amount });
            }
            all.push(state);
        }
        all
    }

    /// Against the enumeration of all lines of a position, from which those of the pair are picked.
    #[test]
    fn the_lines_of_a_pair_are_those_of_all_lines_that_solve_it() {
        let mut ended_early = 0;
        for cross in [Colour::Yellow, Colour::White, Colour::Orange] {
            for state in positions(cross).into_iter().skip(2) {
                for pair in Pair::all(cross).into_iter().filter(|&pair| !state.pair_solved(pair)) {
                    let next = NextPair::new(&state, cross, pair);
                    let told: Vec<Vec<FaceTurn>> = next.lines().iter().map(|line| next.turns(line)).collect();
                    let Some(longest) = told.iter().map(Vec::len).min().map(|shortest| shortest + 1) else {
                        continue;
                    };
                    if longest > 9 {
                        continue;
                    }
                    let canonical = crate::hands::canonical;
                    let mut told: Vec<Vec<FaceTurn>> = told.iter().map(|turns| canonical(turns)).collect();
                    let mut expected: Vec<Vec<FaceTurn>> = lines(&state, cross, Kind::Hand, longest)
                        .iter()
                        .filter(|line| line.solves(pair))
                        .map(|line| canonical(line.turns()))
                        .collect();
                    told.sort();
                    expected.sort();
                    assert_eq!(told, expected);

                    let of_seat: Vec<Line> = next.lines_of_seat().into_iter().map(|line| line.line).collect();
                    assert_eq!(of_seat, super::told(next.searched_up_to_one_more(PairSet::only(SLOT))));
                    assert_eq!(
                        of_seat.iter().map(|line| line.turns().len()).min(),
                        shortest(&state, cross, pair, Kind::Hand, LONGEST_NEXT)
                    );
                    let clean: Vec<&Line> = of_seat.iter().filter(|line| next.is_line(line)).collect();
                    ended_early += of_seat.len() - clean.len();
                    assert!(clean.iter().all(|line| {
                        expected.contains(&canonical(&next.turns(line))) || line.turns().len() > longest
                    }));
                }
            }
        }
        assert!(ended_early > 0, "some sequences solve another pair first");
    }

    /// Every seat, one of a pair's positions each: what the index tells is what the search finds.
    #[test]
    fn the_lines_of_a_seat_are_those_that_the_search_finds() {
        let slow = std::env::var_os("CORNERWISE_SLOW").is_some();
        let home = Tracked::solved().pair(SLOT);
        let mut longest = 0;
        for place in (0..TWO).step_by(if slow { 1 } else { 7 }).filter(|&place| place != home) {
            for set in 0..8 {
                let other = |slot: crate::cube::Slot| slot != SLOT && set >> (slot.index() - 1) & 1 == 1;
                let kept = PairSet::ALL.filter(other);
                let tracked = Tracked::solved().with_pair(SLOT, place);
                let next = NextPair { frame: Frame::of(MODEL), tracked, kept };
                let told = next.lines_of_seat();
                let lines: Vec<Line> = told.iter().map(|line| line.line).collect();
                assert_eq!(lines, super::told(next.searched_up_to_one_more(PairSet::only(SLOT))));
                longest = lines.iter().map(|line| line.turns().len()).fold(longest, usize::max);
                for line in told {
                    let turns = line.line.turns();
                    let handling = crate::hands::Handling::new(turns, MODEL, &Default::default());
                    let costs = crate::hands::upright(MODEL).map(|hold| handling.cost(hold));
                    assert_eq!(line.costs, costs);
                    assert_eq!(line.is_plain, crate::search::is_plain_line(turns, MODEL));
                }
            }
        }
        assert!(longest > index::LONGEST, "the longest has {longest} turns");
    }
}

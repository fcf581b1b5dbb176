//! The ways in which a line can be played, and what each leaves to be seen.
//!
//! A line leaves two things open: the hold, each with its own cost, and the order of turns of opposite faces next to
//! each other, which is the same to the cube but not to the eyes, for one moment between them. Both are the solver's
//! to choose, so a line leaves what its best way within the limit leaves. (Counting one order only would also make a verdict
//! depend on which face is called `R`.)

use super::cost::{EQUAL, Grip, Weights};
use crate::cube::{Colour, FaceSet, FaceTurn, Hold, Pair, State};
use crate::sight::{InSight, Outcome};

/// A hold to play a line in, with what is seen there.
pub(super) struct Eyes<'a> {
    pub(super) grip: &'a Grip,
    /// Before each of the rotations.
    before: Vec<InSight>,
    after: InSight,
}

impl<'a> Eyes<'a> {
    /// What is seen in this grip by someone who begins in the hold `from`.
    pub(super) fn new(grip: &'a Grip, from: Hold, sight: FaceSet) -> Eyes<'a> {
        let mut hold = from;
        let before = grip.rotations.iter().map(|mv| {
            let eyes = InSight::new(hold, sight);
            hold = mv.resolve(hold).hold;
            eyes
        });
        let before = before.collect();
        Eyes { grip, before, after: InSight::new(grip.hold, sight) }
    }
}

/// A line in one order of its turns, with its moments.
#[derive(Clone)]
pub(super) struct Ordered {
    pub(super) turns: Vec<FaceTurn>,
    states: Vec<State>,
}

impl Ordered {
    fn new(start: State, turns: Vec<FaceTurn>) -> Ordered {
        let mut states = Vec::with_capacity(turns.len() + 1);
        states.push(start);
        states.extend(turns.iter().scan(start, |state, &turn| {
            state.turn(turn);
            Some(*state)
        }));
        Ordered { turns, states }
    }

    /// Where it leads.
    pub(super) fn end(&self) -> &State {
        &self.states[self.turns.len()]
    }

    /// What it leaves for a pair whose corner ends up.
    fn leaves(&self, pair: Pair, eyes: &Eyes<'_>, lead: usize) -> Outcome {
        let in_time = self.turns.len() - lead.min(self.turns.len());
        let start = &self.states[0];
        let (corner, edge) = (start.corner(pair.corner), start.edge(pair.edge));
        let mut corner_seen = eyes.before.iter().any(|eyes| eyes.sees_corner(corner));
        let mut edge_seen = eyes.before.iter().any(|eyes| eyes.sees_edge(edge));
        for state in &self.states[..=in_time] {
            corner_seen |= eyes.after.sees_corner(state.corner(pair.corner));
            edge_seen |= eyes.after.sees_edge(state.edge(pair.edge));
            if corner_seen && edge_seen {
                return Outcome::Ready;
            }
        }
        Outcome::Up
    }
}

/// A line in every order of its turns, the one that reads best first.
pub(super) struct Orders(Vec<Ordered>);

impl Orders {
    pub(super) fn new(start: State, turns: &[FaceTurn]) -> Orders {
        let mut turns = turns.to_vec();
        let swaps: Vec<usize> =
            (1..turns.len()).filter(|&i| turns[i].centre == turns[i - 1].centre.opposite()).collect();
        for &i in &swaps {
            if closes_first(&turns[..i - 1], turns[i].centre, turns[i - 1].centre) {
                turns.swap(i - 1, i);
            }
        }
        let mut all = vec![Ordered::new(start, turns)];
        for &i in &swaps {
            for k in 0..all.len() {
                let mut turns = all[k].turns.clone();
                turns.swap(i - 1, i);
                all.push(Ordered::new(start, turns));
            }
        }
        Orders(all)
    }

    /// The first of them, which is as good as any where only the end matters.
    pub(super) fn first(&self) -> &Ordered {
        &self.0[0]
    }

    /// The first of the orders that leave most for the pair, played in this grip.
    pub(super) fn best(&self, pair: Pair, eyes: &Eyes<'_>, lead: usize) -> (Outcome, &Ordered) {
        let ready = self.0.iter().find(|ordered| ordered.leaves(pair, eyes, lead) == Outcome::Ready);
        ready.map_or((Outcome::Up, self.first()), |ordered| (Outcome::Ready, ordered))
    }
}

/// Whether, after these turns, a turn of `a` reads better before one of `b` than after it: the phrase that is still
/// open goes on first, so `L U L' R' U' R` and not `L U R' L' U' R`.
fn closes_first(turns: &[FaceTurn], a: Colour, b: Colour) -> bool {
    turns.iter().rev().find(|turn| turn.centre == a || turn.centre == b).is_some_and(|turn| turn.centre == a)
}

/// The holds in which a line costs no more than `limit`, each with its cost there.
pub(super) fn affordable<'b, 'a>(
    turns: &[FaceTurn],
    all: &'b [Eyes<'a>],
    weights: &Weights,
    limit: f64,
) -> Vec<(f64, &'b Eyes<'a>)> {
    let costs = all.iter().map(|eyes| (eyes.grip.handling(turns, weights), eyes));
    costs.filter(|&(cost, _)| cost <= limit + EQUAL).collect()
}

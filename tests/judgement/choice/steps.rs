//! Pair steps of made solves, ready to be judged.

use cornerwise::choice::Played;
use cornerwise::cube::{Colour, Face, FaceSet, Move, Pair, Position};
use cornerwise::sight::Moments;

use crate::support::solver::{Kind, Options, Rng, Solver};

/// A pair step that another follows.
pub struct Step {
    /// What led to it, from a solved cube.
    pub before: Vec<Move>,
    pub moves: Vec<Move>,
    pub positions: Vec<Position>,
    pub cross: Colour,
    pub open: Vec<Pair>,
    pub solves: Vec<Pair>,
    pub next: Vec<Pair>,
    pub sight: FaceSet,
}

pub const SIGHT: FaceSet = FaceSet::of(&[Face::U, Face::F, Face::R]);

impl Step {
    /// The step played from `start`, the position at its first moment.
    pub fn from(&self, start: Position) -> Vec<Position> {
        let mut positions = vec![start];
        for &mv in &self.moves {
            positions.push(positions[positions.len() - 1].after([mv]));
        }
        positions
    }

    pub fn played(&self) -> Played<'_> {
        Played {
            moments: Moments::new(&self.positions, &self.moves),
            moves: &self.moves,
            cross: self.cross,
            open: &self.open,
            solves: &self.solves,
            next: &self.next,
            sight: self.sight,
        }
    }
}

/// The pair steps of `n` made solves, of ordinary and odd kinds in turn.
pub fn steps(seed: u64, n: usize) -> Vec<Step> {
    let (mut rng, mut solver) = (Rng::new(seed), Solver::new());
    let kinds = [
        Options { looks_ahead: false, ..Options::default() },
        Options { two_pairs: true, ..Options::default() },
        Options { wide: true, ..Options::default() },
        Options { xcross: true, temper: 8.0, ..Options::default() },
    ];
    let mut steps = Vec::new();
    for i in 0..n {
        let solve = solver.random(&mut rng, &kinds[i % kinds.len()]);
        let mut before = solve.scramble.clone();
        let mut open = Pair::all(solve.cross).to_vec();
        for (k, step) in solve.steps.iter().enumerate() {
            let next = solve.steps.get(k + 1).filter(|next| next.kind == Kind::Pair);
            if let (Kind::Pair, Some(next)) = (step.kind, next) {
                let mut found = Step {
                    before: before.clone(),
                    moves: step.moves.clone(),
                    positions: Vec::new(),
                    cross: solve.cross,
                    open: open.clone(),
                    solves: step.pairs.clone(),
                    next: next.pairs.clone(),
                    sight: if i % 5 == 4 { SIGHT.with(Face::L) } else { SIGHT },
                };
                found.positions = found.from(Position::SOLVED.after(before.iter().copied()));
                steps.push(found);
            }
            before.extend(&step.moves);
            open.retain(|pair| !step.pairs.contains(pair));
        }
    }
    steps
}

//! Steps to try things on: made solves, cut as their maker cut them.

use cornerwise::cube::{Colour, Face, Move};

use super::sight::{Found, Step};
use super::stickers::{Cube, Pair};
use crate::support::solver::{Kind, Options, Rng, Solver};
use crate::support::{read, space};

/// A cross or pair step of a made solve.
pub struct MadeStep {
    /// What led to it, from a solved cube.
    pub before: Vec<Move>,
    pub moves: Vec<Move>,
    pub cross: Colour,
    pub is_cross: bool,
    /// In before it began.
    pub solved: Vec<Pair>,
    /// Brought in by it.
    pub in_hand: Vec<Pair>,
    /// Brought in by each pair step after it, with its moves.
    pub later: Vec<(Vec<Pair>, Vec<Move>)>,
    pub sight: Vec<Face>,
    /// The pairs that the step before found with a turn to go: all that are open where there is none.
    pub found_before: Vec<Pair>,
}

impl MadeStep {
    /// The cube before the first move.
    pub fn start(&self) -> Cube {
        Cube::solved().after(&self.before)
    }

    /// The step as it is seen at these moments of it.
    pub fn seen<'a>(&'a self, moments: &'a [Cube]) -> Step<'a> {
        Step {
            moments,
            moves: &self.moves,
            cross: self.cross,
            solved: &self.solved,
            in_hand: &self.in_hand,
            sight: &self.sight,
        }
    }

    /// The pairs brought in by the next pair step.
    pub fn next(&self) -> &[Pair] {
        self.later.first().map_or(&[], |(pairs, _)| pairs)
    }
}

/// Fills in what each step of a solve had found before it began.
fn with_what_was_found(mut of_solve: Vec<MadeStep>) -> Vec<MadeStep> {
    for i in 0..of_solve.len() {
        let here = &of_solve[i];
        let found =
            match i.checked_sub(1).map(|before| &of_solve[before]).filter(|step| !step.moves.is_empty()) {
                None => space::pairs_of(here.cross)
                    .into_iter()
                    .filter(|pair| !here.solved.contains(pair))
                    .collect(),
                Some(before) => {
                    let moments = before.start().moments(&before.moves);
                    let found = before.seen(&moments).found(3).into_iter();
                    may_be_begun(found.collect(), &here.in_hand)
                }
            };
        of_solve[i].found_before = found;
    }
    of_solve
}

/// Of what a step leaves, the pairs that may be begun instead of those played: found with a turn to go, or ready if one
/// played was.
pub fn may_be_begun(found: Vec<(Pair, Found, Found)>, played: &[Pair]) -> Vec<Pair> {
    let had = found.iter().any(|(pair, found, _)| found.ready && played.contains(pair));
    let may = found.into_iter().filter(|(_, found, _)| if had { found.ready } else { found.lead >= Some(1) });
    may.map(|(pair, ..)| pair).collect()
}

const SIGHTS: [&[Face]; 4] = [
    &[Face::U, Face::F, Face::R],
    &[Face::U, Face::F, Face::R],
    &[Face::U, Face::F, Face::L],
    &[Face::U, Face::F, Face::R, Face::L],
];

fn kinds() -> [Options; 6] {
    let plain = Options::default();
    [
        plain.clone(),
        Options { looks_ahead: false, temper: 0.0, ..plain.clone() },
        Options { two_pairs: true, ..plain.clone() },
        Options { wide: true, temper: 6.0, ..plain.clone() },
        Options { xcross: true, temper: 8.0, ..plain.clone() },
        Options { cross_on_left: 1.0, ..plain },
    ]
}

/// The cross and pair steps of solves that are among the records: scramble with the rotations before the cross, then
/// the steps.
const RECORDED: [&[&str]; 3] = [
    &[
        "L2 U L' U' R2 U' D F D F' L U D' B U2 R2 D L B D' x2",
        "R2 D F L D' F",
        "y L' U2 L R' U2 R",
        "U R U' R' y' R' U' R",
        "F U2 F' D R U' R' D'",
        "F R' F' R2 U R'",
    ],
    &[
        "B' L2 F U2 D2 L2 D2 L F U D B2 R L2 D L2 D' F2 B2 U2 x2 y",
        "L2 U' R2 F D L'",
        "U' R' U2 R L' U L",
        "R U' R2 U R",
        "U' L U' L' U' R U R'",
        "L U' L' y' U2 L' U' L",
    ],
    &[
        "B' L2 F U2 D2 L2 D2 L F U D B2 R L2 D L2 D' F2 B2 U2 x2 y",
        "L2 U' R2 F D L'",
        "U' R' U2 R L' U L",
        "y U D R' U' R D'",
        "F U' F' y U L U L'",
        "U' L' U L",
    ],
];

/// The steps of [`RECORDED`], all with a white cross.
pub fn recorded() -> Vec<MadeStep> {
    let mut all = Vec::new();
    for solve in RECORDED {
        let parts: Vec<Vec<Move>> = solve.iter().map(|part| read::moves(part)).collect();
        let mut of_solve: Vec<MadeStep> = Vec::new();
        let mut before = parts[0].clone();
        for (i, moves) in parts[1..].iter().enumerate() {
            let solved = pairs_in(&Cube::solved().after(&before), Colour::White);
            let mut in_hand = pairs_in(&Cube::solved().after(&before).after(moves), Colour::White);
            in_hand.retain(|pair| i > 0 && !solved.contains(pair));
            for earlier in &mut of_solve {
                earlier.later.push((in_hand.clone(), moves.clone()));
            }
            of_solve.push(MadeStep {
                before: before.clone(),
                moves: moves.clone(),
                cross: Colour::White,
                is_cross: i == 0,
                solved: if i == 0 { Vec::new() } else { solved },
                in_hand,
                later: Vec::new(),
                sight: SIGHTS[0].to_vec(),
                found_before: Vec::new(),
            });
            before.extend(moves);
        }
        all.extend(with_what_was_found(of_solve));
    }
    all
}

/// The pairs in, by the stickers.
fn pairs_in(cube: &Cube, cross: Colour) -> Vec<Pair> {
    space::pairs_of(cross).into_iter().filter(|&pair| cube.pair_is_in(cross, pair)).collect()
}

/// The cross and pair steps of `n` made solves, of ordinary and odd kinds in turn. With `respelled`, every third is
/// written in odd spellings.
pub fn steps(seed: u64, n: usize, respelled: bool) -> Vec<MadeStep> {
    let (mut rng, mut solver) = (Rng::new(seed), Solver::new());
    let mut all = Vec::new();
    for i in 0..n {
        let mut solve = solver.random(&mut rng, &kinds()[i % 6]);
        if respelled && i % 3 == 2 {
            solve = solve.respelled(&mut rng);
        }
        let mut before = solve.scramble.clone();
        let mut of_solve: Vec<MadeStep> = Vec::new();
        for step in &solve.steps {
            if matches!(step.kind, Kind::Cross | Kind::Pair) {
                let solved = match step.kind {
                    Kind::Cross => Vec::new(),
                    _ => pairs_in(&Cube::solved().after(&before), solve.cross),
                };
                let end = Cube::solved().after(&before).after(&step.moves);
                let mut in_hand = pairs_in(&end, solve.cross);
                in_hand.retain(|pair| !solved.contains(pair));
                if step.kind == Kind::Pair {
                    for earlier in &mut of_solve {
                        earlier.later.push((in_hand.clone(), step.moves.clone()));
                    }
                }
                of_solve.push(MadeStep {
                    before: before.clone(),
                    moves: step.moves.clone(),
                    cross: solve.cross,
                    is_cross: step.kind == Kind::Cross,
                    solved,
                    in_hand,
                    later: Vec::new(),
                    sight: SIGHTS[i % SIGHTS.len()].to_vec(),
                    found_before: Vec::new(),
                });
            }
            before.extend(&step.moves);
        }
        all.extend(with_what_was_found(of_solve));
    }
    all
}

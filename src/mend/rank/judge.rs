//! How well a record's steps look like a person's: what tells two repairs apart that both end solved.
//!
//! Costs are natural logarithms of odds, on one scale with those of the [edits](crate::mend::edits): common practice,
//! no source; `docs/mend.md` prints them.

use crate::cube::Move;
use crate::notation::Turns;
use crate::replay::Replay;
use crate::steps::claims::{self, Checked};
use crate::steps::{self, End, Kind, Solve};

/// A claim that does not hold.
const BROKEN_CLAIM: f64 = 4.0;
/// A record whose first two layers are never finished, or that is not cross first.
const NO_STEPS: f64 = 6.0;
/// For each turn of a cross above eight (every cross can be solved in eight; four more for each pair that
/// comes with it), at most so many.
const LONG_CROSS: (f64, usize) = (0.5, 14);
/// For each turn of a pair step above twelve.
const LONG_PAIR: (f64, usize) = (0.4, 14);
/// For each turn of a last-layer step above eighteen.
const LONG_LAST: (f64, usize) = (0.3, 14);
/// Two pairs or more that come in at one moment.
const PAIRS_AT_ONCE: f64 = 1.5;
/// A line of the text that does not end with a step.
const LINE_WITHOUT_STEP: f64 = 0.7;
/// A turn undone at once, or a rotation.
const UNDONE: f64 = 3.0;
/// One face turned twice in a row, where one turn would do.
const MERGEABLE: f64 = 1.5;

/// A record as it would be after a repair, looked at.
#[derive(Debug, Clone, PartialEq)]
pub struct Judged {
    /// How unlike a person's solve it is; 0 at best.
    pub cost: f64,
    /// Its steps.
    pub solve: Solve,
    /// Its claims.
    pub claims: Vec<Checked>,
}

impl Judged {
    /// Whether the cube is solved at the end.
    #[must_use]
    pub fn solved(&self) -> bool {
        self.solve.end == End::Solved
    }

    /// How many claims do not hold.
    #[must_use]
    pub fn broken_claims(&self) -> usize {
        self.claims.iter().filter(|claim| !claim.holds).count()
    }
}

/// Replays and looks. `solution` may hold nothing but moves.
#[must_use]
pub fn judge(scramble: &[Move], solution: &Turns) -> Judged {
    let replay = Replay::new(scramble.iter().copied(), solution.playable());
    let solve = steps::split(&replay);
    let claims = claims::check(solution, &solve, &replay);
    let mut cost = claims.iter().filter(|claim| !claim.holds).count() as f64 * BROKEN_CLAIM;
    if !solve.first_two_layers || !solve.cross_first {
        cost += NO_STEPS;
    }
    for step in &solve.steps {
        let turns: usize = replay.moves[step.from..step.to].iter().map(|mv| mv.obtm()).sum();
        let ((each, most), free) = match step.kind {
            Kind::Cross => (LONG_CROSS, 8 + 4 * step.pairs.len()),
            Kind::Pair => (LONG_PAIR, 12),
            Kind::Orient | Kind::Permute | Kind::LastLayer => (LONG_LAST, 18),
            _ => continue,
        };
        cost += each * turns.saturating_sub(free).min(most) as f64;
        if step.kind == Kind::Pair && step.pairs.len() > 1 {
            cost += PAIRS_AT_ONCE * (step.pairs.len() - 1) as f64;
        }
    }
    let at_a_step = |moment: usize| solve.steps.iter().any(|step| step.to == moment || step.from == moment);
    let lines = solution.breaks.iter().map(|line| line.moment);
    cost += lines.filter(|&moment| !at_a_step(moment)).count() as f64 * LINE_WITHOUT_STEP;
    cost += restless(scramble) + restless(&replay.moves);
    Judged { cost, solve, claims }
}

/// Neighbours that undo each other or could be one.
fn restless(moves: &[Move]) -> f64 {
    let mut cost = 0.0;
    for pair in moves.windows(2) {
        if pair[0].inverse() == pair[1] {
            cost += UNDONE;
        } else if same_layer(pair[0], pair[1]) {
            cost += MERGEABLE;
        }
    }
    cost
}

fn same_layer(a: Move, b: Move) -> bool {
    match (a, b) {
        (Move::Turn(a, _), Move::Turn(b, _)) => a == b,
        (Move::Wide(a, _), Move::Wide(b, _)) => a == b,
        (Move::Slice(a, _), Move::Slice(b, _)) => a == b,
        (Move::Rotation(a, _), Move::Rotation(b, _)) => a == b,
        _ => false,
    }
}

//! Where in a record things go wrong: how far it holds from the beginning, and from where it holds read
//! backwards from a solved cube.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::cube::{Move, Position};
use crate::record::Record;
use crate::replay::Replay;
use crate::steps::{self, Kind, Name};
use crate::study::Study;

/// Steps of more turns than this are no steps, unless a comment claims them.
const LONGEST_STEP: usize = 20;

/// The stretch of the solution in which the record goes wrong, as far as it can be told.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct Located {
    /// So many tokens of the solution hold: what is claimed of them is true (where nothing is claimed, steps
    /// end there). A wrong turn of the top layer may still hide among them: it shows only later.
    pub holds: usize,
    /// What was reached by then, such as `cross` and `pair 2`, in order; empty if nothing was.
    pub reached: Vec<Name>,
    /// The first claim that does not hold, in the writer's words.
    pub first_broken: Option<String>,
    /// From this moment on the record holds too, read backwards from a solved cube: `None` if that tells
    /// nothing new.
    pub resumes: Option<usize>,
}

/// Locates the fault of a record that does not end solved.
#[must_use]
pub fn locate(study: &Study<'_>) -> Located {
    let Study { record, replay, solve, claims, .. } = study;
    let n = record.solution.tokens.len();
    let first_broken = claims.iter().find(|claim| !claim.holds);
    let limit = first_broken.map_or(n, |claim| claim.to).min(replay.moves.len());
    let claimed = claims.iter().take_while(|claim| claim.holds).map(|claim| claim.to).max().unwrap_or(0);
    // A step of unlikely length was reached by accident: it proves nothing, nor does what follows it.
    let likely = |step: &steps::Step| {
        let turns: usize = study.moves(step).iter().map(|mv| mv.obtm()).sum();
        step.to <= claimed || turns <= LONGEST_STEP
    };
    let milestones = || {
        let steps = solve.steps.iter().enumerate().take_while(|(_, step)| likely(step));
        steps.filter(|(_, step)| {
            !matches!(step.kind, Kind::Inspection | Kind::Rest) && step.to <= limit.max(claimed)
        })
    };
    let holds = milestones().map(|(_, step)| step.to).max().unwrap_or(0).max(claimed);
    let reached = milestones().map(|(index, _)| solve.name(index)).collect();
    let resumes = resumes(record).filter(|&moment| moment > holds && moment < n);
    Located { holds, reached, first_broken: first_broken.map(|claim| claim.text.clone()), resumes }
}

/// The first moment at which the cross is solved if the record is read backwards from a solved cube: before
/// it a fault would have been carried.
fn resumes(record: &Record) -> Option<usize> {
    let tokens = &record.solution.tokens;
    let moves: Vec<Move> = tokens
        .iter()
        .rev()
        .map_while(|token| match token.element {
            crate::notation::Element::Move(mv) => Some(mv),
            _ => None,
        })
        .collect();
    let offset = tokens.len() - moves.len();
    let start = Position::SOLVED.after(moves.iter().map(|mv| mv.inverse()));
    let replay = Replay::from_position(start, moves.into_iter().rev());
    let solve = steps::split(&replay);
    let cross = solve.steps.iter().find(|step| step.kind == Kind::Cross)?;
    Some(offset + cross.to)
}

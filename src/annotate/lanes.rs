//! The lanes: for each pair its way to its insertion, moment by moment, and what the eyes had of it.

use super::Facts;
use crate::annotation::{Cell, Lane, Spot};
use crate::cube::{Colour, Pair};
use crate::sight::{Piece, Pieces, Watch};
use crate::steps::{Kind, Step};

/// Perfect elimination through step `index`, with the cross, the pairs solved before it and those in hand known.
pub(super) fn elimination(facts: &Facts<'_>, cross: Colour, index: usize) -> Watch {
    let solve = &facts.study.solve;
    let step = &solve.steps[index];
    let known = solve.solved_before(index).into_iter().chain(step.pairs.iter().copied());
    Watch::new(facts.study.positions(step), Pieces::cross_and(cross, known), facts.sight)
}

/// For each pair its way to its insertion, in order of solving, then those that never are. What was in before the first
/// turn has no way.
pub(super) fn lanes(facts: &Facts<'_>) -> Vec<Lane> {
    let solve = &facts.study.solve;
    let Some(cross) = solve.cross else { return Vec::new() };
    let steps = &solve.steps;
    // The step whose eyes each moment belongs to: at a boundary the one that begins.
    let watches: Vec<Option<Watch>> = (0..steps.len())
        .map(|index| {
            let to_watch = matches!(steps[index].kind, Kind::Cross | Kind::Pair | Kind::Rest);
            to_watch.then(|| elimination(facts, cross, index))
        })
        .collect();
    let last = facts.study.replay.moves.len();
    let mut solved: Vec<(Pair, Option<usize>)> =
        steps.iter().flat_map(|step| step.pairs.iter().map(|&pair| (pair, Some(step.to)))).collect();
    let open = Pair::all(cross).into_iter().filter(|&pair| solved.iter().all(|&(done, _)| done != pair));
    let open: Vec<_> = open.map(|pair| (pair, None)).collect();
    let given = steps.iter().filter(|step| step.kind == Kind::Cross && step.from == step.to);
    let given: Vec<Pair> = given.flat_map(|step| step.pairs.iter().copied()).collect();
    solved.retain(|(pair, _)| !given.contains(pair));
    solved.extend(open);
    solved
        .into_iter()
        .map(|(pair, solved)| {
            let cells = (0..=solved.unwrap_or(last))
                .map(|moment| {
                    let index = steps.iter().rposition(|step| step.from <= moment);
                    let step = index.map(|index| &steps[index]);
                    let watch = index.and_then(|index| watches[index].as_ref());
                    let [corner, edge] =
                        Piece::of_pair(pair).map(|piece| spot(facts, cross, piece, moment, step, watch));
                    Cell { corner, edge }
                })
                .collect();
            Lane { pair: pair.name(), solved, cells }
        })
        .collect()
}

fn spot(
    facts: &Facts<'_>,
    cross: Colour,
    piece: Piece,
    moment: usize,
    step: Option<&Step>,
    watch: Option<&Watch>,
) -> Spot {
    let position = &facts.study.replay.moments[moment];
    let filled = step.filter(|step| step.kind == Kind::Pair).map_or(&[][..], |step| &step.pairs);
    let home = |pair: &Pair| match piece {
        Piece::Corner(corner) => pair.corner.home() == position.state.corner(corner).place(),
        Piece::Edge(edge) => pair.edge.home() == position.state.edge(edge).place(),
    };
    let offset = moment - step.map_or(0, |step| step.from);
    Spot {
        place: piece.place(position),
        up: piece.is_up(&position.state, cross),
        target: filled.iter().any(home),
        sight: facts.look_ahead.lane_grade(piece, moment),
        // Before the first turn everything can be looked at.
        known: watch.is_none_or(|watch| offset < watch.len() && watch.known_at(offset).contains(piece)),
    }
}

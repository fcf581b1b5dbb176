//! What could be seen and known: fills the next pairs of a step, its offers, and the lanes.

use super::{Facts, scan};
use crate::annotation::{Cell, Lane, More, Next, Scan, Spot, SpotSight};
use crate::cube::{Colour, Pair, Position};
use crate::scan::is_up;
use crate::sight::{Moments, Piece, Pieces, Watch, fewest_more_faces, left};
use crate::steps::{Kind, Step};

/// Watches the moments of step `index`, with the cross, the pairs solved before it and those in hand known.
fn watch(facts: &Facts<'_>, cross: Colour, index: usize) -> Watch {
    let step = &facts.study.solve.steps[index];
    let known = facts.study.solve.solved_before(index).into_iter().chain(step.pairs.iter().copied());
    Watch::new(facts.study.replay.between(step.from, step.to), Pieces::cross_and(cross, known), facts.sight)
}

/// The step's moments and the moves between them.
pub(super) fn moments<'a>(facts: &'a Facts<'_>, step: &Step) -> Moments<'a> {
    Moments::new(
        facts.study.replay.between(step.from, step.to),
        &facts.study.replay.moves[step.from..step.to],
    )
}

/// Says of the pairs that were on offer and of those solved next when they could be seen and known.
pub(super) fn fill(facts: &Facts<'_>, index: usize, scan: &mut Option<Scan>, next: &mut [Next]) {
    let (Some(cross), Some(scan)) = (facts.study.solve.cross, scan) else { return };
    let step = &facts.study.solve.steps[index];
    let played = moments(facts, step);
    let open = facts.study.solve.open_before(index);
    for offer in &mut scan.offers {
        let pair = open.iter().find(|pair| pair.name() == offer.pair);
        offer.outcome = pair.map(|&pair| left(played, cross, pair, facts.sight, facts.lead).outcome);
    }
    let watched = watch(facts, cross, index);
    for (next, &pair) in next.iter_mut().zip(facts.study.solve.next_pairs(index)) {
        let at = |offset: Option<usize>| offset.map(|offset| step.from + offset);
        for (watch, found) in
            [(&mut next.corner, watched.corner(pair.corner)), (&mut next.edge, watched.edge(pair.edge))]
        {
            watch.seen = at(found.seen);
            watch.known = at(found.known);
            watch.oriented = at(found.oriented);
        }
        let left = left(played, cross, pair, facts.sight, facts.lead);
        next.lead = left.lead;
        next.outcome = Some(left.outcome);
        let pieces = [Piece::Corner(pair.corner), Piece::Edge(pair.edge)];
        next.more = fewest_more_faces(played, &pieces, facts.sight, played.deadline(facts.lead))
            .map(|more| More { faces: more.faces, from: step.from + more.from });
    }
}

/// For each pair its way to its insertion, in order of solving, then those that never are.
pub(super) fn lanes(facts: &Facts<'_>) -> Vec<Lane> {
    let Some(cross) = facts.study.solve.cross else { return Vec::new() };
    let steps = &facts.study.solve.steps;
    // The step whose eyes each moment belongs to: at a boundary the one that begins.
    let watches: Vec<Option<Watch>> = (0..steps.len())
        .map(|index| {
            let to_watch = matches!(steps[index].kind, Kind::Cross | Kind::Pair | Kind::Rest);
            to_watch.then(|| watch(facts, cross, index))
        })
        .collect();
    let last = facts.study.replay.moves.len();
    let mut solved: Vec<(Pair, Option<usize>)> =
        steps.iter().flat_map(|step| step.pairs.iter().map(|&pair| (pair, Some(step.to)))).collect();
    let open = Pair::all(cross).into_iter().filter(|&pair| solved.iter().all(|&(done, _)| done != pair));
    let open: Vec<_> = open.map(|pair| (pair, None)).collect();
    solved.extend(open);
    solved
        .into_iter()
        .map(|(pair, solved)| {
            let cells = (0..=solved.unwrap_or(last))
                .map(|moment| {
                    let index = step_at(steps, moment);
                    cell(facts, cross, pair, moment, index, index.and_then(|i| watches[i].as_ref()))
                })
                .collect();
            Lane { pair: pair.name(), solved, cells }
        })
        .collect()
}

/// The last step that begins at or before the moment.
fn step_at(steps: &[Step], moment: usize) -> Option<usize> {
    steps.iter().rposition(|step| step.from <= moment)
}

fn cell(
    facts: &Facts<'_>,
    cross: Colour,
    pair: Pair,
    moment: usize,
    index: Option<usize>,
    watch: Option<&Watch>,
) -> Cell {
    let position = &facts.study.replay.moments[moment];
    let step = index.map(|index| &facts.study.solve.steps[index]);
    let filled = step.filter(|step| step.kind == Kind::Pair).map_or(&[][..], |step| &step.pairs);
    let known = |piece: Piece| {
        let offset = moment - step.map_or(0, |step| step.from);
        watch.is_some_and(|watch| offset < watch.len() && watch.known_at(offset).contains(piece))
    };
    let sight = |piece: Piece| spot_sight(facts, position, piece, known(piece));
    Cell {
        corner: Spot {
            place: scan::corner_place(position, pair.corner),
            up: is_up(&position.state, pair.corner, cross),
            target: filled
                .iter()
                .any(|filled| filled.corner.home() == position.state.corner(pair.corner).place()),
            sight: sight(Piece::Corner(pair.corner)),
        },
        edge: Spot {
            place: scan::edge_place(position, pair.edge),
            up: position.state.edge(pair.edge).place().touches(cross.opposite()),
            target: filled.iter().any(|filled| filled.edge.home() == position.state.edge(pair.edge).place()),
            sight: sight(Piece::Edge(pair.edge)),
        },
    }
}

fn spot_sight(facts: &Facts<'_>, position: &Position, piece: Piece, known: bool) -> SpotSight {
    if crate::sight::InSight::new(position.hold, facts.sight).sees(piece, position) {
        SpotSight::Seen
    } else if known {
        SpotSight::Known
    } else {
        SpotSight::Hidden
    }
}

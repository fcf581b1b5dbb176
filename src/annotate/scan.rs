//! What the scan offered at the beginning of a step, and where the next pair went during it.

use super::Facts;
use crate::annotation::{Next, Offer, Scan, Watch};
use crate::cube::{Colour, Corner, Edge, Pair, Position};
use crate::naming;
use crate::scan::{Tier, is_up, tier};
use crate::steps::Kind;

/// The scan of step `index`, and the pairs solved in the step after it. `None` and nothing for steps that
/// leave no pair open, and for inspection and the last layer.
pub(super) fn scan(facts: &Facts<'_>, index: usize) -> (Option<Scan>, Vec<Next>) {
    let step = &facts.solve.steps[index];
    let Some(cross) = facts.solve.cross else { return (None, Vec::new()) };
    if !matches!(step.kind, Kind::Cross | Kind::Pair) {
        return (None, Vec::new());
    }
    let filled: &[Pair] = if step.kind == Kind::Pair { &step.pairs } else { &[] };
    let open: Vec<Pair> =
        facts.solve.open_before(index).into_iter().filter(|pair| !step.pairs.contains(pair)).collect();
    if open.is_empty() {
        return (None, Vec::new());
    }
    let from = &facts.replay.moments[step.from];
    let to = &facts.replay.moments[step.to];
    let tier_of = |pair: &Pair| tier(pair.corner, cross, filled, &from.state, &to.state);
    let of_tier = |wanted: Tier| -> Vec<String> {
        open.iter().filter(|pair| tier_of(pair) == wanted).map(ToString::to_string).collect()
    };
    let best = open.iter().map(tier_of).min();
    let solved_next = facts.solve.next_pairs(index);
    let mut offers: Vec<Offer> = open
        .iter()
        .map(|pair| Offer {
            pair: pair.to_string(),
            tier: tier_of(pair),
            corner: corner_place(from, pair.corner),
            edge: edge_place(from, pair.edge),
            outcome: None,
        })
        .collect();
    offers.sort_by_key(|offer| offer.tier);
    let scan = Scan {
        top: of_tier(Tier::Top),
        target: of_tier(Tier::Target),
        lifted: of_tier(Tier::Lifted),
        open: of_tier(Tier::Open),
        best,
        passed_over: solved_next.iter().map(tier_of).min().is_some_and(|chosen| Some(chosen) > best),
        offers,
    };
    let positions = facts.replay.between(step.from, step.to);
    let next = solved_next
        .iter()
        .map(|pair| {
            let found = tier_of(pair);
            let corner = watch_corner(positions, step.from, pair.corner, cross);
            Next {
                pair: pair.to_string(),
                tier: found,
                buried: found == Tier::Top && !corner.up,
                corner,
                edge: watch_edge(positions, step.from, pair.edge, cross),
                lead: None,
                lead_seconds: None,
                outcome: None,
                more: None,
            }
        })
        .collect();
    (Some(scan), next)
}

pub(super) fn corner_place(position: &Position, corner: Corner) -> String {
    naming::corner_place(position.state.corner(corner).place(), position.hold)
}

pub(super) fn edge_place(position: &Position, edge: Edge) -> String {
    naming::edge_place(position.state.edge(edge).place(), position.hold)
}

fn watch_corner(positions: &[Position], first: usize, corner: Corner, cross: Colour) -> Watch {
    watch(
        positions,
        first,
        |position| corner_place(position, corner),
        |position| is_up(&position.state, corner, cross),
    )
}

fn watch_edge(positions: &[Position], first: usize, edge: Edge, cross: Colour) -> Watch {
    watch(
        positions,
        first,
        |position| edge_place(position, edge),
        |position| position.state.edge(edge).place().touches(cross.opposite()),
    )
}

/// Follows a piece through the positions of a step, the first of which is moment `first`.
fn watch(
    positions: &[Position],
    first: usize,
    place: impl Fn(&Position) -> String,
    up: impl Fn(&Position) -> bool,
) -> Watch {
    let last = &positions[positions.len() - 1];
    // What a person sees moving: a wide turn carries the pieces of its own layers, though relative to the
    // centres it is the layer opposite that turns. A rotation leaves the state alone.
    let moved = |a: &Position, b: &Position| a.state != b.state && place(a) != place(b);
    let way = positions
        .windows(2)
        .enumerate()
        .filter(|(_, pair)| moved(&pair[0], &pair[1]))
        .map(|(i, pair)| (first + i + 1, place(&pair[1])))
        .collect();
    Watch {
        from: place(&positions[0]),
        to: place(last),
        up: up(last),
        seen: None,
        known: None,
        oriented: None,
        way,
    }
}

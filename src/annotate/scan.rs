//! What the scan offered at the beginning of a step, and where the next pair went during it.

use super::Facts;
use crate::annotation::{Next, Offer, Scan, Watch};
use crate::cube::{Colour, Corner, Edge, Pair, PairName, Place, Position};
use crate::scan::{Tier, is_up, tier};
use crate::steps::Kind;

/// The scan of step `index`, and the pairs solved in the step after it. `None` and nothing for steps that
/// leave no pair open, and for inspection and the last layer.
pub(super) fn scan(facts: &Facts<'_>, index: usize) -> (Option<Scan>, Vec<Next>) {
    let step = &facts.study.solve.steps[index];
    let Some(cross) = facts.study.solve.cross else { return (None, Vec::new()) };
    if !matches!(step.kind, Kind::Cross | Kind::Pair) {
        return (None, Vec::new());
    }
    let filled: &[Pair] = if step.kind == Kind::Pair { &step.pairs } else { &[] };
    let open: Vec<Pair> =
        facts.study.solve.open_before(index).into_iter().filter(|pair| !step.pairs.contains(pair)).collect();
    if open.is_empty() {
        return (None, Vec::new());
    }
    let from = &facts.study.replay.moments[step.from];
    let to = &facts.study.replay.moments[step.to];
    let tier_of = |pair: &Pair| tier(pair.corner, cross, filled, &from.state, &to.state);
    let of_tier = |wanted: Tier| -> Vec<PairName> {
        open.iter().filter(|pair| tier_of(pair) == wanted).map(|pair| pair.name()).collect()
    };
    let best = open.iter().map(tier_of).min();
    let solved_next = facts.study.solve.next_pairs(index);
    let mut offers: Vec<Offer> = open
        .iter()
        .map(|pair| Offer {
            pair: pair.name(),
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
        slot: of_tier(Tier::Slot),
        best,
        passed_over: solved_next.iter().map(tier_of).min().is_some_and(|chosen| Some(chosen) > best),
        offers,
    };
    let played = Played { facts, from: step.from, to: step.to };
    let next = solved_next
        .iter()
        .map(|pair| {
            let found = tier_of(pair);
            let corner = watch_corner(&played, pair.corner, cross);
            Next {
                pair: pair.name(),
                tier: found,
                buried: found == Tier::Top && !corner.up,
                corner,
                edge: watch_edge(&played, pair.edge, cross),
                lead: None,
                lead_seconds: None,
                outcome: None,
                more: None,
            }
        })
        .collect();
    (Some(scan), next)
}

pub(super) fn corner_place(position: &Position, corner: Corner) -> Place {
    Place::of_corner(position.state.corner(corner).place(), position.hold)
}

pub(super) fn edge_place(position: &Position, edge: Edge) -> Place {
    Place::of_edge(position.state.edge(edge).place(), position.hold)
}

/// The stretch of a replay that a step is.
struct Played<'a> {
    facts: &'a Facts<'a>,
    from: usize,
    to: usize,
}

fn watch_corner(played: &Played<'_>, corner: Corner, cross: Colour) -> Watch {
    let place = |position: &Position| corner_place(position, corner);
    watch(played, place, |position| is_up(&position.state, corner, cross))
}

fn watch_edge(played: &Played<'_>, edge: Edge, cross: Colour) -> Watch {
    let place = |position: &Position| edge_place(position, edge);
    watch(played, place, |position| position.state.edge(edge).place().touches(cross.opposite()))
}

/// Follows a piece through a step. What carries it is a turn after which it has another place in the hold: a
/// rotation moves the whole cube, and a slice or wide turn leaves what it does not touch where it was, although
/// the centres move past it.
fn watch(played: &Played<'_>, place: impl Fn(&Position) -> Place, up: impl Fn(&Position) -> bool) -> Watch {
    let replay = &played.facts.study.replay;
    let places: Vec<Place> = replay.between(played.from, played.to).iter().map(place).collect();
    let moves = &replay.moves[played.from..played.to];
    let way = (1..places.len())
        .filter(|&i| !moves[i - 1].is_rotation() && places[i] != places[i - 1])
        .map(|i| (played.from + i, places[i]))
        .collect();
    Watch {
        from: places[0],
        to: places[places.len() - 1],
        up: up(&replay.moments[played.to]),
        seen: None,
        known: None,
        oriented: None,
        way,
    }
}

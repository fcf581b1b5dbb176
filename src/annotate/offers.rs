//! What each step left: every open pair, when its pieces were found and how, and what its line costs from there.

use super::Facts;
use crate::annotation::{Clue, Deduced, More, Offer, PricedLine, REMEMBERED, RuledOut, Watch, Why};
use crate::cube::{FaceSet, Move, Pair, Place};
use crate::hands::{Hands, canonical, turns_of};
use crate::judgement::{Judge, Open, Step};
use crate::look_ahead::ToPlay;
use crate::scan::{Scanned, scan};
use crate::sight::grades::Found;
use crate::sight::grades::Looked;
use crate::sight::reasons::{Clue as Shown, Reason, Why as Because};
use crate::sight::{LayOpen, Piece, Travel, Watch as Elimination};
use crate::steps::Kind;

/// The open pairs that step `index` leaves: those solved next first, then best tier first.
pub(super) fn offers(facts: &Facts<'_>, index: usize) -> Vec<Offer> {
    let (Some(cross), Some(looked)) = (facts.study.solve.cross, facts.look_ahead.step(index)) else {
        return Vec::new();
    };
    let solve = &facts.study.solve;
    let step = &solve.steps[index];
    let open = solve.open_before(index);
    let target: &[Pair] = if step.kind == Kind::Pair { &step.pairs } else { &[] };
    let next = solve.next_pairs(index);
    let eliminated = super::lanes::elimination(facts, cross, index);
    let mut offers: Vec<Offer> = scan(looked.step(), cross, &open, &step.pairs, target)
        .iter()
        .map(|scanned| offer(facts, index, looked, &eliminated, scanned, next.contains(&scanned.pair)))
        .collect();
    // The scan has them best tier first.
    offers.sort_by_key(|offer| !offer.taken);
    offers
}

fn offer(
    facts: &Facts<'_>,
    index: usize,
    looked: &Looked<'_>,
    eliminated: &Elimination,
    scanned: &Scanned,
    taken: bool,
) -> Offer {
    let pair = scanned.pair;
    let from = facts.study.solve.steps[index].from;
    let left = looked.left(pair, facts.choice.lead);
    let [corner_before, edge_before] = facts.look_ahead.lay_open_before(index, pair);
    let before_from = index.checked_sub(1).map_or(0, |before| facts.study.solve.steps[before].from);
    let after_cross =
        index.checked_sub(1).is_some_and(|before| facts.study.solve.steps[before].kind == Kind::Cross);
    let at = |offset: Option<usize>| offset.map(|offset| from + offset);
    let watch = |travel: &Travel, found: Found, before: Option<LayOpen>| {
        let known = eliminated.piece(travel.piece);
        Watch {
            from: travel.from,
            to: travel.to,
            up: travel.up_at_last,
            plain: at(found.plain),
            deduced: looked.reason(travel.piece).map(|reason| deduced(from, &reason)),
            known: at(known.known),
            oriented: at(known.oriented),
            way: travel.way.iter().map(|stage| (from + stage.offset, stage.place)).collect(),
            before: before.map(|before| (before_from + before.last, before.last_place)),
            kept_in_mind: before.is_some_and(|before| {
                // What was seen before the first turn of the cross is long gone.
                let in_inspection = after_cross && before.last == 0;
                !in_inspection && before.carried_since + travel.way.len() <= REMEMBERED
            }),
        }
    };
    let both = left.corner.found().zip(left.edge.found()).map(|(corner, edge)| from + corner.max(edge));
    Offer {
        pair: pair.name(),
        taken,
        tier: scanned.tier,
        buried: scanned.buried,
        corner: watch(&scanned.corner, left.corner, corner_before),
        edge: watch(&scanned.edge, left.edge, edge_before),
        lead: left.lead,
        lead_seconds: both
            .and_then(|both| super::time::between(facts, both, facts.study.solve.steps[index].to)),
        plain_lead: left.plain_lead,
        told_lead: left.told_lead,
        at_once: left.told_from() == Some(0),
        deduced: left.only_deduced(),
        ready: left.ready,
        plain_ready: left.plain_ready,
        line: line(facts, index, pair),
        more: more(facts, from, looked, pair),
    }
}

/// The cheapest line of the pair from the end of step `index`.
fn line(facts: &Facts<'_>, index: usize, pair: Pair) -> Option<PricedLine> {
    let of =
        |open: &[Open]| open.iter().find(|open| open.left.pair == pair).and_then(|open| open.then.clone());
    let then = match &facts.judged[index] {
        Some(Step::Cross(cross)) => of(&cross.open),
        Some(Step::Pair(judged)) => of(&judged.open),
        None if facts.study.record.hands != Hands::Two => return None,
        None => {
            // Turns after the last milestone of a record that ends early.
            let cross = facts.study.solve.cross.filter(|_| facts.study.solve.cross_first)?;
            let end = &facts.study.replay.moments[facts.study.solve.steps[index].to];
            let judge = Judge::new(cross, facts.sight, &facts.choice);
            // Those turns may have solved it in passing.
            let is_open = end.state.cross_solved(cross) && !end.state.pair_solved(pair);
            if is_open { judge.then(end, pair) } else { None }
        }
    }?;
    let hold = facts.study.replay.moments[facts.study.solve.steps[index].to].hold;
    let turns = |moves: &[Move]| canonical(&turns_of(hold, moves));
    let next = facts.study.solve.steps.get(index + 1).map(|next| facts.study.moves(next));
    let played = next.is_some_and(|moves| turns(moves) == turns(&then.moves));
    Some(PricedLine { text: then.moves.as_slice().into(), obtm: then.turns, cost: then.cost.units(), played })
}

/// The side face that a tilt would show, if that makes the pair ready; else the fewest faces that would.
fn more(facts: &Facts<'_>, from: usize, looked: &Looked<'_>, pair: Pair) -> Option<More> {
    let lead = facts.choice.lead;
    let tilt = looked.tilt(pair, lead);
    let more = tilt.or_else(|| looked.further_faces(pair, lead))?;
    let left = looked.left(pair, lead);
    let shows = Piece::of_pair(pair).into_iter().zip([left.corner, left.edge]).all(|(piece, found)| {
        let on_them =
            |offset| looked.place(piece, offset).faces().iter().any(|&face| more.faces.contains(face));
        found.found().is_some_and(|found| found <= more.from) || (0..=more.from).any(on_them)
    });
    Some(More { faces: more.faces, from: from + more.from, tilt: tilt.is_some(), shows })
}

/// More turns than this are on the way to no pair: no line that is searched is as long.
const LONGEST_LINE: usize = 10;

/// What the last position of a record offers that ends before its pairs are in. Nothing where a mistake lies before it:
/// where a step that the writer names was not reached, or far more was played than a pair takes.
pub(super) fn to_play(facts: &Facts<'_>) -> Vec<Offer> {
    let solve = &facts.study.solve;
    let Some(last) = solve.steps.len().checked_sub(1).filter(|_| solve.cross_first) else {
        return Vec::new();
    };
    let played = facts.study.replay.moves.len();
    let contradicted = facts.study.claims.iter().any(|claim| !claim.holds && claim.to <= played);
    let beyond = &solve.steps[last];
    let turns: usize = facts.study.moves(beyond).iter().map(|mv| mv.obtm()).sum();
    if contradicted || beyond.kind == Kind::Rest && turns > LONGEST_LINE {
        return Vec::new();
    }
    let offers = offers(facts, last);
    let in_order = facts.look_ahead.to_play();
    let tier = |ToPlay { pair, tier, .. }: &ToPlay| {
        let offer = offers.iter().find(|offer| offer.pair == pair.name())?;
        Some(Offer { tier: *tier, ..offer.clone() })
    };
    in_order.iter().filter_map(tier).collect()
}

/// How a piece is deduced, as facts; `from` is the moment at which the step begins.
#[must_use]
pub fn deduced(from: usize, reason: &Reason) -> Deduced {
    Deduced {
        moment: from + reason.offset,
        piece: reason.piece.to_string(),
        place: reason.place,
        clue: match &reason.clue {
            Shown::OneSticker { colour, face, ruled_out } => Clue::OneSticker {
                colour: *colour,
                face: FaceSet::of(&[*face]),
                ruled_out: ruled_out
                    .iter()
                    .map(|out| {
                        let (why, place): (Why, Option<Place>) = match out.why {
                            Because::LiesOpen { place } => (Why::LiesOpen, Some(place)),
                            Because::FoundBefore { place, .. } => (Why::Found, Some(place)),
                            Because::Cross => (Why::Cross, None),
                            Because::Solved => (Why::Solved, None),
                            Because::InHand => (Why::InHand, None),
                        };
                        RuledOut { piece: out.piece.to_string(), why, place }
                    })
                    .collect(),
            },
            Shown::OnlyPlace { .. } => Clue::OnlyPlace,
        },
    }
}

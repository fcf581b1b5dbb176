//! The judgement of a pair step, in the words of the facts.

use super::{Facts, Turning};
use crate::annotation::{Alternative, AlternativeNext, Choice, OwnLine};
use crate::cube::{Colour, Pair, Position, Stickers};
use crate::judgement::{Offer, Step};
use crate::look_ahead::LaneGrade;
use crate::search::Kind;
use crate::sight::Piece;
use crate::steps::cases::orientation_case;
use crate::steps::{self, Skip};

/// What else could have been done at step `index`; `None` unless it is a pair step.
pub(super) fn choice(facts: &Facts<'_>, index: usize, turning: &Turning) -> Option<Choice> {
    let Some(Step::Pair(judged)) = &facts.judged[index] else { return None };
    let cross = facts.study.solve.cross?;
    let open = facts.study.solve.open_before(index);
    let found = judged.choice.as_ref();
    // A last pair that leaves the layer oriented was worth its turns.
    let step = &facts.study.solve.steps[index];
    let oriented = step.skips.contains(&Skip::Oll);
    let (start, end) = (&facts.study.replay.moments[step.from], &facts.study.replay.moments[step.to]);
    // So was one that left more of its edges oriented than the line would.
    let edges = |at: &Position| {
        let case = orientation_case(&at.state, cross)?;
        Some(case.oriented_edges())
    };
    let worth_it = |own: &crate::judgement::OwnLine| {
        oriented || edges(&start.after(own.moves.iter().copied())) < edges(end)
    };
    let played = found.and_then(|choice| choice.price).unwrap_or(judged.cost);
    let offer = |offer: &Offer| {
        let saves = (played - offer.price).units();
        // What is dearer is not bounded by the clock.
        let seconds = match saves {
            ..0.0 => turning.rate.map(|rate| saves * rate),
            _ => turning.saving(index, saves, offer.price.units()),
        };
        alternative(facts, index, cross, offer, saves, seconds)
    };
    Some(Choice {
        within: judged.within,
        every_line: facts.choice.kind == Kind::Every,
        lines: judged.lines,
        played_is_hand_line: judged.is_hand_line,
        cost: judged.cost.units(),
        price: found.and_then(|choice| choice.price).map(|price| price.units()),
        verdict: found.map(|choice| choice.verdict),
        alternatives: found.map(|choice| choice.alternatives.iter().map(offer).collect()).unwrap_or_default(),
        cheapest: found.and_then(|choice| choice.cheapest.as_ref()).map(offer),
        cleaner: found.and_then(|choice| choice.cleaner.as_ref()).map(|cleaner| offer(&cleaner.offer)),
        own: judged.own_line.as_ref().filter(|own| !worth_it(own)).map(|own| {
            let saves = own.saves.units();
            OwnLine {
                text: own.moves.as_slice().into(),
                obtm: own.turns,
                cost: own.cost.units(),
                saves,
                seconds: turning.own_saving(index, saves, own.cost.units()),
                last_pair: open.len() == 1,
            }
        }),
        open_pairs: open.len(),
        good_pairs: found.map_or(0, |choice| choice.offered.len()),
    })
}

/// How many tokens fewer a line has with that of the pair it leaves than were played in step `index` and the next.
fn tokens_saved(facts: &Facts<'_>, index: usize, offer: &Offer) -> Option<i64> {
    let steps = &facts.study.solve.steps;
    let next = steps.get(index + 1).filter(|next| next.kind == steps::Kind::Pair)?;
    let played = next.to - steps[index].from;
    let offered = offer.moves.len() + offer.next.as_ref()?.then.moves.len();
    Some(i64::try_from(played).ok()? - i64::try_from(offered).ok()?)
}

/// Whether a pair was ready when step `index` began, or lay open to sight. Where nothing was played before, everything can
/// be looked at.
fn at_hand(facts: &Facts<'_>, index: usize, pair: Pair) -> bool {
    let Some(before) = index.checked_sub(1).filter(|&before| facts.look_ahead.step(before).is_some()) else {
        return true;
    };
    let from = facts.study.solve.steps[index].from;
    let open = |piece: Piece| facts.look_ahead.lane_grade(piece, from) == LaneGrade::Plain;
    facts.look_ahead.left(before).iter().any(|left| left.pair == pair && left.ready)
        || Piece::of_pair(pair).into_iter().all(open)
}

/// A line on offer at step `index`.
fn alternative(
    facts: &Facts<'_>,
    index: usize,
    cross: Colour,
    offer: &Offer,
    saves: f64,
    seconds: Option<f64>,
) -> Alternative {
    let step = &facts.study.solve.steps[index];
    let start = &facts.study.replay.moments[step.from];
    Alternative {
        text: offer.moves.as_slice().into(),
        pairs: offer.solves.iter().copied().map(Pair::name).collect(),
        obtm: offer.turns,
        cost: offer.cost.units(),
        price: offer.price.units(),
        saves,
        seconds,
        tokens_saved: tokens_saved(facts, index, offer),
        at_hand: offer.solves.iter().all(|&pair| step.pairs.contains(&pair) || at_hand(facts, index, pair)),
        next: offer.next.as_ref().map(|next| {
            let [corner, edge] = Piece::of_pair(next.left.pair).map(|piece| piece.place(&offer.end));
            let [corner_piece, _] = Piece::of_pair(next.left.pair);
            let is_up = |at: &Position| corner_piece.is_up(&at.state, cross);
            AlternativeNext {
                pair: next.left.pair.name(),
                corner,
                edge,
                buried: is_up(start) && !is_up(&offer.end),
                out_of_sight: [corner, edge]
                    .iter()
                    .any(|place| place.faces().iter().all(|&face| !facts.sight.contains(face))),
                // As it is told of what the turns played left.
                lead: next.left.told_lead.unwrap_or(0),
                at_once: next.left.told_from() == Some(0),
                deduced: next.left.only_deduced(),
                then: next.then.moves.as_slice().into(),
                then_obtm: next.then.turns,
            }
        }),
        same_turns: offer.same_turns,
        hold: offer.end.hold.into(),
        stickers: Stickers::of(&offer.end),
    }
}

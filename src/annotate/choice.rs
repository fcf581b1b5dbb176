//! The judgement of a pair step, in the words of the facts.

use super::{Facts, Turning};
use crate::annotation::{Alternative, AlternativeNext, Choice, OwnLine};
use crate::cube::{Pair, Stickers};
use crate::judgement::{Offer, Step};
use crate::search::Kind;
use crate::sight::Piece;
use crate::steps::Skip;

/// What else could have been done at step `index`; `None` unless it is a pair step.
pub(super) fn choice(facts: &Facts<'_>, index: usize, turning: &Turning) -> Option<Choice> {
    let Some(Step::Pair(judged)) = &facts.judged[index] else { return None };
    let open = facts.study.solve.open_before(index);
    let found = judged.choice.as_ref();
    // A last pair that leaves the layer oriented was worth its turns.
    let oriented = facts.study.solve.steps[index].skips.contains(&Skip::Oll);
    let played = found.and_then(|choice| choice.price).unwrap_or(judged.cost);
    let offer = |offer: &Offer| {
        let saves = (played - offer.price).units();
        // What is dearer is not bounded by the clock.
        let seconds = match saves {
            ..0.0 => turning.rate.map(|rate| saves * rate),
            _ => turning.saving(index, saves, offer.price.units()),
        };
        alternative(offer, saves, seconds)
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
        own: judged.own_line.as_ref().filter(|_| !oriented).map(|own| {
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

fn alternative(offer: &Offer, saves: f64, seconds: Option<f64>) -> Alternative {
    Alternative {
        text: offer.moves.as_slice().into(),
        pairs: offer.solves.iter().copied().map(Pair::name).collect(),
        obtm: offer.turns,
        cost: offer.cost.units(),
        price: offer.price.units(),
        saves,
        seconds,
        next: offer.next.as_ref().map(|next| {
            let [corner, edge] = Piece::of_pair(next.left.pair).map(|piece| piece.place(&offer.end));
            let found = next.left.corner.found().zip(next.left.edge.found());
            let plain = next.left.corner.plain.zip(next.left.edge.plain);
            AlternativeNext {
                pair: next.left.pair.name(),
                corner,
                edge,
                lead: next.left.lead.unwrap_or(0),
                at_once: found.is_some_and(|(corner, edge)| corner.max(edge) == 0),
                deduced: plain.map(|(corner, edge)| corner.max(edge))
                    != found.map(|(corner, edge)| corner.max(edge)),
                then: next.then.moves.as_slice().into(),
                then_obtm: next.then.turns,
            }
        }),
        same_turns: offer.same_turns,
        hold: offer.end.hold.into(),
        stickers: Stickers::of(&offer.end),
    }
}

//! What is said of a stop: its cause in a sentence or two, and at most one thing to do.

use super::blocks::Phrase;
use super::found::{about_turns, estimated, turns, when};
use crate::annotation::{Annotation, Cause, Clue, Offer, RuledOut, Step, Stop, Watch, Why};
use crate::cube::{Face, FaceSet};
use crate::scan::Tier;

/// What was behind a stop before step `index`, without its length and its place. Nothing for a stop inside a step.
#[must_use]
pub fn cause(annotation: &Annotation, index: usize, stop: &Stop) -> Phrase {
    let step = &annotation.steps[index];
    if stop.inside {
        return Phrase::new();
    }
    if stop.cause == Some(Cause::Recognition) {
        return Phrase::words(format!("Recognition of {}.", step.title()));
    }
    let Some(before) = index.checked_sub(1).map(|before| &annotation.steps[before]) else {
        return Phrase::new();
    };
    let Some(offer) = before.taken() else { return Phrase::new() };
    match stop.cause {
        Some(Cause::Attention) => attention(annotation, before, offer),
        Some(Cause::Deduction) => deduction(before, offer),
        Some(Cause::Choice) => choice(annotation, before, offer, stop),
        Some(Cause::Inspection) => inspection(annotation, before, offer),
        Some(Cause::View) => view(annotation, before, offer),
        Some(Cause::Position) => position(offer),
        _ => Phrase::new(),
    }
}

fn pair(offer: &Offer) -> Phrase {
    Phrase::new().run(super::blocks::Run::Pair(offer.pair))
}

/// The pair at the beginning of a sentence.
fn first(offer: &Offer) -> Phrase {
    Phrase::new().run(super::blocks::Run::PairFirst(offer.pair))
}

fn attention(annotation: &Annotation, before: &Step, offer: &Offer) -> Phrase {
    let lead = offer.plain_lead.unwrap_or(0);
    let at_once = lead >= before.obtm;
    let since = if at_once {
        format!(" when {} began, {} earlier", before.name, turns(lead))
    } else {
        let seen = [&offer.corner, &offer.edge].into_iter().filter_map(|watch| watch.plain).max();
        let after = seen.map(|seen| format!(" {}", when(annotation, before, seen))).unwrap_or_default();
        format!("{after} of {}, {} before its end", before.name, turns(lead))
    };
    let [corner, edge] =
        if at_once { [offer.corner.from, offer.edge.from] } else { [offer.corner.to, offer.edge.to] };
    let lay = if at_once { "lay open at" } else { "lay open, now at" };
    first(offer)
        .and(format!(" {lay} {corner} and {edge}{since}. {}", where_to_look(annotation, before, offer)))
}

/// One thing to do with the eyes: where the scan would have found the corner.
fn where_to_look(annotation: &Annotation, before: &Step, offer: &Offer) -> String {
    let open = before.offers.len();
    let top = annotation.cross.map(|cross| cross.to_string()).unwrap_or_default();
    let none_on_top = before.offers.iter().all(|offer| offer.tier != Tier::Top);
    match offer.tier {
        Tier::Top => "Look at the top layer, not at the hands.".into(),
        Tier::Target => "Look in the slot being filled: what is in there has to come out.".into(),
        Tier::Lifted | Tier::Slot if none_on_top && open == 1 => {
            format!("No {top} on top and one slot open: look in that slot.")
        }
        Tier::Lifted | Tier::Slot if none_on_top => format!("No {top} on top: look in the open slots."),
        Tier::Lifted => "These turns lifted it out of its slot: watch what comes up.".into(),
        Tier::Slot => "After the top layer look in the open slots.".into(),
    }
}

fn deduction(before: &Step, offer: &Offer) -> Phrase {
    let lead = offer.lead.unwrap_or(0);
    let which = |name: &str, watch: &Watch| {
        let deduced = watch.deduced.as_ref()?;
        Some(match &deduced.clue {
            Clue::OneSticker { colour, .. } => {
                format!("its {name} from one sticker, {colour}, at {}", deduced.place)
            }
            Clue::OnlyPlace => format!("that its {name} is at {}, the only place left", deduced.place),
        })
    };
    let parts: Vec<String> =
        [which("corner", &offer.corner), which("edge", &offer.edge)].into_iter().flatten().collect();
    let earlier = if lead >= before.obtm {
        format!("when {} began", before.name)
    } else {
        format!("{} earlier", turns(lead))
    };
    first(offer).and(format!(" was ready {earlier}, but only for eyes that deduce {}.", parts.join(" and ")))
}

fn choice(annotation: &Annotation, before: &Step, offer: &Offer, stop: &Stop) -> Phrase {
    let Some(instead) = &stop.instead else { return Phrase::new() };
    let cost = price(instead.dearer, instead.seconds);
    let mut words = first(offer).and(" was late; ");
    // After the cross it is always the same turns.
    let line = before.choice.as_ref().and_then(|choice| choice.cheapest.as_ref());
    words = match line {
        Some(line) if !line.same_turns => words
            .turns(&line.text)
            .and(" leaves ")
            .run(super::blocks::Run::Pair(instead.pair))
            .and(format!(" ready and {cost}.")),
        _ => words.run(super::blocks::Run::Pair(instead.pair)).and(format!(" was ready and {cost}.")),
    };
    if stop.also == Some(Cause::Inspection) {
        words = words
            .and(" Or follow ")
            .then(pair(offer))
            .and(" from inspection: ")
            .and(travels(annotation, before, offer));
    }
    words
}

/// What a pair or a line costs besides another: `costs no more`, `costs about 0.2 s more`.
#[must_use]
pub fn price(dearer: f64, seconds: Option<f64>) -> String {
    let more = match seconds {
        Some(seconds) if seconds.abs() < 0.05 => return "costs no more".into(),
        Some(seconds) => format!("about {}", estimated(seconds.abs())),
        None if dearer.abs() < 0.25 => return "costs no more".into(),
        None => about_turns(dearer.abs()),
    };
    if dearer > 0.0 { format!("costs {more} more") } else { format!("costs {more} less") }
}

fn inspection(annotation: &Annotation, before: &Step, offer: &Offer) -> Phrase {
    Phrase::words("Follow ")
        .then(pair(offer))
        .and(" from inspection: ")
        .and(travels(annotation, before, offer))
}

/// The way of both pieces through the cross, for somebody who follows them from inspection.
fn travels(annotation: &Annotation, before: &Step, offer: &Offer) -> String {
    let way = |name: &str, watch: &Watch| {
        if watch.way.is_empty() {
            return format!("{name} stays at {}", watch.from);
        }
        let steps: Vec<String> = watch
            .way
            .iter()
            .map(|&(moment, place)| {
                let token = annotation.moments[moment].spelled().unwrap_or_default();
                format!("{token} {place}")
            })
            .collect();
        format!("{name} {}, {}", watch.from, steps.join(", "))
    };
    let _ = before;
    format!("{}; {}.", way("corner", &offer.corner), way("edge", &offer.edge))
}

fn view(annotation: &Annotation, before: &Step, offer: &Offer) -> Phrase {
    let hidden: Vec<String> = [("corner", &offer.corner), ("edge", &offer.edge)]
        .into_iter()
        .filter(|(_, watch)| !watch.in_time(before, annotation.settings.lead))
        .map(|(name, watch)| format!("its {name}, at {}, {}", watch.to, not_found(watch)))
        .collect();
    // Both were found in the end, one of them too late.
    let late = match offer.lead {
        Some(lead) if hidden.is_empty() => format!("found with {} to go", turns(lead)),
        _ => hidden.join("; "),
    };
    let mut words = first(offer).and(format!(" was late: {late}."));
    if let Some(more) = offer.more.as_ref().filter(|more| more.tilt) {
        let when = when(annotation, before, more.from);
        words = words.and(format!(" Tilt for the left side: it shows both {when}."));
    } else if let Some((name, moment, place)) = lay_before(annotation, before, offer) {
        let step = annotation.step_at(moment).map_or_else(String::new, |step| format!(" of {}", step.name));
        words = words.and(format!(" Its {name} lay open at {place} in the turns{step}: remember it."));
    }
    words
}

/// What was not found in time, and where it lay open in the step before.
fn lay_before(
    annotation: &Annotation,
    before: &Step,
    offer: &Offer,
) -> Option<(&'static str, usize, crate::cube::Place)> {
    [("corner", &offer.corner), ("edge", &offer.edge)]
        .into_iter()
        .filter(|(_, watch)| !watch.in_time(before, annotation.settings.lead))
        .find_map(|(name, watch)| watch.before.map(|(moment, place)| (name, moment, place)))
}

/// What the eyes had of a piece that was not found in time.
fn not_found(watch: &Watch) -> &'static str {
    match watch.found() {
        Some(_) => "was found late",
        None => "was out of sight or showed one sticker, which settled nothing",
    }
}

fn position(offer: &Offer) -> Phrase {
    let words =
        Phrase::words("There was nothing better, and nothing showed ").then(pair(offer)).and(" in time");
    match &offer.line {
        Some(line) => words.and("; its cheapest line from there: ").turns(&line.text).and("."),
        None => words.and("."),
    }
}

/// Why a deduced piece is the one it is: the sticker, the place, the turn, then who is ruled out and why.
#[must_use]
pub fn reason(annotation: &Annotation, step: &Step, name: &str, watch: &Watch) -> Option<String> {
    let deduced = watch.deduced.as_ref()?;
    let when = when(annotation, step, deduced.moment);
    Some(match &deduced.clue {
        Clue::OneSticker { colour, face, ruled_out } => {
            let others: Vec<String> =
                ruled_out.iter().map(|out| format!("{} {}", out.piece, why(out))).collect();
            let piece = &deduced.piece;
            let rest = if others.is_empty() {
                String::new()
            } else {
                format!("{}; ", super::found::capital(&others.join(", ")))
            };
            format!(
                "{name}: {colour} {} at {} {when}. {rest}so it is {piece}.",
                on_face(*face),
                deduced.place
            )
        }
        Clue::OnlyPlace => {
            let piece = &deduced.piece;
            format!(
                "{name}: every other place shows or holds something else {when}, so {piece} is at {}.",
                deduced.place
            )
        }
    })
}

fn why(out: &RuledOut) -> String {
    let place = out.place.map(|place| format!(" at {place}")).unwrap_or_default();
    match out.why {
        Why::LiesOpen => format!("lies open{place}"),
        Why::Found => "has been found".into(),
        Why::Cross => "is in the cross".into(),
        Why::Solved => "is solved".into(),
        Why::InHand => "is in hand".into(),
    }
}

fn on_face(face: FaceSet) -> &'static str {
    match face.iter().next() {
        Some(Face::U) | None => "on top",
        Some(Face::D) => "below",
        Some(Face::F) => "in front",
        Some(Face::B) => "behind",
        Some(Face::R) => "on the right",
        Some(Face::L) => "on the left",
    }
}

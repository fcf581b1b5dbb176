//! What is said of a stop: its cause in a sentence or two, and at most one thing to do.

use super::blocks::Phrase;
use super::found::{about_turns, estimated, turns, when};
use crate::annotation::{Annotation, Cause, Clue, Offer, RuledOut, Step, StepKind, Stop, Watch, Why};
use crate::cube::{Face, FaceSet, Place};
use crate::scan::Tier;
use crate::words::and;

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
        Some(Cause::Deduction) => deduction(annotation, before, offer),
        Some(Cause::Choice) => choice(annotation, before, offer, stop),
        Some(Cause::Inspection) => inspection(annotation, offer),
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
    let seen = [&offer.corner, &offer.edge].into_iter().filter_map(|watch| watch.plain).max();
    let seen = if at_once { before.from } else { seen.unwrap_or(before.to) };
    let since = if at_once {
        format!(" when {} began, {} earlier", named(before), turns(lead))
    } else {
        format!(" {} of {}, {} before its end", when(annotation, before, seen), named(before), turns(lead))
    };
    let [corner, edge] = [&offer.corner, &offer.edge].map(|watch| place_at(watch, seen));
    let look = match before.kind {
        StepKind::Cross if at_once => " Plan it with the cross, in inspection.".into(),
        // By then a corner of the top layer may have left it.
        _ if offer.tier == Tier::Top && !corner.to_string().contains('U') => String::new(),
        _ => format!(" {}", where_to_look(annotation, before, offer)),
    };
    first(offer).and(format!(" lay open at {corner} and {edge}{since}.{look}"))
}

/// Where a piece sat at a moment of the step in which it is watched.
fn place_at(watch: &Watch, moment: usize) -> Place {
    let reached = watch.way.iter().take_while(|&&(reached, _)| reached <= moment);
    reached.last().map_or(watch.from, |&(_, place)| place)
}

/// A step in the middle of a sentence.
fn named(step: &Step) -> String {
    match step.kind {
        StepKind::Cross => format!("the {}", step.name),
        _ => step.name.to_string(),
    }
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
            format!("No other {top} corner on top and one slot open: look in that slot.")
        }
        Tier::Lifted | Tier::Slot if none_on_top => {
            format!("No other {top} corner on top: look in the open slots.")
        }
        Tier::Lifted => "These turns lifted it out of its slot: watch what comes up.".into(),
        Tier::Slot => "After the top layer look in the open slots.".into(),
    }
}

fn deduction(annotation: &Annotation, before: &Step, offer: &Offer) -> Phrase {
    let lead = offer.lead.unwrap_or(0);
    let which = |name: &str, watch: &Watch| {
        let deduced = watch.deduced.as_ref()?;
        Some(match &deduced.clue {
            Clue::OneSticker { colour, .. } => {
                format!("its {name} at {} from one {colour} sticker", deduced.place)
            }
            Clue::OnlyPlace => format!("its {name} at {}, the only place left for it", deduced.place),
        })
    };
    let parts: Vec<String> =
        [which("corner", &offer.corner), which("edge", &offer.edge)].into_iter().flatten().collect();
    let earlier = if lead >= before.obtm {
        format!("when {} began", named(before))
    } else {
        format!("{} earlier", turns(lead))
    };
    let words = format!(" was ready {earlier}, but only for eyes that deduce {}.", and(&parts));
    let not_plain: Vec<_> = pieces(offer).into_iter().filter(|(_, watch)| watch.deduced.is_some()).collect();
    first(offer).and(words).and(remember(annotation, &not_plain, "Or remember"))
}

fn choice(annotation: &Annotation, before: &Step, offer: &Offer, stop: &Stop) -> Phrase {
    let Some(instead) = &stop.instead else { return Phrase::new() };
    let cost = price(instead.dearer, instead.seconds);
    let mut words = first(offer).and(" was late; ");
    // After the cross it is always the same turns.
    let line = before.choice.as_ref().and_then(|choice| choice.cheapest.as_ref());
    words = match line {
        Some(line) if !line.same_turns => words
            .and(format!("in {}, ", before.name))
            .turns(&line.text)
            .and(if line.pairs == before.pairs { "" } else { " for " })
            .pairs(if line.pairs == before.pairs { &[] } else { &line.pairs })
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
            .and(travels(annotation, offer));
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

fn inspection(annotation: &Annotation, offer: &Offer) -> Phrase {
    Phrase::words("Follow ").then(pair(offer)).and(" from inspection: ").and(travels(annotation, offer))
}

/// The way of both pieces through the cross, for somebody who follows them from inspection.
fn travels(annotation: &Annotation, offer: &Offer) -> String {
    let way = |name: &str, watch: &Watch| {
        if watch.way.is_empty() {
            return format!("{name} stays at {}", watch.from);
        }
        let stage = |&(moment, place): &(usize, Place)| {
            format!(" > {place} ({})", annotation.moments[moment].spelled().unwrap_or_default())
        };
        format!("{name} {}{}", watch.from, watch.way.iter().map(stage).collect::<String>())
    };
    format!("{}; {}.", way("corner", &offer.corner), way("edge", &offer.edge))
}

fn view(annotation: &Annotation, before: &Step, offer: &Offer) -> Phrase {
    let late: Vec<_> = pieces(offer)
        .into_iter()
        .filter(|(_, watch)| !watch.in_time(before, annotation.settings.lead))
        .collect();
    let hidden: Vec<String> = late
        .iter()
        .map(|(name, watch)| match watch.found() {
            Some(moment) => {
                format!("its {name} could be found only {}", when(annotation, before, moment))
            }
            None => format!("its {name}, at {}, could not be told from what showed", watch.to),
        })
        .collect();
    let mut words = first(offer).and(format!(" was late: {}.", hidden.join("; ")));
    let tilt = offer.more.as_ref().filter(|more| more.tilt);
    if let Some(more) = tilt {
        let when = when(annotation, before, more.from);
        words = words.and(format!(" Tilt for the left side: with it both are found {when}."));
    }
    words.and(remember(annotation, &late, if tilt.is_some() { "Or remember" } else { "Remember" }))
}

fn pieces(offer: &Offer) -> [(&'static str, &Watch); 2] {
    [("corner", &offer.corner), ("edge", &offer.edge)]
}

/// What lay open in the step before, if all of these did: whoever keeps it in mind has nothing left to find.
fn remember(annotation: &Annotation, pieces: &[(&str, &Watch)], begin: &str) -> String {
    let lay: Option<Vec<(&str, usize, Place)>> = pieces
        .iter()
        .map(|&(name, watch)| watch.before.map(|(moment, place)| (name, moment, place)))
        .collect();
    let Some(lay) = lay.filter(|lay| !lay.is_empty()) else { return String::new() };
    let places: Vec<String> =
        lay.iter().map(|(name, _, place)| format!("its {name} lay open at {place}")).collect();
    let step = annotation.step_at(lay[0].1).map_or_else(String::new, |step| format!(" in {}", named(step)));
    format!(" {begin} it: {}{step}.", places.join(", "))
}

fn position(offer: &Offer) -> Phrase {
    let words =
        Phrase::words("Nothing showed ").then(pair(offer)).and(" in time, and nothing better was there");
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
            format!("{name}: {when} {} is the only place left for {piece}.", deduced.place)
        }
    })
}

pub(super) fn why(out: &RuledOut) -> String {
    let place = out.place.map(|place| format!(" at {place}")).unwrap_or_default();
    match out.why {
        Why::LiesOpen => format!("lies open{place}"),
        Why::Found => "has been found".into(),
        Why::Cross => "is in the cross".into(),
        Why::Solved => "is solved".into(),
        Why::InHand => "is in hand".into(),
    }
}

pub(super) fn on_face(face: FaceSet) -> &'static str {
    match face.iter().next() {
        Some(Face::U) | None => "on top",
        Some(Face::D) => "below",
        Some(Face::F) => "in front",
        Some(Face::B) => "behind",
        Some(Face::R) => "on the right",
        Some(Face::L) => "on the left",
    }
}

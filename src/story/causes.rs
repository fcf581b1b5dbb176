//! What is said of a stop: its cause in a sentence or two, and at most one thing to do.

use super::blocks::Phrase;
use super::found::{about_turns, estimated, turns, when};
use crate::annotation::{
    Alternative, Annotation, Cause, Cell, Clue, LaneGrade, Offer, Reason, RuledOut, Step, StepKind, Stop,
    Verdict, Watch, Why,
};
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
    stop.why().map_or_else(Phrase::new, |why| before_pair(annotation, index, &why))
}

/// Why the pair of step `index` was not at hand when the step began, and what to do.
pub(super) fn before_pair(annotation: &Annotation, index: usize, why: &Reason) -> Phrase {
    let Some(before) = index.checked_sub(1).map(|before| &annotation.steps[before]) else {
        return Phrase::new();
    };
    let Some(offer) = before.taken() else { return Phrase::new() };
    match why.cause {
        Cause::Attention => attention(annotation, before, offer),
        Cause::Deduction => deduction(annotation, before, offer),
        Cause::Choice => choice(annotation, index, before, offer, why),
        Cause::Inspection => inspection(annotation, before, offer),
        Cause::View => view(annotation, index, before, offer),
        Cause::Position => position(annotation, index, before, offer),
        Cause::Recognition => Phrase::new(),
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
    let open = |watch: &Watch| watch.plain.unwrap_or(before.to);
    let (corner, edge) = (open(&offer.corner), open(&offer.edge));
    let at = |moment: usize| at(annotation, before, moment);
    let places = |moment: usize| spots(annotation, offer, moment);
    let earlier =
        if lead >= before.obtm { format!("{} earlier", turns(lead)) } else { format!("with {lead} to go") };
    // Each piece where and when it lay open itself.
    let lay = if corner == edge {
        let [corner_at, edge_at] = places(corner);
        format!(" lay open at {corner_at} and {edge_at} {}, {earlier}.", at(corner))
    } else {
        let ([corner_at, _], [_, edge_at]) = (places(corner), places(edge));
        let mut pieces =
            [(corner, format!("its corner at {corner_at}")), (edge, format!("its edge at {edge_at}"))];
        pieces.sort_by_key(|&(moment, _)| moment);
        let [(first, first_words), (second, second_words)] = pieces;
        let first_at = at(first);
        let of_step = format!(" of {}", named(before));
        let second_at = at(second);
        // The step is named once.
        let second_at =
            if first_at.ends_with(&of_step) { second_at.trim_end_matches(&of_step) } else { &second_at };
        format!(" lay open: {first_words} {first_at}, {second_words} {second_at}, {earlier}.")
    };
    let lain = corner.max(edge);
    let look = match before.kind {
        StepKind::Cross if offer.at_once || offer.can_be_followed(before, annotation.settings.lead) => {
            " Plan it with the cross, in inspection.".into()
        }
        // What goes out of sight again is not found by looking at the end, nor what moves on by looking where it lay.
        _ if !open_at(annotation, offer, before.to)
            || offer.tier == Tier::Top && !stays_on_top(annotation, before, offer, lain) =>
        {
            format!(" Follow it: it ends at {} and {}.", offer.corner.to, offer.edge.to)
        }
        _ => format!(" {}", where_to_look(annotation, before, offer, places(edge)[1])),
    };
    first(offer).and(lay).and(look)
}

/// `when pair 1 began`, `after U of pair 1`.
fn at(annotation: &Annotation, step: &Step, moment: usize) -> String {
    if moment <= step.from {
        format!("when {} began", named(step))
    } else {
        format!("{} of {}", when(annotation, step, moment), named(step))
    }
}

fn is_on_top(place: Place) -> bool {
    place.faces().contains(&Face::U)
}

/// A pair in the lanes at a moment.
fn cell<'a>(annotation: &'a Annotation, offer: &Offer, moment: usize) -> Option<&'a Cell> {
    annotation.lanes.iter().find(|lane| lane.pair == offer.pair)?.cells.get(moment)
}

/// Whether, from a moment to the end of the step, the corner stays in the top layer, and the edge there too or where it is.
fn stays_on_top(annotation: &Annotation, step: &Step, offer: &Offer, from: usize) -> bool {
    let ways: Vec<[Place; 2]> = (from..=step.to).map(|moment| spots(annotation, offer, moment)).collect();
    let edge = ways[0][1];
    ways.iter().all(|&[corner, _]| is_on_top(corner))
        && (ways.iter().all(|&[_, edge]| is_on_top(edge)) || ways.iter().all(|way| way[1] == edge))
}

/// Whether both pieces of a pair lie open to sight at a moment.
fn open_at(annotation: &Annotation, offer: &Offer, moment: usize) -> bool {
    let open = |cell: &Cell| [&cell.corner, &cell.edge].iter().all(|spot| spot.sight == LaneGrade::Plain);
    cell(annotation, offer, moment).is_some_and(open)
}

/// Where corner and edge of a pair sat at a moment, named by the hold of that moment.
fn spots(annotation: &Annotation, offer: &Offer, moment: usize) -> [Place; 2] {
    match cell(annotation, offer, moment) {
        Some(cell) => [cell.corner.place, cell.edge.place],
        None => [offer.corner.to, offer.edge.to],
    }
}

/// A step in the middle of a sentence.
pub(super) fn named(step: &Step) -> String {
    match step.kind {
        StepKind::Cross => format!("the {}", step.name),
        _ => step.name.to_string(),
    }
}

/// One thing to do with the eyes: where the scan would have found the corner, and the edge, which lay there.
fn where_to_look(annotation: &Annotation, before: &Step, offer: &Offer, edge: Place) -> String {
    let open = before.offers.len();
    let top = annotation.cross.map(|cross| cross.to_string()).unwrap_or_default();
    let none_on_top = before.offers.iter().all(|offer| offer.tier != Tier::Top);
    match offer.tier {
        Tier::Top if is_on_top(edge) => "Look at the top layer, not at the hands.".into(),
        Tier::Top => format!("Look at the top layer and at {edge}, not at the hands."),
        Tier::Target => {
            format!(
                "Its corner came out of the slot being filled, {}: watch what comes out of it.",
                offer.corner.from
            )
        }
        Tier::Lifted => "These turns lifted it out of the slot it sat in: watch what comes up.".into(),
        Tier::Slot if none_on_top && open == 1 => {
            format!("No other {top} corner on top and one slot open: look in that slot.")
        }
        Tier::Slot if none_on_top => format!("No other {top} corner on top: look in the open slots."),
        Tier::Slot => "After the top layer look in the open slots.".into(),
    }
}

fn deduction(annotation: &Annotation, before: &Step, offer: &Offer) -> Phrase {
    let lead = offer.told_lead.unwrap_or(0);
    // In inspection nothing has to be worked out: the cube may be turned.
    if before.kind == StepKind::Cross && lead >= before.obtm {
        let [corner, edge] = [&offer.corner, &offer.edge];
        return Phrase::words("In inspection find ").then(pair(offer)).and(format!(
            " at {} and {}; the cross leaves it at {} and {}.",
            corner.from, edge.from, corner.to, edge.to
        ));
    }
    let worked_out = worked_out(annotation, before, offer);
    // What shows is looked for; what does not can only be there. Where one could be told before the other, it says when.
    let told = |watch: &Watch| {
        watch
            .deduced
            .as_ref()
            .map(|deduced| deduced.moment)
            .filter(|_| !watch.open_in_time(before, annotation.settings.lead))
    };
    let both = offer.pieces().into_iter().filter_map(|(_, watch)| told(watch).or(watch.plain)).max();
    // Places are named as the cube is held then: after a rotation that begins the step they are others.
    let earlier = match both {
        Some(both) if lead >= before.obtm => at(annotation, before, both),
        _ => format!("{} before {} ended", turns(lead), named(before)),
    };
    // Both in the one slot that is open: nothing else could be there.
    let in_the_slot = worked_out
        .iter()
        .filter_map(|(_, watch)| watch.deduced.as_ref())
        .all(|deduced| deduced.clue == Clue::OnlyPlace && !is_on_top(deduced.place));
    if in_the_slot && worked_out.len() == 2 && offer.tier == Tier::Slot {
        let top = annotation.cross.map(|cross| cross.to_string()).unwrap_or_default();
        let words = format!(
            " could be told, without being seen, {earlier}: no other {top} corner on top and one slot open, so \
             it is in that slot."
        );
        return first(offer).and(words);
    }
    let hold = |moment: usize| &annotation.moments[moment].hold;
    let as_when_both = |moment: usize| {
        both.is_none_or(|both| before.to_go(moment) == before.to_go(both) && hold(moment) == hold(both))
    };
    let (mut shown, mut only) = (Vec::new(), Vec::new());
    for (name, watch) in &worked_out {
        let Some(deduced) = &watch.deduced else { continue };
        let sooner = if as_when_both(deduced.moment) {
            String::new()
        } else {
            format!("{} ", at(annotation, before, deduced.moment))
        };
        match &deduced.clue {
            Clue::OneSticker { colour, face, .. } => {
                shown.push(format!(
                    "{sooner}for {colour} {} at {}, its {name}",
                    on_face(*face),
                    deduced.place
                ));
            }
            Clue::OnlyPlace => only.push(format!("{sooner}its {name} can only be at {}", deduced.place)),
        }
    }
    if !shown.is_empty() {
        only.insert(0, format!("look {}", shown.join(", and ")));
    }
    // The other piece belongs to it, too.
    for (name, watch) in offer.pieces() {
        let open = watch.plain.filter(|_| watch.open_in_time(before, annotation.settings.lead));
        let Some(open) = open else { continue };
        let [corner, edge] = spots(annotation, offer, open);
        let place = if name == "corner" { corner } else { edge };
        let when =
            if as_when_both(open) { String::new() } else { format!(" {}", at(annotation, before, open)) };
        only.push(format!("its {name} lay open at {place}{when}"));
    }
    let words = format!(" could be worked out {earlier}: {}.", only.join("; "));
    first(offer).and(words).and(remember(annotation, &worked_out, "Or remember"))
}

/// The pieces that had to be worked out: those that did not lie open in time.
pub(super) fn worked_out<'a>(
    annotation: &Annotation,
    before: &Step,
    offer: &'a Offer,
) -> Vec<(&'static str, &'a Watch)> {
    let lead = annotation.settings.lead;
    let worked_out =
        |(_, watch): &(&str, &Watch)| watch.deduced.is_some() && !watch.open_in_time(before, lead);
    offer.pieces().into_iter().filter(worked_out).collect()
}

fn choice(annotation: &Annotation, index: usize, before: &Step, offer: &Offer, why: &Reason) -> Phrase {
    let Some(instead) = &why.instead else { return Phrase::new() };
    let mut cost = price(instead.dearer, instead.seconds);
    // What the next step's cleaner line saves is not only its own.
    let cleaner = annotation.steps[index].cleaner().filter(|line| line.pairs.contains(&instead.pair));
    if cleaner.is_some() && !instead.by_another_line && cost != NO_MORE {
        cost.push_str(" with the pair after it");
    }
    let other = super::blocks::Run::Pair(instead.pair);
    let taken = before.offers.iter().find(|offer| offer.pair == instead.pair);
    let ready = match taken.filter(|taken| taken.plain_ready) {
        Some(taken) => lay_open(annotation, before, taken),
        None => "could be worked out in time".into(),
    };
    let line = before.instead();
    let advised = |step: &&Step| {
        let earlier = step.stop_before().and_then(|stop| stop.instead.as_ref());
        earlier.is_some_and(|earlier| earlier.pair == instead.pair)
    };
    if let Some(line) =
        line.filter(|line| instead.by_another_line && told_to_take(annotation, index - 1, line))
    {
        return first(offer)
            .and(" was late. As before, take ")
            .pairs(&line.pairs)
            .and(format!(" in {}: by ", before.name))
            .turns(&line.text)
            .and(" it leaves ")
            .run(other)
            .and(" ready.");
    }
    if let Some(step) = annotation.steps[..index].iter().find(advised).filter(|_| !instead.by_another_line) {
        let was = if offer.ready { " had to be worked out. Take " } else { " was late. Take " };
        return first(offer).and(was).run(other).and(format!(", as before {}.", step.title()));
    }
    match line.filter(|_| instead.by_another_line) {
        Some(line) => first(offer)
            .and(format!(" was late. In {} play ", before.name))
            .turns(&line.text)
            .and(if line.pairs == before.pairs { "" } else { " for " })
            .pairs(if line.pairs == before.pairs { &[] } else { &line.pairs })
            .and(": it leaves ")
            .run(other)
            .and(format!(" ready and {cost}.")),
        None if why.also == Some(Cause::Inspection) && instead.dearer < 0.0 => Phrase::words("Take ")
            .run(other)
            .and(format!(": it {ready} and {cost}. Or follow "))
            .then(pair(offer))
            .and(" from inspection: ")
            .and(travels(annotation, offer)),
        // What can be followed from inspection need not be exchanged for something else.
        None if why.also == Some(Cause::Inspection) => inspection(annotation, before, offer)
            .and(" Or take ")
            .run(other)
            .and(format!(": it {ready} and {cost}.")),
        None if offer.ready => first(offer)
            .and(" had to be worked out. Take ")
            .run(other)
            .and(format!(": it {ready} and {cost}.")),
        None => first(offer).and(" was late. Take ").run(other).and(format!(": it {ready} and {cost}.")),
    }
}

/// Whether what is said of a step before is to take the very pair that a line of it solves: one choice has one price.
fn told_to_take(annotation: &Annotation, step: usize, line: &Alternative) -> bool {
    let told = annotation.losses.iter().filter(|loss| loss.step == step);
    let stop = annotation.steps[step].stop_before();
    let mut whys = told.filter_map(|loss| loss.why.clone().or_else(|| stop?.why()));
    whys.any(|why| {
        why.instead.is_some_and(|earlier| !earlier.by_another_line && line.pairs.contains(&earlier.pair))
    })
}

/// Where a pair lay open that could have been taken, if both pieces did at one moment.
fn lay_open(annotation: &Annotation, before: &Step, offer: &Offer) -> String {
    let both = offer.corner.plain.zip(offer.edge.plain).map(|(corner, edge)| corner.max(edge));
    match both.filter(|&moment| open_at(annotation, offer, moment)) {
        Some(moment) => {
            let [corner, edge] = spots(annotation, offer, moment);
            format!("lay open at {corner} and {edge} {}", at(annotation, before, moment))
        }
        None => "lay open in time".into(),
    }
}

const NO_MORE: &str = "costs no more";

/// What a pair or a line costs besides another: `costs no more`, `costs about 0.2 s more`.
#[must_use]
pub fn price(dearer: f64, seconds: Option<f64>) -> String {
    let more = match seconds {
        Some(seconds) if seconds.abs() < 0.05 => return NO_MORE.into(),
        Some(seconds) => format!("about {}", estimated(seconds.abs())),
        None if dearer.abs() < 0.25 => return NO_MORE.into(),
        None => about_turns(dearer.abs()),
    };
    if dearer > 0.0 { format!("costs {more} more") } else { format!("costs {more} less") }
}

fn inspection(annotation: &Annotation, before: &Step, offer: &Offer) -> Phrase {
    // A long way is no easier to follow than it is to look up in time.
    let long = [&offer.corner, &offer.edge].iter().any(|watch| watch.way.len() >= LONG_WAY);
    if let Some(moment) = offer.corner.plain.zip(offer.edge.plain).map(|(corner, edge)| corner.max(edge))
        && long
        && offer.plain_ready
        && open_at(annotation, offer, moment)
    {
        let [corner, edge] = spots(annotation, offer, moment);
        let words = format!(
            " lies open at {corner} and {edge} {} of {}, {} before its end: find it there, or follow it from \
             inspection, corner from {} and edge from {}.",
            when(annotation, before, moment),
            named(before),
            turns(before.to_go(moment)),
            offer.corner.from,
            offer.edge.from
        );
        return first(offer).and(words);
    }
    if offer.carried() == 0 {
        let stays = format!(" in inspection: it stays at {} and {}.", offer.corner.from, offer.edge.from);
        return Phrase::words("Plan ").then(pair(offer)).and(stays);
    }
    Phrase::words("Follow ").then(pair(offer)).and(" from inspection: ").and(travels(annotation, offer))
}

/// Of a way of so many stages only the ends and the turns are told.
const LONG_WAY: usize = 4;

/// The way of both pieces through the cross, for somebody who follows them from inspection.
fn travels(annotation: &Annotation, offer: &Offer) -> String {
    let returns = |watch: &Watch| watch.from == watch.to && !watch.way.is_empty();
    if returns(&offer.corner) && returns(&offer.edge) {
        return format!("both end where they start, at {} and {}.", offer.corner.from, offer.edge.from);
    }
    let way = |name: &str, watch: &Watch| {
        let token = |moment: usize| annotation.moments[moment].spelled().unwrap_or_default();
        if watch.way.is_empty() {
            return format!("{name} stays at {}", watch.from);
        }
        if returns(watch) && watch.way.len() >= LONG_WAY {
            return format!("{name} ends where it starts, at {}", watch.from);
        }
        if watch.way.len() >= LONG_WAY {
            let by: Vec<String> = watch.way.iter().map(|&(moment, _)| token(moment)).collect();
            return format!("{name} {} > {}, moved by {}", watch.from, watch.to, and(&by));
        }
        let stage = |&(moment, place): &(usize, Place)| format!(" > {place} ({})", token(moment));
        format!("{name} {}{}", watch.from, watch.way.iter().map(stage).collect::<String>())
    };
    format!("{}; {}.", way("corner", &offer.corner), way("edge", &offer.edge))
}

fn view(annotation: &Annotation, index: usize, before: &Step, offer: &Offer) -> Phrase {
    let late = offer.late(before, annotation.settings.lead);
    let hidden = |(name, watch): &(&str, &Watch)| match watch.found() {
        Some(moment) => {
            let when = when(annotation, before, moment);
            format!("its {name} could be found only {when} of {}", named(before))
        }
        None => format!("its {name}, at {}, could not be told from what showed", watch.to),
    };
    let hidden = match late.as_slice() {
        [(_, corner), (_, edge)] if corner.found().is_none() && edge.found().is_none() => {
            format!("at {} and {} it could not be told from what showed", corner.to, edge.to)
        }
        _ => late.iter().map(hidden).collect::<Vec<_>>().join("; "),
    };
    let mut words = first(offer).and(format!(" was late: {hidden}."));
    let tilt = offer.tilt();
    if let Some(more) = tilt {
        let when = when(annotation, before, more.from);
        words =
            words.and(format!(" In {} tilt for the left side: then both are found {when}.", named(before)));
    }
    let begin = if tilt.is_some() { "Or remember" } else { "Remember" };
    let lay_open = remember(annotation, &late, begin);
    if !lay_open.is_empty() {
        return words.and(lay_open);
    }
    let earlier = index.checked_sub(2).map(|earlier| &annotation.steps[earlier]);
    match earlier.filter(|earlier| offer.was_ready_in(earlier, before, annotation.settings.lead)) {
        Some(earlier) => words.and(format!(" {begin} it from {}, where it could be found.", named(earlier))),
        None if tilt.is_some() => words,
        // What was late and comes out of a slot is to be looked for there.
        None => match late.iter().find(|(_, watch)| !is_on_top(watch.from) && is_on_top(watch.to)) {
            Some((name, watch)) => {
                words.and(format!(" Its {name} comes out of {}: watch what comes out there.", watch.from))
            }
            None if !open_at(annotation, offer, before.to) => {
                words.and(format!(" Follow it: it ends at {} and {}.", offer.corner.to, offer.edge.to))
            }
            None => words.and(format!(
                " Look for its corner at {} and its edge at {}.",
                offer.corner.to, offer.edge.to
            )),
        },
    }
}

/// What lay open in the step before, if all of these did: whoever keeps it in mind has nothing left to find.
fn remember(annotation: &Annotation, pieces: &[(&str, &Watch)], begin: &str) -> String {
    let lay: Option<Vec<(&str, usize, Place)>> = pieces
        .iter()
        .map(|&(name, watch)| {
            let (moment, place) = watch.before.filter(|_| watch.kept_in_mind)?;
            Some((name, moment, place))
        })
        .collect();
    let Some(lay) = lay.filter(|lay| !lay.is_empty()) else { return String::new() };
    let mut places: Vec<String> =
        lay.iter().map(|(name, _, place)| format!("its {name} at {place}")).collect();
    places[0] = places[0].replacen(" at ", " lay open at ", 1);
    let step = annotation.step_at(lay[0].1).map_or_else(String::new, |step| format!(" from {}", named(step)));
    format!(" {begin} it{step}: {}.", places.join(", "))
}

fn position(annotation: &Annotation, index: usize, before: &Step, offer: &Offer) -> Phrase {
    let words = Phrase::words("Nothing showed ").then(pair(offer)).and(" in time");
    // Another may have been late too, but found sooner, and cost no more.
    let cost = |offer: &Offer| offer.line.as_ref().map_or(f64::INFINITY, |line| line.cost);
    let sooner = before
        .offers
        .iter()
        .filter(|other| !other.taken && other.lead > offer.lead && cost(other) <= cost(offer))
        .max_by_key(|other| other.lead);
    let words = match sooner {
        Some(sooner) => words.and("; ").then(pair(sooner)).and(format!(
            ", late too, could be found with {} to go and costs no more",
            sooner.lead.unwrap_or(0)
        )),
        // A cleaner line of the step itself is told there.
        None if annotation.steps[index].cleaner().is_some() => words,
        None => words.and(", and nothing better was there"),
    };
    // What was played need not be advised.
    match offer.line.as_ref().filter(|line| sooner.is_none() && !line.played) {
        Some(line) => words.and("; its cheapest line from there: ").turns(&line.text).and("."),
        // Of the step before, too, nothing else is to be said.
        None if sooner.is_none()
            && before.choice.as_ref().is_some_and(|choice| choice.verdict == Some(Verdict::Forced)) =>
        {
            words.and(": no mistake.")
        }
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

//! Stepping through the moments, for readers whose browser runs the page's script: hidden until it does.

use serde_json::{Value, json};

use crate::annotation::{Annotation, LaneGrade};
use crate::cube::Colour;
use crate::report::markup::Markup;
use crate::report::picture;

use super::heading;

/// Writes the card: a picture whose stickers and rings the script sets, its controls, and the facts it reads.
pub(super) fn write(out: &mut Markup, annotation: &Annotation, key: &str, level: usize) {
    let id = format!("{key}stage");
    let paints: serde_json::Map<String, Value> =
        Colour::ALL.map(|c| (c.letter().to_string(), Value::from(picture::paint(c).0))).into_iter().collect();
    out.open("section").attr("class", "card stage-card").attr("id", &id).attr("hidden", "");
    out.attr("aria-labelledby", format_args!("{id}-h")).attr("data-paints", Value::from(paints));
    out.open(heading(level)).attr("id", format_args!("{id}-h")).text("Step through the solve").close();
    out.open("div").attr("class", "stage");
    out.open("figure").put(&picture::stage(annotation.sight)).close();
    out.open("div");
    out.open("p").open("strong").attr("class", "where").close().close();
    out.open("p").attr("class", "what").attr("aria-live", "polite").close();
    out.open("label").attr("for", format_args!("{id}-at")).text("Moment").close();
    out.open("input").attr("type", "range").attr("id", format_args!("{id}-at")).attr("min", 0).attr("max", 0);
    out.attr("value", 0).empty();
    out.open("div").attr("class", "buttons");
    out.open("button").attr("type", "button").attr("class", "back").text("Back").close();
    out.open("button").attr("type", "button").attr("class", "on-with").text("Next turn").close();
    out.close().close().close();
    out.open("script").attr("type", "application/json").json(&facts(annotation)).close();
    out.close().line();
}

/// What the script shows: a line of words and the places to ring, moment by moment.
fn facts(annotation: &Annotation) -> Value {
    let last = annotation.moments.len() - 1;
    let moments: Vec<Value> = annotation
        .moments
        .iter()
        .enumerate()
        .map(|(m, moment)| {
            let step = annotation.steps.iter().rev().find(|step| step.from <= m && m <= step.to);
            let mut place = format!("Moment {m} of {last}");
            if let Some(step) = step {
                place.push_str(&format!(", {}", step.name));
            }
            if let Some(token) = &moment.token {
                place.push_str(&format!(", after {token}"));
            }
            if let Some(seconds) = moment.seconds {
                place.push_str(&format!(", {seconds:.2} s"));
            }
            let (mut places, mut sentences) = (Vec::new(), Vec::new());
            for next in step.into_iter().flat_map(crate::annotation::Step::next) {
                let lane = annotation.lanes.iter().find(|lane| lane.pair == next.pair);
                let Some(cell) = lane.and_then(|lane| lane.cells.get(m)) else { continue };
                let say = |spot: &crate::annotation::Spot| format!("{} ({})", spot.place, sight(spot.sight));
                sentences.push(format!(
                    "Next is {}: corner at {}, edge at {}.",
                    next.pair,
                    say(&cell.corner),
                    say(&cell.edge)
                ));
                places.extend([cell.corner.place, cell.edge.place]);
            }
            json!({ "stickers": moment.stickers, "where": place, "what": sentences.join(" "), "places": places })
        })
        .collect();
    json!({ "moments": moments })
}

const fn sight(sight: LaneGrade) -> &'static str {
    match sight {
        LaneGrade::Plain => "open to sight",
        LaneGrade::Followed => "deduced or followed",
        LaneGrade::NotFound => "not found",
    }
}

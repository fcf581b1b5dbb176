//! What a page's script knows of a solve: the moments with their stickers and words, the stops, where the pairs are, the
//! other lines, the questions. Everything it shows is in here; it works out nothing but what part of a stop has passed.

use serde_json::{Value, json};

use crate::annotation::{Annotation, LaneGrade, Spot, Step, Stop};
use crate::cube::{Colour, Moves, PairName, Place, Position, Stickers};
use crate::report::axis::Axis;
use crate::report::lanes_svg::OtherTimes;
use crate::report::markdown::better;
use crate::report::picture;
use crate::story::{moments, quiz};

/// All of it, as JSON.
pub(super) fn of(annotation: &Annotation) -> Value {
    let axis = Axis::of(annotation);
    let paints: serde_json::Map<String, Value> = Colour::ALL
        .map(|colour| {
            let (fill, ink) = picture::paint(colour);
            (colour.letter().to_string(), json!([fill, ink]))
        })
        .into_iter()
        .collect();
    let all = 0..annotation.moments.len();
    let each = |say: &dyn Fn(usize) -> String| -> Vec<String> { all.clone().map(say).collect() };
    json!({
        "timed": axis.timed,
        "first": moments::first_turn(annotation),
        "reached": rounded(&axis.reached),
        "left": rounded(&axis.left),
        "tokens": annotation.moments[1..].iter().map(|m| m.token.map(|token| token.to_string())).collect::<Vec<_>>(),
        "stickers": annotation.moments.iter().map(|moment| moment.stickers.to_string()).collect::<Vec<_>>(),
        "place": each(&|m| moments::place(annotation, m)),
        "togo": each(&|m| moments::left(annotation, m)),
        "next": each(&|m| moments::next(annotation, m)),
        "want": all.clone().map(|m| lanes_of(annotation, &moments::wanted(annotation, m))).collect::<Vec<_>>(),
        "step": all.clone().map(|m| moments::step(annotation, m)).collect::<Vec<_>>(),
        "steps": annotation.steps.iter().map(|step| json!([step.from, step.to])).collect::<Vec<_>>(),
        "stops": stops(annotation, &axis),
        "pairs": pairs(annotation),
        "others": others(annotation, &axis),
        "quiz": questions(annotation),
        "paints": paints,
    })
}

/// To the tenth of a millisecond: marks have three decimals.
fn rounded(times: &[f64]) -> Vec<f64> {
    times.iter().map(|at| (at * 1e4).round() / 1e4).collect()
}

/// The numbers of the pairs' lanes.
fn lanes_of(annotation: &Annotation, pairs: &[PairName]) -> Vec<usize> {
    let lane = |pair: &PairName| annotation.lanes.iter().position(|lane| lane.pair == *pair);
    pairs.iter().filter_map(lane).collect()
}

fn stops(annotation: &Annotation, axis: &Axis) -> Vec<Value> {
    if !axis.timed {
        return Vec::new();
    }
    let stops = annotation
        .steps
        .iter()
        .enumerate()
        .flat_map(|(n, step)| step.stops.iter().map(move |stop| (n, step, stop)));
    stops.map(|(n, step, stop)| one_stop(annotation, axis, n, step, stop)).collect()
}

fn one_stop(annotation: &Annotation, axis: &Axis, n: usize, step: &Step, stop: &Stop) -> Value {
    let from = axis.reached[stop.moment];
    let instead = stop.instead.as_ref().map(|instead| instead.pair);
    let wanted: Vec<PairName> = match instead {
        _ if stop.inside => Vec::new(),
        Some(pair) => vec![pair],
        None => step.pairs.clone(),
    };
    let taken: Vec<PairName> =
        if instead.is_some() && !stop.inside { step.pairs.clone() } else { Vec::new() };
    json!({
        "moment": stop.moment,
        "from": (from * 1e4).round() / 1e4,
        "to": ((from + stop.seconds) * 1e4).round() / 1e4,
        "seconds": stop.seconds,
        "about": stop.derived,
        "step": n,
        "say": moments::held(annotation, n, stop),
        "want": lanes_of(annotation, &wanted),
        "taken": lanes_of(annotation, &taken),
    })
}

const fn grade(spot: &Spot) -> char {
    match spot.sight {
        LaneGrade::NotFound => '0',
        LaneGrade::Followed => '1',
        LaneGrade::Plain => '2',
    }
}

fn pairs(annotation: &Annotation) -> Vec<Value> {
    annotation
        .lanes
        .iter()
        .map(|lane| {
            let places = |pick: fn(&crate::annotation::Cell) -> &Spot| {
                let all: Vec<String> = lane.cells.iter().map(|cell| pick(cell).place.to_string()).collect();
                all.join(" ")
            };
            let grades = |pick: fn(&crate::annotation::Cell) -> &Spot| -> String {
                lane.cells.iter().map(|cell| grade(pick(cell))).collect()
            };
            json!({
                "name": lane.pair,
                "solved": lane.solved,
                "corner": places(|cell| &cell.corner),
                "edge": places(|cell| &cell.edge),
                "seen": [grades(|cell| &cell.corner), grades(|cell| &cell.edge)],
            })
        })
        .collect()
}

/// The line that a step's block shows instead of the turns played, token by token, and then the line of the pair it
/// leaves.
fn others(annotation: &Annotation, axis: &Axis) -> Vec<Value> {
    let Ok(scramble) = annotation.scramble.parse::<Moves>() else { return Vec::new() };
    let played = |until: usize| annotation.moments[1..=until].iter().filter_map(|moment| moment.token);
    let mut others = Vec::new();
    for (n, step) in annotation.steps.iter().enumerate() {
        let Some(line) = better(annotation, n) else { continue };
        let start = Position::SOLVED.after(scramble.iter().copied()).after(played(step.from));
        let end = start.after(line.text.iter().copied());
        // A saved file may hold a scramble that is not its own.
        if Stickers::of(&end) != line.stickers {
            continue;
        }
        let OtherTimes { line: mut times, then } = OtherTimes::of(annotation, axis, step, line);
        times.extend(then);
        let mut tokens: Vec<_> = line.text.to_vec();
        let next = line.next.as_ref();
        tokens.extend(next.into_iter().flat_map(|next| next.then.iter().copied()));
        let mut at = start;
        let mut stickers = vec![Stickers::of(&at).to_string()];
        let mut marks = Vec::new();
        let pair = next.zip(annotation.cross).and_then(|(next, cross)| next.pair.of(cross));
        for k in 0..=tokens.len() {
            if k > 0 {
                at.play(tokens[k - 1]);
                stickers.push(Stickers::of(&at).to_string());
            }
            marks.push(pair.filter(|_| k < tokens.len()).map(|pair| {
                [
                    Place::of_corner(at.state.corner(pair.corner).place(), at.hold).to_string(),
                    Place::of_edge(at.state.edge(pair.edge).place(), at.hold).to_string(),
                ]
            }));
        }
        others.push(json!({
            "step": n,
            "from": step.from,
            "to": annotation.steps.get(n + 1).map_or(step.to, |next| next.to),
            "start": (axis.left[step.from] * 1e4).round() / 1e4,
            "times": rounded(&times),
            "tokens": tokens.iter().map(ToString::to_string).collect::<Vec<_>>(),
            "first": line.text.len(),
            "pair": crate::report::words::list(&line.pairs),
            "then": next.map(|next| next.pair),
            "stickers": stickers,
            "marks": marks,
        }));
    }
    others
}

fn questions(annotation: &Annotation) -> Vec<Value> {
    quiz::questions(annotation)
        .into_iter()
        .map(|question| {
            let answers = question.answers.iter().map(|answer| {
                json!({
                    "pair": answer.pair,
                    "corner": answer.corner,
                    "edge": answer.edge,
                    "right": answer.right,
                    "say": answer.words.plain(),
                })
            });
            json!({
                "moment": question.moment,
                "in": annotation.steps[question.step].title(),
                "answers": answers.collect::<Vec<_>>(),
            })
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::annotation::Offer;
    use crate::report::sample;

    #[test]
    fn every_moment_has_its_words() {
        let annotation = sample::annotation(true);
        let first = moments::first_turn(&annotation);
        assert_eq!(moments::place(&annotation, 0), "the scrambled cube");
        assert_eq!(moments::place(&annotation, first), "before the first turn");
        let last = annotation.moments.len() - 1;
        assert_eq!(
            (moments::left(&annotation, last), moments::next(&annotation, last)),
            ("solved".into(), String::new())
        );
        for moment in first..last {
            let step = &annotation.steps[moments::step(&annotation, moment).expect("a step")];
            assert!(step.from <= moment && moment < step.to);
            assert_eq!(moments::wanted(&annotation, moment).len(), step.next().count());
            assert!(moments::left(&annotation, moment).starts_with(&step.title()));
        }
    }

    #[test]
    fn a_right_answer_is_ready_and_costs_at_most_a_unit_more_than_the_cheapest() {
        let annotation = sample::annotation(true);
        let questions = quiz::questions(&annotation);
        let pairs = annotation.steps.iter().filter(|step| !step.pairs.is_empty()).count();
        assert_eq!(questions.len(), pairs);
        for question in questions {
            let step = &annotation.steps[question.step];
            assert_eq!((question.moment, question.answers.len()), (step.to, step.offers.len()));
            assert!(question.answers.iter().any(|answer| answer.right));
            let ready: Vec<&Offer> = step.offers.iter().filter(|offer| offer.ready).collect();
            for answer in &question.answers {
                let offer = step.offers.iter().find(|offer| offer.pair == answer.pair).expect("offered");
                let cost = |offer: &Offer| offer.line.as_ref().map_or(1e9, |line| line.cost);
                if !ready.is_empty() {
                    let dearer = ready.iter().all(|other| cost(offer) <= cost(other) + 1.0);
                    assert_eq!(answer.right, offer.ready && dearer, "{}", answer.pair);
                }
            }
        }
    }
}

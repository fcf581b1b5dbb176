//! What cost most: at most three sentences, each with its figure, its step and one thing to do.

use std::cmp::Ordering;

use super::blocks::{Block, Item, Phrase, Run};
use super::causes;
use super::found::{about_turns, estimated, measured, turns};
use crate::annotation::{Alternative, Annotation, Cause, Loss, LossKind, Step};
use crate::words::and;

/// The heading and its sentences; nothing where there is nothing to say.
#[must_use]
pub fn told(annotation: &Annotation) -> Vec<Block> {
    let mut items: Vec<Item> = annotation.losses.iter().map(|loss| item(annotation, loss)).collect();
    advice_once(&mut items);
    if items.is_empty() && annotation.cross_first && annotation.timing.stopped.is_some() && annotation.solved
    {
        return vec![Block::Gap, Block::Paragraph("No stop, and no other line saves 0.2 s or more.".into())];
    }
    if items.is_empty() {
        return Vec::new();
    }
    let heading = match annotation.losses.iter().any(|loss| loss.seconds.is_some()) {
        true => "What cost most",
        // Nothing is known of what it cost.
        false if annotation.losses.iter().all(|loss| loss.kind == LossKind::Late) => "What was late",
        false if annotation.losses.iter().all(|loss| loss.kind != LossKind::Late) => "What could be easier",
        false => "What was late, and what could be easier",
    };
    let mut blocks = vec![Block::Gap, Block::Heading(heading.into()), Block::Items(items)];
    blocks.extend(recognition(annotation).map(|words| Block::Paragraph(words.into())));
    blocks
}

/// Stops to recognise the last layer that are longer than the least of what is told: it is told because of look-ahead.
fn recognition(annotation: &Annotation) -> Option<String> {
    let least = annotation.losses.iter().filter_map(|loss| loss.seconds).fold(f64::INFINITY, f64::min);
    let told = |index: usize| annotation.losses.iter().any(|loss| loss.step == index);
    let stops =
        annotation.steps.iter().enumerate().filter(|&(index, _)| !told(index)).filter_map(|(_, step)| {
            let stop = step.stop_before().filter(|stop| stop.cause == Some(Cause::Recognition))?;
            (stop.seconds > least && !stop.derived)
                .then(|| format!("{} before {}", measured(stop.seconds), step.title()))
        });
    let stops: Vec<String> = stops.collect();
    (!stops.is_empty()).then(|| format!("Besides, to recognise the last layer: {}.", and(&stops)))
}

/// The same advice at the end of two sentences is given once.
fn advice_once(items: &mut [Item]) {
    let is_advice = |run: &Run| matches!(run, Run::Words(words) if words.starts_with(" Look at"));
    let mut given: Vec<Run> = Vec::new();
    for item in items {
        let Some(last) = item.words.runs.last().filter(|run| is_advice(run)).cloned() else { continue };
        if given.contains(&last) {
            item.words.runs.pop();
        } else {
            given.push(last);
        }
    }
}

/// One of them.
#[must_use]
pub fn item(annotation: &Annotation, loss: &Loss) -> Item {
    let step = &annotation.steps[loss.step];
    let stop = loss.stop.and_then(|stop| step.stops.get(stop));
    let (figure, words) = match (loss.kind, stop) {
        (LossKind::Stop, Some(stop)) => {
            let figure = if stop.derived { estimated(stop.seconds) } else { measured(stop.seconds) };
            let words = if stop.inside {
                inside(annotation, step, stop)
            } else if stop.cause == Some(Cause::Recognition) {
                // It is only told where it is the largest.
                let first = annotation.losses.first() == Some(loss);
                let more = if first { "; nothing of look-ahead cost more" } else { "" };
                Phrase::words(format!("before {}, to recognise it{more}.", step.title()))
            } else if stop.derived {
                Phrase::words(format!("or so before {}. ", step.title()))
                    .then(causes::cause(annotation, loss.step, stop))
            } else {
                Phrase::words(format!("before {}. ", step.title()))
                    .then(causes::cause(annotation, loss.step, stop))
            };
            (figure, words)
        }
        (LossKind::Late, _) => {
            let why = loss.why.as_ref();
            let words = why.map_or_else(
                || Phrase::words("late."),
                |why| causes::before_pair(annotation, loss.step, why),
            );
            (step.title().to_owned(), words)
        }
        _ => line(step, loss),
    };
    Item { figure, words, moment: Some(loss.moment) }
}

fn inside(annotation: &Annotation, step: &Step, stop: &crate::annotation::Stop) -> Phrase {
    let at = super::solve::before_token(annotation, step, stop.moment);
    let edge = match stop.edge_found {
        Some(true) => "; its edge had been found",
        Some(false) => "; its edge had not been found",
        None => "",
    };
    Phrase::words(format!("inside {}{at}{edge}.", step.title()))
}

/// A line that would have been clearly cheaper.
fn line(step: &Step, loss: &Loss) -> (String, Phrase) {
    let (figure, or_so) = match loss.seconds {
        Some(seconds) => (estimated(seconds), "or so in "),
        None => (step.title().to_owned(), ""),
    };
    let name = if loss.seconds.is_some() { format!("{}. ", step.title()) } else { String::new() };
    let mut words = Phrase::words(format!("{or_so}{name}"));
    if let Some(cleaner) = step.cleaner().filter(|_| loss.kind == LossKind::Cleaner) {
        words = words.and("Cleaner: ").then(alternative_without_saving(step, cleaner));
        if loss.seconds.is_none() {
            words = words.and(format!(", {} less", about_turns(cleaner.saves)));
        }
    } else if let Some(own) = step.own_line() {
        let why = if own.last_pair { ", unless yours was chosen for the last layer" } else { "" };
        words = words.turns(&own.text).and(format!(" solves it in {}{why}", as_many(own.obtm, step.obtm)));
        if loss.seconds.is_none() {
            words = words.and(format!(", easier by {}", about_turns(own.saves)));
        }
    }
    (figure, words.and("."))
}

/// A line on offer with what follows it and what it saves: the sentence of a step's block.
#[must_use]
pub fn alternative(step: &Step, line: &Alternative) -> Phrase {
    let words = alternative_without_saving(step, line);
    let saves = match line.seconds {
        Some(seconds) if seconds >= 0.05 => format!(", about {} less", estimated(seconds)),
        Some(seconds) if seconds <= -0.05 => format!(", about {} more", estimated(-seconds)),
        Some(_) if line.saves >= 0.0 => String::new(),
        None if line.saves >= 0.25 => format!(", {} less", about_turns(line.saves)),
        None if line.saves <= -0.25 => format!(", {} more", about_turns(-line.saves)),
        Some(_) | None => ", for no more".into(),
    };
    words.and(saves)
}

/// How many turns the pair's own line has, beside those that were played.
pub(super) fn as_many(own: usize, played: usize) -> String {
    match own.cmp(&played) {
        Ordering::Less => format!("{}, not {played}", turns(own)),
        Ordering::Equal => "as many turns, easier ones".into(),
        Ordering::Greater => format!("{}, not {played}, but easier ones", turns(own)),
    }
}

fn alternative_without_saving(step: &Step, line: &Alternative) -> Phrase {
    let mut words = Phrase::new();
    if line.same_turns {
        words = words.and("after the same turns take ");
    } else {
        words = words.turns(&line.text);
        if line.pairs != step.pairs {
            words = words.and(" for ").pairs(&line.pairs);
        }
    }
    let Some(next) = &line.next else { return words.and(" completes the first two layers") };
    let then = if line.same_turns { "" } else { ", then " };
    let when = match (next.at_once, next.deduced) {
        (true, false) => "found at once".into(),
        (true, true) => "found at once, deduced".into(),
        (false, false) => format!("found with {} to go", next.lead),
        (false, true) => format!("found with {} to go, deduced", next.lead),
    };
    words.and(then).run(Run::Pair(next.pair)).and(format!(" ({when}): ")).turns(&next.then)
}

//! The story of a plan: what is offered, the cheapest unbroken order, and what was played beside it.

use super::blocks::{Block, Column, Phrase, Run, Table};
use super::found::{HowFound, about_turns, estimated, found_so, measured, turns};
use crate::cube::PairName;
use crate::harmless::one_line;
use crate::plan::{Compared, Line, Next, Offered, Plan, Planned, Played};
use crate::sight::grades::Grade;

/// The blocks of one plan.
#[must_use]
pub fn planned(plan: &Plan) -> Vec<Block> {
    let mut blocks = head(plan);
    blocks.push(Block::Gap);
    blocks.push(Block::Table(offers(plan)));
    for (n, order) in plan.orders.iter().enumerate() {
        blocks.push(Block::Gap);
        blocks.extend(one_order(plan, order, n == 0, plan.orders.len() > 1));
    }
    if let Some(played) = &plan.played {
        blocks.push(Block::Gap);
        blocks.extend(one_played(played));
    }
    if let Some(compared) = &plan.compared {
        blocks.push(Block::Paragraph(beside(compared, &plan.orders[0]).into()));
    }
    blocks.push(Block::Gap);
    blocks.push(Block::Paragraph(Phrase::new().run(Run::Dim(searched(plan)))));
    blocks
}

/// What is called a moment: `after the cross`, `after pair 2`, `at moment 31`.
fn moment(plan: &Plan) -> String {
    match (&plan.at.after, plan.at.end) {
        (Some(step), _) if step.ends_with("cross") => format!("after the {step}"),
        (Some(step), _) => format!("after {step}"),
        (None, true) => "at its end".into(),
        (None, false) => format!("at moment {}", plan.at.moment),
    }
}

fn head(plan: &Plan) -> Vec<Block> {
    let mut words = Phrase::new().run(Run::Strong(one_line(&plan.title)));
    if let Some(solver) = &plan.solver {
        words = words.and(" · ").and(one_line(solver));
    }
    let open = match plan.offers.len() {
        1 => "one pair open".to_owned(),
        n => format!("{} pairs open", ["no", "one", "two", "three", "four"][n.min(4)]),
    };
    let mut facts = format!("{} up, {} in front · {open}", plan.hold.up, plan.hold.front);
    if plan.sight != crate::record::DEFAULT_SIGHT {
        facts.push_str(&format!(" · in sight: {}", plan.sight));
    }
    vec![Block::Title { words, figure: moment(plan) }, Block::Paragraph(facts.into())]
}

pub(super) fn column(title: &str, figures: bool, may_go: bool) -> Column {
    Column { title: title.into(), over: None, figures, may_go }
}

fn hides(offer: &Offered) -> bool {
    [offer.corner_grade, offer.edge_grade].contains(&Grade::Hidden)
}

/// What of a pair is hidden at the moment, and whether a tilt would show it.
fn hidden(offer: &Offered) -> String {
    let what = match (offer.corner_grade, offer.edge_grade) {
        (Grade::Hidden, Grade::Hidden) => "both",
        (Grade::Hidden, _) => "corner",
        (_, Grade::Hidden) => "edge",
        (Grade::Plain, Grade::Plain) => return "no".into(),
        _ => return "deduced".into(),
    };
    match offer.tilt {
        Some(faces) => format!("{what}({faces})"),
        None => what.into(),
    }
}

fn offers(plan: &Plan) -> Table {
    let timed = plan.offers.iter().any(|offer| offer.seconds.is_some());
    let columns = vec![
        column("pair", false, false),
        column("tier", false, true),
        column("corner", false, false),
        column("edge", false, false),
        column("hidden", false, false),
        column("line", false, false),
        column("turns", true, false),
        column(if timed { "about" } else { "cost" }, true, false),
    ];
    let rows = plan
        .offers
        .iter()
        .map(|offer| {
            let line = offer.line.as_ref();
            let price = match (offer.seconds, line) {
                (Some(seconds), _) => estimated(seconds),
                (None, Some(line)) => line.cost.to_string(),
                (None, None) => String::new(),
            };
            vec![
                Phrase::new().pair(offer.pair),
                offer.tier.word().into(),
                offer.corner.to_string().into(),
                offer.edge.to_string().into(),
                hidden(offer).into(),
                line.map_or(Phrase::new(), |line| Phrase::new().turns(&line.text)),
                line.map_or(Phrase::new(), |line| line.obtm.to_string().into()),
                price.into(),
            ]
        })
        .collect();
    let tilt = plan.offers.iter().find_map(|offer| offer.tilt);
    let key = tilt.map(|faces| format!("({faces}) found with {faces} in sight too").into());
    Table { columns, rows, sums: None, key: key.into_iter().collect() }
}

/// `24 turns, 1 rotation, about 4.3 s`.
pub(super) fn length(order: &Planned) -> String {
    let mut parts = vec![turns(order.obtm), rotations(order.rotations)];
    match order.seconds {
        Some(seconds) => parts.push(format!("about {}", estimated(seconds))),
        None => parts.push(format!("cost {}", order.cost)),
    }
    parts.retain(|part| !part.is_empty());
    parts.join(", ")
}

fn rotations(n: usize) -> String {
    match n {
        0 => "no rotation".into(),
        1 => "1 rotation".into(),
        n => format!("{n} rotations"),
    }
}

fn one_order(plan: &Plan, order: &Planned, best: bool, several: bool) -> Vec<Block> {
    let first = order.lines.first().and_then(|line| line.pairs.first());
    // The first pair's own pieces are looked for before any line; that they hide is told above.
    let is_hidden = |offer: &Offered| Some(&offer.pair) == first && hides(offer);
    let what = match order.late {
        0 if plan.offers.iter().any(is_hidden) => "Without a stop once the first is found".to_owned(),
        0 => "Without a stop".to_owned(),
        1 => "One late pair".to_owned(),
        n => format!("{n} late pairs"),
    };
    let which = match first.filter(|_| several) {
        Some(first) if best => format!("{what}, the best, {first} first: "),
        Some(first) => format!("{what}, {first} first: "),
        None => format!("{what}: "),
    };
    let columns = vec![
        column("pair", false, false),
        column("line", false, false),
        column("turns", true, false),
        column("then", false, false),
        column("found", false, false),
    ];
    let row = |line: &Line| {
        let (then, found) = match &line.next {
            Some(next) => (Phrase::new().pair(next.pair), next_found(next).into()),
            None => (Phrase::new(), Phrase::new()),
        };
        vec![pairs(&line.pairs), Phrase::new().turns(&line.text), line.obtm.to_string().into(), then, found]
    };
    let rows = order.lines.iter().map(row).collect();
    let mut blocks = vec![Block::Heading(format!("{which}{}", length(order)))];
    if order.late > 0 {
        let of = if several { " of those that begin so" } else { "" };
        blocks.push(Block::Paragraph(format!("No order{of} is without a stop.").into()));
    }
    blocks.push(Block::Table(Table { columns, rows, sums: None, key: Vec::new() }));
    blocks
}

/// Pairs in as little room as there is.
fn pairs(pairs: &[PairName]) -> Phrase {
    pairs.iter().enumerate().fold(Phrase::new(), |phrase, (n, &pair)| {
        let phrase = if n > 0 { phrase.and(", ") } else { phrase };
        phrase.pair(pair)
    })
}

pub(super) fn next_found(next: &Next) -> String {
    found_so(&HowFound {
        ready: next.ready,
        at_once: next.at_once,
        deduced: next.deduced,
        told_lead: next.told_lead,
        lead: next.lead,
        corner: next.corner_found,
        edge: next.edge_found,
    })
}

fn one_played(played: &Played) -> Vec<Block> {
    let mut words = format!("Played: {}, {}", turns(played.obtm), rotations(played.rotations));
    match (played.turning, played.stopped) {
        (Some(turning), Some(stopped)) => {
            words.push_str(&format!(", {} + {} stopped", measured(turning), measured(stopped)));
        }
        (Some(turning), None) => words.push_str(&format!(", {}", measured(turning))),
        (None, _) => words.push_str(&format!(", cost {}", played.cost)),
    }
    if !played.all_in {
        words.push_str("; then the record ends");
    }
    let stops = played.steps.iter().any(|step| step.before.is_some());
    let mut columns =
        vec![column("pair", false, false), column("line", false, false), column("turns", true, false)];
    if stops {
        columns.push(column("stopped before", true, false));
    }
    let rows = played
        .steps
        .iter()
        .map(|step| {
            let mut row =
                vec![pairs(&step.pairs), Phrase::new().turns(&step.text), step.obtm.to_string().into()];
            if stops {
                row.push(match step.before {
                    Some(before) if step.stop => Phrase::new().run(Run::Stop(format!("{before:.2}!"))),
                    Some(before) => format!("{before:.2} ").into(),
                    None => Phrase::new(),
                });
            }
            row
        })
        .collect();
    vec![Block::Heading(words), Block::Table(Table { columns, rows, sums: None, key: Vec::new() })]
}

/// What the order would have saved, and where it parts from what was played.
fn beside(compared: &Compared, order: &Planned) -> String {
    if compared.same {
        return "That is what was played.".into();
    }
    let parts = match compared.same_lines {
        0 => "They part at the first line.".to_owned(),
        n => format!(
            "They part after {} of the same lines.",
            if n == 1 { "one".into() } else { n.to_string() }
        ),
    };
    // With a late pair left, nobody can say which of the stops it would have kept.
    let stopped = compared.saves_stopped.filter(|_| order.late == 0);
    let words = match (compared.saves_turning, stopped) {
        (Some(turning), Some(stopped)) if turning + stopped >= 0.05 => {
            let all = estimated(turning + stopped);
            match (turning >= 0.05, stopped >= 0.05) {
                (true, true) => {
                    format!("About {all} less, {} of it stops after the first line.", estimated(stopped))
                }
                (false, true) if turning <= -0.05 => {
                    let dearer = estimated(-turning);
                    format!("About {all} less: {dearer} more to turn, and no stop after the first line.")
                }
                (false, true) => format!("About {all} less, all of it stops after the first line."),
                _ => format!("About {all} less."),
            }
        }
        (Some(turning), None) if turning >= 0.05 => format!("About {} less to turn.", estimated(turning)),
        (Some(_), _) => "It would have been no faster than what was played.".into(),
        (None, _) if compared.saves > 0.0 => {
            let less = about_turns(compared.saves);
            format!("{}{} less to turn.", less[..1].to_uppercase(), &less[1..])
        }
        (None, _) if compared.saves < 0.0 => {
            let more = about_turns(-compared.saves);
            format!("{}{} more to turn than what was played.", more[..1].to_uppercase(), &more[1..])
        }
        (None, _) => "It costs what was played.".into(),
    };
    format!("{words} {parts}")
}

fn searched(plan: &Plan) -> String {
    let settings = &plan.settings;
    let over = match settings.over.to_string() {
        one if one == "1" => "1 unit".to_owned(),
        over => format!("{over} units"),
    };
    format!(
        "searched: lines to {} turns, at most {over} dearer than their pair's cheapest; every order that could be cheaper",
        settings.within
    )
}

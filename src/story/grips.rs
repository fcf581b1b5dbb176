//! Grips compared: what tilting the cube so that more faces are in sight would have gained, step by step.

use super::blocks::{Block, Column, Item, Phrase, Run, Table};
use super::found::{found, measured};
use super::solve::{head, taken};
use crate::annotation::{Annotation, StepKind};

/// The story of one solve seen with several sets of faces; the first is the one the others are held against.
#[must_use]
pub fn grips(seen: &[Annotation]) -> Vec<Block> {
    let Some((own, others)) = seen.split_first() else { return Vec::new() };
    let mut blocks = head(own);
    blocks.push(Block::Gap);
    blocks.push(Block::Table(table(seen)));
    for other in others {
        blocks.push(Block::Gap);
        blocks.extend(gained(own, other));
    }
    blocks
}

fn table(seen: &[Annotation]) -> Table {
    let column = |title: &str, over: Option<&str>, figures: bool| Column {
        title: title.into(),
        over: over.map(String::from),
        figures,
        may_go: false,
    };
    let own = &seen[0];
    let stopped = own.steps.iter().any(|step| step.seconds.before.is_some_and(|before| before > 0.0));
    let mut columns = vec![column("step", None, false), column("pair", None, false)];
    if stopped {
        columns.push(column("before", Some("stopped"), true));
    }
    columns.extend(seen.iter().map(|one| column(&one.sight.to_string(), None, false)));
    let rows = (0..own.steps.len())
        .filter(|&index| own.steps[index].kind == StepKind::Pair)
        .map(|index| {
            let step = &own.steps[index];
            let mut row = vec![step.title().replace(" and ", ", ").into(), Phrase::new().pairs(&step.pairs)];
            if stopped {
                let stop = step.stop_before().is_some();
                row.push(match step.seconds.before {
                    Some(before) if stop => Phrase::new().run(Run::Stop(format!("{before:.2}!"))),
                    Some(before) => format!("{before:.2} ").into(),
                    None => Phrase::new(),
                });
            }
            row.extend(
                seen.iter().map(|one| taken(one, index).map_or(Phrase::new(), |offer| found(offer).into())),
            );
            row
        })
        .collect();
    Table { columns, rows, sums: None, key: Vec::new() }
}

/// What the other faces would have gained.
fn gained(own: &Annotation, other: &Annotation) -> Vec<Block> {
    let sight = other.sight.to_string();
    let (mut items, mut stops) = (Vec::new(), 0.0);
    let (mut n_late, mut in_time) = (0, Vec::new());
    for (index, step) in own.steps.iter().enumerate() {
        let (Some(one), Some(two)) = (taken(own, index), taken(other, index)) else { continue };
        n_late += usize::from(!one.ready);
        let words = match (one.ready, two.ready) {
            (false, true) => {
                in_time.push(step.title());
                format!("was late, and in time with {sight}: {}.", found(two))
            }
            (true, true) if one.deduced && !two.deduced => {
                format!("had to be worked out; with {sight} it lies open: {}.", found(two))
            }
            (true, false) => format!("was in time, and late with {sight}: {}.", found(two)),
            _ => continue,
        };
        let mut words = Phrase::new().pair(two.pair).and(" ").and(words);
        if let Some(stop) = step.stop_before() {
            words = words.and(format!(" {} stopped before it.", measured(stop.seconds)));
            stops += if two.ready { stop.seconds } else { 0.0 };
        }
        items.push(Item { figure: step.title(), words, moment: Some(step.from) });
    }
    if items.is_empty() {
        return vec![Block::Paragraph(
            format!("{sight} instead of {} would have gained nothing here.", own.sight).into(),
        )];
    }
    let late = match (n_late, in_time.len()) {
        (0, _) => String::new(),
        (n, 0) => format!(": none of the {n} late pairs in time"),
        (n, _) => format!(": {} of {n} late pairs in time", in_time.len()),
    };
    let stops =
        if stops > 0.0 { format!("; the stops there came to {}", measured(stops)) } else { String::new() };
    let heading = format!("{sight} instead of {}{late}{stops}", own.sight);
    vec![Block::Heading(heading), Block::Items(items)]
}

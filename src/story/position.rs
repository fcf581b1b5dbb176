//! The last position of a record that ends early, as a position to play from: what every open pair offers.

use super::blocks::{Block, Column, Phrase, Table};
use super::found::found;
use crate::annotation::Annotation;

/// What is on offer at the end of the record; nothing where all pairs are in.
#[must_use]
pub fn offered(annotation: &Annotation) -> Vec<Block> {
    if annotation.to_play.is_empty() {
        return Vec::new();
    }
    let open = match annotation.to_play.len() {
        1 => "one pair open".into(),
        n => format!("{n} pairs open"),
    };
    let hold = annotation.moments.last().map(|moment| &moment.hold);
    let hold = hold.map(|hold| format!("{} up, {} in front; ", hold.up, hold.front)).unwrap_or_default();
    let column = |title: &str, figures: bool, may_go: bool| Column {
        title: title.into(),
        over: None,
        figures,
        may_go,
    };
    let mut columns = vec![
        column("pair", false, false),
        column("tier", false, true),
        column("corner", false, false),
        column("edge", false, false),
        column("found", false, false),
    ];
    // A column that would be empty in all rows is none.
    let lines = annotation.to_play.iter().any(|offer| offer.line.is_some());
    if lines {
        columns.extend([column("line", false, false), column("turns", true, false)]);
    }
    let rows = annotation
        .to_play
        .iter()
        .map(|offer| {
            let mut cells = vec![
                Phrase::new().pair(offer.pair),
                offer.tier.word().into(),
                offer.corner.to.to_string().into(),
                offer.edge.to.to_string().into(),
                found(offer).into(),
            ];
            let line = offer.line.as_ref();
            if lines {
                cells.push(line.map_or(Phrase::new(), |line| Phrase::new().turns(&line.text)));
                cells.push(line.map_or(Phrase::new(), |line| line.obtm.to_string().into()));
            }
            cells
        })
        .collect();
    vec![
        Block::Gap,
        Block::Heading("To play from here".into()),
        Block::Paragraph(format!("{hold}{open}").into()),
        Block::Table(Table { columns, rows, sums: None, key: Vec::new() }),
    ]
}

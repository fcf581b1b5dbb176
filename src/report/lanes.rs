//! The lanes in a terminal: each pair from the beginning of the solve to its insertion, a column a moment.
//!
//! Height is the layer, weight is sight: a mark high in its cell is *up*, low is *down*; a full block is in plain
//! sight, a thin line is deduced or followed, a dot is not found. A piece in the slot being filled has a
//! triangle instead, which says that it has to come out. The pair solved next is drawn brightest. Bars part the steps,
//! and a stop stands on top of its bar, so that the eye finds the stops first and what lay behind them
//! straight below.

use std::fmt::Write as _;
use std::iter::repeat_n;

use owo_colors::{OwoColorize, Style};

use super::look::{Look, columns, end_line, wrap};
use crate::annotation::{Annotation, Lane, LaneGrade, Spot, Step, StepKind};

/// Where the lanes begin: after the longest pair's name and the word for the piece.
const LABEL: usize = 21;

/// The characters of one look.
struct Marks {
    up: [char; 3],
    down: [char; 3],
    target: [char; 3],
    bar: char,
    inserted: char,
    pause: char,
}

const UNICODE: Marks = Marks {
    up: ['▀', '▔', '˙'],
    down: ['▄', '▁', '.'],
    target: ['▲', '△', '∧'],
    bar: '│',
    inserted: '◆',
    pause: '▼',
};

const ASCII: Marks = Marks {
    up: ['U', 'u', '\''],
    down: ['D', 'd', '.'],
    target: ['T', 't', '^'],
    bar: '|',
    inserted: '#',
    pause: 'v',
};

/// A stretch of the picture: a step, and the column it begins in.
struct Stretch<'a> {
    step: &'a Step,
    column: usize,
}

/// The picture, with its key if `legend` says so, ending with a line feed; empty if there are no pairs to draw.
#[must_use]
pub fn draw(annotation: &Annotation, legend: bool, look: &Look) -> String {
    let marks = if look.unicode { &UNICODE } else { &ASCII };
    let steps: Vec<&Step> = annotation
        .steps
        .iter()
        .filter(|step| matches!(step.kind, StepKind::Cross | StepKind::Pair))
        .filter(|step| step.to > step.from)
        .collect();
    if annotation.lanes.is_empty() || !steps.iter().any(|step| step.kind == StepKind::Pair) {
        return String::new();
    }
    let mut out = String::new();
    for (n, band) in bands(&steps, look.width.saturating_sub(LABEL)).into_iter().enumerate() {
        out.push_str(if n > 0 { "\n" } else { "" });
        draw_band(&mut out, annotation, &band, marks, look);
    }
    if legend {
        out.push_str(&key(marks, steps.iter().any(|step| !step.stops.is_empty()), look));
    }
    out
}

/// Splits the steps so that each band fits the width: a column a token and a bar a step.
fn bands<'a>(steps: &[&'a Step], width: usize) -> Vec<Vec<Stretch<'a>>> {
    let mut bands: Vec<Vec<Stretch<'a>>> = vec![Vec::new()];
    let mut column = 0;
    for step in steps {
        let wide = step.to - step.from + 1;
        if column > 0 && column + wide > width {
            bands.push(Vec::new());
            column = 0;
        }
        if let Some(band) = bands.last_mut() {
            band.push(Stretch { step, column });
        }
        column += wide;
    }
    bands
}

fn draw_band(out: &mut String, annotation: &Annotation, band: &[Stretch<'_>], marks: &Marks, look: &Look) {
    pauses(out, band, marks, look);
    let mut names = vec![' '; n_columns(band)];
    for stretch in band {
        let wide = stretch.step.to - stretch.step.from;
        for (i, c) in short_name(stretch.step, wide).chars().enumerate() {
            names[stretch.column + i] = c;
        }
        names[stretch.column + wide] = marks.bar;
    }
    let names: String = names.into_iter().collect();
    out.push_str(&format!("{:LABEL$}{}\n", "", names.trim_end().style(look.palette.strong)));
    for lane in &annotation.lanes {
        if band.first().is_some_and(|first| lane.solved.is_some_and(|solved| solved < first.step.from)) {
            continue;
        }
        row(out, lane, band, marks, look, true);
        row(out, lane, band, marks, look, false);
    }
}

fn n_columns(band: &[Stretch<'_>]) -> usize {
    band.last().map_or(0, |last| last.column + last.step.to - last.step.from + 1)
}

/// `pair 1` if there is room, else `p1`, else what fits.
fn short_name(step: &Step, room: usize) -> String {
    let name = step.name.to_string();
    if name.chars().count() <= room {
        return name;
    }
    let digits: String = name.chars().filter(char::is_ascii_digit).collect();
    let first = name.chars().next().unwrap_or(' ');
    format!("{first}{digits}").chars().take(room).collect()
}

/// The lines above the names: each stop over the bar or the turn at which it lies. Where two would run
/// into each other the later one goes a line lower, nearer the bars.
fn pauses(out: &mut String, band: &[Stretch<'_>], marks: &Marks, look: &Look) {
    // Of each line its text and how many columns it has.
    let mut lines: Vec<(String, usize)> = Vec::new();
    for stretch in band {
        for stop in &stretch.step.stops {
            // Before a step it stands on the bar; inside, over the turn before which the hands stood still.
            let inside = stop.moment.saturating_sub(stretch.step.from);
            let at = if stop.inside { stretch.column + inside } else { stretch.column.saturating_sub(1) };
            let text = format!("{}{:.2}", marks.pause, stop.seconds);
            let free = lines.iter().position(|&(_, wide)| wide == 0 || wide < at).unwrap_or_else(|| {
                lines.push((String::new(), 0));
                lines.len() - 1
            });
            let (line, wide) = &mut lines[free];
            line.push_str(&" ".repeat(at - *wide));
            *wide = at + columns(&text);
            line.push_str(&text.style(look.palette.middling).to_string());
        }
    }
    for (line, _) in lines {
        out.push_str(&format!("{:LABEL$}{line}\n", ""));
    }
}

fn row(out: &mut String, lane: &Lane, band: &[Stretch<'_>], marks: &Marks, look: &Look, corner: bool) {
    let from = out.len();
    // Writing to a `String` cannot fail.
    let _ = if corner { write!(out, "{:<12} corner", lane.pair) } else { write!(out, "{:<12} edge", "") };
    let label = out.len() - from;
    out.extend(repeat_n(' ', LABEL.saturating_sub(label)));
    for stretch in band {
        let step = stretch.step;
        let style = if step.next().any(|next| next.pair == lane.pair) {
            look.palette.pair
        } else if step.pairs.contains(&lane.pair) {
            look.palette.strong
        } else {
            look.palette.dim
        };
        let mut cells = String::with_capacity(3 * (step.to - step.from));
        for moment in step.from..step.to {
            cells.push(match lane.cells.get(moment) {
                Some(_) if lane.solved.is_some_and(|solved| solved <= moment) => ' ',
                Some(cell) => mark(if corner { &cell.corner } else { &cell.edge }, marks),
                None => ' ',
            });
        }
        styled(out, &cells, style);
        out.push(match lane.solved {
            Some(solved) if solved == step.to => marks.inserted,
            Some(solved) if solved < step.to => ' ',
            _ => marks.bar,
        });
    }
    end_line(out, from);
}

/// Blank cells need no escapes, and a style that is none writes none.
fn styled(out: &mut String, cells: &str, style: Style) {
    if cells.trim().is_empty() || style.is_plain() {
        out.push_str(cells);
    } else {
        let _ = write!(out, "{}", cells.style(style));
    }
}

const fn mark(spot: &Spot, marks: &Marks) -> char {
    let set = if spot.up {
        &marks.up
    } else if spot.target {
        &marks.target
    } else {
        &marks.down
    };
    match spot.sight {
        LaneGrade::Plain => set[0],
        LaneGrade::Followed => set[1],
        LaneGrade::NotFound => set[2],
    }
}

/// What the signs mean; the one for a stop only where there is one.
fn key(marks: &Marks, any_stop: bool, look: &Look) -> String {
    let [up, up_found, up_not] = marks.up;
    let [down, down_found, down_not] = marks.down;
    let [target, target_found, target_not] = marks.target;
    let stop = if any_stop { format!("   {} stop", marks.pause) } else { String::new() };
    let lines = [
        format!("before each turn: {up} up {down} down {target} in the slot being filled, open to sight"),
        format!(
            "{up_found} {down_found} {target_found} deduced or followed   {up_not} {down_not} {target_not} not found   {} pair in{stop}",
            marks.inserted
        ),
    ];
    let wrapped: String = lines.iter().map(|line| wrap(line, look.width, 0) + "\n").collect();
    wrapped.style(look.palette.dim).to_string()
}

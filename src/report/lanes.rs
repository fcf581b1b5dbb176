//! The lanes in a terminal: each pair from the beginning of the solve to its insertion, a column a moment.
//!
//! Height is the layer, weight is sight: a mark high in its cell is *up*, low is *down*; a full block is in plain
//! sight, a thin line is known though not in sight, a dot is hidden. A piece in the slot being filled has a
//! triangle instead, which says that it has to come out. The pair solved next is drawn brightest. Bars part the steps,
//! and a long pause stands on top of its bar, so that the eye finds the pauses first and what lay behind them
//! straight below.

use owo_colors::{OwoColorize, Style};

use super::look::{Look, columns, wrap};
use crate::annotation::{Annotation, Lane, Spot, SpotSight, Step, StepKind};

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

/// The picture with its key, ending with a line feed; empty if there are no pairs to draw.
#[must_use]
pub fn draw(annotation: &Annotation, look: &Look) -> String {
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
    for band in bands(&steps, look.width.saturating_sub(LABEL)) {
        out.push('\n');
        draw_band(&mut out, annotation, &band, marks, look);
    }
    out.push_str(&key(marks, steps.iter().any(|step| step.pause.is_some()), look));
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

/// The lines above the names: each long pause over the bar it stopped at, with its cause. Where two would run
/// into each other the later one goes a line lower, nearer the bars.
fn pauses(out: &mut String, band: &[Stretch<'_>], marks: &Marks, look: &Look) {
    // Of each line its text and how many columns it has.
    let mut lines: Vec<(String, usize)> = Vec::new();
    for stretch in band {
        let Some(pause) = &stretch.step.pause else { continue };
        // The bar before the step's first column.
        let at = stretch.column.saturating_sub(1);
        let text = format!("{}{:.2} s {}", marks.pause, pause.seconds, pause.cause);
        let free = lines.iter().position(|&(_, wide)| wide == 0 || wide < at).unwrap_or_else(|| {
            lines.push((String::new(), 0));
            lines.len() - 1
        });
        let (line, wide) = &mut lines[free];
        line.push_str(&" ".repeat(at - *wide));
        *wide = at + columns(&text);
        line.push_str(&text.style(look.palette.bad).to_string());
    }
    for (line, _) in lines {
        out.push_str(&format!("{:LABEL$}{line}\n", ""));
    }
}

fn row(out: &mut String, lane: &Lane, band: &[Stretch<'_>], marks: &Marks, look: &Look, corner: bool) {
    let label = if corner { format!("{:<12} corner", lane.pair) } else { format!("{:<12} edge", "") };
    let mut line = format!("{label:<LABEL$}");
    for stretch in band {
        let step = stretch.step;
        let style = if step.next.iter().any(|next| next.pair == lane.pair) {
            look.palette.pair
        } else if step.pairs.contains(&lane.pair) {
            look.palette.strong
        } else {
            look.palette.dim
        };
        let mut cells = String::new();
        for moment in step.from..step.to {
            cells.push(match lane.cells.get(moment) {
                Some(_) if lane.solved.is_some_and(|solved| solved <= moment) => ' ',
                Some(cell) => mark(if corner { &cell.corner } else { &cell.edge }, marks),
                None => ' ',
            });
        }
        line.push_str(&styled(&cells, style));
        line.push(match lane.solved {
            Some(solved) if solved == step.to => marks.inserted,
            Some(solved) if solved < step.to => ' ',
            _ => marks.bar,
        });
    }
    out.push_str(line.trim_end());
    out.push('\n');
}

/// Blank cells need no escapes.
fn styled(cells: &str, style: Style) -> String {
    if cells.trim().is_empty() { cells.into() } else { cells.style(style).to_string() }
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
        SpotSight::Seen => set[0],
        SpotSight::Known => set[1],
        SpotSight::Hidden => set[2],
    }
}

/// What the signs mean; the one for a pause only where there is one.
fn key(marks: &Marks, any_pause: bool, look: &Look) -> String {
    let [up, up_known, up_hidden] = marks.up;
    let [down, down_known, down_hidden] = marks.down;
    let [target, target_known, target_hidden] = marks.target;
    let pause = if any_pause { format!("   {} : long pause", marks.pause) } else { String::new() };
    let lines = [
        format!("  up {up} down {down} in the slot being filled {target} : in sight"),
        format!(
            "  {up_known} {down_known} {target_known} : known, not in sight   {up_hidden} {down_hidden} {target_hidden} : hidden   {} : pair \
             in{pause}",
            marks.inserted
        ),
    ];
    let wrapped: String = lines.iter().map(|line| wrap(line, look.width, 2) + "\n").collect();
    wrapped.style(look.palette.dim).to_string()
}

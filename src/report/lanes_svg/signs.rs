//! The legend of the lanes.

use crate::report::markup::Markup;

const SIGNS: [(&str, &str); 8] = [
    ("open", "open to sight"),
    ("held", "found, not open: deduced or followed"),
    ("lost", "not found"),
    ("found", "found, first time in this step"),
    ("lead", "lead: turns to go when both are found"),
    ("high", "high: in the top layer"),
    ("middle", "middle: in the slot being filled"),
    ("low", "low: in another slot"),
];

/// How high it is below the lanes.
pub(super) fn height(narrow: bool) -> f64 {
    if narrow { 16.0 * SIGNS.len() as f64 + 14.0 } else { 16.0 * (SIGNS.len() as f64 / 3.0).ceil() + 14.0 }
}

/// In rows below the lanes.
pub(super) fn rows(out: &mut Markup, x: f64, y: f64, narrow: bool) {
    let columns = if narrow { 1 } else { 3 };
    for (n, (sign, words)) in SIGNS.into_iter().enumerate() {
        let (column, row) = (n % columns, n / columns);
        one(out, sign, words, x + 300.0 * column as f64, y + 16.0 * row as f64);
    }
}

fn one(out: &mut Markup, sign: &str, words: &str, x: f64, y: f64) {
    match sign {
        "found" => {
            out.open("circle")
                .attr("class", "ln-found")
                .num("cx", x + 15.0)
                .num("cy", y)
                .attr("r", 4.2)
                .empty();
        }
        "high" | "middle" | "low" => {
            let level = ["high", "middle", "low"].iter().position(|&name| name == sign).unwrap_or(0);
            let at = y - 4.0 + 4.0 * level as f64;
            out.open("path").attr("class", "ln-open");
            out.attr("d", format_args!("M{x:.1} {:.1}h30v3h-30z", at - 1.5)).empty();
            out.open("path")
                .attr("class", "ln-lost")
                .attr("d", format_args!("M{x:.1} {:.1}h30m-30 4h30m-30 4h30", y - 4.0))
                .empty();
        }
        _ => {
            let (class, d) = match sign {
                "open" => ("ln-open ln-next", format!("M{x:.1} {:.1}h30v5h-30z", y - 2.5)),
                "held" => ("ln-held ln-next", format!("M{x:.1} {:.1}h30m-30 4h30", y - 2.0)),
                "lost" => ("ln-lost ln-next", format!("M{x:.1} {y:.1}h30")),
                _ => ("ln-lead", format!("M{x:.1} {:.1}v5m0-2.5h30m0-2.5v5", y - 2.5)),
            };
            out.open("path").attr("class", class).attr("d", d).empty();
        }
    }
    out.open("text").attr("class", "ln-soft").num("x", x + 40.0).num("y", y + 4.0).text(words).close();
}

//! A shape for each colour, for those who tell shapes better than colours or letters: opposite colours share one, open
//! for the one and filled for the other.

use super::{Point, at, paint};
use crate::cube::Colour;
use crate::report::markup::Markup;

/// The path of a colour's shape around a point, and whether it is filled.
#[must_use]
pub(super) fn outline(colour: Colour, middle: Point, size: f64) -> (String, bool) {
    let r = size * 0.4;
    let to = |x: f64, y: f64| at(Point::new(middle.x + x * r, middle.y + y * r));
    let disc = || {
        let arc = |x: f64| format!("A{0} {0} 0 1 1 {1}", super::super::markup::Number(r), to(x, 0.0));
        format!("M{}{}{}Z", to(-1.0, 0.0), arc(1.0), arc(-1.0))
    };
    let bar = || format!("M{}L{}L{}L{}Z", to(-1.2, -0.5), to(1.2, -0.5), to(1.2, 0.5), to(-1.2, 0.5));
    let triangle = || format!("M{}L{}L{}Z", to(0.0, -1.1), to(1.1, 0.8), to(-1.1, 0.8));
    match colour {
        Colour::White => (disc(), false),
        Colour::Yellow => (disc(), true),
        Colour::Green => (bar(), false),
        Colour::Blue => (bar(), true),
        Colour::Orange => (triangle(), false),
        Colour::Red => (triangle(), true),
    }
}

/// Draws it.
pub(super) fn draw(out: &mut Markup, colour: Colour, middle: Point, size: f64) {
    let (d, filled) = outline(colour, middle, size);
    let ink = paint(colour).1;
    out.open("path").attr("fill", if filled { ink } else { "none" }).attr("stroke", ink);
    out.num("stroke-width", size * 0.11).attr("d", d).empty();
}

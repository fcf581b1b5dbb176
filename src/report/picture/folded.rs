//! The cube folded out.
//!
//! What it shows, in the order the eye should take it: the faces in sight, large and on a dark body; the ringed
//! pieces (a corner in an unbroken ring with a round mark, an edge in a dashed ring with a square mark) with the
//! tracks they take; and the hidden faces, shallow and pale, on paper. Where things lie: [`super::plan`].

use crate::cube::{Colour, Face, FaceSet, Stickers};

use super::plan::{self, Plan, Point};
use super::{BLANK, INK, Picture, Ring, Signs, middle, paint, path, sign};
use crate::report::markup::{Fragment, Markup, Number};

const BODY: &str = "#262b33";
const PAPER: &str = "#e9e6dd";
const RIM: &str = "#7d838c";
const MOST_LEGS: usize = 4;
const HIDDEN_OPACITY: &str = "0.72";
const CASING: &str = "#ffffff";

/// Draws it. The same picture is the same bytes everywhere.
pub(super) fn svg(picture: &Picture) -> Fragment {
    let plan = Plan::new(picture.sight);
    let size = plan.size();
    let mut out = Markup::new();
    out.open("svg")
        .attr("xmlns", "http://www.w3.org/2000/svg")
        .num("width", size.x)
        .num("height", size.y)
        .attr("viewBox", format_args!("0 0 {} {}", Number(size.x), Number(size.y)))
        .attr("role", "img")
        .attr("font-family", "sans-serif")
        .attr("stroke-linejoin", "round");
    out.leaf("title", &picture.title).leaf("desc", &picture.description);

    backing(&mut out, &plan);
    stickers(&mut out, &plan, picture);
    for ring in &picture.rings {
        track(&mut out, &plan, ring);
    }
    for ring in &picture.rings {
        draw_ring(&mut out, &plan, ring);
    }
    out.close();
    out.finish()
}

/// The paper behind the hidden faces and the dark body behind those in sight.
fn backing(out: &mut Markup, plan: &Plan) {
    out.open("path").attr("fill", PAPER).attr("stroke", RIM).attr("d", path(&plan.outline_all())).empty();
    let body = plan.outline_in_sight();
    if !body.is_empty() {
        let body: String = body.iter().map(|outline| path(outline)).collect();
        out.open("path").attr("fill", BODY).attr("stroke", BODY).attr("stroke-width", 3);
        out.attr("d", body).empty();
    }
}

/// The stickers, one path a colour for the faces in sight and one for the hidden ones, to keep pages small.
fn stickers(out: &mut Markup, plan: &Plan, picture: &Picture) {
    let stickers = &picture.stickers;
    let cells = || {
        Stickers::ORDER
            .into_iter()
            .enumerate()
            .flat_map(|(f, face)| (0..9).map(move |i| (face, i, f * 9 + i)))
    };
    let blank = picture.style.blank;
    for in_sight in [true, false] {
        for colour in Colour::ALL {
            if blank && !in_sight {
                continue;
            }
            let mut d = String::new();
            for (face, index, n) in cells() {
                let wanted = plan.in_sight(face) == in_sight && stickers[n] == colour;
                if let (true, Some(cell)) = (wanted, plan.sticker(face, index)) {
                    d.push_str(&path(&inset(&cell, if in_sight { 2.6 } else { 1.4 })));
                }
            }
            if !d.is_empty() {
                let (fill, _) = paint(colour);
                out.open("path").attr("fill", fill).attr("stroke", fill);
                out.attr("stroke-width", if in_sight { "2.4" } else { "0.6" });
                if !in_sight {
                    out.attr("opacity", HIDDEN_OPACITY);
                }
                out.attr("d", d).empty();
            }
        }
    }
    for (face, shade) in [(Face::F, "0.07"), (Face::R, "0.16"), (Face::L, "0.16"), (Face::B, "0.07")] {
        if plan.in_sight(face) {
            let cells: String =
                (0..9).filter_map(|i| plan.sticker(face, i)).map(|cell| path(&cell)).collect();
            out.open("path").attr("fill", INK).attr("opacity", shade).attr("d", cells).empty();
        }
    }
    for (face, word) in
        [(Face::U, "up"), (Face::F, "front"), (Face::R, "right"), (Face::L, "left"), (Face::B, "back")]
    {
        let n = Stickers::ORDER.iter().position(|&f| f == face).map_or(0, |f| f * 9 + 4);
        if let (true, Some(cell)) = (plan.in_sight(face), plan.sticker(face, 4)) {
            let at = middle(&cell);
            out.open("text")
                .num("x", at.x)
                .num("y", at.y + if picture.style.signs != Signs::None { 12.0 } else { 3.0 });
            out.attr("font-size", 9).attr("text-anchor", "middle");
            out.attr("fill", paint(stickers[n]).1).text(word).close();
        }
    }
    if picture.style.signs != Signs::None {
        for (face, index, n) in cells() {
            let Some(cell) = plan.sticker(face, index) else { continue };
            let size = if plan.in_sight(face) { 13.0 } else { 10.0 };
            sign(out, picture.style.signs, stickers[n], middle(&cell), size);
        }
    }
}

/// A picture for a script to fill: every sticker by itself, numbered by `data-n` as an annotation writes them, and
/// the ring of every place, named by `data-place`, to be shown or hidden.
pub(super) fn stage(sight: FaceSet) -> Fragment {
    let plan = Plan::new(sight);
    let size = plan.size();
    let mut out = Markup::new();
    out.open("svg").attr("viewBox", format_args!("0 0 {} {}", Number(size.x), Number(size.y)));
    out.attr("class", "cube").attr("aria-hidden", "true").attr("stroke-linejoin", "round");
    backing(&mut out, &plan);
    for (f, face) in Stickers::ORDER.into_iter().enumerate() {
        let in_sight = plan.in_sight(face);
        for index in 0..9 {
            let Some(cell) = plan.sticker(face, index) else { continue };
            out.open("path").attr("data-n", f * 9 + index).attr("fill", BLANK);
            if !in_sight {
                out.attr("opacity", HIDDEN_OPACITY);
            }
            out.attr("d", path(&inset(&cell, if in_sight { 1.4 } else { 0.8 }))).empty();
        }
    }
    for place in plan::places() {
        out.open("g").attr("data-place", place);
        draw_ring(&mut out, &plan, &Ring { place, track: Vec::new(), sight: None });
        out.close();
    }
    out.close();
    out.finish()
}

fn draw_ring(out: &mut Markup, plan: &Plan, ring: &Ring) {
    let Some(spot) = plan.spot(ring.place) else { return };
    let d = path(&plan.outline(ring.place));
    out.open("path")
        .attr("fill", "none")
        .attr("stroke", CASING)
        .attr("stroke-width", "5")
        .attr("d", &d)
        .empty();
    out.open("path").attr("fill", "none").attr("stroke", INK).attr("stroke-width", "2.6");
    if !ring.place.is_corner() {
        out.attr("stroke-dasharray", "5 4");
    }
    out.attr("d", &d).empty();
    mark(out, ring.place.is_corner(), spot);
}

/// The mark of a corner (round) or an edge (square).
fn mark(out: &mut Markup, corner: bool, at: Point) {
    if corner {
        out.open("circle").num("cx", at.x).num("cy", at.y).attr("r", "4.2");
    } else {
        out.open("rect").num("x", at.x - 3.8).num("y", at.y - 3.8).attr("width", "7.6").attr("height", "7.6");
    }
    out.attr("fill", INK).attr("stroke", CASING).attr("stroke-width", "1.4").empty();
}

/// The way of a piece: curved a little, so that there and back are two lines.
fn track(out: &mut Markup, plan: &Plan, ring: &Ring) {
    let dashed = !ring.place.is_corner();
    let places = std::iter::once(&ring.place).chain(&ring.track);
    let spots: Vec<Point> = places.filter_map(|&place| plan.spot(place)).collect();
    // More legs than this and the picture is a tangle: then only from where to where.
    let spots = match spots[..] {
        [first, .., last] if spots.len() > MOST_LEGS + 1 => vec![first, last],
        _ => spots,
    };
    let legs: Vec<(Point, Point)> =
        spots.windows(2).map(|leg| (leg[0], leg[1])).filter(|(a, b)| a.distance(*b) > 1.0).collect();
    let mut d = String::new();
    for &(a, b) in &legs {
        let bend = bend(a, b, plan.size());
        d.push_str(&format!(
            "M{} {}Q{} {} {} {}",
            Number(a.x),
            Number(a.y),
            Number(bend.x),
            Number(bend.y),
            Number(b.x),
            Number(b.y)
        ));
    }
    if d.is_empty() {
        return;
    }
    for (colour, width) in [(CASING, "4.6"), (INK, "2.2")] {
        out.open("path").attr("fill", "none").attr("stroke", colour).attr("stroke-width", width);
        if dashed && colour == INK {
            out.attr("stroke-dasharray", "6 4");
        }
        out.attr("d", &d).empty();
    }
    if let Some(&(a, b)) = legs.last() {
        arrow_head(out, bend(a, b, plan.size()), b);
    }
}

/// The control point of the curve from `a` to `b`: off to the left of the way, and on the paper, so that all of the
/// curve is.
fn bend(a: Point, b: Point, paper: Point) -> Point {
    let (dx, dy) = (b.x - a.x, b.y - a.y);
    let (x, y) = ((a.x + b.x) / 2.0 + dy * 0.18, (a.y + b.y) / 2.0 - dx * 0.18);
    Point::new(x.clamp(4.0, paper.x - 4.0), y.clamp(4.0, paper.y - 4.0))
}

fn arrow_head(out: &mut Markup, from: Point, tip: Point) {
    let length = from.distance(tip).max(0.01);
    let (ux, uy) = ((tip.x - from.x) / length, (tip.y - from.y) / length);
    let back = Point::new(tip.x - ux * 13.0, tip.y - uy * 13.0);
    let side = |sign: f64| Point::new(back.x - uy * 7.0 * sign, back.y + ux * 7.0 * sign);
    out.open("path").attr("fill", INK).attr("stroke", CASING).attr("stroke-width", 2);
    out.attr("d", path(&[tip, side(1.0), side(-1.0)])).empty();
}

/// The cell with every side moved inwards by `by`, for cells listed clockwise or not.
fn inset(cell: &[Point], by: f64) -> Vec<Point> {
    let n = cell.len();
    let area: f64 = (0..n).map(|i| (cell[i], cell[(i + 1) % n])).map(|(a, b)| a.x * b.y - b.x * a.y).sum();
    let sign = if area < 0.0 { -1.0 } else { 1.0 };
    // Each side as a line moved inwards; corners are where neighbouring lines meet.
    let moved: Vec<(Point, f64, f64)> = (0..n)
        .map(|i| {
            let (a, b) = (cell[i], cell[(i + 1) % n]);
            let length = a.distance(b).max(0.01);
            let (ux, uy) = ((b.x - a.x) / length, (b.y - a.y) / length);
            (Point::new(a.x - uy * by * sign, a.y + ux * by * sign), ux, uy)
        })
        .collect();
    (0..n)
        .map(|i| {
            let (p, px, py) = moved[(i + n - 1) % n];
            let (q, qx, qy) = moved[i];
            let cross = px * qy - py * qx;
            if cross.abs() < 1e-6 {
                return q;
            }
            let t = ((q.x - p.x) * qy - (q.y - p.y) * qx) / cross;
            Point::new(p.x + px * t, p.y + py * t)
        })
        .collect()
}

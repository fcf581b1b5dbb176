//! The cube as it is held: up, front and right in isometry, and the three hidden sides beside it, smaller, each swung
//! out into the plane of its neighbour and hung by a pale wedge from the edge the two share. So nothing has to be
//! explained: what hangs at the left edge of the front is the left side.
//!
//! Pieces are pointed at from outside. The contour runs in the gaps between stickers, the leader leaves along a gap and
//! ends in a dot with the piece's name: nothing covers a sticker. The dot is full, half or a ring: open to sight, found
//! without being open, not found. Every place has its own way out, so that a corner and an edge never share one
//! (`UFR` has two, because `FR` and `DR` leave by the same).
//!
//! Where the left side is in sight and the right one is not, all of it is the mirror image.

use super::plan::{self, Point};
use super::{BLANK, INK, LaneGrade, Picture, Ring, Signs, at, middle, paint, path, sign};
use crate::cube::{Colour, Face, FaceSet, Place, Stickers};
use crate::report::markup::{Fragment, Markup, Number};

/// The sheet: left, top, width, height.
pub const SHEET: [f64; 4] = [-470.0, -372.0, 940.0, 846.0];
/// A hidden side is drawn at this part of its size.
const SMALL: f64 = 0.54;
/// How far a hidden side hangs from the edge it shares.
const AWAY: f64 = 40.0;
/// The cosine of 30 degrees.
const COS: f64 = 0.866_025_403_784_438_6;
/// The three hidden sides, in the right-handed picture.
const FLAPS: [Face; 3] = [Face::L, Face::B, Face::D];

const STYLE: &str = ".cw-mk{fill:none;stroke:#7c3aed;stroke-width:7;stroke-linecap:round;stroke-linejoin:round}\
.cw-ld{stroke-width:4}.cw-dot{stroke-width:3;fill:#f5f6f4}.cw-full{fill:#7c3aed}.cw-name{stroke:none;fill:#6d28c9;font-size:27px}\
.cw-side{fill:#5c656c;font-size:20px}.cw-hinge{fill:#dfe2de;stroke:#b9bfbd}\
@media(prefers-color-scheme:dark){.cw-mk{stroke:#b98cff}.cw-full{fill:#b98cff}.cw-name{fill:#c19bff}.cw-side{fill:#a3abb0}.cw-hinge{fill:#2a3136;stroke:#444c52}}";

/// Where a point in space lies on the sheet: x to the right, y up, z to the viewer, the cube from -1.5 to 1.5.
fn iso([x, y, z]: [f64; 3]) -> Point {
    Point::new((x - z) * COS * 100.0, (-y + (x + z) * 0.5) * 100.0)
}

/// The outline in space of the cell of a face between these columns and rows, counted as its stickers are.
fn cell(face: Face, index: usize) -> [[f64; 3]; 4] {
    let (row, column) = ((index / 3) as f64 - 1.5, (index % 3) as f64 - 1.5);
    [(column, row), (column + 1.0, row), (column + 1.0, row + 1.0), (column, row + 1.0)].map(|(a, b)| {
        match face {
            Face::U => [a, 1.5, b],
            Face::D => [a, -1.5, -b],
            Face::F => [a, -b, 1.5],
            Face::B => [-a, -b, -1.5],
            Face::R => [1.5, -b, -a],
            Face::L => [-1.5, -b, a],
        }
    })
}

/// Where a hidden side lies: its first corner, a step along a row, a step down a column.
fn flap(face: Face) -> [Point; 3] {
    let along = |slope: f64| Point::new(COS * 100.0 * SMALL, slope * 50.0 * SMALL);
    let down = Point::new(0.0, 100.0 * SMALL);
    match face {
        Face::L => {
            [Point::new(-260.0 - (AWAY + 300.0 * SMALL) * COS, -300.0 * SMALL - AWAY / 2.0), along(1.0), down]
        }
        Face::B => [Point::new(260.0 + AWAY * COS, -150.0 * SMALL - AWAY / 2.0), along(-1.0), down],
        _ => [Point::new(-130.0 - 150.0 * SMALL * COS, 225.0 + AWAY - 75.0 * SMALL), along(1.0), down],
    }
}

/// A point of a hidden side, in cells from its first corner.
fn on_flap(face: Face, column: f64, row: f64) -> Point {
    let [o, e, v] = flap(face);
    Point::new(o.x + e.x * column + v.x * row, o.y + e.y * column + v.y * row)
}

/// Which way a piece is pointed at: along gaps (points of the cube), then out to the dot.
struct Leader {
    gap: Vec<Point>,
    dot: Point,
    text: Point,
    /// Whether the name stands to the left of the dot.
    before: bool,
}

/// The layout for one set of faces in sight.
#[derive(Debug, Clone, Copy)]
pub struct Held {
    mirrored: bool,
    sight: FaceSet,
}

impl Held {
    /// The layout in which the eyes have these faces.
    #[must_use]
    pub fn new(sight: FaceSet) -> Held {
        Held { mirrored: sight.contains(Face::L) && !sight.contains(Face::R), sight }
    }

    /// The same face in the right-handed picture; its own inverse.
    fn unmirrored(self, face: Face) -> Face {
        match face {
            Face::R if self.mirrored => Face::L,
            Face::L if self.mirrored => Face::R,
            face => face,
        }
    }

    fn mirror(self, point: Point) -> Point {
        if self.mirrored { Point::new(-point.x, point.y) } else { point }
    }

    /// Whether the face is one of the three large ones.
    #[must_use]
    pub fn large(self, face: Face) -> bool {
        !FLAPS.contains(&self.unmirrored(face))
    }

    /// The outline of the cell of a sticker: the `index`-th (0 to 8) of `face`, as
    /// [`Moment::stickers`](crate::annotation::Moment::stickers) has them.
    #[must_use]
    pub fn cell(self, face: Face, index: usize) -> [Point; 4] {
        let (face, index) =
            (self.unmirrored(face), if self.mirrored { index / 3 * 3 + 2 - index % 3 } else { index });
        let points = if FLAPS.contains(&face) {
            let (row, column) = ((index / 3) as f64, (index % 3) as f64);
            [(0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0)].map(|(c, r)| on_flap(face, column + c, row + r))
        } else {
            cell(face, index).map(iso)
        };
        points.map(|point| self.mirror(point))
    }

    /// Round the stickers of a place: one outline for those that are large, one for each of the others.
    fn contour(self, place: Place) -> String {
        let cells: Vec<Vec<Point>> = plan::stickers_of(place)
            .into_iter()
            .map(|(face, index)| self.cell(face, index).to_vec())
            .collect();
        plan::outlines(&cells).iter().map(|outline| path(outline)).collect()
    }

    fn leader(self, place: Place, second: bool) -> Leader {
        let faces: FaceSet = place.faces().iter().map(|&face| self.unmirrored(face)).collect();
        let name = Place::at(faces).map_or_else(String::new, |place| place.to_string());
        let leader = leader(&name, second);
        Leader {
            gap: leader.gap.into_iter().map(|point| self.mirror(point)).collect(),
            dot: self.mirror(leader.dot),
            text: self.mirror(leader.text),
            before: leader.before != self.mirrored,
        }
    }
}

/// The way out of a place in the right-handed picture: found by hand, so that no two of a pair meet and no name lies on a
/// hidden side.
fn leader(name: &str, second: bool) -> Leader {
    let way = |gap: &[[f64; 3]], dot: (f64, f64), text: (f64, f64), before: bool| Leader {
        gap: gap.iter().map(|&point| iso(point)).collect(),
        dot: Point::new(dot.0, dot.1),
        text: Point::new(text.0, text.1),
        before,
    };
    let hidden = |face, column, row, dot: (f64, f64), text: (f64, f64), before| Leader {
        gap: vec![on_flap(face, column, row)],
        dot: Point::new(dot.0, dot.1),
        text: Point::new(text.0, text.1),
        before,
    };
    const H: f64 = 0.5;
    const T: f64 = 1.5;
    match name {
        "UBL" => way(&[[-T, T, -T]], (0.0, -326.0), (0.0, -338.0), false),
        "UBR" => way(&[[T, T, -T]], (272.0, -212.0), (268.0, -226.0), false),
        "UFL" => way(&[[-T, T, T]], (-272.0, -212.0), (-268.0, -226.0), true),
        "DBR" => way(&[[T, -T, -T]], (284.0, 186.0), (290.0, 210.0), false),
        "DFR" => way(&[[T, -T, T]], (14.0, 336.0), (20.0, 362.0), false),
        "DFL" => way(&[[-T, -T, T]], (-284.0, 186.0), (-290.0, 210.0), true),
        "UL" => way(&[[-T, T, 0.0]], (-158.0, -272.0), (-156.0, -286.0), true),
        "UB" => way(&[[0.0, T, -T]], (158.0, -272.0), (156.0, -286.0), false),
        "DR" => way(&[[T, -T, 0.0]], (160.0, 268.0), (168.0, 292.0), false),
        "BR" => way(&[[T, -H, -T]], (288.0, 108.0), (294.0, 132.0), false),
        "FL" => way(&[[-T, -H, T]], (-288.0, 108.0), (-294.0, 132.0), true),
        "DF" => way(&[[-H, -T, T]], (-218.0, 246.0), (-226.0, 268.0), true),
        "UF" => way(&[[-H, T, H], [-T, T, H]], (-204.0, -248.0), (-204.0, -262.0), true),
        "UR" => way(&[[H, T, -H], [H, T, -T]], (204.0, -248.0), (204.0, -262.0), false),
        "UFR" if second => way(&[[H, T, H], [H, T, -T]], (204.0, -248.0), (204.0, -262.0), false),
        "UFR" => way(&[[T, H, H], [T, -T, H]], (116.0, 306.0), (124.0, 330.0), false),
        "FR" => way(&[[T, -H, H], [T, -T, H]], (116.0, 306.0), (124.0, 330.0), false),
        "DBL" => hidden(Face::L, 0.0, 3.0, (-446.0, 66.0), (-462.0, 102.0), false),
        "DL" => hidden(Face::L, 1.5, 3.0, (-372.0, 96.0), (-462.0, 132.0), false),
        "BL" => hidden(Face::B, 3.0, 2.0, (452.0, 22.0), (462.0, 56.0), true),
        _ => hidden(Face::D, 1.5, 3.0, (-168.0, 440.0), (-178.0, 458.0), true),
    }
}

/// Draws it. `alone` is a picture that brings its own style and names its pieces.
pub(super) fn svg(picture: &Picture, alone: bool) -> Fragment {
    let layout = Held::new(picture.sight);
    let mut out = Markup::new();
    out.open("svg").attr("xmlns", "http://www.w3.org/2000/svg");
    if alone {
        out.attr("width", 470).attr("height", 423).attr("font-family", "sans-serif");
    }
    out.attr("viewBox", sheet()).attr("class", "cube").attr("role", "img");
    out.leaf("title", &picture.title).leaf("desc", &picture.description);
    if alone {
        out.open("style").own_text(STYLE).close();
    }
    body(&mut out, layout, alone);
    let blank = |face: Face| picture.style.blank && !picture.sight.contains(face);
    for colour in Colour::ALL.into_iter().map(Some).chain([None]) {
        let cells = cells().filter(|&(face, _, n)| match colour {
            Some(colour) => picture.stickers[n] == colour && !blank(face),
            None => blank(face),
        });
        let d: String = cells.map(|(face, index, _)| path(&small(layout, face, index))).collect();
        if !d.is_empty() {
            let fill = colour.map_or(BLANK, |colour| paint(colour).0);
            out.open("path").attr("fill", fill).attr("stroke", fill).attr("stroke-width", 10);
            out.attr("stroke-linejoin", "round").attr("d", d).empty();
        }
    }
    if picture.style.signs != Signs::None {
        for (face, index, n) in cells().filter(|&(face, ..)| !blank(face)) {
            let size = if layout.large(face) { 34.0 } else { 22.0 };
            sign(&mut out, picture.style.signs, picture.stickers[n], middle(&layout.cell(face, index)), size);
        }
    }
    let second = |ring: &Ring| {
        let blocked = |other: &Ring| ["FR", "DR", "FL", "DL"].contains(&other.place.to_string().as_str());
        picture.rings.iter().any(|other| other.place != ring.place && blocked(other))
    };
    for ring in &picture.rings {
        point_at(&mut out, layout, ring, second(ring), alone);
    }
    out.close();
    out.finish()
}

fn sheet() -> String {
    SHEET.map(|n| Number(n).to_string()).join(" ")
}

/// Faces and indices of all stickers, with their numbers.
fn cells() -> impl Iterator<Item = (Face, usize, usize)> {
    Stickers::ORDER.into_iter().enumerate().flat_map(|(f, face)| (0..9).map(move |i| (face, i, f * 9 + i)))
}

/// The sticker in its cell: its stroke, as wide as the rounding of its corners, fills it up to the gap.
fn small(layout: Held, face: Face, index: usize) -> [Point; 4] {
    let cell = layout.cell(face, index);
    let centre = middle(&cell);
    // Of a cell whose sides are 100 long 4 are left to the gap on each side, and 5 to the stroke.
    let part = if layout.large(face) { 0.18 } else { 0.28 };
    cell.map(|point| point.towards(centre, part))
        .map(|p| Point::new((p.x * 10.0).round() / 10.0, (p.y * 10.0).round() / 10.0))
}

/// The dark body, the hidden sides' wedges and names.
fn body(out: &mut Markup, layout: Held, alone: bool) {
    let side = if alone { "cw-side" } else { "face" };
    let edge = |face: Face| -> [Point; 2] {
        match face {
            Face::L => [Point::new(-260.0, -150.0), Point::new(-260.0, 150.0)],
            Face::B => [Point::new(260.0, -150.0), Point::new(260.0, 150.0)],
            _ => [Point::new(-260.0, 150.0), Point::new(0.0, 300.0)],
        }
    };
    let mut dark = path(
        &[(0, -300), (260, -150), (260, 150), (0, 300), (-260, 150), (-260, -150)]
            .map(|(x, y)| Point::new(x.into(), y.into())),
    );
    for face in FLAPS {
        let near = match face {
            Face::L => [on_flap(face, 3.0, 3.0), on_flap(face, 3.0, 0.0)],
            Face::B => [on_flap(face, 0.0, 3.0), on_flap(face, 0.0, 0.0)],
            _ => [on_flap(face, 3.0, 0.0), on_flap(face, 0.0, 0.0)],
        };
        let [from, to] = edge(face);
        let wedge = [from, to, near[0], near[1]].map(|point| layout.mirror(point));
        out.open("path")
            .attr("class", if alone { "cw-hinge" } else { "hinge" })
            .attr("d", path(&wedge))
            .empty();
        let corners =
            [(0.0, 0.0), (3.0, 0.0), (3.0, 3.0), (0.0, 3.0)].map(|(c, r)| layout.mirror(on_flap(face, c, r)));
        dark.push_str(&path(&corners));
    }
    out.open("path").attr("class", "body").attr("fill", INK).attr("stroke", INK).attr("stroke-width", 5);
    out.attr("stroke-linejoin", "round").attr("d", dark).empty();
    for face in FLAPS {
        let own = layout.unmirrored(face);
        let (place, start) = match face {
            Face::L => (on_flap(face, 0.0, 0.0), true),
            Face::B => (on_flap(face, 3.0, 0.0), false),
            _ => (on_flap(face, 3.0, 3.0), true),
        };
        let at = match face {
            Face::D => Point::new(place.x + 6.0, place.y - 2.0),
            _ => Point::new(place.x, place.y - 9.0),
        };
        let at = layout.mirror(at);
        let name = match own {
            Face::L => "left",
            Face::R => "right",
            Face::B => "back",
            _ => "down",
        };
        let seen = if layout.sight.contains(own) { ", in sight" } else { "" };
        out.open("text").attr("class", side).num("x", at.x).num("y", at.y);
        out.attr_if("text-anchor", (start == layout.mirrored).then_some("end"));
        out.text(format_args!("{name}{seen}")).close();
    }
}

/// A piece pointed at.
fn point_at(out: &mut Markup, layout: Held, ring: &Ring, second: bool, alone: bool) {
    let class = |own: &'static str, page: &'static str| if alone { own } else { page };
    out.open("g").attr("class", class("cw-mk", "mk"));
    let contour = layout.contour(ring.place);
    out.open("path").attr("d", &contour);
    if ring.sight == Some(LaneGrade::NotFound) {
        out.attr("stroke-dasharray", "2 12");
    }
    out.empty();
    let leader = layout.leader(ring.place, second);
    lead(out, &leader, class("cw-ld", "ld"));
    let full = matches!(ring.sight, None | Some(LaneGrade::Plain));
    dot(
        out,
        &leader,
        class(if full { "cw-dot cw-full" } else { "cw-dot" }, if full { "dot full" } else { "dot" }),
    );
    if ring.sight == Some(LaneGrade::Followed) {
        half(out, &leader, class("cw-full", "half"));
    }
    if alone {
        let kind = if ring.place.is_corner() { "corner" } else { "edge" };
        let to = ring.track.last().filter(|&&to| to != ring.place);
        let to = to.map_or_else(String::new, |to| format!(" › {to}"));
        out.open("text").attr("class", "cw-name").num("x", leader.text.x).num("y", leader.text.y);
        out.attr_if("text-anchor", leader.before.then_some("end"));
        out.text(format_args!("{kind} {}{to}", ring.place)).close();
    }
    out.close();
}

fn lead(out: &mut Markup, leader: &Leader, class: &str) {
    let mut d = String::new();
    for (n, point) in leader.gap.iter().chain([&leader.dot]).enumerate() {
        d.push(if n == 0 { 'M' } else { 'L' });
        d.push_str(&at(*point));
    }
    out.open("path").attr("class", class).attr("d", d).empty();
}

fn dot(out: &mut Markup, leader: &Leader, class: &str) {
    out.open("circle").attr("class", class).num("cx", leader.dot.x).num("cy", leader.dot.y);
    out.attr("r", 7).empty();
}

fn half(out: &mut Markup, leader: &Leader, class: &str) {
    let (x, y) = (leader.dot.x, leader.dot.y);
    out.open("path").attr("class", class).attr("stroke", "none");
    out.attr("d", format_args!("M{} {}a7 7 0 0 0 0 14Z", Number(x), Number(y - 7.0))).empty();
}

/// For a script: see [`super::stage`].
pub(super) fn stage(sight: FaceSet) -> Fragment {
    let layout = Held::new(sight);
    let mut out = Markup::new();
    out.open("svg").attr("class", "cube held").attr("viewBox", sheet()).attr("aria-hidden", "true");
    body(&mut out, layout, false);
    out.open("g").attr("class", "stickers");
    for (face, index, n) in cells() {
        out.open("path").attr("class", if layout.large(face) { "st" } else { "st away" }).attr("data-n", n);
        out.attr("fill", BLANK).attr("d", path(&small(layout, face, index))).empty();
    }
    out.close();
    out.open("g").attr("class", "signs");
    for (face, index, n) in cells() {
        let at = middle(&layout.cell(face, index));
        out.open("text").attr("class", if layout.large(face) { "sg" } else { "sg away" });
        out.attr("data-sign", n)
            .num("x", at.x)
            .num("y", at.y + if layout.large(face) { 12.0 } else { 8.0 })
            .close();
    }
    out.close();
    out.open("g").attr("class", "spin").close();
    for place in plan::places() {
        out.open("g").attr("class", "mk").attr("data-place", place);
        out.open("path").attr("class", "rim").attr("d", layout.contour(place)).empty();
        for second in [false, true] {
            let leader = layout.leader(place, second);
            if second && leader.dot == layout.leader(place, false).dot {
                continue;
            }
            out.open("g").attr("class", if second { "way second" } else { "way" });
            lead(&mut out, &leader, "ld");
            dot(&mut out, &leader, "dot");
            half(&mut out, &leader, "half");
            out.open("text").attr("class", "lb").num("x", leader.text.x).num("y", leader.text.y);
            out.attr_if("text-anchor", leader.before.then_some("end"));
            out.text(if place.is_corner() { "corner" } else { "edge" }).text(" ");
            out.open("tspan").text(place).close().close().close();
        }
        out.close();
    }
    out.close();
    out.finish()
}

//! The plan: where on paper each sticker and each place of the cube lies.
//!
//! The look is made for one question, where the next corner hides. The layer that is up lies flat in the middle,
//! as in every diagram of a last layer; the four sides are folded out around it and meet along the slanting
//! lines, and the layer below runs round the outside as a band. So every corner and every edge is *one* connected
//! spot on paper (a map without cuts but for the middle of the lowest face), can be ringed with one line, and
//! has a track to any other. Sides in sight are deep; hidden ones are shallow, so that the eye first sees what
//! the solver sees, and still finds where a hidden piece sits.

use crate::cube::{Face, FaceSet, Place, Stickers};

/// A point, in units of the picture, on a grid of hundredths so that equal points are equal.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Point {
    /// To the right.
    pub x: f64,
    /// Downwards.
    pub y: f64,
}

impl Point {
    /// The grid point nearest to this.
    #[must_use]
    pub fn new(x: f64, y: f64) -> Point {
        Point { x: (x * 100.0).round() / 100.0, y: (y * 100.0).round() / 100.0 }
    }

    /// The point `part` of the way to `other`.
    #[must_use]
    pub fn towards(self, other: Point, part: f64) -> Point {
        Point::new(self.x + (other.x - self.x) * part, self.y + (other.y - self.y) * part)
    }

    /// The distance, in units of the picture.
    #[must_use]
    pub fn distance(self, other: Point) -> f64 {
        libm::hypot(self.x - other.x, self.y - other.y)
    }
}

/// The four sides as they lie round the middle: below, right, above, left on paper.
const SIDES: [Face; 4] = [Face::F, Face::R, Face::B, Face::L];

const UP: f64 = 114.0;
/// How far a side in sight goes down on paper, beside a hidden one.
const DEEP: f64 = 92.0;
/// The same of a hidden side where nothing else decides.
const SHALLOW: f64 = 70.0;
/// How far the corner between two sides in sight lies out. Less than [`DEEP`], so that the sides fall away from
/// the layer that is up as those of a cube do; with more, one seems to look into a box.
const NEAR: f64 = 50.0;
/// How far the corner between two hidden sides lies out: more than [`SHALLOW`], for the places nobody sees.
const FAR: f64 = 84.0;
/// How far out the rim lies where a side in sight meets a hidden one.
const TUCK: f64 = 19.0;
/// How far the cube is turned in the hands, in degrees, when one of the sides at right and left is in sight.
const TILT: f64 = 22.0;
const FORESHORTENED: f64 = 0.88;
/// Where the rows of a side end, from the layer that is up to the rim.
const ROWS: [f64; 4] = [0.0, 0.36, 0.69, 1.0];
const BAND: f64 = 22.0;
const WIDE_BAND: f64 = 28.0;
const MARGIN: f64 = 4.0;

/// The plan for one set of faces in sight.
#[derive(Debug, Clone)]
pub struct Plan {
    sight: FaceSet,
    /// Corners of the face in the middle: front left, front right, back right, back left.
    inner: [Point; 4],
    /// The same of the four sides' lower rims.
    rim: [Point; 4],
    /// The same of the outside of the band.
    outer: [Point; 4],
    size: Point,
}

impl Plan {
    /// The plan in which these faces are large.
    #[must_use]
    pub fn new(sight: FaceSet) -> Plan {
        let deep = SIDES.map(|side| sight.contains(side));
        let band = if sight.contains(Face::D) { WIDE_BAND } else { BAND };
        // How far the rim's corner between side `n - 1` and side `n` lies beyond the corner of the layer that is
        // up: away from the side before, away from the side after.
        let reach = |n: usize| {
            let (before, after) = ((n + 3) % 4, n);
            let tucked =
                |hidden: usize, other: usize| if deep[hidden] || deep[other] { SHALLOW } else { TUCK };
            match (deep[before], deep[after]) {
                (true, true) => (NEAR, NEAR),
                (false, false) => (FAR, FAR),
                (true, false) => (DEEP, tucked(after, (after + 1) % 4)),
                (false, true) => (tucked(before, (before + 3) % 4), DEEP),
            }
        };
        let at = |further: f64| {
            [0, 1, 2, 3].map(|n| {
                let (before, after) = reach(n);
                let (before, after) = (before + further, after + further);
                match n {
                    0 => Point::new(-before, UP + after),
                    1 => Point::new(UP + after, UP + before),
                    2 => Point::new(UP + before, -after),
                    _ => Point::new(-after, -before),
                }
            })
        };
        let degrees = match (sight.contains(Face::R), sight.contains(Face::L)) {
            (true, false) => TILT,
            (false, true) => -TILT,
            _ => 0.0,
        };
        let outer = at(band).map(|p| tilted(p, degrees));
        let left = outer.iter().map(|p| p.x).fold(f64::INFINITY, f64::min);
        let top = outer.iter().map(|p| p.y).fold(f64::INFINITY, f64::min);
        let (x, y) = (MARGIN - left, MARGIN - top);
        let moved =
            |points: [Point; 4]| points.map(|p| tilted(p, degrees)).map(|p| Point::new(p.x + x, p.y + y));
        let outer = moved(at(band));
        let right = outer.iter().map(|p| p.x).fold(0.0, f64::max);
        let bottom = outer.iter().map(|p| p.y).fold(0.0, f64::max);
        Plan {
            sight,
            inner: moved([
                Point::new(0.0, UP),
                Point::new(UP, UP),
                Point::new(UP, 0.0),
                Point::new(0.0, 0.0),
            ]),
            rim: moved(at(0.0)),
            outer,
            size: Point::new(right + MARGIN, bottom + MARGIN),
        }
    }

    /// Width and height of the picture.
    #[must_use]
    pub fn size(&self) -> Point {
        self.size
    }

    /// Whether the solver sees this face.
    #[must_use]
    pub fn in_sight(&self, face: Face) -> bool {
        self.sight.contains(face)
    }

    /// The outline of a sticker, clockwise: the `index`-th (0 to 8) of `face`, row by row as seen from outside,
    /// as in [`Moment::stickers`](crate::annotation::Moment::stickers). `None` for the middle of the lowest face,
    /// which is not drawn.
    ///
    /// # Panics
    ///
    /// If `index` is more than 8.
    #[must_use]
    pub fn sticker(&self, face: Face, index: usize) -> Option<Vec<Point>> {
        assert!(index < 9, "a face has nine stickers");
        let (row, column) = (index / 3, index % 3);
        match face {
            Face::U => {
                let [front_left, front_right, back_right, back_left] = self.inner;
                let at = |row: usize, column: usize| {
                    let left = back_left.towards(front_left, row as f64 / 3.0);
                    let right = back_right.towards(front_right, row as f64 / 3.0);
                    left.towards(right, column as f64 / 3.0)
                };
                Some(quad(at, row, column))
            }
            // Seen from below with the front at the top: its rows run from front to back.
            Face::D => self.band_cell(match index {
                0 => Cell::Corner(0),
                1 => Cell::Middle(0),
                2 => Cell::Corner(1),
                3 => Cell::Middle(3),
                5 => Cell::Middle(1),
                6 => Cell::Corner(3),
                7 => Cell::Middle(2),
                8 => Cell::Corner(2),
                _ => return None,
            }),
            side => {
                let n = SIDES.iter().position(|&s| s == side)?;
                Some(quad(|row, column| self.side_point(n, row, column), row, column))
            }
        }
    }

    /// The point of the `n`-th side at these fractions of three: `down` from the layer that is up, `along` from
    /// left to right as seen from outside.
    fn side_point(&self, n: usize, down: usize, along: usize) -> Point {
        let from = self.inner[n].towards(self.inner[(n + 1) % 4], along as f64 / 3.0);
        let to = self.rim[n].towards(self.rim[(n + 1) % 4], along as f64 / 3.0);
        from.towards(to, ROWS[down])
    }

    fn band_cell(&self, cell: Cell) -> Option<Vec<Point>> {
        let rim = |n: usize, along: usize| self.side_point(n % 4, 3, along);
        // On the outside the cuts lie opposite those of the rim.
        let outer = |n: usize, along: usize| {
            let (n, next) = (n % 4, (n + 1) % 4);
            match along {
                0 => self.outer[n],
                3 => self.outer[next],
                _ => self.outer[n].towards(self.outer[next], along as f64 / 3.0),
            }
        };
        Some(match cell {
            Cell::Middle(n) => vec![rim(n, 1), rim(n, 2), outer(n, 2), outer(n, 1)],
            Cell::Corner(n) => {
                let before = n + 3;
                vec![rim(before, 2), rim(n, 0), rim(n, 1), outer(n, 1), outer(n, 0), outer(before, 2)]
            }
        })
    }

    /// The outline round all stickers of a place.
    #[must_use]
    pub fn outline(&self, place: Place) -> Vec<Point> {
        let cells: Vec<_> =
            stickers_of(place).into_iter().filter_map(|(face, index)| self.sticker(face, index)).collect();
        outlines(&cells).into_iter().next().unwrap_or_default()
    }

    /// The outlines round the faces in sight, one for each group of faces that touch.
    #[must_use]
    pub fn outline_in_sight(&self) -> Vec<Vec<Point>> {
        let cells: Vec<_> = Stickers::ORDER
            .into_iter()
            .filter(|&face| self.in_sight(face))
            .flat_map(|face| (0..9).map(move |index| (face, index)))
            .filter_map(|(face, index)| self.sticker(face, index))
            .collect();
        outlines(&cells)
    }

    /// The outline round everything.
    #[must_use]
    pub fn outline_all(&self) -> [Point; 4] {
        self.outer
    }

    /// The spot that stands for a place, where its stickers meet: tracks run from spot to spot.
    #[must_use]
    pub fn spot(&self, place: Place) -> Option<Point> {
        let place = place.faces();
        let n = |face| SIDES.iter().position(|&side| side == face);
        let sides: Vec<usize> = place.iter().filter_map(|&face| n(face)).collect();
        let up = place.contains(&Face::U);
        let down = place.contains(&Face::D);
        let corners = if up { &self.inner } else { &self.rim };
        match sides[..] {
            [side] if up || down => Some(corners[side].towards(corners[(side + 1) % 4], 0.5)),
            [a, b] => {
                // The corner between two sides is the first of the one that comes after the other.
                let second = if (a + 1) % 4 == b { b } else { a };
                match (up, down) {
                    (false, false) => Some(self.inner[second].towards(self.rim[second], 0.5)),
                    _ => Some(corners[second]),
                }
            }
            _ => None,
        }
    }
}

/// The cube as hands hold it: turned a little towards the side in sight and foreshortened. Affine, so what met
/// still meets.
fn tilted(p: Point, degrees: f64) -> Point {
    let (sin, cos) = libm::sincos(degrees.to_radians());
    Point::new(p.x * cos - p.y * sin, (p.x * sin + p.y * cos) * FORESHORTENED)
}

#[derive(Clone, Copy)]
enum Cell {
    /// The band's corner before side `n`.
    Corner(usize),
    /// The middle of the band along side `n`.
    Middle(usize),
}

/// The stickers of a place, as face and index.
#[must_use]
pub fn stickers_of(place: Place) -> Vec<(Face, usize)> {
    let faces = place.faces();
    let touched = FaceSet::of(faces);
    faces.iter().map(|&face| (face, Stickers::nth(face, touched))).collect()
}

/// All eight corners' and twelve edges' places.
#[must_use]
pub fn places() -> Vec<Place> {
    let mut places = Vec::new();
    for n in 0..4 {
        let (a, b) = (SIDES[n], SIDES[(n + 1) % 4]);
        places.push(vec![a, b]);
        for end in [Face::U, Face::D] {
            places.push(vec![end, a]);
            places.push(vec![end, a, b]);
        }
    }
    places.iter().filter_map(|faces| Place::at(FaceSet::of(faces))).collect()
}

fn quad(at: impl Fn(usize, usize) -> Point, row: usize, column: usize) -> Vec<Point> {
    vec![at(row, column), at(row, column + 1), at(row + 1, column + 1), at(row + 1, column)]
}

/// The outlines of cells that share whole sides: the sides that no neighbour has the other way round, in order.
pub(super) fn outlines(cells: &[Vec<Point>]) -> Vec<Vec<Point>> {
    let sides = |cell: &[Point]| -> Vec<(Point, Point)> {
        (0..cell.len()).map(|i| (cell[i], cell[(i + 1) % cell.len()])).collect()
    };
    let all: Vec<(Point, Point)> = cells
        .iter()
        .flat_map(|cell| {
            let area: f64 = sides(cell).iter().map(|(a, b)| a.x * b.y - b.x * a.y).sum();
            let mut cell = cell.clone();
            if area < 0.0 {
                cell.reverse();
            }
            sides(&cell)
        })
        .collect();
    let mut rim: Vec<_> = all.iter().filter(|&&(a, b)| !all.contains(&(b, a))).copied().collect();
    let mut outlines = Vec::new();
    while let Some((first, mut at)) = rim.pop() {
        let mut outline = vec![first];
        while at != first {
            outline.push(at);
            let Some(next) = rim.iter().position(|&(a, _)| a == at) else { break };
            at = rim.swap_remove(next).1;
        }
        outlines.push(outline);
    }
    outlines
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Whatever is in sight.
    fn plans() -> impl Iterator<Item = Plan> {
        (0..64).map(|bits| {
            let in_sight = Stickers::ORDER.into_iter().enumerate().filter(|(i, _)| bits >> i & 1 == 1);
            Plan::new(in_sight.map(|(_, face)| face).collect())
        })
    }

    #[test]
    fn every_sticker_belongs_to_one_place_or_is_a_centre() {
        let mut seen: Vec<_> = places().into_iter().flat_map(stickers_of).collect();
        seen.sort_unstable();
        seen.dedup();
        assert_eq!(seen.len(), 8 * 3 + 12 * 2);
        assert!(seen.iter().all(|&(_, index)| index != 4));
    }

    #[test]
    fn every_place_is_one_connected_spot_with_its_mark_on_it() {
        for plan in plans() {
            for place in places() {
                let outline = plan.outline(place);
                assert!(outline.len() >= 4, "{place:?} has no outline");
                let spot = plan.spot(place).expect("a spot");
                let stickers = stickers_of(place);
                for (face, index) in stickers {
                    let cell = plan.sticker(face, index).expect("drawn");
                    let on = (0..cell.len()).any(|i| {
                        let (a, b) = (cell[i], cell[(i + 1) % cell.len()]);
                        (a.distance(spot) + spot.distance(b) - a.distance(b)).abs() < 0.1
                    });
                    assert!(on, "the spot of {place:?} does not touch its sticker on {face}");
                }
            }
        }
    }

    /// The widest disc in a cell, found on a grid, so at most a little too small.
    fn room(cell: &[Point]) -> f64 {
        let sides = || (0..cell.len()).map(|i| (cell[i], cell[(i + 1) % cell.len()]));
        let to_side = |p: Point, (a, b): (Point, Point)| {
            let length = a.distance(b);
            let along = ((p.x - a.x) * (b.x - a.x) + (p.y - a.y) * (b.y - a.y)) / (length * length);
            p.distance(a.towards(b, along.clamp(0.0, 1.0)))
        };
        let inside = |p: Point| {
            let crossed = sides().filter(|(a, b)| {
                (a.y > p.y) != (b.y > p.y) && p.x < (b.x - a.x) * (p.y - a.y) / (b.y - a.y) + a.x
            });
            crossed.count() % 2 == 1
        };
        let span = |of: fn(&Point) -> f64| {
            let (least, most) =
                cell.iter().map(of).fold((f64::MAX, f64::MIN), |(a, b), v| (a.min(v), b.max(v)));
            (1..24).map(move |n| least + (most - least) * f64::from(n) / 24.0)
        };
        let points = span(|p| p.x).flat_map(|x| span(|p| p.y).map(move |y| Point::new(x, y)));
        let radius = |p: Point| sides().map(|side| to_side(p, side)).fold(f64::MAX, f64::min);
        2.0 * points.filter(|&p| inside(p)).map(radius).fold(0.0, f64::max)
    }

    #[test]
    fn no_sticker_is_a_sliver_whatever_is_in_sight() {
        for plan in plans() {
            for (face, index) in Stickers::ORDER.into_iter().flat_map(|face| (0..9).map(move |i| (face, i))) {
                let Some(cell) = plan.sticker(face, index) else { continue };
                assert!(room(&cell) > 11.0, "{face} {index} of {plan:?}: {}", room(&cell));
            }
        }
    }

    #[test]
    fn cells_cover_the_plan_without_holes() {
        let plan = Plan::new(FaceSet::of(&[Face::U, Face::F, Face::R]));
        let area = |cell: &[Point]| -> f64 {
            (0..cell.len())
                .map(|i| (cell[i], cell[(i + 1) % cell.len()]))
                .map(|(a, b)| (a.x * b.y - b.x * a.y) / 2.0)
                .sum::<f64>()
                .abs()
        };
        let cells: f64 = Stickers::ORDER
            .into_iter()
            .flat_map(|face| (0..9).map(move |i| (face, i)))
            .filter_map(|(face, i)| plan.sticker(face, i))
            .map(|cell| area(&cell))
            .sum();
        let whole = area(&plan.outline_all());
        assert!((cells - whole).abs() < 1.0, "{cells} of {whole}");
    }
}

//! Pictures of the cube against the stickers in space: where every sticker lies on paper, worked out here anew from what
//! the picture promises (isometry; the hidden sides swung out about the edge they share), and its colour there.

use cornerwise::cube::{Amount, Colour, Face, FaceSet, Move, Place, Position, Stickers};
use cornerwise::report::picture::{self, Picture, Signs, Style, View};

use crate::support::random::Random;
use crate::support::space::{Space, Vector, cubies, direction};

type Point = [f64; 2];

/// Where a point in space lies on paper, in isometry.
fn isometry([x, y, z]: [f64; 3]) -> Point {
    let cos = libm::cos(30_f64.to_radians());
    [(x - z) * cos * 100.0, (-y + (x + z) / 2.0) * 100.0]
}

/// Where the middle of a sticker lies on paper; `mirrored` where the left side is large.
fn on_paper(cubie: Vector, normal: Vector, mirrored: bool) -> Point {
    let mut middle = [0, 1, 2].map(|k| f64::from(cubie[k]) + f64::from(normal[k]) / 2.0);
    let mut normal = normal;
    if mirrored {
        middle[0] = -middle[0];
        normal[0] = -normal[0];
    }
    let [x, y, z] = middle;
    // A hidden side: swung about its edge, made smaller about the edge's middle, moved away along the plane it lies in.
    let hung = match normal {
        [-1, 0, 0] => Some(([-3.0 + z, y, 1.5], [-1.5, 0.0, 1.5], [-0.4, 0.0, 0.0])),
        [0, 0, -1] => Some(([1.5, y, -3.0 + x], [1.5, 0.0, -1.5], [0.0, 0.0, -0.4])),
        [0, -1, 0] => Some(([x, -3.0 + z, 1.5], [0.0, -1.5, 1.5], [0.0, -0.4, 0.0])),
        _ => None,
    };
    let at = match hung {
        None => isometry(middle),
        Some((swung, hinge, away)) => {
            let (p, h, a) = (isometry(swung), isometry(hinge), isometry(away));
            [0, 1].map(|k| h[k] + a[k] + 0.54 * (p[k] - h[k]))
        }
    };
    if mirrored { [-at[0], at[1]] } else { at }
}

/// The polygons of a path of straight lines.
fn polygons(d: &str) -> Vec<Vec<Point>> {
    let shape = |part: &str| {
        let points = part.trim_end_matches('Z').split('L');
        points
            .map(|point| {
                let mut numbers = point.split(' ').map(|n| n.parse::<f64>().expect("a number"));
                [numbers.next().expect("x"), numbers.next().expect("y")]
            })
            .collect()
    };
    d.split('M').filter(|part| !part.is_empty()).map(shape).collect()
}

fn inside(polygon: &[Point], [x, y]: Point) -> bool {
    let n = polygon.len();
    let crossings = (0..n).filter(|&i| {
        let ([ax, ay], [bx, by]) = (polygon[i], polygon[(i + 1) % n]);
        (ay > y) != (by > y) && x < (bx - ax) * (y - ay) / (by - ay) + ax
    });
    crossings.count() % 2 == 1
}

/// Face, index, cubie and direction of all stickers.
fn all() -> impl Iterator<Item = (usize, Vector, Vector)> {
    Stickers::ORDER.into_iter().enumerate().flat_map(|(f, face)| {
        cubies(face).into_iter().enumerate().map(move |(i, cubie)| (f * 9 + i, cubie, direction(face)))
    })
}

fn sights() -> [(FaceSet, bool); 3] {
    [
        (FaceSet::of(&[Face::U, Face::F, Face::R]), false),
        (FaceSet::of(&[Face::U, Face::F, Face::L]), true),
        (FaceSet::of(&[Face::U, Face::F, Face::R, Face::L]), false),
    ]
}

#[test]
fn every_sticker_has_its_colour_where_it_lies_in_space() {
    let mut random = Random::new(15);
    for round in 0..30 {
        let turns = (0..round).map(|_| Move::Turn(Face::ALL[random.below(6)], random.pick(&Amount::ALL)));
        let turns: Vec<Move> = turns.collect();
        let space = Space::played(&turns);
        let stickers = Stickers::of(&Position::SOLVED.after(turns.iter().copied()));
        for (sight, mirrored) in sights() {
            let style = Style { signs: Signs::None, view: View::Held, blank: false };
            let drawn: String = picture::svg(&Picture {
                stickers,
                sight,
                title: "t".into(),
                description: "d".into(),
                rings: Vec::new(),
                style,
            })
            .into();
            let read = roxmltree::Document::parse(&drawn).expect("well-formed");
            let paints = Colour::ALL.map(|colour| (picture::paint(colour).0, colour));
            let painted: Vec<(Colour, Vec<Vec<Point>>)> = read
                .descendants()
                .filter_map(|node| {
                    let (_, colour) =
                        paints.iter().find(|(paint, _)| node.attribute("fill") == Some(paint))?;
                    Some((*colour, polygons(node.attribute("d")?)))
                })
                .collect();
            assert_eq!(painted.iter().map(|(_, shapes)| shapes.len()).sum::<usize>(), 54);
            for sticker in &space.stickers {
                let at = on_paper(sticker.position, sticker.normal, mirrored);
                let here: Vec<Colour> = painted
                    .iter()
                    .flat_map(|(colour, shapes)| shapes.iter().map(move |shape| (*colour, shape)))
                    .filter(|(_, shape)| inside(shape, at))
                    .map(|(colour, _)| colour)
                    .collect();
                assert_eq!(here, [sticker.colour], "{:?} facing {:?}", sticker.position, sticker.normal);
            }
        }
    }
}

#[test]
fn every_pointer_is_round_its_piece_and_covers_no_sticker() {
    for (sight, mirrored) in sights() {
        let drawn: String = picture::stage(sight, View::Held).into();
        let read = roxmltree::Document::parse(&drawn).expect("well-formed");
        let stickers: Vec<(usize, Vector, Point)> =
            all().map(|(n, cubie, normal)| (n, cubie, on_paper(cubie, normal, mirrored))).collect();
        for (n, _, at) in &stickers {
            let path = read.descendants().find(|node| node.attribute("data-n") == Some(&n.to_string()));
            let shapes = polygons(path.and_then(|path| path.attribute("d")).expect("drawn"));
            assert!(shapes.len() == 1 && inside(&shapes[0], *at), "sticker {n}");
        }
        let groups: Vec<_> = read.descendants().filter(|node| node.has_attribute("data-place")).collect();
        assert_eq!(groups.len(), 20);
        for group in groups {
            let name = group.attribute("data-place").expect("a place");
            let place: Place = name.parse().expect("a place");
            let cubie = place
                .faces()
                .iter()
                .map(|&face| direction(face))
                .fold([0; 3], |a, b| [a[0] + b[0], a[1] + b[1], a[2] + b[2]]);
            let path = |class: &str| {
                group
                    .descendants()
                    .filter(|node| node.attribute("class") == Some(class))
                    .filter_map(|node| node.attribute("d"))
                    .map(polygons)
                    .collect::<Vec<_>>()
            };
            let rim = path("rim").concat();
            for (n, own, at) in &stickers {
                let round = rim.iter().any(|shape| inside(shape, *at));
                assert_eq!(round, *own == cubie, "{name} and sticker {n}");
            }
            // The leader runs in the gaps: it comes nowhere near the middle of a sticker.
            let leaders = path("ld").concat();
            assert!(!leaders.is_empty());
            for leader in leaders {
                for pair in leader.windows(2) {
                    for part in 0..=50 {
                        let t = f64::from(part) / 50.0;
                        let at = [0, 1].map(|k| pair[0][k] + (pair[1][k] - pair[0][k]) * t);
                        for (n, _, middle) in &stickers {
                            let far = libm::hypot(at[0] - middle[0], at[1] - middle[1]);
                            assert!(far > 18.0, "{name} covers sticker {n}: {far:.0}");
                        }
                    }
                }
            }
        }
    }
}

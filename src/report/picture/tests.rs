//! What a picture has to hold to: a document of its own, six colours that nobody confuses, room for a finger.

use super::*;
use crate::cube::{Amount, Face, Move, Position};

fn place(name: &str) -> Place {
    name.parse().expect("a place")
}

fn example(style: Style) -> String {
    let turns = [Move::Turn(Face::R, Amount::Quarter), Move::Turn(Face::U, Amount::Quarter)];
    let stickers = Stickers::of(&Position::SOLVED.after(turns.into_iter().cycle().take(9)));
    let ring = |at: &str, track: &[&str]| Ring {
        place: place(at),
        track: track.iter().map(|name| place(name)).collect(),
        sight: Some(LaneGrade::Followed),
    };
    svg(&Picture {
        stickers,
        sight: FaceSet::of(&[Face::U, Face::F, Face::R]),
        title: "after <nine> turns".into(),
        description: "corner at UFR & edge".into(),
        rings: vec![ring("UBL", &["UFL", "UFR"]), ring("BL", &["UB"])],
        style,
    })
    .into()
}

#[test]
fn it_is_a_document_of_its_own() {
    for view in [View::Held, View::Folded] {
        for signs in [Signs::None, Signs::Letters, Signs::Shapes] {
            let drawn = example(Style { signs, view, blank: false });
            let read = roxmltree::Document::parse(&drawn).expect("well-formed");
            let root = read.root_element();
            assert_eq!(root.tag_name().namespace(), Some("http://www.w3.org/2000/svg"));
            assert_eq!(root.attribute("role"), Some("img"));
            for name in ["width", "height"] {
                let size: f64 = root.attribute(name).and_then(|n| n.parse().ok()).expect(name);
                assert!(size > 100.0, "{name} {size}");
            }
            let text = |name| root.children().find(|n| n.has_tag_name(name)).and_then(|n| n.text());
            assert_eq!(text("title"), Some("after <nine> turns"));
            assert_eq!(text("desc"), Some("corner at UFR & edge"));
            let most = if signs == Signs::None { 12_000 } else { 20_000 };
            assert!(drawn.len() < most, "{} bytes", drawn.len());
        }
    }
}

/// A colour's red, green and blue as light (IEC 61966-2-1, the sRGB transfer function).
fn light(paint: &str) -> [f64; 3] {
    [1, 3, 5].map(|at| {
        let part = f64::from(u8::from_str_radix(&paint[at..at + 2], 16).expect("hexadecimal")) / 255.0;
        if part <= 0.040_45 { part / 12.92 } else { libm::pow((part + 0.055) / 1.055, 2.4) }
    })
}

fn times(matrix: [[f64; 3]; 3], v: [f64; 3]) -> [f64; 3] {
    matrix.map(|row| row.iter().zip(v).map(|(a, b)| a * b).sum())
}

/// CIE 1976 L*a*b* under D65.
fn lab(light: [f64; 3]) -> [f64; 3] {
    let to_xyz = [[0.4124, 0.3576, 0.1805], [0.2126, 0.7152, 0.0722], [0.0193, 0.1192, 0.9505]];
    let [x, y, z] = times(to_xyz, light.map(|part| part.clamp(0.0, 1.0)));
    let f = |t: f64| if t > 0.008_856 { t.cbrt() } else { 7.787 * t + 16.0 / 116.0 };
    let [x, y, z] = [f(x / 0.950_47), f(y), f(z / 1.088_83)];
    [116.0 * y - 16.0, 500.0 * (x - y), 200.0 * (y - z)]
}

/// How a person without one kind of cone sees it: G. M. Machado, M. M. Oliveira and L. A. F. Fernandes, "A
/// Physiologically-based Model for Simulation of Color Vision Deficiency" (2009), severity 1.0; matrices from memory.
const BLIND: [(&str, [[f64; 3]; 3]); 3] = [
    (
        "protanopia",
        [
            [0.152_286, 1.052_583, -0.204_868],
            [0.114_503, 0.786_281, 0.099_216],
            [-0.003_882, -0.048_116, 1.051_998],
        ],
    ),
    (
        "deuteranopia",
        [
            [0.367_322, 0.860_646, -0.227_968],
            [0.280_085, 0.672_501, 0.047_413],
            [-0.011_820, 0.042_940, 0.968_881],
        ],
    ),
    (
        "tritanopia",
        [
            [1.255_528, -0.076_749, -0.178_779],
            [-0.078_411, 0.930_809, 0.147_602],
            [0.004_733, 0.691_367, 0.303_900],
        ],
    ),
];

#[test]
fn no_two_colours_are_alike_for_anybody_nor_in_grey() {
    let paints = Colour::ALL.map(|colour| light(paint(colour).0));
    for (name, matrix) in BLIND {
        // Each matrix leaves white and grey as they are.
        assert!(matrix.iter().all(|row| (row.iter().sum::<f64>() - 1.0).abs() < 1e-5), "{name}");
        let seen = paints.map(|paint| lab(times(matrix, paint)));
        for (i, a) in seen.iter().enumerate() {
            for (j, b) in seen.iter().enumerate().skip(i + 1) {
                let apart = a.iter().zip(b).map(|(a, b)| (a - b).powi(2)).sum::<f64>().sqrt();
                // A difference of 2 or 3 is just seen (CIE 1976); 20 is another colour.
                assert!(
                    apart > 20.0,
                    "{name}: {} and {} are {apart:.1} apart",
                    Colour::ALL[i],
                    Colour::ALL[j]
                );
            }
        }
    }
    let mut grey = paints.map(|paint| lab(paint)[0]);
    grey.sort_by(f64::total_cmp);
    assert!(grey.windows(2).all(|pair| pair[1] - pair[0] > 8.0), "{grey:.0?}");
}

#[test]
fn what_is_written_on_a_sticker_can_be_read() {
    // WCAG 2.2, success criterion 1.4.3: relative luminance, and a contrast of 4.5 to 1.
    let luminance =
        |paint: &str| light(paint).iter().zip([0.2126, 0.7152, 0.0722]).map(|(a, b)| a * b).sum::<f64>();
    for colour in Colour::ALL {
        let (fill, ink) = paint(colour);
        let (a, b) = (luminance(fill), luminance(ink));
        let contrast = (a.max(b) + 0.05) / (a.min(b) + 0.05);
        assert!(contrast >= 4.5, "{colour}: {contrast:.2}");
    }
}

#[test]
fn every_place_has_room_for_a_finger_at_the_size_pages_show() {
    // On the smallest screens the sheet is 340 pixels wide.
    let scale = 340.0 / held::SHEET[2];
    for sight in [&[Face::U, Face::F, Face::R][..], &[Face::U, Face::F, Face::L]] {
        let layout = held::Held::new(FaceSet::of(sight));
        for place in plan::places() {
            let widest = plan::stickers_of(place)
                .into_iter()
                .map(|(face, index)| {
                    let cell = layout.cell(face, index);
                    let span = |pick: fn(&Point) -> f64| {
                        let all: Vec<f64> = cell.iter().map(pick).collect();
                        all.iter().copied().fold(f64::MIN, f64::max)
                            - all.iter().copied().fold(f64::MAX, f64::min)
                    };
                    span(|p| p.x).min(span(|p| p.y)) * scale
                })
                .fold(0.0, f64::max);
            assert!(widest >= 12.0, "{place}: {widest:.1} px");
        }
    }
}

//! Which pictures a solve has: from the facts of a step, an alternative or a moment to a [`Picture`].

use crate::annotation::{Alternative, Annotation, HoldNames, LaneGrade, Offer, Step, Watch};
use crate::cube::{Face, Move, Place, Stickers};
use crate::drill::Drill;

use super::picture::{Picture, Ring, Style};
use crate::harmless::one_line;
use unicode_width::UnicodeWidthChar;

/// The position at the start of a step, the next pair's pieces ringed and their tracks through the step drawn.
#[must_use]
pub fn step(annotation: &Annotation, step: &Step, style: Style) -> Picture {
    let rings = step
        .next()
        .flat_map(|next| [&next.corner, &next.edge])
        .map(|watch| Ring {
            place: watch.from,
            track: track(annotation, step, watch),
            sight: sight(annotation, step.from, watch.from),
        })
        .collect();
    let mut description = held(&step.hold);
    for next in step.next() {
        description.push_str(&format!(
            " The next pair is {}. Its corner {}. Its edge {}.",
            next.pair,
            journey(&next.corner),
            journey(&next.edge)
        ));
    }
    Picture {
        stickers: stickers(annotation, step.from),
        sight: annotation.sight,
        title: format!("before {}", step.name),
        description,
        rings,
        style,
    }
}

/// The position a step left as it was played, the next pair's pieces ringed.
#[must_use]
pub fn left(annotation: &Annotation, step: &Step, style: Style) -> Picture {
    let pieces = || step.next().flat_map(|next| [&next.corner, &next.edge]);
    let hold = annotation.moments.get(step.to).map_or(String::new(), |moment| held(&moment.hold));
    let places = step.next().map(|next| {
        format!(" The corner of {} is at {}, its edge at {}.", next.pair, next.corner.to, next.edge.to)
    });
    Picture {
        stickers: stickers(annotation, step.to),
        sight: annotation.sight,
        title: format!("after {} as played", step.name),
        description: hold + &places.collect::<String>(),
        rings: pieces()
            .map(|watch| Ring {
                place: watch.to,
                track: Vec::new(),
                sight: sight(annotation, step.to, watch.to),
            })
            .collect(),
        style,
    }
}

/// A position of a drill as it is held.
#[must_use]
pub fn drilled(drill: &Drill, style: Style) -> Picture {
    Picture {
        stickers: drill.stickers,
        sight: drill.sight,
        title: format!("position {}", drill.number),
        description: format!("{} up, {} in front.", drill.hold.up, drill.hold.front),
        rings: Vec::new(),
        // Its hidden sides are blank, as they are to the eyes.
        style: Style { blank: true, ..style },
    }
}

/// The position an alternative leaves, the pair it leaves ringed.
#[must_use]
pub fn alternative(annotation: &Annotation, alternative: &Alternative, style: Style) -> Picture {
    let next = alternative.next.as_ref();
    let ring = |place: Place| Ring { place, track: Vec::new(), sight: None };
    let places = next.map_or_else(String::new, |next| {
        format!(" The corner of {} is at {}, its edge at {}.", next.pair, next.corner, next.edge)
    });
    Picture {
        stickers: alternative.stickers,
        sight: annotation.sight,
        title: format!("after {}", alternative.text),
        description: held(&alternative.hold) + &places,
        rings: next.map_or_else(Vec::new, |next| vec![ring(next.corner), ring(next.edge)]),
        style,
    }
}

/// How the cube is held at a moment, in words.
#[must_use]
pub fn held_at(annotation: &Annotation, moment: usize) -> String {
    annotation.moments.get(moment).map_or_else(String::new, |moment| held(&moment.hold))
}

/// The position at a moment, the pieces of the pair that comes next ringed; `None` if there is no such moment.
#[must_use]
pub fn moment(annotation: &Annotation, moment: usize, style: Style) -> Option<Picture> {
    let here = annotation.moments.get(moment)?;
    let mut description = held(&here.hold);
    let mut rings = Vec::new();
    for (next, corner, edge) in next_pieces(annotation, moment) {
        description.push_str(&format!(" The corner of {} is at {corner}, its edge at {edge}.", next.pair));
        rings.extend([corner, edge].map(|place| Ring {
            place,
            track: Vec::new(),
            sight: sight(annotation, moment, place),
        }));
    }
    let title = match &here.token {
        None => "the scrambled cube".into(),
        Some(token) => format!("moment {moment}, after {token}"),
    };
    Some(Picture { stickers: here.stickers, sight: annotation.sight, title, description, rings, style })
}

/// The pairs that come next at a moment, with the places of corner and edge. At the border of two steps it is
/// the later one's.
fn next_pieces(annotation: &Annotation, moment: usize) -> Vec<(&Offer, Place, Place)> {
    let step = annotation.steps.iter().rev().find(|step| step.from <= moment && moment <= step.to);
    step.into_iter()
        .flat_map(Step::next)
        .filter_map(|next| {
            let lane = annotation.lanes.iter().find(|lane| lane.pair == next.pair)?;
            let cell = lane.cells.get(moment)?;
            Some((next, cell.corner.place, cell.edge.place))
        })
        .collect()
}

/// What the eyes have of the piece of an open pair that is at this place.
fn sight(annotation: &Annotation, moment: usize, place: Place) -> Option<LaneGrade> {
    let cells = annotation.lanes.iter().filter_map(|lane| lane.cells.get(moment));
    let mut spots = cells.flat_map(|cell| [&cell.corner, &cell.edge]);
    Some(spots.find(|spot| spot.place == place)?.sight)
}

/// Steps begin and end at moments of their solve.
fn stickers(annotation: &Annotation, moment: usize) -> Stickers {
    annotation.moments[moment].stickers
}

fn held(hold: &HoldNames) -> String {
    format!("Held {} up, {} in front.", hold.up, hold.front)
}

fn journey(watch: &Watch) -> String {
    let layer = if watch.up { "up" } else { "down" };
    if watch.from == watch.to && watch.way.is_empty() {
        format!("stays at {}, {layer}", watch.from)
    } else {
        format!("goes from {} to {}, {layer}", watch.from, watch.to)
    }
}

/// The places a piece passes, in the hold of the step's first moment.
///
/// A way names each place in the hold of its moment. Where a rotation in between has named everything anew, the
/// picture, which is drawn in one hold, follows the cube and not the names; wide turns and slices move pieces as
/// hands see them move, so names after those are taken as they are.
fn track(annotation: &Annotation, step: &Step, watch: &Watch) -> Vec<Place> {
    let mut at = step.from;
    // For each face of the hold at `at`, the face of the picture it lies at.
    let mut drawn: Vec<(Face, Face)> = Face::ALL.into_iter().map(|face| (face, face)).collect();
    let mut track = Vec::new();
    for (moment, place) in &watch.way {
        while at < *moment {
            at += 1;
            let rotated =
                annotation.moments.get(at).and_then(|here| here.token).is_some_and(Move::is_rotation);
            if let (true, Some(map)) = (rotated, rotation(annotation, at)) {
                let before = |face| drawn.iter().find(|(from, _)| *from == face).map_or(face, |(_, to)| *to);
                drawn = map.into_iter().map(|(now, then)| (now, before(then))).collect();
            }
        }
        let seen = |face| drawn.iter().find(|(from, _)| *from == face).map_or(face, |(_, to)| *to);
        let Some(place) = Place::at(place.faces().iter().map(|&face| seen(face)).collect()) else { continue };
        if *track.last().unwrap_or(&watch.from) != place {
            track.push(place);
        }
    }
    track
}

/// For each face of the hold after the token before `moment`, the face it was before.
fn rotation(annotation: &Annotation, moment: usize) -> Option<Vec<(Face, Face)>> {
    let hold = |moment: usize| annotation.moments.get(moment)?.hold.hold();
    let (now, then) = (hold(moment)?, hold(moment.checked_sub(1)?)?);
    Some(Face::ALL.into_iter().map(|face| (face, then.face(now.colour(face)))).collect())
}

/// A file name for the `n`-th picture of a solve that sorts in the order of the solve: `03-pair-1`.
#[must_use]
pub fn file_name(n: usize, what: &str) -> String {
    format!("{n:02}-{}", slug(what))
}

/// A file name, without its ending, for a moment, that sorts in the order of moments: `017-pair-2`.
#[must_use]
pub fn moment_name(annotation: &Annotation, moment: usize) -> String {
    let step = annotation.steps.iter().find(|step| step.from < moment && moment <= step.to);
    let what = step.map_or_else(|| "scrambled".into(), |step| step.name.to_string());
    // Wide enough for the most tokens a record may have.
    let width = if annotation.moments.len() > 1000 { 5 } else { 3 };
    format!("{moment:0width$}-{}", slug(&what))
}

/// Letters and digits of the text in whatever script, lower case, with a dash between words; at most 40 characters, never
/// empty. What a file system or a shell could take for something else is not among them.
#[must_use]
pub fn slug(text: &str) -> String {
    let mut out = String::new();
    let text = one_line(text);
    let letters = text.chars().flat_map(char::to_lowercase);
    for (n, c) in letters.filter(|&c| c != char::REPLACEMENT_CHARACTER).enumerate() {
        // Vowel signs and accents stand over or under the letter before them.
        let on_a_letter = !c.is_ascii() && c.width() == Some(0) && !out.is_empty() && !out.ends_with('-');
        if n >= 40 && !on_a_letter || out.len() + c.len_utf8() > 120 {
            break;
        }
        if c.is_alphanumeric() || on_a_letter {
            out.push(c);
        } else if !out.is_empty() && !out.ends_with('-') {
            out.push('-');
        }
    }
    let out = out.trim_end_matches('-');
    if out.is_empty() { "solve".into() } else { out.into() }
}

/// A file name, without its ending, for the `n`-th solve of a run: `03-quay-practice`.
#[must_use]
pub fn solve_name(n: usize, annotation: &Annotation) -> String {
    file_name(n, &annotation.heading())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::annotation::Moment;
    use crate::cube::Colour;
    use crate::report::sample;

    #[test]
    fn file_names_hold_nothing_a_file_system_minds() {
        assert_eq!(file_name(3, "Pair 1: <b>../../etc"), "03-pair-1-b-etc");
        assert_eq!(slug("\u{202e}\0///"), "solve");
        assert!(slug(&"x".repeat(10_000)).len() <= 40);
        // Accents without end on one letter are no name.
        assert!(slug(&format!("x{}", "\u{301}".repeat(10_000))).len() <= 120);
    }

    #[test]
    fn file_names_keep_every_script_and_stay_apart() {
        let titles =
            ["Утро на набережной", "पहला अभ्यास", "早朝の練習", "صباح على الرصيف", "Früh, am Kai", "quay 1"];
        let names = titles.map(slug);
        let wanted =
            ["утро-на-набережной", "पहला-अभ्यास", "早朝の練習", "صباح-على-الرصيف", "früh-am-kai", "quay-1"];
        assert_eq!(names, wanted);
    }

    #[test]
    fn tracks_follow_the_cube_through_a_rotation_and_not_the_names() {
        let mut annotation = sample::annotation(false);
        let hold = |front| HoldNames { up: Colour::White, front };
        let place = |name: &str| name.parse::<Place>().expect("a place");
        let stickers = annotation.moments[0].stickers;
        // `y` brings what was at the right to the front: UFR becomes UFL.
        let holds =
            [(None, hold(Colour::Green)), (Some("y"), hold(Colour::Red)), (Some("U"), hold(Colour::Red))];
        annotation.moments = holds
            .into_iter()
            .map(|(token, hold)| Moment {
                token: token.map(|token| token.parse().expect("a move")),
                written: None,
                stickers,
                hold,
                seconds: None,
                span: None,
            })
            .collect();
        let mut step = annotation.steps[1].clone();
        (step.from, step.to) = (0, 2);
        let watch = Watch {
            from: place("UFR"),
            to: place("UBL"),
            up: true,
            plain: None,
            deduced: None,
            known: None,
            oriented: None,
            way: vec![(2, place("UBL"))],
            before: None,
            kept_in_mind: false,
        };
        // In the hands: UFR, named UFL by `y`, goes by U to UBL; in the first hold that spot is UFL.
        assert_eq!(track(&annotation, &step, &watch), [place("UFL")]);
    }

    #[test]
    fn every_step_and_moment_has_a_picture() {
        let annotation = sample::annotation(true);
        for step in &annotation.steps {
            let picture = super::step(&annotation, step, Style::default());
            assert_eq!(picture.rings.len(), 2 * step.next().count());
        }
        assert_eq!(moment(&annotation, annotation.tokens, Style::default()).map(|p| p.rings.len()), Some(0));
        assert_eq!(moment(&annotation, annotation.tokens + 1, Style::default()), None);
    }
}

//! Drills: the published numbers of positions counted again by enumeration, positions drawn as often as they should be,
//! and every position held against what `annotate` and the model of stickers in space say of it.

use std::collections::BTreeMap;

use crate::support::space::Space;
use crate::support::{python, read, switch};
use cornerwise::annotate::{Settings, annotate};
use cornerwise::annotation::{Annotation, StepKind};
use cornerwise::cube::{
    Colour, ColourSet, Corner, CornerAt, CornerPlace, Edge, EdgePlace, Face, FaceSet, Hold, Moves, Pair,
    PairSet, Place, Slot,
};
use cornerwise::diagnostic::Source;
use cornerwise::drill::{Drill, Drills, Kind, Random, Wish, draw};
use cornerwise::judgement::DEFAULT_WITHIN;
use cornerwise::record::{self, DEFAULT_SIGHT};
use cornerwise::report::drills;
use cornerwise::scan::Tier;
use cornerwise::scramble::MOST_TURNS;
use cornerwise::sight::grades::Grade;
use cornerwise::story;
use cornerwise::study::Study;

/// Every way to put `pieces` different pieces into different places of `places`, each turned in one of `sides` ways:
/// calls `to` with the places and turns.
fn arrangements(pieces: usize, places: usize, sides: usize, to: &mut impl FnMut(&[(usize, usize)])) {
    fn go(
        so_far: &mut Vec<(usize, usize)>,
        [pieces, places, sides]: [usize; 3],
        to: &mut impl FnMut(&[(usize, usize)]),
    ) {
        if so_far.len() == pieces {
            to(so_far);
            return;
        }
        for place in 0..places {
            if so_far.iter().any(|&(taken, _)| taken == place) {
                continue;
            }
            for side in 0..sides {
                so_far.push((place, side));
                go(so_far, [pieces, places, sides], to);
                so_far.pop();
            }
        }
    }
    go(&mut Vec::new(), [pieces, places, sides], to);
}

/// Of `open` pairs: how many arrangements of one kind of piece there are for each set of pieces that are solved, and how
/// many of them have none in the layer opposite the cross. Places 0 to `open` are the slots, the other four that layer.
fn by_solved(open: usize, sides: usize) -> BTreeMap<usize, [u64; 2]> {
    let mut counts: BTreeMap<usize, [u64; 2]> = BTreeMap::new();
    arrangements(open, open + 4, sides, &mut |pieces| {
        let solved = pieces.iter().enumerate().filter(|&(i, &at)| at == (i, 0));
        let set: usize = solved.map(|(i, _)| 1 << i).sum();
        let entry = counts.entry(set).or_default();
        entry[0] += 1;
        entry[1] += u64::from(pieces.iter().all(|&(place, _)| place < open));
    });
    counts
}

/// All arrangements of both pieces of `open` pairs, and those in which none of the pairs is solved; then the same of
/// those without a corner up.
fn counted(open: usize) -> [u64; 4] {
    let (corners, edges) = (by_solved(open, 3), by_solved(open, 2));
    let mut sums = [0; 4];
    for (corner_set, [all, down]) in &corners {
        for (edge_set, [edges, _]) in &edges {
            let open_all = u64::from(corner_set & edge_set == 0);
            let more = [all * edges, all * edges * open_all, down * edges, down * edges * open_all];
            sums.iter_mut().zip(more).for_each(|(sum, more)| *sum += more);
        }
    }
    sums
}

/// From counting on paper, given with the task; derived again here by enumeration. They agree.
#[test]
fn positions_with_open_pairs_are_as_many_as_was_counted() {
    let all = [150, 32_400, 9_525_600, 3_657_830_400];
    let just = [149, 32_101, 9_428_849, 3_619_921_801];
    let none_up = [(5, 5.14), (15, 15.28), (35, 35.48), (70, 70.73)];
    for open in 1..=4 {
        let [every, exactly, down, exactly_down] = counted(open);
        assert_eq!([every, exactly], [all[open - 1], just[open - 1]]);
        let (one_in, one_in_exactly) = none_up[open - 1];
        assert_eq!(every, down * one_in, "{open} open pairs");
        let ratio = exactly as f64 / exactly_down as f64;
        assert!((ratio - one_in_exactly).abs() < 0.005, "{open} open pairs: 1 in {ratio}");
    }
    // The last layer beside them: corners and edges in any order and turned in any way that adds up, half of all.
    let mut layer = [0_u64; 2];
    arrangements(4, 4, 3, &mut |pieces| {
        layer[0] += u64::from(pieces.iter().map(|&(_, twist)| twist).sum::<usize>() % 3 == 0);
    });
    arrangements(4, 4, 2, &mut |pieces| {
        layer[1] += u64::from(pieces.iter().map(|&(_, flip)| flip).sum::<usize>() % 2 == 0);
    });
    assert_eq!(layer[0] * layer[1] / 2, 62_208);
}

/// In the hold of a scramble, yellow cross down.
#[test]
fn from_the_usual_sight_so_many_places_show_two_stickers() {
    let seen = |faces: &[Face]| faces.iter().filter(|&&face| DEFAULT_SIGHT.contains(face)).count();
    let corners = CornerPlace::ALL.into_iter().filter(|place| seen(&place.faces(Hold::START)) >= 2).count();
    let left: Vec<EdgePlace> =
        EdgePlace::ALL.into_iter().filter(|place| !place.faces(Hold::START).contains(&Face::D)).collect();
    let edges = left.iter().filter(|place| seen(&place.faces(Hold::START)) == 2).count();
    assert_eq!((corners, edges, left.len()), (4, 3, 8));
    // Corner and edge of a pair lie apart from each other, so both at once: 4/8 x 3/8.
    assert_eq!(16 * corners * edges, 3 * 8 * 8);
}

fn one(wish: Wish, number: usize) -> Drill {
    Drills::new(wish, 7).expect("it can be met").one(number).expect("it is met")
}

/// The record of a position, annotated; nothing at all is to be said of it.
#[track_caller]
fn annotated(drill: &Drill) -> Annotation {
    let text = drills::records(std::slice::from_ref(drill));
    let source = Source::new("drill", text.as_str());
    let reading = record::read(&source);
    let study = Study::new(&source, 1, &reading.records[0]);
    let annotated = annotate(&study, &Settings::default());
    assert_eq!(reading.diagnostics, Vec::new(), "{text}");
    assert_eq!(annotated.diagnostics, Vec::new(), "{text}");
    annotated.facts
}

#[track_caller]
fn named(drill: &Drill) -> Pair {
    drill.named.and_then(|name| name.of(drill.cross)).expect("a pair is asked about")
}

/// The tokens without the first so many, which are rotations.
fn without(moves: &Moves, n_rotations: usize) -> String {
    let text = moves.to_string();
    let tokens: Vec<&str> = text.split(' ').collect();
    assert!(tokens[..n_rotations].iter().all(|token| token.starts_with(['x', 'y', 'z'])), "{text}");
    tokens[n_rotations..].join(" ")
}

/// What `annotate` says of the first line that is given holds the property.
fn check(drill: &Drill, facts: &Annotation) {
    let steps: Vec<_> = facts.steps.iter().filter(|step| step.kind == StepKind::Pair).collect();
    let shown = |facts: &Annotation, moment: usize| facts.moments[moment].stickers;
    assert_eq!(shown(facts, drill.rotation.len()), drill.stickers);
    assert_eq!(facts.cross, Some(drill.cross));
    // A rotation that begins the line counts to the inspection, and the cube is held otherwise after it: then the same
    // places have other names. So the centres round them are compared.
    let begins = drill.rotation.len();
    let cross_ends = match facts.steps.iter().find(|step| step.kind == StepKind::Cross) {
        Some(step) if drill.kind != Kind::Cross => step.to,
        _ => begins,
    };
    let n_rotations = cross_ends - begins;
    let centres = |moment: usize, place: Place| -> ColourSet {
        let hold = facts.moments[moment].hold.hold().expect("a hold");
        place.faces().iter().map(|face| hold.colour(*face)).collect()
    };
    match drill.kind {
        Kind::Carried | Kind::Target | Kind::Lifted => {
            let offer =
                steps[0].offers.iter().find(|offer| Some(offer.pair) == drill.named).expect("still open");
            let answer = &drill.answer.pairs[0];
            assert_eq!(offer.tier, answer.tier);
            assert_eq!(
                [offer.corner.from, offer.edge.from].map(|place| centres(cross_ends, place)),
                [answer.corner, answer.edge].map(|place| centres(begins, place))
            );
            assert_eq!(
                [Some(offer.corner.to), Some(offer.edge.to)],
                [answer.corner_after, answer.edge_after]
            );
            match drill.kind {
                Kind::Target => assert!(offer.tier == Tier::Target && offer.corner.up),
                Kind::Lifted => assert_eq!(offer.tier, Tier::Lifted),
                _ => assert!(
                    [answer.corner, answer.edge].map(Some) != [answer.corner_after, answer.edge_after]
                ),
            }
        }
        Kind::Ahead => {
            let offer =
                steps[1].offers.iter().find(|offer| Some(offer.pair) == drill.named).expect("still open");
            let answer = &drill.answer.pairs[0];
            assert_eq!(
                [Some(offer.corner.to), Some(offer.edge.to)],
                [answer.corner_after, answer.edge_after]
            );
        }
        Kind::Find | Kind::Edge | Kind::Deduce => {
            // The cross is done when the cube is turned over: its step ends there, and leaves what the answer says.
            let cross = facts.steps.iter().find(|step| step.kind == StepKind::Cross).expect("a cross");
            let offer = cross.offers.iter().find(|offer| Some(offer.pair) == drill.named).expect("open");
            let answer = &drill.answer.pairs[0];
            assert_eq!(
                [offer.corner.to, offer.edge.to].map(|place| centres(cross_ends, place)),
                [answer.corner, answer.edge].map(|place| centres(begins, place))
            );
            assert_eq!(offer.corner.up, answer.tier == Tier::Top);
            let line = drill.answer.line.as_ref().expect("its line");
            assert!(steps[0].pairs.contains(&offer.pair));
            assert_eq!((without(&line.text, n_rotations), steps.len()), (steps[0].text.to_string(), 1));
        }
        Kind::Cross => {
            let cross = facts.steps.iter().find(|step| step.kind == StepKind::Cross).expect("a cross");
            assert_eq!(Some(cross.obtm), drill.cross_turns);
            let answer = &drill.answer.pairs[0];
            assert_eq!(cross.offers.iter().filter(|offer| offer.pair == answer.pair).count(), 1);
        }
        _ => {
            // The plan of the answer, played: the first pair comes first, and no stop is planned but where it is said.
            let order = drill.answer.order.as_ref().expect("a plan");
            assert_eq!(steps.len(), order.lines.len());
            // With the rotation the eyes lose a moment of the first line, so there another pair may be late.
            let skip = usize::from(n_rotations > 0);
            let late =
                steps.iter().skip(skip).filter(|step| step.taken().is_some_and(|offer| !offer.ready)).count();
            let planned = |skip| {
                order
                    .lines
                    .iter()
                    .skip(skip)
                    .filter(|line| line.next.as_ref().is_some_and(|next| !next.ready))
                    .count()
            };
            assert_eq!((late, order.late), (planned(skip), planned(0)));
        }
    }
    let up = |pair: &Pair| {
        let name = pair.name();
        let shown = drill.answer.pairs.iter().find(|shown| shown.pair == name).expect("it is shown");
        shown.corner.faces().contains(&Face::U)
    };
    let grades =
        |drill: &Drill| drill.answer.pairs.iter().map(|p| (p.corner_grade, p.edge_grade)).collect::<Vec<_>>();
    match drill.kind {
        Kind::NoneUp => {
            assert!(drill.open.iter().filter_map(|name| name.of(drill.cross)).all(|pair| !up(&pair)))
        }
        Kind::Edge => {
            assert!(up(&named(drill)));
            assert!(!drill.answer.pairs[0].edge.faces().contains(&Face::U));
        }
        Kind::Hidden => assert!(grades(drill).iter().any(|&(c, e)| c.min(e) == Grade::Hidden)),
        Kind::Deduce => {
            let (corner, edge) = grades(drill)[0];
            assert_eq!(corner.min(edge), Grade::Deduced);
        }
        Kind::TurnFirst => {
            assert!(grades(drill).iter().all(|&(c, e)| c.min(e) == Grade::Hidden));
            assert!(!drill.answer.turns.is_empty());
        }
        Kind::Choose => {
            let order = drill.answer.order.as_ref().expect("a plan");
            assert!(drill.answer.others.iter().all(|other| other.cost >= order.cost + 2.0));
            assert!(!drill.answer.others.is_empty());
        }
        // No line to nine turns leaves a pair ready; a longer one, of a pair that has no shorter, may.
        Kind::Forced => {
            let order = drill.answer.order.as_ref().expect("a plan");
            assert!(order.late > 0 || order.lines[0].obtm > DEFAULT_WITHIN);
        }
        Kind::Whole => assert!(drill.answer.order.as_ref().is_some_and(|order| order.late == 0)),
        _ => {}
    }
}

#[test]
fn every_kind_has_its_property_and_is_a_record_that_nothing_is_said_of() {
    let each = if switch::slow() { 12 } else { 1 };
    for (n, kind) in Kind::ALL.into_iter().enumerate() {
        let cross = Colour::ALL[n % 6];
        let drills = Drills::new(Wish::of(kind, cross), 31).expect("it can be met");
        for number in 1..=each {
            let drill = match drills.one(number) {
                Ok(drill) => drill,
                // So rare that no draw may be one: then it says how many there were.
                Err(unmet) if kind == Kind::Forced => {
                    assert!(unmet.to_string().contains("positions were drawn"), "{unmet}");
                    continue;
                }
                Err(unmet) => panic!("{unmet}"),
            };
            assert!(drill.scramble.len() <= MOST_TURNS, "{}", drill.scramble);
            assert_eq!(drill.open.len(), kind.usually_open());
            check(&drill, &annotated(&drill));
        }
    }
}

/// What counts as right where an answer is written down: the places are those of the stickers in space, after the lines
/// that are given; and of the pair that is asked for, or of one that comes first in the best order.
#[test]
fn an_answer_that_is_checked_is_right() {
    for kind in Kind::ALL {
        for number in 1..=if kind == Kind::Forced { 1 } else { 5 } {
            let drill = one(Wish::of(kind, Colour::White), number);
            let Some(checked) = story::drill_checked(&drill) else {
                assert_eq!(kind, Kind::Cross);
                continue;
            };
            let played = |more: &str| {
                Space::played(&read::moves(&format!("{} {} {more}", drill.scramble, drill.rotation)))
            };
            let of_pair = |space: &Space, [a, b]: [Colour; 2]| {
                format!("{} {}", space.place(&[drill.cross, a, b]), space.place(&[a, b]))
            };
            let given: Vec<String> = drill.given.iter().map(|given| given.line.text.to_string()).collect();
            let right = match (drill.named, kind) {
                (_, Kind::TurnFirst) => {
                    // Each shows a pair that did not show before: that is `check`'s; here it is one of the top layer.
                    assert!(checked.right.iter().all(|turn| ["U", "U2", "U'"].contains(&turn.as_str())));
                    checked.right.clone()
                }
                (Some(pair), Kind::Find | Kind::Edge | Kind::Deduce) => {
                    vec![of_pair(&played(""), pair.sides())]
                }
                (Some(pair), _) if !given.is_empty() => {
                    vec![of_pair(&played(&given.join(" ")), pair.sides())]
                }
                _ => {
                    let best = drill.answer.order.as_ref().expect("an order");
                    let others = drill.answer.others.iter().filter(|other| {
                        kind != Kind::Choose && other.late == best.late && other.cost <= best.cost + 1.0
                    });
                    let first = std::iter::once(best).chain(others).map(|order| &order.lines[0].pairs);
                    first.flatten().map(|pair| of_pair(&played(""), pair.sides())).collect()
                }
            };
            assert!(!right.is_empty());
            assert_eq!(checked.right, right, "{kind} {number}");
        }
    }
}

#[test]
fn the_same_seed_gives_the_same_drill_in_any_order() {
    let wish = || Wish { open: Some(3), ..Wish::of(Kind::Find, Colour::White) };
    let drills = Drills::new(wish(), 7).expect("it can be met");
    let backwards: Vec<Drill> = (1..=4).rev().map(|n| drills.one(n).expect("it is met")).collect();
    let forwards: Vec<Drill> = (1..=4).map(|n| one(wish(), n)).collect();
    assert!(backwards.iter().rev().eq(&forwards));
    assert!(forwards.windows(2).all(|two| two[0].scramble != two[1].scramble));
    let other = Drills::new(wish(), 8).expect("it can be met").one(1).expect("it is met");
    assert_ne!(other.scramble, forwards[0].scramble);
}

#[test]
fn narrower_wishes_are_met() {
    let of = |kind| Wish::of(kind, Colour::White);
    let slot = one(Wish { tier: Some(Tier::Slot), open: Some(2), ..of(Kind::Find) }, 1);
    assert_eq!(slot.answer.pairs[0].tier, Tier::Slot);
    let left = one(Wish { shown_by: Some(Face::L), open: Some(2), ..of(Kind::Hidden) }, 1);
    assert_eq!(left.answer.pairs[0].tilt, Some(FaceSet::of(&[Face::L])));
    let short = one(Wish { turns: Some(4), open: Some(2), ..of(Kind::Target) }, 1);
    assert!(short.given[0].line.obtm <= 4);
    let cross = one(Wish { turns: Some(4), ..of(Kind::Cross) }, 1);
    assert!(cross.cross_turns.is_some_and(|turns| turns <= 4));
    let whole = one(Wish { turns: Some(12), open: Some(2), ..of(Kind::Whole) }, 1);
    assert!(whole.answer.order.is_some_and(|order| order.obtm <= 12));
}

#[test]
fn impossible_wishes_are_refused_with_the_nearest_that_is_not() {
    let of = |kind| Wish::of(kind, Colour::White);
    let refused = |wish: Wish| wish.checked().expect_err("impossible").to_string();
    insta::assert_snapshot!(refused(Wish { open: Some(1), ..of(Kind::Target) }), @"1 is too few open pairs for `target`: with one open pair there is no next one; the nearest there is: cornerwise drill target --open 2");
    insta::assert_snapshot!(refused(Wish { open: Some(2), ..of(Kind::Ahead) }), @"2 is too few open pairs for `ahead`: it asks for the pair after the next two; the nearest there is: cornerwise drill ahead --open 3");
    insta::assert_snapshot!(refused(Wish { tier: Some(Tier::Lifted), ..of(Kind::Find) }), @"which corner is lifted depends on the line that is played, and `find` gives none; the nearest there is: cornerwise drill lifted");
    insta::assert_snapshot!(refused(Wish { tier: Some(Tier::Slot), ..of(Kind::Edge) }), @"in `edge` the corner's tier is always top; the nearest there is: cornerwise drill edge");
    insta::assert_snapshot!(refused(Wish { shown_by: Some(Face::R), ..of(Kind::Hidden) }), @"R is in sight already; the nearest there is: cornerwise drill hidden --shown-by L");
    insta::assert_snapshot!(refused(Wish { turns: Some(8), ..of(Kind::Find) }), @"`find` gives no line and asks for none, so --turns says nothing of it; the nearest there is: cornerwise drill find");
    for kind in Kind::ALL {
        assert_eq!(of(kind).checked(), Ok(()), "{kind}");
    }
    // The nearest wish can itself be met.
    assert_eq!(Wish { open: Some(2), ..of(Kind::Target) }.checked(), Ok(()));
}

/// Frequencies in 100,000 drawn positions against what enumeration says, by SciPy's chi-square test.
#[test]
fn positions_are_drawn_as_often_as_they_should_be() {
    const DRAWN: usize = 100_000;
    let cross = Colour::Yellow;
    let pairs = Pair::all(cross);
    let mut lines = String::new();
    for open in [1_usize, 2, 4] {
        let set: PairSet = Slot::ALL[..open].iter().copied().collect();
        let mut random = Random::new(99, open as u64);
        let mut up = vec![0_usize; open + 1];
        let mut first = [0_usize; CornerAt::COUNT];
        let mut top_edges = [0_usize; 24];
        let mut solved_beside = [0_usize; 2];
        for _ in 0..DRAWN {
            let state = draw::with_open(&mut random, cross, set);
            let is_up = |pair: &&Pair| state.corner(pair.corner).place().touches(cross.opposite());
            up[pairs[..open].iter().filter(is_up).count()] += 1;
            first[state.corner(pairs[0].corner).index()] += 1;
            let top = Edge::ALL.into_iter().find(|edge| edge.has(cross.opposite())).expect("four of them");
            top_edges[state.edge(top).index()] += 1;
            let corner = Corner::ALL.into_iter().find(|corner| corner.has(cross.opposite())).expect("four");
            solved_beside[usize::from(state.corner_solved(corner))] += 1;
        }
        let (corners, edges) = (by_corner(open), by_solved(open, 2));
        let mut expected_up = vec![0_u64; open + 1];
        let mut expected_first: BTreeMap<(bool, bool), u64> = BTreeMap::new();
        for (&(set, n_up, first_is), &count) in &corners {
            for (&edge_set, &[edges, _]) in &edges {
                if set & edge_set == 0 {
                    expected_up[n_up] += count * edges;
                    *expected_first.entry(first_is).or_default() += count * edges;
                }
            }
        }
        push(&mut lines, &format!("{open} open: corners up"), &up, &expected_up);
        // By place the first corner is at home, up, or in another slot; within each every place and twist is alike but
        // for being solved.
        let home = CornerAt::home(pairs[0].corner).index();
        let solved = first[home];
        let ups: usize = (0..CornerAt::COUNT)
            .filter(|&i| CornerAt::from_index(i).place().touches(cross.opposite()))
            .map(|i| first[i])
            .sum();
        let observed = [solved, ups, DRAWN - solved - ups];
        let of = |key: (bool, bool)| expected_first.get(&key).copied().unwrap_or(0);
        push(
            &mut lines,
            &format!("{open} open: first corner"),
            &observed,
            &[of((true, false)), of((false, true)), of((false, false))],
        );
        let each_up: Vec<usize> = (0..CornerAt::COUNT)
            .filter(|&i| CornerAt::from_index(i).place().touches(cross.opposite()))
            .map(|i| first[i])
            .collect();
        push(&mut lines, &format!("{open} open: places up"), &each_up, &vec![1; each_up.len()]);
    }
    assert_eq!(lines.lines().count(), 9);
    let Some(said) = python::run("chi_square.py", lines) else { return };
    assert!(said.contains("9 samples fit"), "{said}");
}

/// Arrangements of the corners of open pairs by: which are solved, how many are up, and whether the first is solved and
/// whether it is up.
fn by_corner(open: usize) -> BTreeMap<(usize, usize, (bool, bool)), u64> {
    let mut counts = BTreeMap::new();
    arrangements(open, open + 4, 3, &mut |pieces| {
        let solved = pieces.iter().enumerate().filter(|&(i, &at)| at == (i, 0));
        let set: usize = solved.map(|(i, _)| 1 << i).sum();
        let up = |&&(place, _): &&(usize, usize)| place >= open;
        let first = (pieces[0] == (0, 0), pieces[0].0 >= open);
        *counts.entry((set, pieces.iter().filter(up).count(), first)).or_default() += 1;
    });
    counts
}

/// A sample as the script reads it: a name, what was drawn, and how often each should be, up to one factor.
fn push(lines: &mut String, name: &str, observed: &[usize], expected: &[u64]) {
    lines.push_str(
        &serde_json::json!({ "name": name, "observed": observed, "expected": expected }).to_string(),
    );
    lines.push('\n');
}

//! Where the difference went, on 500 made pairs of solves: the parts add up to the difference of the times, swapping the
//! sides mirrors every figure, and recolouring both changes nothing.
//!
//! By default each pair is timed in one of four ways, so 125 pairs; the slow run has all 500. The figures are worked out here once more, word by word, from the times of the annotations.

use cornerwise::annotate::{self, annotate};
use cornerwise::annotation::{Annotation, Step, StepKind};
use cornerwise::diagnostic::Source;
use cornerwise::diff::{self, Comparison, Difference, ENDS, Entry, Settings, Sides, Split, Which};
use cornerwise::record::{self, Reading};
use cornerwise::study::Study;

use super::sides::two_solves;
use crate::support::solver::{Marks, Options, Rng, Solver, Style};
use crate::support::switch;

/// As many scrambles, each solved twice; the slow run times each pair in four ways.
const SCRAMBLES: usize = 125;

/// A hundredth of a second, and what binary fractions make of it.
const HUNDREDTH: f64 = 0.01 + 1e-9;

struct Made {
    source: Source,
    reading: Reading,
    facts: Annotation,
}

/// Which lines there are does not matter here, so only the shortest are searched.
fn made(text: &str) -> Made {
    let mut settings = annotate::Settings::default();
    settings.choice.within = 1;
    let source = Source::new("made", text);
    let reading = record::read(&source);
    let facts = annotate(&Study::new(&source, 1, &reading.records[0]), &settings).facts;
    Made { source, reading, facts }
}

fn compare<'a>(a: &'a Made, b: &'a Made, names: [&str; 2]) -> Comparison {
    let entry = |made: &'a Made| Entry {
        study: Study::new(&made.source, 1, &made.reading.records[0]),
        facts: &made.facts,
    };
    let names = Sides { a: names[0].to_owned(), b: names[1].to_owned() };
    diff::compare(Sides { a: entry(a), b: entry(b) }, &Settings { names, ..Settings::default() })
}

/// What a side's part of a row comes to by the annotation: turns, turning, stopped.
fn figures(comparison: &Comparison, row: usize, which: Which) -> Option<(usize, f64, f64)> {
    let Some(side) = comparison.rows[row].of(which) else { return Some((0, 0.0, 0.0)) };
    let facts = comparison.annotations.of(which);
    let steps = side.steps.iter().map(|step| &facts.steps[step.step]);
    let (mut obtm, mut turning, mut stopped) = (0, 0.0, 0.0);
    for step in steps.filter(|step: &&Step| step.obtm > 0) {
        obtm += step.obtm;
        turning += step.seconds.turning?;
        stopped += step.seconds.before.unwrap_or(0.0) + step.seconds.inside?;
    }
    Some((obtm, turning, stopped))
}

fn near(x: f64, y: f64) -> bool {
    (x - y).abs() <= HUNDREDTH
}

/// The parts of every row, and of the whole, against the definition. How many rows were split.
fn check(comparison: &Comparison, text: &str) -> usize {
    let mut n_split = 0;
    let mut sum = 0.0;
    let mut sums = [0.0; 3];
    let mut whole = comparison.compared.until.is_none();
    for (n, row) in comparison.rows.iter().enumerate() {
        let Some(difference) = row.difference else { continue };
        whole &= difference.seconds.is_some();
        sum += difference.seconds.unwrap_or(0.0);
        let Some(split) = difference.split else { continue };
        n_split += 1;
        let seconds = difference.seconds.expect("what is split is timed");
        assert!(near(split.turns + split.speed + split.stopped, seconds), "{row:?}\n{text}");
        for (sum, part) in sums.iter_mut().zip([split.turns, split.speed, split.stopped]) {
            *sum += part;
        }
        if row.name == ENDS {
            continue;
        }
        let (Some(a), Some(b)) = (figures(comparison, n, Which::A), figures(comparison, n, Which::B)) else {
            continue;
        };
        let pace = |(obtm, turning, _): (usize, f64, f64)| (obtm > 0).then(|| turning / obtm as f64);
        let mean = match (pace(a), pace(b)) {
            (Some(a), Some(b)) => (a + b) / 2.0,
            (a, b) => a.or(b).unwrap_or(0.0),
        };
        let turns = (b.0 as f64 - a.0 as f64) * mean;
        assert!(near(split.turns, turns), "{turns} {split:?}\n{text}");
        assert!(near(split.stopped, b.2 - a.2), "{row:?}\n{text}");
        assert!(near(split.speed, (b.1 - a.1) - turns), "{row:?}\n{text}");
    }
    if let Some(seconds) = comparison.difference.seconds.filter(|_| whole) {
        assert!(near(sum, seconds), "{sum} {seconds}\n{text}");
        let times =
            [Which::A, Which::B].map(|which| comparison.annotations.of(which).seconds.expect("timed"));
        assert!(near(times[1] - times[0], seconds), "{text}");
    }
    if let Some(split) = comparison.difference.split {
        let seconds = comparison.difference.seconds.expect("timed");
        let total = [split.turns, split.speed, split.stopped];
        assert!(total.iter().zip(sums).all(|(part, sum)| near(*part, sum)), "{split:?} {sums:?}\n{text}");
        assert!(near(total.iter().sum(), seconds), "{split:?} {seconds}\n{text}");
        // What is told first adds up to the same, from the side behind, the largest first.
        let went: f64 = comparison.went.iter().map(|went| went.seconds).sum();
        let sign = if comparison.behind == Some(Which::A) { -1.0 } else { 1.0 };
        assert!(near(went * sign, seconds), "{:?}\n{text}", comparison.went);
        assert!(comparison.went.is_sorted_by(|x, y| x.seconds >= y.seconds));
    }
    n_split
}

/// All figures in an order, from the side named first.
fn all_figures(comparison: &Comparison, sign: f64) -> Vec<(String, Option<[f64; 5]>)> {
    let of = |difference: Difference| {
        let Split { turns, speed, stopped } = difference.split.unwrap_or_default();
        let seconds = difference.seconds.unwrap_or(0.0);
        [difference.obtm as f64, seconds, turns, speed, stopped].map(|figure| sign * figure + 0.0)
    };
    let rows = comparison.rows.iter().map(|row| (row.name.clone(), row.difference.map(of)));
    rows.chain([("total".into(), Some(of(comparison.difference)))]).collect()
}

#[test]
fn the_parts_add_up_and_do_not_depend_on_order_or_colours() {
    let slow = switch::slow();
    let (mut solver, mut rng) = (Solver::new(), Rng::new(91));
    let (mut n_pairs, mut n_split, mut stretches, mut crosses, mut forks, mut blamed, mut behind) =
        (0, 0, 0, 0, 0, 0, 0);
    for n in 0..SCRAMBLES {
        let (one, mut other) = two_solves(&mut solver, &mut rng, n);
        if n % 5 == 4 {
            let cross = Some(one.cross.opposite());
            other = solver.solve(&one.scramble, &mut rng, &Options { cross, ..Options::default() });
        }
        let ways = [Marks::Both, Marks::Every, Marks::Both, Marks::Ends, Marks::None];
        for marks in if slow { vec![ways[0], ways[1], ways[3], ways[4]] } else { vec![ways[n / 5 % 5]] } {
            n_pairs += 1;
            let style = Style { marks, stops: 0.4, pace: 5.0, comments: false, ..Style::default() };
            let texts = [one.yaml("made", &style, &mut rng), other.yaml("made", &style, &mut rng)];
            let [a, b] = texts.each_ref().map(|text| made(text));
            let there = compare(&a, &b, ["A", "B"]);
            let text = texts.join("---\n");
            n_split += check(&there, &text);
            let pairs = |row: &diff::Row| {
                row.of(Which::A)
                    .map_or(0, |side| side.steps.iter().filter(|s| s.kind == StepKind::Pair).count())
            };
            stretches += there.rows.iter().filter(|row| pairs(row) > 1).count();
            crosses += usize::from(a.facts.cross != b.facts.cross);
            forks += usize::from(there.fork.is_some());
            blamed += usize::from(there.blamed.is_some());
            behind += usize::from(there.behind == Some(Which::A));
            // Two crosses claim no position in common.
            assert!(a.facts.cross == b.facts.cross || (there.fork.is_none() && there.meetings.is_empty()));
            if let Some(stop) = there.blamed {
                let step = &there.annotations.of(stop.side).steps[stop.step];
                assert!(Some(stop.side) == there.behind && step.stops[stop.stop].seconds > 0.0);
            }

            let back = compare(&b, &a, ["B", "A"]);
            assert_eq!(all_figures(&there, 1.0), all_figures(&back, -1.0), "{text}");
            assert_eq!(there.behind.map(Which::other), back.behind, "{text}");
            assert_eq!(there.largest, back.largest, "{text}");
            assert_eq!(
                there.fork.as_ref().map(|fork| fork.row),
                back.fork.as_ref().map(|fork| fork.row),
                "{text}"
            );

            // Both cubes turned over before they are scrambled: every colour is another.
            let recoloured =
                texts.each_ref().map(|text| made(&text.replacen("scramble: ", "scramble: x y ", 1)));
            let other = compare(&recoloured[0], &recoloured[1], ["A", "B"]);
            assert_ne!(other.annotations.a.cross, there.annotations.a.cross);
            assert_eq!(all_figures(&there, 1.0), all_figures(&other, 1.0), "{text}");
            assert_eq!(
                (&there.went, &there.largest, there.behind),
                (&other.went, &other.largest, other.behind),
                "{text}"
            );
            assert_eq!((&there.fork, there.blamed), (&other.fork, other.blamed), "{text}");
            let turns = |c: &Comparison| c.rows.iter().map(|row| row.same_turns).collect::<Vec<_>>();
            assert_eq!(turns(&there), turns(&other), "{text}");
        }
    }
    assert_eq!(n_pairs, if slow { 4 * SCRAMBLES } else { SCRAMBLES });
    let met = [n_split, stretches, crosses, forks, blamed, behind];
    let least = [300, 50, 20, 40, 20, 30];
    assert!(met.iter().zip(least).all(|(met, least)| *met >= least), "{met:?}");
}

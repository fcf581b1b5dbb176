//! Where the time went, against a plain walk through the text: what passes between two marks without a turn was stopped,
//! the rest turning.

use std::path::Path;

use cornerwise::clock::{Clock, Where};
use cornerwise::diagnostic::Source;
use cornerwise::record::{self, Record};
use cornerwise::replay::Replay;
use cornerwise::steps::{Kind, split};

use crate::support::rewrite::kinds_of_solve;
use crate::support::solver::{Marks, Options, Rng, Solver, Style};

/// Microseconds turning and stopped, read off the words of a solution whose first mark begins the solve.
fn walked(solution: &str) -> (u64, u64) {
    let (mut turning, mut stopped, mut last, mut turned) = (0, 0, None, false);
    for line in solution.lines() {
        for word in line.split("//").next().expect("there is a first").split_whitespace() {
            if let Some(time) = word.strip_prefix('<').and_then(|word| word.strip_suffix('>')) {
                let (seconds, hundredths) = time.split_once('.').expect("seconds and hundredths");
                let number = |digits: &str| digits.parse::<u64>().expect("a number");
                let now = number(seconds) * 1_000_000 + number(hundredths) * 10_000;
                let spent = last.map_or(0, |last| now - last);
                *(if turned { &mut turning } else { &mut stopped }) += spent;
                (last, turned) = (Some(now), false);
            } else {
                turned |= !word.starts_with(['x', 'y', 'z']);
            }
        }
    }
    (turning, stopped)
}

fn clocked(record: &Record) -> (Clock, Vec<Kind>) {
    let replay = Replay::new(record.scramble.playable(), record.solution.playable());
    let steps = split(&replay).steps;
    let timer = record.time.map(|(time, _)| time);
    let clock = Clock::new(&record.solution.marks, &replay.moves, record.fps, &steps, timer);
    (clock, steps.into_iter().map(|step| step.kind).collect())
}

fn read(text: &str) -> Record {
    record::read(&Source::new("made", text)).records.remove(0)
}

#[test]
fn made_solves_turn_and_stop_as_they_are_written() {
    let (mut solver, mut rng) = (Solver::new(), Rng::new(77));
    let (mut told, mut inside, mut before_pairs, mut recognition) = (0, 0, 0, 0);
    for n in 0..60 {
        let kinds = kinds_of_solve();
        let solve = solver.random(&mut rng, &kinds[n % kinds.len()]);
        let marks = if n % 2 == 0 { Marks::Both } else { Marks::Every };
        let text = solve.yaml("made", &Style { marks, pace: 5.0, ..Style::default() }, &mut rng);
        let (_, solution) = text.split_once("solution: |\n").expect("there is one");
        let (clock, kinds) = clocked(&read(&text));
        let time = clock.solve();
        // A step that was over before its maker thought so has no marks at its end.
        let (Some(total), Some(turning), Some(stopped)) = (time.total, time.turning, time.stopped) else {
            continue;
        };
        told += 1;
        assert_eq!(total.micros, turning.micros + stopped.micros, "{text}");
        assert_eq!((turning.micros, stopped.micros), walked(solution), "{text}");
        let steps: u64 = clock.measured().iter().map(|run| run.time.total.expect("marked").micros).sum();
        assert_eq!(steps, total.micros, "the last mark is the end: {text}");
        for gap in clock.gaps() {
            match gap.place {
                Where::Before(step) if kinds[step] == Kind::Pair => before_pairs += 1,
                Where::Before(_) => recognition += 1,
                Where::Inside(_) => inside += 1,
                Where::Start | Where::End => panic!("the timer starts and stops with the turns: {text}"),
            }
        }
    }
    assert!(told >= 45, "{told} of 60");
    assert!(before_pairs >= 100 && recognition >= 50 && inside >= 5, "{before_pairs} {recognition} {inside}");
}

/// Where only the ends of steps are marked nothing is said of stops, and a pair step without rotations has what its turns
/// leave over.
#[test]
fn made_solves_with_marked_ends_have_hesitations_and_no_stops() {
    let (mut solver, mut rng) = (Solver::new(), Rng::new(78));
    let (mut below, mut above) = (0, 0);
    for _ in 0..25 {
        let solve = solver.random(&mut rng, &Options::default());
        let text = solve.yaml("made", &Style { marks: Marks::Ends, ..Style::default() }, &mut rng);
        let (clock, kinds) = clocked(&read(&text));
        assert_eq!((clock.solve().stopped, clock.gaps().len()), (None, 0), "{text}");
        for (index, kind) in kinds.iter().enumerate() {
            let step = clock.step(index);
            let Some(hesitation) = step.hesitation else { continue };
            assert_eq!(*kind, Kind::Pair);
            let pace = clock.pace().expect("it was worked out with it").seconds;
            let total = step.total.expect("so was this").seconds();
            assert!((hesitation.seconds - (total - step.turns as f64 * pace)).abs() < 1e-9);
            *(if hesitation.seconds < 0.0 { &mut below } else { &mut above }) += 1;
        }
    }
    assert!(below >= 5 && above >= 5, "{below} {above}");
}

fn kept(name: &str) -> Vec<(Record, String)> {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("reconstructions").join(name);
    let text = std::fs::read_to_string(&path).expect("a record");
    let records = record::read(&Source::new(name, &text)).records;
    let solutions = text
        .split("solution: |\n")
        .skip(1)
        .map(|part| part.split("notes:").next().expect("a part").to_owned());
    records.into_iter().zip(solutions).collect()
}

/// Added up by hand from the marks, in hundredths: turning, stopped.
#[test]
fn records_kept_here() {
    let figures = |record: &Record| {
        let time = clocked(record).0.solve();
        [time.total, time.turning, time.stopped].map(|lapse| lapse.map(|lapse| lapse.micros / 10_000))
    };
    let fork = kept("fork-after-first-pair.yaml");
    // 1.04 + 1.13 + 0.78 + 1.25 + 1.24 + 1.36 + 1.12 + 0.19 and 0.11 + 0.09 + 0.13 + 0.15 + 0.29 + 0.20 + 0.06.
    assert_eq!(figures(&fork[0].0), [Some(914), Some(811), Some(103)]);
    // 1.22 + 1.30 + 1.17 + 1.39 + 0.70 + 1.45 + 2.54 and 0.14 + 0.81 + 0.33 + 0.12 + 0.52 + 0.45.
    assert_eq!(figures(&fork[1].0), [Some(1214), Some(977), Some(237)]);
    for name in ["all-four-tiers.yaml", "mark-on-every-turn.yaml", "no-corner-up.yaml", "two-crosses.yaml"] {
        for (record, solution) in kept(name) {
            let (turning, stopped) = walked(&solution);
            let expected = [turning + stopped, turning, stopped].map(|micros| Some(micros / 10_000));
            assert_eq!(figures(&record), expected, "{name}");
        }
    }
    // Only the ends of its steps are marked.
    assert_eq!(figures(&kept("buried-corner.yaml")[0].0), [Some(1031), None, None]);
    // A camera's frames, 204 to 871: 667 of them, 11.117 s, a little more than the timer shows.
    let (record, _) = &kept("frames-at-60.yaml")[0];
    let (clock, _) = clocked(record);
    assert_eq!(clock.zero().map(|time| time.0), Some(3_400_000));
    // 75 + 83 + 59 + 72 + 31 + 67 + 126 + 9 of them were turned. Each is cut to a microsecond.
    let time = clock.solve();
    let frames = [time.total, time.turning, time.stopped]
        .map(|lapse| (lapse.expect("every step is marked").seconds() * 60.0 * 1000.0).round() / 1000.0);
    assert_eq!(frames, [667.0, 522.0, 145.0]);
}

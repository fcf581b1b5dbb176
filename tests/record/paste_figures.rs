//! Figures beside claims, records that break off, and values that are no values: what is read of each, and what is said.
//!
//! How people write such figures is common practice, no source. What they should come to is added up here by hand, turn
//! by turn.

use crate::support::solver::{Options, Rng, Solver};
use cornerwise::cube::Move;
use cornerwise::diagnostic::Source;
use cornerwise::mend::{self, Health, Settings};
use cornerwise::paste;
use cornerwise::record::Record;
use cornerwise::study::Study;

/// A made solve: its scramble and its steps, each with what it is called.
fn solve(seed: u64) -> (String, Vec<(Vec<Move>, String)>) {
    let solve = Solver::new().random(&mut Rng::new(seed), &Options::default());
    let write = |moves: &[Move]| moves.iter().map(ToString::to_string).collect::<Vec<_>>().join(" ");
    let plain = write(&solve.scramble);
    let mut steps: Vec<(Vec<Move>, String)> = Vec::new();
    let mut pairs = 0;
    let mut before: Vec<Move> = Vec::new();
    for step in &solve.steps {
        use crate::support::solver::Kind;
        let name = match step.kind {
            Kind::Inspection => {
                before.clone_from(&step.moves);
                continue;
            }
            Kind::Cross if step.pairs.is_empty() => "cross".to_owned(),
            Kind::Cross => {
                pairs += step.pairs.len();
                "xcross".to_owned()
            }
            Kind::Pair => {
                pairs += step.pairs.len();
                format!("pair {pairs}")
            }
            Kind::Orient => "OLL".to_owned(),
            Kind::Permute => "PLL".to_owned(),
            Kind::Adjust => "AUF".to_owned(),
        };
        let moves: Vec<Move> = std::mem::take(&mut before).into_iter().chain(step.moves.clone()).collect();
        steps.push((moves, name));
    }
    (plain, steps)
}

/// The solve as people write it, with something behind the name of each step.
fn written(
    (scramble, steps): &(String, Vec<(Vec<Move>, String)>),
    time: Option<&str>,
    behind: impl Fn(usize) -> String,
) -> String {
    let time = time.map_or(String::new(), |time| format!("Time: {time}\n"));
    let mut text = format!("Scramble: {scramble}\n{time}\n");
    for (i, (moves, name)) in steps.iter().enumerate() {
        let moves = moves.iter().map(ToString::to_string).collect::<Vec<_>>().join(" ");
        text.push_str(&format!("{moves} // {name} {}\n", behind(i)));
    }
    text
}

fn read(text: &str) -> Record {
    let mut records = paste::read(&Source::new("t", text)).records;
    assert_eq!(records.len(), 1, "{text}");
    let record = records.swap_remove(0);
    assert!(!record.has_fault(), "{:?}\n{text}", record.diagnostics);
    record
}

fn has(record: &Record, code: &str) -> bool {
    record.diagnostics.iter().any(|said| said.code == code)
}

/// Turns of each step and so far, rotations left out: `(4/10)`.
fn counts(steps: &[(Vec<Move>, String)]) -> Vec<(usize, usize)> {
    let mut so_far = 0;
    steps
        .iter()
        .map(|(moves, _)| {
            let own: usize = moves.iter().filter(|mv| !mv.is_rotation()).map(|mv| mv.obtm()).sum();
            so_far += own;
            (own, so_far)
        })
        .collect()
}

#[test]
fn turns_counted_beside_the_steps_are_held_against_the_turns() {
    for seed in 1..9 {
        let solve = solve(seed);
        let counts = counts(&solve.1);
        for form in 0..2 {
            let figure = |(own, so_far): (usize, usize)| match form {
                0 => format!("({own}/{so_far})"),
                _ => format!("({own})"),
            };
            let right = read(&written(&solve, None, |i| figure(counts[i])));
            assert!(!has(&right, "figures-differ"), "{:?}", right.diagnostics);
            // `OLL (9/37)` is a count, whatever case that would be.
            let source = Source::new("t", written(&solve, None, |i| figure(counts[i])));
            let study = Study::new(&source, 1, &right);
            assert!(study.claims.iter().all(|claim| claim.holds), "{:?}", study.claims);
            // One step counted wrong.
            let wrong = read(&written(&solve, None, |i| {
                let (own, so_far) = counts[i];
                figure((own + usize::from(i == 2), so_far))
            }));
            let said: Vec<_> =
                wrong.diagnostics.iter().filter(|said| said.code == "figures-differ").collect();
            assert_eq!(said.len(), 1, "{:?}", wrong.diagnostics);
            let place = said[0].span().expect("a place");
            let line = source.position(place.start).0;
            // Scramble, blank line, and two steps stand before it.
            assert_eq!(line, 5);
        }
    }
}

#[test]
fn times_beside_the_steps_become_marks_where_they_have_one_meaning() {
    for seed in 1..9 {
        let solve = solve(seed);
        let n = solve.1.len();
        let hundredths: Vec<u64> = (0..n as u64).map(|i| 90 + 37 * i * i % 161).collect();
        let clock: Vec<u64> = hundredths
            .iter()
            .scan(0, |sum, own| {
                *sum += own;
                Some(*sum)
            })
            .collect();
        let shown = |time: u64| format!("{}.{:02}", time / 100, time % 100);
        let total = shown(clock[n - 1]);
        let ends: Vec<usize> = solve
            .1
            .iter()
            .scan(0, |sum, (moves, _)| {
                *sum += moves.len();
                Some(*sum)
            })
            .collect();
        for behind in [&hundredths, &clock] {
            let record = read(&written(&solve, Some(&total), |i| shown(behind[i])));
            let marks: Vec<(usize, u64)> =
                record.solution.marks.iter().map(|mark| (mark.moment, mark.time.0)).collect();
            let expected: Vec<(usize, u64)> =
                ends.iter().zip(&clock).map(|(end, time)| (*end, time * 10_000)).collect();
            assert_eq!(marks, expected);
            // The words stay as they are.
            assert_eq!(record.solution.comments.len(), n);
            assert!(record.solution.comments[0].text.contains(&shown(behind[0])));
        }
        // Neither adds up to another time; without a time there is nothing to hold them against.
        for time in [Some("99.99"), None] {
            let record = read(&written(&solve, time, |i| shown(hundredths[i])));
            assert!(record.solution.marks.is_empty() && has(&record, "figures-open"), "{time:?}");
        }
        // One time alone, `OLL 7.99`, is words: no mark, no case, no message.
        let one = |i: usize| if solve.1[i].1 == "OLL" { "7.99".to_owned() } else { String::new() };
        let text = written(&solve, Some(&total), one);
        let record = read(&text);
        assert!(record.solution.marks.is_empty() && !has(&record, "figures-open"));
        let source = Source::new("t", text);
        assert!(Study::new(&source, 1, &record).claims.iter().all(|claim| claim.holds));
    }
}

#[test]
fn a_record_that_breaks_off_where_a_step_is_done_has_no_fault() {
    for seed in 1..9 {
        let (scramble, steps) = solve(seed);
        let n_before_last_layer =
            steps.iter().position(|(_, name)| name == "OLL" || name == "PLL").unwrap_or(steps.len());
        for n in 1..=n_before_last_layer {
            let part = (scramble.clone(), steps[..n].to_vec());
            let text = written(&part, None, |_| String::new());
            let record = read(&text);
            let source = Source::new("t", text.clone());
            let study = Study::new(&source, 1, &record);
            let said: Vec<_> = study.said();
            let note: Vec<_> = said.iter().filter(|said| said.code == "end-unfinished").collect();
            assert_eq!(note.len(), 1, "{said:?}\n{text}");
            assert!(said.iter().all(|said| !said.is_fault()), "{said:?}");
            assert!(study.unfinished());
            let examination = mend::examine(&study, &Settings::default());
            assert_eq!(examination.health, Health::Unfinished);
            assert!(examination.ranked.repairs.is_empty());
            // A slip in it is a fault all the same.
            let (moves, name) = steps[n - 1].clone();
            let Some(Move::Turn(face, amount)) = moves.last().copied() else { continue };
            let mut moves = moves;
            *moves.last_mut().expect("a move") = Move::Turn(face.opposite(), amount);
            let mut slipped = part.clone();
            slipped.1[n - 1] = (moves, name);
            let text = written(&slipped, None, |_| String::new());
            let source = Source::new("t", text.clone());
            let record = paste::read(&source).records.swap_remove(0);
            let study = Study::new(&source, 1, &record);
            assert!(!study.unfinished(), "{text}");
            assert!(study.said().iter().any(cornerwise::diagnostic::Diagnostic::is_fault));
        }
    }
}

#[test]
fn a_value_that_is_a_lone_apostrophe_is_told_and_takes_nothing_with_it() {
    let sound = "title: sound\nscramble: R U F\nsolution: F' U' R'\n";
    for field in
        ["title", "solver", "date", "notes", "scramble", "solution", "sight", "time", "until", "fps", "hands"]
    {
        for lone in ["'", "\"", "' ", "''", "'''"] {
            let text = format!("{sound}---\n{field}: {lone}\nscramble: R U\nsolution: U' R'\n---\n{sound}");
            let source = Source::new("t", text.clone());
            let reading = paste::read(&source);
            let whole = |record: &Record| {
                record.title.as_deref() == Some("sound")
                    && record.scramble.tokens.len() == 3
                    && record.solution.tokens.len() == 3
                    && !record.has_fault()
            };
            let n_whole = reading.records.iter().filter(|record| whole(record)).count();
            assert_eq!(n_whole, 2, "{text}\n{reading:?}");
            for record in &reading.records {
                let study = Study::new(&source, 1, record);
                let _ = mend::examine(&study, &Settings::default());
            }
        }
    }
}

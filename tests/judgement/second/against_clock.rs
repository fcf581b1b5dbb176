//! Gaps, turning and pace of made solves with made times, by the library and mark by mark.

use std::fmt::Write as _;

use cornerwise::clock::{Clock, StopFrom, Where};
use cornerwise::cube::Move;
use cornerwise::notation::{Options, Time, parse_all};
use cornerwise::steps::{Kind, Step};

use super::clock::{Lies, Mark, Timed};
use super::stickers::turns;
use crate::support::random::Random;
use crate::support::solver::{self, Rng, Solver};
use crate::support::switch;

/// Times for a solve: every step marked where its turns begin and end, and more marks here and there.
fn timed(random: &mut Random, moves: &[Move], begins: &[usize]) -> (Vec<Mark>, u64) {
    let mut marks: Vec<Mark> = Vec::new();
    let mut now = if random.below(2) == 0 { 0 } else { random.below(900_000) as u64 };
    let mut edges: Vec<usize> = Vec::new();
    for (i, &begin) in begins.iter().enumerate() {
        let end = begins.get(i + 1).copied().unwrap_or(moves.len());
        let first = (begin..end).find(|&k| turns(moves[k]) > 0);
        let last = (begin..end).rev().find(|&k| turns(moves[k]) > 0);
        if let (Some(first), Some(last)) = (first, last) {
            edges.extend([first, last + 1]);
        }
    }
    let first = edges[0];
    for moment in 0..=moves.len() {
        // Within the solve a moment may have two marks: the hands stop at it.
        let inside = moment > first && moment < *edges.last().expect("turns");
        let here = edges.iter().filter(|&&edge| edge == moment).count();
        let more = if inside { [0, 0, 0, 1, 2][random.below(5)] } else { 0 };
        for k in 0..here.max(more) {
            if k > 0 {
                now += [0, 40_000, 700_000][random.below(3)] + random.below(90_000) as u64;
            }
            marks.push((moment, now));
        }
        if let Some(&mv) = moves.get(moment) {
            let rests = marks.last().is_some_and(|&(at, _)| at == moment) && random.below(12) == 0;
            now += if rests { 500_000 } else { 0 } + (turns(mv) * 90_000 + random.below(80_000)) as u64;
        }
    }
    let last = marks.last().expect("marks").1;
    let timer = if random.below(2) == 0 { last } else { last + random.below(300_000) as u64 };
    (marks, timer)
}

#[test]
fn times_are_the_same_and_nothing_vanishes() {
    let (mut rng, mut solver) = (Rng::new(super::seed(531)), Solver::new());
    let mut random = Random::new(super::seed(532));
    let solves = if switch::slow() { 1500 } else { 200 };
    let (mut gaps, mut stops) = (0, 0);
    for i in 0..solves {
        let mut made = solver.random(&mut rng, &solver::Options::default());
        if i % 2 == 1 {
            made = made.respelled(&mut rng);
        }
        let moves: Vec<Move> = made.moves().collect();
        let (mut begins, mut steps, mut recognised) = (Vec::new(), Vec::new(), Vec::new());
        let mut at = 0;
        for step in &made.steps {
            let kind = match step.kind {
                solver::Kind::Inspection => Kind::Inspection,
                solver::Kind::Cross => Kind::Cross,
                solver::Kind::Pair => Kind::Pair,
                solver::Kind::Orient => Kind::Orient,
                solver::Kind::Permute => Kind::Permute,
                solver::Kind::Adjust => Kind::Adjust,
            };
            begins.push(at);
            recognised.push(matches!(kind, Kind::Orient | Kind::Permute | Kind::Adjust));
            let (from, to) = (at, at + step.moves.len());
            steps.push(Step { kind, from, to, pairs: vec![], skips: vec![] });
            at = to;
        }
        let (marks, timer) = timed(&mut random, &moves, &begins);
        let ours = Timed { moves: &moves, begins: &begins, recognised: &recognised, marks: &marks, timer };

        let mut text = String::new();
        for moment in 0..=moves.len() {
            for (_, micros) in marks.iter().filter(|mark| mark.0 == moment) {
                let _ = write!(text, "<{}.{:06}> ", micros / 1_000_000, micros % 1_000_000);
            }
            if let Some(mv) = moves.get(moment) {
                let _ = write!(text, "{mv} ");
            }
        }
        let (read, problems) = parse_all(&text, &Options::default());
        assert!(problems.is_empty(), "{text}: {problems:?}");
        let theirs = Clock::new(&read.marks, &moves, None, &steps, Some(Time(timer)));

        let place = |lies| match lies {
            Lies::Start => Where::Start,
            Lies::Before(step) => Where::Before(step),
            Lies::Inside(step) => Where::Inside(step),
            Lies::End => Where::End,
        };
        let expected: Vec<(Where, u64)> =
            ours.gaps().iter().map(|gap| (place(gap.lies), gap.micros)).collect();
        // Nothing at the start or the end is not told.
        let told =
            |&(place, micros): &(Where, u64)| micros > 0 || !matches!(place, Where::Start | Where::End);
        let found = theirs.gaps().iter().map(|gap| (gap.place, gap.lapse.micros));
        assert_eq!(
            found.filter(told).collect::<Vec<_>>(),
            expected.into_iter().filter(told).collect::<Vec<_>>(),
            "{text} {begins:?} {timer}"
        );
        let stopped: u64 = ours.gaps().iter().map(|gap| gap.micros).sum();
        assert_eq!(ours.turning() + stopped, timer, "{text}");
        let solve = theirs.solve();
        assert_eq!(solve.total.map(|lapse| lapse.micros), Some(timer), "{text}");
        assert_eq!(solve.stopped.map(|lapse| lapse.micros), Some(stopped), "{text}");
        assert_eq!(solve.turning.map(|lapse| lapse.micros), Some(ours.turning()), "{text}");

        let (pace, theirs_pace) = (ours.pace(), theirs.pace());
        let near = |a: f64, b: f64| (a - b).abs() < 1e-9;
        assert!(
            pace.zip(theirs_pace).is_some_and(|(a, b)| near(a, b.seconds)),
            "{pace:?} {theirs_pace:?} {text}"
        );
        for (gap, their) in ours
            .gaps()
            .into_iter()
            .filter(|gap| told(&(place(gap.lies), gap.micros)))
            .zip(theirs.gaps().iter().filter(|gap| told(&(gap.place, gap.lapse.micros))))
        {
            gaps += 1;
            if !matches!(gap.lies, Lies::Start | Lies::End) {
                let judged = StopFrom::default().judge(their.lapse, theirs_pace).expect("there is a pace");
                assert_eq!(judged.stop, ours.is_stop(gap), "{gap:?} {text}");
                stops += usize::from(judged.stop);
            }
        }
    }
    super::say(&format!("clock: {solves} solves, {gaps} gaps, {stops} stops"));
    assert!(stops > 0);
}

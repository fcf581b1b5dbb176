//! Laws of the account, on solves made up turn by turn, so that where the time went is known beforehand.

use proptest::prelude::*;

use super::*;
use crate::cube::{Amount, Axis, Face};
use crate::diagnostic::Span;
use crate::steps::Kind;

/// One turn: what is waited before it, with how many rotations, and how long it takes.
#[derive(Debug, Clone)]
struct Made {
    waited: u64,
    rotations: usize,
    turn: u64,
    /// Whether the wait is marked off; at the beginning of a step it always is.
    marked: bool,
}

/// Microseconds as people's hands need them, and some that are nothing at all.
fn micros() -> impl Strategy<Value = u64> {
    prop_oneof![4 => 1..2_000_000_u64, 1 => Just(0)]
}

fn made() -> impl Strategy<Value = Made> {
    (micros(), 0..3_usize, 1..400_000_u64, any::<bool>()).prop_map(|(waited, rotations, turn, marked)| Made {
        waited,
        rotations,
        turn,
        marked,
    })
}

/// Steps of one turn or more.
fn solves() -> impl Strategy<Value = Vec<Vec<Made>>> {
    prop::collection::vec(prop::collection::vec(made(), 1..7), 1..9)
}

/// A made solve in marks, moves and steps, and its account.
#[derive(Default)]
struct Written {
    marks: Vec<Mark>,
    moves: Vec<Move>,
    steps: Vec<Step>,
    /// By step: before it, inside it, turning.
    truth: Vec<[u64; 3]>,
    /// Whether a rotation or a wait lies where no mark shows it.
    hidden: bool,
    end: u64,
}

fn written(solve: &[Vec<Made>], begins: u64) -> Written {
    let kind = |index| match index {
        0 => Kind::Cross,
        1..=4 => Kind::Pair,
        5 => Kind::Orient,
        6 => Kind::Permute,
        _ => Kind::Adjust,
    };
    let mut all = Written { end: begins, ..Written::default() };
    for (index, step) in solve.iter().enumerate() {
        let from = all.moves.len();
        let mut truth = [0; 3];
        for (number, one) in step.iter().enumerate() {
            let first = (index, number) == (0, 0);
            let shown = number == 0 || one.marked;
            let mark = |all: &mut Written| {
                let mark =
                    Mark { moment: all.moves.len(), time: Time(all.end), frame: None, span: Span::default() };
                all.marks.push(mark);
            };
            // Inspection's rotations are over when the clock starts.
            let rotations = if first { 0 } else { one.rotations };
            if shown && !first {
                mark(&mut all);
            }
            all.moves.extend((0..rotations).map(|_| Move::Rotation(Axis::Y, Amount::Quarter)));
            let waited = if rotations > 0 || shown { one.waited } else { 0 };
            all.end += waited;
            if shown {
                mark(&mut all);
                truth[usize::from(number > 0)] += waited;
            } else {
                // Not marked off: all the marks can say is that it was turning.
                truth[2] += waited;
                all.hidden |= rotations > 0;
            }
            all.moves.push(Move::Turn(if number % 2 == 0 { Face::R } else { Face::U }, Amount::Quarter));
            all.end += one.turn;
            truth[2] += one.turn;
        }
        all.truth.push(truth);
        all.steps.push(Step { kind: kind(index), from, to: all.moves.len(), pairs: vec![], skips: vec![] });
    }
    all.marks.push(Mark { moment: all.moves.len(), time: Time(all.end), frame: None, span: Span::default() });
    all
}

fn clock(all: &Written, timer: Option<u64>) -> Clock {
    Clock::new(&all.marks, &all.moves, None, &all.steps, timer.map(Time))
}

proptest! {
    /// Turning and stopped are the solve, to the microsecond, and both are what was made.
    #[test]
    fn nothing_vanishes(solve in solves(), after in micros()) {
        let all = written(&solve, 0);
        let clock = clock(&all, Some(all.end + after));
        let time = clock.solve();
        let [total, turning, stopped] = [time.total, time.turning, time.stopped].map(|lapse| lapse.expect("fully marked").micros);
        prop_assert_eq!(total, turning + stopped);
        prop_assert_eq!(total, all.end + after);
        let truth = |part: usize| all.truth.iter().map(|step| step[part]).sum::<u64>();
        prop_assert_eq!(turning, truth(2));
        prop_assert_eq!(stopped, truth(0) + truth(1) + after);
        prop_assert_eq!(clock.gaps().iter().map(|gap| gap.lapse.micros).sum::<u64>(), stopped);
        prop_assert_eq!(time.certain, !all.hidden);
        for (index, truth) in all.truth.iter().enumerate() {
            let step = clock.step(index);
            let figures = [step.stopped_before, step.stopped_inside, step.turning].map(|lapse| lapse.map(|lapse| lapse.micros));
            prop_assert_eq!(figures, truth.map(Some));
            prop_assert_eq!(step.total.map(|lapse| lapse.micros), Some(truth.iter().sum()));
            prop_assert_eq!(step.hesitation, None);
        }
        // Every gap lies where it was made.
        for gap in clock.gaps() {
            match gap.place {
                Where::Before(step) => prop_assert_eq!(gap.moment, all.steps[step].from),
                Where::Inside(step) => prop_assert!((all.steps[step].from + 1..all.steps[step].to).contains(&gap.moment)),
                Where::Start => prop_assert_eq!(gap.moment, 0),
                Where::End => prop_assert_eq!(gap.moment, all.moves.len()),
            }
        }
    }

    /// Any marks lost, any figure that is left is the one there was, but for gaps inside that cannot be seen any more.
    #[test]
    fn a_lost_mark_makes_no_new_figure(solve in solves(), lost in any::<u64>()) {
        let all = written(&solve, 0);
        let whole = clock(&all, None);
        let some = Written {
            marks: all.marks.iter().enumerate().filter(|(n, _)| lost >> (n % 64) & 1 == 0).map(|(_, mark)| *mark).collect(),
            ..written(&solve, 0)
        };
        let left = clock(&some, None);
        for index in 0..all.steps.len() {
            let (before, now) = (whole.step(index), left.step(index));
            if let Some(end) = now.end {
                // Of two marks at a boundary one is left: nothing tells which it was. Rotations behind the last turn may be on the
                // wrong side of it, and that is said.
                let next = (index + 1 < all.steps.len()).then(|| whole.step(index + 1).first_turn);
                prop_assert!(before.end == Some(end) || next == Some(Some(end)) || !now.certain);
            }
            if let (Some(then), Some(now_turning)) = (before.turning, now.turning) {
                prop_assert!(now_turning.micros >= then.micros || !now.certain);
            }
            if let (true, Some(gap)) = (index > 0, now.stopped_before) {
                prop_assert!(gap.micros <= before.stopped_before.expect("fully marked").micros);
            }
            if let (Some(total), Some(turning), Some(outside), Some(inside)) =
                (now.total, now.turning, now.stopped_before, now.stopped_inside)
            {
                prop_assert_eq!(total.micros, turning.micros + outside.micros + inside.micros);
            }
        }
        let time = left.solve();
        if let (Some(total), Some(turning), Some(stopped)) = (time.total, time.turning, time.stopped) {
            prop_assert_eq!(total.micros, turning.micros + stopped.micros);
        }
    }

    /// A clock that had been running tells the same of every step but the first.
    #[test]
    fn when_the_clock_began_does_not_matter(mut solve in solves(), running in 1..1_000_000_000_u64) {
        solve[0][0].waited = 0;
        let (zero, video) = (written(&solve, 0), written(&solve, running));
        let (zero, video) = (clock(&zero, Some(zero.end)), clock(&video, Some(zero.end)));
        // A mark as little behind the timer's result as the timer cuts off is no sign of a running clock.
        prop_assume!(running >= 10_000);
        prop_assert_eq!(zero.pace(), video.pace());
        prop_assert_eq!(zero.gaps(), video.gaps());
        prop_assert_eq!(zero.solve(), video.solve());
        for index in 0..solve.len() {
            let (zero, video) = (zero.step(index), video.step(index));
            prop_assert_eq!(zero.total, video.total);
            prop_assert_eq!(zero.turning, video.turning);
            prop_assert_eq!(zero.stopped_before, video.stopped_before);
        }
    }
}

//! Small solves of `R U R U …` with marks set by hand.

use super::*;
use crate::cube::{Amount, Axis, Face};

/// `R`, `U`, `R`, … ; a `0` in `shape` puts a rotation there.
fn moves(shape: &str) -> Vec<Move> {
    let face = |i: usize| if i.is_multiple_of(2) { Face::R } else { Face::U };
    shape
        .chars()
        .enumerate()
        .map(|(i, c)| match c {
            '0' => Move::Rotation(Axis::Y, Amount::Quarter),
            _ => Move::Turn(face(i), Amount::Quarter),
        })
        .collect()
}

/// Marks as `(moment, hundredths of a second)`.
fn marks(at: &[(usize, u64)]) -> Vec<Mark> {
    let mark = |&(moment, hundredths): &(usize, u64)| Mark {
        moment,
        time: Time(hundredths * 10_000),
        frame: None,
        span: Span::default(),
    };
    at.iter().map(mark).collect()
}

/// Marks as `(moment, frame)` at 50 frames a second.
fn frames(at: &[(usize, u64)]) -> Vec<Mark> {
    let mark = |&(moment, frame): &(usize, u64)| Mark {
        moment,
        time: Time(frame * 20_000),
        frame: Some(frame),
        span: Span::default(),
    };
    at.iter().map(mark).collect()
}

fn clock(shape: &str, at: &[(usize, u64)]) -> Clock {
    Clock::new(&marks(at), &moves(shape), None)
}

#[track_caller]
fn close(figure: Option<Figure>, seconds: f64) {
    let figure = figure.expect("the marks support this figure");
    assert!((figure.seconds - seconds).abs() < 1e-9, "{} is not {seconds}", figure.seconds);
}

#[test]
fn with_a_mark_on_every_turn_pace_is_the_median_gap() {
    // Gaps of 0.10, 0.12, 0.90, 0.14, 0.11.
    let clock = clock("11111", &[(0, 0), (1, 10), (2, 22), (3, 112), (4, 126), (5, 137)]);
    close(clock.pace(), 0.12);
    close(clock.marked(), 1.37);
    close(clock.solve(), 1.37);
}

#[test]
fn with_a_mark_or_two_a_step_pace_is_the_median_over_turns() {
    // 2 turns at 0.50, 4 at 0.20, 3 at 0.30, and a marked pause that is in no span. In order of rate the
    // nine turns are 0.20 four times, 0.30 three times, 0.50 twice: the fifth is 0.30.
    let clock = clock("111111111", &[(0, 0), (2, 100), (2, 150), (6, 230), (9, 320)]);
    close(clock.pace(), 0.30);
}

#[test]
fn an_even_number_of_turns_takes_the_mean_of_the_middle_two() {
    let clock = clock("11", &[(0, 0), (1, 10), (2, 40)]);
    close(clock.pace(), 0.20);
}

#[test]
fn a_rotation_between_marks_is_no_span_and_no_turn() {
    let clock = clock("1011", &[(0, 0), (1, 20), (2, 80), (4, 120)]);
    // Spans: R in 0.20; y in 0.60 (no span); two turns in 0.40.
    close(clock.pace(), 0.20);
}

#[test]
fn two_marks_at_a_boundary_are_a_pause_and_exact() {
    let clock = clock("1111", &[(0, 0), (2, 40), (2, 95), (4, 135)]);
    let step = clock.step(2, 4);
    close(step.pause, 0.55);
    assert_eq!(step.hesitation, None);
    assert_eq!(
        (step.start, step.first_turn, step.end),
        (Some(Time(400_000)), Some(Time(950_000)), Some(Time(1_350_000)))
    );
    close(step.total, 0.95);
    close(step.turning, 0.40);
    assert_eq!(step.stop().map(|(_, derived)| derived), Some(false));
    // The step before ends when its last turn does: the pause is not part of it.
    close(clock.step(0, 2).total, 0.40);
    assert_eq!(clock.pauses(), [Pause { moment: 2, length: Figure { seconds: 0.55, within: 0.0 } }]);
}

#[test]
fn rotations_before_the_first_turn_lie_in_the_pause() {
    let clock = clock("11011", &[(0, 0), (2, 40), (3, 95), (5, 135)]);
    let step = clock.step(2, 5);
    close(step.pause, 0.55);
    close(step.turning, 0.40);
    assert_eq!(step.first_turn, Some(Time(950_000)));
}

#[test]
fn with_only_step_ends_marked_hesitation_is_what_the_pace_leaves_over() {
    // Three steps of four turns: 0.88, 2.00, 0.80. Pace: median over turns 0.22.
    let clock = clock("111111111111", &[(0, 0), (4, 88), (8, 288), (12, 368)]);
    close(clock.pace(), 0.22);
    let step = clock.step(4, 8);
    assert_eq!(step.pause, None);
    close(step.hesitation, 2.00 - 4.0 * 0.22);
    assert_eq!(step.stop().map(|(_, derived)| derived), Some(true));
    // Faster than the pace, and yet never below nothing.
    assert_eq!(clock.step(8, 12).hesitation.map(|figure| figure.seconds), Some(0.0));
    // Before the first turn there is no step to stop after.
    assert_eq!(clock.step(0, 4).hesitation, None);
}

#[test]
fn with_a_mark_on_every_turn_hesitation_is_the_first_gap_less_the_pace() {
    let clock = clock("111111", &[(0, 0), (1, 10), (2, 20), (3, 30), (4, 95), (5, 105), (6, 115)]);
    close(clock.step(3, 6).hesitation, 0.55);
}

#[test]
fn a_step_whose_end_is_not_marked_has_no_hesitation() {
    let clock = clock("11111111", &[(0, 0), (2, 40), (4, 80), (8, 400)]);
    let step = clock.step(4, 6);
    assert_eq!((step.end, step.total, step.hesitation), (None, None, None));
}

#[test]
fn a_pace_taken_from_one_span_gives_that_span_no_hesitation() {
    let clock = clock("1111", &[(2, 40), (4, 100)]);
    close(clock.pace(), 0.30);
    assert_eq!(clock.step(2, 4).hesitation, None);
}

#[test]
fn a_single_mark_says_when_one_moment_was_and_nothing_else() {
    for moment in 0..=4 {
        let clock = clock("1111", &[(moment, 140)]);
        assert_eq!((clock.pace(), clock.marked(), clock.solve()), (None, None, None));
        assert_eq!(clock.disagreement(Time(9_840_000)), None);
        assert!(clock.pauses().is_empty());
        assert_eq!(clock.at(moment), Some(Time(1_400_000)));
        for (from, to) in [(0, 2), (2, 4)] {
            let step = clock.step(from, to);
            let at = |m: usize| (m == moment).then_some(Time(1_400_000));
            let expected =
                StepTime { start: at(from), first_turn: at(from), end: at(to), ..StepTime::default() };
            assert_eq!(step, expected);
        }
    }
}

#[test]
fn two_marks_at_a_moment_part_what_ended_there_from_what_began() {
    let clock = clock("1111", &[(0, 0), (0, 20), (2, 60), (2, 100), (4, 150), (4, 190)]);
    assert_eq!(clock.at(2), Some(Time(1_000_000)));
    close(clock.between(0, 2), 0.40);
    close(clock.between(2, 4), 0.50);
    // The turns last from the last mark before them to the first after; the marks from the first to the last.
    close(clock.solve(), 1.30);
    close(clock.marked(), 1.90);
    assert_eq!(clock.marks(), 6);
    let moments: Vec<usize> = clock.pauses().iter().map(|pause| pause.moment).collect();
    assert_eq!(moments, [0, 2, 4]);
    // What precedes the first turn is no pause between steps.
    let first = clock.step(0, 2);
    assert_eq!((first.pause, first.hesitation), (None, None));
    assert_eq!((first.start, first.first_turn), (Some(Time(0)), Some(Time(200_000))));
}

#[test]
fn no_marks_no_figures() {
    let clock = clock("1111", &[]);
    assert_eq!(clock.step(0, 4), StepTime::default());
    assert_eq!((clock.pace(), clock.uncertainty()), (None, None));
    assert_eq!(Clock::new(&[], &[], None).step(0, 0), StepTime::default());
}

#[test]
fn every_step_has_its_figures_or_none_and_totals_add_up() {
    let clock = clock("0111111", &[(1, 0), (3, 50), (3, 90), (5, 140), (7, 190)]);
    let steps = [(0, 1), (1, 3), (3, 5), (5, 7)].map(|(from, to)| clock.step(from, to));
    // Inspection is not timed at its start, and makes no turns.
    assert_eq!((steps[0].start, steps[0].total, steps[0].turns_per_second), (None, None, None));
    assert_eq!(steps[0].end, Some(Time(0)));
    let total: f64 = steps.iter().filter_map(|step| step.total).map(|figure| figure.seconds).sum();
    close(clock.solve(), total);
    assert_eq!(steps[2].turns_per_second, Some(2.0 / 0.9));
    assert_eq!(steps[3].pause, None);
}

#[test]
fn frames_carry_one_frame_each_way_and_so_does_what_follows_from_them() {
    // 50 frames a second: a frame is 0.02 s.
    let clock = Clock::new(&frames(&[(0, 0), (2, 20), (2, 40), (4, 60)]), &moves("1111"), Some(50.0));
    assert_eq!(clock.uncertainty(), Some(0.02));
    let step = clock.step(2, 4);
    let pause = step.pause.expect("marked at both ends");
    assert!((pause.seconds - 0.40).abs() < 1e-9 && (pause.within - 0.04).abs() < 1e-9);
    // Two spans of 0.40 ± 0.04 s and two turns each.
    let pace = clock.pace().expect("there are spans");
    assert!((pace.seconds - 0.20).abs() < 1e-9 && (pace.within - 0.02).abs() < 1e-9);
    // 0.40 is at least 0.3 and twice 0.20, but it might be 0.36.
    assert_eq!(LongFrom::default().judge(pause, Some(pace)), Some(Long { long: true, certain: false }));
}

#[test]
fn long_is_three_tenths_and_twice_the_pace() {
    let figure = |seconds| Figure { seconds, within: 0.0 };
    let long =
        |pause, pace| LongFrom::default().judge(figure(pause), Some(figure(pace))).map(|answer| answer.long);
    assert_eq!(long(0.30, 0.15), Some(true));
    assert_eq!(long(0.29, 0.10), Some(false));
    assert_eq!(long(0.39, 0.20), Some(false));
    assert_eq!(long(0.40, 0.20), Some(true));
    // Certain is what no error of the marks or of the pace can turn round.
    let judge = |pause: (f64, f64), pace: (f64, f64)| {
        let figure = |(seconds, within)| Figure { seconds, within };
        let answer = LongFrom::default().judge(figure(pause), Some(figure(pace)));
        answer.map(|answer| (answer.long, answer.certain))
    };
    assert_eq!(judge((0.50, 0.04), (0.20, 0.02)), Some((true, true)));
    assert_eq!(judge((0.42, 0.04), (0.20, 0.00)), Some((true, false)));
    assert_eq!(judge((0.42, 0.00), (0.20, 0.02)), Some((true, false)));
    assert_eq!(judge((0.38, 0.00), (0.20, 0.00)), Some((false, true)));
    assert_eq!(judge((0.38, 0.04), (0.20, 0.00)), Some((false, false)));
    assert_eq!(judge((0.38, 0.00), (0.20, 0.02)), Some((false, false)));
    // Without a pace a short pause is still short; a longer one cannot be judged.
    assert_eq!(LongFrom::default().judge(figure(0.2), None), Some(Long { long: false, certain: true }));
    assert_eq!(LongFrom::default().judge(figure(0.5), None), None);
    let strict = LongFrom { seconds: 0.1, paces: 1.0 };
    assert_eq!(strict.judge(figure(0.12), Some(figure(0.1))).map(|answer| answer.long), Some(true));
}

/// WCA Regulations of January 1, 2024, 9f1: single results under ten minutes are measured and truncated to the
/// nearest hundredth of a second.
#[test]
fn results_are_truncated_to_hundredths() {
    assert_eq!(hundredths(Time(12_678_000)), 1267);
    assert_eq!(hundredths(Time(12_670_000)), 1267);
    assert_eq!(hundredths(Time(12_669_999)), 1266);
    let moves = moves("11");
    let timed = |end: u64| {
        let mut marks = marks(&[(0, 0), (2, 0)]);
        marks[1].time = Time(end);
        Clock::new(&marks, &moves, None)
    };
    assert_eq!(timed(12_678_000).disagreement(Time(12_670_000)), None);
    let found = timed(12_680_000).disagreement(Time(12_670_000)).expect("a hundredth apart");
    assert_eq!((found.marked.seconds, found.timer), (12.68, 12.67));
    // 9f2 (2026): from ten minutes on, truncated to the second.
    assert_eq!(timed(754_900_000).disagreement(Time(754_000_000)), None);
    assert!(timed(755_000_000).disagreement(Time(754_000_000)).is_some());
}

#[test]
fn frame_marks_agree_with_the_timer_within_two_frames() {
    let clock = Clock::new(&frames(&[(0, 10), (2, 110)]), &moves("11"), Some(50.0));
    // 2.00 ± 0.04 s.
    assert_eq!(clock.disagreement(Time(2_040_000)), None);
    assert_eq!(clock.disagreement(Time(1_960_000)), None);
    assert!(clock.disagreement(Time(2_050_000)).is_some());
    assert!(clock.disagreement(Time(1_950_000)).is_some());
}

#[test]
fn the_timer_is_held_against_the_turns_not_the_inspection() {
    // A clock that runs with the video: inspection from 3.00, turns from 10.00 to 11.50.
    let clock = clock("0011", &[(0, 300), (2, 1000), (4, 1150)]);
    assert_eq!(clock.disagreement(Time(1_500_000)), None);
    let note = clock.timer_note((Time(1_300_000), Span::new(7, 11))).expect("0.2 s apart");
    assert_eq!(note.span(), Some(Span::new(7, 11)));
    insta::assert_snapshot!(
        note.message,
        @"the timer says 1.30 s, the marks from first turn to last 1.50 s: 0.20 s apart"
    );
}

#[test]
fn marks_that_run_backwards_or_past_the_end_give_no_figures() {
    let clock = clock("11", &[(0, 100), (2, 50), (9, 500)]);
    assert_eq!((clock.pace(), clock.solve(), clock.marked()), (None, None, None));
    assert_eq!(clock.step(0, 2).total, None);
}

#[test]
fn lead_in_seconds_needs_a_mark_at_the_moment_of_seeing() {
    let clock = clock("111111", &[(0, 0), (3, 60), (6, 130)]);
    close(clock.between(3, 6), 0.70);
    assert_eq!(clock.between(2, 6), None);
}

//! Small solves of `R U R U …` with marks set by hand; every figure is worked out beside it.

use super::*;
use crate::cube::{Amount, Axis, Face};
use crate::diagnostic::Span;
use crate::steps::Kind;

/// `R`, `U`, `R`, … for every character; `y` is a rotation.
fn moves(shape: &str) -> Vec<Move> {
    let face = |i: usize| if i.is_multiple_of(2) { Face::R } else { Face::U };
    shape
        .chars()
        .enumerate()
        .map(|(i, c)| match c {
            'y' => Move::Rotation(Axis::Y, Amount::Quarter),
            _ => Move::Turn(face(i), Amount::Quarter),
        })
        .collect()
}

/// Steps one after another. A letter each, and behind every step a blank: `iyy cRUR pRU` is an inspection of two
/// rotations, a cross of three turns and a pair of two.
fn steps(shape: &str) -> (Vec<Move>, Vec<Step>) {
    let mut tokens = String::new();
    let mut steps = Vec::new();
    for word in shape.split(' ') {
        let (kind, turns) = word.split_at(1);
        let kind = match kind {
            "i" => Kind::Inspection,
            "c" => Kind::Cross,
            "p" => Kind::Pair,
            "o" => Kind::Orient,
            "l" => Kind::Permute,
            "a" => Kind::Adjust,
            _ => panic!("{kind} is no step"),
        };
        let from = tokens.len();
        tokens.push_str(turns);
        steps.push(Step { kind, from, to: tokens.len(), pairs: vec![], skips: vec![] });
    }
    (moves(&tokens), steps)
}

fn mark(moment: usize, micros: u64, frame: Option<u64>) -> Mark {
    Mark { moment, time: Time(micros), frame, span: Span::default() }
}

/// Marks as `(moment, hundredths of a second)`.
fn marks(at: &[(usize, u64)]) -> Vec<Mark> {
    at.iter().map(|&(moment, hundredths)| mark(moment, hundredths * 10_000, None)).collect()
}

/// Marks as `(moment, frame)` at 50 frames a second.
fn frames(at: &[(usize, u64)]) -> Vec<Mark> {
    at.iter().map(|&(moment, frame)| mark(moment, frame * 20_000, Some(frame))).collect()
}

fn clock(shape: &str, at: &[(usize, u64)], timer: Option<u64>) -> Clock {
    let (moves, steps) = steps(shape);
    Clock::new(&marks(at), &moves, None, &steps, timer.map(|hundredths| Time(hundredths * 10_000)))
}

/// A lapse of so many hundredths, exact.
#[expect(clippy::unnecessary_wraps, reason = "it is compared with what may be absent")]
fn cs(hundredths: u64) -> Option<Lapse> {
    Some(Lapse { micros: hundredths * 10_000, within: 0.0 })
}

#[expect(clippy::unnecessary_wraps, reason = "it is compared with what may be absent")]
fn at(hundredths: u64) -> Option<Time> {
    Some(Time(hundredths * 10_000))
}

#[track_caller]
fn close(figure: Option<Figure>, seconds: f64) {
    let figure = figure.expect("the marks support this figure");
    assert!((figure.seconds - seconds).abs() < 1e-9, "{} is not {seconds}", figure.seconds);
}

/// The places of the gaps with their hundredths and whether they are certain.
fn gaps(clock: &Clock) -> Vec<(usize, Where, u64, bool)> {
    clock.gaps().iter().map(|gap| (gap.moment, gap.place, gap.lapse.micros / 10_000, gap.certain)).collect()
}

/// Cross, two pairs, both last-layer steps; every step marked at both ends, a stop inside the second pair.
const WHOLE: (&str, &[(usize, u64)]) = (
    "iy cRUR pRURU pyRURU oRURU lRU aR",
    &[
        (1, 20),
        (4, 80),
        (4, 95),
        (8, 175),
        // A rotation between the marks: all of it is one gap.
        (8, 205),
        (9, 260),
        (11, 300),
        (11, 340),
        (13, 380),
        (13, 430),
        (17, 510),
        (17, 550),
        (19, 590),
        (19, 600),
        (20, 620),
    ],
);

#[test]
fn a_fully_marked_solve_adds_up() {
    let clock = clock(WHOLE.0, WHOLE.1, Some(650));
    assert_eq!(
        gaps(&clock),
        [
            (0, Where::Start, 20, true),
            (4, Where::Before(2), 15, true),
            (8, Where::Before(3), 85, true),
            (11, Where::Inside(3), 40, true),
            (13, Where::Before(4), 50, true),
            (17, Where::Before(5), 40, true),
            (19, Where::Before(6), 10, true),
            (20, Where::End, 30, true),
        ]
    );
    // 0.20 + 0.15 + 0.85 + 0.40 + 0.50 + 0.40 + 0.10 + 0.30 = 2.90.
    let solve = clock.solve();
    assert_eq!((solve.total, solve.stopped, solve.turning), (cs(650), cs(290), cs(360)));
    assert!(solve.certain);
    let pair = clock.step(3);
    assert_eq!((pair.start, pair.first_turn, pair.end), (at(175), at(260), at(380)));
    assert_eq!((pair.stopped_before, pair.stopped_inside), (cs(85), cs(40)));
    assert_eq!((pair.turning, pair.total), (cs(80), cs(205)));
    assert_eq!((pair.hesitation, pair.certain, pair.turns), (None, true, 4));
    assert_eq!(pair.turns_per_second(), Some(4.0 / 0.8));
    // The cross begins with the clock.
    let cross = clock.step(1);
    assert_eq!(
        (cross.start, cross.stopped_before, cross.turning, cross.total),
        (at(0), cs(20), cs(60), cs(80))
    );
    // Inspection has no turns, and so no time of its own.
    assert_eq!(clock.step(0), StepTime::default());
    // Spans of 0.60/3, 0.80/4, 0.40/2 twice, 0.80/4, 0.40/2, 0.20: all 0.20 a turn.
    close(clock.pace(), 0.20);
}

#[test]
fn without_a_timer_the_solve_ends_with_the_last_mark() {
    let clock = clock("cRU pRU", &[(0, 0), (2, 40), (2, 60), (4, 100), (4, 130)], None);
    assert_eq!(clock.solve().total, cs(130));
    assert_eq!(clock.solve().stopped, cs(20 + 30));
    assert_eq!(gaps(&clock).last(), Some(&(4, Where::End, 30, true)));
}

#[test]
fn a_timer_alone_says_how_long_and_nothing_else() {
    let clock = clock("cRU pRU", &[], Some(130));
    assert_eq!(clock.solve(), SolveTime { total: cs(130), turning: None, stopped: None, certain: true });
    assert_eq!((clock.pace(), clock.gaps().len()), (None, 0));
    // No mark parts the steps, and none stands at their ends.
    assert_eq!((clock.step(0).total, clock.step(1).total), (None, None));
}

#[test]
fn what_is_not_marked_is_not_told() {
    // One mark after another taken out of a whole account.
    let (shape, all) = WHOLE;
    for lost in 0..all.len() {
        let mut some = all.to_vec();
        let (moment, _) = some.remove(lost);
        let clock = clock(shape, &some, Some(650));
        assert_eq!(clock.solve().total, cs(650), "the timer is still there");
        if moment == 11 {
            // Inside a step a mark alone shows no gap: it counts as turning.
            assert_eq!((clock.solve().stopped, clock.solve().turning), (cs(250), cs(400)));
        } else if moment == 8 {
            // Of three marks two are left: the gap is known, if not in full. Behind the turn no mark: `y` may lie outside.
            assert!(clock.solve().stopped.is_some(), "{lost}");
        } else if moment == 9 {
            // The rotation has no mark behind it.
            assert_eq!((clock.solve().stopped, clock.solve().certain), (cs(290 - 55), false));
            assert_eq!(gaps(&clock)[2], (8, Where::Before(3), 30, false));
        } else {
            assert_eq!((clock.solve().stopped, clock.solve().turning), (None, None), "without mark {lost}");
        }
    }
}

#[test]
fn rotations_between_two_marks_are_no_turns() {
    // R 0.20, y 0.60, R U 0.40, in one step.
    let clock = clock("cR pRyRU", &[(0, 0), (1, 20), (1, 20), (2, 40), (3, 100), (5, 140)], None);
    assert_eq!(gaps(&clock), [(1, Where::Before(1), 0, true), (2, Where::Inside(1), 60, true)]);
    close(clock.pace(), 0.20);
    let pair = clock.step(1);
    assert_eq!((pair.stopped_before, pair.stopped_inside, pair.turning), (cs(0), cs(60), cs(60)));
}

#[test]
fn a_rotation_that_is_not_marked_off_makes_a_gap_uncertain() {
    let cases = [
        // Both sides of the rotation.
        ("cRU pyRU", [(0, 0), (2, 40), (3, 80), (5, 120)], true),
        // Behind the marks, so in the turning.
        ("cRU pyRU", [(0, 0), (2, 40), (2, 80), (5, 120)], false),
        // Before them.
        ("cRU pyRU", [(0, 0), (3, 40), (3, 80), (5, 120)], false),
        // One between the marks and one behind.
        ("cRU pyyRU", [(0, 0), (2, 40), (3, 80), (6, 120)], false),
        // Among the turns of the step the gap is not beside it.
        ("cRU pRyU", [(0, 0), (2, 40), (2, 80), (5, 120)], true),
    ];
    for (shape, at, certain) in cases {
        let clock = clock(shape, &at, None);
        let gap = clock.gaps()[0];
        assert_eq!((gap.place, gap.lapse.micros), (Where::Before(1), 400_000), "{shape} {at:?}");
        assert_eq!(gap.certain, certain, "{shape} {at:?}");
        assert_eq!((clock.solve().stopped, clock.solve().turning), (cs(40), cs(80)), "{shape} {at:?}");
        // Wherever a rotation lies outside a gap, the sums are not certain either.
        let sums = certain && shape != "cRU pRyU";
        assert_eq!((clock.solve().certain, clock.step(1).certain), (sums, sums), "{shape} {at:?}");
    }
}

#[test]
fn where_only_step_ends_are_marked_hesitation_is_what_the_pace_leaves_over() {
    // Four steps of four turns: 0.88, 2.00, 0.80, 1.50. The last one holds its recognition and gives no pace: of twelve turns
    // the sixth and the seventh take 0.22.
    let clock =
        clock("cRURU pRURU pRURU oRURU", &[(0, 0), (4, 88), (8, 288), (12, 368), (16, 518)], Some(518));
    close(clock.pace(), 0.22);
    let slow = clock.step(1);
    close(slow.hesitation, 2.00 - 4.0 * 0.22);
    assert_eq!(
        (slow.total, slow.turning, slow.stopped_before, slow.stopped_inside),
        (cs(200), None, None, None)
    );
    assert_eq!((slow.start, slow.first_turn, slow.end), (at(88), None, at(288)));
    // A fast step has less than none.
    close(clock.step(2).hesitation, 0.80 - 4.0 * 0.22);
    // Nothing comes before the first turn; recognition is no hesitation.
    assert_eq!((clock.step(0).hesitation, clock.step(3).hesitation), (None, None));
    assert_eq!(clock.step(0).turning, cs(88));
    // None of it is stopped time.
    let solve = clock.solve();
    assert_eq!((solve.total, solve.turning, solve.stopped), (cs(518), None, None));
}

#[test]
fn a_step_with_a_rotation_or_a_marked_gap_has_no_hesitation() {
    let at = [(0, 0), (4, 88), (9, 288), (13, 368)];
    assert_eq!(clock("cRURU pRyRUR pRURU", &at, None).step(1).hesitation, None);
    assert_eq!(clock("cRURU pyRURU pRURU", &at, None).step(1).hesitation, None);
    // The rotation is the next step's. Twelve turns: four at 0.22, three at 0.80 / 3, five at 0.40.
    let next = clock("cRURU pRURUR pyRUR", &at, None);
    close(next.step(1).hesitation, 2.00 - 5.0 * 0.80 / 3.0);
    assert_eq!(next.step(2).hesitation, None);
    let marked =
        clock("cRURU pRURUR pRURU", &[(0, 0), (4, 88), (6, 130), (6, 188), (9, 288), (13, 368)], None);
    assert_eq!((marked.step(1).hesitation, marked.solve().stopped), (None, None));
}

#[test]
fn a_pace_taken_from_one_span_gives_that_span_no_hesitation() {
    let clock = clock("cRU pRU", &[(2, 40), (4, 100)], None);
    close(clock.pace(), 0.30);
    assert_eq!((clock.step(1).total, clock.step(1).hesitation), (cs(60), None));
}

#[test]
fn recognition_is_taken_out_of_the_pace() {
    // Two pairs at 0.20 a turn, then four turns at 0.40 with the look at the last layer among them.
    let apart = [(0, 0), (4, 80), (4, 90), (8, 170), (8, 250), (12, 330)];
    let mixed = [(0, 0), (4, 80), (4, 90), (8, 170), (12, 330)];
    for at in [&apart[..], &mixed] {
        close(clock("cRURU pRURU oRURU", at, None).pace(), 0.20);
    }
    // The same of a pair is the pair's.
    let pair = clock("cRURU pRURU pRURU", &mixed, None).pace().expect("a pace");
    assert!((pair.seconds - 0.20).abs() < 1e-9, "the median of 0.2 eight times and 0.4 four times");
    // Eight turns at 0.40 would outweigh four at 0.20.
    close(clock("cRURU oRURURURU", &[(0, 0), (4, 80), (12, 400)], None).pace(), 0.20);
    close(clock("cRURU pRURURURU", &[(0, 0), (4, 80), (12, 400)], None).pace(), 0.40);
    // A mark on every turn: only the first of the last layer holds the look.
    let every = [(0, 0), (1, 20), (2, 40), (3, 140), (4, 170), (5, 200)];
    close(clock("cRU oRUR", &every, None).pace(), 0.25);
}

#[test]
fn permutation_and_adjustment_on_one_line_are_told_together() {
    let before = [(0, 0), (2, 40), (2, 60), (4, 100), (4, 150)];
    // Parted by two marks, by one, by none.
    let mut two = before.to_vec();
    two.extend([(6, 190), (6, 200), (7, 220)]);
    let apart = clock("cRU oRU lRU aR", &two, None);
    assert_eq!((apart.step(2).turning, apart.step(3).turning), (cs(40), cs(20)));
    assert_eq!((apart.step(3).stopped_before, apart.together(3)), (cs(10), None));
    assert_eq!((apart.solve().stopped, apart.solve().turning), (cs(20 + 50 + 10), cs(140)));

    let mut one = before.to_vec();
    one.extend([(6, 190), (7, 220)]);
    let once = clock("cRU oRU lRU aR", &one, None);
    assert_eq!((once.step(2).turning, once.step(3).turning, once.step(3).total), (cs(40), None, cs(30)));
    assert_eq!(once.solve().stopped, None);

    let mut none = before.to_vec();
    none.extend([(7, 220)]);
    let together = clock("cRU oRU lRU aR", &none, None);
    assert_eq!((together.step(2), together.step(3)), (StepTime::default(), StepTime::default()));
    let run = together.together(2).expect("they are measured as one");
    assert_eq!(together.together(3), Some(run));
    assert_eq!((run.steps.clone(), run.time.turning, run.time.turns), (2..4, cs(70), 3));
    assert_eq!((run.time.start, run.time.end, run.time.total), (at(100), at(220), cs(120)));
    // They are turned in one go: the solve is whole.
    assert_eq!((together.solve().stopped, together.solve().turning), (cs(20 + 50), cs(150)));
    // Two pairs on one line are not: what lies between is not known.
    let pairs = clock("cRU pRU pRU pR", &none, None);
    assert_eq!((pairs.solve().stopped, pairs.together(3).map(|run| run.steps.clone())), (None, Some(2..4)));
}

#[test]
fn a_clock_that_had_been_running_begins_with_the_first_turn() {
    // Inspection from 3.00, turns from 10.00 to 11.50.
    let video = clock("iyy cRU pRU", &[(0, 300), (2, 1000), (4, 1040), (4, 1110), (6, 1150)], None);
    assert_eq!((video.zero(), video.solve().total, video.solve().stopped), (at(1000), cs(150), cs(70)));
    assert_eq!(gaps(&video), [(4, Where::Before(2), 70, true)]);
    let cross = video.step(1);
    assert_eq!((cross.start, cross.stopped_before, cross.total), (at(1000), cs(0), cs(40)));
    // Later than the timer's result.
    let at_rest = [(2, 1000), (4, 1040), (4, 1110), (6, 1150)];
    let late = clock("iyy cRU pRU", &at_rest, Some(180));
    // What lies outside the turns may lie at either end.
    assert_eq!(gaps(&late), [(0, Where::Start, 30, false), (4, Where::Before(2), 70, true)]);
    assert_eq!((late.solve().total, late.solve().turning, late.solve().stopped), (cs(180), cs(80), cs(100)));
    assert_eq!((late.step(1).stopped_before, late.step(1).total), (None, cs(40)));
    // A timer that shows less than what was turned does not shorten it.
    assert_eq!(clock("iyy cRU pRU", &at_rest, Some(140)).solve().total, cs(150));
    // No timer and nothing before: 0 is 0.
    let zero = clock("iyy cRU pRU", &at_rest, None);
    assert_eq!(
        (zero.zero(), zero.solve().total, gaps(&zero)[0]),
        (at(0), cs(1150), (0, Where::Start, 1000, true))
    );
}

/// WCA Regulation 9f1 cuts a result to hundredths, so the last mark may lie a little behind it.
#[test]
fn a_timer_that_cuts_off_takes_nothing_away() {
    let (moves, steps) = steps("cRU pRU");
    let mut some = marks(&[(0, 0), (2, 40), (2, 60), (4, 0)]);
    some[3].time = Time(1_009_999);
    let clock = Clock::new(&some, &moves, None, &steps, Some(Time(1_000_000)));
    assert_eq!((clock.zero(), clock.solve().total.map(|lapse| lapse.micros)), (at(0), Some(1_009_999)));
    assert_eq!(clock.solve().stopped, cs(20));
    assert_eq!(clock.disagreement(Time(1_000_000)), None);
    assert!(clock.disagreement(Time(990_000)).is_some());
}

#[test]
fn frames_carry_one_frame_each_way_and_so_does_what_follows_from_them() {
    // 50 frames a second: a frame is 0.02 s. The camera had been running for two seconds.
    let (moves, steps) = steps("cRU pRU");
    let some = frames(&[(0, 100), (2, 120), (2, 140), (4, 160)]);
    let clock = Clock::new(&some, &moves, Some(50.0), &steps, None);
    assert_eq!(clock.uncertainty(), Some(0.02));
    let gap = clock.gaps()[0];
    assert_eq!((gap.lapse.micros, gap.lapse.within), (400_000, 0.04));
    // Two spans of 0.40 ± 0.04 s and two turns each.
    let pace = clock.pace().expect("there are spans");
    assert!((pace.seconds - 0.20).abs() < 1e-9 && (pace.within - 0.02).abs() < 1e-9);
    // 0.40 is at least 0.3 and twice 0.20, but it might be 0.36.
    let judged = StopFrom::default().judge(gap.lapse, Some(pace));
    assert_eq!(judged, Some(Judged { stop: true, certain: false }));
    assert_eq!(clock.solve().total, Some(Lapse { micros: 1_200_000, within: 0.04 }));
    assert_eq!(clock.zero(), Some(Time(2_000_000)));
    // 1.20 ± 0.04 s by the marks.
    assert_eq!(clock.disagreement(Time(1_240_000)), None);
    assert_eq!(clock.disagreement(Time(1_160_000)), None);
    assert!(clock.disagreement(Time(1_250_000)).is_some());
    assert!(clock.disagreement(Time(1_150_000)).is_some());
}

#[test]
fn a_stop_is_three_tenths_and_twice_the_pace() {
    let figure = |(seconds, within)| Figure { seconds, within };
    let judge = |gap, pace| {
        let answer = StopFrom::default().judge(figure(gap), Some(figure(pace)));
        answer.map(|answer| (answer.stop, answer.certain))
    };
    assert_eq!(judge((0.30, 0.0), (0.15, 0.0)), Some((true, true)));
    assert_eq!(judge((0.29, 0.0), (0.10, 0.0)), Some((false, true)));
    assert_eq!(judge((0.39, 0.0), (0.20, 0.0)), Some((false, true)));
    assert_eq!(judge((0.40, 0.0), (0.20, 0.0)), Some((true, true)));
    // Certain is what no error of the marks or of the pace can turn round.
    assert_eq!(judge((0.50, 0.04), (0.20, 0.02)), Some((true, true)));
    assert_eq!(judge((0.42, 0.04), (0.20, 0.00)), Some((true, false)));
    assert_eq!(judge((0.42, 0.00), (0.20, 0.02)), Some((true, false)));
    assert_eq!(judge((0.38, 0.04), (0.20, 0.00)), Some((false, false)));
    assert_eq!(judge((0.38, 0.00), (0.20, 0.02)), Some((false, false)));
    // Without a pace a short gap is still short; a longer one cannot be judged.
    let unpaced = |seconds| StopFrom::default().judge(figure((seconds, 0.0)), None);
    assert_eq!(unpaced(0.2), Some(Judged { stop: false, certain: true }));
    assert_eq!(unpaced(0.5), None);
    let strict = StopFrom { seconds: 0.1, paces: 1.0 };
    let answer = strict.judge(figure((0.12, 0.0)), Some(figure((0.1, 0.0))));
    assert_eq!(answer.map(|answer| answer.stop), Some(true));
    assert_eq!(StopFrom::default().threshold(figure((0.2, 0.0))), 0.4);
}

#[test]
fn the_pace_is_the_median_over_turns() {
    // 2 turns at 0.50, 4 at 0.20, 3 at 0.30. In order the nine turns are 0.20 four times, 0.30 three times, 0.50 twice: the
    // fifth is 0.30.
    close(clock("cRURURURUR", &[(0, 0), (2, 100), (2, 150), (6, 230), (9, 320)], None).pace(), 0.30);
    // The mean of the middle two.
    close(clock("cRU", &[(0, 0), (1, 10), (2, 40)], None).pace(), 0.20);
}

#[test]
fn marks_that_run_backwards_or_past_the_end_leave_no_sums() {
    let back = clock("cRU pRU", &[(0, 100), (2, 50), (2, 40), (4, 120), (9, 500)], None);
    assert_eq!((back.solve().turning, back.solve().stopped, back.gaps().len()), (None, None, 1));
    assert_eq!((back.marks(), gaps(&back)[0].1), (4, Where::Start));
    let nothing = Clock::new(&[], &[], None, &[], None);
    assert_eq!((nothing.solve(), nothing.pace(), nothing.marked()), (SolveTime::default(), None, None));
    assert_eq!(nothing.step(0), StepTime::default());
    let still = clock("iyy", &[(0, 0), (2, 100)], Some(100));
    assert_eq!((still.solve(), still.gaps().len()), (SolveTime::default(), 0));
}

#[test]
fn two_marks_at_a_moment_part_what_ended_there_from_what_began() {
    let clock = clock("cRU pRU", &[(0, 0), (2, 60), (2, 100), (4, 150), (4, 190)], None);
    assert_eq!(clock.at(2), at(100));
    assert_eq!((clock.between(0, 2), clock.between(2, 4), clock.between(1, 4)), (cs(60), cs(50), None));
    assert_eq!(clock.marked(), cs(190));
}

//! Timing marks as the W3C's WebVTT defines its timestamps, and the figures of a timed solve from its text.

use crate::support::random::Random;
use cornerwise::clock::{Clock, Lapse, StopFrom};
use cornerwise::cube::Move;
use cornerwise::notation::{Element, Options, Time, Turns, parse_all};
use cornerwise::steps::{Kind, Step};

/// "Collect a WebVTT timestamp", section 6.3 ("WebVTT cue timings and settings parsing") of the W3C Candidate
/// Recommendation of 4 April 2019, step by step; from memory. In milliseconds; `None` is the spec's error. That
/// a cue text holds such a timestamp between `<` and `>` is section 4.2.2 ("WebVTT cue timestamp").
fn collect_a_webvtt_timestamp(input: &str) -> Option<u64> {
    let input: Vec<char> = input.chars().collect();
    let mut position = 0;
    let digits = |position: &mut usize| -> Option<(usize, u64)> {
        let from = *position;
        while input.get(*position).is_some_and(char::is_ascii_digit) {
            *position += 1;
        }
        let text: String = input[from..*position].iter().collect();
        Some((*position - from, text.parse().ok()?))
    };
    let one = |position: &mut usize, wanted: char| -> Option<()> {
        (input.get(*position) == Some(&wanted)).then(|| *position += 1)
    };
    let (length, mut value1) = digits(&mut position)?;
    let hours = length != 2 || value1 > 59;
    one(&mut position, ':')?;
    let (length, mut value2) = digits(&mut position)?;
    if length != 2 {
        return None;
    }
    let value3;
    if hours || input.get(position) == Some(&':') {
        one(&mut position, ':')?;
        let (length, value) = digits(&mut position)?;
        if length != 2 {
            return None;
        }
        value3 = value;
    } else {
        (value3, value2, value1) = (value2, value1, 0);
    }
    one(&mut position, '.')?;
    let (length, value4) = digits(&mut position)?;
    if length != 3 || value2 > 59 || value3 > 59 {
        return None;
    }
    // The algorithm stops here; between `<` and `>` nothing may follow.
    (position == input.len()).then_some(((value1 * 60 + value2) * 60 + value3) * 1000 + value4)
}

/// The one mark in `<timestamp> R`, in microseconds, and how many notes and faults it was worth.
fn read_mark(timestamp: &str) -> (Option<u64>, usize) {
    let (turns, said) = parse_all(&format!("<{timestamp}> R"), &Options::default());
    (turns.marks.first().map(|mark| mark.time.0), said.len())
}

#[test]
fn webvtt_timestamps_are_read_as_the_w3c_says() {
    // The first three are examples of the Recommendation, section 1 (from memory).
    let table = [
        ("00:11.000", Some(11_000)),
        ("00:00:00.500", Some(500)),
        ("00:06:30.625", Some(390_625)),
        ("00:03.420", Some(3_420)),
        ("59:59.999", Some(3_599_999)),
        ("01:00:00.000", Some(3_600_000)),
        ("99:59:59.999", Some(359_999_999)),
        ("00:60.000", None),
        ("00:60:00.000", None),
        ("75:00.000", None),
        ("00:03.42", None),
        ("00:03.4200", None),
        ("00:3.420", None),
        ("00:03,420", None),
        ("00:03", None),
    ];
    for (timestamp, millis) in table {
        assert_eq!(collect_a_webvtt_timestamp(timestamp), millis, "the test's own reader of {timestamp}");
        let (micros, said) = read_mark(timestamp);
        match millis {
            Some(millis) => assert_eq!((micros, said), (Some(millis * 1000), 0), "{timestamp}"),
            // Not a timestamp: understood all the same or not, but never without a word.
            None => assert!(said > 0, "{timestamp} is read as {micros:?} without a word"),
        }
    }
}

#[test]
fn whatever_webvtt_takes_is_read_alike() {
    let mut random = Random::new(31);
    let mut taken = 0;
    for _ in 0..20_000 {
        let mut number = |most: usize| {
            let digits = [2, 2, 2, 2, 1, 3][random.below(6)];
            format!("{:0digits$}", random.below(most))
        };
        let (hours, minutes, seconds) = (number(100), number(70), number(70));
        let digits = [3, 3, 3, 2][random.below(4)];
        let fraction = format!("{:0digits$}", random.below(10_usize.pow(digits as u32)));
        let timestamp = match random.below(2) {
            0 => format!("{hours}:{minutes}:{seconds}.{fraction}"),
            _ => format!("{minutes}:{seconds}.{fraction}"),
        };
        let (micros, said) = read_mark(&timestamp);
        match collect_a_webvtt_timestamp(&timestamp) {
            Some(millis) => {
                assert_eq!(micros, Some(millis * 1000), "{timestamp}");
                taken += 1;
            }
            None => assert!(said > 0, "{timestamp} is read as {micros:?} without a word"),
        }
    }
    assert!(taken > 3000, "{taken} of them were timestamps");
}

fn read(text: &str, fps: Option<f64>) -> (Turns, Vec<Move>) {
    let (turns, said) = parse_all(text, &Options { fps });
    assert!(said.is_empty(), "{said:?}");
    let moves = turns
        .tokens
        .iter()
        .map(|token| match token.element {
            Element::Move(mv) => mv,
            _ => panic!("only moves are written here"),
        })
        .collect();
    (turns, moves)
}

/// Two steps, the second from this moment on.
fn two_steps(at: usize, end: usize) -> [Step; 2] {
    let step = |kind, from, to| Step { kind, from, to, pairs: Vec::new(), skips: Vec::new() };
    [step(Kind::Cross, 0, at), step(Kind::Pair, at, end)]
}

#[test]
fn a_timed_solve_from_its_text() {
    let (turns, moves) = read("<0.00> R' D' L F D <1.12>\n<1.40> y U R U' R' <2.31>", None);
    let clock = Clock::new(&turns.marks, &moves, None, &two_steps(5, 10), None);
    let pace = clock.pace().expect("there are spans");
    // Five turns in 1.12 s are 0.224 each, four in 0.91 s 0.2275: of nine turns the fifth in order is 0.224.
    assert!((pace.seconds - 0.224).abs() < 1e-9);
    let gap = clock.step(1).stopped_before.expect("marked at both ends");
    assert_eq!(gap, Lapse { micros: 280_000, within: 0.0 });
    assert_eq!(StopFrom::default().judge(gap, Some(pace)).map(|answer| answer.stop), Some(false));
    assert_eq!(clock.disagreement(Time(2_310_000)), None);
}

#[test]
fn the_three_forms_of_a_mark_give_the_same_figures() {
    let seconds = read("<0.50> R U <1.10> <1.60> R' U' <2.40>", None);
    let webvtt = read("<00:00.500> R U <00:01.100> <00:01.600> R' U' <00:00:02.400>", None);
    let frames = read("<50f> R U <110f> <160f> R' U' <240f>", Some(100.0));
    let clock = |(turns, moves): &(Turns, Vec<Move>), fps| {
        Clock::new(&turns.marks, moves, fps, &two_steps(2, 4), None)
    };
    let (a, b, c) = (clock(&seconds, None), clock(&webvtt, None), clock(&frames, Some(100.0)));
    assert_eq!(a.step(1), b.step(1));
    let (exact, framed) = (a.step(1), c.step(1));
    let micros = |lapse: Option<Lapse>| lapse.map(|lapse| lapse.micros);
    assert_eq!(micros(exact.stopped_before), Some(500_000));
    assert_eq!(micros(exact.stopped_before), micros(framed.stopped_before));
    assert_eq!(micros(exact.total), micros(framed.total));
    assert_eq!((exact.start, exact.end), (framed.start, framed.end));
    // Only the frames say that they are not exact: one frame of 0.01 s at each end.
    assert_eq!(exact.stopped_before.map(|gap| gap.within), Some(0.0));
    assert_eq!(framed.stopped_before.map(|gap| gap.within), Some(0.02));
    assert_eq!((a.uncertainty(), c.uncertainty()), (None, Some(0.01)));
}

//! Figures beside claims: `// pair 1 (4/10)`, `// OLL 7.99`. Turn counts are held against the turns; times become marks
//! where they have one meaning only.
//!
//! Times are the seconds of each step, which add up to the result, or a running clock, which ends at it. If both fit,
//! or neither, they stay words and a note says so.

use crate::cube::Move;
use crate::findings;
use crate::notation::{self, Element, Mark, Time};
use crate::record::Record;
use crate::replay::Replay;
use crate::steps::{self, claims};

/// Fewer steps with a figure say nothing.
const FEWEST: usize = 3;

/// A solve has no more remarks than this.
const MOST: usize = 200;

/// A hundredth of a second: what a written time may be off by, cut or rounded.
const HUNDREDTH: u64 = 10_000;

/// The figures of one claim.
#[derive(Debug, Default)]
struct Figures {
    times: Vec<Time>,
    turns: Option<usize>,
    so_far: Option<usize>,
}

/// Reads the figures in a record's comments.
pub(super) fn read(record: &mut Record) {
    let turns = &record.solution;
    let figured =
        turns.comments.iter().filter(|comment| comment.text.contains(|c: char| c.is_ascii_digit())).count();
    if figured < FEWEST
        || turns.comments.len() > MOST
        || !turns.tokens.iter().all(|token| matches!(token.element, Element::Move(_)))
    {
        return;
    }
    let figures: Vec<Figures> = turns.comments.iter().map(|comment| figures(&comment.text)).collect();
    let with_times = figures.iter().filter(|figures| !figures.times.is_empty()).count();
    let with_turns = figures.iter().filter(|figures| figures.turns.is_some()).count();
    let times_wanted = with_times >= FEWEST && turns.marks.is_empty();
    if !times_wanted && with_turns < FEWEST {
        return;
    }
    let replay = Replay::new(record.scramble.playable(), turns.playable());
    let solve = steps::split(&replay);
    let checked = claims::check(turns, &solve, &replay);
    // Each claim with its own figures and those that stand behind its turns in a remark of their own.
    let mut rows: Vec<(usize, usize, Figures, crate::diagnostic::Span)> = Vec::new();
    for claim in &checked {
        let mut own = Figures::default();
        for (comment, figures) in turns.comments.iter().zip(&figures) {
            let alone = comment.moment == claim.to && !comment.text.contains(char::is_alphabetic);
            if comment.span == claim.span || alone {
                own.times.extend(&figures.times);
                own.turns = own.turns.or(figures.turns);
                own.so_far = own.so_far.or(figures.so_far);
            }
        }
        // Words that are no claim, such as `inspection (2)`, end a stretch too.
        let counted = turns.comments.iter().zip(&figures).filter(|(_, figures)| figures.turns.is_some());
        let ends = counted.map(|(comment, _)| comment.moment).filter(|&m| m > claim.from && m < claim.to);
        rows.push((ends.max().unwrap_or(claim.from), claim.to, own, claim.span));
    }
    if with_turns >= FEWEST {
        check_turns(record, &replay.moves, &rows);
    }
    if times_wanted {
        let alone = alone(record, &figures);
        take_times(record, &rows, &alone);
    }
}

/// The times as they stand, whatever is called what: each with the turns since the one before, or, where the first stands
/// before all turns, up to the next. Empty unless every turn has its time.
fn alone(record: &Record, figures: &[Figures]) -> Vec<Row> {
    let turns = &record.solution;
    let mut rows: Vec<Row> = Vec::new();
    for (comment, figures) in
        turns.comments.iter().zip(figures).filter(|(_, figures)| !figures.times.is_empty())
    {
        match rows.last_mut() {
            Some((_, to, own, _)) if *to == comment.moment => own.times.extend(&figures.times),
            _ => {
                let own = Figures { times: figures.times.clone(), ..Figures::default() };
                rows.push((0, comment.moment, own, comment.span));
            }
        }
    }
    let last = turns.tokens.len();
    // Where times stand before their turns, the first of them stands behind the scramble.
    if rows.last().is_some_and(|row| row.1 < last)
        && let Some(first) =
            record.scramble.comments.iter().rfind(|comment| comment.moment == record.scramble.tokens.len())
    {
        let own = self::figures(&first.text);
        if !own.times.is_empty() {
            rows.insert(0, (0, 0, own, first.span));
        }
    }
    if rows.first().is_some_and(|(_, moment, ..)| *moment == 0) {
        let ends: Vec<usize> = rows[1..].iter().map(|row| row.1).chain([last]).collect();
        rows.iter_mut().zip(ends).for_each(|(row, end)| row.1 = end);
    }
    if rows.last().is_none_or(|row| row.1 != last) {
        return Vec::new();
    }
    for n in 1..rows.len() {
        rows[n].0 = rows[n - 1].1;
    }
    rows
}

/// The figures of a comment behind its words.
fn figures(text: &str) -> Figures {
    let mut figures = Figures::default();
    let mut rest = text;
    while let Some(at) = rest.find(|c: char| c.is_ascii_digit()) {
        let before = rest[..at].chars().next_back();
        let tail = &rest[at..];
        let length = tail.find(|c: char| !(c.is_ascii_digit() || ".,:/".contains(c))).unwrap_or(tail.len());
        let word = tail[..length].trim_end_matches(['.', ',', ':', '/']);
        let next = tail[word.len()..].chars().next();
        rest = &tail[length.max(1)..];
        let parts: Vec<&str> = word.split('/').collect();
        let is_time = |part: &&str| part.contains(['.', ',']) && notation::read_time(part).is_ok();
        if parts.iter().all(is_time) {
            let unit = next.is_none_or(|c| !c.is_alphabetic() || c == 's');
            if unit && !tail[word.len()..].trim_start().to_ascii_lowercase().starts_with("tps") {
                figures.times.extend(parts.iter().filter_map(|part| notation::read_time(part).ok()));
            }
            continue;
        }
        // `(7)`, `(7/15)`, `7/15`; a number without brackets or slash may be anything.
        let bracketed =
            matches!(before, Some('(' | '[')) && next.is_none_or(|c| matches!(c, ')' | ']' | ' '));
        let numbers: Option<Vec<usize>> = parts.iter().map(|part| part.parse().ok()).collect();
        match numbers.as_deref() {
            Some([turns, so_far]) => (figures.turns, figures.so_far) = (Some(*turns), Some(*so_far)),
            Some([turns]) if bracketed => figures.turns = Some(*turns),
            _ => {}
        }
    }
    figures
}

type Row = (usize, usize, Figures, crate::diagnostic::Span);

/// Says so where counts of turns are not those of the turns, in the metric that fits the most of them.
fn check_turns(record: &mut Record, moves: &[Move], rows: &[Row]) {
    let metrics: [fn(&Move) -> usize; 3] =
        [|mv| mv.obtm(), |mv| mv.etm(), |mv| usize::from(!mv.is_rotation())];
    let wrong = |metric: &fn(&Move) -> usize| -> Vec<(usize, String)> {
        let count = |from: usize, to: usize| moves[from..to.max(from)].iter().map(metric).sum::<usize>();
        let mut wrong = Vec::new();
        for (n, (from, to, figures, _)) in rows.iter().enumerate() {
            if let Some(turns) = figures.turns
                && turns != count(*from, *to)
            {
                wrong.push((n, format!("{turns} here, {} in the turns", count(*from, *to))));
            } else if let Some(so_far) = figures.so_far
                && so_far != count(0, *to)
            {
                wrong.push((n, format!("{so_far} so far, {} in the turns", count(0, *to))));
            }
        }
        wrong
    };
    let least = metrics.iter().map(wrong).min_by_key(Vec::len).unwrap_or_default();
    let Some((first, told)) = least.first() else { return };
    let note = findings::figures_differ(told).at(rows[*first].3);
    let note = least[1..].iter().fold(note, |note, (n, told)| note.also(rows[*n].3, told));
    record.diagnostics.push(note);
}

/// How many times every step has; `None` where that differs, or there are too few steps.
fn times_a_step(rows: &[&Row]) -> Option<usize> {
    let n = rows.first().map(|(.., figures, _)| figures.times.len())?;
    let alike = rows.iter().all(|(.., figures, _)| figures.times.len() == n);
    (rows.len() >= FEWEST && alike && (1..=2).contains(&n)).then_some(n)
}

/// Makes marks of times that have one meaning only: those of the claims, or, where not every claim has one, those that
/// stand `alone`.
fn take_times(record: &mut Record, rows: &[Row], alone: &[Row]) {
    let mut timed: Vec<&Row> = rows.iter().filter(|(from, to, ..)| from < to).collect();
    if times_a_step(&timed).is_none() {
        timed = alone.iter().filter(|(from, to, ..)| from < to).collect();
    }
    let first = timed.iter().copied().chain(rows).find(|(.., figures, _)| !figures.times.is_empty());
    let Some((.., place)) = first else { return };
    let place = *place;
    let mut found: Vec<Vec<Time>> = Vec::new();
    if let Some((result, _)) = record.time
        && let Some(per_step) = times_a_step(&timed)
    {
        let column = |n: usize| timed.iter().map(|(.., figures, _)| figures.times[n]).collect::<Vec<Time>>();
        let readings: Vec<Option<Vec<Time>>> = match per_step {
            1 => vec![as_steps(&column(0), result), as_clock(&column(0), result)],
            _ => [(0, 1), (1, 0)]
                .into_iter()
                .map(|(step, clock)| {
                    as_clock(&column(clock), result).filter(|_| as_steps(&column(step), result).is_some())
                })
                .collect(),
        };
        found = readings.into_iter().flatten().collect();
        found.dedup();
    }
    if let [times] = found.as_slice() {
        let marks = timed.iter().zip(times).map(|((_, to, _, span), &time)| Mark {
            moment: *to,
            time,
            frame: None,
            span: *span,
        });
        record.solution.marks = marks.collect();
        record.solution.marks.sort_by_key(|mark| mark.moment);
        return;
    }
    let open = if record.time.is_none() { findings::figures_untimed() } else { findings::figures_open() };
    record.diagnostics.push(open.at(place));
}

/// The clock at the end of each step, if these are the seconds of each.
fn as_steps(times: &[Time], result: Time) -> Option<Vec<Time>> {
    let mut clock = 0;
    let mut ends: Vec<Time> = times
        .iter()
        .map(|time| {
            clock += time.0;
            Time(clock)
        })
        .collect();
    let slack = HUNDREDTH * (times.len() as u64 / 2 + 1);
    if clock.abs_diff(result.0) > slack {
        return None;
    }
    // Hundredths lost in the steps do not run past the result.
    for end in &mut ends {
        *end = (*end).min(result);
    }
    Some(ends)
}

/// The same if it is a running clock.
fn as_clock(times: &[Time], result: Time) -> Option<Vec<Time>> {
    let last = times.last()?;
    (times.is_sorted() && last.0.abs_diff(result.0) <= HUNDREDTH).then(|| times.to_vec())
}

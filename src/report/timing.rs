//! What the terminal shows while a solve is timed beside its video: a row a step, the tap that comes next, the keys.
//!
//! Numbers stand left and stay in place however long the turns are; one arrow and words say what the next tap means.

use owo_colors::OwoColorize;

use super::look::{Look, columns};
use crate::harmless::one_line;
use crate::notation::Time;
use crate::timing::{Event, Row, Sheet, Tapper, Taps};

/// What is shown of a solve that is being timed.
#[derive(Debug, Clone, Copy)]
pub struct Shown<'a> {
    /// Whose solve.
    pub heading: &'a str,
    /// What is asked for.
    pub sheet: &'a Sheet,
    /// Whether first turns are asked for.
    pub taps: Taps,
    /// The taps, and how the clock stands.
    pub tapper: &'a Tapper,
    /// The times to show: the taps, or what they were fitted to.
    pub times: &'a [Time],
    /// What the clock shows.
    pub clock: Time,
    /// The timer's result.
    pub timer: Option<Time>,
    /// Frames a second, by which the arrows nudge.
    pub fps: f64,
    /// How many marks the record has, which give way.
    pub marks: usize,
    /// Something to say of the last key; may be empty.
    pub remark: &'a str,
}

/// Columns of the names, and of a time.
const NAME: usize = 8;
const TIME: usize = 8;
/// Where the turns begin.
const GAP: usize = 4;

/// The screen, as many lines as `height` has room for, none wider than the look's width. Where the rows do not all fit,
/// those around the next tap are shown.
#[must_use]
pub fn screen(shown: &Shown<'_>, look: &Look, height: usize) -> Vec<String> {
    let mut lines = vec![title(shown, look), said(shown, look), head(shown, look)];
    let keys = keys(shown, look);
    let rows: Vec<String> = (0..shown.sheet.rows.len()).map(|row| row_line(shown, row, look)).collect();
    let next = shown.sheet.cues.get(shown.times.len()).map_or(rows.len(), |cue| cue.row);
    // The keys go before a row does.
    let room = height.saturating_sub(lines.len()).max(1);
    let with_keys = rows.len() + 1 + keys.len() <= room;
    let n_rows = rows.len().min(room);
    let first = next.saturating_sub(n_rows / 2).min(rows.len() - n_rows);
    lines.extend(rows.into_iter().skip(first).take(n_rows));
    if with_keys {
        lines.push(String::new());
        lines.extend(keys);
    }
    lines.truncate(height.max(1));
    lines
}

/// Whose solve, and the clock.
fn title(shown: &Shown<'_>, look: &Look) -> String {
    let clock = hundredths(shown.clock);
    let figure = match shown.timer {
        Some(timer) => format!("clock {clock:>5} of {timer} s"),
        None => format!("clock {clock:>5} s"),
    };
    let figure = cut(&figure, look.width.saturating_sub(1), look);
    let heading = cut(&one_line(shown.heading), look.width.saturating_sub(columns(&figure) + 2), look);
    let gap = look.width.saturating_sub(columns(&heading) + columns(&figure)).max(1);
    format!("{}{}{figure}", heading.style(look.palette.strong), " ".repeat(gap))
}

/// What there is to say: of the last key, of a pause, of marks that give way.
fn said(shown: &Shown<'_>, look: &Look) -> String {
    let words = if !shown.remark.is_empty() {
        shown.remark.to_owned()
    } else if shown.tapper.is_paused() {
        let last = shown.times.last().filter(|last| **last == shown.clock);
        let place = last.map_or(String::new(), |last| format!(" at the last tap, {last}"));
        format!("paused{place}; p goes on")
    } else if shown.marks > 0 && shown.times.is_empty() {
        let those = if shown.marks == 1 { "mark gives" } else { "marks give" };
        format!("the record's {} {those} way, if you write", shown.marks)
    } else {
        String::new()
    };
    cut(&words, look.width, look).style(look.palette.middling).to_string()
}

fn head(shown: &Shown<'_>, look: &Look) -> String {
    let titles = match shown.taps {
        Taps::Both => ["first", "last", "stop"].as_slice(),
        Taps::Ends => &["end", "time"],
    };
    let cells: String = titles.iter().map(|title| format!("{title:>TIME$}")).collect();
    let line = format!("{}{cells}", " ".repeat(name_width(shown) - 2));
    cut(&line, look.width, look).style(look.palette.dim).to_string()
}

/// The widest name, and the gap behind it.
fn name_width(shown: &Shown<'_>) -> usize {
    shown.sheet.rows.iter().map(|row| columns(&row.name)).max().unwrap_or(0).max(NAME)
}

fn row_line(shown: &Shown<'_>, index: usize, look: &Look) -> String {
    let row = &shown.sheet.rows[index];
    let n_taken = shown.times.len();
    let next = shown.sheet.cues.get(n_taken).filter(|cue| cue.row == index);
    let started = row.start.is_none_or(|start| start < n_taken);
    let time = |cue: usize| shown.times.get(cue).copied();
    let cell = |time: Option<Time>, waits: bool| match time {
        Some(time) => time.to_string(),
        None if waits => "...".to_owned(),
        None => String::new(),
    };
    let is_next = |cue: usize| next.is_some() && cue == n_taken;
    // Of a row whose turns are under way, the end is what is waited for.
    let end = cell(time(row.end), next.is_some() && started);
    let before = (index > 0).then(|| shown.sheet.rows[index - 1].end).and_then(time);
    let cells = match shown.taps {
        Taps::Both => {
            let start = row.start.and_then(time);
            let stop = start.zip(before).map(|(start, before)| Time(start.0 - before.0));
            vec![cell(start, row.start.is_some_and(is_next)), end, cell(stop, false)]
        }
        Taps::Ends => {
            let from = if index == 0 { time(0) } else { before };
            vec![end, cell(time(row.end).zip(from).map(|(end, from)| Time(end.0 - from.0)), false)]
        }
    };
    let cells: String = cells.iter().map(|cell| format!("{cell:>TIME$}")).collect();
    let width = name_width(shown) - 2;
    let mut line = format!("{:<width$}{cells}{}", cut(&row.name, width, look), " ".repeat(GAP));
    let arrow = match next {
        Some(cue) => format!("  {} {}", if look.unicode { "←" } else { "<-" }, meaning(cue.event, row)),
        None => String::new(),
    };
    let room = look.width.saturating_sub(columns(&line) + columns(&arrow));
    line.push_str(&cut(&one_line(&row.tokens), room, look));
    let line = cut(&line, look.width, look);
    if next.is_none() {
        return line;
    }
    let arrow = cut(&arrow, look.width.saturating_sub(columns(&line)), look);
    format!("{}{}", line.style(look.palette.strong), arrow.style(look.palette.middling))
}

/// What the next tap means.
fn meaning(event: Event, row: &Row) -> String {
    match event {
        Event::Start => "tap at its first turn".into(),
        Event::Turn { n, of } => format!("tap after turn {n} of {of}"),
        Event::End if row.is_pair => "tap when it is in".into(),
        Event::End => "tap when it is done".into(),
    }
}

fn keys(shown: &Shown<'_>, look: &Look) -> Vec<String> {
    let frame =
        if shown.fps.fract() == 0.0 { format!("1/{}", shown.fps) } else { format!("1/{:.2}", shown.fps) };
    let space = if shown.taps == Taps::Both { "first turn, then its end" } else { "the end of a step" };
    [
        format!("space      {space:<32}p  pause      r  start over"),
        format!("backspace  {:<32}w  write to the file", "take the last tap back"),
        format!("left/right {:<32}q  leave, nothing written", format!("nudge the last tap by {frame} s")),
    ]
    .iter()
    .map(|line| cut(line, look.width, look).style(look.palette.dim).to_string())
    .collect()
}

/// The keys when every tap is in and the brief is shown.
#[must_use]
pub fn closing_keys(fitted: Option<bool>, brief: bool, fps: f64, look: &Look) -> Vec<String> {
    let fit = match fitted {
        Some(true) => "f  the times as tapped",
        Some(false) => "f  fit to the timer's result",
        None => "",
    };
    let frame = if fps.fract() == 0.0 { format!("1/{fps}") } else { format!("1/{fps:.2}") };
    let other = if brief { "t          the taps" } else { "t          what the times say" };
    [
        format!("{other:<43}w  write to the file"),
        format!("backspace  {:<32}q  leave, nothing written", "take the last tap back"),
        format!("left/right {:<32}r  start over   {fit}", format!("nudge the last tap by {frame} s")),
    ]
    .iter()
    .map(|line| cut(line.trim_end(), look.width, look).style(look.palette.dim).to_string())
    .collect()
}

/// The clock while it runs, to hundredths.
fn hundredths(time: Time) -> String {
    format!("{}.{:02}", time.0 / 1_000_000, time.0 / 10_000 % 100)
}

/// As much of a text as fits; the last column says that there is more.
fn cut(text: &str, width: usize, look: &Look) -> String {
    if columns(text) <= width {
        return text.to_owned();
    }
    let sign = if look.unicode { "…" } else { "~" };
    let mut kept = String::new();
    for c in text.chars() {
        kept.push(c);
        if columns(&kept) + 1 > width {
            kept.pop();
            break;
        }
    }
    if width > 0 {
        kept.push_str(sign);
    }
    kept
}

#[cfg(test)]
mod tests {
    use std::time::Duration;

    use super::*;
    use crate::diagnostic::Source;
    use crate::record;
    use crate::study::Study;
    use crate::timing::{Each, Frames, Way};

    const FORK: &str = include_str!("../../reconstructions/fork-after-first-pair.yaml");

    /// The second solve of the fork with its own times tapped, as far as the first `n_taps`.
    fn at(n_taps: usize, way: Way, look: &Look, height: usize, remark: &str) -> Vec<String> {
        let source = Source::new("fork.yaml", FORK);
        let reading = record::read(&source);
        let record = &reading.records[1];
        let study = Study::new(&source, 2, record);
        let sheet = Sheet::new(&study, way);
        let mut tapper = Tapper::new(sheet.cues.len(), 0.25, Frames::new(60.0));
        // The record's own marks; between them, for every turn, a tenth of a second each.
        let own: Vec<u64> = record.solution.marks.iter().map(|mark| mark.time.0).collect();
        let both = Sheet::new(&study, Way::default());
        let mut last = 0;
        for cue in sheet.cues.iter().take(n_taps) {
            let known =
                both.cues.iter().position(|other| other.moment == cue.moment && other.event == cue.event);
            last = known.map_or(last + 100_000, |index| own[index]);
            tapper.tap(Duration::from_micros(4 * last));
        }
        let clock = tapper.clock(Duration::from_micros(4 * (last + 950_000)));
        let times = tapper.times();
        let timer = record.time.map(|(time, _)| time);
        let heading = "Quay Practice, same scramble, stops · me";
        let shown = Shown {
            heading,
            sheet: &sheet,
            taps: way.taps,
            tapper: &tapper,
            times: &times,
            clock,
            timer,
            fps: 60.0,
            marks: 14,
            remark,
        };
        screen(&shown, look, height)
    }

    #[test]
    fn while_tapping() {
        let shown = at(7, Way::default(), &Look::plain(), 24, "").join("\n");
        assert!(include_str!("../../docs/clock.md").contains(&shown), "docs/clock.md shows another screen");
        insta::assert_snapshot!(shown);
        insta::assert_snapshot!(at(0, Way::default(), &Look::plain(), 24, "").join("\n"));
        let ends = Way { taps: Taps::Ends, each: Each::Step };
        insta::assert_snapshot!(at(4, ends, &Look { unicode: false, ..Look::plain() }, 24, "").join("\n"));
        let turns = Way { taps: Taps::Both, each: Each::Turn };
        insta::assert_snapshot!(at(10, turns, &Look::plain(), 24, "every tap is in").join("\n"));
    }

    #[test]
    fn whatever_the_terminal_the_next_tap_is_in_sight_and_nothing_is_wider() {
        for width in [20, 40, 60, 80, 200] {
            for height in [1, 4, 6, 10, 24, 60] {
                for taps in 0..=14 {
                    let look = Look { width, ..Look::plain() };
                    let lines = at(taps, Way::default(), &look, height, "");
                    assert!(lines.len() <= height && !lines.is_empty());
                    let widest = lines.iter().map(|line| columns(line)).max().unwrap_or(0);
                    assert!(widest <= width, "{width}: {lines:#?}");
                    let arrows = lines.iter().filter(|line| line.contains('←')).count();
                    let shown = taps < 14 && height > 3 && width > 36;
                    assert_eq!(arrows, usize::from(shown), "{width}x{height} {taps}: {lines:#?}");
                }
            }
        }
    }
}

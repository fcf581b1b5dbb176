//! The taps beside a video: keys in, a screen out.
//!
//! What a key does is worked out by [`Taping`], which is told when it was pressed and knows no terminal; the loop below
//! reads the keys and draws. Only the lines that changed are written again.

use std::fmt::Write as _;
use std::io;
use std::time::{Duration, Instant};

use cornerwise::notation::Time;
use cornerwise::report::look::Look;
use cornerwise::report::timing::{Shown, closing_keys, screen};
use cornerwise::timing::{Frames, Heard, Sheet, Tapper, Way, fitted};

use super::super::outlet;
use super::terminal::{Key, Raw, Seen};

/// What is timed.
pub(super) struct Table<'a> {
    pub(super) heading: &'a str,
    pub(super) sheet: &'a Sheet,
    pub(super) way: Way,
    pub(super) timer: Option<Time>,
    pub(super) frames: Frames,
    pub(super) speed: f64,
    /// How many marks the record has.
    pub(super) marks: usize,
    /// Whether the times are to be fitted to the timer's result.
    pub(super) fit: bool,
}

/// How the screen was left.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Left {
    /// These times are to be written.
    Write(Vec<Time>),
    /// Nothing is to be written.
    Quit(Vec<Time>),
    /// By Ctrl-C, or because the terminal has ended.
    Broken(Vec<Time>),
}

/// What the times say, and how they differ from the timer's result.
pub(super) type Brief<'a> = &'a dyn Fn(&[Time]) -> (String, String);

/// How often the clock on the screen moves.
const TICK: Duration = Duration::from_millis(50);

/// Shows the screen until it is left. The terminal is as it was then, however that comes about.
pub(super) fn tapped(table: &Table<'_>, look: &Look, brief: Brief<'_>) -> io::Result<Left> {
    let mut session = Taping::new(table, brief);
    let mut raw = Raw::enter()?;
    let began = Instant::now();
    let mut drawn: Vec<String> = Vec::new();
    let mut size = raw.size();
    loop {
        if raw.size() != size {
            // What is drawn may have been broken into other lines.
            size = raw.size();
            outlet::raw("\u{1b}[2J")?;
            drawn.clear();
        }
        let (width, height) = size;
        let look = Look { width, ..*look };
        let lines = session.lines(began.elapsed(), &look, height);
        outlet::raw(&changes(&drawn, &lines))?;
        drawn = lines;
        match raw.next(TICK)? {
            Seen::Nothing => {}
            Seen::Ended => return Ok(Left::Broken(session.times())),
            Seen::Key(key) => {
                if let Some(left) = session.key(key, began.elapsed()) {
                    return Ok(left);
                }
            }
        }
    }
}

/// What to write so that a screen with the lines `old` shows `new`.
fn changes(old: &[String], new: &[String]) -> String {
    let mut out = String::new();
    for row in 0..old.len().max(new.len()) {
        let line = new.get(row).map_or("", String::as_str);
        if old.get(row).map(String::as_str) != Some(line) {
            // Writing to a `String` cannot fail. The style ends with the line.
            _ = write!(out, "\u{1b}[{};1H{line}\u{1b}[0m\u{1b}[K", row + 1);
        }
    }
    out
}

/// A session: the taps, and what is shown of them.
struct Taping<'a> {
    table: &'a Table<'a>,
    brief: Brief<'a>,
    tapper: Tapper,
    /// Whether the times are fitted to the timer's result.
    fit: bool,
    /// What the times say, once every tap is in; and whether that is shown rather than the taps.
    told: Option<(String, String)>,
    shows_told: bool,
    remark: String,
    /// Whether `w` was pressed just now with taps missing.
    asked: bool,
}

impl<'a> Taping<'a> {
    fn new(table: &'a Table<'a>, brief: Brief<'a>) -> Taping<'a> {
        Taping {
            table,
            brief,
            tapper: Tapper::new(table.sheet.cues.len(), table.speed, table.frames),
            fit: table.fit,
            told: None,
            shows_told: true,
            remark: String::new(),
            asked: false,
        }
    }

    /// The times as they would be written.
    fn times(&self) -> Vec<Time> {
        let times = self.tapper.times();
        let fitting = if self.fit && self.tapper.is_full() { self.table.timer } else { None };
        fitting.and_then(|timer| fitted(&times, timer)).unwrap_or(times)
    }

    /// What a key does, pressed when the session had lasted so long. Whether the screen is left.
    fn key(&mut self, key: Key, lasted: Duration) -> Option<Left> {
        let asked = std::mem::take(&mut self.asked);
        self.remark.clear();
        let (before, was_full) = (self.tapper.taken(), self.tapper.is_full());
        let heard = match key {
            Key::Space => self.tapper.tap(lasted),
            Key::Backspace => self.tapper.back(),
            Key::Left => self.tapper.nudge(-1),
            Key::Right => self.tapper.nudge(1),
            Key::Letter('p') => self.tapper.pause(lasted),
            Key::Letter('r') => {
                self.tapper.start_over();
                Heard::Done
            }
            Key::Letter('f') if was_full && self.table.timer.is_some() => {
                self.fit = !self.fit;
                Heard::Done
            }
            Key::Letter('t') if was_full => {
                self.shows_told = !self.shows_told;
                return None;
            }
            Key::Letter('w') if was_full || asked => return Some(Left::Write(self.times())),
            Key::Letter('w') => {
                let (n, of) = (before, self.table.sheet.cues.len());
                self.asked = n > 0;
                self.remark = match n {
                    0 => "there is nothing to write yet".into(),
                    n => format!("{n} of {of} taps are in; w again writes these"),
                };
                return None;
            }
            Key::Letter('q') => return Some(Left::Quit(self.times())),
            Key::Break => return Some(Left::Broken(self.times())),
            Key::Letter(_) => return None,
        };
        self.remark = match heard {
            Heard::Done => String::new(),
            Heard::Nothing => "there is no tap yet".into(),
            Heard::Paused => "paused: p goes on, and then taps count again".into(),
            Heard::Full => "every tap is in".into(),
        };
        if self.tapper.is_full() {
            if heard == Heard::Done {
                self.told = Some((self.brief)(&self.times()));
            }
            // The keys are another's then; a nudge leaves the page that is shown.
            self.shows_told |= !was_full;
        } else {
            self.told = None;
        }
        None
    }

    fn lines(&self, lasted: Duration, look: &Look, height: usize) -> Vec<String> {
        let times = self.times();
        let fps = self.table.frames.fps();
        let Some((brief, differs)) = &self.told else { return self.taps(&times, lasted, look, height) };
        let fitting = self.table.timer.map(|_| self.fit);
        let keys = closing_keys(fitting, self.shows_told, fps, look);
        let mut lines: Vec<String> = if self.shows_told {
            brief.lines().map(str::to_owned).collect()
        } else {
            self.taps(&times, lasted, look, height.saturating_sub(keys.len() + 2))
        };
        let said = if self.remark.is_empty() { differs } else { &self.remark };
        // The keys stay in sight whatever has no room.
        lines.truncate(height.saturating_sub(keys.len() + 2));
        lines.push(String::new());
        lines.push(said.chars().take(look.width).collect());
        lines.extend(keys);
        lines.truncate(height.max(1));
        lines
    }

    fn taps(&self, times: &[Time], lasted: Duration, look: &Look, height: usize) -> Vec<String> {
        let Table { heading, sheet, way, timer, frames, marks, .. } = *self.table;
        let clock = match times.last() {
            Some(&last) if self.tapper.is_full() => last,
            _ => self.tapper.clock(lasted),
        };
        let shown = Shown {
            heading,
            sheet,
            taps: way.taps,
            tapper: &self.tapper,
            times,
            clock,
            timer,
            fps: frames.fps(),
            marks,
            remark: &self.remark,
        };
        let mut lines = screen(&shown, look, height);
        if self.tapper.is_full() {
            // The keys of the taps are no longer those that count.
            lines.truncate(3 + sheet.rows.len());
        }
        lines
    }
}

#[cfg(test)]
mod tests {
    use cornerwise::diagnostic::Source;
    use cornerwise::record;
    use cornerwise::study::Study;

    use super::*;

    /// Presses keys: milliseconds and a letter each, `<` and `>` for the arrows, `-` for backspace, `!` for Ctrl-C.
    fn pressed<'a>(taping: &mut Taping<'a>, keys: &[(u64, char)]) -> Option<Left> {
        let mut left = None;
        for &(at, key) in keys {
            assert_eq!(left, None, "left before {key}");
            let key = match key {
                ' ' => Key::Space,
                '-' => Key::Backspace,
                '<' => Key::Left,
                '>' => Key::Right,
                '!' => Key::Break,
                letter => Key::Letter(letter),
            };
            left = taping.key(key, Duration::from_millis(at));
        }
        left
    }

    /// A solve that ends after two steps, so four taps.
    fn with_two_steps(fit: bool, test: &dyn Fn(&mut Taping<'_>, &Look)) {
        let source = Source::new(
            "mine",
            "scramble: B' L B U D2 B' R D' F U R2 U R2 L2 B' L' F' B L2 B2\ntime: 4.00\n\
             solution: |\n  x2 y U' L2 F' L D' R2\n  U' L' U L\n",
        );
        let reading = record::read(&source);
        let study = Study::new(&source, 1, &reading.records[0]);
        let sheet = Sheet::new(&study, Way::default());
        assert_eq!(sheet.cues.len(), 4);
        let table = Table {
            heading: "mine",
            sheet: &sheet,
            way: Way::default(),
            timer: study.record.time.map(|(time, _)| time),
            frames: Frames::new(50.0),
            speed: 0.5,
            marks: 0,
            fit,
        };
        let brief = |times: &[Time]| (format!("brief of {times:?}\nand more"), "0.10 s less".to_owned());
        test(&mut Taping::new(&table, &brief), &Look::plain());
    }

    fn times(hundredths: &[u64]) -> Vec<Time> {
        hundredths.iter().map(|time| Time(time * 10_000)).collect()
    }

    const FOUR: [(u64, char); 4] = [(1_000, ' '), (3_000, ' '), (4_000, ' '), (8_000, ' ')];

    #[test]
    fn four_taps_and_w() {
        with_two_steps(false, &|taping, look| {
            assert_eq!(pressed(taping, &FOUR), None);
            let lines = taping.lines(Duration::from_secs(60), look, 24);
            assert_eq!(lines[1], "and more");
            assert!(
                lines[3].contains("0.10 s less") && lines[4].contains("w  write to the file"),
                "{lines:#?}"
            );
            assert_eq!(pressed(taping, &[(9_000, 'w')]), Some(Left::Write(times(&[0, 100, 150, 350]))));
        });
    }

    #[test]
    fn the_last_tap_is_nudged_and_what_the_times_say_follows() {
        with_two_steps(false, &|taping, look| {
            pressed(taping, &FOUR);
            pressed(taping, &[(9_000, '<'), (9_100, '<'), (9_200, '>')]);
            let shown = |taping: &Taping<'_>| taping.lines(Duration::from_secs(60), look, 24).join("\n");
            assert!(shown(taping).contains("Time(3480000)"), "{}", shown(taping));
            pressed(taping, &[(9_300, 't')]);
            assert!(
                shown(taping).contains("    3.48") && !shown(taping).contains("brief"),
                "{}",
                shown(taping)
            );
            // Taken back: the taps again, paused at the one before.
            pressed(taping, &[(9_400, '-')]);
            assert!(shown(taping).contains("paused at the last tap, 1.50"), "{}", shown(taping));
            pressed(taping, &[(9_500, ' ')]);
            assert!(shown(taping).contains("paused: p goes on"), "{}", shown(taping));
            pressed(taping, &[(10_000, 'p'), (14_000, ' ')]);
            assert_eq!(pressed(taping, &[(15_000, 'w')]), Some(Left::Write(times(&[0, 100, 150, 350]))));
        });
    }

    #[test]
    fn fitted_only_where_asked_for() {
        with_two_steps(false, &|taping, _| {
            pressed(taping, &FOUR);
            pressed(taping, &[(9_000, 'f')]);
            assert_eq!(taping.times(), times(&[0, 114, 171, 400]));
            pressed(taping, &[(9_100, 'f')]);
            assert_eq!(taping.times(), times(&[0, 100, 150, 350]));
        });
        with_two_steps(true, &|taping, _| {
            pressed(taping, &FOUR[..3]);
            assert_eq!(taping.times(), times(&[0, 100, 150]), "not before the last tap is in");
            pressed(taping, &FOUR[3..]);
            assert_eq!(pressed(taping, &[(9_000, 'w')]), Some(Left::Write(times(&[0, 114, 171, 400]))));
        });
    }

    #[test]
    fn leaving_writes_nothing_and_half_of_it_only_when_asked_twice() {
        with_two_steps(false, &|taping, _| {
            assert_eq!(pressed(taping, &[(0, 'w'), (1, 'w'), (2, 'x')]), None);
            pressed(taping, &FOUR[..2]);
            assert_eq!(pressed(taping, &[(4_000, 'w'), (4_100, '>'), (4_200, 'w')]), None);
            assert_eq!(taping.remark, "2 of 4 taps are in; w again writes these");
            assert_eq!(pressed(taping, &[(4_300, 'w')]), Some(Left::Write(times(&[0, 102]))));
            assert_eq!(pressed(taping, &[(4_400, 'q')]), Some(Left::Quit(times(&[0, 102]))));
            assert_eq!(pressed(taping, &[(4_500, '!')]), Some(Left::Broken(times(&[0, 102]))));
            pressed(taping, &[(4_600, 'r')]);
            assert_eq!(taping.times(), times(&[]));
        });
    }

    #[test]
    fn only_what_changed_is_written_again() {
        let lines = |text: &str| text.lines().map(str::to_owned).collect::<Vec<_>>();
        assert_eq!(changes(&lines("a\nb\nc"), &lines("a\nx\nc")), "\u{1b}[2;1Hx\u{1b}[0m\u{1b}[K");
        assert_eq!(changes(&lines("a\nb"), &lines("a")), "\u{1b}[2;1H\u{1b}[0m\u{1b}[K");
        assert_eq!(changes(&lines("a"), &lines("a")), "");
    }

    #[test]
    fn the_keys_stay_in_sight_on_a_low_screen() {
        with_two_steps(false, &|taping, look| {
            pressed(taping, &FOUR);
            for height in [1, 3, 5, 6, 8, 24] {
                let lines = taping.lines(Duration::ZERO, look, height);
                assert!(lines.len() <= height);
                assert!(
                    height < 5 || lines.iter().any(|line| line.contains("q  leave")),
                    "{height}: {lines:#?}"
                );
            }
        });
    }
}

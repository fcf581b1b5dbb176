//! Taps beside a video: what was tapped, what the clock shows, what each key does.
//!
//! The clock is the solve's: it starts at 0 with the first tap and runs as fast as the video is played. Everything that
//! depends on time is told how long the session has lasted, by whoever has a clock; nothing here looks at one.
//!
//! ```
//! use std::time::Duration;
//! use cornerwise::notation::Time;
//! use cornerwise::timing::{Frames, Tapper};
//!
//! // Two taps, beside a video played at a quarter of its speed.
//! let mut tapper = Tapper::new(2, 0.25, Frames::new(60.0));
//! tapper.tap(Duration::from_millis(5_000));
//! tapper.tap(Duration::from_millis(9_880));
//! assert_eq!(tapper.times(), [Time(0), Time(1_220_000)]);
//! tapper.nudge(1);
//! // A sixtieth of a second later, told in hundredths.
//! assert_eq!(tapper.times(), [Time(0), Time(1_240_000)]);
//! ```

use std::time::Duration;

use crate::notation::Time;

use super::HUNDREDTH;

/// How long a frame of the video is, which is what a tap is nudged by.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Frames {
    fps: f64,
}

impl Frames {
    /// Of a video with this many frames a second, above 0.
    #[must_use]
    pub const fn new(fps: f64) -> Frames {
        Frames { fps }
    }

    /// Frames a second.
    #[must_use]
    pub const fn fps(self) -> f64 {
        self.fps
    }

    /// Microseconds.
    fn micros(self) -> f64 {
        1e6 / self.fps
    }

    /// To what a tap is rounded: to hundredths of a second, to thousandths where a frame is shorter than that.
    fn grain(self) -> u64 {
        if self.micros() < HUNDREDTH as f64 { HUNDREDTH / 10 } else { HUNDREDTH }
    }
}

/// What a key did.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Heard {
    /// What it is for.
    Done,
    /// Nothing, as there is nothing to take back, to nudge or to pause.
    Nothing,
    /// Nothing: the clock is paused.
    Paused,
    /// Nothing: every tap is in.
    Full,
}

/// How the clock stands.
#[derive(Debug, Clone, Copy, PartialEq)]
enum Clock {
    /// No tap yet.
    Waiting,
    /// It showed `at` (microseconds) when the session had lasted `since`.
    Running { at: f64, since: Duration },
    /// It stands.
    Held { at: f64 },
}

/// The taps of one solve.
#[derive(Debug, Clone, PartialEq)]
pub struct Tapper {
    /// How many taps are asked for.
    wanted: usize,
    /// How many seconds of the video pass in one second.
    speed: f64,
    frames: Frames,
    clock: Clock,
    /// What the clock showed at each tap, in microseconds: the first 0, never decreasing. Not rounded, so that frames add
    /// up; see [`times`](Tapper::times).
    taps: Vec<f64>,
}

/// The longest time that a mark can give, in microseconds; a session left alone for a week stops there.
const LONGEST: f64 = 359_999.0 * 1e6;

impl Tapper {
    /// For so many taps beside a video that is played at this speed (1 as it was filmed, 0.25 at a quarter).
    #[must_use]
    pub const fn new(wanted: usize, speed: f64, frames: Frames) -> Tapper {
        Tapper { wanted, speed, frames, clock: Clock::Waiting, taps: Vec::new() }
    }

    /// The taps so far, rounded to hundredths of a second (thousandths, where a frame of the video is shorter).
    #[must_use]
    pub fn times(&self) -> Vec<Time> {
        let grain = self.frames.grain();
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "from 0 to 100 hours")]
        let rounded = |tap: &f64| Time((tap / grain as f64).round() as u64 * grain);
        self.taps.iter().map(rounded).collect()
    }

    /// How many taps there are.
    #[must_use]
    pub fn taken(&self) -> usize {
        self.taps.len()
    }

    /// Whether every tap is in.
    #[must_use]
    pub fn is_full(&self) -> bool {
        self.taps.len() >= self.wanted
    }

    /// Whether the clock runs.
    #[must_use]
    pub const fn is_running(&self) -> bool {
        matches!(self.clock, Clock::Running { .. })
    }

    /// Whether the clock was started and stands, and taps are still missing.
    #[must_use]
    pub fn is_paused(&self) -> bool {
        matches!(self.clock, Clock::Held { .. }) && !self.is_full()
    }

    /// What the clock shows when the session has lasted this long.
    #[must_use]
    pub fn clock(&self, lasted: Duration) -> Time {
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "from 0 to 100 hours")]
        Time(self.shows(lasted).round() as u64)
    }

    fn shows(&self, lasted: Duration) -> f64 {
        let shown = match self.clock {
            Clock::Waiting => 0.0,
            Clock::Running { at, since } => {
                at + lasted.saturating_sub(since).as_secs_f64() * 1e6 * self.speed
            }
            Clock::Held { at } => at,
        };
        shown.clamp(0.0, LONGEST)
    }

    /// The next moment is now. The first tap starts the clock, the last one stops it.
    pub fn tap(&mut self, lasted: Duration) -> Heard {
        match self.clock {
            _ if self.is_full() => Heard::Full,
            Clock::Held { .. } => Heard::Paused,
            Clock::Waiting => {
                self.clock = Clock::Running { at: 0.0, since: lasted };
                self.taken_at(0.0)
            }
            Clock::Running { .. } => self.taken_at(self.shows(lasted)),
        }
    }

    fn taken_at(&mut self, shown: f64) -> Heard {
        // The one before may have been nudged past what the clock shows.
        let tap = shown.max(self.taps.last().copied().unwrap_or(0.0));
        self.taps.push(tap);
        if self.is_full() {
            self.clock = Clock::Held { at: tap };
        }
        Heard::Done
    }

    /// Takes the last tap back. The clock runs on; where it stood because every tap was in, it is paused at the tap that
    /// is now the last, where the video can be set again. Without a tap left, it waits for the first.
    pub fn back(&mut self) -> Heard {
        let was_full = self.is_full();
        if self.taps.pop().is_none() {
            return Heard::Nothing;
        }
        match self.taps.last() {
            None => self.clock = Clock::Waiting,
            Some(&last) if was_full => self.clock = Clock::Held { at: last },
            Some(_) => {}
        }
        Heard::Done
    }

    /// Stops the clock, or lets it go on from where it stood.
    pub fn pause(&mut self, lasted: Duration) -> Heard {
        match self.clock {
            Clock::Waiting => return Heard::Nothing,
            _ if self.is_full() => return Heard::Full,
            Clock::Running { .. } => self.clock = Clock::Held { at: self.shows(lasted) },
            Clock::Held { at } => self.clock = Clock::Running { at, since: lasted },
        }
        Heard::Done
    }

    /// Takes everything back.
    pub fn start_over(&mut self) {
        *self = Tapper::new(self.wanted, self.speed, self.frames);
    }

    /// Moves the last tap by so many frames of the video, never before the one before it. The first tap stays the clock's 0:
    /// to move it is to have started the clock so much later or earlier.
    pub fn nudge(&mut self, frames: i32) -> Heard {
        let by = f64::from(frames) * self.frames.micros();
        match self.taps.as_mut_slice() {
            [] => return Heard::Nothing,
            [_] => match &mut self.clock {
                Clock::Running { at, .. } | Clock::Held { at } => *at -= by,
                Clock::Waiting => return Heard::Nothing,
            },
            [.., before, last] => *last = (*last + by).clamp(*before, LONGEST),
        }
        if let ([_, .., last], true) = (self.taps.as_slice(), self.is_full()) {
            self.clock = Clock::Held { at: *last };
        }
        Heard::Done
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn ms(millis: u64) -> Duration {
        Duration::from_millis(millis)
    }

    fn hundredths(tapper: &Tapper) -> Vec<u64> {
        tapper.times().iter().map(|time| time.0 / HUNDREDTH).collect()
    }

    fn tapped(speed: f64, at: &[u64]) -> Tapper {
        let mut tapper = Tapper::new(5, speed, Frames::new(50.0));
        for &at in at {
            assert_eq!(tapper.tap(ms(at)), Heard::Done);
        }
        tapper
    }

    #[test]
    fn the_clock_starts_with_the_first_tap_and_runs_as_fast_as_the_video() {
        let mut tapper = tapped(0.25, &[10_000, 14_880, 15_440]);
        assert_eq!(hundredths(&tapper), [0, 122, 136]);
        assert_eq!(tapper.clock(ms(20_000)), Time(2_500_000));
        tapper.tap(ms(20_000));
        tapper.tap(ms(20_640));
        assert!(tapper.is_full() && !tapper.is_paused());
        assert_eq!(hundredths(&tapper), [0, 122, 136, 250, 266]);
        // Nothing runs any more.
        assert_eq!(tapper.clock(ms(99_000)), Time(2_660_000));
        assert_eq!(tapper.tap(ms(99_000)), Heard::Full);
        assert_eq!(tapper.pause(ms(99_000)), Heard::Full);
        // Faster than filmed, and a clock that goes back is none.
        assert_eq!(tapped(2.0, &[1_000]).clock(ms(1_500)), Time(1_000_000));
        assert_eq!(tapped(2.0, &[1_000]).clock(ms(500)), Time(0));
    }

    #[test]
    fn a_tap_is_taken_back() {
        let mut tapper = tapped(1.0, &[1_000, 2_000, 2_100]);
        tapper.back();
        assert_eq!(hundredths(&tapper), [0, 100]);
        assert!(tapper.is_running());
        tapper.tap(ms(2_300));
        assert_eq!(hundredths(&tapper), [0, 100, 130]);
        // All the way: the clock waits again.
        for _ in 0..3 {
            assert_eq!(tapper.back(), Heard::Done);
        }
        assert_eq!(tapper.back(), Heard::Nothing);
        assert_eq!(tapper.clock(ms(9_000)), Time(0));
        tapper.tap(ms(9_000));
        assert_eq!(tapper.clock(ms(9_500)), Time(500_000));
    }

    /// The last tap of all taken back: the video is set to the tap before, and both go on from there.
    #[test]
    fn after_the_last_tap_it_goes_on_from_the_one_before() {
        let mut tapper = tapped(0.5, &[0, 1_000, 2_000, 3_000, 9_000]);
        tapper.back();
        assert!(tapper.is_paused());
        assert_eq!(tapper.clock(ms(60_000)), Time(1_500_000));
        assert_eq!(tapper.tap(ms(60_000)), Heard::Paused);
        tapper.pause(ms(60_000));
        tapper.tap(ms(61_000));
        assert_eq!(hundredths(&tapper), [0, 50, 100, 150, 200]);
    }

    #[test]
    fn a_pause_takes_no_time() {
        let mut tapper = tapped(0.5, &[1_000, 3_000]);
        assert_eq!(tapper.pause(ms(4_000)), Heard::Done);
        assert!(tapper.is_paused());
        assert_eq!(tapper.tap(ms(8_000)), Heard::Paused);
        assert_eq!(tapper.clock(ms(9_000)), Time(1_500_000));
        tapper.pause(ms(10_000));
        tapper.tap(ms(10_200));
        assert_eq!(hundredths(&tapper), [0, 100, 160]);
        assert_eq!(Tapper::new(2, 1.0, Frames::new(60.0)).pause(ms(5)), Heard::Nothing);
    }

    #[test]
    fn frames_add_up_and_a_tap_never_passes_the_one_before() {
        let mut tapper = Tapper::new(4, 1.0, Frames::new(60.0));
        assert_eq!(tapper.nudge(1), Heard::Nothing);
        for at in [0, 1_000, 1_100] {
            tapper.tap(ms(at));
        }
        for _ in 0..6 {
            tapper.nudge(1);
        }
        // Six sixtieths are a tenth: nothing is lost to rounding on the way.
        assert_eq!(hundredths(&tapper), [0, 100, 120]);
        for _ in 0..99 {
            tapper.nudge(-1);
        }
        assert_eq!(hundredths(&tapper), [0, 100, 100]);
        // Past what the clock shows: the next tap is not before it.
        for _ in 0..60 {
            tapper.nudge(1);
        }
        tapper.tap(ms(1_500));
        assert_eq!(hundredths(&tapper), [0, 100, 200, 200]);
        tapper.nudge(3);
        assert_eq!((hundredths(&tapper)[3], tapper.clock(ms(0))), (205, Time(2_050_000)));
        // At 240 frames a second a frame shows.
        let mut fine = Tapper::new(3, 1.0, Frames::new(240.0));
        fine.tap(ms(0));
        fine.tap(ms(1_000));
        fine.nudge(1);
        assert_eq!(fine.times(), [Time(0), Time(1_004_000)]);
    }

    /// The clock was started a frame too early: all that follows is a frame less.
    #[test]
    fn to_nudge_the_first_tap_moves_the_start() {
        let mut tapper = tapped(1.0, &[1_000]);
        tapper.nudge(1);
        assert_eq!(tapper.clock(ms(2_000)), Time(980_000));
        tapper.tap(ms(2_000));
        assert_eq!(hundredths(&tapper), [0, 98]);
        let mut early = tapped(1.0, &[1_000]);
        early.nudge(-2);
        assert_eq!(early.clock(ms(2_000)), Time(1_040_000));
        let mut late = tapped(1.0, &[1_000]);
        late.nudge(100);
        assert_eq!(late.clock(ms(1_500)), Time(0), "never below 0");
        assert_eq!(late.clock(ms(3_100)), Time(100_000));
    }

    #[test]
    fn starting_over_forgets_all_but_what_is_asked_for() {
        let mut tapper = tapped(0.25, &[0, 4_000]);
        tapper.pause(ms(5_000));
        tapper.start_over();
        assert_eq!(tapper, Tapper::new(5, 0.25, Frames::new(50.0)));
    }
}

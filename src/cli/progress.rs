//! A line on the terminal for runs that take more than a few seconds.
//!
//! It is written to standard error, only if that is a terminal, and taken away before anything else is written, so
//! that it never mixes with results. Nothing has to be put back if the run is interrupted.

use std::io::{self, IsTerminal, Write};
use std::sync::Mutex;
use std::sync::atomic::{AtomicBool, Ordering};
use std::thread;
use std::time::{Duration, Instant};

use indicatif::{ProgressBar, ProgressDrawTarget, ProgressStyle};

/// How long a run goes on in silence, and how often it reports then.
const SILENCE: Duration = Duration::from_secs(2);
const EVERY: Duration = Duration::from_millis(250);
/// The same for positions of a drill, of which nobody knows beforehand how long they take.
const DRAWING_SILENCE: Duration = Duration::from_secs(1);

/// Counts the records done, from any thread.
pub(super) struct Progress {
    /// `None` if nobody is looking.
    state: Option<Mutex<State>>,
}

struct State {
    done: usize,
    next: Instant,
    shown: bool,
}

impl Progress {
    pub(super) fn new() -> Progress {
        let state = State { done: 0, next: Instant::now() + SILENCE, shown: false };
        Progress { state: io::stderr().is_terminal().then(|| Mutex::new(state)) }
    }

    /// A record is done.
    pub(super) fn one_more(&self) {
        let Some(Ok(mut state)) = self.state.as_ref().map(Mutex::lock) else { return };
        state.done += 1;
        let now = Instant::now();
        if now < state.next {
            return;
        }
        state.next = now + EVERY;
        state.shown = true;
        // Text that is not flushed is lost with the process, and that it cannot be written is no reason to stop.
        let mut err = io::stderr().lock();
        let _ = write!(err, "\rcornerwise: {} records done", state.done).and_then(|()| err.flush());
    }

    /// Takes the line away, if there is one.
    pub(super) fn clear(&self) {
        let Some(Ok(mut state)) = self.state.as_ref().map(Mutex::lock) else { return };
        if std::mem::take(&mut state.shown) {
            let blank = " ".repeat(format!("cornerwise: {} records done", state.done).len());
            let mut err = io::stderr().lock();
            let _ = write!(err, "\r{blank}\r").and_then(|()| err.flush());
        }
    }
}

/// Positions being drawn: said from the first second on, if somebody is looking.
pub(super) struct Drawing {
    bar: ProgressBar,
    count: usize,
}

impl Drawing {
    /// For so many positions wanted.
    pub(super) fn new(count: usize) -> Drawing {
        let bar = ProgressBar::with_draw_target(None, ProgressDrawTarget::hidden());
        bar.set_style(ProgressStyle::with_template("{spinner} {msg}").expect("a template that is right"));
        Drawing { bar, count }
    }

    /// A position is made.
    pub(super) fn one_more(&self) {
        self.bar.inc(1);
    }

    /// Does the work, and says every now and then how far it is: `drawn` is asked all the while. Nothing is left of it in
    /// the end.
    pub(super) fn watch<T: Send>(
        &self,
        drawn: impl Fn() -> usize + Sync,
        work: impl FnOnce() -> T + Send,
    ) -> T {
        let done = AtomicBool::new(false);
        thread::scope(|scope| {
            let watching = scope.spawn(|| {
                let start = Instant::now();
                while !done.load(Ordering::Relaxed) {
                    thread::park_timeout(EVERY);
                    let drawn = drawn();
                    if start.elapsed() > DRAWING_SILENCE && !done.load(Ordering::Relaxed) {
                        if self.bar.is_hidden() {
                            self.bar.set_draw_target(ProgressDrawTarget::stderr());
                        }
                        let (made, count) = (self.bar.position(), self.count);
                        self.bar.set_message(format!("{made} of {count} found, {drawn} positions drawn"));
                        self.bar.tick();
                    }
                }
            });
            let made = work();
            done.store(true, Ordering::Relaxed);
            watching.thread().unpark();
            self.bar.finish_and_clear();
            made
        })
    }
}

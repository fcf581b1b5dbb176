//! A line on the terminal for runs that take more than a few seconds.
//!
//! It is written to standard error, only if that is a terminal, and taken away before anything else is written, so
//! that it never mixes with results. Nothing has to be put back if the run is interrupted.

use std::io::{self, IsTerminal, Write};
use std::sync::Mutex;
use std::time::{Duration, Instant};

/// How long a run goes on in silence, and how often it reports then.
const SILENCE: Duration = Duration::from_secs(2);
const EVERY: Duration = Duration::from_millis(250);

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

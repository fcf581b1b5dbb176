//! Ctrl-C while files are being written: what is half written is taken away before the process ends.
//!
//! Until then nothing has to be put back, and the signal ends the process as it always does. From the first draft on it
//! is noted, and the run ends where it next looks ([`check`]); whoever is in a hurry sends it twice.

#[cfg(unix)]
mod noted {
    use std::sync::atomic::{AtomicBool, Ordering};
    use std::sync::{Arc, OnceLock};

    use signal_hook::consts::{SIGINT, SIGTERM};
    use signal_hook::flag;

    static CAME: OnceLock<Arc<AtomicBool>> = OnceLock::new();

    pub(in crate::cli) fn note() {
        CAME.get_or_init(|| {
            let came = Arc::new(AtomicBool::new(false));
            for signal in [SIGINT, SIGTERM] {
                // In this order: the first signal finds the flag down and only raises it, the second ends the process.
                // Where it cannot be noted, it does what it always did.
                let _ = flag::register_conditional_default(signal, Arc::clone(&came))
                    .and_then(|_| flag::register(signal, Arc::clone(&came)));
            }
            came
        });
    }

    pub(in crate::cli) fn came() -> bool {
        CAME.get().is_some_and(|came| came.load(Ordering::Relaxed))
    }
}

#[cfg(not(unix))]
mod noted {
    pub(in crate::cli) fn note() {}

    pub(in crate::cli) fn came() -> bool {
        false
    }
}

pub(super) use noted::note;

use std::io;

/// Ends what is under way if the signal came.
///
/// # Errors
///
/// [`io::ErrorKind::Interrupted`], which [`Failure`](super::exit::Failure) knows.
pub(super) fn check() -> io::Result<()> {
    if noted::came() { Err(io::ErrorKind::Interrupted.into()) } else { Ok(()) }
}

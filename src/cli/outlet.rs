//! Writing to the two streams: colour is decided once a stream.

use std::io::{self, Write};

/// Writes to standard output, with escapes taken out unless colour is wanted there.
pub(super) fn out(text: &str) -> io::Result<()> {
    if !text.contains('\u{1b}') {
        return raw(text);
    }
    let mut stdout = anstream::AutoStream::auto(io::stdout().lock());
    stdout.write_all(text.as_bytes())?;
    stdout.flush()
}

/// Writes to standard error, likewise. That it cannot be written is no reason to stop.
pub(super) fn err(text: &str) {
    let mut stderr = anstream::AutoStream::auto(io::stderr().lock());
    let _ = stderr.write_all(text.as_bytes()).and_then(|()| stderr.flush());
}

/// Whether standard output gets colour.
pub(super) fn coloured() -> bool {
    anstream::AutoStream::choice(&io::stdout()) != anstream::ColorChoice::Never
}

/// Whether standard error gets colour.
pub(super) fn err_coloured() -> bool {
    anstream::AutoStream::choice(&io::stderr()) != anstream::ColorChoice::Never
}

/// Writes to standard output as it is, with escapes that move the cursor kept even where colour is not wanted.
pub(super) fn raw(text: &str) -> io::Result<()> {
    let mut stdout = io::stdout().lock();
    stdout.write_all(text.as_bytes())?;
    stdout.flush()
}

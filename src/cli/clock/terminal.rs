//! The terminal in raw mode: keys one by one, a screen of our own, and everything as it was afterwards.
//!
//! It is put back when the value goes, which is also when a panic unwinds; a panic puts it back before it speaks, so that
//! its words are seen. A signal to end (SIGTERM) ends the session like Ctrl-C; so does the end of the terminal itself.

use std::io::{self, Write};
use std::panic;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::time::Duration;

use crossterm::event::{self, Event, KeyCode, KeyEvent, KeyEventKind, KeyModifiers};
use crossterm::{cursor, execute, terminal};

/// A key that means something.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Key {
    Space,
    Backspace,
    Left,
    Right,
    /// Ctrl-C, and Ctrl-D, which ends the input.
    Break,
    /// A letter, small.
    Letter(char),
}

/// What happened; that the size is another is seen by asking for it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Seen {
    Nothing,
    Key(Key),
    /// There is no terminal any more, or the process was told to end.
    Ended,
}

/// The terminal in raw mode.
pub(super) struct Raw {
    told_to_end: Arc<AtomicBool>,
    /// Whether the reader may have more keys already.
    more: bool,
}

/// Whether the terminal has to be put back.
static RAW: AtomicBool = AtomicBool::new(false);

impl Raw {
    /// Takes the terminal.
    pub(super) fn enter() -> io::Result<Raw> {
        let told_to_end = Arc::new(AtomicBool::new(false));
        #[cfg(unix)]
        signal_hook::flag::register(signal_hook::consts::SIGTERM, Arc::clone(&told_to_end))?;
        let before = panic::take_hook();
        panic::set_hook(Box::new(move |panicked| {
            put_back();
            before(panicked);
        }));
        terminal::enable_raw_mode()?;
        RAW.store(true, Ordering::SeqCst);
        // The first question makes the reader of keys, which takes a while: so it is asked before anything is drawn. A
        // terminal that goes while the reader is at work is not noticed (see `is_there`).
        let more = event::poll(Duration::ZERO)?;
        let raw = Raw { told_to_end, more };
        execute!(io::stdout(), terminal::EnterAlternateScreen, cursor::Hide)?;
        Ok(raw)
    }

    /// Columns and lines; 80 by 24 where the terminal does not say.
    pub(super) fn size(&self) -> (usize, usize) {
        match terminal::size() {
            Ok((width, height)) if width > 0 && height > 0 => (usize::from(width), usize::from(height)),
            _ => (80, 24),
        }
    }

    /// What happens next, if it does within this time.
    pub(super) fn next(&mut self, within: Duration) -> io::Result<Seen> {
        // Of several keys that were read at once the others wait in the reader, not in the terminal.
        let within = if std::mem::take(&mut self.more) { Duration::ZERO } else { within };
        if !is_there(within)? || self.told_to_end.load(Ordering::SeqCst) {
            return Ok(Seen::Ended);
        }
        if !event::poll(Duration::ZERO)? {
            return Ok(Seen::Nothing);
        }
        self.more = true;
        Ok(match event::read()? {
            Event::Key(key) if key.kind != KeyEventKind::Release => {
                meaning(key).map_or(Seen::Nothing, Seen::Key)
            }
            _ => Seen::Nothing,
        })
    }
}

/// Waits for a key, or this long. Whether the terminal is still there: of one that has gone, the reader of keys would wait
/// for the next key for ever.
#[cfg(target_os = "linux")]
fn is_there(within: Duration) -> io::Result<bool> {
    use rustix::event::{PollFd, PollFlags, Timespec, poll};
    let stdin = io::stdin();
    let mut waited = [PollFd::new(&stdin, PollFlags::IN)];
    let within = Timespec { tv_sec: 0, tv_nsec: i64::from(within.subsec_nanos()) };
    match poll(&mut waited, Some(&within)) {
        // A signal: the reader knows whether the size has changed.
        Ok(_) | Err(rustix::io::Errno::INTR) => {}
        Err(error) => return Err(error.into()),
    }
    Ok(!waited[0].revents().intersects(PollFlags::HUP | PollFlags::ERR | PollFlags::NVAL))
}

#[cfg(not(target_os = "linux"))]
fn is_there(within: Duration) -> io::Result<bool> {
    event::poll(within).map(|_| true)
}

impl Drop for Raw {
    fn drop(&mut self) {
        put_back();
    }
}

/// Puts the terminal back, once.
fn put_back() {
    if RAW.swap(false, Ordering::SeqCst) {
        let mut stdout = io::stdout().lock();
        let _ = execute!(stdout, cursor::Show, terminal::LeaveAlternateScreen).and_then(|()| stdout.flush());
        let _ = terminal::disable_raw_mode();
    }
}

fn meaning(key: KeyEvent) -> Option<Key> {
    let control = key.modifiers.contains(KeyModifiers::CONTROL);
    Some(match key.code {
        KeyCode::Char('c' | 'C' | 'd' | 'D') if control => Key::Break,
        // What some keyboards send for backspace.
        KeyCode::Char('h') if control => Key::Backspace,
        KeyCode::Char(_) if control => return None,
        KeyCode::Char(' ') => Key::Space,
        KeyCode::Char(letter) => Key::Letter(letter.to_ascii_lowercase()),
        KeyCode::Backspace => Key::Backspace,
        KeyCode::Left => Key::Left,
        KeyCode::Right => Key::Right,
        _ => return None,
    })
}

#[cfg(all(test, unix))]
mod tests {
    use std::io::Read;

    use portable_pty::{CommandBuilder, PtySize, native_pty_system};

    use super::*;

    const CHILD: &str = "CORNERWISE_PANICS_ON_A_TERMINAL";

    /// This test runs itself again in a pseudo-terminal, where it panics in raw mode.
    #[test]
    fn a_panic_puts_the_terminal_back_before_it_speaks() {
        if std::env::var_os(CHILD).is_some() {
            let raw = Raw::enter().expect("a terminal");
            assert!(raw.size().0 > 0);
            panic!("on purpose");
        }
        let pty = native_pty_system().openpty(PtySize::default()).expect("a pseudo-terminal");
        let settings = || format!("{:?}", pty.master.get_termios());
        let before = settings();
        let mut command = CommandBuilder::new(std::env::current_exe().expect("this program"));
        let name = "cli::clock::terminal::tests::a_panic_puts_the_terminal_back_before_it_speaks";
        command.args(["--exact", name, "--nocapture"]);
        command.env(CHILD, "1");
        let mut child = pty.slave.spawn_command(command).expect("it runs");
        let mut reader = pty.master.try_clone_reader().expect("a reader");
        let status = child.wait().expect("an end");
        assert!(!status.success());
        assert_eq!(settings(), before);
        // The other end is closed now: what was written is read to its end.
        drop(pty.slave);
        let mut seen = String::new();
        let mut bytes = [0; 4096];
        while let Ok(n @ 1..) = reader.read(&mut bytes) {
            seen.push_str(&String::from_utf8_lossy(&bytes[..n]));
        }
        let at = |words: &str| seen.find(words).unwrap_or_else(|| panic!("no {words:?} in {seen}"));
        assert!(at("\u{1b}[?1049h") < at("\u{1b}[?1049l") && at("\u{1b}[?1049l") < at("on purpose"));
    }
}

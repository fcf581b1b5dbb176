//! `clock` in a pseudo-terminal: taps become marks, and however it ends the terminal is as it was. Remarks are set as wide
//! as the terminal.
//!
//! What each key does is tested exactly, with a clock that is given, in `src/timing` and `src/cli/clock`. Here a real
//! clock runs, so times are held to wide bounds only.

use std::fs;
use std::io::{Read, Write};
use std::path::{Path, PathBuf};
use std::process::Command;
use std::sync::{Arc, Mutex};
use std::thread;
use std::time::{Duration, Instant};

use portable_pty::{Child, CommandBuilder, ExitStatus, MasterPty, PtySize, native_pty_system};

/// Seven steps, marked already; tapped with `--taps 1`, so eight taps.
const SOLVE: &str = include_str!("../../reconstructions/no-corner-up.yaml");

/// For so long anything is waited for; the machine may be busy.
const PATIENCE: Duration = Duration::from_secs(60);

fn folder(name: &str) -> PathBuf {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("clock-terminal").join(name);
    let _ = fs::remove_dir_all(&folder);
    fs::create_dir_all(&folder).expect("a folder");
    fs::write(folder.join("mine.yaml"), SOLVE).expect("written");
    folder
}

/// A program in a pseudo-terminal.
struct Terminal {
    master: Option<Box<dyn MasterPty + Send>>,
    writer: Option<Box<dyn Write + Send>>,
    child: Box<dyn Child + Send + Sync>,
    seen: Arc<Mutex<String>>,
    /// How the terminal was before the program ran.
    before: String,
}

impl Terminal {
    fn new(mut command: CommandBuilder, folder: &Path) -> Terminal {
        let size = PtySize { rows: 24, cols: 80, pixel_width: 0, pixel_height: 0 };
        let pty = native_pty_system().openpty(size).expect("a pseudo-terminal");
        command.cwd(folder);
        command.env_clear();
        command.env("TERM", "xterm");
        let before = format!("{:?}", pty.master.get_termios());
        let child = pty.slave.spawn_command(command).expect("the program runs");
        drop(pty.slave);
        let mut reader = pty.master.try_clone_reader().expect("a reader");
        let seen = Arc::new(Mutex::new(String::new()));
        let all = Arc::clone(&seen);
        // It ends with the terminal.
        thread::spawn(move || {
            let mut bytes = [0; 4096];
            while let Ok(n) = reader.read(&mut bytes) {
                if n == 0 {
                    break;
                }
                all.lock().expect("sound").push_str(&String::from_utf8_lossy(&bytes[..n]));
            }
        });
        let writer = pty.master.take_writer().expect("a writer");
        Terminal { master: Some(pty.master), writer: Some(writer), child, seen, before }
    }

    /// `cornerwise clock mine.yaml --taps 1`.
    fn clock(folder: &Path) -> Terminal {
        let mut command = CommandBuilder::new(env!("CARGO_BIN_EXE_cornerwise"));
        command.args(["clock", "mine.yaml", "--taps", "1", "--color", "never"]);
        Terminal::new(command, folder)
    }

    fn seen(&self) -> String {
        self.seen.lock().expect("sound").clone()
    }

    /// Waits until the program has written this.
    #[track_caller]
    fn wait_for(&self, words: &str) {
        let until = Instant::now() + PATIENCE;
        while !self.seen().contains(words) {
            assert!(Instant::now() < until, "no {words:?} in {}", self.seen());
            thread::sleep(Duration::from_millis(10));
        }
    }

    fn press(&mut self, keys: &str) {
        let writer = self.writer.as_mut().expect("a writer");
        writer.write_all(keys.as_bytes()).and_then(|()| writer.flush()).expect("pressed");
    }

    #[track_caller]
    fn ended(&mut self) -> ExitStatus {
        let until = Instant::now() + PATIENCE;
        loop {
            if let Some(status) = self.child.try_wait().expect("a state") {
                return status;
            }
            if Instant::now() > until {
                self.child.kill().expect("ended");
                panic!("it does not end: {}", self.seen());
            }
            thread::sleep(Duration::from_millis(10));
        }
    }

    /// The terminal is as it was before: its settings, its screen, its cursor.
    #[track_caller]
    fn is_put_back(&self) {
        self.wait_for("\u{1b}[?1049l");
        assert!(self.seen().contains("\u{1b}[?25h"), "{}", self.seen());
        let now = self.master.as_ref().map(|master| format!("{:?}", master.get_termios()));
        assert_eq!(now.as_deref(), Some(self.before.as_str()));
    }
}

/// A tap for each step, and `w`.
#[test]
fn taps_become_marks() {
    let folder = folder("taps");
    let mut terminal = Terminal::clock(&folder);
    terminal.wait_for("tap at its first turn");
    for taken in 1..=8 {
        thread::sleep(Duration::from_millis(300));
        terminal.press(" ");
        // Each tap but the last moves the arrow.
        let until = Instant::now() + PATIENCE;
        while taken < 8 && terminal.seen().matches('←').count() <= taken {
            assert!(Instant::now() < until, "the arrow has not moved: {}", terminal.seen());
            thread::sleep(Duration::from_millis(10));
        }
    }
    terminal.wait_for("t          the taps");
    terminal.press("w");
    assert_eq!(terminal.ended().exit_code(), 0, "{}", terminal.seen());
    terminal.is_put_back();
    terminal.wait_for("mine.yaml: 8 marks written");
    let text = fs::read_to_string(folder.join("mine.yaml")).expect("there");
    let marks = text.split('<').skip(1).map(|rest| rest.split('>').next().expect("a mark"));
    let times: Vec<f64> = marks.map(|mark| mark.parse().expect("a time")).collect();
    assert_eq!((times.len(), times[0]), (8, 0.0), "{text}");
    for pair in times.windows(2) {
        assert!((0.25..60.0).contains(&(pair[1] - pair[0])), "{times:?}");
    }
    let unmarked = |text: &str| -> Vec<String> {
        text.split_whitespace().filter(|word| !word.starts_with('<')).map(str::to_owned).collect()
    };
    assert_eq!(unmarked(&text), unmarked(SOLVE));
    assert_eq!(fs::read_to_string(folder.join("mine.yaml.bak")).expect("there"), SOLVE);
    // The brief stands on the screen that is left behind.
    let after = terminal.seen();
    assert!(after.rsplit("\u{1b}[?1049l").next().expect("an end").contains("pair 1"), "{after}");
}

/// Ctrl-C, Ctrl-D, SIGTERM and `q`: nothing is written, and the times are not lost.
#[test]
fn however_it_is_left_nothing_is_written_and_the_terminal_is_put_back() {
    for (name, keys, status) in
        [("q", "q", 0), ("ctrl-c", "\u{3}", 130), ("ctrl-d", "\u{4}", 130), ("term", "", 130)]
    {
        let folder = folder(name);
        let mut terminal = Terminal::clock(&folder);
        terminal.wait_for("tap at its first turn");
        let during = terminal.master.as_ref().map(|master| format!("{:?}", master.get_termios()));
        assert_ne!(during.as_deref(), Some(terminal.before.as_str()), "it is raw");
        terminal.press(" ");
        terminal.wait_for("tap when it is done");
        if keys.is_empty() {
            let id = terminal.child.process_id().expect("a number").to_string();
            assert!(Command::new("kill").args(["-TERM", &id]).status().expect("it runs").success());
        } else {
            terminal.press(keys);
        }
        assert_eq!(terminal.ended().exit_code(), status, "{name}");
        terminal.is_put_back();
        terminal.wait_for("nothing is written; the times were --times 0.00");
        assert_eq!(fs::read_to_string(folder.join("mine.yaml")).expect("there"), SOLVE, "{name}");
        assert_eq!(fs::read_dir(&folder).expect("a folder").count(), 1, "{name}");
    }
}

#[test]
fn another_size_is_drawn_anew() {
    let folder = folder("size");
    let mut terminal = Terminal::clock(&folder);
    terminal.wait_for("tap at its first turn");
    let size = PtySize { rows: 8, cols: 50, pixel_width: 0, pixel_height: 0 };
    terminal.master.as_ref().expect("a terminal").resize(size).expect("resized");
    terminal.wait_for("\u{1b}[2J");
    terminal.press("q");
    assert_eq!(terminal.ended().exit_code(), 0);
    terminal.is_put_back();
    let anew = terminal.seen();
    let anew = anew.split("\u{1b}[2J").nth(1).expect("drawn anew");
    let drawn = anew.split("\u{1b}[?1049l").next().expect("the screen");
    for line in drawn.split("\u{1b}[").filter_map(|part| part.split_once('H').map(|(_, line)| line)) {
        assert!(line.chars().count() <= 50, "{line:?}");
    }
    assert!(drawn.contains("tap at its first"), "{drawn}");
}

/// What the run itself has to say is broken at spaces; into a file it is a line each.
#[test]
fn remarks_are_as_wide_as_the_terminal() {
    let mut command = CommandBuilder::new(env!("CARGO_BIN_EXE_cornerwise"));
    command.args(["drill", "--seed", "3"]);
    let mut terminal = Terminal::new(command, &folder("remarks"));
    terminal.wait_for("whole");
    assert_eq!(terminal.ended().exit_code(), 2);
    let seen = terminal.seen();
    let lines: Vec<&str> = seen.trim_end().lines().collect();
    assert!(lines.len() > 1 && lines.iter().all(|line| line.len() <= 80), "{seen}");
    assert!(lines[0].starts_with("cornerwise: which kind") && lines[1].starts_with("  "), "{seen}");
}

/// The terminal goes away: the program ends by itself, even where the signal that tells of it is ignored.
#[test]
fn without_a_terminal_it_ends() {
    for trap in ["", "trap '' HUP; "] {
        let folder = folder(if trap.is_empty() { "gone" } else { "gone-ignored" });
        let mut command = CommandBuilder::new("/bin/sh");
        command.args(["-c", &format!("{trap}exec \"$0\" clock mine.yaml"), env!("CARGO_BIN_EXE_cornerwise")]);
        command.cwd(&folder);
        let pty = native_pty_system().openpty(PtySize::default()).expect("a pseudo-terminal");
        let mut child = pty.slave.spawn_command(command).expect("the program runs");
        drop(pty.slave);
        // Read here and not in a thread, which would keep the terminal open.
        let mut reader = pty.master.try_clone_reader().expect("a reader");
        let mut seen = String::new();
        let mut bytes = [0; 4096];
        while !seen.contains("tap at its first turn") {
            let n = reader.read(&mut bytes).expect("more");
            seen.push_str(&String::from_utf8_lossy(&bytes[..n]));
        }
        drop((reader, pty.master));
        let until = Instant::now() + PATIENCE;
        let status = loop {
            match child.try_wait().expect("a state") {
                Some(status) => break status,
                None if Instant::now() > until => {
                    child.kill().expect("ended");
                    panic!("it does not end");
                }
                None => thread::sleep(Duration::from_millis(10)),
            }
        };
        assert!(!status.success(), "{status:?}");
        assert_eq!(fs::read_to_string(folder.join("mine.yaml")).expect("there"), SOLVE);
    }
}

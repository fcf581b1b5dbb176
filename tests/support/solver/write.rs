//! A solve as a person writes it down: a step a line, a comment behind it, perhaps times.

use std::fmt::Write as _;

use cornerwise::cube::Move;

use super::random::Rng;
use super::{Kind, Solve};

/// Where timing marks are written.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Marks {
    None,
    /// After the last turn of each step.
    Ends,
    /// Before the first and after the last turn of each step.
    Both,
    /// After every turn as well.
    Every,
}

/// How a record is written.
#[derive(Debug, Clone)]
pub struct Style {
    pub marks: Marks,
    /// Marks as frames of a video of so many frames a second, instead of seconds.
    pub fps: Option<u32>,
    /// `r` for `Rw`.
    pub lower_case: bool,
    /// Turns a second within a step.
    pub pace: f64,
    /// How often a pause of half a second or more comes before a step.
    pub stops: f64,
    /// Comments such as `// 1st pair`.
    pub comments: bool,
}

impl Default for Style {
    fn default() -> Style {
        Style { marks: Marks::None, fps: None, lower_case: true, pace: 7.0, stops: 0.2, comments: true }
    }
}

impl Solve {
    /// As YAML, one document.
    pub fn yaml(&self, title: &str, style: &Style, rng: &mut Rng) -> String {
        let (solution, time) = self.solution(style, rng);
        let mut text = format!("title: {title}\n");
        let _ = writeln!(text, "scramble: {}", line(&self.scramble, style));
        if let Some(fps) = style.fps.filter(|_| style.marks != Marks::None) {
            let _ = writeln!(text, "fps: {fps}");
        }
        if style.marks != Marks::None {
            // Truncated to hundredths, as WCA Regulation 9f1 wants it.
            let _ = writeln!(text, "time: {}.{:02}", time / 1000, time % 1000 / 10);
        }
        text.push_str("solution: |\n");
        for line in solution.lines() {
            let _ = writeln!(text, "  {line}");
        }
        text
    }

    /// As plain text: the scramble, an empty line, the solution.
    pub fn plain(&self, style: &Style, rng: &mut Rng) -> String {
        format!("{}\n\n{}", line(&self.scramble, style), self.solution(style, rng).0)
    }

    /// The solution, a step a line, and the time of the last turn in milliseconds.
    pub fn solution(&self, style: &Style, rng: &mut Rng) -> (String, u64) {
        let mut text = String::new();
        let mut clock: u64 = 0;
        let mut pairs = 0;
        let mut started = false;
        for step in &self.steps {
            let mut written = Vec::new();
            let timed = step.kind != Kind::Inspection;
            if timed && started {
                let stop = rng.chance(style.stops);
                clock += if stop { 500 + rng.below(450) as u64 } else { 30 + rng.below(160) as u64 };
            }
            if timed && (style.marks == Marks::Both || style.marks == Marks::Every || !started) {
                written.push(mark(clock, style));
            }
            for (i, &mv) in step.moves.iter().enumerate() {
                written.push(Some(token(mv, style)));
                // The first turn of a step is slower to start, a half turn takes longer.
                let turn = 1000.0 / style.pace * (0.75 + 0.5 * rng.unit());
                let end = i + 1 == step.moves.len();
                if timed {
                    clock += turn as u64;
                    if style.marks != Marks::None && (end || style.marks == Marks::Every) {
                        written.push(mark(clock, style));
                    }
                }
            }
            started |= timed;
            let comment = match step.kind {
                Kind::Inspection => "inspection".to_owned(),
                Kind::Cross if step.pairs.is_empty() => "cross".to_owned(),
                Kind::Cross => {
                    pairs += step.pairs.len();
                    "xcross".to_owned()
                }
                Kind::Pair => {
                    let from = pairs + 1;
                    pairs += step.pairs.len();
                    let each: Vec<_> = (from..=pairs).map(ordinal).collect();
                    format!("{} pair{}", each.join(" and "), if each.len() > 1 { "s" } else { "" })
                }
                Kind::Orient => format!("OLL {}", step.case.as_deref().unwrap_or("")),
                Kind::Permute => format!("PLL {}", step.case.as_deref().unwrap_or("")),
                Kind::Adjust => "AUF".to_owned(),
            };
            let words: Vec<String> = written.into_iter().flatten().collect();
            text.push_str(&words.join(" "));
            if style.comments {
                let _ = write!(text, " // {comment}");
            }
            text.push('\n');
        }
        (text, clock)
    }
}

fn mark(milliseconds: u64, style: &Style) -> Option<String> {
    match (style.marks, style.fps) {
        (Marks::None, _) => None,
        (_, Some(fps)) => Some(format!("<{}f>", (milliseconds * u64::from(fps) + 500) / 1000)),
        (_, None) => Some(format!("<{}.{:02}>", milliseconds / 1000, milliseconds % 1000 / 10)),
    }
}

fn ordinal(n: usize) -> String {
    match n {
        1 => "1st".to_owned(),
        2 => "2nd".to_owned(),
        3 => "3rd".to_owned(),
        n => format!("{n}th"),
    }
}

fn token(mv: Move, style: &Style) -> String {
    let text = mv.to_string();
    if style.lower_case && matches!(mv, Move::Wide(..)) {
        return text.to_ascii_lowercase().replace('w', "");
    }
    text
}

fn line(moves: &[Move], style: &Style) -> String {
    moves.iter().map(|&mv| token(mv, style)).collect::<Vec<_>>().join(" ")
}

//! Damage larger than a slip of the pen: turns and lines lost, exchanged or pasted twice.
//!
//! Works on the text alone, as a person with a clipboard would; knows nothing of how `mend` looks for such damage.

use super::slips::first;
use super::solver::Rng;

/// What happens to a record on its way from one place to another.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Damage {
    /// So many tokens one after the other are missing from a line.
    Run(usize),
    /// A line is missing, comment and all.
    Line,
    /// The turns of a line are missing, its comment stands.
    TurnsOfLine,
    /// Two neighbouring lines stand in the wrong order.
    LinesSwapped,
    /// Two lines anywhere stand in each other's place.
    LinesExchanged,
    /// A line stands twice.
    LineTwice,
    /// One turn of the scramble is another.
    Scramble,
}

pub const DAMAGES: [Damage; 9] = [
    Damage::Run(2),
    Damage::Run(3),
    Damage::Run(4),
    Damage::Line,
    Damage::TurnsOfLine,
    Damage::LinesSwapped,
    Damage::LinesExchanged,
    Damage::LineTwice,
    Damage::Scramble,
];

impl Damage {
    /// In words, for a table.
    pub fn name(self) -> String {
        match self {
            Damage::Run(n) => format!("{n} tokens lost"),
            Damage::Line => "a line lost".into(),
            Damage::TurnsOfLine => "the turns of a line lost".into(),
            Damage::LinesSwapped => "neighbouring lines swapped".into(),
            Damage::LinesExchanged => "two lines exchanged".into(),
            Damage::LineTwice => "a line twice".into(),
            Damage::Scramble => "a wrong token in the scramble".into(),
        }
    }
}

/// A line of the text that has turns of the solution: its bytes without indentation and line end, and the bytes of its
/// tokens.
struct Line {
    from: usize,
    to: usize,
    tokens: Vec<(usize, usize)>,
}

fn lines(text: &str) -> Vec<Line> {
    let (_, record) = first(text);
    let mut lines: Vec<Line> = Vec::new();
    for token in &record.solution.tokens {
        let span = (token.span.start, token.span.end);
        match lines.last_mut() {
            Some(line) if span.0 < line.to => {
                if !line.tokens.contains(&span) {
                    line.tokens.push(span);
                }
            }
            _ => {
                let start = text[..span.0].rfind('\n').map_or(0, |at| at + 1);
                let from = start + text[start..].len() - text[start..].trim_start_matches([' ', '\t']).len();
                let to = text[span.0..].find('\n').map_or(text.len(), |n| span.0 + n);
                lines.push(Line { from, to, tokens: vec![span] });
            }
        }
    }
    lines
}

/// The text damaged at a random place, or `None` where there is no place for it.
pub fn damage(text: &str, kind: Damage, rng: &mut Rng) -> Option<String> {
    let lines = lines(text);
    let pick = |rng: &mut Rng, fits: &dyn Fn(&Line) -> bool| -> Option<usize> {
        let places: Vec<usize> = (0..lines.len()).filter(|&i| fits(&lines[i])).collect();
        if places.is_empty() { None } else { Some(places[rng.below(places.len())]) }
    };
    // A line that is one rotation or one turn is no line of its own: that is a slip.
    let several = |line: &Line| line.tokens.len() >= 3;
    let without = |from: usize, to: usize| format!("{}{}", &text[..from], &text[to..]);
    let whole = |line: &Line| {
        let start = text[..line.from].rfind('\n').map_or(0, |at| at + 1);
        (start, (line.to + 1).min(text.len()))
    };
    let exchanged = |a: &Line, b: &Line| {
        format!(
            "{}{}{}{}{}",
            &text[..a.from],
            &text[b.from..b.to],
            &text[a.to..b.from],
            &text[a.from..a.to],
            &text[b.to..]
        )
    };
    match kind {
        Damage::Run(n) => {
            let line = &lines[pick(rng, &|line| line.tokens.len() > n)?];
            let at = rng.below(line.tokens.len() - n + 1);
            let (from, to) = (line.tokens[at].0, line.tokens[at + n - 1].1);
            let blanks = text[to..].len() - text[to..].trim_start_matches(' ').len();
            Some(without(from, to + blanks))
        }
        Damage::Line => {
            let (from, to) = whole(&lines[pick(rng, &several)?]);
            Some(without(from, to))
        }
        Damage::TurnsOfLine => {
            let line = &lines[pick(rng, &|line| several(line) && text[line.from..line.to].contains("//"))?];
            let comment = line.from + text[line.from..line.to].find("//")?;
            Some(without(line.from, comment))
        }
        Damage::LinesSwapped => {
            let places = lines.windows(2).filter(|two| two.iter().all(several)).count();
            let at = if places == 0 { return None } else { rng.below(places) };
            let two = lines.windows(2).filter(|two| two.iter().all(several)).nth(at)?;
            Some(exchanged(&two[0], &two[1]))
        }
        Damage::LinesExchanged => {
            let a = pick(rng, &several)?;
            let b = pick(rng, &|line| several(line) && line.from != lines[a].from)?;
            Some(exchanged(&lines[a.min(b)], &lines[a.max(b)]))
        }
        Damage::LineTwice => {
            let (from, to) = whole(&lines[pick(rng, &several)?]);
            let end = if text[from..to].ends_with('\n') { "" } else { "\n" };
            Some(format!("{}{end}{}{}", &text[..to], &text[from..to], &text[to..]))
        }
        Damage::Scramble => {
            let (_, record) = first(text);
            let tokens = &record.scramble.tokens;
            let span = tokens.get(rng.below(tokens.len().max(1)))?.span;
            let faces = ["R", "L", "U", "D", "F", "B"];
            let other = format!("{}{}", faces[rng.below(6)], ["", "'", "2"][rng.below(3)]);
            Some(format!("{}{other}{}", &text[..span.start], &text[span.end..]))
        }
    }
    .filter(|damaged| damaged != text)
}

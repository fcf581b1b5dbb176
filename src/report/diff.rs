//! A comparison for people, in a terminal or a file: the lesson first, then a table of all steps, then each step
//! side by side: two columns where the width allows, one above the other where not.

mod best;
mod steps;
mod table;

pub use best::render as best;

use owo_colors::OwoColorize;

use super::look::{Look, columns, wrap};
use crate::annotation::{Annotation, Judged};
use crate::diff::{Comparison, Meeting, MeetingSide, Sides, Which};
use crate::harmless::one_line;

/// Where the text beside a label begins.
const TEXT: usize = 10;

/// The whole comparison as text, ending with a line feed.
#[must_use]
pub fn render(comparison: &Comparison, look: &Look) -> String {
    let mut out = String::new();
    for which in Which::BOTH {
        out.push_str(&head(comparison, which, look));
    }
    out.push_str(&labelled("scramble", &scramble(comparison), look));
    for notice in &comparison.notices {
        out.push_str(&labelled("notice", notice, look));
    }
    out.push('\n');
    for sentence in &comparison.lesson {
        out.push_str(&wrap(&one_line(&sentence.text), look.width, 0));
        out.push('\n');
    }
    if !comparison.different {
        return out;
    }
    out.push('\n');
    out.push_str(&labelled("part", &parting(comparison), look));
    for (n, meeting) in comparison.meetings.iter().enumerate() {
        // Past a few, more of them help nobody; the JSON has them all.
        let rest = comparison.meetings.len() - n;
        if n == 3 && rest > 1 {
            out.push_str(&labelled("", &format!("… and {rest} times more"), look));
            break;
        }
        out.push_str(&labelled(
            if n == 0 { "meet" } else { "" },
            &met(comparison, meeting, look.dot()),
            look,
        ));
    }
    if comparison.meetings.is_empty() {
        out.push_str(&labelled("meet", "never again", look));
    }
    out.push('\n');
    out.push_str(&table::render(comparison, look));
    out.push_str(&steps::render(comparison, look));
    out
}

fn labelled(label: &str, text: &str, look: &Look) -> String {
    format!("{}{}\n", format!("{label:<TEXT$}").style(look.palette.dim), wrap(text, look.width, TEXT))
}

/// `A  tern · Quay Practice` and a line of figures.
fn head(comparison: &Comparison, which: Which, look: &Look) -> String {
    let facts: &Annotation = comparison.annotations.of(which);
    let dot = look.dot();
    let words: Vec<String> =
        [&facts.solver, &facts.title].into_iter().flatten().map(|text| one_line(text)).collect();
    let words = if words.is_empty() {
        format!("{}#{}", one_line(&facts.file), facts.record)
    } else {
        words.join(dot)
    };
    let name = format!("{:<3}", comparison.names.of(which));
    let mut figures = Vec::new();
    if let Some(seconds) = facts.seconds {
        figures.push(format!("{seconds:.2} s"));
    }
    figures.push(super::words::turns(facts.obtm));
    if let Some(rate) = facts.timing.turns_per_second.filter(|_| facts.end.judged != Judged::NotJudged) {
        figures.push(format!("{rate:.1} turns a second"));
    }
    figures.push(facts.cross.as_ref().map_or_else(|| "no cross".into(), |cross| format!("{cross} cross")));
    if !facts.solved {
        figures.push(facts.end.judged.to_string());
    }
    format!(
        "{}{}\n   {}\n",
        name.style(look.palette.strong),
        wrap(&words, look.width, 3).style(look.palette.strong),
        wrap(&figures.join(dot), look.width, 3),
    )
}

pub(super) fn scramble(comparison: &Comparison) -> String {
    let Sides { a, b } = comparison.annotations.as_ref();
    if !comparison.start.same {
        let (x, y) = (&comparison.names.a, &comparison.names.b);
        return format!("not the same position. {x}: {}. {y}: {}", a.scramble, b.scramble);
    }
    if a.scramble == b.scramble {
        a.scramble.clone()
    } else {
        format!("{} (the other is written {}, the same position)", a.scramble, b.scramble)
    }
}

pub(super) fn parting(comparison: &Comparison) -> String {
    let Some(parting) = &comparison.parting else { return "never: the turns are the same".into() };
    let (x, y) = (&comparison.names.a, &comparison.names.b);
    let alike = match parting.turns {
        0 => "at the first turn".into(),
        n => format!("after {} alike", super::words::turns(n)),
    };
    let spent = match (parting.at.a.seconds, parting.at.b.seconds) {
        (Some(a), Some(b)) if parting.turns > 0 => format!(" ({x} in {a:.2} s, {y} in {b:.2} s)"),
        _ => String::new(),
    };
    format!("{alike}{spent}: {}; {}", first_turn(comparison, Which::A), first_turn(comparison, Which::B))
}

/// `A plays R in pair 2 (line 10)`; with what that comes to in the shared hold if both wrote the same.
fn first_turn(comparison: &Comparison, which: Which) -> String {
    let name = comparison.names.of(which);
    let Some(parting) = &comparison.parting else { return String::new() };
    let (side, other) = (parting.at.of(which), parting.at.of(which.other()));
    let (Some(turn), Some(written)) = (&side.turn, &side.written) else {
        return format!("{name} makes no more turns");
    };
    let step = side.step.map_or_else(|| "the solve".into(), |step| step.to_string());
    let line = side.line.map_or(String::new(), |line| format!(" (line {line})"));
    let same = side.written == other.written;
    let turn = if same { format!(", which is {turn} in the hold below") } else { String::new() };
    format!("{name} plays {written} in {step}{line}{turn}")
}

pub(super) fn met(comparison: &Comparison, meeting: &Meeting, dot: &str) -> String {
    if meeting.end {
        return "when the cube is solved".into();
    }
    let but = meeting.free_turn.as_ref().map_or_else(
        || "the same position".into(),
        |free| format!("the same but for {} of the free {} layer", free.top, free.layer),
    );
    let (a, b) = (&meeting.at.a, &meeting.at.b);
    let (name_a, name_b) = (&comparison.names.a, &comparison.names.b);
    let spent = |side: &MeetingSide| {
        let time = side.seconds.map_or(String::new(), |seconds| format!(", {seconds:.2} s"));
        format!("{}{time}", super::words::turns(side.obtm))
    };
    let place = if a.place == b.place {
        format!("{} ({name_a} {}; {name_b} {})", a.place, spent(a), spent(b))
    } else {
        format!("{name_a} {} ({}){}{name_b} {} ({})", a.place, spent(a), dot, b.place, spent(b))
    };
    let end = if meeting.to_end { "; the same from there to the end" } else { "" };
    format!("{place}: {but}{end}")
}

/// `+1.11`, `-0.20`, `=`.
pub(super) fn signed_seconds(difference: f64) -> String {
    if difference.abs() < 0.005 { "=".into() } else { format!("{difference:+.2}") }
}

pub(super) fn signed_turns(difference: i64) -> String {
    if difference == 0 { "=".into() } else { format!("{difference:+}") }
}

/// The text padded on the right to so many columns; escapes take none.
fn padded(text: &str, width: usize) -> String {
    format!("{text}{}", " ".repeat(width.saturating_sub(columns(text))))
}

/// The text padded on the left.
fn padded_left(text: &str, width: usize) -> String {
    format!("{}{text}", " ".repeat(width.saturating_sub(columns(text))))
}

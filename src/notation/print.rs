//! [`Turns`] to text.

use std::fmt::{self, Write};

use super::{Element, Mark, Time, Turns};

/// Seconds with a point and two to six decimals: `3.42`, `63.5` is `63.50`.
impl fmt::Display for Time {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let (seconds, micros) = (self.0 / 1_000_000, self.0 % 1_000_000);
        let mut digits = format!("{micros:06}");
        while digits.len() > 2 && digits.ends_with('0') {
            digits.pop();
        }
        write!(f, "{seconds}.{digits}")
    }
}

/// The turns as text that reads back as the same tokens, marks and comments. Groups stay multiplied out,
/// tokens are in the form of the Regulations (`Rw`), the writer's line breaks are kept. A comment ends its
/// line; there is no line break after the last line.
#[must_use]
pub fn print(turns: &Turns) -> String {
    printed(turns, false)
}

/// [`print()`], but with every token as its writer spelled it, and groups with their brackets where no mark, comment
/// or line break stands inside.
#[must_use]
pub fn print_as_written(turns: &Turns) -> String {
    printed(turns, true)
}

fn printed(turns: &Turns, as_written: bool) -> String {
    enum Item<'a> {
        Mark(&'a Mark),
        Comment(&'a str),
        Break,
    }
    let marks = turns.marks.iter().map(|mark| (mark.moment, mark.span.start, Item::Mark(mark)));
    let comments = turns
        .comments
        .iter()
        .map(|comment| (comment.moment, comment.span.start, Item::Comment(&comment.text)));
    let breaks = turns.breaks.iter().map(|line| (line.moment, line.at, Item::Break));
    let mut between: Vec<_> = marks.chain(comments).chain(breaks).collect();
    let inside = between.iter().map(|(moment, ..)| *moment).collect::<std::collections::BTreeSet<_>>();
    let whole = |from: usize, to: usize| inside.range(from + 1..to).next().is_none();
    let openings = if as_written { turns.openings() } else { Default::default() };
    let mut written_to = 0;
    between.sort_by_key(|(moment, at, _)| (*moment, *at));
    let mut between = between.into_iter().peekable();

    let mut text = String::new();
    let mut gap = "";
    for moment in 0..=turns.tokens.len() {
        let last = moment == turns.tokens.len();
        while let Some((_, _, item)) = between.next_if(|(at, _, _)| *at <= moment || last) {
            if matches!(item, Item::Break) {
                gap = if text.is_empty() { "" } else { "\n" };
                continue;
            }
            text.push_str(gap);
            gap = " ";
            match item {
                Item::Mark(mark) => push_mark(&mut text, mark.time, mark.frame),
                Item::Comment(words) => {
                    text.push_str(if words.is_empty() { "//" } else { "// " });
                    text.push_str(words);
                    gap = "\n";
                }
                Item::Break => {}
            }
        }
        if moment < written_to {
            continue;
        }
        if let Some(token) = turns.tokens.get(moment) {
            text.push_str(gap);
            gap = " ";
            let group = turns.group_at(moment, turns.tokens.len(), None, &openings).map(|n| turns.groups[n]);
            if let Some(group) = group.filter(|group| whole(group.from, group.to)) {
                let mut spelled = String::new();
                turns.spell(group.from..group.to, None, &openings, &mut spelled);
                text.push_str(&spelled);
                written_to = group.to;
                continue;
            }
            match token.element {
                Element::Move(_) if as_written => text.push_str(&token.spelled().unwrap_or_default()),
                // Writing to a `String` cannot fail.
                Element::Move(mv) => _ = write!(text, "{mv}"),
                Element::Unknown => text.push('?'),
                Element::Gap => text.push_str("..."),
                Element::Unreadable => {
                    let found = turns.unread.iter().find(|(span, _)| *span == token.span);
                    text.push_str(found.map_or("!", |(_, words)| words));
                }
            }
        }
    }
    text
}

fn push_mark(text: &mut String, time: Time, frame: Option<u64>) {
    let (minutes, rest) = (time.0 / 60_000_000, time.0 % 60_000_000);
    // Writing to a `String` cannot fail.
    _ = match frame {
        Some(frame) => write!(text, "<{frame}f>"),
        None if minutes == 0 || !time.0.is_multiple_of(1000) => write!(text, "<{time}>"),
        None if minutes < 60 => {
            write!(text, "<{minutes:02}:{:02}.{:03}>", rest / 1_000_000, rest / 1000 % 1000)
        }
        None => write!(
            text,
            "<{:02}:{:02}:{:02}.{:03}>",
            minutes / 60,
            minutes % 60,
            rest / 1_000_000,
            rest / 1000 % 1000
        ),
    };
}

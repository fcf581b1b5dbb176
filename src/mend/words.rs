//! Repairs in words.

use crate::diagnostic::Source;
use crate::notation::Turns;
use crate::record::Record;

use super::change::{Change, Part};
use super::examine::{Examination, Health, Standing};
use super::rank::Repair;
use super::slip::Slip;

/// The turns of the part that a change is in.
#[must_use]
pub const fn turns(record: &Record, part: Part) -> &Turns {
    match part {
        Part::Scramble => &record.scramble,
        Part::Solution => &record.solution,
    }
}

/// What to do, such as "write `R'` for `R`".
#[must_use]
pub fn change(source: &Source, record: &Record, change: &Change) -> String {
    let turns = turns(record, change.part);
    let (range, moves) = change.written();
    let text = |i: usize| source.text.get(turns.tokens[i].span.range()).unwrap_or("?");
    let joined = range.clone().map(text).collect::<Vec<_>>().join(" ");
    let new = moves.iter().map(ToString::to_string).collect::<Vec<_>>().join(" ");
    let scramble = if change.part == Part::Scramble { " in the scramble" } else { "" };
    if let Some((_, from, to)) = change.count {
        return format!("count the group {to} times, not {from}{scramble}");
    }
    if let Some((first, second)) = &change.lines {
        let [first, second] =
            [first, second].map(|tokens| source.position(turns.tokens[tokens.start].span.start).0);
        return format!("exchange line {first} and line {second}");
    }
    let each = if change.in_group.is_some() { " (in every copy of its group)" } else { "" };
    let what = if range.is_empty() {
        match (range.start.checked_sub(1), range.start < turns.tokens.len()) {
            (_, true) if change.side != super::Side::Behind || range.start == 0 => {
                format!("put `{new}` before `{}`", text(range.start))
            }
            (Some(before), _) => format!("put `{new}` after `{}`", text(before)),
            _ => format!("put `{new}`"),
        }
    } else if moves.is_empty() {
        format!("take out `{joined}`")
    } else if change.slip == Slip::Swapped {
        format!("exchange `{}` and `{}`", text(range.start), text(range.start + 1))
    } else {
        format!("write `{new}` for `{joined}`")
    };
    format!("{what}{scramble}{each}")
}

/// Where a change is: the offset of its first byte.
#[must_use]
pub fn place(record: &Record, change: &Change) -> usize {
    let turns = turns(record, change.part);
    let (range, _) = change.written();
    if range.is_empty() {
        super::change::inserted_at(turns, range.start, change.side).start
    } else {
        turns.tokens[range.start].span.start
    }
}

/// A whole repair in one line: "write `R'` for `R` (line 7), put `y` before `U` (line 9)".
#[must_use]
pub fn repair(source: &Source, record: &Record, repair: &Repair) -> String {
    let changes = repair.changes.iter().map(|one| {
        let (line, _) = source.position(place(record, one));
        let what = change(source, record, one);
        if one.lines.is_some() { what } else { format!("{what} (line {line})") }
    });
    changes.collect::<Vec<_>>().join(", ")
}

/// Why a repair that is ahead is not sure.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Doubt {
    /// A comment does not hold with it.
    Comment,
    /// Its turns are those of a whole line: worked out, not read.
    Line,
    /// The words tell that a line is missing elsewhere.
    Elsewhere,
    /// A slip in the scramble would look the same.
    Scramble,
}

/// Why the first repair is [`Standing::Doubtful`], other than that the record may be right as it stands.
#[must_use]
pub fn doubt(examination: &Examination) -> Doubt {
    match examination.ranked.repairs.first() {
        Some(first) if first.judged.broken_claims() > 0 => Doubt::Comment,
        Some(first) if first.changes.iter().any(|change| change.slip == Slip::LineLost) => Doubt::Line,
        _ if examination.line_missing => Doubt::Elsewhere,
        _ => Doubt::Scramble,
    }
}

/// In one line what `mend` would propose; `None` for a record in which nothing is to be repaired.
#[must_use]
pub fn one_line(source: &Source, record: &Record, examination: &Examination) -> Option<String> {
    let first = examination.ranked.repairs.first().map(|first| repair(source, record, first));
    Some(match (examination.standing, first) {
        (Standing::NothingToRepair, _) => return None,
        (Standing::Clear, Some(first)) => format!("mend would {first}"),
        (Standing::Tied, Some(first)) if examination.health != Health::OneTurnShort => {
            let n = examination.near;
            format!("mend finds {n} repairs that fit about equally well; the first: {first}")
        }
        (_, Some(first)) => format!("mend is not certain, but the likeliest repair is: {first}"),
        (_, None) => "mend finds no repair within its bounds".into(),
    })
}

//! What the words at the beginning of a line say: a label, the result, statistics.

use super::atoms::{self, Atom, Kind};
use super::line::{self, Line, Piece};
use super::words::{self, Role};

/// What the words at the beginning say, a time, statistics.
pub(super) fn look(text: &str, line: &mut Line) {
    let first = line.segments.iter().position(|segment| segment.piece == Piece::Turns);
    let n_head = first.map_or(line.atoms.len(), |n| line.segments[n].atoms.start);
    let label_end =
        line.atoms[..n_head].iter().position(|atom| matches!(atom.kind, Kind::Colon | Kind::Comment));
    let words_end = label_end.or((n_head > 0).then_some(n_head)).map_or(line.content, |n| {
        line.atoms
            .get(n)
            .filter(|_| label_end.is_some())
            .map_or(line.atoms[n_head - 1].end, |atom| atom.start)
    });
    let before = line::strip_numbers(&text[line.content..words_end.max(line.content)]);
    let only_words = first.is_none();
    let commented = line.atoms.first().is_some_and(|atom| atom.kind == Kind::Comment);
    if n_head > 0 && !commented {
        let cell = before.split(['|', '\t']).find(|cell| !cell.trim().is_empty()).unwrap_or("");
        line.role = words::role(cell).filter(|_| {
            // `Solve was nice` is no label: without turns behind it a label stands alone or has a colon.
            let alone = only_words && label_end.is_none() && words::words(cell).len() > 4;
            !alone
        });
    }
    let times: Vec<&Atom> = line.atoms[..n_head].iter().filter(|atom| atom.kind == Kind::Time).collect();
    let inside: Vec<Atom> = line.atoms[..n_head]
        .iter()
        .filter(|atom| matches!(atom.kind, Kind::Aside { doubtful: false }))
        .flat_map(|atom| atoms::atoms(text, atom.start + 1, atom.end - 1))
        .filter(|atom| atom.kind == Kind::Time)
        .collect();
    let words =
        words::words(&text[line.content..line.atoms[..n_head].last().map_or(line.content, |atom| atom.end)]);
    let letters: Vec<&String> = words.iter().filter(|word| word.contains(char::is_alphabetic)).collect();
    let units =
        letters.iter().any(|word| words::is_unit(word.trim_start_matches(|c: char| c.is_ascii_digit())));
    let figures = line.atoms[..n_head]
        .iter()
        .any(|atom| matches!(atom.kind, Kind::Number | Kind::Time | Kind::Aside { .. }));
    line.figures =
        only_words && units && figures && letters.len() <= 12 && !commented && line.role != Some(Role::Step);
    let one = match (times.as_slice(), inside.as_slice()) {
        ([one], []) => Some((one.start, one.end)),
        ([], [one]) => Some((one.start, one.end)),
        _ => None,
    };
    // `heron: got 9.02 on this one`, in a chat.
    let said = label_end.filter(|_| only_words && line.role.is_none()).map(|colon| {
        let from = line.atoms[colon].end;
        words::words(&text[from..line.end])
    });
    let got = said.is_some_and(|words| {
        words.iter().any(|word| word == "got")
            && words
                .iter()
                .filter(|word| word.contains(char::is_alphabetic))
                .all(|word| words::is_beside_time(word))
    });
    let plain = got || letters.iter().filter(|word| !words::is_beside_time(word)).count() == 0;
    let labelled = line.role == Some(Role::Time);
    let beside_turns = !only_words && (line.role.is_none_or(|role| role != Role::Step)) && letters.len() <= 4;
    if !commented && !line.figures && (plain && only_words || labelled || beside_turns) {
        line.time = one;
        if line.time.is_none() && labelled {
            line.time = line.atoms[..n_head]
                .iter()
                .find(|atom| {
                    atom.kind == Kind::Number || words::words(&text[atom.start..atom.end]) == ["dnf"]
                })
                .map(|atom| (atom.start, atom.end));
        }
    }
    if let Some((start, end)) = line.time {
        // What stands with it: `+2`, `DNF(…)`.
        let before = text[line.content..start].to_ascii_lowercase();
        let start = before.rfind("dnf").map_or(start, |at| line.content + at);
        let after = &text[end..line.end];
        let plus = after.len()
            - after
                .trim_start()
                .strip_prefix("+2")
                .or_else(|| after.trim_start().strip_prefix("+ 2"))
                .unwrap_or(after)
                .len();
        let close = if start < end && before.contains("dnf") && after.starts_with(')') { 1 } else { 0 };
        line.time = Some((start, end + plus.max(close)));
    }
}

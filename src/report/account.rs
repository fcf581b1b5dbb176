//! How a paste was taken: each stretch of the text with what it was taken for, line by line.

use unicode_width::{UnicodeWidthChar, UnicodeWidthStr};

use crate::diagnostic::Source;
use crate::paste::{Role, Taken, What};
use crate::record::Reading;

use super::look::Look;
use crate::harmless::one_line;

/// In a word or two.
fn name(what: What) -> &'static str {
    match what {
        What::Scramble => "scramble",
        What::Solution => "solution",
        What::Label => "label",
        What::StepLabel => "step",
        What::Remark => "remark",
        What::Title => "title",
        What::Time => "time",
        What::Figures => "figures",
        What::Field(Role::Solver) => "solver",
        What::Field(Role::Date) => "date",
        What::Field(Role::Title) => "title",
        What::Field(Role::Sight) => "sight",
        What::Field(Role::Fps) => "fps",
        What::Field(Role::Hands) => "hands",
        What::Field(_) => "notes",
        What::Decoration => "-",
        What::Aside => "set aside",
    }
}

/// The account as a table: line, what it was taken for, the words.
#[must_use]
pub fn render(source: &Source, reading: &Reading, taken: &[Taken], look: &Look) -> String {
    let n_records = reading.records.len();
    let n_lines = source.text.lines().count();
    let digits = n_lines.max(4).to_string().len().max(4);
    let mut text = format!(
        "{}: {n_records} record{}, {n_lines} line{}\n",
        one_line(&source.name),
        if n_records == 1 { "" } else { "s" },
        if n_lines == 1 { "" } else { "s" }
    );
    let several = n_records > 1;
    text.push_str(&format!(
        "{:>digits$}  {}{:<9}  words\n",
        "line",
        if several { "record  " } else { "" },
        "taken as"
    ));
    let mut before = 0;
    for taken in taken {
        let (line, _) = source.position(taken.span.start);
        let shown = if line == before { String::new() } else { line.to_string() };
        before = line;
        let record = if several { format!("{:>6}  ", taken.record) } else { String::new() };
        let words =
            one_line(&source.text[taken.span.range()].split_whitespace().collect::<Vec<_>>().join(" "))
                .to_string();
        // A remark is shown without its sign, whatever that was.
        let words = match taken.what {
            What::Remark => words.trim_start_matches(['/', '#']).trim_start().to_owned(),
            _ => words,
        };
        let room = look.width.saturating_sub(digits + 2 + record.len() + 11);
        let row = format!("{shown:>digits$}  {record}{:<9}  {}", name(taken.what), shortened(&words, room));
        text.push_str(row.trim_end());
        text.push('\n');
    }
    text
}

/// At most `room` columns of the words.
fn shortened(words: &str, room: usize) -> String {
    if words.width() <= room {
        return words.to_string();
    }
    let mut width = 0;
    let mut short: String = words
        .chars()
        .take_while(|c| {
            width += c.width().unwrap_or(0);
            width + 3 <= room
        })
        .collect();
    short.push_str("...");
    short
}

//! Drills, [as facts](crate::drill::Drill), printed: text, Markdown, and records.

use super::look::{Look, columns};
use super::{markdown, typeset};
use crate::drill::{self, Drill};
use crate::story::blocks::{Block, Phrase, Run};
use crate::story::{self, Asked};

/// The positions of one drill as text, ending with a line feed; with the answers if they are wanted.
#[must_use]
pub fn text(drills: &[Drill], answers: bool, look: &Look) -> String {
    let Some(first) = drills.first() else { return String::new() };
    let head = story::drill_head(first);
    let again = format!("answers: the same with --{} --answers", head.seed);
    let blocks = [Block::Title { words: head.title, figure: head.seed }, Block::Paragraph(head.hold)];
    let mut out = typeset::set(&blocks, look, &|_| String::new());
    let widest = drills.last().map_or(1, |drill| columns(&drill.number.to_string()));
    let indent = widest + 2;
    let set = |phrase: &Phrase, indent: usize| typeset::wrapped(phrase, look, look.width, indent);
    for drill in drills {
        let Asked { scramble, question, answer } = story::drill(drill);
        let scramble = set(&Phrase::new().turns(&scramble), indent);
        out.push_str(&format!("\n{:>widest$}  {scramble}\n", drill.number));
        out.push_str(&format!("{:indent$}{}\n", "", set(&question, indent)));
        for phrase in answer.iter().filter(|_| answers) {
            let indent = indent + 2;
            out.push_str(&format!("{:indent$}{}\n", "", set(phrase, indent)));
        }
    }
    if !answers {
        out.push_str(&format!("\n{}\n", set(&Phrase::new().run(Run::Dim(again)), 0)));
    }
    if look.unicode { out } else { out.replace('·', "|") }
}

/// The same as CommonMark, every answer behind a fold (HTML's `details`), or below its question if it is wanted there.
#[must_use]
pub fn markdown(drills: &[Drill], answers: bool) -> String {
    let Some(first) = drills.first() else { return String::new() };
    let head = story::drill_head(first);
    let inline = markdown::blocks::inline;
    let mut out = format!(
        "# {}\n\n{}, {}\n",
        markdown::escape(&head.title.plain()),
        markdown::escape(&head.seed),
        inline(&head.hold)
    );
    for drill in drills {
        let Asked { scramble, question, answer } = story::drill(drill);
        let scramble = markdown::code(&scramble.to_string());
        out.push_str(&format!("\n## {}\n\n{scramble}\n\n{}\n\n", drill.number, inline(&question)));
        let lines: String = answer.iter().map(|phrase| format!("- {}\n", inline(phrase))).collect();
        if answers {
            out.push_str(&lines);
        } else {
            out.push_str(&format!("<details><summary>Answer</summary>\n\n{lines}\n</details>\n"));
        }
    }
    out
}

/// The same as records that `annotate` reads, the answer played as the solution.
#[must_use]
pub fn records(drills: &[Drill]) -> String {
    let record = |drill: &Drill| drill::record(drill, &story::drill(drill).question.plain());
    drills.iter().map(record).collect::<Vec<_>>().join("---\n")
}

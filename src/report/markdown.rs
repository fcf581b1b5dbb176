//! The annotated solve as CommonMark, for a tutorial text: with pictures as links to SVG files beside it, or
//! inline, or without.
//!
//! What a writer of a record wrote is shown as text whatever it holds: every character that could begin markup is
//! escaped, and line ends become spaces. Tables are the one thing beyond CommonMark; where they are not known they
//! still read as lines.

pub(crate) mod blocks;
pub mod diff;
mod parts;

pub use parts::{both_lines, drill, lanes, overview, position, question, step, worksheet};

use crate::annotation::{Alternative, Annotation, Message};
use crate::harmless::one_line;
use crate::story::blocks::{Block, StepBlock};
use crate::story::{self, Told, line_told};

use super::lanes_svg::{self, Width};
use super::markup::Fragment;
use super::picture::{self, Style};
use super::{figures, words};

/// What becomes of the pictures.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Pictures {
    /// There are none.
    None,
    /// They stand in the text as HTML.
    Inline,
    /// They are files beside the text, whose names begin so (letters, digits, dashes).
    Beside(String),
}

/// A text and the files it links to.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Markdown {
    /// The text.
    pub text: String,
    /// Names and contents of the pictures; the names sort in the order of the solve.
    pub files: Vec<(String, String)>,
}

/// One solve.
#[must_use]
pub fn render(annotation: &Annotation, pictures: &Pictures, style: Style) -> Markdown {
    let mut writer = Writer::new(pictures, style, 0);
    writer.solve(annotation);
    writer.out
}

/// Escapes text so that CommonMark shows it as it is, on one line; pipes too, for table cells.
///
/// ```
/// use cornerwise::report::markdown::escape;
/// assert_eq!(escape("a *star* | <b>\n# x"), "a \\*star\\* \\| \\<b\\> \\# x");
/// assert_eq!(escape("1. R' `U`"), "1\\. R' \\`U\\`");
/// ```
#[must_use]
pub fn escape(text: &str) -> String {
    let text = one_line(text);
    let mut out = String::with_capacity(text.len() + 8);
    // What is special only where a line begins.
    let digits = text.bytes().take_while(u8::is_ascii_digit).count();
    let spaced: String = text.split(' ').filter(|word| !word.is_empty()).collect::<Vec<_>>().join(" ");
    let chars: Vec<char> = spaced.chars().collect();
    for (n, &c) in chars.iter().enumerate() {
        let first = n == 0;
        let special = match c {
            '\\' | '`' | '*' | '_' | '[' | ']' | '<' | '>' | '&' | '|' | '~' | '$' | '#' => true,
            '+' | '-' | '=' => first,
            '.' | ')' => n == digits && digits > 0,
            '!' => chars.get(n + 1) == Some(&'['),
            // Some readers make links of bare addresses.
            ':' => chars.get(n + 1) == Some(&'/'),
            '@' => true,
            _ => false,
        };
        if special {
            out.push('\\');
        }
        out.push(c);
    }
    out
}

/// The text in a code span, with as many backticks round it as it takes.
#[must_use]
pub fn code(text: &str) -> String {
    let text = one_line(text);
    let longest = text.split(|c| c != '`').map(str::len).max().unwrap_or(0);
    let fence = "`".repeat(longest + 1);
    let pad = if text.starts_with('`') || text.ends_with('`') || text.is_empty() { " " } else { "" };
    format!("{fence}{pad}{text}{pad}{fence}")
}

struct Writer<'a> {
    out: Markdown,
    pictures: &'a Pictures,
    style: Style,
    /// How many pictures there are before these.
    before: usize,
}

impl<'a> Writer<'a> {
    fn new(pictures: &'a Pictures, style: Style, before: usize) -> Writer<'a> {
        Writer { out: Markdown::default(), pictures, style, before }
    }

    /// A block and the empty line after it.
    fn block(&mut self, text: &str) {
        self.out.text.push_str(text);
        self.out.text.push_str("\n\n");
    }

    fn list(&mut self, items: impl IntoIterator<Item = String>) {
        let items: Vec<String> = items.into_iter().map(|item| format!("- {item}")).collect();
        if !items.is_empty() {
            self.block(&items.join("\n"));
        }
    }

    /// A picture: `name` for its file, `says` for those who do not see it.
    fn picture(&mut self, name: &str, says: &str, drawn: impl FnOnce() -> Fragment) {
        match self.pictures {
            Pictures::None => {}
            // An HTML block (CommonMark 0.31, section 4.6, kind 6) ends at the first empty line: there is none.
            Pictures::Inline => self.block(&format!("<figure>\n{}\n</figure>", drawn().as_str())),
            Pictures::Beside(prefix) => {
                let file = format!(
                    "{prefix}-{}.svg",
                    figures::file_name(self.before + self.out.files.len() + 1, name)
                );
                self.block(&format!("![{}]({file})", escape(says)));
                self.out.files.push((file, format!("{}\n", drawn().as_str())));
            }
        }
    }

    fn solve(&mut self, annotation: &Annotation) {
        for block in story::solve(annotation, Told::Whole, false, false) {
            match block {
                Block::Lanes => {
                    let says =
                        "look-ahead lanes: where corner and edge of each pair were, over the whole solve";
                    self.picture("lanes", says, || lanes_svg::svg(annotation, Width::Wide));
                }
                Block::Step(step) => self.step(annotation, &step),
                Block::Title { .. } => {
                    self.out.text.push_str(&blocks::block(&block, 2));
                    self.about(annotation);
                }
                block => self.out.text.push_str(&blocks::block(&block, 2)),
            }
        }
    }

    /// What belongs to the record rather than the solve: scramble, the writer's words, messages.
    fn about(&mut self, annotation: &Annotation) {
        self.block(&format!("Scramble: {}", code(&annotation.scramble)));
        if let Some(remarks) = &annotation.remarks {
            self.block(&format!("> {}", escape(remarks)));
        }
        let told = |(kind, message): (&str, &Message)| {
            let place = match (message.line, message.column) {
                (Some(line), Some(column)) => format!(" (line {line}, column {column})"),
                _ => String::new(),
            };
            let help = message.help.as_ref().map_or(String::new(), |help| format!("; {}", escape(help)));
            format!("**{kind}**{place}: {}{help}", escape(&message.message))
        };
        let faults = annotation.faults.iter().map(|message| ("fault", message));
        let notes = annotation.notes.iter().map(|message| ("note", message));
        let mut messages: Vec<String> = faults.chain(notes).map(told).collect();
        messages.extend(annotation.repair.as_ref().map(|repair| format!("**repair**: {}", escape(repair))));
        self.list(messages);
    }

    fn step(&mut self, annotation: &Annotation, block: &StepBlock) {
        let mut steps = annotation.steps.iter().enumerate();
        let Some((n, step)) = steps.find(|(_, step)| (step.from, step.to) == (block.from, block.to)) else {
            return;
        };
        self.block(&format!("## {}", escape(&words::heading(step))));
        self.block(&format!("{} ({})", code(&block.tokens), figures_of(block).join(", ")));
        let drawn = figures::step(annotation, step, self.style);
        let says = format!("the position before {}. {}", step.name, drawn.description);
        self.picture(&step.name.to_string(), &says, || picture::svg(&drawn));
        self.out.text.push_str(&blocks::lines(block));
        if let Some(line) = better(annotation, n) {
            let drawn = figures::alternative(annotation, line, self.style);
            let says = format!("the position the other line leaves. {}", drawn.description);
            self.picture(&format!("{} other", step.name), &says, || picture::svg(&drawn));
        }
    }
}

/// Turns, seconds and pace as the story has them, without the blanks that set them below each other.
pub(super) fn figures_of(block: &StepBlock) -> Vec<&str> {
    block.figures.iter().map(|figure| figure.trim()).collect()
}

/// The line to show beside the turns of a step: the one that is told of it, else, after the same turns, the pair that
/// would have spared the stop behind it.
pub(crate) fn better(annotation: &Annotation, index: usize) -> Option<&Alternative> {
    let choice = annotation.steps[index].choice.as_ref()?;
    let told = line_told(annotation, &annotation.steps[index]).map(|(_, line)| line);
    told.or_else(|| {
        let next = annotation.steps.get(index + 1)?;
        let instead = next.stop_before()?.instead.as_ref()?;
        choice.cheapest.as_ref().filter(|line| {
            line.same_turns && line.next.as_ref().is_some_and(|next| next.pair == instead.pair)
        })
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::report::sample;
    use proptest::prelude::*;
    use pulldown_cmark::{Event, Options, Parser, Tag, TagEnd};

    fn parse(text: &str) -> impl Iterator<Item = Event<'_>> {
        Parser::new_ext(text, Options::ENABLE_TABLES | Options::ENABLE_STRIKETHROUGH)
    }

    /// The text a CommonMark reader shows.
    fn shown(text: &str) -> String {
        let mut out = String::new();
        for event in parse(text) {
            match event {
                Event::Text(text) | Event::Code(text) => out.push_str(&text),
                Event::SoftBreak | Event::HardBreak => out.push('\n'),
                Event::End(TagEnd::Paragraph | TagEnd::Heading(_)) => out.push('\n'),
                Event::Html(_) | Event::InlineHtml(_) => out.push_str("HTML!"),
                _ => {}
            }
        }
        out
    }

    proptest! {
        /// Judged by a CommonMark reader that is not ours.
        #[test]
        fn escaped_text_is_shown_as_it_was(text in "[ -~\u{a0}-\u{2ff}]{0,60}") {
            let wanted: String = one_line(&text).split(' ').filter(|w| !w.is_empty()).collect::<Vec<_>>().join(" ");
            let got = shown(&escape(&text));
            prop_assert_eq!(got.trim_end_matches('\n'), wanted.as_str());
            let heading = format!("# {}", escape(&text));
            let got = shown(&heading);
            prop_assert_eq!(got.trim_end_matches('\n'), wanted.as_str());
        }

        #[test]
        fn code_is_shown_as_it_was(text in "[ -~]{1,40}") {
            let wanted = one_line(&text);
            prop_assume!(!wanted.trim().is_empty());
            let got = shown(&code(&text));
            prop_assert_eq!(got.trim_end_matches('\n'), wanted.as_str());
        }
    }

    #[test]
    fn every_link_leads_to_a_file_that_is_written_and_the_other_way_round() {
        let annotation = sample::annotation(true);
        let markdown = render(&annotation, &Pictures::Beside("quay".into()), Style::default());
        let links: Vec<String> = parse(&markdown.text)
            .filter_map(|event| match event {
                Event::Start(Tag::Image { dest_url, .. }) => Some(dest_url.to_string()),
                _ => None,
            })
            .collect();
        let names: Vec<String> = markdown.files.iter().map(|(name, _)| name.clone()).collect();
        assert_eq!(links, names);
        assert!(names.is_sorted(), "{names:?}");
        let turned = annotation.steps.iter().filter(|step| step.obtm > 0).count();
        assert!(names.len() > turned, "the lanes, and a picture a step");
        for (name, drawn) in &markdown.files {
            assert!(roxmltree::Document::parse(drawn).is_ok(), "{name}");
        }
    }

    #[test]
    fn tables_are_tables_and_inline_pictures_are_whole_blocks() {
        let annotation = sample::annotation(true);
        let markdown = render(&annotation, &Pictures::Inline, Style::default());
        assert!(markdown.files.is_empty());
        let tables =
            parse(&markdown.text).filter(|event| matches!(event, Event::Start(Tag::Table(_)))).count();
        let offered = annotation.steps.iter().filter(|step| step.taken().is_some()).count();
        assert_eq!(tables, 1 + offered, "the table of the steps, and one a step with a pair to come");
        let html: String = parse(&markdown.text)
            .filter_map(|event| match event {
                Event::Html(html) | Event::InlineHtml(html) => Some(html.to_string()),
                _ => None,
            })
            .collect();
        let read = format!("<all>{html}</all>");
        let read = roxmltree::Document::parse(&read).expect("whole figures");
        let drawn = read.descendants().filter(|node| node.has_tag_name("figure")).count();
        let beside = render(&annotation, &Pictures::Beside("x".into()), Style::default()).files.len();
        assert_eq!(drawn, beside);
    }

    #[test]
    fn without_pictures_there_are_none() {
        let markdown = render(&sample::annotation(false), &Pictures::None, Style::default());
        assert!(markdown.files.is_empty() && !markdown.text.contains("!["));
        assert!(!shown(&markdown.text).contains("HTML!"));
    }
}

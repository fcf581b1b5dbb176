//! What the blocks of a lesson ask for.

use std::ops::Range;

use pulldown_cmark::{CodeBlockKind, Event, Options, Parser, Tag, TagEnd};

use crate::diagnostic::{Diagnostic, Source, Span};
use crate::drill::Kind;
use crate::findings;

/// The first word of a block of ours.
const WORD: &str = "cornerwise";

/// What is to be shown.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Show {
    /// The cube at a moment, the pair that comes next pointed at.
    Position,
    /// A step, as pages have it.
    Step,
    /// The lanes of the solve.
    Lanes,
    /// The whole solve under one cursor; in Markdown its lanes and its table.
    Player,
    /// Played and better line beside each other.
    BothLines,
    /// Which pair next? The answer is behind.
    Question,
    /// Positions made to order, of no record.
    Drill,
}

impl Show {
    /// All of them, and how each is written.
    pub const ALL: [(&'static str, Show); 7] = [
        ("position", Show::Position),
        ("step", Show::Step),
        ("lanes", Show::Lanes),
        ("player", Show::Player),
        ("both lines", Show::BothLines),
        ("question", Show::Question),
        ("drill", Show::Drill),
    ];

    /// Whether it needs a step or a moment.
    #[must_use]
    pub const fn has_a_place(self) -> bool {
        !matches!(self, Show::Lanes | Show::Player | Show::Drill)
    }
}

/// A step or a moment, as written.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Where {
    /// What stands behind `at`.
    pub text: String,
    /// Where it stands in the lesson.
    pub span: Span,
}

/// Which positions of a drill: the same ones every time, for the same sources give the same bytes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Practice {
    /// What they have in common.
    pub kind: Kind,
    /// How many.
    pub count: usize,
    /// As `drill --seed` takes it.
    pub seed: u64,
}

/// So many blocks are in one lesson at most.
pub const MOST_BLOCKS: usize = 200;

impl Practice {
    /// So many positions are in one block at most.
    pub const MOST: usize = 20;
}

/// A block of a lesson.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Ask {
    /// The block in the lesson, its fences included.
    pub range: Range<usize>,
    /// Its info string in the lesson.
    pub info: Span,
    /// What it asks for; `None` where that cannot be read.
    pub show: Option<Show>,
    /// The record that is named.
    pub of: Option<String>,
    /// The step or the moment.
    pub at: Option<Where>,
    /// The positions of a drill.
    pub practice: Option<Practice>,
    /// What is written in the block.
    pub body: String,
    /// Where that begins in the lesson.
    pub body_at: usize,
}

/// How lessons are read: CommonMark, with the tables that ours have too.
pub(super) fn parser(text: &str) -> Parser<'_> {
    Parser::new_ext(text, Options::ENABLE_TABLES | Options::ENABLE_STRIKETHROUGH | Options::ENABLE_FOOTNOTES)
}

/// Whether a fenced block is one of ours.
pub(super) fn ours(kind: &CodeBlockKind<'_>) -> bool {
    matches!(kind, CodeBlockKind::Fenced(info) if info.split_whitespace().next() == Some(WORD))
}

/// The blocks of a lesson in order, and what is wrong with their first lines.
#[must_use]
pub fn read(source: &Source) -> (Vec<Ask>, Vec<Diagnostic>) {
    let (mut asks, mut faults) = (Vec::new(), Vec::new());
    let mut open: Option<Ask> = None;
    for (event, range) in parser(&source.text).into_offset_iter() {
        match event {
            Event::Start(Tag::CodeBlock(kind)) if ours(&kind) => {
                if asks.len() == MOST_BLOCKS {
                    let first = Span::new(range.start, range.end).first_line(&source.text);
                    faults.push(findings::lesson_long(MOST_BLOCKS).at(first));
                    break;
                }
                open = Some(first_line(&source.text, range, &mut faults));
            }
            Event::Text(text) => {
                if let Some(ask) = &mut open {
                    if ask.body.is_empty() {
                        ask.body_at = range.start;
                    }
                    ask.body.push_str(&text);
                }
            }
            Event::End(TagEnd::CodeBlock) => asks.extend(open.take()),
            _ => {}
        }
    }
    (asks, faults)
}

/// Reads the first line of a block.
fn first_line(text: &str, range: Range<usize>, faults: &mut Vec<Diagnostic>) -> Ask {
    let line = text[range.clone()].lines().next().unwrap_or_default();
    let from = range.start + line.find(WORD).unwrap_or(0);
    let to = range.start + line.trim_end().len();
    let info = Span::new(from, to.max(from));
    let mut ask = Ask {
        body_at: range.end,
        range,
        info,
        show: None,
        of: None,
        at: None,
        practice: None,
        body: String::new(),
    };
    // What is left to read, and where it stands.
    let mut rest = &text[from + WORD.len()..to.max(from + WORD.len())];
    let skip = |rest: &str| rest.len() - rest.trim_start().len();
    rest = &rest[skip(rest)..];
    let offset = |rest: &str| to - rest.len();
    let starts = |rest: &str, name: &str| {
        rest.strip_prefix(name).is_some_and(|behind| behind.is_empty() || behind.starts_with(' '))
    };
    match Show::ALL.iter().find(|(name, _)| starts(rest, name)) {
        Some((name, show)) => {
            ask.show = Some(*show);
            rest = rest[name.len()..].trim_start();
        }
        None => {
            let found =
                rest.split(" of ").next().unwrap_or_default().split(" at ").next().unwrap_or_default().trim();
            let span = Span::new(offset(rest), offset(rest) + found.len());
            faults.push(findings::lesson_what(found, nearest(found)).at(span));
            return ask;
        }
    }
    if ask.show == Some(Show::Drill) {
        ask.practice = practice(rest);
        if ask.practice.is_none() {
            let kinds = Kind::ALL.map(Kind::word).join(", ");
            let fault = findings::lesson_drill(rest.trim_end(), &kinds, Practice::MOST);
            faults.push(fault.at(Span::new(offset(rest), to)));
            ask.show = None;
        }
        return ask;
    }
    if let Some(behind) = rest.strip_prefix("of ") {
        // A title may have an `at` in it: the last one is ours.
        let end = behind.rfind(" at ").unwrap_or(behind.len());
        ask.of = Some(behind[..end].trim().to_owned()).filter(|of| !of.is_empty());
        rest = behind[end..].trim_start();
    }
    if let Some(behind) = rest.strip_prefix("at ") {
        let behind = behind.trim_start();
        let span = Span::new(offset(behind), to);
        ask.at = Some(Where { text: behind.trim_end().to_owned(), span });
    } else if !rest.is_empty() {
        faults.push(findings::lesson_more(rest.trim_end()).at(Span::new(offset(rest), to)));
        ask.show = None;
    }
    ask
}

/// `KIND [N] [seed S]`: one position with the seed 1 if nothing is said.
fn practice(words: &str) -> Option<Practice> {
    let mut words = words.split_whitespace().peekable();
    let named = words.next()?;
    let kind = Kind::ALL.into_iter().find(|kind| kind.word() == named)?;
    let mut practice = Practice { kind, count: 1, seed: 1 };
    if let Some(count) = words.peek().and_then(|word| word.parse().ok()) {
        practice.count = count;
        words.next();
    }
    if words.next_if_eq(&"seed").is_some() {
        practice.seed = words.next()?.parse().ok()?;
    }
    let whole = words.next().is_none() && (1..=Practice::MOST).contains(&practice.count);
    whole.then_some(practice)
}

/// What was meant, if it is but a letter or two away.
fn nearest(found: &str) -> Option<&'static str> {
    let far = |name: &str| strsim::damerau_levenshtein(found, name);
    let (name, _) = Show::ALL.iter().min_by_key(|(name, _)| far(name))?;
    (far(name) <= 2 && !found.is_empty()).then_some(*name)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn lesson(text: &str) -> (Vec<Ask>, Vec<Diagnostic>, Source) {
        let source = Source::new("lesson.md", text);
        let (asks, faults) = read(&source);
        (asks, faults, source)
    }

    #[test]
    fn a_block_says_what_of_which_record_at_which_place() {
        let text = "# A title\n\n```cornerwise question of quay.yaml#2 at pair 1\n```\n\n~~~ cornerwise  both lines at pair 3\nR U\n\nU'\n~~~\n\n```rust\ncornerwise\n```\n";
        let (asks, faults, source) = lesson(text);
        assert_eq!((asks.len(), faults.len()), (2, 0), "{faults:?}");
        assert_eq!((asks[0].show, asks[0].of.as_deref()), (Some(Show::Question), Some("quay.yaml#2")));
        assert_eq!(asks[0].at.as_ref().map(|at| at.text.as_str()), Some("pair 1"));
        assert_eq!((asks[1].show, asks[1].of.as_deref()), (Some(Show::BothLines), None));
        assert_eq!(asks[1].body, "R U\n\nU'\n");
        let at = asks[1].at.as_ref().expect("a place").span;
        assert_eq!(&source.text[at.range()], "pair 3");
        assert!(source.text[asks[1].body_at..].starts_with("R U"));
    }

    #[test]
    fn a_drill_says_its_kind_and_perhaps_how_many_and_which() {
        let text = "```cornerwise drill find\n```\n```cornerwise drill edge 3\n```\n```cornerwise drill whole 2 seed 7\n```\n";
        let (asks, faults, _) = lesson(text);
        assert!(faults.is_empty(), "{faults:?}");
        let read: Vec<_> =
            asks.iter().filter_map(|ask| ask.practice).map(|p| (p.kind.word(), p.count, p.seed)).collect();
        assert_eq!(read, [("find", 1, 1), ("edge", 3, 1), ("whole", 2, 7)]);
    }

    #[test]
    fn a_fault_stands_at_its_place_in_the_lesson() {
        for (line, wrong, help) in [
            ("cornerwise positon of a.yaml at 3", "positon", "write `position`"),
            ("cornerwise lanes from a.yaml", "from a.yaml", "such as"),
            ("cornerwise", "", "write `position`, `step`"),
            ("cornerwise dance of a.yaml", "dance", "write `position`, `step`"),
            ("cornerwise drill", "", "a kind is one of find, "),
            ("cornerwise drill fnd 3", "fnd 3", "a kind is one of find, "),
            ("cornerwise drill find 21", "find 21", "a kind is one of find, "),
            ("cornerwise drill find 3 seed", "find 3 seed", "a kind is one of find, "),
            ("cornerwise drill find of a.yaml", "find of a.yaml", "a kind is one of find, "),
        ] {
            let (asks, faults, source) = lesson(&format!("text\n\n```{line}\n```\n"));
            let [fault] = faults.as_slice() else { panic!("{faults:?}") };
            assert_eq!(asks[0].show, None);
            let span = fault.span().expect("a place");
            assert_eq!(&source.text[span.range()], wrong, "{line}");
            assert_eq!(source.position(span.start).0, 3);
            assert!(fault.help.as_ref().is_some_and(|said| said.starts_with(help)), "{fault:?}");
        }
    }
}

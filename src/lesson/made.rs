//! What the blocks of a lesson come to, and the lesson with them in their places.

use std::fmt::Write as _;

use pulldown_cmark::{Event, Tag, TagEnd};

use super::ask::{self, Ask, Practice, Show};
use crate::annotation::{Annotation, Step};
use crate::cube::Colour;
use crate::diagnostic::{Diagnostic, Source};
use crate::drill::{Drill, Drills, Wish};
use crate::findings;
use crate::harmless::harmless;
use crate::report::html;
use crate::report::markdown::{self, Pictures};
use crate::report::markup::Fragment;
use crate::report::picture::Style;
use crate::story::quiz;

/// What a block shows.
#[derive(Debug, Clone)]
pub enum Shown {
    /// Something of a solve.
    Solve(Box<OfSolve>),
    /// Positions of a drill.
    Drill(Vec<Drill>),
}

/// What is shown of a solve, found in its record.
#[derive(Debug, Clone)]
pub struct OfSolve {
    /// The solve.
    pub facts: Annotation,
    /// What of it.
    pub show: Show,
    /// The moment, where there is one.
    pub moment: Option<usize>,
    /// The step, where there is one.
    pub step: Option<usize>,
}

/// A lesson's text and the pictures beside it.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Made {
    /// The lesson as Markdown.
    pub text: String,
    /// Names and contents of its pictures.
    pub files: Vec<(String, String)>,
}

/// Finds in a solve what a block asks for.
///
/// # Errors
///
/// What is wrong with the block, at its place in the lesson.
pub fn show(ask: &Ask, facts: Annotation) -> Result<Shown, Diagnostic> {
    let Some(show) = ask.show else { return Err(findings::lesson_what("", None).at(ask.info)) };
    let (step, moment) = place(ask, show, &facts)?;
    let titled = |step: usize| facts.steps[step].title();
    match (show, step) {
        (Show::Lanes, _) if !facts.has_lanes() => Err(findings::lesson_no_lanes().at(ask.info)),
        (Show::BothLines, Some(n)) if markdown::better(&facts, n).is_none() => {
            Err(findings::lesson_no_line(&titled(n)).at(ask.info))
        }
        (Show::Question, Some(n)) if question(&facts, n).is_none() => {
            Err(findings::lesson_no_question(&titled(n)).at(ask.info))
        }
        _ => Ok(Shown::Solve(Box::new(OfSolve { facts, show, moment, step }))),
    }
}

/// Makes the positions a block asks for.
///
/// # Errors
///
/// What is wrong with the block, at its place in the lesson.
pub fn practise(ask: &Ask, practice: Practice) -> Result<Shown, Diagnostic> {
    if !ask.body.trim().is_empty() {
        return Err(findings::lesson_drill_body().at(ask.info));
    }
    let unmet = |why: String| findings::lesson_drill_unmet(&why).at(ask.info);
    let wish = Wish::of(practice.kind, Colour::White);
    let drills = Drills::new(wish, practice.seed).map_err(|refused| unmet(refused.to_string()))?;
    let all: Result<Vec<Drill>, _> = (1..practice.count + 1).map(|number| drills.one(number)).collect();
    Ok(Shown::Drill(all.map_err(|why| unmet(why.to_string()))?))
}

/// The step and the moment a block names.
fn place(ask: &Ask, show: Show, facts: &Annotation) -> Result<(Option<usize>, Option<usize>), Diagnostic> {
    let last = facts.moments.len() - 1;
    let turned = |step: &&Step| step.obtm > 0;
    let names: Vec<String> = facts.steps.iter().filter(turned).map(|step| step.title()).collect();
    let wrong = |found: &str, span| Err(findings::lesson_where(found, &names.join(", "), last).at(span));
    let Some(at) = &ask.at else {
        return if show.has_a_place() { wrong("", ask.info) } else { Ok((None, None)) };
    };
    if let Ok(moment) = at.text.parse::<usize>() {
        if moment > last {
            return wrong(&at.text, at.span);
        }
        return Ok((crate::story::moments::step(facts, moment), Some(moment)));
    }
    let wanted = at.text.to_lowercase();
    let called =
        |step: &Step| step.title().to_lowercase() == wanted || step.name.to_string().to_lowercase() == wanted;
    match facts.steps.iter().position(called) {
        Some(step) => Ok((Some(step), Some(facts.steps[step].from))),
        None => wrong(&at.text, at.span),
    }
}

/// The question that is asked before a step.
fn question(facts: &Annotation, step: usize) -> Option<quiz::Question> {
    quiz::questions(facts).into_iter().find(|question| question.step + 1 == step)
}

/// The lesson as Markdown: blocks replaced, all else as it was.
#[must_use]
pub fn markdown(
    source: &Source,
    asks: &[Ask],
    shown: &[Option<Shown>],
    pictures: &Pictures,
    style: Style,
) -> Made {
    let mut made = Made::default();
    let mut at = 0;
    for (ask, shown) in asks.iter().zip(shown) {
        let text = &source.text;
        let line = text[..ask.range.start].rfind('\n').map_or(0, |end| end + 1);
        made.text.push_str(&text[at..ask.range.start]);
        let part = match shown {
            Some(shown) => part(shown, pictures, style, &mut made.files),
            None => format!("**{NOT_FILLED_IN}**\n\n{}", as_written(ask, text)),
        };
        // In a quotation or a list every line has what the first one has before it.
        let before: String = text[line..ask.range.start]
            .chars()
            .map(|c| if matches!(c, '>' | ' ' | '\t') { c } else { ' ' })
            .collect();
        for (n, line) in part.trim_end().lines().enumerate() {
            if n > 0 {
                let _ = write!(made.text, "\n{}", if line.is_empty() { before.trim_end() } else { &before });
            }
            made.text.push_str(line);
        }
        // A block whose fence is never closed ends with its last line.
        let behind = &text[ask.range.end..];
        if text[..ask.range.end].ends_with('\n') {
            made.text.push('\n');
        } else if behind
            .strip_prefix('\n')
            .is_some_and(|next| !next.trim_start_matches([' ', '>', '\t']).starts_with('\n'))
        {
            // What a fold is followed by at once would be HTML, too.
            let _ = write!(made.text, "\n{}", before.trim_end());
        }
        at = ask.range.end;
    }
    made.text.push_str(&source.text[at..]);
    made
}

/// What stands where a block could not be filled in, so that nobody takes the hole for the whole.
const NOT_FILLED_IN: &str = "This block could not be filled in; lesson --check says why.";

/// A block as it stands in the lesson, without what every line of a quotation or a list has before it.
fn as_written(ask: &Ask, text: &str) -> String {
    let fence = text[ask.range.clone()].chars().take_while(|&c| c == '`' || c == '~').collect::<String>();
    let end = if ask.body.is_empty() || ask.body.ends_with('\n') { "" } else { "\n" };
    format!("{fence}{}\n{}{end}{fence}\n", &text[ask.info.range()], ask.body)
}

/// One block as Markdown.
fn part(shown: &Shown, pictures: &Pictures, style: Style, files: &mut Vec<(String, String)>) -> String {
    let shown = match shown {
        Shown::Solve(shown) => shown,
        Shown::Drill(drills) => {
            let made = markdown::drill(drills, pictures, style, files.len());
            files.extend(made.files);
            return made.text;
        }
    };
    let facts = &shown.facts;
    let made = match (shown.show, shown.step, shown.moment) {
        (Show::Position, _, Some(moment)) => markdown::position(facts, moment, pictures, style, files.len()),
        (Show::Step, Some(step), _) => markdown::step(facts, step, pictures, style, files.len()),
        (Show::BothLines, Some(step), _) => markdown::both_lines(facts, step, pictures, style, files.len()),
        (Show::Question, Some(step), _) => match question(facts, step) {
            Some(question) => markdown::question(facts, &question, pictures, style, files.len()),
            None => markdown::Markdown::default(),
        },
        (Show::Player, ..) => markdown::overview(facts, pictures, files.len()),
        _ => markdown::lanes(facts, pictures, files.len()),
    };
    files.extend(made.files);
    made.text
}

/// The lesson as one page. HTML in the lesson is shown as text: a page forbids itself what it could do.
#[must_use]
pub fn page(source: &Source, asks: &[Ask], shown: &[Option<Shown>], style: Style) -> String {
    let mut blocks = asks.iter().zip(shown).enumerate();
    let mut title: Option<String> = None;
    let (mut in_title, mut skipping, mut without_link) = (false, false, false);
    let mut events = Vec::new();
    for event in ask::parser(&source.text) {
        match event {
            Event::Start(Tag::CodeBlock(ref kind)) if ask::ours(kind) => {
                if let Some((n, (_, Some(shown)))) = blocks.next() {
                    skipping = true;
                    events.push(Event::Html(String::from(drawn(shown, n + 1, style)).into()));
                } else {
                    let said = html::part::remark(NOT_FILLED_IN);
                    events.extend([Event::Html(String::from(said).into()), event]);
                }
            }
            Event::End(TagEnd::CodeBlock) if skipping => skipping = false,
            _ if skipping => {}
            Event::Html(text) | Event::InlineHtml(text) | Event::Text(text) => {
                if in_title {
                    title.get_or_insert_default().push_str(&text);
                }
                events.push(Event::Text(harmless(&text).into_owned().into()));
            }
            Event::Code(text) => {
                if in_title {
                    title.get_or_insert_default().push_str(&text);
                }
                events.push(Event::Code(harmless(&text).into_owned().into()));
            }
            // Its words stay.
            Event::Start(Tag::Link { ref dest_url, .. }) if !leads_to_a_page(dest_url) => without_link = true,
            Event::End(TagEnd::Link) if without_link => without_link = false,
            Event::Start(Tag::Image { link_type, dest_url, title, id }) => {
                let dest_url = if leads_to_a_page(&dest_url) { dest_url } else { "".into() };
                events.push(Event::Start(Tag::Image { link_type, dest_url, title, id }));
            }
            event => {
                match &event {
                    Event::Start(Tag::Heading { .. }) if title.is_none() => {
                        in_title = true;
                        title = Some(String::new());
                    }
                    Event::End(TagEnd::Heading(_)) => in_title = false,
                    _ => {}
                }
                events.push(event);
            }
        }
    }
    let mut body = String::new();
    pulldown_cmark::html::push_html(&mut body, events.into_iter());
    let title = title.filter(|title| !title.is_empty()).unwrap_or_else(|| source.name.clone());
    html::lesson(&title, &Fragment::of_another_writer(body))
}

/// Whether an address is that of a page or a letter, or of something beside the lesson: none that runs, such as
/// `javascript:`, and none of this machine.
fn leads_to_a_page(address: &str) -> bool {
    // Browsers pass over blanks and controls in it.
    let address: String = address.chars().filter(|&c| !c.is_whitespace() && !c.is_control()).collect();
    let scheme = address.split(['/', '?', '#']).next().and_then(|begin| begin.split_once(':'));
    scheme.is_none_or(|(scheme, _)| {
        ["http", "https", "mailto"].iter().any(|fine| scheme.eq_ignore_ascii_case(fine))
    })
}

/// One block as a part of a page; `n` makes its ids unique.
fn drawn(shown: &Shown, n: usize, style: Style) -> Fragment {
    let shown = match shown {
        Shown::Solve(shown) => shown,
        Shown::Drill(drills) => return html::part::drill(drills),
    };
    let facts = &shown.facts;
    let key = format!("s{n}");
    match (shown.show, shown.step, shown.moment) {
        (Show::Position, _, Some(moment)) => html::part::position(facts, moment, style),
        (Show::Step, Some(step), _) => html::part::step(facts, step, &key, style),
        (Show::BothLines, Some(step), _) => html::part::both_lines(facts, step, style),
        (Show::Question, Some(step), _) => match question(facts, step) {
            Some(question) => html::part::question(facts, &question, style),
            None => Fragment::default(),
        },
        (Show::Player, _, moment) => html::part::player(facts, moment, &key, style),
        _ => html::part::lanes(facts),
    }
}

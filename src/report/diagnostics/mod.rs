//! Diagnostics as people and editors read them.
//!
//! The drawing with carets is annotate-snippets'; it gets spans that are on the text and only the lines that
//! matter, so no text, however long or odd, makes it panic or slow.

mod fitted;

use std::collections::BTreeMap;

use annotate_snippets::renderer::DecorStyle;
use annotate_snippets::{AnnotationKind, Element, Group, Level, Origin, Renderer, Snippet};

use crate::diagnostic::{BYTE_ORDER_MARK, Diagnostic, Severity, Source, Span};
use crate::harmless::{self, Moved};
use crate::report::look::{Look, Palette};

/// How many places of one diagnostic are drawn; the message says how many more there are.
const MAX_PLACES: usize = 3;

/// How many messages of one kind are drawn; how many more there are is said.
const MOST_ALIKE: usize = 20;

/// Whole lines are drawn up to this many bytes; what is further apart is drawn in parts.
const MAX_EXCERPT: usize = 1 << 12;

/// How many bytes before and after a caret are kept of a longer line.
const MAX_LINE: usize = 200;

/// Each diagnostic with its lines of the source and carets, one after the other, a blank line between. Plain ASCII signs; styled
/// if the palette of `look` has any colour.
#[must_use]
pub fn draw(source: &Source, diagnostics: &[Diagnostic], look: &Look) -> String {
    let mut alike: BTreeMap<&str, usize> = BTreeMap::new();
    let mut drawn = Vec::new();
    for diagnostic in diagnostics {
        let n = alike.entry(diagnostic.code).or_default();
        *n += 1;
        if *n <= MOST_ALIKE {
            drawn.push(draw_one(source, diagnostic, look));
        }
    }
    for (code, n) in alike.into_iter().filter(|&(_, n)| n > MOST_ALIKE) {
        let name = harmless::one_line(&source.name);
        drawn.push(format!(
            "{name}: {} more of the kind [{code}]; --messages line has them all\n",
            n - MOST_ALIKE
        ));
    }
    drawn.join("\n")
}

fn draw_one(source: &Source, diagnostic: &Diagnostic, look: &Look) -> String {
    let coloured = look.palette != Palette::default();
    let renderer = if coloured { Renderer::styled() } else { Renderer::plain() };
    let renderer = renderer.term_width(look.width.max(20)).decor_style(DecorStyle::Ascii);
    let level = match diagnostic.severity {
        Severity::Fault => Level::ERROR.with_name("fault"),
        Severity::Note => Level::NOTE.with_name("note"),
    };
    let title = level.primary_title(harmless::one_line(&message(diagnostic))).id(diagnostic.code);
    let name = harmless::one_line(&source.name);
    let places: Vec<(Span, &str)> = diagnostic
        .labels
        .iter()
        .take(MAX_PLACES)
        .map(|label| (source.clamp(label.span), label.text.as_str()))
        .collect();
    let mut group = Group::with_title(title);
    if places.is_empty() {
        group = group.element(Origin::path(name.as_str()));
    }
    for (n, excerpt) in excerpts(source, &places).iter().enumerate() {
        group = group.elements(excerpt.elements(source, &name, n == 0));
    }
    if let Some(help) = &diagnostic.help {
        group = group.element(Level::HELP.message(harmless::one_line(help)));
    }
    fitted::fitted(&renderer.render(&[group]), look.width)
}

/// A part of the source that is drawn, with the places in it.
struct Excerpt<'a> {
    span: Span,
    /// The number of its first line.
    line: usize,
    whole_lines: bool,
    places: Vec<(Span, &'a str)>,
}

/// The parts that show these places, the main one first. Places near each other share one.
fn excerpts<'a>(source: &Source, places: &[(Span, &'a str)]) -> Vec<Excerpt<'a>> {
    let mut excerpts: Vec<Excerpt<'a>> = Vec::new();
    for &(place, text) in places {
        let shared = excerpts.iter_mut().filter(|excerpt| excerpt.whole_lines).find_map(|excerpt| {
            let both = Span::new(excerpt.span.start.min(place.start), excerpt.span.end.max(place.end));
            let (span, line) = source.whole_lines(both);
            (span.range().len() <= MAX_EXCERPT).then_some((excerpt, span, line))
        });
        if let Some((excerpt, span, line)) = shared {
            (excerpt.span, excerpt.line) = (span, line);
            excerpt.places.push((place, text));
        } else {
            excerpts.push(Excerpt::around(source, place, text));
        }
    }
    excerpts
}

impl<'a> Excerpt<'a> {
    fn around(source: &Source, place: Span, text: &'a str) -> Excerpt<'a> {
        let (span, line) = source.whole_lines(place);
        if span.range().len() <= MAX_EXCERPT {
            return Excerpt { span, line, whole_lines: true, places: vec![(place, text)] };
        }
        // A line that long is no solve: keep what is around the place, on its first line.
        let (first, _) = source.whole_lines(Span::new(place.start, place.start));
        let start = place.start.saturating_sub(MAX_LINE).max(first.start);
        let end = place.end.min(place.start + MAX_LINE).saturating_add(MAX_LINE).min(first.end);
        let span = source.clamp(Span::new(start, end.max(place.start)));
        let shown = Span::new(place.start, place.end.min(span.end).max(place.start));
        Excerpt { span, line, whole_lines: false, places: vec![(shown, text)] }
    }

    /// What the drawing is made of; the first place of the first excerpt is the main one.
    fn elements<'g>(&self, source: &Source, name: &'g str, first: bool) -> Vec<Element<'g>> {
        let text = &source.text[self.span.range()];
        // At the beginning of a file a byte order mark is no character of the first line.
        let bare = if self.span.start == 0 { text.trim_start_matches(BYTE_ORDER_MARK) } else { text };
        let start = self.span.start + (text.len() - bare.len());
        // The last line's end is not in it; of a Windows line end half would be.
        let moved = Moved::new(bare.strip_suffix('\r').unwrap_or(bare));
        let place = |at: usize| moved.place(at.saturating_sub(start));
        let mut snippet = Snippet::source(moved.text.clone()).line_start(self.line).fold(true);
        for (n, &(span, label)) in self.places.iter().enumerate() {
            let kind = if n == 0 && first { AnnotationKind::Primary } else { AnnotationKind::Context };
            let annotation = kind.span(place(span.start)..place(span.end));
            snippet = snippet.annotation(if label.is_empty() {
                annotation
            } else {
                annotation.label(harmless::one_line(label))
            });
        }
        if self.whole_lines {
            return vec![snippet.path(name).into()];
        }
        let (line, column) = source.position(self.places[0].0.start);
        vec![Origin::path(name).line(line).char_column(column).into(), snippet.into()]
    }
}

/// `file:line:column: fault[code]: message (help)`: one line for editors, the main place only. A diagnostic
/// without a place is `file: fault[code]: message (help)`.
#[must_use]
pub fn one_line(source: &Source, diagnostic: &Diagnostic) -> String {
    let place = match diagnostic.span() {
        Some(span) => {
            let (line, column) = source.position(span.start);
            format!("{}:{line}:{column}", source.name)
        }
        None => source.name.clone(),
    };
    let help = diagnostic.help.as_ref().map_or(String::new(), |help| format!(" ({help})"));
    let text =
        format!("{place}: {}[{}]: {}{help}", diagnostic.severity, diagnostic.code, message(diagnostic));
    harmless::one_line(&text)
}

fn message(diagnostic: &Diagnostic) -> String {
    match diagnostic.labels.iter().filter(|label| label.text.is_empty()).count() {
        0 | 1 => diagnostic.message.clone(),
        places => format!("{}, at {places} places", diagnostic.message),
    }
}

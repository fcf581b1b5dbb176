//! Diagnostics as people and editors read them.
//!
//! The drawing with carets is annotate-snippets'; it gets spans that are on the text and only the lines that
//! matter, so no text, however long or odd, makes it panic or slow.

use annotate_snippets::renderer::DecorStyle;
use annotate_snippets::{AnnotationKind, Level, Origin, Renderer, Snippet};

use crate::diagnostic::{Diagnostic, Severity, Source, Span};
use crate::report::look::{Look, Palette};

/// How many places of one diagnostic are drawn; the message says how many more there are.
const MAX_PLACES: usize = 3;

/// Lines up to this many bytes are left to annotate-snippets, which shows the part around the caret.
const MAX_WHOLE_LINE: usize = 1 << 16;

/// How many bytes before and after a caret are kept of a longer line.
const MAX_LINE: usize = 200;

/// Each diagnostic with its lines of the source and carets, one after the other, a blank line between. Plain ASCII signs; styled
/// if the palette of `look` has any colour.
#[must_use]
pub fn draw(source: &Source, diagnostics: &[Diagnostic], look: &Look) -> String {
    diagnostics.iter().map(|diagnostic| draw_one(source, diagnostic, look)).collect::<Vec<_>>().join("\n")
}

fn draw_one(source: &Source, diagnostic: &Diagnostic, look: &Look) -> String {
    let coloured = look.palette != Palette::default();
    let renderer = if coloured { Renderer::styled() } else { Renderer::plain() };
    let renderer = renderer.term_width(look.width.max(20)).decor_style(DecorStyle::Ascii);
    let level = match diagnostic.severity {
        Severity::Fault => Level::ERROR.with_name("fault"),
        Severity::Note => Level::NOTE.with_name("note"),
    };
    let title = level.primary_title(visible(&message(diagnostic))).id(diagnostic.code);
    let name = visible(&source.name);
    let places: Vec<(Span, &str)> = diagnostic
        .labels
        .iter()
        .take(MAX_PLACES)
        .map(|label| (source.clamp(label.span), label.text.as_str()))
        .collect();
    let mut group = match places.first() {
        None => title.element(Origin::path(name.as_str())),
        Some((first, _)) => {
            let excerpt = Excerpt::around(&source.text, &places);
            let mut snippet = Snippet::source(harmless(excerpt.text)).line_start(excerpt.line).fold(true);
            if excerpt.whole_lines {
                snippet = snippet.path(name.as_str());
            }
            for (n, &(span, text)) in places.iter().enumerate() {
                let kind = if n == 0 { AnnotationKind::Primary } else { AnnotationKind::Context };
                let span =
                    Span::new(span.start.max(excerpt.start), span.end.min(excerpt.end).max(span.start));
                if span.start > excerpt.end {
                    continue;
                }
                let range = span.start - excerpt.start..span.end.min(excerpt.end) - excerpt.start;
                let annotation = kind.span(range);
                snippet = snippet.annotation(if text.is_empty() {
                    annotation
                } else {
                    annotation.label(visible(text))
                });
            }
            if excerpt.whole_lines {
                title.element(snippet)
            } else {
                let (line, column) = source.position(first.start);
                title.element(Origin::path(name.as_str()).line(line).char_column(column)).element(snippet)
            }
        }
    };
    if let Some(help) = &diagnostic.help {
        group = group.element(Level::HELP.message(visible(help)));
    }
    let mut drawn = renderer.render(&[group]);
    if !drawn.ends_with('\n') {
        drawn.push('\n');
    }
    drawn
}

/// The part of the source that is drawn.
struct Excerpt<'a> {
    text: &'a str,
    start: usize,
    end: usize,
    /// The number of its first line.
    line: usize,
    whole_lines: bool,
}

impl<'a> Excerpt<'a> {
    fn around(text: &'a str, places: &[(Span, &str)]) -> Excerpt<'a> {
        let first = places.iter().map(|(span, _)| span.start).min().unwrap_or(0);
        let last = places.iter().map(|(span, _)| span.end).max().unwrap_or(0);
        let start = text[..first].rfind('\n').map_or(0, |at| at + 1);
        let end = text[last..].find('\n').map_or(text.len(), |at| last + at);
        let line = 1 + text[..start].bytes().filter(|&byte| byte == b'\n').count();
        if text[start..end].split('\n').all(|line| line.len() <= MAX_WHOLE_LINE) {
            return Excerpt { text: &text[start..end], start, end, line, whole_lines: true };
        }
        // A line that long is no solve: keep what is around the main place, on its line.
        let main = places[0].0;
        let line_start = text[..main.start].rfind('\n').map_or(0, |at| at + 1);
        let line_end = text[main.start..].find('\n').map_or(text.len(), |at| main.start + at);
        let mut start = main.start.saturating_sub(MAX_LINE).max(line_start);
        let mut end =
            main.end.min(main.start + MAX_LINE).saturating_add(MAX_LINE).min(line_end).max(main.start);
        while !text.is_char_boundary(start) {
            start -= 1;
        }
        while !text.is_char_boundary(end) {
            end += 1;
        }
        let line = 1 + text[..start].bytes().filter(|&byte| byte == b'\n').count();
        Excerpt { text: &text[start..end], start, end, line, whole_lines: false }
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
    visible(&text)
}

fn message(diagnostic: &Diagnostic) -> String {
    match diagnostic.labels.iter().filter(|label| label.text.is_empty()).count() {
        0 | 1 => diagnostic.message.clone(),
        places => format!("{}, at {places} places", diagnostic.message),
    }
}

/// The text with control characters made visible, so that it stays one line and cannot steer a terminal.
fn visible(text: &str) -> String {
    text.chars()
        .map(|c| match c {
            '\u{0}'..='\u{1F}' => char::from_u32(0x2400 + u32::from(c)).unwrap_or(' '),
            '\u{7F}'..='\u{9F}' | '\u{2028}' | '\u{2029}' => char::REPLACEMENT_CHARACTER,
            other => other,
        })
        .collect()
}

/// The text with those control characters replaced that annotate-snippets lets through, by signs of the same
/// length: every span stays where it is.
fn harmless(text: &str) -> String {
    text.chars()
        .map(|c| match c {
            '\u{80}'..='\u{9F}' => '¤',
            '\u{2028}' | '\u{2029}' => char::REPLACEMENT_CHARACTER,
            other => other,
        })
        .collect()
}

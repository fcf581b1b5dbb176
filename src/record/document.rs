//! Documents of a file, and whether one is YAML or plain text.

use crate::diagnostic::Span;

use super::fields::nearest_name;

/// The lines of `text` with their offsets, without line ends.
pub(super) fn lines(text: &str) -> impl Iterator<Item = (usize, &str)> {
    let mut at = 0;
    text.split_inclusive('\n').map(move |line| {
        let start = at;
        at += line.len();
        (start, line.trim_end_matches(['\n', '\r']))
    })
}

/// The documents from `begin` on, split at lines that begin with `---`; that sign is in none of them.
pub(super) fn split(text: &str, begin: usize) -> Vec<Span> {
    let mut documents = Vec::new();
    let mut start = begin;
    for (at, line) in lines(&text[begin..]) {
        let at = begin + at;
        if line.strip_prefix("---").is_some_and(|rest| rest.is_empty() || rest.starts_with([' ', '\t'])) {
            documents.push(Span::new(start, at));
            start = at + 3;
        }
    }
    documents.push(Span::new(start, text.len()));
    documents
}

/// Whether a document holds nothing but comments, YAML directives and blanks.
pub(super) fn is_blank(text: &str) -> bool {
    text.lines()
        .map(str::trim)
        .all(|line| line.is_empty() || line.starts_with('%') || comment(line).is_some())
}

/// The words of a line that is a comment.
pub(super) fn comment(line: &str) -> Option<&str> {
    let line = line.trim();
    line.strip_prefix("//").or_else(|| line.strip_prefix('#')).map(str::trim)
}

/// Collects the comments of a blank document.
pub(super) fn remarks(text: &str, remarks: &mut Vec<String>) {
    remarks.extend(text.lines().filter_map(comment).map(remark));
}

/// The words of a comment as a remark: one line in YAML, too, for which a carriage return alone ends a line, and without
/// what YAML forbids even in comments (YAML 1.2.2, 5.1), so that it can be written again.
pub(super) fn remark(words: &str) -> String {
    let forbidden =
        |c: char| (c.is_control() && c != '\t') || matches!(c, '\u{FFFE}' | '\u{FFFF}' | '\u{FEFF}');
    words.replace(forbidden, " ").trim().to_owned()
}

/// A line that gives a field, perhaps as the first of a list's item: its indentation, its name and what follows the colon.
pub(super) fn key_line(line: &str) -> Option<(usize, &str, &str)> {
    let bare = line.trim_start_matches(' ');
    let bare = bare.strip_prefix("- ").unwrap_or(bare);
    let (name, rest) = bare.split_once(':')?;
    let name = name.trim_end_matches(' ');
    let quoted = name.len() > 1 && name.starts_with(['"', '\'']) && name.ends_with(&name[..1]);
    let name = if quoted { &name[1..name.len() - 1] } else { name };
    let is_name = !name.is_empty() && name.bytes().all(|byte| byte.is_ascii_alphabetic() || byte == b'_');
    let ends = rest.is_empty() || rest.starts_with([' ', '\t']);
    (is_name && ends).then_some((line.len() - bare.len(), name, rest))
}

/// Whether `name` is a field or a slip of the keyboard away from one.
pub(super) fn is_fieldlike(name: &str) -> bool {
    nearest_name(name).is_some()
}

/// Whether the document is meant as YAML: some line gives a field, or it begins with a brace.
pub(super) fn is_mapping(text: &str) -> bool {
    text.trim_start().starts_with('{')
        || text.lines().any(|line| key_line(line).is_some_and(|(_, name, _)| is_fieldlike(name)))
}

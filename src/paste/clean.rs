//! What web pages, chats and word processors do to a text, undone; every character keeps its place in the source.
//!
//! Undone are: entities (`&#39;`), tags, blanks of every kind and those that nobody sees, full-width signs, other
//! line ends, primes that even the notation does not know, and quotation signs damaged by a wrong encoding.
//! The result has `\n` for a line end, blanks and tabs between, and otherwise the writer's own characters.

use std::ops::Range;

use crate::diagnostic::Span;
use crate::notation;

use super::{stamps, words};

/// A cleaned text with its way back to the source.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub(super) struct Clean {
    pub(super) text: String,
    /// For every byte of `text`, and for its end, the offset in the source.
    places: Vec<usize>,
    /// For every byte of `text`, where in the source its character ends.
    ends: Vec<usize>,
    /// What was replaced by something else, in order; blanks are not worth a word.
    pub(super) replaced: Vec<Span>,
}

/// The longest tag or entity that is looked for, in bytes.
const LONGEST: usize = 120;

/// Fewer tokens that end in a hyphen say nothing.
const FEWEST_DASHES: usize = 4;

impl Clean {
    /// Cleans the part of `source` at `span`.
    pub(super) fn of(source: &str, span: Span) -> Clean {
        let mut clean = Clean { text: String::with_capacity(span.end - span.start), ..Clean::default() };
        let mut at = span.start;
        while let Some(c) = source[at..span.end].chars().next() {
            at += clean.take(&source[at..span.end], c, at);
        }
        clean.places.push(span.end);
        clean.take_code_signs_off();
        clean.primes_of_dashes();
        clean
    }

    /// Where nobody wrote a prime and many tokens end in a hyphen, `R U R- U-`, the hyphen is one.
    fn primes_of_dashes(&mut self) {
        if !self.text.contains("- ") || self.text.contains(|c| c == '\'' || notation::is_prime(c)) {
            return;
        }
        let is_token = |text: &str| notation::count_tokens(text) == Some(1);
        let mut at = 0;
        let mut dashes = Vec::new();
        for word in self.text.split_inclusive(char::is_whitespace) {
            let bare = word.trim_end();
            if bare.strip_suffix('-').is_some_and(is_token) {
                dashes.push(at + bare.len() - 1);
            }
            at += word.len();
        }
        if dashes.len() < FEWEST_DASHES {
            return;
        }
        let old = std::mem::take(self);
        for (at, c) in old.text.char_indices() {
            let (from, to) = (old.places[at], old.ends[at]);
            let c = if dashes.binary_search(&at).is_ok() { '\u{2019}' } else { c };
            self.push(c, from, to - from);
        }
        self.places.extend(old.places.last());
        self.replaced = old.replaced;
    }

    /// Backticks around code are no primes: one that stands before a token opens, and the next one closes.
    fn take_code_signs_off(&mut self) {
        if !self.text.contains('`') {
            return;
        }
        let mut signs = Vec::new();
        let mut begin = 0;
        for line in self.text.split('\n') {
            let fence = line.trim_start_matches(['>', ' ', '\t']).starts_with("```");
            let mut open = None;
            let mut before = ' ';
            for (at, c) in line.char_indices().filter(|_| !fence) {
                if c == '`' {
                    match open {
                        Some(opened) => {
                            signs.extend([begin + opened, begin + at]);
                            open = None;
                        }
                        None if !before.is_alphanumeric() => open = Some(at),
                        None => {}
                    }
                }
                before = c;
            }
            begin += line.len() + 1;
        }
        signs.sort_unstable();
        let mut signs = signs.into_iter().peekable();
        let blanked =
            self.text.char_indices().map(|(at, c)| if signs.next_if_eq(&at).is_some() { ' ' } else { c });
        self.text = blanked.collect();
    }

    /// Cells divided by commas or semicolons are divided by tabs: below a line that names them, or where every line has as
    /// many, some of them in quotation marks.
    pub(super) fn tabulate(&mut self) {
        if let Some(sign) = [',', ';'].into_iter().find(|&sign| is_table(&self.text, sign)) {
            self.text = tabbed(&self.text, sign);
            return;
        }
        let mut begin = 0;
        for line in self.text.split('\n').take(HEADS) {
            let head = [',', ';'].into_iter().find(|&sign| is_head_of_table(line, sign));
            let Some(sign) = head else {
                begin += line.len() + 1;
                continue;
            };
            self.text = self.text[..begin].to_owned() + &tabbed(&self.text[begin..], sign);
            return;
        }
    }

    /// Takes the times of day off that a chat puts before its lines; where they stand in the text.
    pub(super) fn unstamp(&mut self) -> Vec<Range<usize>> {
        let stamps = stamps::stamps(&self.text);
        for stamp in &stamps {
            // As many bytes as before: every place stays.
            self.text.replace_range(stamp.clone(), &" ".repeat(stamp.len()));
        }
        stamps
    }

    /// The place in the source of an offset in the text.
    pub(super) fn place(&self, offset: usize) -> usize {
        self.places.get(offset).or(self.places.last()).copied().unwrap_or(0)
    }

    /// The span in the source of a span in the text: up to where its last character ends, not to where the next begins.
    pub(super) fn span(&self, start: usize, end: usize) -> Span {
        let from = self.place(start);
        let to = if end > start { self.ends.get(end - 1).copied().unwrap_or(from) } else { from };
        Span::new(from, to.max(from))
    }

    /// Takes `c` for `length` bytes of the source.
    fn push(&mut self, c: char, at: usize, length: usize) {
        self.text.push(c);
        self.places.extend(std::iter::repeat_n(at, c.len_utf8()));
        self.ends.extend(std::iter::repeat_n(at + length, c.len_utf8()));
    }

    fn replace(&mut self, c: char, at: usize, length: usize) -> usize {
        self.push(c, at, length);
        self.replaced.push(Span::new(at, at + length));
        length
    }

    /// Takes what begins `rest` with `c`; how many bytes that were.
    fn take(&mut self, rest: &str, c: char, at: usize) -> usize {
        let length = c.len_utf8();
        match c {
            '\r' => {
                let length = if rest.starts_with("\r\n") { 2 } else { 1 };
                self.push('\n', at, length);
                return length;
            }
            '\n' | '\t' => self.push(c, at, length),
            '\u{B}' | '\u{C}' | '\u{85}' | '\u{2028}' | '\u{2029}' => self.push('\n', at, length),
            '&' => match entity(rest) {
                Some((c, length)) => {
                    // `&amp;#39;` has been through two hands.
                    if c == '&' {
                        let again = format!("&{}", &rest[length..floor(rest, (length + 10).min(rest.len()))]);
                        if let Some((c, more)) = entity(&again) {
                            return self.replace(plain(c), at, length + more - 1);
                        }
                    }
                    return self.replace(plain(c), at, length);
                }
                None => self.push('&', at, length),
            },
            '<' => match tag(rest) {
                Some((sign, length)) => {
                    // A tag and the line end behind it end one line, not two, whatever closes between.
                    let mut after = &rest[length..];
                    while let Some((None, more)) = after.starts_with("</").then(|| tag(after)).flatten() {
                        after = &after[more..];
                    }
                    let ended = sign == Some('\n') && after.starts_with(['\n', '\r']);
                    if let Some(sign) = sign.filter(|_| !ended) {
                        self.push(sign, at, length);
                    }
                    self.replaced.push(Span::new(at, at + length));
                    return length;
                }
                None => self.push('<', at, length),
            },
            'â' | 'Â' => match broken(rest) {
                Some((c, length)) => return self.replace(c, at, length),
                None => self.push(c, at, length),
            },
            c if is_invisible(c) => {}
            c if c.is_whitespace() => self.push(' ', at, length),
            c if c.is_control() => self.push(' ', at, length),
            c => {
                let plain = plain(c);
                if plain == c {
                    self.push(c, at, length);
                } else {
                    return self.replace(plain, at, length);
                }
            }
        }
        length
    }
}

/// Blanks for quotation marks, and tabs for the signs between cells.
fn tabbed(text: &str, sign: char) -> String {
    let mut quoted = false;
    let table = text.chars().map(|c| {
        quoted &= c != '\n';
        match c {
            '"' => {
                quoted = !quoted;
                ' '
            }
            c if c == sign && !quoted => '\t',
            c => c,
        }
    });
    table.collect()
}

/// Whether every line has as many cells, three or more, and two of them in quotation marks: `"9,02","R U F","F' U' R'"`.
fn is_table(text: &str, sign: char) -> bool {
    let cells = |line: &str| {
        let mut quoted = false;
        let borders = line.chars().filter(|&c| {
            quoted ^= c == '"';
            c == sign && !quoted
        });
        let n = borders.count() + 1;
        (!quoted && line.matches('"').count() >= 4).then_some(n)
    };
    let mut lines = text.lines().map(str::trim).filter(|line| !line.is_empty());
    let Some(n) = lines.next().and_then(cells).filter(|&n| n >= 3) else { return false };
    lines.all(|line| cells(line) == Some(n))
}

/// In so many lines the head of a table is looked for.
const HEADS: usize = 6;

/// Whether the cells of a line are names, and one of them that of the scramble.
fn is_head_of_table(line: &str, sign: char) -> bool {
    let cells = || line.split(sign).map(|cell| cell.trim_matches(['"', ' ']));
    line.len() <= 200
        && line.contains(sign)
        && cells().all(|cell| cell.len() <= 24 && cell.split_whitespace().count() <= 3)
        && cells().any(|cell| words::role(cell) == Some(words::Role::Scramble))
        && cells().any(|cell| words::role(cell) == Some(words::Role::Solution))
}

fn floor(text: &str, at: usize) -> usize {
    (0..=at).rev().find(|&at| text.is_char_boundary(at)).unwrap_or(0)
}

/// Zero-width blanks and joiners, soft hyphens, marks of direction, variation selectors.
fn is_invisible(c: char) -> bool {
    matches!(
        c,
        '\u{AD}' | '\u{61C}' | '\u{180E}' | '\u{200B}'..='\u{200F}' | '\u{202A}'..='\u{202E}' | '\u{2060}'..='\u{2064}'
            | '\u{2066}'..='\u{2069}' | '\u{FEFF}' | '\u{FE00}'..='\u{FE0F}'
    )
}

/// The plain sign for one that only looks otherwise; primes become one that the notation knows and notes.
fn plain(c: char) -> char {
    match c {
        '\u{2B9}' | '\u{2BB}' | '\u{2BC}' | '\u{2BD}' | '\u{2CA}' | '\u{2CB}' | '\u{2C8}' | '\u{201A}'
        | '\u{2035}' | '\u{275B}' | '\u{275C}' | '\u{5F3}' | '\u{55A}' | '\u{A78C}' | '\u{1FBD}'
        | '\u{1FEF}' | '\u{1FFD}' | '\u{FF40}' | '\u{301}' | '\u{300}' | '\u{30D}' | '\u{313}'
        | '\u{315}' | '\u{2CE}' | '\u{384}' => '\u{2019}',
        '\u{3010}' | '\u{3014}' | '\u{300C}' | '\u{300E}' => '[',
        '\u{3011}' | '\u{3015}' | '\u{300D}' | '\u{300F}' => ']',
        '\u{FF07}' => c,
        '\u{FF01}'..='\u{FF5E}' => char::from_u32(u32::from(c) - 0xFEE0).unwrap_or(c),
        '\u{2080}'..='\u{2083}' => char::from_u32(u32::from(c) - 0x2080 + 0x30).unwrap_or(c),
        '\u{2502}' | '\u{2503}' | '\u{2551}' | '\u{00A6}' | '\u{FFE8}' => '|',
        '\u{A0}' => ' ',
        other => other,
    }
}

/// A UTF-8 sign that was read as Windows-1252: `â€™` for `’`.
fn broken(rest: &str) -> Option<(char, usize)> {
    [
        ("â€™", '’'),
        ("â€²", '’'),
        ("â€˜", '’'),
        ("Â´", '’'),
        ("Â²", '2'),
        ("â€“", '–'),
        ("â€”", '—'),
        ("Â\u{A0}", ' '),
    ]
    .into_iter()
    .find_map(|(written, c)| rest.starts_with(written).then_some((c, written.len())))
}

fn entity(rest: &str) -> Option<(char, usize)> {
    let end = rest.as_bytes().iter().take(12).position(|&byte| byte == b';')?;
    let name = &rest[1..end];
    let c = match name {
        "amp" => '&',
        "lt" => '<',
        "gt" => '>',
        "quot" | "ldquo" | "rdquo" => '"',
        "apos" => '\'',
        "nbsp" | "ensp" | "emsp" | "thinsp" => ' ',
        "rsquo" | "lsquo" | "prime" | "acute" | "sbquo" => '\u{2019}',
        "sup2" => '²',
        "sup3" => '³',
        "ndash" => '–',
        "mdash" => '—',
        "middot" => '·',
        "bull" => '•',
        "hellip" => '…',
        "times" => '×',
        "rarr" => '→',
        "lpar" => '(',
        "rpar" => ')',
        "grave" => '`',
        "zwj" | "zwnj" | "shy" => '\u{200B}',
        _ => {
            let number = name.strip_prefix('#')?;
            let code = match number.strip_prefix(['x', 'X']) {
                Some(hex) => u32::from_str_radix(hex, 16).ok()?,
                None => number.parse().ok()?,
            };
            char::from_u32(code).filter(|c| !c.is_control() || *c == '\n')?
        }
    };
    Some((if is_invisible(c) { ' ' } else { c }, end + 1))
}

/// A tag of a web page, and the line end or border of a cell that it makes. A timing mark begins with a digit and is none.
fn tag(rest: &str) -> Option<(Option<char>, usize)> {
    let inside = &rest[1..];
    let name = inside.strip_prefix('/').unwrap_or(inside);
    let letters = name.bytes().take_while(u8::is_ascii_alphanumeric).count();
    let lower = name[..letters].to_ascii_lowercase();
    let breaks = matches!(
        lower.as_str(),
        "br" | "p"
            | "div"
            | "li"
            | "ul"
            | "ol"
            | "tr"
            | "table"
            | "pre"
            | "h1"
            | "h2"
            | "h3"
            | "h4"
            | "hr"
            | "blockquote"
    );
    let cell = rest.starts_with("</") && matches!(lower.as_str(), "td" | "th");
    let known = breaks
        || matches!(
            lower.as_str(),
            "b" | "i"
                | "u"
                | "em"
                | "strong"
                | "span"
                | "code"
                | "td"
                | "th"
                | "font"
                | "a"
                | "tt"
                | "kbd"
                | "small"
                | "s"
                | "sup"
                | "sub"
                | "tbody"
                | "thead"
                | "body"
                | "html"
                | "details"
                | "summary"
        );
    let end = rest.as_bytes().iter().take(LONGEST).position(|&byte| byte == b'>' || byte == b'\n')?;
    let sign = if breaks { Some('\n') } else { cell.then_some('\t') };
    (known && rest.as_bytes()[end] == b'>').then_some((sign, end + 1))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn clean(text: &str) -> Clean {
        Clean::of(text, Span::new(0, text.len()))
    }

    #[test]
    fn what_pages_and_word_processors_do_is_undone() {
        for (written, expected) in [
            ("R&#39; U&#x27;&nbsp;F&apos;", "R' U' F'"),
            ("R&amp;#39; &amp; U", "R' & U"),
            ("R\u{200B}' \u{2009}U\u{A0}F", "R'  U F"),
            ("（R U）［F］＇", "(R U)[F]＇"),
            ("R<br>U<br/>F <b>x</b>", "R\nU\nF x"),
            ("<0.52> R <205f>", "<0.52> R <205f>"),
            ("R\r\nU\rF\u{2028}D", "R\nU\nF\nD"),
            ("Râ€™ U", "R’ U"),
            ("R & D, a < b", "R & D, a < b"),
            ("`R U R'` x R` U`", " R U R'  x R` U`"),
        ] {
            assert_eq!(clean(written).text, expected, "{written:?}");
        }
    }

    #[test]
    fn places_lead_back() {
        let source = "ab&#39; c";
        let clean = clean(source);
        assert_eq!(clean.text, "ab' c");
        assert_eq!(clean.span(1, 3), Span::new(1, 7));
        assert_eq!(clean.span(4, 5), Span::new(8, 9));
    }
}

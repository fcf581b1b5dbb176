//! A line cut into atoms: turns, words, numbers, times, marks, brackets with what is in them, and signs.

use crate::notation;

use super::words;

/// What an atom can be.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Kind {
    /// Tokens, perhaps several without a blank between.
    Turns(Shape),
    /// Brackets with nothing but turns inside, and their count.
    Group {
        /// Tokens written inside.
        n: usize,
    },
    /// Brackets with words, or with nothing that is turns for certain.
    Aside {
        /// Whether what is inside could be turns after all, `(BR)`.
        doubtful: bool,
    },
    /// Like a token, but none.
    Bad,
    Word,
    Number,
    /// Digits with a point, or minutes and seconds.
    Time,
    /// `<1.52>`.
    Mark,
    /// `?` or `...`.
    Unknown,
    /// `//` or `#`: what follows is a remark.
    Comment,
    /// `|` or a tab: the border of a cell.
    Bar,
    Colon,
    /// A bracket without its partner on this line.
    Bracket,
    /// Any other sign between.
    Sign,
}

/// How turns are written.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub(super) struct Shape {
    /// How many tokens.
    pub(super) n: usize,
    /// Two letters or more and nothing else: `BR`, `LUL`.
    pub(super) letters: bool,
    /// A smiley that could be turns.
    pub(super) smiley: bool,
    /// One letter without a suffix.
    pub(super) bare: bool,
}

/// A piece of a line.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Atom {
    pub(super) kind: Kind,
    pub(super) start: usize,
    pub(super) end: usize,
}

impl Atom {
    /// How many tokens it certainly has.
    pub(super) fn tokens(&self) -> usize {
        match self.kind {
            Kind::Turns(shape) => shape.n,
            Kind::Group { n } => n,
            _ => 0,
        }
    }
}

/// The atoms of `text[start..end]`, a line.
pub(super) fn atoms(text: &str, start: usize, end: usize) -> Vec<Atom> {
    let mut atoms = Vec::new();
    let mut at = start;
    while at < end {
        let rest = &text[at..end];
        let c = rest.chars().next().unwrap_or(' ');
        let (kind, length) = match c {
            '\t' => (Kind::Bar, 1),
            _ if smiley(text, start, at, rest) > 0 => (Kind::Word, smiley(text, start, at, rest)),
            c if c.is_whitespace() => {
                at += c.len_utf8();
                continue;
            }
            '/' if rest.starts_with("//") => (Kind::Comment, rest.len() - rest.trim_start_matches('/').len()),
            '#' if rest[1..].starts_with(|c: char| c.is_ascii_digit()) => {
                let digits = rest[1..].bytes().take_while(u8::is_ascii_digit).count();
                (Kind::Number, 1 + digits)
            }
            '#' => (Kind::Comment, rest.len() - rest.trim_start_matches('#').len()),
            '-' if begins_remark(text, start, at, rest, &atoms) => (Kind::Comment, 2),
            '|' => (Kind::Bar, 1),
            '<' => mark(rest).map_or((Kind::Sign, 1), |length| (Kind::Mark, length)),
            '(' | '[' | '{' | ')' | ']' | '}' => (Kind::Bracket, 1),
            ':' => (Kind::Colon, 1),
            '?' => (Kind::Unknown, 1),
            '…' => (Kind::Unknown, c.len_utf8()),
            '.' if rest.starts_with("...") => {
                (Kind::Unknown, rest.len() - rest.trim_start_matches('.').len())
            }
            c if is_sign(c) => (Kind::Sign, c.len_utf8()),
            _ => chunk(rest),
        };
        atoms.push(Atom { kind, start: at, end: at + length });
        at += length;
    }
    brackets(text, atoms)
}

/// ` -- ` between turns and the name of a step. Behind a label, `cross -- R U F`, it is a sign like others.
fn begins_remark(text: &str, start: usize, at: usize, rest: &str, before: &[Atom]) -> bool {
    let sure = |atom: &Atom| match atom.kind {
        Kind::Turns(shape) => !shape.letters && !shape.smiley,
        Kind::Group { .. } => true,
        _ => false,
    };
    rest.starts_with("-- ")
        && text[start..at].ends_with([' ', '\t'])
        && before.iter().any(sure)
        && words::is_step(rest[3..].trim_start())
}

fn is_sign(c: char) -> bool {
    c.is_ascii_punctuation()
        && !notation::is_prime(c)
        && !matches!(c, '\'' | '`' | '!' | '&' | '@' | '$' | '%' | '^')
        || "·•∙‣▪●○◦–—−‐\u{2011}→←⇒➜➔►▶»«“”„‹›×¦".contains(c)
}

/// How long the smiley is that begins here, behind a blank: `:D`, `;)`, `:-P`. Its letter is no turn.
fn smiley(text: &str, start: usize, at: usize, rest: &str) -> usize {
    let bytes = rest.as_bytes();
    if !matches!(bytes[0], b':' | b';' | b'=' | b'(' | b'^') || !text[start..at].ends_with([' ', '\t']) {
        return 0;
    }
    let nose = usize::from(bytes.get(1) == Some(&b'-'));
    let long = 2 + nose;
    let mouth = bytes.get(1 + nose).copied().unwrap_or(b' ');
    let is_face = match bytes[0] {
        b'(' => matches!(mouth, b':' | b';'),
        b'^' => mouth == b'^',
        _ => b")(DPpOoxX3LSF|/]".contains(&mouth),
    };
    let same = bytes[(1 + nose).min(bytes.len())..].iter().take_while(|&&byte| byte == mouth).count();
    let end = long + same.saturating_sub(1);
    let ends = rest.get(end..).is_some_and(|after| after.chars().next().is_none_or(char::is_whitespace));
    if is_face && ends { end } else { 0 }
}

/// A timing mark, with its brackets.
fn mark(rest: &str) -> Option<usize> {
    let inside = &rest.as_bytes()[1..];
    let end = inside.iter().take(24).position(|&byte| byte == b'>')?;
    let plain = |byte: &u8| byte.is_ascii_digit() || b".,: fFsec".contains(byte);
    (end > 0 && inside[0].is_ascii_digit() && inside[..end].iter().all(plain)).then_some(end + 2)
}

/// A chunk of letters, digits and what belongs to them, and its length.
fn chunk(rest: &str) -> (Kind, usize) {
    let bytes = rest.as_bytes();
    let digit = |at: usize| bytes.get(at).is_some_and(u8::is_ascii_digit);
    let mut end = 0;
    for (at, c) in rest.char_indices() {
        let inner = matches!(c, ':' | ',' | '.' | '/') && at > 0 && digit(at - 1) && digit(at + c.len_utf8());
        let hyphen = matches!(c, '-' | '‐' | '\u{2011}' | '_' | '–')
            && at > 0
            && rest[at + c.len_utf8()..].starts_with(char::is_alphanumeric);
        let plus = c == '+' && at > 0 && (digit(at - 1) || bytes[at - 1] == b'+');
        let stops = c.is_whitespace() || "()[]{}|<#?…:".contains(c) || is_sign(c);
        if at > 0 && stops && !inner && !hyphen && !plus {
            break;
        }
        end = at + c.len_utf8();
    }
    // Sentences end with signs that are no part of the word.
    let chunk = &rest[..end];
    let bare = chunk.trim_end_matches(['!', ',', '.', ';']);
    let chunk = if bare.is_empty() { chunk } else { bare };
    (kind(chunk), chunk.len())
}

fn kind(chunk: &str) -> Kind {
    let first = chunk.chars().next().unwrap_or(' ');
    if first.is_ascii_digit() {
        let bare = chunk.trim_end_matches('+').trim_end_matches("sec").trim_end_matches('s');
        if bare.bytes().all(|byte| byte.is_ascii_digit()) || figures(bare) {
            return Kind::Number;
        }
        if bare.bytes().all(|byte| byte.is_ascii_digit() || b".,:".contains(&byte)) {
            return Kind::Time;
        }
    }
    if words::is_smiley(chunk) {
        return Kind::Turns(Shape { n: chunk.len(), smiley: true, ..Shape::default() });
    }
    if notation::is_stage(chunk) || chunk.eq_ignore_ascii_case("ll") || notation::is_word(chunk) {
        return Kind::Word;
    }
    let mut n = 0;
    let mut parts = 0;
    let separated = chunk.split(['-', '–', '‐', '\u{2011}', '_', ',', '.', '/']);
    for part in separated {
        match notation::count_tokens(part) {
            Some(tokens) if tokens > 0 => n += tokens,
            _ => {
                n = 0;
                break;
            }
        }
        parts += 1;
    }
    if n > 0 {
        let letters =
            chunk.len() > 1 && chunk.bytes().all(|byte| byte.is_ascii_alphabetic()) && !is_wide(chunk);
        // `x-s` is no phrase, and letters with hyphens are a word.
        if parts > 1
            && chunk.chars().all(|c| c.is_alphabetic() || c == '-')
            && parts * 2 > chunk.len()
            && n < 3
        {
            return Kind::Word;
        }
        return Kind::Turns(Shape { n, letters, smiley: false, bare: chunk.len() == 1 });
    }
    let letters = chunk.chars().filter(|c| c.is_alphabetic()).count();
    let odd = chunk.chars().any(|c| !c.is_alphanumeric() && !notation::is_prime(c));
    let small = matches!(chunk, "a" | "i" | "o" | "v" | "I" | "A");
    if letters == 0
        || letters > 3
        || odd && letters > 1
        || small
        || chunk.chars().all(|c| c.is_lowercase() && letters > 1)
    {
        Kind::Word
    } else {
        Kind::Bad
    }
}

/// `Rw`, `Uw`: letters that are one token.
fn is_wide(chunk: &str) -> bool {
    chunk.len() == 2 && chunk.ends_with('w')
}

/// `7/15`.
fn figures(text: &str) -> bool {
    text.contains('/')
        && text.split('/').all(|part| !part.is_empty() && part.bytes().all(|byte| byte.is_ascii_digit()))
}

/// Puts brackets and what is between them together.
fn brackets(text: &str, flat: Vec<Atom>) -> Vec<Atom> {
    if !flat.iter().any(|atom| atom.kind == Kind::Bracket) {
        return flat;
    }
    let opens = |atom: &Atom| text[atom.start..].starts_with(['(', '[', '{']);
    // The partner of each opening bracket that has one.
    let mut stack: Vec<usize> = Vec::new();
    let mut partner = vec![None; flat.len()];
    for (n, atom) in flat.iter().enumerate() {
        match atom.kind {
            Kind::Bracket if opens(atom) => stack.push(n),
            Kind::Bracket => {
                if let Some(open) = stack.pop() {
                    partner[open] = Some(n);
                }
            }
            // No bracket reaches over the beginning of a remark.
            Kind::Comment => stack.clear(),
            _ => {}
        }
    }
    let mut atoms = Vec::with_capacity(flat.len());
    let mut n = 0;
    while n < flat.len() {
        let Some(close) = partner[n] else {
            atoms.push(flat[n]);
            n += 1;
            continue;
        };
        let inside = &flat[n + 1..close];
        let (kind, tail) = inside_kind(text, inside, flat[close].end);
        let end = flat[close].end + tail;
        atoms.push(Atom { kind, start: flat[n].start, end });
        n = close + 1;
        while n < flat.len() && flat[n].start < end {
            n += 1;
        }
    }
    atoms
}

/// What a bracket holds, and the length of the count behind it.
fn inside_kind(text: &str, inside: &[Atom], end: usize) -> (Kind, usize) {
    let mut n = 0;
    let mut sure = false;
    for atom in inside {
        match atom.kind {
            Kind::Turns(shape) if !shape.smiley => {
                n += shape.n;
                sure |= !shape.letters;
            }
            Kind::Mark | Kind::Bracket | Kind::Sign | Kind::Unknown => sure |= atom.kind == Kind::Mark,
            Kind::Bad if inside.len() > 2 => {}
            // A tail inside: `((R U)2 F)`.
            Kind::Number
                if text[..atom.start].trim_end_matches([' ', 'x', '*', '×']).ends_with([')', ']']) => {}
            _ => return (Kind::Aside { doubtful: false }, 0),
        }
    }
    if n == 0 {
        return (Kind::Aside { doubtful: false }, 0);
    }
    // A count is short.
    let mut stop = (end + 16).min(text.len());
    while !text.is_char_boundary(stop) {
        stop -= 1;
    }
    let line = text[end..stop].split('\n').next().unwrap_or("");
    let (tail, ..) = notation::tail_of(line);
    if !sure && tail == 0 {
        return (Kind::Aside { doubtful: true }, 0);
    }
    (Kind::Group { n }, tail)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn shown(text: &str) -> String {
        let letter = |atom: &Atom| match atom.kind {
            Kind::Turns(shape) if shape.smiley => 's',
            Kind::Turns(shape) if shape.letters => 'l',
            Kind::Turns(_) => 'T',
            Kind::Group { .. } => 'G',
            Kind::Aside { doubtful: true } => 'd',
            Kind::Aside { .. } => 'a',
            Kind::Bad => 'b',
            Kind::Word => 'w',
            Kind::Number => 'n',
            Kind::Time => 't',
            Kind::Mark => 'm',
            Kind::Unknown => '?',
            Kind::Comment => '#',
            Kind::Bar => '|',
            Kind::Colon => ':',
            Kind::Bracket => '(',
            Kind::Sign => '-',
        };
        atoms(text, 0, text.len()).iter().map(letter).collect()
    }

    #[test]
    fn a_line_is_cut_as_people_mean_it() {
        for (text, expected) in [
            ("R U R' U'", "TTTT"),
            ("(R U R' U')2 F", "GT"),
            ("R U (BR) // 1st pair (4/10)", "TTd#wwa"),
            ("R U (LL skip!)", "TTa"),
            ("1. 10.70 B' L", "n-tTT"),
            ("Scramble #3: R", "wn:T"),
            ("U' xD", "Ts"),
            ("R-U-R' U2,", "TT-"),
            ("R U T' F", "TTbT"),
            ("then U' here", "wTw"),
            ("x-cross F2L 1", "wwn"),
            ("<1.20> R <205f>", "mTm"),
            ("34 HTM, 4.1 TPS", "nw-tw"),
            ("| Cross | R U | 7 |", "|w|TT|n|"),
            ("9.84+ s", "tT"),
            ("Rw2 2Rw' r M", "TTTT"),
            ("R' U ) x2", "TT(T"),
            ("RUR'U' LUL", "Tl"),
        ] {
            assert_eq!(shown(text), expected, "{text:?}");
        }
    }
}

//! Damage: what people, programs and chance do to a text.

use crate::random::Random;

/// Longer texts tell nothing new and take longer.
const MOST_BYTES: usize = 2400;

/// What is put in: pieces of every grammar that is read, and what is none.
const PIECES: [&str; 84] = [
    "R",
    "U'",
    "F2",
    "L2'",
    "d",
    "Rw2",
    "M'",
    "S",
    "E2",
    "x",
    "y'",
    "z2",
    "r",
    "3Rw",
    "2R",
    "R3",
    "R'2",
    "R2U",
    "(",
    ")",
    "[",
    "]",
    ")2",
    ") x2",
    "(R U R' U')3",
    "(R)399",
    "[R, U]",
    "[R: U]",
    "...",
    "?",
    "@",
    "<1.20>",
    "<0>",
    "<00:03.420>",
    "<205f>",
    "<",
    ">",
    "<-1>",
    "<9e9>",
    "<99:59:59.999>",
    "//",
    "// cross",
    "// 2nd pair",
    "// OLL (7/15)",
    "// PLL 1.53",
    "#",
    "|",
    "\t",
    "\n",
    "\n\n",
    "---\n",
    "...\n",
    "```\n",
    "> ",
    "- ",
    "1. ",
    "Scramble: ",
    "scramble: |\n  ",
    "solution: |\n  ",
    "solution: ",
    "time: ",
    "time: 9.87+",
    "time: DNF",
    "fps: 60",
    "sight: UFRL",
    "hands: left",
    "title: '",
    "notes: |\n",
    "puzzle: 4x4",
    "&a *a",
    "{",
    "}",
    ": ",
    "! !!x",
    "’",
    "\u{200B}",
    "\u{301}",
    "é",
    "\u{202e}",
    "\u{feff}",
    "\r\n",
    "\r",
    "&#39;",
    "<br>",
];

/// Tokens that are read, for damage that still can be played.
const TURNS: [&str; 24] = [
    "R", "R'", "R2", "U", "U'", "U2", "F", "F'", "F2", "L", "L'", "L2", "D", "D'", "B", "B2", "y", "y'",
    "x2", "d", "M", "r", "Rw", "u'",
];

/// A text of the corpus, damaged.
pub fn text(corpus: &[String], random: &mut Random) -> String {
    if random.below(20) == 0 {
        let pieces = random.sequence(&PIECES, 1, 60);
        return cut(pieces.join(random.pick(&[" ", "", "\n"])));
    }
    let mut text = corpus[random.below(corpus.len())].clone();
    for _ in 0..1 + random.below(4) {
        text = cut(damaged(&text, corpus, random));
    }
    text
}

fn cut(mut text: String) -> String {
    let mut end = text.len().min(MOST_BYTES);
    while !text.is_char_boundary(end) {
        end -= 1;
    }
    text.truncate(end);
    // A zero byte is refused before anything is read.
    text.replace('\0', " ")
}

/// A place in a text, on the border of characters.
fn place(text: &str, random: &mut Random) -> usize {
    let mut at = random.below(text.len() + 1);
    while !text.is_char_boundary(at) {
        at -= 1;
    }
    at
}

fn stretch(text: &str, most: usize, random: &mut Random) -> (usize, usize) {
    let start = place(text, random);
    let mut end = (start + 1 + random.below(most)).min(text.len());
    while !text.is_char_boundary(end) {
        end += 1;
    }
    (start, end)
}

fn replaced(text: &str, (start, end): (usize, usize), with: &str) -> String {
    format!("{}{with}{}", &text[..start], &text[end..])
}

/// The stretches of a text that look like turns.
fn tokens(text: &str) -> Vec<(usize, usize)> {
    let mut found = Vec::new();
    let mut at = 0;
    for word in text.split_inclusive(|c: char| c.is_whitespace() || c == '(' || c == ')') {
        let bare = word.trim_end_matches(|c: char| c.is_whitespace() || c == '(' || c == ')');
        let turns = bare.starts_with(|c: char| "RULDFBMESxyzrudlfb".contains(c)) && bare.len() <= 4;
        if turns && bare.chars().skip(1).all(|c| "w'23’".contains(c)) {
            found.push((at, at + bare.len()));
        }
        at += word.len();
    }
    found
}

fn damaged(text: &str, corpus: &[String], random: &mut Random) -> String {
    let here = place(text, random);
    let tokens = tokens(text);
    let token = if tokens.is_empty() { (here, here) } else { tokens[random.below(tokens.len())] };
    match random.below(16) {
        // A slip of the pen, as `mend` knows them and others.
        0 | 1 => replaced(text, token, random.pick(&TURNS)),
        2 => replaced(text, token, ""),
        3 => replaced(text, (token.1, token.1), if random.below(2) == 0 { "'" } else { "2" }),
        4 => replaced(text, (token.0, token.0), &format!("{} ", random.pick(&TURNS))),
        5 => replaced(text, token, random.pick(&["?", "...", "@", "R?"])),
        // What is no turn.
        6 | 7 => replaced(text, (here, here), random.pick(&PIECES)),
        8 => replaced(text, (here, here), &format!(" {} ", random.pick(&PIECES))),
        9 => replaced(text, stretch(text, 12, random), ""),
        10 => {
            let (start, end) = stretch(text, 60, random);
            replaced(text, (here, here), &text[start..end])
        }
        11 => {
            let other = &corpus[random.below(corpus.len())];
            let (start, end) = stretch(other, 200, random);
            replaced(text, (here, here), &other[start..end])
        }
        12 => text[..here].to_owned(),
        13 => {
            let mut lines: Vec<&str> = text.split('\n').collect();
            let (a, b) = (random.below(lines.len()), random.below(lines.len()));
            match random.below(3) {
                0 => lines.swap(a, b),
                1 => lines.insert(a, lines[b]),
                _ => drop(lines.remove(a)),
            }
            lines.join("\n")
        }
        14 => {
            let (start, end) = stretch(text, 16, random);
            replaced(text, (start, end), &text[start..end].repeat(1 + random.below(30)))
        }
        _ => {
            let byte = char::from(u8::try_from(random.below(128)).expect("below 128"));
            replaced(text, stretch(text, 1, random), &byte.to_string())
        }
    }
}

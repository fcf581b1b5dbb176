//! What a line can be: its decoration taken off, and its atoms divided into turns and words at the least cost.
//!
//! Every atom costs something as turns and something as words, and so does a change from one to the other where no
//! sign or bracket stands between. So `R U R' cross` is three turns and a remark, `then U' here` a remark, and a
//! mistyped token among turns stays among them.

use super::atoms::{self, Atom, Kind};
use super::head;
use super::words::{self, Role};

/// What a stretch of a line is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Piece {
    Turns,
    Words,
}

/// A stretch of a line.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Segment {
    pub(super) piece: Piece,
    pub(super) start: usize,
    pub(super) end: usize,
    /// The atoms, as a range of the line's.
    pub(super) atoms: std::ops::Range<usize>,
    /// Whether it could be the other thing, if the replay says so.
    pub(super) doubtful: bool,
    /// How many tokens are written in it.
    pub(super) tokens: usize,
    /// Whether it stands behind a comment sign.
    pub(super) comment: bool,
    /// Whether the border of a cell is before it.
    pub(super) cell: bool,
}

/// What kind of line it is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Shape {
    Blank,
    /// `---`, `***`, `===`.
    Divider,
    /// A code fence.
    Fence,
    /// `|---|---|`.
    Rule,
    Content,
}

/// A line and its pieces.
#[derive(Debug, Clone)]
pub(super) struct Line {
    pub(super) start: usize,
    pub(super) end: usize,
    pub(super) shape: Shape,
    /// A number in a list, `3.`.
    pub(super) item: Option<usize>,
    /// Whether it is a heading, `## Cross`.
    pub(super) heading: bool,
    /// Where the content begins behind the decoration.
    pub(super) content: usize,
    pub(super) atoms: Vec<Atom>,
    pub(super) segments: Vec<Segment>,
    /// What the words at its beginning say.
    pub(super) role: Option<Role>,
    /// A time among the words at its beginning or on a line without turns.
    pub(super) time: Option<(usize, usize)>,
    /// Whether it is statistics.
    pub(super) figures: bool,
    /// The last segment that is turns.
    last_turns: Option<usize>,
}

impl Line {
    /// The turns of it.
    pub(super) fn turns(&self) -> impl Iterator<Item = (usize, &Segment)> {
        self.segments.iter().enumerate().filter(|(_, segment)| segment.piece == Piece::Turns)
    }

    pub(super) fn has_turns(&self) -> bool {
        self.last_turns.is_some()
    }

    /// Whether turns stand behind a segment.
    pub(super) fn has_turns_behind(&self, segment: usize) -> bool {
        self.last_turns.is_some_and(|last| last > segment)
    }

    /// How many tabs or bars.
    pub(super) fn bars(&self) -> usize {
        self.atoms.iter().filter(|atom| atom.kind == Kind::Bar).count()
    }
}

/// The lines of a cleaned text.
pub(super) fn lines(text: &str) -> Vec<Line> {
    let mut lines = Vec::new();
    let mut at = 0;
    for line in text.split('\n') {
        lines.push(begun(text, at, at + line.len()));
        at += line.len() + 1;
    }
    // Who writes `R'FR` writes `FDLDL`, too, on another line.
    let glued = lines.iter().any(|line| is_glued(&line.atoms));
    lines.iter_mut().for_each(|line| finish(text, line, glued));
    lines
}

/// Whether turns stand together without blanks, other than in what could be a word.
fn is_glued(atoms: &[Atom]) -> bool {
    atoms.iter().any(|atom| matches!(atom.kind, Kind::Turns(shape) if shape.n > 1 && !shape.letters))
}

/// A line without its decoration, in atoms.
fn begun(text: &str, start: usize, end: usize) -> Line {
    let mut line = Line {
        start,
        end,
        shape: Shape::Content,
        item: None,
        heading: false,
        content: start,
        atoms: Vec::new(),
        segments: Vec::new(),
        role: None,
        time: None,
        figures: false,
        last_turns: None,
    };
    decoration(text, &mut line);
    if line.shape == Shape::Content {
        line.atoms = atoms::atoms(text, line.content, end);
    }
    line
}

/// Divides a line and looks at what stands at its head.
fn finish(text: &str, line: &mut Line, glued: bool) {
    if line.shape != Shape::Content {
        return;
    }
    if let Some(role) = free_label(text, line) {
        line.role = Some(role);
        let n = line.atoms.len();
        line.segments = vec![segment(text, &line.atoms, Piece::Words, 0..n)];
        line.segments.retain(|segment| segment.end > segment.start);
        return;
    }
    divide(text, line, glued);
    line.last_turns = line.turns().last().map(|(n, _)| n);
    head::look(text, line);
}

/// Takes quotation marks, bullets, fences, numbers and marks of headings off the beginning of a line.
fn decoration(text: &str, line: &mut Line) {
    let whole = &text[line.start..line.end];
    let mut rest = unquoted(whole.trim_start());
    let bare = rest.trim_end();
    if bare.is_empty() {
        line.shape = Shape::Blank;
        return;
    }
    if (bare.starts_with("```") || bare.starts_with("~~~")) && !bare[3..].contains(['\'', ' ', '`']) {
        line.shape = Shape::Fence;
        return;
    }
    let ruled = bare.chars().all(|c| "-–—=_*~·•# ".contains(c));
    if ruled && bare.chars().filter(|c| *c != ' ').count() >= 2 || bare == "—" {
        line.shape = Shape::Divider;
        return;
    }
    if bare.contains('|') && bare.contains('-') && bare.chars().all(|c| "|-: +".contains(c)) {
        line.shape = Shape::Rule;
        return;
    }
    // `## Cross`: words; `# cross` may be a comment below turns, which is the same.
    let hashes = rest.bytes().take_while(|&byte| byte == b'#').count();
    if (1..=6).contains(&hashes) && rest[hashes..].starts_with(' ') {
        line.heading = true;
        rest = rest[hashes..].trim_start();
    }
    for bullet in
        ["- [ ] ", "- [x] ", "- ", "* ", "+ ", "• ", "‣ ", "◦ ", "· ", "– ", "— ", "● ", "▪ ", "-- "]
    {
        if let Some(after) = rest.strip_prefix(bullet) {
            rest = unquoted(after.trim_start());
            break;
        }
    }
    // The one asterisk or underline of what was set bold.
    let opening = rest.len() - rest.trim_start_matches(['*', '_']).len();
    if opening > 0 && opening <= 3 {
        rest = &rest[opening..];
    }
    if let Some((number, length)) = list_number(rest) {
        line.item = Some(number);
        rest = rest[length..].trim_start();
    }
    line.content = line.end - rest.len();
}

/// Without the signs of a quotation; `>` before a letter too.
fn unquoted(text: &str) -> &str {
    text.trim_start_matches(['>', ' ', '\t'])
}

/// `3.`, `3)`, `(3)`, `#3` or `3:` before something that is no more of a number.
fn list_number(rest: &str) -> Option<(usize, usize)> {
    let open = rest.len() - rest.trim_start_matches(['(', '#', '[']).len();
    let digits = rest[open..].bytes().take(4).take_while(u8::is_ascii_digit).count();
    let number = rest[open..open + digits].parse().ok().filter(|_| open <= 1 && digits < 4)?;
    let after = &rest[open + digits..];
    let close = after.strip_prefix(['.', ')', ':', ']']);
    let length = match (open, close) {
        (_, Some(rest)) if rest.starts_with([' ', '\t']) => open + digits + 1,
        // `(6)` alone on its line is no number of a list.
        (1, None) if rest.starts_with('#') && after.starts_with([' ', '\t']) => open + digits,
        _ => return None,
    };
    // `2) x` could be the end of a group; a list has something behind the number.
    (!rest[length..].trim().is_empty()).then_some((number, length))
}

/// A label behind which words follow, never turns.
fn free_label(text: &str, line: &Line) -> Option<Role> {
    let colon = line.atoms.iter().position(|atom| atom.kind == Kind::Colon)?;
    let words = &text[line.content..line.atoms[colon].start];
    if colon > 3 || words.trim().is_empty() {
        return None;
    }
    words::role(words).filter(|role| role.is_free())
}

const NEVER: f32 = 1e6;

/// Costs of an atom as turns and as words.
fn costs(line: &[Atom], n: usize, text: &str, glued: bool) -> (f32, f32) {
    let atom = &line[n];
    match atom.kind {
        Kind::Turns(shape) if shape.smiley => (2.0, 0.0),
        // `Z perm`: the letter of a case.
        Kind::Turns(shape) if shape.bare && is_before_perm(line, n, text) => (15.0, 0.0),
        Kind::Turns(shape) if shape.letters => {
            let chunk = &text[atom.start..atom.end];
            let slot = matches!(
                chunk,
                "FR" | "FL" | "BR" | "BL" | "UF" | "UR" | "UL" | "UB" | "DF" | "DR" | "DL" | "DB"
            );
            match (glued, slot) {
                (true, false) => (0.0, 0.6),
                (true, true) => (0.3, 0.3),
                (false, true) => (1.5, 0.2),
                (false, false) => (1.0, 0.3),
            }
        }
        Kind::Turns(shape) => {
            let alone = shape.bare
                && line.get(n + 1).is_some_and(|next| next.kind == Kind::Word)
                && (n == 0 || line[n - 1].kind == Kind::Word);
            (if alone { 0.5 } else { 0.0 }, 1.2 * shape.n as f32)
        }
        Kind::Group { n } => (0.0, 2.0 * n as f32),
        Kind::Aside { .. } => (NEVER, 0.0),
        Kind::Bad => (2.5, 0.3),
        Kind::Word => (15.0, 0.0),
        Kind::Number => (6.0, 0.0),
        Kind::Time => (8.0, 0.0),
        Kind::Mark => (0.0, 6.0),
        // `R U ... cross`: dots between turns and words are no gap.
        Kind::Unknown if is_beside_word(line, n) => (0.5, 0.0),
        Kind::Unknown => (0.0, 0.2),
        Kind::Bracket => (0.1, 0.2),
        Kind::Comment | Kind::Bar | Kind::Colon | Kind::Sign => (0.0, 0.0),
    }
}

/// Whether the next word is the trade's for a permutation of the last layer.
fn is_before_perm(line: &[Atom], n: usize, text: &str) -> bool {
    let word = line.get(n + 1).filter(|next| next.kind == Kind::Word).map(|next| &text[next.start..next.end]);
    word.is_some_and(|word| word.to_ascii_lowercase().starts_with("perm"))
}

/// Whether a word stands right before or behind.
fn is_beside_word(line: &[Atom], n: usize) -> bool {
    let word = |atom: &Atom| atom.kind == Kind::Word;
    line.get(n + 1).is_some_and(word) || n > 0 && word(&line[n - 1])
}

/// Divides the atoms into turns and words at the least cost.
fn divide(text: &str, line: &mut Line, glued: bool) {
    let atoms = &line.atoms;
    let n = atoms.len();
    // Behind a comment sign there are only words, up to the border of a cell.
    let mut comment = vec![false; n];
    let mut open = false;
    for (i, atom) in atoms.iter().enumerate() {
        match atom.kind {
            Kind::Comment => open = true,
            Kind::Bar if text.as_bytes()[atom.start] == b'\t' || atoms[0].kind == Kind::Bar => open = false,
            _ => {}
        }
        comment[i] = open;
    }
    // Whether everything up to here is what may stand before turns: numbers, a time, a label.
    let mut heads = vec![true; n + 1];
    for i in 0..n {
        let known = match atoms[i].kind {
            Kind::Number | Kind::Time | Kind::Sign | Kind::Bar | Kind::Colon => true,
            Kind::Aside { doubtful } => !doubtful,
            // `Cross.... R U`
            Kind::Unknown => i > 0 && atoms[i - 1].kind == Kind::Word,
            Kind::Word | Kind::Bad | Kind::Turns(_) => {
                let words = &text[line.content..atoms[i].end];
                words.len() <= 80 && words::role(strip_numbers(words)).is_some()
            }
            _ => false,
        };
        heads[i + 1] = heads[i] && known
            || matches!(atoms[i].kind, Kind::Colon) && label_like(&atoms[..i])
            || i == 0 && atoms[i].kind == Kind::Word && known_next(text, line, i);
    }
    let to_words = |i: usize| -> f32 {
        let signed = |kind: Kind| matches!(kind, Kind::Comment | Kind::Sign | Kind::Bar | Kind::Aside { .. });
        if signed(atoms[i].kind) || i > 0 && signed(atoms[i - 1].kind) {
            return 0.3;
        }
        let rest = &text[atoms[i].start..atoms[i].end.max(atoms[(i + 3).min(n - 1)].end)];
        if words::is_step(rest) { 0.3 } else { 1.0 }
    };
    let to_turns = |i: usize| -> f32 {
        match atoms[i - 1].kind {
            _ if heads[i] => 0.3,
            Kind::Bar => 0.6,
            Kind::Colon => 1.0,
            Kind::Aside { .. } => 0.3,
            Kind::Sign if is_step_before(text, atoms, i) => 0.3,
            Kind::Sign => 1.5,
            _ => 4.0,
        }
    };
    // cost[i] = the least cost up to atom i, ending in turns or in words; came from the same or the other.
    let mut cost = [0.0_f32, 0.0_f32];
    let mut from: Vec<[bool; 2]> = Vec::with_capacity(n);
    for (i, &commented) in comment.iter().enumerate() {
        let (turns, words) = costs(atoms, i, text, glued);
        let turns = if commented { 12.0 + turns } else { turns };
        let switch_to_turns = if i == 0 { NEVER } else { cost[1] + to_turns(i) };
        let switch_to_words = if i == 0 { NEVER } else { cost[0] + to_words(i) };
        from.push([switch_to_turns < cost[0], switch_to_words < cost[1]]);
        cost = [cost[0].min(switch_to_turns) + turns, cost[1].min(switch_to_words) + words];
    }
    let mut is_words = vec![false; n];
    let mut now = usize::from(cost[1] <= cost[0]);
    for i in (0..n).rev() {
        is_words[i] = now == 1;
        if from[i][now] {
            now = 1 - now;
        }
    }
    line.segments = segments(text, atoms, &is_words, &comment);
}

/// Whether the few words before a sign name a step: `, PLL - R U`.
fn is_step_before(text: &str, atoms: &[Atom], i: usize) -> bool {
    let words =
        atoms[..i - 1].iter().rev().take(4).take_while(|atom| matches!(atom.kind, Kind::Word | Kind::Number));
    let Some(first) = words.last() else { return false };
    words::is_step(&text[first.start..atoms[i - 1].start])
}

/// Whether so few atoms of words could be a label.
fn label_like(atoms: &[Atom]) -> bool {
    atoms.len() <= 6
        && atoms.iter().any(|atom| atom.kind == Kind::Word)
        && atoms
            .iter()
            .all(|atom| !matches!(atom.kind, Kind::Comment | Kind::Group { .. } | Kind::Mark | Kind::Time))
}

/// Whether the word and the few after it are a label together: `1st pair`.
fn known_next(text: &str, line: &Line, i: usize) -> bool {
    (i + 1..line.atoms.len().min(i + 4)).any(|n| {
        let words = &text[line.content..line.atoms[n].end];
        line.atoms[n].kind != Kind::Colon && words.len() <= 80 && words::role(words).is_some()
    })
}

/// The words without numbers and signs before them; `1st` is a word.
pub(super) fn strip_numbers(words: &str) -> &str {
    let mut rest = words;
    loop {
        let bare = rest
            .trim_start_matches([' ', '.', ',', ':', '(', ')', '[', ']', '+', '-', '–', '—', '#', '|', '\t']);
        let digits = bare.bytes().take_while(u8::is_ascii_digit).count();
        if digits == 0 || bare[digits..].starts_with(char::is_alphanumeric) {
            return bare;
        }
        rest = &bare[digits..];
    }
}

fn segments(text: &str, atoms: &[Atom], is_words: &[bool], comment: &[bool]) -> Vec<Segment> {
    let mut segments: Vec<Segment> = Vec::new();
    let mut begin = 0;
    let n = atoms.len();
    let mut push = |range: std::ops::Range<usize>, words: bool| {
        if range.is_empty() {
            return;
        }
        let piece = if words { Piece::Words } else { Piece::Turns };
        let mut segment = segment(text, atoms, piece, range.clone());
        segment.comment = comment[range.start] || range.clone().all(|i| comment[i] || is_sign(&atoms[i]));
        segment.cell =
            range.start == 0 || atoms[..=range.start].iter().rev().take(2).any(|atom| atom.kind == Kind::Bar);
        let empty = match piece {
            Piece::Turns => {
                segment.tokens == 0
                    && !atoms[segment.atoms.clone()].iter().any(|atom| {
                        matches!(atom.kind, Kind::Mark | Kind::Unknown | Kind::Bracket | Kind::Bad)
                    })
            }
            Piece::Words => segment.end <= segment.start,
        };
        if !empty {
            segments.push(segment);
        }
    };
    for i in 0..=n {
        let breaks = i == n
            || is_words[i] != is_words[begin]
            // Cells, and parts divided by a slash, may be different things.
            || !is_words[i] && (atoms[i].kind == Kind::Bar || text[atoms[i].start..].starts_with('/'))
            || is_words[i] && (atoms[i].kind == Kind::Bar || atoms[i].kind == Kind::Comment && i > begin);
        if breaks {
            push(begin..i, is_words.get(begin).copied().unwrap_or(false));
            begin = i;
        }
    }
    segments
}

fn is_sign(atom: &Atom) -> bool {
    matches!(atom.kind, Kind::Sign | Kind::Bar | Kind::Colon | Kind::Comment)
}

/// A segment of these atoms, without signs at its ends.
fn segment(text: &str, atoms: &[Atom], piece: Piece, range: std::ops::Range<usize>) -> Segment {
    let mut first = range.start;
    let mut last = range.end;
    while first < last && is_sign(&atoms[first]) {
        first += 1;
    }
    while last > first && is_sign(&atoms[last - 1]) {
        last -= 1;
    }
    let inner = &atoms[first..last];
    let (start, end) = match (inner.first(), inner.last()) {
        (Some(first), Some(last)) => (first.start, last.end),
        _ => (
            atoms.get(range.start).map_or(0, |atom| atom.start),
            atoms.get(range.start).map_or(0, |atom| atom.start),
        ),
    };
    // Signs of sentences at the end of words are the writer's.
    let end = match piece {
        Piece::Words if last < range.end || end > start => {
            let stop = text[end..].find(|c: char| !"!.?;,".contains(c)).map_or(text.len(), |n| end + n);
            stop.min(atoms.get(range.end).map_or(stop, |atom| atom.start.max(end)))
        }
        _ => end,
    };
    let tokens = inner.iter().map(Atom::tokens).sum();
    let only_turns = !inner.is_empty()
        && inner.iter().all(|atom| {
            matches!(
                atom.kind,
                Kind::Turns(_)
                    | Kind::Group { .. }
                    | Kind::Aside { doubtful: true }
                    | Kind::Mark
                    | Kind::Sign
                    | Kind::Bar
            )
        })
        && inner.iter().any(|atom| !is_sign(atom));
    let doubtful = match piece {
        Piece::Words => only_turns,
        Piece::Turns => {
            only_turns
                && inner
                    .iter()
                    .all(|atom| matches!(atom.kind, Kind::Turns(shape) if shape.letters || shape.smiley))
        }
    };
    Segment { piece, start, end, atoms: first..last, doubtful, tokens, comment: false, cell: false }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The last line of a text.
    fn read(text: &str) -> Line {
        lines(text).pop().expect("a text has a line")
    }

    /// Turns between `<` and `>`, words between `{` and `}`.
    fn shown(text: &str) -> String {
        let line = read(text);
        let mut shown = String::new();
        for segment in &line.segments {
            let (open, close) = if segment.piece == Piece::Turns { ('<', '>') } else { ('{', '}') };
            shown.push(open);
            shown.push_str(&text[segment.start..segment.end]);
            shown.push(close);
        }
        shown
    }

    #[test]
    fn turns_and_words_go_apart() {
        for (text, expected) in [
            ("R U R' U' // 1st pair", "<R U R' U'>{1st pair}"),
            ("R U R' (cross)", "<R U R'>{(cross)}"),
            ("R U R' cross", "<R U R'>{cross}"),
            ("R U R' -- cross, 7 turns", "<R U R'>{cross, 7 turns}"),
            ("R U R' ; cross", "<R U R'>{cross}"),
            ("then U' here", "{then U' here}"),
            ("I did U R U' there", "{I did U R U' there}"),
            ("Cross: R' D' L F D (5)", "{Cross}<R' D' L F D>{(5)}"),
            ("1st pair R U R' U'", "{1st pair}<R U R' U'>"),
            ("x-cross R U R' U'", "{x-cross}<R U R' U'>"),
            ("| Cross | R U F | 7 |", "{Cross}<R U F>{7}"),
            ("R U F\tcross\t7", "<R U F>{cross}{7}"),
            ("> R U R' # pair", "<R U R'>{pair}"),
            ("R U R' = cross", "<R U R'>{cross}"),
            ("**Cross:** R U F", "{Cross}<R U F>"),
            ("1. 10.70 B' L U2 R", "{10.70}<B' L U2 R>"),
            ("Scramble #3: R U F", "{Scramble #3}<R U F>"),
            ("Scramble - R U F", "{Scramble}<R U F>"),
            ("U2 xD", "<U2>{xD}"),
            ("R U R' U' (BR)", "<R U R' U'>{(BR)}"),
            ("F R U R' U' F' (LL skip!)", "<F R U R' U' F'>{(LL skip!)}"),
            ("R U T' F R' F' R", "<R U T' F R' F' R>"),
            ("34 HTM, 4.1 TPS", "{34 HTM, 4.1 TPS}"),
            ("U'", "<U'>"),
            ("R2 U F2 | R U R'", "<R2 U F2><R U R'>"),
            ("R2 U F2 / R U R'", "<R2 U F2><R U R'>"),
            ("(cross) R U F", "{(cross)}<R U F>"),
            ("[cross] R U F", "{[cross]}<R U F>"),
            ("# cross", "{cross}"),
            ("R U2 R' U R // cross (7/7)", "<R U2 R' U R>{cross (7/7)}"),
            ("FDLDL // cross", "{FDLDL}{cross}"),
            ("R'FR // pair\nFDLDL // cross", "<FDLDL>{cross}"),
            ("R'FR // pair\nFULL of hope", "{FULL of hope}"),
        ] {
            assert_eq!(shown(text), expected, "{text:?}");
        }
    }

    #[test]
    fn heads_are_read() {
        assert_eq!(read("Scramble #3: R U F").role, Some(Role::Scramble));
        assert_eq!(read("Solution:").role, Some(Role::Solution));
        assert_eq!(read("Time: 8.21").time, Some((6, 10)));
        assert_eq!(read("(10.70)").time, Some((1, 6)));
        assert_eq!(read("10.70+").time, Some((0, 6)));
        assert_eq!(read("1. 10.70 B' L U2 R").time, Some((3, 8)));
        assert!(read("57 HTM / 5.9 TPS").figures);
        assert_eq!(read("3. R U F").item, Some(3));
    }
}

//! The writer's comments as claims: `// 2nd pair` says that the second pair is solved by the turns it stands
//! with. Where the replay disagrees there is usually a typing mistake.
//!
//! A comment is taken as a claim only if it *begins* with one of these, in any case: `cross`, `xcross`,
//! `xxcross`, `1st pair`, `pair 1`, `first slot`, `last pair`, `3rd and 4th pair`, `green-red pair`, `OLL`, `OLL 27`,
//! `orientation`, `PLL`, `T perm`, `PLL Ua`, `permutation`, `AUF`, `final adjustment`; the word `F2L` serves for
//! `pair`. Whatever else a comment says is the writer's own and is left alone.
//!
//! A comment on a line with turns speaks of the turns since the last claim. If no claim of the record shares
//! a line with turns before it, each speaks of the turns up to the next one.

use crate::cube::{Amount, Colour, Move, Pair, State};
use crate::diagnostic::Span;
use crate::notation::{Comment, Turns};
use crate::replay::Replay;

use super::{Kind, Skip, Solve};

/// What a comment claims of its turns.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Claim {
    /// The cross is solved here, with at least this many pairs.
    Cross {
        /// 0 for `cross`, 1 for `xcross`, 2 for `xxcross`.
        pairs: usize,
    },
    /// Pairs are solved here: these numbers in order of solving, counted from 1.
    Pairs(Vec<usize>),
    /// The pair with these side colours is solved here.
    NamedPair([Colour; 2]),
    /// Some pair is solved here.
    SomePair,
    /// The last layer is oriented here, maybe by this numbered case.
    Orientation(Option<u8>),
    /// The last layer is permuted here, maybe by this lettered case.
    Permutation(Option<String>),
    /// The last turn of the last layer.
    Adjust,
}

/// A claim, where it was made and what the replay says of it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Checked {
    /// What is claimed.
    pub claim: Claim,
    /// The writer's words.
    pub text: String,
    /// Where they stand.
    pub span: Span,
    /// The first moment of the turns it speaks of.
    pub from: usize,
    /// The moment those turns end: what is claimed should be true from here on.
    pub to: usize,
    /// Whether the replay agrees.
    pub holds: bool,
}

/// Reads the claims among the comments and checks each against the steps found. A claim about turns
/// that were not all replayed does not hold.
#[must_use]
pub fn check(turns: &Turns, solve: &Solve, replay: &Replay) -> Vec<Checked> {
    let mut claims: Vec<_> = turns
        .comments
        .iter()
        .filter_map(|comment| read(&comment.text).map(|claim| (comment, claim)))
        .collect();
    let figures = claims.iter().filter(|(comment, _)| bracketed_number(&comment.text)).count() > 1;
    for (comment, claim) in &mut claims {
        // Where other steps have a number in brackets too, it counts turns and is no case.
        if figures && bracketed_number(&comment.text) && matches!(claim, Claim::Orientation(_)) {
            *claim = Claim::Orientation(None);
        }
    }
    let trailing = trail(turns, claims.iter().map(|(comment, _)| *comment));
    let n_tokens = turns.tokens.len();
    let mut checked = Vec::with_capacity(claims.len());
    // Where the turns of the claim after the next one begin, which has to find the milestone still there.
    let later =
        |i: usize| claims.get(i + if trailing { 1 } else { 2 }).map_or(n_tokens, |(next, _)| next.moment);
    for (i, (comment, claim)) in claims.iter().enumerate() {
        let (from, to) = if trailing {
            (if i == 0 { 0 } else { claims[i - 1].0.moment }, comment.moment)
        } else {
            (comment.moment, claims.get(i + 1).map_or(n_tokens, |(next, _)| next.moment))
        };
        let holds = to <= replay.moves.len()
            && (holds(claim, solve, from, to) || is_merged(claim, solve, replay, [from, to, later(i)]));
        let (text, span) = (comment.text.clone(), comment.span);
        checked.push(Checked { claim: claim.clone(), text, span, from, to, holds });
    }
    checked
}

/// For each comment, how many tokens there are up to the last of those that it goes with: a claim that stands
/// before its turns goes with the first of them, every other comment with what is before it.
#[must_use]
pub fn moments(turns: &Turns) -> Vec<usize> {
    let is_claim = |comment: &&Comment| read(&comment.text).is_some();
    let trailing = trail(turns, turns.comments.iter().filter(is_claim));
    let moment = |comment: &Comment| match !trailing && is_claim(&comment) {
        true => (comment.moment + 1).min(turns.tokens.len()),
        false => comment.moment,
    };
    turns.comments.iter().map(moment).collect()
}

/// Whether a token stands before one of these on its line. The breaks tell, not the source: a pasted remark may stand
/// on the line below the turns that it is about.
fn trail<'a>(turns: &Turns, comments: impl IntoIterator<Item = &'a Comment>) -> bool {
    let mut comments = comments.into_iter().peekable();
    if comments.peek().is_none() {
        return false;
    }
    let breaks: Vec<Span> = turns.breaks.iter().map(|line| Span::new(line.at, line.at)).collect();
    // Groups put tokens out of the order of the text.
    let mut tokens: Vec<Span> = turns.tokens.iter().map(|token| token.span).collect();
    tokens.sort_unstable();
    comments.any(|comment| {
        let n_before = tokens.partition_point(|token| token.end <= comment.span.start);
        let Some(last) = n_before.checked_sub(1).map(|n| tokens[n]) else { return false };
        let next = breaks.partition_point(|at| at.start < last.end);
        breaks.get(next).is_none_or(|at| at.start > comment.span.start)
    })
}

/// Whether the claimed milestone is reached within the last turn: writers put the turn that ends a pair and the first
/// one of the next step together, `R U R2` for `R U R'` and `R'`. What was reached has to be there again at the end of
/// the next claim's turns: else the turn is a slip.
fn is_merged(claim: &Claim, solve: &Solve, replay: &Replay, [from, to, later]: [usize; 3]) -> bool {
    let (Some(cross), Some(last)) = (solve.cross, to.checked_sub(1)) else { return false };
    if last < from {
        return false;
    }
    let pairs_in =
        |state: &State| Pair::all(cross).into_iter().filter(|&pair| state.pair_solved(pair)).count();
    let before = pairs_in(&replay.moments[from].state);
    let Some(after) = replay.moments.get(later).filter(|_| later > to).map(|moment| moment.state) else {
        return false;
    };
    let stays = |state: &State| {
        after.cross_solved(cross)
            && Pair::all(cross).into_iter().all(|pair| !state.pair_solved(pair) || after.pair_solved(pair))
    };
    Amount::ALL.into_iter().any(|amount| {
        let mv = match replay.moves[last] {
            Move::Turn(face, _) => Move::Turn(face, amount),
            Move::Wide(face, _) => Move::Wide(face, amount),
            _ => return false,
        };
        let mut within = replay.moments[last];
        within.play(mv);
        let state = within.state;
        let solved = pairs_in(&state);
        state.cross_solved(cross)
            && stays(&state)
            && match claim {
                Claim::Cross { pairs } => solved >= *pairs,
                Claim::Pairs(numbers) => solved > before && numbers.iter().max() == Some(&solved),
                Claim::NamedPair(sides) => {
                    Pair::with_sides(sides[0], sides[1]).is_some_and(|pair| state.pair_solved(pair))
                }
                Claim::SomePair => solved > before,
                _ => false,
            }
    })
}

fn holds(claim: &Claim, solve: &Solve, from: usize, to: usize) -> bool {
    // A milestone belongs to these turns if it is reached by one of them; one that took no turns at all may
    // be claimed where it was reached.
    let here = |moment: usize| (moment > from || moment == to) && moment <= to;
    let ends = |kind: Kind| solve.steps.iter().find(|step| step.kind == kind).map(|step| step.to);
    match claim {
        Claim::Cross { pairs } => solve
            .steps
            .iter()
            .any(|step| step.kind == Kind::Cross && here(step.to) && step.pairs.len() >= *pairs),
        Claim::Pairs(numbers) => {
            let order = order_of_pairs(solve);
            // After an xcross some writers go on with "1st pair", others with "2nd".
            let extra =
                solve.steps.iter().find(|step| step.kind == Kind::Cross).map_or(0, |step| step.pairs.len());
            [0, extra].iter().any(|skipped| {
                numbers
                    .iter()
                    .all(|number| order.get(number + skipped - 1).is_some_and(|&(_, moment)| here(moment)))
            })
        }
        Claim::NamedPair(sides) => {
            order_of_pairs(solve).iter().any(|&(pair, moment)| pair.sides() == *sides && here(moment))
        }
        Claim::SomePair => order_of_pairs(solve).iter().any(|&(_, moment)| here(moment)),
        Claim::Orientation(_) => milestone(solve, Kind::Orient, Skip::Oll).is_some_and(here),
        Claim::Permutation(_) => milestone(solve, Kind::Permute, Skip::Pll)
            .is_some_and(|moment| here(moment) || ends(Kind::Adjust).is_some_and(here)),
        // The last turn is often written with the permutation, so only a solved end is asked for.
        Claim::Adjust => {
            matches!(solve.end, super::End::Solved) && solve.steps.last().is_some_and(|s| here(s.to))
        }
    }
}

/// The moment a last-layer milestone was reached, by a step of its own or without one.
fn milestone(solve: &Solve, kind: Kind, skip: Skip) -> Option<usize> {
    let own =
        |step: &&super::Step| step.kind == kind || step.kind == Kind::LastLayer || step.skips.contains(&skip);
    solve.steps.iter().find(own).map(|step| step.to)
}

/// Each pair with the moment it was solved, in order.
fn order_of_pairs(solve: &Solve) -> Vec<(Pair, usize)> {
    solve.steps.iter().flat_map(|step| step.pairs.iter().map(|&pair| (pair, step.to))).collect()
}

/// Whether the words claim the final adjustment.
#[must_use]
pub fn is_adjustment(text: &str) -> bool {
    read(text) == Some(Claim::Adjust)
}

/// Whether the words begin with a claim.
#[must_use]
pub fn is_claim(text: &str) -> bool {
    read(text).is_some()
}

/// Reads one comment; `None` if it does not begin with a claim.
fn read(text: &str) -> Option<Claim> {
    let lower = text.to_lowercase();
    let words = words_of(&lower);
    let first = *words.first()?;
    match first {
        "cross" => return Some(Claim::Cross { pairs: 0 }),
        "xcross" => return Some(Claim::Cross { pairs: 1 }),
        "xxcross" => return Some(Claim::Cross { pairs: 2 }),
        "x" if words.get(1) == Some(&"cross") => return Some(Claim::Cross { pairs: 1 }),
        "oll" | "orientation" => {
            return Some(Claim::Orientation(case_number(&lower)));
        }
        "pll" | "permutation" => {
            return Some(Claim::Permutation(words.get(1).and_then(|word| permutation_letter(word))));
        }
        "auf" | "adjust" | "adjustment" => return Some(Claim::Adjust),
        "final" if words.get(1) == Some(&"adjustment") => return Some(Claim::Adjust),
        _ => {}
    }
    if matches!(words.get(1), Some(&"perm" | &"permutation")) && permutation_letter(first).is_some() {
        return Some(Claim::Permutation(permutation_letter(first)));
    }
    if let Some(a) = colour(first)
        && let Some(b) = words.get(1).and_then(|word| colour(word))
        && words.get(2).is_none_or(|word| is_pair_word(word))
    {
        return Pair::with_sides(a, b).map(|pair| Claim::NamedPair(pair.sides()));
    }
    read_numbers(&words)
}

/// The words of a comment without the figures among them: counts in brackets, `4/10`, `1.53`, `7 turns`.
fn words_of(lower: &str) -> Vec<&str> {
    let chunks: Vec<&str> = lower.split_whitespace().collect();
    let mut words: Vec<&str> = Vec::new();
    for (i, chunk) in chunks.iter().enumerate() {
        let numbered = words.iter().any(|word| number(word).is_some());
        let unit = chunks.get(i + 1).is_some_and(|next| UNITS.iter().any(|unit| next.starts_with(unit)));
        if i > 0 && is_figure(chunk, numbered, unit) {
            continue;
        }
        let parts = chunk.split(|c: char| !c.is_alphanumeric());
        words.extend(parts.filter(|word| !word.is_empty() && !matches!(*word, "the" | "and")));
    }
    words
}

const UNITS: [&str; 7] = ["moves", "turns", "htm", "stm", "etm", "obtm", "sec"];

/// Whether a part of a comment is a figure beside the claim and not the number of a pair. `pairs 3/4` are two pairs;
/// where a number went before, `4/10` is a count.
fn is_figure(chunk: &str, numbered: bool, unit: bool) -> bool {
    let bare = chunk.trim_matches(['(', ')', '[', ']', ',', ';']);
    let bracketed = chunk.starts_with(['(', '[']);
    let mut parts = bare.split(['/', '.', ':', ',']);
    let digits = parts.all(|part| !part.is_empty() && part.bytes().all(|byte| byte.is_ascii_digit()));
    let fraction = bare.contains(['.', ':', ',']);
    digits && (bracketed || fraction || (numbered && bare.contains('/')) || (numbered && unit))
}

/// The case behind `OLL`: a whole number from 1 to 57, no part of a time (`7.99`) or of a count (`9/37`).
fn case_number(lower: &str) -> Option<u8> {
    let after = lower.trim_start_matches(|c: char| c.is_alphabetic() || " #:-(".contains(c));
    let between = &lower[..lower.len() - after.len()];
    // `OLL edges first, 9 turns`: the number has to follow at once.
    if between.split(|c: char| !c.is_alphanumeric()).filter(|word| !word.is_empty()).count() > 1 {
        return None;
    }
    let digits = after.bytes().take_while(u8::is_ascii_digit).count();
    let rest = &after[digits..];
    let number = after[..digits].parse().ok().filter(|n| (1..=57).contains(n))?;
    let fraction = rest.starts_with(['.', ',', ':']) && rest[1..].starts_with(|c: char| c.is_ascii_digit());
    let joined = rest.starts_with(|c: char| c.is_alphanumeric() || c == '/');
    let counted = UNITS.iter().chain(&["s "]).any(|unit| rest.trim_start().starts_with(unit));
    (!fraction && !joined && !counted).then_some(number)
}

/// Whether a number stands in brackets behind the claim: `OLL (9)`.
fn bracketed_number(text: &str) -> bool {
    text.rsplit_once(['(', '[']).is_some_and(|(_, inside)| {
        let bare = inside.trim_end_matches([')', ']']);
        bare.len() < inside.len() && !bare.is_empty() && bare.bytes().all(|byte| byte.is_ascii_digit())
    })
}

/// `1st pair`, `pair 1`, `3rd and 4th pair`, `pairs 3 4`, `pair`.
fn read_numbers(words: &[&str]) -> Option<Claim> {
    let (numbers, rest) = leading_numbers(words);
    if rest.first().is_some_and(|word| is_pair_word(word)) {
        if !numbers.is_empty() {
            return Some(Claim::Pairs(numbers));
        }
        let (numbers, _) = leading_numbers(&rest[1..]);
        return Some(if numbers.is_empty() { Claim::SomePair } else { Claim::Pairs(numbers) });
    }
    // `f2l1`, `pair2`.
    let first = *words.first()?;
    let digit = first.strip_prefix("f2l").or_else(|| first.strip_prefix("pair"))?;
    number(digit).map(|n| Claim::Pairs(vec![n]))
}

fn leading_numbers<'a, 'b>(words: &'b [&'a str]) -> (Vec<usize>, &'b [&'a str]) {
    let n = words.iter().take_while(|word| number(word).is_some()).count();
    (words[..n].iter().filter_map(|word| number(word)).collect(), &words[n..])
}

fn number(word: &str) -> Option<usize> {
    match word {
        "1" | "1st" | "first" | "one" => Some(1),
        "2" | "2nd" | "second" | "two" => Some(2),
        "3" | "3rd" | "third" | "three" => Some(3),
        "4" | "4th" | "fourth" | "four" | "last" => Some(4),
        _ => None,
    }
}

fn is_pair_word(word: &str) -> bool {
    matches!(word, "pair" | "pairs" | "slot" | "slots" | "f2l")
}

fn colour(word: &str) -> Option<Colour> {
    Colour::ALL.into_iter().find(|colour| colour.to_string() == word)
}

/// One of the 21 letters, written as the trade writes it.
fn permutation_letter(word: &str) -> Option<String> {
    const LETTERS: [&str; 21] = [
        "Aa", "Ab", "E", "F", "Ga", "Gb", "Gc", "Gd", "H", "Ja", "Jb", "Na", "Nb", "Ra", "Rb", "T", "Ua",
        "Ub", "V", "Y", "Z",
    ];
    LETTERS.into_iter().find(|letter| letter.eq_ignore_ascii_case(word)).map(String::from)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::notation;

    /// A label goes with the turns behind it, a comment with those before.
    #[test]
    fn claims_before_their_turns_go_with_them() {
        for (text, expected) in [
            ("Cross: R U\n1st pair: F D // slow", &[1, 3, 4][..]),
            ("// cross\nR U\n// 1st pair\nF D\n// end", &[1, 3, 4]),
            ("R U // cross\nF D // 1st pair", &[2, 4]),
            ("// words\n(R\nU)' // cross", &[0, 2]),
            ("R // words\n1st pair:", &[1, 1]),
        ] {
            let (turns, _) = notation::parse_all(text, &notation::Options::default());
            assert_eq!(moments(&turns), expected, "{text}");
        }
    }

    #[test]
    fn claims_are_read_as_people_write_them() {
        let pairs = |n: &[usize]| Some(Claim::Pairs(n.to_vec()));
        for (text, numbers) in [
            ("pair 3 (4/23)", &[3][..]),
            ("pair 2 (3)", &[2]),
            ("pair 2 [4]", &[2]),
            ("pair 1 1.53", &[1]),
            ("2nd pair 3.04", &[2]),
            ("pair 1 4/10", &[1]),
            ("pair 2, 4 turns", &[2]),
            ("pairs 3/4", &[3, 4]),
            ("pairs 3 4", &[3, 4]),
            ("pair 3 & 4 (11)", &[3, 4]),
            ("(1st pair)", &[1]),
            ("(1) pair", &[1]),
            ("F2L #3", &[3]),
        ] {
            assert_eq!(read(text), pairs(numbers), "{text}");
        }
        assert_eq!(read("pair (4/10)"), Some(Claim::SomePair));
        for (text, claim) in [
            ("cross", Some(Claim::Cross { pairs: 0 })),
            ("Cross, on the left", Some(Claim::Cross { pairs: 0 })),
            ("XCross", Some(Claim::Cross { pairs: 1 })),
            ("x-cross", Some(Claim::Cross { pairs: 1 })),
            ("1st pair", pairs(&[1])),
            ("the second slot", pairs(&[2])),
            ("pair 3 (back)", pairs(&[3])),
            ("F2L 4", pairs(&[4])),
            ("f2l2", pairs(&[2])),
            ("last pair", pairs(&[4])),
            ("3rd and 4th pair", pairs(&[3, 4])),
            ("pairs 3 + 4", pairs(&[3, 4])),
            ("pair", Some(Claim::SomePair)),
            ("red/green pair", Some(Claim::NamedPair([Colour::Green, Colour::Red]))),
            ("OLL 27", Some(Claim::Orientation(Some(27)))),
            ("OLL", Some(Claim::Orientation(None))),
            ("OLL #27", Some(Claim::Orientation(Some(27)))),
            ("OLL 7.99", Some(Claim::Orientation(None))),
            ("OLL (9/37)", Some(Claim::Orientation(None))),
            ("OLL 58", Some(Claim::Orientation(None))),
            ("OLL 9 moves", Some(Claim::Orientation(None))),
            ("PLL Ua", Some(Claim::Permutation(Some("Ua".into())))),
            ("t perm", Some(Claim::Permutation(Some("T".into())))),
            ("AUF", Some(Claim::Adjust)),
            ("should have gone for the second pair", None),
            ("lost my grip", None),
            ("", None),
            ("white yellow pair", None),
        ] {
            assert_eq!(read(text), claim, "{text:?}");
        }
    }
}

//! The words that tell what a line is: labels, steps, statistics, the names of other cubes.
//!
//! The names of events and the metrics are those of the WCA Regulations (articles 9b and 12a); the short forms are
//! common practice, no source.

use crate::steps::claims;

/// What a label says of what follows it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Role {
    /// The scramble follows.
    Scramble,
    /// The solution follows.
    Solution,
    /// A step of the solution follows.
    Step,
    /// The result follows.
    Time,
    /// Whose solve it is.
    Solver,
    /// A title follows.
    Title,
    /// A day follows.
    Date,
    /// The faces in sight follow.
    Sight,
    /// The frames a second of the video follow.
    Fps,
    /// The hands that turn follow.
    Hands,
    /// Free words follow.
    Notes,
}

impl Role {
    /// Whether words follow, never turns.
    pub(super) fn is_free(self) -> bool {
        matches!(
            self,
            Role::Solver | Role::Title | Role::Date | Role::Notes | Role::Sight | Role::Fps | Role::Hands
        )
    }
}

/// The words of a text: letters and digits, in small letters.
pub(super) fn words(text: &str) -> Vec<String> {
    text.to_lowercase()
        .split(|c: char| !c.is_alphanumeric())
        .filter(|word| !word.is_empty())
        .map(String::from)
        .collect()
}

/// Whether the words are a number in a list or a heading such as `Solve 3`, `#3`, `Round 2, attempt 1`.
pub(super) fn is_heading(text: &str) -> bool {
    let words = words(text);
    let named = words.iter().any(|word| {
        matches!(
            word.as_str(),
            "solve" | "attempt" | "no" | "nr" | "number" | "round" | "example" | "reconstruction"
        )
    });
    named && words.iter().any(|word| number(word).is_some() || ordinal(word))
}

fn number(word: &str) -> Option<usize> {
    word.parse().ok()
}

fn ordinal(word: &str) -> bool {
    let digits = word.bytes().take_while(u8::is_ascii_digit).count();
    digits > 0 && matches!(&word[digits..], "st" | "nd" | "rd" | "th")
        || matches!(
            word,
            "first" | "second" | "third" | "fourth" | "fifth" | "one" | "two" | "three" | "four" | "five"
        )
}

/// Words that may stand in a label without a meaning of their own.
fn is_filler(word: &str) -> bool {
    number(word).is_some()
        || ordinal(word)
        || matches!(
            word,
            "the"
                | "my"
                | "a"
                | "of"
                | "for"
                | "is"
                | "was"
                | "wca"
                | "random"
                | "state"
                | "used"
                | "no"
                | "nr"
                | "here"
                | "white"
                | "yellow"
                | "green"
                | "red"
                | "blue"
                | "orange"
                | "top"
                | "front"
                | "up"
                | "s"
                | "in"
                | "on"
                | "3x3"
                | "333"
                | "3x3x3"
                | "full"
                | "and"
                | "with"
                | "official"
                | "this"
                | "his"
                | "her"
                | "our"
        )
}

/// What a label says; `None` if it is no label that we know.
pub(super) fn role(text: &str) -> Option<Role> {
    if text.len() > 80 {
        return None;
    }
    let words = words(text);
    let mut role = None;
    for word in &words {
        let found = match word.as_str() {
            "scramble" | "scrambles" | "scr" | "scram" | "scrambled" | "scrmbl" | "scramb" | "scambled"
            | "scamble" | "scrable" | "scrambel" | "scrambling" => Role::Scramble,
            "solution" | "solutions" | "sol" | "solve" | "solved" | "reconstruction" | "recon" | "reco"
            | "solving" | "soluton" | "soltuion" | "solutoin" => Role::Solution,
            "time" | "result" | "single" | "timer" | "pb" => Role::Time,
            "solver" | "by" | "name" | "competitor" | "person" => Role::Solver,
            "title" | "event" | "competition" | "comp" => Role::Title,
            "date" | "day" => Role::Date,
            "sight" => Role::Sight,
            "fps" => Role::Fps,
            "hands" => Role::Hands,
            "notes" | "note" | "comment" | "comments" | "remark" | "remarks" | "video" | "link" => {
                Role::Notes
            }
            "inspection" | "insp" => Role::Step,
            other if is_filler(other) => continue,
            _ => {
                if role.is_some() {
                    return None;
                }
                break;
            }
        };
        if role.is_some_and(|role| role != found) {
            // `Solve time`, `scramble and solution`: the first counts, except for a time.
            return (found == Role::Time || role == Some(Role::Time)).then_some(Role::Time);
        }
        role = Some(found);
    }
    if role.is_some() {
        return role;
    }
    is_step(text).then_some(Role::Step)
}

/// Whether the words name a step, as a claim does or nearly so.
pub(super) fn is_step(text: &str) -> bool {
    // The name stands at the beginning.
    let mut end = text.len().min(60);
    while !text.is_char_boundary(end) {
        end -= 1;
    }
    let text = &text[..end];
    let lower = words(text);
    let Some(first) = lower.first() else { return false };
    claims::is_claim(text)
        || matches!(
            first.as_str(),
            "inspection"
                | "insp"
                | "f2l"
                | "ll"
                | "eo"
                | "eoll"
                | "coll"
                | "epll"
                | "cpll"
                | "zbll"
                | "cmll"
                | "ollcp"
                | "winter"
                | "eocross"
                | "lastlayer"
                | "orient"
                | "permute"
                | "cp"
                | "co"
                | "ep"
                | "vls"
                | "ell"
                | "cll"
                | "pll"
        )
        || matches!(first.as_str(), "last" | "2" | "1")
            && lower.get(1).is_some_and(|word| matches!(word.as_str(), "layer" | "look"))
        || lower.len() == 2 && lower[1] == "skip"
}

/// Whether the word is a metric or another unit of what people append to a solve.
pub(super) fn is_unit(word: &str) -> bool {
    matches!(
        word,
        "htm"
            | "stm"
            | "etm"
            | "qtm"
            | "obtm"
            | "qstm"
            | "tps"
            | "moves"
            | "turns"
            | "move"
            | "turn"
            | "mps"
            | "ao5"
            | "mo3"
            | "ao12"
            | "ao100"
            | "avg"
            | "average"
            | "mean"
            | "best"
            | "worst"
            | "total"
            | "sum"
            | "rotations"
            | "rotation"
            | "pauses"
            | "pause"
            | "regrips"
            | "count"
            | "movecount"
            | "turncount"
            | "fps"
    )
}

/// Whether the word may stand beside a time.
pub(super) fn is_beside_time(word: &str) -> bool {
    // `8.21s` is two words.
    let word = word.trim_start_matches(|c: char| c.is_ascii_digit());
    matches!(
        word,
        "time"
            | "result"
            | "single"
            | "final"
            | "s"
            | "sec"
            | "secs"
            | "second"
            | "seconds"
            | "pb"
            | "pr"
            | "official"
            | "timer"
            | "solve"
            | "dnf"
            | "in"
            | "my"
            | "the"
            | "new"
            | "was"
            | "is"
            | "total"
            | "got"
            | "on"
            | "this"
            | "one"
            | "with"
            | "plus"
            | "penalty"
            | "3x3"
            | "overall"
    ) || number(word).is_some_and(|n| n == 2)
}

/// The name of another event, if the words give one.
pub(super) fn other_event(text: &str) -> Option<&'static str> {
    let lower = words(text);
    let has = |word: &str| lower.iter().any(|w| w == word);
    for (names, event) in [
        (&["2x2", "2x2x2", "222"][..], "2x2x2 Cube"),
        (&["4x4", "4x4x4", "444"], "4x4x4 Cube"),
        (&["5x5", "5x5x5", "555"], "5x5x5 Cube"),
        (&["6x6", "6x6x6", "666"], "6x6x6 Cube"),
        (&["7x7", "7x7x7", "777"], "7x7x7 Cube"),
        (&["megaminx", "minx"], "Megaminx"),
        (&["pyraminx", "pyra"], "Pyraminx"),
        (&["skewb"], "Skewb"),
        (&["sq1", "square1", "squan"], "Square-1"),
    ] {
        if names.iter().any(|name| has(name)) {
            return Some(event);
        }
    }
    if lower.windows(2).any(|pair| pair[0] == "square" && pair[1] == "1") {
        return Some("Square-1");
    }
    None
}

/// Smileys of two letters that are also turns.
pub(super) fn is_smiley(chunk: &str) -> bool {
    matches!(chunk.trim_end_matches(['!', '.', ')']), "xD" | "XD" | "xDD" | "XDD" | "xDDD" | "XDDD" | "Xd")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn labels_in_any_usual_spelling() {
        for (text, expected) in [
            ("Scramble", Some(Role::Scramble)),
            ("Scramble #3", Some(Role::Scramble)),
            ("3rd scramble", Some(Role::Scramble)),
            ("scr", Some(Role::Scramble)),
            ("Scramble (white top, green front)", Some(Role::Scramble)),
            ("My solution", Some(Role::Solution)),
            ("SOLVE", Some(Role::Solution)),
            ("Solve time", Some(Role::Time)),
            ("Time", Some(Role::Time)),
            ("1st pair", Some(Role::Step)),
            ("Cross", Some(Role::Step)),
            ("XCross", Some(Role::Step)),
            ("OLL 21", Some(Role::Step)),
            ("solve it like this", None),
            ("nice one", None),
        ] {
            assert_eq!(role(text), expected, "{text:?}");
        }
    }

    #[test]
    fn other_events_by_name() {
        assert_eq!(other_event("4x4x4 Cube, round 1"), Some("4x4x4 Cube"));
        assert_eq!(other_event("3x3x3 round 1"), None);
        assert_eq!(other_event("Square-1"), Some("Square-1"));
    }
}

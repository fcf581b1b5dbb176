//! The words, each once, for everybody who asks: on the command line, in a page.
//!
//! Trade words are only here where a view of ours puts one of them above a column. Our own have one meaning, the same in
//! text, pages and JSON.

use super::blocks::{Block, Item, Phrase, Run};
use crate::annotation::Cause;

/// A word and what it means.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Entry {
    /// The word as it is printed.
    pub word: &'static str,
    /// Its meaning, in one or two sentences.
    pub meaning: &'static str,
}

/// Words of one kind.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Group {
    /// What they are about.
    pub title: &'static str,
    /// The words, in the order in which one meets them.
    pub entries: &'static [Entry],
}

const fn entry(word: &'static str, meaning: &'static str) -> Entry {
    Entry { word, meaning }
}

/// All of them.
pub const WORDS: &[Group] = &[
    Group {
        title: "The solve",
        entries: &[
            entry(
                "step",
                "Inspection, cross, a pair, OLL, PLL, AUF: from one thing done for good to the next.",
            ),
            entry(
                "pair",
                "A corner and the edge that belongs beside it, named by their two side colours: green-red.",
            ),
            entry("slot", "The place a pair belongs in. Open: its pair is not in yet."),
            entry(
                "turns",
                "Counted as the Regulations count them (12a5): outer and wide turns 1, slices 2, rotations 0.",
            ),
            entry(
                "place",
                "Where a piece sits, by the faces of the cube as it is held at that moment: UFR, BL.",
            ),
            entry(
                "DFR > UBR (R2)",
                "A way: from DFR to UBR, with the turn R2. The same place twice: it ends where it began.",
            ),
            entry("up, down", "In the layer opposite the cross, or not."),
            entry("moment", "A point between two tokens: 0 before the first, n after the n-th (--at)."),
            entry("token", "What is written for one turn or rotation: R2, Rw', y."),
            entry("hold", "How the cube is held: the colours of the centres up and in front."),
            entry("xcross", "A cross with a pair put in along with it."),
            entry("AUF", "The turn of the last layer that is left at the end."),
        ],
    },
    Group {
        title: "Where the corner was",
        entries: &[
            entry("tier", "Where one scans for the next corner, easiest first: top, target, lifted, slot."),
            entry("top", "In the top layer when the step began."),
            entry("target", "In the slot that this step fills: it has to come out."),
            entry("lifted", "In another open slot, and these turns brought it out."),
            entry("slot", "In another open slot, and still there when the step was done."),
            entry("buried", "Up when the step began and down when it was done: put away by the step."),
        ],
    },
    Group {
        title: "When it was found",
        entries: &[
            entry(
                "in sight",
                "The faces the solver sees: up, front and right, unless the record or --sight says otherwise.",
            ),
            entry("open to sight", "Two stickers of its place are in sight: it names itself."),
            entry(
                "deduced",
                "Found by one step of reasoning: one sticker whose other owners are all accounted for, or the only place left.",
            ),
            entry("found", "Open to sight, or deduced; from then on it is followed."),
            entry("at once", "Corner and edge were open to sight before the step's first turn."),
            entry("N to go", "Both had been found with so many turns of the step still to be made."),
            entry("ready", "Both found at once, or with 3 turns to go (--lead)."),
            entry("hidden", "Not found as the cube is held; another face would show it."),
            entry("in hand", "Of a pair: the one that the turns of this step are solving."),
            entry("kept", "The line played left the next pair ready."),
            entry("late", "Not ready. Behind it stands with how many turns to go, or what was not found."),
            entry(
                "avoidable",
                "Late, and another line or another pair for at most one unit more (--slack) would have left a pair ready.",
            ),
            entry(
                "forced",
                "Late, and nothing up to the bound and within the slack leaves a pair ready. No reproach.",
            ),
            entry("no stop", "Late, but the hands did not stop: no reproach either."),
            entry(
                "other ready",
                "Late, and nothing within the slack leaves a pair ready; but another pair was ready, for more.",
            ),
        ],
    },
    Group {
        title: "Lines",
        entries: &[
            entry("line", "Turns that put in a pair, or more, and keep the cross and the pairs that are in."),
            entry(
                "cleaner",
                "A line that costs clearly less, with what follows it, and does not merely put the cost off. + in the table.",
            ),
            entry("own line", "A clearly cheaper line for the same pair."),
            entry("instead", "A line that would have left a pair ready where the one played did not."),
            entry(
                "unit",
                "What a quarter turn of R costs the hands. Prices in seconds are at this solver's own turning.",
            ),
        ],
    },
    Group {
        title: "Time",
        entries: &[
            entry(
                "gap",
                "A span in which nothing turned, long or short. Turning and stopped add up to the solve.",
            ),
            entry(
                "stop",
                "A gap of at least 0.3 s and twice the pace (--stop-seconds, --stop-paces). ! in the table.",
            ),
            entry("short gaps", "Gaps that are no stops."),
            entry("pace", "The solve's median seconds a turn."),
            entry(
                "before, inside",
                "Whether the hands stood still before a step's first turn or between two of its turns.",
            ),
            entry(
                "longer",
                "Where no gap can be seen: what the step took beyond its turns at the solve's pace.",
            ),
        ],
    },
    Group {
        title: "A record, and many",
        entries: &[
            entry("claim", "What the writer's remark says of the turns beside it: cross, 2nd pair, T perm."),
            entry("fault, note", "What has to be put right; what was understood all the same."),
            entry("sound, broken", "Whether the turns solve the cube as they are written (mend)."),
            entry("set aside", "Read, named, and not used."),
            entry(
                "circumstance",
                "What may go with a stop, counted over many solves (survey): its corner down.",
            ),
        ],
    },
    Group {
        title: "Why the hands stopped",
        entries: &[
            cause(Cause::Choice),
            cause(Cause::Attention),
            cause(Cause::Deduction),
            cause(Cause::Inspection),
            cause(Cause::View),
            cause(Cause::Position),
            cause(Cause::Recognition),
        ],
    },
];

/// A cause, in the words that stand with it everywhere.
const fn cause(cause: Cause) -> Entry {
    entry(cause.word(), cause.meaning())
}

/// What a word means, where it stands beside a pair, a step or a stop.
#[must_use]
pub fn meaning(word: &str) -> Option<&'static str> {
    // A tier is called as the place is that it is about; in the tables it is the tier.
    let groups = WORDS[1..].iter().chain(&WORDS[..1]);
    groups.flat_map(|group| group.entries).find(|entry| entry.word == word).map(|entry| entry.meaning)
}

/// A text in which the words that the glossary has stand as such; they are parted by commas.
#[must_use]
pub fn phrase(text: &str) -> Phrase {
    let mut phrase = Phrase::new();
    for (n, part) in text.split(", ").enumerate() {
        phrase = if n > 0 { phrase.and(", ") } else { phrase };
        let known = WORDS.iter().flat_map(|group| group.entries).find(|entry| entry.word == part);
        phrase = match known {
            Some(entry) => phrase.run(Run::Term(entry.word)),
            None => phrase.and(part),
        };
    }
    phrase
}

/// The glossary as blocks.
#[must_use]
pub fn blocks() -> Vec<Block> {
    let mut blocks = Vec::new();
    for group in WORDS {
        if !blocks.is_empty() {
            blocks.push(Block::Gap);
        }
        blocks.push(Block::Heading(group.title.into()));
        let item = |entry: &Entry| Item {
            figure: entry.word.into(),
            words: Phrase::words(super::found::capital(entry.meaning)),
            moment: None,
        };
        blocks.push(Block::Items(group.entries.iter().map(item).collect()));
    }
    blocks
}

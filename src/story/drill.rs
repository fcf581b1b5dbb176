//! The words of a drill: what is asked, and the answer.

use super::blocks::{Phrase, Run};
use super::causes::{on_face, why};
use super::found::turns;
use super::plan::{length, next_found};
use crate::annotation::{Clue, Deduced};
use crate::cube::{Moves, PairName, Place};
use crate::drill::{Drill, Given, Kind, Shown};
use crate::plan::Planned;
use crate::sight::grades::Grade;

/// What a drill begins with: its kind and seed, and how its scrambles are meant.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Head {
    /// `drill target · white cross, four pairs open`.
    pub title: Phrase,
    /// `seed 4711`.
    pub seed: String,
    /// How to hold the cube.
    pub hold: Phrase,
}

/// A question and its answer.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Asked {
    /// The scramble.
    pub scramble: Moves,
    /// What is asked.
    pub question: Phrase,
    /// The answer, a sentence or a line each.
    pub answer: Vec<Phrase>,
}

/// A question that can be answered in a word or two, for a page that checks it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Checked {
    /// What is to be written.
    pub write: &'static str,
    /// An example of how.
    pub example: &'static str,
    /// Every answer that is right.
    pub right: Vec<String>,
}

/// What answers a position's question; `None` where that is no matter of a word or two.
#[must_use]
pub fn drill_checked(drill: &Drill) -> Option<Checked> {
    let answer = &drill.answer;
    let place = |pair: PairName, then: bool| {
        let shown = answer.pairs.iter().find(|shown| shown.pair == pair)?;
        let (corner, edge) = match then {
            true => (shown.corner_after?, shown.edge_after?),
            false => (shown.corner, shown.edge),
        };
        Some(format!("{corner} {edge}"))
    };
    let (write, example) = ("Corner and edge", "UFR UF");
    let right: Vec<String> = match drill.kind {
        Kind::TurnFirst => {
            let right = answer.turns.iter().map(|turn| turn.turn.to_string()).collect();
            return Some(Checked { write: "The turn", example: "U'", right });
        }
        // Another cross may carry the pair elsewhere.
        Kind::Cross => return None,
        Kind::Carried | Kind::Target | Kind::Lifted | Kind::Ahead => {
            drill.named.and_then(|pair| place(pair, true)).into_iter().collect()
        }
        Kind::Find | Kind::Edge | Kind::Deduce => {
            drill.named.and_then(|pair| place(pair, false)).into_iter().collect()
        }
        Kind::Hidden | Kind::Choose | Kind::Forced | Kind::NoneUp | Kind::Whole => {
            let best = answer.order.as_ref()?;
            let as_good = answer.others.iter().filter(|other| {
                other.late == best.late && other.cost <= best.cost + AS_GOOD && drill.kind != Kind::Choose
            });
            let first = std::iter::once(best).chain(as_good).filter_map(|order| order.lines.first());
            first.flat_map(|line| &line.pairs).filter_map(|&pair| place(pair, false)).collect()
        }
    };
    let write = match drill.kind {
        Kind::Hidden | Kind::Choose | Kind::Forced | Kind::NoneUp | Kind::Whole => {
            "Corner and edge of the pair to take first"
        }
        Kind::Carried | Kind::Target | Kind::Lifted | Kind::Ahead => "Corner and edge then",
        _ => write,
    };
    (!right.is_empty()).then_some(Checked { write, example, right })
}

/// So much dearer in all, in units, an order may be and still count as right: what a solve's own questions allow.
const AS_GOOD: f64 = 1.0;

/// The head of the drill to which a position belongs.
#[must_use]
pub fn drill_head(drill: &Drill) -> Head {
    let title = Phrase::new().run(Run::Strong(format!("drill {}", drill.kind)));
    let open = match drill.kind {
        Kind::Cross => String::new(),
        _ if drill.open.len() == 1 => ", one pair open".into(),
        _ => format!(", {} pairs open", ["no", "one", "two", "three", "four"][drill.open.len().min(4)]),
    };
    let sight = if drill.sight == crate::record::DEFAULT_SIGHT {
        String::new()
    } else {
        format!(" · in sight: {}", drill.sight)
    };
    let held = format!("{} up, {} in front", drill.hold.up, drill.hold.front);
    let hold = if drill.rotation.is_empty() {
        Phrase::words(format!("Scramble and hold the cube with {held}."))
    } else {
        Phrase::words("Scramble with white up and green in front, then ")
            .turns(&drill.rotation)
            .and(format!(": {held}."))
    };
    Head {
        title: title.and(format!(" · {} cross{open}{sight}", drill.cross)),
        seed: format!("seed {}", drill.seed),
        hold,
    }
}

/// A position of a drill in words.
#[must_use]
pub fn drill(drill: &Drill) -> Asked {
    Asked { scramble: drill.scramble.clone(), question: question(drill), answer: answer(drill) }
}

fn named(drill: &Drill) -> Phrase {
    drill.named.map_or(Phrase::new(), |pair| Phrase::new().pair(pair))
}

fn question(drill: &Drill) -> Phrase {
    let where_then =
        |phrase: Phrase| phrase.and(" Where do corner and edge of ").then(named(drill)).and(" stand then?");
    match drill.kind {
        Kind::Find => Phrase::words("Where are corner and edge of ").then(named(drill)).and("?"),
        Kind::Carried => where_then(played(&drill.given)),
        Kind::Target => where_then(
            played(&drill.given)
                .and(" The corner of ")
                .then(named(drill))
                .and(" sits in the slot that this fills."),
        ),
        Kind::Lifted => where_then(
            played(&drill.given).and(" It lifts the corner of ").then(named(drill)).and(" from another slot."),
        ),
        Kind::Ahead => where_then(played(&drill.given)),
        Kind::Hidden => "Of the pair that should come first something is hidden. Which pair, what, and where may it be?".into(),
        Kind::Edge => Phrase::words("The corner of ").then(named(drill)).and(" is up. Where is its edge, and how does it come out?"),
        Kind::Deduce => Phrase::new()
            .run(drill.named.map_or(Run::Words(String::new()), Run::PairFirst))
            .and(" can be found as the cube stands, by one sticker. Which, and what rules out the rest?"),
        Kind::Choose => "Which pair should come first, and what follows it?".into(),
        Kind::Forced => "No line to 9 turns leaves the next pair found in time. Which pair first, and does a longer line keep the flow?".into(),
        Kind::NoneUp => "No corner of an open pair is up. Where is each, and which pair comes first?".into(),
        Kind::TurnFirst => "No pair can be found as the cube stands. Which turn of the top layer shows one?".into(),
        Kind::Cross => {
            let n = drill.cross_turns.unwrap_or(0);
            Phrase::words(format!("The cross takes {}. Plan it, and follow the first pair through it.", turns(n)))
        }
        Kind::Whole => {
            let n = drill.answer.order.as_ref().map_or(0, |order| order.obtm);
            let pairs = match drill.open.len() {
                1 => "the pair".to_owned(),
                n => format!("all {n} pairs"),
            };
            Phrase::words(format!("Plan {pairs} so that the hands never stop: {} will do.", turns(n)))
        }
    }
}

/// `Play R U R' for blue-red, then …`
fn played(given: &[Given]) -> Phrase {
    let phrase = given.iter().enumerate().fold(Phrase::words("Play "), |phrase, (n, given)| {
        let phrase = if n > 0 { phrase.and(", then ") } else { phrase };
        phrase.turns(&given.line.text).and(" for ").pairs(&given.pairs)
    });
    phrase.and(".")
}

fn answer(drill: &Drill) -> Vec<Phrase> {
    let mut lines: Vec<Phrase> = Vec::new();
    if let Some(cross) = &drill.answer.cross {
        lines.push(Phrase::words("cross: ").turns(cross));
    }
    for turn in &drill.answer.turns {
        let shows = Phrase::new().turns(turn.turn).and(" shows ").pairs(&turn.pairs);
        lines.push(shows);
    }
    let told = !matches!(drill.kind, Kind::TurnFirst | Kind::Whole);
    lines.extend(drill.answer.pairs.iter().filter(|_| told).map(|shown| lies(drill.kind, shown)));
    lines.extend(drill.answer.deduced.iter().map(worked_out));
    lines.extend(
        drill
            .answer
            .line
            .iter()
            .map(|line| Phrase::words("its line: ").turns(&line.text).and(format!(", {}", turns(line.obtm)))),
    );
    let several = !drill.answer.others.is_empty();
    if let Some(order) = drill.answer.order.as_ref().filter(|_| drill.kind != Kind::TurnFirst) {
        lines.push(Phrase::words(headline(order, several, true)));
        lines.extend(order.lines.iter().map(|line| {
            let phrase = pairs(&line.pairs).and("  ").turns(&line.text);
            match &line.next {
                Some(next) => phrase.and("  then ").pair(next.pair).and(format!(", {}", next_found(next))),
                None => phrase,
            }
        }));
    }
    for order in &drill.answer.others {
        let first = order.lines.first().map_or(Phrase::new(), |line| pairs(&line.pairs));
        let dearer = drill.answer.order.as_ref().map_or(0.0, |best| order.cost - best.cost);
        let rest = format!(" first: {}, {dearer} more", length(order));
        lines.push(first.and(rest));
    }
    lines
}

fn headline(order: &Planned, several: bool, best: bool) -> String {
    let what = match order.late {
        0 => "Without a stop",
        1 => "With one late pair",
        _ => "With late pairs",
    };
    let best = if several && best { ", the best" } else { "" };
    format!("{what}{best}: {}", length(order))
}

fn pairs(pairs: &[PairName]) -> Phrase {
    Phrase::new().pairs(pairs)
}

/// How a piece is worked out from one sticker.
fn worked_out(deduced: &Deduced) -> Phrase {
    let piece = &deduced.piece;
    Phrase::words(match &deduced.clue {
        Clue::OneSticker { colour, face, ruled_out } => {
            let others: Vec<String> =
                ruled_out.iter().map(|out| format!("{} {}", out.piece, why(out))).collect();
            let rest = if others.is_empty() { String::new() } else { format!("{}; ", others.join(", ")) };
            format!("{colour} {} at {}: {rest}so it is {piece}", on_face(*face), deduced.place)
        }
        Clue::OnlyPlace => {
            format!("every other place shows or holds something else, so {piece} is at {}", deduced.place)
        }
    })
}

/// Where a pair lies, what shows it, and where it stands after what is played.
fn lies(kind: Kind, shown: &Shown) -> Phrase {
    let way = |from: Place, to: Option<Place>| match to {
        Some(to) => format!("{from} > {to}"),
        None => from.to_string(),
    };
    let mut words = format!(
        ": corner {}, edge {}",
        way(shown.corner, shown.corner_after),
        way(shown.edge, shown.edge_after)
    );
    let asked_how = !matches!(kind, Kind::Carried | Kind::Target | Kind::Lifted | Kind::Ahead | Kind::Cross);
    if asked_how {
        words.push_str(match (shown.corner_grade, shown.edge_grade) {
            (Grade::Plain, Grade::Plain) => "; both open to sight",
            (Grade::Plain, Grade::Deduced) => "; the edge by one sticker",
            (Grade::Deduced, Grade::Plain) => "; the corner by one sticker",
            (Grade::Deduced, Grade::Deduced) => "; both by what is ruled out",
            (Grade::Hidden, Grade::Hidden) => "; both hidden",
            (Grade::Hidden, _) => "; the corner hidden",
            (_, Grade::Hidden) => "; the edge hidden",
        });
        let hidden = shown.corner_grade.min(shown.edge_grade) == Grade::Hidden;
        if let Some(faces) = shown.tilt.filter(|_| hidden) {
            words.push_str(&format!(", {faces} shows it"));
        }
    }
    if matches!(kind, Kind::Carried | Kind::Ahead) {
        words.push_str(&format!(" ({})", shown.tier.word()));
    }
    Phrase::new().pair(shown.pair).and(words)
}

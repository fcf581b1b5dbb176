//! The story of two solves of one scramble: who, where the difference went, the parts with most of it, where they part, a
//! row for each part; then the steps beside each other.
//!
//! Figures of the table are side `b` less side `a`; in sentences they are what the side behind took more, so that what cost
//! is positive there and stands first.

pub use super::side_by_side::{SideStep, steps};

use super::blocks::{Block, Column, Item, Phrase, Run, Table};
use super::causes;
use super::found::{found, measured, turns};
use crate::annotation::{Annotation, Offer, StepKind};
use crate::diff::{
    Comparison, Difference, ENDS, Fork, Meeting, MeetingSide, Notice, Row, RowSide, Split, Went, WentFor,
    Which,
};
use crate::harmless::one_line;
use crate::words::and;

/// Below this many seconds a part of a difference is not worth a word.
const WORTH_SAYING: f64 = 0.05;

/// The blocks of a comparison up to the table.
#[must_use]
pub fn comparison(comparison: &Comparison) -> Vec<Block> {
    let heads = Which::BOTH.map(|which| head(comparison, which));
    let mut blocks = vec![Block::Items(heads.into()), scramble(comparison)];
    blocks.extend(
        comparison.notices.iter().map(|notice| Block::Paragraph(notice_words(comparison, notice).into())),
    );
    if !comparison.different {
        blocks.extend([Block::Gap, Block::Paragraph(no_difference(comparison).into())]);
        if let Some(fork) = &comparison.fork {
            blocks.push(Block::Paragraph(
                format!("Only the hold makes a difference, before {}:", comparison.rows[fork.row].name)
                    .into(),
            ));
            blocks.push(Block::Items(Which::BOTH.map(|which| took(comparison, fork, which)).into()));
        }
        return blocks;
    }
    blocks.extend(went(comparison));
    blocks.extend(largest(comparison));
    blocks.extend(parting(comparison));
    blocks.extend([Block::Gap, Block::Table(table(comparison))]);
    blocks
}

/// `A  tern · Quay Practice · 9.14 s: turning 8.11 s, 55 turns, 6.8 a second; stopped 1.03 s · white cross`.
fn head(comparison: &Comparison, which: Which) -> Item {
    let facts: &Annotation = comparison.annotations.of(which);
    let mut who: Vec<String> = facts.solver.iter().map(|solver| one_line(solver)).collect();
    who.push(one_line(&facts.heading()));
    let mut words = Phrase::new().run(Run::Strong(who.join(" · ")));
    let timing = &facts.timing;
    let n_turns = turns(facts.obtm);
    let rate = timing.turns_per_second.map_or(String::new(), |rate| format!(", {rate:.1} a second"));
    words = words.and(match (facts.seconds, timing.turning, timing.stopped) {
        (Some(seconds), Some(turning), Some(stopped)) => {
            let (turning, stopped) = (measured(turning), measured(stopped));
            format!(" · {}: turning {turning}, {n_turns}{rate}; stopped {stopped}", measured(seconds))
        }
        (Some(seconds), ..) => format!(" · {}: {n_turns}{rate}", measured(seconds)),
        (None, ..) => format!(" · {n_turns}, no times"),
    });
    let cross = facts.cross.map_or_else(|| "no cross".into(), |cross| format!("{cross} cross"));
    let end = if facts.solved { String::new() } else { format!(", {}", facts.end.judged) };
    Item {
        figure: comparison.names.of(which).clone(),
        words: words.and(format!(" · {cross}{end}")),
        moment: None,
    }
}

fn scramble(comparison: &Comparison) -> Block {
    let (a, b) = (&comparison.annotations.a.scramble, &comparison.annotations.b.scramble);
    let mut words = Phrase::new().run(Run::Dim("scramble ".into())).turns(one_line(a));
    if a != b {
        let name = &comparison.names.b;
        let same = if comparison.start.same { ", the same position" } else { "" };
        words = words.and(format!("; {name}'s is written ")).turns(one_line(b)).and(same);
    }
    Block::Paragraph(words)
}

fn notice_words(comparison: &Comparison, notice: &Notice) -> String {
    let name = |side: &Which| comparison.names.of(*side);
    match notice {
        Notice::PositionsDiffer => {
            "The scrambled positions differ: no position of one side is to be expected on the other.".into()
        }
        Notice::Untold { side, text } => format!("{}: {}.", name(side), one_line(text)),
        Notice::NotSolved { side } => {
            format!("{} does not end solved: compared as far as it goes.", name(side))
        }
        Notice::NotCrossFirst { side } => {
            format!("{} is not cross first: only the whole is compared.", name(side))
        }
        Notice::NoTimes { side } => format!("{} has no times: turns are compared.", name(side)),
    }
}

fn no_difference(comparison: &Comparison) -> String {
    let facts = &comparison.annotations.a;
    let time = match (comparison.difference.seconds, facts.seconds) {
        (Some(_), Some(seconds)) => format!(" in the same time, {}", measured(seconds)),
        _ => String::new(),
    };
    format!("No difference: the same {}{time}.", turns(facts.obtm))
}

/// 1 where side `b` less side `a` is what the side behind took more, else -1.
fn sign(comparison: &Comparison) -> f64 {
    if comparison.behind == Some(Which::A) { -1.0 } else { 1.0 }
}

/// Where the difference went, by what the hands did.
fn went(comparison: &Comparison) -> Vec<Block> {
    let until = comparison.compared.until.as_ref().map_or(String::new(), |until| format!(" up to {until}"));
    let heading = match (comparison.behind, comparison.difference.seconds) {
        (Some(which), Some(seconds)) => {
            format!("Where {}'s {}{until} went", comparison.names.of(which), measured(seconds.abs()))
        }
        (Some(which), None) => {
            let more = comparison.difference.obtm.unsigned_abs();
            let turns = if more == 1 { "turn" } else { "turns" };
            format!("Where {}'s {more} {turns} more{until} are", comparison.names.of(which))
        }
        (None, Some(_)) => format!("As fast as each other{until}; what differs, {}", less(comparison)),
        (None, None) => format!("As many turns{until}: {}", comparison.compared.obtm.a),
    };
    let items: Vec<Item> = comparison
        .went
        .iter()
        .filter(|went| went.seconds.abs() >= WORTH_SAYING)
        .map(|went| Item {
            figure: format!("{:.2} s", went.seconds),
            words: went_words(comparison, went).into(),
            moment: None,
        })
        .collect();
    let mut blocks = vec![Block::Gap, Block::Heading(heading)];
    if !items.is_empty() {
        blocks.push(Block::Items(items));
    } else if comparison.difference.seconds.is_none() && comparison.rows.len() > 1 {
        blocks.push(Block::Paragraph(format!("{}.", turns_words(comparison)).into()));
    }
    blocks
}

fn less(comparison: &Comparison) -> String {
    format!("{} less {}", comparison.names.b, comparison.names.a)
}

fn went_words(comparison: &Comparison, went: &Went) -> String {
    let more = went.seconds > 0.0;
    if went.what == WentFor::Turns {
        return format!("turns: {}", turns_words(comparison));
    }
    let what = match (went.what, more) {
        (WentFor::Speed, true) => "turning slower",
        (WentFor::Speed, false) => "turning faster",
        (_, true) => "stopped longer",
        (_, false) => "stopped less",
    };
    let everywhere = if went.everywhere { ", in every step" } else { "" };
    let mut rows: Vec<String> = went
        .rows
        .iter()
        .map(|part| format!("{:.2} in {}", part.seconds.abs(), comparison.rows[part.row].name))
        .collect();
    // What went the other way belongs to the sum, too.
    let against: Vec<(f64, &str)> = comparison
        .rows
        .iter()
        .filter_map(|row| Some((sign(comparison) * row.difference?.split?.of(went.what), row.name.as_str())))
        .filter(|(part, _)| part * went.seconds < 0.0 && part.abs() >= WORTH_SAYING)
        .collect();
    let sum: f64 = against.iter().map(|(part, _)| part.abs()).sum();
    let names: Vec<String> = against.iter().map(|(_, name)| (*name).to_owned()).collect();
    if !names.is_empty() {
        let other_way = if more { "less" } else { "more" };
        rows.push(format!("but {sum:.2} {other_way} in {}", and(&names)));
    }
    let rows = if rows.is_empty() { String::new() } else { format!(": {}", rows.join(", ")) };
    format!("{what}{everywhere}{rows}")
}

/// `6 more in PLL; 5 fewer in pairs 2 to 4 and OLL; no AUF`.
fn turns_words(comparison: &Comparison) -> String {
    let sign = sign(comparison) as i64;
    let behind = comparison.behind.unwrap_or(Which::B);
    let mut none = Vec::new();
    let (mut more, mut fewer) = ((0, Vec::new()), (0, Vec::new()));
    for row in &comparison.rows {
        let Some(difference) = row.difference else { continue };
        let n = difference.obtm * sign;
        match (row.of(behind), row.of(behind.other())) {
            (None, Some(_)) => none.push(format!("no {}", row.name)),
            _ if n > 0 => {
                more.0 += n;
                more.1.push(row.name.clone());
            }
            _ if n < 0 => {
                fewer.0 -= n;
                fewer.1.push(row.name.clone());
            }
            _ => {}
        }
    }
    let mut parts = Vec::new();
    if more.0 > 0 {
        parts.push(format!("{} more in {}", more.0, and(&more.1)));
    }
    if fewer.0 > 0 {
        parts.push(format!("{} fewer in {}", fewer.0, and(&fewer.1)));
    }
    parts.extend(none);
    if parts.is_empty() { "as many in every step".into() } else { parts.join("; ") }
}

/// The rows with most of it, with what each was.
fn largest(comparison: &Comparison) -> Vec<Block> {
    let Some(behind) = comparison.behind else { return Vec::new() };
    let items: Vec<Item> = comparison
        .largest
        .iter()
        .filter_map(|&n| {
            let row = &comparison.rows[n];
            let difference = row.difference?;
            let figure = match difference.seconds.filter(|_| comparison.difference.seconds.is_some()) {
                Some(seconds) => measured(seconds.abs()),
                None => turns(difference.obtm.unsigned_abs() as usize),
            };
            let mut words =
                Phrase::words(format!("in {}: {}.", row.name, row_words(row, behind, difference)));
            let blamed = comparison.blamed.filter(|stop| {
                row.of(stop.side).is_some_and(|side| side.steps.iter().any(|step| step.step == stop.step))
            });
            if let Some(at) = blamed.filter(|at| !told_at_the_fork(comparison, at.side, at.step)) {
                let facts = comparison.annotations.of(at.side);
                let step = &facts.steps[at.step];
                let stop = &step.stops[at.stop];
                words = words
                    .and(format!(
                        " The longest stop, {}, lay before {}. ",
                        measured(stop.seconds),
                        step.title()
                    ))
                    .then(causes::cause(facts, at.step, stop));
            }
            Some(Item { figure, words, moment: None })
        })
        .collect();
    if items.is_empty() {
        return Vec::new();
    }
    vec![Block::Gap, Block::Heading("Most of it".into()), Block::Items(items)]
}

/// Whether the stop before this step is told where the two part.
fn told_at_the_fork(comparison: &Comparison, side: Which, step: usize) -> bool {
    comparison.fork.as_ref().is_some_and(|fork| fork.left_by.of(side) + 1 == step)
}

/// What the side behind took more in a row, what it took most of first: `17 turns, not 11 (0.75 s); 6.7 a second, not 9.8
/// (0.67 s)`.
fn row_words(row: &Row, behind: Which, difference: Difference) -> String {
    let (slow, fast) = (row.of(behind), row.of(behind.other()));
    let n_turns = |side: Option<&RowSide>| side.map_or(0, |side| side.obtm);
    let (more, less) = (n_turns(slow), n_turns(fast));
    let sign = if behind == Which::A { -1.0 } else { 1.0 };
    let (for_one, for_other) = match (case(slow), case(fast)) {
        (Some(one), Some(other)) if one != other => (format!(" for {one}"), format!(" for {other}")),
        _ => Default::default(),
    };
    let counted = |seconds: String| match fast {
        Some(_) if more == less => format!("{} each", turns(more)),
        Some(_) => format!("{}{for_one}, not {less}{for_other}{seconds}", turns(more)),
        None => format!("{}, and the other needed none{seconds}", turns(more)),
    };
    let Some(split) = difference.split else { return counted(String::new()) };
    let mut parts: Vec<(f64, String)> = Vec::new();
    for what in [WentFor::Turns, WentFor::Speed, WentFor::Stopped] {
        let seconds = sign * split.of(what);
        if seconds.abs() < WORTH_SAYING {
            continue;
        }
        let figure = format!(" ({seconds:.2} s)");
        parts.push((
            seconds,
            match what {
                WentFor::Turns => counted(figure),
                WentFor::Speed => match (rate(slow), rate(fast)) {
                    (Some(one), Some(other)) => format!("{one:.1} turns a second, not {other:.1}{figure}"),
                    _ => continue,
                },
                WentFor::Stopped => {
                    let stopped = |side: Option<&RowSide>| side.and_then(|side| side.stopped).unwrap_or(0.0);
                    format!("stopped {}, not {:.2} s{figure}", measured(stopped(slow)), stopped(fast))
                }
            },
        ));
    }
    parts.sort_by(|x, y| y.0.total_cmp(&x.0));
    let parts: Vec<String> = parts.into_iter().map(|(_, words)| words).collect();
    if parts.is_empty() { counted(String::new()) } else { parts.join("; ") }
}

fn rate(side: Option<&RowSide>) -> Option<f64> {
    let side = side?;
    side.turning.filter(|turning| *turning > 0.0).map(|turning| side.obtm as f64 / turning)
}

/// The case of a row of one step, without the name of the set.
fn case(side: Option<&RowSide>) -> Option<String> {
    let [step] = side?.steps.as_slice() else { return None };
    let case = step.case?.to_string();
    Some(case.split_once(' ').map_or(case.clone(), |(_, name)| name.to_owned()))
}

/// Where they part: what each took there, and where they have the same position again.
fn parting(comparison: &Comparison) -> Vec<Block> {
    let (mut items, mut below) = (Vec::new(), Vec::new());
    let mut heading = "Where they part".to_owned();
    if let Some(fork) = &comparison.fork {
        let from = if fork.same_position { "from the same position" } else { "with the same pairs open" };
        heading = format!("Where they part: before {}, {from}", comparison.rows[fork.row].name);
        items.extend(Which::BOTH.map(|which| took(comparison, fork, which)));
    }
    let same_cross = comparison.annotations.a.cross == comparison.annotations.b.cross;
    if let Some(words) = first_different(comparison).filter(|_| same_cross) {
        below.push(words);
    }
    below.extend(comparison.meetings.first().map(|meeting| met(comparison, meeting)));
    if items.is_empty() && below.is_empty() {
        return Vec::new();
    }
    let mut blocks = vec![Block::Gap, Block::Heading(heading)];
    if !items.is_empty() {
        blocks.push(Block::Items(items));
    }
    blocks.extend(below.into_iter().map(|words| Block::Paragraph(words.into())));
    blocks
}

/// `took green-orange, at once: no stop.`
fn took(comparison: &Comparison, fork: &Fork, which: Which) -> Item {
    let facts = comparison.annotations.of(which);
    let index = *fork.left_by.of(which);
    let figure = comparison.names.of(which).clone();
    let (Some(offer), Some(next)) = (facts.steps[index].taken(), facts.steps.get(index + 1)) else {
        return Item { figure, words: Phrase::new(), moment: None };
    };
    let mut words = Phrase::words("took ").pair(offer.pair);
    words = match next.stop_before() {
        Some(stop) => words
            .and(format!(", {}: {} stopped. ", how(offer), measured(stop.seconds)))
            .then(causes::cause(facts, index + 1, stop)),
        None if facts.timing.stop_from.is_some() => words.and(format!(", {}: no stop.", how(offer))),
        None => words.and(format!(", {}.", how(offer))),
    };
    Item { figure, words, moment: None }
}

/// How a pair was found, in a sentence: `top, found at once`, `slot, late, edge not found`.
fn how(offer: &Offer) -> String {
    let found = found(offer);
    if offer.ready {
        format!("{}, found {}", offer.tier, with(&found))
    } else {
        format!("{}, {found}", offer.tier)
    }
}

fn with(found: &str) -> String {
    if found.starts_with("at once") { found.to_owned() } else { format!("with {found}") }
}

/// `The first turn that differs: A's R in pair 2 (line 10), B's U (line 29), after 13 alike.`
fn first_different(comparison: &Comparison) -> Option<String> {
    let parting = comparison.parting.as_ref()?;
    let of = |which: Which| {
        let (name, side) = (comparison.names.of(which), parting.at.of(which));
        let Some(turn) = &side.written else { return format!("{name} makes no more") };
        let step = side.step.map_or(String::new(), |step| format!(" in {step}"));
        let line = side.line.map_or(String::new(), |line| format!(" (line {line})"));
        // Written alike in two holds it is another turn: then what it is in the shared hold.
        let same = side.written == parting.at.of(which.other()).written;
        let is =
            side.turn.filter(|_| same).map_or(String::new(), |turn| format!(", {turn} in the shared hold,"));
        format!("{name}'s {turn}{is}{step}{line}")
    };
    let alike = match parting.turns {
        0 => String::new(),
        n => format!(", after {n} alike"),
    };
    Some(format!("The first turn that differs: {}, {}{alike}.", of(Which::A), of(Which::B)))
}

fn met(comparison: &Comparison, meeting: &Meeting) -> String {
    let but = meeting
        .free_turn
        .as_ref()
        .map_or(String::new(), |free| format!(", but for {} of the free layer", free.top));
    let spent = |which: Which| {
        let side: &MeetingSide = meeting.at.of(which);
        let time = side.seconds.map_or(String::new(), |seconds| format!(" and {}", measured(seconds)));
        format!("{} {}, {}{time}", comparison.names.of(which), side.place, turns(side.obtm))
    };
    format!("The same position again{but}: {}; {}.", spent(Which::A), spent(Which::B))
}

/// `+1.11`, `-0.20`, `0.00`.
fn signed(difference: f64) -> String {
    if difference.abs() < 0.005 { "0.00".into() } else { format!("{difference:+.2}") }
}

fn table(comparison: &Comparison) -> Table {
    let rows = &comparison.rows;
    let timed =
        rows.iter().any(|row| Which::BOTH.iter().any(|&w| row.of(w).is_some_and(|s| s.seconds.is_some())));
    let split = rows.iter().any(|row| row.difference.is_some_and(|difference| difference.split.is_some()));
    let column = |over: &str, title: &str, may_go: bool| Column {
        title: title.into(),
        over: Some(over.to_owned()).filter(|over| !over.is_empty()),
        figures: true,
        may_go,
    };
    let names = &comparison.names;
    let less = less(comparison);
    let mut columns = vec![Column { title: "".into(), over: None, figures: false, may_go: false }];
    columns.extend([column("turns", &names.a, true), column("turns", &names.b, true)]);
    if timed {
        columns.extend([column("time", &names.a, true), column("time", &names.b, true)]);
    }
    columns.push(column(&less, if timed { "all" } else { "turns" }, false));
    if split {
        columns.extend(["turns", "speed", "stopped"].map(|title| column(&less, title, false)));
    }
    let cells = |name: Phrase, obtm: [String; 2], seconds: [String; 2], difference: Option<Difference>| {
        let mut cells = vec![name];
        cells.extend(obtm.map(Phrase::from));
        if timed {
            cells.extend(seconds.map(Phrase::from));
        }
        let all = difference.map_or(String::new(), |difference| match difference.seconds {
            Some(seconds) if timed => signed(seconds),
            None if !timed => {
                if difference.obtm == 0 {
                    "0".into()
                } else {
                    format!("{:+}", difference.obtm)
                }
            }
            _ => String::new(),
        });
        cells.push(all.into());
        if split {
            let of = difference.and_then(|difference| difference.split);
            let figure =
                |get: fn(&Split) -> f64| of.as_ref().map_or(String::new(), |split| signed(get(split)));
            cells.extend([figure(|s| s.turns), figure(|s| s.speed), figure(|s| s.stopped)].map(Phrase::from));
        }
        cells
    };
    let table_rows = rows
        .iter()
        .map(|row| {
            let side = |which: Which| row.of(which);
            let obtm = Which::BOTH.map(|which| match side(which) {
                Some(_) if row.name == ENDS => String::new(),
                Some(side) => side.obtm.to_string(),
                None => "-".into(),
            });
            let seconds = Which::BOTH.map(|which| {
                side(which)
                    .and_then(|side| side.seconds)
                    .map_or("-".into(), |seconds| format!("{seconds:.2}"))
            });
            cells(row_name(row), obtm, seconds, row.difference)
        })
        .collect();
    let compared = &comparison.compared;
    let name = compared.until.as_ref().map_or(String::new(), |until| format!("up to {until}"));
    let sums = cells(
        name.into(),
        Which::BOTH.map(|which| compared.obtm.of(which).to_string()),
        Which::BOTH
            .map(|which| compared.seconds.of(which).map_or("-".into(), |seconds| format!("{seconds:.2}"))),
        Some(comparison.difference),
    );
    let mut key: Vec<Phrase> = Vec::new();
    if split {
        key.push("turns: each at the mean of both paces".into());
        key.push("speed: the rest of the turning".into());
    }
    Table { columns, rows: table_rows, sums: Some(sums), key }
}

/// `pair 1 blue-red`, `OLL 40, 25`, `pairs 2 to 4`.
fn row_name(row: &Row) -> Phrase {
    let single = |which: Which| match row.of(which).map(|side| side.steps.as_slice()) {
        Some([step]) => Some(step),
        _ => None,
    };
    let name = Phrase::words(row.name.clone());
    let (a, b) = (single(Which::A), single(Which::B));
    if let (Some(a), Some(b)) = (a, b)
        && a.kind == StepKind::Pair
        && a.pairs == b.pairs
        && let [pair] = a.pairs.as_slice()
    {
        return name.and(" ").pair(*pair);
    }
    let mut cases: Vec<String> = Which::BOTH.iter().filter_map(|&which| case(row.of(which))).collect();
    cases.dedup();
    if cases.is_empty() { name } else { name.and(format!(" {}", cases.join(", "))) }
}

//! What `mend` found, for people: what is wrong, how far the record holds, and the best repairs with the text
//! before and after. Also one line a record for many records, and one object a record for programs.

mod lines;

use owo_colors::OwoColorize;

use crate::diagnostic::Source;
use crate::harmless::one_line;
use crate::mend::facts::Mending;
use crate::mend::locate::Located;
use crate::mend::{Examination, Health, Repair, Standing, text, words};
use crate::record::Record;
use crate::steps::{Kind, Solve};

use super::look::{Look, columns, wrap};

/// One record and what was found.
#[derive(Debug, Clone, Copy)]
pub struct Found<'a> {
    /// The text it stands in.
    pub source: &'a Source,
    /// Its number in its file, from 0.
    pub index: usize,
    /// How many records the file has.
    pub of: usize,
    /// The record.
    pub record: &'a Record,
    /// What was found.
    pub examination: &'a Examination,
}

/// The whole report on one record, with at most `shown` repairs; ends with a line feed.
#[must_use]
pub fn render(found: &Found<'_>, shown: usize, look: &Look) -> String {
    let Found { source, record, examination, .. } = *found;
    let palette = &look.palette;
    let mut out = String::new();
    let name = one_line(&source.name);
    let title = record
        .title
        .as_deref()
        .map_or(name.clone(), |title| format!("{name}{}{}", look.dot(), one_line(title)));
    out.push_str(&format!("{}\n", wrap(&title, look.width, 2).style(palette.strong)));
    let mut say = |text: &str, indent: usize| {
        out.push_str(&" ".repeat(indent));
        out.push_str(&wrap(text, look.width, indent));
        out.push('\n');
    };
    let state = state(found);
    say(&format!("{}{}.", state[..1].to_uppercase(), &state[1..]), 2);
    if matches!(examination.health, Health::Sound | Health::Faulty | Health::Unfinished | Health::Empty) {
        return out;
    }
    for line in located(found) {
        say(&line, 2);
    }
    let repairs = &examination.ranked.repairs;
    say(&heading(examination), 2);
    for (i, repair) in repairs.iter().take(shown).enumerate() {
        out.push('\n');
        out.push_str(&one(found, i, repair, look));
    }
    out.push('\n');
    for line in closing(found, shown) {
        out.push_str(&format!("  {}\n", wrap(&line, look.width, 2)));
    }
    out
}

/// One line of JSON, with its line feed, holding at most `shown` repairs.
///
/// # Panics
/// Never: the facts hold nothing that JSON cannot.
#[must_use]
pub fn json(found: &Found<'_>, shown: usize) -> String {
    let Found { source, index, record, examination, .. } = *found;
    let facts = Mending::new(source, index, record, examination, shown);
    super::json::any(&facts)
}

/// One line for a record among many, without the file's name.
#[must_use]
pub fn brief(found: &Found<'_>) -> String {
    let Found { source, record, examination, .. } = *found;
    let first = examination.ranked.repairs.first();
    let first = first.map(|first| one_line(&words::repair(source, record, first)));
    match (examination.standing, first) {
        (Standing::NothingToRepair, _) => match examination.findings.len() {
            0 => String::new(),
            n => remarks(n, examination),
        },
        (Standing::Clear, Some(first)) => first,
        (Standing::Tied, Some(first)) => {
            format!("{} repairs fit about equally; the first: {first}", examination.near)
        }
        (_, Some(first)) => format!("{}; perhaps {first}", state(found)),
        (_, None) => format!("{}; no repair found", state(found)),
    }
}

/// How a record is, in a word or three.
#[must_use]
pub fn health(found: &Found<'_>) -> &'static str {
    match found.examination.health {
        Health::Faulty => "faulty",
        Health::Sound => "sound",
        Health::OneTurnShort => "+2",
        Health::Broken => "broken",
        Health::Unfinished => "part",
        Health::Empty => "empty",
    }
}

/// What looks odd in a record that is sound: the first of it.
fn remarks(n: usize, examination: &Examination) -> String {
    let first = examination.findings.first().map_or("", |finding| finding.message.as_str());
    if n == 1 { first.to_owned() } else { format!("{first} (and {} more)", n - 1) }
}

fn state(found: &Found<'_>) -> String {
    let examination = found.examination;
    let code = |code: &str| examination.findings.iter().any(|finding| finding.code == code);
    match examination.health {
        Health::Faulty => {
            "replays to solved, but has faults that no other turns would mend: correct them by hand".into()
        }
        Health::Sound => "replays to solved: nothing to mend".into(),
        Health::Unfinished => "is unfinished, and all that is written holds: nothing to mend".into(),
        Health::Empty if found.record.solution.tokens.is_empty() => "no turns to mend".into(),
        Health::Empty => "no scramble to hold the turns against".into(),
        Health::OneTurnShort => {
            "ends one turn short: a solve with a penalty, unless that turn was left out".into()
        }
        Health::Broken if code("token-missing") => "has places that the writer could not make out".into(),
        Health::Broken if code("end-unsolved") => "does not end solved".into(),
        Health::Broken => "has tokens that cannot be read".into(),
    }
}

fn located(found: &Found<'_>) -> Vec<String> {
    let Some(located) = &found.examination.located else { return Vec::new() };
    let line = |moment: usize| {
        let token = &found.record.solution.tokens[moment.clamp(1, found.record.solution.tokens.len()) - 1];
        found.source.position(token.span.start).0
    };
    let mut lines = Vec::new();
    if located.holds == 0 {
        lines.push(
            "Nothing holds from the beginning: the fault may be in the scramble or the first step.".into(),
        );
    } else {
        let reached = if located.reached.is_empty() {
            String::new()
        } else {
            format!(": {}", located.reached.iter().map(ToString::to_string).collect::<Vec<_>>().join(", "))
        };
        lines.push(format!("Holds up to token {} (line {}){reached}.", located.holds, line(located.holds)));
    }
    let mut wrong = Vec::new();
    if let Some(claim) = &located.first_broken {
        wrong.push(format!("goes wrong by the comment “{}”", one_line(claim)));
    }
    if let Some(moment) = located.resumes {
        wrong.push(format!(
            "read backwards from a solved cube, holds from token {} (line {}) to the end",
            moment + 1,
            line(moment + 1)
        ));
    }
    if !wrong.is_empty() {
        let text = wrong.join("; ");
        lines.push(format!("{}{}.", text[..1].to_uppercase(), &text[1..]));
    }
    lines
}

fn heading(examination: &Examination) -> String {
    let near = examination.near;
    match examination.standing {
        Standing::NothingToRepair => String::new(),
        Standing::Clear => "One repair is clearly ahead:".into(),
        Standing::Tied if near >= examination.ranked.n_fits => {
            format!("{near} repairs fit about equally well:")
        }
        Standing::Tied => format!("{near} repairs fit about equally well, others less so:"),
        Standing::Doubtful if examination.health == Health::OneTurnShort => {
            "If it is not right as it stands, the likeliest repair is:".into()
        }
        Standing::Doubtful => match words::doubt(examination) {
            words::Doubt::Comment => "The likeliest repair contradicts a comment:".into(),
            words::Doubt::Line => {
                "A line seems to be missing; these turns would fit, worked out and not read:".into()
            }
            words::Doubt::Elsewhere => {
                "The likeliest repair; the comments tell of a line that it does not put back:".into()
            }
            words::Doubt::Scramble => {
                "The likeliest repair; a slip in the scramble would look the same:".into()
            }
        },
        Standing::NotFound => "No repair was found.".into(),
    }
}

fn one(found: &Found<'_>, number: usize, repair: &Repair, look: &Look) -> String {
    let Found { source, index, record, .. } = *found;
    let palette = &look.palette;
    let mut out = String::new();
    let what = one_line(&words::repair(source, record, repair));
    out.push_str(&format!("  {}. {}\n", number + 1, wrap(&what, look.width, 5).style(palette.strong)));
    match text::rewrites(source, index, record, repair) {
        Ok(rewrites) => out.push_str(&lines::before_and_after(&source.text, &rewrites, look)),
        Err(refused) => out.push_str(&format!("     ({refused})\n")),
    }
    let slips: Vec<&str> = repair.changes.iter().map(|change| change.slip.words()).collect();
    let mut why: Vec<String> = vec![slips.join(", and ")];
    let claims = repair.judged.claims.len();
    match (claims, repair.judged.broken_claims()) {
        (0, _) => {}
        (1, 0) => why.push("the comment holds then".into()),
        (n, 0) => why.push(format!("all {n} comments hold then")),
        (n, broken) => why.push(format!("{broken} of {n} comments do not hold then")),
    }
    why.push(steps(&repair.judged.solve, repair));
    let why = format!("why: {}", why.join("; "));
    out.push_str(&format!("     {}\n", wrap(&why, look.width, 10)));
    out
}

/// How long the steps are then: `cross 7, pairs 8 7 7 9, last layer 24 turns`.
fn steps(solve: &Solve, repair: &Repair) -> String {
    let turns = |step: &crate::steps::Step| -> usize {
        let moves = repair.solution.playable().skip(step.from).take(step.to - step.from);
        moves.map(|mv| mv.obtm()).sum()
    };
    let mut parts = Vec::new();
    let of = |kinds: &[Kind]| -> Vec<usize> {
        solve.steps.iter().filter(|step| kinds.contains(&step.kind)).map(turns).collect()
    };
    let joined = |turns: &[usize]| turns.iter().map(ToString::to_string).collect::<Vec<_>>().join(" ");
    let (cross, pairs) = (of(&[Kind::Cross]), of(&[Kind::Pair]));
    if !cross.is_empty() {
        parts.push(format!("cross {}", joined(&cross)));
    }
    if !pairs.is_empty() {
        parts.push(format!("pairs {}", joined(&pairs)));
    }
    let last: usize = of(&[Kind::Orient, Kind::Permute, Kind::LastLayer, Kind::Adjust]).iter().sum();
    if last > 0 {
        parts.push(format!("last layer {last}"));
    }
    if parts.is_empty() {
        return "no steps to tell apart".into();
    }
    let noun = if parts.len() == 1 && last == 1 { "turn" } else { "turns" };
    format!("{} {noun}", parts.join(", "))
}

fn closing(found: &Found<'_>, shown: usize) -> Vec<String> {
    let examination = found.examination;
    let ranked = &examination.ranked;
    let mut lines = Vec::new();
    let n_shown = shown.min(ranked.repairs.len());
    let near = match examination.standing {
        Standing::Tied => examination.near.saturating_sub(n_shown),
        _ => 0,
    };
    if near > 0 {
        let noun = if near == 1 { "repair fits" } else { "repairs fit" };
        lines.push(format!(
            "{near} more {noun} about as well; see them with `--show {}`.",
            (n_shown + near).min(100)
        ));
    }
    let hidden = ranked.n_fits.saturating_sub(n_shown + near);
    if hidden > 0 {
        let fewest = ranked.repairs.first().map_or(0, |first| first.changes.len());
        let as_few = ranked
            .repairs
            .iter()
            .skip(n_shown + near)
            .filter(|repair| repair.changes.len() <= fewest)
            .count();
        let edits = match as_few {
            0 => ", all with more edits".into(),
            n if n == hidden => String::new(),
            n => format!(", {n} of them with no more edits"),
        };
        let noun = if hidden == 1 { "repair fits" } else { "repairs fit" };
        lines.push(format!("{hidden} more {noun}, less likely{edits}."));
    }
    lines.push(searched(examination));
    let all_holds = |located: &Located| {
        located.first_broken.is_none() && located.holds == found.record.solution.tokens.len()
    };
    if examination.standing == Standing::NotFound && examination.located.as_ref().is_some_and(all_holds) {
        lines.push("Everything that is written holds: the record may just break off here.".into());
    }
    if found.source.name != "-" {
        let command = command(found);
        match examination.standing {
            Standing::Clear => lines.push(format!("To apply it: {command}")),
            Standing::Tied | Standing::Doubtful => {
                lines.push(format!("To apply one: {command} --choose 1"));
            }
            Standing::NothingToRepair | Standing::NotFound => {}
        }
    }
    lines
}

/// What to type to have the repair written; the file's name as a shell takes it.
fn command(found: &Found<'_>) -> String {
    let record = if found.of > 1 { format!("#{}", found.index + 1) } else { String::new() };
    let name = format!("{}{record}", one_line(&found.source.name));
    let plain = |c: char| c.is_alphanumeric() || matches!(c, '.' | '/' | '_' | '-' | '+' | ',');
    let name = if name.chars().all(plain) { name } else { format!("'{}'", name.replace('\'', "'\\''")) };
    format!("cornerwise mend --write {name}")
}

fn searched(examination: &Examination) -> String {
    let searched = &examination.searched;
    let tried = grouped(searched.tried);
    let gaps = examination.findings.iter().any(|finding| finding.code == "token-missing");
    if gaps {
        let cut = if searched.cut_short { ", not all there are: the search reached its bounds" } else { "" };
        if searched.tried == 0 {
            return "What is missing was not searched: two `...` are the most, and none in a group.".into();
        }
        return format!("{tried} ways to fill what is missing were tried{cut}.");
    }
    let kinds =
        if searched.three { "one edit, of two, and of three likely ones" } else { "one edit and of two" };
    let lines = if searched.lines { " Lost tokens and lines were looked for, too." } else { "" };
    if searched.cut_short {
        format!("Of the repairs of {kinds}, {tried} were tried: the search reached its bounds.{lines}")
    } else {
        format!("All repairs of {kinds} were tried: {tried}.{lines}")
    }
}

/// A number with its thousands apart.
fn grouped(number: u64) -> String {
    let digits = number.to_string();
    let mut out = String::new();
    for (i, digit) in digits.chars().enumerate() {
        if i > 0 && (digits.len() - i).is_multiple_of(3) {
            out.push(',');
        }
        out.push(digit);
    }
    out
}

/// A table of many records: file and record, how it is, what would be done.
#[must_use]
pub fn table(rows: &[(String, &'static str, String)], look: &Look) -> String {
    let name_width = rows.iter().map(|(name, ..)| columns(name)).max().unwrap_or(0).min(look.width * 2 / 3);
    let mut out = String::new();
    for (name, health, what) in rows {
        let name = one_line(name);
        let gap = name_width.saturating_sub(columns(&name));
        let style = match *health {
            "sound" => look.palette.good,
            "+2" | "part" => look.palette.middling,
            _ => look.palette.bad,
        };
        // Padded outside the style, so that nothing is painted behind the word.
        let word = format!("{health:<6}");
        let indent = name_width + 10;
        let line = format!("{name}{}  {}", " ".repeat(gap), word.style(style));
        if what.is_empty() {
            out.push_str(&format!("{}\n", line.trim_end()));
        } else if indent + 24 <= look.width {
            out.push_str(&format!("{line}  {}\n", wrap(what, look.width, indent)));
        } else {
            out.push_str(&format!("{}\n    {}\n", line.trim_end(), wrap(what, look.width, 4)));
        }
    }
    out
}

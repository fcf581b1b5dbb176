//! The story of a survey: what goes with the stops, what to practise, the clock it rests on.
//!
//! "Goes with", never "because"; the number of solves stands beside every claim.

use super::blocks::{Block, Column, Item, Phrase, Run, Table};
use crate::harmless::one_line;
use crate::survey::Survey;
use crate::survey::facts::{Against, Beside, Choice, Finding, LeftOut, Level, Part, Trend, What, Where, Why};
use crate::survey::stops::{LEAST_FOR_PAIRS, LEAST_SOLVES};
use crate::survey::trend::LEAST_DAYS;

/// At most so many findings get a drill.
const MOST_DRILLS: usize = 3;
/// At most so many records that were left out are named; the rest is in the JSON.
const MOST_NAMED: usize = 12;
/// Of another folder's circumstances so many are shown, besides those that stand out.
const MOST_BESIDE: usize = 12;

/// The blocks of one survey.
#[must_use]
pub fn survey(survey: &Survey) -> Vec<Block> {
    let mut blocks = head(survey);
    blocks.extend(findings(survey));
    blocks.extend(practise(survey));
    blocks.extend(clock(survey));
    blocks.extend(against(survey));
    blocks.extend(closing(survey));
    blocks
}

/// What people call the solver.
#[must_use]
pub fn whose(survey: &Survey) -> String {
    survey.solver.as_deref().map_or_else(|| "no name".into(), one_line)
}

fn solves(n: usize) -> String {
    if n == 1 { "1 solve".into() } else { format!("{n} solves") }
}

/// `50 solves on 8 days, 2026-04-02 to 2026-05-30`.
#[must_use]
pub fn extent(survey: &Survey) -> String {
    let days = match (&survey.first_day, &survey.last_day) {
        (Some(first), Some(last)) if first != last => {
            format!(" on {} days, {first} to {last}", survey.days)
        }
        (Some(first), _) => format!(" on one day, {first}"),
        _ => String::new(),
    };
    format!("{}{days}", solves(survey.solves))
}

fn head(survey: &Survey) -> Vec<Block> {
    let mut words = Phrase::new().run(Run::Strong(whose(survey))).and(format!(" · {}", extent(survey)));
    if !survey.left_out.is_empty() {
        words = words.and(format!(" · {} left out (below)", survey.left_out.len()));
    }
    vec![Block::Title { words, figure: String::new() }]
}

fn column(title: &str, figures: bool, over: Option<&str>) -> Column {
    Column { title: title.into(), over: over.map(str::to_owned), figures, may_go: false }
}

/// What goes with the stops, or why nothing is said.
fn findings(survey: &Survey) -> Vec<Block> {
    let mut blocks = vec![Block::Gap];
    if survey.level == Level::Clock {
        let words = format!(
            "What goes with the stops is not told from {}: it takes {LEAST_SOLVES} with times, so that chance can be told apart.",
            solves(survey.solves)
        );
        blocks.push(Block::Paragraph(words.into()));
        return blocks;
    }
    blocks.push(Block::Heading("What goes with your stops".into()));
    let n = survey.tested.len();
    let pairs = match survey.level {
        Level::Pairs => format!(" and {} pairs of them", survey.pairs_tested),
        _ => String::new(),
    };
    if survey.findings.is_empty() {
        let words = format!(
            "Nothing that stands out from chance: of {n} circumstances{pairs} none goes with more or longer stops in \
             these {} than shuffled stops do.",
            solves(survey.solves)
        );
        blocks.push(Block::Paragraph(words.into()));
    } else {
        blocks.push(Block::Table(findings_table(survey)));
        for (n, finding) in survey.findings.iter().enumerate().filter(|(_, found)| !found.nearly.is_empty()) {
            let others: Vec<&str> = finding.nearly.iter().map(|which| which.circumstance().says).collect();
            let words = format!("{}: much the same steps have: {}.", n + 1, others.join("; "));
            blocks.push(Block::Paragraph(words.into()));
        }
        let these = if survey.findings.len() == 1 { "this one stands" } else { "these stand" };
        let words = format!(
            "Of {n} circumstances{pairs} only {these} out from chance in {}. Chance alone names something in one \
             folder of ten; and \"goes with\" is not \"because\".",
            solves(survey.solves)
        );
        blocks.push(Block::Paragraph(words.into()));
    }
    if survey.level == Level::Singles {
        let words = format!("Pairs of circumstances are tested from {LEAST_FOR_PAIRS} solves on.");
        blocks.push(Block::Paragraph(Phrase::new().run(Run::Dim(words))));
    }
    blocks
}

fn findings_table(survey: &Survey) -> Table {
    let columns = vec![
        column("#", false, None),
        column("circumstance", false, None),
        column("at least", true, Some("won back")),
        column("solves", true, None),
        column("steps", true, None),
        column("with", true, Some("mean stop")),
        column("without", true, None),
    ];
    let row = |(n, finding): (usize, &Finding)| {
        vec![
            Phrase::words((n + 1).to_string()),
            Phrase::words(&finding.says),
            Phrase::words(format!("{:.2} s", finding.won.at_least)),
            Phrase::words(finding.solves.to_string()),
            Phrase::words(finding.steps.to_string()),
            Phrase::words(format!("{:.2}", finding.with)),
            Phrase::words(format!("{:.2}", finding.without)),
        ]
    };
    let key = "won back: a solve, if you stopped there as you do elsewhere in the same solves";
    Table {
        columns,
        rows: survey.findings.iter().enumerate().map(row).collect(),
        sums: None,
        key: vec![key.into()],
    }
}

/// A command that can be copied.
fn command(survey: &Survey, rest: &str) -> String {
    let quoted = |name: &String| {
        let plain = |c: char| c.is_ascii_alphanumeric() || "/._-#".contains(c);
        let name = one_line(name);
        if name.chars().all(plain) { name } else { format!("'{}'", name.replace('\'', "'\\''")) }
    };
    let mut words = vec!["cornerwise survey".to_owned()];
    words.extend(survey.inputs.iter().map(quoted));
    if let Some(solver) =
        survey.solver.as_ref().filter(|_| survey.inputs.len() > 1 || !survey.others.is_empty())
    {
        words.push(format!("--solver {}", quoted(solver)));
    }
    words.push(rest.to_owned());
    words.join(" ")
}

/// The drills that make the first findings to order.
fn practise(survey: &Survey) -> Vec<Block> {
    let drills = survey.findings.iter().enumerate().take(MOST_DRILLS);
    let items: Vec<Item> = drills
        .map(|(n, finding)| {
            let words = match &finding.drill {
                Some(drill) => Phrase::new().turns(format!("cornerwise drill {drill}")),
                None => "no drill makes this to order; look at where it happened".into(),
            };
            Item { figure: (n + 1).to_string(), words, moment: None }
        })
        .collect();
    if items.is_empty() {
        return Vec::new();
    }
    let command = Phrase::words("where it happened: ").turns(command(survey, "--list 1"));
    vec![
        Block::Gap,
        Block::Heading("What to practise".into()),
        Block::Items(items),
        Block::Paragraph(command),
    ]
}

/// What people call a part of the time.
#[must_use]
pub const fn part(part: Part) -> &'static str {
    match part {
        Part::Time => "time",
        Part::Turning => "turning",
        Part::Stopped => "stopped",
        Part::BeforePair1 => "before pair 1",
        Part::BeforePair2 => "before pair 2",
        Part::BeforePair3 => "before pair 3",
        Part::BeforePair4 => "before pair 4",
        Part::Inside => "inside steps",
        Part::BeforeOll => "before OLL",
        Part::BeforePll => "before PLL and AUF",
        Part::Short => "short gaps",
        Part::Turns => "turns",
        Part::TurnsPerSecond => "turns a second",
    }
}

fn clock(survey: &Survey) -> Vec<Block> {
    if survey.clock.is_empty() {
        return Vec::new();
    }
    let columns = vec![
        column("Seconds a solve", false, None),
        column("mean", true, None),
        column("80 % interval", true, None),
        column("middle half", true, None),
    ];
    // What never happened gets no row.
    let rows = survey.clock.iter().filter(|figure| figure.mean > 0.0).map(|figure| {
        let digits = if figure.part.in_seconds() { 2 } else { 1 };
        let range = |from: f64, to: f64| Phrase::words(format!("{from:.digits$} - {to:>5.digits$}"));
        let indent = if figure.part.of_stopped() { "  " } else { "" };
        vec![
            Phrase::words(format!("{indent}{}", part(figure.part))),
            Phrase::words(format!("{:.digits$}", figure.mean)),
            range(figure.low, figure.high),
            range(figure.lower_quarter, figure.upper_quarter),
        ]
    });
    let table = Table { columns, rows: rows.collect(), sums: None, key: Vec::new() };
    let mut blocks = vec![Block::Gap, Block::Table(table)];
    if survey.accounted < survey.solves {
        let words = match survey.accounted {
            0 => "No solve has its first and last turn of every step marked, so where the time went is not told.".into(),
            n => format!("These are the figures of the {n} solves that are marked throughout, of {}.", survey.solves),
        };
        blocks.push(Block::Paragraph(words.into()));
    }
    blocks.extend(trends(survey).into_iter().map(|words| Block::Paragraph(words.into())));
    blocks
}

/// How often in a hundred shuffles.
fn in_a_hundred(p: f64) -> String {
    match (p * 100.0).round() as u32 {
        0 => "less than once in 100".into(),
        1 => "once in 100".into(),
        n => format!("{n} times in 100"),
    }
}

fn trends(survey: &Survey) -> Vec<String> {
    let Some(trend) = survey.trend else {
        let few = survey.level != Level::Clock && survey.days > 0;
        return if few { vec![format!("A trend is told from {LEAST_DAYS} days on.")] } else { Vec::new() };
    };
    let told = |what: &str, trend: Trend| {
        let slope = trend.slope;
        let days = if slope.days == 1 { "day".into() } else { format!("{} days", slope.days) };
        let stands = if trend.stands_out { "" } else { ", so it may be chance" };
        let often = in_a_hundred(slope.p);
        format!(
            "{what} {:.2} s on the first {days}, {:.2} s on the last; shuffled days differ as much {often}{stands}.",
            slope.first, slope.last
        )
    };
    let mut all = vec![told("Trend: stopped", trend)];
    for (n, finding) in survey.findings.iter().enumerate() {
        if let Some(trend) = finding.trend.filter(|trend| trend.stands_out) {
            all.push(told(&format!("Trend of {}: longer by", n + 1), trend));
        }
    }
    all
}

/// What another folder has, beside one's own.
fn against(survey: &Survey) -> Vec<Block> {
    let Some(against) = &survey.against else { return Vec::new() };
    let name = against.solver.as_deref().map_or_else(|| "the others".into(), one_line);
    let mut heading = format!("Beside {name}: {}", solves(against.solves));
    if against.untimed > 0 {
        heading.push_str(&format!(" with times, {} without", against.untimed));
    }
    let mut blocks = vec![Block::Gap, Block::Heading(heading)];
    let table = |title: &str, rows: Vec<&Beside>| {
        let stars = rows.iter().any(|beside| beside.stands_out);
        let columns = vec![
            column(title, false, None),
            column("yours", true, None),
            column("theirs", true, None),
            column("difference", true, None),
            column("80 % interval", true, None),
            column("*", false, None),
        ];
        // Where there is no star there is no column for them.
        let n = columns.len() - usize::from(!stars);
        Block::Table(Table {
            columns: columns.into_iter().take(n).collect(),
            rows: rows.into_iter().map(|row| beside(row).into_iter().take(n).collect()).collect(),
            sums: None,
            key: Vec::new(),
        })
    };
    blocks.push(table("a solve", against.clock.iter().chain(&against.choices).collect()));
    blocks.push(Block::Gap);
    blocks.push(table("share of pair steps", shown(against)));
    let n = against.circumstances.len();
    let mut told = against.clock.iter().chain(&against.choices).chain(&against.circumstances);
    let any = told.any(|beside| beside.stands_out);
    let star = if any {
        "* stands out: solves shuffled between the two seldom differ as much. Of the"
    } else {
        "Nothing stands out: solves shuffled between the two differ as much. Of the"
    };
    let words = format!(
        "{star} {n} circumstances that can be compared, those that stand out are shown, and the next in order."
    );
    blocks.push(Block::Paragraph(Phrase::new().run(Run::Dim(words))));
    blocks
}

/// The circumstances that stand out, then the others, each by how little chance there is in it.
fn shown(against: &Against) -> Vec<&Beside> {
    let mut all: Vec<&Beside> = against.circumstances.iter().collect();
    all.sort_by(|a, b| a.p.total_cmp(&b.p));
    let n = all.iter().filter(|beside| beside.stands_out).count();
    all.truncate(n.max(MOST_BESIDE));
    all
}

fn beside(beside: &Beside) -> Vec<Phrase> {
    let (says, share) = match beside.what {
        What::Clock(one) => (part(one), false),
        What::Choice(Choice::Kept) => ("kept ready, where that was to be had", true),
        What::Choice(Choice::Forced) => ("forced: nothing left a pair ready", true),
        What::Choice(Choice::Cost) => ("cost of a pair step, in units", false),
        What::Choice(Choice::Over) => ("units a solve over cheaper ways", false),
        What::Circumstance(which) => (which.circumstance().says, true),
    };
    let figure = |x: f64| if share { format!("{:.0} %", x * 100.0) } else { format!("{x:.2}") };
    // What rounds to nothing has no sign.
    let signed = |x: f64| {
        let figure = if share { format!("{:+}", (x * 100.0).round() as i64) } else { format!("{x:+.2}") };
        if figure.chars().any(|c| matches!(c, '1'..='9')) { figure } else { figure.replace(['+', '-'], "") }
    };
    [
        says.to_owned(),
        figure(beside.own),
        figure(beside.other),
        signed(beside.own - beside.other),
        format!("{} to {:>5}", signed(beside.low), signed(beside.high)),
        if beside.stands_out { "*".into() } else { String::new() },
    ]
    .map(Phrase::words)
    .into()
}

/// Why a record was left out.
#[must_use]
pub const fn why(why: Why) -> &'static str {
    match why {
        Why::Fault => "has a fault",
        Why::NotSolved => "not solved",
        Why::NotCrossFirst => "no pairs to tell",
        Why::NoTimes => "too few times",
        Why::Twice => "the same solve again",
        Why::NoDate => "no date",
        Why::Earlier => "earlier",
    }
}

/// What was left out, and who has too few solves.
fn closing(survey: &Survey) -> Vec<Block> {
    let mut blocks = Vec::new();
    if !survey.left_out.is_empty() {
        let named = |out: &LeftOut| format!("{}#{} ({})", one_line(&out.file), out.record, why(out.why));
        let mut names: Vec<String> = survey.left_out.iter().take(MOST_NAMED).map(named).collect();
        if survey.left_out.len() > MOST_NAMED {
            let mut counts: Vec<(Why, usize)> = Vec::new();
            for out in &survey.left_out[MOST_NAMED..] {
                match counts.iter_mut().find(|(reason, _)| *reason == out.why) {
                    Some((_, n)) => *n += 1,
                    None => counts.push((out.why, 1)),
                }
            }
            names.extend(counts.into_iter().map(|(reason, n)| format!("{n} more ({})", why(reason))));
        }
        blocks.push(Block::Paragraph(format!("left out: {}", names.join(", ")).into()));
    }
    if !survey.others.is_empty() {
        let named = |other: &crate::survey::facts::Other| {
            let name = other.solver.as_deref().map_or_else(|| "no name".into(), one_line);
            format!("{name} ({})", other.solves)
        };
        let names: Vec<String> = survey.others.iter().map(named).collect();
        let words = format!("fewer than {LEAST_SOLVES} timed solves, so left out: {}", names.join(", "));
        blocks.push(Block::Paragraph(words.into()));
    }
    blocks
}

/// Where finding `n`, from 1, happened; `None` if there is no such finding.
#[must_use]
pub fn list(survey: &Survey, n: usize) -> Option<Vec<Block>> {
    let finding = survey.findings.get(n.checked_sub(1)?)?;
    let words = Phrase::new().run(Run::Strong(format!("{n}  {}", finding.says))).and(format!(
        " · {} steps in {}",
        finding.steps,
        solves(finding.solves)
    ));
    let row = |place: &Where| {
        let name = format!("{}#{}", one_line(&place.file), place.record);
        let title = place.title.as_deref().map(one_line).unwrap_or_default();
        [format!("{:.2} s", place.stop), format!("before {}", place.step), name, title]
            .map(Phrase::words)
            .into()
    };
    let columns = vec![
        column("stop", true, None),
        column("where", false, None),
        column("record", false, None),
        Column { may_go: true, ..column("title", false, None) },
    ];
    let stopped = finding.moments.len();
    let told = match finding.steps - stopped {
        _ if stopped == 100 => "the 100 longest stops of these steps".into(),
        0 => "all of these steps".into(),
        n => format!("the other {n} of these steps had no stop"),
    };
    let rows = finding.moments.iter().map(row).collect();
    Some(vec![
        Block::Title { words, figure: String::new() },
        Block::Table(Table { columns, rows, sums: None, key: vec![Phrase::words(told)] }),
    ])
}

/// Day by day.
#[must_use]
pub fn by_day(survey: &Survey) -> Vec<Block> {
    let columns = vec![
        column("day", false, None),
        column("solves", true, None),
        column("time", true, None),
        column("stopped", true, None),
    ];
    let row = |day: &crate::survey::facts::Day| {
        let stopped = day.stopped.map_or_else(|| "-".into(), |stopped| format!("{stopped:.2}"));
        [day.date.clone(), day.solves.to_string(), format!("{:.2}", day.seconds), stopped]
            .map(Phrase::words)
            .into()
    };
    let table = Table { columns, rows: survey.by_day.iter().map(row).collect(), sums: None, key: Vec::new() };
    let mut blocks = head(survey);
    blocks.push(Block::Gap);
    blocks.push(Block::Table(table));
    blocks.extend(trends(survey).into_iter().map(|words| Block::Paragraph(words.into())));
    blocks
}

/// Solver by solver.
#[must_use]
pub fn by_solver(surveys: &[Survey]) -> Vec<Block> {
    let columns = vec![
        column("solver", false, None),
        column("solves", true, None),
        column("time", true, None),
        column("80 % interval", true, None),
        column("turning", true, None),
        column("stopped", true, None),
    ];
    let row = |survey: &Survey| {
        let of = |part: Part| survey.clock.iter().find(|figure| figure.part == part);
        let mean = |part: Part| of(part).map_or_else(|| "-".into(), |figure| format!("{:.2}", figure.mean));
        let range =
            of(Part::Time).map_or_else(|| "-".into(), |time| format!("{:.2} - {:>5.2}", time.low, time.high));
        [
            whose(survey),
            survey.solves.to_string(),
            mean(Part::Time),
            range,
            mean(Part::Turning),
            mean(Part::Stopped),
        ]
        .map(Phrase::words)
        .into()
    };
    vec![Block::Table(Table {
        columns,
        rows: surveys.iter().map(row).collect(),
        sums: None,
        key: Vec::new(),
    })]
}

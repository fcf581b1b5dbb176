//! The page of a survey: what goes with the stops, with intervals; stopped time over time; every solve in small.
//!
//! Plots are pictures of facts that stand as figures in the tables beside them, and need no script. Every dot and every
//! solve in small leads to the solve's page, where there is one.

use super::document;
use super::{blocks, heading};
use crate::harmless::one_line;
use crate::report::figures;
use crate::report::markup::Markup;
use crate::steps::Name;
use crate::story::blocks::Block;
use crate::story::survey as story;
use crate::survey::Survey;
use crate::survey::facts::{Finding, Point};

/// The name of a solve's page: the `n`-th of all, from 1.
#[must_use]
pub fn page_name(n: usize, point: &Point) -> String {
    let what = match point.title.as_deref() {
        Some(title) => title.to_owned(),
        None => format!("{} {}", point.file.rsplit('/').next().unwrap_or_default(), point.record),
    };
    format!("{n:03}-{}.html", figures::slug(&what))
}

/// So many solves are drawn in small: the last ones.
const MOST_STRIPS: usize = 120;

/// One page of all of these.
#[must_use]
pub fn page(surveys: &[Survey]) -> String {
    let title = match surveys {
        [one] => format!("{}: {}", story::whose(one), story::extent(one)),
        many => format!("{} solvers", many.len()),
    };
    document(&title, |out| {
        out.open("header").open("h1").open("bdi").text(&title).close().close().close().line();
        out.open("main");
        for survey in surveys {
            one(out, survey, surveys.len() > 1);
        }
        out.close().line();
        out.open("footer").leaf(
            "p",
            "Only what stands out from chance is named; \u{201c}goes with\u{201d} is not \u{201c}because\u{201d}. \
             Look-ahead is trained by hours of repetition: pause often, and stop when hands or wrists ache.",
        );
        out.close();
    })
}

fn one(out: &mut Markup, survey: &Survey, named: bool) {
    out.open("section");
    if named {
        out.open(heading(2)).open("bdi").text(story::whose(survey)).close().close();
    }
    let told = story::survey(survey);
    let mut plotted = false;
    for block in told {
        match &block {
            // The page's own heading says it, where there is one solver.
            Block::Title { .. } if !named => {}
            Block::Title { words, .. } => {
                out.open("p").attr("class", "soft");
                blocks::inline(out, words);
                out.close().line();
            }
            _ => blocks::block(out, &block, 2),
        }
        // Behind the table of what was found, before the words on it.
        if !plotted && matches!(block, Block::Table(_)) && !survey.findings.is_empty() {
            BOTH.iter().for_each(|&paper| findings(out, &survey.findings, paper));
            plotted = true;
        }
    }
    over_time(out, survey);
    strips(out, survey);
    for (n, finding) in survey.findings.iter().enumerate() {
        moments(out, survey, n + 1, finding);
    }
    all_solves(out, survey);
    out.close().line();
}

/// A plot is drawn twice, for a desk and for a phone; the style shows the one that fits.
#[derive(Clone, Copy, PartialEq)]
enum Paper {
    Wide,
    Narrow,
}

const BOTH: [Paper; 2] = [Paper::Wide, Paper::Narrow];

impl Paper {
    const fn width(self) -> f64 {
        if matches!(self, Paper::Wide) { 900.0 } else { 380.0 }
    }
}

/// Begins a picture with a description for those who do not see it.
fn picture(out: &mut Markup, paper: Paper, height: f64, says: &str) {
    let width = paper.width();
    let (class, least) = if paper == Paper::Wide { ("lanes-wide", "44rem") } else { ("lanes-narrow", "0") };
    out.open("figure")
        .attr("class", class)
        .open("div")
        .attr("class", "scroll")
        .attr("tabindex", 0)
        .attr("role", "region");
    out.attr("aria-label", says);
    out.open("svg")
        .attr("viewBox", format_args!("0 0 {width:.0} {height:.0}"))
        .attr("role", "img")
        .attr("aria-label", says)
        .attr(
            "style",
            format_args!("min-width:{least};max-width:60rem;font:14px system-ui,sans-serif;fill:var(--ink)"),
        );
}

fn caption(out: &mut Markup, words: &str) {
    out.close().close().leaf("figcaption", words).close().line();
}

fn line(out: &mut Markup, from: (f64, f64), to: (f64, f64), style: &'static str) {
    out.open("line")
        .num("x1", from.0)
        .num("y1", from.1)
        .num("x2", to.0)
        .num("y2", to.1)
        .attr("style", style)
        .empty();
}

fn text(out: &mut Markup, at: (f64, f64), anchor: &'static str, words: impl std::fmt::Display) {
    out.open("text").num("x", at.0).num("y", at.1).attr("text-anchor", anchor).text(words).close();
}

const THIN: &str = "stroke:var(--line);stroke-width:1";
const THICK: &str = "stroke:var(--v);stroke-width:6;stroke-linecap:round";

/// Round figures along an axis, at most six, and the end of the axis.
fn ticks(most: f64) -> (Vec<f64>, f64) {
    let steps = [0.05, 0.1, 0.2, 0.25, 0.5, 1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0, 500.0, 3600.0];
    let step = steps.into_iter().find(|step| most / step <= 6.0).unwrap_or(most);
    let n = (most / step).ceil().max(1.0);
    ((0..=n as usize).map(|k| k as f64 * step).collect(), n * step)
}

/// What each finding would win back, with its interval.
fn findings(out: &mut Markup, findings: &[Finding], paper: Paper) {
    // On a phone the words stand above their bar.
    let (left, row, above) = if paper == Paper::Wide { (330.0, 34.0, 0.0) } else { (20.0, 52.0, 20.0) };
    let right = paper.width() - 30.0;
    let height = findings.len() as f64 * row + 40.0;
    let most = findings.iter().map(|finding| finding.won.high).fold(0.1, f64::max);
    let (marks, end) = ticks(most);
    let x = |seconds: f64| left + (seconds.max(0.0) / end) * (right - left);
    picture(out, paper, height, "seconds a solve that each finding would win back, with intervals");
    for mark in marks {
        line(out, (x(mark), 0.0), (x(mark), height - 24.0), THIN);
        text(out, (x(mark), height - 6.0), "middle", format_args!("{mark:.2} s"));
    }
    for (n, finding) in findings.iter().enumerate() {
        let y = n as f64 * row + 20.0 + above;
        let words = if above > 0.0 { y - 16.0 } else { y + 5.0 };
        text(out, (0.0, words), "start", format_args!("{}  {}", n + 1, short(&finding.says)));
        line(out, (x(finding.won.low), y), (x(finding.won.high), y), THICK);
        out.open("circle").num("cx", x(finding.won.about)).num("cy", y).attr("r", 6);
        out.attr("style", "fill:var(--ink)").open("title");
        out.text(format_args!(
            "about {:.2} s a solve, {:.2} to {:.2}, at least {:.2}",
            finding.won.about, finding.won.low, finding.won.high, finding.won.at_least
        ));
        out.close().close();
    }
    caption(
        out,
        "Seconds a solve that would be won back: the dot is the estimate, the bar its 80 % interval.",
    );
}

/// As much of a text as a plot has room for.
fn short(text: &str) -> String {
    let mut out: String = text.chars().take(42).collect();
    if text.chars().count() > 42 {
        out.push('\u{2026}');
    }
    out
}

/// A link round what `draw` draws, if the solve has a page.
fn linked(out: &mut Markup, point: &Point, draw: impl FnOnce(&mut Markup)) {
    match &point.page {
        Some(page) => {
            out.open("a").attr("href", page).attr("aria-label", name(point));
            draw(out);
            out.close();
        }
        None => draw(out),
    }
}

/// What to call a solve.
fn name(point: &Point) -> String {
    match point.title.as_deref().map(one_line) {
        Some(title) if !title.is_empty() => title,
        _ => one_line(&format!("{}#{}", point.file, point.record)),
    }
}

/// Stopped time of each solve, in order; days parted by lines.
fn over_time(out: &mut Markup, survey: &Survey) {
    let points: Vec<(&Point, f64)> =
        survey.timeline.iter().filter_map(|point| Some((point, point.stopped?))).collect();
    if points.len() < 2 {
        return;
    }
    out.leaf(heading(2), "Stopped time over time");
    BOTH.iter().for_each(|&paper| stopped_of(out, &points, paper));
}

fn stopped_of(out: &mut Markup, points: &[(&Point, f64)], paper: Paper) {
    let (left, right, top, bottom) = (60.0, paper.width() - 20.0, 10.0, 230.0);
    let most = points.iter().map(|point| point.1).fold(0.5, f64::max);
    let (marks, end) = ticks(most);
    let x = |n: usize| left + 10.0 + n as f64 / (points.len() - 1) as f64 * (right - left - 20.0);
    let y = |seconds: f64| bottom - seconds / end * (bottom - top);
    picture(
        out,
        paper,
        265.0,
        "stopped seconds of every solve, by date; the figures stand in the table of all solves",
    );
    for mark in marks {
        line(out, (left, y(mark)), (right, y(mark)), THIN);
        text(out, (left - 8.0, y(mark) + 5.0), "end", format_args!("{mark:.1} s"));
    }
    let mut last_label = f64::MIN;
    for (n, (point, seconds)) in points.iter().enumerate() {
        let date = point.date.as_deref();
        if n == 0 || points[n - 1].0.date.as_deref() != date {
            let at = if n == 0 { left } else { f64::midpoint(x(n - 1), x(n)) };
            line(out, (at, top), (at, bottom + 6.0), THIN);
            if at - last_label > 80.0 {
                text(out, (at + 3.0, bottom + 22.0), "start", date.unwrap_or("no date"));
                last_label = at;
            }
        }
        linked(out, point, |out| {
            out.open("circle").num("cx", x(n)).num("cy", y(*seconds)).attr("r", 5);
            out.attr("style", "fill:var(--v)").open("title");
            out.text(format_args!("{}: stopped {seconds:.2} of {:.2} s", name(point), point.seconds));
            out.close().close();
        });
    }
    let leads =
        if points.iter().any(|point| point.0.page.is_some()) { " Each leads to its page." } else { "" };
    caption(out, &format!("A dot is a solve, in order of date.{leads}"));
}

/// Every solve along the clock: a bar a step, what stands open between bars is the hands not turning.
fn strips(out: &mut Markup, survey: &Survey) {
    let from = survey.timeline.len().saturating_sub(MOST_STRIPS);
    let points: Vec<&Point> =
        survey.timeline[from..].iter().filter(|point| !point.strip.is_empty()).collect();
    if points.is_empty() {
        return;
    }
    out.leaf(heading(2), "Every solve in small");
    BOTH.iter().for_each(|&paper| strips_of(out, &points, from, paper));
}

fn strips_of(out: &mut Markup, points: &[&Point], from: usize, paper: Paper) {
    let (left, right, row) = (100.0, paper.width() - 22.0, 13.0);
    let most = points.iter().flat_map(|point| &point.strip).map(|strip| strip.end).fold(1.0, f64::max);
    let (marks, end) = ticks(most);
    let x = |seconds: f64| left + seconds.max(0.0) / end * (right - left);
    let height = points.len() as f64 * row + 30.0;
    picture(out, paper, height, "every solve along the clock, a bar a step; the gaps are stops");
    for mark in marks {
        line(out, (x(mark), 0.0), (x(mark), height - 24.0), THIN);
        text(out, (x(mark), height - 8.0), "middle", format_args!("{mark:.0} s"));
    }
    let mut date = None;
    for (n, &point) in points.iter().enumerate() {
        let y = n as f64 * row + 2.0;
        if date != Some(point.date.as_deref()) {
            date = Some(point.date.as_deref());
            text(out, (0.0, y + 10.0), "start", point.date.as_deref().unwrap_or("no date"));
        }
        linked(out, point, |out| {
            out.open("g").open("title").text(format_args!("{}, {:.2} s", name(point), point.seconds)).close();
            for strip in &point.strip {
                let style = match strip.step {
                    Name::Pairs { .. } => "fill:var(--v)",
                    _ => "fill:var(--low)",
                };
                out.open("rect").num("x", x(strip.turns)).num("y", y);
                out.num("width", (x(strip.end) - x(strip.turns)).max(0.5)).num("height", row - 3.0);
                out.attr("style", style).empty();
            }
            out.close();
        });
    }
    let shown = if from > 0 { format!(" The last {MOST_STRIPS}.") } else { String::new() };
    caption(
        out,
        &format!(
            "A row is a solve, along the clock: pairs in colour, cross and last layer grey, stops open.{shown}"
        ),
    );
}

/// Where a finding happened.
fn moments(out: &mut Markup, survey: &Survey, n: usize, finding: &Finding) {
    if finding.moments.is_empty() {
        return;
    }
    out.open("details");
    out.leaf("summary", format_args!("Where {n} happened: {}", finding.says));
    out.open("ol");
    for moment in &finding.moments {
        out.open("li").text(format_args!("{:.2} s before {}, ", moment.stop, moment.step));
        let point = survey.timeline.get(moment.point);
        match point.and_then(|point| Some((point, point.page.as_ref()?))) {
            Some((point, page)) => {
                out.open("a").attr("href", page).open("bdi").text(name(point)).close().close();
            }
            None => {
                let name = one_line(&format!("{}#{}", moment.file, moment.record));
                out.open("bdi").text(name).close();
            }
        }
        out.close();
    }
    out.close().close().line();
}

/// The figures of the plots.
fn all_solves(out: &mut Markup, survey: &Survey) {
    if survey.timeline.is_empty() {
        return;
    }
    out.open("details").leaf("summary", "All solves, with their figures");
    out.open("table").open("thead").open("tr");
    for title in ["solve", "date", "seconds", "stopped"] {
        out.open("th").attr("scope", "col").text(title).close();
    }
    out.close().close().open("tbody");
    for point in &survey.timeline {
        out.open("tr").open("th").attr("scope", "row");
        linked(out, point, |out| {
            out.open("bdi").text(name(point)).close();
        });
        out.close();
        out.leaf("td", point.date.as_deref().unwrap_or(""));
        out.leaf("td", format_args!("{:.2}", point.seconds));
        out.leaf("td", point.stopped.map_or_else(String::new, |stopped| format!("{stopped:.2}")));
        out.close();
    }
    out.close().close().close().line();
}

//! The lanes: look-ahead over a whole solve in one picture.
//!
//! One lane for each pair, from the scramble to its insertion, along the clock (or the count of tokens). It is a ribbon
//! cut at the stops: where the hands stand there is no ribbon, so stopped time is bare paper and its width is its
//! price; there only the pieces being looked for go on, dotted.
//!
//! | sign | meaning |
//! |---|---|
//! | the upper strand of a lane, the lower one | the corner, the edge |
//! | height of a strand: high, middle, low | the piece is in the top layer, in the slot being filled, in another slot |
//! | thick; two thin lines; dots | open to sight; found, not open (deduced or followed); not found |
//! | tinted box | where the eyes belong: the step during which this pair should be found, because it comes next |
//! | dashed box | the pair that lay ready instead |
//! | ring | found for the first time in this step |
//! | line with two ends below the strands | the lead: turns to go when both are found |
//! | bar at the end of a lane | the pair is in |
//! | ticked line under a lane | the other line, at this solver's pace, from where it could have begun |
//! | axis drawn in dashes | no marks: the turns are spread evenly there |

mod signs;
mod strands;

use std::fmt::Write as _;

use crate::annotation::{Alternative, Annotation, Step, StepKind, Stop};
use crate::cube::PairName;

use super::axis::Axis;
use super::markdown::better;
use super::markup::{Fragment, Markup, Number};
use super::picture::paint;
use super::words;

/// The signs' look, for pictures and pages.
pub(super) const STYLE: &str = include_str!("lanes.css");

/// How to draw the lanes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Width {
    /// 1500 units: a broad screen.
    Broad,
    /// 960 units: a desk's screen, or paper.
    Wide,
    /// 372 units: a phone.
    Narrow,
}

/// Where things lie.
struct Sheet<'a> {
    annotation: &'a Annotation,
    axis: Axis,
    /// Where the axis ends, in its unit: at the end of the solve or of a longer one it is compared with.
    end: f64,
    start: f64,
    narrow: bool,
    width: f64,
    /// Where the axis begins and ends.
    left: f64,
    right: f64,
    top: f64,
    pitch: f64,
    bottom: f64,
    /// Whether what the signs mean is written below.
    legend: bool,
}

/// The height of a lane: both strands and the lead below them.
const LANE: f64 = 43.0;

/// What several sheets must share for a second of one to be as long as a second of another.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Scale {
    /// Whether the unit is the second; else it is the token.
    pub timed: bool,
    /// Where the axis begins.
    pub start: f64,
    /// Where the axis ends.
    pub end: f64,
}

impl Scale {
    /// The scale on which all of these solves fit: the clock's if all of them are timed.
    #[must_use]
    pub fn of(annotations: &[&Annotation]) -> Scale {
        let timed = annotations.iter().all(|annotation| Axis::of(annotation).timed);
        let axes: Vec<Axis> = annotations
            .iter()
            .map(|annotation| if timed { Axis::of(annotation) } else { Axis::by_count(annotation) })
            .collect();
        let end = axes.iter().map(Axis::end).fold(0.0, f64::max);
        Scale { timed, start: axes.iter().map(Axis::start).fold(0.0, f64::min), end }
    }
}

/// Draws the lanes as a picture that stands alone.
#[must_use]
pub fn svg(annotation: &Annotation, width: Width) -> Fragment {
    Sheet::new(annotation, width, Scale::of(&[annotation])).draw(true)
}

/// The same on a scale shared with other solves; what the signs mean is said where `last` is, for all of them.
#[must_use]
pub fn on_scale(annotation: &Annotation, width: Width, scale: Scale, last: bool) -> Fragment {
    Sheet { legend: last, ..Sheet::new(annotation, width, scale) }.draw(true)
}

/// For a page with a cursor that has the style of the signs already.
pub(super) fn with_cursor(annotation: &Annotation, width: Width) -> Fragment {
    Sheet::new(annotation, width, Scale::of(&[annotation])).draw(false)
}

/// The solve as one strip, for an index: the steps as bars, the stops the bare paper between them, underlined.
#[must_use]
pub fn tiny(annotation: &Annotation) -> Fragment {
    let axis = Axis::of(annotation);
    let (width, end) = (220.0, axis.end().max(1e-9));
    let x = |at: f64| at.max(0.0) / end * width;
    let mut out = Markup::new();
    out.open("svg")
        .attr("class", "strip")
        .attr("viewBox", format_args!("0 0 {width} 18"))
        .attr("aria-hidden", "true");
    for step in annotation.steps.iter().filter(|step| step.obtm > 0) {
        let (from, to) = (x(axis.left[step.from]), x(axis.reached[step.to]));
        out.open("rect").attr("class", if step.pairs.is_empty() { "ln-open" } else { "ln-open ln-hand" });
        out.num("x", from).attr("y", 3).num("width", (to - from - 0.6).max(0.4)).attr("height", 8).empty();
        for stop in step.stops.iter().filter(|_| axis.timed) {
            let from = axis.reached[stop.moment];
            out.open("rect").attr("class", "ln-fill").num("x", x(from)).attr("y", 13);
            out.num("width", x(from + stop.seconds) - x(from)).attr("height", 3).empty();
        }
    }
    out.close();
    out.finish()
}

impl<'a> Sheet<'a> {
    fn new(annotation: &'a Annotation, width: Width, scale: Scale) -> Sheet<'a> {
        let narrow = width == Width::Narrow;
        let (width, left, right) = match width {
            Width::Broad => (1500.0, 190.0, 14.0),
            Width::Wide => (960.0, 178.0, 14.0),
            Width::Narrow => (372.0, 6.0, 10.0),
        };
        let (top, pitch) = if narrow { (40.0, LANE + 19.0) } else { (40.0, LANE + 5.0) };
        // Without lanes there are still steps and stops to show.
        let bottom = top + (pitch * annotation.lanes.len() as f64).max(24.0);
        Sheet {
            annotation,
            axis: if scale.timed { Axis::of(annotation) } else { Axis::by_count(annotation) },
            end: scale.end,
            start: scale.start,
            narrow,
            width,
            left,
            right: width - right,
            top,
            pitch,
            bottom,
            legend: true,
        }
    }

    fn draw(&self, alone: bool) -> Fragment {
        let height = self.bottom + 30.0 + if self.legend { signs::height(self.narrow) } else { 0.0 };
        let mut out = Markup::new();
        out.open("svg").attr("xmlns", "http://www.w3.org/2000/svg").attr("class", "lanes");
        out.num("width", self.width).num("height", height);
        out.attr("viewBox", format_args!("0 0 {} {}", Number(self.width), Number(height)));
        out.attr("role", "img").attr("font-family", "sans-serif").attr("font-size", 12);
        if !alone {
            out.num("data-left", self.left).num("data-right", self.right);
            out.attr("data-start", self.start).attr("data-end", self.end);
        }
        let heading = self.annotation.heading();
        out.leaf("title", format_args!("look-ahead lanes of {}", crate::harmless::one_line(&heading)));
        out.leaf("desc", description(self.annotation));
        if alone {
            out.open("style").own_text(STYLE).close();
            out.open("rect").attr("class", "ln-paper").num("width", self.width).num("height", height).empty();
        }
        self.steps(&mut out);
        self.stops(&mut out);
        self.ticks(&mut out);
        for (n, lane) in self.annotation.lanes.iter().enumerate() {
            let top = self.lane_top(n);
            self.windows(&mut out, top, lane.pair);
            self.strands(&mut out, top, lane);
            self.found(&mut out, top, lane);
            self.label(&mut out, n, lane.pair);
        }
        self.forks(&mut out);
        if self.legend {
            signs::rows(&mut out, self.left.min(20.0), self.bottom + 42.0, self.narrow);
        }
        if !alone {
            let (top, bottom) = (self.top - 12.0, self.bottom + 5.0);
            out.open("g").attr("class", "cursor");
            out.open("path").attr("class", "cur").attr("d", format_args!("M0 {top}V{bottom}")).empty();
            out.open("g").attr("class", "flag").open("rect").attr("x", -23).num("y", bottom + 1.0);
            out.attr("width", 46).attr("height", 17).empty();
            out.open("text").attr("text-anchor", "middle").num("y", bottom + 13.5).close().close().close();
        }
        out.close();
        out.finish()
    }

    fn lane_top(&self, n: usize) -> f64 {
        self.top + self.pitch * n as f64 + if self.narrow { 17.0 } else { 2.0 }
    }

    fn x(&self, at: f64) -> f64 {
        let part = (at - self.start) / (self.end - self.start).max(1e-9);
        self.left + (self.right - self.left) * part
    }

    /// Where a moment is reached, on paper; moments past the end lie at the end.
    fn reached(&self, moment: usize) -> f64 {
        self.x(self.axis.reached.get(moment).copied().unwrap_or(self.axis.end()))
    }

    /// Where the token after a moment begins.
    fn left_at(&self, moment: usize) -> f64 {
        self.x(self.axis.left.get(moment).copied().unwrap_or(self.axis.end()))
    }

    /// The steps as pale panels with their names; between them lies what nobody turned.
    fn steps(&self, out: &mut Markup) {
        let mut free = f64::NEG_INFINITY;
        for (n, step) in self.annotation.steps.iter().enumerate() {
            let (from, to) = (self.left_at(step.from), self.reached(step.to));
            if to - from < 0.5 {
                continue;
            }
            out.open("rect").attr("class", "ln-pan").attr("data-step", n).num("x", from).num("y", self.top);
            out.num("width", to - from).num("height", self.bottom - self.top).empty();
            let names = [step.title(), short_name(step), bare_number(step)];
            let next = self.annotation.steps[n + 1..].iter().find(|step| step.obtm > 0);
            let room = next.map_or(self.right, |next| self.left_at(next.from)).max(to) - from - 4.0;
            let fits = |name: &&String| !name.is_empty() && text_width(name, 12.0) < room && from > free;
            if let Some(name) = names.iter().find(fits) {
                out.open("text").attr("class", "ln-step").attr("data-step", n);
                out.num("x", from + 1.0).num("y", self.top - 5.0).text(name).close();
                free = from + text_width(name, 12.0);
            }
        }
    }

    /// Where a stop lies, on paper.
    fn stop_at(&self, stop: &Stop) -> (f64, f64) {
        let from = self.axis.reached[stop.moment];
        (self.x(from), self.x((from + stop.seconds).min(self.axis.end())))
    }

    /// Every stop with its length, and the bar that fills while it is held.
    fn stops(&self, out: &mut Markup) {
        if !self.axis.timed {
            return;
        }
        let mut free = f64::NEG_INFINITY;
        let stops = self.annotation.steps.iter().flat_map(|step| &step.stops);
        for (n, stop) in stops.enumerate() {
            let (from, to) = self.stop_at(stop);
            let y = self.top - 17.0;
            out.open("g").attr("class", "ln-stop").open("path").attr("class", "ln-gap");
            out.attr(
                "d",
                format_args!(
                    "M{from:.1} {:.1}V{2:.1}M{to:.1} {:.1}V{2:.1}M{from:.1} {y:.1}H{to:.1}",
                    y - 4.0,
                    y - 4.0,
                    y + 4.0
                ),
            );
            out.empty();
            out.open("rect").attr("class", "ln-fill").attr("data-stop", n).num("x", from).num("y", y - 3.0);
            out.attr("width", 0).attr("height", 6).num("data-width", to - from).empty();
            let about = if stop.derived { "about " } else { "" };
            let label = format!("{about}{:.2}", stop.seconds);
            let half = text_width(&label, 12.0) / 2.0;
            let middle = ((from + to) / 2.0).clamp(half, (self.width - half).max(half));
            if middle - half > free {
                out.open("text").attr("class", "ln-seconds").num("x", middle).num("y", y - 7.0);
                out.attr("text-anchor", "middle").text(label).close();
                free = middle + half + 3.0;
            }
            out.close();
        }
    }

    /// The axis, a tick for every moment, its figures; dashed where it goes by turns.
    fn ticks(&self, out: &mut Markup) {
        let y = self.bottom + 0.5;
        let (mut plain, mut dashed, mut marks) = (String::new(), String::new(), String::new());
        for m in 0..self.axis.reached.len() {
            let x = self.reached(m);
            let _ = write!(marks, "M{x:.1} {:.1}v4", y + 0.5);
            if m + 1 < self.axis.reached.len() {
                let to = self.reached(m + 1);
                let d = if self.axis.by_turns[m] { &mut dashed } else { &mut plain };
                let _ = write!(d, "M{x:.1} {y:.1}H{to:.1}");
            }
        }
        out.open("path").attr("class", "ln-axis").attr("d", plain + &marks).empty();
        if let Some(first) = self.axis.by_turns.iter().position(|&by_turns| by_turns) {
            out.open("path")
                .attr("class", "ln-axis")
                .attr("stroke-dasharray", "4 3")
                .attr("d", dashed)
                .empty();
            let until = self
                .axis
                .by_turns
                .iter()
                .skip(first)
                .position(|&by_turns| !by_turns)
                .map_or(first, |n| first + n);
            let (from, to) = (self.reached(first), self.reached(until));
            out.open("text").attr("class", "ln-soft").num("x", (from + to) / 2.0).num("y", y - 4.0);
            out.attr("text-anchor", "middle").text("by turns: no marks here").close();
        }
        let tick = self.axis.tick(self.end, if self.narrow { 6 } else { 12 });
        let count = (self.end / tick + 1e-6).floor() as usize;
        for n in 0..=count {
            let at = tick * n as f64;
            let unit = match (n == count, self.axis.timed) {
                (true, true) => " s",
                (true, false) => " tokens",
                _ => "",
            };
            out.open("text").attr("class", "ln-soft").num("x", self.x(at)).num("y", y + 17.0);
            out.attr("text-anchor", if n == count { "end" } else { "middle" });
            out.text(format_args!("{}{unit}", Number(at))).close();
        }
    }

    /// The lane's name, and where its pieces are: a script fills that in.
    fn label(&self, out: &mut Markup, n: usize, pair: PairName) {
        let top = self.lane_top(n);
        let (x, y) = if self.narrow { (self.left, top - 5.0) } else { (2.0, top + 24.0) };
        out.open("g").attr("class", "ln-lab").attr("data-lane", n);
        for (i, colour) in pair.sides().into_iter().enumerate() {
            out.open("rect").attr("class", "ln-chip").num("x", x + 7.0 * i as f64).num("y", y - 11.0);
            out.attr("width", 7).attr("height", 13).attr("fill", paint(colour).0).empty();
        }
        out.open("text").attr("class", "ln-name").num("x", x + 20.0).num("y", y).text(pair).close();
        for (k, kind) in ["corner", "edge"].into_iter().enumerate() {
            let (x, y) = if self.narrow {
                (self.left + 134.0 + 44.0 * k as f64, y)
            } else {
                (self.left - 10.0, top + 14.0 + 20.0 * k as f64)
            };
            out.open("text").attr("class", "ln-read").attr("data-read", format_args!("{n}-{kind}"));
            out.num("x", x).num("y", y).attr_if("text-anchor", (!self.narrow).then_some("end")).close();
        }
        out.close();
    }

    /// What could have been played instead, at this solver's own pace: of the same turns with another pair next only
    /// that pair's line.
    fn forks(&self, out: &mut Markup) {
        for (n, step) in self.annotation.steps.iter().enumerate() {
            let Some(line) = better(self.annotation, n) else { continue };
            let times = OtherTimes::of(self.annotation, &self.axis, step, line);
            let (pair, from, times) = match &line.next {
                Some(next) if line.same_turns => (Some(next.pair), self.axis.reached[step.to], times.then),
                _ => (line.pairs.first().copied(), self.axis.left[step.from], times.line),
            };
            let Some(lane) = self.annotation.lanes.iter().position(|lane| Some(lane.pair) == pair) else {
                continue;
            };
            let y = self.lane_top(lane) + LANE - 0.5;
            let to = self.x(times.last().copied().unwrap_or(from).min(self.end));
            let mut d = format!("M{:.1} {y:.1}H{to:.1}", self.x(from));
            for at in times {
                let _ = write!(d, "M{:.1} {:.1}v5", self.x(at.min(self.end)), y - 2.5);
            }
            out.open("path").attr("class", "ln-fork").attr("data-step", n).attr("d", d).empty();
        }
    }
}

/// When the tokens of another line would have been made, and those of the line of the pair it leaves.
pub(super) struct OtherTimes {
    pub(super) line: Vec<f64>,
    pub(super) then: Vec<f64>,
}

impl OtherTimes {
    /// It begins when the step's own turns did, and takes its cost at this solver's own turning; without that, each token
    /// takes as long as one of the step's own. The very turns played take the time they took.
    pub(super) fn of(annotation: &Annotation, axis: &Axis, step: &Step, line: &Alternative) -> OtherTimes {
        let played = (axis.reached[step.to] - axis.left[step.from]) / (step.to - step.from).max(1) as f64;
        let rate = annotation.timing.seconds_per_unit.filter(|_| axis.timed);
        let spread = |from: f64, cost: f64, tokens: usize| -> Vec<f64> {
            let each = rate.map_or(played, |rate| cost * rate / tokens.max(1) as f64);
            (1..=tokens).map(|n| from + each * n as f64).collect()
        };
        let times = if line.same_turns && line.text.len() == step.to - step.from {
            axis.reached[step.from + 1..=step.to].to_vec()
        } else {
            spread(axis.left[step.from], line.cost, line.text.len())
        };
        let from = times.last().copied().unwrap_or(axis.left[step.from]);
        let then = line.next.as_ref().map_or(0, |next| next.then.len());
        OtherTimes { then: spread(from, line.price - line.cost, then), line: times }
    }
}

fn short_name(step: &Step) -> String {
    match step.kind {
        StepKind::Inspection => String::new(),
        StepKind::Cross => "cross".into(),
        _ => step.name.to_string(),
    }
}

fn bare_number(step: &Step) -> String {
    step.name.to_string().chars().filter(char::is_ascii_digit).collect()
}

/// About how wide a sans-serif text of this size is, in the same unit; on the safe side for Latin letters.
fn text_width(text: &str, size: f64) -> f64 {
    text.chars().count() as f64 * size * 0.54
}

/// What the lanes show, in words.
fn description(annotation: &Annotation) -> String {
    let mut out = String::new();
    for step in &annotation.steps {
        for stop in &step.stops {
            out.push_str(&format!(
                "{} {}, a stop of {:.2} seconds{}. ",
                if stop.inside { "Inside" } else { "Before" },
                step.name,
                stop.seconds,
                stop.cause.map_or(String::new(), |cause| format!(", cause {}", cause.word())),
            ));
        }
        for next in step.next() {
            out.push_str(&format!(
                "During {}, {} comes next: corner at {}, edge at {}; found: {}. ",
                step.name,
                next.pair,
                next.corner.from,
                next.edge.from,
                words::found(next)
            ));
        }
    }
    for lane in &annotation.lanes {
        if let Some(step) = lane.solved.and_then(|at| annotation.steps.iter().find(|step| step.to == at)) {
            out.push_str(&format!("{} is inserted in {}. ", lane.pair, step.name));
        }
    }
    out.trim_end().to_owned()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::report::sample;

    #[test]
    fn lanes_are_documents_of_their_own_that_name_what_they_show() {
        for timed in [true, false] {
            let annotation = sample::annotation(timed);
            for width in [Width::Broad, Width::Wide, Width::Narrow] {
                let drawn: String = svg(&annotation, width).into();
                let read = roxmltree::Document::parse(&drawn).expect("well-formed");
                let root = read.root_element();
                assert!(root.attribute("width").is_some() && root.attribute("height").is_some());
                let text: Vec<&str> =
                    read.descendants().filter(|n| n.is_text()).filter_map(|n| n.text()).collect();
                for lane in &annotation.lanes {
                    assert!(text.contains(&lane.pair.to_string().as_str()), "{} in {text:?}", lane.pair);
                }
                let stops = annotation.steps.iter().map(|step| step.stops.len()).sum::<usize>();
                assert_eq!(stops > 0, timed);
                let shown = read.descendants().filter(|n| n.attribute("class") == Some("ln-stop")).count();
                assert_eq!(shown, stops);
                assert!(drawn.len() < 26_000, "{} bytes", drawn.len());
            }
        }
    }

    #[test]
    fn a_stop_is_as_wide_as_it_is_long() {
        let annotation = sample::annotation(true);
        let drawn: String = svg(&annotation, Width::Wide).into();
        let read = roxmltree::Document::parse(&drawn).expect("well-formed");
        let sheet = Sheet::new(&annotation, Width::Wide, Scale::of(&[&annotation]));
        let second = sheet.x(1.0) - sheet.x(0.0);
        let stops = annotation.steps.iter().flat_map(|step| &step.stops);
        for (n, stop) in stops.enumerate() {
            let bar = read.descendants().find(|node| node.attribute("data-stop") == Some(&n.to_string()));
            let width = bar.and_then(|bar| bar.attribute("data-width")).and_then(|w| w.parse::<f64>().ok());
            assert!((width.expect("a width") - stop.seconds * second).abs() < 0.02);
        }
    }
}

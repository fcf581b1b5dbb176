//! The lanes: look-ahead over a whole solve in one picture.
//!
//! One lane for each pair, from the scramble to its insertion, along the clock (or the count of turns). The same
//! signs as in a position's picture: a round mark is the corner, a square one the edge. The language of a lane:
//!
//! | sign | meaning |
//! |---|---|
//! | height of the bar: high, middle, low | the piece is up, in the slot being filled, down in another open slot |
//! | bar filled, striped, hollow | the piece is in sight, known, hidden |
//! | box round a part of a lane | the step during which this pair should be found: it comes next |
//! | a line with two ends below the box | the lead: from when corner and edge had both been seen to the step's end |
//! | diamond at the end of a lane | the pair is inserted |
//! | broad band through all lanes, with a flag | a long pause and its cause |
//!
//! Pauses are the loudest thing on the sheet, the box they follow the next, because the question is always what
//! lay behind a pause. Everything else is thin and grey.

use crate::annotation::{Annotation, Lane, LaneGrade, Spot, Step, StepKind, Stop};
use crate::cube::PairName;

use super::axis::Axis;
use super::markup::{Fragment, Markup};
use super::picture::paint;
use super::words;

const STYLE: &str = "\
.lanes-paper{fill:#fff}.lanes-ink{fill:#1b1f24}.lanes-soft{fill:#565d66}.lanes-bar{fill:#2a3440}\
.lanes-hollow{fill:#fff;stroke:#2a3440}.lanes-stripe{fill:#2a3440}\
.lanes-grid{stroke:#d3d7dc;fill:none}.lanes-box{fill:#eaf1f8;stroke:#6b8db0}\
.lanes-line{stroke:#2a3440;fill:none}.lanes-behind{fill:#fff0cf;stroke:#a35a00}\
.lanes-halo{paint-order:stroke;stroke:#fff;stroke-width:4px}.lanes-pause{fill:#f7b731}.lanes-flag{fill:#f7b731}.lanes-on-flag{fill:#1b1f24}\
@media (prefers-color-scheme:dark){.lanes-paper{fill:#15181d}.lanes-ink{fill:#eceff2}.lanes-soft{fill:#a9b1bb}\
.lanes-bar{fill:#dfe5ec}.lanes-halo{stroke:#15181d}.lanes-hollow{fill:#15181d;stroke:#dfe5ec}.lanes-stripe{fill:#dfe5ec}\
.lanes-grid{stroke:#39404a}.lanes-box{fill:#1d2a38;stroke:#6b8db0}.lanes-line{stroke:#dfe5ec}\
.lanes-behind{fill:#3a2c10;stroke:#f7b731}}";

/// How to draw the lanes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Width {
    /// 960 units: a desk's screen, or paper.
    Wide,
    /// 380 units: a phone.
    Narrow,
}

/// Where things lie.
struct Sheet<'a> {
    annotation: &'a Annotation,
    axis: Axis,
    /// Where the axis ends, in its unit: at the end of the solve or of a longer one it is compared with.
    end: f64,
    narrow: bool,
    width: f64,
    /// Where the axis begins and ends.
    left: f64,
    right: f64,
    /// Makes names unique when several sheets stand in one page.
    key: &'a str,
    flags: Vec<Flag>,
    first_lane: f64,
    lane_height: f64,
    bottom: f64,
}

/// A long pause to be drawn.
struct Flag {
    from: f64,
    to: f64,
    label: String,
    x: f64,
    row: usize,
}

const CORNER: [f64; 3] = [0.0, 9.0, 18.0];
const CORNER_HEIGHT: f64 = 8.0;
const EDGE: [f64; 3] = [30.0, 36.0, 42.0];
const EDGE_HEIGHT: f64 = 5.0;
const BARS: f64 = 47.0;

/// What several sheets must share for a second of one to be as long as a second of another.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Scale {
    /// Whether the unit is the second; else it is the token.
    pub timed: bool,
    /// Where the axis ends.
    pub end: f64,
}

impl Scale {
    /// The scale on which all of these solves fit: the clock's if all of them are timed.
    #[must_use]
    pub fn of(annotations: &[&Annotation]) -> Scale {
        let timed = annotations.iter().all(|annotation| Axis::of(annotation).timed);
        let axis =
            |annotation: &&Annotation| if timed { Axis::of(annotation) } else { Axis::by_count(annotation) };
        let end = annotations.iter().map(|annotation| axis(annotation).end()).fold(0.0, f64::max);
        Scale { timed, end }
    }
}

/// Draws the lanes; `key` is put before the names inside, so that several sheets can stand in one page.
#[must_use]
pub fn svg(annotation: &Annotation, width: Width, key: &str) -> Fragment {
    on_scale(annotation, width, key, Scale::of(&[annotation]))
}

/// The same on a scale shared with other solves.
#[must_use]
pub fn on_scale(annotation: &Annotation, width: Width, key: &str, scale: Scale) -> Fragment {
    let sheet = Sheet::new(annotation, width, key, scale);
    let legend = sheet.legend();
    let height = sheet.bottom + 26.0 + 16.0 * legend.len() as f64 + 6.0;
    let mut out = Markup::new();
    out.open("svg").attr("xmlns", "http://www.w3.org/2000/svg");
    out.attr("viewBox", format_args!("0 0 {} {height}", sheet.width));
    out.attr("role", "img").attr("font-family", "sans-serif").attr("font-size", 11);
    out.leaf("title", "look-ahead lanes").leaf("desc", description(annotation));
    out.open("style").own_text(STYLE).close();
    out.open("pattern").attr("id", format_args!("{key}stripe")).attr("patternUnits", "userSpaceOnUse");
    out.attr("width", 4).attr("height", 4);
    out.open("rect").attr("class", "lanes-paper").attr("width", 4).attr("height", 4).empty();
    out.open("rect").attr("class", "lanes-stripe").attr("width", 2).attr("height", 4).empty().close();
    out.open("rect").attr("class", "lanes-paper").attr("width", sheet.width).num("height", height).empty();
    sheet.steps(&mut out);
    sheet.pauses(&mut out);
    for (n, lane) in annotation.lanes.iter().enumerate() {
        sheet.lane(&mut out, n, lane);
    }
    sheet.ticks(&mut out);
    for (n, line) in legend.iter().enumerate() {
        sheet.legend_line(&mut out, sheet.bottom + 36.0 + 16.0 * n as f64, line);
    }
    out.close();
    out.finish()
}

impl<'a> Sheet<'a> {
    fn new(annotation: &'a Annotation, width: Width, key: &'a str, scale: Scale) -> Sheet<'a> {
        let narrow = width == Width::Narrow;
        let (width, left) = if narrow { (380.0, 22.0) } else { (960.0, 132.0) };
        let mut sheet = Sheet {
            annotation,
            axis: if scale.timed { Axis::of(annotation) } else { Axis::by_count(annotation) },
            end: scale.end,
            narrow,
            width,
            left,
            right: width - 16.0,
            key,
            flags: Vec::new(),
            first_lane: 0.0,
            lane_height: if narrow { BARS + 34.0 } else { BARS + 22.0 },
            bottom: 0.0,
        };
        sheet.flags = sheet.place_flags();
        let rows = sheet.flags.iter().map(|flag| flag.row + 1).max().unwrap_or(0);
        let flags = if rows == 0 { 0.0 } else { 22.0 * rows as f64 + 4.0 };
        sheet.first_lane = 24.0 + flags + if narrow { 20.0 } else { 6.0 };
        sheet.bottom = sheet.first_lane + sheet.lane_height * annotation.lanes.len() as f64 - 4.0;
        sheet
    }

    fn x(&self, at: f64) -> f64 {
        self.left + (self.right - self.left) * at / self.end.max(1e-9)
    }

    /// Where a moment is reached, on paper; moments past the end lie at the end.
    fn reached(&self, moment: usize) -> f64 {
        self.x(self.axis.reached.get(moment).copied().unwrap_or(self.axis.end()))
    }

    /// Flags stand over their pauses, in as many rows as they need not to touch.
    fn place_flags(&self) -> Vec<Flag> {
        let mut ends: Vec<f64> = Vec::new();
        let pauses = self.annotation.steps.iter().filter_map(|step| Some((step, step.stop_before()?)));
        pauses
            .map(|(step, pause)| {
                let from = self.reached(step.from);
                let to = self.x(self.axis.left.get(step.from).copied().unwrap_or(0.0)).max(from + 3.0);
                let label = flag_label(pause);
                let width = text_width(&label, 11.0) + 14.0;
                let x = ((from + to - width) / 2.0).clamp(2.0, (self.width - 2.0 - width).max(2.0));
                let row = ends.iter().position(|end| *end + 3.0 < x).unwrap_or(ends.len());
                if row == ends.len() {
                    ends.push(0.0);
                }
                ends[row] = x + width;
                Flag { from, to, label, x, row }
            })
            .collect()
    }

    fn steps(&self, out: &mut Markup) {
        for step in &self.annotation.steps {
            let (from, to) = (self.reached(step.from), self.reached(step.to));
            if to - from < 0.5 {
                continue;
            }
            out.open("path").attr("class", "lanes-grid");
            out.attr("d", format_args!("M{to:.1} 6V{:.1}", self.bottom)).empty();
            let names = [step.name.to_string(), short_name(step), bare_number(step)];
            if let Some(name) = names.iter().find(|name| text_width(name, 11.0) + 4.0 < to - from) {
                let start = self.x(self.axis.left.get(step.from).copied().unwrap_or(0.0)).min(to);
                let room = text_width(name, 11.0) + 4.0 < to - start;
                out.open("text").attr("class", "lanes-soft").attr("y", 16);
                out.num("x", if room { (start + to) / 2.0 } else { (from + to) / 2.0 });
                out.attr("text-anchor", "middle").text(name).close();
            }
        }
    }

    fn pauses(&self, out: &mut Markup) {
        for flag in &self.flags {
            let y = 24.0 + 22.0 * flag.row as f64;
            out.open("rect").attr("class", "lanes-pause").num("x", flag.from).num("y", y + 10.0);
            out.num("width", flag.to - flag.from).num("height", self.bottom - y - 10.0).empty();
        }
        for flag in &self.flags {
            let y = 24.0 + 22.0 * flag.row as f64;
            let width = text_width(&flag.label, 11.0) + 14.0;
            out.open("rect").attr("class", "lanes-flag").num("x", flag.x).num("y", y).num("width", width);
            out.attr("height", 19).attr("rx", 3).empty();
            out.open("text").attr("class", "lanes-on-flag").num("x", flag.x + width / 2.0).num("y", y + 13.5);
            out.attr("text-anchor", "middle").attr("font-weight", "bold").text(&flag.label).close();
        }
    }

    fn lane(&self, out: &mut Markup, n: usize, lane: &Lane) {
        let top = self.first_lane + self.lane_height * n as f64;
        self.lane_label(out, top, lane);
        for (i, step) in self.windows(lane) {
            let paused = self.annotation.steps.get(i + 1).is_some_and(|next| next.stop_before().is_some());
            self.window(out, top, step, lane.pair, paused);
        }
        let spots = |pick: fn(&crate::annotation::Cell) -> &Spot| -> Vec<&Spot> {
            lane.cells.iter().map(pick).collect()
        };
        let windows: Vec<(usize, usize)> = self.windows(lane).map(|(_, step)| (step.from, step.to)).collect();
        self.bars(out, &spots(|cell| &cell.corner), &windows, top, &CORNER, CORNER_HEIGHT);
        self.bars(out, &spots(|cell| &cell.edge), &windows, top, &EDGE, EDGE_HEIGHT);
        if let Some(solved) = lane.solved {
            let x = self.reached(solved);
            out.open("path").attr("class", "lanes-line").attr("stroke-width", 2);
            out.attr("d", format_args!("M{x:.1} {:.1}V{:.1}", top - 3.0, top + BARS + 3.0)).empty();
            out.open("path").attr("class", "lanes-bar");
            out.attr("d", format_args!("M{x:.1} {:.1}l6 6l-6 6l-6-6z", top + BARS / 2.0 - 6.0)).empty();
            out.open("path").attr("class", "lanes-line");
            let end = self.x(self.axis.end());
            out.attr("d", format_args!("M{x:.1} {:.1}H{end:.1}", top + BARS / 2.0)).empty();
        }
    }

    /// The steps, with their numbers, during which this lane's pair should be found.
    fn windows<'b>(&'b self, lane: &'b Lane) -> impl Iterator<Item = (usize, &'b Step)> {
        let comes_next = |step: &Step| step.next().any(|next| next.pair == lane.pair);
        self.annotation.steps.iter().enumerate().filter(move |(_, step)| comes_next(step))
    }

    fn lane_label(&self, out: &mut Markup, top: f64, lane: &Lane) {
        let (x, y) = if self.narrow { (4.0, top - 7.0) } else { (4.0, top + 20.0) };
        for (i, colour) in lane.pair.sides().into_iter().enumerate() {
            out.open("rect")
                .num("x", x + 9.0 * i as f64)
                .num("y", y - 9.0)
                .attr("width", 9)
                .attr("height", 11);
            out.attr("fill", paint(colour).0).attr("stroke", "#565d66").empty();
        }
        out.open("text").attr("class", "lanes-ink lanes-halo").num("x", x + 23.0).num("y", y);
        out.attr("font-weight", "bold").text(lane.pair).close();
        let marks = self.left - 10.0;
        out.open("circle")
            .attr("class", "lanes-bar")
            .num("cx", marks)
            .num("cy", top + 13.0)
            .attr("r", 4)
            .empty();
        out.open("rect").attr("class", "lanes-bar").num("x", marks - 3.5).num("y", top + 35.0);
        out.attr("width", 7).attr("height", 7).empty();
    }

    /// The step during which this pair should be found.
    fn window(&self, out: &mut Markup, top: f64, step: &Step, pair: PairName, paused: bool) {
        let (from, to) = (self.reached(step.from), self.reached(step.to));
        out.open("rect").attr("class", if paused { "lanes-behind" } else { "lanes-box" });
        out.attr("stroke-width", if paused { "2" } else { "1" });
        out.num("x", from).num("y", top - 4.0).num("width", (to - from).max(2.0)).num("height", BARS + 8.0);
        out.attr("rx", 2).empty();
        let Some(next) = step.next().find(|next| next.pair == pair) else { return };
        let label = words::found(next);
        let y = top + BARS + 10.0;
        if let Some(found) = next.found_at() {
            let x = self.reached(found);
            out.open("path").attr("class", "lanes-line").attr("stroke-width", 2);
            out.attr("d", format_args!("M{x:.1} {:.1}v8m0-4H{to:.1}m0-4v8", y - 4.0)).empty();
        }
        if !self.narrow {
            // Past the pause that may follow, so that the words stand on paper and not on the band.
            let after = self.x(self.axis.left.get(step.to).copied().unwrap_or(self.axis.end())).max(to);
            if after + 6.0 + text_width(&label, 10.0) < self.width {
                out.open("text").attr("class", "lanes-soft").attr("font-size", 10).num("x", after + 6.0);
                out.num("y", y + 3.5).text(&label).close();
            }
        }
    }

    /// One piece: a bar for every stretch over which nothing changes, fainter outside the windows.
    fn bars(
        &self,
        out: &mut Markup,
        spots: &[&Spot],
        windows: &[(usize, usize)],
        top: f64,
        levels: &[f64; 3],
        height: f64,
    ) {
        let end = spots.len().saturating_sub(1);
        let wanted = |m: usize| windows.iter().any(|&(from, to)| (from..to).contains(&m));
        let look = |m: usize| (level(spots[m]), spots[m].sight, wanted(m));
        let mut from = 0;
        for m in 1..=end {
            if m < end && look(m) == look(from) {
                continue;
            }
            let (x, to) = (self.reached(from), self.reached(m));
            let y = top + levels[level(spots[from])];
            if to - x > 0.05 {
                match spots[from].sight {
                    LaneGrade::Plain => out.open("rect").attr("class", "lanes-bar").num("x", x).num("y", y),
                    LaneGrade::Followed => out
                        .open("rect")
                        .attr("fill", format_args!("url(#{}stripe)", self.key))
                        .num("x", x)
                        .num("y", y),
                    LaneGrade::NotFound => {
                        out.open("rect").attr("class", "lanes-hollow").num("x", x + 0.5).num("y", y + 0.5)
                    }
                };
                let hollow = if spots[from].sight == LaneGrade::NotFound { 1.0 } else { 0.0 };
                if !wanted(from) {
                    out.attr("opacity", "0.45");
                }
                out.num("width", (to - x - hollow).max(0.6)).num("height", height - hollow).empty();
            }
            from = m;
        }
    }

    fn ticks(&self, out: &mut Markup) {
        let y = self.bottom;
        out.open("path").attr("class", "lanes-line");
        out.attr("d", format_args!("M{:.1} {y:.1}H{:.1}", self.left, self.right)).empty();
        let tick = self.axis.tick(self.end, if self.narrow { 6 } else { 12 });
        let count = (self.end / tick + 1e-6).floor() as usize;
        for n in 0..=count {
            let at = tick * n as f64;
            let x = self.x(at);
            out.open("path").attr("class", "lanes-line").attr("d", format_args!("M{x:.1} {y:.1}v4")).empty();
            let label = super::markup::Number(at).to_string();
            let unit = match (n == count, self.axis.timed) {
                (true, true) => " s",
                (true, false) => " tokens",
                _ => "",
            };
            out.open("text").attr("class", "lanes-soft").num("x", x).num("y", y + 16.0);
            out.attr("text-anchor", if n == count { "end" } else { "middle" })
                .text(format_args!("{label}{unit}"))
                .close();
        }
    }

    fn legend(&self) -> Vec<Vec<Sign>> {
        use Sign::{Box, Diamond, Edge, Hollow, Lead, Pause, Round, Seen, Striped, Words};
        let mut lines = vec![
            vec![
                Round,
                Edge,
                Words("height: high is up, middle in the slot being filled, low in another slot"),
            ],
            vec![Seen, Striped, Hollow, Diamond],
            vec![Box, Lead],
        ];
        if !self.flags.is_empty() {
            lines[2].push(Pause);
        }
        if self.narrow {
            lines = vec![
                vec![Round, Edge],
                vec![Words("high: up; middle: in the slot being filled; low: another slot")],
                vec![Seen, Striped, Hollow, Diamond],
                vec![Lead],
                vec![Box],
            ];
            if !self.flags.is_empty() {
                lines[0].push(Pause);
            }
        }
        lines
    }

    fn legend_line(&self, out: &mut Markup, y: f64, line: &[Sign]) {
        let mut x = if self.narrow { 4.0 } else { self.left };
        for sign in line {
            let (class, words) = sign.look();
            match sign {
                Sign::Words(_) => x -= 20.0,
                Sign::Round => {
                    out.open("circle")
                        .attr("class", class)
                        .num("cx", x + 6.0)
                        .num("cy", y - 4.0)
                        .attr("r", 4)
                        .empty();
                }
                Sign::Edge => {
                    out.open("rect").attr("class", class).num("x", x + 3.0).num("y", y - 8.0);
                    out.attr("width", 7).attr("height", 7).empty();
                }
                Sign::Diamond => {
                    out.open("path").attr("class", class);
                    out.attr("d", format_args!("M{:.1} {:.1}l5 5l-5 5l-5-5z", x + 7.0, y - 9.0)).empty();
                }
                Sign::Lead => {
                    out.open("path").attr("class", class).attr("stroke-width", 2);
                    out.attr("d", format_args!("M{x:.1} {:.1}v8m0-4h15m0-4v8", y - 8.0)).empty();
                }
                Sign::Striped => {
                    out.open("rect").attr("fill", format_args!("url(#{}stripe)", self.key));
                    out.num("x", x).num("y", y - 8.0).attr("width", 15).attr("height", 8).empty();
                }
                _ => {
                    out.open("rect").attr("class", class).num("x", x + 0.5).num("y", y - 8.5);
                    out.attr("width", 14).attr("height", 8).empty();
                }
            }
            out.open("text").attr("class", "lanes-soft").num("x", x + 20.0).num("y", y).text(words).close();
            x += 20.0 + text_width(words, 11.0) + 14.0;
        }
    }
}

/// A sign of the legend.
enum Sign {
    Round,
    Edge,
    Seen,
    Striped,
    Hollow,
    Diamond,
    Box,
    Lead,
    Pause,
    Words(&'static str),
}

impl Sign {
    fn look(&self) -> (&'static str, &'static str) {
        match self {
            Sign::Round => ("lanes-bar", "corner"),
            Sign::Edge => ("lanes-bar", "edge"),
            Sign::Seen => ("lanes-bar", "open to sight"),
            Sign::Striped => ("", "deduced or followed"),
            Sign::Hollow => ("lanes-hollow", "not found"),
            Sign::Diamond => ("lanes-bar", "inserted"),
            Sign::Box => ("lanes-box", "look for it here: it comes next"),
            Sign::Lead => ("lanes-line", "from both found to the end of the step"),
            Sign::Pause => ("lanes-pause", "stop"),
            Sign::Words(words) => ("", words),
        }
    }
}

/// Which of the three heights: up, in the slot being filled, down elsewhere.
fn level(spot: &Spot) -> usize {
    match (spot.up, spot.target) {
        (true, _) => 0,
        (false, true) => 1,
        (false, false) => 2,
    }
}

fn flag_label(stop: &Stop) -> String {
    let about = if stop.derived { "about " } else { "" };
    let cause = stop.cause.map_or(String::new(), |cause| format!(" {}", cause.word()));
    format!("{about}{:.2} s{cause}", stop.seconds)
}

fn short_name(step: &Step) -> String {
    match step.kind {
        StepKind::Inspection => "look".into(),
        _ => step.name.to_string(),
    }
}

fn bare_number(step: &Step) -> String {
    step.name.to_string().chars().filter(char::is_ascii_digit).collect()
}

/// About how wide a sans-serif text of this size is, in the same unit; on the safe side for Latin letters.
fn text_width(text: &str, size: f64) -> f64 {
    text.chars().count() as f64 * size * 0.56
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
            for width in [Width::Wide, Width::Narrow] {
                let drawn: String = svg(&annotation, width, "x-").into();
                let read = roxmltree::Document::parse(&drawn).expect("well-formed");
                let text: Vec<&str> =
                    read.descendants().filter(|n| n.is_text()).filter_map(|n| n.text()).collect();
                for lane in &annotation.lanes {
                    assert!(text.contains(&lane.pair.to_string().as_str()), "{} in {text:?}", lane.pair);
                }
                let stops = annotation.steps.iter().filter(|step| step.stop_before().is_some()).count();
                assert_eq!(stops > 0, timed);
                assert!(text.iter().filter(|text| text.contains(" s ")).count() >= stops);
                assert!(drawn.len() < 24_000, "{} bytes", drawn.len());
            }
        }
    }
}

//! The two strands of a lane, the boxes in which the eyes belong, and what was found there.

use std::fmt::Write as _;

use super::{LANE, Sheet};
use crate::annotation::{Cell, Lane, LaneGrade, Spot, Stop};
use crate::cube::PairName;
use crate::report::markup::Markup;

/// Heights of the corner's strand: up, in the slot being filled, down elsewhere.
const CORNER: [f64; 3] = [4.5, 10.0, 15.5];
/// The same of the edge's.
const EDGE: [f64; 3] = [24.5, 29.0, 33.5];
/// Half the thickness of a strand that is open to sight.
const HALF: [f64; 2] = [2.5, 2.0];

type Pick = fn(&Cell) -> &Spot;
const PIECES: [(Pick, [f64; 3], f64); 2] =
    [(|cell| &cell.corner, CORNER, HALF[0]), (|cell| &cell.edge, EDGE, HALF[1])];

/// Which of the three heights.
fn level(spot: &Spot) -> usize {
    match (spot.up, spot.target) {
        (true, _) => 0,
        (false, true) => 1,
        (false, false) => 2,
    }
}

/// What a pair is to the hands during a step.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Role {
    Next,
    InHand,
    Other,
}

impl Sheet<'_> {
    /// Where the eyes belong; dashed where the pair lay ready and another was taken.
    pub(super) fn windows(&self, out: &mut Markup, top: f64, pair: PairName) {
        let steps = &self.annotation.steps;
        for (n, step) in steps.iter().enumerate() {
            let next = step.next().any(|next| next.pair == pair);
            let instead = steps.get(n + 1).and_then(|next| next.stop_before()?.instead.as_ref());
            let missed = instead.is_some_and(|instead| instead.pair == pair);
            if !next && !missed {
                continue;
            }
            let (from, to) = (self.left_at(step.from), self.reached(step.to));
            out.open("rect").attr("class", if next { "ln-eye" } else { "ln-instead" });
            out.num("x", from)
                .num("y", top)
                .num("width", (to - from).max(1.0))
                .num("height", LANE - 4.0)
                .empty();
        }
    }

    fn role(&self, moment: usize, pair: PairName) -> Role {
        // A moment at the border of two steps belongs to the later one: its token is still to come.
        let step = self.annotation.steps.iter().find(|step| step.from <= moment && moment < step.to);
        match step {
            Some(step) if step.next().any(|next| next.pair == pair) => Role::Next,
            Some(step) if step.pairs.contains(&pair) => Role::InHand,
            _ => Role::Other,
        }
    }

    /// The stop at a moment, and whether this pair is what is looked for.
    fn stop_for(&self, moment: usize, pair: PairName) -> Option<(&Stop, bool)> {
        let steps = self.annotation.steps.iter();
        let (step, stop) = steps
            .flat_map(|step| step.stops.iter().map(move |stop| (step, stop)))
            .find(|(_, stop)| stop.moment == moment)?;
        let instead = stop.instead.as_ref().map(|instead| instead.pair);
        Some((stop, !stop.inside && (step.pairs.contains(&pair) || instead == Some(pair))))
    }

    pub(super) fn strands(&self, out: &mut Markup, top: f64, lane: &Lane) {
        // One path for each look, to keep pages small.
        let mut paths: Vec<(&'static str, String)> = Vec::new();
        let mut add =
            |class: &'static str, d: String| match paths.iter_mut().find(|(other, _)| *other == class) {
                Some((_, path)) => path.push_str(&d),
                None => paths.push((class, d)),
            };
        let last = lane.solved.unwrap_or(self.axis.reached.len() - 1);
        for (pick, levels, half) in PIECES {
            let mut before: Option<f64> = None;
            // The stretch being drawn: where it began, how it looks, its height.
            let mut run: Option<(f64, f64, LaneGrade, Role, f64)> = None;
            for m in 0..last.min(lane.cells.len()) {
                let spot = pick(&lane.cells[m]);
                let y = top + levels[level(spot)];
                let role = self.role(m, lane.pair);
                let (mut from, to) = (self.reached(m), self.reached(m + 1));
                if let Some(above) = before.filter(|&above| (above - y).abs() > 0.1) {
                    add(class("ln-turn", role), format!("M{from:.1} {above:.1}V{y:.1}"));
                }
                before = Some(y);
                if self.axis.timed
                    && let Some((stop, wanted)) = self.stop_for(m, lane.pair)
                {
                    if let Some(run) = run.take() {
                        strand(&mut add, run, half);
                    }
                    let after = self.stop_at(stop).1.max(from);
                    if wanted {
                        add("ln-wanted", format!("M{from:.1} {y:.1}H{after:.1}"));
                    }
                    from = after;
                } else if self.axis.timed {
                    // A gap too short to matter parts the strands all the same.
                    let left = self.left_at(m);
                    if left - from > 1.0 {
                        if let Some(run) = run.take() {
                            strand(&mut add, run, half);
                        }
                        from = left;
                    }
                }
                if to <= from {
                    continue;
                }
                run = match run.take() {
                    Some((start, _, grade, was, height))
                        if grade == spot.sight && was == role && (height - y).abs() < 0.1 =>
                    {
                        Some((start, to, grade, was, height))
                    }
                    other => {
                        if let Some(other) = other {
                            strand(&mut add, other, half);
                        }
                        Some((from, to, spot.sight, role, y))
                    }
                };
            }
            if let Some(run) = run {
                strand(&mut add, run, half);
            }
        }
        for (class, d) in paths {
            out.open("path").attr("class", class).attr("d", d).empty();
        }
        if let Some(solved) = lane.solved {
            let x = self.reached(solved);
            out.open("path").attr("class", "ln-in");
            out.attr("d", format_args!("M{x:.1} {:.1}V{:.1}", top + 1.0, top + LANE - 5.0)).empty();
        }
    }

    /// Rings where a piece of the pair that comes next is found, and the lead.
    pub(super) fn found(&self, out: &mut Markup, top: f64, lane: &Lane) {
        for step in &self.annotation.steps {
            let Some(next) = step.next().find(|next| next.pair == lane.pair) else { continue };
            for (watch, (pick, levels, _)) in [&next.corner, &next.edge].into_iter().zip(PIECES) {
                let Some(found) = watch.found() else { continue };
                let Some(cell) = lane.cells.get(found) else { continue };
                out.open("circle")
                    .attr("class", "ln-found")
                    .num("cx", self.reached(found).max(self.left_at(step.from)));
                out.num("cy", top + levels[level(pick(cell))]).attr("r", 4.2).empty();
            }
            if let (Some(found), Some(1..)) = (next.found_at(), next.lead) {
                let (from, to) = (self.reached(found).max(self.left_at(step.from)), self.reached(step.to));
                let y = top + LANE - 6.0;
                out.open("path").attr("class", "ln-lead");
                out.attr("d", format_args!("M{from:.1} {:.1}v5m0-2.5H{to:.1}m0-2.5v5", y - 2.5)).empty();
            }
        }
    }
}

fn class(of: &'static str, role: Role) -> &'static str {
    match (of, role) {
        ("ln-open", Role::Next) => "ln-open ln-next",
        ("ln-open", Role::InHand) => "ln-open ln-hand",
        ("ln-open", Role::Other) => "ln-open",
        ("ln-held", Role::Next) => "ln-held ln-next",
        ("ln-held", Role::InHand) => "ln-held ln-hand",
        ("ln-held", Role::Other) => "ln-held",
        ("ln-lost", Role::Next) => "ln-lost ln-next",
        ("ln-lost", Role::InHand) => "ln-lost ln-hand",
        ("ln-lost", Role::Other) => "ln-lost",
        (_, Role::Next) => "ln-turn ln-next",
        (_, Role::InHand) => "ln-turn ln-hand",
        (_, Role::Other) => "ln-turn",
    }
}

/// A stretch over which nothing changes.
fn strand(
    add: &mut impl FnMut(&'static str, String),
    (from, to, grade, role, y): (f64, f64, LaneGrade, Role, f64),
    half: f64,
) {
    let (of, d) = match grade {
        LaneGrade::Plain => {
            let mut d = String::new();
            let _ = write!(d, "M{from:.1} {:.1}H{to:.1}v{1}H{from:.1}z", y - half, 2.0 * half);
            ("ln-open", d)
        }
        LaneGrade::Followed => {
            let off = half - 0.5;
            ("ln-held", format!("M{from:.1} {:.1}H{to:.1}M{from:.1} {:.1}H{to:.1}", y - off, y + off))
        }
        LaneGrade::NotFound => ("ln-lost", format!("M{from:.1} {y:.1}H{to:.1}")),
    };
    add(class(of, role), d);
}

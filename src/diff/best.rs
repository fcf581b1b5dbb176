//! The best of each step of several solves of one scramble, and what they would come to together.
//!
//! A *stage* lies between two things that every solve comes to at the end of a step: so many pairs with the
//! cross, the orientation, the permutation, the end. A solve with an xcross has no moment at which only the
//! cross is done; then the cross and the first pair are one stage for all. So a stage is the same work for
//! everybody, and the sum is of solves that do all of it, though no hand can start where another's stage ends.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::annotation::{Annotation, StepKind};
use crate::clock::micro;
use crate::steps::Skip;
use crate::words::and;

/// The version of the JSON of [`BestSteps`].
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Deserialize, JsonSchema, Serialize)]
pub enum BestFormat {
    /// The second.
    #[serde(rename = "cornerwise-best-steps/2")]
    BestSteps2,
}

/// The best of each stage over several solves.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema, Serialize)]
pub struct BestSteps {
    /// The version of these facts.
    pub format: BestFormat,
    /// What the solves are called: `A`, `B`, …
    pub names: Vec<String>,
    /// The stages, in order.
    pub stages: Vec<BestStage>,
    /// The sum of the fewest turns of each stage.
    pub obtm: usize,
    /// The sum of the shortest times of each stage; `null` if a stage is timed in no solve.
    pub seconds: Option<f64>,
    /// Turns of each whole solve, for comparison.
    pub whole_obtm: Vec<usize>,
    /// Seconds of each whole solve, from the first turn, by its marks; `null` if it does not end solved.
    pub whole_seconds: Vec<Option<f64>>,
}

/// One stage.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema, Serialize)]
pub struct BestStage {
    /// What it is called: `cross`, `pair 1`, `cross and pair 1`, `OLL and PLL`.
    pub name: String,
    /// Each solve's figures, in order of the names.
    pub sides: Vec<StageSide>,
    /// The fewest turns, and whose they are.
    pub fewest_turns: Best<usize>,
    /// The shortest time, and whose it is.
    pub fastest: Option<Best<f64>>,
}

/// One solve's figures of a stage.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema, Serialize)]
pub struct StageSide {
    /// Turns.
    pub obtm: usize,
    /// Seconds, pauses included.
    pub seconds: Option<f64>,
}

/// The best figure and the places, in the list of names, of the solves that have it.
#[derive(Debug, Clone, PartialEq, Deserialize, JsonSchema, Serialize)]
pub struct Best<T> {
    /// The figure.
    pub value: T,
    /// Whose it is.
    pub of: Vec<usize>,
}

/// A thing that is solved at the end of a step: so many pairs, then the stages of the last layer.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Point {
    Pairs(usize),
    Oriented,
    Permuted,
    End,
}

/// A point a solve came to, with what it had spent since the point before: turns, and seconds if every step
/// since is timed.
type Reached = (Point, usize, Option<f64>);

fn points(facts: &Annotation) -> Vec<Reached> {
    let mut points: Vec<Reached> = Vec::new();
    let (mut pairs, mut obtm, mut seconds) = (0, 0, Some(0.0));
    for step in facts.steps.iter().filter(|step| step.kind != StepKind::Inspection) {
        pairs += step.pairs.len();
        obtm += step.obtm;
        // A step without turns takes no time of its own; whether it is timed does not matter.
        let step_seconds = if step.obtm == 0 { step.seconds.total.or(Some(0.0)) } else { step.seconds.total };
        seconds = seconds.zip(step_seconds).map(|(a, b)| a + b);
        let oriented = step.skips.contains(&Skip::Oll);
        let point = match step.kind {
            StepKind::Cross | StepKind::Pair if step.skips.contains(&Skip::Pll) => Point::Permuted,
            StepKind::Cross | StepKind::Pair if oriented => Point::Oriented,
            StepKind::Cross | StepKind::Pair => Point::Pairs(pairs),
            StepKind::Orient if step.skips.contains(&Skip::Pll) => Point::Permuted,
            StepKind::Orient => Point::Oriented,
            StepKind::Permute | StepKind::LastLayer => Point::Permuted,
            _ => continue,
        };
        points.push((point, obtm, seconds));
        (obtm, seconds) = (0, Some(0.0));
    }
    // Only a solved cube is an end that all come to. Who needed no final adjustment has spent nothing on it.
    if facts.solved {
        points.push((Point::End, obtm, seconds));
    }
    points
}

/// The best of each stage. The solves are those of `names`, in order; each as far as it is annotated.
///
/// # Panics
///
/// If there is not a name for each solve.
#[must_use]
pub fn best_steps(names: &[String], solves: &[&Annotation]) -> BestSteps {
    assert_eq!(names.len(), solves.len(), "a name for each solve");
    let points: Vec<Vec<Reached>> = solves.iter().map(|facts| points(facts)).collect();
    let common: Vec<Point> = points.first().map_or_else(Vec::new, |first| {
        let all = |point: &Point| points.iter().all(|of| of.iter().any(|(at, ..)| at == point));
        first.iter().map(|(point, ..)| *point).filter(all).collect()
    });
    let mut stages = Vec::new();
    let mut before = None;
    for point in common {
        let sides: Vec<StageSide> = points.iter().map(|of| between(of, before, point)).collect();
        let of = |is: &dyn Fn(&StageSide) -> bool| {
            sides.iter().enumerate().filter(|(_, side)| is(side)).map(|(i, _)| i).collect::<Vec<_>>()
        };
        let fewest = sides.iter().map(|side| side.obtm).min().unwrap_or(0);
        let fastest = sides.iter().filter_map(|side| side.seconds).min_by(f64::total_cmp);
        let stage = BestStage {
            name: stage_name(before, point),
            fewest_turns: Best { value: fewest, of: of(&|side| side.obtm == fewest) },
            fastest: fastest.map(|value| Best { value, of: of(&|side| side.seconds == Some(value)) }),
            sides,
        };
        before = Some(point);
        // A stage in which nobody did anything (no final adjustment anywhere) is none.
        if stage.sides.iter().any(|side| side.obtm > 0) {
            stages.push(stage);
        }
    }
    let seconds =
        stages.iter().map(|stage| stage.fastest.as_ref().map(|best| best.value)).sum::<Option<f64>>();
    let whole = |of: &Vec<Reached>| of.iter().map(|(_, _, seconds)| *seconds).sum::<Option<f64>>();
    BestSteps {
        format: BestFormat::BestSteps2,
        names: names.to_vec(),
        obtm: stages.iter().map(|stage| stage.fewest_turns.value).sum(),
        seconds: seconds.filter(|_| !stages.is_empty()).map(micro),
        whole_obtm: solves.iter().map(|facts| facts.obtm).collect(),
        whole_seconds: points
            .iter()
            .zip(solves)
            .map(|(of, facts)| whole(of).filter(|_| facts.solved).map(micro))
            .collect(),
        stages,
    }
}

/// What a solve spent after the point `before` up to the point `to`.
fn between(points: &[Reached], before: Option<Point>, to: Point) -> StageSide {
    let stage = points.iter().filter(|(at, ..)| *at <= to && before.is_none_or(|before| *at > before));
    let (obtm, seconds) = stage.fold((0, Some(0.0)), |(obtm, seconds), (_, more, time)| {
        (obtm + more, seconds.zip(*time).map(|(a, b)| a + b))
    });
    StageSide { obtm, seconds: seconds.map(micro) }
}

/// What the work from one point to another is called.
pub(super) fn stage_name(before: Option<Point>, to: Point) -> String {
    let first = match before {
        Some(Point::Pairs(pairs)) => pairs + 1,
        _ => 1,
    };
    let mut parts = Vec::new();
    if before.is_none() {
        parts.push("cross".to_string());
    }
    let in_pairs = matches!(before, None | Some(Point::Pairs(_)));
    let last = if let Point::Pairs(pairs) = to { pairs } else { 4 };
    if in_pairs && first == last {
        parts.push(format!("pair {first}"));
    } else if in_pairs && first + 1 == last {
        parts.push(format!("pairs {first} and {last}"));
    } else if in_pairs && first < last {
        parts.push(format!("pairs {first} to {last}"));
    }
    let begun = before.filter(|before| !matches!(before, Point::Pairs(_)));
    for (point, name) in [(Point::Oriented, "OLL"), (Point::Permuted, "PLL"), (Point::End, "AUF")] {
        if point <= to && begun.is_none_or(|begun| point > begun) {
            parts.push(name.into());
        }
    }
    if parts.is_empty() { "end".into() } else { and(&parts) }
}

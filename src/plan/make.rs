//! A plan put to a moment of a solve, and what was played beside it.

use std::fmt;

use super::facts::{
    Compared, Format, Line, Moment, Next, Offered, Plan, Planned, Played, PlayedStep, SettingsUsed,
};
use super::lines::Planner;
use super::order::{Order, OrderLine};
use crate::annotation::{Annotation, HoldNames, PricedLine};
use crate::clock::micro;
use crate::cube::{Colour, FaceSet, Moves, Pair, Position, Stickers};
use crate::hands::{HalfUnits, Handling, Hands, canonical, turns_of};
use crate::scan::tier_to_play;
use crate::sight::grades::{Grade, Left, Looked};
use crate::sight::{Moments, Piece};
use crate::steps::Kind;
use crate::study::Study;

/// Why there is nothing to plan, for the person.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum NoPlan {
    /// Nothing could be played.
    NotPlayed,
    /// No cross is ever solved.
    NoCross,
    /// The cross is not whole at the moment; the nearest moments at which it is.
    CrossNotWhole {
        /// The moment.
        moment: usize,
        /// The last one before.
        before: Option<usize>,
        /// The first one after.
        after: Option<usize>,
    },
    /// One hand solved it.
    OneHanded,
    /// All pairs are in.
    AllIn {
        /// The moment.
        moment: usize,
        /// What to name instead, where the cross is whole and a pair open: the end of the cross, else the last such moment.
        earlier: Option<String>,
    },
    /// No line that may be played leads on.
    NoLine,
}

impl fmt::Display for NoPlan {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            NoPlan::NotPlayed => f.write_str("nothing of it can be played, so there is nothing to plan from"),
            NoPlan::NoCross => f.write_str("no cross is solved in it, so there is nothing to plan from"),
            NoPlan::CrossNotWhole { moment, before, after } => {
                write!(f, "after {moment} tokens the cross is not whole, and a plan begins where it is")?;
                match (before, after) {
                    (Some(before), Some(after)) => write!(f, ": --at {before} or --at {after}"),
                    (Some(one), None) | (None, Some(one)) => write!(f, ": --at {one}"),
                    (None, None) => Ok(()),
                }
            }
            NoPlan::OneHanded => f.write_str(
                "it was solved with one hand, and what lines cost is only known for two; so there is no plan of it",
            ),
            NoPlan::AllIn { moment, earlier } => {
                write!(f, "after {moment} tokens all four pairs are in")?;
                match earlier {
                    Some(earlier) => write!(f, "; name an earlier moment, such as --at {earlier}"),
                    None => f.write_str(", and at no earlier moment is the cross done with a pair still open"),
                }
            }
            NoPlan::NoLine => {
                f.write_str("no line leads on from there within this many turns; raise --within")
            }
        }
    }
}

impl std::error::Error for NoPlan {}

/// The moment from which a plan is made if none is named: the end of the cross; of a record that ends before its pairs are
/// in, its end.
fn usual(study: &Study<'_>) -> Result<usize, NoPlan> {
    let solve = &study.solve;
    if !study.scramble_whole() || solve.steps.is_empty() {
        return Err(NoPlan::NotPlayed);
    }
    if let Some(cross) = solve.cross.filter(|_| !solve.first_two_layers) {
        // What is played after the last step may have broken the cross; then it is planned from where that was whole.
        let reached = solve.steps.iter().rfind(|step| matches!(step.kind, Kind::Cross | Kind::Pair));
        let whole = study.replay.end().state.cross_solved(cross);
        return Ok(reached.filter(|_| !whole).map_or(study.replay.moves.len(), |step| step.to));
    }
    let cross = solve.steps.iter().find(|step| step.kind == Kind::Cross);
    cross.map(|step| step.to).ok_or(NoPlan::NoCross)
}

/// The plan of one record from a moment, or from where a plan is usually made: the end of the cross; of a record that
/// ends before its pairs are in, its end. `annotation` is what [`annotate`](crate::annotate::annotate()) says of the same
/// study: its sight holds, and its times. With `all`, the best order for each first pair.
///
/// # Errors
/// Why there is nothing to plan.
///
/// # Panics
/// If there is no such moment.
pub fn plan(
    study: &Study<'_>,
    annotation: &Annotation,
    planner: &Planner,
    at: Option<usize>,
    all: bool,
) -> Result<Plan, NoPlan> {
    let usual = usual(study)?;
    if study.record.hands != Hands::Two {
        return Err(NoPlan::OneHanded);
    }
    let moment = at.unwrap_or(usual);
    let cross = study.solve.cross.ok_or(NoPlan::NoCross)?;
    let moments = &study.replay.moments;
    let from = moments[moment];
    let open =
        |moment: usize| Pair::all(cross).into_iter().any(|pair| !moments[moment].state.pair_solved(pair));
    let whole = |&moment: &usize| moments[moment].state.cross_solved(cross) && open(moment);
    let in_last_layer = study.solve.first_two_layers
        && study
            .solve
            .steps
            .iter()
            .rfind(|step| !step.pairs.is_empty())
            .is_some_and(|step| moment >= step.to);
    let solve_steps = || study.solve.steps.iter();
    if in_last_layer || !open(moment) {
        let cross = solve_steps().find(|step| step.kind == Kind::Cross).map(|step| step.to);
        let earlier = match cross.filter(|at| *at < moment && whole(at)) {
            Some(_) => Some("cross".to_owned()),
            None => (0..moment).rev().find(whole).map(|at| at.to_string()),
        };
        return Err(NoPlan::AllIn { moment, earlier });
    }
    if !whole(&moment) {
        let before = (0..moment).rev().find(whole);
        let after = (moment..moments.len()).find(whole);
        return Err(NoPlan::CrossNotWhole { moment, before, after });
    }
    let rate = annotation.timing.seconds_per_unit;
    let maker = Maker { planner, cross, sight: annotation.sight, rate };
    let (best, searched) = if all {
        planner.best_for_each(&from, cross, annotation.sight)
    } else {
        let (best, searched) = planner.best(&from, cross, annotation.sight, None);
        (best.into_iter().collect(), searched)
    };
    if best.is_empty() {
        return Err(NoPlan::NoLine);
    }
    let played = maker.played(study, annotation, moment);
    let compared = played.as_ref().filter(|played| played.all_in).map(|played| {
        let holds = study.solve.steps.iter().filter(|step| step.kind == Kind::Pair && step.to > moment);
        let holds: Vec<Position> = holds.map(|step| moments[step.from.max(moment)]).collect();
        maker.compared(&best[0], played, &holds)
    });
    let index = study.solve.steps.iter().position(|step| {
        step.to == moment && step.from < step.to && matches!(step.kind, Kind::Cross | Kind::Pair)
    });
    Ok(Plan {
        format: Format::Plan1,
        file: annotation.file.clone(),
        record: annotation.record,
        title: annotation.heading(),
        solver: annotation.solver.clone(),
        setup: annotation.setup(moment),
        at: Moment {
            moment,
            after: index.map(|index| study.solve.name(index).to_string()),
            end: moment + 1 == moments.len(),
        },
        cross,
        hold: HoldNames::from(from.hold),
        stickers: Stickers::of(&from),
        sight: annotation.sight,
        offers: maker.offers(&from),
        orders: best.iter().map(|order| maker.planned(order)).collect(),
        played,
        compared,
        settings: SettingsUsed {
            within: planner.settings().within,
            over: planner.settings().over.units(),
            lead: planner.settings().lead,
            weights: planner.settings().weights.to_string(),
        },
        positions: searched.positions,
        lines: searched.lines,
    })
}

/// What does not change over one plan.
struct Maker<'a> {
    planner: &'a Planner,
    cross: Colour,
    sight: FaceSet,
    /// Seconds a unit, by this solver's own turning.
    rate: Option<f64>,
}

impl Maker<'_> {
    /// A cost in seconds.
    fn seconds(&self, cost: HalfUnits) -> Option<f64> {
        self.rate.map(|rate| micro(cost.units() * rate))
    }

    fn offers(&self, from: &Position) -> Vec<Offered> {
        let pairs = Pair::all(self.cross);
        let open: Vec<Pair> = pairs.into_iter().filter(|&pair| !from.state.pair_solved(pair)).collect();
        let here = [*from];
        let looked = Looked::new(Moments::new(&here, &[]), self.cross, &open, &[], self.sight);
        let mut offers: Vec<Offered> = open
            .iter()
            .map(|&pair| {
                let cheapest = self.planner.cheapest(from, self.cross, pair);
                let cost = cheapest.as_ref().map(|&(cost, _)| cost);
                let line = cheapest.map(|(cost, moves)| PricedLine {
                    obtm: moves.iter().map(|mv| mv.obtm()).sum(),
                    text: Moves::from(moves),
                    cost: cost.units(),
                    played: false,
                });
                let [corner, edge] = Piece::of_pair(pair);
                Offered {
                    pair: pair.name(),
                    tier: tier_to_play(pair.corner, self.cross, &[], &from.state),
                    corner: corner.place(from),
                    edge: edge.place(from),
                    corner_grade: looked.grade(corner, 0),
                    edge_grade: looked.grade(edge, 0),
                    tilt: looked.tilt(pair, self.planner.settings().lead).map(|more| more.faces),
                    seconds: cost.and_then(|cost| self.seconds(cost)),
                    line,
                }
            })
            .collect();
        offers.sort_by_key(|offer| offer.tier);
        offers
    }

    fn planned(&self, order: &Order) -> Planned {
        Planned { seconds: self.seconds(order.cost), ..Planned::of(order) }
    }

    /// The pair steps after a moment.
    fn played(&self, study: &Study<'_>, annotation: &Annotation, moment: usize) -> Option<Played> {
        let weights = &self.planner.settings().weights;
        let mut steps = Vec::new();
        let (mut turning, mut stopped, mut cost) = (Some(0.0), Some(0.0), HalfUnits::ZERO);
        let mut all = Vec::new();
        for (step, facts) in study.solve.steps.iter().zip(&annotation.steps) {
            if step.kind != Kind::Pair || step.to <= moment {
                continue;
            }
            let from = step.from.max(moment);
            let whole = from == step.from;
            let moves = &study.replay.moves[from..step.to];
            let hold = study.replay.moments[from].hold;
            let own = Handling::new(&turns_of(hold, moves), self.cross, weights).cost(hold);
            cost += own;
            all.extend_from_slice(moves);
            let seconds = |seconds: Option<f64>| seconds.filter(|_| whole);
            let (before, inside) = (seconds(facts.seconds.before), seconds(facts.seconds.inside));
            turning = add(turning, seconds(facts.seconds.turning));
            stopped = add(add(stopped, before), inside.or(before.map(|_| 0.0)));
            steps.push(PlayedStep {
                pairs: step.pairs.iter().map(|pair| pair.name()).collect(),
                text: moves.into(),
                obtm: moves.iter().map(|mv| mv.obtm()).sum(),
                cost: own.units(),
                before,
                stop: whole && facts.stop_before().is_some_and(|stop| !stop.derived),
                inside,
            });
        }
        (!steps.is_empty()).then(|| Played {
            obtm: all.iter().map(|mv| mv.obtm()).sum(),
            rotations: all.iter().filter(|mv| mv.is_rotation()).count(),
            cost: cost.units(),
            turning: turning.map(micro),
            stopped: stopped.map(micro),
            all_in: study.solve.first_two_layers,
            steps,
        })
    }

    /// The best order beside what was played; `from` is where each played step begins.
    fn compared(&self, order: &Order, played: &Played, from: &[Position]) -> Compared {
        let turns =
            |position: &Position, moves: &[crate::cube::Move]| canonical(&turns_of(position.hold, moves));
        let same_lines = order
            .lines
            .iter()
            .zip(played.steps.iter().zip(from))
            .take_while(|(line, (step, from))| turns(&line.start, &line.moves) == turns(from, &step.text))
            .count();
        let saves = played.cost - order.cost.units();
        let saves_turning = self.rate.map(|rate| {
            let model = saves * rate;
            let clock = played.turning.map(|turning| turning - order.cost.units() * rate);
            micro(clock.map_or(model, |clock| clock.min(model)))
        });
        let first = played.steps.first().and_then(|step| step.before);
        Compared {
            same_lines,
            same: same_lines == order.lines.len() && same_lines == played.steps.len(),
            saves,
            saves_turning,
            saves_stopped: played.stopped.zip(first).map(|(stopped, first)| micro(stopped - first)),
        }
    }
}

fn add(sum: Option<f64>, more: Option<f64>) -> Option<f64> {
    Some(sum? + more?)
}

fn line(line: &OrderLine) -> Line {
    Line {
        pairs: line.solves.iter().map(|pair| pair.name()).collect(),
        text: line.moves.as_slice().into(),
        obtm: line.turns(),
        cost: line.cost.units(),
        next: line.next.as_ref().map(next),
    }
}

fn next(left: &Left) -> Next {
    Next {
        pair: left.pair.name(),
        ready: left.ready,
        lead: left.lead,
        told_lead: left.told_lead,
        at_once: left.told_from() == Some(0),
        deduced: left.only_deduced(),
        corner_found: left.corner.found().is_some(),
        edge_found: left.edge.found().is_some(),
    }
}

impl Offered {
    /// What the eyes have of the pair: what they have of the worse of its pieces.
    #[must_use]
    pub fn grade(&self) -> Grade {
        self.corner_grade.min(self.edge_grade)
    }
}

impl Planned {
    /// The facts of an order, without seconds.
    #[must_use]
    pub fn of(order: &Order) -> Planned {
        Planned {
            late: order.late,
            obtm: order.turns(),
            rotations: order.rotations(),
            cost: order.cost.units(),
            seconds: None,
            lines: order.lines.iter().map(line).collect(),
        }
    }
}

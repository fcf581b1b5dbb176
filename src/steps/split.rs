//! The rules that say where each step ends (see `docs/method.md`).

use std::fmt;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::cube::{Colour, Corner, Edge, Face, FaceTurn, Pair, Position, State};
use crate::replay::Replay;

/// What a step is for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Kind {
    /// Rotations before the first turn.
    Inspection,
    /// Up to the first moment all four cross edges are solved.
    Cross,
    /// Up to the first moment the cross is solved and more pairs are than before.
    Pair,
    /// Up to the first moment every last-layer sticker faces away from the cross.
    Orient,
    /// Up to the first moment the cube is solved but for a turn of the last layer.
    Permute,
    /// Orientation and permutation reached at one moment.
    LastLayer,
    /// Up to the first moment the cube is solved.
    Adjust,
    /// What follows the last milestone that was reached, in a record that does not get to the end.
    Rest,
}

/// A milestone that took no turns because it was there already.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Deserialize, JsonSchema, Serialize)]
pub enum Skip {
    /// The last layer was oriented when the last pair came in.
    #[serde(rename = "OLL")]
    Oll,
    /// The last layer was permuted (but for a turn of it) when it was oriented.
    #[serde(rename = "PLL")]
    Pll,
}

impl fmt::Display for Skip {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(match self {
            Skip::Oll => "OLL",
            Skip::Pll => "PLL",
        })
    }
}

/// One step: the moves from moment `from` up to moment `to`.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Step {
    /// What it is for.
    pub kind: Kind,
    /// The moment it begins.
    pub from: usize,
    /// The moment it ends.
    pub to: usize,
    /// The pairs that were solved at its end and not at its beginning: one or more for a pair step, those
    /// of an xcross for the cross.
    pub pairs: Vec<Pair>,
    /// Milestones that were reached at its end without a step of their own.
    pub skips: Vec<Skip>,
}

/// How the solve ended, judged as WCA Regulation 10e judges it; the orientation of the whole cube does not
/// matter (10c).
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum End {
    /// Solved.
    Solved,
    /// This one turn (in OBTM) short: solved with a penalty of two seconds (10e3).
    OneTurnShort(FaceTurn),
    /// More than one turn short: not a solve (10e4).
    Unsolved,
}

/// A replay cut into steps.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Solve {
    /// The cross colour; `None` if no cross was ever solved by moves of this record.
    pub cross: Option<Colour>,
    /// Whether the first two layers were finished.
    pub first_two_layers: bool,
    /// Whether the record is cross first: some pair came in after the cross.
    pub cross_first: bool,
    /// The steps, in order, without holes: each begins where the one before ended.
    pub steps: Vec<Step>,
    /// How it ended.
    pub end: End,
}

impl Solve {
    /// A record of which nothing was played: no steps, nothing to judge.
    #[must_use]
    pub const fn unplayed() -> Solve {
        Solve {
            cross: None,
            first_two_layers: false,
            cross_first: false,
            steps: Vec::new(),
            end: End::Unsolved,
        }
    }

    /// The pairs that are solved when step `index` begins.
    #[must_use]
    pub fn solved_before(&self, index: usize) -> Vec<Pair> {
        self.steps[..index].iter().flat_map(|step| step.pairs.iter().copied()).collect()
    }

    /// The pairs that are still open when step `index` begins, in the order of [`Pair::all`].
    #[must_use]
    pub fn open_before(&self, index: usize) -> Vec<Pair> {
        let solved = self.solved_before(index);
        let all = self.cross.map(Pair::all);
        all.into_iter().flatten().filter(|pair| !solved.contains(pair)).collect()
    }

    /// The pair step that follows step `index`, if the next step is one.
    #[must_use]
    pub fn next_pairs(&self, index: usize) -> &[Pair] {
        match self.steps.get(index + 1) {
            Some(step) if step.kind == Kind::Pair => &step.pairs,
            _ => &[],
        }
    }
}

/// Cuts a replay into its steps.
#[must_use]
pub fn split(replay: &Replay) -> Solve {
    let end = judge(&replay.end().state);
    let last = replay.moves.len();
    let mut first_turn = replay.moves.iter().take_while(|mv| mv.is_rotation()).count();
    let found = find_cross(replay);
    // Where the cross is done before the first turn, inspection ends when it is down: a further rotation begins a pair.
    if let Some(found) = found.as_ref().filter(|found| found.cross_at <= first_turn) {
        let down = |&moment: &usize| replay.moments[moment].hold.colour(Face::D) == found.colour;
        first_turn = (0..=first_turn).find(down).unwrap_or(first_turn);
    }
    let mut steps = Vec::new();
    if first_turn > 0 {
        steps.push(step(Kind::Inspection, 0, first_turn));
    }
    let Some(found) = found else {
        if first_turn < last {
            steps.push(step(Kind::Rest, first_turn, last));
        }
        return Solve { cross: None, first_two_layers: false, cross_first: false, steps, end };
    };
    let cross = found.colour;
    let pairs = Pair::all(cross);
    // A cross that is solved before the first turn ends with the inspection.
    let cross_end = found.cross_at.max(first_turn);
    let mut solved: Vec<Pair> = solved_pairs(&replay.moments[cross_end].state, &pairs);
    let cross_first = solved.len() < 4;
    steps.push(Step { pairs: solved.clone(), ..step(Kind::Cross, first_turn, cross_end) });

    let mut at = cross_end;
    while solved.len() < 4 {
        let Some(to) = (at..=last).find(|&moment| {
            let state = &replay.moments[moment].state;
            state.cross_solved(cross) && {
                let now = solved_pairs(state, &pairs);
                now.len() > solved.len() && solved.iter().all(|pair| now.contains(pair))
            }
        }) else {
            break;
        };
        let now = solved_pairs(&replay.moments[to].state, &pairs);
        let new = now.iter().copied().filter(|pair| !solved.contains(pair)).collect();
        steps.push(Step { pairs: new, ..step(Kind::Pair, at, to) });
        solved = now;
        at = to;
    }
    let first_two_layers = solved.len() == 4;
    if first_two_layers {
        at = split_last_layer(replay, cross, at, &mut steps);
    }
    if at < last {
        finish(replay, at, end, &mut steps);
    }
    Solve { cross: Some(cross), first_two_layers, cross_first, steps, end }
}

/// The steps of the last layer, from the moment the first two layers are done; returns the moment of the last
/// milestone reached.
fn split_last_layer(replay: &Replay, cross: Colour, mut at: usize, steps: &mut Vec<Step>) -> usize {
    let last = replay.moves.len();
    let top = cross.opposite();
    let first_from =
        |at: usize, test: &dyn Fn(&State) -> bool| (at..=last).find(|&m| test(&replay.moments[m].state));
    let oriented = |state: &State| first_two_layers_solved(state, cross) && last_layer_oriented(state, top);
    let permuted = |state: &State| solved_but_for_a_turn_of(state, top);

    let Some(orient_end) = first_from(at, &oriented) else { return at };
    let permute_end = first_from(orient_end, &permuted);
    let coincide = permute_end == Some(orient_end);
    if orient_end == at {
        let before = steps.last_mut().expect("the cross step is there");
        before.skips.push(Skip::Oll);
        if coincide {
            before.skips.push(Skip::Pll);
        }
    } else {
        steps.push(if coincide {
            Step { skips: vec![Skip::Pll], ..step(Kind::LastLayer, at, orient_end) }
        } else {
            step(Kind::Orient, at, orient_end)
        });
        at = orient_end;
    }
    let Some(permute_end) = permute_end else { return at };
    if permute_end > at {
        steps.push(step(Kind::Permute, at, permute_end));
        at = permute_end;
    }
    let Some(solved) = first_from(at, &State::is_solved) else { return at };
    if solved > at {
        steps.push(step(Kind::Adjust, at, solved));
    }
    solved
}

/// Moves after the last milestone: rotations of a solved cube belong to the last step, anything else is the
/// rest.
fn finish(replay: &Replay, at: usize, end: End, steps: &mut Vec<Step>) {
    let last = replay.moves.len();
    let only_rotations = replay.moves[at..].iter().all(|mv| mv.is_rotation());
    match steps.last_mut() {
        Some(before) if only_rotations && end == End::Solved => before.to = last,
        _ => steps.push(step(Kind::Rest, at, last)),
    }
}

const fn step(kind: Kind, from: usize, to: usize) -> Step {
    Step { kind, from, to, pairs: Vec::new(), skips: Vec::new() }
}

/// Which cross a replay builds on.
struct Found {
    colour: Colour,
    cross_at: usize,
}

/// The colour whose cross and four pairs are first complete, ties to the earlier cross. If no colour gets so
/// far, the one whose cross is solved first: after a mistyped turn the cube is as good as scrambled, and
/// what other colours come together in it by chance says nothing of what the solver was doing.
fn find_cross(replay: &Replay) -> Option<Found> {
    let candidates = Colour::ALL.into_iter().filter_map(|colour| {
        let pairs = Pair::all(colour);
        let solved_at = |moment: &Position| moment.state.cross_solved(colour);
        let cross_at = replay.moments.iter().position(solved_at)?;
        let complete_at = replay
            .moments
            .iter()
            .position(|moment| solved_at(moment) && pairs.iter().all(|&pair| moment.state.pair_solved(pair)));
        Some((complete_at.unwrap_or(usize::MAX), cross_at, colour))
    });
    candidates.min().map(|(_, cross_at, colour)| Found { colour, cross_at })
}

fn solved_pairs(state: &State, pairs: &[Pair; 4]) -> Vec<Pair> {
    pairs.iter().copied().filter(|&pair| state.pair_solved(pair)).collect()
}

/// Whether the cross of this colour and its four pairs are solved.
#[must_use]
pub fn first_two_layers_solved(state: &State, cross: Colour) -> bool {
    state.cross_solved(cross) && Pair::all(cross).into_iter().all(|pair| state.pair_solved(pair))
}

/// Whether every sticker of the layer of `top` that has its colour is on its side, the layer holding nothing
/// but its own pieces.
#[must_use]
pub fn last_layer_oriented(state: &State, top: Colour) -> bool {
    let corners = Corner::ALL.into_iter().filter(|corner| corner.has(top));
    let edges = Edge::ALL.into_iter().filter(|edge| edge.has(top));
    corners.into_iter().all(|corner| state.corner(corner).side_of(corner, top) == Some(top))
        && edges.into_iter().all(|edge| state.edge(edge).side_of(edge, top) == Some(top))
}

/// Whether some turn of the layer of `top`, or none, solves the cube.
#[must_use]
pub fn solved_but_for_a_turn_of(state: &State, top: Colour) -> bool {
    state.is_solved()
        || FaceTurn::ALL
            .into_iter()
            .filter(|turn| turn.centre == top)
            .any(|turn| state.turned(turn).is_solved())
}

/// How a cube in this state is judged at the end of a solve.
#[must_use]
pub fn judge(state: &State) -> End {
    if state.is_solved() {
        return End::Solved;
    }
    FaceTurn::ALL
        .into_iter()
        .find(|&turn| state.turned(turn).is_solved())
        .map_or(End::Unsolved, End::OneTurnShort)
}

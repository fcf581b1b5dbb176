//! Why the hands stopped before a pair: the table of docs/method.md, as a function of facts.

use cornerwise::cube::{Amount, Face, Move};

use super::stickers::Pair;

/// What the cause of a stop depends on. Prices in units, more than the one taken; times in seconds.
#[derive(Debug, Clone)]
pub struct Facts {
    pub ready: bool,
    /// By plain sight alone.
    pub plain_ready: bool,
    /// Both pieces lay open before the first turn of the step.
    pub plain_at_once: bool,
    /// Another pair lay open in time after the same turns, and its line costs no more.
    pub other_plain: bool,
    /// The same of a pair whose corner ends up.
    pub other_plain_up: bool,
    /// The pair taken had been ready in the step before that one, and what was late moved once at most in this one.
    pub ready_before: bool,
    /// It was found with two turns to go, or with one and lies open at the end.
    pub by_a_hair: bool,
    /// After the cross: both pieces of the pair taken together are carried by no more turns of it than can be followed.
    pub followed: bool,
    /// The least that another pair costs more that the turns played left ready, of those that a coach would name.
    pub other_pair: Option<f64>,
    /// What the line costs more that would be told instead, and whether it is for another pair.
    pub other_line: Option<(f64, bool)>,
    /// What a unit takes this solver.
    pub seconds_a_unit: f64,
    pub stop: f64,
    /// A side face that is not in sight would have shown it in time, and the very pieces that were late.
    pub tilt: bool,
    /// What was not found in time lay open in the step before, not only in inspection, and moved once at most since.
    pub glance: bool,
}

/// The cause.
pub fn cause(facts: &Facts) -> &'static str {
    let mut worth = f64::min(facts.stop - 0.2, facts.stop / 2.0);
    if facts.followed {
        worth = worth.min(0.1);
    }
    let is_worth = |dearer: f64| dearer * facts.seconds_a_unit <= worth;
    let another_plan = |dearer: f64| facts.stop - dearer * facts.seconds_a_unit >= 0.35;
    let better = facts.other_pair.is_some_and(is_worth)
        || facts
            .other_line
            .is_some_and(|(dearer, another)| is_worth(dearer) && (!another || another_plan(dearer)));
    let a_glance = !facts.followed && (facts.ready_before || facts.by_a_hair);
    match facts {
        Facts { ready: true, followed: true, plain_at_once: false, .. } => "inspection",
        Facts { ready: true, plain_ready: true, .. } => "attention",
        Facts { ready: true, other_plain_up: true, .. } => "choice",
        Facts { ready: true, .. } => "deduction",
        _ if a_glance && facts.other_plain => "choice",
        _ if a_glance => "view",
        _ if better => "choice",
        Facts { followed: true, .. } => "inspection",
        Facts { tilt: true, .. } | Facts { glance: true, .. } => "view",
        _ => "position",
    }
}

/// Whether hands play a line so: the turns of a step that solved `played` pairs with so many turns could have been these,
/// which solve `solves`.
pub fn reads_as_played(tokens: &[Move], solves: &[Pair], played: &[Pair], played_turns: usize) -> bool {
    let turn = |&mv: &Move| match mv {
        Move::Turn(face, amount) => Some((face, amount)),
        // A wide d turns the top under the hands.
        Move::Wide(Face::D, amount) => Some((Face::U, amount)),
        _ => None,
    };
    let half_of_a_side =
        |(face, amount): (Face, Amount)| !matches!(face, Face::U | Face::D) && amount == Amount::Half;
    let round = tokens.windows(3).any(|three| match three.iter().map(turn).collect::<Vec<_>>()[..] {
        [Some(first), Some((Face::U, _)), Some(last)] => first == last && half_of_a_side(first),
        _ => false,
    });
    let turned: Vec<(Face, Amount)> = tokens.iter().filter_map(turn).collect();
    let length = turned.len();
    let same = solves.len() == played.len() && solves.iter().all(|pair| played.contains(pair));
    let long = if same {
        length >= 9 && (length > played_turns || turned.iter().copied().any(half_of_a_side))
    } else if solves.len() > played.len() {
        length > 6
    } else {
        length >= 9
    };
    !round && !long
}

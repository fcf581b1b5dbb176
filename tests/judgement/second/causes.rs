//! Why the hands stopped before a pair: the table of docs/method.md, as a function of facts.

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
    /// The pair taken had been ready in the step before that one.
    pub ready_before: bool,
    /// It was found with one or two turns to go.
    pub by_a_hair: bool,
    pub after_cross: bool,
    /// The least that anything costs more which leaves a pair ready.
    pub dearer: Option<f64>,
    /// What a unit takes this solver.
    pub seconds_a_unit: f64,
    pub stop: f64,
    /// A side face that is not in sight would have shown it in time, and the very pieces that were late.
    pub tilt: bool,
    /// What was not found in time lay open in the step before.
    pub glance: bool,
}

/// The cause.
pub fn cause(facts: &Facts) -> &'static str {
    let mut worth = f64::min(facts.stop - 0.2, facts.stop / 2.0);
    if facts.after_cross {
        worth = worth.min(0.1);
    }
    let better = facts.dearer.is_some_and(|dearer| dearer * facts.seconds_a_unit <= worth);
    let a_glance = !facts.after_cross && (facts.ready_before || facts.by_a_hair);
    match facts {
        Facts { ready: true, after_cross: true, plain_at_once: false, .. } => "inspection",
        Facts { ready: true, plain_ready: true, .. } => "attention",
        Facts { ready: true, other_plain_up: true, .. } => "choice",
        Facts { ready: true, .. } => "deduction",
        _ if a_glance && facts.other_plain => "choice",
        _ if a_glance => "view",
        _ if better => "choice",
        Facts { after_cross: true, .. } => "inspection",
        Facts { tilt: true, .. } | Facts { glance: true, .. } => "view",
        _ => "position",
    }
}

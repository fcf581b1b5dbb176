//! The best order of a plan written as a record, so that whatever looks at records can look at it.

use super::Plan;
use crate::annotation::Annotation;

/// The solve as it was played up to the moment, then the best order, a line each: a record in YAML that is meant to end
/// with the first two layers. `None` where nothing was planned.
#[must_use]
pub fn record(plan: &Plan, facts: &Annotation) -> Option<String> {
    let order = plan.orders.first()?;
    let played = facts.moments.get(1..=plan.at.moment)?.iter().filter_map(|moment| moment.token);
    let played: Vec<String> = played.map(|token| token.to_string()).collect();
    let lines: String = order.lines.iter().map(|line| format!("  {}\n", line.text)).collect();
    // What is written as JSON is YAML too.
    let title = serde_json::Value::from(format!("{}: without a stop", plan.title));
    Some(format!(
        "title: {title}\nscramble: {}\nsolution: |\n  {}\n{lines}sight: {}\nuntil: two layers\n",
        facts.scramble,
        played.join(" "),
        plan.sight
    ))
}

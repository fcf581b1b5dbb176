//! Words and figures that several views share, so that they say the same thing the same way.

use crate::annotation::{
    Alternative, Annotation, Choice, Next, OtherPair, Outcome, Scan, Step, StepKind, Verdict,
};
use crate::cube::Face;
use crate::scan::Tier;

/// The word for an outcome; a dash where there is none to tell.
#[must_use]
pub const fn outcome(outcome: Option<Outcome>) -> &'static str {
    match outcome {
        Some(outcome) => outcome.word(),
        None => "–",
    }
}

/// What an outcome means, in a few words.
#[must_use]
pub const fn outcome_meaning(outcome: Outcome) -> &'static str {
    match outcome {
        Outcome::Ready => "its corner is up, and corner and edge were seen in time",
        Outcome::Up => "its corner is up, but it or its edge was not seen in time",
        Outcome::Down => "its corner is down",
    }
}

/// What a tier means, in a few words.
#[must_use]
pub const fn tier_meaning(tier: Tier) -> &'static str {
    match tier {
        Tier::Top => "in the top layer",
        Tier::Target => "in the slot this step fills, so it comes out",
        Tier::Lifted => "in another open slot, and these turns bring it out",
        Tier::Slot => "in another open slot, and it stays there",
    }
}

/// `1 turn`, `3 turns`.
#[must_use]
pub fn turns(n: usize) -> String {
    if n == 1 { "1 turn".into() } else { format!("{n} turns") }
}

/// Seconds with two decimals and their unit.
#[must_use]
pub fn seconds(seconds: f64) -> String {
    format!("{seconds:.2} s")
}

/// When, within a step, a moment is, as a person counts it: `at once`, `after 3 (U')`, `after 8 (R', the last)`,
/// `never`.
#[must_use]
pub fn when(annotation: &Annotation, step: &Step, moment: Option<usize>) -> String {
    match moment {
        None => "never".into(),
        Some(moment) if moment <= step.from => "at once".into(),
        Some(moment) => {
            let token = annotation.moments.get(moment).and_then(|m| m.token);
            let token = token.map_or_else(|| "?".into(), |token| token.to_string());
            let last = if moment == step.to { ", the last" } else { "" };
            format!("after {} ({token}{last})", moment - step.from)
        }
    }
}

/// A sentence begins with a capital letter.
#[must_use]
pub fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

/// `green-red`, `green-red and blue-red`.
#[must_use]
pub fn list<T: ToString>(items: &[T]) -> String {
    let items: Vec<String> = items.iter().map(T::to_string).collect();
    match items.as_slice() {
        [] => String::new(),
        [one] => one.clone(),
        [most @ .., last] => format!("{} and {last}", most.join(", ")),
    }
}

/// Each written, with this between.
#[must_use]
pub fn joined<T: ToString>(items: &[T], between: &str) -> String {
    items.iter().map(T::to_string).collect::<Vec<_>>().join(between)
}

/// `1 turn unit`, `2.3 turn units`.
#[must_use]
pub fn units(cost: f64) -> String {
    let number = format!("{cost:.1}");
    let number = number.strip_suffix(".0").unwrap_or(&number);
    if number == "1" { "1 turn unit".into() } else { format!("{number} turn units") }
}

/// What a line costs beside the played step: `costs the same`, `saves 1.2 turn units`, `costs 0.4 turn units more`.
#[must_use]
pub fn cost(difference: f64) -> String {
    if difference.abs() < 0.05 {
        "costs the same".into()
    } else if difference < 0.0 {
        format!("saves {}", units(-difference))
    } else {
        format!("costs {} more", units(difference))
    }
}

/// What the search for other lines says of a step, after the word for the verdict.
#[must_use]
pub fn judgement(choice: &Choice) -> String {
    let many = |n: usize, what: &str| if n == 1 { format!("1 {what}") } else { format!("{n} {what}s") };
    let open = many(choice.open_pairs, "open pair");
    let offered = match choice.good_pairs {
        0 => "no line that leaves a pair ready".into(),
        n if n == choice.open_pairs => format!("a line that leaves a pair ready for each of the {open}"),
        n => format!("a line that leaves a pair ready for {n} of the {open}"),
    };
    let left = choice.played;
    let kind = if choice.every_line { "line" } else { "hand line" };
    let bound = turns(choice.within);
    let compared = match choice.lines {
        0 => format!("There is no {kind} up to {bound} at all."),
        1 => format!("There is only one {kind} up to {bound}."),
        n => format!("All {n} {kind}s up to {bound} were compared."),
    };
    let mut text = match choice.verdict {
        Verdict::Kept => format!("the position offered {offered}, and one was taken. {compared}"),
        Verdict::Avoidable => {
            let but = if choice.good_pairs == 0 { ", but one that leaves a corner up" } else { "" };
            format!(
                "the position offered {offered}{but}; the turns played left the next pair {left}. {compared}"
            )
        }
        Verdict::Forced => {
            let better = match choice.lines {
                0 => String::new(),
                _ => format!(" None leaves more than {left} {}.", within_slack(choice.slack)),
            };
            format!("the position offered nothing better than {left}. {compared}{better}")
        }
    };
    if choice.bound_below_played {
        text.push_str(" The turns played are longer than that.");
    }
    if !choice.played_is_hand_line {
        text.push_str(" The turns played are not a hand line.");
    }
    text
}

/// What a line may cost to count, in words.
fn within_slack(slack: f64) -> String {
    if slack == 0.0 {
        "at the cost of the turns played".into()
    } else {
        format!("and costs at most {} more than the turns played", units(slack))
    }
}

/// What the same turns left of another pair, in a sentence without its end.
#[must_use]
pub fn other_pair(other: &OtherPair) -> String {
    let cost = if other.dearer.abs() < 0.05 {
        "at the same cost".into()
    } else if other.dearer < 0.0 {
        format!("for {} less", units(-other.dearer))
    } else {
        format!("for {} more", units(other.dearer))
    };
    format!(
        "the same turns left {} {} (corner {}, edge {}), to be solved next {cost}",
        other.pair, other.outcome, other.corner, other.edge
    )
}

/// One alternative in a sentence without its end.
#[must_use]
pub fn alternative(alternative: &Alternative) -> String {
    let next = &alternative.next;
    format!(
        "leaves {} {}: its corner at {}, its edge at {}; {}",
        next.pair,
        outcome(Some(alternative.outcome)),
        next.corner,
        next.edge,
        cost(alternative.difference)
    )
}

/// Which better tier was passed over, in a sentence, if one was.
#[must_use]
pub fn passed_over(scan: &Scan) -> Option<String> {
    let best = scan.best.filter(|_| scan.passed_over)?;
    Some(format!("A better tier was passed over: {} was on offer as {}.", list(scan.tier(best)), best))
}

/// The heading of a step: its name, and the pairs it solves or the case it meets.
#[must_use]
pub fn heading(step: &Step) -> String {
    let name = capital(&step.name.to_string());
    match (step.case, step.pairs.is_empty()) {
        // Of `OLL` and `OLL 46` the second is enough.
        (Some(case), _) if step.kind != StepKind::LastLayer => case.to_string(),
        (Some(case), _) => format!("{name}: {case}"),
        (None, false) => format!("{name}: {}", list(&step.pairs)),
        (None, true) => name,
    }
}

/// Turns, seconds, pace and pause of a step, as far as they are known.
#[must_use]
pub fn figures(step: &Step) -> Vec<String> {
    let mut out = vec![turns(step.obtm)];
    if let Some(total) = step.seconds.total {
        out.push(seconds(total));
    }
    if let Some(rate) = step.seconds.turns_per_second {
        out.push(format!("{rate:.1} turns a second"));
    }
    out
}

/// The whole solve's figures: cross colour, how it ended, turns, time, what was in sight.
#[must_use]
pub fn facts(annotation: &Annotation) -> Vec<String> {
    let mut out = Vec::new();
    if let Some(cross) = &annotation.cross {
        out.push(format!("{cross} cross"));
    }
    out.push(match &annotation.end.missing {
        Some(turn) => format!("one turn short of solved ({turn}): +2 seconds"),
        None => annotation.end.judged.to_string(),
    });
    out.push(format!("{} OBTM, {} ETM", turns(annotation.obtm), annotation.etm));
    if let Some(time) = annotation.seconds {
        out.push(seconds(time));
    }
    if let Some(rate) = annotation.timing.turns_per_second {
        out.push(format!("{rate:.1} turns a second"));
    }
    out.push(format!("in sight: {}", annotation.sight));
    out
}

/// What to call the solve: its title, else its file and number.
#[must_use]
pub fn title(annotation: &Annotation) -> String {
    match annotation.title.as_deref().map(str::trim) {
        Some(title) if !title.is_empty() => title.to_owned(),
        _ => format!("{}, record {}", annotation.file, annotation.record),
    }
}

/// The lead in words, with what more faces in sight would have shown.
#[must_use]
pub fn lead(annotation: &Annotation, step: &Step, next: &Next) -> String {
    let mut out = match next.lead {
        Some(lead) => format!("lead {lead} of {}", turns(step.obtm)),
        None => "no lead: not both seen".into(),
    };
    if let Some(lead) = next.lead_seconds {
        out.push_str(&format!(" ({})", seconds(lead)));
    }
    if let Some(more) = &next.more {
        let faces: Vec<Face> = more.faces.iter().collect();
        let when = when(annotation, step, Some(more.from));
        out.push_str(&format!("; with {} in sight too, both seen {when}", list(&faces)));
    }
    out
}

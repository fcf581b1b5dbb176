//! Two solves of one scramble as CommonMark.

use super::{Markdown, Pictures, Writer, code, escape};
use crate::annotation::{Annotation, StepKind};
use crate::diff::{Comparison, Difference, Row, StepSide, Which};
use crate::report::lanes_svg::{self, Scale, Width};
use crate::report::picture::{self, Style};
use crate::report::{diff as text, figures, words};

/// One comparison.
#[must_use]
pub fn render(comparison: &Comparison, pictures: &Pictures) -> Markdown {
    let mut writer = Writer::new(pictures, Style::default(), 0);
    let titles = Which::BOTH.map(|which| escape(&words::title(comparison.annotations.of(which))));
    writer.block(&format!("# {}", titles.join(" / ")));
    let heads = Which::BOTH.map(|which| {
        let facts = comparison.annotations.of(which);
        let whose = whose(facts);
        format!("**{}**: {whose}. {}", comparison.names.of(which), words::facts(facts).join(" · "))
    });
    writer.list(heads);
    writer.block(&format!("Scramble: {}", code(&text::scramble(comparison))));
    writer.list(comparison.notices.iter().map(|notice| format!("Notice: {}", escape(notice))));
    writer.list(comparison.lesson.iter().map(|sentence| escape(&sentence.text)));
    if comparison.different {
        writer.block(&format!("They part {}.", escape(&text::parting(comparison))));
        let met: Vec<String> = comparison
            .meetings
            .iter()
            .take(3)
            .map(|meeting| escape(&text::met(comparison, meeting, " · ")))
            .collect();
        writer.block(&if met.is_empty() {
            "They never meet again.".into()
        } else {
            format!("They meet again {}.", met.join("; "))
        });
    }
    lanes(&mut writer, comparison);
    table(&mut writer, comparison);
    let hold = &comparison.hold;
    writer.block(&format!(
        "After = the turns of both as turns of the outer layers with {} up and {} in front; what only one side made is bold.",
        hold.up, hold.front
    ));
    for row in &comparison.rows {
        let same = if row.same_turns && row.a.is_some() && row.b.is_some() { ": the same turns" } else { "" };
        writer.block(&format!("## {}{same}", words::capital(&escape(&row.name))));
        for which in Which::BOTH {
            side(&mut writer, comparison, row, which);
        }
    }
    writer.out
}

fn whose(facts: &Annotation) -> String {
    let title = escape(&words::title(facts));
    facts.solver.as_deref().map_or(title.clone(), |solver| format!("{}, {title}", escape(solver)))
}

fn lanes(writer: &mut Writer, comparison: &Comparison) {
    let both = Which::BOTH.map(|which| comparison.annotations.of(which));
    let scale = Scale::of(&both);
    for (which, facts) in Which::BOTH.into_iter().zip(both) {
        let name = comparison.names.of(which);
        let says = format!("look-ahead lanes of {name}, to the same scale as the other's");
        writer.picture(&format!("lanes {name}"), &says, || lanes_svg::on_scale(facts, Width::Wide, scale));
    }
}

fn table(writer: &mut Writer, comparison: &Comparison) {
    let (a, b) = (&comparison.names.a, &comparison.names.b);
    let mut head = vec!["step".to_owned()];
    for name in [a, b] {
        head.extend(["turns", "seconds", "pause", "left"].map(|figure| format!("{name} {figure}")));
    }
    head.extend([format!("turns {b} less {a}"), format!("seconds {b} less {a}")]);
    let seconds = |seconds: Option<f64>| seconds.map_or_else(String::new, |seconds| format!("{seconds:.2}"));
    let difference = |difference: Option<Difference>| {
        let turns = difference.map_or_else(String::new, |difference| text::signed_turns(difference.obtm));
        let seconds = difference.and_then(|difference| difference.seconds);
        [turns, seconds.map_or_else(String::new, text::signed_seconds)]
    };
    let figures_of = |step: Option<&StepSide>| -> [String; 4] {
        let Some(step) = step else { return Default::default() };
        let long = if step.cause.is_some() { " (long)" } else { "" };
        let ready = step.next.as_ref().map(|next| next.ready);
        [
            step.obtm.to_string(),
            seconds(step.seconds),
            format!("{}{long}", seconds(step.pause)),
            ready.map_or("", words::left).to_owned(),
        ]
    };
    let mut rows: Vec<Vec<String>> = Vec::new();
    for row in &comparison.rows {
        let mut cells = vec![escape(&row.name)];
        cells.extend(figures_of(row.a.as_ref()));
        cells.extend(figures_of(row.b.as_ref()));
        cells.extend(difference(row.difference));
        rows.push(cells);
    }
    let compared = &comparison.compared;
    let mut total = vec![if compared.until.is_some() { "in common" } else { "total" }.to_owned()];
    for which in Which::BOTH {
        let turns = compared.obtm.of(which).to_string();
        total.extend([turns, seconds(*compared.seconds.of(which)), String::new(), String::new()]);
    }
    total.extend(difference(Some(comparison.difference)));
    rows.push(total);
    let head: Vec<&str> = head.iter().map(String::as_str).collect();
    writer.table(&head, rows);
}

fn side(writer: &mut Writer, comparison: &Comparison, row: &Row, which: Which) {
    let name = comparison.names.of(which);
    let Some(step) = row.of(which) else {
        writer.block(&format!("**{name}**: no step here."));
        return;
    };
    let mut parts = Vec::new();
    if !step.pairs.is_empty() {
        parts.push(words::list(&step.pairs));
    }
    parts.extend(step.case.map(|case| case.to_string()));
    parts.push(words::turns(step.obtm));
    parts.extend(step.seconds.map(words::seconds));
    if let (Some(pause), Some(cause)) = (step.pause, step.cause) {
        parts.push(format!("**{} stopped before it: {}**", words::seconds(pause), cause));
    }
    let written =
        if step.written.is_empty() { "no turns".to_owned() } else { code(&step.written.to_string()) };
    let mut lines = vec![format!("**{name}**: {}", parts.join(" · ")), written];
    if !row.same_turns && row.a.is_some() && row.b.is_some() {
        let stretches = row.turns.iter().filter(|stretch| stretch.only.is_none_or(|only| only == which));
        let shown: Vec<String> = stretches
            .map(|stretch| {
                let turns = escape(&stretch.turns.to_string());
                if stretch.only.is_some() { format!("**{turns}**") } else { turns }
            })
            .collect();
        lines.push(format!("= {}", shown.join(" ")));
    }
    if let Some(next) = &step.next {
        let lead = next.lead.map_or("no lead".into(), |lead| format!("lead {lead} of {}", step.obtm));
        let verdict = step.verdict.map_or(String::new(), |verdict| format!("; {verdict}"));
        let (meaning, left) = (words::tier_meaning(next.tier), words::left(next.ready));
        lines.push(format!("Next: **{}**, {meaning}. Left **{left}**, {lead}{verdict}.", next.pair));
    }
    // A backslash ends a line without ending the paragraph (CommonMark 0.31, section 6.7).
    writer.block(&lines.join("\\\n"));
    let facts = comparison.annotations.of(which);
    if let (Some(drawn), StepKind::Cross | StepKind::Pair) = (facts.steps.get(step.step), step.kind) {
        let picture = figures::step(facts, drawn, Style::default());
        let says = format!("the position before it. {}", picture.description);
        writer.picture(&format!("{} {name}", row.name), &says, || picture::svg(&picture));
    }
}

//! Two solves of one scramble on a page: the lesson, the lanes of both on one axis, a table of the steps, then every
//! step with the sides beside each other.

use super::{document, heading, step::word};
use crate::annotation::{Annotation, StepKind};
use crate::diff::{Comparison, Difference, Row, StepSide, Which};
use crate::harmless::one_line;
use crate::report::lanes_svg::{self, Scale, Width};
use crate::report::markup::Markup;
use crate::report::picture::{self, Style};
use crate::report::{diff as text, figures, words};

/// One file with these comparisons in it.
#[must_use]
pub fn page(comparisons: &[Comparison]) -> String {
    let title = match comparisons {
        [one] => Which::BOTH.map(|which| words::title(one.annotations.of(which))).join(" / "),
        many => format!("{} comparisons", many.len()),
    };
    document(&title, |out| {
        out.open("header").open("h1").open("bdi").text(&title).close().close().close();
        out.open("main");
        for comparison in comparisons {
            one(out, comparison, comparisons.len() > 1);
        }
        out.close();
    })
}

fn one(out: &mut Markup, comparison: &Comparison, several: bool) {
    out.open("article");
    let level = if several { 3 } else { 2 };
    if several {
        let names = Which::BOTH.map(|which| comparison.names.of(which).clone());
        out.leaf("h2", names.join(" and "));
    }
    out.open("dl");
    for which in Which::BOTH {
        let facts = comparison.annotations.of(which);
        out.leaf("dt", comparison.names.of(which)).open("dd").open("bdi").text(whose(facts)).close();
        out.text(" ")
            .open("span")
            .attr("class", "soft")
            .text(words::facts(facts).join(" · "))
            .close()
            .close();
    }
    out.close();
    out.open("p").text("Scramble ").open("span").attr("class", "turns");
    out.text(text::scramble(comparison)).close().close();
    for notice in &comparison.notices {
        out.open("p").attr("class", "fault").text(notice).close();
    }
    out.open("ul").attr("class", "say");
    for sentence in &comparison.lesson {
        out.open("li").open("bdi").text(&sentence.text).close().close();
    }
    out.close();
    if comparison.different {
        out.leaf("p", format_args!("They part {}.", text::parting(comparison)));
        let met: Vec<String> =
            comparison.meetings.iter().take(3).map(|meeting| text::met(comparison, meeting, " · ")).collect();
        out.leaf(
            "p",
            if met.is_empty() {
                "They never meet again.".into()
            } else {
                format!("They meet again {}.", met.join("; "))
            },
        );
    }
    lanes(out, comparison, level);
    table(out, comparison, level);
    out.leaf(heading(level), "Side by side");
    out.open("p").attr("class", "soft").text(format_args!(
        "After = the turns of both as turns of the outer layers with {} up and {} in front; what only one side made is marked.",
        comparison.hold.up, comparison.hold.front
    ));
    out.close();
    for row in &comparison.rows {
        sides(out, comparison, row, level + 1);
    }
    out.close().line();
}

fn whose(facts: &Annotation) -> String {
    let solver = facts.solver.as_deref().map(one_line).filter(|solver| !solver.is_empty());
    let title = one_line(&words::title(facts));
    solver.map_or(title.clone(), |solver| format!("{solver} · {title}"))
}

fn lanes(out: &mut Markup, comparison: &Comparison, level: usize) {
    let both = Which::BOTH.map(|which| comparison.annotations.of(which));
    if both.iter().all(|facts| facts.lanes.is_empty()) {
        return;
    }
    out.leaf(heading(level), "Where the next pair was");
    let scale = Scale::of(&both);
    for (which, facts) in Which::BOTH.into_iter().zip(both) {
        out.open("figure").open("figcaption").open("strong").text(comparison.names.of(which)).close();
        out.text(" ").open("bdi").text(whose(facts)).close().close();
        for (class, width) in [("lanes-wide", Width::Wide), ("lanes-narrow", Width::Narrow)] {
            out.open("div").attr("class", class).put(&lanes_svg::on_scale(facts, width, scale)).close();
        }
        out.close();
    }
    out.open("p").attr("class", "soft").text("Both are drawn to one scale.").close();
}

fn table(out: &mut Markup, comparison: &Comparison, level: usize) {
    out.leaf(heading(level), "Step by step");
    out.open("div")
        .attr("class", "scroll")
        .attr("tabindex", 0)
        .attr("role", "region")
        .attr("aria-label", "all steps");
    out.open("table").open("thead").open("tr").open("td").close();
    for which in Which::BOTH {
        out.open("th").attr("scope", "colgroup").attr("colspan", 4).text(comparison.names.of(which)).close();
    }
    let less = format!("{} less {}", comparison.names.b, comparison.names.a);
    out.open("th").attr("scope", "colgroup").attr("colspan", 2).text(less).close().close();
    out.open("tr").open("th").attr("scope", "col").text("step").close();
    for name in ["turns", "seconds", "pause", "left", "turns", "seconds", "pause", "left", "turns", "seconds"]
    {
        out.open("th")
            .attr("scope", "col")
            .attr_if("class", (name != "left").then_some("num"))
            .text(name)
            .close();
    }
    out.close().close().open("tbody");
    for row in &comparison.rows {
        out.open("tr").open("th").attr("scope", "row").text(&row.name).close();
        for which in Which::BOTH {
            figures_of(out, row.of(which));
        }
        difference(out, row.difference);
        out.close();
    }
    let compared = &comparison.compared;
    let name = if compared.until.is_some() { "in common" } else { "total" };
    out.open("tr").open("th").attr("scope", "row").text(name).close();
    for which in Which::BOTH {
        out.open("td").attr("class", "num").text(compared.obtm.of(which)).close();
        out.open("td").attr("class", "num").text(seconds(*compared.seconds.of(which))).close();
        out.open("td").close().open("td").close();
    }
    difference(out, Some(comparison.difference));
    out.close().close().close().close();
}

fn seconds(seconds: Option<f64>) -> String {
    seconds.map_or_else(String::new, |seconds| format!("{seconds:.2}"))
}

fn difference(out: &mut Markup, difference: Option<Difference>) {
    let turns = difference.map_or_else(String::new, |difference| text::signed_turns(difference.obtm));
    let seconds = difference.and_then(|difference| difference.seconds);
    out.open("td").attr("class", "num").text(turns).close();
    out.open("td").attr("class", "num").text(seconds.map_or_else(String::new, text::signed_seconds)).close();
}

fn figures_of(out: &mut Markup, step: Option<&StepSide>) {
    let Some(step) = step else {
        for _ in 0..4 {
            out.open("td").close();
        }
        return;
    };
    out.open("td").attr("class", "num").text(step.obtm).close();
    out.open("td").attr("class", "num").text(seconds(step.seconds)).close();
    out.open("td").attr("class", if step.cause.is_some() { "num long" } else { "num" });
    let about = if step.pause_derived && step.pause.is_some() { "about " } else { "" };
    out.text(about).text(seconds(step.pause)).close();
    out.open("td");
    if let Some(next) = &step.next {
        word(out, words::left(next.ready));
    }
    out.close();
}

/// One row with both sides.
fn sides(out: &mut Markup, comparison: &Comparison, row: &Row, level: usize) {
    out.open("section").attr("class", "card");
    let same = if row.same_turns && row.a.is_some() && row.b.is_some() { ": the same turns" } else { "" };
    out.leaf(heading(level), format_args!("{}{same}", words::capital(&row.name)));
    out.open("div").attr("class", "sides");
    for which in Which::BOTH {
        out.open("div").open("p").open("strong").text(comparison.names.of(which)).close();
        match row.of(which) {
            Some(step) => side(out, comparison, row, which, step),
            None => {
                out.text(": no step here").close();
            }
        }
        out.close();
    }
    out.close().close().line();
}

fn side(out: &mut Markup, comparison: &Comparison, row: &Row, which: Which, step: &StepSide) {
    let facts = comparison.annotations.of(which);
    let mut parts = Vec::new();
    if !step.pairs.is_empty() {
        parts.push(words::list(&step.pairs));
    }
    parts.extend(step.case.map(|case| case.to_string()));
    parts.push(words::turns(step.obtm));
    parts.extend(step.seconds.map(words::seconds));
    out.text(format_args!(" {}", parts.join(" · "))).close();
    if let (Some(pause), Some(cause)) = (step.pause, step.cause) {
        out.open("p").attr("class", "pause").open("strong");
        out.text(words::seconds(pause)).text(" stopped before it: ").text(cause).close().close();
    }
    let written = if step.written.is_empty() { "no turns".into() } else { step.written.to_string() };
    out.open("p").open("span").attr("class", "turns").text(written).close().close();
    if !row.same_turns && row.a.is_some() && row.b.is_some() {
        out.open("p").text("= ");
        for stretch in row.turns.iter().filter(|stretch| stretch.only.is_none_or(|only| only == which)) {
            match stretch.only {
                Some(_) => out.open("mark").text(&stretch.turns).close(),
                None => out.text(&stretch.turns),
            };
            out.text(" ");
        }
        out.close();
    }
    let Some(next) = &step.next else { return };
    out.open("p").text("Next: ").leaf("strong", next.pair);
    out.text(format_args!(", {}. ", words::tier_meaning(next.tier)));
    out.text("Left ");
    word(out, words::left(next.ready));
    out.text(next.lead.map_or(", not found".into(), |lead| format!(", {lead} to go")));
    if let Some(verdict) = step.verdict {
        out.text("; ");
        word(out, verdict.word());
    }
    out.text(".").close();
    if let (Some(drawn), true) =
        (facts.steps.get(step.step), matches!(step.kind, StepKind::Cross | StepKind::Pair))
    {
        out.open("figure").put(&picture::svg(&figures::step(facts, drawn, Style::default())));
        out.open("figcaption")
            .text(format_args!("Before it, held {} up, {} in front.", drawn.hold.up, drawn.hold.front));
        out.close().close();
    }
}

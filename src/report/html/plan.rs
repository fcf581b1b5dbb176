//! Plans and drills as pages: what the text says, set as a page. Answers open at a touch, without a script; with one a
//! drill's answers can be written down and are checked.

use super::super::markup::Markup;
use super::{blocks, document, heading, part};
use crate::annotation::Annotation;
use crate::drill::Drill;
use crate::plan::Plan;
use crate::report::figures;
use crate::report::picture::{self, Style};
use crate::story::blocks::Block;
use crate::story::{self, Asked, Checked};

/// Plans, one below the other, each with its best order to play through: annotated as the record that
/// [`record`](crate::plan::record) makes of it.
#[must_use]
pub fn plans(plans: &[(Plan, Option<Annotation>)]) -> String {
    let title = match plans {
        [(one, _)] => format!("{}: without a stop", one.title),
        many => format!("{} plans", many.len()),
    };
    document(&title, |out| {
        out.open("header").leaf("h1", "Without a stop").close().open("main").line();
        for (n, (plan, played)) in plans.iter().enumerate() {
            out.open("section");
            for block in &story::planned(plan) {
                match block {
                    Block::Title { words, figure } => {
                        out.open("h2");
                        blocks::inline(out, words);
                        out.text(format!(", {figure}")).close().line();
                    }
                    other => blocks::block(out, other, 3),
                }
            }
            if let Some(played) = played {
                let key = format!("plan{}-", n + 1);
                out.put(&part::player(played, Some(plan.at.moment), &key, Style::default()));
            }
            out.close().line();
        }
        out.close();
    })
}

/// The positions of one drill, each with its picture, every answer behind a fold; what can be answered in a word or two is
/// checked.
#[must_use]
pub fn drill(drills: &[Drill]) -> String {
    let head = drills.first().map(story::drill_head);
    let title = head.as_ref().map_or_else(|| "drill".to_owned(), |head| head.title.plain().into_owned());
    document(&title, |out| {
        out.open("header").leaf("h1", &title);
        if let Some(head) = &head {
            paragraph(out, |out| {
                blocks::inline(out, &head.hold);
                out.text(format!(" ({})", head.seed));
            });
        }
        out.close().open("main").attr("class", "drilled").line();
        positions(out, drills, 2);
        out.close();
    })
}

/// The positions one below the other, and at their end how many answers were right, once one has been given.
pub(super) fn positions(out: &mut Markup, drills: &[Drill], level: usize) {
    for one in drills {
        let Asked { scramble, question, answer } = story::drill(one);
        out.open("section").leaf(heading(level), one.number.to_string());
        paragraph(out, |out| {
            out.open("span").attr("class", "turns").text(scramble.to_string()).close();
        });
        let drawn = picture::still(&figures::drilled(one, Style::default()));
        out.open("figure").attr("class", "part").put(&drawn).close().line();
        paragraph(out, |out| blocks::inline(out, &question));
        if let Some(checked) = story::drill_checked(one) {
            asked(out, &checked);
        }
        out.open("details").leaf("summary", "Answer").open("ul");
        for phrase in &answer {
            out.open("li");
            blocks::inline(out, phrase);
            out.close();
        }
        out.close().close().close().line();
    }
    out.open("p").attr("class", "tally").attr("role", "status").attr("hidden", "").close().line();
}

/// A field for the answer, which a script shows and checks.
fn asked(out: &mut Markup, checked: &Checked) {
    out.open("div").attr("class", "quiz").attr("data-answers", serde_json::json!(checked.right));
    out.attr("data-form", format_args!("{}, as in {}.", checked.write, checked.example)).attr("hidden", "");
    out.open("p").open("label").text(format_args!("{} ", checked.write));
    out.open("input").attr("type", "text").attr("size", 9).attr("autocomplete", "off");
    out.attr("autocapitalize", "characters").attr("placeholder", checked.example).empty().close().text(" ");
    out.open("button").attr("type", "button").attr("class", "go").text("check").close().close();
    out.open("p").attr("class", "soft say").attr("role", "status").close().close().line();
}

fn paragraph(out: &mut Markup, body: impl FnOnce(&mut Markup)) {
    out.open("p");
    body(out);
    out.close().line();
}

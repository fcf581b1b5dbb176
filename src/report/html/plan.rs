//! Plans and drills as pages: what the text says, set as a page; answers open at a touch, without a script.

use super::super::markup::Markup;
use super::{blocks, document, part};
use crate::annotation::Annotation;
use crate::drill::Drill;
use crate::plan::Plan;
use crate::report::picture::Style;
use crate::story::blocks::Block;
use crate::story::{self, Asked};

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

/// The positions of one drill, every answer behind a fold.
#[must_use]
pub fn drill(drills: &[Drill]) -> String {
    let head = drills.first().map(story::drill_head);
    let title = head.as_ref().map_or_else(|| "drill".to_owned(), |head| head.title.plain());
    document(&title, |out| {
        out.open("header").leaf("h1", &title);
        if let Some(head) = &head {
            paragraph(out, |out| {
                blocks::inline(out, &head.hold);
                out.text(format!(" ({})", head.seed));
            });
        }
        out.close().open("main").line();
        for one in drills {
            let Asked { scramble, question, answer } = story::drill(one);
            out.open("section").leaf("h2", one.number.to_string());
            paragraph(out, |out| {
                out.open("span").attr("class", "turns").text(scramble.to_string()).close();
            });
            paragraph(out, |out| blocks::inline(out, &question));
            out.open("details").leaf("summary", "Answer").open("ul");
            for phrase in &answer {
                out.open("li");
                blocks::inline(out, phrase);
                out.close();
            }
            out.close().close().close().line();
        }
        out.close();
    })
}

fn paragraph(out: &mut Markup, body: impl FnOnce(&mut Markup)) {
    out.open("p");
    body(out);
    out.close().line();
}

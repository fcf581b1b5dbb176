//! The stage: the cube at the cursor, the clock, what moves it. Hidden until the page's script runs.

use crate::annotation::Annotation;
use crate::report::markup::Markup;
use crate::report::picture::{self, Signs, Style, View};

/// A button: what it does, what stands on it, what it says when pointed at, its key.
type Button = (&'static str, &'static str, &'static str);

const MOVE: [Button; 5] = [
    ("back", "back", "one turn back (left arrow)"),
    ("play", "play", "play along the marks (space)"),
    ("on", "on", "one turn on (right arrow)"),
    ("pace", "pace 1", "pace of playing (comma, full stop)"),
    ("loop", "repeat", "play this step again and again (r)"),
];

const LOOK: [Button; 5] = [
    ("signs", "letters", "letters or shapes on the stickers (l)"),
    ("folded", "folded out", "the cube folded out (f)"),
    ("other", "both lines", "the other line beside it (o)"),
    ("quiz", "ask me", "be asked before each pair (q)"),
    ("keys", "keys", "all keys (?)"),
];

const KEYS: [(&str, &str); 14] = [
    ("← →", "one turn"),
    ("shift ← →", "one step"),
    ("↑ ↓", "the stop before, after"),
    ("home, end", "first, last moment"),
    ("space", "play, pause"),
    (", .", "slower, faster"),
    ("r", "repeat the step"),
    ("l", "letters, shapes"),
    ("f", "folded out"),
    ("o", "both lines"),
    ("q", "ask me"),
    ("esc", "leave"),
    ("?", "these keys"),
    ("address", "#m=31 opens at moment 31"),
];

/// Writes it.
pub(super) fn write(out: &mut Markup, annotation: &Annotation, style: Style, has: Has) {
    out.open("section")
        .attr("class", "stage")
        .attr("hidden", "")
        .attr("aria-label", "the cube at this moment");
    let signs = match style.signs {
        Signs::None => "none",
        Signs::Letters => "letters",
        Signs::Shapes => "shapes",
    };
    out.attr("data-signs", signs).attr_if("data-folded", (style.view == View::Folded).then_some("true"));
    out.open("div").attr("class", "clock").open("output").attr("class", "t").close();
    out.open("div").attr("class", "when").open("p").attr("class", "w1").close();
    out.open("p").attr("class", "w2").close().close().close();
    out.open("div").attr("class", "fill").open("i").close().close();
    out.open("div").attr("class", "bar");
    toolbar(out, "move", "play", &MOVE, |_| true);
    toolbar(out, "look", "look", &LOOK, |name| match name {
        "other" => has.others,
        "quiz" => has.questions,
        _ => true,
    });
    out.close();
    out.open("dl").attr("class", "keylist").attr("hidden", "");
    for (key, does) in KEYS {
        out.open("div").leaf("dt", key).leaf("dd", does).close();
    }
    out.close();
    out.open("div").attr("class", "cubes");
    for which in ["a", "b"] {
        out.open("figure").attr("class", format_args!("fig-{which}"));
        out.attr_if("hidden", (which == "b").then_some(""));
        out.open("figcaption").close().open("div").attr("class", "cube-here");
        if which == "a" {
            out.put(&picture::stage(annotation.sight, View::Held));
            out.put(&picture::stage(annotation.sight, View::Folded));
        }
        out.close().close();
    }
    out.close();
    out.open("p").attr("class", "nowline").attr("aria-hidden", "true").close();
    out.close().line();
}

/// What a solve has to show besides its moments.
#[derive(Clone, Copy)]
pub(super) struct Has {
    /// Whether some step has another line.
    pub(super) others: bool,
    /// Whether there is something to be asked.
    pub(super) questions: bool,
}

fn toolbar(out: &mut Markup, class: &str, says: &str, buttons: &[Button], shown: impl Fn(&str) -> bool) {
    out.open("div")
        .attr("class", format_args!("keys {class}"))
        .attr("role", "group")
        .attr("aria-label", says);
    for (name, label, title) in buttons.iter().filter(|(name, ..)| shown(name)) {
        out.open("button").attr("type", "button").attr("data-do", name).attr("title", title);
        match *name {
            "play" | "loop" | "signs" | "folded" | "other" | "quiz" => {
                out.attr("aria-pressed", "false");
            }
            "keys" => {
                out.attr("aria-expanded", "false");
            }
            _ => {}
        }
        out.text(label).close();
    }
    out.close();
}

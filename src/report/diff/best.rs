//! The best of each step of several solves: a line a stage, a column a solve.

use owo_colors::OwoColorize;

use super::padded;
use crate::diff::{BestStage, BestSteps};
use crate::report::look::{Look, columns, wrap};

/// The table as text, ending with a line feed.
#[must_use]
pub fn render(best: &BestSteps, look: &Look) -> String {
    let longest = best.stages.iter().map(|stage| columns(&stage.name)).max().unwrap_or(0);
    let name = longest.max("whole solve".len());
    let timed = best.stages.iter().any(|stage| stage.fastest.is_some());
    let cell = if timed { 14 } else { 8 };
    let figures = |obtm: usize, seconds: Option<f64>, mark: &str| {
        let time = seconds.map_or("-".into(), |seconds| format!("{seconds:.2}"));
        let text = if timed { format!("{obtm} {time:>6}") } else { obtm.to_string() };
        format!("{text:>width$}{mark:<1}", width = cell - 1)
    };
    let is_best = |n: usize, stage: &BestStage| match &stage.fastest {
        Some(fastest) => fastest.of.contains(&n),
        None => stage.fewest_turns.of.contains(&n),
    };
    // As many solves to a block as the width allows.
    let fit = (look.width.saturating_sub(name) / cell).max(1);
    let mut out = String::from(if timed {
        "The best of each step: turns, seconds\n"
    } else {
        "The best of each step: turns\n"
    });
    for (n, block) in (0..best.names.len()).collect::<Vec<_>>().chunks(fit).enumerate() {
        if n > 0 {
            out.push('\n');
        }
        let heads: String =
            block.iter().map(|&n| format!("{:>width$} ", best.names[n], width = cell - 1)).collect();
        out.push_str(&format!("{}\n", format!("{:name$}{}", "", heads.trim_end()).style(look.palette.dim)));
        for stage in &best.stages {
            let mut line = padded(&stage.name, name);
            for &n in block {
                let side = &stage.sides[n];
                let best = is_best(n, stage);
                let text = figures(side.obtm, side.seconds, if best { "*" } else { "" });
                line.push_str(&if best { text.style(look.palette.good).to_string() } else { text });
            }
            out.push_str(&format!("{}\n", line.trim_end()));
        }
        let whole = block.iter().map(|&n| figures(best.whole_obtm[n], best.whole_seconds[n], ""));
        let whole = format!("{}{}", padded("whole solve", name), whole.collect::<String>());
        out.push_str(&format!("{}\n", whole.trim_end()));
    }
    out.push('\n');
    let turns = super::super::words::turns(best.obtm);
    let sum = match best.seconds {
        Some(seconds) => {
            format!(
                "* fastest. The fastest steps come to {seconds:.2} s, those with the fewest turns to {turns}"
            )
        }
        None => format!("* fewest turns. Together they come to {turns}"),
    };
    let sum = format!("{sum}: a sum, not a solve, for no step begins where another solver's ended.");
    out.push_str(&wrap(&sum, look.width, 0));
    out.push('\n');
    out
}

//! The drill that a saved survey names for what it found.

use std::fs;
use std::path::Path;

use clap::Parser;
use cornerwise::drill::Wish;
use cornerwise::harmless::one_line;
use cornerwise::report::json;
use cornerwise::survey::{Finding, Survey};

use super::Options;
use crate::cli::places::unreadable;
use crate::cli::session::Session;

/// A drill as a survey words it, read by the reader of the command line.
#[derive(Parser)]
#[command(no_binary_name = true)]
struct Named {
    #[command(flatten)]
    options: Options,
}

/// What the survey says, and over it what was asked for besides. Tells which finding it is.
///
/// # Errors
///
/// What the file does not have.
pub(super) fn wish(path: &Path, options: &Options, session: &Session<'_>) -> Result<Wish, String> {
    let text = fs::read_to_string(path).map_err(|error| unreadable(path, &error).message)?;
    let name = one_line(&path.display().to_string());
    let survey = read(&text).map_err(|wrong| format!("{name}{wrong}"))?;
    let (number, finding, words) = chosen(&survey, options.finding).map_err(|no| format!("{name}: {no}"))?;
    let named = Named::try_parse_from(words.split(' '))
        .map_err(|_| format!("{name}: there is no drill `{}`", one_line(words)))?
        .options;
    let kind = named.kind.ok_or_else(|| format!("{name}: there is no drill `{}`", one_line(words)))?;
    session.remark(format!("finding {number}, {}: drill {}", one_line(&finding.says), one_line(words)));
    let (asked, said) = (options.wish(kind), named.wish(kind));
    Ok(Wish {
        open: asked.open.or(said.open),
        tier: said.tier,
        shown_by: said.shown_by,
        turns: asked.turns.or(said.turns),
        ..asked
    })
}

/// The one survey in the text.
fn read(text: &str) -> Result<Survey, String> {
    let mut surveys = Vec::new();
    for (n, line) in text.lines().enumerate().filter(|(_, line)| !line.trim().is_empty()) {
        let survey = json::read_survey(line).map_err(|wrong| format!(":{}: {}", n + 1, one_line(&wrong)))?;
        surveys.push(survey);
    }
    let whose = |survey: &Survey| survey.solver.as_deref().map_or_else(|| "no name".into(), one_line);
    let named: Vec<String> = surveys.iter().map(whose).collect();
    match (surveys.pop(), surveys.is_empty()) {
        (None, _) => {
            Err(": nothing is in it; `cornerwise survey FOLDER --format json` makes a saved survey".into())
        }
        (Some(survey), true) => Ok(survey),
        (Some(_), false) => Err(format!(
            ": the surveys of several solvers ({}); save the one you mean with `survey --solver NAME`",
            named.join(", ")
        )),
    }
}

/// The finding that was asked for, or the first one to which there is a drill; with its number and the drill.
fn chosen(survey: &Survey, wanted: Option<usize>) -> Result<(usize, &Finding, &str), String> {
    let findings = &survey.findings;
    if findings.is_empty() {
        return Err(
            "this survey names nothing that goes with the stops, so there is nothing to practise from it"
                .into(),
        );
    }
    let mut with_drill = findings
        .iter()
        .enumerate()
        .filter_map(|(n, finding)| Some((n + 1, finding, finding.drill.as_deref()?)));
    match wanted {
        None => with_drill.next().ok_or_else(|| "of nothing in this survey positions can be made".into()),
        Some(n) if n == 0 || n > findings.len() => {
            Err(format!("--finding {n}: its findings are 1 to {}", findings.len()))
        }
        Some(n) => with_drill.find(|&(number, ..)| number == n).ok_or_else(|| {
            format!("--finding {n}: no position can be made for “{}”", one_line(&findings[n - 1].says))
        }),
    }
}

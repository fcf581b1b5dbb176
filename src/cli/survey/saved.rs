//! Surveys that were saved are printed again, in every form, as they were.

use cornerwise::harmless::one_line;
use cornerwise::report::json;
use cornerwise::survey::Survey;

use super::Run;
use crate::cli::records::Saved;
use crate::cli::session::Made;

/// The surveys among the lines of saved facts, and what is wrong with those that cannot be read, a message a line; of other
/// lines nothing.
pub(super) fn among(saved: &Saved) -> (Vec<Survey>, String) {
    let (mut surveys, mut messages) = (Vec::new(), String::new());
    for (line, words) in saved.words().filter(|(_, words)| json::is_survey(words)) {
        match json::read_survey(words) {
            Ok(survey) => surveys.push(survey),
            Err(wrong) => messages.push_str(&message(saved, line, &wrong)),
        }
    }
    (surveys, messages)
}

/// What is wrong with a line, as it is said.
pub(super) fn message(saved: &Saved, line: usize, wrong: &str) -> String {
    format!("cornerwise: {}:{line}: {}\n", one_line(&saved.name), one_line(wrong))
}

/// The views of saved surveys.
///
/// # Errors
///
/// What was asked for and cannot be had of them.
pub(super) fn told(run: &mut Run<'_>, surveys: &[Survey]) -> Result<Option<Made>, String> {
    let options = run.options;
    let counts_anew = [
        (options.solver.is_some(), "--solver"),
        (options.since.is_some(), "--since"),
        (!options.against.is_empty(), "--against"),
        (options.pages, "--pages"),
    ];
    if let Some((_, option)) = counts_anew.into_iter().find(|(asked, _)| *asked) {
        return Err(format!(
            "`{option}`: a saved survey is printed as it is; for this name the records, or the facts that `annotate \
             --format json` saves"
        ));
    }
    if run.settings_asked {
        return Err(
            "a saved survey is printed as it is; with other settings it is to be made anew from the records"
                .into(),
        );
    }
    run.shown(surveys)
}

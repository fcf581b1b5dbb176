//! How the end is judged, and what could not be told.

use crate::annotation::{EndJudged, Judged};
use crate::hands::Hands;
use crate::notation::Element;
use crate::steps::End;
use crate::study::Study;

/// The end in words. A record that was not played to its end is not judged.
pub(super) fn ending(study: &Study<'_>) -> EndJudged {
    match study.solve.end {
        _ if !study.whole() => EndJudged { judged: Judged::NotJudged, missing: None },
        End::Solved => EndJudged { judged: Judged::Solved, missing: None },
        End::OneTurnShort(turn) => {
            EndJudged { judged: Judged::OneTurnShort, missing: Some(study.written_at_end(turn)) }
        }
        End::Unsolved => EndJudged { judged: Judged::NotSolved, missing: None },
    }
}

/// What could not be told of the record, and why.
pub(super) fn untold(study: &Study<'_>) -> Vec<String> {
    let mut untold = Vec::new();
    if !study.scramble_whole() {
        untold.push(if study.record.scramble.tokens.is_empty() {
            "there is no scramble, so the solution was not played".into()
        } else {
            "the scramble cannot be read to its end, so the solution was not played".into()
        });
        return untold;
    }
    let played = study.replay.moves.len();
    if let Some(unplayed) = study.record.solution.tokens.get(played) {
        let why = match unplayed.element {
            Element::Gap => "an unknown stretch",
            Element::Unknown => "an unknown token",
            _ => "a token that cannot be read",
        };
        untold.push(format!(
            "the record was played up to {why}: {played} of {} tokens",
            study.record.solution.tokens.len()
        ));
    }
    if played == 0 {
        return untold;
    }
    match study.solve.cross {
        None => untold.push(
            "no cross of any colour is solved at any moment, so there are no steps to tell apart".into(),
        ),
        Some(colour) if !study.solve.cross_first => untold.push(format!(
            "the record is not cross first (the {colour} cross and all its pairs come in at one moment), so there \
             are no pairs to tell apart"
        )),
        // Where that was meant, or the record just breaks off, there is nothing to miss.
        Some(_)
            if !study.solve.first_two_layers && study.record.until.is_none() && !study.unfinished() =>
        {
            untold.push("the first two layers are never finished, so there is no last layer to name".into());
        }
        Some(_) => {}
    }
    if study.record.hands != Hands::Two {
        untold.push(
            "one hand turns other lines than two, so lines are not priced and no better one is told".into(),
        );
    }
    untold
}

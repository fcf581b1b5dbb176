//! Where the record and the replay disagree, how the end is judged, and what could not be told.

use super::words;
use crate::annotation::{EndJudged, Judged};
use crate::diagnostic::{Diagnostic, Span};
use crate::notation::Element;
use crate::steps::claims::Claim;
use crate::steps::{End, Kind};
use crate::study::Study;

/// The first claim that does not hold, as a note; what follows a mistake is mostly wrong too, so the others
/// are only counted.
pub(super) fn claims(study: &Study<'_>) -> Option<Diagnostic> {
    let played = study.replay.moves.len();
    let mut wrong = study.claims.iter().filter(|claim| !claim.holds && claim.to <= played);
    let first = wrong.next()?;
    let more = match wrong.count() {
        0 => String::new(),
        1 => "; one claim after it does not hold either".into(),
        n => format!("; {n} claims after it do not hold either"),
    };
    let found = found_between(study, first.from, first.to);
    Some(
        Diagnostic::note(
            "claim-contradicted",
            first.span,
            format!("the comment says “{}”, but {found}{more}", first.text),
        )
        .labelled(format!("{} is not reached by these turns", expected(&first.claim)))
        .with_help("look for a mistyped turn here or shortly before"),
    )
}

/// The last-layer cases that the writer names and the replay names otherwise.
pub(super) fn cases(study: &Study<'_>) -> Vec<Diagnostic> {
    let case_of = |kinds: [Kind; 2]| {
        let index = study.solve.steps.iter().position(|step| kinds.contains(&step.kind))?;
        study.case(index)
    };
    let mut wrong = Vec::new();
    for claim in study.claims.iter().filter(|claim| claim.holds) {
        let (claimed, found) = match &claim.claim {
            Claim::Orientation(Some(number)) => {
                (format!("OLL {number}"), case_of([Kind::Orient, Kind::LastLayer]))
            }
            Claim::Permutation(Some(letter)) => {
                (format!("PLL {letter}"), case_of([Kind::Permute, Kind::Permute]))
            }
            _ => continue,
        };
        if let Some(found) = found.filter(|found| found.to_string() != claimed) {
            wrong.push(
                Diagnostic::note(
                    "claim-contradicted",
                    claim.span,
                    format!("the comment says “{}”, but the replay has {found}", claim.text),
                )
                .with_help("the number or letter may be mistyped, or a turn before it"),
            );
        }
    }
    wrong
}

fn expected(claim: &Claim) -> String {
    match claim {
        Claim::Cross { pairs: 0 } => "the cross".into(),
        Claim::Cross { pairs } => format!("a cross with {pairs} of its pairs"),
        Claim::Pairs(numbers) => {
            let numbers: Vec<String> = numbers.iter().map(ToString::to_string).collect();
            format!("pair {}", words::list(&numbers))
        }
        Claim::NamedPair([a, b]) => format!("the {a}-{b} pair"),
        Claim::SomePair => "a pair".into(),
        Claim::Orientation(_) => "the OLL".into(),
        Claim::Permutation(_) => "the PLL".into(),
        Claim::Adjust => "a solved cube".into(),
    }
}

/// What the replay has between two moments, in words.
fn found_between(study: &Study<'_>, from: usize, to: usize) -> String {
    let reached: Vec<String> = study
        .solve
        .steps
        .iter()
        .enumerate()
        .filter(|(_, step)| step.to > from && step.to <= to)
        .filter(|(_, step)| !matches!(step.kind, Kind::Inspection | Kind::Rest))
        .map(|(index, step)| {
            let name = study.solve.name(index).to_string();
            let pairs: Vec<String> = step.pairs.iter().map(ToString::to_string).collect();
            if pairs.is_empty() { name } else { format!("{name} ({})", words::list(&pairs)) }
        })
        .collect();
    if reached.is_empty() {
        "the replay finishes no step in its turns".into()
    } else {
        format!("the replay has {} in its turns", words::list(&reached))
    }
}

/// A fault if the record was played to its end and the cube is not solved; a note if it is one turn short.
pub(super) fn end(study: &Study<'_>) -> Option<Diagnostic> {
    if !study.whole() {
        return None;
    }
    let last = study.record.solution.tokens.last()?.span;
    let at = Span::new(last.end, last.end);
    match study.solve.end {
        End::Solved => None,
        End::OneTurnShort(turn) => {
            let missing = study.written_at_end(turn);
            Some(
                Diagnostic::note("end-one-turn-short", at, "the cube is one turn short of solved")
                    .labelled(format!("`{missing}` would solve it"))
                    .with_help(
                        "such an end counts as solved with a penalty of two seconds (WCA Regulation 10e3); if the \
                         turn was made, write it",
                    ),
            )
        }
        End::Unsolved => Some(
            Diagnostic::fault("end-unsolved", at, "the cube is not solved after the last turn")
                .labelled("more than one turn from solved here")
                .with_help("a prime may be missing or a turn mistyped; `cornerwise mend` looks for it"),
        ),
    }
}

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
            "the record is not cross first: the {colour} cross and all its pairs come in at one moment"
        )),
        Some(_) if !study.solve.first_two_layers => {
            untold.push("the first two layers are never finished, so there is no last layer to name".into());
        }
        Some(_) => {}
    }
    untold
}

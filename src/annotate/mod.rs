//! From a study to its facts: the one place where scan, sight, clock and judgement come together.
//!
//! Each file here fills one part of the [`Annotation`]; none of them prints.

mod causes;
mod choice;
#[cfg(test)]
mod coach;
mod judge;
#[cfg(test)]
mod kept;
mod lanes;
mod losses;
mod offers;
mod time;
mod turning;

pub use offers::deduced;
use turning::Turning;

use crate::annotation::{Annotation, Format, Message, Moment, Seconds, SettingsUsed, Step, StepKind};
use crate::clock::StopFrom;
use crate::cube::{FaceSet, Moves, Stickers};
use crate::diagnostic::{Diagnostic, Severity, Source};
use crate::hands::Hands;
use crate::judgement;
use crate::look_ahead::LookAhead;
use crate::notation::Comment;
use crate::sight::DEFAULT_LEAD;
use crate::steps::Kind;
use crate::study::Study;

/// What an annotation depends on besides the record.
#[derive(Debug, Clone, PartialEq)]
pub struct Settings {
    /// The faces in sight, instead of those the record gives.
    pub sight: Option<FaceSet>,
    /// The lead that is enough, in turns (OBTM).
    pub lead: usize,
    /// Whether notes are faults.
    pub strict: bool,
    /// From when on a gap is a stop.
    pub stop_from: StopFrom,
    /// What other lines are compared, and how; its lead is this one's.
    pub choice: judgement::Settings,
    /// Whether steps are judged: what else could have been played, what it costs, and what stops are put down to. Whoever
    /// only shows what was played does without.
    pub judge: bool,
}

/// The facts of a record, and the messages on its text to be drawn beside it (the facts list them too).
#[derive(Debug, Clone, PartialEq)]
pub struct Annotated {
    /// The facts.
    pub facts: Annotation,
    /// The messages, in the order of the text where they have a place in it.
    pub diagnostics: Vec<Diagnostic>,
}

impl Default for Settings {
    fn default() -> Settings {
        Settings {
            sight: None,
            lead: DEFAULT_LEAD,
            strict: false,
            stop_from: StopFrom::default(),
            choice: judgement::Settings::default(),
            judge: true,
        }
    }
}

/// Everything the parts are computed from.
struct Facts<'a> {
    study: &'a Study<'a>,
    sight: FaceSet,
    stop_from: StopFrom,
    choice: judgement::Settings,
    look_ahead: LookAhead<'a>,
    /// Each step judged, where there is anything to judge.
    judged: Vec<Option<judgement::Step>>,
}

/// Annotates one record as far as it can be played.
#[must_use]
pub fn annotate(study: &Study<'_>, settings: &Settings) -> Annotated {
    let Study { source, record, .. } = *study;
    let sight = settings.sight.unwrap_or(record.sight);
    let choice = judgement::Settings { lead: settings.lead, ..settings.choice.clone() };
    let facts = Facts {
        study,
        sight,
        stop_from: settings.stop_from,
        look_ahead: LookAhead::new(&study.replay, &study.solve, sight, settings.lead),
        judged: if settings.judge && record.hands == Hands::Two {
            judgement::solve(&study.replay, &study.solve, sight, &choice)
        } else {
            vec![None; study.solve.steps.len()]
        },
        choice,
    };

    let mut diagnostics = record.diagnostics.clone();
    diagnostics.extend(study.said());
    if settings.strict {
        diagnostics.iter_mut().for_each(|diagnostic| diagnostic.severity = Severity::Fault);
    }
    let (faults, notes): (Vec<_>, Vec<_>) =
        diagnostics.iter().partition(|diagnostic| diagnostic.severity == Severity::Fault);

    let times: Vec<Seconds> =
        (0..study.solve.steps.len()).map(|index| time::seconds(&facts, index)).collect();
    let turning = time::turning(&facts, &times);
    let mut steps: Vec<Step> = times
        .into_iter()
        .enumerate()
        .map(|(index, seconds)| step(&facts, index, seconds, &turning))
        .collect();
    time::fill_stops(&facts, &mut steps, &turning);
    let (obtm, seconds) = (study.obtm(), study.seconds());
    let timing = time::timing(&facts, &turning);
    let facts = Annotation {
        format: Format::Annotation2,
        file: source.name.clone(),
        record: study.number,
        title: record.title.clone(),
        solver: record.solver.clone(),
        date: record.date.clone(),
        remarks: record.notes.clone(),
        scramble: scramble(study),
        solved: study.solved(),
        end: judge::ending(study),
        until: record.until.map(|(until, _)| until),
        cross: study.solve.cross,
        cross_first: study.solve.cross_first,
        sight: facts.sight,
        hands: record.hands,
        tokens: study.replay.moves.len(),
        obtm,
        etm: study.etm(),
        seconds,
        settings: used(&facts),
        // Where the marks show no stop and no pace of the hands, what is late and what is longer is told without times.
        losses: losses::losses(
            &steps,
            timing.seconds_per_unit.is_some() || steps.iter().any(|step| !step.stops.is_empty()),
            |index| time::why_late(&facts, &steps, index, &turning),
        ),
        to_play: offers::to_play(&facts),
        timing,
        notes: notes.into_iter().map(|diagnostic| message(source, diagnostic)).collect(),
        faults: faults.into_iter().map(|diagnostic| message(source, diagnostic)).collect(),
        // Looking for it takes longer than all the rest: whoever wants it asks `mend`.
        holds: None,
        repair: None,
        untold: judge::untold(study),
        moments: moments(&facts),
        steps,
        lanes: lanes::lanes(&facts),
    };
    Annotated { facts, diagnostics }
}

fn step(facts: &Facts<'_>, index: usize, seconds: Seconds, turning: &Turning) -> Step {
    let step = &facts.study.solve.steps[index];
    let moves = facts.study.moves(step);
    Step {
        kind: kind(step.kind),
        name: facts.study.solve.name(index),
        pairs: step.pairs.iter().map(|pair| pair.name()).collect(),
        case: facts.study.case(index),
        skips: step.skips.clone(),
        from: step.from,
        to: step.to,
        text: moves.into(),
        spelled: spelled(facts, step.from, step.to),
        obtm: moves.iter().map(|mv| mv.obtm()).sum(),
        etm: moves.iter().map(|mv| mv.etm()).sum(),
        hold: facts.study.replay.moments[step.from].hold.into(),
        comments: comments(facts, step.from, step.to, index == 0, &|_| true),
        remarks: comments(facts, step.from, step.to, index == 0, &|comment| says_more(facts, comment)),
        seconds,
        offers: offers::offers(facts, index),
        choice: choice::choice(facts, index, turning),
        stops: Vec::new(),
    }
}

/// What the figures depend on.
fn used(facts: &Facts<'_>) -> SettingsUsed {
    let settings = &facts.choice;
    SettingsUsed {
        within: settings.within,
        every_line: settings.kind == crate::search::Kind::Every,
        slack: settings.slack.units(),
        lead: settings.lead,
        weights: settings.weights.to_string(),
        stop_seconds: facts.stop_from.seconds,
        stop_paces: facts.stop_from.paces,
    }
}

const fn kind(kind: Kind) -> StepKind {
    match kind {
        Kind::Inspection => StepKind::Inspection,
        Kind::Cross => StepKind::Cross,
        Kind::Pair => StepKind::Pair,
        Kind::Orient => StepKind::Orient,
        Kind::Permute => StepKind::Permute,
        Kind::LastLayer => StepKind::LastLayer,
        Kind::Adjust => StepKind::Adjust,
        Kind::Rest => StepKind::Rest,
    }
}

/// The comments that go with the step's tokens: those that stand after its first token and no later than its
/// last, and claims that stand before their turns; before the first step's too.
fn comments(
    facts: &Facts<'_>,
    from: usize,
    to: usize,
    first: bool,
    wanted: &dyn Fn(&Comment) -> bool,
) -> Vec<String> {
    let comments = facts.study.record.solution.comments.iter().zip(&facts.study.comment_moments);
    comments
        .filter(|&(_, &moment)| moment <= to && (moment > from || (first && moment == from)))
        .filter(|(comment, _)| wanted(comment))
        .map(|(comment, _)| comment.text.clone())
        .collect()
}

/// Whether a comment is more than the name of a step: none of the claims it makes is all of it.
fn says_more(facts: &Facts<'_>, comment: &Comment) -> bool {
    let letters = |text: &str| text.chars().filter(|c| c.is_alphanumeric()).count();
    let claimed = facts.study.claims.iter().any(|claim| claim.span == comment.span);
    // A letter or two name a case.
    letters(&comment.text) > if claimed { letters(COMMON_CLAIM) } else { 2 }
}

/// A claim as long as they usually get; what is longer says something besides.
const COMMON_CLAIM: &str = "4th pair, green-orange";

/// Token `i` as the writer spelled it, where that is another way on purpose.
fn written(facts: &Facts<'_>, i: usize) -> Option<String> {
    let token = &facts.study.record.solution.tokens[i];
    if token.spelling.is_usual() {
        return None;
    }
    let spelled = token.spelled()?;
    (spelled != facts.study.replay.moves[i].to_string()).then_some(spelled)
}

/// The tokens between two moments as the writer spelled them.
fn spelled(facts: &Facts<'_>, from: usize, to: usize) -> String {
    facts.study.record.solution.spelled(from..to)
}

/// The scramble as played; the writer's own text, its white space folded, if it cannot be read to its end.
fn scramble(study: &Study<'_>) -> String {
    let turns = &study.record.scramble;
    if study.scramble_whole() {
        return turns.playable().collect::<Moves>().to_string();
    }
    let text = study.source.text.get(turns.span.start..turns.span.end).unwrap_or_default();
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

fn moments(facts: &Facts<'_>) -> Vec<Moment> {
    let solution = &facts.study.record.solution;
    facts
        .study
        .replay
        .moments
        .iter()
        .enumerate()
        .map(|(moment, position)| Moment {
            token: moment.checked_sub(1).map(|i| facts.study.replay.moves[i]),
            written: moment.checked_sub(1).and_then(|i| written(facts, i)),
            stickers: Stickers::of(position),
            hold: position.hold.into(),
            seconds: solution
                .marks
                .iter()
                .rev()
                .find(|mark| mark.moment == moment)
                .map(|mark| mark.time.seconds()),
            span: moment.checked_sub(1).map(|i| solution.tokens[i].span),
        })
        .collect()
}

fn message(source: &Source, diagnostic: &Diagnostic) -> Message {
    let span = diagnostic.span();
    let place = span.map(|span| source.position(span.start));
    Message {
        severity: diagnostic.severity,
        code: diagnostic.code.into(),
        message: diagnostic.message.clone(),
        help: diagnostic.help.clone(),
        span,
        line: place.map(|(line, _)| line),
        column: place.map(|(_, column)| column),
    }
}

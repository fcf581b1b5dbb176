//! The account of a solve's time: every gap, every step, and the whole.

use super::pace::{Pace, recognised};
use super::rests::{self, Rest, Rests};
use super::{Figure, Gap, Lapse, Measured, SolveTime, StepTime, Where, timer};
use crate::notation::{Mark, Time};
use crate::steps::{Kind, Step};

/// Where all the time went.
pub(super) struct Account {
    pub gaps: Vec<Gap>,
    pub measured: Vec<Measured>,
    pub solve: SolveTime,
    pub zero: Option<Time>,
}

/// A step that turns, and the rests at its ends.
#[derive(Clone, Copy)]
struct Turning {
    step: usize,
    kind: Kind,
    opening: usize,
    closing: usize,
}

/// What bounds the solve.
struct Bounds {
    /// Whether the clock had been running before.
    running: bool,
    zero: Option<Time>,
    total: Option<Lapse>,
    /// Before the first turn, and whether all of it surely lies there.
    start: Option<(Lapse, bool)>,
    /// After the last.
    end: Option<Lapse>,
}

pub(super) fn account(
    rests: &Rests,
    marks: &[Mark],
    steps: &[Step],
    timer: Option<Time>,
    pace: Option<Pace>,
) -> Account {
    if rests.turning() == 0 {
        let solve = SolveTime::default();
        return Account { gaps: Vec::new(), measured: Vec::new(), solve, zero: None };
    }
    let bounds = bounds(rests, timer);
    let turning: Vec<Turning> = steps
        .iter()
        .enumerate()
        .filter_map(|(index, step)| {
            let (opening, closing) = rests.around(step.from, step.to)?;
            Some(Turning { step: index, kind: step.kind, opening, closing })
        })
        .collect();
    let gaps = gaps(rests, &turning, &bounds);
    let mut solve = solve(rests, &turning, &gaps, &bounds);
    if marks.windows(2).any(|pair| pair[0].time > pair[1].time) {
        // A clock that runs backwards leaves no sum.
        solve = SolveTime { turning: None, stopped: None, ..solve };
    }
    let measured = turning
        .chunk_by(|_, next| rests.all[next.opening].marks == 0)
        .map(|run| Measured {
            steps: run[0].step..run[run.len() - 1].step + 1,
            time: step(rests, run, &bounds, pace),
        })
        .collect();
    Account { gaps, measured, solve, zero: bounds.zero }
}

/// Where the solve begins and ends on the clock.
fn bounds(rests: &Rests, timer: Option<Time>) -> Bounds {
    let (begins, ended) = (rests.begins(), rests.ended());
    let exact = |micros| Lapse { micros, within: 0.0 };
    // Without a timer the solve goes on to the last mark.
    let marked_end = ended.map(|_| rests.all[rests.turning()].gap.unwrap_or_default());
    if running(rests, timer) {
        let marked = begins.zip(ended).and_then(|(begins, ended)| rests::lapse(&begins, &ended, rests.frame));
        // The timer may show less than what was marked: it cuts off, and a frame is as long as it is.
        let (outside, end) = match timer {
            Some(timer) => {
                let outside = |marked: Lapse| match timer.0.saturating_sub(marked.micros) {
                    0 => exact(0),
                    micros => Lapse { micros, within: marked.within },
                };
                (marked.map(outside), marked.map(|_| exact(0)))
            }
            None => (marked.map(|_| exact(0)), marked_end),
        };
        let total = match (timer, marked) {
            (Some(timer), Some(marked)) if timer.0 < marked.micros => Some(marked),
            (Some(timer), _) => Some(exact(timer.0)),
            (None, marked) => marked.zip(marked_end).map(|(marked, end)| marked.and(end)),
        };
        let start = outside.map(|outside| (outside, outside.micros == 0));
        return Bounds { running: true, zero: begins.map(|mark| mark.time), total, start, end };
    }
    let start = begins.map(|mark| (exact(mark.time.0), true));
    let (total, end) = match (timer, ended) {
        (Some(timer), Some(ended)) => {
            let last = timer.0.max(ended.time.0);
            (Some(exact(last)), Some(exact(last - ended.time.0)))
        }
        (Some(timer), None) => (Some(exact(timer.0)), None),
        (None, ended) => (ended.zip(marked_end).map(|(ended, end)| exact(ended.time.0).and(end)), marked_end),
    };
    Bounds { running: false, zero: Some(Time(0)), total, start, end }
}

/// Whether the clock had been running before the solve began.
fn running(rests: &Rests, timer: Option<Time>) -> bool {
    let first = &rests.all[0];
    let before =
        first.first.is_some_and(|mark| mark.time.0 > 0) && first.gap.is_some_and(|gap| gap.micros > 0);
    let frames = rests
        .all
        .iter()
        .any(|rest| [rest.first, rest.last].iter().flatten().any(|mark| mark.frame.is_some()));
    let past = timer.zip(rests.ended()).is_some_and(|(timer, ended)| {
        ended.time > timer && !timer::agrees(Lapse { micros: ended.time.0, within: 0.0 }, timer)
    });
    frames || before || past
}

/// Every gap: at the start, between two turns, at the end. Those at the ends are left out if there is nothing of them.
fn gaps(rests: &Rests, turning: &[Turning], bounds: &Bounds) -> Vec<Gap> {
    let mut gaps = Vec::new();
    if let Some((lapse, certain)) = bounds.start.filter(|(lapse, _)| lapse.micros > 0) {
        let certain = certain && !open_before_first(&rests.all[0]);
        gaps.push(Gap { moment: 0, place: Where::Start, lapse, certain });
    }
    for (index, rest) in rests.all.iter().enumerate().take(rests.turning()).skip(1) {
        let Some(lapse) = rest.gap else { continue };
        let place = match turning.iter().find(|step| (step.opening..step.closing).contains(&index)) {
            Some(step) if step.opening == index => Where::Before(step.step),
            Some(step) => Where::Inside(step.step),
            // Without steps all of it is one.
            None => Where::Inside(0),
        };
        gaps.push(Gap { moment: rest.from, place, lapse, certain: !rest.loose() });
    }
    if let Some(lapse) = bounds.end.filter(|lapse| lapse.micros > 0) {
        let moment = rests.all[rests.turning()].from;
        gaps.push(Gap { moment, place: Where::End, lapse, certain: true });
    }
    gaps
}

/// Whether a rotation stands between the last mark before the first turn and that turn.
fn open_before_first(rest: &Rest) -> bool {
    rest.last.is_some_and(|mark| mark.moment < rest.to)
}

/// The whole: turning and stopped only if both ends of every step are marked.
fn solve(rests: &Rests, turning: &[Turning], gaps: &[Gap], bounds: &Bounds) -> SolveTime {
    let marked = |step: &Turning| {
        let rest = &rests.all[step.opening];
        rest.gap.is_some() || (step.kind == Kind::Adjust && rest.marks == 0)
    };
    let whole = bounds.start.is_some() && bounds.end.is_some() && turning.iter().skip(1).all(marked);
    let stopped = whole.then(|| gaps.iter().map(|gap| gap.lapse).fold(Lapse::default(), Lapse::and));
    let turning = bounds.total.zip(stopped).and_then(|(total, stopped)| total.without(stopped));
    let between = &rests.all[1..rests.turning()];
    let certain = !between.iter().any(Rest::loose)
        && !open_before_first(&rests.all[0])
        && rests.ended().is_none_or(|mark| mark.moment == rests.all[rests.turning()].from);
    SolveTime { total: bounds.total, turning, stopped: stopped.filter(|_| turning.is_some()), certain }
}

/// One step, or a run of steps that no mark parts.
fn step(rests: &Rests, run: &[Turning], bounds: &Bounds, pace: Option<Pace>) -> StepTime {
    let (opening, closing) = (run[0].opening, run[run.len() - 1].closing);
    let (before, after) = (&rests.all[opening], &rests.all[closing]);
    let inside = &rests.all[opening + 1..closing];
    let turns = rests.turns_before[after.from] - rests.turns_before[before.to];

    let first = opening == 0;
    let begins = if first { rests.begins() } else { before.begins() };
    let ended = after.ended();
    let start = if first { bounds.zero } else { before.ended().map(|mark| mark.time) };
    // What a running clock leaves outside the turns may as well lie behind them.
    let stopped_before =
        if first { bounds.start.filter(|(_, certain)| *certain).map(|(lapse, _)| lapse) } else { before.gap };
    let span = begins.zip(ended).and_then(|(begins, ended)| rests::lapse(&begins, &ended, rests.frame));
    let gaps = inside.iter().filter_map(|rest| rest.gap).fold(Lapse::default(), Lapse::and);
    let total = match (stopped_before, span) {
        (Some(stopped), Some(span)) => Some(stopped.and(span)),
        _ if bounds.running && first => span,
        _ if first => start.zip(ended).and_then(|(start, ended)| {
            Some(Lapse { micros: ended.time.0.checked_sub(start.0)?, within: 0.0 })
        }),
        _ => before.ended().zip(ended).and_then(|(from, to)| rests::lapse(&from, &to, rests.frame)),
    };
    let unturned = before.from < before.to || inside.iter().any(|rest| rest.from < rest.to);
    let shown = !first && before.marks == 1 && inside.iter().all(|rest| rest.marks < 2);
    let derives = shown && !unturned && run.len() == 1 && run[0].kind == Kind::Pair;
    let hesitation =
        total.zip(pace).filter(|(_, pace)| derives && pace.spans > 1).map(|(total, pace)| Figure {
            seconds: total.seconds() - turns as f64 * pace.figure.seconds,
            within: total.within + turns as f64 * pace.figure.within,
        });
    debug_assert!(hesitation.is_none() || !recognised(run[0].kind), "a pair is no part of the last layer");
    let loose_before = if first { open_before_first(before) } else { before.loose() };
    // What stands behind the last turn is this step's as far as the mark that ends it.
    let loose_after = ended.is_some_and(|mark| mark.moment > after.from);
    StepTime {
        start,
        first_turn: begins.map(|mark| mark.time),
        end: ended.map(|mark| mark.time),
        total,
        turning: span.and_then(|span| span.without(gaps)),
        stopped_before,
        stopped_inside: span.map(|_| gaps),
        hesitation,
        certain: !loose_before && !loose_after && !inside.iter().any(Rest::loose),
        turns,
    }
}

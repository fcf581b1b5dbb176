//! What is to be learned, in at most five sentences, each resting on figures of the comparison.
//!
//! The sentences answer in this order: how far apart the two are; where most of it went; at which step one side
//! kept the flow and the other did not, and what each had before its eyes; what each stopped for; where they
//! had the same position again. A sentence that has nothing to say is left out.

use super::facts::{Compared, Comparison, Meeting, Row, Sentence, StepSide, Which};
use crate::annotation::{Cause, Judged, Offer, Step, StepKind, Verdict, Watch};

/// Below this many seconds a difference is not worth a word.
const WORTH_SAYING: f64 = 0.05;

/// What limits the comparison.
pub(super) fn notices(comparison: &Comparison) -> Vec<String> {
    let mut notices = Vec::new();
    if !comparison.start.same {
        notices.push(
            "the scrambled positions differ, so no position of one side is to be expected on the other"
                .into(),
        );
    }
    for which in Which::BOTH {
        let (name, facts) = (comparison.names.of(which), comparison.annotations.of(which));
        notices.extend(facts.untold.iter().map(|untold| format!("{name}: {untold}")));
        if facts.untold.is_empty() && facts.end.judged == Judged::NotSolved {
            notices.push(format!("{name} does not end solved: compared as far as it goes"));
        }
        if facts.tokens > 0 && !facts.steps.iter().any(|step| step.kind == StepKind::Pair) {
            notices
                .push(format!("{name}: turns and time are compared, pairs are not, for no step solves one"));
        }
    }
    let timed = [Which::A, Which::B].map(|which| comparison.compared.seconds.of(which).is_some());
    if timed[0] != timed[1] {
        let name = comparison.names.of(if timed[0] { Which::B } else { Which::A });
        notices.push(format!("{name} has no times, so only turns are compared"));
    }
    notices
}

/// The sentences.
pub(super) fn lesson(comparison: &Comparison) -> Vec<Sentence> {
    if !comparison.different {
        return equal(comparison);
    }
    [totals, most, flow, pauses, meeting].into_iter().filter_map(|of| of(comparison)).collect()
}

/// A sentence in the making: its words, and where its figures stand.
struct Saying<'a> {
    comparison: &'a Comparison,
    text: String,
    from: Vec<String>,
}

impl<'a> Saying<'a> {
    fn new(comparison: &'a Comparison) -> Saying<'a> {
        Saying { comparison, text: String::new(), from: Vec::new() }
    }

    fn say(&mut self, words: &str) {
        self.text.push_str(words);
    }

    fn rests_on(&mut self, pointer: impl Into<String>) {
        let pointer = pointer.into();
        if !self.from.contains(&pointer) {
            self.from.push(pointer);
        }
    }

    fn name(&self, which: Which) -> &'a str {
        self.comparison.names.of(which)
    }

    fn done(mut self) -> Sentence {
        self.text.push('.');
        Sentence { text: self.text, from: self.from }
    }
}

const fn letter(which: Which) -> &'static str {
    match which {
        Which::A => "a",
        Which::B => "b",
    }
}

fn whole(which: Which, figure: &str) -> String {
    format!("/annotations/{}/{figure}", letter(which))
}

fn at_row(row: usize, figure: &str) -> String {
    format!("/rows/{row}/{figure}")
}

fn of_row(row: usize, which: Which, figure: &str) -> String {
    format!("/rows/{row}/{}/{figure}", letter(which))
}

fn seconds(seconds: f64) -> String {
    format!("{seconds:.2} s")
}

fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

fn turns(n: usize) -> String {
    if n == 1 { "1 turn".into() } else { format!("{n} turns") }
}

/// The side that the figure is against, and by how much: the one with more.
fn against(difference: f64) -> (Which, f64) {
    if difference < 0.0 { (Which::A, -difference) } else { (Which::B, difference) }
}

fn equal(comparison: &Comparison) -> Vec<Sentence> {
    let mut saying = Saying::new(comparison);
    let facts = &comparison.annotations.a;
    saying.say(&format!("No difference: the same {}", turns(facts.obtm)));
    saying.rests_on(whole(Which::A, "obtm"));
    saying.rests_on("/difference/obtm");
    if comparison.difference.seconds.is_some()
        && let Some(time) = facts.seconds
    {
        saying.say(&format!(" in the same time, {}", seconds(time)));
        saying.rests_on(whole(Which::A, "seconds"));
        saying.rests_on("/difference/seconds");
    }
    let mut sentences = vec![saying.done()];
    if let Some(mut seen) = flow(comparison) {
        seen.text = format!("Only the hold makes a difference: {}", seen.text.replacen("After", "after", 1));
        sentences.push(seen);
    }
    sentences
}

/// How far apart the two are.
fn totals(comparison: &Comparison) -> Option<Sentence> {
    let mut saying = Saying::new(comparison);
    let Compared { until, obtm, seconds: time, .. } = &comparison.compared;
    for which in Which::BOTH {
        saying.rests_on(format!("/compared/obtm/{}", letter(which)));
    }
    if let Some(until) = until {
        saying.rests_on("/compared/until");
        saying.say(&format!("Up to {until} (one record breaks off), "));
    }
    let both = if until.is_some() { "both" } else { "Both" };
    let more = obtm.a.abs_diff(obtm.b);
    let timed = comparison.difference.seconds.zip(time.a.zip(time.b));
    let Some((difference, (a, b))) = timed else {
        if more == 0 {
            let same = if comparison.same_turns { "the same" } else { "as many" };
            saying.say(&format!("{both} took {same} turns, {}", obtm.a));
        } else {
            let (long, _) = against(comparison.difference.obtm as f64);
            saying.rests_on("/difference/obtm");
            saying.say(&format!(
                "{} took {more} more {} than {}: {} against {}",
                saying.name(long),
                if more == 1 { "turn" } else { "turns" },
                saying.name(long.other()),
                obtm.of(long),
                obtm.of(long.other()),
            ));
        }
        return Some(saying.done());
    };
    for which in Which::BOTH {
        saying.rests_on(format!("/compared/seconds/{}", letter(which)));
    }
    let (slow, lost) = against(difference);
    if lost < WORTH_SAYING {
        let (name_a, name_b) = (saying.name(Which::A), saying.name(Which::B));
        saying.say(&format!("{both} took about the same time, {name_a} {a:.2} s and {name_b} {b:.2} s"));
    } else {
        saying.rests_on("/difference/seconds");
        let (long, short) = if slow == Which::A { (a, b) } else { (b, a) };
        saying.say(&format!(
            "{} took {} longer than {}, {} against {}",
            saying.name(slow),
            seconds(lost),
            saying.name(slow.other()),
            seconds(long),
            seconds(short)
        ));
    }
    if comparison.same_turns {
        saying.say(&format!(", for the same {}", turns(obtm.a)));
    } else if more == 0 {
        saying.say(&format!(", for as many turns ({})", obtm.a));
    } else {
        saying.rests_on("/difference/obtm");
        let more_or_fewer = if obtm.of(slow) > obtm.of(slow.other()) { "more" } else { "fewer" };
        saying.say(&format!(
            ", for {more} {more_or_fewer} {} ({} against {})",
            if more == 1 { "turn" } else { "turns" },
            obtm.of(slow),
            obtm.of(slow.other())
        ));
    }
    Some(saying.done())
}

/// In which rows most of the difference arose.
fn most(comparison: &Comparison) -> Option<Sentence> {
    let mut saying = Saying::new(comparison);
    let by_time = comparison.difference.seconds.filter(|seconds| seconds.abs() >= WORTH_SAYING);
    let total = by_time.unwrap_or(comparison.difference.obtm as f64);
    let (slow, total) = against(total);
    if total == 0.0 || (by_time.is_none() && comparison.difference.seconds.is_some()) {
        return None;
    }
    let lost = |row: &Row| {
        let difference = row.difference?;
        let more = if by_time.is_some() { difference.seconds } else { Some(difference.obtm as f64) };
        more.map(|more| if slow == Which::B { more } else { -more })
    };
    let mut rows: Vec<(usize, f64)> = comparison.rows[..comparison.compared.rows]
        .iter()
        .enumerate()
        .filter_map(|(n, row)| Some((n, lost(row)?)))
        .collect();
    rows.sort_by(|x, y| y.1.total_cmp(&x.1).then(x.0.cmp(&y.0)));
    let (gained, rows): (Vec<_>, Vec<_>) = rows.into_iter().partition(|(_, lost)| *lost < 0.0);
    // The most costly rows, until they make up half of it; at most two.
    let mut told = Vec::new();
    for (n, lost) in rows {
        let so_far: f64 = told.iter().map(|(_, lost)| lost).sum();
        if lost < total * 0.2 || lost <= 0.0 || so_far >= total * 0.6 || told.len() == 2 {
            break;
        }
        told.push((n, lost));
    }
    told.first()?;
    let so_far: f64 = told.iter().map(|(_, lost)| lost).sum();
    let share = if so_far > total * 0.5 { "Most of it" } else { "The largest parts of it" };
    let share = if told.len() == 1 && so_far <= total * 0.5 { "The largest part of it" } else { share };
    saying.say(&format!("{share} went in "));
    for (i, (n, lost)) in told.iter().enumerate() {
        let row = &comparison.rows[*n];
        if i > 0 {
            saying.say(" and ");
        }
        where_lost(&mut saying, *n, row, slow, *lost, by_time.is_some());
    }
    if by_time.is_some()
        && let Some((n, back)) =
            gained.last().filter(|(_, back)| -back >= 0.2 * total && -back >= WORTH_SAYING)
    {
        saying.rests_on(at_row(*n, "difference/seconds"));
        saying.rests_on(at_row(*n, "name"));
        let (name, row) = (saying.name(slow), comparison.rows[*n].name.clone());
        saying.say(&format!("; {name} was {} faster in {row}", seconds(-back)));
    }
    Some(saying.done())
}

/// `pair 2 (+1.11 s: 6 turns against 5, stopped 0.81 s against 0.09 s)`.
fn where_lost(saying: &mut Saying<'_>, n: usize, row: &Row, slow: Which, lost: f64, timed: bool) {
    let name = match (row.of(slow), row.of(slow.other())) {
        (Some(step), Some(_)) => step.name.to_string(),
        _ => row.name.clone(),
    };
    saying.rests_on(at_row(n, "name"));
    let figure = if timed { seconds(lost) } else { turns(lost as usize) };
    saying.rests_on(at_row(n, if timed { "difference/seconds" } else { "difference/obtm" }));
    saying.say(&format!("{name} (+{figure}"));
    let (long, short) = (row.of(slow), row.of(slow.other()));
    match (long, short) {
        (Some(long), Some(short)) if timed => {
            saying.rests_on(of_row(n, slow, "obtm"));
            if long.obtm == short.obtm {
                saying.say(&format!(": {} each", turns(long.obtm)));
            } else {
                saying.rests_on(of_row(n, slow.other(), "obtm"));
                saying.say(&format!(": {} against {}", turns(long.obtm), short.obtm));
            }
            if let Some(pause) = long.pause.filter(|pause| *pause >= 0.3 * lost && *pause >= 0.2) {
                saying.rests_on(of_row(n, slow, "pause"));
                let derived = if long.pause_derived { " by the pace" } else { "" };
                saying.say(&format!(", stopped {}{derived}", seconds(pause)));
                if let Some(other) = short.pause {
                    saying.rests_on(of_row(n, slow.other(), "pause"));
                    saying.say(&format!(" against {}", seconds(other)));
                }
            }
        }
        (Some(_), None) => {
            let other = saying.name(slow.other());
            saying.say(&format!(": {other} did not need it"));
        }
        _ => {}
    }
    saying.say(")");
}

/// The first step that one side left ready and the other did not. A step that no stop followed is not blamed.
fn flow(comparison: &Comparison) -> Option<Sentence> {
    let ready = |step: &StepSide| step.next.as_ref().map(|next| next.ready);
    let stopped = |which: Which, step: &StepSide| {
        let facts = comparison.annotations.of(which);
        let next = facts.steps.get(step.step + 1);
        facts.timing.stop_from.is_none() || next.is_some_and(|next| next.stop_before().is_some())
    };
    let (n, kept) = comparison.rows.iter().enumerate().find_map(|(n, row)| {
        let (a, b) = (row.a.as_ref()?, row.b.as_ref()?);
        match (ready(a)?, ready(b)?) {
            (true, false) if stopped(Which::B, b) => Some((n, Which::A)),
            (false, true) if stopped(Which::A, a) => Some((n, Which::B)),
            _ => None,
        }
    })?;
    let row = &comparison.rows[n];
    let other = kept.other();
    let mut saying = Saying::new(comparison);
    let alike = if row.same_turns { ", played alike" } else { "" };
    saying.rests_on(at_row(n, "name"));
    let (a, b) = (row.a.as_ref()?.name, row.b.as_ref()?.name);
    let steps = if a == b {
        format!("{a}{alike}")
    } else {
        format!("the {a} of {} and the {b} of {}", saying.name(Which::A), saying.name(Which::B))
    };
    saying.say(&format!("After {steps}, {} kept the flow with ", saying.name(kept)));
    before_the_eyes(&mut saying, n, kept);
    saying.say(&format!(", while {} went for ", saying.name(other)));
    before_the_eyes(&mut saying, n, other);
    let verdict = match row.of(other)?.verdict {
        Some(Verdict::Avoidable) => "avoidable: another line would have done better",
        Some(Verdict::Forced) => "forced: no line searched does better",
        _ => "",
    };
    if !verdict.is_empty() {
        saying.rests_on(of_row(n, other, "verdict"));
        saying.say(&format!("; {verdict}"));
    }
    Some(saying.done())
}

/// `green-orange, left ready (top: corner from UBR to UFR, found at once; edge at FR, found at once)`.
fn before_the_eyes(saying: &mut Saying<'_>, n: usize, which: Which) {
    let comparison = saying.comparison;
    let Some(at) = comparison.rows[n].of(which).map(|side| side.step) else { return };
    let step: &Step = &comparison.annotations.of(which).steps[at];
    let Some(next) = step.taken() else { return };
    saying.rests_on(whole(which, &format!("steps/{at}/offers")));
    saying.rests_on(whole(which, &format!("steps/{at}/text")));
    saying.say(&described(step, next));
}

fn described(step: &Step, next: &Offer) -> String {
    let left = if next.ready { ", left ready" } else { ", late" };
    let tier = next.tier;
    // Where it began and where it ended: it may have been found at either, or between.
    let piece = |name: &str, watch: &Watch| {
        let place = if watch.from == watch.to {
            format!("at {}", watch.to)
        } else {
            format!("from {} to {}", watch.from, watch.to)
        };
        format!("{name} {place}, {}", seen(step, watch))
    };
    let buried = if next.buried { ", buried" } else { "" };
    let (corner, edge) = (piece("corner", &next.corner), piece("edge", &next.edge));
    format!("{}{left} ({tier}{buried}: {corner}; {edge})", next.pair)
}

/// When a piece was found, counted in the step's tokens.
fn seen(step: &Step, watch: &Watch) -> String {
    match watch.found() {
        None => "not found".into(),
        Some(moment) if moment <= step.from => "found at once".into(),
        Some(moment) => {
            let token = step.text.get(moment - step.from - 1);
            format!("found after {}", token.map_or_else(String::new, ToString::to_string))
        }
    }
}

/// What each side stopped for.
fn pauses(comparison: &Comparison) -> Option<Sentence> {
    let mut saying = Saying::new(comparison);
    let mut parts = Vec::new();
    let mut any = false;
    for which in Which::BOTH {
        let facts = comparison.annotations.of(which);
        let name = comparison.names.of(which);
        // Without a figure for the side nothing can be said of its pauses, not even that there were none.
        facts.timing.stop_from?;
        saying.rests_on(whole(which, "timing/stop_from"));
        let stops: Vec<(usize, &Step)> =
            facts.steps.iter().enumerate().filter(|(_, step)| step.stop_before().is_some()).collect();
        if stops.is_empty() {
            parts.push(format!("{name} none"));
            continue;
        }
        any = true;
        let told: Vec<String> = stops
            .iter()
            .filter_map(|(at, step)| {
                let pause = step.stop_before()?;
                saying.rests_on(whole(which, &format!("steps/{at}/stops/0/seconds")));
                saying.rests_on(whole(which, &format!("steps/{at}/name")));
                Some(format!("{} before {} ({})", seconds(pause.seconds), step.name, cause(pause.cause?)))
            })
            .collect();
        parts.push(format!("{name} {}", told.join(", ")));
    }
    if !any {
        return None;
    }
    saying.say(&format!("Stops: {}", parts.join("; ")));
    Some(saying.done())
}

fn cause(cause: Cause) -> String {
    format!("{cause}: {}", cause.meaning())
}

/// Where they had the same position again, before the cube is solved.
fn meeting(comparison: &Comparison) -> Option<Sentence> {
    let n = comparison.meetings.iter().position(|meeting| !meeting.end)?;
    let meeting: &Meeting = &comparison.meetings[n];
    let mut saying = Saying::new(comparison);
    let at = meeting.at.as_ref();
    let but = meeting
        .free_turn
        .as_ref()
        .map_or(String::new(), |free| format!(" but for a turn of the free {} layer", free.layer));
    let spent = Which::BOTH.map(|which| {
        let side = at.of(which);
        saying.rests_on(format!("/meetings/{n}/at/{}/obtm", letter(which)));
        let time = side.seconds.map_or(String::new(), |time| {
            saying.rests_on(format!("/meetings/{n}/at/{}/seconds", letter(which)));
            format!(" and {}", seconds(time))
        });
        saying.rests_on(format!("/meetings/{n}/at/{}/place", letter(which)));
        (format!("{} {}", saying.name(which), side.place), format!("{}{time}", turns(side.obtm)))
    });
    let [(place_a, spent_a), (place_b, spent_b)] = spent;
    let places = if at.a.place == at.b.place {
        format!(
            "{} both cubes are the same{but}: {} took {spent_a}, {} {spent_b}",
            capital(&at.a.place),
            saying.name(Which::A),
            saying.name(Which::B)
        )
    } else {
        format!("The cubes are the same{but} again, {place_a} ({spent_a}) and {place_b} ({spent_b})")
    };
    saying.say(&places);
    Some(saying.done())
}

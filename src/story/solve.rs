//! The story of one annotated solve: whose it is and how long, what cost most, a row a pair, the lanes, a block a step.

use super::blocks::{Block, Body, Column, Line, Phrase, Run, StepBlock, Table};
use super::found::{self, estimated, found, found_and_judged, measured, turns};
use super::{causes, glossary, losses, position};
use crate::annotation::{
    Alternative, Annotation, Cause, Choice, Hands, Judged, Offer, OwnLine, Step, StepKind, Stop, Verdict,
};
use crate::cube::{Face, FaceSet, PairName};
use crate::harmless::one_line;
use crate::words::and;

/// How much of the story is told.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Told {
    /// All of it.
    #[default]
    Whole,
    /// Up to the table.
    Brief,
}

/// The blocks of one solve. `legend` says what the signs mean: once a run.
#[must_use]
pub fn solve(annotation: &Annotation, told: Told, legend: bool, setup: bool) -> Vec<Block> {
    let mut blocks = head(annotation);
    blocks.extend(losses::told(annotation));
    if let Some(table) = table(annotation) {
        blocks.push(Block::Gap);
        blocks.push(Block::Table(table));
    }
    blocks.extend(closing(annotation));
    if told == Told::Brief {
        blocks.extend(position::offered(annotation));
        return blocks;
    }
    if annotation.has_lanes() {
        blocks.push(Block::Gap);
        blocks.push(Block::Lanes);
    }
    blocks.extend(position::offered(annotation));
    let steps: Vec<StepBlock> =
        (0..annotation.steps.len()).filter_map(|index| step(annotation, index, setup)).collect();
    if legend && steps.iter().any(|step| step.lines.iter().any(|line| matches!(line.body, Body::Cells(_)))) {
        blocks.push(Block::Gap);
        let key = "pair · tier · corner, edge (from > to) · found, turns to go · its line then";
        blocks.push(Block::Paragraph(Phrase::new().run(Run::Dim(key.into()))));
    }
    for step in steps {
        blocks.push(Block::Gap);
        blocks.push(Block::Step(step));
    }
    blocks
}

/// Whose solve, how long; turning and stopped; cross and end.
pub(super) fn head(annotation: &Annotation) -> Vec<Block> {
    let mut words = Phrase::new().run(Run::Strong(one_line(&annotation.heading())));
    for part in [&annotation.solver, &annotation.date].into_iter().flatten() {
        words = words.and(" · ").and(one_line(part));
    }
    let n_turns = turns(annotation.obtm);
    let figure = match annotation.seconds {
        Some(seconds) => measured(seconds),
        None => format!("{n_turns}, no times"),
    };
    let timing = &annotation.timing;
    let mut facts = Vec::new();
    if annotation.seconds.is_some() {
        facts.push(match (timing.turning, timing.turns_per_second) {
            (Some(turning), Some(rate)) => {
                format!("turning {}, {n_turns}, {rate:.1} a second", measured(turning))
            }
            (Some(turning), None) => format!("turning {}, {n_turns}", measured(turning)),
            (None, _) => n_turns,
        });
        if let Some(stopped) = timing.stopped {
            facts.push(format!("stopped {}", measured(stopped)));
        }
    }
    let cross = annotation.cross.filter(|_| annotation.cross_first);
    let cross = cross.map(|cross| format!("{cross} cross, ")).unwrap_or_default();
    let said = |code: &str| annotation.faults.iter().chain(&annotation.notes).any(|said| said.code == code);
    let missed = said("until-missed");
    let broken_off =
        said("end-unfinished").then(|| annotation.steps.iter().rfind(|step| step.obtm > 0)).flatten();
    let end = match (broken_off, &annotation.until, &annotation.end.missing) {
        (Some(last), ..) => format!("breaks off after {}", causes::named(last)),
        (_, Some(until), _) if !missed && annotation.end.judged != Judged::NotJudged => {
            format!("to the end of {until}, as meant")
        }
        (_, _, Some(turn)) => format!("one turn short of solved ({turn}): +2 seconds"),
        _ => annotation.end.judged.to_string(),
    };
    facts.push(format!("{cross}{end}"));
    if annotation.sight != FaceSet::of(&[Face::U, Face::F, Face::R]) {
        facts.push(format!("in sight: {}", annotation.sight));
    }
    if annotation.hands != Hands::Two {
        facts.push(format!("{} hand only", annotation.hands));
    }
    let mut blocks = vec![Block::Title { words, figure }, Block::Paragraph(facts.join(" · ").into())];
    if annotation.tokens == 0 || annotation.cross.is_none() || !annotation.faults.is_empty() {
        // Where the record is what it is about, what could be read of it is shown.
        let scramble = Phrase::words("scramble  ").turns(one_line(&annotation.scramble));
        blocks.push(Block::Paragraph(scramble));
    }
    for untold in &annotation.untold {
        blocks.push(Block::Paragraph(one_line(&format!("Not told: {untold}.")).into()));
    }
    blocks
}

/// A row a pair: where the scan found it and when, how long the hands waited, what it took.
fn table(annotation: &Annotation) -> Option<Table> {
    if annotation.steps.iter().all(|step| step.obtm == 0) {
        return None;
    }
    let steps = &annotation.steps;
    let timed = steps.iter().any(|step| step.seconds.turning.or(step.seconds.total).is_some());
    let any = |test: &dyn Fn(&Step) -> bool| steps.iter().any(test);
    let pairs = annotation.cross_first && any(&|step| !step.pairs.is_empty());
    let found = (0..steps.len()).any(|index| taken(annotation, index).is_some());
    let gaps = any(&|step| step.seconds.before.is_some_and(|before| before > 0.0));
    let inside = any(&|step| step.seconds.inside.is_some_and(|inside| inside > 0.0));
    let hesitation = !gaps && any(&|step| step.seconds.hesitation.is_some());
    let cleaner = any(&better);
    let column = |title: &str, figures: bool, may_go: bool| Column {
        title: title.into(),
        over: None,
        figures,
        may_go,
    };
    let mut columns = vec![column("step", false, false)];
    if pairs {
        columns.push(column("pair", false, false));
    }
    if found {
        columns.push(column("tier", false, true));
        columns.push(column("found", false, false));
    }
    if gaps {
        columns.push(Column { over: Some("stopped".into()), ..column("before", true, false) });
    }
    if inside {
        columns.push(column("inside", true, false));
    }
    if hesitation {
        columns.push(column("longer", true, false));
    }
    columns.push(column("turns", true, false));
    if timed {
        columns.push(column("time", true, false));
    }
    if cleaner {
        columns.push(column("", false, false));
    }
    let mut any_stop = false;
    let rows = steps
        .iter()
        .enumerate()
        .filter(|(_, step)| step.obtm > 0)
        .map(|(index, step)| {
            let offer = taken(annotation, index);
            let mut row: Vec<Phrase> = vec![step.title().replace(" and ", ", ").into()];
            if pairs {
                row.push(in_a_row(&step.pairs));
            }
            if found {
                row.push(
                    offer.map_or(Phrase::new(), |offer| Phrase::new().run(Run::Term(offer.tier.word()))),
                );
                let before = index.checked_sub(1).map(|before| &steps[before]);
                row.push(match (offer, before) {
                    (Some(offer), Some(before)) => glossary::phrase(&found_and_judged(offer, before, step)),
                    _ => Phrase::new(),
                });
            }
            let mut gap = |seconds: Option<f64>, inside: bool| {
                let stop = step.stops.iter().any(|stop| stop.inside == inside);
                any_stop |= stop;
                match seconds.filter(|&seconds| seconds > 0.0 || stop) {
                    Some(seconds) if stop => Phrase::new().run(Run::Stop(format!("{seconds:.2}!"))),
                    Some(seconds) => format!("{seconds:.2} ").into(),
                    None => Phrase::new(),
                }
            };
            if gaps {
                row.push(gap(step.seconds.before, false));
            }
            if inside {
                row.push(gap(step.seconds.inside, true));
            }
            if hesitation {
                row.push(match step.seconds.hesitation {
                    // Where recognition lies before it, nothing could be known.
                    None if step.kind == StepKind::Pair => "- ".into(),
                    longer => gap(longer, false),
                });
            }
            row.push(step.obtm.to_string().into());
            if timed {
                let seconds = step.seconds.turning.or(step.seconds.total);
                row.push(seconds.map_or(Phrase::new(), |seconds| format!("{seconds:.2}").into()));
            }
            if cleaner {
                row.push(if better(step) { "+" } else { "" }.into());
            }
            row
        })
        .collect();
    let timing = &annotation.timing;
    let sums = columns
        .iter()
        .map(|column| match column.title.as_str() {
            "turns" => annotation.obtm.to_string().into(),
            "before" => timing.stopped_before.map_or(Phrase::new(), |sum| format!("{sum:.2} ").into()),
            "inside" => timing.stopped_inside.map_or(Phrase::new(), |sum| format!("{sum:.2} ").into()),
            "time" => timing.turning.map_or(Phrase::new(), |sum| format!("{sum:.2}").into()),
            _ => Phrase::new(),
        })
        .collect();
    let mut key: Vec<Phrase> = Vec::new();
    if let Some(from) = timing.stop_from.filter(|_| any_stop) {
        key.push(format!("! a stop ({from:.2} s or longer)").into());
    }
    if hesitation {
        key.push("longer: than its turns take at the solve's pace; -: not known".into());
    }
    if cleaner {
        key.push("+ a clearly easier line".into());
    }
    Some(Table { columns, rows, sums: Some(sums), key })
}

/// Pairs in as little room as there is.
fn in_a_row(pairs: &[PairName]) -> Phrase {
    pairs.iter().enumerate().fold(Phrase::new(), |phrase, (n, &pair)| {
        let phrase = if n > 0 { phrase.and(", ") } else { phrase };
        phrase.pair(pair)
    })
}

/// Whether something clearly cheaper than the turns played was there.
fn better(step: &Step) -> bool {
    step.cleaner().is_some() || step.own_line().is_some()
}

/// The pair that step `index` solves, as the step before left it.
pub(super) fn taken(annotation: &Annotation, index: usize) -> Option<&Offer> {
    let step = &annotation.steps[index];
    if step.kind != StepKind::Pair {
        return None;
    }
    annotation.steps[index.checked_sub(1)?].taken()
}

/// What stands below the table.
fn closing(annotation: &Annotation) -> Vec<Block> {
    let mut blocks = Vec::new();
    let (notes, faults) = (annotation.notes.len(), annotation.faults.len());
    if notes + faults > 0 {
        let count = |n: usize, what: &str| match n {
            0 => None,
            1 => Some(format!("1 {what}")),
            n => Some(format!("{n} {what}s")),
        };
        let parts: Vec<String> =
            [count(faults, "fault"), count(notes, "note")].into_iter().flatten().collect();
        blocks.push(Block::Paragraph(format!("{} on the record", and(&parts)).into()));
    }
    blocks
}

/// One step, unless there is nothing in it to read.
fn step(annotation: &Annotation, index: usize, setup: bool) -> Option<StepBlock> {
    let step = &annotation.steps[index];
    if step.obtm == 0 && step.kind == StepKind::Inspection {
        return None;
    }
    let mut lines = Vec::new();
    let stops = stops(annotation, index);
    if !stops.is_empty() {
        lines.push(Line { label: "stopped", body: Body::Words(stops) });
    }
    for skip in step.skips.iter().filter(|_| annotation.cross_first) {
        lines.push(words("skip", format!("{skip} was done without a turn of its own")));
    }
    lines.extend(offers(annotation, step));
    lines.extend(lines_on_offer(annotation, step, setup));
    for remark in &step.remarks {
        lines.push(Line {
            label: "written",
            body: Body::Words(Phrase::new().run(Run::Dim(one_line(remark)))),
        });
    }
    let mut figures = vec![turns(step.obtm)];
    if let Some(seconds) = step.seconds.turning.or(step.seconds.total) {
        figures.push(format!("{seconds:>5.2} s"));
    }
    if let Some(rate) = step.seconds.turns_per_second {
        figures.push(format!("{rate:>4.1} a second"));
    }
    let given = step.obtm == 0 && step.kind == StepKind::Cross;
    Some(StepBlock {
        // What the scramble leaves done is no achievement, and has no name of one.
        name: if given { "given".into() } else { step.title().to_owned() },
        what: match annotation.cross_first {
            true if given => {
                step.pairs.iter().fold("cross".into(), |done: Phrase, &pair| done.and(", ").pair(pair))
            }
            true => Phrase::new().pairs(&step.pairs),
            false => Phrase::new(),
        },
        tokens: step.spelled.clone(),
        figures,
        from: step.from,
        to: step.to,
        lines,
    })
}

fn words(label: &'static str, words: impl Into<Phrase>) -> Line {
    Line { label, body: Body::Words(words.into()) }
}

/// Where the hands stopped, how long and why; what the top of the story has said of it is not said again.
fn stops(annotation: &Annotation, index: usize) -> Phrase {
    let step = &annotation.steps[index];
    let mut phrase = Phrase::new();
    let mut first = true;
    for (number, stop) in step.stops.iter().enumerate() {
        if !first {
            phrase = phrase.and(" ");
        }
        first = false;
        phrase = phrase.then(place_of(annotation, step, stop));
        let said = annotation.losses.iter().any(|loss| loss.step == index && loss.stop == Some(number));
        match stop.cause {
            Some(cause) if said || stop.inside || cause == Cause::Recognition => {
                phrase = phrase.and(", ").run(Run::Term(cause.word())).and(".")
            }
            Some(cause) => {
                let words = causes::cause(annotation, index, stop);
                phrase = phrase.and(", ").run(Run::Term(cause.word())).and(": ").then(words.inside());
            }
            None => phrase = phrase.and("."),
        }
    }
    phrase
}

/// `0.36 s before it`, `0.34 s inside, at y', its edge found`.
pub(super) fn place_of(annotation: &Annotation, step: &Step, stop: &Stop) -> Phrase {
    let figure = if stop.derived {
        format!("about {} longer than its turns take", estimated(stop.seconds))
    } else {
        measured(stop.seconds)
    };
    let phrase = Phrase::new().run(Run::Stop(figure));
    if stop.derived {
        return phrase;
    }
    if !stop.inside {
        return phrase.and(if stop.certain { " before it" } else { " and a rotation before it" });
    }
    let at = before_token(annotation, step, stop.moment);
    let edge = match stop.edge_found {
        Some(true) => ", its edge found",
        Some(false) => ", its edge not found",
        None => "",
    };
    phrase.and(format!(" inside{at}{edge}"))
}

/// Before which token of the step a moment lies: `, before L'`, or `, before the second L'` where there are more.
pub(super) fn before_token(annotation: &Annotation, step: &Step, moment: usize) -> String {
    let spelled = |moment: usize| annotation.moments.get(moment + 1).and_then(|moment| moment.spelled());
    let Some(token) = spelled(moment).filter(|_| moment < step.to) else { return String::new() };
    let same = |range: std::ops::Range<usize>| range.filter(|&m| spelled(m).as_ref() == Some(&token)).count();
    if same(step.from..step.to) == 1 {
        return format!(", before {token}");
    }
    let earlier = same(step.from..moment);
    match ["first", "second", "third", "fourth"].get(earlier) {
        Some(which) => format!(", before the {which} {token}"),
        None => format!(", before {token} number {}", earlier + 1),
    }
}

/// What these turns left: the pair solved next, then the others, with what each costs from there.
fn offers(annotation: &Annotation, step: &Step) -> Vec<Line> {
    let mut lines = Vec::new();
    let rate = annotation.timing.seconds_per_unit;
    let mut label_of_others = "or";
    let taken = step.offers.iter().filter(|offer| offer.taken);
    let others = step.offers.iter().filter(|offer| !offer.taken);
    if step.offers.iter().any(|offer| offer.taken) {
        let mut label = "next";
        for offer in taken {
            lines.push(offer_line(label, offer, rate));
            label = "";
        }
        for offer in others {
            lines.push(offer_line(label_of_others, offer, rate));
            label_of_others = "";
        }
    }
    for offer in step.offers.iter().filter(|offer| offer.taken) {
        let mut label = "deduced";
        for (name, watch) in causes::worked_out(annotation, step, offer) {
            if let Some(reason) = causes::reason(annotation, step, name, watch).filter(|_| offer.deduced) {
                lines.push(words(label, reason));
                label = "";
            }
        }
    }
    lines
}

fn offer_line(label: &'static str, offer: &Offer, rate: Option<f64>) -> Line {
    let way = |watch: &crate::annotation::Watch| format!("{} > {}", watch.from, watch.to);
    let price = offer.line.as_ref().map_or_else(String::new, |line| match rate {
        Some(rate) => format!("{:.1} s", line.cost * rate),
        None => line.obtm.to_string(),
    });
    let cells = vec![
        Phrase::new().pair(offer.pair),
        Phrase::new().run(Run::Term(offer.tier.word())),
        way(&offer.corner).into(),
        way(&offer.edge).into(),
        glossary::phrase(&found(offer)),
        price.into(),
    ];
    Line { label, body: Body::Cells(cells) }
}

/// What a line is that is told of a step besides the pair's own.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum LineIs {
    /// Clearly cheaper than what was played.
    Cleaner,
    /// What would have left a pair ready.
    Instead,
}

impl LineIs {
    const fn word(self) -> &'static str {
        match self {
            LineIs::Cleaner => "cleaner",
            LineIs::Instead => "instead",
        }
    }
}

/// The step that begins where this one ends, rotations apart.
fn following<'a>(annotation: &'a Annotation, step: &Step) -> Option<&'a Step> {
    annotation.steps.iter().find(|next| next.from == step.to && next.obtm > 0)
}

/// The one line that is told of a step besides the pair's own, and what it is: the line that the stop after it names, else
/// the cleaner one, else, where nothing is known of stops, what would have left a pair ready.
pub(crate) fn line_told<'a>(annotation: &Annotation, step: &'a Step) -> Option<(LineIs, &'a Alternative)> {
    let next = following(annotation, step);
    let stop = next.and_then(Step::stop_before);
    let named = stop.is_some_and(|stop| stop.instead.as_ref().is_some_and(|instead| instead.by_another_line));
    let unknown = stop.is_none() && !next.is_some_and(Step::flowed);
    let instead = step.instead().filter(|_| named || unknown);
    let same = |cleaner: &&Alternative| instead.is_some_and(|line| line.text == cleaner.text);
    // What the next step's own line tells is told there, with other turns for that pair.
    let told_next = |cleaner: &&Alternative| {
        let pair = cleaner.next.as_ref().filter(|_| cleaner.same_turns).map(|next| next.pair);
        let line = next.and_then(Step::cleaner);
        pair.zip(line).is_some_and(|(pair, line)| line.pairs.contains(&pair))
    };
    let cleaner = step.cleaner().filter(|cleaner| (!named || same(cleaner)) && !told_next(cleaner));
    let cleaner = cleaner.map(|line| (LineIs::Cleaner, line));
    cleaner.or(instead.map(|line| (LineIs::Instead, line)))
}

/// The line to play instead, with what it was best of: one a step.
fn lines_on_offer(annotation: &Annotation, step: &Step, setup: bool) -> Vec<Line> {
    let Some(choice) = &step.choice else { return Vec::new() };
    let mut lines = Vec::new();
    let count = |n: usize| {
        let kind = if choice.every_line { "all " } else { "" };
        match n {
            1 => format!("the only line to {}", turns(choice.within)),
            n => format!("best of {kind}{n} lines to {}", turns(choice.within)),
        }
    };
    let mut instead = None;
    let mut shown = false;
    if let Some((is, line)) = line_told(annotation, step) {
        instead = Some(line).filter(|_| is == LineIs::Instead);
        lines.push(words(
            is.word(),
            losses::alternative(step, line).and(format!(" ({})", count(choice.lines))),
        ));
        shown = true;
    } else if choice.verdict == Some(Verdict::Forced)
        && following(annotation, step).is_none_or(|next| !next.flowed() && !next.chose_worse())
        && !step.offers.iter().any(|other| !other.taken && other.ready)
    {
        lines.push(words("forced", forced(choice)));
    }
    let said = |own: &OwnLine| {
        instead.is_some_and(|instead: &Alternative| instead.pairs == step.pairs && instead.obtm <= own.obtm)
    };
    if let Some(own) = step.own_line().filter(|own| !said(own)) {
        let cheaper = match own.seconds {
            Some(seconds) => format!("about {} less", estimated(seconds)),
            None => format!("easier by {}", found::about_turns(own.saves)),
        };
        let why = if own.last_pair { "; yours may have been chosen for the last layer" } else { "" };
        let phrase = Phrase::new()
            .turns(&own.text)
            .and(format!(" solves it in {}, {cheaper}{why}", losses::as_many(own.obtm, step.obtm)));
        lines.push(words("own line", phrase));
        shown = true;
    }
    if setup && shown {
        lines.push(words("set up", Phrase::new().turns(annotation.setup(step.from))));
    }
    lines
}

/// That nothing would have helped, and how far that was looked into.
fn forced(choice: &Choice) -> String {
    let none = match choice.lines {
        0 | 1 => format!("no line to {} worth playing leaves a pair ready", turns(choice.within)),
        n => format!("of {n} lines to {} none worth playing leaves a pair ready", turns(choice.within)),
    };
    match &choice.cheapest {
        Some(cheapest) => {
            let more = match cheapest.seconds {
                Some(seconds) => format!("about {}", estimated(-seconds)),
                None => found::about_turns(-cheapest.saves),
            };
            format!("{none} for less than {more} more")
        }
        None => none,
    }
}

//! The facts of an annotation: what each step leaves of every pair, prices and verdicts, and the cause of every stop.

use std::cmp::Reverse;
use std::collections::BTreeMap;

use cornerwise::annotate::{Settings, annotate};
use cornerwise::annotation::{self, Annotation, StepKind};
use cornerwise::cube::{Colour, Face, Move};
use cornerwise::diagnostic::Source;
use cornerwise::judgement;
use cornerwise::record;
use cornerwise::study::Study;

use super::against_sight::named;
use super::causes::{self, cause};
use super::clock::{Lies, Mark, Timed};
use super::cost::merged;
use super::lines::Book;
use super::offers::{self, Played};
use super::sight::{Found, Step, Watched};
use super::stickers::{Cube, Pair, Piece, turns};
use crate::support::solver::{self, Marks, Options, Rng, Solver, Style};
use crate::support::switch;

const WITHIN: usize = 7;
const SIGHT: [Face; 3] = [Face::U, Face::F, Face::R];

fn annotated(text: &str) -> Annotation {
    let source = Source::new("made.yaml", text);
    let read = record::read(&source);
    let choice = judgement::Settings { within: WITHIN, ..judgement::Settings::default() };
    let settings = Settings { choice, ..Settings::default() };
    annotate(&Study::new(&source, 1, &read.records[0]), &settings).facts
}

/// The marks of a record as it is written.
fn marks(text: &str) -> Vec<Mark> {
    let (mut marks, mut tokens) = (Vec::new(), 0);
    let solution = text.split_once("solution: |\n").expect("a solution").1;
    for word in solution.lines().flat_map(|line| line.split("//").next().expect("a part").split_whitespace())
    {
        if let Some(mark) = word.strip_prefix('<') {
            let (seconds, hundredths) = mark.trim_end_matches('>').split_once('.').expect("seconds");
            let number = |text: &str| text.parse::<u64>().expect("a number");
            marks.push((tokens, number(seconds) * 1_000_000 + number(hundredths) * 10_000));
        } else {
            tokens += 1;
        }
    }
    marks
}

/// A cross or pair step with what came of it.
struct Made {
    start: Cube,
    moves: Vec<Move>,
    is_cross: bool,
    solved: Vec<Pair>,
    in_hand: Vec<Pair>,
    later: Vec<(Vec<Pair>, Vec<Move>)>,
    /// Its number among all steps.
    number: usize,
}

impl Made {
    fn seen<'a>(&'a self, moments: &'a [Cube], cross: Colour, sight: &'a [Face]) -> Step<'a> {
        Step { moments, moves: &self.moves, cross, solved: &self.solved, in_hand: &self.in_hand, sight }
    }
}

fn made(solve: &solver::Solve) -> Vec<Made> {
    let mut at = Cube::solved().after(&solve.scramble);
    let mut all: Vec<Made> = Vec::new();
    for (number, step) in solve.steps.iter().enumerate() {
        let end = at.after(&step.moves);
        if matches!(step.kind, solver::Kind::Cross | solver::Kind::Pair) {
            let is_cross = step.kind == solver::Kind::Cross;
            let solved = if is_cross { Vec::new() } else { at.pairs_in(solve.cross) };
            let mut in_hand = end.pairs_in(solve.cross);
            in_hand.retain(|pair| !solved.contains(pair));
            if !is_cross {
                for earlier in &mut all {
                    earlier.later.push((in_hand.clone(), step.moves.clone()));
                }
            }
            let (moves, later) = (step.moves.clone(), Vec::new());
            all.push(Made { start: at, moves, is_cross, solved, in_hand, later, number });
        }
        at = end;
    }
    all
}

/// Whether a piece is found too late: never, or neither at once nor with three turns to go.
fn is_late(step: &Step<'_>, watched: &Watched) -> bool {
    watched.found.is_none_or(|(moment, _)| moment > 0 && step.to_go(moment) < 3)
}

/// How many turns carry a piece to another place in the hands; to turn the cube as a whole carries nothing.
fn carried_by(moments: &[Cube], moves: &[Move], piece: Piece) -> usize {
    let carries =
        |&(k, mv): &(usize, &Move)| turns(*mv) > 0 && moments[k].place(piece) != moments[k + 1].place(piece);
    moves.iter().enumerate().filter(carries).count()
}

#[derive(Default, Debug)]
struct Counted {
    solves: usize,
    pairs_left: usize,
    verdicts: usize,
    causes: BTreeMap<&'static str, usize>,
}

fn compare(book: &mut Book, solve: &solver::Solve, text: &str, counted: &mut Counted) {
    let facts = annotated(text);
    let cross = solve.cross;
    let steps = made(solve);
    let theirs: Vec<&annotation::Step> =
        facts.steps.iter().filter(|step| matches!(step.kind, StepKind::Cross | StepKind::Pair)).collect();
    assert_eq!(theirs.len(), steps.len(), "{text}");
    counted.solves += 1;

    // Times.
    let moves: Vec<Move> = solve.moves().collect();
    let mut begins = vec![0];
    for step in &solve.steps[..solve.steps.len() - 1] {
        begins.push(begins[begins.len() - 1] + step.moves.len());
    }
    let last_layer =
        |kind| matches!(kind, solver::Kind::Orient | solver::Kind::Permute | solver::Kind::Adjust);
    let recognised: Vec<bool> = solve.steps.iter().map(|step| last_layer(step.kind)).collect();
    let marks = marks(text);
    let timer = marks.last().expect("marks").1;
    let timed = Timed { moves: &moves, begins: &begins, recognised: &recognised, marks: &marks, timer };
    let (mut turned, mut cost) = (0, 0);
    for step in steps.iter().filter(|step| !step.is_cross) {
        let (from, to) = (begins[step.number], begins[step.number] + step.moves.len());
        let inside = marks.iter().filter(|mark| (from..=to).contains(&mark.0));
        let inside: Vec<Mark> = inside.copied().collect();
        for (a, b) in inside.iter().zip(&inside[1..]) {
            if moves[a.0..b.0].iter().any(|&mv| turns(mv) > 0) {
                turned += b.1 - a.1;
            }
        }
        cost += book.ways(&step.start, cross, &merged(&step.start, &step.moves))[0].cost;
    }
    let seconds_a_unit = turned as f64 / 1e6 / (f64::from(cost) / 2.0);
    let told = facts.timing.seconds_per_unit.expect("a fully marked solve");
    assert!((told - seconds_a_unit).abs() < 2e-6, "{told} {seconds_a_unit} {text}");

    for (k, (step, theirs)) in steps.iter().zip(&theirs).enumerate() {
        let moments = step.start.moments(&step.moves);
        let seen = step.seen(&moments, cross, &SIGHT);
        let found = seen.found(3);
        // What it leaves.
        let offers: Vec<_> = theirs.offers.iter().collect();
        assert_eq!(offers.len(), found.len(), "{text}");
        for (pair, all, plain) in &found {
            let name = named(cross, *pair).name();
            let offer = offers.iter().find(|offer| offer.pair == name).expect("every open pair");
            assert_eq!((offer.ready, offer.lead), (all.ready, all.lead), "{name:?} {text}");
            assert_eq!((offer.plain_ready, offer.plain_lead), (plain.ready, plain.lead), "{name:?} {text}");
            assert_eq!(offer.buried, seen.is_buried(*pair), "{name:?} {text}");
            assert_eq!(offer.deduced, all.ready && !plain.ready, "{name:?} {text}");
            assert_eq!(
                format!("{:?}", offer.tier).to_lowercase(),
                seen.tier(*pair, step.is_cross),
                "{name:?} {text}"
            );
            counted.pairs_left += 1;
        }
        // What it is judged to be.
        let next = step.later.first().map_or(&[][..], |(pairs, _)| pairs);
        let end = moments[moments.len() - 1];
        let then = |book: &mut Book, pair: Pair| f64::from(book.then(&end, cross, pair).cost) / 2.0;
        let (other_line, stands): (Option<(f64, bool)>, Option<Pair>);
        if step.is_cross {
            let rank = |book: &mut Book, all: &Found, pair: Pair| {
                (!all.ready, Reverse(all.lead), book.then(&end, cross, pair).cost)
            };
            let of_next = found.iter().filter(|(pair, ..)| next.contains(pair));
            stands =
                of_next.map(|(pair, all, _)| (rank(book, all, *pair), *pair)).min().map(|(_, pair)| pair);
            other_line = None;
        } else {
            let before = &steps[k - 1];
            let before_moments = before.start.moments(&before.moves);
            let ready = before.seen(&before_moments, cross, &SIGHT).found(3);
            let found_before = super::steps::may_be_begun(ready, &step.in_hand);
            let played = Played {
                start: step.start,
                moves: &step.moves,
                cross,
                in_hand: &step.in_hand,
                later: &step.later,
                sight: &SIGHT,
                found_before: &found_before,
            };
            let judged = book.judge(&played, &offers::Settings { within: WITHIN, lead: 3, slack: 2 });
            let choice = theirs.choice.as_ref().expect("a pair step is judged");
            let units = |half: u32| f64::from(half) / 2.0;
            assert_eq!(choice.cost, units(judged.cost), "{text}");
            assert_eq!(choice.price, judged.price.map(units), "{text}");
            let verdict = choice.verdict.map(|verdict| format!("{verdict:?}").to_lowercase());
            assert_eq!(verdict.as_deref(), judged.verdict, "{text}");
            assert_eq!(choice.cleaner.is_some(), !judged.cleaner.is_empty(), "{text}");
            counted.verdicts += usize::from(verdict.is_some());
            stands = judged.next;
            // Of the two that are shown the first that hands would play so.
            let played_turns: usize = step.moves.iter().map(|&mv| turns(mv)).sum();
            let same = |solves: &[Pair]| {
                solves.len() == step.in_hand.len() && solves.iter().all(|pair| step.in_hand.contains(pair))
            };
            let told = choice.alternatives.iter().find_map(|line| {
                let ours = judged.alternatives.iter().find(|ours| {
                    let names = |pair: &Pair| line.pairs.contains(&named(cross, *pair).name());
                    let next = || {
                        ours.next.iter().any(|pair| {
                            line.next.as_ref().is_some_and(|next| next.pair == named(cross, *pair).name())
                        })
                    };
                    units(ours.price) == line.price
                        && ours.same_turns == line.same_turns
                        && ours.solves.iter().all(names)
                        && (ours.next.is_empty() || next())
                });
                let ours = ours.expect("what is shown may be offered");
                let tokens: Vec<Move> = line.text.iter().copied().collect();
                let reads = ours.same_turns
                    || causes::reads_as_played(&tokens, &ours.solves, &step.in_hand, played_turns);
                reads.then_some(ours)
            });
            other_line = told
                .filter(|ours| !ours.same_turns)
                .and_then(|ours| Some((units(ours.price) - units(judged.price?), !same(&ours.solves))));
        }
        // The same turns with another pair, as the hands are held.
        let carried = |pair: Pair| {
            let pieces = [super::stickers::corner(cross, pair), super::stickers::edge(pair)];
            let one = |k: &usize| {
                pieces.iter().any(|&piece| carried_by(&moments[*k..=k + 1], &step.moves[*k..=*k], piece) > 0)
            };
            (0..step.moves.len()).filter(one).count()
        };
        let (mut other_plain, mut other_plain_up, mut other_pair) = (false, false, None::<f64>);
        if let Some(taken) = stands {
            let own = then(book, taken);
            let others = || found.iter().filter(|(pair, ..)| !next.contains(pair));
            let open_on_top =
                others().any(|(pair, _, plain)| plain.ready && seen.tier(*pair, step.is_cross) == "top");
            for (other, all, plain) in others() {
                let more = then(book, *other) - own;
                let named = !(open_on_top && seen.tier(*other, step.is_cross) == "slot")
                    && (!step.is_cross || carried(*other) < carried(taken));
                if !named {
                    continue;
                }
                if all.ready && (more <= 0.0 || !seen.is_buried(*other)) {
                    other_pair = Some(other_pair.map_or(more, |dearer| dearer.min(more)));
                }
                let plain_no_dearer = plain.ready && more <= 0.0;
                other_plain |= plain_no_dearer;
                other_plain_up |= plain_no_dearer && end.is_up(cross, super::stickers::corner(cross, *other));
            }
        }
        // Why the hands stopped before the next.
        let taken = found.iter().find(|(pair, ..)| Some(*pair) == stands);
        let (Some((pair, all, plain)), Some(after)) = (taken, steps.get(k + 1)) else { continue };
        let is_before = |gap: &super::clock::Gap| gap.lies == Lies::Before(after.number);
        let stop = timed.gaps().into_iter().find(is_before).filter(|&gap| timed.is_stop(gap));
        let told = facts
            .steps
            .iter()
            .find(|other| other.from == begins[after.number] && other.kind == StepKind::Pair);
        let told = told.expect("the step").stop_before();
        assert_eq!(
            told.map(|stop| (stop.seconds * 1e6).round() as u64),
            stop.map(|gap| gap.micros),
            "{text}"
        );
        let (Some(stop), Some(told)) = (stop, told) else { continue };
        let pieces = [super::stickers::corner(cross, *pair), super::stickers::edge(*pair)];
        let ready_before = k > 0 && {
            let before = &steps[k - 1];
            let moments = before.start.moments(&before.moves);
            let found = before.seen(&moments, cross, &SIGHT).found(3);
            found.iter().any(|(other, all, _)| other == pair && all.ready)
        };
        let wider = [SIGHT.as_slice(), &[Face::L]].concat();
        let tilted = step.seen(&moments, cross, &wider);
        let late: Vec<Watched> = [3, 2]
            .into_iter()
            .flat_map(|sides| seen.watch(sides))
            .filter(|watched| pieces.contains(&watched.piece) && is_late(&seen, watched))
            .collect();
        // By then each piece is found without the tilt, or has been on the face that the tilt shows.
        let shows = |by: usize| {
            let watched = [3, 2].into_iter().flat_map(|sides| seen.watch(sides));
            watched.filter(|watched| pieces.contains(&watched.piece)).all(|watched| {
                let on_it = |cube: &Cube| !cube.shown(cube.cubie(watched.piece), &[Face::L]).is_empty();
                watched.found.is_some_and(|(moment, _)| moment <= by) || moments[..=by].iter().any(on_it)
            })
        };
        let remembered = |watched: &Watched| {
            k > 0 && {
                let earlier = &steps[k - 1];
                let before = earlier.start.moments(&earlier.moves);
                let open = |cube: &Cube| cube.shown(cube.cubie(watched.piece), &SIGHT).len() >= 2;
                before.iter().rposition(open).is_some_and(|last| {
                    let since = carried_by(&before[last..], &earlier.moves[last..], watched.piece)
                        + carried_by(&moments, &step.moves, watched.piece);
                    since <= 1 && !(earlier.is_cross && last == 0)
                })
            }
        };
        let in_view = pieces.iter().all(|&piece| end.shown(end.cubie(piece), &SIGHT).len() >= 2);
        let moved_once = |watched: &Watched| carried_by(&moments, &step.moves, watched.piece) <= 1;
        let tilt = tilted.found(3).iter().find_map(|(other, all, _)| {
            let by = all.moment.filter(|_| other == pair && all.ready)?;
            shows(by).then_some(by)
        });
        let tilt_at_once = !all.ready && tilt.is_some_and(|by| by <= 1);
        let both_worked_out = all.ready
            && [3, 2].into_iter().flat_map(|sides| seen.watch(sides)).all(|watched| {
                let plain_late = watched.plain.is_none_or(|plain| plain > 0 && seen.to_go(plain) < 3);
                let deduced = watched.found.is_some_and(|(moment, _)| watched.plain != Some(moment));
                !pieces.contains(&watched.piece) || deduced && plain_late
            });
        let facts_of_stop = causes::Facts {
            ready: all.ready,
            plain_ready: plain.ready,
            plain_at_once: plain.moment == Some(0),
            other_plain,
            other_plain_up,
            ready_before: ready_before && late.iter().all(moved_once),
            by_a_hair: all.lead == Some(2) || all.lead == Some(1) && in_view,
            followed: step.is_cross && (carried(*pair) <= 5 || both_worked_out || tilt_at_once),
            other_pair,
            other_line,
            seconds_a_unit,
            stop: stop.micros as f64 / 1e6,
            tilt: tilt.is_some(),
            glance: !late.is_empty() && late.iter().all(remembered),
        };
        let ours = cause(&facts_of_stop);
        let theirs = told.cause.map(annotation::Cause::word);
        assert_eq!(theirs, Some(ours), "before {pair:?}: {facts_of_stop:?} {late:?}\n{text}");
        *counted.causes.entry(ours).or_default() += 1;
    }
}

#[test]
fn annotations_say_what_the_definitions_do() {
    let (mut rng, mut solver) = (Rng::new(super::seed(541)), Solver::new());
    let (mut book, mut counted) = (Book::new(), Counted::default());
    for i in 0..if switch::slow() { 120 } else { 8 } {
        let options = Options {
            cross_on_left: 0.0,
            looks_ahead: i % 2 == 0,
            two_pairs: i % 5 == 4,
            wide: i % 3 == 0,
            ..Options::default()
        };
        let solve = solver.random(&mut rng, &options);
        let style = Style { marks: Marks::Both, stops: 0.7, ..Style::default() };
        let text = solve.yaml("made", &style, &mut rng);
        compare(&mut book, &solve, &text, &mut counted);
    }
    super::say(&format!("annotation: {counted:?}"));
    assert!(counted.causes.len() > 2 && counted.verdicts > 0);
}

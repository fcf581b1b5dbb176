//! What cost most, sentence by sentence: the figure at its left, its step and the figures in it are facts of the
//! annotation. A table of sentence and fact, held to every record kept here and to made solves.

use std::collections::BTreeMap;
use std::fs;

use cornerwise::annotate::{Settings, annotate};
use cornerwise::annotation::{Annotation, Cause, Loss, LossKind, Offer, Reason, Step, Tier};
use cornerwise::cube::Move;
use cornerwise::diagnostic::Source;
use cornerwise::record;
use cornerwise::story::blocks::{Block, Item};
use cornerwise::story::{self, Told};
use cornerwise::study::Study;

use crate::support::elimination::stickers_in_sight;
use crate::support::read;
use crate::support::solver::{Marks, Options, Rng, Solver, Style};
use crate::support::space::Space;

fn annotated(name: &str, text: &str) -> Vec<Annotation> {
    let source = Source::new(name, text);
    let reading = record::read(&source);
    let one = |(n, record)| annotate(&Study::new(&source, n + 1, record), &Settings::default()).facts;
    reading.records.iter().enumerate().map(one).collect()
}

/// How many stickers of corner and edge of a pair are in sight at a moment, and where the pieces are, from the model in
/// space.
fn in_space(facts: &Annotation, offer: &Offer, moment: usize) -> [(usize, String); 2] {
    let cross = facts.cross.expect("a cross");
    let [a, b] = offer.pair.sides();
    let tokens: Vec<Move> = facts.moments.iter().filter_map(|moment| moment.token).collect();
    let space = Space::played(&[&read::moves(&facts.scramble), &tokens[..moment]].concat());
    [vec![cross, a, b], vec![a, b]]
        .map(|piece| (stickers_in_sight(&space, &piece, facts.sight), space.place(&piece)))
}

/// When and where corner and edge of a pair first showed two stickers during a step, from the model in space.
fn open_in_space(facts: &Annotation, step: &Step, offer: &Offer) -> [(usize, String); 2] {
    [0, 1].map(|which| {
        let mut open = (step.from..=step.to).filter_map(|moment| {
            let (shown, place) = in_space(facts, offer, moment)[which].clone();
            (shown >= 2).then_some((moment, place))
        });
        open.next().expect("it lay open")
    })
}

/// What is said of where the pieces begin and end, if it is said, is so in space.
fn watched(facts: &Annotation, before: &Step, offer: &Offer, words: &str) {
    let (began, ends) = (in_space(facts, offer, before.from), in_space(facts, offer, before.to));
    let holds = |fact: String| assert!(words.contains(&fact), "“{fact}” is not in “{words}”");
    for (which, piece) in ["corner", "edge"].into_iter().enumerate() {
        if words.contains(&format!("Its {piece} comes out of ")) {
            holds(format!("Its {piece} comes out of {}:", began[which].1));
            assert!(!began[which].1.contains('U') && ends[which].1.contains('U'), "{words}");
        }
    }
    if words.contains("Look for its corner") {
        holds(format!("Look for its corner at {} and its edge at {}.", ends[0].1, ends[1].1));
        assert!(ends.iter().all(|piece| piece.0 >= 2), "{words}");
    }
    if words.contains("Follow it:") {
        holds(format!("Follow it: it ends at {} and {}.", ends[0].1, ends[1].1));
        if ends.iter().any(|piece| piece.0 < 2) {
            return;
        }
        // If neither is out of sight at the end, one went down, or on, from where it lay.
        let from = open_in_space(facts, before, offer).map(|(moment, _)| moment);
        let ways = (from[0].max(from[1])..=before.to).map(|moment| in_space(facts, offer, moment));
        let ways: Vec<[String; 2]> = ways.map(|pieces| pieces.map(|(_, place)| place)).collect();
        let down = |piece: usize| ways.iter().any(|way| !way[piece].contains('U'));
        let moved = |piece: usize| ways.iter().any(|way| way[piece] != ways[0][piece]);
        assert!(down(0) || (down(1) && moved(1)), "{words}");
    }
}

/// The sentences below the heading.
fn told(facts: &Annotation) -> Vec<Item> {
    let blocks = story::solve(facts, Told::Brief, true, false);
    let begins = |block: &Block| match block {
        Block::Heading(heading) => ["What cost most", "What was late", "What could be easier"]
            .iter()
            .any(|&begin| heading.starts_with(begin)),
        _ => false,
    };
    let at = blocks.iter().position(begins);
    match at.and_then(|at| blocks.get(at + 1)) {
        Some(Block::Items(items)) => items.clone(),
        _ => Vec::new(),
    }
}

/// The words that say why a pair was not at hand, against the facts and the model in space.
fn reasoned(facts: &Annotation, index: usize, why: &Reason, words: &str) {
    let step = &facts.steps[index];
    let before = &facts.steps[index - 1];
    let offer = before.taken().expect("the pair");
    let holds = |fact: &str| assert!(words.contains(fact), "“{fact}” is not in “{words}”");
    match why.cause {
        Cause::Attention => {
            let lead = offer.plain_lead.expect("it lay open");
            assert!(offer.ready && offer.plain_ready);
            holds(&lead.to_string());
            watched(facts, before, offer, words);
            let [corner, edge] = open_in_space(facts, before, offer);
            if corner.0 == edge.0 {
                holds(&format!("lay open at {} and {} ", corner.1, edge.1));
            } else {
                holds("lay open: ");
                holds(&format!("its corner at {} ", corner.1));
                holds(&format!("its edge at {} ", edge.1));
            }
        }
        Cause::Deduction => {
            assert!(offer.ready && !offer.plain_ready);
            if words.contains("one slot open, so it is in that slot") {
                assert_eq!((before.offers.len(), offer.tier), (1, Tier::Slot), "{words}");
                // When that can be told, neither piece is in the top layer.
                for (which, watch) in [&offer.corner, &offer.edge].into_iter().enumerate() {
                    let moment = watch.deduced.as_ref().expect("it is deduced").moment;
                    let place = in_space(facts, offer, moment)[which].1.clone();
                    assert!(!place.contains('U'), "{words}");
                }
                return;
            }
            if words.contains("In inspection find") {
                assert_eq!(Some(before.obtm), offer.told_lead, "{words}");
                let [began, ends] = [before.from, before.to].map(|moment| in_space(facts, offer, moment));
                holds(&format!(" at {} and {}; ", began[0].1, began[1].1));
                holds(&format!(" leaves it at {} and {}.", ends[0].1, ends[1].1));
                return;
            }
            holds(" could be worked out ");
            // A piece that lay open in time need not be worked out.
            let hidden = [&offer.corner, &offer.edge]
                .into_iter()
                .filter(|watch| !watch.open_in_time(before, facts.settings.lead));
            let hidden: Vec<_> = hidden.filter_map(|watch| watch.deduced.as_ref()).collect();
            let open = [&offer.corner, &offer.edge]
                .into_iter()
                .filter_map(|watch| watch.plain.filter(|_| watch.open_in_time(before, facts.settings.lead)));
            // The moment that is told is that of the later piece; one that could be told sooner says when.
            let moment = hidden.iter().map(|deduced| deduced.moment).chain(open).max().expect("a moment");
            let left = |moment: usize| -> usize {
                let tokens = facts.moments[moment + 1..=before.to].iter().filter_map(|moment| moment.token);
                tokens.map(|token| token.obtm()).sum()
            };
            let to_go = left(moment);
            assert_eq!(Some(to_go), offer.told_lead, "{words}");
            if to_go < before.obtm {
                holds(&format!(" could be worked out {to_go} turn"));
            }
            // The other piece is named where it lay.
            for (which, watch) in [&offer.corner, &offer.edge].into_iter().enumerate() {
                if watch.open_in_time(before, facts.settings.lead) {
                    let (shown, place) = in_space(facts, offer, watch.plain.expect("open"))[which].clone();
                    assert!(shown >= 2, "{words}");
                    holds(&format!("its {} lay open at {place}", ["corner", "edge"][which]));
                }
            }
            for deduced in hidden {
                let places = in_space(facts, offer, deduced.moment).map(|(_, place)| place);
                assert!(places.contains(&deduced.place.to_string()), "{words}");
                holds(&deduced.place.to_string());
                if left(deduced.moment) == before.obtm && to_go < before.obtm {
                    assert!(words.contains("began for ") || words.contains("began its "), "{words}");
                }
            }
        }
        Cause::Choice => {
            let instead = why.instead.as_ref().expect("what was ready");
            assert!(!offer.ready || (!offer.plain_ready && instead.dearer <= 0.0));
            let wanted = instead.pair;
            holds(&wanted.to_string());
            // Where it lay open it did so with both pieces, at one moment.
            if words.contains("it lay open at ") {
                let taken = before.offers.iter().find(|offer| offer.pair == wanted).expect("it is open");
                let [corner, edge] = open_in_space(facts, before, taken);
                let [corner, edge] = in_space(facts, taken, corner.0.max(edge.0));
                assert!(corner.0 >= 2 && edge.0 >= 2, "{words}");
                holds(&format!("it lay open at {} and {} ", corner.1, edge.1));
            }
            let cost = match instead.seconds {
                Some(seconds) if seconds.abs() >= 0.05 => {
                    let more = if instead.dearer > 0.0 { "more" } else { "less" };
                    format!("costs about {:.1} s {more}", seconds.abs())
                }
                None if instead.dearer.abs() >= 0.25 => {
                    let turns = instead.dearer.abs();
                    let more = if instead.dearer > 0.0 { "more" } else { "less" };
                    format!("costs about {turns} turn{} {more}", if turns == 1.0 { "" } else { "s" })
                }
                _ => "costs no more".into(),
            };
            let earlier = facts.steps[..index].iter().find(|step| {
                let instead = step.stop_before().and_then(|stop| stop.instead.as_ref());
                instead.is_some_and(|other| other.pair == wanted)
            });
            let earlier = earlier.filter(|_| !instead.by_another_line);
            if words.contains("As before, take ") {
                // Nor has it two prices.
                assert!(instead.by_another_line && !words.contains("costs"), "{words}");
                return;
            }
            match earlier {
                // One choice is told once.
                Some(earlier) => holds(&format!("as before {}", earlier.title())),
                None => holds(&cost),
            }
        }
        Cause::Inspection => {
            if words.contains(" lies open at ") {
                // Both lie open at one and the same moment.
                let [corner, edge] = open_in_space(facts, before, offer);
                let [corner, edge] = in_space(facts, offer, corner.0.max(edge.0));
                assert!(corner.0 >= 2 && edge.0 >= 2, "{words}");
                holds(&format!("lies open at {} and {} ", corner.1, edge.1));
            }
            holds(" inspection");
            holds(&offer.corner.from.to_string());
        }
        Cause::View => {
            assert!(!offer.ready);
            watched(facts, before, offer, words);
        }
        Cause::Position => {
            assert!(!offer.ready);
            let cost = |offer: &Offer| offer.line.as_ref().map(|line| line.cost);
            let others = before.offers.iter();
            let sooner: Vec<&Offer> = others
                .filter(|other| !other.taken && other.lead > offer.lead)
                .filter(|other| cost(other).zip(cost(offer)).is_some_and(|(a, b)| a <= b))
                .collect();
            match sooner.iter().filter_map(|other| other.lead).max() {
                Some(most) => {
                    holds(&format!("could be found with {most} to go and costs no more"));
                    assert!(sooner.iter().any(|o| words.contains(&o.pair.to_string())), "{words}");
                }
                // Unless a cleaner line is told of the step itself.
                None => {
                    let cleaner = step.cleaner().is_some();
                    assert_eq!(words.contains("nothing better was there"), !cleaner, "{words}");
                }
            }
        }
        Cause::Recognition => unreachable!("that is no pair's"),
    }
}

/// What is said below them.
fn besides(facts: &Annotation) -> Option<String> {
    let blocks = story::solve(facts, Told::Brief, true, false);
    blocks.iter().find_map(|block| match block {
        Block::Paragraph(words) => {
            Some(words.plain().into_owned()).filter(|words| words.starts_with("Besides, "))
        }
        _ => None,
    })
}

/// Each kind of sentence with the facts it has to hold. Counts what was met.
fn check(facts: &Annotation, met: &mut BTreeMap<String, usize>) {
    let items = told(facts);
    let losses = &facts.losses;
    assert!(losses.len() <= 3);
    assert_eq!(losses.len(), items.len(), "{items:?}");
    // Recognition that is longer than the least of them is named besides, and no other.
    let least = losses.iter().filter_map(|loss| loss.seconds).fold(f64::INFINITY, f64::min);
    let named: Vec<String> = facts
        .steps
        .iter()
        .enumerate()
        .filter(|(index, _)| losses.iter().all(|loss| loss.step != *index))
        .flat_map(|(_, step)| step.stops.iter().map(move |stop| (step, stop)))
        .filter(|(_, stop)| stop.cause == Some(Cause::Recognition) && !stop.derived && stop.seconds > least)
        .map(|(step, stop)| format!("{:.2} s before {}", stop.seconds, step.title()))
        .collect();
    let besides = besides(facts).unwrap_or_default();
    assert_eq!(besides.matches(" s before ").count(), named.len(), "{besides}");
    named.iter().for_each(|named| assert!(besides.contains(named), "“{named}” is not in “{besides}”"));
    // In the order of the figures as they are told: estimates in tenths.
    let told_as = |loss: &Loss| {
        let seconds = loss.seconds.unwrap_or(0.0);
        if loss.stop.is_some() { seconds } else { (seconds * 10.0).round() / 10.0 }
    };
    assert!(losses.is_sorted_by(|x, y| told_as(x) >= told_as(y)));
    for (item, loss) in items.iter().zip(losses) {
        let step = &facts.steps[loss.step];
        let words = item.words.plain();
        let holds = |fact: &str| assert!(words.contains(fact), "“{fact}” is not in “{words}”");
        assert_eq!(item.moment, Some(loss.moment));
        let kind = match loss.kind {
            LossKind::Stop => {
                let stop = &step.stops[loss.stop.expect("which of them")];
                assert_eq!(loss.seconds, Some(stop.seconds));
                let decimals = if stop.derived { 1 } else { 2 };
                assert_eq!(item.figure, format!("{:.decimals$} s", stop.seconds));
                holds(&step.title());
                match stop.why() {
                    None => assert!(stop.inside && words.starts_with("inside "), "{words}"),
                    Some(Reason { cause: Cause::Recognition, .. }) => {
                        holds("to recognise it");
                        assert_eq!(
                            words.contains("nothing of look-ahead cost more"),
                            losses.first() == Some(loss)
                        );
                        let larger = losses.iter().any(|other| {
                            other.seconds > loss.seconds && {
                                let stop = other.stop.map(|stop| &facts.steps[other.step].stops[stop]);
                                stop.is_none_or(|stop| stop.cause != Some(Cause::Recognition))
                            }
                        });
                        assert!(!larger, "{words}");
                    }
                    Some(why) => reasoned(facts, loss.step, &why, &words),
                }
                stop.cause.map_or("inside".into(), |cause| cause.to_string())
            }
            LossKind::Cleaner => {
                let line =
                    step.choice.as_ref().and_then(|choice| choice.cleaner.as_ref()).expect("a cleaner line");
                assert_eq!(loss.units, Some(line.saves));
                match line.seconds.filter(|_| loss.seconds.is_some()) {
                    Some(seconds) => {
                        assert_eq!(
                            (loss.seconds, item.figure.clone()),
                            (Some(seconds), format!("{seconds:.1} s"))
                        );
                        holds(&step.title());
                    }
                    None => assert_eq!(item.figure, step.title()),
                }
                holds(&if line.same_turns { "the same turns".into() } else { line.text.to_string() });
                line.next.iter().for_each(|next| holds(&next.then.to_string()));
                "cleaner".into()
            }
            LossKind::Own => {
                let line =
                    step.choice.as_ref().and_then(|choice| choice.own.as_ref()).expect("a line of its own");
                assert_eq!(loss.units, Some(line.saves));
                holds(&line.text.to_string());
                if line.obtm == step.obtm {
                    holds("as many turns");
                } else {
                    holds(&format!("{} turns", line.obtm));
                }
                "own".into()
            }
            LossKind::Late => {
                assert_eq!(item.figure, step.title());
                assert!(loss.seconds.is_none());
                let offer = facts.steps[loss.step - 1].taken().expect("the pair");
                assert!(!offer.ready);
                match &loss.why {
                    Some(why) => reasoned(facts, loss.step, why, &words),
                    None => holds("late."),
                }
                "late".into()
            }
        };
        *met.entry(kind).or_default() += 1;
    }
}

#[test]
fn every_sentence_of_what_cost_most_is_a_fact() {
    let mut met = BTreeMap::new();
    let folder = format!("{}/reconstructions", env!("CARGO_MANIFEST_DIR"));
    for entry in fs::read_dir(folder).expect("the records").flatten() {
        let path = entry.path();
        let Some("yaml" | "txt") = path.extension().and_then(|ending| ending.to_str()) else { continue };
        let text = fs::read_to_string(&path).expect("a record");
        annotated("kept", &text).iter().for_each(|facts| check(facts, &mut met));
    }
    let (mut solver, mut rng) = (Solver::new(), Rng::new(97));
    for n in 0..60 {
        let options = Options { temper: 3.0, looks_ahead: n % 3 == 0, ..Options::default() };
        let marks = [Marks::Both, Marks::Both, Marks::Every, Marks::Ends, Marks::None][n % 5];
        let style = Style { marks, stops: 0.5, pace: 5.0, ..Style::default() };
        let text = solver.random(&mut rng, &options).yaml("made", &style, &mut rng);
        annotated("made", &text).iter().for_each(|facts| check(facts, &mut met));
    }
    for kind in
        ["attention", "choice", "deduction", "view", "position", "inspection", "cleaner", "own", "late"]
    {
        assert!(met.get(kind).is_some_and(|n| *n > 0), "{kind}: {met:?}");
    }
}

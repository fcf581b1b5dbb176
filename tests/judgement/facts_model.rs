//! What an annotation says of places, tiers and ways, against the stickers in space: for made solves in every
//! kind of token, and for every record of `reconstructions/`.

use std::collections::BTreeMap;
use std::path::Path;

use crate::support::random::Random;
use crate::support::rewrite::{kinds_of_solve, rewritten};
use crate::support::solver::{Rng, Solver};
use crate::support::space::{Space, pairs_of, tier};
use cornerwise::annotate::{Settings, annotate};
use cornerwise::annotation::{Annotation, Offer, Step, StepKind, Watch};
use cornerwise::cube::{Colour, Face, Move, Moves, PairName};
use cornerwise::diagnostic::Source;
use cornerwise::record::{self, Record};
use cornerwise::study::Study;

/// How often each thing was met, so that a test cannot pass by looking at nothing.
type Met = BTreeMap<String, usize>;

fn colour(name: &str) -> Colour {
    Colour::ALL.into_iter().find(|colour| colour.to_string() == name).expect("a colour")
}

/// The side colours of a pair's name.
fn sides(pair: PairName) -> [Colour; 2] {
    let pair = pair.to_string();
    let (a, b) = pair.split_once('-').expect("two colours");
    assert!(a < b, "in alphabetical order: {pair}");
    [colour(a), colour(b)]
}

fn check_record(source: &Source, number: usize, record: &Record, met: &mut Met) {
    let facts = annotate(&Study::new(source, number, record), &Settings::default()).facts;
    let mut space = Space::played(&record.scramble.playable().collect::<Vec<_>>());
    let moves: Vec<Move> = record.solution.playable().collect();
    let mut moments = vec![space.clone()];
    for &mv in &moves {
        space.play(mv);
        moments.push(space.clone());
    }
    let where_ = format!("{} record {number}", source.name);

    assert_eq!((facts.tokens, facts.moments.len()), (moves.len(), moments.len()), "{where_}");
    for (moment, space) in facts.moments.iter().zip(&moments) {
        let faces = [Face::U, Face::L, Face::F, Face::R, Face::B, Face::D];
        let letters: String =
            faces.into_iter().flat_map(|face| space.face(face)).map(Colour::letter).collect();
        assert_eq!(moment.stickers.to_string(), letters, "{where_}");
        assert_eq!(moment.hold.up, space.face(Face::U)[4], "{where_}");
        assert_eq!(moment.hold.front, space.face(Face::F)[4], "{where_}");
    }
    assert_eq!(facts.solved, moments[moves.len()].all_faces_are_uniform(), "{where_}");
    for (index, step) in facts.steps.iter().enumerate() {
        check_step(&facts, index, step, &moves, &moments, met, &where_);
    }
}

fn check_step(
    facts: &Annotation,
    index: usize,
    step: &Step,
    moves: &[Move],
    moments: &[Space],
    met: &mut Met,
    where_: &str,
) {
    let where_ = format!("{where_}, {} ({} to {})", step.name, step.from, step.to);
    // WCA Regulations 12a5 and 12a6; a slice is two face turns and a rotation.
    let outer: usize = moves[step.from..step.to]
        .iter()
        .map(|mv| match mv {
            Move::Turn(..) | Move::Wide(..) => 1,
            Move::Slice(..) => 2,
            Move::Rotation(..) => 0,
        })
        .sum();
    assert_eq!((step.obtm, step.etm), (outer, step.to - step.from), "{where_}");

    let Some(cross) = facts.cross else {
        assert!(step.offers.is_empty(), "{where_}");
        return;
    };
    // Open is what no step up to this one has solved.
    let solved: Vec<PairName> =
        facts.steps[..=index].iter().flat_map(|step| step.pairs.iter().copied()).collect();
    let mut open: Vec<PairName> = facts.lanes.iter().map(|lane| lane.pair).collect();
    open.retain(|pair| !solved.contains(pair));
    if matches!(step.kind, StepKind::Cross | StepKind::Pair) {
        let by_stickers = |pair: &PairName| !moments[step.to].pair_is_solved(cross, sides(*pair));
        assert!(open.iter().all(by_stickers), "{where_}");
        assert_eq!(
            open.len(),
            pairs_of(cross).iter().filter(|&&pair| { !moments[step.to].pair_is_solved(cross, pair) }).count(),
            "{where_}"
        );
    }
    if !matches!(step.kind, StepKind::Cross | StepKind::Pair | StepKind::Rest) {
        assert!(step.offers.is_empty(), "{where_}");
        return;
    }
    let (from, to) = (&moments[step.from], &moments[step.to]);
    let filled: Vec<[Colour; 2]> = match step.kind {
        StepKind::Pair => step.pairs.iter().map(|&pair| sides(pair)).collect(),
        _ => Vec::new(),
    };
    let mut offered: Vec<PairName> = step.offers.iter().map(|offer| offer.pair).collect();
    offered.sort();
    open.sort();
    assert_eq!(offered, open, "{where_}: every open pair once, and no other");

    let after = facts.steps.get(index + 1).filter(|after| after.kind == StepKind::Pair);
    let mut solved_next: Vec<PairName> = after.into_iter().flat_map(|after| after.pairs.clone()).collect();
    let mut taken: Vec<PairName> = step.next().map(|offer| offer.pair).collect();
    solved_next.sort();
    taken.sort();
    assert_eq!(taken, solved_next, "{where_}");
    let order = |offer: &Offer| (!offer.taken, offer.tier);
    assert!(step.offers.is_sorted_by_key(order), "{where_}: those solved next, then best tier first");

    for offer in &step.offers {
        let [a, b] = sides(offer.pair);
        let name = tier(from, to, cross, [a, b], &filled);
        assert_eq!(offer.tier.word(), name, "{where_}: {}", offer.pair);
        *met.entry(format!("offered {name}")).or_default() += 1;
        let corner = [cross, a, b];
        let buried = from.is_up(cross, &corner) && !to.is_up(cross, &corner);
        assert_eq!(offer.buried, buried, "{where_}: {}", offer.pair);
        *met.entry(format!("buried {buried}")).or_default() += 1;
        check_watch(&offer.corner, &corner, cross, step, moves, moments, &where_);
        check_watch(&offer.edge, &[a, b], cross, step, moves, moments, &where_);
    }
}

/// Where a piece was at both ends of a step, and each time a turn (not a rotation) carried it elsewhere.
fn check_watch(
    watch: &Watch,
    piece: &[Colour],
    cross: Colour,
    step: &Step,
    moves: &[Move],
    moments: &[Space],
    where_: &str,
) {
    let place = |moment: usize| moments[moment].place(piece);
    let way: Vec<(usize, String)> = (step.from + 1..=step.to)
        .filter(|&moment| !matches!(moves[moment - 1], Move::Rotation(..)))
        .filter(|&moment| place(moment) != place(moment - 1))
        .map(|moment| (moment, place(moment)))
        .collect();
    assert_eq!(watch.from.to_string(), place(step.from), "{where_}: {piece:?}");
    assert_eq!(watch.to.to_string(), place(step.to), "{where_}: {piece:?}");
    assert_eq!(watch.up, moments[step.to].is_up(cross, piece), "{where_}: {piece:?}");
    let told: Vec<(usize, String)> =
        watch.way.iter().map(|&(moment, place)| (moment, place.to_string())).collect();
    assert_eq!(told, way, "{where_}: {piece:?}");
}

#[test]
fn made_solves_in_every_kind_of_token() {
    let (mut solver, mut rng, mut random) = (Solver::new(), Rng::new(41), Random::new(41));
    let mut met = Met::new();
    for _ in 0..4 {
        for options in kinds_of_solve() {
            let made = solver.random(&mut rng, &options);
            let plain: Vec<Move> = made.moves().collect();
            for solution in [rewritten(&mut random, &made.scramble, &plain), plain] {
                let text = format!("{}\n\n{}\n", Moves::of(&made.scramble), Moves::of(&solution));
                let source = Source::new(text.clone(), text);
                let reading = record::read(&source);
                assert_eq!(reading.records.len(), 1, "{}", source.text);
                check_record(&source, 1, &reading.records[0], &mut met);
            }
        }
    }
    let wanted =
        ["offered top", "offered target", "offered lifted", "offered slot", "buried true", "buried false"];
    for what in wanted {
        assert!(met.get(what).is_some_and(|&n| n >= 5), "{what} among {met:?}");
    }
}

#[test]
fn the_records_of_the_folder() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("reconstructions");
    let mut met = Met::new();
    let mut records = 0;
    for entry in std::fs::read_dir(folder).expect("the folder is there") {
        let path = entry.expect("an entry").path();
        if path.extension().is_none_or(|extension| extension == "md") {
            continue;
        }
        let text = std::fs::read_to_string(&path).expect("text");
        let source = Source::new(path.display().to_string(), text);
        for (i, record) in record::read(&source).records.iter().enumerate() {
            // A record with a token that cannot be read is annotated up to it.
            check_record(&source, i + 1, record, &mut met);
            records += 1;
        }
    }
    assert!(records >= 8, "{records}");
}

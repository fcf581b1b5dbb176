//! Prices, offers, verdict, alternatives, cleaner and own line, by the library and by the second implementation.

use std::collections::{BTreeMap, BTreeSet};

use cornerwise::cube::{self, FaceSet, Position};
use cornerwise::hands::HalfUnits;
use cornerwise::judgement::{self, Judge, Verdict};
use cornerwise::sight::Moments;

use super::against_sight::{named, positions};
use super::lines::{self, Book};
use super::offers::{Judged, Offer, Played, Settings};
use super::steps::{MadeStep, recorded, steps};
use super::stickers::{Cube, Pair};
use crate::support::switch;

/// What the order of offers depends on, but for the order of tokens.
type Rank = (u32, bool, u32, usize);

fn rank(offer: &Offer) -> Rank {
    (offer.price, !offer.same_turns, offer.cost, offer.turns.len())
}

#[derive(Default, Debug)]
struct Counted {
    steps: usize,
    verdicts: BTreeMap<&'static str, usize>,
    lines: usize,
    offers: usize,
    alternatives: usize,
    cleaner: usize,
    cleaner_put_off: usize,
    own_lines: usize,
}

/// The offers, one end once: the best of each.
fn one_end_once(offers: &[Offer]) -> Vec<&Offer> {
    let mut ends: BTreeSet<Cube> = BTreeSet::new();
    offers.iter().filter(|offer| ends.insert(offer.end)).collect()
}

fn is_same(theirs: &judgement::Offer, ours: &Offer, step: &MadeStep) -> bool {
    let solves: BTreeSet<cube::Pair> = ours.solves.iter().map(|&pair| named(step.cross, pair)).collect();
    let next: BTreeSet<cube::Pair> = ours.next.iter().map(|&pair| named(step.cross, pair)).collect();
    theirs.same_turns == ours.same_turns
        && theirs.price.halves() == ours.price as i32
        && theirs.cost.halves() == ours.cost as i32
        && theirs.solves.iter().copied().collect::<BTreeSet<_>>() == solves
        && step.start().after(&theirs.moves).upright() == ours.end
        && theirs.next.as_ref().map_or(next.is_empty(), |theirs| {
            next.contains(&theirs.left.pair)
                && theirs.left.ready
                && theirs.left.lead == ours.lead
                && theirs.then.cost.halves() == (ours.price - ours.cost) as i32
        })
}

/// Whether an offer of the library's stands among those of ours that are equal but for the order of tokens.
fn expect_one(
    theirs: &judgement::Offer,
    ours: &Offer,
    all: &[Offer],
    step: &MadeStep,
    said: &dyn Fn() -> String,
) {
    let turns = theirs.turns;
    let theirs_rank = (theirs.price.halves() as u32, !theirs.same_turns, theirs.cost.halves() as u32, turns);
    let mut ours_rank = rank(ours);
    if theirs.same_turns {
        // Of the turns played the turns written are counted, which may be more than those merged.
        ours_rank.3 = turns;
    }
    assert_eq!(theirs_rank, ours_rank, "{theirs:?}\n{ours:?}\n{}", said());
    let equal = all.iter().filter(|offer| rank(offer) == rank(ours));
    assert!(
        equal.clone().any(|ours| is_same(theirs, ours, step)),
        "{theirs:?}\nnot among {:?}\n{}",
        equal.collect::<Vec<_>>(),
        said()
    );
}

fn compare(book: &mut Book, made: &MadeStep, within: usize, counted: &mut Counted) {
    let settings = Settings { within, lead: 3, slack: 2 };
    let start = made.start();
    let played = Played {
        start,
        moves: &made.moves,
        cross: made.cross,
        in_hand: &made.in_hand,
        later: &made.later,
        sight: &made.sight,
        found_before: &made.found_before,
    };
    let ours: Judged = book.judge(&played, &settings);

    let to_library = |pairs: &[Pair]| pairs.iter().map(|&pair| named(made.cross, pair)).collect::<Vec<_>>();
    let mut open = cube::Pair::all(made.cross).to_vec();
    open.retain(|pair| !to_library(&made.solved).contains(pair));
    let (solves, next) = (to_library(&made.in_hand), to_library(made.next()));
    let found_before = to_library(&made.found_before);
    let positions: Vec<Position> = positions(made);
    let theirs_settings =
        judgement::Settings { within, alternatives: 1000, ..judgement::Settings::default() };
    let judge = Judge::new(made.cross, FaceSet::of(&made.sight), &theirs_settings);
    let theirs_played = judgement::Played {
        moments: Moments::new(&positions, &made.moves),
        moves: &made.moves,
        open: &open,
        solves: &solves,
        next: &next,
        found_before: &found_before,
    };
    let really = ours.really.map(|really| HalfUnits::from_halves(really as i32));
    let theirs = judge.pair_step(&theirs_played, really);
    let said = || {
        let moves = |moves: &[cube::Move]| super::written(moves);
        format!(
            "{} cross, sight {:?}\nscramble: {}\nsolution: {}",
            made.cross,
            made.sight,
            moves(&made.before),
            moves(&made.moves)
        )
    };

    counted.steps += 1;
    counted.lines += theirs.lines;
    assert_eq!(theirs.cost.halves(), ours.cost as i32, "{}", said());
    assert_eq!(theirs.within, ours.within, "{}", said());
    assert_eq!(theirs.lines, ours.lines, "{}", said());
    assert_eq!(theirs.cheapest_own.map(|cost| cost.halves() as u32), ours.own_line, "{}", said());

    let Some(choice) = &theirs.choice else {
        assert_eq!(ours.price, None, "{}", said());
        compare_own_line(&theirs, &ours, made, counted, &said);
        return;
    };
    assert_eq!(choice.price.map(|price| price.halves() as u32), ours.price, "{}", said());
    assert_eq!(choice.next.ready, ours.ready, "{}", said());
    let verdict = match choice.verdict {
        Verdict::Kept => "kept",
        Verdict::Avoidable => "avoidable",
        Verdict::Forced => "forced",
    };
    assert_eq!(Some(verdict), ours.verdict, "{}", said());
    *counted.verdicts.entry(verdict).or_default() += 1;
    counted.offers += ours.offers.len();

    // Every alternative, in their order.
    let expected = one_end_once(&ours.alternatives);
    assert_eq!(
        choice.alternatives.len(),
        expected.len(),
        "{:?}\n{expected:?}\n{}",
        choice.alternatives,
        said()
    );
    for (theirs, ours_one) in choice.alternatives.iter().zip(expected) {
        expect_one(theirs, ours_one, &ours.alternatives, made, &said);
    }
    counted.alternatives += choice.alternatives.len();
    if verdict != "kept" {
        assert_eq!(choice.cheapest.is_some(), !ours.offers.is_empty(), "{}", said());
        if let Some(theirs) = &choice.cheapest {
            expect_one(theirs, &ours.offers[0], &ours.offers, made, &said);
        }
    }

    assert_eq!(
        choice.cleaner.is_some(),
        !ours.cleaner.is_empty(),
        "{:?}\n{:?}\n{}",
        choice.cleaner,
        ours.cleaner,
        said()
    );
    if let Some(theirs) = &choice.cleaner {
        expect_one(&theirs.offer, &ours.cleaner[0], &ours.cleaner, made, &said);
        assert_eq!(
            theirs.saves.halves(),
            ours.price.expect("another pair") as i32 - theirs.offer.price.halves()
        );
        assert_eq!(theirs.played_to_the_end.halves(), ours.whole as i32, "{}", said());
        let wholes = ours.cleaner.iter().filter(|ours| is_same(&theirs.offer, ours, made));
        assert!(
            wholes.map(|ours| ours.whole as i32).any(|whole| whole == theirs.to_the_end.halves()),
            "{}",
            said()
        );
        counted.cleaner += 1;
    } else if ours.offers.first().is_some_and(|offer| Some(offer.price + 4) <= ours.price) {
        counted.cleaner_put_off += 1;
    }
    let theirs_offered: BTreeSet<cube::Pair> = choice.offered.iter().copied().collect();
    assert_eq!(theirs_offered, ours.good.iter().map(|&pair| named(made.cross, pair)).collect(), "{}", said());
    compare_own_line(&theirs, &ours, made, counted, &said);
}

/// The own line is told from 1.5 units on, alone and with what comes after, unless the cleaner line solves the same pair.
fn compare_own_line(
    theirs: &judgement::Judged,
    ours: &Judged,
    made: &MadeStep,
    counted: &mut Counted,
    said: &dyn Fn() -> String,
) {
    let cleaner = theirs.choice.as_ref().and_then(|choice| choice.cleaner.as_ref());
    let besides = cleaner.is_some_and(|cleaner| {
        cleaner.offer.solves == made.in_hand.iter().map(|&pair| named(made.cross, pair)).collect::<Vec<_>>()
    });
    let saves = ours.own_saves.filter(|&saves| saves >= 3 && !besides);
    let expected = ours.own_line.filter(|_| saves.is_some());
    assert_eq!(theirs.own_line.as_ref().map(|own| i64::from(own.saves.halves())), saves, "{}", said());
    let told = theirs.own_line.as_ref().map(|own| own.cost.halves() as u32);
    assert_eq!(told, expected, "{}", said());
    if let Some(own) = &theirs.own_line {
        // It replays, costs what is said, and solves this pair.
        let start = made.start();
        let turns = super::cost::merged(&start, &own.moves);
        let ways = super::cost::ways(&start, made.cross, &turns, &super::cost::Table::default());
        assert_eq!(ways[0].cost as i32, own.cost.halves(), "{}", said());
        let solves = lines::solved_by(&start, made.cross, &turns).expect("a line");
        assert!(made.in_hand.iter().all(|pair| solves.contains(pair)), "{}", said());
        counted.own_lines += 1;
    }
}

/// Some steps, judged one after another.
fn run(book: &mut Book, steps: impl IntoIterator<Item = MadeStep>, within: usize) -> Counted {
    let mut counted = Counted::default();
    for step in steps.into_iter().filter(|step| !step.is_cross) {
        compare(book, &step, within, &mut counted);
    }
    counted
}

/// A run tries few solves; the runs of the slow kind, one after another, thousands.
#[test]
fn judgements_are_the_same() {
    let (solves, within) = if switch::slow() { (40, 8) } else { (4, 7) };
    let seeds = [super::seed(520), super::seed(521)];
    let counted: Vec<Counted> = std::thread::scope(|scope| {
        let threads =
            seeds.map(|seed| scope.spawn(move || run(&mut Book::new(), steps(seed, solves, true), within)));
        threads.into_iter().map(|thread| thread.join().expect("no difference")).collect()
    });
    for counted in &counted {
        super::say(&format!("judgement within {within}: {counted:?}"));
        assert!(counted.offers > 0 && counted.verdicts.len() > 1);
    }
}

#[test]
fn judgements_of_records_are_the_same() {
    let counted = run(&mut lines::shared(), recorded(), 8);
    super::say(&format!("judgement of records: {counted:?}"));
    assert!(counted.cleaner > 0);
}

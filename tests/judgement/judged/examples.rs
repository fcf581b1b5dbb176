//! The records of the folder, figure by figure.

use cornerwise::cube::{Move, Pair};
use cornerwise::judgement::{Choice, Judged, Open, Settings, Step, Verdict};

use super::solves::Played;
use crate::support::read::moves;

fn judged(file: &str, number: usize) -> Vec<Step> {
    Played::of_record(file, number).judged(&Settings::default()).into_iter().flatten().collect()
}

#[track_caller]
fn pair(step: &Step) -> &Judged {
    match step {
        Step::Pair(judged) => judged,
        Step::Cross(_) => panic!("a pair step"),
    }
}

fn choice(step: &Step) -> &Choice {
    pair(step).choice.as_ref().expect("another pair step follows")
}

/// A line a pair: what it is, ready or late, turns to go, what it costs next.
fn open(step: &Step) -> Vec<String> {
    let open = match step {
        Step::Cross(cross) => &cross.open,
        Step::Pair(judged) => &judged.open,
    };
    let told = |open: &Open| {
        let ready = if open.left.ready { "ready" } else { "late" };
        let lead = open.left.lead.map_or("never".to_owned(), |lead| lead.to_string());
        let then = open.then.as_ref().expect("every pair has a line here");
        format!("{} {ready} {lead} {}", open.left.pair, then.cost)
    };
    open.iter().map(told).collect()
}

fn names(pairs: &[Pair]) -> Vec<String> {
    pairs.iter().map(ToString::to_string).collect()
}

fn tokens(text: &str) -> Vec<Move> {
    moves(text)
}

#[test]
fn a_pair_that_costs_too_much_has_a_cleaner_line() {
    let steps = judged("no-corner-up.yaml", 1);
    let [cross, one, two, three, four] = &steps[..] else { panic!("a cross and four pairs") };
    assert_eq!(
        open(cross),
        [
            "blue-orange ready 3 9",
            "blue-red late never 9",
            "green-orange late 0 9",
            "green-red late never 11.5"
        ]
    );
    let Step::Cross(told) = cross else { panic!("a cross") };
    assert_eq!(told.next.map(|left| left.pair.to_string()).as_deref(), Some("green-orange"));
    let [other] = &told.others[..] else { panic!("one pair was ready") };
    assert_eq!((other.left.pair.to_string().as_str(), other.extra.halves()), ("blue-orange", 0));

    assert_eq!(open(one), ["blue-orange ready 6 7.5", "blue-red ready 6 10.5", "green-red ready 4 8.5"]);
    assert_eq!(choice(one).verdict, Verdict::Kept);
    assert_eq!(open(two), ["blue-orange ready 7 10.5", "blue-red ready 6 10.5"]);
    assert_eq!((pair(two).within, pair(two).lines), (8, 26));
    assert_eq!(choice(two).price.map(|price| price.halves()), Some(2 * 19));
    // `R U' R' y R' U' R`, then green-red, is cheaper by 3, but only puts off what it saves: after it blue-red costs
    // 10.5 (26.5 in all), after the turns played blue-red and blue-orange come to 15.5 (24).
    assert_eq!(choice(two).cleaner, None);

    let judged = pair(three);
    assert_eq!((judged.within, judged.lines), (9, 25));
    assert_eq!((judged.cost.halves(), judged.cheapest_own.map(|cost| cost.halves())), (25, Some(21)));
    assert_eq!(judged.own_line, None, "the cleaner line is of the same pair");
    let cleaner = choice(three).cleaner.as_ref().expect("a cleaner line");
    assert_eq!(cleaner.offer.moves, tokens("y L' U' L U L' U L2 U L'"));
    let next = cleaner.offer.next.as_ref().expect("a pair is left");
    assert_eq!(next.then.moves, tokens("U L' U' L"));
    assert_eq!((cleaner.offer.price.halves(), cleaner.saves.halves()), (30, 11));
    assert_eq!(cleaner.really_played.map(|cost| cost.halves()), Some(42));

    assert_eq!((pair(four).cost.halves(), &pair(four).choice), (17, &None));
}

#[test]
fn a_late_pair_is_forced_or_could_have_waited() {
    let steps = judged("pasted-from-the-noticeboard.txt", 1);
    let verdicts: Vec<Verdict> = steps[1..4].iter().map(|step| choice(step).verdict).collect();
    assert_eq!(verdicts, [Verdict::Forced, Verdict::Avoidable, Verdict::Kept]);
    // What was there cost two units more than what was played, and slack is one.
    let cheapest = choice(&steps[1]).cheapest.as_ref().expect("something was ready");
    assert_eq!(
        (cheapest.price.halves(), choice(&steps[1]).price.map(|price| price.halves())),
        (31, Some(27))
    );
    // The same turns left green-red ready, three turns before their end, for a unit more.
    let [alternative] = &choice(&steps[2]).alternatives[..] else { panic!("one alternative") };
    assert!(alternative.same_turns);
    let next = alternative.next.as_ref().expect("a pair is left");
    assert_eq!((next.left.pair.to_string().as_str(), next.left.lead), ("green-red", Some(3)));
    let extra = alternative.price.halves() - choice(&steps[2]).price.expect("a price").halves();
    assert_eq!(extra, 2);
    assert!(steps[1..].iter().all(|step| pair(step).own_line.is_none()));
}

#[test]
fn a_position_after_the_cross_offers_each_pair_its_cheapest_line() {
    let steps = judged("fork-after-first-pair.yaml", 1);
    assert_eq!(
        open(&steps[0]),
        ["blue-orange late 0 11", "blue-red ready 3 8", "green-orange ready 4 5.5", "green-red ready 4 8.5"]
    );
    let Step::Cross(cross) = &steps[0] else { panic!("a cross") };
    let lines: Vec<&[Move]> =
        cross.open.iter().map(|open| &open.then.as_ref().expect("a line").moves[..]).collect();
    assert_eq!(
        lines,
        [
            tokens("L U' L2 U L U' y' L' U L"),
            tokens("U' R' U2 R L' U L"),
            tokens("R U R2 U' R"),
            tokens("d L U L' R' U R")
        ]
    );
}

#[test]
fn the_slower_way_at_a_fork_was_avoidable() {
    let steps = judged("fork-after-first-pair.yaml", 2);
    let first = choice(&steps[1]);
    assert_eq!(first.verdict, Verdict::Avoidable);
    assert_eq!(names(&first.offered), ["blue-red", "green-orange", "green-red"]);
    let prices: Vec<(i32, bool)> =
        first.alternatives.iter().map(|offer| (offer.price.halves(), offer.same_turns)).collect();
    assert_eq!(prices, [(27, true), (29, false)]);
    // Cheaper by 4.5 with its next pair, and in the end no dearer than what was really played.
    let cleaner = choice(&steps[2]).cleaner.as_ref().expect("a cleaner line");
    assert_eq!(cleaner.offer.moves, tokens("R2 U R' U R U2 R2"));
    assert_eq!((cleaner.saves.halves(), cleaner.to_the_end.halves()), (9, 43));
    assert_eq!(cleaner.really_played.map(|cost| cost.halves()), Some(43));
}

#[test]
fn what_costs_too_much_is_no_way_out() {
    // Green-orange was ready after the first pair, at 2.5 units more than the pair taken: more than slack.
    let steps = judged("all-four-tiers.yaml", 1);
    assert_eq!(
        open(&steps[1]),
        ["blue-orange late never 8", "green-orange ready 4 10.5", "green-red late never 7"]
    );
    assert_eq!(choice(&steps[1]).verdict, Verdict::Forced);
    let cheapest = choice(&steps[1]).cheapest.as_ref().expect("something was ready");
    assert!(cheapest.same_turns);
    assert_eq!(cheapest.price.halves() - choice(&steps[1]).price.expect("a price").halves(), 5);
}

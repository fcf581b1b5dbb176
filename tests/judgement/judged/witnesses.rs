//! Every claim replays, and is what it is said to be.

use std::collections::BTreeMap;

use cornerwise::cube::{Amount, Colour, Face, Hold, Move, Pair, Position};
use cornerwise::hands::{HalfUnits, Handling, Weights, canonical, turns_of};
use cornerwise::judgement::{Judge, Offer, Settings, Verdict};
use cornerwise::search::{self, Kind};
use cornerwise::sight::Moments;
use cornerwise::sight::grades::Looked;

use super::solves::{Played, made};

/// What tokens cost as they stand, in halves: the table of the method.
fn cost_of(tokens: &[Move]) -> i32 {
    let mut last = None;
    let mut sum = 0;
    for &mv in tokens {
        sum += match mv {
            Move::Rotation(_, Amount::Half) => 4,
            Move::Rotation(..) => 3,
            Move::Wide(Face::D, Amount::Quarter | Amount::Back) => 4,
            Move::Turn(face, amount) => {
                let half = i32::from(amount == Amount::Half);
                let mut cost = half
                    + match face {
                        Face::R | Face::L | Face::U => 2,
                        Face::D | Face::F => 4,
                        Face::B => 6,
                    };
                if matches!(face, Face::R | Face::L) {
                    cost += i32::from(last.is_some_and(|last| last != face));
                    last = Some(face);
                }
                cost
            }
            other => panic!("hands play no {other:?} in a line"),
        };
    }
    sum
}

fn solved(at: &Position, cross: Colour) -> Vec<Pair> {
    assert!(at.state.cross_solved(cross));
    Pair::all(cross).into_iter().filter(|&pair| at.state.pair_solved(pair)).collect()
}

/// The pairs that moves solve; they keep what is solved and end at the first moment anything more is.
fn line_solves(start: &Position, moves: &[Move], cross: Colour) -> Vec<Pair> {
    let before = solved(start, cross);
    let mut at = *start;
    for (i, &mv) in moves.iter().enumerate() {
        at.play(mv);
        let more = Pair::all(cross).into_iter().filter(|&pair| at.state.pair_solved(pair)).count();
        let kept = before.iter().all(|&pair| at.state.pair_solved(pair));
        let ended = at.state.cross_solved(cross) && kept && more > before.len();
        assert_eq!(ended, i + 1 == moves.len(), "a line ends at the first moment");
    }
    solved(&at, cross).into_iter().filter(|pair| !before.contains(pair)).collect()
}

/// Holds one offer against everything that is said of offers.
fn check(played: &Played, step: usize, offer: &Offer, within: usize) {
    let cross = played.solve.cross.expect("a cross");
    let start = played.start(step);
    let this = &played.solve.steps[step];
    let own_turns = turns_of(start.hold, &played.replay.moves[this.from..this.to]);
    let turns = turns_of(start.hold, &offer.moves);
    assert_eq!(start.after(offer.moves.iter().copied()), offer.end);
    // Of the turns played the tokens stand as they were played, which may be a dearer way than the least.
    let cost = cost_of(&offer.moves);
    assert!(cost == offer.cost.halves() || (offer.same_turns && cost > offer.cost.halves()));
    let open = played.solve.open_before(step);
    assert_eq!(canonical(&turns) == canonical(&own_turns), offer.same_turns);
    let lines = search::lines(&start.state, cross, Kind::Hand, within);
    if !offer.same_turns {
        assert_eq!(line_solves(&start, &offer.moves, cross), offer.solves);
        assert!(offer.solves.len() >= this.pairs.len());
        assert!(turns.len() <= within);
        assert!(search::is_plain_line(&turns, cross));
        let weights = Weights::default();
        let all = Pair::all(cross);
        let same =
            |line: &&search::Line| all.iter().all(|pair| line.solves(*pair) == offer.solves.contains(pair));
        let costs = lines.iter().filter(same);
        let costs = costs.map(|line| Handling::new(line.turns(), cross, &weights).cost(start.hold));
        let cheapest = costs.min().expect("the offer is one of them");
        assert!(offer.cost.halves() <= cheapest.halves() + 1);
    }
    match &offer.next {
        None => {
            assert_eq!(offer.solves.len(), open.len());
            assert_eq!(offer.price, offer.cost);
        }
        Some(next) => {
            assert_eq!(offer.price, offer.cost + next.then.cost);
            assert_eq!(cost_of(&next.then.moves), next.then.cost.halves());
            let then = line_solves(&offer.end, &next.then.moves, cross);
            assert!(then.contains(&next.left.pair));
            assert_eq!(then, next.then.solves);
            // What is ready after the turns as played is ready in the tokens as played.
            let moves =
                if offer.same_turns { &played.replay.moves[this.from..this.to] } else { &offer.moves[..] };
            let mut positions = vec![start];
            for &mv in moves {
                positions.push(positions[positions.len() - 1].after([mv]));
            }
            let looked =
                Looked::new(Moments::new(&positions, moves), cross, &open, &offer.solves, played.sight);
            let left = looked.left(next.left.pair, 3);
            assert!(left.ready);
            assert_eq!(left, next.left);
        }
    }
}

#[test]
fn whatever_is_offered_is_what_it_is_said_to_be() {
    let mut met: BTreeMap<&str, usize> = BTreeMap::new();
    let mut count = |what, n| *met.entry(what).or_default() += n;
    for played in made(21) {
        for (step, judged) in played.pair_steps(&Settings::default()) {
            let start = played.start(step);
            let solves = &played.solve.steps[step].pairs;
            if let Some(own) = &judged.own_line {
                count("own", 1);
                assert_eq!(start.after(own.moves.iter().copied()), own.end);
                assert_eq!(cost_of(&own.moves), own.cost.halves());
                // Where a pair step follows, what comes after may eat up a part of it.
                assert!(own.cost + own.saves <= judged.cost);
                assert!(judged.choice.is_some() || own.cost + own.saves == judged.cost);
                let cross = played.solve.cross.expect("a cross");
                assert!(line_solves(&start, &own.moves, cross).contains(&solves[0]));
                assert!(own.saves.halves() >= 3);
            }
            let Some(choice) = judged.choice else { continue };
            let price = choice.price.expect("a price");
            match choice.verdict {
                Verdict::Kept => {
                    assert!(choice.next.ready && choice.alternatives.is_empty());
                    count("kept", 1);
                }
                Verdict::Avoidable => {
                    assert!(!choice.next.ready && !choice.alternatives.is_empty());
                    count("avoidable", 1);
                }
                Verdict::Forced => {
                    assert!(!choice.next.ready && choice.alternatives.is_empty());
                    assert!(
                        choice
                            .cheapest
                            .as_ref()
                            .is_none_or(|offer| offer.price.halves() > price.halves() + 2)
                    );
                    count("forced", 1);
                }
            }
            assert!(choice.alternatives.is_sorted_by_key(|offer| offer.price));
            for offer in &choice.alternatives {
                assert!(offer.price.halves() <= price.halves() + 2);
                assert!(offer.price >= choice.cheapest.as_ref().expect("the first is one").price);
            }
            let cleaner = choice.cleaner.as_ref();
            if let Some(cleaner) = cleaner {
                count("cleaner", 1);
                assert!(cleaner.saves.halves() >= 4);
                assert_eq!(cleaner.offer.price + cleaner.saves, price);
                assert!(cleaner.to_the_end <= cleaner.played_to_the_end);
                assert!(cleaner.really_played.is_none_or(|really| cleaner.to_the_end <= really));
                assert!(judged.own_line.is_none() || cleaner.offer.solves != *solves);
            }
            let offers = choice.alternatives.iter().chain(&choice.cheapest).chain(cleaner.map(|c| &c.offer));
            for offer in offers {
                count(if offer.same_turns { "same turns" } else { "line" }, 1);
                assert!(offer.solves.iter().all(|pair| choice.offered.contains(pair)));
                check(&played, step, offer, judged.within);
            }
        }
    }
    // Same turns are rare in these; the records of the folder have them.
    for what in ["kept", "avoidable", "forced", "cleaner", "own", "line"] {
        assert!(met.get(what).is_some_and(|&n| n > 1), "{what}: {met:?}");
    }
}

/// Against all lines of the position, of which those of the pair are picked: from every hold.
#[test]
fn the_next_pair_costs_what_its_cheapest_line_does() {
    let (mut checked, mut other_first) = (0, 0);
    for played in made(22).iter().take(6) {
        let cross = played.solve.cross.expect("a cross");
        let settings = Settings::default();
        let judge = Judge::new(cross, played.sight, &settings);
        for (index, step) in played.solve.steps.iter().enumerate() {
            let end = played.replay.moments[step.to];
            let open = played.solve.open_before(index + 1);
            if !end.state.cross_solved(cross) {
                continue;
            }
            for pair in open {
                let of_pair = |bound| {
                    let mut lines = search::lines(&end.state, cross, Kind::Hand, bound);
                    lines.retain(|line| line.solves(pair));
                    lines
                };
                let Some(shortest) = (1..=8).find(|&bound| !of_pair(bound).is_empty()) else { continue };
                let regardless = search::shortest(&end.state, cross, pair, Kind::Hand, 8);
                other_first += usize::from(regardless != Some(shortest));
                let lines = of_pair(shortest + 1);
                for hold in Hold::ALL.into_iter().chain([end.hold]) {
                    let costs = lines
                        .iter()
                        .map(|line| Handling::new(line.turns(), cross, &settings.weights).cost(hold));
                    let least: Option<HalfUnits> = costs.min();
                    let at = Position { hold, ..end };
                    assert_eq!(judge.then_cost(&at, pair), least);
                    let then = judge.then(&at, pair).expect("it has a cost");
                    assert_eq!(Some(then.cost), least);
                    assert_eq!(cost_of(&then.moves), then.cost.halves());
                    assert_eq!(line_solves(&at, &then.moves, cross), then.solves);
                    checked += 1;
                }
            }
        }
    }
    assert!(checked > 500, "{checked} positions, {other_first} where another pair comes first");
}

//! Plans against a second, plain search: every order of every line that may be played, in every way, without bounds,
//! without tables of seats and without leaving anything out. And every plan played: it brings in all pairs, and each of
//! its steps is judged `kept`.

use std::fs;

use crate::support::switch;
use cornerwise::annotate::{Settings, annotate};
use cornerwise::annotation::{StepKind, Verdict};
use cornerwise::cube::{Colour, FaceSet, Pair, PairSet, Position, Slot};
use cornerwise::diagnostic::Source;
use cornerwise::drill::{Random, draw, turned_over};
use cornerwise::hands::{HalfUnits, Handling};
use cornerwise::plan::{self, NoPlan, Plan, Planner};
use cornerwise::record::{self, DEFAULT_SIGHT};
use cornerwise::search::{self, Kind, Line};
use cornerwise::sight::Moments;
use cornerwise::sight::grades::{Left, Looked};
use cornerwise::study::Study;

/// The lines of a position of at most so many turns that read plainly, with what they cost.
fn plain(at: &Position, cross: Colour, settings: &plan::Settings, within: usize) -> Vec<(Line, HalfUnits)> {
    search::lines(&at.state, cross, Kind::Hand, within)
        .into_iter()
        .filter(|line| search::is_plain_line(line.turns(), cross))
        .map(|line| (line, Handling::new(line.turns(), cross, &settings.weights).cost(at.hold)))
        .collect()
}

/// The lines of a position that may be played, with what they cost. A pair all of whose lines are longer than the settings
/// say has those of the next length at which there is one.
fn playable(at: &Position, cross: Colour, settings: &plan::Settings) -> Vec<(Line, HalfUnits)> {
    let mut priced = plain(at, cross, settings, settings.within);
    for pair in Pair::all(cross).into_iter().filter(|&pair| !at.state.pair_solved(pair)) {
        if !priced.iter().any(|(line, _)| line.solves(pair)) {
            let longer = (settings.within + 1..=11).find_map(|within| {
                let mut lines = plain(at, cross, settings, within);
                lines.retain(|(line, _)| line.solves(pair));
                (!lines.is_empty()).then_some(lines)
            });
            priced.extend(longer.into_iter().flatten());
        }
    }
    let near = |pair: Pair, cost: HalfUnits| {
        let own = priced.iter().filter(|(line, _)| line.solves(pair)).map(|&(_, cost)| cost);
        own.min().is_some_and(|cheapest| cost <= cheapest + settings.over)
    };
    let may = |(line, cost): &&(Line, HalfUnits)| {
        Pair::all(cross).into_iter().any(|pair| line.solves(pair) && near(pair, *cost))
    };
    priced.iter().filter(may).copied().collect()
}

/// The least of late pairs, then of cost, over all orders from here; `None` if there is none.
fn least(
    at: &Position,
    cross: Colour,
    sight: FaceSet,
    lefts: Option<&[Left]>,
    settings: &plan::Settings,
) -> Option<(usize, HalfUnits)> {
    let open: Vec<Pair> = Pair::all(cross).into_iter().filter(|&pair| !at.state.pair_solved(pair)).collect();
    if open.is_empty() {
        return Some((0, HalfUnits::ZERO));
    }
    let mut best = None;
    for (line, cost) in playable(at, cross, settings) {
        let solves: Vec<Pair> = Pair::all(cross).into_iter().filter(|&pair| line.solves(pair)).collect();
        let ready = |left: &&Left| left.ready && solves.contains(&left.pair);
        let late = usize::from(lefts.is_some_and(|lefts| !lefts.iter().any(|left| ready(&left))));
        for way in Handling::new(line.turns(), cross, &settings.weights).ways(at.hold) {
            let positions: Vec<Position> =
                (0..=way.moves.len()).map(|n| at.after(way.moves[..n].iter().copied())).collect();
            let looked = Looked::new(Moments::new(&positions, &way.moves), cross, &open, &solves, sight);
            let left: Vec<Left> = open
                .iter()
                .filter(|pair| !solves.contains(pair))
                .map(|&pair| looked.left(pair, settings.lead))
                .collect();
            let Some(rest) = least(&positions[way.moves.len()], cross, sight, Some(&left), settings) else {
                continue;
            };
            let all = (late + rest.0, cost + rest.1);
            best = Some(best.map_or(all, |best: (usize, HalfUnits)| best.min(all)));
        }
    }
    best
}

/// Two and three open pairs, crosses and sights of all kinds.
#[test]
fn a_plain_search_over_all_orders_finds_the_same_price() {
    let planner = Planner::new(plan::Settings::default());
    let (two, three) = if switch::slow() { (185, 15) } else { (6, 1) };
    let (mut unbroken, mut compared) = (0, 0);
    for n in 0..two + three {
        let mut random = Random::new(2026, n);
        let cross = Colour::ALL[n as usize % 6];
        let mut places = Slot::ALL;
        random.shuffle(&mut places);
        let open: PairSet = places[..if n < two { 2 } else { 3 }].iter().copied().collect();
        let at = Position { state: draw::with_open(&mut random, cross, open), hold: turned_over(cross).1 };
        let sight = if n % 5 == 4 { FaceSet::ALL } else { DEFAULT_SIGHT };
        let expected = least(&at, cross, sight, None, planner.settings());
        let (order, _) = planner.best(&at, cross, sight, None);
        assert_eq!(order.as_ref().map(|order| (order.late, order.cost)), expected, "position {n}");
        let order = order.expect("there is an order");
        let of_lines: HalfUnits = order.lines.iter().map(|line| line.cost).sum();
        assert_eq!(of_lines, order.cost);
        unbroken += usize::from(order.late == 0);
        // The best of those for each first pair is the best of all.
        let (each, _) = planner.best_for_each(&at, cross, sight);
        assert_eq!(each[0], order);
        compared += 1;
    }
    assert!(unbroken * 10 >= compared * 8, "{unbroken} of {compared} without a stop");
}

/// Every record kept here with a plan from the end of its cross, and that plan as a record of its own.
fn kept() -> Vec<(Plan, String)> {
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/reconstructions");
    let mut files: Vec<_> =
        fs::read_dir(folder).expect("the folder").map(|entry| entry.expect("an entry").path()).collect();
    files.sort();
    let planner = Planner::new(plan::Settings::default());
    let mut plans = Vec::new();
    for path in files.into_iter().filter(|path| path.extension().is_some_and(|e| e == "yaml" || e == "txt")) {
        let source = Source::new("kept", fs::read_to_string(&path).expect("text"));
        let reading = record::read(&source);
        for (i, one) in reading.records.iter().enumerate() {
            let study = Study::new(&source, i + 1, one);
            let facts = annotate(&study, &Settings::default()).facts;
            // From the end of the cross and of every pair.
            for step in
                facts.steps.iter().filter(|step| matches!(step.kind, StepKind::Cross | StepKind::Pair))
            {
                let Ok(plan) = plan::plan(&study, &facts, &planner, Some(step.to), false) else { continue };
                let text = plan::record(&plan, &facts).expect("an order");
                plans.push((plan, text));
            }
        }
    }
    plans
}

#[test]
fn every_plan_replays_and_each_of_its_steps_is_kept() {
    let mut judged = 0;
    let plans = kept();
    assert!(plans.len() > 50, "{} plans", plans.len());
    for (plan, text) in plans {
        let source = Source::new("plan", text.as_str());
        let reading = record::read(&source);
        let study = Study::new(&source, 1, &reading.records[0]);
        let annotated = annotate(&study, &Settings::default());
        let faults: Vec<_> = annotated.diagnostics.iter().filter(|said| said.is_fault()).collect();
        assert!(faults.is_empty(), "{text}\n{faults:?}");
        assert!(study.solve.first_two_layers, "{text}");
        let order = &plan.orders[0];
        assert_eq!(order.late, 0, "every record kept here can be played without a stop: {text}");
        let steps = annotated.facts.steps.iter().filter(|step| step.kind == StepKind::Pair);
        let steps: Vec<_> = steps.filter(|step| step.from >= plan.at.moment).collect();
        assert_eq!(steps.len(), order.lines.len(), "{text}");
        for (step, line) in steps.iter().zip(&order.lines) {
            assert_eq!((&step.text, &step.pairs), (&line.text, &line.pairs), "{text}");
            let choice = step.choice.as_ref().expect("a pair step has one");
            assert_eq!(choice.verdict, line.next.as_ref().map(|_| Verdict::Kept), "{text}");
            let taken = step.taken();
            assert_eq!(taken.map(|offer| offer.told_lead), line.next.as_ref().map(|next| next.told_lead));
            judged += usize::from(choice.verdict.is_some());
        }
    }
    assert!(judged > 100, "{judged} steps judged");
}

#[test]
fn moments_that_are_no_place_to_plan_from_say_which_are() {
    let text = "scramble: B' L2 F U2 D2 L2 D2 L F U D B2 R L2 D L2 D' F2 B2 U2\n\
                solution: x2 y L2 U' R2 F D L' U' R' U2 R L' U L\n";
    let source = Source::new("it", text);
    let reading = record::read(&source);
    let study = Study::new(&source, 1, &reading.records[0]);
    let facts = annotate(&study, &Settings::default()).facts;
    let planner = Planner::new(plan::Settings::default());
    let plan = |at| plan::plan(&study, &facts, &planner, at, false);
    // A record that ends before its pairs are in: from its end.
    let usual = plan(None).expect("it ends after the first pair");
    assert_eq!((usual.at.moment, usual.at.end, usual.offers.len()), (15, true, 3));
    assert_eq!(usual.played, None);
    assert_eq!(plan(Some(8)).expect("the cross is whole").at.after.as_deref(), Some("cross"));
    let inside = plan(Some(11)).expect_err("in the middle of the pair");
    assert_eq!(inside, NoPlan::CrossNotWhole { moment: 11, before: Some(9), after: Some(12) });
    assert!(inside.to_string().ends_with(": --at 9 or --at 12"));
}
